//! Pages by place: their figures, worked by hand, and what holds for every page of every example.

use crate::{compiled, inch};
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::document::{Block, DRAWN, Drawing, Form, Page, Step, Takes, Text};
use scantling::pages::{Leaf, PLACES, place, read_signs};
use scantling::quantity::{Length, Paper, Rational, System};
use scantling::render::page;
use scantling::sequence::{GlueUp, glue_ups, standing};
use scantling::why::reasons;
use std::collections::BTreeSet;

const SEWING: &str = "examples/sewing-room/sewing_room.scant";
const ALCOVES: &str = "examples/alcove-pair/alcove_pair.scant";
const EXAMPLES: [&str; 6] = [
    SEWING,
    ALCOVES,
    "examples/back-hall/back_hall.scant",
    "examples/hall-bench/hall_bench.scant",
    "examples/pantry/pantry.scant",
    "examples/study/study.scant",
];

fn up(compilation: &Compilation, path: &str) -> GlueUp {
    let ups = glue_ups(&compilation.model, &compilation.graph);
    ups.into_iter().find(|up| compilation.graph.unit(up.unit).unwrap().path == path).unwrap()
}

/// The shelves of each stage, and what it takes in seconds.
fn stages(compilation: &Compilation, up: &GlueUp) -> Vec<(Vec<String>, Option<Rational>)> {
    let name = |id| compilation.graph.part(id).unwrap().name.to_string();
    up.stages.iter().map(|stage| (stage.shelves.iter().map(|id| name(*id)).collect(), stage.takes)).collect()
}

fn pages(compilation: &Compilation, name: &str) -> Vec<Leaf> {
    (place(name).unwrap().make)(compilation.subject(Effort::Quick))
}

fn steps(page: &Page) -> Vec<&Step> {
    let blocks = page.blocks.iter().filter_map(|block| match block {
        Block::Steps(steps) => Some(&steps.steps),
        _ => None,
    });
    blocks.flatten().collect()
}

/// 40 s a joint and 5 min: 8 joints of a side take 5 min 20 s, so three first, 2 min, then five, 3 min 20 s; six take 4 min.
#[test]
fn the_sewing_room_is_glued_in_the_stages_that_its_glue_leaves_time_for() {
    let a = compiled(SEWING);
    let names = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect::<Vec<_>>();
    for unit in ["sewing.one", "sewing.four"] {
        let first = (names(&["floor", "thread", "top"]), Some(Rational::from(120)));
        let second =
            (names(&["binders", "patterns", "fabric", "ribbon", "boxes"]), Some(Rational::from(200)));
        assert_eq!(stages(&a, &up(&a, unit)), [first, second], "{unit}");
    }
    for unit in ["sewing.two", "sewing.three"] {
        let all = names(&["floor", "binders", "patterns", "fabric", "boxes", "top"]);
        assert_eq!(stages(&a, &up(&a, unit)), [(all, Some(Rational::from(240)))], "{unit}");
    }
    let one = up(&a, "sewing.one");
    // binders stands at 19 1/4" and is 23/32" thick: 19 1/4 + 23/64.
    assert_eq!(one.nails[1].line, inch("19 39/64"));
    assert_eq!(one.nails[1].mark, inch("19 1/4"));
    // The face is 32 1/4" x 86 1/2": the root of 1040.0625 + 7482.25 is 92.3164.
    assert!((one.diagonal.value / 25.4 - 92.3164).abs() < 0.0005, "{}", one.diagonal.value / 25.4);
}

/// 7 joints of a side at 40 s are 4 min 40 s of 5; the faces are 970 x 2091 and 830 x 2092 mm or as the example has them.
#[test]
fn the_alcoves_are_glued_in_one_stage_each() {
    let b = compiled(ALCOVES);
    for up in glue_ups(&b.model, &b.graph) {
        let unit = b.graph.unit(up.unit).unwrap();
        let (width, height) = (unit.width.value, unit.height.value);
        let square = |length: Length| {
            let mm = length.mm();
            *mm.numer() as f64 / *mm.denom() as f64
        };
        let expected = (square(width).powi(2) + square(height).powi(2)).sqrt();
        assert!((up.diagonal.value - expected).abs() < 1e-6, "{}", unit.path);
    }
    let [left, right] = ["left.tall", "right.tall"].map(|path| up(&b, path));
    assert!((left.diagonal.value - 2304.9).abs() < 0.05, "{}", left.diagonal.value);
    assert!((right.diagonal.value - 2250.8).abs() < 0.05, "{}", right.diagonal.value);
    for up in [left, right] {
        assert_eq!(up.stages.len(), 1);
        assert_eq!(up.stages[0].takes, Some(Rational::from(280)));
        assert_eq!(up.open, Some(Rational::from(300)));
    }
}

