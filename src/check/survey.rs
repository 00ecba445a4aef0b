//! Floor and ceiling are read closely enough, and the floor falls no further than shims carry.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Len, Profile};
use crate::parts::{Finding, Limit, RunPart};
use crate::quantity::Length;

code!(
    Note,
    SPARSE,
    "C037",
    "sparse_readings",
    "readings that lie far apart",
    "Floor and ceiling are read every 2 to 3 ft; what lies more than 4 ft (1.2 m) from one reading to the next, or from the last one to \
     the end of the run, is only estimated (common practice, no source).",
    with_example
);

code!(
    Warning,
    SHIMS,
    "C038",
    "packing",
    "a floor that falls further than shims carry",
    "Up to 1/2 in (12.7 mm) is packed under casework (Architectural Woodwork Standards 2009); where the floor falls further, a base is \
     built to the level line.",
    with_example
);

/// Floor and ceiling along every run.
pub(super) const CHECK: Check = Check { codes: &[&SPARSE, &SHIMS], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for run in &subject.graph.runs {
        let Some(wall) = run.wall.and_then(|wall| subject.model.walls.get(wall)) else { continue };
        let last = run.units.last().and_then(|id| subject.graph.unit(*id));
        let first = run.units.first().and_then(|id| subject.graph.unit(*id)?.x);
        let end = last.and_then(|unit| unit.x?.value.checked_add(unit.width.value));
        let Some((start, end)) = first.zip(end) else { continue };
        let along = [start.value, end];
        sparse(subject, report, run, (&wall.floor.below, "floor"), along);
        sparse(subject, report, run, (&wall.ceiling, "ceiling"), along);
        packing(subject, report, run);
    }
}

fn sparse(
    subject: &Subject<'_>,
    report: &mut Report,
    run: &RunPart,
    (profile, word): (&Profile, &str),
    [start, end]: [Length; 2],
) {
    let mut farthest: Option<(Length, Len)> = None;
    let mut before = start;
    let places = profile.points.iter().map(|(at, above)| (at.value.clamp(start, end), *above));
    let last = profile.points.last().map(|(_, above)| (end, *above));
    for (at, reading) in places.chain(last) {
        let apart = at.checked_sub(before).unwrap_or_default();
        if farthest.is_none_or(|(far, _)| apart > far) {
            farthest = Some((apart, reading));
        }
        before = at;
    }
    let Some((apart, reading)) = farthest else { return };
    let most = subject.usual((48, 1), 12_000);
    let what =
        if word == "floor" { "between readings of the floor" } else { "between readings of the ceiling" };
    if report.compare(Finding::new(&SPARSE, run.path.as_str(), what, apart, Limit::AtMost(most.into()))) {
        return;
    }
    let message = format!("along `{}` the {word} is not read over {}", run.path, subject.print(apart));
    let diagnostic = subject.at(Diagnostic::new(&SPARSE, message), reading, "the nearest reading");
    report.tell(
        diagnostic
            .about(run.path.as_str())
            .help("read it every 2 to 3 ft (600 to 900 mm) along the run, and where units are stood up"),
    );
}

fn packing(subject: &Subject<'_>, report: &mut Report, run: &RunPart) {
    let Some(deepest) = run.floor_at_faces.iter().flatten().max_by_key(|below| below.value).copied() else {
        return;
    };
    let most = subject.usual((1, 2), 127);
    let what = "shims under a unit";
    let limit = Limit::AtMost(most.into());
    if report.compare(Finding::new(&SHIMS, run.path.as_str(), what, deepest.value, limit)) {
        return;
    }
    let message = format!("`{}` needs {} of shims at its low end", run.path, subject.print(deepest.value));
    let diagnostic = subject.at(Diagnostic::new(&SHIMS, message), deepest, "the floor is read here");
    let stands = run.units.iter().filter_map(|id| subject.graph.unit(*id)).any(|unit| unit.stands.is_some());
    let base =
        if stands { "cut the rails of the plinth" } else { "stand lower units on a `plinth`, cut its rails" };
    let help = format!(
        "shims carry {}: {base} {} higher and scribe them to the floor; `accept packing because \"...\"` says so",
        subject.print(most),
        subject.print(deepest.value)
    );
    report.tell(diagnostic.about(run.path.as_str()).help(help));
}
