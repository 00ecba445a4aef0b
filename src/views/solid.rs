//! Parts as they stand in the room, and their outlines from the front, from the side and from above.

use super::Subject;
use super::picture::{Extent, Filled, Spot};
use crate::eval::{ReadingAt, Wall};
use crate::parts::{Bounds, Fitted, Hand, Part, PartId, Role, RunId, RunPart, Stock, Unit, UnitId};
use crate::quantity::{Length, Rational};
use std::collections::BTreeSet;

/// A part and its box in the room.
#[derive(Clone, Copy, Debug)]
pub(super) struct Solid<'a> {
    pub part: &'a Part,
    pub bounds: Bounds,
}

/// What stands together, and is drawn together.
#[derive(Clone, Debug)]
pub(super) struct Group<'a> {
    pub run: Option<(RunId, &'a RunPart)>,
    /// Its units that stand, from left to right.
    pub units: Vec<(UnitId, &'a Unit)>,
    /// Those that hang.
    pub hung: Vec<(UnitId, &'a Unit)>,
}

/// Half of a length.
pub(super) fn half(length: Length) -> Length {
    length.checked_div(Rational::from(2)).unwrap_or_default()
}

/// The sum of lengths; what is too large stays as it was.
pub(super) fn plus(a: Length, b: Length) -> Length {
    a.checked_add(b).unwrap_or(a)
}

/// What is left of a length; what is too large stays as it was.
pub(super) fn less(a: Length, b: Length) -> Length {
    a.checked_sub(b).unwrap_or(a)
}

/// The middle of two ends.
pub(super) fn middle([low, high]: [Length; 2]) -> Length {
    plus(low, half(less(high, low)))
}

/// An estimate in millimetres as a place on a drawing, to a thousandth.
pub(super) fn estimated(mm: f64) -> Length {
    let thousandths = (mm * 1000.0).round();
    // Larger than any building is not drawn.
    let thousandths = if thousandths.abs() < 1e12 { thousandths as i128 } else { 0 };
    Length::from_mm(Rational::new(thousandths, 1000))
}

/// A length that the trade has in both systems, in so many inches and so many millimetres, for what is only drawn.
pub(super) fn about(subject: Subject<'_>, inches: (i128, i128), mm: i128) -> Length {
    subject.marks().system().length(inches, (mm, 1))
}

impl Unit {
    /// The left and the right face of a unit in its run.
    pub(super) fn faces(&self) -> [Length; 2] {
        let left = self.x.map_or(Length::ZERO, |x| x.value);
        [left, plus(left, self.width.value)]
    }

    /// From the level line to the bottom end of its sides.
    pub(super) fn foot(&self) -> Length {
        self.stands.map_or(Length::ZERO, |stands| stands.value)
    }
}

impl<'a> Group<'a> {
    /// All its units.
    pub fn all(&self) -> impl Iterator<Item = &(UnitId, &'a Unit)> {
        self.units.iter().chain(&self.hung)
    }

    /// Its parts, from the rear to the front; of equal ones what holds before what is held.
    pub fn solids(&self, subject: Subject<'a>) -> Vec<Solid<'a>> {
        let graph = subject.graph;
        let of_run = self.run.into_iter().flat_map(|(id, _)| graph.parts_of_run(id));
        let all = self.all().flat_map(|(id, _)| graph.parts_of(*id)).chain(of_run);
        let solid = |part: &'a Part| Some(Solid { part, bounds: graph.bounds(part)? });
        let mut solids: Vec<Solid<'a>> = all.filter_map(solid).collect();
        // A panel on the ceiling hangs where that is lowest.
        let wall = self.run.and_then(|(_, run)| subject.model.walls.get(run.wall?));
        if let Some(ceiling) = wall.and_then(Wall::lowest_ceiling) {
            for solid in solids.iter_mut().filter(|solid| solid.part.role == Role::CeilingPanel) {
                solid.bounds[2] = [less(ceiling, solid.part.size.thickness.value), ceiling];
            }
        }
        solids.sort_by_key(|Solid { part, bounds: [_, [_, front], _] }| (*front, part.id));
        solids
    }

    /// From the left face of its first unit to the right face of its last one.
    pub fn faces(&self) -> Option<[Length; 2]> {
        let [first, ..] = self.units.first()?.1.faces();
        let [_, last] = self.units.last()?.1.faces();
        Some([first, last])
    }

    /// The greatest depth and the greatest height of its units over the level line.
    pub fn reach(&self) -> [Length; 2] {
        let deep = self.all().map(|(_, unit)| unit.depth.value).max();
        let high = self.all().filter_map(|(_, unit)| unit.top()).max();
        [deep.unwrap_or_default(), high.unwrap_or_default()]
    }

    /// Its path.
    pub fn path(&self) -> &'a str {
        match (self.run, self.units.first()) {
            (Some((_, run)), _) => &run.path,
            (None, Some((_, unit))) => &unit.path,
            (None, None) => "",
        }
    }

    /// The height of a reading at an end, where it is not stated as usual: at the floor, half way up, at the top.
    pub fn height_of(&self, at: ReadingAt, stated: Option<Length>) -> Length {
        let [_, high] = self.reach();
        stated.unwrap_or(match at {
            ReadingAt::Low => Length::ZERO,
            ReadingAt::Middle => half(high),
            ReadingAt::High => high,
        })
    }
}

impl Solid<'_> {
    /// What it is from the front: an extent along x and z.
    pub fn front(&self) -> Extent {
        let [x, _, z] = self.bounds;
        [x, z]
    }

    /// The same from the left: along y and z.
    pub fn side(&self) -> Extent {
        let [_, y, z] = self.bounds;
        [y, z]
    }

    /// Its outline from the front: a stile at a wall is as wide as it is scribed at each reading, a rail at the floor as high as at
    /// each of its ends.
    pub fn front_outline(&self, group: &Group<'_>) -> Vec<Spot> {
        let [[left, right], [low, high]] = self.front();
        match self.part.role {
            Role::Stile | Role::Filler => match self.scribed_edge(group) {
                Some((Hand::Left, edge)) => {
                    let edge = edge.into_iter().rev().map(|(height, width)| [less(right, width), height]);
                    [[right, low], [right, high]].into_iter().chain(edge).collect()
                }
                Some((Hand::Right, edge)) => {
                    let edge = edge.into_iter().map(|(height, width)| [plus(left, width), height]);
                    [[left, high], [left, low]].into_iter().chain(edge).collect()
                }
                None => corners([[left, right], [low, high]]),
            },
            Role::BottomRail => match self.part.scribed.as_slice() {
                [(Fitted::End(_), at_left), (Fitted::End(_), at_right)] => {
                    let (at_left, at_right) = (less(high, at_left.value), less(high, at_right.value));
                    vec![[left, at_left], [right, at_right], [right, high], [left, high]]
                }
                _ => corners([[left, right], [low, high]]),
            },
            _ => corners([[left, right], [low, high]]),
        }
    }

    /// Its outline from the right, without the corners that a toe space and a slope take.
    pub fn side_outline(&self, subject: Subject<'_>) -> Vec<Spot> {
        let extent @ [[rear, _], [low, _]] = self.side();
        let outline = subject.graph.outline(self.part).filter(|_| self.part.is_upright());
        match outline {
            None => corners(extent),
            Some(outline) => outline.into_iter().map(|[y, z]| [plus(rear, y), plus(low, z)]).collect(),
        }
    }

    /// Which edge of a stile or a filler strip is scribed, and how wide it is at each height, from its lower to its upper end: straight
    /// between readings, held beyond the last.
    pub fn scribed_edge(&self, group: &Group<'_>) -> Option<(Hand, Vec<(Length, Length)>)> {
        let (_, run) = group.run?;
        let scribed = &self.part.scribed;
        if !scribed.iter().any(|(at, _)| matches!(at, Fitted::Reading(_))) {
            return None;
        }
        let [across, [low, high]] = self.front();
        let (hand, end) =
            if middle(across) < middle(group.faces()?) { (Hand::Left, 0) } else { (Hand::Right, 1) };
        let end = run.ends.get(end)?;
        let mut read: Vec<(Length, Length)> = Vec::new();
        for (at, width) in scribed {
            let Fitted::Reading(at) = at else { continue };
            let stated = end.readings.iter().find(|reading| reading.at == *at)?.height;
            read.push((group.height_of(*at, stated.map(|height| height.value)), width.value));
        }
        read.sort_unstable();
        let mut edge = vec![(low, straight(&read, low)?)];
        edge.extend(read.iter().filter(|(height, _)| low < *height && *height < high));
        edge.push((high, straight(&read, high)?));
        Some((hand, edge))
    }

    /// What it is filled with where it is cut: a sheet with its layers as they lie in a view whose places to the right run along
    /// this axis of the room.
    pub fn cut(&self, across: usize) -> Filled {
        match self.part.stock {
            Stock::Board(_) => Filled::Wood,
            Stock::Sheet(_) if self.thin() == across => Filled::LayersUp,
            Stock::Sheet(_) => Filled::LayersAcross,
        }
    }

    /// The axis along which it is thin.
    pub fn thin(&self) -> usize {
        self.part.thin()
    }
}

/// What lies at a height: straight between two readings, held beyond the last.
pub(super) fn straight(read: &[(Length, Length)], at: Length) -> Option<Length> {
    let after = read.iter().position(|(height, _)| *height >= at);
    let Some(after) = after else { return read.last().map(|(_, value)| *value) };
    let Some(before) = after.checked_sub(1) else { return read.first().map(|(_, value)| *value) };
    let ((low, from), (high, to)) = (read.get(before)?, read.get(after)?);
    let share = at.checked_sub(*low)?.ratio(high.checked_sub(*low)?)?;
    from.checked_add(to.checked_sub(*from)?.checked_mul(share)?)
}

/// The corners of a rectangle in turn.
pub(super) fn corners([[left, right], [low, high]]: Extent) -> Vec<Spot> {
    vec![[left, low], [right, low], [right, high], [left, high]]
}

/// The parts that belong to what is talked about.
pub(super) fn talked_about(subject: Subject<'_>, unit: UnitId) -> BTreeSet<PartId> {
    let own: BTreeSet<PartId> = subject.graph.parts_of(unit).map(|part| part.id).collect();
    let of_run = subject.graph.parts.iter().filter(|part| part.unit.is_none());
    let before = of_run.filter(|part| part.backing.iter().any(|host| own.contains(host)));
    let before: Vec<PartId> = before.map(|part| part.id).collect();
    own.into_iter().chain(before).collect()
}
