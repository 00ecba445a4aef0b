//! Panels on a carcass: its counter, its back.

use super::SheetId;
use crate::eval::Len;
use crate::quantity::Rational;
use crate::source::Span;
use std::sync::Arc;

/// A panel that lies on the ends of the sides: a counter, a seat, the top of a desk.
#[derive(Clone, Copy, Debug)]
pub struct Counter {
    /// What it is cut from.
    pub sheet: SheetId,
    /// How far it stands out before what is under it; `None` where it is flush.
    pub over: Option<Len>,
    /// What stays open between it and the wall.
    pub gap: Option<Len>,
    /// How far it stands out at each end.
    pub ends: Option<Len>,
    /// Where it is declared.
    pub head: Span,
}

/// A counter over several units and spaces of a run.
#[derive(Clone, Debug)]
pub struct RunCounter {
    /// What it is; its sheet is that of the first unit of the run where it states none.
    pub counter: Counter,
    /// The units and spaces that it lies over, with the places where that is said; all of them where nothing is.
    pub on: Option<Vec<(Arc<str>, Span)>>,
}

/// A strip on raw front edges.
#[derive(Clone, Debug)]
pub struct EdgeTape {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// Its width.
    pub width: Len,
    /// Its thickness, where it counts.
    pub thickness: Option<Len>,
    /// What a roll holds.
    pub roll: Option<Len>,
    /// Of a roll.
    pub price: Option<Rational>,
    /// Where the edge is declared.
    pub head: Span,
}

/// A hole for cables or a pipe.
#[derive(Clone, Debug)]
pub struct Hole {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// What it goes through, by name, with the places where that is said.
    pub through: Vec<(Arc<str>, Span)>,
    /// Its width.
    pub diameter: Len,
    /// Its middle from the left face of the unit, from the wall and from the bottom end of the sides.
    pub at: [Option<Len>; 3],
    /// Over the flange of the grommet that lines it.
    pub grommet: Option<Len>,
    /// Where it is declared.
    pub head: Span,
}

/// A panel behind the shelves.
#[derive(Clone, Copy, Debug)]
pub struct Back {
    /// What it is cut from.
    pub sheet: SheetId,
    /// How the sides hold it.
    pub joint: BackJoint,
}

/// How the sides hold a back.
#[derive(Clone, Copy, Debug)]
pub enum BackJoint {
    /// Planted on their rear edges.
    Planted,
    /// In rabbets along their rear edges, as wide as the back is thick.
    Rabbet {
        /// Into the side.
        depth: Len,
    },
    /// In grooves along their inner faces.
    Groove {
        /// Into the side.
        depth: Len,
        /// How much wider than the back a groove is.
        fit: Len,
        /// From the rear edge to the groove.
        set_in: Len,
    },
}
