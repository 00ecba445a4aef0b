//! Overturning, fixings and joists, against hand calculations by statics (recomputed).

use super::{RECOMPUTED, near};
use scantling::mechanics::Units;
use scantling::mechanics::beam::PartlyLoaded;
use scantling::mechanics::floor::{FloorUse, Joist};
use scantling::mechanics::stability::FreeUnit;

/// 88 lb, 86 1/2 high, 12 deep, empty: 88 x 6 = 528 lb in holds it.
#[test]
fn an_empty_unit_tips_easily() {
    let unit = FreeUnit::even(88.0, 86.5, 12.0);
    near("righting moment", RECOMPUTED, unit.righting_moment(), 528.0, 0.0, 0.0);
    near("pull at its top", RECOMPUTED, unit.tipping_pull(86.5), 528.0 / 86.5, 0.0, 0.0);
    // Leaning so far that its middle stands over the edge, nothing holds it.
    let falls = (6.0_f64 / 43.25).atan();
    near("leaning", RECOMPUTED, unit.leaning(falls).arm, 0.0, 1e-12, 0.0);
    // A floor that falls 1/4 in over its depth: arm 6 cos - 43.25 sin of asin(1/48).
    let fall = (0.25_f64 / 12.0).asin();
    near("on a falling floor", RECOMPUTED, unit.leaning(fall).arm, 5.09765, 1e-5, 0.0);
}

/// `w a (2 L - a) / (2 L)` and `R^2 / (2 w)`; loaded all over it is `w L^2 / 8`.
#[test]
fn a_beam_loaded_from_one_end() {
    let beam = PartlyLoaded { span: 120.0, line_load: 10.0, loaded: 24.0 };
    near("reaction", RECOMPUTED, beam.near_reaction(), 216.0, 0.0, 0.0);
    near("moment", RECOMPUTED, beam.largest_moment(), 2332.8, 0.0, 1e-12);
    let full = PartlyLoaded { loaded: 500.0, ..beam };
    near("all over", RECOMPUTED, full.largest_moment(), 10.0 * 120.0 * 120.0 / 8.0, 0.0, 1e-12);
    let idle = PartlyLoaded { line_load: 0.0, ..beam };
    near("no load", RECOMPUTED, idle.largest_moment(), 0.0, 0.0, 0.0);
}

/// 334 lb/ft of wall, 12 9/16 deep, joists 12 ft long at 16 in, 40 lb/sq ft.
#[test]
fn joists_under_a_wall_of_books() {
    let units = Units::INCH_POUND;
    let joist = Joist { span: 144.0, spacing: 16.0, live_load: FloorUse::Room.live_load(&units) };
    let wall = 334.0 / 12.0;
    // Full live load: 40/144 x 16 = 4.4444 lb/in, reaction 320 lb, moment 11 520 lb in. Shelving: 445.33 lb on the
    // last 12.5625 in: reaction 445.33 (1 - 6.28125/144) = 425.91, moment 425.91^2 / (2 x 35.449) = 2558.6.
    let end = joist.under_shelving_at_its_end(wall, 12.5625);
    near("moment at the end", RECOMPUTED, end.moment, 2558.6 / 11_520.0, 0.0, 1e-4);
    near("reaction at the end", RECOMPUTED, end.reaction, 425.91 / 320.0, 0.0, 1e-4);
    // Along one joist: 334/12 against 4.4444 lb/in, 6.26 times.
    let along = joist.under_shelving_along_it(wall);
    near("moment along", RECOMPUTED, along.moment, 334.0 / 12.0 * 144.0 / 640.0, 0.0, 1e-12);
    near("reaction along", RECOMPUTED, along.reaction, along.moment, 0.0, 1e-12);
}
