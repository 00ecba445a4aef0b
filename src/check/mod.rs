//! Checks: one file each, in the order of the work. Each compares what is with what may be, and says so also where all
//! is well; a message is one view of a finding, a table of limits another.

mod casing;
mod dado_depth;
mod door_swing;
mod heater;
mod light;
mod opening_covered;
mod outlet;
mod place;
mod receptacles;
mod register;
mod route;
mod route_carry;
mod sheet_measured;
mod sheet_size;
mod trim;

use crate::diag::{Code, Diagnostic};
use crate::eval::{Len, Model};
use crate::parts::PartGraph;
use crate::quantity::{Length, Marks};

/// What a check looks at.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// What is decided.
    pub model: &'a Model,
    /// What follows from it.
    pub graph: &'a PartGraph,
}

impl Subject<'_> {
    fn marks(self) -> Marks {
        self.model.project.marks
    }

    /// Marks the places that state a length: the first is where the message belongs.
    fn at(self, diagnostic: Diagnostic, len: Len, text: &str) -> Diagnostic {
        let mut diagnostic = diagnostic;
        for span in self.graph.ledger.spans(len.why) {
            if diagnostic.labels.iter().any(|label| label.span == span) {
                continue;
            }
            let first = diagnostic.labels.is_empty();
            diagnostic = if first { diagnostic.at(span, text) } else { diagnostic.and_at(span, text) };
        }
        diagnostic
    }
}

/// What a check found about one thing.
#[derive(Clone, Debug)]
pub struct Finding {
    /// The check.
    pub code: &'static Code,
    /// What it looked at.
    pub subject: String,
    /// What was compared, in words.
    pub what: &'static str,
    /// The value.
    pub value: Length,
    /// The limit.
    pub limit: Length,
    /// Whether the limit is the most allowed; else it is the least.
    pub at_most: bool,
    /// The message, where the limit is not kept.
    pub diagnostic: Option<Diagnostic>,
}

impl Finding {
    /// How far the value is on the good side of the limit; negative where it is not.
    #[must_use]
    pub fn margin(&self) -> Length {
        let (high, low) = if self.at_most { (self.limit, self.value) } else { (self.value, self.limit) };
        high.checked_sub(low).unwrap_or_default()
    }
}

/// A check: its code, and what it does.
#[derive(Clone, Copy, Debug)]
pub struct Check {
    /// Its code, with the explanation and the examples.
    pub code: &'static Code,
    /// Looks at everything that the check is about.
    pub run: fn(Subject<'_>) -> Vec<Finding>,
}

/// All checks, in the order of the work.
pub static CHECKS: &[Check] = &[
    outlet::CHECK,
    register::CHECK,
    heater::CHECK,
    trim::CHECK,
    opening_covered::CHECK,
    casing::CHECK,
    door_swing::CHECK,
    receptacles::CHECK,
    route::CHECK,
    route_carry::CHECK,
    light::CHECK,
    sheet_measured::CHECK,
    dado_depth::CHECK,
    sheet_size::CHECK,
];

/// The findings of all checks.
#[must_use]
pub fn check(subject: Subject<'_>) -> Vec<Finding> {
    CHECKS.iter().flat_map(|check| (check.run)(subject)).collect()
}
