//! Rounding to marks and printing: the one place where an exact length loses anything.

use super::{Dim, Estimate, Length, Rational, to_f64, unit};
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, One, Signed, Zero};
use std::fmt;

/// The finest mark: 1/128 in.
const FINEST_INCH: i128 = 128;

/// A system of measurement; a page uses one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum System {
    /// Inches and fractions of them.
    Inch,
    /// Millimetres and decimals of them.
    Metric,
}

impl System {
    /// A size that the trade has in both systems: so many inches, or so many millimetres, each as numerator and
    /// denominator.
    #[must_use]
    pub fn length(self, inches: (i128, i128), mm: (i128, i128)) -> Length {
        match self {
            Self::Inch => Length::from_inches(Rational::new(inches.0, inches.1)).unwrap_or_default(),
            Self::Metric => Length::from_mm(Rational::new(mm.0, mm.1)),
        }
    }

    /// A long run in feet or metres, with a `~` where that is rounded.
    #[must_use]
    pub fn long(self, length: Length) -> String {
        let (mm, word, places) = self.run();
        let runs = length.mm().checked_div(&mm);
        runs.map_or_else(|| "out of range".to_owned(), |runs| format!("{} {word}", rounded(runs, places)))
    }

    /// The same of an estimate in millimetres.
    #[must_use]
    pub fn long_about(self, estimate: f64) -> String {
        let (mm, word, places) = self.run();
        let places = usize::try_from(places).unwrap_or(0);
        format!("~{:.places$} {word}", estimate / to_f64(mm))
    }

    /// The unit of long runs in millimetres, its word, and how many decimals are told.
    fn run(self) -> (Rational, &'static str, u32) {
        match self {
            Self::Inch => (Rational::new(1524, 5), "ft", 1),
            Self::Metric => (Rational::from(1000), "m", 2),
        }
    }

    /// An exact area of so many square millimetres, with a `~` where that is rounded.
    #[must_use]
    pub fn area(self, mm2: Rational) -> String {
        let (word, print, places) = match self {
            Self::Inch => ("ft2", "sq ft", 2),
            Self::Metric => ("m2", "m2", 3),
        };
        let area = unit(word).and_then(|unit| mm2.checked_div(&unit.factor));
        area.map_or_else(|| "out of range".to_owned(), |area| format!("{} {print}", rounded(area, places)))
    }
}

/// Which way a length is rounded to a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Round {
    /// To the nearest mark, ties up: sizes.
    Nearest,
    /// To the mark below: a greatest allowed value.
    Down,
    /// To the mark above: a least allowed value.
    Up,
}

/// The marks of the project's tape: the step to which lengths are printed, and its system.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Marks {
    step: Length,
    system: System,
    /// Inch: the denominator. Metric: the number of decimals.
    fineness: u32,
}

/// Why a length cannot be a step of marks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarksError {
    /// In inches a step is 1/1, 1/2, 1/4 and so on to 1/128.
    Inch,
    /// In millimetres a step is a whole number of hundredths of a millimetre, at most 10 mm.
    Metric,
}

/// A printed length: its text, and whether the text says the length exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printed {
    text: String,
    exact: bool,
}

impl Printed {
    /// The text without a sign for inexactness.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Whether nothing was lost in rounding.
    #[must_use]
    pub fn is_exact(&self) -> bool {
        self.exact
    }
}

/// The text, with `~` before it where rounding lost something.
impl fmt::Display for Printed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.exact { f.pad(&self.text) } else { f.pad(&format!("~{}", self.text)) }
    }
}

impl Marks {
    /// Thirty-seconds of an inch, the default in inches.
    pub const THIRTY_SECONDS: Self =
        Self { step: Length::from_mm_raw(127, 160), system: System::Inch, fineness: 32 };
    /// Tenths of a millimetre, the default in millimetres.
    pub const TENTHS: Self = Self { step: Length::from_mm_raw(1, 10), system: System::Metric, fineness: 1 };

