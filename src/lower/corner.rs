//! Corners of the room: one run goes through to the other wall, the next one ends before its front.

use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Carcass, Len, Return, Run, Wall};
use crate::parts::{CrownAt, Hand, RoomCorner, RunId, RunPart, UnitId};
use crate::quantity::{Dim, Estimate};

impl Lowering<'_> {
    /// From the corner to the front of the run that goes through there; `None` where the end stands before none, or after a message.
    pub(super) fn before(&mut self, run: &Run, end: usize, wall: Option<&Wall>) -> Option<Len> {
        let other = self.model.runs.get(run.ends.get(end)?.before?)?;
        if let Some((message, help)) = self.no_corner(run, end, (other, wall)) {
            let diagnostic = Diagnostic::new(&codes::CORNER, message);
            let head = run.ends.get(end).and_then(|end| end.head).or(run.head);
            let diagnostic = self.blame(diagnostic, head, "this end", &[]);
            self.sink.push(diagnostic.help(help));
            return None;
        }
        let unit = at_corner(other, end)?;
        let mut terms = vec![(1, unit.depth)];
        terms.extend(other.facing.as_ref().map(|facing| (1, facing.thickness)));
        let rule = "the run along the other wall goes through: depth and facing of its last unit";
        Some(self.graph.ledger.sum("from the corner to the front of the other run", &terms, rule))
    }

    /// A width of a wall less what runs that go through to its corners take of it.
    pub(super) fn less_before(&mut self, width: Len, before: [Option<Len>; 2]) -> Len {
        let taken: Vec<(i128, Len)> = before.into_iter().flatten().map(|before| (-1, before)).collect();
        if taken.is_empty() {
            return width;
        }
        let terms = [&[(1, width)], taken.as_slice()].concat();
        self.graph.ledger.sum("to the front of the other run", &terms, "less what goes through to the corner")
    }

    /// Why a run cannot end before another one, and what helps; `None` where it can.
    fn no_corner(
        &self,
        run: &Run,
        end: usize,
        (other, wall): (&Run, Option<&Wall>),
    ) -> Option<(String, String)> {
        let hand = if end == 0 { Hand::Left } else { Hand::Right };
        let (word, far) = (hand.word(), hand.other().word());
        let own = run.ends.get(end)?;
        let name = format!("the {word} end of `{}`", run.name);
        let theirs = other.wall.and_then(|wall| self.model.walls.get(wall));
        let (Some(wall), Some(theirs)) = (wall, theirs) else {
            let message =
                format!("{name} stands before `{}`, and one of the two stands along no wall", other.name);
            return Some((message, "put both runs `along` the walls that meet in the corner".to_owned()));
        };
        if theirs.name == wall.name || theirs.room_name() != wall.room_name() {
            let message = format!(
                "{name} stands before `{}`, and `{}` and `{}` meet in no corner",
                other.name, wall.name, theirs.name
            );
            let help = "the two runs stand along two walls of one room: name the one round this corner, or delete the `before`";
            return Some((message, help.to_owned()));
        }
        if own.against == Some(Return::Open) || wall.returns.get(end) == Some(&Return::Open) {
            let message = format!("{name} stands before `{}`, and is said to be open", other.name);
            return Some((
                message,
                "an end before another run meets that: delete what says that it is open".to_owned(),
            ));
        }
        let through = other.ends.get(1 - end)?;
        let open =
            through.against == Some(Return::Open) || theirs.returns.get(1 - end) == Some(&Return::Open);
        if open || through.before.is_some() {
            let message = format!(
                "{name} stands before the {far} end of `{}`, which does not go through to the corner",
                other.name
            );
            return Some((
                message,
                format!("let the {far} end of `{}` meet the wall, or turn the two round", other.name),
            ));
        }
        let place = if end == 0 { other.units.len() } else { 0 };
        other.spaces.iter().any(|space| space.after == place).then(|| {
            let message =
                format!("{name} stands before `{}`, which leaves a space in that corner", other.name);
            (message, "state the `gap` of this end, or put a unit in the corner".to_owned())
        })
    }

    /// The corners, once all runs stand: what of the unit there stays open, and crowns that meet in them.
    pub(super) fn corners(&mut self) {
        let stated = self.model.runs.iter().flat_map(|run| [0, 1].map(|end| (run, end)));
        let found: Vec<(RunId, usize, RunId, Len)> = stated
            .filter_map(|(run, end)| {
                let other = self.model.runs.get(run.ends.get(end)?.before?)?;
                let id =
                    |run: &Run| self.graph.runs.iter().position(|own| *own.path == *run.name).map(RunId::at);
                let [own, through] = [id(run)?, id(other)?];
                let out = self.graph.run(own)?.ends.get(end)?.before?;
                Some((own, end, through, out))
            })
            .collect();
        for (own, end, through, out) in found {
            if let Some(corner) = self.corner((own, end), through, out) {
                self.crowns_meet(&corner);
                self.graph.corners.push(corner);
            }
        }
    }

    fn corner(&mut self, (own, end): (RunId, usize), through: RunId, out: Len) -> Option<RoomCorner> {
        let last = |run: &RunPart, right: bool| {
            if right { run.units.last().copied() } else { run.units.first().copied() }
        };
        let unit = last(self.graph.run(own)?, end == 1)?;
        let blind = last(self.graph.run(through)?, end == 0)?;
        let gap = self.graph.run(through)?.ends.get(1 - end)?.corner;
        let facing = self.model.runs.get(own.0 as usize).and_then(|run| run.facing.as_ref());
        let mut terms = vec![(1, self.graph.unit(unit)?.depth)];
        terms.extend(facing.map(|facing| (1, facing.thickness)));
        let corner = self.graph.unit(blind)?.clone();
        let thickness = self.graph.sheet(corner.sheet)?.thickness;
        let ledger = &mut self.graph.ledger;
        let rule = "depth and facing of the unit that stands before it";
        let covered = ledger.sum("covered from the corner on", &terms, rule);
        let rule = "of the clear width of the unit in the corner, what nothing stands before";
        let terms = [(1, gap), (1, corner.width), (-1, thickness), (-1, covered)];
        let open = ledger.sum("what stays open", &terms, rule);
        Some(RoomCorner { own, end, through, unit, blind, out, covered, open })
    }

    /// Crowns of one line meet in the corner: the one that goes through ends where the other stands, and both top edges are shorter by
    /// the projection.
    fn crowns_meet(&mut self, corner: &RoomCorner) {
        let top = |id: UnitId| self.graph.unit(id)?.top();
        let crown = |run: RunId| self.graph.run(run)?.crown.as_ref();
        let (Some(one), Some(other)) = (crown(corner.own), crown(corner.through)) else { return };
        if one.moulding != other.moulding || top(corner.unit) != top(corner.blind) {
            return;
        }
        let kerf = self.model.shop.kerf.map_or(0.0, |kerf| kerf.value.to_mm_f64());
        let mouldings = [corner.own, corner.through]
            .map(|run| self.model.runs.get(run.0 as usize).and_then(|run| run.crown.as_ref()).cloned());
        for (((run, end), shorter), moulding) in
            [((corner.own, corner.end), None), ((corner.through, 1 - corner.end), Some(corner.covered))]
                .into_iter()
                .zip(mouldings)
        {
            let (Some(part), Some(moulding)) = (self.graph.runs.get_mut(run.0 as usize), moulding) else {
                continue;
            };
            let Some(crown) = part.crown.as_mut() else { continue };
            let stretch =
                if end == 0 { 0 } else { crown.pieces.iter().map(|piece| piece.stretch).max().unwrap_or(0) };
            let front =
                crown.pieces.iter_mut().find(|piece| piece.at == CrownAt::Front && piece.stretch == stretch);
            let Some(front) = front else { continue };
            let mut less = crown.projection.value;
            if let Some(covered) = shorter {
                let rule = "it ends in the corner, where the other run stands";
                less += covered.value.to_mm_f64();
                front.foot =
                    self.graph.ledger.sum("front of the crown", &[(1, front.foot), (-1, covered)], rule);
            }
            front.top = Estimate { value: front.top.value - less, dim: Dim::LENGTH };
            if let Some(inside) = crown.inside.get_mut(end) {
                *inside = true;
            }
            crown.take_stick(&moulding.lengths, kerf);
        }
    }
}

/// The unit of a run that goes through to the corner at which another one ends: at its right end where that is the left one.
fn at_corner(other: &Run, end: usize) -> Option<&Carcass> {
    if end == 0 { other.units.last() } else { other.units.first() }
}
