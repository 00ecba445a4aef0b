//! Reads carcasses: sizes, shelves, and how parts are held.

use super::Reader;
use crate::diag::{Diagnostic, nearest};
use crate::eval::codes;
use crate::eval::measures::path_of;
use crate::eval::model::{
    Base, Carcass, Contents, Counter, Dado, Doors, Fill, Foot, Join, Joins, Level, Mark, Named, Over,
    SheetId, SingleJoin, Stretcher, Toe, Width,
};
use crate::eval::value::Value;
use crate::resolve::kinds::read;
use crate::resolve::kinds::{
    BACK_TO_SIDE, CARCASS, CLEAT, CLEAT_TO_SHELF, CLEAT_TO_SIDE, CLEAT_TO_WALL, CONTENTS, COUNTER,
    COUNTER_TO_SIDE, DIVIDER_TO_SHELF, DOORS, Housing, JOIN, Joined, Needed, Optional, PLINTH,
    PLINTH_TO_CARCASS, Property, RIB_TO_RAIL, SHELF, SHELF_TO_DIVIDER, SHELF_TO_SIDE, STAND_OFF, STRETCHER,
    STRETCHER_TO_SIDE, StretcherAt, TOE, TOP_TO_SIDE,
};
use crate::resolve::{NodeId, codes as name_codes};
use crate::source::Span;
use crate::syntax::Path;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The shelves of a carcass: by marks, or by clear heights.
#[derive(Default)]
struct Shelves {
    marks: Vec<Mark>,
    levels: Vec<Level>,
    over: BTreeMap<Arc<str>, Over>,
}

