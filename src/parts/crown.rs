//! Crowns: pieces of moulding on the top rails.

use super::{Hand, UnitId};
use crate::eval::Len;
use crate::quantity::{Dim, Estimate};

/// A crown: pieces of moulding on the top rails.
#[derive(Clone, Debug)]
pub struct Crown {
    /// The moulding's name.
    pub moulding: String,
    /// How far it reaches down from the ceiling.
    pub drop: Estimate,
    /// How far it reaches out.
    pub projection: Estimate,
    /// The angle of the saw to the fence for a square outer corner, where the moulding lies flat.
    pub mitre: Estimate,
    /// The tilt of its blade then.
    pub bevel: Estimate,
    /// The gap between the ends of the sides and the ceiling, least and greatest.
    pub gap: Option<[Len; 2]>,
    /// Pieces: name, length at the foot, length at the top edge.
    pub pieces: Vec<CrownPiece>,
    /// The units that it runs over along each stretch, those that hang in line with the others too.
    pub lines: Vec<Vec<UnitId>>,
    /// The width of its face.
    pub width: Len,
    /// The length of stick that all pieces need, with trim and kerfs.
    pub stick: Estimate,
    /// The shortest length sold that gives all pieces, if one does.
    pub buy: Option<Len>,
    /// Whether it meets another crown in an inside corner at its left and right end.
    pub inside: [bool; 2],
}

impl Crown {
    /// The stick that all pieces need, at their long edge with half an inch of trim and a kerf each (common practice, no source), and the
    /// shortest length sold that gives it.
    pub(crate) fn take_stick(&mut self, sold: &[Len], kerf: f64) {
        let count = f64::from(u8::try_from(self.pieces.len()).unwrap_or(u8::MAX));
        let long = self.pieces.iter().map(CrownPiece::long).sum::<f64>() + 12.7 + kerf * count;
        self.stick = Estimate { value: long, dim: Dim::LENGTH };
        self.buy = sold.iter().find(|sold| sold.value.to_mm_f64() >= long).copied();
    }

    /// Whether it turns a corner, so that it is cut at an angle.
    #[must_use]
    pub fn turns(&self) -> bool {
        self.inside != [false; 2] || self.pieces.iter().any(|piece| matches!(piece.at, CrownAt::Return(_)))
    }

    /// Its pieces along each stretch of the run.
    pub fn stretches(&self) -> impl Iterator<Item = (usize, Vec<&CrownPiece>)> {
        let count = self.pieces.iter().map(|piece| piece.stretch + 1).max().unwrap_or(0);
        (0..count).map(|at| (at, self.pieces.iter().filter(|piece| piece.stretch == at).collect()))
    }
}

/// Where a piece of a crown runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CrownAt {
    /// Along the facing.
    Front,
    /// From the facing's end back to the wall.
    Return(Hand),
}

impl CrownAt {
    /// The word that paths and lists use.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Return(hand) => hand.word(),
        }
    }
}

/// A piece of a crown.
#[derive(Clone, Debug)]
pub struct CrownPiece {
    /// Which it is.
    pub at: CrownAt,
    /// The stretch of the run that it runs along: counted from 0, from space to space.
    pub stretch: usize,
    /// Its length where it meets the facing.
    pub foot: Len,
    /// Its length at the top edge.
    pub top: Estimate,
}

impl CrownPiece {
    /// Its length over the longer of its edges, in millimetres.
    #[must_use]
    pub fn long(&self) -> f64 {
        self.top.value.max(self.foot.value.to_mm_f64())
    }
}
