//! Bounded knapsacks with a fee for every kind that is used, on one table whose rows may branch.

#![allow(
    clippy::indexing_slicing,
    reason = "the one hot loop of the library: whole rows are cut to equal lengths once and then walked together"
)]

/// A table of best values. Row 0 is the empty choice; every other row adds one item to its parent row.
#[derive(Clone, Debug, Default)]
pub(super) struct Table {
    width: usize,
    rows: Vec<Row>,
    /// Values of the rows, one row after another; what stands behind the last row is left over from before.
    cells: Vec<i32>,
    /// Cells worked out so far, the measure of effort.
    pub work: u64,
}

#[derive(Clone, Debug)]
struct Row {
    parent: usize,
    weight: usize,
    most: usize,
    each: i32,
    fee: i32,
    tag: usize,
}

impl Table {
    /// Empties the table and sets its capacity.
    pub fn clear(&mut self, capacity: usize) {
        self.width = capacity.saturating_add(1);
        self.rows.clear();
        self.rows.push(Row { parent: 0, weight: 0, most: 0, each: 0, fee: 0, tag: usize::MAX });
        self.grow(self.width);
        self.cells[..self.width].fill(0);
    }

    /// The capacity, once it is set.
    pub fn capacity(&self) -> Option<usize> {
        self.width.checked_sub(1)
    }

    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.rows.len()
    }

    /// Forgets all rows but the first so many.
    pub fn truncate(&mut self, rows: usize) {
        self.rows.truncate(rows);
    }

    fn grow(&mut self, cells: usize) {
        if self.cells.len() < cells {
            self.cells.resize(cells, 0);
        }
    }

    /// Adds a row: up to `most` copies of an item of this weight, each worth `each`, less `fee` if any is taken.
    /// Returns the row, which is `parent` itself where the item cannot help.
    pub fn push(
        &mut self,
        parent: usize,
        weight: usize,
        most: usize,
        each: i32,
        fee: i32,
        tag: usize,
    ) -> usize {
        let width = self.width;
        let most = most.min(width.saturating_sub(1).checked_div(weight).unwrap_or(most));
        if most == 0 || each <= 0 || weight >= width {
            return parent;
        }
        // More than a few copies are taken in powers of two; the fee is then charged once a power.
        if most > if fee == 0 { 3 } else { 12 } {
            let (mut left, mut take, mut row) = (most, 1_usize, parent);
            while left > 0 {
                let now = take.min(left);
                row = self.chunk(row, weight * now, 1, each.saturating_mul(clamp(now)), fee, tag, now);
                left -= now;
                take *= 2;
            }
            return row;
        }
        self.chunk(parent, weight, most, each, fee, tag, 1)
    }

    #[allow(clippy::too_many_arguments, reason = "a private step of `push`")]
    fn chunk(
        &mut self,
        parent: usize,
        weight: usize,
        most: usize,
        each: i32,
        fee: i32,
        tag: usize,
        copies: usize,
    ) -> usize {
        let width = self.width;
        if weight >= width || each <= fee && most == 1 {
            return parent;
        }
        let row = self.rows.len();
        let (start, from) = (row * width, parent * width);
        self.grow(start + width);
        let (old, new) = self.cells.split_at_mut(start);
        let (old, new) = (&old[from..from + width], &mut new[..width]);
        self.work += (width * most) as u64 / 4;
        new[..weight].copy_from_slice(&old[..weight]);
        let mut value = each.wrapping_sub(fee);
        for ((to, stay), from) in new[weight..].iter_mut().zip(&old[weight..]).zip(old) {
            let with = from.wrapping_add(value);
            *to = if with > *stay { with } else { *stay };
        }
        for k in 2..=most {
            let shift = k * weight;
            if shift >= width {
                break;
            }
            value = value.wrapping_add(each);
            for (to, from) in new[shift..].iter_mut().zip(old) {
                let with = from.wrapping_add(value);
                *to = if with > *to { with } else { *to };
            }
        }
        self.rows.push(Row { parent, weight, most, each, fee, tag: tag * TAG + copies });
        row
    }

    /// The best value of a row at full capacity.
    pub fn best(&self, row: usize) -> i32 {
        self.cells.get(row * self.width + self.width.saturating_sub(1)).copied().unwrap_or(0)
    }

    /// What the best value of a row is made of: pairs of tag and number of copies.
    pub fn trace(&self, row: usize) -> Vec<(usize, usize)> {
        let mut out: Vec<(usize, usize)> = Vec::new();
        let mut room = self.width.saturating_sub(1);
        let mut at = row;
        while at > 0 {
            let Some(r) = self.rows.get(at) else { break };
            let here = self.cells[at * self.width + room];
            if here != self.cells[r.parent * self.width + room] {
                let mut value = 0_i32.wrapping_sub(r.fee);
                for k in 1..=r.most {
                    value = value.wrapping_add(r.each);
                    let weight = k * r.weight;
                    if weight > room {
                        break;
                    }
                    if self.cells[r.parent * self.width + room - weight].wrapping_add(value) == here {
                        let (tag, copies) = (r.tag / TAG, k * (r.tag % TAG));
                        match out.last_mut() {
                            Some(last) if last.0 == tag => last.1 += copies,
                            _ => out.push((tag, copies)),
                        }
                        room -= weight;
                        break;
                    }
                }
            }
            at = r.parent;
        }
        out
    }
}

/// Copies in one chunk are below this, so that tag and copies share a word.
const TAG: usize = 1 << 20;

fn clamp(n: usize) -> i32 {
    i32::try_from(n).unwrap_or(i32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn brute(items: &[(usize, usize, i32, i32)], cap: usize) -> i32 {
        let Some((&(weight, most, each, fee), rest)) = items.split_first() else { return 0 };
        (0..=most)
            .filter(|k| k * weight <= cap)
            .map(|k| {
                let own = if k == 0 { 0 } else { clamp(k) * each - fee };
                own + brute(rest, cap - k * weight)
            })
            .max()
            .unwrap_or(0)
    }

    #[test]
    fn agrees_with_enumeration_and_traces_what_it_counts() {
        let mut seed = 7_u64;
        let mut next = |n: u64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) % n
        };
        for _ in 0..300 {
            let cap = 5 + next(30) as usize;
            let items: Vec<_> = (0..4)
                .map(|_| (1 + next(9) as usize, 1 + next(4) as usize, 1 + next(20) as i32, next(6) as i32))
                .collect();
            let mut table = Table::default();
            table.clear(cap);
            let mut row = 0;
            for (tag, &(weight, most, each, fee)) in items.iter().enumerate() {
                row = table.push(row, weight, most, each, fee, tag);
            }
            assert_eq!(table.best(row), brute(&items, cap));
            let (mut weight, mut value) = (0, 0);
            for (tag, k) in table.trace(row) {
                weight += k * items[tag].0;
                value += clamp(k) * items[tag].2 - items[tag].3;
                assert!(k <= items[tag].1);
            }
            assert!(weight <= cap);
            assert_eq!(value, table.best(row));
        }
    }

    #[test]
    fn many_copies_are_taken_in_powers_of_two() {
        let mut table = Table::default();
        table.clear(1000);
        let row = table.push(0, 7, 100_000, 3, 0, 5);
        assert_eq!(table.best(row), 3 * 142);
        assert_eq!(table.trace(row), vec![(5, 142)]);
    }
}
