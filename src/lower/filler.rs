//! Filler strips: what closes the gap between an outer side and a wall in a run without facing.

use super::run::Stand;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{End, Filler, Return};
use crate::parts::{Blank, Called, Hand, Owner, Part, Place, Role, RunPart, Size, Stock, Unit, UnitId};
use crate::quantity::Length;

impl Lowering<'_> {
    pub(super) fn fillers(&mut self, stand: &Stand<'_>, part: &RunPart) {
        let outer = [part.units.first(), part.units.last()];
        for (index, (end, id)) in stand.run.ends.iter().zip(outer).enumerate() {
            let unit = id.and_then(|id| Some((*id, self.graph.unit(*id)?.clone())));
            if let (Some(filler), Some((id, unit))) = (end.filler, unit)
                && self.filler_fits(stand, end, index)
            {
                self.filler(stand, part, (index, filler), (id, &unit));
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

    fn filler(
        &mut self,
        stand: &Stand<'_>,
        run: &RunPart,
        (index, filler): (usize, Filler),
        (id, unit): (UnitId, &Unit),
    ) {
        let board = filler.board;
        let Some(thickness) = self.graph.boards.get(board).and_then(|board| board.thickness) else {
            let name = self.graph.boards.get(board).map_or_else(String::new, |board| board.name.to_string());
            let message = format!("the board `{name}` of a filler strip states no thickness");
            let head = stand.run.ends.get(index).and_then(|end| end.head);
            let diagnostic = self.blame(Diagnostic::new(&codes::FILLER, message), head, "", &[]);
            self.sink.push(diagnostic.help("add its `thickness`"));
            return;
        };
        let Some(end) = run.ends.get(index) else { return };
        let scribed = self.scribed(end, None, ("width", "the gap at the front there"));
        let (width, blank) = match self.widest_blank(&scribed, filler.scribe) {
            Some(blank) => (self.mean("mean width", &scribed), blank),
            None => {
                let width = self.graph.ledger.sum("width", &[(1, end.gap)], "the gap");
                (width, self.blank("width of the blank", &[(1, width)], filler.scribe))
            }
        };
        let ledger = &mut self.graph.ledger;
        let face = unit.x.unwrap_or(unit.width);
        let x = if index == 0 {
            ledger.sum("left edge", &[(1, face), (-1, width)], "in the gap")
        } else {
            ledger.sum("left edge", &[(1, face), (1, unit.width)], "in the gap")
        };
        let y = ledger.sum("rear face", &[(1, unit.depth), (-1, thickness)], "flush with the front edges");
        let floor = ledger.usual("lower end", Length::ZERO, "at the ends of the sides");
        let top = self.top_of(unit);
        let (z, length) = match unit.toe {
            Some([foot, _]) => {
                let rule = "from over the toe space to the top of the unit";
                (foot, self.graph.ledger.sum("length", &[(1, top), (-1, foot)], rule))
            }
            None => (floor, self.graph.ledger.sum("length", &[(1, top)], "as high as the unit")),
        };
        let hand = if index == 0 { Hand::Left } else { Hand::Right };
        let called = Called::new(&run.path, "filler", hand.word());
        let owner = Owner { unit: None, run: Some(stand.id) };
        let (size, place) = (Size { thickness, width, length }, Place { x, y, z });
        let part = Part::new(called, owner, Role::Filler, Stock::Board(board), size, place);
        let (blank, backing) = (Some(Blank { width: blank, length }), self.side(id, hand));
        self.add(Part { scribed, blank, backing, ..part });
    }
}
