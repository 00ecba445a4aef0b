//! Rules of the trade: each is applied somewhere, and `tests/rules.tsv` names the test that fails when it is taken out. What those
//! rules ask that no other test looks at is held here: a project just over, one just under, one in which a value is missing; the
//! working beside it.

use crate::figures::Figures;
use crate::{compiled_text, root};
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::document::Cell;
use scantling::eval::Load;
use scantling::parts::{MeasureValue, Role};
use scantling::quantity::{Rational, System, to_f64};
use scantling::resolve::KINDS;
use scantling::sheets::sheet;
use std::collections::BTreeSet;
use std::fs;

/// The messages of a check, by its name; each text compiles without errors but for those of that check.
fn told(text: &str, slug: &str) -> Vec<String> {
    let compilation = compiled_text(text);
    let own = compilation.diagnostics.iter().filter(|told| told.code.slug == slug);
    own.map(|told| told.message.clone()).collect()
}

/// A row of the table of limits: value, limit and remark of the first finding of these words.
fn compared(compilation: &Compilation, what: &str) -> (f64, Option<f64>, String) {
    let finding = compilation.findings.iter().find(|finding| finding.what == what);
    let finding = finding.unwrap_or_else(|| panic!("nothing says {what}"));
    (finding.value.value(), finding.limit.figure().map(|figure| figure.value()), finding.remark.clone())
}

fn printed(compilation: &Compilation, name: &str) -> String {
    let document = (sheet(name).unwrap().make)(compilation.subject(Effort::Quick)).document;
    let mut lines = document.facts.clone();
    for table in &document.tables {
        lines.push(table.caption.clone());
        for row in &table.rows {
            let cells = row.iter().map(|cell| match cell {
                Cell::Words(text) | Cell::Figure(text) | Cell::Reasoned(text, _) => text.clone(),
                Cell::Lines(lines) => lines.join(" "),
            });
            lines.push(cells.collect::<Vec<_>>().join(" "));
        }
        lines.extend(table.foot.clone());
    }
    lines.extend(document.cautions.iter().map(|&caution| caution.to_owned()));
    lines.join("\n")
}

/// An estimate in base units.
fn estimated(figures: &Figures, path: &str) -> f64 {
    match figures.measure(path).value {
        MeasureValue::Estimate(estimate, _) => estimate.value,
        _ => panic!("{path} is no estimate"),
    }
}

/// One line a rule: its number from 1 to 93, what it asks, its class of source, the test that fails without it.
#[test]
fn every_rule_of_the_trade_has_its_test() {
    let table = fs::read_to_string(root().join("tests/rules.tsv")).unwrap();
    let tests: String = fs::read_dir(root().join("tests/suite"))
        .unwrap()
        .chain(fs::read_dir(root().join("tests/suite/mechanics")).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "rs"))
        .map(|path| fs::read_to_string(path).unwrap())
        .collect();
    let mut numbers = BTreeSet::new();
    for line in table.lines().skip(1) {
        let fields: Vec<&str> = line.split('\t').collect();
        let [number, rule, class, by] = fields[..] else { panic!("{line}") };
        assert!(numbers.insert(number.parse::<usize>().unwrap()), "{number} stands twice");
        assert!(rule.len() > 15, "{line}");
        assert!(["published", "common practice", "from memory", "arithmetic"].contains(&class), "{line}");
        for test in by.split(' ') {
            assert!(tests.contains(&format!("#[test]\nfn {test}(")), "no test is called {test}: {line}");
        }
    }
    assert_eq!(numbers, (1..=93).collect());
}

/// A wall of 3 m, and one unit before it; what stands in the brackets is written into the wall.
fn walled(wall: &str, unit: &str) -> String {
    format!(
        "project {{ marks = 0.1mm }}\nroom r {{\n  wall w {{\n    right = open\n    reading low {{ back = 3000mm, front = 3000mm }}\n    {wall}\n  }}\n}}\n\
         sheet ply {{ thickness = 18mm, density = 650 kg/m3, stiffness = 9 kN/mm2 }}\nscrew long {{ length = 80mm }}\nstick s {{ low = 80mm, mid = 700mm, top = 1200mm }}\n\
         run one {{\n  along = r.w\n  end left {{ gap = 20mm }}\n  unit a {{\n    shelves = s, width = 2980mm, height = 1300mm, depth = 300mm, stretcher bottom\n    {unit}\n  }}\n}}\n\
         join cleat to wall with butt {{ screw = long }}\n"
    )
}

/// 6 mm in 1.2 m and less; between that and 12 mm in 3 m a straight line: 6 + 6 x 600 / 1800 = 8 mm in 1.8 m.
#[test]
fn a_floor_falls_no_faster_than_floors_do() {
    let floor = |at: &str, below: &str| {
        told(&walled(&format!("floor {{ at = [0mm, {at}], below = [{below}, 0mm] }}"), ""), "floor_falls")
    };
    assert_eq!(floor("600mm", "6mm"), [""; 0]);
    assert_eq!(
        floor("600mm", "6.1mm"),
        ["along `one` the floor falls 6.1 mm in 600 mm: more than the 6 mm that is usual"]
    );
    assert_eq!(floor("1800mm", "8mm"), [""; 0]);
    assert_eq!(floor("1800mm", "8.1mm").len(), 1);
    assert_eq!(floor("3000mm", "12mm"), [""; 0]);
    assert_eq!(floor("3000mm", "12.1mm").len(), 1);
    assert_eq!(floor("600mm", "?"), [""; 0]);
}

