//! The kinds of the language: each is declared once, in a file here, with its properties, what they mean, what holds without them
//! and how they are read.
//!
//! From these declarations come the table of names, the handles by which `eval` reads the properties, the pages of the
//! reference and the words of the editors' files.

#[macro_use]
mod declare;
mod carcass;
mod finish;
mod fits;
mod fronts;
mod handle;
mod join;
mod over;
mod project;
mod rates;

pub(crate) mod read;

mod room;
mod run;
mod shop;
mod spec;
mod stock;
mod supplies;
mod survey;
mod usual;
mod way;

pub(crate) use carcass::{
    BACK, CARCASS, CLEAT, COUNTER, EDGE, FOLLOW, HOLE, PLINTH, STRETCHER, StretcherAt, TOE, TakenBack, UNIT,
};
pub(crate) use finish::FINISH;
pub(crate) use fits::FITS;
pub(crate) use fronts::{
    BOTTOM_GROOVE, BOTTOM_PLAY, BOTTOM_SET_IN, DOORS, DRAWERS, Fit, HINGE, Hung, OVER_BOX, PULL, SLIDE,
    STAND_OFF, UNDER_BOX,
};
pub(crate) use handle::{Needed, Optional, Property, Usual};
pub(crate) use join::{
    BACK_TO_SIDE, BOX_TO_BOX, CLEAT_TO_SHELF, CLEAT_TO_SIDE, CLEAT_TO_WALL, COUNTER_TO_SIDE,
    DIVIDER_TO_SHELF, FACING_TO_CARCASS, FRONT_TO_BOX, Housing, JOIN, Joined, PLINTH_TO_CARCASS,
    RAIL_TO_STILE, RIB_TO_RAIL, SHELF_TO_DIVIDER, SHELF_TO_SIDE, STRETCHER_TO_SIDE, TOP_TO_SIDE,
    UNIT_TO_UNIT,
};
pub use join::{JOINS, JoinSpec};
pub(crate) use over::{ADJUSTABLE, BAY, CONTENTS, ITEM, ReachOf, SHELF};
pub(crate) use project::{EyeOf, PROJECT, PaperOf};
pub(crate) use rates::RATES;
pub(crate) use room::{
    BLOCKING, BuildOf, CEILING, Corner, FLOOR, FixingTo, FloorFor, JoistsLie, LEFT_CORNER, Leans, READING,
    ROOM, SLOPE, STUDS, StandsOn, WALL,
};
pub(crate) use run::{Against, CEILING_PANEL, CROWN, END, FACING, RUN, SCRIBE, SPACE, THING};
pub(crate) use shop::{BORER, CLAMP, GuidedFrom, MoreCuts, PERSON, ROUTER, SAW, VEHICLE};
pub use spec::{KindSpec, Naming, PropertySpec, Takes, Without};
pub(crate) use stock::{BOARD, Grain, LOT, MOULDING, OFFCUT, SHEET, SOLD, TAPE};
pub(crate) use supplies::{CAULK, COATING, FILLER, GLUE, NAIL, PIN, SCREW};
pub(crate) use survey::{
    BEGINNING, Hinge, OBSTACLE, OPENING, ObstacleDecided, ObstacleKind, OpeningDecided, OpeningKind, Side,
    Swing,
};
pub(crate) use usual::duration_of;
use usual::{COMMON, MEMORY, inches, mm, written};
pub use usual::{Known, Source, UsualLength, Usually, Written};
pub(crate) use way::{CORNER, DOOR, LEAF_FLAT, LEAF_SQUARE, Opens, STAIR, TurnOf};

use crate::syntax::TOP_KINDS;

