//! What nobody states: it is told what could not be checked for want of it, and only where it could matter.

use crate::compiled_text;
use scantling::compile::{Compilation, compile_with_mends};
use scantling::diag::Severity;
use scantling::parts::unchecked;

/// A case of books on a wall, as a project that states all that the checks of it need. The values in brackets are what is
/// taken out and changed.
fn case() -> String {
    "project { marks = 1mm }
sheet ply { thickness = 18mm, density = 650 kg/m3, stiffness = 9 kN/mm2 }
board ash { thickness = 20mm, density = 670 kg/m3, stiffness = 11 kN/mm2, swell = 0.274 % }
screw long { length = 60mm }
nail brad { length = 40mm }
glue white { open = 10 min }
person { count = 2, joint = 40 s }
room r { ceiling { at = [0mm, 1000mm], above = [2600mm, 2600mm] }, floor { build = joists }
  wall w { right = open, lining = 12.5mm, studs { first = 100mm, every = 400mm }
    reading low { back = 815mm, front = 815mm } } }
stick lines { floor = 80mm, one = 450mm, two = 850mm, three = 1250mm, four = 1650mm, top = 1900mm }
run shelves { along = r.w
  end left { gap = 15mm }
  each unit { stock = ply, shelves = lines, width = 800mm, height = 2000mm, depth = 300mm, load = books
    stretcher bottom, stretcher top, cleat { height = 60mm } }
  unit a
  facing { stock = ash, stile = 45mm, strip = 40mm, top_rail = 82mm }
}
join shelf to side with dado { depth = 6mm, nail = brad, glue = white }
join cleat to shelf with butt { nail = brad }
join cleat to side with butt { nail = brad }
join stretcher to side with butt { nail = brad }
join facing to carcass with butt { nail = brad }
join cleat to wall with butt { screw = long }
"
    .to_owned()
}

fn without(what: &str) -> Compilation {
    let text = case();
    assert!(text.contains(what), "{what}");
    compiled_text(&text.replacen(what, "", 1))
}

fn told(compilation: &Compilation) -> Option<String> {
    let errors = compilation.diagnostics.iter().filter(|told| told.severity == Severity::Error);
    assert_eq!(errors.map(|told| &told.message).collect::<Vec<_>>(), [""; 0]);
    unchecked(&compilation.graph.lacking)
}

fn slugs(compilation: &Compilation) -> Vec<&'static str> {
    compilation.diagnostics.iter().map(|told| told.code.slug).collect()
}

#[test]
fn where_all_is_stated_nothing_is_left_unchecked() {
    let compilation = compiled_text(&case());
    assert_eq!(told(&compilation), None);
    let sag = compilation.findings.iter().filter(|finding| finding.code.slug == "sag");
    assert_eq!(sag.count(), 4);
    assert_eq!(compilation.graph.without_fastener(), None);
}

#[test]
fn each_value_that_is_missing_is_named_once_with_all_that_waits_for_it() {
    let lines = [
        (", density = 650 kg/m3", "`density` of `ply`: floor, carry"),
        (", density = 670 kg/m3", "`density` of `ash`: floor"),
        (", stiffness = 9 kN/mm2", "`stiffness` of `ply`: sag of 4 shelves"),
        (", lining = 12.5mm", "`lining` of `r.w`: screw_grip"),
        ("{ length = 60mm }", "`length` of `long`: screw_grip"),
    ];
    for (what, line) in lines {
        let expected = format!("not checked for want of {line}");
        assert_eq!(told(&without(what)).as_deref(), Some(expected.as_str()), "without {what}");
    }
    // Two causes, each with its checks; the order is that of the checks.
    let text = case().replace(", lining = 12.5mm", "").replace(", stiffness = 9 kN/mm2", "");
    let line =
        "not checked for want of `lining` of `r.w`: screw_grip; of `stiffness` of `ply`: sag of 4 shelves";
    assert_eq!(told(&compiled_text(&text)).as_deref(), Some(line));
}

#[test]
fn what_could_not_fail_is_not_missed() {
    // A narrow case: 130 mm of any sheet holds books, two people carry it, and 45 mm of any wood moves less than 1/16 in.
    let narrow = |text: String| {
        text.replace("width = 800mm", "width = 160mm")
            .replace("815mm", "175mm")
            .replace("height = 2000mm", "height = 640mm")
            .replace(
                ", one = 450mm, two = 850mm, three = 1250mm, four = 1650mm, top = 1900mm",
                ", one = 450mm, top = 590mm",
            )
    };
    for what in [
        ", density = 650 kg/m3",
        ", stiffness = 9 kN/mm2",
        ", swell = 0.274 %",
        "person { count = 2, joint = 40 s }\n",
    ] {
        let text = case();
        assert!(text.contains(what));
        let text = narrow(text.replacen(what, "", 1))
            .replace("first = 100mm, every = 400mm", "first = 60mm, every = 40mm")
            .replace(", floor { build = joists }", "");
        assert_eq!(told(&compiled_text(&text)), None, "without {what}");
    }
    // A screw that holds behind the thickest lining: 18 + 22.2 + 25 = 65.2 mm; behind none: 18 + 25 = 43 mm.
    let screw = |length: &str| {
        let text = case().replace(", lining = 12.5mm", "").replace("length = 60mm", length);
        compiled_text(&text)
    };
    assert_eq!(told(&screw("length = 66mm")), None);
    assert!(told(&screw("length = 65mm")).unwrap().contains("`lining`"));
    assert!(told(&screw("length = 43mm")).unwrap().contains("`lining`"));
    let short = screw("length = 42mm");
    assert!(short.diagnostics.iter().any(|told| told.code.slug == "screw_grip"));
}

