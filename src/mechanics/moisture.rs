//! Moisture in wood: what the air leaves in it, and what that does to its size, weight and strength.
//!
//! Wood Handbook, USDA FPL-GTR-282 (2021) and FPL-GTR-190 (2010). Moisture contents are in per cent of oven-dry
//! weight, shrinkages in per cent of green size. Estimates: one board differs from the next by more than these.

use super::numeric::larger;
use crate::real::Real;

/// Moisture content at fibre saturation, per cent, as the handbook's shrinkage formulas take it.
pub const FIBRE_SATURATION_PERCENT: f64 = 30.0;

/// Equilibrium moisture content in per cent: Eq. 4-5 (Hailwood and Horrobin), degrees Celsius.
///
/// `relative_humidity` is a share, 0 to 1. The handbook's Table 4-2 prints it from 30 to 100 degrees Fahrenheit.
#[must_use]
pub fn equilibrium_percent(temperature_celsius: f64, relative_humidity: f64) -> f64 {
    let t = temperature_celsius;
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
    let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
    let kh = k * relative_humidity;
    let bound = (k1 * kh + 2.0 * k1 * k2 * kh * kh) / (1.0 + k1 * kh + k1 * k2 * kh * kh);
    1800.0 / w * (kh / (1.0 - kh) + bound)
}

/// Degrees Celsius of degrees Fahrenheit.
#[must_use]
pub fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / 1.8
}

/// Change in width per width and per cent of moisture, from the total shrinkage green to oven-dry, between 6 and
/// 14 per cent: `C = (S/30) / (100 - 20 S/30)`, the rule of Table 13-5, footnote a (FPL-GTR-190).
#[must_use]
pub fn change_coefficient(shrinkage_percent: f64) -> f64 {
    let per_point = shrinkage_percent / FIBRE_SATURATION_PERCENT;
    per_point / (100.0 - 20.0 * per_point)
}

/// Change in a width across the grain, positive where it swells: Eq. 13-2, `width C (MF - MI)`, 6 to 14 per cent.
#[must_use]
pub fn movement(width: f64, coefficient: f64, from_percent: f64, to_percent: f64) -> f64 {
    width * coefficient * (to_percent - from_percent)
}

/// Change in a width across the grain at any moisture below fibre saturation: Eq. 13-3,
/// `width (MF - MI) / (30 (100) / S - 30 + MI)`.
#[must_use]
pub fn wide_movement(width: f64, shrinkage_percent: f64, from_percent: f64, to_percent: f64) -> f64 {
    width * (to_percent - from_percent)
        / (FIBRE_SATURATION_PERCENT * 100.0 / shrinkage_percent - FIBRE_SATURATION_PERCENT + from_percent)
}

/// Shrinkage from green to a moisture content, per cent: Eq. 4-9, `Sx = S0 (1 - x / 30)`; none above saturation.
#[must_use]
pub fn shrinkage_at_percent(shrinkage_percent: f64, moisture_percent: f64) -> f64 {
    shrinkage_percent * larger(1.0 - moisture_percent / FIBRE_SATURATION_PERCENT, 0.0)
}

/// Density in kg/m3 of wood of a specific gravity (oven-dry weight over volume at this moisture): Eq. 4-14.
#[must_use]
pub fn density_kg_per_cubic_metre(specific_gravity: f64, moisture_percent: f64) -> f64 {
    1000.0 * specific_gravity * (1.0 + moisture_percent / 100.0)
}

/// A property of clear wood known green and at 12 per cent moisture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DryingProperty {
    /// At 12 per cent.
    pub at_12_percent: f64,
    /// Green.
    pub green: f64,
    /// Moisture content, per cent, at which the property begins to change in drying.
    pub intersection_percent: f64,
}

impl DryingProperty {
    /// The property at another moisture: Eq. 5-3, `P = P12 (P12 / Pg)^((12 - M) / (Mp - 12))`.
    #[must_use]
    pub fn at(&self, moisture_percent: f64) -> f64 {
        let exponent = (12.0 - moisture_percent) / (self.intersection_percent - 12.0);
        self.at_12_percent * (self.at_12_percent / self.green).to_power(exponent)
    }
}

/// Modulus of elasticity without the shear of the test beam: the tabulated one and 10 per cent (Table 5-3b,
/// footnote c). A shelf is slender, so the tabulated value is on the safe side by that much.
#[must_use]
pub fn shear_free_modulus(tabulated: f64) -> f64 {
    1.10 * tabulated
}
