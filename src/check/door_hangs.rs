//! Doors hang on hinges that carry them, where nothing is in the way of these.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Finding, Hung, Lacking, Limit, MOST_HINGES, Need, Part, Role, Stock};
use crate::quantity::{Length, some};

code!(
    Warning,
    WIDE,
    "C151",
    "wide_door",
    "a door that is wider than doors of furniture hang well",
    "A door wider than 24 in (600 mm) pulls at its hinges, sags at its free edge and needs the room before it (common practice, no \
     source): two narrower ones close the same opening.",
    with_example
);

code!(
    Warning,
    HEAVY,
    "C152",
    "heavy_door",
    "a door that is too high or too heavy for its hinges",
    "A door has two hinges up to 36 in (900 mm), one more for each further 24 in (600 mm), and so many that each carries no more than \
     its hinge states, or 13 lb (6 kg): the whole table is common practice, no source, and the weight an estimate. More than five do not \
     share a load.",
    with_example
);

code!(
    Warning,
    SHELF,
    "C153",
    "shelf_at_hinge",
    "a shelf in the place of a hinge",
    "The plate of a hinge and its arm take about 1 in (25 mm) over and under its middle (common practice, no source): a shelf there \
     leaves no room for its screws, and the arm strikes it.",
    with_example
);

/// Each door of the project.
pub(super) const CHECK: Check = Check { codes: &[&WIDE, &HEAVY, &SHELF], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for hung in &subject.graph.doors {
        let Some(door) = subject.graph.part(hung.door) else { continue };
        wide(subject, report, hung, door);
        if hung.hinge.is_some() {
            heavy(subject, report, hung, door);
            shelves(subject, report, hung, door);
        }
    }
}

fn wide(subject: &Subject<'_>, report: &mut Report, hung: &Hung, door: &Part) {
    let (width, most) = (door.size.width.value, subject.usual((24, 1), 6000));
    let limit = Limit::AtMost(most.into());
    if report.compare(Finding::new(&WIDE, door.path.as_str(), "width of a door", width, limit)) {
        return;
    }
    let message = format!("the door `{}` is {} wide", door.path, subject.print(width));
    let told = Diagnostic::new(&WIDE, message).at(hung.head, "").about(door.path.as_str());
    report.tell(told.help(format!(
        "hang two that share the opening, each {} wide or less: a larger `count`",
        subject.most(most)
    )));
}

fn heavy(subject: &Subject<'_>, report: &mut Report, hung: &Hung, door: &Part) {
    let (tall, heavy) = hung.wanted;
    let what = "hinges that a door needs";
    let Some(heavy) = heavy else {
        let Stock::Sheet(sheet) = door.stock else { return };
        let Some(sheet) = subject.graph.sheet(sheet) else { return };
        report.lack(Lacking {
            code: &HEAVY,
            subject: door.path.clone(),
            many: "doors",
            what,
            measures: &[],
            needs: vec![Need::of("density", sheet.sold_as())],
            matters: true,
        });
        return;
    };
    let needed = tall.max(heavy);
    let limit = Limit::AtMost(MOST_HINGES.into());
    if report.compare(Finding::new(&HEAVY, door.path.as_str(), what, needed, limit)) {
        return;
    }
    let message = format!("the door `{}` needs {}", door.path, some(needed, "hinge"));
    let told = Diagnostic::new(&HEAVY, message).at(hung.head, "").about(door.path.as_str());
    let why = if heavy > tall { "its weight asks for them" } else { "its height asks for them" };
    report.tell(told.help(format!(
        "{why}, and no more than {MOST_HINGES} share a load: make it smaller, of a thinner sheet, or state what its `hinge` carries"
    )));
}

/// The nearest shelf to each hinge.
fn shelves(subject: &Subject<'_>, report: &mut Report, hung: &Hung, door: &Part) {
    let Some(unit) = door.unit else { return };
    let Some(across) = door.place.x.value.checked_add(door.size.width.value) else { return };
    let least = subject.usual((1, 1), 250);
    for up in &hung.up {
        let shelves = subject.graph.parts_of(unit).filter(|part| {
            let beside = part.place.x.value.checked_add(part.size.length.value);
            matches!(part.role, Role::Shelf | Role::Top | Role::Loose)
                && part.place.x.value < across
                && beside.is_some_and(|end| door.place.x.value < end)
        });
        let apart = |shelf: &Part| -> Option<Length> {
            let low = shelf.place.z.value;
            let high = low.checked_add(shelf.size.thickness.value)?;
            Some(low.checked_sub(up.value)?.max(up.value.checked_sub(high)?))
        };
        let near = shelves.filter_map(|shelf| Some((apart(shelf)?, shelf))).min_by_key(|(near, _)| *near);
        let Some((near, shelf)) = near else { continue };
        let what = "from the middle of a hinge to the next shelf";
        let limit = Limit::AtLeast(least.into());
        if report.compare(Finding::new(&SHELF, door.path.as_str(), what, near, limit)) {
            continue;
        }
        let message =
            format!("`{}` lies where a hinge of the door `{}` is screwed on", shelf.path, door.path);
        let told = Diagnostic::new(&SHELF, message).at(hung.head, "").about(door.path.as_str());
        report.tell(told.help(format!(
            "the middle of the hinge is {} up; move the shelf {} away from that, or state other `ends` for the hinge",
            subject.print(up.value),
            subject.least(least)
        )));
        return;
    }
}
