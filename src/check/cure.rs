//! Paint is hard before anything stands on it.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{Figure, Finding, Limit, finish_times};
use crate::quantity::{Dim, Exact, Rational};
use jiff::civil::DateTime;

code!(
    Warning,
    CODE,
    "C048",
    "loaded_too_soon",
    "shelves that are loaded before their paint is hard",
    "Fresh paint sticks to what stands on it and comes off with it. Light things may stand on it after 7 days, all after 14 to 30 (common \
     practice, no source), or as the coating states it; the schedule counts from the end of the last coat.",
    with_example
);

/// The day of loading against the day on which the last coat carries.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let project = &subject.model.project;
    let Some((finish, (day, span))) = subject.model.finish.as_ref().and_then(|f| Some((f, f.loaded?))) else {
        return;
    };
    let ready = finish_times(project, finish).may_carry;
    let Some(all) = ready[1].or(ready[0]) else { return };
    let Some(start) = project.start else { return };
    let since = |time: DateTime| Exact {
        value: Rational::from(i128::from(time.date().duration_since(start.date()).as_secs())),
        dim: Dim::TIME,
    };
    let (what, limit) = ("days from the start to the load", Limit::AtLeast(Figure::Exact(since(all))));
    if report.compare(Finding::new(&CODE, "finish", what, Figure::Exact(since(day)), limit)) {
        return;
    }
    let print = |time: DateTime| time.strftime("%Y-%m-%d").to_string();
    let message =
        format!("the shelves are loaded on {}, and their paint is hard on {}", print(day), print(all));
    let diagnostic = Diagnostic::new(&CODE, message).at(span, "");
    let light = match ready[0] {
        Some(light) if light < all => format!("a few light things may stand there from {}", print(light)),
        _ => "let nothing stand there before".to_owned(),
    };
    report.tell(diagnostic.help(format!("load them on {} or later; {light}", print(all))));
}
