//! A loose shelf goes in between the stiles that stand before it.

use super::helpers::place::length;
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::mechanics::standing;
use crate::mechanics::tilt::{longest_in, tilt_in};
use crate::parts::{Figure, Finding, Limit, Opening, OpeningId, Part, PartId, Role};
use crate::quantity::{Dim, Estimate, Length, Rational, Round};

code!(
    Error,
    CODE,
    "C047",
    "loose_shelf",
    "a loose shelf that does not go in",
    "A shelf longer than the opening between its stiles is tilted until L cos q + h sin q is that opening; it then needs L sin q + h cos q of \
     upright room, and behind the stiles sqrt(L^2 + h^2) between the sides to be laid level again. Estimates by plane geometry; sand \
     and paint take a hair more.",
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
        let tilt = tilt_in(long, high, between);
        let needed = tilt.map_or(f64::INFINITY, |tilt| tilt.headroom);
        let what = "upright room for tilting a loose shelf in";
        if needed.is_finite() {
            let how = "L sin q + h cos q, where L cos q + h sin q is what the stiles leave";
            let value = Estimate { value: needed, dim: Dim::LENGTH };
            let least = (value, Round::Up, subject.marks().system());
            report.reckon_limit(path, "tilt_in_room", least, how);
        }
        let needed = Figure::about(needed, Dim::LENGTH);
        if !report.compare(Finding::new(&CODE, path, what, needed, Limit::AtMost(room.into()))) {
            report.tell(told(subject, opening, shelf, [needed.value(), between, high]));
            continue;
        }
        let Some(tilt) = tilt.filter(|tilt| tilt.angle > 0.0) else { continue };
        let swing = Figure::about(tilt.levelling_width, Dim::LENGTH);
        let clear = opening.clear_width.value;
        let what = "width for laying a loose shelf level again";
        if !report.compare(Finding::new(&CODE, path, what, swing, Limit::AtMost(clear.into()))) {
            report.tell(stays_tilted(subject, opening, shelf, [swing.value(), high]));
        }
    }
}

/// What the stiles leave of an opening: the clear width less what they lap over at both ends.
fn between(subject: &Subject<'_>, opening: &Opening) -> Length {
    let clear = opening.clear_width.value;
    let laps = laps(subject, opening).and_then(|[left, right]| left.checked_add(right));
    laps.and_then(|laps| clear.checked_sub(laps)).unwrap_or(clear)
}

/// How far stiles reach over an opening at its left and at its right end: those of the unit, or the one before a divider.
fn laps(subject: &Subject<'_>, opening: &Opening) -> Option<[Length; 2]> {
    let [left, right] = subject.graph.unit(opening.unit)?.laps.map(|lap| lap.value);
    if !opening.bay {
        return Some([left, right]);
    }
    let here = |id: &OpeningId| subject.graph.opening(*id).is_some_and(|own| own.path == opening.path);
    let mut all = subject.graph.divided_of(opening.unit);
    let (divided, at) = all.find_map(|divided| {
        let at = divided.bays.iter().position(|bay| bay.openings.iter().any(here))?;
        Some((divided, at))
    })?;
    let over = |divider: Option<PartId>| {
        let Some(divider) = divider.and_then(|divider| subject.graph.part(divider)) else {
            return Some(right);
        };
        match subject.graph.fixed_to(divider.id, Role::Stile) {
            Some(stile) => {
                let both = stile.size.width.value.checked_sub(divider.size.thickness.value)?;
                both.checked_div(Rational::from(2))
            }
            None => Some(Length::ZERO),
        }
    };
    let before = at.checked_sub(1).and_then(|before| divided.bays.get(before));
    let left = match before {
        Some(before) => over(before.divider),
        None => Some(left),
    };
    Some([left?, over(divided.bays.get(at)?.divider)?])
}

/// It goes in, and its corners meet the sides before it lies level.
fn stays_tilted(
    subject: &Subject<'_>,
    opening: &Opening,
    shelf: &Part,
    [swing, high]: [f64; 2],
) -> Diagnostic {
    let clear = opening.clear_width.value;
    let say = |mm: f64| length(mm).map(|length| subject.least(length)).unwrap_or_default();
    let message = format!(
        "`{}` goes in tilted and cannot be laid level: its diagonal is {}, and the sides stand {} apart",
        shelf.path,
        say(swing),
        subject.print(clear)
    );
    let head = subject.graph.unit(opening.unit).and_then(|unit| unit.head);
    let told = subject.at_head(Diagnostic::new(&CODE, message), head, "").about(shelf.path.as_str());
    let longest = standing::tallest(clear.to_mm_f64(), high).and_then(length);
    match longest {
        Some(longest) => told.help(format!(
            "{} is the longest that swings level: give it more `play`, or make its strip lower",
            subject.most(longest)
        )),
        None => told.help("make its strip lower"),
    }
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
            "{} is the longest that goes in there: make the stiles narrower, or the opening higher",
            subject.most(longest)
        )),
        None => diagnostic.help("make its strip lower, or the opening higher"),
    }
}
