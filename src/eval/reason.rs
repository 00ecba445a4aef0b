//! Reasons as people read them: the chain from a number down to what is stated, made when someone asks.

use super::ledger::{Entry, Ledger, Step, Why};
use crate::quantity::{Dim, Exact, Marks, Rational, Round, rounded};
use crate::source::Sources;
use num_traits::{One, Signed};
use serde::Serialize;
use std::collections::{BTreeSet, VecDeque};
use std::fmt;

/// The chain of a number.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Reason {
    /// The steps: the number first, then what it was made from, down to what is stated; each number once.
    pub steps: Vec<ReasonStep>,
}

/// One step of a chain.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ReasonStep {
    /// What the number is.
    pub name: String,
    /// The number, printed without rounding.
    pub value: String,
    /// How it came about: a formula with names and values, or who stated it.
    pub how: String,
    /// The rule behind the step; may be empty.
    pub rule: &'static str,
    /// `path:line` where it is stated or computed in the text.
    pub place: Option<String>,
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for step in &self.steps {
            writeln!(f, "{} {} {}", step.name, step.value, step.how)?;
            if !step.rule.is_empty() {
                writeln!(f, "    {}", step.rule)?;
            }
        }
        Ok(())
    }
}

impl Ledger {
    /// The chain of a number.
    #[must_use]
    pub fn reason(&self, why: Why, sources: &Sources, marks: Marks) -> Reason {
        let (mut steps, mut seen) = (Vec::new(), BTreeSet::new());
        let mut open = VecDeque::from([why]);
        while let Some(why) = open.pop_front() {
            if !seen.insert(why) {
                continue;
            }
            let Some(entry) = self.entry(why) else { continue };
            steps.push(ReasonStep {
                name: entry.label.text().to_owned(),
                value: show(entry.value, marks),
                how: self.how(entry, sources, marks),
                rule: entry.rule,
                place: self.span(why).map(|span| sources.place(span)),
            });
            match &entry.step {
                Step::Sum(terms) => open.extend(terms.iter().map(|(_, why)| *why)),
                Step::Computed(_, operands) => open.extend(operands.iter().map(|(_, why)| *why)),
                Step::Share(of, _) | Step::Rounded(of, _, _) => open.push_back(*of),
                Step::Least(of) | Step::Greatest(of) => open.extend(of),
                Step::Scaled(of) => open.extend(of),
                Step::Stated(_) | Step::Usual(_) | Step::Given => {}
            }
        }
        Reason { steps }
    }

    fn how(&self, entry: &Entry, sources: &Sources, marks: Marks) -> String {
        match &entry.step {
            Step::Stated(span) => format!("is stated in {}", sources.place(*span)),
            Step::Computed(span, operands) => {
                let text = sources.text(*span);
                let values = operands.iter().filter_map(|(name, why)| {
                    self.entry(*why).map(|operand| format!("{name} {}", show(operand.value, marks)))
                });
                let values: Vec<String> = values.collect();
                let with =
                    if values.is_empty() { String::new() } else { format!(" with {}", values.join(", ")) };
                format!("= {text}{with}, in {}", sources.place(*span))
            }
            Step::Usual(source) => format!("is not stated; the usual value ({source})"),
            Step::Given => "is given".to_owned(),
            Step::Sum(terms) => format!("= {}", self.formula(terms, marks)),
            Step::Least(of) => format!("is the least of {}", self.listed(of, marks)),
            Step::Greatest(of) => format!("is the greatest of {}", self.listed(of, marks)),
            Step::Scaled([of, by, over]) => {
                let [of, by, over] = [of, by, over].map(|why| self.named(*why, marks));
                format!("= {of} x {by} / {over}")
            }
            Step::Share(of, by) => format!("= {} / {by}", self.named(*of, marks)),
            Step::Rounded(of, step, round) => {
                let way = match round {
                    Round::Nearest => "to the nearest",
                    Round::Down => "down to a whole",
                    Round::Up => "up to a whole",
                };
                format!("= {} {way} {}", self.named(*of, marks), marks.print_fine(*step))
            }
        }
    }

    fn formula(&self, terms: &[(Rational, Why)], marks: Marks) -> String {
        let mut text = String::new();
        for (times, why) in terms {
            let sign = match (text.is_empty(), times.is_negative()) {
                (true, false) => "",
                (true, true) => "-",
                (false, false) => " + ",
                (false, true) => " - ",
            };
            text.push_str(sign);
            let times = times.abs();
            if !times.is_one() {
                text.push_str(&format!("{times} x "));
            }
            text.push_str(&self.named(*why, marks));
        }
        text
    }

    fn listed(&self, of: &[Why], marks: Marks) -> String {
        of.iter().map(|why| self.named(*why, marks)).collect::<Vec<_>>().join(", ")
    }

    fn named(&self, why: Why, marks: Marks) -> String {
        match self.entry(why) {
            Some(entry) => format!("{} {}", entry.label.text(), show(entry.value, marks)),
            None => String::new(),
        }
    }
}

/// A value as a reason shows it: without rounding.
#[must_use]
pub fn show(value: Exact, marks: Marks) -> String {
    match value.length() {
        Some(length) => marks.print_fine(length).to_string(),
        None if value.dim == Dim::NONE => rounded(value.value, 6),
        None => format!("{} ({})", rounded(value.value, 6), value.dim),
    }
}
