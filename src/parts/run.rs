//! Runs as they stand.

use super::{Bounds, Crown, PartId, RunId, UnitId};
use crate::eval::{Len, ReadingAt, Return, Space, Thing};
use crate::quantity::{Length, Rational};
use crate::source::Span;
use std::sync::Arc;

/// A run.
#[derive(Clone, Debug)]
pub struct RunPart {
    /// Its name.
    pub path: String,
    /// What its author says of it.
    pub note: Option<Arc<str>>,
    /// From each end to the outer unit, where the run is tightest; `None` where no length is known.
    pub gaps: Option<[Len; 2]>,
    /// All units together.
    pub total_width: Len,
    /// Its ends with their gaps at every reading; empty where no length is known.
    pub ends: Vec<EndPart>,
    /// Its units from left to right.
    pub units: Vec<UnitId>,
    /// The units that hang on its wall, over others and over spaces.
    pub hung: Vec<HungPart>,
    /// The room that it leaves between them, from left to right.
    pub spaces: Vec<SpacePart>,
    /// The wall that it stands against, by its position in the model.
    pub wall: Option<usize>,
    /// The floor below the level line under the outer faces of each unit, from left to right: what is packed there.
    pub floor_at_faces: Vec<[Len; 2]>,
    /// The crown on it.
    pub crown: Option<Crown>,
    /// The stiles at its left and right end, where it has a facing.
    pub end_stiles: [Option<PartId>; 2],
    /// Its facing, where that is a frame.
    pub frame: Option<FramePart>,
}

/// A corner of the room in which two runs meet.
#[derive(Clone, Copy, Debug)]
pub struct RoomCorner {
    /// The run that ends before the other one.
    pub own: RunId,
    /// Its end there: 0 left, 1 right; of the other run it is the other one.
    pub end: usize,
    /// The run that goes through.
    pub through: RunId,
    /// The unit before the other run.
    pub unit: UnitId,
    /// The unit in the corner.
    pub blind: UnitId,
    /// From the wall of the run that goes through to its front.
    pub out: Len,
    /// What the other run covers of it, from the corner on.
    pub covered: Len,
    /// What stays open of the clear width of the unit in the corner.
    pub open: Len,
}

/// Room that a run leaves between units.
#[derive(Clone, Debug)]
pub struct SpacePart {
    /// Its path.
    pub path: String,
    /// Its own name.
    pub name: Arc<str>,
    /// How many units stand left of it.
    pub after: usize,
    /// From the left corner of the wall to its left edge.
    pub x: Len,
    /// Between the units beside it, at a wall where that is tightest.
    pub width: Len,
    /// The opening of the wall that it keeps free, by its position there.
    pub over: Option<usize>,
}

impl SpacePart {
    /// Where things stand in it: side by side in the middle, each with its play, as far before the wall as is left free behind it.
    #[must_use]
    pub fn stand<'a>(&self, space: &'a Space) -> Vec<(&'a Thing, Bounds)> {
        let plus = |a: Length, b: Length| a.checked_add(b).unwrap_or(a);
        let less = |a: Length, b: Length| a.checked_sub(b).unwrap_or(a);
        let wide = |thing: &Thing| [thing.play.value; 2].into_iter().fold(thing.size[0].value, plus);
        let all = space.things.iter().fold(Length::ZERO, |all, thing| plus(all, wide(thing)));
        let over = less(self.width.value, all).checked_div(Rational::from(2)).unwrap_or_default();
        let mut at = plus(self.x.value, over);
        let mut stand = Vec::new();
        for thing in &space.things {
            let [width, depth, height] = thing.size.map(|size| size.value);
            let left = plus(at, thing.play.value);
            let rear = thing.behind.map_or(Length::ZERO, |behind| behind.value);
            stand.push((
                thing,
                [[left, plus(left, width)], [rear, plus(rear, depth)], [Length::ZERO, height]],
            ));
            at = plus(at, wide(thing));
        }
        stand
    }
}

