//! `scantling fmt FILE...`

use super::output::Screen;
use super::write::Target;
use super::{Failure, Verdict};
use crate::format::{Formatted, format};
use crate::source::read;
use crate::source::{DiskFiles, FileError, MemoryFiles};
use camino::{Utf8Path, Utf8PathBuf};
use ignore::WalkBuilder;
use std::collections::BTreeSet;
use std::io::{self, Read};

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Files; folders, with all `.scant` files in them that git does not ignore; `-` for standard input.
    #[arg(required = true, value_name = "FILE")]
    paths: Vec<Utf8PathBuf>,
    /// Write nothing; name the files that are not in canonical form, and exit with 1 if there are any.
    #[arg(long)]
    check: bool,
}

/// How standard input is called.
pub(super) const STANDARD_INPUT: &str = "-";

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let mut verdict = Verdict::Fine;
    // One file that cannot be formatted keeps no other from it.
    let mut failed = None;
    for path in files(&arguments.paths)? {
        match file(&path, arguments.check, screen) {
            Ok(Verdict::Fine) => {}
            Ok(Verdict::Errors) => verdict = Verdict::Errors,
            Err(failure) => {
                if let Some(earlier) = failed.replace(failure) {
                    screen.failure(&earlier);
                }
            }
        }
    }
    failed.map_or(Ok(verdict), Err)
}

/// The files to format, each once, a folder's in the order of their names.
fn files(paths: &[Utf8PathBuf]) -> Result<Vec<Utf8PathBuf>, Failure> {
    let mut found = Vec::new();
    for path in paths {
        if path != STANDARD_INPUT && path.is_dir() {
            found.extend(files_in(path)?);
        } else {
            found.push(path.clone());
        }
    }
    let mut seen = BTreeSet::new();
    found.retain(|path| seen.insert(path.clone()));
    Ok(found)
}

/// The `.scant` files in a folder that git does not ignore, in the order of their names.
pub(super) fn files_in(folder: &Utf8Path) -> Result<Vec<Utf8PathBuf>, Failure> {
    let mut found = Vec::new();
    // Git's rules hold also in a folder that is not under git yet.
    let walk =
        WalkBuilder::new(folder).ignore(false).require_git(false).sort_by_file_path(|a, b| a.cmp(b)).build();
    for entry in walk {
        let entry = entry.map_err(|error| Failure::Search(error.to_string()))?;
        let is_file = entry.file_type().is_some_and(|kind| kind.is_file());
        if is_file && entry.path().extension().is_some_and(|extension| extension == "scant") {
            let path = Utf8PathBuf::from_path_buf(entry.into_path()).map_err(|path| {
                Failure::Search(format!("the name {} is not text in UTF-8", path.display()))
            })?;
            found.push(path);
        }
    }
    Ok(found)
}

fn file(path: &Utf8Path, check: bool, screen: &mut Screen) -> Result<Verdict, Failure> {
    let from_stream = path == STANDARD_INPUT;
    // What is read is what is replaced: no other run comes between.
    let target = if check || from_stream || !path.exists() { None } else { Some(Target::of(path, screen)?) };
    let text = if from_stream { standard_input()? } else { read(&DiskFiles, path)? };
    let Formatted { text: result, broken } = match format(&text) {
        Ok(formatted) => formatted,
        Err(why) => {
            // What goes through a pipe must not get lost in it.
            screen.out(if from_stream && !check { &text } else { "" })?;
            return Err(Failure::Format { path: path.to_owned(), why });
        }
    };
    if broken > 0 {
        let (entries, stay) = if broken == 1 { ("entry", "stays") } else { ("entries", "stay") };
        screen.remark(&format!("{path}: {broken} {entries} cannot be read and {stay} as written"));
    }
    let differs = result != text;
    if check {
        if differs {
            screen.out(&format!("{path}: not in canonical form\n"))?;
        }
        return Ok(if differs { Verdict::Errors } else { Verdict::Fine });
    }
    if from_stream {
        screen.out(&result)?;
    } else if let (true, Some(target)) = (differs, target) {
        target.replace(&result)?;
        screen.out(&format!("{path}: formatted\n"))?;
    }
    Ok(Verdict::Fine)
}

pub(super) fn standard_input() -> Result<String, Failure> {
    let mut bytes = Vec::new();
    let path = Utf8Path::new(STANDARD_INPUT);
    let files = match io::stdin().lock().read_to_end(&mut bytes) {
        Ok(_) => MemoryFiles::single(STANDARD_INPUT, bytes),
        Err(error) => {
            let why = FileError::Other(error.to_string()).into();
            return Err(crate::source::ReadError { path: path.to_owned(), why }.into());
        }
    };
    Ok(read(&files, path)?)
}
