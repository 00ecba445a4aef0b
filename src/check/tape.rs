//! A strip covers the edge that it is put on.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Finding, Limit};
use std::collections::BTreeSet;

code!(
    Warning,
    CODE,
    "C131",
    "tape_narrow",
    "a strip on edges that is hardly as wide as they are",
    "A strip stands over its edge on both sides and is trimmed flush: 1/32 in (1 mm) more than the sheet is thick, in all, at least (common \
     practice, no source). A narrower one leaves a raw line wherever it was not laid dead straight.",
    with_example
);

code!(
    Warning,
    RAW,
    "C155",
    "raw_door_edge",
    "doors or fronts of drawers with raw edges, in a unit whose own front edges have a strip",
    "What closes a unit shows its edges more than the unit does: on all four of them whenever it stands open. Where front edges have a \
     strip, doors and fronts have one round (common practice, no source), or their edges are filled, sanded and painted.",
    with_example
);

/// The strip of every unit against its sheet, and what closes it.
pub(super) const CHECK: Check = Check { codes: &[&CODE, &RAW], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    raw_fronts(subject, report);
    for standing in subject.units() {
        let (Some(edge), Some(sheet)) = (&standing.carcass.edge, subject.graph.sheet(standing.unit.sheet))
        else {
            continue;
        };
        let over = subject.usual((1, 32), 10);
        let Some(least) = sheet.thickness.value.checked_add(over) else { continue };
        let path = standing.unit.path.as_str();
        let what = "width of the strip on front edges";
        if report.compare(Finding::new(&CODE, path, what, edge.width.value, Limit::AtLeast(least.into()))) {
            continue;
        }
        let message = format!(
            "`{}` is {} wide on edges {} thick",
            edge.name,
            subject.print(edge.width.value),
            subject.print(sheet.thickness.value)
        );
        let told = Diagnostic::new(&CODE, message).at(edge.head, "this edge").about(path);
        let told = subject.at(told, edge.width, "its width");
        report.tell(told.help(format!("take a strip {} wide or wider", subject.least(least))));
    }
}

/// Doors and fronts of units whose front edges have a strip.
fn raw_fronts(subject: &Subject<'_>, report: &mut Report) {
    let graph = subject.graph;
    let doors = graph.doors.iter().map(|hung| (hung.door, hung.head));
    let drawers = graph.drawers.iter().map(|drawer| (drawer.front, drawer.head));
    let mut seen = BTreeSet::new();
    for (part, head) in doors.chain(drawers) {
        let Some(part) = graph.part(part) else { continue };
        if !part.unit.is_some_and(|unit| graph.taped.contains(&unit)) || !seen.insert((part.unit, head)) {
            continue;
        }
        let raw = usize::from(!graph.banded.contains_key(&part.id));
        let what = "raw fronts of a unit with strips on its edges";
        let limit = Limit::AtMost(0_usize.into());
        if report.compare(Finding::new(&RAW, part.path.as_str(), what, raw, limit)) {
            continue;
        }
        let message = format!("the edges of `{}` are raw, and those of its unit have a strip", part.path);
        let told = Diagnostic::new(&RAW, message).at(head, "").about(part.path.as_str());
        report.tell(told.help("state a strip for them too: `edge`"));
    }
}
