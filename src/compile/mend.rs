//! Mends: a change of one literal is offered only where the project, worked out again with it, is better and nowhere worse.

use super::{Compilation, ReadError, analyse_text, build, read};
use crate::check::Message;
use crate::diag::{Diagnostic, Fix, Severity};
use crate::limits;
use crate::source::Files;
use camino::Utf8Path;
use std::collections::BTreeMap;

/// Proves the mends of the messages that are told, and adds those that hold, at most [`limits::MENDS`] to a message.
pub(super) fn prove(files: &dyn Files, compilation: &mut Compilation, messages: &[Message]) {
    for (index, proven) in proven(files, compilation, messages, |_| true) {
        if let Some(diagnostic) = compilation.diagnostics.get_mut(index) {
            diagnostic.fixes.extend(proven);
        }
    }
}

/// The mends that hold, of those that are wanted, by the place of their message.
///
/// Each proof works the whole project out again, so no more than [`limits::PROBES`] are made, and of a large project fewer:
/// as many as together have [`limits::PROBED_PARTS`].
fn proven(
    files: &dyn Files,
    compilation: &Compilation,
    messages: &[Message],
    wanted: impl Fn(&Fix) -> bool,
) -> Vec<(usize, Vec<Fix>)> {
    // Places may have moved from a use of a module to its text since.
    let known =
        |diagnostic: &Diagnostic| (diagnostic.code.id, diagnostic.message.clone(), diagnostic.about.clone());
    let told: BTreeMap<_, &Message> =
        messages.iter().rev().map(|message| (known(&message.diagnostic), message)).collect();
    let parts = compilation.graph.parts.len().max(1);
    let most = limits::PROBES.min(limits::PROBED_PARTS / parts);
    let (mut probes, mut all) = (0, Vec::new());
    for (index, diagnostic) in compilation.diagnostics.iter().enumerate() {
        let Some(message) = told.get(&known(diagnostic)) else { continue };
        let mut proven = Vec::new();
        for fix in message.mends.iter().filter(|fix| wanted(fix)) {
            if probes == most || proven.len() == limits::MENDS {
                break;
            }
            probes += 1;
            let fix = Fix { span: compilation.sources.settled(fix.span), ..fix.clone() };
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

/// Applies the safe changes of a project's messages, one after the other, each proven as a mend is.
///
/// # Errors
/// [`ReadError`] where the file cannot be read. Nothing is written.
pub fn mended(files: &dyn Files, entry: &Utf8Path) -> Result<Mended, ReadError> {
    let before = read(files, entry)?;
    let (mut after, mut titles) = (before.clone(), Vec::new());
    loop {
        let (mut compilation, messages) = build(files, analyse_text(files, entry, after.clone()))?;
        let told = compilation.diagnostics.iter().flat_map(|d| d.fixes.iter().map(move |fix| (d, fix)));
        let mut safe = told.filter(|(_, fix)| fix.safe);
        let offered = safe.find(|(diagnostic, fix)| better(files, &compilation, diagnostic, fix));
        let fix = match offered {
            Some((_, fix)) => Some(fix.clone()),
            None => {
                let proven = proven(files, &compilation, &messages, |fix| fix.safe);
                proven.into_iter().flat_map(|(_, fixes)| fixes).next()
            }
        };
        let change = fix.and_then(|fix| Some((fix.title.clone(), changed(&after, &fix)?)));
        match change.filter(|_| titles.len() < limits::DIAGNOSTICS) {
            Some((title, text)) => {
                titles.push(title);
                after = text;
            }
            None => {
                prove(files, &mut compilation, &messages);
                return Ok(Mended { before, after, titles, compilation });
            }
        }
    }
}

/// A text with a change made in it.
#[must_use]
fn changed(text: &str, fix: &Fix) -> Option<String> {
    let range = fix.span.range();
    let (before, after) = (text.get(..range.start)?, text.get(range.end..)?);
    Some(format!("{before}{}{after}", fix.text))
}

/// Whether a change takes the message away and brings no error or warning of the same phase or one before it; what later
/// phases say that could not look before is not the change's doing.
fn better(files: &dyn Files, compilation: &Compilation, diagnostic: &Diagnostic, fix: &Fix) -> bool {
    let Some(file) = compilation.sources.get(fix.span.file) else { return false };
    let (path, Some(text)) = (file.path(), changed(file.text(), fix)) else { return false };
    if path != compilation.entry {
        return false;
    }
    let Ok((tried, _)) = build(files, analyse_text(files, path, text)) else { return false };
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
