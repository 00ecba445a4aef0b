//! The finishing schedule: what is painted, how much of what is bought, and when each step may begin.

#[cfg(feature = "calendar")]
mod calendar;
mod schedule;

use super::{Output, SheetSpec, Subject, bought};
use crate::document::{Cell, Document, FINISHING, Table, figures, words};
use crate::eval::{Can, Carcass, Coating, Finish};
use crate::limits;
use crate::parts::{GlueClass, Surfaces, Work};
use crate::quantity::{
    Dim, Estimate, Exact, Length, Rational, System, estimate, rounded, some, to_f64, unit,
};
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul};
pub use schedule::Step;
use schedule::steps;
use serde::Serialize;
use std::collections::BTreeMap;

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: "finish",
    about: "faces to paint, products to buy, steps with their times",
    make,
    draw: None,
    of_revision: true,
};

/// The finishing schedule.
#[derive(Clone, Debug, Serialize)]
pub struct Finishing {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// Areas and runs, by run and class.
    pub areas: Vec<AreaRow>,
    /// What is bought.
    pub products: Vec<ProductRow>,
    /// What is done, in order.
    pub steps: Vec<Step>,
}

/// An area that is painted or glued, or a run of caulk.
#[derive(Clone, Debug, Serialize)]
pub struct AreaRow {
    /// The run or carcass; empty for a sum of all.
    pub of: String,
    /// `paint`, `glue`, `caulk` or `wall`.
    pub what: &'static str,
    /// The class of faces or edges.
    pub class: String,
    /// Its size, printed with its unit.
    pub size: String,
}

/// A product.
#[derive(Clone, Debug, Serialize)]
pub struct ProductRow {
    /// Its name.
    pub name: String,
    /// What it covers.
    pub covers: String,
    /// How much is needed: an estimate.
    pub needed: String,
    /// What to buy.
    pub buy: String,
    /// What the cans of the last coat leave for touching up; empty of all else.
    pub left: String,
    /// What that costs, where prices are stated.
    #[serde(skip)]
    pub cost: Option<Rational>,
    /// Whether what is bought already does.
    #[serde(skip)]
    pub is_there: bool,
}

/// What is an estimate of it.
const ESTIMATES: [&str; 4] = ["areas.size", "products.needed", "steps.begins", "steps.ends"];

/// Makes the typed schedule.
pub(crate) fn finishing(subject: Subject<'_>) -> Finishing {
    let faces = subject.graph.faces();
    let surfaces = faces.map(|faces| subject.graph.surfaces(faces, subject.work)).unwrap_or_default();
    let project = &subject.model.project;
    Finishing {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        areas: surfaces.iter().flat_map(|surfaces| areas(subject, surfaces)).collect(),
        products: all_products(subject),
        steps: steps(subject, &surfaces),
    }
}

fn make(subject: Subject<'_>) -> Output {
    let finishing = finishing(subject);
    let mut document = document(subject, &finishing);
    if subject.graph.faces().is_none() {
        let note = "Sizes are too large for areas to be worked out; nothing is said about them and about what to buy.";
        document.notes.insert(0, note.to_owned());
    }
    #[cfg(feature = "calendar")]
    let calendar = calendar::calendar(subject, &finishing.steps);
    #[cfg(not(feature = "calendar"))]
    let calendar = None;
    Output { calendar, ..Output::new(finishing, document, &ESTIMATES) }
}

fn system(subject: Subject<'_>) -> System {
    subject.model.project.marks.system()
}

fn areas(subject: Subject<'_>, surfaces: &Surfaces) -> Vec<AreaRow> {
    let row =
        |what, class: &str, size| AreaRow { of: surfaces.path.clone(), what, class: class.to_owned(), size };
    let mut rows = Vec::new();
    rows.extend(
        surfaces.paint.iter().map(|(class, mm2)| row("paint", class.words(), system(subject).area(*mm2))),
    );
    rows.extend(surfaces.crown.map(|crown| row("paint", "crown", estimate(crown, system(subject)))));
    rows.push(row("paint", "all", estimate(surfaces.painted(), system(subject))));
    rows.push(row("wall", "wall seen behind the shelves", system(subject).area(surfaces.wall_behind)));
    rows.extend(surfaces.glue.iter().map(|(class, mm2)| {
        let words = match class {
            GlueClass::Housings => "dados and rabbets",
            GlueClass::Cleats => "cleats on shelves",
            GlueClass::Facing => "facing on carcass",
            GlueClass::Frame => "rails in stiles",
            GlueClass::CeilingPanel => "panel on the ceiling",
        };
        row("glue", words, system(subject).area(*mm2))
    }));
    rows.extend(
        surfaces
            .caulk
            .iter()
            .map(|(class, length)| row("caulk", class.words(), system(subject).long(*length))),
    );
    rows.extend(
        surfaces
            .crown_caulk
            .map(|crown| row("caulk", "crown along its top edges", system(subject).long_about(crown.value))),
    );
    rows
}

