//! Layouts inside the solver: strips of items in enlarged sizes, and what they cost at the saw.

use std::collections::{BTreeMap, BTreeSet};

use super::job::Axis;
use super::model::{At, Mode, Model};

/// One part in a strip.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Item {
    /// Size across the strip.
    pub ht: i64,
    /// Size along the strip.
    pub len: i64,
    /// Index of the kind.
    pub kind: usize,
}

/// The items of one strip.
pub(super) type Strip = Vec<Item>;

/// The height of a strip: that of its highest item.
pub(super) fn height(strip: &[Item]) -> i64 {
    strip.iter().map(|i| i.ht).max().unwrap_or(0)
}

/// The length that a strip's items take.
pub(super) fn length(strip: &[Item]) -> i64 {
    strip.iter().map(|i| i.len).sum()
}

/// How often each kind occurs among the items.
pub(super) fn counts<'a>(items: impl Iterator<Item = &'a Item>, kinds: usize) -> Vec<i64> {
    let mut out = vec![0; kinds];
    for item in items {
        if let Some(n) = out.get_mut(item.kind) {
            *n += 1;
        }
    }
    out
}

/// One sheet cut into strips.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct CutSheet {
    /// Index of the mode.
    pub mode: usize,
    /// The strips.
    pub strips: Vec<Strip>,
}

impl CutSheet {
    /// All items.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.strips.iter().flatten()
    }

    /// The height that the strips take.
    pub fn used(&self) -> i64 {
        self.strips.iter().map(|s| height(s)).sum()
    }

    /// How often each kind is cut from one such sheet.
    pub fn counts(&self, kinds: usize) -> Vec<i64> {
        counts(self.items(), kinds)
    }

    /// Area of the parts.
    pub fn area(&self) -> i64 {
        self.items().map(|i| i.len.saturating_mul(i.ht)).sum()
    }

    /// Brings strips and items into working order and returns the settings: across the strips, then along them.
    ///
    /// High strips and long items come first, equal ones together. What is exactly the remainder after the last cut
    /// costs no setting, so where a strip or item whose setting occurs once can be that remainder, it comes last: of several the
    /// one that `rank` puts lowest, given whether it is an item, and its setting.
    pub fn arrange(&mut self, mode: &Mode, rank: impl Fn(bool, i64) -> i64) -> (Vec<i64>, Vec<i64>) {
        for strip in &mut self.strips {
            strip.sort_unstable_by(|a, b| b.len.cmp(&a.len).then(b.ht.cmp(&a.ht)).then(a.kind.cmp(&b.kind)));
        }
        self.strips.sort_by(|a, b| height(b).cmp(&height(a)).then_with(|| b.cmp(a)));
        let mut across = Vec::new();
        let mut along: Vec<i64> = Vec::new();
        for strip in &self.strips {
            let top = height(strip);
            across.push(top);
            across.extend(strip.iter().map(|i| i.ht).filter(|&h| h < top));
            along.extend(strip.iter().map(|i| i.len));
        }
        across.sort_unstable();
        along.sort_unstable();
        if self.used() == mode.room
            && let Some(last) = lowest(self.strips.iter().map(|s| height(s)), &across, |v| rank(false, v))
        {
            let strip = self.strips.remove(last);
            across.retain(|&v| v != height(&strip));
            self.strips.push(strip);
        }
        for strip in &mut self.strips {
            if length(strip) == mode.len
                && let Some(last) = lowest(strip.iter().map(|i| i.len), &along, |v| rank(true, v))
            {
                let item = strip.remove(last);
                along.retain(|&v| v != item.len);
                strip.push(item);
            }
        }
        across.dedup();
        along.dedup();
        (across, along)
    }
}

