//! How far parts are made: `mark`, what `check` says when the text changes under a made part, what `diff` knows.

use crate::command_line::{content, folder};
use crate::revisions::side;
use crate::root;
use scantling::compile::{Compilation, compile};
use scantling::diff::{Action, diff};
use scantling::document::HAZARDS;
use scantling::parts::State;
use scantling::source::MemoryFiles;
use std::fs;

const EXAMPLE: &str = "examples/sewing-room/sewing_room.scant";

fn with_progress(text: &str, progress: &str) -> Compilation {
    let mut files = MemoryFiles::single("wall.scant", text);
    files.insert("progress.scant", progress);
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
    assert!(compilation.graph.made.values().all(|made| (made.state == State::Glued) == made.lot.is_some()));
}

#[test]
fn mistakes_in_the_file_are_told_in_it() {
    let progress = "made { cutt = [sewing.one], cut = 3, size = 4\", bought = [sewing.five] }\nsheet ply { thickness = 1\" }\n";
    let compilation = with_progress(&example(), progress);
    assert_eq!(
        told(&compilation),
        [
            ("D002", "unknown state `cutt`"),
            ("D003", "`cut` cannot be read"),
            ("D003", "`size` cannot be read"),
            ("D004", "unknown part `sewing.five`"),
            ("D001", "only `made` stands in a progress file"),
        ]
    );
}

#[test]
fn mark_keeps_what_was_made_and_check_tells_when_the_text_changes_under_it() {
    let (keep, path) = folder();
    fs::write(format!("{path}/wall.scant"), example()).unwrap();
    let (status, out, err) = scantling(&path, &["mark", "cut", "sewing.one.shelf", "sewing.*.cleat.binders"]);
    assert_eq!((status, out.as_str()), (0, "progress.scant: 12 parts cut\n"));
    assert!(!err.contains("[D"), "{err}");
    let text = fs::read_to_string(format!("{path}/progress.scant")).unwrap();
    assert!(text.contains("  size = 11 13/16\" x 31 5/16\"\n"), "{text}");
    let (_, out, _) = scantling(&path, &["mark", "cut", "sewing.one.shelf.binders"]);
    assert_eq!(out, "progress.scant: new parts: none; 1 part was already marked\n");
    assert_eq!(fs::read_to_string(format!("{path}/progress.scant")).unwrap(), text);
    assert_eq!(scantling(&path, &["mark", "grooved", "--lot", "first", "sewing.one.side"]).0, 0);
    // What the checks say of the example, and no word about what was made.
    let (status, _, err) = scantling(&path, &["check", "--message-format", "short", "wall.scant"]);
    assert_eq!(status, 0);
    assert!(err.lines().all(|line| line.contains("[C") || line.contains(HAZARDS)), "{err}");
    assert_eq!(scantling(&path, &["fmt", "--check", "."]).0, 0);
    let (_, list, _) = scantling(&path, &["show", "cut-list", "wall.scant"]);
    assert!(list.contains("20 of 28 left to cut"), "{list}");
    // A comment that a person wrote there stays.
    let text = fs::read_to_string(format!("{path}/progress.scant")).unwrap();
    fs::write(format!("{path}/progress.scant"), format!("// two are a hair short\n{text}")).unwrap();
    assert_eq!(scantling(&path, &["mark", "cut", "sewing.two"]).0, 0);
    assert!(
        fs::read_to_string(format!("{path}/progress.scant"))
            .unwrap()
            .starts_with("// two are a hair short\n")
    );
    // Then the shelf is raised and the sheet measured again.
    let revised =
        example().replace("patterns = 33\"", "patterns = 34 1/2\"").replace("= 23/32\"", "= 45/64\"");
    fs::write(format!("{path}/wall.scant"), revised).unwrap();
    let (status, _, err) = scantling(&path, &["check", "--message-format", "short", "wall.scant"]);
    assert_eq!(status, 0, "{err}");
    assert!(err.contains("D005"), "{err}");
    assert!(
        err.contains("8 parts are cut to 11 13/16\" x 31 5/16\", and should be 11 13/16\" x 31 11/32\" now"),
        "{err}"
    );
    assert!(err.contains("2 parts are grooved already, and 33\" moved or went"), "{err}");
    let (status, _, err) = scantling(&path, &["mark", "cut", "sewing.on.shelf"]);
    assert!(status == 2 && err.contains("unknown part `sewing.on.shelf`"), "{err}");
    assert_eq!(content(keep.path()).len(), 2);
}

