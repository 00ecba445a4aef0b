//! Doors and drawers in the openings of a facing, over its edges, and in carcasses without one. Every figure is worked beside it, in
//! millimetres.

use crate::figures::Figures;
use crate::{codes, compiled_text};
use scantling::parts::{MeasureValue, PaintClass, Role, RowKind};
use scantling::quantity::Rational;

const POTS: &str = r#"
project "Pot room" { marks = 1mm }
sheet ply { thickness = 18mm, size = 2440mm x 1220mm, density = 680 kg/m3 }
sheet box_ply { thickness = 12mm, size = 2440mm x 1220mm, density = 680 kg/m3 }
sheet thin { thickness = 6mm, size = 2440mm x 1220mm, density = 600 kg/m3 }
board poplar { thickness = 20mm }
hinge cup { cup = 35mm, price = 4 EUR }
slide runner { lengths = [300mm, 350mm, 400mm], price = 15 EUR }
pull knob { price = 3 EUR }
screw short { length = 25mm }
nail brad { length = 30mm }
stick s { low = 80mm, mid = 500mm, up = 1200mm }
run r {
  length = 1600mm
  end left { against = open }
  end right { against = open }
  each unit { stock = ply, shelves = s, height = 1500mm, depth = 420mm, width = rest }
  unit left {
    doors cupboard { between = [mid, up], count = 2, hinge = cup, pull = knob }
    drawers lower { count = 2, between = [low, mid], box = box_ply, bottom = thin, slide = runner, pull = knob }
  }
  unit right { doors { count = 2, fit = overlay, between = [mid, up], hinge = cup } }
  facing { stock = poplar, stile = 44mm, strip = 38mm, top_rail = 100mm }
}
join front to box with butt { screw = short }
join box to box with butt { nail = brad }
"#;

#[test]
fn doors_stand_in_the_opening_of_the_facing_or_over_its_edges() {
    let f = Figures::of_text(POTS);
    // Units of 800. The stile of 44 over the seam laps each opening by 4, so do those at the ends: 22 to 778, 756 between stiles. From
    // the shelf's top at 518 to the strip of 38 that is flush with the top of the next at 1218: 1180, so 662.
    let door = "r.left.door.cupboard[1]";
    f.mm(&format!("{door}.width"), "373.5"); // (756 - 3 x 3) / 2
    f.mm(&format!("{door}.length"), "656"); // 662 - 2 x 3
    f.mm(&format!("{door}.x"), "25");
    f.mm(&format!("{door}.y"), "422"); // 420 + 20 - 18: flush with the facing
    f.mm(&format!("{door}.z"), "521");
    f.mm("r.left.door.cupboard[2].x", "401.5"); // 25 + 373.5 + 3
    // 13 over each edge, 2 off the facing.
    f.mm("r.right.door[1].width", "389.5"); // (756 + 26 - 3) / 2
    f.mm("r.right.door[1].length", "688"); // 662 + 26
    f.mm("r.right.door[1].x", "9");
    f.mm("r.right.door[1].y", "442");
    f.mm("r.right.door[1].z", "505");
    f.mm("r.right.door[2].x", "401.5"); // 9 + 389.5 + 3
}

#[test]
fn hinges_stand_evenly_and_their_cups_at_the_hinge_edge() {
    let f = Figures::of_text(POTS);
    // 100 from either end of 656. The first door hangs on the left, the second on the right: 373.5 - 22.
    f.mm("r.left.door.cupboard[1].hole.hinge[1].along", "100");
    f.mm("r.left.door.cupboard[1].hole.hinge[2].along", "556");
    f.mm("r.left.door.cupboard[1].hole.hinge[1].across", "22");
    f.mm("r.left.door.cupboard[2].hole.hinge[1].across", "351.5");
    f.mm("r.left.door.cupboard[1].hole.hinge[1].diameter", "35");
    // On the borer's grid of 32 from the bottom end: 621 is nearest to 19 x 32 = 608, 1077 to 34 x 32 = 1088; less 521.
    let f = Figures::of_text(&POTS.replace("stick s", "borer { pitch = 32mm }\nstick s"));
    f.mm("r.left.door.cupboard[1].hole.hinge[1].along", "87");
    f.mm("r.left.door.cupboard[1].hole.hinge[2].along", "567");
}

