//! Runs: units side by side, and the shares of what is left over.

use super::carcass::Front;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Carcass, Len, ReadingAt, Return, Run, Share, Wall, Width};
use crate::parts::{Called, RunId, RunPart, UnitId};
use crate::quantity::{Length, Rational, Round};
use num_traits::CheckedAdd;
use std::sync::Arc;

/// A run as it stands in the room: its length, the gaps wanted, what its ends meet.
pub(super) struct Stand<'a> {
    pub id: RunId,
    pub run: &'a Run,
    pub wall: Option<&'a Wall>,
    /// The least length there is; `None` where it is neither stated nor read.
    pub length: Option<Len>,
    pub meets: [Return; 2],
    /// What stands at the ends of its wall.
    pub beyond: [Return; 2],
    pub wanted: [Len; 2],
    /// How far a stile over a seam reaches over the opening of each unit.
    pub laps: Vec<Len>,
    /// How far the stiles at both sides of each unit do.
    pub side_laps: Vec<[Len; 2]>,
    /// How far the walls beyond ends in mid-wall stand back from plumb where places count from, as far as that is read.
    pub corner_leans: [Option<Len>; 2],
}

impl Stand<'_> {
    /// Whether an end stands in mid-wall, before the corner with another wall.
    pub fn is_mid_wall(&self, end: usize) -> bool {
        self.meets.get(end) == Some(&Return::Open)
            && self.beyond.get(end).is_some_and(|beyond| *beyond != Return::Open)
    }

    /// What the length is more than the least reading: a gap in mid-wall counts from the corner, not from a plumb line.
    pub fn beside_length(&self) -> impl Iterator<Item = (i128, Len)> {
        self.corner_leans.into_iter().flatten().map(|lean| (1, lean))
    }
}

impl<'a> Lowering<'a> {
    pub(super) fn run(&mut self, run: &'a Run) {
        let stand = self.stand(run);
        let Some(widths) = self.widths(&stand) else { return };
        let terms: Vec<(i128, Len)> = widths.iter().map(|width| (1, *width)).collect();
        let rule = "units stand without a gap between them";
        let total_width = self.graph.ledger.sum("width of all units", &terms, rule);
        let gaps = match stand.length {
            Some(length) => match self.gaps(&stand, length, total_width, &widths) {
                Some(gaps) => Some(gaps),
                None => return,
            },
            None => None,
        };
        let ends =
            gaps.zip(stand.length).map(|(gaps, length)| self.ends(&stand, gaps, length)).unwrap_or_default();
        // Places along a wall count at the back, at middle height.
        let corner = match ends.first() {
            Some(left) => left.corner,
            None if stand.is_mid_wall(0) => stand.wanted[0],
            None => self.graph.ledger.usual("left end of the run", Length::ZERO, "places count from it"),
        };
        let mut left = vec![(1, corner)];
        let first = self.graph.units.len();
        let around = self.around(&stand, corner, total_width);
        for (index, (unit, width)) in run.units.iter().zip(&widths).enumerate() {
            let name: Arc<str> = match &unit.name {
                Some(name) => name.clone(),
                None => format!("unit[{}]", index + 1).into(),
            };
            let called = Called { path: format!("{}.{name}", run.name), name, former: None };
            let x = self.graph.ledger.sum(
                "left face of the unit",
                &left,
                "after the gap, or after the unit left of it",
            );
            let laps = stand.laps.get(index).zip(stand.side_laps.get(index));
            let crowned = run.crown.is_some();
            let front = run.facing.as_ref().zip(laps);
            let front = front.map(|(facing, (lap, laps))| Front { facing, lap: *lap, laps: *laps, crowned });
            self.carcass(unit, (called, Some(stand.id)), *width, (Some(x), &around), front);
            left = vec![(1, x), (1, *width)];
        }
        let units = (first..self.graph.units.len()).map(UnitId::at);
        let mut part = RunPart {
            path: run.name.to_string(),
            note: run.note.clone(),
            gaps,
            total_width,
            ends,
            units: units.collect(),
            wall: run.wall,
            floor_at_faces: Vec::new(),
            crown: None,
            end_stiles: [None; 2],
            frame: None,
        };
        // Where a unit cannot be, what stands before them all cannot be either.
        if part.units.len() == run.units.len() && !part.units.is_empty() {
            self.floor_at_faces(&stand, &mut part);
            self.facing(&stand, &mut part);
            self.fillers(&stand, &part);
            self.crown(&stand, &mut part);
            self.ceiling_panel(&stand, &part);
            self.run_rows(&stand, &part, &around);
            self.say_cut_away(&around);
            self.frame(&stand, &mut part);
        }
        self.graph.runs.push(part);
    }

