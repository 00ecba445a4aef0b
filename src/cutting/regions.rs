//! A sheet as a tree of regions: every region is a part or is cut on in the other direction, so any number of stages.
//!
//! The order of the regions beside each other does not matter to the saw, so what is free in a region is one figure.

use super::finish::Placed;
use super::job::Axis;
use super::layout::{CutSheet, Item, height, laid, length};
use super::model::Mode;

/// A region: its size across the cuts that made it, and what it holds.
#[derive(Clone, Debug)]
struct Region {
    /// Size across the cuts that made it.
    size: i64,
    /// What it holds.
    filling: Filling,
}

/// What a region holds.
#[derive(Clone, Debug)]
enum Filling {
    /// A part of this kind, which takes so much of the region along the cuts that made it.
    Part(usize, i64),
    /// Regions cut from it the other way.
    Cuts(Cuts),
}

/// Regions beside each other and what is left beside them.
#[derive(Clone, Debug, Default)]
struct Cuts {
    regions: Vec<Region>,
    rest: i64,
}

/// A sheet.
#[derive(Clone, Debug)]
pub(super) struct Tree {
    /// Index of the stock.
    pub stock: usize,
    /// Direction of the first cuts.
    pub first: Axis,
    /// Size along the first cuts.
    len: i64,
    cuts: Cuts,
}

/// A part as it may be laid: across the first cuts, along them.
pub(super) type Way = (i64, i64);

/// What the rules say about the regions of a tree.
#[derive(Clone, Copy, Debug)]
pub(super) struct Depth {
    /// Stages allowed.
    pub stages: u32,
    /// Whether a part may be trimmed out of a region of the last stage.
    pub trimming: bool,
    /// Areas are weighed in units of this.
    pub unit: i64,
}

impl Depth {
    /// How much a free area is worth: its area to the power of 9/8, so that one large area is worth more than two halves.
    fn value(self, a: i64, b: i64) -> i64 {
        let area = u64::try_from(a.saturating_mul(b) / self.unit.max(1)).unwrap_or(0);
        i64::try_from(area.saturating_mul(area.isqrt().isqrt().isqrt())).unwrap_or(i64::MAX)
    }
}

/// A place for a part.
#[derive(Clone, Debug)]
pub(super) struct Slot {
    /// What the free areas lose by it; the least is best.
    pub loss: i64,
    /// Regions to go down through.
    path: Vec<usize>,
    /// Size across and along the cuts at the end of the path.
    way: Way,
    /// Whether all that is left there is cut the other way first.
    turned: bool,
}

impl Region {
    fn new(size: i64, kind: usize, across: i64, room: i64, open: bool) -> Self {
        let filling = if across < room && open {
            let part = Self { size: across, filling: Filling::Part(kind, size) };
            Filling::Cuts(Cuts { regions: vec![part], rest: room - across })
        } else {
            Filling::Part(kind, across)
        };
        Self { size, filling }
    }
}

impl Tree {
    /// The tree of a sheet of strips.
    pub fn new(cut: &CutSheet, mode: &Mode, depth: Depth) -> Self {
        let mut cuts = Cuts { regions: Vec::new(), rest: mode.room };
        for strip in &cut.strips {
            let size = height(strip);
            let open = depth.stages > 2;
            let regions = strip.iter().map(|i| Region::new(i.len, i.kind, i.ht, size, open)).collect();
            cuts.rest -= size;
            let rest = mode.len - length(strip);
            cuts.regions.push(Region { size, filling: Filling::Cuts(Cuts { regions, rest }) });
        }
        Self { stock: mode.stock, first: mode.axis, len: mode.len, cuts }
    }

    /// Whether nothing is cut from it.
    pub fn is_empty(&self) -> bool {
        self.cuts.regions.is_empty()
    }

    /// Offers the places for a part laid in these ways, as width and height; keeps the best in `best`.
    /// Gives the effort.
    pub fn places(&self, ways: &[Way], depth: Depth, best: &mut Option<Slot>) -> u64 {
        let flip = |&(w, h): &Way| if self.first == Axis::Horizontal { (h, w) } else { (w, h) };
        let ways: Vec<Way> = ways.iter().map(flip).collect();
        let least = ways.iter().map(|w| w.0.min(w.1)).min().unwrap_or(0);
        let mut scan = Scan { depth, ways: &ways, least, path: Vec::new(), best, work: 0 };
        scan.cuts(&self.cuts, self.len, 1);
        scan.work
    }

    /// Lays a part of this kind in its place.
    pub fn lay(&mut self, kind: usize, place: &Slot, depth: Depth) {
        let mut cuts = &mut self.cuts;
        let mut along = self.len;
        let mut level = 1;
        for &step in &place.path {
            let Some(region) = cuts.regions.get_mut(step) else { return };
            along = region.size;
            let Filling::Cuts(inner) = &mut region.filling else { return };
            cuts = inner;
            level += 1;
        }
        let (a, b) = place.way;
        if place.turned {
            let size = cuts.rest;
            let row = Region::new(b, kind, a, size, level + 1 < depth.stages);
            let inner = Cuts { regions: vec![row], rest: along - b };
            cuts.regions.push(Region { size, filling: Filling::Cuts(inner) });
            cuts.rest = 0;
        } else {
            cuts.regions.push(Region::new(a, kind, b, along, level < depth.stages));
            cuts.rest -= a;
        }
    }

