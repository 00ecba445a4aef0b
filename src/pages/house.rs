//! For the house: the wall as it will be, what fits into which opening, what it costs, when it may be used.

use super::{Leaf, PlaceSpec, drawn, noted};
use crate::document::{Cell, ESTIMATED, Table, figures, words};
use crate::parts::{Opening, UnitId, unchecked};
use crate::quantity::{JsonLength, Length, Rational};
use crate::sheets::{Subject, finishing, shopping};
use crate::views::{ELEVATION, Picked};
use indexmap::IndexMap;
use serde::Serialize;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    by_unit: true,
    ..PlaceSpec::new(
        "house",
        "the wall as it will be, openings with what fits, running length, cost, when it may be used",
        make,
    )
};

#[derive(Debug, Serialize)]
struct HousePage {
    notes: Vec<String>,
    openings: Vec<OpeningRow>,
    /// All shelves together, as what stands on them sees them.
    running: String,
    cost: Option<String>,
    without_price: Vec<String>,
    loads: Vec<String>,
    /// What is not measured, and what is not stated that matters.
    undecided: Vec<String>,
}

/// Openings that are alike.
#[derive(Debug, Serialize)]
struct OpeningRow {
    #[serde(skip)]
    of: Vec<UnitId>,
    opening: String,
    /// The path of the first of them.
    #[serde(skip)]
    path: String,
    units: Vec<String>,
    /// At the front, under the strip or rail that hangs there.
    high: JsonLength,
    /// Whether nothing is over it, so that things may be higher.
    open: bool,
    wide: JsonLength,
    deep: JsonLength,
    /// All of them side by side.
    running: String,
    /// What is stated to stand there.
    holds: Vec<String>,
}

/// What tells openings apart: name, sizes, whether anything is over it, what stands there.
type Told = (String, [Length; 3], bool, Vec<String>);

/// Openings that are alike, in the order of the units, from the top; and the length of all shelves together.
fn openings(subject: Subject<'_>) -> (Vec<OpeningRow>, String) {
    let graph = subject.graph;
    let system = subject.model.project.marks.system();
    let mut alike: IndexMap<Told, (String, Vec<UnitId>)> = IndexMap::new();
    let carcasses = subject.model.all_carcasses();
    for ((id, _), carcass) in graph.numbered_units().zip(carcasses) {
        let own = graph.openings.iter().filter(|own| own.unit == id && own.used && !own.divided);
        let mut own: Vec<&Opening> = own.collect();
        own.reverse();
        for opening in own {
            let Some(shelf) = graph.part(opening.on) else { continue };
            let sizes = [opening.clear_width.value, opening.opening_front.value, shelf.size.width.value];
            let stated = carcass.contents.iter().filter(|own| own.on.contains(&opening.name));
            let holds = stated.map(|own| own.name.to_string()).collect();
            let told = (opening.name.to_string(), sizes, opening.open, holds);
            alike.entry(told).or_insert_with(|| (opening.path.clone(), Vec::new())).1.push(id);
        }
    }
    let long = |wide: Length, count: usize| wide.checked_mul(Rational::from(i128::try_from(count).ok()?));
    let lengths = alike.iter().filter_map(|((_, [wide, ..], ..), (_, units))| long(*wide, units.len()));
    let running = lengths.reduce(|a, b| a.checked_add(b).unwrap_or(a)).unwrap_or_default();
    let row = |((opening, [wide, high, deep], open, holds), (path, of)): (Told, (String, Vec<UnitId>))| {
        OpeningRow {
            opening,
            path,
            high: subject.json(high),
            open,
            wide: subject.json(wide),
            deep: subject.json(deep),
            running: long(wide, of.len()).map(|long| system.long(long)).unwrap_or_default(),
            holds,
            units: of.iter().filter_map(|unit| Some(graph.unit(*unit)?.path.clone())).collect(),
            of,
        }
    };
    (alike.into_iter().map(row).collect(), system.long(running))
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let graph = subject.graph;

    let shopping = shopping(subject);
    let steps = finishing(subject).steps;
    let loads = steps.iter().filter(|step| step.is_load).map(|step| match &step.begins {
        Some(begins) => format!("{}: from {begins}; {}", step.name, step.what),
        None => format!("{}: {}", step.name, step.what),
    });
    let (openings, running) = openings(subject);
    let unread = subject.model.walls.iter().flat_map(|wall| {
        wall.unread.iter().map(move |unread| format!("{} of {} is not read yet", unread.what, wall.name))
    });
    let value = HousePage {
        notes: noted(graph.runs.iter().map(|run| (run.path.as_str(), run.note.as_ref()))).collect(),
        openings,
        running,
        cost: shopping.total.clone(),
        without_price: shopping.without_price.clone(),
        loads: loads.collect(),
        undecided: unread.chain(unchecked(&graph.lacking)).collect(),
    };
    let mut leaf = Leaf::new(subject, &PLACE, "For the house".to_owned(), &value);
    let page = &mut leaf.page;
    page.cautions.push(ESTIMATED);
    value.notes.iter().for_each(|note| page.words(note.clone()));
    drawn(
        subject,
        page,
        &ELEVATION,
        &subject.only.map_or_else(Picked::default, |id| Picked::unit(graph, id)),
    );
    let shown = value.openings.iter().filter(|row| row.of.iter().any(|unit| subject.shows(*unit)));
    let rows = shown.map(|row| {
        vec![
            Cell::Words(row.opening.clone()),
            if row.open {
                Cell::Figure(format!("{} or more", row.high.print))
            } else {
                Cell::reasoned(&row.high, format!("{}.opening_front", row.path))
            },
            Cell::reasoned(&row.wide, format!("{}.clear_width", row.path)),
            Cell::Figure(row.deep.print.clone()),
            Cell::Figure(row.running.clone()),
            Cell::Words(row.holds.join(", ")),
            Cell::Words(row.units.join(", ")),
        ]
    });
    page.table(Table {
        caption: "Openings, as what goes in sees them, from the top".to_owned(),
        columns: vec![
            words("over"),
            figures("high"),
            figures("wide"),
            figures("deep"),
            figures("in all"),
            words("for"),
            words("in"),
        ],
        rows: rows.collect(),
        foot: Some(format!(
            "{} of shelf; things want a finger's room over them, an inch or 25 mm (common practice, no source)",
            value.running
        )),
    });
    if let Some(cost) = &value.cost {
        let without = match value.without_price.as_slice() {
            [] => String::new(),
            without => format!(", without {}", without.join(", ")),
        };
        page.words(format!("What is still to buy costs {cost}{without}."));
    }
    value.loads.iter().for_each(|says| page.words(format!("{says}.")));
    if !value.undecided.is_empty() {
        page.heading("What stays to be measured or decided");
        value.undecided.iter().for_each(|says| page.words(format!("{says}.")));
    }
    vec![leaf]
}
