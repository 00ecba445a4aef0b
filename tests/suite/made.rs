//! How far parts are made: `mark`, what `check` says when the text changes under a made part, what `diff` knows.

use crate::command_line::{content, folder};
use crate::revisions::side;
use crate::root;
use scantling::breakdown::Effort;
use scantling::compile::{Compilation, compile};
use scantling::diff::{Action, FateRow, diff, meant};
use scantling::document::HAZARDS;
use scantling::parts::State;
use scantling::sheets::shopping;
use scantling::source::{DiskFiles, MemoryFiles};
use std::fs;

const EXAMPLE: &str = "examples/sewing-room/sewing_room.scant";

fn with_progress(text: &str, progress: &str) -> Compilation {
    let mut files = MemoryFiles::single("wall.scant", text);
    files.insert("wall.progress.scant", progress);
    compile(&files, "wall.scant".into()).unwrap()
}

fn example() -> String {
    fs::read_to_string(root().join(EXAMPLE)).unwrap()
}

/// What is told, without what the checks say of the example.
fn told(compilation: &Compilation) -> Vec<(&str, &str)> {
    let told = compilation.diagnostics.iter().filter(|d| !d.code.id.starts_with('C'));
    told.map(|d| (d.code.id, d.message.as_str())).collect()
}

fn scantling(folder: &str, arguments: &[&str]) -> (i32, String, String) {
    let output = assert_cmd::Command::cargo_bin("scantling")
        .unwrap()
        .current_dir(folder)
        .args(arguments)
        .output()
        .unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
}

#[test]
fn a_state_goes_to_all_parts_under_a_path_and_the_highest_holds() {
    let progress = "made { cut = [sewing.one.shelf, \"sewing.*.side.left\"] }\nmade \"later\" { lot = first, glued = sewing.one }\n";
    let compilation = with_progress(&example(), progress);
    assert_eq!(told(&compilation), []);
    let count = |state| compilation.graph.made.values().filter(|made| made.state == state).count();
    // Unit one has 2 sides, 8 shelves, 7 cleats, 4 stretchers, 6 strips, 2 rails; three left sides stand elsewhere.
    assert_eq!((count(State::Glued), count(State::Cut)), (29, 3));
    assert!(
        compilation.graph.made.values().all(|made| (made.state == State::Glued) == made.facts.lot.is_some())
    );
}

#[test]
fn mistakes_in_the_file_are_told_in_it() {
    let progress = "made { cutt = [sewing.one], cut = 3, size = 4\", bought = [sewing.five] }\nboard ply { thickness = 1\" }\n";
    let compilation = with_progress(&example(), progress);
    assert_eq!(
        told(&compilation),
        [
            ("D002", "unknown state `cutt`"),
            ("D003", "`cut` cannot be read"),
            ("D003", "`size` cannot be read"),
            ("D004", "unknown part `sewing.five`"),
            ("D001", "only `made`, `bought`, `sheet` and `hours` stand in a progress file"),
        ]
    );
}

