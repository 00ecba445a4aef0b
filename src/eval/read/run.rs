//! Reads runs: the wall, the ends, the units, the facing and what stands over it.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Len;
use crate::eval::model::{
    Carcass, CeilingPanel, End, Facing, Fill, Filler, Frame, Join, Return, Run, Scribe, Space, SpaceWidth,
    Thing,
};
use crate::resolve::NodeId;
use crate::resolve::kinds::{
    Against, BOARD, CEILING_PANEL, CROWN, END, FACING, FACING_TO_CARCASS, JOIN, RAIL_TO_STILE, RUN, SCRIBE,
    SPACE, THING, UNIT, UNIT_TO_UNIT,
};
use std::sync::Arc;

impl Reader<'_> {
    pub(super) fn run(&mut self, id: NodeId) -> Run {
        let length = self.read(id, RUN.length);
        let wall = self.read(id, RUN.along).and_then(|wall| self.positions.get(&wall).copied());
        let members: Vec<NodeId> = self.program.in_order(id, &["unit", "space"]).collect();
        let (mut units, mut spaces): (Vec<Carcass>, Vec<Space>) = (Vec::new(), Vec::new());
        let mut hung: Vec<Carcass> = Vec::new();
        for member in members {
            if self.program.node(member).kind.word == "space" {
                spaces.extend(self.space(member, units.len()));
            } else if self.is_stated(member, UNIT.foot) {
                hung.extend(self.carcass(member));
            } else {
                units.extend(self.carcass(member));
            }
        }
        let facing = self.program.children(id, "facing").next().and_then(|facing| self.facing(facing));
        let crown = self.program.children(id, "crown").next();
        let crown = crown.and_then(|crown| self.needed(crown, CROWN.stock));
        let crown = crown.and_then(|stock| self.moulding(stock));
        let lost = self.is_stated(id, RUN.along) && wall.is_none();
        let counter = self.run_counter(id, units.first().map(|unit| unit.sheet));
        Run {
            lost,
            name: self.name(id).unwrap_or_else(|| Arc::from("run")),
            text: self.text(id),
            head: Some(self.program.node(id).head),
            note: self.note(self.program.node(id).head),
            length,
            wall,
            ends: ["left", "right"].map(|side| self.end(id, side)),
            units,
            hung,
            spaces,
            facing,
            counter,
            crown,
            ceiling_panel: self.ceiling_panel(id),
            facing_join: self.join(id, FACING_TO_CARCASS),
            seam_join: self.join(id, UNIT_TO_UNIT),
            frame: self.frame(id),
            stood_up_under: self.read(id, RUN.stood_up_under),
        }
    }

    /// Room between units: `after` of them stand left of it.
    fn space(&mut self, id: NodeId, after: usize) -> Option<Space> {
        let program = self.program;
        let things: Vec<NodeId> = program.children(id, "thing").collect();
        let things: Vec<Thing> = things.into_iter().filter_map(|thing| self.thing(thing)).collect();
        let stated = [self.is_stated(id, SPACE.width), self.is_stated(id, SPACE.over)];
        let width = match stated {
            [true, true] => {
                let (width, over) = (self.span(id, SPACE.width), self.span(id, SPACE.over));
                let told = Diagnostic::new(&codes::BOTH, "the width of a space is stated in two ways");
                let told = told.at(width, "stated here").and_at(over, "and this opening gives it");
                self.eval
                    .sink
                    .push(told.help("keep one: over an opening it is as wide as that with its casings"));
                None
            }
            [true, false] => self.read(id, SPACE.width).map(|width| match width {
                Fill::Fixed(width) => SpaceWidth::Fixed(width),
                Fill::Share(share) => SpaceWidth::Share(share),
            }),
            [false, true] => {
                let said = self.span(id, SPACE.over);
                self.read(id, SPACE.over).map(|opening| SpaceWidth::Over(program.node(opening).head, said))
            }
            [false, false] if !things.is_empty() => {
                let terms = things.iter().flat_map(|thing| [(1, thing.size[0]), (2, thing.play)]);
                let terms: Vec<(i128, Len)> = terms.collect();
                let rule = "what stands in it, and the play at each side of that";
                Some(SpaceWidth::Fixed(self.eval.ledger.sum("width of the space", &terms, rule)))
            }
            [false, false] => {
                self.missing(id, SPACE.width);
                None
            }
        };
        Some(Space {
            name: self.name(id)?,
            text: self.text(id),
            head: program.node(id).head,
            after,
            width: width?,
            stile: self.read(id, SPACE.stile),
            things,
        })
    }

    fn thing(&mut self, id: NodeId) -> Option<Thing> {
        let size = [THING.width, THING.depth, THING.height].map(|property| self.needed(id, property));
        let [width, depth, height] = size;
        Some(Thing {
            name: self.name(id)?,
            text: self.text(id),
            head: self.program.node(id).head,
            size: [width?, depth?, height?],
            play: self.usual(id, THING.play),
            behind: self.read(id, THING.behind),
        })
    }

    /// The nearest `join rail to stile`: strips are rails of the frame too.
    fn frame(&mut self, run: NodeId) -> Option<Frame> {
        let id = self.nearest_join(run, RAIL_TO_STILE)?;
        let node = self.program.node(id);
        let tenoned = node.join.as_ref().is_some_and(|join| &*join.joint == "tenon");
        let depth = self.read(id, JOIN.depth);
        let depth = depth.unwrap_or_else(|| self.usual_length(RAIL_TO_STILE.usual));
        Some(Frame { tenoned, depth, join: self.held(id), head: node.head })
    }

    fn end(&mut self, run: NodeId, side: &str) -> End {
        let program = self.program;
        let named = |id: &NodeId| program.node(*id).name.as_ref().is_some_and(|name| &*name.text == side);
        let Some(id) = program.children(run, "end").find(named) else {
            return End { against: None, gap: None, stile: None, filler: None, before: None, head: None };
        };
        let against = self.read(id, END.against).map(|against| match against {
            Against::Open => Return::Open,
            Against::Wall => Return::Wall,
        });
        let filler = self.read(id, END.filler).and_then(|board| self.positions.get(&board).copied());
        let filler = filler.map(|board| Filler { board, scribe: self.scribe(None) });
        let gap = self.read(id, END.gap);
        let before = self.read(id, END.before).and_then(|other| self.positions.get(&other).copied());
        let (stile, head) = (self.read(id, END.stile), Some(self.program.node(id).head));
        End { against, gap, stile, filler, before, head }
    }

    /// What blanks have over their finished sizes: as it is stated, else as usual.
    fn scribe(&mut self, id: Option<NodeId>) -> Scribe {
        let [spare, step] = match id {
            Some(id) => [self.usual(id, SCRIBE.spare), self.usual(id, SCRIBE.step)],
            None => [self.unstated(SCRIBE.spare), self.unstated(SCRIBE.step)],
        };
        Scribe { spare, step: step.value }
    }

    fn facing(&mut self, id: NodeId) -> Option<Facing> {
        let stock = self.needed(id, FACING.stock);
        let board = stock.and_then(|board| self.positions.get(&board).copied());
        let stated = self.read(id, FACING.thickness);
        let of_board = stock.and_then(|board| self.read(board, BOARD.thickness));
        if stated.is_none() && of_board.is_none() && board.is_some() {
            self.missing(id, FACING.thickness);
        }
        if let (Some(stated), Some(board)) = (stated, of_board)
            && stated.value > board.value
        {
            let print = |length| self.marks.print(length).to_string();
            let message = format!(
                "a facing {} thick is cut from a board of {}",
                print(stated.value),
                print(board.value)
            );
            let help = format!("make it {} or less, or take a thicker board", print(board.value));
            let mut told = Diagnostic::new(&codes::THICK, message).at(self.span(id, FACING.thickness), "");
            for span in self.eval.ledger.spans(board.why) {
                told = told.and_at(span, "the board as dressed");
            }
            self.eval.sink.push(told.help(help));
        }
        let scribe = self.program.children(id, "scribe").next();
        let scribe = self.scribe(scribe);
        Some(Facing {
            board: board?,
            thickness: stated.or(of_board)?,
            stile: self.read(id, FACING.stile),
            lap: self.read(id, FACING.lap),
            divider: self.read(id, FACING.divider),
            strip: self.read(id, FACING.strip),
            top_rail: self.read(id, FACING.top_rail),
            bottom_rail: self.is_stated(id, FACING.bottom_rail),
            scribe,
            head: Some(self.program.node(id).head),
        })
    }

    fn ceiling_panel(&mut self, run: NodeId) -> Option<CeilingPanel> {
        let id = self.program.children(run, "ceiling_panel").next()?;
        let sheet = self.sheet_or_only(id, CEILING_PANEL.stock);
        let depth = self.needed(id, CEILING_PANEL.depth);
        let nail = self.read(id, CEILING_PANEL.nail);
        let glue = self.read(id, CEILING_PANEL.glue);
        let [fastener, glue] = [nail, glue].map(|own| self.positions.get(&own?).copied());
        let join = Join { fastener, glue, ..Join::default() };
        sheet.zip(depth).map(|(sheet, depth)| CeilingPanel { sheet, depth, join })
    }
}
