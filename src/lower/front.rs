//! What closes a carcass: a counter on its sides, doors before its front edges.

use super::carcass::Between;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Carcass, Doors, Facing, Len};
use crate::parts::{Called, Part, Place, Role, RowKind, Size, Stock, UnitId};
use crate::quantity::Rational;

impl Lowering<'_> {
    /// The carcass without the strip on its front edges: its parts are as much less deep.
    pub(super) fn behind_edge(&mut self, carcass: Carcass, path: &str, facing: Option<&Facing>) -> Carcass {
        let Some(edge) = carcass.edge.clone() else { return carcass };
        if let Some(facing) = facing {
            let message = format!("`{path}` has a strip on front edges that the facing covers");
            let told = Diagnostic::new(&codes::EDGE, message).at(edge.head, "this edge");
            let told = self.blame(told, None, "", &[]);
            let told = facing.head.into_iter().fold(told, |told, head| told.and_at(head, "this facing"));
            self.sink.push(told.help("delete the `edge`: strips and stiles stand before those edges"));
            return Carcass { edge: None, ..carcass };
        }
        let Some(thickness) = edge.thickness else { return carcass };
        let rule = "the strip on the front edge makes up the rest";
        let depth = self.graph.ledger.sum("depth of the parts", &[(1, carcass.depth), (-1, thickness)], rule);
        if depth.value.is_positive() {
            return Carcass { depth, ..carcass };
        }
        let message = format!("the strip on the front edges leaves nothing of the depth of `{path}`");
        let told = Diagnostic::new(&codes::EDGE, message).at(edge.head, "this edge");
        self.sink.push(told.help("state how thick the strip is, not how wide"));
        Carcass { edge: None, ..carcass }
    }

    /// A panel as long as the unit is wide, from the wall or its gap to before the front.
    pub(super) fn counter(&mut self, between: &Between<'_>, width: Len, depth: Len) {
        let Some(counter) = between.carcass.counter else { return };
        let Some(thickness) = self.model.sheets.get(counter.sheet.0).map(|sheet| sheet.thickness) else {
            return;
        };
        let ledger = &mut self.graph.ledger;
        let mut terms = vec![(1, depth)];
        terms.extend(between.carcass.edge.as_ref().and_then(|edge| edge.thickness).map(|edge| (1, edge)));
        terms.extend(between.facing.map(|facing| (1, facing.thickness)));
        terms.extend(counter.over.map(|over| (1, over)));
        terms.extend(counter.gap.map(|gap| (-1, gap)));
        let deep = ledger.sum("width", &terms, "from the wall, or its gap, to its front edge");
        if !deep.value.is_positive() {
            let message =
                format!("the gap behind the counter of `{}` is as deep as the counter", between.path);
            let diagnostic = Diagnostic::new(&codes::FRONT, message).at(counter.head, "this counter");
            self.sink.push(diagnostic.help("1 to 2 in (25 to 50 mm) let cables and plugs through"));
            return;
        }
        let y = counter.gap.unwrap_or(between.zero);
        let z = ledger.sum("underside", &[(1, between.carcass.height)], "on the ends of the sides");
        let mut terms = vec![(1, width)];
        terms.extend(counter.ends.map(|ends| (2, ends)));
        let length = ledger.sum("length", &terms, "over the outer faces of the sides");
        let x = match counter.ends {
            Some(ends) => ledger.sum("left end", &[(1, between.zero), (-1, ends)], "it stands out there"),
            None => between.zero,
        };
        let size = Size { thickness, width: deep, length };
        let (called, stock) = (Called::alone(&between.path, "counter"), Stock::Sheet(counter.sheet));
        let place = Place { x, y, z };
        let counter = Part::new(called, between.owner(), Role::Counter, stock, size, place);
        self.add(Part { backing: between.sides.map(|side| side.part).to_vec(), ..counter });
    }

    /// A row from each side into the counter on it.
    pub(super) fn counter_rows(&mut self, carcass: &Carcass, unit: UnitId) {
        let counter = self.graph.parts_of(unit).find(|part| part.role == Role::Counter);
        let Some((id, sides)) = counter.map(|part| (part.id, part.backing.clone())) else { return };
        for side in sides {
            let join = carcass.joins.counter_to_side;
            self.row_between((RowKind::Counter, id, side), carcass.depth, join, false);
        }
    }

    /// Doors of one width before the whole front, with a reveal at every edge but the lower one.
    pub(super) fn doors(&mut self, between: &Between<'_>, (width, depth, lowest): (Len, Len, Len)) {
        for doors in between.carcass.doors.iter().filter(|doors| doors.at.is_none()) {
            self.whole_front(between, (width, depth, lowest), doors);
        }
    }

    fn whole_front(&mut self, between: &Between<'_>, (width, depth, lowest): (Len, Len, Len), doors: &Doors) {
        let front = &doors.front;
        let Some(thickness) = self.model.sheets.get(front.sheet.0).map(|sheet| sheet.thickness) else {
            return;
        };
        if between.facing.is_some() {
            let message =
                format!("`{}` has doors before its front edges, where the facing stands", between.path);
            let diagnostic = Diagnostic::new(&codes::FRONT, message).at(front.head, "these doors");
            self.sink.push(diagnostic.help(
                "say with `fit` whether they stand in its opening or over its edges, or put the unit into a run without `facing`",
            ));
            return;
        }
        if !self.has_room(front.count) {
            return;
        }
        let count = i128::try_from(front.count).unwrap_or(i128::MAX);
        let ledger = &mut self.graph.ledger;
        let rule = "the unit's width less a reveal at each edge of a door";
        let left = ledger.sum("for doors", &[(1, width), (-(count.saturating_add(1)), front.reveal)], rule);
        let door = ledger.divide("width", left, Rational::from(count), "doors of one width");
        let terms = [(1, between.carcass.height), (-1, lowest), (-1, front.reveal)];
        let rule = "from the underside of the bottom shelf to a reveal under the ends of the sides";
        let length = ledger.sum("length", &terms, rule);
        if !door.value.is_positive() || !length.value.is_positive() {
            let message = format!("the reveals leave nothing of the doors of `{}`", between.path);
            let diagnostic = Diagnostic::new(&codes::FRONT, message);
            let blamed = [(front.reveal, "the reveal"), (width, "the width follows from this")];
            let diagnostic = self.blame(diagnostic, Some(front.head), "these doors", &blamed);
            self.sink.push(diagnostic.help("ask for fewer doors, or make the reveal less"));
            return;
        }
        let mut terms = vec![(1, depth), (1, front.stand_off)];
        terms.extend(between.carcass.edge.as_ref().and_then(|edge| edge.thickness).map(|edge| (1, edge)));
        let y = ledger.sum("rear face", &terms, "clear of the front edges");
        let size = Size { thickness, width: door, length };
        let sides = between.sides.map(|side| side.part);
        for number in 1..=front.count {
            let at = i128::try_from(number).unwrap_or(i128::MAX);
            let terms = [(at, front.reveal), (at - 1, door)];
            let x = self.graph.ledger.sum("left edge", &terms, "after the doors and reveals left of it");
            let called = numbered(&between.path, "door", front.name.as_deref(), number);
            let at = (size, Place { x, y, z: lowest });
            if let Some(part) = self.add_front((called, between.owner()), Role::Door, front, at) {
                self.hinge(part, doors, number, sides);
            }
        }
    }
}

/// What a door or a drawer is called: by the name of all of them, where they have one, and its number.
pub(super) fn numbered(within: &str, kind: &str, name: Option<&str>, number: usize) -> Called {
    match name {
        Some(name) => {
            let called = Called::counted(within, &format!("{kind}.{name}"), number);
            Called { name: name.into(), ..called }
        }
        None => Called::counted(within, kind, number),
    }
}
