//! What is still to do: parts that are not cut, rows that are not driven, faces that are not painted.

use super::{
    Followed, Member, Part, PartGraph, PartId, Piece, PieceIs, Row, RowKind, RunPart, State, UnitId,
};

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

    /// Whether a piece of a sheet that is followed is cut: its part is, or was and is not built any more. A spare is cut with
    /// the rest of its sheet.
    #[must_use]
    pub fn is_cut(&self, piece: &Piece) -> bool {
        let made = self.named(&piece.path).and_then(|id| self.made.get(&id));
        let gone = || {
            let place = self.at_hand.binary_search_by(|gone| gone.path.as_str().cmp(&piece.path)).ok()?;
            self.at_hand.get(place).map(|gone| &gone.made)
        };
        let is_cut = || made.or_else(gone).is_some_and(|made| made.state >= State::Cut);
        match piece.is {
            PieceIs::Part => is_cut(),
            PieceIs::Spare => false,
            PieceIs::Spoilt => true,
        }
    }

    /// Whether anything was cut from a sheet that is followed.
    #[must_use]
    pub fn is_begun(&self, sheet: &Followed) -> bool {
        sheet.pieces().any(|piece| self.is_cut(piece))
    }

    /// Whether everything was cut from a sheet that is followed which is still to be built.
    #[must_use]
    pub fn is_done(&self, sheet: &Followed) -> bool {
        let left = |piece: &Piece| piece.is == PieceIs::Part && !self.is_cut(piece);
        self.is_begun(sheet) && !sheet.pieces().any(|piece| left(piece) && self.named(&piece.path).is_some())
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
        let painted = |unit: UnitId| self.parts_of(unit).all(|part| self.reached(part.id, State::Painted));
        !run.units.is_empty() && run.all().all(painted)
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
            | RowKind::BoxCorner
            | RowKind::Frame => State::Glued,
            RowKind::Wall
            | RowKind::Seam
            | RowKind::Base
            | RowKind::Counter
            | RowKind::Pins
            | RowKind::Filler
            | RowKind::CeilingPanel
            | RowKind::Hinge
            | RowKind::Slide
            | RowKind::Pull
            | RowKind::DrawerFront => State::Fixed,
        };
        match row.guest {
            Member::Part(part) => self.reached(part, state),
            Member::Unit(unit) => self.parts_of(unit).all(|part| self.reached(part.id, state)),
            Member::Wall(_) => false,
        }
    }
}