#[test]
fn more_hinges_for_higher_and_heavier_doors() {
    let of = |height: &str, hinge: &str| {
        let text = format!(
            "sheet ply {{ thickness = 18mm, density = 680 kg/m3 }}\nhinge h {{ {hinge} }}\nstick s {{ low = 80mm, up = 600mm }}\n\
             carcass a {{ shelves = s, width = 500mm, height = {height}, depth = 400mm, doors {{ count = 1, hinge = h }} }}\n"
        );
        Figures::of_text(&text).count("hardware.h.count")
    };
    // A door of 914.4 is 36 in high: two; one more for each 24 in, 609.6, begun over that. Each carries enough.
    assert_eq!(of("997.4mm", "carries = 20 kg"), 2);
    assert_eq!(of("997.5mm", "carries = 20 kg"), 3);
    assert_eq!(of("1607mm", "carries = 20 kg"), 3);
    assert_eq!(of("1607.1mm", "carries = 20 kg"), 4);
    // 494 x 717 x 18 at 680: 4.335 kg.
    assert_eq!(of("800mm", "carries = 2.2 kg"), 2);
    assert_eq!(of("800mm", "carries = 2.1 kg"), 3);
}

#[test]
fn a_drawer_is_a_box_on_the_longest_slide_that_goes_in() {
    let f = Figures::of_text(POTS);
    // From 98 to the strip at 518 - 38 = 480: 382. Two fronts: (382 - 9) / 2, 756 - 6 long.
    let one = "r.left.drawer.lower[1]";
    f.mm(&format!("{one}.front.width"), "186.5");
    f.mm(&format!("{one}.front.length"), "750");
    f.mm(&format!("{one}.front.y"), "422");
    f.mm("r.left.drawer.lower[2].front.z", "290.5"); // 98 + 3 + 186.5 + 3
    // 422 behind the front: the slide of 400. 191 for each: 12 under it and 20 over it.
    f.mm(&format!("{one}.side.left.length"), "400");
    f.mm(&format!("{one}.side.left.width"), "159");
    f.mm(&format!("{one}.side.left.x"), "35"); // 22 + 13
    f.mm(&format!("{one}.side.left.y"), "22"); // 422 - 400
    f.mm(&format!("{one}.side.left.z"), "110");
    f.mm(&format!("{one}.side.right.x"), "753"); // 778 - 13 - 12
    f.mm("r.left.drawer.lower[2].side.left.z", "301"); // 98 + 191 + 12
    // 756 - 26 over the sides, 24 less between them.
    f.mm(&format!("{one}.end.front.length"), "706");
    f.mm(&format!("{one}.end.front.y"), "410");
    f.mm(&format!("{one}.end.rear.y"), "22");
    // 6 into each groove, 0.5 of play there: 706 + 12 - 1, 376 + 12 - 1; 12 over the lower edge.
    f.mm(&format!("{one}.bottom.length"), "717");
    f.mm(&format!("{one}.bottom.width"), "387");
    f.mm(&format!("{one}.bottom.z"), "122");
    // 422 is room for a slide of 422, and for none of 423.
    let told = |length: &str| {
        codes(&compiled_text(&POTS.replace("[300mm, 350mm, 400mm]", &format!("[{length}]"))))
            .contains(&"L056")
    };
    assert!(!told("422mm"));
    assert!(told("423mm"));
}

