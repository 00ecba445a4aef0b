//! The installed git: the one file that runs it.
//!
//! A repository may come from anywhere, and its settings can name programs. None of them runs here: git is asked for what
//! it stores and nothing else, fetches nothing, and is given no word that it could take for an option.

use super::Failure;
use crate::source::{DiskFiles, FileError, Files, plain};
use camino::{Utf8Path, Utf8PathBuf};
use std::collections::BTreeMap;
use std::io;
use std::process::{Command, Output, Stdio};

/// Settings that stand above those of the repository: no program that watches files, no hook.
///
/// Older versions of git take the value of `core.fsmonitor` for a program; an empty one means none to all of them.
const QUIET: [&str; 4] = ["-c", "core.fsmonitor=", "-c", "core.hooksPath=/dev/null"];

/// What git says to these arguments in a folder; `None` where it says no.
fn answer(folder: &Utf8Path, arguments: &[&str]) -> Result<Option<Vec<u8>>, Failure> {
    let Output { status, stdout, .. } = run(folder, &[&QUIET, arguments].concat())?;
    Ok(status.success().then_some(stdout))
}

/// What git must be able to say; where it is not, its own words are the reason.
fn needed(folder: &Utf8Path, arguments: &[&str]) -> Result<Vec<u8>, Failure> {
    let Output { status, stdout, stderr } = run(folder, &[&QUIET, arguments].concat())?;
    if status.success() { Ok(stdout) } else { Err(Failure::Git(line(stderr)?)) }
}