#[test]
fn the_limit_of_movement_is_that_of_the_wood_that_moves_most() {
    // Beech, 0.431 % for each per cent over 4 %: 1.6 mm at 92.8 mm. A wood of the library by its name: poplar, 0.289 %: 138.4 mm.
    let rail = |board: &str, height: &str| {
        let text = case().replace(", swell = 0.274 %", "").replace("ash", board);
        told(&compiled_text(&text.replace("top_rail = 82mm", &format!("top_rail = {height}"))))
    };
    assert_eq!(rail("plank", "92mm"), None);
    assert_eq!(rail("plank", "93mm").unwrap(), "not checked for want of `swell` of `plank`: movement");
    assert_eq!(rail("poplar", "138mm"), None);
    assert_eq!(rail("poplar", "139mm").unwrap(), "not checked for want of `swell` of `poplar`: movement");
}

#[test]
fn what_needs_no_missing_value_is_still_checked() {
    // One person, no density: 7 ft is 2133.6 mm, whatever it weighs.
    let one = |height: &str| {
        let text = case().replace(", density = 650 kg/m3", "").replace("count = 2", "count = 1");
        compiled_text(
            &text.replace("height = 2000mm", height).replace("[2600mm, 2600mm]", "[3000mm, 3000mm]"),
        )
    };
    let (under, over) = (one("height = 2133mm"), one("height = 2134mm"));
    assert!(!slugs(&under).contains(&"carry"));
    let carry = over.diagnostics.iter().find(|told| told.code.slug == "carry").unwrap();
    assert_eq!(carry.message, "`shelves.a` is more than one person carries: 2134 mm long");
    assert!(told(&over).unwrap().contains("`density` of `ply`: floor, carry"));
}

#[test]
fn the_line_is_no_message() {
    let compilation = compile_with_mends(
        &scantling::source::MemoryFiles::single("a.scant", case().replace(", stiffness = 9 kN/mm2", "")),
        "a.scant".into(),
    )
    .unwrap();
    assert!(compilation.diagnostics.iter().all(|told| told.code.slug != "sag"));
    let folder = tempfile::tempdir().unwrap();
    let (file, plain) = (folder.path().join("a.scant"), folder.path().join("b.scant"));
    std::fs::write(&file, case().replace(", stiffness = 9 kN/mm2", "")).unwrap();
    let file = file.to_str().unwrap();
    let (status, out, _) = crate::command_line::scantling(&["check", file]);
    assert_eq!(status, 0);
    let lines: Vec<&str> = out.lines().collect();
    assert_eq!(lines.len(), 2, "{out}");
    assert!(lines[0].ends_with("; 1 warning, 1 note"), "{out}");
    // Where it is all that is said, nobody reads that all is well.
    let text = "sheet ply { thickness = 18mm }\nperson { count = 1 }\nstick s { floor = 80mm, high = 500mm }\n\
                carcass a { shelves = s, width = 2000mm, height = 680mm, depth = 400mm }\n";
    std::fs::write(&plain, text).unwrap();
    let (_, bare, _) = crate::command_line::scantling(&["check", plain.to_str().unwrap()]);
    assert!(
        bare.lines().next().unwrap().ends_with("1 unit, 4 parts; not all of it could be checked"),
        "{bare}"
    );
    assert_eq!(lines[1], format!("{file}: not checked for want of `stiffness` of `ply`: sag of 4 shelves"));
    // The limits have each, and `why` says what is missing.
    let (_, limits, _) = crate::command_line::scantling(&["show", "limits", file]);
    assert!(limits.contains("not checked"), "{limits}");
    let (_, limits, _) = crate::command_line::scantling(&["show", "limits", file, "--format", "json"]);
    let limits: serde_json::Value = serde_json::from_str(&limits).unwrap();
    let rows = limits["limits"].as_array().unwrap();
    let left: Vec<_> = rows.iter().filter(|row| row["verdict"] == "not checked").collect();
    assert_eq!(left.len(), 4);
    assert_eq!(left[0]["subject"], "shelves.a.shelf.one");
    assert_eq!(
        left[0]["remark"],
        "for want of `stiffness` of `ply`; under books 3/4 in (18 mm) plywood is comfortable to 30 in (760 mm) bare, to 36 in \
         (910 mm) with a strip and a screwed cleat (common practice, no source)"
    );
    assert_eq!(left[0]["value"], serde_json::Value::Null);
    let (status, _, why) = crate::command_line::scantling(&["why", file, "shelves.a.shelf.one.sag_years"]);
    assert_eq!(status, 2);
    assert!(why.contains("`shelves.a.shelf.one.sag_years` is not known"), "{why}");
    assert!(why.contains("state `stiffness` of `ply`"), "{why}");
}

