//! Wood does not stand where trim or a pipe is.

use super::helpers::place::{Against, against, apart, at_least, stretch};
use super::helpers::wall_clearance::Met;
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, Obstacle, ObstacleClass};
use crate::parts::{Bounds, UnitId};
use crate::quantity::Length;

code!(
    Error,
    CODE,
    "C063",
    "trim_in_footprint",
    "baseboard, casing, sill or other trim where the work stands",
    "A unit of which a part meets trim stands off the wall by its thickness, and nothing else fits any more. The trim is taken off, by common \
     practice, no source, between the ends of the work and its cut ends are returned, or the sides are notched over it. What stands in \
     an open niche and touches no part is in nobody's way.",
    with_example
);

/// All trim of a wall against the units along it, once for each run.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for against in against(subject) {
        let trim = against.wall.obstacles.iter().filter(|obstacle| obstacle.class == ObstacleClass::Trim);
        for obstacle in trim.filter(|obstacle| obstacle.decided == Decided::Keep) {
            let Some(place) = against.bounds(subject, obstacle) else { continue };
            let rooms = against.run.all().filter_map(|id| Some((id, room_of(subject, id, &place)?)));
            let rooms: Vec<(UnitId, Length)> = rooms.collect();
            let Some(room) = rooms.iter().map(|(_, room)| *room).min() else { continue };
            let units = rooms.iter().filter(|(_, room)| room.is_negative());
            let met = units
                .filter_map(|(id, _)| Some((subject.graph.unit(*id)?, subject.bounds(*id, against.front)?)));
            let met: Vec<Met<'_>> = met.collect();
            let told = (!met.is_empty()).then(|| told(subject, &against, obstacle, &place, &met));
            let what = "room between trim and the nearest part";
            report.take(at_least(&CODE, &obstacle.name, what, [room, Length::ZERO], told));
        }
    }
}

/// From a place to the nearest part of a unit; `None` of a unit without parts.
fn room_of(subject: &Subject<'_>, unit: UnitId, place: &Bounds) -> Option<Length> {
    let parts = subject.graph.parts_of(unit).filter_map(|part| subject.graph.bounds(part));
    parts.map(|bounds| apart(&bounds, place)).min()
}

fn told(
    subject: &Subject<'_>,
    against: &Against<'_>,
    obstacle: &Obstacle,
    place: &Bounds,
    met: &[Met<'_>],
) -> Diagnostic {
    let out = place[1][1].checked_sub(place[1][0]).unwrap_or_default();
    let high = place[2][1].checked_sub(place[2][0]).unwrap_or_default();
    let (who, them) = match met {
        [(unit, _)] => (format!("`{}` meets", unit.path), "it"),
        _ => (format!("{} units of `{}` meet", met.len(), against.run.path), "them"),
    };
    let by = if place[1][0].is_zero() {
        format!(": it holds {them} {} off the wall", subject.print(out))
    } else {
        String::new()
    };
    let mut diagnostic =
        Diagnostic::new(&CODE, format!("{who} the {}{by}", obstacle.word)).at(obstacle.head, "");
    for (unit, _) in met {
        diagnostic = diagnostic.about(unit.path.as_str());
    }
    if let Some(head) = against.stated.head {
        diagnostic = diagnostic.and_at(head, "stands there");
    }
    let low = met.iter().map(|(_, bounds)| bounds[0][0]).min().unwrap_or_default();
    let end = met.iter().map(|(_, bounds)| bounds[0][1]).max().unwrap_or_default();
    let reach = against.reach(subject).map_or([low, end], |reach| reach[0]);
    let units = against.units(subject);
    let first = units.first().is_some_and(|(_, bounds)| bounds[0][0] == low);
    let last = units.last().is_some_and(|(_, bounds)| bounds[0][1] == end);
    let from = [if first { reach[0] } else { low }, if last { reach[1] } else { end }];
    let off = [from[0].max(place[0][0]), from[1].min(place[0][1])];
    diagnostic
        .help(format!(
            "take it off {} from the left corner and return its cut ends: `decided = remove`",
            stretch(subject, off)
        ))
        .help(format!(
            "or notch the parts that stand there, {} high and {} deep: `decided = cut_round`",
            subject.print(high),
            subject.print(out)
        ))
}
