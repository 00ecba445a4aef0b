//! The whole way from text to parts and messages: the one function that all front ends call.

mod analysis;
mod cause;
mod library;
mod mend;
mod modules;
mod require;
mod told;

use crate::breakdown::{Effort, Plans};
use crate::cancel::{Cancel, Cancelled};
use crate::check::{self, HAZARDS, Message, Report, Subject};
use crate::diag::{Code, Diagnostic, Severity, Sink};
use crate::eval::{self, Ledger, Model, Replaced};
use crate::lower;
/// The code of a project without anything to build, as a file is that only others use.
pub use crate::lower::codes::NOTHING as NOTHING_TO_BUILD;
use crate::manifest::{self, Shared};
use crate::parts::{Finding, PartGraph, Work};
use crate::progress;
use crate::quantity::{Marks, System};
use crate::resolve::{self, Module, Program};
use crate::sheets;
use crate::source::{FileError, Files, Sources};
pub use crate::source::{ReadError, Unreadable, read};
use crate::syntax;
pub use analysis::{Analysis, analyse};
use camino::{Utf8Path, Utf8PathBuf};
use cause::{Probed, gather};
pub use library::{LIBRARY, PARTS};
pub use mend::{Mended, mended, prove};
pub use modules::{ListedModule, ListedParameter, modules};
use require::require;
use std::collections::BTreeMap;
use std::sync::Arc;
use told::{accept, alike, once, settle};

/// What came of a project.
#[derive(Clone, Debug)]
pub struct Compilation {
    /// The path of the main file.
    pub entry: Utf8PathBuf,
    /// The files that were read.
    pub sources: Sources,
    /// What is decided.
    pub model: Model,
    /// What follows from it; not to be built from where there are errors.
    pub graph: PartGraph,
    /// The layouts of its sheets and boards, as far as they are made.
    pub plans: Plans,
    /// What the checks found; empty where there are errors before them.
    pub findings: Vec<Finding>,
    /// All messages in the order of the text.
    pub diagnostics: Vec<Diagnostic>,
    /// The modules that the main file can use, by the names they have there.
    pub modules: BTreeMap<Arc<str>, Arc<Module>>,
    /// The files of the project that the main file uses, in the order of reading.
    pub shared: Vec<Shared>,
}

impl Compilation {
    /// Whether it cannot be cut, stood, fixed or held as written.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.count(Severity::Error) > 0
    }

    /// Whether something that matters could not be checked for want of a value.
    #[must_use]
    pub fn leaves_unchecked(&self) -> bool {
        self.graph.lacking.iter().any(|lacking| lacking.matters)
    }

    /// Prints in another system of units from here on: its usual marks, on the paper that the project has. No size changes.
    pub fn print_in(&mut self, system: System) {
        let project = &mut self.model.project;
        if project.marks.system() != system {
            project.paper = Some(project.paper());
            project.marks = match system {
                System::Inch => Marks::THIRTY_SECONDS,
                System::Metric => Marks::TENTHS,
            };
        }
    }

    /// What sheets are made from, with so much work for layouts.
    #[must_use]
    pub fn subject(&self, effort: Effort) -> sheets::Subject<'_> {
        let Self { model, graph, plans, findings, .. } = self;
        sheets::Subject { model, graph, plans, findings, effort, work: Work::Left, only: None }
    }

    /// Whether a message is about what hurts people or houses, so that a caution belongs to it.
    #[must_use]
    pub fn tells_of_hazards(&self) -> bool {
        let mut codes = HAZARDS.iter().flat_map(|check| check.codes);
        codes.any(|code| self.diagnostics.iter().any(|told| told.code.id == code.id))
    }

    /// How many messages there are of a severity.
    #[must_use]
    pub fn count(&self, severity: Severity) -> usize {
        self.diagnostics.iter().filter(|d| d.severity == severity).count()
    }
}

/// Compiles the project whose main file is `entry`.
///
/// # Errors
/// [`Halt`] where that file cannot be read. A mistake in it is no error here but a message.
pub fn compile(files: &dyn Files, entry: &Utf8Path) -> Result<Compilation, Halt> {
    Ok(build(files, analyse(files, entry)?, &Cancel::default())?.compilation)
}

/// The same, with mends: where one literal mends a matter, the message has it as a change of text, proven by working the
/// project out again with it.
///
/// # Errors
/// As [`compile`].
pub fn compile_with_mends(files: &dyn Files, entry: &Utf8Path) -> Result<Compilation, Halt> {
    let mut built = build(files, analyse(files, entry)?, &Cancel::default())?;
    prove(files, &mut built, &Cancel::default())?;
    Ok(built.compilation)
}

/// A project with its parts, and what the checks told of them before any of it was accepted or left out: what [`prove`]
/// makes fixes of.
#[derive(Clone, Debug)]
pub struct Built {
    /// What came of it.
    pub compilation: Compilation,
    messages: Vec<Message>,
}

