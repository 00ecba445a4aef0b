//! Single-span beams: deflection with shear, and the largest moment.
//!
//! Wood Handbook (USDA FPL-GTR-282, 2021), Eq. 9-2 and Table 9-1: `d = kb W L^3 / (E I) + ks W L / (G A')`, where
//! `W` is the *total* load. The rows that were read are named in the tests; the others come from memory and are
//! checked against a frame-analysis library. Any consistent units. Estimates: supports are never quite free nor
//! quite fixed.

use super::numeric::smaller;
use crate::real::Real;

/// How a beam is held and loaded, and where its deflection is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Case {
    /// Uniform load, simple ends, at mid-span.
    UniformSimple,
    /// Uniform load, both ends fixed, at mid-span.
    UniformFixed,
    /// One load at mid-span, simple ends, at mid-span.
    CentreSimple,
    /// One load at mid-span, both ends fixed, at mid-span.
    CentreFixed,
    /// Half the load at each quarter point, simple ends, at mid-span.
    QuarterSimple,
    /// Half the load at each quarter point, simple ends, under a load.
    QuarterSimpleAtLoad,
    /// Half the load at each quarter point, both ends fixed, at mid-span.
    QuarterFixed,
    /// Uniform load on a cantilever, at its free end.
    UniformCantilever,
    /// A load at the free end of a cantilever, there.
    EndCantilever,
}

impl Case {
    /// Every case, in the order of the table.
    pub const ALL: [Self; 9] = [
        Self::UniformSimple,
        Self::UniformFixed,
        Self::CentreSimple,
        Self::CentreFixed,
        Self::QuarterSimple,
        Self::QuarterSimpleAtLoad,
        Self::QuarterFixed,
        Self::UniformCantilever,
        Self::EndCantilever,
    ];

    /// `kb` of Wood Handbook Table 9-1.
    #[must_use]
    pub fn bending_constant(self) -> f64 {
        match self {
            Self::UniformSimple => 5.0 / 384.0,
            Self::UniformFixed | Self::QuarterFixed => 1.0 / 384.0,
            Self::CentreSimple => 1.0 / 48.0,
            Self::CentreFixed => 1.0 / 192.0,
            Self::QuarterSimple => 11.0 / 768.0,
            Self::QuarterSimpleAtLoad => 1.0 / 96.0,
            Self::UniformCantilever => 1.0 / 8.0,
            Self::EndCantilever => 1.0 / 3.0,
        }
    }

    /// `ks` of Wood Handbook Table 9-1.
    #[must_use]
    pub fn shear_constant(self) -> f64 {
        match self {
            Self::UniformSimple
            | Self::UniformFixed
            | Self::QuarterSimple
            | Self::QuarterSimpleAtLoad
            | Self::QuarterFixed => 1.0 / 8.0,
            Self::CentreSimple | Self::CentreFixed => 1.0 / 4.0,
            Self::UniformCantilever => 1.0 / 2.0,
            Self::EndCantilever => 1.0,
        }
    }

    /// The largest moment anywhere along the beam, as a share of `W L` (statics; fixed ends by slope-deflection).
    #[must_use]
    pub fn moment_constant(self) -> f64 {
        match self {
            Self::UniformSimple | Self::QuarterSimple | Self::QuarterSimpleAtLoad | Self::CentreFixed => {
                1.0 / 8.0
            }
            Self::UniformFixed => 1.0 / 12.0,
            Self::CentreSimple => 1.0 / 4.0,
            Self::QuarterFixed => 3.0 / 32.0,
            Self::UniformCantilever => 1.0 / 2.0,
            Self::EndCantilever => 1.0,
        }
    }
}

/// A beam of one span and all that lies on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beam {
    /// Span, or reach of a cantilever.
    pub span: f64,
    /// The whole load `W`.
    pub load: f64,
    /// `E I`.
    pub bending_stiffness: f64,
    /// `G A'`; infinite leaves shear out.
    pub shear_stiffness: f64,
}

impl Beam {
    /// Deflection at the place that `case` names: Wood Handbook Eq. 9-2. Positive down, first day, no creep.
    #[must_use]
    pub fn deflection(&self, case: Case) -> f64 {
        case.bending_constant() * self.load * self.span.cubed() / self.bending_stiffness
            + case.shear_constant() * self.load * self.span / self.shear_stiffness
    }

    /// The size of the largest moment along the beam.
    #[must_use]
    pub fn largest_moment(&self, case: Case) -> f64 {
        case.moment_constant() * self.load * self.span
    }
}

/// Shear area of a rectangle `b` wide and `h` high: Wood Handbook Eq. 9-4, `A' = 5/6 b h`.
#[must_use]
pub fn shear_area(width: f64, height: f64) -> f64 {
    5.0 / 6.0 * width * height
}

/// Second moment of area of a rectangle about its own level axis: `b h^3 / 12`.
#[must_use]
pub fn second_moment(width: f64, height: f64) -> f64 {
    width * height.cubed() / 12.0
}

/// Sag at mid-span of a simple beam under `line_load` per length: `5 w L^4 / (384 E I)`, bending only.
#[must_use]
pub fn uniform_sag(span: f64, line_load: f64, bending_stiffness: f64) -> f64 {
    let load = line_load * span;
    Beam { span, load, bending_stiffness, shear_stiffness: f64::INFINITY }.deflection(Case::UniformSimple)
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
