//! Neat layouts from the start: sheet after sheet, each the best of a few for its worth less its settings, many times over,
//! while parts that end in poor sheets rise in worth.
//!
//! Sequential value correction (Belov, Scheithauer 2007) that begins with the prices of the linear program, with fees for
//! settings after the pattern reduction of Foerster, Wäscher 2000.

use std::collections::BTreeSet;

use super::dive::Dice;
use super::fill::{SCALE, Stacks, Strips, Worth, sheet, wanted};
use super::layout::{CutSheet, Layout, Score, repeats, score, settings, subtract, tidy_up};
use super::master::{count, float, whole};
use super::model::{At, Model};

/// Sheets tried for each that is taken.
const TRIES: usize = 4;

/// How far the worth of a part follows the sheets of the last layout.
const LEARN: f64 = 0.2;

/// Fees for a setting, in sheets. Each layout has one of them.
const FEES: [f64; 5] = [0.0, 0.001_5, 0.003, 0.006, 0.01];

/// One sheet that was taken, how often, and the share of it that its parts cover.
struct Taken {
    cut: CutSheet,
    times: i64,
    share: f64,
}

/// Working state between layouts.
struct Serial<'a> {
    model: &'a Model,
    /// Area of the largest sheet.
    largest: f64,
    worth: Vec<f64>,
    strips: Strips,
    stacks: Stacks,
    dice: Dice,
}

/// The best of `runs` layouts, or of fewer where they take more than `work`, among those that cost no more than `limit`.
/// `prices` are those of the linear program, in any unit.
pub(super) fn serial(
    model: &Model,
    prices: &[i32],
    limit: i64,
    (runs, work): (usize, u64),
) -> Option<Layout> {
    let largest = float(model.largest());
    let areas = || model.kinds.iter().map(|k| SCALE * float(k.area) / largest);
    let sum = |values: &mut dyn Iterator<Item = f64>| -> f64 {
        values.zip(&model.kinds).map(|(v, k)| v * float(k.demand)).sum()
    };
    let priced = sum(&mut prices.iter().map(|&p| f64::from(p))).max(1.0);
    let unit = sum(&mut areas()) / priced;
    let worth = areas().zip(prices).map(|(a, &p)| 0.5 * (a + unit * f64::from(p))).collect();
    let mut state = Serial {
        model,
        largest,
        worth,
        strips: Strips::default(),
        stacks: Stacks::default(),
        dice: Dice::new(1),
    };
    let mut best: Option<(Score, Layout)> = None;
    for run in 0..runs {
        if state.strips.work() > work {
            break;
        }
        let (taken, left) = state.layout(FEES.at(run % FEES.len()), limit);
        state.learn(&taken, &left);
        if left.iter().all(|&l| l == 0) {
            let mut layout = tidy_up(taken.into_iter().map(|t| (t.cut, t.times)).collect());
            let score = score(model, &mut layout);
            if score.cost <= limit && best.as_ref().is_none_or(|b| score < b.0) {
                best = Some((score, layout));
            }
        }
    }
    Some(best?.1)
}

impl Serial<'_> {
    /// Sheets one after another until nothing is left or they cost more than `limit`; what is left then.
    fn layout(&mut self, fee: f64, limit: i64) -> (Vec<Taken>, Vec<i64>) {
        let mut left = self.model.demand();
        let mut stock: Vec<Option<i64>> = self.model.stocks.iter().map(|s| s.count).collect();
        let mut made = BTreeSet::new();
        let mut taken: Vec<Taken> = Vec::new();
        let mut cost = 0_i64;
        while cost <= limit && left.iter().any(|&l| l > 0) {
            let mut best: Option<(f64, Taken)> = None;
            for _ in 0..TRIES {
                let Some((value, cut)) = self.attempt(&left, &stock, &made, fee) else { continue };
                if best.as_ref().is_none_or(|b| value > b.0) {
                    let used = cut.counts(left.len());
                    let mode = self.model.modes.get(cut.mode);
                    let room = mode.and_then(|m| stock.at(m.stock)).unwrap_or(i64::MAX);
                    let area = mode.map_or(1.0, |m| float(m.len) * float(m.room));
                    let share = float(cut.area()) / area;
                    best = Some((value, Taken { times: repeats(&used, &left).min(room), cut, share }));
                }
            }
            let Some((_, mut one)) = best else { break };
            let used = one.cut.counts(left.len());
            subtract(&mut left, &used, one.times);
            if let Some(mode) = self.model.modes.get(one.cut.mode) {
                made.extend(settings(&mut one.cut, mode));
                if let Some(Some(n)) = stock.get_mut(mode.stock) {
                    *n -= one.times;
                }
            }
            cost = cost.saturating_add(self.model.cost(one.cut.mode).saturating_mul(one.times));
            taken.push(one);
        }
        (taken, left)
    }

    /// One sheet at slightly shaken prices, with its worth for its price less fees for its settings; new ones cost more.
    fn attempt(
        &mut self,
        left: &[i64],
        stock: &[Option<i64>],
        made: &BTreeSet<(bool, i64)>,
        fee: f64,
    ) -> Option<(f64, CutSheet)> {
        let there = |stock_index: usize| stock.at(stock_index).is_none_or(|n| n > 0);
        let modes = || self.model.modes.iter().enumerate().filter(|(_, mode)| there(mode.stock));
        let (index, mode) = modes().nth(self.dice.below(modes().count()))?;
        let step = fee * count(self.dice.below(5)) / 2.0;
        let shake = 1 + self.dice.below(10);
        let mut values = Vec::new();
        for (w, &l) in self.worth.iter().zip(left) {
            let less = 0.005 * count(self.dice.below(shake));
            values.push(if l > 0 { whole(w * (1.0 - less)).max(1) } else { 0 });
        }
        let worth = Worth { values, fee: whole(SCALE * step) };
        let exact = self.model.exact;
        let wanted = if self.dice.below(4) > 0 {
            wanted(mode, left, &worth, exact, (&mut self.strips, &mut self.stacks), 1)
        } else {
            Vec::new()
        };
        let times = |length: bool, v: i64| if made.contains(&(length != mode.rips, v)) { 1 } else { 3 };
        let mut cut = sheet((index, mode), &wanted, left, &worth, exact, &mut self.strips, times);
        if cut.strips.is_empty() {
            return None;
        }
        let own = settings(&mut cut, mode);
        let new = own.iter().filter(|s| !made.contains(s)).count();
        let held: f64 = cut.items().filter_map(|i| self.worth.get(i.kind)).sum::<f64>() / SCALE;
        let price = float(self.model.cost(index)).max(0.5) / float(self.model.top_cost());
        Some((held / price - fee * (count(own.len()) + 3.0 * count(new)), cut))
    }

    /// What lay in sheets of much waste, or is left, is worth more from now on.
    fn learn(&mut self, taken: &[Taken], left: &[i64]) {
        let mut seen: Vec<(f64, f64)> = left
            .iter()
            .zip(&self.model.kinds)
            .map(|(&l, k)| (1.3 * float(k.area) * float(l), float(l)))
            .collect();
        for one in taken {
            let times = float(one.times);
            for item in one.cut.items() {
                if let Some(s) = seen.get_mut(item.kind) {
                    s.0 += times * float(item.ht) * float(item.len) / one.share.max(0.3);
                    s.1 += times;
                }
            }
        }
        for (worth, (area, n)) in self.worth.iter_mut().zip(seen) {
            if n > 0.0 {
                *worth += LEARN * (SCALE * area / n / self.largest - *worth);
            }
        }
    }
}
