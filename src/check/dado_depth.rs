//! A dado takes at most half of the wood.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, Example, code};
use crate::parts::{Finding, Limit};
use crate::quantity::Rational;
use std::collections::BTreeSet;

code!(
    Error,
    CODE,
    "C001",
    "dado_depth",
    "a dado deeper than half the thickness of the side",
    "A side snaps or cups at a groove that takes more than half of the wood. 1/4 in (6 mm) is usual in 3/4 in stock, a \
     third of the thickness is a good rule (common practice, no source).",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\njoin shelf to side with dado { depth = 10mm }\n",
        good: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\njoin shelf to side with dado { depth = 9mm }\n",
    })
);

/// Depth against half the sheet, once for each pair of them.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut seen = BTreeSet::new();
    for standing in subject.units() {
        let Some(sheet) = subject.graph.sheet(standing.unit.sheet) else { continue };
        let depth = standing.carcass.dado.depth;
        if !seen.insert((standing.unit.sheet, depth.value)) {
            continue;
        }
        let most = sheet.thickness.value.checked_div(Rational::from(2)).unwrap_or_default();
        let what = "dado depth against half the sheet";
        let finding = Finding::new(&CODE, sheet.name.as_ref(), what, depth.value, Limit::AtMost(most.into()));
        if report.compare(finding) {
            continue;
        }
        let message = format!(
            "a dado {} deep takes more than half of a side {} thick",
            subject.print(depth.value),
            subject.print(sheet.thickness.value)
        );
        let diagnostic = subject.at(Diagnostic::new(&CODE, message), depth, "the dado's depth");
        let diagnostic = subject.at(diagnostic, sheet.thickness, "the sheet's thickness");
        report.tell(diagnostic.help(format!("leave half the wood: {} at most", subject.most(most))));
    }
}
