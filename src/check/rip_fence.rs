//! Parts wider than the saw's fence goes out.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, Example, code};
use crate::parts::{Finding, Limit, Part, Stock};
use crate::quantity::Length;
use std::collections::BTreeMap;

code!(
    Warning,
    CODE,
    "C045",
    "rip_fence",
    "parts wider than the fence of the saw goes out",
    "A strip is ripped against the fence as far as that goes out. What is wider is ripped along a straightedge, or the rest of the sheet \
     runs against the fence; both take time and a helper (common practice, no source).",
    Some(Example {
        bad: "saw table { fence = 250mm }\nsheet ply { thickness = 18mm }\nstick s { floor = 80mm, high = 500mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n",
        good: "saw table { fence = 700mm }\nsheet ply { thickness = 18mm }\nstick s { floor = 80mm, high = 500mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n",
    })
);

/// Every width that is ripped against the widest fence of the shop.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let Some(fence) = subject.model.shop.fence else { return };
    let mut widths: BTreeMap<(Length, &str), Vec<&Part>> = BTreeMap::new();
    for part in subject.graph.parts.iter().filter(|part| matches!(part.stock, Stock::Sheet(_))) {
        widths.entry((part.cut().width.value, part.role.word())).or_default().push(part);
    }
    let mut wide = Vec::new();
    for ((width, role), parts) in &widths {
        let limit = Limit::AtMost(fence.value.into());
        if !report.compare(Finding::new(&CODE, *role, "width of a rip", *width, limit)) {
            wide.push((*role, parts));
        }
    }
    let Some((role, parts)) = wide.last() else { return };
    let Some(widest) = parts.first().map(|part| part.cut().width) else { return };
    let count: usize = wide.iter().map(|(_, parts)| parts.len()).sum();
    let what = if count == 1 { format!("1 {role} is") } else { format!("{count} parts are") };
    let message = format!(
        "{what} up to {} wide, and the fence goes out to {}",
        subject.print(widest.value),
        subject.print(fence.value)
    );
    let diagnostic = subject.at(Diagnostic::new(&CODE, message), widest, "this makes them as wide");
    let mut diagnostic = subject.at(diagnostic, fence, "the fence of the saw");
    let kinds: Vec<String> = wide.iter().map(|(role, parts)| format!("{} x {role}", parts.len())).collect();
    diagnostic = diagnostic.note(kinds.join(", "));
    for part in wide.iter().flat_map(|(_, parts)| parts.iter()) {
        diagnostic = diagnostic.about(part.path.as_str());
    }
    report.tell(diagnostic.help(format!(
        "make them {} wide, rip them along a straightedge, or let the rest of the sheet run against the fence",
        subject.most(fence.value)
    )));
}
