//! Stock at hand: what is noted as bought, less what the parts that are cut took.
//!
//! A sheet of the layout that is followed is gone when the first part was cut from it; what is left of it is at hand when the last
//! one was. From which sheet or board any other part was cut is not noted: those are laid out by themselves, and what that takes
//! is gone. An offcut is at hand too where the project states it.

use super::board::Sold;
use super::sheet::{SheetWork, Source};
use super::{Effort, Equal, add_piece};
use crate::cutting::plan_plainly;
use crate::eval::{Len, Model, Offcut, Sheet, SheetId};
use crate::parts::{Bought, Each, Followed, Made, Part, PartGraph, PieceIs, State, Stock};
use crate::quantity::Length;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A sheet good with what is there of it: whole sheets that are stated or noted as bought, and offcuts, less what was cut from them.
#[must_use]
pub fn sheet(model: &Model, graph: &PartGraph, (id, sheet): (SheetId, &Sheet)) -> Sheet {
    let begun = || followed(graph, sheet).filter(|followed| graph.is_begun(followed));
    let mut left: Vec<Offcut> = begun()
        .filter(|followed| graph.is_done(followed))
        .flat_map(|followed| {
            followed.left.iter().zip(1..).map(|([width, length], number)| {
                let [length, width] =
                    [length, width].map(|value| Len { value: *value, why: sheet.thickness.why });
                let name = format!("{} {}.{number}", sheet.name, followed.number).into();
                Offcut { name, size: (length, width), count: 1 }
            })
        })
        .collect();
    let mut there = sheet.clone();
    let taken = begun().filter(|followed| followed.offcut.is_none()).count();
    let whole = had(graph, sheet).saturating_sub(taken);
    there.on_hand = whole;
    for name in begun().filter_map(|followed| followed.offcut.as_ref()) {
        take(&mut left, name);
        take(&mut there.offcuts, name);
    }
    let cut = cut(model, graph, Stock::Sheet(id));
    if (whole > 0 || !left.is_empty()) && !cut.is_empty() {
        let bare =
            Sheet { on_hand: 0, count: None, sold: Vec::new(), offcuts: left.clone(), ..sheet.clone() };
        let work = SheetWork::new(model, (id, &bare), cut.into_values().collect(), |job| {
            plan_plainly(job, Effort::Quick)
        });
        let Ok(plan) = &work.plan else { return Sheet { on_hand: 0, ..there } };
        let took = usize::try_from(work.bought(plan)).unwrap_or(whole);
        there.on_hand = whole.saturating_sub(took);
        let offcuts = plan.patterns.iter().filter_map(|pattern| work.stock.get(pattern.sheet));
        offcuts.filter(|row| row.source == Source::Offcut).for_each(|row| take(&mut left, &row.name));
    }
    there.offcuts.extend(left);
    there
}

/// Takes one offcut of this name.
fn take(offcuts: &mut [Offcut], name: &str) {
    let own = offcuts.iter_mut().find(|offcut| *offcut.name == *name && offcut.count > 0);
    own.into_iter().for_each(|offcut| offcut.count -= 1);
}

/// The sheets of a sheet good or lot that are followed.
pub(super) fn followed<'a>(graph: &'a PartGraph, sheet: &'a Sheet) -> impl Iterator<Item = &'a Followed> {
    graph.followed.iter().filter(|followed| followed.is_of(sheet.sold_as(), sheet.lot()))
}

/// The parts of which a spare came from a sheet of the layout, once for each.
pub(super) fn spares<'a>(graph: &'a PartGraph, sheet: &'a Sheet) -> impl Iterator<Item = &'a Part> {
    let done = followed(graph, sheet).filter(|followed| graph.is_done(followed));
    let spares = done.flat_map(Followed::pieces).filter(|piece| piece.is == PieceIs::Spare);
    spares.filter_map(|piece| graph.part(graph.named(&piece.path)?))
}

