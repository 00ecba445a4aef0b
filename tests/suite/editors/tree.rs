//! The tree-sitter grammar reads every text that the program reads, and gives it the same shape.

use crate::generated::read;
use crate::generated::words::{reserved, statements};
use crate::{files_under, root};
use scantling::diag::Sink;
use scantling::source::{DiskFiles, Files, Sources};
use scantling::syntax::{CommentKind, parse};
use std::collections::BTreeMap;
use tree_sitter::{Parser, Query, QueryCursor, StreamingIterator, Tree};
use tree_sitter_scantling::{HIGHLIGHTS, LANGUAGE};

fn tree(text: &str) -> Tree {
    let mut parser = Parser::new();
    parser.set_language(&LANGUAGE.into()).unwrap();
    parser.parse(text, None).unwrap()
}

/// Every text of the repository that the compiler can read, whatever it says: examples, library, corpus, reference and the
/// examples of the messages.
pub(super) fn sound_texts() -> Vec<(String, String)> {
    let mut texts: Vec<(String, String)> = Vec::new();
    for folder in ["examples", "src/library", "tests/corpus"] {
        for path in files_under(folder, ".scant") {
            let name = path.strip_prefix(root()).unwrap().to_string();
            texts.extend(String::from_utf8(DiskFiles.read(&path).unwrap()).ok().map(|text| (name, text)));
        }
    }
    let reference = read("grammar/REFERENCE.md");
    for (i, piece) in reference.split("\n```").enumerate().filter(|(i, _)| i % 2 == 1) {
        let (tag, text) = piece.split_once('\n').unwrap();
        if tag.starts_with("scant") {
            texts.push((format!("grammar/REFERENCE.md, block {i}"), text.to_owned()));
        }
    }
    for code in scantling::compile::codes() {
        for example in code.example.iter() {
            texts.push((format!("{}, bad", code.id), example.bad.to_owned()));
            texts.push((format!("{}, good", code.id), example.good.to_owned()));
        }
    }
    texts.retain(|(_, text)| {
        let (mut sink, mut sources) = (Sink::default(), Sources::default());
        let _ = parse(sources.add("test.scant", text.clone()), text, &mut sink);
        sink.spans().is_empty()
    });
    texts
}

#[test]
fn every_sound_text_is_read_without_an_error() {
    let texts = sound_texts();
    assert!(texts.len() > 100, "there are only {} texts", texts.len());
    for (name, text) in texts {
        let tree = tree(&text);
        assert!(!tree.root_node().has_error(), "{name}\n{text}\n{}", tree.root_node());
        // The same with the line ends of other systems.
        let crlf = text.replace("\r\n", "\n").replace('\n', "\r\n");
        assert!(!self::tree(&crlf).root_node().has_error(), "{name} with carriage returns");
    }
}

/// Where the entries of the file and all comments begin and end is the same as in the compiler's tree.
#[test]
fn entries_and_comments_are_those_of_the_compiler() {
    for (name, text) in sound_texts() {
        let (mut sink, mut sources) = (Sink::default(), Sources::default());
        let parsed = parse(sources.add("test.scant", text.clone()), &text, &mut sink);
        let tree = tree(&text);
        let (mut entries, mut comments) = (Vec::new(), Vec::new());
        let mut open = vec![tree.root_node()];
        while let Some(node) = open.pop() {
            let comment = node.kind().ends_with("comment");
            if comment {
                comments.push((node.kind(), text[node.byte_range()].trim_end_matches('\r')));
            } else if node.is_named() && node.parent().is_some_and(|parent| parent.kind() == "source_file") {
                entries.push(node.byte_range());
            }
            open.extend((0..node.child_count()).rev().filter_map(|i| node.child(i as u32)));
        }
        let items: Vec<_> = parsed.items.iter().map(|entry| entry.span.range()).collect();
        assert_eq!(entries, items, "{name}\n{text}");
        let right = parsed.comments.iter().map(|comment| {
            let kind = match comment.kind {
                CommentKind::Plain => "comment",
                CommentKind::Doc => "doc_comment",
                CommentKind::File => "file_comment",
            };
            (kind, &text[comment.span.range()])
        });
        assert_eq!(comments, right.collect::<Vec<_>>(), "{name}\n{text}");
    }
}

