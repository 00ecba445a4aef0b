//! Every part fits on its sheet.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Len, Sheet};
use crate::mechanics::published::USUAL_PANEL;
use crate::parts::{Finding, Lacking, Limit, Need, Part, Stock};
use std::collections::BTreeSet;

code!(
    Error,
    CODE,
    "C003",
    "larger_than_sheet",
    "a part that is larger than the sheet it is cut from",
    "A sheet offers the least size that it may be sold in (its `tolerance`: PS 1-19 takes up to 1/16 in off), less the skim of the \
     first cut, in both directions (arithmetic). A part's length runs along the grain, so a part of a sheet with grain is not turned \
     to fit.",
    with_example
);

/// Length and width of each kind of part against its sheet.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut seen = BTreeSet::new();
    for part in &subject.graph.parts {
        let Stock::Sheet(id) = part.stock else { continue };
        let Some(sheet) = subject.graph.sheet(id) else { continue };
        let size = part.size;
        if !seen.insert((id, part.role.word(), size.length.value, size.width.value)) {
            continue;
        }
        let Some((along, across)) = sheet.size else {
            let [long, wide] = [size.length, size.width].map(|side| side.value.to_mm_f64());
            let within = |along: f64, across: f64| long <= along && wide <= across;
            let [along, across] = USUAL_PANEL;
            report.lack(Lacking {
                code: &CODE,
                subject: part.path.clone(),
                many: "parts",
                what: "part length against the sheet",
                measures: &[],
                needs: vec![Need::of("size", &sheet.name)],
                matters: !within(along, across) && (sheet.grain || !within(across, along)),
            });
            continue;
        };
        let fits =
            |long, wide| size.length.value <= sheet.offered(long) && size.width.value <= sheet.offered(wide);
        let turned = !fits(along, across) && fits(across, along);
        let (long, wide) = if turned && !sheet.grain { (across, along) } else { (along, across) };
        let sides = [(size.length, "length", long), (size.width, "width", wide)];
        for (len, side, sold) in sides {
            compare(subject, report, (part, sheet), (len, side), sold, turned && sheet.grain);
        }
    }
}

fn compare(
    subject: &Subject<'_>,
    report: &mut Report,
    (part, sheet): (&Part, &Sheet),
    (len, side): (Len, &'static str),
    sold: Len,
    only_across: bool,
) {
    let limit = sheet.offered(sold);
    let what =
        if side == "length" { "part length against the sheet" } else { "part width against the sheet" };
    if report.compare(Finding::new(&CODE, &*part.path, what, len.value, Limit::AtMost(limit.into()))) {
        return;
    }
    let message = format!(
        "the {side} of `{}`, {}, is more than a sheet of `{}` offers",
        part.path,
        subject.print(len.value),
        sheet.name
    );
    let diagnostic = subject.at(Diagnostic::new(&CODE, message), len, "its size follows from this");
    let mut diagnostic = subject.at(diagnostic, sold, "the sheet");
    if only_across {
        let turned =
            "turned it would fit, but with its grain across its length, where a sheet bends more easily";
        diagnostic = diagnostic.note(turned);
    }
    report.tell(diagnostic.help(format!(
        "{} is the most, with the skim and the sheet's tolerance taken off; divide the part or use a larger sheet",
        subject.most(limit)
    )));
}
