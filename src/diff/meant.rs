//! What a revision means for what is made: what stays, what is done to it, what is lost; and the money.

use super::stale::{Stale, stale};
use super::totals::{Total, TotalOf, totals};
use super::{Side, effort};
use crate::beside::beside;
use crate::breakdown::Effort;
use crate::document::{Cell, Table, figures, words};
use crate::eval::Sheet;
use crate::parts::{Part, State, Stock, Verdict, Work};
use crate::quantity::{Length, Rational, some, to_f64};
use crate::sheets::{Output, Rated, Shopping, Subject, about_hours, by_unit};
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
    /// Its place is not built any more, and it serves in no other.
    Spare,
    /// It is of no use in its place, nor in another.
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
    /// What the stock of parts that are lost or left over costs, by the area of their sheets.
    pub lost: Option<String>,
    /// What it took to make them, in seconds: an estimate, by the hours of the shop or by rates.
    pub hours_lost: Option<f64>,
    /// What is spent.
    pub spent: Option<String>,
    /// What is still to spend.
    pub to_spend: Option<String>,
    /// What was still to spend before, with the same made.
    pub to_spend_before: Option<String>,
    /// Dates of the finish of what is left that are others.
    pub days: Vec<Total>,
    /// Sheets of what is left that must be printed again; `None` where the old text with the same progress could not be worked out.
    pub stale: Option<Vec<Stale>>,
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

    /// `of 26 made parts 20 stay, 6 are lost`; that none is lost is said too.
    #[must_use]
    pub fn counts(&self) -> String {
        let all: usize = self.rows.iter().map(|row| row.paths.len()).sum();
        if all == 0 {
            return "nothing is cut yet".to_owned();
        }
        let kinds = [
            (Fate::Stays, "stays", "stay"),
            (Fate::Groove, "is grooved", "are grooved"),
            (Fate::Trim, "is cut down", "are cut down"),
            (Fate::Plug, "is plugged and grooved", "are plugged and grooved"),
            (Fate::Elsewhere, "goes elsewhere", "go elsewhere"),
            (Fate::Spare, "is left over", "are left over"),
            (Fate::Lost, "is lost", "are lost"),
        ];
        let told = kinds.into_iter().filter_map(|(fate, one, several)| match self.count(fate) {
            0 if fate == Fate::Lost => Some("none is lost".to_owned()),
            0 => None,
            1 => Some(format!("1 {one}")),
            count => Some(format!("{count} {several}")),
        });
        format!("of {} {}", some(all, "made part"), told.collect::<Vec<_>>().join(", "))
    }

    /// Money lost and to spend, in words.
    fn money(&self) -> Vec<String> {
        let lost = self.lost.as_ref().map(|sum| format!("stock of what is lost or left over: about {sum}"));
        let spent = self.spent.as_ref().map(|sum| format!("spent: {sum}"));
        let to_spend = self.to_spend.as_ref().map(|sum| match &self.to_spend_before {
            Some(before) if before == sum => format!("still to spend: {sum}, as before"),
            Some(before) => format!("still to spend: {sum}, not {before}"),
            None => format!("still to spend: {sum}"),
        });
        let hours = self.hours_lost.map(|seconds| format!("work in what is lost: {}", about_hours(seconds)));
        [lost, hours, spent, to_spend].into_iter().flatten().collect()
    }

    /// How the dates of what is left move, and which of its sheets to print again, in words.
    fn days_and_sheets(&self) -> Vec<String> {
        let Some(stale) = &self.stale else { return Vec::new() };
        let days = match self.days.last() {
            None => "no date moves".to_owned(),
            Some(Total { what, by: Some(by), .. }) => format!("{what} {by}"),
            Some(Total { what, is, .. }) => format!("{what} {}", is.as_deref().unwrap_or("has no date now")),
        };
        let sheets: Vec<&str> = stale.iter().map(|stale| stale.sheet).collect();
        let sheets = if sheets.is_empty() {
            "no sheet is stale".to_owned()
        } else {
            format!("print again: {}", sheets.join(", "))
        };
        vec![days, sheets]
    }

    /// All of it in one line.
    #[must_use]
    pub fn line(&self) -> String {
        [vec![self.counts()], self.money(), self.days_and_sheets()].concat().join("; ")
    }
}

/// What the text of a project means for what is made of it; `None` where nothing is cut or bought. `new` is the project with what is made,
/// `old` the text before with the same, where that could be worked out.
#[must_use]
pub fn meant(old: Option<Side<'_>>, new: Side<'_>) -> Option<Meant> {
    let Side { model, .. } = new;
    let (rows, lost, hours) = fates(new);
    if rows.is_empty() && new.graph.bought.is_empty() {
        return None;
    }
    let effort = effort(old.unwrap_or(new), new);
    let (was, is) = beside(|| old.map(|old| old.outputs(effort)), || new.outputs(effort));
    let money = |sum: Rational| model.project.money(sum);
    let shopping = |outputs: &[Output]| -> [Option<Rational>; 2] {
        let shopping = outputs.iter().find_map(|output| output.json.typed::<Shopping>());
        shopping.map_or([None; 2], |shopping| [shopping.paid, shopping.sum])
    };
    let [spent, to_spend] = shopping(&is);
    let to_spend_before = was.as_ref().and_then(|was| shopping(was)[1]);
    let (days, stale) = match (old, was) {
        (Some(old), Some(was)) => {
            let outputs = [was, is];
            let totals = totals([old, new], &outputs).into_iter();
            let days = totals.filter(|total| total.of == TotalOf::Days && total.differs());
            (days.collect(), Some(stale(&outputs).0))
        }
        _ => (Vec::new(), None),
    };
    let rows = rows.into_iter();
    let rows = rows.map(|((fate, how, role, state), paths)| FateRow { fate, how, role, state, paths });
    Some(Meant {
        rows: rows.collect(),
        lost: lost.map(money),
        hours_lost: (!hours.is_zero()).then(|| to_f64(hours)),
        spent: spent.map(money),
        to_spend: to_spend.map(money),
        to_spend_before: to_spend_before.map(money),
        days,
        stale,
    })
}

