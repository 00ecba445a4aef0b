//! What is in the way: the checks with their figures, and the sheet of cut-outs.

use crate::figures::Figures;
use crate::{compiled_text, inch, root};
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::diag::Diagnostic;
use scantling::parts::MeasureValue;
use scantling::render::{csv, text};
use scantling::sheets::sheet;
use std::collections::BTreeMap;

/// The sewing room with an entry more in its wall.
fn sewing_room(entry: &str) -> Compilation {
    let path = root().join("examples/sewing-room/sewing_room.scant");
    let room = std::fs::read_to_string(path).unwrap();
    let wall = "  wall long {\n";
    assert!(room.contains(wall));
    compiled_text(&room.replace(wall, &format!("{wall}    {entry}\n")))
}

/// An outlet in unit 2, 13 1/2 to 17 1/2 high, between its studs.
fn outlet(decided: &str) -> String {
    format!(
        "obstacle socket {{ kind = outlet, left = 51\", bottom = 13 1/2\", width = 2 3/4\", height = 4\"{decided} }}"
    )
}

/// The only message of a code.
#[track_caller]
fn only<'a>(compilation: &'a Compilation, code: &str) -> &'a Diagnostic {
    let mut told = compilation.diagnostics.iter().filter(|diagnostic| diagnostic.code.id == code);
    let first = told.next().unwrap_or_else(|| panic!("no {code} in {:#?}", compilation.diagnostics));
    assert!(told.next().is_none(), "{code} stands twice");
    first
}

fn ids(compilation: &Compilation) -> Vec<&str> {
    compilation.diagnostics.iter().map(|diagnostic| diagnostic.code.id).collect()
}

/// The messages of a compilation that are about what is in the way.
fn in_the_way(compilation: &Compilation) -> Vec<&str> {
    ids(compilation).into_iter().filter(|id| ("C060".."C090").contains(id)).collect()
}

fn count(compilation: &Compilation, path: &str) -> usize {
    let measures = compilation.graph.measures();
    match &measures[path].value {
        MeasureValue::Count(count, _) => *count,
        _ => panic!("{path} is no count"),
    }
}

fn lengths(compilation: &Compilation) -> BTreeMap<String, scantling::quantity::Length> {
    let measures = compilation.graph.measures().into_iter();
    measures.filter_map(|(path, measure)| Some((path, measure.length()?.value))).collect()
}

#[test]
fn an_outlet_behind_a_cleat_wants_the_cleat_split() {
    let found = sewing_room(&outlet(""));
    assert_eq!(in_the_way(&found), ["C060"]);
    let told = only(&found, "C060");
    assert_eq!(told.message, "the outlet is covered by `sewing.two.cleat.binders`");
    assert_eq!(
        told.notes,
        [
            "the shelf `binders` at 19 1/4\" clears it by 1 3/4\"; its cleat hangs to 16 3/4\" and covers the box"
        ]
    );
    assert_eq!(
        told.help,
        [
            "split the cleat round it, a screw each side of the gap, at 44 1/2\" and 60 1/2\"; no size changes: \
             `decided = cut_round`",
            "the nearest mark at which `binders` clears it with its cleat is 20\"",
            "or have its box brought out flush with the wood: `decided = bring_flush`",
        ]
    );
    // The mark that is offered does clear it.
    let path = root().join("examples/sewing-room/sewing_room.scant");
    let room = std::fs::read_to_string(path).unwrap();
    let moved = room.replace("binders = 19 1/4\"", "binders = 20\"");
    let moved = moved.replace("  wall long {\n", &format!("  wall long {{\n    {}\n", outlet("")));
    assert_eq!(in_the_way(&compiled_text(&moved)), [""; 0]);
    // A hair lower it does not.
    let low = moved.replace("binders = 20\"", "binders = 19 31/32\"");
    assert_eq!(in_the_way(&compiled_text(&low)), ["C060"]);
}

