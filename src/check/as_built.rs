//! A part as it was built still goes where it belongs.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Finding, JointKind, Limit, Part, PartId, Sized};
use crate::quantity::{Length, Rational};
use std::collections::BTreeMap;

code!(
    Error,
    CODE,
    "C042",
    "wrong_length",
    "a part that was cut to another length than its unit asks for",
    "A stop or a pencil is off by up to 1/32 in (0.8 mm); what is off further makes the unit too wide or too narrow all along \
     (common practice, no source). A shelf is the clear width and two dado depths long, a cleat or stretcher the clear width.",
    with_example
);

/// Every length that was measured against the one that was derived.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let parts = subject.graph.numbered().filter(|(_, part)| !part.as_built.is_empty() && part.unit.is_some());
    let measured: Vec<(PartId, &Part)> = parts.collect();
    if measured.is_empty() {
        return;
    }
    let mut housed: BTreeMap<PartId, Length> = BTreeMap::new();
    for joint in &subject.graph.joints {
        if let JointKind::Dado { depth, .. } = joint.kind {
            let both = housed.entry(joint.guest).or_default();
            *both = both.checked_add(depth.value).unwrap_or(*both);
        }
    }
    let most = subject.usual((1, 32), 8);
    for (id, part) in measured {
        let Some(built) = part.as_built.iter().find(|built| built.size == Sized::Length) else { continue };
        let (found, derived) = (part.size.length, built.derived);
        let off = found.value.max(derived.value).checked_sub(found.value.min(derived.value));
        let off = off.unwrap_or_default();
        let what = "length as built against the derived one";
        let limit = Limit::AtMost(most.into());
        if report.compare(Finding::new(&CODE, part.path.as_str(), what, off, limit)) {
            continue;
        }
        let short = if found.value < derived.value { "short" } else { "long" };
        let message = format!(
            "`{}` is {} long, {} too {short}",
            part.path,
            subject.print(found.value),
            subject.print(off)
        );
        let diagnostic = subject.at(Diagnostic::new(&CODE, message), found, "as built");
        let diagnostic = diagnostic.about(part.path.as_str());
        let dados = housed.get(&id).copied().unwrap_or_default();
        let near = dados.max(off).checked_sub(dados.min(off)).is_some_and(|apart| apart <= most);
        let help = if near && !dados.is_zero() && short == "short" {
            let depth = dados.checked_div(Rational::from(2)).unwrap_or_default();
            format!(
                "it forgets two dado depths of {}: cut it {} long, and keep this one for a cleat",
                subject.print(depth),
                subject.print(derived.value)
            )
        } else if short == "short" {
            format!("cut another {} long, and keep this one for a shorter part", subject.print(derived.value))
        } else {
            format!("trim it to {} at the stop", subject.print(derived.value))
        };
        report.tell(diagnostic.help(help));
    }
}
