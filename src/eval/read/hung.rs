//! Reads units that hang on the wall.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::model::Hung;
use crate::resolve::NodeId;
use crate::resolve::kinds::{CARCASS, TakenBack, UNIT};
use crate::source::Span;

impl Reader<'_> {
    /// Whether a carcass states what only one that hangs has.
    pub(super) fn hangs(&self, id: NodeId) -> bool {
        self.is_stated(id, UNIT.foot) || self.is_stated(id, UNIT.over)
    }

    /// Where it hangs; `None` where a message was given.
    pub(super) fn hung(&mut self, id: NodeId) -> Option<Hung> {
        let program = self.program;
        let whole = program.node(id).whole;
        let said = |span: Span| (span.file == whole.file && whole.touches(span)).then_some(span);
        let stated = |reader: &Self, is: bool, span: fn(&Self, NodeId) -> Span| {
            is.then(|| span(reader, id)).and_then(said)
        };
        let width =
            stated(self, self.is_stated(id, CARCASS.width), |reader, id| reader.span(id, CARCASS.width));
        let clear =
            stated(self, self.is_stated(id, CARCASS.clear), |reader, id| reader.span(id, CARCASS.clear));
        let on_floor = [TakenBack::Toe, TakenBack::Plinth].into_iter().find_map(|what| self.given(id, what));
        let hangs = |message: &str, at: Span, text: &str, help: &str| {
            Diagnostic::new(&codes::HANGS, message).at(at, text).help(help)
        };
        let told = if !self.is_stated(id, UNIT.foot) {
            let help = "state its `foot`, from the level line to the bottom end of its sides, or take the `over` out";
            Some(hangs(
                "what hangs over others has a foot",
                self.span(id, UNIT.over),
                "it hangs over these",
                help,
            ))
        } else if let Some(at) = width.or(clear) {
            let help = "delete its width: what it hangs over gives it";
            Some(hangs("the width of a unit that hangs is stated in two ways", at, "stated here", help))
        } else {
            on_floor.map(|what| {
                let message = "a unit that hangs has nothing under its sides";
                let word = program.node(what).kind.word;
                let help = format!("take it back: `without = [{word}]`");
                hangs(message, program.node(what).head, "this stands on the floor", &help)
            })
        };
        if let Some(told) = told {
            self.eval.sink.push(told);
            return None;
        }
        let (foot, over) = (self.read(id, UNIT.foot), self.needed(id, UNIT.over));
        let play = self.usual(id, UNIT.play);
        let (foot, over) = (foot?, over?);
        if let Some(run) = program.node(id).parent {
            self.uses_of_run(run, over.iter());
        }
        Some(Hung { foot, over, play })
    }
}
