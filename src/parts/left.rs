//! What is still to do: parts that are not cut, rows that are not driven, faces that are not painted.

use super::{Member, Part, PartGraph, PartId, Row, RowKind, RunPart, State, UnitId};

impl PartGraph {
    /// Whether a part is so far, and of use as it is or after some work.
    #[must_use]
    pub fn reached(&self, part: PartId, state: State) -> bool {
        let lost = || self.verdicts.get(&part).is_some_and(|verdict| verdict.lost.is_some());
        self.made.get(&part).is_some_and(|made| made.state >= state) && !lost()
    }

    /// Whether a part is still to be cut from stock: it is not, or what was cut is of no use, and no made piece serves for it.
    #[must_use]
    pub fn is_to_cut(&self, part: &Part) -> bool {
        !self.reached(part.id, State::Cut) && !self.reused.contains_key(&part.id)
    }

    /// The part for which a made piece is cut down that is of no use where it was, by the path under which it was made.
    #[must_use]
    pub fn serves(&self, piece: &str) -> Option<&Part> {
        let (place, _) = self.reused.iter().find(|(_, reused)| reused.piece == piece)?;
        self.part(*place)
    }

    /// How many parts are cut and of use.
    #[must_use]
    pub fn cut(&self) -> usize {
        self.made.keys().filter(|id| self.reached(**id, State::Cut)).count()
    }

    /// Whether all units of a run are painted, and with them what is no part: its crown.
    #[must_use]
    pub fn is_painted(&self, run: &RunPart) -> bool {
        let painted = |unit: &UnitId| self.parts_of(*unit).all(|part| self.reached(part.id, State::Painted));
        !run.units.is_empty() && run.units.iter().all(painted)
    }

    /// Whether the fasteners of a row are driven: what is nailed when it is glued together, with its guest; what stands in the
    /// room, when that is fixed.
    #[must_use]
    pub fn is_driven(&self, row: &Row) -> bool {
        let state = match row.kind {
            RowKind::ShelfEnd
            | RowKind::StretcherEnd
            | RowKind::CleatEnd
            | RowKind::AlongCleat
            | RowKind::Strip
            | RowKind::Rail
            | RowKind::Stile
            | RowKind::DividerEnd
            | RowKind::RibEnd
            | RowKind::Back
            | RowKind::Frame => State::Glued,
            RowKind::Wall
            | RowKind::Seam
            | RowKind::Base
            | RowKind::Counter
            | RowKind::Pins
            | RowKind::Filler => State::Fixed,
        };
        match row.guest {
            Member::Part(part) => self.reached(part, state),
            Member::Unit(unit) => self.parts_of(unit).all(|part| self.reached(part.id, state)),
            Member::Wall(_) => false,
        }
    }
}
