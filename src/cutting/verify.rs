//! Checks a plan against its job from the rectangles alone, sharing nothing with the way plans are made.

use super::job::{Axis, BarJob, First, Grain, Job, Sheet};
use super::plan::{BarPlan, Pattern, Placement, Plan, Rect};
use super::tree;

/// What is wrong with a plan.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// A pattern names stock that the job does not have.
    #[error("pattern {0} is cut from stock that does not exist")]
    UnknownStock(usize),
    /// A pattern holds a part that the job does not have.
    #[error("pattern {0} holds a part that does not exist")]
    UnknownPart(usize),
    /// More or less of a part than is wanted.
    #[error("`{id}`: {made} made, {wanted} wanted")]
    Demand {
        /// The part.
        id: String,
        /// How many the plan makes.
        made: u64,
        /// How many the job wants.
        wanted: u64,
    },
    /// More of a stock than there is.
    #[error("`{id}`: {used} used, {available} available")]
    StockCount {
        /// The stock.
        id: String,
        /// How many the plan uses.
        used: u64,
        /// How many there are.
        available: u64,
    },
    /// A part with another size than the job gives it.
    #[error("pattern {pattern}: `{part}` has the wrong size")]
    Size {
        /// Number of the pattern.
        pattern: usize,
        /// The part.
        part: String,
    },
    /// A part that lies against its grain.
    #[error("pattern {pattern}: `{part}` lies against its grain")]
    Turned {
        /// Number of the pattern.
        pattern: usize,
        /// The part.
        part: String,
    },
    /// A part beyond the usable area.
    #[error("pattern {pattern}: `{part}` leaves the usable area")]
    Outside {
        /// Number of the pattern.
        pattern: usize,
        /// The part.
        part: String,
    },
    /// Two parts in one place.
    #[error("pattern {pattern}: `{first}` and `{second}` overlap")]
    Overlap {
        /// Number of the pattern.
        pattern: usize,
        /// One part.
        first: String,
        /// The other part.
        second: String,
    },
    /// A sheet that cannot be cut edge to edge with this blade.
    #[error("pattern {0} cannot be cut edge to edge with this kerf")]
    NotGuillotine(usize),
    /// A sheet that needs more stages than allowed.
    #[error("pattern {pattern} needs {needs} stages, {allowed} are allowed")]
    Stages {
        /// Number of the pattern.
        pattern: usize,
        /// Stages that it needs.
        needs: u32,
        /// Stages that are allowed.
        allowed: u32,
    },
    /// A rip or crosscut whose stated width or length is not that of what it holds.
    #[error("pattern {0} states a rip or crosscut that its parts do not have")]
    Stated(usize),
    /// A price, number of sheets or bound that does not follow from the patterns.
    #[error("the plan states {what} as {stated}, it is {found}")]
    Figure {
        /// Which figure.
        what: &'static str,
        /// What the plan says.
        stated: i64,
        /// What follows from the patterns.
        found: i64,
    },
}

/// Everything that is wrong with a plan; nothing where it is right.
#[must_use]
pub fn verify(job: &Job, plan: &Plan) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut made = vec![0_u64; job.parts.len()];
    let mut used = vec![0_u64; job.sheets.len()];
    let mut cost = 0_i64;
    for (number, pattern) in plan.patterns.iter().enumerate() {
        let (Some(sheet), Some(count)) = (job.sheets.get(pattern.sheet), used.get_mut(pattern.sheet)) else {
            faults.push(Fault::UnknownStock(number));
            continue;
        };
        *count += pattern.count;
        cost += sheet.cost * i64::try_from(pattern.count).unwrap_or(i64::MAX);
        for p in pattern.placements() {
            match made.get_mut(p.part) {
                Some(n) => *n += pattern.count,
                None => faults.push(Fault::UnknownPart(number)),
            }
        }
        check_pattern(job, sheet, number, pattern, &mut faults);
    }
    for (part, &made) in job.parts.iter().zip(&made) {
        if made != part.demand {
            faults.push(Fault::Demand { id: part.id.clone(), made, wanted: part.demand });
        }
    }
    for (sheet, &used) in job.sheets.iter().zip(&used) {
        if let Some(available) = sheet.count.filter(|&n| used > n) {
            faults.push(Fault::StockCount { id: sheet.id.clone(), used, available });
        }
    }
    let sheets: u64 = plan.patterns.iter().map(|p| p.count).sum();
    let int = |n: u64| i64::try_from(n).unwrap_or(i64::MAX);
    figure("the number of sheets", int(plan.sheets), int(sheets), &mut faults);
    figure("the price", plan.cost, cost, &mut faults);
    if plan.bound.cost > plan.cost {
        figure("the bound", plan.bound.cost, plan.cost, &mut faults);
    }
    faults
}

fn figure(what: &'static str, stated: i64, found: i64, faults: &mut Vec<Fault>) {
    if stated != found {
        faults.push(Fault::Figure { what, stated, found });
    }
}

