//! Nails and screws: what pulls them out and what bends them over.
//!
//! Wood Handbook (USDA FPL-GTR-282, 2021), ch. 8. Withdrawal loads are *ultimate averages* of tests in dry side
//! grain, lateral ones are loads at the proportional limit: neither is an allowable load, divide by five or six
//! (one older tradition, below) and follow the local code. Inch-pound constants, any consistent units by [`Units`].

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
    /// Ultimate withdrawal of a bright nail: Eq. 8-1, `p = 7850 G^(5/2) D L` (lb, in).
    #[must_use]
    pub fn nail_withdrawal(&self, units: &Units) -> f64 {
        7850.0 * units.psi() * self.specific_gravity.to_power(2.5) * self.diameter * self.penetration
    }

    /// Ultimate withdrawal of a wood screw: Eq. 8-10, `p = 15 700 G^2 D L` (lb, in).
    #[must_use]
    pub fn screw_withdrawal(&self, units: &Units) -> f64 {
        15_700.0 * units.psi() * self.specific_gravity.squared() * self.diameter * self.penetration
    }

    /// Ultimate withdrawal of a lag screw: Eq. 8-14, `p = 8100 G^(3/2) D^(3/4) L` (lb, in).
    #[must_use]
    pub fn lag_withdrawal(&self, units: &Units) -> f64 {
        let constant = 8100.0 * units.psi() * units.inch.to_power(0.25);
        constant * self.specific_gravity.to_power(1.5) * self.diameter.to_power(0.75) * self.penetration
    }

    /// Allowable withdrawal of a wood screw in an older tradition: `p = 2850 G^2 D L` (lb, in), T. G. Hicks,
    /// Civil Engineering Formulas, Eq. 6.37 (the formula was seen, author and title are from memory). The ultimate load is 5.5 times as much.
    #[must_use]
    pub fn allowable_screw_withdrawal(&self, units: &Units) -> f64 {
        2850.0 * units.psi() * self.specific_gravity.squared() * self.diameter * self.penetration
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

/// Penetration, in diameters, that a nail needs for its full lateral value: 10 in woods denser than 0.61, 14 in
/// woods lighter than 0.42 (text with Eq. 8-2), a straight line between (from memory).
#[must_use]
pub fn full_nail_penetration(specific_gravity: f64) -> f64 {
    14.0 - 4.0 * ((specific_gravity - 0.42) / (0.61 - 0.42)).clamp(0.0, 1.0)
}

/// Thread, in diameters, that a wood screw needs for its full lateral value (text with Eq. 8-13).
pub const FULL_SCREW_PENETRATION: f64 = 7.0;

/// Lead hole for a wood screw, as a share of its root diameter (text with Eq. 8-10).
#[must_use]
pub fn lead_hole_share(wood: Wood) -> f64 {
    match wood {
        Wood::Softwood => 0.70,
        Wood::Hardwood => 0.90,
    }
}

/// Shank diameter of a wood screw: 0.060 in + 0.013 in a gauge (from memory; agrees with Table 8-9).
#[must_use]
pub fn screw_diameter(gauge: u32, units: &Units) -> f64 {
    (0.060 + 0.013 * f64::from(gauge)) * units.inch
}

/// Length and diameter of a nail.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NailSize {
    /// Length under the head.
    pub length: f64,
    /// Diameter of the wire.
    pub diameter: f64,
}

/// Bright common wire nails of Wood Handbook Table 8-1, 6d to 16d; `None` for other sizes.
#[must_use]
pub fn common_nail(penny: u32, units: &Units) -> Option<NailSize> {
    let (length, diameter) = match penny {
        6 => (2.0, 0.113),
        8 => (2.5, 0.131),
        10 => (3.0, 0.148),
        16 => (3.5, 0.162),
        _ => return None,
    };
    Some(NailSize { length: length * units.inch, diameter: diameter * units.inch })
}
