//! Corners of a room: one run goes through, the next one ends before its front. Every figure is worked beside it, in millimetres.

use crate::figures::Figures;
use crate::{codes, compiled_text};
use scantling::parts::MeasureValue;
use scantling::quantity::Rational;

const DEN: &str = r#"
room den {
  ceiling { above = 2400mm }
  wall north {
    lining = 12mm
    reading low { back = 3004mm, front = 3004mm }
    reading middle { back = 3004mm, front = 3004mm }
    reading high { back = 3004mm, front = 3004mm }
    studs { first = 300mm, every = 400mm }
  }
  wall east {
    right = open
    lining = 12mm
    reading low { back = 2002mm, front = 2002mm }
    reading middle { back = 2002mm, front = 2002mm }
    reading high { back = 2002mm, front = 2002mm }
    studs { first = 300mm, every = 400mm }
    obstacle socket { kind = outlet, left = 320mm, bottom = 300mm, width = 20mm, height = 80mm, decided = cut_round }
  }
}
sheet birch {
  size = 2440mm x 1220mm
  thickness = 18mm
  density = 680 kg/m3
  skim = 3mm
}
board ash_board { thickness = 20mm, density = 672 kg/m3 }
moulding cove { width = 90mm, spring = 38 deg, lengths = [4.8m] }
nail brad { length = 50mm }
nail pin_nail { length = 40mm }
screw wall_screw { length = 80mm }
screw seam_screw { length = 30mm }
stick lines { low = 80mm, mid = 700mm, high = 1400mm, top = 2250mm }
run books {
  along = den.north
  each unit { stock = birch, shelves = lines, width = rest to 5mm, height = 2350mm, depth = 300mm, cleat { height = 60mm } }
  unit a
  unit b
  facing { stock = ash_board, stile = 44mm, strip = 38mm, top_rail = 82mm }
  crown { stock = cove }
}
run side {
  along = den.east
  end left { before = books }
  unit c { stock = birch, shelves = lines, width = rest to 5mm, height = 2350mm, depth = 280mm, cleat { height = 60mm } }
  facing { stock = ash_board, stile = 44mm, strip = 38mm, top_rail = 82mm }
  crown { stock = cove }
}
join shelf to side with dado { depth = 6mm, nail = brad }
join cleat to wall with butt { screw = wall_screw }
join unit to unit with butt { screw = seam_screw }
join facing to carcass with butt { nail = pin_nail }
saw table { kerf = 3mm }
"#;

#[test]
fn a_run_ends_before_the_front_of_the_one_that_goes_through() {
    let f = Figures::of_text(DEN);
    // The lap is (44 - 36) / 2 = 4, a wall wants 44 - 18 - 4 = 22: (3004 - 44) / 2 = 1480 each.
    f.mm("books.a.width", "1480");
    f.mm("books.gap_right", "22");
    // The front stands 300 + 20 from the corner. From there as from a wall: 2002 - 320 - 22 = 1660.
    f.mm("side.corner.left.out", "320");
    f.mm("side.c.width", "1660");
    f.mm("side.gap_left", "22");
    f.mm("side.c.x", "342");
    // It is plumb, and the stile before it is as wide as over a seam.
    f.mm("side.end.left.low.front", "22");
    f.mm("side.stile.left.width", "44");
    // The other one covers 280 + 20 of the unit in the corner: 22 + 1480 - 18 - 300 stay open.
    f.mm("side.corner.left.covered", "300");
    f.mm("side.corner.left.open", "1184");
    // Without the other run it would have it all.
    let alone = Figures::of_text(&DEN.replace("  end left { before = books }\n", ""));
    alone.mm("side.c.width", "1980");
    alone.mm("side.c.x", "22");
}

#[test]
fn a_corner_at_the_right_is_the_same_the_other_way_round() {
    let text = DEN
        .replace("    right = open\n", "    left = open\n")
        .replace("end left { before", "end right { before")
        .replace("left = 320mm, bottom", "left = 1600mm, bottom");
    let f = Figures::of_text(&text);
    f.mm("side.c.width", "1660");
    f.mm("side.c.x", "0");
    f.mm("side.gap_right", "22");
    f.mm("side.corner.right.open", "1184");
    f.mm("side.stile.right.width", "44");
}

