//! What parts are cut from: sheets, boards, mouldings.

use super::{
    COMMON, FILE, KindSpec, MEMORY, Naming, Needed, Optional, Property, PropertySpec, Source, Takes, Usual,
    UsualLength, Usually, Without, Written, inches, mm, plain, read, written,
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
    size: size, optional, usually (Usually::wide([inches(6, 1), inches(170, 1)], [mm(150), mm(4300)]));
    /// how much smaller than its size a sheet may be sold
    tolerance: not_negative, length(
        "sheet tolerance", (1, 16), (7, 2),
        Source::published("PS 1-19: +0 -1/16 in"), Source::memory("EN 315: +-3.5 mm; from memory: verify")
    ), usually (Usually::wide([inches(1, 128), inches(1, 2)], [mm(0), mm(12)]));
    /// the thickness by which it is sold
    nominal: positive, optional, usually (Usually::wide([inches(1, 16), inches(5, 4)], [mm(2), mm(32)]).called("nominal thickness"));
    /// the thickness by caliper; without it the nominal one is taken, with a warning
    thickness: positive, needed_where("where it has no `nominal` and no lots", "thickness = 23/32\"", "thickness = 17.6mm"), usually (Usually::wide([inches(1, 16), inches(5, 4)], [mm(2), mm(32)]));
    /// along the length of the sheet, or none
    grain: choice(Grain), word(Grain::Length);
    /// what the first cut takes off the reference edge
    skim: not_negative, optional, usually (Usually::between([inches(1, 8), inches(1, 4)], [mm(3), mm(6)], COMMON).doubted([inches(1, 32), inches(1, 1)], [mm(1), mm(25)]));
    /// weight of a volume
    density: number(DENSITY), optional, usually (Usually::between(
        [written(33, "lb/ft3"), written(48, "lb/ft3")], [written(530, "kg/m3"), written(770, "kg/m3")], MEMORY
    ));
    /// modulus of elasticity along the grain
    stiffness: amount(AREA_LOAD), optional, usually (Usually::wide(
        [written(200_000, "psi"), written(3_000_000, "psi")], [written(1_400, "MPa"), written(21_000, "MPa")]
    ));
    /// shear modulus in the plane of the sheet
    twist: amount(AREA_LOAD), optional, usually (Usually::wide(
        [written(20_000, "psi"), written(400_000, "psi")], [written(140, "MPa"), written(2_800, "MPa")]
    ));
    /// of one sheet
    price: price(MONEY), optional, usually (Usually::wide_in_both([written(4, "USD"), written(500, "USD")]));
    /// how many whole sheets are there already
    on_hand: count, count(0), usually (Usually::wide_in_both([written(1, ""), written(200, "")]));
}

kind! {
    /// another size in which a sheet is sold
    SOLD: Sold = "sold", Naming::Needed, text: true, within: ["sheet"];
    /// length along the grain x width, as sold
    size: size, needed("size = 30\" x 24\"", "size = 800mm x 600mm"), usually (Usually::wide([inches(4, 1), inches(170, 1)], [mm(100), mm(4300)]));
    /// of one sheet of that size
    price: price(MONEY), optional, usually (Usually::wide_in_both([written(2, "USD"), written(500, "USD")]));
}

kind! {
    /// what was left of a sheet, a board or a moulding, or was taken down, and is used first
    OFFCUT: Offcut = "offcut", Naming::Needed, text: true, within: ["sheet", "lot", "board", "moulding"];
    /// length along the grain x width
    size: size, needed_where("but of a moulding", "size = 30\" x 24\"", "size = 800mm x 600mm"), usually (Usually::wide([inches(1, 1), inches(170, 1)], [mm(25), mm(4300)]));
    /// of a stick of moulding, over its long edge
    length: positive, needed_where("of a moulding", "length = 90\"", "length = 2300mm"), usually (Usually::wide([inches(6, 1), inches(288, 1)], [mm(150), mm(7500)]).called("length of a stick"));
    /// of its length, both ends together: old mitres and the damage of nails
    spoilt: not_negative, follows("nothing of it"), usually (Usually::wide([inches(1, 8), inches(48, 1)], [mm(3), mm(1200)]));
    /// how many there are
    count: count, count(1), usually (Usually::wide_in_both([written(1, ""), written(200, "")]));
}

