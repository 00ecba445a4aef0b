//! The paint: what is filled, sanded, caulked and coated, with the earliest times.

use super::{Leaf, PlaceSpec};
use crate::document::{Cell, ESTIMATED, FINISHING, Step, Table, figures, words};
use crate::sheets::{Subject, finishing};

/// The place.
pub(super) const PLACE: PlaceSpec =
    PlaceSpec::new("paint", "filling, sanding, caulking and coats with their times, and what it takes", make);

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    if subject.model.finish.is_none() {
        return Vec::new();
    }
    let finishing = finishing(subject);
    let mut leaf = Leaf::new(subject, &PLACE, "Paint".to_owned(), &finishing);
    let page = &mut leaf.page;
    let steps = finishing.steps.iter().map(|step| {
        let when = match (&step.begins, &step.ends) {
            (Some(begins), Some(ends)) if begins == ends => vec![format!("from {begins}")],
            (Some(begins), Some(ends)) => vec![format!("not before {begins}; until {ends}")],
            _ => Vec::new(),
        };
        Step { more: when, ..Step::new(format!("{}: {}", step.name, step.what)) }
    });
    page.steps("In this order", steps.collect());
    let rows = finishing.products.iter().map(|product| {
        vec![
            Cell::Words(product.name.clone()),
            Cell::Words(product.covers.clone()),
            Cell::Figure(product.needed.clone()),
            Cell::Words(
                [&*product.buy, &*product.left]
                    .into_iter()
                    .filter(|says| !says.is_empty())
                    .collect::<Vec<_>>()
                    .join("; "),
            ),
        ]
    });
    page.table(Table {
        caption: "What it takes; quantities are estimates".to_owned(),
        columns: vec![words("product"), words("covers"), figures("needed"), words("cans")],
        rows: rows.collect(),
        foot: None,
    });
    page.cautions.extend([FINISHING, ESTIMATED]);
    vec![leaf]
}
