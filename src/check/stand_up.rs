//! A unit that is glued up lying down stands up in the room.

use super::helpers::place::length;
use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::Len;
use crate::mechanics::published::LOWEST_CEILING;
use crate::mechanics::standing;
use crate::parts::{Figure, Finding, Lacking, Limit, Need, Unit};
use crate::quantity::{Dim, Estimate, Length, Round, some};
use std::collections::BTreeMap;

code!(
    Error,
    CODE,
    "C024",
    "stand_up",
    "a unit that does not stand up in its room",
    "A unit that is glued up lying down is rolled up through its diagonal: sqrt(H^2 + D^2) and 1/2 in (12.7 mm) over it (common \
     practice, no source) stay under the lowest ceiling along the run, or under that of another place where it is stood up. A case \
     exactly as tall as the room does not stand up in it. An estimate.",
    with_example
);

/// Every size of unit along each wall.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut sizes: BTreeMap<_, Vec<&super::subject::Standing<'_>>> = BTreeMap::new();
    // What hangs is lifted, and not rolled up.
    for standing in subject.units().iter().filter(|standing| !standing.unit.hung) {
        let Some(wall) = standing.wall else { continue };
        let unit = standing.unit;
        let what = "height for rolling a unit up";
        let elsewhere = stood_up_under(subject, unit);
        let along = || subject.graph.lowest_ceiling(unit.run?, wall);
        let Some(ceiling) = elsewhere.map(|ceiling| ceiling.value).or_else(along) else {
            let needed = unit.rolled() + standing::CLEARANCE_MM;
            report.lack(Lacking {
                code: &CODE,
                subject: unit.path.clone(),
                many: "units",
                what,
                measures: &["standing_height"],
                needs: vec![Need::kind("ceiling")],
                matters: needed > LOWEST_CEILING,
            });
            continue;
        };
        let tallest =
            standing::tallest(ceiling.to_mm_f64() - standing::CLEARANCE_MM, unit.depth.value.to_mm_f64());
        // A side that a slope cuts follows the ceiling and no number of its own.
        if let Some(value) = tallest.filter(|_| unit.slant.is_none()) {
            let how = "the tallest of its depth that stands up under the lowest ceiling";
            let value = Estimate { value, dim: Dim::LENGTH };
            let most = (value, Round::Down, subject.marks().system());
            report.reckon_limit(&unit.path, "standing_height", most, how);
        }
        let needed = unit.rolled() + standing::CLEARANCE_MM;
        let needed = Figure::about(needed, Dim::LENGTH);
        let finding = Finding::new(&CODE, unit.path.as_str(), what, needed, Limit::AtMost(ceiling.into()));
        let rolls = report.compare(finding);
        // Where nothing lies under or on the sides, whatever stands up fits.
        let high = subject.bounds(standing.id, Length::ZERO).map_or(unit.height.value, |bounds| bounds[2][1]);
        let whole = "height of a unit with its plinth and counter";
        let over = match elsewhere {
            Some(_) => subject.bounds(standing.id, Length::ZERO).and_then(|own| wall.ceiling.least(own[0])),
            None => Some(ceiling),
        };
        let over = over.unwrap_or(ceiling);
        let most = Limit::AtMost(under(subject, over).into());
        // What follows the ceiling has the room under it that it states; a slope is compared by itself.
        let follows = standing.carcass.follow.is_some() || wall.slope.is_some();
        let alone = follows || (elsewhere.is_none() && high == unit.height.value);
        let fits = alone || report.compare(Finding::new(&CODE, unit.path.as_str(), whole, high, most));
        if !rolls || !fits {
            let ceiling = if rolls { over } else { ceiling };
            let slanted = unit.slant.map(|slant| slant.edge.value);
            let key = (unit.height.value, unit.depth.value, slanted, high, ceiling);
            sizes.entry(key).or_default().push(standing);
        }
    }
    for ((height, depth, slanted, high, ceiling), units) in sizes {
        let Some(first) = units.first() else { continue };
        let diagonal = first.unit.rolled();
        let rolls = !Figure::about(diagonal + standing::CLEARANCE_MM, Dim::LENGTH).exceeds(ceiling.into());
        let more = match units.len() {
            1 => String::new(),
            count => format!(" and {}", some(count - 1, "other unit")),
        };
        let does = if units.len() == 1 { "does" } else { "do" };
        let what = if rolls { "fit under the ceiling" } else { "stand up in this room" };
        let message = format!("`{}`{more} {does} not {what}", first.unit.path);
        let mut diagnostic = subject.at(Diagnostic::new(&CODE, message), first.carcass.height, "the height");
        for standing in &units {
            diagnostic = diagnostic.about(standing.unit.path.as_str());
        }
        let elsewhere = stood_up_under(subject, first.unit).filter(|elsewhere| elsewhere.value == ceiling);
        let readings = first.wall.iter().flat_map(|wall| &wall.ceiling.points).map(|(_, above)| *above);
        let level = first.wall.and_then(|wall| wall.slope?.level);
        if let Some(low) = elsewhere.or(level).or_else(|| readings.min_by_key(|above| above.value)) {
            diagnostic = subject.at(diagnostic, low, "the lowest ceiling");
        }
        diagnostic = diagnostic.note(if rolls {
            format!(
                "with what is under and on its sides it is {} high; the lowest ceiling is {}",
                subject.print(high),
                subject.print(ceiling)
            )
        } else {
            format!(
                "its diagonal is {}, and it needs {} over that; the lowest ceiling is {}",
                Figure::about(diagonal, Dim::LENGTH).print(subject.marks(), Round::Nearest),
                subject.print(subject.usual((1, 2), 127)),
                subject.print(ceiling)
            )
        });
        // What is stated counts plinth and counter; what is rolled up are the sides.
        let beside = high.checked_sub(height).unwrap_or_default();
        let tallest = standing::tallest(ceiling.to_mm_f64() - standing::CLEARANCE_MM, depth.to_mm_f64())
            .and_then(length);
        let tallest = tallest.and_then(|tallest| subject.marks().round(tallest, Round::Down));
        let tallest = tallest.filter(|_| slanted.is_none());
        let tallest = tallest.and_then(|sides| Some(sides.checked_add(beside)?.min(under(subject, ceiling))));
        let fix = tallest
            .and_then(|tallest| subject.change(first.carcass.height, tallest, "make it {} high", false));
        if let Some(tallest) = tallest {
            let with = if beside.is_zero() { "" } else { " with its plinth and counter" };
            diagnostic = diagnostic.help(format!(
                "{}{with} is the tallest of this depth that stands up",
                subject.print(tallest)
            ));
        }
        if first.unit.stands.is_none() {
            diagnostic = diagnostic.help("or build a separate base, and stand a lower box on it");
        }
        report.tell_with(diagnostic, fix.into_iter().collect());
    }
}

/// The ceiling under which a unit is stood up, where its run states that.
fn stood_up_under(subject: &Subject<'_>, unit: &Unit) -> Option<Len> {
    subject.model.runs.get(unit.run?.0 as usize)?.stood_up_under
}

/// As much is left over a box that is set on a plinth as over its diagonal.
fn under(subject: &Subject<'_>, ceiling: Length) -> Length {
    ceiling.checked_sub(subject.usual((1, 2), 127)).unwrap_or(ceiling)
}
