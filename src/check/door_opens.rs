//! Doors open to a right angle: clear of the wall beside them, of what stands before them, and of each other.

use super::helpers::place::{against, length};
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, Return};
use crate::parts::{Bounds, Finding, Hand, Hung, Limit, Part, RunPart};
use crate::quantity::Length;
use crate::real::Real;

code!(
    Error,
    OPENS,
    "C149",
    "door_cannot_open",
    "a door that meets the next wall, or something before it, as it opens",
    "A door that stands open at a right angle looks with its front to the wall beside it: its pull needs its own room there. What lies in \
     the quarter of a circle before it is hit on the way (geometry, an estimate for the pull).",
    with_example
);

code!(
    Warning,
    BOTH,
    "C150",
    "open_doors_meet",
    "two doors that meet when both stand open",
    "Where a door hangs on its right edge and the next one on its left, both fronts look at each other when they stand open: their \
     pulls need room between them, or one must be shut before the other opens (geometry).",
    with_example
);

/// Each door of every run.
pub(super) const CHECK: Check = Check { codes: &[&OPENS, &BOTH], run };

/// A door with its place in the room.
type Standing<'a> = (&'a Hung, &'a Part, Bounds);

fn run(subject: &Subject<'_>, report: &mut Report) {
    let graph = subject.graph;
    for run in &graph.runs {
        let doors: Vec<Standing<'_>> = graph
            .doors
            .iter()
            .filter_map(|hung| Some((hung, graph.part(hung.door)?)))
            .filter(|(_, door)| door.unit.is_some_and(|unit| run.units.contains(&unit)))
            .filter_map(|(hung, door)| Some((hung, door, graph.bounds(door)?)))
            .collect();
        for door in &doors {
            beside_a_wall(subject, report, run, door);
            beside_another(subject, report, door, &doors);
        }
    }
    for against in against(subject) {
        let in_way = against.wall.obstacles.iter().filter(|obstacle| obstacle.decided != Decided::Remove);
        let in_way: Vec<(&str, Bounds)> = in_way
            .filter_map(|obstacle| Some((&*obstacle.name, against.bounds(subject, obstacle)?)))
            .collect();
        for hung in &graph.doors {
            let Some(door) = graph.part(hung.door) else { continue };
            let here = door.unit.is_some_and(|unit| against.run.units.contains(&unit));
            if let Some(bounds) = graph.bounds(door).filter(|_| here) {
                before_it(subject, report, &(hung, door, bounds), &in_way);
            }
        }
    }
}

fn out(hung: &Hung) -> Length {
    hung.pull.map_or(Length::ZERO, |pull| pull.value)
}

/// A door that hangs next to a wall.
fn beside_a_wall(subject: &Subject<'_>, report: &mut Report, run: &RunPart, (hung, door, _): &Standing<'_>) {
    let (end, unit) = match hung.hand {
        Hand::Left => (run.ends.first(), run.units.first()),
        Hand::Right => (run.ends.get(1), run.units.last()),
    };
    let Some(end) = end.filter(|end| end.meets == Return::Wall && unit.copied() == door.unit) else { return };
    let Some(unit) = door.unit.and_then(|unit| subject.graph.unit(unit)) else { return };
    let edge = match hung.hand {
        Hand::Left => Some(door.place.x.value),
        Hand::Right => {
            let right = door.place.x.value.checked_add(door.size.width.value);
            right.and_then(|right| unit.width.value.checked_sub(right))
        }
    };
    let Some(room) = edge.and_then(|edge| end.gap.value.checked_add(edge)) else { return };
    let (what, needed) = ("from an open door to the wall beside it", out(hung));
    let limit = Limit::AtLeast(needed.into());
    if report.compare(Finding::new(&OPENS, door.path.as_str(), what, room, limit)) {
        return;
    }
    let message = format!("the door `{}` meets the wall before it stands open at a right angle", door.path);
    let told = Diagnostic::new(&OPENS, message).at(hung.head, "").about(door.path.as_str());
    let told = subject.at(told, end.gap, "the gap");
    let lack = needed.checked_sub(room).unwrap_or_default();
    let said = if room.is_negative() {
        "it lies before the wall".to_owned()
    } else {
        format!(
            "its pull stands out {}, and {} is between it and the wall",
            subject.print(needed),
            subject.print(room)
        )
    };
    report.tell(told.help(format!(
        "{said}: hang it on its other edge with `hung`, or make the gap there {} wider",
        subject.least(lack)
    )));
}

