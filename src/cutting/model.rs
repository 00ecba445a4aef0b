//! The job as the solver sees it: equal parts merged, every size enlarged by one kerf, one mode for each sheet and first cut.
//!
//! With parts and usable sheet both enlarged by one kerf in each direction, cutting with a blade is cutting without one.

use num_integer::Integer;
use std::collections::{BTreeMap, BTreeSet};

use super::error::Error;
use super::job::{Axis, BarJob, First, Grain, Job, Stages};

/// Largest size of a sheet or part in units.
const SIZE_LIMIT: i64 = 100_000_000;
/// Largest number of parts.
const DEMAND_LIMIT: u64 = 1_000_000_000;
/// Largest price.
const COST_LIMIT: i64 = 1_000_000_000_000;
/// Largest number of steps of a knapsack table; beyond it sizes are rounded down to a grid.
const GRID_LIMIT: i64 = 6_000;

/// A value at a place, or the type's zero beyond the end.
pub(super) trait At<T> {
    /// The value at `place`.
    fn at(&self, place: usize) -> T;
}

impl<T: Copy + Default> At<T> for [T] {
    fn at(&self, place: usize) -> T {
        self.get(place).copied().unwrap_or_default()
    }
}

/// Parts that may stand for one another.
#[derive(Clone, Debug)]
pub(super) struct Kind {
    /// How many in all.
    pub demand: i64,
    /// Area of one, enlarged.
    pub area: i64,
    /// Width and height as laid, enlarged.
    pub size: (i64, i64),
    /// Whether it may also be laid the other way round.
    pub free: bool,
    /// The job's parts in it: index and count.
    pub members: Vec<(usize, i64)>,
}

/// One way to lay a kind in a strip of a mode.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Opt {
    /// Size across the strip, enlarged.
    pub ht: i64,
    /// Size along the strip, enlarged.
    pub len: i64,
    /// Index of the kind.
    pub kind: usize,
    /// `len` on the grid of the mode.
    pub steps: usize,
}

/// A sheet cut with strips in one direction.
#[derive(Clone, Debug)]
pub(super) struct Mode {
    /// Index of the stock.
    pub stock: usize,
    /// Direction of the strips.
    pub axis: Axis,
    /// Whether the strips are rips, as against crosscuts made first.
    pub rips: bool,
    /// Length of a strip, enlarged.
    pub len: i64,
    /// Room across the strips, enlarged.
    pub room: i64,
    /// `len` on the grid.
    pub len_steps: usize,
    /// `room` on the grid.
    pub room_steps: usize,
    /// Ways to lay the kinds, by height, then length.
    pub opts: Vec<Opt>,
    /// The heights that occur, rising, each with its height on the grid.
    pub classes: Vec<(i64, usize)>,
}

/// What a stock costs and how much there is.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Stock {
    /// Price.
    pub cost: i64,
    /// Number, if limited.
    pub count: Option<i64>,
    /// Usable area, enlarged.
    pub area: i64,
    /// Usable width and height, enlarged.
    pub size: (i64, i64),
}

/// The whole reduced job.
#[derive(Clone, Debug)]
pub(super) struct Model {
    /// The kinds.
    pub kinds: Vec<Kind>,
    /// The stock.
    pub stocks: Vec<Stock>,
    /// The modes.
    pub modes: Vec<Mode>,
    /// Whether a part must be exactly as high as its strip.
    pub exact: bool,
    /// Whether a last trimming cut is free.
    pub trimming: bool,
    /// Whether such cuts, and sheets that do not begin with rips, are counted.
    pub plain: bool,
    /// Width of the blade.
    pub kerf: i64,
    /// Greatest common divisor of the prices, at least 1.
    pub coin: i64,
    /// Whether strips stand for whole bars.
    pub bars: bool,
}

fn size(id: &str, what: &'static str, value: i64) -> Result<(), Error> {
    if value <= 0 {
        return Err(Error::Size { id: id.to_owned(), what, value });
    }
    if value > SIZE_LIMIT {
        return Err(Error::TooLarge { id: id.to_owned(), what, limit: SIZE_LIMIT });
    }
    Ok(())
}

fn not_negative(what: &'static str, value: i64, limit: i64) -> Result<(), Error> {
    if value < 0 {
        return Err(Error::Negative { what, value });
    }
    if value > limit {
        return Err(Error::TooLarge { id: what.to_owned(), what, limit });
    }
    Ok(())
}

fn unique<'a>(names: impl Iterator<Item = &'a String>) -> Result<(), Error> {
    let mut seen = BTreeSet::new();
    for name in names {
        if !seen.insert(name) {
            return Err(Error::Twice(name.clone()));
        }
    }
    Ok(())
}

