//! Carcasses and what belongs to one: back, base, counter, cleats, stretchers.

use super::{
    COMMON, FILE, KindSpec, MEMORY, Naming, Needed, Optional, Property, PropertySpec, Source, Takes, Usual,
    UsualLength, Usually, Without, Written, inches, mm, plain, read,
};
use crate::quantity::Dim;

words! {
    /// Where a stretcher stands.
    StretcherAt { Front = "front", Rear = "rear" }
}

words! {
    /// What a carcass may have from `each`, and take back.
    TakenBack {
        Top = "top",
        Back = "back",
        Counter = "counter",
        Doors = "doors",
        Drawers = "drawers",
        Toe = "toe",
        Plinth = "plinth",
        Cleat = "cleat",
        Stretcher = "stretcher",
        Edge = "edge",
        Hole = "hole",
        Follow = "follow",
    }
}

kind! {
    /// a carcass that stands alone: two sides, and what is held between them
    CARCASS: Carcass = "carcass", Naming::Needed, text: true, within: [FILE];
    /// the sheet it is cut from
    stock: member("sheet"), needed_where("where there is more than one", "stock = ply");
    /// the lot of that sheet, where it has several
    lot: member("lot"), optional;
    /// over the outer faces of the sides; in a run also a share of what is left over
    width: share, needed_where("where no `clear` is", "width = 32\"", "width = 800mm"), usually (Usually::wide([inches(1, 1), inches(144, 1)], [mm(30), mm(3600)]));
    /// between the inner faces of the sides; stated in place of `width`
    clear: positive, optional, usually (Usually::wide([inches(1, 1), inches(144, 1)], [mm(30), mm(3600)]).called("clear width"));
    /// from the bottom end of the sides to their top end; a `plinth` under them and a `counter` on them count
    height: positive, needed_where("where it does not `follow` the ceiling", "height = 84\"", "height = 2100mm"), usually (Usually::wide([inches(4, 1), inches(144, 1)], [mm(100), mm(3600)]));
    /// of sides and shelves, without what is fixed to the front edges
    depth: positive, needed("depth = 11 1/4\"", "depth = 300mm"), usually (Usually::wide([inches(5, 2), inches(36, 1)], [mm(60), mm(900)]));
    /// the story stick whose marks carry its shelves
    shelves: member("stick"), needed_where("where it has no `shelf` of its own", "shelves = lines");
    /// marks of the stick that this unit leaves out
    skip: names, optional;
    /// what `each` gives it and it has not
    without: choices(TakenBack), optional;
    /// what a shelf carries: `books` (50 lb/ft2), `other` (40 lb/ft2), or a weight per length; the two classes are those that the
    /// Architectural Woodwork Standards 2009 have for adjustable shelves, taken for housed ones too
    load: load, optional;
    /// in how many stages its housed joints are glued, each within the open time of the glue
    stages: count, follows("one");
}

kind! {
    /// a carcass of a run
    UNIT: Unit = "unit", Naming::Optional, text: true, within: ["run"];
    /// where it hangs on the wall: from the level line to the bottom end of its sides
    foot: positive, follows("it stands on the floor"), usually (Usually::wide([inches(6, 1), inches(120, 1)], [mm(150), mm(3000)]));
    /// where it hangs: the spaces and units of its run that it hangs over, side by side: its place and its width come from there
    over: names, needed_where("where it has a `foot`", "over = [door]");
    /// where it hangs: left open at each side at which a unit stands beside it, or a wall, so that it goes in
    play: not_negative, length("play beside a unit that hangs", (1, 16), (3, 2), COMMON), usually (Usually::between([inches(1, 32), inches(1, 8)], [mm(1), mm(3)], COMMON).doubted([inches(1, 128), inches(1, 2)], [Written { value: (2, 10), unit: "mm" }, mm(12)]));
}

/// A carcass in a run: what may be stated in a carcass, and where it hangs.
pub(super) const OF_RUN: KindSpec = KindSpec { properties: &OF_UNIT, ..Unit::SPEC };

const OF_UNIT: [PropertySpec; Carcass::SPEC.properties.len() + Unit::SPEC.properties.len()] =
    both(Carcass::SPEC.properties, Unit::SPEC.properties);

/// The properties of two kinds, one behind the other.
#[allow(clippy::indexing_slicing, reason = "worked out by the compiler, which refuses a place outside")]
const fn both<const N: usize>(first: &[PropertySpec], then: &[PropertySpec]) -> [PropertySpec; N] {
    let mut all = [first[0]; N];
    let mut at = 0;
    while at < N {
        all[at] = if at < first.len() { first[at] } else { then[at - first.len()] };
        at += 1;
    }
    all
}

pub(super) const TOP: KindSpec = KindSpec {
    word: "top",
    doc: "a shelf at the ends of the sides, in a rabbet, so that it is flush with them",
    naming: Naming::Alone,
    text: false,
    within: &["unit", "carcass"],
    properties: &[],
    open: None,
};

kind! {
    /// the unit follows the ceiling of its wall: without a `height` it is as high as fits under that, and under a `slope` the upper
    /// corners of its sides are cut along it and its shelves end before it
    FOLLOW: Follow = "follow", Naming::Alone, text: false, within: ["unit"];
    /// what stays open under the ceiling, plumb
    gap: positive, length("gap under the ceiling", (1, 2), (12, 1), COMMON), usually (Usually::wide([inches(1, 8), inches(12, 1)], [mm(3), mm(300)]));
}

kind! {
    /// a strip on the raw front edges of sides, shelves, dividers and top, where no facing stands before them; the `depth` of the
    /// carcass counts it
    EDGE: Edge = "edge", Naming::Alone, text: false, within: ["unit", "carcass"];
    /// what it is
    stock: member("tape"), needed("stock = iron_on");
}

