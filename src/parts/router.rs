//! How the router is guided.

use crate::eval::Len;

/// How the router is guided: two passes, the one with spacer 2 first.
#[derive(Clone, Copy, Debug)]
pub struct RouterPart {
    /// From the line to the guide, for the pass next to the line.
    pub spacer_1: Len,
    /// From the line to the guide, for the pass that takes the rest.
    pub spacer_2: Len,
    /// How far the two passes overlap; negative where they do not meet.
    pub overlap: Len,
    /// What lies at lines too near the bottom end, where they are guided from above.
    pub above: Option<FromAbove>,
    /// The lowest line that is guided from below; `None` where the only ones lie at the ends of boards: a rabbet is guided from the other side.
    pub lowest: Option<LowestLine>,
}

/// How lines are guided from above that are too near the bottom end for a guide below them.
#[derive(Clone, Copy, Debug)]
pub struct FromAbove {
    /// From the line to the guide, for the pass next to the line.
    pub board_1: Len,
    /// From the line to the guide, for the pass that takes the rest.
    pub board_2: Len,
    /// The mark of the highest of them.
    pub mark: Len,
    /// The least that is left of a board above the guide; negative where it hangs over.
    pub left: Len,
}

/// The lowest line along which a router is guided.
#[derive(Clone, Copy, Debug)]
pub struct LowestLine {
    /// Its mark.
    pub mark: Len,
    /// What is left of the board for the guide below it; negative where it hangs over.
    pub board: Len,
}