/// Inches: 23/32 - 3/64 = 43/64 to 23/32 + 1/32 = 3/4. Millimetres: 18 - 0.4 - 0.54 = 17.06 to 18 + 0.2 + 0.54 = 18.74.
#[test]
fn a_sheet_is_as_thick_as_its_name_allows() {
    let sheet = |sheet: &str| {
        let text = format!(
            "sheet ply {{ {sheet} }}\nstick s {{ floor = 80mm }}\n\
             carcass a {{ stock = ply, shelves = s, width = 800mm, height = 900mm, depth = 300mm }}"
        );
        told(&text, "sheet_thickness")
    };
    for (nominal, kept, off) in [
        ("23/32\"", ["43/64\"", "3/4\""], ["42/64\"", "49/64\""]),
        ("18mm", ["17.06mm", "18.74mm"], ["17.05mm", "18.75mm"]),
        ("1/4\"", ["7/32\"", "9/32\""], ["13/64\"", "19/64\""]),
    ] {
        for thickness in kept {
            assert_eq!(
                sheet(&format!("nominal = {nominal}, thickness = {thickness}")),
                [""; 0],
                "{nominal} {thickness}"
            );
        }
        for thickness in off {
            assert_eq!(
                sheet(&format!("nominal = {nominal}, thickness = {thickness}")).len(),
                1,
                "{nominal} {thickness}"
            );
        }
    }
    assert_eq!(sheet("thickness = 12mm"), [""; 0]);
    // A lot has the name of its sheet.
    assert_eq!(sheet("nominal = 18mm, lot one { thickness = 16mm }").len(), 1);
}

/// The top of the shelf counts: a mark of 1962 mm and 18 mm of sheet are 1980 mm. New floor takes its thickness off.
#[test]
fn what_stands_on_a_shelf_can_be_reached() {
    let case = |mark: &str, inside: &str| {
        let text = format!(
            "sheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm, high = {mark} }}\n\
             carcass a {{ shelves = s, width = 600mm, height = 2400mm, depth = 300mm, top, {inside} }}"
        );
        told(&text, "reach")
    };
    assert_eq!(case("1962mm", "load = books"), [""; 0]);
    assert_eq!(
        case("1962.1mm", "load = books"),
        ["`a.shelf.high` is 1980.1 mm high over the floor, and an adult reaches 1980 mm"]
    );
    // Nothing is stated to stand there.
    assert_eq!(case("1990mm", "cleat { height = 60mm }"), [""; 0]);
    for (who, reach) in [("child_3", 914), ("child_5", 1016), ("child_9", 1118)] {
        let toys = format!("contents toys {{ on = [high], reach = {who} }}");
        assert_eq!(case(&format!("{}mm", reach - 18), &toys), [""; 0], "{who}");
        assert_eq!(case(&format!("{}mm", reach - 17), &toys).len(), 1, "{who}");
    }
    let wall = |later: &str| {
        let text = walled(&format!("floor {{ stand_on = subfloor, later = {later} }}"), "load = 1 kg/m")
            .replace("top = 1200mm", "high = 1980mm")
            .replace("stretcher bottom", "stretcher bottom, top")
            .replace("height = 1300mm", "height = 2400mm");
        told(&text, "reach").len()
    };
    assert_eq!([wall("18mm"), wall("17mm")], [0, 1]);
    // On the topmost shelf things stand where nothing closes the room over it.
    let open = "sheet ply { thickness = 18mm }\nstick s { low = 80mm, high = 1990mm }\n\
                carcass a { shelves = s, width = 600mm, height = 2400mm, depth = 300mm, load = books }";
    assert_eq!(told(open, "reach").len(), 1);
}

/// A box of 330 mm and 12.7 mm beside it want 342.7 mm: 378.7 over two sides of 18 mm.
#[test]
fn what_stands_on_a_shelf_goes_in_sideways() {
    let case = |width: &str, item: &str| {
        let text = format!(
            "item box {{ {item} }}\nsheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm, top = 500mm }}\n\
             carcass a {{ shelves = s, width = {width}, height = 600mm, depth = 400mm, contents boxes {{ on = [low], item = box }} }}"
        );
        told(&text, "contents_too_wide")
    };
    assert_eq!(case("378.7mm", "width = 330mm"), [""; 0]);
    assert_eq!(
        case("378.6mm", "width = 330mm"),
        ["`boxes`, 330 mm wide, do not go into the opening over `a.shelf.low`, which is 342.6 mm wide"]
    );
    assert_eq!(case("200mm", "height = 300mm"), [""; 0]);
}

/// Height, depth and load of the library's things, each with what a shelf for it must have.
#[test]
fn things_of_the_library_have_their_size_and_load() {
    let case = |item: &str, front: &str, depth: &str| {
        let text = format!(
            "project {{ marks = 1/32\" }}\nsheet ply {{ thickness = 3/4\", stiffness = 1e6 psi }}\nstick s {{ low = 3\", high = {front} }}\n\
             carcass a {{ shelves = s, width = 30\", height = 40\", depth = {depth}, contents these {{ on = [low], item = {item} }} }}"
        );
        compiled_text(&text)
    };
    let slugs = |compilation: &Compilation| -> Vec<&'static str> {
        compilation
            .diagnostics
            .iter()
            .map(|told| told.code.slug)
            .filter(|slug| slug.starts_with("contents") || *slug == "finger_room")
            .collect()
    };
    // 3 in + 3/4 in + the thing + 1 in of room for a finger.
    for (item, mark, depth) in [
        ("book_folio", "23 3/4\"", "13\""),
        ("book_quarto", "16 3/4\"", "10\""),
        ("book_octavo", "13 3/4\"", "8\""),
        ("book_duodecimo", "12 1/8\"", "8\""),
        ("lever_arch", "440.65mm", "285mm"),
        ("paper_a4", "417.65mm", "210mm"),
        ("letter_binder", "16 3/4\"", "10 1/2\""),
        ("record_sleeve", "17 1/4\"", "12 1/2\""),
        ("game_box", "7 3/4\"", "12\""),
        ("toy_bin", "17 3/4\"", "13\""),
    ] {
        let fits = case(item, mark, depth);
        assert_eq!(slugs(&fits), [""; 0], "{item}");
        let low = case(item, &format!("{mark} - 1/32\""), depth);
        assert_eq!(slugs(&low), ["finger_room"], "{item}");
        let shallow = case(item, mark, &format!("{depth} - 1/32\""));
        assert_eq!(slugs(&shallow), ["contents_too_deep"], "{item}");
    }
    // The load of the thing is that of the shelf where none is stated: 55 lb/ft of records on 28 1/2 in are 130.6 lb.
    let load = |text: &str| {
        let opening = &compiled_text(text).graph.openings[0];
        match opening.load {
            Some(Load::Line(line)) => line.value * 25.4 * 12.0 / 0.453_592_37,
            _ => 0.0,
        }
    };
    let records = "sheet ply { thickness = 3/4\" }\nstick s { low = 3\", high = 20\" }\n\
         carcass a { shelves = s, width = 30\", height = 40\", depth = 13\", contents these { on = [low], item = record_sleeve } }";
    assert!((load(records) - 55.0).abs() < 1e-9);
    assert!((load(&records.replace("item = record_sleeve", "height = 12\"")) - 0.0).abs() < 1e-9);
    assert!((load(&records.replace("depth = 13\",", "depth = 13\", load = 20 lb/ft,")) - 20.0).abs() < 1e-9);
}

