//! A blank has wood left where it is fitted to the wall or the floor.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, Fix, code};
use crate::parts::{Finding, Limit, Part};
use crate::quantity::Length;

code!(
    Error,
    CODE,
    "C027",
    "scribe_runs_out",
    "a blank without enough wood to scribe",
    "What is fitted in the room is cut for its widest place and 1/4 in (5 mm) over that (common practice, no source). With less the \
     scribe runs out at one height, or a rail hangs above the floor.",
    with_example
);

/// Every part that is fitted in the room.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let least = subject.usual((1, 4), 50);
    for (stated, (id, run)) in subject.model.runs.iter().zip(subject.graph.numbered_runs()) {
        let Some(facing) = &stated.facing else { continue };
        let mut short: Option<(&Part, Length)> = None;
        for part in subject.graph.facing_of(id, run) {
            let widest = part.scribed.iter().map(|(_, width)| width.value).max();
            let Some((widest, blank)) = widest.zip(part.blank) else { continue };
            let over = blank.width.value.checked_sub(widest).unwrap_or_default();
            let what = "wood left to scribe";
            let limit = Limit::AtLeast(least.into());
            let kept = report.compare(Finding::new(&CODE, part.path.as_str(), what, over, limit));
            if !kept && short.is_none_or(|(_, less)| over < less) {
                short = Some((part, over));
            }
        }
        let Some((part, over)) = short else { continue };
        let message =
            format!("the blank of `{}` has only {} over its widest place", part.path, subject.print(over));
        let diagnostic =
            subject.at(Diagnostic::new(&CODE, message), facing.scribe.spare, "what a blank has over");
        let diagnostic = subject.at_head(diagnostic, facing.head, "this facing").about(stated.name.as_ref());
        let fix: Option<Fix> = subject.change(facing.scribe.spare, least, "leave {} to scribe", true);
        let help = format!("rip it with {} over the widest place", subject.print(least));
        report.tell_with(diagnostic.help(help), fix.into_iter().collect());
    }
}
