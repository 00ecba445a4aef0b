//! What is painted, glued and caulked, by run: all read from the partition of the faces.

use super::{
    Contact, Face, Faces, Group, Hand, JointKind, Opening, Part, PartGraph, PartId, Patch, Role, RowKind,
    State, Surface, UnitId,
};
use crate::quantity::{Dim, Estimate, Exact, Length, Rational, to_f64};
use num_traits::{CheckedAdd, CheckedMul};
use std::collections::{BTreeMap, BTreeSet};

/// A class of painted faces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PaintClass {
    /// Tops and undersides of shelves.
    Shelves,
    /// Cleats.
    Cleats,
    /// Sides, as seen from inside.
    Insides,
    /// The back of what hangs before an opening: strips, rails, laps of stiles.
    HiddenBacks,
    /// Faces of the facing, seen from the room.
    FacingFaces,
    /// Edges of the facing.
    FacingEdges,
    /// The outer face of a side at an open end.
    OpenSides,
    /// A top that is seen from above.
    Tops,
    /// Stretchers that are seen.
    Stretchers,
    /// Backs.
    Backs,
}

impl PaintClass {
    /// What lists call it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Shelves => "shelves",
            Self::Cleats => "cleats",
            Self::Insides => "insides of sides",
            Self::HiddenBacks => "backs of strips, rails and stile laps",
            Self::FacingFaces => "faces of the facing",
            Self::FacingEdges => "edges of the facing",
            Self::OpenSides => "open sides",
            Self::Tops => "tops seen from above",
            Self::Stretchers => "stretchers that are seen",
            Self::Backs => "backs",
        }
    }
}

/// Where glue goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum GlueClass {
    /// Into dados and rabbets.
    Housings,
    /// Between a cleat and its shelf.
    Cleats,
    /// Between facing and carcass.
    Facing,
    /// Between rails and stiles of a frame: ends, and the cheeks of tenons.
    Frame,
    /// Between a panel and the ceiling.
    CeilingPanel,
}

/// A run of caulk.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CaulkClass {
    /// Where a stile meets a wall.
    Stiles,
    /// Where an open top meets the wall.
    Tops,
    /// Where an open side meets the wall.
    OpenSides,
    /// Where the insides of sides meet the wall.
    Sides,
    /// Where shelf tops meet the wall.
    ShelfBacks,
    /// Where undersides of cleats meet the wall.
    Cleats,
    /// Where the edges of rear stretchers meet the wall.
    Stretchers,
}

impl CaulkClass {
    /// What lists call it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Stiles => "stiles along walls",
            Self::Tops => "open tops along the wall",
            Self::OpenSides => "open sides along the wall",
            Self::Sides => "insides of sides along the wall",
            Self::ShelfBacks => "shelf tops along the wall",
            Self::Cleats => "cleats along the wall",
            Self::Stretchers => "stretchers along the wall",
        }
    }
}

/// Areas and lengths of one run, or of a carcass that stands alone.
#[derive(Clone, Debug, Default)]
pub struct Surfaces {
    /// The run or carcass.
    pub path: String,
    /// Painted areas in square millimetres; the crown's is an estimate and stands apart.
    pub paint: BTreeMap<PaintClass, Rational>,
    /// The crown's painted area.
    pub crown: Option<Estimate>,
    /// Wall that stays to be seen behind the openings.
    pub wall_behind: Rational,
    /// Glued areas.
    pub glue: BTreeMap<GlueClass, Rational>,
    /// Runs of caulk; along the crown an estimate.
    pub caulk: BTreeMap<CaulkClass, Length>,
    /// Caulk along the crown.
    pub crown_caulk: Option<Estimate>,
}

/// The same in ticks and square ticks, while they are summed.
#[derive(Default)]
struct Sums {
    paint: BTreeMap<PaintClass, i128>,
    glue: BTreeMap<GlueClass, i128>,
    caulk: BTreeMap<CaulkClass, i128>,
}

impl Surfaces {
    /// All that is painted.
    #[must_use]
    pub fn painted(&self) -> Estimate {
        let exact: f64 = self.paint.values().map(|area| to_f64(*area)).sum();
        Estimate { value: exact + self.crown.map_or(0.0, |crown| crown.value), dim: Dim::AREA }
    }

