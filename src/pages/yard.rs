//! The yard: what is bought, on one screen of a phone.

use super::{Leaf, PlaceSpec};
use crate::document::{Block, ESTIMATED, Field, Form, Step, Takes};
use crate::quantity::some;
use crate::sheets::{Shopping, ShoppingRow, Subject, acclimate, shopping};
use serde::Serialize;

/// The place.
pub(super) const PLACE: PlaceSpec =
    PlaceSpec::new("yard", "what is bought, what may be taken instead, what is measured there", make);

/// What is read off a sheet good at the yard.
#[derive(Debug, Serialize)]
struct Measured {
    stock: String,
    /// What thickness is fine, where a bit or a stated range says so.
    accepts: Option<String>,
}

#[derive(Debug, Serialize)]
struct YardPage<'a> {
    shopping: &'a Shopping,
    measure: Vec<Measured>,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let shopping = shopping(subject);
    let value = YardPage { measure: measured(subject), shopping: &shopping };
    let mut leaf = Leaf::new(subject, &PLACE, "Yard: what is bought".to_owned(), &value);
    let page = &mut leaf.page;
    let mut aisles: Vec<(&str, Vec<&ShoppingRow>)> = Vec::new();
    for row in &shopping.rows {
        match aisles.last_mut() {
            Some((aisle, rows)) if *aisle == row.aisle => rows.push(row),
            _ => aisles.push((row.aisle, vec![row])),
        }
    }
    if shopping.rows.is_empty() {
        page.words("Nothing is to be bought.");
    }
    for (aisle, rows) in aisles {
        page.steps(aisle, rows.into_iter().map(bought).collect());
    }
    let total = shopping.total.as_ref().map(|total| match shopping.without_price.len() {
        0 => format!("In all {total}."),
        count => format!(
            "In all {total}, without {}: {}.",
            some(count, "thing"),
            shopping.without_price.join(", ")
        ),
    });
    total.into_iter().for_each(|says| page.words(says));
    for says in &shopping.substitutes {
        page.words(format!("Instead: {says}."));
    }
    let lot = |own: &Measured| Field {
        name: format!("{}_lot", own.stock),
        asks: format!("{}: the lot or mill mark on it; two lots may differ", own.stock),
        takes: Takes::Words,
        ..Field::default()
    };
    let thickness = |own: &Measured| Field {
        name: own.stock.clone(),
        asks: match &own.accepts {
            Some(range) => format!("{} by caliper, three places; {range}", own.stock),
            None => format!("{} by caliper, three places", own.stock),
        },
        twice: true,
        ..Field::default()
    };
    let fields = value.measure.iter().flat_map(|own| [thickness(own), lot(own)]);
    let fields: Vec<Field> = fields.collect();
    if !fields.is_empty() {
        page.push(Block::Form(Form {
            caption: "Measure before you pay, and state it as `thickness`".to_owned(),
            fields,
            ..Form::default()
        }));
    }
    page.words(acclimate(subject));
    page.cautions.push(ESTIMATED);
    vec![leaf]
}

fn bought(row: &ShoppingRow) -> Step {
    let price = row.cost.as_ref().map(|cost| format!("{cost}; paid: ________"));
    let remark = (!row.remark.is_empty()).then(|| row.remark.clone());
    Step {
        more: remark.into_iter().chain(price).collect(),
        ..Step::new(row.what.clone()).set(row.count.clone())
    }
}

/// Sheet goods that are cut and not measured yet, with what the router takes of them.
fn measured(subject: Subject<'_>) -> Vec<Measured> {
    let bought = subject
        .sheet_works()
        .iter()
        .filter(|work| work.plan.as_ref().is_ok_and(|plan| work.bought(plan) > 0));
    let sheets = bought.filter_map(|work| subject.graph.sheet(work.sheet));
    let bit = subject.model.shop.router.as_ref().map(|router| router.bit.value);
    let row = |sheet: &crate::eval::Sheet| Measured {
        stock: sheet.name.to_string(),
        accepts: bit.map(|bit| {
            format!("not under the bit of {}", subject.model.project.marks.print_fine(bit).text())
        }),
    };
    sheets.filter(|sheet| !sheet.measured).map(row).collect()
}
