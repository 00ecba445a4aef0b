//! The way in: routes and their legs.

use super::{
    KindSpec, Naming, Needed, Optional, Property, PropertySpec, Source, Takes, Usual, UsualLength, Usually,
    Without, inches, mm, plain, read,
};
use crate::quantity::Dim;

words! {
    /// How far a leaf opens.
    Opens { Flat = "flat", RightAngle = "right_angle" }
}

words! {
    /// How a stair turns at its landing.
    TurnOf { Straight = "straight", Quarter = "quarter", Half = "half" }
}

/// The source of what a leaf takes of a door's width.
const LEAF: Source = Source::common("common practice, no source: the stop and the leaf's edge");

/// What a leaf takes of a door's width where it opens flat.
pub(crate) const LEAF_FLAT: UsualLength = UsualLength::new("what the leaf takes", (2, 1), (50, 1), LEAF);

/// What it takes where it opens to a right angle.
pub(crate) const LEAF_SQUARE: UsualLength = UsualLength::new("what the leaf takes", (3, 1), (75, 1), LEAF);

pub(super) const ROUTE: KindSpec = KindSpec {
    word: "route",
    doc: "the way in, leg by leg in the order of the text, from where the units are built; of several routes to a room one \
          is enough",
    naming: Naming::Needed,
    text: true,
    within: &["room"],
    properties: &[],
    open: None,
};

kind! {
    /// a leg of a route: a door or a narrow place that units are carried straight through
    DOOR: Door = "door", Naming::Optional, text: true, within: ["route"];
    /// clear width
    width: positive, needed_where("where no `leaf` is", "width = 30\"", "width = 760mm"), usually (Usually::wide([inches(6, 1), inches(240, 1)], [mm(150), mm(6000)]));
    /// in place of it the width of the leaf: 2 in (50 mm) more than the clear width
    leaf: positive, optional, usually (Usually::wide([inches(6, 1), inches(60, 1)], [mm(150), mm(1500)]));
    /// how far the leaf opens; at a right angle it takes another 1 in (25 mm)
    opens: choice(Opens), word(Opens::Flat);
    /// clear height
    height: positive, needed("height = 80\"", "height = 2000mm"), usually (Usually::wide([inches(6, 1), inches(180, 1)], [mm(150), mm(4500)]));
}

kind! {
    /// a leg of a route: a right-angled corner of two halls, or out of a hall through a door in its side
    CORNER: CornerLeg = "corner", Naming::Optional, text: true, within: ["route"];
    /// width of the hall in which one comes
    entry: positive, needed("entry = 36\"", "entry = 900mm"), usually (Usually::wide([inches(18, 1), inches(400, 1)], [mm(450), mm(10000)]));
    /// width of the hall or door in which one goes on
    exit: positive, needed("exit = 36\"", "exit = 900mm"), usually (Usually::wide([inches(18, 1), inches(400, 1)], [mm(450), mm(10000)]));
    /// the lowest ceiling, lamp or lintel over the corner
    ceiling: positive, needed("ceiling = 96\"", "ceiling = 2400mm"), usually (Usually::wide([inches(30, 1), inches(240, 1)], [mm(750), mm(6000)]));
}

kind! {
    /// a leg of a route: a flight of stairs, and the landing at its end where it turns
    STAIR: Stair = "stair", Naming::Optional, text: true, within: ["route"];
    /// clear width of the flight, above the handrail
    width: positive, needed("width = 36\"", "width = 900mm"), usually (
        Usually::at_least(inches(36, 1), mm(900), Source::published("IRC R311.7.1")).doubted([inches(10, 1), inches(240, 1)], [mm(250), mm(6000)]));
    /// of a step
    rise: positive, needed("rise = 7 1/2\"", "rise = 190mm"), usually (Usually::wide([inches(4, 1), inches(12, 1)], [mm(100), mm(300)]));
    /// of a step
    going: positive, needed("going = 10\"", "going = 250mm"), usually (Usually::wide([inches(6, 1), inches(20, 1)], [mm(150), mm(500)]));
    /// plumb over the nosings, at its least
    headroom: positive, needed("headroom = 80\"", "headroom = 2000mm"), usually (
        Usually::at_least(inches(80, 1), mm(2000), Source::published("IRC R311.7.2")).doubted([inches(30, 1), inches(300, 1)], [mm(750), mm(7500)]));
    /// at the landing
    turn: choice(TurnOf), word(TurnOf::Straight);
    /// clear width of the flight after the landing
    onward: positive, follows("as the first one"), usually (Usually::wide([inches(10, 1), inches(240, 1)], [mm(250), mm(6000)]));
    /// at a half turn: from the top step to the wall
    landing: positive, needed_where("at a half turn", "landing = 36\"", "landing = 900mm"), usually (Usually::wide([inches(18, 1), inches(400, 1)], [mm(450), mm(10000)]));
    /// over the landing
    ceiling: positive, follows("the headroom"), usually (Usually::wide([inches(30, 1), inches(300, 1)], [mm(750), mm(7500)]));
}
