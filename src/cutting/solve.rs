//! The order of work: first plans, bounds, the linear program, dives, repair, neatening.

use std::collections::{BTreeMap, BTreeSet};

use super::bound;
use super::budget::Budget;
use super::dive::{Style, dive};
use super::error::Error;
use super::fill::SCALE;
use super::finish::Spread;
use super::job::{Effort, Stages};
use super::layout::{Layout, Score, cost, finished, idle, score};
use super::master::{Master, float, whole};
use super::model::{Mode, Model, Opt};
use super::neaten::Neaten;
use super::plan::{Bound, Proof};
use super::recreate::Recreate;
use super::serial::serial;
use super::squeeze::{Squeeze, merged, singles};
use super::start;

/// More sheets or parts than this are not taken apart one by one.
const SINGLES: (i64, i64) = (400, 8_000);

/// Neatening goes over no more parts than this, a part as often as it comes along.
const ITEMS: i64 = 24_000_000;

/// Effort of a step of neatening for each part that it goes over, against that of the knapsacks.
const STEP: u64 = 24;

/// Programs with more rows than this are not solved: one step would take too much of the effort.
const ROWS: usize = 700;

/// The best layout found so far.
struct Best {
    layout: Layout,
    score: Score,
}

impl Best {
    fn new(model: &Model, mut layout: Layout) -> Self {
        let score = score(model, &mut layout);
        Self { layout, score }
    }

    fn offer(&mut self, model: &Model, mut layout: Layout) {
        let score = score(model, &mut layout);
        if score < self.score {
            self.layout = layout;
            self.score = score;
        }
    }
}

/// Solves a reduced job. `free` is whether the rules allow more than these patterns, so that the linear program over
/// them proves nothing. What costs `limit` or more is not neatened.
///
/// # Errors
/// Where the stock does not suffice.
pub(super) fn solve(model: &Model, effort: Effort, free: bool, limit: i64) -> Result<(Layout, Bound), Error> {
    let demand = model.demand();
    let budget = Budget::for_job(effort, (model.bars, model.plain), demand.iter().sum());
    let mut best = first_plans(model, &demand)?;
    let mut proven = Bound { cost: bound::area(model), proof: Proof::Area };
    if demand.iter().all(|&d| d == 0) {
        return Ok((best.layout, proven));
    }
    raise(&mut proven, bound::functions(model, best.score.cost), Proof::DualFeasibleFunctions);
    let found = search(model, budget, &mut best, proven.cost);
    if !free {
        raise(&mut proven, found.bound, Proof::LinearProgram);
    }
    if best.score.cost >= limit {
        return Ok((best.layout, proven));
    }
    if let Some(oriented) = model.oriented()
        && let Ok(mut tidy) = first_plans(&oriented, &demand)
    {
        let goal = best.score.cost.max(bound::functions(&oriented, tidy.score.cost));
        let prices = search(&oriented, Budget { dives: budget.dives.div_ceil(2), ..budget }, &mut tidy, goal);
        // Where one way for each part is not enough, a few may turn.
        shrink(model, &mut tidy, best.score.cost, &prices.values, 1, (5 * budget.squeeze, budget.work));
        best.offer(model, tidy.layout);
    }
    at_hand_first(model, &mut best);
    neaten(model, budget, &mut best);
    fewer_settings(model, budget, &mut best);
    if !model.bars {
        as_neat(model, budget, &demand, &mut best);
    }
    Ok((best.layout, proven))
}

/// Where sheets are bought, what costs nothing and would take a part does not lie idle.
fn at_hand_first(model: &Model, best: &mut Best) {
    if best.score.idle > 0
        && let Some(sheets) = singles(&best.layout, SINGLES.0, SINGLES.1)
        && let Some(sheets) = start::at_hand(model, &sheets)
    {
        best.offer(model, merged(&sheets));
    }
}