/// No. 8 is 0.164 in thick, K 3360 in the lightest softwood: 3360 x 0.164^2 = 90.37 lb. A clear width of 28 9/16 in under w lb/ft carries
/// 28.5625 w / 12, half of it on two screws: w 28.5625 / 48 = 90.37 where w is 151.87.
#[test]
fn wall_screws_carry_the_rear_half() {
    let in_bays = |load: &str, screw: &str, lining: &str, bays: &str| {
        let text = format!(
            "room r {{ wall w {{ right = open, {lining} studs {{ at = [12\", 28\"] }}, reading low {{ back = 31\", front = 31\" }} }} }}\n\
             sheet ply {{ thickness = 23/32\" }}\nscrew long {{ {screw} }}\nstick s {{ floor = 3\", mid = 20\", top = 38\" }}\n\
             run shelves {{ along = r.w, end left {{ gap = 1\" }}\n  unit a {{ shelves = s, width = rest, height = 40\", depth = 11\", load = {load}, cleat {{ height = 2 1/2\" }}, stretcher bottom{bays} }} }}\n\
             join cleat to wall with butt {{ screw = long }}"
        );
        told(&text, "screw_load").len()
    };
    let case = |load: &str, screw: &str, lining: &str| in_bays(load, screw, lining, "");
    let (long, board) = ("length = 2 1/2\"", "lining = 1/2\",");
    assert_eq!(case("151 lb/ft", long, board), 0);
    assert_eq!(case("152 lb/ft", long, board), 1);
    // No. 10 is 0.19 in: 121.3 lb, of which 1.28125 / 1.33 hold: 116.85, w 196.4.
    assert_eq!(case("196 lb/ft", "length = 2 1/2\", gauge = 10", board), 0);
    assert_eq!(case("197 lb/ft", "length = 2 1/2\", gauge = 10", board), 1);
    // 2 1/4 - 23/32 - 1/2 = 1 1/32 in the stud, of 7 x 0.164 = 1.148 in: 81.18 lb, w 136.4.
    assert_eq!(case("136 lb/ft", "length = 2 1/4\"", board), 0);
    assert_eq!(case("137 lb/ft", "length = 2 1/4\"", board), 1);
    // Without a lining the screw is taken as deep enough.
    assert_eq!(case("151 lb/ft", "length = 2 1/4\"", ""), 0);
    // What stands in the bays of a shelf hangs on the cleat under all of it.
    let over = ", shelf mid { bay a, bay b }, skip = [top], top";
    assert_eq!(in_bays("151 lb/ft", long, board, over), 0);
    assert_eq!(in_bays("152 lb/ft", long, board, over), 1);
    // Under a shelf over bays hangs a cleat a bay, (28 9/16 - 23/32) / 2 = 13.92 long, each on one screw: w = 2 x 90.4 x 12 / 13.92 = 155.8.
    let bays = ", shelf floor { bay a, bay b }, shelf mid { bay a, bay b }";
    assert_eq!(in_bays("155 lb/ft", long, board, bays), 0);
    assert_eq!(in_bays("156 lb/ft", long, board, bays), 1);
}

/// 5/64 in or 2 mm: 1/16 in that stays free and 1/64 in of paint.
#[test]
fn a_loose_shelf_has_room_for_its_paint() {
    let case = |play: &str, finish: &str| {
        let text = format!(
            "sheet ply {{ thickness = 18mm }}\npin peg {{ diameter = 5mm }}\ncoating primer_one {{ spread = 9 m2/L }}\n{finish}\nstick s {{ low = 80mm, top = 500mm }}\n\
             carcass a {{ shelves = s, width = 600mm, height = 600mm, depth = 300mm, shelf low {{ adjustable {{ count = 1, pin = peg, play = {play} }} }} }}"
        );
        told(&text, "loose_play").len()
    };
    let painted = "finish { coats = [primer_one] }";
    assert_eq!([case("2mm", painted), case("1.9mm", painted), case("1.9mm", "")], [0, 1, 0]);
}

/// 1/4 in (6 mm) behind board or plaster; behind wood nothing at all.
#[test]
fn a_box_stands_no_further_back_than_it_may() {
    let case = |recessed: &str, decided: &str| {
        let socket = format!(
            "obstacle socket {{ kind = outlet, left = 1000mm, bottom = 400mm, width = 70mm, height = 70mm, decided = {decided}{recessed} }}"
        );
        told(&walled(&socket, ""), "box_set_back").len()
    };
    assert_eq!(
        [case(", recessed = 6mm", "keep"), case(", recessed = 6.1mm", "keep"), case("", "keep")],
        [0, 1, 0]
    );
    assert_eq!([case(", recessed = 0mm", "cut_round"), case(", recessed = 1mm", "cut_round")], [0, 1]);
    assert_eq!(case(", recessed = 12mm", "bring_flush"), 0);
}