/// A door that hangs on its right edge, and the next one that hangs on its left.
fn beside_another(
    subject: &Subject<'_>,
    report: &mut Report,
    (hung, door, bounds): &Standing<'_>,
    doors: &[Standing<'_>],
) {
    if hung.hand != Hand::Right {
        return;
    }
    let next = doors.iter().filter(|(other, _, own)| {
        let level = own[2][0] < bounds[2][1] && bounds[2][0] < own[2][1];
        other.hand == Hand::Left && level && own[0][0] >= bounds[0][1]
    });
    let Some((other, beside, own)) = next.min_by_key(|(_, _, own)| own[0][0]) else { return };
    let Some(room) = own[0][0].checked_sub(bounds[0][1]) else { return };
    let Some(needed) = out(hung).checked_add(out(other)) else { return };
    let what = "between two doors that stand open";
    let limit = Limit::AtLeast(needed.into());
    if report.compare(Finding::new(&BOTH, door.path.as_str(), what, room, limit)) {
        return;
    }
    let message = format!("the doors `{}` and `{}` meet when both stand open", door.path, beside.path);
    let mut told = Diagnostic::new(&BOTH, message).at(hung.head, "").about(door.path.as_str());
    if other.head != hung.head {
        told = told.and_at(other.head, "and this one");
    }
    report.tell(told.help(format!(
        "their pulls stand out {} together, and {} is between them: hang one on its other edge",
        subject.print(needed),
        subject.print(room)
    )));
}

/// What reaches out of the wall before a door.
fn before_it(
    subject: &Subject<'_>,
    report: &mut Report,
    (hung, door, bounds): &Standing<'_>,
    in_way: &[(&str, Bounds)],
) {
    let width = door.size.width.value;
    let met = in_way.iter().filter_map(|(name, place)| {
        let level = place[2][0] < bounds[2][1] && bounds[2][0] < place[2][1];
        Some((nearest(hung.hand, bounds, place).filter(|_| level)?, *name))
    });
    let Some((near, name)) = met.min_by_key(|(near, _)| *near) else { return };
    let what = "from the hinges of a door to what stands before it";
    let limit = Limit::AtLeast(width.into());
    if report.compare(Finding::new(&OPENS, door.path.as_str(), what, near, limit)) {
        return;
    }
    let message = format!("the door `{}` meets `{name}` as it opens", door.path);
    let told = Diagnostic::new(&OPENS, message).at(hung.head, "").about(door.path.as_str());
    report.tell(told.help(format!(
        "it lies {} from its hinges: make the door narrower than that, or hang it on its other edge",
        subject.print(near)
    )));
}

/// How far what lies in the quarter before a door is from its hinges; `None` of what does not reach out before it.
fn nearest(hand: Hand, door: &Bounds, place: &Bounds) -> Option<Length> {
    let front = door[1][1];
    let out = place[1][0].checked_sub(front)?;
    if place[1][1] <= front {
        return None;
    }
    let (from, to) = match hand {
        Hand::Left => (place[0][0].checked_sub(door[0][0])?, place[0][1].checked_sub(door[0][0])?),
        Hand::Right => (door[0][1].checked_sub(place[0][1])?, door[0][1].checked_sub(place[0][0])?),
    };
    if !to.is_positive() {
        return None;
    }
    let [aside, out] = [from, out].map(|length| length.max(Length::ZERO).to_mm_f64());
    length((aside.squared() + out.squared()).sqrt())
}
