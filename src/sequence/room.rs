//! How a run is set up in the room: where each unit stands, what is packed under it, where its studs are.

use crate::eval::Model;
use crate::mechanics::{fastener, lifting, standing};
use crate::parts::{Member, PartGraph, PartId, RowKind, RunId, Unit, UnitId};
use crate::quantity::{Dim, Estimate, Length, Rational, to_f64, unit};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

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
    /// Of one that hangs: the bottom ends of its sides over the level line.
    pub foot: Option<Length>,
    /// What is screwed to the wall.
    pub rows: Vec<ScrewRow>,
    /// What it weighs as it is carried; `None` where a density is not stated.
    pub weight: Option<Estimate>,
    /// Whether two people carry it: it is heavier than one carries, longer than 7 ft, or hangs, so that one holds it while the other drives
    /// its screws (common practice, no source).
    pub in_twos: bool,
    /// What it needs over the floor to be rolled up: its diagonal and 1/2 in (common practice, no source); `None` of one that hangs.
    pub rolls: Option<Estimate>,
    /// The lowest ceiling where it is rolled up; `None` where none is read.
    pub under: Option<Length>,
}

/// The holes that a screw wants.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drilled {
    /// The screw, by its position among the fasteners.
    pub fastener: usize,
    /// Its number: the least into a stud where it states none.
    pub gauge: u32,
    /// Through what is fixed, so that it is pulled tight: as wide as the shank.
    pub through: Length,
    /// Into what holds: 70 % of the root of its thread in softwood, that is two thirds of the shank (Wood Handbook, chapter 8, from
    /// memory).
    pub pilot: Length,
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

/// The units of a run as they are set up: those that stand from left to right, then those that hang.
#[must_use]
pub fn standing(model: &Model, graph: &PartGraph, id: RunId) -> Vec<Standing> {
    let Some(run) = graph.run(id) else { return Vec::new() };
    let wall = run.wall.and_then(|wall| model.walls.get(wall));
    // How much farther the corner is along the floor than half way up.
    let low = run.ends.first().and_then(|end| end.readings.first()?.back).map(|back| back.value);
    let corner = run.ends.first().map(|end| end.corner.value);
    let lean = low.zip(corner).and_then(|(low, corner)| low.checked_sub(corner));
    let mut rows = rows(graph);
    let weights = graph.unit_weights(&graph.cut_off());
    let stood_up = model.runs.get(id.0 as usize).and_then(|run| run.stood_up_under);
    let under = stood_up.map(|ceiling| ceiling.value).or_else(|| graph.lowest_ceiling(id, wall?));
    let unit = |(place, id): (usize, UnitId)| {
        let unit = graph.unit(id)?;
        let weight = weights.get(id.0 as usize).copied().flatten();
        let left = wall.and(unit.x).map(|x| x.value);
        let packed = run.floor_at_faces.get(place).map(|below| below.map(|below| below.value));
        let thickness = graph.sheet(unit.sheet).map(|sheet| sheet.thickness.value);
        let inner = left.zip(thickness).and_then(|(left, thickness)| left.checked_add(thickness));
        let studs = unit.studs.iter().filter_map(|stud| stud.value.checked_sub(inner?)).collect();
        Some(Standing {
            unit: id,
            foot: unit.stands.filter(|_| unit.hung).map(|stands| stands.value),
            left,
            along_floor: left.zip(lean).and_then(|(left, lean)| left.checked_add(lean)),
            packed: packed.map_or([None; 2], |packed| packed.map(Some)),
            studs,
            rows: rows.remove(&id).unwrap_or_default(),
            weight,
            in_twos: unit.hung || in_twos(model, unit, weight),
            rolls: (!unit.hung).then(|| rolls(unit)),
            under: under.filter(|_| !unit.hung),
        })
    };
    run.all().enumerate().filter_map(unit).collect()
}

/// Whether two people carry a unit of this weight.
#[must_use]
pub fn in_twos(model: &Model, unit: &Unit, weight: Option<Estimate>) -> bool {
    let pound = unit_of("lb");
    let one = model.shop.carries.map_or(lifting::ONE_PERSON_POUNDS * pound, |each| to_f64(each.value.value));
    let long = unit.height.value.max(unit.width.value).to_mm_f64();
    weight.is_some_and(|weight| weight.value > one) || long > lifting::TWO_PEOPLE_LENGTH_FEET * unit_of("ft")
}

fn unit_of(word: &str) -> f64 {
    unit(word).map_or(1.0, |unit| to_f64(unit.factor))
}

fn rolls(unit: &Unit) -> Estimate {
    Estimate { value: unit.rolled() + standing::CLEARANCE_MM, dim: Dim::LENGTH }
}

/// The holes for every kind of screw that a run is fixed with, in the order of the list.
#[must_use]
pub fn drilled(graph: &PartGraph, id: RunId) -> Vec<Drilled> {
    let run_of = |unit: UnitId| graph.unit(unit)?.run;
    let of_run = |member: Member| match member {
        Member::Part(part) => graph.part(part).and_then(|part| part.run.or_else(|| run_of(part.unit?))),
        Member::Unit(unit) => run_of(unit),
        Member::Wall(_) => None,
    };
    let rows = graph.rows.iter().filter(|row| row.count > 0 && of_run(row.guest) == Some(id));
    let used: BTreeSet<usize> = rows.filter_map(|row| row.fastener).collect();
    let holes = |fastener: usize| {
        let screw = graph.fasteners.get(fastener).filter(|own| own.screw)?;
        // 0.060 in and 0.013 in a number, as the pull of screws is reckoned.
        let gauge = screw.gauge.unwrap_or(fastener::LEAST_GAUGE);
        let through = Length::from_inches(Rational::new(60 + 13 * i128::from(gauge), 1000))?;
        let pilot = through.checked_mul(Rational::new(7, 15))?;
        Some(Drilled { fastener, gauge, through, pilot })
    };
    used.into_iter().filter_map(holes).collect()
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
