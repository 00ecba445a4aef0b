//! Story sticks: one for all sides that are marked from it, every line from the bottom end.

use crate::eval::{Carcass, Model, Why};
use crate::parts::{JointKind, Part, PartGraph, PartId, Role, UnitId};
use crate::quantity::Length;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A story stick.
#[derive(Clone, Debug, Default)]
pub struct Stick {
    /// The units whose sides are marked from it, in the order of the graph.
    pub units: Vec<UnitId>,
    /// Those sides.
    pub boards: Vec<PartId>,
    /// Its marks, from the bottom end.
    pub marks: Vec<StickMark>,
    /// The top ends of the sides, the lowest first, each with its sides.
    pub ends: Vec<(Length, Vec<PartId>)>,
}

/// A mark: the underside of what is housed in the sides.
#[derive(Clone, Debug)]
pub struct StickMark {
    /// From the bottom end.
    pub at: Length,
    /// How wide the groove over it is; of a rabbet, how thick what goes in is.
    pub wide: Length,
    /// Whether it is a rabbet at the end of a side.
    pub rabbet: bool,
    /// What stands there.
    pub names: Vec<Arc<str>>,
    /// The sides that have it.
    pub boards: BTreeSet<PartId>,
}

impl Stick {
    /// From its bottom end to the highest of its marks and ends.
    #[must_use]
    pub fn length(&self) -> Length {
        let ends = self.ends.iter().map(|(at, _)| *at);
        ends.chain(self.marks.iter().map(|mark| mark.at)).max().unwrap_or_default()
    }

    /// The sides that have no such mark.
    pub fn skipped(&self, mark: &StickMark) -> impl Iterator<Item = PartId> {
        self.boards.iter().copied().filter(|board| !mark.boards.contains(board))
    }
}

/// What tells which stick a unit is marked from: marks of its text, each by its name and where it stands there.
type Stated = BTreeSet<(Arc<str>, Why)>;

/// All sticks: units share one where the text gives them one, or where their lines are the same.
#[must_use]
pub fn sticks(model: &Model, graph: &PartGraph) -> Vec<Stick> {
    let carcasses = model.all_carcasses();
    let mut sticks: Vec<Stick> = Vec::new();
    let mut by_mark: BTreeMap<(Arc<str>, Why), usize> = BTreeMap::new();
    let mut by_heights: BTreeMap<Vec<Length>, usize> = BTreeMap::new();
    for ((id, _), carcass) in graph.numbered_units().zip(carcasses) {
        let own = stick(graph, id);
        if own.marks.is_empty() {
            continue;
        }
        let stated = stated(carcass);
        let known = stated.iter().filter_map(|mark| by_mark.get(mark));
        let known = known.chain(by_heights.get(&heights(&own))).min().copied();
        let place = known.unwrap_or(sticks.len());
        match sticks.get_mut(place) {
            Some(stick) => {
                by_heights.remove(&heights(stick));
                stick.join(own);
            }
            None => sticks.push(own),
        }
        by_heights.extend(sticks.get(place).map(|stick| (heights(stick), place)));
        for mark in stated {
            by_mark.entry(mark).or_insert(place);
        }
    }
    sticks
}

fn stated(carcass: &Carcass) -> Stated {
    carcass.marks.iter().map(|mark| (mark.name.clone(), mark.height.why)).collect()
}

fn heights(stick: &Stick) -> Vec<Length> {
    stick.marks.iter().map(|mark| mark.at).collect()
}

/// The stick of one unit.
fn stick(graph: &PartGraph, unit: UnitId) -> Stick {
    let mut stick = Stick { units: vec![unit], ..Stick::default() };
    let sides: Vec<&Part> = graph.parts_of(unit).filter(|part| matches!(part.role, Role::Side(_))).collect();
    for side in sides {
        let mut own = Stick {
            boards: vec![side.id],
            ends: vec![(side.size.length.value, vec![side.id])],
            ..Stick::default()
        };
        for joint in graph.joints_in(side.id) {
            let Some(guest) = graph.part(joint.guest) else { continue };
            let (wide, rabbet) = match joint.kind {
                JointKind::Dado { width, .. } => (width.value, false),
                JointKind::Rabbet { .. } if guest.role != Role::Back => (guest.size.thickness.value, true),
                JointKind::Rabbet { .. }
                | JointKind::Groove { .. }
                | JointKind::Mortise { .. }
                | JointKind::Butt => continue,
            };
            let (names, boards) = (vec![guest.name.clone()], BTreeSet::from([side.id]));
            own.marks.push(StickMark { at: joint.at.value, wide, rabbet, names, boards });
        }
        stick.join(own);
    }
    stick
}

impl Stick {
    /// Takes the marks and sides of another one.
    fn join(&mut self, other: Self) {
        self.units.extend(other.units);
        self.boards.extend(other.boards);
        let mut marks: BTreeMap<Length, StickMark> =
            std::mem::take(&mut self.marks).into_iter().map(|mark| (mark.at, mark)).collect();
        for mark in other.marks {
            match marks.get_mut(&mark.at) {
                Some(known) => {
                    known.wide = known.wide.max(mark.wide);
                    known.rabbet &= mark.rabbet;
                    known.boards.extend(mark.boards);
                    for name in mark.names {
                        if !known.names.contains(&name) {
                            known.names.push(name);
                        }
                    }
                }
                None => _ = marks.insert(mark.at, mark),
            }
        }
        self.marks = marks.into_values().collect();
        let mut ends: BTreeMap<Length, Vec<PartId>> = std::mem::take(&mut self.ends).into_iter().collect();
        for (at, boards) in other.ends {
            ends.entry(at).or_default().extend(boards);
        }
        self.ends = ends.into_iter().collect();
    }
}
