//! The breakdown of the stock: from the part graph to jobs of sheets, boards and sticks, and their plans.
//!
//! One job for each sheet good and lot, so that lots are never mixed; a part is cut from the lot of its unit. A sheet offers
//! its least size less one skim, in both directions; a rip runs the whole length and is not ripped again.

mod board;
mod plans;
mod price;
mod scale;
mod sheet;
mod substitute;
mod vehicle;

pub use crate::cutting::Effort;
pub use board::{BoardPlan, BoardWork, board_works, end_trim, stick_works};
pub use plans::Plans;
use price::cents;
pub use scale::Scale;
pub use sheet::{SheetWork, Source, SpareRoom, StockRow, sheet_works};
pub use substitute::{Substitute, substitutes};
pub use vehicle::{Ride, ride};

use crate::eval::{Len, Model};
use crate::quantity::{Length, Rational, System};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// Equal parts of one stock, in the order of two sizes, the largest first, then by what they are.
type Equal = BTreeMap<(Reverse<Length>, Reverse<Length>, &'static str), Row>;

/// Equal parts of one stock.
#[derive(Clone, Debug)]
pub struct Row {
    /// What they are: the word of their role.
    pub what: &'static str,
    /// Along the grain, as cut in the shop.
    pub length: Length,
    /// Across the grain, as cut in the shop.
    pub width: Length,
    /// Their paths; spares have none.
    pub names: Vec<String>,
    /// How many are cut beyond those.
    pub spares: usize,
}

impl Row {
    /// How many are cut.
    #[must_use]
    pub fn count(&self) -> usize {
        self.names.len().saturating_add(self.spares)
    }

    /// The one unit that all of them belong to, where it is one: parts of a unit are kept together.
    fn group(&self) -> Option<String> {
        let unit = |name: &str| name.rsplitn(3, '.').nth(2).map(str::to_owned);
        let first = unit(self.names.first()?)?;
        self.names.iter().all(|name| unit(name).as_ref() == Some(&first)).then_some(first)
    }
}

/// What the blade takes, where the shop states no saw: 1/8 in or 3 mm (common practice, no source).
#[must_use]
pub fn kerf(model: &Model) -> Length {
    match (model.shop.kerf, model.project.marks.system()) {
        (Some(Len { value, .. }), _) => value,
        (None, System::Inch) => Length::from_inches(Rational::new(1, 8)).unwrap_or_default(),
        (None, System::Metric) => Length::from_mm(Rational::from(3)),
    }
}
