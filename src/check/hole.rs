//! Holes lie in the wood: clear of edges, of what is housed in the part and of what lies on it.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Bounds, Finding, Hole, Limit, Part, PartId, Role};
use crate::quantity::Length;

code!(
    Error,
    MEETS,
    "C129",
    "hole_meets",
    "a hole that breaks out of its part, or meets another one",
    "A hole for a cable goes through wood and comes out in the open: not through the edge of its part, nor into the end of a shelf that is \
     housed there, a cleat, a divider, a strip or the side of the next unit (geometry). Where both parts are bored in one place it goes \
     on.",
    with_example
);

code!(
    Warning,
    EDGE,
    "C130",
    "hole_near_edge",
    "a hole with little wood beside it",
    "Between a hole, or the flange of its grommet, and an edge stay 3/4 in (20 mm) of wood (common practice, no source): less breaks out \
     under the bit, or the first time somebody pulls at a plug.",
    with_example
);

/// Every hole against its part and against what stands there.
pub(super) const CHECK: Check = Check { codes: &[&MEETS, &EDGE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    // The cup of a hinge lies near the edge, as deep as its hinge says.
    for hole in subject.graph.holes.iter().filter(|hole| hole.depth.is_none()) {
        let Some(part) = subject.graph.part(hole.part) else { continue };
        let (Some(bounds), Some((axes, _))) =
            (subject.graph.hole_bounds(hole, hole.diameter.value), part.measured_from())
        else {
            continue;
        };
        let path = format!("{}.hole.{}", part.path, hole.name);
        let wood = wood_beside(subject, part, axes, &bounds);
        let what = "wood between a hole and the edge of its part";
        let finding = Finding::new(&MEETS, path.as_str(), what, wood, Limit::AtLeast(Length::ZERO.into()));
        if !report.compare(finding) {
            let message = format!("the hole `{}` breaks out of the edge of `{}`", hole.name, part.path);
            let out = Length::ZERO.checked_sub(wood).unwrap_or_default();
            let told = told(subject, Diagnostic::new(&MEETS, message), hole, part);
            report.tell(told.help(format!("move it {} inwards, or more", subject.least(out))));
            continue;
        }
        if let Some(other) = met(subject, hole, part, axes, &bounds) {
            let message = format!("the hole `{}` of `{}` meets `{}`", hole.name, part.path, other.path);
            let told = told(subject, Diagnostic::new(&MEETS, message), hole, part);
            let told = told.help("move it where nothing stands on either face");
            let both =
                matches!(other.role, Role::Side(_) | Role::Back | Role::Counter | Role::Top | Role::Shelf);
            let also = format!("or bore `{}` in the same place", other.path);
            report.tell(if both { told.help(also) } else { told });
            continue;
        }
        near_edge(subject, report, (hole, part), axes, path);
    }
}

/// The least wood between a hole and the edges of its part; negative where it breaks out.
fn wood_beside(subject: &Subject<'_>, part: &Part, axes: [usize; 2], hole: &Bounds) -> Length {
    let Some(bounds) = subject.graph.bounds(part) else { return Length::ZERO };
    let beside = axes.into_iter().filter_map(|axis| {
        let ([low, high], [from, to]) = (*bounds.get(axis)?, *hole.get(axis)?);
        Some(from.checked_sub(low)?.min(high.checked_sub(to)?))
    });
    beside.min().unwrap_or_default()
}

/// What a hole runs into: a part that touches its mouth, or is housed where it is bored.
fn met<'a>(
    subject: &Subject<'a>,
    hole: &Hole,
    part: &Part,
    axes: [usize; 2],
    bounds: &Bounds,
) -> Option<&'a Part> {
    let graph = subject.graph;
    let run = part.unit.and_then(|unit| graph.unit(unit)?.run);
    // What stands in its unit, in those beside it, and before them all.
    let units = run.and_then(|run| graph.run(run)).map_or(&[][..], |run| &run.units);
    let beside = units.windows(2).filter_map(|pair| match *pair {
        [left, right] if Some(left) == part.unit => Some(right),
        [left, right] if Some(right) == part.unit => Some(left),
        _ => None,
    });
    let near = part.unit.into_iter().chain(beside).flat_map(|unit| graph.parts_of(unit));
    let before = run.into_iter().flat_map(|run| graph.parts_of_run(run));
    let mut others = near.chain(before).filter(|other| other.id != part.id && !other.role.is_loose());
    let meets = |other: &&Part| {
        let Some(own) = subject.graph.bounds(other) else { return false };
        let over = (0..3_usize).all(|axis| {
            let (Some([low, high]), Some([from, to])) = (own.get(axis), bounds.get(axis)) else {
                return false;
            };
            // Along the bit it is enough that they touch.
            if axes.contains(&axis) { low < to && from < high } else { low <= to && from <= high }
        });
        over && !bored_too(subject, hole, other.id, axes, bounds)
    };
    others.find(meets)
}

/// Whether another part is bored as wide in the same place.
fn bored_too(subject: &Subject<'_>, hole: &Hole, other: PartId, axes: [usize; 2], bounds: &Bounds) -> bool {
    subject.graph.holes_in(other).any(|own| {
        let own_bounds = subject.graph.hole_bounds(own, own.diameter.value);
        own.diameter.value >= hole.diameter.value
            && own_bounds.is_some_and(|own| {
                axes.into_iter().all(|axis| match (own.get(axis), bounds.get(axis)) {
                    (Some(own), Some(bounds)) => own[0] <= bounds[0] && bounds[1] <= own[1],
                    _ => false,
                })
            })
    })
}

fn near_edge(
    subject: &Subject<'_>,
    report: &mut Report,
    (hole, part): (&Hole, &Part),
    axes: [usize; 2],
    path: String,
) {
    let wide = hole.grommet.map_or(hole.diameter.value, |grommet| grommet.value);
    let Some(bounds) = subject.graph.hole_bounds(hole, wide) else { return };
    let (wood, least) = (wood_beside(subject, part, axes, &bounds), subject.usual((3, 4), 200));
    let what = "wood between a hole or its grommet and the edge";
    if report.compare(Finding::new(&EDGE, path, what, wood, Limit::AtLeast(least.into()))) {
        return;
    }
    let of = if hole.grommet.is_some() { "grommet" } else { "hole" };
    let message = if wood.is_negative() {
        format!("the {of} `{}` hangs over the edge of `{}`", hole.name, part.path)
    } else {
        format!(
            "the {of} `{}` leaves {} of wood at the edge of `{}`",
            hole.name,
            subject.print(wood),
            part.path
        )
    };
    let lack = least.checked_sub(wood).unwrap_or_default();
    let told = told(subject, Diagnostic::new(&EDGE, message), hole, part);
    report.tell(told.help(format!("move it {} inwards", subject.least(lack))));
}

fn told(subject: &Subject<'_>, diagnostic: Diagnostic, hole: &Hole, part: &Part) -> Diagnostic {
    let mut told = diagnostic.at(hole.head, "this hole").about(part.path.as_str());
    for at in hole.at {
        told = subject.at_stated(told, at, "");
    }
    told
}