#[test]
fn crowns_of_one_line_meet_in_the_corner() {
    let f = Figures::of_text(DEN);
    // Wall to wall 3004, less the 300 that the other run covers. At the ceiling it is shorter by 90 x sin 38 = 55.41.
    f.mm("books.crown.front_foot", "2704");
    f.estimate("books.crown.front_top", "~2648.6 mm");
    // 2002 - 320 at the foot; at the ceiling shorter in the corner and longer at the open end.
    f.mm("side.crown.front_foot", "1682");
    f.estimate("side.crown.front_top", "~1682.0 mm");
    f.mm("side.crown.right_foot", "300");
    // Sticks are cut for the longer edge: 2704 + 12.7 + 3.
    f.estimate("books.crown.stick", "~2719.7 mm");
    // Of other heights they do not meet: the one that goes through does so, the other butts its rail.
    let low = Figures::of_text_with_errors(&DEN.replace(
        "width = rest to 5mm, height = 2350mm, depth = 280mm",
        "width = rest to 5mm, height = 2345mm, depth = 280mm",
    ));
    low.mm("books.crown.front_foot", "3004");
    low.estimate("side.crown.front_top", "~1737.4 mm");
}

#[test]
fn studs_paint_weight_and_sheets_follow() {
    let f = Figures::of_text(DEN);
    // From 342 + 18 + 20 to 2002 - 18 - 20: 700, 1100, 1500 and 1900, in three cleats: there is none under the lowest shelf. Of the other run from 22 + 38 to 1464 and from 1540
    // to 2944: 300, 700, 1100; 1900, 2300, 2700.
    assert_eq!(f.count("hardware.wall_screw.count"), 3 * 4 + 3 * (3 + 3));
    // 2 sides, 4 shelves 1660 - 36 + 12, 3 cleats 1624, less what stands in 8 grooves. The socket is at the side, in no part.
    let volume = 18 * 280 * (2 * 2350 + 4 * 1636) + 18 * 60 * 3 * 1624 - 8 * 18 * 6 * 280;
    let MeasureValue::Estimate(weight, _) = f.measure("side.c.weight").value else { panic!() };
    assert!((weight.value - f64::from(volume) * 680e-9).abs() < 1e-9);
    // The outer side at the open end.
    let surfaces = f.surfaces("side");
    assert_eq!(surfaces.paint[&scantling::parts::PaintClass::OpenSides], Rational::from(2350 * 280));
    // Rips of 300 and 280 out of 1213.5, four to a sheet, 2433.5 long: 4 + 2 sides of 2350, shelves of 1456 (8) and 1636 (4) one a rip.
    // 18 rips: 5 sheets.
    let text = DEN.to_owned() + "require project.sheets >= 5\nrequire project.sheets <= 5\n";
    assert!(!compiled_text(&text).has_errors());
}

fn told(old: &str, new: &str) -> Vec<&'static str> {
    assert!(DEN.contains(old));
    codes(&compiled_text(&DEN.replace(old, new)))
}

#[test]
fn a_corner_that_nobody_reaches_into_is_told() {
    // 22 + 600 - 18 less 284 + 20 are 300, and one less; of 295 the 279 + 20 leave nothing, and 280 + 20 less than that.
    let wide = |width: &str, depth: &str| {
        let text = DEN.replace("  unit b\n", &format!("  unit b {{ width = {width} }}\n"));
        codes(&compiled_text(&text.replace("depth = 280mm", &format!("depth = {depth}"))))
    };
    assert!(!wide("600mm", "284mm").contains(&"C159"));
    assert!(wide("600mm", "285mm").contains(&"C159"));
    assert!(wide("295mm", "279mm").contains(&"C159") && !wide("295mm", "279mm").contains(&"C158"));
    assert!(wide("295mm", "280mm").contains(&"C158"));
    // An outlet from 320 on is beside the other run, from 319 on behind it.
    assert!(!codes(&compiled_text(DEN)).contains(&"C160"));
    assert!(told("left = 320mm", "left = 319mm").contains(&"C160"));
}

#[test]
fn runs_that_meet_in_no_corner_are_told() {
    assert!(told("before = books", "before = side").contains(&"L061"));
    assert!(told("before = books", "before = books, against = open").contains(&"L061"));
    assert!(told("  wall north {\n", "  wall north {\n    right = open\n").contains(&"L061"));
    assert!(told("  unit b\n", "  unit b\n  space bin { width = 300mm }\n").contains(&"L061"));
    let away = "room other {\n  wall east {\n    reading low { back = 2002mm, front = 2002mm }\n  }\n}\n";
    let text = DEN.replace("along = den.east", "along = other.east") + away;
    assert!(codes(&compiled_text(&text)).contains(&"L061"));
    assert!(!codes(&compiled_text(DEN)).contains(&"L061"));
}
