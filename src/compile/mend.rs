//! Mends: a change of one literal is offered only where the project, worked out again with it, is better and nowhere worse.

use super::{Built, Compilation, Halt, analyse, build};
use crate::cancel::{Cancel, Cancelled};
use crate::check::Message;
use crate::diag::{Diagnostic, Edit, Fix, Severity};
use crate::limits;
use crate::parts::PartGraph;
use crate::source::{Files, Overlay, Sources, read};
use camino::Utf8Path;
use std::collections::BTreeMap;

/// Proves the mends of the messages that are told, and adds those that hold, at most [`limits::MENDS`] to a message.
///
/// # Errors
/// [`Cancelled`] where somebody stopped the work; what was proven by then is there.
pub fn prove(files: &dyn Files, built: &mut Built, cancel: &Cancel) -> Result<(), Cancelled> {
    let Built { compilation, messages } = built;
    for (index, proven) in proven(files, compilation, messages, cancel, |_| true) {
        if let Some(diagnostic) = compilation.diagnostics.get_mut(index) {
            diagnostic.fixes.extend(proven);
        }
    }
    cancel.go_on()
}

/// How often a project may be worked out again: of a large one fewer times, so that together no more than
/// [`limits::PROBED_PARTS`] are made.
pub(super) fn probes(graph: &PartGraph) -> usize {
    limits::PROBES.min(limits::PROBED_PARTS / graph.parts.len().max(1))
}

/// A message that doubts a value, with what was likely meant as mends.
pub(super) fn of_doubt(diagnostic: &Diagnostic) -> Message {
    let mends = diagnostic.instead.iter().filter_map(|instead| {
        let meant = instead.meant.as_ref()?;
        Some(Fix { title: format!("write {meant}"), edits: instead.edits.clone(), safe: false })
    });
    Message { diagnostic: diagnostic.clone(), mends: mends.collect() }
}

/// The mends that hold, of those that are wanted, by the place of their message.
///
/// Each proof works the whole project out again, so only [`probes`] are made.
fn proven(
    files: &dyn Files,
    compilation: &Compilation,
    messages: &[Message],
    cancel: &Cancel,
    wanted: impl Fn(&Fix) -> bool,
) -> Vec<(usize, Vec<Fix>)> {
    // Places may have moved from a use of a module to its text since.
    let known =
        |diagnostic: &Diagnostic| (diagnostic.code.id, diagnostic.message.clone(), diagnostic.about.clone());
    let told: BTreeMap<_, &Message> =
        messages.iter().rev().map(|message| (known(&message.diagnostic), message)).collect();
    let most = probes(&compilation.graph);
    let (mut probes, mut all) = (0, Vec::new());
    for (index, diagnostic) in compilation.diagnostics.iter().enumerate() {
        let Some(message) = told.get(&known(diagnostic)) else { continue };
        let mut proven = Vec::new();
        for fix in message.mends.iter().filter(|fix| wanted(fix)) {
            if cancel.go_on().is_err() || probes == most || proven.len() == limits::MENDS {
                break;
            }
            probes += 1;
            let settled = |edit: &Edit| Edit { span: compilation.sources.settled(edit.span), ..edit.clone() };
            let fix = Fix { edits: fix.edits.iter().map(settled).collect(), ..fix.clone() };
            if better(files, compilation, diagnostic, &fix) {
                proven.push(fix);
            }
        }
        all.push((index, proven));
    }
    all
}

/// What came of mending a text by its safe changes.
#[derive(Clone, Debug)]
pub struct Mended {
    /// The text as it was.
    pub before: String,
    /// The text with the changes.
    pub after: String,
    /// What was changed, in order.
    pub titles: Vec<String>,
    /// What comes of the new text.
    pub compilation: Compilation,
}

