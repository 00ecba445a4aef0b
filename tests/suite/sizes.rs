//! Sizes at walls, at facings and on pins: every figure worked by hand, the working beside it.

use crate::compiled_text;
use crate::figures::Figures;
use scantling::parts::RowKind;

fn told(text: &str, id: &str) -> Vec<String> {
    let compilation = compiled_text(text);
    let of = compilation.diagnostics.iter().filter(|told| told.code.id == id);
    of.map(|told| told.message.clone()).collect()
}

fn blank(f: &Figures, part: &str) -> [String; 2] {
    let graph = &f.compilation.graph;
    let blank = graph.part(graph.named(part).unwrap()).unwrap().blank.unwrap();
    [blank.width, blank.length].map(|len| len.value.mm().to_string())
}

/// Two units 600 wide, of sheets 18 and 15 thick, side by side under one facing.
fn two_sheets(facing: &str) -> String {
    format!(
        "sheet thick {{ thickness = 18mm }}\nsheet thin {{ thickness = 15mm }}\nboard ash {{ thickness = 20mm }}\n\
         stick s {{ low = 80mm, mid = 400mm, high = 800mm }}\nrun r {{\n  length = 1250mm\n  \
         each unit {{ shelves = s, width = 600mm, height = 900mm, depth = 300mm }}\n  \
         unit a {{ stock = thick }}\n  unit b {{ stock = thin }}\n  facing {{ stock = ash, {facing}, strip = 40mm }}\n}}\n"
    )
}

/// A stile of 46, centred on the seam, reaches 23 to each side: 23 - 18 = 5 over one opening, 23 - 15 = 8 over the other. Clear are
/// 564 and 570, so strips 564 - 2 x 5 = 554 and 570 - 2 x 8 = 554. Gaps wanted 46 - 23 = 23 at both ends: 1250 - 1200 - 46 = 4 are
/// left over, 2 each: 25. End stiles 25 + 18 + 5 and 25 + 15 + 8, both 48.
#[test]
fn each_unit_has_the_lap_of_its_own_sides() {
    let f = Figures::of_text(&two_sheets("stile = 46mm"));
    f.mm("r.a.strip.mid.length", "554");
    f.mm("r.b.strip.mid.length", "554");
    f.mm("r.a.strip.mid.x", "23");
    f.mm("r.b.strip.mid.x", "23");
    f.mm("r.stile.left.width", "48");
    f.mm("r.stile.right.width", "48");
    // A lap that is stated holds for both: the stile is 18 + 15 + 2 x 5 = 43, and reaches 23 and 20 from the seam at 25 + 600; the gaps
    // wanted without a stile are 6, so 25 each take what is left over.
    let f = Figures::of_text(&two_sheets("lap = 5mm"));
    f.mm("r.stile.a.b.width", "43");
    f.mm("r.stile.a.b.x", "602");
    f.mm("r.a.strip.mid.length", "554");
    f.mm("r.b.strip.mid.length", "560");
}

/// Two sides of 18 and two laps of 4 are 44.
#[test]
fn a_stile_and_a_lap_agree() {
    let text = |stile: &str| two_sheets(&format!("stile = {stile}, lap = 4mm")).replace("15mm", "18mm");
    assert!(told(&text("44mm"), "L040").is_empty());
    let off = "the stile over the seam of `r.a` and `r.b` is 45 mm wide, and two sides with two laps of 4 mm are 44 mm";
    assert_eq!(told(&text("45mm"), "L040"), [off]);
    // Where units differ in depth no stile stands over their seam.
    let apart = text("45mm").replace("stock = thin }", "stock = thin, depth = 250mm }");
    assert!(told(&apart, "L040").is_empty());
}

/// Without readings the gap of 25 holds at every height: 25 + 18 + 5 = 48, and 5 over it are 53, so 55.
#[test]
fn a_wall_stile_of_a_run_by_its_length_has_a_blank() {
    let f = Figures::of_text(&two_sheets("stile = 46mm, scribe { spare = 5mm, step = 5mm }"));
    assert_eq!(blank(&f, "r.stile.left"), ["55", "900"]);
    assert_eq!(blank(&f, "r.stile.right"), ["55", "900"]);
    let open =
        two_sheets("stile = 46mm").replace("  each unit", "  end left { against = open }\n  each unit");
    let graph = Figures::of_text(&open).compilation.graph;
    assert!(graph.part(graph.named("r.stile.left").unwrap()).unwrap().blank.is_none());
    // So does a filler strip: a gap of 6 and 5 are 11, so 15.
    let filled = two_sheets("stile = 46mm")
        .replace("  facing { stock = ash, stile = 46mm, strip = 40mm }\n", "")
        .replace("  each unit", "  end left { gap = 6mm, filler = ash }\n  each unit");
    assert_eq!(blank(&Figures::of_text(&filled), "r.filler.left")[0], "15");
}

