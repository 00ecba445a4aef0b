//! The outside world as the compiler sees it: bytes by path.

use camino::{Utf8Path, Utf8PathBuf};
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
pub trait Files {
    /// The bytes of the file at `path`.
    ///
    /// # Errors
    /// [`FileError`] where it cannot be read.
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError>;
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
        std::fs::read(path).map_err(|error| match error.kind() {
            io::ErrorKind::NotFound => FileError::Missing,
            io::ErrorKind::PermissionDenied => FileError::Denied,
            _ => FileError::Other(error.to_string()),
        })
    }
}

/// Files held in memory: for tests, the editor server and embedded libraries.
#[derive(Clone, Debug, Default)]
pub struct MemoryFiles {
    files: BTreeMap<Utf8PathBuf, Vec<u8>>,
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
}

impl Files for MemoryFiles {
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError> {
        self.files.get(path).cloned().ok_or(FileError::Missing)
    }
}