/// Applies the safe changes of a project's messages to its main file, one after the other, each proven as a mend is.
/// Files that others may use too stay as they are.
///
/// # Errors
/// [`Halt`] where the file cannot be read. Nothing is written.
pub fn mended(files: &dyn Files, entry: &Utf8Path) -> Result<Mended, Halt> {
    let before = read(files, entry)?;
    let (mut after, mut titles) = (before.clone(), Vec::new());
    let cancel = Cancel::default();
    loop {
        let mut tried = Overlay::new(files);
        tried.put(entry, after.clone());
        let mut built = build(&tried, analyse(&tried, entry)?, &cancel)?;
        let Built { compilation, messages } = &built;
        let main = |edit: &Edit| {
            compilation.sources.get(edit.span.file).is_some_and(|file| file.path() == compilation.entry)
        };
        let safe = |fix: &Fix| fix.safe && fix.edits.iter().all(main);
        let mut told = compilation.diagnostics.iter().flat_map(|d| d.fixes.iter().map(move |fix| (d, fix)));
        let offered = told.find(|(told, fix)| safe(fix) && better(&tried, compilation, told, fix));
        let fix = match offered {
            Some((_, fix)) => Some(fix.clone()),
            None => {
                let proven = proven(&tried, compilation, messages, &cancel, safe);
                proven.into_iter().flat_map(|(_, fixes)| fixes).next()
            }
        };
        let change = fix.and_then(|fix| Some((fix.title.clone(), changed(&compilation.sources, &fix)?)));
        match change.filter(|_| titles.len() < limits::DIAGNOSTICS) {
            Some((title, texts)) => {
                titles.push(title);
                after = texts.into_values().next().unwrap_or(after);
            }
            None => {
                prove(&tried, &mut built, &cancel)?;
                return Ok(Mended { before, after, titles, compilation: built.compilation });
            }
        }
    }
}

/// The texts of the files that a change is in, with the change; `None` where one of its places is not there.
#[must_use]
fn changed<'a>(sources: &'a Sources, fix: &Fix) -> Option<BTreeMap<&'a Utf8Path, String>> {
    let mut texts: BTreeMap<&Utf8Path, String> = BTreeMap::new();
    let mut edits: Vec<&Edit> = fix.edits.iter().collect();
    // From the last place of a file to the first, so that those before keep theirs.
    edits.sort_by_key(|edit| std::cmp::Reverse(edit.span));
    for edit in edits {
        let file = sources.get(edit.span.file)?;
        let text = texts.entry(file.path()).or_insert_with(|| file.text().to_owned());
        let range = edit.span.range();
        let (before, after) = (text.get(..range.start)?, text.get(range.end..)?);
        *text = format!("{before}{}{after}", edit.text);
    }
    Some(texts)
}

/// Whether a change takes the message away and brings no error or warning of the same phase or one before it; what later
/// phases say that could not look before is not the change's doing.
fn better(files: &dyn Files, compilation: &Compilation, diagnostic: &Diagnostic, fix: &Fix) -> bool {
    let Some(texts) = changed(&compilation.sources, fix) else { return false };
    let mut overlay = Overlay::new(files);
    for (path, text) in texts {
        // What is built in cannot be changed.
        if files.real(path).is_err() {
            return false;
        }
        overlay.put(path, text);
    }
    let Ok(analysis) = analyse(&overlay, &compilation.entry) else { return false };
    let Ok(Built { compilation: tried, .. }) = build(&overlay, analysis, &Cancel::default()) else {
        return false;
    };
    let (before, after) = (counts(&compilation.diagnostics), counts(&tried.diagnostics));
    let of = |counts: &BTreeMap<&str, usize>, id: &str| counts.get(id).copied().unwrap_or(0);
    let id = diagnostic.code.id;
    let here = |all: &[Diagnostic]| all.iter().filter(|other| other.code.id == id).count();
    here(&tried.diagnostics) < here(&compilation.diagnostics)
        && after.keys().filter(|other| phase(other) <= phase(id)).all(|id| of(&after, id) <= of(&before, id))
}

/// The place of a code's phase among the phases.
fn phase(id: &str) -> Option<usize> {
    "SNVLDC".find(id.get(..1)?)
}

/// How many errors and warnings there are of each code.
fn counts(diagnostics: &[Diagnostic]) -> BTreeMap<&'static str, usize> {
    let mut counts = BTreeMap::new();
    for diagnostic in diagnostics.iter().filter(|diagnostic| diagnostic.severity != Severity::Note) {
        *counts.entry(diagnostic.code.id).or_insert(0) += 1;
    }
    counts
}
