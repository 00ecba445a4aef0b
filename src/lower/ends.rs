//! The ends of a run: the least reading holds the units, the gaps take what is left over, the front gaps make the facing.

use super::run::{Stand, Stretch};
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Len, Reading, ReadingAt, Return, Run, Wall};
use crate::parts::{EndGap, EndPart, Hand};
use crate::quantity::{Length, Rational};
use num_rational::Ratio;

/// The source of the clearance at a wall.
const CLEARANCE: &str = "common practice, no source: body clearance at a wall";

impl Lowering<'_> {
    /// The least of all widths that are read: it holds the units. Where walls have plumb readings, it is that between their
    /// plumb lines.
    pub(super) fn least_reading(&mut self, wall: &Wall) -> Option<Len> {
        let mut widths = Vec::new();
        let mut rule = "the tightest place holds the units";
        for reading in &wall.readings {
            let leans = reading.lean.iter().zip(wall.returns);
            let leans = leans.filter(|(_, meets)| *meets == Return::Wall).filter_map(|(lean, _)| *lean);
            let leans: Vec<(i128, Len)> = leans.map(|lean| (-1, lean)).collect();
            for width in [reading.back, reading.front].into_iter().flatten() {
                if leans.is_empty() {
                    widths.push(width);
                    continue;
                }
                rule = "the tightest place between the plumb lines holds the units";
                let terms = [&[(1, width)], leans.as_slice()].concat();
                let less = "less what the walls stand back from plumb there";
                widths.push(self.graph.ledger.sum("between the plumb lines", &terms, less));
            }
        }
        self.graph.ledger.least("least reading", &widths, rule)
    }

    /// How far a stile reaches over the opening of each unit; units of equally thick sides have one lap with one reason.
    pub(super) fn laps(&mut self, run: &Run) -> Vec<Len> {
        let mut known: Vec<(Option<Length>, Len)> = Vec::new();
        let mut laps = Vec::new();
        for unit in &run.units {
            let thickness = self.model.sheets.get(unit.sheet.0).map(|sheet| sheet.thickness);
            let thick = thickness.map(|thickness| thickness.value);
            laps.push(match known.iter().find(|(same, _)| *same == thick) {
                Some((_, lap)) => *lap,
                None => {
                    let lap = self.lap(run, thickness);
                    known.push((thick, lap));
                    lap
                }
            });
        }
        laps
    }

    /// How far the stiles at both sides of each unit reach over its opening: as over a seam, but for a stile that an open end
    /// of the run has of its own, which is flush with the outer face.
    pub(super) fn side_laps(&mut self, run: &Run, laps: &[Len], meets: [Return; 2]) -> Vec<[Len; 2]> {
        let mut all: Vec<[Len; 2]> = laps.iter().map(|lap| [*lap; 2]).collect();
        let last = run.units.len().saturating_sub(1);
        for (end, (at, meets)) in [0, last].into_iter().zip(meets).enumerate() {
            // At a space the stile is that of the space.
            let outer =
                run.spaces.iter().any(|space| space.after == if end == 0 { 0 } else { run.units.len() });
            let stile = run.ends.get(end).and_then(|end| end.stile);
            let stile = stile.filter(|_| meets == Return::Open && !outer);
            let unit = run.units.get(at).and_then(|unit| self.model.sheets.get(unit.sheet.0));
            let own = all.get_mut(at).and_then(|laps| laps.get_mut(end));
            if let (Some(stile), Some(sheet), Some(own)) = (stile, unit, own) {
                let rule =
                    "the stile at an open end is flush with the side, and laps the opening by the rest";
                *own = self.graph.ledger.sum("lap", &[(1, stile), (-1, sheet.thickness)], rule);
            }
        }
        for space in &run.spaces {
            let beside = [(space.after.checked_sub(1), 1_usize), (Some(space.after), 0)];
            for (at, side) in beside {
                let Some(unit) = at.and_then(|at| run.units.get(at)) else { continue };
                let sheet = self.model.sheets.get(unit.sheet.0);
                let own = at.and_then(|at| all.get_mut(at)).and_then(|laps| laps.get_mut(side));
                if let (Some(stile), Some(sheet), Some(own)) = (space.stile, sheet, own) {
                    let rule =
                        "the stile at a space is flush with the side, and laps the opening by the rest";
                    *own = self.graph.ledger.sum("lap", &[(1, stile), (-1, sheet.thickness)], rule);
                }
            }
        }
        all
    }

    /// Whether what the ends state agrees with their wall and with the facing; says where it does not.
    pub(super) fn ends_agree(&mut self, run: &Run, meets: [Return; 2], wall: Option<&Wall>) {
        for (end, (hand, meets)) in run.ends.iter().zip(Hand::BOTH.into_iter().zip(meets)) {
            let hand = hand.word();
            let (message, help) = if meets == Return::Open && end.against == Some(Return::Wall) {
                let wall = wall.map_or("", |wall| &*wall.name);
                let message = format!(
                    "the {hand} end of `{}` is said to stand against a wall, and `{wall}` is open there",
                    run.name
                );
                (message, format!("delete the `against`, or say what `{wall}` has at its {hand} end"))
            } else if end.stile.is_some() && run.facing.is_none() {
                let message =
                    format!("the {hand} end of `{}` states a stile, and the run has no facing", run.name);
                (message, "a stile is part of the `facing`; a `filler` closes the gap without one".to_owned())
            } else if end.stile.is_some() && end.gap.is_some() && meets != Return::Open {
                let message = format!(
                    "the {hand} end of `{}` states its gap and its stile, and one follows from the other",
                    run.name
                );
                (message, "state the `gap`, or how wide the `stile` is to look".to_owned())
            } else {
                continue;
            };
            let diagnostic = Diagnostic::new(&codes::END, message);
            let diagnostic = self.blame(diagnostic, end.head.or(run.head), "this end", &[]);
            self.sink.push(diagnostic.help(help));
        }
    }

    /// How far a stile reaches over the opening: stated, or half of what the stile over a seam leaves of two such sides.
    pub(super) fn lap(&mut self, run: &Run, thickness: Option<Len>) -> Len {
        let stated = run.facing.as_ref().and_then(|facing| facing.lap);
        let stile = run.facing.as_ref().and_then(|facing| facing.stile);
        let ledger = &mut self.graph.ledger;
        match (stated, stile, thickness) {
            (Some(lap), ..) => lap,
            (None, Some(stile), Some(thickness)) => {
                let rule = "the stile over a seam covers two sides and laps both openings";
                let laps = ledger.sum("both laps", &[(1, stile), (-2, thickness)], "");
                ledger.divide("lap", laps, Rational::from(2), rule)
            }
            _ => ledger.usual("lap", Length::ZERO, "no lap and no stile are stated"),
        }
    }

    /// The gap wanted at a wall: the stile there is made to look as wide as its end states, or as the one over a seam.
    pub(super) fn gap_wanted(
        &mut self,
        run: &Run,
        own: Option<Len>,
        (thickness, lap): (Option<Len>, Option<Len>),
        at: &'static str,
    ) -> Len {
        let facing = run.facing.as_ref();
        let stile = facing.and_then(|facing| own.or(facing.stile));
        let ledger = &mut self.graph.ledger;
        match (stile, thickness, lap) {
            (Some(stile), Some(thickness), Some(lap)) => {
                let rule = match own {
                    Some(_) => "the stile at that end is made to look so wide",
                    None => "the stile at a wall is made to look as wide as the one over a seam",
                };
                ledger.sum(at, &[(1, stile), (-1, thickness), (-1, lap)], rule)
            }
            _ => {
                let metric = self.model.project.marks.system() == crate::quantity::System::Metric;
                let quarter = Length::from_inches(Ratio::new(1, 4)).unwrap_or_default();
                let value = if metric { Length::from_mm(Rational::from(6)) } else { quarter };
                ledger.usual(at, value, CLEARANCE)
            }
        }
    }

    /// Which ends take what is left over: those in mid-wall whose gap is not stated; else walls whose gap is not; else walls; else,
    /// of a run in mid-wall, the open end whose gap is not; else both.
    pub(super) fn takers(stand: &Stand<'_>) -> [bool; 2] {
        let walls = stand.reaches.map(|reaches| reaches != Return::Open);
        let stated = |end: usize| stand.run.ends.get(end).is_none_or(|end| end.gap.is_some());
        let loose = [0, 1].map(|end: usize| stand.is_mid_wall(end) && !stated(end));
        let free = [0, 1].map(|end: usize| walls.get(end) == Some(&true) && !stated(end));
        let mid_wall = stand.is_mid_wall(0) || stand.is_mid_wall(1);
        let open = [0, 1].map(|end: usize| mid_wall && !stated(end));
        let all = [loose, free, walls, open, [true; 2]];
        let takers = all.into_iter().find(|takers| takers.contains(&true));
        takers.unwrap_or([true; 2])
    }

    /// The gaps at both ends where the run is tightest. What is left over goes to the walls whose gap is not stated; if
    /// all gaps are stated, to the walls; if there is no wall, to both ends; in equal shares.
    pub(super) fn gaps(
        &mut self,
        stand: &Stand<'_>,
        length: Len,
        all: &[(i128, Len)],
        widths: &[Len],
    ) -> Option<[Len; 2]> {
        let wanted = stand.wanted;
        let total =
            self.graph.ledger.sum("width of all units", all, "units stand without a gap between them");
        let mut terms = vec![(1, length), (-1, total), (-1, wanted[0]), (-1, wanted[1])];
        terms.extend(stand.beside_length());
        let ledger = &mut self.graph.ledger;
        let over = ledger.sum("left over", &terms, "the run's length less units and gaps wanted");
        let takers = Self::takers(stand);
        let mut takes = takers.into_iter().zip(stand.reaches).filter(|(takes, _)| *takes);
        let rule = match (takers, takes.any(|(_, meets)| meets != Return::Open)) {
            ([true, true], true) => "what is left over is halved between the two walls",
            (_, true) => "what is left over goes to the wall",
            ([true, true], false) => "what is left over is halved between the two ends",
            (_, false) => "what is left over stays free at the end in mid-wall",
        };
        let part =
            if takers == [true; 2] { ledger.divide("half of it", over, Rational::from(2), "") } else { over };
        let labels = ["gap at the left end", "gap at the right end"];
        let mut gaps = wanted;
        for (((gap, takes), label), wanted) in gaps.iter_mut().zip(takers).zip(labels).zip(wanted) {
            *gap = if takes {
                ledger.sum(label, &[(1, wanted), (1, part)], rule)
            } else {
                ledger.sum(label, &[(1, wanted)], "this end takes nothing of what is left over")
            };
        }
        if gaps.iter().any(|gap| gap.value.is_negative()) {
            let [left, right] = stand.wanted;
            let wanted = vec![("gap at the left".to_owned(), left), ("gap at the right".to_owned(), right)];
            let what = format!("the run `{}`", stand.run.name);
            let stretch =
                Stretch { pieces: super::run::pieces(stand.run), room: Vec::new(), length, wanted, what };
            let members = self.members(stand, &stretch, Some(widths));
            self.overfull(stand.run, &stretch.what, length, &members);
            return None;
        }
        Some(gaps)
    }

    /// Both ends with their gaps at every reading.
    pub(super) fn ends(&mut self, stand: &Stand<'_>, gaps: [Len; 2], length: Len) -> Vec<EndPart> {
        let mut ends = Vec::new();
        for end in 0..2_usize {
            let (Some(gap), Some(meets), Some(beyond)) =
                (gaps.get(end).copied(), stand.meets.get(end).copied(), stand.beyond.get(end).copied())
            else {
                continue;
            };
            let mut readings = Vec::new();
            for reading in stand.wall.map(|wall| wall.readings.as_slice()).unwrap_or_default() {
                let [front, back] =
                    [(reading.front, "front gap"), (reading.back, "back gap")].map(|(width, label)| {
                        width.map(|width| self.gap_at(stand, (end, gap), reading, width, length, label))
                    });
                readings.push(EndGap { at: reading.at, height: reading.height, front, back });
            }
            let middle = readings
                .iter()
                .find(|reading| reading.at == ReadingAt::Middle)
                .and_then(|reading| reading.back);
            let before = stand.before.get(end).copied().flatten();
            ends.push(EndPart { meets, beyond, before, gap, corner: middle.unwrap_or(gap), readings });
        }
        ends
    }

    /// The gap of one end at one reading: that of the tightest place, and the lean that this end has there.
    pub(super) fn gap_at(
        &mut self,
        stand: &Stand<'_>,
        (end, gap): (usize, Len),
        reading: &Reading,
        width: Len,
        length: Len,
        label: &'static str,
    ) -> Len {
        let width = self.less_before(width, stand.before);
        let ledger = &mut self.graph.ledger;
        let leans = |end: usize| {
            let read = reading.lean.get(end).copied().flatten();
            (stand.beyond.get(end) == Some(&Return::Wall), read)
        };
        let (this, other) = (leans(end), leans(1 - end));
        if stand.reaches.get(end) == Some(&Return::Open) {
            // In mid-wall it counts from the corner half way up: the wall there leans on from that.
            let middle = stand.wall.and_then(|wall| {
                let middle = wall.readings.iter().find(|reading| reading.at == ReadingAt::Middle)?;
                middle.lean.get(end).copied().flatten()
            });
            let lean = this.1.zip(middle).filter(|_| this.0);
            let mut terms = vec![(1, gap)];
            terms.extend(lean.into_iter().flat_map(|(there, corner)| [(1, there), (-1, corner)]));
            return ledger.sum(label, &terms, "an end that is plumb or open takes no lean");
        }
        if let (true, Some(lean)) = this {
            let mut terms = vec![(Rational::from(1), gap), (Rational::from(1), lean)];
            let mut rule = "and what this wall stands back from plumb";
            if let (true, Some(other)) = other {
                let over = [(1, width), (-1, length), (-1, lean), (-1, other)];
                let over = ledger.sum("over both leans", &over, "what no plumb reading explains");
                if !over.value.is_zero() {
                    let shared = stand.wall.is_some_and(|wall| wall.shared);
                    terms.push((Rational::new(1, if shared { 2 } else { 1 }), over));
                    rule = "what this wall stands back from plumb, and what the width there is over both walls' leans";
                }
            }
            return ledger.weighted(label, &terms, rule);
        }
        if !this.0 {
            return ledger.sum(label, &[(1, gap)], "an end that is plumb or open takes no lean");
        }
        let mut terms = vec![(Rational::from(1), width), (Rational::from(-1), length)];
        if let (true, Some(lean)) = other {
            terms.push((Rational::from(-1), lean));
        }
        let shared = other == (true, None) && stand.wall.is_some_and(|wall| wall.shared);
        let (share, rule) = match (other, shared) {
            (_, true) => (Rational::new(1, 2), "both walls share what this width is over the tightest one"),
            ((true, None), _) => {
                (Rational::from(1), "this wall may have all that this width is over the tightest one")
            }
            _ => (Rational::from(1), "this wall has all that this width is over the tightest one"),
        };
        let mut terms: Vec<(Rational, Len)> =
            terms.into_iter().map(|(times, len)| (if shared { times * share } else { times }, len)).collect();
        terms.insert(0, (Rational::from(1), gap));
        ledger.weighted(label, &terms, rule)
    }
}