/// At 70 F the air of 30 % leaves 6.1696 % of moisture in wood, that of 50 % 9.2423 % (Wood Handbook, Eq. 4-5): 3.0727 points. A rail of
/// 5 1/2 in x 0.289 % x 3.0727 moves 0.0488 in = 1.2406 mm; with 4 points as everywhere 0.0636 in = 1.6149 mm, over 1/16 in.
#[test]
fn the_air_of_the_room_moves_the_wood() {
    let case = |room: &str| {
        format!(
            "room r {{ {room} wall w {{ right = open, reading low {{ back = 31\", front = 31\" }} }} }}\nsheet ply {{ thickness = 3/4\" }}\n\
             board tulip {{ thickness = 3/4\", swell = 0.289 % }}\nstick s {{ floor = 3\", top = 34\" }}\n\
             run one {{ along = r.w, end left {{ gap = 1\" }}\n  unit a {{ shelves = s, width = rest, height = 40\", depth = 11\" }}\n  facing {{ stock = tulip, stile = 1 3/4\", top_rail = 5 1/2\" }} }}"
        )
    };
    let what = "movement across the grain over a year";
    let moves = |text: &str| {
        let compilation = compiled_text(text);
        let own = compilation.findings.iter().filter(|finding| finding.what == what);
        (own.map(|finding| finding.value.value()).fold(0.0, f64::max), told(text, "movement").len())
    };
    let (still, none) = moves(&case("humidity = [30 %, 50 %],"));
    assert!((still - 1.2406).abs() < 2e-4, "{still}");
    assert_eq!(none, 0);
    // `why` has the same figure.
    let figures = Figures::of_text(&case("humidity = [30 %, 50 %],"));
    let rail = figures.compilation.graph.parts.iter().find(|part| part.role == Role::TopRail).unwrap();
    assert!((estimated(&figures, &format!("{}.movement", rail.path)) - still).abs() < 1e-9);
    let (usual, one) = moves(&case(""));
    assert!((usual - 5.5 * 25.4 * 0.00289 * 4.0).abs() < 1e-9, "{usual}");
    assert_eq!(one, 1);
    assert_eq!(told(&case("humidity = [50 %, 30 %],"), "out_of_range").len(), 1);
    assert_eq!(told(&case("humidity = [50 %],"), "out_of_range").len(), 1);
    let shopping = printed(&compiled_text(&case("moisture = moisture_dry,")), "shopping");
    assert!(shopping.contains("2 to 7 days in the room, on stickers, before they are cut"), "{shopping}");
    assert!(shopping.contains("wood settles there at about 6 %"), "{shopping}");
    assert!(printed(&compiled_text(&case("")), "shopping").contains("at about 8 %"));
}

/// Joists across the wall at 406.4 mm, 3657.6 mm long, 40 lb/sq ft; along it one carries all.
#[test]
fn joists_are_compared_where_they_are_stated() {
    let case = |floor: &str, load: &str| {
        compiled_text(&walled(&format!("floor {{ build = joists, {floor} }}"), &format!("load = {load}")))
    };
    let what = "moment in a joist, over that of the live load it was made for";
    let across = case("joists = across, spacing = 406.4mm, span = 3657.6mm", "50 kg/m");
    let (line, ..) = compared(&across, "units, facing and load along the wall");
    // Shelving w on 300 mm of a joist's end: R = w s (1 - 150 / L), M = R^2 / (2 w s / 300); of q s L^2 / 8, q 40 lb/sq ft in kg/mm2.
    let (spacing, span, q) = (406.4, 3657.6, 40.0 * 0.453_592_37 / (304.8_f64 * 304.8));
    let reaction = line * spacing * (1.0 - 150.0 / span);
    let share = reaction * reaction / (2.0 * line * spacing / 300.0) / (q * spacing * span * span / 8.0);
    let (value, limit, remark) = compared(&across, what);
    assert!((value - share).abs() < 1e-9 * share, "{value} {share}");
    assert_eq!(limit, Some(1.0));
    assert!(remark.contains("40 lb/sq ft"), "{remark}");
    assert_eq!(across.diagnostics.iter().filter(|told| told.code.slug == "floor").count(), 0);
    // Along the wall one joist carries the whole line: w / (q s).
    let along = case("joists = along, spacing = 406.4mm, span = 3657.6mm, made_for = bedroom", "50 kg/m");
    let (value, ..) = compared(&along, what);
    assert!((value - line / (q * 0.75 * spacing)).abs() < 1e-9 * value, "{value}");
    let says: Vec<&str> = along
        .diagnostics
        .iter()
        .filter(|told| told.code.slug == "floor")
        .map(|told| told.message.as_str())
        .collect();
    assert_eq!(
        says,
        [
            "`one` with the shelves loaded ask more of their joists than the live load that these were made for"
        ]
    );
    // Where the span is not stated nothing is compared, and that is said.
    let unknown = case("joists = along, spacing = 406.4mm", "50 kg/m");
    let says: Vec<&str> = unknown
        .diagnostics
        .iter()
        .filter(|told| told.code.slug == "floor")
        .map(|told| told.message.as_str())
        .collect();
    assert!(says[0].ends_with("of wall with the shelves loaded: not checked"), "{says:?}");
    let (area, limit, remark) = compared(&unknown, "units, facing and load over their footprint");
    assert!(
        (area - line / 300.0).abs() < 1e-12 && limit.is_none() && remark.contains("150 lb/sq ft"),
        "{area} {remark}"
    );
}

/// A bare shelf 23/32 thick, E 0.95 million psi, 50 lb/sq ft = 0.34722 psi: in years it sags twice, so L^3 = 32 E t^3 / (5 q 768) =
/// 8466 in3 and L = 20.38 in; by the strict eye / (5 q 1200) = 5418 and 17.56 in.
#[test]
fn the_longest_bare_shelf_is_told() {
    let case = |clear: &str, sag: &str| {
        format!(
            "project {{ marks = 1/32\", sag = {sag} }}\nsheet ply {{ thickness = 23/32\", stiffness = 0.95e6 psi }}\nstick s {{ low = 3\", mid = 20\", top = 38\" }}\n\
             carcass a {{ shelves = s, clear = {clear}, height = 40\", depth = 11\", load = books, stretcher bottom }}"
        )
    };
    for (sag, kept, seen, long) in
        [("usual", "20 3/8\"", "20 1/2\"", 20.38), ("strict", "17 1/2\"", "17 5/8\"", 17.56)]
    {
        assert_eq!(told(&case(kept, sag), "sag"), [""; 0], "{sag}");
        assert_eq!(told(&case(seen, sag), "sag").len(), 1, "{sag}");
        let figures = Figures::of_text(&case(kept, sag));
        let bare = estimated(&figures, "a.shelf.mid.longest_bare") / 25.4;
        assert!((bare - long).abs() < 0.01, "{bare}");
    }
    let help = &compiled_text(&case("24\"", "usual")).diagnostics;
    let help: Vec<&String> =
        help.iter().filter(|told| told.code.slug == "sag").flat_map(|told| &told.help).collect();
    assert!(
        help.iter().any(|help| help.contains("bare, a shelf of this sheet may be 20 3/8\" long")),
        "{help:?}"
    );
    // Without the stiffness nothing is compared, and the rule of thumb stands in its place.
    let unknown = compiled_text(&case("36\"", "usual").replace(", stiffness = 0.95e6 psi", ""));
    assert!(
        printed(&unknown, "limits")
            .contains("comfortable to 30 in (760 mm) bare, to 36 in (910 mm) with a strip")
    );
}

