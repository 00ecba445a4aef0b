//! What is still to be made follows what is made: a groove the thickness of what goes in, a shelf the sides that are cut.

use super::{Bench, sum};
use crate::eval::{Fits, Len, Step};
use crate::parts::{Blank, JointKind, Part, PartGraph, PartId, Role, State, UnitId};
use crate::quantity::{Length, Marks};

/// Makes the cuts and sizes that are still to be made fit what is made from thicker or thinner stock. Where everything is as
/// the text has it, nothing changes.
pub fn follow(graph: &mut PartGraph, fits: &Fits, marks: Marks) {
    if graph.made.is_empty() {
        return;
    }
    grooves(graph, fits, marks);
    lengths(graph, fits, marks);
}

/// Grooves that are not cut yet are made for what goes in.
fn grooves(graph: &mut PartGraph, fits: &Fits, marks: Marks) {
    for place in 0..graph.joints.len() {
        let bench = Bench { graph, fits, marks };
        let Some(joint) = graph.joints.get(place).copied() else { continue };
        let Some(guest) = graph.part(joint.guest) else { continue };
        let grooved = bench.cut(joint.host).is_some_and(|made| made.state >= State::Grooved);
        let thicker = bench.thicker(guest);
        if grooved || thicker.is_zero() {
            continue;
        }
        let (planned, made) = (guest.size.thickness, bench.thickness(guest));
        let Some(thickness) = as_made(graph, joint.guest, made) else { continue };
        let rule = "for the part that goes in, which is cut already";
        let mut wider =
            |width: Len| graph.ledger.sum("dado width", &[(1, width), (1, thickness), (-1, planned)], rule);
        let kind = match joint.kind {
            JointKind::Dado { depth, fit, width } => JointKind::Dado { depth, fit, width: wider(width) },
            JointKind::Groove { depth, width, set_in } => {
                JointKind::Groove { depth, width: wider(width), set_in }
            }
            kind @ (JointKind::Rabbet { .. } | JointKind::Mortise { .. } | JointKind::Butt) => kind,
        };
        if let Some(joint) = graph.joints.get_mut(place) {
            joint.kind = kind;
        }
    }
}

/// The thickness of a made part as a number with its reason.
fn as_made(graph: &mut PartGraph, id: PartId, thickness: Length) -> Option<Len> {
    let made = graph.made.get(&id)?;
    let span = made.facts.thickness.map_or(made.span, |(_, span)| span);
    let why = graph.ledger.enter("thickness as made", thickness.into(), Step::Stated(span), "");
    Some(Len { value: thickness, why })
}

/// What goes between parts that are cut already gets the room that they leave.
fn lengths(graph: &mut PartGraph, fits: &Fits, marks: Marks) {
    for place in 0..graph.parts.len() {
        let id = PartId::at(place);
        let bench = Bench { graph, fits, marks };
        let Some(part) = graph.part(id).filter(|_| bench.cut(id).is_none()) else { continue };
        let ends: Vec<_> = graph.joints_of(id).collect();
        let along = ends.iter().any(|joint| matches!(joint.kind, JointKind::Groove { .. }));
        let (less, planned) = (bench.less_room(&ends), part.size.length);
        let hosts: Vec<PartId> = ends.iter().map(|joint| joint.host).collect();
        let length = if along { None } else { less_long(graph, "length", planned, (less, &hosts)) };
        if let (Some(length), Some(part)) = (length, graph.parts.get_mut(place)) {
            part.size.length = length;
            part.blank = part.blank.map(|blank| Blank { length, ..blank });
        }
    }
    for place in 0..graph.units.len() {
        let bench = Bench { graph, fits, marks };
        let sides: Vec<&Part> =
            graph.parts_of(UnitId::at(place)).filter(|part| matches!(part.role, Role::Side(_))).collect();
        let less = sum(sides.iter().map(|side| bench.thicker(side)));
        let sides: Vec<PartId> = sides.iter().map(|side| side.id).collect();
        let Some(planned) = graph.units.get(place).map(|unit| unit.clear) else { continue };
        let Some(clear) = less_long(graph, "clear width", planned, (less, &sides)) else { continue };
        if let Some(unit) = graph.units.get_mut(place) {
            unit.clear = clear;
        }
        let own = graph.openings.iter_mut().filter(|opening| opening.unit == UnitId::at(place));
        own.filter(|opening| opening.clear_width == planned).for_each(|opening| opening.clear_width = clear);
    }
}

/// A length with so much less room between parts that are cut already; `None` where there is as much as planned.
fn less_long(
    graph: &mut PartGraph,
    label: &'static str,
    planned: Len,
    (less, between): (Length, &[PartId]),
) -> Option<Len> {
    let cut = between.iter().find_map(|id| graph.made.get(id)).filter(|_| !less.is_zero())?;
    let span = cut.facts.thickness.map_or(cut.span, |(_, span)| span);
    let why = graph.ledger.enter("thicker, what is cut at its ends", less.into(), Step::Stated(span), "");
    let less = Len { value: less, why };
    Some(graph.ledger.sum(label, &[(1, planned), (-1, less)], "between parts that are cut already"))
}
