//! The linear program over patterns, its columns made as they are needed, and the bound that it proves.
//!
//! Rows: one a kind (strips cover the demand), one a class, that is mode and strip height (stacks provide the strips), one
//! for each limited stock. Columns: strips and stacks (Gilmore, Gomory 1965). The bound follows Farley 1990 and is worked
//! out in whole numbers from the duals rounded down, so it holds whatever state the program is in.

use std::collections::BTreeSet;

use super::fill::{Stacks, Strips, Worth};
use super::layout::{Item, Layout, height};
use super::model::{At, Kind, Mode, Model};
use super::simplex::Simplex;

/// What a column of the program stands for.
#[derive(Clone, Debug)]
enum Column {
    /// Items of one strip.
    Strip { mode: usize, class: usize, items: Vec<Item> },
    /// Strips of one sheet, class by class.
    Stack { mode: usize, classes: Vec<(usize, usize)> },
    /// More of a limited stock than there is, at a price that no plan pays.
    Over,
    /// One part for a price: holds the dual of its kind down.
    Buy(usize),
}

/// The program, its columns and the best bound so far.
#[derive(Clone, Debug)]
pub(super) struct Master<'a> {
    model: &'a Model,
    lp: Simplex,
    columns: Vec<Column>,
    known: BTreeSet<Vec<usize>>,
    offsets: Vec<usize>,
    rows: usize,
    residual: Vec<i64>,
    stock_left: Vec<Option<i64>>,
    /// Floor and ceiling of each kind's dual, moved when they bind (Marsten, Hogan, Blankenship 1975).
    floor: Vec<f64>,
    roof: Vec<f64>,
    /// Duals of the best bound so far; prices are mixed with them (Wentges 1997).
    centre: Vec<f64>,
    /// The bound of the centre, unrounded, in top prices.
    height: f64,
    strips: Vec<Strips>,
    /// Greatest bound proven, in money.
    pub bound: i64,
}

/// A stack proposed by the program: mode, classes, and how many sheets of it.
pub(super) struct Proposal {
    /// The mode.
    pub mode: usize,
    /// Classes, each as often as it occurs.
    pub classes: Vec<usize>,
    /// Its value in the program.
    pub value: f64,
}

/// A whole number as a float.
#[allow(
    clippy::cast_precision_loss,
    reason = "counts are far below 2^52, and nothing reported rests on the float"
)]
pub(super) fn float(n: i64) -> f64 {
    n as f64
}

/// A float as a whole number, towards zero.
#[allow(
    clippy::cast_possible_truncation,
    reason = "the cast saturates; values are clamped to the range before"
)]
pub(super) fn whole(x: f64) -> i32 {
    x as i32
}

/// A number of things as a float.
pub(super) fn count(n: usize) -> f64 {
    float(i64::try_from(n).unwrap_or(0))
}

/// How far prices are drawn to those of the best bound.
const MIX: f64 = 0.7;

/// The price that stands for stock that is not there.
const OVER: f64 = 20.0;

