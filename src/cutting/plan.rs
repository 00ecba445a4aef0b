//! What is answered: patterns in working order, the bound, and what the plan costs at the saw.

use super::job::Axis;

/// One part on a sheet, measured from the corner of the raw sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Placement {
    /// Index into the job's parts.
    pub part: usize,
    /// Distance from the left edge.
    pub x: i64,
    /// Distance from the bottom edge.
    pub y: i64,
    /// Size along the sheet's width as placed.
    pub w: i64,
    /// Size along the sheet's height as placed.
    pub h: i64,
    /// Whether the part is turned against how it was given.
    pub rotated: bool,
}

/// One piece crosscut from a rip: a part, or with more than two stages a piece that is cut on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Crosscut {
    /// Length along the rip.
    pub length: i64,
    /// The parts that come out of it; just one where there are two stages.
    pub parts: Vec<Placement>,
}

/// One strip cut from edge to edge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rip {
    /// Its width.
    pub width: i64,
    /// Its crosscuts, in working order.
    pub crosscuts: Vec<Crosscut>,
}

impl Rip {
    /// What is left at the end of the rip, along which the sheet reaches `along`: every crosscut takes its length and one
    /// kerf. Never negative.
    #[must_use]
    pub fn rest(&self, along: i64, kerf: i64) -> i64 {
        let taken: i64 = self.crosscuts.iter().map(|cut| cut.length + kerf).sum();
        (along - taken).max(0)
    }
}

/// A rectangle of a raw sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rect {
    /// Left edge.
    pub x: i64,
    /// Bottom edge.
    pub y: i64,
    /// Width.
    pub w: i64,
    /// Height.
    pub h: i64,
}

impl Rect {
    /// Width times height.
    #[must_use]
    pub const fn area(&self) -> i64 {
        self.w.saturating_mul(self.h)
    }
}

/// One way to cut a sheet, and how many sheets are cut that way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// Index into the job's sheets.
    pub sheet: usize,
    /// How many sheets are cut so.
    pub count: u64,
    /// Direction of the first cuts; with two stages rip first, the rips.
    pub first: Axis,
    /// The first cuts in working order, each with what is cut from it.
    pub rips: Vec<Rip>,
    /// Usable area that becomes neither part nor offcut nor anything else of use: usable area less the parts.
    pub waste: i64,
    /// The largest rectangle that is left whole.
    pub offcut: Option<Rect>,
    /// Distinct fence settings on one such sheet.
    pub settings: usize,
}

impl Pattern {
    /// All parts of one such sheet in working order.
    pub fn placements(&self) -> impl Iterator<Item = &Placement> {
        self.rips.iter().flat_map(|rip| rip.crosscuts.iter().flat_map(|cut| cut.parts.iter()))
    }
}

/// Which argument gave the lower bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proof {
    /// Area, each part enlarged by one kerf in both directions.
    Area,
    /// Dual feasible functions (Fekete, Schepers 2001; Carlier, Clautiaux, Moukrim 2007).
    DualFeasibleFunctions,
    /// The linear program over patterns (Gilmore, Gomory 1965), confirmed in whole numbers.
    LinearProgram,
}

/// What can be said about a plan's cost from below.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bound {
    /// No plan under the same rules costs less.
    pub cost: i64,
    /// What proves it.
    pub proof: Proof,
}

/// A plan for a job of sheets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    /// The patterns in the order of work; equal ones are merged.
    pub patterns: Vec<Pattern>,
    /// How many sheets.
    pub sheets: u64,
    /// What they cost.
    pub cost: i64,
    /// What they cost at least.
    pub bound: Bound,
    /// Distinct rip widths over the job.
    pub rip_settings: usize,
    /// Distinct crosscut lengths over the job.
    pub crosscut_settings: usize,
    /// Distinct settings summed sheet by sheet.
    pub fence_moves: u64,
    /// Area of the parts in ten-thousandths of the raw area.
    pub yield_per_10000: i64,
}

impl Plan {
    /// Rip widths and crosscut lengths together.
    #[must_use]
    pub const fn settings(&self) -> usize {
        self.rip_settings.saturating_add(self.crosscut_settings)
    }

    /// Whether no plan under the same rules costs less.
    #[must_use]
    pub const fn proven(&self) -> bool {
        self.cost == self.bound.cost
    }

    /// The patterns sheet by sheet, each as often as it is cut.
    pub fn expanded(&self) -> impl Iterator<Item = &Pattern> {
        self.patterns
            .iter()
            .flat_map(|p| std::iter::repeat_n(p, usize::try_from(p.count).unwrap_or(usize::MAX)))
    }
}

/// One way to cut a bar, and how many are cut that way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BarPattern {
    /// Index into the job's bars.
    pub bar: usize,
    /// How many bars are cut so.
    pub count: u64,
    /// Indices into the job's pieces, in working order.
    pub pieces: Vec<usize>,
    /// Length that is left over, the last kerf taken off.
    pub rest: i64,
}

/// A plan for a job of bars.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BarPlan {
    /// The patterns in the order of work; equal ones are merged.
    pub patterns: Vec<BarPattern>,
    /// How many bars.
    pub bars: u64,
    /// What they cost.
    pub cost: i64,
    /// What they cost at least.
    pub bound: Bound,
}
