//! The ledger: every number with the step that gave it.
//!
//! A derived size is computed by the ledger from its terms, so that the reason can never differ from the number. An
//! entry keeps its operands, not a text; the sentence is made when someone asks.

use crate::quantity::{Dim, Exact, Length, Rational, Round};
use crate::source::Span;
use num_traits::{CheckedAdd, CheckedMul};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The reason of a number: its entry in the ledger.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Why(u32);

/// A length and its reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Len {
    /// The exact length.
    pub value: Length,
    /// Where it comes from.
    pub why: Why,
}

/// What a number is called in a reason.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Label {
    /// A word of the trade.
    Word(&'static str),
    /// A name of the user's.
    Name(Arc<str>),
}

impl Label {
    /// The text.
    #[must_use]
    pub fn text(&self) -> &str {
        match self {
            Self::Word(word) => word,
            Self::Name(name) => name,
        }
    }
}

impl From<&'static str> for Label {
    fn from(word: &'static str) -> Self {
        Self::Word(word)
    }
}

impl From<Arc<str>> for Label {
    fn from(name: Arc<str>) -> Self {
        Self::Name(name)
    }
}

/// One step of a chain.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// It stands in the text.
    Stated(Span),
    /// It was worked out from an expression in the text; the named numbers it used.
    Computed(Span, Vec<(Arc<str>, Why)>),
    /// Nobody stated it; the usual value, with its source.
    Usual(&'static str),
    /// A caller of the library gave it.
    Given,
    /// So many times each operand, added up.
    Sum(Vec<(Rational, Why)>),
    /// A whole divided into so many shares.
    Share(Why, Rational),
    /// The first in the measure of the second to the third: what rises or falls with a slope.
    Scaled([Why; 3]),
    /// A number rounded to a step.
    Rounded(Why, Length, Round),
    /// The least of several.
    Least(Vec<Why>),
    /// The greatest of several.
    Greatest(Vec<Why>),
}

/// An entry of the ledger.
#[derive(Clone, Debug)]
pub struct Entry {
    /// What the number is.
    pub label: Label,
    /// The number.
    pub value: Exact,
    /// How it came about.
    pub step: Step,
    /// The rule behind the step, in a sentence; may be empty.
    pub rule: &'static str,
}

/// All numbers of a project with their reasons.
#[derive(Clone, Debug, Default)]
pub struct Ledger {
    entries: Vec<Entry>,
    overflow: Option<Why>,
}

impl Ledger {
    /// The entry of a reason.
    #[must_use]
    pub fn entry(&self, why: Why) -> Option<&Entry> {
        self.entries.get(why.0 as usize)
    }

    /// The first number that could not be held exactly, if there is one; it and what follows from it stand at zero.
    #[must_use]
    pub fn overflow(&self) -> Option<Why> {
        self.overflow
    }

    /// The literal that states a number, and whether it is stated as such: a name alone leads on to the number that it stands
    /// for. `None` where it is worked out, or nobody states it.
    #[must_use]
    pub fn literal(&self, why: Why) -> Option<(Span, bool)> {
        let (mut at, mut direct) = (why, true);
        loop {
            let entry = self.entry(at)?;
            match &entry.step {
                Step::Stated(span) => return Some((*span, direct)),
                Step::Computed(_, used) => match used.as_slice() {
                    [(_, of)] if self.entry(*of)?.value == entry.value => (at, direct) = (*of, false),
                    _ => return None,
                },
                Step::Usual(_)
                | Step::Given
                | Step::Sum(_)
                | Step::Share(..)
                | Step::Scaled(_)
                | Step::Rounded(..)
                | Step::Least(_)
                | Step::Greatest(_) => return None,
            }
        }
    }

    /// The place in the text that a number comes from, if it is stated or computed there.
    #[must_use]
    pub fn span(&self, why: Why) -> Option<Span> {
        match self.entry(why)?.step {
            Step::Stated(span) | Step::Computed(span, _) => Some(span),
            _ => None,
        }
    }

