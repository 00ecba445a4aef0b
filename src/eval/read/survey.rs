//! Reads what is in the way: obstacles and openings of the room.

use super::{Reader, Sign};
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Len;
use crate::eval::model::{Decided, DoorLeaf, InWall, Obstacle, ObstacleClass, Return, RoomOpening, Wall};
use crate::eval::value::Value;
use crate::quantity::{Length, Round};
use crate::resolve::NodeId;
use crate::source::Span;

impl Reader<'_> {
    /// Obstacles and openings of a wall; what the room states for all its walls is in the way of each.
    pub(super) fn survey(&mut self, room: NodeId, id: NodeId, wall: &mut Wall) {
        for of in [id, room] {
            let path = if of == id {
                wall.name.to_string()
            } else {
                self.name(room).unwrap_or_default().to_string()
            };
            for obstacle in self.by_name(of, "obstacle") {
                let read = self.obstacle(obstacle, &path);
                wall.obstacles.extend(read);
            }
        }
        for opening in self.by_name(id, "opening") {
            let read = self.opening(opening, &wall.name);
            wall.openings.extend(read);
        }
        for obstacle in &wall.obstacles {
            self.within_wall(wall, obstacle.head, &obstacle.word, obstacle.along, obstacle.up);
        }
        for opening in wall.openings.iter().filter(|opening| opening.wall == InWall::This) {
            self.within_wall(wall, opening.head, &opening.word, Some(opening.along), Some(opening.up));
        }
    }

    /// A word that must be stated; `None` where it is not, or a message was given.
    fn word(&mut self, id: NodeId, property: &'static str, example: &str) -> Option<&'static str> {
        match self.value(id, property) {
            Some(Value::Word(word)) => Some(word),
            Some(_) => None,
            None => {
                self.missing(id, property, example);
                None
            }
        }
    }

    fn needed(&mut self, id: NodeId, property: &'static str, inch: &str, metric: &str) -> Option<Len> {
        if !self.is_stated(id, property) {
            let size = if self.metric { metric } else { inch };
            self.missing(id, property, &format!("{property} = {size}"));
        }
        let sign =
            if matches!(property, "left" | "bottom" | "off") { Sign::NotNegative } else { Sign::Positive };
        self.length(id, property, sign)
    }

    fn or_zero(&mut self, id: NodeId, property: &'static str) -> Option<Len> {
        if self.is_stated(id, property) {
            self.length(id, property, Sign::NotNegative)
        } else {
            Some(self.usual(property, (0, 1), (0, 1), "what does not state it begins there"))
        }
    }

    /// From an edge to the one beyond it.
    fn edges(&mut self, label: &'static str, near: Len, size: Len) -> [Len; 2] {
        [near, self.eval.ledger.sum(label, &[(1, near), (1, size)], "its edge and its size")]
    }

    fn obstacle(&mut self, id: NodeId, path: &str) -> Option<Obstacle> {
        let word = self.word(id, "kind", "kind = outlet")?;
        let overhead = matches!(word, "light" | "smoke_alarm") && !self.is_stated(id, "bottom");
        let class = match word {
            "light" | "smoke_alarm" if overhead => ObstacleClass::Overhead,
            "floor_register" | "wall_register" | "return_grille" => ObstacleClass::Air,
            "heater" => ObstacleClass::Heater,
            "pipe" | "baseboard" | "chair_rail" | "crown" | "casing" | "sill" => ObstacleClass::Trim,
            _ => ObstacleClass::Electric,
        };
        let decided = self.decided(id, word, class)?;
        let runs = matches!(word, "baseboard" | "chair_rail" | "crown") || overhead;
        let stated = self.is_stated(id, "left") || self.is_stated(id, "width");
        let along = if runs && !stated {
            Some(None)
        } else {
            let (left, width) =
                (self.needed(id, "left", "40\"", "1000mm"), self.needed(id, "width", "2 3/4\"", "70mm"));
            left.zip(width).map(|(left, width)| Some(self.edges("right edge", left, width)))
        };
        let hangs = if overhead || word == "crown" {
            Some(Some(self.needed(id, "hangs", "5\"", "120mm")?))
        } else {
            Some(None)
        };
        let up = match word {
            _ if matches!(hangs, Some(Some(_))) => Some(None),
            "floor_register" => self.or_zero(id, "bottom").map(|bottom| Some([bottom; 2])),
            _ => {
                let ground = matches!(word, "baseboard" | "heater" | "pipe");
                let bottom = if ground {
                    self.or_zero(id, "bottom")
                } else {
                    self.needed(id, "bottom", "14\"", "350mm")
                };
                let height = self.needed(id, "height", "4\"", "100mm");
                bottom.zip(height).map(|(bottom, height)| Some(self.edges("upper edge", bottom, height)))
            }
        };
        let reaches = class == ObstacleClass::Trim || matches!(word, "floor_register" | "heater");
        let near = self.or_zero(id, "off");
        let projection = if reaches {
            self.needed(id, "projection", "3/4\"", "20mm")
        } else {
            self.or_zero(id, "projection")
        };
        let out = near.zip(projection).map(|(near, projection)| self.edges("far edge", near, projection));
        Some(Obstacle {
            name: format!("{path}.{}", self.name(id)?).into(),
            text: self.text(id),
            head: self.program.node(id).head,
            word: word.replace('_', " "),
            class,
            along: along?,
            out: out?,
            up: up?,
            hangs: hangs?,
            decided,
        })
    }

    /// What is decided, if that can be decided about such a thing.
    fn decided(&mut self, id: NodeId, word: &str, class: ObstacleClass) -> Option<Decided> {
        let decided = match self.value(id, "decided") {
            None | Some(Value::Word("keep")) => return Some(Decided::Keep),
            Some(Value::Word("remove")) => return Some(Decided::Remove),
            Some(Value::Word("cut_round")) => Decided::CutRound,
            Some(Value::Word(_)) => Decided::BringFlush,
            Some(_) => return None,
        };
        let can = match (class, decided) {
            (ObstacleClass::Electric, _) => true,
            (ObstacleClass::Air, decided) => decided == Decided::BringFlush,
            (ObstacleClass::Trim, decided) => decided == Decided::CutRound,
            _ => false,
        };
        if can {
            return Some(decided);
        }
        let (what, other) = match (class, decided) {
            (ObstacleClass::Air, _) => ("be cut round: it must stay open", ", `bring_flush`"),
            (ObstacleClass::Heater, _) => ("be worked round: it needs room", ""),
            (ObstacleClass::Overhead, _) => ("be worked round while units are rolled up", ""),
            _ => ("be brought flush", ", `cut_round`"),
        };
        self.eval.sink.push(
            Diagnostic::new(&codes::DECIDED, format!("a {} cannot {what}", word.replace('_', " ")))
                .at(self.span(id, "decided"), "")
                .help(format!("decide `keep`, `remove`{other}")),
        );
        None
    }

    fn opening(&mut self, id: NodeId, wall_name: &str) -> Option<RoomOpening> {
        let word = self.word(id, "kind", "kind = door")?;
        let wall = match self.value(id, "side") {
            Some(Value::Word("left")) => InWall::Return { right: false },
            Some(Value::Word("right")) => InWall::Return { right: true },
            Some(Value::Word(_)) => InWall::Opposite,
            Some(_) => return None,
            None => InWall::This,
        };
        let in_return = matches!(wall, InWall::Return { .. });
        let near = self.needed(id, if in_return { "off" } else { "left" }, "20\"", "500mm");
        let off =
            if wall == InWall::Opposite { Some(self.needed(id, "off", "120\"", "3000mm")?) } else { None };
        let width = self.needed(id, "width", "30\"", "760mm");
        let height = self.needed(id, "height", "80\"", "2030mm");
        let bottom = if word == "window" {
            self.needed(id, "bottom", "36\"", "900mm")
        } else {
            self.or_zero(id, "bottom")
        };
        let decided = match self.value(id, "decided") {
            Some(Value::Word("remove")) => Decided::Remove,
            Some(Value::Word("cut_round")) => Decided::CutRound,
            _ => Decided::Keep,
        };
        let casing = self.length(id, "casing", Sign::NotNegative);
        let leaf = self.length(id, "leaf", Sign::Positive);
        let hinge = self.hinge(id, in_return);
        let out = matches!(self.value(id, "swing"), Some(Value::Word("out")));
        let (near, width, height, bottom) = (near?, width?, height?, bottom?);
        let far = hinge.filter(|_| word == "door" && !out);
        Some(RoomOpening {
            name: format!("{wall_name}.{}", self.name(id)?).into(),
            head: self.program.node(id).head,
            word: word.replace('_', " "),
            wall,
            along: self.edges("far edge", near, width),
            off,
            up: self.edges("upper edge", bottom, height),
            casing,
            leaf: far.map(|far| DoorLeaf { width: leaf.unwrap_or(width), far }),
            decided,
        })
    }

    /// Whether the leaf hangs on the right or far edge; in a return wall the edges are near and far.
    fn hinge(&mut self, id: NodeId, in_return: bool) -> Option<bool> {
        let Some(Value::Word(word)) = self.value(id, "hinge") else { return None };
        if matches!(word, "near" | "far") == in_return {
            return Some(matches!(word, "right" | "far"));
        }
        let (here, help) = if in_return {
            ("in a return wall", "write `near` where the hinges are nearer to this wall, else `far`")
        } else {
            ("in this wall or across the room", "write `left` or `right`, as seen from the room")
        };
        self.eval.sink.push(
            Diagnostic::new(&codes::HINGE, format!("a door {here} does not hang on its {word} edge"))
                .at(self.span(id, "hinge"), "")
                .help(help),
        );
        None
    }

    /// What is read on a wall lies on it.
    fn within_wall(
        &mut self,
        wall: &Wall,
        head: Span,
        word: &str,
        along: Option<[Len; 2]>,
        up: Option<[Len; 2]>,
    ) {
        let open = wall.returns.get(1) == Some(&Return::Open);
        let widths = wall.readings.iter().flat_map(|reading| [reading.back, reading.front]).flatten();
        let widest = widths.max_by_key(|width| width.value).filter(|_| !open);
        let highest = wall.ceiling.points.iter().map(|(_, above)| *above).max_by_key(|above| above.value);
        let sides = [
            (along.map(|[_, right]| right), widest, "to the right of", "wide"),
            (up.map(|[_, top]| top), highest, "above", "to the ceiling"),
        ];
        for (edge, limit, beyond, what) in sides {
            let (Some(edge), Some(limit)) = (edge, limit) else { continue };
            let over = edge.value.checked_sub(limit.value).unwrap_or_default();
            if !over.is_positive() {
                continue;
            }
            let print = |length: Length| self.marks.print(length).to_string();
            let message = format!(
                "the {word} reaches {beyond} its wall: to {}, and `{}` is {} {what}",
                print(edge.value),
                wall.name,
                print(limit.value)
            );
            let mut diagnostic = Diagnostic::new(&codes::OUTSIDE, message).at(head, "");
            for (len, text) in [(edge, "its place"), (limit, "the wall's reading")] {
                for span in self.eval.ledger.spans(len.why) {
                    diagnostic = diagnostic.and_at(span, text);
                }
            }
            let over = self.marks.print_rounded(over, Round::Up);
            self.eval.sink.push(diagnostic.help(format!(
                "{} too much: places count from the left corner, heights from the level line",
                over.text()
            )));
        }
    }
}