/// What is bought, from the faces of all parts; nothing where sizes are too large for areas.
pub(super) fn all_products(subject: Subject<'_>) -> Vec<ProductRow> {
    let faces = subject.graph.faces();
    let Some(faces) = faces else { return Vec::new() };
    let left = subject.graph.surfaces(faces, subject.work);
    if subject.graph.bought.is_empty() {
        return products(subject, [&left, &left]);
    }
    products(subject, [&left, &subject.graph.surfaces(faces, Work::Whole)])
}

/// Two amounts of one thing: for what is left to do, and for all of it.
type Amounts = [f64; 2];

/// How much of a liquid is to be bought: no more than what is left to do takes, and no more than is missing of the whole.
fn to_buy(subject: Subject<'_>, name: &str, [left, whole]: Amounts) -> f64 {
    match bought::liquid(subject, name) {
        there if there > 0.0 => (whole - there).clamp(0.0, left.max(0.0)),
        _ => left,
    }
}

/// `surfaces` of what is left to do, and of all.
fn products(subject: Subject<'_>, surfaces: [&[Surfaces]; 2]) -> Vec<ProductRow> {
    let mut rows = Vec::new();
    let painted = surfaces.map(|all| all.iter().fold(0.0, |sum, surfaces| sum + surfaces.painted().value));
    let is_over = painted[0] <= 0.0 && subject.work == Work::Left && !subject.graph.made.is_empty();
    if let Some(finish) = subject.model.finish.as_ref().filter(|_| !is_over) {
        let mut coats: Vec<(&Coating, usize)> = Vec::new();
        for coat in &finish.coats {
            match coats.iter_mut().find(|(other, _)| other.name == coat.name) {
                Some((_, count)) => *count += 1,
                None => coats.push((coat, 1)),
            }
        }
        rows.extend(
            coats.into_iter().map(|(coating, count)| coating_row(subject, finish, coating, count, painted)),
        );
        rows.extend(caulk_row(subject, finish, surfaces));
    }
    rows.extend(glue_rows(subject, surfaces));
    rows
}

fn coating_row(
    subject: Subject<'_>,
    finish: &Finish,
    coating: &Coating,
    count: usize,
    painted: Amounts,
) -> ProductRow {
    let coats = some(count, "coat");
    let covered = Estimate { value: painted[0], dim: Dim::AREA };
    let mut row = ProductRow {
        name: coating.name.to_string(),
        covers: format!("{coats} on {}", estimate(covered, system(subject))),
        needed: "not known".to_owned(),
        buy: "state its `spread`".to_owned(),
        left: String::new(),
        cost: None,
        is_there: false,
    };
    let Some(spread) = coating.spread else { return row };
    let kept = 1.0 - to_f64(finish.loss);
    let times = f64::from(u32::try_from(count).unwrap_or(u32::MAX));
    let volumes = painted.map(|painted| painted * times / (to_f64(spread.value.value) * kept));
    row.needed = estimate(Estimate { value: volumes[0], dim: Dim::VOLUME }, system(subject));
    let missing = to_buy(subject, &coating.name, volumes);
    let bought = cans(Estimate { value: missing, dim: Dim::VOLUME }, &coating.cans, system(subject));
    let last = finish.coats.last().is_some_and(|last| last.name == coating.name);
    if let Some((.., holds)) = bought.as_ref().filter(|_| last) {
        row.left = reserve(subject, holds - missing);
    }
    row.buys(bought, missing, "by the can; no `cans` are stated");
    row
}

impl ProductRow {
    /// What is bought of a liquid of which so much is missing; `unsized` says so where no cans are stated.
    fn buys(&mut self, cans: Option<(String, Option<Rational>, f64)>, missing: f64, unstated: &str) {
        self.is_there = missing <= 0.0;
        (self.buy, self.cost, _) = match cans {
            _ if self.is_there => ("nothing more".to_owned(), None, 0.0),
            Some(cans) => cans,
            None => (unstated.to_owned(), None, 0.0),
        };
    }
}

/// A volume that is bought, by the unit in which it is a whole number.
pub(super) fn volume(subject: Subject<'_>, volume: Rational) -> String {
    can(Exact { value: volume, dim: Dim::VOLUME }, system(subject))
}