impl<'a> Master<'a> {
    /// Sets the program up with one strip for each option and one stack for each class.
    pub fn new(model: &'a Model) -> Self {
        let residual = model.demand();
        let mut offsets = Vec::new();
        let mut rows = model.kinds.len();
        for mode in &model.modes {
            offsets.push(rows);
            rows += mode.classes.len();
        }
        let stock_rows = rows;
        rows += model.stocks.len();
        let stock_left: Vec<Option<i64>> = model.stocks.iter().map(|s| s.count).collect();
        let mut master = Self {
            model,
            lp: Simplex::new(&vec![0.0; rows]),
            columns: Vec::new(),
            known: BTreeSet::new(),
            offsets,
            rows,
            residual,
            stock_left,
            floor: Vec::new(),
            roof: Vec::new(),
            centre: Vec::new(),
            height: 0.0,
            strips: vec![Strips::default(); model.modes.len()],
            bound: 0,
        };
        let density = model
            .stocks
            .iter()
            .map(|s| float(s.cost) / float(s.area.max(1)))
            .filter(|d| *d > 0.0)
            .fold(1.0, f64::min);
        let even = |k: &Kind| (float(k.area) * density / float(model.top_cost())).max(1e-4);
        master.centre = model.kinds.iter().map(even).collect();
        master.floor = master.centre.iter().map(|c| 0.75 * c).collect();
        master.roof = master.centre.iter().map(|c| 1.5 * c).collect();
        let mut basis = Vec::new();
        for kind in 0..model.kinds.len() {
            master.columns.push(Column::Buy(kind));
            basis.push(master.lp.add(master.roof.at(kind), vec![(kind, 1.0)]));
            master.lp.set_cost(kind, -master.floor.at(kind));
        }
        for (index, mode) in model.modes.iter().enumerate() {
            for opt in &mode.opts {
                let most = master.residual.at(opt.kind).min(mode.len / opt.len);
                let item = Item { ht: opt.ht, len: opt.len, kind: opt.kind };
                let items = vec![item; usize::try_from(most).unwrap_or(0)];
                master.add_strip(index, class_of(mode, opt.ht), items);
            }
            for (class, &(ht, _)) in mode.classes.iter().enumerate() {
                let most = usize::try_from(mode.room / ht).unwrap_or(0);
                basis.extend(master.add_stack(index, vec![(class, most)]));
            }
        }
        for stock in 0..model.stocks.len() {
            let row = stock_rows + stock;
            let over = master.lp.add(OVER, vec![(row, 1.0)]);
            master.columns.push(Column::Over);
            basis.push(if model.stocks.at(stock).count.is_some() { over } else { row });
        }
        let right = master.right();
        master.lp.set_right(&right);
        master.lp.set_basis(&basis);
        master.lp.dual(10 * rows);
        master
    }

    /// Adds the strips and stacks of a layout as columns.
    pub fn seed(&mut self, layout: &Layout) {
        let model = self.model;
        for (cut, _) in layout {
            let Some(mode) = model.modes.get(cut.mode) else { continue };
            let mut classes: Vec<usize> = Vec::new();
            for strip in &cut.strips {
                let class = class_of(mode, height(strip));
                classes.push(class);
                self.add_strip(cut.mode, class, strip.clone());
            }
            classes.sort_unstable();
            let stack =
                classes.chunk_by(|a, b| a == b).map(|g| (g.first().copied().unwrap_or(0), g.len())).collect();
            self.add_stack(cut.mode, stack);
        }
    }

    fn right(&self) -> Vec<f64> {
        let mut out = vec![0.0; self.rows];
        for (to, &n) in out.iter_mut().zip(&self.residual) {
            *to = float(n);
        }
        let first = self.rows - self.model.stocks.len();
        for (to, left) in out.iter_mut().skip(first).zip(&self.stock_left) {
            *to = left.map_or(-1e6, |n| -float(n.min(1_000_000)));
        }
        out
    }

    fn price_of(&self, column: &Column) -> f64 {
        match column {
            Column::Strip { .. } => 0.0,
            Column::Stack { mode, .. } => float(self.model.cost(*mode)) / float(self.model.top_cost()),
            Column::Over => OVER,
            Column::Buy(kind) => self.roof.at(*kind),
        }
    }

    fn add(&mut self, key: Vec<usize>, column: Column, entries: Vec<(usize, f64)>) -> Option<usize> {
        if !self.known.insert(key) {
            return None;
        }
        let price = self.price_of(&column);
        self.columns.push(column);
        Some(self.lp.add(price, entries))
    }

