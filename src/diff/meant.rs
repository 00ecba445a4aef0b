//! What a revision means for what is made: what stays, what is done to it, what is lost; and the money.

use super::Side;
use crate::breakdown::Effort;
use crate::document::{Cell, Table, figures, words};
use crate::parts::{Part, State, Stock, Verdict, Work};
use crate::quantity::{Length, Rational, some, to_f64};
use crate::sheets::{Rated, Subject, about_hours, by_unit, shopping};
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, Zero};
use serde::Serialize;
use std::collections::BTreeMap;

/// What becomes of a made part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Fate {
    /// It stays as it is.
    Stays,
    /// It is grooved, or its grooves are made wider or packed.
    Groove,
    /// It is cut down.
    Trim,
    /// Grooves are plugged and cut again.
    Plug,
    /// It serves in another place.
    Elsewhere,
    /// It is of no use in its place.
    Lost,
}

/// Made parts with one fate.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FateRow {
    /// What becomes of them.
    pub fate: Fate,
    /// What is done, or why, in words; empty where there is nothing to say.
    pub how: String,
    /// What they are; empty of what the project does not have any more.
    pub role: &'static str,
    /// How far they are.
    pub state: State,
    /// Their paths.
    pub paths: Vec<String>,
}

/// What a revision means for what is made.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Meant {
    /// All parts that are cut, by what becomes of them.
    pub rows: Vec<FateRow>,
    /// What the stock of lost parts costs, by the area of their sheets.
    pub lost: Option<String>,
    /// What it took to make them, in seconds: an estimate, by the hours of the shop or by rates.
    pub hours_lost: Option<f64>,
    /// What is spent.
    pub spent: Option<String>,
    /// What is still to spend.
    pub to_spend: Option<String>,
}

impl Meant {
    /// Whether all that is made stays as it is.
    #[must_use]
    pub fn stays(&self) -> bool {
        self.rows.iter().all(|row| row.fate == Fate::Stays)
    }

    fn count(&self, fate: Fate) -> usize {
        self.rows.iter().filter(|row| row.fate == fate).map(|row| row.paths.len()).sum()
    }

    /// `of 26 made parts 20 stay, 6 are lost`
    #[must_use]
    pub fn counts(&self) -> String {
        let all: usize = self.rows.iter().map(|row| row.paths.len()).sum();
        let kinds = [
            (Fate::Stays, "stays", "stay"),
            (Fate::Groove, "is grooved", "are grooved"),
            (Fate::Trim, "is cut down", "are cut down"),
            (Fate::Plug, "is plugged and grooved", "are plugged and grooved"),
            (Fate::Elsewhere, "goes elsewhere", "go elsewhere"),
            (Fate::Lost, "is lost", "are lost"),
        ];
        let told = kinds.into_iter().filter_map(|(fate, one, several)| match self.count(fate) {
            0 => None,
            1 => Some(format!("1 {one}")),
            count => Some(format!("{count} {several}")),
        });
        format!("of {} {}", some(all, "made part"), told.collect::<Vec<_>>().join(", "))
    }
}

