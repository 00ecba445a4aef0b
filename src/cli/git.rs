//! The installed git: the one file that runs it.

use super::Failure;
use crate::source::{FileError, Files, plain};
use camino::{Utf8Path, Utf8PathBuf};
use std::io;
use std::process::{Command, Output};

/// What git says to these arguments in a folder; `None` where it says no.
fn answer(folder: &Utf8Path, arguments: &[&str]) -> Result<Option<Vec<u8>>, Failure> {
    let Output { status, stdout, .. } = run(folder, arguments)?;
    Ok(status.success().then_some(stdout))
}

fn run(folder: &Utf8Path, arguments: &[&str]) -> Result<Output, Failure> {
    let folder = if folder.as_str().is_empty() { Utf8Path::new(".") } else { folder };
    let output = Command::new("git").arg("-C").arg(folder).args(arguments).env("LC_ALL", "C").output();
    output.map_err(|why| match why.kind() {
        io::ErrorKind::NotFound => Failure::NoGit,
        _ => Failure::Git(why.to_string()),
    })
}

/// A line that git prints, without its end.
fn line(bytes: Vec<u8>) -> Result<String, Failure> {
    let text =
        String::from_utf8(bytes).map_err(|_| Failure::Git("a name is not text in UTF-8".to_owned()))?;
    Ok(text.trim_end_matches(['\n', '\r']).to_owned())
}

/// The top folder of the repository that a folder lies in.
pub(super) fn top(folder: &Utf8Path) -> Result<Utf8PathBuf, Failure> {
    match answer(folder, &["rev-parse", "--show-toplevel"])? {
        Some(top) => Ok(line(top)?.into()),
        None => Err(Failure::NoRepository { folder: folder.to_owned() }),
    }
}

/// Makes sure that a revision is there.
pub(super) fn revision(folder: &Utf8Path, name: &str) -> Result<(), Failure> {
    top(folder)?;
    let commit = format!("{name}^{{commit}}");
    match answer(folder, &["rev-parse", "--verify", "--quiet", "--end-of-options", &commit])? {
        Some(_) => Ok(()),
        None => Err(Failure::NoRevision { name: name.to_owned() }),
    }
}

/// The `.scant` files under a folder at a revision, or in the index where none is named; paths start at that folder.
pub(super) fn scant_files(folder: &Utf8Path, at: Option<&str>) -> Result<Vec<Utf8PathBuf>, Failure> {
    let arguments = match at {
        Some(at) => vec!["ls-tree", "-r", "-z", "--name-only", at, "--", "."],
        None => vec!["ls-files", "-z", "--", "."],
    };
    listed(folder, &arguments)
}

/// The `.scant` files among the names that git lists, each with a nought behind it.
fn listed(folder: &Utf8Path, arguments: &[&str]) -> Result<Vec<Utf8PathBuf>, Failure> {
    let names = answer(folder, arguments)?.unwrap_or_default();
    let names = names.split(|byte| *byte == 0).filter_map(|name| std::str::from_utf8(name).ok());
    Ok(names.filter(|name| name.ends_with(".scant")).map(Utf8PathBuf::from).collect())
}

/// The files that the next commit changes, from the top folder.
pub(super) fn staged(folder: &Utf8Path) -> Result<Vec<Utf8PathBuf>, Failure> {
    let arguments = ["diff", "--cached", "--name-only", "--no-ext-diff", "--diff-filter=ACMR", "-z"];
    listed(folder, &arguments)
}

/// The bytes that a hash stands for; `None` where the repository of a folder does not have them.
pub(super) fn blob(folder: &Utf8Path, hash: &str) -> Result<Option<Vec<u8>>, Failure> {
    answer(folder, &["cat-file", "blob", hash])
}

/// A setting of this repository only.
pub(super) fn set(folder: &Utf8Path, key: &str, value: &str) -> Result<(), Failure> {
    match answer(folder, &["config", "--local", key, value])? {
        Some(_) => Ok(()),
        None => Err(Failure::Git(format!("it does not take the setting `{key}`"))),
    }
}

/// Where hooks of the repository lie.
pub(super) fn hooks(folder: &Utf8Path) -> Result<Utf8PathBuf, Failure> {
    match answer(folder, &["rev-parse", "--git-path", "hooks"])? {
        Some(path) => Ok(folder.join(line(path)?)),
        None => Err(Failure::NoRepository { folder: folder.to_owned() }),
    }
}

/// The files as a revision has them; those of the index where the revision is empty. Relative paths start at the
/// working folder.
#[derive(Clone, Debug)]
pub(super) struct GitFiles {
    /// The revision.
    pub at: String,
}

impl Files for GitFiles {
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError> {
        let (folder, name) = match (path.is_absolute(), path.parent(), path.file_name()) {
            (true, Some(parent), Some(name)) => (parent, name),
            _ => (Utf8Path::new("."), path.as_str()),
        };
        let object = format!("{}:./{name}", self.at);
        // `cat-file` gives the bytes as they are; `show` would convert them for people.
        match answer(folder, &["cat-file", "blob", &object]) {
            Ok(Some(bytes)) => Ok(bytes),
            Ok(None) => Err(FileError::Missing),
            Err(failure) => Err(FileError::Other(failure.to_string())),
        }
    }

    /// A link is its own file in a repository, and nothing is read through it.
    fn real(&self, path: &Utf8Path) -> Result<Utf8PathBuf, FileError> {
        let other = |why: String| FileError::Other(why);
        let here = std::env::current_dir().map_err(|why| other(why.to_string()))?;
        let here = Utf8PathBuf::from_path_buf(here).map_err(|_| FileError::Missing)?;
        let path = plain(&here.join(path));
        let top = top(Utf8Path::new(".")).map_err(|why| other(why.to_string()))?;
        let inside = path.strip_prefix(&top).map_err(|_| FileError::Missing)?;
        let object = format!("{}:{inside}", self.at);
        match answer(Utf8Path::new("."), &["cat-file", "-e", &object]) {
            Ok(Some(_)) => Ok(path),
            Ok(None) => Err(FileError::Missing),
            Err(failure) => Err(other(failure.to_string())),
        }
    }
}
