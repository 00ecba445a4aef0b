//! How parts are held: the `join`, and what can be joined to what.

use super::{
    COMMON, FILE, KindSpec, Naming, Optional, Property, PropertySpec, Source, Takes, UsualLength, Usually,
    Without, Written, inches, mm, plain, read,
};
use crate::quantity::Dim;

kind! {
    /// how one part is held by another: `join shelf to side with dado`
    JOIN: Join = "join", Naming::Alone, text: false, within: [FILE, "run", "unit", "carcass"];
    /// of a dado, rabbet, groove, or the mortise of a tenon
    depth: positive, follows("that of the join, see Joints"), usually (Usually::wide([inches(1, 32), inches(3, 1)], [mm(1), mm(75)]));
    /// how much wider than the sheet a dado or groove is
    fit: not_negative, follows("that of the join, see Joints"), usually (Usually::between(
        [Written { value: (5, 1000), unit: "in" }, Written { value: (10, 1000), unit: "in" }],
        [Written { value: (13, 100), unit: "mm" }, Written { value: (25, 100), unit: "mm" }],
        COMMON
    ).doubted([Written { value: (1, 1000), unit: "in" }, inches(1, 8)], [Written { value: (2, 100), unit: "mm" }, mm(3)]));
    /// what holds it
    nail: member("nail"), optional;
    /// what holds it
    screw: member("screw"), optional;
    /// what is between the two
    glue: member("glue"), optional;
    /// from each end of a row of nails or screws to the first one
    ends: positive, follows("1 1/2\" (40 mm)"), usually (Usually::wide([inches(1, 4), inches(24, 1)], [mm(6), mm(600)]).called("distance from the end"));
    /// the most from one to the next
    pitch: positive, follows("4 1/2\" (115 mm) in a joint, 8\" (200 mm) along an edge"), usually (Usually::wide([inches(1, 2), inches(48, 1)], [mm(12), mm(1200)]));
}

/// What can be joined to what, and how.
#[derive(Clone, Copy, Debug)]
pub struct JoinSpec {
    /// The part that is held.
    pub guest: &'static str,
    /// The part that holds it.
    pub host: &'static str,
    /// The joints that can stand there; the first one holds where nothing is stated.
    pub joints: &'static [&'static str],
    /// What is counted of it, and what is glued.
    pub doc: &'static str,
    /// The usual depth of its housing, if it has one.
    pub depth: Option<UsualLength>,
    /// How much wider than the guest its housing usually is, if it has one.
    pub fit: Option<UsualLength>,
}

/// The two parts of a join, for the readers: `U` is what is usual for it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Joined<U> {
    /// The part that is held.
    pub guest: &'static str,
    /// The part that holds it.
    pub host: &'static str,
    /// What is usual for it.
    pub usual: U,
}

/// Usual sizes of a housing.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Housing {
    /// How deep it is.
    pub depth: UsualLength,
    /// How much wider than the guest it is.
    pub fit: UsualLength,
}

const FIT: UsualLength = UsualLength::new("dado fit", (1, 128), (1, 5), COMMON);

const DADO: Housing = Housing { depth: UsualLength::new("dado depth", (1, 4), (6, 1), COMMON), fit: FIT };

/// Boards that are housed from both faces keep half their wood between the two.
const FROM_BOTH_FACES: Housing = Housing {
    depth: UsualLength::new(
        "dado depth in a divider or shelf",
        (3, 16),
        (4, 1),
        Source::common("common practice, no source: at most a quarter from each face"),
    ),
    fit: FIT,
};

const OF_A_BACK: Housing = Housing {
    depth: UsualLength::new("depth of the housing", (1, 4), (6, 1), COMMON),
    fit: UsualLength::new("fit of the groove", (1, 128), (1, 5), COMMON),
};

const TENON: UsualLength = UsualLength::new("length of a tenon", (1, 1), (25, 1), COMMON);

