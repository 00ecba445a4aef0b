//! A hand with a brush gets at every painted face of what is glued up.

use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, code};
use crate::eval::Len;
use crate::parts::{Finding, Limit, Opening};
use crate::quantity::Length;
use std::collections::BTreeMap;

code!(
    Warning,
    CODE,
    "C056",
    "brush_room",
    "faces that no brush reaches once the unit is glued up",
    "A hand with a brush needs an opening of 4 in (100 mm), high and wide (common practice, no source). What lies deeper in a lower or \
     narrower one is sanded and painted before the parts are joined, its glue lines taped off. Told only where a `finish` is stated.",
    with_example
);

/// The front of every opening, high and wide, against a hand.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

/// An opening that is too small, its smaller side, and which that is.
type Low<'a> = (&'a Opening, Len, &'static str);

fn run(subject: &Subject<'_>, report: &mut Report) {
    if subject.model.finish.is_none() {
        return;
    }
    let hand = subject.usual((4, 1), 1000);
    let mut low: BTreeMap<(&str, Length), Vec<Low<'_>>> = BTreeMap::new();
    for opening in &subject.graph.openings {
        let reached = opening.divided || opening.under.is_none() || opening.depth.value <= hand;
        if reached {
            continue;
        }
        let narrow = opening.clear_width.value < opening.opening_front.value;
        let (least, way) =
            if narrow { (opening.clear_width, "wide") } else { (opening.opening_front, "high") };
        let what = "opening for a hand with a brush";
        let limit = Limit::AtLeast(hand.into());
        if !report.compare(Finding::new(&CODE, opening.path.as_str(), what, least.value, limit)) {
            low.entry((&*opening.name, least.value)).or_default().push((opening, least, way));
        }
    }
    for openings in low.values() {
        let Some((opening, least, way)) = openings.first().copied() else { continue };
        let message = format!(
            "no brush gets {} deep into the opening over `{}`: it is {} {way}",
            subject.print(opening.depth.value),
            opening.path,
            subject.print(least.value)
        );
        let mut diagnostic = subject.at(Diagnostic::new(&CODE, message), least, "it follows from this");
        for (opening, ..) in openings {
            diagnostic = diagnostic.about(opening.path.as_str());
        }
        if openings.len() > 1 {
            let paths: Vec<&str> = openings.iter().map(|(opening, ..)| opening.path.as_str()).collect();
            diagnostic = diagnostic.note(format!("so it is over {}", names(&paths)));
        }
        report.tell(
            diagnostic
                .help("sand and paint what lies in it before the parts are joined; tape off what takes glue")
                .help(format!("or make it {} {way}", subject.print(hand))),
        );
    }
}
