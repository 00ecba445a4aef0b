//! Under a slope: units that stand into it, and shelves on which nothing stands.

use super::subject::Standing;
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::Contents;
use crate::parts::{Finding, Limit, Opening, Part, Role, Slant};
use crate::quantity::Length;

code!(
    Error,
    INTO,
    "C140",
    "stands_into_slope",
    "a unit that stands into a slope",
    "A ceiling that slopes towards the room is lowest at the wall or over the front. A unit that does not follow it has square ends: they \
     stay under it where it is lowest over the unit (geometry).",
    with_example
);

code!(
    Warning,
    SHALLOW,
    "C141",
    "shallow_under_slope",
    "a shelf that a slope leaves little depth",
    "Less than 4 in (100 mm) of a shelf takes no book (common practice, no source): the mark is too high for that slope.",
    with_example
);

code!(
    Warning,
    CONTENTS,
    "C142",
    "contents_under_slope",
    "what does not fit on its shelf under a slope",
    "Under a slope the room over a shelf is less deep the higher one looks. What stands there fits where its depth, up from the front of \
     the facing, ends before the slope at its own height (geometry).",
    with_example
);

/// Every unit of a wall whose ceiling slopes.
pub(super) const CHECK: Check = Check { codes: &[&INTO, &SHALLOW, &CONTENTS], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for standing in subject.units() {
        if standing.carcass.follow.is_none() {
            stands_into(subject, report, standing);
        }
        if let Some(slant) = standing.unit.slant {
            shallow(subject, report, standing);
            for opening in subject.openings_of(standing.id) {
                let here = standing.carcass.contents.iter().filter(|own| own.on.contains(&opening.name));
                for contents in opening.contents.iter().chain(here) {
                    stands_under(subject, report, (&slant, contents), opening);
                }
            }
        }
    }
}

/// The top of a unit against the slope where that is lowest over it.
fn stands_into(subject: &Subject<'_>, report: &mut Report, standing: &Standing<'_>) {
    let Some((wall, slope)) = standing.wall.and_then(|wall| Some((wall, wall.slope?))) else { return };
    let Some([along, [_, front], [_, top]]) = subject.bounds(standing.id, Length::ZERO) else { return };
    let off = if slope.falls { front } else { Length::ZERO };
    let Some(room) = wall.ceiling.least(along).and_then(|low| slope.at(low, off)) else { return };
    let path = standing.unit.path.as_str();
    let what = "height of a unit under a slope";
    if report.compare(Finding::new(&INTO, path, what, top, Limit::AtMost(room.into()))) {
        return;
    }
    let edge = if slope.falls { "front" } else { "rear" };
    let message = format!(
        "`{path}` stands into the slope: it is {} high, and over its {edge} edges the ceiling is {}",
        subject.print(top),
        subject.print(room)
    );
    let told = Diagnostic::new(&INTO, message).about(path);
    let told = subject.at(told, standing.carcass.height, "its height");
    let told = subject.at_head(told, Some(slope.head), "the slope");
    report.tell(
        told.help("let it `follow` the ceiling: its sides are cut along it, and its shelves end before it"),
    );
}

/// Shelves that a slope leaves less than a book takes.
fn shallow(subject: &Subject<'_>, report: &mut Report, standing: &Standing<'_>) {
    let least = subject.usual((4, 1), 1000);
    let mut narrow: Vec<&Part> = Vec::new();
    let shelves = subject.graph.parts_of(standing.id);
    for shelf in shelves.filter(|part| matches!(part.role, Role::Shelf | Role::Loose)) {
        let what = "depth of a shelf under a slope";
        let limit = Limit::AtLeast(least.into());
        if !report.compare(Finding::new(&SHALLOW, shelf.path.as_str(), what, shelf.size.width.value, limit)) {
            narrow.push(shelf);
        }
    }
    let Some(first) = narrow.iter().min_by_key(|shelf| shelf.size.width.value) else { return };
    let message =
        format!("the slope leaves `{}` {} of depth", first.path, subject.print(first.size.width.value));
    let mut told = subject.at(Diagnostic::new(&SHALLOW, message), first.place.z, "its underside");
    for shelf in &narrow {
        told = told.about(shelf.path.as_str());
    }
    report.tell(told.help(format!(
        "under {} nothing stands on it: set it lower, leave it out, or make the unit deeper",
        subject.print(least)
    )));
}

/// What stands on a shelf against the slope at its own height.
fn stands_under(
    subject: &Subject<'_>,
    report: &mut Report,
    (slant, contents): (&Slant, &Contents),
    opening: &Opening,
) {
    let (Some(height), Some(depth)) = (contents.height, contents.depth) else { return };
    let Some(room) = deep_at(subject, slant, opening, height.value) else { return };
    let what = "depth of what stands on a shelf under a slope";
    let limit = Limit::AtMost(room.into());
    // What is deeper than the shelf itself is told of that.
    let deeper = depth.value > opening.depth.value;
    if report.compare(Finding::new(&CONTENTS, opening.path.as_str(), what, depth.value, limit)) || deeper {
        return;
    }
    let message = format!(
        "`{}`, {} high and {} deep, meet the slope on `{}`: {} of depth are left so high",
        contents.name,
        subject.print(height.value),
        subject.print(depth.value),
        opening.path,
        subject.print(room.max(Length::ZERO))
    );
    let told = subject.at_head(Diagnostic::new(&CONTENTS, message), Some(contents.head), "");
    report.tell(
        told.about(opening.path.as_str()).help("let them stand on a lower shelf, or what is lower here"),
    );
}

/// How deep the room over a shelf is at a height over it, to the front of what stands before it; `None` on overflow.
fn deep_at(subject: &Subject<'_>, slant: &Slant, opening: &Opening, height: Length) -> Option<Length> {
    let on = subject.graph.part(opening.on)?;
    let top = on.place.z.value.checked_add(on.size.thickness.value)?;
    let up = top.checked_add(height)?.checked_sub(slant.low.value)?;
    let off = up.checked_div(slant.grade()?)?;
    let rear = on.place.y.value;
    let front = rear.checked_add(opening.depth.value)?;
    if slant.falls { off.min(front).checked_sub(rear) } else { front.checked_sub(off.max(rear)) }
}
