//! What is left to make: lists, layouts and shopping of what is not made, with what is bought taken off.

use crate::command_line::folder;
use crate::root;
use scantling::breakdown::Effort;
use scantling::compile::{Compilation, compile};
use scantling::fits::assign;
use scantling::parts::State;
use scantling::progress::Unmarked;
use scantling::sheets::{Finishing, SHEETS, Shopping, ShoppingRow, sheet, shopping};
use scantling::source::MemoryFiles;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;

const EXAMPLES: [&str; 5] = [
    "alcove-pair/alcove_pair",
    "back-hall/back_hall",
    "hall-bench/hall_bench",
    "sewing-room/sewing_room",
    "study/study",
];

fn files(example: &str, progress: &str) -> (MemoryFiles, String) {
    let path = root().join("examples").join(format!("{example}.scant"));
    let mut files = MemoryFiles::default();
    for entry in fs::read_dir(path.parent().unwrap()).unwrap() {
        let entry = entry.unwrap().path();
        if entry.extension().is_some_and(|end| end == "scant") {
            let name = entry.file_name().unwrap().to_str().unwrap().to_owned();
            files.insert(name, fs::read_to_string(&entry).unwrap());
        }
    }
    let stem = path.file_stem().unwrap();
    if !progress.is_empty() {
        files.insert(format!("{stem}.progress.scant"), progress);
    }
    (files, format!("{stem}.scant"))
}

fn with(example: &str, progress: &str) -> Compilation {
    let (files, entry) = files(example, progress);
    compile(&files, entry.as_str().into()).unwrap()
}

fn of(text: &str, progress: &str) -> Compilation {
    let mut files = MemoryFiles::single("c.scant", text);
    files.insert("c.progress.scant", progress);
    let compilation = compile(&files, "c.scant".into()).unwrap();
    assert!(!compilation.has_errors(), "{:#?}", compilation.diagnostics);
    compilation
}

/// All sheets as text, but for what says that somebody noted something.
pub fn printed(compilation: &Compilation) -> Vec<(&'static str, String)> {
    let subject = compilation.subject(Effort::Quick);
    SHEETS.iter().map(|sheet| (sheet.name, (sheet.make)(subject).json.text())).collect()
}

/// The parts that a sheet of a layout names.
pub fn laid_out(compilation: &Compilation) -> BTreeMap<String, usize> {
    let subject = compilation.subject(Effort::Quick);
    let mut names = BTreeMap::new();
    for work in compilation.plans.sheets(subject.model, subject.graph, Effort::Quick) {
        for name in work.rows.iter().flat_map(|row| &row.names) {
            *names.entry(name.clone()).or_insert(0) += 1;
        }
    }
    for work in compilation.plans.solids(subject.model, subject.graph, Effort::Quick) {
        for name in work.rows.iter().chain(&work.too_large).flat_map(|row| &row.names) {
            *names.entry(name.clone()).or_insert(0) += 1;
        }
    }
    names
}

#[test]
fn everything_cut_buys_no_sheet_and_no_board() {
    for example in EXAMPLES {
        let plain = with(example, "");
        let tops: Vec<&str> =
            plain.graph.parts.iter().filter_map(|part| part.path.split('.').next()).collect();
        let all = tops.iter().map(|top| (*top).to_owned()).collect::<BTreeSet<_>>();
        let all = all.into_iter().collect::<Vec<_>>().join(", ");
        let cut = with(example, &format!("made {{ cut = [{all}] }}\n"));
        assert_eq!(cut.graph.cut(), plain.graph.parts.len(), "{example}");
        let list = shopping(cut.subject(Effort::Quick));
        let bought: Vec<&ShoppingRow> =
            list.rows.iter().filter(|row| row.aisle == "sheets" || row.what.contains("poplar")).collect();
        assert!(bought.is_empty(), "{example} {bought:?}");
        // Everything painted: nothing at all is bought but what no part tells of.
        let painted = with(example, &format!("made {{ painted = [{all}] }}\n"));
        let list = shopping(painted.subject(Effort::Quick));
        assert!(list.rows.is_empty(), "{example} {:?}", list.rows);
    }
}