#[test]
fn mark_keeps_what_was_made_and_check_tells_when_the_text_changes_under_it() {
    let (keep, path) = folder();
    fs::write(format!("{path}/wall.scant"), example()).unwrap();
    let (status, out, err) = scantling(&path, &["mark", "cut", "sewing.one.shelf", "sewing.*.cleat.binders"]);
    assert_eq!((status, out.as_str()), (0, "wall.progress.scant: 12 parts cut\n"));
    assert!(!err.contains("[D"), "{err}");
    let text = fs::read_to_string(format!("{path}/wall.progress.scant")).unwrap();
    assert!(text.contains("  size = 11 13/16\" x 31 5/16\"\n"), "{text}");
    let (_, out, _) = scantling(&path, &["mark", "cut", "sewing.one.shelf.binders"]);
    assert_eq!(out, "wall.progress.scant: new parts: none; 1 part was already marked\n");
    assert_eq!(fs::read_to_string(format!("{path}/wall.progress.scant")).unwrap(), text);
    assert_eq!(scantling(&path, &["mark", "grooved", "--lot", "first", "sewing.one.side"]).0, 0);
    // What the checks say of the example, and no word about what was made.
    let (status, _, err) = scantling(&path, &["check", "--message-format", "short", "wall.scant"]);
    assert_eq!(status, 0);
    assert!(err.lines().all(|line| line.contains("[C") || line.contains(HAZARDS)), "{err}");
    assert_eq!(scantling(&path, &["fmt", "--check", "."]).0, 0);
    let (_, list, _) = scantling(&path, &["show", "cut-list", "wall.scant"]);
    assert!(list.contains("8 more are cut already"), "{list}");
    // A comment that a person wrote there stays.
    let text = fs::read_to_string(format!("{path}/wall.progress.scant")).unwrap();
    fs::write(format!("{path}/wall.progress.scant"), format!("// two are a hair short\n{text}")).unwrap();
    assert_eq!(scantling(&path, &["mark", "cut", "sewing.two"]).0, 0);
    assert!(
        fs::read_to_string(format!("{path}/wall.progress.scant"))
            .unwrap()
            .starts_with("// two are a hair short\n")
    );
    // Then the shelf is raised and the sheet measured again.
    let revised =
        example().replace("patterns = 33\"", "patterns = 34 1/2\"").replace("= 23/32\"", "= 45/64\"");
    fs::write(format!("{path}/wall.scant"), revised).unwrap();
    let (status, _, err) = scantling(&path, &["check", "--message-format", "short", "wall.scant"]);
    assert_eq!(status, 0, "{err}");
    // All of unit one is of the old sheets, and so are the sides of unit two, which its shelves fit. In units three and four a
    // cleat is 2 x 1/64 in short between sides of the new sheet.
    let told =
        |code: &str| err.lines().filter(|line| line.contains(code)).map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(
        told("[D013]"),
        ["wall.progress.scant:7:10: note[D013]: 2 made parts hold as they are: 1/32\" short"]
    );
    assert_eq!(
        told("[D005]"),
        [
            "wall.progress.scant:36:11: warning[D005]: 2 made parts: plug the groove at 33\"; groove at 34 1/2\""
        ]
    );
    let (status, _, err) = scantling(&path, &["mark", "cut", "sewing.on.shelf"]);
    assert!(status == 2 && err.contains("unknown part `sewing.on.shelf`"), "{err}");
    assert_eq!(content(keep.path()).len(), 2);
}

/// What the new text means for what is made, one line a row.
fn fates(text: &str, made: &str) -> Vec<String> {
    let compilation = with_progress(text, made);
    let meant = meant(None, side("new", &compilation)).unwrap();
    let row = |row: &FateRow| {
        format!("{} {} {:?} {}", row.paths.len(), row.role, row.fate, row.how).trim().to_owned()
    };
    meant.rows.iter().map(row).collect()
}

/// The units three and four are cut from a lot of 47/64; the shelves of unit four are cut already, from 23/32. Between sides of the
/// second lot there are 31 9/32 for them: 1/32 less.
#[test]
fn revision_2_a_second_lot_with_eight_shelves_cut() {
    let lots = "thickness = 23/32\" // by caliper, five sheets\n  lot second { thickness = 47/64\" }";
    let text = example();
    let new = text
        .replace("thickness = 23/32\" // by caliper, five sheets", lots)
        .replace("unit three { skip", "unit three { lot = second, skip")
        .replace("unit four", "unit four { lot = second }");
    let made = "made { stock = ply, thickness = 23/32\", size = 11 13/16\" x 31 5/16\", cut = [sewing.four.shelf] }\n";
    assert_eq!(fates(&text, made), ["8 shelf Stays"]);
    assert_eq!(fates(&new, made), ["8 shelf Trim cut down to 11 13/16\" x 31 9/32\""]);
    // As planned, the six shelves of unit three are smaller too; units one and two keep their stop.
    let [old, new] = [text, new].map(|text| with_progress(&text, ""));
    let diff = diff(side("old", &old), side("new", &new));
    let shelves: Vec<_> = diff.pieces.changes.iter().filter(|change| change.role == "shelf").collect();
    for change in &shelves {
        let lengths = [&change.was, &change.is].map(|cut| cut.as_ref().unwrap().length.print.clone());
        assert_eq!(lengths, ["31 5/16\"", "31 9/32\""], "{}", change.path);
        assert_eq!(change.action, Action::Smaller);
    }
    assert_eq!(shelves.len(), 14);
}

