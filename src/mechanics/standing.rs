//! Standing a box up in the room: under a level ceiling, under a sloped one, and the tallest that stands.
//!
//! Plane geometry. The box lies on its back and is rolled up about the lower edge of its back; its upper front
//! corner swings through `sqrt(H^2 + D^2)`. Any one unit of length. The trade leaves half an inch over (common
//! practice, no source): take that off the ceiling with [`CLEARANCE_INCHES`] before asking.

use crate::real::Real;
use std::f64::consts::FRAC_PI_2;

use super::numeric::{larger, smaller, turning_point};

/// Room left over the diagonal when a box is rolled up (common practice, no source).
pub const CLEARANCE_INCHES: f64 = 0.5;

/// The same in millimetres.
pub const CLEARANCE_MM: f64 = CLEARANCE_INCHES * 25.4;

/// The diagonal of a box `height` high and `depth` deep, which is also the height it needs to roll up under a
/// level ceiling: `sqrt(H^2 + D^2)`.
#[must_use]
pub fn diagonal(height: f64, depth: f64) -> f64 {
    height.hypotenuse(depth)
}

/// The tallest box of this depth that rolls up under a level ceiling: `sqrt(c^2 - D^2)`. `None` if even the depth
/// does not fit.
#[must_use]
pub fn tallest(ceiling: f64, depth: f64) -> Option<f64> {
    (ceiling > depth).then(|| ((ceiling - depth) * (ceiling + depth)).sqrt())
}

/// A ceiling over the edge about which the box is rolled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ceiling {
    /// Height right over that edge.
    pub height: f64,
    /// Slope in radians, under a right angle in size: positive where the ceiling rises towards the side on which
    /// the box's top lies before it is rolled up, negative where it falls that way.
    pub slope: f64,
}

impl Ceiling {
    /// A level ceiling.
    #[must_use]
    pub fn level(height: f64) -> Self {
        Self { height, slope: 0.0 }
    }

    /// Height over the rolling edge that a box needs, from lying on its back to standing.
    ///
    /// A point at polar `(r, b)` from that edge keeps below the ceiling when `r sin(b - slope) <= c cos(slope)`.
    /// The upper front corner sweeps a quarter turn from `atan(D/H)`; the upper back and the lower front corner
    /// sweep one from 0 and from a right angle. The worst of the three counts.
    #[must_use]
    pub fn needed(&self, height: f64, depth: f64) -> f64 {
        let worst = |radius: f64, from: f64| {
            let highest = smaller(larger(FRAC_PI_2 + self.slope, from), from + FRAC_PI_2);
            radius * (highest - self.slope).sine()
        };
        let corner = worst(diagonal(height, depth), depth.angle_over(height));
        larger(larger(corner, worst(height, 0.0)), worst(depth, FRAC_PI_2)) / self.slope.cosine()
    }

    /// Room left over a box that is rolled up; negative if it jams.
    #[must_use]
    pub fn margin(&self, height: f64, depth: f64) -> f64 {
        self.height - self.needed(height, depth)
    }

    /// The tallest box of this depth that can be rolled up. `None` if no height does.
    ///
    /// While the box passes upright under the slope it is `sqrt((c cos)^2 - D^2)`; where the ceiling is so steep
    /// that the standing box is the worst position, it is `c - D tan`.
    #[must_use]
    pub fn tallest(&self, depth: f64) -> Option<f64> {
        let fits = |height: f64| self.margin(height, depth) >= 0.0;
        fits(0.0).then(|| turning_point(0.0, self.height, fits))
    }
}
