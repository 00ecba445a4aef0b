//! Loads that stand on shelves, limits of their sag, and how sag grows in years.
//!
//! Any consistent units; what a standard states in pounds and inches is brought over by [`Units`]. Estimates:
//! real loads and real wood scatter more than these figures.

use super::numeric::smaller;
use super::units::Units;
use crate::real::Real;

/// Sag limit on the first day: span over 144 (Architectural Woodwork Standards 2009, 1.2.21.3.1.1, seen).
///
/// The standard says so of adjustable shelves, which lie loose; a housed shelf, which its grooves hold a little, is
/// held to the same (caution).
pub const FIRST_DAY_SPAN_OVER: f64 = 144.0;

/// Sag that the eye sees along a painted line: 1/32 in per foot, in years (common practice, no source).
pub const SEEN_SPAN_OVER: f64 = 384.0;

/// The strict eye: 0.02 in per foot, in years (common practice, no source).
pub const STRICT_SPAN_OVER: f64 = 600.0;

/// Sag in years over sag of the first day, for books on a dry shelf.
///
/// NDS 3.5.2 has 1.5 for seasoned wood and 2.0 for unseasoned or wet wood (American Wood Council, answer on creep in its FAQ, seen).
/// The second is taken for dry sheets too, for caution (creep about equals the elastic sag, Wood Handbook ch. 5, from memory).
pub const YEARS_FACTOR: f64 = 2.0;

/// The load classes of the woodwork standard: of adjustable shelves there, of every shelf here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadClass {
    /// Books in schools, hospitals, libraries: 50 lb/sq ft.
    Books,
    /// All other shelving: 40 lb/sq ft.
    Other,
}

impl LoadClass {
    /// Load per area (Architectural Woodwork Standards 2009, 1.2.21.2, seen).
    #[must_use]
    pub fn area_load(self, units: &Units) -> f64 {
        let pounds_per_square_foot = match self {
            Self::Books => 50.0,
            Self::Other => 40.0,
        };
        pounds_per_square_foot * units.psf()
    }
}

/// The most that one shelf is asked to carry: 200 lb (Architectural Woodwork Standards 2009, 1.2.21.2, seen).
#[must_use]
pub fn most_on_one_shelf(units: &Units) -> f64 {
    200.0 * units.pound
}

/// Load per length of a shelf `depth` deep with a strip before it, loaded over its whole area.
///
/// It is held down so that the shelf of this `span` never carries more than [`most_on_one_shelf`].
#[must_use]
pub fn line_load(class: LoadClass, span: f64, depth: f64, strip_thickness: f64, units: &Units) -> f64 {
    smaller(class.area_load(units) * (depth + strip_thickness), most_on_one_shelf(units) / span)
}

/// Sag in years: first-day sag by a stated creep factor, such as [`YEARS_FACTOR`].
#[must_use]
pub fn in_years(first_day: f64, factor: f64) -> f64 {
    first_day * factor
}

/// The limit of a sag stated as span over a number.
#[must_use]
pub fn limit(span: f64, span_over: f64) -> f64 {
    span / span_over
}

/// What a bare shelf is cut from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Board {
    /// Modulus of elasticity along the span.
    pub modulus: f64,
    /// Thickness.
    pub thickness: f64,
}

impl Board {
    /// The longest bare shelf whose first-day sag is its span over `span_over`: `L^3 = 32 E t^3 / (5 q n)`.
    ///
    /// This is the plain elastic formula behind the printed span tables of the Architectural Woodwork Standards
    /// 2009, 4.4.14.10: no creep in it. The load per area acts on the shelf's own depth, which cancels.
    #[must_use]
    pub fn longest_bare(&self, area_load: f64, span_over: f64) -> f64 {
        (32.0 * self.modulus * self.thickness.cubed() / (5.0 * area_load * span_over)).cube_root()
    }
}
