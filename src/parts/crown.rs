//! Crowns: pieces of moulding on the top rails.

use super::Hand;
use crate::eval::Len;
use crate::quantity::Estimate;

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
    /// The width of its face.
    pub width: Len,
    /// The length of stick that all pieces need, with trim and kerfs.
    pub stick: Estimate,
    /// The shortest length sold that gives all pieces, if one does.
    pub buy: Option<Len>,
}

impl Crown {
    /// Whether it turns an outer corner.
    #[must_use]
    pub fn turns(&self) -> bool {
        self.pieces.iter().any(|piece| matches!(piece.at, CrownAt::Return(_)))
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
