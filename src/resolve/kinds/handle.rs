//! The handles by which readers ask for the properties of a kind.

use std::marker::PhantomData;

/// A property by which a reader asks for its value: `T` says how it is read, `W` what holds where it is not stated.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Property<T, W> {
    /// Its name.
    pub name: &'static str,
    /// What holds where it is not stated.
    pub without: W,
    read: PhantomData<T>,
}

impl<T, W> Property<T, W> {
    pub(super) const fn new(name: &'static str, without: W) -> Self {
        Self { name, without, read: PhantomData }
    }
}

impl<T> Property<T, Needed> {
    /// The same property with other examples: it is stated otherwise where it stands.
    pub const fn for_instance(self, examples: [&'static str; 2]) -> Self {
        Self { without: Needed { examples }, ..self }
    }
}

/// Nothing holds where it is not stated, or what its reader works out.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Optional;

/// It must be stated.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Needed {
    /// What the message shows, in inches and in metric measures.
    pub examples: [&'static str; 2],
}

/// This holds where it is not stated.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Usual<V>(pub V);
