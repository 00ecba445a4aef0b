//! Sizes that differ, together by what made them differ.

use super::Side;
use super::cause::{Cause, Causes};
use super::facts::{Change, print_length};
use crate::eval::Len;
use crate::parts::{EndGap, Hand, Part, PartGraph};
use crate::quantity::{Exact, Length, Marks, System, estimate};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// Sizes that differ for the same reason.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Because {
    /// What is stated otherwise now; empty where no number of the text is another.
    pub causes: Vec<Cause>,
    /// Whether some follow in another way than before: parts come or go, or another statement holds.
    pub structure: bool,
    /// The sizes, the most frequent first.
    pub sizes: Vec<SizeChange>,
}

/// Equal changes of like sizes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SizeChange {
    /// Of what: `shelf`, `unit`.
    pub what: &'static str,
    /// The size, in words.
    pub size: String,
    /// How many there are.
    pub count: usize,
    /// The old size; from the least to the greatest where they differ.
    pub was: String,
    /// The new size; from the least to the greatest where they differ.
    pub is: String,
    /// By how much, exact where a tape or a caliper can show it.
    pub change: String,
    /// Of which: paths in the new project.
    pub paths: Vec<String>,
}

/// A measure in words; `None` for places, which follow from other sizes, and for what other measures say already.
fn words(part: bool, name: &str) -> Option<&str> {
    Some(match name {
        "x" | "y" | "z" | "clear_width" | "screw_from" | "screw_to" | "overlap" | "board" => return None,
        "width" if part => "width",
        "blank_width" => "width of the blank",
        "blank_length" => "length of the blank",
        "width_low" => "finished width, low",
        "width_middle" => "finished width, middle",
        "width_high" => "finished width, high",
        "width_left" => "finished width, left",
        "width_right" => "finished width, right",
        "clear_height" => "behind",
        "opening_front" => "at the front",
        "opening_rear" => "at the rear",
        "opening_depth" => "depth",
        "dado_width" => "width",
        "dado_depth" => "depth",
        "spacer_1" => "spacer 1",
        "spacer_2" => "spacer 2",
        "clear" => "clear width",
        "gap_left" => "gap at the left",
        "gap_right" => "gap at the right",
        "total_width" => "width of all units",
        other => other,
    })
}

/// A difference with its sign: exact down to 1/128 in or 0.001 mm, else to the mark.
pub(super) fn difference(old: Length, new: Length, marks: Marks) -> String {
    let Some(by) = new.checked_sub(old) else { return String::new() };
    let (sign, by) = match Length::ZERO.checked_sub(by).filter(|_| by.is_negative()) {
        Some(positive) => ("-", positive),
        None => ("+", by),
    };
    let fine = match marks.system() {
        System::Inch => by.inches().is_some_and(|inches| *inches.denom() <= 128),
        System::Metric => marks.print_fine(by).is_exact(),
    };
    // Less than half a mark is told as a caliper shows it.
    if !fine && marks.nearest(by).is_zero() {
        return format!("{sign} {}", estimate(Exact::from(by).estimate(), marks.system()));
    }
    let print = if fine { marks.print_fine(by) } else { marks.print(by) };
    format!("{sign} {print}")
}

/// Equal changes with the least and the greatest size before and now.
type Group = BTreeMap<(&'static str, String, String), (SizeChange, [[Len; 2]; 2])>;

/// What has sizes besides parts, openings and runs, by its path.
fn others(graph: &PartGraph) -> BTreeMap<String, &'static str> {
    let units = graph.units.iter().map(|unit| (unit.path.clone(), "unit"));
    let crowns = graph.runs.iter().flat_map(|run| {
        let parted = run.crown.iter().flat_map(|crown| crown.stretches());
        let parted = parted.map(|(at, _)| (format!("{}.crown[{}]", run.path, at + 1), "crown"));
        std::iter::once((format!("{}.crown", run.path), "crown")).chain(parted)
    });
    let ends = graph.runs.iter().flat_map(|run| run.ends.iter().zip(Hand::BOTH).map(move |end| (run, end)));
    let ends = ends.flat_map(|(run, (end, hand))| {
        let path = move |at: &EndGap| format!("{}.end.{}.{}", run.path, hand.word(), at.at.word());
        end.readings.iter().map(move |reading| (path(reading), "end of a run"))
    });
    let spaces = graph.runs.iter().flat_map(|run| &run.spaces);
    let spaces = spaces.map(|space| (space.path.clone(), "space"));
    units.chain(crowns).chain(spaces).chain(ends).chain([("router".to_owned(), "router")]).collect()
}

/// All sizes that both projects have and that print differently.
pub(super) fn because(
    new: Side<'_>,
    changes: &[(Change, Option<(Len, Len)>)],
    causes: &mut Causes<'_>,
    marks: Marks,
) -> Vec<Because> {
    let parts: BTreeMap<&str, &Part> = new.graph.parts.iter().map(|part| (&*part.path, part)).collect();
    let others = others(new.graph);
    let mut groups: BTreeMap<BTreeSet<Option<usize>>, Group> = BTreeMap::new();
    for (change, lengths) in changes {
        let Some((before, now)) = *lengths else { continue };
        let part = parts.get(change.path.as_str());
        let Some(size) = words(part.is_some(), &change.name) else { continue };
        let what = match part {
            Some(_) if change.name.starts_with("dado_") => "dado",
            _ if change.name.starts_with("opening_") || change.name == "clear_height" => "opening",
            Some(part) => part.role.word(),
            None => others.get(&change.path).copied().unwrap_or("run"),
        };
        let set = causes.of(before, now);
        let by = difference(before.value, now.value, marks);
        let group = groups.entry((*set).clone()).or_default();
        let (row, ends) = group.entry((what, size.to_owned(), by.clone())).or_insert_with(|| {
            let row = SizeChange {
                what,
                size: size.to_owned(),
                count: 0,
                was: String::new(),
                is: String::new(),
                change: by,
                paths: Vec::new(),
            };
            (row, [[before; 2], [now; 2]])
        });
        row.count += 1;
        row.paths.push(change.path.clone());
        for ([least, greatest], len) in ends.iter_mut().zip([before, now]) {
            if len.value < least.value {
                *least = len;
            } else if len.value > greatest.value {
                *greatest = len;
            }
        }
        [row.was, row.is] = ends.map(|[least, greatest]| {
            let [least, greatest] = [least, greatest].map(|len| print_length(&change.name, len, marks));
            if least == greatest { least } else { format!("{least} to {greatest}") }
        });
    }
    let mut all: Vec<Because> = groups
        .into_iter()
        .map(|(set, group)| {
            let mut sizes: Vec<SizeChange> = group.into_values().map(|(size, _)| size).collect();
            sizes.sort_by_key(|size| std::cmp::Reverse(size.count));
            let structure = set.contains(&None);
            let causes = set.into_iter().flatten().filter_map(|number| causes.get(number).cloned());
            Because { causes: causes.collect(), structure, sizes }
        })
        .collect();
    all.sort_by_key(|because| std::cmp::Reverse(because.sizes.iter().map(|size| size.count).sum::<usize>()));
    all
}
