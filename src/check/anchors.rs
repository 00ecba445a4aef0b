//! The highest wall screws of a unit stand near its top.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::Fixing;
use crate::mechanics::fastener::{Driven, LEAST_GAUGE, LIGHTEST_SOFTWOOD, screw_diameter};
use crate::mechanics::{NEWTONS_PER_KILOGRAM, Units};
use crate::parts::{Figure, Finding, Limit, Member, Unit, UnitId};
use crate::quantity::{Dim, Length, Round};

code!(
    Warning,
    CODE,
    "C101",
    "anchor_rows",
    "a unit whose highest wall screws stand too far below its top",
    "A unit is held to the wall near its top: the highest row of screws stands at most 32 in (800 mm) below it (common practice, no \
     source). A row low down alone lets the top lean out.",
    with_example
);

/// The highest row of every unit that is screwed to a wall; of one that nothing holds `tips` speaks.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let most = subject.usual((32, 1), 8000);
    for standing in subject.units() {
        let unit = standing.unit;
        let stands = unit.stands.map_or(Length::ZERO, |stands| stands.value);
        // The middle of the highest part that is screwed on, from the bottom end of the sides.
        let highest = subject
            .wall_rows(standing.id)
            .filter(|row| row.count > 0)
            .filter_map(|row| {
                let [bottom, top] = subject.graph.bounds(subject.graph.part(row.guest.part()?)?)?[2];
                bottom.checked_add(top)?.checked_div(2.into())?.checked_sub(stands)
            })
            .max();
        if !unit.hung {
            holds(subject, report, (standing.id, unit));
        }
        let Some(space) = highest.and_then(|high| unit.height.value.checked_sub(high)) else { continue };
        let what = "from the highest wall screws to the top";
        if report.compare(Finding::new(&CODE, unit.path.as_str(), what, space, Limit::AtMost(most.into()))) {
            continue;
        }
        let space = subject.marks().print_rounded(space, Round::Up);
        let message =
            format!("the highest wall screws of `{}` stand {} below its top", unit.path, space.text());
        let diagnostic =
            subject.at_head(Diagnostic::new(&CODE, message), unit.head, "").about(unit.path.as_str());
        report.tell(diagnostic.help(format!(
            "hang a cleat, or stand a rear `stretcher`, {} or less below the top",
            subject.most(most)
        )));
    }
}

/// A fifth of the ultimate load may be asked of a screw (common practice, no source; the local code decides).
const SAFE_SHARE: f64 = 0.2;

/// Tells what pull at its top the highest screws of a unit hold in studs, by moments about its foot: the withdrawal of wood screws (Wood
/// Handbook, FPL-GTR-282, Eq. 8-10) in the lightest softwood. Nothing is told where the lining or the screw is not known.
fn holds(subject: &Subject<'_>, report: &mut Report, (id, unit): (UnitId, &Unit)) {
    let units = Units::MILLIMETRE_NEWTON;
    let rows = subject.wall_rows(id).filter(|row| row.count > 0).filter_map(|row| {
        let Member::Wall(wall) = row.host else { return None };
        let wall = subject.model.walls.get(wall).filter(|wall| wall.fixing == Fixing::Studs)?;
        let cleat = subject.graph.part(row.guest.part()?)?;
        let screw = subject.graph.fasteners.get(row.fastener?)?;
        let penetration = subject.graph.grip(row, wall)?.to_mm_f64().max(0.0);
        let driven = Driven {
            specific_gravity: LIGHTEST_SOFTWOOD,
            diameter: screw_diameter(screw.gauge.unwrap_or(LEAST_GAUGE), &units),
            penetration,
        };
        let [bottom, top] = subject.graph.bounds(cleat)?[2];
        let height = bottom.checked_add(top)?.to_mm_f64() / 2.0;
        Some((height, row.count as f64 * SAFE_SHARE * driven.screw_withdrawal(&units) / NEWTONS_PER_KILOGRAM))
    });
    let Some((height, pull)) = rows.max_by(|a, b| a.0.total_cmp(&b.0)) else { return };
    let Some(top) =
        unit.stands.map_or(Some(unit.height.value), |stands| stands.value.checked_add(unit.height.value))
    else {
        return;
    };
    let value = Figure::about(pull * height / top.to_mm_f64(), Dim::WEIGHT);
    let what = "pull at the top that its highest wall screws hold";
    let mut finding = Finding::new(&CODE, unit.path.as_str(), what, value, Limit::Unknown);
    finding.remark = "a fifth of what tears them out of the lightest softwood studs".to_owned();
    report.compare(finding);
}