kind! {
    /// sheets bought together, with their own thickness
    LOT: Lot = "lot", Naming::Needed, text: true, within: ["sheet"];
    /// the thickness of this lot by caliper
    thickness: positive, follows("the lot does not count"), usually (Usually::wide([inches(1, 16), inches(5, 4)], [mm(2), mm(32)]));
    /// how many sheets of this lot there are
    count: count, follows("as many as needed"), usually (Usually::wide_in_both([written(1, ""), written(200, "")]));
}

kind! {
    /// solid wood for facing and trim
    BOARD: Board = "board", Naming::Needed, text: true, within: [FILE];
    /// as dressed
    thickness: positive, optional, usually (Usually::wide([inches(1, 4), inches(3, 1)], [mm(6), mm(75)]));
    /// weight of a volume
    density: amount(DENSITY), optional, usually (Usually::wide(
        [written(10, "lb/ft3"), written(90, "lb/ft3")], [written(160, "kg/m3"), written(1_450, "kg/m3")]
    ));
    /// modulus of elasticity along the grain
    stiffness: amount(AREA_LOAD), optional, usually (Usually::wide(
        [written(300_000, "psi"), written(3_500_000, "psi")], [written(2_000, "MPa"), written(24_000, "MPa")]
    ));
    /// change of a width for each per cent of moisture, in parts of the width
    swell: number(NONE), optional, usually (Usually::wide_in_both([Written { value: (1, 10_000), unit: "" }, Written { value: (1, 100), unit: "" }]));
    /// what is bought over the blanks and their kerfs
    waste: number(NONE), optional, usually (Usually::within([written(20, "%"), written(30, "%")], COMMON).doubted([written(1, "%"), written(100, "%")], [written(1, "%"), written(100, "%")]));
    /// of the boards as sold, from which parts are ripped
    width: positive, follows("boards are bought as wide as the parts"), usually (Usually::wide([inches(1, 2), inches(24, 1)], [mm(12), mm(600)]));
    /// in which it is sold
    lengths: lengths, optional, usually (Usually::wide([inches(12, 1), inches(288, 1)], [mm(300), mm(7500)]).called("length of a board"));
    /// by length, by face or by board feet
    price: price(LINE_PRICE, AREA_PRICE, VOLUME_PRICE), optional, usually (Usually::wide_in_both([written(1, "USD/bdft"), written(60, "USD/bdft")]), Usually::wide_in_both([Written { value: (1, 10), unit: "USD/ft" }, written(60, "USD/ft")]), Usually::wide_in_both([written(1, "USD/ft2"), written(150, "USD/ft2")]));
}

kind! {
    /// a moulded stick, such as crown
    MOULDING: Moulding = "moulding", Naming::Needed, text: true, within: [FILE];
    /// of its face, lying flat
    width: positive, needed("width = 3 5/8\"", "width = 90mm"), usually (Usually::wide([inches(1, 4), inches(14, 1)], [mm(6), mm(350)]));
    /// the angle between its back and the wall
    spring: amount(ANGLE), needed("spring = 38 deg"), usually (Usually::within([written(38, "deg"), written(45, "deg")], COMMON).doubted([written(15, "deg"), written(75, "deg")], [written(15, "deg"), written(75, "deg")]));
    /// in which it is sold
    lengths: lengths, optional, usually (Usually::wide([inches(12, 1), inches(288, 1)], [mm(300), mm(7500)]).called("length of a stick"));
    /// by length
    price: price(LINE_PRICE), optional, usually (Usually::wide_in_both([Written { value: (1, 10), unit: "USD/ft" }, written(60, "USD/ft")]));
}

kind! {
    /// an edge strip on a roll, thin or thick, for raw front edges
    TAPE: Tape = "tape", Naming::Needed, text: true, within: [FILE];
    /// of the strip
    width: positive, needed("width = 7/8\"", "width = 22mm"), usually (Usually::wide([inches(3, 8), inches(4, 1)], [mm(10), mm(100)]));
    /// of the strip; the parts are as much less deep
    thickness: positive, follows("so thin that it does not count"), usually (Usually::wide([inches(1, 128), inches(1, 4)], [mm(0), mm(6)]));
    /// how much a roll holds
    roll: positive, optional, usually (Usually::wide([inches(36, 1), inches(12000, 1)], [mm(1000), mm(300_000)]));
    /// of a roll
    price: price(MONEY), optional, usually (Usually::wide_in_both([written(1, "USD"), written(300, "USD")]));
}
