//! Moisture in wood: what the air leaves in it, and what that does to its size, weight and strength.
//!
//! Wood Handbook, USDA FPL-GTR-282 (2021) and FPL-GTR-190 (2010). Moisture contents are in per cent of oven-dry
//! weight, shrinkages in per cent of green size. Estimates: one board differs from the next by more than these.

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

/// Air indoors: 70 degrees Fahrenheit (common practice, no source).
pub const INDOORS_CELSIUS: f64 = (70.0 - 32.0) / 1.8;

/// Change in a width across the grain, positive where it swells: Eq. 13-2, `width C (MF - MI)`, 6 to 14 per cent.
#[must_use]
pub fn movement(width: f64, coefficient: f64, from_percent: f64, to_percent: f64) -> f64 {
    width * coefficient * (to_percent - from_percent)
}
