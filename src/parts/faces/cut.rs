//! Cuts every face along the ends of what touches it.

use super::{Contact, FAR, Patch, Scene, Solid, Surface, Volume};
use crate::parts::{Part, PartGraph, PartId};
use std::collections::{BTreeMap, BTreeSet};

/// Lower and upper ends in the two directions of a face, in ticks.
type Rectangle = [[i128; 2]; 2];

/// What meets a face: its rank, where, and how.
type Meeting = ((u8, u8), Rectangle, Contact);

impl Scene<'_> {
    pub(super) fn surfaces(&self, graph: &PartGraph) -> Vec<Surface> {
        let parts = Along::new(self.parts.iter().map(|(_, _, solid)| *solid));
        let volumes = Along::new(self.volumes.iter().map(|volume| volume.solid));
        // Units of one height close the same air behind a crown.
        let mut seen = BTreeSet::new();
        let once: Vec<bool> =
            self.volumes.iter().map(|volume| seen.insert((volume.solid, volume.contact))).collect();
        let mut surfaces = Vec::new();
        for (id, part, solid) in &self.parts {
            let near = parts.touching(solid).into_iter().filter_map(|place| self.parts.get(place));
            let near: Vec<_> = near.filter(|(other, ..)| other != id).collect();
            let air = volumes.touching(solid).into_iter();
            let volumes: Vec<&Volume> = air
                .filter(|place| once.get(*place) == Some(&true))
                .filter_map(|place| self.volumes.get(place))
                .collect();
            let mut patches = Vec::new();
            for axis in 0..3 {
                for outward in [false, true] {
                    self.face(graph, (*id, part), solid, (axis, outward), (&near, &volumes), &mut patches);
                }
            }
            if let Some(notch) = self.notches.get(id) {
                patches = notched(patches, solid, *notch);
            }
            if let Some(slanted) = self.slanted.get(id) {
                patches = slanted.of(patches, solid);
            }
            if !self.slanted.is_empty() {
                patches = self.beside_slopes(patches);
            }
            if self.at_slope.contains(id) {
                super::slanted::close_rear(&mut patches);
            }
            surfaces.push(Surface { part: *id, solid: *solid, patches });
        }
        surfaces
    }

    /// What touches a side that a slope cuts meets it only under that.
    fn beside_slopes(&self, patches: Vec<Patch>) -> Vec<Patch> {
        let slope = |patch: &Patch| {
            let Contact::Butted(id) = patch.contact else { return None };
            let place = self.parts.binary_search_by_key(&id, |(own, ..)| *own).ok()?;
            Some((self.slanted.get(&id).filter(|_| patch.axis == 0)?, self.parts.get(place)?.2))
        };
        let split = |patch: Patch| match slope(&patch) {
            Some((slanted, solid)) => slanted.bare(&solid, patch),
            None => [Some(patch), None],
        };
        patches.into_iter().flat_map(split).flatten().collect()
    }

    /// Cuts one face along the ends of everything that touches it, and says of each rectangle what it meets.
    fn face(
        &self,
        graph: &PartGraph,
        (own, part): (PartId, &Part),
        solid: &Solid,
        (axis, outward): (usize, bool),
        (near, volumes): (&[&(PartId, &Part, Solid)], &[&Volume]),
        patches: &mut Vec<Patch>,
    ) {
        let (u, v) = others(axis);
        let [low, high] = pick(solid, axis);
        let plane = if outward { high } else { low };
        // What meets the face. Where several things do, rank decides and not the order of the parts: a guest that stands
        // in this side's wood, then what this part stands in, then what lies before it (a guest over the side that holds
        // it), then the floor, walls and closed air.
        let mut meeting: Vec<Meeting> = Vec::new();
        for (id, other, other_solid) in near {
            let [low, high] = pick(other_solid, axis);
            // Where a guest is flush with what houses it, the host's wood was taken away.
            let housed = self.housings.housed.contains(&(own, *id)) && overlaps(solid, other_solid);
            let flush = housed && plane == if outward { high } else { low };
            let inside = low < plane && plane < high;
            let beside = if outward { low == plane } else { high == plane };
            let nested = self.housings.nested.get(id).copied().unwrap_or(0);
            let rank = match (flush, inside) {
                (true, _) => (0, 0),
                (false, true) => (1, 0),
                (false, false) => (2, u8::MAX - nested),
            };
            if flush || inside || beside {
                let glued = flush || inside || graph.is_glued(part, other);
                let contact = if glued { Contact::Glued(*id) } else { Contact::Butted(*id) };
                meeting.push((rank, [pick(other_solid, u), pick(other_solid, v)], contact));
            }
        }
        if axis == 2 && !outward && plane <= 0 {
            meeting.push(((4, 0), [[-FAR, FAR], [-FAR, FAR]], Contact::Floor));
        }
        for volume in volumes {
            let [low, high] = pick(&volume.solid, axis);
            let beside = if outward { low <= plane && plane < high } else { low < plane && plane <= high };
            if beside {
                meeting.push(((5, 0), [pick(&volume.solid, u), pick(&volume.solid, v)], volume.contact));
            }
        }
        meeting.sort_by_key(|(rank, ..)| *rank);
        let cuts = |direction: usize, at: [i128; 2]| -> Vec<i128> {
            let ends = meeting.iter().filter_map(|(_, sides, _)| sides.get(direction)).flatten().copied();
            let mut cuts: Vec<i128> = ends.filter(|end| at[0] < *end && *end < at[1]).chain(at).collect();
            cuts.sort_unstable();
            cuts.dedup();
            cuts
        };
        let (along_u, along_v) = (cuts(0, pick(solid, u)), cuts(1, pick(solid, v)));
        for (u_low, u_high) in along_u.iter().zip(along_u.iter().skip(1)) {
            for (v_low, v_high) in along_v.iter().zip(along_v.iter().skip(1)) {
                let covers = |sides: &Rectangle| {
                    sides[0][0] <= *u_low
                        && *u_high <= sides[0][1]
                        && sides[1][0] <= *v_low
                        && *v_high <= sides[1][1]
                };
                let contact = meeting
                    .iter()
                    .find(|(_, sides, _)| covers(sides))
                    .map_or(Contact::Open, |(.., contact)| *contact);
                let sides = [[*u_low, *u_high], [*v_low, *v_high]];
                patches.push(Patch { axis, outward, sides, contact, sloped: None });
            }
        }
    }
}

