//! `scantling git-setup`, and what git calls after it.

use super::diff::side;
use super::git::{GitFiles, Hooks, Repository};
use super::output::Screen;
use super::write::Target;
use super::{Failure, Verdict};
use crate::compile::{Compilation, NOTHING_TO_BUILD, compile, read};
use crate::diag::Severity;
use crate::diff::{diff, document, following};
use crate::format::format;
use crate::progress::is_progress;
use crate::render;
use crate::source::{DiskFiles, FileError, Files, MemoryFiles};
use camino::{Utf8Path, Utf8PathBuf};

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// A folder of the repository.
    #[arg(default_value = ".")]
    folder: Utf8PathBuf,
    /// Write the hook also where `core.hooksPath` leads out of the repository, to hooks that others may share.
    #[arg(long)]
    hook_outside: bool,
}

/// What tells git which driver the files have.
const ATTRIBUTES: &str = "*.scant diff=scantling";

/// What runs before each commit.
const HOOK: &str = "#!/bin/sh\n# Made by `scantling git-setup`.\nexec scantling git-pre-commit\n";

/// `scantling git-setup`
pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let repository = Repository::of(&arguments.folder)?;
    let top = repository.files()?;
    // The settings of a repository can say that its files lie anywhere.
    if !DiskFiles.real(&arguments.folder).is_ok_and(|folder| folder.starts_with(top)) {
        return Err(Failure::Elsewhere { folder: arguments.folder.clone(), top: top.to_owned() });
    }
    let attributes = top.join(".gitattributes");
    if attributes.is_symlink() {
        return Err(Failure::Link { path: attributes });
    }
    let target = Target::of(&attributes, screen)?;
    for (key, value) in [("command", "scantling git-diff"), ("textconv", "scantling git-text")] {
        repository.set(&format!("diff.scantling.{key}"), value)?;
    }
    screen.out("git diff: set for this repository\n")?;
    let before = read_if_there(&attributes)?;
    if before.lines().any(|line| line.trim() == ATTRIBUTES) {
        screen.out(&format!("{attributes}: has the line already\n"))?;
    } else {
        let end = if before.is_empty() || before.ends_with('\n') { "" } else { "\n" };
        target.replace(&format!("{before}{end}{ATTRIBUTES}\n"))?;
        screen.out(&format!("{attributes}: written; commit it\n"))?;
    }
    drop(target);
    hook(&repository.hooks()?, arguments.hook_outside, screen)?;
    Ok(Verdict::Fine)
}

/// Writes the hook where none is.
fn hook(hooks: &Hooks, outside: bool, screen: &mut Screen) -> Result<(), Failure> {
    let Hooks { folder, .. } = hooks;
    if hooks.set {
        screen.out(&format!("core.hooksPath: leads to {folder}\n"))?;
    }
    let hook = folder.join("pre-commit");
    if hooks.outside && !outside {
        screen.remark(&format!(
            "{hook} lies outside of the repository and was not looked at; `--hook-outside` writes the hook there"
        ));
        return Ok(());
    }
    let target = Target::making(&hook, screen)?;
    let before = read_if_there(&hook)?;
    if before.contains("scantling git-pre-commit") {
        screen.out(&format!("{hook}: runs scantling already\n"))?;
    } else if before.is_empty() {
        target.write_program(HOOK)?;
        screen.out(&format!("{hook}: written\n"))?;
    } else {
        screen.remark(&format!(
            "{hook} is there already; add the line `scantling git-pre-commit || exit 1` to it"
        ));
    }
    Ok(())
}

fn read_if_there(path: &Utf8Path) -> Result<String, Failure> {
    match DiskFiles.read(path) {
        Err(FileError::Missing) => Ok(String::new()),
        _ => Ok(read(&DiskFiles, path)?),
    }
}

/// What git hands to a driver: path, old file, its hash and mode, new file, its hash and mode.
#[derive(Debug, clap::Args)]
pub(super) struct DriverArguments {
    #[arg(num_args = 1..)]
    what: Vec<String>,
}

/// One file as git hands it out, under the name that it has in the project; its neighbours as they are.
struct Handed {
    path: Utf8PathBuf,
    bytes: Vec<u8>,
}

impl Files for Handed {
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError> {
        if path == self.path { Ok(self.bytes.clone()) } else { DiskFiles.read(path) }
    }

    fn real(&self, path: &Utf8Path) -> Result<Utf8PathBuf, FileError> {
        DiskFiles.real(path)
    }