#[test]
fn the_breakdown_sets_each_fence_and_stop_of_the_sewing_room_once() {
    let a = compiled(SEWING);
    let leaves = pages(&a, "breakdown");
    let set: Vec<(String, String)> = steps(&leaves[0].page)
        .iter()
        .map(|step| (step.set.clone(), step.says.split(',').next().unwrap().to_owned()))
        .collect();
    let expected = [
        ("1/8\"", "skim: 6 sheets"),
        ("11 13/16\"", "rip: 18 cuts"),
        ("3 1/2\"", "rip: 6 cuts"),
        ("2 1/2\"", "rip: 8 cuts"),
        ("86 1/2\"", "crosscut: 8 cuts"),
        ("31 5/16\"", "crosscut: 28 cuts"),
        ("30 13/16\"", "crosscut: 40 cuts"),
    ];
    assert_eq!(set, expected.map(|(set, says)| (set.to_owned(), says.to_owned())));
    // A tick for each of the six sheets, as `mark --from` reads it.
    let marks: Vec<&str> = leaves
        .iter()
        .filter(|leaf| leaf.page.title.starts_with("Breakdown: ply"))
        .flat_map(|leaf| steps(&leaf.page))
        .flat_map(|step| &step.marks)
        .map(String::as_str)
        .collect();
    assert_eq!(marks, (1..=6).map(|number| format!("sheet {number} of ply cut")).collect::<Vec<_>>());
}

#[test]
fn the_router_has_a_line_for_each_groove_of_a_pair() {
    let a = compiled(SEWING);
    let leaves = pages(&a, "router");
    let [leaf] = leaves.as_slice() else { panic!("{} pages", leaves.len()) };
    // 8 lines in the outer pairs and 6 in the inner ones, each cut in both sides at once: 28 for 56 grooves.
    let lines = steps(&leaf.page)
        .into_iter()
        .filter(|step| step.more.iter().any(|more| more.starts_with("line ")))
        .count();
    assert_eq!(lines, 28);
    let set: Vec<&str> = steps(&leaf.page).iter().take(3).map(|step| step.set.as_str()).collect();
    // Bit 11/32 in... as the shop states it; the spacers are worked out in the README of the example.
    assert!(set[1].contains("2 51/128\"") && set[2].contains("2 5/8\""), "{set:?}");
}

#[test]
fn every_page_of_every_example_says_what_it_belongs_to_and_its_ticks_are_read() {
    for example in EXAMPLES {
        let compilation = compiled(example);
        let mut signs = BTreeSet::new();
        for place in PLACES {
            for Leaf { page: own, json } in (place.make)(compilation.subject(Effort::Quick)) {
                assert_eq!(own.place, place.name, "{example}");
                assert!(own.facts.len() >= 2 && !own.cautions.is_empty(), "{example} {}", own.title);
                assert!(
                    own.signs.len() == 4 && signs.insert(own.signs.clone()),
                    "{example} {} {}",
                    own.title,
                    own.signs
                );
                assert!(json.is_object() && !own.blocks.is_empty(), "{example} {}", own.title);
                for step in steps(&own) {
                    assert!(!step.says.is_empty(), "{example} {}", own.title);
                    for mark in &step.marks {
                        let words: Vec<&str> = mark.split_whitespace().collect();
                        let known = match words.as_slice() {
                            [path, _] => compilation.graph.named(path).is_some(),
                            ["sheet", _, "of", _, "cut"] => true,
                            _ => false,
                        };
                        assert!(known, "{example} {mark}");
                    }
                }
                // In a terminal of 80 columns nothing is wider; a word may be.
                for line in page(&own, 80).lines() {
                    let longest = line.split_whitespace().map(|word| word.chars().count()).max().unwrap_or(0);
                    assert!(line.chars().count() <= 80 || longest > 40, "{example} {}: {line}", own.title);
                }
            }
        }
    }
}

#[test]
fn signs_change_with_what_stands_on_a_page_and_with_nothing_else() {
    let text = std::fs::read_to_string(crate::root().join(SEWING)).unwrap();
    let signs = |text: &str, name: &str| -> Vec<String> {
        let compilation = crate::compiled_text(text);
        (place(name).unwrap().make)(compilation.subject(Effort::Quick))
            .into_iter()
            .map(|leaf| leaf.page.signs)
            .collect()
    };
    let was = signs(&text, "router");
    assert_eq!(signs(&format!("{text}// a remark\n"), "router"), was);
    let moved = text.replace("binders = 19 1/4\"", "binders = 19 1/2\"");
    assert_ne!(moved, text);
    assert_ne!(signs(&moved, "router"), was);
    // A mark moves no saw.
    assert_eq!(signs(&moved, "breakdown")[1..], signs(&text, "breakdown")[1..]);
}