/// What the text of a project means for what is made of it; `None` where nothing is cut.
#[must_use]
pub fn meant(side: Side<'_>) -> Option<Meant> {
    let Side { model, graph, plans, findings, .. } = side;
    let marks = model.project.marks;
    let mut rows: BTreeMap<(Fate, String, &'static str, State), Vec<String>> = BTreeMap::new();
    let mut lost: Option<Rational> = None;
    let subject = Subject { model, graph, plans, findings, effort: Effort::Quick, work: Work::Left };
    let (rates, mut hours) = (Rated::of(subject), Rational::zero());
    for (id, made) in graph.made.iter().filter(|(_, made)| made.state >= State::Cut) {
        let Some(part) = graph.part(*id) else { continue };
        let verdict = graph.verdicts.get(id);
        let (fate, how) = verdict.map_or((Fate::Stays, String::new()), |verdict| fate(side, part, verdict));
        if fate == Fate::Lost {
            hours = hours.checked_add(&rates.spent(subject, part, made.state)).unwrap_or(hours);
            let cost = cost(side, part, made.facts.size.map(|(size, _)| size));
            lost = lost.into_iter().chain(cost).reduce(|sum, own| sum.checked_add(&own).unwrap_or(sum));
        }
        rows.entry((fate, how, part.role.word(), made.state)).or_default().push(part.path.clone());
    }
    for piece in graph.at_hand.iter().filter(|piece| piece.made.state >= State::Cut) {
        let size = piece.made.facts.size.map(|([width, length], _)| {
            format!("it is not built any more; {} x {}", marks.print(width), marks.print(length))
        });
        let lost = || (Fate::Lost, size.unwrap_or_else(|| "it is not built any more".to_owned()));
        let (fate, how) = elsewhere(side, &piece.path).unwrap_or_else(lost);
        rows.entry((fate, how, "", piece.made.state)).or_default().push(piece.path.clone());
    }
    if rows.is_empty() {
        return None;
    }
    let rows = rows.into_iter();
    let rows = rows.map(|((fate, how, role, state), paths)| FateRow { fate, how, role, state, paths });
    let shopping = shopping(subject);
    let money = |sum: Rational| model.project.money(sum);
    Some(Meant {
        rows: rows.collect(),
        lost: lost.map(money),
        hours_lost: (!hours.is_zero()).then(|| to_f64(hours)),
        spent: shopping.spent.clone(),
        to_spend: shopping.sum.map(money),
    })
}

/// What becomes of a part, and in words what is done to it.
fn fate(side: Side<'_>, part: &Part, verdict: &Verdict) -> (Fate, String) {
    if let Some(lost) = &verdict.lost {
        return elsewhere(side, &part.path).unwrap_or_else(|| (Fate::Lost, lost.clone()));
    }
    let mut how = verdict.steps(side.model.project.marks);
    let fate = if !verdict.plug.is_empty() {
        Fate::Plug
    } else if verdict.trim.is_some() {
        Fate::Trim
    } else if verdict.stays() {
        Fate::Stays
    } else {
        Fate::Groove
    };
    how.extend(verdict.holds.iter().cloned());
    (fate, how.join("; "))
}

/// Where a piece serves that is of no use where it was; `None` where it serves nowhere.
fn elsewhere(side: Side<'_>, piece: &str) -> Option<(Fate, String)> {
    let part = side.graph.serves(piece)?;
    let [width, length] =
        [part.cut().width, part.cut().length].map(|size| side.model.project.marks.print(size.value));
    Some((Fate::Elsewhere, format!("cut down to {width} x {length} for {}", part.path)))
}

/// What the stock of a part costs: its share of the area of a sheet.
fn cost(side: Side<'_>, part: &Part, made: Option<[Length; 2]>) -> Option<Rational> {
    let Stock::Sheet(id) = part.stock else { return None };
    let sheet = side.graph.sheet(id)?;
    let (long, wide) = sheet.size?;
    let cut = part.cut();
    let [width, length] = made.unwrap_or([cut.width.value, cut.length.value]);
    let area = |a: Length, b: Length| a.mm().checked_mul(&b.mm());
    let share = area(width, length)?.checked_div(&area(long.value, wide.value)?)?;
    sheet.price?.checked_mul(&share)
}

/// The table of what becomes of made parts.
pub(super) fn made(meant: &Meant, side: Side<'_>) -> Table {
    let word = |fate: Fate| match fate {
        Fate::Stays => "stays",
        Fate::Groove => "groove",
        Fate::Trim => "cut down",
        Fate::Plug => "plug and groove",
        Fate::Elsewhere => "goes elsewhere",
        Fate::Lost => "lost",
    };
    let rows = meant.rows.iter().map(|row| {
        let known = |path: &String| side.graph.named(path).is_some();
        let names =
            if row.paths.iter().all(known) { by_unit(side.graph, &row.paths) } else { row.paths.clone() };
        vec![
            Cell::Figure(row.paths.len().to_string()),
            Cell::Words(word(row.fate).to_owned()),
            Cell::Words(if row.role.is_empty() {
                row.state.word().to_owned()
            } else {
                format!("{}, {}", row.role, row.state)
            }),
            Cell::Words(row.how.clone()),
            Cell::Lines(names),
        ]
    });
    let lost = meant.lost.as_ref().map(|sum| format!("stock of what is lost: about {sum}"));
    let spent = meant.spent.as_ref().map(|sum| format!("spent: {sum}"));
    let to_spend = meant.to_spend.as_ref().map(|sum| format!("still to spend: {sum}"));
    let hours = meant.hours_lost.map(|seconds| format!("work in what is lost: {}", about_hours(seconds)));
    let foot: Vec<String> = [lost, hours, spent, to_spend].into_iter().flatten().collect();
    Table {
        caption: format!("What it means for what is made: {}", meant.counts()),
        columns: vec![figures("count"), words("now"), words("part"), words("how"), words("names")],
        rows: rows.collect(),
        foot: (!foot.is_empty()).then(|| foot.join("; ")),
    }
}
