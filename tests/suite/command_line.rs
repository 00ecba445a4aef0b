//! The program as its user runs it: what it prints, what it writes, how it exits.

use crate::root;
use assert_cmd::Command;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

const EXAMPLE: &str = "examples/sewing-room/sewing_room.scant";

pub(crate) fn scantling(arguments: &[&str]) -> (i32, String, String) {
    let output =
        Command::cargo_bin("scantling").unwrap().current_dir(root()).args(arguments).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
}

pub(crate) fn folder() -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().to_str().unwrap().to_owned();
    (folder, path)
}

/// The files of a folder with their bytes.
pub(crate) fn content(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    fs::read_dir(folder)
        .unwrap()
        .map(|entry| {
            let entry = entry.unwrap();
            (entry.file_name().into_string().unwrap(), fs::read(entry.path()).unwrap())
        })
        .collect()
}

#[test]
fn check_says_that_all_is_well() {
    let (status, out, err) = scantling(&["check", "examples/back-hall/back_hall.scant"]);
    assert_eq!((status, err.as_str()), (0, ""));
    assert_eq!(out, "examples/back-hall/back_hall.scant: 3 units, 74 parts; no problems\n");
}

#[test]
fn exit_status_tells_mistakes_in_the_project_from_mistakes_in_the_call() {
    assert_eq!(scantling(&["check", "tests/corpus/sheet_not_measured.scant"]).0, 0);
    assert_eq!(scantling(&["check", "tests/corpus/five_mistakes.scant"]).0, 1);
    assert_eq!(scantling(&["check", "tests/corpus/no_such_file.scant"]).0, 2);
    assert_eq!(scantling(&["check", "tests/corpus/not_utf8.scant"]).0, 2);
    assert_eq!(scantling(&["check", "tests"]).0, 2);
    assert_eq!(scantling(&["chek"]).0, 2);
    assert_eq!(scantling(&["show", "cutlist", EXAMPLE]).0, 2);
    assert_eq!(scantling(&["why", EXAMPLE, "sewing.five"]).0, 2);
    assert_eq!(scantling(&["explain", "X999"]).0, 2);
    assert_eq!(scantling(&["--help"]).0, 0);
}

#[test]
fn what_cannot_be_done_is_said_with_its_mend() {
    let missing = scantling(&["check", "no_such_file.scant"]).2;
    let folder = scantling(&["check", "tests"]).2;
    let utf8 = scantling(&["check", "tests/corpus/not_utf8.scant"]).2;
    let path = scantling(&["why", EXAMPLE, "sewing.one.shelf.bindrs.length"]).2;
    let code = scantling(&["explain", "S0001"]).2;
    insta::assert_snapshot!([missing, folder, utf8, path, code].concat());
}

#[test]
fn short_messages_are_one_line_each() {
    let (_, out, err) =
        scantling(&["check", "--message-format", "short", "tests/corpus/five_mistakes.scant"]);
    assert_eq!(out, "");
    let lines: Vec<&str> = err.lines().collect();
    assert_eq!(lines.len(), 6);
    assert_eq!(lines[0], "tests/corpus/five_mistakes.scant:3:1: error[N001]: unknown kind `sheat`");
    assert_eq!(lines[5], "tests/corpus/five_mistakes.scant: 5 errors");
}

/// So many carcasses with a warning each, and behind them one that no sheet holds.
fn many_warnings_and_a_late_error(carcasses: usize) -> String {
    let mut text = "project { marks = 1mm }\nstick lines { floor = 80mm, top = 800mm }\n".to_owned();
    for i in 0..=carcasses {
        let depth = if i == carcasses { 850 } else { 300 };
        text += &format!(
            "sheet ply{i} {{ size = 2440mm x 800mm, nominal = 18mm }}\n\
             carcass c{i} {{ stock = ply{i}, width = 600mm, height = 900mm, depth = {depth}mm, shelves = lines }}\n"
        );
    }
    text
}