    /// All places in the text that a number depends on, each once, in the order of the text.
    #[must_use]
    pub fn spans(&self, why: Why) -> Vec<Span> {
        let (mut open, mut seen, mut spans) = (vec![why], std::collections::BTreeSet::new(), Vec::new());
        while let Some(why) = open.pop() {
            if !seen.insert(why) {
                continue;
            }
            spans.extend(self.span(why));
            match self.entry(why).map(|entry| &entry.step) {
                Some(Step::Sum(terms)) => open.extend(terms.iter().map(|(_, why)| *why)),
                Some(Step::Computed(_, operands)) => open.extend(operands.iter().map(|(_, why)| *why)),
                Some(Step::Share(of, _) | Step::Rounded(of, _, _)) => open.push(*of),
                Some(Step::Least(of) | Step::Greatest(of)) => open.extend(of),
                Some(Step::Scaled(of)) => open.extend(of),
                _ => {}
            }
        }
        spans.sort_unstable();
        spans.dedup();
        spans
    }

    /// Enters a number.
    pub fn enter(&mut self, label: impl Into<Label>, value: Exact, step: Step, rule: &'static str) -> Why {
        let why = Why(u32::try_from(self.entries.len()).unwrap_or(u32::MAX));
        self.entries.push(Entry { label: label.into(), value, step, rule });
        why
    }

    /// A length that a caller of the library gives.
    pub fn given(&mut self, label: &'static str, value: Length) -> Len {
        self.length(label, value, Step::Given, "")
    }

    /// A length that nobody stated: the usual value, with its source.
    pub fn usual(&mut self, label: &'static str, value: Length, source: &'static str) -> Len {
        self.length(label, value, Step::Usual(source), "")
    }

    /// `times` each operand, added up; an operand that comes more than once is one term of the reason.
    pub fn sum(&mut self, label: impl Into<Label>, terms: &[(i128, Len)], rule: &'static str) -> Len {
        let mut total = Some(Length::ZERO);
        for (times, term) in terms {
            let part = term.value.checked_mul(Rational::from(*times));
            total = total.zip(part).and_then(|(total, part)| total.checked_add(part));
        }
        let mut merged: Vec<(Rational, Why)> = Vec::new();
        let mut places: BTreeMap<Why, usize> = BTreeMap::new();
        for (times, term) in terms {
            let times = Rational::from(*times);
            match places.get(&term.why).and_then(|place| merged.get_mut(*place)) {
                Some((before, _)) => *before = before.checked_add(&times).unwrap_or(times),
                None => {
                    places.insert(term.why, merged.len());
                    merged.push((times, term.why));
                }
            }
        }
        self.checked(label, total, Step::Sum(merged), rule)
    }

    /// `times` of `share`, plus `plus`: a member of a list with `rest`.
    pub fn share(
        &mut self,
        label: &'static str,
        share: Len,
        times: Rational,
        plus: Option<Len>,
        rule: &'static str,
    ) -> Len {
        let part = share.value.checked_mul(times);
        let total = part.and_then(|part| part.checked_add(plus.map_or(Length::ZERO, |plus| plus.value)));
        let mut terms = vec![(times, share.why)];
        terms.extend(plus.map(|plus| (Rational::from(1), plus.why)));
        self.checked(label, total, Step::Sum(terms), rule)
    }

    /// `whole` divided by `by`.
    pub fn divide(&mut self, label: impl Into<Label>, whole: Len, by: Rational, rule: &'static str) -> Len {
        self.checked(label, whole.value.checked_div(by), Step::Share(whole.why, by), rule)
    }

    /// `of` in the measure of `by` to `over`.
    pub fn scaled(&mut self, label: &'static str, of: Len, [by, over]: [Len; 2], rule: &'static str) -> Len {
        let value = by.value.ratio(over.value).and_then(|ratio| of.value.checked_mul(ratio));
        self.checked(label, value, Step::Scaled([of.why, by.why, over.why]), rule)
    }

    /// `of` rounded to a step.
    pub fn rounded(
        &mut self,
        label: impl Into<Label>,
        of: Len,
        to: Length,
        round: Round,
        rule: &'static str,
    ) -> Len {
        self.checked(label, of.value.rounded_to(to, round), Step::Rounded(of.why, to, round), rule)
    }

