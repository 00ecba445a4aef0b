//! A heater has room in front and at its sides.

use super::helpers::place::{against, at_least, away, stretch};
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, Obstacle, ObstacleClass};
use crate::parts::{Bounds, Unit};
use crate::quantity::Length;

code!(
    Error,
    CODE,
    "C062",
    "heater_clearance",
    "a unit too near to a heater",
    "An electric heater needs 12 in (300 mm) clear in front and 6 in (150 mm) at its sides (common practice, no source; the maker's \
     sheet of your heater comes first). It is never built in.",
    with_example
);

/// Each heater of a wall, or across from it, against every unit along it.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let [front, side] = [subject.usual((12, 1), 3000), subject.usual((6, 1), 1500)];
    for against in against(subject) {
        let kept = against.wall.obstacles.iter().filter(|obstacle| obstacle.class == ObstacleClass::Heater);
        for obstacle in kept.filter(|obstacle| obstacle.decided == Decided::Keep) {
            let Some(place) = against.bounds(subject, obstacle) else { continue };
            // One heater, one message: about the first unit that it concerns.
            let mut said = false;
            for (unit, bounds) in against.units(subject) {
                let rooms = bounds.iter().zip(&place).map(|(work, obstacle)| away(*work, *obstacle));
                let rooms: Vec<Length> = rooms.flatten().collect();
                let [beside, before, over] = rooms.as_slice() else { continue };
                let ahead = beside.is_negative();
                if !over.is_negative() || (!ahead && *before >= front) {
                    continue;
                }
                let (room, limit, what) = if ahead {
                    (*before, front, "room in front of a heater")
                } else {
                    (*beside, side, "room beside a heater")
                };
                let fails = room < limit;
                let told = (fails && !said)
                    .then(|| told(subject, obstacle, (&place, [room, limit], ahead), (unit, &bounds)));
                said = said || fails;
                report.take(at_least(&CODE, &unit.path, what, [room, limit], told));
            }
        }
    }
}

fn told(
    subject: &Subject<'_>,
    obstacle: &Obstacle,
    (place, [room, limit], ahead): (&Bounds, [Length; 2], bool),
    (unit, bounds): (&Unit, &Bounds),
) -> Diagnostic {
    let message = match (ahead, room.is_negative()) {
        (true, true) => format!("the heater is built in by `{}`", unit.path),
        (true, false) => format!("`{}` stands {} in front of the heater", unit.path, subject.print(room)),
        (false, _) => format!("`{}` stands {} beside the heater", unit.path, subject.print(room)),
    };
    let diagnostic = Diagnostic::new(&CODE, message)
        .at(obstacle.head, format!("{} along the wall", stretch(subject, place[0])))
        .about(unit.path.as_str());
    let diagnostic = match unit.head {
        Some(head) => diagnostic.and_at(head, format!("stands {}", stretch(subject, bounds[0]))),
        None => diagnostic,
    };
    if ahead && !room.is_negative() {
        let lacks = limit.checked_sub(room).unwrap_or_default();
        return diagnostic.help(format!(
            "it needs {} clear in front: make the unit {} less deep, or move the heater",
            subject.print(limit),
            subject.least(lacks)
        ));
    }
    let side = subject.usual((6, 1), 1500);
    let [ends, begins] = [place[0][0].checked_sub(side), place[0][1].checked_add(side)];
    diagnostic.help(format!(
        "it needs {} clear at each side: a unit left of it ends at {} or less, one right of it begins at {} or more",
        subject.print(side),
        subject.most(ends.unwrap_or_default()),
        subject.least(begins.unwrap_or_default())
    ))
}
