//! One sheet fewer: take a sheet away, keep its parts aside, and re-cut a few sheets at a time until nothing is left aside.
//!
//! Ruin and recreate (Schrimpf, Schneider, Stamm-Wilbrandt, Dueck 2000) with the prices of the linear program as worth, and
//! prices that rise for parts that stay aside (sequential value correction, Belov, Scheithauer 2007).

use std::collections::BTreeSet;

use super::dive::Dice;
use super::fill::{Stacks, Strips, Worth, sheet, wanted};
use super::layout::{CutSheet, Layout, settings, tidy_up};
use super::model::{At, Model};

/// Working state: sheets one by one, and what is aside.
pub(super) struct Squeeze<'a> {
    model: &'a Model,
    sheets: Vec<CutSheet>,
    aside: Vec<i64>,
    worth: Vec<i32>,
    /// Settings of the layout at the start; others cost a fee.
    made: BTreeSet<(bool, i64)>,
    strips: Strips,
    stacks: Stacks,
    dice: Dice,
}

/// A layout as single sheets, unless there are more than `sheets` or more than `parts` on them.
pub(super) fn singles(layout: &Layout, sheets: i64, parts: i64) -> Option<Vec<CutSheet>> {
    let items = |cut: &CutSheet| i64::try_from(cut.items().count()).unwrap_or(i64::MAX);
    if layout.iter().map(|l| l.1).sum::<i64>() > sheets
        || layout.iter().map(|l| l.1.saturating_mul(items(&l.0))).sum::<i64>() > parts
    {
        return None;
    }
    let mut out = Vec::new();
    for (cut, n) in layout {
        out.extend(std::iter::repeat_n(cut.clone(), usize::try_from(*n).unwrap_or(0)));
    }
    Some(out)
}

/// Single sheets as a layout.
pub(super) fn merged(sheets: &[CutSheet]) -> Layout {
    tidy_up(sheets.iter().map(|c| (c.clone(), 1)).collect())
}

fn add(to: &mut [i64], cut: &CutSheet, sign: i64) {
    for item in cut.items() {
        if let Some(n) = to.get_mut(item.kind) {
            *n += sign;
        }
    }
}

impl<'a> Squeeze<'a> {
    /// Starts from single sheets by taking the one that is worth least for its price away.
    pub fn new(model: &'a Model, mut sheets: Vec<CutSheet>, worth: &[i32], seed: u64) -> Option<Self> {
        let value = |cut: &CutSheet| -> i64 { cut.items().map(|i| i64::from(worth.at(i.kind))).sum() };
        let least = (0..sheets.len()).min_by_key(|&i| {
            sheets
                .get(i)
                .map_or((0, 0), |c| (value(c).saturating_sub(model.cost(c.mode).saturating_mul(1 << 28)), i))
        })?;
        let mut made = BTreeSet::new();
        for cut in &mut sheets {
            if let Some(mode) = model.modes.get(cut.mode) {
                made.extend(settings(cut, mode));
            }
        }
        let mut aside = vec![0; model.kinds.len()];
        add(&mut aside, &sheets.remove(least), 1);
        Some(Self {
            model,
            sheets,
            aside,
            worth: worth.to_vec(),
            made,
            strips: Strips::default(),
            stacks: Stacks::default(),
            dice: Dice::new(seed),
        })
    }

    fn weight(&self, aside: &[i64]) -> i64 {
        aside.iter().zip(&self.worth).map(|(n, w)| n * i64::from(*w)).sum()
    }

    /// Tries so many rounds, or fewer where they take more than `work`; gives the layout if nothing is left aside.
    pub fn run(&mut self, rounds: usize, work: u64) -> Option<Layout> {
        let mut weight = self.weight(&self.aside);
        let mut since = 0;
        for _ in 0..rounds {
            if self.strips.work() > work || self.aside.iter().all(|&n| n == 0) {
                break;
            }
            let before = weight;
            self.round(&mut weight);
            since = if weight < before { 0 } else { since + 1 };
            if since > 60 {
                since = 0;
                for (w, &n) in self.worth.iter_mut().zip(&self.aside) {
                    if n > 0 {
                        *w = w.saturating_add(*w / 12).min(1 << 27);
                    }
                }
                weight = self.weight(&self.aside);
            }
        }
        self.aside.iter().all(|&n| n == 0).then(|| merged(&self.sheets))
    }

    fn round(&mut self, weight: &mut i64) {
        let total = self.sheets.len();
        let k = (1 + self.dice.below(4)).min(total);
        let mut chosen: Vec<usize> = Vec::new();
        while chosen.len() < k {
            let i = self.dice.below(total);
            if !chosen.contains(&i) {
                chosen.push(i);
            }
        }
        let mut pool = self.aside.clone();
        for &i in &chosen {
            if let Some(cut) = self.sheets.get(i) {
                add(&mut pool, cut, 1);
            }
        }
        let mut made = Vec::new();
        for &i in &chosen {
            let Some(old) = self.sheets.get(i) else { return };
            let stock = self.model.modes.get(old.mode).map_or(0, |m| m.stock);
            let ways: Vec<usize> = (0..self.model.modes.len())
                .filter(|&m| self.model.modes.get(m).is_some_and(|x| x.stock == stock))
                .collect();
            let mode = ways.at(self.dice.below(ways.len()));
            let cut = self.refill(mode, &pool);
            add(&mut pool, &cut, -1);
            made.push(cut);
        }
        let after = self.weight(&pool);
        if after <= *weight {
            *weight = after;
            self.aside = pool;
            for (i, cut) in chosen.into_iter().zip(made) {
                if let Some(slot) = self.sheets.get_mut(i) {
                    *slot = cut;
                }
            }
        }
    }

    /// One sheet of much worth from the pool; prices are shaken a little.
    fn refill(&mut self, index: usize, pool: &[i64]) -> CutSheet {
        let Some(mode) = self.model.modes.get(index) else { return CutSheet::default() };
        let shake = i32::try_from(4 + self.dice.below(25)).unwrap_or(4);
        let values = self
            .worth
            .iter()
            .zip(pool)
            .map(|(&w, &n)| {
                if n > 0 {
                    w.saturating_sub(
                        w / 100
                            * i32::try_from(self.dice.below(usize::try_from(shake).unwrap_or(1)))
                                .unwrap_or(0),
                    )
                } else {
                    0
                }
            })
            .collect();
        let whole_sheet: i64 =
            self.worth.iter().zip(&self.model.kinds).map(|(w, k)| i64::from(*w) * k.demand).sum();
        let sheets = i64::try_from(self.sheets.len()).unwrap_or(1).max(1);
        let fee = i32::try_from(whole_sheet / sheets / 100).unwrap_or(0);
        let worth = Worth { values, fee };
        let exact = self.model.exact;
        let wanted = if mode.classes.len() > 1 && self.dice.below(4) > 0 {
            wanted(mode, pool, &worth, exact, (&mut self.strips, &mut self.stacks), 0)
        } else {
            Vec::new()
        };
        let (made, rips) = (&self.made, mode.rips);
        let times = |length: bool, v: i64| i32::from(!made.contains(&(length != rips, v)));
        sheet((index, mode), &wanted, pool, &worth, exact, &mut self.strips, times)
    }
}
