//! Reads routes: the legs on the way in, in the order of the text.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::model::{Leg, Route, Stairs, Turn, Way};
use crate::resolve::NodeId;
use crate::resolve::kinds::{CORNER, DOOR, LEAF_FLAT, LEAF_SQUARE, Opens, STAIR, TurnOf};

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
        let height = self.needed(id, DOOR.height);
        let leaf = self.read(id, DOOR.leaf);
        let width = match leaf {
            Some(leaf) if !self.is_stated(id, DOOR.width) => {
                let takes = match self.usual(id, DOOR.opens) {
                    Opens::Flat => LEAF_FLAT,
                    Opens::RightAngle => LEAF_SQUARE,
                };
                let takes = self.usual_length(takes);
                Some(self.eval.ledger.sum(
                    "clear width",
                    &[(1, leaf), (-1, takes)],
                    "the leaf less what it takes",
                ))
            }
            _ => self.needed(id, DOOR.width),
        };
        width.zip(height).map(|(width, height)| Way::Door { width, height })
    }

    fn corner(&mut self, id: NodeId) -> Option<Way> {
        let [entry, exit, ceiling] =
            [CORNER.entry, CORNER.exit, CORNER.ceiling].map(|property| self.needed(id, property));
        Some(Way::Corner { entry: entry?, exit: exit?, ceiling: ceiling? })
    }

    fn stairs(&mut self, id: NodeId) -> Option<Stairs> {
        let [width, rise, going, headroom] =
            [STAIR.width, STAIR.rise, STAIR.going, STAIR.headroom].map(|property| self.needed(id, property));
        let onward = self.read(id, STAIR.onward).or(width);
        let turn = match self.usual(id, STAIR.turn) {
            TurnOf::Straight => Turn::Straight,
            TurnOf::Quarter => Turn::Quarter(onward?),
            TurnOf::Half => {
                let landing = self.needed(id, STAIR.landing);
                Turn::Half(landing?, onward?)
            }
        };
        let ceiling = self.read(id, STAIR.ceiling).or(headroom);
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
