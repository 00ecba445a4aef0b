//! Stock at hand: what is noted as bought, less what the parts that are cut took.
//!
//! From which sheet or board a part was cut is not noted: those that are cut are laid out by themselves, and what that takes is
//! gone. An offcut is at hand where the project states it.

use super::board::Sold;
use super::{Equal, add_piece};
use crate::eval::{Model, Sheet};
use crate::parts::{Bought, Each, Made, Part, PartGraph, State, Stock};
use crate::quantity::Length;
use std::sync::Arc;

/// How many sheets of its usual size are bought of a sheet good or lot.
pub(super) fn sheets(graph: &PartGraph, sheet: &Sheet) -> usize {
    let own = |bought: &&Bought| {
        let usual = match bought.each {
            None => true,
            Some(Each::Size([length, width])) => sheet.size.is_some_and(|(along, across)| {
                let sold = [along.value, across.value];
                sold == [length, width] || sold == [width, length]
            }),
            Some(Each::Length(_) | Each::Volume(_)) => false,
        };
        bought.of == *sheet.sold_as() && bought.lot.as_deref() == sheet.lot() && usual
    };
    graph.bought.iter().filter(own).map(|bought| bought.count).sum()
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
    for (id, made) in graph.made.iter().filter(|(_, made)| is_cut(made)) {
        let Some(part) = graph.part(*id).filter(|part| part.stock == stock) else { continue };
        add_piece(&mut rows, part.role, &part.path, as_cut(model, part, made));
    }
    let (sold_as, lot) = (graph.sold_as(stock), graph.lot(stock));
    for piece in graph.at_hand.iter().filter(|piece| is_cut(&piece.made)) {
        let facts = &piece.made.facts;
        let own = facts.stock.as_ref() == Some(&sold_as) && facts.lot.as_deref() == lot;
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