/// A unit in a recess, whose side walls have plumb readings.
fn leaning(low: [&str; 4], high: [&str; 4]) -> String {
    let reading = |at: &str, [back, front, left, right]: [&str; 4]| {
        format!(
            "    reading {at} {{ back = {back}mm, front = {front}mm, left_back = {left}mm, right_back = {right}mm }}\n"
        )
    };
    format!(
        "project {{ marks = 0.1mm }}\nroom r {{\n  wall w {{\n{}{}  }}\n}}\nsheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm, mid = 500mm }}\n\
         run one {{\n  along = r.w\n  unit a {{ shelves = s, width = rest, height = 900mm, depth = 300mm }}\n}}\n",
        reading("low", low),
        reading("high", high)
    )
}

/// The left wall stands back 10 at the foot, the right one 10 at the top: every width is 1010, and the plumb lines are 1000 apart.
/// The unit takes 1000 - 2 x 6 = 988. With their leans the gaps are 6 + 10 and 6 at the foot, 6 and 16 at the top: 988 + 22 = 1010.
#[test]
fn plumb_readings_are_counted_once() {
    let f = Figures::of_text(&leaning(["1010", "1010", "10", "0"], ["1010", "1010", "0", "10"]));
    f.mm("one.a.width", "988");
    for (end, low, high) in [("left", "16", "6"), ("right", "6", "16")] {
        f.mm(&format!("one.end.{end}.low.front"), low);
        f.mm(&format!("one.end.{end}.high.front"), high);
    }
    // Where the front is 4 wider than the leans explain, either wall may have that.
    let f = Figures::of_text(&leaning(["1010", "1014", "10", "0"], ["1010", "1014", "0", "10"]));
    f.mm("one.a.width", "988");
    f.mm("one.end.left.low.front", "20");
    f.mm("one.end.right.low.front", "10");
    f.mm("one.end.left.low.back", "16");
}

/// A top rail of 78 begins at 900 - 78 = 822, at the underside of the topmost shelf. One of 70 begins at 830 and leaves 8 of the 18 of its
/// edge; one of 60 begins at 840, on its top, so that the shelf has a strip of its own, 40 high.
#[test]
fn a_top_rail_reaches_the_topmost_shelf_or_leaves_it_a_strip() {
    let text = |rail: &str| {
        format!(
            "sheet ply {{ thickness = 18mm }}\nboard ash {{ thickness = 20mm }}\nstick s {{ low = 80mm, mid = 400mm, high = 822mm }}\n\
             run r {{\n  unit a {{ shelves = s, width = 600mm, height = 900mm, depth = 300mm, shelf mid {{ bay one, bay two }} }}\n  \
             facing {{ stock = ash, lap = 4mm, strip = 40mm, top_rail = {rail} }}\n}}\n"
        )
    };
    let strip = |f: &Figures| f.compilation.graph.named("r.a.strip.high").is_some();
    // Up to the rail 822 - 418 = 404 are open, and the stile before the divider is as long.
    let f = Figures::of_text(&text("78mm"));
    f.mm("r.a.shelf.mid.opening_front", "404");
    f.mm("r.a.shelf.mid.stile.one.two.length", "404");
    assert!(!strip(&f));
    assert!(told(&text("78mm"), "L041").is_empty());
    // A higher one hangs 2 lower.
    Figures::of_text(&text("80mm")).mm("r.a.shelf.mid.stile.one.two.length", "402");
    // Before the edge: never more than behind, and told.
    let f = Figures::of_text(&text("70mm"));
    f.mm("r.a.shelf.mid.opening_front", "404");
    f.mm("r.a.shelf.mid.stile.one.two.length", "404");
    assert!(!strip(&f));
    let bare = "the top rail of `r` leaves 8 mm of the edge of the topmost shelf seen, in `r.a`";
    assert_eq!(told(&text("70mm"), "L041"), [bare]);
    assert!(told(&text("61mm"), "L041").len() == 1);
    // At its top, or over it: a strip of 40 hangs 22 under it, 382; over the shelf 900 - 50 - 840 = 10 are left.
    let f = Figures::of_text(&text("60mm"));
    f.mm("r.a.shelf.mid.opening_front", "382");
    f.mm("r.a.shelf.mid.stile.one.two.length", "382");
    assert!(strip(&f));
    assert!(told(&text("60mm"), "L041").is_empty());
    Figures::of_text(&text("50mm")).mm("r.a.shelf.high.opening_front", "10");
}