    /// Marks at every `step`, printed in `system`.
    ///
    /// # Errors
    /// [`MarksError`] where no tape has such marks.
    pub fn new(step: Length, system: System) -> Result<Self, MarksError> {
        match system {
            System::Inch => {
                let inches = step.inches().ok_or(MarksError::Inch)?;
                let denominator = *inches.denom();
                let ok =
                    inches.numer().is_one() && denominator <= FINEST_INCH && denominator.count_ones() == 1;
                let fineness = u32::try_from(denominator).map_err(|_| MarksError::Inch)?;
                if ok { Ok(Self { step, system, fineness }) } else { Err(MarksError::Inch) }
            }
            System::Metric => {
                let mm = step.mm();
                let fineness = (0..=2_u32)
                    .find(|places| {
                        mm.checked_mul(&Rational::from(10_i128.pow(*places))).is_some_and(|s| s.is_integer())
                    })
                    .ok_or(MarksError::Metric)?;
                let ok = mm.is_positive() && mm <= Rational::from(10);
                if ok { Ok(Self { step, system, fineness }) } else { Err(MarksError::Metric) }
            }
        }
    }

    /// The step between two marks.
    #[must_use]
    pub fn step(self) -> Length {
        self.step
    }

    /// The system that the marks are printed in.
    #[must_use]
    pub fn system(self) -> System {
        self.system
    }

    /// The mark that `length` rounds to; `None` on overflow.
    #[must_use]
    pub fn round(self, length: Length, round: Round) -> Option<Length> {
        round_to(length, self.step, round)
    }

    /// The nearest mark, ties up; the length itself on overflow.
    #[must_use]
    pub fn nearest(self, length: Length) -> Length {
        self.round(length, Round::Nearest).unwrap_or(length)
    }

    /// Prints a size for a caliper, a bit or a grid. Where the mark loses something, what it is stated in stands first if that is the
    /// other unit; else the exact fraction and decimals stand beside the mark.
    #[must_use]
    pub fn print_both(self, length: Length) -> String {
        let (printed, fine) = (self.print(length), self.print_fine(length));
        let fraction = length.inches().filter(|inches| is_on_tape(*inches));
        match (self.system, fraction) {
            _ if printed.is_exact() => printed.to_string(),
            (System::Inch, Some(_)) => format!("{printed} ({fine}, {})", decimals(length)),
            (System::Inch, None) if is_in_tenths(length) => {
                format!("{} ({})", in_millimetres(length), decimals(length))
            }
            (System::Inch, None) => format!("{printed} ({})", decimals(length)),
            (System::Metric, Some(inches)) => format!("{}\" ({fine})", mixed(inches)),
            (System::Metric, None) => format!("{printed} ({fine})"),
        }
    }

    /// Prints a size: to the nearest mark, ties up.
    #[must_use]
    pub fn print(self, length: Length) -> Printed {
        self.print_rounded(length, Round::Nearest)
    }

    /// Prints a length rounded the stated way: limits go to the safe side.
    #[must_use]
    pub fn print_rounded(self, length: Length, round: Round) -> Printed {
        if let Some(printed) = self.print_small(length, round) {
            return printed;
        }
        let rounded = self.round(length, round).unwrap_or(length);
        Printed { text: self.text(rounded), exact: rounded == length }
    }

    /// Prints a length without rounding: a fraction, millimetres where it is stated in them, or up to three decimals of a
    /// millimetre.
    #[must_use]
    pub fn print_fine(self, length: Length) -> Printed {
        let odd = || length.inches().is_some_and(|inches| !is_on_tape(inches));
        match self.system {
            System::Inch if is_in_tenths(length) && odd() => {
                Printed { text: in_millimetres(length), exact: true }
            }
            System::Inch => Printed { text: self.text(length), exact: true },
            System::Metric => {
                let fine = Self { step: Length::from_mm_raw(1, 1000), system: self.system, fineness: 3 };
                let rounded = fine.round(length, Round::Nearest).unwrap_or(length);
                Printed { text: format!("{} mm", decimal(rounded.mm(), 3)), exact: rounded == length }
            }
        }
    }

