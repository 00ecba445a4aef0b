//! The faces of all parts as a partition: each is cut into rectangles by what touches it, and the rectangles sum to the
//! face exactly. Paint, glue, caulk and hidden faces all read this one partition.
//!
//! Places are whole ticks of a common unit. Where fractions are too odd to have one, a tick is a billionth of a millimetre
//! and places are rounded to it: equal places stay equal, so that it is a partition all the same. A guest that is housed in a host overlaps it:
//! what lies inside the host is glued, and so is the rectangle that the guest takes of the host's face.

mod cut;
mod slanted;

use self::slanted::Slanted;
use super::{Group, Hand, HungPart, Joint, JointKind, Part, PartGraph, PartId, Role, RunPart, Unit, UnitId};
use crate::eval::Return;
use crate::quantity::{Length, Rational};
use num_integer::Integer;
use num_rational::Ratio;
use std::collections::{BTreeMap, BTreeSet};

/// The most ticks in a millimetre; areas of rooms in square ticks are then still far from overflow.
const FINEST: i128 = 1_000_000_000;
/// Larger than any building: places beyond it are not taken, so that no sum or area of ticks overflows.
const LARGEST: i128 = 10_000_000_000_000_000;
/// Farther than any building, in ticks.
const FAR: i128 = i128::MAX / 4;

/// What a rectangle of a face meets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Contact {
    /// Glue, and the part beyond it.
    Glued(PartId),
    /// Another part, without glue.
    Butted(PartId),
    /// A wall.
    Wall,
    /// The floor.
    Floor,
    /// Air that nobody reaches: the kick space, the space behind a crown, the gap between an end side and its wall.
    Closed,
    /// The air of the room: it is painted.
    Open,
}

/// A rectangle of a face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Patch {
    /// The direction that the face looks in: 0 for x, 1 for y, 2 for z.
    pub axis: usize,
    /// Whether it looks to greater values: right, front, up.
    pub outward: bool,
    /// Its lower and upper ends along the other two directions, in their order, in ticks.
    pub sides: [[i128; 2]; 2],
    /// What it meets.
    pub contact: Contact,
    /// What a slope leaves of it, where that cuts through it.
    pub sloped: Option<Sloped>,
}

/// What a slope leaves of a rectangle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sloped {
    /// Its area in square ticks.
    ticks: i128,
    /// Whether it takes the corner at the rear; else the one at the front.
    rear: bool,
}

/// All rectangles of one part.
#[derive(Clone, Debug)]
pub struct Surface {
    /// The part.
    pub part: PartId,
    /// Its box: lower and upper ends in x, y, z, in ticks.
    pub solid: [[i128; 2]; 3],
    /// The rectangles of its six faces.
    pub patches: Vec<Patch>,
}

/// The faces of all parts.
#[derive(Clone, Debug, Default)]
pub struct Faces {
    /// Ticks in a millimetre.
    scale: i128,
    /// By part, in the order of the graph.
    pub surfaces: Vec<Surface>,
}

impl Patch {
    /// Its area in square ticks.
    #[must_use]
    pub fn ticks(&self) -> i128 {
        if let Some(sloped) = self.sloped {
            return sloped.ticks;
        }
        self.sides.iter().map(|[low, high]| high.saturating_sub(*low)).fold(1, i128::saturating_mul)
    }
}

impl Faces {
    /// Square ticks as square millimetres.
    #[must_use]
    pub fn area(&self, ticks: i128) -> Rational {
        Ratio::new(ticks, self.scale.saturating_mul(self.scale).max(1))
    }

    /// Ticks as a length.
    #[must_use]
    pub fn length(&self, ticks: i128) -> Length {
        Length::from_mm(Ratio::new(ticks, self.scale.max(1)))
    }

    /// The runs of caulk on a part: where its open faces meet the wall behind the units, by the direction of the face, first of
    /// those that look to lesser values.
    #[must_use]
    pub fn wall_edges(&self, surface: &Surface) -> [[i128; 2]; 3] {
        let mut edges = [[0; 2]; 3];
        // What a slope takes at the rear does not reach the wall.
        let at_wall = |patch: &&Patch| patch.sloped.is_none_or(|sloped| !sloped.rear);
        for patch in surface.patches.iter().filter(|patch| patch.contact == Contact::Open).filter(at_wall) {
            // The y direction is the second of x and y, and the first of y and z.
            let (y, along) = match patch.axis {
                0 => (patch.sides[0], patch.sides[1]),
                2 => (patch.sides[1], patch.sides[0]),
                _ => continue,
            };
            if let Some([lesser, greater]) = edges.get_mut(patch.axis).filter(|_| y[0] == 0) {
                *if patch.outward { greater } else { lesser } += along[1] - along[0];
            }
        }
        edges
    }
}

