//! The plainest plan of those that cost least: rips and crosscuts alone where more kinds of cuts save nothing.

use super::bound;
use super::budget::SMALL;
use super::error::Error;
use super::job::{Effort, First, Job, Rules};
use super::model::Model;
use super::plan::{Plan, Proof};

/// A plan, and beside it what rips and crosscuts alone would come to, where more kinds of cuts cost less.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plainly {
    /// The plan.
    pub plan: Plan,
    /// The plan by rips and crosscuts alone, if it costs more.
    pub plainer: Option<Box<Plan>>,
}

/// Plans a job of sheets with the plainest cuts by which it costs least, of those that its rules allow. The bound holds for all
/// that the rules allow.
///
/// What little effort proves for few parts is also what the usual one gives: so that a note by the way and the layout that is
/// printed are one plan.
///
/// # Errors
/// As [`super::plan()`].
pub fn plan_plainly(job: &Job, effort: Effort) -> Result<Plainly, Error> {
    let parts: u64 = job.parts.iter().map(|part| part.demand).fold(0, u64::saturating_add);
    if effort == Effort::Normal && i64::try_from(parts).is_ok_and(|parts| parts <= SMALL) {
        let quick = planned(job, Effort::Quick)?;
        if quick.plan.proven() {
            return Ok(quick);
        }
    }
    planned(job, effort)
}

fn planned(job: &Job, effort: Effort) -> Result<Plainly, Error> {
    let alone = |plan| Plainly { plan, plainer: None };
    let widest = Rules { plain: true, ..job.rules };
    let with = |rules| super::plan(&Job { rules, ..job.clone() }, effort);
    let first = if widest.first == First::Any { First::Rip } else { widest.first };
    let rips = Rules { first, trimming: false, ..widest };
    let plain = with(rips);
    // What area or dual feasible functions prove holds for every cut.
    let settled = |plan: &Plan| plan.proven() && plan.bound.proof != Proof::LinearProgram;
    if rips == widest || plain.as_ref().is_ok_and(settled) {
        return plain.map(alone);
    }
    let widest_plan = with(widest);
    let (Ok(plain), Ok(wide)) = (&plain, &widest_plan) else {
        return plain.or(widest_plan).map(alone);
    };
    let (bound, mut best) = (wide.bound, plain.clone());
    if wide.cost < best.cost {
        let between = [Rules { trimming: true, ..rips }, Rules { first: widest.first, ..rips }];
        let between = between.into_iter().filter(|rules| *rules != rips && *rules != widest);
        let more = between.filter_map(|rules| with(rules).ok()).chain(std::iter::once(wide.clone()));
        for plan in more {
            if plan.cost < best.cost {
                best = plan;
            }
        }
    }
    let plainer = (best.cost < plain.cost).then(|| Box::new(plain.clone()));
    Ok(Plainly { plan: Plan { bound, ..best }, plainer })
}

/// What every layout of a job costs at least, whatever the cuts: by area and dual feasible functions alone.
///
/// # Errors
/// For input that no plan can serve.
pub fn least(job: &Job) -> Result<i64, Error> {
    let model = Model::sheets(job)?;
    Ok(bound::area(&model).max(bound::functions(&model)))
}
