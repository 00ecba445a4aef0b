//! Where parts and units stand in the room: boxes from the left corner of the wall, from the wall and from the level line.

use super::{Part, PartGraph, Role, Unit};
use crate::eval::Len;
use crate::quantity::Length;

/// A box: its lower and upper ends in x, y and z.
pub type Bounds = [[Length; 2]; 3];

impl Part {
    /// Its thickness, width and length as they lie along x, y and z.
    #[must_use]
    pub fn extent(&self) -> [Len; 3] {
        let (t, w, l) = (self.size.thickness, self.size.width, self.size.length);
        match self.role {
            Role::Side(_) | Role::Divider => [t, w, l],
            Role::Shelf | Role::Top | Role::Loose | Role::CeilingPanel => [l, w, t],
            Role::LooseStrip
            | Role::Cleat
            | Role::Stretcher(..)
            | Role::Strip
            | Role::TopRail
            | Role::BottomRail => [l, t, w],
            Role::Stile | Role::Back | Role::Filler => [w, t, l],
        }
    }
}

impl Unit {
    /// Its box with `front` before it; `None` on overflow.
    #[must_use]
    pub fn bounds(&self, front: Length) -> Option<Bounds> {
        let left = self.x.map_or(Length::ZERO, |x| x.value);
        let right = left.checked_add(self.width.value)?;
        let depth = self.depth.value.checked_add(front)?;
        Some([[left, right], [Length::ZERO, depth], [Length::ZERO, self.height.value]])
    }
}

impl PartGraph {
    /// The box of a part; `None` on overflow.
    #[must_use]
    pub fn bounds(&self, part: &Part) -> Option<Bounds> {
        let shift = part.unit.and_then(|unit| self.unit(unit)).and_then(|unit| unit.x);
        let x = part.place.x.value.checked_add(shift.map_or(Length::ZERO, |x| x.value))?;
        let mut bounds = [[x; 2], [part.place.y.value; 2], [part.place.z.value; 2]];
        for ([low, high], size) in bounds.iter_mut().zip(part.extent()) {
            *high = low.checked_add(size.value)?;
        }
        Some(bounds)
    }
}
