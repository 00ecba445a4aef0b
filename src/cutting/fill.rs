//! Filling strips and sheets by value: one bounded knapsack prices the best strip of every height at once.
//!
//! Gilmore, Gomory 1965 for the two nested knapsacks; parts are taken by rising height, so that the table after the last
//! part of a height holds the best strip of that height.

use super::knapsack::Table;
use super::layout::{CutSheet, Item, height};
use super::model::{At, Mode, Opt};

/// A whole sheet in the whole numbers of the knapsacks, where its worth is its area.
pub(super) const SCALE: f64 = 16_777_216.0;

/// Worth of the kinds in whole numbers, and fees against untidy strips in the same numbers.
#[derive(Clone, Debug, Default)]
pub(super) struct Worth {
    /// One value a kind.
    pub values: Vec<i32>,
    /// Fee for each new length or trimmed height in a strip.
    pub fee: i32,
}

/// Effort of looking at one way to lay a kind, against that of a cell of the table.
const LOOK: u64 = 6;

/// The table of best strips of one mode.
#[derive(Clone, Debug, Default)]
pub(super) struct Strips {
    table: Table,
    /// What was entered, in order: as far as it is the same again, its rows still hold.
    entered: Vec<(Entry, State)>,
    exact: bool,
    /// The row after each class, in the order of the mode's classes.
    ends: Vec<usize>,
}

/// One way to lay a kind, as it is entered into the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Entry {
    opt: Opt,
    most: usize,
    value: i32,
    fee: i32,
    trim: i32,
}

/// Where the table stands.
#[derive(Clone, Copy, Debug)]
struct State {
    /// The row of the best strips of this height.
    row: usize,
    /// The row of those which a higher strip trims.
    lower: usize,
    /// Number of rows.
    rows: usize,
}

impl Strips {
    /// Prices the best strip of every class up to the height `top`. `times` says how many times the fee a setting costs,
    /// 0 where it is made already on the sheet: first argument whether it is a length (else a height), second its size.
    pub fn price(
        &mut self,
        mode: &Mode,
        residual: &[i64],
        worth: &Worth,
        exact: bool,
        top: i64,
        times: impl Fn(bool, i64) -> i32,
    ) {
        if self.table.capacity() != Some(mode.len_steps) || self.exact != exact {
            self.table.clear(mode.len_steps);
            self.entered.clear();
            self.exact = exact;
        }
        self.ends.clear();
        let priced = worth.fee > 0;
        let mut at = State { row: 0, lower: 0, rows: 1 };
        let mut entered = 0;
        for group in mode.opts.chunk_by(|a, b| a.ht == b.ht) {
            let Some(first) = group.first() else { continue };
            if first.ht > top {
                break;
            }
            let trim = if priced { worth.fee.saturating_mul(times(false, first.ht)) } else { 0 };
            at.row = if exact { 0 } else { at.lower };
            for opt in group {
                let most = residual.at(opt.kind).min(mode.len.checked_div(opt.len).unwrap_or(0)).max(0);
                let entry = Entry {
                    opt: *opt,
                    most: usize::try_from(most).unwrap_or(0),
                    value: worth.values.at(opt.kind),
                    fee: if priced && most > 0 { worth.fee.saturating_mul(times(true, opt.len)) } else { 0 },
                    trim,
                };
                match self.entered.get(entered) {
                    Some((same, state)) if *same == entry => at = *state,
                    _ => {
                        self.table.truncate(at.rows);
                        self.entered.truncate(entered);
                        self.enter(&entry, entered, &mut at);
                        self.entered.push((entry, at));
                    }
                }
                entered += 1;
            }
            self.table.work += LOOK * group.len() as u64;
            self.ends.push(at.row);
            if trim <= 0 {
                at.lower = at.row;
            }
        }
    }

