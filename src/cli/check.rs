//! `scantling check FILE`

use super::output::Screen;
use super::write::replace;
use super::{Failure, Verdict};
use crate::compile::{Compilation, compile, compile_with_mends, mended};
use crate::diag::Severity;
use crate::quantity::some;
use crate::report::printable_line;
use crate::source::DiskFiles;
use camino::{Utf8Path, Utf8PathBuf};
use similar::TextDiff;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The project's main file.
    file: Utf8PathBuf,
    /// Make the changes of text that mend a message and bring no other, and write the file.
    #[arg(long)]
    fix: bool,
    /// Write nothing; show what `--fix` would change.
    #[arg(long, requires = "fix")]
    dry_run: bool,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let compilation = if arguments.fix {
        fixed(arguments, screen)?
    } else {
        compile_with_mends(&DiskFiles, &arguments.file)?
    };
    screen.messages(&compilation);
    let summary = Screen::summary(&compilation);
    if compilation.has_errors() {
        screen.aside(&format!("{}: {summary}", arguments.file));
        return Ok(Verdict::Errors);
    }
    let units = some(compilation.graph.units.len(), "unit");
    let parts = some(compilation.graph.parts.len(), "part");
    if !screen.is_document() {
        screen.out(&printable_line(&format!("{}: {units}, {parts}; {summary}", arguments.file)))?;
        screen.out("\n")?;
    }
    Ok(Verdict::Fine)
}

/// The project with its safe changes made; on a dry run they are shown, and the file stays as it is.
fn fixed(arguments: &Arguments, screen: &mut Screen) -> Result<Compilation, Failure> {
    let mended = mended(&DiskFiles, &arguments.file)?;
    if arguments.dry_run {
        let path = arguments.file.as_str();
        let difference = TextDiff::from_lines(&mended.before, &mended.after);
        let text = difference.unified_diff().header(path, path).to_string();
        if !screen.is_document() {
            screen.out(&text)?;
        }
        return Ok(compile_with_mends(&DiskFiles, &arguments.file)?);
    }
    if !mended.titles.is_empty() {
        replace(&arguments.file, &mended.after)?;
        screen.remark(&format!("{}: {}", arguments.file, mended.titles.join(", ")));
    }
    Ok(mended.compilation)
}

/// The project, with its messages printed; `None` where it has errors, so that nothing is made from it.
pub(super) fn sound(file: &Utf8Path, screen: &mut Screen) -> Result<Option<Compilation>, Failure> {
    let mut compilation = compile(&DiskFiles, file)?;
    compilation.diagnostics.retain(|diagnostic| diagnostic.severity != Severity::Note);
    screen.messages(&compilation);
    if compilation.has_errors() {
        screen.aside(&format!("{file}: {}; nothing was made", Screen::summary(&compilation)));
        return Ok(None);
    }
    Ok(Some(compilation))
}
