//! What the formatter draws: entries, brackets and comments, without the places in the text that the author chose.

use crate::syntax::{Piece, PieceKind};
use std::borrow::Cow;

/// A bracket with what stands in it; also the whole file, as if a bracket stood round it.
#[derive(Debug, Default)]
pub(super) struct Group<'a> {
    /// The opening bracket; zero for the file.
    pub open: u8,
    /// Whether it holds the arguments of a call: no space before it.
    pub call: bool,
    /// Whether the author wrote it over several lines.
    pub opened: bool,
    /// The comment behind the opening bracket.
    pub comment: Option<&'a str>,
    /// What stands in it.
    pub elements: Vec<Element<'a>>,
}

/// An entry of a block, a member of a list, or a comment on its own line.
#[derive(Debug)]
pub(super) struct Element<'a> {
    /// Whether an empty line stands before it.
    pub blank: bool,
    /// What it is.
    pub body: Body<'a>,
    /// The comment behind it.
    pub tail: Option<&'a str>,
}

#[derive(Debug)]
pub(super) enum Body<'a> {
    Comment(&'a str),
    Nodes(Vec<Node<'a>>),
    /// What could not be read, with the indentation that it keeps if it goes over several lines.
    Verbatim(&'a str, Option<&'a str>),
}

#[derive(Debug)]
pub(super) enum Node<'a> {
    Token(PieceKind, Cow<'a, str>),
    /// A comment inside an entry, and whether it stands behind something.
    Comment(&'a str, bool),
    /// The author went on in the next line.
    Break,
    Group(Group<'a>),
}

/// Reads the pieces of a text; `broken` has the first bytes of the entries that are to stay as they are, sorted.
pub(super) fn read<'a>(text: &'a str, pieces: &'a [Piece], broken: &'a [u32]) -> Group<'a> {
    let mut reader = Reader { text, pieces, broken, next: 0, last: 0, began: 0 };
    let mut file = Group { opened: true, ..Group::default() };
    // The file ends where its pieces end; nothing in it can close it.
    while reader.entries(&mut file).is_none() && reader.peek().is_some() {
        reader.verbatim_piece(&mut file);
    }
    file
}

struct Reader<'a> {
    text: &'a str,
    pieces: &'a [Piece],
    broken: &'a [u32],
    next: usize,
    /// The byte after the last piece taken.
    last: usize,
    /// Where the last text began that stays as it is.
    began: usize,
}

impl<'a> Reader<'a> {
    fn peek(&self) -> Option<Piece> {
        self.pieces.get(self.next).copied()
    }

    fn take(&mut self, piece: Piece) {
        self.next += 1;
        self.last = piece.span.range().end;
    }

