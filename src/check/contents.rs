//! What will stand on a shelf goes into the opening over it, with room for a finger.

use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, code};
use crate::eval::{Contents, Len};
use crate::parts::{Finding, Limit, Opening, UnitId};
use crate::quantity::Length;

code!(
    Note,
    FINGER,
    "C015",
    "finger_room",
    "little room for a finger over what stands on a shelf",
    "A finger needs 1 in (25 mm) over the tallest thing (common practice, no source). What stands in front of the cleat goes in \
     under the strip or rail at the front; what is deeper stands under the cleat too.",
    with_example
);

code!(
    Warning,
    TALL,
    "C016",
    "contents_too_tall",
    "what does not fit into its opening",
    "Less than 1/2 in (12.7 mm) over the tallest thing and it does not fit in (common practice, no source). An opening is the least \
     of three: behind, at the front under the strip or rail, and under the cleat for what is so deep that it stands there. Over the \
     topmost shelf of a unit that is open above, what is taller than the sides stands out over them (geometry).",
    with_example
);

code!(
    Warning,
    DEEP,
    "C017",
    "contents_too_deep",
    "what is deeper than its shelf",
    "What is deeper than the shelf and its strip stands out over the front edge (geometry).",
    with_example
);

code!(
    Warning,
    WIDE,
    "C123",
    "contents_too_wide",
    "what is wider than its opening",
    "What is wider than the clear width less 1/2 in (12.7 mm) does not go in (common practice, no source).",
    with_example
);

/// All contents against the openings they are for.
pub(super) const CHECK: Check = Check { codes: &[&FINGER, &TALL, &DEEP, &WIDE], run };

/// The same contents on the same shelf, in several units.
struct Shelved<'a> {
    contents: &'a Contents,
    openings: Vec<&'a Opening>,
}

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut places: Vec<Shelved<'_>> = Vec::new();
    for standing in subject.units() {
        let own: Vec<&Opening> = own_openings(subject, standing.id);
        for contents in &standing.carcass.contents {
            let fits = |opening: &&&Opening| contents.on.contains(&opening.name);
            let stated: Vec<&Opening> = own.iter().filter(fits).copied().collect();
            if contents.on.is_empty() {
                // Anywhere: the roomiest opening takes it.
                let best = own.iter().max_by_key(|opening| opening.opening_front.value);
                best.into_iter().for_each(|opening| add(&mut places, contents, opening));
            }
            stated.into_iter().for_each(|opening| add(&mut places, contents, opening));
        }
        for opening in own {
            opening.contents.iter().for_each(|contents| add(&mut places, contents, opening));
        }
    }
    for place in &places {
        high(subject, report, place);
        deep(subject, report, place);
        wide(subject, report, place);
    }
}

/// The openings of a unit in which things stand.
fn own_openings<'a>(subject: &Subject<'a>, unit: UnitId) -> Vec<&'a Opening> {
    let all = subject.openings_of(unit).iter().copied();
    all.filter(|opening| !opening.divided && opening.used).collect()
}

fn add<'a>(places: &mut Vec<Shelved<'a>>, contents: &'a Contents, opening: &'a Opening) {
    let same = |place: &&mut Shelved<'a>| {
        place.contents.head == contents.head
            && place.openings.first().map(|first| &first.name) == Some(&opening.name)
    };
    match places.iter_mut().find(same) {
        Some(place) => place.openings.push(opening),
        None => places.push(Shelved { contents, openings: vec![opening] }),
    }
}

/// The least opening that the contents meet, and where that is.
fn least<'a>(contents: &Contents, opening: &'a Opening) -> (Length, &'static str, &'a Opening) {
    let front = opening.opening_front.value.min(opening.clear_height.value);
    let under_cleat = contents.depth.is_some_and(|depth| depth.value > opening.depth.value);
    if under_cleat && opening.opening_rear.value < front {
        (opening.opening_rear.value, "under the cleat", opening)
    } else if opening.opening_front.value < opening.clear_height.value {
        (front, "at the front", opening)
    } else {
        (front, "behind the front edge", opening)
    }
}

fn high(subject: &Subject<'_>, report: &mut Report, place: &Shelved<'_>) {
    let contents = place.contents;
    let Some(height) = contents.height else { return };
    let [finger, enters] = [subject.usual((1, 1), 250), subject.usual((1, 2), 127)];
    let (open, closed): (Vec<&Opening>, Vec<&Opening>) =
        place.openings.iter().copied().partition(|opening| opening.open);
    over_sides(subject, report, (contents, height), &open);
    let mut short = Vec::new();
    for opening in closed {
        let (room, at, opening) = least(contents, opening);
        let spare = room.checked_sub(height.value).unwrap_or_default();
        let (code, limit) = if spare < enters { (&TALL, enters) } else { (&FINGER, finger) };
        let what = "room over what stands on a shelf";
        let limit = Limit::AtLeast(limit.into());
        if !report.compare(Finding::new(code, opening.path.as_str(), what, spare, limit)) {
            short.push((spare, room, at, opening));
        }
    }
    let Some((spare, room, at, opening)) = short.iter().min_by_key(|(spare, ..)| *spare).copied() else {
        return;
    };
    let name = &contents.name;
    let (code, message) = if spare < enters {
        let message = format!(
            "`{name}`, {} high, do not fit into the opening over `{}`: {} {at}",
            subject.print(height.value),
            opening.path,
            subject.print(room)
        );
        (&TALL, message)
    } else {
        (
            &FINGER,
            format!("{} of room for a finger over `{name}` on `{}`", subject.print(spare), opening.path),
        )
    };
    let mut diagnostic = Diagnostic::new(code, message);
    diagnostic = subject.at_head(diagnostic, Some(contents.head), "");
    diagnostic = subject.at(diagnostic, room_of(at, opening), "the opening follows from this");
    for (.., opening) in &short {
        diagnostic = diagnostic.about(opening.path.as_str());
    }
    if short.len() > 1 {
        let paths: Vec<&str> = short.iter().map(|(.., opening)| opening.path.as_str()).collect();
        diagnostic = diagnostic.note(format!("so it is on {}", names(&paths)));
    }
    let lacks = finger.checked_sub(spare).unwrap_or_default();
    report.tell(diagnostic.help(format!(
        "raise what is above by {}, so that {} are left, or let them stand elsewhere",
        subject.least(lacks),
        subject.print(finger)
    )));
}

