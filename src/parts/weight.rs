//! Volumes, exact, and weights, which are estimates: finished volume x density, grooves and toe notches off.

use super::how::How;
use super::{JointKind, Part, PartGraph, PartId, Role, RunId, Stock, UnitId};
use crate::quantity::{Dim, Estimate, Rational, some, to_f64};
use crate::real::Real;
use num_traits::{CheckedAdd, CheckedMul, CheckedSub};
use std::collections::BTreeMap;

/// What is cut out of parts, in cubic millimetres: `None` where it is too large to be told.
#[derive(Clone, Debug, Default)]
pub struct CutOff(BTreeMap<PartId, Option<Rational>>);

/// Cubic millimetres as a reason shows them.
fn volume(mm3: Rational) -> Estimate {
    Estimate { value: to_f64(mm3), dim: Dim::VOLUME }
}

impl PartGraph {
    /// The volume of a part's box in cubic millimetres; of a part that is scribed, at its mean size.
    #[must_use]
    pub fn volume(&self, part: &Part) -> Option<Rational> {
        let [t, w, l] = [part.size.thickness, part.size.width, part.seen_length()].map(|len| len.value.mm());
        t.checked_mul(&w)?.checked_mul(&l)
    }

    /// What is cut out of all parts: grooves, which the ends of the guests fill, and the notches of toe spaces.
    #[must_use]
    pub fn cut_off(&self) -> CutOff {
        let mut all = CutOff::default();
        let mut add = |host: PartId, volume: Option<Rational>| {
            let own = all.0.entry(host).or_insert(Some(Rational::from(0)));
            *own = own.zip(volume).and_then(|(own, volume)| own.checked_add(&volume));
        };
        for joint in &self.joints {
            let depth = match joint.kind {
                JointKind::Dado { depth, .. }
                | JointKind::Rabbet { depth }
                | JointKind::Groove { depth, .. } => depth,
                // A tenon fills its mortise, and is not counted as part of its rail.
                JointKind::Mortise { .. } | JointKind::Butt => continue,
            };
            let Some(guest) = self.part(joint.guest) else { continue };
            // A back is held along its length, everything else by an end; the ends of a drawer's box are grooved from end to end.
            let host = self.part(joint.host);
            let held = match (guest.role, host) {
                (Role::Back, _) => guest.size.length,
                (Role::DrawerBottom, Some(host)) if matches!(host.role, Role::DrawerEnd(_)) => {
                    host.size.length
                }
                _ => guest.size.width,
            };
            let section = guest.size.thickness.value.mm().checked_mul(&held.value.mm());
            add(joint.host, section.and_then(|section| section.checked_mul(&depth.value.mm())));
        }
        for part in &self.parts {
            if let Some([height, depth]) = self.notch(part) {
                let face = height.mm().checked_mul(&depth.mm());
                add(part.id, face.and_then(|face| face.checked_mul(&part.size.thickness.value.mm())));
            }
            if let Some(corner) = self.corner(part) {
                let face = corner.area();
                add(part.id, face.and_then(|face| face.checked_mul(&part.size.thickness.value.mm())));
            }
        }
        all
    }

    /// The volume of what is left of a part in cubic millimetres.
    #[must_use]
    pub fn volume_left(&self, part: &Part, cut_off: &CutOff) -> Option<Rational> {
        let whole = self.volume(part)?;
        match cut_off.0.get(&part.id) {
            Some(off) => whole.checked_sub(&(*off)?),
            None => Some(whole),
        }
    }

    /// The weight of what is left of a part; `None` where what it is cut from states no density.
    #[must_use]
    pub fn part_weight(&self, part: &Part, cut_off: &CutOff) -> Option<Estimate> {
        let density = self.density(part.stock)?;
        Some(Estimate { value: to_f64(self.volume_left(part, cut_off)?) * density.value, dim: Dim::WEIGHT })
    }

    fn density(&self, stock: Stock) -> Option<Estimate> {
        match stock {
            Stock::Sheet(sheet) => self.sheet(sheet)?.density,
            Stock::Board(board) => self.boards.get(board)?.density,
        }
    }