/// Lower and upper ends in x, y, z, in ticks.
type Solid = [[i128; 2]; 3];

/// A box that is no part: closed air, a wall.
struct Volume {
    solid: Solid,
    contact: Contact,
}

/// Parts and volumes that may touch each other.
struct Scene<'a> {
    parts: Vec<(PartId, &'a Part, Solid)>,
    volumes: Vec<Volume>,
    housings: &'a Housings,
    /// The notches of sides: how high and how deep.
    notches: BTreeMap<PartId, [i128; 2]>,
    /// The corners that a slope takes of sides and dividers.
    slanted: BTreeMap<PartId, Slanted>,
    /// Shelves whose rear edges nobody reaches, since they end at a slope.
    at_slope: BTreeSet<PartId>,
}

/// What is housed in what.
#[derive(Default)]
struct Housings {
    /// The host, then the guest.
    housed: BTreeSet<(PartId, PartId)>,
    /// How deep each part is nested: a side 0, a shelf in it 1, a divider in that 2.
    nested: BTreeMap<PartId, u8>,
}

impl PartGraph {
    /// The partition of all faces; `None` where sizes are too large to be held in ticks. It is worked out once, so no size
    /// may change after it was asked for.
    #[must_use]
    pub fn faces(&self) -> Option<&Faces> {
        self.cut.get_or_init(|| self.cut_faces()).as_ref()
    }

    fn cut_faces(&self) -> Option<Faces> {
        let (scale, groups, housings) = (self.scale(), self.groups(), self.housings());
        // The parts of each run, then of each carcass that stands alone.
        let mut own: Vec<Vec<(PartId, &Part)>> = Vec::new();
        for (id, part) in self.numbered().filter(|(_, part)| part.role != Role::CeilingPanel) {
            let Some(&group) = Group::of(part).and_then(|group| groups.get(&group)) else { continue };
            if own.len() <= group {
                own.resize(group + 1, Vec::new());
            }
            if let Some(parts) = own.get_mut(group) {
                parts.push((id, part));
            }
        }
        let alone =
            self.numbered_units().filter(|(_, unit)| unit.run.is_none()).map(|(id, _)| (vec![id], None));
        let runs = self.runs.iter().map(|run| (run.units.clone(), Some(run)));
        let mut surfaces = Vec::new();
        for ((units, run), own) in runs.chain(alone).zip(&own) {
            surfaces.extend(self.scene(scale, &units, run, own, &housings)?.surfaces(self));
        }
        surfaces.sort_by_key(|surface| surface.part);
        Some(Faces { scale, surfaces })
    }

    /// Ticks in a millimetre: the least common denominator of all sizes and places, or the finest there is.
    fn scale(&self) -> i128 {
        let mut denominators: BTreeSet<i128> = BTreeSet::new();
        for part in &self.parts {
            let (size, place) = (part.size, part.place);
            let lens = [size.thickness, size.width, part.seen_length(), place.x, place.y, place.z];
            denominators.extend(lens.map(|len| *len.value.mm().denom()));
        }
        let corners = self.parts.iter().filter_map(|part| self.corner(part));
        let sloped: Vec<Length> = corners.flat_map(|corner| [corner.deep, corner.high]).collect();
        denominators.extend(sloped.iter().map(|length| *length.mm().denom()));
        if !sloped.is_empty() {
            denominators.insert(slanted::FINE);
        }
        let units = self.units.iter().flat_map(|unit| [unit.x, unit.stands]).flatten();
        denominators.extend(units.map(|len| *len.value.mm().denom()));
        let common = denominators.into_iter().try_fold(1_i128, |scale, denominator| {
            let scale = scale.checked_mul(denominator.checked_div(scale.gcd(&denominator))?)?;
            (scale <= FINEST).then_some(scale)
        });
        common.unwrap_or(FINEST)
    }

