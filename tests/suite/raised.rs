//! Checks of units that stand on plinths, under counters, behind doors; of bays, loose shelves and steps: each text, what
//! tells it, and the number it tells, worked by hand beside it.

use crate::compiled_text;
use scantling::compile::{compile_with_mends, mended};
use scantling::parts::Role;
use scantling::source::MemoryFiles;

/// The messages of a text: slug, then headline and all helps.
fn told(text: &str) -> Vec<(&'static str, String)> {
    let said = compiled_text(text).diagnostics;
    said.iter().map(|d| (d.code.slug, format!("{} | {}", d.message, d.help.join(" | ")))).collect()
}

fn slugs(text: &str) -> Vec<&'static str> {
    told(text).into_iter().map(|(slug, _)| slug).collect()
}

/// What a check compares of a member, in base units.
fn value(text: &str, slug: &str, subject: &str, what: &str) -> f64 {
    let findings = compiled_text(text).findings;
    let found = findings.iter().find(|f| f.code.slug == slug && f.subject == subject && f.what == what);
    found.map_or_else(|| panic!("{slug} says nothing of {what}"), |finding| finding.value.value())
}

/// The box is 17 1/2 to 21 1/2 up, the sides stand on 4: a shelf 23/32 thick ends under it at 13 1/2 - 23/32 = 12 25/32.
#[test]
fn marks_that_clear_an_outlet_count_from_the_plinth() {
    let text = r#"room r { wall w {
  right = open
  reading low { back = 31", front = 31" }
  obstacle socket { kind = outlet, left = 20", bottom = 17 1/2", width = 2 3/4", height = 4" }
} }
sheet ply { thickness = 23/32" }
stick s { floor = 0", folios = 14" }
run shelves { along = r.w, end left { gap = 1" }, unit a { shelves = s, width = rest, height = 40", depth = 11", plinth { height = 4" } } }
"#;
    let all = told(text);
    let (_, said) = all.iter().find(|(slug, _)| *slug == "outlet_covered").unwrap();
    assert!(said.contains("the nearest mark at which `folios` clears it is 12 25/32\""), "{said}");
    assert!(!slugs(&text.replace("folios = 14\"", "folios = 12 25/32\"")).contains(&"outlet_covered"));
}

/// Plinth, sides and counter are 2450 under 2385; 12.7 stay free, to the millimetre below.
#[test]
fn plinth_and_counter_count_under_the_ceiling() {
    let text = r#"room k { ceiling { above = [2385mm] }
  wall n { right = open, reading low { back = 1000mm, front = 1000mm } } }
sheet ply { thickness = 18mm }
stick s { floor = 80mm, mid = 900mm }
run base { along = k.n, end left { gap = 25mm }
  unit a { shelves = s, width = rest, height = 2450mm, depth = 300mm, plinth { height = 200mm }, counter { over = 20mm } } }
"#;
    let said = told(text);
    assert_eq!((said.len(), said[0].0), (1, "stand_up"), "{said:?}");
    assert!(said[0].1.starts_with("`base.a` does not fit under the ceiling | 2372.3 mm with"), "{said:?}");
    assert_eq!(told(&text.replace("2450mm", "2372mm")), []);
}

/// Sides of sqrt((2400 - 12.7)^2 - 300^2) = 2368.3 stand up; with a plinth of 10 that is 2378.3.
#[test]
fn what_is_tallest_counts_the_plinth() {
    let text = r#"
project { marks = 0.1mm }
room k { ceiling { above = [2400mm] }
  wall n { right = open, reading low { back = 1000mm, front = 1000mm } } }
sheet ply { thickness = 18mm }
stick s { floor = 0mm, mid = 900mm }
run base { along = k.n, end left { gap = 25mm }
  unit a { shelves = s, width = rest, height = 2385mm, depth = 300mm, plinth { height = 10mm } } }
"#;
    let said = told(text);
    let tallest = "| 2378.3 mm with its plinth and counter is the tallest of this depth that stands up";
    assert!(said.len() == 1 && said[0].1.ends_with(tallest), "{said:?}");
    let files = MemoryFiles::single("a.scant", text);
    let mended = compile_with_mends(&files, "a.scant".into()).unwrap();
    let fixes: Vec<&str> = mended.diagnostics[0].fixes.iter().map(|fix| &*fix.edits[0].text).collect();
    assert_eq!(fixes, ["2378.3mm"]);
}