/// The rectangles of what is left where a notch takes the lower front corner out of a part, so high and so deep: those of its two
/// faces end at it, the front edge lies at the back of it, and the lower edge that was over the floor lies open at its top.
fn notched(patches: Vec<Patch>, solid: &Solid, [height, depth]: [i128; 2]) -> Vec<Patch> {
    let (from, to) = (solid[1][1] - depth, solid[2][0] + height);
    let mut left = Vec::new();
    for patch in patches {
        match (patch.axis, patch.outward) {
            (0, _) => {
                // What lies behind the notch, and what is before that over it.
                let [y, z] = patch.sides;
                let behind = [[y[0], y[1].min(from)], z];
                let over = [[y[0].max(from), y[1]], [z[0].max(to), z[1]]];
                left.extend([behind, over].map(|sides| Patch { sides, ..patch }));
            }
            (2, false) => {
                let [x, y] = patch.sides;
                left.push(Patch { sides: [x, [y[0], y[1].min(from)]], ..patch });
                left.push(Patch { sides: [x, [y[0].max(from), y[1]]], contact: Contact::Open, ..patch });
            }
            _ => left.push(patch),
        }
    }
    left.retain(|patch| patch.sides.iter().all(|[low, high]| low < high));
    left
}

/// Boxes by where they lie in x. Those of about one width stand together by their left ends, so that only a stretch of each such
/// list matters to a box, also where another is as wide as the whole run.
struct Along {
    /// By the bits of the width: the place of each in the list that they were given in.
    widths: BTreeMap<u32, Vec<(Solid, usize)>>,
}

impl Along {
    fn new(solids: impl Iterator<Item = Solid>) -> Self {
        let mut widths: BTreeMap<u32, Vec<(Solid, usize)>> = BTreeMap::new();
        for (place, solid) in solids.enumerate() {
            widths.entry(bits(solid[0][1] - solid[0][0])).or_default().push((solid, place));
        }
        widths.values_mut().for_each(|solids| solids.sort_by_key(|(solid, _)| solid[0][0]));
        Self { widths }
    }

    /// The places of those that touch a box, in order.
    fn touching(&self, solid: &Solid) -> Vec<usize> {
        let mut found = Vec::new();
        for (bits, solids) in &self.widths {
            let widest = 1_i128.checked_shl(*bits).unwrap_or(i128::MAX);
            let least = solid[0][0].saturating_sub(widest);
            let from = solids.partition_point(|(other, _)| other[0][0] < least);
            let near = solids.iter().skip(from).take_while(|(other, _)| other[0][0] <= solid[0][1]);
            found.extend(near.filter(|(other, _)| touches(solid, other)).map(|(_, place)| *place));
        }
        found.sort_unstable();
        found
    }
}

/// How many bits a width takes: it is less than two to this power.
fn bits(width: i128) -> u32 {
    i128::BITS - width.max(0).leading_zeros()
}

/// The two directions in the plane of a face.
fn others(axis: usize) -> (usize, usize) {
    match axis {
        0 => (1, 2),
        1 => (0, 2),
        _ => (0, 1),
    }
}

fn pick(solid: &Solid, axis: usize) -> [i128; 2] {
    solid.get(axis).copied().unwrap_or_default()
}

fn touches(a: &Solid, b: &Solid) -> bool {
    a.iter().zip(b).all(|(a, b)| a[0] <= b[1] && b[0] <= a[1])
}

/// Whether two boxes share more than a face.
fn overlaps(a: &Solid, b: &Solid) -> bool {
    a.iter().zip(b).all(|(a, b)| a[0] < b[1] && b[0] < a[1])
}
