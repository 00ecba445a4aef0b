//! The floor under a loaded wall of shelving.
//!
//! Statics and the live loads of the model code (IRC Table R301.5, seen), any consistent units. A wall of books is
//! a line load that a room's live load was not meant for. Estimates to ask by, not to build by: whether a floor
//! carries it is for the local code and a licensed engineer.

use super::beam::PartlyLoaded;
use super::units::Units;

/// Use of a floor, for its live load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FloorUse {
    /// Rooms other than sleeping rooms: 40 lb/sq ft.
    Room,
    /// Sleeping rooms: 30 lb/sq ft.
    SleepingRoom,
}

impl FloorUse {
    /// Live load per area: IRC Table R301.5.
    #[must_use]
    pub fn live_load(self, units: &Units) -> f64 {
        let pounds_per_square_foot = match self {
            Self::Room => 40.0,
            Self::SleepingRoom => 30.0,
        };
        pounds_per_square_foot * units.psf()
    }
}

/// Load per length of wall: all units, facing and contents over the units' widths.
#[must_use]
pub fn line_load(weight: f64, width: f64) -> f64 {
    weight / width
}

/// Load per area under the footprint.
#[must_use]
pub fn footprint_load(line_load: f64, depth: f64) -> f64 {
    line_load / depth
}

/// A floor joist on two supports, and the live load its floor was made for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joist {
    /// Clear span.
    pub span: f64,
    /// Distance to the next joist.
    pub spacing: f64,
    /// Live load per area.
    pub live_load: f64,
}

/// What shelving asks of a joist, over what its full live load asks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// Of the largest moment.
    pub moment: f64,
    /// Of the largest reaction.
    pub reaction: f64,
}

impl Joist {
    /// Shelving along the wall on which the joists bear: each carries its spacing's worth, `depth` from its end.
    #[must_use]
    pub fn under_shelving_at_its_end(&self, line_load: f64, depth: f64) -> Share {
        let loaded = depth;
        let shelving = PartlyLoaded { span: self.span, line_load: line_load * self.spacing / depth, loaded };
        self.share(&shelving)
    }

    /// Shelving along the joists: one joist carries the whole line load, nothing shared with its neighbours.
    #[must_use]
    pub fn under_shelving_along_it(&self, line_load: f64) -> Share {
        self.share(&PartlyLoaded { span: self.span, line_load, loaded: self.span })
    }

    fn share(&self, shelving: &PartlyLoaded) -> Share {
        let full =
            PartlyLoaded { span: self.span, line_load: self.live_load * self.spacing, loaded: self.span };
        Share {
            moment: shelving.largest_moment() / full.largest_moment(),
            reaction: shelving.near_reaction() / full.near_reaction(),
        }
    }
}