    fn enter(&mut self, entry: &Entry, tag: usize, at: &mut State) {
        let Entry { opt, most, value, fee, trim } = *entry;
        at.row = self.table.push(at.row, opt.steps, most, value, fee, tag);
        if trim > 0 {
            at.lower = self.table.push(at.lower, opt.steps, most, value, fee.wrapping_add(trim), tag);
        }
        at.rows = self.table.rows();
    }

    /// The value of the best strip of a class.
    pub fn best(&self, class: usize) -> i32 {
        self.ends.get(class).map_or(0, |&row| self.table.best(row))
    }

    /// Effort so far.
    pub fn work(&self) -> u64 {
        self.table.work
    }

    /// How many classes are priced.
    pub fn classes(&self) -> usize {
        self.ends.len()
    }

    /// The best strip of a class: options of the mode with their numbers.
    pub fn trace(&self, class: usize) -> Vec<(usize, usize)> {
        self.ends.get(class).map_or_else(Vec::new, |&row| self.table.trace(row))
    }

    /// The best strip of a class as items that truly fit and respect the residual.
    pub fn strip(&self, mode: &Mode, class: usize, residual: &[i64]) -> Vec<Item> {
        let mut out = Vec::new();
        let mut room = mode.len;
        let mut left = residual.to_vec();
        for (opt, copies) in self.trace(class) {
            let Some(o) = mode.opts.get(opt) else { continue };
            for _ in 0..copies {
                if let Some(n) = left.get_mut(o.kind)
                    && *n > 0
                    && o.len <= room
                {
                    *n -= 1;
                    room -= o.len;
                    out.push(Item { ht: o.ht, len: o.len, kind: o.kind });
                }
            }
        }
        out
    }
}

/// Prices ways to stack strips on a sheet.
#[derive(Clone, Debug, Default)]
pub(super) struct Stacks {
    table: Table,
    last: usize,
}

impl Stacks {
    /// The best stack for these values of the classes.
    pub fn price(&mut self, mode: &Mode, values: &[i32]) -> i32 {
        self.table.clear(mode.room_steps);
        let (mut row, mut lower) = (0, 0);
        for (class, &(ht, steps)) in mode.classes.iter().enumerate() {
            // What is worth no more than a lower strip is never needed.
            if values.at(class) <= lower {
                continue;
            }
            lower = values.at(class);
            let most = usize::try_from(mode.room.checked_div(ht).unwrap_or(0)).unwrap_or(0);
            row = self.table.push(row, steps, most, values.at(class), 0, class);
        }
        self.last = row;
        self.table.best(row)
    }

    /// What the best stack is made of: classes with their numbers, as far as they truly fit.
    pub fn trace(&self, mode: &Mode) -> Vec<(usize, usize)> {
        let mut room = mode.room;
        let mut out = Vec::new();
        for (class, copies) in self.table.trace(self.last) {
            let Some(&(ht, _)) = mode.classes.get(class) else { continue };
            let fits = usize::try_from(room.checked_div(ht).unwrap_or(0)).unwrap_or(0).min(copies);
            if fits > 0 {
                room -= ht * i64::try_from(fits).unwrap_or(0);
                out.push((class, fits));
            }
        }
        out
    }
}

/// The classes of the strips on the sheet of most worth, each as often as it occurs, as if every strip could be cut again and
/// again. Every setting costs the fee `times` times.
pub(super) fn wanted(
    mode: &Mode,
    residual: &[i64],
    worth: &Worth,
    exact: bool,
    (strips, stacks): (&mut Strips, &mut Stacks),
    times: i32,
) -> Vec<usize> {
    strips.price(mode, residual, worth, exact, i64::MAX, |_, _| times);
    let best: Vec<i32> = (0..mode.classes.len()).map(|c| strips.best(c)).collect();
    stacks.price(mode, &best);
    stacks.trace(mode).into_iter().flat_map(|(class, n)| std::iter::repeat_n(class, n)).collect()
}

