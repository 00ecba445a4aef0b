//! Reads doors and drawers, and what they hang and run on.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::model::{BoxOf, Doors, Drawers, Front, FrontAt, Hinge, Pull, SheetId, Slide};
use crate::resolve::NodeId;
use crate::resolve::kinds::read;
use crate::resolve::kinds::{
    BOARD, BOTTOM_GROOVE, BOTTOM_PLAY, BOTTOM_SET_IN, BOX_TO_BOX, DOORS, DRAWERS, FRONT_TO_BOX, Fit, HINGE,
    Hung, Needed, OVER_BOX, Optional, PULL, Property, SLIDE, STAND_OFF, TakenBack, UNDER_BOX, Usual,
    UsualLength,
};

/// What doors and drawers say of their fronts in the same words.
struct Common {
    count: Property<read::Whole, Needed>,
    between: Property<read::Names, Optional>,
    reveal: Property<read::Positive, Usual<UsualLength>>,
    overlay: Property<read::Positive, Usual<UsualLength>>,
    stock: Property<read::Member, Optional>,
    edge: Property<read::Member, Optional>,
    pull: Property<read::Member, Optional>,
}

static OF_DOORS: Common = Common {
    count: DOORS.count,
    between: DOORS.between,
    reveal: DOORS.reveal,
    overlay: DOORS.overlay,
    stock: DOORS.stock,
    edge: DOORS.edge,
    pull: DOORS.pull,
};

static OF_DRAWERS: Common = Common {
    count: DRAWERS.count,
    between: DRAWERS.between,
    reveal: DRAWERS.reveal,
    overlay: DRAWERS.overlay,
    stock: DRAWERS.stock,
    edge: DRAWERS.edge,
    pull: DRAWERS.pull,
};

