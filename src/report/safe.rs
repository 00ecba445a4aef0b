//! Keeps from a terminal what it would obey.

use std::borrow::Cow;
use std::fmt::Write;

/// Whether a terminal, or what lays out its lines, would obey this character: controls and marks of direction.
fn obeyed(c: char, next: Option<char>) -> bool {
    match c {
        '\n' | '\t' => false,
        '\r' => next != Some('\n'),
        '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => true,
        _ => c.is_control(),
    }
}

/// A text in which every character that a terminal would obey is a `?` for each of its bytes, so that places hold.
#[must_use]
pub fn printable(text: &str) -> Cow<'_, str> {
    replaced(text, |out, c| out.extend(std::iter::repeat_n('?', c.len_utf8())))
}

/// A text on one line in which every character that a terminal would obey is a `?`, for paths and short messages.
#[must_use]
pub fn printable_line(text: &str) -> Cow<'_, str> {
    if text.contains(['\n', '\r']) {
        Cow::Owned(printable(&text.lines().collect::<Vec<_>>().join(" ")).into_owned())
    } else {
        printable(text)
    }
}

/// A document in JSON in which such characters, which can only stand in its texts, are escaped; it says the same.
pub(super) fn escaped_json(document: &str) -> Cow<'_, str> {
    replaced(document, |out, c| {
        for unit in c.encode_utf16(&mut [0; 2]) {
            // Writing into a text cannot fail.
            let _ = write!(out, "\\u{unit:04x}");
        }
    })
}

fn replaced(text: &str, instead: impl Fn(&mut String, char)) -> Cow<'_, str> {
    let nexts = || text.chars().skip(1).map(Some).chain([None]);
    if !text.chars().zip(nexts()).any(|(c, next)| obeyed(c, next)) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    for (c, next) in text.chars().zip(nexts()) {
        if obeyed(c, next) {
            instead(&mut out, c);
        } else {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_terminal_obeys_is_replaced_byte_for_byte() {
        for text in
            ["a\u{1b}[31m", "\u{7f}", "\u{85}x", "a\u{202e}b\u{2066}c", "\u{200f}\u{61c}", "a\rb", "b\r"]
        {
            let safe = printable(text);
            assert_eq!(safe.len(), text.len());
            assert!(safe.contains('?') && !safe.contains(|c: char| c.is_control()), "{safe:?}");
        }
        assert_eq!(printable("a\u{1b}b\u{202e}"), "a?b???");
        assert_eq!(printable("tab\t\r\nline \u{2033}\n"), "tab\t\r\nline \u{2033}\n");
        assert_eq!(printable_line("a\r\nb\n\u{7}"), "a b ?");
    }

    #[test]
    fn a_document_in_json_says_the_same_when_escaped() {
        let text = "\u{1b} \u{7f} \u{202e} \u{85} \u{2033} \u{1f4d0}";
        let document = serde_json::to_string(text).unwrap();
        let escaped = escaped_json(&document);
        assert_eq!(escaped, "\"\\u001b \\u007f \\u202e \\u0085 \u{2033} \u{1f4d0}\"");
        assert_eq!(serde_json::from_str::<String>(&escaped).unwrap(), text);
    }
}