    /// The same by machine words, which most lengths fit: lists of thousands of parts are printed by this.
    fn print_small(self, length: Length, round: Round) -> Option<Printed> {
        let (mm, step) = (length.mm(), self.step.mm());
        let small = |number: &i128| i64::try_from(*number).ok();
        let (n, d) = (small(mm.numer())?, small(mm.denom())?);
        let (sn, sd) = (small(step.numer())?, small(step.denom())?);
        // So many steps are `of / by`.
        let (of, by) = (n.checked_mul(sd)?, d.checked_mul(sn)?);
        let (below, rest) = (of.checked_div_euclid(by)?, of.checked_rem_euclid(by)?);
        let up = match round {
            Round::Nearest => rest >= by - rest,
            Round::Down => false,
            Round::Up => rest > 0,
        };
        let steps = below + i64::from(up);
        let text = match self.system {
            System::Inch => {
                let (sign, steps) = (if steps < 0 { "-" } else { "" }, steps.unsigned_abs());
                let fineness = u64::from(self.fineness);
                let (whole, part) = (steps.checked_div(fineness)?, steps.checked_rem(fineness)?);
                // The fineness is a power of two.
                let halved = part.trailing_zeros();
                match (whole, part) {
                    (whole, 0) => format!("{sign}{whole}\""),
                    (0, part) => format!("{sign}{}/{}\"", part >> halved, fineness >> halved),
                    (whole, part) => format!("{sign}{whole} {}/{}\"", part >> halved, fineness >> halved),
                }
            }
            System::Metric => {
                let scale = 10_i64.checked_pow(self.fineness)?;
                let scaled = steps.checked_mul(sn)?.checked_mul(scale)?.checked_div(sd)?;
                let (sign, scaled) = (if scaled < 0 { "-" } else { "" }, scaled.unsigned_abs());
                let (whole, part) =
                    (scaled.checked_div(scale.unsigned_abs())?, scaled.checked_rem(scale.unsigned_abs())?);
                let width = usize::try_from(self.fineness).ok()?;
                let part = if part == 0 { String::new() } else { format!(".{part:0width$}") };
                format!("{sign}{whole}{} mm", part.trim_end_matches('0'))
            }
        };
        Some(Printed { text, exact: rest == 0 })
    }

    fn text(self, length: Length) -> String {
        match self.system {
            System::Inch => match length.inches() {
                Some(inches) => format!("{}\"", mixed(inches)),
                None => "out of range".to_owned(),
            },
            System::Metric => format!("{} mm", decimal(length.mm(), self.fineness)),
        }
    }
}

impl Length {
    /// A length of `numer/denom` millimetres; the caller gives lowest terms.
    const fn from_mm_raw(numer: i128, denom: i128) -> Self {
        Self::from_ratio(Rational::new_raw(numer, denom))
    }

    /// This length rounded to a whole number of `step`s; `None` on overflow or where `step` is zero.
    #[must_use]
    pub fn rounded_to(self, step: Self, round: Round) -> Option<Self> {
        round_to(self, step, round)
    }
}

fn round_to(length: Length, step: Length, round: Round) -> Option<Length> {
    let steps = length.ratio(step)?;
    let whole = match round {
        Round::Nearest => steps.checked_add(&Rational::new(1, 2))?.floor(),
        Round::Down => steps.floor(),
        Round::Up => steps.ceil(),
    };
    step.checked_mul(whole)
}

/// Whether a tape or a rule has such a fraction of an inch.
fn is_on_tape(inches: Rational) -> bool {
    let denominator = *inches.denom();
    denominator <= FINEST_INCH && denominator.count_ones() == 1
}

/// Whether a length is a whole number of tenths of a millimetre.
fn is_in_tenths(length: Length) -> bool {
    length.mm().checked_mul(&Rational::from(10)).is_some_and(|tenths| tenths.is_integer())
}

fn in_millimetres(length: Length) -> String {
    format!("{} mm", decimal(length.mm(), 1))
}

/// In decimals of an inch, as a caliper shows it.
fn decimals(length: Length) -> String {
    let inches = length.inches().map(|inches| rounded(inches, 3));
    inches.map_or_else(|| "out of range".to_owned(), |inches| format!("{inches}\""))
}

