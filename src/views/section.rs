//! The section through a unit, seen from the right: wall at the left, room at the right.

use super::pick::Picked;
use super::picture::{Edge, Filled, Form, Measured, Pane, Picture, Spot};
use super::solid::{Group, Solid, about, estimated, half, less, middle, plus};
use super::{Subject, ViewSpec};
use crate::document::Line;
use crate::eval::Wall;
use crate::parts::{Face, Opening, Part, Role, Row, RowKind, Unit, UnitId};
use crate::quantity::Length;

/// The view.
pub(super) const VIEW: ViewSpec = ViewSpec {
    name: "section",
    about: "a cut through each unit: depths, shelves with what hangs under them, facing, crown, screws to the wall",
    of: "a run or a unit",
    make,
};

fn make(subject: Subject<'_>, picked: &Picked) -> Vec<Picture> {
    let units = picked.units(subject);
    let picture = |(group, id, unit): &(Group<'_>, UnitId, &Unit)| {
        let mut picture =
            Picture::new(VIEW.name, &unit.path, format!("{}: section, seen from the right", unit.path));
        let at = plane(subject, group, (*id, unit));
        let mut pane = Pane::new("", "the wall", "the level line");
        room(&mut pane, subject, group, at);
        let solids: Vec<Solid<'_>> = group
            .solids(subject)
            .into_iter()
            .filter(|solid| solid.part.unit.is_none_or(|own| own == *id))
            .collect();
        cut(&mut pane, subject, &solids, at);
        crown(&mut pane, subject, group, (*id, unit), at);
        let is_screwed = screws(&mut pane, subject, group, *id, at);
        said(&mut pane, subject, (*id, unit), &solids, at);
        chains(&mut pane, subject, group, (*id, unit), (&solids, at));
        picture.legend.push((Line::Cut, "cut"));
        picture.legend.push((Line::Light, "seen beyond"));
        if is_screwed {
            picture.legend.push((Line::Centre, "screw to the wall"));
        }
        picture.notes.push("In an opening stand its name and its clear heights.".to_owned());
        picture.panes.push(pane);
        picture
    };
    units.iter().map(picture).collect()
}

/// Where a unit is cut: through its first door, else in its middle, or in that of a bay where something upright stands there.
pub(super) fn plane(subject: Subject<'_>, group: &Group<'_>, (id, unit): (UnitId, &Unit)) -> Length {
    let faces @ [left, _] = unit.faces();
    let bays = subject.graph.divided_of(id).flat_map(|divided| &divided.bays);
    let bays = bays.map(|bay| plus(plus(left, bay.x.value), half(bay.clear.value)));
    let solids = group.solids(subject);
    let clear = |at: &Length| {
        !solids.iter().any(|Solid { part, bounds: [[from, to], ..] }| {
            let upright = matches!(part.role, Role::Side(_) | Role::Divider | Role::Stile | Role::Rib);
            upright && from <= at && at <= to
        })
    };
    let own = solids.iter().filter(|solid| solid.part.unit == Some(id));
    let door = own.filter(|solid| solid.part.role.is_front()).map(|door| middle(door.bounds[0])).min();
    let places = door.into_iter().chain([middle(faces)]).chain(bays);
    places.into_iter().find(clear).unwrap_or(middle(faces))
}

fn wall_of<'a>(subject: Subject<'a>, group: &Group<'a>) -> Option<&'a Wall> {
    group.run.and_then(|(_, run)| subject.model.walls.get(run.wall?))
}

/// Wall, floor and ceiling where the unit is cut.
fn room(pane: &mut Pane, subject: Subject<'_>, group: &Group<'_>, at: Length) {
    let Some(wall) = wall_of(subject, group) else { return };
    let [deep, high] = group.reach();
    let lining = wall.lining.map_or_else(|| about(subject, (1, 2), 12), |lining| lining.value);
    let behind = less(Length::ZERO, lining);
    let floor = wall.floor.below.at(at).map_or(Length::ZERO, |below| less(Length::ZERO, below));
    let ceiling = wall.ceiling.at(at);
    let far = plus(deep, about(subject, (8, 1), 200));
    let top = ceiling.unwrap_or_else(|| plus(high, about(subject, (4, 1), 100)));
    let name = &*wall.name;
    let lined = Form::rect([[behind, Length::ZERO], [floor, top]]);
    pane.shape(name, "wall", lined, Line::Cut, Filled::Wall);
    pane.line(name, "floor", Line::Cut, vec![[behind, floor], [far, floor]]);
    if let Some(ceiling) = ceiling {
        let mut line = vec![[behind, ceiling]];
        match wall.slope {
            None => line.push([far, ceiling]),
            Some(slope) => {
                line.push([Length::ZERO, ceiling]);
                // Where it ends in the level ceiling, as far as that is drawn.
                let rise = slope.level.and_then(|level| level.value.checked_sub(ceiling));
                let bend = rise.zip(slope.grade()).and_then(|(rise, grade)| rise.checked_div(grade));
                let bend = bend.filter(|bend| bend.is_positive() && *bend < far);
                let places = bend.into_iter().chain([far]);
                line.extend(places.filter_map(|off| Some([off, slope.at(ceiling, off)?])));
            }
        }
        pane.line(name, "ceiling", Line::Cut, line);
    }
}

