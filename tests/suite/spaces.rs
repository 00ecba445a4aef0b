//! Spaces: room that a run leaves between its units. Every figure is worked beside it, in millimetres.

use crate::figures::Figures;
use crate::{codes, compiled_text};
use scantling::parts::{MeasureValue, PaintClass, RowKind};
use scantling::quantity::Rational;

const UTILITY: &str = r#"
room utility {
  wall long {
    lining = 12mm
    reading low { back = 4218mm, front = 4222mm }
    reading middle { back = 4210mm, front = 4212mm }
    reading high { back = 4200mm, front = 4206mm }
    studs { first = 120mm, every = 200mm }
    opening garden { kind = window, left = 1500mm, bottom = 900mm, width = 900mm, height = 1100mm, casing = 70mm }
  }
}
sheet birch {
  size = 2440mm x 1220mm
  thickness = 18mm
  density = 680 kg/m3
  skim = 3mm
}
board ash_board { thickness = 20mm, density = 672 kg/m3 }
nail brad { length = 50mm }
nail pin_nail { length = 40mm }
screw wall_screw { length = 80mm }
screw seam_screw { length = 30mm }
stick lines { low = 80mm, mid = 500mm, high = 1000mm }
run wall {
  along = utility.long
  end right { gap = 20mm }
  each unit { shelves = lines, width = rest to 5mm, height = 1200mm, depth = 400mm, cleat { height = 60mm } }
  unit left
  unit tall
  space garden { over = utility.long.garden }
  unit right
  space laundry { thing washer { width = 600mm, height = 850mm, depth = 420mm, behind = 20mm } }
  unit narrow { width = 300mm }
  facing { stock = ash_board, stile = 44mm, strip = 38mm }
}
join shelf to side with dado { depth = 6mm, nail = brad }
join cleat to wall with butt { screw = wall_screw }
join unit to unit with butt { screw = seam_screw }
join facing to carcass with butt { nail = pin_nail }
saw table { kerf = 3mm }
"#;

#[test]
fn a_space_over_a_window_has_its_place_and_parts_what_is_shared() {
    let f = Figures::of_text(UTILITY);
    // The casing begins at 1500 - 70; 900 + 2 x 70 wide.
    f.mm("wall.garden.x", "1430");
    f.mm("wall.garden.width", "1040");
    // Left of it: the corner stands 10 back half way up, the stile there wants 44 - 18 - 4 = 22. (1430 - 10 - 22) / 2 = 699, down to
    // 695; the wall keeps the other 8.
    f.mm("wall.left.width", "695");
    f.mm("wall.gap_left", "30");
    f.mm("wall.left.x", "40");
    f.mm("wall.tall.x", "735"); // and 735 + 695 = 1430
    // Right of it, from 2470 to 4210 - 10 - 20: less 300, less 600 and twice 10 of play, 790 are one share.
    f.mm("wall.right.x", "2470");
    f.mm("wall.right.width", "790");
    f.mm("wall.laundry.x", "3260");
    f.mm("wall.laundry.width", "620");
    f.mm("wall.narrow.x", "3880");
    f.mm("wall.gap_right", "20");
    // Units alone: 2 x 695 + 790 + 300.
    f.mm("wall.total_width", "2480");
}

#[test]
fn stiles_at_a_space_are_flush_with_the_sides() {
    let f = Figures::of_text(UTILITY);
    // 18 and the lap of 4; at the left edge of the space it ends at 1430, at the right edge it begins at 2470.
    f.mm("wall.stile.tall.right.left.width", "22");
    f.mm("wall.stile.tall.right.left.x", "1408");
    f.mm("wall.stile.tall.right.right.x", "2470");
    f.mm("wall.tall.strip.mid.length", "651"); // 695 - 36 - 2 x 4
    // A stile of 60 laps the opening by 42, on both sides of the space: 695 - 36 - 4 - 42 and 790 - 36 - 42 - 4.
    let wide = UTILITY.replace("over = utility.long.garden", "over = utility.long.garden, stile = 60mm");
    let f = Figures::of_text(&wide);
    f.mm("wall.stile.tall.right.left.width", "60");
    f.mm("wall.stile.tall.right.left.x", "1370");
    f.mm("wall.tall.strip.mid.length", "613");
    f.mm("wall.right.strip.mid.length", "708");
    f.mm("wall.right.strip.mid.x", "60");
}