#[test]
fn what_they_hang_and_run_on_is_counted_piece_by_piece() {
    let f = Figures::of_text(POTS);
    f.bought("cup", 8, 8);
    f.bought("knob", 4, 4);
    f.bought("runner[3]", 2, 2);
    // Four corners each, in 159: (159 - 80) / 115, up, + 1 = 2. A row of 706 into each front: 626 / 200, up, + 1 = 5.
    assert_eq!(f.count("hardware.brad.box_corners"), 2 * 4 * 2);
    assert_eq!(f.count("hardware.short.drawer_fronts"), 2 * 5);
    let rows = f.sheet("shopping")["rows"].as_array().unwrap().clone();
    let price = |what: &str| {
        let row = rows.iter().find(|row| row["what"].as_str().unwrap().starts_with(what)).unwrap();
        row["cost"].as_str().unwrap_or_default().to_owned()
    };
    assert!(price("cup").contains("32"), "{}", price("cup"));
    assert!(price("runner[3], 400 mm").contains("30"), "{}", price("runner[3]"));
    assert!(price("knob").contains("12"), "{}", price("knob"));
}

#[test]
fn fronts_are_painted_all_round_and_boxes_stay_bare() {
    let with = Figures::of_text(POTS).surfaces("r").paint;
    let without = |from: &str, to: &str| {
        let text = POTS.replacen(from, "let none = 1", 1);
        assert!(!text.contains(to));
        Figures::of_text(&text).surfaces("r").paint
    };
    let doors = "doors cupboard { between = [mid, up], count = 2, hinge = cup, pull = knob }";
    let bare = without(doors, "cupboard");
    let more = |class: PaintClass, bare: &std::collections::BTreeMap<PaintClass, Rational>| {
        with[&class] - bare[&class]
    };
    // Two doors with two faces of 373.5 x 656 each, and their edges: 2 x 18 x (373.5 + 656).
    assert_eq!(more(PaintClass::FacingFaces, &bare), Rational::from(2 * 2 * 747 * 328));
    assert_eq!(more(PaintClass::FacingEdges, &bare), Rational::from(2 * 18 * 2059));
    assert_eq!(more(PaintClass::Insides, &bare), Rational::from(0));
    let drawers = "drawers lower { count = 2, between = [low, mid], box = box_ply, bottom = thin, slide = runner, pull = knob }";
    let bare = without(drawers, "lower");
    // Two fronts of 750 x 186.5, less 730 x 159 at the box.
    assert_eq!(more(PaintClass::FacingFaces, &bare), Rational::from(2 * (2 * 375 * 373 - 730 * 159)));
    assert_eq!(more(PaintClass::FacingEdges, &bare), Rational::from(2 * 18 * (1500 + 373)));
    assert_eq!(more(PaintClass::Insides, &bare), Rational::from(0));
}

#[test]
fn they_weigh_what_is_left_of_them_and_lie_in_the_layouts() {
    let f = Figures::of_text(POTS);
    let weight = |f: &Figures, path: &str| {
        let MeasureValue::Estimate(weight, _) = f.measure(path).value else { panic!() };
        weight.value
    };
    let near = |is: f64, expected: f64| assert!((is - expected).abs() < 1e-9, "{is} {expected}");
    near(weight(&f, "r.left.door.cupboard[1].weight"), 373.5 * 656.0 * 18.0 * 680e-9);
    // Grooves of 6 x 6: along the bottom's 387 in a side, from end to end in an end.
    near(
        weight(&f, "r.left.drawer.lower[1].side.left.weight"),
        f64::from(12 * 159 * 400 - 36 * 387) * 680e-9,
    );
    near(weight(&f, "r.left.drawer.lower[1].end.rear.weight"), f64::from(12 * 159 * 706 - 36 * 706) * 680e-9);
    near(weight(&f, "r.left.drawer.lower[1].bottom.weight"), f64::from(6 * 717 * 387) * 600e-9);
    // They are put in afterwards: a unit is carried without them.
    let bare = Figures::of_text(&POTS.replace("doors cupboard", "doors other"));
    near(weight(&f, "r.left.weight"), weight(&bare, "r.left.weight"));
    let mut empty = POTS.to_owned();
    for line in ["doors cupboard", "drawers lower"] {
        let from = empty.find(line).unwrap();
        let to = from + empty[from..].find('\n').unwrap();
        empty.replace_range(from..to, "");
    }
    near(weight(&f, "r.left.weight"), weight(&Figures::of_text(&empty), "r.left.weight"));
    // Eight pieces of 159 and two of 387: one sheet each.
    let rows = f.sheet("shopping")["rows"].as_array().unwrap().clone();
    for sheet in ["box_ply", "thin"] {
        let row = rows.iter().find(|row| row["what"].as_str().unwrap().starts_with(sheet)).unwrap();
        assert_eq!(row["count"], "1", "{sheet}");
    }
    let graph = &f.compilation.graph;
    let count = |role: Role| graph.parts.iter().filter(|part| part.role == role).count();
    assert_eq!([count(Role::Door), count(Role::DrawerFront), count(Role::DrawerBottom)], [4, 2, 2]);
    assert_eq!(graph.rows.iter().filter(|row| row.kind == RowKind::Hinge).count(), 4);
}

