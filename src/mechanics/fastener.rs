//! Nails and screws: what pulls them out and what bends them over.
//!
//! Wood Handbook (USDA FPL-GTR-282, 2021), ch. 8. Withdrawal loads are *ultimate averages* of tests in dry side
//! grain, lateral ones are loads at the proportional limit: neither is an allowable load, divide by five or six
//! (an older tradition) and follow the local code. Inch-pound constants, any consistent units by [`Units`].

use super::units::Units;
use crate::real::Real;

/// A fastener in side grain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Driven {
    /// Specific gravity of the wood that holds the point, oven-dry weight over volume at 12 % moisture.
    pub specific_gravity: f64,
    /// Diameter of the nail, or of the screw's shank.
    pub diameter: f64,
    /// Length of nail, or of thread, in the piece that holds the point.
    pub penetration: f64,
}

impl Driven {
    /// Ultimate withdrawal of a wood screw: Eq. 8-10, `p = 15 700 G^2 D L` (lb, in).
    #[must_use]
    pub fn screw_withdrawal(&self, units: &Units) -> f64 {
        15_700.0 * units.psi() * self.specific_gravity.squared() * self.diameter * self.penetration
    }
}

/// The two halves of the handbook's tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wood {
    /// Broadleaved.
    Hardwood,
    /// Needle-leaved.
    Softwood,
}

/// Kind of fastener.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fastener {
    /// Nail.
    Nail,
    /// Wood screw.
    WoodScrew,
    /// Lag screw, loaded along the grain.
    LagScrew,
}

/// A coefficient of Wood Handbook Table 8-4, as its two columns print it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LateralCoefficient {
    /// Millimetres and newtons.
    pub millimetre_newton: f64,
    /// Inches and pounds.
    pub inch_pound: f64,
}

/// `K` of Wood Handbook Table 8-4 for a wood of this specific gravity; `None` outside the table (0.33 to 0.74 for
/// hardwoods, 0.29 to 0.52 for softwoods, taken to two decimals).
///
/// Cells read in the table: all three nails in hardwood, nails in softwood at 0.42 and 0.48, screws in hardwood at
/// 0.42 and 0.63, screws in softwood at 0.50, lag screws in softwood at 0.42. The others are from memory.
#[must_use]
pub fn lateral_coefficient(
    wood: Wood,
    fastener: Fastener,
    specific_gravity: f64,
) -> Option<LateralCoefficient> {
    let (edges, cells) = match (wood, fastener) {
        (Wood::Hardwood, Fastener::Nail) => (HARDWOOD, [(50.04, 1440.0), (69.50, 2000.0), (94.52, 2720.0)]),
        (Wood::Hardwood, Fastener::WoodScrew) => {
            (HARDWOOD, [(23.17, 3360.0), (31.99, 4640.0), (44.13, 6400.0)])
        }
        (Wood::Hardwood, Fastener::LagScrew) => {
            (HARDWOOD, [(26.34, 3820.0), (29.51, 4280.0), (34.13, 4950.0)])
        }
        (Wood::Softwood, Fastener::Nail) => (SOFTWOOD, [(50.04, 1440.0), (62.55, 1800.0), (76.45, 2200.0)]),
        (Wood::Softwood, Fastener::WoodScrew) => {
            (SOFTWOOD, [(23.17, 3360.0), (29.79, 4320.0), (36.40, 5280.0)])
        }
        (Wood::Softwood, Fastener::LagScrew) => {
            (SOFTWOOD, [(23.30, 3380.0), (26.34, 3820.0), (29.51, 4280.0)])
        }
    };
    let (least, tops) = edges;
    if specific_gravity < least {
        return None;
    }
    let mut rows = tops.into_iter().zip(cells);
    rows.find(|(top, _)| specific_gravity < *top)
        .map(|(_, (millimetre_newton, inch_pound))| LateralCoefficient { millimetre_newton, inch_pound })
}

/// Rows of Table 8-4: 0.33-0.47, 0.48-0.56, 0.57-0.74, two decimals.
const HARDWOOD: (f64, [f64; 3]) = (0.325, [0.475, 0.565, 0.745]);
/// Rows of Table 8-4: 0.29-0.42, 0.43-0.47, 0.48-0.52, two decimals.
const SOFTWOOD: (f64, [f64; 3]) = (0.285, [0.425, 0.475, 0.525]);

/// Lateral load at the proportional limit: Eqs. 8-2, 8-13 and 8-15, `p = K D^n`, `n` 3/2 for nails and 2 for
/// screws, full penetration, side grain. `None` where [`lateral_coefficient`] has none.
#[must_use]
pub fn lateral_load(
    wood: Wood,
    fastener: Fastener,
    specific_gravity: f64,
    diameter: f64,
    units: &Units,
) -> Option<f64> {
    let exponent = match fastener {
        Fastener::Nail => 1.5,
        Fastener::WoodScrew | Fastener::LagScrew => 2.0,
    };
    let coefficient = lateral_coefficient(wood, fastener, specific_gravity)?;
    Some(coefficient.inch_pound * units.pound * (diameter / units.inch).to_power(exponent))
}

/// Thread, in diameters, that a wood screw needs for its full lateral value (text with Eq. 8-13).
pub const FULL_SCREW_PENETRATION: f64 = 7.0;

/// The gauge of a screw into a stud of which none is stated (common practice, no source: no. 8 or heavier).
pub const LEAST_GAUGE: u32 = 8;

/// The specific gravity that stands for the lightest softwoods of Table 8-4, of which studs may be.
pub const LIGHTEST_SOFTWOOD: f64 = 0.29;

/// Shank diameter of a wood screw: 0.060 in + 0.013 in a gauge (from memory; agrees with Table 8-9).
#[must_use]
pub fn screw_diameter(gauge: u32, units: &Units) -> f64 {
    (0.060 + 0.013 * f64::from(gauge)) * units.inch
}
