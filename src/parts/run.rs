//! Runs as they stand.

use super::{Crown, PartId, UnitId};
use crate::eval::{Len, ReadingAt, Return};
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
    /// The wall that it stands against, by its position in the model.
    pub wall: Option<usize>,
    /// The floor below the level line under each outer face of a unit, from left to right: what is packed there.
    pub floor_at_faces: Vec<Len>,
    /// The crown on it.
    pub crown: Option<Crown>,
    /// The stiles at its left and right end, where it has a facing.
    pub end_stiles: [Option<PartId>; 2],
    /// Its facing, where that is a frame.
    pub frame: Option<FramePart>,
}

impl RunPart {
    /// The gaps at its ends that meet walls: at the front at a reading, else where it is tightest.
    pub fn wall_gaps(&self, at: ReadingAt) -> impl Iterator<Item = Len> {
        let walls = self.ends.iter().filter(|end| end.meets != Return::Open);
        walls.map(move |end| {
            let reading = end.readings.iter().find(|reading| reading.at == at);
            reading.and_then(|reading| reading.front).unwrap_or(end.gap)
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
