//! Volumes, exact, and weights, which are estimates: finished volume x density, grooves off.

use super::{JointKind, Part, PartGraph, Role, Stock, UnitId};
use crate::quantity::{Dim, Estimate, Rational, to_f64};
use num_traits::{CheckedAdd, CheckedMul, CheckedSub};

impl PartGraph {
    /// The volume of a part's box in cubic millimetres; of a part that is scribed, at its mean size.
    #[must_use]
    pub fn volume(&self, part: &Part) -> Option<Rational> {
        let [t, w, l] = [part.size.thickness, part.size.width, part.size.length].map(|len| len.value.mm());
        t.checked_mul(&w)?.checked_mul(&l)
    }

    /// The volume of a carcass in cubic millimetres: its parts less the grooves, which the ends of the guests fill;
    /// loose shelves are not in it when it is carried.
    #[must_use]
    pub fn unit_volume(&self, unit: UnitId) -> Option<Rational> {
        let mut total = Rational::from(0);
        for part in self.parts_of(unit).filter(|part| !part.role.is_facing() && !part.role.is_loose()) {
            total = total.checked_add(&self.volume(part)?)?;
        }
        for joint in &self.joints {
            let depth = match joint.kind {
                JointKind::Dado { depth, .. }
                | JointKind::Rabbet { depth }
                | JointKind::Groove { depth, .. } => depth,
                JointKind::Butt => continue,
            };
            let Some(guest) = self.part(joint.guest).filter(|guest| guest.unit == Some(unit)) else {
                continue;
            };
            // A back is held along its length, everything else by an end.
            let held = if guest.role == Role::Back { guest.size.length } else { guest.size.width };
            let section = guest.size.thickness.value.mm().checked_mul(&held.value.mm())?;
            total = total.checked_sub(&section.checked_mul(&depth.value.mm())?)?;
        }
        Some(total)
    }

    /// The weight of a carcass as it is carried, without facing; `None` where its sheet states no density.
    #[must_use]
    pub fn unit_weight(&self, unit: UnitId) -> Option<Estimate> {
        let density = self.sheet(self.unit(unit)?.sheet)?.density?;
        Some(Estimate { value: to_f64(self.unit_volume(unit)?) * density.value, dim: Dim::WEIGHT })
    }

    /// The weight of the facing of a run; `None` where its board states no density.
    #[must_use]
    pub fn facing_weight(&self, run: &str) -> Option<Estimate> {
        let prefix = format!("{run}.");
        let mut total = 0.0;
        for part in self.parts.iter().filter(|part| part.role.is_facing() && part.path.starts_with(&prefix)) {
            let Stock::Board(board) = part.stock else { continue };
            let density = self.boards.get(board)?.density?;
            total += to_f64(self.volume(part)?) * density.value;
        }
        Some(Estimate { value: total, dim: Dim::WEIGHT })
    }

    /// The diagonal of a carcass's face: both are equal when it is square.
    #[must_use]
    pub fn face_diagonal(&self, unit: UnitId) -> Option<Estimate> {
        let unit = self.unit(unit)?;
        let value = unit.width.value.to_mm_f64().hypot(unit.height.value.to_mm_f64());
        Some(Estimate { value, dim: Dim::LENGTH })
    }
}
