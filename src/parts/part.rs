//! What the part graph is made of.

use crate::eval::{Len, SheetId};
use crate::source::Span;
use std::fmt;

/// A part of one graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId(pub u32);

/// A unit of one graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct UnitId(pub u32);

/// Left or right, as seen from the front.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hand {
    /// At the left.
    Left,
    /// At the right.
    Right,
}

/// Where a stretcher stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StretcherAt {
    /// Under the bottom shelf.
    Bottom,
    /// On the top shelf.
    Top,
}

/// What a part is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// A side, which runs through from the bottom to the top.
    Side(Hand),
    /// A shelf, housed in both sides.
    Shelf,
    /// A cleat under the rear edge of a shelf, between the sides.
    Cleat,
    /// A stretcher between the sides.
    Stretcher(StretcherAt, Face),
}

impl Role {
    /// The word that lists use.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Side(_) => "side",
            Self::Shelf => "shelf",
            Self::Cleat => "cleat",
            Self::Stretcher(..) => "stretcher",
        }
    }
}

impl fmt::Display for Role {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// The front or the rear of a unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// Towards the room.
    Front,
    /// Towards the wall.
    Rear,
}

/// Thickness, width and length of a part; its length runs along the grain.
#[derive(Clone, Copy, Debug)]
pub struct Size {
    /// Thickness.
    pub thickness: Len,
    /// Across the grain.
    pub width: Len,
    /// Along the grain.
    pub length: Len,
}

/// Where a part's lower, left, rear corner lies in its unit.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    /// From the left face of the unit.
    pub x: Len,
    /// From the rear of the unit.
    pub y: Len,
    /// From the bottom end of the unit.
    pub z: Len,
}

/// A part.
#[derive(Clone, Debug)]
pub struct Part {
    /// Its path of names: `sewing.one.shelf.binders`.
    pub path: String,
    /// The unit that it belongs to.
    pub unit: UnitId,
    /// What it is for.
    pub role: Role,
    /// What it is cut from.
    pub sheet: SheetId,
    /// Its finished size.
    pub size: Size,
    /// Where it stands in its unit.
    pub place: Place,
}

/// How one part is held by another.
#[derive(Clone, Copy, Debug)]
pub enum JointKind {
    /// A groove across the host's grain that takes the guest's end.
    Dado {
        /// Its depth.
        depth: Len,
        /// Its width: the guest's thickness and the fit.
        width: Len,
    },
    /// The guest's end against the host's face.
    Butt,
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

/// The room over a shelf.
#[derive(Clone, Debug)]
pub struct Opening {
    /// Its unit.
    pub unit: UnitId,
    /// The shelf that it stands on, which names it.
    pub on: PartId,
    /// The part above it; `None` over the top shelf.
    pub under: Option<PartId>,
    /// Between the sides.
    pub clear_width: Len,
    /// From the shelf to what is above it.
    pub clear_height: Len,
    /// The clear height at the wall, under the cleat that hangs there; equal to the clear height where there is none.
    pub opening_rear: Len,
    /// From the front edge to the wall.
    pub depth: Len,
}

/// A carcass.
#[derive(Clone, Debug)]
pub struct Unit {
    /// Its path of names.
    pub path: String,
    /// What it is called in lists: the last step of its path, or its text.
    pub title: String,
    /// Where it is declared.
    pub head: Option<Span>,
    /// What it is cut from.
    pub sheet: SheetId,
    /// Over the outer faces of the sides.
    pub width: Len,
    /// Between the sides.
    pub clear: Len,
    /// From bottom to top.
    pub height: Len,
    /// From the rear to the front edge.
    pub depth: Len,
    /// From the left end of the run to its left face; `None` where it stands alone.
    pub x: Option<Len>,
}

/// A run.
#[derive(Clone, Debug)]
pub struct RunPart {
    /// Its name.
    pub path: String,
    /// From the left end to the first unit; `None` where no length is stated.
    pub gap_left: Option<Len>,
    /// From the last unit to the right end; `None` where no length is stated.
    pub gap_right: Option<Len>,
    /// All units together.
    pub total_width: Len,
}