/// The command says which printed pages are good; signs are read as somebody writes them down.
#[test]
fn printed_pages_are_known_by_their_signs() {
    assert_eq!(read_signs(" 4fz2 ").as_deref(), Some("4FZ2"));
    assert_eq!(read_signs("Oil0").as_deref(), Some("0110"));
    for wrong in ["", "4FZ", "4FZ23", "4F-2", "U000"] {
        assert_eq!(read_signs(wrong), None, "{wrong}");
    }
    let (_keep, path) = crate::command_line::folder();
    let text = std::fs::read_to_string(crate::root().join(SEWING)).unwrap();
    let [old, new] = ["old", "new"].map(|name| format!("{path}/{name}.scant"));
    std::fs::write(&old, &text).unwrap();
    std::fs::write(&new, text.replace("binders = 19 1/4\"", "binders = 19 1/2\"")).unwrap();
    let run = |args: &[&str]| {
        let output =
            assert_cmd::Command::cargo_bin("scantling").unwrap().arg("pages").args(args).output().unwrap();
        (
            output.status.code().unwrap(),
            String::from_utf8(output.stdout).unwrap(),
            String::from_utf8(output.stderr).unwrap(),
        )
    };
    let list = |file: &str| -> serde_json::Value {
        serde_json::from_str(&run(&[file, "--format", "json", "--effort", "quick"]).1).unwrap()
    };
    let all = list(&old)["print"].as_array().unwrap().clone();
    let sign = |title: &str| {
        let page = all.iter().find(|page| page["title"].as_str().unwrap().starts_with(title)).unwrap();
        page["signs"].as_str().unwrap().to_owned()
    };
    let [yard, router] = [sign("Yard"), sign("Router")];
    let args = [new.as_str(), &yard, &router, "0000", "--was", &old, "--format", "json", "--effort", "quick"];
    let said: serde_json::Value = serde_json::from_str(&run(&args).1).unwrap();
    assert_eq!(said["good"].as_array().unwrap().len(), 1);
    assert_eq!(said["good"][0]["signs"], yard.as_str());
    assert_eq!(said["stale"][0], serde_json::json!({ "signs": router, "was": "Router" }));
    assert_eq!(said["stale"][1], serde_json::json!({ "signs": "0000", "was": null }));
    assert!(said["print"].as_array().unwrap().iter().any(|page| page["title"] == "Router"));
    let (status, _, err) = run(&[&new, "12"]);
    assert!(status == 2 && err.contains("`12` is not what stands on a page"), "{err}");
}

#[test]
fn nothing_is_glued_up_where_nothing_is_housed() {
    let bare = crate::compiled_text("project \"New\" { marks = 1mm }\n");
    assert!(glue_ups(&bare.model, &bare.graph).is_empty() && pages(&bare, "glue-up").is_empty());
}

fn form(leaf: &Leaf) -> Option<&Form> {
    leaf.page.blocks.iter().find_map(|block| match block {
        Block::Form(form) => Some(form),
        _ => None,
    })
}

fn errors(text: &str) -> Vec<String> {
    let told = crate::compiled_text(text).diagnostics;
    told.iter()
        .filter(|told| told.severity == scantling::diag::Severity::Error)
        .map(|told| format!("{} {}", told.code.id, told.message))
        .collect()
}