impl Reader<'_> {
    pub(super) fn carcass(&mut self, id: NodeId) -> Option<Carcass> {
        let node = self.program.node(id);
        let sheet = self.stock(id);
        let width = self.width(id);
        let height = self.needed(id, CARCASS.height);
        let depth = self.needed(id, CARCASS.depth);
        let foot = self.foot(id);
        let shelves = self.shelves(id);
        let cleat = self.program.children(id, "cleat").next();
        let cleat = match cleat {
            Some(cleat) => Some(self.needed(cleat, CLEAT.height)?),
            None => None,
        };
        let bottom_stretcher = self.stretcher(id, "bottom");
        let top_stretcher = self.stretcher(id, "top");
        let dado = self.dado(id, SHELF_TO_SIDE);
        let back = self.back(id);
        let (counter, doors) = (self.counter(id), self.doors(id));
        let (in_divider, in_shelf) = (self.dado(id, SHELF_TO_DIVIDER), self.dado(id, DIVIDER_TO_SHELF));
        let Shelves { marks, levels, over } = shelves?;
        Some(Carcass {
            name: self.name(id),
            text: self.text(id),
            head: Some(node.head),
            sheet: sheet?,
            width: width?,
            height: height?,
            foot: foot?,
            depth: depth?,
            marks,
            levels,
            over,
            cleat,
            bottom_stretcher,
            top_stretcher,
            top: self.program.children(id, "top").next().is_some(),
            back,
            counter,
            doors,
            dado,
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
        })
    }

    /// What a carcass stands on; `None` where a message was given.
    fn foot(&mut self, id: NodeId) -> Option<Foot> {
        let program = self.program;
        let toe = program.children(id, "toe").next();
        let base = program.children(id, "plinth").next();
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
    fn panel(
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

    fn counter(&mut self, carcass: NodeId) -> Option<Counter> {
        let id = self.program.children(carcass, "counter").next()?;
        let sheet = self.panel(id, COUNTER.stock, carcass)?;
        let [over, gap] = [COUNTER.over, COUNTER.gap].map(|property| self.read(id, property));
        Some(Counter { sheet, over, gap, head: self.program.node(id).head })
    }

    fn doors(&mut self, carcass: NodeId) -> Option<Doors> {
        let id = self.program.children(carcass, "doors").next()?;
        let sheet = self.panel(id, DOORS.stock, carcass)?;
        let help = "state how many hang there, or delete the `doors`";
        let count = self.needed_count(id, DOORS.count, ["doors", help])?;
        let reveal = self.usual(id, DOORS.reveal);
        let stand_off = self.usual_length(STAND_OFF);
        Some(Doors { sheet, count, reveal, stand_off, head: self.program.node(id).head })
    }

    pub(super) fn contents(&mut self, carcass: NodeId) -> Vec<Contents> {
        let program = self.program;
        let mut all = Vec::new();
        for id in program.children(carcass, "contents") {
            let on = self.read(id, CONTENTS.on).unwrap_or_default();
            let on = on.into_iter().map(|(name, _)| name).collect();
            let [height, depth, length] =
                [CONTENTS.height, CONTENTS.depth, CONTENTS.length].map(|property| self.read(id, property));
            let Some(name) = self.name(id) else { continue };
            all.push(Contents { name, on, height, depth, length, head: program.node(id).head });
        }
        all
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

    /// The shelves of a carcass: the marks of its stick, or its own ones by their clear heights.
    fn shelves(&mut self, id: NodeId) -> Option<Shelves> {
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
            if !marks.iter().any(|mark| mark.name == *name) {
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

    fn stretcher(&mut self, carcass: NodeId, place: &'static str) -> Option<Stretcher> {
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

    /// The nearest `join guest to host`, from a member outwards.
    pub(super) fn nearest_join<U>(&self, from: NodeId, parts: Joined<U>) -> Option<NodeId> {
        let fits = |id: &NodeId| {
            let join = self.program.node(*id).join.as_ref();
            join.is_some_and(|head| {
                &*head.guest == parts.guest
                    && &*head.host == parts.host
                    && head.paths.iter().all(Option::is_none)
            })
        };
        let mut around = self.program.around(from).into_iter();
        around.find_map(|id| self.program.joins(id).find(fits))
    }

    /// How a guest is held by a host, besides the shape of the joint.
    pub(super) fn join<U>(&mut self, from: NodeId, parts: Joined<U>) -> Join {
        let Some(id) = self.nearest_join(from, parts) else { return Join::default() };
        self.held(id)
    }

    /// All joins that name a part by its path, in the order of the text.
    pub(super) fn single_joins(&mut self) -> Vec<SingleJoin> {
        let program = self.program;
        let mut all = Vec::new();
        for id in program.ids() {
            let Some(head) = &program.node(id).join else { continue };
            if head.paths.iter().all(Option::is_none) {
                continue;
            }
            let outer = program.node(id).parent.map(|parent| path_of(program, parent)).unwrap_or_default();
            let full = |path: &Option<Path>, role: &Arc<str>| match path {
                Some(path) if outer.is_empty() => Named::Path(path.to_string()),
                Some(path) => Named::Path(format!("{outer}.{path}")),
                None => Named::Role(role.clone()),
            };
            let (guest, host) = (full(&head.paths[0], &head.guest), full(&head.paths[1], &head.host));
            let join = self.held(id);
            let (depth, fit) = (self.read(id, JOIN.depth), self.read(id, JOIN.fit));
            let joint = head.joint.clone();
            all.push(SingleJoin { guest, host, joint, join, depth, fit, head: program.node(id).head });
        }
        all
    }

    /// What holds the parts of a join.
    pub(super) fn held(&mut self, id: NodeId) -> Join {
        let position = |id: NodeId, reader: &Self| reader.positions.get(&id).copied();
        let [nail, screw, glue] = [JOIN.nail, JOIN.screw, JOIN.glue]
            .map(|property| self.read(id, property).and_then(|member| position(member, self)));
        let [ends, pitch] = [JOIN.ends, JOIN.pitch].map(|property| self.read(id, property));
        Join { fastener: nail.or(screw), glue, ends, pitch }
    }

    /// Depth and fit of the nearest join of two parts; the usual dado where none is stated.
    fn dado(&mut self, carcass: NodeId, parts: Joined<Housing>) -> Dado {
        let join = self.nearest_join(carcass, parts);
        let depth = join.and_then(|id| self.read(id, JOIN.depth));
        let fit = join.and_then(|id| self.read(id, JOIN.fit));
        Dado {
            depth: depth.unwrap_or_else(|| self.usual_length(parts.usual.depth)),
            fit: fit.unwrap_or_else(|| self.usual_length(parts.usual.fit)),
        }
    }
}
