//! Old paint, old texture and old tile are tested before they are disturbed.

use super::helpers::place::against;
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, ObstacleClass};
use crate::parts::{FREE_OF_ASBESTOS, FREE_OF_LEAD, Figure, Finding, Limit};
use crate::quantity::{Dim, Length, Round, to_f64, unit};

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
    let mut diagnostic = subject.at_head(Diagnostic::new(&CODE, message), project.head, "");
    if let Some(area) = taken_off(subject).filter(|_| year < FREE_OF_LEAD) {
        let most = unit("ft2").map_or(0.0, |foot| 6.0 * to_f64(foot.factor));
        let [area, most] = [area, most].map(|area| Figure::about(area, Dim::AREA));
        let kept = report.compare(Finding::new(&CODE, "project", TAKEN_OFF, area, Limit::AtMost(most)));
        let [area, most] = [area, most].map(|area| area.print(subject.marks(), Round::Nearest));
        let over = if kept { "under" } else { "over" };
        diagnostic = diagnostic
            .note(format!("the trim that is taken off has {area} of old paint, {over} {most} a room"));
    }
    report.tell(diagnostic.help(format!(
        "have {what} tested before you disturb them; `accept old_paint because \"...\"` once they are"
    )));
}

/// What is compared, in words.
const TAKEN_OFF: &str = "old paint on trim that is taken off";

/// The faces of all trim that is taken off where runs stand, in square millimetres; `None` where none is.
fn taken_off(subject: &Subject<'_>) -> Option<f64> {
    let mut area = None;
    for against in against(subject) {
        let trim = against.wall.obstacles.iter().filter(|obstacle| obstacle.class == ObstacleClass::Trim);
        for obstacle in trim.filter(|obstacle| obstacle.decided == Decided::Remove) {
            let Some([[from, to], _, [low, high]]) = against.bounds(subject, obstacle) else { continue };
            let [wide, tall] = [(from, to), (low, high)]
                .map(|(from, to)| to.checked_sub(from).map_or(0.0, Length::to_mm_f64));
            *area.get_or_insert(0.0) += wide * tall;
        }
    }
    area
}