    fn names(&self, folder: &Utf8Path) -> Vec<String> {
        DiskFiles.names(folder)
    }
}

fn handed(path: &str, file: &str) -> Result<Option<Compilation>, Failure> {
    if file == "/dev/null" {
        return Ok(None);
    }
    let bytes = DiskFiles
        .read(file.into())
        .map_err(|why| crate::compile::ReadError { path: file.into(), why: why.into() })?;
    let path = Utf8PathBuf::from(path);
    Ok(Some(compile(&Handed { path: path.clone(), bytes }, &path)?))
}

/// `scantling git-diff`: the external diff of git.
pub(super) fn driver(arguments: &DriverArguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let what: Vec<&str> = arguments.what.iter().map(String::as_str).collect();
    let (path, old, new) = match what.as_slice() {
        [path, old, _, _, new, ..] => (*path, *old, *new),
        [path, ..] => {
            screen.out(&format!("{path}: not merged yet\n"))?;
            return Ok(Verdict::Fine);
        }
        [] => return Ok(Verdict::Fine),
    };
    screen.out(&format!("diff scantling {path}\n"))?;
    let sides = (handed(path, old)?, handed(path, new)?);
    match &sides {
        (Some(was), Some(is)) if !was.has_errors() && !is.has_errors() => {
            let (old, new) = (format!("{path} before"), format!("{path} after"));
            let (was, is) = (side(was, &old), side(is, &new));
            let diff = diff(was, is);
            let mut page = document(&diff, was, is);
            page.facts.extend(
                diff.lines.iter().map(|line| {
                    format!("{} {}: {}", if line.comes { "+" } else { "-" }, line.place, line.text)
                }),
            );
            screen.out(&render::text(&page))?;
        }
        _ => {
            for (side, when) in [(&sides.0, "before"), (&sides.1, "after")] {
                let stands = match side {
                    Some(side) if side.has_errors() => Screen::summary(side),
                    Some(side) => {
                        format!("{} units, {} parts", side.graph.units.len(), side.graph.parts.len())
                    }
                    None => "not there".to_owned(),
                };
                screen.out(&format!("{when}: {stands}\n"))?;
            }
            if let (Some(was), Some(is)) = &sides {
                // What differs in the text can be said also where a side does not compile.
                for line in crate::diff::lines(bare(was), bare(is)) {
                    screen.out(&format!(
                        "{} {}: {}\n",
                        if line.comes { "+" } else { "-" },
                        line.place,
                        line.text
                    ))?;
                }
            }
        }
    }
    Ok(Verdict::Fine)
}

fn bare(compilation: &Compilation) -> crate::diff::Side<'_> {
    side(compilation, "")
}

#[derive(Debug, clap::Args)]
pub(super) struct TextArguments {
    file: Utf8PathBuf,
}

/// `scantling git-text`: a file as git compares it line by line: its text, and what follows from it.
pub(super) fn text(arguments: &TextArguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let text = read(&DiskFiles, &arguments.file)?;
    screen.out(&text)?;
    let name = Utf8Path::new("project.scant");
    let compilation = compile(&MemoryFiles::single(name.as_str(), text), name)?;
    if !compilation.has_errors() && !compilation.graph.parts.is_empty() {
        screen.out(&following(side(&compilation, "")))?;
    }
    Ok(Verdict::Fine)
}

/// `scantling git-pre-commit`: what is about to be committed must be in canonical form and without errors.
pub(super) fn pre_commit(screen: &mut Screen) -> Result<Verdict, Failure> {
    let repository = Repository::of(Utf8Path::new("."))?;
    let top = repository.files()?.to_owned();
    let staged = repository.staged()?;
    let files = GitFiles::index(repository)?;
    let mut verdict = Verdict::Fine;
    for name in staged {
        let path = top.join(&name);
        let text = read(&files, &path)?;
        if format(&text).is_ok_and(|formatted| formatted.text != text) {
            screen.aside(&format!("{name}: not in canonical form; `scantling fmt {name}` and add it again"));
            verdict = Verdict::Errors;
        }
        if is_progress(&name) {
            continue;
        }
        let compilation = compile(&files, &path)?;
        // A file that others use may have nothing to build.
        let mut errors = compilation.diagnostics.iter().filter(|d| d.severity == Severity::Error);
        if errors.any(|d| d.code.id != NOTHING_TO_BUILD.id) {
            screen.messages(&compilation);
            screen.aside(&format!("{name}: {}", Screen::summary(&compilation)));
            verdict = Verdict::Errors;
        }
    }
    Ok(verdict)
}
