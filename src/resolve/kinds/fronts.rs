//! What closes a carcass or an opening of it: doors and drawers, and what they hang and run on.

use super::{
    COMMON, FILE, KindSpec, Naming, Needed, Optional, Property, PropertySpec, Source, Takes, Usual,
    UsualLength, Usually, Without, inches, mm, plain, read, written,
};
use crate::quantity::Dim;

words! {
    /// How a front stands at its opening.
    Fit { Inset = "inset", Overlay = "overlay" }
}

words! {
    /// The edge that a door hangs on.
    Hung { Left = "left", Right = "right" }
}

/// What stays open between doors and the front edges, for their hinges.
pub(crate) const STAND_OFF: UsualLength =
    UsualLength::new("from the front edges to the doors", (1, 16), (2, 1), COMMON);

/// How deep the bottom of a drawer stands in the groove round it.
pub(crate) const BOTTOM_GROOVE: UsualLength =
    UsualLength::new("groove for the bottom of a drawer", (1, 4), (6, 1), COMMON);

/// From the lower edge of a drawer's box to that groove.
pub(crate) const BOTTOM_SET_IN: UsualLength =
    UsualLength::new("from the lower edge to the groove of the bottom", (1, 2), (12, 1), COMMON);

/// How far the bottom stays from the end of the groove at each of its edges.
pub(crate) const BOTTOM_PLAY: UsualLength =
    UsualLength::new("play of the bottom in each groove", (1, 32), (1, 2), COMMON);

/// What stays open under the box of a drawer.
pub(crate) const UNDER_BOX: UsualLength =
    UsualLength::new("room under the box of a drawer", (1, 2), (12, 1), COMMON);

/// What stays open over it, so that it is tipped in and out.
pub(crate) const OVER_BOX: UsualLength =
    UsualLength::new("room over the box of a drawer", (3, 4), (20, 1), COMMON);

kind! {
    /// doors side by side: before the front edges, from the underside of the bottom shelf to the ends of the sides; or, where
    /// `between` or `fit` is stated and in a bay, in or over one opening, that of the facing where one stands before it
    DOORS: Doors = "doors", Naming::Perhaps, text: false, within: ["unit", "carcass", "bay"];
    /// how many
    count: whole, needed("count = 2");
    /// the shelf on which the opening begins and the one under which it ends, by name; `top` is the top, or the ends of the sides
    between: names, follows("from the lowest shelf to the top, in a bay all of it");
    /// within the opening, flush with its front, or over its edges; doors before the whole front have none
    fit: choice(Fit), follows("`inset` where `between` is stated and in a bay, else before the whole front");
    /// what stays open between two of them and at the edges: of the opening where they are inset, else at the outer faces and over them
    reveal: positive, length("reveal of the doors", (1, 8), (3, 1), COMMON), usually (Usually::wide([inches(1, 32), inches(1, 2)], [mm(1), mm(12)]));
    /// how far they lie over the edges of the opening, where they are overlaid
    overlay: positive, length("overlay", (1, 2), (13, 1), COMMON), usually (Usually::wide([inches(1, 8), inches(3, 1)], [mm(3), mm(75)]));
    /// the sheet they are cut from
    stock: member("sheet"), follows("that of the carcass");
    /// a strip round all edges of each; the wood is as much smaller as the tape states a thickness
    edge: member("tape"), follows("they stay as they are cut");
    /// what they hang on: how many each needs follows from its height and weight
    hinge: member("hinge"), follows("chosen by the door");
    /// the edge that one door hangs on; of several every second one hangs on the right
    hung: choice(Hung), follows("on the left");
    /// what each is pulled by
    pull: member("pull"), follows("nothing");
}