fn limit_demand(total: u64, id: &str) -> Result<(), Error> {
    if total > DEMAND_LIMIT {
        let limit = i64::try_from(DEMAND_LIMIT).unwrap_or(i64::MAX);
        return Err(Error::TooLarge { id: id.to_owned(), what: "demand", limit });
    }
    Ok(())
}

impl Model {
    /// Reads a job of sheets.
    ///
    /// # Errors
    /// For every input that cannot be cut whatever the layout; see [`Error`].
    pub fn sheets(job: &Job) -> Result<Self, Error> {
        let kerf = job.rules.kerf;
        not_negative("kerf", kerf, SIZE_LIMIT)?;
        if job.sheets.is_empty() {
            return Err(Error::NoStock);
        }
        unique(job.sheets.iter().map(|s| &s.id))?;
        unique(job.parts.iter().map(|p| &p.id))?;
        let mut stocks = Vec::new();
        for s in &job.sheets {
            size(&s.id, "width", s.width)?;
            size(&s.id, "height", s.height)?;
            not_negative("price", s.cost, COST_LIMIT)?;
            for edge in [s.trim.left, s.trim.right, s.trim.bottom, s.trim.top] {
                not_negative("trim", edge, SIZE_LIMIT)?;
            }
            let (w, h) = s.usable();
            if w <= 0 || h <= 0 {
                return Err(Error::AllTrimmed(s.id.clone()));
            }
            let size = (w.saturating_add(kerf), h.saturating_add(kerf));
            stocks.push(Stock {
                cost: s.cost,
                count: s.count.map(|n| i64::try_from(n).unwrap_or(i64::MAX)),
                area: size.0.saturating_mul(size.1),
                size,
            });
        }
        let mut merged: BTreeMap<(i64, i64, bool), Vec<(usize, i64)>> = BTreeMap::new();
        let mut total = 0_u64;
        for (index, p) in job.parts.iter().enumerate() {
            size(&p.id, "width", p.width)?;
            size(&p.id, "height", p.height)?;
            total = total.saturating_add(p.demand);
            limit_demand(total, &p.id)?;
            let (w, h) = (p.width.saturating_add(kerf), p.height.saturating_add(kerf));
            let key = match p.grain {
                Grain::Along => (w, h, false),
                Grain::Across => (h, w, false),
                Grain::Free => (w.max(h), w.min(h), w != h),
            };
            let fits = |a: i64, b: i64| stocks.iter().any(|s| a <= s.size.0 && b <= s.size.1);
            if !(fits(key.0, key.1) || key.2 && fits(key.1, key.0)) {
                return Err(Error::Unplaceable(p.id.clone()));
            }
            if p.demand > 0 {
                merged.entry(key).or_default().push((index, i64::try_from(p.demand).unwrap_or(i64::MAX)));
            }
        }
        let kinds = merged.into_iter().map(|((w, h, free), members)| kind((w, h), free, members)).collect();
        let mut model = Self::assemble(kinds, stocks, kerf, false);
        model.exact = job.rules.stages == Stages::Two && !job.rules.trimming;
        model.trimming = job.rules.trimming;
        model.plain = job.rules.plain;
        for (index, s) in job.sheets.iter().enumerate() {
            let rip = s.rip_axis();
            let axes: &[Axis] = match job.rules.first {
                First::Rip => &[rip],
                First::Only(axis) => &[axis],
                First::Any => &[rip, rip.other()],
            };
            for &axis in axes {
                model.add_mode(index, axis, axis == rip);
            }
        }
        Ok(model)
    }

