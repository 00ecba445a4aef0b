//! Which printed sheets say something else now.

use crate::document::{Cell, Document, Table};
use crate::sheets::{Output, SHEETS};
use serde::Serialize;

/// A sheet that must be printed again.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Stale {
    /// The sheet.
    pub sheet: &'static str,
    /// The tables that differ, by their captions as they are now, each with what its changed rows are about; those that go, as
    /// they were.
    pub tables: Vec<String>,
    /// Whether nothing but what stands under the title differs: title, revision.
    pub head_only: bool,
}

/// The sheets that differ, and those that do not; but for what is of tonight and not of a revision.
pub(super) fn stale(outputs: &[Vec<Output>; 2]) -> (Vec<Stale>, Vec<&'static str>) {
    let [old, new] = outputs;
    let (mut stale, mut valid) = (Vec::new(), Vec::new());
    for ((sheet, old), new) in SHEETS.iter().zip(old).zip(new).filter(|((sheet, _), _)| sheet.of_revision) {
        let (old, new) = (&old.document, &new.document);
        let tables_alike = all_alike(&old.tables, &new.tables, alike);
        let rest_alike = old.title == new.title && old.notes == new.notes;
        if tables_alike && rest_alike && old.facts == new.facts {
            valid.push(sheet.name);
        } else {
            let head_only = tables_alike && old.notes == new.notes;
            stale.push(Stale { sheet: sheet.name, tables: tables(old, new), head_only });
        }
    }
    (stale, valid)
}

fn all_alike<T>(old: &[T], new: &[T], alike: impl Fn(&T, &T) -> bool) -> bool {
    old.len() == new.len() && old.iter().zip(new).all(|(old, new)| alike(old, new))
}

/// Whether two cells say the same.
fn same_cell(old: &Cell, new: &Cell) -> bool {
    match (old, new) {
        (Cell::Figure(old) | Cell::Reasoned(old, _), Cell::Figure(new) | Cell::Reasoned(new, _))
        | (Cell::Words(old), Cell::Words(new)) => says_same(old, new),
        (Cell::Lines(old), Cell::Lines(new)) => all_alike(old, new, |old, new| says_same(old, new)),
        _ => false,
    }
}

/// Whether two tables say the same. The sign for what rounding lost is no difference by itself.
fn alike(old: &Table, new: &Table) -> bool {
    let feet = match (&old.foot, &new.foot) {
        (Some(old), Some(new)) => says_same(old, new),
        (old, new) => old == new,
    };
    feet && says_same(&old.caption, &new.caption)
        && old.columns == new.columns
        && all_alike(&old.rows, &new.rows, |old, new| all_alike(old, new, same_cell))
}

/// How many changed rows are named.
const NAMED: usize = 4;

/// The caption of a table and the names of the rows that were not in it before.
fn changed(table: &Table, old: &Document) -> String {
    let caption = table.caption.replace('~', "");
    let Some(before) = old.tables.iter().find(|other| says_same(&other.caption, &table.caption)) else {
        return caption;
    };
    let known = |row: &Vec<Cell>| before.rows.iter().any(|other| all_alike(other, row, same_cell));
    let mut names: Vec<&str> = Vec::new();
    for name in table.rows.iter().filter(|row| !known(row)).filter_map(|row| name(row)) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let more = names.len().saturating_sub(NAMED);
    names.truncate(NAMED);
    let and = if more > 0 { format!(" and {more} more") } else { String::new() };
    if names.is_empty() { caption } else { format!("{caption} ({}{and})", names.join(", ")) }
}

/// What a row is about: its first words.
fn name(row: &[Cell]) -> Option<&str> {
    row.iter().find_map(|cell| match cell {
        // What draws the branches of a tree is no name.
        Cell::Words(words) if !words.is_empty() => {
            Some(words.trim_start_matches(|sign: char| !sign.is_alphanumeric() && sign != '~'))
        }
        Cell::Words(_) | Cell::Figure(_) | Cell::Reasoned(..) | Cell::Lines(_) => None,
    })
}

fn says_same(old: &str, new: &str) -> bool {
    let bare = |text: &str| text.bytes().filter(|byte| *byte != b'~').collect::<Vec<_>>();
    old == new || ((old.contains('~') || new.contains('~')) && bare(old) == bare(new))
}

fn tables(old: &Document, new: &Document) -> Vec<String> {
    // Most tables have the same place in both documents.
    let missing = |place: usize, table: &Table, from: &Document| {
        !from.tables.get(place).is_some_and(|other| alike(table, other))
            && !from.tables.iter().any(|other| alike(table, other))
    };
    let now = new.tables.iter().enumerate().filter(|(place, table)| missing(*place, table, old));
    let mut captions: Vec<String> = now.map(|(_, table)| changed(table, old)).collect();
    // A table of the old sheet whose caption is there still is told already.
    let was = old.tables.iter().enumerate().filter(|(place, table)| missing(*place, table, new));
    let gone = was.filter(|(_, table)| !new.tables.iter().any(|other| other.caption == table.caption));
    if captions.is_empty() {
        captions.extend(gone.map(|(_, table)| table.caption.replace('~', "")));
    }
    captions
}
