//! What is usual: lengths and ranges of the trade, each with its source.

use crate::quantity::{Exact, Rational, System, unit};

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
    /// The word of the unit.
    pub unit: &'static str,
}

impl Written {
    /// Its value in base units; `None` where the unit is not known or the value leaves the range.
    #[must_use]
    pub fn exact(self) -> Option<Exact> {
        let unit = unit(self.unit)?;
        let value = Rational::new(self.value.0, self.value.1.max(1));
        Exact::number(value).checked_mul(Exact { value: unit.factor, dim: unit.dim })
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

/// The usual range of a property. A value outside of it is possible, and rare.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Usually {
    /// The least and the greatest usual value, in inches and in metric measures; without one the range is open there.
    ranges: [[Option<Written>; 2]; 2],
    /// Where the range comes from.
    pub source: Source,
}

impl Usually {
    pub(super) const fn between(inch: [Written; 2], metric: [Written; 2], source: Source) -> Self {
        let [[a, b], [c, d]] = [inch, metric];
        Self { ranges: [[Some(a), Some(b)], [Some(c), Some(d)]], source }
    }

    pub(super) const fn within([least, greatest]: [Written; 2], source: Source) -> Self {
        Self { ranges: [[Some(least), Some(greatest)]; 2], source }
    }

    pub(super) const fn at_least(inch: Written, metric: Written, source: Source) -> Self {
        Self { ranges: [[Some(inch), None], [Some(metric), None]], source }
    }

    /// The least and the greatest usual value in a system of measures; `None` where the range is open.
    #[must_use]
    pub fn range(&self, system: System) -> [Option<Written>; 2] {
        let [inch, metric] = self.ranges;
        match system {
            System::Inch => inch,
            System::Metric => metric,
        }
    }
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
