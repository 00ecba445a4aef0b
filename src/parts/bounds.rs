//! Where parts and units stand in the room: boxes from the left corner of the wall, from the wall and from the level line.

use super::{Part, PartGraph, Role, Unit};
use crate::eval::Len;
use crate::quantity::Length;

/// A box: its lower and upper ends in x, y and z.
pub type Bounds = [[Length; 2]; 3];

impl Part {
    /// Its thickness, width and length as they lie along x, y and z, without tenons.
    #[must_use]
    pub fn extent(&self) -> [Len; 3] {
        let (t, w, l) = (self.size.thickness, self.size.width, self.seen_length());
        match self.role {
            Role::Side(_) | Role::Divider => [t, w, l],
            Role::Shelf | Role::Top | Role::Loose | Role::Counter | Role::CeilingPanel => [l, w, t],
            Role::Rib => [t, l, w],
            Role::LooseStrip
            | Role::Cleat
            | Role::Stretcher(..)
            | Role::BaseRail(_)
            | Role::Strip
            | Role::TopRail
            | Role::BottomRail => [l, t, w],
            Role::Stile | Role::Back | Role::Filler | Role::Door => [w, t, l],
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
        Some([[left, right], [Length::ZERO, depth], [Length::ZERO, self.top()?]])
    }

    /// From the level line to the top end of its sides; `None` on overflow.
    #[must_use]
    pub fn top(&self) -> Option<Length> {
        self.stands.map_or(Length::ZERO, |stands| stands.value).checked_add(self.height.value)
    }
}

impl PartGraph {
    /// The box of a part; `None` on overflow.
    #[must_use]
    pub fn bounds(&self, part: &Part) -> Option<Bounds> {
        let unit = part.unit.and_then(|unit| self.unit(unit));
        let shifted = |place: Len, shift: Option<Len>| {
            place.value.checked_add(shift.map_or(Length::ZERO, |shift| shift.value))
        };
        let x = shifted(part.place.x, unit.and_then(|unit| unit.x))?;
        let z = shifted(part.place.z, unit.and_then(|unit| unit.stands))?;
        let mut bounds = [[x; 2], [part.place.y.value; 2], [z; 2]];
        for ([low, high], size) in bounds.iter_mut().zip(part.extent()) {
            *high = low.checked_add(size.value)?;
        }
        Some(bounds)
    }
}
