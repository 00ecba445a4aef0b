//! What is usual: lengths and ranges of the trade, each with its source.

use crate::quantity::{Exact, Rational, System, decimal, unit};
use num_traits::Zero;
use std::fmt;

/// How a value of the trade is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// It is published, and the source was seen.
    Published,
    /// It is common practice, and no source gives it.
    Common,
    /// It is known from memory and waits to be verified.
    Memory,
    /// It follows from how the language counts; no fact of the trade.
    Rule,
}

/// Where a value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Source {
    /// How it is known.
    pub known: Known,
    /// The source in words, as reasons print it.
    pub text: &'static str,
}

impl Source {
    pub(super) const fn common(text: &'static str) -> Self {
        Self { known: Known::Common, text }
    }

    pub(super) const fn published(text: &'static str) -> Self {
        Self { known: Known::Published, text }
    }

    pub(super) const fn memory(text: &'static str) -> Self {
        Self { known: Known::Memory, text }
    }

    pub(super) const fn rule(text: &'static str) -> Self {
        Self { known: Known::Rule, text }
    }
}

/// What no standard gives.
pub(super) const COMMON: Source = Source::common("common practice, no source");

/// What was not looked up.
pub(super) const MEMORY: Source = Source::memory("from memory: verify");

/// A quantity as it is written: a fraction and its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Written {
    /// Numerator and denominator.
    pub value: (i128, i128),
    /// The word of the unit; empty for a bare number.
    pub unit: &'static str,
}

impl Written {
    /// Its value in base units; `None` where the unit is not known or the value leaves the range.
    #[must_use]
    pub fn exact(self) -> Option<Exact> {
        if self.unit.is_empty() {
            return Some(Exact::number(Rational::new(self.value.0, self.value.1.max(1))));
        }
        let unit = unit(self.unit)?;
        let value = Rational::new(self.value.0, self.value.1.max(1));
        Exact::number(value).checked_mul(Exact { value: unit.factor, dim: unit.dim })
    }
}

/// As the language writes it.
impl fmt::Display for Written {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let value = Rational::new(self.value.0, self.value.1.max(1));
        match (value.trunc(), value.fract(), self.unit) {
            (whole, rest, _) if rest.is_zero() => write!(f, "{whole}")?,
            (_, _, "mm") => write!(f, "{}", decimal(value, 3))?,
            (whole, rest, _) if whole.is_zero() => write!(f, "{rest}")?,
            (whole, rest, _) => write!(f, "{whole} {rest}")?,
        }
        match self.unit {
            "" => Ok(()),
            "in" => f.write_str("\""),
            unit => write!(f, " {unit}"),
        }
    }
}

pub(super) const fn inches(over: i128, under: i128) -> Written {
    Written { value: (over, under), unit: "in" }
}

pub(super) const fn mm(whole: i128) -> Written {
    Written { value: (whole, 1), unit: "mm" }
}

pub(super) const fn written(whole: i128, unit: &'static str) -> Written {
    Written { value: (whole, 1), unit }
}

/// The least and the greatest value in inches and in metric measures; without one the range is open there.
type Ranges = [[Option<Written>; 2]; 2];

/// The usual range of a property. A value outside of it is possible, and rare.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Usually {
    ranges: Ranges,
    /// What lies outside of these is answered by a message; where there are none, what is under half the least or over
    /// twice the greatest usual value.
    doubted: Option<Ranges>,
    /// What a message calls the value, where the name of the property does not say it.
    pub called: Option<&'static str>,
    /// Where the range comes from.
    pub source: Source,
}

impl Usually {
    pub(super) const fn between(inch: [Written; 2], metric: [Written; 2], source: Source) -> Self {
        Self { ranges: both(inch, metric), doubted: None, called: None, source }
    }

    pub(super) const fn within(range: [Written; 2], source: Source) -> Self {
        Self::between(range, range, source)
    }

    pub(super) const fn at_least(inch: Written, metric: Written, source: Source) -> Self {
        Self { ranges: [[Some(inch), None], [Some(metric), None]], doubted: None, called: None, source }
    }

    /// A range that is so wide that what lies outside of it is a slip more often than a decision.
    pub(super) const fn wide(inch: [Written; 2], metric: [Written; 2]) -> Self {
        Self::between(inch, metric, COMMON).doubted(inch, metric)
    }

    /// The same of a measure that has one range in both systems.
    pub(super) const fn wide_in_both(range: [Written; 2]) -> Self {
        Self::wide(range, range)
    }

    /// The same range, with the wider one outside of which a value is answered by a message.
    pub(super) const fn doubted(self, inch: [Written; 2], metric: [Written; 2]) -> Self {
        Self { doubted: Some(both(inch, metric)), ..self }
    }

    /// The same range, of what a message calls so.
    pub(super) const fn called(self, called: &'static str) -> Self {
        Self { called: Some(called), ..self }
    }

    /// The least and the greatest usual value in a system of measures; `None` where the range is open.
    #[must_use]
    pub fn range(&self, system: System) -> [Option<Written>; 2] {
        of(self.ranges, system)
    }

    /// The range outside of which a value is answered by a message, where it is another one than twice the usual one.
    #[must_use]
    pub fn beyond(&self, system: System) -> Option<[Option<Written>; 2]> {
        self.doubted.map(|doubted| of(doubted, system))
    }

    /// The same as quantities.
    #[must_use]
    pub fn doubt(&self, system: System) -> [Option<Exact>; 2] {
        let exact = |written: Option<Written>| written.and_then(Written::exact);
        if let Some([least, greatest]) = self.beyond(system) {
            return [exact(least), exact(greatest)];
        }
        let times =
            |written, over, under| exact(written)?.checked_mul(Exact::number(Rational::new(over, under)));
        let [least, greatest] = self.range(system);
        [times(least, 1, 2), times(greatest, 2, 1)]
    }
}

const fn both([a, b]: [Written; 2], [c, d]: [Written; 2]) -> Ranges {
    [[Some(a), Some(b)], [Some(c), Some(d)]]
}

const fn of([inch, metric]: Ranges, system: System) -> [Option<Written>; 2] {
    match system {
        System::Inch => inch,
        System::Metric => metric,
    }
}

/// A usual time in seconds, as `number(..)` declares it.
pub(crate) fn duration_of(((over, under), word): ((i128, i128), &str)) -> Rational {
    let factor = unit(word).map_or_else(|| Rational::from(1), |unit| unit.factor);
    Rational::new(over, under.max(1)) * factor
}

/// A usual length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UsualLength {
    /// What it is called in a reason.
    pub label: &'static str,
    /// In inches and in millimetres.
    pub values: [(i128, i128); 2],
    /// Where the two come from.
    pub sources: [Source; 2],
}

impl UsualLength {
    pub(super) const fn new(
        label: &'static str,
        inch: (i128, i128),
        metric: (i128, i128),
        source: Source,
    ) -> Self {
        Self { label, values: [inch, metric], sources: [source, source] }
    }
}
