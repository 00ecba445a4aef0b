//! Whether what is made goes where the text has it now: one window for each way in which a part is held.
//!
//! A part that is cut is as it is; the text may have changed since, or its stock. How far it is off is compared with what its
//! joints allow: how much of an end bears in its groove, how much play a thickness has, how wide a gap is left. Everything is
//! reckoned as a difference from what the text has now, so that a part that was made as the text says it is off by nothing.

mod follow;
mod judge;
mod reuse;
mod window;

pub use follow::follow;
pub use judge::judge;
pub use reuse::{assign, reuse};
pub use window::{WINDOWS, WindowRow};

use crate::eval::Fits;
use crate::parts::{Joint, JointKind, Made, Part, PartGraph, PartId, Role, State, Stock};
use crate::quantity::{Length, Marks, Rational};
use std::sync::Arc;

/// What is made and what it is compared with.
#[derive(Clone, Copy, Debug)]
pub struct Bench<'a> {
    /// The parts as the text has them, with what is made of them.
    pub graph: &'a PartGraph,
    /// What the joints allow.
    pub fits: &'a Fits,
    /// How sizes are marked.
    pub marks: Marks,
}

impl<'a> Bench<'a> {
    /// What is made of a part, once it is cut.
    fn cut(self, id: PartId) -> Option<&'a Made> {
        self.graph.made.get(&id).filter(|made| made.state >= State::Cut)
    }

    /// The thickness of a part: as it was measured when the part was cut, else as the text has it.
    #[must_use]
    pub fn thickness(self, part: &Part) -> Length {
        let planned = part.size.thickness.value;
        let Some(made) = self.cut(part.id) else { return planned };
        made.facts.thickness.map_or_else(|| self.of_lot(part, made).unwrap_or(planned), |(stated, _)| stated)
    }

    /// The thickness of the lot that is stated for a part.
    fn of_lot(self, part: &Part, made: &Made) -> Option<Length> {
        let Stock::Sheet(id) = part.stock else { return None };
        let (lot, own) = (made.facts.lot.as_deref()?, self.graph.sheet(id)?);
        let lots = self.graph.sheets.iter().filter(|sheet| sheet.sold_as() == own.sold_as());
        lots.into_iter().find(|sheet| sheet.lot() == Some(lot)).map(|sheet| sheet.thickness.value)
    }

    /// How much thicker a part is than the text has it; negative where it is thinner.
    fn thicker(self, part: &Part) -> Length {
        self.thickness(part).checked_sub(part.size.thickness.value).unwrap_or_default()
    }

    /// How much less room there is between the hosts of a part than the text has: an upright that is thicker takes its room
    /// from inside, a divider half of it from each side, what a divider stands on all of it, what lies over it none.
    fn less_room(self, ends: &[&Joint]) -> Length {
        let share = |joint: &&Joint| {
            let host = self.graph.part(joint.host)?;
            let guest = self.graph.part(joint.guest)?;
            let share = match (host.role, guest.role) {
                (Role::Divider, _) => Rational::new(1, 2),
                (_, Role::Divider) if joint.at.value.is_positive() && self.is_over(host, guest) => 0.into(),
                _ => 1.into(),
            };
            self.thicker(host).checked_mul(share)
        };
        sum(ends.iter().map(|joint| share(joint).unwrap_or_default()))
    }

    fn is_over(self, host: &Part, guest: &Part) -> bool {
        host.place.z.value > guest.place.z.value
    }

    /// Width and depth of the groove that holds a guest: as it was made, else as it will be. No width where there is only one
    /// wall or none, no depth where nothing is cut.
    fn groove(self, joint: &Joint) -> (Option<Length>, Option<Length>) {
        let planned = (planned_width(joint), joint.kind.depth().map(|depth| depth.value));
        let made = self.cut(joint.host).filter(|made| made.state >= State::Grooved);
        let Some(grooved) = made.and_then(|made| made.facts.grooved()) else { return planned };
        let at = self.marks.nearest(joint.at.value);
        let own = grooved.iter().find(|(mark, _)| self.marks.nearest(*mark) == at);
        match own.and_then(|(_, size)| *size) {
            Some([width, depth]) => (planned.0.map(|_| width), planned.1.map(|_| depth)),
            None => planned,
        }
    }

    /// What a part was cut from, where that is other stock than the text asks for; another lot of it is the same stock.
    fn other_stock(self, stock: Stock, made: &Made) -> Option<Arc<str>> {
        let cut_from = made.facts.stock.as_ref()?;
        (**cut_from != *self.graph.sold_as(stock)).then(|| cut_from.clone())
    }
}

/// The width of a groove with two walls, as the text has it.
fn planned_width(joint: &Joint) -> Option<Length> {
    match joint.kind {
        JointKind::Dado { width, .. } | JointKind::Groove { width, .. } => Some(width.value),
        JointKind::Rabbet { .. } | JointKind::Mortise { .. } | JointKind::Butt => None,
    }
}

fn sum(all: impl Iterator<Item = Length>) -> Length {
    all.fold(Length::ZERO, |sum, one| sum.checked_add(one).unwrap_or(sum))
}

/// One cut that holds a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cut {
    /// From the bottom end of the host to the underside of what goes in, to the mark.
    pub at: Length,
    /// How wide it is.
    pub width: Length,
    /// How deep it is.
    pub depth: Length,
}

/// The cuts across a part that hold others, from its bottom end, to the mark: dados and rabbets, a rabbet as wide as what goes
/// in.
#[must_use]
pub fn cuts(graph: &PartGraph, host: PartId, marks: Marks) -> Vec<Cut> {
    let of = |joint: &Joint| {
        let width = match joint.kind {
            JointKind::Dado { width, .. } | JointKind::Groove { width, .. } => width,
            JointKind::Rabbet { .. } | JointKind::Mortise { .. } => graph.part(joint.guest)?.size.thickness,
            JointKind::Butt => return None,
        };
        let depth = joint.kind.depth()?;
        Some(Cut { at: marks.nearest(joint.at.value), width: width.value, depth: depth.value })
    };
    let mut cuts: Vec<Cut> = graph.joints_in(host).filter_map(of).collect();
    cuts.sort();
    cuts
}
