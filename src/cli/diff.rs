//! `scantling diff [OLD [NEW]] [FILE]`

use super::git::{GitFiles, Repository};
use super::output::Screen;
use super::{Failure, Verdict};
use crate::beside::beside;
use crate::compile::{Compilation, Halt, compile};
use crate::diff::{Diff, Side, diff, document, meant, overlay, summary};
use crate::document::{CAUTIONS, Cautioned, HAZARDS};
use crate::progress::{Marked, Unmarked, is_progress, place};
use crate::render;
use crate::source::{DiskFiles, FileError, Files};
use crate::source::{ReadError, Unreadable, read};
use camino::{Utf8Path, Utf8PathBuf};
use clap::ValueEnum;
use std::collections::BTreeSet;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// OLD NEW: two files or two folders; one or two revisions and perhaps a file: revisions of git, to each other or to the file as it is.
    ///
    /// Without any, or with a file only, the last commit is compared with the files as they are.
    #[arg(value_name = "OLD NEW | REV [REV] FILE", num_args = 0..=3)]
    what: Vec<String>,
    /// The form to print it in.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// Print one line, for a commit message.
    #[arg(long)]
    summary: bool,
    /// Exit with 1 where anything that is printed differs.
    #[arg(long)]
    exit_code: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For a terminal.
    Text,
    /// For other programs.
    Json,
    /// A page for a browser, with both elevations over each other.
    Html,
}

/// Files of one side, and what they are called.
enum Store {
    /// The files as they are.
    Disk,
    /// Those of a revision, with its name.
    Revision(GitFiles, String),
}

impl Store {
    fn revision(folder: &Utf8Path, at: &str) -> Result<Self, Failure> {
        Ok(Self::Revision(GitFiles::at(Repository::of(folder)?, at)?, at.to_owned()))
    }

    /// The files as they are, and those of a revision of the repository that they lie in.
    fn since(folder: &Utf8Path, at: &str) -> Result<Self, Failure> {
        let repository = Repository::of(folder)?;
        repository.files()?;
        Ok(Self::Revision(GitFiles::at(repository, at)?, at.to_owned()))
    }

    fn files(&self) -> &dyn Files {
        match self {
            Self::Disk => &DiskFiles,
            Self::Revision(files, _) => files,
        }
    }

    fn name(&self, path: &Utf8Path) -> String {
        match self {
            Self::Disk => path.to_string(),
            Self::Revision(_, at) => format!("{at}:{path}"),
        }
    }

    /// The `.scant` files under a folder; paths start at that folder.
    fn found(&self, folder: &Utf8Path) -> Result<Vec<Utf8PathBuf>, Failure> {
        match self {
            Self::Disk => found(folder),
            Self::Revision(files, _) => Ok(files.scant_files(folder)),
        }
    }
}

/// Two files to compare.
struct Pair {
    old: Utf8PathBuf,
    new: Utf8PathBuf,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let (before, after, pairs) = sides(&arguments.what)?;
    let several = pairs.len() > 1;
    let mut differs = false;
    let mut broken = false;
    let mut documents = Vec::new();
    for pair in pairs {
        // What is planned is compared; what is made is made, whichever revision it was made for.
        let [before_made, after_made] = [&before, &after].map(|store| Unmarked(store.files()));
        let sides = beside(|| compiled(&before_made, &pair.old), || compiled(&after_made, &pair.new));
        let (was, is) = match (sides.0?, sides.1?) {
            (Some(was), Some(is)) => (was, is),
            (None, None) => return Err(missing(&after, &pair.new)),
            (was, is) => {
                let (store, path) = if was.is_none() { (&before, &pair.old) } else { (&after, &pair.new) };
                differs = true;
                let there = was.or(is).map(|there| (there.graph.units.len(), there.graph.parts.len()));
                let (units, parts) = there.unwrap_or_default();
                if !several {
                    screen.aside(&format!("the other side has {units} units, {parts} parts"));
                    return Err(missing(store, path));
                }
                screen.aside(&format!(
                    "{}: not there; the other side has {units} units, {parts} parts",
                    store.name(path)
                ));
                continue;
            }
        };
        // A file that others use has no parts of its own.
        if several && was.graph.parts.is_empty() && is.graph.parts.is_empty() {
            continue;
        }
        let [old_name, new_name] = [before.name(&pair.old), after.name(&pair.new)];
        if was.has_errors() || is.has_errors() {
            broken = true;
            for (side, name) in [(&was, &old_name), (&is, &new_name)] {
                let stands = if side.has_errors() {
                    screen.messages(side);
                    format!("does not compile: {}", Screen::summary(side))
                } else {
                    format!("compiles: {} units, {} parts", side.graph.units.len(), side.graph.parts.len())
                };
                screen.aside(&format!("{name} {stands}"));
            }
            continue;
        }
        let (was, is) = (side(&was, &old_name), side(&is, &new_name));
        let mut diff = diff(was, is);
        if let Some(place) = place(after.files(), &pair.new) {
            let text = read(after.files(), &place)?;
            // What is made is the same for both texts.
            let old_files = Marked::new(before.files(), &pair.old, text.into_bytes());
            let sides = beside(|| compiled(&old_files, &pair.old), || compiled(after.files(), &pair.new));
            let [was, is] = [sides.0?, sides.1?].map(|made| made.filter(|made| !made.has_errors()));
            diff.made = is
                .as_ref()
                .and_then(|is| meant(was.as_ref().map(|was| side(was, &old_name)), side(is, &new_name)));
        }
        differs |= !diff.is_empty();
        if arguments.summary {
            screen.out(&format!("{}\n", summary(&diff)))?;
            continue;
        }
        match arguments.format {
            // A project among several that does not differ says nothing.
            Format::Text if several && diff.is_empty() => {}
            Format::Text => screen.out(&render::text(&document(&diff, was, is)))?,
            Format::Html => screen.out(&render::html(&document(&diff, was, is), &overlay(was, is)))?,
            Format::Json => documents.push(diff),
        }
    }
    if arguments.summary {
        screen.caution(HAZARDS);
    } else if arguments.format == Format::Json {
        screen.out(&json(&documents))?;
    }
    Ok(if broken || (arguments.exit_code && differs) { Verdict::Errors } else { Verdict::Fine })
}

