//! The box of a drawer is as high as its front makes one expect.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Finding, Limit};
use crate::quantity::Rational;

code!(
    Warning,
    CODE,
    "C154",
    "low_drawer",
    "a drawer whose box is low for its front",
    "A box under half as high as its front (common practice, no source) holds less than it looks, and the front is held at its lower edge \
     only: a pull at its upper edge works it loose.",
    with_example
);

/// The box of each drawer against its front.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for drawer in &subject.graph.drawers {
        let [front, side] = [drawer.front, drawer.sides[0]].map(|id| subject.graph.part(id));
        let (Some(front), Some(side)) = (front, side) else { continue };
        let high = side.size.width;
        let Some(half) = front.size.width.value.checked_div(Rational::from(2)) else { continue };
        let what = "height of a drawer's box against half of its front";
        let limit = Limit::AtLeast(half.into());
        if report.compare(Finding::new(&CODE, drawer.path.as_str(), what, high.value, limit)) {
            continue;
        }
        let message = format!(
            "the box of the drawer `{}` is {} high, and its front {}",
            drawer.path,
            subject.print(high.value),
            subject.print(front.size.width.value)
        );
        let told =
            Diagnostic::new(&CODE, message).at(drawer.head, "these drawers").about(drawer.path.as_str());
        let told = subject.at_stated(told, high, "the height of the box");
        report.tell(told.help(format!(
            "make it {} high or more, or let more drawers share the opening",
            subject.least(half)
        )));
    }
}
