//! Raw front edges with a strip, and holes for cables. Every figure is worked beside it, in millimetres.

use crate::figures::Figures;
use crate::{codes, compiled_text};
use scantling::parts::{MeasureValue, PaintClass, Role};
use scantling::quantity::{Length, Rational};

const NOOK: &str = r#"
project "Nook" { marks = 1mm }
sheet ply { thickness = 18mm, size = 2440mm x 1220mm, density = 680 kg/m3 }
sheet thin { thickness = 6mm, size = 2440mm x 1220mm, density = 680 kg/m3 }
tape beech_edge { width = 22mm, thickness = 2mm, roll = 10m, price = 14 EUR }
nail brad { length = 50mm }
stick s { low = 80mm, desk = 720mm, high = 1400mm }
run r {
  length = 1500mm
  each unit {
    stock = ply, shelves = s, height = 1800mm, depth = 500mm, width = 700mm
    back { stock = thin }
    edge { stock = beech_edge }
  }
  unit a {
    hole cable { through = [desk], diameter = 60mm, left = 350mm, off = 80mm, grommet = 75mm }
    hole socket { through = [back], diameter = 80mm, left = 350mm, bottom = 900mm }
    hole across { through = [right], diameter = 40mm, off = 100mm, bottom = 900mm }
  }
  unit b { hole across { through = [left], diameter = 40mm, off = 100mm, bottom = 900mm } }
}
join shelf to side with dado { depth = 6mm, nail = brad }
saw table { kerf = 3mm }
"#;

#[test]
fn a_thick_strip_makes_the_parts_less_deep() {
    let f = Figures::of_text(NOOK);
    // 500 less 2; the shelves end before the back, 6 less.
    f.mm("r.a.side.left.width", "498");
    f.mm("r.a.shelf.desk.width", "492");
    // From the front of the strip to the back: 500 - 6.
    f.mm("r.a.shelf.low.opening_depth", "494");
    // Thin tape counts for nothing.
    let f = Figures::of_text(&NOOK.replace(", thickness = 2mm", ""));
    f.mm("r.a.side.left.width", "500");
    // Doors stand clear of the strip: 498 + 2, and 2 again.
    let doors = NOOK.replace("each unit {", "each unit {\n    doors { count = 1 }");
    let f = Figures::of_text(&doors);
    f.mm("r.a.door[1].y", "502");
    // A counter reaches over it: as deep as was stated.
    let f = Figures::of_text(&NOOK.replace("each unit {", "each unit {\n    counter"));
    f.mm("r.a.counter.width", "500");
}

#[test]
fn strips_are_bought_by_the_roll() {
    let f = Figures::of_text(NOOK);
    // Two sides of 1800 and three shelves of 664 + 12 a unit, 25 over at each: 2 x (3600 + 2028 + 125) = 11506, two rolls.
    let edges: Vec<Length> = f.compilation.graph.edged().map(|edged| edged.length).collect();
    assert_eq!(edges.len(), 10);
    let rows = f.sheet("shopping")["rows"].as_array().unwrap().clone();
    let tape = rows.iter().find(|row| row["what"] == "beech_edge, 22 mm wide").unwrap();
    assert_eq!(tape["count"], "2 rolls");
    assert_eq!(tape["remark"], "11506 mm for 10 front edges, 1 in (25 mm) over at each");
    assert_eq!(tape["cost"], "28.00 EUR");
    let grommet = rows.iter().find(|row| row["what"] == "grommet for a hole of 60 mm").unwrap();
    assert_eq!((&grommet["count"], &grommet["remark"]), (&"1".into(), &"75 mm over its flange".into()));
    // Over a notch for toes the edge of a side begins: 1800 - 70.
    let toe = NOOK.replace("each unit {", "each unit {\n    toe { height = 70mm }");
    let f = Figures::of_text(&toe);
    let graph = &f.compilation.graph;
    let sides = graph.edged().filter(|edged| matches!(graph.part(edged.part).unwrap().role, Role::Side(_)));
    assert!(sides.map(|edged| edged.length.mm()).all(|long| long == Rational::from(1730)));
}