    fn scene<'a>(
        &'a self,
        scale: i128,
        units: &[UnitId],
        run: Option<&RunPart>,
        own: &[(PartId, &'a Part)],
        housings: &'a Housings,
    ) -> Option<Scene<'a>> {
        let parts: Option<Vec<(PartId, &Part, Solid)>> =
            own.iter().map(|(id, part)| Some((*id, *part, self.solid(scale, part)?))).collect();
        let parts = parts?;
        let mut volumes =
            vec![Volume { solid: [[-FAR, FAR], [-FAR, 0], [-FAR, FAR]], contact: Contact::Wall }];
        for (position, id) in units.iter().enumerate() {
            self.unit_volumes(scale, *id, run, &mut volumes)?;
            if let Some(run) = run {
                let unit = self.unit(*id)?;
                let ends = [(position == 0, 0_usize), (position + 1 == units.len(), 1)];
                for (_, end) in ends.into_iter().filter(|(is, _)| *is) {
                    self.end_volumes(scale, run, (*id, unit), end, &parts, &mut volumes)?;
                }
            }
        }
        for hung in run.into_iter().flat_map(|run| &run.hung) {
            self.unit_volumes(scale, hung.unit, run, &mut volumes)?;
            self.beside_hung(scale, hung, &mut volumes)?;
        }
        // Stiles and rails all reach the floor, which slopes: where one is modelled a hair lower than its neighbour, its end
        // is not seen.
        let ends = [units.first(), units.last()].map(|id| self.unit(*id?));
        if let [Some(first), Some(last)] = ends {
            let left = ticks(scale, &[left_face(first)])?;
            let right = ticks(scale, &[left_face(last), last.width.value])?;
            let back = ticks(scale, &[first.depth.value])?;
            let front = parts
                .iter()
                .filter(|(_, part, _)| part.role.is_facing())
                .map(|(_, _, solid)| solid[1][1])
                .max();
            let solid = [[left, right], [back, front.unwrap_or(back)], [-FAR, 0]];
            volumes.push(Volume { solid, contact: Contact::Closed });
        }
        let notched = own.iter().filter_map(|(id, part)| Some((*id, self.notch(part)?)));
        let notches: Option<BTreeMap<PartId, [i128; 2]>> = notched
            .map(|(id, [height, depth])| Some((id, [ticks(scale, &[height])?, ticks(scale, &[depth])?])))
            .collect();
        let slanted = own.iter().filter_map(|(id, part)| Some((*id, self.slanted(scale, part)?))).collect();
        let at_slope = own.iter().filter(|(_, part)| self.is_at_slope(part)).map(|(id, _)| *id).collect();
        Some(Scene { parts, volumes, housings, notches: notches?, slanted, at_slope })
    }

    /// What is housed in what, and how deep each part is nested.
    fn housings(&self) -> Housings {
        let mut all = Housings::default();
        // A host is joined before its guests are, so one pass is enough.
        // Parts are seen from shoulder to shoulder: a tenon overlaps nothing.
        let housed = |joint: &&Joint| !matches!(joint.kind, JointKind::Butt | JointKind::Mortise { .. });
        for joint in self.joints.iter().filter(housed) {
            all.housed.insert((joint.host, joint.guest));
            let host = all.nested.get(&joint.host).copied().unwrap_or(0);
            let guest = all.nested.entry(joint.guest).or_default();
            *guest = (*guest).max(host.saturating_add(1));
        }
        all
    }

    /// A part's box in the run: its thickness, width and length laid along x, y and z as its role stands.
    fn solid(&self, scale: i128, part: &Part) -> Option<Solid> {
        let unit = part.unit.and_then(|unit| self.unit(unit));
        let (shift, stands) = (unit.map_or(Length::ZERO, left_face), unit.map_or(Length::ZERO, stands));
        let mut solid = [[0; 2]; 3];
        let places = [part.place.x, part.place.y, part.place.z];
        let shifts = [shift, Length::ZERO, stands];
        for (((end, place), size), shift) in solid.iter_mut().zip(places).zip(part.extent()).zip(shifts) {
            let low = [shift, place.value];
            *end = [ticks(scale, &low)?, ticks(scale, &[shift, place.value, size.value])?];
        }
        Some(solid)
    }