/// What is left for touching up, in cubic millimetres, and whether that is a pint or half a litre (common practice, no source).
fn reserve(subject: Subject<'_>, left: f64) -> String {
    let (word, wise) = match system(subject) {
        System::Inch => ("pint", "pint"),
        System::Metric => ("L", "half litre"),
    };
    let factor = unit(word).map_or(1.0, |unit| to_f64(unit.factor));
    let said = format!("~{:.1} {word} left for touching up", left / factor);
    let least = if system(subject) == System::Inch { factor } else { factor / 2.0 };
    if left < least { format!("{said}, less than the {wise} that is wise to keep") } else { said }
}

/// The cans that hold what is needed: for the least money where every size has a price, else with the least volume; among
/// these the fewest. And what they cost, and what they hold, in cubic millimetres.
fn cans(needed: Estimate, sizes: &[Can], system: System) -> Option<(String, Option<Rational>, f64)> {
    let priced = sizes.iter().all(|size| size.price.is_some());
    let weighs = |size: &Can| to_f64(size.price.filter(|_| priced).unwrap_or(size.holds.value));
    let sizes: Vec<(&Can, f64)> = sizes.iter().map(|size| (size, weighs(size))).collect();
    let (_, counts) = least(needed.value, &sizes)?;
    let bought = || sizes.iter().zip(&counts).rev().filter(|(_, count)| **count > 0);
    let cost = bought().try_fold(Rational::from(0), |sum, ((size, _), count)| {
        sum.checked_add(&size.price?.checked_mul(&Rational::from(*count))?)
    });
    let parts: Vec<String> =
        bought().map(|((size, _), count)| format!("{count} x {}", can(size.holds, system))).collect();
    let holds = bought().map(|((size, _), count)| to_f64(size.holds.value) * *count as f64).sum();
    (!parts.is_empty()).then(|| (parts.join(" + "), cost, holds))
}

/// Below this sums of prices or of volumes (in cubic millimetres) count as equal.
const EQUAL: f64 = 1e-6;

/// The counts with the least sum of what a can costs (money or volume), and of these the fewest: tried for every count of the
/// larger sizes, as far as [`limits::CANS`] allows; the smallest one takes the rest.
fn least(needed: f64, sizes: &[(&Can, f64)]) -> Option<(f64, Vec<i128>)> {
    let ((largest, each), smaller) = sizes.split_last()?;
    let holds = to_f64(largest.holds.value);
    let most = (needed.max(0.0) / holds - EQUAL / holds).ceil().max(0.0);
    if smaller.is_empty() {
        return Some((most * each, vec![most as i128]));
    }
    let tried = if sizes.len() > limits::CAN_SIZES { 0 } else { (most as i128).min(limits::CANS) };
    let tries = (0..=tried).filter_map(|back| {
        let count = most as i128 - back;
        let (cost, mut counts) = least(needed - count as f64 * holds, smaller)?;
        counts.push(count);
        Some((cost + count as f64 * each, counts))
    });
    tries.min_by(|(cost, counts), (other_cost, others)| {
        let number = |counts: &[i128]| counts.iter().sum::<i128>();
        if (cost - other_cost).abs() > EQUAL * cost.abs().max(1.0) {
            cost.total_cmp(other_cost)
        } else {
            number(counts).cmp(&number(others))
        }
    })
}

/// A can by the unit in which its size is a whole number; in an inch project also by tenths of a fluid ounce.
fn can(size: Exact, system: System) -> String {
    let count = |word: &str| unit(word).and_then(|unit| size.value.checked_div(&unit.factor));
    for word in ["gal", "qt", "pint", "L"] {
        if let Some(count) = count(word).filter(Rational::is_integer) {
            return format!("{count} {word}");
        }
    }
    let tenths = |count: &Rational| (*count * Rational::from(10)).is_integer();
    if let (System::Inch, Some(count)) = (system, count("floz").filter(tenths)) {
        return format!("{} fl oz", rounded(count, 1));
    }
    match (count("L"), count("ml")) {
        (Some(litres), _) if litres > Rational::from(1) => format!("{} L", rounded(litres, 3)),
        (_, Some(count)) => format!("{} ml", rounded(count, 3)),
        _ => "out of range".to_owned(),
    }
}

/// All runs of caulk, in millimetres.
fn caulked(surfaces: &[Surfaces]) -> f64 {
    surfaces.iter().fold(0.0, |sum, surfaces| sum + surfaces.caulked().value)
}