    /// `weight` times each operand, added up: what lies between readings.
    pub fn weighted(
        &mut self,
        label: impl Into<Label>,
        terms: &[(Rational, Len)],
        rule: &'static str,
    ) -> Len {
        let total = terms.iter().try_fold(Length::ZERO, |total, (weight, term)| {
            total.checked_add(term.value.checked_mul(*weight)?)
        });
        let terms = terms.iter().map(|(weight, term)| (*weight, term.why)).collect();
        self.checked(label, total, Step::Sum(terms), rule)
    }

    /// The least of several; `None` of none.
    pub fn least(&mut self, label: impl Into<Label>, of: &[Len], rule: &'static str) -> Option<Len> {
        let value = of.iter().map(|len| len.value).min()?;
        Some(self.length(label, value, Step::Least(of.iter().map(|len| len.why).collect()), rule))
    }

    /// The greatest of several; `None` of none.
    pub fn greatest(&mut self, label: impl Into<Label>, of: &[Len], rule: &'static str) -> Option<Len> {
        let value = of.iter().map(|len| len.value).max()?;
        Some(self.length(label, value, Step::Greatest(of.iter().map(|len| len.why).collect()), rule))
    }

    fn length(&mut self, label: impl Into<Label>, value: Length, step: Step, rule: &'static str) -> Len {
        Len { value, why: self.enter(label, value.into(), step, rule) }
    }

    fn checked(
        &mut self,
        label: impl Into<Label>,
        value: Option<Length>,
        step: Step,
        rule: &'static str,
    ) -> Len {
        let len = self.length(label, value.unwrap_or(Length::ZERO), step, rule);
        if value.is_none() && self.overflow.is_none() {
            self.overflow = Some(len.why);
        }
        len
    }
}

/// A number that grows with `rest`: `times * rest + plus`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Linear {
    /// How many times `rest`.
    pub times: Rational,
    /// What is added.
    pub plus: Exact,
}

impl Linear {
    /// A number without `rest` in it.
    #[must_use]
    pub fn fixed(plus: Exact) -> Self {
        Self { times: Rational::from(0), plus }
    }

    /// `rest` itself.
    #[must_use]
    pub fn rest() -> Self {
        Self { times: Rational::from(1), plus: Exact { value: Rational::from(0), dim: Dim::LENGTH } }
    }

    /// The sum of two, or the difference where `sign` is -1; `None` where dimensions differ or on overflow.
    #[must_use]
    pub fn add(self, other: Self, sign: i128) -> Option<Self> {
        let sign = Rational::from(sign);
        let times = self.times.checked_add(&other.times.checked_mul(&sign)?)?;
        let plus = self.plus.checked_add(other.plus.checked_mul(Exact::number(sign))?)?;
        Some(Self { times, plus })
    }

    /// So many times this one; `None` on overflow.
    #[must_use]
    pub fn scale(self, by: Rational) -> Option<Self> {
        Some(Self { times: self.times.checked_mul(&by)?, plus: self.plus.checked_mul(Exact::number(by))? })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inch(n: i128, d: i128) -> Length {
        Length::from_inches(Rational::new(n, d)).unwrap()
    }

    #[test]
    fn a_sum_is_computed_from_the_terms_it_names() {
        let mut ledger = Ledger::default();
        let clear = ledger.given("clear width", inch(493, 16));
        let depth = ledger.given("dado depth", inch(1, 4));
        let length = ledger.sum("length", &[(1, clear), (2, depth)], "");
        // 30 13/16 + 2 x 1/4 = 31 5/16.
        assert_eq!(length.value, inch(501, 16));
        let entry = ledger.entry(length.why).unwrap();
        assert_eq!(
            entry.step,
            Step::Sum(vec![(Rational::from(1), clear.why), (Rational::from(2), depth.why)])
        );
    }

    #[test]
    fn overflow_is_remembered_and_nothing_panics() {
        let mut ledger = Ledger::default();
        let huge = ledger.given("huge", Length::from_mm(Rational::from(i128::MAX)));
        assert_eq!(ledger.overflow(), None);
        let sum = ledger.sum("too much", &[(1, huge), (1, huge)], "");
        assert_eq!(sum.value, Length::ZERO);
        assert_eq!(ledger.overflow(), Some(sum.why));
    }
}
