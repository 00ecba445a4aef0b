//! The model: what is decided, every value known and with its reason, ready to be turned into parts.

mod bay;
mod room;
mod stock;
mod survey;

use num_traits::CheckedMul;

pub use bay::{Adjustable, Bay, Fill, Level, Over};
pub use room::{Build, Fixing, Floor, Profile, Reading, ReadingAt, Return, StandOn, Unread, Wall};
pub use stock::{
    Amount, Board, Can, Caulk, Clamps, Coating, Fastener, Filling, Finish, FinishWork, Glue, Moulding,
    Router, Shop, Vehicle,
};
pub use survey::{
    Decided, DoorLeaf, InWall, Leg, Obstacle, ObstacleClass, RoomOpening, Route, Stairs, Turn, Way,
};

use super::{Len, Linear};
use crate::quantity::{Estimate, Length, Marks, Paper, Rational};
use crate::source::Span;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Everything that the files state.
#[derive(Clone, Debug)]
pub struct Model {
    /// What the file is about.
    pub project: Project,
    /// Sheet goods, by name.
    pub sheets: Vec<Sheet>,
    /// Boards, by name.
    pub boards: Vec<Board>,
    /// Nails and screws, by name.
    pub fasteners: Vec<Fastener>,
    /// Glues, by name.
    pub glues: Vec<Glue>,
    /// Walls, by name.
    pub walls: Vec<Wall>,
    /// Ways in, by name.
    pub routes: Vec<Route>,
    /// The shop.
    pub shop: Shop,
    /// How it is painted, if that is stated.
    pub finish: Option<Finish>,
    /// Runs, by name.
    pub runs: Vec<Run>,
    /// Carcasses that stand alone, by name.
    pub carcasses: Vec<Carcass>,
    /// Joins that name a part by its path.
    pub single_joins: Vec<SingleJoin>,
    /// Warnings that are taken.
    pub accepts: Vec<Accept>,
    /// What was measured on parts as they were built.
    pub found: Vec<Found>,
}

/// A warning that is taken for a member.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Accept {
    /// The slug of the warning.
    pub slug: Arc<str>,
    /// The path of the member; empty for the whole file.
    pub path: String,
    /// Why.
    pub because: Option<Arc<str>>,
    /// Where it is stated.
    pub span: Span,
}

/// A size of a part as it was built.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The path of the measure.
    pub path: String,
    /// Where it is stated.
    pub span: Span,
    /// What was measured.
    pub value: Len,
    /// Why it differs.
    pub because: Option<Arc<str>>,
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
    /// The paper that drawings are made for, if that is stated.
    pub paper: Option<Paper>,
    /// When the first coat may begin, if that is stated.
    pub start: Option<jiff::civil::DateTime>,
    /// When the working day begins and ends, in minutes after midnight.
    pub day: [i64; 2],
    /// When the house was built, if that is stated.
    pub year_built: Option<i64>,
    /// How many more of every shelf and every strip are cut.
    pub spares: usize,
    /// The currency of its prices.
    pub currency: Option<Arc<str>>,
    /// Where it is declared, or the beginning of the file; `None` where a caller of the library made it.
    pub head: Option<Span>,
}

impl Project {
    /// The paper that drawings are made for: the stated one, else that of the system.
    #[must_use]
    pub fn paper(&self) -> Paper {
        self.paper.unwrap_or_else(|| self.marks.system().paper())
    }

    /// A sum of money: `408.00 USD`.
    #[must_use]
    pub fn money(&self, sum: Rational) -> String {
        let hundredths = sum.checked_mul(&Rational::from(100)).map(|sum| sum.round().to_integer());
        let Some(hundredths) = hundredths else { return "out of range".to_owned() };
        let sign = if hundredths < 0 { "-" } else { "" };
        let hundredths = hundredths.unsigned_abs();
        let currency = self.currency.as_deref().map(|word| format!(" {word}")).unwrap_or_default();
        format!("{sign}{}.{:02}{currency}", hundredths / 100, hundredths % 100)
    }
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
    /// How much smaller than its size it may be sold.
    pub tolerance: Option<Len>,
    /// Modulus of elasticity along the grain.
    pub stiffness: Option<Estimate>,
    /// Shear modulus in its plane.
    pub twist: Option<Estimate>,
    /// What one sheet costs.
    pub price: Option<Rational>,
    /// How many whole sheets are there already.
    pub on_hand: usize,
    /// How many there are in all: of a lot that was counted.
    pub count: Option<usize>,
    /// Other sizes in which it is sold: name, length and width, price.
    pub sold: Vec<Sold>,
    /// What was left of other sheets.
    pub offcuts: Vec<Offcut>,
}

