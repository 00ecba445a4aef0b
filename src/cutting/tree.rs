//! Cuts read back from the rectangles alone: how a sheet comes apart edge to edge, in how many stages, with which settings.
//!
//! Nothing here knows how a layout was found; the verifier and the figures of a plan rest on it.

use std::collections::BTreeSet;

use super::job::Axis;
use super::plan::Rect;

/// How one sheet comes apart when the first cuts have a given direction.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Reading {
    /// Stages when every part is cut to size in a counted stage; `None` if it does not come apart.
    pub exact: Option<u32>,
    /// Stages when a last trimming cut a part is not counted.
    pub trimmed: Option<u32>,
    /// Distinct settings of horizontal cuts.
    pub horizontal: BTreeSet<i64>,
    /// Distinct settings of vertical cuts.
    pub vertical: BTreeSet<i64>,
}

impl Reading {
    /// The settings of one direction.
    pub fn settings(&self, axis: Axis) -> &BTreeSet<i64> {
        match axis {
            Axis::Horizontal => &self.horizontal,
            Axis::Vertical => &self.vertical,
        }
    }

    fn add(&mut self, axis: Axis, size: i64) {
        match axis {
            Axis::Horizontal => self.horizontal.insert(size),
            Axis::Vertical => self.vertical.insert(size),
        };
    }
}

/// Extent of a rectangle across cuts of a direction.
const fn span(r: &Rect, axis: Axis) -> (i64, i64) {
    match axis {
        Axis::Horizontal => (r.y, r.y + r.h),
        Axis::Vertical => (r.x, r.x + r.w),
    }
}

/// A region narrowed to an extent across cuts of a direction.
const fn narrowed(region: Rect, axis: Axis, lo: i64, hi: i64) -> Rect {
    match axis {
        Axis::Horizontal => Rect { x: region.x, y: lo, w: region.w, h: hi - lo },
        Axis::Vertical => Rect { x: lo, y: region.y, w: hi - lo, h: region.h },
    }
}

/// A group of rectangles with its extent across the cuts.
pub(super) type Group<T> = (i64, i64, Vec<(Rect, T)>);

/// Splits rectangles by all cuts of one direction that leave at least the kerf between the groups.
/// Gives the groups in order, each with its extent.
pub(super) fn groups<T: Copy>(items: &[(Rect, T)], axis: Axis, kerf: i64) -> Vec<Group<T>> {
    let mut sorted = items.to_vec();
    sorted.sort_by_key(|i| span(&i.0, axis));
    let mut out: Vec<Group<T>> = Vec::new();
    for item in sorted {
        let (lo, hi) = span(&item.0, axis);
        match out.last_mut() {
            Some((_, end, group)) if lo < *end + kerf => {
                *end = hi.max(*end);
                group.push(item);
            }
            _ => out.push((lo, hi, vec![item])),
        }
    }
    out
}

/// Reads a sheet whose first cuts have the direction `first`.
pub(super) fn read(parts: &[Rect], region: Rect, first: Axis, kerf: i64) -> Reading {
    let items: Vec<(Rect, ())> = parts.iter().map(|&r| (r, ())).collect();
    let mut reading = Reading::default();
    let stages =
        if items.is_empty() { Some((0, 0)) } else { walk(&items, region, first, kerf, true, &mut reading) };
    reading.exact = stages.map(|s| s.0);
    reading.trimmed = stages.map(|s| s.1);
    reading
}

/// The cuts of one direction on a region: which of them need the fence set. A group that is exactly what remains after
/// the last cut needs none.
fn note(extents: &[(i64, i64)], region: Rect, axis: Axis, kerf: i64, reading: &mut Reading) {
    let (mut at, end) = span(&region, axis);
    for &(lo, hi) in extents {
        if lo > at || hi < end {
            reading.add(axis, hi - lo);
        }
        at = hi + kerf;
    }
}

fn walk(
    items: &[(Rect, ())],
    region: Rect,
    axis: Axis,
    kerf: i64,
    top: bool,
    reading: &mut Reading,
) -> Option<(u32, u32)> {
    let other = axis.other();
    if let [(part, ())] = items {
        let needs = |a: Axis| span(part, a) != span(&region, a);
        let (this, that) = (needs(axis), needs(other));
        let trimmed = u32::from(this && that);
        if !this && !that {
            return Some((0, 0));
        }
        let mut rest = region;
        if this {
            let own = span(part, axis);
            note(&[own], region, axis, kerf, reading);
            rest = narrowed(region, axis, own.0, own.1);
        }
        if that {
            note(&[span(part, other)], rest, other, kerf, reading);
        }
        let exact = match (this, that) {
            (true, true) => 2,
            (true, false) => 1,
            _ => 1 + u32::from(top),
        };
        return Some((exact, trimmed));
    }
    let split = groups(items, axis, kerf);
    if split.len() == 1 && (!top || groups(items, other, kerf).len() == 1) {
        return None;
    }
    let extents: Vec<(i64, i64)> = split.iter().map(|g| (g.0, g.1)).collect();
    note(&extents, region, axis, kerf, reading);
    let (mut exact, mut trimmed) = (0, 0);
    let mut whole = true;
    for (lo, hi, group) in &split {
        match walk(group, narrowed(region, axis, *lo, *hi), other, kerf, false, reading) {
            Some((e, t)) => {
                exact = exact.max(e);
                trimmed = trimmed.max(t);
            }
            None => whole = false,
        }
    }
    whole.then_some((exact + 1, trimmed + 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn r(x: i64, y: i64, w: i64, h: i64) -> Rect {
        Rect { x, y, w, h }
    }

    #[test]
    fn two_rips_with_crosscuts_read_as_two_stages() {
        let parts = [r(0, 0, 50, 20), r(53, 0, 40, 20), r(0, 23, 60, 30)];
        let reading = read(&parts, r(0, 0, 100, 60), Axis::Horizontal, 3);
        assert_eq!((reading.exact, reading.trimmed), (Some(2), Some(2)));
        assert_eq!(reading.horizontal, BTreeSet::from([20, 30]));
        assert_eq!(reading.vertical, BTreeSet::from([40, 50, 60]));
    }

    #[test]
    fn a_gap_below_the_kerf_is_no_cut() {
        let parts = [r(0, 0, 50, 20), r(52, 0, 40, 20)];
        assert_eq!(read(&parts, r(0, 0, 100, 20), Axis::Vertical, 3).trimmed, None);
        assert_eq!(read(&parts, r(0, 0, 100, 20), Axis::Vertical, 2).trimmed, Some(1));
    }

    #[test]
    fn the_pinwheel_does_not_come_apart() {
        let parts = [r(0, 0, 2, 1), r(2, 0, 1, 2), r(1, 2, 2, 1), r(0, 1, 1, 2)];
        assert_eq!(read(&parts, r(0, 0, 3, 3), Axis::Horizontal, 0).trimmed, None);
        assert_eq!(read(&parts, r(0, 0, 3, 3), Axis::Vertical, 0).trimmed, None);
    }

    #[test]
    fn the_remainder_needs_no_setting() {
        let parts = [r(0, 0, 10, 4), r(0, 5, 10, 5)];
        let reading = read(&parts, r(0, 0, 10, 10), Axis::Horizontal, 1);
        assert_eq!(reading.horizontal, BTreeSet::from([4]));
        assert!(reading.vertical.is_empty());
    }
}
