//! Units end before the casing of a door or window.

use super::helpers::place::{against, at_least, stretch};
use super::opening_covered::clear_of;
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, InWall, RoomOpening};
use crate::parts::{Bounds, Unit};
use crate::quantity::Length;

code!(
    Error,
    CODE,
    "C065",
    "casing_crossed",
    "a unit that crosses the casing of a door or window",
    "Casing stands before the wall, so a unit that reaches over it stands off the wall (geometry). The unit ends before it, or the \
     casing is cut back where the work stands.",
    with_example
);

/// The casing of each opening of a wall against every unit along it.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for against in against(subject) {
        let here = against.wall.openings.iter().filter(|opening| opening.wall == InWall::This);
        for opening in here.filter(|opening| opening.decided == Decided::Keep) {
            let Some(casing) = opening.casing else { continue };
            for (unit, bounds) in against.units(subject) {
                // What covers the opening itself has a message of its own.
                if clear_of(&bounds, opening, Length::ZERO).is_negative() {
                    continue;
                }
                let room = clear_of(&bounds, opening, casing.value);
                let told = room.is_negative().then(|| told(subject, opening, casing.value, (unit, &bounds)));
                let what = "room between casing and a unit";
                report.take(at_least(&CODE, &unit.path, what, [room, Length::ZERO], told));
            }
        }
    }
}

fn told(
    subject: &Subject<'_>,
    opening: &RoomOpening,
    casing: Length,
    (unit, bounds): (&Unit, &Bounds),
) -> Diagnostic {
    let [left, right] = opening.along.map(|len| len.value);
    let outside = [left.checked_sub(casing).unwrap_or(left), right.checked_add(casing).unwrap_or(right)];
    let over = clear_of(bounds, opening, casing);
    let over = Length::ZERO.checked_sub(over).unwrap_or_default();
    let message =
        format!("`{}` reaches {} over the casing of the {}", unit.path, subject.print(over), opening.word);
    let diagnostic = Diagnostic::new(&CODE, message)
        .at(opening.head, format!("with its casing {} along the wall", stretch(subject, outside)))
        .about(unit.path.as_str());
    let diagnostic = match unit.head {
        Some(head) => diagnostic.and_at(head, format!("stands {}", stretch(subject, bounds[0]))),
        None => diagnostic,
    };
    let end = if bounds[0][0] < outside[0] {
        format!("let the unit end at {} or less", subject.most(outside[0]))
    } else {
        format!("let the unit begin at {} or more", subject.least(outside[1]))
    };
    diagnostic.help(format!("{end}, or cut the casing back there: `decided = cut_round`"))
}
