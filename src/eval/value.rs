//! What a stated value comes to.

use super::ledger::{Len, Linear, Why};
use crate::quantity::{Exact, Length};
use crate::resolve::NodeId;
use crate::source::Span;
use std::sync::Arc;

/// An exact number and its reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Number {
    pub exact: Exact,
    pub why: Why,
}

impl Number {
    /// The length, if this is one.
    pub fn len(self) -> Option<Len> {
        self.exact.length().map(|value| Len { value, why: self.why })
    }
}

/// What a stated value comes to.
#[derive(Clone, Debug)]
pub(super) enum Value {
    /// A number.
    Number(Number),
    /// A share of what is left over, perhaps rounded.
    Share(Linear, Option<Length>, Span),
    /// Length along the grain, width.
    Size(Number, Number),
    /// A text.
    Text(Arc<str>),
    /// True or false.
    Truth(bool),
    /// One of the words that the property offers.
    Word(&'static str),
    /// One of the words that a parameter lists.
    Chosen(Arc<str>),
    /// Several of them.
    Words(Vec<(&'static str, Span)>),
    /// Names that another member gives.
    Names(Vec<(Arc<str>, Span)>),
    /// Quantities with their places; `None` for a reading that is not taken yet.
    Numbers(Vec<(Option<Number>, Span)>),
    /// A member.
    Member(NodeId),
    /// Several members.
    Members(Vec<NodeId>),
    /// A day and a time of it, as the clock on the wall shows it.
    Date(jiff::civil::DateTime),
    /// A reading that is not taken yet.
    Unread(Span),
    /// Unknown, with a message given.
    Poison,
}

impl Value {
    /// The member that it is.
    pub fn member(&self) -> Option<NodeId> {
        if let Self::Member(id) = self { Some(*id) } else { None }
    }
}
