//! A neutral document: what a sheet says, before anyone draws it; and neutral drawings.

mod cautions;
mod chain;
mod drawing;
mod font;
mod page;
mod rule;
mod scale;
mod typeset;

pub use cautions::{AT_WORK, CAUTIONS, Cautioned, DRAWN, ESTIMATED, FINISHING, HAZARDS};
pub use chain::{Chain, Figures, Way};
pub use drawing::{Anchor, Drawing, Fill, Line, Point, Rect, Shape, Stroke, Text};
pub use font::{CAPITALS, Glyph, Weight, abridged, shortened, width, wrapped};
pub use page::{Block, Field, Form, Page, Piece, Step, Steps, Takes};
pub use rule::{FOUR_INCHES, MARGINS};
pub use scale::{Scale, View};
pub use typeset::{Stands, pieces, typeset};

use crate::quantity::JsonLength;

/// A document.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Document {
    /// What it is: "Cut list".
    pub title: String,
    /// Facts that stand under the title: project, revision, how sizes read.
    pub facts: Vec<String>,
    /// Its tables.
    pub tables: Vec<Table>,
    /// Remarks under the tables.
    pub notes: Vec<String>,
    /// The cautions that stand under all of it: [`CAUTIONS`] on everything that somebody works by.
    pub cautions: Vec<&'static str>,
}

/// A table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// What its rows have in common.
    pub caption: String,
    /// The columns; tables of one document that have the same columns are one table in a CSV file.
    pub columns: Vec<Column>,
    /// The rows, each as long as there are columns.
    pub rows: Vec<Vec<Cell>>,
    /// A line under the rows: totals.
    pub foot: Option<String>,
}

/// A column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its head.
    pub title: &'static str,
    /// Whether it holds figures, which line up at the right.
    pub figures: bool,
    /// Whether its lines stay whole, because their indents say something.
    pub whole: bool,
}

/// What stands in a cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cell {
    /// A figure that the compiler printed.
    Figure(String),
    /// The same, with the path by which `why` says where it comes from.
    Reasoned(String, String),
    /// Words; they may come from the user.
    Words(String),
    /// Several lines of words.
    Lines(Vec<String>),
}

impl Cell {
    /// A figure, with the path by which `why` says where it comes from.
    #[must_use]
    pub fn reasoned(print: &JsonLength, path: impl Into<String>) -> Self {
        Self::Reasoned(print.print.clone(), path.into())
    }

    /// The text, lines joined by `separator`.
    #[must_use]
    pub fn text(&self, separator: &str) -> String {
        match self {
            Self::Figure(text) | Self::Reasoned(text, _) | Self::Words(text) => text.clone(),
            Self::Lines(lines) => lines.join(separator),
        }
    }
}

/// A column of words.
#[must_use]
pub const fn words(title: &'static str) -> Column {
    Column { title, figures: false, whole: false }
}

/// A column of figures.
#[must_use]
pub const fn figures(title: &'static str) -> Column {
    Column { title, figures: true, whole: false }
}

/// A column of words whose lines stay whole, with the spaces before them.
#[must_use]
pub const fn indented(title: &'static str) -> Column {
    Column { title, figures: false, whole: true }
}
