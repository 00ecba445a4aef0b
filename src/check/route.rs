//! Every unit comes in, leg by leg.

use super::place::{at_least, length};
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, Example, code};
use crate::eval::{Leg, Route, Stairs, Turn, Way};
use crate::mechanics::carry::{Attitude, Door, Hall, Landing, Stair};
use crate::mechanics::corner::Corner;
use crate::mechanics::standing;
use crate::parts::Unit;
use crate::quantity::Length;
use std::collections::BTreeMap;

code!(
    Error,
    CODE,
    "C068",
    "route",
    "a unit that does not come in",
    "A unit passes a door by its section, a corner of two halls as long as L <= (a - w cos x)/sin x + (b - w sin x)/cos x \
     at every angle, a flight of stairs under its headroom. It is tried flat on its back, on its side, on its side with one \
     end lifted, and standing where it can be stood up. Estimates: hands, handrails and mouldings need room of their own, so \
     walk the way with a stick as long as the unit.",
    Some(Example {
        bad: "room r {\n  wall w { right = open, reading low { back = 31\", front = 31\" } }\n  route yard { corner hall { entry = 30\", exit = 30\", ceiling = 84\" } }\n}\nsheet ply { thickness = 23/32\" }\nstick s { floor = 3\", folios = 20\" }\nrun shelves { along = r.w, end left { gap = 1\" }, unit a { shelves = s, width = rest, height = 90\", depth = 11\" } }\n",
        good: "room r {\n  wall w { right = open, reading low { back = 31\", front = 31\" } }\n  route yard { corner hall { entry = 54\", exit = 60\", ceiling = 84\" } }\n}\nsheet ply { thickness = 23/32\" }\nstick s { floor = 3\", folios = 20\" }\nrun shelves { along = r.w, end left { gap = 1\" }, unit a { shelves = s, width = rest, height = 90\", depth = 11\" } }\n",
    })
);

/// What floating-point numbers are off by at most, in millimetres.
const SLACK: f64 = 1e-6;

/// Every size of unit against every leg of the routes to its room.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for (routes, units) in by_room(subject) {
        // One route that every unit passes is enough.
        let ways = way_in(&routes, &units).map_or(routes, |way| vec![way]);
        for leg in ways.iter().flat_map(|route| &route.legs) {
            at_leg(subject, report, leg, &units);
        }
    }
}

/// The first route that all units pass.
pub(super) fn way_in<'a>(routes: &[&'a Route], units: &[&Unit]) -> Option<&'a Route> {
    let passes = |route: &Route| {
        units.iter().all(|unit| route.legs.iter().all(|leg| Passage::of(leg, unit).holds(unit)))
    };
    routes.iter().copied().find(|route| passes(route))
}

/// The routes to each room, and one of each size of unit that goes there; a carcass that stands alone goes to the only room
/// that has a route.
pub(super) fn by_room<'a>(subject: &Subject<'a>) -> Vec<(Vec<&'a Route>, Vec<&'a Unit>)> {
    let mut rooms: BTreeMap<&str, (Vec<&Route>, Vec<&Unit>)> = BTreeMap::new();
    for route in &subject.model.routes {
        rooms.entry(&route.room).or_default().0.push(route);
    }
    let only = rooms.len() == 1;
    for (room, (_, units)) in &mut rooms {
        let mut seen = std::collections::BTreeSet::new();
        for (index, unit) in subject.graph.units.iter().enumerate() {
            let run = subject.graph.runs.iter().find(|run| run.units.iter().any(|id| id.0 as usize == index));
            let wall = run.and_then(|run| subject.model.walls.get(run.wall?));
            let here = match wall {
                Some(wall) => wall.name.strip_prefix(*room).is_some_and(|rest| rest.starts_with('.')),
                None => only,
            };
            if here && seen.insert([unit.height.value, unit.width.value, unit.depth.value]) {
                units.push(unit);
            }
        }
    }
    rooms.into_values().collect()
}

