//! The plan of a run: cut above its bottom shelves and seen from above, the wall at the top of the page.

use super::pick::Picked;
use super::picture::{Edge, Extent, Filled, Form, Measured, Pane, Picture, Spot};
use super::room::{Room, last};
use super::solid::{Group, Solid, about, corners, half, less, middle, plus, talked_about};
use super::{Subject, ViewSpec};
use crate::document::Line;
use crate::eval::{Decided, InWall, Return, RoomOpening};
use crate::parts::{EndPart, Hand, Role, UnitId};
use crate::quantity::{Length, Rational};

/// The view.
pub(super) const VIEW: ViewSpec = ViewSpec {
    name: "plan",
    about: "a run from above: wall with its readings, gaps, units, studs, what is in the way, door swings",
    of: "a run or a unit",
    make,
};

/// So many times as far as they lean the walls at both ends are drawn.
const EXAGGERATED: i128 = 10;

fn make(subject: Subject<'_>, picked: &Picked) -> Vec<Picture> {
    picked.groups(subject).iter().map(|group| picture(subject, group, picked.unit)).collect()
}

/// A place on the plan: away from the wall is down the page.
fn spot(x: Length, y: Length) -> Spot {
    [x, less(Length::ZERO, y)]
}

fn room_of([x, y]: Extent) -> Extent {
    [x, [less(Length::ZERO, y[1]), less(Length::ZERO, y[0])]]
}

fn picture(subject: Subject<'_>, group: &Group<'_>, unit: Option<UnitId>) -> Picture {
    let path = group.path();
    let mut picture = Picture::new(VIEW.name, path, format!("{path}: plan, cut over the bottom shelves"));
    let mut pane = Pane::new("", "the left corner of the wall", "the wall; away from it counts down");
    // What hangs is over the cut.
    let hangs = |solid: &Solid<'_>| group.hung.iter().any(|(id, _)| solid.part.unit == Some(*id));
    let solids: Vec<Solid<'_>> = group.solids(subject).into_iter().filter(|solid| !hangs(solid)).collect();
    let room = Room::of(subject, group);
    parts(&mut pane, subject, &solids, unit);
    if super::fronts::swings(&mut pane, subject, group) {
        picture.notes.push("A quarter of a circle is a door as it swings.".to_owned());
    }
    picture.legend.push((Line::Cut, "cut"));
    picture.legend.push((Line::Light, "seen below"));
    if let Some(room) = &room {
        let (leans, taken_off) = walls(&mut pane, subject, group, room);
        if pane.shapes.iter().any(|shape| shape.line == Line::Centre) {
            picture.legend.push((Line::Centre, "middle of a stud"));
        }
        if leans {
            picture.notes.push(format!(
                "The walls at the ends are drawn at each reading, their lean {EXAGGERATED} times as large as it is."
            ));
        }
        picture.notes.extend(readings(subject, group));
        if !taken_off.is_empty() {
            picture.notes.push(format!("Taken off, and not drawn: {}.", taken_off.join(", ")));
        }
    }
    for beside in super::corner::beside(subject, group) {
        beside.draw(&mut pane, room_of([beside.along, beside.out]));
    }
    for space in super::space::standing(subject, group) {
        for thing in &space.things {
            thing.draw(&mut pane, room_of([thing.along, thing.out]));
        }
    }
    for (_, unit) in &group.hung {
        let [left, right] = unit.faces();
        let form = Form::rect(room_of([[left, right], [Length::ZERO, unit.depth.value]]));
        pane.shape(&unit.path, "hangs above", form, Line::Hidden, Filled::Open);
    }
    chains(&mut pane, subject, group, (&solids, room.as_ref()));
    let spaces = group.run.is_some_and(|(_, run)| !run.spaces.is_empty());
    if (room.is_some() || spaces || !group.hung.is_empty())
        && pane.shapes.iter().any(|shape| shape.line == Line::Hidden)
    {
        let says = if spaces { "in the way, in a space, or above" } else { "in the way, or above" };
        picture.legend.push((Line::Hidden, says));
    }
    picture.panes.push(pane);
    picture
}

