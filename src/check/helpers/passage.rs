//! How each unit and frame passes each leg of the ways to its room: worked out once, for all that is told of it.

use super::carried::Carried;
use super::place::length;
use crate::check::Subject;
use crate::eval::{Leg, Len, Stairs, Turn, Way};
use crate::mechanics::carry::{Attitude, Door, Hall, Landing, Stair};
use crate::mechanics::corner::Corner;
use crate::mechanics::standing;
use crate::quantity::Length;
use std::collections::{BTreeMap, BTreeSet};

/// What floating-point numbers are off by at most, in millimetres.
const SLACK: f64 = 1e-6;

/// A leg of a route, and how one of each size of what is carried passes it.
pub(in crate::check) struct Tried<'a> {
    pub leg: &'a Leg,
    pub things: Vec<(Carried<'a>, Passage)>,
}

/// The routes to a room, each leg by leg.
pub(in crate::check) type Routes<'a> = Vec<Vec<Tried<'a>>>;

/// The first route that all pass.
pub(in crate::check) fn way_in<'r, 'a>(routes: &'r Routes<'a>) -> Option<&'r [Tried<'a>]> {
    let passes = |leg: &Tried<'_>| leg.things.iter().all(|(thing, passage)| passage.holds(thing));
    routes.iter().map(Vec::as_slice).find(|legs| legs.iter().all(passes))
}

/// The routes to each room, tried with one of each size of what is carried there; a carcass that stands alone goes to the
/// only room that has a route.
pub(in crate::check) fn by_room<'a>(subject: &Subject<'a>) -> Vec<Routes<'a>> {
    let mut rooms: BTreeMap<&str, Vec<&'a [Leg]>> = BTreeMap::new();
    for route in &subject.model.routes {
        rooms.entry(&route.room).or_default().push(&route.legs);
    }
    let only = rooms.len() == 1;
    let all = subject.carried();
    let goes = |room: &str| {
        let mut seen = BTreeSet::new();
        let here = all.iter().filter(|thing| match thing.wall {
            Some(wall) => wall.name.strip_prefix(room).is_some_and(|rest| rest.starts_with('.')),
            None => only,
        });
        let new = here.filter(|thing| seen.insert((thing.kind, thing.height, thing.width, thing.depth)));
        new.cloned().collect::<Vec<Carried<'a>>>()
    };
    let rooms = rooms.into_iter().map(|(room, routes)| {
        let things = goes(room);
        let tried = |leg: &'a Leg| Tried {
            leg,
            things: things.iter().map(|thing| (thing.clone(), Passage::of(leg, thing))).collect(),
        };
        routes.into_iter().map(|legs| legs.iter().map(tried).collect()).collect()
    });
    rooms.collect()
}

/// What passes a leg with the width and depth of what is carried, in millimetres.
pub(in crate::check) struct Passage {
    /// The longest, by the way in which it is carried; `None` where none passes.
    pub ways: Vec<(&'static str, Option<f64>)>,
}

impl Passage {
    pub fn of(leg: &Leg, thing: &Carried<'_>) -> Self {
        let [width, depth, height] = [thing.width, thing.depth, thing.height].map(Length::to_mm_f64);
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

    pub fn holds(&self, thing: &Carried<'_>) -> bool {
        reaches(self.longest(), thing)
    }
}

/// Whether the longest that passes is no shorter than what is carried.
pub(in crate::check) fn reaches(longest: Option<f64>, thing: &Carried<'_>) -> bool {
    longest.is_some_and(|longest| thing.height.to_mm_f64() <= longest + SLACK)
}

/// The longest that passes as it is compared with what is carried: no shorter than what just passes.
pub(in crate::check) fn compared(longest: Option<f64>, thing: &Carried<'_>) -> Length {
    let exact = longest.and_then(length).unwrap_or_default();
    if reaches(longest, thing) { exact.max(thing.height) } else { exact }
}

fn mm(len: Len) -> f64 {
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
                let room = ceiling - standing::CLEARANCE_MM;
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

fn turned(turn: Turn, width: Len) -> f64 {
    match turn {
        Turn::Quarter(onward) | Turn::Half(_, onward) => mm(onward),
        Turn::Straight => mm(width),
    }
}
