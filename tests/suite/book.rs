//! The shop book: one file that asks for nothing, says what it was given, and is the same twice.

use crate::command_line::folder;
use crate::root;
use std::fs;

fn book(file: &str, folder: &str, more: &[&str]) -> (i32, String, String) {
    let out = format!("{folder}/book.html");
    let mut command = assert_cmd::Command::cargo_bin("scantling").unwrap();
    let output =
        command.args([&["book", file, "--out", &out, "--effort", "quick"], more].concat()).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
}

#[test]
fn a_book_is_one_file_that_asks_for_nothing_and_is_the_same_twice() {
    let file = root().join("examples/sewing-room/sewing_room.scant");
    let (_keep, path) = folder();
    let (status, out, err) = book(file.as_str(), &path, &[]);
    assert_eq!(status, 0, "{err}");
    assert!(out.ends_with("book.html: 19 pages\n"), "{out}");
    let first = fs::read_to_string(format!("{path}/book.html")).unwrap();
    assert!(first.len() < 1_000_000, "{}", first.len());
    for asks in ["src=\"http", "href=\"http", "url(http", "@import", "<link", "<iframe", "fetch("] {
        assert!(!first.contains(asks), "{asks}");
    }
    // Every page is in the contents, and every tick has its words.
    assert_eq!(first.matches("<article").count(), 19);
    assert_eq!(first.matches("<span class=\"number\">").count(), 19);
    assert_eq!(
        first.matches("<input type=\"checkbox\"").count(),
        first.matches("<label for=\"step-").count()
    );
    // Fractions as the trade writes them.
    assert!(first.contains("11 13\u{2044}16\u{2033}"));
    assert_eq!(book(file.as_str(), &path, &[]).0, 0);
    assert_eq!(fs::read_to_string(format!("{path}/book.html")).unwrap(), first);
    let (_, out, _) = book(file.as_str(), &path, &["--for", "yard,paint"]);
    assert!(out.ends_with("book.html: 2 pages\n"), "{out}");
}

#[test]
fn names_do_nothing_and_mistakes_leave_the_old_book() {
    let (_keep, path) = folder();
    let file = format!("{path}/p.scant");
    let text = "project \"<script>alert(1)</script>\" { marks = 1mm }
sheet ply \"<img src=x onerror=alert(1)>\" { size = 2440mm x 1220mm, thickness = 18mm }
stick s { low = 80mm, high = 700mm }
carcass c { stock = ply, width = 800mm, height = 900mm, depth = 300mm, shelves = s }
";
    fs::write(&file, text).unwrap();
    let (status, _, err) = book(&file, &path, &[]);
    assert_eq!(status, 0, "{err}");
    let made = fs::read_to_string(format!("{path}/book.html")).unwrap();
    assert!(made.contains("&lt;script&gt;alert(1)&lt;/script&gt;") && !made.contains("<script>alert"));
    assert!(!made.contains("<img"));
    fs::write(&file, text.replace("18mm", "18")).unwrap();
    assert_eq!(book(&file, &path, &[]).0, 1);
    assert_eq!(fs::read_to_string(format!("{path}/book.html")).unwrap(), made);
    let (status, _, err) = book(&file, &path, &["--for", "kitchen"]);
    assert!(status == 2 && err.contains("[possible values: survey, yard"), "{err}");
}

/// Titles of the pages, in order.
fn titles(folder: &str) -> Vec<String> {
    let made = fs::read_to_string(format!("{folder}/book.html")).unwrap();
    let heads = made.split("<h2 id=\"title-").skip(1);
    heads.map(|head| head.split_once('>').unwrap().1.split('<').next().unwrap().to_owned()).collect()
}

