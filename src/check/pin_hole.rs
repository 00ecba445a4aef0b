//! Pin holes leave wood behind them.

use super::{Check, Report, Subject, others};
use crate::diag::{Diagnostic, code};
use crate::eval::Len;
use crate::parts::{Finding, Limit, Part};
use crate::quantity::Length;

code!(
    Error,
    THROUGH,
    "C111",
    "pin_hole_through",
    "a pin hole as deep as its side is thick",
    "A hole for a pin is bored 3/8 in (10 mm) deep, with a stop (common practice, no source). As deep as the side or divider is thick, it \
     comes out on the other face.",
    with_example
);

code!(
    Warning,
    THIN,
    "C112",
    "pin_hole_deep",
    "a pin hole with little wood behind it",
    "Behind a pin hole 1/4 in (6 mm) of wood stays (common practice, no source): with less the bit breaks through or the spot shows on \
     the other face.",
    with_example
);

/// The holes in every upright that is bored.
pub(super) const CHECK: Check = Check { codes: &[&THROUGH, &THIN], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let least = subject.usual((1, 4), 60);
    let mut thin: Vec<(Length, Len, &Part)> = Vec::new();
    for bore in &subject.graph.bores {
        for host in bore.hosts.iter().filter_map(|id| subject.graph.part(*id)) {
            let left = host.size.thickness.value.checked_sub(bore.depth.value).unwrap_or_default();
            let code = if left.is_positive() { &THIN } else { &THROUGH };
            let finding = Finding::new(
                code,
                host.path.as_str(),
                "wood behind a pin hole",
                left,
                Limit::AtLeast(least.into()),
            );
            if !report.compare(finding) && !thin.iter().any(|(.., known)| known.id == host.id) {
                thin.push((left, bore.depth, host));
            }
        }
    }
    let Some((left, depth, host)) = thin.iter().min_by_key(|(left, ..)| *left).copied() else { return };
    let more = others(thin.len() - 1, "part");
    let deep = subject.print(depth.value);
    let (code, message) = if left.is_positive() {
        let left = subject.print(left);
        (&THIN, format!("behind pin holes {deep} deep {left} of wood are left in `{}`{more}", host.path))
    } else {
        (&THROUGH, format!("pin holes {deep} deep go through `{}`{more}", host.path))
    };
    let told = subject.at(Diagnostic::new(code, message), depth, "how deep they are bored");
    let told = subject.at(told, host.size.thickness, "the thickness of the sheet");
    let told = thin.iter().fold(told, |told, (.., host)| told.about(host.path.as_str()));
    let most = host.size.thickness.value.checked_sub(least).filter(|most| most.is_positive());
    let Some(most) = most else {
        report.tell(told.help("take a thicker sheet, or let the shelves stand on cleats"));
        return;
    };
    let fix = subject.change(depth, most, "bore the holes {} deep", true);
    let help = format!("bore them {} deep or less: `hole_depth`", subject.most(most));
    report.tell_with(told.help(help), fix.into_iter().collect());
}
