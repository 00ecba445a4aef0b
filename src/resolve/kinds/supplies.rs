//! What holds and covers the parts: fasteners, glue, coatings, caulk, filler.

use super::{
    COMMON, FILE, KindSpec, Naming, Optional, Property, PropertySpec, Takes, Usually, Without, inches, mm,
    plain, read, written,
};
use crate::quantity::Dim;

kind! {
    /// a nail or brad
    NAIL: Nail = "nail", Naming::Needed, text: true, within: [FILE];
    /// of the nail
    length: positive, optional, usually (Usually::between([inches(5, 4), inches(5, 2)], [mm(30), mm(65)], COMMON));
    /// how many a box holds
    r#box: counted, optional;
    /// of a box
    price: price(MONEY), optional;
}

kind! {
    /// a screw
    SCREW: Screw = "screw", Naming::Needed, text: true, within: [FILE];
    /// of the screw
    length: positive, optional;
    /// how many a box holds
    r#box: counted, optional;
    /// how deep it holds in a plug past the lining
    plug: positive, follows("the screw goes into wood");
    /// of a box
    price: price(MONEY), optional;
}

kind! {
    /// a shelf pin
    PIN: Pin = "pin", Naming::Needed, text: true, within: [FILE];
    /// of the pin, and of its hole
    diameter: positive, optional, usually (Usually::within([mm(5), inches(1, 4)], COMMON));
    /// how many a box holds
    r#box: counted, optional;
    /// of a box
    price: price(MONEY), optional;
}

kind! {
    /// a glue
    GLUE: Glue = "glue", Naming::Needed, text: true, within: [FILE];
    /// how long a joint may stay open
    open: amount(TIME), optional, usually (Usually::within([written(5, "min"), written(20, "min")], COMMON));
    /// area of glued face for a volume
    spread: amount(SPREAD), optional;
    /// sizes in which it is sold
    bottles: amounts(VOLUME), optional;
    /// of the bottles, in their order
    prices: amounts(MONEY), optional;
}

kind! {
    /// a primer, paint or varnish
    COATING: Coating = "coating", Naming::Needed, text: true, within: [FILE];
    /// area for a volume
    spread: amount(SPREAD), optional, usually (Usually::within(
        [written(300, "ft2/gal"), written(400, "ft2/gal")],
        COMMON
    ));
    /// what one coat of the project takes
    work: amount(TIME), optional;
    /// before the next coat
    wait: amount(TIME), optional, usually (Usually::within([written(1, "h"), written(16, "h")], COMMON));
    /// after the last coat, before anything stands on it
    light_load: amount(TIME), optional;
    /// after the last coat, before it carries all
    full_load: amount(TIME), optional, usually (Usually::within([written(14, "days"), written(30, "days")], COMMON));
    /// sizes in which it is sold
    cans: amounts(VOLUME), optional;
    /// of the cans, in their order
    prices: amounts(MONEY), optional;
}

kind! {
    /// a sealant in cartridges
    CAULK: Caulk = "caulk", Naming::Needed, text: true, within: [FILE];
    /// width and height of the bead
    bead: positive, optional, usually (Usually::between([inches(1, 8), inches(1, 4)], [mm(3), mm(6)], COMMON));
    /// what a cartridge holds
    cartridge: amount(VOLUME), optional;
    /// of a cartridge
    price: price(MONEY), optional;
}

kind! {
    /// a wood filler for nail holes
    FILLER: Filler = "filler", Naming::Needed, text: true, within: [FILE];
    /// what a box holds
    r#box: amount(VOLUME), optional;
}