/// 2400 x 600 mm at 50 lb/sq ft would be 775 lb: the standard asks 200 lb of one shelf.
#[test]
fn a_load_that_the_standard_holds_down_is_said() {
    let case = |clear: &str| {
        let text = format!(
            "sheet ply {{ thickness = 18mm, stiffness = 9 kN/mm2 }}\nstick s {{ low = 80mm, mid = 500mm, top = 900mm }}\n\
             carcass a {{ shelves = s, clear = {clear}, height = 1000mm, depth = 600mm, load = books, stretcher bottom }}"
        );
        compared(&compiled_text(&text), "sag in years").2
    };
    assert_eq!(
        case("2400mm"),
        "loaded with 200 lb (90 kg) in all, the most that the standard asks of one shelf"
    );
    // 200 lb = 90.72 kg of 244.12 kg/m2 x 0.6 m: 619.3 mm.
    assert_eq!(case("619mm"), "");
    assert!(!case("620mm").is_empty());
}

/// Two equal spans of 482 mm under w: 0.0054161 w L^4 / (E I) (table of continuous beams), where one of 982 mm would sag 5/384 of it.
#[test]
fn a_shelf_over_dividers_is_a_continuous_beam() {
    let text = "sheet ply { thickness = 18mm, stiffness = 9 kN/mm2 }\nstick s { low = 80mm, mid = 500mm, top = 900mm }\n\
         carcass a { shelves = s, clear = 982mm, height = 1000mm, depth = 300mm, load = 40 kg/m, stretcher bottom, shelf low { bay one, bay two } }";
    let figures = Figures::of_text(text);
    let stiffness = 9000.0 * 300.0 * 18.0_f64.powi(3) / 12.0;
    let sag = 0.005_416_1 * 40.0 * 9.806_65 / 1000.0 * 482.0_f64.powi(4) / stiffness;
    let found = estimated(&figures, "a.shelf.mid.sag_front");
    assert!((found / sag - 1.0).abs() < 2e-4, "{found} {sag}");
    let (.., remark) = compared(&figures.compilation, "sag in years");
    assert!(remark.contains("over dividers"), "{remark}");
}

/// Three shelves of 982 mm, of which the lowest lies on stretchers, under w = 40 kg/m = 0.392266 N/mm: E I = 9000 x 300 x 18^3 / 12 = 1.3122e9 and
/// 5 w L^4 / (384 E I) = 3.6196 mm of one alone. Two that a divider ties together, with nothing under the lower one, sag as much as one alone.
#[test]
fn a_divider_carries_only_where_it_is_carried() {
    let case = |inside: &str| {
        let text = format!(
            "sheet ply {{ thickness = 18mm, stiffness = 9 kN/mm2 }}\nstick s {{ low = 80mm, mid = 500mm, top = 900mm }}\n\
             carcass a {{ shelves = s, clear = 982mm, height = 1000mm, depth = 300mm, load = 40 kg/m, {inside} }}"
        );
        let figures = Figures::of_text_with_errors(&text);
        ["mid", "top"].map(|shelf| estimated(&figures, &format!("a.shelf.{shelf}.sag_front")))
    };
    let alone = 5.0 * 0.392_266 * 982.0_f64.powi(4) / (384.0 * 1.3122e9);
    let over = 0.005_416_1 * 0.392_266 * 482.0_f64.powi(4) / 1.3122e9;
    let holds = |found: [f64; 2], wanted: [f64; 2]| {
        let near = found.iter().zip(wanted).all(|(found, wanted)| (found / wanted - 1.0).abs() < 2e-4);
        assert!(near, "{found:?} {wanted:?}");
    };
    holds(case("stretcher bottom"), [alone, alone]);
    holds(case("stretcher bottom, shelf low { bay one, bay two }"), [over, alone]);
    holds(case("stretcher bottom, shelf mid { bay one, bay two }"), [alone, alone]);
    let both = "shelf low { bay one, bay two }, shelf mid { bay one, bay two }";
    holds(case(&format!("stretcher bottom, {both}")), [over, over]);
    // The lowest shelf sags itself without its stretchers.
    holds(case(both), [alone, alone]);
    // Half of a divider's thickness over the other it still carries, beside it it does not: (982 - 18) / 2 = 482, and 491, and 500.
    let beside = |left: &str| {
        format!(
            "stretcher bottom, shelf low {{ bay one, bay two }}, shelf mid {{ bay one {{ width = {left} }}, bay two }}"
        )
    };
    let longer = case(&beside("491mm"));
    assert!(longer[1] > over && longer[1] < 2.0 * over, "{longer:?}");
    holds(case(&beside("500mm")), [over, alone]);
    // What stands in one bay counts for all of the shelf that it stands on.
    let bays = "stretcher bottom, shelf mid { bay one { load = 80 kg/m }, bay two }";
    holds(case(bays), [2.0 * alone, alone]);
}