fn json(documents: &[Diff]) -> String {
    let estimates = &["totals.was", "totals.is", "totals.by"];
    let cautioned: Vec<_> =
        documents.iter().map(|value| Cautioned { value, estimates, cautions: &CAUTIONS }).collect();
    let value = match cautioned.as_slice() {
        [one] => serde_json::to_value(one),
        all => serde_json::to_value(all),
    };
    format!("{:#}\n", value.unwrap_or_default())
}

/// A project as a side of a comparison.
pub(super) fn side<'a>(compilation: &'a Compilation, name: &'a str) -> Side<'a> {
    let Compilation { sources, model, graph, plans, findings, diagnostics, .. } = compilation;
    Side { name, sources, model, graph, plans, findings, diagnostics }
}

fn missing(store: &Store, path: &Utf8Path) -> Failure {
    match store {
        Store::Revision(_, at) => Failure::NotThen { path: path.to_owned(), at: at.clone() },
        Store::Disk => ReadError { path: path.to_owned(), why: FileError::Missing.into() }.into(),
    }
}

/// A project; `None` where its file is not there.
fn compiled(files: &dyn Files, path: &Utf8Path) -> Result<Option<Compilation>, Failure> {
    match compile(files, path) {
        Ok(compilation) => Ok(Some(compilation)),
        Err(Halt::Read(ReadError { why: Unreadable::File(FileError::Missing), .. })) => Ok(None),
        Err(error) => Err(error.into()),
    }
}

/// The two stores and the files in them, by what was asked for.
fn sides(what: &[String]) -> Result<(Store, Store, Vec<Pair>), Failure> {
    let here = Utf8Path::new(".");
    // What lies in a bare repository, such as its `HEAD`, is no file of a project.
    let is_path = |text: &str| {
        let there = || Utf8Path::new(text).exists();
        text.ends_with(".scant") || (there() && !Repository::of(here).is_ok_and(|here| here.is_bare()))
    };
    let one = |path: &str| vec![Pair { old: path.into(), new: path.into() }];
    let since = |at: &str, file: &str| {
        let path = Utf8Path::new(file);
        let (old, new) = (Store::since(folder_of(path), at)?, Store::Disk);
        let pairs = if path.is_dir() { all(path, &old, &new)? } else { one(file) };
        Ok((old, new, pairs))
    };
    match what {
        [] => since("HEAD", here.as_str()),
        [file] if is_path(file) => since("HEAD", file),
        [at] => since(at, here.as_str()),
        [old, new] if is_path(old) && is_path(new) => {
            let (old, new) = (Utf8Path::new(old), Utf8Path::new(new));
            let pairs = match (old.is_dir(), new.is_dir()) {
                (true, true) => folders(old, new)?,
                (false, false) => vec![Pair { old: old.to_owned(), new: new.to_owned() }],
                _ => return Err(Failure::FileAndFolder { old: old.to_owned(), new: new.to_owned() }),
            };
            Ok((Store::Disk, Store::Disk, pairs))
        }
        [at, file] if is_path(file) => since(at, file),
        [at, to] => {
            let (old, new) = (Store::revision(here, at)?, Store::revision(here, to)?);
            let pairs = all(here, &old, &new)?;
            Ok((old, new, pairs))
        }
        [at, to, file, ..] => {
            let folder = folder_of(Utf8Path::new(file));
            Ok((Store::revision(folder, at)?, Store::revision(folder, to)?, one(file)))
        }
    }
}

/// The folder of a file that may not be there any more.
fn folder_of(path: &Utf8Path) -> &Utf8Path {
    if path.is_dir() {
        return path;
    }
    path.parent().filter(|parent| parent.is_dir()).unwrap_or(Utf8Path::new("."))
}

/// All files of both sides under a folder: of revisions, or as they are.
fn all(folder: &Utf8Path, old: &Store, new: &Store) -> Result<Vec<Pair>, Failure> {
    let mut names: BTreeSet<Utf8PathBuf> = old.found(folder)?.into_iter().collect();
    names.extend(new.found(folder)?);
    let pairs = names.into_iter().filter(|name| !is_progress(name)).map(|name| {
        let path = if folder == "." { name } else { folder.join(name) };
        Pair { old: path.clone(), new: path }
    });
    Ok(pairs.collect())
}

fn folders(old: &Utf8Path, new: &Utf8Path) -> Result<Vec<Pair>, Failure> {
    let mut names: BTreeSet<Utf8PathBuf> = found(old)?.into_iter().collect();
    names.extend(found(new)?);
    let names = names.into_iter().filter(|name| !is_progress(name));
    Ok(names.map(|name| Pair { old: old.join(&name), new: new.join(&name) }).collect())
}

/// Files in a folder, by their paths from there.
fn found(folder: &Utf8Path) -> Result<Vec<Utf8PathBuf>, Failure> {
    let files = super::fmt::files_in(folder)?;
    Ok(files.into_iter().filter_map(|path| path.strip_prefix(folder).ok().map(Utf8Path::to_owned)).collect())
}
