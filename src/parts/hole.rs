//! Holes for cables and pipes and for the cups of hinges, as they are bored in parts.

use super::{Bounds, PartGraph, PartId};
use crate::eval::Len;
use crate::quantity::{Length, Rational};
use crate::source::Span;
use std::sync::Arc;

/// A hole in one part.
#[derive(Clone, Debug)]
pub struct Hole {
    /// The part.
    pub part: PartId,
    /// Its name.
    pub name: Arc<str>,
    /// Its middle on the part: from the end and from the edge that are measured from.
    pub at: [Len; 2],
    /// Its width.
    pub diameter: Len,
    /// How deep it goes, from the rear face of a door; `None` where it goes through.
    pub depth: Option<Len>,
    /// Over the flange of the grommet that lines it.
    pub grommet: Option<Len>,
    /// Where it is declared.
    pub head: Span,
}

impl PartGraph {
    /// Adds a hole.
    pub fn add_hole(&mut self, hole: Hole) {
        self.bored.entry(hole.part).or_default().push(self.holes.len());
        self.holes.push(hole);
    }

    /// The holes of a part.
    pub fn holes_in(&self, part: PartId) -> impl Iterator<Item = &Hole> {
        self.bored.get(&part).into_iter().flatten().filter_map(|position| self.holes.get(*position))
    }

    /// Its box in the room, as wide as `wide`: what a round hole takes lies in it. `None` on overflow.
    #[must_use]
    pub fn hole_bounds(&self, hole: &Hole, wide: Length) -> Option<Bounds> {
        let part = self.part(hole.part)?;
        let (axes, _) = part.measured_from()?;
        let mut bounds = self.bounds(part)?;
        let half = wide.checked_div(Rational::from(2))?;
        for (axis, at) in axes.into_iter().zip(hole.at) {
            let own = bounds.get_mut(axis)?;
            let middle = own[0].checked_add(at.value)?;
            *own = [middle.checked_sub(half)?, middle.checked_add(half)?];
        }
        Some(bounds)
    }
}