/// The tests beside the grammar, in the form that tree-sitter's own program runs: a title between lines of `=`, a text, `---`, its
/// tree.
#[test]
fn the_grammar_keeps_its_own_tests() {
    let mut run = 0;
    for path in files_under("editors/tree-sitter-scantling/test/corpus", ".txt") {
        let file = std::fs::read_to_string(path).unwrap();
        let pieces: Vec<&str> = file.split("==================\n").collect();
        for pair in pieces[1..].chunks(2) {
            let (text, expected) = pair[1].split_once("\n---\n").unwrap();
            let expected = expected.split_whitespace().collect::<Vec<_>>().join(" ").replace(" )", ")");
            assert_eq!(tree(text).root_node().to_string(), expected, "{}", pair[0]);
            run += 1;
        }
    }
    assert!(run >= 8, "the grammar has lost tests");
}

/// Whoever adds a word to the grammar of the program adds it here too: `grammar.js`, then `tree-sitter generate`.
#[test]
fn the_grammar_knows_the_words_of_the_language() {
    let grammar = read("editors/tree-sitter-scantling/src/grammar.json");
    let grammar: serde_json::Value = serde_json::from_str(&grammar).unwrap();
    let mut known = Vec::new();
    let mut open = vec![&grammar["rules"]];
    while let Some(value) = open.pop() {
        if value["type"] == "STRING" {
            known.push(value["value"].as_str().unwrap().to_owned());
        }
        open.extend(value.as_object().into_iter().flat_map(|object| object.values()));
        open.extend(value.as_array().into_iter().flatten());
    }
    for word in reserved().union(&statements()) {
        assert!(known.contains(word), "`{word}` is not in the grammar of tree-sitter");
    }
}

/// The colour of each name of a text; of two for one place the later pattern holds.
fn colours(text: &str) -> BTreeMap<usize, String> {
    let language = LANGUAGE.into();
    let query = Query::new(&language, HIGHLIGHTS).unwrap();
    let tree = tree(text);
    let mut cursor = QueryCursor::new();
    let mut found: BTreeMap<usize, (usize, String)> = BTreeMap::new();
    let mut matches = cursor.matches(&query, tree.root_node(), text.as_bytes());
    while let Some(hit) = matches.next() {
        for capture in hit.captures {
            let at = capture.node.start_byte();
            let name = query.capture_names()[capture.index as usize].to_owned();
            if found.get(&at).is_none_or(|(pattern, _)| *pattern <= hit.pattern_index) {
                found.insert(at, (hit.pattern_index, name));
            }
        }
    }
    found.into_iter().map(|(at, (_, name))| (at, name)).collect()
}

#[test]
fn the_query_colours_real_text() {
    let text = "//! A wall.\nrun sewing \"long wall\" {\n  along = basement.long\n  each unit { load = books, weight = 36 lb/ft3 }\n  \
                window_seat bay { recess = max(1\", rest) to 1/8\" }\n}\njoin shelf to side with dado\n";
    let colours = colours(text);
    let at = |piece: &str| colours.get(&text.find(piece).unwrap()).map_or("", String::as_str);
    assert_eq!(at("//!"), "comment.documentation");
    assert_eq!(at("run"), "type.builtin");
    assert_eq!(at("sewing"), "constructor");
    assert_eq!(at("\"long"), "string");
    assert_eq!(at("along"), "property");
    assert_eq!(at("basement"), "variable");
    assert_eq!(at("each"), "keyword");
    assert_eq!(at("unit"), "type.builtin");
    assert_eq!(at("books"), "constant.builtin");
    assert_eq!(at("36"), "number");
    assert_eq!(at("lb/ft3"), "type");
    assert_eq!(at("window_seat"), "type");
    assert_eq!(at("recess"), "variable.member");
    assert_eq!(at("max"), "function");
    assert_eq!(at("rest"), "constant.builtin");
    assert_eq!(at("to 1/8"), "keyword.operator");
    assert_eq!(at("join"), "keyword");
    assert_eq!(at("dado"), "constant.builtin");
}
