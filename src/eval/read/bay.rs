//! Reads what stands over a shelf: bays between dividers, their shelves, loose shelves on pins.

use super::{COMMON, Reader, Sign};
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::{Len, Linear};
use crate::eval::model::{Adjustable, Back, BackJoint, Bay, Fill, Level, Over, Share};
use crate::eval::value::Value;
use crate::resolve::NodeId;

impl Reader<'_> {
    /// What the block of a shelf or of a bay states about the opening over it.
    pub(super) fn over(&mut self, id: NodeId) -> Over {
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
            load: self.load(id),
            contents: self.contents(id),
            bays: bays.into_iter().filter_map(|bay| self.bay(bay)).collect(),
            adjustable: adjustable.and_then(|id| self.adjustable(id)),
        }
    }

    fn bay(&mut self, id: NodeId) -> Option<Bay> {
        Some(Bay {
            name: self.name(id)?,
            width: self.fill(id, "width")?,
            clear: self.fill(id, "clear")?,
            over: self.over(id),
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
        Some(Level { name: self.name(id)?, clear: self.fill(id, "clear")?, over: self.over(id), head })
    }

    /// A stated length or share; an equal share where nothing is stated, `None` where a message was given.
    fn fill(&mut self, id: NodeId, property: &str) -> Option<Fill> {
        match self.value(id, property) {
            Some(Value::Share(linear, round, span)) => {
                Some(Fill::Share(Share { linear, round, span: Some(span) }))
            }
            Some(_) => self.length(id, property, Sign::Positive).map(Fill::Fixed),
            None => Some(Fill::Share(Share { linear: Linear::rest(), round: None, span: None })),
        }
    }

    /// The back of a carcass; in rabbets where no join says otherwise.
    pub(super) fn back(&mut self, carcass: NodeId) -> Option<Back> {
        let id = self.program.children(carcass, "back").next()?;
        if !self.is_stated(id, "stock") {
            self.missing(id, "stock", "stock = thin_ply");
        }
        let sheet = match self.value(id, "stock")? {
            Value::Member(sheet) => self.sheets.get(&sheet).copied()?,
            _ => return None,
        };
        let join = self.nearest_join(carcass, "back", "side");
        let head = join.and_then(|join| self.program.node(join).join.clone());
        let depth = join.and_then(|join| self.length(join, "depth", Sign::Positive));
        let fit = join.and_then(|join| self.length(join, "fit", Sign::NotNegative));
        let word = head.map_or_else(|| "rabbet".into(), |head| head.joint);
        if &*word != "groove" && self.is_stated(id, "set_in") {
            self.eval.sink.push(
                Diagnostic::new(&codes::SET_IN, "a back that is set in stands in grooves")
                    .at(self.span(id, "set_in"), "set in from the rear edges")
                    .and_at(
                        join.map_or(self.program.node(id).head, |join| self.program.node(join).head),
                        "held otherwise",
                    )
                    .help("write `join back to side with groove`, or delete the `set_in`"),
            );
        }
        let mut depth =
            || depth.unwrap_or_else(|| self.usual("depth of the housing", (1, 4), (6, 1), COMMON));
        let joint = match &*word {
            "butt" => BackJoint::Planted,
            "groove" => {
                let depth = depth();
                let fit = fit.unwrap_or_else(|| self.usual("fit of the groove", (1, 128), (1, 5), COMMON));
                let set_in = self.length(id, "set_in", Sign::Positive);
                let set_in = set_in.unwrap_or_else(|| self.usual("set in", (1, 2), (12, 1), COMMON));
                BackJoint::Groove { depth, fit, set_in }
            }
            _ => BackJoint::Rabbet { depth: depth() },
        };
        Some(Back { sheet, joint })
    }

    fn adjustable(&mut self, id: NodeId) -> Option<Adjustable> {
        let help = "state how many lie there, or delete the `adjustable`";
        let count = self.needed_count(id, ["loose shelves", "count = 3", help])?;
        let borer = self.shared("borer").first().copied();
        let borer = borer.and_then(|borer| self.length(borer, "pitch", Sign::Positive));
        let stated = |reader: &mut Self, property| reader.length(id, property, Sign::Positive);
        let pitch = stated(self, "pitch").or(borer);
        let pitch = pitch.unwrap_or_else(|| self.usual("pitch of the holes", (1, 1), (32, 1), COMMON));
        let mut or = |property: &'static str, label, inches, mm| -> Len {
            let stated = self.length(id, property, Sign::Positive);
            stated.unwrap_or_else(|| self.usual(label, inches, mm, COMMON))
        };
        // Published nowhere: the pin grid, hole depth and play of the trade.
        let rows = [
            or("front", "from the front edge to the row", (3, 2), (37, 1)),
            or("rear", "from the rear edge to the row", (3, 2), (37, 1)),
        ];
        let margin = or("margin", "room between a hole and the next shelf", (2, 1), (64, 1));
        let hole_depth = or("hole_depth", "depth of a hole", (3, 8), (10, 1));
        let play = or("play", "play of a loose shelf", (1, 8), (3, 1));
        let set_back = or("set_back", "set back of a loose shelf", (1, 16), (2, 1));
        let pin = match self.value(id, "pin") {
            Some(Value::Member(pin)) => self.positions.get(&pin).copied(),
            _ => None,
        };
        let (strip, head) = (self.length(id, "strip", Sign::Positive), self.program.node(id).head);
        Some(Adjustable { count, pitch, rows, margin, hole_depth, play, set_back, strip, pin, head })
    }
}
