//! The room between parts, and what is bored for loose shelves in it.

use super::{OpeningId, PartId, UnitId};
use crate::eval::{Contents, Len, Load};
use std::sync::Arc;

/// The room over a shelf.
#[derive(Clone, Debug)]
pub struct Opening {
    /// The path of its measures: the shelf that it stands on, or its bay.
    pub path: String,
    /// Its own name: that of its shelf or bay.
    pub name: Arc<str>,
    /// The loose shelves in it, from the bottom.
    pub loose: Vec<PartId>,
    /// Whether it lies in a bay, and not between the sides of the carcass.
    pub bay: bool,
    /// Whether it is the lowest one of its bay, which has the bay's name.
    pub lowest: bool,
    /// Whether dividers stand in it: what stands there, stands in its bays.
    pub divided: bool,
    /// Its unit.
    pub unit: UnitId,
    /// The shelf that it stands on, which names it.
    pub on: PartId,
    /// The part above it; `None` over the top shelf.
    pub under: Option<PartId>,
    /// Whether things stand in it: not over a top shelf whose room a rail or a crown closes.
    pub used: bool,
    /// Whether nothing but air is above it: what stands there may be taller than the sides, and is seen over them.
    pub open: bool,
    /// Between the sides.
    pub clear_width: Len,
    /// From the shelf to what is above it.
    pub clear_height: Len,
    /// The clear height at the wall, under the cleat that hangs there; equal to the clear height where there is none.
    pub opening_rear: Len,
    /// The clear height at the front, under the strip or rail that hangs there; equal to the clear height where none does.
    pub opening_front: Len,
    /// From the front of the facing to the wall.
    pub depth: Len,
    /// What it carries, if that is stated.
    pub load: Option<Load>,
    /// What is stated to stand in this very opening.
    pub contents: Vec<Contents>,
}

/// An opening with dividers in it.
#[derive(Clone, Debug)]
pub struct Divided {
    /// Its unit.
    pub unit: UnitId,
    /// The opening.
    pub opening: OpeningId,
    /// The top of the shelf that it stands on, from the bottom end of the unit.
    pub floor: Len,
    /// That shelf.
    pub on: PartId,
    /// Its bays from left to right.
    pub bays: Vec<PartBay>,
}

/// A bay of a divided opening.
#[derive(Clone, Debug)]
pub struct PartBay {
    /// Its path of names.
    pub path: String,
    /// Its own name.
    pub name: Arc<str>,
    /// Where it begins, from the left face of the unit.
    pub x: Len,
    /// Between its uprights.
    pub clear: Len,
    /// Its own shelves, from the bottom.
    pub shelves: Vec<PartId>,
    /// Its openings from the bottom: the first one stands on its floor.
    pub openings: Vec<OpeningId>,
    /// The divider at its right; `None` for the last bay.
    pub divider: Option<PartId>,
}

/// Holes for pins: two rows in each of two uprights, on one grid from the bottom end of the unit.
#[derive(Clone, Debug)]
pub struct Bore {
    /// The opening.
    pub opening: OpeningId,
    /// Its unit.
    pub unit: UnitId,
    /// The left and the right upright.
    pub hosts: [PartId; 2],
    /// From hole to hole.
    pub pitch: Len,
    /// The number of the lowest and of the highest hole: so many pitches from the bottom end.
    pub numbers: [i128; 2],
    /// Their heights from the bottom end of the unit.
    pub ends: [Len; 2],
    /// From the front edge to the front row, and from the rear edge to the rear row.
    pub rows: [Len; 2],
    /// How deep a hole is bored.
    pub depth: Len,
    /// How wide it is: as the pin, where that states its diameter.
    pub wide: Option<Len>,
}
