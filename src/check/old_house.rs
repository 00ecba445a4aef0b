//! Old paint, old texture and old tile are tested before they are disturbed.

use super::helpers::place::against;
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Decided, ObstacleClass};
use crate::parts::{FREE_OF_ASBESTOS, FREE_OF_LEAD, Figure, Finding, Limit};
use crate::quantity::{Dim, Length, Round, to_f64, unit};
use crate::source::Span;
use std::collections::BTreeMap;

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
    let rooms = if year < FREE_OF_LEAD { taken_off(subject) } else { BTreeMap::new() };
    for (name, area) in rooms.into_values() {
        let most = unit("ft2").map_or(0.0, |foot| 6.0 * to_f64(foot.factor));
        let [area, most] = [area, most].map(|area| Figure::about(area, Dim::AREA));
        let kept = report.compare(Finding::new(&CODE, name, TAKEN_OFF, area, Limit::AtMost(most)));
        let [area, most] = [area, most].map(|area| area.print(subject.marks(), Round::Nearest));
        let over = if kept { "under" } else { "over" };
        diagnostic = diagnostic.note(format!(
            "the trim of `{name}` that is taken off has {area} of old paint, {over} {most} a room"
        ));
    }
    report.tell(diagnostic.help(format!(
        "have {what} tested before you disturb them; `accept old_paint because \"...\"` once they are"
    )));
}

/// What is compared, in words.
const TAKEN_OFF: &str = "old paint on trim that is taken off";

/// The faces of all trim that is taken off where runs stand, in square millimetres, with the name of its room, room by room.
fn taken_off<'a>(subject: &Subject<'a>) -> BTreeMap<usize, (&'a str, f64)> {
    let mut rooms = BTreeMap::new();
    // How far along each wall trim without a place was met already, by where it is declared; trim with one, on whatever wall it is met.
    let mut met: Vec<(Span, Option<usize>, [Length; 2])> = Vec::new();
    for against in against(subject) {
        let trim = against.wall.obstacles.iter().filter(|obstacle| obstacle.class == ObstacleClass::Trim);
        for obstacle in trim.filter(|obstacle| obstacle.decided == Decided::Remove) {
            let Some([along, _, [low, high]]) = against.bounds(subject, obstacle) else { continue };
            let wall = obstacle.along.is_none().then_some(against.run.wall).flatten();
            let before = met.iter().filter(|(head, on, _)| (*head, *on) == (obstacle.head, wall));
            let new = beyond(along, before.map(|(.., along)| *along));
            met.push((obstacle.head, wall, along));
            let tall = high.checked_sub(low).map_or(0.0, Length::to_mm_f64);
            rooms.entry(against.wall.room).or_insert((against.wall.room_name(), 0.0)).1 += new * tall;
        }
    }
    rooms
}

/// How much of a stretch lies outside of all others, in millimetres.
fn beyond([from, to]: [Length; 2], others: impl Iterator<Item = [Length; 2]>) -> f64 {
    let mut others: Vec<_> = others.collect();
    others.sort_unstable();
    let (mut at, mut free) = (from, 0.0);
    for [begins, ends] in others {
        free += begins.min(to).checked_sub(at).map_or(0.0, |gap| gap.to_mm_f64().max(0.0));
        at = at.max(ends);
    }
    free + to.checked_sub(at).map_or(0.0, |gap| gap.to_mm_f64().max(0.0))
}
