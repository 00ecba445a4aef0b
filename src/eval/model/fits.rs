//! What is allowed of parts that are made.

use crate::quantity::{Length, Rational, System};
use crate::resolve::kinds::{FITS, UsualLength};

/// How far a part that is made may be off, and still go in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fits {
    /// The least of an end that stands in its groove; `None` for half the depth of the groove.
    pub bearing: Option<Length>,
    /// The most by which a groove is wider than what goes in.
    pub play: Length,
    /// The most of that play that is packed with veneer.
    pub packed: Length,
    /// The most that a part is short which no groove holds.
    pub gap: Length,
    /// The most by which a loose shelf is shorter than its opening is wide.
    pub slack: Length,
    /// The least of that: 1/16 in or 1.6 mm (common practice, no source).
    pub tightest: Length,
}

impl Fits {
    /// What holds where nothing is stated.
    #[must_use]
    pub fn usual(system: System) -> Self {
        let usual = |UsualLength { values: [inches, mm], .. }| system.length(inches, mm);
        Self {
            bearing: None,
            play: usual(FITS.play.without.0),
            packed: usual(FITS.packed.without.0),
            gap: usual(FITS.gap.without.0),
            slack: usual(FITS.slack.without.0),
            tightest: system.length((1, 16), (8, 5)),
        }
    }

    /// How much of an end must stand in a groove of this depth.
    #[must_use]
    pub fn least_bearing(&self, depth: Length) -> Length {
        self.bearing.unwrap_or_else(|| depth.checked_div(Rational::from(2)).unwrap_or(depth))
    }
}