fn check_pattern(job: &Job, sheet: &Sheet, number: usize, pattern: &Pattern, faults: &mut Vec<Fault>) {
    let name = |p: &Placement| job.parts.get(p.part).map_or_else(String::new, |part| part.id.clone());
    let (w, h) = sheet.usable();
    let region = Rect { x: sheet.trim.left, y: sheet.trim.bottom, w, h };
    let before = faults.len();
    let mut placed: Vec<&Placement> = pattern.placements().collect();
    for p in &placed {
        let Some(part) = job.parts.get(p.part) else { continue };
        let size = if p.rotated { (part.height, part.width) } else { (part.width, part.height) };
        if (p.w, p.h) != size {
            faults.push(Fault::Size { pattern: number, part: part.id.clone() });
        }
        if matches!((part.grain, p.rotated), (Grain::Along, true) | (Grain::Across, false)) {
            faults.push(Fault::Turned { pattern: number, part: part.id.clone() });
        }
        if p.x < region.x
            || p.y < region.y
            || p.x + p.w > region.x + region.w
            || p.y + p.h > region.y + region.h
        {
            faults.push(Fault::Outside { pattern: number, part: part.id.clone() });
        }
    }
    placed.sort_by_key(|p| p.x);
    let mut rest = placed.as_slice();
    while let Some((a, others)) = rest.split_first() {
        for b in others.iter().take_while(|b| b.x < a.x + a.w) {
            if a.y < b.y + b.h && b.y < a.y + a.h {
                faults.push(Fault::Overlap { pattern: number, first: name(a), second: name(b) });
            }
        }
        rest = others;
    }
    if !stated_sizes_hold(pattern) {
        faults.push(Fault::Stated(number));
    }
    if faults.len() == before {
        check_cuts(job, sheet, number, pattern, region, faults);
    }
}

/// Whether each rip is as wide, and each crosscut as long, as the parts that it holds.
fn stated_sizes_hold(pattern: &Pattern) -> bool {
    let extent = |parts: &[&Placement], axis: Axis| {
        let span =
            |p: &&Placement| if axis == Axis::Horizontal { (p.y, p.y + p.h) } else { (p.x, p.x + p.w) };
        let lo = parts.iter().map(span).map(|s| s.0).min().unwrap_or(0);
        let hi = parts.iter().map(span).map(|s| s.1).max().unwrap_or(0);
        hi - lo
    };
    pattern.rips.iter().all(|rip| {
        let all: Vec<&Placement> = rip.crosscuts.iter().flat_map(|c| c.parts.iter()).collect();
        extent(&all, pattern.first) == rip.width
            && rip.crosscuts.iter().all(|c| {
                let parts: Vec<&Placement> = c.parts.iter().collect();
                extent(&parts, pattern.first.other()) == c.length
            })
    })
}

fn check_cuts(
    job: &Job,
    sheet: &Sheet,
    number: usize,
    pattern: &Pattern,
    region: Rect,
    faults: &mut Vec<Fault>,
) {
    let rects: Vec<Rect> = pattern.placements().map(|p| Rect { x: p.x, y: p.y, w: p.w, h: p.h }).collect();
    let axes: &[Axis] = match job.rules.first {
        First::Rip => &[sheet.rip_axis()],
        First::Only(axis) => &[axis],
        First::Any => &[Axis::Horizontal, Axis::Vertical],
    };
    let stages = axes
        .iter()
        .filter_map(|&axis| {
            let reading = tree::read(&rects, region, axis, job.rules.kerf);
            if job.rules.trimming { reading.trimmed } else { reading.exact }
        })
        .min();
    let allowed = job.rules.stages.most();
    match stages {
        None => faults.push(Fault::NotGuillotine(number)),
        Some(needs) if needs > allowed => faults.push(Fault::Stages { pattern: number, needs, allowed }),
        Some(_) => {}
    }
}

/// Everything that is wrong with a plan for bars.
#[must_use]
pub fn verify_bars(job: &BarJob, plan: &BarPlan) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut made = vec![0_u64; job.pieces.len()];
    let mut used = vec![0_u64; job.bars.len()];
    let mut cost = 0_i64;
    for (number, pattern) in plan.patterns.iter().enumerate() {
        let (Some(bar), Some(count)) = (job.bars.get(pattern.bar), used.get_mut(pattern.bar)) else {
            faults.push(Fault::UnknownStock(number));
            continue;
        };
        *count += pattern.count;
        cost += bar.cost * i64::try_from(pattern.count).unwrap_or(i64::MAX);
        let mut need = 0;
        for (place, &piece) in pattern.pieces.iter().enumerate() {
            let (Some(given), Some(n)) = (job.pieces.get(piece), made.get_mut(piece)) else {
                faults.push(Fault::UnknownPart(number));
                continue;
            };
            *n += pattern.count;
            need += given.length + if place > 0 { job.kerf } else { 0 };
        }
        if need > bar.length - bar.trim {
            faults.push(Fault::Outside { pattern: number, part: bar.id.clone() });
        }
    }
    for (piece, &made) in job.pieces.iter().zip(&made) {
        if made != piece.demand {
            faults.push(Fault::Demand { id: piece.id.clone(), made, wanted: piece.demand });
        }
    }
    for (bar, &used) in job.bars.iter().zip(&used) {
        if let Some(available) = bar.count.filter(|&n| used > n) {
            faults.push(Fault::StockCount { id: bar.id.clone(), used, available });
        }
    }
    figure("the price", plan.cost, cost, &mut faults);
    if plan.bound.cost > plan.cost {
        figure("the bound", plan.bound.cost, plan.cost, &mut faults);
    }
    faults
}
