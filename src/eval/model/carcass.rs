//! A carcass: two sides that run through, and what is held between them.

use super::{
    Back, Contents, Counter, Doors, Drawers, EdgeTape, Follow, Foot, Hole, Joins, Level, Load, Over, SheetId,
};
use crate::eval::{Len, Linear};
use crate::quantity::Length;
use crate::source::Span;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A mark of a story stick: the underside of a shelf.
#[derive(Clone, Debug)]
pub struct Mark {
    /// Its name, which is the name of the shelf that stands there.
    pub name: Arc<str>,
    /// Its height from the bottom end of the side.
    pub height: Len,
}

/// What stands in `///` over a carcass and its shelves.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Notes {
    /// Over itself.
    pub own: Option<Arc<str>>,
    /// Over its shelves, or over the marks that they stand on, by the names of these.
    pub shelves: BTreeMap<Arc<str>, Arc<str>>,
}

/// Which of a carcass's widths is held.
#[derive(Clone, Copy, Debug)]
pub enum Width {
    /// Over the outer faces of the sides.
    Over(Len),
    /// Between the inner faces of the sides.
    Clear(Len),
    /// A share of what the run has left over.
    Share(Share),
    /// As wide as what it hangs over.
    AsUnder,
}

/// That a unit hangs on the wall, over spaces and units of its run.
#[derive(Clone, Debug)]
pub struct Hung {
    /// From the level line to the bottom end of its sides.
    pub foot: Len,
    /// What it hangs over, by name, each with where that is said.
    pub over: Vec<(Arc<str>, Span)>,
    /// Left open at each side at which something stands beside it.
    pub play: Len,
}

/// A share of what is left over, perhaps rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Share {
    /// `times * rest + plus`.
    pub linear: Linear,
    /// The step to which the share is rounded.
    pub round: Option<Length>,
    /// Where it is stated.
    pub span: Option<Span>,
}

/// A carcass: two sides that run through, and what is held between them.
#[derive(Clone, Debug)]
pub struct Carcass {
    /// Its name; `None` for a unit that is only counted.
    pub name: Option<Arc<str>>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// Where it is declared.
    pub head: Option<Span>,
    /// What its author says of it.
    pub notes: Notes,
    /// What it is cut from.
    pub sheet: SheetId,
    /// Its width.
    pub width: Width,
    /// From the bottom end of the sides, or of the base under them, to their top end; nothing where it follows the ceiling.
    pub height: Len,
    /// How it follows the ceiling.
    pub follow: Option<Follow>,
    /// What it stands on.
    pub foot: Foot,
    /// Where it hangs, if it does not stand.
    pub hung: Option<Hung>,
    /// Of sides and shelves.
    pub depth: Len,
    /// Its shelves: the marks that it uses, from the bottom.
    pub marks: Vec<Mark>,
    /// Its shelves where no stick gives marks: each by the clear height over it, from the bottom.
    pub levels: Vec<Level>,
    /// What is stated of single shelves that stand on marks.
    pub over: BTreeMap<Arc<str>, Over>,
    /// How far a cleat hangs under each shelf but the bottom one.
    pub cleat: Option<Len>,
    /// Under the bottom shelf.
    pub bottom_stretcher: Option<Stretcher>,
    /// On the top shelf.
    pub top_stretcher: Option<Stretcher>,
    /// Whether a top lies in rabbets at the ends of the sides.
    pub top: bool,
    /// A panel behind the shelves.
    pub back: Option<Back>,
    /// A panel on the ends of the sides.
    pub counter: Option<Counter>,
    /// Doors before its front or its openings.
    pub doors: Vec<Doors>,
    /// Drawers in its openings.
    pub drawers: Vec<Drawers>,
    /// A strip on its front edges.
    pub edge: Option<EdgeTape>,
    /// Holes for cables and pipes.
    pub holes: Vec<Hole>,
    /// How shelves are held in the sides.
    pub dado: Dado,
    /// How deep the rabbet in a side is that takes an end of the top.
    pub rabbet: Len,
    /// How the shelves of a bay are held in a divider.
    pub in_divider: Dado,
    /// How a divider is held in the shelves under and over it.
    pub in_shelf: Dado,
    /// How its parts are held to each other and to the wall.
    pub joins: Joins,
    /// What will stand on its shelves.
    pub contents: Vec<Contents>,
    /// What a shelf carries, if that is stated.
    pub load: Option<Load>,
    /// In how many stages its housed joints are glued, one at least.
    pub stages: usize,
}

/// A strip between the sides.
#[derive(Clone, Copy, Debug)]
pub struct Stretcher {
    /// Its height; `None` at the bottom: up to the bottom shelf.
    pub height: Option<Len>,
    /// One stands at the front.
    pub front: bool,
    /// One stands at the rear.
    pub rear: bool,
}

/// A dado: a groove across the grain that takes the end of a shelf.
#[derive(Clone, Copy, Debug)]
pub struct Dado {
    /// Its depth.
    pub depth: Len,
    /// How much wider than the shelf it is.
    pub fit: Len,
}

impl Carcass {
    /// A carcass without shelves: `size` is its height and its depth.
    #[must_use]
    pub fn new(sheet: SheetId, width: Width, size: [Len; 2], dado: Dado) -> Self {
        let [height, depth] = size;
        Self {
            name: None,
            text: None,
            head: None,
            notes: Notes::default(),
            sheet,
            width,
            height,
            follow: None,
            foot: Foot::Sides,
            hung: None,
            depth,
            marks: Vec::new(),
            levels: Vec::new(),
            over: BTreeMap::new(),
            cleat: None,
            bottom_stretcher: None,
            top_stretcher: None,
            top: false,
            back: None,
            counter: None,
            doors: Vec::new(),
            drawers: Vec::new(),
            edge: None,
            holes: Vec::new(),
            dado,
            rabbet: dado.depth,
            in_divider: dado,
            in_shelf: dado,
            joins: Joins::default(),
            contents: Vec::new(),
            load: None,
            stages: 1,
        }
    }
}
