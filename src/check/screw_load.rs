//! The screws of a cleat carry the rear half of what stands on its shelf.

use super::helpers::dividers::load_on;
use super::helpers::shelf_load::line_load;
use super::{Check, Report, Subject, one_of};
use crate::diag::{Diagnostic, code};
use crate::eval::Fixing;
use crate::mechanics::fastener::{
    FULL_SCREW_PENETRATION, Fastener, LEAST_GAUGE, LIGHTEST_SOFTWOOD, Wood, lateral_load, screw_diameter,
};
use crate::mechanics::{NEWTONS_PER_KILOGRAM, Units};
use crate::parts::{Figure, Finding, Limit, Member, Part, Role, RowKind};
use crate::quantity::{Dim, Round};

code!(
    Warning,
    CODE,
    "C124",
    "screw_load",
    "wall screws that are asked to carry more than they should",
    "The cleat carries half of what stands on its shelf, as if the dados held nothing of it there. A screw across the grain carries K D^2 \
     at its proportional limit, full where 7 diameters of it are in the stud (Wood Handbook, FPL-GTR-282, Eq. 8-13 and Table 8-4; here the row \
     of the lightest softwoods). An estimate; a thick lining makes it less.",
    with_example
);

/// The heaviest screw that is offered in place of one (common practice, no source).
const MOST_GAUGE: u32 = 14;

/// Every cleat that is screwed to studs, under a loaded shelf.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let units = Units::MILLIMETRE_NEWTON;
    let mut worst: Option<(f64, Asked, &Part)> = None;
    for row in subject.graph.rows.iter().filter(|row| row.kind == RowKind::Wall && row.count > 0) {
        let Member::Wall(wall) = row.host else { continue };
        let Some(wall) = subject.model.walls.get(wall).filter(|wall| wall.fixing == Fixing::Studs) else {
            continue;
        };
        let Some(cleat) = row.guest.part().and_then(|part| subject.graph.part(part)) else { continue };
        let shelf = cleat.backing.iter().find_map(|id| subject.graph.part(*id));
        let (Some(shelf), true) = (shelf, cleat.role == Role::Cleat) else { continue };
        let Some(unit) = shelf.unit else { continue };
        let mut over = subject.openings_of(unit).iter();
        let over = over.find(|opening| opening.on == shelf.id && opening.used && !opening.lowest);
        let depth = shelf.size.width.value.to_mm_f64();
        let carries = over.and_then(|opening| Some((load_on(subject, opening, depth)?, opening)));
        let Some((load, opening)) = carries else { continue };
        let span = opening.clear_width.value.to_mm_f64();
        // One of the cleats before the bays under a shelf carries what stands over it.
        let whole = cleat.size.length.value.to_mm_f64() * line_load(load, span, depth, 0.0);
        let each = whole / 2.0 / row.count as f64;
        let screw = row.fastener.and_then(|index| subject.graph.fasteners.get(index));
        let gauge = screw.and_then(|screw| screw.gauge).unwrap_or(LEAST_GAUGE);
        let grip = subject.graph.grip(row, wall).map(|grip| grip.to_mm_f64().max(0.0));
        let carried = |gauge: u32, grip: Option<f64>| {
            let diameter = screw_diameter(gauge, &units);
            let held = grip.map_or(1.0, |grip| (grip / (FULL_SCREW_PENETRATION * diameter)).min(1.0));
            let full =
                lateral_load(Wood::Softwood, Fastener::WoodScrew, LIGHTEST_SOFTWOOD, diameter, &units)?;
            Some(held * full / NEWTONS_PER_KILOGRAM)
        };
        let Some(most) = carried(gauge, grip) else { continue };
        let [value, limit] = [each, most].map(|kilograms| Figure::about(kilograms, Dim::WEIGHT));
        let what = "load on one screw of a cleat";
        let kept =
            report.compare(Finding::new(&CODE, cleat.path.as_str(), what, value, Limit::AtMost(limit)));
        if !kept && worst.as_ref().is_none_or(|(over, ..)| each / most > *over) {
            let carries =
                |gauge: u32, grip: Option<f64>| carried(gauge, grip).is_some_and(|most| each <= most);
            let heavier = (gauge.saturating_add(1)..=MOST_GAUGE).find(|gauge| carries(*gauge, grip));
            let one_more = whole / 2.0 / row.count.saturating_add(1) as f64 <= most;
            let asked = Asked { value, limit, longer: carries(gauge, None), heavier, one_more };
            worst = Some((each / most, asked, cleat));
        }
    }
    let Some((_, asked, cleat)) = worst else { return };
    let Asked { value, limit, longer, heavier, one_more } = asked;
    let [value, limit] = [value, limit].map(|figure| figure.print(subject.marks(), Round::Nearest));
    let message =
        format!("each screw of `{}` is asked to carry {value}, and one carries {limit}", cleat.path);
    let unit = cleat.unit.and_then(|unit| subject.graph.unit(unit));
    let diagnostic = subject.at_head(Diagnostic::new(&CODE, message), unit.and_then(|unit| unit.head), "");
    let ways = [
        longer.then(|| "take a longer screw".to_owned()),
        heavier.map(|gauge| format!("take a heavier screw (`gauge = {gauge}` or more)")),
        one_more.then(|| "let a stud more stand behind the unit".to_owned()),
        Some("load the shelf less".to_owned()),
    ];
    report.tell(diagnostic.about(cleat.path.as_str()).help(one_of(ways)));
}

/// What the screws of a cleat are asked to carry, and what would do.
struct Asked {
    value: Figure,
    limit: Figure,
    /// Whether it carries that where all of its thread that counts is in the stud.
    longer: bool,
    /// The gauge that carries it at the same length.
    heavier: Option<u32>,
    /// Whether one screw more takes enough off the others.
    one_more: bool,
}
