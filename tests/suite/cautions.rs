//! Every output carries its cautions: each sheet in every form, calendars, drawings, differences, reasons, `check`.

use crate::command_line::scantling;
use crate::revisions::side;
use crate::sawn::EXAMPLES;
use crate::{compiled, compiled_text, files_under};
use scantling::breakdown::Effort;
use scantling::diff::{diff, document, overlay};
use scantling::document::{AT_WORK, CAUTIONS, DRAWN, Drawing, ESTIMATED, FINISHING, HAZARDS};
use scantling::render::{csv, html, svg, text};
use scantling::sheets::{Output, SHEETS};
use serde_json::Value;
use std::collections::BTreeSet;

const SEWING: &str = "examples/sewing-room/sewing_room.scant";

const STARTER: &str = "src/cli/new/metric.scant";

/// Lines joined, so that a break does not hide words.
fn joined(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A page of HTML as it is read.
fn read(page: &str) -> String {
    page.replace("&quot;", "\"").replace("&amp;", "&")
}

#[test]
fn every_sheet_carries_the_cautions_in_every_form() {
    for file in EXAMPLES {
        let project = compiled(file);
        for sheet in SHEETS {
            let Output { json, document, .. } = (sheet.make)(project.subject(Effort::Quick));
            let own: &[&str] = if sheet.name == "finish" { &[FINISHING] } else { &[] };
            let expected: Vec<&str> = own.iter().copied().chain(CAUTIONS).collect();
            let place = format!("{file}, {}", sheet.name);
            assert_eq!(json.value()["cautions"], Value::from(expected.clone()), "{place}");
            assert!(json.text().trim_end().ends_with("]\n}"), "{place}: they stand last");
            let [plain, page] = [joined(&text(&document)), read(&html(&document, &[]))];
            for caution in &expected {
                assert_eq!(plain.matches(caution).count(), 1, "{place}");
                assert_eq!(page.matches(caution).count(), 1, "{place}");
            }
            // The last table of the CSV ends with them, and each of its rows has as many cells.
            let rows = csv(&document);
            let last = rows.rsplit("\r\n\r\n").next().unwrap();
            let records: Vec<table::Row> = table::rows(last);
            assert!(records.windows(2).all(|pair| pair[0].len() == pair[1].len()), "{place}: {last}");
            let told: Vec<&str> =
                records.iter().filter(|row| row[0] == "caution").map(|row| row[1].as_str()).collect();
            assert_eq!(told, expected, "{place}");
        }
    }
}

/// Just so much of RFC 4180 as the test needs, so that what reads a table is not what wrote it.
mod table {
    pub type Row = Vec<String>;

    pub fn rows(text: &str) -> Vec<Row> {
        let (mut rows, mut row, mut cell, mut quoted) = (Vec::new(), Row::new(), String::new(), false);
        let mut chars = text.chars().peekable();
        while let Some(sign) = chars.next() {
            match sign {
                '"' if quoted && chars.peek() == Some(&'"') => cell.extend(chars.next()),
                '"' => quoted = !quoted,
                ',' if !quoted => row.push(std::mem::take(&mut cell)),
                '\r' if !quoted => {}
                '\n' if !quoted => {
                    row.push(std::mem::take(&mut cell));
                    rows.push(std::mem::take(&mut row));
                }
                other => cell.push(other),
            }
        }
        rows
    }
}

/// What a path of names leads to, through lists.
fn led<'a>(value: &'a Value, path: &[&str]) -> Vec<&'a Value> {
    match (value, path) {
        (Value::Array(all), _) => all.iter().flat_map(|value| led(value, path)).collect(),
        (Value::Null, _) => Vec::new(),
        (value, []) => vec![value],
        (value, [name, rest @ ..]) => led(value.get(name).unwrap_or(&Value::Null), rest),
    }
}