#[test]
fn fasteners_and_studs_are_those_of_one_run() {
    let f = Figures::of_text(UTILITY);
    let graph = &f.compilation.graph;
    // One seam, between the first two; none across a space.
    assert_eq!(graph.rows.iter().filter(|row| row.kind == RowKind::Seam).count(), 1);
    assert_eq!(f.count("hardware.seam_screw.count"), 8);
    // Stiles: left, seam (two rows), both edges of each space, right: 8 rows of (1200 - 80) / 200, up, + 1 = 7.
    let stiles = graph.rows.iter().filter(|row| row.kind == RowKind::Stile);
    assert_eq!(stiles.clone().count(), 8);
    assert_eq!(stiles.map(|row| row.count).sum::<usize>(), 56);
    // From the inner faces + 20: 78 to 697, 773 to 1392, 2508 to 3222, 3918 to 4142. So 120, 320 and 520; 920, 1120 and 1320; 2520,
    // 2720, 2920 and 3120; 3920 and 4120. Two cleats each.
    assert_eq!(f.count("hardware.wall_screw.count"), 2 * (3 + 3 + 4 + 2));
    // Behind the spaces stand others, and nobody misses them; the one at the seam is missed.
    let notes = f.compilation.diagnostics.iter().filter(|told| told.code.id == "C018");
    let missed: Vec<&str> = notes.map(|told| told.message.as_str()).collect();
    assert_eq!(missed.len(), 1);
    assert!(missed[0].contains("720"), "{missed:?}");
}

#[test]
fn sides_at_a_space_are_painted_and_weights_and_sheets_follow() {
    let f = Figures::of_text(UTILITY);
    // Both edges of both spaces; the ends are closed by stiles.
    let surfaces = f.surfaces("wall");
    assert_eq!(surfaces.paint[&PaintClass::OpenSides], Rational::from(4 * 1200 * 400));
    // 2 sides, 3 shelves 790 - 36 + 12, 2 cleats 754, less what stands in 6 grooves.
    let volume = 18 * 400 * (2 * 1200 + 3 * 766) + 18 * 60 * 2 * 754 - 6 * 18 * 6 * 400;
    let MeasureValue::Estimate(weight, _) = f.measure("wall.right.weight").value else { panic!() };
    assert!((weight.value - f64::from(volume) * 680e-9).abs() < 1e-9);
    // Rips of 400, three to a sheet of 1213.5, 2433.5 long: 8 sides in 4 of two; the shelves of 671, 671, 766 and 276: six of 671 in 2 of
    // three (2019), with 276 beside them; three of 766 in 1 (2304). 7 rips, 3 sheets; the cleats find room there.
    let text = UTILITY.to_owned() + "require project.sheets >= 3\nrequire project.sheets <= 3\n";
    assert!(!compiled_text(&text).has_errors());
}

#[test]
fn a_crown_goes_back_to_the_wall_at_a_space() {
    let text = UTILITY
        .replace("strip = 38mm }", "strip = 38mm, top_rail = 100mm }\n  crown { stock = cove }")
        + "moulding cove { width = 90mm, spring = 38 deg, lengths = [4.8m] }\n";
    let f = Figures::of_text(&text);
    // At the left wall 30 + 4206 - 4200 = 36 and 2 x 695; then 790 by itself; then 300 and 20 + 6.
    f.mm("wall.crown[1].front_foot", "1426");
    f.mm("wall.crown[1].right_foot", "420");
    f.mm("wall.crown[2].front_foot", "790");
    f.mm("wall.crown[2].left_foot", "420");
    f.mm("wall.crown[3].front_foot", "326");
    f.mm("wall.crown[3].left_foot", "420");
}