    fn slice(&self, start: usize, end: usize) -> &'a str {
        self.text.get(start..end).unwrap_or("")
    }

    /// How many lines end between the last piece and this one.
    fn newlines(&self, piece: Piece) -> usize {
        self.slice(self.last, piece.span.range().start).bytes().filter(|byte| *byte == b'\n').count()
    }

    fn blank(&self, group: &Group<'_>, piece: Piece) -> bool {
        self.newlines(piece) > 1 && !group.elements.is_empty()
    }

    /// The entries of a block up to its end, or of the file; `None` where the brackets are not what they seem.
    fn entries(&mut self, group: &mut Group<'a>) -> Option<()> {
        while let Some(piece) = self.peek() {
            match piece.kind {
                PieceKind::Punct(b',') => self.comma(group, piece),
                PieceKind::Punct(b'}') if group.open == b'{' => {
                    self.take(piece);
                    return Some(());
                }
                PieceKind::Comment => self.comment(group, piece),
                PieceKind::Start => {
                    let (blank, same_line) = (self.blank(group, piece), self.newlines(piece) == 0);
                    let began = self.began;
                    let body = self.entry(piece);
                    let one_line = !self.slice_of(piece).contains('\n');
                    match group.elements.last_mut() {
                        // The rest of a line stays as it is behind what could not be read.
                        Some(Element { body: last @ Body::Verbatim(..), tail: None, .. })
                            if same_line && (one_line || matches!(body, Body::Verbatim(..))) =>
                        {
                            *last = self.verbatim(began, self.last);
                        }
                        _ => group.elements.push(Element { blank, body, tail: None }),
                    }
                }
                PieceKind::Broken => self.verbatim_piece(group),
                _ => return None,
            }
        }
        (group.open == 0).then_some(())
    }

    fn slice_of(&self, piece: Piece) -> &'a str {
        self.text.get(piece.span.range()).unwrap_or("")
    }

    /// A comma ends an entry as a new line does, but not where the entry is open to the next line: so it stays with
    /// what could not be read.
    fn comma(&mut self, group: &mut Group<'a>, piece: Piece) {
        self.next += 1;
        if let Some(Element { body: body @ Body::Verbatim(..), tail, .. }) = group.elements.last_mut() {
            self.last = piece.span.range().end;
            *body = self.verbatim(self.began, self.last);
            *tail = None;
        }
    }

    fn comment(&mut self, group: &mut Group<'a>, piece: Piece) {
        let same_line = self.newlines(piece) == 0;
        let blank = self.blank(group, piece);
        let text = self.slice_of(piece).trim_end();
        self.take(piece);
        match group.elements.last_mut() {
            Some(Element { tail: tail @ None, body: Body::Nodes(_) | Body::Verbatim(..), .. })
                if same_line =>
            {
                *tail = Some(text);
            }
            None if same_line && group.open != 0 && group.comment.is_none() => group.comment = Some(text),
            _ => group.elements.push(Element { blank, body: Body::Comment(text), tail: None }),
        }
    }

    /// A piece between entries that could not be read: it belongs to what stands before it on its line.
    fn verbatim_piece(&mut self, group: &mut Group<'a>) {
        let Some(piece) = self.peek() else { return };
        let blank = self.blank(group, piece);
        let same_line = self.newlines(piece) == 0;
        let range = piece.span.range();
        self.take(piece);
        match group.elements.last_mut() {
            Some(Element { body: body @ Body::Verbatim(..), tail: None, .. }) if same_line => {
                *body = self.verbatim(self.began, range.end);
            }
            _ => {
                let body = self.verbatim(range.start, range.end);
                group.elements.push(Element { blank, body, tail: None });
            }
        }
    }

    fn verbatim(&mut self, start: usize, end: usize) -> Body<'a> {
        self.began = start;
        let text = self.slice(start, end);
        let before = self.slice(0, start);
        let indent = before.rsplit('\n').next().unwrap_or("");
        let keeps = text.contains('\n') && indent.trim().is_empty();
        Body::Verbatim(text, keeps.then_some(indent))
    }

    fn entry(&mut self, start: Piece) -> Body<'a> {
        let range = start.span.range();
        self.next += 1;
        let first = self.next;
        self.last = range.start;
        let nodes = match self.broken.binary_search(&start.span.start) {
            Ok(_) => None,
            Err(_) => self.nodes(),
        };
        if let Some(nodes) = nodes {
            return Body::Nodes(nodes);
        }
        let mut depth = 1_usize;
        self.next = first;
        while let Some(piece) = self.peek() {
            self.next += 1;
            match piece.kind {
                PieceKind::Start => depth += 1,
                PieceKind::End => depth -= 1,
                _ => {}
            }
            if depth == 0 {
                break;
            }
        }
        self.last = range.end;
        self.verbatim(range.start, range.end)
    }

    /// The pieces of an entry up to its end.
    fn nodes(&mut self) -> Option<Vec<Node<'a>>> {
        let mut nodes = Vec::new();
        loop {
            let piece = self.peek()?;
            match piece.kind {
                PieceKind::End => {
                    self.next += 1;
                    // What the scanner hid at the end of the entry's line belongs to it.
                    let follows = self.peek().filter(|next| next.kind == PieceKind::Broken);
                    let hidden = follows.is_some_and(|next| self.newlines(next) == 0);
                    return (!hidden).then_some(nodes);
                }
                PieceKind::Punct(b'=') => {
                    nodes.push(Node::Token(PieceKind::Word, Cow::Borrowed("=")));
                    self.take(piece);
                }
                PieceKind::Comment => self.inner_comment(&mut nodes, piece),
                _ => self.node(&mut nodes, piece)?,
            }
        }
    }

    fn inner_comment(&mut self, nodes: &mut Vec<Node<'a>>, piece: Piece) {
        let same_line = self.newlines(piece) == 0;
        nodes.push(Node::Comment(self.slice_of(piece).trim_end(), same_line));
        self.take(piece);
    }

    fn node(&mut self, nodes: &mut Vec<Node<'a>>, piece: Piece) -> Option<()> {
        if !nodes.is_empty() && !matches!(nodes.last(), Some(Node::Comment(..))) && self.newlines(piece) > 0 {
            nodes.push(Node::Break);
        }
        let text = self.slice_of(piece);
        match piece.kind {
            PieceKind::Punct(open @ (b'{' | b'(' | b'[')) => {
                let call = open == b'(' && matches!(nodes.last(), Some(Node::Token(PieceKind::Path, _)));
                let start = piece.span.range().start;
                let mut group = Group { open, call, ..Group::default() };
                self.take(piece);
                match open {
                    b'{' => self.entries(&mut group)?,
                    _ => self.members(&mut group)?,
                }
                group.opened = self.slice(start, self.last).contains('\n');
                nodes.push(Node::Group(group));
                return Some(());
            }
            PieceKind::Start | PieceKind::End | PieceKind::Broken | PieceKind::Punct(_) => return None,
            kind => nodes.push(Node::Token(kind, plain(kind, text))),
        }
        self.take(piece);
        Some(())
    }

    /// What stands in round or square brackets, up to their end.
    fn members(&mut self, group: &mut Group<'a>) -> Option<()> {
        let close = if group.open == b'(' { b')' } else { b']' };
        let mut nodes = Vec::new();
        loop {
            let piece = self.peek()?;
            match piece.kind {
                PieceKind::Punct(b',') => {
                    member(group, &mut nodes);
                    self.take(piece);
                }
                PieceKind::Punct(byte) if byte == close => {
                    member(group, &mut nodes);
                    self.take(piece);
                    return Some(());
                }
                PieceKind::Comment if nodes.is_empty() => self.comment(group, piece),
                PieceKind::Comment => self.inner_comment(&mut nodes, piece),
                _ => self.node(&mut nodes, piece)?,
            }
        }
    }
}

