//! Exact integers of a common unit: the largest length of which all sizes of a job are whole multiples.

use crate::quantity::{Length, Rational};
use num_integer::Integer;
use num_traits::{CheckedMul, ToPrimitive};

/// More units than this in the longest size, and the scale falls back to thousandths of a millimetre.
const UNITS: i128 = 20_000_000;

/// A common unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    unit: Length,
}

impl Scale {
    /// The largest unit that divides all lengths; where that is too small to reckon with, a thousandth of a millimetre:
    /// parts are then rounded up and stock down, which is on the safe side.
    #[must_use]
    pub fn of(lengths: impl IntoIterator<Item = Length>) -> Self {
        let fallback = Self { unit: Length::from_mm(Rational::new(1, 1000)) };
        let (mut unit, mut longest) = (None, Rational::from(0));
        for length in lengths {
            let mm = length.mm();
            if mm <= Rational::from(0) {
                continue;
            }
            longest = longest.max(mm);
            unit = match unit {
                None => Some(mm),
                Some(unit) => match common(unit, mm) {
                    Some(unit) => Some(unit),
                    None => return fallback,
                },
            };
        }
        let Some(unit) = unit else { return fallback };
        let scale = Self { unit: Length::from_mm(unit) };
        let fits =
            Length::from_mm(longest).ratio(scale.unit).is_some_and(|units| units.to_integer() <= UNITS);
        if fits { scale } else { fallback }
    }

    /// A size in units, rounded up: what is needed.
    #[must_use]
    pub fn up(self, length: Length) -> i64 {
        length.ratio(self.unit).and_then(|units| units.ceil().to_integer().to_i64()).unwrap_or(i64::MAX)
    }

    /// A size in units, rounded down: what there is.
    #[must_use]
    pub fn down(self, length: Length) -> i64 {
        length.ratio(self.unit).and_then(|units| units.floor().to_integer().to_i64()).unwrap_or(0)
    }

    /// So many units as a length.
    #[must_use]
    pub fn length(self, units: i64) -> Length {
        self.unit.checked_mul(Rational::from(i128::from(units))).unwrap_or_default()
    }
}

/// The greatest common measure of two positive fractions; `None` on overflow.
fn common(a: Rational, b: Rational) -> Option<Rational> {
    let (a, b) = (a.reduced(), b.reduced());
    let denominator = lcm(*a.denom(), *b.denom())?;
    let whole = Rational::from(denominator);
    let (a, b) = (a.checked_mul(&whole)?.to_integer(), b.checked_mul(&whole)?.to_integer());
    Some(Rational::new(a.gcd(&b), denominator))
}

fn lcm(a: i128, b: i128) -> Option<i128> {
    a.checked_div(a.gcd(&b))?.checked_mul(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inch(n: i128, d: i128) -> Length {
        Length::from_inches(Rational::new(n, d)).unwrap()
    }

    #[test]
    fn inches_and_millimetres_have_a_common_unit() {
        let scale = Scale::of([inch(189, 16), inch(501, 16), inch(1, 8)]);
        assert_eq!([inch(189, 16), inch(501, 16), inch(1, 8)].map(|l| scale.up(l)), [189, 501, 2]);
        // 1/32 in is 127/160 mm: a thousandth of that and one of 17.6 mm meet at 1/160 mm (17.6 = 2816/160).
        let mixed = Scale::of([inch(1, 32), Length::from_mm(Rational::new(176, 10))]);
        assert_eq!(mixed.length(1).mm(), Rational::new(1, 160));
        assert_eq!(mixed.length(mixed.up(inch(1, 32))), inch(1, 32));
    }

    #[test]
    fn odd_fractions_round_to_the_safe_side() {
        let odd = Length::from_mm(Rational::new(1_000_000_007, 999_983));
        let scale = Scale::of([odd, inch(1, 128), Length::from_mm(Rational::new(22, 7))]);
        assert_eq!(scale.up(odd) - scale.down(odd), 1);
        assert_eq!(scale.length(1), Length::from_mm(Rational::new(1, 1000)));
    }
}