    /// Reads a job of bars: a bar is a sheet of height 1 with a single strip.
    ///
    /// # Errors
    /// As for sheets.
    pub fn bars(job: &BarJob) -> Result<Self, Error> {
        let kerf = job.kerf;
        not_negative("kerf", kerf, SIZE_LIMIT)?;
        if job.bars.is_empty() {
            return Err(Error::NoStock);
        }
        unique(job.bars.iter().map(|b| &b.id))?;
        unique(job.pieces.iter().map(|p| &p.id))?;
        let mut stocks = Vec::new();
        for b in &job.bars {
            size(&b.id, "length", b.length)?;
            not_negative("price", b.cost, COST_LIMIT)?;
            not_negative("trim", b.trim, SIZE_LIMIT)?;
            let free = b.length.saturating_sub(b.trim);
            if free <= 0 {
                return Err(Error::AllTrimmed(b.id.clone()));
            }
            let len = free.saturating_add(kerf);
            stocks.push(Stock {
                cost: b.cost,
                count: b.count.map(|n| i64::try_from(n).unwrap_or(i64::MAX)),
                area: len,
                size: (len, 1),
            });
        }
        let longest = stocks.iter().map(|s| s.size.0).max().unwrap_or(0);
        let mut merged: BTreeMap<i64, Vec<(usize, i64)>> = BTreeMap::new();
        let mut total = 0_u64;
        for (index, p) in job.pieces.iter().enumerate() {
            size(&p.id, "length", p.length)?;
            total = total.saturating_add(p.demand);
            limit_demand(total, &p.id)?;
            let len = p.length.saturating_add(kerf);
            if len > longest {
                return Err(Error::Unplaceable(p.id.clone()));
            }
            if p.demand > 0 {
                merged.entry(len).or_default().push((index, i64::try_from(p.demand).unwrap_or(i64::MAX)));
            }
        }
        let kinds = merged.into_iter().map(|(len, members)| kind((len, 1), false, members)).collect();
        let mut model = Self::assemble(kinds, stocks, kerf, true);
        for index in 0..job.bars.len() {
            model.add_mode(index, Axis::Horizontal, true);
        }
        Ok(model)
    }

    fn assemble(kinds: Vec<Kind>, stocks: Vec<Stock>, kerf: i64, bars: bool) -> Self {
        let coin = stocks.iter().fold(0_i64, |g, s| g.gcd(&s.cost)).max(1);
        Self {
            kinds,
            stocks,
            modes: Vec::new(),
            exact: false,
            trimming: true,
            plain: false,
            kerf,
            coin,
            bars,
        }
    }

    fn add_mode(&mut self, stock: usize, axis: Axis, rips: bool) {
        let Some(s) = self.stocks.get(stock) else { return };
        let (len, room) = match axis {
            Axis::Horizontal => s.size,
            Axis::Vertical => (s.size.1, s.size.0),
        };
        let mut opts = Vec::new();
        for (kind, k) in self.kinds.iter().enumerate() {
            let (w, h) = k.size;
            let ways = if k.free { [Some((w, h)), Some((h, w))] } else { [Some((w, h)), None] };
            for (w, h) in ways.into_iter().flatten() {
                let (l, t) = if axis == Axis::Horizontal { (w, h) } else { (h, w) };
                if l <= len && t <= room {
                    opts.push(Opt { ht: t, len: l, kind, steps: 0 });
                }
            }
        }
        if opts.is_empty() {
            return;
        }
        let along = grid(len, opts.iter().map(|o| o.len));
        let across = grid(room, opts.iter().map(|o| o.ht));
        for o in &mut opts {
            o.steps = steps(o.len, along);
        }
        opts.sort_unstable();
        let heights: BTreeSet<i64> = opts.iter().map(|o| o.ht).collect();
        self.modes.push(Mode {
            stock,
            axis,
            rips,
            len,
            room,
            len_steps: steps(len, along),
            room_steps: steps(room, across),
            opts,
            classes: heights.into_iter().map(|h| (h, steps(h, across))).collect(),
        });
    }

    /// The same job with each free kind laid one way only: that which adds fewest settings, the largest kinds first.
    /// Nothing where no kind is free.
    pub fn oriented(&self) -> Option<Self> {
        let mut made: BTreeSet<(bool, i64)> = BTreeSet::new();
        let axis = self.modes.first()?.axis;
        let as_strip = |(w, h): (i64, i64)| {
            if axis == Axis::Horizontal { [(true, h), (false, w)] } else { [(true, w), (false, h)] }
        };
        for k in self.kinds.iter().filter(|k| !k.free) {
            made.extend(as_strip(k.size));
        }
        let mut order: Vec<usize> =
            (0..self.kinds.len()).filter(|&k| self.kinds.get(k).is_some_and(|k| k.free)).collect();
        if order.is_empty() {
            return None;
        }
        order.sort_by_key(|&k| {
            std::cmp::Reverse(self.kinds.get(k).map_or(0, |k| k.area.saturating_mul(k.demand)))
        });
        let mut out = self.clone();
        for index in order {
            let Some(kind) = out.kinds.get_mut(index) else { continue };
            let (w, h) = kind.size;
            let fits = |(a, b): (i64, i64)| self.stocks.iter().any(|s| a <= s.size.0 && b <= s.size.1);
            let flat = if axis == Axis::Horizontal { (w.max(h), w.min(h)) } else { (w.min(h), w.max(h)) };
            let best = [flat, (flat.1, flat.0)]
                .into_iter()
                .filter(|&way| fits(way))
                .min_by_key(|&way| as_strip(way).iter().filter(|s| !made.contains(s)).count());
            if let Some(way) = best {
                made.extend(as_strip(way));
                kind.size = way;
                kind.free = false;
            }
        }
        for mode in &mut out.modes {
            mode.opts.retain(|o| {
                let laid = if mode.axis == Axis::Horizontal { (o.len, o.ht) } else { (o.ht, o.len) };
                out.kinds.get(o.kind).is_some_and(|k| k.size == laid)
            });
            let heights: BTreeSet<i64> = mode.opts.iter().map(|o| o.ht).collect();
            mode.classes.retain(|c| heights.contains(&c.0));
        }
        Some(out)
    }

