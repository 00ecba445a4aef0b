//! A unit that hangs has room over what stands under it, and under the ceiling.

use super::helpers::place::{Against, against};
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Bounds, Finding, HungPart, Limit, Role, Unit};
use crate::quantity::Length;
use crate::source::Span;

code!(
    Error,
    MEETS,
    "C137",
    "hung_meets",
    "a unit that hangs where something is already",
    "What hangs begins over all that stands under it: units with their counters, things with their play, doors and windows with their casing. \
     It ends under the ceiling (geometry).",
    with_example
);

code!(
    Warning,
    LOW,
    "C138",
    "hung_low",
    "a unit that hangs low over another",
    "Over a unit or a counter hands and what stands there need room: 16 in (400 mm) or more (common practice, no source).",
    with_example
);

/// Every unit that hangs.
pub(super) const CHECK: Check = Check { codes: &[&MEETS, &LOW], run };

/// What lies under a unit that hangs.
struct Under {
    /// As a sentence calls it.
    what: String,
    /// Its upper end over the level line.
    top: Length,
    head: Option<Span>,
    /// Whether hands work on it.
    worked_on: bool,
}

fn run(subject: &Subject<'_>, report: &mut Report) {
    for against in against(subject) {
        for hung in &against.run.hung {
            let Some(unit) = subject.graph.unit(hung.unit) else { continue };
            let Some(bounds) = subject.bounds(hung.unit, against.front) else { continue };
            over(subject, report, (unit, &bounds), &under(subject, &against, (hung, &bounds)));
            ceiling(subject, report, &against, (unit, &bounds));
        }
    }
}

fn under(subject: &Subject<'_>, against: &Against<'_>, (hung, bounds): (&HungPart, &Bounds)) -> Vec<Under> {
    let mut all = Vec::new();
    for id in &hung.units {
        let Some((unit, [.., up])) = subject.graph.unit(*id).zip(subject.bounds(*id, against.front)) else {
            continue;
        };
        all.push(Under { what: format!("`{}`", unit.path), top: up[1], head: unit.head, worked_on: true });
    }
    // A counter of the run lies over spaces too.
    let run = subject.graph.numbered_runs().find(|(_, run)| run.path == against.run.path);
    let counters = run.into_iter().flat_map(|(id, _)| subject.graph.parts_of_run(id));
    for counter in counters.filter(|part| part.role == Role::Counter) {
        let Some([along, _, up]) = subject.graph.bounds(counter) else { continue };
        if along[0] < bounds[0][1] && bounds[0][0] < along[1] {
            all.push(Under { what: format!("`{}`", counter.path), top: up[1], head: None, worked_on: true });
        }
    }
    for at in &hung.spaces {
        let (Some(space), Some(part)) = (against.stated.spaces.get(*at), against.run.spaces.get(*at)) else {
            continue;
        };
        for thing in &space.things {
            let top = thing.size[2].value.checked_add(thing.play.value).unwrap_or_default();
            let what = format!("`{}.{}` with its play", part.path, thing.name);
            all.push(Under { what, top, head: Some(thing.head), worked_on: false });
        }
        let Some(opening) = part.over.and_then(|over| against.wall.openings.get(over)) else { continue };
        let casing = opening.casing.map_or(Length::ZERO, |casing| casing.value);
        let top = opening.up[1].value.checked_add(casing).unwrap_or_default();
        let with = if casing.is_zero() { "" } else { " with its casing" };
        let what = format!("the {}{with}", opening.word);
        all.push(Under { what, top, head: Some(opening.head), worked_on: false });
    }
    all
}

fn over(subject: &Subject<'_>, report: &mut Report, (unit, bounds): (&Unit, &Bounds), under: &[Under]) {
    let foot = bounds[2][0];
    let Some(highest) = under.iter().max_by_key(|under| under.top) else { return };
    let what = "foot of a unit that hangs, over what is under it";
    let limit = Limit::AtLeast(highest.top.into());
    let print = |length: Length| subject.print(length);
    if !report.compare(Finding::new(&MEETS, unit.path.as_str(), what, foot, limit)) {
        let message = format!(
            "`{}` begins at {}, and {} ends at {}",
            unit.path,
            print(foot),
            highest.what,
            print(highest.top)
        );
        let told = subject.at_head(Diagnostic::new(&MEETS, message), unit.head, "").about(unit.path.as_str());
        let told = match unit.stands {
            Some(stands) => subject.at(told, stands, "its foot"),
            None => told,
        };
        let told = subject.at_head(told, highest.head, "this is under it");
        let fix = unit
            .stands
            .and_then(|stands| subject.change(stands, highest.top, "let its foot be at {}", false));
        let told = told.help(format!("let its `foot` be at {} or more", subject.least(highest.top)));
        report.tell_with(told, fix.into_iter().collect());
        return;
    }
    let worked_on = under.iter().filter(|under| under.worked_on).max_by_key(|under| under.top);
    let Some((worked_on, room)) = worked_on.and_then(|under| Some((under, foot.checked_sub(under.top)?)))
    else {
        return;
    };
    let least = subject.usual((16, 1), 4000);
    let what = "room between a unit and what hangs over it";
    if report.compare(Finding::new(&LOW, unit.path.as_str(), what, room, Limit::AtLeast(least.into()))) {
        return;
    }
    let message = format!("`{}` hangs {} over {}", unit.path, print(room), worked_on.what);
    let told = subject.at_head(Diagnostic::new(&LOW, message), unit.head, "").about(unit.path.as_str());
    let at = worked_on.top.checked_add(least).unwrap_or(least);
    report.tell(told.help(format!("let its `foot` be at {} or more", subject.least(at))));
}

fn ceiling(
    subject: &Subject<'_>,
    report: &mut Report,
    against: &Against<'_>,
    (unit, bounds): (&Unit, &Bounds),
) {
    let Some(ceiling) = against.wall.ceiling.least(bounds[0]) else { return };
    let what = "top of a unit that hangs, under the ceiling";
    let limit = Limit::AtMost(ceiling.into());
    if report.compare(Finding::new(&MEETS, unit.path.as_str(), what, bounds[2][1], limit)) {
        return;
    }
    let message = format!(
        "`{}` ends at {}, and the ceiling over it is at {}",
        unit.path,
        subject.print(bounds[2][1]),
        subject.print(ceiling)
    );
    let told = subject.at_head(Diagnostic::new(&MEETS, message), unit.head, "").about(unit.path.as_str());
    let told = subject.at(told, unit.height, "its height");
    let over = bounds[2][1].checked_sub(ceiling).unwrap_or_default();
    report.tell(
        told.help(format!("make it {} lower, or let its `foot` be as much lower", subject.least(over))),
    );
}
