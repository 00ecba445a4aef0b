//! Reading numbers as a tape and a calculator show them.

use super::Rational;
use num_traits::{CheckedAdd, CheckedMul};

/// The most digits that one whole number may have, so that sums of sizes stay far from overflow.
const MAX_DIGITS: usize = 15;
/// The largest power of ten in `0.95e6`, up or down.
const MAX_EXPONENT: u32 = 12;

/// Why a text is not a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NumberError {
    /// It is not of the form `12`, `3/4`, `11 7/8`, `0.25` or `0.95e6`.
    Form,
    /// A fraction over zero.
    ZeroDenominator,
    /// More digits than [`number`] takes.
    TooLong,
}

/// Reads `12`, `3/4`, `11 7/8`, `0.25` or `0.95e6`, exactly.
///
/// # Errors
/// [`NumberError`] says what is wrong with the text.
pub fn number(text: &str) -> Result<Rational, NumberError> {
    let text = text.trim_matches([' ', '\t']);
    let Some((before, denominator)) = text.split_once('/') else {
        return decimal(text);
    };
    let (whole, numerator) = match before.trim_end_matches([' ', '\t']).rsplit_once([' ', '\t']) {
        Some((whole, numerator)) => (digits(whole.trim_matches([' ', '\t']))?, digits(numerator)?),
        None => (0, digits(before.trim_matches([' ', '\t']))?),
    };
    let denominator = digits(denominator.trim_matches([' ', '\t']))?;
    if denominator == 0 {
        return Err(NumberError::ZeroDenominator);
    }
    Rational::from(whole).checked_add(&Rational::new(numerator, denominator)).ok_or(NumberError::TooLong)
}

fn decimal(text: &str) -> Result<Rational, NumberError> {
    let (mantissa, exponent) = match text.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, exponent.parse::<i32>().map_err(|_| NumberError::Form)?),
        None => (text, 0),
    };
    let (whole, fraction) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    if mantissa.contains('.') && fraction.is_empty() {
        return Err(NumberError::Form);
    }
    let whole = Rational::from(digits(whole)?);
    let part = if fraction.is_empty() {
        Rational::from(0)
    } else {
        let places = u32::try_from(fraction.len()).map_err(|_| NumberError::TooLong)?;
        Rational::new(digits(fraction)?, ten_to(places)?)
    };
    let mantissa = whole.checked_add(&part).ok_or(NumberError::TooLong)?;
    if exponent.unsigned_abs() > MAX_EXPONENT {
        return Err(NumberError::TooLong);
    }
    let power = ten_to(exponent.unsigned_abs())?;
    let power = if exponent < 0 { Rational::new(1, power) } else { Rational::from(power) };
    mantissa.checked_mul(&power).ok_or(NumberError::TooLong)
}

fn ten_to(power: u32) -> Result<i128, NumberError> {
    10_i128.checked_pow(power).ok_or(NumberError::TooLong)
}

fn digits(text: &str) -> Result<i128, NumberError> {
    if text.is_empty() || !text.bytes().all(|b| b.is_ascii_digit()) {
        return Err(NumberError::Form);
    }
    if text.len() > MAX_DIGITS {
        return Err(NumberError::TooLong);
    }
    text.parse().map_err(|_| NumberError::TooLong)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_a_tape_shows() {
        assert_eq!(number("12"), Ok(Rational::from(12)));
        assert_eq!(number("3/4"), Ok(Rational::new(3, 4)));
        assert_eq!(number("11 7/8"), Ok(Rational::new(95, 8)));
        assert_eq!(number("11  13/16"), Ok(Rational::new(189, 16)));
        assert_eq!(number("0.25"), Ok(Rational::new(1, 4)));
        assert_eq!(number("0.95e6"), Ok(Rational::from(950_000)));
        assert_eq!(number("5e-3"), Ok(Rational::new(1, 200)));
    }

    #[test]
    fn refuses_what_is_no_number() {
        for text in ["", "a", "1.", ".5", "1 2", "1//2", "1/2/3", "-3", "1e", "1 1.5/2"] {
            assert_eq!(number(text), Err(NumberError::Form), "{text}");
        }
        assert_eq!(number("3/0"), Err(NumberError::ZeroDenominator));
        assert_eq!(number("1234567890123456"), Err(NumberError::TooLong));
        assert_eq!(number("1e99"), Err(NumberError::TooLong));
    }
}
