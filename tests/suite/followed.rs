//! Sheets of the layout that are marked one by one: the printed numbers stay, what is left of a sheet is at hand.

use crate::command_line::folder;
use crate::root;
use scantling::breakdown::{Effort, SheetWork, Source};
use scantling::compile::{Compilation, compile};
use scantling::cutting::verify;
use scantling::parts::State;
use scantling::sheets::Progress;
use scantling::source::DiskFiles;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;

/// Two low cases with a spare shelf of each size; shelves come out of three sheets.
const WALL: &str = "project \"Den\" { marks = 1/32\", spares = 1 }
sheet ply { size = 96\" x 48\", thickness = 23/32\", skim = 1/8\", price = 70 USD }
saw table { kerf = 1/8\" }
stick lines { floor = 3\", low = 16\", mid = 28\", high = 40\", top = 60\" }
run den { each unit { stock = ply, width = 34\", height = 62\", depth = 13\", shelves = lines }
  unit left, unit right
}
";

fn scantling(folder: &str, arguments: &[&str]) -> (i32, String, String) {
    let mut command = assert_cmd::Command::cargo_bin("scantling").unwrap();
    let output = command.current_dir(folder).args(arguments).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
}

fn marked(folder: &str, arguments: &[&str]) -> String {
    let (status, out, err) = scantling(folder, arguments);
    assert_eq!(status, 0, "{arguments:?} {err}");
    out
}

fn compiled(folder: &str, file: &str) -> Compilation {
    compile(&DiskFiles, format!("{folder}/{file}").as_str().into()).unwrap()
}

/// For each stock its sheets by number, with the parts that come from each.
type Sheets = BTreeMap<String, BTreeMap<u64, Vec<String>>>;

fn sheets(compilation: &Compilation) -> Sheets {
    let subject = compilation.subject(Effort::Normal);
    let by_number = |work: &SheetWork| {
        let sheets = work.one_by_one().into_iter().map(|sheet| {
            let pieces = sheet.rips.into_iter().flatten();
            (sheet.number, pieces.map(|piece| format!("{:?} {}", piece.is, piece.path)).collect())
        });
        (subject.graph.sheet(work.sheet).unwrap().name.to_string(), sheets.collect())
    };
    subject.sheet_works().iter().map(by_number).collect()
}

fn den() -> (impl Sized, String) {
    let (keep, path) = folder();
    fs::write(format!("{path}/den.scant"), WALL).unwrap();
    (keep, path)
}

fn built(path: &str) -> Vec<(String, Vec<u8>)> {
    marked(path, &["build", "den.scant", "--out", "out"]);
    let files = fs::read_dir(format!("{path}/out")).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<_> = files.map(|file| (file.display().to_string(), fs::read(file).unwrap())).collect();
    files.sort();
    files
}

#[test]
fn the_numbers_of_a_printed_layout_stay_good_in_whatever_order_its_sheets_are_cut() {
    for (example, order) in [
        ("examples/sewing-room/sewing_room.scant", [5, 1, 3, 6, 2, 4].as_slice()),
        ("examples/alcove-pair/alcove_pair.scant", &[2, 1, 3]),
        ("tests/followed/den.scant", &[2, 3, 1, 4]),
    ] {
        let (_keep, path) = folder();
        let text = if example.starts_with("tests") {
            WALL.to_owned()
        } else {
            fs::read_to_string(root().join(example)).unwrap()
        };
        fs::write(format!("{path}/wall.scant"), text).unwrap();
        let mut left = sheets(&compiled(&path, "wall.scant"));
        let stock = left.keys().next().unwrap().clone();
        let whole = left.clone();
        for number in order {
            let Some(own) = left.get_mut(&stock).and_then(|sheets| sheets.remove(number)) else { continue };
            let parts = own.iter().filter(|piece| piece.starts_with("Part")).count();
            let words = ["mark", "cut", "sheet", &number.to_string(), "of", &stock];
            let out = marked(&path, &words);
            let plural = if parts == 1 { "part" } else { "parts" };
            assert!(out.ends_with(&format!("sheet {number} of {stock}: {parts} {plural} cut\n")), "{out}");
            left.retain(|_, sheets| !sheets.is_empty());
            let now = compiled(&path, "wall.scant");
            assert_eq!(sheets(&now), left, "{example} after {number}");
            for work in now.subject(Effort::Normal).sheet_works() {
                assert_eq!(verify(&work.job, work.plan.as_ref().unwrap()), [], "{example} after {number}");
            }
        }
        let all: usize = whole[&stock].values().flatten().filter(|piece| piece.starts_with("Part")).count();
        let cut =
            compiled(&path, "wall.scant").graph.made.values().filter(|made| made.state == State::Cut).count();
        assert_eq!(cut, all, "{example}");
    }
}

#[test]
fn a_sheet_that_is_taken_back_leaves_no_trace() {
    let (_keep, path) = den();
    let were = built(&path);
    assert_eq!(
        marked(&path, &["mark", "cut", "sheet", "2"]),
        "den.progress.scant: sheet 2 of ply: 6 parts cut\n"
    );
    assert!(built(&path) != were);
    let out = marked(&path, &["mark", "cut", "sheet", "2", "--back"]);
    assert_eq!(out, "den.progress.scant: sheet 2 of ply: 6 parts no longer cut\n");
    assert_eq!(built(&path), were);
    assert_eq!(
        fs::read_to_string(format!("{path}/den.progress.scant")).unwrap(),
        "//! How far the parts are.\n"
    );
}

#[test]
fn what_is_left_of_a_sheet_is_at_hand_when_all_of_it_is_cut() {
    let (_keep, path) = den();
    let planned = sheets(&compiled(&path, "den.scant"));
    let last = *planned["ply"].keys().last().unwrap();
    let offcuts = |at: &Compilation| -> Vec<String> {
        let works = at.subject(Effort::Normal).sheet_works();
        let rows = works.iter().flat_map(|work| &work.stock).filter(|row| row.source == Source::Offcut);
        rows.map(|row| row.name.clone()).collect()
    };
    assert!(offcuts(&compiled(&path, "den.scant")).is_empty());
    marked(&path, &["mark", "cut", "sheet", &last.to_string()]);
    let kept = offcuts(&compiled(&path, "den.scant"));
    assert_eq!(kept, [format!("ply {last}.1")]);
    for number in planned["ply"].keys() {
        marked(&path, &["mark", "cut", "sheet", &number.to_string()]);
    }
    // A part that comes to it later is cut from what is there, and nothing is bought for it.
    let text = WALL.replace("top = 60\"", "extra = 50\", top = 60\"");
    fs::write(format!("{path}/den.scant"), text).unwrap();
    let later = compiled(&path, "den.scant");
    let [work] = later.subject(Effort::Normal).sheet_works() else { panic!("one stock") };
    let plan = work.plan.as_ref().unwrap();
    assert_eq!(work.bought(plan), 0);
    let own = work.one_by_one();
    assert!(own.iter().all(|sheet| sheet.stock.name.starts_with("ply ") && sheet.number > last), "{own:?}");
    // What is cut from an offcut is marked by its number too, and the offcut is gone.
    let number = own[0].number.to_string();
    let out = marked(&path, &["mark", "cut", "sheet", &number]);
    assert!(out.ends_with(&format!("sheet {number} of ply: 2 parts cut\n")), "{out}");
    let file = fs::read_to_string(format!("{path}/den.progress.scant")).unwrap();
    assert!(file.contains(&format!("offcut = \"{}\"", own[0].stock.name)), "{file}");
}

#[test]
fn when_the_text_changes_the_rest_is_laid_out_anew_with_numbers_of_its_own() {
    let (_keep, path) = den();
    marked(&path, &["mark", "cut", "sheet", "2"]);
    let text = WALL.replace("depth = 13\"", "depth = 16\"");
    fs::write(format!("{path}/den.scant"), text).unwrap();
    let now = sheets(&compiled(&path, "den.scant"));
    assert!(now["ply"].keys().all(|number| *number > 2), "{now:?}");
    let next = *now["ply"].keys().next().unwrap();
    // The old numbers that were not cut are no sheets any more.
    let (status, _, err) = scantling(&path, &["mark", "cut", "sheet", "1"]);
    assert_eq!(status, 2, "{err}");
    assert!(err.contains("there is no sheet 1 of ply"), "{err}");
    marked(&path, &["mark", "cut", "sheet", &next.to_string()]);
    let numbers: BTreeSet<u64> =
        compiled(&path, "den.scant").graph.followed.iter().map(|own| own.number).collect();
    assert!(!numbers.contains(&1) && numbers.contains(&2) && numbers.contains(&next), "{numbers:?}");
}

#[test]
fn what_is_cut_alone_begins_its_sheet_and_what_is_made_anew_is_spoilt_there() {
    let (_keep, path) = den();
    let planned = sheets(&compiled(&path, "den.scant"));
    marked(&path, &["mark", "cut", "sheet", "1"]);
    let one = planned["ply"][&2].iter().find_map(|piece| piece.strip_prefix("Part ")).unwrap().to_owned();
    marked(&path, &["mark", "cut", &one]);
    let begun = compiled(&path, "den.scant");
    let [work] = begun.subject(Effort::Normal).sheet_works() else { panic!("one stock") };
    let sheets = work.one_by_one();
    let own = sheets.iter().find(|sheet| sheet.number == 2).unwrap();
    assert_eq!(own.stock.source, Source::Begun);
    assert_eq!(own.rips.iter().flatten().count(), planned["ply"][&2].len() - 1);
    let bought = work.bought(work.plan.as_ref().unwrap());
    assert_eq!(bought, u64::try_from(planned["ply"].len()).unwrap() - 2);
    // Made once more it is cut from another place; what was cut of sheet 2 is spoilt.
    marked(&path, &["mark", "cut", &one, "--again"]);
    let file = fs::read_to_string(format!("{path}/den.progress.scant")).unwrap();
    assert!(file.contains(&format!("\"spoilt {one}\"")), "{file}");
    assert_eq!(compiled(&path, "den.scant").graph.followed.len(), planned["ply"].len());
}

#[test]
fn a_list_names_sheets_too_and_mistakes_are_told() {
    let (_keep, path) = den();
    fs::write(format!("{path}/ticks"), "sheet 1 of ply cut\nden.left.side.left grooved # router\n").unwrap();
    let out = marked(&path, &["mark", "--from", "ticks"]);
    assert!(out.contains("sheet 1 of ply: "), "{out}");
    let file = fs::read_to_string(format!("{path}/den.progress.scant")).unwrap();
    for (words, message) in [
        (vec!["sheet", "77"], "there is no sheet 77 of ply"),
        (vec!["sheet"], "`sheet ` cannot be read"),
        (vec!["sheet", "1", "of", "plx"], "no sheets of `plx` are cut"),
        (vec!["sheet", "one"], "`sheet one` cannot be read"),
    ] {
        let (status, out, err) = scantling(&path, &[vec!["mark", "cut"], words].concat());
        assert_eq!((status, out.as_str()), (2, ""), "{err}");
        assert!(err.contains(message), "{err}");
    }
    for (list, message) in [
        ("sheet 1 of ply\n", "ticks:1: a line has a path or a sheet, and a state"),
        ("sheet 1 of ply cut\nsheet 77 of ply cut\n", "ticks:2: there is no sheet 77 of ply"),
        ("sheet cut\n", "ticks:1: a line has a path or a sheet, and a state"),
        ("den.left den.right cut\n", "ticks:1: a line has a path or a sheet, and a state"),
    ] {
        fs::write(format!("{path}/ticks"), list).unwrap();
        let (status, _, err) = scantling(&path, &["mark", "--from", "ticks"]);
        assert_eq!(status, 2, "{err}");
        assert!(err.contains(message), "{err}");
    }
    assert_eq!(fs::read_to_string(format!("{path}/den.progress.scant")).unwrap(), file);
    // By hand: a sheet twice, one that is not whole, a rip that is no list of paths.
    for (block, message) in [
        (
            "sheet { what = ply, number = 1, size = 96\" x 48\", rips = [[den.left.side.left]] }",
            "sheet 1 of ply is told twice",
        ),
        (
            "sheet { what = ply, size = 96\" x 48\" }",
            "this sheet is not told whole: `number`, `rips` missing",
        ),
        ("sheet { what = ply, number = 9, size = 96\" x 48\", rips = [[4\"]] }", "`rips` cannot be read"),
        (
            "sheet { whet = ply, number = 9, size = 96\" x 48\", rips = [[den.left.side.left]] }",
            "unknown property `whet`",
        ),
    ] {
        fs::write(format!("{path}/den.progress.scant"), format!("{file}\n{block}\n")).unwrap();
        let told: Vec<String> =
            compiled(&path, "den.scant").diagnostics.into_iter().map(|told| told.message).collect();
        assert!(told.iter().any(|told| told == message), "{told:?}");
    }
}

/// A row of the hours: stage, count, what one takes, where from, what is left.
fn stage(compilation: &Compilation, name: &str) -> (f64, f64, &'static str, f64) {
    let sheet = scantling::sheets::sheet("progress").unwrap();
    let output = (sheet.make)(compilation.subject(Effort::Quick));
    let progress = output.json.typed::<Progress>().unwrap();
    let row = progress.hours.iter().find(|row| row.stage == name).unwrap();
    (row.count, row.seconds_each, row.by, row.left)
}

/// Two cases have 4 sides with 5 marks each, so 20 dados; 5 shelves a case are held at both ends.
#[test]
fn hours_are_counted_by_stage_and_own_hours_beat_rates() {
    let (_keep, path) = den();
    let plain = compiled(&path, "den.scant");
    assert_eq!(stage(&plain, "router"), (20.0, 600.0, "from memory", 12_000.0));
    assert_eq!(stage(&plain, "standing in the room"), (2.0, 5400.0, "from memory", 10_800.0));
    assert_eq!(format!("{:.3}", stage(&plain, "saw").0), format!("{}.000", plain.graph.parts.len()));
    // 2 x 5 marks in 40 minutes: 4 minutes a groove, and 10 grooves are left.
    let out = marked(&path, &["mark", "grooved", "den.left.side", "--took", "40 min"]);
    assert_eq!(out, "den.progress.scant: 2 parts grooved; took 40 min\n");
    assert_eq!(stage(&compiled(&path, "den.scant"), "router"), (10.0, 240.0, "own hours", 2400.0));
    // A second record counts with the first: 80 minutes for 20 grooves.
    marked(&path, &["mark", "grooved", "den.right.side", "--took", "40 min"]);
    assert_eq!(stage(&compiled(&path, "den.scant"), "router"), (0.0, 240.0, "own hours", 0.0));
    marked(&path, &["mark", "grooved", "den", "--back"]);
    assert_eq!(stage(&compiled(&path, "den.scant"), "router"), (20.0, 600.0, "from memory", 12_000.0));
    // A stated rate; what is noted for parts that are not built tells nothing.
    fs::write(format!("{path}/den.scant"), format!("{WALL}rates {{ groove = 5 min }}\n")).unwrap();
    assert_eq!(stage(&compiled(&path, "den.scant"), "router"), (20.0, 300.0, "stated", 6000.0));
    fs::write(format!("{path}/den.progress.scant"), "hours { grooved = [gone.side], took = 9 h }\n").unwrap();
    assert_eq!(stage(&compiled(&path, "den.scant"), "router"), (20.0, 300.0, "stated", 6000.0));
}

#[test]
fn mistakes_in_hours_and_rates_are_told() {
    let (_keep, path) = den();
    for took in ["2", "-1 h", "4\"", "soon"] {
        let (status, out, err) = scantling(&path, &["mark", "glued", "den.left", &format!("--took={took}")]);
        assert_eq!((status, out.as_str()), (2, ""), "{err}");
        assert!(err.contains(&format!("`{took}` is no time")), "{err}");
    }
    let (status, _, err) = scantling(&path, &["mark", "bought", "3", "ply", "--took", "1 h"]);
    assert_eq!(status, 2);
    assert!(err.contains("`--took '1 h'` says something of what is made"), "{err}");
    assert!(!fs::exists(format!("{path}/den.progress.scant")).unwrap());
    for (block, message) in [
        ("hours { took = 2 h }", "hours are of one state and say how long it took"),
        (
            "hours { glued = [den.left], fixed = [den.right], took = 2 h }",
            "hours are of one state and say how long it took",
        ),
        ("hours { glued = [den.left], took = 2 }", "`took` cannot be read"),
        ("hours { glud = [den.left], took = 2 h }", "unknown property `glud`"),
    ] {
        fs::write(format!("{path}/den.progress.scant"), format!("{block}\n")).unwrap();
        let told = compiled(&path, "den.scant").diagnostics;
        assert!(told.iter().any(|told| told.message == message), "{block} {told:#?}");
    }
    fs::write(format!("{path}/den.scant"), format!("{WALL}rates {{ groove = 0 min }}\n")).unwrap();
    let told = compiled(&path, "den.scant").diagnostics;
    assert!(told.iter().any(|told| told.message == "the groove must be more than zero"), "{told:#?}");
}

#[test]
fn progress_tells_units_sheets_money_and_pieces() {
    let (_keep, path) = den();
    marked(&path, &["mark", "bought", "6", "ply", "--paid", "402 USD"]);
    marked(&path, &["mark", "cut", "sheet", "1"]);
    marked(&path, &["mark", "cut", "den.left"]);
    marked(&path, &["mark", "glued", "den.left.shelf"]);
    let text = WALL.replace(", high = 40\"", "");
    fs::write(format!("{path}/den.scant"), text).unwrap();
    let compilation = compiled(&path, "den.scant");
    let sheet = scantling::sheets::sheet("progress").unwrap();
    let output = (sheet.make)(compilation.subject(Effort::Normal));
    let progress = output.json.typed::<Progress>().unwrap();
    let left = progress.units.iter().find(|unit| unit.unit == "den.left").unwrap();
    assert_eq!((left.parts, left.cut, left.with_grooves, left.grooved, left.glued), (6, 6, 2, 0, 4));
    let pieces: Vec<(&str, &str)> =
        progress.pieces.iter().map(|row| (row.piece.as_str(), row.why.as_str())).collect();
    assert_eq!(pieces, [("den.left.shelf.high", "it is not built any more; 13\" x 33 1/16\"")]);
    let ply = &progress.sheets[0];
    assert_eq!((ply.stock.as_str(), ply.had, ply.cut.as_slice()), ("ply", 6, [1].as_slice()));
    assert_eq!(progress.spent.as_deref(), Some("402.00 USD"));
    assert_eq!(ply.to_buy, Some(0));
}

/// Four sheets are bought, one is cut and one begun: two whole ones are there, and as many are cut without buying.
#[test]
fn a_sheet_that_is_begun_takes_no_other_from_what_is_there() {
    let (_keep, path) = den();
    let planned = sheets(&compiled(&path, "den.scant"));
    let all = planned["ply"].len();
    marked(&path, &["mark", "bought", &all.to_string(), "ply"]);
    let one = planned["ply"][&1].iter().find_map(|piece| piece.strip_prefix("Part ")).unwrap().to_owned();
    marked(&path, &["mark", "cut", "sheet", "2"]);
    marked(&path, &["mark", "cut", &one]);
    let begun = compiled(&path, "den.scant");
    let [work] = begun.subject(Effort::Normal).sheet_works() else { panic!("one stock") };
    assert!(work.is_followed());
    assert_eq!(work.bought(work.plan.as_ref().unwrap()), 0);
    let of = |source: Source| work.one_by_one().iter().filter(|sheet| sheet.stock.source == source).count();
    assert_eq!((of(Source::Begun), of(Source::OnHand)), (1, all - 2));
}
