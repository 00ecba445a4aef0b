//! Volumes, exact, and weights, which are estimates: finished volume x density, grooves off.

use super::{JointKind, Part, PartGraph, Role, RunId, Stock, UnitId};
use crate::quantity::{Dim, Estimate, Rational, to_f64};
use crate::real::Real;
use num_traits::{CheckedAdd, CheckedMul, CheckedSub};

impl PartGraph {
    /// The volume of a part's box in cubic millimetres; of a part that is scribed, at its mean size.
    #[must_use]
    pub fn volume(&self, part: &Part) -> Option<Rational> {
        let [t, w, l] = [part.size.thickness, part.size.width, part.seen_length()].map(|len| len.value.mm());
        t.checked_mul(&w)?.checked_mul(&l)
    }

    /// The weight of a part; `None` where what it is cut from states no density.
    #[must_use]
    pub fn part_weight(&self, part: &Part) -> Option<Estimate> {
        let density = self.density(part.stock)?;
        Some(Estimate { value: to_f64(self.volume(part)?) * density.value, dim: Dim::WEIGHT })
    }

    fn density(&self, stock: Stock) -> Option<Estimate> {
        match stock {
            Stock::Sheet(sheet) => self.sheet(sheet)?.density,
            Stock::Board(board) => self.boards.get(board)?.density,
        }
    }

    /// The grooves of all carcasses, which the ends of the guests fill: the guest's unit, the host, and its volume in cubic
    /// millimetres.
    fn grooves(&self) -> impl Iterator<Item = (Option<UnitId>, &Part, Option<Rational>)> {
        self.joints.iter().filter_map(|joint| {
            let depth = match joint.kind {
                JointKind::Dado { depth, .. }
                | JointKind::Rabbet { depth }
                | JointKind::Groove { depth, .. } => depth,
                // A tenon fills its mortise, and is not counted as part of its rail.
                JointKind::Mortise { .. } | JointKind::Butt => return None,
            };
            let (guest, host) = (self.part(joint.guest)?, self.part(joint.host)?);
            // A back is held along its length, everything else by an end.
            let held = if guest.role == Role::Back { guest.size.length } else { guest.size.width };
            let section = guest.size.thickness.value.mm().checked_mul(&held.value.mm());
            let volume = section.and_then(|section| section.checked_mul(&depth.value.mm()));
            Some((guest.unit, host, volume))
        })
    }

    /// The volumes of all carcasses in cubic millimetres, by their places: their parts less the grooves; only what is
    /// carried with them.
    #[must_use]
    pub fn carcass_volumes(&self) -> Vec<Option<Rational>> {
        let mut totals = vec![Some(Rational::from(0)); self.units.len()];
        let of = |unit: Option<UnitId>| unit.map(|unit| unit.0 as usize);
        for part in self.parts.iter().filter(|part| part.role.is_carried()) {
            let Some(total) = of(part.unit).and_then(|unit| totals.get_mut(unit)) else { continue };
            *total = total.zip(self.volume(part)).and_then(|(total, volume)| total.checked_add(&volume));
        }
        for (unit, _, groove) in self.grooves() {
            let Some(total) = of(unit).and_then(|unit| totals.get_mut(unit)) else { continue };
            *total = total.zip(groove).and_then(|(total, groove)| total.checked_sub(&groove));
        }
        totals
    }

    /// The weights of all carcasses as they are carried, without facing, by their places: each part by what it is cut from;
    /// `None` where that states no density.
    #[must_use]
    pub fn unit_weights(&self) -> Vec<Option<Estimate>> {
        let mut totals = vec![Some(0.0); self.units.len()];
        let mut add = |unit: Option<UnitId>, weight: Option<f64>| {
            if let Some(total) = unit.and_then(|unit| totals.get_mut(unit.0 as usize)) {
                *total = total.zip(weight).map(|(total, weight)| total + weight);
            }
        };
        for part in self.parts.iter().filter(|part| part.role.is_carried()) {
            add(part.unit, self.part_weight(part).map(|weight| weight.value));
        }
        for (unit, host, groove) in self.grooves() {
            let density = self.density(host.stock);
            add(unit, density.zip(groove).map(|(density, groove)| -to_f64(groove) * density.value));
        }
        totals.into_iter().map(|total| Some(Estimate { value: total?, dim: Dim::WEIGHT })).collect()
    }

    /// The weight of the facing of a run; `None` where its board states no density.
    #[must_use]
    pub fn facing_weight(&self, run: RunId) -> Option<Estimate> {
        let mut total = 0.0;
        for part in self.facing_of(run, &self.run(run)?.units) {
            total += self.part_weight(part)?.value;
        }
        Some(Estimate { value: total, dim: Dim::WEIGHT })
    }

    /// The diagonal of a carcass's face: both are equal when it is square.
    #[must_use]
    pub fn face_diagonal(&self, unit: UnitId) -> Option<Estimate> {
        let unit = self.unit(unit)?;
        let value = unit.width.value.to_mm_f64().hypotenuse(unit.height.value.to_mm_f64());
        Some(Estimate { value, dim: Dim::LENGTH })
    }
}