/// A name without the mark that Rust wants before its own words.
const fn plain(name: &'static str) -> &'static str {
    match name.as_bytes() {
        [b'r', b'#', rest @ ..] => match std::str::from_utf8(rest) {
            Ok(rest) => rest,
            Err(_) => name,
        },
        _ => name,
    }
}

words! {
    /// A class of load.
    LoadClass { Books = "books", Other = "other" }
}

/// The classes of load that have a name: what [`Takes::Load`] takes besides a weight per length.
pub const LOADS: &[&str] = LoadClass::WORDS;

/// The word for the top of a file in [`KindSpec::within`].
pub const FILE: &str = "file";

/// How a sentence says that something stands in a block of a kind.
#[must_use]
pub fn place(within: &str) -> String {
    if within == FILE { "at the top of a file".to_owned() } else { format!("in a `{within}`") }
}

/// The kinds with what may be stated in them, in the order in which one plans: the job, the stock, the shop, the room, the
/// work.
pub static KINDS: &[KindSpec] = &[
    project::Project::SPEC,
    stock::Sheet::SPEC,
    stock::Sold::SPEC,
    stock::Offcut::SPEC,
    stock::Lot::SPEC,
    stock::Board::SPEC,
    stock::Moulding::SPEC,
    stock::Tape::SPEC,
    supplies::Nail::SPEC,
    supplies::Screw::SPEC,
    supplies::Pin::SPEC,
    fronts::HingeKind::SPEC,
    fronts::Slide::SPEC,
    fronts::Pull::SPEC,
    supplies::Glue::SPEC,
    supplies::Coating::SPEC,
    supplies::Caulk::SPEC,
    supplies::Filler::SPEC,
    shop::Saw::SPEC,
    shop::Router::SPEC,
    shop::Borer::SPEC,
    shop::Clamp::SPEC,
    shop::Person::SPEC,
    shop::Vehicle::SPEC,
    room::Room::SPEC,
    room::Floor::SPEC,
    room::Ceiling::SPEC,
    room::Slope::SPEC,
    room::Wall::SPEC,
    room::Reading::SPEC,
    room::Studs::SPEC,
    room::Blocking::SPEC,
    survey::Obstacle::SPEC,
    survey::Opening::SPEC,
    way::ROUTE,
    way::Door::SPEC,
    way::CornerLeg::SPEC,
    way::Stair::SPEC,
    run::STICK,
    run::Run::SPEC,
    run::End::SPEC,
    run::Space::SPEC,
    run::Thing::SPEC,
    carcass::OF_RUN,
    carcass::Carcass::SPEC,
    over::Shelf::SPEC,
    over::Bay::SPEC,
    over::Adjustable::SPEC,
    carcass::TOP,
    carcass::Back::SPEC,
    carcass::Follow::SPEC,
    carcass::Edge::SPEC,
    carcass::Hole::SPEC,
    carcass::Counter::SPEC,
    fronts::Doors::SPEC,
    fronts::Drawers::SPEC,
    carcass::Toe::SPEC,
    carcass::Plinth::SPEC,
    carcass::Cleat::SPEC,
    carcass::Stretcher::SPEC,
    over::Contents::SPEC,
    over::Item::SPEC,
    run::Facing::SPEC,
    run::Scribe::SPEC,
    run::Crown::SPEC,
    run::CeilingPanel::SPEC,
    join::Join::SPEC,
    fits::Fits::SPEC,
    rates::Rates::SPEC,
    finish::Finish::SPEC,
];

/// The scanner knows the kinds that may stand at the top of a file, before there are any: by its own list, which is this one.
const _: () = {
    let (mut kinds, mut at_top) = (KINDS, 0);
    while let [kind, rest @ ..] = kinds {
        let stands_there = lists(kind.within, FILE);
        assert!(stands_there == lists(TOP_KINDS, kind.word), "a kind and syntax::TOP_KINDS differ");
        at_top += stands_there as usize;
        kinds = rest;
    }
    assert!(at_top == TOP_KINDS.len(), "syntax::TOP_KINDS has a word that is no kind, or one twice");
};

/// Whether a list has a word.
const fn lists(mut words: &[&str], word: &str) -> bool {
    while let [first, rest @ ..] = words {
        if same(first.as_bytes(), word.as_bytes()) {
            return true;
        }
        words = rest;
    }
    false
}

const fn same(mut one: &[u8], mut other: &[u8]) -> bool {
    while let ([a, rest_of_one @ ..], [b, rest_of_other @ ..]) = (one, other) {
        if *a != *b {
            return false;
        }
        (one, other) = (rest_of_one, rest_of_other);
    }
    one.is_empty() && other.is_empty()
}

/// The kind that `word` declares.
#[must_use]
pub fn kind(word: &str) -> Option<&'static KindSpec> {
    KINDS.iter().find(|kind| kind.word == word)
}

/// The file itself, as a kind.
pub static FILE_KIND: KindSpec = KindSpec {
    word: FILE,
    doc: "a file",
    naming: Naming::Alone,
    text: false,
    within: &[],
    properties: &[],
    open: None,
};

/// A use of a module, and the body of one, as a kind: what may stand in it depends on where it is used.
pub static MODULE_KIND: KindSpec = KindSpec {
    word: "module",
    doc: "a kind that a file declares",
    naming: Naming::Needed,
    text: true,
    within: &[],
    properties: &[],
    open: None,
};
