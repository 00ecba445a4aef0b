//! The sides of a unit as a mirrored pair, front edge to front edge, as they lie on the bench: inside faces with every line that is
//! marked, the side of it on which wood goes, holes, rabbets, notches. Also any other part by itself, with what is cut into it.
//!
//! Somebody who looks at the left side from within its unit has the wall at the right hand and the room at the left: with its inside
//! face up and its bottom end near, its front edge lies at the left, and that of the right side at the right. So of a pair that lies
//! front edge to front edge the right side is the one at the left.

use super::pick::Picked;
use super::picture::{Edge, Extent, Filled, Form, Measured, Pane, Picture, Spot};
use super::solid::{Group, corners, half, less, middle, plus};
use super::{Subject, ViewSpec};
use crate::document::Line;
use crate::eval::Decided;
use crate::parts::{CutOut, CutOutShape, Hand, Joint, JointKind, Part, Role, Unit, UnitId};
use crate::quantity::Length;
use std::collections::BTreeMap;

/// The view.
pub(super) const VIEW: ViewSpec = ViewSpec {
    name: "side",
    about: "the sides of a unit as a mirrored pair with all that is marked, grooved, bored and notched; of a path also any other part",
    of: "a run, a unit, or a part with its cuts",
    make,
};

fn make(subject: Subject<'_>, picked: &Picked) -> Vec<Picture> {
    let part = picked.part.and_then(|id| subject.graph.part(id));
    if let Some(part) = part.filter(|part| !matches!(part.role, Role::Side(_))) {
        return super::face::picture(subject, picked, part).into_iter().collect();
    }
    let units = picked.units(subject);
    units.iter().map(|(group, id, unit)| picture(subject, group, (*id, unit))).collect()
}

/// The pair of a unit.
fn picture(subject: Subject<'_>, group: &Group<'_>, (id, unit): (UnitId, &Unit)) -> Picture {
    let title = format!("{}: sides, inside faces, front edges together", unit.path);
    let mut picture = Picture::new(VIEW.name, &unit.path, title);
    for hand in [Hand::Right, Hand::Left] {
        let side = subject.graph.parts_of(id).find(|part| part.role == Role::Side(hand));
        picture.panes.extend(side.map(|side| pane(subject, group, side, hand)));
    }
    picture.legend.push((Line::Heavy, "front edge and bottom end"));
    if picture.panes.iter().any(|pane| pane.shapes.iter().any(|shape| shape.what == "X")) {
        let note = "Heights are the lines that are marked, from the bottom end. The groove, with an X in it, lies over its line.";
        picture.notes.push(note.to_owned());
    }
    picture.notes.push("Inside faces up and bottom ends near, the right side lies at the left.".to_owned());
    picture.notes.extend(grooves(subject, id));
    picture
}

