//! What a carcass stands on: a separate base of rails and ribs, or sides that are notched for toes.

use super::carcass::Between;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Base, Carcass, Foot, Len};
use crate::parts::{
    Called, Face, Joint, JointKind, Member, Part, PartId, Place, Role, RowKind, Size, Stock, Unit, UnitId,
};
use crate::quantity::{Length, Rational};
use num_traits::ToPrimitive;

impl Lowering<'_> {
    /// The carcass between its base and its counter: its sides are as much shorter; `None` where a message was given.
    pub(super) fn over_base(&mut self, carcass: &Carcass, path: &str) -> Option<Carcass> {
        let base = if let Foot::Base(base) = carcass.foot { Some(base) } else { None };
        let counter = carcass
            .counter
            .and_then(|counter| Some((counter.head, self.model.sheets.get(counter.sheet.0)?.thickness)));
        let mut terms = vec![(1, carcass.height)];
        terms.extend(base.map(|base| (-1, base.height)));
        terms.extend(counter.map(|(_, thickness)| (-1, thickness)));
        if terms.len() == 1 {
            return Some(carcass.clone());
        }
        let rule = match (base.is_some(), counter.is_some()) {
            (true, true) => "the sides stand on the base, under the counter",
            (true, false) => "the sides stand on the base",
            _ => "the counter lies on the sides",
        };
        let height = self.graph.ledger.sum("height of the sides", &terms, rule);
        if height.value.is_positive() {
            return Some(Carcass { height, ..carcass.clone() });
        }
        let message = format!("plinth and counter leave nothing of the sides of `{path}`");
        let head = base.map(|base| base.head).or(counter.map(|(head, _)| head));
        let blamed = [(carcass.height, "its height, which counts them")];
        let diagnostic = self.blame(Diagnostic::new(&codes::TOE, message), head, "this", &blamed);
        self.sink
            .push(diagnostic.help("the height of a carcass counts its plinth and its counter: make it more"));
        None
    }

    /// From the level line to the top end of a unit's sides.
    pub(super) fn top_of(&mut self, unit: &Unit) -> Len {
        match unit.stands {
            Some(stands) => {
                let terms = [(1, unit.height), (1, stands)];
                let rule =
                    if unit.hung { "its sides begin at its foot" } else { "its sides stand on the base" };
                self.graph.ledger.sum("top of the unit", &terms, rule)
            }
            None => unit.height,
        }
    }

    /// The toe space before a carcass: its height over the level line, and its depth from the front edges.
    pub(super) fn toe_space(foot: Foot) -> Option<[Len; 2]> {
        match foot {
            Foot::Sides => None,
            Foot::Notched(toe) => Some([toe.height, toe.depth]),
            Foot::Base(base) => base.set_back.map(|set_back| [base.height, set_back]),
        }
    }

    /// Whether the toe space ends under the bottom shelf and leaves something behind it.
    pub(super) fn toe_fits(&mut self, between: &Between<'_>, lowest: Len) -> bool {
        let (height, depth, boards, head) = match between.carcass.foot {
            Foot::Sides => return true,
            Foot::Notched(toe) => (Some(toe.height), Some(toe.depth), 1, toe.head),
            Foot::Base(base) => (None, base.set_back, 2, base.head),
        };
        // One board stands behind a notch, two rails with a rib between them in a base.
        let mut taken: Vec<Len> = vec![between.thickness; boards];
        taken.extend(depth);
        let taken = taken.iter().try_fold(Length::ZERO, |sum, len| sum.checked_add(len.value));
        let high = height.filter(|height| height.value > lowest.value);
        let (message, help) = if high.is_some() {
            let message = format!("the toe space of `{}` reaches into its bottom shelf", between.path);
            (message, format!("make it {} high or lower, or move the shelf up", self.print(lowest)))
        } else if taken.is_none_or(|taken| taken >= between.deep.value) {
            let message = format!("nothing is left behind the toe space of `{}`", between.path);
            (message, "toes need 2 1/2 to 3 in (65 to 75 mm): common practice, no source".to_owned())
        } else {
            return true;
        };
        let blamed = [(lowest, "the bottom shelf's underside follows from this")];
        let blamed = if high.is_some() { blamed.as_slice() } else { &[] };
        let diagnostic =
            self.blame(Diagnostic::new(&codes::TOE, message), Some(head), "this toe space", blamed);
        self.sink.push(diagnostic.help(help));
        false
    }

    /// Two rails as long as the unit is wide, and ribs between them.
    pub(super) fn base(&mut self, between: &Between<'_>, width: Len) {
        let Foot::Base(base) = between.carcass.foot else { return };
        let Some(thickness) = self.model.sheets.get(base.sheet.0).map(|sheet| sheet.thickness) else {
            return;
        };
        let ledger = &mut self.graph.ledger;
        let mut terms = vec![(1, between.rear), (1, between.deep)];
        terms.extend(base.set_back.map(|set_back| (-1, set_back)));
        let front = ledger.sum("front of the base", &terms, "behind the toe space, where there is one");
        let y = ledger.sum("rear face of the front rail", &[(1, front), (-1, thickness)], "");
        let length = ledger.sum("length", &[(1, front), (-2, thickness)], "a rib stands between the rails");
        let z = ledger.sum("lower edge", &[(1, between.zero), (-1, base.height)], "on the level line");
        let span = ledger.sum("from the first rib to the last", &[(1, width), (-1, thickness)], "");
        let gaps = span.value.ratio(base.ribs.value).map_or(1, |gaps| gaps.ceil().to_integer().max(1));
        if !self.has_room(gaps.to_usize().unwrap_or(usize::MAX).saturating_add(3)) {
            return;
        }
        let rails = [(Face::Front, y, "front"), (Face::Rear, between.zero, "rear")].map(|(face, y, word)| {
            let size = Size { thickness, width: base.height, length: width };
            let place = Place { x: between.zero, y, z };
            let called = Called::new(&between.path, "plinth", word);
            self.base_part(between, base, (called, Role::BaseRail(face)), size, place)
        });
        let rule = "as far from each other as from the ends";
        let gap = self.graph.ledger.divide("from rib to rib", span, Rational::from(gaps), rule);
        for number in 0..=gaps {
            let x = self.graph.ledger.sum("left face of the rib", &[(number, gap)], "");
            let place = Place { x, y: thickness, z };
            let size = Size { thickness, width: base.height, length };
            let called = Called::counted(&format!("{}.plinth", between.path), "rib", number + 1);
            let Some(rib) = self.base_part(between, base, (called, Role::Rib), size, place) else { return };
            for host in rails.into_iter().flatten() {
                self.graph.join(Joint { guest: rib, host, kind: JointKind::Butt, at: x });
            }
        }
    }

    fn base_part(
        &mut self,
        between: &Between<'_>,
        base: Base,
        (called, role): (Called, Role),
        size: Size,
        place: Place,
    ) -> Option<PartId> {
        self.add(Part::new(called, between.owner(), role, Stock::Sheet(base.sheet), size, place))
    }

    /// A row from each rail of a base into the carcass on it.
    pub(super) fn base_rows(&mut self, carcass: &Carcass, unit: UnitId) {
        let rails = self.graph.parts_of(unit).filter(|part| matches!(part.role, Role::BaseRail(_)));
        let rails: Vec<(PartId, Len)> = rails.map(|rail| (rail.id, rail.size.length)).collect();
        for (rail, length) in rails {
            let between = (RowKind::Base, rail, Member::Unit(unit));
            self.row_between(between, length, carcass.joins.base_to_carcass, false);
        }
    }
}
