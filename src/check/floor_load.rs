//! What the floor carries under a loaded wall of shelves.

use super::helpers::shelf_load::line_load;
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::Build;
use crate::parts::{Figure, Finding, Lacking, Limit, Need, Part};
use crate::quantity::{Dim, Round, to_f64};

code!(
    Note,
    CODE,
    "C019",
    "floor",
    "a loaded wall of shelves on joists",
    "Units, facing and loads over the units' widths (arithmetic, of stated weights and loads): a line load that a room's floor was \
     not designed for. Whether joists carry it is not checked here; their direction, size and span decide, and the local code and a \
     licensed engineer. An estimate.",
    with_example
);

/// What is compared, in words.
const ALONG: &str = "units, facing and load along the wall";

/// Every run along a wall.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut told: Option<Diagnostic> = None;
    let mut said: Vec<String> = Vec::new();
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
                match subject.graph.part_weight(part) {
                    Some(weight) => total += weight.value,
                    None => whole = false,
                }
            }
            for opening in subject.openings_of(*id).iter().filter(|o| !o.divided && o.under.is_some()) {
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
        let value = Figure::about(crate::mechanics::floor::line_load(total, width), Dim::LINE_LOAD);
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
    if let Some(mut diagnostic) = told {
        diagnostic.message =
            format!("joists carry {} of wall with the shelves loaded: not checked", said.join(", "));
        report.tell(
            diagnostic
                .help("have a licensed engineer look at the joists: their direction, size and span decide"),
        );
    }
}
