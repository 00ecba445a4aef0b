//! Which made part serves in which place: pieces that are of no use where they were, or belong to nothing any more, given to
//! parts that are still to be cut, as an assignment of most stock saved and, of that, of least waste.

use super::{Bench, cuts};
use crate::eval::{Len, Offcut, Step};
use crate::limits::REUSED;
use crate::parts::{Joint, Made, Part, PartGraph, PartId, Reused, State, Stock};
use crate::quantity::{Length, Rational};
use crate::source::Span;
use num_traits::{CheckedMul, ToPrimitive};
use pathfinding::kuhn_munkres::kuhn_munkres;
use pathfinding::matrix::Matrix;
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A piece that lies there.
#[derive(Clone, Debug)]
struct Piece {
    path: String,
    stock: Arc<str>,
    thickness: Option<Length>,
    /// Width and length.
    size: [Length; 2],
    marks: Vec<Length>,
    span: Span,
}

/// A part that is still to be cut.
#[derive(Clone, Copy, Debug)]
struct Place<'a> {
    part: &'a Part,
    /// Width and length, to the mark.
    size: [Length; 2],
}

/// What serves where, and what is cut up as an offcut of its sheet.
#[derive(Debug, Default)]
struct Found {
    served: BTreeMap<PartId, Reused>,
    offcuts: Vec<Piece>,
    /// How many pieces and parts are too many to be given to each other.
    unjudged: usize,
}

/// Gives pieces that lie there to parts that are still to be cut. A piece that could give several becomes an offcut of its
/// sheet; `kerf` is what a cut takes. Gives how many pieces and parts were too many to be judged.
pub fn reuse(
    graph: &mut PartGraph,
    fits: &crate::eval::Fits,
    marks: crate::quantity::Marks,
    kerf: Length,
) -> usize {
    let bench = Bench { graph, fits, marks };
    let Found { served, offcuts, unjudged } = bench.found(kerf);
    for piece in offcuts {
        let sheet = graph.sheets.iter_mut().find(|sheet| sheet.name == piece.stock);
        let Some(sheet) = sheet else { continue };
        let ledger = &mut graph.ledger;
        let mut len = |value: Length| Len {
            value,
            why: ledger.enter("as made", value.into(), Step::Stated(piece.span), ""),
        };
        let [width, length] = piece.size.map(&mut len);
        sheet.offcuts.push(Offcut { name: piece.path.into(), size: (length, width), count: 1 });
    }
    graph.reused = served;
    unjudged
}

impl<'a> Bench<'a> {
    fn found(self, kerf: Length) -> Found {
        let mut found = Found::default();
        let mut by_stock: BTreeMap<Arc<str>, Vec<Piece>> = BTreeMap::new();
        for piece in self.pieces() {
            by_stock.entry(piece.stock.clone()).or_default().push(piece);
        }
        for (stock, mut pieces) in by_stock {
            let mut places = self.places(&stock);
            // What is longer than every piece is cut from stock.
            let longest = pieces.iter().flat_map(|piece| piece.size).max().unwrap_or_default();
            places.retain(|place| place.size.iter().all(|size| *size <= longest));
            if places.is_empty() {
                continue;
            }
            found.unjudged += pieces.len().saturating_sub(REUSED) + places.len().saturating_sub(REUSED);
            places.truncate(REUSED);
            pieces.sort_by_key(|piece| (Reverse(area(piece.size)), piece.path.clone()));
            pieces.truncate(REUSED);
            let (several, pieces): (Vec<Piece>, Vec<Piece>) =
                pieces.into_iter().partition(|piece| self.gives_several(piece, &places, kerf));
            found.offcuts.extend(several);
            let areas: Vec<i64> = pieces.iter().map(|piece| area(piece.size)).collect();
            let needed: Vec<i64> = places.iter().map(|place| area(place.size)).collect();
            let serves = |piece: usize, place: usize| {
                pieces
                    .get(piece)
                    .zip(places.get(place))
                    .is_some_and(|(piece, place)| self.serves(piece, place))
            };
            for (piece, place) in pieces.iter().zip(assign(&areas, &needed, serves)) {
                let Some(place) = place.and_then(|place| places.get(place)) else { continue };
                found.served.insert(place.part.id, Reused { piece: piece.path.clone(), size: piece.size });
            }
        }
        found
    }

    /// What is cut and lies there: of no use in its place, or of none any more.
    fn pieces(self) -> Vec<Piece> {
        let lies = |made: &Made| matches!(made.state, State::Cut | State::Grooved);
        let marks =
            |made: &Made| made.facts.marks.as_ref().map(|(marks, _)| marks.clone()).unwrap_or_default();
        let lost = self.graph.verdicts.iter().filter(|(_, verdict)| verdict.lost.is_some());
        let lost = lost.filter_map(|(id, _)| {
            let (part, made) = (self.graph.part(*id)?, self.graph.made.get(id).filter(|made| lies(made))?);
            let cut = part.cut();
            let planned = [cut.width.value, cut.length.value].map(|size| self.marks.nearest(size));
            let stock = made.facts.stock.clone().unwrap_or_else(|| self.graph.sold_as(part.stock));
            let size = made.facts.size.map_or(planned, |(size, _)| size);
            let thickness = Some(self.thickness(part));
            Some(Piece {
                path: part.path.clone(),
                stock,
                thickness,
                size,
                marks: marks(made),
                span: made.span,
            })
        });
        let gone = self.graph.at_hand.iter().filter(|piece| lies(&piece.made)).filter_map(|piece| {
            let facts = &piece.made.facts;
            Some(Piece {
                path: piece.path.clone(),
                stock: facts.stock.clone()?,
                thickness: facts.thickness.map(|(thickness, _)| thickness),
                size: facts.size.map(|(size, _)| size)?,
                marks: marks(&piece.made),
                span: piece.made.span,
            })
        });
        lost.chain(gone).collect()
    }