/// Over dividers a bare beam and the longest span with its strip and cleat both sag more than the shelf: the less counts, and what a strip is
/// said to do it does. Between its dividers 900 under 60 kg/m: 2 x 0.0054161 w L^4 / (E I) = 3.19 mm in years, and 900 / 384 = 2.34.
#[test]
fn a_strip_helps_a_shelf_over_dividers() {
    let case = |width: &str, strip: &str, inside: &str| {
        format!(
            "room den {{\n  wall w {{\n    right = open\n    studs {{ first = 100mm, every = 200mm }}\n    reading low {{ back = 1900mm, front = 1900mm }}\n  }}\n}}\n\
             screw long {{ length = 80mm }}\nsheet ply {{ thickness = 18mm, stiffness = 9 kN/mm2 }}\nboard ash {{ thickness = 20mm, stiffness = 11 kN/mm2 }}\n\
             stick s {{ low = 80mm, mid = 500mm, top = 900mm }}\nrun r {{\n  along = den.w\n  facing {{ stock = ash, lap = 4mm{strip} }}\n  \
             unit a {{ shelves = s, clear = {width}, height = 1000mm, depth = 300mm, load = 60 kg/m, stretcher bottom, skip = [top], top, cleat {{ height = 60mm }}{inside} }}\n}}\n\
             join cleat to wall with butt {{ screw = long }}\n"
        )
    };
    let sag = |text: &str| estimated(&Figures::of_text_with_errors(text), "r.a.shelf.mid.sag_years");
    let bays = ", shelf low { bay one, bay two }";
    let bare = case("1818mm", "", bays);
    assert!((sag(&bare) - 3.19).abs() < 0.005, "{}", sag(&bare));
    let with = |high: &str| case("1818mm", &format!(", strip = {high}"), bays);
    let alone = case("900mm", ", strip = 50mm", "");
    assert!((sag(&alone) / sag(&with("50mm")) - 1.0).abs() < 1e-9);
    let helps: Vec<String> = compiled_text(&bare)
        .diagnostics
        .iter()
        .filter(|told| told.code.slug == "sag")
        .flat_map(|told| told.help.clone())
        .collect();
    let then = sag(&with("40mm"));
    assert_eq!(
        helps,
        [
            format!(
                "a strip 40 mm high before it (`strip = 40mm` in the facing) sags ~{then:.2} mm in years"
            ),
            "or stand a divider in the middle of each of its longest spans".to_owned(),
        ]
    );
    assert!(told(&with("40mm"), "sag").is_empty());
    assert!(!told(&with("35mm"), "sag").is_empty());
    let quarters = ", shelf low { bay one, bay two, bay three, bay four }";
    assert!(told(&case("1818mm", "", quarters), "sag").is_empty());
}

/// The highest cleat hangs from 1140 to 1200 mm, its middle at 1170 of 1300. Two studs, 80 - 18 - 12 = 50 mm in each: 15 700 x 0.29^2 x
/// 0.164 x 1.9685 in = 426.3 lb, a fifth of it 85.25 lb, two screws 170.5 lb, at the top 1170/1300 of it: 153.5 lb = 69.6 kg.
#[test]
fn the_pull_that_the_highest_screws_hold_is_told() {
    let text = walled("lining = 12mm, studs { at = [1000mm, 1400mm] }", "cleat { height = 60mm }");
    let what = "pull at the top that its highest wall screws hold";
    let (value, limit, _) = compared(&compiled_text(&text), what);
    assert!((value - 69.6).abs() < 0.05, "{value}");
    assert_eq!(limit, None);
    let unknown = compiled_text(&text.replace("lining = 12mm, ", ""));
    assert!(unknown.findings.iter().all(|finding| finding.what != what));
}

/// 300 mm deep: hands 10 + 5.906 = 15.906 in before the ankles; 51 x 10/15.906 x (1 - 0.0075 x 30) x (0.82 + 1.8/30) x 0.95 = 20.77 lb.
#[test]
fn a_lift_from_the_floor_is_told_beside_what_is_recommended() {
    let text = walled("", "").replace("project {", "person { count = 2 }\nproject {");
    let compilation = compiled_text(&text);
    let weight = compared(&compilation, "weight of a unit as it is carried").0;
    let (share, limit, remark) = compared(&compilation, "what each lifts of a unit that lies on the floor");
    assert!((share - weight / 2.0).abs() < 1e-9 && limit.is_none());
    let index = share / 0.453_592_37 / (51.0 * 10.0 / (10.0 + 300.0 / 50.8) * 0.775 * 0.88 * 0.95);
    assert!(remark.starts_with(&format!("{index:.1} times")), "{remark}");
    assert!(remark.contains("21 lb (9 kg; NIOSH 94-110)"), "{remark}");
}

/// Trim that is taken off before the unit: 2980 x 90 mm = 0.2682 m2 = 2.887 sq ft; 6 sq ft are 557 418 mm2, 187.05 mm of it.
#[test]
fn old_paint_on_trim_that_is_taken_off_is_reckoned() {
    let case = |year: &str, high: &str| {
        let trim = format!(
            "obstacle skirting {{ kind = baseboard, height = {high}, projection = 18mm, decided = remove }}"
        );
        compiled_text(
            &walled(&trim, "").replace("marks = 0.1mm", &format!("marks = 0.1mm, year_built = {year}")),
        )
    };
    let what = "old paint on trim that is taken off";
    let (area, limit, _) = compared(&case("1960", "90mm"), what);
    assert!((area - 2980.0 * 90.0).abs() < 3000.0 * 20.0 * 90.0 && area >= 2980.0 * 90.0, "{area}");
    assert!((limit.unwrap() - 557_418.24).abs() < 0.01);
    let notes = |compilation: &Compilation| -> String {
        compilation
            .diagnostics
            .iter()
            .filter(|told| told.code.slug == "old_paint")
            .flat_map(|told| told.notes.clone())
            .collect()
    };
    assert!(
        notes(&case("1960", "90mm")).contains("under ~0.557 m2 a room"),
        "{}",
        notes(&case("1960", "90mm"))
    );
    assert!(notes(&case("1960", "240mm")).contains("over ~0.557 m2 a room"));
    assert_eq!(notes(&case("1980", "240mm")), "");
}