/// Where first-fit by falling height takes no more money, neither it nor the layout that is gathered from it has more settings than
/// it, of the job or sheet by sheet: then that one is taken. What may turn lies along the strip there, if it fits so.
fn as_neat(model: &Model, budget: Budget, demand: &[i64], best: &mut Best) {
    let own = finished(model, &mut best.layout);
    let along = |kind: usize| model.kinds.get(kind).is_some_and(|kind| !kind.free);
    let along = model.kept(|_, opt| opt.len >= opt.ht || along(opt.kind));
    let along = along.as_ref().unwrap_or(model);
    let rips = |mode: &usize| model.modes.get(*mode).is_some_and(|mode| mode.rips);
    let (first, then): (Vec<usize>, Vec<usize>) = (0..model.modes.len()).partition(rips);
    let layouts = first.into_iter().chain(then);
    let mut layouts = layouts.filter_map(|mode| start::shelves(along, mode, demand, start::Order::Height));
    let cheap =
        |layout: &Layout| (cost(model, layout), idle(model, layout)) <= (best.score.cost, best.score.idle);
    let Some(mut layout) = layouts.find(cheap) else { return };
    let most = finished(model, &mut layout);
    if own.0 <= most.0 && own.1 <= most.1 {
        return;
    }
    best.layout.clone_from(&layout);
    if let Some(sheets) = singles(&layout, SINGLES.0, SINGLES.1) {
        let neaten = Neaten::new(model, sheets, 1).bounded();
        let (each, limit, every) = budget.neaten;
        let parts: i64 = demand.iter().sum();
        let steps = usize::try_from(parts.saturating_mul(each).min(limit)).unwrap_or(0);
        let mut gathered = neaten.run(steps, every, budget.work / 4);
        let settings = finished(model, &mut gathered);
        if settings.0 <= most.0 && settings.1 <= most.1 {
            best.layout = gathered;
        }
    }
}

/// A second search, for no more money: one setting after another that only some ways to lay parts need is forbidden with them,
/// those of the fewest parts first, and the rest is laid out anew.
fn fewer_settings(model: &Model, budget: Budget, best: &mut Best) {
    if model.bars || model.kinds.iter().all(|kind| !kind.free) {
        return;
    }
    let mut banned: BTreeSet<(bool, i64)> = BTreeSet::new();
    let mut tried = banned.clone();
    let (mut work, mut missed) = (0, 0);
    while missed < budget.settings && work < 2 * budget.work {
        let mut uses: BTreeMap<(bool, i64), i64> = BTreeMap::new();
        for (cut, n) in &best.layout {
            let Some(mode) = model.modes.get(cut.mode) else { continue };
            for item in cut.items() {
                for setting in needs(mode, item.ht, item.len) {
                    *uses.entry(setting).or_insert(0) += n;
                }
            }
        }
        let order = uses.iter().filter(|(setting, _)| !tried.contains(setting));
        let Some((&setting, _)) = order.min_by_key(|(setting, n)| (**n, **setting)) else { return };
        tried.insert(setting);
        let mut without = banned.clone();
        without.insert(setting);
        let allowed =
            |mode: &Mode, opt: &Opt| needs(mode, opt.ht, opt.len).iter().all(|s| !without.contains(s));
        let Some(fewer) = model.kept(allowed) else { continue };
        let found = again(&fewer, budget, best.score.cost, &mut work);
        match found.filter(|found| found.score < best.score) {
            Some(found) => {
                missed = 0;
                banned = without;
                best.offer(model, found.layout);
            }
            None => missed += 1,
        }
    }
}

/// The whole demand laid out for no more than `limit` with little effort, which is added to `work`.
fn again(model: &Model, budget: Budget, limit: i64, work: &mut u64) -> Option<Best> {
    let mut best = first_plans(model, &model.demand()).ok()?;
    let short =
        Budget { root: budget.root / 10, squeeze: budget.squeeze / 4, work: budget.work / 25, ..budget };
    if !reach(model, short, &mut best, limit, work) {
        return None;
    }
    at_hand_first(model, &mut best);
    let (runs, each) = budget.serial;
    lay_neatly(model, Budget { serial: (runs / 20, each / 20), ..budget }, &mut best, &even_prices(model));
    *work = work.saturating_add(each / 20);
    let (each, most, every) = budget.neaten;
    let spent = neaten(model, Budget { neaten: (each / 5, most / 5, every), ..budget }, &mut best);
    *work = work.saturating_add(spent);
    Some(best)
}

