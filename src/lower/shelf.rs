//! Shelves in their dados, the cleats under them, and the openings they leave.

use super::carcass::Frame;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Len, Mark};
use crate::parts::{JointKind, Opening, PartId, Place, Role, Size};
use crate::quantity::Round;

impl Lowering<'_> {
    pub(super) fn shelves(&mut self, frame: &Frame<'_>) {
        let carcass = frame.carcass;
        let (thickness, dado) = (frame.thickness, carcass.dado);
        let ledger = &mut self.graph.ledger;
        let rule = "a shelf is housed in a dado in each side";
        let length = ledger.sum("length", &[(1, frame.clear), (2, dado.depth)], rule);
        let width =
            ledger.sum("dado width", &[(1, thickness), (1, dado.fit)], "the sheet as measured, and the fit");
        let x = ledger.sum(
            "left end of the shelf",
            &[(1, thickness), (-1, dado.depth)],
            "it reaches into the dado",
        );
        let size = Size { thickness, width: carcass.depth, length };
        let dado = JointKind::Dado { depth: dado.depth, width };
        let rabbet = JointKind::Rabbet { depth: carcass.dado.depth };
        let top = carcass.top.then(|| self.top_mark(frame)).flatten();
        let shelves = carcass.marks.iter().map(|mark| (mark, Role::Shelf, dado));
        let shelves: Vec<_> = shelves.chain(top.iter().map(|mark| (mark, Role::Top, rabbet))).collect();
        let count = shelves.len();

        let mut below: Option<(&Mark, PartId)> = None;
        for (index, (mark, role, kind)) in shelves.into_iter().enumerate() {
            let cleat = carcass.cleat.filter(|_| below.is_some());
            if let Some((lower, shelf)) = below {
                let hangs = self.hangs(frame, index + 1 == count);
                if !self.opening(frame, (lower, shelf), Some(mark), cleat, hangs) {
                    return;
                }
            }
            let place = Place { x, y: frame.zero, z: mark.height };
            let step = if role == Role::Top { "top".to_owned() } else { format!("shelf.{}", mark.name) };
            let shelf = self.part(frame, &step, role, size, place);
            self.between(frame, shelf, kind, mark.height);
            if let Some(height) = cleat {
                self.cleat(frame, mark, height);
            }
            if let (Some(opening), Some(_)) = (self.graph.openings.last_mut(), below) {
                opening.under = Some(shelf);
            }
            below = Some((mark, shelf));
        }
        if let Some(last) = below.filter(|_| !carcass.top) {
            self.opening(frame, last, None, None, None);
        }
    }

    /// A top in rabbets is flush with the ends of the sides; its underside counts as the highest mark.
    fn top_mark(&mut self, frame: &Frame<'_>) -> Option<Mark> {
        if frame.carcass.marks.iter().any(|mark| &*mark.name == "top") {
            let message = format!("`{}` has a `top` and uses a mark of the same name", frame.path);
            let diagnostic =
                self.blame(Diagnostic::new(&codes::TWO_TOPS, message), frame.carcass.head, "", &[]);
            self.sink.push(diagnostic.help("give the mark another name, or `skip` it"));
            return None;
        }
        let terms = [(1, frame.carcass.height), (-1, frame.thickness)];
        let height =
            self.graph.ledger.sum("underside of the top", &terms, "flush with the ends of the sides");
        Some(Mark { name: "top".into(), height })
    }

    /// How far the facing hangs below the top of a shelf: a strip, or the rail at the top.
    fn hangs(&self, frame: &Frame<'_>, last: bool) -> Option<Hangs> {
        let (facing, _) = frame.facing?;
        match facing.top_rail.filter(|_| last) {
            Some(rail) => Some(Hangs::Rail(rail)),
            None => facing.strip.map(Hangs::Strip),
        }
    }

    /// The opening over a shelf, up to the next mark or to the ends of the sides; `false` where there is none.
    fn opening(
        &mut self,
        frame: &Frame<'_>,
        on: (&Mark, PartId),
        next: Option<&Mark>,
        cleat: Option<Len>,
        hangs: Option<Hangs>,
    ) -> bool {
        let (lower, shelf) = on;
        let upper = next.map_or(frame.carcass.height, |mark| mark.height);
        let rule = match next {
            Some(_) => "from the shelf's top to the next mark, which is an underside",
            None => "from the top shelf to the ends of the sides",
        };
        let terms = [(1, upper), (-1, lower.height), (-1, frame.thickness)];
        let clear_height = self.graph.ledger.sum("clear height", &terms, rule);
        let room = clear_height.value;
        if room.is_negative() || (next.is_some() && room.is_zero()) {
            self.no_opening(frame, lower, next, upper);
            return false;
        }
        let opening_rear = match cleat {
            Some(height) if height.value >= room => {
                self.no_room_for_cleat(frame, next, height, clear_height);
                return false;
            }
            Some(height) => {
                let rule = "the cleat hangs into the opening at the wall";
                self.graph.ledger.sum("opening at the rear", &[(1, clear_height), (-1, height)], rule)
            }
            None => clear_height,
        };
        let ledger = &mut self.graph.ledger;
        let opening_front = match hangs {
            Some(Hangs::Strip(strip)) => {
                let terms = [(1, clear_height), (-1, strip), (1, frame.thickness)];
                ledger.sum("opening at the front", &terms, "the strip hangs below the shelf")
            }
            Some(Hangs::Rail(rail)) => {
                let terms =
                    [(1, frame.carcass.height), (-1, rail), (-1, lower.height), (-1, frame.thickness)];
                ledger.sum("opening at the front", &terms, "up to the top rail")
            }
            None => clear_height,
        };
        let mut terms = vec![(1, frame.carcass.depth)];
        terms.extend(frame.facing.map(|(facing, _)| (1, facing.thickness)));
        terms.extend(cleat.map(|_| (-1, frame.thickness)));
        let rule = "from the front of the facing to the cleat, or to the wall where there is none";
        let depth = ledger.sum("depth of the opening", &terms, rule);
        self.graph.openings.push(Opening {
            unit: frame.unit,
            on: shelf,
            under: None,
            clear_width: frame.clear,
            clear_height,
            opening_rear,
            opening_front,
            depth,
        });
        true
    }

    fn no_opening(&mut self, frame: &Frame<'_>, lower: &Mark, next: Option<&Mark>, upper: Len) {
        let t = self.print(frame.thickness);
        let diagnostic = match next {
            Some(next) => {
                let message =
                    format!("nothing is left between the shelves `{}` and `{}`", lower.name, next.name);
                let diagnostic = Diagnostic::new(&codes::CLOSE, message);
                let blamed = [(next.height, "the upper underside"), (lower.height, "the lower one")];
                let help = format!(
                    "marks of one carcass lie more than the sheet's {t} apart; move one, or `skip` it"
                );
                self.blame(diagnostic, None, "", &blamed).help(help)
            }
            None => {
                let message = format!(
                    "the shelf `{}` of `{}` stands above the ends of the sides",
                    lower.name, frame.path
                );
                let top = upper.value.checked_sub(frame.thickness.value).unwrap_or_default();
                let most = self.marks().print_rounded(top, Round::Down);
                let blamed = [
                    (lower.height, "its underside"),
                    (upper, "where the sides end"),
                    (frame.thickness, "its thickness"),
                ];
                let help = format!("the highest mark for this side is {most}");
                self.blame(Diagnostic::new(&codes::ABOVE, message), None, "", &blamed).help(help)
            }
        };
        self.push_at_first(diagnostic, frame);
    }

    fn no_room_for_cleat(&mut self, frame: &Frame<'_>, next: Option<&Mark>, height: Len, room: Len) {
        let name = next.map_or("", |mark| &mark.name);
        let (high, has) = (self.print(height), self.print(room));
        let message = format!("the cleat under `{name}` is {high} high in an opening of {has}");
        let blamed = [(height, "the cleat's height"), (room, "the opening follows from this")];
        let diagnostic = self.blame(Diagnostic::new(&codes::CLEAT, message), None, "", &blamed);
        self.push_at_first(diagnostic.help("make the cleat lower, or move a mark"), frame);
    }

    /// The first place is the one that the message is about; without any, the carcass is.
    fn push_at_first(&mut self, mut diagnostic: Diagnostic, frame: &Frame<'_>) {
        match diagnostic.labels.first_mut() {
            Some(label) => label.primary = true,
            None => {
                if let Some(head) = frame.carcass.head {
                    diagnostic = diagnostic.at(head, "this carcass");
                }
            }
        }
        self.sink.push(diagnostic);
    }

    fn cleat(&mut self, frame: &Frame<'_>, mark: &Mark, height: Len) {
        let ledger = &mut self.graph.ledger;
        let length = ledger.sum("length", &[(1, frame.clear)], "a cleat stands between the sides");
        let z = ledger.sum("bottom edge", &[(1, mark.height), (-1, height)], "it hangs under the shelf");
        let size = Size { thickness: frame.thickness, width: height, length };
        let place = Place { x: frame.inside, y: frame.zero, z };
        let id = self.part(frame, &format!("cleat.{}", mark.name), Role::Cleat, size, place);
        self.between(frame, id, JointKind::Butt, z);
    }
}

/// What hangs into an opening at its front.
#[derive(Clone, Copy)]
enum Hangs {
    /// A strip of this height, its top flush with the shelf's.
    Strip(Len),
    /// A rail of this height, its top flush with the ends of the sides.
    Rail(Len),
}