    /// What is known of a run before its widths.
    fn stand(&mut self, run: &'a Run) -> Stand<'a> {
        let wall = run.wall.and_then(|wall| self.model.walls.get(wall));
        if let (Some(wall), Some(length)) = (wall, run.length) {
            let message = format!("the run `{}` stands along a wall and states a length as well", run.name);
            let diagnostic = Diagnostic::new(&codes::CONTRADICTION, message);
            let diagnostic = self.blame(diagnostic, run.head, "this run", &[(length, "its length")]);
            self.sink.push(
                diagnostic
                    .and_at(wall.head, "its wall, whose readings give the length")
                    .help("delete the `length`, or the `along`"),
            );
        }
        let said = run.ends.map(|end| end.against.unwrap_or(Return::Wall));
        let beyond = wall.map_or(said, |wall| wall.returns);
        // Along a wall, an end that is open stands in mid-wall.
        let at_end = |end: usize| {
            let open = run.ends.get(end).is_some_and(|end| end.against == Some(Return::Open));
            if open { Return::Open } else { beyond.get(end).copied().unwrap_or(Return::Wall) }
        };
        let meets = [at_end(0), at_end(1)];
        self.ends_agree(run, meets, wall);
        // Where no wall that may lean is met, places along the wall count: at the back, half way up.
        let mid_wall =
            (0..2).any(|end| meets.get(end) == Some(&Return::Open) && beyond.get(end) != Some(&Return::Open));
        let middle =
            wall.and_then(|wall| wall.readings.iter().find(|reading| reading.at == ReadingAt::Middle));
        let along =
            middle.and_then(|middle| middle.back).filter(|_| mid_wall && !meets.contains(&Return::Wall));
        let least = |lowering: &mut Self| wall.and_then(|wall| lowering.least_reading(wall));
        let length = run.length.or(along).or_else(|| least(self));
        let laps = self.laps(run);
        let side_laps = self.side_laps(run, &laps, meets);
        let thickness = |unit: Option<&Carcass>| Some(self.model.sheets.get(unit?.sheet.0)?.thickness);
        let outer = [
            (thickness(run.units.first()), laps.first().copied()),
            (thickness(run.units.last()), laps.last().copied()),
        ];
        let mut wanted =
            |end: crate::eval::End, meets: Return, outer, at: &'static str| match (end.gap, meets) {
                (Some(gap), _) => gap,
                (None, Return::Open) => self.graph.ledger.usual(at, Length::ZERO, "an open end has no gap"),
                (None, _) => self.gap_wanted(run, end.stile, outer, at),
            };
        let [left, right] = run.ends;
        let wanted = [
            wanted(left, meets[0], outer[0], "gap wanted at the left end"),
            wanted(right, meets[1], outer[1], "gap wanted at the right end"),
        ];
        let corner_lean = |end: usize| {
            let open = meets.get(end) == Some(&Return::Open) && beyond.get(end) == Some(&Return::Wall);
            middle?.lean.get(end).copied().flatten().filter(|_| open && along.is_none())
        };
        let corner_leans = [corner_lean(0), corner_lean(1)];
        let id = RunId::at(self.graph.runs.len());
        Stand { id, run, wall, length, meets, beyond, wanted, laps, side_laps, corner_leans }
    }