    /// The parts of a stock that are still to be cut, the largest first.
    fn places(self, stock: &Arc<str>) -> Vec<Place<'a>> {
        let own = self
            .graph
            .parts
            .iter()
            .filter(|part| self.graph.is_to_cut(part) && self.graph.sold_as(part.stock) == *stock);
        let mut places: Vec<Place<'a>> = own
            .map(|part| {
                let cut = part.cut();
                Place { part, size: [cut.width.value, cut.length.value].map(|size| self.marks.nearest(size)) }
            })
            .collect();
        places.sort_by_key(|place| (Reverse(area(place.size)), place.part.id));
        places
    }

    /// Whether a piece can be cut down for a part: the grain runs along both, it is as thick as grooves that are cut already want
    /// it, and what is grooved in it is grooved in the part too.
    fn serves(self, piece: &Piece, place: &Place<'_>) -> bool {
        let large = |size: [Length; 2]| size.iter().zip(place.size).all(|(has, needs)| *has >= needs);
        let [width, length] = piece.size;
        let turns = piece.marks.is_empty() && !self.has_grain(place.part.stock);
        let fits = large(piece.size) || (turns && large([length, width]));
        if !fits {
            return false;
        }
        let own = cuts(self.graph, place.part.id, self.marks);
        let grooved = |mark: &Length| own.iter().any(|cut| cut.at == self.marks.nearest(*mark));
        piece.marks.iter().all(grooved)
            && self.graph.joints_of(place.part.id).all(|joint| self.goes_in(piece, joint))
    }

    fn goes_in(self, piece: &Piece, joint: &Joint) -> bool {
        let cut = self.graph.made.get(&joint.host).is_some_and(|made| made.state >= State::Grooved);
        let (Some(width), Some(thickness)) = (self.groove(joint).0, piece.thickness) else { return true };
        !cut || width
            .checked_sub(thickness)
            .is_some_and(|play| !play.is_negative() && play <= self.fits.packed)
    }

    fn has_grain(self, stock: Stock) -> bool {
        match stock {
            Stock::Sheet(id) => self.graph.sheet(id).is_none_or(|sheet| sheet.grain),
            Stock::Board(_) => true,
        }
    }

    /// Whether two parts can be cut from a piece of a sheet: beside each other, or one after the other.
    fn gives_several(self, piece: &Piece, places: &[Place<'_>], kerf: Length) -> bool {
        let is_sheet = self.graph.sheets.iter().any(|sheet| sheet.name == piece.stock);
        if !is_sheet || !piece.marks.is_empty() {
            return false;
        }
        let fitting: Vec<&Place<'_>> = places.iter().filter(|place| self.serves(piece, place)).collect();
        let least = |of: usize| {
            let mut sizes: Vec<Length> =
                fitting.iter().filter_map(|place| place.size.get(of)).copied().collect();
            sizes.sort();
            let two = [sizes.first().copied(), sizes.get(1).copied()];
            let [Some(one), Some(other)] = two else { return false };
            let both = one.checked_add(other).and_then(|both| both.checked_add(kerf));
            both.zip(piece.size.get(of)).is_some_and(|(both, has)| both <= *has)
        };
        least(0) || least(1)
    }
}

/// Which piece is given to which place, by their positions: the assignment by which most area of places is served, and of such
/// the one that takes the least area of pieces. Areas are in whole square millimetres; `serves` says what can be cut from what.
#[must_use]
pub fn assign(pieces: &[i64], places: &[i64], serves: impl Fn(usize, usize) -> bool) -> Vec<Option<usize>> {
    let columns = places.len().max(pieces.len());
    // A square millimetre that is saved is worth more than all that can be wasted.
    let all: i64 = pieces.iter().fold(1, |sum, area| sum.saturating_add(*area));
    let worth = |piece: usize, place: usize| match (pieces.get(piece), places.get(place)) {
        (Some(own), Some(area)) if serves(piece, place) => {
            i128::from(*area) * i128::from(all) - i128::from(*own)
        }
        _ => 0,
    };
    let rows = (0..pieces.len()).map(|piece| (0..columns).map(move |place| (piece, place)));
    let weights = rows.map(|row| row.map(|(piece, place)| worth(piece, place)).collect::<Vec<_>>());
    let Ok(weights) = Matrix::from_rows(weights) else { return vec![None; pieces.len()] };
    if weights.is_empty() {
        return vec![None; pieces.len()];
    }
    let (_, chosen) = kuhn_munkres(&weights);
    chosen
        .into_iter()
        .enumerate()
        .map(|(piece, place)| Some(place).filter(|place| worth(piece, *place) > 0))
        .collect()
}

/// An area in whole square millimetres.
fn area([width, length]: [Length; 2]) -> i64 {
    let area = width.mm().checked_mul(&length.mm()).map(|area: Rational| area.round().to_integer());
    area.and_then(|area| area.to_i64()).unwrap_or(0)
}
