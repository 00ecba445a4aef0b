//! An outlet, switch or other box in the wall stays reachable.

use super::helpers::place::{Against, against, apart, at_least, away, stretch};
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, Fix, code};
use crate::eval::{Carcass, Decided, Obstacle, ObstacleClass};
use crate::parts::{Bounds, Part, Role, Unit, UnitId};
use crate::quantity::{Length, Round};

code!(
    Error,
    CODE,
    "C060",
    "outlet_covered",
    "an outlet, switch or other box behind a fixed part",
    "A box in the wall that wood covers cannot be reached and may not stay: it is kept clear of every fixed part, or brought \
     out flush with the wood (NEC 314.20: flush with or proud of wood). A cleat is split round it, with a screw each side of \
     the gap. Wiring is for a licensed hand.",
    with_example
);

/// Each box of a wall against every part that stands at it.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for against in against(subject) {
        let parts = at_wall(subject, &against);
        for obstacle in boxes(&against) {
            let Some(place) = against.bounds(subject, obstacle) else { continue };
            let rooms = parts.iter().map(|(_, part, bounds)| (*part, apart(bounds, &place)));
            let Some(room) = rooms.clone().map(|(_, room)| room).min() else { continue };
            let covering: Vec<&(&Unit, &Part, Bounds)> =
                parts.iter().filter(|(_, _, bounds)| apart(bounds, &place).is_negative()).collect();
            let what = "room between a box in the wall and the nearest part";
            report.compare(at_least(&CODE, &obstacle.name, what, [room, Length::ZERO], None).0);
            if !covering.is_empty() {
                let (diagnostic, mends) = told(subject, &against, obstacle, &place, &covering);
                report.tell_with(diagnostic, mends);
            }
        }
    }
}

/// The boxes of a wall that stay where they are.
fn boxes<'a>(against: &Against<'a>) -> impl Iterator<Item = &'a Obstacle> {
    let electric = |obstacle: &&Obstacle| obstacle.class == ObstacleClass::Electric;
    against.wall.obstacles.iter().filter(electric).filter(|obstacle| obstacle.decided == Decided::Keep)
}

/// The parts of a run that reach its wall.
fn at_wall<'a>(subject: &Subject<'a>, against: &Against<'a>) -> Vec<(&'a Unit, &'a Part, Bounds)> {
    let mut parts = Vec::new();
    for id in against.run.all() {
        let Some(unit) = subject.graph.unit(id) else { continue };
        let carcass = subject.graph.parts_of(id).filter(|part| is_fixed(part.role));
        parts.extend(carcass.filter_map(|part| Some((unit, part, subject.graph.bounds(part)?))));
    }
    parts
}

/// Whether a part stays where it is put, at the wall.
fn is_fixed(role: Role) -> bool {
    !role.is_facing() && !role.is_loose()
}

/// What a box is behind, with the numbers that clear it.
fn told(
    subject: &Subject<'_>,
    against: &Against<'_>,
    obstacle: &Obstacle,
    place: &Bounds,
    covering: &[&(&Unit, &Part, Bounds)],
) -> (Diagnostic, Vec<Fix>) {
    let mut mends = Vec::new();
    let Some((_, first, _)) = covering.first() else { return (Diagnostic::new(&CODE, ""), mends) };
    let others = match covering.len() {
        1 => String::new(),
        2 => " and 1 other part".to_owned(),
        count => format!(" and {} other parts", count - 1),
    };
    let message = format!("the {} is covered by `{}`{others}", obstacle.word, first.path);
    let at = format!("{} up, {} along the wall", stretch(subject, place[2]), stretch(subject, place[0]));
    let mut diagnostic = Diagnostic::new(&CODE, message).at(obstacle.head, at).about(obstacle.name.as_ref());
    for (_, part, _) in covering {
        diagnostic = diagnostic.about(part.path.as_str());
        for span in subject.graph.ledger.spans(part.place.z.why) {
            if !diagnostic.labels.iter().any(|label| label.span == span) {
                diagnostic = diagnostic.and_at(span, "this puts the part there");
            }
        }
    }
    let horizontal =
        covering.iter().find(|(_, part, _)| matches!(part.role, Role::Shelf | Role::Top | Role::Cleat));
    // Two sides at a seam move together.
    let sides = covering.iter().filter(|(_, part, _)| matches!(part.role, Role::Side(_) | Role::Divider));
    let word = sides.clone().next().map_or("", |(_, part, _)| part.role.word());
    let sides: Vec<[Length; 2]> = sides.map(|(_, _, bounds)| bounds[0]).collect();
    let ends = [sides.iter().map(|[low, _]| *low).min(), sides.iter().map(|[_, high]| *high).max()];
    let only_cleats = covering.iter().all(|(_, part, _)| part.role == Role::Cleat);
    if let (true, Some((unit, part, bounds))) = (only_cleats, horizontal) {
        diagnostic = split(subject, diagnostic, (unit, part, bounds), place);
    }
    if let Some((unit, part, _)) = horizontal {
        let (help, fix) = mark(subject, against, (unit, part), place);
        diagnostic = diagnostic.help(help);
        mends.extend(fix);
    }
    if let [Some(low), Some(high)] = ends {
        let what = if sides.len() == 1 { word } else { "seam" };
        diagnostic = diagnostic.help(seam(subject, what, [low, high], place[0]));
    }
    (diagnostic.help("or have its box brought out flush with the wood: `decided = bring_flush`"), mends)
}

