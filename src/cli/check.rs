//! `scantling check FILE`

use super::output::Screen;
use super::{Failure, Verdict};
use crate::compile::{Compilation, compile};
use crate::report::printable_line;
use crate::source::DiskFiles;
use camino::{Utf8Path, Utf8PathBuf};

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The project's main file.
    file: Utf8PathBuf,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let compilation = compile(&DiskFiles, &arguments.file)?;
    screen.messages(&compilation);
    let summary = Screen::summary(&compilation);
    if compilation.has_errors() {
        screen.aside(&format!("{}: {summary}", arguments.file));
        return Ok(Verdict::Errors);
    }
    let units = plural(compilation.graph.units.len(), "unit");
    let parts = plural(compilation.graph.parts.len(), "part");
    if !screen.is_document() {
        screen.out(&printable_line(&format!("{}: {units}, {parts}; {summary}", arguments.file)))?;
        screen.out("\n")?;
    }
    Ok(Verdict::Fine)
}

/// The project, with its messages printed; `None` where it has errors, so that nothing is made from it.
pub(super) fn sound(file: &Utf8Path, screen: &mut Screen) -> Result<Option<Compilation>, Failure> {
    let compilation = compile(&DiskFiles, file)?;
    screen.messages(&compilation);
    if compilation.has_errors() {
        screen.aside(&format!("{file}: {}; nothing was made", Screen::summary(&compilation)));
        return Ok(None);
    }
    Ok(Some(compilation))
}

fn plural(count: usize, word: &str) -> String {
    if count == 1 { format!("1 {word}") } else { format!("{count} {word}s") }
}
