//! Simple beams: their sag, and the moment of a load over part of them.
//!
//! Wood Handbook (USDA FPL-GTR-282, 2021), Eq. 9-2 and Table 9-1, and statics. Any consistent units. Estimates: supports are never
//! quite free nor quite fixed.

use super::numeric::smaller;
use crate::real::Real;

/// Second moment of area of a rectangle about its own level axis: `b h^3 / 12`.
#[must_use]
pub fn second_moment(width: f64, height: f64) -> f64 {
    width * height.cubed() / 12.0
}

/// Sag at mid-span of a simple beam under `line_load` per length: `5 w L^4 / (384 E I)`, bending only.
#[must_use]
pub fn uniform_sag(span: f64, line_load: f64, bending_stiffness: f64) -> f64 {
    5.0 * line_load * span.squared().squared() / (384.0 * bending_stiffness)
}

/// A simple beam loaded uniformly from one end over part of its length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartlyLoaded {
    /// Span of the beam.
    pub span: f64,
    /// Load per length on the loaded part.
    pub line_load: f64,
    /// How far from the near support the load reaches; more than the span counts as the span.
    pub loaded: f64,
}

impl PartlyLoaded {
    /// Reaction at the support where the load begins: `w a (2 L - a) / (2 L)`, by statics.
    #[must_use]
    pub fn near_reaction(&self) -> f64 {
        let loaded = smaller(self.loaded, self.span);
        self.line_load * loaded * (2.0 * self.span - loaded) / (2.0 * self.span)
    }

    /// Largest moment: `R^2 / (2 w)` where the shear passes through nought, by statics. Without load, nought.
    #[must_use]
    pub fn largest_moment(&self) -> f64 {
        if self.line_load.abs() > 0.0 { self.near_reaction().squared() / (2.0 * self.line_load) } else { 0.0 }
    }
}