/// What is seen beyond the cut, then what is cut.
pub(super) fn cut(pane: &mut Pane, subject: Subject<'_>, solids: &[Solid<'_>], at: Length) {
    let beyond = |solid: &&Solid<'_>| solid.bounds[0][1] <= at;
    let mut seen: Vec<&Solid<'_>> = solids.iter().filter(beyond).collect();
    seen.sort_by_key(|solid| (solid.bounds[0][1], solid.part.id));
    for solid in seen {
        let form = Form::Outline(solid.side_outline(subject));
        pane.shape(&solid.part.path, solid.part.role.word(), form, Line::Light, Filled::Closed);
    }
    for solid in solids.iter().filter(|solid| is_cut(solid, at)) {
        let form = Form::Outline(solid.side_outline(subject));
        pane.shape(&solid.part.path, solid.part.role.word(), form, Line::Cut, solid.cut(1));
    }
}

fn is_cut(solid: &Solid<'_>, at: Length) -> bool {
    let [[from, to], ..] = solid.bounds;
    from < at && at < to
}

/// The moulding from the facing to the ceiling: its face leans from its foot out to its top edge. How thick it is nobody states.
fn crown(pane: &mut Pane, subject: Subject<'_>, group: &Group<'_>, (id, unit): (UnitId, &Unit), at: Length) {
    let Some((_, run)) = group.run else { return };
    let (Some(crown), Some(top)) = (&run.crown, unit.top()) else { return };
    if !crown.lines.iter().flatten().any(|own| *own == id) {
        return;
    }
    let facing = subject
        .model
        .runs
        .iter()
        .find(|stated| *stated.name == *run.path)
        .and_then(|run| run.facing.as_ref());
    let front = plus(unit.depth.value, facing.map_or(Length::ZERO, |facing| facing.thickness.value));
    let (drop, out) = (estimated(crown.drop.value), estimated(crown.projection.value));
    let ceiling = wall_of(subject, group).and_then(|wall| wall.ceiling.at(at));
    let high = ceiling.unwrap_or_else(|| less(plus(top, drop), about(subject, (3, 8), 10)));
    let outline = moulding(subject, [front, high], [out, drop]);
    pane.shape(&format!("{}.crown", run.path), "crown", Form::Outline(outline), Line::Cut, Filled::Wood);
}

/// The corners of a moulding that leans from the plane of the facing to the ceiling, drawn about as thick as usual.
pub(super) fn moulding(subject: Subject<'_>, [front, high]: Spot, [out, drop]: Spot) -> Vec<Spot> {
    let thick = about(subject, (5, 8), 16);
    let foot = less(high, drop);
    let tip = plus(front, out);
    vec![
        [front, foot],
        [tip, high],
        [less(tip, thick).max(front), high],
        [front, plus(foot, thick).min(high)],
    ]
}

/// The screws to the wall, as centre lines from the front of what they hold.
fn screws(pane: &mut Pane, subject: Subject<'_>, group: &Group<'_>, id: UnitId, at: Length) -> bool {
    let graph = subject.graph;
    let before = pane.shapes.len();
    let held = |row: &Row| -> Option<&Part> { graph.part(row.guest.part()?) };
    for row in graph.rows.iter().filter(|row| row.kind == RowKind::Wall && row.count > 0) {
        let Some(part) = held(row).filter(|part| part.unit == Some(id)) else { continue };
        let Some([across, [_, front], up]) = graph.bounds(part) else { continue };
        let long = row.fastener.and_then(|at| graph.fasteners.get(at)).and_then(|fastener| fastener.length);
        let (Some(long), true) = (long, across[0] < at && at < across[1] && group.run.is_some()) else {
            continue;
        };
        let high = middle(up);
        pane.line(&part.path, "screw", Line::Centre, vec![[less(front, long.value), high], [front, high]]);
    }
    pane.shapes.len() > before
}

