//! The elevation: a run from the front, with its openings, its seams and how it meets walls, floor and ceiling.

use super::pick::Picked;
use super::picture::{Edge, Extent, Filled, Form, Measured, Pane, Picture};
use super::room::Room;
use super::solid::{Group, Solid, about, corners, estimated, less, plus, talked_about};
use super::{Subject, ViewSpec};
use crate::document::Line;
use crate::parts::{CrownAt, Hand, Opening, OpeningId, Role, Unit, UnitId};
use crate::quantity::Length;
use std::collections::BTreeMap;

/// So many units have their names beside the figures of their left faces.
const MANY: usize = 12;

/// The view.
pub(super) const VIEW: ViewSpec = ViewSpec {
    name: "elevation",
    about: "a run from the front: openings with their clear heights, seams, ends at walls, studs",
    of: "a run or a unit",
    make,
};

fn make(subject: Subject<'_>, picked: &Picked) -> Vec<Picture> {
    picked.groups(subject).iter().map(|group| picture(subject, group, picked.unit)).collect()
}

/// The elevation of what stands together; `unit` is the one that is talked about.
pub(crate) fn picture(subject: Subject<'_>, group: &Group<'_>, unit: Option<UnitId>) -> Picture {
    let path = group.path();
    let mut picture = Picture::new(VIEW.name, path, format!("{path}: elevation"));
    let room = Room::of(subject, group);
    let mut pane = Pane::new(
        "",
        if room.is_some() { "the left corner of the wall" } else { "the left end" },
        "the level line",
    );
    let mut taken_off = Vec::new();
    parts(&mut pane, subject, group, unit);
    let mut centre = Vec::new();
    if super::fronts::hinge_edges(&mut pane, subject, group) {
        centre.push("on a door: to its hinges");
    }
    crown(&mut pane, subject, group, room.as_ref());
    if let Some(room) = &room {
        room.draw(&mut pane, subject, group);
        picture.legend.push((Line::Cut, "wall, floor, ceiling"));
        let studs = room.studs(&mut pane);
        if !studs.is_empty() {
            let named = studs.into_iter().map(|at| (at, String::new())).collect();
            let what = "studs from the left corner";
            pane.chain(Measured::running(what, Edge::Above, Length::ZERO, named, subject.marks()));
            centre.insert(0, "middle of a stud");
        }
        taken_off = room.in_the_way(&mut pane);
    }
    for beside in super::corner::beside(subject, group) {
        beside.draw(&mut pane, [beside.along, beside.up]);
    }
    match centre.as_slice() {
        [] => {}
        [one] => picture.legend.push((Line::Centre, one)),
        _ => picture.legend.push((Line::Centre, "middle of a stud; on a door: to its hinges")),
    }
    for space in super::space::standing(subject, group) {
        for thing in &space.things {
            thing.draw(&mut pane, [thing.along, thing.up]);
        }
        // What is named by a thing in it, or by the opening behind it, needs no name of its own.
        if space.things.is_empty() && space.part.over.is_none() {
            let high = group.reach()[1];
            pane.say_figure(
                [space.along, [Length::ZERO, high]],
                &space.part.name,
                subject.figure(space.part.width.value),
            );
        }
    }
    let hidden = if group.run.is_some_and(|(_, run)| !run.spaces.is_empty()) {
        "in the way, in a space, or behind a door"
    } else {
        "in the way, or behind a door"
    };
    if pane.shapes.iter().any(|shape| shape.line == Line::Hidden) {
        picture.legend.push((Line::Hidden, hidden));
    }
    if let Some(heavy) = unit.and_then(|id| subject.graph.unit(id)) {
        picture.legend.push((Line::Heavy, "the unit that is talked about"));
        picture.title = format!("{}: elevation of {path}", heavy.path);
        picture.of.clone_from(&heavy.path);
    }
    for (id, unit) in group.all() {
        openings(&mut pane, subject, (*id, unit));
    }
    chains(&mut pane, subject, group, room.as_ref());
    picture.notes.push("In an opening stand its name and its clear height at the front.".to_owned());
    if !taken_off.is_empty() {
        picture.notes.push(format!("Taken off, and not drawn: {}.", taken_off.join(", ")));
    }
    picture.panes.push(pane);
    picture
}

