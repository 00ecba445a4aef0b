//! The kinds of the language: each is declared once, in a file here, with its properties, what they mean, what holds without them
//! and how they are read.
//!
//! From these declarations come the table of names, the handles by which `eval` reads the properties, the pages of the
//! reference and the words of the editors' files.

#[macro_use]
mod declare;
mod carcass;
mod finish;
mod join;
mod over;
mod project;
pub(crate) mod read;
mod room;
mod run;
mod shop;
mod stock;
mod supplies;
mod survey;
mod way;

pub(crate) use carcass::{
    BACK, CARCASS, CLEAT, COUNTER, DOORS, PLINTH, STAND_OFF, STRETCHER, StretcherAt, TOE,
};
pub(crate) use finish::FINISH;
pub(crate) use join::{
    BACK_TO_SIDE, CLEAT_TO_SHELF, CLEAT_TO_SIDE, CLEAT_TO_WALL, COUNTER_TO_SIDE, DIVIDER_TO_SHELF,
    FACING_TO_CARCASS, Housing, JOIN, Joined, PLINTH_TO_CARCASS, RAIL_TO_STILE, RIB_TO_RAIL,
    SHELF_TO_DIVIDER, SHELF_TO_SIDE, STRETCHER_TO_SIDE, TOP_TO_SIDE, UNIT_TO_UNIT,
};
pub use join::{JOINS, JoinSpec};
pub(crate) use over::{ADJUSTABLE, BAY, CONTENTS, SHELF};
pub(crate) use project::{PROJECT, PaperOf};
pub(crate) use room::{
    BuildOf, CEILING, Corner, FLOOR, FixingTo, LEFT_CORNER, Leans, READING, STUDS, StandsOn, WALL,
};
pub(crate) use run::{Against, CEILING_PANEL, CROWN, END, FACING, RUN, SCRIBE};
pub(crate) use shop::{BORER, CLAMP, PERSON, ROUTER, SAW, VEHICLE};
pub(crate) use stock::{BOARD, Grain, LOT, MOULDING, OFFCUT, SHEET, SOLD};
pub(crate) use supplies::{CAULK, COATING, FILLER, GLUE, NAIL, PIN, SCREW};
pub(crate) use survey::{
    BEGINNING, Hinge, OBSTACLE, OPENING, ObstacleDecided, ObstacleKind, OpeningDecided, OpeningKind, Side,
    Swing,
};
pub(crate) use way::{CORNER, DOOR, LEAF_FLAT, LEAF_SQUARE, Opens, STAIR, TurnOf};

use crate::quantity::{Dim, Exact, Rational, System, unit};
use crate::syntax::TOP_KINDS;
use std::marker::PhantomData;

/// What a property takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A quantity of a dimension.
    Quantity(Dim),
    /// A whole number.
    Count,
    /// A length, or a share of what is left over: `rest`, `rest to 1/8"`, `2 * rest`, `rest + 1"`.
    Share,
    /// A list of lengths; `?` stands for one that is not known yet.
    Lengths,
    /// A list of quantities of a dimension.
    Quantities(Dim),
    /// A price by one of these measures.
    Price(&'static [Dim]),
    /// Two lengths: along the grain x across it.
    Size,
    /// A text in quotes.
    Text,
    /// A day, with or without a time.
    Date,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// A list of these words.
    Choices(&'static [&'static str]),
    /// The name of a member of this kind.
    Member(&'static str),
    /// A class of load, or a weight per length.
    Load,
    /// A list of names of members of this kind.
    Members(&'static str),
    /// A list of names that another member gives: `[atlas, cloth]`.
    Names,
    /// True or false.
    Truth,
    /// One of the words that a parameter of a module lists.
    Word,
    /// Anything: the type could not be read.
    Any,
}

/// Whether members of a kind have a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Naming {
    /// A name of the user's is needed.
    Needed,
    /// A name of the user's may stand; without one, members are counted.
    Optional,
    /// There is one of it in a block, without a name.
    Alone,
    /// The name is one of these words.
    OneOf(&'static [&'static str]),
}

