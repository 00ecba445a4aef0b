//! Old paint, old texture and old tile are tested before they are disturbed.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::parts::{FREE_OF_ASBESTOS, FREE_OF_LEAD, Finding, Limit};

code!(
    Warning,
    CODE,
    "C041",
    "old_paint",
    "a house so old that its paint or texture is tested first",
    "Paint sold for houses before 1978 may hold lead (EPA, 40 CFR 745); texture and tile from before about 1985 may hold asbestos \
     (common practice, no source). Both are tested before anybody scrapes, sands or drills. More than 6 sq ft of old paint disturbed in a \
     room is work for the certified where it is done for hire.",
    with_example
);

/// The year in which the house was built, where a run stands in it.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let project = &subject.model.project;
    let Some(year) = project.year_built.filter(|_| subject.graph.runs.iter().any(|run| run.wall.is_some()))
    else {
        return;
    };
    let [built, from] = [year, FREE_OF_ASBESTOS].map(|year| usize::try_from(year).unwrap_or_default());
    let limit = Limit::AtLeast(from.into());
    if report.compare(Finding::new(&CODE, "project", "year in which the house was built", built, limit)) {
        return;
    }
    let (fact, what) = if year < FREE_OF_LEAD {
        ("its paint may hold lead, its texture and tile asbestos", "paint, texture and tile")
    } else {
        ("its texture and tile may hold asbestos", "texture and tile")
    };
    let message = format!("the house was built in {year}: {fact}");
    let diagnostic = subject.at_head(Diagnostic::new(&CODE, message), project.head, "");
    report.tell(diagnostic.help(format!(
        "have {what} tested before you disturb them; `accept old_paint because \"...\"` once they are"
    )));
}