/// 26 of the parts are cut from sheets of 23/32, the rest will be of 45/64: the shelves of unit one fit their sides, which are cut
/// too; those of unit two stand between sides that are still to be cut, 1/64 short in each groove. Nothing is lost.
#[test]
fn parts_from_a_thicker_sheet_stay_when_the_rest_is_thinner() {
    let new = example().replace("= 23/32\"", "= 45/64\"");
    let facts = "stock = ply, thickness = 23/32\"";
    let made = format!(
        "made {{ {facts}, size = 11 13/16\" x 31 5/16\", cut = [sewing.one.shelf, sewing.two.shelf] }}\n\
         made {{ {facts}, size = 11 13/16\" x 86 1/2\", cut = sewing.one.side }}\n"
    );
    assert_eq!(
        fates(&new, &made),
        ["8 shelf Stays", "2 side Stays", "6 shelf Stays 1/64\" short in each groove, 15/64\" bears"]
    );
    // The sheets that are still to buy are those of what is left, and not one more than the whole takes.
    let sheets = |progress: &str| {
        let compilation = with_progress(&new, progress);
        let list = shopping(compilation.subject(Effort::Quick));
        list.rows
            .iter()
            .filter(|row| row.aisle == "sheets")
            .map(|row| row.count.parse::<u32>().unwrap())
            .sum::<u32>()
    };
    let (whole, left) = (sheets(""), sheets(&made));
    assert!(left < whole, "{left} of {whole}");
}

#[test]
fn revision_4_with_unit_one_and_two_grooved() {
    let made = "made { marks = [0\"], grooved = [sewing.one.side, sewing.two.side] }\n";
    let marks = |text: &str| {
        let of = with_progress(text, "");
        let side = of.graph.named("sewing.one.side.left").unwrap();
        let marks = scantling::fits::cuts(&of.graph, side, of.model.project.marks);
        marks
            .iter()
            .map(|cut| of.model.project.marks.print(cut.at).text().to_owned())
            .collect::<Vec<_>>()
            .join(", ")
    };
    let new = example().replace("patterns = 33\"", "patterns = 34 1/2\"");
    let one = made.replace("0\"", &marks(&example())).replace(", sewing.two.side", "");
    assert_eq!(fates(&example(), &one), ["2 side Stays"]);
    assert_eq!(fates(&new, &one), ["2 side Plug plug the groove at 33\"; groove at 34 1/2\""]);
    let (old, new) = (with_progress(&example(), ""), with_progress(&new, ""));
    let diff = diff(side("old", &old), side("new", &new));
    assert_eq!((diff.grooves.len(), diff.grooves[0].sides.len()), (1, 8));
}

/// A shelf that is too short for its carcass, which became wider, serves in the narrow one and is not lost; so does one that is not
/// built any more. 800 - 36 and two dados of 6: 776.
#[test]
fn what_serves_elsewhere_is_not_lost() {
    let text = "sheet ply { thickness = 18mm }\nstick s { low = 80mm, high = 400mm }\n\
        carcass wide { shelves = s, width = 1100mm, height = 700mm, depth = 300mm }\n\
        carcass small { shelves = s, width = 800mm, height = 700mm, depth = 300mm }\n";
    let made = "made { cut = [wide.side, small.side] }\nmade { stock = ply, size = 300mm x 976mm, cut = wide.shelf.low }\n\
        made { stock = ply, size = 300mm x 790mm, cut = old.shelf }\n";
    let rows = fates(text, made);
    let elsewhere: Vec<&String> = rows.iter().filter(|row| row.contains("Elsewhere")).collect();
    assert_eq!(elsewhere.len(), 2, "{rows:?}");
    assert!(
        elsewhere.iter().all(|row| row.contains("cut down to 300 mm x 776 mm for small.shelf.")),
        "{rows:?}"
    );
    assert!(!rows.iter().any(|row| row.contains("Lost")), "{rows:?}");
}

