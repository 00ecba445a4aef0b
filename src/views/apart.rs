//! A unit taken apart, in parallel projection from the front, the right and above: its parts apart along their joints, numbered in
//! the order in which they are glued up.

use super::pick::Picked;
use super::picture::{Filled, Form, Pane, Picture, Spot};
use super::solid::{Group, Solid, half, less, plus};
use super::{Subject, ViewSpec};
use crate::document::{Line, Point};
use crate::parts::{Face, Hand, Role, StretcherAt, Unit, UnitId};
use crate::quantity::{Length, Rational};

/// The view.
pub(super) const VIEW: ViewSpec = ViewSpec {
    name: "apart",
    about: "each unit taken apart, its parts numbered in the order of the glue-up",
    of: "a run or a unit",
    make,
};

/// What lies a length nearer to the room stands so much of it lower and farther to the left on the page.
const DEEP: (i128, i128) = (2, 5);

fn make(subject: Subject<'_>, picked: &Picked) -> Vec<Picture> {
    let units = picked.units(subject);
    units.iter().map(|(group, id, unit)| picture(subject, group, (*id, unit))).collect()
}

fn picture(subject: Subject<'_>, group: &Group<'_>, (id, unit): (UnitId, &Unit)) -> Picture {
    let mut picture = Picture::new(VIEW.name, &unit.path, format!("{}: taken apart", unit.path));
    let mut pane = Pane::new("", "its left face", "its bottom end");
    let order = order(subject, group, id);
    let moved: Vec<(usize, Solid<'_>)> =
        order.iter().enumerate().map(|(place, solid)| (place + 1, apart(unit, solid))).collect();
    // What is farther away is drawn first: to the rear, then below, then at the left.
    let mut drawn: Vec<&(usize, Solid<'_>)> = moved.iter().collect();
    drawn.sort_by_key(|(number, solid)| {
        let [x, y, z] = solid.bounds;
        (y[1], x[0], z[0], *number)
    });
    for (_, solid) in &drawn {
        block(&mut pane, subject, solid);
    }
    for (place, (number, solid)) in drawn.iter().enumerate() {
        let nearer: Vec<Vec<Vec<Point>>> = drawn
            .iter()
            .skip(place + 1)
            .map(|(_, nearer)| {
                let faces = faces(subject, nearer).into_iter();
                faces.map(|face| face.into_iter().map(point).collect()).collect()
            })
            .collect();
        let shown = targets(solid)
            .into_iter()
            .find(|at| !nearer.iter().flatten().any(|face| covers(face, point(*at))));
        pane.point(shown.unwrap_or_else(|| middle(solid)), vec![number.to_string()]);
    }
    let within = format!("{}.", unit.path);
    let parts = moved.iter().map(|(number, solid)| {
        let path = &solid.part.path;
        format!("{number} {}", path.strip_prefix(&within).unwrap_or(path))
    });
    picture.notes.push(format!("In the order of the glue-up: {}.", parts.collect::<Vec<_>>().join(", ")));
    picture.panes.push(pane);
    picture
}

/// A place of the room on the page.
fn seen([x, y, z]: [Length; 3]) -> Spot {
    let deep = y.checked_mul(Rational::new(DEEP.0, DEEP.1)).unwrap_or_default();
    [less(x, deep), less(z, deep)]
}

/// The faces of a part that are seen: its upper face, its right one, its front; of a side under a slope, where that is flat
/// enough, also what lies along it.
fn faces(subject: Subject<'_>, solid: &Solid<'_>) -> Vec<Vec<Spot>> {
    let [[left, right], [rear, front], [low, high]] = solid.bounds;
    let faces: [[[Length; 3]; 4]; 3] = [
        [[left, rear, high], [left, front, high], [right, front, high], [right, rear, high]],
        [[right, rear, low], [right, front, low], [right, front, high], [right, rear, high]],
        [[left, front, low], [right, front, low], [right, front, high], [left, front, high]],
    ];
    let Some(corner) = subject.graph.corner(solid.part) else {
        return faces.iter().map(|face| face.map(seen).to_vec()).collect();
    };
    let knee = less(high, corner.high);
    let (from, to) =
        if corner.rear { (plus(rear, corner.deep), front) } else { (rear, less(front, corner.deep)) };
    let across = |y: Length, z: Length| [[left, y, z], [right, y, z]];
    let level = |[a, b]: [[Length; 3]; 2], [c, d]: [[Length; 3]; 2]| vec![a, b, d, c];
    let upper = level(across(from, high), across(to, high));
    let outline = solid.side_outline(subject).into_iter().map(|[y, z]| [right, y, z]).collect();
    let before = level(across(front, low), across(front, if corner.rear { high } else { knee }));
    let slope = if corner.rear {
        level(across(rear, knee), across(from, high))
    } else {
        level(across(to, high), across(front, knee))
    };
    // What rises to the front faster than the eye looks down on it is not seen.
    let steep = corner.high.ratio(corner.deep).is_none_or(|grade| grade >= Rational::new(DEEP.0, DEEP.1));
    let mut all = vec![upper, outline, before];
    if !(corner.rear && steep) {
        all.push(slope);
    }
    all.into_iter().map(|face: Vec<[Length; 3]>| face.into_iter().map(seen).collect()).collect()
}

fn block(pane: &mut Pane, subject: Subject<'_>, solid: &Solid<'_>) {
    for face in faces(subject, solid) {
        let form = Form::Outline(face);
        pane.shape(&solid.part.path, solid.part.role.word(), form, Line::Outline, Filled::Closed);
    }
}

/// The middle of the front of a part.
fn middle(solid: &Solid<'_>) -> Spot {
    let [[left, right], [_, front], [low, high]] = solid.bounds;
    seen([plus(left, half(less(right, left))), front, plus(low, half(less(high, low)))])
}

/// Places of a part to which its number may lead, the best first: on its front, on its right face, on its upper face.
fn targets(solid: &Solid<'_>) -> Vec<Spot> {
    let [[left, right], [rear, front], [low, high]] = solid.bounds;
    let share = |[from, to]: [Length; 2], n: i128| {
        plus(from, less(to, from).checked_mul(Rational::new(n, 20)).unwrap_or_default())
    };
    let shares = [10, 6, 14, 3, 17, 1, 19];
    let on_front = shares.map(|n| seen([share([left, right], n), front, share([low, high], 10)]));
    let on_right = shares.map(|n| seen([right, share([rear, front], n), share([low, high], 10)]));
    let on_top = shares.map(|n| seen([share([left, right], n), share([rear, front], 10), high]));
    on_front.into_iter().chain(on_right).chain(on_top).collect()
}

fn point(spot: Spot) -> Point {
    spot.map(Length::to_mm_f64)
}

/// Whether a face, whose corners stand in turn, lies over a place.
fn covers(face: &[Point], [x, y]: Point) -> bool {
    let edges = face.iter().zip(face.iter().cycle().skip(1));
    let turns: Vec<f64> =
        edges.map(|([ax, ay], [bx, by])| (bx - ax) * (y - ay) - (by - ay) * (x - ax)).collect();
    turns.iter().all(|turn| *turn > -1e-9) || turns.iter().all(|turn| *turn < 1e-9)
}

/// The parts of a unit in the order of the glue-up: lowest, middle and uppermost shelf with both sides, then the others and what stands
/// between them, then what is fixed to them, the back, and in the room base, counter, facing and doors.
fn order<'a>(subject: Subject<'a>, group: &Group<'a>, id: UnitId) -> Vec<Solid<'a>> {
    let mut own: Vec<Solid<'a>> =
        group.solids(subject).into_iter().filter(|solid| solid.part.unit == Some(id)).collect();
    own.sort_by_key(|solid| (solid.bounds[2][0], solid.part.id));
    let in_bays = subject.graph.in_bays(id);
    let housed: Vec<_> = own
        .iter()
        .filter(|solid| {
            matches!(solid.part.role, Role::Shelf | Role::Top) && !in_bays.contains(&solid.part.id)
        })
        .map(|solid| solid.part.id)
        .collect();
    let first = [housed.first(), housed.get(housed.len() / 2), housed.last()];
    let rank = |solid: &Solid<'_>| -> usize {
        match solid.part.role {
            Role::Shelf | Role::Top if in_bays.contains(&solid.part.id) => 4,
            Role::Shelf | Role::Top if first.contains(&Some(&solid.part.id)) => 0,
            Role::Side(_) => 1,
            Role::Shelf | Role::Top => 2,
            Role::Divider => 3,
            Role::Stretcher(..) => 5,
            Role::Cleat => 6,
            Role::Back => 7,
            Role::BaseRail(_) | Role::Rib => 8,
            Role::Counter => 9,
            Role::Loose | Role::LooseStrip => 10,
            Role::Stile
            | Role::Strip
            | Role::TopRail
            | Role::BottomRail
            | Role::Filler
            | Role::CeilingPanel => 11,
            Role::DrawerSide(_) | Role::DrawerEnd(_) | Role::DrawerBottom => 12,
            Role::Door | Role::DrawerFront => 13,
        }
    };
    own.sort_by_key(rank);
    own
}

/// A part where it stands when the unit is taken apart, from its left face and its bottom end.
fn apart<'a>(unit: &Unit, solid: &Solid<'a>) -> Solid<'a> {
    let (left, foot) = (unit.faces()[0], unit.foot());
    // So far apart that all is seen: a third of the width, a third of the depth.
    let wide = unit.width.value.checked_div(Rational::from(3)).unwrap_or_default();
    let deep = unit.depth.value.checked_div(Rational::from(2)).unwrap_or_default();
    let small = half(half(deep));
    let none = Length::ZERO;
    let [x, y, z] = match solid.part.role {
        Role::Side(Hand::Left) => [less(none, wide), none, none],
        Role::Side(Hand::Right) => [wide, none, none],
        Role::Shelf | Role::Top | Role::Divider | Role::Loose => [none, none, none],
        Role::Cleat => [none, less(none, deep), less(none, small)],
        Role::Stretcher(StretcherAt::Bottom, Face::Front) => [none, small, less(none, small)],
        Role::Stretcher(StretcherAt::Bottom, Face::Rear) => [none, none, less(none, small)],
        Role::Stretcher(StretcherAt::Top, Face::Front) => [none, small, small],
        Role::Stretcher(StretcherAt::Top, Face::Rear) => [none, none, small],
        Role::Back => [none, less(none, unit.depth.value), none],
        Role::BaseRail(_) | Role::Rib => [none, none, less(none, deep)],
        Role::Counter => [none, none, deep],
        Role::LooseStrip => [none, small, none],
        Role::Stile | Role::Strip | Role::TopRail | Role::BottomRail | Role::Filler | Role::CeilingPanel => {
            [none, deep, none]
        }
        Role::DrawerSide(_) | Role::DrawerEnd(_) | Role::DrawerBottom => [none, unit.depth.value, none],
        Role::Door | Role::DrawerFront => [none, plus(unit.depth.value, deep), none],
    };
    let by = |ends: [Length; 2], by: Length, from: Length| ends.map(|at| less(plus(at, by), from));
    let [across, out, up] = solid.bounds;
    Solid { part: solid.part, bounds: [by(across, x, left), by(out, y, none), by(up, z, foot)] }
}