/// What passes a leg with the width and depth of a unit, in millimetres.
pub(super) struct Passage {
    /// The longest, by the way in which it is carried; `None` where none passes.
    pub ways: Vec<(&'static str, Option<f64>)>,
}

impl Passage {
    pub fn of(leg: &Leg, unit: &Unit) -> Self {
        let [width, depth, height] = [unit.width, unit.depth, unit.height].map(|len| len.value.to_mm_f64());
        let ways = match &leg.way {
            Way::Door { width: clear, height: high } => {
                let door = Door { width: mm(*clear), height: mm(*high) };
                // Carried straight through, a section leads and the length is free; standing, its height is a side of it.
                let free = |passes: bool| passes.then_some(f64::INFINITY);
                let standing = if door.passes(height, depth) || door.passes(height, width) {
                    Some(height)
                } else {
                    None
                };
                vec![("lying", free(door.passes(width, depth))), ("standing", standing)]
            }
            Way::Corner { entry, exit, ceiling } => {
                corner(mm(*entry), mm(*exit), mm(*ceiling), [width, depth])
            }
            Way::Stair(stairs) => stair(stairs, [width, depth]),
        };
        Self { ways }
    }

    /// The longest that passes in any way.
    pub fn longest(&self) -> Option<f64> {
        self.ways.iter().filter_map(|(_, longest)| *longest).max_by(f64::total_cmp)
    }

    pub fn holds(&self, unit: &Unit) -> bool {
        self.longest().is_some_and(|longest| unit.height.value.to_mm_f64() <= longest + SLACK)
    }
}

fn mm(len: crate::eval::Len) -> f64 {
    len.value.to_mm_f64()
}

fn corner(entry: f64, exit: f64, ceiling: f64, [width, depth]: [f64; 2]) -> Vec<(&'static str, Option<f64>)> {
    let hall = Hall { corner: Corner { entry, exit }, ceiling };
    let all = Attitude::ALL.into_iter().map(|attitude| {
        let tallest = hall.tallest_unit(attitude, width, depth);
        match attitude {
            Attitude::Flat => ("flat", tallest),
            Attitude::OnEdge => ("on its side", tallest),
            Attitude::Lifted => ("on its side with one end lifted", tallest),
            // It has to be stood up in the hall.
            Attitude::Upright => {
                let room = ceiling - standing::CLEARANCE_INCHES * 25.4;
                ("upright", tallest.and(standing::tallest(room, width.min(depth))))
            }
        }
    });
    all.collect()
}

fn stair(stairs: &Stairs, [width, depth]: [f64; 2]) -> Vec<(&'static str, Option<f64>)> {
    let landing = match stairs.turn {
        Turn::Straight | Turn::Quarter(_) => Landing::Quarter { onward: turned(stairs.turn, stairs.width) },
        Turn::Half(depth, onward) => Landing::Half { depth: mm(depth), onward: mm(onward) },
    };
    let stair = Stair {
        width: mm(stairs.width),
        rise: mm(stairs.rise),
        going: mm(stairs.going),
        headroom: mm(stairs.headroom),
        landing,
        landing_ceiling: mm(stairs.ceiling),
    };
    if let Turn::Straight = stairs.turn {
        let flight = Door { width: stair.width, height: stair.flight_clearance() + SLACK };
        return vec![("lying along the flight", flight.passes(width, depth).then_some(f64::INFINITY))];
    }
    vec![
        ("flat with one end lifted", stair.tallest_unit(depth, width)),
        ("on its side with one end lifted", stair.tallest_unit(width, depth)),
    ]
}

fn turned(turn: Turn, width: crate::eval::Len) -> f64 {
    match turn {
        Turn::Quarter(onward) | Turn::Half(_, onward) => mm(onward),
        Turn::Straight => mm(width),
    }
}

/// One leg against all units: one message, about the one that lacks most.
fn at_leg(subject: &Subject<'_>, report: &mut Report, leg: &Leg, units: &[&Unit]) {
    let passages = units.iter().map(|unit| (*unit, Passage::of(leg, unit)));
    let failing: Vec<&Unit> =
        passages.clone().filter(|(unit, passage)| !passage.holds(unit)).map(|(unit, _)| unit).collect();
    let worst =
        failing.iter().max_by_key(|unit| (unit.height.value, unit.width.value)).map(|unit| &unit.path);
    for (unit, passage) in passages {
        // What passes at any length is compared with nothing.
        let longest = passage.longest().filter(|longest| longest.is_finite());
        let fails = !passage.holds(unit);
        if longest.is_none() && !fails {
            continue;
        }
        let longest = longest.and_then(length).unwrap_or_default();
        let told =
            (fails && worst == Some(&unit.path)).then(|| told(subject, leg, (unit, &passage), &failing));
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