#[test]
fn what_is_in_the_way_of_a_drawer_or_a_door_is_told() {
    let told = |old: &str, new: &str| codes(&compiled_text(&POTS.replacen(old, new, 1)));
    let new = ["L055", "L056", "V077", "C147", "C148", "C149", "C150", "C151", "C152", "C153", "C154"];
    let base = codes(&compiled_text(POTS));
    assert!(!base.iter().any(|code| new.contains(code)), "{base:?}");
    // The upper box begins at 301, the strip at 480.
    let high = |height: &str| told("slide = runner,", &format!("slide = runner, height = {height},"));
    assert!(!high("179mm").contains(&"C148"));
    assert!(high("179.1mm").contains(&"C148"));
    // Half of a front of 186.5.
    assert!(!high("93.3mm").contains(&"C154"));
    assert!(high("93.2mm").contains(&"C154"));
    // Over two openings a door within them meets the shelf and the strip between; over their edges it does not.
    assert!(told("between = [mid, up], count", "between = [low, up], count").contains(&"C147"));
    assert!(
        !told("fit = overlay, between = [mid, up]", "fit = overlay, between = [low, up]").contains(&"C147")
    );
    // 505 and the `ends` of the hinge, from the shelf that ends at 518: 38 leave 25.
    assert!(!told("cup = 35mm", "cup = 35mm, ends = 38mm").contains(&"C153"));
    assert!(told("cup = 35mm", "cup = 35mm, ends = 37.9mm").contains(&"C153"));
    // No opening.
    assert!(told("[mid, up], count", "[up, mid], count").contains(&"L055"));
    assert!(told("[mid, up], count", "[mid, attic], count").contains(&"L055"));
    assert!(told("[mid, up], count", "[mid], count").contains(&"V077"));
    assert!(
        told("between = [mid, up], count = 2", "between = [mid, up], overlay = 9mm, count = 2")
            .contains(&"V077")
    );
}

#[test]
fn a_box_may_be_of_boards() {
    let text = POTS.replace("box = box_ply", "board = pine").replace(
        "board poplar",
        "board pine { thickness = 15mm, width = 160mm, lengths = [2.4m], density = 500 kg/m3 }\nboard poplar",
    );
    let f = Figures::of_text(&text);
    // 730 over the sides, 30 less between them.
    f.mm("r.left.drawer.lower[1].side.left.thickness", "15");
    f.mm("r.left.drawer.lower[1].end.rear.length", "700");
    f.mm("r.left.drawer.lower[1].bottom.length", "711"); // 700 + 12 - 1
    f.mm("r.left.drawer.lower[1].bottom.width", "381"); // 400 - 30 + 12 - 1
    let MeasureValue::Estimate(weight, _) = f.measure("r.left.drawer.lower[1].end.rear.weight").value else {
        panic!()
    };
    assert!((weight.value - f64::from(15 * 159 * 700 - 36 * 700) * 500e-9).abs() < 1e-9);
    // Four of 400 and four of 700: 4400 of boards 159 wide, two of 2400.
    let rows = f.sheet("shopping")["rows"].as_array().unwrap().clone();
    let row = rows.iter().find(|row| row["what"].as_str().unwrap().starts_with("pine")).unwrap();
    assert!(row["count"].as_str().unwrap().starts_with('2'), "{row}");
    let thin = text.replace("pine { thickness = 15mm, ", "pine { ");
    assert!(codes(&compiled_text(&thin)).contains(&"V077"));
}

