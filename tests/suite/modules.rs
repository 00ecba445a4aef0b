//! Modules and files that use each other: names, values, places of messages, limits.

use crate::inch;
use camino::Utf8Path;
use scantling::breakdown::Effort;
use scantling::compile::{Compilation, compile};
use scantling::diag::Severity;
use scantling::quantity::Length;
use scantling::sheets::SHEETS;
use scantling::source::{DiskFiles, MemoryFiles};
use std::time::{Duration, Instant};

/// A module as a shop keeps it, with what it needs.
const BENCH: &str = r#"let _overhang = 1"

/// A low unit to sit on.
module window_bench {
  /// over the sides
  param width: length(>= 24") = 60"
  param ply: sheet
  param lines: stick
  param shelf_depth: length(9"..20") = 14"
  param kind: choice(open, closed) = open
  let inner = shelf_depth - _overhang
  carcass seat {
    stock = ply
    shelves = lines
    width = width
    height = if kind == open then 18" else 17"
    depth = inner
  }
  require seat.shelf.floor.clear_height >= 12" because "boots stand in it"
}
"#;

const MAIN: &str = r#"sheet birch { thickness = 23/32" }
stick low { floor = 3" }
"#;

const USE: &str = "window_bench porch { width = 61\", ply = birch, lines = low }\n";

fn files(texts: &[(&str, &str)]) -> MemoryFiles {
    let mut files = MemoryFiles::default();
    for (path, text) in texts {
        files.insert(*path, *text);
    }
    files
}

fn project(texts: &[(&str, &str)]) -> Compilation {
    compile(&files(texts), "main.scant".into()).unwrap()
}

fn errors(compilation: &Compilation) -> Vec<&'static str> {
    let errors = compilation.diagnostics.iter().filter(|d| d.severity == Severity::Error);
    errors.map(|d| d.code.id).collect()
}

/// All messages: code, and `path:line` of each place, the first one first.
fn places(compilation: &Compilation) -> Vec<(&'static str, Vec<String>)> {
    let place = |label: &scantling::diag::Label| compilation.sources.place(label.span);
    compilation.diagnostics.iter().map(|d| (d.code.id, d.labels.iter().map(place).collect())).collect()
}

fn measure(compilation: &Compilation, path: &str) -> Length {
    compilation.graph.measures()[path].length().unwrap().value
}

fn sheets(compilation: &Compilation) -> Vec<String> {
    assert_eq!(errors(compilation), Vec::<&str>::new());
    let subject = compilation.subject(Effort::Quick);
    SHEETS.iter().map(|sheet| (sheet.make)(subject).json.text()).collect()
}

/// 61 - 2 x 23/32 = 59 9/16, and two dados of 1/4; 18 - 3 - 23/32 = 14 9/32.
#[test]
fn a_use_makes_what_the_body_declares_with_the_values_that_it_states() {
    let one = project(&[("main.scant", &format!("{BENCH}{MAIN}{USE}"))]);
    assert_eq!(errors(&one), Vec::<&str>::new());
    assert_eq!(measure(&one, "porch.seat.shelf.floor.length"), inch("60 1/16"));
    assert_eq!(measure(&one, "porch.seat.shelf.floor.clear_height"), inch("14 9/32"));
    assert_eq!(measure(&one, "porch.seat.depth"), inch("13"));
    let closed = USE.replace("low }", "low, kind = closed, shelf_depth = 9\" }");
    let closed = project(&[("main.scant", &format!("{BENCH}{MAIN}{closed}"))]);
    assert_eq!(measure(&closed, "porch.seat.height"), inch("17"));
    assert_eq!(measure(&closed, "porch.seat.depth"), inch("8"));
}

/// A sheet is given, and its thickness read: 300 + 2 x 18.
#[test]
fn what_a_given_member_states_is_read_with_a_dot() {
    let text = "module box {\n  param stock: sheet\n  param inside: length = 300mm\n  carcass case { stock = stock, width = inside + 2 * stock.thickness, height = 400mm, depth = 250mm, shelf floor, top }\n}\nsheet ply { thickness = 18mm }\nbox one { stock = ply }\n";
    let one = project(&[("main.scant", text)]);
    assert_eq!(errors(&one), Vec::<&str>::new());
    assert_eq!(measure(&one, "one.case.width"), Length::from_mm(336.into()));
    let wrong = project(&[("main.scant", &text.replace("stock.thickness", "stock.height"))]);
    let message = "`stock` states no `height`";
    assert!(wrong.diagnostics.iter().any(|told| told.message == message), "{:?}", wrong.diagnostics);
}

#[test]
fn moving_or_renaming_a_module_changes_no_sheet() {
    let one = sheets(&project(&[("main.scant", &format!("{BENCH}{MAIN}{USE}"))]));
    let whole = format!("use \"kept/shop.scant\"\n{MAIN}{USE}");
    let moved = project(&[("main.scant", &whole), ("kept/shop.scant", BENCH)]);
    assert_eq!(sheets(&moved), one);
    let chosen =
        format!("use \"kept/shop.scant\" {{ window_bench as bench }}\n{MAIN}{}", USE.replace("window_", ""));
    let renamed = project(&[("main.scant", &chosen), ("kept/shop.scant", BENCH)]);
    assert_eq!(sheets(&renamed), one);
    // By way of a third file, as a module of which the other is the only member.
    let outer = "use \"shop.scant\" { window_bench as inner }\nmodule bench {\n  param ply: sheet\n  param lines: stick\n  \
                 inner porch { width = 61\", ply = ply, lines = lines }\n}\n";
    let main = format!("use \"kept/outer.scant\"\n{MAIN}bench hall {{ ply = birch, lines = low }}\n");
    let through = project(&[("main.scant", &main), ("kept/shop.scant", BENCH), ("kept/outer.scant", outer)]);
    assert_eq!(measure(&through, "hall.porch.seat.shelf.floor.length"), inch("60 1/16"));
}

#[test]
fn a_unit_of_a_run_can_come_from_a_module() {
    let text = r#"
sheet ply { thickness = 18mm }
stick lines { floor = 80mm, middle = 400mm }
module plain_unit {
  param wide: share = rest
  unit { width = wide, height = 900mm, depth = 300mm, shelves = lines }
}
run wall {
  length = 2000mm
  each plain_unit { wide = 700mm }
  plain_unit left
  plain_unit middle { wide = rest }
  unit right { width = rest, height = 900mm, depth = 300mm, shelves = lines }
}
"#;
    let compilation = project(&[("main.scant", text)]);
    assert_eq!(errors(&compilation), Vec::<&str>::new());
    let units: Vec<&str> = compilation.graph.units.iter().map(|unit| &*unit.path).collect();
    assert_eq!(units, ["wall.left", "wall.middle", "wall.right"]);
    assert_eq!(measure(&compilation, "wall.left.width"), Length::from_mm(700.into()));
    let named = text.replace("  unit { width = wide", "  unit case { width = wide");
    let named = named.replace(
        "  each plain_unit",
        "  facing { stock = poplar, thickness = 20mm, stile = 45mm }\n  each plain_unit",
    );
    let named = project(&[("main.scant", &named)]);
    assert_eq!(errors(&named), Vec::<&str>::new());
    let stiles = named.graph.parts.iter().filter(|part| part.role.word() == "stile").map(|part| &*part.path);
    let between = ["wall.stile.left.case.middle.case", "wall.stile.middle.case.right"];
    assert_eq!(stiles.filter(|path| path.contains("case.")).collect::<Vec<_>>(), between);
    let titles: Vec<&str> = named.graph.units.iter().map(|unit| &*unit.title).collect();
    assert_eq!(titles, ["left.case", "middle.case", "right"]);
    assert_eq!(
        measure(&compilation, "wall.middle.width"),
        measure(&compilation, "wall.right.width"),
        "both share what is left over"
    );
}

#[test]
fn what_a_shop_file_states_holds_for_the_project() {
    let shop = "saw table { kerf = 1/8\" }\njoin shelf to side with dado { depth = 3/16\" }\nsheet ply { thickness = 3/4\" }\n";
    let main = "use \"shop.scant\"\nstick lines { floor = 3\" }\ncarcass low { shelves = lines, width = 30\", height = 36\", depth = 11\" }\n";
    let compilation = project(&[("main.scant", main), ("shop.scant", shop)]);
    assert_eq!(errors(&compilation), Vec::<&str>::new());
    assert_eq!(measure(&compilation, "low.shelf.floor.length"), inch("28 7/8"));
    assert_eq!(compilation.model.shop.kerf.unwrap().value, inch("1/8"));
    // What the project states itself wins.
    let main = format!("{main}join shelf to side with dado {{ depth = 1/4\" }}\n");
    let compilation = project(&[("main.scant", &main), ("shop.scant", shop)]);
    assert_eq!(measure(&compilation, "low.shelf.floor.length"), inch("29"));
}

#[test]
fn a_mistake_in_a_module_is_shown_with_its_use() {
    let bench = BENCH.replace("depth = inner", "depth = inner - 20\"");
    let main = format!("use \"shop.scant\"\n{MAIN}{USE}{}", USE.replace("porch", "hall"));
    let compilation = project(&[("main.scant", &main), ("shop.scant", &bench)]);
    assert_eq!(
        places(&compilation),
        [("V005", vec!["shop.scant:17".to_owned(), "main.scant:5".to_owned()])],
        "one message for both uses, told with the first by name"
    );
    assert_eq!(compilation.diagnostics[0].notes, ["one further use gives the same message"]);
    // A requirement in the body, broken by what the use states.
    let main = format!("use \"shop.scant\"\n{}{USE}", MAIN.replace("floor = 3\"", "floor = 6\""));
    let compilation = project(&[("main.scant", &main), ("shop.scant", BENCH)]);
    let told = places(&compilation);
    assert_eq!((told[0].0, &*told[0].1[0]), ("V018", "shop.scant:19"));
    assert!(told[0].1.contains(&"main.scant:4".to_owned()), "{told:?}");
}

#[test]
fn a_wrong_argument_is_shown_with_the_declaration() {
    let cases = [
        ("window_bench a { ply = birch }", "N029", "shop.scant:8"),
        ("window_bench a { ply = birch, lines = low, widht = 61\" }", "N028", "shop.scant:4"),
        ("window_bench a { ply = birch, lines = low, width = 20\" }", "V060", "shop.scant:6"),
        ("window_bench a { ply = birch, lines = low, shelf_depth = 508.1mm }", "V060", "shop.scant:9"),
        ("window_bench a { ply = birch, lines = low, width = 61 }", "V001", "shop.scant:6"),
        ("window_bench a { ply = low, lines = low }", "V012", "shop.scant:7"),
        ("window_bench a { ply = birch, lines = low, kind = shut }", "V007", "shop.scant:10"),
        (
            "window_bench a { ply = birch, lines = low, sheet other { thickness = 3mm } }",
            "N028",
            "shop.scant:4",
        ),
    ];
    for (used, code, declared) in cases {
        let main = format!("use \"shop.scant\"\n{MAIN}{used}\n");
        let told = places(&project(&[("main.scant", &main), ("shop.scant", BENCH)]));
        let told: Vec<_> = told.into_iter().filter(|(code, _)| *code != "L009").collect();
        assert_eq!(told.len(), 1, "{used}: {told:?}");
        assert_eq!((told[0].0, &*told[0].1[0]), (code, "main.scant:4"), "{used}");
        if !declared.is_empty() {
            assert!(told[0].1.iter().any(|place| place == declared), "{used}: {told:?}");
        }
    }
}

#[test]
fn names_come_as_they_are_asked_for() {
    let check = |main: &str, expected: &[&str]| {
        let texts = [
            ("main.scant", main),
            ("a.scant", "let t = 3/4\"\nlet _own = 1\"\n"),
            ("b.scant", "let t = 1/2\"\n"),
        ];
        assert_eq!(errors(&project(&texts)), expected, "{main}");
    };
    check("use \"a.scant\"\nlet thick = t\n", &[]);
    check("use \"a.scant\" { t as deep }\nlet thick = deep\n", &[]);
    check("use \"a.scant\" { t as deep }\nlet thick = t\n", &["N003"]);
    check("use \"a.scant\"\nlet thick = _own\n", &["N003"]);
    check("use \"a.scant\" { tt }\n", &["N003"]);
    check("use \"a.scant\"\nuse \"b.scant\"\nlet thick = t\n", &["N027"]);
    check("use \"a.scant\"\nuse \"b.scant\"\nlet t = 1\"\n", &[]);
    check("use \"a.scant\"\nuse \"b.scant\" { t }\nlet thick = t\n", &[]);
    check("use \"a.scant\" { t }\nuse \"b.scant\" { t }\n", &["N005"]);
    check("use std.shelvign\n", &["N020"]);
    check("use \"c.scant\"\n", &["N020"]);
    check("use \"a.txt\"\n", &["N020"]);
    check("run wall { use \"a.scant\" }\n", &["N006"]);
    check("run wall { module a {} }\n", &["N006"]);
}

#[test]
fn imports_stay_inside_the_root() {
    let outside = |files: &MemoryFiles, entry: &str| errors(&compile(files, entry.into()).unwrap());
    let mut store = files(&[
        ("jobs/hall/main.scant", "use \"../shop.scant\"\nlet thick = t\n"),
        ("jobs/shop.scant", "let t = 3/4\"\n"),
    ]);
    assert_eq!(outside(&store, "jobs/hall/main.scant"), ["N021", "N003"]);
    store.insert("jobs/scantling.toml", "");
    assert_eq!(outside(&store, "jobs/hall/main.scant"), Vec::<&str>::new());
    store.insert("jobs/hall/main.scant", "use \"../../../elsewhere.scant\"\n");
    assert_eq!(outside(&store, "jobs/hall/main.scant"), ["N021"]);
    store.insert("jobs/hall/main.scant", "use \"/etc/secret.scant\"\n");
    assert_eq!(outside(&store, "jobs/hall/main.scant"), ["N021"]);
    store.insert("other/shop.scant", "let t = 3/4\"\n");
    store.link("jobs/hall/linked", "other");
    store.insert("jobs/hall/main.scant", "use \"linked/shop.scant\"\n");
    assert_eq!(outside(&store, "jobs/hall/main.scant"), ["N021"]);
}

#[cfg(unix)]
#[test]
fn imports_stay_inside_the_root_on_the_disk_too() {
    let folder = tempfile::tempdir().unwrap();
    let root = Utf8Path::from_path(folder.path()).unwrap();
    let write = |path: &str, text: &str| {
        std::fs::create_dir_all(root.join(path).parent().unwrap()).unwrap();
        std::fs::write(root.join(path), text).unwrap();
    };
    write("job/main.scant", "use \"shop.scant\"\nlet thick = t\n");
    write("job/shop.scant", "let t = 3/4\"\n");
    write("secret.scant", "let t = 1/2\"\n");
    let main = root.join("job/main.scant");
    assert_eq!(errors(&compile(&DiskFiles, &main).unwrap()), Vec::<&str>::new());
    std::fs::remove_file(root.join("job/shop.scant")).unwrap();
    std::os::unix::fs::symlink(root.join("secret.scant"), root.join("job/shop.scant")).unwrap();
    assert_eq!(errors(&compile(&DiskFiles, &main).unwrap()), ["N021", "N003"]);
    std::os::unix::fs::symlink(root, root.join("job/up")).unwrap();
    write("job/main.scant", "use \"up/secret.scant\"\n");
    assert_eq!(errors(&compile(&DiskFiles, &main).unwrap()), ["N021"]);
    // A root above lets both.
    write("scantling.toml", "");
    assert_eq!(errors(&compile(&DiskFiles, &main).unwrap()), Vec::<&str>::new());
}

/// What would never end, or takes too much, is told at once. The time is measured in `cargo bench`; here it only may not
/// be out of all proportion on a loaded machine.
#[test]
fn each_limit_has_its_code() {
    let begun = Instant::now();
    let code = |texts: &[(&str, &str)], expected: &str| {
        let told = project(texts);
        let told: Vec<_> = places(&told).into_iter().filter(|(code, _)| *code != "L009").collect();
        assert_eq!(told.iter().map(|(code, _)| *code).collect::<Vec<_>>(), [expected], "{told:?}");
    };
    code(&[("main.scant", "module a { a inner }\na outer\n")], "N025");
    code(&[("main.scant", "module a { b one }\nmodule b { c one }\nmodule c { a one }\na outer\n")], "N025");
    code(&[("main.scant", "use \"main.scant\"\n")], "N022");
    code(&[("main.scant", "use \"a.scant\"\n"), ("a.scant", "use \"main.scant\"\n")], "N022");
    code(&[("main.scant", &doubling(30))], "N026");
    code(&[("main.scant", &chain(65))], "N024");
    assert_eq!(errors(&project(&[("main.scant", &chain(64))])), Vec::<&str>::new());
    code(&[("main.scant", &"use \"a.scant\"\n".repeat(100_000)), ("a.scant", "")], "S020");
    let mut store = MemoryFiles::default();
    for i in 0..66 {
        let name = if i == 0 { "main.scant".to_owned() } else { format!("f{i}.scant") };
        store.insert(name, format!("use \"f{}.scant\"\n", i + 1));
    }
    store.insert("f66.scant", "");
    assert_eq!(errors(&compile(&store, "main.scant".into()).unwrap()), ["N024"]);
    let mut store =
        files(&[("main.scant", &(0..10).map(|i| format!("use \"g{i}.scant\"\n")).collect::<String>())]);
    for i in 0..10 {
        store.insert(
            format!("g{i}.scant"),
            (0..110).map(|j| format!("use \"h{i}_{j}.scant\"\n")).collect::<String>(),
        );
        (0..110).for_each(|j| store.insert(format!("h{i}_{j}.scant"), ""));
    }
    let told = errors(&compile(&store, "main.scant".into()).unwrap());
    assert!(!told.is_empty() && told.iter().all(|code| *code == "N023"));
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
}

/// Modules that use each other twice, so many levels deep.
pub(crate) fn doubling(levels: usize) -> String {
    let mut text: String =
        (0..levels).map(|i| format!("module m{i} {{ m{0} left, m{0} right }}\n", i + 1)).collect();
    text.push_str(&format!("module m{levels} {{ stick lines {{ floor = 3\" }} }}\nm0 all\n"));
    text
}

/// Modules that use each other, so many levels deep.
fn chain(levels: usize) -> String {
    let mut text: String = (1..levels).map(|i| format!("module m{i} {{ m{} inner }}\n", i + 1)).collect();
    text.push_str(&format!("module m{levels} {{ stick lines {{ floor = 3\" }} }}\nm1 all\n"));
    text
}

/// Each module of the library compiles at both ends of every range that its parameters have.
#[test]
fn library_modules_compile_at_both_ends_of_their_ranges() {
    let all = project(&[("main.scant", "use std.shelving\n")]);
    let mut compiled = 0;
    for (name, module) in &all.modules {
        assert!(module.doc.is_some(), "{name} is not documented");
        let text = |span| all.sources.text(span);
        let needed = |parameter: &scantling::resolve::Parameter| match text(parameter.type_span) {
            // Two walls that meet.
            "wall" if *parameter.name.text != *"wall" => format!("den.{}", parameter.name.text),
            "moulding" => "cove".to_owned(),
            "sheet" => "ply".to_owned(),
            "board" => "fir".to_owned(),
            "stick" => "lines".to_owned(),
            "pin" => "peg".to_owned(),
            // What spans a space is used in a run that leaves one.
            "names" => "[gap]".to_owned(),
            "wall" => "attic.knee".to_owned(),
            other => {
                let (least, most) =
                    other.split_once('(').unwrap().1.trim_end_matches(')').split_once("..").unwrap();
                format!("({least} + {most}) / 2")
            }
        };
        let usual: Vec<(String, String)> = module
            .parameters
            .iter()
            .filter(|parameter| parameter.default.is_none())
            .map(|parameter| (parameter.name.text.to_string(), needed(parameter)))
            .collect();
        for parameter in &module.parameters {
            assert!(parameter.doc.is_some(), "{name}.{} is not documented", parameter.name.text);
            let mut values: Vec<String> =
                parameter.limits.iter().flatten().map(|(value, _)| text(value.span).to_owned()).collect();
            values.extend(parameter.words.iter().map(ToString::to_string));
            for value in values {
                let mut stated = usual.clone();
                stated.retain(|(other, _)| **other != *parameter.name.text);
                stated.push((parameter.name.text.to_string(), value.clone()));
                let stated: Vec<String> =
                    stated.iter().map(|(name, value)| format!("{name} = {value}")).collect();
                let used = format!("{name} built {{ {} }}", stated.join(", "));
                let unit = |name: &str| {
                    format!(
                        "unit {name} {{ stock = ply, shelves = lines, width = 30\", height = 84\", depth = 11\" }}"
                    )
                };
                // Some are used in a run.
                let used = match &**name {
                    "door_bridge" => {
                        let [a, b] = ["a", "b"].map(unit);
                        format!("run r {{ length = 100\", {a}, space gap {{ width = 34\" }}, {b}, {used} }}")
                    }
                    "hook_bench" => format!("run r {{ length = 100\", {used} }}"),
                    "plinth_crown" => format!("run r {{ length = 100\", {}, {used} }}", unit("a")),
                    _ => used,
                };
                let main = format!(
                    "use std.shelving\npin peg {{ diameter = 1/4\" }}\nsheet ply {{ size = 96\" x 48\", thickness = 23/32\" }}\nstick lines {{ floor = 3\", \
                     middle = 10 1/4\" }}\nroom attic {{ ceiling {{ above = 60\", slope {{ rise = 9\", over = 12\", level = 96\" }} }}\n\
                     wall knee {{ reading low {{ back = 60\", front = 60\" }} }} }}\nroom den {{ \
                     wall left_wall {{ reading low {{ back = 96\", front = 96\" }} }}, \
                     wall right_wall {{ right = open, reading low {{ back = 60\", front = 60\" }} }} }}\n\
                     moulding cove {{ width = 3 5/8\", spring = 38 deg }}\nboard fir {{ thickness = 3/4\" }}\n{used}\n"
                );
                let told = project(&[("main.scant", &main)]);
                assert_eq!(errors(&told), Vec::<&str>::new(), "{main}\n{:#?}", told.diagnostics);
                compiled += 1;
            }
        }
    }
    assert!(compiled >= 8, "{compiled}");
}

/// Seat 17 less a lid of 23/32; toes 3 1/2 high and 3 deep: 18 - 3 - 23/32. Cupboard: 34 1/2 less a plinth of 4 and a counter
/// of 1; two doors share 30 less three reveals of 1/8, a reveal under the ends of the sides. Desk: 29 less 1; knees 24, the
/// paper shelf 23/32, the rails what is left; sides 2 x 23/32 outside a clear 30; the top 22 + 1/2 less a gap of 1 1/2.
#[test]
fn seat_cupboard_and_desk_have_the_sizes_that_were_worked_by_hand() {
    let text = r#"use std.shelving
sheet ply { size = 96" x 48", thickness = 23/32" }
sheet thick { size = 96" x 48", thickness = 1" }
pin peg { diameter = 1/4" }
window_seat_base seat { stock = ply, width = 36" }
base_cupboard low { stock = ply, counter = thick, pin = peg, width = 30" }
desk_bay desk { stock = ply, desk = thick, over = 1/2" }
"#;
    let built = project(&[("main.scant", text)]);
    assert_eq!(errors(&built), Vec::<&str>::new());
    for (path, size) in [
        ("seat.case.side.left.length", "16 9/32"),
        ("seat.case.stretcher.bottom.front.y", "14 9/32"),
        ("seat.case.counter.width", "18 3/4"),
        ("low.case.side.left.length", "29 1/2"),
        ("low.case.plinth.front.y", "12 9/32"),
        ("low.case.door[1].width", "14 13/16"),
        ("low.case.door[2].x", "15 1/16"),
        ("low.case.door[1].length", "29 3/8"),
        ("low.case.counter.width", "17 1/2"),
        ("desk.case.width", "31 7/16"),
        ("desk.case.side.left.length", "28"),
        ("desk.case.stretcher.top.front.width", "3 9/32"),
        ("desk.case.counter.width", "21"),
        ("desk.case.counter.y", "1 1/2"),
    ] {
        assert_eq!(measure(&built, path), inch(size), "{path}");
    }
}

/// A doorway of 34 between two units of 30: the bridge is 34 less twice 1/16, its shelf 33 7/8 - 1 7/16 and two dados of 1/4. The run
/// leaves 100 - 94 to its walls, 3 to each. The cleat hangs 2 1/2 under a top that lies at 12 - 23/32.
#[test]
fn a_bridge_over_a_door_has_the_sizes_that_were_worked_by_hand() {
    let text = r#"use std.shelving { door_bridge }
sheet ply { size = 96" x 48", thickness = 23/32" }
stick lines { floor = 3", middle = 10 1/4" }
run r {
  length = 100"
  each unit { stock = ply, shelves = lines, width = 30", height = 94", depth = 11" }
  unit a
  space door { width = 34" }
  unit b
  door_bridge over_door { stock = ply, spans = [door], clear_height = 82", height = 12", depth = 11" }
}
"#;
    let built = project(&[("main.scant", text)]);
    assert_eq!(errors(&built), Vec::<&str>::new(), "{:#?}", built.diagnostics);
    for (path, size) in [
        ("r.over_door.box.width", "33 7/8"),
        ("r.over_door.box.x", "33 1/16"),
        ("r.over_door.box.foot", "82"),
        ("r.over_door.box.shelf.floor.length", "32 15/16"),
        ("r.over_door.box.stretcher.bottom.rear.width", "2 1/2"),
        ("r.over_door.box.cleat.top.z", "8 25/32"),
    ] {
        assert_eq!(measure(&built, path), inch(size), "{path}");
    }
}

/// Unit 32 1/4 wide of sheet 23/32, dados 1/4: clear 32 1/4 - 1 7/16 = 30 13/16, shelf
/// 30 13/16 + 2 x 1/4 = 31 5/16. Over the bottom shelf 15 - 3 1/2 - 23/32 = 10 25/32, at the cleat 2 1/2 less.
#[test]
fn a_fixed_shelf_unit_has_the_sizes_that_were_worked_by_hand() {
    let text = r#"use std.shelving { fixed_shelf_unit }
sheet ply { size = 96" x 48", thickness = 23/32" }
stick lines { bottom = 3 1/2", middle = 15", upper = 27" }
fixed_shelf_unit hall { stock = ply, marks = lines, width = 32 1/4", height = 40", depth = 11 13/16" }
"#;
    let unit = project(&[("main.scant", text)]);
    assert_eq!(errors(&unit), Vec::<&str>::new());
    for (path, size) in [
        ("hall.case.clear", "30 13/16"),
        ("hall.case.shelf.middle.length", "31 5/16"),
        ("hall.case.cleat.middle.length", "30 13/16"),
        ("hall.case.cleat.middle.width", "2 1/2"),
        ("hall.case.stretcher.bottom.front.width", "3 1/2"),
        ("hall.case.shelf.bottom.clear_height", "10 25/32"),
        ("hall.case.shelf.bottom.opening_rear", "8 9/32"),
    ] {
        assert_eq!(measure(&unit, path), inch(size), "{path}");
    }
    let parts = unit.graph.parts.iter().map(|part| part.role.word());
    let count = |word: &str| parts.clone().filter(|part| *part == word).count();
    assert_eq!([count("side"), count("shelf"), count("cleat"), count("stretcher")], [2, 3, 2, 2]);
}

const DEN: &str = r#"use std.shelving
room den {
  wall long { reading low { back = 96", front = 96" } }
  wall short { right = open, reading low { back = 60", front = 60" } }
}
sheet ply { size = 96" x 48", thickness = 23/32" }
board poplar_board { thickness = 3/4" }
moulding cove { width = 3 5/8", spring = 38 deg, lengths = [12'] }
stick lines { floor = 3", middle = 15", high = 30" }
"#;

#[track_caller]
fn built(used: &str, sizes: &[(&str, &str)]) {
    let built = project(&[("main.scant", &format!("{DEN}{used}\n"))]);
    assert_eq!(errors(&built), Vec::<&str>::new(), "{:#?}", built.diagnostics);
    for (path, size) in sizes {
        assert_eq!(measure(&built, path), inch(size), "{path}");
    }
}

/// 96 less two gaps of 3/4 and the 33 of the unit in the corner. The other row begins 11 and 3/4 from its wall and has a gap of 3/4 at its
/// open end: 60 - 12 1/2. Of the corner 3/4 + 33 - 23/32 - 11 stay open.
#[test]
fn a_corner_pair_has_the_sizes_that_were_worked_by_hand() {
    built(
        "corner_pair books { stock = ply, marks = lines, left_wall = den.long, right_wall = den.short, height = 45\" }",
        &[
            ("books.through.beside.width", "61 1/2"),
            ("books.short.case.x", "11 3/4"),
            ("books.short.case.width", "47 1/2"),
            ("books.short.corner.left.open", "22 1/32"),
        ],
    );
}

/// The first divider stands after the side and a third of 42 - 1 7/16 - 2 x 23/32: 23/32 + 13 1/24. The rail of 4 has its middle 62 up.
#[test]
fn a_bench_with_hooks_has_the_sizes_that_were_worked_by_hand() {
    built(
        "run hall {\n  along = den.long\n  hook_bench entry { stock = ply, width = 42\" }\n}",
        &[
            ("hall.entry.bench.shelf.floor.divider.left.middle.x", "13 73/96"),
            ("hall.entry.hats.foot", "60"),
            ("hall.entry.hats.width", "42"),
            ("hall.entry.hats.height", "13"),
            ("hall.entry.hats.stretcher.bottom.rear.width", "4"),
        ],
    );
}

/// 3 and twice 13 1/2 with three sheets of 23/32; each row has 12 1/2 for a sleeve and 1 for a finger.
#[test]
fn a_record_bay_has_the_sizes_that_were_worked_by_hand() {
    built(
        "record_bay records { stock = ply }",
        &[
            ("records.case.height", "32 5/32"),
            ("records.case.shelf.low.clear_height", "13 1/2"),
            ("records.case.shelf.high.clear_height", "13 1/2"),
        ],
    );
}

/// A stile of 1 3/4 laps (1 3/4 - 1 7/16) / 2 = 5/32 and wants 7/8 at a wall: 94 1/4 for three units of 31 3/8. The crown runs from wall
/// to wall, the strips are 31 3/8 - 1 7/16 - 5/16 long.
#[test]
fn plinth_and_crown_have_the_sizes_that_were_worked_by_hand() {
    built(
        "run hall {\n  along = den.long\n  each unit { stock = ply, shelves = lines, width = rest to 1/8\", height = 40\", depth = 11\" }\n  \
         unit a\n  unit b\n  unit c\n  plinth_crown trim { board = poplar_board, moulding = cove }\n}",
        &[
            ("hall.a.width", "31 3/8"),
            ("hall.crown.front_foot", "96"),
            ("hall.b.strip.middle.length", "29 5/8"),
            ("hall.b.rail.top.width", "4"),
        ],
    );
}

/// A knee wall 48 high and 9 up for 12: with 1/2 left open the line is 47 1/2 at the wall, and 47 1/2 + 16 x 3/4 = 59 1/2 over the front
/// edges. The shelf at 52 ends (52 23/32 - 47 1/2) x 4/3 = 6 23/24 off the wall; the one at 62 has no room, the one at 44 a cleat.
#[test]
fn a_sloped_unit_has_the_sizes_that_were_worked_by_hand() {
    let text = r#"use std.shelving { sloped_unit }
room attic {
  ceiling { above = 48", slope { rise = 9", over = 12", level = 90" } }
  wall knee {
    right = open
    reading low { back = 40", front = 40" }
    reading middle { back = 40", front = 40" }
    reading high { back = 40", front = 40" }
  }
}
sheet ply { size = 96" x 48", thickness = 23/32" }
stick lines { bottom = 3 1/2", middle = 44", upper = 52", ridge = 62" }
sloped_unit eaves { stock = ply, marks = lines, wall = attic.knee, width = 32", depth = 16" }
"#;
    let unit = project(&[("main.scant", text)]);
    assert_eq!(errors(&unit), Vec::<&str>::new());
    for (path, size) in [
        ("eaves.row.case.x", "8"), // 40 less 32
        ("eaves.row.case.height", "59 1/2"),
        ("eaves.row.case.shelf.middle.width", "16"),
        ("eaves.row.case.cleat.middle.width", "2 1/2"),
        ("eaves.row.case.shelf.upper.width", "9 1/24"),
        ("eaves.row.case.shelf.upper.y", "6 23/24"),
    ] {
        assert_eq!(measure(&unit, path), inch(size), "{path}");
    }
    let parts = unit.graph.parts.iter().map(|part| part.role.word());
    let count = |word: &str| parts.clone().filter(|part| *part == word).count();
    assert_eq!([count("side"), count("shelf"), count("cleat")], [2, 3, 1]);
}

/// Unit 30 wide of sheet 23/32: clear 30 - 1 7/16 = 28 9/16; a loose shelf 1/8 shorter (common practice, no source), 28 7/16.
/// Holes are multiples of 32 mm from the bottom end on both sides.
#[test]
fn an_adjustable_unit_has_the_sizes_that_were_worked_by_hand() {
    let text = r#"use std.shelving { adjustable_shelf_unit }
sheet ply { size = 96" x 48", thickness = 23/32" }
pin peg { diameter = 5mm }
adjustable_shelf_unit hall { stock = ply, pin = peg, width = 30", height = 80", depth = 11 1/2", loose = 3 }
"#;
    let unit = project(&[("main.scant", text)]);
    assert_eq!(errors(&unit), Vec::<&str>::new());
    assert_eq!(measure(&unit, "hall.case.clear"), inch("28 9/16"));
    assert_eq!(measure(&unit, "hall.case.shelf.floor.loose[1].length"), inch("28 7/16"));
    let loose = unit.graph.parts.iter().filter(|part| part.role.word() == "loose shelf").count();
    assert_eq!(loose, 3);
    let subject = unit.subject(Effort::Normal);
    let marks = (scantling::sheets::sheet("marks").unwrap().make)(subject).json.value();
    let holes = &marks["units"][0]["holes"][0];
    let lowest: Vec<String> = holes["lowest"].as_array().unwrap().iter().map(ToString::to_string).collect();
    assert_eq!(lowest[0], lowest[1], "both sides register from the bottom end");
}

/// Recesses 32 1/2 and 28 wide, 1/4 kept at each wall: units 32 and 27 1/2; clear 30 9/16 and 26 1/16; shelves 1/2 longer.
#[test]
fn an_alcove_pair_has_the_sizes_that_were_worked_by_hand() {
    let text = r#"use std.shelving { alcove_pair }
sheet ply { size = 96" x 48", thickness = 23/32" }
stick lines { bottom = 3 1/2", middle = 15", upper = 27" }
alcove_pair breast {
  stock = ply, marks = lines, left = 32 1/2", right = 28", height = 40", depth = 11", right_skip = [upper]
}
"#;
    let pair = project(&[("main.scant", text)]);
    assert_eq!(errors(&pair), Vec::<&str>::new());
    for (path, size) in [
        ("breast.left_run.case.width", "32"),
        ("breast.right_run.case.width", "27 1/2"),
        ("breast.left_run.case.shelf.middle.length", "31 1/16"),
        ("breast.right_run.case.shelf.middle.length", "26 9/16"),
        ("breast.left_run.gap_left", "1/4"),
    ] {
        assert_eq!(measure(&pair, path), inch(size), "{path}");
    }
    let marks = |unit: &str| {
        let prefix = format!("breast.{unit}.case.shelf.");
        let parts = pair.graph.parts.iter().filter(|part| part.path.starts_with(&prefix));
        parts.map(|part| part.path.strip_prefix(&prefix).unwrap().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(
        (marks("left_run").len(), marks("right_run").len()),
        (3, 2),
        "the right one leaves a mark out"
    );
}

/// Every project in `examples` compiles, every other text there is used by one, and all its sheets can be made.
#[test]
fn every_example_is_sound() {
    let texts = crate::files_under("examples", ".scant");
    let is_project = |path: &&camino::Utf8PathBuf| {
        std::fs::read_to_string(path).unwrap().lines().any(|line| line.starts_with("project "))
    };
    let mut used = std::collections::BTreeSet::new();
    let mut projects = 0;
    for path in texts.iter().filter(is_project) {
        let compilation = compile(&DiskFiles, path).unwrap();
        assert_eq!(sheets(&compilation).len(), SHEETS.len(), "{path}");
        assert!(compilation.graph.parts.len() > 10, "{path}");
        assert!(path.with_file_name("README.md").exists(), "{path}");
        used.extend(compilation.sources.iter().map(|file| file.path().to_owned()));
        projects += 1;
    }
    assert!(projects >= 4);
    for path in texts.iter().filter(|path| !scantling::progress::is_progress(path)) {
        assert!(used.contains(path), "{path} is used by no example");
    }
}

/// Worked by hand: of the run 1983 - 2 x 6 are shared by two units, 985.5 each, to 5 mm: 985. Clear 985 - 2 x 18.2 = 948.6.
#[test]
fn the_bench_of_the_hall_has_the_sizes_that_were_worked_by_hand() {
    let bench = crate::compiled("examples/hall-bench/hall_bench.scant");
    let mm = |tenths: i128| Length::from_mm(scantling::quantity::Rational::new(tenths, 10));
    assert_eq!(measure(&bench, "bench.left.width"), mm(9850));
    assert_eq!(measure(&bench, "bench.left.clear"), mm(9486));
    assert_eq!(measure(&bench, "bench.left.shelf.floor.length"), mm(9606));
}

/// What can be used, by the names it has here, and what the library has to offer; also of a file that has errors.
#[test]
fn the_modules_in_reach_are_listed() {
    let shown = |format: &str| {
        let path = crate::root().join("examples/hall-bench/hall_bench.scant");
        let output = assert_cmd::Command::cargo_bin("scantling")
            .unwrap()
            .args(["show", "modules", path.as_str(), "--format", format])
            .assert()
            .success()
            .get_output()
            .stdout
            .clone();
        String::from_utf8(output).unwrap()
    };
    let json: serde_json::Value = serde_json::from_str(&shown("json")).unwrap();
    let modules = json["modules"].as_array().unwrap();
    let names: Vec<&str> = modules.iter().map(|module| module["name"].as_str().unwrap()).collect();
    let library = [
        "adjustable_shelf_unit",
        "alcove_pair",
        "base_cupboard",
        "corner_pair",
        "desk_bay",
        "door_bridge",
        "fixed_shelf_unit",
        "hook_bench",
        "plinth_crown",
        "record_bay",
        "sloped_unit",
        "window_seat_base",
    ];
    assert_eq!(names[0], "cubby_bench");
    assert_eq!(names[1..], library);
    let seat = &modules[0]["parameters"][1];
    assert_eq!(seat["name"], "seat");
    assert_eq!(seat["takes"], "length(380mm..520mm)");
    assert_eq!(seat["default"], "450mm");
    assert_eq!(seat["about"], "from the floor to the top that one sits on, without a cushion");
    assert_eq!(modules[0]["bring"], serde_json::Value::Null);
    assert_eq!(modules[2]["bring"], "use std.shelving { alcove_pair }");
    let text = shown("text");
    assert!(text.contains("cubby_bench: A low unit with a top to sit on"), "{text}");
}
