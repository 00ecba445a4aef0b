//! The shop's tools, and who works there.

use super::Amount;
use crate::eval::Len;

/// The shop's tools and who works in it.
#[derive(Clone, Debug, Default)]
pub struct Shop {
    /// What a cut of the table saw takes; the first saw's.
    pub kerf: Option<Len>,
    /// The widest crosscut of all saws that state one.
    pub reach: Option<Len>,
    /// The widest rip of all saws that state one.
    pub fence: Option<Len>,
    /// What its saws may cut beyond rips and crosscuts: what any of them may.
    pub cuts: Cuts,
    /// Clamps, one entry a kind.
    pub clamps: Vec<Clamps>,
    /// The router.
    pub router: Option<Router>,
    /// What gluing one housed joint takes.
    pub joint: Option<Amount>,
    /// How many people work on it.
    pub people: Option<Amount>,
    /// From hole to hole of the borer, if that is stated.
    pub grid: Option<Len>,
    /// What one of them carries, if that is stated.
    pub carries: Option<Amount>,
    /// What brings the sheets home.
    pub vehicle: Option<Vehicle>,
}

/// What may be cut beyond rips, each the whole length of a sheet, and crosscuts of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cuts {
    /// A piece may be ripped once more to its width.
    pub trim: bool,
    /// A sheet may first be cut across.
    pub across: bool,
}

impl Default for Cuts {
    fn default() -> Self {
        Self { trim: true, across: true }
    }
}

/// Clamps of one kind.
#[derive(Clone, Copy, Debug)]
pub struct Clamps {
    /// How many there are.
    pub count: Amount,
    /// How wide they open, if that is stated.
    pub opens: Option<Len>,
}

/// What brings the sheets home.
#[derive(Clone, Copy, Debug)]
pub struct Vehicle {
    /// Of the longest piece that lies flat in it.
    pub length: Len,
    /// Of the widest.
    pub width: Len,
}

/// A router.
#[derive(Clone, Copy, Debug)]
pub struct Router {
    /// From the centre of the bit to the edge of the base.
    pub base: Len,
    /// The width of the bit.
    pub bit: Len,
    /// The deepest that it cuts at once, if that is stated.
    pub step: Option<Len>,
    /// Whether the guide lies over a line that is too near the bottom end for it.
    pub above: bool,
}