/// A chair rail 3000 x 90 mm has 270 000 mm2, a casing 150 mm wide and 1915 mm high 287 250: 557 250, just under 6 sq ft = 557 418.24 mm2; of
/// 1917 mm it has 287 550, and 557 550 are over. What is stated of the room is met on both of its walls and counted once.
#[test]
fn old_paint_is_reckoned_room_by_room() {
    let what = "old paint on trim that is taken off";
    let text = |rooms: [&str; 2], walls: &str| {
        let room = |name: &str, high: &str, walls: &str| {
            let wall = |name: &str, trim: &str| {
                format!(
                    "  wall {name} {{\n    right = open\n    reading low {{ back = 3000mm, front = 3000mm }}\n    {trim}\n  }}\n"
                )
            };
            let rail = "obstacle rail { kind = chair_rail, bottom = 900mm, height = 90mm, projection = 18mm, decided = remove }";
            let casing = format!(
                "obstacle casing {{ kind = casing, left = 200mm, width = 150mm, bottom = 0mm, height = {high}, projection = 18mm, decided = remove }}"
            );
            format!("room {name} {{\n  {casing}\n{}{walls}}}\n", wall("w", rail))
        };
        let run = |name: &str, wall: &str, gaps: [&str; 2]| {
            format!(
                "run {name} {{\n  along = {wall}\n  end left {{ gap = {} }}\n  end right {{ gap = {} }}\n  unit a {{ shelves = s, width = rest, height = 600mm, depth = 300mm }}\n}}\n",
                gaps[0], gaps[1]
            )
        };
        let runs = [
            // Two runs along one wall, one along the other.
            run("one", "den.w", ["0mm", "1600mm"]),
            run("two", "den.w", ["1600mm", "0mm"]),
            run("three", "hall.w", ["0mm", "0mm"]),
            if walls.is_empty() { String::new() } else { run("four", "den.v", ["0mm", "0mm"]) },
        ];
        format!(
            "project {{ marks = 0.1mm, year_built = 1960 }}\n{}{}sheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm, top = 500mm }}\n{}",
            room("den", rooms[0], walls),
            room("hall", rooms[1], ""),
            runs.concat()
        )
    };
    let areas = |text: &str| -> Vec<(String, f64, bool)> {
        let compilation = compiled_text(text);
        let findings = compilation.findings.iter().filter(|finding| finding.what == what);
        findings
            .map(|finding| (finding.subject.clone(), finding.value.value().round(), finding.holds()))
            .collect()
    };
    let of = |room: &str, area: f64, kept: bool| (room.to_owned(), area, kept);
    assert_eq!(
        areas(&text(["1915mm", "1915mm"], "")),
        [of("den", 557_250.0, true), of("hall", 557_250.0, true)]
    );
    assert_eq!(
        areas(&text(["1917mm", "1915mm"], "")),
        [of("den", 557_550.0, false), of("hall", 557_250.0, true)]
    );
    // The casing of the room stands before both of its walls.
    let second = "  wall v {\n    right = open\n    reading low { back = 3000mm, front = 3000mm }\n  }\n";
    assert_eq!(areas(&text(["1915mm", "1915mm"], second))[0], of("den", 557_250.0, true));
    let notes = compiled_text(&text(["1917mm", "1915mm"], "")).diagnostics;
    let notes: Vec<String> =
        notes.into_iter().filter(|told| told.code.slug == "old_paint").flat_map(|told| told.notes).collect();
    assert_eq!(
        notes,
        [
            "the trim of `den` that is taken off has ~0.558 m2 of old paint, over ~0.557 m2 a room",
            "the trim of `hall` that is taken off has ~0.557 m2 of old paint, under ~0.557 m2 a room",
        ]
    );
}

/// What a hand holds and no check can measure stands on the table of limits, and only where the work has it.
#[test]
fn what_is_held_by_hand_is_on_the_table_of_limits() {
    let example = printed(&crate::compiled("examples/sewing-room/sewing_room.scant"), "limits");
    for held in [
        "the reference edge of a sheet, straight",
        "a sheet out of square, in a foot (300 mm)",
        "the first and the last piece of a stop",
        "1/64\" too deep on both sides makes a unit 1/32\" narrower",
        "goes in by hand, and does not drop out",
        "the two diagonals of a higher unit, alike",
        "50 F (10 C) or warmer",
        "flush, up to 1/64\" under it, never proud",
        "every 8 to 12 in; brads replace half",
        "0.025 in, at best 0.012 in",
        "0.027 in in 12 in",
    ] {
        assert!(example.contains(held), "{held}\n{example}");
    }
    let plain = printed(
        &compiled_text(
            "sheet ply { thickness = 18mm }\nstick s { low = 80mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }",
        ),
        "limits",
    );
    assert!(plain.contains("the two diagonals of a unit up to 4 ft"), "{plain}");
    assert!(!plain.contains("a strip at its shelf's top") && !plain.contains("50 F"), "{plain}");
    // Two glues have a row each, what holds for all glue has one.
    let glued = |name: &str, height: &str, glue: &str| {
        format!(
            "carcass {name} {{ shelves = s, width = 600mm, height = {height}, depth = 300mm, join shelf to side with dado {{ glue = {glue} }} }}\n"
        )
    };
    let two = format!(
        "sheet ply {{ thickness = 18mm }}\nglue white {{ in_clamps = 30 min }}\nglue slow {{ in_clamps = 45 min }}\nstick s {{ low = 80mm }}\n{}{}",
        glued("a", "900mm", "white"),
        glued("b", "1300mm", "slow")
    );
    let two = printed(&compiled_text(&two), "limits");
    let rows = [
        "`white` in clamps 30 min at least",
        "`slow` in clamps 45 min at least",
        "50 F (10 C) or warmer",
        "of a unit up to 4 ft",
        "of a higher unit",
    ];
    assert_eq!(rows.map(|row| two.matches(row).count()), [1; 5], "{two}");
}

