//! What sheets and reasons print besides sizes: grids and calipers, settings, loads, what an estimate is made of. Worked beside each.

use crate::{compiled, compiled_text};
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::quantity::{System, estimate};
use scantling::sheets::SHEETS;
use serde_json::Value;

const A: &str = "examples/sewing-room/sewing_room.scant";

/// A sheet as it is read, in one line.
fn text(of: &Compilation, sheet: &str) -> String {
    let sheet = SHEETS.iter().find(|known| known.name == sheet).unwrap();
    let text = scantling::render::text(&(sheet.make)(of.subject(Effort::Quick)).document);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn value(of: &Compilation, sheet: &str) -> Value {
    let sheet = SHEETS.iter().find(|known| known.name == sheet).unwrap();
    (sheet.make)(of.subject(Effort::Quick)).json.value()
}

/// A grid of 32 mm, pins of 5 mm and a row 37 mm from the front in a project in inches: bored by the nearest marks, 1 1/4, hole 25
/// would lie at 24 x 31.75 = 762 for 768. What is stated in inches keeps its fractions.
#[test]
fn a_grid_in_millimetres_is_printed_in_them() {
    let text_of = |pitch: &str| {
        format!(
            "project \"Closet\" {{ marks = 1/32\" }}\nsheet ply {{ thickness = 3/4\" }}\npin peg {{ diameter = 5mm }}\nstick s {{ low = 3\", top = 40\" }}\n\
             carcass c {{ shelves = s, width = 30\", height = 44\", depth = 12\", shelf low {{ adjustable {{ count = 2, pin = peg, pitch = {pitch}, front = 37mm }} }} }}\n"
        )
    };
    let holes = |pitch: &str| value(&compiled_text(&text_of(pitch)), "marks")["units"][0]["holes"][0].clone();
    let metric = holes("32mm");
    assert_eq!(metric["pitch"]["print"], "32 mm (~1.260\")");
    assert_eq!(metric["front"]["print"], "37 mm (~1.457\")");
    assert_eq!(metric["wide"]["print"], "5 mm (~0.197\")");
    assert_eq!(holes("1 1/4\"")["pitch"]["print"], "1 1/4\"");
}

/// A sheet of 17.7 mm on a rule with half millimetres: the caliper's reading stands on the cut list.
#[test]
fn a_measured_sheet_is_never_printed_as_another() {
    let of = compiled_text(
        "project \"Closet\" { marks = 0.5mm }\nsheet ply { thickness = 17.7mm }\nstick s { low = 80mm, top = 900mm }\n\
         carcass c { shelves = s, width = 700mm, height = 1000mm, depth = 300mm }\n",
    );
    assert!(text(&of, "cut-list").contains("~17.5 mm (17.7 mm) thick as measured"));
    let inch = compiled_text(
        "project \"Closet\" { marks = 1/16\" }\nsheet ply { thickness = 17.7mm }\nstick s { low = 3\", top = 36\" }\n\
         carcass c { shelves = s, width = 30\", height = 40\", depth = 12\" }\n",
    );
    // 17.7 / 25.4 = 0.69685.
    assert!(text(&inch, "cut-list").contains("17.7 mm (~0.697\") thick as measured"));
}

/// Spring 38: tan of the mitre sin 38 x tan 45 = 0.61566, 31.62 degrees; sin of the bevel cos 38 x sin 45 = 0.55721, 33.86. Spring 45:
/// atan 0.70711 = 35.26, asin 0.5 = 30. Between walls a crown turns no corner.
#[test]
fn a_crown_is_cut_by_two_angles_of_the_saw() {
    let a = compiled(A);
    let says = "crown_moulding: a square outer corner, laid flat on the saw: mitre ~31.62 deg, bevel ~33.86 deg; try it on scrap.";
    assert!(text(&a, "boards").contains(says), "{}", text(&a, "boards"));
    let turned = std::fs::read_to_string(crate::root().join(A)).unwrap().replace("38 deg", "45 deg");
    let crown = compiled_text(&turned).graph.runs[0].crown.clone().unwrap();
    let print = |angle| estimate(angle, System::Inch);
    assert_eq!((print(crown.mitre), print(crown.bevel)), ("~35.26 deg".to_owned(), "~30.00 deg".to_owned()));
}

/// 8 + 6 + 6 + 8 shelves have 56 ends. The bit of 1/2 is narrower than the dado of 93/128: two settings each, 112; of two sides clamped
/// edge to edge one setting cuts both, 56. Spacer 1 is 2 7/8 - 1/4, spacer 2 that less 93/128 - 1/2: 2 51/128 = 2.398.
#[test]
fn the_router_is_set_up_as_often_as_its_page_says() {
    let marks = text(&compiled(A), "marks");
    let says = [
        "56 dados in sides take 112 settings of the guide, 56 where the two sides of a unit are clamped edge to edge.",
        "~2 13/32\" (2 51/128\", ~2.398\")",
    ];
    assert!(says.iter().all(|says| marks.contains(says)), "{marks}");
    // A bit as wide as the dado, 23/32 + 1/128: one setting each.
    let wide =
        std::fs::read_to_string(crate::root().join(A)).unwrap().replace("bit = 1/2\"", "bit = 93/128\"");
    assert!(
        text(&compiled_text(&wide), "marks")
            .contains("56 dados in sides take 56 settings of the guide, 28 where")
    );
}

/// 50 lb/sq ft on 30 13/16 x (11 13/16 + 3/4) / 144 = 2.6881 sq ft are 134.4 lb; the outer units have seven such shelves, the inner ones
/// five: 940.8 and 672.0, together 24 x 134.4 = 3225.8; with units (2 x 88.7 + 2 x 75.5) and facing (33.6) 3588.
#[test]
fn loads_stand_on_the_tree() {
    let a = compiled(A);
    let tree = value(&a, "tree");
    let run = &tree["runs"][0];
    let load: f64 =
        run["load"].as_str().unwrap().trim_matches(|c: char| !c.is_ascii_digit()).parse().unwrap();
    assert!((load - 24.0 * 134.41).abs() < 0.5, "{load}");
    let all: f64 =
        run["loaded_weight"].as_str().unwrap().trim_matches(|c: char| !c.is_ascii_digit()).parse().unwrap();
    assert!((all - 3588.0).abs() < 0.5, "{all}");
    let shelf = &run["units"][0]["openings"][0];
    assert_eq!(shelf["weight"], "~134.4 lb");
    let read = text(&a, "tree");
    assert!(read.contains("books, ~134.4 lb") && read.contains("lb with units and facing"), "{read}");
    // Over the top shelf nothing stands.
    let top = run["units"][0]["openings"].as_array().unwrap().last().unwrap();
    assert_eq!((&top["load"], &top["weight"]), (&Value::from("books"), &Value::Null));
}

/// The reason of an estimate as the program tells it.
fn why(path: &str, form: &str) -> String {
    let mut command = assert_cmd::Command::cargo_bin("scantling").unwrap();
    let output =
        command.current_dir(crate::root()).args(["why", A, path, "--format", form]).output().unwrap();
    String::from_utf8(output.stdout).unwrap()
}

/// What goes into an estimate stands under it with its place, its source and what is assumed; the values are those of the project.
#[test]
fn the_reason_of_an_estimate_says_what_goes_into_it() {
    let sag = why("sewing.one.shelf.binders.sag_front", "text");
    for line in [
        "sewing.one.shelf.binders.sag_front = ~0.042\"",
        "  span 30 13/16\" = ",
        "  depth of the shelf 11 13/16\" is stated in examples/sewing-room/sewing_room.scant:",
        "  thickness of the shelf 23/32\" is stated in examples/sewing-room/sewing_room.scant:",
        "  E of `ply` 0.95 million psi is stated in examples/sewing-room/sewing_room.scant:",
        "  G of `ply` 0.075 million psi is stated in",
        "  load books, 50 lb/sq ft",
        // 50 x (11 13/16 + 3/4) / 12 = 52.344 lb on a foot.
        "  load on the length ~52.344 lb/ft",
        "  height of the strip 1 1/2\" is stated in",
        "  E of `poplar` 1.58 million psi",
        "  height of the cleat 2 1/2\" is stated in",
        "source: two edge beams, 5 w L^4 / (384 E I) each",
        "assumed: housed ends turn",
    ] {
        assert!(sag.contains(line), "{line}\n{sag}");
    }
    // 4259.27 cu in less nothing else: the unit's parts are all of the sheet, 8 + 7 + 4 + 2 of them; 36 lb/cu ft.
    let weight = why("sewing.one.weight", "text");
    for line in ["21 parts of `ply` ~4259.268 cu in", "density of `ply` 36 lb/cu ft is stated in"] {
        assert!(weight.contains(line), "{line}\n{weight}");
    }
    let json: Value = serde_json::from_str(&why("sewing.one.weight", "json")).unwrap();
    let from = json[0]["from"].as_array().unwrap();
    assert_eq!(
        (&from[1]["name"], &from[1]["value"]),
        (&Value::from("density of `ply`"), &Value::from("36 lb/cu ft"))
    );
}

/// Yellow-poplar moves 0.0029 of its width for each per cent of moisture (Wood Handbook, Table 13-5): 5 in x 4 x 0.0029 = 0.058.
#[test]
fn how_far_a_rail_moves_can_be_asked_for() {
    let of = compiled_text(
        "project \"Hall\" { marks = 1/32\" }\nsheet ply { thickness = 3/4\" }\nboard pale { thickness = 3/4\", swell = 0.0029 }\nstick s { low = 3\", top = 26\" }\n\
         run r {\n  length = 40\"\n  each unit { shelves = s, width = rest, height = 40\", depth = 11\" }\n  unit a\n\
         facing { stock = pale, stile = 1 3/4\", strip = 1 1/2\", top_rail = 5\" }\n}\n",
    );
    let found = of.graph.find("r.a.rail.top.movement").unwrap();
    let scantling::parts::MeasureValue::Estimate(value, how) = &found[0].1.value else {
        panic!("no estimate")
    };
    assert_eq!(estimate(*value, System::Inch), "~0.058\"");
    let marks = of.model.project.marks;
    let told: Vec<String> =
        how.from.iter().map(|input| format!("{} {}", input.name, input.value.print(marks))).collect();
    assert_eq!(told, ["width 5\"", "`swell` of `pale` 0.29 % of the width for each per cent"]);
    assert!(how.source.contains("Wood Handbook") && how.assumed[0].starts_with("4 per cent of moisture"));
}

/// A unit that nothing holds tips by weight x arm / height: 836 x 800 x 300, empty, its arm half of 300.
#[test]
fn the_pull_that_tips_a_unit_can_be_asked_for() {
    let of = compiled_text(
        "sheet ply { thickness = 18mm, density = 900 kg/m3 }\nstick s { low = 80mm, top = 700mm }\n\
         carcass c { shelves = s, width = 836mm, height = 800mm, depth = 300mm }\nrequire c.tipping_pull >= 1 kg\n",
    );
    let weight = of.graph.unit_weights(&of.graph.cut_off())[0].unwrap().value;
    let found = of.graph.find("c.tipping_pull").unwrap();
    let scantling::parts::MeasureValue::Estimate(pull, how) = &found[0].1.value else {
        panic!("no estimate")
    };
    assert!((pull.value - weight * 150.0 / 800.0).abs() < 1e-9, "{}", pull.value);
    assert_eq!(how.from.len(), 3);
}
