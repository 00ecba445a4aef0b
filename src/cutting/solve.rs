//! The order of work: first plans, bounds, the linear program, dives, repair, tidying.

use super::bound;
use super::dive::{Style, dive};
use super::error::Error;
use super::job::Effort;
use super::layout::{Layout, Score, score};
use super::master::{Master, float, whole};
use super::model::Model;
use super::neaten::Neaten;
use super::plan::{Bound, Proof};
use super::squeeze::{Squeeze, singles};
use super::start;

/// How much is tried at each effort.
#[derive(Clone, Copy, Debug)]
pub(super) struct Budget {
    /// Rounds of pricing at the root.
    pub root: usize,
    /// Rounds of pricing after each sheet of a dive.
    pub rounds: usize,
    /// Dives, each followed by rounds of taking a sheet away.
    pub dives: u64,
    /// Rounds of taking a sheet away after a dive.
    pub squeeze: usize,
    /// Effort of the linear program at the root, and of each dive.
    pub work: u64,
    /// Steps of neatening, and how many of them re-cut sheets.
    pub neaten: (usize, usize),
}

impl Budget {
    const fn of(effort: Effort) -> Self {
        match effort {
            Effort::Quick => Self { root: 200, rounds: 3, dives: 1, squeeze: 200, work: 100_000_000, neaten: (5_000, 50) },
            Effort::Normal => Self { root: 1000, rounds: 6, dives: 4, squeeze: 1000, work: 400_000_000, neaten: (60_000, 600) },
            Effort::Thorough => Self { root: 5000, rounds: 25, dives: 30, squeeze: 5000, work: 4_000_000_000, neaten: (600_000, 6_000) },
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
    root.seed(&best.layout);
    if best.score.cost > proven.cost {
        root.generate(budget.root, true, best.score.cost, 3 * budget.work);
        raise(&mut proven, root.bound, Proof::LinearProgram);
    }
    for seed in 0..budget.dives {
        if best.score.cost <= proven.cost {
            break;
        }
        let limit = best.score.cost - model.coin;
        let style = Style { seed, rounds: budget.rounds, work: budget.work, limit };
        if let Some(layout) = dive(model, &root, &demand, style) {
            best.offer(model, layout);
        }
        while best.score.cost > proven.cost
            && let Some(layout) = squeezed(model, &best.layout, &root, seed, budget.squeeze)
        {
            let before = best.score.cost;
            best.offer(model, layout);
            if best.score.cost >= before {
                break;
            }
        }
    }
    if let Some(sheets) = singles(&best.layout, 400)
        && !model.bars
    {
        best.offer(model, Neaten::new(model, sheets, 1).run(budget.neaten.0, budget.neaten.1));
    }
    Ok((best.layout, proven))
}

/// The layout with a sheet less, if that is found; not for very many sheets.
fn squeezed(model: &Model, layout: &Layout, root: &Master<'_>, seed: u64, rounds: usize) -> Option<Layout> {
    let (worth, scale) = root.worth();
    let largest = model.stocks.iter().map(|s| s.area).max().unwrap_or(1);
    let values: Vec<i32> = worth
        .values
        .iter()
        .zip(&model.kinds)
        .map(|(v, k)| v.saturating_add(whole(scale * 0.1 * float(k.area) / float(largest)).max(1)))
        .collect();
    Squeeze::new(model, singles(layout, 400)?, &values, seed)?.run(rounds)
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