/// Made parts by what becomes of them.
type Fates = BTreeMap<(Fate, String, &'static str, State), Vec<String>>;

/// All that is cut by what becomes of it, what the stock of what is lost costs, and the seconds that it took.
fn fates(side: Side<'_>) -> (Fates, Option<Rational>, Rational) {
    let Side { model, graph, .. } = side;
    let marks = model.project.marks;
    let mut rows = Fates::new();
    let mut lost: Option<Rational> = None;
    let Side { plans, findings, .. } = side;
    let subject =
        Subject { model, graph, plans, findings, effort: Effort::Quick, work: Work::Left, only: None };
    let (rates, mut hours) = (Rated::of(subject), Rational::zero());
    let mut lose = |cost: Option<Rational>| {
        lost = lost.into_iter().chain(cost).reduce(|sum, own| sum.checked_add(&own).unwrap_or(sum));
    };
    for (id, made) in graph.made.iter().filter(|(_, made)| made.state >= State::Cut) {
        let Some(part) = graph.part(*id) else { continue };
        let verdict = graph.verdicts.get(id);
        let (fate, how) = verdict.map_or((Fate::Stays, String::new()), |verdict| fate(side, part, verdict));
        if fate == Fate::Lost {
            hours = hours.checked_add(&rates.spent(subject, part, made.state)).unwrap_or(hours);
            let size = made
                .facts
                .size
                .map_or_else(|| [part.cut().width.value, part.cut().length.value], |(size, _)| size);
            lose(sheet_of(side, made.facts.stock.as_deref(), Some(part.stock)).and_then(|of| cost(of, size)));
        }
        rows.entry((fate, how, part.role.word(), made.state)).or_default().push(part.path.clone());
    }
    for piece in graph.at_hand.iter().filter(|piece| piece.made.state >= State::Cut) {
        let size = piece.made.facts.size.map(|(size, _)| size);
        let how = size.map(|[width, length]| {
            format!("it is not built any more; {} x {}", marks.print(width), marks.print(length))
        });
        let (fate, how) = elsewhere(side, &piece.path)
            .unwrap_or_else(|| (Fate::Spare, how.unwrap_or_else(|| "it is not built any more".to_owned())));
        if fate == Fate::Spare {
            let of = sheet_of(side, piece.made.facts.stock.as_deref(), None);
            lose(of.zip(size).and_then(|(of, size)| cost(of, size)));
        }
        rows.entry((fate, how, "", piece.made.state)).or_default().push(piece.path.clone());
    }
    (rows, lost, hours)
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
    let marks = side.model.project.marks;
    let Some(part) = side.graph.serves(piece) else {
        let offcuts = side.graph.sheets.iter().flat_map(|sheet| &sheet.offcuts);
        let offcut = offcuts.into_iter().find(|offcut| &*offcut.name == piece)?;
        let (length, width) = offcut.size;
        let [width, length] = [width, length].map(|size| marks.print(size.value));
        return Some((
            Fate::Elsewhere,
            format!("an offcut of {width} x {length}, from which several are cut"),
        ));
    };
    let [width, length] = [part.cut().width, part.cut().length].map(|size| marks.print(size.value));
    Some((Fate::Elsewhere, format!("cut down to {width} x {length} for {}", part.path)))
}

/// The sheet that a piece was cut from.
fn sheet_of<'a>(side: Side<'a>, made_of: Option<&str>, planned: Option<Stock>) -> Option<&'a Sheet> {
    let by_name = |name: &str| side.graph.sheets.iter().find(|sheet| sheet.sold_as().as_ref() == name);
    let Some(name) = made_of else {
        let Some(Stock::Sheet(id)) = planned else { return None };
        return side.graph.sheet(id);
    };
    by_name(name)
}

/// What the stock of a piece costs: its share of the area of a sheet.
fn cost(sheet: &Sheet, [width, length]: [Length; 2]) -> Option<Rational> {
    let (long, wide) = sheet.size?;
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
        Fate::Spare => "left over",
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
    let mut foot = meant.money();
    foot.extend(meant.days_and_sheets());
    Table {
        caption: format!("What it means for what is made: {}", meant.counts()),
        columns: vec![figures("count"), words("now"), words("part"), words("how"), words("names")],
        rows: rows.collect(),
        foot: Some(foot.join("; ")),
    }
}
