//! The same sheets with fewer settings: strips and parts change places, pairs of sheets are re-cut, by simulated annealing
//! (Kirkpatrick, Gelatt, Vecchi 1983) with a fixed number of steps and a fixed sequence of chances.

use crate::real::Real;
use std::collections::BTreeMap;

use super::dive::Dice;
use super::fill::{SCALE, Strips, Worth, sheet};
use super::layout::{CutSheet, Layout, SETTING, fence, height, length, settings};
use super::master::{count, float, whole};
use super::model::Model;
use super::squeeze::merged;

/// Working state: sheets one by one, their settings, and how many sheets have each.
pub(super) struct Neaten<'a> {
    model: &'a Model,
    sheets: Vec<CutSheet>,
    own: Vec<Vec<(bool, i64)>>,
    uses: BTreeMap<(bool, i64), i64>,
    strips: Strips,
    dice: Dice,
    /// Work at the fence, as [`super::layout::Score`] counts it.
    now: i64,
    /// The least work at the fence so far, and the sheets.
    best: (i64, Vec<CutSheet>),
}

/// Changed sheets: index and new content.
type Change = Vec<(usize, CutSheet)>;

impl<'a> Neaten<'a> {
    /// Starts from single sheets.
    pub fn new(model: &'a Model, sheets: Vec<CutSheet>, seed: u64) -> Self {
        let mut out = Self {
            model,
            sheets,
            own: Vec::new(),
            uses: BTreeMap::new(),
            strips: Strips::default(),
            dice: Dice::new(seed),
            now: 0,
            best: (0, Vec::new()),
        };
        let mut moves = 0;
        for cut in &mut out.sheets {
            let own = out.model.modes.get(cut.mode).map_or_else(Vec::new, |m| settings(cut, m));
            for s in &own {
                *out.uses.entry(*s).or_insert(0) += 1;
            }
            moves += i64::try_from(own.len()).unwrap_or(0);
            out.own.push(own);
        }
        out.now = fence(out.uses.len(), moves);
        out.best = (out.now, out.sheets.clone());
        out
    }

    /// Anneals with so many steps, one in `every` of which re-cuts sheets while that takes no more than `work`,
    /// and gives the best layout met.
    pub fn run(mut self, steps: usize, every: usize, work: u64) -> Layout {
        if self.sheets.is_empty() {
            return Layout::new();
        }
        for step in 0..steps {
            // The temperature falls from 0.5 to 0.05; a change that costs d more is kept with chance e^(-d / t).
            let t = 0.5 - 0.45 * ratio(step, steps);
            let change = if step.checked_rem(every) == Some(0) && self.strips.work() < work {
                self.recut()
            } else {
                self.exchange()
            };
            if let Some(change) = change {
                self.judge(change, t);
            }
        }
        merged(&self.best.1)
    }

    /// Makes a change if it is good enough.
    fn judge(&mut self, change: Change, t: f64) {
        let mut delta = 0_i64;
        let mut new = Vec::new();
        for (at, mut cut) in change {
            let own = self.model.modes.get(cut.mode).map_or_else(Vec::new, |m| settings(&mut cut, m));
            for s in self.own.get(at).into_iter().flatten() {
                delta -= 1;
                if let Some(n) = self.uses.get_mut(s) {
                    *n -= 1;
                    if *n == 0 {
                        delta -= SETTING;
                        self.uses.remove(s);
                    }
                }
            }
            for s in &own {
                delta += 1;
                let n = self.uses.entry(*s).or_insert(0);
                if *n == 0 {
                    delta += SETTING;
                }
                *n += 1;
            }
            if let (Some(cut_slot), Some(own_slot)) = (self.sheets.get_mut(at), self.own.get_mut(at)) {
                new.push((at, std::mem::replace(cut_slot, cut), std::mem::replace(own_slot, own)));
            }
        }
        let keep = delta <= 0 || ratio(self.dice.below(1 << 20), 1 << 20) < (-float(delta) / t).exponential();
        if keep {
            self.now += delta;
            if self.now < self.best.0 {
                self.best = (self.now, self.sheets.clone());
            }
            return;
        }
        for (at, cut, own) in new.into_iter().rev() {
            let Some(slot) = self.own.get_mut(at) else { continue };
            let tried = std::mem::replace(slot, own);
            for s in &tried {
                if let Some(n) = self.uses.get_mut(s) {
                    *n -= 1;
                    if *n == 0 {
                        self.uses.remove(s);
                    }
                }
            }
            for s in self.own.get(at).into_iter().flatten() {
                *self.uses.entry(*s).or_insert(0) += 1;
            }
            if let Some(slot) = self.sheets.get_mut(at) {
                *slot = cut;
            }
        }
    }

