//! What boards could take over from sheets: found by trying, not by a rule.

use super::{Row, SheetWork};
use crate::cutting::Plan;
use crate::eval::Model;
use crate::quantity::{Length, Rational, plural, some};
use num_traits::{CheckedMul, CheckedSub};

/// Parts that boards can take over, so that fewer sheets are bought.
#[derive(Clone, Debug)]
pub struct Substitute {
    /// What they are: the words of their roles.
    pub what: Vec<&'static str>,
    /// The boards: width, the name that softwood boards of that width have, and the length of all pieces.
    pub boards: Vec<(Length, Option<&'static str>, Length)>,
    /// How many sheets are bought then.
    pub sheets: u64,
    /// How many sheets fewer that is.
    pub fewer: u64,
    /// What the sheets cost less, where prices are stated.
    pub saved: Option<Rational>,
}

impl Substitute {
    /// What boards could take over, in words: ``cleats from 1x3 boards (61.6 ft): 5 sheets of `ply` in place of 6``.
    #[must_use]
    pub fn words(&self, model: &Model, stock: &str) -> String {
        let marks = model.project.marks;
        let long = |length: Length| marks.system().long(length);
        let board = |(width, name, length): &(Length, Option<&'static str>, Length)| match name {
            Some(name) => format!("{name} boards ({})", long(*length)),
            None => format!("boards {} wide ({})", marks.print(*width), long(*length)),
        };
        let boards: Vec<String> = self.boards.iter().map(board).collect();
        let what: Vec<String> = self.what.iter().map(|word| plural(word)).collect();
        let saved = self
            .saved
            .map(|saved| format!(", {} less for sheets", model.project.money(saved)))
            .unwrap_or_default();
        format!(
            "{} from {}: {} of `{stock}` in place of {}{saved}",
            what.join(" and "),
            boards.join(" and "),
            some(self.sheets, "sheet"),
            self.sheets + self.fewer
        )
    }
}

/// Softwood boards by their dressed width in quarters of an inch (PS 20).
const SOFTWOOD: &[(i128, &str)] = &[(6, "1x2"), (10, "1x3"), (14, "1x4"), (22, "1x6")];

/// Nothing is tried with more parts than this: it would take longer than the layout itself.
const PARTS: usize = 2000;

/// The widest part that a board takes over: 5 1/2 in, a 1x6 (PS 20).
fn widest() -> Length {
    Length::from_inches(Rational::new(11, 2)).unwrap_or_default()
}

/// Kinds of parts that are narrow enough for a board, each alone and all together, if that saves a sheet.
#[must_use]
pub fn substitutes(work: &SheetWork, plan: &Plan) -> Vec<Substitute> {
    let before = work.bought(plan);
    let narrow = |row: &Row| row.width <= widest();
    let mut words: Vec<&'static str> =
        work.rows.iter().filter(|row| narrow(row)).map(|row| row.what).collect();
    words.sort_unstable();
    words.dedup();
    let parts: usize = work.rows.iter().map(Row::count).sum();
    if parts > PARTS || before == 0 || words.is_empty() || !work.counts_sheets() {
        return Vec::new();
    }
    let mut tries: Vec<Vec<&'static str>> = words.iter().map(|word| vec![*word]).collect();
    if words.len() > 1 {
        tries.push(words);
    }
    let mut found: Vec<Substitute> = Vec::new();
    for what in tries {
        let taken = |row: &Row| narrow(row) && what.contains(&row.what);
        let Some(other) = work.without(taken, plan.cost) else { continue };
        let sheets = work.bought(&other);
        let Some(fewer) = before.checked_sub(sheets).filter(|fewer| *fewer > 0) else { continue };
        // More kinds are worth it only where they save more.
        if found.iter().any(|known| known.fewer >= fewer && known.what.iter().all(|word| what.contains(word)))
        {
            continue;
        }
        let saved = work.money(plan).zip(work.money(&other));
        let saved = saved.and_then(|(before, after)| before.checked_sub(&after));
        found.push(Substitute { boards: boards(work, taken), what, sheets, fewer, saved });
    }
    found
}

fn boards(work: &SheetWork, taken: impl Fn(&Row) -> bool) -> Vec<(Length, Option<&'static str>, Length)> {
    let mut boards: Vec<(Length, Option<&'static str>, Length)> = Vec::new();
    for row in work.rows.iter().filter(|row| taken(row)) {
        let count = Rational::from(i128::try_from(row.count()).unwrap_or(0));
        let length = row.length.checked_mul(count).unwrap_or_default();
        match boards.iter_mut().find(|(width, ..)| *width == row.width) {
            Some((.., sum)) => *sum = sum.checked_add(length).unwrap_or(*sum),
            None => boards.push((row.width, softwood(row.width), length)),
        }
    }
    boards
}

/// The name of the softwood board of a width.
fn softwood(width: Length) -> Option<&'static str> {
    let quarters = width.inches()?.checked_mul(&Rational::from(4))?;
    SOFTWOOD.iter().find(|(own, _)| quarters == Rational::from(*own)).map(|(_, name)| *name)
}
