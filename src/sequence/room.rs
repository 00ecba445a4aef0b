//! How a run is set up in the room: where each unit stands, what is packed under it, where its studs are.

use crate::eval::Model;
use crate::parts::{PartGraph, PartId, RowKind, RunId, UnitId};
use crate::quantity::{Length, Rational};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// A unit as it is set up.
#[derive(Clone, Debug)]
pub struct Standing {
    /// The unit.
    pub unit: UnitId,
    /// Its left face from the left corner of the wall, at the back, half way up.
    pub left: Option<Length>,
    /// The same along the floor, where one measures; `None` where the corner is not read there.
    pub along_floor: Option<Length>,
    /// What is packed under its left and its right side: how far the floor lies under the level line there.
    pub packed: [Option<Length>; 2],
    /// Middles of the studs within it, from the inner face of its left side.
    pub studs: Vec<Length>,
    /// What is screwed to the wall.
    pub rows: Vec<ScrewRow>,
}

/// A row of screws into the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ScrewRow {
    /// The cleat, stretcher or back that they go through.
    pub part: PartId,
    /// The middle of that over the bottom ends of the sides.
    pub height: Length,
    /// How many.
    pub screws: usize,
    /// The screw, by its position among the fasteners.
    pub fastener: Option<usize>,
}

/// The units of a run from left to right, as they are set up.
#[must_use]
pub fn standing(model: &Model, graph: &PartGraph, id: RunId) -> Vec<Standing> {
    let Some(run) = graph.run(id) else { return Vec::new() };
    let wall = run.wall.and_then(|wall| model.walls.get(wall));
    // How much farther the corner is along the floor than half way up.
    let low = run.ends.first().and_then(|end| end.readings.first()?.back).map(|back| back.value);
    let corner = run.ends.first().map(|end| end.corner.value);
    let lean = low.zip(corner).and_then(|(low, corner)| low.checked_sub(corner));
    let mut rows = rows(graph);
    let unit = |(place, id): (usize, &UnitId)| {
        let unit = graph.unit(*id)?;
        let left = wall.and(unit.x).map(|x| x.value);
        let packed = |place: usize| run.floor_at_faces.get(place).map(|below| below.value);
        let thickness = graph.sheet(unit.sheet).map(|sheet| sheet.thickness.value);
        let inner = left.zip(thickness).and_then(|(left, thickness)| left.checked_add(thickness));
        let studs = unit.studs.iter().filter_map(|stud| stud.value.checked_sub(inner?)).collect();
        Some(Standing {
            unit: *id,
            left,
            along_floor: left.zip(lean).and_then(|(left, lean)| left.checked_add(lean)),
            packed: [packed(place), packed(place + 1)],
            studs,
            rows: rows.remove(id).unwrap_or_default(),
        })
    };
    run.units.iter().enumerate().filter_map(unit).collect()
}

/// The rows of screws into the wall by unit, the highest first.
fn rows(graph: &PartGraph) -> BTreeMap<UnitId, Vec<ScrewRow>> {
    let mut rows: BTreeMap<UnitId, Vec<ScrewRow>> = BTreeMap::new();
    for row in graph.rows.iter().filter(|row| row.kind == RowKind::Wall) {
        let part = row.guest.part().and_then(|part| graph.part(part));
        let Some((part, unit)) = part.and_then(|part| Some((part, part.unit?))) else { continue };
        let half = part.size.width.value.checked_div(Rational::from(2));
        let height = half.and_then(|half| part.place.z.value.checked_add(half));
        let screws = |height| ScrewRow { part: part.id, height, screws: row.count, fastener: row.fastener };
        rows.entry(unit).or_default().extend(height.map(screws));
    }
    for rows in rows.values_mut() {
        rows.sort_by_key(|row| (Reverse(row.height), row.part));
    }
    rows
}
