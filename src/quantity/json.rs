//! How lengths and estimates stand in JSON outputs.

use super::{Length, Marks, System};
use schemars::JsonSchema;
use serde::Serialize;

/// An exact length: `{ "exact": "501/16 in", "print": "31 5/16\"", "mm": 795.3375 }`.
///
/// `exact` is a fraction of the project's unit, `print` what the sheets say (`~` before it where rounding lost
/// something), `mm` the nearest floating-point number of millimetres.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct JsonLength {
    /// The exact value as a fraction and its unit.
    pub exact: String,
    /// The value as printed.
    pub print: String,
    /// The value in millimetres.
    pub mm: f64,
}

impl JsonLength {
    /// The JSON form of `length` in a project with these `marks`.
    #[must_use]
    pub fn new(length: Length, marks: Marks) -> Self {
        let exact = match (marks.system(), length.inches()) {
            (System::Inch, Some(inches)) => format!("{inches} in"),
            _ => format!("{} mm", length.mm()),
        };
        Self { exact, print: marks.print(length).to_string(), mm: length.to_mm_f64() }
    }

    /// The same of a size that is set by a caliper, a bit or a grid, printed by [`Marks::print_both`].
    #[must_use]
    pub fn fine(length: Length, marks: Marks) -> Self {
        Self { print: marks.print_both(length), ..Self::new(length, marks) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Rational;

    #[test]
    fn a_length_says_itself_three_times() {
        let length = Length::from_inches(Rational::new(501, 16)).unwrap();
        let json = serde_json::to_value(JsonLength::new(length, Marks::THIRTY_SECONDS)).unwrap();
        let expected = serde_json::json!({ "exact": "501/16 in", "print": "31 5/16\"", "mm": 795.3375 });
        assert_eq!(json, expected);
        let metric = JsonLength::new(Length::from_mm(Rational::new(4634, 5)), Marks::TENTHS);
        assert_eq!(metric.exact, "4634/5 mm");
        assert_eq!(metric.print, "926.8 mm");
    }
}
