//! A small change of a stated size that saves sheets.

use super::{Check, Report, Subject};
use crate::breakdown::{Effort, Saving, SheetWork};
use crate::diag::{Diagnostic, code};
use crate::limits;
use crate::parts::{Finding, Limit};

code!(
    Note,
    CODE,
    "C127",
    "near_miss",
    "a small change of a size that saves sheets",
    "A little less of one stated size lets more parts lie on a sheet. The change is 1/4 in (6 mm) at most (common practice, no source), as \
     small as it can be on the project's marks, and the sheets are planned again with it. A check tries the three sizes that promise \
     most, with little effort, where a quick layout is proven to be the least; `show layouts` tries all, and names those of the check \
     among them. It is looked for where sheets have up to 60 sizes of parts; nothing is said where the size is worked out from \
     others.",
    with_example
);

/// The sheets that are bought against those that a small change would take.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    if subject.graph.parts.len() > limits::LAID_OUT {
        return;
    }
    for work in subject.plans.sheets(subject.model, subject.graph, Effort::Quick) {
        let Some(sheet) = subject.graph.sheet(work.sheet) else { continue };
        let savings = work.savings((subject.model, subject.graph));
        let Some(near) = savings.first() else { continue };
        let count = |sheets: u64| usize::try_from(sheets).unwrap_or(usize::MAX);
        let limit = Limit::AtMost(count(near.sheets).into());
        report.compare(Finding::new(
            &CODE,
            &*sheet.name,
            "sheets against those after a small change",
            count(near.before),
            limit,
        ));
        let (told, fix) = told(subject, work, near);
        report.tell_with(told.about(sheet.name.as_ref()), fix.into_iter().collect());
    }
}

fn told(subject: &Subject<'_>, work: &SheetWork, near: &Saving) -> (Diagnostic, Option<crate::diag::Fix>) {
    let name = subject.graph.sheet(work.sheet).map_or("", |sheet| &sheet.name);
    let message = format!("{}: {}", near.says(subject.model), counted(near, name));
    let told = subject.at_stated(Diagnostic::new(&CODE, message), near.from, "this size");
    let fix = subject.change(near.from, near.to, "make it {}", false);
    (told.help(format!("make it {}, if nothing that stands there needs more", subject.write(near.to))), fix)
}

/// ``22 sheets of `ply` in place of 24``.
fn counted(near: &Saving, name: &str) -> String {
    format!("{} of `{name}` in place of {}", crate::quantity::some(near.sheets, "sheet"), near.before)
}