/// Looks for a layout for no more than `limit`; what it takes is added to `work`. Gives whether there is one.
fn reach(model: &Model, budget: Budget, best: &mut Best, limit: i64, work: &mut u64) -> bool {
    let each = budget.work;
    if best.score.cost > limit && Master::size(model) <= ROWS {
        let mut root = Master::new(model);
        root.seed(&best.layout);
        root.generate(budget.root, true, limit.saturating_add(1), each);
        *work = work.saturating_add(root.work());
        if root.bound > limit {
            return false;
        }
        let style = Style { seed: 0, rounds: budget.rounds, work: each, limit };
        let dived = dive(model, &root, &model.demand(), style);
        *work = work.saturating_add(each / 2);
        match dived {
            Some(layout) => best.offer(model, layout),
            None => {
                *work = work.saturating_add(each / 2);
                shrink(model, best, limit, &prices(model, &root), 3, (budget.squeeze, each));
            }
        }
    }
    best.score.cost <= limit
}

/// A layout for no more than `limit`, not a neat one, if little effort finds it; `work` becomes what is left of that.
pub(super) fn within(model: &Model, limit: i64, left: &mut u64) -> Option<Layout> {
    let mut best = first_plans(model, &model.demand()).ok()?;
    let (budget, mut work) = (Budget { work: *left / 2, ..Budget::of(Effort::Quick) }, 0);
    let found = reach(model, budget, &mut best, limit, &mut work);
    *left = left.saturating_sub(work);
    found.then_some(best.layout)
}

/// The settings that a part needs as it is laid: whether it is a rip, and its size.
fn needs(mode: &Mode, ht: i64, len: i64) -> [(bool, i64); 2] {
    [(mode.rips, ht), (!mode.rips, len)]
}

/// Layouts that are neat from the start, for no more money than the best has.
fn lay_neatly(model: &Model, budget: Budget, best: &mut Best, values: &[i32]) {
    if !model.bars
        && let Some(layout) = serial(model, values, best.score.cost, budget.serial)
    {
        best.offer(model, layout);
    }
}

/// Sheets of more than two stages that cost less than the layout, where the rules allow them and any are found.
pub(super) fn more_stages(
    model: &Model,
    effort: Effort,
    stages: Stages,
    layout: &Layout,
    bound: Bound,
) -> Option<Vec<Spread>> {
    if stages == Stages::Two || cost(model, layout) <= bound.cost {
        return None;
    }
    let sheets = singles(layout, SINGLES.0, SINGLES.1)?;
    let (runs, each) = Budget::of(effort).recreate;
    let parts = sheets.iter().fold(0_u64, |n, cut| n.saturating_add(cut.items().map(|_| 1).sum()));
    let mut best: Option<(i64, Vec<Spread>)> = None;
    for seed in 0..runs {
        let found = Recreate::new(model, stages.most(), &sheets, seed)
            .run(bound.cost, parts.min(60).saturating_mul(each));
        if let Some(found) = found.filter(|f| best.as_ref().is_none_or(|b| f.0 < b.0)) {
            best = Some(found);
        }
        if best.as_ref().is_some_and(|b| b.0 <= bound.cost) {
            break;
        }
    }
    Some(best?.1)
}

fn raise(proven: &mut Bound, cost: i64, proof: Proof) {
    if cost > proven.cost {
        *proven = Bound { cost, proof };
    }
}

/// Neatens a layout, and gives the effort of that.
fn neaten(model: &Model, budget: Budget, best: &mut Best) -> u64 {
    let sheets = if model.bars { None } else { singles(&best.layout, SINGLES.0, SINGLES.1) };
    let Some(sheets) = sheets else { return 0 };
    let (each, most, every) = budget.neaten;
    let parts: i64 = model.demand().iter().sum();
    // A step goes over two sheets.
    let items = 2 * (parts / i64::try_from(sheets.len()).unwrap_or(1).max(1)).max(1);
    let most = most.min(ITEMS / items);
    let steps = usize::try_from(parts.saturating_mul(each).min(most)).unwrap_or(0);
    best.offer(model, Neaten::new(model, sheets, 1).run(steps, every, budget.work));
    u64::try_from(items).unwrap_or(0).saturating_mul(STEP).saturating_mul(u64::try_from(steps).unwrap_or(0))
}