    fn add_strip(&mut self, mode: usize, class: usize, items: Vec<Item>) -> Option<usize> {
        if items.is_empty() {
            return None;
        }
        let row = self.offsets.at(mode) + class;
        let mut kinds: Vec<usize> = items.iter().map(|i| i.kind).collect();
        kinds.sort_unstable();
        let mut entries: Vec<(usize, f64)> = kinds
            .chunk_by(|a, b| a == b)
            .map(|group| (group.first().copied().unwrap_or(0), count(group.len())))
            .collect();
        entries.push((row, -1.0));
        kinds.push(row);
        self.add(kinds, Column::Strip { mode, class, items }, entries)
    }

    fn add_stack(&mut self, mode: usize, mut classes: Vec<(usize, usize)>) -> Option<usize> {
        if classes.is_empty() {
            return None;
        }
        classes.sort_unstable();
        let offset = self.offsets.at(mode);
        let mut entries: Vec<(usize, f64)> = classes.iter().map(|&(c, n)| (offset + c, count(n))).collect();
        let stock = self.model.modes.get(mode).map_or(0, |m| m.stock);
        entries.push((self.rows - self.model.stocks.len() + stock, -1.0));
        let mut key = vec![usize::MAX, mode];
        key.extend(classes.iter().flat_map(|&(c, n)| [c, n]));
        self.add(key, Column::Stack { mode, classes }, entries)
    }

    /// Goes on with what is still wanted.
    pub fn set_residual(&mut self, residual: &[i64], stock_left: &[Option<i64>]) {
        self.residual = residual.to_vec();
        self.stock_left = stock_left.to_vec();
        let right = self.right();
        self.lp.set_right(&right);
        self.lp.dual(4 * self.rows);
        self.lp.primal(4 * self.rows);
    }

    /// Number of rows of the program for a job.
    pub fn size(model: &Model) -> usize {
        model.kinds.len() + model.stocks.len() + model.modes.iter().map(|m| m.classes.len()).sum::<usize>()
    }

    /// The duals in whole numbers, rounded down, and how many of these numbers make one top price.
    pub fn worth(&self) -> (Worth, f64) {
        self.in_whole_numbers(self.lp.duals())
    }

    fn in_whole_numbers(&self, duals: &[f64]) -> (Worth, f64) {
        let mut most = 1.0_f64;
        for mode in &self.model.modes {
            let area = float(mode.len) * float(mode.room);
            for opt in &mode.opts {
                if self.residual.at(opt.kind) > 0 {
                    most = most.max(duals.at(opt.kind) * area / (float(opt.len) * float(opt.ht)));
                }
            }
        }
        let scale = f64::from(1_u32 << 28) / most;
        let int = |x: f64| whole((x.max(0.0) * scale).min(f64::from(1_u32 << 28)));
        let values = (0..self.model.kinds.len()).map(|k| int(duals.at(k))).collect();
        (Worth { values, fee: 0 }, scale)
    }

    /// Rounds of pricing until nothing helps, the bound reaches `enough` or cannot rise above the program's own value.
    /// `prove` is whether the demand is the whole demand, so that the bound holds for the job.
    pub fn generate(&mut self, rounds: usize, prove: bool, enough: i64, work: u64) {
        let limit = self.work().saturating_add(work);
        self.lp.limit = self.lp.work.saturating_add(work);
        self.lp.primal(20 * self.rows);
        for _ in 0..rounds {
            if self.work() > limit || !(self.round(prove, MIX) || self.round(prove, 0.0) || self.widen()) {
                return;
            }
            if prove && self.bound >= enough {
                return;
            }
            self.lp.primal(10 * self.rows);
            if prove {
                let top = self.lp.objective() * float(self.model.top_cost());
                let ceiling = self.model.next_price(ceiling(top));
                if self.bound >= ceiling && !self.widen() {
                    return;
                }
            }
        }
    }

