//! What is noted as bought: what was paid for it, and what of it is left to buy.

use super::Subject;
use crate::breakdown::price_of_length;
use crate::eval::{Can, whole_cents};
use crate::parts::{Bought, Each};
use crate::quantity::{Length, Rational, some, to_f64};
use num_traits::{CheckedAdd, CheckedMul};
use serde::Serialize;

/// Something that is bought.
#[derive(Clone, Debug, Serialize)]
pub struct BoughtRow {
    /// How many.
    pub count: usize,
    /// What, with its lot and the size of one.
    pub what: String,
    /// What all of it cost: as it is noted, or by its price.
    pub paid: Option<String>,
    /// The same as a number.
    #[serde(skip)]
    pub sum: Option<Rational>,
}

/// All that is bought.
pub(super) fn rows(subject: Subject<'_>) -> Vec<BoughtRow> {
    let row = |bought: &Bought| {
        let lot = bought.lot.as_ref().map(|lot| format!(", lot {lot}")).unwrap_or_default();
        let each = match bought.each {
            None => String::new(),
            Some(Each::Size([length, width])) => {
                format!(", {} x {}", subject.print(length), subject.print(width))
            }
            Some(Each::Length(length)) => format!(", {} long", subject.print(length)),
            Some(Each::Volume(volume)) => format!(", {}", super::finish::volume(subject, volume)),
        };
        let sum = bought.paid.or_else(|| by_price(subject, bought)).and_then(whole_cents);
        let paid = sum.map(|sum| subject.model.project.money(sum));
        BoughtRow { count: bought.count, what: format!("{}{lot}{each}", bought.of), paid, sum }
    };
    subject.graph.bought.iter().map(row).collect()
}

/// The sum of what is known to be paid; `None` of nothing.
pub(super) fn spent(rows: &[BoughtRow]) -> Option<Rational> {
    rows.iter().filter_map(|row| row.sum).reduce(|sum, own| sum.checked_add(&own).unwrap_or(sum))
}

/// What it costs by the prices of the project.
fn by_price(subject: Subject<'_>, bought: &Bought) -> Option<Rational> {
    let of = &*bought.of;
    let sheet = || {
        let sheet = subject.graph.sheets.iter().find(|sheet| *sheet.name == *of)?;
        let is = |size: (Length, Length)| match bought.each {
            Some(Each::Size(each)) => each == [size.0, size.1] || each == [size.1, size.0],
            _ => true,
        };
        let usual = sheet.size.is_none_or(|(length, width)| is((length.value, width.value)));
        let other = || sheet.sold.iter().find(|sold| is((sold.size.0.value, sold.size.1.value)))?.price;
        if usual { sheet.price } else { other() }
    };
    let board = || {
        let board = subject.graph.boards.iter().find(|board| *board.name == *of)?;
        let Some(Each::Length(length)) = bought.each else { return None };
        price_of_length(subject.model, board, length)
    };
    let fastener = || subject.graph.fasteners.iter().find(|fastener| *fastener.name == *of)?.price;
    let can = || holding(cans(subject, of), bought)?.price;
    let caulk = || {
        let caulk = subject.model.finish.as_ref()?.caulk.as_ref()?;
        caulk.price.filter(|_| *caulk.name == *of)
    };
    let each = sheet().or_else(board).or_else(fastener).or_else(can).or_else(caulk)?;
    each.checked_mul(&Rational::from(i128::try_from(bought.count).ok()?))
}

/// The sizes in which a liquid is sold.
fn cans<'a>(subject: Subject<'a>, name: &str) -> &'a [Can] {
    let glue = subject.model.glues.iter().find(|glue| *glue.name == *name).map(|glue| &glue.bottles);
    let coats = subject.model.finish.iter().flat_map(|finish| &finish.coats);
    let coat = || coats.into_iter().find(|coat| *coat.name == *name).map(|coat| &coat.cans);
    glue.or_else(coat).map_or(&[], |cans| cans)
}

/// The size that is bought; the only one where none is said.
fn holding<'a>(cans: &'a [Can], bought: &Bought) -> Option<&'a Can> {
    match (bought.each, cans) {
        (Some(Each::Volume(volume)), _) => cans.iter().find(|can| can.holds.value == volume),
        (None, [only]) => Some(only),
        _ => None,
    }
}

/// How many of something are bought; what is sold by the piece or box.
pub(super) fn pieces(subject: Subject<'_>, name: &str) -> usize {
    subject.graph.bought.iter().filter(|bought| *bought.of == *name).map(|bought| bought.count).sum()
}

/// How much of a liquid is bought, in cubic millimetres.
pub(super) fn liquid(subject: Subject<'_>, name: &str) -> f64 {
    let volume = |bought: &Bought| {
        let each = match bought.each {
            Some(Each::Volume(volume)) => volume,
            _ => holding(cans(subject, name), bought)?.holds.value,
        };
        Some(to_f64(each) * bought.count as f64)
    };
    subject.graph.bought.iter().filter(|bought| *bought.of == *name).filter_map(volume).sum()
}

/// What is spent, and what all comes to, in words; nothing where nothing is bought.
pub(super) fn foot(subject: Subject<'_>, rows: &[BoughtRow], left: Option<Rational>) -> Option<String> {
    let spent = spent(rows)?;
    let money = |sum: Rational| subject.model.project.money(sum);
    let without = rows.iter().filter(|row| row.sum.is_none()).count();
    let without = if without > 0 { format!(", without {}", some(without, "row")) } else { String::new() };
    let together = left.and_then(|left| spent.checked_add(&left)).filter(|_| left.is_some());
    let together =
        together.map(|sum| format!("; {} with what is still to buy", money(sum))).unwrap_or_default();
    Some(format!("{} spent{without}{together}", money(spent)))
}