/// Wherever an outlet is found, the mark that is offered clears it, and nothing else goes wrong for it.
#[test]
fn the_mark_that_is_offered_works() {
    let path = root().join("examples/sewing-room/sewing_room.scant");
    let room = std::fs::read_to_string(path).unwrap();
    let (mut offered, mut none) = (0, 0);
    for eighths in (80..640).step_by(13) {
        let entry = format!(
            "obstacle socket {{ kind = outlet, left = 51\", bottom = {eighths}/8\", width = 2 3/4\", height = 4\" }}"
        );
        let text = room.replace("  wall long {\n", &format!("  wall long {{\n    {entry}\n"));
        let found = compiled_text(&text);
        let Some(told) = found.diagnostics.iter().find(|diagnostic| diagnostic.code.id == "C060") else {
            continue;
        };
        let Some(help) = told.help.iter().find(|help| help.starts_with("the nearest mark")) else {
            none += 1;
            continue;
        };
        let name = help.split('`').nth(1).unwrap();
        let mark = help.rsplit(" is ").next().unwrap();
        let line = text.lines().find(|line| line.starts_with(&format!("  {name} = "))).unwrap();
        let moved = compiled_text(&text.replace(line, &format!("  {name} = {mark}")));
        assert!(!moved.has_errors(), "{entry}\n{help}\n{:#?}", moved.diagnostics);
        offered += 1;
    }
    assert!(offered > 8, "{offered} offered, {none} not");
}

#[test]
fn a_split_cleat_changes_no_size_and_keeps_its_screws() {
    let split = sewing_room(&outlet(", decided = cut_round"));
    assert_eq!(in_the_way(&split), [""; 0]);
    let plain = Figures::of("examples/sewing-room/sewing_room.scant").compilation;
    assert_eq!(ids(&split), ids(&plain));
    assert_eq!(lengths(&split), lengths(&plain));
    // As many as without the outlet, step 9 of the working in the sewing room's README: 32 rows of 2.
    assert_eq!(count(&split, "hardware.wall_screw.wall"), 64);
}

#[test]
fn the_cut_out_is_measured_on_the_part() {
    let split = sewing_room(&outlet(", decided = cut_round"));
    let subject = split.subject(Effort::Normal);
    let output = (sheet("cutouts").unwrap().make)(subject);
    let json = output.json.value();
    let cuts = json["cuts"].as_array().unwrap();
    assert_eq!(cuts.len(), 1);
    let cut = &cuts[0];
    assert_eq!(cut["part"], "sewing.two.cleat.binders");
    assert_eq!(cut["cut"], "split");
    // Unit 2 stands at 33 5/16 (step 2 of the README's working), its cleat behind a side of 23/32: 51 - 34 1/32.
    assert_eq!((&cut["end"], &cut["along"]["print"]), (&"left end".into(), &"16 31/32\"".into()));
    assert_eq!((&cut["length"]["print"], &cut["width"]["print"]), (&"2 3/4\"".into(), &"2 1/2\"".into()));
    let rows = csv(&output.document);
    let row = rows.lines().find(|line| line.contains("sewing.two.cleat.binders")).unwrap();
    assert!(
        row.starts_with("Cut-outs from the left end and the lower edge,1,split round outlet socket,"),
        "{row}"
    );
    assert!(row.contains("16 31/32"), "{row}");
    let page = text(&output.document);
    assert!(page.contains("split round outlet") && page.contains("sewing.two.cleat.binders"), "{page}");
}

