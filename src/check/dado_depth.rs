//! A dado takes at most half of the wood.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Finding, JointKind, Limit, Role};
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

code!(
    Warning,
    BACK,
    "C102",
    "back_housing_depth",
    "a housing for a back deeper than half the thickness of the side",
    "A back carries nothing: the rabbet or groove that takes it may be deeper than a dado, as long as what is left of the side is \
     not knocked off. Half the wood is a good rule for it too (common practice, no source).",
    with_example
);

/// Each depth that is cut into each stock, against half its thickness.
pub(super) const CHECK: Check = Check { codes: &[&CODE, &BACK], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut seen = BTreeSet::new();
    for joint in &subject.graph.joints {
        // A mortise goes into an edge.
        let depth = joint.kind.depth().filter(|_| !matches!(joint.kind, JointKind::Mortise { .. }));
        let Some((depth, host)) = depth.zip(subject.graph.part(joint.host)) else { continue };
        let thickness = host.size.thickness;
        let of_back = subject.graph.part(joint.guest).is_some_and(|guest| guest.role == Role::Back);
        if !seen.insert((host.stock, thickness.value, depth.value, of_back)) {
            continue;
        }
        let code = if of_back { &BACK } else { &CODE };
        let most = thickness.value.checked_div(Rational::from(2)).unwrap_or_default();
        let what = "dado depth against half the sheet";
        let stock = subject.graph.stock_name(host.stock);
        if report.compare(Finding::new(code, stock, what, depth.value, Limit::AtMost(most.into()))) {
            continue;
        }
        let message = format!(
            "a {} {} deep takes more than half of a {} {} thick",
            joint.kind.word(),
            subject.print(depth.value),
            host.role,
            subject.print(thickness.value)
        );
        let diagnostic = subject.at(Diagnostic::new(code, message), depth, "its depth");
        let diagnostic = subject.at(diagnostic, thickness, "the sheet's thickness");
        let left = thickness.value.checked_sub(depth.value).unwrap_or_default();
        let help = if of_back {
            format!("{} of wood are left; {} at most leaves half", subject.most(left), subject.most(most))
        } else {
            format!("leave half the wood: {} at most", subject.most(most))
        };
        report.tell(diagnostic.help(help));
    }
}