/// Shelves 300 deep behind a facing of 20: with a strip before it a shelf is 320 deep, without one 300; a bottom rail is flush with the
/// bottom shelf's top.
#[test]
fn only_what_lies_before_its_edge_makes_a_shelf_deeper() {
    let text = |facing: &str| two_sheets("lap = 4mm").replace(", strip = 40mm", facing);
    let depths = |facing: &str, low: &str, mid: &str| {
        let f = Figures::of_text(&text(facing));
        f.mm("r.a.shelf.low.opening_depth", low);
        f.mm("r.a.shelf.mid.opening_depth", mid);
    };
    depths(", strip = 40mm", "320", "320");
    depths("", "300", "300");
    depths(", bottom_rail = to_floor", "320", "300");
    let deep = |depth: &str| {
        let stands = format!("unit a {{ stock = thick, contents box {{ on = [low], depth = {depth} }} }}");
        told(&text("").replace("unit a { stock = thick }", &stands), "C017").len()
    };
    assert_eq!([deep("300mm"), deep("301mm")], [0, 1]);
}

/// Three loose shelves of 18 on holes 10 apart stand two holes apart: they take (3 - 1) x 2 + 1 = 5 holes. Clear 100 from 18 to 118,
/// margin 20: holes from 38 to 98, so 40, 50, .., 90 are 6; of clear 90 they are 40 to 80, 5; of clear 80 they are 4.
fn pins(clear: &str, more: &str) -> String {
    format!(
        "sheet ply {{ thickness = 18mm }}\npin peg {{ diameter = 5mm }}\ncarcass c {{\n  width = 600mm\n  height = {clear}\n  depth = 300mm\n  top\n  \
         shelf floor {{ adjustable {{ count = 3, pitch = 10mm, margin = 20mm, pin = peg{more} }} }}\n}}\n"
    )
}

#[test]
fn loose_shelves_do_not_stand_inside_each_other() {
    // 18 + clear + 18.
    let [six, five] = ["136mm", "126mm"];
    let heights = |clear: &str| {
        let graph = compiled_text(&pins(clear, "")).graph;
        let opening = graph.openings.iter().find(|opening| !opening.loose.is_empty());
        let loose = opening.map(|opening| opening.loose.clone()).unwrap_or_default();
        loose.iter().map(|id| graph.part(*id).unwrap().place.z.value.mm().to_string()).collect::<Vec<_>>()
    };
    assert_eq!(heights(five), ["40", "60", "80"]);
    // A quarter, half and three quarters of the way from 38 to 98 are 53, 68 and 83, on holes 50, 70 and 80; the third is kept
    // 20 over the second, at 90.
    assert_eq!(heights(six), ["50", "70", "90"]);
    // Holes from 18 + 20 to 198 - 20: 40 to 170 are 14. Eight shelves of 18, each on the second hole over the one below, take 15.
    let inside = "8 loose shelves over `c.shelf.floor` stand inside each other: they have 14 holes on the grid, and take 15";
    let eight = |clear: &str| told(&pins(clear, "").replace("count = 3", "count = 8"), "L023");
    assert_eq!(eight("216mm"), [inside]);
    assert_eq!(eight("226mm"), [""; 0]);
    assert_eq!(eight("186mm").len(), 1);
}

/// Two pins in each upright, four a shelf.
#[test]
fn pins_go_into_both_uprights() {
    let graph = compiled_text(&pins("136mm", "")).graph;
    for side in ["c.side.left", "c.side.right"] {
        let rows = graph.rows.iter().filter(|row| row.kind == RowKind::Pins);
        let here = rows.filter(|row| graph.called(row.host) == side);
        assert_eq!(here.map(|row| row.count).collect::<Vec<_>>(), [2, 2, 2], "{side}");
    }
}

/// Behind a hole 12 deep in 18 stay 6; 13 deep 5; 18 deep none.
#[test]
fn a_pin_hole_leaves_wood_behind_it() {
    let ids = |deep: &str| {
        let text = pins("136mm", &format!(", hole_depth = {deep}"));
        let all = compiled_text(&text).diagnostics;
        let ids = all.iter().map(|told| told.code.id).filter(|id| ["C111", "C112"].contains(id));
        ids.collect::<Vec<_>>()
    };
    assert_eq!(ids("12mm"), [""; 0]);
    assert_eq!(ids("13mm"), ["C112"]);
    assert_eq!(ids("17mm"), ["C112"]);
    assert_eq!(ids("18mm"), ["C111"]);
}

