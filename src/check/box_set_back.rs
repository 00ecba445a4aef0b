//! A box in the wall does not stand too far behind the face of the wall.

use super::helpers::place::against;
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, ObstacleClass};
use crate::parts::{Finding, Limit};
use crate::quantity::Length;
use std::collections::BTreeSet;

code!(
    Warning,
    CODE,
    "C126",
    "box_set_back",
    "a box in the wall whose edge stands too far back",
    "The front edge of a box stands at most 1/4 in (6 mm) behind a face of plaster or board, and flush with wood or proud of it where wood \
     surrounds it (NEC 314.20). Wiring is for a licensed hand.",
    with_example
);

/// Each box that stays, on a wall with a run.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut seen = BTreeSet::new();
    for against in against(subject) {
        let boxes =
            against.wall.obstacles.iter().filter(|obstacle| obstacle.class == ObstacleClass::Electric);
        for obstacle in boxes {
            let Some(recessed) = obstacle.recessed.filter(|_| seen.insert(obstacle.name.as_ref())) else {
                continue;
            };
            let (most, face) = match obstacle.decided {
                Decided::Keep => (subject.usual((1, 4), 60), "the face of the wall"),
                Decided::CutRound => (Length::ZERO, "wood that is cut round it"),
                Decided::Remove | Decided::BringFlush => continue,
            };
            let what = "how far a box stands behind the face of the wall";
            if report.compare(Finding::new(
                &CODE,
                obstacle.name.as_ref(),
                what,
                recessed.value,
                Limit::AtMost(most.into()),
            )) {
                continue;
            }
            let may =
                if most.is_zero() { "flush".to_owned() } else { format!("{} at most", subject.most(most)) };
            let message = format!(
                "the {} stands {} behind the wall's face: behind {face} it may stand {may}",
                obstacle.word,
                subject.print(recessed.value)
            );
            let diagnostic = subject.at(Diagnostic::new(&CODE, message), recessed, "so far back");
            report.tell(
                diagnostic
                    .about(obstacle.name.as_ref())
                    .help("have an extension ring put on by a licensed hand: `decided = bring_flush`"),
            );
        }
    }
}
