//! A small revised simplex with a dense inverse, for covering problems whose columns arrive one by one.
//!
//! Minimise cost x subject to A x >= b, x >= 0. The first columns are the surplus of each row. Dantzig 1963 for the method;
//! the right-hand sides are shifted by tiny fixed amounts against stalling, which later steps of the solver allow for:
//! nothing that is reported rests on these floats.

#![allow(
    clippy::indexing_slicing,
    reason = "matrix code: every index is below the number of rows or columns, which only grow together"
)]

const EPS: f64 = 1e-9;

/// One column: its cost and its entries by row.
#[derive(Clone, Debug)]
struct Column {
    cost: f64,
    entries: Vec<(usize, f64)>,
}

/// The linear program with its present basis.
#[derive(Clone, Debug)]
pub(super) struct Simplex {
    rows: usize,
    right: Vec<f64>,
    columns: Vec<Column>,
    basis: Vec<usize>,
    place: Vec<Option<usize>>,
    /// Inverse of the basis, column after column.
    inverse: Vec<f64>,
    values: Vec<f64>,
    duals: Vec<f64>,
    pivots: usize,
    /// Multiplications done so far, the measure of effort.
    pub work: u64,
    /// Effort at which steps end.
    pub limit: u64,
}

impl Simplex {
    /// A program with these right-hand sides and no column but the surpluses.
    pub fn new(right: &[f64]) -> Self {
        let rows = right.len();
        let columns = (0..rows).map(|r| Column { cost: 0.0, entries: vec![(r, -1.0)] }).collect();
        let mut lp = Self {
            rows,
            right: Vec::new(),
            columns,
            basis: Vec::new(),
            place: vec![None; rows],
            inverse: Vec::new(),
            values: vec![0.0; rows],
            duals: vec![0.0; rows],
            pivots: 0,
            work: 0,
            limit: u64::MAX,
        };
        lp.set_right(right);
        lp
    }

    /// Adds a column and returns its index.
    pub fn add(&mut self, cost: f64, entries: Vec<(usize, f64)>) -> usize {
        self.columns.push(Column { cost, entries });
        self.place.push(None);
        self.columns.len() - 1
    }

    /// Changes the cost of a column; [`Self::reprice`] must follow.
    pub fn set_cost(&mut self, column: usize, cost: f64) {
        if let Some(c) = self.columns.get_mut(column) {
            c.cost = cost;
        }
    }

    /// Changes the right-hand sides, keeping the basis.
    pub fn set_right(&mut self, right: &[f64]) {
        self.right = right
            .iter()
            .enumerate()
            .map(|(r, b)| b + 1e-6 + 1e-6 * f64::from(u32::try_from(r * 7919 % 1009).unwrap_or(0)) / 1009.0)
            .collect();
        if !self.basis.is_empty() {
            self.revalue();
        }
    }

    fn revalue(&mut self) {
        self.values.fill(0.0);
        for (k, &b) in self.right.iter().enumerate() {
            let column = &self.inverse[k * self.rows..(k + 1) * self.rows];
            for (v, a) in self.values.iter_mut().zip(column) {
                *v += a * b;
            }
        }
    }

    /// Makes these columns the basis. Gives `false`, with the basis undefined, where they do not form one.
    pub fn set_basis(&mut self, columns: &[usize]) -> bool {
        self.basis = columns.to_vec();
        self.refactor()
    }

    /// Computes the inverse, values and duals of the basis afresh.
    pub fn refactor(&mut self) -> bool {
        let m = self.rows;
        if self.basis.len() != m {
            return false;
        }
        self.pivots = 0;
        self.inverse = vec![0.0; m * m];
        for i in 0..m {
            self.inverse[i * m + i] = 1.0;
        }
        // Short columns first: nearly triangular bases then need little work.
        let mut order = self.basis.clone();
        order.sort_by_key(|&c| (self.columns[c].entries.len(), c));
        let mut free = vec![true; m];
        let mut next = vec![0; m];
        self.place.fill(None);
        let mut alpha = vec![0.0; m];
        for c in order {
            self.transform(c, &mut alpha);
            let mut best = (0.0, m);
            for (r, a) in alpha.iter().enumerate() {
                if free[r] && a.abs() > best.0 {
                    best = (a.abs(), r);
                }
            }
            if best.0 < 1e-10 {
                return false;
            }
            free[best.1] = false;
            next[best.1] = c;
            self.place[c] = Some(best.1);
            self.eliminate(best.1, &alpha);
        }
        self.basis = next;
        self.revalue();
        self.reprice();
        true
    }

    /// Computes the duals from the costs of the basis.
    pub fn reprice(&mut self) {
        let m = self.rows;
        for (k, dual) in self.duals.iter_mut().enumerate() {
            let column = &self.inverse[k * m..(k + 1) * m];
            *dual = column.iter().zip(&self.basis).map(|(a, &b)| a * self.columns[b].cost).sum();
        }
    }

    /// alpha = inverse times column.
    fn transform(&self, column: usize, alpha: &mut [f64]) {
        alpha.fill(0.0);
        for &(k, a) in &self.columns[column].entries {
            for (t, v) in alpha.iter_mut().zip(&self.inverse[k * self.rows..(k + 1) * self.rows]) {
                *t += a * v;
            }
        }
    }

    /// The rank-one update of the inverse.
    fn eliminate(&mut self, row: usize, alpha: &[f64]) {
        let m = self.rows;
        let pivot = alpha[row];
        let touched: Vec<(usize, f64)> = alpha
            .iter()
            .enumerate()
            .filter(|&(r, a)| r != row && a.abs() > 1e-13)
            .map(|(r, &a)| (r, a))
            .collect();
        let dense = touched.len() * 3 > m;
        let mut columns = 0_usize;
        for column in self.inverse.chunks_exact_mut(m) {
            let head = column[row];
            if head == 0.0_f64 {
                continue;
            }
            columns += 1;
            let q = head / pivot;
            if dense {
                for (v, a) in column.iter_mut().zip(alpha) {
                    *v -= a * q;
                }
            } else {
                for &(r, a) in &touched {
                    column[r] -= a * q;
                }
            }
            column[row] = q;
        }
        self.work += (columns * touched.len() + m) as u64;
    }