#[test]
fn fronts_may_have_a_strip_round_their_edges() {
    let text = POTS
        .replace("pull knob {", "tape beech_edge { width = 22mm, thickness = 2mm, roll = 10m }\npull knob {")
        .replace(
            "count = 2, hinge = cup, pull = knob",
            "count = 2, hinge = cup, pull = knob, edge = beech_edge",
        );
    let f = Figures::of_text(&text);
    // The wood is 2 less at each edge; hinges stay where they were, from the edges with their strip.
    let door = "r.left.door.cupboard[1]";
    f.mm(&format!("{door}.width"), "369.5");
    f.mm(&format!("{door}.length"), "652");
    f.mm(&format!("{door}.x"), "27");
    f.mm(&format!("{door}.z"), "523");
    f.mm(&format!("{door}.hole.hinge[1].across"), "20");
    f.mm(&format!("{door}.hole.hinge[1].along"), "98"); // 521 + 100 - 523
    f.mm(&format!("{door}.hole.hinge[2].along"), "554");
    f.mm("r.left.door.cupboard[2].hole.hinge[1].across", "349.5"); // 369.5 - 20
    // Two doors of 2 x (369.5 + 652), and 25 over at each of eight edges.
    let rows = f.sheet("shopping")["rows"].as_array().unwrap().clone();
    let tape = rows.iter().find(|row| row["what"] == "beech_edge, 22 mm wide").unwrap();
    assert!(tape["remark"].as_str().unwrap().starts_with("4286 mm for 8 edges"), "{tape}");
    assert_eq!(tape["count"], "1 roll");
    // A unit whose own front edges have one says so of doors that have none.
    let taped = |doors: &str| {
        let text = alone("500mm", &format!("edge {{ stock = t }}, doors {{ count = 1{doors} }}"));
        codes(&compiled_text(&text.replace("hinge h {}", "tape t { width = 22mm }")))
    };
    assert!(taped("").contains(&"C155"));
    assert!(!taped(", edge = t").contains(&"C155"));
}

/// A carcass by itself with what closes it.
fn alone(width: &str, closes: &str) -> String {
    format!(
        "sheet ply {{ thickness = 18mm, density = 680 kg/m3 }}\nhinge h {{}}\npull knob {{ out = 30mm }}\n\
         stick s {{ low = 80mm, mid = 300mm, up = 600mm }}\n\
         carcass a {{ shelves = s, width = {width}, height = 700mm, depth = 400mm, {closes} }}\n"
    )
}

#[test]
fn a_door_within_a_carcass_has_its_own_thickness_of_it() {
    let loose = |set_back: &str| {
        let text = alone(
            "500mm",
            &format!(
                "shelf mid {{ adjustable {{ count = 1, set_back = {set_back} }} }}, doors {{ count = 1, between = [mid, up] }}"
            ),
        );
        codes(&compiled_text(&text))
    };
    assert!(!loose("18mm").contains(&"C147"));
    assert!(loose("17.9mm").contains(&"C147"));
    let f = Figures::of_text(&alone("500mm", "doors { count = 1, between = [mid, up] }"));
    f.mm("a.door[1].width", "458"); // 500 - 36 - 6
    f.mm("a.door[1].length", "276"); // 600 - 318 - 6
    f.mm("a.door[1].y", "382");
    // Without `between` and `fit` they lie before the whole front, as wide as it but for the reveals.
    let f = Figures::of_text(&alone("500mm", "doors { count = 1 }"));
    f.mm("a.door[1].width", "494");
    f.mm("a.door[1].length", "617"); // 700 - 80 - 3
    // To the ends of the sides, where no top closes it.
    let f = Figures::of_text(&alone("500mm", "doors { count = 1, between = [up, top] }"));
    f.mm("a.door[1].length", "76"); // 700 - 618 - 6
}

