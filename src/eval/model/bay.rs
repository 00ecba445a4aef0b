//! What stands over a shelf: contents and load, bays between dividers, loose shelves on pins.

use super::{Contents, Doors, Drawers, Load, Share};
use crate::eval::Len;
use crate::source::Span;
use std::sync::Arc;

/// A member of a list that fills a whole: a stated length, or a share of what is left over.
#[derive(Clone, Copy, Debug)]
pub enum Fill {
    /// A stated length; it is never changed.
    Fixed(Len),
    /// A share of what the stated ones leave.
    Share(Share),
}

/// What is stated of the opening over a shelf, or over the floor of a bay.
#[derive(Clone, Debug, Default)]
pub struct Over {
    /// What the shelf carries, if that is stated for it.
    pub load: Option<Load>,
    /// What will stand on it.
    pub contents: Vec<Contents>,
    /// Bays from left to right, with dividers between them; empty where it is not divided.
    pub bays: Vec<Bay>,
    /// Loose shelves in it.
    pub adjustable: Option<Adjustable>,
}

/// A part of an opening between two upright boards.
#[derive(Clone, Debug)]
pub struct Bay {
    /// Its name.
    pub name: Arc<str>,
    /// Between the boards.
    pub width: Fill,
    /// From its floor to its lowest shelf, or to what closes it above.
    pub clear: Fill,
    /// What is stated of the opening over its floor.
    pub over: Over,
    /// Its own fixed shelves, from the bottom.
    pub shelves: Vec<Level>,
    /// Doors before its openings.
    pub doors: Vec<Doors>,
    /// Drawers in them.
    pub drawers: Vec<Drawers>,
    /// Where it is declared.
    pub head: Span,
}

/// A shelf that stands by the clear height over it.
#[derive(Clone, Debug)]
pub struct Level {
    /// Its name.
    pub name: Arc<str>,
    /// From its top to the next underside.
    pub clear: Fill,
    /// What is stated of the opening over it.
    pub over: Over,
    /// Where it is declared.
    pub head: Span,
}

/// Loose shelves on pins, in holes on one grid from the bottom end of the unit.
#[derive(Clone, Debug)]
pub struct Adjustable {
    /// How many shelves.
    pub count: usize,
    /// From hole to hole.
    pub pitch: Len,
    /// From the front and from the rear edge of the side to the rows.
    pub rows: [Len; 2],
    /// No hole is nearer than this to what closes the opening below and above.
    pub margin: Len,
    /// How deep a hole is bored.
    pub hole_depth: Len,
    /// How much shorter a shelf is than the clear width.
    pub play: Len,
    /// How much less deep it is than a fixed one.
    pub set_back: Len,
    /// Height of a strip along its front edge.
    pub strip: Option<Len>,
    /// The pin, by its position in the model's fasteners.
    pub pin: Option<usize>,
    /// Where it is declared.
    pub head: Span,
}