/// What stands where nothing is above it, against the ends of the sides.
fn over_sides(
    subject: &Subject<'_>,
    report: &mut Report,
    (contents, height): (&Contents, Len),
    openings: &[&Opening],
) {
    let mut out = Vec::new();
    for opening in openings {
        let what = "height of what stands on the topmost shelf";
        let limit = Limit::AtMost(opening.clear_height.value.into());
        if !report.compare(Finding::new(&TALL, opening.path.as_str(), what, height.value, limit)) {
            out.push(*opening);
        }
    }
    let Some(opening) = out.iter().copied().min_by_key(|opening| opening.clear_height.value) else { return };
    let over = height.value.checked_sub(opening.clear_height.value).unwrap_or_default();
    let message = format!(
        "`{}`, {} high, stand out {} over the sides on the topmost shelf `{}`",
        contents.name,
        subject.print(height.value),
        subject.print(over),
        opening.path
    );
    let told = subject.at_head(Diagnostic::new(&TALL, message), Some(contents.head), "");
    let mut told = subject.at(told, opening.clear_height, "from the shelf to the ends of the sides");
    for opening in &out {
        told = told.about(opening.path.as_str());
    }
    if out.len() > 1 {
        let paths: Vec<&str> = out.iter().map(|opening| opening.path.as_str()).collect();
        told = told.note(format!("so it is on {}", names(&paths)));
    }
    report.tell(told.help(format!(
        "make the unit {} higher, lower the shelf by as much, or let them stand elsewhere",
        subject.least(over)
    )));
}

fn room_of(at: &str, opening: &Opening) -> Len {
    match at {
        "under the cleat" => opening.opening_rear,
        "at the front" => opening.opening_front,
        _ => opening.clear_height,
    }
}

fn deep(subject: &Subject<'_>, report: &mut Report, place: &Shelved<'_>) {
    let contents = place.contents;
    let Some(depth) = contents.depth else { return };
    let mut out = Vec::new();
    for opening in &place.openings {
        let behind = subject.graph.unit(opening.unit).and_then(|unit| subject.graph.sheet(unit.sheet));
        let cleat = behind.filter(|_| opening.opening_rear.value < opening.clear_height.value);
        let cleat = cleat.map_or(Length::ZERO, |sheet| sheet.thickness.value);
        let room = opening.depth.value.checked_add(cleat).unwrap_or_default();
        let what = "depth of what stands on a shelf";
        let limit = Limit::AtMost(room.into());
        if !report.compare(Finding::new(&DEEP, opening.path.as_str(), what, depth.value, limit)) {
            out.push((room, *opening));
        }
    }
    let Some((room, opening)) = out.iter().min_by_key(|(room, _)| *room) else { return };
    let message = format!(
        "`{}`, {} deep, stand out over the shelf `{}`, which is {} deep",
        contents.name,
        subject.print(depth.value),
        opening.path,
        subject.print(*room)
    );
    let mut diagnostic = subject.at_head(Diagnostic::new(&DEEP, message), Some(contents.head), "");
    diagnostic = subject.at(diagnostic, opening.depth, "the depth follows from this");
    for (_, opening) in &out {
        diagnostic = diagnostic.about(opening.path.as_str());
    }
    report.tell(
        diagnostic
            .help(format!("make the shelf {} deep or more, or lay them down", subject.least(depth.value))),
    );
}

fn wide(subject: &Subject<'_>, report: &mut Report, place: &Shelved<'_>) {
    let Some(width) = place.contents.width else { return };
    let room = subject.usual((1, 2), 127);
    let mut narrow = Vec::new();
    for opening in &place.openings {
        let spare = opening.clear_width.value.checked_sub(width.value).unwrap_or_default();
        let limit = Limit::AtLeast(room.into());
        let what = "room beside what stands on a shelf";
        if !report.compare(Finding::new(&WIDE, opening.path.as_str(), what, spare, limit)) {
            narrow.push((spare, *opening));
        }
    }
    let Some((_, opening)) = narrow.iter().min_by_key(|(spare, _)| *spare) else { return };
    let message = format!(
        "`{}`, {} wide, do not go into the opening over `{}`, which is {} wide",
        place.contents.name,
        subject.print(width.value),
        opening.path,
        subject.print(opening.clear_width.value)
    );
    let mut diagnostic = subject.at_head(Diagnostic::new(&WIDE, message), Some(place.contents.head), "");
    diagnostic = subject.at(diagnostic, opening.clear_width, "the width follows from this");
    for (_, opening) in &narrow {
        diagnostic = diagnostic.about(opening.path.as_str());
    }
    let least = width.value.checked_add(room).unwrap_or_default();
    report.tell(diagnostic.help(format!(
        "make the opening {} wide or more, or let them stand elsewhere",
        subject.least(least)
    )));
}