    fn reduced(&self, column: usize) -> f64 {
        let c = &self.columns[column];
        c.entries.iter().fold(c.cost, |d, &(r, a)| d - a * self.duals[r])
    }

    fn pivot(&mut self, row: usize, column: usize, alpha: &[f64]) {
        let step = self.values[row] / alpha[row];
        let gain = self.reduced(column) / alpha[row];
        for (v, a) in self.values.iter_mut().zip(alpha) {
            *v -= a * step;
        }
        self.values[row] = step;
        for (k, dual) in self.duals.iter_mut().enumerate() {
            *dual += gain * self.inverse[k * self.rows + row];
        }
        self.eliminate(row, alpha);
        let leaving = self.basis[row];
        self.place[leaving] = None;
        self.place[column] = Some(row);
        self.basis[row] = column;
        self.pivots += 1;
        if self.pivots >= 400 {
            self.refactor();
        }
    }

    /// Steps of the primal method until no column helps or `limit` pivots are made.
    pub fn primal(&mut self, limit: usize) {
        let mut alpha = vec![0.0; self.rows];
        for _ in 0..limit {
            if self.work > self.limit {
                return;
            }
            let mut enter = (-1e-7, None);
            for c in 0..self.columns.len() {
                if self.place[c].is_none() {
                    let d = self.reduced(c);
                    if d < enter.0 {
                        enter = (d, Some(c));
                    }
                }
            }
            let Some(column) = enter.1 else { return };
            self.transform(column, &mut alpha);
            let mut leave: Option<(f64, f64, usize)> = None;
            for (r, &a) in alpha.iter().enumerate() {
                if a > 1e-8 {
                    let ratio = self.values[r].max(0.0) / a;
                    let better = match leave {
                        None => true,
                        Some((best, size, _)) => ratio < best - EPS || ratio < best + EPS && a > size,
                    };
                    if better {
                        leave = Some((ratio, a, r));
                    }
                }
            }
            let Some((_, _, row)) = leave else { return };
            self.pivot(row, column, &alpha);
        }
    }

    /// Steps of the dual method until all values are at least zero or `limit` pivots are made.
    pub fn dual(&mut self, limit: usize) {
        let mut alpha = vec![0.0; self.rows];
        for _ in 0..limit {
            if self.work > self.limit {
                return;
            }
            let mut leave = (-1e-9, None);
            for (r, &v) in self.values.iter().enumerate() {
                if v < leave.0 {
                    leave = (v, Some(r));
                }
            }
            let Some(row) = leave.1 else { return };
            let line: Vec<f64> = (0..self.rows).map(|k| self.inverse[k * self.rows + row]).collect();
            let mut enter: Option<(f64, f64, usize)> = None;
            for (c, column) in self.columns.iter().enumerate() {
                if self.place[c].is_some() {
                    continue;
                }
                let a: f64 = column.entries.iter().map(|&(k, v)| v * line[k]).sum();
                if a < -1e-8 {
                    let ratio = self.reduced(c).max(0.0) / -a;
                    let better = match enter {
                        None => true,
                        Some((best, size, _)) => ratio < best - EPS || ratio < best + EPS && -a > size,
                    };
                    if better {
                        enter = Some((ratio, -a, c));
                    }
                }
            }
            let Some((_, _, column)) = enter else { return };
            self.transform(column, &mut alpha);
            if alpha[row].abs() < 1e-9 {
                return;
            }
            self.pivot(row, column, &alpha);
        }
    }

    /// The dual values, one a row.
    pub fn duals(&self) -> &[f64] {
        &self.duals
    }

    /// The value of a column in the present basis.
    pub fn value(&self, column: usize) -> f64 {
        self.place.get(column).copied().flatten().map_or(0.0, |r| self.values[r])
    }

    /// The cost of the present basis.
    pub fn objective(&self) -> f64 {
        self.basis.iter().zip(&self.values).map(|(&c, v)| self.columns[c].cost * v).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn diet_problem_has_its_known_optimum() {
        // min 2x + 3y, x + y >= 4, x + 3y >= 6: at (3, 1), cost 9, duals 3/2 and 1/2 (solved by hand).
        let mut lp = Simplex::new(&[4.0, 6.0]);
        let x = lp.add(2.0, vec![(0, 1.0), (1, 1.0)]);
        let y = lp.add(3.0, vec![(0, 1.0), (1, 3.0)]);
        let dear = (lp.add(100.0, vec![(0, 1.0)]), lp.add(100.0, vec![(1, 1.0)]));
        assert!(lp.set_basis(&[dear.0, dear.1]));
        lp.primal(100);
        assert!((lp.objective() - 9.0).abs() < 1e-4);
        assert!((lp.value(x) - 3.0).abs() < 1e-4 && (lp.value(y) - 1.0).abs() < 1e-4);
        assert!((lp.duals()[0] - 1.5).abs() < 1e-6 && (lp.duals()[1] - 0.5).abs() < 1e-6);
        // After a change of demand the dual method finds (0, 4) without starting again: x + y >= 4, x + 3y >= 12.
        lp.set_right(&[4.0, 12.0]);
        lp.dual(100);
        assert!((lp.objective() - 12.0).abs() < 1e-4);
        assert!((lp.value(y) - 4.0).abs() < 1e-4);
    }
}
