//! What the floor carries under a loaded wall of shelves.

use super::helpers::shelf_load::line_load;
use super::{Check, Report, Subject, others};
use crate::diag::{Diagnostic, code};
use crate::eval::{Build, Joists};
use crate::mechanics::floor::{self, FloorUse, Joist};
use crate::mechanics::{NEWTONS_PER_KILOGRAM, Units};
use crate::parts::{Figure, Finding, How, Lacking, Limit, Need, Part, RunPart};
use crate::quantity::{Dim, Estimate, Length, Round, to_f64};
use crate::source::Span;
use std::collections::BTreeMap;

code!(
    Note,
    CODE,
    "C019",
    "floor",
    "a loaded wall of shelves on joists",
    "Units, facing and loads over the units' widths (arithmetic, of stated weights and loads): a line load that a room's floor was \
     not designed for. Whether joists carry it is not checked here; their direction, size and span decide, and the local code and a \
     licensed engineer. Where `joists`, `spacing` and `span` of the floor are stated, the moment in one of them is held against that of the \
     live load, 40 lb/sq ft in rooms and 30 in bedrooms (IRC Table R301.5). An estimate.",
    with_example
);

/// What is compared, in words.
const ALONG: &str = "units, facing and load along the wall";

/// What lies on the floor under the footprint, in words.
const UNDER: &str = "units, facing and load over their footprint";

/// What the shelves ask of one joist, in words.
const SHARE: &str = "moment in a joist, over that of the live load it was made for";

fn kilograms(value: f64) -> Estimate {
    Estimate { value, dim: Dim::WEIGHT }
}

/// What each shelf is asked to carry, and all of a unit and of a run.
fn loads(subject: &Subject<'_>, report: &mut Report) {
    let (mut of_units, mut of_runs): (BTreeMap<&str, f64>, BTreeMap<&str, f64>) = Default::default();
    for opening in subject.graph.openings.iter().filter(|o| !o.divided && o.used) {
        let unit = subject.graph.unit(opening.unit);
        let Some((load, unit)) = opening.load.zip(unit) else { continue };
        let run = unit.run.and_then(|run| subject.graph.run(run));
        let facing = unit.run.and_then(|run| subject.model.runs.get(run.0 as usize)?.facing.as_ref());
        let strip = facing.map_or(0.0, |facing| facing.thickness.value.to_mm_f64());
        let width = opening.clear_width.value.to_mm_f64();
        let own = subject.graph.part(opening.on).map(|shelf| (opening.path.as_str(), shelf));
        let loose = subject.loose_in(opening).into_iter().map(|shelf| (shelf.path.as_str(), shelf));
        for (path, shelf) in own.into_iter().chain(loose) {
            let carries = width * line_load(load, width, shelf.size.width.value.to_mm_f64(), strip);
            let how = How::from("load of its area or length x the clear width, as far as something stands over it")
                .length("clear width", opening.clear_width)
                .length("depth of the shelf", shelf.size.width)
                .by("the classes `books` and `other`: Architectural Woodwork Standards 2009, 1.2.21.2, with 200 lb a shelf at most");
            report.reckon(path, "load", kilograms(carries), how);
            *of_units.entry(unit.path.as_str()).or_default() += carries;
            if let Some(run) = run {
                *of_runs.entry(run.path.as_str()).or_default() += carries;
            }
        }
    }
    for (path, sum) in of_units.into_iter().chain(of_runs) {
        report.reckon(path, "load", kilograms(sum), "the loads of all shelves");
    }
}

