//! How parts are held by each other.

use super::PartId;
use crate::eval::Len;

/// How one part is held by another.
#[derive(Clone, Copy, Debug)]
pub enum JointKind {
    /// A groove across the host's grain that takes the guest's end.
    Dado {
        /// Its depth.
        depth: Len,
        /// How much wider than the guest it is.
        fit: Len,
        /// Its width: the guest's thickness and the fit.
        width: Len,
    },
    /// A dado at the host's end, which has one wall only.
    Rabbet {
        /// Its depth.
        depth: Len,
    },
    /// A groove along the host's grain that takes the guest's edge.
    Groove {
        /// Its depth.
        depth: Len,
        /// Its width: the guest's thickness and the fit.
        width: Len,
        /// From the host's rear edge to it.
        set_in: Len,
    },
    /// A mortise in the host's edge that takes a tenon of the guest.
    Mortise {
        /// Into the edge.
        depth: Len,
    },
    /// The guest against the host's face.
    Butt,
}

impl JointKind {
    /// What lists call it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Dado { .. } => "dado",
            Self::Rabbet { .. } => "rabbet",
            Self::Groove { .. } => "groove",
            Self::Mortise { .. } => "mortise",
            Self::Butt => "butt",
        }
    }

    /// How deep it is cut into the host; `None` of a butt joint.
    #[must_use]
    pub fn depth(self) -> Option<Len> {
        match self {
            Self::Dado { depth, .. }
            | Self::Rabbet { depth }
            | Self::Groove { depth, .. }
            | Self::Mortise { depth } => Some(depth),
            Self::Butt => None,
        }
    }
}

/// A joint between two parts.
#[derive(Clone, Copy, Debug)]
pub struct Joint {
    /// The part that is held.
    pub guest: PartId,
    /// The part that holds it.
    pub host: PartId,
    /// How.
    pub kind: JointKind,
    /// Where on the host: from its bottom end to the guest's underside.
    pub at: Len,
}

impl Joint {
    /// What its place is called among the measures of the guest: a dado has a mark, what is held otherwise only stands there.
    #[must_use]
    pub fn measure(&self) -> &'static str {
        if matches!(self.kind, JointKind::Dado { .. }) { "mark" } else { "z" }
    }
}
