//! Filler strips: what closes the gap between an outer side and a wall in a run without facing.

use super::run::Stand;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{End, Len, Return};
use crate::parts::{Blank, Part, Place, Role, RunPart, Size, Stock, Unit};
use crate::quantity::{Length, Rational, Round, System};

/// The source of what a blank has over its widest place.
const SCRIBE: &str = "common practice, no source: over the widest place";

impl Lowering<'_> {
    pub(super) fn fillers(&mut self, stand: &Stand<'_>, part: &RunPart) {
        let outer = [part.units.first(), part.units.last()].map(|id| self.graph.unit(*id?).cloned());
        for (index, (end, unit)) in stand.run.ends.iter().zip(outer).enumerate() {
            if let (Some(board), Some(unit)) = (end.filler, unit)
                && self.filler_fits(stand, end, index)
            {
                self.filler(stand, part, (index, board), &unit);
            }
        }
    }

    fn filler_fits(&mut self, stand: &Stand<'_>, end: &End, index: usize) -> bool {
        let (message, help) = if stand.run.facing.is_some() {
            let message = format!("the run `{}` has a facing and a filler strip in one gap", stand.run.name);
            (message, "the stile at the wall covers the gap: delete the `filler`")
        } else if stand.meets.get(index) == Some(&Return::Open) {
            let message = format!("a filler strip stands at an open end of the run `{}`", stand.run.name);
            (message, "there is no wall to close the gap to: delete the `filler`")
        } else {
            return true;
        };
        let diagnostic =
            self.blame(Diagnostic::new(&codes::FILLER, message), end.head.or(stand.run.head), "", &[]);
        self.sink.push(diagnostic.help(help));
        false
    }

    fn filler(&mut self, stand: &Stand<'_>, run: &RunPart, (index, board): (usize, usize), unit: &Unit) {
        let Some(thickness) = self.graph.boards.get(board).and_then(|board| board.thickness) else {
            let name = self.graph.boards.get(board).map_or_else(String::new, |board| board.name.to_string());
            let message = format!("the board `{name}` of a filler strip states no thickness");
            let head = stand.run.ends.get(index).and_then(|end| end.head);
            let diagnostic = self.blame(Diagnostic::new(&codes::FILLER, message), head, "", &[]);
            self.sink.push(diagnostic.help("add its `thickness`"));
            return;
        };
        let Some(end) = run.ends.get(index) else { return };
        let metric = self.marks().system() == System::Metric;
        let inches = |n, d| Length::from_inches(Rational::new(n, d)).unwrap_or_default();
        let (spare, step) = if metric {
            (Length::from_mm(Rational::from(5)), Length::from_mm(Rational::from(5)))
        } else {
            (inches(1, 4), inches(1, 8))
        };
        let ledger = &mut self.graph.ledger;
        let mut scribed = Vec::new();
        for reading in &end.readings {
            let name = ["low", "middle", "high"].into_iter().find(|name| *name == reading.name);
            if let Some((name, front)) = name.zip(reading.front) {
                let width = ledger.sum("width", &[(1, front)], "the gap at the front there");
                scribed.push((name, width));
            }
        }
        let widths: Vec<Len> = scribed.iter().map(|(_, width)| *width).collect();
        let quarter = |times: i128| Rational::new(times, 4);
        let width = match widths.as_slice() {
            [] => ledger.sum("width", &[(1, end.gap)], "the gap"),
            [low, middle, high] => {
                let terms = [(quarter(1), *low), (quarter(2), *middle), (quarter(1), *high)];
                let rule = "the mean of a part that is scribed: (low + 2 middle + high) / 4";
                ledger.weighted("mean width", &terms, rule)
            }
            widths => {
                let count = Rational::new(1, i128::try_from(widths.len()).unwrap_or(1));
                let terms: Vec<(Rational, Len)> = widths.iter().map(|width| (count, *width)).collect();
                ledger.weighted("mean width", &terms, "the mean of the readings there are")
            }
        };
        let widest = ledger.greatest("widest place", &widths, "").unwrap_or(width);
        let spare = ledger.usual("spare for scribing", spare, SCRIBE);
        let terms = [(1, widest), (1, spare)];
        let blank =
            ledger.sum("width of the blank", &terms, "over the widest place, to be fitted in the room");
        let blank = ledger.rounded("width of the blank", blank, step, Round::Up, "up to the next step");
        let face = unit.x.unwrap_or(unit.width);
        let x = if index == 0 {
            ledger.sum("left edge", &[(1, face), (-1, width)], "in the gap")
        } else {
            ledger.sum("left edge", &[(1, face), (1, unit.width)], "in the gap")
        };
        let y = ledger.sum("rear face", &[(1, unit.depth), (-1, thickness)], "flush with the front edges");
        let z = ledger.usual("lower end", Length::ZERO, "at the ends of the sides");
        let length = ledger.sum("length", &[(1, unit.height)], "as high as the unit");
        let name = if index == 0 { "left" } else { "right" };
        self.graph.parts.push(Part {
            path: format!("{}.filler.{name}", run.path),
            unit: None,
            role: Role::Filler,
            stock: Stock::Board(board),
            size: Size { thickness, width, length },
            scribed,
            blank: Some(Blank { width: blank, length }),
            place: Place { x, y, z },
            as_built: Vec::new(),
        });
    }
}
