//! Runs: sticks, ends, and what stands before and over the units.

use super::{
    COMMON, FILE, KindSpec, Naming, Needed, Optional, Property, PropertySpec, Source, Takes, Usual,
    UsualLength, Usually, Without, inches, mm, plain, read,
};
use crate::quantity::Dim;

words! {
    /// What the end of a run without a wall is against.
    Against { Wall = "wall", Open = "open" }
}

words! {
    /// Where the bottom rail ends below.
    ToFloor { ToFloor = "to_floor" }
}

pub(super) const STICK: KindSpec = KindSpec {
    word: "stick",
    doc: "a story stick: named heights of undersides, from the bottom end of the sides",
    naming: Naming::Needed,
    text: true,
    within: &[FILE],
    properties: &[],
    open: Some(Takes::Quantity(Dim::LENGTH)),
};

kind! {
    /// units that stand side by side, from left to right
    RUN: Run = "run", Naming::Needed, text: true, within: [FILE];
    /// the wall that it stands against, as `room.wall`
    along: member("wall"), optional;
    /// in place of a wall: the least length there is for units and end gaps
    length: positive, optional, usually (Usually::wide([inches(6, 1), inches(600, 1)], [mm(150), mm(15000)]));
    /// the lowest ceiling, lamp or beam where its units are stood up, if that is not along the run
    stood_up_under: positive, follows("the lowest ceiling along the run");
}

kind! {
    /// what happens at an end of a run
    END: End = "end", Naming::OneOf(&["left", "right"]), text: false, within: ["run"];
    /// a wall takes what is left over, an open end takes none; along a wall, `open` ends the run in mid-wall
    against: choice(Against), follows("what the wall has at that end; without a wall it is one");
    /// wanted between the outer unit and the end of the run; in mid-wall from the corner, at the back, half way up
    gap: not_negative, follows("as the stile, lap and sides need it; at an open end none, in mid-wall what is left over");
    /// the run along the wall beside this one that goes through to the corner: this one ends before its front, and its gap counts from
    /// there
    before: member("run"), optional;
    /// the stile at this end: at a wall it is made to look so wide, at an open end it is flush with the side and laps the opening
    stile: positive, follows("at a wall as wide as the one over a seam; at an open end the side and the lap"), usually (Usually::wide([inches(1, 2), inches(16, 1)], [mm(12), mm(400)]));
    /// in a run without facing: the board of the strip that closes the gap, scribed to the wall
    filler: member("board"), optional;
}

kind! {
    /// room that a run leaves between two units, or between one and an end: before a door or a window, for a machine, a heater or a
    /// desk. The run goes on behind it: one wall, one floor, one list of studs
    SPACE: Space = "space", Naming::Needed, text: true, within: ["run"];
    /// between the outer faces of the units beside it, at a wall where that is tightest; also a share of what is left over
    width: share, needed_where("where it stands before no `opening` and no `thing` stands in it", "width = 30\"", "width = 640mm"), usually (Usually::wide([inches(2, 1), inches(240, 1)], [mm(50), mm(6000)]));
    /// the door or window of the wall that it keeps free, as `room.wall.name`: place and width come from there, with the casing
    over: member("opening"), optional;
    /// the stile of the facing at each of its edges, flush with the side there; it laps the opening by the rest
    stile: positive, follows("the side and the lap"), usually (Usually::wide([inches(1, 2), inches(16, 1)], [mm(12), mm(400)]));
}

