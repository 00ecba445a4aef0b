//! `scantling check [FILE]`

use super::lock::{gone, manifest, root, tell_effect};
use super::output::Screen;
use super::projects::only_project;
use super::write::Target;
use super::{Failure, Verdict};
use crate::compile::{Compilation, compile, compile_with_mends, mended};
use crate::diag::{Diagnostic, Severity};
use crate::document;
use crate::parts::unchecked;
use crate::quantity::some;
use crate::report::printable_line;
use crate::source::{DiskFiles, Files, read};
use camino::{Utf8Path, Utf8PathBuf};
use similar::TextDiff;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The project's main file; without it, or with a folder, all files that `scantling.toml` there or above names, or the only
    /// project of a folder without one.
    file: Option<Utf8PathBuf>,
    /// Make the changes of text that fix a message and bring no other, and write the file.
    #[arg(long)]
    fix: bool,
    /// Write nothing; show what `--fix` would change.
    #[arg(long, requires = "fix")]
    dry_run: bool,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    match &arguments.file {
        Some(file) if !file.is_dir() => Ok(verdict(&checked(file, arguments, screen)?)),
        folder => {
            let folder = folder.as_deref().unwrap_or(Utf8Path::new("."));
            match root(folder).is_none().then(|| only_project(folder)) {
                Some(Ok(file)) => Ok(verdict(&checked(&file, arguments, screen)?)),
                _ => all(folder, arguments, screen),
            }
        }
    }
}

fn verdict(compilation: &Compilation) -> Verdict {
    if compilation.has_errors() { Verdict::Errors } else { Verdict::Fine }
}

/// One project, with its messages told and the line that says how it stands.
fn checked(file: &Utf8Path, arguments: &Arguments, screen: &mut Screen) -> Result<Compilation, Failure> {
    let mut compilation = if arguments.fix {
        fixed(file, arguments.dry_run, screen)?
    } else {
        compile_with_mends(&DiskFiles, file)?
    };
    tell_effect(&mut compilation)?;
    screen.messages(&compilation);
    screen.not_checked(file.as_str(), &compilation.graph.lacking);
    let summary = Screen::summary(&compilation);
    if compilation.has_errors() {
        screen.aside(&format!("{file}: {summary}"));
    } else {
        let size = size(compilation.graph.units.len(), compilation.graph.parts.len());
        line(&format!("{file}: {size}; {summary}"), screen)?;
        let further = [unchecked(&compilation.graph.lacking), compilation.graph.without_fastener()];
        for further in further.into_iter().flatten() {
            line(&format!("{file}: {further}"), screen)?;
        }
    }
    if compilation.tells_of_hazards() {
        screen.caution(&format!("{file}: {}", document::HAZARDS));
    }
    Ok(compilation)
}

fn size(units: usize, parts: usize) -> String {
    format!("{}, {}", some(units, "unit"), some(parts, "part"))
}

/// A line on standard output, where no document stands there.
fn line(text: &str, screen: &mut Screen) -> Result<(), Failure> {
    if screen.is_document() { Ok(()) } else { screen.out(&format!("{}\n", printable_line(text))) }
}

