//! A strip covers the edge that it is put on.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Finding, Limit};

code!(
    Warning,
    CODE,
    "C131",
    "tape_narrow",
    "a strip on edges that is hardly as wide as they are",
    "A strip stands over its edge on both sides and is trimmed flush: 1/32 in (1 mm) more than the sheet is thick, in all, at least (common \
     practice, no source). A narrower one leaves a raw line wherever it was not laid dead straight.",
    with_example
);

/// The strip of every unit against its sheet.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for standing in subject.units() {
        let (Some(edge), Some(sheet)) = (&standing.carcass.edge, subject.graph.sheet(standing.unit.sheet))
        else {
            continue;
        };
        let over = subject.usual((1, 32), 10);
        let Some(least) = sheet.thickness.value.checked_add(over) else { continue };
        let path = standing.unit.path.as_str();
        let what = "width of the strip on front edges";
        if report.compare(Finding::new(&CODE, path, what, edge.width.value, Limit::AtLeast(least.into()))) {
            continue;
        }
        let message = format!(
            "`{}` is {} wide on edges {} thick",
            edge.name,
            subject.print(edge.width.value),
            subject.print(sheet.thickness.value)
        );
        let told = Diagnostic::new(&CODE, message).at(edge.head, "this edge").about(path);
        let told = subject.at(told, edge.width, "its width");
        report.tell(told.help(format!("take a strip {} wide or wider", subject.least(least))));
    }
}
