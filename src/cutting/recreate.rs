//! One sheet fewer where more than two stages are allowed: take a sheet away, then ruin a few regions at a time and lay
//! their parts anew where the free areas lose least, until nothing is left aside.
//!
//! Ruin and recreate for guillotine cutting after Gardeyn, Wauters 2022; later acceptance after Burke, Bykov 2017.

use super::dive::Dice;
use super::finish::Spread;
use super::layout::CutSheet;
use super::model::{At, Model};
use super::regions::{Depth, Slot, Tree, Way};

/// Working state: sheets one by one, and the kinds of what is aside, each as often as it is.
pub(super) struct Recreate<'a> {
    model: &'a Model,
    depth: Depth,
    trees: Vec<Tree>,
    aside: Vec<usize>,
    /// What each kind weighs while it is aside: its area, and more the longer it stays.
    worth: Vec<i64>,
    /// Ways to lay each kind.
    ways: Vec<Vec<Way>>,
    dice: Dice,
    /// Effort so far.
    work: u64,
}

/// How many earlier states a new one is compared with.
const LATE: usize = 30;

/// After so many rounds what is aside weighs more.
const RISE: usize = 600;

/// What one part weighs at most.
const HEAVY: i64 = 1 << 40;

impl<'a> Recreate<'a> {
    /// Starts from single sheets.
    pub fn new(model: &'a Model, stages: u32, sheets: &[CutSheet], seed: u64) -> Self {
        let depth = Depth { stages, trimming: model.trimming, unit: model.largest() / (1 << 30) + 1 };
        let trees =
            sheets.iter().filter_map(|cut| Some(Tree::new(cut, model.modes.get(cut.mode)?, depth))).collect();
        let ways = model
            .kinds
            .iter()
            .map(|k| if k.free { vec![k.size, (k.size.1, k.size.0)] } else { vec![k.size] })
            .collect();
        let worth = model.kinds.iter().map(|k| k.area / depth.unit * 16 + 16).collect();
        Self { model, depth, trees, aside: Vec::new(), worth, ways, dice: Dice::new(seed), work: 0 }
    }

    /// What the sheets cost.
    fn cost(&self) -> i64 {
        self.trees.iter().map(|t| self.model.stocks.at(t.stock).cost).sum()
    }

    /// Takes sheets away until the cost is `goal` or the effort is used up, and gives the sheets with their cost if any
    /// could go.
    pub fn run(mut self, goal: i64, work: u64) -> Option<(i64, Vec<Spread>)> {
        let mut found = None;
        while self.cost() > goal {
            self.take_away()?;
            if !self.refill(work) {
                break;
            }
            self.trees.retain(|t| !t.is_empty());
            found = Some((self.cost(), self.trees.iter().map(spread).collect()));
        }
        found
    }

    fn weight(&self) -> i64 {
        self.aside.iter().map(|&k| self.worth.at(k)).sum()
    }

    fn area(&self, kinds: &[usize]) -> i64 {
        kinds.iter().filter_map(|&k| self.model.kinds.get(k)).map(|k| k.area).sum()
    }

    /// Sets the parts of the sheet aside that holds least for its price.
    fn take_away(&mut self) -> Option<()> {
        let held = |tree: &Tree| {
            let mut kinds = Vec::new();
            tree.kinds(&mut kinds);
            i128::from(self.area(&kinds))
        };
        let price = |tree: &Tree| i128::from(self.model.stocks.at(tree.stock).cost);
        let (least, _) = self
            .trees
            .iter()
            .map(|t| (held(t), price(t)))
            .enumerate()
            .filter(|(_, t)| t.1 > 0)
            .min_by(|(_, a), (_, b)| (a.0 * b.1).cmp(&(b.0 * a.1)))?;
        let tree = self.trees.remove(least);
        tree.kinds(&mut self.aside);
        Some(())
    }

    /// Rounds until nothing is aside or the effort is used up.
    fn refill(&mut self, work: u64) -> bool {
        let end = self.work.saturating_add(work);
        let mut touched = Vec::new();
        self.lay_all(&mut touched);
        let mut now = self.weight();
        let mut late = vec![now; LATE];
        let mut round = 0_usize;
        while !self.aside.is_empty() {
            if self.work > end || self.trees.is_empty() {
                return false;
            }
            let aside = self.aside.clone();
            touched.clear();
            self.ruin(&mut touched);
            self.lay_all(&mut touched);
            let after = self.weight();
            let before = late.at(round % LATE);
            if after <= now || after < before {
                now = after;
            } else {
                self.aside = aside;
                for (at, tree) in touched.drain(..).rev() {
                    if let Some(slot) = self.trees.get_mut(at) {
                        *slot = tree;
                    }
                }
            }
            if let Some(slot) = late.get_mut(round % LATE) {
                *slot = now;
            }
            round += 1;
            if round.is_multiple_of(RISE) {
                for &k in &self.aside {
                    if let Some(w) = self.worth.get_mut(k) {
                        *w = (*w + *w / 8).min(HEAVY);
                    }
                }
                now = self.weight();
                late.fill(now);
            }
        }
        true
    }

    fn keep(&self, at: usize, touched: &mut Vec<(usize, Tree)>) {
        if touched.iter().all(|t| t.0 != at)
            && let Some(tree) = self.trees.get(at)
        {
            touched.push((at, tree.clone()));
        }
    }

    /// Takes a few regions out of a few sheets.
    fn ruin(&mut self, touched: &mut Vec<(usize, Tree)>) {
        let sheets = 1 + self.dice.below(3);
        for _ in 0..sheets {
            let at = self.dice.below(self.trees.len());
            self.keep(at, touched);
            let times = 1 + self.dice.below(4);
            let Some(tree) = self.trees.get_mut(at) else { return };
            let dice = &mut self.dice;
            for _ in 0..times {
                tree.ruin(&mut |n| dice.below(n), &mut self.aside);
            }
            tree.tighten();
        }
    }

    /// Lays what is aside, in one of several orders, each part where the free areas lose least.
    fn lay_all(&mut self, touched: &mut Vec<(usize, Tree)>) {
        let mut aside = std::mem::take(&mut self.aside);
        let order = self.dice.below(8);
        let size = |&k: &usize| {
            let (w, h) = self.model.kinds.get(k).map_or((0, 0), |k| k.size);
            match order {
                0..=3 => w.saturating_mul(h),
                4 | 5 => w.max(h),
                6 => h,
                _ => w,
            }
        };
        aside.sort_by_key(|k| (std::cmp::Reverse(size(k)), *k));
        let mut nowhere = None;
        for kind in aside {
            if nowhere == Some(kind) {
                self.aside.push(kind);
                continue;
            }
            let ways = self.ways.get(kind).map_or(&[][..], Vec::as_slice);
            let (mut best, mut at): (Option<Slot>, usize) = (None, 0);
            for (index, tree) in self.trees.iter().enumerate() {
                if self.dice.below(40) == 0 {
                    continue;
                }
                let before = best.as_ref().map(|p| p.loss);
                self.work += tree.places(ways, self.depth, &mut best);
                if best.as_ref().map(|p| p.loss) != before {
                    at = index;
                }
            }
            let Some(place) = best else {
                nowhere = Some(kind);
                self.aside.push(kind);
                continue;
            };
            self.keep(at, touched);
            if let Some(tree) = self.trees.get_mut(at) {
                tree.lay(kind, &place, self.depth);
            }
        }
    }
}

fn spread(tree: &Tree) -> Spread {
    Spread { stock: tree.stock, first: tree.first, placed: tree.placed(), count: 1 }
}