/// A side from within the unit: places count from its front edge.
fn pane(subject: Subject<'_>, group: &Group<'_>, side: &Part, hand: Hand) -> Pane {
    let marks = subject.marks();
    let mut pane = Pane::new(
        format!("{} side, inside face", hand.word().to_uppercase()),
        if hand == Hand::Right { "the rear edge" } else { "the front edge" },
        "the bottom end",
    );
    let (deep, high) = (side.size.width.value, side.size.length.value);
    // From the front edge; on the right side that lies at the right.
    let across = |from_front: Length| if hand == Hand::Right { less(deep, from_front) } else { from_front };
    let band = |[from, to]: [Length; 2], up: [Length; 2]| {
        let [a, b] = [across(from), across(to)];
        [[a.min(b), a.max(b)], up]
    };
    let notch = subject.graph.notch(side);
    let corner = subject.graph.corner(side);
    let sloped = subject.graph.outline(side).filter(|_| corner.is_some());
    let sloped = sloped.map(|outline| outline.into_iter().map(|[y, z]| [across(less(deep, y)), z]).collect());
    let outline: Vec<Spot> = sloped.unwrap_or_else(|| match notch {
        None => corners(band([Length::ZERO, deep], [Length::ZERO, high])),
        Some([up, back]) => [
            [Length::ZERO, up],
            [back, up],
            [back, Length::ZERO],
            [deep, Length::ZERO],
            [deep, high],
            [Length::ZERO, high],
        ]
        .map(|[from, z]| [across(from), z])
        .to_vec(),
    });
    // Where the front edge ends, and how high the shorter edge under a slope is.
    let short = corner.map(|corner| less(high, corner.high));
    let front_end = short.filter(|_| corner.is_some_and(|corner| !corner.rear)).unwrap_or(high);
    pane.shape(&side.path, side.role.word(), Form::Outline(outline), Line::Outline, Filled::Closed);
    let foot = notch.map_or([Length::ZERO; 2], |[up, back]| [back, up]);
    pane.line(
        &side.path,
        "front edge",
        Line::Heavy,
        vec![[across(Length::ZERO), foot[1]], [across(Length::ZERO), front_end]],
    );
    pane.line(
        &side.path,
        "bottom end",
        Line::Heavy,
        vec![[across(foot[0]), Length::ZERO], [across(deep), Length::ZERO]],
    );

    let mut lines = vec![(Length::ZERO, "bottom end".to_owned()), (high, "top end".to_owned())];
    lines.extend(corner.zip(short).map(|(corner, short)| {
        (short, format!("slope at the {} edge", if corner.rear { "rear" } else { "front" }))
    }));
    for joint in subject.graph.joints_in(side.id) {
        housing(&mut pane, subject, side, joint, (&band, &mut lines));
    }
    holes(&mut pane, subject, side, &across);
    cable_holes(&mut pane, subject, side, &across);
    lines.extend(
        subject.graph.holes_in(side.id).map(|hole| (hole.at[0].value, format!("hole {}", hole.name))),
    );
    cut_outs(&mut pane, subject, group, side, &band);
    let outer = if hand == Hand::Right { Edge::Left } else { Edge::Right };
    pane.chain(Measured::running("lines from the bottom end", outer, Length::ZERO, lines, marks));
    let mut places = vec![across(Length::ZERO), across(deep)];
    places.extend(notch.map(|[_, back]| across(back)));
    places
        .extend(corner.map(|corner| across(if corner.rear { less(deep, corner.deep) } else { corner.deep })));
    places.extend(subject.graph.holes_in(side.id).map(|hole| across(less(deep, hole.at[1].value))));
    for bore in subject.graph.bores.iter().filter(|bore| bore.hosts.contains(&side.id)) {
        let [front, rear] = bore.rows.map(|row| row.value);
        places.extend([across(front), across(less(deep, rear))]);
    }
    pane.chain(Measured::between("across, with rows of holes and notches", Edge::Below, places, &[], marks));
    if let Some([up, _]) = notch {
        let heights = vec![Length::ZERO, up];
        let inner = if hand == Hand::Right { Edge::Right } else { Edge::Left };
        pane.chain(Measured::between("height of the notch", inner, heights, &[], marks));
    }
    // Beside the edge, between the two sides.
    let front = across(Length::ZERO);
    pane.along([[front, foot[1]], [front, front_end]], hand == Hand::Right, "front edge");
    pane
}

type Bands<'a> = (&'a dyn Fn([Length; 2], [Length; 2]) -> Extent, &'a mut Vec<(Length, String)>);