#[test]
fn an_error_behind_many_warnings_is_an_error() {
    let (_keep, path) = folder();
    let (file, out) = (format!("{path}/many.scant"), format!("{path}/out"));
    fs::write(&file, many_warnings_and_a_late_error(120)).unwrap();
    let (status, _, err) = scantling(&["check", &file, "--message-format", "short"]);
    let lines: Vec<&str> = err.lines().collect();
    assert_eq!(status, 1);
    // Of 121 sheets not measured and two parts, a hundred are told: both parts are among them.
    assert_eq!(lines.len(), 102);
    let errors: Vec<&&str> = lines[..100].iter().filter(|line| line.contains(": error[")).collect();
    assert!(matches!(&errors[..], [shelf, side] if shelf.contains("C003") && side.contains("C003")));
    assert_eq!(lines[100], "... and 23 more");
    assert_eq!(lines[101], format!("{file}: 2 errors, 121 warnings"));
    assert_eq!(scantling(&["build", &file, "--out", &out]).0, 1);
    assert!(!Path::new(&out).exists());
}

#[test]
fn nothing_is_made_from_a_project_with_errors() {
    let (_keep, path) = folder();
    let out = format!("{path}/out");
    let (status, printed, err) = scantling(&["build", "tests/corpus/five_mistakes.scant", "--out", &out]);
    assert_eq!((status, printed.as_str()), (1, ""));
    assert!(err.ends_with("five_mistakes.scant: 5 errors; nothing was made\n"), "{err}");
    assert!(!Path::new(&out).exists());
}

#[test]
fn three_builds_give_the_same_bytes_also_with_declarations_in_another_order() {
    let (_keep, path) = folder();
    let text = fs::read_to_string(root().join(EXAMPLE)).unwrap();
    // The items of the file in reverse; an empty line stands between two.
    let mut items: Vec<String> = Vec::new();
    for block in text.split("\n\n") {
        match items.last_mut() {
            Some(item) if block.starts_with(' ') => item.push_str(&format!("\n\n{block}")),
            _ => items.push(block.to_owned()),
        }
    }
    assert!(items.len() > 15);
    items.reverse();
    let reversed = format!("{path}/sewing_room.scant");
    fs::write(&reversed, items.join("\n\n")).unwrap();
    let sources = [EXAMPLE, EXAMPLE, EXAMPLE, &reversed];
    let built: Vec<BTreeMap<String, Vec<u8>>> = sources
        .iter()
        .enumerate()
        .map(|(run, source)| {
            let out = format!("{path}/{run}");
            assert_eq!(scantling(&["build", source, "--out", &out]).0, 0);
            content(Path::new(&out))
        })
        .collect();
    // Every sheet in three forms, the calendar, the book, the list of what was made; a drawing of each way to cut a sheet, and those
    // of each view, together for the printer.
    let drawn = |form: &str| built[0].keys().filter(|name| name.ends_with(form)).count();
    let (drawings, printed) = (drawn(".svg"), drawn(".pdf"));
    assert_eq!(built[0].len(), 3 * scantling::sheets::SHEETS.len() + 3 + drawings + printed);
    assert!(drawings >= 3 + scantling::views::VIEWS.len() && printed > scantling::views::VIEWS.len());
    assert!(built[0].contains_key("book.html"));
    assert!(built[..3].iter().all(|files| *files == built[0]));
    // Reasons say in which line a value is stated; so the book, and the list with its hash, may differ in that alone.
    let mut plain = built.clone();
    for files in &mut plain {
        files.remove(".scantling-made");
        let book = String::from_utf8(files.remove("book.html").unwrap()).unwrap();
        let mut parts = book.split("class=\"reason\"");
        let pages = parts.next().unwrap().to_owned();
        let rest: String = parts.map(|part| part.split_once("</div>").unwrap().1).collect();
        assert!(pages.len() > 100_000 && rest.len() > 1000);
        files.insert("book.html".to_owned(), (pages + &rest).into_bytes());
    }
    assert!(plain.iter().all(|files| *files == plain[0]));
}

#[test]
fn a_folder_that_cannot_be_written_is_left_as_it_is() {
    let (_keep, path) = folder();
    let file = format!("{path}/plan");
    fs::write(&file, "not a folder").unwrap();
    let (status, _, err) = scantling(&["build", EXAMPLE, "--out", &file]);
    assert_eq!(status, 2);
    assert!(err.contains("F002") && err.contains("nothing there was changed"), "{err}");
    assert_eq!(fs::read_to_string(&file).unwrap(), "not a folder");
}

