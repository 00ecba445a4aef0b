//! For the house: the wall as it will be, what fits into which opening, what it costs, when it may be used.

use super::{Leaf, PlaceSpec, drawn};
use crate::document::{Cell, ESTIMATED, Table, figures, words};
use crate::parts::Opening;
use crate::quantity::JsonLength;
use crate::sheets::{Subject, finishing, shopping};
use serde::Serialize;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    far: false,
    name: "house",
    about: "the wall as it will be, openings with what fits, running length, cost, when it may be used",
    make,
};

#[derive(Debug, Serialize)]
struct HousePage {
    openings: Vec<OpeningRow>,
    cost: Option<String>,
    without_price: Vec<String>,
    loads: Vec<String>,
}

/// An opening that somebody puts things into.
#[derive(Debug, Serialize)]
struct OpeningRow {
    unit: String,
    opening: String,
    /// At the front, under the strip or rail that hangs there.
    high: JsonLength,
    /// Whether nothing is over it, so that things may be higher.
    open: bool,
    wide: JsonLength,
    deep: JsonLength,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let graph = subject.graph;
    let row = |opening: &Opening| {
        let unit = graph.unit(opening.unit)?;
        let shelf = graph.part(opening.on)?;
        Some(OpeningRow {
            unit: unit.path.clone(),
            opening: opening.name.to_string(),
            high: subject.json(opening.opening_front.value),
            open: opening.open,
            wide: subject.json(opening.clear_width.value),
            deep: subject.json(shelf.size.width.value),
        })
    };
    let shopping = shopping(subject);
    let steps = finishing(subject).steps;
    let loads = steps.iter().filter(|step| step.is_load).map(|step| match &step.begins {
        Some(begins) => format!("{}: from {begins}; {}", step.name, step.what),
        None => format!("{}: {}", step.name, step.what),
    });
    let used = graph.openings.iter().filter(|opening| opening.used && !opening.divided);
    let value = HousePage {
        openings: used.filter_map(row).collect(),
        cost: shopping.total.clone(),
        without_price: shopping.without_price.clone(),
        loads: loads.collect(),
    };
    let mut leaf = Leaf::new(subject, &PLACE, "For the house".to_owned(), &value);
    let page = &mut leaf.page;
    drawn(subject, page, "elevation", None);
    let rows = value.openings.iter().rev().map(|row| {
        vec![
            Cell::Words(row.unit.clone()),
            Cell::Words(row.opening.clone()),
            Cell::Figure(row.wide.print.clone()),
            Cell::Figure(if row.open {
                format!("{} or more", row.high.print)
            } else {
                row.high.print.clone()
            }),
            Cell::Figure(row.deep.print.clone()),
        ]
    });
    page.table(Table {
        caption: "Openings, as what goes in sees them".to_owned(),
        columns: vec![words("unit"), words("over"), figures("wide"), figures("high"), figures("deep")],
        rows: rows.collect(),
        foot: None,
    });
    if let Some(cost) = &value.cost {
        let without = match value.without_price.as_slice() {
            [] => String::new(),
            without => format!(", without {}", without.join(", ")),
        };
        page.words(format!("What is still to buy costs {cost}{without}."));
    }
    value.loads.iter().for_each(|says| page.words(format!("{says}.")));
    page.cautions.push(ESTIMATED);
    vec![leaf]
}
