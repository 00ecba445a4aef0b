//! Overturning of a unit that is not yet fixed, and what its fixing must hold.
//!
//! Statics of a rigid box about the lower edge of its front, any consistent units. Estimates: carpet, a soft floor
//! and a climbing child are worse than any figure here. Never leave a unit standing free; no standard for
//! built-in shelving stands behind these numbers.

use crate::real::Real;

/// A unit that stands free, with all that is on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeUnit {
    /// Weight.
    pub weight: f64,
    /// Centre of gravity behind the edge about which it would tip.
    pub arm: f64,
    /// Centre of gravity above the floor.
    pub centre_height: f64,
}

impl FreeUnit {
    /// An empty unit of even weight, standing on the whole of its depth.
    #[must_use]
    pub fn even(weight: f64, height: f64, depth: f64) -> Self {
        Self { weight, arm: depth / 2.0, centre_height: height / 2.0 }
    }

    /// The unit on a floor that falls towards its front by `fall` radians: the arm turned to plumb,
    /// `arm cos - height sin`, and so the height.
    #[must_use]
    pub fn leaning(&self, fall: f64) -> Self {
        let (sin, cos) = fall.sine_cosine();
        Self {
            weight: self.weight,
            arm: self.arm * cos - self.centre_height * sin,
            centre_height: self.centre_height * cos + self.arm * sin,
        }
    }

    /// Moment that holds it upright: `weight arm`. Not above nought: it falls.
    #[must_use]
    pub fn righting_moment(&self) -> f64 {
        self.weight * self.arm
    }

    /// Level pull forward at a height that just tips it: `weight arm / height`.
    #[must_use]
    pub fn tipping_pull(&self, height: f64) -> f64 {
        self.righting_moment() / height
    }
}
