//! Something solid behind every unit.

use super::subject::Standing;
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, Fix, code};
use crate::eval::{Fixing, Wall};
use crate::parts::{Finding, Lacking, Limit, Need, Row, Spacing, Unit};
use crate::quantity::{Length, Round};
use std::collections::BTreeSet;

code!(
    Note,
    STUD,
    "C018",
    "stud",
    "a stud behind the run that no unit can use",
    "A driver needs 3/4 in (20 mm) beside the inner face of a side (common practice, no source). A stud at a seam holds nothing.",
    with_example
);

code!(
    Error,
    FEW,
    "C021",
    "too_few_studs",
    "a unit with fewer than two studs behind it",
    "A unit is screwed to two studs or more, each 3/4 in (20 mm) or more inside its sides (common practice, no source). A screw in \
     wallboard alone holds nothing.",
    with_example
);

/// Units against studs, and studs against units.
pub(super) const CHECK: Check = Check { codes: &[&STUD, &FEW], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for standing in subject.units() {
        let Some(wall) = standing.wall.filter(|wall| wall.fixing == Fixing::Studs) else { continue };
        let unit = standing.unit;
        let what = "studs that a unit is screwed to";
        // Of a unit without cleats and rear stretchers `tips` says that nothing holds it.
        let rows: Vec<&Row> = subject.wall_rows(standing.id).collect();
        if rows.is_empty() {
            continue;
        }
        let studs = rows.iter().flat_map(|row| match &row.spacing {
            Spacing::Studs(studs) => studs.as_slice(),
            Spacing::Pitch { .. } | Spacing::Heights { .. } | Spacing::Corners | Spacing::Single => &[],
        });
        let count = studs.map(|stud| stud.value).collect::<BTreeSet<Length>>().len();
        // In blocking each screw holds by itself.
        let in_wood = rows.iter().filter(|row| matches!(row.spacing, Spacing::Pitch { .. }));
        let count = in_wood.map(|row| row.count).sum::<usize>().saturating_add(count);
        if wall.studs.is_empty() && count < 2 {
            report.lack(Lacking {
                code: &FEW,
                subject: unit.path.clone(),
                many: "units",
                what,
                measures: &[],
                needs: vec![Need::of("studs", &wall.name)],
                matters: true,
            });
            continue;
        }
        if report.compare(Finding::new(&FEW, unit.path.as_str(), what, count, Limit::AtLeast(2_usize.into())))
        {
            continue;
        }
        let has = if count == 0 { "no stud".to_owned() } else { "only one stud".to_owned() };
        let message = format!("`{}` has {has} behind it that a screw reaches", unit.path);
        let mut diagnostic =
            subject.at_head(Diagnostic::new(&FEW, message), unit.head, "").about(unit.path.as_str());
        if let Some(window) = unit.screw_window {
            let [from, to] = window.map(|len| subject.print(len.value));
            diagnostic = diagnostic.note(format!("a driver reaches from {from} to {to} along the wall"));
            let studs = near(wall, window.map(|len| len.value)).map(|stud| subject.print(stud));
            diagnostic = diagnostic.note(format!("studs there: {}", studs.collect::<Vec<_>>().join(", ")));
        }
        if let Some(first) = wall.studs.first() {
            diagnostic = subject.at(diagnostic, *first, "its studs are stated here");
        }
        let in_run = unit.run.and_then(|run| subject.graph.run(run)).map_or(0, |run| run.units.len());
        let seams = in_run > 1 && wall.studs.len() > 1;
        let others = if seams { ", or shift the seams by other widths" } else { "" };
        let diagnostic = diagnostic.help(format!(
            "put `blocking` between the studs behind its cleats before the wall is closed{others}"
        ));
        report.tell_with(diagnostic, shifts(subject, standing, wall));
    }
    for run in &subject.graph.runs {
        let Some(wall) = run.wall.and_then(|wall| subject.model.walls.get(wall)) else { continue };
        let units: Vec<_> = run.units.iter().filter_map(|id| subject.graph.unit(*id)).collect();
        let windows: Vec<[Length; 2]> =
            units.iter().filter_map(|unit| Some(unit.screw_window?.map(|len| len.value))).collect();
        let starts = units
            .iter()
            .filter_map(|unit| Some([unit.x?.value, unit.x?.value.checked_add(unit.width.value)?]));
        let Some(reach) = starts.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])]) else { continue };
        let room = subject.usual((3, 4), 200);
        for stud in wall.studs.iter().filter(|stud| reach[0] <= stud.value && stud.value <= reach[1]) {
            let inside = |[from, to]: &[Length; 2]| {
                let near = stud.value.checked_sub(*from)?.min(to.checked_sub(stud.value)?);
                near.checked_add(room)
            };
            // Behind a space nothing is fixed.
            let free = run.spaces.iter().any(|space| {
                let end = space.x.value.checked_add(space.width.value);
                space.x.value <= stud.value && end.is_some_and(|end| stud.value <= end)
            });
            let best = windows.iter().filter_map(inside).max().filter(|_| !free);
            let Some(best) = best else { continue };
            let what = "from a stud to the nearest side of its unit";
            let finding = Finding::new(&STUD, run.path.as_str(), what, best, Limit::AtLeast(room.into()));
            if report.compare(finding) {
                continue;
            }
            let at = subject.print(stud.value);
            let message = format!(
                "the stud at {at} cannot be used: no unit has it {} inside its sides",
                subject.print(room)
            );
            let diagnostic =
                subject.at(Diagnostic::new(&STUD, message), *stud, "it stands at a side or a seam");
            report.tell(
                diagnostic
                    .about(run.path.as_str())
                    .help("the other studs hold the units; shift the seam by other widths to use it"),
            );
        }
    }
}

