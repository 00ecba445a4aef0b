//! Corners of the room in which two runs meet.

use super::helpers::place::against;
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, Len};
use crate::parts::{Finding, Limit, RoomCorner};
use crate::quantity::Length;

code!(
    Error,
    CLOSED,
    "C158",
    "corner_closed",
    "a unit in a corner that nothing of stays open",
    "What stands before the front of the unit in a corner covers it by its depth and its facing (geometry). Where that is all of the unit, \
     nobody reaches into it: the run that goes through ends before the corner, or its last unit is wider.",
    with_example
);

code!(
    Warning,
    BLIND,
    "C159",
    "corner_blind",
    "a unit in a corner of which little stays open",
    "Through less than 12 in (300 mm) of clear width nobody reaches what lies in the corner behind it (common practice, no source).",
    with_example
);

code!(
    Warning,
    HIDES,
    "C160",
    "hidden_in_corner",
    "an outlet or register behind the run that goes through to a corner",
    "What is on the wall of one run near the corner lies behind the end of the other one, where it is reached from neither front (geometry): it is moved, \
     or a way to it is cut into the unit in the corner.",
    with_example
);

/// Every corner.
pub(super) const CHECK: Check = Check { codes: &[&CLOSED, &BLIND, &HIDES], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for corner in &subject.graph.corners {
        open(subject, report, corner);
        hidden(subject, report, corner);
    }
}

/// How a corner is told of: at the end that stands before the other run.
fn told(
    subject: &Subject<'_>,
    corner: &RoomCorner,
    diagnostic: Diagnostic,
    blamed: &[(Len, &str)],
) -> Diagnostic {
    let stated = subject.model.runs.get(corner.own.0 as usize);
    let head = stated.and_then(|run| run.ends.get(corner.end)?.head.or(run.head));
    let mut diagnostic = diagnostic;
    if let Some(head) = head {
        diagnostic = diagnostic.at(head, "this end");
    }
    for (len, what) in blamed {
        for span in subject.graph.ledger.spans(len.why) {
            diagnostic = diagnostic.and_at(span, *what);
        }
    }
    diagnostic
}

fn open(subject: &Subject<'_>, report: &mut Report, corner: &RoomCorner) {
    let (Some(blind), Some(own)) = (subject.graph.unit(corner.blind), subject.graph.run(corner.own)) else {
        return;
    };
    let path = blind.path.as_str();
    let what = "what stays open of a unit in a corner";
    let covers = format!("`{}` stands {} before `{path}`", own.path, subject.print(corner.covered.value));
    let blamed = [(corner.covered, "what stands before it"), (blind.width, "the unit in the corner")];
    let least = subject.usual((12, 1), 3000);
    let lacks = least.checked_sub(corner.open.value).unwrap_or_default();
    let wide = subject.least(blind.width.value.checked_add(lacks).unwrap_or_default());
    let help = format!(
        "make `{path}` {wide} wide or wider: then {} let a hand into the corner",
        subject.print(least)
    );
    if !report.compare(Finding::new(
        &CLOSED,
        path,
        what,
        corner.open.value,
        Limit::AtLeast(Length::ZERO.into()),
    )) {
        let message = format!("{covers}, and nothing of that stays open");
        let diagnostic = Diagnostic::new(&CLOSED, message).about(path);
        report.tell(told(subject, corner, diagnostic, &blamed).help(help));
        return;
    }
    if !report.compare(Finding::new(&BLIND, path, what, corner.open.value, Limit::AtLeast(least.into()))) {
        let message = format!("{covers}: {} of its clear width stay open", subject.print(corner.open.value));
        let mut diagnostic =
            told(subject, corner, Diagnostic::new(&BLIND, message).about(path), &blamed).help(help);
        let before = subject.graph.unit(corner.unit);
        let deep = before.and_then(|unit| Some((unit, unit.depth.value.checked_sub(lacks)?)));
        if let Some((unit, deep)) = deep.filter(|(_, deep)| deep.is_positive()) {
            diagnostic =
                diagnostic.help(format!("or make `{}` {} deep or less", unit.path, subject.most(deep)));
        }
        report.tell(diagnostic);
    }
}

/// What is on the wall of the run that ends, behind the one that goes through.
fn hidden(subject: &Subject<'_>, report: &mut Report, corner: &RoomCorner) {
    let own = subject.graph.run(corner.own).map(|run| run.path.as_str());
    let Some(against) = against(subject).into_iter().find(|against| Some(against.run.path.as_str()) == own)
    else {
        return;
    };
    let Some(reach) = against.reach(subject).map(|[along, ..]| along) else { return };
    let [from, to] = match corner.end {
        0 => [Length::ZERO, reach[0]],
        _ => [reach[1], reach[1].checked_add(corner.out.value).unwrap_or(reach[1])],
    };
    let Some(through) = subject.graph.run(corner.through) else { return };
    for obstacle in &against.wall.obstacles {
        let Some([left, right]) = obstacle.along.map(|edges| edges.map(|edge| edge.value)) else { continue };
        let lies = left < to && from < right && obstacle.hangs.is_none();
        if !lies || obstacle.decided == Decided::Remove {
            continue;
        }
        let message =
            format!("the {} `{}` lies behind the end of `{}`", obstacle.word, obstacle.name, through.path);
        let diagnostic = Diagnostic::new(&HIDES, message).at(obstacle.head, "").about(through.path.as_str());
        report.tell(told(subject, corner, diagnostic, &[]).help(
            "move it out of the corner, `decided = remove`, or cut a way to it into the unit that stands there",
        ));
    }
}
