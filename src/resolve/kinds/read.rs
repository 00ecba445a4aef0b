//! How a property is read: marks by which `eval` knows what to make of a stated value.

use super::UsualLength;
use std::marker::PhantomData;

/// How a property is read.
pub(crate) trait Marker: Copy {
    /// What the declaration gives for a value that is not stated.
    type Usual: Copy;
}

/// A type whose values are the words that a property offers.
pub(crate) trait Words: Copy {
    /// The value of a word; `None` for one that is not offered.
    fn of(word: &str) -> Option<Self>;
}

macro_rules! markers {
    ($($(#[doc = $doc:literal])+ $name:ident: $usual:ty;)+) => {
        $(
            $(#[doc = $doc])+
            #[derive(Clone, Copy, Debug)]
            pub(crate) struct $name;

            impl Marker for $name {
                type Usual = $usual;
            }
        )+
    };
}

markers! {
    /// A length of more than zero.
    Positive: UsualLength;
    /// A length of zero or more.
    NotNegative: UsualLength;
    /// A quantity or count of more than zero, with its reason.
    Amount: ();
    /// Any number of the dimension.
    Number: ((i128, i128), &'static str);
    /// Any whole number.
    Whole: i128;
    /// A count of zero or more.
    Count: usize;
    /// A length of more than zero, or a share of what is left over.
    Share: ();
    /// A list of quantities with their places.
    Numbers: ();
    /// A sum of zero or more.
    Price: ();
    /// Two lengths of more than zero.
    Size: ();
    /// A text.
    Text: ();
    /// A day with a time.
    Date: ();
    /// A member.
    Member: ();
    /// Several members.
    Members: ();
    /// Names that another member gives, with their places.
    Names: ();
    /// A load.
    Load: ();
}

/// One of the words of a type.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Choice<W>(PhantomData<W>);

impl<W: Words> Marker for Choice<W> {
    type Usual = W;
}

/// Several words of a type.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Choices<W>(PhantomData<W>);

impl<W: Words> Marker for Choices<W> {
    type Usual = ();
}
