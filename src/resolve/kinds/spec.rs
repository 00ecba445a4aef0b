//! What the table of kinds says of a kind and of its properties.

use super::{Source, UsualLength, Usually, place};
use crate::quantity::Dim;

/// What a property takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A quantity of a dimension.
    Quantity(Dim),
    /// A whole number.
    Count,
    /// A length, or a share of what is left over: `rest`, `rest to 1/8"`, `2 * rest`, `rest + 1"`.
    Share,
    /// A list of lengths; `?` stands for one that is not known yet.
    Lengths,
    /// A list of quantities of a dimension.
    Quantities(Dim),
    /// A price by one of these measures.
    Price(&'static [Dim]),
    /// Two lengths: along the grain x across it.
    Size,
    /// A text in quotes.
    Text,
    /// A day, with or without a time.
    Date,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// A list of these words.
    Choices(&'static [&'static str]),
    /// The name of a member of this kind.
    Member(&'static str),
    /// A class of load, or a weight per length.
    Load,
    /// A list of names of members of this kind.
    Members(&'static str),
    /// A list of names that another member gives: `[atlas, cloth]`.
    Names,
    /// True or false.
    Truth,
    /// One of the words that a parameter of a module lists.
    Word,
    /// Anything: the type could not be read.
    Any,
}

/// Whether members of a kind have a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Naming {
    /// A name of the user's is needed.
    Needed,
    /// A name of the user's may stand; without one, members are counted.
    Optional,
    /// There is one of it in a block without a name; others have one.
    Perhaps,
    /// There is one of it in a block, without a name.
    Alone,
    /// The name is one of these words.
    OneOf(&'static [&'static str]),
}

/// What holds where a property is not stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Without {
    /// Nothing: what depends on it is not worked out.
    Nothing,
    /// What these words say.
    Follows(&'static str),
    /// A message: it must be stated.
    Needed {
        /// What the message shows, in inches and in metric measures.
        examples: [&'static str; 2],
        /// Where it must be; empty for everywhere.
        when: &'static str,
    },
    /// This length.
    Length(UsualLength),
    /// This word.
    Word(&'static str),
    /// This number of a unit.
    Number((i128, i128), &'static str, Source),
    /// This count.
    Count(usize),
}

/// A property of a kind.
#[derive(Clone, Copy, Debug)]
pub struct PropertySpec {
    /// Its name.
    pub name: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// What it means.
    pub doc: &'static str,
    /// What holds where it is not stated.
    pub without: Without,
    /// Its usual range, where one is known: one for each dimension that it may have.
    pub usually: &'static [Usually],
}

/// A kind.
#[derive(Clone, Copy, Debug)]
pub struct KindSpec {
    /// The word that declares a member of it.
    pub word: &'static str,
    /// What it is.
    pub doc: &'static str,
    /// Whether its members have names.
    pub naming: Naming,
    /// Whether a text may stand behind the name.
    pub text: bool,
    /// The kinds in whose block it may stand; [`FILE`](super::FILE) for the top of a file.
    pub within: &'static [&'static str],
    /// What may be stated in it.
    pub properties: &'static [PropertySpec],
    /// For a kind whose properties the user names: what each of them takes.
    pub open: Option<Takes>,
}

impl KindSpec {
    /// What the property of this name takes.
    #[must_use]
    pub fn property(&self, name: &str) -> Option<Takes> {
        self.properties.iter().find(|p| p.name == name).map(|p| p.takes).or(self.open)
    }

    /// Where its members may stand, for a sentence.
    #[must_use]
    pub fn places(&self) -> String {
        self.within.iter().map(|within| place(within)).collect::<Vec<_>>().join(" or ")
    }
}
