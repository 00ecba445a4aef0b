//! Reads carcasses, and what they are cut from.

use super::Reader;
use super::shelves::Shelves;
use crate::diag::{Diagnostic, nearest};
use crate::eval::codes;
use crate::eval::model::{Carcass, Contents, Fill, Joins, Notes, Reach, SheetId, Stretcher, Width};
use crate::quantity::Length;
use crate::resolve::kinds::read;
use crate::resolve::kinds::{
    BACK_TO_SIDE, CARCASS, CLEAT, CLEAT_TO_SHELF, CLEAT_TO_SIDE, CLEAT_TO_WALL, CONTENTS, COUNTER_TO_SIDE,
    DIVIDER_TO_SHELF, ITEM, Needed, PLINTH_TO_CARCASS, Property, RIB_TO_RAIL, ReachOf, SHELF_TO_DIVIDER,
    SHELF_TO_SIDE, STRETCHER, STRETCHER_TO_SIDE, StretcherAt, TOP_TO_SIDE, TakenBack,
};
use crate::resolve::{NodeId, codes as name_codes};
use crate::source::Span;
use std::collections::BTreeMap;
use std::sync::Arc;

impl Reader<'_> {
    pub(super) fn carcass(&mut self, id: NodeId) -> Option<Carcass> {
        let node = self.program.node(id);
        let sheet = self.stock(id);
        let (hung, width) = if self.hangs(id) {
            (Some(self.hung(id)?), Some(Width::AsUnder))
        } else {
            (None, self.width(id))
        };
        let follow = self.follow(id);
        let height = match follow {
            Some(follow) if follow.height => {
                Some(self.eval.ledger.usual("height", Length::ZERO, "it follows the ceiling"))
            }
            _ => self.needed(id, CARCASS.height),
        };
        let depth = self.needed(id, CARCASS.depth);
        let foot = self.foot(id);
        let shelves = self.shelves(id);
        self.takes_back_nothing(id);
        let cleat = self.given(id, TakenBack::Cleat);
        let cleat = match cleat {
            Some(cleat) => Some(self.needed(cleat, CLEAT.height)?),
            None => None,
        };
        let bottom_stretcher = self.stretcher(id, "bottom");
        let top_stretcher = self.stretcher(id, "top");
        let dado = self.dado(id, SHELF_TO_SIDE);
        let rabbet = self.depth(id, TOP_TO_SIDE).unwrap_or(dado.depth);
        let (back, top) = (self.back(id), self.given(id, TakenBack::Top).is_some());
        let (counter, doors, drawers) = (self.counter(id), self.doors(id, id), self.drawers(id, id));
        let (edge, holes) = (self.edge(id), self.holes(id));
        let (in_divider, in_shelf) = (self.dado(id, SHELF_TO_DIVIDER), self.dado(id, DIVIDER_TO_SHELF));
        let Shelves { marks, levels, over } = shelves?;
        Some(Carcass {
            name: self.name(id),
            text: self.text(id),
            head: Some(node.head),
            notes: self.notes(id),
            sheet: sheet?,
            width: width?,
            height: height?,
            follow,
            foot: foot?,
            hung,
            depth: depth?,
            marks,
            levels,
            over,
            cleat,
            bottom_stretcher,
            top_stretcher,
            top,
            back,
            counter,
            doors,
            drawers,
            edge,
            holes,
            dado,
            rabbet,
            in_divider,
            in_shelf,
            joins: Joins {
                shelf_to_side: self.join(id, SHELF_TO_SIDE),
                top_to_side: self.join(id, TOP_TO_SIDE),
                stretcher_to_side: self.join(id, STRETCHER_TO_SIDE),
                cleat_to_side: self.join(id, CLEAT_TO_SIDE),
                cleat_to_shelf: self.join(id, CLEAT_TO_SHELF),
                cleat_to_wall: self.join(id, CLEAT_TO_WALL),
                shelf_to_divider: self.join(id, SHELF_TO_DIVIDER),
                divider_to_shelf: self.join(id, DIVIDER_TO_SHELF),
                back_to_side: self.join(id, BACK_TO_SIDE),
                rib_to_rail: self.join(id, RIB_TO_RAIL),
                base_to_carcass: self.join(id, PLINTH_TO_CARCASS),
                counter_to_side: self.join(id, COUNTER_TO_SIDE),
            },
            contents: self.contents(id),
            load: self.read(id, CARCASS.load),
            stages: self.stages(id),
        })
    }

    /// What stands in `///` over it, its shelves, and the marks that they stand on.
    fn notes(&mut self, id: NodeId) -> Notes {
        let program = self.program;
        let own = self.note(program.node(id).head);
        let mut shelves = BTreeMap::new();
        let stick = if self.is_stated(id, CARCASS.shelves) { self.read(id, CARCASS.shelves) } else { None };
        for mark in stick.iter().flat_map(|stick| &program.node(*stick).properties) {
            shelves.extend(self.note(mark.name.span).map(|note| (mark.name.text.clone(), note)));
        }
        for shelf in program.children(id, "shelf") {
            let node = program.node(shelf);
            let named = node.name.as_ref().zip(self.note(node.head));
            shelves.extend(named.map(|(name, note)| (name.text.clone(), note)));
        }
        Notes { own, shelves }
    }

    /// What stands in `///` over a place.
    pub(super) fn note(&self, at: Span) -> Option<Arc<str>> {
        self.program.doc(self.eval.sources, at).cloned()
    }

    fn stages(&mut self, carcass: NodeId) -> usize {
        let stages = self.read(carcass, CARCASS.stages);
        if stages == Some(0) {
            self.out_of_range(carcass, CARCASS.stages.name, "be one or more", None);
        }
        stages.unwrap_or(1).max(1)
    }

    pub(super) fn contents(&mut self, carcass: NodeId) -> Vec<Contents> {
        let program = self.program;
        let mut all = Vec::new();
        for id in program.children(carcass, "contents") {
            let on = self.read(id, CONTENTS.on).unwrap_or_default();
            self.shelves_named(carcass, &on);
            self.stand_on(carcass, &on);
            let on = on.into_iter().map(|(name, _)| name).collect();
            let [height, depth, length] =
                [CONTENTS.height, CONTENTS.depth, CONTENTS.length].map(|property| self.read(id, property));
            // What it does not state, its item does.
            let item = self.read(id, CONTENTS.item);
            let mut of_item = |property| item.and_then(|item| self.read(item, property));
            let [high, deep, width] = [ITEM.height, ITEM.depth, ITEM.width].map(&mut of_item);
            let load = item.and_then(|item| self.read(item, ITEM.load)).map(|load| load.value.estimate());
            let Some(name) = self.name(id) else { continue };
            all.push(Contents {
                name,
                on,
                height: height.or(high),
                depth: depth.or(deep),
                length,
                width,
                reach: match self.usual(id, CONTENTS.reach) {
                    ReachOf::Adult => Reach::Adult,
                    ReachOf::Child3 => Reach::Child3,
                    ReachOf::Child5 => Reach::Child5,
                    ReachOf::Child9 => Reach::Child9,
                },
                load,
                head: program.node(id).head,
            });
        }
        all
    }

    /// Says which shelves, by their names, things should stand on and no unit like this one has.
    fn stand_on(&mut self, carcass: NodeId, on: &[(Arc<str>, Span)]) {
        if on.is_empty() || !matches!(self.program.node(carcass).kind.word, "unit" | "carcass") {
            return;
        }
        let mut known: Vec<Arc<str>> = vec!["top".into()];
        // What this unit skips its sisters may have, which have the same contents by an `each`.
        match self.read(carcass, CARCASS.shelves) {
            Some(stick) => {
                let marks = self.program.node(stick).properties.iter();
                known.extend(marks.filter(|mark| mark.takes.is_some()).map(|mark| mark.name.text.clone()));
            }
            None if self.is_stated(carcass, CARCASS.shelves) => return,
            None => {}
        }
        let mut open = vec![carcass];
        while let Some(id) = open.pop() {
            open.extend(["shelf", "bay"].into_iter().flat_map(|kind| self.program.children(id, kind)));
            known.extend(self.program.node(id).name.iter().map(|name| name.text.clone()));
        }
        for (name, span) in on.iter().filter(|(name, _)| !known.contains(name)) {
            let message = format!("no shelf is called `{name}`");
            let diagnostic =
                Diagnostic::new(&name_codes::NAME, message).at(*span, "things should stand on it");
            self.eval.sink.push(match nearest(name, known.iter().map(|name| &**name)) {
                Some(near) => diagnostic.fix(*span, near, format!("did you mean `{near}`?")),
                None => diagnostic.help("name one of the marks or shelves, or leave `on` out for any"),
            });
        }
    }

    /// The sheet that a carcass names, or its lot; the only one of the file where it names none.
    pub(super) fn stock(&mut self, carcass: NodeId) -> Option<SheetId> {
        if self.is_stated(carcass, CARCASS.stock) && self.is_stated(carcass, CARCASS.lot) {
            let lot = self.read(carcass, CARCASS.lot)?;
            return self.sheets.get(&lot).copied();
        }
        self.sheet_or_only(carcass, CARCASS.stock)
    }

    /// The sheet that a member names; the only one of the file where it names none.
    pub(super) fn sheet_or_only(
        &mut self,
        id: NodeId,
        stock: Property<read::Member, Needed>,
    ) -> Option<SheetId> {
        if self.is_stated(id, stock) {
            let sheet = self.read(id, stock)?;
            return self.sheets.get(&sheet).copied();
        }
        match self.shared("sheet").as_slice() {
            [only] => self.sheets.get(only).copied(),
            _ => {
                self.missing(id, stock);
                None
            }
        }
    }

    fn width(&mut self, id: NodeId) -> Option<Width> {
        match (self.is_stated(id, CARCASS.width), self.is_stated(id, CARCASS.clear)) {
            (true, true) => {
                let (width, clear) = (self.span(id, CARCASS.width), self.span(id, CARCASS.clear));
                let first = if width < clear { (width, clear) } else { (clear, width) };
                self.eval.sink.push(
                    Diagnostic::new(&codes::BOTH, "the width is stated in two ways")
                        .at(first.1, "and here again")
                        .and_at(first.0, "stated here")
                        .help("keep the one that you decide; the other follows from it and the sheet"),
                );
                None
            }
            (false, true) => self.read(id, CARCASS.clear).map(Width::Clear),
            (true, false) => match self.read(id, CARCASS.width)? {
                Fill::Fixed(width) => Some(Width::Over(width)),
                Fill::Share(share) if self.program.node(id).kind.word == "unit" => Some(Width::Share(share)),
                Fill::Share(share) => {
                    let span = share.span.unwrap_or_else(|| self.span(id, CARCASS.width));
                    self.eval.sink.push(
                        Diagnostic::new(&codes::REST, "a carcass that stands alone shares nothing")
                            .at(span, "")
                            .help("state its width, or make it a `unit` of a `run`"),
                    );
                    None
                }
            },
            (false, false) => {
                if self.program.node(id).kind.word == "unit" {
                    self.missing(id, CARCASS.width.for_instance(["width = rest"; 2]));
                } else {
                    self.missing(id, CARCASS.width);
                }
                None
            }
        }
    }

    fn stretcher(&mut self, carcass: NodeId, place: &'static str) -> Option<Stretcher> {
        if self.takes_back(carcass, TakenBack::Stretcher) {
            return None;
        }
        let program = self.program;
        let id = program
            .children(carcass, "stretcher")
            .find(|id| program.node(*id).name.as_ref().is_some_and(|name| &*name.text == place))?;
        let height = self.read(id, STRETCHER.height);
        let (front, rear) = match self.read(id, STRETCHER.at) {
            Some(at) => (at.contains(&StretcherAt::Front), at.contains(&StretcherAt::Rear)),
            None => (true, true),
        };
        Some(Stretcher { height, front, rear })
    }
}
