//! What a slope takes of a unit: the outline of its sides and dividers, and how it is rolled up.
//!
//! A part is cut from a rectangle; a toe space takes its lower front corner, a slope the upper corner that lies under it. All
//! corners are rational, so that areas are exact; what is as long as the slope itself is a root, and an estimate.

use super::{Part, PartGraph, Role, Unit};
use crate::eval::Len;
use crate::quantity::{Length, Rational};
use crate::real::Real;
use num_traits::{CheckedMul, Signed};

/// The line that a unit stays under: the ceiling less what stays open.
#[derive(Clone, Copy, Debug)]
pub struct Slant {
    /// Its height at the wall, from the bottom end of the sides.
    pub low: Len,
    /// How far it rises or falls.
    pub by: Len,
    /// Over this length away from the wall.
    pub over: Len,
    /// Whether it falls.
    pub falls: bool,
    /// What stays open over it, plumb.
    pub gap: Len,
    /// The edge of a side that it shortens: the rear one where it rises, else the front one.
    pub edge: Len,
    /// What is left of the top ends of the sides.
    pub top: Len,
}

/// The corner that a slope takes of a part, from its upper end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Corner {
    /// Whether it is the rear one; else the front one.
    pub rear: bool,
    /// Its size across the part, from that edge.
    pub deep: Length,
    /// Its size along the part, from the upper end.
    pub high: Length,
}

impl Slant {
    /// How far it rises over one length away from the wall; less than nothing where it falls. `None` on overflow.
    #[must_use]
    pub fn grade(&self) -> Option<Rational> {
        let grade = self.by.value.ratio(self.over.value)?;
        Some(if self.falls { -grade } else { grade })
    }

    /// Its height so far from the wall; `None` on overflow.
    #[must_use]
    pub fn at(&self, off: Length) -> Option<Length> {
        self.low.value.checked_add(off.checked_mul(self.grade()?)?)
    }
}

impl Corner {
    /// Its area in square millimetres; `None` on overflow.
    #[must_use]
    pub fn area(&self) -> Option<Rational> {
        self.deep.mm().checked_mul(&self.high.mm())?.checked_mul(&Rational::new(1, 2))
    }
}

impl Part {
    /// Whether it is a side or a divider, whose outline is seen from the side.
    #[must_use]
    pub fn is_upright(&self) -> bool {
        matches!(self.role, Role::Side(_) | Role::Divider)
    }
}

impl PartGraph {
    /// The corner that a slope takes of a side or a divider.
    #[must_use]
    pub fn corner(&self, part: &Part) -> Option<Corner> {
        if !part.is_upright() {
            return None;
        }
        let slant = self.unit(part.unit?)?.slant?;
        let rear = part.place.y.value;
        let edge = if slant.falls { rear.checked_add(part.size.width.value)? } else { rear };
        let top = part.place.z.value.checked_add(part.size.length.value)?;
        let high = top.checked_sub(slant.at(edge)?)?;
        let deep = high.checked_div(slant.grade()?.abs())?;
        high.is_positive().then_some(Corner { rear: !slant.falls, deep, high })
    }

    /// The corners of a side or a divider in turn, from its rear lower one, each from its rear edge and from its lower end; of what
    /// is a rectangle its four. `None` on overflow.
    #[must_use]
    pub fn outline(&self, part: &Part) -> Option<Vec<[Length; 2]>> {
        let (zero, wide, long) = (Length::ZERO, part.size.width.value, part.size.length.value);
        let mut outline = vec![[zero, zero]];
        match self.notch(part) {
            Some([high, deep]) => {
                let behind = wide.checked_sub(deep)?;
                outline.extend([[behind, zero], [behind, high], [wide, high]]);
            }
            None => outline.push([wide, zero]),
        }
        match self.corner(part) {
            None => outline.extend([[wide, long], [zero, long]]),
            Some(Corner { rear, deep, high }) => {
                let low = long.checked_sub(high)?;
                if rear {
                    outline.extend([[wide, long], [deep, long], [zero, low]]);
                } else {
                    outline.extend([[wide, low], [wide.checked_sub(deep)?, long], [zero, long]]);
                }
            }
        }
        outline.dedup();
        Some(outline)
    }
}

impl Unit {
    /// The middle of its side's outline in millimetres: how far behind its front edge, and how high over its bottom end.
    #[must_use]
    pub fn middle(&self) -> [f64; 2] {
        let (height, depth) = (self.height.value.to_mm_f64(), self.depth.value.to_mm_f64());
        let Some(slant) = self.slant else { return [depth / 2.0, height / 2.0] };
        let high = height - slant.edge.value.to_mm_f64();
        let deep = depth - slant.top.value.to_mm_f64();
        // The whole less a triangle, whose middle lies a third of its sides from its corner.
        let (whole, corner) = (height * depth, high * deep / 2.0);
        let behind = if slant.falls { deep / 3.0 } else { depth - deep / 3.0 };
        let left = whole - corner;
        [
            (whole * depth / 2.0 - corner * behind) / left,
            (whole * height / 2.0 - corner * (height - high / 3.0)) / left,
        ]
    }

    /// How high it reaches in millimetres when it is rolled up from lying: the diagonal of its side. Under a slope it turns about
    /// the lower corner that lies across from what is cut off, which is less.
    #[must_use]
    pub fn rolled(&self) -> f64 {
        let (height, depth) = (self.height.value.to_mm_f64(), self.depth.value.to_mm_f64());
        let whole = height.hypotenuse(depth);
        let Some(slant) = self.slant else { return whole };
        let (edge, top) = (slant.edge.value.to_mm_f64(), slant.top.value.to_mm_f64());
        depth.hypotenuse(edge).max(top.hypotenuse(height)).max(height).min(whole)
    }
}