fn caulk_row(subject: Subject<'_>, finish: &Finish, surfaces: [&[Surfaces]; 2]) -> Option<ProductRow> {
    let caulk = finish.caulk.as_ref()?;
    let lengths = surfaces.map(caulked);
    let covers = format!("{} of seams", system(subject).long_about(lengths[0]));
    let (bead, cartridge) = (caulk.bead?.value.mm(), caulk.cartridge?.value.value);
    let each = Length::from_mm(cartridge.checked_div(&bead.checked_mul(&bead)?)?);
    let [left, whole] = lengths.map(|length| (length / each.to_mm_f64()).ceil());
    let there = bought::pieces(subject, &caulk.name) as f64;
    let count = if there > 0.0 { (whole - there).clamp(0.0, left) } else { left };
    let needed = format!("{} a cartridge", system(subject).long(each));
    let is_there = count < 0.5;
    let buy = match count {
        _ if is_there => "nothing more".to_owned(),
        count if count < 1.5 => "1 cartridge".to_owned(),
        count => format!("{count} cartridges"),
    };
    let cost = caulk.price.and_then(|price| price.checked_mul(&Rational::from(count as i128)));
    Some(ProductRow {
        name: caulk.name.to_string(),
        covers,
        needed,
        buy,
        left: String::new(),
        cost,
        is_there,
    })
}

/// The glued faces by glue, in square millimetres: housings and cleats with the glue of the first carcass that states one, facing
/// with its own.
fn glued(subject: Subject<'_>, surfaces: &[Surfaces]) -> BTreeMap<usize, f64> {
    let mut by_glue: BTreeMap<usize, f64> = BTreeMap::new();
    for surfaces in surfaces {
        let run = subject.model.runs.iter().find(|run| *run.name == *surfaces.path);
        let named = |carcass: &&Carcass| carcass.name.as_deref() == Some(&*surfaces.path);
        let alone = || subject.model.carcasses.iter().find(named);
        let carcass = run.map_or_else(alone, |run| run.units.first());
        for (class, area) in &surfaces.glue {
            let join = match class {
                GlueClass::Housings => carcass.map(|carcass| carcass.joins.shelf_to_side),
                GlueClass::Cleats => carcass.map(|carcass| carcass.joins.cleat_to_shelf),
                GlueClass::Facing => run.map(|run| run.facing_join),
                GlueClass::Frame => run.and_then(|run| run.frame).map(|frame| frame.join),
                GlueClass::CeilingPanel => {
                    run.and_then(|run| run.ceiling_panel.as_ref()).map(|panel| panel.join)
                }
            };
            if let Some(glue) = join.and_then(|join| join.glue) {
                *by_glue.entry(glue).or_default() += to_f64(*area);
            }
        }
    }
    by_glue
}

fn glue_rows(subject: Subject<'_>, surfaces: [&[Surfaces]; 2]) -> Vec<ProductRow> {
    let [left, whole] = surfaces.map(|surfaces| glued(subject, surfaces));
    let rows = left.into_iter().filter_map(|(glue, area)| {
        let areas = [area, whole.get(&glue).copied().unwrap_or(area)];
        let glue = subject.model.glues.get(glue)?;
        let covers =
            format!("{} of glued faces", estimate(Estimate { value: area, dim: Dim::AREA }, system(subject)));
        let spread = to_f64(glue.spread?.value.value);
        let volumes = areas.map(|area| area / spread);
        let needed = match system(subject) {
            System::Inch => {
                format!("~{:.1} fl oz", volumes[0] / unit("floz").map_or(1.0, |unit| to_f64(unit.factor)))
            }
            System::Metric => estimate(Estimate { value: volumes[0], dim: Dim::VOLUME }, System::Metric),
        };
        let missing = to_buy(subject, &glue.name, volumes);
        let bottles = cans(Estimate { value: missing, dim: Dim::VOLUME }, &glue.bottles, system(subject));
        let (name, buy, left) = (glue.name.to_string(), String::new(), String::new());
        let mut row = ProductRow { name, covers, needed, buy, left, cost: None, is_there: false };
        row.buys(bottles, missing, "a bottle that holds it");
        Some(row)
    });
    rows.collect()
}