#[test]
fn what_is_an_estimate_is_marked_for_programs() {
    let (mut named, mut found) = (BTreeSet::new(), BTreeSet::new());
    for file in EXAMPLES {
        let project = compiled(file);
        for sheet in SHEETS {
            let json = (sheet.make)(project.subject(Effort::Quick)).json.value();
            for path in json["estimates"].as_array().into_iter().flatten() {
                let path = path.as_str().unwrap();
                named.insert((sheet.name, path.to_owned()));
                if !led(&json, &path.split('.').collect::<Vec<_>>()).is_empty() {
                    found.insert((sheet.name, path.to_owned()));
                }
            }
        }
    }
    assert_eq!(named, found, "each leads to a value in an example");
    let expected = [
        ("cut-list", "groups.solid.to_buy"),
        ("finish", "areas.size"),
        ("finish", "products.needed"),
        ("finish", "steps.begins"),
        ("finish", "steps.ends"),
        ("limits", "limits.margin"),
        ("limits", "limits.value"),
        ("progress", "hours.done"),
        ("progress", "hours.left"),
        ("progress", "hours.seconds_each"),
        ("progress", "left"),
        ("shopping", "rows.count"),
        ("shopping", "substitutes"),
        ("tree", "runs.load"),
        ("tree", "runs.loaded_weight"),
        ("tree", "runs.units.load"),
        ("tree", "runs.units.openings.weight"),
    ];
    assert_eq!(named, expected.map(|(sheet, path)| (sheet, path.to_owned())).into());

    // Among the limits each row says it of itself: a weight and a sag are estimates, a length and the reach of a saw are none.
    let project = compiled(SEWING);
    let limits = SHEETS.iter().find(|sheet| sheet.name == "limits").unwrap();
    let json = (limits.make)(project.subject(Effort::Quick)).json.value();
    let estimate = |slug: &str| {
        let rows = json["limits"].as_array().unwrap().iter().filter(|row| row["slug"] == slug);
        rows.map(|row| row["estimate"].as_bool().unwrap()).collect::<BTreeSet<_>>()
    };
    assert_eq!(estimate("carry"), [false, true].into());
    assert_eq!(estimate("sag"), [true].into());
    assert_eq!(estimate("saw_reach"), [false].into());
}

#[test]
fn a_calendar_carries_the_cautions() {
    let finish = SHEETS.iter().find(|sheet| sheet.name == "finish").unwrap();
    let calendar = (finish.make)(compiled(SEWING).subject(Effort::Quick)).calendar.unwrap();
    // RFC 5545 folds lines and escapes commas and semicolons.
    let unfolded = calendar.replace("\r\n ", "").replace("\\,", ",").replace("\\;", ";");
    let (head, events) = unfolded.split_once("BEGIN:VEVENT").unwrap();
    assert!(head.contains(ESTIMATED) && head.contains(AT_WORK), "{head}");
    let (events, told) = (events.matches("END:VEVENT").count(), events.matches(FINISHING).count());
    assert!(events > 2 && told == events, "{told} of {events}");
}

#[test]
fn every_drawing_defers_to_local_codes() {
    let mut seen = 0;
    for file in EXAMPLES {
        let project = compiled(file);
        let subject = project.subject(Effort::Quick);
        let elevations = overlay(side(file, &project), side(file, &project));
        let drawings: Vec<Drawing> =
            SHEETS.iter().filter_map(|sheet| sheet.draw).flat_map(|draw| draw(subject)).collect();
        let views = crate::drawings::views(&project);
        assert!(views.len() >= 7, "{file}: {}", views.len());
        for drawing in drawings.iter().chain(&elevations).chain(&views) {
            assert_eq!(svg(drawing).matches(DRAWN).count(), 1, "{file}, {}", drawing.name);
            seen += 1;
        }
    }
    assert!(seen > 25, "{seen}");
}

#[test]
fn a_difference_carries_the_cautions_also_where_nothing_differs() {
    let box_of = |width: &str| {
        let ply = "sheet ply { thickness = 18mm }\nstick s { floor = 80mm }\n";
        compiled_text(&format!(
            "{ply}carcass a {{ shelves = s, width = {width}, height = 900mm, depth = 300mm }}\n"
        ))
    };
    let [old, same, new] = ["600mm", "600mm", "650mm"].map(box_of);
    let old = side("old", &old);
    for (new, differs) in [(side("new", &same), false), (side("new", &new), true)] {
        let found = diff(old, new);
        assert_eq!(found.is_empty(), !differs);
        let page = document(&found, old, new);
        assert_eq!(page.cautions, CAUTIONS);
        let plain = joined(&text(&page));
        assert!(CAUTIONS.iter().all(|caution| plain.contains(caution)), "{plain}");
    }
    let (_, out, _) = scantling(&["diff", STARTER, STARTER, "--format", "json"]);
    let json: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(json["cautions"], Value::from(CAUTIONS.to_vec()), "{out}");
}

#[test]
fn the_reason_of_an_estimate_carries_the_cautions_and_that_of_a_size_does_not() {
    for path in ["sewing.one.weight", "sewing.one.standing_height", "sewing.one.shelf.binders.sag_front"] {
        let (status, out, err) = scantling(&["why", SEWING, path]);
        assert_eq!(status, 0, "{path}: {err}");
        assert!(CAUTIONS.iter().all(|caution| out.contains(caution)), "{path}: {out}");
        let (_, out, _) = scantling(&["why", SEWING, path, "--format", "json"]);
        let json: Value = serde_json::from_str(&out).unwrap();
        assert_eq!(json[0]["cautions"], Value::from(CAUTIONS.to_vec()), "{out}");
    }
    let (_, out, _) = scantling(&["why", SEWING, "sewing.one.shelf.binders.length"]);
    assert!(!CAUTIONS.iter().any(|caution| out.contains(caution)), "{out}");
}

