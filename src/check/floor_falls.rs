//! The floor falls no faster than floors do; what falls faster was likely read wrong.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::Len;
use crate::parts::{Finding, Limit};
use crate::quantity::{Length, Rational};

code!(
    Note,
    CODE,
    "C120",
    "floor_falls",
    "a floor that falls faster than floors do",
    "A floor is expected to fall up to 1/4 in (6 mm) in 4 ft (1.2 m) and 1/2 in (12 mm) in 10 ft (3 m) (common practice, no source). What \
     falls faster between two readings is read again before anything is built on it.",
    with_example
);

/// The floor along every run, from one reading to the next.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for run in &subject.graph.runs {
        let Some(wall) = run.wall.and_then(|wall| subject.model.walls.get(wall)) else { continue };
        let points = &wall.floor.below.points;
        let steps = points.iter().zip(points.iter().skip(1)).filter_map(|((from, low), (to, high))| {
            let apart = to.value.checked_sub(from.value)?;
            let fall = low.value.apart(high.value)?;
            let over = fall.checked_sub(usual_fall(subject, apart)?)?;
            Some((over, fall, apart, [*low, *high]))
        });
        let Some((over, fall, apart, readings)) = steps.max_by_key(|(over, ..)| *over) else { continue };
        let limit = fall.checked_sub(over).unwrap_or_default();
        let what = "fall of the floor from one reading to the next";
        if report.compare(Finding::new(&CODE, run.path.as_str(), what, fall, Limit::AtMost(limit.into()))) {
            continue;
        }
        let message = format!(
            "along `{}` the floor falls {} in {}: more than the {} that is usual",
            run.path,
            subject.print(fall),
            subject.print(apart),
            subject.most(limit)
        );
        let [one, other]: [Len; 2] = readings;
        let diagnostic = subject.at(Diagnostic::new(&CODE, message), one, "read here");
        let diagnostic = subject.at(diagnostic, other, "and here");
        report.tell(
            diagnostic
                .about(run.path.as_str())
                .help("read both again from the same level line before you cut a base or shims"),
        );
    }
}

/// What a floor is expected to fall over a distance; `None` on overflow.
fn usual_fall(subject: &Subject<'_>, apart: Length) -> Option<Length> {
    let [near, far] = [subject.usual((48, 1), 12_000), subject.usual((120, 1), 30_000)];
    let [little, much] = [subject.usual((1, 4), 60), subject.usual((1, 2), 120)];
    if apart <= near {
        return Some(little);
    }
    let share = |part: Length, whole: Length| Some(part.mm() / whole.mm()).filter(|_| !whole.is_zero());
    if apart >= far {
        return much.checked_mul(share(apart, far)?);
    }
    let beyond: Rational = share(apart.checked_sub(near)?, far.checked_sub(near)?)?;
    little.checked_add(much.checked_sub(little)?.checked_mul(beyond)?)
}