/// What is seen below the cut, then what is cut.
fn parts(pane: &mut Pane, subject: Subject<'_>, solids: &[Solid<'_>], unit: Option<UnitId>) {
    let heavy = unit.map(|unit| talked_about(subject, unit));
    // A little over the lowest shelf of each unit; what stands by itself is cut where it stands.
    let height = |solid: &Solid<'_>| {
        let own = solids.iter().filter(|other| {
            other.part.role == Role::Shelf
                && (solid.part.unit.is_none() || other.part.unit == solid.part.unit)
        });
        let lowest = own.map(|shelf| shelf.bounds[2][1]).min();
        plus(lowest.unwrap_or_default(), about(subject, (1, 2), 10))
    };
    let cut = |solid: &&Solid<'_>| {
        let at = height(solid);
        let [_, _, [low, high]] = solid.bounds;
        low < at && at < high
    };
    let outline = |solid: &Solid<'_>| {
        let [x, y, _] = solid.bounds;
        Form::Outline(corners(room_of([x, y])))
    };
    let mut below: Vec<&Solid<'_>> =
        solids.iter().filter(|solid| solid.bounds[2][1] <= height(solid)).collect();
    below.sort_by_key(|solid| (solid.bounds[2][1], solid.part.id));
    for solid in below {
        pane.shape(&solid.part.path, solid.part.role.word(), outline(solid), Line::Light, Filled::Closed);
    }
    for solid in solids.iter().filter(cut) {
        let talked = heavy.as_ref().is_none_or(|heavy| heavy.contains(&solid.part.id));
        let line = if talked { Line::Cut } else { Line::Outline };
        let fill = match solid.cut(0) {
            // Of what lies flat nothing is cut.
            Filled::LayersAcross if solid.thin() == 2 => Filled::Closed,
            fill => fill,
        };
        pane.shape(&solid.part.path, solid.part.role.word(), outline(solid), line, fill);
    }
    // A counter or a crown over it is dashed.
    for solid in solids.iter().filter(|solid| solid.part.role == Role::Counter) {
        let [x, y, _] = solid.bounds;
        let form = Form::rect(room_of([x, y]));
        pane.shape(&solid.part.path, "counter above", form, Line::Hidden, Filled::Open);
    }
}

/// The wall behind with its studs, the walls at the ends as they lean, what is in the way; says whether a wall leans, and what is
/// taken off.
fn walls(pane: &mut Pane, subject: Subject<'_>, group: &Group<'_>, room: &Room<'_>) -> (bool, Vec<String>) {
    let (wall, name) = (room.wall, &*room.wall.name);
    let lining = wall.lining.map_or_else(|| about(subject, (1, 2), 12), |lining| lining.value);
    let open = about(subject, (3, 1), 80);
    let ends = group.run.map(|(_, run)| run.ends.as_slice()).unwrap_or_default();
    let mut along = room.along;
    for (at, _) in ends.iter().enumerate().filter(|(_, end)| end.beyond == Return::Open) {
        if at == 0 { along[0] = less(along[0], open) } else { along[1] = plus(along[1], open) }
    }
    let lined = [along, [less(Length::ZERO, lining), Length::ZERO]];
    pane.shape(name, "wall", Form::rect(room_of(lined)), Line::Cut, Filled::Wall);
    // A stud of 1 1/2 in (38 mm), as boards of 2 in are: drawn about so wide and twice as deep.
    let (thick, deep) = (about(subject, (3, 2), 38), about(subject, (3, 1), 76));
    for stud in
        wall.studs.iter().map(|stud| stud.value).filter(|at| room.along[0] <= *at && *at <= room.along[1])
    {
        let behind = less(Length::ZERO, plus(lining, deep));
        let across = [less(stud, half(thick)), plus(stud, half(thick))];
        let body = [across, [behind, less(Length::ZERO, lining)]];
        pane.shape(name, "stud", Form::rect(room_of(body)), Line::Light, Filled::Open);
        let beyond = about(subject, (1, 1), 25);
        pane.line(
            name,
            "middle of a stud",
            Line::Centre,
            vec![spot(stud, less(behind, beyond)), spot(stud, beyond)],
        );
    }
    let mut leans = false;
    for (at, (end, hand)) in ends.iter().zip(Hand::BOTH).enumerate() {
        let face = group.faces().and_then(|faces| faces.get(at).copied()).unwrap_or_default();
        leans |= leaning(pane, group, (end, hand), (face, name));
    }
    let mut taken_off = Vec::new();
    for obstacle in &wall.obstacles {
        if obstacle.decided == Decided::Remove {
            taken_off.push(last(&obstacle.name).to_owned());
            continue;
        }
        let Some([x, y, _]) = wall.place(obstacle, room.along) else { continue };
        let shown = room_of([x, y]);
        pane.shape(&obstacle.name, "obstacle", Form::rect(shown), Line::Hidden, Filled::Open);
        pane.point(shown.map(middle), vec![last(&obstacle.name).to_owned()]);
    }
    for opening in &wall.openings {
        door(pane, subject, opening, along);
    }
    (leans, taken_off)
}

