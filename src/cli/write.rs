//! Writes outputs whole or not at all.
//!
//! All files are written beside their places first; only when every one of them is complete on the disk do they take
//! their names. A list in the folder says which files this program made, so that no other is ever replaced unasked.

use super::Failure;
use atomic_write_file::AtomicWriteFile;
use camino::{Utf8Path, Utf8PathBuf};
use std::collections::BTreeSet;
use std::io::{self, Write};

/// The file that lists what this program made in a folder.
const LIST: &str = ".scantling-made";

/// Writes all files into a folder, which is made where it is missing.
///
/// # Errors
/// [`Failure::NotOurs`] where a file of the same name was not made by this program and `force` is not given;
/// [`Failure::Write`] where the system refuses. In both cases no file was changed.
#[allow(clippy::disallowed_methods, reason = "the one place that writes files")]
pub(super) fn write_all(folder: &Utf8Path, files: &[(String, String)], force: bool) -> Result<(), Failure> {
    let fail = |path: &Utf8Path, why: io::Error| Failure::Write { path: path.to_owned(), why };
    std::fs::create_dir_all(folder).map_err(|why| fail(folder, why))?;
    let mut made: BTreeSet<String> = match std::fs::read_to_string(folder.join(LIST)) {
        Ok(list) => list.lines().map(str::to_owned).collect(),
        Err(_) => BTreeSet::new(),
    };
    for (name, _) in files {
        let path = folder.join(name);
        if !force && path.exists() && !made.contains(name) {
            return Err(Failure::NotOurs { path });
        }
        made.insert(name.clone());
    }
    let list: String = made.iter().map(|name| format!("{name}\n")).collect();
    let all = files.iter().map(|(name, text)| (name.as_str(), text)).chain([(LIST, &list)]);
    replace_all(&all.map(|(name, text)| (folder.join(name), text.clone())).collect::<Vec<_>>())
}

/// Writes files at their paths, all of them or none; what stood there is replaced.
///
/// # Errors
/// [`Failure::Write`] where the system refuses; no file was changed then.
pub(super) fn replace_all(files: &[(Utf8PathBuf, String)]) -> Result<(), Failure> {
    let fail = |path: &Utf8Path, why: io::Error| Failure::Write { path: path.to_owned(), why };
    let mut ready = Vec::new();
    for (path, text) in files {
        let file =
            AtomicWriteFile::open(path).and_then(|mut file| file.write_all(text.as_bytes()).map(|()| file));
        ready.push((file.map_err(|why| fail(path, why))?, path));
    }
    for (file, path) in ready {
        file.commit().map_err(|why| fail(path, why))?;
    }
    Ok(())
}

/// Writes a file that the system may run, where none is.
///
/// # Errors
/// [`Failure::Write`] where the system refuses; nothing was changed then.
#[allow(clippy::disallowed_methods, reason = "the one place that writes files")]
pub(super) fn write_program(path: &Utf8Path, text: &str) -> Result<(), Failure> {
    let fail = |why: io::Error| Failure::Write { path: path.to_owned(), why };
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(fail)?;
    }
    let mut options = AtomicWriteFile::options();
    #[cfg(unix)]
    {
        use atomic_write_file::unix::OpenOptionsExt as _;
        use std::os::unix::fs::OpenOptionsExt as _;
        options.preserve_mode(false).mode(0o755);
    }
    options
        .open(path)
        .and_then(|mut file| file.write_all(text.as_bytes()).map(|()| file))
        .and_then(AtomicWriteFile::commit)
        .map_err(fail)
}

/// Replaces a file by another text; an interrupted run leaves the old one whole. A link stays a link.
///
/// # Errors
/// [`Failure::Write`] where the system refuses, or the file is marked as one to be read only. It was not changed.
pub(super) fn replace(path: &Utf8Path, text: &str) -> Result<(), Failure> {
    let target = |path: &Utf8Path| -> io::Result<Utf8PathBuf> {
        let path = path.canonicalize_utf8()?;
        if path.metadata()?.permissions().readonly() {
            return Err(io::Error::new(io::ErrorKind::PermissionDenied, "the file is marked read-only"));
        }
        Ok(path)
    };
    target(path)
        .and_then(AtomicWriteFile::open)
        .and_then(|mut file| file.write_all(text.as_bytes()).map(|()| file))
        .and_then(AtomicWriteFile::commit)
        .map_err(|why| Failure::Write { path: path.to_owned(), why })
}
