//! Round a right-angled corner of two corridors: rods, boxes, boxes lifted at one end, and the inverse questions.
//!
//! Plane geometry, any one unit of length. A box of length `L` and width `w` touches the inner corner and both
//! outer walls at the angle `x`; it passes if `L <= (a - w cos x) / sin x + (b - w sin x) / cos x` at every angle.
//! That sum is convex where `w` is less than both corridors, so its least value is found to the last bit.
//! Turning only: see [`Corner::longest_past`] for a box moved on sideways without a turn.

use crate::real::Real;
use std::f64::consts::FRAC_PI_2;

use super::numeric::{larger, smaller, turning_point};

/// Least angle that is tried: at nought itself the formulas divide by it.
const NEAR_NOUGHT: f64 = 1e-12;

/// Longest rod that turns on the level: `(a^(2/3) + b^(2/3))^(3/2)`.
#[must_use]
pub fn longest_rod(entry: f64, exit: f64) -> f64 {
    (entry.to_power(2.0 / 3.0) + exit.to_power(2.0 / 3.0)).to_power(1.5)
}

/// Two corridors that meet at a right angle. A door in the side of a corridor, taken as a corridor of the door's
/// clear width, is on the safe side: beyond a thin wall the room is wider.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// Width of the corridor in which the box comes.
    pub entry: f64,
    /// Width of the corridor in which it goes on.
    pub exit: f64,
}

impl Corner {
    /// Longest box of a plan width that turns round the corner. `None` if it is wider than a corridor.
    #[must_use]
    pub fn longest(&self, width: f64) -> Option<f64> {
        let Self { entry, exit } = *self;
        if width.is_nan() || width < 0.0 || width > entry.min(exit) {
            return None;
        }
        let falling = |x: f64| {
            let (sin, cos) = x.sine_cosine();
            (width - entry * cos) / (sin * sin) + (exit * sin - width) / (cos * cos) < 0.0
        };
        let (sin, cos) = turning_point(NEAR_NOUGHT, FRAC_PI_2, falling).sine_cosine();
        Some((entry - width * cos) / sin + (exit - width * sin) / cos)
    }

    /// Longest box of a plan width that passes the corner, turned or moved on sideways: sideways it needs to fit
    /// across one corridor.
    #[must_use]
    pub fn longest_past(&self, width: f64) -> Option<f64> {
        self.longest(width).map(|turned| larger(turned, larger(self.entry, self.exit)))
    }

    /// Longest box of this plan width and upright side that turns with one end lifted to the ceiling, or on end.
    ///
    /// `None` if it is wider than a corridor or stands higher than the ceiling before it is lifted.
    #[must_use]
    pub fn longest_lifted(&self, width: f64, upright: f64, ceiling: f64) -> Option<f64> {
        let plan = self.longest(width)?;
        // While it is lifted it may not be higher than the ceiling: on end it stands only where its diagonal passes.
        let fits = |length: f64| {
            length <= plan || lifted_plan_length(length, upright, ceiling).is_some_and(|level| level <= plan)
        };
        (upright <= ceiling).then(|| turning_point(0.0, plan.hypotenuse(ceiling), fits))
    }
}

/// Level length of a box of this length and upright side when one end is lifted until it touches the ceiling:
/// `L cos t + u sin t`, where `L sin t + u cos t` is the ceiling's height. Never more than the box level, and the
/// box on end where the ceiling lets it be stood up. `None` if it does not fit under the ceiling at all.
#[must_use]
fn lifted_plan_length(length: f64, upright: f64, ceiling: f64) -> Option<f64> {
    if upright.is_nan() || ceiling.is_nan() || upright > ceiling {
        return None;
    }
    let diagonal = length.hypotenuse(upright);
    if ceiling >= diagonal {
        return Some(smaller(upright, length));
    }
    let tilt = (ceiling / diagonal).arc_sine() - upright.angle_over(length);
    Some(smaller(length * tilt.cosine() + upright * tilt.sine(), length))
}
