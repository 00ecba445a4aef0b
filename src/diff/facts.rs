//! All printed facts of a project by path, and what of them differs.

use super::Side;
use super::pair::Pairs;
use crate::eval::Len;
use crate::parts::{Measure, MeasureValue};
use crate::quantity::{Marks, decimal, estimate};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

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

/// A length as the sheets print it.
pub(super) fn print_length(name: &str, len: Len, marks: Marks) -> String {
    if FINE.contains(&name) { marks.print_both(len.value) } else { marks.print(len.value).to_string() }
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

/// Whether two measures print alike; equal lengths are not printed for that.
fn alike(old: &Measure, new: &Measure, marks: Marks) -> bool {
    match (&old.value, &new.value) {
        (MeasureValue::Length(a), MeasureValue::Length(b)) if a.value == b.value => true,
        (MeasureValue::Count(a, _), MeasureValue::Count(b, _)) => a == b,
        _ => print(old, marks) == print(new, marks),
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

/// All printed facts that differ, in the order of their paths in the new project.
pub(super) fn changes(
    sides: [Side<'_>; 2],
    (was, is): (&BTreeMap<String, &Measure>, &BTreeMap<String, Measure>),
    pairs: &Pairs,
    marks: Marks,
) -> Vec<Change> {
    let mut changes = Vec::new();
    let all: BTreeSet<&str> = was.keys().chain(is.keys()).map(String::as_str).collect();
    for full in all {
        let (before, now) = (was.get(full).copied(), is.get(full));
        if before.zip(now).is_some_and(|(before, now)| alike(before, now, marks)) {
            continue;
        }
        let (path, name) = split(full);
        let print = |measure: Option<&Measure>| measure.map(|measure| print(measure, marks));
        changes.push(Change {
            path: path.to_owned(),
            name: name.to_owned(),
            was: print(before),
            is: print(now),
        });
    }
    let [old, new] = sides.map(|side| parts(side).collect::<BTreeMap<_, _>>());
    let old: BTreeMap<String, String> =
        old.into_iter().map(|(path, what)| (pairs.renamed(&path), what)).collect();
    let all: BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    for path in all {
        let (before, now) = (old.get(path), new.get(path));
        if before != now {
            let name = "part".to_owned();
            changes.push(Change { path: path.clone(), name, was: before.cloned(), is: now.cloned() });
        }
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
