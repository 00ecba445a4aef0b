//! What stands in a space goes in and out of it.

use super::helpers::place::{against, stretch};
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, Len, Obstacle, Space, Thing};
use crate::parts::{Finding, Limit, RunPart, SpacePart};
use crate::quantity::Length;

code!(
    Error,
    NARROW,
    "C118",
    "space_too_narrow",
    "a space that is narrower than what stands in it",
    "What stands in a space needs its own width and the play at each side (1/2 in or 10 mm where none is stated, common practice, no \
     source), at the narrowest place: else it does not go in, or never comes out again for its hoses and its filter.",
    with_example
);

code!(
    Error,
    BEHIND,
    "C119",
    "no_room_behind",
    "a thing that does not go back to where it is to stand",
    "What reaches out of the wall behind a thing, such as a baseboard, a pipe or a heater, keeps it off by as much (geometry). It is taken \
     off, or the thing is stated to stand so far before the wall.",
    with_example
);

code!(
    Warning,
    STANDS_OUT,
    "C128",
    "stands_out",
    "a thing that stands out before the work",
    "A thing with what is left free behind it reaches farther into the room than the units beside it, by more than 2 in (50 mm, common \
     practice, no source): hips and doors meet its corner.",
    with_example
);

/// All that stands in the spaces of every run.
pub(super) const CHECK: Check = Check { codes: &[&NARROW, &BEHIND, &STANDS_OUT], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for (stated, run) in subject.model.runs.iter().zip(&subject.graph.runs) {
        let spaces: Vec<(&Space, &SpacePart)> = stated.spaces.iter().zip(&run.spaces).collect();
        for (space, part) in &spaces {
            if !space.things.is_empty() {
                goes_in(subject, report, space, part);
            }
        }
        let facing = stated.facing.as_ref().map(|facing| facing.thickness.value);
        for (space, part) in spaces {
            for thing in &space.things {
                stands_out(subject, report, (run, facing), (part, thing));
            }
        }
    }
    for against in against(subject) {
        for (space, part) in against.stated.spaces.iter().zip(&against.run.spaces) {
            for thing in &space.things {
                let kept = against.wall.obstacles.iter().filter(|own| own.decided != Decided::Remove);
                let reach = against.reach(subject).map(|reach| reach[0]);
                for obstacle in kept {
                    let place = reach.and_then(|reach| against.wall.place(obstacle, reach));
                    let end = part.x.value.checked_add(part.width.value);
                    let Some(([along, out, up], end)) = place.zip(end) else { continue };
                    let behind = along[0] < end && part.x.value < along[1];
                    if behind && up[0] < thing.size[2].value && out[0].is_zero() {
                        goes_back(subject, report, (part, thing), obstacle, out[1]);
                    }
                }
            }
        }
    }
}

/// The path of a thing.
fn path(space: &SpacePart, thing: &Thing) -> String {
    format!("{}.{}", space.path, thing.name)
}

fn sum(lens: impl IntoIterator<Item = Length>) -> Length {
    lens.into_iter().fold(Length::ZERO, |sum, len| sum.checked_add(len).unwrap_or(sum))
}

fn goes_in(subject: &Subject<'_>, report: &mut Report, space: &Space, part: &SpacePart) {
    let needed = sum(space.things.iter().flat_map(|thing| {
        let play = thing.play.value;
        [thing.size[0].value, play, play]
    }));
    let what = "width for what stands in a space, with its play";
    let limit = Limit::AtLeast(needed.into());
    if report.compare(Finding::new(&NARROW, part.path.as_str(), what, part.width.value, limit)) {
        return;
    }
    let names: Vec<&str> = space.things.iter().map(|thing| &*thing.name).collect();
    let message = format!(
        "{} with the play beside it needs {}, and `{}` is {} wide",
        super::names(&names),
        subject.print(needed),
        part.path,
        subject.print(part.width.value)
    );
    let mut told = Diagnostic::new(&NARROW, message).at(space.head, "this space").about(part.path.as_str());
    for thing in &space.things {
        told = subject.at(told, thing.size[0], "its width");
    }
    let lack = needed.checked_sub(part.width.value).unwrap_or_default();
    report.tell(told.help(format!("make the space {} wider, or ask for less `play`", subject.least(lack))));
}

fn stands_out(
    subject: &Subject<'_>,
    report: &mut Report,
    (run, facing): (&RunPart, Option<Length>),
    (part, thing): (&SpacePart, &Thing),
) {
    let beside = [part.after.checked_sub(1), Some(part.after)].into_iter().flatten();
    let units = beside.filter_map(|place| subject.graph.unit(*run.units.get(place)?));
    let Some(deep) = units.map(|unit| unit.depth.value).max() else { return };
    let most = sum([deep, facing.unwrap_or_default(), subject.usual((2, 1), 500)]);
    let front = sum([thing.size[1].value, thing.behind.map_or(Length::ZERO, |behind| behind.value)]);
    let what = "front of a thing from the wall";
    let path = path(part, thing);
    if report.compare(Finding::new(&STANDS_OUT, path.as_str(), what, front, Limit::AtMost(most.into()))) {
        return;
    }
    let over = front.checked_sub(sum([deep, facing.unwrap_or_default()])).unwrap_or_default();
    let message = format!("`{path}` stands out {} before the units beside it", subject.print(over));
    let told = Diagnostic::new(&STANDS_OUT, message).at(thing.head, "").about(part.path.as_str());
    let told = subject.at(told, thing.size[1], "its depth");
    let lack = front.checked_sub(most).unwrap_or_default();
    report.tell(told.help(format!("make the units beside it {} deeper", subject.least(lack))));
}

fn goes_back(
    subject: &Subject<'_>,
    report: &mut Report,
    (part, thing): (&SpacePart, &Thing),
    obstacle: &Obstacle,
    out: Length,
) {
    let behind = thing.behind.map_or(Length::ZERO, |behind: Len| behind.value);
    let (what, path) = ("room behind a thing", path(part, thing));
    if report.compare(Finding::new(&BEHIND, path.as_str(), what, behind, Limit::AtLeast(out.into()))) {
        return;
    }
    let message =
        format!("`{path}` does not go back: the {} reaches {} out", obstacle.word, subject.print(out));
    let end = part.x.value.checked_add(part.width.value).unwrap_or_default();
    let stands = format!("its space lies {}", stretch(subject, [part.x.value, end]));
    let told = Diagnostic::new(&BEHIND, message).at(thing.head, stands).about(part.path.as_str());
    report.tell(told.and_at(obstacle.head, "in the way").help(format!(
        "leave {} or more `behind` it, or have the {} taken off there: `decided = remove`",
        subject.least(out),
        obstacle.word
    )));
}