/// A unit that hangs, and what is under and beside it.
#[derive(Clone, Debug)]
pub struct HungPart {
    /// The unit.
    pub unit: UnitId,
    /// The units that it hangs over.
    pub units: Vec<UnitId>,
    /// The spaces that it hangs over, by their positions in the run.
    pub spaces: Vec<usize>,
    /// The units that stand at its left and its right side and reach over its foot.
    pub beside: [Option<UnitId>; 2],
    /// Whether its left and its right end are those of the run.
    pub at_ends: [bool; 2],
}

impl RunPart {
    /// All its units: those that stand from left to right, then those that hang.
    pub fn all(&self) -> impl Iterator<Item = UnitId> {
        self.units.iter().copied().chain(self.hung.iter().map(|hung| hung.unit))
    }

    /// What is under and beside a unit, if that hangs.
    #[must_use]
    pub fn hangs(&self, unit: UnitId) -> Option<&HungPart> {
        self.hung.iter().find(|hung| hung.unit == unit)
    }

    /// The seams: two units that touch, from left to right.
    pub fn seams(&self) -> impl Iterator<Item = [UnitId; 2]> {
        let pairs = self.units.iter().zip(self.units.iter().skip(1)).enumerate();
        let apart = |place: usize| self.spaces.iter().any(|space| space.after == place + 1);
        pairs.filter(move |(place, _)| !apart(*place)).map(|(_, (left, right))| [*left, *right])
    }

    /// Its units as they stand together, from space to space.
    #[must_use]
    pub fn stretches(&self) -> Vec<&[UnitId]> {
        let ends = self.spaces.iter().map(|space| space.after).chain([self.units.len()]);
        let mut from = 0;
        let stretches = ends.filter_map(|to| {
            let stretch = self.units.get(from..to).filter(|units| !units.is_empty());
            from = to;
            stretch
        });
        stretches.collect()
    }

    /// The gaps at its left and its right end: where they are read high at the front, else where they are tightest.
    #[must_use]
    pub fn high_gaps(&self) -> [Option<Len>; 2] {
        [0, 1].map(|end: usize| {
            let end = self.ends.get(end)?;
            let high = end.readings.iter().find(|reading| reading.at == ReadingAt::High);
            Some(high.and_then(|high| high.front).unwrap_or(end.gap))
        })
    }
}

/// A facing that is joined on the bench and put on in one piece, as it is carried: with its blanks.
#[derive(Clone, Copy, Debug)]
pub struct FramePart {
    /// Over the stiles of both ends.
    pub width: Len,
    /// Of its longest stile.
    pub height: Len,
    /// Of all its parts.
    pub thickness: Len,
    /// Where its join is stated.
    pub head: Span,
}

/// An end of a run.
#[derive(Clone, Debug)]
pub struct EndPart {
    /// What it meets.
    pub meets: Return,
    /// What stands at that end of its wall; not what it meets where it ends in mid-wall.
    pub beyond: Return,
    /// From the corner to the front of the run that goes through there; its gaps count from that.
    pub before: Option<Len>,
    /// The gap where the run is tightest.
    pub gap: Len,
    /// The gap at the back at middle height, from which places along the wall count.
    pub corner: Len,
    /// The gap at every reading.
    pub readings: Vec<EndGap>,
}

impl EndPart {
    /// Whether it stands in mid-wall, before the corner with another wall.
    #[must_use]
    pub fn is_mid_wall(&self) -> bool {
        self.meets == Return::Open && self.beyond != Return::Open
    }
}

/// The gap of an end at one reading.
#[derive(Clone, Debug)]
pub struct EndGap {
    /// At which reading.
    pub at: ReadingAt,
    /// The height, if it is stated.
    pub height: Option<Len>,
    /// At the front, where the facing is.
    pub front: Option<Len>,
    /// At the wall.
    pub back: Option<Len>,
}
