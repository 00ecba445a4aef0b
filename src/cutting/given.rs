//! A plan of sheets whose patterns are given: somebody saws by them already.

use super::finish::{Placed, Spread, figures, pattern};
use super::job::{Axis, Job};
use super::model::Model;
use super::plan::{Bound, Plan};
use super::verify::verify;

/// One sheet in two stages: its first cuts in working order, each with the parts that are crosscut from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Given {
    /// Index into the job's sheets.
    pub sheet: usize,
    /// Direction of the first cuts.
    pub first: Axis,
    /// For each of them indices into the job's parts, and whether the part lies turned.
    pub rips: Vec<Vec<(usize, bool)>>,
}

/// The plan that these sheets make, and for each of its patterns which of them are cut so. `None` where they cannot be sawn by the
/// rules of the job, or are not all that it wants.
#[must_use]
pub fn given(job: &Job, sheets: &[Given], bound: Bound) -> Option<(Plan, Vec<Vec<usize>>)> {
    let model = Model::sheets(job).ok()?;
    let patterns = sheets.iter().map(|sheet| {
        let placed = laid_out(job, sheet)?;
        let kinds = placed.iter().map(|(_, placed)| *placed).collect();
        let spread = Spread { stock: sheet.sheet, first: sheet.first, placed: kinds, count: 1 };
        pattern(job, &model, &spread, &placed, 1)
    });
    let patterns = patterns.collect::<Option<Vec<_>>>()?;
    let plan = figures(job, &model, patterns.clone(), bound);
    let bound = Bound { cost: plan.bound.cost.min(plan.cost), ..plan.bound };
    let plan = Plan { bound, ..plan };
    let of = plan.patterns.iter().map(|merged| {
        let same = |own: &super::Pattern| {
            (own.sheet, own.first, &own.rips) == (merged.sheet, merged.first, &merged.rips)
        };
        patterns.iter().enumerate().filter(|(_, own)| same(own)).map(|(place, _)| place).collect()
    });
    let of = of.collect();
    verify(job, &plan).is_empty().then_some((plan, of))
}

/// Where the parts of a sheet lie, each enlarged by one kerf, one after another.
fn laid_out(job: &Job, sheet: &Given) -> Option<Vec<(usize, Placed)>> {
    let kerf = job.rules.kerf;
    let (mut placed, mut across) = (Vec::new(), 0);
    for rip in &sheet.rips {
        let (mut along, mut widest) = (0, 0);
        for (part, turned) in rip {
            let given = job.parts.get(*part)?;
            let (w, h) = if *turned { (given.height, given.width) } else { (given.width, given.height) };
            let (w, h) = (w + kerf, h + kerf);
            let (x, y, long, wide) = match sheet.first {
                Axis::Horizontal => (along, across, w, h),
                Axis::Vertical => (across, along, h, w),
            };
            placed.push((*part, Placed { x, y, w, h, kind: *part }));
            along += long;
            widest = widest.max(wide);
        }
        across += widest;
    }
    Some(placed)
}