/// All parts, from the rear to the front; what stands behind a door is dashed.
fn parts(pane: &mut Pane, subject: Subject<'_>, group: &Group<'_>, unit: Option<UnitId>) {
    let heavy = unit.map(|unit| talked_about(subject, unit));
    let mut solids = group.solids(subject);
    // The box of a drawer lies behind its front, with all that there is to see of it.
    solids.retain(|solid| !solid.part.role.is_drawer_box());
    let doors: Vec<Extent> =
        solids.iter().filter(|solid| solid.part.role.is_front()).map(Solid::front).collect();
    let fronts =
        |unit: Option<UnitId>| unit.and_then(|id| subject.graph.unit(id)).map(|unit| unit.depth.value);
    let mut dashed = Vec::new();
    for solid in &solids {
        let (part, outline) = (solid.part, solid.front_outline(group));
        let before = fronts(part.unit).is_none_or(|front| solid.bounds[1][1] >= front);
        let talked = heavy.as_ref().is_none_or(|heavy| heavy.contains(&part.id));
        let line = if before && talked { Line::Outline } else { Line::Light };
        pane.shape(&part.path, part.role.word(), Form::Outline(outline), line, Filled::Closed);
        let behind = !part.role.is_front() && doors.iter().any(|door| lies_in(solid.front(), *door));
        if before && behind {
            dashed.push(solid);
        }
    }
    for solid in dashed {
        let form = Form::Outline(corners(solid.front()));
        pane.shape(&solid.part.path, "behind a door", form, Line::Hidden, Filled::Open);
    }
    if let Some(unit) = unit.and_then(|id| subject.graph.unit(id)) {
        let (Some(top), x) = (unit.top(), unit.faces()) else { return };
        pane.shape(&unit.path, "unit", Form::rect([x, [unit.foot(), top]]), Line::Heavy, Filled::Open);
    }
}

fn lies_in([x, z]: Extent, [across, up]: Extent) -> bool {
    let overlaps = |[low, high]: [Length; 2], [from, to]: [Length; 2]| low < to && from < high;
    overlaps(x, across) && overlaps(z, up)
}

/// The crown as it leans before the top rails: its top edge along the ceiling, longer by the projection at an open end.
fn crown(pane: &mut Pane, subject: Subject<'_>, group: &Group<'_>, room: Option<&Room<'_>>) {
    let Some((crown, run)) = group.run.and_then(|(_, run)| Some((run.crown.as_ref()?, run))) else { return };
    let (drop, out) = (estimated(crown.drop.value), estimated(crown.projection.value));
    // Where no ceiling is read it laps the rails by 3/8 in, the least that hides the gap (common practice, no source).
    let [_, high] = group.reach();
    let lap = about(subject, (3, 8), 10);
    let path = format!("{}.crown", run.path);
    for ((_, pieces), units) in crown.stretches().zip(&crown.lines) {
        let Some(front) = pieces.iter().find(|piece| piece.at == CrownAt::Front) else { continue };
        let unit = units.first().and_then(|id| subject.graph.unit(*id));
        let Some([left, _]) = unit.map(Unit::faces) else { continue };
        let turns = |hand| pieces.iter().any(|piece| piece.at == CrownAt::Return(hand));
        let gap = run.ends.first().filter(|_| !turns(Hand::Left)).and_then(|end| {
            let high = end.readings.last()?;
            high.front.or(high.back)
        });
        let from = less(left, gap.map_or(Length::ZERO, |gap| gap.value));
        let to = plus(from, front.foot.value);
        // Outer corners make its top edge longer, inside corners shorter.
        let ends = [
            match (turns(Hand::Left), crown.inside[0]) {
                (true, _) => less(from, out),
                (false, true) => plus(from, out),
                (false, false) => from,
            },
            match (turns(Hand::Right), crown.inside[1]) {
                (true, _) => plus(to, out),
                (false, true) => less(to, out),
                (false, false) => to,
            },
        ];
        let above = room
            .and_then(|room| room.ceiling(ends))
            .unwrap_or_else(|| ends.map(|x| [x, less(plus(high, drop), lap)]).to_vec());
        let foot = |[x, z]: [Length; 2]| [x.max(from).min(to), less(z, drop)];
        let below = above.iter().rev().map(|spot| foot(*spot));
        let outline = above.iter().copied().chain(below).collect();
        pane.shape(&path, "crown", Form::Outline(outline), Line::Outline, Filled::Closed);
    }
}

