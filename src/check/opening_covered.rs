//! A window or door is not built over.

use super::helpers::place::{against, away, stretch};
use super::helpers::wall_clearance::{Met, keep_clear};
use super::{Check, Report, Subject, others};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, InWall, RoomOpening};
use crate::parts::Bounds;
use crate::quantity::Length;

code!(
    Error,
    CODE,
    "C064",
    "opening_covered",
    "a unit in front of a window or a door",
    "A unit in front of an opening takes its light or blocks the way, perhaps the way out in a fire: local codes decide about windows \
     of bedrooms and doors (IRC R310 has the least opening of a bedroom's window). What stands before what is geometry.",
    with_example
);

/// Each opening of a wall against every unit along it.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for against in against(subject) {
        let here = against.wall.openings.iter().filter(|opening| opening.wall == InWall::This);
        for opening in here.filter(|opening| opening.decided != Decided::Remove) {
            let what = (&CODE, "room between an opening and a unit");
            let room = |bounds: &Bounds| clear_of(bounds, opening, Length::ZERO);
            keep_clear(report, what, &against.units(subject), room, |met| told(subject, opening, met));
        }
    }
}

/// How far a unit stays from an opening with so much casing round it; negative where it covers some of it.
pub(super) fn clear_of(bounds: &Bounds, opening: &RoomOpening, casing: Length) -> Length {
    let grown = |[low, high]: [Length; 2]| {
        [low.checked_sub(casing).unwrap_or(low), high.checked_add(casing).unwrap_or(high)]
    };
    let [along, up] = [opening.along, opening.up].map(|edges| grown(edges.map(|len| len.value)));
    let rooms = [away(bounds[0], along), away(bounds[2], up)];
    rooms.into_iter().flatten().max().unwrap_or_default()
}

fn told(subject: &Subject<'_>, opening: &RoomOpening, meet: &[&Met<'_>]) -> Diagnostic {
    let [along, up] = [opening.along, opening.up].map(|edges| edges.map(|len| len.value));
    let first = meet.first().map_or("", |(unit, _)| unit.path.as_str());
    let others = others(meet.len().saturating_sub(1), "unit");
    let message = format!("the {} is covered by `{first}`{others}", opening.word);
    let at = format!("{} along the wall, {} up", stretch(subject, along), stretch(subject, up));
    let mut diagnostic = Diagnostic::new(&CODE, message).at(opening.head, at);
    for (unit, bounds) in meet {
        diagnostic = diagnostic.about(unit.path.as_str());
        if let Some(head) = unit.head {
            let high = subject.print(bounds[2][1]);
            let stands = format!("stands {}, {high} high", stretch(subject, bounds[0]));
            diagnostic = diagnostic.and_at(head, stands);
        }
    }
    let casing = opening.casing.map_or(Length::ZERO, |casing| casing.value);
    let [left, right] = [along[0].checked_sub(casing), along[1].checked_add(casing)];
    let with = if casing.is_zero() { "" } else { " with its casing" };
    let diagnostic = diagnostic.help(format!(
        "keep clear of it{with}: a unit left of it ends at {} or less, one right of it begins at {} or more",
        subject.most(left.unwrap_or_default()),
        subject.least(right.unwrap_or_default())
    ));
    match up[0].checked_sub(casing).filter(|under| under.is_positive()) {
        Some(under) => diagnostic.help(format!("or stay under it: {} is the tallest", subject.most(under))),
        None => diagnostic,
    }
}