/// What is not built any more, and what is lost: its stock costs its share of a sheet. Both sides are cut: it serves nowhere.
#[test]
fn what_is_lost_is_told_with_what_its_stock_costs() {
    let text = "sheet ply { thickness = 18mm, size = 2000mm x 1000mm, price = 100 EUR }\nstick s { low = 80mm, mid = 400mm }\n\
        carcass c { shelves = s, width = 836mm, height = 700mm, depth = 300mm }\n";
    let made = "made { stock = ply, size = 300mm x 700mm, cut = c.shelf.mid }\nmade { size = 300mm x 500mm, cut = c.shelf.high }\n\
        made { cut = c.side }\nbought { what = ply, count = 1, paid = 90 EUR }\n";
    assert_eq!(
        fates(text, made),
        [
            "2 side Stays",
            "1  Spare it is not built any more; 300 mm x 500 mm",
            "1 shelf Lost it is 112 mm too short to reach into its grooves"
        ]
    );
    let compilation = with_progress(text, made);
    let meant = meant(None, side("new", &compilation)).unwrap();
    // 300 x 700 of 2000 x 1000: 10.5 of 100.
    assert_eq!((meant.lost.as_deref(), meant.spent.as_deref()), (Some("10.50 EUR"), Some("90.00 EUR")));
    assert_eq!(meant.counts(), "of 4 made parts 2 stay, 1 is left over, 1 is lost");
}

const LOW: &str = "sheet ply { thickness = 18mm }\nstick lines { floor = 75mm, middle = 500mm }\ncarcass low {\n  width = 760mm, \
    height = 900mm, depth = 280mm, shelves = lines\n}\n";

/// The names of the files of a folder that are texts of the language.
fn texts(path: &str) -> Vec<String> {
    let names = fs::read_dir(path).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = names.filter(|name| name.ends_with(".scant")).collect();
    names.sort();
    names
}

#[test]
fn each_project_of_a_folder_has_its_own_progress() {
    let (_keep, path) = folder();
    for name in ["a", "b"] {
        fs::write(format!("{path}/{name}.scant"), LOW).unwrap();
    }
    let (status, out, err) = scantling(&path, &["mark", "cut", "low.side", "--file", "a.scant"]);
    assert_eq!((status, out.as_str()), (0, "a.progress.scant: 2 parts cut\n"), "{err}");
    assert_eq!(texts(&path), ["a.progress.scant", "a.scant", "b.scant"]);
    let left = |file: &str| scantling(&path, &["show", "cut-list", file]).1;
    assert!(left("a.scant").contains("2 of 4 parts are cut already"), "{}", left("a.scant"));
    assert!(!left("b.scant").contains("cut already"), "{}", left("b.scant"));
    let (status, _, err) = scantling(&path, &["check", "a.progress.scant"]);
    assert!(status == 1 && err.contains("D011") && err.contains("name its project: `a.scant`"), "{err}");
    // Of the three files two may be the project.
    let (status, _, err) = scantling(&path, &["mark", "cut", "low.side"]);
    assert!(status == 2 && err.contains("there are 2 `.scant` files"), "{err}");
}