const ROW: &str = r#"
sheet ply { thickness = 18mm }
stick s { low = 80mm, top = 700mm }
run r {
  length = 3000mm
  each unit { shelves = s, width = rest, height = 800mm, depth = 500mm }
  space bin { width = rest }
  unit a
  unit b
  space gap { width = 400mm }
  unit c
}
"#;

#[test]
fn a_space_takes_its_share_and_a_run_may_begin_with_one() {
    let f = Figures::of_text(ROW);
    // No gap beside the outer space, 6 at the other wall: (3000 - 6 - 400) / 4.
    f.mm("r.bin.width", "648.5");
    f.mm("r.a.width", "648.5");
    f.mm("r.bin.x", "0");
    f.mm("r.a.x", "648.5");
    f.mm("r.gap.x", "1945.5");
    f.mm("r.c.x", "2345.5");
    // To the outer unit, the space counted.
    f.mm("r.gap_left", "648.5");
    f.mm("r.gap_right", "6");
    // Named as it stands in the sum of a run that is too full.
    let of = compiled_text(&ROW.replace("width = 400mm", "width = 3400mm"));
    assert_eq!(codes(&of), ["L001"]);
    assert!(of.diagnostics[0].notes.join("\n").contains("space `gap`"), "{:?}", of.diagnostics[0].notes);
}

#[test]
fn units_between_two_openings_stand_in_the_middle() {
    let two = UTILITY
        .replace("    opening garden", "    opening hall { kind = cased_opening, left = 3000mm, width = 800mm, height = 2000mm, decided = cut_round, casing = 70mm }\n    opening garden")
        .replace("space laundry { thing washer { width = 600mm, height = 850mm, depth = 420mm, behind = 20mm } }", "space hall { over = utility.long.hall }")
        .replace("  unit right\n", "  unit right { width = 500mm }\n");
    let f = Figures::of_text_with_errors(&two);
    // Casing that is cut back keeps nothing free: from 2470 to 3000 are 530, 15 at each side of 500.
    f.mm("wall.hall.x", "3000");
    f.mm("wall.hall.width", "800");
    f.mm("wall.right.x", "2485");
    f.mm("wall.narrow.x", "3800");
    // Too wide for what lies between them: it is told which stretch.
    let of = compiled_text(&two.replace("width = 500mm", "width = 531mm"));
    assert_eq!(codes(&of), ["L001"]);
    assert_eq!(of.diagnostics[0].message, "`wall` between `garden` and `hall` is over-full by 1 mm");
}

#[test]
fn what_stands_in_a_space_goes_in_and_back() {
    let told = |old: &str, new: &str| codes(&compiled_text(&UTILITY.replace(old, new)));
    let base = codes(&compiled_text(UTILITY));
    assert!(!["C118", "C119", "C128"].iter().any(|code| base.contains(code)), "{base:?}");
    // 600 and twice 10 in 620 just go in, not in 619.
    assert!(!told("space laundry {", "space laundry { width = 620mm,").contains(&"C118"));
    assert!(told("space laundry {", "space laundry { width = 619mm,").contains(&"C118"));
    // A baseboard of 20 stays behind it, one of 21 keeps it off.
    let board = |out: u32| {
        format!(
            "    obstacle skirting {{ kind = baseboard, left = 3260mm, width = 620mm, height = 90mm, projection = {out}mm }}\n    opening garden"
        )
    };
    assert!(!told("    opening garden", &board(20)).contains(&"C119"));
    assert!(told("    opening garden", &board(21)).contains(&"C119"));
    // Fronts of the units at 420: 20 and 450 are the most.
    assert!(!told("depth = 420mm", "depth = 450mm").contains(&"C128"));
    assert!(told("depth = 420mm", "depth = 451mm").contains(&"C128"));
}

#[test]
fn a_frame_does_not_cross_a_space() {
    let of = compiled_text(&(UTILITY.to_owned() + "join rail to stile with tenon { depth = 25mm }\n"));
    assert!(codes(&of).contains(&"L030"), "{:?}", codes(&of));
}
