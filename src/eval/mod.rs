//! From the program to the model: every stated value worked out, with its reason.

mod argument;
pub mod codes;
mod expr;
mod follows;
mod intent;
mod ledger;
mod meant;
mod measures;
mod model;
mod read;
mod reason;
mod uses;
mod value;

pub use follows::{Follows, Place};
pub use intent::{require, required};
pub use ledger::{Entry, Label, Ledger, Len, Linear, Step, Why};
pub use meant::literal;
pub use measures::{Derived, Measures};
pub use model::*;
pub use read::{Evaluated, Replaced, evaluate};
pub use reason::{Reason, ReasonStep, show};
pub use uses::Uses;
