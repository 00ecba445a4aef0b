//! The model: what is decided, every value known and with its reason, ready to be turned into parts.

mod bay;
mod carcass;
mod contents;
mod finish;
mod fits;
mod foot;
mod fronts;
mod join;
mod panels;
mod project;
mod rates;
mod room;
mod run;
mod sheet;
mod shop;
mod slope;
mod stock;
mod survey;

pub use bay::{Adjustable, Bay, Fill, Level, Over};
pub use carcass::{Carcass, Dado, Hung, Mark, Notes, Share, Stretcher, Width};
pub use contents::{Contents, Load, Reach};
pub use finish::{Can, Caulk, Coating, Filling, Finish, FinishWork};
pub use fits::Fits;
pub use foot::{Base, Foot, Toe};
pub use fronts::{BoxOf, Doors, Drawers, Front, FrontAt, Hinge, Pull, Slide};
pub use join::{Join, Joins, Named, SingleJoin};
pub use panels::{Back, BackJoint, Counter, EdgeTape, Hole, RunCounter};
pub use project::{Project, whole_cents};
pub use rates::{Rate, Rates};
pub use room::{
    Air, Blocking, Build, Fixing, Floor, Joists, Profile, Reading, ReadingAt, Return, StandOn, Survey,
    Unread, Wall,
};
pub use run::{CeilingPanel, End, Facing, Filler, Frame, Run, Scribe, Space, SpaceWidth, Thing};
pub use sheet::{Offcut, Sheet, SheetId, Sold};
pub use shop::{Clamps, Cuts, Router, Shop, Vehicle};
pub use slope::{Follow, Slope};
pub use stock::{Amount, Board, Fastener, Glue, Moulding};
pub use survey::{
    Decided, DoorLeaf, InWall, Leg, Obstacle, ObstacleClass, RoomOpening, Route, Stairs, Turn, Way,
};

use super::Len;
use crate::source::Span;
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
    /// How far a part that is made may be off.
    pub fits: Fits,
    /// How long work takes.
    pub rates: Rates,
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
    /// Whether a reading is stated as not taken yet: what follows from the others is provisional.
    pub unread: bool,
    /// The rooms of the main file that are still to be read.
    pub surveys: Vec<Survey>,
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

impl Model {
    /// All carcasses in the order of the units of a graph: run by run those that stand in it, then those that hang over these; at last
    /// what stands alone.
    pub fn all_carcasses(&self) -> impl Iterator<Item = &Carcass> {
        self.runs.iter().flat_map(Run::carcasses).chain(&self.carcasses)
    }

    /// What every page says where readings are not taken yet, so that sizes may still change.
    #[must_use]
    pub fn provisional(&self) -> Option<String> {
        let unread = |run: &&Run| {
            run.wall.and_then(|wall| self.walls.get(wall)).is_some_and(|wall| !wall.unread.is_empty())
        };
        let provisional: Vec<&str> = self.runs.iter().filter(unread).map(|run| &*run.name).collect();
        if !provisional.is_empty() {
            return Some(format!(
                "PROVISIONAL: readings of the wall are not taken yet; all sizes of {} may still change.",
                provisional.join(", ")
            ));
        }
        self.unread.then(|| "PROVISIONAL: readings are not taken yet; sizes may still change.".to_owned())
    }

    /// A model with nothing in it, for callers of the library.
    #[must_use]
    pub fn new(project: Project) -> Self {
        let fits = Fits::usual(project.marks.system());
        Self {
            project,
            fits,
            rates: Rates::default(),
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
            unread: false,
            surveys: Vec::new(),
        }
    }
}