    /// Closed air of one unit: under it, in its kick space, and over its top shelf where a crown closes that.
    fn unit_volumes(
        &self,
        scale: i128,
        id: UnitId,
        run: Option<&RunPart>,
        volumes: &mut Vec<Volume>,
    ) -> Option<()> {
        let unit = self.unit(id)?;
        let parts = || self.parts_of(id);
        let at = |lengths: &[Length]| ticks(scale, lengths);
        let (face, thickness) = (left_face(unit), self.sheet(unit.sheet)?.thickness.value);
        let depth = [0, at(&[unit.depth.value])?];
        let outside = [at(&[face])?, at(&[face, unit.width.value])?];
        let inside = [at(&[face, thickness])?, at(&[face, unit.clear.value, thickness])?];
        let mut closed = |solid| volumes.push(Volume { solid, contact: Contact::Closed });
        let stands = stands(unit);
        // What hangs is seen from below.
        let foot = if unit.hung { at(&[stands])? } else { -FAR };
        if !unit.hung {
            closed([outside, depth, [-FAR, 0]]);
        }
        // What stands behind a toe space is seen.
        let toe = unit.toe.map_or(Length::ZERO, |[_, depth]| depth.value);
        let kick = [0, depth[1].saturating_sub(at(&[toe])?)];
        if !unit.hung {
            closed([outside, kick, [-FAR, at(&[stands])?]]);
        }
        if let Some(back) = parts().find(|part| part.role == Role::Back) {
            let (front, top) = (at(&[back.place.y.value])?, at(&[unit.height.value, stands])?);
            let rear = at(&[back.place.y.value, back.size.thickness.value])?;
            // Behind a back in grooves, and under one that is planted on.
            closed([inside, [0, front], [foot, top]]);
            closed([outside, [0, rear], [foot, at(&[back.place.z.value, stands])?]]);
        }
        // Shelves of bays lie between the lowest and the highest one of the carcass.
        let shelves = || parts().filter(|part| matches!(part.role, Role::Shelf | Role::Top));
        let lowest = shelves().min_by_key(|shelf| shelf.place.z.value);
        let highest = shelves().max_by_key(|shelf| shelf.place.z.value);
        let kicked = parts().any(|part| {
            part.role == Role::BottomRail
                || matches!(part.role, Role::Stretcher(super::StretcherAt::Bottom, super::Face::Front))
        });
        if let (true, Some(bottom)) = (kicked && !unit.hung, lowest) {
            closed([inside, kick, [-FAR, at(&[bottom.place.z.value, stands])?]]);
        }
        let crown = run.and_then(|run| run.crown.as_ref());
        let crowned = crown.is_some_and(|crown| crown.lines.iter().flatten().any(|own| *own == id));
        if let (true, Some(top)) = (crowned, highest) {
            let over = at(&[top.place.z.value, top.size.thickness.value, stands])?;
            closed([inside, depth, [over, FAR]]);
            // Behind the crown lie the ends of the sides and the tops of rails and stiles.
            closed([[-FAR, FAR], [0, FAR], [at(&[unit.height.value, stands])?, FAR]]);
        }
        Some(())
    }

    /// The play between what hangs and the units beside it, as high and as deep as both are: nobody sees into it.
    fn beside_hung(&self, scale: i128, hung: &HungPart, volumes: &mut Vec<Volume>) -> Option<()> {
        let unit = self.unit(hung.unit)?;
        let (low, high) = (stands(unit), unit.top()?);
        let own = [left_face(unit), left_face(unit).checked_add(unit.width.value)?];
        for (end, other) in
            hung.beside.into_iter().enumerate().filter_map(|(end, id)| Some((end, self.unit(id?)?)))
        {
            let (other_left, high) = (left_face(other), high.min(other.top()?));
            let along = if end == 0 {
                [other_left.checked_add(other.width.value)?, own[0]]
            } else {
                [own[1], other_left]
            };
            let deep = unit.depth.value.min(other.depth.value);
            let [from, to] = [ticks(scale, &[along[0]])?, ticks(scale, &[along[1]])?];
            let solid =
                [[from, to], [0, ticks(scale, &[deep])?], [ticks(scale, &[low])?, ticks(scale, &[high])?]];
            if from < to {
                volumes.push(Volume { solid, contact: Contact::Closed });
            }
        }
        Some(())
    }

