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
    length: positive, optional;
}

kind! {
    /// what happens at an end of a run
    END: End = "end", Naming::OneOf(&["left", "right"]), text: false, within: ["run"];
    /// in a run without a wall: a wall takes what is left over; an open end takes none
    against: choice(Against), word(Against::Wall);
    /// wanted between the outer unit and the end of the run
    gap: not_negative, follows("as the stile, lap and sides need it; at an open end none");
    /// in a run without facing: the board of the strip that closes the gap, scribed to the wall
    filler: member("board"), optional;
}

kind! {
    /// strips, rails and stiles before the front edges of a run
    FACING: Facing = "facing", Naming::Alone, text: false, within: ["run"];
    /// what it is made of
    stock: member("board"), needed("stock = poplar");
    /// of all its parts; without it that of the board
    thickness: positive, needed_where("where the board states none", "thickness = 3/4\"", "thickness = 20mm");
    /// over the seam of two units; wall ends are made to look as wide
    stile: positive, optional;
    /// how far a stile reaches over the opening
    lap: not_negative, follows("what the stile over a seam leaves"), usually (
        Usually::between([inches(1, 8), inches(3, 16)], [mm(3), mm(5)], COMMON)
    );
    /// the stile before a divider
    divider: positive, follows("as wide as the divider and both laps");
    /// before every shelf but the bottom and the top one, flush with its top
    strip: positive, optional, usually (Usually::between([inches(5, 4), inches(2, 1)], [mm(32), mm(50)], COMMON));
    /// before the top, flush with the ends of the sides
    top_rail: positive, optional;
    /// from the floor to the top of the bottom shelf
    bottom_rail: choice(ToFloor), optional;
}

kind! {
    /// what a blank has over its finished size where it is fitted on site
    SCRIBE: Scribe = "scribe", Naming::Alone, text: false, within: ["facing"];
    /// over the widest place
    spare: not_negative, length(
        "spare for scribing", (1, 4), (5, 1), Source::common("common practice, no source: 1/4 in or 5 mm over the widest place")
    );
    /// blanks are rounded up to it
    step: positive, length("step of blanks", (1, 8), (5, 1), COMMON);
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
    depth: positive, needed("depth = 16\"", "depth = 400mm");
}
