//! How parts are held by each other.

use crate::eval::Len;
use crate::source::Span;
use std::sync::Arc;

/// How one part is held by another, besides the shape of the joint.
#[derive(Clone, Copy, Debug, Default)]
pub struct Join {
    /// The nail or screw, by its position in [`Model::fasteners`](super::Model::fasteners).
    pub fastener: Option<usize>,
    /// The glue, by its position in [`Model::glues`](super::Model::glues).
    pub glue: Option<usize>,
    /// From each end of a row to its first fastener.
    pub ends: Option<Len>,
    /// The most from one to the next.
    pub pitch: Option<Len>,
}

/// What a join speaks of at one of its ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Named {
    /// Every part of a role.
    Role(Arc<str>),
    /// The one part of this path.
    Path(String),
}

/// A join that names a part by its path: it goes before what is stated for the roles.
#[derive(Clone, Debug)]
pub struct SingleJoin {
    /// What is held.
    pub guest: Named,
    /// What holds it.
    pub host: Named,
    /// The joint's word.
    pub joint: Arc<str>,
    /// Fasteners and glue, where they are stated.
    pub join: Join,
    /// Depth of the dado, if it is stated.
    pub depth: Option<Len>,
    /// How much wider than the guest the dado is, if it is stated.
    pub fit: Option<Len>,
    /// Where it is declared.
    pub head: Span,
}

impl Join {
    /// This join where it states something, `other` for the rest.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        Self {
            fastener: self.fastener.or(other.fastener),
            glue: self.glue.or(other.glue),
            ends: self.ends.or(other.ends),
            pitch: self.pitch.or(other.pitch),
        }
    }
}

/// How the parts of a carcass are held.
#[derive(Clone, Copy, Debug, Default)]
pub struct Joins {
    /// A shelf in a side.
    pub shelf_to_side: Join,
    /// The top in the rabbets of the sides.
    pub top_to_side: Join,
    /// A stretcher between the sides.
    pub stretcher_to_side: Join,
    /// A cleat between the sides.
    pub cleat_to_side: Join,
    /// A cleat under its shelf.
    pub cleat_to_shelf: Join,
    /// A cleat, or the rear top stretcher, on the wall.
    pub cleat_to_wall: Join,
    /// A shelf of a bay in a divider.
    pub shelf_to_divider: Join,
    /// A divider in the shelves under and over it.
    pub divider_to_shelf: Join,
    /// A back on the sides.
    pub back_to_side: Join,
    /// A rib between the rails of a base.
    pub rib_to_rail: Join,
    /// A carcass on its base.
    pub base_to_carcass: Join,
    /// A counter on the sides.
    pub counter_to_side: Join,
}
