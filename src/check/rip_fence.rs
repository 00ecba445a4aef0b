//! Parts wider than the saw's fence goes out.

use super::helpers::over_limit::wide;
use super::{Check, Report, Subject};
use crate::diag::code;
use crate::quantity::some;

code!(
    Warning,
    CODE,
    "C045",
    "rip_fence",
    "parts wider than the fence of the saw opens",
    "A strip is ripped against the fence as far as that opens. What is wider is ripped along a straightedge, or the rest of the sheet \
     runs against the fence; both take time and a helper (common practice, no source).",
    with_example
);

/// Every width that is ripped against the widest fence of the shop.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let Some(fence) = subject.model.shop.fence else { return };
    let Some(wide) = wide(subject, report, (&CODE, "width of a rip"), fence) else { return };
    let what = match (wide.count, wide.kind()) {
        (1, Some(kind)) => format!("1 {kind} is"),
        (count, _) => format!("{} are", some(count, "part")),
    };
    let message = format!(
        "{what} up to {} wide, and the fence opens to {}",
        subject.print(wide.widest.value),
        subject.print(fence.value)
    );
    let told = wide.told(subject, (&CODE, message), (fence, "the fence of the saw"));
    report.tell(told.help(format!(
        "make them {} wide, rip them along a straightedge, or let the rest of the sheet run against the fence",
        subject.most(fence.value)
    )));
}
