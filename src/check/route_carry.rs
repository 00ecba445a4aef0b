//! Where a unit comes in only when it is carried in one way.

use super::place::{at_least, length};
use super::route::{Passage, by_room, way_in};
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, Example, code};
use crate::eval::{Leg, Way};
use crate::parts::{Finding, Unit};

code!(
    Note,
    CODE,
    "C069",
    "route_carry",
    "a leg that a unit passes neither flat nor on its side",
    "Flat on its back or on its side a unit is carried most easily. Where it comes round a corner only with one end lifted, or \
     upright, the people who carry it should know that before they stand there.",
    Some(Example {
        bad: "room r {\n  wall w { right = open, reading low { back = 31\", front = 31\" } }\n  route yard { corner hall { entry = 36\", exit = 36\", ceiling = 96\" } }\n}\nsheet ply { thickness = 23/32\" }\nstick s { floor = 3\", folios = 20\" }\nrun shelves { along = r.w, end left { gap = 1\" }, unit a { shelves = s, width = rest, height = 90\", depth = 11\" } }\n",
        good: "room r {\n  wall w { right = open, reading low { back = 31\", front = 31\" } }\n  route yard { corner hall { entry = 54\", exit = 60\", ceiling = 96\" } }\n}\nsheet ply { thickness = 23/32\" }\nstick s { floor = 3\", folios = 20\" }\nrun shelves { along = r.w, end left { gap = 1\" }, unit a { shelves = s, width = rest, height = 90\", depth = 11\" } }\n",
    })
);

/// Every size of unit against every corner that it passes.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for (routes, units) in by_room(subject) {
        let Some(route) = way_in(&routes, &units) else { continue };
        for leg in route.legs.iter().filter(|leg| matches!(leg.way, Way::Corner { .. })) {
            let tallest = units.iter().max_by_key(|unit| unit.height.value);
            if let Some(found) = tallest.and_then(|unit| at(subject, leg, unit)) {
                report.take(found);
            }
        }
    }
}

fn at(subject: &Subject<'_>, leg: &Leg, unit: &Unit) -> Option<(Finding, Option<Diagnostic>)> {
    let passage = Passage::of(leg, unit);
    let height = unit.height.value.to_mm_f64();
    let (easy, other) = passage.ways.split_at_checked(2)?;
    let longest = easy.iter().filter_map(|(_, longest)| *longest).max_by(f64::total_cmp);
    let value = longest.and_then(length).unwrap_or_default();
    let told = longest.is_none_or(|longest| longest < height).then(|| {
        let ways = other.iter().filter(|(_, longest)| longest.is_some_and(|longest| height <= longest));
        let ways: Vec<&str> = ways.map(|(way, _)| *way).collect();
        let ways = ways.join(" or ");
        let message = format!("`{}` comes round the {} only {ways}", unit.path, leg.title);
        let flat = easy.iter().filter_map(|(way, longest)| Some((way, length((*longest)?)?)));
        let lines: Vec<String> = flat
            .map(|(way, longest)| format!("{way}, {} is the longest past it", subject.most(longest)))
            .collect();
        let mut diagnostic = Diagnostic::new(&CODE, message).at(leg.head, "").about(unit.path.as_str());
        if !lines.is_empty() {
            diagnostic = diagnostic.note(lines.join("\n"));
        }
        diagnostic.help(format!("carry it {ways} there, or make two boxes of it"))
    });
    let what = "longest past a corner, flat or on its side";
    Some(at_least(&CODE, &unit.path, what, [value, unit.height.value], told))
}
