//! From the linear program to whole sheets: fix the most certain stack, fill it, solve again (diving; Furini, Malaguti,
//! Medina Duran, Persiani, Toth 2012 for the two-stage problem).

use super::fill::{Strips, Worth, sheet};
use super::layout::{CutSheet, Item, Layout, repeats, subtract, tidy_up};
use super::master::{Master, float, whole};
use super::model::{At, Model};

/// A fixed sequence of numbers that look random.
#[derive(Clone, Debug)]
pub(super) struct Dice(u64);

impl Dice {
    /// The sequence with this number.
    pub const fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(0x1234_5678_9ABC_DEF1))
    }

    /// A number below `n` (0 if `n` is 0).
    pub fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        usize::try_from((z >> 11).checked_rem(u64::try_from(n).unwrap_or(0)).unwrap_or(0)).unwrap_or(0)
    }
}

/// What one dive is like.
#[derive(Clone, Copy, Debug)]
pub(super) struct Style {
    /// Number of the sequence that breaks near ties; 0 takes the largest value always.
    pub seed: u64,
    /// Rounds of pricing after each sheet.
    pub rounds: usize,
    /// Effort that it may take.
    pub work: u64,
    /// Give up when the price of the layout and of the program for the rest exceed this.
    pub limit: i64,
}

/// One dive from a solved program. Gives a layout for the whole demand, or nothing where it would be too dear.
pub(super) fn dive(model: &Model, root: &Master<'_>, demand: &[i64], style: Style) -> Option<Layout> {
    let mut master = root.clone();
    let end = master.work().saturating_add(style.work);
    let mut residual = demand.to_vec();
    let mut stock: Vec<Option<i64>> = model.stocks.iter().map(|s| s.count).collect();
    let mut dice = Dice::new(style.seed);
    let mut layout = Layout::new();
    let mut strips = Strips::default();
    let mut spent = 0_i64;
    while residual.iter().any(|&r| r > 0) {
        let proposals = master.proposals();
        let available =
            |m: usize| model.modes.get(m).is_some_and(|mode| stock.at(mode.stock).is_none_or(|n| n > 0));
        let open: Vec<_> = proposals.iter().filter(|p| available(p.mode)).collect();
        let top = open.first().map_or(0.0, |p| p.value.min(1.0));
        let near = open.iter().take_while(|p| p.value.min(1.0) >= top * 0.7).count();
        let pick = if style.seed == 0 { 0 } else { dice.below(near) };
        let (mode, classes, value) = match open.get(pick) {
            Some(p) => (p.mode, p.classes.clone(), p.value),
            None => (
                (0..model.modes.len()).find(|&m| available(m) && can_use(model, m, &residual))?,
                Vec::new(),
                1.0,
            ),
        };
        let mut worth = floor_values(model, &master, &residual);
        if style.seed > 0 {
            for v in &mut worth.values {
                *v = v.saturating_sub(*v / 100 * i32::try_from(dice.below(4)).unwrap_or(0));
            }
        }
        let m = model.modes.get(mode)?;
        let (cut, most) = match from_program(&master, mode, &classes, &residual, value) {
            Some(found) => found,
            None => (sheet((mode, m), &classes, &residual, &worth, model.exact, &mut strips, |_, _| 0), 1),
        };
        if cut.strips.is_empty() {
            return None;
        }
        let used = cut.counts(residual.len());
        let mut times = repeats(&used, &residual).min(most);
        if let Some(Some(n)) = stock.get_mut(m.stock) {
            times = times.min(*n);
            *n -= times;
        }
        subtract(&mut residual, &used, times);
        spent = spent.saturating_add(model.cost(mode).saturating_mul(times));
        layout.push((cut, times));
        if residual.iter().all(|&r| r == 0) {
            break;
        }
        if spent >= style.limit || master.work() > end {
            return None;
        }
        master.set_residual(&residual, &stock);
        master.generate(style.rounds, false, i64::MAX, end.saturating_sub(master.work()));
        if float(spent) + (master.value() - 0.02) * float(model.top_cost()) > float(style.limit) {
            return None;
        }
    }
    Some(tidy_up(layout))
}

/// The sheets of a stack that the program cuts whole from strips of its own: one sheet and how often.
fn from_program(
    master: &Master<'_>,
    mode: usize,
    classes: &[usize],
    residual: &[i64],
    value: f64,
) -> Option<(CutSheet, i64)> {
    let mut strips: Vec<_> = master.strips_in_use().into_iter().filter(|s| s.0 == mode).collect();
    let mut cut = CutSheet { mode, strips: Vec::new() };
    let mut taken = vec![0.0_f64; strips.len()];
    let given: Vec<f64> = strips.iter().map(|s| s.3).collect();
    for &class in classes {
        let at = (0..strips.len())
            .filter(|&i| strips.get(i).is_some_and(|s| s.1 == class))
            .max_by(|&a, &b| rest(&strips, a).total_cmp(&rest(&strips, b)).then(b.cmp(&a)))?;
        let strip = strips.get_mut(at)?;
        if strip.3 < 0.95 {
            return None;
        }
        strip.3 -= 1.0;
        cut.strips.push(strip.2.clone());
        if let Some(t) = taken.get_mut(at) {
            *t += 1.0;
        }
    }
    if cut.strips.is_empty() || repeats(&cut.counts(residual.len()), residual) < 1 {
        return None;
    }
    let most = given.iter().zip(&taken).filter(|(_, t)| **t > 0.0).map(|(g, t)| g / t).fold(value, f64::min);
    Some((cut, i64::from(whole(most + 1e-3)).max(1)))
}

fn rest(strips: &[(usize, usize, Vec<Item>, f64)], at: usize) -> f64 {
    strips.get(at).map_or(0.0, |s| s.3)
}

fn can_use(model: &Model, mode: usize, residual: &[i64]) -> bool {
    model.modes.get(mode).is_some_and(|m| m.opts.iter().any(|o| residual.at(o.kind) > 0))
}

/// The program's worth, with a little for every part so that none is left out for nothing.
fn floor_values(model: &Model, master: &Master<'_>, residual: &[i64]) -> Worth {
    let (mut worth, scale) = master.worth();
    let largest = float(model.largest());
    for (value, (kind, &left)) in worth.values.iter_mut().zip(model.kinds.iter().zip(residual)) {
        if left > 0 {
            *value = value.saturating_add(whole(scale * 0.02 * float(kind.area) / largest).max(1));
        }
    }
    worth
}
