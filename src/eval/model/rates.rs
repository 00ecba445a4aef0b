//! How long work takes.

use crate::quantity::Rational;
use crate::resolve::kinds::{RATES, duration_of};

/// How long a piece of work takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rate {
    /// In seconds.
    pub seconds: Rational,
    /// Whether the project states it; else it is from memory, for a person alone in a small shop, and waits to be verified.
    pub stated: bool,
}

/// How long work takes here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rates {
    /// A part at the saw.
    pub cut: Rate,
    /// A groove.
    pub groove: Rate,
    /// A square metre sanded.
    pub sanding: Rate,
    /// A joint glued up.
    pub joint: Rate,
    /// A unit set up in the room.
    pub standing: Rate,
    /// A piece of the facing put on.
    pub facing: Rate,
    /// A square metre filled and caulked.
    pub filling: Rate,
    /// A square metre painted once.
    pub coat: Rate,
}

impl Default for Rates {
    /// What holds where nothing is stated.
    fn default() -> Self {
        let usual = |usual| Rate { seconds: duration_of(usual), stated: false };
        Self {
            cut: usual(RATES.cut.without.0),
            groove: usual(RATES.groove.without.0),
            sanding: usual(RATES.sanding.without.0),
            joint: usual(RATES.joint.without.0),
            standing: usual(RATES.standing.without.0),
            facing: usual(RATES.facing.without.0),
            filling: usual(RATES.filling.without.0),
            coat: usual(RATES.coat.without.0),
        }
    }
}
