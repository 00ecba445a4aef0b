//! The same sheets with fewer settings: strips and parts change places, pairs of sheets are re-cut, by simulated annealing
//! (Kirkpatrick, Gelatt, Vecchi 1983) with a fixed number of steps and a fixed sequence of chances. Then, with no more settings
//! than that, what is left over is gathered in few large pieces.

use crate::real::Real;
use std::collections::BTreeMap;

use super::dive::Dice;
use super::fill::{SCALE, Strips, Worth, sheet};
use super::layout::{CutSheet, Layout, MOVE, SETTING, fence, gathered, height, length, odd, settings, work};
use super::master::{count, float, whole};
use super::model::Model;
use super::squeeze::merged;

/// Working state: sheets one by one, their settings, and how many sheets have each.
pub(super) struct Neaten<'a> {
    model: &'a Model,
    sheets: Vec<CutSheet>,
    own: Vec<Own>,
    uses: BTreeMap<(bool, i64), i64>,
    strips: Strips,
    dice: Dice,
    /// Work at the fence, as [`super::layout::Score`] counts it.
    now: i64,
    /// The least work at the fence so far, and the sheets.
    best: (i64, Vec<CutSheet>),
    /// Settings sheet by sheet, with what is not plain.
    moves: i64,
    /// No change is kept that leads beyond so many settings of the job, or sheet by sheet.
    most: (usize, i64),
}

/// What one sheet is judged by.
#[derive(Clone, Debug, Default)]
struct Own {
    settings: Vec<(bool, i64)>,
    /// Its settings, and what is not plain of it.
    moves: i64,
    gathered: i64,
}

impl Own {
    fn of(model: &Model, cut: &mut CutSheet) -> Self {
        let Some(mode) = model.modes.get(cut.mode) else { return Self::default() };
        let settings = settings(cut, mode);
        let moves = i64::try_from(settings.len()).unwrap_or(0) + odd(model, cut, mode);
        Self { settings, moves, gathered: gathered(model, cut, mode) }
    }
}

/// When a change is kept.
#[derive(Clone, Copy, Debug)]
enum Keep {
    /// If it costs no work, else with a chance that falls with the temperature.
    Warm(f64),
    /// If it costs less work, or none and what is left is gathered no worse.
    Cold,
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
            moves: 0,
            most: (usize::MAX, i64::MAX),
        };
        let mut moves = 0;
        for cut in &mut out.sheets {
            let own = Own::of(out.model, cut);
            for s in &own.settings {
                *out.uses.entry(*s).or_insert(0) += 1;
            }
            moves += own.moves;
            out.own.push(own);
        }
        let gathered = out.own.iter().map(|own| own.gathered).sum();
        out.now = work(model, fence(out.uses.len(), moves), gathered);
        out.best = (out.now, out.sheets.clone());
        out.moves = moves;
        out
    }

    /// The same, so that neither the settings of the job become more than now, nor those sheet by sheet.
    pub fn bounded(mut self) -> Self {
        self.most = self.settings();
        self
    }

    /// Settings of the job, and sheet by sheet with what is not plain.
    pub fn settings(&self) -> (usize, i64) {
        (self.uses.len(), self.moves)
    }

    /// Anneals with so many steps, one in `every` of which re-cuts sheets while that takes no more than `most`,
    /// then gathers what is left over in a third as many, and gives the best layout met.
    pub fn run(mut self, steps: usize, every: usize, most: u64) -> Layout {
        if self.sheets.is_empty() {
            return Layout::new();
        }
        for step in 0..steps {
            // The temperature falls from 0.5 to 0.05; a change that costs d more is kept with chance e^(-d / t).
            let t = 0.5 - 0.45 * ratio(step, steps);
            let change = if step.checked_rem(every) == Some(0) && self.strips.work() < most {
                self.recut()
            } else {
                self.exchange()
            };
            if let Some(change) = change {
                self.judge(change, Keep::Warm(t));
            }
        }
        let mut cold = Self { dice: self.dice, most: self.most, ..Self::new(self.model, self.best.1, 0) };
        for _ in 0..steps / 3 {
            if let Some(change) = cold.exchange() {
                cold.judge(change, Keep::Cold);
            }
        }
        merged(&cold.sheets)
    }

    /// Makes a change if it is good enough.
    fn judge(&mut self, change: Change, keep: Keep) {
        let (mut delta, mut gain) = (0_i64, 0_i64);
        let mut new = Vec::new();
        for (at, mut cut) in change {
            let own = Own::of(self.model, &mut cut);
            let Some(before) = self.own.get(at) else { continue };
            delta += own.moves - before.moves;
            gain += own.gathered - before.gathered;
            for s in &before.settings {
                if let Some(n) = self.uses.get_mut(s) {
                    *n -= 1;
                    if *n == 0 {
                        delta -= SETTING;
                        self.uses.remove(s);
                    }
                }
            }
            for s in &own.settings {
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
        let moved = new.iter().fold(0, |sum, (at, _, before)| {
            sum + self.own.get(*at).map_or(0, |own| own.moves) - before.moves
        });
        let (settings, moves) = (self.uses.len(), self.moves + moved);
        let delta = work(self.model, delta, gain);
        let within = settings <= self.most.0 && moves <= self.most.1;
        let keep = within
            && match keep {
                Keep::Cold => delta < 0 || delta == 0 && gain >= 0,
                Keep::Warm(t) => {
                    let unit = if self.model.plain { float(MOVE) } else { 1.0 };
                    let chance = || (-float(delta) / (unit * t)).exponential();
                    delta <= 0 || ratio(self.dice.below(1 << 20), 1 << 20) < chance()
                }
            };
        if keep {
            self.moves = moves;
            self.now += delta;
            if self.now < self.best.0 {
                self.best = (self.now, self.sheets.clone());
            }
            return;
        }
        for (at, cut, own) in new.into_iter().rev() {
            let Some(slot) = self.own.get_mut(at) else { continue };
            let tried = std::mem::replace(slot, own);
            for s in &tried.settings {
                if let Some(n) = self.uses.get_mut(s) {
                    *n -= 1;
                    if *n == 0 {
                        self.uses.remove(s);
                    }
                }
            }
            for s in self.own.get(at).iter().flat_map(|own| &own.settings) {
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
