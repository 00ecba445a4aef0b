//! What units stand on, and units of one run that differ in depth: every figure worked by hand, the working beside it.

use crate::compiled_text;
use crate::figures::Figures;
use scantling::parts::{PaintClass, RowKind, Work};
use scantling::quantity::Rational;
use std::collections::BTreeSet;

const STEPPED: &str = r#"
board ash { thickness = 20mm }
sheet ply { thickness = 18mm }
screw long { length = 45mm }
stick s { low = 20mm, mid = 400mm }
join plinth to carcass with butt { screw = long }
run r {
  length = 2100mm
  each unit { shelves = s, width = rest, height = 900mm, plinth { height = 90mm, set_back = 60mm }, top }
  unit a { depth = 400mm }
  unit b { depth = 300mm }
  facing { stock = ash, stile = 45mm, strip = 38mm, top_rail = 50mm }
}
"#;

/// With a separate base a side is H - base (common practice, no source).
#[test]
fn sides_on_a_base_are_as_much_shorter() {
    let f = Figures::of_text(STEPPED);
    // 900 - 90; wall ends want 45 - 22.5 = 22.5 each: (2100 - 45) / 2 = 1027.5 a unit.
    f.mm("r.a.side.left.length", "810");
    f.mm("r.a.width", "1027.5");
    f.mm("r.a.stands", "90");
    f.mm("r.a.plinth.front.length", "1027.5");
    // The rail stands 60 behind the front edges: 400 - 60 - 18; ribs between the rails: 342 - 2 x 18 less the rail.
    f.mm("r.a.plinth.front.y", "322");
    f.mm("r.a.plinth.rib[1].length", "304");
    f.mm("r.b.plinth.rib[1].length", "204");
    // (1027.5 - 18) / 600 is under two: three ribs, 504.75 apart.
    f.mm("r.a.plinth.rib[2].x", "504.75");
    f.mm("r.a.plinth.rib[3].x", "1009.5");
    assert!(!f.compilation.graph.measures().contains_key("r.a.plinth.rib[4].x"));
    // The box of a part counts from the level line.
    let graph = &f.compilation.graph;
    let part = |path: &str| graph.parts.iter().find(|part| part.path == path).unwrap();
    let z = |path: &str| graph.bounds(part(path)).unwrap()[2].map(|z| z.mm().to_string());
    assert_eq!(z("r.a.plinth.front"), ["0", "90"]);
    assert_eq!(z("r.a.side.left"), ["90", "900"]);
    // Two rails a unit: 2 + floor of (1027.5 - 80) / 200 rounded up = 6 screws in each.
    let on_base = graph.rows.iter().filter(|row| row.kind.words() == "carcasses on plinths");
    assert_eq!(on_base.map(|row| row.count).collect::<Vec<_>>(), [6, 6, 6, 6]);
}

#[test]
fn where_fronts_step_each_unit_has_its_own_stile() {
    let f = Figures::of_text(STEPPED);
    // Half of 45 over each side: 18 and a lap of 4.5, flush with the seam at 22.5 + 1027.5 - 22.5 (the left gap counts in).
    for (path, width, y) in [("r.stile.a.b.left", "22.5", "400"), ("r.stile.a.b.right", "22.5", "300")] {
        f.mm(&format!("{path}.width"), width);
        f.mm(&format!("{path}.y"), y);
        // From over the toe space to the top: 900 - 90.
        f.mm(&format!("{path}.z"), "90");
        f.mm(&format!("{path}.length"), "810");
    }
    f.mm("r.stile.a.b.left.x", "1027.5");
    f.mm("r.stile.a.b.right.x", "1050");
    let graph = &f.compilation.graph;
    let rows = &graph.rows;
    let hosts = |stile: &str| -> Vec<&str> {
        rows.iter().filter(|row| graph.called(row.guest) == stile).map(|row| graph.called(row.host)).collect()
    };
    assert_eq!(hosts("r.stile.a.b.left"), ["r.a.side.right"]);
    assert_eq!(hosts("r.stile.a.b.right"), ["r.b.side.left"]);
    assert_eq!(hosts("r.stile.left"), ["r.a.side.left"]);
}

const NOTCHED: &str = r#"
sheet ply { thickness = 18mm }
stick low { seat = 90mm }
carcass c { shelves = low, width = 800mm, height = 450mm, depth = 350mm, stretcher bottom, toe { height = 90mm }, top }
"#;

#[test]
fn a_toe_notch_moves_the_front_stretcher_back() {
    let f = Figures::of_text(NOTCHED);
    // 350 - 75 - 18, with the usual depth of 75.
    f.mm("c.stretcher.bottom.front.y", "257");
    f.mm("c.stretcher.bottom.front.width", "90");
    f.mm("c.side.left.length", "450");
    let list = f.sheet("cut-list").to_string();
    assert!(list.contains("notch the lower front corner for toes: 90 mm high, 75 mm deep"), "{list}");
}

#[test]
fn nobody_paints_what_a_toe_notch_takes_away() {
    let f = Figures::of_text(NOTCHED);
    let graph = &f.compilation.graph;
    let surfaces = graph.surfaces(graph.faces().unwrap(), Work::Left);
    let paint = |class| surfaces[0].paint[&class];
    // Each outer face is 450 x 350 less 90 x 75; each inner one 350 deep between floor and top, 450 - 90 - 2 x 18 = 324, with
    // the front edge, 450 x 18, that of the notch in it, less the end of the top, 12 x 18; and the notch's upper edge, 75 x 18.
    assert_eq!(paint(PaintClass::OpenSides), Rational::from(2 * (450 * 350 - 90 * 75)));
    assert_eq!(paint(PaintClass::Insides), Rational::from(2 * (350 * 324 + 450 * 18 - 12 * 18 + 75 * 18)));
}

