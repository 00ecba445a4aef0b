//! Runs: units side by side, and the shares of what is left over.

use super::around::Around;
use super::carcass::Front;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Carcass, Len, ReadingAt, Return, Run, Share, SpaceWidth, Wall, Width};
use crate::parts::{Called, EndPart, RunId, RunPart, UnitId};
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
    /// What its outer units meet: nothing where a space lies between them and the end.
    pub meets: [Return; 2],
    /// What its ends meet, spaces counted: what their gaps are reckoned by.
    pub reaches: [Return; 2],
    /// What stands at the ends of its wall.
    pub beyond: [Return; 2],
    pub wanted: [Len; 2],
    /// From each corner of the wall to the front of the run that goes through there.
    pub before: [Option<Len>; 2],
    /// How far a stile over a seam reaches over the opening of each unit.
    pub laps: Vec<Len>,
    /// How far the stiles at both sides of each unit do.
    pub side_laps: Vec<[Len; 2]>,
    /// Of each space that keeps an opening free: which that is, its left edge and its width.
    pub kept_free: Vec<Option<KeptFree>>,
    /// How far the walls beyond ends in mid-wall stand back from plumb where places count from, as far as that is read.
    pub corner_leans: [Option<Len>; 2],
}

/// An opening of the wall, and what is kept free for it: the left edge, the width.
#[derive(Clone, Copy)]
pub(super) struct KeptFree {
    pub opening: usize,
    pub left: Len,
    pub width: Len,
}

/// A member of a run, by its position among those of its kind.
#[derive(Clone, Copy)]
pub(super) enum Piece {
    Unit(usize),
    Space(usize),
}

/// The members of a run from left to right, with what is known of where they stand.
pub(super) struct SetOut {
    pub pieces: Vec<(Piece, Len)>,
    /// The left edges of those that do not stand after the one before.
    pub starts: Vec<Option<Len>>,
    pub gaps: Option<[Len; 2]>,
}

/// Members that are set out by themselves, between the ends of the run and the spaces that have their place.
pub(super) struct Stretch {
    pub pieces: Vec<Piece>,
    /// What it has for them, less what is wanted at its ends.
    pub room: Vec<(i128, Len)>,
    /// The whole of it.
    pub length: Len,
    pub wanted: Vec<(String, Len)>,
    /// What messages call it.
    pub what: String,
}

/// The members of a run from left to right.
pub(super) fn pieces(run: &Run) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for at in 0..=run.units.len() {
        let here = run.spaces.iter().enumerate().filter(|(_, space)| space.after == at);
        pieces.extend(here.map(|(space, _)| Piece::Space(space)));
        pieces.extend((at < run.units.len()).then_some(Piece::Unit(at)));
    }
    pieces
}

