//! Reads the shelves of a carcass: the marks of its stick, or its own ones.

use super::Reader;
use crate::diag::{Diagnostic, nearest};
use crate::eval::codes;
use crate::eval::model::{Level, Mark, Over};
use crate::eval::value::Value;
use crate::resolve::kinds::{CARCASS, SHELF};
use crate::resolve::{Binding, NodeId, codes as name_codes};
use crate::source::Span;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The shelves of a carcass: by marks, or by clear heights.
#[derive(Default)]
pub(super) struct Shelves {
    pub marks: Vec<Mark>,
    pub levels: Vec<Level>,
    pub over: BTreeMap<Arc<str>, Over>,
}

impl Reader<'_> {
    /// The shelves of a carcass: the marks of its stick, or its own ones by their clear heights.
    pub(super) fn shelves(&mut self, id: NodeId) -> Option<Shelves> {
        if !self.is_stated(id, CARCASS.shelves) {
            let levels = self.levels(id);
            if levels.is_empty() {
                self.missing(id, CARCASS.shelves);
                return None;
            }
            return Some(Shelves { levels, ..Shelves::default() });
        }
        let stick = self.read(id, CARCASS.shelves)?;
        let node = self.program.node(stick);
        let mut marks = Vec::new();
        for (index, stated) in node.properties.iter().enumerate() {
            if stated.takes.is_none() {
                continue;
            }
            let Value::Number(number) = self.eval.value(stick, index) else { return None };
            let height = number.len()?;
            if height.value.is_negative() {
                self.eval.sink.push(
                    Diagnostic::new(
                        &codes::RANGE,
                        format!("the mark `{}` lies below the bottom end", stated.name.text),
                    )
                    .at(stated.value.span, "")
                    .help("marks are heights of undersides above the bottom end of the side"),
                );
                return None;
            }
            marks.push(Mark { name: stated.name.text.clone(), height });
        }
        let skipped =
            if self.is_stated(id, CARCASS.skip) { self.read(id, CARCASS.skip)? } else { Vec::new() };
        for (name, span) in &skipped {
            if marks.iter().any(|mark| mark.name == *name) {
                self.mark_named(stick, name, *span);
            } else {
                self.no_mark(stick, name, *span, &marks);
            }
        }
        let over = self.over_marks(id, stick, &marks);
        marks.retain(|mark| !skipped.iter().any(|(name, _)| *name == mark.name));
        marks.sort_by(|a, b| a.height.value.cmp(&b.height.value).then_with(|| a.name.cmp(&b.name)));
        Some(Shelves { marks, levels: Vec::new(), over })
    }

    /// What is stated of shelves that stand on marks of the stick.
    fn over_marks(&mut self, id: NodeId, stick: NodeId, marks: &[Mark]) -> BTreeMap<Arc<str>, Over> {
        let mut over = BTreeMap::new();
        let shelves: Vec<NodeId> = self.program.children(id, "shelf").collect();
        for shelf in shelves {
            let Some(name) = self.program.node(shelf).name.clone() else { continue };
            if !marks.iter().any(|mark| mark.name == name.text) {
                self.no_mark(stick, &name.text, name.span, marks);
                continue;
            }
            self.mark_named(stick, &name.text, name.span);
            if self.is_stated(shelf, SHELF.clear) {
                let stick = self.program.node(stick).head;
                self.eval.sink.push(
                    Diagnostic::new(
                        &codes::BOTH,
                        format!("the place of the shelf `{}` is stated in two ways", name.text),
                    )
                    .at(self.span(shelf, SHELF.clear), "its clear height")
                    .and_at(stick, "its mark stands on this stick")
                    .help("delete the `clear`: the marks give the clear heights"),
                );
            }
            let stated = self.over(shelf, SHELF.load);
            over.insert(name.text, stated);
        }
        over
    }

    /// A name that stands for a mark of a stick.
    fn mark_named(&mut self, stick: NodeId, name: &str, span: Span) {
        if let Some(index) = self.program.property(stick, name) {
            self.eval.uses.note(self.program, span, Binding::Value(stick, index));
        }
    }

    /// Names of shelves that contents stand on: marks of the stick, or shelves of the carcass itself.
    pub(super) fn shelves_named(&mut self, carcass: NodeId, names: &[(Arc<str>, Span)]) {
        let program = self.program;
        let stick =
            if self.is_stated(carcass, CARCASS.shelves) { self.read(carcass, CARCASS.shelves) } else { None };
        for (name, span) in names {
            let own = program
                .children(carcass, "shelf")
                .find(|shelf| program.node(*shelf).name.as_ref().is_some_and(|own| own.text == *name));
            match (stick, own) {
                (Some(stick), _) => self.mark_named(stick, name, *span),
                (None, Some(shelf)) => self.eval.uses.note(program, *span, Binding::Member(shelf)),
                (None, None) => {}
            }
        }
    }

    fn no_mark(&mut self, stick: NodeId, name: &str, span: Span, marks: &[Mark]) {
        let node = self.program.node(stick);
        let stick = node.name.as_ref().map_or("", |name| &name.text);
        let diagnostic =
            Diagnostic::new(&name_codes::NAME, format!("the stick `{stick}` has no mark `{name}`"))
                .at(span, "")
                .and_at(node.head, "the stick");
        self.eval.sink.push(match nearest(name, marks.iter().map(|mark| &*mark.name)) {
            Some(near) => diagnostic.fix(span, near, format!("did you mean `{near}`?")),
            None => {
                let all: Vec<String> = marks.iter().map(|mark| format!("`{}`", mark.name)).collect();
                diagnostic.help(format!("it has {}", all.join(", ")))
            }
        });
    }
}
