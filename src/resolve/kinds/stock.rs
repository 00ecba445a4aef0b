//! What parts are cut from: sheets, boards, mouldings.

use super::{
    COMMON, FILE, KindSpec, MEMORY, Naming, Needed, Optional, Property, PropertySpec, Source, Takes, Usual,
    UsualLength, Usually, Without, inches, mm, plain, read, written,
};
use crate::quantity::Dim;

words! {
    /// Which way the grain runs.
    Grain { Length = "length", None = "none" }
}

kind! {
    /// a sheet good that parts are cut from
    SHEET: Sheet = "sheet", Naming::Needed, text: true, within: [FILE];
    /// length along the grain x width, as sold
    size: size, optional;
    /// how much smaller than its size a sheet may be sold
    tolerance: not_negative, length(
        "sheet tolerance", (1, 16), (7, 2),
        Source::published("PS 1-19: +0 -1/16 in"), Source::memory("EN 315: +-3.5 mm; from memory: verify")
    );
    /// the thickness by which it is sold
    nominal: positive, optional;
    /// the thickness by caliper; without it the nominal one is taken, with a warning
    thickness: positive, needed_where("where it has no `nominal` and no lots", "thickness = 23/32\"", "thickness = 17.6mm");
    /// along the length of the sheet, or none
    grain: choice(Grain), word(Grain::Length);
    /// what the first cut takes off the reference edge
    skim: not_negative, optional, usually (Usually::between([inches(1, 8), inches(1, 4)], [mm(3), mm(6)], COMMON));
    /// weight of a volume
    density: number(DENSITY), optional, usually (Usually::within([written(33, "lb/ft3"), written(48, "lb/ft3")], MEMORY));
    /// modulus of elasticity along the grain
    stiffness: amount(AREA_LOAD), optional;
    /// shear modulus in the plane of the sheet
    twist: amount(AREA_LOAD), optional;
    /// of one sheet
    price: price(MONEY), optional;
    /// how many whole sheets are there already
    on_hand: count, count(0);
}

kind! {
    /// another size in which a sheet is sold
    SOLD: Sold = "sold", Naming::Needed, text: true, within: ["sheet"];
    /// length along the grain x width, as sold
    size: size, needed("size = 30\" x 24\"", "size = 800mm x 600mm");
    /// of one sheet of that size
    price: price(MONEY), optional;
}

kind! {
    /// what was left of a sheet or a board and is used first
    OFFCUT: Offcut = "offcut", Naming::Needed, text: true, within: ["sheet", "lot", "board"];
    /// length along the grain x width
    size: size, needed("size = 30\" x 24\"", "size = 800mm x 600mm");
    /// how many there are
    count: count, count(1);
}

kind! {
    /// sheets bought together, with their own thickness
    LOT: Lot = "lot", Naming::Needed, text: true, within: ["sheet"];
    /// the thickness of this lot by caliper
    thickness: positive, follows("the lot does not count");
    /// how many sheets of this lot there are
    count: count, follows("as many as needed");
}

kind! {
    /// solid wood for facing and trim
    BOARD: Board = "board", Naming::Needed, text: true, within: [FILE];
    /// as dressed
    thickness: positive, optional;
    /// weight of a volume
    density: amount(DENSITY), optional;
    /// modulus of elasticity along the grain
    stiffness: amount(AREA_LOAD), optional;
    /// change of a width for each per cent of moisture, in parts of the width
    swell: number(NONE), optional;
    /// what is bought over the blanks and their kerfs
    waste: number(NONE), optional, usually (Usually::within([written(20, "%"), written(30, "%")], COMMON));
    /// of the boards as sold, from which parts are ripped
    width: positive, follows("boards are bought as wide as the parts");
    /// in which it is sold
    lengths: lengths, optional;
    /// by length, by face or by board feet
    price: price(LINE_PRICE, AREA_PRICE, VOLUME_PRICE), optional;
}

kind! {
    /// a moulded stick, such as crown
    MOULDING: Moulding = "moulding", Naming::Needed, text: true, within: [FILE];
    /// of its face, lying flat
    width: positive, needed("width = 3 5/8\"", "width = 90mm");
    /// the angle between its back and the wall
    spring: amount(ANGLE), needed("spring = 38 deg"), usually (Usually::within([written(38, "deg"), written(45, "deg")], COMMON));
    /// in which it is sold
    lengths: lengths, optional;
    /// by length
    price: price(LINE_PRICE), optional;
}
