//! How a room is made ready: what is taken off and cut back, floor that is cut out, what is sheeted off.

use crate::eval::{Decided, InWall, Model, Obstacle, ObstacleClass, Return, RoomOpening, StandOn, Wall};
use crate::parts::{EndPart, PartGraph, Role, RunId, RunPart, UnitId};
use crate::quantity::{Length, Rational};
use num_traits::CheckedMul;

/// Trim that is cut off where the work stands. Places count from the left corner of the wall.
#[derive(Clone, Copy, Debug)]
pub struct CutBack<'a> {
    /// The trim.
    pub trim: &'a Obstacle,
    /// From cut to cut.
    pub along: [Length; 2],
    /// Whether trim goes on left and right of it, so that its cut end is returned to the wall.
    pub returned: [bool; 2],
}

/// Casing of a door or window that is cut back where a unit stands.
#[derive(Clone, Copy, Debug)]
pub struct CasingCut<'a> {
    /// The door or window.
    pub opening: &'a RoomOpening,
    /// The unit.
    pub unit: UnitId,
    /// What is cut off, along the wall.
    pub along: [Length; 2],
    /// How high that is cut, from the level line.
    pub up: [Length; 2],
}

/// Covering that is cut out where units stand on the subfloor.
#[derive(Clone, Copy, Debug)]
pub struct FloorCut {
    /// From the left corner of the wall.
    pub along: [Length; 2],
    /// Whether it is cut at its left and right end; at a wall it ends there.
    pub ends: [bool; 2],
    /// From the wall to the line along which it is cut.
    pub out: Length,
    /// How thick it is, and so how deep the saw is set.
    pub deep: Length,
}

/// What is sheeted off against dust.
#[derive(Clone, Debug)]
pub struct Sheeted {
    /// What it is, as it is called in a sentence.
    pub what: String,
    /// Its sheet in square millimetres, with what it laps over at each edge.
    pub area: Rational,
    /// The tape round it.
    pub tape: Length,
}

/// Where a run stands on the floor, stretch by stretch between its spaces: to the corner where it ends at a wall.
fn stretches(graph: &PartGraph, run: &RunPart, wall: &Wall) -> Vec<([Length; 2], [bool; 2])> {
    let at_wall = |end: usize| {
        let meets = run.ends.get(end).map_or(wall.returns.get(end).copied(), |end| Some(end.meets));
        let mid_wall = run.ends.get(end).is_some_and(EndPart::is_mid_wall);
        meets.is_some_and(|meets| meets != Return::Open) && !mid_wall
    };
    let all = run.stretches();
    let count = all.len();
    let of = |(place, units): (usize, &[UnitId])| {
        let [first, last] = [units.first()?, units.last()?].map(|id| graph.unit(*id));
        let left = first?.x?.value;
        let right = last?.x?.value.checked_add(last?.width.value)?;
        let closed = [place == 0 && at_wall(0), place + 1 == count && at_wall(1)];
        let corner = run.ends.get(1).and_then(|end| right.checked_add(end.corner.value));
        let before = run.ends.first().and_then(|end| end.before).map_or(Length::ZERO, |before| before.value);
        let left = if closed[0] { before } else { left };
        let right = if closed[1] { corner.unwrap_or(right) } else { right };
        Some(([left, right], closed))
    };
    all.into_iter().enumerate().filter_map(of).collect()
}

/// The runs that stand along a wall.
fn along<'a>(model: &'a Model, graph: &'a PartGraph) -> impl Iterator<Item = (&'a RunPart, &'a Wall)> {
    graph.runs.iter().filter_map(|run| Some((run, model.walls.get(run.wall?)?)))
}

/// Trim that is taken off: it is cut at the ends of the work, and what stays is returned to the wall there.
#[must_use]
pub fn cut_back<'a>(model: &'a Model, graph: &'a PartGraph) -> Vec<CutBack<'a>> {
    let mut cuts = Vec::new();
    for (run, wall) in along(model, graph) {
        let trim = wall.obstacles.iter().filter(|own| own.class == ObstacleClass::Trim);
        for trim in trim.filter(|own| own.decided == Decided::Remove) {
            for (stretch, closed) in stretches(graph, run, wall) {
                let own = trim.along.map(|edges| edges.map(|edge| edge.value));
                let [from, to] = own.map_or(stretch, |own| [own[0].max(stretch[0]), own[1].min(stretch[1])]);
                if from >= to {
                    continue;
                }
                let goes_on = [
                    own.map_or(!closed[0], |own| own[0] < stretch[0]),
                    own.map_or(!closed[1], |own| stretch[1] < own[1]),
                ];
                cuts.push(CutBack { trim, along: [from, to], returned: goes_on });
            }
        }
    }
    cuts
}