/// How many whole sheets of its usual size are stated to be there or noted as bought.
#[must_use]
pub fn had(graph: &PartGraph, sheet: &Sheet) -> usize {
    sheet.on_hand.saturating_add(sheets(graph, sheet))
}

/// How many sheets of its usual size are bought of a sheet good or lot.
fn sheets(graph: &PartGraph, sheet: &Sheet) -> usize {
    let own = |bought: &&Bought| {
        let usual = match bought.each {
            None => true,
            Some(Each::Size([length, width])) => sheet.size.is_some_and(|(along, across)| {
                let sold = [along.value, across.value];
                sold == [length, width] || sold == [width, length]
            }),
            Some(Each::Length(_) | Each::Volume(_)) => false,
        };
        let of_lot = match (bought.lot.as_deref(), sheet.lot()) {
            // What was bought before there were lots is of the first one, where no part is cut from none.
            (None, Some(_)) => is_first(graph, sheet),
            (lot, own) => lot == own,
        };
        bought.of == *sheet.sold_as() && of_lot && usual
    };
    graph.bought.iter().filter(own).map(|bought| bought.count).sum()
}

/// Whether a lot is the first of its sheet good, and no part is cut from that without a lot.
fn is_first(graph: &PartGraph, lot: &Sheet) -> bool {
    let own = || graph.sheets.iter().filter(|sheet| sheet.sold_as() == lot.sold_as());
    let first = own().find(|sheet| sheet.lot().is_some());
    let plain = graph.parts.iter().any(|part| {
        matches!(part.stock, Stock::Sheet(id) if graph.sheet(id).is_some_and(|sheet| sheet.name == *lot.sold_as()))
    });
    !plain && first.is_some_and(|first| first.name == lot.name)
}

/// The lengths that are bought of a board.
pub(super) fn lengths(graph: &PartGraph, name: &Arc<str>) -> Vec<Sold> {
    let own = graph.bought.iter().filter(|bought| bought.of == *name);
    let lengths = own.filter_map(|bought| match bought.each {
        Some(Each::Length(length)) => {
            Some(Sold { length, price: None, on_hand: u64::try_from(bought.count).ok() })
        }
        _ => None,
    });
    lengths.collect()
}

/// The pieces that were cut from a stock, each as it was cut: also those that are of no use any more.
pub(super) fn cut(model: &Model, graph: &PartGraph, stock: Stock) -> Equal {
    let mut rows = Equal::new();
    let is_cut = |made: &Made| made.state >= State::Cut;
    let pieces = graph.followed.iter().flat_map(Followed::pieces);
    let known: BTreeSet<&str> =
        pieces.filter(|piece| piece.is == PieceIs::Part).map(|piece| piece.path.as_str()).collect();
    for (id, made) in graph.made.iter().filter(|(_, made)| is_cut(made)) {
        let own = |part: &&Part| part.stock == stock && !known.contains(part.path.as_str());
        let Some(part) = graph.part(*id).filter(own) else { continue };
        add_piece(&mut rows, part.role, &part.path, as_cut(model, part, made));
    }
    let (sold_as, lot) = (graph.sold_as(stock), graph.lot(stock));
    for piece in graph.at_hand.iter().filter(|piece| is_cut(&piece.made)) {
        let facts = &piece.made.facts;
        let own = facts.stock.as_ref() == Some(&sold_as) && facts.lot.as_deref() == lot;
        let own = own && !known.contains(piece.path.as_str());
        if let (true, Some(([width, length], _))) = (own, facts.size) {
            add_piece(&mut rows, crate::parts::Role::Shelf, &piece.path, [length, width]);
        }
    }
    rows
}

/// Length and width of a part as it was cut.
fn as_cut(model: &Model, part: &Part, made: &Made) -> [Length; 2] {
    match made.facts.size {
        Some(([width, length], _)) => [length, width],
        None => {
            let cut = part.cut();
            [cut.length.value, cut.width.value].map(|size| model.project.marks.nearest(size))
        }
    }
}
