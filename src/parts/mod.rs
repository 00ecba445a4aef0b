//! The part graph: parts, the joints between them, the openings they leave, with every size and its reason.
//!
//! Data and queries only; it is made by `lower`. Axes, seen from the front: x from left to right, y from the wall to the
//! front, z up from the unit's bottom end. A part's length runs along its grain.

mod bounds;
mod faces;
mod finding;
mod finish;
mod hardware;
mod hours;
mod made;
mod measure;
mod old_house;
mod paint;
mod part;
mod weight;

pub use bounds::Bounds;
pub use faces::{Contact, Faces, Patch, Surface};
pub use finding::{Figure, Finding, Limit};
pub use finish::{CoatTimes, FinishTimes, Times, finish_times};
pub use hardware::{Row, RowKind, Spacing, in_a_row, with_spares};
pub use hours::minutes;
pub use made::{Made, State};
pub use measure::{Measure, MeasureValue, Unknown};
pub use old_house::{FREE_OF_ASBESTOS, FREE_OF_LEAD};
pub use paint::{CaulkClass, GlueClass, PaintClass, Surfaces};
pub use part::*;

use crate::eval::{Board, Fastener, Ledger, Sheet, SheetId};
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// All parts of a project.
#[derive(Clone, Debug, Default)]
pub struct PartGraph {
    /// Sheet goods, by name.
    pub sheets: Vec<Sheet>,
    /// Boards, by name.
    pub boards: Vec<Board>,
    /// Runs, by name.
    pub runs: Vec<RunPart>,
    /// Carcasses: those of the runs from left to right, then those that stand alone.
    pub units: Vec<Unit>,
    /// Parts, unit by unit.
    pub parts: Vec<Part>,
    /// Joints, unit by unit.
    pub joints: Vec<Joint>,
    /// Openings, unit by unit from the bottom.
    pub openings: Vec<Opening>,
    /// Openings with dividers in them.
    pub divided: Vec<Divided>,
    /// Holes for pins.
    pub bores: Vec<Bore>,
    /// Nails, screws and pins, by name.
    pub fasteners: Vec<Fastener>,
    /// How the router is guided, where the shop states one.
    pub router: Option<RouterPart>,
    /// Rows of nails and screws.
    pub rows: Vec<Row>,
    /// How far parts are made, where that is stated; the others are only planned.
    pub made: BTreeMap<PartId, Made>,
    /// Estimates that checks make, by the path of what they are of: what `require` and `why` find beside the sizes.
    pub reckoned: Vec<(String, Measure)>,
    /// The reason of every number.
    pub ledger: Ledger,
    /// The partition of all faces, once it was asked for: two sheets and both sides of a comparison need it.
    pub cut: OnceLock<Option<Faces>>,
}

impl PartGraph {
    /// The sheet of a part.
    #[must_use]
    pub fn sheet(&self, id: SheetId) -> Option<&Sheet> {
        self.sheets.get(id.0)
    }

    /// The name of what a part is cut from.
    #[must_use]
    pub fn stock_name(&self, stock: Stock) -> String {
        match stock {
            Stock::Sheet(id) => self.sheet(id).map(|sheet| sheet.name.to_string()),
            Stock::Board(index) => self.boards.get(index).map(|board| board.name.to_string()),
        }
        .unwrap_or_default()
    }

    /// Adds a part, and says which one it is.
    pub fn add(&mut self, part: Part) -> PartId {
        let id = PartId::at(self.parts.len());
        self.parts.push(part);
        id
    }

    /// All parts with their ids.
    pub fn numbered(&self) -> impl Iterator<Item = (PartId, &Part)> + Clone {
        self.parts.iter().enumerate().map(|(position, part)| (PartId::at(position), part))
    }

    /// All units with their ids.
    pub fn numbered_units(&self) -> impl Iterator<Item = (UnitId, &Unit)> + Clone {
        self.units.iter().enumerate().map(|(position, unit)| (UnitId::at(position), unit))
    }

    /// The parts by their paths.
    #[must_use]
    pub fn by_path(&self) -> BTreeMap<&str, PartId> {
        self.numbered().map(|(id, part)| (part.path.as_str(), id)).collect()
    }

    /// The part of this id.
    #[must_use]
    pub fn part(&self, id: PartId) -> Option<&Part> {
        self.parts.get(id.0 as usize)
    }

    /// The unit of this id.
    #[must_use]
    pub fn unit(&self, id: UnitId) -> Option<&Unit> {
        self.units.get(id.0 as usize)
    }

    /// The parts of a unit.
    pub fn parts_of(&self, unit: UnitId) -> impl Iterator<Item = &Part> {
        self.parts.iter().filter(move |part| part.unit == Some(unit))
    }

    /// The openings of a unit, from the bottom.
    pub fn openings_of(&self, unit: UnitId) -> impl Iterator<Item = &Opening> {
        self.openings.iter().filter(move |opening| opening.unit == unit)
    }

    /// The run of each unit by its position; carcasses that stand alone are counted on behind the runs.
    fn groups(&self) -> BTreeMap<UnitId, usize> {
        let in_runs = self.runs.iter().enumerate();
        let in_runs = in_runs.flat_map(|(position, run)| run.units.iter().map(move |unit| (*unit, position)));
        let alone = self.numbered_units().filter(|(_, unit)| unit.x.is_none());
        let alone = alone.zip(self.runs.len()..).map(|((id, _), position)| (id, position));
        in_runs.chain(alone).collect()
    }

    /// The run of a part, or the carcass that stands alone, by its position.
    fn group(&self, groups: &BTreeMap<UnitId, usize>, part: &Part) -> Option<usize> {
        match part.unit {
            Some(unit) => groups.get(&unit).copied(),
            None => self
                .runs
                .iter()
                .position(|run| part.path.strip_prefix(&run.path).is_some_and(|rest| rest.starts_with('.'))),
        }
    }
}
