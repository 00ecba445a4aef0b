//! How far off a part may be that is made already.

use super::{
    COMMON, FILE, KindSpec, Naming, Optional, Property, PropertySpec, Takes, Usual, UsualLength, Usually,
    Without, inches, mm, plain, read,
};
use crate::quantity::Dim;

kind! {
    /// how far a part that is made may be off what the text says now, and still go in
    FITS: Fits = "fits", Naming::Alone, text: false, within: [FILE];
    /// the least of an end that stands in its groove
    bearing: positive, follows("half the depth of the groove"), usually (Usually::wide([inches(1, 32), inches(1, 1)], [mm(1), mm(25)]).called("bearing in a groove"));
    /// the most by which a groove is wider than what goes in
    play: not_negative, length("play in a groove", (1, 64), (2, 5), COMMON), usually (Usually::wide([inches(1, 256), inches(1, 16)], [mm(0), mm(2)]).called("play in a groove"));
    /// the most of that play that is packed with veneer
    packed: not_negative, length("play that is packed", (1, 16), (8, 5), COMMON), usually (Usually::wide([inches(1, 128), inches(1, 8)], [mm(0), mm(3)]).called("play that is packed"));
    /// the most that a part is short which no groove holds
    gap: not_negative, length("gap at an end", (1, 32), (4, 5), COMMON), usually (Usually::wide([inches(1, 256), inches(1, 8)], [mm(0), mm(3)]).called("gap at an end"));
    /// the most by which a loose shelf is shorter than its opening is wide
    slack: positive, length("slack of a loose shelf", (1, 4), (6, 1), COMMON), usually (Usually::wide([inches(1, 16), inches(1, 2)], [mm(1), mm(12)]).called("slack of a loose shelf"));
}