/// Every run along a wall.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    loads(subject, report);
    let mut told: Option<Diagnostic> = None;
    let mut said: Vec<String> = Vec::new();
    let mut over: Vec<(&RunPart, Option<Span>)> = Vec::new();
    for (stated, (id_of_run, run)) in subject.model.runs.iter().zip(subject.graph.numbered_runs()) {
        let Some(wall) = run.wall.and_then(|wall| subject.model.walls.get(wall)) else { continue };
        let strip = stated.facing.as_ref().map_or(0.0, |facing| facing.thickness.value.to_mm_f64());
        let facing = subject.graph.facing_weight(id_of_run);
        let (mut total, mut whole) = (facing.map_or(0.0, |weight| weight.value), facing.is_some());
        let mut loaded = true;
        for id in &run.units {
            match subject.weight(*id) {
                Some(weight) => total += weight.value,
                None => whole = false,
            }
            let apart = |part: &&Part| !part.role.is_carried() && !part.role.is_facing();
            for part in subject.graph.parts_of(*id).filter(apart) {
                match subject.graph.part_weight(part, subject.cut_off()) {
                    Some(weight) => total += weight.value,
                    None => whole = false,
                }
            }
            for opening in subject.openings_of(*id).iter().filter(|o| !o.divided && o.used) {
                let shelf = subject.graph.part(opening.on);
                let Some((load, shelf)) = opening.load.zip(shelf) else {
                    (whole, loaded) = (false, false);
                    continue;
                };
                // The shelf that it stands on, and every loose one in it.
                let depths = subject.loose_in(opening).into_iter().chain([shelf]);
                let width = opening.clear_width.value.to_mm_f64();
                total += depths
                    .map(|shelf| width * line_load(load, width, shelf.size.width.value.to_mm_f64(), strip))
                    .sum::<f64>();
            }
        }
        let width = to_f64(run.total_width.value.mm());
        let mut needs: Vec<Need> =
            run.units.iter().flat_map(|id| subject.graph.standing_weight_lacks(*id)).collect();
        needs.extend(subject.graph.facing_weight_lacks(id_of_run));
        needs.sort();
        needs.dedup();
        if loaded && !needs.is_empty() {
            report.lack(Lacking {
                code: &CODE,
                subject: run.path.clone(),
                many: "runs",
                what: ALONG,
                measures: &[],
                needs,
                matters: wall.floor.build == Some(Build::Joists),
            });
        }
        if !whole || width <= 0.0 {
            continue;
        }
        report.reckon(
            &run.path,
            "loaded_weight",
            kilograms(total),
            "units, facing and what is on the shelves",
        );
        let line = floor::line_load(total, width);
        let value = Figure::about(line, Dim::LINE_LOAD);
        let deepest =
            run.units.iter().filter_map(|id| subject.graph.unit(*id)).map(|unit| unit.depth.value).max();
        let depth = deepest.map_or(0.0, Length::to_mm_f64) + strip;
        if depth > 0.0 {
            let area = Figure::about(floor::footprint_load(line, depth), Dim::AREA_LOAD);
            let mut finding = Finding::new(&CODE, run.path.as_str(), UNDER, area, Limit::Unknown);
            finding.remark =
                "floors under stacks of libraries are made for 150 lb/sq ft, 730 kg/m2 (IBC, as quoted)"
                    .to_owned();
            report.compare(finding);
        }
        if let (Some(joists), Some(Build::Joists)) = (wall.floor.joists, wall.floor.build) {
            let kept = shared(subject, report, run, joists, [line, depth]);
            if !kept {
                over.push((run, stated.head));
            }
            report.compare(Finding::new(&CODE, run.path.as_str(), ALONG, value, Limit::Unknown));
            continue;
        }
        let mut finding = Finding::new(&CODE, run.path.as_str(), ALONG, value, Limit::Unknown);
        finding.remark = match wall.floor.build {
            Some(Build::Slab) => "on a slab",
            Some(Build::Joists) => "on joists, not checked",
            None => "what carries the floor is not stated",
        }
        .to_owned();
        report.compare(finding);
        if wall.floor.build == Some(Build::Joists) {
            said.push(format!("{} under `{}`", value.print(subject.marks(), Round::Nearest), run.path));
            let diagnostic = told.take().unwrap_or_else(|| Diagnostic::new(&CODE, ""));
            told = Some(subject.at_head(diagnostic, stated.head, "").about(run.path.as_str()));
        }
    }
    if let Some((first, _)) = over.first() {
        let more = others(over.len() - 1, "run");
        let message = format!(
            "`{}`{more} with the shelves loaded ask more of their joists than the live load that these were made for",
            first.path
        );
        let mut diagnostic = Diagnostic::new(&CODE, message);
        for (run, head) in &over {
            diagnostic = subject.at_head(diagnostic, *head, "").about(run.path.as_str());
        }
        report.tell(
            diagnostic.help("have a licensed engineer look at the joists before the shelves are loaded"),
        );
    }
    if let Some(mut diagnostic) = told {
        diagnostic.message =
            format!("joists carry {} of wall with the shelves loaded: not checked", said.join(", "));
        report.tell(
            diagnostic
                .help("have a licensed engineer look at the joists: their direction, size and span decide"),
        );
    }
}

/// Compares what the shelves ask of one joist with what its floor was made for; whether that is kept.
fn shared(
    subject: &Subject<'_>,
    report: &mut Report,
    run: &RunPart,
    joists: Joists,
    [line, depth]: [f64; 2],
) -> bool {
    let made_for = if joists.bedroom { FloorUse::SleepingRoom } else { FloorUse::Room };
    let [span, spacing] = [joists.span, joists.spacing].map(|len| len.value.to_mm_f64());
    let live_load = made_for.live_load(&Units::MILLIMETRE_NEWTON) / NEWTONS_PER_KILOGRAM;
    let joist = Joist { span, spacing, live_load };
    let share = if joists.along {
        joist.under_shelving_along_it(line)
    } else {
        joist.under_shelving_at_its_end(line, depth.min(span))
    };
    let [value, most] = [share.moment, 1.0].map(|share| Figure::about(share, Dim::NONE));
    let mut finding = Finding::new(&CODE, run.path.as_str(), SHARE, value, Limit::AtMost(most));
    let said = subject.print(joists.span.value);
    finding.remark = format!(
        "joists {} of {said}, made for {} lb/sq ft (IRC Table R301.5); an estimate, nothing shared with their neighbours",
        if joists.along { "along the wall" } else { "across it" },
        if joists.bedroom { 30 } else { 40 }
    );
    report.compare(finding)
}