#[test]
fn revision_2_a_second_lot_with_eight_shelves_cut() {
    // The units three and four are cut from a lot of 47/64; the shelves of unit four are cut already.
    let lots = "thickness = 23/32\" // by caliper, five sheets\n  lot second { thickness = 47/64\" }";
    let text = example();
    let new = text
        .replace("thickness = 23/32\" // by caliper, five sheets", lots)
        .replace("unit three { skip", "unit three { lot = second, skip")
        .replace("unit four", "unit four { lot = second }");
    let made = "made { size = 11 13/16\" x 31 5/16\", cut = [sewing.four.shelf] }\n";
    let (old, new) = (with_progress(&text, made), with_progress(&new, made));
    let diff = diff(side("old", &old), side("new", &new));
    let shelves: Vec<_> = diff.pieces.changes.iter().filter(|change| change.role == "shelf").collect();
    assert!(diff.pieces.states_known);
    let cut: Vec<_> = shelves.iter().filter(|change| change.state == Some(State::Cut)).collect();
    assert_eq!(cut.len(), 8);
    for change in &shelves {
        // 1/32 too long for the second lot: trim at the new stop.
        let lengths = [&change.was, &change.is].map(|cut| cut.as_ref().unwrap().length.print.clone());
        assert_eq!(lengths, ["31 5/16\"", "31 9/32\""], "{}", change.path);
        assert_eq!(change.action, Action::Recut);
    }
    // The six of unit three are only planned; units one and two keep their stop.
    assert_eq!(shelves.len(), 14);
}

/// A thinner sheet makes two shelves and a cleat too short. An old shelf serves for the cleat where it lies there: not where it is
/// only planned, and not where it stands in the room. Where nothing is noted, it may.
#[test]
fn only_pieces_that_lie_there_serve_for_others() {
    const OLD: &str = "sheet ply { thickness = 23/32\" }\nstick lines { floor = 3\", middle = 20\" }\ncarcass low {\n  \
        width = 30\", height = 36\", depth = 11\", shelves = lines\n  cleat { height = 2\" }\n}\n";
    let new = OLD.replace("23/32", "45/64");
    for (made, expected) in [
        ("", &["low.shelf.floor"][..]),
        ("made { cut = [low.shelf.middle] }\n", &["low.shelf.middle"]),
        ("made { grooved = [low.side], cut = [low.shelf] }\n", &["low.shelf.floor"]),
        ("made { cut = [low.side] }\n", &[]),
        ("made { bought = [low.shelf] }\n", &[]),
        ("made { glued = [low.shelf] }\n", &[]),
        ("made { fixed = [low.shelf] }\n", &[]),
        ("made { painted = [low.shelf] }\n", &[]),
    ] {
        let (old, new) = (with_progress(OLD, made), with_progress(&new, made));
        let diff = diff(side("old", &old), side("new", &new));
        assert_eq!(diff.pieces.count(Action::MakeAnew), 3, "{made}");
        let serving = diff.pieces.changes.iter().filter(|change| change.serves.is_some());
        assert_eq!(serving.map(|change| &*change.path).collect::<Vec<_>>(), expected, "{made}");
    }
}

#[test]
fn revision_4_with_unit_one_and_two_grooved() {
    let made = "made { grooved = [sewing.one.side, sewing.two.side] }\n";
    let old = with_progress(&example(), made);
    let new = with_progress(&example().replace("patterns = 33\"", "patterns = 34 1/2\""), made);
    let diff = diff(side("old", &old), side("new", &new));
    // One mark moved, 8 sides: 4 already grooved there.
    assert_eq!((diff.grooves.len(), diff.grooves[0].sides.len(), diff.grooves[0].grooved.len()), (1, 8, 4));
}
