//! Cutting stock in one and two dimensions: rectangles, blades and rules, with a bound proven for every plan.
//!
//! [`plan()`] takes a [`Job`] and gives a [`Plan`]: patterns in working order, their price, and a price below which no plan
//! under the same rules can go. [`plan_bars`] does the same for lengths. [`verify()`] checks a plan against its job and knows
//! nothing of how plans are made.
//!
//! All sizes are whole numbers of one common unit. What is best is decided in this order: price of the stock, stock that costs
//! nothing before other, settings of the fence (distinct over the job and summed sheet by sheet), one large offcut, parts of a group
//! near each other.
//!
//! Method: Gilmore, Gomory 1965 (patterns priced by two nested knapsacks), Farley 1990 (a bound from any prices),
//! Furini, Malaguti, Medina Duran, Persiani, Toth 2012 (diving), Gardeyn, Wauters 2022 (ruin and recreate for more than
//! two stages), Fekete, Schepers 2001 and Carlier, Clautiaux, Moukrim 2007 (dual feasible functions). Work is counted in
//! rounds, so the same job always gives the same plan.

mod bound;
mod budget;
mod dive;
mod error;
pub mod exchange;
mod fill;
mod finish;
mod given;
mod job;
mod knapsack;
mod layout;
mod master;
mod model;
mod neaten;
mod plain;
mod plan;
mod recreate;
mod regions;
mod serial;
mod simplex;
mod solve;
mod squeeze;
mod start;
mod tree;
mod verify;

pub use error::Error;
pub use given::{Given, given};
pub use job::{Axis, Bar, BarJob, BarPiece, Effort, First, Grain, Job, Part, Rules, Sheet, Stages, Trim};
pub use plain::{Plainly, is_usual, least, plan_plainly, plan_within};
pub use plan::{BarPattern, BarPlan, Bound, Crosscut, Pattern, Placement, Plan, Proof, Rect, Rip};
pub use verify::{Fault, verify, verify_bars};

/// Plans a job of sheets.
///
/// # Errors
/// For input that no plan can serve; see [`Error`].
pub fn plan(job: &Job, effort: Effort) -> Result<Plan, Error> {
    planned(job, effort, i64::MAX)
}

/// The same; a plan that costs `limit` or more is not made neat.
fn planned(job: &Job, effort: Effort, limit: i64) -> Result<Plan, Error> {
    let model = model::Model::sheets(job)?;
    let (layout, bound) = solve::solve(&model, effort, job.rules.stages != Stages::Two, limit)?;
    let spreads = solve::more_stages(&model, effort, job.rules.stages, &layout, bound)
        .unwrap_or_else(|| finish::spread(&model, &layout));
    Ok(finish::plan(job, &model, spreads, bound))
}

/// Plans a job of bars.
///
/// # Errors
/// For input that no plan can serve; see [`Error`].
pub fn plan_bars(job: &BarJob, effort: Effort) -> Result<BarPlan, Error> {
    let model = model::Model::bars(job)?;
    let (layout, bound) = solve::solve(&model, effort, false, i64::MAX)?;
    Ok(finish::bar_plan(job, &model, &layout, bound))
}
