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
    assert!(out.ends_with("book.html: 17 pages\n"), "{out}");
    let first = fs::read_to_string(format!("{path}/book.html")).unwrap();
    assert!(first.len() < 1_000_000, "{}", first.len());
    for asks in ["src=\"http", "href=\"http", "url(http", "@import", "<link", "<iframe", "fetch("] {
        assert!(!first.contains(asks), "{asks}");
    }
    // Every page is in the contents, and every tick has its words.
    assert_eq!(first.matches("<article").count(), 17);
    assert_eq!(first.matches("<a href=\"#page-").count(), 17);
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
