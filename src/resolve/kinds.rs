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

/// The classes of load that have a name: what [`Takes::Load`] takes besides a weight per length.
pub const LOADS: &[&str] = &["books", "other"];

/// How a sentence says that something stands in a block of a kind.
#[must_use]
pub fn place(within: &str) -> String {
    if within == FILE { "at the top of a file".to_owned() } else { format!("in a `{within}`") }
}

impl KindSpec {
    /// Where its members may stand, for a sentence.
    #[must_use]
    pub fn places(&self) -> String {
        self.within.iter().map(|within| place(within)).collect::<Vec<_>>().join(" or ")
    }
}

/// The word for the top of a file in [`KindSpec::within`].
pub const FILE: &str = "file";

const fn p(name: &'static str, takes: Takes, doc: &'static str) -> PropertySpec {
    PropertySpec { name, takes, doc }
}

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const PRICE: Takes = Takes::Price(&[Dim::MONEY]);

/// What may be stated in a unit of a run, or in a carcass that stands alone.
const CARCASS: &[PropertySpec] = &[
    p("stock", Takes::Member("sheet"), "the sheet it is cut from"),
    p("lot", Takes::Member("lot"), "the lot of that sheet, where it has several"),
    p("width", Takes::Share, "over the outer faces of the sides; in a run also a share of what is left over"),
    p("clear", LENGTH, "between the inner faces of the sides; stated in place of `width`"),
    p(
        "height",
        LENGTH,
        "from the bottom end of the sides to their top end; a `plinth` under them and a `counter` on them count",
    ),
    p("depth", LENGTH, "of sides and shelves, without what is fixed to the front edges"),
    p("shelves", Takes::Member("stick"), "the story stick whose marks carry its shelves"),
    p("skip", Takes::Names, "marks of the stick that this unit leaves out"),
    p("load", Takes::Load, "what a shelf carries: `books`, `other`, or a weight per length"),
];