/// What the linear program came to.
struct Found {
    /// Its bound; 0 where it was not needed or was too large.
    bound: i64,
    /// Worth of each kind in whole numbers.
    values: Vec<i32>,
}

/// Looks for a cheaper layout until the cost is `goal` or the budget is used up, and for a neat one.
fn search(model: &Model, budget: Budget, best: &mut Best, goal: i64) -> Found {
    if Master::size(model) > ROWS {
        let values: Vec<i32> = even_prices(model);
        for seed in 0..budget.dives {
            shrink(model, best, goal, &values, seed, budget.squeeze());
        }
        return Found { bound: 0, values };
    }
    if best.score.cost <= goal {
        let values = even_prices(model);
        lay_neatly(model, budget, best, &values);
        return Found { bound: 0, values };
    }
    let demand = model.demand();
    let mut root = Master::new(model);
    root.seed(&best.layout);
    root.generate(budget.root, true, best.score.cost, 3 * budget.work);
    let goal = goal.max(root.bound);
    let values = prices(model, &root);
    lay_neatly(model, budget, best, &values);
    let before = best.score.cost;
    shrink(model, best, goal, &values, budget.dives, budget.squeeze());
    for seed in 0..budget.dives {
        if best.score.cost <= goal {
            break;
        }
        // A dive that is only as cheap is a new place to take sheets away from.
        let style = Style { seed, rounds: budget.rounds, work: budget.work, limit: best.score.cost };
        if let Some(layout) = dive(model, &root, &demand, style) {
            let mut other = Best::new(model, layout);
            shrink(model, &mut other, goal, &values, seed, budget.squeeze());
            best.offer(model, other.layout);
        } else {
            shrink(model, best, goal, &values, seed, budget.squeeze());
        }
    }
    if best.score.cost < before {
        lay_neatly(model, budget, best, &values);
    }
    Found { bound: root.bound, values }
}

/// Takes sheets away while that works and the cost is above `goal`; not for very many sheets.
fn shrink(model: &Model, best: &mut Best, goal: i64, values: &[i32], seed: u64, effort: (usize, u64)) {
    while best.score.cost > goal {
        let Some(layout) = singles(&best.layout, SINGLES.0, SINGLES.1)
            .and_then(|sheets| Squeeze::new(model, sheets, values, seed))
            .and_then(|mut squeeze| squeeze.run(effort.0, effort.1))
        else {
            return;
        };
        let before = best.score.cost;
        best.offer(model, layout);
        if best.score.cost >= before {
            return;
        }
    }
}

/// The area of each kind as its worth, where there is no program.
fn even_prices(model: &Model) -> Vec<i32> {
    let largest = float(model.largest());
    model.kinds.iter().map(|k| whole(SCALE * float(k.area) / largest).max(1)).collect()
}

/// The program's worth of each kind, with a share for its area.
fn prices(model: &Model, root: &Master<'_>) -> Vec<i32> {
    let (worth, scale) = root.worth();
    let largest = float(model.largest());
    let share = |area: i64| whole(scale * 0.1 * float(area) / largest).max(1);
    worth.values.iter().zip(&model.kinds).map(|(v, k)| v.saturating_add(share(k.area))).collect()
}

fn first_plans(model: &Model, demand: &[i64]) -> Result<Best, Error> {
    let sum = |d: &[i64]| u64::try_from(d.iter().sum::<i64>()).unwrap_or(0);
    let short = |left: &[i64]| Error::StockShort { missing: sum(left), wanted: sum(demand) };
    if demand.len() > start::TOGETHER {
        let (layout, left) = start::in_turns(model, demand, start::Order::Height);
        return if sum(&left) == 0 { Ok(Best::new(model, layout)) } else { Err(short(&left)) };
    }
    let mut found: Option<Best> = None;
    let mut missing = demand.to_vec();
    let mut offer = |layout: Layout| match &mut found {
        Some(best) => best.offer(model, layout),
        None => found = Some(Best::new(model, layout)),
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
    found.ok_or_else(|| short(&missing))
}