/// A bit of 12 mm goes 6 mm at once, so a dado of 6 mm is one step and of 6.1 mm two; `step = 3mm` makes two of 6 mm.
#[test]
fn the_router_is_told_its_steps_and_passes() {
    let case = |step: &str, depth: &str| {
        let text = format!(
            "router {{ base = 70mm, bit = 12mm{step} }}\nsheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm }}\n\
             carcass a {{ shelves = s, width = 600mm, height = 900mm, depth = 300mm }}\njoin shelf to side with dado {{ depth = {depth} }}"
        );
        printed(&compiled_text(&text), "marks")
    };
    assert!(case("", "6mm").contains("6 mm in 1 step"), "{}", case("", "6mm"));
    assert!(case("", "6.1mm").contains("6.1 mm in 2 steps"));
    assert!(case(", step = 3mm", "6mm").contains("6 mm in 2 steps"));
    // 70 - 6 = 64; 64 - (18.2 - 12) = 57.8, cut first.
    let marks = case("", "6mm");
    for line in [
        "spacer 2, cut first",
        "57.8 mm",
        "spacer 1, cut second",
        "64 mm",
        "cut narrow and widen",
        "at the left of the travel",
        "climbs when it is run the other way",
    ] {
        assert!(marks.contains(line), "{line}\n{marks}");
    }
    assert!(!printed(&compiled_text("sheet ply { thickness = 18mm }\nstick s { low = 80mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }"), "marks").contains("spacer"));
}

/// Each place says what is wise there: the reference edge at the layouts, screws and studs at the hardware, dust at the paint.
#[test]
fn sheets_say_what_is_wise_where_they_are_used() {
    let text = walled("lining = 12mm, studs { at = [1000mm, 1400mm] }", "cleat { height = 60mm }");
    let bare = compiled_text(&text);
    let hardware = printed(&bare, "hardware");
    assert!(hardware.contains("no. 8 or heavier, with a washer or pan head"), "{hardware}");
    assert!(hardware.contains("find both of its edges"), "{hardware}");
    let masonry =
        compiled_text(&text.replace("lining = 12mm, studs { at = [1000mm, 1400mm] }", "fixing = masonry"));
    assert!(!printed(&masonry, "hardware").contains("both of its edges"));
    let sized = |skim: &str| {
        printed(
            &compiled_text(
                &text.replace("thickness = 18mm", &format!("thickness = 18mm, size = 3200mm x 1220mm{skim}")),
            ),
            "layouts",
        )
    };
    assert!(sized("").contains("straight within 1/16 in (1.6 mm)"), "{}", sized(""));
    assert!(sized(", skim = 3mm").contains("The first cut skims one factory edge"));
    let finish = printed(&bare, "finish");
    assert!(finish.contains("1 mg of wood dust in a cubic metre"), "{finish}");
}

/// What stands before the studs, and the moisture that the air of a place leaves in wood.
#[test]
fn what_a_room_brings_is_in_the_library() {
    let value = |name: &str| {
        let text = format!(
            "require {name} == {name}\nlet probe = {name}\nsheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm }}\ncarcass a {{ shelves = s, width = 600mm, height = 900mm, depth = 300mm }}"
        );
        assert!(!compiled_text(&text).has_errors(), "{name}");
    };
    ["wallboard_1_2", "wallboard_5_8", "plaster_on_lath", "moisture_most", "moisture_dry", "moisture_humid"]
        .into_iter()
        .for_each(value);
    let lined = |lining: &str| {
        let compilation = compiled_text(&walled(
            &format!("lining = {lining}, studs {{ at = [1000mm, 1400mm] }}"),
            "cleat { height = 60mm }",
        ));
        compilation.model.walls[0].lining.unwrap().value.to_mm_f64()
    };
    for (name, inches) in [("wallboard_1_2", 0.5), ("wallboard_5_8", 0.625), ("plaster_on_lath", 1.0)] {
        assert!((lined(name) - inches * 25.4).abs() < 1e-9, "{name}");
    }
    let moisture = |room: &str| {
        let text = walled("", "").replace("room r {", &format!("room r {{ moisture = {room}"));
        to_f64(compiled_text(&text).model.walls[0].air.moisture.unwrap())
    };
    for (name, share) in [("moisture_most", 0.08), ("moisture_dry", 0.06), ("moisture_humid", 0.11)] {
        assert!((moisture(name) - share).abs() < 1e-12, "{name}");
    }
}

/// A pint is 473.176 ml. What the cans hold less what is needed is left; a second can is not bought for it.
#[test]
fn a_pint_for_touching_up_is_what_the_cans_leave() {
    let case = |marks: &str, cans: &str| {
        let text = format!(
            "project {{ marks = {marks} }}\ncoating enamel {{ spread = 8.5 m2/L, cans = [{cans}] }}\nfinish {{ coats = [enamel], loss = 0 % }}\n\
             sheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm }}\ncarcass a {{ shelves = s, width = 600mm, height = 900mm, depth = 300mm }}"
        );
        printed(&compiled_text(&text), "finish")
    };
    let plenty = case("1/32\"", "1 gal");
    assert!(
        plenty.contains("pint left for touching up") && !plenty.contains("less than the pint"),
        "{plenty}"
    );
    let little = case("1/32\"", "0.3 L");
    assert!(little.contains("less than the pint that is wise to keep"), "{little}");
    assert!(case("1mm", "0.3 L").contains("less than the half litre that is wise to keep"));
}

/// What is usual, as the table of kinds has it: the ranges by which an unusual value is told.
#[test]
fn every_range_of_the_trade_is_the_usual_one() {
    let range = |kind: &str, property: &str, system: System| {
        let kind = KINDS.iter().find(|spec| spec.word == kind).unwrap();
        let property = kind.properties.iter().find(|spec| spec.name == property).unwrap();
        let usual = property.usually.first().unwrap().range(system);
        usual.map(|end| end.map(|end| end.exact().unwrap().value))
    };
    let inches =
        |ends: [Option<i128>; 2]| ends.map(|end| end.map(|sixteenths| Rational::new(sixteenths * 127, 80)));
    for (kind, property, least, greatest) in [
        ("ceiling", "above", Some(1344), None),
        ("stair", "width", Some(576), None),
        ("stair", "headroom", Some(1280), None),
        ("studs", "every", Some(256), Some(384)),
        ("toe", "height", Some(48), Some(64)),
        ("toe", "depth", Some(40), Some(48)),
        ("sheet", "skim", Some(2), Some(4)),
        ("saw", "kerf", Some(1), Some(2)),
    ] {
        assert_eq!(range(kind, property, System::Inch), inches([least, greatest]), "{kind} {property}");
        assert!(range(kind, property, System::Metric)[0].is_some(), "{kind} {property}");
    }
}