/// How a value of the trade is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// It is published, and the source was seen.
    Published,
    /// It is common practice, and no source gives it.
    Common,
    /// It is known from memory and waits to be verified.
    Memory,
    /// It follows from how the language counts; no fact of the trade.
    Rule,
}

/// Where a value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Source {
    /// How it is known.
    pub known: Known,
    /// The source in words, as reasons print it.
    pub text: &'static str,
}

impl Source {
    const fn common(text: &'static str) -> Self {
        Self { known: Known::Common, text }
    }

    const fn published(text: &'static str) -> Self {
        Self { known: Known::Published, text }
    }

    const fn memory(text: &'static str) -> Self {
        Self { known: Known::Memory, text }
    }

    const fn rule(text: &'static str) -> Self {
        Self { known: Known::Rule, text }
    }
}

/// What no standard gives.
const COMMON: Source = Source::common("common practice, no source");
/// What was not looked up.
const MEMORY: Source = Source::memory("from memory: verify");

/// A quantity as it is written: a fraction and its unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Written {
    /// Numerator and denominator.
    pub value: (i128, i128),
    /// The word of the unit.
    pub unit: &'static str,
}

impl Written {
    /// Its value in base units; `None` where the unit is not known or the value leaves the range.
    #[must_use]
    pub fn exact(self) -> Option<Exact> {
        let unit = unit(self.unit)?;
        let value = Rational::new(self.value.0, self.value.1.max(1));
        Exact::number(value).checked_mul(Exact { value: unit.factor, dim: unit.dim })
    }
}

const fn inches(over: i128, under: i128) -> Written {
    Written { value: (over, under), unit: "in" }
}

const fn mm(whole: i128) -> Written {
    Written { value: (whole, 1), unit: "mm" }
}

const fn written(whole: i128, unit: &'static str) -> Written {
    Written { value: (whole, 1), unit }
}

/// The usual range of a property. A value outside of it is possible, and rare.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Usually {
    /// The least and the greatest usual value, in inches and in metric measures; without one the range is open there.
    ranges: [[Option<Written>; 2]; 2],
    /// Where the range comes from.
    pub source: Source,
}

impl Usually {
    const fn between(inch: [Written; 2], metric: [Written; 2], source: Source) -> Self {
        let [[a, b], [c, d]] = [inch, metric];
        Self { ranges: [[Some(a), Some(b)], [Some(c), Some(d)]], source }
    }

    const fn within([least, greatest]: [Written; 2], source: Source) -> Self {
        Self { ranges: [[Some(least), Some(greatest)]; 2], source }
    }

    const fn at_least(inch: Written, metric: Written, source: Source) -> Self {
        Self { ranges: [[Some(inch), None], [Some(metric), None]], source }
    }

    /// The least and the greatest usual value in a system of measures; `None` where the range is open.
    #[must_use]
    pub fn range(&self, system: System) -> [Option<Written>; 2] {
        let [inch, metric] = self.ranges;
        match system {
            System::Inch => inch,
            System::Metric => metric,
        }
    }
}

/// A usual length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UsualLength {
    /// What it is called in a reason.
    pub label: &'static str,
    /// In inches and in millimetres.
    pub values: [(i128, i128); 2],
    /// Where the two come from.
    pub sources: [Source; 2],
}

impl UsualLength {
    const fn new(label: &'static str, inch: (i128, i128), metric: (i128, i128), source: Source) -> Self {
        Self { label, values: [inch, metric], sources: [source, source] }
    }
}

