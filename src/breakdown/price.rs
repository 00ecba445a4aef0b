//! Prices: what a board or stick costs by its measure.

use crate::eval::{Board, Model};
use crate::quantity::{Dim, Exact, Length, Rational, System, unit};
use num_traits::{CheckedMul, ToPrimitive};

/// A price in whole hundredths, as the plans reckon with it: one at least, and more than any plan takes where it is out of
/// range.
pub(super) fn cents(price: Rational) -> i64 {
    let hundredths = price.checked_mul(&Rational::from(100)).map(|sum| sum.round().to_integer());
    hundredths.and_then(|sum| sum.to_i64()).unwrap_or(i64::MAX).max(1)
}

/// What a length of a board of a stated width costs.
#[must_use]
pub fn price_of_length(model: &Model, stock: &Board, length: Length) -> Option<Rational> {
    board(model, stock, length, stock.width?.value)
}

/// What a board of a length and width costs.
///
/// By volume, inch projects count board feet: 144 square inches of face, times the thickness of the rough board in inches
/// (NHLA); metric ones the volume as dressed.
pub(super) fn board(model: &Model, stock: &Board, length: Length, width: Length) -> Option<Rational> {
    let Exact { value, dim } = stock.price?;
    let face = length.mm().checked_mul(&width.mm())?;
    match dim {
        Dim::LINE_PRICE => value.checked_mul(&length.mm()),
        Dim::AREA_PRICE => value.checked_mul(&face),
        _ => {
            let thickness = stock.thickness?.value;
            let counted = match model.project.marks.system() {
                System::Inch => rough(thickness)?,
                System::Metric => thickness.mm(),
            };
            value.checked_mul(&face)?.checked_mul(&counted)
        }
    }
}

/// Dressed thickness in sixteenths of an inch and the quarters of the rough board that it is had from (NHLA, surfaced two
/// sides: 13/16 from 4/4, 1 1/16 from 5/4, 1 5/16 from 6/4, 1 3/4 from 8/4).
const ROUGH: &[(i128, i128)] = &[(13, 4), (17, 5), (21, 6), (28, 8)];

/// The thickness of the rough board that a dressed one is counted as, in millimetres; thicker ones as they are.
pub fn rough(dressed: Length) -> Option<Rational> {
    let sixteenths = dressed.inches()?.checked_mul(&Rational::from(16))?;
    let quarters = ROUGH.iter().find(|(most, _)| sixteenths <= Rational::from(*most));
    match quarters {
        Some((_, quarters)) => unit("in")?.factor.checked_mul(&Rational::new(*quarters, 4)),
        None => Some(dressed.mm()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boards_are_counted_as_the_rough_ones() {
        // NHLA, surfaced two sides: 13/16 from 4/4, 1 1/16 from 5/4, 1 5/16 from 6/4, 1 3/4 from 8/4.
        for (dressed, quarters) in [((3, 4), 4), ((13, 16), 4), ((17, 16), 5), ((21, 16), 6), ((7, 4), 8)] {
            let dressed = Length::from_inches(Rational::new(dressed.0, dressed.1)).unwrap();
            let inches = Length::from_mm(rough(dressed).unwrap()).inches().unwrap();
            assert_eq!(inches, Rational::new(quarters, 4));
        }
    }
}