#[test]
fn files_that_scantling_did_not_make_are_kept() {
    let (_keep, path) = folder();
    let file = format!("{path}/parts.csv");
    fs::write(&file, "my own list").unwrap();
    let (status, _, err) = scantling(&["build", EXAMPLE, "--out", &path]);
    assert_eq!(status, 2);
    assert!(err.contains("F003") && err.contains("parts.csv"), "{err}");
    assert_eq!(content(Path::new(&path)).len(), 1);
    assert_eq!(fs::read_to_string(&file).unwrap(), "my own list");
    assert_eq!(scantling(&["build", EXAMPLE, "--out", &path, "--force"]).0, 0);
    assert_eq!(scantling(&["build", EXAMPLE, "--out", &path]).0, 0);
    assert!(fs::read_to_string(&file).unwrap().starts_with("group,part,"));
}

#[test]
fn a_new_project_builds_at_once_and_is_never_written_over() {
    for metric in [false, true] {
        let (_keep, path) = folder();
        let project = format!("{path}/shelves");
        let arguments: &[&str] = if metric { &["new", &project, "--metric"] } else { &["new", &project] };
        let (status, out, err) = scantling(arguments);
        assert_eq!((status, err.as_str()), (0, ""));
        assert!(out.contains("scantling show cut-list"));
        let file = format!("{project}/project.scant");
        let (status, out, err) = scantling(&["check", &file]);
        assert_eq!(status, 0);
        // It stands by no wall yet, so nothing holds it.
        let notes: Vec<&str> = err.lines().filter(|line| line.contains("]: ")).collect();
        let codes = notes.iter().map(|line| line.split(']').next().unwrap());
        // Its sheets have no room for a spare shelf; in inches a little less depth takes a sheet fewer.
        let expected: &[&str] =
            if metric { &["note[C090", "note[C053"] } else { &["note[C090", "note[C127", "note[C053"] };
        assert_eq!(codes.collect::<Vec<_>>(), expected, "{err}");
        assert!(out.contains("project.scant: 2 units, 28 parts; "), "{out}");
        let text = fs::read_to_string(&file).unwrap();
        for line in text.lines().filter(|line| line.contains('=')) {
            assert!(line.contains("//"), "no comment on {line}");
        }
        assert_eq!(scantling(arguments).0, 2);
        assert_eq!(fs::read_to_string(&file).unwrap(), text);
    }
}

#[test]
fn sheets_print_as_text_csv_and_json() {
    let text = scantling(&["show", "cut-list", EXAMPLE]).1;
    insta::assert_snapshot!("cut_list_text", text);
    let csv = scantling(&["show", "cut-list", EXAMPLE, "--format", "csv"]).1;
    insta::assert_snapshot!("cut_list_csv", csv.replace('\r', ""));
    insta::assert_snapshot!("marks_text", scantling(&["show", "marks", EXAMPLE]).1);
    let json: serde_json::Value =
        serde_json::from_str(&scantling(&["show", "cut-list", EXAMPLE, "--format", "json"]).1).unwrap();
    let shelf = &json["groups"][0]["rows"][1];
    assert_eq!(shelf["count"], 28);
    assert_eq!(shelf["role"], "shelf");
    let length = serde_json::json!({ "exact": "501/16 in", "print": "31 5/16\"", "mm": 795.3375 });
    assert_eq!(shelf["length"], length);
    assert_eq!(shelf["names"].as_array().unwrap().len(), 28);
    let parts: serde_json::Value =
        serde_json::from_str(&scantling(&["show", "parts", EXAMPLE, "--format", "json"]).1).unwrap();
    let right = &parts["parts"][1];
    assert_eq!(right["path"], "sewing.one.side.right");
    assert_eq!(right["position"]["x"]["exact"], "1009/32 in");
}

#[test]
fn why_answers_in_json_too() {
    let path = "sewing.one.shelf.binders.length";
    let (status, out, _) = scantling(&["why", EXAMPLE, path, "--format", "json"]);
    assert_eq!(status, 0);
    let json: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!(json[0]["value"]["print"], "31 5/16\"");
    assert_eq!(json[0]["steps"][0]["how"], "= clear width 30 13/16\" + 2 x dado depth 1/4\"");
    let listed = scantling(&["why", EXAMPLE, "sewing.one.shelf.binders"]).1;
    assert!(listed.contains("sewing.one.shelf.binders.opening_rear = 10 17/32\"\n"), "{listed}");
}

#[test]
fn explain_shows_the_rule_and_the_message() {
    insta::assert_snapshot!(scantling(&["explain", "hyphenated_fraction"]).1);
    let all = scantling(&["explain"]).1;
    assert!(all.lines().count() >= 40 && all.contains("C001  error    dado_depth "), "{all}");
}

