//! The model: what is decided, every value known and with its reason, ready to be turned into parts.

use super::{Len, Linear};
use crate::quantity::{Estimate, Length, Marks};
use crate::source::Span;
use std::sync::Arc;

/// Everything that the files state.
#[derive(Clone, Debug)]
pub struct Model {
    /// What the file is about.
    pub project: Project,
    /// Sheet goods, by name.
    pub sheets: Vec<Sheet>,
    /// Runs, by name.
    pub runs: Vec<Run>,
    /// Carcasses that stand alone, by name.
    pub carcasses: Vec<Carcass>,
}

/// What the whole file is about.
#[derive(Clone, Debug)]
pub struct Project {
    /// Its title.
    pub title: Option<Arc<str>>,
    /// Its revision.
    pub revision: Option<Arc<str>>,
    /// The marks that sizes are printed to.
    pub marks: Marks,
    /// Where it is declared, or the beginning of the file; `None` where a caller of the library made it.
    pub head: Option<Span>,
}

/// A sheet of [`Model::sheets`], by its position.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SheetId(pub usize);

/// A sheet good.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// Where it is declared; `None` where a caller of the library made it.
    pub head: Option<Span>,
    /// Length along the grain and width, as sold.
    pub size: Option<(Len, Len)>,
    /// The thickness that all joints follow.
    pub thickness: Len,
    /// Whether that thickness was measured, or is the nominal one.
    pub measured: bool,
    /// Whether it has a grain, along its length.
    pub grain: bool,
    /// What the first cut takes off the reference edge.
    pub skim: Option<Len>,
    /// Weight of a volume.
    pub density: Option<Estimate>,
}

/// A mark of a story stick: the underside of a shelf.
#[derive(Clone, Debug)]
pub struct Mark {
    /// Its name, which is the name of the shelf that stands there.
    pub name: Arc<str>,
    /// Its height from the bottom end of the side.
    pub height: Len,
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
    /// The least length there is for units and gaps.
    pub length: Option<Len>,
    /// Its left end.
    pub left: End,
    /// Its right end.
    pub right: End,
    /// Its units from left to right.
    pub units: Vec<Carcass>,
}

/// An end of a run.
#[derive(Clone, Copy, Debug)]
pub struct End {
    /// Whether a wall stands there, which takes what rounding leaves over.
    pub wall: bool,
    /// The gap wanted there.
    pub gap: Len,
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
    /// What it is cut from.
    pub sheet: SheetId,
    /// Its width.
    pub width: Width,
    /// From the bottom end of the sides to their top end.
    pub height: Len,
    /// Of sides and shelves.
    pub depth: Len,
    /// Its shelves: the marks that it uses, from the bottom.
    pub marks: Vec<Mark>,
    /// How far a cleat hangs under each shelf but the bottom one.
    pub cleat: Option<Len>,
    /// Under the bottom shelf.
    pub bottom_stretcher: Option<Stretcher>,
    /// On the top shelf.
    pub top_stretcher: Option<Stretcher>,
    /// How shelves are held in the sides.
    pub dado: Dado,
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