#[test]
fn a_rail_does_not_close_a_toe_space() {
    let closed = STEPPED.replace("top_rail = 50mm", "bottom_rail = to_floor");
    let compilation = compiled_text(&closed);
    let said: Vec<&str> = compilation.diagnostics.iter().map(|d| &*d.message).collect();
    assert_eq!(said, ["the bottom rail of `r` closes the toe space of `r.a`"]);
    let high = STEPPED.replace("900mm, plinth { height = 90mm", "600mm, plinth { height = 600mm");
    let said: Vec<String> = compiled_text(&high).diagnostics.iter().map(|d| d.message.to_string()).collect();
    assert_eq!(
        said.first().map(String::as_str),
        Some("plinth and counter leave nothing of the sides of `r.a`")
    );
}

#[test]
fn doors_and_a_facing_exclude_each_other() {
    let both = STEPPED.replace("depth = 400mm", "depth = 400mm, doors { count = 2 }");
    let said: Vec<String> = compiled_text(&both).diagnostics.iter().map(|d| d.message.to_string()).collect();
    assert_eq!(said, ["`r.a` has doors before its front edges, where the facing stands"]);
}

/// A filler strip and a ceiling panel belong to the run, not to the unit that the plinth raises: they count from the level
/// line. 900 with a plinth of 90 that is set back: the strip stands on 90 and ends at 900, where the panel lies.
#[test]
fn what_stands_beside_and_over_a_plinth_counts_from_the_level_line() {
    let text = r#"
board ash { thickness = 20mm }
sheet ply { thickness = 18mm }
stick s { low = 20mm, mid = 400mm }
run r {
  length = 1000mm
  end left { gap = 30mm, filler = ash }
  end right { against = open }
  unit a { shelves = s, width = rest, height = 900mm, depth = 300mm, plinth { height = 90mm, set_back = 60mm }, top }
  ceiling_panel { stock = ply, depth = 320mm }
}
"#;
    let f = Figures::of_text(text);
    f.mm("r.filler.left.z", "90");
    f.mm("r.filler.left.length", "810");
    f.mm("r.ceiling_panel.z", "900");
    // On the floor it is as long as the unit is high.
    let flush = text.replace(", set_back = 60mm", "");
    let f = Figures::of_text(&flush);
    f.mm("r.filler.left.z", "0");
    f.mm("r.filler.left.length", "900");
}

/// The top lies in rabbets at the ends of the sides: 900 - 400 - 18 - 18 are left for a stretcher on the shelf at 400.
#[test]
fn a_top_stretcher_ends_under_the_top() {
    let text = r#"
sheet ply { thickness = 18mm }
stick s { low = 80mm, mid = 400mm }
carcass c { shelves = s, width = 800mm, height = 900mm, depth = 300mm, stretcher top, top }
"#;
    let f = Figures::of_text(text);
    f.mm("c.stretcher.top.rear.width", "464");
    f.mm("c.stretcher.top.rear.z", "418");
    let flush = text.replace("mid = 400mm", "mid = 882mm").replace(", top }", " }");
    let said: Vec<String> = compiled_text(&flush).diagnostics.iter().map(|d| d.message.to_string()).collect();
    assert_eq!(said, ["the top stretcher of `c` has no place"]);
}

/// Two rails and a rib between them take more than is left of 80 behind 60.
#[test]
fn a_plinth_has_room_for_its_rails() {
    let text = STEPPED.replace("depth = 300mm", "depth = 80mm");
    let said: Vec<String> = compiled_text(&text).diagnostics.iter().map(|d| d.message.to_string()).collect();
    assert_eq!(said, ["nothing is left behind the toe space of `r.b`"]);
}

/// Ends 1 1/2 in from the ends, at most 4 1/2 in apart in a joint and 8 in along an edge (common practice, no source).
#[test]
fn fasteners_of_a_base_and_of_a_counter_are_counted_by_place() {
    let f = Figures::of_text(
        "sheet ply { thickness = 3/4\" }\nnail brad { length = 2\" }\nstick lines { low = 3\" }\ncarcass desk { shelves = lines, \
         width = 30\", height = 30\", depth = 16\", counter, plinth { height = 4\", ribs = 14\" } }\njoin rib to rail with butt { \
         nail = brad }\njoin plinth to carcass with butt { nail = brad }\njoin counter to side with butt { nail = brad }\n",
    );
    // Four ribs, two ends each: (4 - 3) / 4 1/2 is one space, so 2 nails.
    assert_eq!(f.count("hardware.brad.rib_ends"), 4 * 2 * 2);
    // Two rails of 30 in: 27 / 8 are four spaces, so 5 each.
    assert_eq!(f.count("hardware.brad.plinths"), 2 * 5);
    // Two sides, 16 in deep: 13 / 8 are two spaces, so 3 each.
    assert_eq!(f.count("hardware.brad.counters"), 2 * 3);
    assert_eq!(f.count("hardware.brad.count"), 16 + 10 + 6);
}

#[test]
fn every_place_of_fasteners_has_a_path_of_its_own() {
    let steps: BTreeSet<&str> = RowKind::ALL.iter().map(|kind| kind.step()).collect();
    assert_eq!(steps.len(), RowKind::ALL.len());
}
