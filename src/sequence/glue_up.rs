//! How a unit is glued up: in stages that the glue leaves time for.

use crate::eval::{Len, Model};
use crate::parts::{JointKind, Member, Part, PartGraph, PartId, Role, RowKind, UnitId};
use crate::quantity::{Dim, Estimate, Length, Rational, to_f64};
use crate::real::Real;
use num_traits::{CheckedDiv, CheckedMul, ToPrimitive};
use std::collections::BTreeMap;

/// How a unit is glued up.
#[derive(Clone, Debug)]
pub struct GlueUp {
    /// The unit.
    pub unit: UnitId,
    /// What is closed at once, in order.
    pub stages: Vec<Stage>,
    /// For one joint, in seconds, where it is stated.
    pub joint: Option<Rational>,
    /// How long the glue stays open, in seconds, where it is stated.
    pub open: Option<Rational>,
    /// Why shelves cannot be slid in when the sides stand, where something bars their way.
    pub barred: Option<&'static str>,
    /// Where the sides are nailed, from their bottom ends.
    pub nails: Vec<NailLine>,
    /// From corner to corner of its face.
    pub diagonal: Estimate,
    /// How many clamps close the largest stage: one for each end, half of them where it is nailed (common practice, no source).
    pub clamps: usize,
    /// How many there are that open as wide; `None` where none are stated.
    pub owned: Option<usize>,
}

/// What is closed at once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stage {
    /// The shelves, from the bottom.
    pub shelves: Vec<PartId>,
    /// How many joints of one side that is.
    pub joints: usize,
    /// What they take, in seconds, where it is stated.
    pub takes: Option<Rational>,
}

/// Where a side is nailed into the end of a shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NailLine {
    /// The shelf.
    pub shelf: PartId,
    /// Its underside, from the bottom end of the side.
    pub mark: Length,
    /// The middle of its thickness.
    pub line: Length,
    /// Nails in one end.
    pub nails: usize,
}

/// How a unit is glued up; `None` where nothing is housed in its sides.
#[must_use]
pub fn glue_up(model: &Model, graph: &PartGraph, id: UnitId) -> Option<GlueUp> {
    let unit = graph.unit(id)?;
    let carcass = model.carcass_at(usize::try_from(id.0).ok()?)?;
    let mut housed: BTreeMap<(Length, PartId), usize> = BTreeMap::new();
    let is_side = |part: PartId| graph.part(part).is_some_and(|part| matches!(part.role, Role::Side(_)));
    for side in graph.parts_of(id).filter(|part| matches!(part.role, Role::Side(_))) {
        for joint in graph.joints_in(side.id) {
            if matches!(joint.kind, JointKind::Dado { .. } | JointKind::Rabbet { .. }) {
                *housed.entry((joint.at.value, joint.guest)).or_default() += 1;
            }
        }
    }
    let shelves: Vec<(Length, PartId)> = housed.into_keys().collect();
    if shelves.is_empty() {
        return None;
    }
    let glue = carcass.joins.shelf_to_side.glue.and_then(|glue| model.glues.get(glue));
    let seconds = |amount: Option<crate::eval::Amount>| amount.map(|amount| amount.value.value);
    let (open, joint) = (seconds(glue.and_then(|glue| glue.open)), seconds(model.shop.joint));
    let at_once =
        open.zip(joint).and_then(|(open, joint)| open.checked_div(&joint)?.floor().to_integer().to_usize());
    let barred = graph.parts_of(id).find_map(|part| match part.role {
        Role::Top => Some("its top lies in rabbets and closes the sides"),
        Role::Back => Some("its back closes the rear"),
        Role::Divider => Some("a divider stands in the way"),
        _ => None,
    });
    let all: Vec<PartId> = shelves.iter().map(|(_, shelf)| *shelf).collect();
    let groups = if barred.is_some() { vec![all] } else { staged(&shelves, at_once, carcass.stages) };
    let stages = groups.into_iter().map(|shelves| {
        let joints = shelves.len();
        let count = Rational::from(i128::try_from(joints).unwrap_or(i128::MAX));
        Stage { shelves, joints, takes: joint.and_then(|joint| joint.checked_mul(&count)) }
    });
    let stages: Vec<Stage> = stages.collect();
    let nails =
        shelves.iter().filter_map(|(mark, shelf)| nail_line(graph, *mark, graph.part(*shelf)?, is_side));
    let most = stages.iter().map(|stage| stage.joints).max().unwrap_or(0);
    let ends = most.saturating_mul(2);
    let nailed = carcass.joins.shelf_to_side.fastener.is_some();
    let [width, height] = [unit.width, unit.height].map(|len: Len| to_f64(len.value.mm()));
    let wide = model
        .shop
        .clamps
        .iter()
        .filter(|clamps| clamps.opens.is_none_or(|opens| opens.value >= unit.width.value));
    let owned = wide.filter_map(|clamps| clamps.count.value.value.to_integer().to_usize()).sum();
    Some(GlueUp {
        unit: id,
        joint,
        open,
        barred,
        nails: nails.collect(),
        diagonal: Estimate { value: width.hypotenuse(height), dim: Dim::LENGTH },
        clamps: if nailed { ends.div_ceil(2) } else { ends },
        owned: (!model.shop.clamps.is_empty()).then_some(owned),
        stages,
    })
}

/// Shelves in stages: all at once where the glue leaves the time and nobody states stages; else first the lowest, the one nearest to
/// the middle and the highest, which hold the sides and square them, then the others, slid in from the rear.
fn staged(shelves: &[(Length, PartId)], at_once: Option<usize>, stated: usize) -> Vec<Vec<PartId>> {
    let all = || shelves.iter().map(|(_, shelf)| *shelf).collect::<Vec<_>>();
    let most = at_once.unwrap_or(shelves.len()).max(1);
    if shelves.len() <= most && stated <= 1 {
        return vec![all()];
    }
    let (Some((low, lowest)), Some((high, highest))) = (shelves.first(), shelves.last()) else {
        return vec![all()];
    };
    let from_middle = |at: Length| {
        // Twice the distance from the middle between the lowest and the highest.
        let ends = at.checked_add(at).zip(low.checked_add(*high));
        let apart = ends.and_then(|(twice, both)| twice.max(both).checked_sub(twice.min(both)));
        apart.unwrap_or_default()
    };
    let between = shelves.get(1..shelves.len().saturating_sub(1)).unwrap_or_default();
    let middle = between.iter().min_by_key(|(at, _)| from_middle(*at)).map(|(_, shelf)| *shelf);
    let first: Vec<PartId> = [Some(*lowest), middle, Some(*highest)].into_iter().flatten().collect();
    let rest: Vec<PartId> = all().into_iter().filter(|shelf| !first.contains(shelf)).collect();
    let stages = rest.len().div_ceil(most).max(stated.saturating_sub(1)).max(1);
    let each = rest.len().div_ceil(stages).max(1);
    std::iter::once(first).chain(rest.chunks(each).map(<[PartId]>::to_vec)).collect()
}

fn nail_line(
    graph: &PartGraph,
    mark: Length,
    shelf: &Part,
    is_side: impl Fn(PartId) -> bool,
) -> Option<NailLine> {
    let half = shelf.size.thickness.value.checked_div(Rational::from(2))?;
    let row = graph.rows.iter().find(|row| {
        row.kind == RowKind::ShelfEnd
            && row.guest == Member::Part(shelf.id)
            && matches!(row.host, Member::Part(host) if is_side(host))
    });
    Some(NailLine {
        shelf: shelf.id,
        mark,
        line: mark.checked_add(half)?,
        nails: row.map_or(0, |row| row.count),
    })
}