#[test]
fn a_baseboard_is_notched_or_taken_off() {
    let board = |decided: &str| {
        sewing_room(&format!(
            "obstacle base {{ kind = baseboard, height = 3 1/4\", projection = 9/16\"{decided} }}"
        ))
    };
    let kept = board("");
    let told = only(&kept, "C063");
    assert_eq!(told.message, "4 units of `sewing` meet the baseboard: it holds them 9/16\" off the wall");
    // The wall is at the left; the last outer face at 130 1/16 (step 2 of the README's working).
    assert!(told.help[0].starts_with("take it off from 0\" to 130 1/16\""), "{:?}", told.help);
    assert_eq!(in_the_way(&board(", decided = remove")), [""; 0]);
    let notched = board(", decided = cut_round");
    assert_eq!(in_the_way(&notched), [""; 0]);
    let subject = notched.subject(Effort::Normal);
    let output = (sheet("cutouts").unwrap().make)(subject);
    let json = output.json.value();
    let sides = json["cuts"].as_array().unwrap().iter().filter(|cut| cut["end"] == "bottom end");
    let sides: Vec<_> = sides.collect();
    assert_eq!(sides.len(), 8);
    for side in sides {
        assert_eq!(side["cut"], "notch");
        assert_eq!((&side["along"]["print"], &side["length"]["print"]), (&"0\"".into(), &"3 1/4\"".into()));
        assert_eq!((&side["edge"], &side["width"]["print"]), (&"rear edge".into(), &"9/16\"".into()));
        assert_eq!(side["depth"]["print"], "23/32\"");
    }
    // The rear stretchers of 3 1/2 lose 9/16 of their 23/32, over the height of the board.
    let rails = json["cuts"].as_array().unwrap().iter().filter(|cut| cut["end"] == "left end");
    let rails: Vec<_> = rails.collect();
    assert_eq!(rails.len(), 4);
    for rail in rails {
        assert_eq!((&rail["cut"], &rail["depth"]["print"]), (&"rabbet".into(), &"9/16\"".into()));
        assert_eq!((&rail["across"]["print"], &rail["width"]["print"]), (&"0\"".into(), &"3 1/4\"".into()));
    }
}

/// A unit 90 in high, 30 wide and 12 deep, that comes in by these legs.
fn on_the_way(legs: &str) -> Compilation {
    way(legs, "")
}

/// The same where the way in is as narrow as it is stated.
fn narrow_way(legs: &str) -> Compilation {
    way(legs, "accept unusual_value because \"it is as narrow as that\"\n")
}

fn way(legs: &str, accepted: &str) -> Compilation {
    compiled_text(&format!(
        "room r {{\n  wall w {{ right = open, reading low {{ back = 31\", front = 31\" }} }}\n  route yard {{\n{legs}\n}}\n}}\n\
         sheet ply {{ thickness = 23/32\" }}\nstick s {{ floor = 3\", folios = 20\" }}\n\
         run shelves {{ along = r.w, end left {{ gap = 1\" }}, unit a {{ shelves = s, width = rest, height = 90\", depth = 12\" }} }}\n{accepted}"
    ))
}

#[test]
fn a_corner_gives_the_longest_box_that_comes_round() {
    // Two equal halls a turn a box of width w and length 2 sqrt(2) a - 2 w at 45 degrees: plane geometry.
    // 2 sqrt(2) 36 - 24 = 77.82, printed down to 77 13/16; flat 2 sqrt(2) 36 - 60 = 41.82.
    let found = narrow_way("corner hall { entry = 36\", exit = 36\", ceiling = 40\" }");
    let told = only(&found, "C068");
    assert_eq!(told.message, "`shelves.a`, 90\" long, does not come round the corner `hall`");
    let ways: Vec<&str> = told.notes.iter().flat_map(|note| note.lines()).collect();
    assert_eq!(ways[0], "flat: 41 13/16\" is the longest");
    assert_eq!(ways[1], "on its side: 77 13/16\" is the longest");
    // It has to be stood up there: sqrt(39.5^2 - 12^2) = 37.633.
    assert_eq!(ways[3], "upright: 37 5/8\" is the longest");
    // The number that is offered comes round, and a mark more does not.
    let help = &told.help[0];
    let best = help.split('"').next().unwrap();
    let tall = |height: &str| {
        let mut text = "room r {\n  wall w { right = open, reading low { back = 31\", front = 31\" } }\n  route yard { corner hall { entry = 36\", exit = 36\", ceiling = 40\" } }\n}\nsheet ply { thickness = 23/32\" }\nstick s { floor = 3\", folios = 20\" }\n".to_owned();
        text.push_str(&format!("run shelves {{ along = r.w, end left {{ gap = 1\" }}, unit a {{ shelves = s, width = rest, height = {height}, depth = 12\" }} }}\naccept unusual_value because \"it is so low\"\n"));
        ids(&compiled_text(&text)).contains(&"C068")
    };
    assert!(!tall(&format!("{best}\"")), "{help}");
    let more = inch(best).checked_add(inch("1/32")).unwrap().inches().unwrap();
    assert!(tall(&format!("{}/{}\"", more.numer(), more.denom())), "{help}");
}

