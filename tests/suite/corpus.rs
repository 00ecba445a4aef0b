//! Every text in `tests/corpus` with the messages that it gives, drawn in both forms.

use crate::{files_under, root};
use scantling::compile::compile;
use scantling::report::{Form, Style, render};
use scantling::source::{DiskFiles, Files, MemoryFiles};

#[test]
fn each_mistake_is_told_at_its_place() {
    let files = files_under("tests/corpus", ".scant");
    assert!(files.len() >= 25, "the corpus has lost files");
    for path in files {
        let name = path.file_stem().unwrap();
        let short_path = path.strip_prefix(root().join("tests/corpus")).unwrap();
        let text = DiskFiles.read(&path).unwrap();
        let store = MemoryFiles::single(short_path.as_str(), text);
        let told = match compile(&store, short_path) {
            Ok(compilation) => {
                let draw = |form| {
                    let style = Style { form, colour: false, unicode: false };
                    render(&compilation.diagnostics, &compilation.sources, style)
                };
                format!("{}\n{}", draw(Form::Human), draw(Form::Short))
            }
            Err(error) => error.to_string(),
        };
        insta::with_settings!({
            snapshot_path => "../corpus/expected",
            prepend_module_to_snapshot => false,
            omit_expression => true,
        }, { insta::assert_snapshot!(name, told) });
    }
}

/// Cut off at any character, or with any character left out or doubled, a text is read to its end without a panic, and
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
            for damaged in [before.to_owned(), format!("{before}{rest}"), format!("{before}{c}{c}{rest}")] {
                let compilation = crate::compiled_text(&damaged);
                for label in compilation.diagnostics.iter().flat_map(|diagnostic| &diagnostic.labels) {
                    let range = label.span.range();
                    assert!(damaged.get(range.clone()).is_some(), "{range:?} is not in {damaged:?}");
                }
            }
        }
    }
}
