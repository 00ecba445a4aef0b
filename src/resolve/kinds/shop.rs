//! The shop: tools, clamps, who works there, what brings the sheets home.

use super::{
    COMMON, FILE, KindSpec, MEMORY, Naming, Needed, Optional, Property, PropertySpec, Takes, Usually,
    Without, inches, mm, plain, read,
};
use crate::quantity::Dim;

kind! {
    /// a saw of the shop
    SAW: Saw = "saw", Naming::Needed, text: true, within: [FILE];
    /// what a cut takes
    kerf: not_negative, optional, usually (Usually::within([inches(1, 16), inches(1, 8)], COMMON));
    /// the widest rip
    fence: positive, optional;
    /// the widest crosscut
    reach: positive, optional, usually (Usually::between([inches(11, 2), inches(13, 1)], [mm(140), mm(330)], MEMORY));
}

kind! {
    /// the router of the shop
    ROUTER: Router = "router", Naming::Alone, text: true, within: [FILE];
    /// from the centre of the bit to the edge of the base
    base: positive, optional;
    /// the width of the bit
    bit: positive, optional;
}

kind! {
    /// how pin holes are bored
    BORER: Borer = "borer", Naming::Alone, text: true, within: [FILE];
    /// from hole to hole
    pitch: positive, optional, usually (Usually::within([inches(1, 1), inches(2, 1)], COMMON));
}

kind! {
    /// clamps of the shop
    CLAMP: Clamp = "clamp", Naming::Needed, text: true, within: [FILE];
    /// how many
    count: counted, optional;
    /// how wide it opens
    opens: positive, optional;
}

kind! {
    /// who does the work
    PERSON: Person = "person", Naming::Alone, text: true, within: [FILE];
    /// how many
    count: counted, optional;
    /// what gluing one housed joint takes
    joint: amount(TIME), optional;
    /// what one person carries
    carries: amount(WEIGHT), follows("50 lb (23 kg): common practice, no source");
}

kind! {
    /// what brings the sheets home: sheets that do not fit are cut at the yard
    VEHICLE: Vehicle = "vehicle", Naming::Alone, text: true, within: [FILE];
    /// of the longest piece that lies flat in it
    length: positive, needed("length = 8'", "length = 2.5m");
    /// of the widest
    width: positive, needed("width = 44\"", "width = 1.1m");
}