#[test]
fn nothing_marked_is_as_without_a_file_and_all_is_as_if_nothing_were_marked() {
    for example in EXAMPLES {
        let plain = printed(&with(example, ""));
        assert_eq!(printed(&with(example, "//! How far the parts are.\n")), plain, "{example}");
        let half = with(example, "")
            .graph
            .parts
            .iter()
            .step_by(2)
            .map(|part| format!("\"{}\"", part.path))
            .collect::<Vec<_>>();
        let (files, entry) = files(example, &format!("made {{ cut = [{}] }}\n", half.join(", ")));
        let all = compile(&Unmarked(&files), entry.as_str().into()).unwrap();
        assert_eq!(printed(&all), plain, "{example}");
    }
}

/// What is left is laid out once, and nothing else.
#[test]
fn layouts_of_what_is_left_and_what_is_made_cover_all_parts_once() {
    for example in EXAMPLES {
        let plain = with(example, "");
        let is_made = |place: usize| place % 3 == 1;
        let made = plain.graph.parts.iter().enumerate().filter(|(place, _)| is_made(*place));
        let made: Vec<String> = made.map(|(_, part)| format!("\"{}\"", part.path)).collect();
        let some = with(example, &format!("made {{ cut = [{}] }}\n", made.join(", ")));
        let left = laid_out(&some);
        for (place, part) in plain.graph.parts.iter().enumerate() {
            let expected = if is_made(place) { None } else { Some(&1) };
            assert_eq!(left.get(&part.path), expected, "{example} {}", part.path);
        }
    }
}

const CASE: &str = "project { marks = 1mm }
sheet ply {
  thickness = 18mm
  size = 2440mm x 1220mm
  price = 80 EUR
}
board oak {
  thickness = 20mm
  width = 60mm
  lengths = [1200mm, 2400mm]
  price = 10 EUR/m
}
nail brad { length = 40mm, box = 10, price = 3 EUR }
glue white { spread = 5 m2/L, bottles = [250ml, 500ml], prices = [4 EUR, 7 EUR] }
join shelf to side with dado { nail = brad, glue = white }
stick s { low = 100mm, mid = 500mm, high = 900mm }
run r {
  length = 820mm
  end left { gap = 10mm }
  end right { gap = 10mm }
  unit a { stock = ply, width = rest, height = 1200mm, depth = 300mm, shelves = s }
  facing { stock = oak, stile = 50mm, strip = 40mm }
}
";

fn row<'a>(list: &'a Shopping, what: &str) -> Option<(&'a str, &'a str)> {
    let row = list.rows.iter().find(|row| row.what.starts_with(what))?;
    Some((row.count.as_str(), row.cost.as_deref().unwrap_or("")))
}

fn list(progress: &str) -> Shopping {
    shopping(of(CASE, progress).subject(Effort::Quick))
}

