//! The scanner: one linear pass that finds comments, texts and brackets, and cuts a file into items.
//!
//! It gives a masked copy of the text, of the same length, in which comments and the newlines that do not count are
//! spaces; the grammar sees only that. Unclosed brackets are reported here, at the opening one.

use super::codes;
use super::words::begins_item;
use crate::diag::{Diagnostic, Sink};
use crate::limits;
use crate::source::{FileId, Span};

/// What a comment is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CommentKind {
    /// `//`: for the reader of the text.
    Plain,
    /// `///`: documentation of the next item.
    Doc,
    /// `//!`: documentation of the file.
    File,
}

/// A comment with its slashes, without its line end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Comment {
    /// What it is for.
    pub kind: CommentKind,
    /// The whole comment.
    pub span: Span,
}

/// One item of the file: a range of bytes, and the brackets that must be added to close it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Item {
    pub start: usize,
    pub end: usize,
    pub closers: String,
}

/// What the scanner gives.
#[derive(Clone, Debug, Default)]
pub(super) struct Scan {
    /// The text for the grammar; as long as the source.
    pub masked: String,
    pub items: Vec<Item>,
    pub comments: Vec<Comment>,
}

#[derive(Clone, Copy)]
struct Open {
    bracket: u8,
    at: usize,
    /// Where the line of the bracket begins to hold text: its indentation.
    indent: usize,
}

struct Scanner<'a> {
    file: FileId,
    bytes: &'a [u8],
    source: &'a str,
    masked: Vec<u8>,
    at: usize,
    line_start: usize,
    /// Indentation of the present line, once its first visible byte is seen.
    indent: Option<usize>,
    open: Vec<Open>,
    /// An opening bracket whose closing one stood at another indentation: the likely culprit.
    suspect: Option<Open>,
    /// The last visible byte before here on the same entry, and the word it ends.
    last_word: (usize, usize),
    item_start: Option<usize>,
    too_deep: bool,
    /// The ends of lines where a `{` was forgotten.
    forgotten: &'a [usize],
    /// A `}` was found that closes nothing.
    stray: Option<usize>,
    scan: Scan,
}

/// Scans a file. Where a `}` closes nothing because the `{` of its block was forgotten, the file is read as if that were there.
pub(super) fn scan(file: FileId, source: &str, sink: &mut Sink) -> Scan {
    let mut forgotten = Vec::new();
    loop {
        let mut found = Sink::default();
        let (scan, stray) = once(file, source, &forgotten, &mut found);
        let head = stray.and_then(|stray| headless(source, stray, &forgotten));
        match head.filter(|_| forgotten.len() < limits::BROKEN_REGIONS) {
            Some(newline) => forgotten.push(newline),
            None => {
                found.all().iter().for_each(|told| sink.push(told.clone()));
                return scan;
            }
        }
    }
}

/// The end of a line before a stray `}` that declares a member with a block without its `{`: what follows is indented deeper,
/// up to a `}` under its head.
fn headless(source: &str, stray: usize, known: &[usize]) -> Option<usize> {
    let before = source.get(..=stray)?;
    let mut lines = Vec::new();
    let mut start = 0;
    for line in before.split('\n') {
        let code = line.split("//").next().unwrap_or("").trim_end();
        let indent = code.len() - code.trim_start().len();
        if !code.trim().is_empty() {
            lines.push((indent, code.trim(), start + line.len()));
        }
        start += line.len() + 1;
    }
    let declares = |code: &str| {
        let (names, text) = code.split_once('"').map_or((code, None), |(names, text)| (names, Some(text)));
        let word = |word: &str| {
            word.starts_with(|c: char| c.is_ascii_lowercase())
                && word.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
        };
        let words: Vec<&str> = names.split_whitespace().collect();
        let named = matches!(words.as_slice(), [one] if word(one))
            || matches!(words.as_slice(), [one, other] if word(one) && word(other));
        named && text.is_none_or(|text| text.ends_with('"'))
    };
    let ends = |place: usize, indent: usize| {
        let mut rest = lines.iter().skip(place + 1);
        let deeper = rest.clone().next().is_some_and(|(next, ..)| *next > indent);
        let close = rest.find(|(next, ..)| *next <= indent);
        deeper && close.is_some_and(|(next, code, _)| *next == indent && code.starts_with('}'))
    };
    let heads = lines.iter().enumerate().rev();
    let mut heads = heads.filter(|(place, (indent, code, _))| declares(code) && ends(*place, *indent));
    let (_, (.., newline)) = heads.find(|(_, (.., newline))| !known.contains(newline))?;
    Some(*newline)
}