/// Casing that is cut back where units stand, as high as they do.
#[must_use]
pub fn casing_cuts<'a>(model: &'a Model, graph: &'a PartGraph) -> Vec<CasingCut<'a>> {
    let mut cuts = Vec::new();
    for (run, wall) in along(model, graph) {
        let own =
            |opening: &&RoomOpening| opening.wall == InWall::This && opening.decided == Decided::CutRound;
        for opening in wall.openings.iter().filter(own) {
            for unit in &run.units {
                cuts.extend(casing_cut(graph, opening, *unit));
            }
        }
    }
    cuts
}

/// The casing of an opening where a unit stands beside it.
fn casing_cut<'a>(graph: &PartGraph, opening: &'a RoomOpening, id: UnitId) -> Option<CasingCut<'a>> {
    let unit = graph.unit(id)?;
    let casing = opening.casing?.value;
    let [left, right] = opening.along.map(|edge| edge.value);
    let from = unit.x?.value;
    let to = from.checked_add(unit.width.value)?;
    let legs = [[left.checked_sub(casing)?, left], [right, right.checked_add(casing)?]];
    let met = legs.into_iter().map(|[low, high]| [low.max(from), high.min(to)]);
    let along = met.into_iter().find(|[low, high]| low < high)?;
    let top = opening.up[1].value.checked_add(casing)?.min(unit.top()?);
    let sill = opening.up[0].value;
    let foot = if sill.is_positive() { sill.checked_sub(casing)? } else { Length::ZERO };
    (foot < top).then_some(CasingCut { opening, unit: id, along, up: [foot, top] })
}

/// Where the covering of a floor is cut out under a run: as far out as its sides reach, or to the front of a plinth that is set back.
#[must_use]
pub fn floor_cuts(model: &Model, graph: &PartGraph, id: RunId) -> Vec<FloorCut> {
    let Some(run) = graph.run(id) else { return Vec::new() };
    let Some(wall) = run.wall.and_then(|wall| model.walls.get(wall)) else { return Vec::new() };
    let Some(covering) = wall.floor.covering.filter(|_| wall.floor.stand_on == Some(StandOn::Subfloor))
    else {
        return Vec::new();
    };
    let foot = |unit: &UnitId| {
        let deep = graph.unit(*unit)?.depth.value;
        let rails = graph.parts_of(*unit).filter(|part| matches!(part.role, Role::BaseRail(_)));
        let rails = rails.filter_map(|part| Some(graph.bounds(part)?[1][1]));
        Some(rails.max().unwrap_or(deep))
    };
    let Some(out) = run.units.iter().filter_map(foot).max() else { return Vec::new() };
    let cut = |(along, closed): ([Length; 2], [bool; 2])| FloorCut {
        along,
        ends: closed.map(|closed| !closed),
        out,
        deep: covering.value,
    };
    stretches(graph, run, wall).into_iter().map(cut).collect()
}

/// What is sheeted off in the room of a run: its doorways, registers and grilles, each with 6 in (150 mm) over at every edge (common
/// practice, no source), and the floor where its size is stated.
#[must_use]
pub fn sheeted(model: &Model, id: usize) -> Vec<Sheeted> {
    let wall = model.runs.get(id).and_then(|run| model.walls.get(run.wall?));
    let Some(wall) = wall else { return Vec::new() };
    let room = wall.room_name();
    let walls: Vec<&Wall> = model.walls.iter().filter(|own| own.room_name() == room).collect();
    let twice = model.project.marks.system().length((12, 1), (300, 1));
    let mut sheets: Vec<Sheeted> = Vec::new();
    let mut add = |what: String, sides: [Option<Length>; 2], laps: Length| {
        let [Some(long), Some(wide)] = sides.map(|side| side?.checked_add(laps)) else { return };
        let area = long.mm().checked_mul(&wide.mm());
        let tape = long.checked_add(wide).and_then(|half| half.checked_add(half));
        if let (Some(area), Some(tape), true) = (area, tape, sheets.iter().all(|sheet| sheet.what != what)) {
            sheets.push(Sheeted { what, area, tape });
        }
    };
    for opening in walls.iter().flat_map(|wall| &wall.openings) {
        let passed = opening.up[0].value.is_zero() && opening.decided != Decided::Remove;
        let sides = [opening.along, opening.up].map(|[low, high]| high.value.checked_sub(low.value));
        if passed {
            add(format!("{} `{}`", opening.word, opening.name), sides, twice);
        }
    }
    for obstacle in walls.iter().flat_map(|wall| &wall.obstacles) {
        let Some(along) = obstacle.along.filter(|_| obstacle.class == ObstacleClass::Air) else { continue };
        // A register in the floor is as wide as it reaches out.
        let flat = obstacle.up.is_none_or(|[low, high]| low.value == high.value);
        let across = if flat { obstacle.out } else { obstacle.up.unwrap_or(obstacle.out) };
        let sides = [along, across].map(|[low, high]| high.value.checked_sub(low.value));
        add(format!("{} `{}`", obstacle.word, obstacle.name), sides, twice);
    }
    if let Some((long, wide)) = walls.iter().find_map(|wall| wall.floor.size) {
        add("the floor".to_owned(), [long, wide].map(|side| Some(side.value)), Length::ZERO);
    }
    sheets
}
