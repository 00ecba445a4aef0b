//! Units side by side, with what stands before and over them.

use super::{Carcass, Join, Moulding, Return, RunCounter, Share, SheetId};
use crate::eval::Len;
use crate::quantity::Length;
use crate::source::Span;
use std::sync::Arc;

/// A panel on the ceiling over a run.
#[derive(Clone, Copy, Debug)]
pub struct CeilingPanel {
    /// What it is cut from.
    pub sheet: SheetId,
    /// From the wall.
    pub depth: Len,
    /// Its adhesive, and what holds it until that is hard.
    pub join: Join,
}

/// Units side by side.
#[derive(Clone, Debug)]
pub struct Run {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// Where it is declared.
    pub head: Option<Span>,
    /// What stands in `///` over it.
    pub note: Option<Arc<str>>,
    /// The least length there is for units and gaps.
    pub length: Option<Len>,
    /// The wall that it stands against, by its position in [`Model::walls`](super::Model::walls).
    pub wall: Option<usize>,
    /// It stands along something that is no wall with readings, of which a message tells.
    pub lost: bool,
    /// Its left and its right end.
    pub ends: [End; 2],
    /// Its units from left to right.
    pub units: Vec<Carcass>,
    /// The units that hang on its wall, over others and over spaces.
    pub hung: Vec<Carcass>,
    /// The room that it leaves between them, from left to right.
    pub spaces: Vec<Space>,
    /// What stands before the front edges.
    pub facing: Option<Facing>,
    /// A counter over several units and spaces.
    pub counter: Option<RunCounter>,
    /// A moulding on the top rails.
    pub crown: Option<Moulding>,
    /// A panel on the ceiling over it.
    pub ceiling_panel: Option<CeilingPanel>,
    /// How its facing is held to the carcasses.
    pub facing_join: Join,
    /// How its units are held to each other.
    pub seam_join: Join,
    /// How rails and strips are joined into the stiles; `None` where each is put on by itself.
    pub frame: Option<Frame>,
    /// The lowest ceiling where its units are stood up, where that is stated.
    pub stood_up_under: Option<Len>,
}

/// A facing whose rails and strips are joined into its stiles on the bench.
#[derive(Clone, Copy, Debug)]
pub struct Frame {
    /// Whether ends are tenons; else they are butted.
    pub tenoned: bool,
    /// How long a tenon is.
    pub depth: Len,
    /// What holds each end.
    pub join: Join,
    /// Where the join is stated.
    pub head: Span,
}

/// An end of a run.
#[derive(Clone, Copy, Debug)]
pub struct End {
    /// What it is said to meet: a wall, or nothing; what stands at the end of its wall where that is not said.
    pub against: Option<Return>,
    /// The gap stated for it.
    pub gap: Option<Len>,
    /// The stile stated for it.
    pub stile: Option<Len>,
    /// A strip that closes its gap.
    pub filler: Option<Filler>,
    /// The run that goes through to the corner and before whose front it ends, by its position in the model.
    pub before: Option<usize>,
    /// Where it is declared.
    pub head: Option<Span>,
}

/// Room that a run leaves between units.
#[derive(Clone, Debug)]
pub struct Space {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// Where it is declared.
    pub head: Span,
    /// How many units stand left of it.
    pub after: usize,
    /// How wide it is.
    pub width: SpaceWidth,
    /// The stile at each of its edges.
    pub stile: Option<Len>,
    /// What stands in it.
    pub things: Vec<Thing>,
}

/// How wide a space is.
#[derive(Clone, Copy, Debug)]
pub enum SpaceWidth {
    /// So wide.
    Fixed(Len),
    /// A share of what the run has left over.
    Share(Share),
    /// As an opening of the wall, which is known by where it is declared; then where that is said.
    Over(Span, Span),
}

/// What stands in a space.
#[derive(Clone, Debug)]
pub struct Thing {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// Where it is declared.
    pub head: Span,
    /// Its width, depth and height.
    pub size: [Len; 3],
    /// Left free at each side of it and over it.
    pub play: Len,
    /// Left free between it and the wall.
    pub behind: Option<Len>,
}

/// Strips, rails and stiles before the front edges of a run.
#[derive(Clone, Debug)]
pub struct Facing {
    /// The board, by its position in [`Model::boards`](super::Model::boards).
    pub board: usize,
    /// Of all its parts.
    pub thickness: Len,
    /// The stile over a seam.
    pub stile: Option<Len>,
    /// How far a stile reaches over the opening, if it is stated.
    pub lap: Option<Len>,
    /// The stile before a divider, if it is stated.
    pub divider: Option<Len>,
    /// Height of a strip.
    pub strip: Option<Len>,
    /// Height of the top rail.
    pub top_rail: Option<Len>,
    /// Whether a rail goes from the floor to the top of the bottom shelf.
    pub bottom_rail: bool,
    /// What its blanks have over their finished sizes.
    pub scribe: Scribe,
    /// Where it is declared.
    pub head: Option<Span>,
}

/// A strip in the gap at an end of a run without facing.
#[derive(Clone, Copy, Debug)]
pub struct Filler {
    /// The board, by its position in [`Model::boards`](super::Model::boards).
    pub board: usize,
    /// What its blank has over its finished size.
    pub scribe: Scribe,
}

/// What a blank has over its finished size where it is fitted on site.
#[derive(Clone, Copy, Debug)]
pub struct Scribe {
    /// Over the widest place.
    pub spare: Len,
    /// The step to which it is rounded up.
    pub step: Length,
}

impl Run {
    /// Its units from left to right, then those that hang.
    pub fn carcasses(&self) -> impl Iterator<Item = &Carcass> {
        self.units.iter().chain(&self.hung)
    }

    /// A run of units between two ends, of which nothing else is known.
    #[must_use]
    pub fn new(name: &str, length: Option<Len>, ends: [End; 2], units: Vec<Carcass>) -> Self {
        Self {
            name: name.into(),
            text: None,
            head: None,
            note: None,
            length,
            wall: None,
            lost: false,
            ends,
            units,
            hung: Vec::new(),
            spaces: Vec::new(),
            facing: None,
            counter: None,
            crown: None,
            ceiling_panel: None,
            facing_join: Join::default(),
            seam_join: Join::default(),
            frame: None,
            stood_up_under: None,
        }
    }
}
