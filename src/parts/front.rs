//! Doors as they hang and drawers as they run.

use super::{Hand, Hole, Part, PartGraph, PartId, UnitId};
use crate::eval::Len;
use crate::quantity::{Dim, Estimate};
use crate::real::Real;
use crate::source::Span;

/// No door hangs on more hinges (common practice, no source).
pub const MOST_HINGES: usize = 5;

/// A door as it hangs.
#[derive(Clone, Debug)]
pub struct Hung {
    /// The door.
    pub door: PartId,
    /// The edge that it hangs on.
    pub hand: Hand,
    /// What it hangs on: a side, a divider or a stile.
    pub on: PartId,
    /// What holds it there, by its position among the fasteners; `None` where that is not stated.
    pub hinge: Option<usize>,
    /// The middles of its hinges, from the lower end of the door.
    pub hinges: Vec<Len>,
    /// The same from the bottom end of the unit.
    pub up: Vec<Len>,
    /// How many hinges its height asks for, and how many its weight, where that is known.
    pub wanted: (usize, Option<usize>),
    /// How far its pull stands out.
    pub pull: Option<Len>,
    /// Where it is declared.
    pub head: Span,
}

/// A drawer as it runs.
#[derive(Clone, Debug)]
pub struct Drawer {
    /// Its path of names.
    pub path: String,
    /// Its unit.
    pub unit: Option<UnitId>,
    /// Its front.
    pub front: PartId,
    /// The sides of its box, the left and the right one.
    pub sides: [PartId; 2],
    /// The front and the rear piece of its box.
    pub ends: [PartId; 2],
    /// Its bottom.
    pub bottom: PartId,
    /// How long its slides are.
    pub slide: Len,
    /// What they take at each side of the box.
    pub play: Len,
    /// What is packed out behind each slide: how far a stile laps the opening there.
    pub packing: [Len; 2],
    /// From the bottom end of the unit to the lower edge of the box.
    pub up: Len,
    /// What the opening has behind its front: between stiles or sides, and for the height of one drawer.
    pub room: [Len; 2],
    /// Where it is declared.
    pub head: Span,
}

impl Drawer {
    /// All its parts.
    pub fn parts(&self) -> impl Iterator<Item = PartId> + '_ {
        [self.front, self.bottom].into_iter().chain(self.sides).chain(self.ends)
    }
}

impl PartGraph {
    /// How a door hangs.
    #[must_use]
    pub fn hung(&self, door: PartId) -> Option<&Hung> {
        self.doors.iter().find(|hung| hung.door == door)
    }

    /// The drawer that a part belongs to.
    #[must_use]
    pub fn drawer_of(&self, part: &Part) -> Option<&Drawer> {
        let box_or_front = part.role.is_drawer_box() || part.role.is_front();
        self.drawers.iter().filter(|_| box_or_front).find(|drawer| drawer.parts().any(|own| own == part.id))
    }

    /// The diagonal of a drawer's box from above: both are equal when it is square.
    #[must_use]
    pub fn box_diagonal(&self, drawer: &Drawer) -> Option<Estimate> {
        let (side, end) = (self.part(drawer.sides[0])?, self.part(drawer.ends[0])?);
        let thick = side.size.thickness.value.to_mm_f64();
        let wide = end.size.length.value.to_mm_f64() + 2.0 * thick;
        let value = wide.hypotenuse(side.size.length.value.to_mm_f64());
        Some(Estimate { value, dim: Dim::LENGTH })
    }

    /// The holes of a door for the cups of its hinges.
    pub fn cups_of(&self, door: PartId) -> impl Iterator<Item = &Hole> {
        self.holes_in(door).filter(|hole| hole.depth.is_some())
    }
}
