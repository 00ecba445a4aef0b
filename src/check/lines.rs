//! Shelf lines meet across the units of a run, and printed widths add up.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::Run;
use crate::parts::{Finding, Limit, Part, Role, RunPart, UnitId};
use crate::quantity::{Length, Round};

code!(
    Warning,
    STEP,
    "C039",
    "lines_step",
    "shelf lines that step from unit to unit",
    "Two units side by side have shelves that lie less than 1 1/2 in (40 mm) apart in height and do not meet: it looks like a mistake \
     (common practice, no source). Units that share one stick share their lines.",
    with_example
);

code!(
    Note,
    ADDS_UP,
    "C040",
    "does_not_add_up",
    "printed widths that miss their printed sum",
    "Sizes are exact until they are printed. Where printed widths miss the printed whole by more than one mark, somebody who adds \
     them up in the room finds a hair too much (arithmetic). Round once: let the units take steps, as `rest to 1/8\"`, and the end \
     gaps the remainder.",
    with_example
);

/// The units of every run against each other and against their sum.
pub(super) const CHECK: Check = Check { codes: &[&STEP, &ADDS_UP], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for (stated, run) in subject.model.runs.iter().zip(&subject.graph.runs) {
        steps(subject, report, run);
        adds_up(subject, report, stated, run);
    }
}

/// A fixed shelf between the sides of a unit, and its underside over the level line.
type Line<'a> = (&'a Part, Length);

/// How far two lines lie apart.
fn apart((_, a): Line<'_>, (_, b): Line<'_>) -> Length {
    a.apart(b).unwrap_or_default()
}

fn lines<'a>(subject: &Subject<'a>, unit: UnitId) -> Vec<Line<'a>> {
    let in_bays = subject.graph.in_bays(unit);
    let own = |part: &&'a Part| part.role == Role::Shelf && !in_bays.contains(&part.id);
    let shelves = subject.graph.parts_of(unit).filter(own);
    shelves.filter_map(|part| Some((part, subject.graph.bounds(part)?[2][0]))).collect()
}

fn steps(subject: &Subject<'_>, report: &mut Report, run: &RunPart) {
    let least = subject.usual((3, 2), 400);
    let mut worst: Option<(Length, Line<'_>, Line<'_>)> = None;
    for [left, right] in run.seams() {
        let (left, right) = (lines(subject, left), lines(subject, right));
        for line in &left {
            let Some(near) = right.iter().min_by_key(|other| apart(*line, **other)) else { continue };
            let step = apart(*line, *near);
            let own = left.iter().map(|other| apart(*other, *near)).min().unwrap_or_default();
            if own == step && !step.is_zero() && worst.is_none_or(|(other, ..)| step < other) {
                worst = Some((step, *line, *near));
            }
        }
    }
    let Some((step, (left, low), (right, high))) = worst else { return };
    let what = "step between shelf lines side by side";
    if report.compare(Finding::new(&STEP, run.path.as_str(), what, step, Limit::AtLeast(least.into()))) {
        return;
    }
    let message = format!(
        "in `{}` two shelf lines side by side are {} apart: `{}` at {} and `{}` at {}",
        run.path,
        subject.print(step),
        left.path,
        subject.print(low),
        right.path,
        subject.print(high)
    );
    let diagnostic = subject.at(Diagnostic::new(&STEP, message), right.place.z, "this line");
    let diagnostic = subject.at(diagnostic, left.place.z, "and this one").about(run.path.as_str());
    report.tell(diagnostic.help(format!(
        "let both units use one mark, or set the lines {} or more apart",
        subject.print(least)
    )));
}

fn adds_up(subject: &Subject<'_>, report: &mut Report, stated: &Run, run: &RunPart) {
    let marks = subject.marks();
    let round = |length: Length| marks.round(length, Round::Nearest);
    let units = run.units.iter().filter_map(|id| subject.graph.unit(*id));
    let sum = units.filter_map(|unit| round(unit.width.value)).try_fold(Length::ZERO, Length::checked_add);
    let (Some(sum), Some(whole)) = (sum, round(run.total_width.value)) else { return };
    let off = sum.apart(whole).unwrap_or_default();
    let what = "printed widths against their printed sum";
    let limit = Limit::AtMost(marks.step().into());
    if report.compare(Finding::new(&ADDS_UP, run.path.as_str(), what, off, limit)) {
        return;
    }
    let message = format!(
        "the printed widths of `{}` add up to {}, the whole prints as {}",
        run.path,
        subject.print(sum),
        subject.print(whole)
    );
    let diagnostic = subject.at_head(Diagnostic::new(&ADDS_UP, message), stated.head, "this run");
    let step = subject.step();
    report.tell(diagnostic.about(run.path.as_str()).help(format!(
        "round once: let the units take `rest to {}`, and the end gaps what is left",
        subject.write(step)
    )));
}
