//! Where parts and units stand in the room: boxes from the left corner of the wall, from the wall and from the level line.

use super::{Part, PartGraph, Role, RunId, Unit};
use crate::eval::{Len, Return, Wall};
use crate::quantity::Length;

/// A box: its lower and upper ends in x, y and z.
pub type Bounds = [[Length; 2]; 3];

/// A size of a part.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Thickness,
    Width,
    Length,
}

impl Part {
    /// Which of its sizes lie along x, y and z.
    fn axes(&self) -> [Side; 3] {
        use Side::{Length as L, Thickness as T, Width as W};
        match self.role {
            Role::Side(_) | Role::Divider => [T, W, L],
            Role::Shelf
            | Role::Top
            | Role::Loose
            | Role::Counter
            | Role::CeilingPanel
            | Role::DrawerBottom => [L, W, T],
            Role::Rib | Role::DrawerSide(_) => [T, L, W],
            Role::LooseStrip
            | Role::DrawerFront
            | Role::DrawerEnd(_)
            | Role::Cleat
            | Role::Stretcher(..)
            | Role::BaseRail(_)
            | Role::Strip
            | Role::TopRail
            | Role::BottomRail => [L, T, W],
            Role::Stile | Role::Back | Role::Filler | Role::Door => [W, T, L],
        }
    }

    /// Its thickness, width and length as they lie along x, y and z, without tenons.
    #[must_use]
    pub fn extent(&self) -> [Len; 3] {
        self.axes().map(|side| match side {
            Side::Thickness => self.size.thickness,
            Side::Width => self.size.width,
            Side::Length => self.seen_length(),
        })
    }

    /// Along which of x, y and z it is thin.
    #[must_use]
    pub fn thin(&self) -> usize {
        self.axes().iter().position(|side| *side == Side::Thickness).unwrap_or(0)
    }
}

impl Unit {
    /// Its box with `front` before it; `None` on overflow.
    #[must_use]
    pub fn bounds(&self, front: Length) -> Option<Bounds> {
        let left = self.x.map_or(Length::ZERO, |x| x.value);
        let right = left.checked_add(self.width.value)?;
        let edged = self.edged.map_or(Length::ZERO, |edged| edged.value);
        let depth = self.depth.value.checked_add(edged)?.checked_add(front)?;
        let low = self.stands.filter(|_| self.hung).map_or(Length::ZERO, |foot| foot.value);
        Some([[left, right], [Length::ZERO, depth], [low, self.top()?]])
    }

    /// From the level line to the top end of its sides; `None` on overflow.
    #[must_use]
    pub fn top(&self) -> Option<Length> {
        self.stands.map_or(Length::ZERO, |stands| stands.value).checked_add(self.height.value)
    }
}

impl PartGraph {
    /// The lowest ceiling along a run, gaps at walls counted; before a slope the level one beyond it, where units are stood up.
    /// `None` where none is read.
    #[must_use]
    pub fn lowest_ceiling(&self, run: RunId, wall: &Wall) -> Option<Length> {
        if let Some(slope) = wall.slope {
            return slope.level.map(|level| level.value);
        }
        let run = self.run(run)?;
        let [first, last] =
            [run.units.first(), run.units.last()].map(|id| self.unit(*id?)?.bounds(Length::ZERO));
        let open = run.ends.first().map_or(wall.returns[0], |end| end.meets) == Return::Open;
        let gap = run.ends.get(1).filter(|end| end.meets != Return::Open);
        let right = last?[0][1].checked_add(gap.map_or(Length::ZERO, |end| end.corner.value));
        wall.ceiling.least([if open { first?[0][0] } else { Length::ZERO }, right?])
    }

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