/// Makes a sheet: the strips of the wanted classes one by one from what is left, then whatever fits besides.
/// `times` says how many times the fee a setting costs that is not yet made on the sheet.
pub(super) fn sheet(
    (mode_index, mode): (usize, &Mode),
    wanted: &[usize],
    residual: &[i64],
    worth: &Worth,
    exact: bool,
    strips: &mut Strips,
    times: impl Fn(bool, i64) -> i32,
) -> CutSheet {
    let mut cut = CutSheet { mode: mode_index, strips: Vec::new() };
    let mut left = residual.to_vec();
    let mut room = mode.room;
    let mut lens: Vec<i64> = Vec::new();
    let mut hts: Vec<i64> = Vec::new();
    let mut queue: Vec<i64> = wanted.iter().filter_map(|&c| mode.classes.get(c)).map(|c| c.0).collect();
    queue.sort_unstable_by(|a, b| b.cmp(a));
    let mut queue = queue.into_iter();
    loop {
        let next = queue.next();
        let top = next.unwrap_or(room).min(room);
        strips.price(mode, &left, worth, exact, top, |length, v| {
            let made = if length { lens.contains(&v) } else { hts.contains(&v) };
            if made { 0 } else { times(length, v) }
        });
        let class = match next {
            Some(_) => strips.classes().checked_sub(1),
            None => (0..strips.classes())
                .filter(|&c| strips.best(c) > 0)
                .max_by_key(|&c| (strips.best(c), std::cmp::Reverse(c))),
        };
        let strip = class.map_or_else(Vec::new, |c| strips.strip(mode, c, &left));
        if strip.is_empty() {
            if next.is_none() {
                return cut;
            }
            continue;
        }
        room -= height(&strip);
        hts.push(height(&strip));
        for item in &strip {
            lens.push(item.len);
            hts.push(item.ht);
            if let Some(n) = left.get_mut(item.kind) {
                *n -= 1;
            }
        }
        cut.strips.push(strip);
    }
}

#[cfg(test)]
mod tests {
    use super::super::dive::Dice;
    use super::super::job::{Job, Part, Rules, Sheet};
    use super::super::model::Model;
    use super::*;

    /// Rows are kept as far as what was entered is the same; kept rows price every class as new ones do.
    #[test]
    fn kept_rows_hold_what_new_ones_would() {
        let sizes = [(31, 11), (17, 11), (40, 7), (13, 7), (22, 5), (9, 4)];
        let parts = sizes.map(|(width, height)| Part::new(&format!("{width}"), width, height, 4)).to_vec();
        let job = Job { sheets: vec![Sheet::new("sheet", 96, 48)], parts, rules: Rules::rip_first(1) };
        let model = Model::sheets(&job).unwrap();
        let mode = model.modes.first().unwrap();
        let (mut kept, mut dice, mut shared) = (Strips::default(), Dice::new(3), 0);
        let mut worth =
            Worth { values: model.kinds.iter().map(|k| i32::try_from(k.area).unwrap()).collect(), fee: 0 };
        for round in 0..200 {
            let mut residual = model.demand();
            // The last ways change most often, as when parts of few heights are used up.
            for _ in 0..dice.below(3) {
                let last = dice.below(model.kinds.len()) + 1;
                let kind = model.kinds.len() - 1 - dice.below(last);
                *residual.get_mut(kind).unwrap() = i64::try_from(dice.below(4)).unwrap();
            }
            if round % 7 == 0 {
                worth.fee = i32::try_from(dice.below(3) * 5).unwrap();
            }
            let mut new = Strips::default();
            let before = kept.work();
            for strips in [&mut kept, &mut new] {
                strips.price(mode, &residual, &worth, false, i64::MAX, |length, size| {
                    i32::from(length == (size % 2 == 0))
                });
            }
            let all = |strips: &Strips| (0..mode.classes.len()).map(|c| strips.best(c)).collect::<Vec<_>>();
            assert_eq!(all(&kept), all(&new), "round {round}");
            assert!(all(&new).iter().any(|&value| value > 0));
            shared += usize::from(kept.work() - before < new.work());
        }
        assert!(shared > 50, "rows were kept in {shared} rounds");
    }
}