/// The carcass ends at 11 3/4, before the door's edge at 12 1/2; the counter and the doors do not.
#[test]
fn a_door_meets_counter_and_doors() {
    let text = r#"room r { wall w {
  right = open
  reading low { back = 40", front = 40" }
  opening hall { kind = door, side = left, off = 12 1/2", width = 30", height = 80", hinge = near }
} }
sheet ply { thickness = 23/32" }
stick s { floor = 0", folios = 10" }
run shelves { along = r.w, end left { gap = 1" }, unit a { shelves = s, width = rest, height = 34", depth = 11 3/4", top, plinth { height = 4" }, counter { over = 1 1/2" }, doors { count = 2 } } }
"#;
    assert_eq!(slugs(text), ["door_swing"]);
    assert_eq!(told(&text.replace(", counter { over = 1 1/2\" }, doors { count = 2 }", "")), []);
}

/// The leaf of 700 at 300 passes the unit that is 200 deep; the one that is 600 deep begins at 1200.
#[test]
fn units_of_different_depth_meet_a_door_each_by_itself() {
    let text = r#"room r { wall w {
  right = open
  reading low { back = 2000mm, front = 2000mm }
  opening hall { kind = door, side = left, off = 300mm, width = 700mm, height = 2000mm, hinge = near }
} }
sheet ply { thickness = 18mm }
stick s { floor = 80mm, folios = 400mm }
run shelves { along = r.w, end left { gap = 10mm }, unit a { shelves = s, width = 1190mm, height = 900mm, depth = 200mm }, unit b { shelves = s, width = 700mm, height = 900mm, depth = 600mm } }
"#;
    assert_eq!(told(text), []);
    let near = text
        .replace("width = 1190mm", "width = 590mm")
        .replace("2000mm, front = 2000mm", "1300mm, front = 1300mm");
    assert_eq!(slugs(&near), ["door_swing"]);
}

#[test]
fn the_strip_of_a_shelf_in_a_bay_stiffens_it() {
    let without = r#"sheet ply { thickness = 18mm, stiffness = 8.5 kN/mm2 }
board oak { thickness = 20mm, stiffness = 10.9 kN/mm2 }
run q {
  unit a { stock = ply, width = 1900mm, height = 900mm, depth = 300mm, top, stretcher bottom { height = 80mm }, load = 40 kg/m, shelf floor { bay left { shelf low }, bay right } }
  facing { stock = oak, lap = 0mm, top_rail = 60mm }
}
"#;
    let shelf = "q.a.shelf.floor.bay.left.shelf.low";
    let with = without.replace("top_rail = 60mm", "top_rail = 60mm, strip = 40mm");
    let [bare, stiff] = [without, &with].map(|text| value(text, "sag", shelf, "sag in years"));
    assert!(stiff < bare, "{stiff} {bare}");
}

/// At mark 0 the rails of the plinth, or the floor, carry it.
#[test]
fn a_shelf_on_the_plinth_does_not_sag() {
    let text = r#"
sheet ply { thickness = 18mm, stiffness = 7 kN/mm2 }
stick s { floor = 0mm, mid = 500mm }
carcass a { shelves = s, width = 1400mm, height = 900mm, depth = 300mm, load = books, top, plinth { height = 90mm } }
"#;
    let findings = compiled_text(text).findings;
    let sags: Vec<&str> =
        findings.iter().filter(|f| f.code.slug == "sag").map(|f| f.subject.as_str()).collect();
    assert_eq!(sags, ["a.shelf.mid"]);
}

/// Four levels 864 wide at 40 kg/m, the unit and its loose shelves over 0.9 m.
#[test]
fn loose_shelves_are_loaded_and_weigh() {
    let text = r#"room r { floor { build = slab }
 wall w { right = open, reading low { back = 925mm, front = 925mm } } }
sheet ply { thickness = 18mm, density = 600 kg/m3 }
pin peg { diameter = 5mm }
run q { along = r.w, end left { gap = 25mm }, unit a { width = rest, height = 1300mm, depth = 300mm, top, stretcher bottom { height = 80mm }, load = 40 kg/m, shelf floor { adjustable { count = 3, pin = peg } } } }
"#;
    let whole = value(text, "floor", "q", "units, facing and load along the wall") * 1000.0;
    let graph = compiled_text(text).graph;
    let loose = graph.parts.iter().filter(|part| part.role == Role::Loose);
    let loose: f64 = loose.map(|part| graph.part_weight(part, &graph.cut_off()).unwrap().value).sum();
    let expected =
        (4.0 * 0.864 * 40.0 + graph.unit_weights(&graph.cut_off())[0].unwrap().value + loose) / 0.9;
    assert!((whole - expected).abs() < 1e-6, "{whole} {expected}");
}

