//! The crosscut saw reaches across every part.

use super::helpers::over_limit::wide;
use super::{Check, Report, Subject};
use crate::diag::code;
use crate::quantity::some;

code!(
    Warning,
    CODE,
    "C012",
    "saw_reach",
    "parts wider than the crosscut saw reaches",
    "A crosscut wider than the saw's reach is finished by hand, or turned over and cut from both faces. Over dozens of shelves that \
     is an evening (common practice, no source; the reach is stated). Where several saws state a reach, the greatest counts; a saw \
     without one is taken to reach across everything only where no saw states any.",
    with_example
);

/// The width of every kind of part against the reach.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let Some(reach) = subject.model.shop.reach else { return };
    let Some(wide) = wide(subject, report, (&CODE, "width of a crosscut"), reach) else { return };
    let widest = subject.print(wide.widest.value);
    let width = if wide.narrowest == wide.widest.value {
        widest
    } else {
        format!("{} to {widest}", subject.print(wide.narrowest))
    };
    let message = format!(
        "{} of parts {width} wide are finished by hand: the saw reaches {}",
        some(wide.count, "crosscut"),
        subject.print(reach.value)
    );
    let told = wide.told(subject, (&CODE, message), (reach, "the reach of the saw"));
    report.tell(told.help(format!(
        "make them {} wide, cut them on another saw, or turn each over and cut it from both faces",
        subject.most(reach.value)
    )));
}