#[test]
fn an_old_progress_is_read_for_the_only_project_and_renamed_by_the_next_mark() {
    let (_keep, path) = folder();
    // What a project uses is none beside it.
    fs::write(format!("{path}/shop.scant"), "sheet ply { thickness = 18mm }\n").unwrap();
    let text = LOW.replace("sheet ply { thickness = 18mm }", "use \"shop.scant\"");
    fs::write(format!("{path}/wall.scant"), &text).unwrap();
    let old = "// my remark\nmade { cut = [low.side] }\n";
    fs::write(format!("{path}/progress.scant"), old).unwrap();
    let (status, list, err) = scantling(&path, &["show", "cut-list", "wall.scant"]);
    assert!(status == 0 && list.contains("2 of 4 parts are cut already"), "{list}{err}");
    assert_eq!(texts(&path), ["progress.scant", "shop.scant", "wall.scant"]);
    let (status, out, err) = scantling(&path, &["mark", "cut", "low.shelf", "--file", "wall.scant"]);
    let told = "wall.progress.scant: 2 parts cut; the file was progress.scant\n";
    assert_eq!((status, out.as_str()), (0, told), "{err}");
    assert_eq!(texts(&path), ["shop.scant", "wall.progress.scant", "wall.scant"]);
    let now = fs::read_to_string(format!("{path}/wall.progress.scant")).unwrap();
    assert!(now.starts_with("// my remark\n") && now.contains("cut = [low.side]"), "{now}");
    // With a file of its own beside it, nobody knows which of both is true.
    fs::write(format!("{path}/progress.scant"), old).unwrap();
    let (status, _, err) = scantling(&path, &["check", "--message-format", "short", "wall.scant"]);
    assert_eq!(status, 1, "{err}");
    assert!(err.contains("D010]: `progress.scant` stands beside `wall.progress.scant`"), "{err}");
}

#[test]
fn an_old_progress_beside_several_projects_is_refused_until_it_is_given_to_one() {
    let (_keep, path) = folder();
    for name in ["a", "b"] {
        fs::write(format!("{path}/{name}.scant"), LOW).unwrap();
    }
    let old = "made { cut = [low.side] }\n";
    fs::write(format!("{path}/progress.scant"), old).unwrap();
    let (status, _, err) = scantling(&path, &["check", "b.scant"]);
    assert_eq!(status, 1, "{err}");
    assert!(err.contains("`progress.scant` stands for several projects: `a.scant` too"), "{err}");
    assert!(err.contains("scantling mark --adopt --file b.scant"), "{err}");
    assert_eq!(scantling(&path, &["mark", "cut", "low.shelf", "--file", "b.scant"]).0, 1);
    assert_eq!(texts(&path), ["a.scant", "b.scant", "progress.scant"]);
    let (status, out, err) = scantling(&path, &["mark", "--adopt", "--file", "b.scant"]);
    assert_eq!((status, out.as_str()), (0, "b.progress.scant: was progress.scant\n"), "{err}");
    assert_eq!(fs::read_to_string(format!("{path}/b.progress.scant")).unwrap(), old);
    for file in ["a.scant", "b.scant"] {
        assert_eq!(scantling(&path, &["check", file]).0, 0, "{file}");
    }
    // Nothing is left to give, and nothing is replaced.
    let (status, _, err) = scantling(&path, &["mark", "--adopt", "--file", "a.scant"]);
    assert!(status == 2 && err.contains("there is no progress.scant"), "{err}");
    fs::write(format!("{path}/progress.scant"), "").unwrap();
    let (status, _, err) = scantling(&path, &["mark", "--adopt", "--file", "b.scant"]);
    assert!(status == 2 && err.contains("b.progress.scant is there already"), "{err}");
    assert_eq!(fs::read_to_string(format!("{path}/b.progress.scant")).unwrap(), old);
}

/// What is made is that of the new side; the old side's, under its old name, hinders nothing.
#[test]
fn diff_knows_what_is_made_under_the_new_name_and_under_the_old_one() {
    let (_keep, path) = folder();
    for (side, progress) in [("old", "progress.scant"), ("new", "wall.progress.scant")] {
        fs::create_dir(format!("{path}/{side}")).unwrap();
        let text = if side == "old" { LOW.to_owned() } else { LOW.replace("18mm", "17.5mm") };
        fs::write(format!("{path}/{side}/wall.scant"), text).unwrap();
        fs::write(format!("{path}/{side}/{progress}"), "made { cut = [low.shelf] }\n").unwrap();
    }
    let (status, out, err) = scantling(&path, &["diff", "old", "new", "--format", "json"]);
    assert_eq!(status, 0, "{err}");
    let document: serde_json::Value = serde_json::from_str(&out).unwrap();
    let row = &document["made"]["rows"][0];
    assert_eq!((row["fate"].as_str(), row["state"].as_str()), (Some("stays"), Some("cut")), "{out}");
    assert_eq!(row["paths"].as_array().map(Vec::len), Some(2), "{out}");
}

