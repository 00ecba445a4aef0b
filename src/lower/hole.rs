//! Holes for cables and pipes: through which parts they go, and where they lie on each.

use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Carcass, Hole};
use crate::parts::{Hand, Hole as Bored, Part, Role, UnitId};

/// What places are called, from the left, from the wall, from the bottom end.
const PLACES: [&str; 3] = ["left", "off", "bottom"];

impl Lowering<'_> {
    pub(super) fn holes(&mut self, carcass: &Carcass, unit: UnitId) {
        for hole in &carcass.holes {
            for (name, span) in &hole.through {
                let part = self.bored(unit, name).cloned();
                let Some(part) = part else {
                    let path = self.graph.unit(unit).map_or("", |unit| unit.path.as_str());
                    let message = format!("`{path}` has no `{name}` that a hole goes through");
                    let told = Diagnostic::new(&codes::HOLE, message).at(*span, "");
                    self.sink.push(told.help(
                        "name a side by `left` or `right`, `back`, `counter`, `top`, or a shelf by its name",
                    ));
                    continue;
                };
                self.hole(hole, &part);
            }
        }
    }

    /// The part of a unit that a hole calls so.
    fn bored(&self, unit: UnitId, name: &str) -> Option<&Part> {
        let of = |role: Role| self.graph.parts_of(unit).find(move |part| part.role == role);
        match name {
            "left" => of(Role::Side(Hand::Left)),
            "right" => of(Role::Side(Hand::Right)),
            "back" => of(Role::Back),
            "counter" => of(Role::Counter),
            "top" if of(Role::Top).is_some() => of(Role::Top),
            _ => self.graph.parts_of(unit).find(|part| part.role == Role::Shelf && *part.name == *name),
        }
    }

    fn hole(&mut self, hole: &Hole, part: &Part) {
        let Some((axes, _)) = part.measured_from() else { return };
        let place = [part.place.x, part.place.y, part.place.z];
        let mut at = Vec::new();
        for axis in axes {
            let (stated, own) = (hole.at.get(axis).copied().flatten(), place.get(axis).copied());
            let Some((stated, own)) = stated.zip(own) else {
                let word = PLACES.get(axis).copied().unwrap_or_default();
                let message = format!(
                    "the hole `{}` through `{}` does not say where: no `{word}`",
                    hole.name, part.path
                );
                let told = Diagnostic::new(&codes::HOLE, message).at(hole.head, "this hole");
                self.sink.push(told.help(format!("add its `{word}`, to the middle of the hole")));
                return;
            };
            let rule = "its middle, measured on the part";
            at.push(self.graph.ledger.sum("place of the hole", &[(1, stated), (-1, own)], rule));
        }
        let [along, across] = at.as_slice() else { return };
        self.graph.add_hole(Bored {
            part: part.id,
            name: hole.name.clone(),
            at: [*along, *across],
            diameter: hole.diameter,
            depth: None,
            grommet: hole.grommet,
            head: hole.head,
        });
    }
}
