//! A sheet is measured before anything is cut.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::SheetId;
use crate::parts::{Finding, Limit, Stock};
use std::collections::BTreeSet;

code!(
    Warning,
    CODE,
    "C002",
    "sheet_not_measured",
    "a sheet whose thickness nobody measured",
    "A sheet of the category 23/32 may be anything from 0.688 to 0.750 in (PS 1-19; sanded 0.703 to 0.734), and every dado, clear \
     width and shelf follows its thickness. Without a caliper reading the nominal thickness is taken: good for a first plan, not for \
     cutting.",
    with_example
);

/// Each sheet that parts are cut from.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let used: BTreeSet<Stock> = subject.graph.parts.iter().map(|part| part.stock).collect();
    for (index, sheet) in subject.graph.sheets.iter().enumerate() {
        if !used.contains(&Stock::Sheet(SheetId(index))) {
            continue;
        }
        let (what, measured) = ("caliper readings of the sheet", usize::from(sheet.measured));
        let limit = Limit::AtLeast(1_usize.into());
        if report.compare(Finding::new(&CODE, sheet.name.as_ref(), what, measured, limit)) {
            continue;
        }
        let nominal = subject.print(sheet.thickness.value);
        let message =
            format!("the sheet `{}` is not measured: {nominal} is its nominal thickness", sheet.name);
        let diagnostic =
            subject.at(Diagnostic::new(&CODE, message), sheet.thickness, "all joints follow this");
        report.tell(diagnostic.about(sheet.name.as_ref()).help(format!(
            "measure the sheets you have and state `thickness = ...` in your own `sheet {}`",
            sheet.name
        )));
    }
}
