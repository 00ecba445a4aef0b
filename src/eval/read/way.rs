//! Reads routes: the legs on the way in, in the order of the text.

use super::{Reader, Sign};
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Len;
use crate::eval::model::{Leg, Route, Stairs, Turn, Way};
use crate::eval::value::Value;
use crate::resolve::NodeId;

/// The source of what a leaf takes of a door's width.
const LEAF: &str = "common practice, no source: the stop and the leaf's edge";

impl Reader<'_> {
    /// All routes of all rooms, by room and name.
    pub(super) fn routes(&mut self) -> Vec<Route> {
        let mut routes = Vec::new();
        for room in self.everywhere("room") {
            for id in self.by_name(room, "route") {
                let read = self.route(room, id);
                routes.extend(read);
            }
        }
        routes
    }

    fn route(&mut self, room: NodeId, id: NodeId) -> Option<Route> {
        let program = self.program;
        let node = program.node(id);
        let (room, name) = (self.name(room)?, self.name(id)?);
        if node.children.is_empty() && !node.damaged {
            self.eval.sink.push(
                Diagnostic::new(&codes::NO_LEGS, format!("the route `{name}` has no legs"))
                    .at(node.head, "")
                    .help("add each `door`, `corner` and `stair` in the order in which one walks them"),
            );
        }
        let mut legs = Vec::new();
        for (index, leg) in node.children.iter().enumerate() {
            let way = match program.node(*leg).kind.word {
                "door" => self.door(*leg),
                "corner" => self.corner(*leg),
                _ => self.stairs(*leg).map(|stairs| Way::Stair(Box::new(stairs))),
            };
            let title = self.title(*leg, index);
            legs.extend(way.map(|way| Leg { title, head: program.node(*leg).head, way }));
        }
        Some(Route { name: format!("{room}.{name}").into(), room, head: node.head, legs })
    }

    /// How a leg is called in a sentence.
    fn title(&self, id: NodeId, index: usize) -> String {
        let word = self.program.node(id).kind.word;
        match (self.text(id), self.name(id)) {
            (Some(text), _) => format!("{word} \"{text}\""),
            (None, Some(name)) => format!("{word} `{name}`"),
            (None, None) => format!("{word}, leg {} of the route", index + 1),
        }
    }

    fn door(&mut self, id: NodeId) -> Option<Way> {
        let height =
            self.needed_length(id, "height", if self.metric { "height = 2000mm" } else { "height = 80\"" });
        let leaf = self.length(id, "leaf", Sign::Positive);
        let width = match leaf {
            Some(leaf) if !self.is_stated(id, "width") => {
                let square = matches!(self.value(id, "opens"), Some(Value::Word("right_angle")));
                let takes = if square { ((3, 1), (75, 1)) } else { ((2, 1), (50, 1)) };
                let takes = self.usual("what the leaf takes", takes.0, takes.1, LEAF);
                Some(self.eval.ledger.sum(
                    "clear width",
                    &[(1, leaf), (-1, takes)],
                    "the leaf less what it takes",
                ))
            }
            _ => self.needed_length(id, "width", if self.metric { "width = 760mm" } else { "width = 30\"" }),
        };
        width.zip(height).map(|(width, height)| Way::Door { width, height })
    }

    fn corner(&mut self, id: NodeId) -> Option<Way> {
        let examples = if self.metric {
            ["entry = 900mm", "exit = 900mm", "ceiling = 2400mm"]
        } else {
            ["entry = 36\"", "exit = 36\"", "ceiling = 96\""]
        };
        let [entry, exit, ceiling] =
            [("entry", examples[0]), ("exit", examples[1]), ("ceiling", examples[2])]
                .map(|(name, example)| self.needed_length(id, name, example));
        Some(Way::Corner { entry: entry?, exit: exit?, ceiling: ceiling? })
    }

    fn stairs(&mut self, id: NodeId) -> Option<Stairs> {
        let examples = if self.metric {
            ["width = 900mm", "rise = 190mm", "going = 250mm", "headroom = 2000mm"]
        } else {
            ["width = 36\"", "rise = 7 1/2\"", "going = 10\"", "headroom = 80\""]
        };
        let names = ["width", "rise", "going", "headroom"];
        let mut read =
            names.into_iter().zip(examples).map(|(name, example)| self.needed_length(id, name, example));
        let four: [Option<Len>; 4] = std::array::from_fn(|_| read.next().flatten());
        drop(read);
        let [width, rise, going, headroom] = four;
        let onward = self.length(id, "onward", Sign::Positive).or(width);
        let turn = match self.value(id, "turn") {
            Some(Value::Word("quarter")) => Turn::Quarter(onward?),
            Some(Value::Word("half")) => {
                let example = if self.metric { "landing = 900mm" } else { "landing = 36\"" };
                let landing = self.needed_length(id, "landing", example);
                Turn::Half(landing?, onward?)
            }
            _ => Turn::Straight,
        };
        let ceiling = self.length(id, "ceiling", Sign::Positive).or(headroom);
        Some(Stairs {
            width: width?,
            rise: rise?,
            going: going?,
            headroom: headroom?,
            turn,
            ceiling: ceiling?,
        })
    }
}