/// One sheet holds the case: two sides and three shelves of 300 on rips of 300. Three shelves are held by two rows of nails each.
#[test]
fn what_is_bought_and_made_is_taken_off_the_list() {
    let nothing = list("");
    assert_eq!(row(&nothing, "ply"), Some(("1", "80.00 EUR")));
    // 300 deep, 40 from the ends, 115 apart: 3 nails a row, 18 in all, 19 with spares: two boxes of ten.
    assert_eq!(row(&nothing, "brad"), Some(("2 boxes", "6.00 EUR")));
    assert_eq!((nothing.spent.as_deref(), nothing.bought.len()), (None, 0));
    // The sheet is bought: nothing is spent on it any more, and both sums are those of before.
    let bought = list("bought { what = ply, count = 1, paid = 75 EUR }\n");
    assert_eq!((row(&bought, "ply"), bought.spent.as_deref()), (None, Some("75.00 EUR")));
    assert_eq!(bought.sum.unwrap() + 80, nothing.sum.unwrap());
    // Without what was paid its price counts.
    assert_eq!(list("bought { what = ply, count = 2 }\n").spent.as_deref(), Some("160.00 EUR"));
    // One box of the two; then both.
    assert_eq!(row(&list("bought { what = brad }\n"), "brad"), Some(("1 box", "3.00 EUR")));
    assert_eq!(row(&list("bought { what = brad, count = 2 }\n"), "brad"), None);
    // Two shelves are glued: 6 nails are left, one box; where two boxes are there, none.
    let glued = "made { glued = [r.a.shelf.low, r.a.shelf.mid] }\n";
    assert_eq!(row(&list(glued), "brad"), Some(("1 box", "3.00 EUR")));
    assert_eq!(
        row(&list(&format!("{glued}bought {{ what = brad }}\n")), "brad"),
        Some(("1 box", "3.00 EUR"))
    );
    assert_eq!(row(&list(&format!("{glued}bought {{ what = brad, count = 2 }}\n")), "brad"), None);
    // The glue of six housings of 300 x (6 + 6 + 18) mm: 0.054 m2, about 11 ml: the small bottle.
    assert_eq!(row(&nothing, "white"), Some(("1 x 250 ml", "4.00 EUR")));
    assert_eq!(row(&list("bought { what = white, each = 250ml }\n"), "white"), None);
    // Boards of 1200 that are there are cut first: two stiles and three strips need two of 2400, or one of them and two of 1200.
    let boards = |progress: &str| {
        let list = list(progress);
        let rows = list.rows.iter().filter(|row| row.aisle == "boards");
        rows.map(|row| format!("{} {}", row.count, row.what)).collect::<Vec<_>>()
    };
    let plain: u32 =
        boards("").iter().map(|row| row.split(' ').next().unwrap().parse::<u32>().unwrap()).sum();
    assert!(plain > 0);
    assert_eq!(boards("bought { what = oak, count = 9, each = 2400mm }\n"), Vec::<String>::new());
}

/// A sheet of which parts are cut is no longer there: of two that are bought the second is.
#[test]
fn what_is_cut_was_cut_from_what_is_bought() {
    let two = CASE
        .replace("width = rest, height = 1200mm", "width = rest, height = 2300mm")
        .replace("high = 900mm", "high = 900mm, top = 2000mm");
    let sheets = |progress: &str| {
        let compilation = of(&two, progress);
        let list = shopping(compilation.subject(Effort::Quick));
        list.rows.iter().find(|row| row.aisle == "sheets").map(|row| row.count.clone())
    };
    // Two sides of 2300 and four shelves of 776 on a sheet of 2440 x 1220: one.
    assert_eq!(sheets(""), Some("1".to_owned()));
    assert_eq!(sheets("bought { what = ply, count = 1 }\n"), None);
    // The sides are cut, and nothing is noted as bought: the shelves need one more.
    let cut = "made { cut = r.a.side }\n";
    assert_eq!(sheets(cut), Some("1".to_owned()));
    // They took the one sheet that was bought; of two one is left.
    assert_eq!(sheets(&format!("{cut}bought {{ what = ply, count = 1 }}\n")), Some("1".to_owned()));
    assert_eq!(sheets(&format!("{cut}bought {{ what = ply, count = 2 }}\n")), None);
}

#[test]
fn what_is_lost_is_made_anew_and_counted_again() {
    let lost = of(CASE, "made { size = 300mm x 700mm, cut = r.a.shelf.mid }\n");
    let mid = lost.graph.named("r.a.shelf.mid").unwrap();
    assert!(!lost.graph.reached(mid, State::Cut));
    assert_eq!(laid_out(&lost).get("r.a.shelf.mid"), Some(&1));
    let json = (sheet("cut-list").unwrap().make)(lost.subject(Effort::Quick)).json.value();
    assert_eq!(
        (json["parts"].as_u64(), json["made"].as_u64()),
        (Some(lost.graph.parts.len() as u64), Some(0))
    );
}