    /// All that is glued.
    #[must_use]
    pub fn glued(&self) -> Exact {
        let total = self.glue.values().try_fold(Rational::from(0), |sum, area| sum.checked_add(area));
        Exact { value: total.unwrap_or_default(), dim: Dim::AREA }
    }

    /// All runs of caulk.
    #[must_use]
    pub fn caulked(&self) -> Estimate {
        let exact: f64 = self.caulk.values().map(|length| length.to_mm_f64()).sum();
        Estimate { value: exact + self.crown_caulk.map_or(0.0, |crown| crown.value), dim: Dim::LENGTH }
    }
}

/// Which work is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Work {
    /// All that is left to do.
    Left,
    /// All of it, done or not.
    Whole,
}

impl PartGraph {
    /// Paint, glue and caulk by run, then by carcass that stands alone.
    #[must_use]
    pub fn surfaces(&self, faces: &Faces, work: Work) -> Vec<Surfaces> {
        let left = |part: PartId, state: State| work == Work::Whole || !self.reached(part, state);
        let alone = self.units.iter().filter(|unit| unit.run.is_none()).map(|unit| &unit.path);
        let paths = self.runs.iter().map(|run| &run.path).chain(alone);
        let mut all: Vec<Surfaces> =
            paths.map(|path| Surfaces { path: path.clone(), ..Surfaces::default() }).collect();
        let groups = self.groups();
        let position = |part: &Part| Group::of(part).and_then(|group| groups.get(&group)).copied();
        let mut sums: Vec<Sums> = all.iter().map(|_| Sums::default()).collect();
        let hosts: BTreeSet<(PartId, PartId)> =
            self.joints.iter().map(|joint| (joint.host, joint.guest)).collect();
        for surface in &faces.surfaces {
            let Some(part) = self.part(surface.part) else { continue };
            if let Some(sums) = position(part).and_then(|group| sums.get_mut(group)) {
                let [glue, paint] = [State::Glued, State::Painted].map(|state| left(part.id, state));
                let paint = paint && !part.role.is_drawer_box();
                self.paint_and_glue(part, surface, (&hosts, glue, paint), sums);
                if paint {
                    caulk(faces, part, surface, sums);
                }
            }
        }
        for (out, sums) in all.iter_mut().zip(sums) {
            out.paint = sums.paint.into_iter().map(|(class, ticks)| (class, faces.area(ticks))).collect();
            out.glue = sums.glue.into_iter().map(|(class, ticks)| (class, faces.area(ticks))).collect();
            out.caulk = sums.caulk.into_iter().map(|(class, ticks)| (class, faces.length(ticks))).collect();
        }
        for joint in &self.joints {
            let facing = |guest: &&Part| guest.role.is_facing() && left(guest.id, State::Glued);
            let Some(guest) = self.part(joint.guest).filter(facing) else { continue };
            let Some(out) = position(guest).and_then(|group| all.get_mut(group)) else { continue };
            let glued = out.glue.entry(GlueClass::Frame).or_default();
            *glued = end_of_rail(guest, joint.kind).and_then(|end| glued.checked_add(&end)).unwrap_or(*glued);
        }
        let stuck = self.rows.iter().filter(|row| row.kind == RowKind::CeilingPanel && row.glued);
        let stuck: BTreeSet<PartId> = stuck.filter_map(|row| row.guest.part()).collect();
        for part in stuck.into_iter().filter(|id| left(*id, State::Fixed)).filter_map(|id| self.part(id)) {
            let Some(out) = position(part).and_then(|group| all.get_mut(group)) else { continue };
            let face = part.size.length.value.mm().checked_mul(&part.size.width.value.mm());
            out.glue.extend(face.map(|face| (GlueClass::CeilingPanel, face)));
        }
        let backs = self.parts.iter().filter(|part| part.role == Role::Back).filter_map(|part| part.unit);
        let backed: BTreeSet<UnitId> = backs.collect();
        let closed = |opening: &&Opening| opening.under.is_some() && !opening.divided;
        for opening in self.openings.iter().filter(closed).filter(|opening| !backed.contains(&opening.unit)) {
            let rear = self.wall_seen(opening);
            let seen = opening.clear_width.value.mm().checked_mul(&rear.mm());
            let group = self.part(opening.on).and_then(position);
            let out = group.and_then(|group| all.get_mut(group));
            if let Some((out, seen)) = out.zip(seen) {
                out.wall_behind = out.wall_behind.checked_add(&seen).unwrap_or(out.wall_behind);
            }
        }
        for (run, out) in self.runs.iter().zip(&mut all) {
            let Some(crown) = &run.crown else { continue };
            let mean = |piece: &super::CrownPiece| (piece.foot.value.to_mm_f64() + piece.top.value) / 2.0;
            let long: f64 = crown.pieces.iter().map(mean).sum();
            if work == Work::Left && self.is_painted(run) {
                continue;
            }
            out.crown = Some(Estimate { value: crown.width.value.to_mm_f64() * long, dim: Dim::AREA });
            let top: f64 = crown.pieces.iter().map(|piece| piece.top.value).sum();
            out.crown_caulk = Some(Estimate { value: top, dim: Dim::LENGTH });
        }
        all
    }

