//! Dividers that carry the shelf over them: they stand on what is carried itself, right over what carries it.

use super::shelf_load::line_load;
use crate::check::Subject;
use crate::eval::Load;
use crate::parts::{Divided, Face, Opening, Part, PartId, Role, StretcherAt};
use crate::quantity::Length;
use std::collections::BTreeMap;

/// The dividers that carry each shelf, from left to right. One that stands on a shelf which nothing carries there goes down with it: the two
/// sag as each would alone, or one for the other between that.
pub(in crate::check) type Carriers<'a> = BTreeMap<PartId, Vec<&'a Part>>;

/// What carries each shelf from below.
pub(in crate::check) fn carriers<'a>(subject: &Subject<'a>) -> Carriers<'a> {
    let mut carriers = Carriers::new();
    let mut divided: Vec<&Divided> = subject.graph.divided.iter().collect();
    divided.sort_by_key(|divided| (divided.unit, divided.floor.value));
    for divided in divided {
        let over = subject.graph.opening(divided.opening).and_then(|opening| opening.under);
        let (Some(over), Some(foot)) = (over, subject.graph.part(divided.on)) else { continue };
        let dividers = divided.bays.iter().filter_map(|bay| subject.graph.part(bay.divider?));
        let all_along = lies(subject, foot);
        let under: Vec<&Part> = carriers.get(&divided.on).cloned().unwrap_or_default();
        let carried = dividers
            .filter(|divider| all_along || under.iter().any(|lower| one_over_the_other(divider, lower)));
        let carried: Vec<&Part> = carried.collect();
        carriers.entry(over).or_default().extend(carried);
    }
    for all in carriers.values_mut() {
        all.sort_by_key(|divider| divider.place.x.value);
    }
    carriers
}

/// Whether some of one stands over some of the other.
fn one_over_the_other(upper: &Part, lower: &Part) -> bool {
    let apart = upper.place.x.value.apart(lower.place.x.value);
    apart.is_some_and(|apart| apart < lower.size.thickness.value)
}

/// Whether a shelf is carried all along: it lies on the floor or on a plinth, or on stretchers at both edges.
pub(in crate::check) fn lies(subject: &Subject<'_>, shelf: &Part) -> bool {
    shelf.place.z.value.is_zero()
        || (front_carried(subject, shelf) && stretcher_under(subject, shelf, Face::Rear).is_some())
}

/// The stretcher at a face on which the bottom shelf lies.
pub(in crate::check) fn stretcher_under<'a>(
    subject: &Subject<'a>,
    shelf: &Part,
    face: Face,
) -> Option<&'a Part> {
    subject.graph.parts_of(shelf.unit?).find(|part| {
        part.role == Role::Stretcher(StretcherAt::Bottom, face)
            && part.place.z.value.checked_add(part.size.width.value) == Some(shelf.place.z.value)
    })
}

/// Whether a stretcher, or a bottom rail, which stands on the floor, carries the front edge of a shelf.
pub(in crate::check) fn front_carried(subject: &Subject<'_>, shelf: &Part) -> bool {
    stretcher_under(subject, shelf, Face::Front).is_some()
        || subject.graph.fixed_to(shelf.id, Role::BottomRail).is_some()
}

/// The spans of a shelf between what carries it from below, in millimetres from left to right; none where nothing does.
pub(in crate::check) fn spans(subject: &Subject<'_>, carriers: &Carriers<'_>, shelf: PartId) -> Vec<f64> {
    let under = carriers.get(&shelf).map(Vec::as_slice).unwrap_or_default();
    let divided = subject.graph.part(shelf).and_then(|part| part.unit).into_iter().flat_map(|unit| {
        subject.graph.divided_of(unit).filter(|divided| {
            subject.graph.opening(divided.opening).is_some_and(|opening| opening.under == Some(shelf))
        })
    });
    let rooms = divided.filter_map(|divided| {
        let [first, last] = [divided.bays.first()?, divided.bays.last()?];
        Some([first.x.value, last.x.value.checked_add(last.clear.value)?])
    });
    let Some([from, to]) = rooms.reduce(|all, room| [all[0].min(room[0]), all[1].max(room[1])]) else {
        return Vec::new();
    };
    if under.is_empty() {
        return Vec::new();
    }
    let between = |from: Length, to: Length| to.checked_sub(from).map_or(0.0, Length::to_mm_f64);
    let mut spans = Vec::with_capacity(under.len().saturating_add(1));
    let mut at = from;
    for divider in under {
        let left = divider.place.x.value;
        spans.push(between(at, left));
        at = left.checked_add(divider.size.thickness.value).unwrap_or(left);
    }
    spans.push(between(at, to));
    spans
}

/// What a shelf carries by what is said of the room over it: of one with bays the heaviest of what their floors carry.
pub(in crate::check) fn load_on(subject: &Subject<'_>, opening: &Opening, depth: f64) -> Option<Load> {
    if !opening.divided {
        return opening.load;
    }
    let span = opening.clear_width.value.to_mm_f64();
    let floors = subject
        .openings_of(opening.unit)
        .iter()
        .filter(|own| own.on == opening.on && own.lowest && own.used && !own.divided);
    let loads = floors.filter_map(|own| own.load);
    loads.max_by(|a, b| line_load(*a, span, depth, 0.0).total_cmp(&line_load(*b, span, depth, 0.0)))
}
