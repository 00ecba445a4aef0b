//! The kinds of the language: what each is called, where it may stand and what may be stated in it.
//!
//! This table is the one list of words: names are checked against it, and the reference, `explain` and the editors'
//! keyword lists are made from it.

use crate::quantity::Dim;

/// What a property takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A quantity of a dimension.
    Quantity(Dim),
    /// A whole number.
    Count,
    /// A length, or a share of what is left over: `rest`, `rest to 1/8"`, `2 * rest`, `rest + 1"`.
    Share,
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
    /// A list of names that another member gives: `[atlas, cloth]`.
    Names,
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

/// A property of a kind.
#[derive(Clone, Copy, Debug)]
pub struct PropertySpec {
    /// Its name.
    pub name: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// What it means.
    pub doc: &'static str,
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
    /// The property of this name.
    #[must_use]
    pub fn property(&self, name: &str) -> Option<Takes> {
        self.properties.iter().find(|p| p.name == name).map(|p| p.takes).or(self.open)
    }
}

/// The word for the top of a file in [`KindSpec::within`].
pub const FILE: &str = "file";

const fn p(name: &'static str, takes: Takes, doc: &'static str) -> PropertySpec {
    PropertySpec { name, takes, doc }
}

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);

/// What may be stated in a unit of a run, or in a carcass that stands alone.
const CARCASS: &[PropertySpec] = &[
    p("stock", Takes::Member("sheet"), "the sheet it is cut from"),
    p("width", Takes::Share, "over the outer faces of the sides; in a run also a share of what is left over"),
    p("clear", LENGTH, "between the inner faces of the sides; stated in place of `width`"),
    p("height", LENGTH, "from the bottom end of the sides to their top end"),
    p("depth", LENGTH, "of sides and shelves, without what is fixed to the front edges"),
    p("shelves", Takes::Member("stick"), "the story stick whose marks carry its shelves"),
    p("skip", Takes::Names, "marks of the stick that this unit leaves out"),
];

/// All kinds.
pub static KINDS: &[KindSpec] = &[
    KindSpec {
        word: "project",
        doc: "what the whole file is about; one a file",
        naming: Naming::Alone,
        text: true,
        within: &[FILE],
        properties: &[
            p(
                "marks",
                LENGTH,
                "the marks of the tape: printed sizes are rounded to them, and show their system",
            ),
            p("revision", Takes::Text, "the letter or number that every sheet shows"),
            p(
                "start",
                Takes::Date,
                "when the first coat may begin; a day without a time begins with the working day",
            ),
        ],
        open: None,
    },
    KindSpec {
        word: "sheet",
        doc: "a sheet good that parts are cut from",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[
            p("size", Takes::Size, "length along the grain x width, as sold"),
            p("nominal", LENGTH, "the thickness by which it is sold"),
            p(
                "thickness",
                LENGTH,
                "the thickness by caliper; without it the nominal one is taken, with a warning",
            ),
            p("grain", Takes::Choice(&["length", "none"]), "along the length of the sheet, or none"),
            p("skim", LENGTH, "what the first cut takes off the reference edge"),
            p("density", Takes::Quantity(Dim::DENSITY), "weight of a volume"),
        ],
        open: None,
    },
    KindSpec {
        word: "stick",
        doc: "a story stick: named heights of undersides, from the bottom end of the sides",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[],
        open: Some(LENGTH),
    },
    KindSpec {
        word: "run",
        doc: "units that stand side by side, from left to right",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[p("length", LENGTH, "the least length there is for units and end gaps")],
        open: None,
    },
    KindSpec {
        word: "end",
        doc: "what happens at an end of a run",
        naming: Naming::OneOf(&["left", "right"]),
        text: false,
        within: &["run"],
        properties: &[
            p(
                "against",
                Takes::Choice(&["wall", "open"]),
                "a wall takes what rounding leaves over; an open end takes none",
            ),
            p("gap", LENGTH, "wanted between the outer unit and the end of the run"),
        ],
        open: None,
    },
    KindSpec {
        word: "unit",
        doc: "a carcass of a run",
        naming: Naming::Optional,
        text: true,
        within: &["run"],
        properties: CARCASS,
        open: None,
    },
    KindSpec {
        word: "carcass",
        doc: "a carcass that stands alone: two sides, and what is held between them",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: CARCASS,
        open: None,
    },
    KindSpec {
        word: "cleat",
        doc: "a strip of the sheet under the rear edge of every shelf but the bottom one, between the sides",
        naming: Naming::Alone,
        text: false,
        within: &["unit", "carcass"],
        properties: &[p("height", LENGTH, "how far it hangs under the shelf")],
        open: None,
    },
    KindSpec {
        word: "stretcher",
        doc: "a strip of the sheet between the sides: under the bottom shelf, or on the top one",
        naming: Naming::OneOf(&["bottom", "top"]),
        text: false,
        within: &["unit", "carcass"],
        properties: &[
            p("height", LENGTH, "of the strip; at the bottom without it: up to the bottom shelf"),
            p("at", Takes::Choices(&["front", "rear"]), "where one stands; without it at both"),
        ],
        open: None,
    },
    KindSpec {
        word: "join",
        doc: "how one part is held by another: `join shelf to side with dado`",
        naming: Naming::Alone,
        text: false,
        within: &[FILE, "run", "unit", "carcass"],
        properties: &[
            p("depth", LENGTH, "of the dado"),
            p("fit", LENGTH, "how much wider than the sheet the dado is"),
        ],
        open: None,
    },
];

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
