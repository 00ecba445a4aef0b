//! Draws the canonical form.

use super::model::{Body, Element, Group, Node};
use crate::quantity::{Dim, unit};
use crate::syntax::PieceKind;

/// The widest line that a list or a block on one line may make, in characters.
const WIDTH: usize = 100;
/// How much deeper what stands in a bracket is.
const STEP: usize = 2;

/// The text of a file.
pub(super) fn draw(file: &Group<'_>) -> String {
    let mut page = Page::default();
    for element in &file.elements {
        if page.started {
            page.newline(0, element.blank);
        }
        page.element(element, "");
    }
    if page.started {
        page.text.push('\n');
    }
    page.text
}

#[derive(Debug, Default)]
struct Page {
    text: String,
    started: bool,
    /// Characters in the present line.
    column: usize,
    /// How deep the present line is indented.
    indent: usize,
}

impl Page {
    fn push(&mut self, text: &str) {
        self.started = true;
        self.text.push_str(text);
        self.column += text.chars().count();
    }

    fn newline(&mut self, indent: usize, blank: bool) {
        self.text.push_str(if blank { "\n\n" } else { "\n" });
        self.text.extend(std::iter::repeat_n(' ', indent));
        (self.column, self.indent) = (indent, indent);
    }

    fn element(&mut self, element: &Element<'_>, separator: &str) {
        match &element.body {
            Body::Comment(text) => return self.push(text),
            Body::Nodes(nodes) => self.nodes(nodes),
            Body::Verbatim(text, indent) => {
                if let Some(indent) = indent {
                    self.text.truncate(self.text.trim_end_matches(' ').len());
                    self.push(indent);
                }
                self.push(text);
            }
        }
        self.push(separator);
        if let Some(comment) = element.tail {
            self.push(" ");
            self.push(comment);
        }
    }

    /// An entry or a member: on one line if it can be, else with its brackets opened.
    fn nodes(&mut self, nodes: &[Node<'_>]) {
        let mut line = Line::new(WIDTH.saturating_sub(self.column));
        if line.nodes(nodes) {
            return self.push(&line.text);
        }
        let further = self.indent + STEP;
        let mut before: Option<&Node<'_>> = None;
        for node in nodes {
            if matches!(before, Some(Node::Comment(..))) {
                self.newline(further, false);
                before = None;
            }
            match node {
                Node::Break => {
                    self.newline(further, false);
                    before = None;
                    continue;
                }
                Node::Comment(text, same_line) => {
                    match before {
                        Some(_) if *same_line => self.push(" "),
                        Some(_) => self.newline(further, false),
                        None => {}
                    }
                    self.push(text);
                }
                Node::Token(_, text) => {
                    self.push(space(before, node));
                    self.push(text);
                }
                Node::Group(group) => {
                    self.push(space(before, node));
                    self.group(group);
                }
            }
            before = Some(node);
        }
    }

    fn group(&mut self, group: &Group<'_>) {
        let mut line = Line::new(WIDTH.saturating_sub(self.column));
        if line.group(group) {
            return self.push(&line.text);
        }
        let (open, close) = brackets(group);
        self.push(open);
        if let Some(comment) = group.comment {
            self.push(" ");
            self.push(comment);
        }
        let outer = self.indent;
        let separator = if group.open == b'[' || group.call { "," } else { "" };
        for element in &group.elements {
            self.newline(outer + STEP, element.blank);
            self.element(element, separator);
        }
        self.newline(outer, false);
        self.push(close);
    }
}

/// Text that must fit into what is left of a line.
#[derive(Debug)]
struct Line {
    text: String,
    room: usize,
}

impl Line {
    fn new(room: usize) -> Self {
        Self { text: String::new(), room }
    }

    fn push(&mut self, text: &str) -> bool {
        let count = text.chars().count();
        let fits = count <= self.room;
        self.room = self.room.saturating_sub(count);
        self.text.push_str(text);
        fits
    }

    fn nodes(&mut self, nodes: &[Node<'_>]) -> bool {
        let mut before = None;
        for node in nodes {
            let fits = match node {
                Node::Break => continue,
                Node::Comment(..) => false,
                Node::Token(_, text) => self.push(space(before, node)) && self.push(text),
                Node::Group(group) => self.push(space(before, node)) && self.group(group),
            };
            if !fits {
                return false;
            }
            before = Some(node);
        }
        true
    }

    fn group(&mut self, group: &Group<'_>) -> bool {
        let block = group.open == b'{';
        if group.comment.is_some() || (block && group.opened && !group.elements.is_empty()) {
            return false;
        }
        let (open, close) = brackets(group);
        let pad = if block && !group.elements.is_empty() { " " } else { "" };
        if !(self.push(open) && self.push(pad)) {
            return false;
        }
        for (i, element) in group.elements.iter().enumerate() {
            let separator = match self.text.ends_with(',') {
                _ if i == 0 => "",
                true => " ",
                false => ", ",
            };
            let fits = self.push(separator)
                && element.tail.is_none()
                && match &element.body {
                    Body::Comment(_) => false,
                    Body::Nodes(nodes) => self.nodes(nodes),
                    Body::Verbatim(text, _) => !text.contains('\n') && self.push(text),
                };
            if !fits {
                return false;
            }
        }
        self.push(pad) && self.push(close)
    }
}

fn brackets(group: &Group<'_>) -> (&'static str, &'static str) {
    match group.open {
        b'{' => ("{", "}"),
        b'(' => ("(", ")"),
        _ => ("[", "]"),
    }
}

/// What stands between two neighbours.
fn space(before: Option<&Node<'_>>, node: &Node<'_>) -> &'static str {
    let touches = match (before, node) {
        (None | Some(Node::Break | Node::Comment(..) | Node::Token(PieceKind::Sign, _)), _)
        | (_, Node::Token(PieceKind::Mark, _)) => true,
        (_, Node::Token(PieceKind::Word, word)) if word == ":" || word == ".." => true,
        (Some(Node::Token(PieceKind::Word, word)), _) if word == ".." => true,
        (_, Node::Group(group)) => group.call,
        (_, Node::Token(PieceKind::Unit, word)) => {
            !word.contains('/') && unit(word).is_some_and(|unit| unit.dim == Dim::LENGTH)
        }
        _ => false,
    };
    if touches { "" } else { " " }
}