    /// Takes a region out, chosen by `below`, and gives the kinds that were in it to `out`.
    pub fn ruin(&mut self, below: &mut impl FnMut(usize) -> usize, out: &mut Vec<usize>) {
        ruin(&mut self.cuts, below, out);
    }

    /// Makes every region as small as its parts allow.
    pub fn tighten(&mut self) {
        tighten(&mut self.cuts);
    }

    /// The kinds on the sheet.
    pub fn kinds(&self, out: &mut Vec<usize>) {
        kinds(&self.cuts, out);
    }

    /// The parts with their positions.
    pub fn placed(&self) -> Vec<Placed> {
        let mut out = Vec::new();
        place(&self.cuts, (0, 0), self.first, &mut out);
        out
    }
}

fn place(cuts: &Cuts, corner: (i64, i64), axis: Axis, out: &mut Vec<Placed>) {
    let mut order: Vec<&Region> = cuts.regions.iter().collect();
    order.sort_by_key(|r| std::cmp::Reverse(r.size));
    let (mut x, mut y) = corner;
    for region in order {
        match &region.filling {
            Filling::Part(kind, along) => {
                let (w, h) = laid(axis, &Item { ht: region.size, len: *along, kind: *kind });
                out.push(Placed { x, y, w, h, kind: *kind });
            }
            Filling::Cuts(inner) => place(inner, (x, y), axis.other(), out),
        }
        match axis {
            Axis::Horizontal => y += region.size,
            Axis::Vertical => x += region.size,
        }
    }
}

fn kinds(cuts: &Cuts, out: &mut Vec<usize>) {
    for region in &cuts.regions {
        match &region.filling {
            Filling::Part(kind, _) => out.push(*kind),
            Filling::Cuts(inner) => kinds(inner, out),
        }
    }
}

fn ruin(cuts: &mut Cuts, below: &mut impl FnMut(usize) -> usize, out: &mut Vec<usize>) {
    let at = below(cuts.regions.len());
    let Some(region) = cuts.regions.get_mut(at) else { return };
    let mut gone = true;
    if let Filling::Cuts(inner) = &mut region.filling {
        if below(3) > 0 {
            ruin(inner, below, out);
            gone = inner.regions.is_empty();
        } else {
            kinds(inner, out);
        }
    } else if let Filling::Part(kind, _) = region.filling {
        out.push(kind);
    }
    if gone {
        cuts.rest += region.size;
        cuts.regions.swap_remove(at);
    }
}

fn tighten(cuts: &mut Cuts) {
    for region in &mut cuts.regions {
        let Filling::Cuts(inner) = &mut region.filling else { continue };
        tighten(inner);
        let need = |r: &Region| match &r.filling {
            Filling::Part(_, along) => *along,
            Filling::Cuts(deep) => deep.regions.iter().map(|d| d.size).sum(),
        };
        let spare = region.size - inner.regions.iter().map(need).max().unwrap_or(0);
        if spare <= 0 {
            continue;
        }
        for r in &mut inner.regions {
            if let Filling::Cuts(deep) = &mut r.filling {
                deep.rest -= spare;
            }
        }
        region.size -= spare;
        cuts.rest += spare;
    }
}

/// A walk over the free places of a tree.
struct Scan<'a> {
    depth: Depth,
    ways: &'a [Way],
    least: i64,
    path: Vec<usize>,
    best: &'a mut Option<Slot>,
    work: u64,
}

impl Scan<'_> {
    fn cuts(&mut self, cuts: &Cuts, along: i64, level: u32) {
        self.work += 1;
        if cuts.rest >= self.least {
            self.free(cuts.rest, along, level);
        }
        for (at, region) in cuts.regions.iter().enumerate() {
            if let Filling::Cuts(inner) = &region.filling
                && region.size >= self.least
            {
                self.path.push(at);
                self.cuts(inner, region.size, level + 1);
                self.path.pop();
            }
        }
    }

    fn free(&mut self, rest: i64, along: i64, level: u32) {
        let turned = self.path.len() % 2 == 1;
        for &(a, b) in self.ways {
            let (a, b) = if turned { (b, a) } else { (a, b) };
            if a > rest || b > along {
                continue;
            }
            self.work += 4;
            let before = self.depth.value(rest, along);
            let last = level >= self.depth.stages;
            if !last || self.depth.trimming || b == along {
                let inner = if last { 0 } else { self.depth.value(a, along - b) };
                self.offer(before - self.depth.value(rest - a, along) - inner, (a, b), false);
            }
            if !last && a < rest && b < along {
                let deep = level + 1 >= self.depth.stages;
                if !deep || self.depth.trimming {
                    let inner = if deep { 0 } else { self.depth.value(rest - a, b) };
                    self.offer(before - self.depth.value(rest, along - b) - inner, (a, b), true);
                }
            }
        }
    }

    fn offer(&mut self, loss: i64, way: Way, turned: bool) {
        if self.best.as_ref().is_none_or(|p| loss < p.loss) {
            *self.best = Some(Slot { loss, path: self.path.clone(), way, turned });
        }
    }
}