/// A fraction as a tape shows it: `31 5/16`, `3/4`, `-1 1/2`, `0`.
fn mixed(value: Rational) -> String {
    let sign = if value.is_negative() { "-" } else { "" };
    let value = value.abs();
    let (whole, part) = (value.trunc(), value.fract());
    if part.is_zero() {
        format!("{sign}{whole}")
    } else if whole.is_zero() {
        format!("{sign}{}/{}", part.numer(), part.denom())
    } else {
        format!("{sign}{whole} {}/{}", part.numer(), part.denom())
    }
}

/// An estimate in the units of a system, with a `~` before it: `~88.7 lb`, `~43.8 kg`, `~87.303"`, `~227.93 sq ft`.
#[must_use]
pub fn estimate(estimate: Estimate, system: System) -> String {
    let (factor, word, places) = printed(estimate.dim, system);
    format!("~{:.places$}{word}", estimate.value / factor)
}

/// An estimate that is a limit, as it is printed on the safe side of it: the most that may be is rounded down, the least that
/// is needed up.
#[must_use]
pub fn safe(estimate: Estimate, system: System, round: Round) -> Estimate {
    let (factor, _, places) = printed(estimate.dim, system);
    let step = (0..places).fold(factor, |step, _| step / 10.0);
    let steps = estimate.value / step;
    let near = steps.round();
    let whole = match round {
        // What floating-point numbers are off by makes no step.
        _ if (steps - near).abs() < 1e-6 => near,
        Round::Nearest => near,
        Round::Down => steps.floor(),
        Round::Up => steps.ceil(),
    };
    Estimate { value: whole * step, ..estimate }
}

/// How an estimate of a dimension is printed: the size of its unit, the word for it, and decimals.
fn printed(dim: Dim, system: System) -> (f64, &'static str, usize) {
    let (unit_word, word, places) = match (dim, system) {
        (Dim::LENGTH, System::Inch) => ("in", "\"", 3),
        (Dim::LENGTH, System::Metric) => ("mm", " mm", 1),
        (Dim::WEIGHT, System::Inch) => ("lb", " lb", 1),
        (Dim::WEIGHT, System::Metric) => ("kg", " kg", 1),
        (Dim::AREA, System::Inch) => ("ft2", " sq ft", 2),
        (Dim::AREA, System::Metric) => ("m2", " m2", 3),
        (Dim::VOLUME, System::Inch) => ("gal", " gal", 3),
        (Dim::VOLUME, System::Metric) => ("L", " L", 2),
        (Dim::LINE_LOAD, System::Inch) => ("lb/ft", " lb/ft", 0),
        (Dim::LINE_LOAD, System::Metric) => ("kg/m", " kg/m", 0),
        (Dim::ANGLE, _) => ("deg", " deg", 2),
        _ => ("%", "", 3),
    };
    let factor = unit(unit_word).filter(|unit| unit.dim == dim).map_or(1.0, |unit| to_f64(unit.factor));
    (factor, word, places)
}

/// A number to so many decimals: `11` as it is; rounded with a `~` and all of them, `~7.10`.
#[must_use]
pub fn rounded(value: Rational, places: u32) -> String {
    let text = decimal(value, places);
    let scale = Rational::from(10_i128.pow(places.min(12)));
    if value.checked_mul(&scale).is_none_or(|scaled| scaled.is_integer()) {
        return text;
    }
    if places == 0 {
        return format!("~{text}");
    }
    let told = text.split_once('.').map_or(0, |(_, part)| part.len());
    let point = if told == 0 { "." } else { "" };
    let zeros = usize::try_from(places).unwrap_or(0).saturating_sub(told);
    format!("~{text}{point}{:0<zeros$}", "")
}