#[test]
fn a_unit_that_comes_round_only_upright_says_so() {
    let found = on_the_way("corner hall { entry = 36\", exit = 36\", ceiling = 96\" }");
    assert_eq!(ids(&found), ["C069"]);
    let told = only(&found, "C069");
    assert!(told.message.starts_with("`shelves.a` comes round the corner `hall` only "), "{}", told.message);
    assert!(told.notes[0].contains("on its side, 77 13/16\" is the longest past it"), "{:?}", told.notes);
}

#[test]
fn doors_and_stairs_give_what_goes_through() {
    // A leaf of 14 in leaves 12 clear (common practice: 2 in less); the unit is 12 deep, so it just goes through.
    assert_eq!(ids(&on_the_way("door porch { leaf = 14\", height = 80\" }")), [""; 0]);
    assert_eq!(ids(&on_the_way("door porch { leaf = 14\", opens = right_angle, height = 80\" }")), ["C068"]);
    let low = on_the_way("door \"cat hatch\" { width = 12\", height = 20\" }");
    let told = only(&low, "C068");
    assert_eq!(told.message, "`shelves.a`, 90\" long, does not go through the door \"cat hatch\"");
    assert!(
        told.help[0].starts_with("20\" is the widest unit 12\" deep that goes through"),
        "{:?}",
        told.help
    );
    // Steps of 3 and 4 in slope by the triangle 3-4-5: 80 in of headroom are 64 square to the flight.
    let stair = |headroom: &str| {
        let leg = format!("stair {{ width = 13\", rise = 6\", going = 8\", headroom = {headroom} }}");
        ids(&on_the_way(&leg)).len()
    };
    assert_eq!((stair("37 1/2\""), stair("37 7/16\"")), (0, 1));
}

#[test]
fn one_route_of_several_is_enough() {
    let two = on_the_way(
        "door porch { width = 8\", height = 8\" }\n}\nroute gate {\ndoor wide { width = 40\", height = 80\" }",
    );
    assert_eq!(ids(&two), [""; 0]);
}

#[test]
fn a_light_lowers_what_stands_up() {
    // Step 3 of the README's working: 87.303 + 1/2 under 88 3/8; a light that hangs 1/2 in leaves 87 7/8 and one of 5/8 leaves 87 3/4.
    let light = |hangs: &str| sewing_room(&format!("obstacle lamp {{ kind = light, hangs = {hangs} }}"));
    assert_eq!(in_the_way(&light("1/2\"")), [""; 0]);
    let found = light("4\"");
    let told = only(&found, "C067");
    assert_eq!(
        told.message,
        "`sewing.one` needs 87 13/16\" to be rolled up, and under the light there is only 84 3/8\""
    );
    // sqrt(83.875^2 - 11.8125^2) = 83.039, printed down.
    assert_eq!(told.help[1], "83 1/32\" is the tallest of this depth that stands up under it");
    assert_eq!(in_the_way(&light("5/8\"")), ["C067"]);
    assert_eq!(in_the_way(&light("4\", decided = remove")), [""; 0]);
}

