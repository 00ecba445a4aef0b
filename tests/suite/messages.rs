//! The forms of messages: what each must say, whatever the message.

use crate::corpus::{bad_examples, corpus, drawn, logged};
use scantling::compile::{Compilation, codes, compile};
use scantling::diag::Diagnostic;
use scantling::report::{Form, Log, Style, Trouble, json, render, render_trouble, sarif};
use scantling::source::{MemoryFiles, Sources, Span};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

fn all() -> Vec<(String, Compilation)> {
    let mut all = corpus();
    all.extend(bad_examples());
    assert!(all.len() >= 80, "{} texts", all.len());
    all
}

fn json_of(log: &Log) -> Value {
    serde_json::from_str(&json(log)).unwrap()
}

fn sarif_of(log: &Log) -> Value {
    serde_json::from_str(&sarif(log, codes())).unwrap()
}

fn array(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

/// The byte of a line and a column; how long a character is, `width` says.
fn byte_at(text: &str, line: &Value, column: &Value, first: u64, width: impl Fn(char) -> u64) -> usize {
    let (line, column) = (line.as_u64().unwrap() - first, column.as_u64().unwrap() - first);
    let begin: usize = text.split_inclusive('\n').take(line.try_into().unwrap()).map(str::len).sum();
    let mut passed = 0;
    let rest = text[begin..].char_indices().find(|(_, c)| {
        let here = passed >= column;
        passed += width(*c);
        here
    });
    rest.map_or(text.len(), |(at, _)| begin + at)
}

/// The bytes of a region in our JSON, which says them in three ways.
fn region(region: &Value, text: &str) -> Range<usize> {
    let ends = ["start", "end"].map(|end| {
        let byte = usize::try_from(region["bytes"][end].as_u64().unwrap()).unwrap();
        let (people, editor) = (&region[end], &region["utf16"][end]);
        assert_eq!(byte_at(text, &people["line"], &people["column"], 1, |_| 1), byte, "{region}");
        let utf16 = |c: char| c.len_utf16() as u64;
        assert_eq!(byte_at(text, &editor["line"], &editor["character"], 0, utf16), byte, "{region}");
        byte
    });
    ends[0]..ends[1]
}

#[test]
fn json_says_each_message_with_its_places_in_bytes_characters_and_utf16() {
    for (name, compilation) in all() {
        let document = json_of(&logged(&compilation));
        let texts: BTreeMap<&str, &str> =
            compilation.sources.iter().map(|file| (file.path().as_str(), file.text())).collect();
        let messages = array(&document["messages"]);
        assert_eq!(messages.len(), compilation.diagnostics.len());
        for (message, diagnostic) in messages.iter().zip(&compilation.diagnostics) {
            assert_eq!(message["code"], diagnostic.code.id);
            assert_eq!(message["slug"], diagnostic.code.slug);
            assert_eq!(message["severity"], diagnostic.severity.word());
            assert_eq!(message["message"], *diagnostic.message);
            assert_eq!(message["notes"], serde_json::json!(diagnostic.notes));
            assert_eq!(message["help"], serde_json::json!(diagnostic.help));
            assert_eq!(array(&message["labels"]).len(), diagnostic.labels.len());
            for (place, label) in array(&message["labels"]).iter().zip(&diagnostic.labels) {
                let text = texts[place["path"].as_str().unwrap()];
                assert_eq!(region(place, text), label.span.range(), "{name}");
                assert_eq!(place["primary"], label.primary);
                assert_eq!(place["text"], *label.text);
            }
        }
    }
}

/// A message, as far as it says whether it is still there.
fn heads(compilation: &Compilation) -> Vec<(&str, &str)> {
    compilation.diagnostics.iter().map(|d| (d.code.id, d.message.as_str())).collect()
}

#[test]
fn each_fix_in_json_and_in_sarif_mends_its_message() {
    let mut applied = 0;
    for (name, compilation) in all() {
        let (document, results) = (json_of(&logged(&compilation)), sarif_of(&logged(&compilation)));
        let results = array(&results["runs"][0]["results"]);
        for (message, result) in array(&document["messages"]).iter().zip(results) {
            assert_eq!(array(&message["fixes"]).len(), array(&result["fixes"]).len());
            for (fix, twin) in array(&message["fixes"]).iter().zip(array(&result["fixes"])) {
                let edits = array(&fix["edits"]);
                let path = edits[0]["path"].as_str().unwrap();
                let file = compilation.sources.iter().find(|file| file.path() == path).unwrap();
                let mut places: Vec<(Range<usize>, &str)> = edits
                    .iter()
                    .map(|edit| (region(edit, file.text()), edit["replacement"].as_str().unwrap()))
                    .collect();
                let changes = array(&twin["artifactChanges"]);
                let changes: Vec<&Value> = changes.iter().flat_map(|of| array(&of["replacements"])).collect();
                assert_eq!(changes.len(), places.len());
                for (change, (range, replacement)) in changes.into_iter().zip(&places) {
                    assert_eq!(change["insertedContent"]["text"], *replacement);
                    let deleted = &change["deletedRegion"];
                    let at = |line: &str, column: &str| {
                        byte_at(file.text(), &deleted[line], &deleted[column], 1, |_| 1)
                    };
                    assert_eq!(at("startLine", "startColumn")..at("endLine", "endColumn"), *range);
                }
                // From the last to the first, so that those before stay where they are.
                places.sort_by_key(|(range, _)| std::cmp::Reverse(range.start));
                let mut mended = file.text().to_owned();
                places
                    .iter()
                    .for_each(|(range, replacement)| mended.replace_range(range.clone(), replacement));
                let again = compile(&MemoryFiles::single(path, mended.clone()), path.into()).unwrap();
                let said = (message["code"].as_str().unwrap(), message["message"].as_str().unwrap());
                let count = |compilation| heads(compilation).into_iter().filter(|head| *head == said).count();
                assert_eq!(count(&again) + 1, count(&compilation), "{name}: {said:?}\n{mended}");
                applied += 1;
            }
        }
    }
    assert!(applied >= 10, "only {applied} fixes");
}

#[test]
fn narrated_says_everything_that_the_message_has() {
    for (name, compilation) in all() {
        for diagnostic in &compilation.diagnostics {
            let style = Style { form: Form::Narrated, colour: true, unicode: true };
            let told = render(std::slice::from_ref(diagnostic), &compilation.sources, style);
            let said = |text: &str| {
                let printable: String = text.chars().filter(|c| c.is_ascii_graphic()).collect();
                let told: String = told.chars().filter(|c| c.is_ascii_graphic()).collect();
                assert!(
                    !printable.is_ascii() || told.contains(&printable),
                    "{name}: {text:?} is not in\n{told}"
                );
            };
            assert!(told.contains(&format!("diagnostic code: {}\n", diagnostic.code.id)), "{name}: {told}");
            diagnostic.help.iter().for_each(|help| said(help));
            diagnostic.notes.iter().flat_map(|note| note.lines()).for_each(said);
            for label in &diagnostic.labels {
                said(&label.text);
                let file = compilation.sources.get(label.span.file).unwrap();
                assert!(told.contains(file.path().as_str()), "{name}: {told}");
                let line = file.position(label.span.start).line + 1;
                let place = ["at", "starting at"].map(|at| format!("    label {at} line {line}, column"));
                assert!(
                    place.iter().any(|place| told.contains(place)),
                    "{name}: {place:?} is not in\n{told}"
                );
            }
        }
    }
}

#[test]
fn sarif_has_the_structure_of_the_standard() {
    let known: BTreeSet<&str> = codes().map(|code| code.id).collect();
    for (name, compilation) in all() {
        let document = sarif_of(&logged(&compilation));
        assert_eq!(document["version"], "2.1.0");
        assert_eq!(document["$schema"], "https://json.schemastore.org/sarif-2.1.0.json");
        assert_eq!(array(&document["runs"]).len(), 1);
        let run = &document["runs"][0];
        assert_eq!(run["columnKind"], "unicodeCodePoints");
        assert_eq!(run["invocations"][0]["executionSuccessful"], true);
        assert_eq!(run["tool"]["driver"]["name"], "scantling");
        let rules = array(&run["tool"]["driver"]["rules"]);
        assert_eq!(rules.iter().map(|rule| rule["id"].as_str().unwrap()).collect::<BTreeSet<_>>(), known);
        for rule in rules {
            assert!(
                rule["shortDescription"]["text"].is_string() && rule["fullDescription"]["text"].is_string()
            );
            assert!(
                ["error", "warning", "note"]
                    .contains(&rule["defaultConfiguration"]["level"].as_str().unwrap())
            );
        }
        let results = array(&run["results"]);
        assert_eq!(results.len(), compilation.diagnostics.len());
        for (result, diagnostic) in results.iter().zip(&compilation.diagnostics) {
            assert_eq!(result["ruleId"], diagnostic.code.id);
            assert!(known.contains(result["ruleId"].as_str().unwrap()));
            assert_eq!(result["level"], diagnostic.severity.word());
            let text = result["message"]["text"].as_str().unwrap();
            let plain = text.replace("{{", "").replace("}}", "");
            assert!(!plain.contains(['{', '}']), "{name}: a placeholder in {text}");
            assert!(text.replace("{{", "{").replace("}}", "}").starts_with(&diagnostic.message));
            let related = array(&result["relatedLocations"]);
            let locations = array(&result["locations"]);
            assert_eq!(locations.len(), usize::from(diagnostic.span().is_some()));
            assert_eq!(locations.len() + related.len(), diagnostic.labels.len());
            let ids: Vec<u64> = related.iter().map(|place| place["id"].as_u64().unwrap()).collect();
            assert_eq!(ids, (1..=related.len() as u64).collect::<Vec<_>>());
            for place in locations.iter().chain(related) {
                let place = &place["physicalLocation"];
                let uri = place["artifactLocation"]["uri"].as_str().unwrap();
                assert!(uri.ends_with(".scant") && uri.is_ascii() && !uri.contains(' '), "{uri}");
                let region = &place["region"];
                let [line, column, end_line, end_column] =
                    ["startLine", "startColumn", "endLine", "endColumn"].map(|n| region[n].as_u64().unwrap());
                assert!(line >= 1 && column >= 1 && end_column >= 1, "{region}");
                assert!((end_line, end_column) >= (line, column), "{region}");
            }
            if let Some(span) = diagnostic.span() {
                let start = compilation.sources.get(span.file).unwrap().position(span.start);
                let region = &locations[0]["physicalLocation"]["region"];
                assert_eq!(region["startLine"], start.line + 1);
                assert_eq!(region["startColumn"], start.col + 1);
            }
        }
    }
}

/// Whether a terminal would obey it.
fn obeyed(c: char) -> bool {
    (c.is_control() && c != '\n' && c != '\t')
        || "\u{61c}\u{200e}\u{200f}\u{202a}\u{202b}\u{202c}\u{202d}\u{202e}\u{2066}\u{2067}\u{2068}\u{2069}"
            .contains(c)
}

#[test]
fn nothing_that_a_terminal_obeys_comes_through_in_any_form() {
    // In the name of the file, in a comment, in a text, in a name; and a return without a new line.
    let text =
        "// \u{1b}[31m\u{202e}\nproject \"\u{7}\u{85}\" {}\nlet \u{2066}\u{200f} = 3\nlet x\r = yz\u{7f}\n";
    let path = "a\u{1b}[2J\u{202e}\n\rb.scant";
    let mut compilations = all();
    let hostile = compile(&MemoryFiles::single(path, text), path.into()).unwrap();
    assert!(hostile.diagnostics.len() >= 4);
    let document = json_of(&logged(&hostile));
    assert_eq!(document["messages"][0]["labels"][0]["path"], path);
    let uri = &sarif_of(&logged(&hostile))["runs"][0]["results"][0]["locations"][0]["physicalLocation"];
    assert_eq!(uri["artifactLocation"]["uri"], "a%1B%5B2J%E2%80%AE%0A%0Db.scant");
    assert_eq!(drawn(&hostile, Form::Short).lines().count(), hostile.diagnostics.len());
    compilations.push(("hostile".to_owned(), hostile));
    for (name, compilation) in compilations {
        let log = logged(&compilation);
        let mut told =
            [Form::Human, Form::Narrated, Form::Short].map(|form| drawn(&compilation, form)).to_vec();
        told.extend([json(&log), sarif(&log, codes())]);
        for text in told {
            // A line that ends with both characters is drawn with its end.
            let text = text.replace("\r\n", "\n");
            assert!(!text.contains(obeyed), "{name}: {text:?}");
        }
    }
    let trouble = Trouble {
        code: "F001".to_owned(),
        message: format!("cannot read {path}: no"),
        help: Some("\u{1b}c".to_owned()),
    };
    let mut log = Log::default();
    log.trouble(&trouble);
    for form in [Form::Human, Form::Narrated, Form::Short] {
        let told = render_trouble(&trouble, Style { form, colour: false, unicode: true });
        assert!(told.contains("F001") && told.contains("no") && !told.contains(obeyed), "{told:?}");
    }
    assert!(!json(&log).contains(obeyed) && !sarif(&log, codes()).contains(obeyed));
    assert_eq!(json_of(&log)["messages"][0]["message"], trouble.message);
}

/// A message whose places lie in two files.
fn across_files() -> (Sources, Diagnostic) {
    let mut sources = Sources::default();
    let one = sources.add("room.scant", "sheet ply {}\n\nsheet ply {}\n".to_owned());
    let two = sources.add("shop/stock.scant", "// stock\nsheet ply {}".to_owned());
    let code = codes().find(|code| code.slug == "unknown_kind").unwrap();
    let diagnostic = Diagnostic::new(code, "`ply` stands three times")
        .and_at(Span::new(two, 15, 18), "also in the stock")
        .at(Span::new(one, 6, 9), "first here")
        .and_at(Span::new(one, 20, 23), "and here");
    (sources, diagnostic)
}

#[test]
fn a_message_across_files_is_told_whole() {
    let (sources, diagnostic) = across_files();
    let diagnostics = [diagnostic];
    let draw = |form| render(&diagnostics, &sources, Style { form, colour: false, unicode: false });
    let mut log = Log::default();
    log.messages(&diagnostics, &sources);
    let document = sarif(&log, []);
    let people = [Form::Human, Form::Short, Form::Narrated].map(draw).join("\n");
    insta::assert_snapshot!(format!("{people}\n{}\n{document}", json(&log)));
}
