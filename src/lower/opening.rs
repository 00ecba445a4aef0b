//! Openings: the room over a shelf, behind, at the front and at the rear.

use super::carcass::Between;
use super::{Lowering, codes};
use crate::diag::{Diagnostic, Edit, Instead};
use crate::eval::{Len, Load, Mark, Over};
use crate::parts::{Called, Opening, Part, PartId};
use crate::quantity::{Rational, Round};

/// What an opening stands on.
#[derive(Clone, Copy)]
pub(super) struct Floor<'a> {
    /// The shelf.
    pub shelf: PartId,
    /// Its underside, which has its name.
    pub mark: &'a Mark,
    /// What is stated of the opening over it.
    pub over: Option<&'a Over>,
    /// How the opening is called, where it is not by its shelf.
    pub bay: Option<&'a Called>,
    /// Whether a strip or rail lies before the shelf's edge, flush with its top.
    pub faced: bool,
}

/// What closes an opening above.
#[derive(Clone, Copy)]
pub(super) struct Above<'a> {
    /// The next underside, or the ends of the sides.
    pub height: Len,
    /// The mark whose underside it is; `None` for the ends of the sides.
    pub mark: Option<&'a Mark>,
    /// How far a cleat hangs into the opening.
    pub cleat: Option<Len>,
    /// What hangs into it at the front.
    pub hangs: Option<Hangs>,
    /// Whether things stand under it.
    pub used: bool,
}

/// What hangs into an opening at its front.
#[derive(Clone, Copy)]
pub(super) enum Hangs {
    /// A strip of this height, its top flush with the shelf's.
    Strip(Len),
    /// A rail of this height, its top flush with the ends of the sides.
    Rail(Len),
}

/// Where the lower edge of a top rail lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum RailBefore {
    /// At the underside of the topmost shelf or lower: it hides the shelf's edge and closes the room over it.
    Shelf,
    /// Before that edge: what is below it of the edge is seen.
    Edge,
    /// At the top of the shelf, so that it has a strip of its own and the room over it is closed.
    Top,
    /// Over the shelf.
    Room,
}

/// Where the lower edge of a top rail lies that is flush with the ends of sides of this height.
pub(super) fn rail_before(height: Len, rail: Len, mark: Len, thickness: Len) -> RailBefore {
    let edge = height.value.checked_sub(rail.value).unwrap_or_default();
    let top = mark.value.checked_add(thickness.value).unwrap_or_default();
    if edge <= mark.value {
        RailBefore::Shelf
    } else if edge < top {
        RailBefore::Edge
    } else if edge == top {
        RailBefore::Top
    } else {
        RailBefore::Room
    }
}