/// The place of the lowest of those that occur once among all, which are sorted.
fn lowest(sizes: impl Iterator<Item = i64>, all: &[i64], rank: impl Fn(i64) -> i64) -> Option<usize> {
    let once = |one: i64| {
        let from = all.partition_point(|&v| v < one);
        all.at(from) == one && all.get(from + 1) != Some(&one)
    };
    sizes
        .enumerate()
        .filter(|(_, size)| once(*size))
        .min_by_key(|(_, size)| rank(*size))
        .map(|(place, _)| place)
}

/// Sheets and how many are cut alike.
pub(super) type Layout = Vec<(CutSheet, i64)>;

/// What a setting of the job weighs against one of a sheet.
pub(super) const SETTING: i64 = 6;

/// What a setting of a sheet weighs against what is left over, in the unit of [`gathered`], where plain layouts are better: a
/// whole sheet left in place of two halves is worth ten settings of one sheet.
pub(super) const MOVE: i64 = 50_000;

/// What a layout is judged by, best first: money, what lies idle of stock that costs nothing, work at the fence, then what is left
/// (negative).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Score {
    /// Price of the sheets.
    pub cost: i64,
    /// How many sheets that cost nothing lie idle while others are bought.
    pub idle: i64,
    /// Work at the fence, see [`work`].
    pub fence: i64,
    /// How badly what is left is gathered: minus the sum of [`gathered`].
    pub offcut: i64,
}

/// The settings of one sheet as pairs: whether it is a rip setting, and its size.
pub(super) fn settings(cut: &mut CutSheet, mode: &Mode) -> Vec<(bool, i64)> {
    ranked(cut, mode, |_| 0)
}

fn ranked(cut: &mut CutSheet, mode: &Mode, rank: impl Fn((bool, i64)) -> i64) -> Vec<(bool, i64)> {
    let (across, along) = cut.arrange(mode, |item, v| rank((mode.rips != item, v)));
    let mut out: Vec<_> = across.into_iter().map(|v| (mode.rips, v)).collect();
    out.extend(along.into_iter().map(|v| (!mode.rips, v)));
    out
}

/// Puts sheets into working order so that what comes last is what few other sheets need a setting for. Gives the settings of the job,
/// and those sheet by sheet with what is not plain.
pub(super) fn finished(model: &Model, layout: &mut Layout) -> (usize, i64) {
    let mut uses: BTreeMap<(bool, i64), i64> = BTreeMap::new();
    for (cut, n) in layout.iter() {
        let Some(mode) = model.modes.get(cut.mode) else { continue };
        let own = cut.items().flat_map(|i| [(mode.rips, i.ht), (!mode.rips, i.len)]);
        for setting in own.collect::<BTreeSet<_>>() {
            *uses.entry(setting).or_insert(0) += n;
        }
    }
    let (mut all, mut moves) = (BTreeSet::new(), 0_i64);
    for (cut, n) in layout {
        let Some(mode) = model.modes.get(cut.mode) else { continue };
        let own = ranked(cut, mode, |setting| uses.get(&setting).copied().unwrap_or(0));
        let moved = i64::try_from(own.len()).unwrap_or(0).saturating_add(odd(model, cut, mode));
        moves = moves.saturating_add(moved.saturating_mul(*n));
        all.extend(own);
    }
    (all.len(), moves)
}

/// What is not plain of a sheet, where that counts: parts that are trimmed out of higher strips, and a sheet that does not begin
/// with rips.
pub(super) fn odd(model: &Model, cut: &CutSheet, mode: &Mode) -> i64 {
    if !model.plain {
        return 0;
    }
    let trims = |strip: &Strip| {
        let top = height(strip);
        strip.iter().filter(|i| i.ht < top).count()
    };
    i64::try_from(cut.strips.iter().map(trims).sum::<usize>()).unwrap_or(0) + i64::from(!mode.rips)
}

