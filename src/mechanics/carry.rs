//! Getting a unit in: through a door, round a corner in each way of carrying it, up a stair with a landing.
//!
//! Geometry of boxes, any one unit of length; hands, handrails and mouldings need room of their own, so walk the
//! way with a stick as long as the unit. Estimates.

use super::corner::Corner;
use super::numeric::{larger, smaller};
use super::tilt::{longest_in, tilt_in};
use crate::real::Real;

/// How a unit is carried round a corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Attitude {
    /// On its back: width level, depth upright.
    Flat,
    /// On its side: depth level, width upright.
    OnEdge,
    /// On its side with one end lifted to the ceiling.
    Lifted,
    /// Standing.
    Upright,
}

impl Attitude {
    /// Every way of carrying.
    pub const ALL: [Self; 4] = [Self::Flat, Self::OnEdge, Self::Lifted, Self::Upright];
}

/// A corner with its ceiling.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hall {
    /// The corridors.
    pub corner: Corner,
    /// Lowest ceiling, lamp or lintel over the corner.
    pub ceiling: f64,
}

impl Hall {
    /// Tallest unit of this width and depth that turns the corner when carried so. `None` if none does.
    #[must_use]
    pub fn tallest_unit(&self, attitude: Attitude, width: f64, depth: f64) -> Option<f64> {
        let under = |upright: f64| upright <= self.ceiling;
        match attitude {
            Attitude::Flat if under(depth) => self.corner.longest_past(width),
            Attitude::OnEdge if under(width) => self.corner.longest_past(depth),
            Attitude::Flat | Attitude::OnEdge => None,
            Attitude::Lifted => self.corner.longest_lifted(depth, width, self.ceiling),
            Attitude::Upright => {
                let past = self.corner.longest_past(smaller(width, depth));
                past.filter(|longest| larger(width, depth) <= *longest).map(|_| self.ceiling)
            }
        }
    }
}

/// A door that a unit is carried straight through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Door {
    /// Clear width: about the leaf less 2 in, less 3 in if the leaf stays hung at a right angle (common practice,
    /// no source).
    pub width: f64,
    /// Clear height.
    pub height: f64,
}

impl Door {
    /// Whether a unit goes through when this cross-section of it leads, upright, lying or tilted.
    #[must_use]
    pub fn passes(&self, one_side: f64, other_side: f64) -> bool {
        let (long, short) = (larger(one_side, other_side), smaller(one_side, other_side));
        tilt_in(long, short, self.width).is_some_and(|tilt| tilt.headroom <= self.height)
    }

    /// The widest unit of a depth that goes through, tilted if need be.
    #[must_use]
    pub fn widest(&self, depth: f64) -> Option<f64> {
        longest_in(self.width, self.height, depth)
    }
}

/// How a stair turns at its landing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Landing {
    /// A quarter turn: the flight after it goes off to the side.
    Quarter {
        /// Clear width of the flight after the landing.
        onward: f64,
    },
    /// A half turn: the landing runs across both flights.
    Half {
        /// Landing from the top step to the wall.
        depth: f64,
        /// Clear width of the flight after the landing.
        onward: f64,
    },
}

/// A stair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stair {
    /// Clear width of the first flight.
    pub width: f64,
    /// Rise of a step.
    pub rise: f64,
    /// Going of a step.
    pub going: f64,
    /// Headroom, plumb over the nosings.
    pub headroom: f64,
    /// How it turns.
    pub landing: Landing,
    /// Ceiling over the landing.
    pub landing_ceiling: f64,
}

impl Stair {
    /// Slope of the flight in radians.
    #[must_use]
    pub fn slope(&self) -> f64 {
        self.rise.angle_over(self.going)
    }

    /// The highest box that goes up the flight lying along it: headroom measured square to the slope,
    /// `headroom cos(slope)`.
    #[must_use]
    pub fn flight_clearance(&self) -> f64 {
        self.headroom * self.slope().cosine()
    }

    /// Longest unit, carried on its side with an end lifted, that goes up the flight and turns at the landing: the
    /// least of its corners, each taken level. `None` if the unit does not go up the flight or enter a corner.
    #[must_use]
    pub fn tallest_unit(&self, width: f64, depth: f64) -> Option<f64> {
        if width > self.flight_clearance() || depth > self.width {
            return None;
        }
        let turn =
            |entry: f64, exit: f64| Corner { entry, exit }.longest_lifted(depth, width, self.landing_ceiling);
        match self.landing {
            Landing::Quarter { onward } => turn(self.width, onward),
            Landing::Half { depth: landing, onward } => {
                Some(smaller(turn(self.width, landing)?, turn(landing, onward)?))
            }
        }
    }
}
