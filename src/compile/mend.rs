//! Mends: a change of one literal is offered only where the project, worked out again with it, is better and nowhere worse.

use super::{Compilation, ReadError, derive, read};
use crate::check::Message;
use crate::diag::{Diagnostic, Fix, Severity};
use crate::limits;
use crate::source::Files;
use camino::Utf8Path;
use std::collections::BTreeMap;

/// Proves the mends of the messages that are told, and adds those that hold, at most [`limits::MENDS`] to a message.
///
/// Each proof works the whole project out again, so no more than [`limits::PROBES`] are made.
pub(super) fn prove(files: &dyn Files, compilation: &mut Compilation, messages: &[Message]) {
    let mut probes = 0;
    for index in 0..compilation.diagnostics.len() {
        let Some(diagnostic) = compilation.diagnostics.get(index) else { return };
        // Places may have moved from a use of a module to its text since.
        let same = |message: &&Message| {
            let Diagnostic { code, message, about, .. } = &message.diagnostic;
            code.id == diagnostic.code.id && *message == diagnostic.message && *about == diagnostic.about
        };
        let Some(message) = messages.iter().find(same) else { continue };
        let mut proven = Vec::new();
        for fix in &message.mends {
            if probes == limits::PROBES || proven.len() == limits::MENDS {
                break;
            }
            probes += 1;
            let fix = Fix { span: compilation.sources.settled(fix.span), ..fix.clone() };
            if better(files, compilation, diagnostic, &fix) {
                proven.push(fix);
            }
        }
        if let Some(diagnostic) = compilation.diagnostics.get_mut(index) {
            diagnostic.fixes.extend(proven);
        }
    }
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
        let (mut compilation, messages) = derive(files, entry, after.clone())?;
        prove(files, &mut compilation, &messages);
        let all = || compilation.diagnostics.iter().flat_map(|d| d.fixes.iter().map(move |fix| (d, fix)));
        let safe = all().find(|(diagnostic, fix)| fix.safe && better(files, &compilation, diagnostic, fix));
        let change = safe.and_then(|(_, fix)| Some((fix.title.clone(), changed(&after, fix)?)));
        match change.filter(|_| titles.len() < limits::DIAGNOSTICS) {
            Some((title, text)) => {
                titles.push(title);
                after = text;
            }
            None => return Ok(Mended { before, after, titles, compilation }),
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
    let Ok((tried, _)) = derive(files, path, text) else { return false };
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