#[test]
fn a_leaf_across_the_room_is_a_quarter_of_a_circle() {
    // A leaf of 30 on hinges at 40 across from the run's end at 130 1/16, 18 in to the right of it: sqrt(30^2 - 18^2) = 24,
    // so it reaches down to 40 - 24 = 16 from the wall there. The front of the work is 12 9/16 from the wall.
    let door = |off: &str| {
        sewing_room(&format!(
            "opening hall {{ kind = door, side = opposite, left = 118 1/16\", width = 30\", height = 80\", off = {off}, hinge = right }}"
        ))
    };
    assert_eq!(in_the_way(&door("40\"")), [""; 0]);
    let found = door("36\"");
    let told = only(&found, "C066");
    assert_eq!(told.message, "the leaf of the door hits `sewing` as it opens");
    assert_eq!(told.help[0], "the leaf passes a front 12\" from the wall, no deeper");
}

#[test]
fn a_register_and_a_heater_keep_their_room() {
    let vent = |decided: &str| {
        sewing_room(&format!(
            "obstacle vent {{ kind = floor_register, left = 60\", width = 10\", off = 2\", projection = 4\"{decided} }}"
        ))
    };
    // It lies under the seam of units two and three at 65 9/16 (step 2 of the README's working).
    let found = vent("");
    assert_eq!(
        only(&found, "C061").message,
        "the floor register is boxed in by `sewing.two` and 1 other unit"
    );
    assert_eq!(in_the_way(&vent(", decided = bring_flush")), [""; 0]);
    // The last unit ends at 130 1/16: 6 in farther a heater stands free.
    let stove = |left: &str| {
        let entry = format!(
            "obstacle stove {{ kind = heater, left = {left}, width = 20\", height = 9\", projection = 3\" }}"
        );
        in_the_way(&sewing_room(&entry)).len()
    };
    assert_eq!((stove("136 1/16\""), stove("136\"")), (0, 1));
    // Across the room it wants 12 in before it: the front of the facing is 12 9/16 from the wall.
    let across = |off: &str| {
        let entry = format!(
            "obstacle stove {{ kind = heater, left = 60\", width = 20\", height = 9\", off = {off}, projection = 3\" }}"
        );
        in_the_way(&sewing_room(&entry)).len()
    };
    assert_eq!((across("24 9/16\""), across("24 1/2\"")), (0, 1));
}

#[test]
fn windows_and_casings_end_the_run() {
    let sash = |left: &str| {
        let entry = format!(
            "opening sash {{ kind = window, left = {left}, bottom = 30\", width = 30\", height = 40\", casing = 2 1/4\" }}"
        );
        sewing_room(&entry)
    };
    // The last unit ends at 130 1/16.
    assert_eq!(in_the_way(&sash("130\"")), ["C064"]);
    assert_eq!(in_the_way(&sash("131\"")), ["C065"]);
    let found = sash("131\"");
    assert_eq!(only(&found, "C065").message, "`sewing.four` reaches 1 5/16\" over the casing of the window");
    assert_eq!(in_the_way(&sash("132 5/16\"")), [""; 0]);
}

#[test]
fn a_wall_space_without_a_receptacle_is_noted() {
    let wall = |left: &str| {
        let text = format!(
            "room r {{ wall w {{\n  reading low {{ back = 130\", front = 130\" }}\n  reading middle {{ back = 130\", front = 130\" }}\n  reading high {{ back = 130\", front = 130\" }}\n  obstacle socket {{ kind = outlet, left = {left}, bottom = 14\", width = 3\", height = 4\" }}\n}} }}\n\
             sheet ply {{ thickness = 23/32\" }}\nstick s {{ floor = 3\", folios = 24\" }}\n\
             run shelves {{ along = r.w, end left {{ gap = 1\" }}, unit a {{ shelves = s, width = 30\", height = 40\", depth = 12\" }} }}\n"
        );
        ids(&compiled_text(&text)).iter().map(|id| (*id).to_owned()).collect::<Vec<_>>()
    };
    // The unit ends at 31: an outlet at 58 is 72 in from the end of the wall.
    assert_eq!(wall("58\""), [""; 0]);
    assert_eq!(wall("57\""), ["C070"]);
    assert_eq!(wall("104\""), ["C070"]);
}

