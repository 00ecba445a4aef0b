//! The outside world as the compiler sees it: bytes by path.

use camino::{Utf8Component, Utf8Path, Utf8PathBuf};
use std::collections::BTreeMap;
use std::io;

/// Why a file could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FileError {
    /// There is no such file.
    #[error("there is no such file")]
    Missing,
    /// It is a folder.
    #[error("it is a folder, not a file")]
    Folder,
    /// This user may not read it.
    #[error("reading it is not permitted")]
    Denied,
    /// Any other trouble, in the system's words.
    #[error("{0}")]
    Other(String),
}

/// A store of files, read whole.
pub trait Files: Sync {
    /// The bytes of the file at `path`.
    ///
    /// # Errors
    /// [`FileError`] where it cannot be read.
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError>;

    /// The path of an existing file or folder without links and dots: two paths are one file where these are equal.
    ///
    /// # Errors
    /// [`FileError`] where there is none.
    fn real(&self, path: &Utf8Path) -> Result<Utf8PathBuf, FileError>;

    /// The names of the `.scant` files that stand in a folder itself, in order; none where it cannot be listed.
    fn names(&self, folder: &Utf8Path) -> Vec<String>;
}

/// Whether a name is that of a text of this language; hidden files are what other programs keep.
fn is_scant(name: &Utf8Path) -> bool {
    name.extension() == Some("scant") && !name.as_str().starts_with('.')
}

/// A path without `.` and without `..` where something stands before it; links are not followed.
#[must_use]
pub fn plain(path: &Utf8Path) -> Utf8PathBuf {
    let mut out = Utf8PathBuf::new();
    for part in path.components() {
        match part {
            Utf8Component::CurDir => {}
            Utf8Component::ParentDir
                if matches!(out.components().next_back(), Some(Utf8Component::Normal(_))) =>
            {
                out.pop();
            }
            part => out.push(part),
        }
    }
    out
}

fn why(error: &io::Error) -> FileError {
    match error.kind() {
        io::ErrorKind::NotFound => FileError::Missing,
        io::ErrorKind::PermissionDenied => FileError::Denied,
        _ => FileError::Other(error.to_string()),
    }
}

/// The files on the disk; relative paths start at the working folder.
#[derive(Clone, Copy, Debug, Default)]
pub struct DiskFiles;

impl Files for DiskFiles {
    #[allow(clippy::disallowed_methods, reason = "the disk twin of Files is the one place that reads files")]
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError> {
        if path.is_dir() {
            return Err(FileError::Folder);
        }
        std::fs::read(path).map_err(|error| why(&error))
    }

    fn real(&self, path: &Utf8Path) -> Result<Utf8PathBuf, FileError> {
        // The folder of a file in the working folder has an empty path.
        let path = if path.as_str().is_empty() { Utf8Path::new(".") } else { path };
        path.canonicalize_utf8().map_err(|error| why(&error))
    }

    fn names(&self, folder: &Utf8Path) -> Vec<String> {
        let folder = if folder.as_str().is_empty() { Utf8Path::new(".") } else { folder };
        let entries = folder.read_dir_utf8().into_iter().flatten().flatten();
        let files = entries.filter(|entry| entry.path().is_file()).map(|entry| entry.file_name().to_owned());
        let mut names: Vec<String> = files.filter(|name| is_scant(Utf8Path::new(name))).collect();
        names.sort();
        names
    }
}

/// Other files with some texts in the place of theirs: what an editor has not saved, or a change that is being tried.
pub struct Overlay<'a> {
    files: &'a dyn Files,
    texts: BTreeMap<Utf8PathBuf, Vec<u8>>,
}

impl<'a> Overlay<'a> {
    /// The files as they are.
    #[must_use]
    pub fn new(files: &'a dyn Files) -> Self {
        Self { files, texts: BTreeMap::new() }
    }

    /// Puts a text in the place of a file, which need not be there yet.
    pub fn put(&mut self, path: &Utf8Path, text: impl Into<Vec<u8>>) {
        let path = self.files.real(path).unwrap_or_else(|_| plain(path));
        self.texts.insert(path, text.into());
    }
}

impl Files for Overlay<'_> {
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError> {
        match self.real(path).ok().and_then(|path| self.texts.get(&path)) {
            Some(text) => Ok(text.clone()),
            None => self.files.read(path),
        }
    }

    fn real(&self, path: &Utf8Path) -> Result<Utf8PathBuf, FileError> {
        self.files.real(path).or_else(|error| {
            let path = plain(path);
            if self.texts.contains_key(&path) { Ok(path) } else { Err(error) }
        })
    }

    fn names(&self, folder: &Utf8Path) -> Vec<String> {
        let mut names = self.files.names(folder);
        let real = self.real(folder).unwrap_or_else(|_| plain(folder));
        names.extend(named(self.texts.keys(), &real));
        names.sort();
        names.dedup();
        names
    }
}

/// The names of the texts among paths that stand in a folder itself.
fn named<'a>(
    paths: impl Iterator<Item = &'a Utf8PathBuf>,
    folder: &Utf8Path,
) -> impl Iterator<Item = String> {
    let own = paths.filter(move |path| path.parent() == Some(folder)).filter_map(|path| path.file_name());
    own.filter(|name| is_scant(Utf8Path::new(name))).map(str::to_owned)
}

/// Files held in memory: for tests, the editor server and embedded libraries.
#[derive(Clone, Debug, Default)]
pub struct MemoryFiles {
    files: BTreeMap<Utf8PathBuf, Vec<u8>>,
    links: BTreeMap<Utf8PathBuf, Utf8PathBuf>,
}

impl MemoryFiles {
    /// A store of one file.
    #[must_use]
    pub fn single(path: &str, text: impl Into<Vec<u8>>) -> Self {
        let mut files = Self::default();
        files.insert(path, text);
        files
    }

    /// Adds a file or replaces it.
    pub fn insert(&mut self, path: impl Into<Utf8PathBuf>, text: impl Into<Vec<u8>>) {
        self.files.insert(path.into(), text.into());
    }

    /// Adds a link from a path to another one.
    pub fn link(&mut self, from: impl Into<Utf8PathBuf>, to: impl Into<Utf8PathBuf>) {
        self.links.insert(from.into(), to.into());
    }
}

impl Files for MemoryFiles {
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError> {
        let path = self.real(path)?;
        self.files.get(&path).cloned().ok_or(FileError::Missing)
    }

    fn real(&self, path: &Utf8Path) -> Result<Utf8PathBuf, FileError> {
        let path = plain(path);
        let link = self.links.iter().find_map(|(from, to)| Some(to.join(path.strip_prefix(from).ok()?)));
        let path = link.map_or(path, |linked| plain(&linked));
        let there = path.as_str().is_empty() || self.files.keys().any(|file| file.starts_with(&path));
        there.then_some(path).ok_or(FileError::Missing)
    }

    fn names(&self, folder: &Utf8Path) -> Vec<String> {
        let folder = self.real(folder).unwrap_or_else(|_| plain(folder));
        named(self.files.keys(), &folder).collect()
    }
}
