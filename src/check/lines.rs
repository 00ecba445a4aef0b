//! Shelf lines meet across the units of a run, and printed widths add up.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, Example, code};
use crate::eval::{Carcass, Foot, Mark, Run};
use crate::parts::{Finding, Limit, RunPart};
use crate::quantity::{Length, Round};

code!(
    Warning,
    STEP,
    "C039",
    "lines_step",
    "shelf lines that step from unit to unit",
    "Two units side by side have shelves that lie less than 1 1/2 in (40 mm) apart in height and do not meet: it looks like a mistake \
     (common practice, no source). Units that share one stick share their lines.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, high = 500mm }\nstick other { floor = 80mm, high = 509mm }\nrun one { each unit { width = 600mm, height = 900mm, depth = 300mm }, unit a { shelves = s }, unit b { shelves = other } }\n",
        good: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, high = 500mm }\nrun one { each unit { width = 600mm, height = 900mm, depth = 300mm }, unit a { shelves = s }, unit b { shelves = s } }\n",
    })
);

code!(
    Note,
    ADDS_UP,
    "C040",
    "does_not_add_up",
    "printed widths that miss their printed sum",
    "Sizes are exact until they are printed. Where printed widths miss the printed whole by more than one mark, somebody who adds them \
     up in the room finds a hair too much. Round once: let the units take steps, as `rest to 1/8\"`, and the end gaps the remainder.",
    Some(Example {
        bad: "project { marks = 0.1mm }\nsheet ply { thickness = 18mm }\nstick s { floor = 80mm, high = 500mm }\nrun one { length = 1012.44mm, each unit { shelves = s, width = rest, height = 900mm, depth = 300mm }, unit a, unit b, unit c, unit d, unit e, unit f }\n",
        good: "project { marks = 0.1mm }\nsheet ply { thickness = 18mm }\nstick s { floor = 80mm, high = 500mm }\nrun one { length = 1012.44mm, each unit { shelves = s, width = rest to 0.1mm, height = 900mm, depth = 300mm }, unit a, unit b, unit c, unit d, unit e, unit f }\n",
    })
);

/// The units of every run against each other and against their sum.
pub(super) const CHECK: Check = Check { codes: &[&STEP, &ADDS_UP], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for (stated, run) in subject.model.runs.iter().zip(&subject.graph.runs) {
        steps(subject, report, stated, run);
        adds_up(subject, report, stated, run);
    }
}

/// A mark of a unit, over the level line.
type Line<'a> = (&'a Mark, Length);

/// How far two lines lie apart.
fn apart((_, a): Line<'_>, (_, b): Line<'_>) -> Length {
    a.max(b).checked_sub(a.min(b)).unwrap_or_default()
}

/// The lines of a unit; a base raises them.
fn lines(unit: &Carcass) -> Vec<Line<'_>> {
    let base = if let Foot::Base(base) = unit.foot { base.height.value } else { Length::ZERO };
    unit.marks.iter().filter_map(|mark| Some((mark, mark.height.value.checked_add(base)?))).collect()
}

fn steps(subject: &Subject<'_>, report: &mut Report, stated: &Run, run: &RunPart) {
    let least = subject.usual((3, 2), 400);
    let mut worst: Option<(Length, &Mark, &Mark)> = None;
    for (left, right) in stated.units.iter().zip(stated.units.iter().skip(1)) {
        let (left, right) = (lines(left), lines(right));
        for mark in &left {
            let Some(near) = right.iter().min_by_key(|other| apart(*mark, **other)) else { continue };
            let step = apart(*mark, *near);
            let own = left.iter().map(|other| apart(*other, *near)).min().unwrap_or_default();
            if own == step && !step.is_zero() && worst.is_none_or(|(other, ..)| step < other) {
                worst = Some((step, mark.0, near.0));
            }
        }
    }
    let Some((step, left, right)) = worst else { return };
    let what = "step between shelf lines side by side";
    if report.compare(Finding::new(&STEP, run.path.as_str(), what, step, Limit::AtLeast(least.into()))) {
        return;
    }
    let message = format!(
        "in `{}` two shelf lines side by side are {} apart: `{}` at {} and `{}` at {}",
        run.path,
        subject.print(step),
        left.name,
        subject.print(left.height.value),
        right.name,
        subject.print(right.height.value)
    );
    let diagnostic = subject.at(Diagnostic::new(&STEP, message), right.height, "this line");
    let diagnostic = subject.at(diagnostic, left.height, "and this one").about(run.path.as_str());
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
    let off = sum.max(whole).checked_sub(sum.min(whole)).unwrap_or_default();
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
