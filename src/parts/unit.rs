//! Carcasses as they stand.

use super::{Hand, RunId, Slant};
use crate::eval::{Len, Notes, SheetId};
use crate::source::Span;
use std::sync::Arc;

/// A carcass.
#[derive(Clone, Debug)]
pub struct Unit {
    /// Its path of names.
    pub path: String,
    /// The run that it stands in; `None` where it stands alone.
    pub run: Option<RunId>,
    /// Its own name: the last one of its path.
    pub name: Arc<str>,
    /// What it is called in lists: the last step of its path, or its text.
    pub title: String,
    /// Where it is declared.
    pub head: Option<Span>,
    /// What its author says of it and of its shelves.
    pub notes: Notes,
    /// What it is cut from.
    pub sheet: SheetId,
    /// Over the outer faces of the sides.
    pub width: Len,
    /// Between the sides.
    pub clear: Len,
    /// From the bottom end of its sides to their top end.
    pub height: Len,
    /// How high over the level line its sides begin: on a separate base, or where it hangs; `None` where they stand on the floor.
    pub stands: Option<Len>,
    /// Whether it hangs on the wall.
    pub hung: bool,
    /// The toe space before it: its height over the level line, and its depth from the front edges.
    pub toe: Option<[Len; 2]>,
    /// From the rear to the front edge.
    pub depth: Len,
    /// The slope that it stays under, where that takes a corner of its sides.
    pub slant: Option<Slant>,
    /// The thickness of the strip on its front edges, where that counts.
    pub edged: Option<Len>,
    /// How far a stile over a seam reaches over its opening; nothing where no facing stands before it.
    pub lap: Len,
    /// How far the stiles at its left and at its right side reach over its opening.
    pub laps: [Len; 2],
    /// From the left corner of the wall to its left face; `None` where it stands alone.
    pub x: Option<Len>,
    /// The first and the last place along the wall where a screw can be driven.
    pub screw_window: Option<[Len; 2]>,
    /// The studs within it.
    pub studs: Vec<Len>,
}

impl Unit {
    /// How far the stile at its side at this hand reaches over its opening.
    #[must_use]
    pub fn lap_at(&self, hand: Hand) -> Len {
        let [left, right] = self.laps;
        match hand {
            Hand::Left => left,
            Hand::Right => right,
        }
    }
}