/// A back stands before the outlet; brought out flush, the back has a hole for it, from its own left edge and bottom end.
#[test]
fn a_back_is_cut_round_an_outlet_that_is_brought_out_flush() {
    let text = |decided: &str| {
        format!(
            "room k {{ wall w {{ right = open, reading low {{ back = 810mm, front = 810mm }}\n  \
             obstacle socket {{ kind = outlet, left = 300mm, bottom = 300mm, width = 70mm, height = 70mm{decided} }} }} }}\n\
             sheet ply {{ thickness = 18mm }}\nsheet thin {{ thickness = 6mm }}\nstick s {{ low = 80mm, high = 600mm }}\n\
             run r {{ along = k.w\n  end left {{ gap = 10mm }}\n  unit a {{ stock = ply, shelves = s, width = 800mm, height = 900mm, depth = 300mm, back {{ stock = thin }} }}\n}}\n"
        )
    };
    assert_eq!(only(&compiled_text(&text("")), "C060").message, "the outlet is covered by `r.a.back`");
    let compilation = compiled_text(&text(", decided = bring_flush"));
    assert!(in_the_way(&compilation).is_empty(), "{:?}", compilation.diagnostics);
    let subject = compilation.subject(Effort::Normal);
    let json = (sheet("cutouts").unwrap().make)(subject).json.value();
    let cut = &json["cuts"][0];
    assert_eq!((cut["part"].as_str(), cut["cut"].as_str()), (Some("r.a.back"), Some("hole")));
    // Its left edge lies 18 - 6 = 12 in the unit, at 22 from the corner; its lower end 80 up.
    assert_eq!((cut["edge"].as_str(), cut["across"]["print"].as_str()), (Some("left edge"), Some("278 mm")));
    assert_eq!((cut["end"].as_str(), cut["along"]["print"].as_str()), (Some("bottom end"), Some("220 mm")));
}

/// A cleat hangs before the back, from 520 to 600; the outlet behind both, at 540 to 610 and 300 to 370, goes through both. The
/// cleat lies between the sides, from 28: it is split 272 from its left end over 70.
#[test]
fn a_cleat_before_a_back_is_split_where_the_outlet_is() {
    let text = |bottom: &str| {
        format!(
            "room k {{ wall w {{ right = open, reading low {{ back = 810mm, front = 810mm }}\n  \
             obstacle socket {{ kind = outlet, left = 300mm, bottom = {bottom}, width = 70mm, height = 70mm, decided = cut_round }} }} }}\n\
             sheet ply {{ thickness = 18mm }}\nsheet thin {{ thickness = 6mm }}\nstick s {{ low = 80mm, high = 600mm }}\n\
             run r {{ along = k.w\n  end left {{ gap = 10mm }}\n  unit a {{ stock = ply, shelves = s, width = 800mm, height = 900mm, depth = 300mm, back {{ stock = thin }}, cleat {{ height = 80mm }} }}\n}}\n"
        )
    };
    let cuts = |bottom: &str| {
        let compilation = compiled_text(&text(bottom));
        let json = (sheet("cutouts").unwrap().make)(compilation.subject(Effort::Normal)).json.value();
        let cuts = json["cuts"].as_array().unwrap().iter().map(|cut| {
            let words = ["part", "cut"].map(|key| cut[key].as_str().unwrap().to_owned());
            let sizes = ["along", "length", "across", "width"]
                .map(|key| cut[key]["print"].as_str().unwrap().to_owned());
            (words, sizes)
        });
        cuts.filter(|([part, _], _)| part != "r.a.back").collect::<Vec<_>>()
    };
    let split = (["r.a.cleat.high", "split"], ["272 mm", "70 mm", "0 mm", "80 mm"]);
    let split = (split.0.map(str::to_owned), split.1.map(str::to_owned));
    assert_eq!(cuts("540mm"), [split]);
    // Under the cleat only the back is in the way.
    assert_eq!(cuts("450mm"), []);
}