macro_rules! joins {
    ($($(#[doc = $doc:literal])+ $handle:ident: $guest:literal to $host:literal with [$($joint:literal),+] $($form:ident($usual:expr))?;)+) => {
        /// Every join that can be stated.
        pub static JOINS: &[JoinSpec] = &[$(JoinSpec {
            guest: $guest,
            host: $host,
            joints: &[$($joint),+],
            doc: concat!($($doc),+).trim_ascii(),
            depth: depth!($($form($usual))?),
            fit: fit!($($form($usual))?),
        },)+];

        $(
            $(#[doc = $doc])+
            #[deny(dead_code, reason = "a join that no reader reads")]
            pub(crate) static $handle: Joined<form!($($form)?)> =
                Joined { guest: $guest, host: $host, usual: sizes!($($usual)?) };
        )+
    };
}

macro_rules! form {
    () => {
        ()
    };
    (housed) => {
        Housing
    };
    (deep) => {
        UsualLength
    };
}

macro_rules! sizes {
    () => {
        ()
    };
    ($usual:expr) => {
        $usual
    };
}

macro_rules! depth {
    () => {
        None
    };
    (housed($usual:expr)) => {
        Some($usual.depth)
    };
    (deep($usual:expr)) => {
        Some($usual)
    };
}

macro_rules! fit {
    (housed($usual:expr)) => {
        Some($usual.fit)
    };
    ($($other:tt)*) => {
        None
    };
}

joins! {
    /// a row into each end; three glued faces each
    SHELF_TO_SIDE: "shelf" to "side" with ["dado"] housed(DADO);
    /// a row into each end; three glued faces each
    SHELF_TO_DIVIDER: "shelf" to "divider" with ["dado"] housed(FROM_BOTH_FACES);
    /// a row into each end; three glued faces each
    DIVIDER_TO_SHELF: "divider" to "shelf" with ["dado"] housed(FROM_BOTH_FACES);
    /// a row into each end; two glued faces each; as deep as the dados of the shelves where no `depth` is stated
    TOP_TO_SIDE: "top" to "side" with ["rabbet"];
    /// a row along each side; none where grooves hold it
    BACK_TO_SIDE: "back" to "side" with ["rabbet", "groove", "butt"] housed(OF_A_BACK);
    /// a row into each end
    STRETCHER_TO_SIDE: "stretcher" to "side" with ["butt"];
    /// a row into each end
    CLEAT_TO_SIDE: "cleat" to "side" with ["butt"];
    /// a row along the cleat; its top is glued
    CLEAT_TO_SHELF: "cleat" to "shelf" with ["butt"];
    /// cleats and rear stretchers: a screw in each stud that a driver reaches, or a row of plugs
    CLEAT_TO_WALL: "cleat" to "wall" with ["butt"];
    /// the ribs of a plinth: a row into each end
    RIB_TO_RAIL: "rib" to "rail" with ["butt"];
    /// a row along each rail of the plinth, from it into the carcass
    PLINTH_TO_CARCASS: "plinth" to "carcass" with ["butt"];
    /// a row along each side, from it into the counter
    COUNTER_TO_SIDE: "counter" to "side" with ["butt"];
    /// a row along each strip and rail, a row into each side that a stile covers; all is glued
    FACING_TO_CARCASS: "facing" to "carcass" with ["butt"];
    /// the facing is a frame, see below; a row into each end where a nail or screw is stated
    RAIL_TO_STILE: "rail" to "stile" with ["tenon", "butt"] deep(TENON);
    /// the four corners of a drawer's box: a row into each
    BOX_TO_BOX: "box" to "box" with ["butt"];
    /// a row along the front of a drawer, from within its box
    FRONT_TO_BOX: "front" to "box" with ["butt"];
    /// two screws at each of four heights in a seam
    UNIT_TO_UNIT: "unit" to "unit" with ["butt"];
}