#[test]
fn a_kind_of_joint_without_a_fastener_is_told_once() {
    let text = case()
        .replace(", nail = brad, glue = white }", " }")
        .replace("join cleat to wall with butt { screw = long }\n", "");
    let told = compiled_text(&text).graph.without_fastener().unwrap();
    // Six shelves with two ends each; five cleats, a stretcher at the bottom and one at the top.
    let expected = "no fastener is stated for: 12 x shelf ends in dados and rabbets, 7 x to the wall";
    assert_eq!(told, expected);
    // What glue holds is held; and where nothing at all has a fastener, nobody has come to that yet.
    let glued = case().replace("depth = 6mm, nail = brad, glue", "depth = 6mm, glue");
    assert_eq!(compiled_text(&glued).graph.without_fastener(), None);
    let bare: String = case().lines().filter(|line| !line.starts_with("join")).collect::<Vec<_>>().join("\n");
    assert_eq!(compiled_text(&bare).graph.without_fastener(), None);
}

/// The help can be done: where a wall is stated its cleats are screwed, elsewhere one is stated first.
#[test]
fn what_nothing_holds_is_told_with_what_would_hold_it() {
    let help = |text: &str| {
        let compilation = compiled_text(text);
        let told = compilation.diagnostics.iter().find(|told| told.code.slug == "tips");
        told.map(|told| told.help.concat())
    };
    let screwed = "join cleat to wall with butt { screw = long }\n";
    assert_eq!(help(&case()), None);
    let free = case()
        .replace(screwed, "")
        .replace("cleat { height = 60mm } }", "}")
        .replace("stretcher bottom, stretcher top, ", "");
    assert!(help(&free).unwrap().starts_with("hang cleats and `join cleat to wall"));
    let alone = "sheet ply { thickness = 18mm, density = 650 kg/m3 }\nstick s { floor = 80mm, one = 900mm }\n\
                 carcass a { stock = ply, shelves = s, width = 800mm, height = 2100mm, depth = 250mm }\n";
    assert!(help(alone).unwrap().starts_with("no wall is stated behind it: put it into a `run`"));
    // 27 in is 685.8 mm.
    let low = |height: &str| {
        help(&alone.replace("900mm", "400mm").replace("800mm", "2400mm").replace("2100mm", height))
    };
    assert_eq!((low("685mm"), low("686mm").is_some()), (None, true));
}

#[test]
fn every_question_mark_is_a_reading_to_take() {
    let text = case()
        .replace("first = 100mm, every = 400mm", "at = [100mm, ?, 900mm]")
        .replace("lining = 12.5mm", "lining = 12.5mm, obstacle o { kind = outlet, left = ?, bottom = 300mm, width = 70mm, height = 115mm }");
    let compilation = compiled_text(&text);
    let told = |compilation: &Compilation| {
        let told = compilation.diagnostics.iter().filter(|told| told.code.slug == "not_read");
        told.map(|told| (told.message.clone(), told.notes.clone())).collect::<Vec<_>>()
    };
    let reading = |message: &str, note: &str| (message.to_owned(), vec![note.to_owned()]);
    let studs = reading("1 reading of `studs` is not taken yet", "1. one of its places in `at`");
    let outlet = reading("1 reading of `o` is not taken yet", "1. the left");
    let mut expected = vec![outlet, studs];
    let mut all = told(&compilation);
    all.sort();
    assert_eq!(all, {
        expected.sort();
        expected
    });
    // The sheets say that they may change.
    let cut_list = scantling::sheets::sheet("cut-list").unwrap();
    let document = (cut_list.make)(compilation.subject(scantling::breakdown::Effort::Quick)).document;
    assert!(document.facts.iter().any(|fact| fact.starts_with("PROVISIONAL")), "{:?}", document.facts);
    // Without a thickness nothing can be built, and that is the one thing that is said.
    let compilation = compiled_text(&case().replace("thickness = 18mm", "thickness = ?"));
    assert_eq!(told(&compilation), [reading("1 reading of `ply` is not taken yet", "1. the thickness")]);
    assert_eq!(slugs(&compilation), ["not_read"]);
}

#[test]
fn the_starters_and_the_examples_leave_nothing_unchecked() {
    let mut seen = 0;
    let starters =
        ["src/cli/new/inch.scant", "src/cli/new/metric.scant"].map(|path| crate::root().join(path));
    for path in crate::files_under("examples", ".scant").into_iter().chain(starters) {
        let compilation = scantling::compile::compile(&scantling::source::DiskFiles, &path).unwrap();
        assert_eq!(unchecked(&compilation.graph.lacking), None, "{path}");
        seen += 1;
    }
    assert!(seen >= 8);
}