/// How far the parts of a project are, with all that is known of it.
fn states(path: &str) -> String {
    let made = compile(&DiskFiles, format!("{path}/wall.scant").as_str().into()).unwrap().graph.made;
    let told = made.iter().map(|(id, made)| {
        let (size, marks) =
            (made.facts.size.map(|size| size.0), made.facts.marks.as_ref().map(|marks| &marks.0));
        format!("{id:?} {} {:?} {size:?} {marks:?}\n", made.state, made.facts.lot)
    });
    told.collect()
}

/// The same, and every sheet that is made of it.
fn all_sheets(path: &str) -> (String, Vec<Vec<u8>>) {
    let (status, _, err) = scantling(path, &["build", "wall.scant", "--out", "out"]);
    assert_eq!(status, 0, "{err}");
    let files = fs::read_dir(format!("{path}/out")).unwrap();
    let mut files: Vec<_> = files.map(|entry| entry.unwrap().path()).collect();
    files.sort();
    assert!(files.len() > 5, "{files:?}");
    (states(path), files.iter().map(|file| fs::read(file).unwrap()).collect())
}

#[test]
fn a_mark_that_is_taken_back_leaves_every_sheet_as_it_was() {
    for before in [
        "",
        "// mine\nmade { cut = low.side }\n",
        "made { bought = [\"low.*\"] } // all of it\n\nmade { lot = first, cut = [low.shelf.floor], }\n",
    ] {
        let (_keep, path) = folder();
        fs::write(format!("{path}/wall.scant"), LOW).unwrap();
        if !before.is_empty() {
            fs::write(format!("{path}/wall.progress.scant"), before).unwrap();
        }
        let were = all_sheets(&path);
        for (state, parts) in [("grooved", "low.side"), ("painted", "low"), ("cut", "low.shelf.middle")] {
            let call = |back: &[&str]| {
                let (status, out, err) = scantling(&path, &[&["mark", state, parts][..], back].concat());
                assert_eq!(status, 0, "{err}");
                out
            };
            assert!(call(&[]).contains(state));
            assert!(states(&path) != were.0, "{state}");
            assert!(call(&["--back"]).contains(&format!("no longer {state}")));
            assert_eq!(all_sheets(&path), were, "{state} after {before}");
        }
    }
}

#[test]
fn taking_back_changes_only_what_is_said_of_those_parts() {
    for (before, state, path_of, told, after) in [
        // A path that stands for both sides is written out as the other.
        (
            "made { cut = [low.side, low.shelf] } // first evening\n",
            "cut",
            "low.side.left",
            "1 part no longer cut",
            "made { cut = [low.side.right, low.shelf] } // first evening\n",
        ),
        ("made { cut = \"low.*.left\", lot = first }\n", "cut", "low.side.left", "1 part no longer cut", ""),
        // States after it go too; those before it stay.
        (
            "made { bought = low.side, grooved = [low.side.left], glued = [low.side.right] }\n",
            "cut",
            "low.side",
            "2 parts no longer cut",
            "made { bought = low.side }\n",
        ),
        (
            "made {\n  // by hand\n  lot = first\n  cut = low.side\n  bought = low.shelf\n}\n",
            "cut",
            "low",
            "2 parts no longer cut; 2 parts were not cut",
            "made {\n  // by hand\n  lot = first\n  bought = low.shelf\n}\n",
        ),
        (
            "made { cut = low.side }\n",
            "glued",
            "low.side.left",
            "1 part was not glued",
            "made { cut = low.side }\n",
        ),
    ] {
        let (_keep, path) = folder();
        fs::write(format!("{path}/wall.scant"), LOW).unwrap();
        fs::write(format!("{path}/wall.progress.scant"), before).unwrap();
        let (status, out, err) = scantling(&path, &["mark", "--back", state, path_of]);
        assert_eq!((status, out), (0, format!("wall.progress.scant: {told}\n")), "{err}");
        assert_eq!(fs::read_to_string(format!("{path}/wall.progress.scant")).unwrap(), after, "{before}");
    }
}