    /// How high the wall behind an opening is seen: a slope that rises from it ends it.
    fn wall_seen(&self, opening: &Opening) -> Length {
        let rear = opening.opening_rear.value;
        let slant = self.unit(opening.unit).and_then(|unit| unit.slant).filter(|slant| !slant.falls);
        let knee = slant.and_then(|slant| slant.low.value.checked_add(slant.gap.value));
        let floor = self.part(opening.on);
        let floor = floor.and_then(|on| on.place.z.value.checked_add(on.size.thickness.value));
        match knee.zip(floor).and_then(|(knee, floor)| knee.checked_sub(floor)) {
            Some(knee) => rear.min(knee.max(Length::ZERO)),
            None => rear,
        }
    }

    fn paint_and_glue(
        &self,
        part: &Part,
        surface: &Surface,
        (hosts, glue, paint): (&BTreeSet<(PartId, PartId)>, bool, bool),
        out: &mut Sums,
    ) {
        for patch in &surface.patches {
            let add = |sum: &mut i128| *sum = sum.saturating_add(patch.ticks());
            match patch.contact {
                Contact::Open if !paint => {}
                Contact::Glued(_) if !glue => {}
                Contact::Open => {
                    add(out.paint.entry(part.role.painted(patch.axis, patch.outward)).or_default())
                }
                // The glue of a housing counts at its guest.
                Contact::Glued(other) if hosts.contains(&(part.id, other)) => {}
                Contact::Glued(other) => {
                    let Some(other) = self.part(other) else { continue };
                    if let Some(class) = part.role.glued_to(other.role) {
                        add(out.glue.entry(class).or_default());
                    }
                }
                Contact::Butted(_) | Contact::Wall | Contact::Floor | Contact::Closed => {}
            }
        }
    }
}

/// The end of a rail and the cheeks of its tenon, in square millimetres; `None` on overflow.
fn end_of_rail(rail: &Part, joint: JointKind) -> Option<Rational> {
    let [width, thickness] = [rail.size.width, rail.size.thickness].map(|len| len.value.mm());
    let cheeks = joint.depth().map_or(Rational::from(0), |depth| depth.value.mm()).checked_mul(&2.into())?;
    width.checked_mul(&thickness.checked_add(&cheeks)?)
}

fn caulk(faces: &Faces, part: &Part, surface: &Surface, out: &mut Sums) {
    let [[left, right], _, [below, above]] = faces.wall_edges(surface);
    let mut add = |class: CaulkClass, ticks: i128| {
        if ticks > 0 {
            let sum = out.caulk.entry(class).or_default();
            *sum = sum.saturating_add(ticks);
        }
    };
    if let Some(class) = part.role.caulked_behind() {
        add(class, below + above);
    }
    let tall = surface.solid[2][1] - surface.solid[2][0];
    if let Role::Side(hand) = part.role {
        let [outer, inner] = if hand == Hand::Left { [left, right] } else { [right, left] };
        add(CaulkClass::OpenSides, outer);
        add(CaulkClass::Sides, inner);
    }
    if part.role == Role::Divider {
        add(CaulkClass::Sides, left + right);
    }
    let at_wall = |patch: &Patch| patch.axis == 0 && patch.contact == Contact::Wall;
    if part.role == Role::Stile && surface.patches.iter().any(at_wall) {
        add(CaulkClass::Stiles, tall);
    }
}