kind! {
    /// drawers one over the other in one opening, that of the facing where one stands before it: each a box of four sides with its
    /// bottom in grooves, and a front screwed on
    DRAWERS: Drawers = "drawers", Naming::Perhaps, text: false, within: ["unit", "carcass", "bay"];
    /// how many, all of one height
    count: whole, needed("count = 3");
    /// the shelf on which the opening begins and the one under which it ends, by name; `top` is the top, or the ends of the sides
    between: names, follows("from the lowest shelf to the top, in a bay all of it");
    /// whether the fronts stand within the opening, flush with its front, or over its edges
    fit: choice(Fit), word(Fit::Inset);
    /// what stays open between two fronts, and at the edges of the opening where they are inset
    reveal: positive, length("reveal of the drawers", (1, 8), (3, 1), COMMON), usually (Usually::wide([inches(1, 32), inches(1, 2)], [mm(1), mm(12)]));
    /// how far fronts lie over the edges of the opening, where they are overlaid
    overlay: positive, length("overlay", (1, 2), (13, 1), COMMON), usually (Usually::wide([inches(1, 8), inches(3, 1)], [mm(3), mm(75)]));
    /// the sheet the fronts are cut from
    stock: member("sheet"), follows("that of the carcass");
    /// a strip round all edges of each front; the wood is as much smaller as the tape states a thickness
    edge: member("tape"), follows("they stay as they are cut");
    /// the sheet of the four sides of each box
    r#box: member("sheet"), follows("that of the carcass");
    /// in place of that sheet: the board of the four sides
    board: member("board"), optional;
    /// the sheet of the bottoms
    bottom: member("sheet"), needed("bottom = thin_ply");
    /// how high each box is
    height: positive, follows("what is open behind its front, less 1/2\" (12 mm) under it and 3/4\" (20 mm) over it"), usually (Usually::wide([inches(3, 2), inches(16, 1)], [mm(40), mm(400)]));
    /// what they run on: the longest that the unit has room for
    slide: member("slide"), needed("slide = runner");
    /// what each is pulled by
    pull: member("pull"), follows("nothing");
}

kind! {
    /// a hinge of doors
    HINGE: HingeKind = "hinge", Naming::Needed, text: true, within: [FILE];
    /// the width of the hole in the door for its cup
    cup: positive, follows("it has no cup"), usually (Usually::wide([inches(1, 2), inches(2, 1)], [mm(12), mm(50)]).called("width of a cup"));
    /// how deep that hole is
    depth: positive, length("depth of a hole for a cup", (1, 2), (13, 1), COMMON), usually (Usually::wide([inches(1, 4), inches(1, 1)], [mm(5), mm(25)]));
    /// from the edge of the door to the middle of the hole
    set_back: positive, length("from the edge of the door to a cup", (7, 8), (22, 1), COMMON), usually (Usually::wide([inches(3, 8), inches(3, 1)], [mm(10), mm(75)]));
    /// from each end of the door to the middle of its first hinge
    ends: positive, length("from the end of the door to a hinge", (4, 1), (100, 1), COMMON), usually (Usually::wide([inches(1, 1), inches(12, 1)], [mm(25), mm(300)]).called("distance from the end"));
    /// what each of them carries of a door
    carries: amount(WEIGHT), follows("13 lb (6 kg): common practice, no source"), usually (Usually::wide([written(1, "lb"), written(60, "lb")], [written(1, "kg"), written(30, "kg")]));
    /// of one
    price: price(MONEY), optional, usually (Usually::wide_in_both([written(1, "USD"), written(60, "USD")]));
}

kind! {
    /// a pair of slides that a drawer runs on, as long as the drawer is deep
    SLIDE: Slide = "slide", Naming::Needed, text: true, within: [FILE];
    /// lengths in which it is sold
    lengths: lengths, needed("lengths = [14\", 18\", 22\"]", "lengths = [350mm, 450mm, 550mm]"), usually (Usually::wide([inches(6, 1), inches(36, 1)], [mm(150), mm(900)]).called("length of a slide"));
    /// what it takes at each side of the box
    play: positive, length("room of a slide beside the box", (1, 2), (13, 1), COMMON), usually (Usually::wide([inches(1, 16), inches(2, 1)], [mm(1), mm(50)]));
    /// of a pair
    price: price(MONEY), optional, usually (Usually::wide_in_both([written(1, "USD"), written(200, "USD")]));
}

kind! {
    /// a knob or handle of doors and drawers
    PULL: Pull = "pull", Naming::Needed, text: true, within: [FILE];
    /// how far it stands out
    out: positive, length("how far a pull stands out", (5, 4), (32, 1), Source::common("common practice, no source: a knob or a hand's room")), usually (Usually::wide([inches(1, 4), inches(4, 1)], [mm(5), mm(100)]));
    /// of one
    price: price(MONEY), optional, usually (Usually::wide_in_both([written(1, "USD"), written(100, "USD")]));
}
