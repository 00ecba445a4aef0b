//! A sheet is measured before anything is cut.

use super::{Check, Finding, Subject};
use crate::diag::{Diagnostic, Example, code};
use crate::eval::SheetId;
use crate::parts::Stock;

code!(
    Warning,
    CODE,
    "C002",
    "sheet_not_measured",
    "a sheet whose thickness nobody measured",
    "A sheet sold as 3/4 in may be anything from 0.688 to 0.750 in (PS 1), and every dado, clear width and shelf follows its \
     thickness. Without a caliper reading the nominal thickness is taken: good for a first plan, not for cutting.",
    Some(Example {
        bad: "sheet ply { nominal = 3/4\" }\nstick s { floor = 3 1/2\" }\ncarcass a { shelves = s, width = 30\", height = 40\", depth = 11\" }\n",
        good: "sheet ply { nominal = 3/4\", thickness = 23/32\" }\nstick s { floor = 3 1/2\" }\ncarcass a { shelves = s, width = 30\", height = 40\", depth = 11\" }\n",
    })
);

/// Each sheet that parts are cut from.
pub(super) const CHECK: Check = Check { code: &CODE, run };

fn run(subject: Subject<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (index, sheet) in subject.graph.sheets.iter().enumerate() {
        if !subject.graph.parts.iter().any(|part| part.stock == Stock::Sheet(SheetId(index))) {
            continue;
        }
        let diagnostic = (!sheet.measured).then(|| {
            let nominal = subject.marks().print(sheet.thickness.value);
            let message =
                format!("the sheet `{}` is not measured: {nominal} is its nominal thickness", sheet.name);
            subject
                .at(Diagnostic::new(&CODE, message), sheet.thickness, "all joints follow this")
                .about(sheet.name.as_ref())
                .help(format!(
                    "measure the sheets you have and state `thickness = ...` in your own `sheet {}`",
                    sheet.name
                ))
        });
        findings.push(Finding {
            code: &CODE,
            subject: sheet.name.to_string(),
            what: "thickness of the sheet",
            value: sheet.thickness.value,
            limit: sheet.thickness.value,
            at_most: true,
            diagnostic,
        });
    }
    findings
}