    /// The volumes of all carcasses in cubic millimetres, by their places: what is left of their parts; only what is carried
    /// with them.
    #[must_use]
    pub fn carcass_volumes(&self, cut_off: &CutOff) -> Vec<Option<Rational>> {
        let mut totals = vec![Some(Rational::from(0)); self.units.len()];
        for part in self.parts.iter().filter(|part| part.role.is_carried()) {
            let of = part.unit.map(|unit| unit.0 as usize);
            let Some(total) = of.and_then(|unit| totals.get_mut(unit)) else { continue };
            let left = self.volume_left(part, cut_off);
            *total = total.zip(left).and_then(|(total, volume)| total.checked_add(&volume));
        }
        totals
    }

    /// The weights of all carcasses as they are carried, without facing, by their places: each part by what it is cut from;
    /// `None` where that states no density.
    #[must_use]
    pub fn unit_weights(&self, cut_off: &CutOff) -> Vec<Option<Estimate>> {
        let mut totals = vec![Some(0.0); self.units.len()];
        for part in self.parts.iter().filter(|part| part.role.is_carried()) {
            let of = part.unit.map(|unit| unit.0 as usize);
            let Some(total) = of.and_then(|unit| totals.get_mut(unit)) else { continue };
            *total = total.zip(self.part_weight(part, cut_off)).map(|(total, weight)| total + weight.value);
        }
        totals.into_iter().map(|total| Some(Estimate { value: total?, dim: Dim::WEIGHT })).collect()
    }

    /// How the weight of a part is reckoned.
    pub(super) fn how_part_weighs(&self, part: &Part, cut_off: &CutOff) -> How {
        let size = part.size;
        let mut how = How::from("finished volume x density, grooves and toe notches off")
            .length("thickness", size.thickness)
            .length("width", size.width)
            .length("length", part.seen_length());
        if let Some(Some(off)) = cut_off.0.get(&part.id) {
            how = how.estimate("grooves and notches", volume(*off), None);
        }
        self.dense(how, part.stock)
    }

    /// How the weight of a unit is reckoned: the volume that is left of the parts of each stock, and its density.
    pub(super) fn how_unit_weighs(&self, unit: UnitId, cut_off: &CutOff) -> How {
        let rule = "finished volume x density, grooves and toe notches off, without facing";
        let mut by_stock: BTreeMap<Stock, (usize, Option<Rational>)> = BTreeMap::new();
        for part in self.parts_of(unit).filter(|part| part.role.is_carried()) {
            let (count, sum) = by_stock.entry(part.stock).or_insert((0, Some(Rational::from(0))));
            *count += 1;
            *sum = sum.zip(self.volume_left(part, cut_off)).and_then(|(sum, own)| sum.checked_add(&own));
        }
        by_stock.into_iter().fold(How::from(rule), |how, (stock, (count, volume))| {
            let what = format!("{} of `{}`", some(count, "part"), self.stock_name(stock));
            let how = volume.into_iter().fold(how, |how, sum| how.estimate(&what, self::volume(sum), None));
            self.dense(how, stock)
        })
    }

    /// With the density of a stock, and where that is stated.
    fn dense(&self, how: How, stock: Stock) -> How {
        let Some(value) = self.density(stock) else { return how };
        let head = match stock {
            Stock::Sheet(sheet) => self.sheet(sheet).and_then(|sheet| sheet.head),
            Stock::Board(_) => None,
        };
        how.estimate(&format!("density of `{}`", self.stock_name(stock)), value, head)
    }

    /// The weight of the facing of a run; `None` where its board states no density.
    #[must_use]
    pub fn facing_weight(&self, run: RunId) -> Option<Estimate> {
        // Mortises are filled: nothing is off a part of a facing.
        let (mut total, none) = (0.0, CutOff::default());
        for part in self.facing_of(run, self.run(run)?) {
            total += self.part_weight(part, &none)?.value;
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
