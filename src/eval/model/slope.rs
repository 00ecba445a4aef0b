//! Ceilings that slope towards the room, and units that follow them.

use crate::eval::Len;
use crate::quantity::{Length, Rational};
use crate::source::Span;

/// The slope of a ceiling, from its readings at the wall.
#[derive(Clone, Copy, Debug)]
pub struct Slope {
    /// How far it rises or falls.
    pub by: Len,
    /// Over this length away from the wall.
    pub over: Len,
    /// Whether it falls.
    pub falls: bool,
    /// The level ceiling where it ends, above the level line.
    pub level: Option<Len>,
    /// Where it is declared.
    pub head: Span,
}

impl Slope {
    /// How far it rises over one length away from the wall; less than nothing where it falls. `None` on overflow.
    #[must_use]
    pub fn grade(&self) -> Option<Rational> {
        let grade = self.by.value.ratio(self.over.value)?;
        Some(if self.falls { -grade } else { grade })
    }

    /// How high the ceiling is so far from a wall at which it is `low`; `None` on overflow.
    #[must_use]
    pub fn at(&self, low: Length, off: Length) -> Option<Length> {
        let at = low.checked_add(off.checked_mul(self.grade()?)?)?;
        Some(match self.level {
            Some(level) if self.falls => at.max(level.value),
            Some(level) => at.min(level.value),
            None => at,
        })
    }
}

/// A unit that follows the ceiling of its wall.
#[derive(Clone, Copy, Debug)]
pub struct Follow {
    /// What stays open under the ceiling, plumb.
    pub gap: Len,
    /// Whether its height follows, which it then does not state.
    pub height: bool,
    /// Where it is declared.
    pub head: Span,
}