    /// The wall beyond an end, and the closed gap between it and the outer side.
    fn end_volumes(
        &self,
        scale: i128,
        run: &RunPart,
        (id, unit): (UnitId, &Unit),
        end: usize,
        parts: &[(PartId, &Part, Solid)],
        volumes: &mut Vec<Volume>,
    ) -> Option<()> {
        let narrow = run.gaps.and_then(|gaps| gaps.get(end).copied()).is_some_and(|gap| gap.value < brush());
        let Some(own) = run.ends.get(end) else { return Some(()) };
        if own.meets == Return::Open && !(own.is_mid_wall() && narrow) {
            return Some(());
        }
        let left = ticks(scale, &[left_face(unit)])?;
        let right = ticks(scale, &[left_face(unit), unit.width.value])?;
        let depth = ticks(scale, &[unit.depth.value])?;
        let (gap, hand) = if end == 0 { ([-FAR, left], Hand::Left) } else { ([right, FAR], Hand::Right) };
        // What closes the gap is fixed to the outer side: the end stile, or a filler strip. In mid-wall nothing does.
        let stile = run.end_stiles.get(end).copied().flatten().filter(|_| !own.is_mid_wall());
        let side = self.parts_of(id).find(|part| part.role == Role::Side(hand)).map(|side| side.id);
        let filler = side.and_then(|side| self.fixed_to(side, Role::Filler)).map(|filler| filler.id);
        let closes = stile.or(filler);
        let strip = parts.iter().find(|(part, ..)| Some(*part) == closes);
        if let Some((_, _, stile)) = strip {
            let wall = if end == 0 { [-FAR, stile[0][0]] } else { [stile[0][1], FAR] };
            volumes.push(Volume { solid: [wall, [-FAR, FAR], [-FAR, FAR]], contact: Contact::Wall });
        }
        // Where nothing closes it, nobody reaches into a gap that takes no hand with a brush.
        if strip.is_some() || narrow {
            // What lies over all of it, as a counter does, is seen from above.
            let high = parts.iter().map(|(_, _, solid)| solid[2][1]).max().unwrap_or(FAR);
            volumes.push(Volume { solid: [gap, [0, depth], [-FAR, high]], contact: Contact::Closed });
        }
        Some(())
    }

    /// The corner that a toe space takes out of a side that stands on the floor: its height and its depth.
    #[must_use]
    pub fn notch(&self, part: &Part) -> Option<[Length; 2]> {
        let unit = part.unit.and_then(|unit| self.unit(unit)).filter(|unit| unit.stands.is_none())?;
        let side = matches!(part.role, Role::Side(_));
        unit.toe.filter(|_| side).map(|toe| toe.map(|size| size.value))
    }

    /// Whether the faces of two parts that touch are glued: facing on carcass, a cleat under its shelf.
    fn is_glued(&self, a: &Part, b: &Part) -> bool {
        let strip = |a: &Part, b: &Part| a.role == Role::Loose && b.role == Role::LooseStrip;
        let facing = a.role.is_facing() != b.role.is_facing() || strip(a, b) || strip(b, a);
        let cleat = |a: &Part, b: &Part| a.role == Role::Cleat && matches!(b.role, Role::Shelf | Role::Top);
        facing || ((cleat(a, b) || cleat(b, a)) && a.place.z.value != b.place.z.value)
    }
}

/// What a hand with a brush needs: 4 in (common practice, no source).
fn brush() -> Length {
    Length::from_inches(Rational::from(4)).unwrap_or_default()
}

/// Where the left face of a unit lies in its run.
fn left_face(unit: &Unit) -> Length {
    unit.x.map_or(Length::ZERO, |x| x.value)
}

/// How high the bottom end of a unit's sides stands over the level line.
fn stands(unit: &Unit) -> Length {
    unit.stands.map_or(Length::ZERO, |stands| stands.value)
}

/// The sum of lengths, exact, in whole ticks; `None` where it is too large.
fn ticks(scale: i128, lengths: &[Length]) -> Option<i128> {
    let sum = lengths.iter().try_fold(Length::ZERO, |sum, length| sum.checked_add(*length))?;
    let ticks = sum.checked_mul(Rational::from(scale))?.mm().round().to_integer();
    (ticks.abs() < LARGEST).then_some(ticks)
}
