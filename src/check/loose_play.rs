//! A painted loose shelf has room for its paint.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Finding, Limit};

code!(
    Warning,
    CODE,
    "C125",
    "loose_play",
    "a loose shelf that its paint makes too tight",
    "A loose shelf is 1/8 in (3 mm) shorter than its opening is wide; at least 1/16 in (1.6 mm) of that stays free, and paint takes 1/64 in \
     (0.4 mm) (common practice, no source).",
    with_example
);

/// The first loose shelf of every opening, where the project is painted.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    if subject.model.finish.is_none() {
        return;
    }
    let least = subject.usual((5, 64), 20);
    for opening in &subject.graph.openings {
        let Some(shelf) = opening.loose.first().and_then(|id| subject.graph.part(*id)) else { continue };
        let Some(play) = opening.clear_width.value.checked_sub(shelf.size.length.value) else { continue };
        let what = "play of a loose shelf that is painted";
        if report.compare(Finding::new(&CODE, shelf.path.as_str(), what, play, Limit::AtLeast(least.into())))
        {
            continue;
        }
        let message =
            format!("`{}` has {} of play, and its paint takes some of that", shelf.path, subject.print(play));
        let diagnostic = subject.at(Diagnostic::new(&CODE, message), shelf.size.length, "its length");
        report.tell(
            diagnostic
                .about(shelf.path.as_str())
                .help(format!("give it a `play` of {} or more", subject.least(least))),
        );
    }
}
