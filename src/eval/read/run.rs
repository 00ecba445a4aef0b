//! Reads runs: the wall, the ends, the units, the facing and what stands over it.

use super::{COMMON, Reader, Sign};
use crate::eval::ledger::Len;
use crate::eval::model::{Carcass, End, Facing, Filler, Frame, Return, Run, Scribe, SheetId};
use crate::eval::value::Value;
use crate::resolve::NodeId;
use std::sync::Arc;

impl Reader<'_> {
    pub(super) fn run(&mut self, id: NodeId) -> Run {
        let length = self.length(id, "length", Sign::Positive);
        let wall = match self.value(id, "along") {
            Some(Value::Member(wall)) => self.positions.get(&wall).copied(),
            _ => None,
        };
        let units: Vec<NodeId> = self.program.children(id, "unit").collect();
        let units: Vec<Carcass> = units.into_iter().filter_map(|unit| self.carcass(unit)).collect();
        let facing = self.program.children(id, "facing").next().and_then(|facing| self.facing(facing));
        let crown = self.program.children(id, "crown").next();
        let crown = crown.and_then(|crown| match self.value(crown, "stock") {
            Some(Value::Member(stock)) => self.moulding(stock),
            Some(_) => None,
            None => {
                self.missing(crown, "stock", "stock = crown_moulding");
                None
            }
        });
        Run {
            name: self.name(id).unwrap_or_else(|| Arc::from("run")),
            text: self.text(id),
            head: Some(self.program.node(id).head),
            length,
            wall,
            ends: ["left", "right"].map(|side| self.end(id, side)),
            units,
            facing,
            crown,
            ceiling_panel: self.ceiling_panel(id),
            facing_join: self.join(id, "facing", "carcass"),
            seam_join: self.join(id, "unit", "unit"),
            frame: self.frame(id),
        }
    }

    /// The nearest `join rail to stile`: strips are rails of the frame too.
    fn frame(&mut self, run: NodeId) -> Option<Frame> {
        let id = self.nearest_join(run, "rail", "stile")?;
        let node = self.program.node(id);
        let tenoned = node.join.as_ref().is_some_and(|join| &*join.joint == "tenon");
        let stated = self.length(id, "depth", Sign::Positive);
        let depth = stated.unwrap_or_else(|| self.usual("length of a tenon", (1, 1), (25, 1), COMMON));
        Some(Frame { tenoned, depth, join: self.held(id), head: node.head })
    }

    fn end(&mut self, run: NodeId, side: &str) -> End {
        let program = self.program;
        let named = |id: &NodeId| program.node(*id).name.as_ref().is_some_and(|name| &*name.text == side);
        let Some(id) = program.children(run, "end").find(named) else {
            return End { meets: Return::Wall, gap: None, filler: None, head: None };
        };
        let meets = match self.value(id, "against") {
            Some(Value::Word("open")) => Return::Open,
            _ => Return::Wall,
        };
        let filler = match self.value(id, "filler") {
            Some(Value::Member(board)) => self.positions.get(&board).copied(),
            _ => None,
        };
        let filler = filler.map(|board| Filler { board, scribe: self.scribe(None) });
        let (gap, head) = (self.length(id, "gap", Sign::NotNegative), Some(self.program.node(id).head));
        End { meets, gap, filler, head }
    }

    /// What blanks have over their finished sizes: as it is stated, else as usual.
    fn scribe(&mut self, id: Option<NodeId>) -> Scribe {
        let spare = id.and_then(|id| self.length(id, "spare", Sign::NotNegative));
        let step = id.and_then(|id| self.length(id, "step", Sign::Positive));
        let rule = "common practice, no source: 1/4 in or 5 mm over the widest place";
        Scribe {
            spare: spare.unwrap_or_else(|| self.usual("spare for scribing", (1, 4), (5, 1), rule)),
            step: step.map_or(self.system().length((1, 8), (5, 1)), |step| step.value),
        }
    }

    fn facing(&mut self, id: NodeId) -> Option<Facing> {
        let board = match self.value(id, "stock") {
            Some(Value::Member(board)) => self.positions.get(&board).copied(),
            Some(_) => None,
            None => {
                self.missing(id, "stock", "stock = poplar");
                None
            }
        };
        let stated = self.length(id, "thickness", Sign::Positive);
        let of_board = match self.value(id, "stock") {
            Some(Value::Member(board)) => self.length(board, "thickness", Sign::Positive),
            _ => None,
        };
        if stated.is_none() && of_board.is_none() && board.is_some() {
            self.missing(id, "thickness", if self.metric { "thickness = 20mm" } else { "thickness = 3/4\"" });
        }
        let scribe = self.program.children(id, "scribe").next();
        let scribe = self.scribe(scribe);
        Some(Facing {
            board: board?,
            thickness: stated.or(of_board)?,
            stile: self.length(id, "stile", Sign::Positive),
            lap: self.length(id, "lap", Sign::NotNegative),
            divider: self.length(id, "divider", Sign::Positive),
            strip: self.length(id, "strip", Sign::Positive),
            top_rail: self.length(id, "top_rail", Sign::Positive),
            bottom_rail: self.value(id, "bottom_rail").is_some(),
            scribe,
            head: Some(self.program.node(id).head),
        })
    }

    fn ceiling_panel(&mut self, run: NodeId) -> Option<(SheetId, Len)> {
        let id = self.program.children(run, "ceiling_panel").next()?;
        let sheet = self.stock(id);
        let depth =
            self.needed_length(id, "depth", if self.metric { "depth = 400mm" } else { "depth = 16\"" });
        sheet.zip(depth)
    }
}
