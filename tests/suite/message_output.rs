//! Where the program prints messages in each form, and that nothing else stands beside a document.

use crate::command_line::{content, folder, scantling};
use serde_json::Value;
use std::fs;
use std::path::Path;

fn array(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

const BAD: &str = "tests/corpus/five_mistakes.scant";
const GOOD: &str = "src/cli/new/inch.scant";

fn told(arguments: &[&str], form: &str) -> (i32, String, String) {
    scantling(&[arguments, &["--message-format", form]].concat())
}

#[test]
fn check_prints_the_document_alone_and_to_standard_output() {
    for form in ["json", "sarif"] {
        for (file, status, count) in [(GOOD, 0, 3), (BAD, 1, 5)] {
            let (was, out, err) = told(&["check", file], form);
            assert_eq!((was, err.as_str()), (status, ""));
            let document: Value = serde_json::from_str(&out).unwrap();
            let messages =
                if form == "json" { &document["messages"] } else { &document["runs"][0]["results"] };
            assert_eq!(array(messages).len(), count);
            assert!(out.ends_with("}\n"));
        }
    }
    let quiet = "examples/back-hall/back_hall.scant";
    assert_eq!(told(&["check", quiet], "json").1, "{\"version\": 2, \"left_out\": 0, \"messages\": []}\n");
}

#[test]
fn other_commands_print_the_document_to_standard_error_and_their_answer_to_standard_output() {
    let plain = scantling(&["show", "cut-list", GOOD, "--format", "json"]).1;
    for form in ["json", "sarif"] {
        let (status, out, err) = told(&["show", "cut-list", GOOD, "--format", "json"], form);
        assert_eq!((status, out == plain), (0, true));
        assert!(serde_json::from_str::<Value>(&err).unwrap().is_object());
        let (_keep, path) = folder();
        let (status, out, err) = told(&["build", BAD, "--out", &path], form);
        assert_eq!((status, out.as_str()), (1, ""));
        assert!(serde_json::from_str::<Value>(&err).unwrap().is_object(), "{err}");
        assert!(content(Path::new(&path)).is_empty());
    }
}

#[test]
fn warnings_and_a_failure_of_one_run_are_one_document() {
    let (_keep, path) = folder();
    fs::write(format!("{path}/parts.csv"), "my own list").unwrap();
    let file = "tests/corpus/sheet_not_measured.scant";
    let (status, out, err) = told(&["build", file, "--out", &path], "json");
    assert_eq!((status, out.as_str()), (2, ""));
    let document: Value = serde_json::from_str(&err).unwrap();
    let codes: Vec<&str> =
        array(&document["messages"]).iter().map(|message| message["code"].as_str().unwrap()).collect();
    assert_eq!(codes.last(), Some(&"F003"));
    assert!(codes.contains(&"C002"), "{codes:?}");
    let (_, _, err) = told(&["build", file, "--out", &path], "sarif");
    let document: Value = serde_json::from_str(&err).unwrap();
    let invocation = &document["runs"][0]["invocations"][0];
    assert_eq!(invocation["executionSuccessful"], false);
    assert_eq!(invocation["toolExecutionNotifications"][0]["descriptor"]["id"], "F003");
}

#[test]
fn fmt_tells_every_file_that_fails_in_one_document() {
    let (_keep, path) = folder();
    let broken = format!("{path}/broken.scant");
    fs::write(&broken, "sheet ply { thickness = = }\n").unwrap();
    let (status, _, err) = told(&["fmt", "--check", "no_one", &broken, "no_two"], "json");
    assert_eq!(status, 2);
    let document: Value = serde_json::from_str(&err).unwrap();
    let said: Vec<(&Value, &str)> = array(&document["messages"])
        .iter()
        .map(|message| (&message["code"], message["message"].as_str().unwrap()))
        .collect();
    let remark = format!("{broken}: 1 entry cannot be read and stays as written");
    let code = Value::from("F001");
    assert_eq!(
        said,
        [
            (&Value::Null, remark.as_str()),
            (&code, "cannot read no_one: there is no such file"),
            (&code, "cannot read no_two: there is no such file"),
        ]
    );
}

#[test]
fn a_command_that_cannot_be_carried_out_says_so_in_each_form() {
    let run = |form| {
        let (status, out, err) = told(&["check", "no_such_file.scant"], form);
        assert_eq!(status, 2);
        out + &err
    };
    let forms = ["human", "narrated", "short", "json"].map(run).join("\n");
    let document: Value = serde_json::from_str(&run("sarif")).unwrap();
    let invocation = serde_json::to_string_pretty(&document["runs"][0]["invocations"][0]).unwrap();
    insta::assert_snapshot!(format!("{forms}\n{invocation}"));
    assert_eq!(document["runs"][0]["results"], serde_json::json!([]));
}

#[test]
fn into_a_pipe_go_neither_colours_nor_lines_beyond_ascii() {
    for form in ["human", "narrated", "short", "json", "sarif"] {
        for file in [BAD, "no_such_file.scant"] {
            let (_, out, err) = told(&["check", file], form);
            assert!(out.is_ascii() && err.is_ascii() && !(out + &err).contains('\u{1b}'), "{form}");
        }
    }
    assert!(told(&["check", BAD, "--color", "always"], "human").2.contains("\u{1b}["));
    for form in ["narrated", "json", "sarif"] {
        let (_, out, err) = told(&["check", BAD, "--color", "always"], form);
        assert!(!(out + &err).contains('\u{1b}'), "{form}");
    }
}

#[test]
fn how_many_messages_are_left_out_is_said_in_each_form() {
    let (_keep, path) = folder();
    let file = format!("{path}/many.scant");
    let text: String = (0..130).map(|i| format!("let a{i} = b{i}\n")).collect();
    fs::write(&file, text).unwrap();
    for form in ["human", "narrated", "short"] {
        assert!(told(&["check", &file], form).2.contains("\n... and "), "{form}");
    }
    let document: Value = serde_json::from_str(&told(&["check", &file], "json").1).unwrap();
    assert_eq!(array(&document["messages"]).len(), 100);
    let left_out = document["left_out"].as_u64().unwrap();
    assert!(left_out >= 30);
    let document: Value = serde_json::from_str(&told(&["check", &file], "sarif").1).unwrap();
    let notification = &document["runs"][0]["invocations"][0]["toolExecutionNotifications"][0];
    assert_eq!(notification["message"]["text"], format!("{left_out} more messages were left out"));
    assert_eq!(document["runs"][0]["invocations"][0]["executionSuccessful"], true);
}

/// Twenty carcasses with one slip: people see twelve of the places and how many more there are, programs all of them. A line of
/// more than 1,000 letters is not drawn, its place is told.
#[test]
fn people_see_a_few_places_and_no_endless_line() {
    let (_keep, path) = folder();
    let file = format!("{path}/many.scant");
    let carcass = |i| format!("carcass k{i} {{ shelves = s, width = 600mm, height = 900mm, depth = 3mm }}\n");
    let all: String = (0..20).map(carcass).collect();
    let text = format!("sheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm, high = 500mm }}\n{all}");
    fs::write(&file, &text).unwrap();
    let (_, _, out) = scantling(&["check", &file]);
    assert_eq!(out.matches("rarely under 60 mm or over 900 mm").count(), 12, "{out}");
    assert_eq!(out.matches("  = and 8 more places\n").count(), 1, "{out}");
    let document: Value = serde_json::from_str(&told(&["check", &file], "json").1).unwrap();
    assert_eq!(array(&document["messages"][0]["labels"]).len(), 20);
    fs::write(
        &file,
        text.replacen("}\nstick", &format!("}} // {}\nstick", "x".repeat(1_000)), 1).replace("18mm", "0mm"),
    )
    .unwrap();
    let (_, _, out) = scantling(&["check", &file]);
    assert!(out.lines().all(|line| line.len() < 300), "{out}");
    assert!(out.contains("many.scant:1:25: here\n"), "{out}");
}
