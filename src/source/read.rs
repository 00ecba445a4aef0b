//! Texts of files: what is no text in UTF-8, or too large, is not read.

use super::{FileError, Files};
use crate::limits;
use camino::{Utf8Path, Utf8PathBuf};

/// A file that cannot be read at all.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("cannot read {path}: {why}")]
pub struct ReadError {
    /// The file.
    pub path: Utf8PathBuf,
    /// Why not.
    pub why: Unreadable,
}

/// Why a file cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unreadable {
    /// The system does not give it.
    #[error(transparent)]
    File(#[from] FileError),
    /// It is no text in UTF-8.
    #[error("it is not text in UTF-8; the first wrong byte is 0x{byte:02X} in line {line}")]
    NotUtf8 {
        /// The first wrong byte.
        byte: u8,
        /// Its line, counted from one.
        line: usize,
    },
    /// It is text in UTF-16, as some editors save it.
    #[error("it is text in UTF-16; save it as UTF-8")]
    Utf16,
    /// It is larger than [`limits::FILE_BYTES`].
    #[error("it is larger than {} MB", limits::FILE_BYTES / (1024 * 1024))]
    TooLarge,
}

/// The text of a file.
///
/// # Errors
/// [`ReadError`] where the system does not give it, or it is no text.
pub fn read(files: &dyn Files, path: &Utf8Path) -> Result<String, ReadError> {
    let fail = |why| ReadError { path: path.to_owned(), why };
    let bytes = files.read(path).map_err(|error| fail(error.into()))?;
    if bytes.len() > limits::FILE_BYTES {
        return Err(fail(Unreadable::TooLarge));
    }
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(fail(Unreadable::Utf16));
    }
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let bytes = error.as_bytes();
        let line = bytes.iter().take(at).filter(|b| **b == b'\n').count() + 1;
        fail(Unreadable::NotUtf8 { byte: bytes.get(at).copied().unwrap_or(0), line })
    })
}
