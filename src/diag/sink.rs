//! Where messages go: sorted, without doubles; all are kept, and so many of them are shown.

use super::{Diagnostic, Severity};
use crate::limits;
use std::borrow::Cow;

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

    /// Puts other messages in the place of those so far.
    pub fn replace(&mut self, diagnostics: Vec<Diagnostic>) {
        self.diagnostics = diagnostics;
    }

    /// Keeps the messages for which `keep` says so.
    pub fn retain(&mut self, keep: impl FnMut(&Diagnostic) -> bool) {
        self.diagnostics.retain(keep);
    }

    /// The messages so far.
    #[must_use]
    pub fn all(&self) -> &[Diagnostic] {
        &self.diagnostics
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

    /// The messages in the order of the text, each once.
    #[must_use]
    pub fn finish(mut self) -> Vec<Diagnostic> {
        self.diagnostics.sort_by(|a, b| {
            let key = |d: &Diagnostic| (d.span(), d.severity, d.code.id);
            key(a).cmp(&key(b)).then_with(|| a.message.cmp(&b.message))
        });
        self.diagnostics.dedup();
        self.diagnostics
    }
}

/// What is shown of messages, at most [`limits::DIAGNOSTICS`] of them, and how many are left out. Errors are kept before
/// warnings and those before notes; what is kept stands in the order in which it came.
#[must_use]
pub fn shown(all: &[Diagnostic]) -> (Cow<'_, [Diagnostic]>, usize) {
    let left_out = all.len().saturating_sub(limits::DIAGNOSTICS);
    if left_out == 0 {
        return (Cow::Borrowed(all), 0);
    }
    let mut kept: Vec<(usize, &Diagnostic)> = all.iter().enumerate().collect();
    kept.sort_by_key(|(_, diagnostic)| diagnostic.severity);
    kept.truncate(limits::DIAGNOSTICS);
    kept.sort_by_key(|(place, _)| *place);
    (kept.into_iter().map(|(_, diagnostic)| diagnostic.clone()).collect(), left_out)
}
