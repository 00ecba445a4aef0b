//! Front edges that have a strip.

use super::{Part, PartGraph, PartId, Role};
use crate::quantity::Length;

/// The strip on the front edges of a unit: a roll of it, and what needs it.
#[derive(Clone, Debug)]
pub struct Edged {
    /// The part.
    pub part: PartId,
    /// The strip, by its unit's carcass in the model: counted as the units are.
    pub unit: super::UnitId,
    /// The length of its front edge.
    pub length: Length,
}

impl PartGraph {
    /// The front edges that have a strip, part by part.
    pub fn edged(&self) -> impl Iterator<Item = Edged> {
        let taped = |part: &&Part| part.unit.is_some_and(|unit| self.taped.contains(&unit));
        self.parts.iter().filter(taped).filter_map(|part| {
            Some(Edged { part: part.id, unit: part.unit?, length: self.front_edge(part)? })
        })
    }

    /// Whether the front edge of a part has a strip.
    #[must_use]
    pub fn has_strip(&self, part: &Part) -> bool {
        part.unit.is_some_and(|unit| self.taped.contains(&unit)) && self.front_edge(part).is_some()
    }

    /// The length of the raw edge that a part shows at the front; `None` of what shows none.
    fn front_edge(&self, part: &Part) -> Option<Length> {
        let length = part.size.length.value;
        match part.role {
            // Over a notch for toes the edge begins.
            Role::Side(_) | Role::Divider => {
                let notch = self.notch(part).map_or(Length::ZERO, |[height, _]| height);
                let corner = self.corner(part).filter(|corner| !corner.rear);
                let corner = corner.map_or(Length::ZERO, |corner| corner.high);
                length.checked_sub(notch)?.checked_sub(corner)
            }
            Role::Shelf | Role::Top => Some(length),
            Role::Loose => self.fixed_to(part.id, Role::LooseStrip).is_none().then_some(length),
            Role::Cleat
            | Role::Stretcher(..)
            | Role::LooseStrip
            | Role::Back
            | Role::Counter
            | Role::Door
            | Role::DrawerFront
            | Role::DrawerSide(_)
            | Role::DrawerEnd(_)
            | Role::DrawerBottom
            | Role::BaseRail(_)
            | Role::Rib
            | Role::Filler
            | Role::Stile
            | Role::Strip
            | Role::TopRail
            | Role::BottomRail
            | Role::CeilingPanel => None,
        }
    }
}
