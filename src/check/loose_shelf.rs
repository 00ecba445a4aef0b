//! A loose shelf goes in between the stiles that stand before it.

use super::helpers::place::length;
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::mechanics::tilt::{longest_in, tilt_in};
use crate::parts::{Figure, Finding, Limit, Opening, Part, Role};
use crate::quantity::{Dim, Estimate, Length};

code!(
    Error,
    CODE,
    "C047",
    "loose_shelf",
    "a loose shelf that does not go in",
    "A shelf longer than the opening between its stiles is tilted until L cos q + h sin q is that opening; it then needs L sin q + h cos q of \
     upright room. Estimates by plane geometry; sand and paint take a hair more.",
    with_example
);

/// The first loose shelf of every opening.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for opening in &subject.graph.openings {
        let Some(shelf) = opening.loose.first().and_then(|id| subject.graph.part(*id)) else { continue };
        let path = shelf.path.as_str();
        let strip = subject.graph.fixed_to(shelf.id, Role::LooseStrip).map(|strip| strip.size.width.value);
        let high = strip.unwrap_or_default().max(shelf.size.thickness.value).to_mm_f64();
        let (long, between) = (shelf.size.length.value.to_mm_f64(), between(subject, opening).to_mm_f64());
        let room = opening.opening_front.value;
        let needed = tilt_in(long, high, between).map_or(f64::INFINITY, |tilt| tilt.headroom);
        let what = "upright room for tilting a loose shelf in";
        if needed.is_finite() {
            let how = "L sin q + h cos q, where L cos q + h sin q is what the stiles leave";
            report.reckon(path, "tilt_in_room", Estimate { value: needed, dim: Dim::LENGTH }, how);
        }
        let needed = Figure::about(needed, Dim::LENGTH);
        if !report.compare(Finding::new(&CODE, path, what, needed, Limit::AtMost(room.into()))) {
            report.tell(told(subject, opening, shelf, [needed.value(), between, high]));
        }
    }
}

/// What the stiles leave of an opening: the clear width less what the facing laps over at both ends, as the longest rail of
/// the unit shows it.
fn between(subject: &Subject<'_>, opening: &Opening) -> Length {
    let clear = opening.clear_width.value;
    let Some(unit) = subject.graph.unit(opening.unit) else { return clear };
    let rail = subject
        .graph
        .parts_of(opening.unit)
        .filter(|part| matches!(part.role, Role::Strip | Role::TopRail))
        .map(Part::seen_length);
    let laps = rail.filter_map(|rail| unit.clear.value.checked_sub(rail.value)).min();
    laps.and_then(|laps| clear.checked_sub(laps)).unwrap_or(clear)
}

fn told(
    subject: &Subject<'_>,
    opening: &Opening,
    shelf: &Part,
    [needed, between, high]: [f64; 3],
) -> Diagnostic {
    let say = |mm: f64| length(mm).map(|length| subject.print(length)).unwrap_or_default();
    let room = opening.opening_front.value;
    let wants = if needed.is_finite() {
        format!("tilted in, it needs {} of height, and there is only {}", say(needed), subject.print(room))
    } else {
        "it is higher than they stand apart".to_owned()
    };
    let message = format!(
        "`{}`, {} long, does not go in between stiles {} apart: {wants}",
        shelf.path,
        subject.print(shelf.size.length.value),
        say(between)
    );
    let head = subject.graph.unit(opening.unit).and_then(|unit| unit.head);
    let diagnostic = subject.at_head(Diagnostic::new(&CODE, message), head, "").about(shelf.path.as_str());
    match longest_in(between, room.to_mm_f64(), high).and_then(length) {
        Some(longest) => diagnostic.help(format!(
            "{} is the longest that goes in: give it more `play`, or make the opening higher",
            subject.most(longest)
        )),
        None => diagnostic.help("make its strip lower, or the opening higher"),
    }
}
