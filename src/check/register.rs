//! A register or return grille stays open.

use super::helpers::place::{against, apart, stretch};
use super::helpers::wall_clearance::{Met, keep_clear};
use super::{Check, Report, Subject, others};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, Obstacle, ObstacleClass};
use crate::parts::Bounds;

code!(
    Error,
    CODE,
    "C061",
    "register_boxed",
    "a register or return grille inside a unit",
    "A register or return is never boxed in (common practice, no source): the room goes cold and what stands on the shelves \
     warm. The unit keeps clear of it, or its duct is brought out to the front of the work.",
    with_example
);

/// Each register of a wall against every unit along it.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for against in against(subject) {
        let kept = against.wall.obstacles.iter().filter(|obstacle| obstacle.class == ObstacleClass::Air);
        for obstacle in kept.filter(|obstacle| obstacle.decided == Decided::Keep) {
            let Some(place) = against.bounds(subject, obstacle) else { continue };
            let what = (&CODE, "room between a register and a unit");
            let room = |bounds: &Bounds| apart(bounds, &place);
            keep_clear(report, what, &against.units(subject), room, |met| {
                told(subject, obstacle, &place, met)
            });
        }
    }
}

fn told(subject: &Subject<'_>, obstacle: &Obstacle, place: &Bounds, meet: &[&Met<'_>]) -> Diagnostic {
    let first = meet.first().map_or("", |(unit, _)| unit.path.as_str());
    let others = others(meet.len().saturating_sub(1), "unit");
    let message = format!("the {} is boxed in by `{first}`{others}", obstacle.word);
    let mut diagnostic = Diagnostic::new(&CODE, message)
        .at(obstacle.head, format!("{} along the wall", stretch(subject, place[0])));
    for (unit, bounds) in meet {
        diagnostic = diagnostic.about(unit.path.as_str());
        if let Some(head) = unit.head {
            diagnostic = diagnostic.and_at(head, format!("stands {}", stretch(subject, bounds[0])));
        }
    }
    diagnostic.help("have its duct brought out to the front of the work: `decided = bring_flush`").help(
        format!(
            "or keep clear of it: a unit left of it ends at {} or less, one right of it begins at {} or more",
            subject.most(place[0][0]),
            subject.least(place[0][1])
        ),
    )
}
