//! The whole way from text to parts and messages: the one function that all front ends call.

use crate::check::{self, Finding, Subject};
use crate::diag::{Code, Diagnostic, Severity, Sink};
use crate::eval::{self, Model};
use crate::limits;
use crate::lower;
use crate::parts::PartGraph;
use crate::resolve::{self, Program};
use crate::source::{FileError, Files, Sources};
use crate::syntax;
use camino::{Utf8Path, Utf8PathBuf};

/// Materials, fasteners and coatings that every project can name, each value with its source beside it.
const LIBRARY: &str = include_str!("library/materials.scant");

/// What came of a project.
#[derive(Clone, Debug)]
pub struct Compilation {
    /// The files that were read.
    pub sources: Sources,
    /// What is decided.
    pub model: Model,
    /// What follows from it; not to be built from where there are errors.
    pub graph: PartGraph,
    /// What the checks found; empty where there are errors before them.
    pub findings: Vec<Finding>,
    /// The messages in the order of the text.
    pub diagnostics: Vec<Diagnostic>,
    /// How many messages were left out.
    pub left_out: usize,
}

impl Compilation {
    /// Whether it cannot be cut, stood, fixed or held as written.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.count(Severity::Error) > 0
    }

    /// How many messages there are of a severity.
    #[must_use]
    pub fn count(&self, severity: Severity) -> usize {
        self.diagnostics.iter().filter(|d| d.severity == severity).count()
    }
}

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

/// Compiles the project whose main file is `entry`.
///
/// # Errors
/// [`ReadError`] where that file cannot be read. A mistake in it is no error here but a message.
pub fn compile(files: &dyn Files, entry: &Utf8Path) -> Result<Compilation, ReadError> {
    let text = read(files, entry)?;
    let mut sources = Sources::default();
    let mut sink = Sink::default();
    let file = sources.add(entry, text.clone());
    let parsed = syntax::parse(file, &text, &mut sink);
    let library =
        syntax::parse(sources.add("library/materials.scant", LIBRARY.to_owned()), LIBRARY, &mut sink);
    let program = Program::new(&library, &parsed, &mut sink);
    let (model, ledger) = eval::evaluate(&program, &mut sink);
    let graph = lower::lower(&model, ledger, &mut sink);
    let mut findings = Vec::new();
    if !sink.has_errors() {
        findings = check::check(Subject { model: &model, graph: &graph });
        for diagnostic in findings.iter().filter_map(|finding| finding.diagnostic.clone()) {
            sink.push(diagnostic);
        }
    }
    let (diagnostics, left_out) = sink.finish();
    Ok(Compilation { sources, model, graph, findings, diagnostics, left_out })
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

/// Every code that a message can have, in the order of the phases.
pub fn codes() -> impl Iterator<Item = &'static Code> {
    let phases = [syntax::codes::ALL, resolve::codes::ALL, eval::codes::ALL, lower::codes::ALL];
    phases.into_iter().flatten().copied().chain(check::CHECKS.iter().map(|check| check.code))
}