/// What is said of heights in the room where a unit's own count from its plinth.
fn over_level(unit: &Unit) -> &'static str {
    if unit.stands.is_some() { " over the level line" } else { "" }
}

/// A cleat hangs over the box, and its shelf clears it: the cleat is split.
fn split(
    subject: &Subject<'_>,
    diagnostic: Diagnostic,
    (unit, cleat, bounds): (&Unit, &Part, &Bounds),
    place: &Bounds,
) -> Diagnostic {
    let shelf = bounds[2][1].checked_sub(place[2][1]).filter(|room| !room.is_negative());
    let name = &cleat.name;
    let hangs = subject.print(bounds[2][0]);
    let mut diagnostic = diagnostic;
    if let Some(room) = shelf {
        let shelf = subject.print(bounds[2][1]);
        let over = over_level(unit);
        diagnostic = diagnostic.note(format!(
            "the shelf `{name}` at {shelf}{over} clears it by {}; its cleat hangs to {hangs} and covers the box",
            subject.print(room)
        ));
    }
    let [from, to] = unit.screw_window.map_or(bounds[0], |window| window.map(|len| len.value));
    let within = |stud: &&crate::eval::Len| from <= stud.value && stud.value <= to;
    let studs = || unit.studs.iter().filter(within).map(|stud| stud.value);
    let left = studs().filter(|stud| *stud <= place[0][0]).max();
    let right = studs().filter(|stud| *stud >= place[0][1]).min();
    let screws = match (left, right) {
        (Some(left), Some(right)) => format!(
            "a screw each side of the gap, at {} and {}; no size changes",
            subject.print(left),
            subject.print(right)
        ),
        _ => "a screw each side of the gap; where no stud is, add blocking; no size changes".to_owned(),
    };
    diagnostic.help(format!("split the cleat round it, {screws}: `decided = cut_round`"))
}

/// Whether a shelf, or the shelf over a cleat, stands in a bay.
fn in_bay(subject: &Subject<'_>, unit: UnitId, part: &Part) -> bool {
    let shelves = subject.graph.in_bays(unit);
    shelves.contains(&part.id) || part.backing.iter().any(|shelf| shelves.contains(shelf))
}

/// The nearest mark at which the shelf and its cleat clear every box along the run; of a shelf without a mark, where it clears
/// this one.
fn mark(
    subject: &Subject<'_>,
    against: &Against<'_>,
    (unit, part): (&Unit, &Part),
    place: &Bounds,
) -> (String, Option<Fix>) {
    let name: &str = &part.name;
    let mut units = against.stated.carcasses().zip(against.run.all());
    let carcass = units.find(|(_, id)| part.unit == Some(*id)).map(|(carcass, _)| carcass);
    // What stands in a bay has no mark of the stick, whatever its name is.
    let in_bay = part.unit.is_some_and(|unit| in_bay(subject, unit, part));
    let marked = carcass.filter(|carcass| !in_bay && carcass.marks.iter().any(|mark| &*mark.name == name));
    let Some(carcass) = marked else {
        let [bottom, top] = place[2].map(|edge| subject.print(edge));
        return (
            format!(
                "or let `{name}` end under {bottom}, or with all that hangs from it over {top}{}",
                over_level(unit)
            ),
            None,
        );
    };
    match nearest(subject, against, (unit, carcass), name) {
        Some(mark) => {
            let with = if carcass.cleat.is_some() { " with its cleat" } else { "" };
            let said = subject.print(mark);
            let own = carcass.marks.iter().find(|mark| &*mark.name == name);
            let title = format!("move the mark `{name}` to {{}}");
            let fix = own.and_then(|own| subject.change(own.height, mark, &title, false));
            (format!("the nearest mark at which `{name}` clears it{with} is {said}"), fix)
        }
        None => (format!("no mark between its neighbours clears it: leave `{name}` out here"), None),
    }
}

