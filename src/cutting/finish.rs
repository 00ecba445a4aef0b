//! From the solver's layout to the plan: positions on the raw sheet, part names, working order, figures.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use super::job::{Axis, BarJob, First, Grain, Job};
use super::layout::{Item, Layout, laid};
use super::model::{At, Model};
use super::plan::{BarPattern, BarPlan, Bound, Crosscut, Pattern, Placement, Plan, Rect, Rip};
use super::tree;

/// A kind in its place, in enlarged sizes, measured from the corner of the usable area.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Placed {
    /// Distance from the left.
    pub x: i64,
    /// Distance from the bottom.
    pub y: i64,
    /// Width as laid.
    pub w: i64,
    /// Height as laid.
    pub h: i64,
    /// Index of the kind.
    pub kind: usize,
}

/// A sheet as a list of placed kinds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Spread {
    /// Index of the stock.
    pub stock: usize,
    /// Direction of the first cuts.
    pub first: Axis,
    /// What lies where.
    pub placed: Vec<Placed>,
    /// How many such sheets.
    pub count: i64,
}

/// Lays the strips of a layout out.
pub(super) fn spread(model: &Model, layout: &Layout) -> Vec<Spread> {
    let mut out = Vec::new();
    for (cut, count) in layout {
        let Some(mode) = model.modes.get(cut.mode) else { continue };
        let mut placed = Vec::new();
        let mut across = 0;
        for strip in &cut.strips {
            let mut along = 0;
            for item in strip {
                let (w, h) = laid(mode.axis, item);
                let (x, y) = laid(mode.axis, &Item { len: along, ht: across, kind: 0 });
                placed.push(Placed { x, y, w, h, kind: item.kind });
                along += item.len;
            }
            across += super::layout::height(strip);
        }
        out.push(Spread { stock: mode.stock, first: mode.axis, placed, count: *count });
    }
    out
}

/// Hands out the job's parts of each kind in order.
struct Names {
    left: Vec<Vec<(usize, i64)>>,
}

impl Names {
    fn new(model: &Model) -> Self {
        let left = model.kinds.iter().map(|k| k.members.iter().rev().copied().collect()).collect();
        Self { left }
    }

    /// The next part of a kind.
    fn next(&mut self, kind: usize) -> Option<usize> {
        let members = self.left.get_mut(kind)?;
        let last = members.last_mut()?;
        let part = last.0;
        last.1 -= 1;
        if last.1 == 0 {
            members.pop();
        }
        Some(part)
    }

    /// How many sheets more can take the same parts as one that was just named, up to `most`; takes them.
    fn again(&mut self, used: &[(usize, usize, i64)], most: i64) -> i64 {
        let mut times = most;
        for &(kind, part, n) in used {
            let left = self.left.get(kind).and_then(|m| m.last()).filter(|m| m.0 == part).map_or(0, |m| m.1);
            times = times.min(left / n);
        }
        for &(kind, _, n) in used {
            if let Some(members) = self.left.get_mut(kind)
                && let Some(last) = members.last_mut()
            {
                last.1 -= n * times;
                if last.1 == 0 {
                    members.pop();
                }
            }
        }
        times
    }
}

/// Makes the plan.
pub(super) fn plan(job: &Job, model: &Model, mut spreads: Vec<Spread>, bound: Bound) -> Plan {
    sort_by_group(job, model, &mut spreads);
    let mut names = Names::new(model);
    let mut patterns = Vec::new();
    for sheet in &spreads {
        let mut left = sheet.count;
        while left > 0 {
            let mut used: Vec<(usize, usize, i64)> = Vec::new();
            let mut placements = Vec::new();
            for p in &sheet.placed {
                let Some(part) = names.next(p.kind) else { continue };
                match used.iter_mut().find(|u| (u.0, u.1) == (p.kind, part)) {
                    Some(u) => u.2 += 1,
                    None => used.push((p.kind, part, 1)),
                }
                placements.push((part, *p));
            }
            let mixed = used.iter().any(|u| used.iter().any(|v| v.0 == u.0 && v.1 != u.1));
            let more = if mixed { 0 } else { names.again(&used, left - 1) };
            patterns.extend(pattern(job, model, sheet, &placements, more + 1));
            left -= more + 1;
        }
    }
    figures(job, model, patterns, bound)
}

