//! Why a number changed: both chains of reasons are walked together, down to what the text states otherwise now.

use super::Side;
use super::stated::{Stands, Texts};
use crate::eval::{Entry, Len, Step, Why, show};
use crate::quantity::{Exact, Length, Marks, System, rounded};
use crate::source::Span;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// Something stated that is another now.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Cause {
    /// What it is called: `sheet thickness`.
    pub name: String,
    /// Its old value, printed without rounding.
    pub was: String,
    /// Its new value.
    pub is: String,
    /// `path:line` where the old value was stated; `None` where it was the usual one.
    pub was_in: Option<String>,
    /// `path:line` where the new value is stated.
    pub is_in: Option<String>,
}

/// What a pair of numbers differs by: causes by number; `None` among them where no number of the text is another, so that the
/// numbers have other operands: parts come or go, or another statement holds.
type Set = Rc<BTreeSet<Option<usize>>>;

/// What two numbers differ by.
enum Differs {
    /// They are equal.
    Not,
    /// By these operands; by what is stated, where there are none.
    By(Vec<(Why, Why)>),
    /// Parts come or go.
    Otherwise,
}

/// Walks the reasons of two projects.
#[derive(Debug)]
pub(super) struct Causes<'a> {
    old: Side<'a>,
    new: Side<'a>,
    texts: Texts<'a>,
    marks: Marks,
    known: BTreeMap<(Why, Why), Set>,
    numbers: BTreeMap<Cause, usize>,
    found: Vec<Cause>,
}

impl<'a> Causes<'a> {
    pub fn new(old: Side<'a>, new: Side<'a>, texts: Texts<'a>, marks: Marks) -> Self {
        Self { old, new, texts, marks, known: BTreeMap::new(), numbers: BTreeMap::new(), found: Vec::new() }
    }

    /// The cause of this number in a set.
    pub fn get(&self, number: usize) -> Option<&Cause> {
        self.found.get(number)
    }

    /// What makes two lengths differ.
    ///
    /// A number is entered after what it is made from, so the walk goes down and ends; it keeps its own stack, since a
    /// chain of names may be long.
    pub fn of(&mut self, old: Len, new: Len) -> Set {
        let mut open = vec![(old.why, new.why)];
        while let Some(pair) = open.last().copied() {
            if self.known.contains_key(&pair) {
                open.pop();
                continue;
            }
            let differs = self.compare(pair.0, pair.1);
            if let Differs::By(pairs) = &differs {
                let before = open.len();
                open.extend(pairs.iter().filter(|pair| !self.known.contains_key(pair)));
                if open.len() > before {
                    continue;
                }
            }
            let set = self.settled(pair, differs);
            self.known.insert(pair, Rc::new(set));
            open.pop();
        }
        self.known.get(&(old.why, new.why)).map(Rc::clone).unwrap_or_default()
    }

    /// The causes of a pair, once those of its operands are known.
    fn settled(&mut self, (old, new): (Why, Why), differs: Differs) -> BTreeSet<Option<usize>> {
        let mut set = BTreeSet::new();
        match differs {
            Differs::Not => return set,
            Differs::Otherwise => return BTreeSet::from([None]),
            Differs::By(pairs) => {
                set.extend(
                    pairs.iter().filter_map(|pair| self.known.get(pair)).flat_map(|set| set.iter().copied()),
                );
            }
        }
        let entries = (self.old.graph.ledger.entry(old), self.new.graph.ledger.entry(new));
        if let (true, (Some(was), Some(is))) = (set.is_empty(), entries) {
            let stated = |step: &Step| {
                matches!(step, Step::Stated(_) | Step::Computed(..) | Step::Usual(_) | Step::Given)
            };
            let named = stated(&was.step) || stated(&is.step);
            set.insert(if named { self.cause(was, is) } else { None });
        }
        set
    }

    fn compare(&self, old: Why, new: Why) -> Differs {
        let (old_ledger, new_ledger) = (&self.old.graph.ledger, &self.new.graph.ledger);
        let (Some(was), Some(is)) = (old_ledger.entry(old), new_ledger.entry(new)) else {
            return Differs::Otherwise;
        };
        if was.value == is.value {
            return Differs::Not;
        }
        Differs::By(match (&was.step, &is.step) {
            (Step::Sum(a), Step::Sum(b)) => {
                let alike = a.len() == b.len()
                    && a.iter().zip(b).all(|((m, a), (n, b))| m == n && self.alike(*a, *b));
                if !alike {
                    return Differs::Otherwise;
                }
                a.iter().zip(b).map(|((_, a), (_, b))| (*a, *b)).collect()
            }
            (Step::Computed(_, a), Step::Computed(_, b))
                if a.iter().map(|(n, _)| n).eq(b.iter().map(|(n, _)| n)) =>
            {
                a.iter().zip(b).map(|((_, a), (_, b))| (*a, *b)).collect()
            }
            (Step::Scaled(a), Step::Scaled(b)) => a.iter().copied().zip(b.iter().copied()).collect(),
            (Step::Share(a, by), Step::Share(b, other)) if by == other => vec![(*a, *b)],
            (Step::Rounded(a, step, _), Step::Rounded(b, other, _)) if step == other => vec![(*a, *b)],
            (Step::Least(a), Step::Least(b)) | (Step::Greatest(a), Step::Greatest(b))
                if a.len() == b.len() =>
            {
                // Only the operands that decide, before or now, can be a cause.
                let decides = |a: Why, b: Why| {
                    old_ledger.entry(a).is_some_and(|a| a.value == was.value)
                        || new_ledger.entry(b).is_some_and(|b| b.value == is.value)
                };
                a.iter().zip(b).filter(|(a, b)| decides(**a, **b)).map(|(a, b)| (*a, *b)).collect()
            }
            _ => Vec::new(),
        })
    }

    /// Whether two operands are the same thing in both projects.
    fn alike(&self, old: Why, new: Why) -> bool {
        let label = |entry: Option<&'a Entry>| entry.map(|entry| entry.label.text());
        label(self.old.graph.ledger.entry(old)) == label(self.new.graph.ledger.entry(new))
    }

    /// A value as it is stated: an inch that no tape has as a decimal.
    fn show(&self, value: Exact) -> String {
        let inches = value.length().filter(|_| self.marks.system() == System::Inch).and_then(Length::inches);
        match inches.filter(|inches| *inches.denom() > 128 || inches.denom().count_ones() != 1) {
            Some(inches) => format!("{}\"", rounded(inches, 4)),
            None => show(value, self.marks),
        }
    }

    /// The number of a cause; `None` where the text says the same as before there.
    fn cause(&mut self, was: &Entry, is: &Entry) -> Option<usize> {
        let span = |entry: &Entry| match entry.step {
            Step::Stated(span) | Step::Computed(span, _) => Some(span),
            _ => None,
        };
        let (before, now) = (span(was), span(is));
        let places = match self.texts.compare(before, now) {
            Stands::Otherwise => (before, now),
            Stands::InOtherStock => (None, None),
            Stands::Apart => return None,
        };
        let place = |side: Side<'_>, span: Option<Span>| span.map(|span| side.sources.place(span));
        let cause = Cause {
            name: is.label.text().to_owned(),
            was: self.show(was.value),
            is: self.show(is.value),
            was_in: place(self.old, places.0),
            is_in: place(self.new, places.1),
        };
        if let Some(number) = self.numbers.get(&cause) {
            return Some(*number);
        }
        let number = self.found.len();
        self.numbers.insert(cause.clone(), number);
        self.found.push(cause);
        Some(number)
    }
}
