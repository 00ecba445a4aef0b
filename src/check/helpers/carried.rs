//! What is carried into the room: every unit, and every facing that is a frame.

use super::shelf_load::line_load;
use crate::check::Subject;
use crate::eval::Wall;
use crate::mechanics::published::DENSEST;
use crate::parts::{Need, UnitId};
use crate::quantity::{Estimate, Length};
use crate::source::Span;

/// What a unit weighs with its facing and all that its shelves are asked to carry, in kilograms; where that is not known, what is
/// missing for it.
pub(in crate::check) fn load_of(subject: &Subject<'_>, id: UnitId) -> (Option<f64>, Vec<Need>) {
    let graph = subject.graph;
    let mut needs = graph.standing_weight_lacks(id);
    let parts = graph.parts_of(id).map(|part| graph.part_weight(part, subject.cut_off()));
    let own = parts.map(|weight| weight.map(|weight| weight.value)).sum::<Option<f64>>();
    let Some(unit) = graph.unit(id) else { return (None, needs) };
    let facing = unit.run.and_then(|run| subject.model.runs.get(run.0 as usize)?.facing.as_ref());
    let strip = facing.map_or(0.0, |facing| facing.thickness.value.to_mm_f64());
    let mut carried = Some(0.0);
    for opening in subject.openings_of(id).iter().filter(|opening| !opening.divided && opening.used) {
        let Some((load, shelf)) = opening.load.zip(graph.part(opening.on)) else {
            carried = None;
            continue;
        };
        let width = opening.clear_width.value.to_mm_f64();
        let shelves = subject.loose_in(opening).into_iter().chain([shelf]);
        let on =
            shelves.map(|shelf| width * line_load(load, width, shelf.size.width.value.to_mm_f64(), strip));
        carried = carried.map(|carried| carried + on.sum::<f64>());
    }
    needs.extend(carried.is_none().then(|| Need::kind("load")));
    needs.sort();
    needs.dedup();
    (own.zip(carried).map(|(own, carried)| own + carried), needs)
}

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
    /// Where its weight is not known, what is missing for it, and what it weighs at most, in kilograms, of whatever it is made.
    pub unknown: Option<(Vec<Need>, f64)>,
}

impl<'a> Subject<'a> {
    /// All units in their order, then all frames.
    pub(in crate::check) fn carried(&self) -> Vec<Carried<'a>> {
        // Looked for only where something is missing: of a long run it is as much work as all weights.
        let unknown = |weight: Option<Estimate>, find: &dyn Fn() -> (Vec<Need>, f64)| match weight {
            Some(_) => None,
            None => Some(find()),
        };
        let graph = self.graph;
        let units = self.units().iter().map(move |standing| {
            let (unit, id) = (standing.unit, standing.id);
            let weight = self.weight(id);
            let parts = || graph.parts_of(id).filter(|part| part.role.is_carried());
            Carried {
                path: unit.path.clone(),
                kind: Kind::Unit,
                head: unit.head,
                wall: standing.wall,
                height: unit.height.value,
                width: unit.width.value,
                depth: unit.depth.value,
                weight,
                unknown: unknown(weight, &|| {
                    (graph.unit_weight_lacks(id), graph.heaviest(parts(), self.cut_off(), DENSEST))
                }),
            }
        });
        let frames = graph.numbered_runs().filter_map(move |(id, run)| {
            let frame = run.frame?;
            let sides = [frame.width.value, frame.height.value];
            let weight = graph.facing_weight(id);
            let heaviest = || graph.heaviest(graph.facing_of(id, run), self.cut_off(), DENSEST);
            Some(Carried {
                path: format!("{}.frame", run.path),
                kind: Kind::Frame,
                head: Some(frame.head),
                wall: run.wall.and_then(|wall| self.model.walls.get(wall)),
                height: sides[0].max(sides[1]),
                width: sides[0].min(sides[1]),
                depth: frame.thickness.value,
                weight,
                unknown: unknown(weight, &|| (graph.facing_weight_lacks(id), heaviest())),
            })
        });
        units.chain(frames).collect()
    }
}
