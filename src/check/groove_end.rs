//! Wood beyond a groove.

use super::{Check, Report, Subject, others};
use crate::diag::{Diagnostic, code};
use crate::eval::Len;
use crate::parts::{Finding, JointKind, Limit, Role};
use crate::quantity::Length;
use std::collections::BTreeMap;

code!(
    Error,
    CODE,
    "C029",
    "groove_near_end",
    "a groove so near the end of its side that the wood breaks out",
    "Keep 1/2 in (12.7 mm) of wood beyond a groove, or make it a rabbet (common practice, no source): the short grain beyond it \
     breaks out when the shelf is driven in.",
    with_example
);

/// The lowest and the highest groove of each side.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let least = subject.usual((1, 2), 127);
    let mut hosts: BTreeMap<_, [(Length, Len); 2]> = BTreeMap::new();
    for joint in &subject.graph.joints {
        let Some(host) = subject.graph.part(joint.host) else { continue };
        let (JointKind::Dado { width, .. }, Role::Side(_)) = (joint.kind, host.role) else { continue };
        let above = joint.at.value.checked_add(width.value);
        let above = above.and_then(|top| host.size.length.value.checked_sub(top)).unwrap_or_default();
        let ends = [(joint.at.value, joint.at), (above, joint.at)];
        let known = hosts.entry(joint.host).or_insert(ends);
        for (known, new) in known.iter_mut().zip(ends) {
            if new.0 < known.0 {
                *known = new;
            }
        }
    }
    let mut told: BTreeMap<(Length, Length), (Len, &str, Vec<&str>)> = BTreeMap::new();
    for (host, ends) in hosts {
        let Some(host) = subject.graph.part(host) else { continue };
        for ((beyond, mark), end) in ends.into_iter().zip(["lower", "upper"]) {
            // At the very end of a side a groove has one wall only: it is a rabbet.
            if end == "lower" && beyond.is_zero() {
                continue;
            }
            let limit = Limit::AtLeast(least.into());
            let what = "wood beyond the outermost groove";
            if !report.compare(Finding::new(&CODE, host.path.as_str(), what, beyond, limit)) {
                told.entry((beyond, mark.value)).or_insert((mark, end, Vec::new())).2.push(&host.path);
            }
        }
    }
    for ((beyond, _), (mark, end, sides)) in told {
        let first = sides.first().copied().unwrap_or_default();
        let more = others(sides.len().saturating_sub(1), "side");
        let some = beyond.is_positive();
        let left = if some { subject.print(beyond) } else { "no".to_owned() };
        let of = if some { " of" } else { "" };
        let message =
            format!("{left}{of} wood is left beyond the groove at the {end} end of `{first}`{more}");
        let mut diagnostic = subject.at(Diagnostic::new(&CODE, message), mark, "the mark of that groove");
        for side in &sides {
            diagnostic = diagnostic.about(*side);
        }
        let lack = least.checked_sub(beyond).unwrap_or_default();
        let way = if end == "upper" { "lower" } else { "raise" };
        let mark = format!("{way} the mark by {} or more", subject.least(lack));
        let top = "let a `top` lie in rabbets at the ends of the sides".to_owned();
        // Where nothing is left, a rabbet is what was meant.
        let [first, other] = if some { [mark, top] } else { [top, mark] };
        report.tell(diagnostic.help(first).help(format!("or {other}")));
    }
}