/// Sheets that hold the same groups come one after another.
fn sort_by_group(job: &Job, model: &Model, spreads: &mut [Spread]) {
    let mut names: Vec<&str> = Vec::new();
    let ranks: Vec<i64> = job
        .parts
        .iter()
        .map(|p| {
            let name = p.group.as_deref().unwrap_or("");
            let place = names.iter().position(|n| *n == name).unwrap_or_else(|| {
                names.push(name);
                names.len() - 1
            });
            i64::try_from(place).unwrap_or(0)
        })
        .collect();
    let rank =
        |kind: usize| model.kinds.get(kind).and_then(|k| k.members.first()).map_or(0, |m| ranks.at(m.0));
    spreads.sort_by_cached_key(|s| {
        let n = i64::try_from(s.placed.len()).unwrap_or(1).max(1);
        let sum: i64 = s.placed.iter().map(|p| rank(p.kind)).sum();
        (s.stock, sum * 1000 / n)
    });
}

/// The direction of the first cuts of a sheet: where plain ones are better, rips if two stages do with rips first.
fn first(
    job: &Job,
    model: &Model,
    sheet: &Spread,
    (items, region): (&[(Rect, Placement)], Rect),
    rip: Axis,
) -> Axis {
    if !model.plain || sheet.first == rip || job.rules.first != First::Any {
        return sheet.first;
    }
    let rects: Vec<Rect> = items.iter().map(|item| item.0).collect();
    let reading = tree::read(&rects, region, rip, model.kerf);
    let stages = if model.trimming { reading.trimmed } else { reading.exact };
    // What is trimmed lies at the lower edge of its rip, so that one cut does it.
    let low = |item: &Rect| if rip == Axis::Horizontal { item.y } else { item.x };
    let level = || {
        tree::groups(items, rip, model.kerf).iter().all(|(lo, _, own)| own.iter().all(|i| low(&i.0) == *lo))
    };
    if stages.is_some_and(|stages| stages <= 2) && level() { rip } else { sheet.first }
}

/// The pattern of a sheet on which parts are placed.
pub(super) fn pattern(
    job: &Job,
    model: &Model,
    sheet: &Spread,
    placed: &[(usize, Placed)],
    count: i64,
) -> Option<Pattern> {
    let stock = job.sheets.get(sheet.stock)?;
    let kerf = model.kerf;
    let (w, h) = stock.usable();
    let region = Rect { x: stock.trim.left, y: stock.trim.bottom, w, h };
    let items: Vec<(Rect, Placement)> = placed
        .iter()
        .filter_map(|&(part, p)| {
            let given = job.parts.get(part)?;
            let (w, h) = (p.w - kerf, p.h - kerf);
            let rotated = given.grain == Grain::Across || (w, h) != (given.width, given.height);
            let (x, y) = (region.x + p.x, region.y + p.y);
            Some((Rect { x, y, w, h }, Placement { part, x, y, w, h, rotated }))
        })
        .collect();
    let first = first(job, model, sheet, (&items, region), stock.rip_axis());
    let mut offcut: Option<Rect> = None;
    let mut offer = |r: Rect| {
        if r.w > 0 && r.h > 0 && offcut.is_none_or(|o| r.area() > o.area()) {
            offcut = Some(r);
        }
    };
    let mut rips = Vec::new();
    let mut top = None;
    for (lo, hi, group) in tree::groups(&items, first, kerf) {
        let mut crosscuts = Vec::new();
        let mut end = None;
        for (from, to, piece) in tree::groups(&group, first.other(), kerf) {
            crosscuts.push(Crosscut { length: to - from, parts: piece.into_iter().map(|i| i.1).collect() });
            end = Some(to);
        }
        if let Some(end) = end {
            offer(match first {
                Axis::Horizontal => Rect { x: end + kerf, y: lo, w: region.x + w - end - kerf, h: hi - lo },
                Axis::Vertical => Rect { x: lo, y: end + kerf, w: hi - lo, h: region.y + h - end - kerf },
            });
        }
        rips.push(Rip { width: hi - lo, crosscuts });
        top = Some(hi);
    }
    if let Some(top) = top {
        offer(match first {
            Axis::Horizontal => Rect { x: region.x, y: top + kerf, w, h: region.y + h - top - kerf },
            Axis::Vertical => Rect { x: top + kerf, y: region.y, w: region.x + w - top - kerf, h },
        });
    }
    let parts: i64 = items.iter().map(|i| i.0.area()).sum();
    let mut out = Pattern {
        sheet: sheet.stock,
        count: u64::try_from(count).unwrap_or(0),
        first,
        rips,
        waste: region.area() - parts,
        offcut,
        settings: 0,
    };
    let reading = reading(&out, region, kerf, stock.rip_axis());
    out.settings = reading.horizontal.len() + reading.vertical.len();
    Some(out)
}

