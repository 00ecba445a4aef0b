//! Reads what a carcass stands on, and the panels on it: its counter, its back.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::model::{
    Back, BackJoint, Base, Counter, EdgeTape, Follow, Foot, Hole, RunCounter, SheetId, Toe,
};
use crate::resolve::kinds::read;
use crate::resolve::kinds::{
    BACK, BACK_TO_SIDE, CARCASS, COUNTER, EDGE, FOLLOW, HOLE, JOIN, Optional, PLINTH, Property, TAPE, TOE,
    TakenBack,
};
use crate::resolve::{Binding, NodeId};
use crate::source::Span;
use std::sync::Arc;

impl Reader<'_> {
    /// What a carcass stands on; `None` where a message was given.
    pub(super) fn foot(&mut self, id: NodeId) -> Option<Foot> {
        let program = self.program;
        let (toe, base) = (self.given(id, TakenBack::Toe), self.given(id, TakenBack::Plinth));
        match (toe, base) {
            (Some(toe), Some(base)) => {
                self.eval.sink.push(
                    Diagnostic::new(&codes::BOTH, "the toe space is stated in two ways")
                        .at(program.node(base).head, "a base under the sides")
                        .and_at(program.node(toe).head, "a notch in them")
                        .help("keep one: a `plinth` that is `set_back` leaves a toe space without notches"),
                );
                None
            }
            (Some(toe), None) => {
                let height = self.needed(toe, TOE.height)?;
                let depth = self.usual(toe, TOE.depth);
                Some(Foot::Notched(Toe { height, depth, head: program.node(toe).head }))
            }
            (None, Some(base)) => {
                let height = self.needed(base, PLINTH.height)?;
                let sheet = self.panel(base, PLINTH.stock, id);
                let set_back = self.read(base, PLINTH.set_back);
                let ribs = self.usual(base, PLINTH.ribs);
                Some(Foot::Base(Base {
                    sheet: sheet?,
                    height,
                    set_back,
                    ribs,
                    head: program.node(base).head,
                }))
            }
            (None, None) => Some(Foot::Sides),
        }
    }

    /// What a plinth, a counter or a door is cut from: the sheet that it names, else that of its carcass.
    pub(super) fn panel(
        &mut self,
        id: NodeId,
        stock: Property<read::Member, Optional>,
        carcass: NodeId,
    ) -> Option<SheetId> {
        if !self.is_stated(id, stock) {
            return self.stock(carcass);
        }
        let sheet = self.read(id, stock)?;
        self.sheets.get(&sheet).copied()
    }

    pub(super) fn counter(&mut self, carcass: NodeId) -> Option<Counter> {
        let id = self.given(carcass, TakenBack::Counter)?;
        if self.is_stated(id, COUNTER.on) {
            let told = Diagnostic::new(&codes::RANGE, "a counter of one unit lies over that unit");
            let told = told.at(self.span(id, COUNTER.on), "");
            self.eval.sink.push(told.help("put the `counter` into the run, beside its units"));
        }
        let sheet = self.panel(id, COUNTER.stock, carcass)?;
        Some(self.counter_of(id, sheet))
    }

    fn counter_of(&mut self, id: NodeId, sheet: SheetId) -> Counter {
        let [over, gap, ends] =
            [COUNTER.over, COUNTER.gap, COUNTER.ends].map(|property| self.read(id, property));
        Counter { sheet, over, gap, ends, head: self.program.node(id).head }
    }

    /// A counter over several units and spaces of a run.
    pub(super) fn run_counter(&mut self, run: NodeId, first: Option<SheetId>) -> Option<RunCounter> {
        let id = self.program.children(run, "counter").next()?;
        let sheet = if self.is_stated(id, COUNTER.stock) {
            let sheet = self.read(id, COUNTER.stock)?;
            self.sheets.get(&sheet).copied()?
        } else {
            first?
        };
        let on = self.read(id, COUNTER.on);
        self.uses_of_run(run, on.iter().flatten());
        Some(RunCounter { counter: self.counter_of(id, sheet), on })
    }

    /// Notes which units and spaces of a run names stand for.
    pub(super) fn uses_of_run<'n>(&mut self, run: NodeId, names: impl Iterator<Item = &'n (Arc<str>, Span)>) {
        let program = self.program;
        for (name, span) in names {
            let named = |own: &NodeId| program.node(*own).name.as_ref().is_some_and(|own| own.text == *name);
            if let Some(member) = program.in_order(run, &["unit", "space"]).find(named) {
                self.eval.uses.note(program, *span, Binding::Member(member));
            }
        }
    }

    /// A part of a carcass that `each` or itself gives it, unless it takes that back.
    pub(super) fn given(&mut self, carcass: NodeId, what: TakenBack) -> Option<NodeId> {
        let id = self.program.children(carcass, what.word()).next()?;
        (!self.takes_back(carcass, what)).then_some(id)
    }

    pub(super) fn takes_back(&mut self, carcass: NodeId, what: TakenBack) -> bool {
        self.read(carcass, CARCASS.without).is_some_and(|without| without.contains(&what))
    }

    /// Says where a carcass takes back what nothing gives it.
    pub(super) fn takes_back_nothing(&mut self, carcass: NodeId) {
        let without = self.read(carcass, CARCASS.without).unwrap_or_default();
        for what in without {
            if self.program.children(carcass, what.word()).next().is_none() {
                let message = format!("there is no `{}` to take back", what.word());
                let told =
                    Diagnostic::new(&codes::RANGE, message).at(self.span(carcass, CARCASS.without), "");
                self.eval.sink.push(told.help("no `each` gives one here: take the word out"));
            }
        }
    }

    /// How a unit follows the ceiling.
    pub(super) fn follow(&mut self, carcass: NodeId) -> Option<Follow> {
        let id = self.given(carcass, TakenBack::Follow)?;
        let gap = self.usual(id, FOLLOW.gap);
        let height = !self.is_stated(carcass, CARCASS.height);
        Some(Follow { gap, height, head: self.program.node(id).head })
    }

    /// The strip on the front edges of a carcass.
    pub(super) fn edge(&mut self, carcass: NodeId) -> Option<EdgeTape> {
        let id = self.given(carcass, TakenBack::Edge)?;
        let tape = self.needed(id, EDGE.stock)?;
        self.tape(tape, id)
    }

    /// A strip as it is put on what stands in `at`.
    pub(super) fn tape(&mut self, tape: NodeId, at: NodeId) -> Option<EdgeTape> {
        let width = self.needed(tape, TAPE.width);
        let (thickness, roll) = (self.read(tape, TAPE.thickness), self.read(tape, TAPE.roll));
        let price = self.read(tape, TAPE.price).map(|price| price.value);
        let (name, text) = (self.name(tape)?, self.text(tape));
        Some(EdgeTape { name, text, width: width?, thickness, roll, price, head: self.program.node(at).head })
    }

    pub(super) fn holes(&mut self, carcass: NodeId) -> Vec<Hole> {
        if self.takes_back(carcass, TakenBack::Hole) {
            return Vec::new();
        }
        let holes: Vec<NodeId> = self.program.children(carcass, "hole").collect();
        holes.into_iter().filter_map(|id| self.hole(carcass, id)).collect()
    }

    fn hole(&mut self, carcass: NodeId, id: NodeId) -> Option<Hole> {
        let (through, diameter) = (self.needed(id, HOLE.through), self.needed(id, HOLE.diameter));
        let at = [HOLE.left, HOLE.off, HOLE.bottom].map(|property| self.read(id, property));
        let grommet = self.read(id, HOLE.grommet);
        let (through, diameter) = (through?, diameter?);
        self.shelves_named(carcass, &through);
        if let Some(grommet) = grommet.filter(|grommet| grommet.value <= diameter.value) {
            let least = self.marks.print(diameter.value).to_string();
            let message =
                format!("a grommet {} wide falls through a hole of {least}", self.marks.print(grommet.value));
            let told =
                Diagnostic::new(&codes::RANGE, message).at(self.span(id, HOLE.grommet), "over its flange");
            let told = told.and_at(self.span(id, HOLE.diameter), "the hole");
            self.eval.sink.push(told.help("state the width over its flange, which lies on the wood"));
            return None;
        }
        let (name, text) = (self.name(id)?, self.text(id));
        Some(Hole { name, text, through, diameter, at, grommet, head: self.program.node(id).head })
    }

    /// The back of a carcass; in rabbets where no join says otherwise.
    pub(super) fn back(&mut self, carcass: NodeId) -> Option<Back> {
        let id = self.given(carcass, TakenBack::Back)?;
        let sheet = self.needed(id, BACK.stock)?;
        let sheet = self.sheets.get(&sheet).copied()?;
        let join = self.nearest_join(carcass, BACK_TO_SIDE);
        let head = join.and_then(|join| self.program.node(join).join.clone());
        let depth = join.and_then(|join| self.read(join, JOIN.depth));
        let fit = join.and_then(|join| self.read(join, JOIN.fit));
        let word = head.map_or_else(|| "rabbet".into(), |head| head.joint);
        if &*word != "groove" && self.is_stated(id, BACK.set_in) {
            self.eval.sink.push(
                Diagnostic::new(&codes::SET_IN, "a back that is set in stands in grooves")
                    .at(self.span(id, BACK.set_in), "set in from the rear edges")
                    .and_at(
                        join.map_or(self.program.node(id).head, |join| self.program.node(join).head),
                        "held otherwise",
                    )
                    .help("write `join back to side with groove`, or delete the `set_in`"),
            );
        }
        let usual = BACK_TO_SIDE.usual;
        let mut depth = || depth.unwrap_or_else(|| self.usual_length(usual.depth));
        let joint = match &*word {
            "butt" => BackJoint::Planted,
            "groove" => {
                let depth = depth();
                let fit = fit.unwrap_or_else(|| self.usual_length(usual.fit));
                BackJoint::Groove { depth, fit, set_in: self.usual(id, BACK.set_in) }
            }
            _ => BackJoint::Rabbet { depth: depth() },
        };
        Some(Back { sheet, joint })
    }
}
