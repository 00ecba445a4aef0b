//! What a carcass stands on.

use super::SheetId;
use crate::eval::Len;
use crate::source::Span;

/// What a carcass stands on.
#[derive(Clone, Copy, Debug)]
pub enum Foot {
    /// Its sides.
    Sides,
    /// Its sides, which are notched at the lower front corner.
    Notched(Toe),
    /// A separate base.
    Base(Base),
}

/// A notch at the lower front corner of both sides, where toes have room.
#[derive(Clone, Copy, Debug)]
pub struct Toe {
    /// From the bottom end.
    pub height: Len,
    /// From the front edge.
    pub depth: Len,
    /// Where it is declared.
    pub head: Span,
}

/// A frame of rails and ribs that a carcass stands on.
#[derive(Clone, Copy, Debug)]
pub struct Base {
    /// What it is cut from.
    pub sheet: SheetId,
    /// How high it is.
    pub height: Len,
    /// How far its front stands behind the front edges of the carcass; `None` where it is flush.
    pub set_back: Option<Len>,
    /// The most from one rib to the next.
    pub ribs: Len,
    /// Where it is declared.
    pub head: Span,
}
