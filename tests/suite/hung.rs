//! Units that hang on the wall: over a doorway between two others, over a bench. Every figure is worked beside it, in millimetres.

use crate::figures::Figures;
use crate::{codes, compiled_text};
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::pages::place;
use scantling::parts::{Figure, MeasureValue, PaintClass, RowKind};
use scantling::quantity::Rational;

const PORCH: &str = r#"
room porch {
  wall long {
    lining = 12mm
    reading low { back = 3000mm, front = 3000mm }
    reading middle { back = 3000mm, front = 3000mm }
    reading high { back = 3000mm, front = 3000mm }
    studs { first = 100mm, every = 200mm }
    ceiling { above = 2600mm }
    opening pantry { kind = cased_opening, left = 1050mm, width = 760mm, height = 2030mm, casing = 70mm }
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
screw wall_screw { length = 80mm, gauge = 8 }
screw seam_screw { length = 30mm, gauge = 8 }
person { count = 2 }
stick tall { low = 80mm, mid = 900mm, high = 1800mm }
stick short { low = 60mm }
run wall {
  along = porch.long
  each unit { width = rest to 5mm, depth = 300mm, cleat { height = 60mm }, top, load = books }
  unit left { shelves = tall, height = 2420mm }
  space door { over = porch.long.pantry }
  unit right { shelves = tall, height = 2420mm }
  unit bridge { foot = 2120mm, over = [door], shelves = short, height = 300mm, stretcher bottom { at = [rear] } }
}
join shelf to side with dado { depth = 6mm, nail = brad }
join cleat to wall with butt { screw = wall_screw }
join unit to unit with butt { screw = seam_screw }
join facing to carcass with butt { nail = pin_nail }
saw table { kerf = 3mm }
"#;

/// The page of the room.
fn room(text: &str) -> serde_json::Value {
    let compilation = compiled_text(text);
    let leaves = (place("room").unwrap().make)(compilation.subject(Effort::Normal));
    leaves[0].json.clone()
}

fn told(old: &str, new: &str) -> Vec<&'static str> {
    assert!(PORCH.contains(old), "{old}");
    codes(&compiled_text(&PORCH.replace(old, new)))
}

/// What a check compares of the bridge: the value and the limit.
fn compared(of: &Compilation, code: &str) -> [f64; 2] {
    let finding =
        of.findings.iter().find(|finding| finding.code.id == code && finding.subject == "wall.bridge");
    let finding = finding.unwrap();
    [finding.value, finding.limit.figure().unwrap()].map(|figure: Figure| figure.value())
}

#[test]
fn a_bridge_has_its_place_and_its_width_from_the_doorway_under_it() {
    let f = Figures::of_text(PORCH);
    // The casing begins at 1050 - 70 and is 760 + 2 x 70 wide; 1 1/2 of play at each side.
    f.mm("wall.bridge.x", "981.5");
    f.mm("wall.bridge.width", "897");
    f.mm("wall.bridge.clear", "861");
    f.mm("wall.bridge.foot", "2120");
    f.mm("wall.bridge.shelf.low.length", "873"); // 861 + 2 x 6
    f.mm("wall.bridge.cleat.top.z", "222"); // 300 - 18 - 60
    f.mm("wall.bridge.stretcher.bottom.rear.length", "861");
    // The run is what it was: 980 - 10 and 3000 - 1880 - 10.
    f.mm("wall.left.width", "970");
    f.mm("wall.right.width", "1110");
    f.mm("wall.total_width", "2080");
}

#[test]
fn it_hangs_on_its_cleat_and_its_stretcher_and_on_the_sides_beside_it() {
    let f = Figures::of_text(PORCH);
    // From 981.5 + 18 + 20 to 981.5 + 18 + 861 - 20: studs at 1100, 1300, 1500, 1700, in two rows. Left 100 to 900 and right 2100 to 2900,
    // five each, under three shelves.
    assert_eq!(f.count("hardware.wall_screw.count"), 2 * 4 + 3 * 5 + 3 * 5);
    // Two at each of two heights, at both sides.
    assert_eq!(f.count("hardware.seam_screw.count"), 8);
    assert_eq!(f.compilation.graph.rows.iter().filter(|row| row.kind == RowKind::Seam).count(), 2);
    // Shelf ends 300 long: (300 - 80) / 115, up, + 1 = 3; three shelves in each tall unit, one in the bridge.
    assert_eq!(f.count("hardware.brad.count"), 2 * 3 * (3 + 3 + 1));
}

#[test]
fn its_weight_its_paint_and_its_sheets_follow() {
    let f = Figures::of_text(PORCH);
    // Two sides, shelf and top of 873, cleat and stretcher of 861 x 60, less what stands in two dados and two rabbets.
    let volume = 18 * (2 * 300 * 300 + 2 * 873 * 300 + 2 * 861 * 60) - 4 * 6 * 18 * 300;
    let MeasureValue::Estimate(weight, _) = f.measure("wall.bridge.weight").value else { panic!() };
    assert!((weight.value - f64::from(volume) * 680e-9).abs() < 1e-9);
    // Beside the bridge nobody sees the sides: 2420 - 300 of each is left, 300 deep.
    let surfaces = f.surfaces("wall");
    assert_eq!(surfaces.paint[&PaintClass::OpenSides], Rational::from(2 * 2120 * 300));
    // Rips of 300, four to a sheet, 2433.5 long: 4 sides of 2420 in 4; 4 x 946 with the two of 300 in 2; 4 x 1086 in 2; 2 x 873 in 1.
    let text = PORCH.to_owned() + "require project.sheets >= 3\nrequire project.sheets <= 3\n";
    assert!(!compiled_text(&text).has_errors());
}

#[test]
fn its_screws_hold_what_two_shares_leave() {
    let of = compiled_text(PORCH);
    // Books 50 lb/ft2, 244.12 kg/m2, on 861 x 300, and 9.79 of its own.
    // No. 8 is 0.164 in. Across: 3360 x 0.164^2 = 90.4 lb = 40.99 kg; 8 of them 327.9. Into the sides 30 - 18 = 12 of 7 x 4.166 = 29.16:
    // 8 x 40.99 x 0.4115 = 135.0. Out: 15700 x 0.29^2 x 0.164 x 50/25.4 / 5 = 85.25 lb = 38.67 kg; 4 in the highest row, 154.7.
    // The load stands 150 out, the row 252 over the foot: 1 / (1 / 462.9 + 150 / 252 / 154.7) = 166.4.
    let [value, limit] = compared(&of, "C135");
    assert!((value - (9.791 + 244.12 * 0.861 * 0.3)).abs() < 0.05, "{value}");
    assert!((limit - 166.4).abs() < 0.1, "{limit}");
    // 166.4 - 9.8 are 156.6, on 0.861 m 181.9 kg/m.
    assert!(!told("unit bridge { ", "unit bridge { load = 181.5 kg/m, ").contains(&"C135"));
    assert!(told("unit bridge { ", "unit bridge { load = 182.5 kg/m, ").contains(&"C135"));
    // Without a lining nobody knows how deep they stand: it is said, and nothing is told.
    let of = compiled_text(&PORCH.replace("    lining = 12mm\n", ""));
    assert!(of.graph.lacking.iter().any(|lacking| lacking.code.id == "C135"));
}

#[test]
fn one_row_holds_where_both_sides_are_held() {
    let bottom = ", stretcher bottom { at = [rear] }";
    assert!(!told(bottom, "").contains(&"C134"));
    let loose = PORCH.replace("join unit to unit with butt { screw = seam_screw }\n", "");
    assert!(!codes(&compiled_text(&loose)).contains(&"C134"));
    assert!(codes(&compiled_text(&loose.replace(bottom, ""))).contains(&"C134"));
    let none = PORCH.replace(", cleat { height = 60mm }", "").replace(bottom, "");
    let of = compiled_text(&none);
    let told: Vec<&str> =
        of.diagnostics.iter().filter(|own| own.code.id == "C134").map(|own| &*own.message).collect();
    assert_eq!(told, ["nothing holds `wall.bridge` to the wall that it hangs on"]);
    // A bridge with one stud behind it is told by the check of studs.
    assert!(self::told("every = 200mm", "every = 1000mm").contains(&"C021"));
}

#[test]
fn who_lifts_it_lifts_no_more_than_is_recommended_at_that_height() {
    // To 70 in: 1 - 0.0075 x 40 = 0.7; over 40 in: 0.82 + 1.8 / 40 = 0.865; hands 8 + 300 / 25.4 / 2 = 13.906 in before the ankles: 0.7191.
    // 51 lb of that are 22.21 lb = 10.073 kg. It has 14 398 560 mm3.
    let alone = PORCH.replace("count = 2", "count = 1");
    let of = |density: &str| codes(&compiled_text(&alone.replace("680 kg/m3", density)));
    assert!(!of("699 kg/m3").contains(&"C136")); // 10.065
    assert!(of("700 kg/m3").contains(&"C136")); // 10.079
    assert!(!told("680 kg/m3", "700 kg/m3").contains(&"C136"));
}

#[test]
fn it_has_room_over_the_casing_and_under_the_ceiling() {
    // 2030 and 70 of casing; the ceiling at 2600.
    assert!(!told("foot = 2120mm", "foot = 2100mm").contains(&"C137"));
    assert!(told("foot = 2120mm", "foot = 2099mm").contains(&"C137"));
    assert!(!told("shelves = short, height = 300mm", "shelves = short, height = 480mm").contains(&"C137"));
    assert!(told("shelves = short, height = 300mm", "shelves = short, height = 481mm").contains(&"C137"));
    // A leaf under it swings clear, and hits what hangs lower than its head.
    let door = PORCH.replace("kind = cased_opening,", "kind = door, hinge = left,");
    assert!(!codes(&compiled_text(&door)).contains(&"C066"));
    assert!(codes(&compiled_text(&door.replace("foot = 2120mm", "foot = 2029mm"))).contains(&"C066"));
}

#[test]
fn blocking_that_is_still_to_be_let_in_is_work_and_is_bought() {
    // One row per blocking, 300 to 1200 along the wall: 900, and to its end: 3000 - 2000.
    let blocked = PORCH.replace(
        "    studs {",
        "    blocking { bottom = 2330mm, left = 300mm, width = 900mm, stock = ash_board }\n    blocking { bottom = 1750mm, left = 2000mm, stock = ash_board }\n    studs {",
    );
    let bought = |text: &str| -> Vec<[String; 2]> {
        let rows = Figures::of_text(text).sheet("shopping")["rows"].as_array().unwrap().clone();
        let blocking = rows.iter().filter(|row| row["what"] == "blocking of ash_board");
        blocking.map(|row| ["count", "remark"].map(|key| row[key].as_str().unwrap().to_owned())).collect()
    };
    assert_eq!(bought(&blocked), [["1.9 m", "2 lengths, cut to its place between the studs"]]);
    let work = |text: &str| room(text)["blocking"].clone();
    assert_eq!(work(&blocked).as_array().unwrap().len(), 2);
    assert_eq!(work(&blocked)[0]["bottom"]["print"], "2330 mm");
    assert_eq!(work(&blocked)[0]["top"]["print"], "2420 mm");
    assert_eq!(work(&blocked)[0]["to"]["print"], "1200 mm");
    // What is there already is no work.
    let there = blocked.replace(", stock = ash_board }", " }");
    assert!(bought(&there).is_empty());
    assert!(work(&there).is_null());
    // A row in it has one 40 from each end and the rest 200 apart at most, where that is no fewer than studs: behind the cleat under the
    // high shelf of the right unit, 2000 to 2972, (972 - 80) / 200, up, + 1 = 6 and not 5. The cleats under the tops have 662 and 200.5 of
    // it, 4 for 5 studs and 2 for 4.
    assert_eq!(Figures::of_text(&blocked).count("hardware.wall_screw.count"), 38 + 1);
    // All along the wall: 934, 861 and 1074 have 6, 5 and 6 for 5, 4 and 5.
    let whole = blocked.replace("left = 300mm, width = 900mm, ", "");
    assert_eq!(Figures::of_text(&whole).count("hardware.wall_screw.count"), 39 + 3);
}

const BENCH: &str = r#"
room hall {
  wall side {
    lining = 12mm
    reading low { back = 2000mm, front = 2000mm }
    reading middle { back = 2000mm, front = 2000mm }
    reading high { back = 2000mm, front = 2000mm }
    studs { first = 100mm, every = 300mm }
  }
}
sheet ply { thickness = 18mm, density = 600 kg/m3 }
screw wall_screw { length = 80mm }
stick low_lines { low = 80mm }
stick lines { low = 80mm, mid = 900mm }
run r {
  along = hall.side
  each unit { width = rest, depth = 300mm, top, cleat { height = 60mm } }
  unit bench { shelves = low_lines, height = 500mm, counter { over = 20mm } }
  unit tall { shelves = lines, height = 1900mm }
  unit over { foot = 900mm, over = [bench], shelves = low_lines, height = 400mm }
}
join cleat to wall with butt { screw = wall_screw }
"#;

#[test]
fn what_hangs_over_a_unit_is_as_wide_and_leaves_its_play_where_one_stands_higher() {
    let f = Figures::of_text_with_errors(BENCH);
    // (2000 - 2 x 6) / 2 = 994; at the wall as the bench stands, beside the tall one 1 1/2.
    f.mm("r.bench.width", "994");
    f.mm("r.over.x", "6");
    f.mm("r.over.width", "992.5");
    // 500 with its counter: 400 over it are enough.
    let of = |foot: &str| codes(&compiled_text(&BENCH.replace("foot = 900mm", foot)));
    assert!(!of("foot = 900mm").contains(&"C138"));
    assert!(of("foot = 899mm").contains(&"C138"));
    assert!(of("foot = 499mm").contains(&"C137"));
    // Where nothing reaches over its foot, it leaves none.
    let high = BENCH.replace("foot = 900mm", "foot = 1900mm");
    Figures::of_text_with_errors(&high).mm("r.over.width", "994");
}

#[test]
fn the_facing_stands_before_it_and_the_crown_goes_on_over_it() {
    let faced = PORCH
        .replace("  unit left {", "  facing { stock = ash_board, stile = 44mm, strip = 38mm, top_rail = 100mm }\n  crown { stock = cove }\n  unit left {")
        + "moulding cove { width = 250mm, spring = 38 deg, lengths = [4.8m] }\n";
    let f = Figures::of_text(&faced);
    // Flush with its outer faces: 18 and the lap of 4.
    f.mm("wall.stile.bridge.left.x", "981.5");
    f.mm("wall.stile.bridge.left.width", "22");
    f.mm("wall.stile.bridge.left.length", "300");
    f.mm("wall.stile.bridge.left.z", "2120");
    f.mm("wall.stile.bridge.right.x", "1856.5"); // 981.5 + 897 - 22
    f.mm("wall.bridge.strip.low.length", "853"); // 861 - 2 x 4
    f.mm("wall.bridge.rail.top.z", "200"); // 300 - 100
    // From wall to wall in one piece.
    f.mm("wall.crown.front_foot", "3000");
    // Ten lower it ends under the line: the crown goes back to the wall at the doorway. (980 - 22) down to 955, and 25 to the wall.
    let f = Figures::of_text(
        &faced.replace("shelves = short, height = 300mm", "shelves = short, height = 290mm"),
    );
    f.mm("wall.crown[1].front_foot", "980");
    f.mm("wall.crown[1].right_foot", "320");
}

#[test]
fn what_cannot_hang_is_said() {
    let bridge = |new: &str| told("foot = 2120mm, over = [door],", new);
    assert_eq!(bridge("over = [door],"), ["V072"]);
    assert_eq!(bridge("foot = 2120mm, over = [door], width = 800mm,"), ["V072"]);
    assert_eq!(bridge("foot = 2120mm, over = [door], toe { height = 90mm },"), ["V072"]);
    assert_eq!(bridge("foot = 2120mm,"), ["V003"]);
    assert_eq!(bridge("foot = 2120mm, over = [dor],"), ["L047"]);
    assert_eq!(bridge("foot = 2120mm, over = [left, right],"), ["L047"]);
    assert_eq!(bridge("foot = 2120mm, over = [bridge],"), ["L047"]);
    // What stands alone has no foot.
    let alone = "carcass c { foot = 900mm, shelves = short, width = 500mm, height = 300mm, depth = 300mm }\n";
    assert_eq!(codes(&compiled_text(&(PORCH.to_owned() + alone))), ["N002"]);
}
