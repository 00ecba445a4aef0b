//! The highest wall screws of a unit stand near its top.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Finding, Limit};
use crate::quantity::{Length, Round};

code!(
    Warning,
    CODE,
    "C101",
    "anchor_rows",
    "a unit whose highest wall screws stand too far below its top",
    "A unit is held to the wall near its top: the highest row of screws stands at most 32 in (800 mm) below it (common practice, no \
     source). A row low down alone lets the top lean out.",
    with_example
);

/// The highest row of every unit that is screwed to a wall; of one that nothing holds `tips` speaks.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let most = subject.usual((32, 1), 8000);
    for standing in subject.units() {
        let unit = standing.unit;
        let stands = unit.stands.map_or(Length::ZERO, |stands| stands.value);
        // The middle of the highest part that is screwed on, from the bottom end of the sides.
        let highest = subject
            .wall_rows(standing.id)
            .filter(|row| row.count > 0)
            .filter_map(|row| {
                let [bottom, top] = subject.graph.bounds(subject.graph.part(row.guest.part()?)?)?[2];
                bottom.checked_add(top)?.checked_div(2.into())?.checked_sub(stands)
            })
            .max();
        let Some(space) = highest.and_then(|high| unit.height.value.checked_sub(high)) else { continue };
        let what = "from the highest wall screws to the top";
        if report.compare(Finding::new(&CODE, unit.path.as_str(), what, space, Limit::AtMost(most.into()))) {
            continue;
        }
        let space = subject.marks().print_rounded(space, Round::Up);
        let message =
            format!("the highest wall screws of `{}` stand {} below its top", unit.path, space.text());
        let diagnostic =
            subject.at_head(Diagnostic::new(&CODE, message), unit.head, "").about(unit.path.as_str());
        report.tell(diagnostic.help(format!(
            "hang a cleat, or stand a rear `stretcher`, {} or less below the top",
            subject.most(most)
        )));
    }
}