#[test]
fn a_list_is_marked_whole_or_not_at_all() {
    let (_keep, path) = folder();
    fs::write(format!("{path}/wall.scant"), LOW).unwrap();
    let mark = |list: &str, more: &[&str]| {
        fs::write(format!("{path}/list"), list).unwrap();
        scantling(&path, &[&["mark", "--from", "list"][..], more].concat())
    };
    for (list, at, help) in [
        (
            "# evening\n\nlow.side cut\nlow.shelve.floor cut\n",
            "list:4: unknown part `low.shelve.floor`",
            "`low.shelf.floor`",
        ),
        ("low.side cut # fine\nlow.shelf cutt\n", "list:2: unknown state `cutt`", "did you mean `cut`?"),
        (
            "low.side cut\nlow.shelf\n",
            "list:2: a line has a path or a sheet, and a state",
            "`wall.side.left cut`",
        ),
        ("\u{feff}# nothing\n\n", "list names no part", "`wall.side.left cut`"),
        ("\u{feff}low.side cutt\n", "list:1: unknown state `cutt`", "did you mean `cut`?"),
    ] {
        let (status, _, err) = mark(list, &[]);
        assert!(
            status == 2 && err.contains(at) && err.contains(help) && err.contains("nothing was written"),
            "{err}"
        );
        assert_eq!(texts(&path), ["wall.scant"]);
    }
    let list = "low.side.left grooved\nlow.side cut # both\n\tlow.shelf.floor   bought\n";
    let (status, out, err) = mark(list, &[]);
    assert_eq!(
        (status, &*out),
        (0, "wall.progress.scant: 1 part bought, 1 part cut, 1 part grooved\n"),
        "{err}"
    );
    let (_, out, _) = mark(list, &["--back"]);
    assert_eq!(out, "wall.progress.scant: 1 part no longer bought; 2 parts no longer cut\n");
    assert_eq!(
        fs::read_to_string(format!("{path}/wall.progress.scant")).unwrap(),
        "//! How far the parts are.\n"
    );
    let mut command = assert_cmd::Command::cargo_bin("scantling").unwrap();
    command.current_dir(&path).args(["mark", "--from", "-"]).write_stdin("low.side cut\n");
    command.assert().success().stdout("wall.progress.scant: 2 parts cut\n");
}

#[test]
fn a_lot_is_noted_of_what_is_cut_already_and_must_be_readable() {
    let (_keep, path) = folder();
    fs::write(format!("{path}/wall.scant"), LOW).unwrap();
    assert_eq!(scantling(&path, &["mark", "grooved", "low.side.left"]).0, 0);
    let before = fs::read_to_string(format!("{path}/wall.progress.scant")).unwrap();
    for lot in ["", " ", "and", "x", "a\u{7}b", "a\nb", "a\"b", "a\\b"] {
        let (status, _, err) = scantling(&path, &["mark", "cut", "low.side", "--lot", lot]);
        assert!(
            status == 2 && err.contains("cannot be the name of a lot") && err.contains("--lot second"),
            "{err}"
        );
        assert_eq!(fs::read_to_string(format!("{path}/wall.progress.scant")).unwrap(), before, "{lot:?}");
    }
    let (_, out, err) = scantling(&path, &["mark", "cut", "low.side", "--lot", "second"]);
    assert_eq!(out, "wall.progress.scant: 1 part cut; lot second for 1 part marked before\n", "{err}");
    let made = compile(&DiskFiles, format!("{path}/wall.scant").as_str().into()).unwrap().graph.made;
    let mut states: Vec<_> = made.values().map(|made| (made.state, made.facts.lot.as_deref())).collect();
    states.sort();
    assert_eq!(states, [(State::Cut, Some("second")), (State::Grooved, Some("second"))]);
    // What was made keeps its size and its marks.
    assert!(made.values().all(
        |made| made.facts.size.is_some() && made.facts.marks.is_some() == (made.state == State::Grooved)
    ));
    let (_, out, _) = scantling(&path, &["mark", "cut", "low.side", "--lot", "second"]);
    assert_eq!(out, "wall.progress.scant: new parts: none; 2 parts were already marked\n");
    // A text that is no name is kept as one.
    let (status, _, err) = scantling(&path, &["mark", "cut", "low.shelf", "--lot", "2nd pile"]);
    assert_eq!(status, 0, "{err}");
    assert!(
        fs::read_to_string(format!("{path}/wall.progress.scant")).unwrap().contains("lot = \"2nd pile\"")
    );
}

