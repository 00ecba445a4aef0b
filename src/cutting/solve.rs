//! The order of work: first plans, bounds, the linear program, dives, repair, tidying.

use super::bound;
use super::dive::{Style, dive};
use super::error::Error;
use super::job::Effort;
use super::layout::{Layout, Score, cost, score};
use super::master::Master;
use super::model::Model;
use super::plan::{Bound, Proof};
use super::start;

/// How much is tried at each effort.
#[derive(Clone, Copy, Debug)]
pub(super) struct Budget {
    /// Rounds of pricing at the root.
    pub root: usize,
    /// Rounds of pricing after each sheet of a dive.
    pub rounds: usize,
    /// Dives for fewer sheets.
    pub dives: u64,
    /// Dives for fewer settings.
    pub tidy: u64,
}

impl Budget {
    const fn of(effort: Effort) -> Self {
        match effort {
            Effort::Quick => Self { root: 200, rounds: 3, dives: 1, tidy: 0 },
            Effort::Normal => Self { root: 1000, rounds: 8, dives: 6, tidy: 3 },
            Effort::Thorough => Self { root: 5000, rounds: 25, dives: 30, tidy: 12 },
        }
    }
}

/// The best layout found so far.
struct Best {
    layout: Layout,
    score: Score,
}

impl Best {
    fn offer(&mut self, model: &Model, mut layout: Layout) {
        let score = score(model, &mut layout);
        if score < self.score {
            self.layout = layout;
            self.score = score;
        }
    }
}

/// Solves a reduced job.
///
/// # Errors
/// Where the stock does not suffice.
pub(super) fn solve(model: &Model, effort: Effort) -> Result<(Layout, Bound), Error> {
    let budget = Budget::of(effort);
    let demand = model.demand();
    let mut best = first_plans(model, &demand)?;
    let mut proven = Bound { cost: bound::area(model), proof: Proof::Area };
    let raise = |proven: &mut Bound, cost: i64, proof: Proof| {
        if cost > proven.cost {
            *proven = Bound { cost, proof };
        }
    };
    raise(&mut proven, bound::functions(model), Proof::DualFeasibleFunctions);
    if demand.iter().all(|&d| d == 0) {
        return Ok((best.layout, proven));
    }
    let mut root = Master::new(model);
    if best.score.cost > proven.cost {
        root.generate(budget.root, true, best.score.cost);
        raise(&mut proven, root.bound, Proof::LinearProgram);
    }
    for seed in 0..budget.dives {
        if best.score.cost <= proven.cost {
            break;
        }
        let limit = best.score.cost - model.coin;
        if let Some(layout) = dive(model, &root, &demand, Style { seed, rounds: budget.rounds, limit }) {
            best.offer(model, layout);
        }
    }
    debug_assert_eq!(cost(model, &best.layout), best.score.cost);
    Ok((best.layout, proven))
}

fn first_plans(model: &Model, demand: &[i64]) -> Result<Best, Error> {
    let mut found: Option<Best> = None;
    let mut missing = demand.to_vec();
    let mut offer = |layout: Layout| match &mut found {
        Some(best) => best.offer(model, layout),
        None => {
            let mut layout = layout;
            let score = score(model, &mut layout);
            found = Some(Best { layout, score });
        }
    };
    for order in start::ORDERS {
        for mode in 0..model.modes.len() {
            if let Some(layout) = start::shelves(model, mode, demand, order) {
                offer(layout);
            }
        }
        let (layout, left) = start::by_sheet(model, demand, order);
        if left.iter().all(|&l| l == 0) {
            offer(layout);
        } else if left.iter().sum::<i64>() < missing.iter().sum() {
            missing = left;
        }
    }
    let sum = |d: &[i64]| u64::try_from(d.iter().sum::<i64>()).unwrap_or(0);
    found.ok_or_else(|| Error::StockShort { missing: sum(&missing), wanted: sum(demand) })
}