/// Purchases by the command line, with what cannot be read refused and nothing written.
#[test]
fn purchases_are_noted_and_mistakes_are_told() {
    let (_keep, path) = folder();
    fs::write(format!("{path}/c.scant"), CASE).unwrap();
    let run = |arguments: &[&str]| {
        let output = assert_cmd::Command::cargo_bin("scantling")
            .unwrap()
            .current_dir(&path)
            .args(arguments)
            .output()
            .unwrap();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
    };
    assert_eq!(
        run(&["mark", "bought", "2", "ply", "--paid", "150", "EUR"]).1,
        "c.progress.scant: 2 x ply bought\n"
    );
    assert_eq!(
        run(&["mark", "bought", "3", "oak", "--each", "2400mm"]).1,
        "c.progress.scant: 3 x oak bought\n"
    );
    let text = fs::read_to_string(format!("{path}/c.progress.scant")).unwrap();
    assert!(text.contains("bought { what = ply, count = 2, paid = 150 EUR }\n"), "{text}");
    assert!(text.contains("bought { what = oak, count = 3, each = 2400mm }\n"), "{text}");
    for (wrong, said) in [
        (&["2", "plyy"][..], "did you mean `ply`?"),
        (&["0", "ply"], "`0` cannot be how many are bought"),
        (&["99999999999999999999", "ply"], "cannot be how many are bought"),
        (&["2", "ply", "--paid", "150"], "`150` is no sum of money"),
        (&["2", "ply", "--paid", "3 kg"], "`3 kg` is no sum of money"),
        (&["2", "ply", "--each", "large"], "`large` is no size"),
        (&["r.a.shelf", "--paid", "3 EUR"], "say something of what is bought"),
    ] {
        let (status, _, err) = run(&[&["mark", "bought"], wrong].concat());
        assert!(status == 2 && err.contains(said), "{wrong:?} {err}");
    }
    assert_eq!(fs::read_to_string(format!("{path}/c.progress.scant")).unwrap(), text);
    // A sum in another currency cannot be added; where the project states no price, what was paid has the currency.
    fs::write(format!("{path}/c.progress.scant"), text.replace("150 EUR", "150 USD")).unwrap();
    let (status, _, err) = run(&["check", "c.scant"]);
    assert!(status == 1 && err.contains("it was paid in USD, and the project reckons in EUR"), "{err}");
    let bare = "sheet ply { thickness = 18mm }\nstick s { low = 80mm }\ncarcass c { shelves = s, width = 600mm, height = 400mm, depth = 300mm }\n";
    fs::write(format!("{path}/d.scant"), bare).unwrap();
    fs::write(format!("{path}/d.progress.scant"), "bought { what = ply, paid = 70 CHF }\n").unwrap();
    assert!(run(&["show", "shopping", "d.scant"]).1.contains("70.00 CHF spent"));
    fs::write(format!("{path}/c.progress.scant"), &text).unwrap();
    let (_, all, _) = run(&["show", "shopping", "c.scant", "--all"]);
    assert!(all.contains("80.00 EUR") && !all.contains("Bought already"), "{all}");
    let (_, left, _) = run(&["show", "shopping", "c.scant"]);
    assert!(left.contains("222.00 EUR spent; 232.00 EUR with what is still to buy"), "{left}");
}

/// Every way to give pieces to places, one for one: the most area served, and of such the least area of pieces.
fn best(pieces: &[i64], places: &[i64], serves: &dyn Fn(usize, usize) -> bool) -> (i64, i64) {
    fn go(
        at: usize,
        used: &mut Vec<bool>,
        (pieces, places): (&[i64], &[i64]),
        serves: &dyn Fn(usize, usize) -> bool,
    ) -> (i64, i64) {
        if at == pieces.len() {
            return (0, 0);
        }
        let mut best = go(at + 1, used, (pieces, places), serves);
        for place in 0..places.len() {
            if used[place] || !serves(at, place) {
                continue;
            }
            used[place] = true;
            let (served, taken) = go(at + 1, used, (pieces, places), serves);
            used[place] = false;
            let own = (served + places[place], taken - pieces[at]);
            best = best.max(own);
        }
        best
    }
    go(0, &mut vec![false; places.len()], (pieces, places), serves)
}