#[test]
fn a_near_miss_names_the_path_that_was_meant_and_not_one_part_of_many() {
    let (_keep, path) = folder();
    fs::write(format!("{path}/wall.scant"), LOW).unwrap();
    for (asked, near) in
        [("low.shel", "low.shelf"), ("lo.side.left", "low.side.left"), ("*.sid", "*.side"), ("loe", "low")]
    {
        let (status, _, err) = scantling(&path, &["mark", "cut", asked]);
        assert!(status == 2 && err.contains(&format!("did you mean `{near}`?")), "{asked}: {err}");
        let compilation = with_progress(LOW, &format!("made {{ cut = [\"{asked}\"] }}\n"));
        let told = compilation.diagnostics.iter().find(|told| told.code.id == "D004").unwrap();
        assert_eq!(told.help[0], format!("did you mean `{near}`?"), "{asked}");
    }
}

/// One mistake of the hand, one message.
#[test]
fn a_mistake_in_a_progress_file_is_told_once() {
    let told = |progress: &str| {
        let mut files = MemoryFiles::single("c.scant", LOW);
        files.insert("c.progress.scant", progress);
        let compilation = compile(&files, "c.scant".into()).unwrap();
        let own = compilation
            .diagnostics
            .iter()
            .filter(|told| !told.code.id.starts_with('C') && told.code.id != "D013");
        own.map(|told| format!("{} {}", told.code.id, told.message)).collect::<Vec<_>>()
    };
    // A brace forgotten, of the first block or of the second; one too many; a bracket; a comma; a word.
    for (progress, code) in [
        ("made {\n  cut = [low.side]\n\nmade { cut = low.shelf }\n", "S001"),
        ("made { cut = [low.side]\nmade { cut = low.shelf }\nbought { what = ply }\n", "S001"),
        ("made { cut = low.side }\nmade { cut = low.shelf\n", "S001"),
        ("bought {\n  what = ply\nmade { cut = low.shelf }\n", "S001"),
        ("made {\n  cut = [low.side]\n}}\nmade { cut = low.shelf }\n", "S002"),
        ("made \n  cut = [low.side]\n}\nmade { cut = low.shelf }\n", "S002"),
        ("made {\n  cut = [low.side\n}\n\nmade { cut = low.shelf }\n", "S001"),
        ("made { cut = [low.side low.shelf] }\n", "S006"),
        ("made { cutt = [low.side] }\n", "D002"),
        ("made { made { cut = low.side } }\n", "D001"),
    ] {
        let told = told(progress);
        assert!(told.len() == 1 && told[0].starts_with(code), "{progress} {told:?}");
    }
    // Two blocks that cannot both be true: told once for all parts of the second; the last one holds.
    let floor = "made { size = 280mm x 736mm, cut = low.shelf }\n";
    let twice = told(&format!("{floor}{}", floor.replace("736mm", "735.9mm")));
    assert_eq!(twice, ["D016 2 made parts: a block before states another size"]);
    assert_eq!(told(&format!("{floor}{floor}")), Vec::<String>::new());
    // A lot and a thickness are noted later: no contradiction.
    assert_eq!(told(&format!("{floor}made {{ thickness = 18mm, cut = low.shelf }}\n")), Vec::<String>::new());
    let sides = "made { marks = [75mm, 500mm], grooved = low.side }\n";
    let twice = told(&format!("{sides}{}", sides.replace("500mm", "500.1mm")));
    assert!(twice.contains(&"D016 2 made parts: a block before states other marks".to_owned()), "{twice:?}");
}