/// Widths that bring another stud behind a unit: its own, made to reach the next stud at the right, or that of the unit
/// before it, which shifts the seam.
fn shifts(subject: &Subject<'_>, standing: &Standing<'_>, wall: &Wall) -> Vec<Fix> {
    let Some([from, to]) = standing.unit.screw_window.map(|window| window.map(|len| len.value)) else {
        return Vec::new();
    };
    let studs = || wall.studs.iter().map(|stud| stud.value);
    let lack = |far: Length, near: Length| far.checked_sub(near)?.rounded_to(subject.step(), Round::Up);
    let left = studs().filter(|stud| *stud < from).max().and_then(|stud| lack(from, stud));
    let right = studs().filter(|stud| *stud > to).min().and_then(|stud| lack(stud, to));
    let place = standing.id.0 as usize;
    let before = place.checked_sub(1).and_then(|before| subject.units().get(before));
    let before = before.filter(|before| before.wall.is_some_and(|other| other.name == wall.name));
    let title = |unit: &Unit| format!("make `{}` {{}} wide", unit.path);
    let change = |unit: &Unit, width: Option<Length>| subject.change(unit.width, width?, &title(unit), false);
    let own = standing.unit;
    let ways = [
        right.and_then(|by| change(own, own.width.value.checked_add(by))),
        left.zip(before)
            .and_then(|(by, before)| change(before.unit, before.unit.width.value.checked_sub(by))),
        right
            .zip(before)
            .and_then(|(by, before)| change(before.unit, before.unit.width.value.checked_add(by))),
    ];
    ways.into_iter().flatten().collect()
}

/// The studs within a stretch of wall, the nearest one at its left and the nearest one at its right.
fn near(wall: &Wall, [from, to]: [Length; 2]) -> impl Iterator<Item = Length> {
    let studs = || wall.studs.iter().map(|stud| stud.value);
    let before = studs().filter(|stud| *stud < from).max();
    let after = studs().filter(|stud| *stud > to).min();
    let within: Vec<Length> = studs().filter(|stud| from <= *stud && *stud <= to).collect();
    before.into_iter().chain(within).chain(after)
}