/// What a joint takes out of a side: a groove over its line, a rabbet at its end, a rabbet or groove along its rear edge.
fn housing(pane: &mut Pane, subject: Subject<'_>, side: &Part, joint: &Joint, (band, lines): Bands<'_>) {
    let Some(guest) = subject.graph.part(joint.guest) else { return };
    let (deep, high, at) = (side.size.width.value, side.size.length.value, joint.at.value);
    let name = guest.name.to_string();
    // From the front edge: under a slope a groove ends where its shelf does.
    let whole = [Length::ZERO, deep];
    let sloped = part_slant(subject, side).map(|falls| {
        let from = less(guest.place.y.value, side.place.y.value);
        let to = plus(from, guest.size.width.value);
        if falls { [less(deep, to), deep] } else { [Length::ZERO, less(deep, from)] }
    });
    let whole = sloped.unwrap_or(whole);
    match joint.kind {
        JointKind::Dado { width, .. } => {
            let room = band(whole, [at, plus(at, width.value)]);
            pane.shape(&guest.path, "groove", Form::rect(room), Line::Light, Filled::Open);
            let [across, _] = room;
            pane.line(&guest.path, "line", Line::Outline, across.map(|x| [x, at]).to_vec());
            crosses(pane, &guest.path, room);
            lines.push((at, name));
        }
        JointKind::Rabbet { .. } if guest.role == Role::Back => {
            let thick = guest.size.thickness.value;
            let room = band([less(deep, thick), deep], [at, plus(at, guest.size.length.value)]);
            pane.shape(&guest.path, "rabbet", Form::rect(room), Line::Outline, Filled::Open);
            pane.point(
                [middle(room[0]), middle(room[1])],
                vec!["rabbet".to_owned(), "for the back".to_owned()],
            );
        }
        JointKind::Rabbet { .. } => {
            let room = band(whole, [at, high]);
            pane.shape(&guest.path, "rabbet", Form::rect(room), Line::Light, Filled::Open);
            let [across, _] = room;
            pane.line(&guest.path, "line", Line::Outline, across.map(|x| [x, at]).to_vec());
            crosses(pane, &guest.path, room);
            lines.push((at, format!("{name}, rabbet")));
        }
        JointKind::Groove { width, set_in, .. } => {
            let rear = less(deep, set_in.value);
            let room = band([less(rear, width.value), rear], [at, plus(at, guest.size.length.value)]);
            pane.shape(&guest.path, "groove along", Form::rect(room), Line::Outline, Filled::Open);
            pane.point(
                [middle(room[0]), middle(room[1])],
                vec!["groove".to_owned(), "for the back".to_owned()],
            );
        }
        JointKind::Mortise { .. } | JointKind::Butt => {}
    }
}

/// Whether the slope over the unit of a side falls to the front; `None` where none is over it.
fn part_slant(subject: Subject<'_>, side: &Part) -> Option<bool> {
    Some(subject.graph.unit(side.unit?)?.slant?.falls)
}

/// An X at either end of a groove: the side of the line on which wood goes.
fn crosses(pane: &mut Pane, path: &str, [[left, right], [low, high]]: Extent) {
    let wide = less(high, low);
    let inset = half(wide);
    for from in [plus(left, inset), less(less(right, inset), wide)] {
        let to = plus(from, wide);
        pane.line(path, "X", Line::Outline, vec![[from, low], [to, high]]);
        pane.line(path, "X", Line::Outline, vec![[from, high], [to, low]]);
    }
}

/// Holes for pins in both rows.
fn holes(pane: &mut Pane, subject: Subject<'_>, side: &Part, across: &dyn Fn(Length) -> Length) {
    let deep = side.size.width.value;
    for bore in subject.graph.bores.iter().filter(|bore| bore.hosts.contains(&side.id)) {
        let [front, rear] = bore.rows.map(|row| row.value);
        let (Some(opening), Some(wide)) = (
            subject.graph.opening(bore.opening),
            Some(bore.wide.map_or(half(half(bore.pitch.value)), |wide| wide.value)),
        ) else {
            continue;
        };
        for from in [front, less(deep, rear)].map(across) {
            let mut at = bore.ends[0].value;
            while at <= bore.ends[1].value {
                pane.shape(
                    &opening.path,
                    "hole",
                    Form::Circle { centre: [from, at], wide },
                    Line::Outline,
                    Filled::Open,
                );
                let next = plus(at, bore.pitch.value);
                if next <= at {
                    break;
                }
                at = next;
            }
        }
    }
}

/// Holes for cables, with the flanges of their grommets.
fn cable_holes(pane: &mut Pane, subject: Subject<'_>, side: &Part, across: &dyn Fn(Length) -> Length) {
    let deep = side.size.width.value;
    for hole in subject.graph.holes_in(side.id) {
        // Measured from the bottom end and the rear edge; the rows of holes from the front.
        let [up, off] = hole.at.map(|at| at.value);
        let (centre, path) = ([across(less(deep, off)), up], format!("{}.hole.{}", side.path, hole.name));
        let round = |wide| Form::Circle { centre, wide };
        pane.shape(&path, "hole", round(hole.diameter.value), Line::Outline, Filled::Open);
        pane.point(centre, vec![hole.name.to_string()]);
    }
}

