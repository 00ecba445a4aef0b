//! How far parts are made: what is bought, cut, grooved and so on, by hand or by `mark`.

use crate::quantity::Length;
use crate::source::Span;
use serde::Serialize;
use std::fmt;
use std::sync::Arc;

/// How far a part is made; each state contains those before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum State {
    /// Its stock is there.
    Bought,
    /// It is cut to size.
    Cut,
    /// Its grooves are made.
    Grooved,
    /// It is glued into its unit.
    Glued,
    /// It stands in the room.
    Fixed,
    /// It is painted.
    Painted,
}

impl State {
    /// All states, in the order of the work.
    pub const ALL: [Self; 6] =
        [Self::Bought, Self::Cut, Self::Grooved, Self::Glued, Self::Fixed, Self::Painted];

    /// The word that the text and lists use.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Bought => "bought",
            Self::Cut => "cut",
            Self::Grooved => "grooved",
            Self::Glued => "glued",
            Self::Fixed => "fixed",
            Self::Painted => "painted",
        }
    }

    /// The state of this word.
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|state| state.word() == word)
    }
}

impl fmt::Display for State {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// What is known about a part that is begun.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Made {
    /// How far it is.
    pub state: State,
    /// The lot of stock that it was cut from.
    pub lot: Option<Arc<str>>,
    /// Width and length to which it was cut, where that is stated, and where it is.
    pub size: Option<([Length; 2], Span)>,
    /// The marks that were grooved, where they are stated, and where they are.
    pub marks: Option<(Vec<Length>, Span)>,
    /// Where the state is stated.
    pub span: Span,
}