/// The openings of a unit that are used and have no bays, each with its room from the front: its clear width between laps, from its
/// shelf to what hangs before it.
pub(super) fn openings_of<'a>(
    subject: Subject<'a>,
    (id, unit): (UnitId, &Unit),
) -> Vec<(&'a Opening, Extent)> {
    let graph = subject.graph;
    let bays: BTreeMap<OpeningId, Length> = graph
        .divided_of(id)
        .flat_map(|divided| &divided.bays)
        .flat_map(|bay| bay.openings.iter().map(|opening| (*opening, bay.x.value)))
        .collect();
    let Some(thickness) = graph.sheet(unit.sheet).map(|sheet| sheet.thickness.value) else {
        return Vec::new();
    };
    let [face, _] = unit.faces();
    let room = |(place, opening): (usize, &'a Opening)| {
        let on = graph.part(opening.on)?;
        let floor = [on.place.z.value, on.size.thickness.value, unit.foot()];
        let low = floor.into_iter().try_fold(Length::ZERO, Length::checked_add)?;
        let left = plus(face, bays.get(&OpeningId::at(place)).copied().unwrap_or(thickness));
        let right = plus(left, opening.clear_width.value);
        let [before, behind] = unit.laps.map(|lap| lap.value);
        let across = [plus(left, before), less(right, behind)];
        Some((opening, [across, [low, plus(low, opening.opening_front.value)]]))
    };
    let own = graph.openings.iter().enumerate().filter(|(_, opening)| opening.unit == id);
    own.filter(|(_, opening)| opening.used && !opening.divided).filter_map(room).collect()
}

/// The name and the clear height of every opening that is used.
fn openings(pane: &mut Pane, subject: Subject<'_>, (id, unit): (UnitId, &Unit)) {
    for (opening, room) in openings_of(subject, (id, unit)) {
        pane.say_figure(room, &opening.name, subject.figure(opening.opening_front.value));
    }
}

/// Widths and left faces below.
pub(super) fn widths(pane: &mut Pane, subject: Subject<'_>, group: &Group<'_>, room: Option<&Room<'_>>) {
    let marks = subject.marks();
    let Some([left, right]) = group.faces() else { return };
    let mut ends = vec![left, right];
    ends.extend(room.into_iter().flat_map(|room| room.along));
    if let (None, Some((_, run))) = (room, group.run) {
        let gaps = run.gaps.map_or([Length::ZERO; 2], |gaps| gaps.map(|gap| gap.value));
        ends.extend([less(left, gaps[0]), plus(right, gaps[1])]);
    }
    let mut names: Vec<(Length, String)> =
        group.units.iter().map(|(_, unit)| (unit.faces()[0], unit.name.to_string())).collect();
    let spaces = group.run.into_iter().flat_map(|(_, run)| &run.spaces);
    names.extend(spaces.map(|space| (space.x.value, space.name.to_string())));
    let faces = group.units.iter().flat_map(|(_, unit)| unit.faces());
    let places: Vec<Length> = faces.chain(ends.iter().copied()).collect();
    pane.chain(Measured::between("unit widths and gaps", Edge::Below, places, &names, marks));
    if group.units.len() > 1 || group.run.is_some() {
        let datum = ends.iter().copied().min().unwrap_or_default();
        // Where there are many, the figures between them leave no room for names.
        let many = group.units.len() > MANY;
        let name = |unit: &Unit| if many { unit.name.to_string() } else { String::new() };
        let faces = group.units.iter().map(|(_, unit)| (unit.faces()[0], name(unit)));
        let named = faces.chain([(right, String::new())]).collect();
        let what = if room.is_some() {
            "left faces from the left corner, at the back, half way up"
        } else {
            "left faces from the left end"
        };
        pane.chain(Measured::running(what, Edge::Below, datum, named, marks));
    }
}

/// Widths and left faces below, marks at the left, heights at the right.
fn chains(pane: &mut Pane, subject: Subject<'_>, group: &Group<'_>, room: Option<&Room<'_>>) {
    let marks = subject.marks();
    widths(pane, subject, group, room);
    let mut named = Vec::new();
    for (id, unit) in group.all() {
        let in_bays = subject.graph.in_bays(*id);
        let shelves = subject
            .graph
            .parts_of(*id)
            .filter(|part| matches!(part.role, Role::Shelf | Role::Top) && !in_bays.contains(&part.id));
        named.extend(shelves.map(|shelf| (plus(shelf.place.z.value, unit.foot()), String::new())));
    }
    pane.chain(Measured::running("undersides from the level line", Edge::Left, Length::ZERO, named, marks));
    let mut heights = vec![Length::ZERO];
    heights.extend(group.all().filter_map(|(_, unit)| unit.top()));
    heights.extend(group.hung.iter().map(|(_, unit)| unit.foot()));
    let counters = group.solids(subject);
    heights.extend(counters.iter().filter(|s| s.part.role == Role::Counter).map(|s| s.bounds[2][1]));
    heights.extend(room.and_then(|room| match room.wall.slope {
        Some(_) => room.ceiling(room.along)?.into_iter().map(|[_, high]| high).min(),
        None => room.wall.lowest_ceiling(),
    }));
    let names: Vec<(Length, String)> =
        group.hung.iter().map(|(_, unit)| (unit.foot(), unit.name.to_string())).collect();
    pane.chain(Measured::between("heights over the level line", Edge::Right, heights, &names, marks));
}
