//! Every unit comes in, leg by leg.

use super::passage::{Passage, Tried, by_room, compared, way_in};
use super::place::{at_least, length};
use super::{Check, Report, Subject, route_carry};
use crate::diag::{Diagnostic, Example, code};
use crate::eval::{Leg, Way};
use crate::mechanics::carry::Door;
use crate::parts::Unit;
use crate::quantity::Length;

code!(
    Error,
    CODE,
    "C068",
    "route",
    "a unit that does not come in",
    "A unit passes a door by its section, a corner of two halls as long as L <= (a - w cos x)/sin x + (b - w sin x)/cos x \
     at every angle, a flight of stairs under its headroom. It is tried flat on its back, on its side, on its side with one \
     end lifted, and standing where it can be stood up. Estimates: hands, handrails and mouldings need room of their own, so \
     walk the way with a stick as long as the unit. A leaf lifted off its hinges gives about 2 in (50 mm) more (common practice, \
     no source).",
    Some(Example {
        bad: "room r {\n  wall w { right = open, reading low { back = 31\", front = 31\" } }\n  route yard { corner hall { entry = 30\", exit = 30\", ceiling = 84\" } }\n}\nsheet ply { thickness = 23/32\" }\nstick s { floor = 3\", folios = 20\" }\nrun shelves { along = r.w, end left { gap = 1\" }, unit a { shelves = s, width = rest, height = 90\", depth = 11\" } }\n",
        good: "room r {\n  wall w { right = open, reading low { back = 31\", front = 31\" } }\n  route yard { corner hall { entry = 54\", exit = 60\", ceiling = 84\" } }\n}\nsheet ply { thickness = 23/32\" }\nstick s { floor = 3\", folios = 20\" }\nrun shelves { along = r.w, end left { gap = 1\" }, unit a { shelves = s, width = rest, height = 90\", depth = 11\" } }\n",
    })
);

/// Every size of unit against every leg of the routes to its room, and how it is carried round corners.
pub(super) const CHECK: Check = Check { codes: &[&CODE, &route_carry::CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for routes in by_room(subject) {
        // One route that every unit passes is enough.
        let Some(way) = way_in(&routes) else {
            routes.iter().flatten().for_each(|tried| at_leg(subject, report, tried));
            continue;
        };
        for tried in way {
            at_leg(subject, report, tried);
            route_carry::at(subject, report, tried);
        }
    }
}

/// One leg against all units: one message, about the one that lacks most.
fn at_leg(subject: &Subject<'_>, report: &mut Report, Tried { leg, units }: &Tried<'_>) {
    let failing = units.iter().filter(|(unit, passage)| !passage.holds(unit)).map(|(unit, _)| *unit);
    let failing: Vec<&Unit> = failing.collect();
    let worst =
        failing.iter().max_by_key(|unit| (unit.height.value, unit.width.value)).map(|unit| &unit.path);
    for (unit, passage) in units {
        // What passes at any length is compared with nothing.
        let longest = passage.longest().filter(|longest| longest.is_finite());
        let fails = !passage.holds(unit);
        if longest.is_none() && !fails {
            continue;
        }
        let longest = compared(longest, unit);
        let told =
            (fails && worst == Some(&unit.path)).then(|| told(subject, leg, (unit, passage), &failing));
        let what = match leg.way {
            Way::Door { .. } => "longest through a door",
            Way::Corner { .. } => "longest past a corner",
            Way::Stair(_) => "longest up a stair",
        };
        report.take(at_least(&CODE, &unit.path, what, [longest, unit.height.value], told));
    }
}

fn told(
    subject: &Subject<'_>,
    leg: &Leg,
    (unit, passage): (&Unit, &Passage),
    failing: &[&Unit],
) -> Diagnostic {
    let passes = match leg.way {
        Way::Door { .. } => "does not go through the",
        Way::Corner { .. } => "does not come round the",
        Way::Stair(_) => "does not go up or down the",
    };
    let message =
        format!("`{}`, {} long, {passes} {}", unit.path, subject.print(unit.height.value), leg.title);
    let mut diagnostic = Diagnostic::new(&CODE, message).at(leg.head, "on the way in");
    for unit in failing {
        diagnostic = diagnostic.about(unit.path.as_str());
    }
    if let Some(head) = unit.head {
        let section = [unit.width, unit.depth].map(|len| subject.print(len.value));
        diagnostic = diagnostic.and_at(head, format!("{} wide and {} deep", section[0], section[1]));
    }
    let others: Vec<String> = failing
        .iter()
        .filter(|other| other.path != unit.path)
        .map(|other| format!("`{}`", other.path))
        .collect();
    if !others.is_empty() {
        diagnostic = diagnostic.note(format!("nor do {}", others.join(", ")));
    }
    let finite =
        passage.ways.iter().map(|(way, longest)| (*way, longest.filter(|longest| longest.is_finite())));
    if !matches!(leg.way, Way::Door { .. }) {
        let lines: Vec<String> = finite.clone().map(|(way, longest)| line(subject, way, longest)).collect();
        diagnostic = diagnostic.note(lines.join("\n"));
    }
    if let Way::Door { width, height } = leg.way {
        return diagnostic.help(through(subject, unit, [width.value, height.value]));
    }
    // Of equal ones the first is the easiest.
    let best = finite.filter_map(|(way, longest)| Some((way, length(longest?)?)));
    match best.reduce(|best, other| if other.1 > best.1 { other } else { best }) {
        Some((way, best)) => diagnostic.help(format!(
            "{} is the longest that does, {way}: make two boxes of it, or a base and a box on that",
            subject.most(best)
        )),
        None => diagnostic.help(narrower(subject, leg, unit)),
    }
}

/// The longest that passes when it is carried so.
fn line(subject: &Subject<'_>, way: &str, longest: Option<f64>) -> String {
    match longest.and_then(length) {
        Some(longest) => format!("{way}: {} is the longest", subject.most(longest)),
        None => format!("{way}: not at any length"),
    }
}

/// The widest unit that goes through a door.
fn through(subject: &Subject<'_>, unit: &Unit, [width, height]: [Length; 2]) -> String {
    let door = Door { width: width.to_mm_f64(), height: height.to_mm_f64() };
    match door.widest(unit.depth.value.to_mm_f64()).and_then(length) {
        Some(widest) => format!(
            "{} is the widest unit {} deep that goes through; a leaf lifted off its hinges gives about {}",
            subject.most(widest),
            subject.print(unit.depth.value),
            subject.print(subject.usual((2, 1), 500))
        ),
        None => format!("nothing {} deep goes through", subject.print(unit.depth.value)),
    }
}

/// Where no length passes, the section is too large.
fn narrower(subject: &Subject<'_>, leg: &Leg, unit: &Unit) -> String {
    let narrow = match &leg.way {
        Way::Corner { entry, exit, .. } => entry.value.min(exit.value),
        Way::Stair(stairs) => stairs.width.value,
        Way::Door { width, .. } => width.value,
    };
    let section = unit.width.value.min(unit.depth.value);
    if section > narrow {
        return format!(
            "the way is {} wide: build it in the room, or in narrower boxes",
            subject.print(narrow)
        );
    }
    let side = subject.least(unit.width.value.max(unit.depth.value));
    format!("it would want {side} of height there: build it in the room, or in narrower boxes")
}
