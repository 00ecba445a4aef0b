//! What is in the way: obstacles, openings of the room, and the routes on which units come in.

use super::Wall;
use crate::eval::Len;
use crate::quantity::Length;
use crate::source::Span;
use std::sync::Arc;

/// What is to be heeded about an obstacle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ObstacleClass {
    /// A box in the wall that must stay reachable.
    Electric,
    /// A register or grille that must stay open.
    Air,
    /// A heater, which needs room round it.
    Heater,
    /// Trim and pipes: wood cannot stand where they are.
    Trim,
    /// What hangs from the ceiling, in the way of what is rolled up.
    Overhead,
}

/// What is decided about an obstacle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decided {
    /// It stays as it is.
    Keep,
    /// It is taken off, moved or closed up.
    Remove,
    /// Parts are cut round it; casing is cut back.
    CutRound,
    /// Its box or duct is brought out flush with the work.
    BringFlush,
}

/// What is in the way. Places count from the wall's left corner, from the level line and from the wall.
#[derive(Clone, Debug)]
pub struct Obstacle {
    /// Its path: `room.wall.name`.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// Where it is declared.
    pub head: Span,
    /// What it is, as the trade calls it: `floor register`.
    pub word: String,
    /// What is to be heeded about it.
    pub class: ObstacleClass,
    /// Its left and right edge; `None` for what runs along the whole wall, or hangs anywhere in the room.
    pub along: Option<[Len; 2]>,
    /// Its near and far edge from the wall.
    pub out: [Len; 2],
    /// Its lower and upper edge; `None` for what is fixed to the ceiling.
    pub up: Option<[Len; 2]>,
    /// How far it hangs under the ceiling, where it is fixed to that.
    pub hangs: Option<Len>,
    /// Of a box in the wall: how far its front edge stands behind the face of the lining, if that is stated.
    pub recessed: Option<Len>,
    /// What is decided about it.
    pub decided: Decided,
}

impl Wall {
    /// The name of its room.
    #[must_use]
    pub fn room_name(&self) -> &str {
        self.name.rsplit_once('.').map_or(&*self.name, |(room, _)| room)
    }

    /// The lowest reading of its ceiling.
    #[must_use]
    pub fn lowest_ceiling(&self) -> Option<Length> {
        self.ceiling.points.iter().map(|(_, above)| above.value).min()
    }

    /// The ceiling under which units are stood up before it: the level one beyond a slope, else its lowest reading.
    #[must_use]
    pub fn ceiling_before(&self) -> Option<Length> {
        match self.slope {
            Some(slope) => slope.level.map(|level| level.value),
            None => self.lowest_ceiling(),
        }
    }

    /// The box of an obstacle: along the wall, away from it, up; what runs along the whole wall does so from end to end of
    /// `along`. `None` of what hangs anywhere, or where no ceiling is read.
    #[must_use]
    pub fn place(&self, obstacle: &Obstacle, along: [Length; 2]) -> Option<[[Length; 2]; 3]> {
        let along = obstacle.along.map_or(along, |edges| edges.map(|len| len.value));
        let up = match (obstacle.up, obstacle.hangs) {
            (Some(up), _) => up.map(|len| len.value),
            (None, hangs) => {
                let ceiling = self.lowest_ceiling()?;
                [ceiling.checked_sub(hangs?.value)?, ceiling]
            }
        };
        Some([along, obstacle.out.map(|len| len.value), up])
    }
}

/// The wall that an opening is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InWall {
    /// The wall that the run stands along.
    This,
    /// The return wall at its left or right end.
    Return {
        /// Whether it is the right one.
        right: bool,
    },
    /// The wall across the room.
    Opposite,
}

/// The leaf of a door that swings into the room.
#[derive(Clone, Copy, Debug)]
pub struct DoorLeaf {
    /// Its width.
    pub width: Len,
    /// Whether it hangs on the right edge, in a return wall on the far one.
    pub far: bool,
}

/// An opening of the room.
#[derive(Clone, Debug)]
pub struct RoomOpening {
    /// Its path: `room.wall.name`.
    pub name: Arc<str>,
    /// Where it is declared.
    pub head: Span,
    /// What it is, as the trade calls it: `cased opening`.
    pub word: String,
    /// The wall it is in.
    pub wall: InWall,
    /// Its edges along the wall it is in: from the left corner, in a return wall from this wall.
    pub along: [Len; 2],
    /// From this wall to the one across the room, where it is in that.
    pub off: Option<Len>,
    /// Its lower and upper edge.
    pub up: [Len; 2],
    /// Width of the casing round it.
    pub casing: Option<Len>,
    /// The leaf that swings into the room, if one does and its hinge is stated.
    pub leaf: Option<DoorLeaf>,
    /// What is decided about it.
    pub decided: Decided,
}

/// A way in.
#[derive(Clone, Debug)]
pub struct Route {
    /// Its path: `room.route`.
    pub name: Arc<str>,
    /// The room it leads to.
    pub room: Arc<str>,
    /// Where it is declared.
    pub head: Span,
    /// Its legs, in the order in which one walks them.
    pub legs: Vec<Leg>,
}

/// A leg of a route.
#[derive(Clone, Debug)]
pub struct Leg {
    /// How it is called in a sentence: its text or its name, or its place among the legs.
    pub title: String,
    /// Where it is declared.
    pub head: Span,
    /// What it is.
    pub way: Way,
}

/// What a leg of a route is.
#[derive(Clone, Debug)]
pub enum Way {
    /// Straight through a door.
    Door {
        /// Clear width.
        width: Len,
        /// Clear height.
        height: Len,
    },
    /// Round the corner of two halls.
    Corner {
        /// Width of the one in which one comes.
        entry: Len,
        /// Width of the one in which one goes on.
        exit: Len,
        /// The lowest ceiling over it.
        ceiling: Len,
    },
    /// Up or down a flight of stairs.
    Stair(Box<Stairs>),
}

/// A flight of stairs and its landing.
#[derive(Clone, Copy, Debug)]
pub struct Stairs {
    /// Clear width.
    pub width: Len,
    /// Rise of a step.
    pub rise: Len,
    /// Going of a step.
    pub going: Len,
    /// Headroom, plumb over the nosings.
    pub headroom: Len,
    /// How it turns at the landing.
    pub turn: Turn,
    /// Ceiling over the landing.
    pub ceiling: Len,
}

/// How a stair turns at its landing.
#[derive(Clone, Copy, Debug)]
pub enum Turn {
    /// Not at all.
    Straight,
    /// A quarter, into a flight of this clear width.
    Quarter(Len),
    /// A half: depth of the landing, clear width of the next flight.
    Half(Len, Len),
}