/// A wrong assignment costs a sheet: 400 random cases against all ways there are.
#[test]
fn pieces_are_given_to_places_as_well_as_can_be() {
    let mut state = 7_u64;
    let mut random = move |below: u64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) % below
    };
    let mut served = 0;
    for _ in 0..400 {
        let mut sizes = |count: u64| -> Vec<[i64; 2]> {
            (0..count).map(|_| [50 + 10 * random(8) as i64, 100 + 25 * random(12) as i64]).collect()
        };
        let (pieces, places) = (sizes(5), sizes(5));
        let areas = |sizes: &[[i64; 2]]| sizes.iter().map(|[w, l]| w * l).collect::<Vec<_>>();
        let serves = |piece: usize, place: usize| {
            pieces[piece].iter().zip(places[place]).all(|(has, needs)| *has >= needs)
        };
        let (own, needed) = (areas(&pieces), areas(&places));
        let chosen = assign(&own, &needed, serves);
        let given = chosen.iter().enumerate().filter_map(|(piece, place)| Some((piece, (*place)?)));
        let given: Vec<(usize, usize)> = given.collect();
        let once: BTreeSet<usize> = given.iter().map(|(_, place)| *place).collect();
        assert!(once.len() == given.len() && given.iter().all(|(piece, place)| serves(*piece, *place)));
        let sum = given.iter().fold((0, 0), |(a, b), (piece, place)| (a + needed[*place], b - own[*piece]));
        assert_eq!(sum, best(&own, &needed, &serves), "{pieces:?} {places:?}");
        served += given.len();
    }
    assert!(served > 600, "{served}");
    assert_eq!(assign(&[], &[5], |_, _| true), Vec::<Option<usize>>::new());
    assert_eq!(assign(&[5, 7], &[], |_, _| true), [None, None]);
}

/// Two carcasses, one 200 mm wider than the other: shelves of 800 - 36 + 12 = 776 and of 976. A shelf of 976 is lost where the wide
/// carcass becomes wider still, and is cut down for the narrow one.
const TWO: &str = "project { marks = 1mm }
sheet ply { thickness = 18mm, size = 2440mm x 1220mm, price = 80 EUR }
stick s { low = 80mm, high = 400mm }
carcass wide { shelves = s, width = 1000mm, height = 700mm, depth = 300mm }
carcass small { shelves = s, width = 800mm, height = 700mm, depth = 300mm }
";

fn reused(text: &str, progress: &str) -> Vec<(String, String)> {
    let compilation = of(text, progress);
    let name = |id: &scantling::parts::PartId| compilation.graph.part(*id).unwrap().path.clone();
    compilation.graph.reused.iter().map(|(id, reused)| (name(id), reused.piece.clone())).collect()
}

