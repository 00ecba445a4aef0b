//! The order of the work, from the joints: what is done at once, in which stages, from where it is measured.

mod glue_up;
mod room;
mod stick;

pub use glue_up::{GlueUp, NailLine, Stage, glue_ups};
pub use room::{Drilled, ScrewRow, Standing, drilled, in_twos, standing};
pub use stick::{Stick, StickMark, sticks};