#[test]
fn parts_with_strips_are_nailed_painted_weighed_and_laid_out() {
    let f = Figures::of_text(NOOK);
    // Six ends a unit, 492 long: (492 - 80) / 115, up, + 1 = 5.
    assert_eq!(f.count("hardware.brad.count"), 12 * 5);
    // The outer faces of the outer sides, gaps of 50 do not take a hand: none; so far apart as 102 they do, 1800 x 498 each.
    assert!(!f.surfaces("r").paint.contains_key(&PaintClass::OpenSides));
    let wide = Figures::of_text(&NOOK.replace("length = 1500mm", "length = 1604mm"));
    assert_eq!(wide.surfaces("r").paint[&PaintClass::OpenSides], Rational::from(2 * 1800 * 498));
    // 2 sides less a rabbet of 6 x 6 over 1720 (from 80 up), 3 shelves of 676 less what stands in 6 grooves, a back 664 + 12 wide.
    let volume = 18 * (2 * 1800 * 498 + 3 * 676 * 492) - 6 * 18 * 6 * 492 + 6 * 676 * 1720 - 2 * 6 * 6 * 1720;
    let MeasureValue::Estimate(weight, _) = f.measure("r.a.weight").value else { panic!() };
    let off = (weight.value - f64::from(volume) * 680e-9).abs();
    assert!(off < 0.05, "{} against {}", weight.value, f64::from(volume) * 680e-9);
    // A sheet offers 1216.5 x 2436.5. Two rips of 498 or 492: four sides take one each, six shelves two; three sheets. Of the backs,
    // 676 x 1720, each takes a sheet.
    let text = NOOK.to_owned() + "require project.sheets >= 5\nrequire project.sheets <= 5\n";
    assert!(!compiled_text(&text).has_errors());
}

#[test]
fn holes_lie_where_they_are_measured_on_their_parts() {
    let f = Figures::of_text(NOOK);
    // The shelf begins 12 inside the left face and 6 before the wall.
    f.mm("r.a.shelf.desk.hole.cable.along", "338");
    f.mm("r.a.shelf.desk.hole.cable.across", "74");
    // The back begins 12 in and at 80.
    f.mm("r.a.back.hole.socket.along", "820");
    f.mm("r.a.back.hole.socket.across", "338");
    f.mm("r.a.side.right.hole.across.along", "900");
    f.mm("r.a.side.right.hole.across.across", "100");
    let rows = f.sheet("cutouts")["holes"].as_array().unwrap().clone();
    let cable = rows.iter().find(|row| row["hole"] == "cable").unwrap();
    assert_eq!((&cable["end"], &cable["edge"]), (&"left end".into(), &"rear edge".into()));
    assert_eq!(cable["across"]["print"], "74 mm");
    assert_eq!(rows.len(), 4);
}

#[test]
fn a_hole_comes_out_in_the_open() {
    let told = |old: &str, new: &str| codes(&compiled_text(&NOOK.replace(old, new)));
    assert!(!codes(&compiled_text(NOOK)).iter().any(|code| matches!(*code, "C129" | "C130" | "C131")));
    // Through both sides of a seam, or it meets the other one.
    assert!(told("through = [left]", "through = [right]").contains(&"C129"));
    // The desk lies from 720 to 738: a hole of 40 in the side may begin at 738.
    let across = |bottom: &str| {
        NOOK.replace("off = 100mm, bottom = 900mm", &format!("off = 100mm, bottom = {bottom}"))
    };
    assert!(!codes(&compiled_text(&across("758mm"))).contains(&"C129"));
    assert!(codes(&compiled_text(&across("757mm"))).contains(&"C129"));
    // Out of the edge of the side: 498 deep.
    assert!(told("diameter = 40mm, off = 100mm", "diameter = 40mm, off = 479mm").contains(&"C129"));
    // 20 of wood behind a flange of 75: 6 + 20 + 37.5 from the wall.
    assert!(!told("off = 80mm", "off = 63.5mm").contains(&"C130"));
    assert!(told("off = 80mm", "off = 63mm").contains(&"C130"));
}

#[test]
fn a_strip_is_wider_than_its_edge_and_no_facing_covers_it() {
    let told = |old: &str, new: &str| codes(&compiled_text(&NOOK.replace(old, new)));
    assert!(!told("width = 22mm", "width = 19mm").contains(&"C131"));
    assert!(told("width = 22mm", "width = 18.9mm").contains(&"C131"));
    assert!(
        told("  unit a {", "  facing { stock = poplar, thickness = 20mm, lap = 0mm }\n  unit a {")
            .contains(&"L046")
    );
    assert!(told("grommet = 75mm", "grommet = 60mm").contains(&"V005"));
    assert!(told("through = [back]", "through = [bakc]").contains(&"L045"));
    assert!(told("left = 350mm, bottom = 900mm", "left = 350mm, off = 20mm").contains(&"L045"));
}
