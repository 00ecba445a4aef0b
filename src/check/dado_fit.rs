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

code!(
    Warning,
    TIGHT,
    "C113",
    "tight_dado",
    "a dado so narrow that the shelf is driven in",
    "A dado is 0.005 to 0.010 in wider than the sheet as measured (common practice, no source). With less the shelf has to be driven \
     in with a mallet, glue is wiped off on the way, and the side bows.",
    with_example
);

/// Each fit of the dados that take a sheet.
pub(super) const CHECK: Check = Check { codes: &[&CODE, &TIGHT], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let [least, most] = [subject.usual((5, 1000), 1), subject.usual((1, 64), 4)];
    let mut seen = BTreeSet::new();
    for joint in &subject.graph.joints {
        let JointKind::Dado { fit, .. } = joint.kind else { continue };
        let Some(guest) = subject.graph.part(joint.guest) else { continue };
        if !seen.insert((guest.stock, fit.value)) {
            continue;
        }
        let stock = subject.graph.stock_name(guest.stock);
        let what = "how much wider than the sheet a dado is";
        let at_most = Finding::new(&CODE, stock.as_str(), what, fit.value, Limit::AtMost(most.into()));
        let at_least = Finding::new(&TIGHT, stock.as_str(), what, fit.value, Limit::AtLeast(least.into()));
        let (loose, tight) = (!report.compare(at_most), !report.compare(at_least));
        if !loose && !tight {
            continue;
        }
        let fine = |length| subject.marks().print_fine(length).text().to_owned();
        let guests = plural(guest.role.word());
        let wider =
            if fit.value.is_zero() { "no wider".to_owned() } else { format!("{} wider", fine(fit.value)) };
        let (code, then) = if loose { (&CODE, "rattle in it") } else { (&TIGHT, "are driven into it") };
        let message = format!("a dado {wider} than the sheet `{stock}`: {guests} {then}");
        let diagnostic = subject.at(Diagnostic::new(code, message), fit, "the fit");
        let good = subject.usual((1, 128), 2);
        let fix = subject.change(fit, good, "make the fit {}", true);
        let help =
            format!("{} over the sheet as measured is a push fit; {} is the most", fine(good), fine(most));
        report.tell_with(diagnostic.help(help), fix.into_iter().collect());
    }
}