/// A size in which a sheet is sold.
#[derive(Clone, Debug)]
pub struct Sold {
    /// Its name.
    pub name: Arc<str>,
    /// Length along the grain and width.
    pub size: (Len, Len),
    /// What one costs.
    pub price: Option<Rational>,
}

/// What was left of a sheet or a board.
#[derive(Clone, Debug)]
pub struct Offcut {
    /// Its name.
    pub name: Arc<str>,
    /// Length along the grain and width.
    pub size: (Len, Len),
    /// How many there are.
    pub count: usize,
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
    /// The wall that it stands against, by its position in [`Model::walls`].
    pub wall: Option<usize>,
    /// Its left and its right end.
    pub ends: [End; 2],
    /// Its units from left to right.
    pub units: Vec<Carcass>,
    /// What stands before the front edges.
    pub facing: Option<Facing>,
    /// A moulding on the top rails.
    pub crown: Option<Moulding>,
    /// A panel on the ceiling: its sheet and its depth from the wall.
    pub ceiling_panel: Option<(SheetId, Len)>,
    /// How its facing is held to the carcasses.
    pub facing_join: Join,
    /// How its units are held to each other.
    pub seam_join: Join,
    /// How rails and strips are joined into the stiles; `None` where each is put on by itself.
    pub frame: Option<Frame>,
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
    /// What it meets.
    pub meets: Return,
    /// The gap stated for it.
    pub gap: Option<Len>,
    /// A strip that closes its gap.
    pub filler: Option<Filler>,
    /// Where it is declared.
    pub head: Option<Span>,
}

/// Strips, rails and stiles before the front edges of a run.
#[derive(Clone, Debug)]
pub struct Facing {
    /// The board, by its position in [`Model::boards`].
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
    /// The board, by its position in [`Model::boards`].
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

/// How one part is held by another, besides the shape of the joint.
#[derive(Clone, Copy, Debug, Default)]
pub struct Join {
    /// The nail or screw, by its position in [`Model::fasteners`].
    pub fastener: Option<usize>,
    /// The glue, by its position in [`Model::glues`].
    pub glue: Option<usize>,
    /// From each end of a row to its first fastener.
    pub ends: Option<Len>,
    /// The most from one to the next.
    pub pitch: Option<Len>,
}

/// What a join speaks of at one of its ends.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Named {
    /// Every part of a role.
    Role(Arc<str>),
    /// The one part of this path.
    Path(String),
}

/// A join that names a part by its path: it goes before what is stated for the roles.
#[derive(Clone, Debug)]
pub struct SingleJoin {
    /// What is held.
    pub guest: Named,
    /// What holds it.
    pub host: Named,
    /// The joint's word.
    pub joint: Arc<str>,
    /// Fasteners and glue, where they are stated.
    pub join: Join,
    /// Depth of the dado, if it is stated.
    pub depth: Option<Len>,
    /// How much wider than the guest the dado is, if it is stated.
    pub fit: Option<Len>,
    /// Where it is declared.
    pub head: Span,
}

impl Join {
    /// This join where it states something, `other` for the rest.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        Self {
            fastener: self.fastener.or(other.fastener),
            glue: self.glue.or(other.glue),
            ends: self.ends.or(other.ends),
            pitch: self.pitch.or(other.pitch),
        }
    }
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
    /// From the bottom end of the sides, or of the base under them, to their top end.
    pub height: Len,
    /// What it stands on.
    pub foot: Foot,
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
    /// Doors before its openings.
    pub doors: Option<Doors>,
    /// How shelves are held in the sides.
    pub dado: Dado,
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
}

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

/// A panel that lies on the ends of the sides: a counter, a seat, the top of a desk.
#[derive(Clone, Copy, Debug)]
pub struct Counter {
    /// What it is cut from.
    pub sheet: SheetId,
    /// How far it stands out before what is under it; `None` where it is flush.
    pub over: Option<Len>,
    /// What stays open between it and the wall.
    pub gap: Option<Len>,
    /// Where it is declared.
    pub head: Span,
}

