//! Counters over several units and spaces, and what a unit takes back of what `each` gives. Every figure is worked beside it, in
//! millimetres.

use crate::figures::Figures;
use crate::{codes, compiled_text};
use scantling::parts::{MeasureValue, PaintClass, Role};
use scantling::quantity::Rational;

const SCULLERY: &str = r#"
project "Scullery" { marks = 1mm }
room scullery {
  wall back_wall {
    right = open
    reading low { back = 3010mm, front = 3010mm }
    reading middle { back = 3010mm, front = 3010mm }
    reading high { back = 3010mm, front = 3010mm }
  }
}
sheet ply { thickness = 18mm, size = 2440mm x 1220mm, density = 680 kg/m3 }
sheet top_ply { thickness = 25mm, size = 2440mm x 1220mm, density = 680 kg/m3 }
screw low_head { length = 35mm }
stick s { low = 80mm, mid = 450mm }
run base {
  along = scullery.back_wall
  end left { gap = 10mm }
  each unit { stock = ply, shelves = s, height = 900mm, depth = 560mm, width = 590mm, plinth { height = 70mm }, top }
  counter { stock = top_ply, over = 25mm, ends = 30mm }
  unit a
  unit b
  space laundry { width = 640mm, thing washer { width = 600mm, height = 850mm, depth = 560mm } }
  unit c { without = [plinth] }
  unit d
}
join counter to side with butt { screw = low_head }
"#;

#[test]
fn one_counter_lies_over_units_and_spaces() {
    let f = Figures::of_text(SCULLERY);
    // Four of 590 and 640, after 10 at the wall: 3010. The height counts counter and plinth: 900 - 25 - 70; without the plinth 875.
    f.mm("base.a.height", "805");
    f.mm("base.c.height", "875");
    f.mm("base.c.x", "1830");
    // From the wall to 30 past the last unit: 3040. A sheet offers 2436.5 of that: joined over the last seam before, between c and d,
    // at 10 + 2 x 590 + 640 + 590 = 2420.
    f.mm("base.counter[1].x", "0");
    f.mm("base.counter[1].length", "2420");
    f.mm("base.counter[2].x", "2420");
    f.mm("base.counter[2].length", "620");
    // 560 and 25 over; on the ends of the sides, 875 up.
    f.mm("base.counter[1].width", "585");
    f.mm("base.counter[1].z", "875");
    // Over a space that meets the wall it reaches the wall too, the space counted.
    let outer = SCULLERY
        .replace("  end left { gap = 10mm }\n", "")
        .replace("  unit a\n", "  space bin { width = rest }\n  unit a\n");
    let f = Figures::of_text(&outer);
    f.mm("base.bin.width", "10");
    f.mm("base.counter[1].x", "0");
}

#[test]
fn its_screws_paint_weight_and_sheets() {
    let f = Figures::of_text(SCULLERY);
    // A row in each of eight sides, 560 long: (560 - 80) / 200, up, + 1 = 4.
    assert_eq!(f.count("hardware.low_head.counters"), 8 * 4);
    // From above 585 x 3040.
    assert_eq!(f.surfaces("base").paint[&PaintClass::Tops], Rational::from(585 * 3040 + below_and_edges()));
    // The two pieces: 25 x 585 x (2420 + 620).
    for (piece, long) in [(1, 2420), (2, 620)] {
        let path = format!("base.counter[{piece}].weight");
        let MeasureValue::Estimate(weight, _) = f.measure(&path).value else { panic!() };
        assert!((weight.value - f64::from(25 * 585 * long) * 680e-9).abs() < 1e-9, "{}", weight.value);
    }
    // 585 and 585 beside each other in one sheet of 1216.5; it is put on afterwards and is no weight of a unit.
    let graph = &f.compilation.graph;
    let counters: Vec<_> = graph.parts.iter().filter(|part| part.role == Role::Counter).collect();
    assert_eq!(counters.len(), 2);
    assert!(counters.iter().all(|part| part.unit.is_none()));
    let sheets = f.sheet("shopping")["rows"].as_array().unwrap().clone();
    let top = sheets.iter().find(|row| row["what"].as_str().unwrap().starts_with("top_ply")).unwrap();
    assert_eq!(top["count"], "1");
}

/// What is seen of the counter besides its upper face: its underside over the space, before the fronts and past the last unit, its edges.
fn below_and_edges() -> i128 {
    // Over the space 640 x 560, before the fronts 25 x 3040, past the last unit 30 x 560, in the gap at the wall nothing is reached.
    let under = 640 * 560 + 25 * 3040 + 30 * 560;
    // Front edge, right end; the joint is butted, of the left end 25 x 25 before the gap is no wall that is known.
    under + 25 * 3040 + 25 * 585 + 25 * 25
}

#[test]
fn a_unit_takes_back_what_each_gives() {
    let f = Figures::of_text(SCULLERY);
    assert!(f.compilation.graph.parts.iter().any(|part| part.path == "base.a.plinth.front"));
    assert!(!f.compilation.graph.parts.iter().any(|part| part.path.starts_with("base.c.plinth")));
    let f = Figures::of_text(&SCULLERY.replace("without = [plinth]", "without = [plinth, top]"));
    assert!(f.compilation.graph.parts.iter().any(|part| part.path == "base.d.top"));
    assert!(!f.compilation.graph.parts.iter().any(|part| part.path == "base.c.top"));
    // What nobody gives cannot be taken back.
    assert_eq!(codes(&compiled_text(&SCULLERY.replace("without = [plinth]", "without = [back]"))), ["V005"]);
}

#[test]
fn what_a_counter_lies_over_is_named_side_by_side() {
    let told = |on: &str| {
        codes(&compiled_text(&SCULLERY.replace("over = 25mm", &format!("over = 25mm, on = [{on}]"))))
    };
    assert!(!told("a, b, laundry").contains(&"L029"));
    assert!(told("a, laundry").contains(&"L029"));
    assert!(told("a, sink").contains(&"L029"));
    assert!(told("laundry").contains(&"L029"));
    // Only those under it are lower by it.
    let f = Figures::of_text(&SCULLERY.replace("over = 25mm", "over = 25mm, on = [a, b]"));
    f.mm("base.a.height", "805");
    f.mm("base.d.height", "830");
    // To 30 past b: 10 + 1180 + 30.
    f.mm("base.counter.length", "1220");
    // Units of two heights have no counter in common.
    let step = SCULLERY.replace("  unit d\n", "  unit d { height = 880mm }\n");
    assert!(codes(&compiled_text(&step)).contains(&"L029"));
}

#[test]
fn what_stands_under_it_goes_in_and_it_does_not_hang_in_the_air() {
    let told = |old: &str, new: &str| codes(&compiled_text(&SCULLERY.replace(old, new)));
    assert!(!codes(&compiled_text(SCULLERY)).iter().any(|code| matches!(*code, "C132" | "C133")));
    // 875 less 10 of play.
    assert!(!told("height = 850mm", "height = 865mm").contains(&"C132"));
    assert!(told("height = 850mm", "height = 866mm").contains(&"C132"));
    // 760 of span.
    let wide = |space: u32, unit: &str| {
        SCULLERY
            .replace("width = 640mm", &format!("width = {space}mm"))
            .replace("width = 590mm", &format!("width = {unit}mm"))
    };
    assert!(!codes(&compiled_text(&wide(760, "560"))).contains(&"C133"));
    assert!(codes(&compiled_text(&wide(761, "559.75"))).contains(&"C133"));
}