/// How well what is left of a sheet is gathered: the squares of what is left beside the strips and at their ends, in
/// thousandths of the largest sheet, so that one large rest is worth more than two halves.
pub(super) fn gathered(model: &Model, cut: &CutSheet, mode: &Mode) -> i64 {
    let unit = (model.largest() / 1000).max(1);
    let square = |a: i64, b: i64| {
        let share = a.saturating_mul(b) / unit;
        share.saturating_mul(share)
    };
    let ends: i64 = cut.strips.iter().map(|strip| square(mode.len - length(strip), height(strip))).sum();
    square(mode.room - cut.used(), mode.len) + ends
}

/// Work at the fence: distinct settings of the job, each as much as [`SETTING`] moves, and the distinct settings sheet by sheet.
pub(super) fn fence(distinct: usize, moves: i64) -> i64 {
    i64::try_from(distinct).unwrap_or(0).saturating_mul(SETTING).saturating_add(moves)
}

/// Price of a layout.
pub(super) fn cost(model: &Model, layout: &Layout) -> i64 {
    layout.iter().map(|(cut, n)| model.cost(cut.mode).saturating_mul(*n)).sum()
}

/// Judges a layout, putting each sheet into working order on the way.
pub(super) fn score(model: &Model, layout: &mut Layout) -> Score {
    let mut all = BTreeSet::new();
    let (mut moves, mut offcut) = (0_i64, 0_i64);
    for (cut, n) in layout.iter_mut() {
        let Some(mode) = model.modes.get(cut.mode) else { continue };
        let own = settings(cut, mode);
        let moved = i64::try_from(own.len()).unwrap_or(0).saturating_add(odd(model, cut, mode));
        moves = moves.saturating_add(moved.saturating_mul(*n));
        all.extend(own);
        offcut = offcut.saturating_add(gathered(model, cut, mode).saturating_mul(*n));
    }
    let cost = cost(model, layout);
    Score {
        cost,
        idle: if cost > 0 { idle(model, layout) } else { 0 },
        fence: work(model, fence(all.len(), moves), offcut),
        offcut: -offcut,
    }
}

/// How many sheets that cost nothing lie idle.
pub(super) fn idle(model: &Model, layout: &Layout) -> i64 {
    let there = model.stocks.iter().filter(|s| s.cost == 0).filter_map(|s| s.count);
    let used = layout.iter().filter(|(cut, _)| model.cost(cut.mode) == 0).map(|(_, n)| *n);
    there.fold(0_i64, i64::saturating_add).saturating_sub(used.sum())
}

/// Work at the fence; where plain layouts are better, in the unit of [`gathered`] and less what is gathered, so that a little more
/// work is done for a much larger rest.
pub(super) fn work(model: &Model, fence: i64, gathered: i64) -> i64 {
    if model.plain { fence.saturating_mul(MOVE).saturating_sub(gathered) } else { fence }
}

/// Merges equal sheets and gives the layout a fixed order.
pub(super) fn tidy_up(layout: Layout) -> Layout {
    let mut sorted = layout;
    sorted.retain(|(cut, n)| *n > 0 && !cut.strips.is_empty());
    sorted.sort();
    let mut out: Layout = Vec::new();
    for (cut, n) in sorted {
        match out.last_mut() {
            Some(last) if last.0 == cut => last.1 += n,
            _ => out.push((cut, n)),
        }
    }
    out
}

/// How often a sheet with these counts can be cut from what is still wanted.
pub(super) fn repeats(counts: &[i64], residual: &[i64]) -> i64 {
    counts.iter().zip(residual).filter(|(c, _)| **c > 0).map(|(c, r)| r / c).min().unwrap_or(0)
}

/// Takes so many sheets with these counts off what is still wanted.
pub(super) fn subtract(residual: &mut [i64], counts: &[i64], times: i64) {
    for (r, c) in residual.iter_mut().zip(counts) {
        *r -= c * times;
    }
}

/// The axis along which a mode's items lie, as width and height of an item.
pub(super) fn laid(axis: Axis, item: &Item) -> (i64, i64) {
    match axis {
        Axis::Horizontal => (item.len, item.ht),
        Axis::Vertical => (item.ht, item.len),
    }
}