    /// The width of each unit; `None` where shares cannot be worked out.
    fn widths(&mut self, stand: &Stand<'_>) -> Option<Vec<Len>> {
        let run = stand.run;
        let shares: Vec<&Share> = run
            .units
            .iter()
            .filter_map(|unit| match &unit.width {
                Width::Share(share) => Some(share),
                Width::Over(_) | Width::Clear(_) => None,
            })
            .collect();
        if shares.is_empty() {
            return Some(run.units.iter().map(|unit| self.stated_width(unit)).collect());
        }
        let Some(length) = stand.length else {
            if run.lost {
                return None;
            }
            let message = format!("`rest` has nothing to share: the run `{}` has no length", run.name);
            let mut diagnostic = Diagnostic::new(&codes::NO_LENGTH, message);
            if let Some(span) = shares.first().and_then(|share| share.span) {
                diagnostic = diagnostic.at(span, "");
            }
            if let Some(head) = run.head {
                let text = if stand.wall.is_some() {
                    "no width of its wall is read"
                } else {
                    "no `length`, no `along`"
                };
                diagnostic = diagnostic.and_at(head, text);
            }
            let help = "put it `along` a wall with readings, or add `length = ...`";
            self.sink.push(diagnostic.help(help));
            return None;
        };
        let unknown = (0..2)
            .find(|end| stand.is_mid_wall(*end) && run.ends.get(*end).is_some_and(|end| end.gap.is_none()));
        if let Some(end) = unknown {
            let hand = if end == 0 { "left" } else { "right" };
            let message = format!(
                "`rest` has nothing to share: the {hand} end of `{}` stands in mid-wall and states no `gap`",
                run.name
            );
            let mut diagnostic = Diagnostic::new(&codes::NO_LENGTH, message);
            if let Some(span) = shares.first().and_then(|share| share.span) {
                diagnostic = diagnostic.at(span, "");
            }
            if let Some(head) = run.ends.get(end).and_then(|end| end.head) {
                diagnostic = diagnostic.and_at(head, "this end");
            }
            self.sink.push(
                diagnostic.help("state its `gap`, from the corner to the run, or the widths of all units"),
            );
            return None;
        }
        let rest = self.rest(stand, length, &shares)?;
        let widths =
            self.shared(stand, rest, ("what rounding leaves over goes to the end gaps", Round::Nearest));
        if !self.rounding_takes_clearance(stand, length, &widths) {
            return Some(widths);
        }
        Some(self.shared(stand, rest, ("rounded down: a body needs its room at the wall", Round::Down)))
    }

    /// Whether widths that were rounded up leave less at a wall than a body needs, where more was wanted.
    fn rounding_takes_clearance(&self, stand: &Stand<'_>, length: Len, widths: &[Len]) -> bool {
        let mut taken = widths.iter().chain(&stand.wanted).map(|len| len.value);
        let whole =
            stand.beside_length().try_fold(length.value, |sum, (_, lean)| sum.checked_add(lean.value));
        let over = whole.and_then(|whole| taken.try_fold(whole, |left, len| left.checked_sub(len)));
        let Some(over) = over else { return false };
        let takers = Self::takers(stand);
        let share = if takers == [true; 2] { over.checked_div(Rational::from(2)) } else { Some(over) };
        let Some(share) = share.filter(|share| share.is_negative()) else { return false };
        let least = self.marks().system().length((1, 4), (6, 1));
        let mut ends = stand.wanted.iter().zip(stand.meets).zip(takers);
        ends.any(|((wanted, meets), takes)| {
            let left = wanted.value.checked_add(share);
            takes && meets != Return::Open && wanted.value >= least && left.is_some_and(|left| left < least)
        })
    }