impl Role {
    /// Where a face that is glued to another part counts; `None` where it counts there: each glued face is counted once, by the
    /// guest of a housing, the cleat, the facing.
    fn glued_to(self, other: Self) -> Option<GlueClass> {
        match self {
            Self::Shelf | Self::Top => {
                matches!(other, Self::Side(_) | Self::Divider).then_some(GlueClass::Housings)
            }
            Self::Divider => matches!(other, Self::Shelf | Self::Top).then_some(GlueClass::Housings),
            Self::Cleat => Some(GlueClass::Cleats),
            Self::Filler | Self::Stile | Self::Strip | Self::TopRail | Self::BottomRail => {
                Some(GlueClass::Facing)
            }
            Self::Side(_)
            | Self::Stretcher(..)
            | Self::Loose
            | Self::LooseStrip
            | Self::Back
            | Self::Counter
            | Self::Door
            | Self::DrawerFront
            | Self::DrawerSide(_)
            | Self::DrawerEnd(_)
            | Self::DrawerBottom
            | Self::BaseRail(_)
            | Self::Rib
            | Self::CeilingPanel => None,
        }
    }

    /// Where the level edges along the wall count that are caulked; `None` of what is not caulked there.
    fn caulked_behind(self) -> Option<CaulkClass> {
        match self {
            Self::Side(_) | Self::Top => Some(CaulkClass::Tops),
            Self::Shelf => Some(CaulkClass::ShelfBacks),
            Self::Cleat => Some(CaulkClass::Cleats),
            Self::Stretcher(_, Face::Rear) => Some(CaulkClass::Stretchers),
            Self::Stile
            | Self::Stretcher(_, Face::Front)
            | Self::Divider
            | Self::Loose
            | Self::LooseStrip
            | Self::Back
            | Self::Counter
            | Self::Door
            | Self::DrawerFront
            | Self::DrawerSide(_)
            | Self::DrawerEnd(_)
            | Self::DrawerBottom
            | Self::BaseRail(_)
            | Self::Rib
            | Self::Filler
            | Self::Strip
            | Self::TopRail
            | Self::BottomRail
            | Self::CeilingPanel => None,
        }
    }

    /// Where an open face counts: across the axis, at the greater end of it or the lesser one.
    fn painted(self, axis: usize, outward: bool) -> PaintClass {
        let above = (axis, outward) == (2, true);
        match self {
            Self::Shelf | Self::Loose => PaintClass::Shelves,
            Self::LooseStrip => PaintClass::FacingFaces,
            Self::Door | Self::DrawerFront if axis == 1 => PaintClass::FacingFaces,
            Self::Door | Self::DrawerFront => PaintClass::FacingEdges,
            Self::DrawerSide(_) | Self::DrawerEnd(_) | Self::DrawerBottom => PaintClass::Insides,
            Self::Counter => PaintClass::Tops,
            Self::Divider => PaintClass::Insides,
            Self::Top | Self::Side(_) | Self::Back if above => PaintClass::Tops,
            Self::Top => PaintClass::Shelves,
            Self::Back => PaintClass::Backs,
            Self::Cleat => PaintClass::Cleats,
            Self::Side(hand) if axis == 0 && outward == (hand == Hand::Right) => PaintClass::OpenSides,
            Self::Side(_) => PaintClass::Insides,
            Self::Stile | Self::Strip | Self::TopRail | Self::BottomRail | Self::Filler => {
                match (axis, outward) {
                    (1, true) => PaintClass::FacingFaces,
                    (1, false) => PaintClass::HiddenBacks,
                    _ => PaintClass::FacingEdges,
                }
            }
            Self::Stretcher(..) | Self::BaseRail(_) | Self::Rib | Self::CeilingPanel => {
                PaintClass::Stretchers
            }
        }
    }
}