/// What a side is cut round.
fn cut_outs(
    pane: &mut Pane,
    subject: Subject<'_>,
    group: &Group<'_>,
    side: &Part,
    band: &dyn Fn([Length; 2], [Length; 2]) -> Extent,
) {
    let deep = side.size.width.value;
    for (name, cut) in cut_round(subject, group, side) {
        let [rear, size] = cut.across;
        let [low, high] = [cut.along[0], plus(cut.along[0], cut.along[1])];
        let front = less(less(deep, rear), size);
        let room = band([front, plus(front, size)], [low, high]);
        let line = if cut.shape == CutOutShape::Rabbet { Line::Hidden } else { Line::Outline };
        pane.shape(&name, "cut-out", Form::rect(room), line, Filled::Open);
        let says = format!("{} for {}", cut.shape.word(), super::room::last(&name));
        pane.point([middle(room[0]), middle(room[1])], vec![says]);
    }
}

/// What a part is cut round, by the name of each thing in its way.
pub(super) fn cut_round(subject: Subject<'_>, group: &Group<'_>, part: &Part) -> Vec<(String, CutOut)> {
    let wall = group.run.and_then(|(_, run)| subject.model.walls.get(run.wall?));
    let (Some(wall), Some(along)) = (wall, group.faces()) else { return Vec::new() };
    let Some(bounds) = subject.graph.bounds(part) else { return Vec::new() };
    let cut = wall.obstacles.iter().filter(|o| matches!(o.decided, Decided::CutRound | Decided::BringFlush));
    cut.filter_map(|obstacle| {
        Some((obstacle.name.to_string(), part.cut_round(&bounds, &wall.place(obstacle, along)?)?))
    })
    .collect()
}

/// How deep and how wide the grooves of a unit's sides are, equal ones together.
fn grooves(subject: Subject<'_>, id: UnitId) -> Vec<String> {
    let mut kinds: BTreeMap<(Length, Option<Length>, &str), Vec<&str>> = BTreeMap::new();
    let sides = subject.graph.parts_of(id).filter(|part| matches!(part.role, Role::Side(_)));
    for joint in sides.flat_map(|side| subject.graph.joints_in(side.id)) {
        let Some(guest) = subject.graph.part(joint.guest) else { continue };
        let (depth, width, word) = match joint.kind {
            JointKind::Dado { depth, width, .. } => (depth, Some(width), "grooves"),
            JointKind::Rabbet { depth } => (depth, Some(guest.size.thickness), "rabbet"),
            JointKind::Groove { depth, width, .. } => (depth, Some(width), "groove along"),
            JointKind::Mortise { .. } | JointKind::Butt => continue,
        };
        let names = kinds.entry((depth.value, width.map(|width| width.value), word)).or_default();
        if !names.contains(&&*guest.name) {
            names.push(&guest.name);
        }
    }
    let marks = subject.marks();
    let says = |((depth, width, word), names): ((Length, Option<Length>, &str), Vec<&str>)| {
        let width = width.map(|width| format!(", {} wide", marks.print_both(width))).unwrap_or_default();
        format!("{word} {} deep{width}: {}.", marks.print_both(depth), names.join(", "))
    };
    let mut said: Vec<String> = kinds.into_iter().map(says).collect();
    for says in &mut said {
        if let Some(first) = says.get_mut(0..1) {
            first.make_ascii_uppercase();
        }
    }
    said.extend(bored(subject, id));
    said
}

/// The holes of a unit, in words.
fn bored(subject: Subject<'_>, id: UnitId) -> Vec<String> {
    let marks = subject.marks();
    let mut all: Vec<String> = Vec::new();
    for bore in subject.graph.bores.iter().filter(|bore| bore.unit == id) {
        let wide =
            bore.wide.map(|wide| format!(", {} wide", marks.print_both(wide.value))).unwrap_or_default();
        let [first, last] = bore.ends.map(|end| marks.print(end.value).to_string());
        let says = format!(
            "Holes {} deep{wide}, {} apart, from {first} to {last} over the bottom end.",
            marks.print_both(bore.depth.value),
            marks.print_both(bore.pitch.value)
        );
        if !all.contains(&says) {
            all.push(says);
        }
    }
    all
}
