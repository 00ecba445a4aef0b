//! The whole way from text to parts and messages: the one function that all front ends call.

mod mend;
mod modules;

use crate::breakdown::{Effort, Plans};
use crate::check::{self, Message, Report, Subject};
use crate::diag::{Code, Diagnostic, Label, Severity, Sink, nearest};
use crate::eval::{self, Accept, Derived, Measures, Model};
use crate::lower;
/// The code of a project without anything to build, as a file is that only others use.
pub use crate::lower::codes::NOTHING as NOTHING_TO_BUILD;
use crate::manifest::{self, Shared};
use crate::parts::{Finding, Measure, MeasureValue, PartGraph};
use crate::progress;
use crate::quantity::{Dim, Exact};
use crate::resolve::{self, Loaded, Module, Parts, Program};
use crate::sheets;
use crate::source::{FileError, FileId, Files, Sources, Span};
pub use crate::source::{ReadError, Unreadable, read};
use crate::syntax::{self, Entry};
use camino::{Utf8Path, Utf8PathBuf};
pub use mend::{Mended, mended};
pub use modules::{ListedModule, ListedParameter, modules};
use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

/// The files of the library: what every project can name, each value with its source beside it.
pub const LIBRARY: &[(&str, &str)] = &[
    ("library/species.scant", include_str!("library/species.scant")),
    ("library/boards.scant", include_str!("library/boards.scant")),
    ("library/sheets.scant", include_str!("library/sheets.scant")),
    ("library/fasteners.scant", include_str!("library/fasteners.scant")),
    ("library/glues.scant", include_str!("library/glues.scant")),
    ("library/coatings.scant", include_str!("library/coatings.scant")),
    ("library/caulks.scant", include_str!("library/caulks.scant")),
];

/// The file beside a project that says how far its parts are made.
pub const PROGRESS: &str = "progress.scant";

/// The parts of the library that a project names to use: `use std.shelving`.
pub const PARTS: &[(&str, &[(&str, &str)])] = &[(
    "shelving",
    &[
        ("library/shelving/fixed_shelf_unit.scant", include_str!("library/shelving/fixed_shelf_unit.scant")),
        (
            "library/shelving/adjustable_shelf_unit.scant",
            include_str!("library/shelving/adjustable_shelf_unit.scant"),
        ),
        ("library/shelving/alcove_pair.scant", include_str!("library/shelving/alcove_pair.scant")),
        ("library/shelving/window_seat_base.scant", include_str!("library/shelving/window_seat_base.scant")),
        ("library/shelving/base_cupboard.scant", include_str!("library/shelving/base_cupboard.scant")),
        ("library/shelving/desk_bay.scant", include_str!("library/shelving/desk_bay.scant")),
    ],
)];

/// The members of the library as they are read, once a process: they are the same for every project.
static READ: LazyLock<Library> = LazyLock::new(|| {
    let (mut sources, mut items) = (Sources::default(), Vec::new());
    for (path, text) in LIBRARY {
        let file = sources.add(*path, (*text).to_owned());
        items.extend(syntax::parse(file, text, &mut Sink::default()).items);
    }
    let mut add = |(path, text): &(&str, &str)| sources.add(*path, (*text).to_owned());
    let parts = PARTS.iter().map(|(_, texts)| texts.iter().map(&mut add).collect()).collect();
    Library { sources, items, parts }
});

/// The parts of the library; they are read when the first project uses one.
static READ_PARTS: LazyLock<Parts> = LazyLock::new(|| {
    let mut parts = Parts::new();
    for ((name, texts), files) in PARTS.iter().zip(&READ.parts) {
        let read = |((_, text), file): (&(&str, &str), &FileId)| {
            Arc::new(syntax::parse(*file, text, &mut Sink::default()))
        };
        let parsed = texts.iter().zip(files).map(read).collect();
        let part = Loaded { part: Some((*name).into()), ..Loaded::new(parsed, &READ.sources) };
        parts.insert(name, part);
    }
    parts
});

struct Library {
    sources: Sources,
    items: Vec<Entry>,
    /// The files of each of the [`PARTS`].
    parts: Vec<Vec<FileId>>,
}

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

    /// What sheets are made from, with so much work for layouts.
    #[must_use]
    pub fn subject(&self, effort: Effort) -> sheets::Subject<'_> {
        let Self { model, graph, plans, findings, .. } = self;
        sheets::Subject { model, graph, plans, findings, effort }
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
/// [`ReadError`] where that file cannot be read. A mistake in it is no error here but a message.
pub fn compile(files: &dyn Files, entry: &Utf8Path) -> Result<Compilation, ReadError> {
    Ok(derive(files, entry, read(files, entry)?)?.0)
}