fn run(folder: &Utf8Path, arguments: &[&str]) -> Result<Output, Failure> {
    let folder = if folder.as_str().is_empty() { Utf8Path::new(".") } else { folder };
    let mut git = Command::new("git");
    git.arg("-C").arg(folder).args(["--no-pager", "--no-optional-locks", "--literal-pathspecs"]);
    git.args(arguments).stdin(Stdio::null()).env("LC_ALL", "C");
    // What a partial clone does not have stays away. Versions without this variable try to fetch it, but no way to a
    // remote is allowed, whatever the repository says; `none` is the name of no protocol.
    git.env("GIT_NO_LAZY_FETCH", "1").env("GIT_ALLOW_PROTOCOL", "none").env("GIT_TERMINAL_PROMPT", "0");
    // An object is what its hash says, and no other that the repository puts in its place.
    git.env("GIT_NO_REPLACE_OBJECTS", "1");
    git.output().map_err(|why| match why.kind() {
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

/// A repository.
#[derive(Clone, Debug)]
pub(super) struct Repository {
    /// The top of its files, or of itself where it is bare.
    top: Utf8PathBuf,
    bare: bool,
}

impl Repository {
    /// The repository that a folder lies in.
    ///
    /// # Errors
    /// [`Failure::NoRepository`] where there is none.
    pub fn of(folder: &Utf8Path) -> Result<Self, Failure> {
        let none = || Failure::NoRepository { folder: folder.to_owned() };
        if let Some(top) = answer(folder, &["rev-parse", "--show-toplevel"])? {
            return Ok(Self { top: line(top)?.into(), bare: false });
        }
        let bare = answer(folder, &["rev-parse", "--is-bare-repository"])?.ok_or_else(none)?;
        if line(bare)? != "true" {
            return Err(none());
        }
        let top = answer(folder, &["rev-parse", "--absolute-git-dir"])?.ok_or_else(none)?;
        Ok(Self { top: line(top)?.into(), bare: true })
    }

    /// The top folder of the files.
    ///
    /// # Errors
    /// [`Failure::Bare`] where there are no files.
    pub fn files(&self) -> Result<&Utf8Path, Failure> {
        if self.bare { Err(Failure::Bare { folder: self.top.clone() }) } else { Ok(&self.top) }
    }

    /// Whether it has revisions only.
    pub fn is_bare(&self) -> bool {
        self.bare
    }

    /// The path of a file from the top; in a bare repository all paths start there. `None` where it lies elsewhere.
    fn inside(&self, path: &Utf8Path) -> Option<Utf8PathBuf> {
        if self.bare {
            let path = plain(path);
            return (!path.is_absolute() && !path.starts_with("..")).then_some(path);
        }
        let here = Utf8PathBuf::from_path_buf(std::env::current_dir().ok()?).ok()?;
        let path = plain(&here.join(path));
        let from_top = |path: &Utf8Path| path.strip_prefix(&self.top).ok().map(Utf8Path::to_owned);
        // The file itself may be a link in the repository; the way to it may be one outside.
        from_top(&path).or_else(|| {
            path.ancestors().skip(1).find_map(|above| {
                let rest = path.strip_prefix(above).ok()?;
                from_top(&DiskFiles.real(above).ok()?.join(rest))
            })
        })
    }

    /// The hash of the commit that a person names.
    fn commit(&self, name: &str) -> Result<String, Failure> {
        let refused = |why| Err(Failure::Revision { name: name.to_owned(), why });
        if name.is_empty() {
            return refused("it is empty");
        }
        if name.starts_with('-') {
            return refused("no revision begins with `-`");
        }
        if name.chars().any(char::is_control) {
            return refused("it has a character that cannot be seen");
        }
        if name.starts_with('^') || name.contains("..") {
            return refused("it stands for a range; name one or two revisions, such as `HEAD~1 HEAD`");
        }
        let none = || Failure::NoRevision { name: name.to_owned() };
        let commit = format!("{name}^{{commit}}");
        let arguments = ["rev-parse", "--verify", "--quiet", "--end-of-options", &commit];
        let hash = line(answer(&self.top, &arguments)?.ok_or_else(none)?)?;
        // Old versions print the end of options too.
        let hash = hash.lines().last().unwrap_or_default();
        if is_hash(hash) { Ok(hash.to_owned()) } else { Err(none()) }
    }

    /// The files that the next commit changes, from the top folder.
    ///
    /// # Errors
    /// [`Failure::Git`] where git cannot say it.
    pub fn staged(&self) -> Result<Vec<Utf8PathBuf>, Failure> {
        let quiet = ["--no-ext-diff", "--no-textconv", "--no-renames", "--ignore-submodules=all"];
        let arguments =
            [&["diff", "--cached", "--name-only", "--diff-filter=ACM", "-z"][..], &quiet].concat();
        let names = needed(&self.top, &arguments)?;
        let names = names.split(|byte| *byte == 0).filter(|name| name.ends_with(b".scant"));
        names.map(|name| Ok(line(name.to_vec())?.into())).collect()
    }

    /// A setting of this repository only.
    ///
    /// # Errors
    /// [`Failure::Git`] where git does not take it.
    pub fn set(&self, key: &str, value: &str) -> Result<(), Failure> {
        needed(&self.top, &["config", "--local", key, value]).map(drop)
    }

    /// Where hooks of the repository lie.
    ///
    /// # Errors
    /// [`Failure::Git`] where git cannot say it.
    pub fn hooks(&self) -> Result<Hooks, Failure> {
        // This question is about the very setting that all others are asked without.
        let ask = |what: &[&str]| -> Result<Option<Utf8PathBuf>, Failure> {
            let Output { status, stdout, .. } = run(&self.top, what)?;
            status.success().then(|| Ok(self.top.join(line(stdout)?))).transpose()
        };
        let unknown = || Failure::Git("it does not say where its hooks lie".to_owned());
        let folder = ask(&["rev-parse", "--git-path", "hooks"])?.ok_or_else(unknown)?;
        let own = ask(&["rev-parse", "--git-common-dir"])?.ok_or_else(unknown)?;
        let set = run(&self.top, &["config", "--get", "core.hooksPath"])?.status.success();
        let folder = plain(&folder);
        let real = folder.ancestors().find_map(|above| DiskFiles.real(above).ok()).ok_or_else(unknown)?;
        let own = DiskFiles.real(&own).map_err(|why| Failure::Git(why.to_string()))?;
        let outside = !real.starts_with(&own) && !real.starts_with(&self.top);
        Ok(Hooks { folder, set, outside })
    }
}

/// Where hooks lie.
#[derive(Debug)]
pub(super) struct Hooks {
    /// The folder.
    pub folder: Utf8PathBuf,
    /// Whether `core.hooksPath` says so.
    pub set: bool,
    /// Whether it lies outside of the repository and its files.
    pub outside: bool,
}

/// Whether a text is the name of an object and can be nothing else.
fn is_hash(text: &str) -> bool {
    [40, 64].contains(&text.len()) && text.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'))
}

/// The bytes that a hash stands for; `None` where the repository of a folder does not have them.
pub(super) fn blob(folder: &Utf8Path, hash: &str) -> Result<Option<Vec<u8>>, Failure> {
    if !is_hash(hash) {
        return Ok(None);
    }
    // `cat-file` gives the bytes as they are; `show` would convert them for people.
    answer(folder, &["cat-file", "--end-of-options", "blob", hash])
}

/// The files as a revision or the index has them. Relative paths start at the working folder; in a bare repository all
/// start at its top.
#[derive(Clone, Debug)]
pub(super) struct GitFiles {
    repository: Repository,
    /// The hash of each file by its path from the top; `None` for what is no file: a link, another repository.
    files: BTreeMap<Utf8PathBuf, Option<String>>,
}

impl GitFiles {
    /// The files of a revision.
    ///
    /// # Errors
    /// [`Failure::Revision`] and [`Failure::NoRevision`] where the name stands for none; [`Failure::Git`] where git does
    /// not have its list of files.
    pub fn at(repository: Repository, name: &str) -> Result<Self, Failure> {
        let commit = repository.commit(name)?;
        let tree = ["ls-tree", "-r", "-z", "--full-tree", "--end-of-options", &commit];
        let listed = needed(&repository.top, &tree)?;
        // Mode, kind, hash; path.
        let files = entries(&listed, |words| match words {
            [mode, _, hash] => Some((mode, hash)),
            _ => None,
        });
        Ok(Self { repository, files })
    }

    /// The files of the index.
    ///
    /// # Errors
    /// [`Failure::Git`] where git cannot list them.
    pub fn index(repository: Repository) -> Result<Self, Failure> {
        let listed = needed(&repository.top, &["ls-files", "--stage", "-z"])?;
        // Mode, hash, stage; path. What is not merged yet has no stage 0.
        let files = entries(&listed, |words| match words {
            [mode, hash, "0"] => Some((mode, hash)),
            _ => None,
        });
        Ok(Self { repository, files })
    }

    /// The `.scant` files under a folder; paths start at that folder.
    pub fn scant_files(&self, folder: &Utf8Path) -> Vec<Utf8PathBuf> {
        let Some(folder) = self.repository.inside(folder) else { return Vec::new() };
        let names = self.files.keys().filter_map(|path| path.strip_prefix(&folder).ok());
        names.filter(|name| name.extension() == Some("scant")).map(Utf8Path::to_owned).collect()
    }
}

/// What git lists: some words, a tab, a path, a nought. Paths that are not UTF-8 are no files of ours.
fn entries<'a>(
    listed: &'a [u8],
    mode_and_hash: impl Fn(&[&'a str]) -> Option<(&'a str, &'a str)>,
) -> BTreeMap<Utf8PathBuf, Option<String>> {
    let lines = listed.split(|byte| *byte == 0).filter_map(|line| std::str::from_utf8(line).ok());
    let entry = |line: &'a str| {
        let (words, path) = line.split_once('\t')?;
        let (mode, hash) = mode_and_hash(&words.split_whitespace().collect::<Vec<_>>())?;
        Some((Utf8PathBuf::from(path), mode.starts_with("100").then(|| hash.to_owned())))
    };
    lines.filter_map(entry).collect()
}

impl Files for GitFiles {
    fn read(&self, path: &Utf8Path) -> Result<Vec<u8>, FileError> {
        let path = self.repository.inside(path).ok_or(FileError::Missing)?;
        match self.files.get(&path) {
            Some(Some(hash)) => match blob(&self.repository.top, hash) {
                Ok(Some(bytes)) => Ok(bytes),
                Ok(None) => Err(FileError::Other(format!(
                    "this clone does not have its text, and scantling fetches nothing; \
                     `git cat-file blob {hash}` does, if you trust the remote"
                ))),
                Err(failure) => Err(FileError::Other(failure.to_string())),
            },
            Some(None) => Err(FileError::Other("it is a link or another repository, not a file".to_owned())),
            None => Err(FileError::Missing),
        }
    }

    /// A link is its own file in a repository, and nothing is read through it.
    fn real(&self, path: &Utf8Path) -> Result<Utf8PathBuf, FileError> {
        let path = self.repository.inside(path).ok_or(FileError::Missing)?;
        let there = path.as_str().is_empty() || self.files.keys().any(|file| file.starts_with(&path));
        let top = if self.repository.bare { Utf8Path::new("") } else { &*self.repository.top };
        if there { Ok(top.join(path)) } else { Err(FileError::Missing) }
    }

    fn names(&self, folder: &Utf8Path) -> Vec<String> {
        let own = self.scant_files(folder).into_iter().filter(|path| path.components().count() == 1);
        own.map(Utf8PathBuf::into_string).collect()
    }
}