fn nearest(
    subject: &Subject<'_>,
    against: &Against<'_>,
    (unit, carcass): (&Unit, &Carcass),
    name: &str,
) -> Option<Length> {
    let position = carcass.marks.iter().position(|mark| &*mark.name == name)?;
    let now = carcass.marks.get(position)?.height.value;
    let thickness = subject.graph.sheet(unit.sheet)?.thickness.value;
    // What hangs under it, and what stands on it; a bottom stretcher without a height reaches down to the floor.
    let under = match (position, carcass.bottom_stretcher) {
        (0, Some(stretcher)) => stretcher.height.map(|height| height.value),
        (0, None) => Some(Length::ZERO),
        _ => Some(carcass.cleat.map_or(Length::ZERO, |cleat| cleat.value)),
    };
    let hangs = under.unwrap_or_default();
    let last = position + 1 == carcass.marks.len();
    let on_top = carcass.top_stretcher.filter(|_| last).and_then(|stretcher| stretcher.height);
    let rises = on_top.map_or(Some(thickness), |height| height.value.checked_add(thickness))?;
    let [low, next] = neighbours(subject, against, unit, (carcass, now), thickness)?;
    let [from, to] = against.reach(subject)?[0];
    // Marks count from the bottom end of the sides, which a plinth raises.
    let stands = unit.stands.map_or(Length::ZERO, |stands| stands.value);
    let on_sides = |[low, high]: [Length; 2]| Some([low.checked_sub(stands)?, high.checked_sub(stands)?]);
    let taken: Vec<[Length; 2]> = boxes(against)
        .filter_map(|obstacle| against.bounds(subject, obstacle))
        .filter(|place| place[0][0] < to && from < place[0][1])
        .filter_map(|place| on_sides(place[2]))
        .collect();
    let marks = subject.marks();
    let candidates = taken.iter().flat_map(|[bottom, top]| {
        let above = top.checked_add(hangs).and_then(|mark| marks.round(mark, Round::Up));
        let under = bottom.checked_sub(rises).and_then(|mark| marks.round(mark, Round::Down));
        [under, above]
    });
    let clears = |mark: &Length| -> bool {
        let foot = if under.is_some() { mark.checked_sub(hangs) } else { Some(Length::ZERO) };
        let band = foot.zip(mark.checked_add(rises));
        band.is_some_and(|(bottom, top)| {
            let free =
                taken.iter().all(|place| away([bottom, top], *place).is_some_and(|room| !room.is_negative()));
            free && (bottom > low || position == 0) && bottom >= low && top < next
        })
    };
    let distance = |mark: &Length| mark.apart(now).unwrap_or_default();
    candidates.flatten().filter(clears).min_by_key(|mark| (distance(mark), *mark))
}

/// Between which heights a shelf may move with all that hangs under it, in every unit of the run that uses its mark.
fn neighbours(
    subject: &Subject<'_>,
    against: &Against<'_>,
    unit: &Unit,
    (carcass, now): (&Carcass, Length),
    thickness: Length,
) -> Option<[Length; 2]> {
    let strip = against.stated.facing.as_ref().and_then(|facing| facing.strip);
    let strip = strip.and_then(|strip| strip.value.checked_sub(thickness)).unwrap_or_default();
    let hangs = carcass.cleat.map_or(strip, |cleat| cleat.value.max(strip));
    // Units on one line: what stands on another plinth has other heights.
    let level = |unit: &Unit| unit.stands.map(|stands| stands.value);
    let units = against.run.all().map(|id| subject.graph.unit(id));
    let sharing: Vec<(&Carcass, &Unit)> = against
        .stated
        .carcasses()
        .zip(units)
        .filter_map(|(carcass, unit)| Some((carcass, unit?)))
        .filter(|(carcass, other)| {
            level(other) == level(unit) && carcass.marks.iter().any(|mark| mark.height.value == now)
        })
        .collect();
    let heights: Vec<Length> =
        sharing.iter().flat_map(|(carcass, _)| carcass.marks.iter().map(|mark| mark.height.value)).collect();
    let lowest = sharing.iter().map(|(_, unit)| unit.height.value).min().unwrap_or(unit.height.value);
    let below = heights.iter().copied().filter(|height| *height < now).max();
    let above = heights.iter().copied().filter(|height| *height > now).min();
    let low = below.map_or(Some(Length::ZERO), |below| below.checked_add(thickness))?;
    let high = above.map_or(Some(lowest), |above| above.checked_sub(hangs))?;
    Some([low, high])
}

/// How far a side or a seam moves so that it clears the box.
fn seam(subject: &Subject<'_>, what: &str, side: [Length; 2], place: [Length; 2]) -> String {
    let right = place[1].checked_sub(side[0]).unwrap_or_default();
    let left = side[1].checked_sub(place[0]).unwrap_or_default();
    let (by, way) = if right < left { (right, "right") } else { (left, "left") };
    let by = subject.marks().print_rounded(by, Round::Up);
    format!("move that {what} {} to the {way}, by other widths or another place of the run", by.text())
}
