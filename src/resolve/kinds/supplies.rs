//! What holds and covers the parts: fasteners, glue, coatings, caulk, filler.

use super::{
    COMMON, FILE, KindSpec, MEMORY, Naming, Optional, Property, PropertySpec, Takes, Usually, Without,
    inches, mm, plain, read, written,
};
use crate::quantity::Dim;

kind! {
    /// a nail or brad
    NAIL: Nail = "nail", Naming::Needed, text: true, within: [FILE];
    /// of the nail
    length: positive, optional, usually (Usually::between([inches(5, 4), inches(5, 2)], [mm(30), mm(65)], COMMON).doubted([inches(3, 8), inches(6, 1)], [mm(10), mm(150)]));
    /// how many a box holds
    r#box: counted, optional, usually (Usually::wide_in_both([written(10, ""), written(20_000, "")]));
    /// of a box
    price: price(MONEY), optional, usually (Usually::wide_in_both([written(1, "USD"), written(200, "USD")]));
}

kind! {
    /// a screw
    SCREW: Screw = "screw", Naming::Needed, text: true, within: [FILE];
    /// of the screw
    length: positive, optional, usually (Usually::wide([inches(3, 8), inches(8, 1)], [mm(10), mm(200)]));
    /// how many a box holds
    r#box: counted, optional, usually (Usually::wide_in_both([written(1, ""), written(5_000, "")]));
    /// its number: no. 8 is 0.164 in thick
    gauge: counted, follows("no. 8, the least into a stud: common practice, no source"), usually (
        Usually::wide_in_both([written(2, ""), written(24, "")])
    );
    /// how deep it holds in a plug past the lining
    plug: positive, follows("the screw goes into wood"), usually (Usually::wide([inches(1, 2), inches(6, 1)], [mm(12), mm(150)]));
    /// of a box
    price: price(MONEY), optional, usually (Usually::wide_in_both([written(1, "USD"), written(200, "USD")]));
}

kind! {
    /// a shelf pin
    PIN: Pin = "pin", Naming::Needed, text: true, within: [FILE];
    /// of the pin, and of its hole
    diameter: positive, optional, usually (Usually::within([mm(5), inches(1, 4)], COMMON));
    /// how many a box holds
    r#box: counted, optional, usually (Usually::wide_in_both([written(1, ""), written(5_000, "")]));
    /// of a box
    price: price(MONEY), optional, usually (Usually::wide_in_both([written(1, "USD"), written(200, "USD")]));
}

kind! {
    /// a glue
    GLUE: Glue = "glue", Naming::Needed, text: true, within: [FILE];
    /// how long a joint may stay open
    open: amount(TIME), optional, usually (Usually::within([written(5, "min"), written(20, "min")], COMMON).doubted([written(1, "min"), written(2, "h")], [written(1, "min"), written(2, "h")]).called("open time"));
    /// area of glued face for a volume
    spread: amount(SPREAD), optional, usually (Usually::wide(
        [written(50, "ft2/gal"), written(1_000, "ft2/gal")], [written(1, "m2/L"), written(25, "m2/L")]
    ));
    /// how long a joint stays in clamps
    in_clamps: amount(TIME), optional, usually (Usually::within([written(30, "min"), written(90, "min")], MEMORY));
    /// sizes in which it is sold
    bottles: amounts(VOLUME), optional, usually (Usually::wide([written(1, "floz"), written(6, "gal")], [written(25, "ml"), written(25, "L")]).called("bottle"));
    /// of the bottles, in their order
    prices: amounts(MONEY), optional, usually (Usually::wide_in_both([written(1, "USD"), written(400, "USD")]).called("price"));
}

kind! {
    /// a primer, paint or varnish
    COATING: Coating = "coating", Naming::Needed, text: true, within: [FILE];
    /// area for a volume
    spread: amount(SPREAD), optional, usually (Usually::between(
        [written(300, "ft2/gal"), written(400, "ft2/gal")], [written(7, "m2/L"), written(10, "m2/L")], COMMON
    ).doubted([written(100, "ft2/gal"), written(900, "ft2/gal")], [written(2, "m2/L"), written(22, "m2/L")]));
    /// what one coat of the project takes
    work: amount(TIME), optional, usually (Usually::wide_in_both([written(2, "min"), written(48, "h")]).called("time for a coat"));
    /// before the next coat
    wait: amount(TIME), optional, usually (Usually::within([written(1, "h"), written(16, "h")], COMMON).doubted([written(5, "min"), written(7, "days")], [written(5, "min"), written(7, "days")]));
    /// after the last coat, before anything stands on it
    light_load: amount(TIME), optional, usually (Usually::wide_in_both([written(1, "h"), written(45, "days")]).called("wait for a light load"));
    /// after the last coat, before it carries all
    full_load: amount(TIME), optional, usually (Usually::within([written(14, "days"), written(30, "days")], COMMON).doubted([written(1, "days"), written(60, "days")], [written(1, "days"), written(60, "days")]).called("wait for the full load"));
    /// sizes in which it is sold
    cans: amounts(VOLUME), optional, usually (Usually::wide([written(1, "floz"), written(6, "gal")], [written(25, "ml"), written(25, "L")]).called("can"));
    /// of the cans, in their order
    prices: amounts(MONEY), optional, usually (Usually::wide_in_both([written(1, "USD"), written(600, "USD")]).called("price"));
}

kind! {
    /// a sealant in cartridges
    CAULK: Caulk = "caulk", Naming::Needed, text: true, within: [FILE];
    /// width and height of the bead
    bead: positive, optional, usually (Usually::between([inches(1, 8), inches(1, 4)], [mm(3), mm(6)], COMMON));
    /// what a cartridge holds
    cartridge: amount(VOLUME), optional, usually (Usually::wide([written(2, "floz"), written(34, "floz")], [written(50, "ml"), written(1, "L")]));
    /// of a cartridge
    price: price(MONEY), optional, usually (Usually::wide_in_both([written(1, "USD"), written(60, "USD")]));
}

kind! {
    /// a wood filler for nail holes
    FILLER: Filler = "filler", Naming::Needed, text: true, within: [FILE];
    /// what a box holds
    r#box: amount(VOLUME), optional, usually (Usually::wide([written(1, "floz"), written(2, "gal")], [written(25, "ml"), written(8, "L")]).called("box"));
}
