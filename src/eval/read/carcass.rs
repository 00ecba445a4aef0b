//! Reads carcasses: sizes, shelves, and how parts are held.

use super::{COMMON, Reader, Sign};
use crate::diag::{Diagnostic, nearest};
use crate::eval::codes;
use crate::eval::measures::path_of;
use crate::eval::model::{
    Base, Carcass, Contents, Counter, Dado, Doors, Foot, Join, Joins, Level, Load, Mark, Named, Over, Share,
    SheetId, SingleJoin, Stretcher, Toe, Width,
};
use crate::eval::value::Value;
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
        let example = if self.metric {
            ["height = 2100mm", "depth = 300mm"]
        } else {
            ["height = 84\"", "depth = 11 1/4\""]
        };
        let height = self.needed_length(id, "height", example[0]);
        let depth = self.needed_length(id, "depth", example[1]);
        let foot = self.foot(id);
        let shelves = self.shelves(id);
        let cleat = self.program.children(id, "cleat").next();
        let hang = if self.metric { "height = 60mm" } else { "height = 2 1/2\"" };
        let cleat = match cleat {
            Some(cleat) => Some(self.needed_length(cleat, "height", hang)?),
            None => None,
        };
        let bottom_stretcher = self.stretcher(id, "bottom");
        let top_stretcher = self.stretcher(id, "top");
        let dado = self.dado(id, "shelf", "side");
        let back = self.back(id);
        let (counter, doors) = (self.counter(id), self.doors(id));
        let (in_divider, in_shelf) = (self.dado(id, "shelf", "divider"), self.dado(id, "divider", "shelf"));
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
                shelf_to_side: self.join(id, "shelf", "side"),
                top_to_side: self.join(id, "top", "side"),
                stretcher_to_side: self.join(id, "stretcher", "side"),
                cleat_to_side: self.join(id, "cleat", "side"),
                cleat_to_shelf: self.join(id, "cleat", "shelf"),
                cleat_to_wall: self.join(id, "cleat", "wall"),
                shelf_to_divider: self.join(id, "shelf", "divider"),
                divider_to_shelf: self.join(id, "divider", "shelf"),
                back_to_side: self.join(id, "back", "side"),
                rib_to_rail: self.join(id, "rib", "rail"),
                base_to_carcass: self.join(id, "plinth", "carcass"),
                counter_to_side: self.join(id, "counter", "side"),
            },
            contents: self.contents(id),
            load: self.load(id),
        })
    }

    /// What a carcass stands on; `None` where a message was given.
    fn foot(&mut self, id: NodeId) -> Option<Foot> {
        let program = self.program;
        let toe = program.children(id, "toe").next();
        let base = program.children(id, "plinth").next();
        let usual = "common practice, no source: toe space";
        let example = if self.metric { "height = 90mm" } else { "height = 3 1/2\"" };
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
                let height = self.needed_length(toe, "height", example)?;
                let depth = self.length(toe, "depth", Sign::Positive);
                let depth = depth.unwrap_or_else(|| self.usual("toe space depth", (3, 1), (75, 1), usual));
                Some(Foot::Notched(Toe { height, depth, head: program.node(toe).head }))
            }
            (None, Some(base)) => {
                let height = self.needed_length(base, "height", example)?;
                let sheet = self.panel(base, id);
                let set_back = self.length(base, "set_back", Sign::Positive);
                let ribs = self.length(base, "ribs", Sign::Positive);
                let rule = "common practice, no source: a rib every 24 in or 600 mm";
                let ribs = ribs.unwrap_or_else(|| self.usual("from rib to rib", (24, 1), (600, 1), rule));
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
    fn panel(&mut self, id: NodeId, carcass: NodeId) -> Option<SheetId> {
        if self.is_stated(id, "stock") { self.stock(id) } else { self.stock(carcass) }
    }

    fn counter(&mut self, carcass: NodeId) -> Option<Counter> {
        let id = self.program.children(carcass, "counter").next()?;
        let sheet = self.panel(id, carcass)?;
        let [over, gap] = ["over", "gap"].map(|property| self.length(id, property, Sign::NotNegative));
        Some(Counter { sheet, over, gap, head: self.program.node(id).head })
    }

    fn doors(&mut self, carcass: NodeId) -> Option<Doors> {
        let id = self.program.children(carcass, "doors").next()?;
        let sheet = self.panel(id, carcass)?;
        let help = "state how many hang there, or delete the `doors`";
        let count = self.needed_count(id, ["doors", "count = 2", help])?;
        let reveal = self.length(id, "reveal", Sign::Positive);
        let reveal = reveal.unwrap_or_else(|| self.usual("reveal of the doors", (1, 8), (3, 1), COMMON));
        let stand_off = self.usual("from the front edges to the doors", (1, 16), (2, 1), COMMON);
        Some(Doors { sheet, count, reveal, stand_off, head: self.program.node(id).head })
    }

    pub(super) fn contents(&mut self, carcass: NodeId) -> Vec<Contents> {
        let program = self.program;
        let mut all = Vec::new();
        for id in program.children(carcass, "contents") {
            let on = match self.value(id, "on") {
                Some(Value::Names(names)) => names.into_iter().map(|(name, _)| name).collect(),
                _ => Vec::new(),
            };
            let [height, depth, length] =
                ["height", "depth", "length"].map(|name| self.length(id, name, Sign::Positive));
            let Some(name) = self.name(id) else { continue };
            all.push(Contents { name, on, height, depth, length, head: program.node(id).head });
        }
        all
    }

    pub(super) fn load(&mut self, carcass: NodeId) -> Option<Load> {
        match self.value(carcass, "load")? {
            Value::Word("books") => Some(Load::Books),
            Value::Word(_) => Some(Load::Other),
            Value::Number(number) => Some(Load::Line(number.exact.estimate())),
            _ => None,
        }
    }

    /// The sheet that a carcass names; the only one of the file where it names none.
    pub(super) fn stock(&mut self, id: NodeId) -> Option<SheetId> {
        match self.value(id, "stock") {
            Some(Value::Member(sheet)) => match self.value(id, "lot") {
                Some(Value::Member(lot)) => self.sheets.get(&lot).copied(),
                Some(_) => None,
                None => self.sheets.get(&sheet).copied(),
            },
            Some(_) => None,
            None => match self.shared("sheet").as_slice() {
                [only] => self.sheets.get(only).copied(),
                _ => {
                    self.missing(id, "stock", "stock = ply");
                    None
                }
            },
        }
    }

    fn width(&mut self, id: NodeId) -> Option<Width> {
        match (self.is_stated(id, "width"), self.is_stated(id, "clear")) {
            (true, true) => {
                let (width, clear) = (self.span(id, "width"), self.span(id, "clear"));
                let first = if width < clear { (width, clear) } else { (clear, width) };
                self.eval.sink.push(
                    Diagnostic::new(&codes::BOTH, "the width is stated in two ways")
                        .at(first.1, "and here once more")
                        .and_at(first.0, "stated here")
                        .help("keep the one that you decide; the other follows from it and the sheet"),
                );
                None
            }
            (false, true) => self.length(id, "clear", Sign::Positive).map(Width::Clear),
            (true, false) => match self.value(id, "width") {
                Some(Value::Share(linear, round, span)) if self.program.node(id).kind.word == "unit" => {
                    Some(Width::Share(Share { linear, round, span: Some(span) }))
                }
                Some(Value::Share(_, _, span)) => {
                    self.eval.sink.push(
                        Diagnostic::new(&codes::REST, "a carcass that stands alone shares nothing")
                            .at(span, "")
                            .help("state its width, or make it a `unit` of a `run`"),
                    );
                    None
                }
                _ => self.length(id, "width", Sign::Positive).map(Width::Over),
            },
            (false, false) => {
                let example = match (self.program.node(id).kind.word, self.metric) {
                    ("unit", _) => "width = rest",
                    (_, true) => "width = 800mm",
                    (_, false) => "width = 32\"",
                };
                self.missing(id, "width", example);
                None
            }
        }
    }

    /// The shelves of a carcass: the marks of its stick, or its own ones by their clear heights.
    fn shelves(&mut self, id: NodeId) -> Option<Shelves> {
        let stick = match self.value(id, "shelves") {
            Some(Value::Member(stick)) => stick,
            Some(_) => return None,
            None => {
                let levels = self.levels(id);
                if levels.is_empty() {
                    self.missing(id, "shelves", "shelves = lines");
                    return None;
                }
                return Some(Shelves { levels, ..Shelves::default() });
            }
        };
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
        let skipped = match self.value(id, "skip") {
            Some(Value::Names(names)) => names,
            Some(_) => return None,
            None => Vec::new(),
        };
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
            if self.is_stated(shelf, "clear") {
                let stick = self.program.node(stick).head;
                self.eval.sink.push(
                    Diagnostic::new(
                        &codes::BOTH,
                        format!("the place of the shelf `{}` is stated in two ways", name.text),
                    )
                    .at(self.span(shelf, "clear"), "its clear height")
                    .and_at(stick, "its mark stands on this stick")
                    .help("delete the `clear`: the marks give the clear heights"),
                );
            }
            let stated = self.over(shelf);
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
        let height = self.length(id, "height", Sign::Positive);
        let (front, rear) = match self.value(id, "at") {
            Some(Value::Words(words)) => {
                let has = |word: &str| words.iter().any(|(w, _)| *w == word);
                (has("front"), has("rear"))
            }
            _ => (true, true),
        };
        Some(Stretcher { height, front, rear })
    }

    /// The nearest `join guest to host`, from a member outwards.
    pub(super) fn nearest_join(&self, from: NodeId, guest: &str, host: &str) -> Option<NodeId> {
        let fits = |id: &NodeId| {
            let join = self.program.node(*id).join.as_ref();
            join.is_some_and(|head| {
                &*head.guest == guest && &*head.host == host && head.paths.iter().all(Option::is_none)
            })
        };
        // Not by `children`: a join in a module is for what that module declares.
        let around = self.program.around(from).into_iter();
        around.flat_map(|id| &self.program.node(id).children).copied().find(fits)
    }

    /// How a guest is held by a host, besides the shape of the joint.
    pub(super) fn join(&mut self, from: NodeId, guest: &str, host: &str) -> Join {
        let Some(id) = self.nearest_join(from, guest, host) else { return Join::default() };
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
            let depth = self.length(id, "depth", Sign::Positive);
            let fit = self.length(id, "fit", Sign::NotNegative);
            let joint = head.joint.clone();
            all.push(SingleJoin { guest, host, joint, join, depth, fit, head: program.node(id).head });
        }
        all
    }

    /// What holds the parts of a join.
    pub(super) fn held(&mut self, id: NodeId) -> Join {
        let mut position = |property: &str| match self.value(id, property) {
            Some(Value::Member(member)) => self.positions.get(&member).copied(),
            _ => None,
        };
        let (nail, screw, glue) = (position("nail"), position("screw"), position("glue"));
        let [ends, pitch] = ["ends", "pitch"].map(|property| self.length(id, property, Sign::Positive));
        Join { fastener: nail.or(screw), glue, ends, pitch }
    }

    /// Depth and fit of the nearest `join guest to host`; the usual dado where none is stated.
    fn dado(&mut self, carcass: NodeId, guest: &str, host: &str) -> Dado {
        let join = self.nearest_join(carcass, guest, host);
        let depth = join.and_then(|id| self.length(id, "depth", Sign::Positive));
        let fit = join.and_then(|id| self.length(id, "fit", Sign::NotNegative));
        let usual: (_, _, _, _) = if (guest, host) == ("shelf", "side") {
            ("dado depth", (1, 4), (6, 1), COMMON)
        } else {
            // Boards that are housed from both faces keep half their wood between the two.
            (
                "dado depth in a divider or shelf",
                (3, 16),
                (4, 1),
                "common practice, no source: at most a quarter from each face",
            )
        };
        Dado {
            depth: depth.unwrap_or_else(|| self.usual(usual.0, usual.1, usual.2, usual.3)),
            fit: fit.unwrap_or_else(|| self.usual("dado fit", (1, 128), (1, 5), COMMON)),
        }
    }
}
