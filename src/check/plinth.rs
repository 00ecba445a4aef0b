//! What is seen of the plinth over the floor that will be walked on.

use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, code};
use crate::eval::{Len, Wall};
use crate::parts::{Finding, Limit, Role, UnitId};
use crate::quantity::Length;
use std::collections::BTreeMap;

code!(
    Note,
    DIFFERS,
    "C020",
    "plinth",
    "plinths of one room that show at different heights",
    "Runs of one room stand on one level line. Where the floor before them lies at different heights, more of one plinth is seen than \
     of the other (arithmetic). It is good to know before somebody asks.",
    with_example
);

code!(
    Error,
    BURIED,
    "C022",
    "plinth_buried",
    "a plinth that the new floor covers",
    "New floor runs up to the units. Where it is as thick as the plinth is high, nothing of that is seen and the bottom shelf lies in \
     the floor (arithmetic).",
    with_example
);

code!(
    Error,
    DATUM,
    "C023",
    "no_datum",
    "new floor to come, and nobody says what the units stand on",
    "Where new floor comes later, the units stand on the subfloor and the floor runs up to them, or the floor comes first. Every \
     height that is seen follows from that, so it is stated before a side is cut (common practice, no source).",
    with_example
);

/// The plinth of every run, and those of each room against each other.
pub(super) const CHECK: Check = Check { codes: &[&DIFFERS, &BURIED, &DATUM], run };

/// What is seen of the plinths of a room, by run.
type Plinths<'a> = Vec<(&'a str, Length)>;

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut rooms: BTreeMap<usize, (&str, Plinths<'_>)> = BTreeMap::new();
    let mut undecided: BTreeMap<Length, (Len, Vec<&str>)> = BTreeMap::new();
    for (stated, run) in subject.model.runs.iter().zip(&subject.graph.runs) {
        let Some(wall) = run.wall.and_then(|wall| subject.model.walls.get(wall)) else { continue };
        if let Some(later) = no_datum(report, wall, &run.path) {
            undecided.entry(later.value).or_insert((later, Vec::new())).1.push(&run.path);
            continue;
        }
        let later = wall.floor.later.map_or(Length::ZERO, |later| later.value);
        let plinths = run.units.iter().filter_map(|id| plinth(subject, *id));
        let Some((plinth, railed)) = plinths.min_by_key(|(plinth, _)| plinth.value) else { continue };
        let seen = plinth.value.checked_sub(later).unwrap_or_default();
        let least = subject.marks().step();
        let finding = Finding::new(
            &BURIED,
            run.path.as_str(),
            "plinth that is seen over the floor",
            seen,
            Limit::AtLeast(least.into()),
        );
        if report.compare(finding) {
            let (_, plinths) = rooms.entry(wall.room).or_insert((wall.room_name(), Vec::new()));
            plinths.push((&run.path, seen));
            continue;
        }
        let message = format!("the plinth of `{}` is buried by the new floor", run.path);
        let mut diagnostic =
            subject.at_head(Diagnostic::new(&BURIED, message), stated.head, "").about(run.path.as_str());
        if let Some(later) = wall.floor.later {
            diagnostic = subject.at(diagnostic, later, "the new floor");
        }
        diagnostic = subject.at(diagnostic, plinth, "the height of the plinth");
        let raise = subject.least(later);
        report.tell(diagnostic.help(if railed {
            format!("set the bottom shelf's underside {raise} over the datum or higher")
        } else {
            format!("make it more than {raise} high")
        }));
    }
    for (later, runs) in undecided.into_values() {
        tell_no_datum(subject, report, later, &runs);
    }
    for (room, plinths) in rooms.values() {
        let low = plinths.iter().min_by_key(|(_, seen)| *seen);
        let high = plinths.iter().max_by_key(|(_, seen)| *seen);
        let (Some(low), Some(high)) = (low, high.filter(|_| plinths.len() > 1)) else { continue };
        let apart = high.1.apart(low.1).unwrap_or_default();
        let limit = Limit::AtMost(subject.marks().step().into());
        if report.compare(Finding::new(
            &DIFFERS,
            *room,
            "difference of the plinths that are seen",
            apart,
            limit,
        )) {
            continue;
        }
        let message = format!(
            "{} of plinth are seen at `{}` and {} at `{}`, {} apart",
            subject.print(low.1),
            low.0,
            subject.print(high.1),
            high.0,
            subject.print(apart)
        );
        let mut diagnostic = Diagnostic::new(&DIFFERS, message);
        for (path, _) in plinths {
            let run = subject.model.runs.iter().find(|run| &*run.name == *path);
            diagnostic = subject.at_head(diagnostic, run.and_then(|run| run.head), "").about(*path);
        }
        report.tell(diagnostic.help("the shelf lines meet; only the floor differs"));
    }
}

/// What is seen under the bottom shelf of a unit, from the floor that it stands on, and whether that is a rail.
fn plinth(subject: &Subject<'_>, id: UnitId) -> Option<(Len, bool)> {
    let unit = subject.graph.unit(id)?;
    match subject.graph.parts_of(id).find(|part| part.role == Role::BottomRail) {
        Some(rail) => Some((rail.size.width, true)),
        None => unit.stands.or(unit.toe.map(|[height, _]| height)).map(|height| (height, false)),
    }
}

/// The new floor of a wall where nothing says what the units stand on.
fn no_datum(report: &mut Report, wall: &Wall, run: &str) -> Option<Len> {
    let later = wall.floor.later.filter(|later| later.value.is_positive())?;
    let (stated, what) =
        (usize::from(wall.floor.stand_on.is_some()), "statements of what the units stand on");
    let kept = report.compare(Finding::new(&DATUM, run, what, stated, Limit::AtLeast(1_usize.into())));
    (!kept).then_some(later)
}

fn tell_no_datum(subject: &Subject<'_>, report: &mut Report, later: Len, runs: &[&str]) {
    let stand = if runs.len() == 1 { "stands" } else { "stand" };
    let message = format!(
        "{} of new floor comes later, and nothing says what {} {stand} on",
        subject.print(later.value),
        names(runs)
    );
    let diagnostic = subject.at(Diagnostic::new(&DATUM, message), later, "the new floor");
    let diagnostic = runs.iter().fold(diagnostic, |told, run| told.about(*run));
    report.tell(diagnostic.help(
        "state `stand_on = subfloor`, and the floor runs up to the units; or `stand_on = finished`, and it comes first",
    ));
}