fn document(subject: Subject<'_>, finishing: &Finishing) -> Document {
    let mut document = subject.document("Finishing schedule");
    document.cautions.insert(0, FINISHING);
    let words_of = |text: &str| Cell::Words(text.to_owned());
    let steps = finishing.steps.iter().map(|step| {
        vec![
            Cell::Figure(step.number.to_string()),
            words_of(step.name),
            words_of(&step.what),
            words_of(step.begins.as_deref().unwrap_or("")),
            words_of(step.ends.as_deref().unwrap_or("")),
        ]
    });
    document.tables.push(Table {
        caption: "Steps, in order; times are estimates".to_owned(),
        columns: vec![figures("step"), words("what"), words("how"), words("from"), words("to")],
        rows: steps.collect(),
        foot: None,
    });
    let products = finishing.products.iter().map(|product| {
        vec![
            words_of(&product.name),
            words_of(&product.covers),
            words_of(&product.needed),
            words_of(&product.buy),
        ]
    });
    let left = finishing.products.iter().filter(|product| !product.left.is_empty());
    let left: Vec<String> = left.map(|product| format!("{}: {}", product.name, product.left)).collect();
    document.tables.push(Table {
        caption: "To buy; quantities are estimates".to_owned(),
        columns: vec![words("product"), words("covers"), words("needed"), words("buy")],
        rows: products.collect(),
        foot: (!left.is_empty()).then(|| left.join("; ")),
    });
    let areas = finishing.areas.iter().map(|row| {
        vec![words_of(&row.of), words_of(row.what), words_of(&row.class), Cell::Figure(row.size.clone())]
    });
    document.tables.push(Table {
        caption: "Faces and seams, after fitting".to_owned(),
        columns: vec![words("of"), words("what"), words("where"), figures("size")],
        rows: areas.collect(),
        foot: None,
    });
    document
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Cans of so many millilitres, each with its price.
    fn bought(millilitres: i128, sizes: &[(i128, Option<i128>)]) -> Option<String> {
        let dim = Dim::VOLUME;
        let holds = |ml: i128| Exact { value: Rational::from(ml * 1000), dim };
        let can =
            |(ml, price): &(i128, Option<i128>)| Can { holds: holds(*ml), price: price.map(Rational::from) };
        let sizes: Vec<Can> = sizes.iter().map(can).collect();
        cans(Estimate { value: to_f64(Rational::from(millilitres * 1000)), dim }, &sizes, System::Metric)
            .map(|(text, ..)| text)
    }

    /// 4.55 L: two large ones hold 5 L; one and three small ones 2.5 + 2.25 = 4.75; seven small ones 5.25.
    #[test]
    fn without_prices_the_least_volume_is_bought() {
        let sizes = [(750, None), (2500, None)];
        assert_eq!(bought(4550, &sizes).as_deref(), Some("1 x 2.5 L + 3 x 750 ml"));
        assert_eq!(bought(4750, &sizes).as_deref(), Some("1 x 2.5 L + 3 x 750 ml"));
        // 4.751 L: 4.75 does not hold it, 5 L do.
        assert_eq!(bought(4751, &sizes).as_deref(), Some("2 x 2.5 L"));
        // One size without a price: volume again.
        assert_eq!(bought(4550, &[(750, Some(1)), (2500, None)]).as_deref(), Some("1 x 2.5 L + 3 x 750 ml"));
    }

    /// 3 L in cans of 1 and 3 L are one can or three; of 1 L for 10 and 3 L for 30 the fewest, for 31 the cheaper ones.
    #[test]
    fn what_costs_the_same_comes_in_the_fewest_cans() {
        assert_eq!(bought(3000, &[(1000, None), (3000, None)]).as_deref(), Some("1 x 3 L"));
        assert_eq!(bought(3000, &[(1000, Some(10)), (3000, Some(30))]).as_deref(), Some("1 x 3 L"));
        assert_eq!(bought(3000, &[(1000, Some(10)), (3000, Some(31))]).as_deref(), Some("3 x 1 L"));
    }

    /// 8 fl oz are half a pint, and 10.1 no whole number of anything; half a litre is 16.907 of them.
    #[test]
    fn a_can_is_named_by_the_unit_it_is_sold_in() {
        let floz = unit("floz").unwrap().factor;
        let named = |value, system| can(Exact { value, dim: Dim::VOLUME }, system);
        assert_eq!(named(floz * Rational::from(8), System::Inch), "8 fl oz");
        assert_eq!(named(floz * Rational::new(101, 10), System::Inch), "10.1 fl oz");
        assert_eq!(named(floz * Rational::from(16), System::Inch), "1 pint");
        assert_eq!(named(Rational::from(500_000), System::Inch), "500 ml");
        assert_eq!(named(floz * Rational::from(8), System::Metric), "~236.588 ml");
    }

    #[test]
    fn where_no_size_is_stated_nothing_is_chosen() {
        assert_eq!(bought(3000, &[]), None);
    }
}
