//! Every text in `tests/corpus`, and the bad example of every code, with the messages that it gives, drawn in each form.

use crate::{files_under, root};
use camino::Utf8Path;
use scantling::breakdown::Effort;
use scantling::compile::{Compilation, codes, compile};
use scantling::render::{csv, text};
use scantling::report::{Form, Log, Style, json, render, sarif};
use scantling::sheets::SHEETS;
use scantling::source::{DiskFiles, Files, MemoryFiles};

/// The messages in a form for people.
pub(crate) fn drawn(compilation: &Compilation, form: Form) -> String {
    let style = Style { form, colour: false, unicode: false };
    render(&compilation.diagnostics, &compilation.sources, style)
}

/// The messages as a document takes them.
pub(crate) fn logged(compilation: &Compilation) -> Log {
    let mut log = Log::default();
    log.messages(&compilation.diagnostics, &compilation.sources);
    log
}

/// Every text of the corpus that can be read, by its name.
pub(crate) fn corpus() -> Vec<(String, Compilation)> {
    let files = files_under("tests/corpus", ".scant");
    assert!(files.len() >= 40, "the corpus has lost files");
    let compiled = files.iter().filter_map(|path| {
        let short_path = path.strip_prefix(root().join("tests/corpus")).unwrap();
        let store = MemoryFiles::single(short_path.as_str(), DiskFiles.read(path).unwrap());
        Some((path.file_stem()?.to_owned(), compile(&store, short_path).ok()?))
    });
    compiled.collect()
}

/// The bad example of every code that has one, by the code.
pub(crate) fn bad_examples() -> Vec<(String, Compilation)> {
    let compiled = codes().filter_map(|code| {
        let store = MemoryFiles::single("example.scant", code.example.as_ref()?.bad);
        Some((code.id.to_owned(), compile(&store, "example.scant".into()).unwrap()))
    });
    compiled.collect()
}

fn keep(folder: &str, name: &str, told: &str) {
    insta::with_settings!({
        snapshot_path => Utf8Path::new("../corpus/expected").join(folder),
        prepend_module_to_snapshot => false,
        omit_expression => true,
    }, { insta::assert_snapshot!(name, told) });
}

#[test]
fn each_mistake_is_told_at_its_place() {
    for (name, compilation) in corpus() {
        let people = format!("{}\n{}", drawn(&compilation, Form::Human), drawn(&compilation, Form::Short));
        keep("", &name, &people);
        let further = format!("{}\n{}", drawn(&compilation, Form::Narrated), json(&logged(&compilation)));
        keep("", &format!("{name}.further"), &further);
    }
}

#[test]
fn what_is_no_text_is_not_compiled() {
    for name in ["not_utf8", "utf16"] {
        let path = format!("{name}.scant");
        let text = DiskFiles.read(&root().join("tests/corpus").join(&path)).unwrap();
        let error = compile(&MemoryFiles::single(&path, text), Utf8Path::new(&path)).unwrap_err();
        keep("", name, &error.to_string());
    }
}

#[test]
fn each_bad_example_is_told_in_each_form() {
    for (id, compilation) in bad_examples() {
        let forms = [Form::Human, Form::Short, Form::Narrated].map(|form| drawn(&compilation, form));
        keep("codes", &id, &format!("{}\n{}", forms.join("\n"), json(&logged(&compilation))));
    }
}

#[test]
fn sarif_is_as_it_was() {
    for (name, compilation) in corpus() {
        if ["five_mistakes", "overfull", "missing_brace", "empty"].contains(&name.as_str()) {
            let document = sarif(&logged(&compilation), codes());
            // The list of all codes is the same in each, and has its own test.
            let (before, rest) = document.split_once("\"rules\": [\n").unwrap();
            let (_, after) = rest.split_once("\n          ]\n").unwrap();
            keep("", &format!("{name}.sarif"), &format!("{before}\"rules\": [...]\n{after}"));
        }
    }
}

/// Cut off at any character, or with every eighth character left out or doubled, a text is read to its end without a panic, and
/// every place that a message names lies in it.
#[test]
fn damaged_texts_are_read_to_the_end() {
    let mut texts: Vec<String> = files_under("tests/corpus", ".scant")
        .iter()
        .chain(&files_under("examples", ".scant"))
        .filter_map(|path| String::from_utf8(DiskFiles.read(path).unwrap()).ok())
        .collect();
    texts.retain(|text| text.len() < 1500);
    assert!(texts.len() > 20);
    for text in texts {
        let ends: Vec<(usize, char)> = text.char_indices().collect();
        for (at, c) in ends {
            let (before, after) = text.split_at(at);
            let rest = &after[c.len_utf8()..];
            let mut damaged = vec![before.to_owned()];
            // Working a text out again for what may be meant takes its time.
            if at % 8 == 0 {
                damaged.extend([format!("{before}{rest}"), format!("{before}{c}{c}{rest}")]);
            }
            for damaged in damaged {
                let compilation = crate::compiled_text(&damaged);
                for label in compilation.diagnostics.iter().flat_map(|diagnostic| &diagnostic.labels) {
                    // The place may be in a file of the library that the text uses.
                    let sources = &compilation.sources;
                    let named = sources.get(label.span.file).unwrap();
                    let range = label.span.range();
                    assert!(named.text().get(range.clone()).is_some(), "{range:?} is not in {damaged:?}");
                }
                // Drawing is slow beside reading.
                if at % 16 == 0 {
                    let messages = compilation.diagnostics.len();
                    let narrated = drawn(&compilation, Form::Narrated);
                    let said = narrated.lines().filter(|line| line.starts_with("diagnostic code: "));
                    assert_eq!(said.count(), messages, "{damaged:?}");
                    assert_eq!(drawn(&compilation, Form::Short).lines().count(), messages, "{damaged:?}");
                }
            }
        }
    }
}

/// What can be read and is beyond anything that is built still gives every sheet, without a panic.
#[test]
fn every_sheet_of_a_sound_text_can_be_drawn() {
    let mut drawn = 0;
    for path in files_under("tests/corpus", ".scant") {
        let Ok(compilation) = compile(&DiskFiles, &path) else { continue };
        if compilation.has_errors() {
            continue;
        }
        for sheet in SHEETS {
            let output = (sheet.make)(compilation.subject(Effort::Quick));
            assert!(text(&output.document).starts_with(&output.document.title), "{path}");
            // Without a table there is nothing for a spreadsheet but the cautions.
            let rows = csv(&output.document);
            assert!(rows.starts_with("group,"), "{path}");
            assert_eq!(rows.starts_with("group,caution\r\n"), output.document.tables.is_empty(), "{path}");
            drawn += 1;
        }
        assert!(!compilation.graph.measures().is_empty() || compilation.graph.parts.is_empty());
    }
    assert!(drawn >= 5 * SHEETS.len());
}
