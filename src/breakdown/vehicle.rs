//! Cuts at the yard, so that the sheets fit the vehicle: along the lines between rips, so that no part is lost.

use super::SheetWork;
use crate::cutting::{Axis, Pattern};
use crate::eval::Vehicle;
use crate::quantity::Length;

/// How a sheet gets home.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Ride {
    /// Whole.
    Whole,
    /// Cut at the yard: places of the cuts from the marked edge, each after that many rips, and what is left over there for a
    /// rough cut.
    Cut(Vec<(Length, usize)>, Length),
    /// No cut between rips makes it fit.
    Not,
}

/// How a sheet of a pattern gets home.
#[must_use]
pub fn ride(work: &SheetWork, pattern: &Pattern, vehicle: Vehicle) -> Ride {
    let Some(sheet) = work.job.sheets.get(pattern.sheet) else { return Ride::Not };
    let [long, wide] = [vehicle.length, vehicle.width].map(|len| work.scale.down(len.value));
    let (long, wide) = (long.max(wide), long.min(wide));
    let (along, across, edge) = match pattern.first {
        Axis::Horizontal => (sheet.width, sheet.height, sheet.trim.bottom),
        Axis::Vertical => (sheet.height, sheet.width, sheet.trim.left),
    };
    let fits = |across: i64| along.max(across) <= long && along.min(across) <= wide;
    if fits(across) {
        return Ride::Whole;
    }
    let kerf = work.job.rules.kerf;
    let (mut from, mut at, mut cuts) = (0, edge, Vec::new());
    for (place, rip) in pattern.rips.iter().enumerate() {
        if !fits(at + rip.width - from) {
            if place == 0 {
                return Ride::Not;
            }
            cuts.push((work.scale.length(at - kerf), place));
            from = at;
            if !fits(rip.width) {
                return Ride::Not;
            }
        }
        at += rip.width + kerf;
    }
    if !fits(across - from) {
        if !fits(across - at) {
            return Ride::Not;
        }
        cuts.push((work.scale.length(at - kerf), pattern.rips.len()));
    }
    Ride::Cut(cuts, work.scale.length(work.rest_across(pattern)))
}
