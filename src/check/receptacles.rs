//! Receptacles along the wall that is left.

use super::helpers::place::{against, stretch};
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, InWall, Return, Wall};
use crate::parts::{Finding, Limit};
use crate::quantity::Length;

code!(
    Note,
    CODE,
    "C070",
    "receptacle_spacing",
    "a stretch of wall far from any receptacle",
    "No point along the floor of a wall space is more than 6 ft from a receptacle; a space of 2 ft or more counts, and built-in \
     cabinets break it (NEC 210.52(A)). The local code and a licensed electrician decide.",
    with_example
);

/// What runs leave of each wall whose outlets are stated.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let limits = [subject.usual((24, 1), 6100), subject.usual((72, 1), 18300)];
    for (index, wall) in subject.model.walls.iter().enumerate() {
        let outlets = || wall.obstacles.iter().filter(|obstacle| obstacle.word == "outlet");
        let taken = taken(subject, index, wall);
        if outlets().next().is_none() || taken.is_empty() || wall.returns.contains(&Return::Open) {
            continue;
        }
        let kept = outlets().filter(|outlet| outlet.decided != Decided::Remove);
        let kept: Vec<Length> = kept.filter_map(|outlet| outlet.along).map(|[left, _]| left.value).collect();
        let widths = wall.readings.iter().filter_map(|reading| reading.back);
        let Some(end) = widths.map(|width| width.value).max() else { continue };
        for space in spaces(end, &taken, limits[0]) {
            // Where there is no receptacle at all, the space itself is too long.
            let (what, value, limit) = match farthest(space, &kept) {
                Some(far) => ("from a receptacle to the farthest point of its wall space", far, limits[1]),
                None => {
                    let length = space[1].checked_sub(space[0]).unwrap_or_default();
                    ("a wall space without a receptacle", length, limits[0])
                }
            };
            let told =
                (value > limit).then(|| told(subject, wall, space, (farthest(space, &kept), limits[1])));
            let finding = Finding::new(&CODE, &*wall.name, what, value, Limit::AtMost(limit.into()));
            report.take((finding, told));
        }
    }
}

/// What runs and doors take of a wall, from left to right; empty where no run stands there.
fn taken(subject: &Subject<'_>, index: usize, wall: &Wall) -> Vec<[Length; 2]> {
    let runs = against(subject);
    let runs = runs.iter().filter(|against| against.run.wall == Some(index));
    let units = runs.flat_map(|against| against.units(subject));
    let mut taken: Vec<[Length; 2]> = units.map(|(_, bounds)| bounds[0]).collect();
    if taken.is_empty() {
        return taken;
    }
    let doors = wall.openings.iter().filter(|opening| {
        opening.wall == InWall::This && opening.decided != Decided::Remove && opening.up[0].value.is_zero()
    });
    taken.extend(doors.map(|door| door.along.map(|len| len.value)));
    taken.sort_unstable();
    taken
}

/// The wall spaces between what is taken, as long as count.
fn spaces(end: Length, taken: &[[Length; 2]], least: Length) -> Vec<[Length; 2]> {
    let (mut spaces, mut at) = (Vec::new(), Length::ZERO);
    for [left, right] in taken.iter().copied().chain([[end; 2]]) {
        if left.checked_sub(at).is_some_and(|room| room >= least) {
            spaces.push([at, left]);
        }
        at = at.max(right);
    }
    spaces
}

/// How far the farthest point of a wall space is from the nearest receptacle in it; `None` where there is none.
fn farthest([from, to]: [Length; 2], outlets: &[Length]) -> Option<Length> {
    let mut inside: Vec<Length> = outlets.iter().copied().filter(|at| from <= *at && *at <= to).collect();
    inside.sort_unstable();
    let first = inside.first()?.checked_sub(from)?;
    let last = to.checked_sub(*inside.last()?)?;
    let between = inside.iter().zip(inside.iter().skip(1));
    let half = |(left, right): (&Length, &Length)| right.checked_sub(*left)?.checked_div(2.into());
    between.filter_map(half).chain([first, last]).max()
}

fn told(
    subject: &Subject<'_>,
    wall: &Wall,
    space: [Length; 2],
    (far, limit): (Option<Length>, Length),
) -> Diagnostic {
    let place = stretch(subject, space);
    let message = match far {
        Some(far) => {
            format!("a point of the wall {place} is {} from the nearest receptacle", subject.print(far))
        }
        None => format!("the wall {place} has no receptacle that is stated and stays"),
    };
    Diagnostic::new(&CODE, message).at(wall.head, "this wall").about(wall.name.as_ref()).help(format!(
        "{} is the usual limit in a wall space; ask a licensed electrician, the local code decides",
        subject.print(limit)
    ))
}