/// A wall at an end, once for each reading; the middle one is where places count from, the others lean from it.
fn leaning(
    pane: &mut Pane,
    group: &Group<'_>,
    (end, hand): (&EndPart, Hand),
    (face, name): (Length, &str),
) -> bool {
    if end.beyond == Return::Open {
        return false;
    }
    let [deep, _] = group.reach();
    let at = |gap: Length| if hand == Hand::Left { less(face, gap) } else { plus(face, gap) };
    let more = |gap: Length| {
        let lean = less(gap, end.corner.value).checked_mul(Rational::from(EXAGGERATED));
        plus(end.corner.value, lean.unwrap_or_default())
    };
    let mut leans = false;
    for reading in &end.readings {
        let gaps = [reading.back.or(reading.front), reading.front.or(reading.back)];
        let [Some(back), Some(front)] = gaps.map(|gap| gap.map(|gap| gap.value)) else { continue };
        leans |= back != end.corner.value || front != end.corner.value;
        let path = vec![spot(at(more(back)), Length::ZERO), spot(at(more(front)), deep)];
        pane.line(name, "wall at an end", Line::Outline, path);
    }
    if end.readings.is_empty() {
        let path = vec![spot(at(end.corner.value), Length::ZERO), spot(at(end.corner.value), deep)];
        pane.line(name, "wall at an end", Line::Outline, path);
    }
    leans
}

/// A door or window in this wall or in one at its ends; the leaf of a door with the way of its edge.
fn door(pane: &mut Pane, subject: Subject<'_>, opening: &RoomOpening, along: [Length; 2]) {
    let [from, to] = opening.along.map(|edge| edge.value);
    let thick = about(subject, (4, 1), 100);
    let shown: Extent = match opening.wall {
        InWall::This => [[from, to], [less(Length::ZERO, thick), Length::ZERO]],
        InWall::Return { right } => {
            let at = if right { along[1] } else { along[0] };
            let across = if right { [at, plus(at, thick)] } else { [less(at, thick), at] };
            [across, [from, to]]
        }
        // Across the room it is not on the page.
        InWall::Opposite => return,
    };
    let room = room_of(shown);
    pane.shape(&opening.name, "opening", Form::rect(room), Line::Hidden, Filled::Open);
    pane.point(room.map(middle), vec![last(&opening.name).to_owned()]);
    let Some(leaf) = opening.leaf else { return };
    let (hinge, edge) = if leaf.far { (to, from) } else { (from, to) };
    let wide = leaf.width.value;
    let toward = |from: Length, to: Length| if to >= from { plus(from, wide) } else { less(from, wide) };
    let (centre, shut, ajar) = match opening.wall {
        InWall::This => {
            (spot(hinge, Length::ZERO), spot(toward(hinge, edge), Length::ZERO), spot(hinge, wide))
        }
        InWall::Return { right } => {
            let at = if right { along[1] } else { along[0] };
            let into = if right { less(at, wide) } else { plus(at, wide) };
            (spot(at, hinge), spot(at, toward(hinge, edge)), spot(into, hinge))
        }
        InWall::Opposite => return,
    };
    pane.line(&opening.name, "leaf", Line::Outline, vec![centre, ajar]);
    let swing = Form::Quarter { centre, ends: [shut, ajar] };
    pane.shape(&opening.name, "swing", swing, Line::Light, Filled::Open);
}

