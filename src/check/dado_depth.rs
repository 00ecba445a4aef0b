//! A dado takes at most half of the wood.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Finding, JointKind, Limit};
use crate::quantity::Rational;
use std::collections::BTreeSet;

code!(
    Error,
    CODE,
    "C001",
    "dado_depth",
    "a dado deeper than half the thickness of the side",
    "A side, divider or shelf snaps or cups at a dado, rabbet or groove that takes more than half of the wood. 1/4 in (6 mm) is usual in 3/4 in stock, a \
     third of the thickness is a good rule (common practice, no source).",
    with_example
);

/// Each depth that is cut into each stock, against half its thickness.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut seen = BTreeSet::new();
    for joint in &subject.graph.joints {
        // A mortise goes into an edge.
        let depth = joint.kind.depth().filter(|_| !matches!(joint.kind, JointKind::Mortise { .. }));
        let Some((depth, host)) = depth.zip(subject.graph.part(joint.host)) else { continue };
        let thickness = host.size.thickness;
        if !seen.insert((host.stock, thickness.value, depth.value)) {
            continue;
        }
        let most = thickness.value.checked_div(Rational::from(2)).unwrap_or_default();
        let what = "dado depth against half the sheet";
        let stock = subject.graph.stock_name(host.stock);
        if report.compare(Finding::new(&CODE, stock, what, depth.value, Limit::AtMost(most.into()))) {
            continue;
        }
        let message = format!(
            "a {} {} deep takes more than half of a {} {} thick",
            joint.kind.word(),
            subject.print(depth.value),
            host.role,
            subject.print(thickness.value)
        );
        let diagnostic = subject.at(Diagnostic::new(&CODE, message), depth, "its depth");
        let diagnostic = subject.at(diagnostic, thickness, "the sheet's thickness");
        report.tell(diagnostic.help(format!("leave half the wood: {} at most", subject.most(most))));
    }
}
