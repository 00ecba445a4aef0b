//! What parts, units, runs and openings of one graph are told apart by.

/// A part of one graph.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId(pub u32);

impl PartId {
    /// The id of the part at a position.
    #[must_use]
    pub fn at(position: usize) -> Self {
        Self(u32::try_from(position).unwrap_or(u32::MAX))
    }
}

/// A unit of one graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct UnitId(pub u32);

impl UnitId {
    /// The id of the unit at a position.
    #[must_use]
    pub fn at(position: usize) -> Self {
        Self(u32::try_from(position).unwrap_or(u32::MAX))
    }
}

/// A run of one graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RunId(pub u32);

impl RunId {
    /// The id of the run at a position.
    #[must_use]
    pub fn at(position: usize) -> Self {
        Self(u32::try_from(position).unwrap_or(u32::MAX))
    }
}

/// An opening of one graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OpeningId(pub u32);

impl OpeningId {
    /// The id of the opening at a position.
    #[must_use]
    pub fn at(position: usize) -> Self {
        Self(u32::try_from(position).unwrap_or(u32::MAX))
    }
}