/// The same, with mends: where one literal mends a matter, the message has it as a change of text, proven by working the
/// project out again with it.
///
/// # Errors
/// As [`compile`].
pub fn compile_with_mends(files: &dyn Files, entry: &Utf8Path) -> Result<Compilation, ReadError> {
    let (mut compilation, messages) = derive(files, entry, read(files, entry)?)?;
    mend::prove(files, &mut compilation, &messages);
    Ok(compilation)
}

/// What comes of a text, and what the checks told, before any of it was taken or left out.
fn derive(
    files: &dyn Files,
    entry: &Utf8Path,
    text: String,
) -> Result<(Compilation, Vec<Message>), ReadError> {
    let (mut sources, mut sink) = (READ.sources.clone(), Sink::default());
    let file = sources.add(entry, text.clone());
    let parsed = syntax::parse(file, &text, &mut sink);
    let (loaded, shared) = resolve::load(files, entry, parsed, &READ_PARTS, &mut sources, &mut sink);
    let program = Program::new(&READ.items, &loaded, &mut sources, &mut sink);
    let (model, ledger) = eval::evaluate(&program, &mut sink);
    let mut graph = lower::lower(&model, ledger, &mut sink);
    let (mut report, plans) = (Report::default(), Plans::default());
    if !sink.has_errors() {
        made(files, entry, &model, &mut graph, &mut sources, &mut sink)?;
        report = check::check(&Subject::new(&model, &graph, &plans));
        graph.reckoned = std::mem::take(&mut report.reckoned);
        require(&program, &model, &mut graph, &plans, &sources, &mut sink);
        report.messages.iter().for_each(|message| sink.push(message.diagnostic.clone()));
    }
    accept(&model, &mut sink);
    settle(&sources, &mut sink);
    let diagnostics = sink.finish();
    let modules = program.modules().clone();
    let (entry, Report { findings, messages, .. }) = (entry.to_owned(), report);
    let compilation =
        Compilation { entry, sources, model, graph, plans, findings, diagnostics, modules, shared };
    Ok((compilation, messages))
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
    let path = entry.with_file_name(PROGRESS);
    let text = match read(files, &path) {
        Err(ReadError { why: Unreadable::File(FileError::Missing), .. }) => return Ok(()),
        text => text?,
    };
    let file = sources.add(path, text.clone());
    progress::enter(file, &text, graph, model.project.marks, sink);
    Ok(())
}

/// Tests what the project requires of its derived measures.
fn require(
    program: &Program,
    model: &Model,
    graph: &mut PartGraph,
    plans: &Plans,
    sources: &Sources,
    sink: &mut Sink,
) {
    let required = eval::required(program);
    if required.is_empty() {
        return;
    }
    let all = graph.measures().into_iter();
    let known = all.filter_map(|(path, measure)| Some((path, derived(model, measure, Vec::new())?)));
    let path = |name: &str| format!("{}.{name}", sheets::PROJECT);
    let others = sheets::WHOLE.map(path).to_vec();
    let mut measures = Measures { known: known.collect(), others, ..Measures::default() };
    for asked in &required {
        if let Some(known) = measures.known.get(&graph.present(asked)).cloned() {
            measures.known.insert(asked.clone(), known);
        }
    }
    // What takes a layout is worked out only where it is asked for.
    let subject = sheets::Subject { model, graph, plans, findings: &[], effort: Effort::default() };
    for name in sheets::WHOLE {
        let path = path(name);
        if !required.contains(&path) || measures.known.contains_key(&path) {
            continue;
        }
        match sheets::whole(subject, name) {
            Some(Ok(whole)) => {
                measures
                    .known
                    .extend(derived(model, whole.measure, whole.without).map(|derived| (path, derived)));
            }
            Some(Err(why)) => _ = measures.unknown.insert(path, why),
            None => {}
        }
    }
    eval::require(program, &mut graph.ledger, &measures, sources, &model.project, sink);
}

/// A measure as a requirement compares it; `None` where it is too large to be compared.
fn derived(model: &Model, measure: Measure, without: Vec<String>) -> Option<Derived> {
    let (value, why, from) = match measure.value {
        MeasureValue::Length(len) => (len.value.into(), Some(len.why), Vec::new()),
        MeasureValue::Estimate(estimate, _) => (estimate.nearest()?, None, Vec::new()),
        MeasureValue::Count(count, from) => {
            let from = from.into_iter().map(|(what, count)| format!("{count} of {what}"));
            (Exact::number(i128::try_from(count).ok()?.into()), None, from.collect())
        }
        MeasureValue::Money(sum, from) => {
            let from = from.into_iter().map(|(what, sum)| format!("{}: {what}", model.project.money(sum)));
            (Exact { value: sum, dim: Dim::MONEY }, None, from.collect())
        }
    };
    Some(Derived { value, why, from, without })
}

