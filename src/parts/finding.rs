//! What a check compared, and what came of it: messages and the table of limits are two views of these.

use crate::diag::{Code, Severity};
use crate::quantity::{
    Dim, Estimate, Exact, Length, Marks, Rational, Round, System, estimate, rounded, to_f64,
};

/// A number that is compared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Figure {
    /// An exact one: a length, a time, a count.
    Exact(Exact),
    /// An estimate.
    Estimate(Estimate),
}

impl From<Length> for Figure {
    fn from(length: Length) -> Self {
        Self::Exact(length.into())
    }
}

impl From<usize> for Figure {
    fn from(count: usize) -> Self {
        Self::Exact(Exact::number(Rational::from(i128::try_from(count).unwrap_or(i128::MAX))))
    }
}

impl Figure {
    /// An estimate in base units of `dim`.
    #[must_use]
    pub fn about(value: f64, dim: Dim) -> Self {
        Self::Estimate(Estimate { value, dim })
    }

    /// What it measures.
    #[must_use]
    pub fn dim(self) -> Dim {
        match self {
            Self::Exact(exact) => exact.dim,
            Self::Estimate(estimate) => estimate.dim,
        }
    }

    /// The number in base units, for comparison with an estimate and for programs.
    #[must_use]
    pub fn value(self) -> f64 {
        match self {
            Self::Exact(exact) => to_f64(exact.value),
            Self::Estimate(estimate) => estimate.value,
        }
    }

    /// Whether this is more than `other`; two exact numbers are compared exactly, an estimate with a slack of rounding.
    #[must_use]
    pub fn exceeds(self, other: Self) -> bool {
        match (self, other) {
            (Self::Exact(a), Self::Exact(b)) => a.value > b.value,
            _ => {
                let (a, b) = (self.value(), other.value());
                a - b > 1e-9 * a.abs().max(b.abs())
            }
        }
    }

    /// What this is over `other`: exact where both are.
    fn less(self, other: Self) -> Self {
        match (self, other) {
            (Self::Exact(a), Self::Exact(b)) => {
                Self::Exact(a.checked_sub(b).unwrap_or(Exact { value: Rational::from(0), dim: a.dim }))
            }
            _ => Self::about(self.value() - other.value(), self.dim()),
        }
    }

    /// As the project prints it; an exact length is rounded the stated way.
    #[must_use]
    pub fn print(self, marks: Marks, round: Round) -> String {
        match self {
            Self::Exact(exact) => match (exact.length(), exact.dim) {
                (Some(length), _) => under_a_mark(length, marks)
                    .unwrap_or_else(|| marks.print_rounded(length, round).to_string()),
                (None, Dim::TIME) => duration(exact.value),
                (None, _) => rounded(exact.value, 3),
            },
            Self::Estimate(about) => match (about.dim, marks.system()) {
                // A tenth of a millimetre is too coarse for a sag.
                (Dim::LENGTH, System::Metric) if about.value.abs() < 10.0 => {
                    format!("~{:.2} mm", about.value)
                }
                _ => estimate(about, marks.system()),
            },
        }
    }
}

/// A length under one mark, told finer: rounded to marks, a fit and its limit would both read zero. `None` of others, and
/// where it is too little to be told at all.
fn under_a_mark(length: Length, marks: Marks) -> Option<String> {
    let size = length.max(Length::ZERO.checked_sub(length)?);
    if length.is_zero() || size >= marks.step() {
        return None;
    }
    // Fractions of a caliper's inch read badly where no tape has them: decimals serve for those.
    let denominator = *length.inches()?.denom();
    let on_tape = denominator <= 128 && denominator.count_ones() == 1;
    if marks.system() == System::Inch && !on_tape {
        let told = size >= Length::from_inches(Rational::new(1, 2000))?;
        return told.then(|| estimate(Exact::from(length).estimate(), marks.system()));
    }
    let told = size >= Length::from_mm(Rational::new(1, 2000));
    told.then(|| marks.print_fine(length).to_string())
}

/// A time in days, hours, minutes and seconds: `5 min 20 s`.
pub(crate) fn duration(seconds: Rational) -> String {
    let mut rest = seconds.round().to_integer();
    let sign = if rest < 0 { "-" } else { "" };
    rest = rest.checked_abs().unwrap_or(0);
    let mut said = Vec::new();
    for (unit, word) in [(86_400, "d"), (3600, "h"), (60, "min"), (1, "s")] {
        let (whole, left) = (rest / unit, rest % unit);
        if whole > 0 {
            said.push(format!("{whole} {word}"));
        }
        rest = left;
    }
    if said.is_empty() { "0 s".to_owned() } else { format!("{sign}{}", said.join(" ")) }
}

/// What a value is held against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Limit {
    /// It may be this at most.
    AtMost(Figure),
    /// It must be this at least.
    AtLeast(Figure),
    /// Nothing that this program knows limits it: it is told for somebody who does.
    Unknown,
}

impl Limit {
    /// The number.
    #[must_use]
    pub fn figure(self) -> Option<Figure> {
        match self {
            Self::AtMost(figure) | Self::AtLeast(figure) => Some(figure),
            Self::Unknown => None,
        }
    }
}

/// What a check compared on one thing.
#[derive(Clone, Debug)]
pub struct Finding {
    /// The check: what is told where the limit is not kept.
    pub code: &'static Code,
    /// The member that it is about, by its path.
    pub subject: String,
    /// What was compared, in words.
    pub what: &'static str,
    /// The value.
    pub value: Figure,
    /// The limit.
    pub limit: Limit,
    /// What must be known to trust the figure; may be empty.
    pub remark: String,
}

impl Finding {
    /// Compares a value with its limit.
    #[must_use]
    pub fn new(
        code: &'static Code,
        subject: impl Into<String>,
        what: &'static str,
        value: impl Into<Figure>,
        limit: Limit,
    ) -> Self {
        Self { code, subject: subject.into(), what, value: value.into(), limit, remark: String::new() }
    }

    /// Whether the limit is kept.
    #[must_use]
    pub fn holds(&self) -> bool {
        match self.limit {
            Limit::AtMost(most) => !self.value.exceeds(most),
            Limit::AtLeast(least) => !least.exceeds(self.value),
            Limit::Unknown => true,
        }
    }

    /// How far the value is on the good side of the limit; negative where it is not.
    #[must_use]
    pub fn margin(&self) -> Option<Figure> {
        match self.limit {
            Limit::AtMost(most) => Some(most.less(self.value)),
            Limit::AtLeast(least) => Some(self.value.less(least)),
            Limit::Unknown => None,
        }
    }

    /// How much what was found matters; `None` where the limit is kept.
    #[must_use]
    pub fn verdict(&self) -> Option<Severity> {
        (!self.holds()).then_some(self.code.severity)
    }
}

impl From<Estimate> for Figure {
    fn from(estimate: Estimate) -> Self {
        Self::Estimate(estimate)
    }
}

impl From<Exact> for Figure {
    fn from(exact: Exact) -> Self {
        Self::Exact(exact)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_read_as_one_says_them() {
        let say = |seconds: i128| duration(Rational::from(seconds));
        assert_eq!(say(320), "5 min 20 s");
        assert_eq!(say(300), "5 min");
        assert_eq!(say(0), "0 s");
        assert_eq!(say(-20), "-20 s");
        assert_eq!(say(604_800 + 3600), "7 d 1 h");
    }
}