/// Adds a member to a list; comments at its end stand behind or under it.
fn member<'a>(group: &mut Group<'a>, nodes: &mut Vec<Node<'a>>) {
    let mut nodes = std::mem::take(nodes);
    let is_comment = |node: &Node<'_>| matches!(node, Node::Comment(..));
    let count = nodes.iter().rev().take_while(|node| is_comment(node)).count();
    let comments = nodes.split_off(nodes.len() - count);
    if !nodes.is_empty() {
        group.elements.push(Element { blank: false, body: Body::Nodes(nodes), tail: None });
    }
    for comment in comments {
        let Node::Comment(text, same_line) = comment else { continue };
        match group.elements.last_mut() {
            Some(Element { tail: tail @ None, body: Body::Nodes(_), .. }) if same_line => *tail = Some(text),
            _ => group.elements.push(Element { blank: false, body: Body::Comment(text), tail: None }),
        }
    }
}

/// The text of a piece with plain marks and quotes, and one space where there were several.
fn plain(kind: PieceKind, text: &str) -> Cow<'_, str> {
    match kind {
        PieceKind::Mark if text == "\u{2032}" || text == "\u{2019}" => Cow::Borrowed("'"),
        PieceKind::Mark if text == "\u{2033}" || text == "\u{201d}" => Cow::Borrowed("\""),
        PieceKind::Text => match text.strip_prefix(['\u{201c}', '\u{201d}']) {
            Some(rest) => {
                let inner = rest.strip_suffix('\u{201d}').unwrap_or(rest);
                Cow::Owned(format!("\"{}\"", inner.replace('\\', "\\\\").replace('"', "\\\"")))
            }
            None => Cow::Borrowed(text),
        },
        PieceKind::Number | PieceKind::Word if text.contains([' ', '\t']) => {
            Cow::Owned(text.split([' ', '\t']).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" "))
        }
        _ => Cow::Borrowed(text),
    }
}