    /// Moves the floors and ceilings that bind. Gives whether any did.
    fn widen(&mut self) -> bool {
        let mut moved = false;
        for kind in 0..self.model.kinds.len() {
            let buy = self.rows + kind;
            if self.lp.value(buy) > 1e-4
                && let Some(roof) = self.roof.get_mut(kind).filter(|r| **r < OVER)
            {
                *roof *= 1.5;
                self.lp.set_cost(buy, *roof);
                moved = true;
            }
            if self.lp.value(kind) > 1e-4
                && let Some(floor) = self.floor.get_mut(kind).filter(|f| **f > 0.0)
            {
                *floor = if *floor < 1e-3 { 0.0 } else { 0.6 * *floor };
                self.lp.set_cost(kind, -*floor);
                moved = true;
            }
        }
        if moved {
            self.lp.reprice();
            self.lp.primal(10 * self.rows);
        }
        moved
    }

    /// One round: prices strips and stacks, notes the bound, adds columns. Gives whether any column was new.
    fn round(&mut self, prove: bool, mix: f64) -> bool {
        let model = self.model;
        let unit = self.lp.duals().to_vec();
        let mixed: Vec<f64> =
            unit.iter().zip(&self.centre).map(|(d, c)| mix * c + (1.0 - mix) * d.max(0.0)).collect();
        let (worth, scale) = self.in_whole_numbers(&mixed);
        let mut best_stock = vec![0_i64; model.stocks.len()];
        let mut offers: Vec<(f64, usize, usize)> = Vec::new();
        let mut stacks = Stacks::default();
        let mut added = false;
        let mut strips = std::mem::take(&mut self.strips);
        for (index, (mode, table)) in model.modes.iter().zip(strips.iter_mut()).enumerate() {
            table.price(mode, &self.residual, &worth, model.exact, i64::MAX, |_, _| 1);
            let offset = self.offsets.at(index);
            let limit = unit.at(self.rows - model.stocks.len() + mode.stock);
            let best: Vec<i32> = (0..mode.classes.len()).map(|c| table.best(c)).collect();
            let dual: Vec<i32> = (0..mode.classes.len())
                .map(|c| whole((unit.at(offset + c).max(0.0) * scale).min(f64::from(1_u32 << 28))))
                .collect();
            for (class, (&b, &d)) in best.iter().zip(&dual).enumerate() {
                if b > 0 && (mix > 0.0 || b.saturating_sub(d) > 1 + whole(scale * 1e-7)) {
                    offers.push((f64::from(b) - f64::from(d), index, class));
                }
            }
            let price = (float(model.cost(index)) / float(model.top_cost()) + limit) * scale;
            let either: Vec<i32> = best.iter().zip(&dual).map(|(a, b)| *a.max(b)).collect();
            for values in [&dual, &either] {
                let value = stacks.price(mode, values);
                if f64::from(value) > price * (1.0 + 1e-7) + 1.0 {
                    added |= self.add_stack(index, stacks.trace(mode)).is_some();
                }
            }
            if prove {
                let value = i64::from(stacks.price(mode, &best));
                if let Some(top) = best_stock.get_mut(mode.stock) {
                    *top = value.max(*top);
                }
            }
        }
        if prove {
            self.bound = self.bound.max(model.next_price(self.safe_bound(&worth.values, &best_stock)));
            let top = best_stock
                .iter()
                .zip(&model.stocks)
                .map(|(b, s)| float(*b) / float(s.cost.max(1)))
                .fold(0.0, f64::max);
            let sum: f64 =
                worth.values.iter().zip(&model.kinds).map(|(v, k)| f64::from(*v) * float(k.demand)).sum();
            if top > 0.0 && sum / top > self.height {
                self.height = sum / top;
                self.centre = mixed;
            }
        }
        offers.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
        for &(_, index, class) in offers.iter().take((self.rows / 4).max(60)) {
            if let (Some(mode), Some(table)) = (model.modes.get(index), strips.get(index)) {
                let items = table.strip(mode, class, &self.residual);
                let class = class_of(mode, height(&items));
                let worth: f64 = items.iter().map(|i| unit.at(i.kind)).sum();
                let gain = worth - unit.at(self.offsets.at(index) + class);
                added |= gain > 1e-7 && !items.is_empty() && self.add_strip(index, class, items).is_some();
            }
        }
        self.strips = strips;
        added
    }