/// All projects that a manifest names, with the sum over them.
fn all(folder: &Utf8Path, arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let Some(manifest) = manifest(folder, screen)? else { return Ok(Verdict::Errors) };
    let mut checks = Vec::new();
    // One file that cannot be read keeps no other from being checked.
    let mut failed = None;
    for file in manifest.files() {
        match checked(&file, arguments, screen) {
            Ok(compilation) => checks.push(compilation),
            Err(failure) => {
                if let Some(earlier) = failed.replace(failure) {
                    screen.failure(&earlier);
                }
            }
        }
    }
    if let Some(failure) = failed {
        return Err(failure);
    }
    // What a project with errors uses is not known for certain.
    let sound = !checks.iter().any(Compilation::has_errors);
    let (gone, sources) = if sound { gone(&manifest, &checks) } else { Default::default() };
    screen.told(&gone, &sources);
    let told = |severity| {
        let gone = gone.iter().filter(|diagnostic| diagnostic.severity == severity).count();
        gone + checks.iter().map(|compilation| compilation.count(severity)).sum::<usize>()
    };
    let (count, summary) = (
        some(checks.len(), "project"),
        Screen::counted(told, checks.iter().any(Compilation::leaves_unchecked)),
    );
    if told(Severity::Error) > 0 {
        screen.aside(&format!("{count}: {summary}"));
        return Ok(Verdict::Errors);
    }
    let sum = |of: fn(&Compilation) -> usize| checks.iter().map(of).sum();
    let size = size(sum(|checked| checked.graph.units.len()), sum(|checked| checked.graph.parts.len()));
    line(&format!("{count}: {size}; {summary}"), screen)?;
    Ok(Verdict::Fine)
}

/// The project with its safe changes made; on a dry run they are shown, and the file stays as it is.
fn fixed(file: &Utf8Path, dry_run: bool, screen: &mut Screen) -> Result<Compilation, Failure> {
    read(&DiskFiles, file)?;
    let target = if dry_run { None } else { Some(Target::of(file, screen)?) };
    let mended = mended(&DiskFiles, file)?;
    let Some(target) = target else {
        let difference = TextDiff::from_lines(&mended.before, &mended.after);
        let text = difference.unified_diff().header(file.as_str(), file.as_str()).to_string();
        if !screen.is_document() {
            screen.out(&text)?;
        }
        return Ok(compile_with_mends(&DiskFiles, file)?);
    };
    if !mended.titles.is_empty() {
        target.replace(&mended.after)?;
        screen.remark(&format!("{file}: {}", mended.titles.join(", ")));
    }
    Ok(mended.compilation)
}

/// How much a command that is about something else tells of a project's messages.
#[derive(Clone, Copy, Debug)]
pub(super) enum Telling {
    /// All but notes.
    All,
    /// Errors, and what is about the files beside it; how many warnings there are, in one line.
    Errors,
}

/// The project, with its messages told; `None` where it has errors, so that nothing is made from it.
pub(super) fn sound(
    files: &dyn Files,
    file: &Utf8Path,
    telling: Telling,
    screen: &mut Screen,
) -> Result<Option<Compilation>, Failure> {
    let mut compilation = compile(files, file)?;
    compilation.diagnostics.retain(|diagnostic| diagnostic.severity != Severity::Note);
    match telling {
        Telling::All => screen.messages(&compilation),
        Telling::Errors => errors(file, &compilation, screen),
    }
    if compilation.has_errors() {
        screen.aside(&format!("{file}: {}; nothing was made", Screen::summary(&compilation)));
        return Ok(None);
    }
    Ok(Some(compilation))
}

/// Tells the errors of a project and what is about files beside it, which no part shows; and where it has no error, in one line
/// how many other messages there are. A document has them all.
pub(super) fn errors(file: &Utf8Path, compilation: &Compilation, screen: &mut Screen) {
    if screen.is_document() {
        screen.messages(compilation);
        return;
    }
    let told = compilation.diagnostics.iter();
    let beside = |told: &&Diagnostic| told.severity == Severity::Error || told.code.id.starts_with('D');
    let (first, others): (Vec<&Diagnostic>, Vec<&Diagnostic>) = told.partition(beside);
    let first: Vec<Diagnostic> = first.into_iter().cloned().collect();
    screen.told(&first, &compilation.sources);
    if !compilation.has_errors() && !others.is_empty() {
        let count = |severity| others.iter().filter(|told| told.severity == severity).count();
        let counts = Screen::counted(count, false);
        let them = if others.len() == 1 { "it" } else { "them" };
        screen.aside(&format!("{file}: {counts}; `scantling check {file}` tells {them}"));
    }
}