/// The openings that the cut goes through, with their heights behind, at the front and under the cleat.
fn said(
    pane: &mut Pane,
    subject: Subject<'_>,
    (id, unit): (UnitId, &Unit),
    solids: &[Solid<'_>],
    at: Length,
) {
    let deep = solids.iter().filter(|solid| is_cut(solid, at) && solid.part.role == Role::Shelf);
    let across = deep.map(|solid| solid.bounds[1]).next().unwrap_or([Length::ZERO, unit.depth.value]);
    for (opening, [[from, to], [low, high]]) in super::elevation::openings_of(subject, (id, unit)) {
        if from < at && at < to {
            // Under a slope each shelf has a depth of its own.
            let on = solids.iter().find(|solid| unit.slant.is_some() && solid.part.id == opening.on);
            let across = on.map_or(across, |on| on.bounds[1]);
            heights(pane, subject, opening, [across, [low, high]]);
        }
    }
}

fn heights(pane: &mut Pane, subject: Subject<'_>, opening: &Opening, within: super::Extent) {
    let figure = |length: Length| subject.figure(length);
    let behind = opening.clear_height.value;
    let (front, rear) = (opening.opening_front.value, opening.opening_rear.value);
    let name = opening.name.to_string();
    let mut long = vec![name.clone(), figure(behind)];
    if front != behind {
        long.push(format!("{} at the front", figure(front)));
    }
    if rear != behind {
        long.push(format!("{} at the cleat", figure(rear)));
    }
    let short = vec![format!("{name}  {}", figure(behind))];
    let readings = vec![long, short, vec![name, figure(behind)]];
    pane.words.push(super::Words { readings, stand: super::Stand::Within(within), figures: 1 });
}

/// Depths from the wall, undersides from the level line, heights.
fn chains(
    pane: &mut Pane,
    subject: Subject<'_>,
    group: &Group<'_>,
    (id, unit): (UnitId, &Unit),
    (solids, at): (&[Solid<'_>], Length),
) {
    let marks = subject.marks();
    let is_cut: Vec<&Solid<'_>> = solids.iter().filter(|solid| is_cut(solid, at)).collect();
    let mut named: Vec<(Length, String)> = vec![(unit.depth.value, "front edges".to_owned())];
    for solid in &is_cut {
        let [rear, front] = solid.bounds[1];
        match solid.part.role {
            Role::Counter => named.push((front, "counter".to_owned())),
            Role::Door => named.push((front, "door".to_owned())),
            Role::DrawerFront => named.push((front, "drawer".to_owned())),
            Role::DrawerEnd(Face::Rear) => named.push((rear, "rear of the drawer".to_owned())),
            Role::Back => named.push((front, "front of the back".to_owned())),
            Role::Loose | Role::LooseStrip => named.push((front, "loose shelf".to_owned())),
            Role::Cleat => named.push((front, "cleat".to_owned())),
            Role::Strip | Role::TopRail | Role::BottomRail => named.push((front, "facing".to_owned())),
            Role::Shelf | Role::Top if !rear.is_zero() => named.push((rear, String::new())),
            Role::Shelf
            | Role::Top
            | Role::Side(_)
            | Role::Stretcher(..)
            | Role::Divider
            | Role::DrawerSide(_)
            | Role::DrawerEnd(Face::Front)
            | Role::DrawerBottom
            | Role::BaseRail(_)
            | Role::Rib
            | Role::Filler
            | Role::Stile
            | Role::CeilingPanel => {}
        }
    }
    named.extend(unit.toe.map(|[_, depth]| (less(unit.depth.value, depth.value), "toe space".to_owned())));
    let depths = Measured::running("depths from the wall", Edge::Below, Length::ZERO, named, marks);
    pane.chain(depths.map(Measured::quiet));
    let in_bays = subject.graph.in_bays(id);
    let shelves = is_cut.iter().filter(|solid| matches!(solid.part.role, Role::Shelf | Role::Top));
    let shelves = shelves.filter(|solid| !in_bays.contains(&solid.part.id));
    let lines = shelves.map(|solid| (solid.bounds[2][0], solid.part.name.to_string())).collect();
    pane.chain(Measured::running("undersides from the level line", Edge::Left, Length::ZERO, lines, marks));
    let mut heights = vec![Length::ZERO];
    heights.extend(unit.top());
    heights.extend(unit.hung.then(|| unit.foot()));
    heights.extend(is_cut.iter().filter(|s| s.part.role == Role::Counter).map(|solid| solid.bounds[2][1]));
    heights.extend(wall_of(subject, group).and_then(|wall| wall.ceiling.at(at)));
    heights.extend(unit.toe.map(|[height, _]| height.value));
    pane.chain(Measured::between("heights over the level line", Edge::Right, heights, &[], marks));
}