fn once(file: FileId, source: &str, forgotten: &[usize], sink: &mut Sink) -> (Scan, Option<usize>) {
    let bytes = source.as_bytes();
    let mut scanner = Scanner {
        file,
        bytes,
        source,
        masked: bytes.to_vec(),
        at: 0,
        line_start: 0,
        indent: None,
        open: Vec::new(),
        suspect: None,
        last_word: (0, 0),
        item_start: None,
        too_deep: false,
        forgotten,
        stray: None,
        scan: Scan::default(),
    };
    if source.starts_with('\u{feff}') {
        scanner.blank(0, 3);
        scanner.at = 3;
        scanner.line_start = 3;
    }
    scanner.controls(sink);
    scanner.run(sink);
    let Scanner { masked, mut scan, stray, .. } = scanner;
    // Only whole comments, whole control characters and ASCII bytes were replaced by spaces, so this is UTF-8.
    scan.masked = String::from_utf8(masked).unwrap_or_default();
    (scan, stray)
}

impl Scanner<'_> {
    fn peek(&self, ahead: usize) -> Option<u8> {
        self.bytes.get(self.at.saturating_add(ahead)).copied()
    }

    fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.file, start, end)
    }

    fn blank(&mut self, start: usize, end: usize) {
        if let Some(bytes) = self.masked.get_mut(start..end) {
            bytes.fill(b' ');
        }
    }

    fn run(&mut self, sink: &mut Sink) {
        while let Some(byte) = self.peek(0) {
            match byte {
                b'\n' => self.newline(sink),
                b' ' | b'\t' => self.at += 1,
                0..0x20 | 0x7f if byte != b'\r' => self.at += 1,
                b'\r' => {
                    self.blank(self.at, self.at + 1);
                    self.at += 1;
                }
                b'/' if self.peek(1) == Some(b'/') => self.comment(),
                _ => self.visible(byte, sink),
            }
        }
        self.close_all(sink);
    }

    fn visible(&mut self, byte: u8, sink: &mut Sink) {
        if self.indent.is_none() {
            self.indent = Some(self.at.saturating_sub(self.line_start));
            if self.at == self.line_start && !self.open.is_empty() && self.item_word_here() {
                self.close_all(sink);
            }
        }
        if self.item_start.is_none() && byte != b',' {
            self.item_start = Some(self.at);
        }
        let start = self.at;
        match byte {
            b'{' | b'(' | b'[' => {
                self.open_bracket(byte, sink);
                self.at += 1;
            }
            b'}' | b')' | b']' => {
                self.close_bracket(byte, sink);
                self.at += 1;
            }
            b',' if self.open.is_empty() => {
                self.end_item(self.at);
                self.at += 1;
            }
            b'"' if !self.after_digit() => self.text("\"", sink),
            b'0'..=b'9' | b'a'..=b'z' | b'A'..=b'Z' | b'_' => {
                while self.peek(0).is_some_and(|b| b.is_ascii_alphanumeric() || b == b'_') {
                    self.at += 1;
                }
            }
            0x80.. if self.curly_quote() && !self.after_digit() => self.text("\u{201d}", sink),
            0x80.. => {
                self.at += 1;
                while self.peek(0).is_some_and(|b| (0x80..0xc0).contains(&b)) {
                    self.at += 1;
                }
            }
            _ => self.at += 1,
        }
        self.last_word = (start, self.at);
    }

    fn after_digit(&self) -> bool {
        self.at.checked_sub(1).and_then(|i| self.bytes.get(i)).is_some_and(u8::is_ascii_digit)
    }

    fn curly_quote(&self) -> bool {
        self.source.get(self.at..).is_some_and(|rest| rest.starts_with(['\u{201c}', '\u{201d}']))
    }

    fn item_word_here(&self) -> bool {
        let rest = self.source.get(self.at..).unwrap_or("");
        let end = rest.find(|c: char| !c.is_ascii_alphanumeric() && c != '_').unwrap_or(rest.len());
        let (word, after) = rest.split_at_checked(end).unwrap_or(("", ""));
        begins_item(word, after)
    }

    /// Control characters, also in comments and texts, since they would reach the terminal: each run is reported once
    /// and read as spaces.
    fn controls(&mut self, sink: &mut Sink) {
        let is_control = |b: &u8| (*b < 0x20 && !matches!(b, b'\n' | b'\r' | b'\t')) || *b == 0x7f;
        let mut at = 0;
        while let Some(start) = self.bytes.iter().skip(at).position(is_control).map(|found| found + at) {
            let rest = self.bytes.iter().skip(start);
            at = start + rest.take_while(|b| is_control(b)).count();
            self.blank(start, at);
            let code = self.bytes.get(start).copied().unwrap_or(0);
            let message = format!("a control character (byte 0x{code:02X}) stands in the text");
            sink.push(
                Diagnostic::new(&codes::CONTROL, message)
                    .at(self.span(start, at), "")
                    .help("delete it; a file with many of them is not a text file"),
            );
        }
    }

    fn comment(&mut self) {
        let start = self.at;
        let rest = self.source.get(start..).unwrap_or("");
        let line = rest.split('\n').next().unwrap_or("");
        let text = line.trim_end_matches('\r');
        let kind = if text.starts_with("///") && !text.starts_with("////") {
            CommentKind::Doc
        } else if text.starts_with("//!") {
            CommentKind::File
        } else {
            CommentKind::Plain
        };
        self.at = start + line.len();
        self.blank(start, self.at);
        self.scan.comments.push(Comment { kind, span: self.span(start, start + text.len()) });
    }

    /// A text up to its closing quote on the same line.
    fn text(&mut self, close: &str, sink: &mut Sink) {
        let start = self.at;
        let rest = self.source.get(start..).unwrap_or("");
        let line = rest.split('\n').next().unwrap_or("").trim_end_matches('\r');
        let mut escaped = false;
        for (i, c) in line.char_indices().skip(1) {
            if escaped {
                escaped = false;
            } else if c == '\\' && close == "\"" {
                escaped = true;
            } else if close.starts_with(c) {
                self.at = start + i + c.len_utf8();
                return;
            }
        }
        // A block that begins at the end of the line is not part of the text.
        let line = line.trim_end().strip_suffix('{').unwrap_or(line).trim_end();
        self.at = start + line.len();
        self.blank(start, self.at);
        sink.push(
            Diagnostic::new(&codes::TEXT, "this text has no closing quote on its line")
                .at(self.span(start, self.at), "the text begins here")
                .help("close it with `\"`; an inch mark stands right behind its figure, as in `3/4\"`"),
        );
    }

    fn newline(&mut self, sink: &mut Sink) {
        let newline = self.at;
        if self.forgotten.contains(&newline) {
            self.forgotten_brace(newline, sink);
            return;
        }
        self.at += 1;
        let round = |open: Option<&Open>| matches!(open, Some(Open { bracket: b'(' | b'[', .. }));
        if round(self.open.last()) && self.entry_follows() {
            self.unclosed_round(sink);
        }
        if round(self.open.last()) || self.after_operator() {
            self.blank(newline, newline + 1);
        } else if self.open.is_empty() {
            self.end_item(newline);
        }
        self.line_start = self.at;
        self.indent = None;
        if self.masked.get(newline) == Some(&b'\n') {
            self.last_word = (0, 0);
        }
    }

    /// The end of a line that declares a member, where its `{` was forgotten: it stands there for the grammar.
    fn forgotten_brace(&mut self, newline: usize, sink: &mut Sink) {
        let line = self.source.get(self.line_start..newline).unwrap_or("");
        let head = line.split("//").next().unwrap_or("").trim();
        let start = self.line_start + line.find(head).unwrap_or(0);
        let span = self.span(start, start + head.len());
        sink.push(
            Diagnostic::new(
                &codes::STRAY,
                format!("`{head}` has no `{{` for the `}}` that closes its block"),
            )
            .at(span, "")
            .fix(span, format!("{head} {{"), format!("write `{head} {{`")),
        );
        let indent = self.indent.unwrap_or(0);
        self.open.push(Open { bracket: b'{', at: newline, indent });
        if let Some(byte) = self.masked.get_mut(newline) {
            *byte = b'{';
        }
        self.at += 1;
        self.line_start = self.at;
        self.indent = None;
        self.last_word = (0, 0);
    }

    /// Whether the next line is `name = ...`, `let name = ...`, `}` or empty: then an open ( or [ was forgotten.
    fn entry_follows(&self) -> bool {
        let rest = self.source.get(self.at..).unwrap_or("");
        let line = rest.split('\n').next().unwrap_or("").trim();
        let line = line.strip_prefix("let ").unwrap_or(line);
        let name_end = line.find(|c: char| !c.is_ascii_alphanumeric() && c != '_').unwrap_or(line.len());
        let (name, after) = line.split_at_checked(name_end).unwrap_or(("", ""));
        let after = after.trim_start();
        line.starts_with('}')
            || line.is_empty()
            || (!name.is_empty() && after.starts_with('=') && !after.starts_with("=="))
    }

    fn after_operator(&self) -> bool {
        let (start, end) = self.last_word;
        matches!(
            self.source.get(start..end).unwrap_or(""),
            "+" | "-"
                | "*"
                | "/"
                | "<"
                | ">"
                | "and"
                | "or"
                | "not"
                | "to"
                | "of"
                | "x"
                | "if"
                | "then"
                | "else"
                | "with"
        ) || (self.source.get(start..end) == Some("=")
            && start.checked_sub(1).and_then(|i| self.bytes.get(i)).is_some_and(|b| b"<>=!".contains(b)))
    }

    fn open_bracket(&mut self, bracket: u8, sink: &mut Sink) {
        let indent = self.indent.unwrap_or(0);
        self.open.push(Open { bracket, at: self.at, indent });
        if self.open.len() > limits::NESTING && !self.too_deep {
            self.too_deep = true;
            sink.push(
                Diagnostic::new(&codes::NESTING, format!("brackets nest deeper than {}", limits::NESTING))
                    .at(self.span(self.at, self.at + 1), "too deep from here on")
                    .help("divide the item: give the inner block a name of its own"),
            );
        }
    }

    fn close_bracket(&mut self, bracket: u8, sink: &mut Sink) {
        let opening = match bracket {
            b')' => b'(',
            b']' => b'[',
            _ => b'{',
        };
        if !self.open.iter().any(|open| open.bracket == opening) {
            self.blank(self.at, self.at + 1);
            if bracket == b'}' {
                self.stray = self.stray.or(Some(self.at));
            }
            sink.push(
                Diagnostic::new(&codes::STRAY, format!("`{}` closes nothing", char::from(bracket)))
                    .at(self.span(self.at, self.at + 1), "no bracket is open here")
                    .fix(
                        self.span(self.at, self.at + 1),
                        "",
                        format!("delete the `{}`", char::from(bracket)),
                    ),
            );
            return;
        }
        // Brackets inside the one that is closed now were forgotten.
        while let Some(open) = self.open.pop() {
            if open.bracket == opening {
                let first_on_line = self.indent == Some(self.at.saturating_sub(self.line_start));
                if bracket == b'}'
                    && first_on_line
                    && self.indent != Some(open.indent)
                    && self.suspect.is_none()
                {
                    self.suspect = Some(open);
                }
                break;
            }
            self.report_unclosed(open, sink);
            self.insert_closer(open);
        }
        if self.open.is_empty() {
            self.suspect = None;
        }
    }

    /// A ( or [ that the line's end closes.
    fn unclosed_round(&mut self, sink: &mut Sink) {
        while let Some(open) = self.open.last().copied() {
            if open.bracket == b'{' {
                break;
            }
            self.open.pop();
            self.report_unclosed(open, sink);
        }
    }

    /// The grammar must not see an opening bracket that is never closed.
    fn insert_closer(&mut self, open: Open) {
        if open.bracket == b'{' {
            self.blank(open.at, open.at + 1);
        }
    }

    fn report_unclosed(&self, open: Open, sink: &mut Sink) {
        let (bracket, close) = match open.bracket {
            b'(' => ('(', ')'),
            b'[' => ('[', ']'),
            _ => ('{', '}'),
        };
        sink.push(
            Diagnostic::new(&codes::UNCLOSED, format!("`{bracket}` is never closed"))
                .at(self.span(open.at, open.at + 1), "opened here")
                .help(format!("add the `{close}` where this block or list ends")),
        );
    }

    /// At the end of the file, or where the next item begins inside an open bracket.
    fn close_all(&mut self, sink: &mut Sink) {
        let mut closers = String::new();
        let culprit = self.suspect.take().or_else(|| self.open.last().copied());
        if let Some(open) = culprit.filter(|_| !self.open.is_empty()) {
            self.report_unclosed(open, sink);
            if self.close_by_indent(open) {
                self.open.pop();
            }
        }
        while let Some(open) = self.open.pop() {
            closers.push(match open.bracket {
                b'(' => ')',
                b'[' => ']',
                _ => '}',
            });
        }
        let end = self.at;
        if let Some(start) = self.item_start.take() {
            self.push_item(start, end, closers);
        }
    }

    /// Closes a block in the masked text before the first line after it that is indented no deeper than its own, so
    /// that what follows is read as if the bracket were there; `false` where there is no such line.
    fn close_by_indent(&mut self, open: Open) -> bool {
        let mut newline = None;
        let mut column = 0;
        for at in open.at..self.at {
            match self.bytes.get(at) {
                Some(b'\n') => (newline, column) = (Some(at), 0),
                Some(b' ' | b'\t') => column += 1,
                Some(b'\r' | b'/') => newline = None,
                Some(_) if column <= open.indent && column > 0 && newline.is_some() => break,
                _ => newline = None,
            }
        }
        let Some(newline) = newline else { return false };
        let Some([end, first, ..]) = self.masked.get_mut(newline..) else { return false };
        if *first != b' ' {
            return false;
        }
        (*end, *first) = (b'}', b'\n');
        true
    }

    fn end_item(&mut self, end: usize) {
        if let Some(start) = self.item_start.take() {
            self.push_item(start, end, String::new());
        }
    }

    fn push_item(&mut self, start: usize, end: usize, closers: String) {
        if self.too_deep {
            self.too_deep = false;
            return;
        }
        self.scan.items.push(Item { start, end, closers });
    }
}
