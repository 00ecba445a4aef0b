//! The room as it was measured: every reading is kept.

use super::survey::{Obstacle, RoomOpening};
use crate::eval::Len;
use crate::quantity::Rational;
use crate::source::Span;
use std::sync::Arc;

/// Whether a level line stands on the finished floor or under it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StandOn {
    /// On the floor as it will stay.
    Finished,
    /// On the subfloor; new floor will run up to the unit.
    Subfloor,
}

/// What carries the floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Build {
    /// Concrete on the ground.
    Slab,
    /// Joists.
    Joists,
}

/// The joists of a floor, where all is stated of them.
#[derive(Clone, Copy, Debug)]
pub struct Joists {
    /// Whether they lie along the wall.
    pub along: bool,
    /// From one to the next.
    pub spacing: Len,
    /// From support to support.
    pub span: Len,
    /// Whether the floor is that of a bedroom.
    pub bedroom: bool,
}

/// The floor along a wall.
#[derive(Clone, Debug)]
pub struct Floor {
    /// What the units stand on, if it is stated.
    pub stand_on: Option<StandOn>,
    /// What carries it, if it is stated.
    pub build: Option<Build>,
    /// Its joists, where direction, spacing and span are stated.
    pub joists: Option<Joists>,
    /// How much new floor will come on top.
    pub later: Option<Len>,
    /// How far it lies below the level line.
    pub below: Profile,
}

/// Readings at places along a wall; straight between them, held beyond the last.
#[derive(Clone, Debug, Default)]
pub struct Profile {
    /// Place from the left corner, and value there; from left to right.
    pub points: Vec<(Len, Len)>,
}

/// What an end of a wall meets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Return {
    /// A wall as it is.
    Wall,
    /// A plumb wall, such as a chimney breast.
    Plumb,
    /// Nothing: a plumb line.
    Open,
}

/// What holds a screw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fixing {
    /// Studs.
    Studs,
    /// Masonry, with plugs.
    Masonry,
}

/// At which height the width between walls is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ReadingAt {
    /// At the floor, if no height is stated.
    Low,
    /// Half way up.
    Middle,
    /// Where the units end.
    High,
}

impl ReadingAt {
    /// All of them, from the floor up.
    pub const ALL: [Self; 3] = [Self::Low, Self::Middle, Self::High];

    /// The word that the text and lists use.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Low => "low",
            Self::Middle => "middle",
            Self::High => "high",
        }
    }
}

/// A width at one height. A value that is not read yet is `None`.
#[derive(Clone, Debug)]
pub struct Reading {
    /// At which of the three heights.
    pub at: ReadingAt,
    /// The height, if it is stated.
    pub height: Option<Len>,
    /// At the wall.
    pub back: Option<Len>,
    /// Where the front of the units will be.
    pub front: Option<Len>,
    /// How far the left and the right wall stand back from a plumb line there.
    pub lean: [Option<Len>; 2],
}

/// A wall that a run stands against.
#[derive(Clone, Debug)]
pub struct Wall {
    /// Its name, with the room's: `basement.long`.
    pub name: Arc<str>,
    /// Where it is declared.
    pub head: Span,
    /// What its left and its right end meet.
    pub returns: [Return; 2],
    /// Whether both ends share the lean.
    pub shared: bool,
    /// Readings, low, middle and high as far as they are stated.
    pub readings: Vec<Reading>,
    /// Board or plaster.
    pub lining: Option<Len>,
    /// What holds a screw.
    pub fixing: Fixing,
    /// Middles of the studs, from left to right.
    pub studs: Vec<Len>,
    /// The floor before it.
    pub floor: Floor,
    /// The ceiling over it, above the level line.
    pub ceiling: Profile,
    /// What is in the way on it, and in the room before it.
    pub obstacles: Vec<Obstacle>,
    /// Doors and windows.
    pub openings: Vec<RoomOpening>,
    /// Readings that are stated as not taken.
    pub unread: Vec<Unread>,
    /// The air of its room.
    pub air: Air,
}

/// What the air of a room does to wood.
#[derive(Clone, Copy, Debug, Default)]
pub struct Air {
    /// The mean moisture of wood in it, as a share.
    pub moisture: Option<Rational>,
    /// The least and the greatest relative humidity over the year, as shares.
    pub humidity: Option<[Rational; 2]>,
}

/// A reading that is not taken yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// What is to be read, in words.
    pub what: String,
    /// Where it stands in the text.
    pub span: Span,
}