#[test]
fn what_is_lost_serves_for_what_is_still_to_be_cut() {
    let pair = |place: &str, piece: &str| (place.to_owned(), piece.to_owned());
    let wider = TWO.replace("width = 1000mm", "width = 1100mm");
    let shelves = "made { stock = ply, thickness = 18mm, size = 300mm x 976mm, cut = [wide.shelf.low] }\n";
    assert_eq!(reused(TWO, shelves), []);
    assert_eq!(reused(&wider, shelves), [pair("small.shelf.low", "wide.shelf.low")]);
    let compilation = of(&wider, shelves);
    let told = compilation.diagnostics.iter().find(|told| told.code.id == "D005").unwrap();
    assert!(
        told.help
            .iter()
            .any(|help| help.ends_with("of this one: cut it down to 300 mm x 776 mm for `small.shelf.low`")),
        "{:?}",
        told.help
    );
    // It is in no layout, in no row of the cut list but in a table of its own, and no more sheet is bought for it.
    assert_eq!(laid_out(&compilation).get("small.shelf.low"), None);
    let json = (sheet("cut-list").unwrap().make)(compilation.subject(Effort::Quick)).json.value();
    assert_eq!(json["reused"][0]["name"], "small.shelf.low");
    assert_eq!(json["reused"][0]["to"][1]["print"], "776 mm");
    // Of two pieces the one with less waste goes; the other stays.
    let longer = "made { stock = ply, thickness = 18mm, size = 300mm x 990mm, cut = old.shelf }\n";
    let sides = "made { cut = [small.side, wide.side] }\n";
    let one = wider.replace("carcass small { shelves = s", "carcass small { shelves = s, skip = [high]");
    assert_eq!(
        reused(&one, &format!("{shelves}{longer}{sides}")),
        [pair("small.shelf.low", "wide.shelf.low")]
    );
    // What is not built any more is told with what it can become.
    let compilation = of(TWO, longer);
    let told = compilation.diagnostics.iter().find(|told| told.code.id == "D004").unwrap();
    assert!(
        told.notes[0].starts_with("the piece is there: cut it down to 300 mm x 976 mm for `wide.shelf."),
        "{told:?}"
    );
    // Not of other stock, not too thick for a groove that is cut, not where it is grooved, not when it is glued in.
    assert_eq!(reused(&wider, &shelves.replace("stock = ply", "stock = birch")), []);
    assert_eq!(reused(&wider, &shelves.replace("cut =", "marks = [200mm], grooved =")), []);
    assert_eq!(reused(&wider, &shelves.replace("cut =", "glued =")), []);
    let grooved = "made { marks = [80mm, 400mm], grooves = 17mm x 6mm, grooved = [small.side, wide.side] }\n";
    assert_eq!(reused(&wider, &format!("{shelves}{grooved}")), []);
}

/// A panel of 700 x 990 that nothing is built of any more gives several shelves: it is an offcut of its sheet.
#[test]
fn a_piece_that_gives_several_is_an_offcut() {
    let panel = "made { stock = ply, thickness = 18mm, size = 700mm x 990mm, cut = old.panel }\n";
    let compilation = of(TWO, panel);
    assert!(compilation.graph.reused.is_empty());
    let sheet = compilation.graph.sheets.iter().find(|sheet| &*sheet.name == "ply").unwrap();
    assert_eq!((sheet.offcuts.len(), &*sheet.offcuts[0].name), (1, "old.panel"));
    let subject = compilation.subject(Effort::Quick);
    let works = compilation.plans.sheets(subject.model, subject.graph, Effort::Quick);
    assert!(works[0].stock.iter().any(|stock| stock.name == "old.panel"));
}

/// 10,000 entries of a project of few parts, most of them of parts that it does not have: read and told in little time.
#[test]
fn ten_thousand_entries_are_read() {
    let entries: String = (0..10_000)
        .map(|i| {
            format!(
                "made {{ stock = ply, size = {}mm x {}mm, cut = gone.n{i} }}\n",
                100 + i % 300,
                200 + i % 700
            )
        })
        .collect();
    let compilation = of(TWO, &entries);
    assert_eq!(compilation.graph.at_hand.len(), 10_000);
    assert_eq!(compilation.diagnostics.iter().filter(|told| told.code.id == "D004").count(), 10_000);
}

