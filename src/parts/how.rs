//! How an estimate is reckoned: its rule, what goes into it and where that stands, its source, and what is assumed.

use crate::eval::Len;
use crate::quantity::{Dim, Estimate, Marks, System, estimate, to_f64, unit};
use crate::source::Span;

/// How an estimate is reckoned.
#[derive(Clone, Debug, Default)]
pub struct How {
    /// The rule, in words or as a formula.
    pub rule: &'static str,
    /// What goes into it.
    pub from: Vec<Input>,
    /// Where the rule comes from; empty where it is arithmetic.
    pub source: &'static str,
    /// What is assumed, because nobody states it or for caution.
    pub assumed: Vec<&'static str>,
}

/// A value that goes into an estimate.
#[derive(Clone, Debug)]
pub struct Input {
    /// What it is.
    pub name: String,
    /// Its value.
    pub value: Given,
    /// Where the member stands that states it, if one does.
    pub stated: Option<Span>,
}

/// A value as it is known.
#[derive(Clone, Debug)]
pub enum Given {
    /// An exact length with its reason.
    Length(Len),
    /// An estimate.
    Estimate(Estimate),
    /// What is printed as it is.
    Words(String),
}

impl Given {
    /// As a reason prints it: of wood in the units that it is published in.
    #[must_use]
    pub fn print(&self, marks: Marks) -> String {
        let system = marks.system();
        let inch = system == System::Inch;
        match self {
            Self::Length(len) => marks.print_fine(len.value).to_string(),
            Self::Words(words) => words.clone(),
            Self::Estimate(value) => match value.dim {
                Dim::AREA_LOAD if inch => per(*value, ("psi", 1e6, "million psi")),
                Dim::AREA_LOAD => per(*value, ("kN/mm2", 1.0, "kN/mm2")),
                Dim::DENSITY if inch => per(*value, ("lb/ft3", 1.0, "lb/cu ft")),
                Dim::DENSITY => per(*value, ("kg/m3", 1.0, "kg/m3")),
                Dim::VOLUME if inch => format!("~{}", per(*value, ("in3", 1.0, "cu in"))),
                Dim::LINE_LOAD if inch => format!("~{}", per(*value, ("lb/ft", 1.0, "lb/ft"))),
                Dim::LINE_LOAD => format!("~{}", per(*value, ("kg/m", 1.0, "kg/m"))),
                _ => estimate(*value, system),
            },
        }
    }
}

impl From<&'static str> for How {
    fn from(rule: &'static str) -> Self {
        Self { rule, ..Self::default() }
    }
}

impl How {
    /// With a length that goes into it.
    #[must_use]
    pub fn length(self, name: &str, len: Len) -> Self {
        self.with(name, Given::Length(len), None)
    }

    /// With another estimate that goes into it, and the member that states it, if one does.
    #[must_use]
    pub fn estimate(self, name: &str, estimate: Estimate, stated: Option<Span>) -> Self {
        self.with(name, Given::Estimate(estimate), stated)
    }

    /// With what is told in words.
    #[must_use]
    pub fn words(self, name: &str, words: impl Into<String>) -> Self {
        self.with(name, Given::Words(words.into()), None)
    }

    /// With what is assumed.
    #[must_use]
    pub fn assuming(mut self, assumed: &'static str) -> Self {
        self.assumed.push(assumed);
        self
    }

    /// With its source.
    #[must_use]
    pub fn by(self, source: &'static str) -> Self {
        Self { source, ..self }
    }

    fn with(mut self, name: &str, value: Given, stated: Option<Span>) -> Self {
        self.from.push(Input { name: name.to_owned(), value, stated });
        self
    }
}

/// In so many of a unit, to three places.
fn per(value: Estimate, (word, many, print): (&str, f64, &str)) -> String {
    let factor = unit(word).map_or(1.0, |unit| to_f64(unit.factor)) * many;
    let told = format!("{:.3}", value.value / factor);
    format!("{} {print}", told.trim_end_matches('0').trim_end_matches('.'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wood_is_told_in_the_units_it_is_published_in() {
        // 0.95e6 psi and 36 lb/cu ft in kilograms and millimetres: 45 359 237e-8 kg a pound, 25.4 mm an inch.
        let psi = 0.453_592_37 / (25.4 * 25.4);
        let told = |value, dim, marks| Given::Estimate(Estimate { value, dim }).print(marks);
        let (inch, metric) = (Marks::THIRTY_SECONDS, Marks::TENTHS);
        assert_eq!(told(0.95e6 * psi, Dim::AREA_LOAD, inch), "0.95 million psi");
        assert_eq!(told(0.95e6 * psi, Dim::AREA_LOAD, metric), "6.55 kN/mm2");
        let heavy = 36.0 * 0.453_592_37 / (304.8 * 304.8 * 304.8);
        assert_eq!(told(heavy, Dim::DENSITY, inch), "36 lb/cu ft");
        assert_eq!(told(heavy, Dim::DENSITY, metric), "576.665 kg/m3");
        assert_eq!(told(25.4 * 25.4 * 25.4, Dim::VOLUME, inch), "~1 cu in");
    }
}
