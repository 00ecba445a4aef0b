//! Where messages go: sorted, without doubles, capped.

use super::{Diagnostic, Severity};
use crate::limits;

/// Collects messages.
#[derive(Clone, Debug, Default)]
pub struct Sink {
    diagnostics: Vec<Diagnostic>,
}

impl Sink {
    /// Takes a message.
    pub fn push(&mut self, diagnostic: Diagnostic) {
        self.diagnostics.push(diagnostic);
    }

    /// The places that the messages so far are about.
    #[must_use]
    pub fn spans(&self) -> Vec<crate::source::Span> {
        self.diagnostics.iter().filter_map(Diagnostic::span).collect()
    }

    /// Keeps the messages for which `keep` says so.
    pub fn retain(&mut self, keep: impl FnMut(&Diagnostic) -> bool) {
        self.diagnostics.retain(keep);
    }

    /// How many messages were taken so far.
    #[must_use]
    pub fn taken(&self) -> usize {
        self.diagnostics.len()
    }

    /// Changes the messages taken after the first `from`.
    pub fn amend(&mut self, from: usize, change: impl FnMut(&mut Diagnostic)) {
        self.diagnostics.iter_mut().skip(from).for_each(change);
    }

    /// Whether an error was taken.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.diagnostics.iter().any(|d| d.severity == Severity::Error)
    }

    /// The messages in the order of the text, each once, at most [`limits::DIAGNOSTICS`] of them; and how many more
    /// there were.
    #[must_use]
    pub fn finish(mut self) -> (Vec<Diagnostic>, usize) {
        self.diagnostics.sort_by(|a, b| {
            let key = |d: &Diagnostic| (d.span(), d.severity, d.code.id);
            key(a).cmp(&key(b)).then_with(|| a.message.cmp(&b.message))
        });
        self.diagnostics.dedup();
        let more = self.diagnostics.len().saturating_sub(limits::DIAGNOSTICS);
        self.diagnostics.truncate(limits::DIAGNOSTICS);
        (self.diagnostics, more)
    }
}
