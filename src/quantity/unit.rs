//! The unit words of the language and their exact factors.

use super::{Dim, Rational};
use num_rational::Ratio;
use num_traits::CheckedDiv;

/// A unit: what it measures and how many base units of that it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unit {
    /// What the unit measures.
    pub dim: Dim,
    /// Base units of `dim` in one of this unit, exact.
    pub factor: Rational,
    /// For money, the three letters of its currency.
    pub currency: Option<[u8; 3]>,
}

const fn unit_of(dim: Dim, numer: i128, denom: i128) -> Unit {
    Unit { dim, factor: Ratio::new_raw(numer, denom), currency: None }
}

/// Unit words that stand alone, before and after a `/`.
///
/// Factors: NIST SP 811 (2008), appendix B: inch, foot, pound, gallon (231 in3) and standard gravity are exact by
/// definition. A board foot is 144 cubic inches (PS 20).
const WORDS: &[(&str, Unit)] = &[
    ("mm", unit_of(Dim::LENGTH, 1, 1)),
    ("cm", unit_of(Dim::LENGTH, 10, 1)),
    ("m", unit_of(Dim::LENGTH, 1000, 1)),
    ("in", unit_of(Dim::LENGTH, 127, 5)),
    ("ft", unit_of(Dim::LENGTH, 1524, 5)),
    ("mm2", unit_of(Dim::AREA, 1, 1)),
    ("m2", unit_of(Dim::AREA, 1_000_000, 1)),
    ("in2", unit_of(Dim::AREA, 16_129, 25)),
    ("ft2", unit_of(Dim::AREA, 2_322_576, 25)),
    ("m3", unit_of(Dim::VOLUME, 1_000_000_000, 1)),
    ("in3", unit_of(Dim::VOLUME, 2_048_383, 125)),
    ("ft3", unit_of(Dim::VOLUME, 3_539_605_824, 125)),
    ("bdft", unit_of(Dim::VOLUME, 294_967_152, 125)),
    ("L", unit_of(Dim::VOLUME, 1_000_000, 1)),
    ("ml", unit_of(Dim::VOLUME, 1000, 1)),
    ("gal", unit_of(Dim::VOLUME, 473_176_473, 125)),
    ("qt", unit_of(Dim::VOLUME, 473_176_473, 500)),
    ("pint", unit_of(Dim::VOLUME, 473_176_473, 1000)),
    ("pt", unit_of(Dim::VOLUME, 473_176_473, 1000)),
    ("floz", unit_of(Dim::VOLUME, 473_176_473, 16_000)),
    ("kg", unit_of(Dim::WEIGHT, 1, 1)),
    ("g", unit_of(Dim::WEIGHT, 1, 1000)),
    ("lb", unit_of(Dim::WEIGHT, 45_359_237, 100_000_000)),
    ("N", unit_of(Dim::WEIGHT, 100_000, 980_665)),
    ("kN", unit_of(Dim::WEIGHT, 100_000_000, 980_665)),
    ("psf", unit_of(Dim::AREA_LOAD, 45_359_237 * 25, 100_000_000 * 2_322_576)),
    ("psi", unit_of(Dim::AREA_LOAD, 45_359_237 * 25, 100_000_000 * 16_129)),
    ("MPa", unit_of(Dim::AREA_LOAD, 100_000, 980_665)),
    ("GPa", unit_of(Dim::AREA_LOAD, 100_000_000, 980_665)),
    ("s", unit_of(Dim::TIME, 1, 1)),
    ("min", unit_of(Dim::TIME, 60, 1)),
    ("h", unit_of(Dim::TIME, 3600, 1)),
    ("day", unit_of(Dim::TIME, 86_400, 1)),
    ("days", unit_of(Dim::TIME, 86_400, 1)),
    ("deg", unit_of(Dim::ANGLE, 1, 1)),
    ("%", unit_of(Dim::NONE, 1, 100)),
];

/// The unit that `text` names, such as `mm`, `lb/ft3`, `ft2/gal` or `USD`; `None` if there is no such unit.
#[must_use]
pub fn unit(text: &str) -> Option<Unit> {
    match text.split_once('/') {
        None => word(text),
        Some((over, under)) => {
            let (over, under) = (word(over)?, word(under)?);
            Some(Unit {
                dim: over.dim.over(under.dim)?,
                factor: over.factor.checked_div(&under.factor)?,
                currency: over.currency.or(under.currency),
            })
        }
    }
}

/// Every unit word that is not a currency, in the order of the table.
pub fn all_words() -> impl Iterator<Item = &'static str> {
    WORDS.iter().map(|(word, _)| *word)
}

fn word(text: &str) -> Option<Unit> {
    if let Ok(letters) = <[u8; 3]>::try_from(text.as_bytes())
        && letters.iter().all(u8::is_ascii_uppercase)
    {
        return Some(Unit { currency: Some(letters), ..unit_of(Dim::MONEY, 1, 1) });
    }
    let (_, unit) = WORDS.iter().find(|(word, _)| *word == text)?;
    Some(Unit { factor: unit.factor.reduced(), ..*unit })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn factor(text: &str) -> f64 {
        crate::quantity::to_f64(unit(text).unwrap().factor)
    }

    #[test]
    fn factors_agree_with_nist_sp_811() {
        // NIST SP 811 (2008), appendix B.8 and B.9: factors in bold are exact, the others have seven digits.
        let pascal_per_base = 9.80665e6; // one base unit of pressure, kgf/mm2, in pascal
        let close = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-6, "{a} is not {b}");
        close(factor("ft"), 304.8);
        close(factor("lb"), 0.453_592_37);
        close(factor("lb/ft3"), 16.018_46e-9);
        close(factor("lb/ft") * 9.80665e3, 14.593_90);
        close(factor("psf") * pascal_per_base, 47.880_26);
        close(factor("psi") * pascal_per_base, 6894.757);
        close(factor("GPa") * pascal_per_base, 1e9);
        close(factor("kN/mm2") * pascal_per_base, 1e9);
        close(factor("gal"), 3.785_412e6);
        close(factor("floz"), 2.957_353e4);
        close(factor("pt"), 4.731_765e5);
        close(factor("bdft"), 144.0 * 16_387.064);
    }

    #[test]
    fn compound_units_have_their_dimension() {
        assert_eq!(unit("lb/ft").unwrap().dim, Dim::LINE_LOAD);
        assert_eq!(unit("ft2/gal").unwrap().dim, Dim::SPREAD);
        assert_eq!(unit("USD").unwrap().dim, Dim::MONEY);
        assert_eq!(unit("EUR/m").unwrap().currency, Some(*b"EUR"));
        assert_eq!(unit("%").unwrap().factor, Rational::new(1, 100));
        assert_eq!(unit("furlong"), None);
        assert_eq!(unit("lb/"), None);
    }
}
