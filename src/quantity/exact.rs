//! Exact numbers, and estimates kept apart from them by type.

use super::Dim;
use num_rational::Ratio;
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, CheckedSub, Signed, Zero};
use std::cmp::Ordering;

/// An exact fraction of two 128-bit integers, always in lowest terms.
pub type Rational = Ratio<i128>;

/// Millimetres in an inch, by definition (25.4 mm since 1959; NIST SP 811, B.6).
const MM_PER_INCH: Rational = Ratio::new_raw(127, 5);

/// The nearest floating-point number, to within a unit or two in the last place.
#[must_use]
pub fn to_f64(value: Rational) -> f64 {
    *value.numer() as f64 / *value.denom() as f64
}

/// An exact length: rational millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(Rational);

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(Ratio::new_raw(0, 1));

    /// A length of so many millimetres.
    #[must_use]
    pub fn from_mm(mm: Rational) -> Self {
        Self(mm)
    }

    pub(super) const fn from_ratio(mm: Rational) -> Self {
        Self(mm)
    }

    /// A length of so many inches; `None` on overflow.
    #[must_use]
    pub fn from_inches(inches: Rational) -> Option<Self> {
        inches.checked_mul(&MM_PER_INCH).map(Self)
    }

    /// This length in millimetres, exact.
    #[must_use]
    pub fn mm(self) -> Rational {
        self.0
    }

    /// How far two lengths lie apart; `None` on overflow.
    #[must_use]
    pub fn apart(self, other: Self) -> Option<Self> {
        self.max(other).checked_sub(self.min(other))
    }

    /// This length in inches, exact; `None` on overflow.
    #[must_use]
    pub fn inches(self) -> Option<Rational> {
        if let (Ok(n), Ok(d)) = (i64::try_from(*self.0.numer()), i64::try_from(*self.0.denom())) {
            // In lowest terms but for the 127 and the 5 of an inch, which are primes.
            let (n, up) = if n % 127 == 0 { (n / 127, 1) } else { (n, 127) };
            let (d, down) = if d % 5 == 0 { (d / 5, 1) } else { (d, 5) };
            return Some(Ratio::new_raw(i128::from(n) * down, i128::from(d) * up));
        }
        self.0.checked_div(&MM_PER_INCH)
    }

    /// The sum; `None` on overflow.
    #[must_use]
    pub fn checked_add(self, other: Self) -> Option<Self> {
        self.0.checked_add(&other.0).map(Self)
    }

    /// The difference; `None` on overflow.
    #[must_use]
    pub fn checked_sub(self, other: Self) -> Option<Self> {
        self.0.checked_sub(&other.0).map(Self)
    }

    /// This length so many times; `None` on overflow.
    #[must_use]
    pub fn checked_mul(self, times: Rational) -> Option<Self> {
        self.0.checked_mul(&times).map(Self)
    }

    /// This length divided; `None` on overflow or division by zero.
    #[must_use]
    pub fn checked_div(self, by: Rational) -> Option<Self> {
        self.0.checked_div(&by).map(Self)
    }

    /// How many times `other` goes into this length, exact; `None` where `other` is zero or on overflow.
    #[must_use]
    pub fn ratio(self, other: Self) -> Option<Rational> {
        self.0.checked_div(&other.0)
    }

    /// Below zero.
    #[must_use]
    pub fn is_negative(self) -> bool {
        self.0.is_negative()
    }

    /// Above zero.
    #[must_use]
    pub fn is_positive(self) -> bool {
        self.0.is_positive()
    }

    /// Exactly zero.
    #[must_use]
    pub fn is_zero(self) -> bool {
        self.0.is_zero()
    }

    /// This length in millimetres as a floating-point number: for drawings and estimates, never for sizes.
    #[must_use]
    pub fn to_mm_f64(self) -> f64 {
        to_f64(self.0)
    }
}

/// An exact quantity of any dimension, in base units (see [`Dim`]).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Exact {
    /// The number, in base units of `dim`.
    pub value: Rational,
    /// What it measures.
    pub dim: Dim,
}

impl Exact {
    /// A plain number: a count or a ratio.
    #[must_use]
    pub fn number(value: Rational) -> Self {
        Self { value, dim: Dim::NONE }
    }

    /// The length, if this is one.
    #[must_use]
    pub fn length(self) -> Option<Length> {
        (self.dim == Dim::LENGTH).then_some(Length(self.value))
    }

