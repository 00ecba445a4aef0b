//! A counter over several units and spaces of a run: one panel, or pieces that are joined over seams.

use super::run::{Piece, SetOut, Stand};
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Carcass, Len, Return, RunCounter};
use crate::parts::{
    Called, Hand, Owner, Part, PartId, Place, Role, RowKind, RunPart, Size, Stock, Unit, UnitId,
};
use crate::quantity::Length;
use crate::source::Span;
use std::borrow::Cow;

/// What a counter lies over: the first and the last member of the run, by their places.
#[derive(Clone, Copy)]
pub(super) struct Covered {
    first: usize,
    last: usize,
}

impl Lowering<'_> {
    /// What the counter of a run lies over; `None` where it has none, or after a message.
    pub(super) fn covered(&mut self, stand: &Stand<'_>, set_out: &SetOut) -> Option<Covered> {
        let counter = stand.run.counter.as_ref()?;
        let name = |piece: Piece| match piece {
            Piece::Unit(unit) => stand.run.units.get(unit).and_then(|unit| unit.name.as_deref()),
            Piece::Space(space) => stand.run.spaces.get(space).map(|space| &*space.name),
        };
        let names: Vec<Option<&str>> = set_out.pieces.iter().map(|(piece, _)| name(*piece)).collect();
        let Some(on) = &counter.on else {
            return Some(Covered { first: 0, last: names.len().checked_sub(1)? });
        };
        let mut places = Vec::new();
        for (own, span) in on {
            match names.iter().position(|name| *name == Some(&**own)) {
                Some(place) => places.push(place),
                None => {
                    let message = format!("`{}` has no unit and no space `{own}`", stand.run.name);
                    self.counter_told(message, *span, "a counter lies over units and spaces of its run");
                    return None;
                }
            }
        }
        let (first, last) = (places.iter().min().copied()?, places.iter().max().copied()?);
        if let Some(between) = (first..=last).find(|place| !places.contains(place)) {
            let between = names.get(between).copied().flatten().unwrap_or("a unit");
            let message =
                format!("`{between}` stands between what the counter of `{}` lies over", stand.run.name);
            self.counter_told(message, counter.counter.head, "name it too, or end the counter before it");
            return None;
        }
        Some(Covered { first, last })
    }

    fn counter_told(&mut self, message: String, at: Span, help: &str) {
        self.sink.push(Diagnostic::new(&codes::FRONT, message).at(at, "").help(help));
    }

    /// A unit under the counter of its run: its sides are shorter by that.
    pub(super) fn under_counter<'c>(
        &mut self,
        stand: &Stand<'_>,
        (place, covered): (usize, Option<Covered>),
        carcass: &'c Carcass,
    ) -> Cow<'c, Carcass> {
        let lies_over = covered.is_some_and(|covered| covered.first <= place && place <= covered.last);
        let Some(counter) = stand.run.counter.as_ref().filter(|_| lies_over) else {
            return Cow::Borrowed(carcass);
        };
        let Some(thickness) = self.model.sheets.get(counter.counter.sheet.0).map(|sheet| sheet.thickness)
        else {
            return Cow::Borrowed(carcass);
        };
        if let Some(own) = carcass.counter {
            let message = "a unit has a counter under the one of its run".to_owned();
            self.counter_told(
                message,
                own.head,
                "take one of them back: `without = [counter]`, or another `on`",
            );
        }
        if let Some(follow) = carcass.follow {
            let message =
                "a unit that follows the ceiling has no level end under the counter of its run".to_owned();
            self.slope_told(
                &codes::NO_ROOM,
                message,
                follow.head,
                "name what the counter lies over: `on = [..]`",
            );
            return Cow::Borrowed(carcass);
        }
        let rule = "the counter of the run lies on the sides";
        let height = self.graph.ledger.sum("height", &[(1, carcass.height), (-1, thickness)], rule);
        if !height.value.is_positive() {
            return Cow::Borrowed(carcass);
        }
        Cow::Owned(Carcass { height, ..carcass.clone() })
    }

    /// The counter over what it covers, in pieces that a sheet gives, joined over seams.
    pub(super) fn run_counter(
        &mut self,
        stand: &Stand<'_>,
        part: &RunPart,
        (set_out, covered): (&SetOut, Option<Covered>),
    ) {
        let (Some(counter), Some(covered)) = (&stand.run.counter, covered) else { return };
        let under = set_out.pieces.iter().enumerate();
        let under = under.filter(|(place, _)| covered.first <= *place && *place <= covered.last);
        let indexes = under.filter_map(|(_, (piece, _))| match piece {
            Piece::Unit(unit) => Some(*unit),
            Piece::Space(_) => None,
        });
        let units = indexes.filter_map(|index| {
            let id = *part.units.get(index)?;
            Some((index, id, self.graph.unit(id)?.clone()))
        });
        let units: Vec<(usize, UnitId, Unit)> = units.collect();
        let Some((_, _, first)) = units.first() else {
            let message = format!("the counter of `{}` lies on no unit", part.path);
            self.counter_told(message, counter.counter.head, "name a unit at one end of it at least");
            return;
        };
        if let Some((_, _, other)) = units.iter().find(|(_, _, unit)| unit.top() != first.top()) {
            let message = format!("the counter of `{}` lies over units of two heights", part.path);
            let told = Diagnostic::new(&codes::FRONT, message).at(counter.counter.head, "this counter");
            let blamed = [(first.height, "one height"), (other.height, "another")];
            let told = self.blame(told, None, "", &blamed);
            let help =
                format!("make `{}` as high as `{}`, or end the counter before it", other.path, first.path);
            self.sink.push(told.help(help));
            return;
        }
        let Some([left, right]) = self.counter_ends(stand, part, (set_out, covered)) else { return };
        self.counter_pieces(stand, part, counter, (&units, [left, right]));
    }

    /// From where to where a counter reaches: past open ends by its overhang, at a wall as far as that is tightest.
    fn counter_ends(
        &mut self,
        stand: &Stand<'_>,
        part: &RunPart,
        (set_out, covered): (&SetOut, Covered),
    ) -> Option<[Len; 2]> {
        let counter = stand.run.counter.as_ref()?.counter;
        let edge = |place: usize| -> Option<(Len, Len)> {
            match set_out.pieces.get(place)? {
                (Piece::Unit(unit), width) => Some((self.graph.unit(*part.units.get(*unit)?)?.x?, *width)),
                (Piece::Space(space), width) => Some((part.spaces.get(*space)?.x, *width)),
            }
        };
        let ((left, _), (last, width)) = (edge(covered.first)?, edge(covered.last)?);
        let at_wall = [
            covered.first == 0 && stand.reaches.first() != Some(&Return::Open),
            covered.last + 1 == set_out.pieces.len() && stand.reaches.get(1) != Some(&Return::Open),
        ];
        let beyond = |end: usize| -> Option<Len> {
            let gap = set_out.gaps.and_then(|gaps| gaps.get(end).copied());
            if at_wall.get(end) == Some(&true) { gap } else { counter.ends }
        };
        let (before, after) = (beyond(0), beyond(1));
        let ledger = &mut self.graph.ledger;
        let mut terms = vec![(1, left)];
        terms.extend(before.map(|before| (-1, before)));
        let rule = "past an open end by its overhang, at a wall as far as that is tightest";
        let left = ledger.sum("left end", &terms, rule);
        let mut terms = vec![(1, last), (1, width)];
        terms.extend(after.map(|after| (1, after)));
        Some([left, ledger.sum("right end", &terms, rule)])
    }

    fn counter_pieces(
        &mut self,
        stand: &Stand<'_>,
        part: &RunPart,
        counter: &RunCounter,
        (units, [left, right]): (&[(usize, UnitId, Unit)], [Len; 2]),
    ) {
        let stated = counter.counter;
        let Some(sheet) = self.model.sheets.get(stated.sheet.0).cloned() else { return };
        let Some((_, _, deepest)) = units.iter().max_by_key(|(_, _, unit)| unit.depth.value) else { return };
        let mut terms = vec![(1, deepest.depth)];
        terms.extend(deepest.edged.map(|edged| (1, edged)));
        terms.extend(stand.run.facing.as_ref().map(|facing| (1, facing.thickness)));
        terms.extend(stated.over.map(|over| (1, over)));
        terms.extend(stated.gap.map(|gap| (-1, gap)));
        let ledger = &mut self.graph.ledger;
        let deep = ledger.sum("width", &terms, "from the wall, or its gap, to its front edge");
        let zero = ledger.usual("wall", Length::ZERO, "places count from the wall");
        let (y, z) = (stated.gap.unwrap_or(zero), self.top_of(deepest));
        // Joined over a seam, where two sides carry both ends; as far to the right as a sheet reaches.
        let most = sheet.size.map(|(length, _)| sheet.offered(length));
        let seams =
            part.seams().filter(|seam| seam.iter().all(|id| units.iter().any(|(_, own, _)| own == id)));
        let seams: Vec<Len> = seams.filter_map(|[_, right]| self.graph.unit(right)?.x).collect();
        let mut places = vec![left];
        while let (Some(from), Some(most)) = (places.last().copied(), most) {
            let reaches = |to: Length| to.checked_sub(from.value).is_some_and(|long| long <= most);
            if reaches(right.value) {
                break;
            }
            let joint = seams.iter().filter(|seam| seam.value > from.value && reaches(seam.value));
            match joint.max_by_key(|seam| seam.value) {
                Some(joint) => places.push(*joint),
                None => break,
            }
        }
        places.push(right);
        let count = places.len() - 1;
        for (number, pair) in places.iter().zip(places.iter().skip(1)).enumerate() {
            let (from, to) = pair;
            let rule = if count == 1 { "from end to end" } else { "up to where it is joined, over a seam" };
            let length = self.graph.ledger.sum("length", &[(1, *to), (-1, *from)], rule);
            let called = match count {
                1 => Called::alone(&part.path, "counter"),
                _ => Called::counted(&part.path, "counter", number + 1),
            };
            let lies_on = |unit: &Unit, hand: Hand| {
                let face = unit.x.map_or(Length::ZERO, |x| x.value);
                let edge = if hand == Hand::Left { Some(face) } else { face.checked_add(unit.width.value) };
                edge.is_some_and(|edge| from.value <= edge && edge <= to.value)
            };
            let mut sides: Vec<(PartId, usize)> = Vec::new();
            for (index, id, unit) in units {
                let inside = [Hand::Left, Hand::Right].map(|hand| lies_on(unit, hand));
                let whole = inside == [true; 2];
                for hand in Hand::BOTH.into_iter().filter(|_| whole) {
                    sides.extend(self.side(*id, hand).into_iter().map(|side| (side, *index)));
                }
            }
            let size = Size { thickness: sheet.thickness, width: deep, length };
            let owner = Owner { unit: None, run: Some(stand.id) };
            let place = Place { x: *from, y, z };
            let made = Part::new(called, owner, Role::Counter, Stock::Sheet(stated.sheet), size, place);
            let backing = sides.iter().map(|(side, _)| *side).collect();
            let Some(id) = self.add(Part { backing, ..made }) else { continue };
            for (side, index) in sides {
                let Some(carcass) = stand.run.units.get(index) else { continue };
                let (length, join) = (carcass.depth, carcass.joins.counter_to_side);
                self.row_between((RowKind::Counter, id, side), length, join, false);
            }
        }
    }
}