/// `value` to so many decimals, ties up, with trailing zeros dropped: `914.8`, `18`.
#[must_use]
pub fn decimal(value: Rational, places: u32) -> String {
    let scale = 10_i128.pow(places.min(12));
    let scaled = value.checked_mul(&Rational::from(scale)).and_then(|v| v.checked_add(&Rational::new(1, 2)));
    let Some(scaled) = scaled.map(|v| v.floor().to_integer()) else {
        return "out of range".to_owned();
    };
    let sign = if scaled < 0 { "-" } else { "" };
    let scaled = scaled.unsigned_abs();
    let scale = scale.unsigned_abs();
    let (whole, part) = (scaled.checked_div(scale).unwrap_or(0), scaled.checked_rem(scale).unwrap_or(0));
    let width = usize::try_from(places).unwrap_or(0);
    let part = format!("{part:0width$}");
    let part = part.trim_end_matches('0');
    if part.is_empty() { format!("{sign}{whole}") } else { format!("{sign}{whole}.{part}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inch(n: i128, d: i128) -> Length {
        Length::from_inches(Rational::new(n, d)).unwrap()
    }

    fn mm(n: i128, d: i128) -> Length {
        Length::from_mm(Rational::new(n, d))
    }

    #[test]
    fn prints_fractions_in_lowest_terms() {
        let marks = Marks::THIRTY_SECONDS;
        assert_eq!(marks.print(inch(501, 16)).to_string(), "31 5/16\"");
        assert_eq!(marks.print(inch(24, 32)).to_string(), "3/4\"");
        assert_eq!(marks.print(inch(86, 1)).to_string(), "86\"");
        assert_eq!(marks.print(Length::ZERO).to_string(), "0\"");
        assert_eq!(marks.print(inch(-3, 2)).to_string(), "-1 1/2\"");
    }

    #[test]
    fn a_rounded_length_carries_a_tilde() {
        // 2 51/128 is 2 12.75/32.
        let marks = Marks::THIRTY_SECONDS;
        assert_eq!(marks.print(inch(307, 128)).to_string(), "~2 13/32\"");
        assert_eq!(marks.print_fine(inch(307, 128)).to_string(), "2 51/128\"");
    }

    #[test]
    fn sizes_round_to_nearest_with_ties_up_and_limits_to_the_safe_side() {
        let marks = Marks::THIRTY_SECONDS;
        assert_eq!(marks.print(inch(1, 64)).text(), "1/32\"");
        assert_eq!(marks.print(inch(-1, 64)).text(), "0\"");
        // 87.077 is 87 2.46/32.
        assert_eq!(marks.print_rounded(inch(87_077, 1000), Round::Down).text(), "87 1/16\"");
        assert_eq!(marks.print_rounded(inch(87_077, 1000), Round::Up).text(), "87 3/32\"");
    }

    #[test]
    fn prints_millimetres_as_decimals() {
        let marks = Marks::TENTHS;
        assert_eq!(marks.print(mm(9268, 10)).to_string(), "926.8 mm");
        assert_eq!(marks.print(mm(18, 1)).to_string(), "18 mm");
        assert_eq!(marks.print(inch(1, 32)).to_string(), "~0.8 mm");
        assert_eq!(marks.print_fine(inch(1, 32)).to_string(), "~0.794 mm");
    }

    #[test]
    fn the_quick_way_prints_what_the_long_one_does() {
        let marks = [(1, 32), (1, 128), (1, 1)].map(|(n, d)| Marks::new(inch(n, d), System::Inch).unwrap());
        let metric =
            [(1, 10), (1, 2), (5, 1), (1, 100), (1, 4)].map(|(n, d)| Marks::new(mm(n, d), System::Metric));
        let metric = metric.into_iter().flatten();
        let mut tried = 0;
        for marks in marks.into_iter().chain(metric) {
            for n in (-2000..2000).chain([1 << 40, (1 << 55) + 1]) {
                for length in [inch(n, 64), inch(n, 7), mm(n, 20), mm(n, 3)] {
                    for round in [Round::Nearest, Round::Down, Round::Up] {
                        let Some(quick) = marks.print_small(length, round) else { continue };
                        let rounded = marks.round(length, round).unwrap();
                        assert_eq!(quick, Printed { text: marks.text(rounded), exact: rounded == length });
                        tried += 1;
                    }
                }
            }
        }
        assert!(tried > 300_000, "{tried}");
    }

    #[test]
    fn marks_are_those_that_a_tape_has() {
        assert_eq!(Marks::new(inch(1, 32), System::Inch), Ok(Marks::THIRTY_SECONDS));
        assert_eq!(Marks::new(mm(1, 10), System::Metric), Ok(Marks::TENTHS));
        assert!(Marks::new(inch(1, 64), System::Inch).is_ok());
        assert_eq!(Marks::new(inch(1, 3), System::Inch), Err(MarksError::Inch));
        assert_eq!(Marks::new(inch(3, 32), System::Inch), Err(MarksError::Inch));
        assert_eq!(Marks::new(Length::ZERO, System::Metric), Err(MarksError::Metric));
        assert_eq!(Marks::new(mm(1, 3), System::Metric), Err(MarksError::Metric));
    }

    #[test]
    fn a_caliper_reads_the_unit_that_a_size_is_stated_in() {
        // 93/128 = 0.7266; 32 mm are 1.2598 in, and 25 times the nearest mark is 31.25 in, 6 mm off 31.496.
        let inch_marks = Marks::THIRTY_SECONDS;
        assert_eq!(inch_marks.print_both(inch(93, 128)), "~23/32\" (93/128\", ~0.727\")");
        assert_eq!(inch_marks.print_both(mm(32, 1)), "32 mm (~1.260\")");
        assert_eq!(inch_marks.print_both(mm(177, 10)), "17.7 mm (~0.697\")");
        assert_eq!(inch_marks.print_both(inch(1, 4)), "1/4\"");
        assert_eq!(inch_marks.print_both(mm(3203, 100)), "~1 1/4\" (~1.261\")");
        assert_eq!(inch_marks.print_fine(mm(32, 1)).to_string(), "32 mm");
        assert_eq!(inch_marks.print_fine(mm(127, 10)).to_string(), "1/2\"");
        let half = Marks::new(mm(1, 2), System::Metric).unwrap();
        assert_eq!(half.print_both(mm(177, 10)), "~17.5 mm (17.7 mm)");
        assert_eq!(half.print_both(inch(1, 4)), "1/4\" (6.35 mm)");
        assert_eq!(half.print_both(mm(18, 1)), "18 mm");
    }

    #[test]
    fn what_is_rounded_says_so_and_keeps_its_places() {
        // 7.096 and 10.999 to two places; 11 and 2.5 are what they are; 1/3 has no end.
        let print = |numer, denom, places| rounded(Rational::new(numer, denom), places);
        assert_eq!(print(7096, 1000, 2), "~7.10");
        assert_eq!(print(10_999, 1000, 2), "~11.00");
        assert_eq!(print(11, 1, 2), "11");
        assert_eq!(print(5, 2, 2), "2.5");
        assert_eq!(print(1, 3, 6), "~0.333333");
        assert_eq!(print(7, 2, 0), "~4");
        // A square inch is 1/144 sq ft; 144 of them one. 30.48 mm are a tenth of a foot, 30 mm are rounded to it.
        let square = Rational::new(16_129, 25);
        assert_eq!(System::Inch.area(square), "~0.01 sq ft");
        assert_eq!(System::Inch.area(square * Rational::from(144)), "1 sq ft");
        assert_eq!(System::Inch.long(mm(3048, 100)), "0.1 ft");
        assert_eq!(System::Inch.long(mm(30, 1)), "~0.1 ft");
        assert_eq!(System::Metric.long(mm(1005, 1)), "~1.01 m");
        assert_eq!(System::Metric.long_about(1000.0), "~1.00 m");
    }

    #[test]
    fn decimals_drop_trailing_zeros() {
        assert_eq!(decimal(Rational::new(1609, 20), 2), "80.45");
        assert_eq!(decimal(Rational::new(5, 2), 2), "2.5");
        assert_eq!(decimal(Rational::new(-1, 4), 1), "-0.2");
        assert_eq!(decimal(Rational::from(7), 0), "7");
    }
}
