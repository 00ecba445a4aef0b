//! Units that meet something on their wall: each is compared with it, and all that meet it are told at once.

use super::place::at_least;
use crate::check::Report;
use crate::diag::{Code, Diagnostic};
use crate::parts::{Bounds, Unit};
use crate::quantity::Length;

/// A unit and its box.
pub(in crate::check) type Met<'a> = (&'a Unit, Bounds);

/// The units that have less than no room.
pub(in crate::check) fn meet<'m, 'a>(
    units: &'m [Met<'a>],
    room: impl Fn(&Bounds) -> Length,
) -> Vec<&'m Met<'a>> {
    units.iter().filter(|(_, bounds)| room(bounds).is_negative()).collect()
}

/// Compares the room of every unit with none; `told` makes the message about those that meet what is there.
pub(in crate::check) fn keep_clear<'a>(
    report: &mut Report,
    (code, what): (&'static Code, &'static str),
    units: &[Met<'a>],
    room: impl Fn(&Bounds) -> Length,
    told: impl FnOnce(&[&Met<'a>]) -> Diagnostic,
) {
    let met = meet(units, &room);
    if !met.is_empty() {
        report.tell(told(&met));
    }
    for (unit, bounds) in units {
        report.take(at_least(code, &unit.path, what, [room(bounds), Length::ZERO], None));
    }
}