/// The gap at each reading, in words.
fn readings(subject: Subject<'_>, group: &Group<'_>) -> Vec<String> {
    let Some((_, run)) = group.run else { return Vec::new() };
    let mut said = Vec::new();
    for (end, hand) in run.ends.iter().zip(Hand::BOTH).filter(|(end, _)| end.beyond != Return::Open) {
        if end.is_mid_wall() {
            let gap = subject.figure(end.corner.value);
            said.push(format!("In mid-wall at the {}: {gap} from the corner.", hand.word()));
            continue;
        }
        let gap = |length: Option<crate::eval::Len>| {
            length.map_or_else(|| "not read".to_owned(), |length| subject.figure(length.value))
        };
        let each = end.readings.iter().map(|reading| {
            format!("{} {} back, {} front", reading.at.word(), gap(reading.back), gap(reading.front))
        });
        let each: Vec<String> = each.collect();
        if !each.is_empty() {
            said.push(format!("Gap at the {}: {}.", hand.word(), each.join("; ")));
        }
    }
    said
}

/// Studs over the wall, widths and left faces below, depths at the right.
fn chains(
    pane: &mut Pane,
    subject: Subject<'_>,
    group: &Group<'_>,
    (solids, room): (&[Solid<'_>], Option<&Room<'_>>),
) {
    let marks = subject.marks();
    if let Some(room) = room {
        let within = room.wall.studs.iter().map(|stud| stud.value);
        let within = within.filter(|at| room.along[0] <= *at && *at <= room.along[1]);
        let named: Vec<(Length, String)> = within.map(|at| (at, String::new())).collect();
        if !named.is_empty() {
            let what = "studs from the left corner";
            pane.chain(Measured::running(what, Edge::Above, Length::ZERO, named, marks));
        }
    }
    super::elevation::widths(pane, subject, group, room);
    // Where one measures: along the floor at the back.
    let low = group.run.and_then(|(_, run)| run.ends.first()?.readings.first()?.back);
    let corner = group.run.and_then(|(_, run)| run.ends.first()).map(|end| end.corner.value);
    if let (Some(low), Some(corner), Some([_, right])) = (low, corner, group.faces()) {
        let datum = plus(Length::ZERO, less(corner, low.value));
        if datum != Length::ZERO {
            let faces = group.units.iter().map(|(_, unit)| unit.faces()[0]).chain([right]);
            let named = faces.map(|at| (at, String::new())).collect();
            let what = "left faces from the left corner, measured along the floor";
            pane.chain(Measured::running(what, Edge::Below, datum, named, marks));
        }
    }
    let [deep, _] = group.reach();
    let mut depths = vec![Length::ZERO, less(Length::ZERO, deep)];
    let before = solids
        .iter()
        .filter(|s| s.part.role.is_facing() || s.part.role.is_front() || s.part.role == Role::Counter);
    depths.extend(before.map(|solid| less(Length::ZERO, solid.bounds[1][1])));
    pane.chain(Measured::between("depths", Edge::Right, depths, &[], marks));
}