    /// Two sheets of the same mode change a strip, or two strips a part; one side of it may be nothing.
    fn exchange(&mut self) -> Option<Change> {
        let n = self.sheets.len();
        let (a, b) = (self.dice.below(n), self.dice.below(n));
        let strips = self.dice.below(2) == 0;
        let turn = self.dice.below(2) == 0;
        let (first, second) = (self.sheets.get(a)?, self.sheets.get(b)?);
        if first.mode != second.mode {
            return None;
        }
        let mode = self.model.modes.get(first.mode)?;
        let i = self.dice.below(first.strips.len());
        let (mut one, mut two);
        if strips {
            let j = self.dice.below(second.strips.len() + 1);
            let (mine, other) = (first.strips.get(i)?, second.strips.get(j));
            let gain = height(mine) - other.map_or(0, |s| height(s));
            if a == b || second.used() + gain > mode.room || first.used() - gain > mode.room {
                return None;
            }
            (one, two) = (first.clone(), second.clone());
            let mine = one.strips.swap_remove(i);
            if j < two.strips.len() {
                one.strips.push(two.strips.swap_remove(j));
            }
            two.strips.push(mine);
        } else {
            let j = self.dice.below(second.strips.len());
            let (from, to) = (first.strips.get(i)?, second.strips.get(j)?);
            if (a, i) == (b, j) {
                return None;
            }
            let p = self.dice.below(from.len());
            let q = self.dice.below(to.len() + 1);
            let (mut item, other) = (*from.get(p)?, to.get(q).copied());
            if self.model.kinds.get(item.kind).is_some_and(|k| k.free) && turn {
                (item.len, item.ht) = (item.ht, item.len);
            }
            let freed = from.get(p)?.len;
            let back = other.map_or(0, |o| o.len);
            if other == Some(item)
                || length(to) + item.len - back > mode.len
                || length(from) - freed + back > mode.len
            {
                return None;
            }
            let within = a == b;
            (one, two) = (first.clone(), second.clone());
            let target = if within { &mut one } else { &mut two };
            let slot = target.strips.get_mut(j)?;
            match slot.get_mut(q) {
                Some(place) => *place = item,
                None => slot.push(item),
            }
            let source = one.strips.get_mut(i)?;
            match other {
                Some(other) => *source.get_mut(p)? = other,
                None => {
                    source.remove(p);
                }
            }
        }
        let fits = |cut: &mut CutSheet| {
            cut.strips.retain(|s| !s.is_empty());
            cut.used() <= mode.room && !cut.strips.is_empty() && (!self.model.exact || level(cut))
        };
        if !fits(&mut one) {
            return None;
        }
        if a == b {
            return Some(vec![(a, one)]);
        }
        fits(&mut two).then(|| vec![(a, one), (b, two)])
    }

    /// One to three sheets are cut anew, with fees for settings; nothing unless all their parts find a place.
    fn recut(&mut self) -> Option<Change> {
        let n = self.sheets.len();
        let k = (1 + self.dice.below(3)).min(n);
        let mut chosen: Vec<usize> = Vec::new();
        while chosen.len() < k {
            let i = self.dice.below(n);
            if !chosen.contains(&i) {
                chosen.push(i);
            }
        }
        let mut pool = vec![0_i64; self.model.kinds.len()];
        for &i in &chosen {
            for item in self.sheets.get(i)?.items() {
                *pool.get_mut(item.kind)? += 1;
            }
        }
        let fee = whole(count(self.dice.below(8)) * 0.004 * SCALE);
        let largest = float(self.model.largest());
        let mut change = Change::new();
        for &i in &chosen {
            if pool.iter().all(|&p| p == 0) {
                return None;
            }
            let index = self.sheets.get(i)?.mode;
            let mode = self.model.modes.get(index)?;
            let mut values = Vec::new();
            for (kind, &p) in self.model.kinds.iter().zip(&pool) {
                let shaken = 1.0 - 0.01 * count(self.dice.below(20));
                values.push(if p > 0 {
                    whole(SCALE * shaken * float(kind.area) / largest).max(1)
                } else {
                    0
                });
            }
            let worth = Worth { values, fee };
            let uses = &self.uses;
            let rips = mode.rips;
            let times = |length: bool, v: i64| if uses.contains_key(&(length != rips, v)) { 1 } else { 4 };
            let cut = sheet((index, mode), &[], &pool, &worth, self.model.exact, &mut self.strips, times);
            if cut.strips.is_empty() {
                return None;
            }
            for item in cut.items() {
                *pool.get_mut(item.kind)? -= 1;
            }
            change.push((i, cut));
        }
        pool.iter().all(|&p| p == 0).then_some(change)
    }
}

/// Whether all parts are exactly as high as their strips.
fn level(cut: &CutSheet) -> bool {
    cut.strips.iter().all(|s| s.iter().all(|i| i.ht == height(s)))
}

fn ratio(a: usize, b: usize) -> f64 {
    count(a) / count(b.max(1))
}