/// One line, however many of the messages are about what hurts; no line where none is.
#[test]
fn check_says_one_line_with_what_hurts() {
    let (mut with, mut without) = (BTreeSet::new(), 0);
    let hazards = [
        ("carry", "examples/sewing-room/sewing_room.scant"),
        ("floor", "examples/alcove-pair/alcove_pair.scant"),
    ];
    for (slug, file) in hazards {
        let (_, _, err) = scantling(&["check", file, "--message-format", "short"]);
        assert_eq!(err.matches(HAZARDS).count(), 1, "{slug}: {err}");
        with.insert(slug);
    }
    let codes = scantling::check::HAZARDS.iter().flat_map(|check| check.codes);
    for code in codes {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("a.scant");
        let example = code.example.as_ref().unwrap();
        for (text, lines) in [(example.bad, 1), (example.good, 0)] {
            std::fs::write(&file, text).unwrap();
            let (_, out, err) = scantling(&["check", file.to_str().unwrap()]);
            assert_eq!(format!("{out}{err}").matches(HAZARDS).count(), lines, "{}: {out}{err}", code.slug);
            let (_, out, _) = scantling(&["check", file.to_str().unwrap(), "--message-format", "json"]);
            let json: Value = serde_json::from_str(&out).unwrap();
            assert_eq!(json["cautions"].as_array().map_or(0, Vec::len), lines, "{}: {out}", code.slug);
            without += usize::from(lines == 0);
        }
        with.insert(code.slug);
    }
    assert!(["carry", "tips", "floor", "old_paint", "outlet_covered"].iter().all(|slug| with.contains(slug)));
    assert!(without >= 8);
}

/// What could not be checked stands in the document of `check`, with the values that are missing for it; a form without a field
/// for it says it in words, and the caution too.
#[test]
fn documents_of_check_say_what_was_not_checked() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("a.scant");
    let text = "sheet ply { thickness = 3/4\" }\nstick s { low = 3\", top = 26\" }\n\
                carcass a { shelves = s, width = 30\", height = 30\", depth = 11\" }\n";
    std::fs::write(&file, text).unwrap();
    let path = file.to_str().unwrap();
    let (_, out, _) = scantling(&["check", path, "--message-format", "json"]);
    let json: Value = serde_json::from_str(&out).unwrap();
    let all = json["not_checked"].as_array().unwrap();
    let tips = all.iter().find(|lack| lack["slug"] == "tips").unwrap();
    assert_eq!(tips["code"], "C053");
    assert_eq!(tips["about"], serde_json::json!(["a"]));
    assert_eq!(tips["needs"], serde_json::json!([{ "property": "density", "of": "ply" }]));
    assert_eq!(tips["file"], path);
    let (_, out, _) = scantling(&["check", path, "--message-format", "sarif"]);
    let sarif: Value = serde_json::from_str(&out).unwrap();
    let asides = sarif["runs"][0]["invocations"][0]["toolExecutionNotifications"].as_array().unwrap();
    let said: Vec<&str> = asides.iter().map(|aside| aside["message"]["text"].as_str().unwrap()).collect();
    let first = format!("{path}: not checked for want of `density` of `ply`: tips");
    assert!(said.iter().any(|text| text.starts_with(&first)), "{said:?}");
    // With its density nothing is left open, and there is no list.
    std::fs::write(&file, text.replace("3/4\" }", "3/4\", density = 36 lb/ft3 }")).unwrap();
    let (_, out, _) = scantling(&["check", path, "--message-format", "json"]);
    let json: Value = serde_json::from_str(&out).unwrap();
    let left = json["not_checked"].as_array().map_or(0, Vec::len);
    assert_eq!(left, 0, "{out}");
    // A message on what hurts brings its caution into both documents.
    let args = ["check", "examples/sewing-room/sewing_room.scant", "--message-format", "sarif"];
    let (_, out, _) = scantling(&args);
    assert_eq!(out.matches(HAZARDS).count(), 1, "{out}");
    let args = ["diff", "--summary", args[1], "examples/alcove-pair/alcove_pair.scant"];
    let (_, out, err) = scantling(&args);
    assert_eq!((out.lines().count(), err.matches(HAZARDS).count()), (1, 1), "{out}{err}");
}

/// No text of a caution stands a second time in the sources, where it would drift.
#[test]
fn each_caution_is_said_in_one_place() {
    let starts = CAUTIONS.into_iter().chain([FINISHING, DRAWN, HAZARDS]).map(|text| &text[..30]);
    let sources: Vec<String> =
        files_under("src", ".rs").iter().map(|path| std::fs::read_to_string(path).unwrap()).collect();
    for start in starts {
        assert_eq!(sources.iter().map(|source| source.matches(start).count()).sum::<usize>(), 1, "{start}");
    }
}