/// What is typed into the blank form gives a room that compiles, whatever is left open; a figure without a unit has that of the
/// project, and what is filled in of a thing stands in its line.
#[test]
fn the_text_of_a_blank_survey_compiles() {
    for (system, unit, wide, part) in [("1/32\"", "\"", "130", "2 1/2"), ("1mm", "mm", "3300", "60")] {
        let head = format!("project \"New\" {{ marks = {system} }}\n");
        let leaves = pages(&crate::compiled_text(&head), "survey");
        let [leaf] = leaves.as_slice() else { panic!("{} pages", leaves.len()) };
        let form = form(leaf).unwrap();
        let bare = form.filled(|_| None);
        assert_eq!(leaf.json["text"], bare);
        assert!(bare.contains("back = ?, front = ?") && !bare.contains("obstacle"), "{bare}");
        let fill = |only: &dyn Fn(&str) -> bool| {
            form.filled(|name| {
                let field = form.fields.iter().find(|field| field.name == name).unwrap();
                only(name).then_some(match field.takes {
                    Takes::Choice(words) => words[0],
                    Takes::Count => "1968",
                    Takes::Words => "words",
                    Takes::Length if name.ends_with("_back") || name.ends_with("_front") => {
                        if name.contains("left") || name.contains("right") { part } else { wide }
                    }
                    Takes::Length if name == "stud_to_stud" => {
                        if unit == "mm" {
                            "400"
                        } else {
                            "16"
                        }
                    }
                    // Ceilings over the floor, heights of doors and windows in reason.
                    Takes::Length if name.starts_with("ceiling") => {
                        if unit == "mm" {
                            "2400"
                        } else {
                            "96"
                        }
                    }
                    Takes::Length
                        if name.ends_with("height")
                            || name.ends_with("ceiling")
                            || name.ends_with("headroom") =>
                    {
                        if unit == "mm" {
                            "2100"
                        } else {
                            "84"
                        }
                    }
                    Takes::Length
                        if name.ends_with("width") || name.ends_with("entry") || name.ends_with("exit") =>
                    {
                        if unit == "mm" {
                            "900"
                        } else {
                            "36"
                        }
                    }
                    Takes::Length if name.ends_with("rise") => {
                        if unit == "mm" {
                            "180"
                        } else {
                            "7"
                        }
                    }
                    Takes::Length if name.ends_with("going") => {
                        if unit == "mm" {
                            "250"
                        } else {
                            "10"
                        }
                    }
                    Takes::Length if name.ends_with("hangs") => return None,
                    Takes::Length => part,
                })
            })
        };
        let whole = fill(&|_| true);
        assert!(whole.contains(&format!("back = {wide}{unit}")), "{whole}");
        assert!(whole.contains("// of the project: year_built = 1968\n"), "{whole}");
        assert!(whole.contains("obstacle thing_6 { kind = outlet, left = "), "{whole}");
        for text in [
            &bare,
            &whole,
            &fill(&|name| name.starts_with("thing_2")),
            &fill(&|name| name.starts_with("low")),
        ] {
            assert_eq!(errors(&format!("{head}{text}")), Vec::<String>::new(), "{text}");
        }
        let one = fill(&|name| name.starts_with("thing_2"));
        assert!(one.contains("thing_2 {") && !one.contains("thing_1") && !one.contains("opening_1"), "{one}");
    }
}

/// For a room with `?` the form holds just these, and its text is that of the room, word for word, with what was read in their places.
#[test]
fn a_survey_asks_just_for_what_is_missing() {
    let text = std::fs::read_to_string(crate::root().join(SEWING)).unwrap();
    let whole = crate::compiled_text(&text);
    let leaves = pages(&whole, "survey");
    assert!(leaves.iter().all(|leaf| form(leaf).is_none()) && leaves.len() == 1);
    // All readings are there, as they are known: six widths, five of the floor, five of the ceiling, the lining; and nine studs.
    assert_eq!(leaves[0].json["known"].as_array().unwrap().len(), 17);
    assert_eq!(leaves[0].json["studs"][0]["at"].as_array().unwrap().len(), 9);
    let open = [
        ("below = [3/8\", 1/4\", 1/8\", 1/16\", 0\"]", "below = [3/8\", ?, 1/8\", 1/16\", 0\"]"),
        (
            "reading low { height = 0\", back = 130 1/4\", front = 130 3/8\" }",
            "reading low { height = 0\", back = ?, front = 130 3/8\" }",
        ),
        ("at = [12 1/2\", 28 1/2\"", "at = [?, 28 1/2\""),
    ];
    let changed = open.iter().fold(text.clone(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replace(from, to)
    });
    let leaves = pages(&crate::compiled_text(&changed), "survey");
    let form = form(&leaves[0]).unwrap();
    let asks: Vec<&str> = form.fields.iter().map(|field| field.asks.as_str()).collect();
    assert_eq!(
        asks,
        ["the floor at 32 1/2\"", "the low width at the back", "one of its places in `at` of `studs`"]
    );
    // Typed in without units: the room is as it was, and so is the project.
    let read = ["1/4", "130 1/4", "12 1/2"];
    let filled =
        form.filled(|name| form.fields.iter().position(|field| field.name == name).map(|place| read[place]));
    assert!(text.contains(filled.trim_end()), "{filled}");
    assert!(form.filled(|_| None).contains("back = ?, front = 130 3/8\""));
}

