//! A unit by itself, as it is built and carried: its front, and a section through it.

use super::pick::Picked;
use super::picture::{Edge, Filled, Form, Measured, Pane, Picture};
use super::section;
use super::solid::{Group, Solid, corners, less, plus};
use super::{Subject, ViewSpec};
use crate::document::Line;
use crate::parts::{Role, Unit, UnitId};
use crate::quantity::{Length, estimate};

/// The view.
pub(super) const VIEW: ViewSpec = ViewSpec {
    name: "unit",
    about: "each unit by itself, without its facing: front and section with its own sizes, weight, diagonal",
    of: "a run or a unit",
    make,
};

fn make(subject: Subject<'_>, picked: &Picked) -> Vec<Picture> {
    let units = picked.units(subject);
    let cut_off = subject.graph.cut_off();
    let weights = subject.graph.unit_weights(&cut_off);
    let picture = |(group, id, unit): &(Group<'_>, UnitId, &Unit)| {
        let mut picture =
            Picture::new(VIEW.name, &unit.path, format!("{}: by itself, without its facing", unit.path));
        let solids = own(subject, group, (*id, unit));
        let at = less(section::plane(subject, group, (*id, unit)), unit.faces()[0]);
        picture.panes.push(front(subject, (*id, unit), &solids));
        picture.panes.push(cut(subject, unit, &solids, at));
        let system = subject.marks().system();
        if let Some(weight) = weights.get(id.0 as usize).copied().flatten() {
            picture
                .notes
                .push(format!("It weighs {} as it is carried, an estimate.", estimate(weight, system)));
        }
        if let Some(diagonal) = subject.graph.face_diagonal(*id) {
            let says =
                format!("Both diagonals of its face are {} when it is square.", estimate(diagonal, system));
            picture.notes.push(says);
        }
        picture
    };
    units.iter().map(picture).collect()
}

/// The parts of a unit without its facing, from its left face and from its bottom end.
fn own<'a>(subject: Subject<'a>, group: &Group<'a>, (id, unit): (UnitId, &Unit)) -> Vec<Solid<'a>> {
    let (left, foot) = (unit.faces()[0], unit.foot());
    let solids = group.solids(subject).into_iter();
    let own = solids.filter(|solid| solid.part.unit == Some(id) && !solid.part.role.is_facing());
    own.map(|Solid { part, bounds: [x, y, z] }| {
        let bounds = [x.map(|at| less(at, left)), y, z.map(|at| less(at, foot))];
        Solid { part, bounds }
    })
    .collect()
}

fn front(subject: Subject<'_>, (id, unit): (UnitId, &Unit), solids: &[Solid<'_>]) -> Pane {
    let marks = subject.marks();
    let mut pane = Pane::new("front", "its left face", "its bottom end");
    for solid in solids {
        let before = solid.bounds[1][1] >= unit.depth.value;
        let line = if before { Line::Outline } else { Line::Light };
        let form = Form::Outline(corners(solid.front()));
        pane.shape(&solid.part.path, solid.part.role.word(), form, line, Filled::Closed);
    }
    let (left, foot) = (unit.faces()[0], unit.foot());
    for (opening, [across, up]) in super::elevation::openings_of(subject, (id, unit)) {
        // Without its facing nothing hangs before it.
        let [low, _] = up.map(|at| less(at, foot));
        let room = [across.map(|at| less(at, left)), [low, plus(low, opening.clear_height.value)]];
        pane.say_figure(room, &opening.name, subject.figure(opening.clear_height.value));
    }
    let thickness = subject.graph.sheet(unit.sheet).map_or(Length::ZERO, |sheet| sheet.thickness.value);
    let wide = unit.width.value;
    let places = vec![Length::ZERO, thickness, less(wide, thickness), wide];
    let clear = [(thickness, "clear".to_owned())];
    pane.chain(Measured::between("sides and clear width", Edge::Below, places, &clear, marks));
    pane.chain(Measured::between("width", Edge::Below, vec![Length::ZERO, wide], &[], marks));
    let in_bays = subject.graph.in_bays(id);
    let shelves = solids.iter().filter(|solid| matches!(solid.part.role, Role::Shelf | Role::Top));
    let shelves = shelves.filter(|solid| !in_bays.contains(&solid.part.id));
    let lines = shelves.map(|solid| (solid.bounds[2][0], solid.part.name.to_string())).collect();
    pane.chain(Measured::running("lines from the bottom end", Edge::Left, Length::ZERO, lines, marks));
    pane
}

fn cut(subject: Subject<'_>, unit: &Unit, solids: &[Solid<'_>], at: Length) -> Pane {
    let marks = subject.marks();
    let mut pane = Pane::new("section", "its rear edge", "its bottom end");
    section::cut(&mut pane, subject, solids, at);
    pane.chain(Measured::between("depth", Edge::Below, vec![Length::ZERO, unit.depth.value], &[], marks));
    let mut heights = vec![Length::ZERO, unit.height.value];
    heights.extend(
        solids.iter().filter(|solid| solid.part.unit.is_some()).map(|solid| solid.bounds[2][0]).min(),
    );
    heights.extend(solids.iter().map(|solid| solid.bounds[2][1]).max());
    pane.chain(Measured::between("height", Edge::Right, heights, &[], marks));
    pane
}