    /// The bound that these values prove: for every factor f >= 0, f times the worth of the demand, less what the limited
    /// stock earns beyond its price, as long as no pattern of unlimited stock is worth more than its price.
    fn safe_bound(&self, values: &[i32], best: &[i64]) -> i64 {
        let stocks = &self.model.stocks;
        let total: i128 =
            values.iter().zip(&self.model.kinds).map(|(v, k)| i128::from(*v) * i128::from(k.demand)).sum();
        let pairs = || stocks.iter().zip(best).filter(|(_, b)| **b > 0);
        // Factors are cost / value; the least of the unlimited stock is the largest that is allowed.
        let most = pairs()
            .filter(|(s, _)| s.count.is_none())
            .map(|(s, b)| (s.cost, *b))
            .min_by(|a, b| (i128::from(a.0) * i128::from(b.1)).cmp(&(i128::from(b.0) * i128::from(a.1))));
        let mut bound = 0_i128;
        for (s, &b) in pairs() {
            let (num, den) = (i128::from(s.cost), i128::from(b));
            if most.is_some_and(|(c, v)| num * i128::from(v) > i128::from(c) * den) {
                continue;
            }
            let earned: i128 = stocks
                .iter()
                .zip(best)
                .filter_map(|(t, &v)| {
                    t.count.map(|n| i128::from(n) * (num * i128::from(v) - i128::from(t.cost) * den).max(0))
                })
                .fold(0, i128::saturating_add);
            let sum = (num * total).saturating_sub(earned);
            if sum > 0 {
                bound = bound.max((sum + den - 1) / den);
            }
        }
        i64::try_from(bound).unwrap_or(0)
    }

    /// The stacks of the present solution that still can be cut, the largest value first.
    pub fn proposals(&self) -> Vec<Proposal> {
        let mut out = Vec::new();
        for (index, column) in self.columns.iter().enumerate() {
            if let Column::Stack { mode, classes } = column {
                let value = self.lp.value(self.rows + index);
                if value > 1e-4 {
                    let classes = classes.iter().flat_map(|&(c, n)| std::iter::repeat_n(c, n)).collect();
                    out.push(Proposal { mode: *mode, classes, value });
                }
            }
        }
        out.sort_by(|a, b| {
            b.value.total_cmp(&a.value).then_with(|| (a.mode, &a.classes).cmp(&(b.mode, &b.classes)))
        });
        out
    }

    /// The strips of the present solution with their values, for making sheets without pricing.
    pub fn strips_in_use(&self) -> Vec<(usize, usize, Vec<Item>, f64)> {
        let mut out = Vec::new();
        for (index, column) in self.columns.iter().enumerate() {
            if let Column::Strip { mode, class, items } = column {
                let value = self.lp.value(self.rows + index);
                if value > 1e-4 {
                    out.push((*mode, *class, items.clone(), value));
                }
            }
        }
        out
    }

    /// Effort so far.
    pub fn work(&self) -> u64 {
        self.lp.work + self.strips.iter().map(Strips::work).sum::<u64>()
    }

    /// Value of the program in top prices.
    pub fn value(&self) -> f64 {
        self.lp.objective()
    }
}

/// The least whole number not below a figure that may be a little too large.
pub(super) fn ceiling(x: f64) -> i64 {
    let x = (x - 2e-4 * x.abs().clamp(1.0, 10.0)).ceil().clamp(0.0, 9e15);
    let mut out = i64::from(whole((x / 1e6).floor())) * 1_000_000;
    out += i64::from(whole(x - float(out)));
    out
}

/// The class of a height.
pub(super) fn class_of(mode: &Mode, ht: i64) -> usize {
    mode.classes.partition_point(|c| c.0 < ht)
}