/// The way a sheet is read for its settings: rips first where that needs no more than two stages, else the direction
/// of its own first cuts.
fn reading(pattern: &Pattern, region: Rect, kerf: i64, rip: Axis) -> tree::Reading {
    let rects: Vec<Rect> = pattern.placements().map(|p| Rect { x: p.x, y: p.y, w: p.w, h: p.h }).collect();
    let own = tree::read(&rects, region, pattern.first, kerf);
    if pattern.first == rip {
        return own;
    }
    let ripped = tree::read(&rects, region, rip, kerf);
    match (ripped.trimmed, own.trimmed) {
        (Some(a), Some(b)) if a <= b.max(2) => ripped,
        _ => own,
    }
}

/// The order of the work over all sheets: those that are cut across first, then those of the widest rips, so that a setting serves
/// sheets that come one after another.
fn in_turn(job: &Job, pattern: &Pattern) -> (usize, bool, Vec<Reverse<i64>>) {
    let ripped = job.sheets.get(pattern.sheet).is_some_and(|sheet| pattern.first == sheet.rip_axis());
    let mut widths: Vec<Reverse<i64>> = pattern.rips.iter().map(|rip| Reverse(rip.width)).collect();
    widths.sort_unstable();
    (pattern.sheet, ripped, widths)
}

/// Merges equal patterns and works out the figures of the whole job.
pub(super) fn figures(job: &Job, model: &Model, patterns: Vec<Pattern>, bound: Bound) -> Plan {
    let mut merged: Vec<Pattern> = Vec::new();
    for p in patterns {
        let same = merged
            .iter_mut()
            .rev()
            .take(200)
            .find(|q| (q.sheet, q.first, &q.rips) == (p.sheet, p.first, &p.rips));
        match same {
            Some(q) => q.count += p.count,
            None => merged.push(p),
        }
    }
    if model.plain {
        merged.sort_by_cached_key(|p| in_turn(job, p));
    }
    let (mut rips, mut crosscuts) = (BTreeSet::new(), BTreeSet::new());
    let (mut sheets, mut cost, mut moves) = (0_u64, 0_i64, 0_u64);
    let (mut raw, mut net) = (0_i128, 0_i128);
    for p in &merged {
        let Some(stock) = job.sheets.get(p.sheet) else { continue };
        let (w, h) = stock.usable();
        let region = Rect { x: stock.trim.left, y: stock.trim.bottom, w, h };
        let rip = stock.rip_axis();
        let reading = reading(p, region, model.kerf, rip);
        rips.extend(reading.settings(rip).iter().copied());
        crosscuts.extend(reading.settings(rip.other()).iter().copied());
        let n = i64::try_from(p.count).unwrap_or(0);
        sheets += p.count;
        cost = cost.saturating_add(stock.cost.saturating_mul(n));
        moves = moves.saturating_add(u64::try_from(p.settings).unwrap_or(0).saturating_mul(p.count));
        raw += i128::from(stock.width) * i128::from(stock.height) * i128::from(n);
        net += i128::from(region.area() - p.waste) * i128::from(n);
    }
    Plan {
        patterns: merged,
        sheets,
        cost,
        bound,
        rip_settings: rips.len(),
        crosscut_settings: crosscuts.len(),
        fence_moves: moves,
        yield_per_10000: i64::try_from((net * 10_000).checked_div(raw).unwrap_or(0)).unwrap_or(0),
    }
}

/// Makes the plan for bars.
pub(super) fn bar_plan(job: &BarJob, model: &Model, layout: &Layout, bound: Bound) -> BarPlan {
    let mut names = Names::new(model);
    let mut patterns: Vec<BarPattern> = Vec::new();
    let (mut bars, mut cost) = (0_u64, 0_i64);
    for (cut, count) in layout {
        let Some(bar) = model.modes.get(cut.mode).map(|m| m.stock) else { continue };
        let Some(stock) = job.bars.get(bar) else { continue };
        let mut left = *count;
        while left > 0 {
            let mut used: Vec<(usize, usize, i64)> = Vec::new();
            let mut pieces = Vec::new();
            let mut rest = stock.length - stock.trim;
            for item in cut.items() {
                let Some(piece) = names.next(item.kind) else { continue };
                match used.iter_mut().find(|u| (u.0, u.1) == (item.kind, piece)) {
                    Some(u) => u.2 += 1,
                    None => used.push((item.kind, piece, 1)),
                }
                pieces.push(piece);
                rest -= item.len;
            }
            let mixed = used.iter().any(|u| used.iter().any(|v| v.0 == u.0 && v.1 != u.1));
            let more = if mixed { 0 } else { names.again(&used, left - 1) };
            let count = u64::try_from(more + 1).unwrap_or(0);
            bars += count;
            cost = cost.saturating_add(stock.cost.saturating_mul(more + 1));
            patterns.push(BarPattern { bar, count, pieces, rest: rest.max(0) });
            left -= more + 1;
        }
    }
    BarPlan { patterns, bars, cost, bound }
}