#[test]
fn cut_plans_an_instance_and_writes_its_layout() {
    let (_keep, path) = folder();
    let out = format!("{path}/layout.json");
    let instance = "tests/packing/shelf-bookcases.json";
    let (status, line, err) =
        scantling(&["cut", instance, "--variant", "2rip", "--effort", "quick", "--out", &out]);
    assert_eq!((status, err.as_str()), (0, ""));
    let line: serde_json::Value = serde_json::from_str(&line).unwrap();
    // Five sheets are proven optimal (area bound 4.47, LP 4.64).
    assert_eq!(
        (&line["sheets"], &line["bound"], &line["faults"]),
        (&5.into(), &5.into(), &serde_json::json!([]))
    );
    assert!(line["seconds"].is_f64());
    let layout: serde_json::Value = serde_json::from_str(&fs::read_to_string(&out).unwrap()).unwrap();
    assert_eq!(layout["format"], "cutlayout/1");
    assert_eq!(layout["sheets"].as_array().unwrap().len(), 5);
    assert_eq!(scantling(&["cut", instance, "--variant", "none", "--out", &out]).0, 2);
}

#[test]
fn commands_about_something_else_count_the_warnings_in_one_line() {
    let line = format!("{EXAMPLE}: 4 warnings; `scantling check {EXAMPLE}` tells them\n");
    assert_eq!(scantling(&["show", "hardware", EXAMPLE]).2, line);
    assert_eq!(scantling(&["why", EXAMPLE, "sewing.one.width"]).2, line);
    assert_eq!(scantling(&["show", "limits", EXAMPLE]).2.lines().count(), 1);
    // Where all is well there is nothing to count, and errors are told as they are.
    assert_eq!(scantling(&["show", "hardware", "examples/back-hall/back_hall.scant"]).2, "");
    let (status, _, err) = scantling(&["show", "hardware", "tests/corpus/five_mistakes.scant"]);
    assert_eq!((status, err.matches("error[").count()), (1, 5), "{err}");
}

#[test]
fn a_sheet_in_the_place_of_a_command_is_shown_and_what_is_hidden_is_no_proposal() {
    let tip = |word| scantling(&[word]).2;
    assert!(tip("cut-list").contains("'show cut-list'"), "{}", tip("cut-list"));
    assert!(tip("cut_list").contains("'show cut-list'") && tip("hardwear").contains("'show hardware'"));
    assert!(tip("chek").contains("'check'"));
    for word in ["cutt", "git-dif"] {
        assert!(!tip(word).contains("similar"), "{}", tip(word));
    }
}

/// A view is shown as drawings, as a list, for spreadsheets and for programs; a path picks, and a near miss is named.
#[test]
fn views_are_shown_in_every_form() {
    let (status, out, _) = scantling(&["show", "elevation", EXAMPLE, "sewing.two", "--format", "svg"]);
    assert!(
        status == 0 && out.starts_with("<svg") && out.contains("sewing.two: elevation of sewing"),
        "{out}"
    );
    let out = scantling(&["show", "elevation", EXAMPLE]).1;
    assert!(out.contains("\nunit widths and gaps") && out.contains("one 32 1/4\";"), "{out}");
    let out = scantling(&["show", "section", EXAMPLE, "sewing.one", "--format", "csv"]).1;
    assert!(out.contains("depths from the wall"), "{out}");
    let out = scantling(&["show", "side", EXAMPLE, "sewing.one", "--format", "json"]).1;
    let json: serde_json::Value = serde_json::from_str(&out).unwrap();
    // 11 13/16 in are 24003/80 mm, 86 1/2 in 21971/10 mm.
    let outline = &json["drawings"][0]["panes"][0]["shapes"][0]["form"]["outline"];
    let expected = [["0", "0"], ["24003/80", "0"], ["24003/80", "21971/10"], ["0", "21971/10"]];
    assert_eq!(*outline, serde_json::json!(expected));
    let (status, _, err) = scantling(&["show", "elevation", EXAMPLE, "sewing.thre"]);
    assert!(status == 2 && err.contains("did you mean `sewing.three`?"), "{err}");
    let (status, _, err) = scantling(&["show", "marks", EXAMPLE, "sewing.one"]);
    assert!(status == 2 && err.contains("`marks` is of the whole project"), "{err}");
    assert_eq!(scantling(&["show", "plan", EXAMPLE, "--format", "ics"]).0, 2);
}
