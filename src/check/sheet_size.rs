//! Every part fits on its sheet.

use super::{Check, Finding, Subject};
use crate::diag::{Diagnostic, Example, code};
use crate::eval::{Len, Sheet};
use crate::parts::{Part, Stock};
use crate::quantity::{Length, Round};
use std::collections::BTreeSet;

code!(
    Error,
    CODE,
    "C003",
    "larger_than_sheet",
    "a part that is larger than the sheet it is cut from",
    "A sheet offers its size less the skim of the first cut, in both directions. A part's length runs along the grain, so \
     a part of a sheet with grain is not turned to fit.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm, size = 2440mm x 1220mm }\nstick s { floor = 80mm }\ncarcass a { shelves = s, width = 600mm, height = 2600mm, depth = 300mm }\n",
        good: "sheet ply { thickness = 18mm, size = 2440mm x 1220mm }\nstick s { floor = 80mm }\ncarcass a { shelves = s, width = 600mm, height = 2400mm, depth = 300mm }\n",
    })
);

/// Length and width of each kind of part against its sheet.
pub(super) const CHECK: Check = Check { code: &CODE, run };

fn run(subject: Subject<'_>) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let mut findings = Vec::new();
    for part in &subject.graph.parts {
        let Stock::Sheet(id) = part.stock else { continue };
        let Some(sheet) = subject.graph.sheet(id) else { continue };
        let Some((along, across)) = sheet.size else { continue };
        let size = part.size;
        if !seen.insert((id, part.role.word(), size.length.value, size.width.value)) {
            continue;
        }
        let turned = !sheet.grain && size.length.value > offered(sheet, along);
        let (long, wide) = if turned { (across, along) } else { (along, across) };
        findings.push(finding(subject, part, sheet, (size.length, "length"), long));
        findings.push(finding(subject, part, sheet, (size.width, "width"), wide));
    }
    findings
}

/// What a sheet offers of a size that it is sold in.
fn offered(sheet: &Sheet, sold: Len) -> Length {
    let skim = sheet.skim.map_or(Length::ZERO, |skim| skim.value);
    sold.value.checked_sub(skim).unwrap_or_default()
}

fn finding(
    subject: Subject<'_>,
    part: &Part,
    sheet: &Sheet,
    size: (Len, &'static str),
    sold: Len,
) -> Finding {
    let (len, what) = size;
    let limit = offered(sheet, sold);
    let diagnostic = (len.value > limit).then(|| {
        let marks = subject.marks();
        let most = marks.print_rounded(limit, Round::Down);
        let message = format!(
            "the {what} of `{}`, {}, is more than a sheet of `{}` offers",
            part.path,
            marks.print(len.value),
            sheet.name
        );
        let diagnostic = subject.at(Diagnostic::new(&CODE, message), len, "its size follows from this");
        let diagnostic = subject.at(diagnostic, sold, "the sheet");
        diagnostic.help(format!(
            "{} is the most, with the skim taken off; divide the part or use a larger sheet",
            most.text()
        ))
    });
    let what =
        if what == "length" { "part length against the sheet" } else { "part width against the sheet" };
    Finding {
        code: &CODE,
        subject: part.path.clone(),
        what,
        value: len.value,
        limit,
        at_most: true,
        diagnostic,
    }
}
