//! What stands over a run: the crown, and a panel on the ceiling.

use super::run::Stand;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{CeilingPanel, Len, ReadingAt, Return};
use crate::parts::{
    Called, Crown, CrownAt, CrownPiece, EndPart, Hand, HungPart, Member, Owner, Part, Place, Role, RowKind,
    RunPart, Size, Stock, Unit, UnitId,
};
use crate::quantity::{Dim, Estimate, Length};
use crate::real::Real;

impl Lowering<'_> {
    /// A moulding leans from the top rails to the ceiling: its foot runs along the facing, its top edge is longer by the
    /// projection at each outer corner.
    pub(super) fn crown(&mut self, stand: &Stand<'_>, part: &mut RunPart) {
        let (Some(moulding), Some(facing)) = (&stand.run.crown, &stand.run.facing) else { return };
        let first = part.units.first().and_then(|id| self.graph.unit(*id));
        let Some(first) = first.cloned() else { return };
        let line = |unit: &Unit| (unit.top(), unit.depth.value);
        let units = part.units.iter().filter_map(|id| self.graph.unit(*id));
        if let Some(other) = units.clone().find(|unit| line(unit) != line(&first)).cloned() {
            let message = format!("the crown of `{}` runs over units that do not end in one line", part.path);
            let blamed = [
                (other.height, "the height of one"),
                (other.depth, "its depth"),
                (first.height, "the height of another"),
                (first.depth, "its depth"),
            ];
            let diagnostic = self.blame(Diagnostic::new(&codes::STEP, message), stand.run.head, "", &blamed);
            let help = format!(
                "make `{}` as high and as deep as `{}`, or give it a run of its own",
                other.path, first.path
            );
            self.sink.push(diagnostic.help(help));
            return;
        }
        let spring = moulding.spring.value.to_radians();
        let width = moulding.width.value.to_mm_f64();
        let length = |mm: f64| Estimate { value: mm, dim: Dim::LENGTH };
        let (drop, projection) = (width * spring.cosine(), width * spring.sine());
        let (stretches, ends) = self.crown_lines(stand, part, &first);
        let last = stretches.len().saturating_sub(1);
        let mut pieces = Vec::new();
        for (at, stretch) in stretches.iter().enumerate() {
            // At a space it goes back to the wall, as at an open end.
            let open = [at > 0 || ends[0], at < last || ends[1]];
            let front = self.crown_front(stand, part, stretch, open);
            let corners = open.iter().filter(|open| **open).count();
            let corners = projection * f64::from(u8::try_from(corners).unwrap_or(2));
            pieces.push(CrownPiece {
                at: CrownAt::Front,
                stretch: at,
                foot: front,
                top: length(front.value.to_mm_f64() + corners),
            });
            let outer = [stretch.first(), stretch.last()].map(|id| self.graph.unit(*id?).cloned());
            for ((open, hand), unit) in open.into_iter().zip(Hand::BOTH).zip(outer) {
                let Some(unit) = unit.filter(|_| open) else { continue };
                let foot = [(1, unit.depth), (1, facing.thickness)];
                let rule = "from the wall to the facing's front";
                let foot = self.graph.ledger.sum("return of the crown", &foot, rule);
                let top = length(foot.value.to_mm_f64() + projection);
                pieces.push(CrownPiece { at: CrownAt::Return(hand), stretch: at, foot, top });
            }
        }
        let kerf = self.model.shop.kerf.map_or(0.0, |kerf| kerf.value.to_mm_f64());
        let top = self.top_of(&first);
        let gap = self.top_gap(stand, part, top);
        let angle = |radians: f64| Estimate { value: radians.to_degrees(), dim: Dim::ANGLE };
        // A square outer corner is cut at half of 90 degrees: for 38 of spring, flat on the saw, tan of the mitre is sin 38 x
        // tan 45 = 0.6157, and sin of the bevel cos 38 x sin 45 = 0.5572 (solid geometry).
        let half = std::f64::consts::FRAC_PI_4;
        let mitre = spring.sine().angle_over(half.cosine() / half.sine());
        let bevel = (spring.cosine() * half.sine()).arc_sine();
        let mut crown = Crown {
            moulding: moulding.name.to_string(),
            drop: length(drop),
            projection: length(projection),
            mitre: angle(mitre),
            bevel: angle(bevel),
            gap,
            pieces,
            lines: stretches,
            width: moulding.width,
            stick: length(0.0),
            buy: None,
            inside: [false; 2],
        };
        crown.take_stick(&moulding.lengths, kerf);
        part.crown = Some(crown);
    }

    /// What the crown runs over, from where it goes back to the wall to where it does so again: stretches of units, joined by what hangs
    /// over the space between them with its top and its front in their line. Then whether its two outer ends go back too.
    fn crown_lines(&self, stand: &Stand<'_>, part: &RunPart, first: &Unit) -> (Vec<Vec<UnitId>>, [bool; 2]) {
        let line = |unit: &Unit| (unit.top(), unit.depth.value);
        let in_line =
            |hung: &&HungPart| self.graph.unit(hung.unit).is_some_and(|unit| line(unit) == line(first));
        let closes = |at: usize| part.hung.iter().filter(in_line).find(|hung| hung.spaces.contains(&at));
        // What closes all spaces between two units, or beside an outer one; nothing where one of them stays open.
        let over = |after: usize| -> Option<Vec<UnitId>> {
            let spaces = part.spaces.iter().enumerate().filter(|(_, space)| space.after == after);
            let mut over: Vec<UnitId> = Vec::new();
            for (at, _) in spaces {
                let unit = closes(at)?.unit;
                over.extend((over.last() != Some(&unit)).then_some(unit));
            }
            Some(over)
        };
        let mut lines: Vec<Vec<UnitId>> = vec![over(0).unwrap_or_default()];
        for (place, unit) in part.units.iter().enumerate() {
            lines.last_mut().into_iter().for_each(|line| line.push(*unit));
            match over(place + 1) {
                Some(over) => lines.last_mut().into_iter().for_each(|line| line.extend(&over)),
                None if place + 1 < part.units.len() => lines.push(Vec::new()),
                None => {}
            }
        }
        let outer = [0, part.units.len()].map(|after| over(after).is_some_and(|over| !over.is_empty()));
        let meets = outer.into_iter().zip(stand.reaches.iter().zip(stand.meets));
        let open: Vec<bool> = meets
            .map(|(closed, (reaches, meets))| if closed { *reaches } else { meets } == Return::Open)
            .collect();
        let at = |end: usize| open.get(end).copied().unwrap_or_default();
        (lines, [at(0), at(1)])
    }

    /// The foot of a crown along a stretch of units: between walls it fills the high front reading, else it covers units and gaps.
    fn crown_front(&mut self, stand: &Stand<'_>, part: &RunPart, stretch: &[UnitId], open: [bool; 2]) -> Len {
        let high =
            stand.wall.and_then(|wall| wall.readings.iter().find(|reading| reading.at == ReadingAt::High));
        let all = part.spaces.is_empty() || (open == [false; 2] && !stand.reaches.contains(&Return::Open));
        let whole = all && !stand.is_mid_wall(0) && !stand.is_mid_wall(1);
        if let Some(front) = high.and_then(|reading| reading.front).filter(|_| whole) {
            return self.less_before(front, stand.before);
        }
        let ends = [stretch.first(), stretch.last()].map(|id| self.graph.unit(*id?));
        let over_hung = stretch.iter().any(|id| part.hangs(*id).is_some());
        let mut terms = match ends {
            [Some(Unit { x: Some(left), .. }), Some(Unit { x: Some(right), width, .. })] if over_hung => {
                vec![(1, *right), (1, *width), (-1, *left)]
            }
            _ if part.spaces.is_empty() => vec![(1, part.total_width)],
            _ => {
                let widths = stretch.iter().filter_map(|id| self.graph.unit(*id).map(|unit| (1, unit.width)));
                widths.collect()
            }
        };
        let gaps = part.high_gaps().into_iter().zip(open).filter(|(_, open)| !open);
        terms.extend(gaps.filter_map(|(gap, _)| gap.map(|gap| (1, gap))));
        let rule = if whole { "units and gaps" } else { "units, and the gap at a wall" };
        self.graph.ledger.sum("front of the crown", &terms, rule)
    }

    /// The least and the greatest gap between the ends of the sides and the ceiling.
    fn top_gap(&mut self, stand: &Stand<'_>, part: &RunPart, height: Len) -> Option<[Len; 2]> {
        let ceiling = &stand.wall?.ceiling;
        let last = self.graph.unit(*part.units.last()?)?;
        let to = last.x?.value.checked_add(last.width.value)?;
        let from = self.left_end(part);
        let over = ceiling.points.iter().filter(|(at, _)| from <= at.value && at.value <= to);
        let mut over: Vec<Len> = over.map(|(_, above)| *above).collect();
        over.extend(self.at(ceiling, from, "ceiling above the level line"));
        over.extend(self.at(ceiling, to, "ceiling above the level line"));
        let ledger = &mut self.graph.ledger;
        let low = ledger.least("lowest ceiling over the run", &over, "")?;
        let high = ledger.greatest("highest ceiling over the run", &over, "")?;
        let rule = "from the ends of the sides to the ceiling";
        Some([low, high].map(|ceiling| ledger.sum("gap at the top", &[(1, ceiling), (-1, height)], rule)))
    }

    /// A panel on the ceiling over the whole run.
    pub(super) fn ceiling_panel(&mut self, stand: &Stand<'_>, part: &RunPart) {
        let Some(CeilingPanel { sheet, depth, join }) = stand.run.ceiling_panel else { return };
        let Some(thickness) = self.model.sheets.get(sheet.0).map(|sheet| sheet.thickness) else { return };
        let Some(first) = part.units.first().and_then(|id| self.graph.unit(*id)).cloned() else { return };
        let height = self.top_of(&first);
        let ledger = &mut self.graph.ledger;
        let mid_wall = [0, 1].map(|end| part.ends.get(end).is_some_and(EndPart::is_mid_wall));
        let gaps = part.gaps.into_iter().flatten().zip(mid_wall).filter(|(_, mid_wall)| !mid_wall);
        let gaps = gaps.map(|(gap, _)| (1, gap));
        let mut terms: Vec<(i128, Len)> = std::iter::once((1, part.total_width)).chain(gaps).collect();
        let inner = part.spaces.iter().filter(|space| space.after > 0 && space.after < part.units.len());
        terms.extend(inner.map(|space| (1, space.width)));
        let length = ledger.sum("length", &terms, "over units and gaps");
        let zero = ledger.usual("left corner", Length::ZERO, "places count from the left corner");
        let x = first.x.filter(|_| mid_wall[0]).unwrap_or(zero);
        let size = Size { thickness, width: depth, length };
        let place = Place { x, y: zero, z: height };
        let owner = Owner { unit: None, run: Some(stand.id) };
        let (called, stock) = (Called::alone(&part.path, "ceiling_panel"), Stock::Sheet(sheet));
        let id = self.add(Part::new(called, owner, Role::CeilingPanel, stock, size, place));
        let (Some(id), Some(wall)) = (id, stand.run.wall) else { return };
        if join.fastener.is_none() && join.glue.is_none() {
            return;
        }
        for _edge in 0..2 {
            self.row_between((RowKind::CeilingPanel, id, Member::Wall(wall)), length, join, false);
        }
    }
}
