//! Ends of a run: a stile of its own at each, and runs that end in mid-wall. Every figure is worked beside it, in millimetres.

use crate::figures::Figures;
use crate::{codes, compiled_text};
use scantling::parts::{MeasureValue, PaintClass};
use scantling::quantity::Rational;

const LANDING: &str = r#"
room landing {
  wall long {
    lining = 12mm
    reading low { back = 2618mm, front = 2622mm }
    reading middle { back = 2610mm, front = 2612mm }
    reading high { back = 2600mm, front = 2606mm }
    studs { first = 300mm, every = 400mm }
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
stick lines { low = 80mm, mid = 500mm, high = 900mm, top = 1400mm }
run books {
  along = landing.long
  end left { stile = 60mm }
  end right { against = open, gap = 600mm, stile = 50mm }
  each unit {
    shelves = lines, width = rest to 5mm, height = 1500mm, depth = 280mm
    cleat { height = 60mm }
    stretcher bottom
  }
  unit left
  unit right
  facing { stock = ash_board, stile = 44mm, strip = 38mm, top_rail = 82mm, bottom_rail = to_floor }
}
join shelf to side with dado { depth = 6mm, fit = 0.2mm, nail = brad }
join stretcher to side with butt { nail = brad }
join cleat to side with butt { nail = brad }
join cleat to shelf with butt { nail = brad }
join cleat to wall with butt { screw = wall_screw }
join facing to carcass with butt { nail = pin_nail }
saw table { kerf = 3mm }
"#;

#[test]
fn a_run_ends_in_mid_wall_where_its_gap_says() {
    let f = Figures::of_text(LANDING);
    // The lap over a seam is (44 - 36) / 2 = 4, so the wall wants 60 - 18 - 4 = 38. Left over (2600 - 38 - 600) / 2 = 981: 980
    // each; the wall takes the other 2.
    f.mm("books.left.width", "980");
    f.mm("books.gap_left", "40");
    f.mm("books.gap_right", "600");
    // Half way up at the back the corner stands 10 back: 40 + 10. From there 50 + 2 x 980 + 600 are the 2610 that were read.
    f.mm("books.left.x", "50");
    f.mm("books.right.x", "1030");
    f.mm("books.end.left.middle.back", "50");
    // All lean is the left wall's: 40 + 2622 - 2600, + 2612 - 2600, + 2606 - 2600.
    f.mm("books.end.left.low.front", "62");
    f.mm("books.end.left.middle.front", "52");
    f.mm("books.end.left.high.front", "46");
    f.mm("books.end.right.low.front", "600");
}

#[test]
fn each_end_has_its_own_stile() {
    let f = Figures::of_text(LANDING);
    // The gap, 18 and 4; the mean (84 + 2 x 74 + 68) / 4; the blank over 84 + 5, up to the next 5.
    f.mm("books.stile.left.width_low", "84");
    f.mm("books.stile.left.width_middle", "74");
    f.mm("books.stile.left.width_high", "68");
    f.mm("books.stile.left.width", "75");
    f.mm("books.stile.left.blank_width", "90");
    // Flush with the outer face at 2010; it laps the opening by 50 - 18 = 32.
    f.mm("books.stile.right.width", "50");
    f.mm("books.stile.right.x", "1960");
    f.mm("books.stile.left.right.width", "44");
    // Clear 980 - 36 = 944: less 4 and 4 at the left, less 4 and 32 at the right.
    f.mm("books.left.strip.mid.length", "936");
    f.mm("books.right.strip.mid.length", "908");
    f.mm("books.right.rail.top.length", "908");
    f.mm("books.right.strip.mid.x", "22");
}

#[test]
fn nails_screws_sheets_and_weight_of_it() {
    let f = Figures::of_text(LANDING);
    // Six strips and two bottom rails: (936 - 80) / 200 and (908 - 80) / 200, up, + 1 are 6 each; behind the top rails is nothing. Four
    // rows of stiles, (1500 - 80) / 200, up, + 1 = 9.
    assert_eq!(f.count("hardware.pin_nail.count"), 8 * 6 + 4 * 9);
    // A driver reaches from 50 + 18 + 20 to 1030 - 18 - 20, and from 1068 to 1972: studs at 300, 700 and at 1100, 1500, 1900; four
    // rows, three cleats and the rear stretcher.
    assert_eq!(f.count("hardware.wall_screw.count"), 4 * 2 + 4 * 3);
    // A rip of 2433.5 takes one side or two shelves: 4 + 4 rips of 280, four to a sheet of 1213.5 with one of 80 for two stretchers
    // beside them; the six cleats take a third.
    let text = LANDING.to_owned() + "require project.sheets >= 3\nrequire project.sheets <= 3\n";
    assert!(!compiled_text(&text).has_errors());
    // 2 sides, 4 shelves, 2 stretchers, 3 cleats less what stands in 8 grooves.
    let volume = 18 * 280 * (2 * 1500 + 4 * 956) + 18 * 80 * 2 * 944 + 18 * 60 * 3 * 944;
    let volume = f64::from(volume) - 8.0 * 18.0 * 6.0 * 280.0;
    for unit in ["left", "right"] {
        let MeasureValue::Estimate(weight, _) = f.measure(&format!("books.{unit}.weight")).value else {
            panic!()
        };
        assert!((weight.value - volume * 680e-9).abs() < 1e-9, "{}", weight.value);
    }
}

#[test]
fn the_side_at_the_open_end_is_painted() {
    let f = Figures::of_text(LANDING);
    let surfaces = f.surfaces("books");
    assert_eq!(surfaces.paint[&PaintClass::OpenSides], Rational::from(1500 * 280));
    // Stiles at mean widths over 1500, strips, top rails, bottom rails from the floor to 98.
    let faces = (75 + 44 + 50) * 1500 + 3 * 38 * (936 + 908) + (82 + 98) * (936 + 908);
    assert_eq!(surfaces.paint[&PaintClass::FacingFaces], Rational::from(faces));
    // From 4 in (101.6 mm) on a hand gets into the gap; under that nobody paints what stands there.
    for (gap, painted) in [(102, 1500 * 280), (101, 0)] {
        let f = Figures::of_text(&LANDING.replace("gap = 600mm", &format!("gap = {gap}mm")));
        let open = f.surfaces("books").paint.get(&PaintClass::OpenSides).copied().unwrap_or_default();
        assert_eq!(open, Rational::from(painted), "{gap}");
    }
}

#[test]
fn a_gap_in_mid_wall_takes_a_hand_or_the_run_meets_the_wall() {
    let told = |gap: &str| codes(&compiled_text(&LANDING.replace("gap = 600mm", &format!("gap = {gap}"))));
    assert!(!told("600mm").contains(&"C117"));
    assert!(!told("100mm").contains(&"C117"));
    assert!(told("99.9mm").contains(&"C117"));
    // Under 6 mm the body does not go in at all: an error, and no warning beside it.
    assert!(!told("6mm").contains(&"C025"));
    assert!(told("5.9mm").contains(&"C025"));
    assert!(!told("5.9mm").contains(&"C117"));
}

/// Plumb lines: 2600 between them at each height. Half way up the right corner stands 2 back, so the run ends at 2600 + 2 - 600 = 2002
/// from the left plumb line: 42 and two of 980.
#[test]
fn where_walls_are_plumbed_the_gap_counts_from_the_corner_half_way_up() {
    let text = LANDING
        .replace(
            "back = 2618mm, front = 2622mm",
            "back = 2610mm, front = 2610mm, left_back = 6mm, right_back = 4mm",
        )
        .replace(
            "back = 2610mm, front = 2612mm",
            "back = 2604mm, front = 2604mm, left_back = 2mm, right_back = 2mm",
        )
        .replace(
            "back = 2600mm, front = 2606mm",
            "back = 2600mm, front = 2600mm, left_back = 0mm, right_back = 0mm",
        );
    let f = Figures::of_text(&text);
    f.mm("books.gap_left", "42");
    // 42 + 2: and 44 + 1960 + 600 = 2604, as it was read.
    f.mm("books.left.x", "44");
    f.mm("books.end.left.low.back", "48");
    // Along the floor the right corner stands 4 back, 2 more than half way up.
    f.mm("books.end.right.low.back", "602");
    f.mm("books.end.right.middle.back", "600");
}

#[test]
fn what_is_left_over_stays_in_mid_wall() {
    // The wall keeps its 38; right of the units remain 2610 - (38 + 10) - 2 x 900 = 762.
    let loose = LANDING.replace("gap = 600mm, ", "").replace("rest to 5mm", "900mm");
    let f = Figures::of_text(&loose);
    f.mm("books.gap_left", "38");
    f.mm("books.left.x", "48");
    f.mm("books.end.right.middle.back", "762");
    // Open at both ends it stands in the middle of the 2610: (2610 - 1800) / 2.
    let f = Figures::of_text(&loose.replace("end left { stile = 60mm }", "end left { against = open }"));
    f.mm("books.left.x", "405");
    f.mm("books.gap_right", "405");
    // One of the two gaps stated, the other takes the rest.
    let f = Figures::of_text(
        &loose.replace("end left { stile = 60mm }", "end left { against = open, gap = 200mm }"),
    );
    f.mm("books.left.x", "200");
    f.mm("books.gap_right", "610");
    // Shares of an end that nobody states are nothing.
    let of = compiled_text(&LANDING.replace("gap = 600mm, ", ""));
    assert_eq!(codes(&of), ["L002"]);
}

#[test]
fn a_crown_and_a_ceiling_panel_end_with_the_run() {
    let text = LANDING.replace(
        "  facing {",
        "  crown { stock = cove }\n  ceiling_panel { stock = birch, depth = 400mm }\n  facing {",
    ) + "moulding cove { width = 90mm, spring = 38 deg, lengths = [4.8m] }\n";
    let f = Figures::of_text_with_errors(&text);
    // At the wall the gap where it is high, 46, and 1960; a return of 280 + 20 at the end in mid-wall.
    f.mm("books.crown.front_foot", "2006");
    f.mm("books.crown.right_foot", "300");
    // The panel covers the gap at the wall, 40, and the units.
    f.mm("books.ceiling_panel.length", "2000");
}

#[test]
fn ends_that_contradict_are_told() {
    for (old, new) in [
        ("end left { stile = 60mm }", "end left { stile = 60mm, gap = 30mm }"),
        ("  wall long {", "  wall long {\n    left = open"),
    ] {
        let text = LANDING.replace(old, new).replace("end left { stile", "end left { against = wall, stile");
        assert!(codes(&compiled_text(&text)).contains(&"L043"), "{new}");
    }
    let bare = LANDING.replace("  facing {", "  // facing {");
    assert_eq!(codes(&compiled_text(&bare)).iter().filter(|code| **code == "L043").count(), 2);
    // The stile at an open end covers its side: 18 just does.
    let told =
        |stile: &str| codes(&compiled_text(&LANDING.replace("stile = 50mm", &format!("stile = {stile}"))));
    assert!(told("17.9mm").contains(&"L011"));
    assert!(!told("18mm").contains(&"L011"));
}
