//! Every unit and frame comes in, leg by leg.

use super::helpers::carried::Carried;
use super::helpers::passage::{Passage, Tried, by_room, compared, way_in};
use super::helpers::place::{at_least, length};
use super::{Check, Report, Subject, route_carry};
use crate::diag::{Diagnostic, code};
use crate::eval::{Leg, Way};
use crate::mechanics::carry::Door;
use crate::quantity::Length;

code!(
    Error,
    CODE,
    "C068",
    "route",
    "a unit or frame that does not come in",
    "A unit passes a door by its section, a corner of two halls as long as L <= (a - w cos x)/sin x + (b - w sin x)/cos x \
     at every angle, a flight of stairs under its headroom. It is tried flat on its back, on its side, on its side with one \
     end lifted, and standing where it can be stood up. Estimates: hands, handrails and mouldings need room of their own, so \
     walk the way with a stick as long as the unit. A facing that is joined on the bench comes in as one piece too. A leaf lifted off its hinges gives about 2 in (50 mm) more (common practice, \
     no source).",
    with_example
);

/// Every size of unit and frame against every leg of the routes to its room, and how it is carried round corners.
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

/// One leg against all that is carried: one message, about the one that lacks most.
fn at_leg(subject: &Subject<'_>, report: &mut Report, Tried { leg, things }: &Tried<'_>) {
    let failing = things.iter().filter(|(thing, passage)| !passage.holds(thing)).map(|(thing, _)| thing);
    let failing: Vec<&Carried<'_>> = failing.collect();
    let worst = failing.iter().max_by_key(|thing| (thing.height, thing.width)).map(|thing| &thing.path);
    for (thing, passage) in things {
        // What passes at any length is compared with nothing.
        let longest = passage.longest().filter(|longest| longest.is_finite());
        let fails = !passage.holds(thing);
        if longest.is_none() && !fails {
            continue;
        }
        let longest = compared(longest, thing);
        let told =
            (fails && worst == Some(&thing.path)).then(|| told(subject, leg, (thing, passage), &failing));
        let what = match leg.way {
            Way::Door { .. } => "longest through a door",
            Way::Corner { .. } => "longest past a corner",
            Way::Stair(_) => "longest up a stair",
        };
        report.take(at_least(&CODE, &thing.path, what, [longest, thing.height], told));
    }
}

fn told(
    subject: &Subject<'_>,
    leg: &Leg,
    (thing, passage): (&Carried<'_>, &Passage),
    failing: &[&Carried<'_>],
) -> Diagnostic {
    let passes = match leg.way {
        Way::Door { .. } => "does not go through the",
        Way::Corner { .. } => "does not come round the",
        Way::Stair(_) => "does not go up or down the",
    };
    let message = format!("`{}`, {} long, {passes} {}", thing.path, subject.print(thing.height), leg.title);
    let mut diagnostic = Diagnostic::new(&CODE, message).at(leg.head, "on the way in");
    for thing in failing {
        diagnostic = diagnostic.about(thing.path.as_str());
    }
    if let Some(head) = thing.head {
        let section = [thing.width, thing.depth].map(|len| subject.print(len));
        diagnostic =
            diagnostic.and_at(head, format!("{} wide and {} {}", section[0], section[1], thing.kind.deep()));
    }
    let others: Vec<String> = failing
        .iter()
        .filter(|other| other.path != thing.path)
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
        return diagnostic.help(through(subject, thing, [width.value, height.value]));
    }
    // Of equal ones the first is the easiest.
    let best = finite.filter_map(|(way, longest)| Some((way, length(longest?)?)));
    match best.reduce(|best, other| if other.1 > best.1 { other } else { best }) {
        Some((way, best)) => {
            let mend = thing.kind.shorter();
            diagnostic.help(format!("{} is the longest that does, {way}: {mend}", subject.most(best)))
        }
        None => diagnostic.help(narrower(subject, leg, thing)),
    }
}

/// The longest that passes when it is carried so.
fn line(subject: &Subject<'_>, way: &str, longest: Option<f64>) -> String {
    match longest.and_then(length) {
        Some(longest) => format!("{way}: {} is the longest", subject.most(longest)),
        None => format!("{way}: not at any length"),
    }
}

/// The widest that goes through a door.
fn through(subject: &Subject<'_>, thing: &Carried<'_>, [width, height]: [Length; 2]) -> String {
    let door = Door { width: width.to_mm_f64(), height: height.to_mm_f64() };
    match door.widest(thing.depth.to_mm_f64()).and_then(length) {
        Some(widest) => format!(
            "{} is the widest {} {} {} that goes through; a leaf lifted off its hinges gives about {}",
            subject.most(widest),
            thing.kind.word(),
            subject.print(thing.depth),
            thing.kind.deep(),
            subject.print(subject.usual((2, 1), 500))
        ),
        None => format!("nothing {} {} goes through", subject.print(thing.depth), thing.kind.deep()),
    }
}

/// Where no length passes, the section is too large.
fn narrower(subject: &Subject<'_>, leg: &Leg, thing: &Carried<'_>) -> String {
    let narrow = match &leg.way {
        Way::Corner { entry, exit, .. } => entry.value.min(exit.value),
        Way::Stair(stairs) => stairs.width.value,
        Way::Door { width, .. } => width.value,
    };
    let section = thing.width.min(thing.depth);
    if section > narrow {
        return format!("the way is {} wide: {}", subject.print(narrow), thing.kind.narrower());
    }
    let side = subject.least(thing.width.max(thing.depth));
    format!("it would need {side} of height there: {}", thing.kind.narrower())
}
