//! Between readings: the floor under a place, the ceiling over it.

use super::Lowering;
use super::run::Stand;
use crate::eval::{Len, Profile};
use crate::parts::{EndPart, RunPart};
use crate::quantity::{Length, Rational};
use num_traits::CheckedSub;

impl Lowering<'_> {
    /// What lies at `x`: straight between two readings, held beyond the last; nothing where nothing is read.
    pub(super) fn at(&mut self, profile: &Profile, x: Length, label: &'static str) -> Option<Len> {
        let points = &profile.points;
        let after = points.iter().position(|(at, _)| at.value >= x);
        let (before, after) = match after {
            Some(0) => return points.first().map(|(_, value)| *value),
            None => return points.last().map(|(_, value)| *value),
            Some(after) => (points.get(after.checked_sub(1)?)?, points.get(after)?),
        };
        let span = after.0.value.checked_sub(before.0.value)?;
        let share = x.checked_sub(before.0.value)?.ratio(span)?;
        let rest = Rational::from(1).checked_sub(&share)?;
        let rule = "straight between the readings on both sides";
        Some(self.graph.ledger.weighted(label, &[(rest, before.1), (share, after.1)], rule))
    }

    /// Where a run begins along its wall: at the left corner, or in mid-wall at its first unit.
    pub(super) fn left_end(&self, part: &RunPart) -> Length {
        let mid_wall = part.ends.first().is_some_and(EndPart::is_mid_wall);
        let first = part.units.first().and_then(|id| self.graph.unit(*id)?.x);
        first.filter(|_| mid_wall).map_or(Length::ZERO, |x| x.value)
    }

    /// The deepest reading of the floor along a run, from the wall to its last face; nothing where nothing is read.
    pub(super) fn deepest_floor(&mut self, stand: &Stand<'_>, part: &RunPart) -> Option<Len> {
        let floor = &stand.wall?.floor.below;
        let from = self.left_end(part);
        let last = self.graph.unit(*part.units.last()?)?;
        let to = last.x?.value.checked_add(last.width.value)?;
        let mut lens: Vec<Len> = floor
            .points
            .iter()
            .filter(|(at, _)| at.value >= from && at.value <= to)
            .map(|(_, value)| *value)
            .collect();
        lens.extend(self.at(floor, from, "floor below the level line"));
        lens.extend(self.at(floor, to, "floor below the level line"));
        self.graph.ledger.greatest(
            "deepest floor",
            &lens,
            "the blank is cut for the deepest place along the run",
        )
    }

    /// The floor under the outer faces of the units: what is packed there.
    pub(super) fn floor_at_faces(&mut self, stand: &Stand<'_>, part: &mut RunPart) {
        let Some(wall) = stand.wall else { return };
        for id in &part.units {
            let Some(unit) = self.graph.unit(*id) else { return };
            let Some(x) = unit.x else { return };
            let right = x.value.checked_add(unit.width.value).unwrap_or_default();
            let below = [x.value, right].map(|x| self.at(&wall.floor.below, x, "floor below the level line"));
            if let [Some(left), Some(right)] = below {
                part.floor_at_faces.push([left, right]);
            }
        }
    }
}
