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
    /// Where it is declared.
    pub head: Span,
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
