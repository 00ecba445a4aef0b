//! Doors close and drawers run without meeting what stands there.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Bounds, Drawer, Finding, Limit, Part, PartId, Role};
use crate::quantity::Length;
use crate::source::Span;

code!(
    Error,
    MEETS,
    "C147",
    "front_meets",
    "a door or a drawer that meets a shelf, a strip or another door where it closes",
    "What stands within an opening takes its own thickness of it: a shelf, a strip, a divider or a loose shelf behind ends before that, \
     and what lies over the edges of two openings leaves room between them (geometry).",
    with_example
);

code!(
    Error,
    BEHIND,
    "C148",
    "drawer_behind",
    "a drawer behind a stile, a strip or a rail",
    "A drawer comes straight out of its opening, as wide and as high as its box: a stile, or a strip that hangs below its shelf, holds in \
     what reaches behind it (geometry).",
    with_example
);

/// Each door and drawer against all that stands in its run.
pub(super) const CHECK: Check = Check { codes: &[&MEETS, &BEHIND], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let graph = subject.graph;
    for hung in &graph.doors {
        let Some(door) = graph.part(hung.door) else { continue };
        closes(subject, report, (door, &door.path, hung.head), &[door.id]);
    }
    for drawer in &graph.drawers {
        let own: Vec<PartId> = drawer.parts().collect();
        let mut parts = own.iter().filter_map(|id| graph.part(*id));
        if parts.all(|part| closes(subject, report, (part, &drawer.path, drawer.head), &own)) {
            comes_out(subject, report, drawer, &own);
        }
    }
}

/// What stands in the unit of a part, and in the others of its run.
fn others<'a>(subject: &Subject<'a>, part: &Part) -> Vec<&'a Part> {
    let graph = subject.graph;
    let run = part.run.and_then(|id| Some((id, graph.run(id)?)));
    let alone = part.unit.filter(|_| run.is_none());
    let units = run.map_or(&[][..], |(_, run)| &run.units).iter().copied().chain(alone);
    let before = run.into_iter().flat_map(|(id, _)| graph.parts_of_run(id));
    units.flat_map(|unit| graph.parts_of(unit)).chain(before).collect()
}

/// How far two boxes lie in each other, in the direction in which they do least; `None` where they do not.
fn overlap(one: &Bounds, other: &Bounds) -> Option<Length> {
    let along = one.iter().zip(other).map(|(one, other)| {
        let both = one[1].min(other[1]).checked_sub(one[0].max(other[0]))?;
        both.is_positive().then_some(both)
    });
    along.collect::<Option<Vec<Length>>>()?.into_iter().min()
}

/// Whether a door or a part of a drawer meets nothing where it is shut; says so where it does.
fn closes(
    subject: &Subject<'_>,
    report: &mut Report,
    (part, path, head): (&Part, &str, Span),
    own: &[PartId],
) -> bool {
    let Some(bounds) = subject.graph.bounds(part) else { return true };
    // What stands before a box is told as that.
    let apart =
        |other: &&Part| own.contains(&other.id) || (part.role.is_drawer_box() && other.role.is_facing());
    let met = others(subject, part).into_iter().filter(|other| !apart(other)).find_map(|other| {
        let deep = overlap(&bounds, &subject.graph.bounds(other)?)?;
        Some((other, deep))
    });
    let deep = met.map_or(Length::ZERO, |(_, deep)| deep);
    let what = "how far a door or a drawer lies in what stands there";
    let limit = Limit::AtMost(Length::ZERO.into());
    if report.compare(Finding::new(&MEETS, path, what, deep, limit)) {
        return true;
    }
    let Some((other, deep)) = met else { return true };
    let word = if part.role == Role::Door { "door" } else { "drawer" };
    let message = format!("the {word} `{path}` meets `{}` where it closes", other.path);
    let told = Diagnostic::new(&MEETS, message).at(head, "").about(path);
    let thick = subject.least(part.size.thickness.value);
    let between = matches!(other.role, Role::Strip | Role::Stile | Role::Shelf | Role::Divider);
    let help = if other.role.is_loose() {
        format!("state a `set_back` of {thick} or more for the loose shelves")
    } else if other.role.is_front() {
        format!("they lie {} in each other: make the `overlay` of both less", subject.print(deep))
    } else if between {
        "close one opening by itself with `between`, or let it lie over the edges: `fit = overlay`".to_owned()
    } else {
        format!("{} is missing: make it smaller, or move what it meets", subject.least(deep))
    };
    report.tell(told.help(help));
    false
}

/// A drawer against what stands before its box.
fn comes_out(subject: &Subject<'_>, report: &mut Report, drawer: &Drawer, own: &[PartId]) {
    let graph = subject.graph;
    let [Some(left), Some(right)] = drawer.sides.map(|id| graph.part(id).and_then(|part| graph.bounds(part)))
    else {
        return;
    };
    let Some(part) = graph.part(drawer.front) else { return };
    let mut way = left;
    way[0][1] = right[0][1];
    // Out of the unit, as far as it is deep.
    way[1][1] = way[1][1].checked_add(drawer.slide.value).unwrap_or(way[1][1]);
    let stands = others(subject, part).into_iter().filter(|other| {
        let moves = other.role.is_front() || other.role.is_drawer_box();
        !own.contains(&other.id) && !moves
    });
    let before = stands.filter_map(|other| Some((other, overlap(&way, &graph.bounds(other)?)?))).next();
    let deep = before.map_or(Length::ZERO, |(_, deep)| deep);
    let what = "how far a drawer lies behind what stands before it";
    let limit = Limit::AtMost(Length::ZERO.into());
    if report.compare(Finding::new(&BEHIND, drawer.path.as_str(), what, deep, limit)) {
        return;
    }
    let Some((other, _)) = before else { return };
    let message = format!("`{}` stands before the drawer `{}`", other.path, drawer.path);
    let told = Diagnostic::new(&BEHIND, message).at(drawer.head, "these drawers").about(drawer.path.as_str());
    report.tell(told.help("its box comes out through the opening: make it lower"));
}