    /// The widths of all units, shares rounded so; those stated by the same words have one width with one reason.
    fn shared(&mut self, stand: &Stand<'_>, rest: Len, rounded: (&'static str, Round)) -> Vec<Len> {
        let mut known: Vec<(Share, Len)> = Vec::new();
        let mut widths = Vec::new();
        for unit in &stand.run.units {
            widths.push(match &unit.width {
                Width::Share(share) => match known.iter().find(|(same, _)| same == share) {
                    Some((_, width)) => *width,
                    None => {
                        let width = self.share("unit width", rest, share, rounded);
                        known.push((*share, width));
                        width
                    }
                },
                Width::Over(_) | Width::Clear(_) => self.stated_width(unit),
            });
        }
        widths
    }

    /// What one `rest` is: the length less the gaps wanted and all that is stated, divided by the shares.
    fn rest(&mut self, stand: &Stand<'_>, length: Len, shares: &[&Share]) -> Option<Len> {
        let mut terms = vec![(1, length), (-1, stand.wanted[0]), (-1, stand.wanted[1])];
        terms.extend(stand.beside_length());
        for unit in &stand.run.units {
            if !matches!(unit.width, Width::Share(_)) {
                terms.push((-1, self.stated_width(unit)));
            }
        }
        for share in shares {
            terms.extend(self.plus(share).map(|plus| (-1, plus)));
        }
        terms.retain(|(_, len)| !len.value.is_zero());
        let left =
            self.graph.ledger.sum("left over", &terms, "the run's length less gaps and what is stated");
        let count =
            shares.iter().try_fold(Rational::from(0), |sum, share| sum.checked_add(&share.linear.times))?;
        if count <= Rational::from(0) || !left.value.is_positive() {
            let members = self.members(stand, None);
            self.overfull(stand.run, length, &members);
            return None;
        }
        let rule = "equal shares of what is left over";
        Some(self.graph.ledger.divide("rest", left, count, rule))
    }

    /// Over the outer faces of the sides, for a carcass whose width is not a share.
    pub(super) fn stated_width(&mut self, carcass: &Carcass) -> Len {
        match carcass.width {
            Width::Over(width) => width,
            Width::Clear(clear) => match self.model.sheets.get(carcass.sheet.0) {
                Some(sheet) => {
                    let rule = "the sides stand outside the clear width";
                    self.graph.ledger.sum("unit width", &[(1, clear), (2, sheet.thickness)], rule)
                }
                None => clear,
            },
            Width::Share(share) => {
                self.graph.ledger.given("unit width", share.linear.plus.length().unwrap_or_default())
            }
        }
    }

    /// Shows the sum, member by member; `members` are all that takes room.
    pub(super) fn overfull(&mut self, run: &Run, length: Len, members: &[(String, Len)]) {
        let mut needed = Length::ZERO;
        let mut lines = Vec::new();
        for (name, len) in members {
            needed = needed.checked_add(len.value).unwrap_or(needed);
            lines.push(format!("{:>10}  {name}", self.print(*len)));
        }
        let over = needed.checked_sub(length.value).unwrap_or_default();
        let (sum, has) = (self.marks().print(needed).to_string(), self.print(length));
        lines.push(format!("{sum:>10}  together; the run has {has}"));
        let message = if over.is_positive() {
            let over = self.marks().print_rounded(over, Round::Up);
            format!("the run `{}` is over-full by {}", run.name, over.text())
        } else {
            format!("the run `{}` leaves nothing to share", run.name)
        };
        let mut diagnostic = Diagnostic::new(&codes::OVERFULL, message);
        diagnostic = self.blame(diagnostic, run.head, "this run", &[(length, "its length")]);
        for (name, len) in members {
            diagnostic = self.blame(diagnostic, None, "", &[(*len, name)]);
        }
        self.sink.push(
            diagnostic.note(lines.join("\n")).help(
                "make a width or a gap less, or let a unit take `rest`; a stated width is never changed",
            ),
        );
    }

    /// The gaps and the widths of a run, each with its name; shares count with what is added to them.
    pub(super) fn members(&mut self, stand: &Stand<'_>, widths: Option<&[Len]>) -> Vec<(String, Len)> {
        let [left, right] = stand.wanted;
        let mut members = vec![("gap at the left".to_owned(), left), ("gap at the right".to_owned(), right)];
        for (index, unit) in stand.run.units.iter().enumerate() {
            let name = unit
                .name
                .as_ref()
                .map_or_else(|| format!("unit [{}]", index + 1), |name| format!("unit `{name}`"));
            let width = match (widths.and_then(|widths| widths.get(index)), &unit.width) {
                (Some(width), _) => Some(*width),
                (None, Width::Share(share)) => self.plus(share),
                (None, _) => Some(self.stated_width(unit)),
            };
            members.extend(width.map(|width| (name, width)));
        }
        members.retain(|(_, len)| !len.value.is_zero());
        members
    }
}
