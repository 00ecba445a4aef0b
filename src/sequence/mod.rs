//! The order of the work, from the joints: what is done at once, in which stages, from where it is measured.

mod glue_up;
mod ready;
mod room;
mod stick;

pub use glue_up::{GlueUp, NailLine, Stage, glue_ups};
pub use ready::{CasingCut, CutBack, FloorCut, Sheeted, casing_cuts, cut_back, floor_cuts, sheeted};
pub use room::{Drilled, ScrewRow, Standing, drilled, in_twos, standing};
pub use stick::{Stick, StickMark, sticks};
