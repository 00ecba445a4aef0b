//! A light hangs in the way of what is rolled up under it.

use super::helpers::place::{against, at_least, length};
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, Obstacle, ObstacleClass};
use crate::mechanics::published::LOWEST_CEILING;
use crate::mechanics::standing;
use crate::parts::{Lacking, Need, Unit};
use crate::quantity::Length;
use std::collections::BTreeSet;

code!(
    Error,
    CODE,
    "C067",
    "light_in_the_way",
    "a light or alarm under which a unit does not stand up",
    "A unit that is glued up lying down is rolled up through its diagonal, sqrt(H^2 + D^2), and needs 1/2 in (12.7 mm) over \
     that (common practice, no source). Under the ceiling it stands up, under what hangs there it jams.",
    with_example
);

/// The lowest thing that hangs before each wall, against each size of unit along it.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for against in against(subject) {
        // Where units are stood up elsewhere, what hangs there is heeded in what is stated of it.
        if against.stated.stood_up_under.is_some() {
            continue;
        }
        let kept = against.wall.obstacles.iter().filter(|obstacle| {
            obstacle.class == ObstacleClass::Overhead && obstacle.decided == Decided::Keep
        });
        let hanging = kept.filter_map(|obstacle| Some((obstacle, obstacle.hangs?.value)));
        let Some((obstacle, hangs)) = hanging.max_by_key(|(_, hangs)| *hangs) else { continue };
        let what = "room for rolling up under what hangs";
        let Some(ceiling) = against.wall.ceiling_before() else {
            for (unit, _) in against.units(subject) {
                let needed = unit.rolled() + standing::CLEARANCE_MM;
                report.lack(Lacking {
                    code: &CODE,
                    subject: unit.path.clone(),
                    many: "units",
                    what,
                    measures: &[],
                    needs: vec![Need::kind("ceiling")],
                    matters: needed + hangs.to_mm_f64() > LOWEST_CEILING,
                });
            }
            continue;
        };
        let Some(room) = ceiling.checked_sub(hangs) else { continue };
        let mut seen = BTreeSet::new();
        for (unit, _) in against.units(subject) {
            let needed = length(unit.rolled() + standing::CLEARANCE_MM);
            // What does not stand up under the bare ceiling either has a message of its own.
            let needed = needed.filter(|needed| *needed <= ceiling);
            let Some(needed) = needed.filter(|_| seen.insert((unit.height.value, unit.depth.value))) else {
                continue;
            };
            let told = (needed > room).then(|| told(subject, obstacle, unit, [room, needed, hangs]));
            report.take(at_least(&CODE, &unit.path, what, [room, needed], told));
        }
    }
}

fn told(subject: &Subject<'_>, obstacle: &Obstacle, unit: &Unit, sizes: [Length; 3]) -> Diagnostic {
    let [room, needed, hangs] = sizes;
    let message = format!(
        "`{}` needs {} to be rolled up, and under the {} there is only {}",
        unit.path,
        subject.least(needed),
        obstacle.word,
        subject.print(room)
    );
    let mut diagnostic = Diagnostic::new(&CODE, message)
        .at(obstacle.head, format!("hangs {} under the lowest ceiling", subject.print(hangs)))
        .about(unit.path.as_str());
    diagnostic = subject.at(diagnostic, unit.height, "the unit's height");
    let down =
        "take it down before the units are stood up: `decided = remove`; its wires are for a licensed hand";
    let diagnostic = diagnostic.help(down);
    let depth = unit.depth.value.to_mm_f64();
    match standing::tallest(room.to_mm_f64() - standing::CLEARANCE_MM, depth).and_then(length) {
        Some(tallest) => {
            let most = subject.most(tallest);
            diagnostic.help(format!("{most} is the tallest of this depth that stands up under it"))
        }
        None => diagnostic,
    }
}
