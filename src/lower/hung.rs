//! Units that hang on the wall: over spaces and units of their run, which give their place and their width.

use super::around::Around;
use super::carcass::Front;
use super::run::{Piece, SetOut, Stand};
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Carcass, Hung, Len, Return, Width};
use crate::parts::{Called, HungPart, RunPart, Unit, UnitId};
use crate::quantity::Length;
use std::sync::Arc;

/// The members of a run that a unit hangs over: the first and the last one, by their places.
type Under = [usize; 2];

impl Lowering<'_> {
    /// Makes the units that hang, when those that stand are all there.
    pub(super) fn hang(
        &mut self,
        stand: &Stand<'_>,
        part: &mut RunPart,
        (set_out, around): (&SetOut, &Around<'_>),
    ) {
        for (index, carcass) in stand.run.hung.iter().enumerate() {
            let Some(hung) = &carcass.hung else { continue };
            let Some(under) = self.under(stand, (carcass, hung), set_out) else { continue };
            let Some((found, [x, width])) = self.hung_place(stand, part, (hung, under, set_out)) else {
                continue;
            };
            let name: Arc<str> = match &carcass.name {
                Some(name) => name.clone(),
                None => format!("unit[{}]", stand.run.units.len() + index + 1).into(),
            };
            let called = Called { path: format!("{}.{name}", part.path), name, former: None };
            let thickness = self.model.sheets.get(carcass.sheet.0).map(|sheet| sheet.thickness);
            let crowned = self.ends_in_line(stand, part, carcass, hung);
            let front = stand.run.facing.as_ref().map(|facing| {
                let lap = self.lap(stand.run, thickness);
                Front { facing, lap, laps: [lap; 2], crowned }
            });
            let carcass = Carcass { width: Width::Over(width), ..carcass.clone() };
            let unit = self.next_unit();
            self.carcass(&carcass, (called, Some(stand.id)), width, (Some(x), around), front);
            if self.graph.unit(unit).is_some() {
                part.hung.push(HungPart { unit, ..found });
            }
        }
    }

    /// What a unit hangs over; `None` after a message.
    fn under(
        &mut self,
        stand: &Stand<'_>,
        (carcass, hung): (&Carcass, &Hung),
        set_out: &SetOut,
    ) -> Option<Under> {
        let name = |piece: Piece| match piece {
            Piece::Unit(unit) => stand.run.units.get(unit).and_then(|unit| unit.name.as_deref()),
            Piece::Space(space) => stand.run.spaces.get(space).map(|space| &*space.name),
        };
        let names: Vec<Option<&str>> = set_out.pieces.iter().map(|(piece, _)| name(*piece)).collect();
        let own = carcass.name.as_deref().unwrap_or("a unit");
        let mut places = Vec::new();
        for (under, span) in &hung.over {
            // In a module its own members stand before those of the run.
            let beside = own.rsplit_once('.').map(|(within, _)| format!("{within}.{under}"));
            let named = |is: &str| names.iter().position(|name| *name == Some(is));
            let Some(place) = beside.and_then(|beside| named(&beside)).or_else(|| named(under)) else {
                let hangs = stand.run.hung.iter().any(|other| other.name.as_deref() == Some(&**under));
                let message = if hangs {
                    format!("`{own}` hangs over `{under}`, which hangs itself")
                } else {
                    format!(
                        "`{}` has no unit and no space `{under}` for `{own}` to hang over",
                        stand.run.name
                    )
                };
                let near = crate::diag::nearest(under, names.iter().flatten().copied());
                let told = Diagnostic::new(&codes::HUNG, message).at(*span, "");
                self.sink.push(match near {
                    Some(near) => told.fix(*span, near, format!("did you mean `{near}`?")),
                    None => told.help("name spaces and units that stand on the floor in this run"),
                });
                return None;
            };
            places.push(place);
        }
        let [first, last] = [places.iter().min().copied()?, places.iter().max().copied()?];
        if let Some(between) = (first..=last).find(|place| !places.contains(place)) {
            let between = names.get(between).copied().flatten().unwrap_or("a unit");
            let message = format!("`{between}` stands between what `{own}` hangs over");
            let told = self.blame(Diagnostic::new(&codes::HUNG, message), carcass.head, "", &[]);
            self.sink.push(told.help("name it too, or hang a unit over each"));
            return None;
        }
        Some([first, last])
    }

    /// The left face and the width of a unit that hangs, and what is under and beside it. Where a unit reaches over its foot beside it,
    /// or the wall meets a space there, it leaves its play.
    fn hung_place(
        &mut self,
        stand: &Stand<'_>,
        part: &RunPart,
        (hung, [first, last], set_out): (&Hung, Under, &SetOut),
    ) -> Option<(HungPart, [Len; 2])> {
        let pieces = || set_out.pieces.iter().map(|(piece, _)| *piece);
        let unit_at = |place: Option<usize>| match pieces().nth(place?)? {
            Piece::Unit(unit) => part.units.get(unit).copied(),
            Piece::Space(_) => None,
        };
        let edges = |place: usize| match set_out.pieces.get(place)? {
            (Piece::Unit(unit), width) => Some((self.graph.unit(*part.units.get(*unit)?)?.x?, *width)),
            (Piece::Space(space), width) => Some((part.spaces.get(*space)?.x, *width)),
        };
        let ((left, _), (right, width)) = (edges(first)?, edges(last)?);
        let reaches =
            |id: &UnitId| self.graph.unit(*id).and_then(Unit::top).is_some_and(|top| top > hung.foot.value);
        let beside = [first.checked_sub(1), last.checked_add(1)].map(|place| unit_at(place).filter(reaches));
        let at_ends = [first == 0, last + 1 == set_out.pieces.len()];
        let at_wall = |end: usize, place: usize| {
            let space = matches!(pieces().nth(place), Some(Piece::Space(_)));
            at_ends.get(end) == Some(&true) && space && stand.reaches.get(end) == Some(&Return::Wall)
        };
        let plays = [beside[0].is_some() || at_wall(0, first), beside[1].is_some() || at_wall(1, last)];
        let units = (first..=last).filter_map(|place| unit_at(Some(place))).collect();
        let spaces = pieces().skip(first).take(last + 1 - first);
        let spaces = spaces.filter_map(|piece| match piece {
            Piece::Space(space) => Some(space),
            Piece::Unit(_) => None,
        });
        let spaces = spaces.collect();
        let ledger = &mut self.graph.ledger;
        let mut terms = vec![(1, left)];
        terms.extend(plays[0].then_some((1, hung.play)));
        let rule = if plays[0] { "as what it hangs over, and its play" } else { "as what it hangs over" };
        let x = ledger.sum("left face of the unit", &terms, rule);
        let mut terms = vec![(1, right), (1, width), (-1, left)];
        let count = plays.iter().filter(|plays| **plays).count();
        terms.extend(i128::try_from(count).ok().filter(|count| *count > 0).map(|count| (-count, hung.play)));
        let rule = "over what it hangs over, less its play beside what stands there";
        let width = ledger.sum("unit width", &terms, rule);
        Some((HungPart { unit: UnitId(0), units, spaces, beside, at_ends }, [x, width]))
    }

    /// Whether the crown of the run goes on over a unit that hangs: it ends at the top and at the front as those that stand do.
    fn ends_in_line(&self, stand: &Stand<'_>, part: &RunPart, carcass: &Carcass, hung: &Hung) -> bool {
        let first = part.units.first().and_then(|id| self.graph.unit(*id));
        let Some(first) = first.filter(|_| stand.run.crown.is_some()) else { return false };
        let top = hung.foot.value.checked_add(carcass.height.value);
        let back = self.back_depth(carcass).unwrap_or(carcass.depth.value);
        first.top() == top && first.depth.value == back
    }

    /// The depth of a carcass with a back that is planted on, which is more than that of its sides.
    fn back_depth(&self, carcass: &Carcass) -> Option<Length> {
        let back = carcass.back?;
        let planted = matches!(back.joint, crate::eval::BackJoint::Planted);
        let thickness = self.model.sheets.get(back.sheet.0)?.thickness.value;
        planted.then(|| carcass.depth.value.checked_add(thickness)).flatten()
    }
}