/// Why nothing came of a project.
#[derive(Debug, thiserror::Error)]
pub enum Halt {
    /// A file cannot be read.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// Somebody stopped the work.
    #[error(transparent)]
    Cancelled(#[from] Cancelled),
}

/// Makes the parts of what is analysed and checks them.
///
/// # Errors
/// [`Halt`] where a file beside the project cannot be read, or somebody stopped the work.
pub fn build(files: &dyn Files, analysis: Analysis, cancel: &Cancel) -> Result<Built, Halt> {
    let Analysis { entry, mut sources, program, mut model, ledger, uses: _, mut sink, read, shared } =
        analysis;
    let project = Project { files, entry: &entry, program: &program, cancel };
    let Parts { graph, mut report, plans, checked } =
        project.build(&model, ledger, &mut sources, &mut sink)?;
    // Where the project states no price, what was paid says in which currency.
    let paid_in = graph.bought.iter().find_map(|bought| bought.currency.clone());
    model.project.currency = model.project.currency.or(paid_in);
    accept(&model, &mut sink);
    let probes = mend::probes(&graph);
    gather(&sources, &mut sink, checked, probes, &|replaced| project.probe(replaced, &sources, &read));
    let doubted = sink.all().iter().filter(|told| !told.instead.is_empty());
    report.messages.extend(doubted.map(mend::of_doubt));
    alike(&model, &mut sink);
    settle(&sources, &mut sink);
    once(&mut sink);
    let diagnostics = sink.finish();
    let modules = program.modules().clone();
    let Report { findings, messages, .. } = report;
    let compilation =
        Compilation { entry, sources, model, graph, plans, findings, diagnostics, modules, shared };
    Ok(Built { compilation, messages })
}

/// The parts of a project, and what was found.
struct Parts {
    graph: PartGraph,
    report: Report,
    plans: Plans,
    /// Whether nothing kept the checks from looking.
    checked: bool,
}

/// What parts are made from.
struct Project<'a> {
    files: &'a dyn Files,
    entry: &'a Utf8Path,
    program: &'a Program,
    cancel: &'a Cancel,
}

impl Project<'_> {
    fn build(
        &self,
        model: &Model,
        ledger: Ledger,
        sources: &mut Sources,
        sink: &mut Sink,
    ) -> Result<Parts, Halt> {
        self.cancel.go_on()?;
        let mut graph = lower::lower(model, ledger, sink);
        let (mut report, plans, checked) = (Report::default(), Plans::default(), !sink.has_errors());
        if checked {
            self.cancel.go_on()?;
            made(self.files, self.entry, model, &mut graph, sources, sink)?;
            report = check::check(&Subject::new(model, &graph, &plans), self.cancel)?;
            graph.reckoned = std::mem::take(&mut report.reckoned);
            graph.lacking = std::mem::take(&mut report.lacking);
            require(self.program, model, &mut graph, &plans, sources, sink);
            report.messages.iter().for_each(|message| sink.push(message.diagnostic.clone()));
        }
        Ok(Parts { graph, report, plans, checked })
    }

    /// What is told with other values in place of some that are stated; `None` where somebody stopped the work.
    fn probe(&self, replaced: &Replaced, sources: &Sources, read: &Sink) -> Option<Probed> {
        let mut sink = read.clone();
        let eval::Evaluated { model, ledger, .. } =
            eval::evaluate(self.program, sources, replaced, &mut sink);
        let Parts { checked, .. } = self.build(&model, ledger, &mut sources.clone(), &mut sink).ok()?;
        accept(&model, &mut sink);
        Some(Probed { told: sink.all().to_vec(), checked })
    }
}

/// Enters how far parts are made, where a file beside the project says so.
fn made(
    files: &dyn Files,
    entry: &Utf8Path,
    model: &Model,
    graph: &mut PartGraph,
    sources: &mut Sources,
    sink: &mut Sink,
) -> Result<(), ReadError> {
    let Some(path) = progress::place(files, entry) else { return Ok(()) };
    let text = read(files, &path)?;
    let file = sources.add(path, text.clone());
    progress::enter(file, &text, graph, model, sink);
    let old = progress::old(entry);
    match read(files, &old) {
        Err(ReadError { why: Unreadable::File(FileError::Missing), .. }) => {}
        text => progress::doubt(files, entry, sources.add(old, text?), sink),
    }
    Ok(())
}

/// Every code that a message can have, in the order of the phases.
pub fn codes() -> impl Iterator<Item = &'static Code> {
    let phases = [
        syntax::codes::ALL,
        resolve::codes::ALL,
        manifest::codes::ALL,
        eval::codes::ALL,
        lower::codes::ALL,
        progress::codes::ALL,
    ];
    phases.into_iter().flatten().copied().chain(check::CHECKS.iter().flat_map(|check| check.codes).copied())
}
