//! The crosscut saw reaches across every part.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, Example, code};
use crate::parts::{Finding, Limit, Stock};
use crate::quantity::{Length, some};
use std::collections::BTreeMap;

code!(
    Warning,
    CODE,
    "C012",
    "saw_reach",
    "parts wider than the crosscut saw reaches",
    "A crosscut wider than the saw's reach is finished by hand, or turned over and cut from both faces. Over dozens of shelves \
     that is an evening. Where several saws state a reach, the greatest counts; a saw without one is taken to reach across \
     everything only where no saw states any.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nsaw mitre { reach = 280mm }\nstick s { floor = 80mm }\ncarcass a { shelves = s, width = 900mm, height = 900mm, depth = 300mm }\n",
        good: "sheet ply { thickness = 18mm }\nsaw mitre { reach = 305mm }\nstick s { floor = 80mm }\ncarcass a { shelves = s, width = 900mm, height = 900mm, depth = 300mm }\n",
    })
);

/// The width of every kind of part against the reach.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let Some(reach) = subject.model.shop.reach else { return };
    let mut widths: BTreeMap<(Length, &str), Vec<&crate::parts::Part>> = BTreeMap::new();
    for part in &subject.graph.parts {
        if matches!(part.stock, Stock::Sheet(_)) {
            widths.entry((part.cut().width.value, part.role.word())).or_default().push(part);
        }
    }
    let mut wide = Vec::new();
    for ((width, role), parts) in &widths {
        let finding =
            Finding::new(&CODE, *role, "width of a crosscut", *width, Limit::AtMost(reach.value.into()));
        if !report.compare(finding) {
            wide.push((*role, parts));
        }
    }
    let Some(widest) =
        wide.iter().filter_map(|(_, parts)| parts.first()).max_by_key(|part| part.cut().width.value)
    else {
        return;
    };
    let count: usize = wide.iter().map(|(_, parts)| parts.len()).sum();
    let crosscuts = some(count, "crosscut");
    let width = widest.cut().width;
    let message = format!(
        "{crosscuts} of parts {} wide are finished by hand: the saw reaches {}",
        subject.print(width.value),
        subject.print(reach.value)
    );
    let diagnostic = subject.at(Diagnostic::new(&CODE, message), width, "this makes them as wide");
    let mut diagnostic = subject.at(diagnostic, reach, "the reach of the saw");
    let kinds: Vec<String> = wide.iter().map(|(role, parts)| format!("{} x {role}", parts.len())).collect();
    diagnostic = diagnostic.note(kinds.join(", "));
    for part in wide.iter().flat_map(|(_, parts)| parts.iter()) {
        diagnostic = diagnostic.about(part.path.as_str());
    }
    report.tell(diagnostic.help(format!(
        "make them {} wide, cut them on another saw, or turn each over and cut it from both faces",
        subject.most(reach.value)
    )));
}