#[test]
fn a_wide_door_and_a_heavy_one_are_told() {
    let wide = |width: &str| codes(&compiled_text(&alone(width, "doors { count = 1 }")));
    // 609.6 and two reveals.
    assert!(!wide("606mm").contains(&"C151"));
    assert!(wide("606.1mm").contains(&"C151"));
    let heavy = |carries: &str| {
        let text = alone("500mm", "doors { count = 1, hinge = h }")
            .replace("hinge h {}", &format!("hinge h {{ carries = {carries} }}"))
            .replace("thickness = 18mm", "thickness = 25mm");
        codes(&compiled_text(&text))
    };
    // 494 x 617 x 25 at 680: 5.182 kg on five.
    assert!(!heavy("1.04 kg").contains(&"C152"));
    assert!(heavy("1.03 kg").contains(&"C152"));
    // What a sheet without a density weighs nobody knows.
    let text = alone("500mm", "doors { count = 1, hinge = h }").replace(", density = 680 kg/m3", "");
    let lacking = compiled_text(&text).graph.lacking;
    assert!(lacking.iter().any(|lacking| lacking.code.id == "C152"));
}

const BESIDE: &str = r#"
room r {
  wall w {
    reading low { back = 1000mm, front = 1000mm }
    reading middle { back = 1000mm, front = 1000mm }
    reading high { back = 1000mm, front = 1000mm }
  }
}
sheet ply { thickness = 18mm }
pull knob { out = 30mm }
stick s { low = 80mm, up = 600mm }
run base {
  along = r.w
  end left { gap = 27mm }
  end right { gap = 50mm }
  each unit { shelves = s, width = 461.5mm, height = 700mm, depth = 400mm }
  unit a { doors { count = 1, pull = knob, hung = right } }
  unit b { doors { count = 1, pull = knob, hung = left } }
}
"#;

#[test]
fn doors_open_clear_of_walls_and_of_each_other() {
    let beside = |gap: &str, width: &str, hung: &str| {
        let text = BESIDE
            .replace("27mm", gap)
            .replace("461.5mm", width)
            .replace("hung = right", &format!("hung = {hung}"));
        codes(&compiled_text(&text))
    };
    // The gap and the reveal of 3 before the door's edge, 30 for the pull.
    assert!(!beside("27mm", "461.5mm", "left").contains(&"C149"));
    assert!(beside("26.9mm", "461.55mm", "left").contains(&"C149"));
    assert!(!beside("26.9mm", "461.55mm", "right").contains(&"C149"));
    // Two reveals of 3 between them, 60 for both pulls.
    assert!(beside("27mm", "461.5mm", "right").contains(&"C150"));
    assert!(!beside("27mm", "461.5mm", "left").contains(&"C150"));
}

#[test]
fn doors_and_drawers_stand_in_bays_beside_the_stile_of_a_divider() {
    let text = POTS.replace("shelves = s, ", "").replace(
        "  unit right { doors { count = 2, fit = overlay, between = [mid, up], hinge = cup } }",
        "  unit right {\n    shelf low {\n      clear = 400mm\n      bay one { width = 300mm, drawers { count = 1, bottom = thin, slide = runner } }\n      bay two { doors { count = 1, hung = right, hinge = cup } }\n    }\n    shelf mid\n  }",
    );
    let text = text.replace("unit left {", "unit left {\n    shelves = s");
    let f = Figures::of_text(&text);
    // Between the side's lap at 22 and the stile before the divider: 18 + 300 - 4 = 314. So 292 wide, 26 less over the box.
    f.mm("r.right.shelf.low.bay.one.drawer[1].front.length", "286");
    f.mm("r.right.shelf.low.bay.one.drawer[1].end.front.length", "230"); // 292 - 26 - 36
    // From 340 to 778: 438.
    f.mm("r.right.shelf.low.bay.two.door[1].width", "432");
    f.mm("r.right.shelf.low.bay.two.door[1].x", "343");
    // On the bottom of the unit: 418 - 20 of the strip, less reveals.
    f.mm("r.right.shelf.low.bay.two.door[1].length", "374");
    // It hangs on the stile at the end.
    let graph = &f.compilation.graph;
    let hung = graph.doors.iter().find(|hung| graph.part(hung.door).unwrap().path.contains("two")).unwrap();
    assert_eq!(graph.part(hung.on).unwrap().path, "r.stile.right");
}