#[test]
fn a_book_of_a_unit_has_its_pages_and_what_its_work_needs() {
    let file = root().join("examples/sewing-room/sewing_room.scant");
    let (_keep, path) = folder();
    for name in ["sewing.two", "two"] {
        assert_eq!(book(file.as_str(), &path, &["--unit", name]).0, 0);
        let titles = titles(&path);
        let (job, own): (Vec<&String>, Vec<&String>) =
            titles.iter().partition(|title| title.starts_with("Breakdown"));
        assert_eq!(job.len(), 7, "{titles:?}");
        assert_eq!(
            own,
            ["Story stick", "Router", "Glue-up: sewing.two", "In the room: sewing", "For the house"]
        );
        let made = fs::read_to_string(format!("{path}/book.html")).unwrap();
        assert!(made.contains("<h3>sewing.two: sides ") && !made.contains("<h3>sewing.one: sides "));
        // Its place in the room, its opening, its tick; not those of the others.
        assert!(made.contains("sewing.two.side.left fixed") && !made.contains("sewing.one.side.left fixed"));
        assert_eq!(made.matches("data-head=\"over\">patterns</td>").count(), 1);
    }
    assert_eq!(book(file.as_str(), &path, &["--unit", "two", "--for", "yard,glue-up"]).0, 0);
    assert_eq!(titles(&path), ["Yard: what is bought", "Glue-up: sewing.two"]);
}

#[test]
fn a_unit_that_is_not_there_is_told_with_those_that_are_near() {
    let (_keep, path) = folder();
    let sewing = root().join("examples/sewing-room/sewing_room.scant");
    let (status, _, err) = book(sewing.as_str(), &path, &["--unit", "sewing.tow"]);
    assert!(status == 2 && err.contains("no unit is called `sewing.tow`"), "{err}");
    assert!(err.contains("did you mean `sewing.two`?"), "{err}");
    let (status, _, err) = book(sewing.as_str(), &path, &["--unit", "kitchen"]);
    assert!(
        status == 2 && err.contains("there is sewing.one, sewing.two, sewing.three, sewing.four"),
        "{err}"
    );
    let alcoves = root().join("examples/alcove-pair/alcove_pair.scant");
    let (status, _, err) = book(alcoves.as_str(), &path, &["--unit", "tall"]);
    assert!(status == 2 && err.contains("several units are called `tall`"), "{err}");
    assert!(err.contains("there is left.tall, right.tall"), "{err}");
    // A case by itself is glued up in no room.
    let file = format!("{path}/p.scant");
    let text = "project \"P\" { marks = 1mm }\nsheet ply \"ply\" { size = 2440mm x 1220mm, thickness = 18mm }\n\
        stick s { low = 80mm, high = 700mm }\n\
        carcass c { stock = ply, width = 800mm, height = 900mm, depth = 300mm, shelves = s }\n";
    fs::write(&file, text).unwrap();
    let (status, _, err) = book(&file, &path, &["--unit", "c", "--for", "room"]);
    assert!(status == 2 && err.contains("nothing of `c` stands on the pages of room"), "{err}");
    assert!(!std::path::Path::new(&format!("{path}/book.html")).exists());
}

/// Paper by the unit system, by what the project states, or as it is asked for; drawings are made for it.
#[test]
fn a_book_is_for_the_paper_in_the_printer() {
    let (_keep, path) = folder();
    let (letter, a4) = ("size:215.9mm 279.4mm", "size:210mm 297mm");
    for (example, more, size) in [
        ("examples/sewing-room/sewing_room.scant", &[][..], letter),
        ("examples/sewing-room/sewing_room.scant", &["--paper", "a4"], a4),
        ("examples/hall-bench/hall_bench.scant", &[], a4),
        ("examples/hall-bench/hall_bench.scant", &["--paper", "letter"], letter),
    ] {
        assert_eq!(book(root().join(example).as_str(), &path, more).0, 0);
        let made = fs::read_to_string(format!("{path}/book.html")).unwrap();
        assert!(made.contains(&format!("@page{{{size};")), "{example} {more:?}");
    }
    let (status, _, err) = book("x.scant", &path, &["--paper", "a3"]);
    assert!(status == 2 && err.contains("[possible values: letter, a4]"), "{err}");
}
