//! Reads what stands over a shelf: bays between dividers, their shelves, loose shelves on pins.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Linear;
use crate::eval::model::{Adjustable, Back, BackJoint, Bay, Fill, Level, Over, Share};
use crate::resolve::NodeId;
use crate::resolve::kinds::read;
use crate::resolve::kinds::{ADJUSTABLE, BACK, BACK_TO_SIDE, BAY, BORER, JOIN, Optional, Property, SHELF};

impl Reader<'_> {
    /// What the block of a shelf or of a bay states about the opening over it.
    pub(super) fn over(&mut self, id: NodeId, load: Property<read::Load, Optional>) -> Over {
        let bays: Vec<NodeId> = self.program.children(id, "bay").collect();
        let adjustable = self.program.children(id, "adjustable").next();
        if let (Some(bay), Some(adjustable)) = (bays.first(), adjustable) {
            let (bay, loose) = (self.program.node(*bay).head, self.program.node(adjustable).head);
            self.eval.sink.push(
                Diagnostic::new(
                    &codes::DIVIDED,
                    "loose shelves stand in an opening that is divided into bays",
                )
                .at(loose, "")
                .and_at(bay, "a bay of it")
                .help("move the `adjustable` into the bays that have loose shelves"),
            );
        }
        Over {
            load: self.read(id, load),
            contents: self.contents(id),
            bays: bays.into_iter().filter_map(|bay| self.bay(bay)).collect(),
            adjustable: adjustable.and_then(|id| self.adjustable(id)),
        }
    }

    fn bay(&mut self, id: NodeId) -> Option<Bay> {
        Some(Bay {
            name: self.name(id)?,
            width: self.fill(id, BAY.width)?,
            clear: self.fill(id, BAY.clear)?,
            over: self.over(id, BAY.load),
            shelves: self.levels(id),
            head: self.program.node(id).head,
        })
    }

    /// The shelves of a block that stand by their clear heights, from the bottom.
    pub(super) fn levels(&mut self, id: NodeId) -> Vec<Level> {
        let shelves: Vec<NodeId> = self.program.children(id, "shelf").collect();
        shelves.into_iter().filter_map(|shelf| self.level(shelf)).collect()
    }

    fn level(&mut self, id: NodeId) -> Option<Level> {
        let head = self.program.node(id).head;
        let (clear, over) = (self.fill(id, SHELF.clear)?, self.over(id, SHELF.load));
        Some(Level { name: self.name(id)?, clear, over, head })
    }

    /// A stated length or share; an equal share where nothing is stated, `None` where a message was given.
    fn fill(&mut self, id: NodeId, property: Property<read::Share, Optional>) -> Option<Fill> {
        if self.is_stated(id, property) {
            return self.read(id, property);
        }
        Some(Fill::Share(Share { linear: Linear::rest(), round: None, span: None }))
    }

    /// The back of a carcass; in rabbets where no join says otherwise.
    pub(super) fn back(&mut self, carcass: NodeId) -> Option<Back> {
        let id = self.program.children(carcass, "back").next()?;
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

    fn adjustable(&mut self, id: NodeId) -> Option<Adjustable> {
        let help = "state how many lie there, or delete the `adjustable`";
        let count = self.needed_count(id, ADJUSTABLE.count, ["loose shelves", help])?;
        let borer = self.shared("borer").first().copied();
        let borer = borer.and_then(|borer| self.read(borer, BORER.pitch));
        let pitch = self.read(id, ADJUSTABLE.pitch).or(borer);
        let pitch = pitch.unwrap_or_else(|| self.unstated(ADJUSTABLE.pitch));
        let rows = [ADJUSTABLE.front, ADJUSTABLE.rear].map(|property| self.usual(id, property));
        let margin = self.usual(id, ADJUSTABLE.margin);
        let hole_depth = self.usual(id, ADJUSTABLE.hole_depth);
        let play = self.usual(id, ADJUSTABLE.play);
        let set_back = self.usual(id, ADJUSTABLE.set_back);
        let pin = self.read(id, ADJUSTABLE.pin).and_then(|pin| self.positions.get(&pin).copied());
        let (strip, head) = (self.read(id, ADJUSTABLE.strip), self.program.node(id).head);
        Some(Adjustable { count, pitch, rows, margin, hole_depth, play, set_back, strip, pin, head })
    }
}
