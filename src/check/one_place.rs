//! Two carcasses do not stand in one place.

use super::helpers::place::{against, apart};
use super::{Check, Report, Subject, others};
use crate::diag::{Diagnostic, code};
use crate::parts::{Bounds, Finding, Limit, Unit};
use crate::quantity::Length;
use std::collections::BTreeMap;

code!(
    Error,
    CODE,
    "C110",
    "one_place",
    "two carcasses in one place",
    "Runs along one wall count from its left corner, each by itself: two of them must not lie over each other, along the wall, \
     off it and up (geometry).",
    with_example
);

/// The units of every two runs along one wall.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

/// A unit with its box, and the position of its run.
type Placed<'a> = (&'a Unit, Bounds, usize);

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut walls: BTreeMap<usize, Vec<Placed<'_>>> = BTreeMap::new();
    for (position, against) in against(subject).into_iter().enumerate() {
        let Some(wall) = against.run.wall else { continue };
        let units = against.units(subject).into_iter();
        walls.entry(wall).or_default().extend(units.map(|(unit, bounds)| (unit, bounds, position)));
    }
    for mut units in walls.into_values() {
        units.sort_by_key(|(_, bounds, position)| (bounds[0][0], *position));
        let mut met: BTreeMap<[usize; 2], Vec<(Length, &Unit, &Unit)>> = BTreeMap::new();
        for (place, (unit, bounds, run)) in units.iter().enumerate() {
            let after = units.iter().skip(place.saturating_add(1));
            for (other, box_of_it, of) in after.take_while(|(_, other, _)| other[0][0] < bounds[0][1]) {
                if of == run {
                    continue;
                }
                let room = apart(bounds, box_of_it);
                let what = "room between units of two runs";
                let finding =
                    Finding::new(&CODE, unit.path.as_str(), what, room, Limit::AtLeast(Length::ZERO.into()));
                if !report.compare(finding) {
                    let pair = [(*run).min(*of), (*run).max(*of)];
                    met.entry(pair).or_default().push((room, unit, other));
                }
            }
        }
        for pairs in met.into_values() {
            let Some((room, one, other)) = pairs.iter().min_by_key(|(room, ..)| *room).copied() else {
                continue;
            };
            let into = Length::ZERO.checked_sub(room).unwrap_or_default();
            let more = others(pairs.len() - 1, "pair");
            let message = format!(
                "`{}` and `{}`{more} stand in one place: {} of one lies in the other",
                one.path,
                other.path,
                subject.print(into)
            );
            let told = Diagnostic::new(&CODE, message);
            let told =
                pairs.iter().fold(told, |told, (_, one, other)| subject.at_units(told, [*one, *other]));
            report.tell(
                told.help("state the `gap` at one end of each run: the other end takes what is left over of the wall")
                    .help("or make one run of both"),
            );
        }
    }
}
