//! What a text says, before anything is made of it: for everyone who asks about the text and not about the parts.

use super::library::{READ, READ_PARTS};
use crate::diag::Sink;
use crate::eval::{self, Ledger, Model, Replaced, Uses};
use crate::manifest::Shared;
use crate::progress;
use crate::resolve::{self, Program};
use crate::source::{Files, ReadError, Sources, read};
use crate::syntax;
use camino::{Utf8Path, Utf8PathBuf};

/// A project's text, read and worked out.
#[derive(Clone, Debug)]
pub struct Analysis {
    /// The path of the main file.
    pub entry: Utf8PathBuf,
    /// The files that were read.
    pub sources: Sources,
    /// The members with what is stated in them, and their names.
    pub program: Program,
    /// What is decided.
    pub model: Model,
    /// The reason of every number so far.
    pub ledger: Ledger,
    /// Which names stand for which declarations.
    pub uses: Uses,
    /// The messages so far.
    pub sink: Sink,
    /// Those of them that came before anything was worked out.
    pub read: Sink,
    /// The files of the project that the main file uses, in the order of reading.
    pub shared: Vec<Shared>,
}

/// Reads the project whose main file is `entry`, and works out what it states.
///
/// # Errors
/// [`ReadError`] where that file cannot be read. A mistake in it is no error here but a message.
pub fn analyse(files: &dyn Files, entry: &Utf8Path) -> Result<Analysis, ReadError> {
    let text = read(files, entry)?;
    let (mut sources, mut sink) = (READ.sources.clone(), Sink::default());
    let file = sources.add(entry, text.clone());
    let parsed = if progress::is_progress(entry) {
        progress::no_project(entry, file, &mut sink);
        syntax::parse(file, "", &mut sink)
    } else {
        syntax::parse(file, &text, &mut sink)
    };
    let (loaded, shared) = resolve::load(files, entry, parsed, &READ_PARTS, &mut sources, &mut sink);
    let program = Program::new(&READ.items, &loaded, &mut sources, &mut sink);
    let before = sink.clone();
    let eval::Evaluated { model, ledger, mut uses } =
        eval::evaluate(&program, &sources, &Replaced::new(), &mut sink);
    uses.settle(&sources);
    let entry = entry.to_owned();
    Ok(Analysis { entry, sources, program, model, ledger, uses, sink, read: before, shared })
}
