//! How long work takes.

use super::{
    FILE, KindSpec, MEMORY, Naming, Property, PropertySpec, Takes, Usual, Usually, Without, plain, read,
    written,
};
use crate::quantity::Dim;

kind! {
    /// how long work takes here, alone, with setting up and walking in it
    RATES: Rates = "rates", Naming::Alone, text: false, within: [FILE];
    /// a part at the saw
    cut: number(TIME), number((7, 2), "min", MEMORY), usually (Usually::wide_in_both([written(20, "s"), written(30, "min")]).called("cutting a part"));
    /// a dado, groove or rabbet: marked, both passes, cleaned
    groove: number(TIME), number((10, 1), "min", MEMORY), usually (Usually::wide_in_both([written(30, "s"), written(60, "min")]).called("a groove"));
    /// a square metre (10.8 sq ft) of faces sanded, both faces of a part counted
    sanding: number(TIME), number((12, 1), "min", MEMORY), usually (Usually::wide_in_both([written(1, "min"), written(2, "h")]).called("sanding a square metre"));
    /// an end or edge glued up in a carcass
    joint: number(TIME), number((3, 1), "min", MEMORY), usually (Usually::wide_in_both([written(20, "s"), written(60, "min")]).called("a glued joint"));
    /// a carcass carried in, levelled, plumbed and screwed to the wall
    standing: number(TIME), number((90, 1), "min", MEMORY), usually (Usually::wide_in_both([written(5, "min"), written(12, "h")]).called("standing up a unit"));
    /// a piece of the facing, a filler or a door cut to its place and put on
    facing: number(TIME), number((16, 1), "min", MEMORY), usually (Usually::wide_in_both([written(1, "min"), written(4, "h")]).called("a piece of facing"));
    /// a square metre of faces filled and caulked
    filling: number(TIME), number((12, 1), "min", MEMORY), usually (Usually::wide_in_both([written(1, "min"), written(2, "h")]).called("filling a square metre"));
    /// a square metre of faces painted once
    coat: number(TIME), number((7, 1), "min", MEMORY), usually (Usually::wide_in_both([written(30, "s"), written(60, "min")]).called("painting a square metre"));
}
