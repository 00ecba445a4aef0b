//! The compiler for `.scant` files: built-in painted shelving, from what is decided to parts that can be cut.
//!
//! ```text
//! text -> Parsed -> Program -> Model -> PartGraph -> findings, messages and sheets
//!       syntax    resolve    eval     lower        check, sheets
//! ```
//!
//! The library needs none of the features: `cli` is the program with its commands and its drawn messages, `calendar` gives dates
//! as iCalendar, `threads` works things out beside each other.
//!
//! [`compile::compile`] goes the whole way; every front end and every test calls it. Imports point from the right to the
//! left of that line and never back.

mod beside;
pub mod breakdown;
pub mod cancel;
pub mod check;
#[cfg(feature = "cli")]
pub mod cli;
pub mod compile;
pub mod cutting;
pub mod diag;
pub mod diff;
pub mod document;
pub mod eval;
pub mod fits;
pub mod format;
pub mod limits;
pub mod lower;
pub mod manifest;
pub mod mechanics;
pub mod pages;
pub mod parts;
pub mod progress;
pub mod quantity;
pub mod real;
pub mod render;
#[cfg(feature = "cli")]
pub mod report;
pub mod resolve;
pub mod sequence;
pub mod sheets;
pub mod source;
pub mod syntax;
pub mod views;
pub mod why;
