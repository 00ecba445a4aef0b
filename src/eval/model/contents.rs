//! What shelves carry.

use crate::eval::Len;
use crate::quantity::Estimate;
use crate::source::Span;
use std::sync::Arc;

/// What will stand on a shelf.
#[derive(Clone, Debug)]
pub struct Contents {
    /// Its name.
    pub name: Arc<str>,
    /// The shelves it may stand on; empty for any.
    pub on: Vec<Arc<str>>,
    /// Of the tallest.
    pub height: Option<Len>,
    /// Of the deepest.
    pub depth: Option<Len>,
    /// All of it side by side.
    pub length: Option<Len>,
    /// Of one, where it is so wide that this counts.
    pub width: Option<Len>,
    /// Who takes it down.
    pub reach: Reach,
    /// What a full shelf of it weighs.
    pub load: Option<Estimate>,
    /// Where it is declared.
    pub head: Span,
}

/// Who takes things down from a shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reach {
    /// A child of 3 or 4 years.
    Child3,
    /// A child of 5 to 8 years.
    Child5,
    /// A child of 9 to 12 years.
    Child9,
    /// An adult.
    Adult,
}

/// What a shelf carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Load {
    /// Books: 50 lb on a square foot (Architectural Woodwork Standards 2009, 1.2.21.2, for adjustable shelves; taken for housed
    /// ones too).
    Books,
    /// Other things: 40 lb on a square foot (the same).
    Other,
    /// A weight per length.
    Line(Estimate),
}
