//! Why a command cannot be carried out: the program's own errors, apart from those in a project.

use crate::cancel::Cancelled;
use crate::compile::Halt;
use crate::manifest::MANIFEST;
use crate::source::{ReadError, Unreadable};
use camino::Utf8PathBuf;
use miette::Diagnostic;

/// A command that cannot be carried out.
#[derive(Debug, thiserror::Error, Diagnostic)]
pub(super) enum Failure {
    /// The project's file cannot be read.
    #[error("{error}")]
    #[diagnostic(code(F001))]
    Read {
        /// The file and the reason.
        error: ReadError,
        /// What to do.
        #[help]
        help: &'static str,
    },
    /// An input of another format cannot be used.
    #[error("cannot use {path}: {why}")]
    #[diagnostic(code(F009))]
    Input {
        /// The file.
        path: Utf8PathBuf,
        /// Why not.
        why: String,
    },
    /// An output cannot be written.
    #[error("cannot write {path}: {why}")]
    #[diagnostic(
        code(F002),
        help("nothing there was changed; choose a place that you may write to, with enough room")
    )]
    Write {
        /// The file or folder.
        path: Utf8PathBuf,
        /// Why not.
        why: std::io::Error,
    },
    /// A file of the same name is there, and this program did not make it as it is.
    #[error("{path} {}", if *changed { "was changed since scantling made it" } else { "was not made by scantling" })]
    #[diagnostic(
        code(F003),
        help("nothing was changed; choose another folder, or replace the file with `--force`")
    )]
    NotOurs {
        /// The file.
        path: Utf8PathBuf,
        /// It was made by this program, but is no more what it was.
        changed: bool,
    },
    /// A set of files is there in part, and the system does not let it be finished or undone.
    #[error("the files are there in part: cannot write {path}: {why}")]
    #[diagnostic(
        code(F043),
        help("what is there is all of one set, but some of it is missing; the same command finishes it")
    )]
    Unfinished {
        /// The file at which it stopped.
        path: Utf8PathBuf,
        /// Why.
        why: std::io::Error,
    },
    /// A project stands already where a new one should be.
    #[error("{path} already exists")]
    #[diagnostic(code(F007), help("nothing was changed; choose another folder"))]
    Exists {
        /// The file.
        path: Utf8PathBuf,
    },
    /// The formatter's own mistake: its result was thrown away.
    #[error("{path} stays as it is: {why}")]
    #[diagnostic(
        code(F010),
        help("this is a bug in scantling, not a mistake of yours; please report it with the file")
    )]
    Format {
        /// The file.
        path: Utf8PathBuf,
        /// What is wrong with the result.
        why: crate::format::Unproven,
    },
    /// A folder cannot be searched.
    #[error("cannot search the folder: {0}")]
    #[diagnostic(code(F011), help("give the paths of the files"))]
    Search(String),
    /// The path of a measure leads nowhere.
    #[error("{message}")]
    #[diagnostic(code(F004))]
    Path {
        /// What does not exist.
        message: String,
        /// What does.
        #[help]
        help: String,
    },
    /// A code that no message has.
    #[error("unknown code `{code}`")]
    #[diagnostic(code(F005))]
    Code {
        /// What was asked for.
        code: String,
        /// What there is.
        #[help]
        help: String,
    },
    /// A command that there is not.
    #[error("unknown command `{0}`")]
    #[diagnostic(code(F012), help("`scantling --help` lists all"))]
    Command(String),
    /// A calendar of a sheet that has no dates.
    #[error("this sheet has no dates")]
    #[diagnostic(
        code(F008),
        help("the sheet `finish` has them where the project states its `start` and a `finish`")
    )]
    NoDates,
    /// Drawings of a sheet that has none.
    #[error("this sheet has no drawings")]
    #[diagnostic(
        code(F025),
        help(
            "the sheet `layouts` has them where parts are cut from sheets whose `size` is stated; `elevation` and other views are drawings"
        )
    )]
    NoDrawings,
    /// There is no git.
    #[error("git is not installed, or not on the path")]
    #[diagnostic(
        code(F030),
        help("revisions come from git; two files are compared without it: `scantling diff OLD NEW`")
    )]
    NoGit,
    /// Git cannot do what it should.
    #[error("git cannot be used: {0}")]
    #[diagnostic(code(F031))]
    Git(String),
    /// The folder is under no version control.
    #[error("{folder} lies in no git repository")]
    #[diagnostic(
        code(F032),
        help("`git init` makes one; two files are compared without: `scantling diff OLD NEW`")
    )]
    NoRepository {
        /// The folder.
        folder: Utf8PathBuf,
    },
    /// The repository has no such revision.
    #[error("there is no revision `{name}`, and no file of that name")]
    #[diagnostic(code(F033), help("`git log --oneline` lists revisions; `git tag` lists the named ones"))]
    NoRevision {
        /// What was asked for.
        name: String,
    },
    /// What stands for no single revision.
    #[error("`{name}` is no revision: {why}")]
    #[diagnostic(code(F039), help("`git log --oneline` lists revisions; `git tag` lists the named ones"))]
    Revision {
        /// What was asked for.
        name: String,
        /// Why it is none.
        why: &'static str,
    },
    /// A repository without files.
    #[error("{folder} is a bare repository: it has revisions, but no files as they are now")]
    #[diagnostic(
        code(F040),
        help("compare two revisions, with paths from its top: `scantling diff OLD NEW [FILE]`")
    )]
    Bare {
        /// The repository.
        folder: Utf8PathBuf,
    },
    /// A repository that says that its files lie in another place.
    #[error("the repository of {folder} says that its files lie in {top}")]
    #[diagnostic(
        code(F041),
        help("nothing was changed; if that is right (`git config core.worktree`), name that folder")
    )]
    Elsewhere {
        /// The folder that was named.
        folder: Utf8PathBuf,
        /// Where its files should lie.
        top: Utf8PathBuf,
    },
    /// A link where git wants a file.
    #[error("{path} is a link, which git does not follow")]
    #[diagnostic(code(F042), help("nothing was changed; put a file in its place"))]
    Link {
        /// The link.
        path: Utf8PathBuf,
    },
    /// The file did not exist then.
    #[error("{path} was not there in {at}")]
    #[diagnostic(
        code(F034),
        help("`git log --follow -- FILE` says since when it is there, and under which names")
    )]
    NotThen {
        /// The file.
        path: Utf8PathBuf,
        /// The revision.
        at: String,
    },
    /// A file cannot be compared with a folder.
    #[error("{old} and {new} are a file and a folder")]
    #[diagnostic(code(F035), help("compare two files, or two folders"))]
    FileAndFolder {
        /// The one.
        old: Utf8PathBuf,
        /// The other.
        new: Utf8PathBuf,
    },
    /// It is not said which project is meant.
    #[error("there are {count} `.scant` files in this folder that could be the project")]
    #[diagnostic(code(F036), help("name it: `--file FILE`"))]
    WhichProject {
        /// How many.
        count: usize,
    },
    /// A folder is named, or none, and no manifest says what is built there.
    #[error("there is no `{MANIFEST}` in {folder}, nor in a folder above it")]
    #[diagnostic(code(F037))]
    NoManifest {
        /// The folder.
        folder: Utf8PathBuf,
        /// What to do.
        #[help]
        help: String,
    },
    /// The manifest names no file.
    #[error("{path} names no file to build")]
    #[diagnostic(code(F038), help("write into it: `build = [\"wall.scant\"]`"))]
    NothingToBuild {
        /// The manifest.
        path: Utf8PathBuf,
    },
    /// What is to be noted of parts cannot be.
    #[error("{message}")]
    #[diagnostic(code(F045))]
    Progress {
        /// Why not.
        message: String,
        /// What to do.
        #[help]
        help: String,
    },
    /// Paper on which nothing can be printed.
    #[error("{message}")]
    #[diagnostic(code(F046))]
    Paper {
        /// Why not.
        message: String,
        /// What to do.
        #[help]
        help: String,
    },
    /// Somebody stopped the work.
    #[error(transparent)]
    #[diagnostic(code(F044))]
    Stopped(Cancelled),
    /// The output stream is closed or full.
    #[error("cannot print: {0}")]
    #[diagnostic(code(F006))]
    Print(std::io::Error),
}

impl From<Halt> for Failure {
    fn from(halt: Halt) -> Self {
        match halt {
            Halt::Read(error) => error.into(),
            Halt::Cancelled(cancelled) => Self::Stopped(cancelled),
        }
    }
}

impl From<ReadError> for Failure {
    fn from(error: ReadError) -> Self {
        let help = match error.why {
            Unreadable::File(_) => {
                "give the path of a `.scant` file; `scantling new DIR` writes one to start from"
            }
            Unreadable::NotUtf8 { .. } | Unreadable::Utf16 => "save it as plain text in UTF-8",
            Unreadable::TooLarge => "a project is text that a person writes; is this the right file?",
        };
        Self::Read { error, help }
    }
}