impl Stand<'_> {
    /// Whether an end stands in mid-wall, before the corner with another wall.
    pub fn is_mid_wall(&self, end: usize) -> bool {
        self.reaches.get(end) == Some(&Return::Open)
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
        let Some(set_out) = self.set_out(&stand) else { return };
        let widths = set_out.pieces.iter().filter(|(piece, _)| matches!(piece, Piece::Unit(_)));
        let terms: Vec<(i128, Len)> = widths.map(|(_, width)| (1, *width)).collect();
        let rule = "units stand without a gap between them";
        let total_width = self.graph.ledger.sum("width of all units", &terms, rule);
        let gaps = set_out.gaps;
        let mut ends: Vec<EndPart> =
            gaps.zip(stand.length).map(|(gaps, length)| self.ends(&stand, gaps, length)).unwrap_or_default();
        // Places along a wall count at the back, at middle height.
        let corner = match ends.first() {
            Some(left) => left.corner,
            None if stand.is_mid_wall(0) => stand.wanted[0],
            None => self.graph.ledger.usual("left end of the run", Length::ZERO, "places count from it"),
        };
        self.outer_spaces(&set_out, &mut ends);
        let (mut left, mut spaces) = (vec![(1, corner)], Vec::new());
        left.extend(stand.before[0].map(|before| (1, before)));
        let mut faces = Vec::new();
        for (place, ((piece, width), start)) in set_out.pieces.iter().zip(&set_out.starts).enumerate() {
            let rule = "after the gap, or after the unit left of it";
            let x = match (start, piece) {
                (Some(start), _) => *start,
                (None, Piece::Unit(_)) => self.graph.ledger.sum("left face of the unit", &left, rule),
                (None, Piece::Space(_)) => self.graph.ledger.sum("left edge of the space", &left, rule),
            };
            left = vec![(1, x), (1, *width)];
            match piece {
                Piece::Unit(unit) => faces.push((place, *unit, *width, x)),
                Piece::Space(space) => spaces.extend(self.space_part(&stand, *space, (x, *width))),
            }
        }
        let gaps = gaps.map(|gaps| self.to_outer_units(&ends, gaps));
        let first = self.graph.units.len();
        let reach = faces.first().zip(faces.last()).map(|((.., left), (.., width, x))| (*left, [*x, *width]));
        let around =
            reach.map_or_else(Around::default, |(left, [x, width])| self.around(&stand, left, [x, width]));
        let covered = self.covered(&stand, &set_out);
        for (place, index, width, x) in faces {
            let Some(unit) = run.units.get(index) else { continue };
            let unit = &*self.under_counter(&stand, (place, covered), unit);
            let name: Arc<str> = match &unit.name {
                Some(name) => name.clone(),
                None => format!("unit[{}]", index + 1).into(),
            };
            let called = Called { path: format!("{}.{name}", run.name), name, former: None };
            let laps = stand.laps.get(index).zip(stand.side_laps.get(index));
            let crowned = run.crown.is_some();
            let front = run.facing.as_ref().zip(laps);
            let front = front.map(|(facing, (lap, laps))| Front { facing, lap: *lap, laps: *laps, crowned });
            self.carcass(unit, (called, Some(stand.id)), width, (Some(x), &around), front);
        }
        let units = (first..self.graph.units.len()).map(UnitId::at);
        let mut part = RunPart {
            path: run.name.to_string(),
            note: run.note.clone(),
            gaps,
            total_width,
            ends,
            units: units.collect(),
            hung: Vec::new(),
            spaces,
            wall: run.wall,
            floor_at_faces: Vec::new(),
            crown: None,
            end_stiles: [None; 2],
            frame: None,
        };
        // Where a unit cannot be, what stands before them all cannot be either.
        if part.units.len() == run.units.len() && !part.units.is_empty() {
            self.floor_at_faces(&stand, &mut part);
            self.hang(&stand, &mut part, (&set_out, &around));
            self.facing(&stand, &mut part);
            self.fillers(&stand, &part);
            self.crown(&stand, &mut part);
            self.ceiling_panel(&stand, &part);
            self.run_counter(&stand, &part, (&set_out, covered));
            self.run_rows(&stand, &part, &around);
            self.say_cut_away(&around);
            self.frame(&stand, &mut part);
            self.close_openings(run.facing.as_ref());
        }
        self.closings.clear();
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
        let before = [0, 1].map(|end| self.before(run, end, wall));
        // The front of another run is plumb.
        let mut beyond = wall.map_or(said, |wall| wall.returns);
        for (beyond, _) in beyond.iter_mut().zip(before).filter(|(_, before)| before.is_some()) {
            *beyond = Return::Plumb;
        }
        // Along a wall, an end that is open stands in mid-wall.
        let at_end = |end: usize| {
            let open = run.ends.get(end).is_some_and(|end| end.against == Some(Return::Open));
            if open { Return::Open } else { beyond.get(end).copied().unwrap_or(Return::Wall) }
        };
        let reaches = [at_end(0), at_end(1)];
        let outer = |end: usize| {
            let place = if end == 0 { 0 } else { run.units.len() };
            run.spaces.iter().any(|space| space.after == place)
        };
        let meets = [0, 1].map(|end| if outer(end) { Return::Open } else { at_end(end) });
        self.ends_agree(run, reaches, wall);
        let kept_free: Vec<_> = run.spaces.iter().map(|space| self.kept_free(run, space, wall)).collect();
        // Where no wall that may lean is met, places along the wall count: at the back, half way up.
        let mid_wall = (0..2)
            .any(|end| reaches.get(end) == Some(&Return::Open) && beyond.get(end) != Some(&Return::Open));
        let middle =
            wall.and_then(|wall| wall.readings.iter().find(|reading| reading.at == ReadingAt::Middle));
        let along =
            middle.and_then(|middle| middle.back).filter(|_| mid_wall && !reaches.contains(&Return::Wall));
        let least = |lowering: &mut Self| wall.and_then(|wall| lowering.least_reading(wall));
        let length = run.length.or(along).or_else(|| least(self));
        let length = length.map(|length| self.less_before(length, before));
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
            let open = reaches.get(end) == Some(&Return::Open) && beyond.get(end) == Some(&Return::Wall);
            middle?.lean.get(end).copied().flatten().filter(|_| open && along.is_none())
        };
        let corner_leans = [corner_lean(0), corner_lean(1)];
        let id = RunId::at(self.graph.runs.len());
        Stand {
            id,
            run,
            wall,
            length,
            meets,
            reaches,
            beyond,
            wanted,
            before,
            laps,
            side_laps,
            kept_free,
            corner_leans,
        }
    }

    /// How wide everything in a run is, and where it stands; `None` where shares cannot be worked out, or all is too much.
    fn set_out(&mut self, stand: &Stand<'_>) -> Option<SetOut> {
        if stand.kept_free.iter().any(Option::is_some) {
            return self.set_out_beside_openings(stand);
        }
        let pieces = pieces(stand.run);
        let widths = self.widths(stand, &pieces)?;
        let terms: Vec<(i128, Len)> = widths.iter().map(|width| (1, *width)).collect();
        let gaps = match stand.length {
            Some(length) => Some(self.gaps(stand, length, &terms, &widths)?),
            None => None,
        };
        let starts = vec![None; pieces.len()];
        Some(SetOut { pieces: pieces.into_iter().zip(widths).collect(), starts, gaps })
    }

    /// The width of each member; `None` where shares cannot be worked out.
    fn widths(&mut self, stand: &Stand<'_>, pieces: &[Piece]) -> Option<Vec<Len>> {
        let run = stand.run;
        let shares = self.shares(stand, pieces);
        if shares.is_empty() {
            return Some(pieces.iter().filter_map(|piece| self.fixed_width(stand, *piece)).collect());
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
        if self.gap_is_missing(stand, &shares) {
            return None;
        }
        let [left, right] = stand.wanted;
        let mut room = vec![(1, length), (-1, left), (-1, right)];
        room.extend(stand.beside_length());
        let wanted = vec![("gap at the left".to_owned(), left), ("gap at the right".to_owned(), right)];
        let what = format!("the run `{}`", run.name);
        let stretch = Stretch { pieces: pieces.to_vec(), room, length, wanted, what };
        let rest = self.rest(stand, &stretch)?;
        let to_gaps = ("what rounding leaves over goes to the end gaps", Round::Nearest);
        let widths = self.shared(stand, pieces, rest, to_gaps);
        if !self.rounding_takes_clearance(stand, length, &widths) {
            return Some(widths);
        }
        let down = ("rounded down: a body needs its room at the wall", Round::Down);
        Some(self.shared(stand, pieces, rest, down))
    }

    /// Whether shares wait for the gap of an end in mid-wall that nobody states; says so.
    pub(super) fn gap_is_missing(&mut self, stand: &Stand<'_>, shares: &[Share]) -> bool {
        let run = stand.run;
        let unknown = (0..2)
            .find(|end| stand.is_mid_wall(*end) && run.ends.get(*end).is_some_and(|end| end.gap.is_none()));
        let Some(end) = unknown else { return false };
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
        let help = "state its `gap`, from the corner to the run, or the widths of all units";
        self.sink.push(diagnostic.help(help));
        true
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
        let mut ends = stand.wanted.iter().zip(stand.reaches).zip(takers);
        ends.any(|((wanted, meets), takes)| {
            let left = wanted.value.checked_add(share);
            takes && meets != Return::Open && wanted.value >= least && left.is_some_and(|left| left < least)
        })
    }

    /// The share of a member that has one.
    fn share_of(stand: &Stand<'_>, piece: Piece) -> Option<Share> {
        match piece {
            Piece::Unit(unit) => match &stand.run.units.get(unit)?.width {
                Width::Share(share) => Some(*share),
                Width::Over(_) | Width::Clear(_) | Width::AsUnder => None,
            },
            Piece::Space(space) => match &stand.run.spaces.get(space)?.width {
                SpaceWidth::Share(share) => Some(*share),
                SpaceWidth::Fixed(_) | SpaceWidth::Over(..) => None,
            },
        }
    }

    /// The shares of members, in their order.
    pub(super) fn shares(&self, stand: &Stand<'_>, pieces: &[Piece]) -> Vec<Share> {
        pieces.iter().filter_map(|piece| Self::share_of(stand, *piece)).collect()
    }

    /// The width of a member that is no share.
    pub(super) fn fixed_width(&mut self, stand: &Stand<'_>, piece: Piece) -> Option<Len> {
        match piece {
            Piece::Unit(unit) => stand.run.units.get(unit).map(|unit| self.stated_width(unit)),
            Piece::Space(space) => match stand.run.spaces.get(space)?.width {
                SpaceWidth::Fixed(width) => Some(width),
                SpaceWidth::Share(_) => None,
                SpaceWidth::Over(..) => {
                    stand.kept_free.get(space).copied().flatten().map(|kept_free| kept_free.width)
                }
            },
        }
    }

    /// The widths of members, shares rounded so; those stated by the same words have one width with one reason.
    pub(super) fn shared(
        &mut self,
        stand: &Stand<'_>,
        pieces: &[Piece],
        rest: Len,
        rounded: (&'static str, Round),
    ) -> Vec<Len> {
        let mut known: Vec<(Share, Len)> = Vec::new();
        let mut widths = Vec::new();
        for piece in pieces {
            let Some(share) = Self::share_of(stand, *piece) else {
                widths.extend(self.fixed_width(stand, *piece));
                continue;
            };
            widths.push(match known.iter().find(|(same, _)| *same == share) {
                Some((_, width)) => *width,
                None => {
                    let label =
                        if matches!(piece, Piece::Unit(_)) { "unit width" } else { "width of the space" };
                    let width = self.share(label, rest, &share, rounded);
                    known.push((share, width));
                    width
                }
            });
        }
        widths
    }

    /// What one `rest` is: the length less the gaps wanted and all that is stated, divided by the shares.
    pub(super) fn rest(&mut self, stand: &Stand<'_>, stretch: &Stretch) -> Option<Len> {
        let mut terms = stretch.room.clone();
        for piece in &stretch.pieces {
            terms.extend(self.fixed_width(stand, *piece).map(|width| (-1, width)));
        }
        let shares = self.shares(stand, &stretch.pieces);
        for share in &shares {
            terms.extend(self.plus(share).map(|plus| (-1, plus)));
        }
        terms.retain(|(_, len)| !len.value.is_zero());
        let left =
            self.graph.ledger.sum("left over", &terms, "the run's length less gaps and what is stated");
        let count =
            shares.iter().try_fold(Rational::from(0), |sum, share| sum.checked_add(&share.linear.times))?;
        if count <= Rational::from(0) || !left.value.is_positive() {
            let members = self.members(stand, stretch, None);
            self.overfull(stand.run, &stretch.what, stretch.length, &members);
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
            Width::AsUnder => self.graph.ledger.given("unit width", Length::ZERO),
        }
    }

    /// Shows the sum, member by member; `members` are all that takes room of `what`.
    pub(super) fn overfull(&mut self, run: &Run, what: &str, length: Len, members: &[(String, Len)]) {
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
            format!("{what} is over-full by {}", over.text())
        } else {
            format!("{what} leaves nothing to share")
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

    /// The gaps and the widths of a stretch, each with its name; shares count with what is added to them.
    pub(super) fn members(
        &mut self,
        stand: &Stand<'_>,
        stretch: &Stretch,
        widths: Option<&[Len]>,
    ) -> Vec<(String, Len)> {
        let mut members = stretch.wanted.clone();
        for (index, piece) in stretch.pieces.iter().enumerate() {
            let name = match piece {
                Piece::Unit(unit) => {
                    let name = stand.run.units.get(*unit).and_then(|unit| unit.name.as_ref());
                    name.map_or_else(|| format!("unit [{}]", unit + 1), |name| format!("unit `{name}`"))
                }
                Piece::Space(space) => {
                    let name = stand.run.spaces.get(*space).map_or("", |space| &*space.name);
                    format!("space `{name}`")
                }
            };
            let width = match (widths.and_then(|widths| widths.get(index)), Self::share_of(stand, *piece)) {
                (Some(width), _) => Some(*width),
                (None, Some(share)) => self.plus(&share),
                (None, None) => self.fixed_width(stand, *piece),
            };
            members.extend(width.map(|width| (name, width)));
        }
        members.retain(|(_, len)| !len.value.is_zero());
        members
    }
}
