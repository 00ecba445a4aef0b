//! The example of a back hall: bays, dividers, loose shelves and units of two heights in one run. Every figure is worked by
//! hand from what the file states, the working beside it; lengths in millimetres.

use crate::figures::Figures;
use scantling::quantity::{Length, Rational};

const FILE: &str = "examples/back-hall/back_hall.scant";

#[test]
fn the_run_fills_its_wall() {
    let f = Figures::of(FILE);
    // What the checks warn of, weights and loose shelves, is accepted.
    assert!(f.compilation.diagnostics.is_empty(), "{:?}", f.compilation.diagnostics);
    // Lap (46 - 2 x 17.8) / 2 = 5.2; the gap wanted at the wall is 46 - 17.8 - 5.2 = 23, none at the open end.
    // The least reading is 2709: 2709 - 23 - 900 - 1000 = 786, to the nearest 5; the wall takes the 1 that is left over.
    f.mm("wall.bench.width", "785");
    f.mm("wall.total_width", "2685");
    f.mm("wall.gap_left", "24");
    f.mm("wall.gap_right", "0");
    // The first unit at middle height, at the back: 24 + 2714 - 2709 = 29; the others after 900 and 785.
    f.mm("wall.coats.x", "29");
    f.mm("wall.bench.x", "929");
    f.mm("wall.cubbies.x", "1714");
}

#[test]
fn bays_share_what_their_dividers_leave() {
    let f = Figures::of(FILE);
    // 900 - 35.6 = 864.4; less a divider 846.6, in four shares of 211.65, three of them for the coats.
    f.mm("wall.coats.shelf.floor.bay.long.clear_width", "634.95");
    f.mm("wall.coats.shelf.floor.bay.wet.clear_width", "211.65");
    // (785 - 35.6 - 17.8) / 2 and (1000 - 35.6 - 2 x 17.8) / 3.
    f.mm("wall.bench.shelf.floor.bay.tall.clear_width", "365.8");
    f.mm("wall.cubbies.shelf.pigeon.bay.b.clear_width", "309.6");
    // 1740 - 90 - 17.8 = 1632.2 high; the divider goes 4 into the shelf under it and into the one over it.
    f.mm("wall.coats.shelf.floor.divider.long.wet.length", "1640.2");
    // Under the top of the bench: 480 - 17.8 - 90 - 17.8 = 354.4, and 8 again.
    f.mm("wall.bench.shelf.floor.divider.tall.small.length", "362.4");
}

#[test]
fn shelves_of_the_wet_bay_stand_by_their_clear_heights() {
    let f = Figures::of(FILE);
    // 90 + 17.8 + 520 = 627.8; + 17.8 + 240 = 885.6. Up to 1740 remain 1632.2 - 520 - 240 - 3 x 17.8 = 818.8: two shares and
    // one of 272.9333..
    f.mm("wall.coats.shelf.floor.bay.wet.shelf.leads.z", "627.8");
    f.mm("wall.coats.shelf.floor.bay.wet.shelf.torches.z", "885.6");
    let share = Length::from_mm(Rational::new(8188, 30));
    let gloves = f.measure("wall.coats.shelf.floor.bay.wet.shelf.gloves.clear_height");
    assert_eq!(gloves.length().unwrap().value, share);
    // 6 into the side, 4 into the divider: 211.65 + 10.
    f.mm("wall.coats.shelf.floor.bay.wet.shelf.leads.length", "221.65");
}

#[test]
fn stiles_reach_over_the_taller_unit() {
    let f = Figures::of(FILE);
    // Front gaps 24 + 2723 - 2709 = 38, 34 and 28, each with 17.8 + 5.2 = 23 over the side and the opening.
    f.mm("wall.stile.left.width_low", "61");
    f.mm("wall.stile.left.width_middle", "57");
    f.mm("wall.stile.left.width_high", "51");
    // 61 + 6 to be cut off on site, up to the next 5; at the open end 23.
    f.mm("wall.stile.left.blank_width", "70");
    f.mm("wall.stile.right.width", "23");
    // The floor falls in a line from 4 at 900 to 0 at 1800, so at 929 it lies 4 x 871 / 900 below, at 1714 4 x 86 / 900. Both
    // stiles at the bench reach up to 2100, not to its seat at 480.
    let below = |at: i128| Length::from_mm(Rational::from(2100) + Rational::new(4 * (1800 - at), 900));
    for (stile, at) in [("coats.bench", 929), ("bench.cubbies", 1714)] {
        let length = f.measure(&format!("wall.stile.{stile}.length")).length().unwrap().value;
        assert_eq!(length, below(at), "{stile}");
    }
    // Before a divider 17.8 + 2 x 5.2, from the shelf's top to the foot of the strip: 1740 + 17.8 - 38 - 107.8.
    f.mm("wall.coats.shelf.floor.stile.long.wet.width", "28.2");
    f.mm("wall.coats.shelf.floor.stile.long.wet.length", "1612");
}

#[test]
fn loose_shelves_and_their_holes() {
    let f = Figures::of(FILE);
    // Over the baskets 840 + 17.8 + 64 = 921.8; under the cleat of the hats 1740 - 60 - 64 = 1616. Multiples of 32 between
    // them: 928 = 29 x 32 up to 1600 = 50 x 32, 22 holes in a row.
    let bore = &f.compilation.graph.bores[0];
    assert_eq!(bore.numbers, [29, 50]);
    // 964.4 less 3 of play; 340 - 2 - the strip of 20.
    f.mm("wall.cubbies.shelf.baskets.loose[2].length", "961.4");
    f.mm("wall.cubbies.shelf.baskets.loose[2].width", "318");
    assert_eq!(f.count("hardware.peg.count"), 8);
}

#[test]
fn nails_of_the_carcasses() {
    let f = Figures::of(FILE);
    // A row along 340 has 4: 340 - 2 x 40 = 260 in 3 spaces of at most 115. Ends of 3 + 3 (coats), 1 (bench) and 4 (cubbies)
    // shelves and 3 tops: 2 + 1 + 4 + 3 = 10 between sides, 3 between a divider and a side: 26 rows; 6 dividers, 12 rows.
    assert_eq!(f.count("hardware.carcass_nail.shelf_ends"), 26 * 4);
    assert_eq!(f.count("hardware.carcass_nail.divider_ends"), 12 * 4);
}
