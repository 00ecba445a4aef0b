//! `scantling.lock`: which text each shared file had when it was last taken in.
//!
//! A hash is the one that git gives the same bytes, so that `git cat-file blob HASH` has the old text again.

use super::{LOCK, Root, codes, not_toml};
use crate::diag::{Code, Diagnostic, Sink};
use crate::source::{FileId, Files, SourceFile, Sources, Span};
use camino::{Utf8Path, Utf8PathBuf};
use serde::{Deserialize, Serialize};
use sha1::{Digest, Sha1};
use std::collections::BTreeMap;
use toml::Spanned;

/// What stands at the top of the file.
const HEAD: &str = "# Written by `scantling lock`: the shared files as they were taken in. Commit it with them.\n\
                    # `git cat-file blob HASH` prints the text that a hash stands for.\n\n";

/// A file of the project that its main file uses, directly or by way of others.
#[derive(Clone, Debug)]
pub struct Shared {
    /// Its path from the root.
    pub path: Utf8PathBuf,
    /// Its text.
    pub file: FileId,
    /// What names it first, in a `use`.
    pub used: Span,
}

impl Shared {
    /// The hash of its text.
    #[must_use]
    pub fn hash(&self, sources: &Sources) -> String {
        hash(sources.get(self.file).map_or("", SourceFile::text).as_bytes())
    }
}

/// The hash that git gives a file of these bytes.
#[must_use]
pub fn hash(bytes: &[u8]) -> String {
    let head = format!("blob {}\0", bytes.len());
    let hash = Sha1::new().chain_update(head).chain_update(bytes).finalize();
    hash.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Written<T> {
    files: BTreeMap<Utf8PathBuf, T>,
}

/// What `scantling.lock` says.
#[derive(Clone, Debug, Default)]
pub struct Lock {
    files: BTreeMap<Utf8PathBuf, (String, Span)>,
}

impl Lock {
    /// Reads the lock of a root; `None` where there is none, or it cannot be read, which is told.
    #[must_use]
    pub fn read(files: &dyn Files, root: &Root, sources: &mut Sources, sink: &mut Sink) -> Option<Self> {
        const HELP: &str = "write it again: `scantling lock`; git has the one that was committed last";
        let (file, text) = root.text(files, LOCK, &codes::LOCK_NOT_READ, sources, sink)?;
        let written: Written<Spanned<String>> = match toml::from_str(&text) {
            Ok(written) => written,
            Err(error) => {
                sink.push(not_toml(&codes::LOCK_NOT_READ, LOCK, file, &error).help(HELP));
                return None;
            }
        };
        let mut lock = Self::default();
        for (path, hash) in written.files {
            let span = Span::new(file, hash.span().start, hash.span().end);
            let hash = hash.into_inner();
            // What is no hash must not reach the command line of git.
            if hash.len() != 40 || !hash.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f')) {
                let message = format!("`{LOCK}` cannot be read: `{hash}` is no hash");
                sink.push(Diagnostic::new(&codes::LOCK_NOT_READ, message).at(span, "").help(HELP));
                return None;
            }
            lock.files.insert(path, (hash, span));
        }
        Some(lock)
    }

    /// The text of the file for these hashes.
    ///
    /// # Errors
    /// A path that TOML cannot hold; there is none.
    pub fn text(hashes: &BTreeMap<Utf8PathBuf, String>) -> Result<String, toml::ser::Error> {
        Ok(format!("{HEAD}{}", toml::to_string(&Written { files: hashes.clone() })?))
    }

    /// The hash of each file.
    pub fn hashes(&self) -> impl Iterator<Item = (&Utf8Path, &str)> {
        self.files.iter().map(|(path, (hash, _))| (path.as_path(), hash.as_str()))
    }

    /// The hash of a file, by its path from the root.
    #[must_use]
    pub fn hash(&self, path: &Utf8Path) -> Option<&str> {
        self.files.get(path).map(|(hash, _)| hash.as_str())
    }

    /// Says which shared files changed since, and, where the lock is for this project too, which it does not have.
    pub fn compare(&self, shared: &[Shared], own: bool, sources: &Sources, sink: &mut Sink) {
        let (mut changed, mut new) = (Vec::new(), Vec::new());
        for shared in shared {
            match self.hash(&shared.path) {
                None if own => new.push(shared),
                Some(locked) if locked != shared.hash(sources) => changed.push(shared),
                _ => {}
            }
        }
        let words = ["changed since it was locked", "changed since they were locked"];
        let help = "`scantling lock` takes the new text in, once the parts are right";
        told(&codes::CHANGED, &changed, words, help).into_iter().for_each(|d| sink.push(d));
        let words = ["is not locked", "are not locked"];
        told(&codes::NOT_LOCKED, &new, words, "`scantling lock` takes in what is used")
            .into_iter()
            .for_each(|d| sink.push(d));
    }

    /// Says which locked files are not among those that all projects use.
    pub fn gone<'a>(&self, used: impl Fn(&Utf8Path) -> bool + 'a, sink: &mut Sink) {
        for (path, (_, span)) in self.files.iter().filter(|(path, _)| !used(path)) {
            let message = format!("`{path}` is locked, but nothing that is built uses it any more");
            let diagnostic = Diagnostic::new(&codes::GONE, message).at(*span, "");
            sink.push(diagnostic.help("`scantling lock` takes it out"));
        }
    }
}

/// One message for all files that it holds of, at the places that name them.
fn told(code: &'static Code, shared: &[&Shared], [one, many]: [&str; 2], help: &str) -> Option<Diagnostic> {
    let (first, others) = shared.split_first()?;
    let named = |shared: &Shared| format!("`{}`", shared.path);
    let diagnostic = match others {
        [] => Diagnostic::new(code, format!("{} {one}", named(first))).at(first.used, ""),
        _ => Diagnostic::new(code, format!("{} shared files {many}", shared.len()))
            .at(first.used, named(first)),
    };
    let diagnostic = others.iter().fold(diagnostic, |d, shared| d.and_at(shared.used, named(shared)));
    Some(diagnostic.help(help))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published values: the empty file's, known from every repository, and the one that the book "Pro Git", 2nd edition,
    /// section 10.2, prints for `echo 'test content' | git hash-object -w --stdin`; both are from memory, and
    /// `tests/suite/shared.rs` asks the installed git.
    #[test]
    fn hashes_are_those_of_git() {
        assert_eq!(hash(b""), "e69de29bb2d1d6434b8b29ae775ad8c2e48c5391");
        assert_eq!(hash(b"test content\n"), "d670460b4b4aece5915caf5c68d12f560a9fe3e4");
    }
}
