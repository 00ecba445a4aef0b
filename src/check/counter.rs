//! A counter over spaces: what stands under it goes in, and it does not hang in the air.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::Thing;
use crate::parts::{Bounds, Finding, Limit, Part, Role, SpacePart};
use crate::quantity::Length;

code!(
    Error,
    UNDER,
    "C132",
    "does_not_go_under",
    "a thing that is too high for the counter over it",
    "What stands in a space under a counter needs its own height and its play up to the underside of that (geometry): else it \
     stands before it for ever.",
    with_example
);

code!(
    Warning,
    SPAN,
    "C133",
    "counter_span",
    "a counter that spans a wide space without support",
    "A bare panel of 3/4 in (18 mm) is comfortable over 24 to 30 in (600 to 760 mm, common practice, no source); somebody leans or sits on \
     a counter. Over a wider space it wants a support: a unit, a post, or a rail on the wall and one under its front edge.",
    with_example
);

/// The counters of every run over its spaces.
pub(super) const CHECK: Check = Check { codes: &[&UNDER, &SPAN], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for (stated, (id, run)) in subject.model.runs.iter().zip(subject.graph.numbered_runs()) {
        let counters = subject.graph.parts_of_run(id).filter(|part| part.role == Role::Counter);
        let counters: Vec<(&Part, Bounds)> =
            counters.filter_map(|part| Some((part, subject.graph.bounds(part)?))).collect();
        for (space, part) in stated.spaces.iter().zip(&run.spaces) {
            let Some(end) = part.x.value.checked_add(part.width.value) else { continue };
            let over = counters.iter().find(|(_, own)| own[0][0] <= part.x.value && end <= own[0][1]);
            let Some((counter, bounds)) = over else { continue };
            for thing in &space.things {
                goes_under(subject, report, (part, thing), (counter, bounds));
            }
            spans(subject, report, (part, space.head), counter);
        }
    }
}

fn goes_under(
    subject: &Subject<'_>,
    report: &mut Report,
    (part, thing): (&SpacePart, &Thing),
    (counter, bounds): (&Part, &Bounds),
) {
    let path = format!("{}.{}", part.path, thing.name);
    let Some(needed) = thing.size[2].value.checked_add(thing.play.value) else { return };
    let (what, under) = ("height under a counter", bounds[2][0]);
    let limit = Limit::AtLeast(needed.into());
    if report.compare(Finding::new(&UNDER, path.as_str(), what, under, limit)) {
        return;
    }
    let message = format!(
        "`{path}` with the play over it needs {}, and the counter leaves {}",
        subject.print(needed),
        subject.print(under)
    );
    let told = Diagnostic::new(&UNDER, message).at(thing.head, "").about(counter.path.as_str());
    let told = subject.at(told, thing.size[2], "its height");
    let lack = needed.checked_sub(under).unwrap_or_default();
    let lack = subject.least(lack);
    report.tell(
        told.help(format!(
            "make the units under the counter {lack} higher, or leave its space out with `on`"
        )),
    );
}

fn spans(
    subject: &Subject<'_>,
    report: &mut Report,
    (part, head): (&SpacePart, crate::source::Span),
    counter: &Part,
) {
    let most: Length = subject.usual((30, 1), 7600);
    let what = "span of a counter over a space";
    let limit = Limit::AtMost(most.into());
    if report.compare(Finding::new(&SPAN, part.path.as_str(), what, part.width.value, limit)) {
        return;
    }
    let message =
        format!("`{}` spans {} over `{}`", counter.path, subject.print(part.width.value), part.path);
    let told = Diagnostic::new(&SPAN, message).at(head, "this space").about(counter.path.as_str());
    report.tell(told.help(format!(
        "make the space {} wide or less; or stand a post under the counter, or rails at its edges, and accept it",
        subject.most(most)
    )));
}