/// `new --survey` gives a project whose every reading is asked for; filled in, it can be built.
#[test]
fn a_new_project_along_a_wall_is_read_and_built() {
    for metric in [false, true] {
        let (_keep, path) = crate::command_line::folder();
        let run = |args: &[&str]| {
            let output = assert_cmd::Command::cargo_bin("scantling").unwrap().args(args).output().unwrap();
            let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
            (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
        };
        let mut new = vec!["new", path.as_str(), "--survey"];
        new.extend(metric.then_some("--metric"));
        assert_eq!(run(&new).0, 0);
        let file = format!("{path}/project.scant");
        assert_eq!(run(&["fmt", "--check", &file]).0, 0);
        // Nothing can be cut yet, but the form can be had, in the terminal and as a book.
        assert_eq!(run(&["show", "cut-list", &file]).0, 1);
        let (_, page, _) = run(&["show", "survey", &file]);
        assert_eq!(page.matches("________ again ________").count(), 13, "{page}");
        let book = format!("{path}/survey.html");
        let (_, said, _) = run(&["book", "--for", "survey", "--out", &book, &file]);
        assert!(said.ends_with("survey.html: 1 page\n"), "{said}");
        let text = std::fs::read_to_string(&file).unwrap();
        let leaves = pages(&crate::compiled_text(&text), "survey");
        let form = form(&leaves[0]).unwrap();
        let filled = form.filled(|name| {
            let asks = &form.fields.iter().find(|field| field.name == name)?.asks;
            let size = |inch, mm| Some(if metric { mm } else { inch });
            if asks.contains("floor") {
                size("0", "0")
            } else if asks.contains("ceiling") {
                size("96", "2400")
            } else if asks.contains("studs") {
                size("8", "200")
            } else {
                size("73", "1830")
            }
        });
        let room = text.find("room house").unwrap();
        let end = text.find("sheet ply").unwrap();
        let (before, after) = if room < end {
            (&text[..room], &text[end..])
        } else {
            (&text[..room], &text[text.find("run wall").unwrap()..])
        };
        assert_eq!(errors(&format!("{before}{filled}{after}")), Vec::<String>::new(), "{filled}");
    }
}

/// What stands in `///` over a run, a unit, a shelf or its mark is printed on its pages; a remark is not.
#[test]
fn what_authors_say_of_members_is_printed_on_their_pages() {
    let text = "project \"P\" { marks = 1mm, revision = \"B\", dated = 2026-11-28 }
sheet ply { thickness = 18mm }
stick s {
  low = 80mm
  /// For the atlases.
  high = 500mm
}
// Nobody sees this.
/// Between the
/// windows.
run r {
  /// Its left side is seen.
  unit a { stock = ply, width = 800mm, height = 900mm, depth = 300mm, shelves = s }
  unit b {
    stock = ply
    width = 700mm
    height = 900mm
    depth = 300mm
    /// Toys.
    shelf low { clear = rest }
  }
}
";
    let compilation = crate::compiled_text(text);
    let says = |place: &str| -> Vec<String> {
        pages(&compilation, place).iter().map(|leaf| page(&leaf.page, 80)).collect()
    };
    let [room, house] = [says("room").concat(), says("house").concat()];
    assert!(
        room.contains("\nr: Between the windows.\n") && room.contains("\nr.a: Its left side is seen.\n"),
        "{room}"
    );
    assert!(house.contains("\nr: Between the windows.\n"), "{house}");
    let glued = says("glue-up");
    assert!(
        glued[0].contains("\nr.a: Its left side is seen.\n")
            && glued[0].contains("\nhigh: For the atlases.\n"),
        "{}",
        glued[0]
    );
    assert!(glued[1].contains("\nlow: Toys.\n") && !glued[1].contains("atlases"), "{}", glued[1]);
    for page in glued.iter().chain([&room, &house]) {
        assert!(page.contains("\nP, revision B, 2026-11-28\n") && !page.contains("Nobody"), "{page}");
    }
}

/// The example's crown: 3 5/8 in at a spring of 38 degrees reaches 2.857 down; gaps of 1 7/8 to 2 1/4 in leave 0.982 to 0.607. A no. 8
/// screw is 0.164 in thick: 11/64 lets it through, and 7/15 of it is 0.0765, nearest 5/64
/// (70 % of the root, which is two thirds of the shank: Wood Handbook, chapter 8, from memory).
#[test]
fn the_room_page_has_the_crown_the_holes_and_the_weights() {
    let a = compiled(SEWING);
    let leaves = pages(&a, "room");
    let json = &leaves[0].json;
    let laps: Vec<&str> =
        json["crown"]["laps"].as_array().unwrap().iter().map(|row| row["lap"].as_str().unwrap()).collect();
    assert_eq!(laps, ["~0.982\"", "~0.919\"", "~0.857\"", "~0.732\"", "~0.607\""]);
    assert_eq!(json["crown"]["angles"], serde_json::json!(["~31.62 deg", "~33.86 deg"]));
    assert_eq!(
        json["holes"],
        serde_json::json!([
            { "screw": "seam_screw", "number": "no. 8, as none is stated", "through": "11/64\"", "pilot": "5/64\"" },
            { "screw": "wall_screw", "number": "no. 8, as none is stated", "through": "11/64\"", "pilot": "5/64\"" }
        ])
    );
    // The roots of 86.5^2 + 11.8125^2 and half an inch: 87.303 + 0.5.
    assert_eq!(json["units"][0]["rolls"], serde_json::json!(["~87.803\"", "88 3/8\""]));
    assert_eq!(json["units"][0]["in_twos"], true);
    let seams: Vec<(&str, u64)> = json["seams"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| (row["seam"].as_str().unwrap(), row["screws"].as_u64().unwrap()))
        .collect();
    let expected = [
        ("sewing.one to sewing.two", 8),
        ("sewing.two to sewing.three", 8),
        ("sewing.three to sewing.four", 8),
    ];
    assert_eq!(seams, expected);
    let widths: Vec<&str> = json["scribed"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|row| row["part"] == "sewing.stile.left")
        .map(|row| row["width"]["print"].as_str().unwrap())
        .collect();
    assert_eq!(widths, ["2 1/4\"", "2\"", "1 7/8\""]);
}

/// 3 1/2 in less a spacer of 2 5/8 leaves 7/8 in of board for the guide; at 82 1/4 the base of 2 7/8 stays on the side, which ends 4 1/4
/// less 23/32 in farther.
#[test]
fn the_router_page_minds_the_ends_of_the_boards() {
    let a = compiled(SEWING);
    let leaves = pages(&a, "router");
    let lines = leaves[0].json["pairs"][0]["lines"].as_array().unwrap();
    let minds: Vec<&serde_json::Value> = lines.iter().map(|line| &line["mind"]).collect();
    assert!(minds[..7].iter().all(|mind| mind.is_null()), "{minds:?}");
    assert_eq!(
        *minds[7],
        "7/8\" of board lies under the guide: lay a piece of the same sheet against the bottom ends"
    );
    let text = std::fs::read_to_string(crate::root().join(SEWING)).unwrap();
    let high = crate::compiled_text(&text.replace("top = 82 1/4\"", "top = 83 3/4\""));
    let lines = &pages(&high, "router")[0].json["pairs"][0]["lines"];
    // 86 1/2 - 83 3/4 - 93/128 is 2 3/128, less than the base.
    assert!(lines[0]["mind"].as_str().unwrap().starts_with("the base runs over the top ends"), "{lines}");
}

/// Poplar is ripped to six widths and cut at a stop of 30 1/2 for 20 strips, 4 top rails and 4 bottom rails; ticked, all its 33 parts
/// are cut.
#[test]
fn boards_have_their_settings_too() {
    let a = compiled(SEWING);
    let leaves = pages(&a, "breakdown");
    let poplar = leaves.iter().find(|leaf| leaf.page.title == "Breakdown: poplar, 5 1/2\" wide").unwrap();
    let set: Vec<(String, String)> =
        steps(&poplar.page).iter().map(|step| (step.set.clone(), step.says.clone())).collect();
    let widths: Vec<&str> = set[..6].iter().map(|(set, _)| set.as_str()).collect();
    assert_eq!(widths, ["5\"", "4 7/8\"", "2 1/2\"", "1 3/4\"", "1 1/2\"", "7/8\""]);
    assert!(set[..6].iter().all(|(_, says)| says.starts_with("rip: ")), "{set:?}");
    let stops: Vec<(&str, &str)> =
        set[6..8].iter().map(|(set, says)| (set.as_str(), says.as_str())).collect();
    let expected = [
        ("87 1/8\"", "crosscut: 5 pieces for stile"),
        ("30 1/2\"", "crosscut: 28 pieces for bottom rail, strip, top rail"),
    ];
    assert_eq!(stops, expected);
    assert_eq!(steps(&poplar.page).last().unwrap().marks.len(), 33);
    let crown = leaves.iter().find(|leaf| leaf.page.title.contains("crown_moulding")).unwrap();
    assert!(steps(&crown.page).iter().all(|step| step.marks.is_empty()));
}

/// The pages as they were read, in words; their drawings are held by their own tests, and what is true to scale by `true_scale`.
#[test]
fn every_page_of_every_example_is_as_it_was_read() {
    for example in EXAMPLES {
        let compilation = compiled(example);
        let name = camino::Utf8Path::new(example).file_stem().unwrap();
        for place in PLACES.iter().filter(|place| !["labels", "stick", "boring"].contains(&place.name)) {
            let leaves = (place.make)(compilation.subject(Effort::Quick));
            let text: Vec<String> = leaves.iter().map(|leaf| page(&leaf.page, 80)).collect();
            insta::with_settings!({
                snapshot_path => "../pages",
                prepend_module_to_snapshot => false,
                omit_expression => true,
            }, { insta::assert_snapshot!(format!("{name}.{}", place.name), text.join("\n\n")) });
        }
    }
}

/// Every figure that opens its reason has one, as `why` says it.
#[test]
fn every_figure_that_opens_its_reason_has_one() {
    let mut all = 0;
    for example in EXAMPLES {
        let compilation = compiled(example);
        for place in PLACES {
            for leaf in (place.make)(compilation.subject(Effort::Quick)) {
                let paths: BTreeSet<&str> = leaf.page.reasoned().collect();
                let reasons = reasons(&compilation, paths.iter().copied());
                for path in &paths {
                    let says =
                        reasons.get(path).unwrap_or_else(|| panic!("{example} {}: {path}", leaf.page.title));
                    assert!(says.starts_with(&format!("{path} = ")) && says.lines().count() > 2, "{says}");
                }
                all += paths.len();
            }
        }
    }
    assert!(all > 300, "{all}");
}

/// From the working of the example, step 3: grooves 17.8 wide by a bit of 12 and a base of 70 take spacers of 64 and 58.2, which overlap
/// by 6.2; four sides with six dados and a rabbet have 28 lines. Step 4: rips of 300, 60 and 80. The left faces stand at 28 and 30, by
/// the readings half way up.
#[test]
fn the_alcoves_have_their_figures_on_the_pages() {
    let b = compiled(ALCOVES);
    let router = b.graph.router.unwrap();
    let mm = |length: Length| length.mm().to_string();
    let spacers = [router.spacer_1, router.spacer_2, router.overlap].map(|own| mm(own.value));
    assert_eq!(spacers, ["64", "291/5", "31/5"]);
    let leaves = pages(&b, "router");
    let pairs = leaves[0].json["pairs"].as_array().unwrap();
    let lines: usize = pairs.iter().map(|pair| pair["lines"].as_array().unwrap().len() * 2).sum();
    assert_eq!(lines, 28);
    let leaves = pages(&b, "breakdown");
    let rips: Vec<&str> = steps(&leaves[0].page)
        .into_iter()
        .filter(|step| step.says.starts_with("rip"))
        .map(|step| step.set.as_str())
        .collect();
    assert_eq!(rips, ["300 mm", "80 mm", "60 mm"]);
    let lefts: Vec<String> = b
        .graph
        .numbered_runs()
        .flat_map(|(id, _)| standing(&b.model, &b.graph, id))
        .map(|own| mm(own.left.unwrap()))
        .collect();
    assert_eq!(lefts, ["28", "30"]);
}

/// The back of the pantry is no line across: its sides have 3 and 5 lines and a rabbet along their rear edges.
#[test]
fn a_rabbet_for_the_back_is_no_line() {
    let pantry = compiled("examples/pantry/pantry.scant");
    let leaves = pages(&pantry, "router");
    let pairs = leaves[0].json["pairs"].as_array().unwrap();
    let counts: Vec<usize> = pairs.iter().map(|pair| pair["lines"].as_array().unwrap().len()).collect();
    assert_eq!(counts, [3, 5]);
    let along = "rabbet for the back along the rear edges: 7/32\" from the rear edge, 5/16\" into the face, from 3 1/2\" up";
    assert!(pairs.iter().all(|pair| pair["along"] == along), "{}", pairs[0]["along"]);
}

/// The house page adds up its shelves: 24 of 30 13/16 in are 61.6 ft; a page is printed in other units without a size changing.
#[test]
fn the_house_page_says_what_fits_and_how_much() {
    let mut a = compiled(SEWING);
    let json = pages(&a, "house").remove(0).json;
    assert_eq!(json["running"], "~61.6 ft");
    let row = |json: &serde_json::Value, name: &str| {
        let all = json["openings"].as_array().unwrap().clone();
        all.into_iter().find(|row| row["opening"] == name).unwrap()
    };
    let binders = row(&json, "binders");
    assert_eq!(binders["high"]["print"], "12 1/4\"");
    assert_eq!(binders["holds"], serde_json::json!(["binders"]));
    assert_eq!(binders["units"].as_array().unwrap().len(), 4);
    a.print_in(System::Metric);
    let metric = row(&pages(&a, "house").remove(0).json, "binders");
    assert_eq!(metric["high"]["print"], "~311.2 mm");
    assert_eq!(metric["high"]["mm"], binders["high"]["mm"]);
}

/// From the working of the example: left faces at 1 1/16 and each 32 1/4 farther, along the floor 3/16 more; the floor lies 0.371 in under
/// the level line at the first face and rises to it; studs 16 in apart from 12 1/2, less the face and 23/32 of the side.
#[test]
fn the_sewing_room_says_where_its_units_stand() {
    let a = compiled(SEWING);
    let (id, _) = a.graph.numbered_runs().next().unwrap();
    let units = standing(&a.model, &a.graph, id);
    let lefts: Vec<Option<Length>> = units.iter().map(|unit| unit.left).collect();
    assert_eq!(lefts, ["1 1/16", "33 5/16", "65 9/16", "97 13/16"].map(|at| Some(inch(at))));
    let floor: Vec<Option<Length>> = units.iter().map(|unit| unit.along_floor).collect();
    assert_eq!(floor, ["1 1/4", "33 1/2", "65 3/4", "98"].map(|at| Some(inch(at))));
    let studs: Vec<&[Length]> = units.iter().map(|unit| unit.studs.as_slice()).collect();
    for (own, expected) in studs.iter().zip([
        ["10 23/32", "26 23/32"],
        ["10 15/32", "26 15/32"],
        ["10 7/32", "26 7/32"],
        ["9 31/32", "25 31/32"],
    ]) {
        for stud in expected {
            assert!(own.contains(&inch(stud)), "{stud} in {own:?}");
        }
    }
    let packed = |length: Option<Length>| {
        let mm = length.unwrap().mm();
        *mm.numer() as f64 / *mm.denom() as f64 / 25.4
    };
    for (unit, expected) in units.iter().zip([[0.371, 0.247], [0.247, 0.124], [0.124, 0.062], [0.062, 0.0]]) {
        for (packed, expected) in unit.packed.map(packed).into_iter().zip(expected) {
            assert!((packed - expected).abs() < 0.001, "{packed} {expected}");
        }
    }
}

/// On its page a drawing is within the margins, by a standard scale where it is a view, and has neither head nor caution; by itself it has
/// both, and all of it is on the sheet.
#[test]
fn a_drawing_is_made_for_its_page_and_has_a_head_where_it_stands_alone() {
    for example in EXAMPLES {
        let mut compilation = compiled(example);
        for paper in [Paper::A4, Paper::Letter] {
            compilation.model.project.paper = Some(paper);
            for place in PLACES {
                for leaf in pages(&compilation, place.name) {
                    let of = format!("{example} {} on {paper:?}", leaf.page.title);
                    for (drawing, _) in leaf.page.drawings().filter(|(_, true_scale)| !true_scale) {
                        let [wide, high] = drawing.size;
                        let fits = |[across, up]: [f64; 2]| wide <= across + 1e-9 && high <= up + 1e-9;
                        let within = [paper.upright(), paper.lying()].map(Paper::within);
                        assert!(within.into_iter().any(fits), "{of}: {:?}", drawing.size);
                        let says =
                            |drawing: &Drawing, what: &str| drawing.texts().any(|text| text.says == what);
                        assert!(!says(drawing, DRAWN) && !says(drawing, &leaf.page.facts[0]), "{of}");
                    }
                    let sheets = leaf.page.sheets(paper);
                    assert_eq!(sheets.len(), leaf.page.drawings().count(), "{of}");
                    for sheet in sheets {
                        assert!([paper.upright(), paper.lying()].contains(&sheet.size), "{of}");
                        assert!(sheet.texts().any(|text| text.says.starts_with("Figures rest on")), "{of}");
                        let corners = sheet.texts().flat_map(Text::corners);
                        for [x, y] in corners {
                            let inside = x >= 0.0 && y >= 0.0 && x <= sheet.size[0] && y <= sheet.size[1];
                            assert!(inside, "{of}: {x} {y} of {:?}", sheet.size);
                        }
                    }
                }
            }
        }
    }
}