/// 2 m on four levels of 864, which hold 3.456 m.
#[test]
fn loose_shelves_hold_too() {
    let text = r#"sheet ply { thickness = 18mm }
pin peg { diameter = 5mm }
carcass a { width = 900mm, height = 1300mm, depth = 300mm, top, stretcher bottom { height = 80mm }, load = 40 kg/m, shelf floor { adjustable { count = 3, pin = peg }, contents files { length = 2m } } }
"#;
    assert_eq!(told(text), []);
    assert_eq!(slugs(&text.replace("length = 2m", "length = 3.46m")), ["running_length"]);
}

/// 780 in all is over 27 in (685.8), though the sides are 662; it tips about the plinth, 80 behind the front.
#[test]
fn a_unit_tips_about_its_plinth() {
    let text = r#"sheet ply { thickness = 18mm, density = 680 kg/m3 }
stick s { floor = 0mm, high = 400mm }
run one { each unit { shelves = s, width = 800mm, height = 780mm, depth = 400mm, top, plinth { height = 100mm, set_back = 80mm }, counter { over = 20mm } }, unit a }
"#;
    let pull = value(text, "tips", "one.a", "pull at the top that tips a unit nothing holds");
    let weight =
        compiled_text(text).graph.unit_weights(&compiled_text(text).graph.cut_off())[0].unwrap().value;
    assert!((pull - weight * (200.0 - 80.0) / 780.0).abs() < 1e-6, "{pull}");
}

#[test]
fn a_plinth_without_a_rail_is_buried_too() {
    let text = r#"room r {
  floor { stand_on = subfloor, later = 120mm }
  wall a { right = open, reading low { back = 900mm, front = 900mm }, floor { below = [0mm] } }
}
sheet ply { thickness = 18mm }
stick s { floor = 0mm, high = 500mm }
run one { along = r.a, end left { gap = 25mm }, unit u { shelves = s, width = rest, height = 900mm, depth = 300mm, plinth { height = 100mm, set_back = 60mm } } }
"#;
    let said = told(text);
    assert_eq!((said.len(), said[0].0), (1, "plinth_buried"), "{said:?}");
    assert!(said[0].1.ends_with("make it more than 120 mm high"), "{said:?}");
    assert_eq!(told(&text.replace("height = 100mm", "height = 140mm")), []);
}

/// Clear heights of 400 and 409 under a top at 882: lines at 464 and 455.
#[test]
fn lines_are_compared_without_a_stick() {
    let said = told(
        r#"sheet ply { thickness = 18mm }
run one { each unit { width = 600mm, height = 900mm, depth = 300mm, top }, unit a { shelf floor, shelf high { clear = 400mm } }, unit b { shelf floor, shelf high { clear = 409mm } } }
"#,
    );
    assert_eq!((said.len(), said[0].0), (1, "lines_step"), "{said:?}");
    let lines = "9 mm apart: `one.a.shelf.high` at 464 mm and `one.b.shelf.high` at 455 mm";
    assert!(said[0].1.contains(lines), "{said:?}");
}

/// 2175 mm is over 7 ft (2133.6 mm), lying or standing.
#[test]
fn a_long_low_unit_is_long() {
    assert_eq!(
        slugs(
            r#"room k { route hall { corner c { entry = 900mm, exit = 900mm, ceiling = 2400mm } }
  wall n { right = open, reading low { back = 2200mm, front = 2200mm } } }
sheet ply { thickness = 18mm, density = 680 kg/m3 }
person { count = 1 }
stick s { floor = 80mm, mid = 250mm }
run base { along = k.n, end left { gap = 25mm }
  unit a { shelves = s, width = rest, height = 450mm, depth = 300mm  } }
"#
        ),
        ["carry"]
    );
}

/// The run begins at 2000, where the ceiling is read.
#[test]
fn readings_are_wanted_along_the_run() {
    assert_eq!(
        told(
            r#"room r { ceiling { at = [2000mm, 2500mm, 2900mm], above = [2400mm, 2400mm, 2400mm] }
 wall w { right = open, reading low { back = 2900mm, front = 2900mm } } }
sheet ply { thickness = 18mm }
stick s { floor = 80mm, high = 500mm }
run one { along = r.w, end left { gap = 2000mm }, unit a { shelves = s, width = rest, height = 900mm, depth = 300mm } }
"#
        ),
        []
    );
}