/// Doors side by side that lie before the front edges, from the bottom shelf to the ends of the sides.
#[derive(Clone, Copy, Debug)]
pub struct Doors {
    /// What they are cut from.
    pub sheet: SheetId,
    /// How many.
    pub count: usize,
    /// What stays open between two of them, at the outer faces and over them.
    pub reveal: Len,
    /// How far they stand off the front edges.
    pub stand_off: Len,
    /// Where they are declared.
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

/// A panel behind the shelves.
#[derive(Clone, Copy, Debug)]
pub struct Back {
    /// What it is cut from.
    pub sheet: SheetId,
    /// How the sides hold it.
    pub joint: BackJoint,
}

/// How the sides hold a back.
#[derive(Clone, Copy, Debug)]
pub enum BackJoint {
    /// Planted on their rear edges.
    Planted,
    /// In rabbets along their rear edges, as wide as the back is thick.
    Rabbet {
        /// Into the side.
        depth: Len,
    },
    /// In grooves along their inner faces.
    Groove {
        /// Into the side.
        depth: Len,
        /// How much wider than the back a groove is.
        fit: Len,
        /// From the rear edge to the groove.
        set_in: Len,
    },
}

/// How the parts of a carcass are held.
#[derive(Clone, Copy, Debug, Default)]
pub struct Joins {
    /// A shelf in a side.
    pub shelf_to_side: Join,
    /// The top in the rabbets of the sides.
    pub top_to_side: Join,
    /// A stretcher between the sides.
    pub stretcher_to_side: Join,
    /// A cleat between the sides.
    pub cleat_to_side: Join,
    /// A cleat under its shelf.
    pub cleat_to_shelf: Join,
    /// A cleat, or the rear top stretcher, on the wall.
    pub cleat_to_wall: Join,
    /// A shelf of a bay in a divider.
    pub shelf_to_divider: Join,
    /// A divider in the shelves under and over it.
    pub divider_to_shelf: Join,
    /// A back on the sides.
    pub back_to_side: Join,
    /// A rib between the rails of a base.
    pub rib_to_rail: Join,
    /// A carcass on its base.
    pub base_to_carcass: Join,
    /// A counter on the sides.
    pub counter_to_side: Join,
}

/// What will stand on a shelf.
#[derive(Clone, Debug)]
pub struct Contents {
    /// Its name.
    pub name: Arc<str>,
    /// The shelves it may stand on; empty for any.
    pub on: Vec<Arc<str>>,
    /// Of the tallest.
    pub height: Option<Len>,
    /// Of the deepest.
    pub depth: Option<Len>,
    /// All of it side by side.
    pub length: Option<Len>,
    /// Where it is declared.
    pub head: Span,
}

/// What a shelf carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Load {
    /// Books: 50 lb on a square foot (Architectural Woodwork Standards 2009).
    Books,
    /// Other things: 40 lb on a square foot (the same).
    Other,
    /// A weight per length.
    Line(Estimate),
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

impl Model {
    /// A model with nothing in it, for callers of the library.
    #[must_use]
    pub fn new(project: Project) -> Self {
        Self {
            project,
            sheets: Vec::new(),
            boards: Vec::new(),
            fasteners: Vec::new(),
            glues: Vec::new(),
            walls: Vec::new(),
            routes: Vec::new(),
            shop: Shop::default(),
            finish: None,
            runs: Vec::new(),
            carcasses: Vec::new(),
            single_joins: Vec::new(),
            accepts: Vec::new(),
            found: Vec::new(),
        }
    }
}

impl Project {
    /// A project of which only the marks are known.
    #[must_use]
    pub fn new(marks: Marks) -> Self {
        Self {
            title: None,
            revision: None,
            marks,
            paper: None,
            start: None,
            day: Self::DAY,
            year_built: None,
            spares: 0,
            currency: None,
            head: None,
        }
    }

    /// A working day that nobody states: from 8 to 20 h, in minutes after midnight.
    pub const DAY: [i64; 2] = [8 * 60, 20 * 60];
}

impl Sheet {
    /// What it offers of a length or width in which it is sold: the least it may be (PS 1-19; EN 315), less one skim.
    #[must_use]
    pub fn offered(&self, sold: Len) -> Length {
        let taken = [self.tolerance, self.skim].into_iter().flatten();
        taken.fold(sold.value, |left, taken| left.checked_sub(taken.value).unwrap_or_default())
    }

    /// A sheet with grain of which only the thickness is known, by caliper.
    #[must_use]
    pub fn measured(name: &str, thickness: Len) -> Self {
        Self {
            name: name.into(),
            text: None,
            head: None,
            size: None,
            thickness,
            measured: true,
            grain: true,
            skim: None,
            density: None,
            tolerance: None,
            stiffness: None,
            twist: None,
            price: None,
            on_hand: 0,
            count: None,
            sold: Vec::new(),
            offcuts: Vec::new(),
        }
    }
}

impl Run {
    /// A run of units between two ends, of which nothing else is known.
    #[must_use]
    pub fn new(name: &str, length: Option<Len>, ends: [End; 2], units: Vec<Carcass>) -> Self {
        Self {
            name: name.into(),
            text: None,
            head: None,
            length,
            wall: None,
            ends,
            units,
            facing: None,
            crown: None,
            ceiling_panel: None,
            facing_join: Join::default(),
            seam_join: Join::default(),
            frame: None,
        }
    }
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
            sheet,
            width,
            height,
            foot: Foot::Sides,
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
            doors: None,
            dado,
            in_divider: dado,
            in_shelf: dado,
            joins: Joins::default(),
            contents: Vec::new(),
            load: None,
        }
    }
}
