//! The text of a file in pieces: every visible byte of it in one piece, in the order of the text.
//!
//! The tree keeps what an entry means; a layout keeps how it is written, for the formatter. It is made from the same
//! scanner and the same grammar, so it cannot read a text in another way than the tree does.

use super::scan::{self, Comment, Item};
use super::{Rule, ScantlingParser};
use crate::diag::Sink;
use crate::source::{FileId, Span};
use pest::Parser;
use pest::iterators::Pair;

/// A piece of text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// What it is.
    pub kind: PieceKind,
    /// Its place.
    pub span: Span,
}

/// What a piece of text is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PieceKind {
    /// An entry begins; its span is the whole entry. Its pieces follow.
    Start,
    /// The entry ends that began last.
    End,
    /// A word of the language, a name, an operator, a day, `?`.
    Word,
    /// A path, with the numbers of its members; the word of a type.
    Path,
    /// A text with its quotes.
    Text,
    /// A number without its unit.
    Number,
    /// An inch or a foot mark.
    Mark,
    /// The word of a unit.
    Unit,
    /// The minus sign before an operand.
    Sign,
    /// One of `= , ( ) [ ] { }`.
    Punct(u8),
    /// A comment with its slashes.
    Comment,
    /// Text that could not be read, or was read as if something else stood there.
    Broken,
}

/// The pieces of a file.
#[must_use]
pub fn layout(file: FileId, text: &str) -> Vec<Piece> {
    // What is wrong with the text, `parse` says.
    let scan = scan::scan(file, text, &mut Sink::default());
    let mut layout = Layout {
        file,
        source: text.as_bytes(),
        masked: scan.masked.as_bytes(),
        comments: &scan.comments,
        base: 0,
        at: if text.starts_with('\u{feff}') { 3 } else { 0 },
        pieces: Vec::new(),
    };
    for item in &scan.items {
        layout.item(text, &scan.masked, item);
    }
    layout.gap(text.len());
    layout.pieces
}

struct Layout<'a> {
    file: FileId,
    source: &'a [u8],
    masked: &'a [u8],
    /// Those that are not yet a piece.
    comments: &'a [Comment],
    /// Where the item at hand begins.
    base: usize,
    /// Up to here every byte is in a piece.
    at: usize,
    pieces: Vec<Piece>,
}

impl Layout<'_> {
    fn push(&mut self, kind: PieceKind, start: usize, end: usize) {
        self.pieces.push(Piece { kind, span: Span::new(self.file, start, end) });
    }

    fn item(&mut self, source: &str, masked: &str, item: &Item) {
        let text = masked.get(item.start..item.end).unwrap_or("");
        self.gap(item.start);
        self.base = item.start;
        // Without its last brackets a text would be read again and again, from each open one on.
        let whole = !self.inserted(item);
        match whole.then(|| ScantlingParser::parse(Rule::item, text)) {
            Some(Ok(pairs)) => pairs.for_each(|pair| self.pair(pair)),
            Some(Err(_)) | None => {
                let visible = source.get(item.start..item.end).unwrap_or("").trim_end();
                self.broken(item.start, item.start + visible.len());
            }
        }
    }

    /// Whether the item is read as if brackets stood where none stand.
    fn inserted(&self, item: &Item) -> bool {
        let range = || item.start..item.end;
        let (source, masked) = (self.source.get(range()), self.masked.get(range()));
        let mut bytes = source.unwrap_or(&[]).iter().zip(masked.unwrap_or(&[]));
        !item.closers.is_empty() || bytes.any(|(source, masked)| source != masked && *masked == b'}')
    }

    fn pair(&mut self, pair: Pair<'_, Rule>) {
        let start = self.base + pair.as_span().start();
        let end = start + pair.as_str().trim_end_matches([' ', '\t', '\n']).len();
        let kind = match pair.as_rule() {
            Rule::EOI => return,
            Rule::entry | Rule::chosen_name => return self.entry(pair, start, end),
            Rule::broken | Rule::leftover => return self.broken(start, end),
            Rule::path | Rule::type_name => PieceKind::Path,
            Rule::text => PieceKind::Text,
            Rule::number => PieceKind::Number,
            Rule::inch_mark | Rule::foot_mark => PieceKind::Mark,
            Rule::unit => PieceKind::Unit,
            Rule::minus => PieceKind::Sign,
            _ => {
                let mut inner = pair.into_inner().peekable();
                if inner.peek().is_some() {
                    return inner.for_each(|pair| self.pair(pair));
                }
                PieceKind::Word
            }
        };
        // Brackets, and the empty block that is a pair without pairs in it.
        let opens = self.source.get(start).is_some_and(|byte| b"{[(".contains(byte));
        if start < end && !opens {
            self.gap(start);
            let same = self.source.get(start..end) == self.masked.get(start..end);
            self.push(if same { kind } else { PieceKind::Broken }, start, end);
            self.at = end;
        }
    }

    fn entry(&mut self, pair: Pair<'_, Rule>, start: usize, end: usize) {
        self.gap(start);
        self.push(PieceKind::Start, start, end);
        pair.into_inner().for_each(|pair| self.pair(pair));
        self.gap(end);
        self.push(PieceKind::End, end, end);
    }

    fn broken(&mut self, start: usize, end: usize) {
        self.gap(start);
        self.push(PieceKind::Broken, start, end);
        self.at = self.at.max(end);
        self.comments = self.comments.get(self.comments_before(end)..).unwrap_or(&[]);
    }

    fn comments_before(&self, end: usize) -> usize {
        self.comments.iter().take_while(|comment| comment.span.range().start < end).count()
    }

    /// What stands between two pairs: comments, brackets, and what the scanner hid from the grammar.
    fn gap(&mut self, end: usize) {
        while self.at < end {
            let (source, masked) = (self.source.get(self.at).copied(), self.masked.get(self.at).copied());
            let (Some(source), Some(masked)) = (source, masked) else { return };
            let start = self.at;
            if let Some(([comment], rest)) = self.comments.split_at_checked(1) {
                let range = comment.span.range();
                if range.start == start {
                    self.comments = rest;
                    self.at = range.end;
                    self.push(PieceKind::Comment, range.start, range.end);
                    continue;
                }
            }
            self.at += 1;
            match (source, masked) {
                (b' ' | b'\t' | b'\n' | b'\r', _) => {}
                (b'=' | b',' | b'(' | b')' | b'[' | b']' | b'{' | b'}', same) if same == source => {
                    self.push(PieceKind::Punct(source), start, self.at);
                }
                _ => self.foreign(start),
            }
        }
    }

    fn foreign(&mut self, start: usize) {
        match self.pieces.last_mut() {
            Some(Piece { kind: PieceKind::Broken, span }) if span.range().end == start => {
                *span = Span::new(self.file, span.range().start, self.at);
            }
            _ => self.push(PieceKind::Broken, start, self.at),
        }
    }
}
