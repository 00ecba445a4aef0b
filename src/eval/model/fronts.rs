//! Doors and drawers: what closes a carcass or an opening of it, and what that hangs and runs on.

use super::{Amount, EdgeTape, Join, SheetId};
use crate::eval::Len;
use crate::source::Span;
use std::sync::Arc;

/// Where doors or drawers stand.
#[derive(Clone, Debug)]
pub struct FrontAt {
    /// The shelves on which the opening begins and under which it ends, by name, with the places where that is said; `None` for all
    /// of the unit or bay.
    pub between: Option<Vec<(Arc<str>, Span)>>,
    /// How far they lie over the edges of the opening; `None` where they stand within it.
    pub overlay: Option<Len>,
}

/// What doors and the fronts of drawers have in common.
#[derive(Clone, Debug)]
pub struct Front {
    /// Its name, where it has one.
    pub name: Option<Arc<str>>,
    /// What they are cut from.
    pub sheet: SheetId,
    /// How many.
    pub count: usize,
    /// What stays open between two of them, and at the edges.
    pub reveal: Len,
    /// How far they stand off what they lie over.
    pub stand_off: Len,
    /// A strip round all edges.
    pub edge: Option<EdgeTape>,
    /// What each is pulled by.
    pub pull: Option<Pull>,
    /// Where they are declared.
    pub head: Span,
}

/// Doors side by side.
#[derive(Clone, Debug)]
pub struct Doors {
    /// What they are.
    pub front: Front,
    /// The opening that they close; `None` where they lie before the whole front, from the bottom shelf to the ends of the sides.
    pub at: Option<FrontAt>,
    /// What they hang on.
    pub hinge: Option<Hinge>,
    /// Whether a door that is alone hangs on its right edge.
    pub on_right: bool,
}

/// Drawers one over the other.
#[derive(Clone, Debug)]
pub struct Drawers {
    /// Their fronts.
    pub front: Front,
    /// The opening that they close.
    pub at: FrontAt,
    /// What the four sides of a box are cut from.
    pub sides: BoxOf,
    /// What a bottom is cut from.
    pub bottom: SheetId,
    /// How deep the bottom stands in its grooves.
    pub groove: Len,
    /// From the lower edge of the box to the grooves.
    pub set_in: Len,
    /// How far a bottom stays from the end of each groove.
    pub bottom_play: Len,
    /// What stays open under and over a box.
    pub room: [Len; 2],
    /// How high a box is, where that is stated.
    pub height: Option<Len>,
    /// What they run on.
    pub slide: Slide,
    /// How the corners of a box are held.
    pub corner: Join,
    /// How the front is held to its box.
    pub front_join: Join,
}

/// What the four sides of a drawer's box are cut from.
#[derive(Clone, Copy, Debug)]
pub enum BoxOf {
    /// A sheet.
    Sheet(SheetId),
    /// A board, by its position in [`Model::boards`](super::Model::boards), with its thickness.
    Board(usize, Len),
}

/// A hinge of doors.
#[derive(Clone, Debug)]
pub struct Hinge {
    /// What is counted, by its position among the fasteners.
    pub fastener: usize,
    /// The width of the hole for its cup.
    pub cup: Option<Len>,
    /// How deep that is.
    pub depth: Len,
    /// From the edge of the door to the middle of the hole.
    pub set_back: Len,
    /// From each end of the door to its first hinge.
    pub ends: Len,
    /// What one carries of a door, if that is stated.
    pub carries: Option<Amount>,
}

/// A pair of slides.
#[derive(Clone, Debug)]
pub struct Slide {
    /// Its name.
    pub name: Arc<str>,
    /// The lengths in which it is sold, each with what is counted: its position among the fasteners.
    pub lengths: Vec<(Len, usize)>,
    /// What it takes at each side of the box.
    pub play: Len,
}

/// A knob or handle.
#[derive(Clone, Copy, Debug)]
pub struct Pull {
    /// What is counted, by its position among the fasteners.
    pub fastener: usize,
    /// How far it stands out.
    pub out: Len,
}
