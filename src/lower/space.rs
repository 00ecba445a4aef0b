//! Spaces: room that a run leaves between its units, by its width, by what stands in it, or by the opening that it keeps free.

use super::run::{KeptFree, Piece, SetOut, Stand, Stretch, pieces};
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Decided, InWall, Len, ReadingAt, Return, Run, Space, SpaceWidth, Wall};
use crate::parts::{EndPart, SpacePart};
use crate::quantity::{Length, Rational, Round};
use crate::source::Span;

impl Lowering<'_> {
    /// The opening that a space keeps free, with its casing; `None` where it keeps none, or after a message.
    pub(super) fn kept_free(&mut self, run: &Run, space: &Space, wall: Option<&Wall>) -> Option<KeptFree> {
        let SpaceWidth::Over(head, said) = space.width else { return None };
        let named = |wall: &Wall| {
            let here = wall.openings.iter().enumerate();
            here.filter(|(_, opening)| opening.wall == InWall::This)
                .find(|(_, opening)| opening.head == head)
                .map(|(place, opening)| (place, opening.clone()))
        };
        let Some((place, opening)) = wall.and_then(named) else {
            self.other_wall(run, (space, said, head), wall);
            return None;
        };
        // Casing that is cut back where the work stands keeps nothing free.
        let casing = opening.casing.filter(|_| opening.decided == Decided::Keep);
        let [left, right] = opening.along;
        let ledger = &mut self.graph.ledger;
        let mut terms = vec![(1, left)];
        terms.extend(casing.map(|casing| (-1, casing)));
        let edge = ledger.sum("left edge of the space", &terms, "where the casing of the opening begins");
        let mut terms = vec![(1, right), (-1, left)];
        terms.extend(casing.map(|casing| (2, casing)));
        let width = ledger.sum("width of the space", &terms, "the opening and its casings");
        Some(KeptFree { opening: place, left: edge, width })
    }

    fn other_wall(&mut self, run: &Run, (space, said, head): (&Space, Span, Span), wall: Option<&Wall>) {
        let (message, help) = match wall {
            Some(wall) => (
                format!("`{}` keeps an opening free that is not in `{}`", space.name, wall.name),
                format!("name one of `{}`, or state the `width` of the space", wall.name),
            ),
            None => (
                format!("`{}` keeps an opening free, and `{}` stands along no wall", space.name, run.name),
                "put the run `along` the wall of the opening, or state the `width` of the space".to_owned(),
            ),
        };
        let told = Diagnostic::new(&codes::SPACE, message).at(said, "").and_at(head, "this opening");
        self.sink.push(told.help(help));
    }

    /// A space as it stands.
    pub(super) fn space_part(
        &self,
        stand: &Stand<'_>,
        space: usize,
        (x, width): (Len, Len),
    ) -> Option<SpacePart> {
        let stated = stand.run.spaces.get(space)?;
        Some(SpacePart {
            path: format!("{}.{}", stand.run.name, stated.name),
            name: stated.name.clone(),
            after: stated.after,
            x,
            width,
            over: stand.kept_free.get(space).copied().flatten().map(|kept_free| kept_free.opening),
        })
    }

    /// The ends of a run count to its outer units: spaces before those are part of their gaps.
    pub(super) fn outer_spaces(&mut self, set_out: &SetOut, ends: &mut [EndPart]) {
        let is_space = |(piece, _): &&(Piece, Len)| matches!(piece, Piece::Space(_));
        let before: Vec<Len> = set_out.pieces.iter().take_while(is_space).map(|(_, width)| *width).collect();
        let after = set_out.pieces.iter().rev().take_while(is_space);
        let after: Vec<Len> = after.map(|(_, width)| *width).collect();
        for (end, spaces) in ends.iter_mut().zip([before, after]).filter(|(_, spaces)| !spaces.is_empty()) {
            let rule = "the gap, and the space before the unit";
            let mut with = |len: Len| {
                let terms: Vec<(i128, Len)> = [len].iter().chain(&spaces).map(|len| (1, *len)).collect();
                self.graph.ledger.sum("from the end to the unit", &terms, rule)
            };
            end.meets = Return::Open;
            (end.gap, end.corner) = (with(end.gap), with(end.corner));
            for reading in &mut end.readings {
                (reading.front, reading.back) = (reading.front.map(&mut with), reading.back.map(&mut with));
            }
        }
    }

    /// The gaps of a run to its outer units.
    pub(super) fn to_outer_units(&self, ends: &[EndPart], gaps: [Len; 2]) -> [Len; 2] {
        let [left, right] = gaps;
        let of = |end: usize, gap: Len| ends.get(end).map_or(gap, |end| end.gap);
        [of(0, left), of(1, right)]
    }

    /// Sets a run out whose spaces keep openings of its wall free: those have their places, and what stands between them and the
    /// ends is shared out by itself.
    pub(super) fn set_out_beside_openings(&mut self, stand: &Stand<'_>) -> Option<SetOut> {
        let Some(length) = stand.length else {
            let message = format!(
                "no width of the wall of `{}` is read, in which it keeps an opening free",
                stand.run.name
            );
            let told =
                self.blame(Diagnostic::new(&codes::NO_LENGTH, message), stand.run.head, "this run", &[]);
            self.sink.push(told.help("add a `reading` of the wall, low, middle and high"));
            return None;
        };
        let zero = self.graph.ledger.usual("end of the wall", Length::ZERO, "the gap counts from it");
        let middle = stand.wall?.readings.iter().find(|reading| reading.at == ReadingAt::Middle);
        let end = match middle.and_then(|middle| middle.back) {
            Some(back) => self.less_before(back, [None, stand.before[1]]),
            None => {
                let terms: Vec<(i128, Len)> =
                    [length].into_iter().chain(stand.before[0]).map(|len| (1, len)).collect();
                self.graph.ledger.sum("end of the wall", &terms, "from its left corner")
            }
        };
        // How far each wall stands back where places count from, from where it is tightest.
        let mut back = |at: usize| {
            let (middle, width) = middle.and_then(|middle| Some((middle, middle.back?)))?;
            Some(self.gap_at(stand, (at, zero), middle, width, length, "corner from the tightest place"))
        };
        let backs = [back(0), back(1)];
        let (mut stretches, mut own) = (Vec::new(), Vec::new());
        let mut from: Option<KeptFree> = None;
        let name = |space: usize| stand.run.spaces.get(space).map_or("", |space| &*space.name);
        let mut left_of: Option<usize> = None;
        for piece in pieces(stand.run) {
            let kept_free = match piece {
                Piece::Space(space) => {
                    stand.kept_free.get(space).copied().flatten().map(|kept| (space, kept))
                }
                Piece::Unit(_) => None,
            };
            let Some((space, kept_free)) = kept_free else {
                own.push(piece);
                continue;
            };
            let what = match left_of {
                None => format!("`{}` left of `{}`", stand.run.name, name(space)),
                Some(other) => {
                    format!("`{}` between `{}` and `{}`", stand.run.name, name(other), name(space))
                }
            };
            let to = vec![(1, kept_free.left)];
            stretches.push((std::mem::take(&mut own), from, to, what, Some((piece, kept_free))));
            (from, left_of) = (Some(kept_free), Some(space));
        }
        let what = format!("`{}` right of `{}`", stand.run.name, left_of.map_or("", name));
        stretches.push((own, from, vec![(1, end)], what, None));
        let count = stretches.len();
        let mut all = SetOut { pieces: Vec::new(), starts: Vec::new(), gaps: None };
        let mut gaps = stand.wanted;
        for (place, (pieces, from, to, what, after)) in stretches.into_iter().enumerate() {
            let mut terms = to;
            terms.extend(from.into_iter().flat_map(|kept| [(-1, kept.left), (-1, kept.width)]));
            let ends = [(place == 0, 0_usize), (place + 1 == count, 1)];
            let ends: Vec<usize> = ends.into_iter().filter(|(is, _)| *is).map(|(_, end)| end).collect();
            terms.extend(stand.before[0].filter(|_| place == 0).map(|before| (-1, before)));
            let leans = ends.iter().filter_map(|end| backs.get(*end).copied().flatten());
            terms.extend(leans.map(|lean| (-1, lean)));
            let length = self.graph.ledger.sum(
                "length of the stretch",
                &terms,
                "between an opening and what is next to it",
            );
            let hands = ["gap at the left", "gap at the right"];
            let wanted = ends
                .iter()
                .filter_map(|end| Some(((*hands.get(*end)?).to_owned(), stand.wanted.get(*end).copied()?)));
            let wanted: Vec<(String, Len)> = wanted.collect();
            let mut room = vec![(1, length)];
            room.extend(wanted.iter().map(|(_, gap)| (-1, *gap)));
            let stretch = Stretch { pieces, room, length, wanted, what };
            let (widths, over) = self.fill_stretch(stand, &stretch)?;
            let over = match ends.first() {
                // What is left over goes to the end of the wall.
                Some(end) => {
                    if let Some(gap) = gaps.get_mut(*end) {
                        let rule = "what the opening and the units leave there";
                        *gap = self.graph.ledger.sum("gap at the end", &[(1, *gap), (1, over)], rule);
                    }
                    None
                }
                None => {
                    let rule = "what is left over is halved between the two openings";
                    Some(self.graph.ledger.divide("half of it", over, Rational::from(2), rule))
                }
            };
            for (at, (piece, width)) in stretch.pieces.into_iter().zip(widths).enumerate() {
                let start = from.filter(|_| at == 0).map(|kept| {
                    let mut terms = vec![(1, kept.left), (1, kept.width)];
                    terms.extend(over.map(|over| (1, over)));
                    self.graph.ledger.sum("left face of the unit", &terms, "after the space left of it")
                });
                all.starts.push(start);
                all.pieces.push((piece, width));
            }
            if let Some((piece, kept_free)) = after {
                all.starts.push(Some(kept_free.left));
                all.pieces.push((piece, kept_free.width));
            }
        }
        all.gaps = Some(gaps);
        Some(all)
    }

    /// The widths of a stretch, and what they leave over; `None` where they are too much, after a message.
    fn fill_stretch(&mut self, stand: &Stand<'_>, stretch: &Stretch) -> Option<(Vec<Len>, Len)> {
        let shares = self.shares(stand, &stretch.pieces);
        let widths = if shares.is_empty() {
            stretch.pieces.iter().filter_map(|piece| self.fixed_width(stand, *piece)).collect()
        } else {
            let rest = self.rest(stand, stretch)?;
            // What is over stays beside the units: a share that is rounded up would take the casing.
            let down = ("rounded down: what is left over stays at the end of the stretch", Round::Down);
            self.shared(stand, &stretch.pieces, rest, down)
        };
        let mut terms = stretch.room.clone();
        terms.extend(widths.iter().map(|width| (-1, *width)));
        let over = self.graph.ledger.sum("left over", &terms, "the stretch less units and the gap wanted");
        let taken = stretch.wanted.iter().map(|(_, gap)| gap.value);
        let all = taken.fold(over.value, |sum, gap| sum.checked_add(gap).unwrap_or(sum));
        if all.is_negative() {
            let members = self.members(stand, stretch, Some(&widths));
            self.overfull(stand.run, &stretch.what, stretch.length, &members);
            return None;
        }
        Some((widths, over))
    }
}
