//! What a slope leaves of the faces of a part: the corner that it takes goes out of the partition, and its edge comes in.
//!
//! Of a rectangle that the slope cuts through, what lies under it is the difference of four areas from the corner's beginning, each
//! rounded once to whole square ticks: so the pieces sum exactly to the polygon. The edge along the slope is as long as the root of
//! two squares; it is rounded to a tick.

use super::{Contact, Patch, Sloped, Solid, brush, ticks};
use crate::parts::{Part, PartGraph, Role};
use num_integer::Roots;

/// Where a slope is, a millimetre has at least so many ticks, for the root.
pub(super) const FINE: i128 = 1_000_000;

/// The corner that a slope takes of a part, in ticks.
#[derive(Clone, Copy)]
pub(super) struct Slanted {
    rear: bool,
    deep: i128,
    high: i128,
    /// What its edge meets.
    contact: Contact,
}

impl PartGraph {
    pub(super) fn slanted(&self, scale: i128, part: &Part) -> Option<Slanted> {
        let corner = self.corner(part)?;
        let contact = if self.is_closed_at_slope(part) { Contact::Closed } else { Contact::Open };
        let [deep, high] = [corner.deep, corner.high].map(|size| ticks(scale, &[size]));
        Some(Slanted { rear: corner.rear, deep: deep?, high: high?, contact })
    }

    /// Whether nobody reaches between a part and the slope over it.
    fn is_closed_at_slope(&self, part: &Part) -> bool {
        let slant = part.unit.and_then(|unit| self.unit(unit)?.slant);
        slant.is_some_and(|slant| slant.gap.value < brush())
    }

    /// Whether the rear edge of a part lies at a slope where nobody reaches it.
    pub(super) fn is_at_slope(&self, part: &Part) -> bool {
        let sloped = |unit| self.unit(unit)?.slant.filter(|slant| !slant.falls);
        let slant = part.unit.and_then(sloped);
        let shelf = matches!(part.role, Role::Shelf | Role::Top | Role::Loose);
        let top = part.place.z.value.checked_add(part.size.thickness.value);
        let meets = slant.zip(top).and_then(|(slant, top)| Some(slant.at(part.place.y.value)? == top));
        shelf && meets == Some(true) && self.is_closed_at_slope(part)
    }
}

/// Closes the rear edge of a shelf.
pub(super) fn close_rear(patches: &mut [Patch]) {
    let rear = |patch: &&mut Patch| patch.axis == 1 && !patch.outward && patch.contact == Contact::Open;
    for patch in patches.iter_mut().filter(rear) {
        patch.contact = Contact::Closed;
    }
}

impl Slanted {
    /// The area under the slope from where the corner begins: so far in from the edge, and so far up.
    fn under(&self, [across, up]: [i128; 2]) -> i128 {
        let (deep, high) = (self.deep.max(1), self.high.max(1));
        let (of, by) = if up.saturating_mul(deep) >= high.saturating_mul(across) {
            (high.saturating_mul(across).saturating_mul(across), deep.saturating_mul(2))
        } else {
            let over = deep.saturating_mul(up).saturating_mul(up);
            let whole = across.saturating_mul(up).saturating_mul(high).saturating_mul(2);
            (whole.saturating_sub(over), high.saturating_mul(2))
        };
        num_integer::Integer::div_floor(&of.saturating_mul(2).saturating_add(by), &by.saturating_mul(2))
    }

    /// What it leaves of the patches of a part, and its edge.
    pub(super) fn of(&self, patches: Vec<Patch>, solid: &Solid) -> Vec<Patch> {
        let [across, [rear, front], [_, top]] = *solid;
        let from = top - self.high;
        // Where the corner ends across the part.
        let inner = if self.rear { rear + self.deep } else { front - self.deep };
        let beyond = |[low, high]: [i128; 2]| {
            if self.rear { [low.max(inner), high] } else { [low, high.min(inner)] }
        };
        let within = |[low, high]: [i128; 2]| {
            if self.rear { [low, high.min(inner)] } else { [low.max(inner), high] }
        };
        let mut left = Vec::new();
        for patch in patches {
            match patch.axis {
                0 => {
                    let [y, z] = patch.sides;
                    left.push(Patch { sides: [y, [z[0], z[1].min(from)]], ..patch });
                    let over = [z[0].max(from), z[1]];
                    left.push(Patch { sides: [beyond(y), over], ..patch });
                    left.extend(self.cut(Patch { sides: [within(y), over], ..patch }, [rear, front], from));
                }
                1 if patch.outward != self.rear => {
                    let [x, z] = patch.sides;
                    left.push(Patch { sides: [x, [z[0], z[1].min(from)]], ..patch });
                }
                2 if patch.outward => {
                    let [x, y] = patch.sides;
                    left.push(Patch { sides: [x, beyond(y)], ..patch });
                }
                _ => left.push(patch),
            }
        }
        left.retain(|patch| patch.sides.iter().all(|[low, high]| low < high));
        let squares = self.deep.saturating_mul(self.deep).saturating_add(self.high.saturating_mul(self.high));
        let long = squares.sqrt();
        // The root lies nearer to the next whole tick where its square is over long x (long + 1).
        let long = if squares - long * long > long { long + 1 } else { long };
        let sides = [across, [from, from + long]];
        left.push(Patch { axis: 1, outward: !self.rear, sides, contact: self.contact, sloped: None });
        left
    }

    /// How much of a rectangle of the two faces of a part the slope leaves, in square ticks.
    fn kept(&self, solid: &Solid, [y, z]: [[i128; 2]; 2]) -> i128 {
        let whole = Patch { axis: 0, outward: true, sides: [y, z], contact: Contact::Open, sloped: None };
        let left = self.of(vec![whole], solid);
        left.iter().filter(|patch| patch.axis == 0).map(Patch::ticks).sum()
    }

    /// Takes from what touches a part with this slope, which lies lower than its own, what lies over that: there it meets nothing. The
    /// slopes of one wall are parallel, so that what the lower one leaves lies within what the other does.
    pub(super) fn bare(&self, solid: &Solid, patch: Patch) -> [Option<Patch>; 2] {
        let (whole, kept) = (patch.ticks(), self.kept(solid, patch.sides).min(patch.ticks()));
        if kept == whole {
            return [Some(patch), None];
        }
        let sloped = |ticks: i128| Some(Sloped { ticks, rear: self.rear });
        let meets = (kept > 0).then_some(Patch { sloped: sloped(kept), ..patch });
        [meets, Some(Patch { sloped: sloped(whole - kept), contact: self.contact, ..patch })]
    }

    /// A rectangle within the corner, with what lies under the slope of it.
    fn cut(&self, patch: Patch, [rear, front]: [i128; 2], from: i128) -> Option<Patch> {
        let [[near, far], [low, high]] = patch.sides;
        let inward = if self.rear { [near - rear, far - rear] } else { [front - far, front - near] };
        let up = [low - from, high - from];
        if near >= far || low >= high {
            return None;
        }
        let of =
            |across: usize, at: usize| Some(self.under([inward.get(across).copied()?, up.get(at).copied()?]));
        let ticks = of(1, 1)? - of(0, 1)? - of(1, 0)? + of(0, 0)?;
        (ticks > 0).then_some(Patch { sloped: Some(Sloped { ticks, rear: self.rear }), ..patch })
    }
}