/// Where all is painted nothing is sanded, coated or bought; when things may stand on it stays.
#[test]
fn when_all_is_painted_only_the_wait_is_left() {
    let painted = with("sewing-room/sewing_room", "made { painted = [sewing] }\n");
    let output = (sheet("finish").unwrap().make)(painted.subject(Effort::Quick));
    let finishing = output.json.typed::<Finishing>().unwrap();
    let names: Vec<&str> = finishing.steps.iter().map(|step| step.name).collect();
    assert_eq!(names, ["light load", "full load"]);
    assert!(finishing.products.is_empty(), "{:?}", finishing.products);
    let begun = with("sewing-room/sewing_room", "made { painted = [sewing.one] }\n");
    let output = (sheet("finish").unwrap().make)(begun.subject(Effort::Quick));
    let finishing = output.json.typed::<Finishing>().unwrap();
    assert_eq!(finishing.steps.iter().filter(|step| step.name == "coat").count(), 3);
}

/// Boards that are sold by no length cannot be taken off; that is said.
#[test]
fn bought_boards_that_cannot_be_counted_are_told() {
    let text = "project \"Nook\" { marks = 1/32\" }
sheet ply { size = 96\" x 48\", thickness = 23/32\" }
board poplar { thickness = 3/4\" }
stick lines { floor = 3\", low = 16\", top = 30\" }
run den { facing { stock = poplar, stile = 1 1/2\", strip = 1 1/2\" }
  unit a { stock = ply, width = 34\", height = 32\", depth = 13\", shelves = lines } }
";
    let list =
        shopping(of(text, "bought { what = poplar, count = 8, each = 96\" }\n").subject(Effort::Quick));
    let remark = &list.rows.iter().find(|row| row.what == "poplar").unwrap().remark;
    assert!(remark.ends_with("what is bought (8 pieces) is not taken off until then"), "{remark}");
}

/// Of one stock 300 pieces are given to parts; that there are more is told.
#[test]
fn more_pieces_than_are_given_to_parts_are_told() {
    let told = |count: usize| {
        let pieces = (0..count).map(|i| {
            format!("made {{ stock = ply, thickness = 18mm, size = 300mm x 980mm, cut = gone.n{i} }}\n")
        });
        let compilation = of(TWO, &pieces.collect::<String>());
        compilation
            .diagnostics
            .iter()
            .filter(|told| told.code.id == "D015")
            .map(|told| told.message.clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(told(300), Vec::<String>::new());
    assert_eq!(
        told(302),
        ["2 of the made pieces and of the parts to be cut are too many to be given to each other"]
    );
}

/// Three sheets were bought before the text named lots; they are of the first one, and what comes from the second is bought.
#[test]
fn what_was_bought_before_there_were_lots_is_of_the_first() {
    let text = |lots: &str, of: &str| {
        format!(
            "project \"Nook\" {{ marks = 1/32\" }}
sheet ply {{ size = 96\" x 48\", thickness = 23/32\"{lots} }}
stick lines {{ floor = 3\", low = 16\", top = 30\" }}
carcass a {{ stock = ply{of}, width = 34\", height = 32\", depth = 13\", shelves = lines }}
carcass b {{ stock = ply{}, width = 34\", height = 32\", depth = 13\", shelves = lines }}
",
            of.replace("first", "second")
        )
    };
    let lots = ", lot first { thickness = 23/32\" }, lot second { thickness = 45/64\" }";
    let count = |text: &str, progress: &str| {
        let list = shopping(of(text, progress).subject(Effort::Quick));
        let rows = list.rows.iter().filter(|row| row.aisle == "sheets");
        rows.map(|row| format!("{} {}", row.count, row.what.split(',').next().unwrap())).collect::<Vec<_>>()
    };
    let bought = "bought { what = ply, count = 1 }\n";
    assert_eq!(count(&text("", ""), ""), ["2 ply"]);
    assert_eq!(count(&text("", ""), bought), ["1 ply"]);
    assert_eq!(count(&text(lots, ", lot = first"), ""), ["1 ply.first", "1 ply.second"]);
    assert_eq!(count(&text(lots, ", lot = first"), bought), ["1 ply.second"]);
    let of_second = "bought { what = ply, lot = second, count = 1 }\n";
    assert_eq!(count(&text(lots, ", lot = first"), of_second), ["1 ply.first"]);
}
