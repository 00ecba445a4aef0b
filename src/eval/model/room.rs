//! The room as it was measured: every reading is kept.

use super::Slope;
use super::survey::{Obstacle, RoomOpening};
use crate::eval::Len;
use crate::quantity::{Length, Rational};
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
    /// Thickness of the covering that is cut out where the work stands on the subfloor.
    pub covering: Option<Len>,
    /// The sides of what dust sheets cover.
    pub size: Option<(Len, Len)>,
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

impl Profile {
    /// What lies at a place: straight between two readings, held beyond the last; `None` where nothing is read.
    #[must_use]
    pub fn at(&self, place: Length) -> Option<Length> {
        let after = self.points.iter().position(|(at, _)| at.value >= place);
        let (before, after) = match after {
            Some(0) => return self.points.first().map(|(_, value)| value.value),
            None => return self.points.last().map(|(_, value)| value.value),
            Some(after) => (self.points.get(after.checked_sub(1)?)?, self.points.get(after)?),
        };
        let span = after.0.value.checked_sub(before.0.value)?;
        let share: Rational = place.checked_sub(before.0.value)?.ratio(span)?;
        let rise = after.1.value.checked_sub(before.1.value)?;
        before.1.value.checked_add(rise.checked_mul(share)?)
    }

    /// The least from one place to another.
    #[must_use]
    pub fn least(&self, [from, to]: [Length; 2]) -> Option<Length> {
        let between = self.points.iter().filter(|(at, _)| from <= at.value && at.value <= to);
        let between = between.map(|(_, value)| value.value);
        between.chain([from, to].into_iter().filter_map(|end| self.at(end))).min()
    }
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

/// Wood between the studs of a wall.
#[derive(Clone, Copy, Debug)]
pub struct Blocking {
    /// From the left corner; `None` where it begins at that.
    pub left: Option<Len>,
    /// Along the wall; `None` where it reaches its right end.
    pub width: Option<Len>,
    /// Its lower and upper edge.
    pub up: [Len; 2],
    /// The board that it is cut from, by its position in [`Model::boards`](super::Model::boards), where it is still to be let in.
    pub to_do: Option<usize>,
}

impl Blocking {
    /// From where to where it lies in a stretch of wall; `None` where it does not.
    #[must_use]
    pub fn within(&self, [from, to]: [Length; 2]) -> Option<[Length; 2]> {
        let left = self.left.map_or(Length::ZERO, |left| left.value);
        let right = match self.width {
            Some(width) => left.checked_add(width.value)?,
            None => to,
        };
        let both = [from.max(left), to.min(right)];
        (both[0] < both[1]).then_some(both)
    }
}

/// A wall that a run stands against.
#[derive(Clone, Debug)]
pub struct Wall {
    /// Its name, with the room's: `basement.long`.
    pub name: Arc<str>,
    /// Its room: rooms are counted by name.
    pub room: usize,
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
    /// Wood between the studs.
    pub blocking: Vec<Blocking>,
    /// The floor before it.
    pub floor: Floor,
    /// The ceiling over it, above the level line.
    pub ceiling: Profile,
    /// How that slopes towards the room; its readings are then those at the wall.
    pub slope: Option<Slope>,
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

/// A room that is still to be read, as its text has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Survey {
    /// The room.
    pub room: Arc<str>,
    /// What is still to be read in it, in the order in which one walks it.
    pub asks: Vec<Unread>,
    /// The text of the room from reading to reading: one piece more than there are readings in the text, in the order of that.
    pub text: Vec<String>,
    /// Which of the asked stands between two pieces, by its position among them.
    pub between: Vec<usize>,
}

/// A reading that is not taken yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// What is to be read, in words.
    pub what: String,
    /// Where it stands in the text.
    pub span: Span,
}