/// The left stile is 57 wide, the one over the seam 2 x 18 + 2 x 4 = 44.
#[test]
fn stiles_are_compared_where_only_the_lap_is_stated() {
    let said = told(
        r#"room r { wall w { right = open, reading low { back = 1300mm, front = 1300mm } } }
sheet ply { thickness = 18mm }
board ash { thickness = 20mm }
stick s { floor = 80mm, high = 500mm }
run one { along = r.w, end left { gap = 35mm }, each unit { shelves = s, width = rest, height = 900mm, depth = 300mm }, unit a, unit b,  facing { stock = ash, lap = 4mm } }
"#,
    );
    assert_eq!((said.len(), said[0].0), (1, "filler"), "{said:?}");
    assert!(said[0].1.starts_with("the left stile of `one` is 13 mm off"), "{said:?}");
}

/// A filler strip of 60 is too wide to look meant.
#[test]
fn a_filler_strip_is_judged_like_a_stile() {
    let text = r#"
room r { wall w { right = open, reading low { back = 900mm, front = 900mm } } }
sheet ply { thickness = 18mm }
board ash { thickness = 20mm }
stick s { floor = 80mm, high = 500mm }
run one { along = r.w, end left { gap = 60mm, filler = ash }, unit a { shelves = s, width = rest, height = 900mm, depth = 300mm } }
"#;
    assert_eq!(slugs(text), ["filler"]);
    assert_eq!(told(&text.replace("gap = 60mm", "gap = 30mm")), []);
}

/// A back of 900 kg/m3 weighs as what it is cut from: 6 x 900 x 820 mm are 3.9852 kg.
#[test]
fn parts_weigh_by_what_they_are_cut_from() {
    let text = r#"
sheet ply { thickness = 18mm, density = 600 kg/m3 }
sheet thin { thickness = 6mm, density = 900 kg/m3 }
stick s { floor = 80mm, high = 500mm }
carcass a { stock = ply, shelves = s, width = 900mm, height = 900mm, depth = 300mm, back { stock = thin } }
join back to side with butt
"#;
    let bare = text.replace(", back { stock = thin }", "");
    let [with, without] = [text, &bare].map(|text| {
        compiled_text(text).graph.unit_weights(&compiled_text(text).graph.cut_off())[0].unwrap().value
    });
    assert!((with - without - 3.985_2).abs() < 1e-9, "{with} {without}");
}

/// Thirteen outlets whose mends want asking do not keep `--fix` from the nail.
#[test]
fn safe_mends_have_their_own_tries() {
    let text = r#"room r { wall w {
  right = open
  reading low { back = 1000mm, front = 1000mm }
  obstacle s0 { kind = outlet, left = 100mm, bottom = 340mm, width = 50mm, height = 100mm }
  obstacle s1 { kind = outlet, left = 160mm, bottom = 340mm, width = 50mm, height = 100mm }
  obstacle s2 { kind = outlet, left = 220mm, bottom = 340mm, width = 50mm, height = 100mm }
  obstacle s3 { kind = outlet, left = 280mm, bottom = 340mm, width = 50mm, height = 100mm }
  obstacle s4 { kind = outlet, left = 340mm, bottom = 340mm, width = 50mm, height = 100mm }
  obstacle s5 { kind = outlet, left = 400mm, bottom = 340mm, width = 50mm, height = 100mm }
  obstacle s6 { kind = outlet, left = 460mm, bottom = 340mm, width = 50mm, height = 100mm }
  obstacle s7 { kind = outlet, left = 520mm, bottom = 340mm, width = 50mm, height = 100mm }
  obstacle s8 { kind = outlet, left = 580mm, bottom = 340mm, width = 50mm, height = 100mm }
  obstacle s9 { kind = outlet, left = 640mm, bottom = 340mm, width = 50mm, height = 100mm }
  obstacle s10 { kind = outlet, left = 700mm, bottom = 340mm, width = 50mm, height = 100mm }
  obstacle s11 { kind = outlet, left = 760mm, bottom = 340mm, width = 50mm, height = 100mm }
  obstacle s12 { kind = outlet, left = 820mm, bottom = 340mm, width = 50mm, height = 100mm }
} }
sheet ply { thickness = 18mm }
nail short { length = 30mm }
stick s { floor = 80mm, high = 380mm }
run q { along = r.w, end left { gap = 25mm }, unit a { shelves = s, width = rest, height = 900mm, depth = 300mm } }
join shelf to side with dado { nail = short }
"#;
    let files = MemoryFiles::single("a.scant", text);
    assert_eq!(
        mended(&files, "a.scant".into()).unwrap().after,
        text.replace("length = 30mm", "length = 40mm")
    );
}
