//! All printed facts of a project by path, and what of them differs.

use super::Side;
use super::pair::Pairs;
use crate::eval::Len;
use crate::parts::{Measure, MeasureValue};
use crate::quantity::{Length, Marks, Rational, Round, System, decimal, estimate};
use serde::Serialize;
use std::cmp::Ordering;
use std::collections::BTreeMap;

/// Printed facts: `sewing.one.shelf.binders` and `length` give `31 5/16"`.
pub type Facts = BTreeMap<(String, String), String>;

/// A printed fact that differs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Change {
    /// Of what, by its path in the new project.
    pub path: String,
    /// The measure; `part` for what a part is.
    pub name: String,
    /// As the old project prints it; `None` where it has none.
    pub was: Option<String>,
    /// As the new project prints it; `None` where it has none.
    pub is: Option<String>,
}

/// Measures that are set with a caliper or a router: the exact value stands beside the mark.
const FINE: [&str; 6] = ["thickness", "dado_width", "dado_depth", "spacer_1", "spacer_2", "overlap"];

/// A length as the sheets print it; of one that is set with a caliper no more than that shows.
pub(super) fn print_length(name: &str, len: Len, marks: Marks) -> String {
    if FINE.contains(&name) {
        marks.print_both(shown(len.value, marks))
    } else {
        marks.print(len.value).to_string()
    }
}

/// A length to what a caliper shows: a fraction on the tape or a tenth of a millimetre that it shows alike, else the length itself.
fn shown(length: Length, marks: Marks) -> Length {
    let step = match marks.system() {
        System::Inch => Length::from_inches(Rational::new(1, 1000)),
        System::Metric => Some(Length::from_mm(Rational::new(1, 1000))),
    };
    let Some(step) = step else { return length };
    let read = |length: Length| length.rounded_to(step, Round::Nearest);
    let on_tape = Length::from_inches(Rational::new(1, 128));
    let tenth = Some(Length::from_mm(Rational::new(1, 10)));
    let plain = [on_tape, tenth].into_iter().flatten().filter_map(|to| length.rounded_to(to, Round::Nearest));
    plain.into_iter().find(|plain| read(*plain) == read(length)).unwrap_or(length)
}

fn print(measure: &Measure, marks: Marks) -> String {
    match &measure.value {
        // A sign for what rounding lost is no difference.
        MeasureValue::Length(len) => print_length(measure.name, *len, marks).replace('~', ""),
        MeasureValue::Estimate(value, _) => estimate(*value, marks.system()),
        MeasureValue::Count(count, _) => count.to_string(),
        MeasureValue::Money(sum, _) => decimal(*sum, 2),
    }
}

/// Whether two measures are equal, so that they need not be printed to be compared.
fn same(old: &Measure, new: &Measure) -> bool {
    match (&old.value, &new.value) {
        (MeasureValue::Length(a), MeasureValue::Length(b)) => a.value == b.value,
        (MeasureValue::Count(a, _), MeasureValue::Count(b, _)) => a == b,
        _ => false,
    }
}

/// What a part is, in words.
fn parts(side: Side<'_>) -> impl Iterator<Item = (String, String)> {
    side.graph.parts.iter().map(move |part| {
        (part.path.clone(), format!("{} of {}", part.role, side.graph.stock_name(part.stock)))
    })
}

/// The path and the name of a measure.
pub(super) fn split(full: &str) -> (&str, &str) {
    full.rsplit_once('.').unwrap_or(("", full))
}

/// All printed facts of a project, its lengths to these marks.
#[must_use]
pub fn facts(side: Side<'_>, marks: Marks) -> Facts {
    let measures = side.graph.measures();
    let measures = measures.iter().map(|(full, measure)| {
        let (path, name) = split(full);
        ((path.to_owned(), name.to_owned()), print(measure, marks))
    });
    parts(side).map(|(path, what)| ((path, "part".to_owned()), what)).chain(measures).collect()
}

/// The facts of the new project from those of the old one and what a [`super::Diff`] says of them.
#[must_use]
pub fn apply(old: &Facts, renamed: &BTreeMap<String, String>, changes: &[Change]) -> Facts {
    let pairs = Pairs { renamed: renamed.clone(), ..Pairs::default() };
    let mut facts: Facts = old
        .iter()
        .map(|((path, name), value)| ((pairs.renamed(path), name.clone()), value.clone()))
        .collect();
    for change in changes {
        let key = (change.path.clone(), change.name.clone());
        match &change.is {
            Some(value) => facts.insert(key, value.clone()),
            None => facts.remove(&key),
        };
    }
    facts
}

/// Whatever has one of these keys, in their order, with the values of both sides.
fn beside<'a, K: Ord, A, B>(
    old: &'a BTreeMap<K, A>,
    new: &'a BTreeMap<K, B>,
) -> impl Iterator<Item = (&'a K, Option<&'a A>, Option<&'a B>)> {
    let (mut old, mut new) = (old.iter().peekable(), new.iter().peekable());
    std::iter::from_fn(move || {
        let order = match (old.peek(), new.peek()) {
            (Some((a, _)), Some((b, _))) => a.cmp(b),
            (Some(_), None) => Ordering::Less,
            (None, Some(_)) => Ordering::Greater,
            (None, None) => return None,
        };
        let before = if order == Ordering::Greater { None } else { old.next() };
        let now = if order == Ordering::Less { None } else { new.next() };
        let key = before.map(|(key, _)| key).or(now.map(|(key, _)| key))?;
        Some((key, before.map(|(_, value)| value), now.map(|(_, value)| value)))
    })
}

/// All printed facts that differ, in the order of their paths in the new project; with the lengths behind them, where
/// both are lengths.
pub(super) fn changes(
    sides: [Side<'_>; 2],
    (was, is): (&BTreeMap<String, &Measure>, &BTreeMap<String, Measure>),
    pairs: &Pairs,
    marks: Marks,
) -> Vec<(Change, Option<(Len, Len)>)> {
    let mut changes = Vec::new();
    for (full, before, now) in beside(was, is) {
        if before.zip(now).is_some_and(|(before, now)| same(before, now)) {
            continue;
        }
        let [was, is] = [before.copied(), now].map(|side| side.map(|measure| print(measure, marks)));
        if was == is {
            continue;
        }
        let (path, name) = split(full);
        let lengths = before.and_then(|before| before.length()).zip(now.and_then(Measure::length));
        changes.push((Change { path: path.to_owned(), name: name.to_owned(), was, is }, lengths));
    }
    let [old, new] = sides.map(|side| parts(side).collect::<BTreeMap<_, _>>());
    let old: BTreeMap<String, String> =
        old.into_iter().map(|(path, what)| (pairs.renamed(&path), what)).collect();
    for (path, before, now) in beside(&old, &new).filter(|(_, before, now)| before != now) {
        let name = "part".to_owned();
        let change = Change { path: path.clone(), name, was: before.cloned(), is: now.cloned() };
        changes.push((change, None));
    }
    changes
}

/// The old measures by their paths in the new project.
pub(super) fn renamed_measures<'a>(
    measures: &'a BTreeMap<String, Measure>,
    pairs: &Pairs,
) -> BTreeMap<String, &'a Measure> {
    let renamed = |full: &str| {
        let (path, name) = split(full);
        format!("{}.{name}", pairs.renamed(path))
    };
    measures.iter().map(|(full, measure)| (renamed(full), measure)).collect()
}
