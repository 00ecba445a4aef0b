//! A dado fits the sheet as the caliper found it.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Finding, JointKind, Limit};
use crate::quantity::plural;
use std::collections::BTreeSet;

code!(
    Error,
    CODE,
    "C028",
    "loose_dado",
    "a dado so wide that the shelf rattles in it",
    "A dado is 0.005 to 0.010 in wider than the sheet as measured: a hand pushes the shelf in and it does not drop (common practice, \
     no source). More than 1/64 in (0.4 mm) and it rattles; glue does not fill that.",
    with_example
);

/// Each fit of the dados that take a sheet.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let most = subject.usual((1, 64), 4);
    let mut seen = BTreeSet::new();
    for joint in &subject.graph.joints {
        let JointKind::Dado { fit, .. } = joint.kind else { continue };
        let Some(guest) = subject.graph.part(joint.guest) else { continue };
        if !seen.insert((guest.stock, fit.value)) {
            continue;
        }
        let stock = subject.graph.stock_name(guest.stock);
        let what = "how much wider than the sheet a dado is";
        if report.compare(Finding::new(&CODE, stock.as_str(), what, fit.value, Limit::AtMost(most.into()))) {
            continue;
        }
        let fine = |length| subject.marks().print_fine(length).text().to_owned();
        let message = format!(
            "a dado {} wider than the sheet `{stock}`: {} rattle in it",
            fine(fit.value),
            plural(guest.role.word())
        );
        let diagnostic = subject.at(Diagnostic::new(&CODE, message), fit, "the fit");
        let good = subject.usual((1, 128), 2);
        let fix = subject.change(fit, good, "make the fit {}", true);
        let help =
            format!("{} over the sheet as measured is a push fit; {} is the most", fine(good), fine(most));
        report.tell_with(diagnostic.help(help), fix.into_iter().collect());
    }
}