/// A dado is 0.1 to 0.4 wider than its sheet.
#[test]
fn a_fit_is_neither_too_tight_nor_too_loose() {
    let ids = |fit: &str| {
        let text = format!(
            "sheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm }}\ncarcass c {{ shelves = s, width = 600mm, height = 900mm, depth = 300mm }}\n\
             join shelf to side with dado {{ fit = {fit} }}\n"
        );
        let all = compiled_text(&text).diagnostics;
        let ids = all.iter().map(|told| told.code.id).filter(|id| ["C028", "C113"].contains(id));
        ids.collect::<Vec<_>>()
    };
    assert_eq!(ids("0mm"), ["C113"]);
    assert_eq!(ids("0.09mm"), ["C113"]);
    assert_eq!(ids("0.1mm"), [""; 0]);
    assert_eq!(ids("0.4mm"), [""; 0]);
    assert_eq!(ids("0.41mm"), ["C028"]);
}

/// A rabbet has one wall: a fit says nothing of it, nor does a depth of a butt joint.
#[test]
fn a_size_that_a_joint_does_not_have_is_told() {
    let idle = |join: &str| {
        told(
            &format!(
                "sheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm }}\n\
                 carcass c {{ shelves = s, width = 600mm, height = 900mm, depth = 300mm, top, stretcher bottom }}\njoin {join}\n"
            ),
            "V070",
        )
    };
    let fit = "the `fit` of a rabbet changes nothing: only dados and grooves have two walls";
    assert_eq!(idle("top to side with rabbet { depth = 6mm, fit = 0.2mm }"), [fit]);
    assert!(idle("top to side with rabbet { depth = 6mm }").is_empty());
    assert!(idle("shelf to side with dado { depth = 6mm, fit = 0.2mm }").is_empty());
    let depth = "the `depth` of a butt changes nothing: nothing is cut into the host";
    assert_eq!(idle("stretcher to side with butt { depth = 6mm }"), [depth]);
}

/// Two strips 30 - 2 x 3/4 - 2 x 1/8 = 28 1/4 long, 1 1/2 high, are 84.75 square inches; two stiles of 7/8 x 36 are 63: 147.75. At 144 for a foot of face that is 1.03 of 4/4 stock, dressed to 13/16 or less, and 1 1/4 times as much, 1.28, of 5/4,
/// dressed to 1 1/16 (NHLA).
#[test]
fn board_feet_count_the_rough_thickness() {
    let blanks = |thickness: &str| {
        let text = format!(
            "project {{ marks = 1/32\" }}\nsheet ply {{ thickness = 3/4\" }}\nboard ash {{ thickness = {thickness}\" }}\n\
             stick s {{ low = 3\", mid = 16\" }}\nrun r {{\n  length = 30\"\n  end left {{ against = open }}\n  end right {{ against = open }}\n  \
             unit a {{ shelves = s, width = 30\", height = 36\", depth = 11\" }}\n  facing {{ stock = ash, lap = 1/8\", strip = 1 1/2\" }}\n}}\n"
        );
        let list = Figures::of_text(&text).sheet("cut-list");
        let solid = list["groups"].as_array().unwrap().iter().find(|group| group["stock"] == "ash").unwrap();
        solid["solid"]["blanks"].as_str().unwrap().to_owned()
    };
    assert_eq!(blanks("3/4"), "~1.03 bd ft");
    assert_eq!(blanks("13/16"), "~1.03 bd ft");
    assert_eq!(blanks("1 1/16"), "~1.28 bd ft");
    // Thicker than 8/4 as it is: 147.75 / 144 x 2 = 2.05.
    assert_eq!(blanks("2"), "~2.05 bd ft");
}

#[test]
fn a_facing_is_no_thicker_than_its_board() {
    let thick = |facing: &str| told(&two_sheets(&format!("thickness = {facing}, lap = 4mm")), "V071");
    assert!(thick("20mm").is_empty());
    assert!(thick("15mm").is_empty());
    assert_eq!(thick("21mm"), ["a facing 21 mm thick is cut from a board of 20 mm"]);
}

/// Three units share 1000 less 2 x 6: 329.33, to the nearest step of 5 they are 330 and leave 10, 5 at each end, less than the 6 that a
/// body needs. Rounded down they are 325 and leave 25.
#[test]
fn rounding_takes_no_clearance() {
    let text = |length: &str| {
        format!(
            "sheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm }}\nrun r {{\n  length = {length}\n  \
             each unit {{ shelves = s, width = rest to 5mm, height = 900mm, depth = 300mm }}\n  unit a\n  unit b\n  unit c\n}}\n"
        )
    };
    let f = Figures::of_text(&text("1000mm"));
    f.mm("r.a.width", "325");
    f.mm("r.gap_left", "12.5");
    assert!(told(&text("1000mm"), "C025").is_empty());
    // (1002 - 12) / 3 = 330: nothing is rounded.
    let f = Figures::of_text(&text("1002mm"));
    f.mm("r.a.width", "330");
    f.mm("r.gap_left", "6");
    assert!(told(&text("1002mm"), "C025").is_empty());
}
