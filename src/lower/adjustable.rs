//! Loose shelves on pins: a grid of holes from the bottom end of the unit, and the shelves that lie on it.

use super::carcass::Between;
use super::opening::{Above, Floor};
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Adjustable, Len};
use crate::parts::{Bore, Called, Member, OpeningId, Part, Place, Role, Row, RowKind, Size, Spacing, Stock};
use crate::quantity::{Length, Rational, Round};
use num_traits::ToPrimitive;

impl Lowering<'_> {
    pub(super) fn adjustable(
        &mut self,
        between: &Between<'_>,
        floor: Floor<'_>,
        above: Above<'_>,
        (opening, adjustable): (OpeningId, &Adjustable),
    ) {
        let path = self.graph.opening(opening).map_or_else(String::new, |opening| opening.path.clone());
        if !self.has_room(2 * adjustable.count) {
            return;
        }
        let (margin, pitch) = (adjustable.margin, adjustable.pitch);
        let ledger = &mut self.graph.ledger;
        let top = ledger.sum("top of the shelf", &[(1, floor.mark.height), (1, between.thickness)], "");
        let low = ledger.sum("lowest place for a hole", &[(1, top), (1, margin)], "over the shelf below");
        // The topmost shelf lies clear of what is above it, and of the cleat that hangs there.
        let under = [margin, between.thickness];
        let under = ledger.greatest("room under what is above", &under, "").unwrap_or(margin);
        let mut terms = vec![(1, above.height), (-1, under)];
        terms.extend(above.cleat.map(|cleat| (-1, cleat)));
        let high = ledger.sum("highest place for a hole", &terms, "under what is above");
        let from = low.value.ratio(pitch.value).map(|ratio| ratio.ceil().to_integer());
        let to = high.value.ratio(pitch.value).map(|ratio| ratio.floor().to_integer());
        let (Some(from), Some(to)) = (from, to) else { return };
        let holes = to.saturating_sub(from).saturating_add(1).max(0);
        // Two shelves stand at least so many holes apart that the lower edge of one clears the top of the other.
        let strip = adjustable.strip.map_or(Length::ZERO, |strip| strip.value);
        let apart = strip.max(between.thickness.value).ratio(pitch.value);
        let Some(apart) = apart.map(|apart| apart.ceil().to_integer().max(1)) else { return };
        let spaces = i128::try_from(adjustable.count.saturating_sub(1)).unwrap_or(i128::MAX);
        let needed = spaces.saturating_mul(apart).saturating_add(1);
        if holes < needed {
            let stand = if holes.to_usize().is_some_and(|holes| holes >= adjustable.count) {
                format!("stand inside each other: they have {holes} holes on the grid, and take {needed}")
            } else {
                format!("have only {holes} holes on the grid")
            };
            let message = format!("{} loose shelves over `{path}` {stand}", adjustable.count);
            let help = format!(
                "between {} and {} lie {holes} multiples of {}: ask for fewer shelves, or state a smaller `margin` or `pitch`",
                self.marks().print_rounded(low.value, Round::Up),
                self.marks().print_rounded(high.value, Round::Down),
                self.print(pitch),
            );
            let diagnostic = Diagnostic::new(&codes::HOLES, message);
            let diagnostic =
                self.blame(diagnostic, Some(adjustable.head), "these shelves", &[(pitch, "the pitch")]);
            self.sink.push(diagnostic.help(help));
            return;
        }
        let rule = "so many pitches from the bottom end of the unit, on both sides";
        let hole =
            |lowering: &mut Self, number: i128| lowering.graph.ledger.sum("hole", &[(number, pitch)], rule);
        let ends = [hole(self, from), hole(self, to)];
        let pin = adjustable.pin.and_then(|pin| self.graph.fasteners.get(pin));
        let bore = Bore {
            opening,
            unit: between.unit,
            hosts: between.sides.map(|upright| upright.part),
            pitch,
            numbers: [from, to],
            ends,
            rows: adjustable.rows,
            depth: adjustable.hole_depth,
            wide: pin.and_then(|pin| pin.diameter),
        };
        self.graph.bores.push(bore);
        let clear_height = high.value.checked_sub(low.value).unwrap_or_default();
        let room = ends[1];
        let mut least = from;
        for number in 1..=adjustable.count {
            let grid = (low.value, pitch.value, [least, to], apart);
            let at = spread(number, adjustable.count, clear_height, grid);
            least = at.saturating_add(apart);
            let z = hole(self, at);
            self.loose(between, (&path, opening), number, [z, room], adjustable);
        }
    }

    fn loose(
        &mut self,
        between: &Between<'_>,
        (path, opening): (&str, OpeningId),
        number: usize,
        [z, highest]: [Len; 2],
        adjustable: &Adjustable,
    ) {
        let strip = adjustable.strip.zip(between.facing);
        if let (Some(stated), None) = (adjustable.strip, strip) {
            if number == 1 {
                let message =
                    format!("the loose shelves over `{path}` have a strip, and no board to cut it from");
                let diagnostic = Diagnostic::new(&codes::NO_BOARD, message);
                let diagnostic =
                    self.blame(diagnostic, Some(adjustable.head), "here", &[(stated, "the strip")]);
                self.sink.push(
                    diagnostic.help(
                        "it is cut from the board of the run's `facing`: add one, or leave the strip out",
                    ),
                );
            }
            return;
        }
        // It fits on any hole: its depth is that of the highest one.
        let [rear, deep] = self.deep_at(between, highest);
        if !deep.value.is_positive() {
            if number == 1 {
                self.cut_off(between, path, highest);
            }
            return;
        }
        let ledger = &mut self.graph.ledger;
        let rule = "a loose shelf slides in between the sides";
        let length = ledger.sum("length", &[(1, between.clear), (-1, adjustable.play)], rule);
        let mut terms = vec![(1, deep), (-1, adjustable.set_back)];
        terms.extend(strip.map(|(_, facing)| (-1, facing.thickness)));
        let width = ledger.sum("width", &terms, "a little behind the front edge, with its strip");
        let half = ledger.divide("half the play", adjustable.play, Rational::from(2), "");
        let x = ledger.sum("left end", &[(1, between.inside), (1, half)], "as much play at either end");
        let size = Size { thickness: between.thickness, width, length };
        let (called, place) = (Called::counted(path, "loose", number), Place { x, y: rear, z });
        let Some(shelf) = self.part(between, called, Role::Loose, size, place) else { return };
        if let Some(opening) = self.graph.openings.get_mut(opening.0 as usize) {
            opening.loose.push(shelf);
        }
        for upright in between.sides {
            self.graph.rows.push(Row {
                kind: RowKind::Pins,
                guest: Member::Part(shelf),
                host: Member::Part(upright.part),
                length: width,
                fastener: adjustable.pin,
                glued: false,
                spacing: Spacing::Corners,
                count: 2,
            });
        }
        if let Some((height, facing)) = strip {
            let terms = [(1, z), (1, between.thickness), (-1, height)];
            let ledger = &mut self.graph.ledger;
            let lower = ledger.sum("lower edge", &terms, "its top is flush with the shelf's");
            let y = ledger.sum("rear face", &[(1, rear), (1, width)], "before the shelf");
            let called = Called::alone(&format!("{path}.loose[{number}]"), "strip");
            let size = Size { thickness: facing.thickness, width: height, length };
            let (stock, place) = (Stock::Board(facing.board), Place { x, y, z: lower });
            let strip = Part::new(called, between.owner(), Role::LooseStrip, stock, size, place);
            self.add(Part { backing: vec![shelf], ..strip });
        }
    }
}

/// The hole on which a shelf lies, no lower than the first of these, so that all are spread evenly and those over it stand at least so
/// many holes apart.
fn spread(
    number: usize,
    count: usize,
    room: Length,
    (low, pitch, [from, to], apart): (Length, Length, [i128; 2], i128),
) -> i128 {
    let (number, count) = (i128::try_from(number).unwrap_or(1), i128::try_from(count).unwrap_or(1));
    let share = room.checked_mul(Rational::new(number, count + 1)).and_then(|share| share.checked_add(low));
    let nearest =
        share.and_then(|share| share.ratio(pitch)).map(|ratio| ratio.round().to_integer()).unwrap_or(from);
    let above = count.saturating_sub(number).saturating_mul(apart);
    nearest.max(from).min(to.saturating_sub(above))
}
