//! What stands in an opening: shelves by their clear heights, bays, loose shelves, contents.

use super::{
    COMMON, FILE, KindSpec, Naming, Needed, Optional, Property, PropertySpec, Takes, Usual, UsualLength,
    Usually, Without, inches, mm, plain, read,
};
use crate::quantity::Dim;

kind! {
    /// a fixed shelf: in a unit with a stick, one of its marks and what stands over it; else it stands by the clear height over
    /// it, and the order of the text is from the bottom up
    SHELF: Shelf = "shelf", Naming::Needed, text: true, within: ["unit", "carcass", "bay"];
    /// the clear height over it
    clear: share, follows("an equal share of what is left over"), usually (Usually::wide([inches(3, 4), inches(96, 1)], [mm(20), mm(2400)]).called("clear height"));
    /// what it carries, where that differs from the unit's other shelves
    load: load, optional;
}

kind! {
    /// a part of the opening over a shelf; bays stand from left to right with a divider between each two
    BAY: Bay = "bay", Naming::Needed, text: true, within: ["shelf"];
    /// between its uprights
    width: share, follows("an equal share of what is left over"), usually (Usually::wide([inches(3, 4), inches(96, 1)], [mm(20), mm(2400)]));
    /// the clear height over its floor, where it has shelves of its own
    clear: share, follows("an equal share of what is left over"), usually (Usually::wide([inches(3, 4), inches(96, 1)], [mm(20), mm(2400)]).called("clear height"));
    /// what its floor carries
    load: load, optional;
}

kind! {
    /// loose shelves on pins in the opening over a shelf or in a bay; all holes lie on one grid from the bottom end of the unit
    ADJUSTABLE: Adjustable = "adjustable", Naming::Alone, text: false, within: ["shelf", "bay"];
    /// how many loose shelves
    count: whole, needed("count = 3");
    /// from hole to hole; that of the borer goes before the usual one
    pitch: positive, length("pitch of the holes", (1, 1), (32, 1), COMMON), usually (
        Usually::between([inches(1, 1), inches(2, 1)], [mm(25), mm(50)], COMMON).doubted([inches(3, 4), inches(3, 1)], [mm(24), mm(80)])
    );
    /// from the front edge of the side to the front row of holes
    front: positive, length("from the front edge to the row", (3, 2), (37, 1), COMMON), usually (Usually::wide([inches(1, 4), inches(8, 1)], [mm(6), mm(200)]).called("distance to the front row"));
    /// from the rear edge of the side to the rear row
    rear: positive, length("from the rear edge to the row", (3, 2), (37, 1), COMMON), usually (Usually::wide([inches(1, 4), inches(8, 1)], [mm(6), mm(200)]).called("distance to the rear row"));
    /// no hole is nearer to the shelf below or above
    margin: positive, length("room between a hole and the next shelf", (2, 1), (64, 1), COMMON), usually (Usually::wide([inches(1, 4), inches(24, 1)], [mm(6), mm(600)]));
    /// how deep a hole is bored
    hole_depth: positive, length("depth of a hole", (3, 8), (10, 1), COMMON), usually (Usually::wide([inches(1, 8), inches(1, 1)], [mm(3), mm(25)]).called("depth of a hole"));
    /// how much shorter a loose shelf is than the clear width
    play: positive, length("play of a loose shelf", (1, 8), (3, 1), COMMON), usually (Usually::wide([inches(1, 64), inches(1, 2)], [mm(1), mm(12)]));
    /// how much less deep it is than a fixed one
    set_back: positive, length("set back of a loose shelf", (1, 16), (2, 1), COMMON), usually (Usually::wide([inches(1, 64), inches(6, 1)], [mm(1), mm(150)]));
    /// height of a strip along its front edge, of the facing's board
    strip: positive, optional, usually (Usually::wide([inches(1, 2), inches(4, 1)], [mm(12), mm(100)]));
    /// what it lies on
    pin: member("pin"), optional;
}

words! {
    /// Who takes things from a shelf.
    ReachOf { Adult = "adult", Child3 = "child_3", Child5 = "child_5", Child9 = "child_9" }
}

kind! {
    /// what will stand on a shelf
    CONTENTS: Contents = "contents", Naming::Needed, text: true, within: ["unit", "carcass", "shelf", "bay"];
    /// in a unit: the shelves it may stand on
    on: names, follows("any");
    /// of the tallest
    height: positive, optional, usually (Usually::wide([inches(1, 4), inches(84, 1)], [mm(6), mm(2100)]));
    /// of the deepest
    depth: positive, optional, usually (Usually::wide([inches(1, 4), inches(48, 1)], [mm(6), mm(1200)]));
    /// of all of it, side by side
    length: positive, optional, usually (Usually::wide([inches(1, 2), inches(1200, 1)], [mm(12), mm(30000)]));
    /// who takes it down: an adult, or a child of 3 or 4, of 5 to 8, of 9 to 12 years
    reach: choice(ReachOf), word(ReachOf::Adult);
    /// what it is, from the library or your own: gives the height, depth and load that are not stated
    item: member("item"), optional;
}

kind! {
    /// a kind of thing that stands on shelves
    ITEM: Item = "item", Naming::Needed, text: true, within: [FILE];
    /// of the tallest
    height: positive, optional, usually (Usually::wide([inches(1, 4), inches(84, 1)], [mm(6), mm(2100)]));
    /// what it needs from the front of the shelf to the wall, or to the cleat
    depth: positive, optional, usually (Usually::wide([inches(1, 4), inches(48, 1)], [mm(6), mm(1200)]));
    /// of one, where it is so wide that this counts
    width: positive, optional, usually (Usually::wide([inches(1, 4), inches(96, 1)], [mm(6), mm(2400)]));
    /// what a full shelf of it weighs: the load of a shelf on which it stands and for which none is stated
    load: amount(LINE_LOAD), optional;
}
