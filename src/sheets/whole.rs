//! Measures of the whole project, for `why` and `require`: what is bought and painted.

use super::Subject;
use super::shopping::shopping;
use crate::breakdown::Effort;
use crate::cutting::Plan;
use crate::parts::{Measure, MeasureValue, Work};
use crate::quantity::{Dim, Estimate, Rational};
use num_traits::CheckedAdd;

/// The first step of their paths.
pub const PROJECT: &str = "project";

/// Their names: `project.sheets` is how many sheets are bought, `project.cost` what all that has a price costs.
pub const WHOLE: [&str; 3] = ["sheets", "cost", "finish_area"];

/// A measure of the whole project.
#[derive(Clone, Debug)]
pub struct Whole {
    /// The measure.
    pub measure: Measure,
    /// What it leaves out, because the project does not state its price.
    pub without: Vec<String>,
}

/// The measure of the whole project of this name; `None` where there is no such name.
///
/// # Errors
/// Why it is not known, with what helps.
#[must_use]
pub fn whole(subject: Subject<'_>, name: &str) -> Option<Result<Whole, String>> {
    match name {
        "sheets" => Some(sheets(enough(subject, fewest))),
        "cost" => Some(cost(enough(subject, cheapest))),
        "finish_area" => Some(finish_area(subject)),
        _ => None,
    }
}

/// Little effort where it already gives what the lists say that are printed with the usual one.
fn enough(subject: Subject<'_>, settled: impl Fn(Subject<'_>) -> bool) -> Subject<'_> {
    let quick = Subject { effort: Effort::Quick, ..subject };
    if settled(quick) { quick } else { Subject { effort: Effort::Normal, ..subject } }
}

/// Whether no more effort buys fewer sheets.
fn fewest(subject: Subject<'_>) -> bool {
    let open = |plan: &Plan| !plan.proven();
    !subject.sheet_works().iter().any(|work| work.plan.as_ref().is_ok_and(open))
}

/// Whether no more effort buys for another sum: nothing sold costs less, and whatever costs the same is the same money.
fn cheapest(subject: Subject<'_>) -> bool {
    fewest(subject)
        && subject.sheet_works().iter().all(|work| work.counts_sheets() || work.priced)
        && subject.board_works().iter().all(|work| work.is_least())
}

fn sheets(subject: Subject<'_>) -> Result<Whole, String> {
    let (mut count, mut from) = (0, Vec::new());
    for work in subject.sheet_works() {
        let Some(sheet) = subject.graph.sheet(work.sheet) else { continue };
        let plan = work.plan.as_ref().map_err(|error| work.problem(sheet, error))?;
        let bought = usize::try_from(work.bought(plan)).unwrap_or(usize::MAX);
        count += bought;
        from.push((format!("{}: {}", sheet.name, work.proof(subject.model, plan)), bought));
    }
    Ok(of("sheets", MeasureValue::Count(count, from)))
}

fn cost(subject: Subject<'_>) -> Result<Whole, String> {
    let shopping = shopping(subject);
    let sums = shopping.sum.into_iter().chain(shopping.paid);
    let sum = sums.reduce(|sum, own| sum.checked_add(&own).unwrap_or(sum));
    let sum = sum.ok_or("state the `price` of what is bought")?;
    let paid = shopping.bought.iter().map(|row| (format!("bought: {} {}", row.count, row.what), row.sum));
    let to_buy = shopping.rows.iter().map(|row| (format!("{} {}", row.count, row.what), row.sum));
    let from: Vec<(String, Rational)> =
        paid.chain(to_buy).filter_map(|(what, sum)| Some((what, sum?))).collect();
    Ok(Whole { without: shopping.without_price, ..of("cost", MeasureValue::Money(sum, from)) })
}

fn finish_area(subject: Subject<'_>) -> Result<Whole, String> {
    let faces = subject.graph.faces().ok_or("sizes are too large for areas to be worked out")?;
    let surfaces = subject.graph.surfaces(faces, Work::Whole);
    let value = surfaces.iter().map(|surfaces| surfaces.painted().value).sum();
    let area = Estimate { value, dim: Dim::AREA };
    Ok(of(
        "finish_area",
        MeasureValue::Estimate(
            area,
            "all faces that are painted, as `scantling show finish` lists them".into(),
        ),
    ))
}

fn of(name: &'static str, value: MeasureValue) -> Whole {
    Whole { measure: Measure { name, value }, without: Vec::new() }
}