/// Moves what is about a body at the place of its use to the text of the body, and says where that is used; several
/// uses with the same trouble give one message.
fn settle(sources: &Sources, sink: &mut Sink) {
    const SHOWN: usize = 3;
    let mut first: BTreeMap<(Span, &'static str, String), usize> = BTreeMap::new();
    let mut further: Vec<usize> = Vec::new();
    sink.retain(|diagnostic| {
        let Some(span) = diagnostic.span().filter(|span| !sources.uses(*span).is_empty()) else {
            return true;
        };
        let key = (sources.settled(span), diagnostic.code.id, diagnostic.message.clone());
        let index = *first.entry(key).or_insert(further.len());
        match further.get_mut(index) {
            Some(count) => *count += 1,
            None => further.push(0),
        }
        further.get(index) == Some(&0)
    });
    let mut further = further.into_iter();
    sink.amend(0, |diagnostic| {
        let uses = diagnostic.span().map(|span| sources.uses(span)).unwrap_or_default();
        for (depth, used) in uses.iter().enumerate().filter(|(i, _)| *i < SHOWN || i + 1 == uses.len()) {
            let text = if depth == 0 { "the module is used here" } else { "which is used here" };
            diagnostic.labels.push(Label { span: *used, text: text.to_owned(), primary: false });
        }
        if !uses.is_empty()
            && let Some(count @ 1..) = further.next()
        {
            let them = if count == 1 { "one further use gives" } else { "further uses give" };
            let count = if count == 1 { String::new() } else { format!("{count} ") };
            diagnostic.notes.push(format!("{count}{them} the same message"));
        }
        for label in &mut diagnostic.labels {
            label.span = sources.settled(label.span);
        }
        for fix in &mut diagnostic.fixes {
            fix.span = sources.settled(fix.span);
        }
    });
}

/// Takes the warnings that the project accepts; an acceptance that nothing needs is a warning itself.
fn accept(model: &Model, sink: &mut Sink) {
    for accept in &model.accepts {
        let known = codes().find(|code| code.slug == &*accept.slug);
        if known.is_some_and(|code| code.severity != Severity::Error) {
            continue;
        }
        let message = match known {
            Some(_) => format!("`{}` is an error, which cannot be silenced", accept.slug),
            None => format!("unknown warning `{}`", accept.slug),
        };
        let slugs = codes().filter(|code| code.severity != Severity::Error).map(|code| code.slug);
        let diagnostic = Diagnostic::new(&eval::codes::UNKNOWN_SLUG, message).at(accept.span, "");
        sink.push(match nearest(&accept.slug, slugs).filter(|_| known.is_none()) {
            Some(near) => diagnostic.fix(accept.span, near, format!("did you mean `{near}`?")),
            None => diagnostic.help("`scantling explain` lists all warnings by code and slug"),
        });
    }
    let within = |about: &str, path: &str| {
        path.is_empty() || about == path || about.strip_prefix(path).is_some_and(|rest| rest.starts_with('.'))
    };
    let mut needed = vec![false; model.accepts.len()];
    sink.retain(|diagnostic| {
        let fits =
            |accept: &Accept| diagnostic.code.slug == &*accept.slug && diagnostic.severity != Severity::Error;
        let taken =
            |about: &str| model.accepts.iter().any(|accept| fits(accept) && within(about, &accept.path));
        let all = match diagnostic.about.as_slice() {
            [] => taken(""),
            about => about.iter().all(|about| taken(about)),
        };
        for (accept, needed) in model.accepts.iter().zip(&mut needed) {
            let about = diagnostic.about.iter().any(|about| within(about, &accept.path));
            *needed |= fits(accept) && (about || accept.path.is_empty());
        }
        !all
    });
    if sink.has_errors() {
        return;
    }
    for (accept, _) in model.accepts.iter().zip(needed).filter(|(_, needed)| !needed) {
        let message = format!("nothing gives the warning `{}` here", accept.slug);
        sink.push(
            Diagnostic::new(&eval::codes::NEEDLESS, message)
                .at(accept.span, "")
                .help("delete the `accept`, so that it does not hide the next such warning"),
        );
    }
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