impl Reader<'_> {
    /// The doors of a carcass, or of a bay of it.
    pub(super) fn doors(&mut self, carcass: NodeId, within: NodeId) -> Vec<Doors> {
        self.fronts_in(carcass, (within, TakenBack::Doors), |reader, id| {
            let what = ["doors", "state how many hang there, or delete the `doors`"];
            let front = reader.front((carcass, id), &OF_DOORS, what)?;
            let bay = carcass != within;
            let fit = reader.read(id, DOORS.fit);
            let one_opening = bay || fit.is_some() || reader.is_stated(id, DOORS.between);
            if !one_opening && reader.is_stated(id, DOORS.overlay) {
                reader.no_overlay(id, &OF_DOORS, "doors before the whole front lie over all of it");
            }
            let inset = fit != Some(Fit::Overlay);
            let at = one_opening.then(|| reader.front_at(id, &OF_DOORS, inset));
            let hinge = reader.read(id, DOORS.hinge).and_then(|hinge| reader.hinge_of(hinge));
            let on_right = reader.read(id, DOORS.hung) == Some(Hung::Right);
            Some(Doors { front, at, hinge, on_right })
        })
    }

    /// The drawers of a carcass, or of a bay of it.
    pub(super) fn drawers(&mut self, carcass: NodeId, within: NodeId) -> Vec<Drawers> {
        self.fronts_in(carcass, (within, TakenBack::Drawers), |reader, id| {
            let what = ["drawers", "state how many there are, or delete the `drawers`"];
            let front = reader.front((carcass, id), &OF_DRAWERS, what);
            let slide = reader.needed(id, DRAWERS.slide).and_then(|slide| reader.slide(slide));
            let bottom = reader.needed(id, DRAWERS.bottom);
            let bottom = bottom.and_then(|bottom| reader.sheets.get(&bottom).copied());
            let inset = reader.usual(id, DRAWERS.fit) == Fit::Inset;
            let at = reader.front_at(id, &OF_DRAWERS, inset);
            let sides = reader.box_of(carcass, id)?;
            let [groove, set_in, bottom_play] =
                [BOTTOM_GROOVE, BOTTOM_SET_IN, BOTTOM_PLAY].map(|usual| reader.usual_length(usual));
            let room = [UNDER_BOX, OVER_BOX].map(|usual| reader.usual_length(usual));
            let height = reader.read(id, DRAWERS.height);
            let (corner, front_join) = (reader.join(carcass, BOX_TO_BOX), reader.join(carcass, FRONT_TO_BOX));
            Some(Drawers {
                front: front?,
                at,
                sides,
                bottom: bottom?,
                groove,
                set_in,
                bottom_play,
                room,
                height,
                slide: slide?,
                corner,
                front_join,
            })
        })
    }

    fn box_of(&mut self, carcass: NodeId, id: NodeId) -> Option<BoxOf> {
        if !self.is_stated(id, DRAWERS.board) {
            return self.panel(id, DRAWERS.r#box, carcass).map(BoxOf::Sheet);
        }
        let board = self.read(id, DRAWERS.board)?;
        let (position, thickness) = (self.positions.get(&board).copied()?, self.read(board, BOARD.thickness));
        let Some(thickness) = thickness else {
            let told = Diagnostic::new(&codes::FRONT, "the board of the boxes states no thickness");
            let told =
                told.at(self.span(id, DRAWERS.board), "").and_at(self.program.node(board).head, "this board");
            self.eval.sink.push(told.help("state its `thickness`, as dressed"));
            return None;
        };
        Some(BoxOf::Board(position, thickness))
    }

    fn fronts_in<T>(
        &mut self,
        carcass: NodeId,
        (within, kind): (NodeId, TakenBack),
        read: impl Fn(&mut Self, NodeId) -> Option<T>,
    ) -> Vec<T> {
        if self.takes_back(carcass, kind) {
            return Vec::new();
        }
        let all: Vec<NodeId> = self.program.children(within, kind.word()).collect();
        all.into_iter().filter_map(|id| read(self, id)).collect()
    }

    fn front(&mut self, (carcass, id): (NodeId, NodeId), common: &Common, what: [&str; 2]) -> Option<Front> {
        let sheet: Option<SheetId> = self.panel(id, common.stock, carcass);
        let count = self.needed_count(id, common.count, what);
        let reveal = self.usual(id, common.reveal);
        let edge = self.read(id, common.edge).and_then(|tape| self.tape(tape, id));
        let pull = self.read(id, common.pull).and_then(|pull| self.pull(pull));
        let (name, stand_off) = (self.name(id), self.usual_length(STAND_OFF));
        let head = self.program.node(id).head;
        Some(Front { name, sheet: sheet?, count: count?, reveal, stand_off, edge, pull, head })
    }

    fn front_at(&mut self, id: NodeId, common: &Common, inset: bool) -> FrontAt {
        if inset && self.is_stated(id, common.overlay) {
            self.no_overlay(id, common, "what stands within its opening lies over nothing");
        }
        let overlay = (!inset).then(|| self.usual(id, common.overlay));
        let mut between = self.read(id, common.between);
        if let Some(names) = between.as_ref().filter(|names| names.len() != 2) {
            let message = format!("an opening lies between two shelves, and {} are named", names.len());
            let told = Diagnostic::new(&codes::FRONT, message).at(self.span(id, common.between), "");
            self.eval.sink.push(
                told.help("name the shelf on which it begins and the one under which it ends: `[low, high]`"),
            );
            between = None;
        }
        FrontAt { between, overlay }
    }

    fn no_overlay(&mut self, id: NodeId, common: &Common, why: &str) {
        let told = Diagnostic::new(&codes::FRONT, format!("the `overlay` changes nothing: {why}"));
        let told = told.at(self.span(id, common.overlay), "");
        self.eval.sink.push(told.help("write `fit = overlay`, or delete the `overlay`"));
    }

    fn hinge_of(&mut self, id: NodeId) -> Option<Hinge> {
        let fastener = self.positions.get(&id).copied()?;
        let (cup, carries) = (self.read(id, HINGE.cup), self.read(id, HINGE.carries));
        let [depth, set_back, ends] =
            [HINGE.depth, HINGE.set_back, HINGE.ends].map(|property| self.usual(id, property));
        Some(Hinge { fastener, cup, depth, set_back, ends, carries })
    }

    fn slide(&mut self, id: NodeId) -> Option<Slide> {
        let first = self.positions.get(&id).copied()?;
        self.needed(id, SLIDE.lengths)?;
        let lengths = self.sold_lengths(id, SLIDE.lengths);
        let lengths = lengths.into_iter().zip(first..).collect();
        let (name, play) = (self.name(id)?, self.usual(id, SLIDE.play));
        Some(Slide { name, lengths, play })
    }

    fn pull(&mut self, id: NodeId) -> Option<Pull> {
        let fastener = self.positions.get(&id).copied()?;
        Some(Pull { fastener, out: self.usual(id, PULL.out) })
    }
}
