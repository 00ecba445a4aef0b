//! Where it stands how far the parts of a project are: `wall.progress.scant` beside `wall.scant`. Before, one `progress.scant`
//! stood for a whole folder; it is still read where the folder has one project.

use super::codes;
use crate::diag::{Diagnostic, Sink};
use crate::source::{FileError, FileId, Files, Span, plain, read};
use crate::syntax::{self, EntryKind, UseFrom};
use camino::{Utf8Path, Utf8PathBuf};
use std::collections::BTreeSet;

/// The name that this file had while it stood for a folder.
const OLD: &str = "progress.scant";

/// The end of its name now, after that of the project.
const END: &str = ".progress.scant";

/// Whether a file says how far parts are, so that it is no project itself.
#[must_use]
pub fn is_progress(path: &Utf8Path) -> bool {
    path.file_name().is_some_and(|name| name == OLD || name.ends_with(END))
}

/// Files as if nothing were made or bought yet.
#[derive(Clone, Copy)]
pub struct Unmarked<'a>(pub &'a dyn Files);

impl Files for Unmarked<'_> {
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError> {
        if is_progress(path) { Err(FileError::Missing) } else { self.0.read(path) }
    }

    fn real(&self, path: &Utf8Path) -> Result<Utf8PathBuf, FileError> {
        self.0.real(path)
    }

    fn names(&self, folder: &Utf8Path) -> Vec<String> {
        self.0.names(folder)
    }
}

/// Files in which a project has this progress, whatever stands beside it.
#[derive(Clone)]
pub struct Marked<'a> {
    files: &'a dyn Files,
    own: Utf8PathBuf,
    text: Vec<u8>,
}

impl<'a> Marked<'a> {
    /// Files with the progress of another state of a project.
    #[must_use]
    pub fn new(files: &'a dyn Files, project: &Utf8Path, text: Vec<u8>) -> Self {
        Self { files, own: own(project), text }
    }
}

impl Files for Marked<'_> {
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError> {
        match path {
            path if path == self.own => Ok(self.text.clone()),
            path if is_progress(path) => Err(FileError::Missing),
            path => self.files.read(path),
        }
    }

    fn real(&self, path: &Utf8Path) -> Result<Utf8PathBuf, FileError> {
        // The project is there, and so is what stands beside it.
        if path == self.own { Ok(path.to_owned()) } else { self.files.real(path) }
    }

    fn names(&self, folder: &Utf8Path) -> Vec<String> {
        self.files.names(folder)
    }
}

/// The progress file of a project, there or not.
#[must_use]
pub fn own(project: &Utf8Path) -> Utf8PathBuf {
    project.with_file_name(format!("{}{END}", project.file_stem().unwrap_or_default()))
}

/// The progress file of the folder of a project, there or not.
#[must_use]
pub fn old(project: &Utf8Path) -> Utf8PathBuf {
    project.with_file_name(OLD)
}

fn is_there(files: &dyn Files, path: &Utf8Path) -> bool {
    !matches!(files.read(path), Err(FileError::Missing))
}

/// The file that says how far the parts of a project are: its own, else that of the folder; `None` where neither is there.
#[must_use]
pub fn place(files: &dyn Files, project: &Utf8Path) -> Option<Utf8PathBuf> {
    [own(project), old(project)].into_iter().find(|path| is_there(files, path))
}

/// Tells where the `progress.scant` of the folder cannot be that of this project alone; `file` is that one.
pub fn doubt(files: &dyn Files, project: &Utf8Path, file: FileId, sink: &mut Sink) {
    let name = own(project).file_name().unwrap_or_default().to_owned();
    let start = Span::new(file, 0, 0);
    let told = |message: String| Diagnostic::new(&codes::WHOSE, message).at(start, "");
    if is_there(files, &own(project)) {
        let help = format!("move its blocks into `{name}`, and delete it");
        sink.push(told(format!("`{OLD}` stands beside `{name}`")).help(help));
        return;
    }
    let others = others(files, project, file);
    if !others.is_empty() {
        let help = format!(
            "`scantling mark --adopt --file {project}` makes it `{name}`; name another project where it is of that one"
        );
        let others = others.join("`, `");
        sink.push(told(format!("`{OLD}` stands for several projects: `{others}` too")).help(help));
    }
}

/// Tells that a progress file is no project; `file` is that one.
pub fn no_project(path: &Utf8Path, file: FileId, sink: &mut Sink) {
    let name = path.file_name().and_then(|name| name.strip_suffix(END));
    let help = match name {
        Some(name) => format!("name its project: `{}`", path.with_file_name(format!("{name}.scant"))),
        None => "name the project beside it".to_owned(),
    };
    let message = "this file says how far parts are, and is no project";
    sink.push(Diagnostic::new(&codes::NO_PROJECT, message).at(Span::new(file, 0, 0), "").help(help));
}

/// The other files of the folder that may be projects: those that none there uses.
fn others(files: &dyn Files, project: &Utf8Path, file: FileId) -> Vec<String> {
    let folder = project.parent().unwrap_or(Utf8Path::new(""));
    let names: Vec<String> =
        files.names(folder).into_iter().filter(|name| !is_progress(Utf8Path::new(name))).collect();
    let mut used = BTreeSet::new();
    for name in &names {
        let Ok(text) = read(files, &folder.join(name)) else { continue };
        let parsed = syntax::parse(file, &text, &mut Sink::default());
        for entry in &parsed.items {
            if let EntryKind::Use(syntax::Use { from: UseFrom::File(path), .. }) = &entry.kind {
                used.insert(plain(Utf8Path::new(&*path.text)));
            }
        }
    }
    let is_other = |name: &String| project.file_name() != Some(name) && !used.contains(Utf8Path::new(name));
    names.into_iter().filter(is_other).collect()
}