    /// The same job without some ways to lay parts; nothing where a kind would have none left. A kind that keeps one way of two in
    /// every mode stays free for what needs no modes.
    pub fn kept(&self, keep: impl Fn(&Mode, &Opt) -> bool) -> Option<Self> {
        let mut out = self.clone();
        let mut there = vec![false; self.kinds.len()];
        for mode in &mut out.modes {
            let mut opts = std::mem::take(&mut mode.opts);
            opts.retain(|opt| keep(mode, opt));
            for opt in &opts {
                if let Some(there) = there.get_mut(opt.kind) {
                    *there = true;
                }
            }
            let heights: BTreeSet<i64> = opts.iter().map(|o| o.ht).collect();
            mode.classes.retain(|c| heights.contains(&c.0));
            mode.opts = opts;
        }
        there.iter().all(|&there| there).then_some(out)
    }

    /// The job of every kind in `step` from `first` on, with what is left of the stock.
    pub fn part(&self, first: usize, step: usize, stock_left: &[Option<i64>]) -> Self {
        let mut out = Self { kinds: Vec::new(), modes: Vec::new(), stocks: self.stocks.clone(), ..*self };
        out.kinds.extend(self.kinds.iter().skip(first).step_by(step).cloned());
        for (stock, left) in out.stocks.iter_mut().zip(stock_left) {
            stock.count = *left;
        }
        for mode in &self.modes {
            let inside = mode.opts.iter().filter(|o| o.kind.checked_rem(step) == Some(first));
            let opts: Vec<Opt> = inside.map(|o| Opt { kind: o.kind / step, ..*o }).collect();
            let heights: BTreeSet<i64> = opts.iter().map(|o| o.ht).collect();
            let classes = mode.classes.iter().copied().filter(|c| heights.contains(&c.0)).collect();
            out.modes.push(Mode { opts, classes, ..*mode });
        }
        out
    }

    /// The demands, one a kind.
    pub fn demand(&self) -> Vec<i64> {
        self.kinds.iter().map(|k| k.demand).collect()
    }

    /// The largest price, at least 1.
    pub fn top_cost(&self) -> i64 {
        self.stocks.iter().map(|s| s.cost).max().unwrap_or(1).max(1)
    }

    /// The largest usable area of a sheet, enlarged, at least 1.
    pub fn largest(&self) -> i64 {
        self.stocks.iter().map(|s| s.area).max().unwrap_or(1).max(1)
    }

    /// Price of a sheet of this mode.
    pub fn cost(&self, mode: usize) -> i64 {
        self.modes.get(mode).and_then(|m| self.stocks.get(m.stock)).map_or(0, |s| s.cost)
    }

    /// The least sum of prices that is not below `cost`.
    pub fn next_price(&self, cost: i64) -> i64 {
        let coin = self.coin.max(1);
        cost.saturating_add(coin.saturating_sub(1)).div_euclid(coin).saturating_mul(coin)
    }
}

fn kind(size: (i64, i64), free: bool, members: Vec<(usize, i64)>) -> Kind {
    let demand = members.iter().map(|m| m.1).sum();
    Kind { demand, area: size.0.saturating_mul(size.1), size, free, members }
}

/// The width of a grid step: the greatest common divisor where that keeps the tables small, else coarser.
fn grid(room: i64, sizes: impl Iterator<Item = i64>) -> i64 {
    let unit = sizes.fold(0_i64, |g, size| g.gcd(&size)).max(1);
    if room.div_euclid(unit) <= GRID_LIMIT { unit } else { room.div_euclid(GRID_LIMIT).saturating_add(1) }
}

/// Rounded down: what fits truly also fits on the grid, so that values found on the grid are bounds.
fn steps(size: i64, unit: i64) -> usize {
    usize::try_from(size.div_euclid(unit.max(1))).unwrap_or(0)
}