kind! {
    /// a hole for cables or a pipe, bored through one part or through several that lie behind each other
    HOLE: Hole = "hole", Naming::Needed, text: true, within: ["unit", "carcass"];
    /// what it goes through: `left` or `right` for a side, `back`, `counter`, `top`, or a shelf by its name
    through: names, needed("through = [back]");
    /// its width
    diameter: positive, needed("diameter = 2 3/8\"", "diameter = 60mm"), usually (Usually::wide([inches(1, 4), inches(8, 1)], [mm(6), mm(200)]));
    /// from the left face of the unit to its middle; of a side it is nothing
    left: positive, needed_where("in a shelf, a back, a counter or a top", "left = 6\"", "left = 150mm");
    /// from the wall to its middle
    off: positive, needed_where("in a shelf, a side, a counter or a top", "off = 2\"", "off = 50mm");
    /// from the bottom end of the sides to its middle
    bottom: positive, needed_where("in a back or a side", "bottom = 20\"", "bottom = 500mm");
    /// over the flange of the grommet that lines it, which is bought
    grommet: positive, follows("it has none"), usually (Usually::wide([inches(3, 8), inches(10, 1)], [mm(8), mm(250)]));
}

kind! {
    /// a panel behind the shelves, from the underside of the lowest one to the ends of the sides: in rabbets of the sides, or
    /// as `join back to side` says
    BACK: Back = "back", Naming::Alone, text: false, within: ["unit", "carcass"];
    /// the sheet it is cut from
    stock: member("sheet"), needed("stock = thin_ply");
    /// from the rear edges to it, where it stands in grooves
    set_in: positive, length("set in", (1, 2), (12, 1), COMMON), usually (Usually::wide([inches(1, 8), inches(4, 1)], [mm(3), mm(100)]));
}

kind! {
    /// a panel on the ends of the sides: a counter, a seat or the top of a desk, in a run over several units and spaces; the
    /// `height` of what it lies on counts it, and the sides are shorter
    COUNTER: Counter = "counter", Naming::Alone, text: false, within: ["unit", "carcass", "run"];
    /// the sheet it is cut from
    stock: member("sheet"), follows("that of the carcass, in a run that of its first unit");
    /// in a run: the units and spaces that it lies over, side by side
    on: names, follows("all of them");
    /// how far it stands out at each end that meets no wall
    ends: not_negative, follows("not at all"), usually (Usually::wide([inches(1, 8), inches(18, 1)], [mm(3), mm(450)]).called("overhang"));
    /// how far it stands out before the front edges, or before the facing
    over: not_negative, follows("not at all"), usually (Usually::wide([inches(1, 8), inches(18, 1)], [mm(3), mm(450)]).called("overhang"));
    /// what stays open between it and the wall, for cables
    gap: not_negative, follows("nothing"), usually (Usually::wide([inches(1, 8), inches(8, 1)], [mm(3), mm(200)]));
}

kind! {
    /// a notch at the lower front corner of both sides, so that toes have room
    TOE: Toe = "toe", Naming::Alone, text: false, within: ["unit", "carcass"];
    /// from the bottom end of the sides; the bottom shelf lies over it
    height: positive, needed("height = 3 1/2\"", "height = 90mm"), usually (
        Usually::between([inches(3, 1), inches(4, 1)], [mm(75), mm(100)], MEMORY).doubted([inches(3, 2), inches(12, 1)], [mm(40), mm(300)]));
    /// from the front edge
    depth: positive, length(
        "toe space depth", (3, 1), (75, 1), Source::common("common practice, no source: toe space")
    ), usually (Usually::between([inches(5, 2), inches(3, 1)], [mm(65), mm(75)], MEMORY));
}

kind! {
    /// a separate base: a frame of rails and ribs that the carcass stands on; the `height` of the carcass counts it, and the sides are
    /// shorter
    PLINTH: Plinth = "plinth", Naming::Alone, text: false, within: ["unit", "carcass"];
    /// from the level line to the bottom end of the sides
    height: positive, needed("height = 3 1/2\"", "height = 90mm"), usually (Usually::wide([inches(1, 4), inches(24, 1)], [mm(5), mm(600)]));
    /// from the front edges of the sides to its front
    set_back: positive, follows("they are flush"), usually (
        Usually::between([inches(5, 2), inches(3, 1)], [mm(65), mm(75)], MEMORY)
    );
    /// the sheet it is cut from
    stock: member("sheet"), follows("that of the carcass");
    /// the most from one rib to the next
    ribs: positive, length(
        "from rib to rib", (24, 1), (600, 1), Source::common("common practice, no source: a rib every 24 in or 600 mm")
    ), usually (Usually::wide([inches(6, 1), inches(48, 1)], [mm(150), mm(1200)]).called("distance from rib to rib"));
}

kind! {
    /// a strip of the sheet under the rear edge of every shelf but the bottom one, between the sides
    CLEAT: Cleat = "cleat", Naming::Alone, text: false, within: ["unit", "carcass"];
    /// how far it hangs under the shelf
    height: positive, needed("height = 2 1/2\"", "height = 60mm"), usually (Usually::wide([inches(3, 4), inches(8, 1)], [mm(18), mm(200)]));
}

kind! {
    /// a strip of the sheet between the sides: under the bottom shelf, or on the top one
    STRETCHER: Stretcher = "stretcher", Naming::OneOf(&["bottom", "top"]), text: false, within: ["unit", "carcass"];
    /// of the strip
    height: positive, follows("up to the bottom shelf, or from the top one to the ends of the sides"), usually (Usually::wide([inches(3, 4), inches(16, 1)], [mm(18), mm(400)]));
    /// where one stands
    at: choices(StretcherAt), follows("at both");
}
