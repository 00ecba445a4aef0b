//! Reads what stands over a shelf: bays between dividers, their shelves, loose shelves on pins.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Linear;
use crate::eval::model::{Adjustable, Bay, Fill, Level, Over, Share};
use crate::resolve::NodeId;
use crate::resolve::kinds::read;
use crate::resolve::kinds::{ADJUSTABLE, BAY, BORER, Optional, Property, SHELF};

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
        // The unit in which it stands.
        let mut around = self.program.around(id).into_iter();
        let carcass = around.find(|id| matches!(self.program.node(*id).kind.word, "unit" | "carcass"));
        Some(Bay {
            name: self.name(id)?,
            width: self.fill(id, BAY.width)?,
            clear: self.fill(id, BAY.clear)?,
            over: self.over(id, BAY.load),
            shelves: self.levels(id),
            doors: carcass.map_or_else(Vec::new, |carcass| self.doors(carcass, id)),
            drawers: carcass.map_or_else(Vec::new, |carcass| self.drawers(carcass, id)),
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
