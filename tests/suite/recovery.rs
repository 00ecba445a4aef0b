//! Neighbouring tokens of every text are swapped: it is read to its end, every place that a message names lies in it, and
//! items that have nothing to do with the swap are read as before.

use crate::files_under;
use scantling::diag::{Diagnostic, Sink};
use scantling::source::{DiskFiles, Files, Sources};
use scantling::syntax::{Parsed, parse};
use std::ops::Range;

/// A line that ends with one of these goes on in the next one.
const GOES_ON: [&str; 14] =
    ["+", "-", "*", "<", ">", "and", "or", "not", "to", "of", "x", "if", "else", "with"];

/// Places of words, numbers with their marks, texts, comments and single signs.
fn tokens(text: &str) -> Vec<Range<usize>> {
    let mut tokens: Vec<Range<usize>> = Vec::new();
    let mut at = 0;
    while let Some(c) = text[at..].chars().next() {
        let rest = &text[at..];
        let line = rest.find('\n').unwrap_or(rest.len());
        let length = if c.is_whitespace() {
            at += c.len_utf8();
            continue;
        } else if rest.starts_with("//") {
            line
        } else if c.is_alphanumeric() || c == '_' {
            let word =
                rest.find(|c: char| !c.is_alphanumeric() && c != '_' && c != '.').unwrap_or(rest.len());
            let mark = rest[word..].starts_with(['"', '\'']) && c.is_ascii_digit();
            word + usize::from(mark)
        } else if c == '"' {
            rest[1..line].find('"').map_or(line, |end| end + 2)
        } else {
            c.len_utf8()
        };
        tokens.push(at..at + length);
        at += length;
    }
    tokens
}

fn swapped(text: &str, a: &Range<usize>, b: &Range<usize>) -> String {
    let parts = [&text[..a.start], &text[b.clone()], &text[a.end..b.start], &text[a.clone()], &text[b.end..]];
    parts.concat()
}

fn read(text: &str) -> (Parsed, Vec<Diagnostic>) {
    let mut sink = Sink::default();
    let file = Sources::default().add("test.scant", text.to_owned());
    let parsed = parse(file, text, &mut sink);
    (parsed, sink.finish())
}

fn in_range(messages: &[Diagnostic], text: &str) {
    for label in messages.iter().flat_map(|diagnostic| &diagnostic.labels) {
        let range = label.span.range();
        assert!(text.get(range.clone()).is_some(), "{range:?} is not in {text:?}");
    }
}

/// Items from top to bottom with their places, as they were read.
fn items(parsed: &Parsed) -> Vec<(Range<usize>, String)> {
    parsed.items.iter().map(|item| (item.span.range(), format!("{item:?}"))).collect()
}

/// Reads every so many of the swaps of these files, and compiles every so many of those.
fn swap_all(folder: &str, [read_each, compile_each]: [usize; 2]) -> usize {
    let mut swaps = 0;
    for path in files_under(folder, ".scant") {
        let Ok(text) = String::from_utf8(DiskFiles.read(&path).unwrap()) else { continue };
        // A text of a megabyte says nothing here that a short one does not.
        if text.len() > 10_000 {
            continue;
        }
        // Where a bracket is missing, what closes an item is the look of the next one.
        let paired = |open, close| text.matches(open).count() == text.matches(close).count();
        let closed = paired('{', '}') && paired('(', ')') && paired('[', ']');
        let before = items(&read(&text).0);
        let tokens = tokens(&text);
        for (index, pair) in tokens.windows(2).step_by(read_each).enumerate() {
            let (a, b) = (&pair[0], &pair[1]);
            let damaged = swapped(&text, a, b);
            swaps += 1;
            if index % compile_each == 0 {
                in_range(&crate::compiled_text(&damaged).diagnostics, &damaged);
            }
            let (parsed, messages) = read(&damaged);
            in_range(&messages, &damaged);
            let Some(home) = before.iter().find(|(range, _)| range.start <= a.start && b.end <= range.end)
            else {
                continue;
            };
            // A bracket, quote or comment in another place may give what follows to another item, as may an operator at the
            // end of a line; all else stays in its own.
            let moves = |token: &Range<usize>| {
                let token = &text[token.clone()];
                token.contains(['{', '}', '(', ')', '[', ']', '"', '\'', '″', '”', '/'])
                    || GOES_ON.contains(&token)
            };
            let local = closed && !moves(a) && !moves(b);
            let after = items(&parsed);
            for item in &before {
                if (closed && item.0.end <= home.0.start) || (local && item.0.start >= home.0.end) {
                    assert!(
                        after.contains(item),
                        "{path}: {:?} is read otherwise in\n{damaged}",
                        &text[item.0.clone()]
                    );
                }
            }
        }
    }
    swaps
}

#[test]
fn swapped_tokens_of_the_corpus_harm_their_own_item_only() {
    assert!(swap_all("tests/corpus", [1, 8]) > 3000);
}

#[test]
fn swapped_tokens_of_the_examples_harm_their_own_item_only() {
    assert!(swap_all("examples", [5, 20]) > 300);
}
