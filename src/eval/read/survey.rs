//! Reads what is in the way: obstacles and openings of the room.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Len;
use crate::eval::model::{Decided, DoorLeaf, InWall, Obstacle, ObstacleClass, Return, RoomOpening, Wall};
use crate::quantity::{Length, Round};
use crate::resolve::NodeId;
use crate::resolve::kinds::read;
use crate::resolve::kinds::{
    BEGINNING, Hinge, OBSTACLE, OPENING, ObstacleDecided, ObstacleKind, OpeningDecided, OpeningKind,
    Property, Side, Swing, UsualLength,
};
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

    /// A stated place; without one it begins where places begin.
    fn or_zero<W: Copy>(&mut self, id: NodeId, property: Property<read::NotNegative, W>) -> Option<Len> {
        if self.is_stated(id, property) {
            return self.read(id, property);
        }
        Some(self.usual_length(UsualLength { label: property.name, ..BEGINNING }))
    }

    /// From an edge to the one beyond it.
    fn edges(&mut self, label: &'static str, near: Len, size: Len) -> [Len; 2] {
        [near, self.eval.ledger.sum(label, &[(1, near), (1, size)], "its edge and its size")]
    }

    fn obstacle(&mut self, id: NodeId, path: &str) -> Option<Obstacle> {
        let kind = self.needed(id, OBSTACLE.kind)?;
        let on_ceiling = matches!(kind, ObstacleKind::Light | ObstacleKind::SmokeAlarm);
        let overhead = on_ceiling && !self.is_stated(id, OBSTACLE.bottom);
        let class = class(kind, overhead);
        let decided = self.decided(id, kind, class)?;
        let trim = matches!(kind, ObstacleKind::Baseboard | ObstacleKind::ChairRail | ObstacleKind::Crown);
        let stated = self.is_stated(id, OBSTACLE.left) || self.is_stated(id, OBSTACLE.width);
        let along = if (trim || overhead) && !stated {
            Some(None)
        } else {
            let (left, width) = (self.needed(id, OBSTACLE.left), self.needed(id, OBSTACLE.width));
            left.zip(width).map(|(left, width)| Some(self.edges("right edge", left, width)))
        };
        let hangs = if overhead || kind == ObstacleKind::Crown {
            Some(Some(self.needed(id, OBSTACLE.hangs)?))
        } else {
            Some(None)
        };
        let up = match kind {
            _ if matches!(hangs, Some(Some(_))) => Some(None),
            ObstacleKind::FloorRegister => self.or_zero(id, OBSTACLE.bottom).map(|bottom| Some([bottom; 2])),
            _ => {
                let ground =
                    matches!(kind, ObstacleKind::Baseboard | ObstacleKind::Heater | ObstacleKind::Pipe);
                let bottom =
                    if ground { self.or_zero(id, OBSTACLE.bottom) } else { self.needed(id, OBSTACLE.bottom) };
                let height = self.needed(id, OBSTACLE.height);
                bottom.zip(height).map(|(bottom, height)| Some(self.edges("upper edge", bottom, height)))
            }
        };
        let reaches = class == ObstacleClass::Trim
            || matches!(kind, ObstacleKind::FloorRegister | ObstacleKind::Heater);
        let near = self.or_zero(id, OBSTACLE.off);
        let projection = if reaches {
            self.needed(id, OBSTACLE.projection)
                .and_then(|len| self.more_than_zero(id, OBSTACLE.projection, len))
        } else {
            self.or_zero(id, OBSTACLE.projection)
        };
        let out = near.zip(projection).map(|(near, projection)| self.edges("far edge", near, projection));
        Some(Obstacle {
            name: format!("{path}.{}", self.name(id)?).into(),
            text: self.text(id),
            head: self.program.node(id).head,
            word: kind.word().replace('_', " "),
            class,
            along: along?,
            out: out?,
            up: up?,
            hangs: hangs?,
            recessed: self.read(id, OBSTACLE.recessed),
            decided,
        })
    }

    /// What is decided, if that can be decided about such a thing.
    fn decided(&mut self, id: NodeId, kind: ObstacleKind, class: ObstacleClass) -> Option<Decided> {
        let decided = match self.or_usual(id, OBSTACLE.decided)? {
            ObstacleDecided::Keep => return Some(Decided::Keep),
            ObstacleDecided::Remove => return Some(Decided::Remove),
            ObstacleDecided::CutRound => Decided::CutRound,
            ObstacleDecided::BringFlush => Decided::BringFlush,
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
            Diagnostic::new(&codes::DECIDED, format!("a {} cannot {what}", kind.word().replace('_', " ")))
                .at(self.span(id, OBSTACLE.decided), "")
                .help(format!("decide `keep`, `remove`{other}")),
        );
        None
    }

    fn opening(&mut self, id: NodeId, wall_name: &str) -> Option<RoomOpening> {
        let kind = self.needed(id, OPENING.kind)?;
        let wall = if self.is_stated(id, OPENING.side) {
            match self.read(id, OPENING.side)? {
                Side::Left => InWall::Return { right: false },
                Side::Right => InWall::Return { right: true },
                Side::Opposite => InWall::Opposite,
            }
        } else {
            InWall::This
        };
        let in_return = matches!(wall, InWall::Return { .. });
        let near = if in_return {
            self.needed(id, OPENING.off.for_instance(["off = 20\"", "off = 500mm"]))
        } else {
            self.needed(id, OPENING.left)
        };
        let off = if wall == InWall::Opposite { Some(self.needed(id, OPENING.off)?) } else { None };
        let width = self.needed(id, OPENING.width);
        let height = self.needed(id, OPENING.height);
        let bottom = match kind {
            OpeningKind::Window => self.needed(id, OPENING.bottom),
            OpeningKind::Door | OpeningKind::CasedOpening => self.or_zero(id, OPENING.bottom),
        };
        let decided = match self.usual(id, OPENING.decided) {
            OpeningDecided::Keep => Decided::Keep,
            OpeningDecided::Remove => Decided::Remove,
            OpeningDecided::CutRound => Decided::CutRound,
        };
        let casing = self.read(id, OPENING.casing);
        let leaf = self.read(id, OPENING.leaf);
        let hinge = self.hinge(id, in_return);
        let out = self.usual(id, OPENING.swing) == Swing::Out;
        let (near, width, height, bottom) = (near?, width?, height?, bottom?);
        let far = hinge.filter(|_| kind == OpeningKind::Door && !out);
        Some(RoomOpening {
            name: format!("{wall_name}.{}", self.name(id)?).into(),
            head: self.program.node(id).head,
            word: kind.word().replace('_', " "),
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
        let hinge = self.read(id, OPENING.hinge)?;
        let (of_return, far) = match hinge {
            Hinge::Left => (false, false),
            Hinge::Right => (false, true),
            Hinge::Near => (true, false),
            Hinge::Far => (true, true),
        };
        if of_return == in_return {
            return Some(far);
        }
        let (here, help) = if in_return {
            ("in a return wall", "write `near` where the hinges are nearer to this wall, else `far`")
        } else {
            ("in this wall or across the room", "write `left` or `right`, as seen from the room")
        };
        self.eval.sink.push(
            Diagnostic::new(
                &codes::HINGE,
                format!("a door {here} does not hang on its {} edge", hinge.word()),
            )
            .at(self.span(id, OPENING.hinge), "")
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

/// What is to be heeded about an obstacle.
fn class(kind: ObstacleKind, overhead: bool) -> ObstacleClass {
    match kind {
        ObstacleKind::Light | ObstacleKind::SmokeAlarm if overhead => ObstacleClass::Overhead,
        ObstacleKind::Outlet
        | ObstacleKind::Switch
        | ObstacleKind::Data
        | ObstacleKind::Thermostat
        | ObstacleKind::Light
        | ObstacleKind::SmokeAlarm => ObstacleClass::Electric,
        ObstacleKind::FloorRegister | ObstacleKind::WallRegister | ObstacleKind::ReturnGrille => {
            ObstacleClass::Air
        }
        ObstacleKind::Heater => ObstacleClass::Heater,
        ObstacleKind::Pipe
        | ObstacleKind::Baseboard
        | ObstacleKind::ChairRail
        | ObstacleKind::Crown
        | ObstacleKind::Casing
        | ObstacleKind::Sill => ObstacleClass::Trim,
    }
}
