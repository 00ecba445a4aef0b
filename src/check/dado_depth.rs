//! A dado takes at most half of the wood.

use super::{Check, Finding, Subject};
use crate::diag::{Diagnostic, Example, code};
use crate::quantity::{Rational, Round};
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
pub(super) const CHECK: Check = Check { code: &CODE, run };

fn run(subject: Subject<'_>) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let carcasses = subject.model.runs.iter().flat_map(|run| &run.units).chain(&subject.model.carcasses);
    let mut findings = Vec::new();
    for carcass in carcasses {
        let Some(sheet) = subject.graph.sheet(carcass.sheet) else { continue };
        let depth = carcass.dado.depth;
        if !seen.insert((carcass.sheet, depth.value)) {
            continue;
        }
        let limit = sheet.thickness.value.checked_div(Rational::from(2)).unwrap_or_default();
        let diagnostic = (depth.value > limit).then(|| {
            let marks = subject.marks();
            let message = format!(
                "a dado {} deep takes more than half of a side {} thick",
                marks.print(depth.value),
                marks.print(sheet.thickness.value)
            );
            let diagnostic = subject.at(Diagnostic::new(&CODE, message), depth, "the dado's depth");
            let most = marks.print_rounded(limit, Round::Down);
            subject
                .at(diagnostic, sheet.thickness, "the sheet's thickness")
                .help(format!("leave half the wood: {} at most", most.text()))
        });
        findings.push(Finding {
            code: &CODE,
            subject: sheet.name.to_string(),
            what: "dado depth against half the sheet",
            value: depth.value,
            limit,
            at_most: true,
            diagnostic,
        });
    }
    findings
}