/// The kinds with what may be stated in them, in the order in which one plans: the job, the stock, the shop, the room, the
/// work.
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
            p(
                "day_begins",
                Takes::Quantity(Dim::TIME),
                "when the working day begins, in hours after midnight; 8 h without it",
            ),
            p(
                "day_ends",
                Takes::Quantity(Dim::TIME),
                "when the working day ends; a coat is not begun that would end later; 20 h without it",
            ),
            p(
                "year_built",
                Takes::Count,
                "when the house was built: old paint and texture are tested before they are disturbed",
            ),
            p(
                "spares",
                Takes::Count,
                "how many more of every shelf and every strip are cut; without it, what is left over says how many fit",
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
            p("tolerance", LENGTH, "how much smaller than its size a sheet may be sold"),
            p("nominal", LENGTH, "the thickness by which it is sold"),
            p(
                "thickness",
                LENGTH,
                "the thickness by caliper; without it the nominal one is taken, with a warning",
            ),
            p("grain", Takes::Choice(&["length", "none"]), "along the length of the sheet, or none"),
            p("skim", LENGTH, "what the first cut takes off the reference edge"),
            p("density", Takes::Quantity(Dim::DENSITY), "weight of a volume"),
            p("stiffness", Takes::Quantity(Dim::AREA_LOAD), "modulus of elasticity along the grain"),
            p("twist", Takes::Quantity(Dim::AREA_LOAD), "shear modulus in the plane of the sheet"),
            p("price", PRICE, "of one sheet"),
            p("on_hand", Takes::Count, "how many whole sheets are there already"),
        ],
        open: None,
    },
    KindSpec {
        word: "sold",
        doc: "another size in which a sheet is sold",
        naming: Naming::Needed,
        text: true,
        within: &["sheet"],
        properties: &[
            p("size", Takes::Size, "length along the grain x width, as sold"),
            p("price", PRICE, "of one sheet of that size"),
        ],
        open: None,
    },
    KindSpec {
        word: "offcut",
        doc: "what was left of a sheet or a board and is used first",
        naming: Naming::Needed,
        text: true,
        within: &["sheet", "lot", "board"],
        properties: &[
            p("size", Takes::Size, "length along the grain x width"),
            p("count", Takes::Count, "how many there are; one without it"),
        ],
        open: None,
    },
    KindSpec {
        word: "lot",
        doc: "sheets bought together, with their own thickness",
        naming: Naming::Needed,
        text: true,
        within: &["sheet"],
        properties: &[
            p("thickness", LENGTH, "the thickness of this lot by caliper"),
            p("count", Takes::Count, "how many sheets of this lot there are; without it as many as needed"),
        ],
        open: None,
    },
    KindSpec {
        word: "board",
        doc: "solid wood for facing and trim",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[
            p("thickness", LENGTH, "as dressed"),
            p("density", Takes::Quantity(Dim::DENSITY), "weight of a volume"),
            p("stiffness", Takes::Quantity(Dim::AREA_LOAD), "modulus of elasticity along the grain"),
            p(
                "swell",
                Takes::Quantity(Dim::NONE),
                "change of a width for each per cent of moisture, in parts of the width",
            ),
            p("waste", Takes::Quantity(Dim::NONE), "what is bought over the blanks and their kerfs"),
            p(
                "width",
                LENGTH,
                "of the boards as sold, from which parts are ripped; without it boards are bought as wide as the parts",
            ),
            p("lengths", Takes::Lengths, "in which it is sold"),
            p(
                "price",
                Takes::Price(&[Dim::LINE_PRICE, Dim::AREA_PRICE, Dim::VOLUME_PRICE]),
                "by length, by face or by board feet",
            ),
        ],
        open: None,
    },
    KindSpec {
        word: "moulding",
        doc: "a moulded stick, such as crown",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[
            p("width", LENGTH, "of its face, lying flat"),
            p("spring", Takes::Quantity(Dim::ANGLE), "the angle between its back and the wall"),
            p("lengths", Takes::Lengths, "in which it is sold"),
            p("price", Takes::Price(&[Dim::LINE_PRICE]), "by length"),
        ],
        open: None,
    },
    KindSpec {
        word: "nail",
        doc: "a nail or brad",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[
            p("length", LENGTH, "of the nail"),
            p("box", Takes::Count, "how many a box holds"),
            p("price", PRICE, "of a box"),
        ],
        open: None,
    },
    KindSpec {
        word: "screw",
        doc: "a screw",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[
            p("length", LENGTH, "of the screw"),
            p("box", Takes::Count, "how many a box holds"),
            p(
                "plug",
                LENGTH,
                "how deep it holds in a plug past the lining; without it the screw goes into wood",
            ),
            p("price", PRICE, "of a box"),
        ],
        open: None,
    },
    KindSpec {
        word: "pin",
        doc: "a shelf pin",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[
            p("diameter", LENGTH, "of the pin, and of its hole"),
            p("box", Takes::Count, "how many a box holds"),
            p("price", PRICE, "of a box"),
        ],
        open: None,
    },
    KindSpec {
        word: "glue",
        doc: "a glue",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[
            p("open", Takes::Quantity(Dim::TIME), "how long a joint may stay open"),
            p("spread", Takes::Quantity(Dim::SPREAD), "area of glued face for a volume"),
            p("bottles", Takes::Quantities(Dim::VOLUME), "sizes in which it is sold"),
            p("prices", Takes::Quantities(Dim::MONEY), "of the bottles, in their order"),
        ],
        open: None,
    },
    KindSpec {
        word: "coating",
        doc: "a primer, paint or varnish",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[
            p("spread", Takes::Quantity(Dim::SPREAD), "area for a volume"),
            p("work", Takes::Quantity(Dim::TIME), "what one coat of the project takes"),
            p("wait", Takes::Quantity(Dim::TIME), "before the next coat"),
            p("light_load", Takes::Quantity(Dim::TIME), "after the last coat, before anything stands on it"),
            p("full_load", Takes::Quantity(Dim::TIME), "after the last coat, before it carries all"),
            p("cans", Takes::Quantities(Dim::VOLUME), "sizes in which it is sold"),
            p("prices", Takes::Quantities(Dim::MONEY), "of the cans, in their order"),
        ],
        open: None,
    },
    KindSpec {
        word: "caulk",
        doc: "a sealant in cartridges",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[
            p("bead", LENGTH, "width and height of the bead"),
            p("cartridge", Takes::Quantity(Dim::VOLUME), "what a cartridge holds"),
            p("price", PRICE, "of a cartridge"),
        ],
        open: None,
    },
    KindSpec {
        word: "filler",
        doc: "a wood filler for nail holes",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[p("box", Takes::Quantity(Dim::VOLUME), "what a box holds")],
        open: None,
    },
    KindSpec {
        word: "saw",
        doc: "a saw of the shop",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[
            p("kerf", LENGTH, "what a cut takes"),
            p("fence", LENGTH, "the widest rip"),
            p("reach", LENGTH, "the widest crosscut"),
        ],
        open: None,
    },
    KindSpec {
        word: "router",
        doc: "the router of the shop",
        naming: Naming::Alone,
        text: true,
        within: &[FILE],
        properties: &[
            p("base", LENGTH, "from the centre of the bit to the edge of the base"),
            p("bit", LENGTH, "the width of the bit"),
        ],
        open: None,
    },
    KindSpec {
        word: "borer",
        doc: "how pin holes are bored",
        naming: Naming::Alone,
        text: true,
        within: &[FILE],
        properties: &[p("pitch", LENGTH, "from hole to hole")],
        open: None,
    },
    KindSpec {
        word: "clamp",
        doc: "clamps of the shop",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[p("count", Takes::Count, "how many"), p("opens", LENGTH, "how wide it opens")],
        open: None,
    },
    KindSpec {
        word: "person",
        doc: "who does the work",
        naming: Naming::Alone,
        text: true,
        within: &[FILE],
        properties: &[
            p("count", Takes::Count, "how many"),
            p("joint", Takes::Quantity(Dim::TIME), "what gluing one housed joint takes"),
            p("carries", Takes::Quantity(Dim::WEIGHT), "what one person carries"),
        ],
        open: None,
    },
    KindSpec {
        word: "vehicle",
        doc: "what brings the sheets home: sheets that do not fit are cut at the yard",
        naming: Naming::Alone,
        text: true,
        within: &[FILE],
        properties: &[
            p("length", LENGTH, "of the longest piece that lies flat in it"),
            p("width", LENGTH, "of the widest"),
        ],
        open: None,
    },
    KindSpec {
        word: "room",
        doc: "the room as it was measured",
        naming: Naming::Needed,
        text: true,
        within: &[FILE],
        properties: &[],
        open: None,
    },
    KindSpec {
        word: "floor",
        doc: "the floor, by a level line through its highest point",
        naming: Naming::Alone,
        text: false,
        within: &["room", "wall"],
        properties: &[
            p(
                "stand_on",
                Takes::Choice(&["finished", "subfloor"]),
                "the units stand on the finished floor, or on the subfloor",
            ),
            p("build", Takes::Choice(&["slab", "joists"]), "what carries it"),
            p("later", LENGTH, "how much new floor will come on top of it"),
            p("at", Takes::Lengths, "places along the wall, from its left corner"),
            p("below", Takes::Lengths, "how far it lies below the level line at those places"),
        ],
        open: None,
    },
    KindSpec {
        word: "ceiling",
        doc: "the ceiling",
        naming: Naming::Alone,
        text: false,
        within: &["room", "wall"],
        properties: &[
            p("at", Takes::Lengths, "places along the wall, from its left corner"),
            p("above", Takes::Lengths, "how far it lies above the level line at those places"),
        ],
        open: None,
    },
    KindSpec {
        word: "wall",
        doc: "a wall that a run stands against",
        naming: Naming::Needed,
        text: true,
        within: &["room"],
        properties: &[
            p(
                "left",
                Takes::Choice(&["wall", "plumb", "open"]),
                "what its left end meets: a wall as it is, a plumb one, or nothing",
            ),
            p("right", Takes::Choice(&["wall", "plumb", "open"]), "what its right end meets"),
            p(
                "lean",
                Takes::Choice(&["whole", "shared"]),
                "where both ends meet walls without plumb readings: each may have the whole lean, or they share it",
            ),
            p("lining", LENGTH, "board or plaster before what holds a screw"),
            p("fixing", Takes::Choice(&["studs", "masonry"]), "what holds a screw"),
        ],
        open: None,
    },
    KindSpec {
        word: "reading",
        doc: "the width between the ends of a wall at one height",
        naming: Naming::OneOf(&["low", "middle", "high"]),
        text: false,
        within: &["wall"],
        properties: &[
            p(
                "height",
                LENGTH,
                "at which it is taken; without it at the bottom, the middle and the top of the units",
            ),
            p("back", LENGTH, "at the wall"),
            p("front", LENGTH, "where the front of the units will be"),
            p("left_back", LENGTH, "how far the left wall stands back there from a plumb line"),
            p("right_back", LENGTH, "how far the right wall stands back there from a plumb line"),
        ],
        open: None,
    },
    KindSpec {
        word: "studs",
        doc: "the studs behind a wall, by their middles",
        naming: Naming::Alone,
        text: false,
        within: &["wall"],
        properties: &[
            p("at", Takes::Lengths, "places from the left corner"),
            p("first", LENGTH, "the first one, in place of a list"),
            p("every", LENGTH, "from one to the next"),
        ],
        open: None,
    },
    KindSpec {
        word: "obstacle",
        doc: "what is in the way on a wall, at its foot or on the ceiling; heights count from the level line",
        naming: Naming::Needed,
        text: true,
        within: &["room", "wall"],
        properties: &[
            p(
                "kind",
                Takes::Choice(&[
                    "outlet",
                    "switch",
                    "data",
                    "thermostat",
                    "smoke_alarm",
                    "light",
                    "floor_register",
                    "wall_register",
                    "return_grille",
                    "heater",
                    "pipe",
                    "baseboard",
                    "chair_rail",
                    "crown",
                    "casing",
                    "sill",
                ]),
                "what it is",
            ),
            p("left", LENGTH, "from the left corner of the wall to its left edge"),
            p("bottom", LENGTH, "to its lower edge; without it at the level line"),
            p("width", LENGTH, "along the wall; trim without `left` and `width` runs along all of it"),
            p("height", LENGTH, "from its lower to its upper edge"),
            p("off", LENGTH, "from the wall to its near edge; without it it stands at the wall"),
            p("projection", LENGTH, "how far it reaches out from there"),
            p("hangs", LENGTH, "how far what is fixed to the ceiling hangs under it"),
            p(
                "decided",
                Takes::Choice(&["keep", "remove", "cut_round", "bring_flush"]),
                "it stays as it is; it is taken off or moved; parts are cut round it; its box or duct is brought out \
                 flush with the work; without it it stays",
            ),
        ],
        open: None,
    },
    KindSpec {
        word: "opening",
        doc: "a door, a window or a cased opening of the wall, of a return wall or of the wall across the room",
        naming: Naming::Needed,
        text: true,
        within: &["wall"],
        properties: &[
            p("kind", Takes::Choice(&["door", "window", "cased_opening"]), "what it is"),
            p(
                "side",
                Takes::Choice(&["left", "right", "opposite"]),
                "it is in the return wall at that end, or across the room; without it in this wall",
            ),
            p("left", LENGTH, "from the left corner to its left edge, casing not counted"),
            p(
                "off",
                LENGTH,
                "in a return wall: from this wall to its near edge; across the room: to the wall it is in",
            ),
            p("bottom", LENGTH, "to its lower edge; without it at the level line"),
            p("width", LENGTH, "between its casings"),
            p("height", LENGTH, "from its lower to its upper edge"),
            p("casing", LENGTH, "width of the casing round it"),
            p("leaf", LENGTH, "width of a door's leaf; without it that of the opening"),
            p(
                "hinge",
                Takes::Choice(&["left", "right", "near", "far"]),
                "the edge that the leaf hangs on: left or right, in a return wall near this wall or far from it",
            ),
            p("swing", Takes::Choice(&["in", "out"]), "into the room or out of it; without it into the room"),
            p(
                "decided",
                Takes::Choice(&["keep", "remove", "cut_round"]),
                "it stays; it is closed up; its casing is cut back where the work stands; without it it stays",
            ),
        ],
        open: None,
    },
    KindSpec {
        word: "route",
        doc: "the way in, leg by leg in the order of the text, from where the units are built; of several routes to a \
              room one is enough",
        naming: Naming::Needed,
        text: true,
        within: &["room"],
        properties: &[],
        open: None,
    },
    KindSpec {
        word: "door",
        doc: "a leg of a route: a door or a narrow place that units are carried straight through",
        naming: Naming::Optional,
        text: true,
        within: &["route"],
        properties: &[
            p("width", LENGTH, "clear width"),
            p("leaf", LENGTH, "in place of it the width of the leaf: 2 in (50 mm) more than the clear width"),
            p(
                "opens",
                Takes::Choice(&["flat", "right_angle"]),
                "how far the leaf opens; at a right angle it takes another 1 in (25 mm); without it flat",
            ),
            p("height", LENGTH, "clear height"),
        ],
        open: None,
    },
    KindSpec {
        word: "corner",
        doc: "a leg of a route: a right-angled corner of two halls, or out of a hall through a door in its side",
        naming: Naming::Optional,
        text: true,
        within: &["route"],
        properties: &[
            p("entry", LENGTH, "width of the hall in which one comes"),
            p("exit", LENGTH, "width of the hall or door in which one goes on"),
            p("ceiling", LENGTH, "the lowest ceiling, lamp or lintel over the corner"),
        ],
        open: None,
    },
    KindSpec {
        word: "stair",
        doc: "a leg of a route: a flight of stairs, and the landing at its end where it turns",
        naming: Naming::Optional,
        text: true,
        within: &["route"],
        properties: &[
            p("width", LENGTH, "clear width of the flight, above the handrail"),
            p("rise", LENGTH, "of a step"),
            p("going", LENGTH, "of a step"),
            p("headroom", LENGTH, "plumb over the nosings, at its least"),
            p("turn", Takes::Choice(&["straight", "quarter", "half"]), "at the landing; without it straight"),
            p("onward", LENGTH, "clear width of the flight after the landing; without it as the first one"),
            p("landing", LENGTH, "at a half turn: from the top step to the wall"),
            p("ceiling", LENGTH, "over the landing; without it the headroom"),
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
        properties: &[
            p("along", Takes::Member("wall"), "the wall that it stands against, as `room.wall`"),
            p("length", LENGTH, "in place of a wall: the least length there is for units and end gaps"),
        ],
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
                "in a run without a wall: a wall takes what is left over; an open end takes none",
            ),
            p("gap", LENGTH, "wanted between the outer unit and the end of the run"),
            p(
                "filler",
                Takes::Member("board"),
                "in a run without facing: the board of the strip that closes the gap, scribed to the wall",
            ),
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
        word: "shelf",
        doc: "a fixed shelf: in a unit with a stick, one of its marks and what stands over it; else it stands by the clear \
              height over it, and the order of the text is from the bottom up",
        naming: Naming::Needed,
        text: true,
        within: &["unit", "carcass", "bay"],
        properties: &[
            p(
                "clear",
                Takes::Share,
                "the clear height over it; without it an equal share of what is left over",
            ),
            p("load", Takes::Load, "what it carries, where that differs from the unit's other shelves"),
        ],
        open: None,
    },
    KindSpec {
        word: "bay",
        doc: "a part of the opening over a shelf; bays stand from left to right with a divider between each two",
        naming: Naming::Needed,
        text: true,
        within: &["shelf"],
        properties: &[
            p("width", Takes::Share, "between its uprights; without it an equal share of what is left over"),
            p(
                "clear",
                Takes::Share,
                "the clear height over its floor, where it has shelves of its own; without it an equal share",
            ),
            p("load", Takes::Load, "what its floor carries"),
        ],
        open: None,
    },
    KindSpec {
        word: "adjustable",
        doc: "loose shelves on pins in the opening over a shelf or in a bay; all holes lie on one grid from the bottom end \
              of the unit",
        naming: Naming::Alone,
        text: false,
        within: &["shelf", "bay"],
        properties: &[
            p("count", Takes::Count, "how many loose shelves"),
            p("pitch", LENGTH, "from hole to hole; that of the borer without it"),
            p("front", LENGTH, "from the front edge of the side to the front row of holes"),
            p("rear", LENGTH, "from the rear edge of the side to the rear row"),
            p("margin", LENGTH, "no hole is nearer to the shelf below or above"),
            p("hole_depth", LENGTH, "how deep a hole is bored"),
            p("play", LENGTH, "how much shorter a loose shelf is than the clear width"),
            p("set_back", LENGTH, "how much less deep it is than a fixed one"),
            p("strip", LENGTH, "height of a strip along its front edge, of the facing's board"),
            p("pin", Takes::Member("pin"), "what it lies on"),
        ],
        open: None,
    },
    KindSpec {
        word: "top",
        doc: "a shelf at the ends of the sides, in a rabbet, so that it is flush with them",
        naming: Naming::Alone,
        text: false,
        within: &["unit", "carcass"],
        properties: &[],
        open: None,
    },
    KindSpec {
        word: "back",
        doc: "a panel behind the shelves, from the underside of the lowest one to the ends of the sides: in rabbets of the \
              sides, or as `join back to side` says",
        naming: Naming::Alone,
        text: false,
        within: &["unit", "carcass"],
        properties: &[
            p("stock", Takes::Member("sheet"), "the sheet it is cut from"),
            p("set_in", LENGTH, "from the rear edges to it, where it stands in grooves"),
        ],
        open: None,
    },
    KindSpec {
        word: "counter",
        doc: "a panel on the ends of the sides: a counter, a seat or the top of a desk; the `height` of the carcass counts it, \
              and the sides are shorter",
        naming: Naming::Alone,
        text: false,
        within: &["unit", "carcass"],
        properties: &[
            p("stock", Takes::Member("sheet"), "the sheet it is cut from; without it that of the carcass"),
            p("over", LENGTH, "how far it stands out before the front edges, or before the facing"),
            p("gap", LENGTH, "what stays open between it and the wall, for cables"),
        ],
        open: None,
    },
    KindSpec {
        word: "doors",
        doc: "doors side by side before the front edges, from the underside of the bottom shelf to the ends of the sides; \
              hinges are chosen by the door",
        naming: Naming::Alone,
        text: false,
        within: &["unit", "carcass"],
        properties: &[
            p("count", Takes::Count, "how many"),
            p("reveal", LENGTH, "what stays open between two of them, at the outer faces and over them"),
            p("stock", Takes::Member("sheet"), "the sheet they are cut from; without it that of the carcass"),
        ],
        open: None,
    },
    KindSpec {
        word: "toe",
        doc: "a notch at the lower front corner of both sides, so that toes have room",
        naming: Naming::Alone,
        text: false,
        within: &["unit", "carcass"],
        properties: &[
            p("height", LENGTH, "from the bottom end of the sides; the bottom shelf lies over it"),
            p("depth", LENGTH, "from the front edge; without it 3 in (75 mm)"),
        ],
        open: None,
    },
    KindSpec {
        word: "plinth",
        doc: "a separate base: a frame of rails and ribs that the carcass stands on; the `height` of the carcass counts it, and the \
              sides are shorter",
        naming: Naming::Alone,
        text: false,
        within: &["unit", "carcass"],
        properties: &[
            p("height", LENGTH, "from the level line to the bottom end of the sides"),
            p(
                "set_back",
                LENGTH,
                "from the front edges of the sides to its front; without it they are flush",
            ),
            p("stock", Takes::Member("sheet"), "the sheet it is cut from; without it that of the carcass"),
            p("ribs", LENGTH, "the most from one rib to the next; without it 24 in (600 mm)"),
        ],
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
            p(
                "height",
                LENGTH,
                "of the strip; without it: up to the bottom shelf, or from the top one to the ends of the sides",
            ),
            p("at", Takes::Choices(&["front", "rear"]), "where one stands; without it at both"),
        ],
        open: None,
    },
    KindSpec {
        word: "contents",
        doc: "what will stand on a shelf",
        naming: Naming::Needed,
        text: true,
        within: &["unit", "carcass", "shelf", "bay"],
        properties: &[
            p("on", Takes::Names, "in a unit: the shelves it may stand on; without it any"),
            p("height", LENGTH, "of the tallest"),
            p("depth", LENGTH, "of the deepest"),
            p("length", LENGTH, "of all of it, side by side"),
        ],
        open: None,
    },
    KindSpec {
        word: "facing",
        doc: "strips, rails and stiles before the front edges of a run",
        naming: Naming::Alone,
        text: false,
        within: &["run"],
        properties: &[
            p("stock", Takes::Member("board"), "what it is made of"),
            p("thickness", LENGTH, "of all its parts; without it that of the board"),
            p("stile", LENGTH, "over the seam of two units; wall ends are made to look as wide"),
            p(
                "lap",
                LENGTH,
                "how far a stile reaches over the opening; without it what the stile over a seam leaves",
            ),
            p(
                "divider",
                LENGTH,
                "the stile before a divider; without it as wide as the divider and both laps",
            ),
            p("strip", LENGTH, "before every shelf but the bottom and the top one, flush with its top"),
            p("top_rail", LENGTH, "before the top, flush with the ends of the sides"),
            p("bottom_rail", Takes::Choice(&["to_floor"]), "from the floor to the top of the bottom shelf"),
        ],
        open: None,
    },
    KindSpec {
        word: "scribe",
        doc: "what a blank has over its finished size where it is fitted on site",
        naming: Naming::Alone,
        text: false,
        within: &["facing"],
        properties: &[
            p("spare", LENGTH, "over the widest place"),
            p("step", LENGTH, "blanks are rounded up to it"),
        ],
        open: None,
    },
    KindSpec {
        word: "crown",
        doc: "a moulding on the top rails, up to the ceiling",
        naming: Naming::Alone,
        text: false,
        within: &["run"],
        properties: &[p("stock", Takes::Member("moulding"), "what it is made of")],
        open: None,
    },
    KindSpec {
        word: "ceiling_panel",
        doc: "a panel on the ceiling over a run, where the ceiling is rough",
        naming: Naming::Alone,
        text: false,
        within: &["run"],
        properties: &[
            p("stock", Takes::Member("sheet"), "the sheet it is cut from"),
            p("depth", LENGTH, "from the wall"),
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
            p("depth", LENGTH, "of a dado, rabbet, groove, or the mortise of a tenon"),
            p("fit", LENGTH, "how much wider than the sheet a dado or groove is"),
            p("nail", Takes::Member("nail"), "what holds it"),
            p("screw", Takes::Member("screw"), "what holds it"),
            p("glue", Takes::Member("glue"), "what is between the two"),
            p("ends", LENGTH, "from each end of a row of nails or screws to the first one"),
            p("pitch", LENGTH, "the most from one to the next"),
        ],
        open: None,
    },
    KindSpec {
        word: "finish",
        doc: "how it is painted",
        naming: Naming::Optional,
        text: true,
        within: &[FILE],
        properties: &[
            p("coats", Takes::Members("coating"), "in their order"),
            p("loss", Takes::Quantity(Dim::NONE), "what stays in tray and brush"),
            p("caulk", Takes::Member("caulk"), "where open faces meet the wall"),
            p("filler", Takes::Member("filler"), "in nail holes"),
            p(
                "easing",
                Takes::Quantity(Dim::TIME),
                "what breaking the arrises takes; without it the schedule leaves no time",
            ),
            p("filling", Takes::Quantity(Dim::TIME), "what filling nail holes takes, with its drying"),
            p("sanding", Takes::Quantity(Dim::TIME), "what sanding the bare wood takes, with dusting"),
            p("caulking", Takes::Quantity(Dim::TIME), "what caulking takes"),
            p("sanding_between", Takes::Quantity(Dim::TIME), "what sanding between two coats takes"),
            p("loaded", Takes::Date, "the first day on which things are to stand on it"),
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