    /// The sum; `None` where the dimensions differ or on overflow.
    #[must_use]
    pub fn checked_add(self, other: Self) -> Option<Self> {
        (self.dim == other.dim)
            .then(|| self.value.checked_add(&other.value))
            .flatten()
            .map(|value| Self { value, dim: self.dim })
    }

    /// The difference; `None` where the dimensions differ or on overflow.
    #[must_use]
    pub fn checked_sub(self, other: Self) -> Option<Self> {
        (self.dim == other.dim)
            .then(|| self.value.checked_sub(&other.value))
            .flatten()
            .map(|value| Self { value, dim: self.dim })
    }

    /// The product; `None` on overflow.
    #[must_use]
    pub fn checked_mul(self, other: Self) -> Option<Self> {
        Some(Self { value: self.value.checked_mul(&other.value)?, dim: self.dim.times(other.dim)? })
    }

    /// The quotient; `None` on division by zero or overflow.
    #[must_use]
    pub fn checked_div(self, other: Self) -> Option<Self> {
        Some(Self { value: self.value.checked_div(&other.value)?, dim: self.dim.over(other.dim)? })
    }

    /// The order of two quantities of one dimension; `None` where the dimensions differ.
    #[must_use]
    pub fn compare(self, other: Self) -> Option<Ordering> {
        (self.dim == other.dim).then(|| self.value.cmp(&other.value))
    }

    /// This quantity as an estimate; there is no way back.
    #[must_use]
    pub fn estimate(self) -> Estimate {
        Estimate { value: to_f64(self.value), dim: self.dim }
    }
}

impl From<Length> for Exact {
    fn from(length: Length) -> Self {
        Self { value: length.0, dim: Dim::LENGTH }
    }
}

/// An estimate: a diagonal, a sag, a weight, a time. It never becomes a size that is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The number, in base units of `dim`.
    pub value: f64,
    /// What it measures.
    pub dim: Dim,
}

impl Estimate {
    /// The nearest exact number of a millionth: for a comparison, never for a size. `None` where it is not finite or too
    /// large.
    #[must_use]
    pub fn nearest(self) -> Option<Exact> {
        let millionths = (self.value * 1e6).round();
        let fits = millionths.is_finite() && millionths.abs() < 1e30;
        fits.then(|| Exact { value: Ratio::new(millionths as i128, 1_000_000), dim: self.dim })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inch(n: i128, d: i128) -> Length {
        Length::from_inches(Rational::new(n, d)).unwrap()
    }

    #[test]
    fn an_inch_is_25_4_mm_exactly() {
        // NIST Special Publication 811 (2008), appendix B.6: 1 in = 25.4 mm exactly.
        assert_eq!(inch(1, 1).mm(), Rational::new(254, 10));
        assert!((inch(501, 16).to_mm_f64() - 795.3375).abs() < 1e-9);
    }

    #[test]
    fn inches_are_in_lowest_terms() {
        for n in -700..700 {
            for d in [1, 2, 5, 10, 127, 635, 640, 3 * 127, 25] {
                let mm = Rational::new(n, d);
                let inches = Length::from_mm(mm).inches().unwrap();
                assert_eq!((*inches.numer(), *inches.denom()), {
                    let long = mm / MM_PER_INCH;
                    (*long.numer(), *long.denom())
                });
            }
        }
    }

    #[test]
    fn inches_and_millimetres_mix_exactly() {
        let sum = inch(3, 4).checked_add(Length::from_mm(Rational::from(18))).unwrap();
        assert_eq!(sum.mm(), Rational::new(3705, 100));
        assert_eq!(sum.checked_sub(inch(3, 4)).unwrap().mm(), Rational::from(18));
    }

    #[test]
    fn overflow_and_division_by_zero_are_none() {
        let huge = Length::from_mm(Rational::from(i128::MAX));
        assert_eq!(huge.checked_add(inch(1, 1)), None);
        assert_eq!(huge.checked_mul(Rational::from(2)), None);
        assert_eq!(huge.checked_div(Rational::from(0)), None);
        assert_eq!(inch(1, 1).ratio(Length::ZERO), None);
    }

    #[test]
    fn dimensions_are_kept_apart() {
        let length = Exact::from(inch(1, 1));
        let weight = Exact { value: Rational::from(3), dim: Dim::WEIGHT };
        assert_eq!(length.checked_add(weight), None);
        assert_eq!(weight.checked_div(length).unwrap().dim, Dim::LINE_LOAD);
        assert_eq!(length.checked_mul(length).unwrap().dim, Dim::AREA);
        assert_eq!(length.compare(weight), None);
    }
}
