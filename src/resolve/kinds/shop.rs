//! The shop: tools, clamps, who works there, what brings the sheets home.

use super::{
    COMMON, FILE, KindSpec, MEMORY, Naming, Needed, Optional, Property, PropertySpec, Takes, Usual, Usually,
    Without, Written, inches, mm, plain, read, written,
};
use crate::quantity::Dim;

words! {
    /// What a saw may cut beyond rips, each the whole length of a sheet, and crosscuts of them: a piece is ripped once more to
    /// its width; a sheet is first cut across.
    MoreCuts { Trim = "trim", Across = "across" }
}

kind! {
    /// a saw of the shop
    SAW: Saw = "saw", Naming::Needed, text: true, within: [FILE];
    /// what a cut takes
    kerf: not_negative, optional, usually (Usually::between(
        [inches(1, 16), inches(1, 8)],
        [Written { value: (16, 10), unit: "mm" }, Written { value: (32, 10), unit: "mm" }],
        COMMON
    ).doubted([written(1, "mm"), written(6, "mm")], [written(1, "mm"), written(6, "mm")]));
    /// the widest rip
    fence: positive, optional, usually (Usually::wide([inches(6, 1), inches(96, 1)], [mm(150), mm(2500)]));
    /// the widest crosscut
    reach: positive, optional, usually (Usually::between([inches(11, 2), inches(13, 1)], [mm(140), mm(330)], MEMORY).doubted([inches(2, 1), inches(130, 1)], [mm(50), mm(3300)]));
    /// what is done beyond rips and crosscuts where it saves money: a piece ripped once more (`trim`), a sheet first cut across (`across`); `[]` is neither
    cuts: choices(MoreCuts), follows("both");
}

words! {
    /// Where the guide of a router lies.
    GuidedFrom { Below = "below", Above = "above" }
}

kind! {
    /// the router of the shop
    ROUTER: Router = "router", Naming::Alone, text: true, within: [FILE];
    /// from the centre of the bit to the edge of the base
    base: positive, needed("base = 2 3/4\"", "base = 70mm"), usually (Usually::wide([inches(1, 1), inches(8, 1)], [mm(25), mm(200)]).called("router base"));
    /// the width of the bit
    bit: positive, needed("bit = 1/2\"", "bit = 12mm"), usually (Usually::wide([inches(1, 16), inches(3, 2)], [mm(1), mm(40)]));
    /// the deepest that it cuts at once
    step: positive, follows("half the width of the bit: common practice, no source"), usually (
        Usually::between([inches(1, 16), inches(3, 8)], [mm(2), mm(10)], COMMON)
    );
    /// where the guide lies at a line that is too near the bottom end for it: under the line all the same, or over it
    guide: choice(GuidedFrom), word(GuidedFrom::Below);
}

kind! {
    /// how pin holes are bored
    BORER: Borer = "borer", Naming::Alone, text: true, within: [FILE];
    /// from hole to hole
    pitch: positive, optional, usually (Usually::between([inches(1, 1), inches(2, 1)], [mm(25), mm(50)], COMMON).doubted([inches(3, 4), inches(3, 1)], [mm(24), mm(80)]));
}

kind! {
    /// clamps of the shop
    CLAMP: Clamp = "clamp", Naming::Needed, text: true, within: [FILE];
    /// how many
    count: counted, optional;
    /// how wide it opens
    opens: positive, optional, usually (Usually::wide([inches(1, 1), inches(120, 1)], [mm(25), mm(3000)]).called("opening"));
}

kind! {
    /// who does the work
    PERSON: Person = "person", Naming::Alone, text: true, within: [FILE];
    /// how many
    count: counted, optional, usually (Usually::wide_in_both([written(1, ""), written(12, "")]));
    /// what gluing one housed joint takes
    joint: amount(TIME), optional, usually (Usually::wide_in_both([written(3, "s"), written(20, "min")]).called("time for a joint"));
    /// what one person carries
    carries: amount(WEIGHT), follows("50 lb (23 kg): common practice, no source"), usually (Usually::wide([written(10, "lb"), written(200, "lb")], [written(5, "kg"), written(90, "kg")]).called("load"));
}

kind! {
    /// what brings the sheets home: sheets that do not fit are cut at the yard
    VEHICLE: Vehicle = "vehicle", Naming::Alone, text: true, within: [FILE];
    /// of the longest piece that lies flat in it
    length: positive, needed("length = 8'", "length = 2.5m"), usually (Usually::wide([inches(24, 1), inches(300, 1)], [mm(600), mm(7500)]));
    /// of the widest
    width: positive, needed("width = 44\"", "width = 1.1m"), usually (Usually::wide([inches(18, 1), inches(120, 1)], [mm(450), mm(3000)]));
}
