//! Which printed sheets say something else now.

use crate::document::{Cell, Document, Table};
use crate::sheets::{Output, SHEETS};
use serde::Serialize;

/// A sheet that must be printed again.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Stale {
    /// The sheet.
    pub sheet: &'static str,
    /// Captions of the tables that differ, as they are now; those that go, as they were.
    pub tables: Vec<String>,
    /// Whether nothing but what stands under the title differs: title, revision.
    pub head_only: bool,
}

/// The sheets that differ, and those that do not.
pub(super) fn stale(outputs: &[Vec<Output>; 2]) -> (Vec<Stale>, Vec<&'static str>) {
    let [old, new] = outputs;
    let (mut stale, mut valid) = (Vec::new(), Vec::new());
    for ((sheet, old), new) in SHEETS.iter().zip(old).zip(new) {
        let (old, new) = (&without_sign(&old.document), &without_sign(&new.document));
        if old == new {
            valid.push(sheet.name);
        } else {
            let head_only = old.tables == new.tables && old.notes == new.notes;
            stale.push(Stale { sheet: sheet.name, tables: tables(old, new), head_only });
        }
    }
    (stale, valid)
}

/// A document without the sign for what rounding lost, which alone is no difference.
fn without_sign(document: &Document) -> Document {
    let mut document = document.clone();
    for table in &mut document.tables {
        table.caption = table.caption.replace('~', "");
        table.foot = table.foot.as_ref().map(|foot| foot.replace('~', ""));
        for cell in table.rows.iter_mut().flatten() {
            match cell {
                Cell::Figure(text) | Cell::Words(text) if text.contains('~') => *text = text.replace('~', ""),
                Cell::Lines(lines) => lines.iter_mut().for_each(|line| *line = line.replace('~', "")),
                _ => {}
            }
        }
    }
    document
}

fn tables(old: &Document, new: &Document) -> Vec<String> {
    let missing = |table: &&Table, from: &Document| !from.tables.contains(table);
    let now = new.tables.iter().filter(|table| missing(table, old)).map(|table| table.caption.clone());
    let mut captions: Vec<String> = now.collect();
    // A table of the old sheet whose caption is there still is told already.
    let was = old.tables.iter().filter(|table| missing(table, new));
    let gone = was.filter(|table| !new.tables.iter().any(|other| other.caption == table.caption));
    if captions.is_empty() {
        captions.extend(gone.map(|table| table.caption.clone()));
    }
    captions
}