kind! {
    /// what stands in a space and must go in and out: a machine, a heater, a chest
    THING: Thing = "thing", Naming::Needed, text: true, within: ["space"];
    /// of it, as it stands
    width: positive, needed("width = 24\"", "width = 600mm"), usually (Usually::wide([inches(2, 1), inches(120, 1)], [mm(50), mm(3000)]));
    /// of it, as it stands
    height: positive, needed("height = 34\"", "height = 850mm"), usually (Usually::wide([inches(2, 1), inches(120, 1)], [mm(50), mm(3000)]));
    /// of it, from its rear to its front
    depth: positive, needed("depth = 24\"", "depth = 600mm"), usually (Usually::wide([inches(1, 1), inches(48, 1)], [mm(25), mm(1200)]));
    /// left free at each side of it and over it
    play: not_negative, length("play beside a thing", (1, 2), (10, 1), COMMON), usually (Usually::wide([inches(1, 8), inches(12, 1)], [mm(3), mm(300)]));
    /// left free between it and the wall: for hoses, a plug, a flap
    behind: not_negative, follows("it stands at the wall"), usually (Usually::wide([inches(1, 8), inches(16, 1)], [mm(3), mm(400)]));
}

kind! {
    /// strips, rails and stiles before the front edges of a run
    FACING: Facing = "facing", Naming::Alone, text: false, within: ["run"];
    /// what it is made of
    stock: member("board"), needed("stock = poplar");
    /// of all its parts; without it that of the board
    thickness: positive, needed_where("where the board states none", "thickness = 3/4\"", "thickness = 20mm"), usually (Usually::wide([inches(1, 4), inches(5, 2)], [mm(6), mm(65)]));
    /// over the seam of two units; wall ends are made to look as wide
    stile: positive, optional, usually (Usually::wide([inches(1, 2), inches(16, 1)], [mm(12), mm(400)]));
    /// how far a stile reaches over the opening
    lap: not_negative, follows("what the stile over a seam leaves"), usually (
        Usually::between([inches(1, 8), inches(3, 16)], [mm(3), mm(5)], COMMON).doubted([inches(1, 32), inches(3, 4)], [mm(1), mm(20)]));
    /// the stile before a divider
    divider: positive, follows("as wide as the divider and both laps"), usually (Usually::wide([inches(1, 2), inches(8, 1)], [mm(12), mm(200)]).called("stile before a divider"));
    /// before every shelf that has no rail before it, flush with its top
    strip: positive, optional, usually (Usually::between([inches(5, 4), inches(2, 1)], [mm(32), mm(50)], COMMON).doubted([inches(1, 2), inches(5, 1)], [mm(12), mm(125)]));
    /// before the top, flush with the ends of the sides
    top_rail: positive, optional, usually (Usually::wide([inches(3, 4), inches(18, 1)], [mm(18), mm(450)]));
    /// from the floor to the top of the bottom shelf
    bottom_rail: choice(ToFloor), optional;
}

kind! {
    /// what a blank has over its finished size where it is fitted on site
    SCRIBE: Scribe = "scribe", Naming::Alone, text: false, within: ["facing"];
    /// over the widest place
    spare: not_negative, length(
        "spare for scribing", (1, 4), (5, 1), Source::common("common practice, no source: 1/4 in or 5 mm over the widest place")
    ), usually (Usually::wide([inches(1, 32), inches(2, 1)], [mm(1), mm(50)]));
    /// blanks are rounded up to it
    step: positive, length("step of blanks", (1, 8), (5, 1), COMMON), usually (Usually::wide([inches(1, 32), inches(1, 1)], [mm(1), mm(25)]));
}

kind! {
    /// a moulding on the top rails, up to the ceiling
    CROWN: Crown = "crown", Naming::Alone, text: false, within: ["run"];
    /// what it is made of
    stock: member("moulding"), needed("stock = crown_moulding");
}

kind! {
    /// a panel on the ceiling over a run, where the ceiling is rough
    CEILING_PANEL: CeilingPanel = "ceiling_panel", Naming::Alone, text: false, within: ["run"];
    /// the sheet it is cut from
    stock: member("sheet"), needed_where("where there is more than one", "stock = ply");
    /// from the wall
    depth: positive, needed("depth = 16\"", "depth = 400mm"), usually (Usually::wide([inches(3, 1), inches(72, 1)], [mm(75), mm(1800)]));
    /// the adhesive between it and the ceiling, over all of it
    glue: member("glue"), optional;
    /// what holds it until that is hard: a row along each long edge
    nail: member("nail"), optional;
}
