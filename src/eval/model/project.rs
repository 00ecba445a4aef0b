//! What the whole file is about.

use crate::quantity::{Marks, Paper, Rational};
use crate::source::Span;
use num_traits::CheckedMul;
use std::sync::Arc;

/// What the whole file is about.
#[derive(Clone, Debug)]
pub struct Project {
    /// Its title.
    pub title: Option<Arc<str>>,
    /// Its revision.
    pub revision: Option<Arc<str>>,
    /// The day of its revision, if that is stated.
    pub dated: Option<jiff::civil::Date>,
    /// The marks that sizes are printed to.
    pub marks: Marks,
    /// The paper that drawings are made for, if that is stated.
    pub paper: Option<Paper>,
    /// When the first coat may begin, if that is stated.
    pub start: Option<jiff::civil::DateTime>,
    /// When the working day begins and ends, in minutes after midnight.
    pub day: [i64; 2],
    /// When the house was built, if that is stated.
    pub year_built: Option<i64>,
    /// How many more of every shelf and every strip are cut.
    pub spares: usize,
    /// Whether shelves are held to the strict limit of what the eye sees.
    pub strict: bool,
    /// The currency of its prices.
    pub currency: Option<Arc<str>>,
    /// Where it is declared, or the beginning of the file; `None` where a caller of the library made it.
    pub head: Option<Span>,
}

impl Project {
    /// A working day that nobody states: from 8 to 20 h, in minutes after midnight.
    pub const DAY: [i64; 2] = [8 * 60, 20 * 60];

    /// A project of which only the marks are known.
    #[must_use]
    pub fn new(marks: Marks) -> Self {
        Self {
            title: None,
            revision: None,
            dated: None,
            marks,
            paper: None,
            start: None,
            day: Self::DAY,
            year_built: None,
            spares: 0,
            strict: false,
            currency: None,
            head: None,
        }
    }

    /// The project, its revision and the day of that, as every page says them.
    #[must_use]
    pub fn headed(&self) -> String {
        let title = self.title.as_deref().unwrap_or("Project without a title");
        let revision = match &self.revision {
            Some(revision) => format!("revision {revision}"),
            None => "no revision stated".to_owned(),
        };
        let dated = self.dated.map(|day| format!(", {day}")).unwrap_or_default();
        format!("{title}, {revision}{dated}")
    }

    /// The paper that drawings are made for: the stated one, else that of the system.
    #[must_use]
    pub fn paper(&self) -> Paper {
        self.paper.unwrap_or_else(|| self.marks.system().paper())
    }

    /// A sum of money: `408.00 USD`.
    #[must_use]
    pub fn money(&self, sum: Rational) -> String {
        let Some(hundredths) = hundredths(sum) else { return "out of range".to_owned() };
        let sign = if hundredths < 0 { "-" } else { "" };
        let hundredths = hundredths.unsigned_abs();
        let currency = self.currency.as_deref().map(|word| format!(" {word}")).unwrap_or_default();
        format!("{sign}{}.{:02}{currency}", hundredths / 100, hundredths % 100)
    }
}

/// A sum of money in whole hundredths, the nearest; `None` where it is out of range.
fn hundredths(sum: Rational) -> Option<i128> {
    sum.checked_mul(&Rational::from(100)).map(|sum| sum.round().to_integer())
}

/// What a row of a list costs: whole hundredths, as it is printed, so that rows add up to their sum.
#[must_use]
pub fn whole_cents(sum: Rational) -> Option<Rational> {
    Some(Rational::new(hundredths(sum)?, 100))
}
