//! How a unit is glued up: in stages that the glue leaves time for.

use crate::eval::{Carcass, Len, Model};
use crate::parts::{JointKind, Member, PartGraph, PartId, Role, RowKind, Unit, UnitId};
use crate::quantity::{Dim, Estimate, Length, Rational, to_f64};
use crate::real::Real;
use num_traits::{CheckedDiv, CheckedMul, ToPrimitive};
use std::collections::{BTreeMap, BTreeSet};

/// How a unit is glued up.
#[derive(Clone, Debug)]
pub struct GlueUp {
    /// The unit.
    pub unit: UnitId,
    /// What is closed at once, in order.
    pub stages: Vec<Stage>,
    /// The glue, by its position in the model.
    pub glue: Option<usize>,
    /// What the ends are nailed with, by its position among the fasteners.
    pub fastener: Option<usize>,
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

/// How every unit is glued up in whose sides something is housed.
#[must_use]
pub fn glue_ups(model: &Model, graph: &PartGraph) -> Vec<GlueUp> {
    let mut nails = Nails::new();
    for row in graph.rows.iter().filter(|row| row.kind == RowKind::ShelfEnd) {
        if let (Member::Part(shelf), Member::Part(host)) = (row.guest, row.host)
            && graph.part(host).is_some_and(|host| matches!(host.role, Role::Side(_)))
        {
            nails.entry(shelf).or_insert(row.count);
        }
    }
    let carcasses = model.all_carcasses();
    let units = graph.numbered_units().zip(carcasses);
    units.filter_map(|((id, unit), carcass)| glue_up(model, graph, (id, unit, carcass), &nails)).collect()
}

/// How many nails hold an end of a shelf in a side.
type Nails = BTreeMap<PartId, usize>;

fn glue_up(
    model: &Model,
    graph: &PartGraph,
    (id, unit, carcass): (UnitId, &Unit, &Carcass),
    ends: &Nails,
) -> Option<GlueUp> {
    let mut housed: BTreeSet<(Length, PartId)> = BTreeSet::new();
    for side in graph.parts_of(id).filter(|part| matches!(part.role, Role::Side(_))) {
        for joint in graph.joints_in(side.id) {
            let lies = graph.part(joint.guest).is_some_and(|guest| guest.role != Role::Back);
            if lies && matches!(joint.kind, JointKind::Dado { .. } | JointKind::Rabbet { .. }) {
                housed.insert((joint.at.value, joint.guest));
            }
        }
    }
    let shelves: Vec<(Length, PartId)> = housed.into_iter().collect();
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
        Role::Side(_)
        | Role::Shelf
        | Role::Cleat
        | Role::Stretcher(..)
        | Role::Loose
        | Role::LooseStrip
        | Role::Counter
        | Role::Door
        | Role::DrawerFront
        | Role::DrawerSide(_)
        | Role::DrawerEnd(_)
        | Role::DrawerBottom
        | Role::BaseRail(_)
        | Role::Rib
        | Role::Filler
        | Role::Stile
        | Role::Strip
        | Role::TopRail
        | Role::BottomRail
        | Role::CeilingPanel => None,
    });
    let all: Vec<PartId> = shelves.iter().map(|(_, shelf)| *shelf).collect();
    let groups = if barred.is_some() { vec![all] } else { staged(&shelves, at_once, carcass.stages) };
    let stages = groups.into_iter().map(|shelves| {
        let joints = shelves.len();
        let count = Rational::from(i128::try_from(joints).unwrap_or(i128::MAX));
        Stage { shelves, joints, takes: joint.and_then(|joint| joint.checked_mul(&count)) }
    });
    let stages: Vec<Stage> = stages.collect();
    let nails = shelves.iter().filter_map(|(mark, shelf)| {
        let half = graph.part(*shelf)?.size.thickness.value.checked_div(Rational::from(2))?;
        let nails = ends.get(shelf).copied().unwrap_or(0);
        Some(NailLine { shelf: *shelf, mark: *mark, line: mark.checked_add(half)?, nails })
    });
    let most = stages.iter().map(|stage| stage.joints).max().unwrap_or(0);
    let closed = most.saturating_mul(2);
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
        glue: carcass.joins.shelf_to_side.glue,
        fastener: carcass.joins.shelf_to_side.fastener,
        joint,
        open,
        barred,
        nails: nails.collect(),
        diagonal: Estimate { value: width.hypotenuse(height), dim: Dim::LENGTH },
        clamps: if nailed { closed.div_ceil(2) } else { closed },
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
