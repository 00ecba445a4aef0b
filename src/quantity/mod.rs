//! Numbers with a dimension: exact rationals for what is cut, counted and paid; estimates for the rest.
//!
//! A side rail: it sees no phase of the compiler. Lengths are rational millimetres (1 in = 127/5 mm, exactly), so
//! inches and millimetres mix without loss; they are rounded once, by [`Marks`], when they are printed.
//! Only checked arithmetic is offered: an overflow is `None`, never a wrong size.

mod dim;
mod exact;
mod json;
mod paper;
mod plural;
mod print;
mod read;
mod unit;

pub use dim::Dim;
pub use exact::{Estimate, Exact, Length, Rational, to_f64};
pub use json::JsonLength;
pub use paper::{FOOT, MARGIN, Paper};
pub use plural::{hours, plural, some, spell};
pub use print::{Marks, MarksError, Printed, Round, System, decimal, estimate, rounded, safe};
pub use read::{NumberError, number};
pub use unit::{Unit, all_words, unit};
