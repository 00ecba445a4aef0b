//! The plainest plan of those that cost least: rips and crosscuts alone where more kinds of cuts save nothing.

use super::budget::{Budget, SMALL};
use super::error::Error;
use super::job::{Effort, First, Job, Rules};
use super::model::Model;
use super::plan::{Bound, Plan, Proof};
use super::{bound, finish, solve};

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
    if effort == Effort::Normal && is_small(job) {
        let quick = planned(job, Effort::Quick)?;
        if is_usual(job, &quick.plan) {
            return Ok(quick);
        }
    }
    planned(job, effort)
}

/// Whether a plan that little effort made is also the one that the usual effort gives.
#[must_use]
pub fn is_usual(job: &Job, quick: &Plan) -> bool {
    is_small(job) && quick.proven()
}

fn is_small(job: &Job) -> bool {
    let parts: u64 = job.parts.iter().map(|part| part.demand).fold(0, u64::saturating_add);
    i64::try_from(parts).is_ok_and(|parts| parts <= SMALL)
}

fn planned(job: &Job, effort: Effort) -> Result<Plainly, Error> {
    let alone = |plan| Plainly { plan, plainer: None };
    let (rips, widest) = narrowest_and_widest(job);
    let with = |rules, limit| super::planned(&Job { rules, ..job.clone() }, effort, limit);
    let plain = with(rips, i64::MAX);
    // What area or dual feasible functions prove holds for every cut.
    let settled = |plan: &Plan| plan.proven() && plan.bound.proof != Proof::LinearProgram;
    if rips == widest || plain.as_ref().is_ok_and(settled) {
        return plain.map(alone);
    }
    // What costs no less is not taken, and need not be neat.
    let widest_plan = with(widest, plain.as_ref().map_or(i64::MAX, |plain| plain.cost));
    let (Ok(plain), Ok(wide)) = (&plain, &widest_plan) else {
        return plain.or(widest_plan).map(alone);
    };
    let (bound, mut best) = (wide.bound, plain.clone());
    if wide.cost < best.cost {
        let between = [Rules { trimming: true, ..rips }, Rules { first: widest.first, ..rips }];
        for rules in between.into_iter().filter(|rules| *rules != rips && *rules != widest) {
            if let Ok(plan) = with(rules, best.cost)
                && plan.cost < best.cost
            {
                best = plan;
            }
        }
        if wide.cost < best.cost {
            best = wide.clone();
        }
    }
    let plainer = (best.cost < plain.cost).then(|| Box::new(plain.clone()));
    Ok(Plainly { plan: Plan { bound, ..best }, plainer })
}

/// Rips and crosscuts alone, and all that is allowed.
fn narrowest_and_widest(job: &Job) -> (Rules, Rules) {
    let widest = Rules { plain: true, ..job.rules };
    let first = if widest.first == First::Any { First::Rip } else { widest.first };
    (Rules { first, trimming: false, ..widest }, widest)
}

/// A plan that costs no more than `most`, if one is found: first by rips and crosscuts alone, then by all cuts that the rules
/// allow. It is not a neat one, and its bound is that of areas and dual feasible functions. How much is tried for that is a fraction
/// of what a plan takes at this effort.
#[must_use]
pub fn plan_within(job: &Job, most: i64, effort: Effort) -> Option<Plan> {
    let (rips, widest) = narrowest_and_widest(job);
    let mut tried: Vec<Rules> = vec![rips, widest];
    tried.dedup();
    let models: Vec<(Job, Model)> = tried
        .into_iter()
        .filter_map(|rules| {
            let job = Job { rules, ..job.clone() };
            let model = Model::sheets(&job).ok()?;
            Some((job, model))
        })
        .collect();
    let (_, model) = models.first()?;
    let area = Bound { cost: bound::area(model), proof: Proof::Area };
    let cost = bound::functions(model, most.saturating_add(1));
    let bound = if cost > area.cost { Bound { cost, proof: Proof::DualFeasibleFunctions } } else { area };
    if bound.cost > most {
        return None;
    }
    let mut left = Budget::of(effort).within;
    models.iter().find_map(|(job, model)| {
        let layout = solve::within(model, most, &mut left)?;
        Some(finish::plan(job, model, finish::spread(model, &layout), bound))
    })
}

/// What every layout of a job costs at least, whatever the cuts, as far as areas and dual feasible functions tell; worked out no
/// further than to `enough`.
///
/// # Errors
/// For input that no plan can serve.
pub fn least(job: &Job, enough: i64) -> Result<i64, Error> {
    let model = Model::sheets(job)?;
    let area = bound::area(&model);
    Ok(if area >= enough { area } else { area.max(bound::functions(&model, enough)) })
}
