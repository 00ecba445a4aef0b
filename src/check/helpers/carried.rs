//! What is carried into the room: every unit, and every facing that is a frame.

use crate::check::Subject;
use crate::eval::Wall;
use crate::parts::Need;
use crate::quantity::{Estimate, Length};
use crate::source::Span;

/// What is carried.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::check) enum Kind {
    Unit,
    Frame,
}

impl Kind {
    pub fn word(self) -> &'static str {
        match self {
            Self::Unit => "unit",
            Self::Frame => "frame",
        }
    }

    /// How its smallest size is called.
    pub fn deep(self) -> &'static str {
        match self {
            Self::Unit => "deep",
            Self::Frame => "thick",
        }
    }

    /// What is made in place of one that is too long.
    pub fn shorter(self) -> &'static str {
        match self {
            Self::Unit => "make two boxes of it, or a base and a box on that",
            Self::Frame => "join it in the room, or make two frames of it",
        }
    }

    /// What is made in place of one that is too wide.
    pub fn narrower(self) -> &'static str {
        match self {
            Self::Unit => "build it in the room, or in narrower boxes",
            Self::Frame => "join it in the room, or make narrower frames",
        }
    }
}

/// A unit, or the frame of a run.
#[derive(Clone, Debug)]
pub(in crate::check) struct Carried<'a> {
    pub path: String,
    pub kind: Kind,
    pub head: Option<Span>,
    /// The wall that it goes to; `None` where none is known.
    pub wall: Option<&'a Wall>,
    /// A unit's height; of a frame its longer side.
    pub height: Length,
    pub width: Length,
    /// A unit's depth; of a frame its thickness.
    pub depth: Length,
    /// `None` where something it is made of states no density.
    pub weight: Option<Estimate>,
    /// What is missing for its weight.
    pub lacks: Vec<Need>,
    /// What it weighs at most, in kilograms, of whatever it is made.
    pub at_most: f64,
}

impl<'a> Subject<'a> {
    /// All units in their order, then all frames.
    pub(in crate::check) fn carried(&self) -> Vec<Carried<'a>> {
        let units = self.units().iter().map(|standing| {
            let unit = standing.unit;
            Carried {
                path: unit.path.clone(),
                kind: Kind::Unit,
                head: unit.head,
                wall: standing.wall,
                height: unit.height.value,
                width: unit.width.value,
                depth: unit.depth.value,
                weight: self.weight(standing.id),
                lacks: self.graph.unit_weight_lacks(standing.id),
                at_most: self
                    .graph
                    .heaviest(self.graph.parts_of(standing.id).filter(|part| part.role.is_carried())),
            }
        });
        let frames = self.graph.numbered_runs().filter_map(|(id, run)| {
            let frame = run.frame?;
            let sides = [frame.width.value, frame.height.value];
            Some(Carried {
                path: format!("{}.frame", run.path),
                kind: Kind::Frame,
                head: Some(frame.head),
                wall: run.wall.and_then(|wall| self.model.walls.get(wall)),
                height: sides[0].max(sides[1]),
                width: sides[0].min(sides[1]),
                depth: frame.thickness.value,
                weight: self.graph.facing_weight(id),
                lacks: self.graph.facing_weight_lacks(id),
                at_most: self.graph.heaviest(self.graph.facing_of(id, &run.units)),
            })
        });
        units.chain(frames).collect()
    }
}