impl Lowering<'_> {
    /// How far the facing hangs below the top of a shelf: a strip, or the rail at the top where that shelf is the topmost one.
    pub(super) fn hangs(&self, between: &Between<'_>, mark: Len, topmost: bool) -> Option<Hangs> {
        let facing = between.facing?;
        let rail = facing.top_rail.filter(|_| topmost);
        let Some(rail) = rail else { return facing.strip.map(Hangs::Strip) };
        match rail_before(between.carcass.height, rail, mark, between.thickness) {
            RailBefore::Shelf => Some(Hangs::Rail(rail)),
            RailBefore::Edge => None,
            RailBefore::Top | RailBefore::Room => facing.strip.map(Hangs::Strip),
        }
    }

    /// What hangs into the room over the topmost shelf, and whether things stand in it.
    pub(super) fn over_topmost(&self, between: &Between<'_>, mark: Len) -> (Option<Hangs>, bool) {
        let rail = between.facing.and_then(|facing| facing.top_rail);
        let before = rail.map(|rail| rail_before(between.carcass.height, rail, mark, between.thickness));
        let hangs = rail.filter(|_| before == Some(RailBefore::Room)).map(Hangs::Rail);
        (hangs, !between.crowned && matches!(before, None | Some(RailBefore::Room)))
    }

    /// The opening over a shelf, up to the next mark or to the ends of the sides; `false` where there is none.
    pub(super) fn opening(&mut self, between: &Between<'_>, on: Floor<'_>, above: Above<'_>) -> bool {
        let rule = match above.mark {
            Some(_) => "from the shelf's top to the next mark, which is an underside",
            None => "from the top shelf to the ends of the sides",
        };
        let lower = on.mark;
        let terms = [(1, above.height), (-1, lower.height), (-1, between.thickness)];
        let clear_height = self.graph.ledger.sum("clear height", &terms, rule);
        let room = clear_height.value;
        if room.is_negative() || (above.mark.is_some() && room.is_zero()) {
            self.no_opening(between, lower, above);
            return false;
        }
        let opening_rear = match above.cleat {
            Some(height) if height.value >= room => {
                self.no_room_for_cleat(between, above.mark, height, clear_height);
                return false;
            }
            Some(height) => {
                let rule = "the cleat hangs into the opening at the wall";
                self.graph.ledger.sum("opening at the rear", &[(1, clear_height), (-1, height)], rule)
            }
            None => clear_height,
        };
        let [_, deep] = self.deep_at(between, lower.height);
        let ledger = &mut self.graph.ledger;
        let opening_front = match above.hangs {
            Some(Hangs::Strip(strip)) => {
                let terms = [(1, clear_height), (-1, strip), (1, between.thickness)];
                ledger.sum("opening at the front", &terms, "the strip hangs below the shelf")
            }
            Some(Hangs::Rail(rail)) => {
                let terms =
                    [(1, between.carcass.height), (-1, rail), (-1, lower.height), (-1, between.thickness)];
                ledger.sum("opening at the front", &terms, "up to the top rail")
            }
            None => clear_height,
        };
        let mut terms = vec![(1, deep)];
        let before = between.facing.filter(|_| on.faced);
        terms.extend(before.map(|facing| (1, facing.thickness)));
        terms.extend(between.carcass.edge.as_ref().and_then(|edge| edge.thickness).map(|edge| (1, edge)));
        terms.extend(above.cleat.map(|_| (-1, between.thickness)));
        let rule = match before {
            Some(_) => {
                "from the front of the facing to the cleat, or to the wall or back where there is none"
            }
            None => "from the front edge to the cleat, or to the wall or back where there is none",
        };
        let depth = ledger.sum("depth of the opening", &terms, rule);
        let of_shelf =
            |shelf: &Part| Called { path: shelf.path.clone(), name: shelf.name.clone(), former: None };
        let called = on.bay.cloned().or_else(|| self.graph.part(on.shelf).map(of_shelf));
        let Some(Called { path, name, .. }) = called else { return false };
        let own = on.over.map(|over| over.contents.clone()).unwrap_or_default();
        let load = on.over.and_then(|over| over.load).or(between.carcass.load);
        // Where no load is stated, the heaviest of what is said to stand here is one.
        let here = between.carcass.contents.iter().filter(|contents| contents.on.contains(&name));
        let loads = own.iter().chain(here).filter_map(|contents| contents.load);
        let heaviest = loads.max_by(|a, b| a.value.total_cmp(&b.value)).map(Load::Line);
        self.graph.open(Opening {
            path,
            name,
            loose: Vec::new(),
            unit: between.unit,
            bay: between.bay,
            lowest: on.bay.is_some(),
            divided: on.over.is_some_and(|over| !over.bays.is_empty()),
            on: on.shelf,
            under: None,
            used: above.used,
            open: above.used && above.mark.is_none() && between.carcass.counter.is_none(),
            clear_width: between.clear,
            clear_height,
            opening_rear,
            opening_front,
            depth,
            load: load.or(heaviest),
            contents: own,
        });
        true
    }

    fn no_opening(&mut self, between: &Between<'_>, lower: &Mark, above: Above<'_>) {
        let t = self.print(between.thickness);
        let diagnostic = match above.mark {
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
                    lower.name, between.path
                );
                let top = above.height.value.checked_sub(between.thickness.value).unwrap_or_default();
                let most = self.marks().print_rounded(top, Round::Down);
                let blamed = [
                    (lower.height, "its underside"),
                    (above.height, "where the sides end"),
                    (between.thickness, "its thickness"),
                ];
                let help = format!("the highest mark for this side is {most}");
                let instead = self.lower_marks(lower.height, above.height);
                let diagnostic = Diagnostic { instead, ..Diagnostic::new(&codes::ABOVE, message) };
                self.blame(diagnostic, None, "", &blamed).help(help)
            }
        };
        self.push_at_first(diagnostic, between);
    }

    /// Lower places for the highest mark, to see what follows from where it stands.
    fn lower_marks(&self, mark: Len, side: Len) -> Vec<Instead> {
        let Some((span, _)) = self.graph.ledger.literal(mark.why) else { return Vec::new() };
        let lower = |of: i128| {
            let place = side.value.checked_mul(Rational::new(of, 20))?.mm();
            let text = format!("{}/{}mm", place.numer(), place.denom());
            Some(Instead { edits: vec![Edit { span, text }], meant: None })
        };
        [19, 18, 17].into_iter().filter_map(lower).collect()
    }

    fn no_room_for_cleat(&mut self, between: &Between<'_>, next: Option<&Mark>, height: Len, room: Len) {
        let name = next.map_or("", |mark| &mark.name);
        let (high, has) = (self.print(height), self.print(room));
        let message = format!("the cleat under `{name}` is {high} high in an opening of {has}");
        let blamed = [(height, "the cleat's height"), (room, "the opening follows from this")];
        let diagnostic = self.blame(Diagnostic::new(&codes::CLEAT, message), None, "", &blamed);
        self.push_at_first(diagnostic.help("make the cleat lower, or move a mark"), between);
    }

    /// The first place is the one that the message is about; without any, the carcass is.
    pub(super) fn push_at_first(&mut self, mut diagnostic: Diagnostic, between: &Between<'_>) {
        match diagnostic.labels.first_mut() {
            Some(label) => label.primary = true,
            None => {
                if let Some(head) = between.carcass.head {
                    diagnostic = diagnostic.at(head, "this carcass");
                }
            }
        }
        self.sink.push(diagnostic);
    }
}