/// What holds where a property is not stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Without {
    /// Nothing: what depends on it is not worked out.
    Nothing,
    /// What these words say.
    Follows(&'static str),
    /// A message: it must be stated.
    Needed {
        /// What the message shows, in inches and in metric measures.
        examples: [&'static str; 2],
        /// Where it must be; empty for everywhere.
        when: &'static str,
    },
    /// This length.
    Length(UsualLength),
    /// This word.
    Word(&'static str),
    /// This number of a unit.
    Number((i128, i128), &'static str, Source),
    /// This count.
    Count(usize),
}

/// A property of a kind.
#[derive(Clone, Copy, Debug)]
pub struct PropertySpec {
    /// Its name.
    pub name: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// What it means.
    pub doc: &'static str,
    /// What holds where it is not stated.
    pub without: Without,
    /// Its usual range, where one is known.
    pub usually: Option<Usually>,
}

/// A kind.
#[derive(Clone, Copy, Debug)]
pub struct KindSpec {
    /// The word that declares a member of it.
    pub word: &'static str,
    /// What it is.
    pub doc: &'static str,
    /// Whether its members have names.
    pub naming: Naming,
    /// Whether a text may stand behind the name.
    pub text: bool,
    /// The kinds in whose block it may stand; [`FILE`] for the top of a file.
    pub within: &'static [&'static str],
    /// What may be stated in it.
    pub properties: &'static [PropertySpec],
    /// For a kind whose properties the user names: what each of them takes.
    pub open: Option<Takes>,
}

impl KindSpec {
    /// What the property of this name takes.
    #[must_use]
    pub fn property(&self, name: &str) -> Option<Takes> {
        self.properties.iter().find(|p| p.name == name).map(|p| p.takes).or(self.open)
    }

    /// Where its members may stand, for a sentence.
    #[must_use]
    pub fn places(&self) -> String {
        self.within.iter().map(|within| place(within)).collect::<Vec<_>>().join(" or ")
    }
}

/// A property by which a reader asks for its value: `T` says how it is read, `W` what holds where it is not stated.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Property<T, W> {
    /// Its name.
    pub name: &'static str,
    /// What holds where it is not stated.
    pub without: W,
    read: PhantomData<T>,
}

impl<T, W> Property<T, W> {
    const fn new(name: &'static str, without: W) -> Self {
        Self { name, without, read: PhantomData }
    }
}

impl<T> Property<T, Needed> {
    /// The same property with other examples: it is stated otherwise where it stands.
    pub const fn for_instance(self, examples: [&'static str; 2]) -> Self {
        Self { without: Needed { examples }, ..self }
    }
}

/// Nothing holds where it is not stated, or what its reader works out.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Optional;

/// It must be stated.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Needed {
    /// What the message shows, in inches and in metric measures.
    pub examples: [&'static str; 2],
}

/// This holds where it is not stated.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Usual<V>(pub V);

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
    supplies::Nail::SPEC,
    supplies::Screw::SPEC,
    supplies::Pin::SPEC,
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
    room::ROOM,
    room::Floor::SPEC,
    room::Ceiling::SPEC,
    room::Wall::SPEC,
    room::Reading::SPEC,
    room::Studs::SPEC,
    survey::Obstacle::SPEC,
    survey::Opening::SPEC,
    way::ROUTE,
    way::Door::SPEC,
    way::CornerLeg::SPEC,
    way::Stair::SPEC,
    run::STICK,
    run::Run::SPEC,
    run::End::SPEC,
    carcass::UNIT,
    carcass::Carcass::SPEC,
    over::Shelf::SPEC,
    over::Bay::SPEC,
    over::Adjustable::SPEC,
    carcass::TOP,
    carcass::Back::SPEC,
    carcass::Counter::SPEC,
    carcass::Doors::SPEC,
    carcass::Toe::SPEC,
    carcass::Plinth::SPEC,
    carcass::Cleat::SPEC,
    carcass::Stretcher::SPEC,
    over::Contents::SPEC,
    run::Facing::SPEC,
    run::Scribe::SPEC,
    run::Crown::SPEC,
    run::CeilingPanel::SPEC,
    join::Join::SPEC,
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
