//! Progress: how far the parts are, what is bought and there, the money, the hours that are left.

mod hours;

use super::shopping::shopping;
use super::{BoughtRow, Output, SheetSpec, Subject, by_unit};
use crate::breakdown::at_hand;
use crate::document::{Cell, Table, figures, words};
use crate::eval::SheetId;
use crate::parts::{Part, State, Stock};
use crate::quantity::{Length, hours as spelled, some};
pub(crate) use hours::Rated;
pub use hours::StageHours;
use num_traits::CheckedAdd;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: "progress",
    about: "what is made, bought and spent, what is left, and the hours that it takes",
    make,
    draw: None,
    of_revision: false,
};

/// The longest day at the work, in seconds: 8 h (common practice, no source).
const DAY: i64 = 8 * 3600;

/// How far a project is.
#[derive(Clone, Debug, Serialize)]
pub struct Progress {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// By unit, and by run of what belongs to no unit.
    pub units: Vec<UnitProgress>,
    /// Sheet goods from which parts are cut.
    pub sheets: Vec<SheetProgress>,
    /// What is noted as bought.
    pub bought: Vec<BoughtRow>,
    /// What was paid for that.
    pub spent: Option<String>,
    /// What is still to buy, where it has a price.
    pub to_spend: Option<String>,
    /// Both.
    pub money: Option<String>,
    /// Made pieces that have no place where they were made for.
    pub pieces: Vec<PieceRow>,
    /// The hours of each stage.
    pub hours: Vec<StageHours>,
    /// What was noted of hours, in seconds.
    pub noted: i64,
    /// What all stages take that are left, in seconds; an estimate.
    pub left: f64,
}

/// How far the parts of a unit are: how many have come so far at least.
#[derive(Clone, Debug, Default, Serialize)]
pub struct UnitProgress {
    /// Its path, or that of the run.
    pub unit: String,
    /// Its parts.
    pub parts: usize,
    /// Cut and of use.
    pub cut: usize,
    /// Grooved, of those that have grooves.
    pub grooved: usize,
    /// How many have grooves.
    pub with_grooves: usize,
    /// Glued.
    pub glued: usize,
    /// Standing in the room.
    pub fixed: usize,
    /// Painted.
    pub painted: usize,
}

/// How a sheet good stands.
#[derive(Clone, Debug, Serialize)]
pub struct SheetProgress {
    /// The sheet good or lot.
    pub stock: String,
    /// How many are noted as bought, or stated to be there.
    pub had: usize,
    /// The numbers of the sheets of the layout that are cut, as far as they are marked by sheets.
    pub cut: Vec<u64>,
    /// The numbers of those from which something is still to be cut.
    pub begun: Vec<u64>,
    /// How many whole ones are there.
    pub on_hand: usize,
    /// Offcuts that are there, by their names, with their sizes.
    pub offcuts: Vec<String>,
    /// How many are still to buy; `None` where they cannot be laid out.
    pub to_buy: Option<u64>,
}

/// A made piece without its place.
#[derive(Clone, Debug, Serialize)]
pub struct PieceRow {
    /// The path under which it was made.
    pub piece: String,
    /// How far it is.
    pub state: State,
    /// Why it has no place.
    pub why: String,
    /// Where it serves; `None` where it serves nowhere.
    pub serves: Option<String>,
}

/// Makes the typed progress.
fn progress(subject: Subject<'_>) -> Progress {
    let project = &subject.model.project;
    let bought = shopping(subject);
    let money = |sum| project.money(sum);
    let together = match (bought.paid, bought.sum) {
        (Some(paid), Some(sum)) => paid.checked_add(&sum),
        (paid, sum) => paid.or(sum),
    };
    let hours = hours::stages(subject);
    let noted = subject.graph.worked.iter().filter_map(|worked| i64::try_from(worked.took.to_integer()).ok());
    Progress {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        units: units(subject),
        sheets: sheets(subject),
        spent: bought.spent.clone(),
        to_spend: bought.sum.map(money),
        money: together.map(money),
        pieces: pieces(subject),
        noted: noted.sum(),
        left: hours.iter().map(|stage| stage.left).sum(),
        bought: bought.bought,
        hours,
    }
}

fn units(subject: Subject<'_>) -> Vec<UnitProgress> {
    let graph = subject.graph;
    let mut all: Vec<UnitProgress> = Vec::new();
    let mut places: BTreeMap<String, usize> = BTreeMap::new();
    for part in &graph.parts {
        let unit = part.unit.and_then(|unit| graph.unit(unit)).map(|unit| unit.path.clone());
        let run = || part.run.and_then(|run| graph.run(run)).map(|run| run.path.clone());
        let unit = unit.or_else(run).unwrap_or_default();
        let place = *places.entry(unit.clone()).or_insert_with(|| {
            all.push(UnitProgress { unit, ..UnitProgress::default() });
            all.len() - 1
        });
        let Some(row) = all.get_mut(place) else { continue };
        let is = |state: State| usize::from(graph.reached(part.id, state));
        let has_grooves = graph.joints_in(part.id).any(|joint| joint.kind.depth().is_some());
        row.parts += 1;
        row.cut += is(State::Cut);
        row.with_grooves += usize::from(has_grooves);
        row.grooved += if has_grooves { is(State::Grooved) } else { 0 };
        row.glued += is(State::Glued);
        row.fixed += is(State::Fixed);
        row.painted += is(State::Painted);
    }
    all
}

fn sheets(subject: Subject<'_>) -> Vec<SheetProgress> {
    let Subject { model, graph, .. } = subject;
    let used: BTreeSet<SheetId> = graph
        .parts
        .iter()
        .filter_map(|part| match part.stock {
            Stock::Sheet(id) => Some(id),
            Stock::Board(_) => None,
        })
        .collect();
    let row = |id: SheetId| {
        let sheet = graph.sheet(id)?;
        let there = at_hand::sheet(model, graph, (id, sheet));
        let own = || graph.followed.iter().filter(|own| own.is_of(sheet.sold_as(), sheet.lot()));
        let offcuts = there.offcuts.iter().filter(|offcut| offcut.count > 0).map(|offcut| {
            let size: [Length; 2] = [offcut.size.1.value, offcut.size.0.value];
            let [width, length] = size.map(|size| subject.print(size));
            let count = if offcut.count > 1 { format!("{} x ", offcut.count) } else { String::new() };
            format!("{count}{}, {width} x {length}", offcut.name)
        });
        let work = subject.sheet_works().iter().find(|work| work.sheet == id);
        let to_buy = match work {
            Some(work) => work.plan.as_ref().ok().map(|plan| work.bought(plan)),
            None => Some(0),
        };
        Some(SheetProgress {
            stock: sheet.name.to_string(),
            had: at_hand::had(graph, sheet),
            cut: own().filter(|own| graph.is_done(own)).map(|own| own.number).collect(),
            begun: own()
                .filter(|own| graph.is_begun(own) && !graph.is_done(own))
                .map(|own| own.number)
                .collect(),
            on_hand: there.on_hand,
            offcuts: offcuts.collect(),
            to_buy,
        })
    };
    used.into_iter().filter_map(row).collect()
}

/// Made pieces that are of no use where they were made for, or whose part is not built any more.
fn pieces(subject: Subject<'_>) -> Vec<PieceRow> {
    let graph = subject.graph;
    let serves = |piece: &str| graph.serves(piece).map(|part: &Part| part.path.clone());
    let lost = graph.made.iter().filter(|(_, made)| made.state >= State::Cut).filter_map(|(id, made)| {
        let part = graph.part(*id)?;
        let why = graph.verdicts.get(id)?.lost.clone()?;
        Some(PieceRow { piece: part.path.clone(), state: made.state, why, serves: serves(&part.path) })
    });
    let gone = graph.at_hand.iter().filter(|gone| gone.made.state >= State::Cut).map(|gone| {
        let size =
            gone.made.facts.size.map(|([width, length], _)| {
                format!("; {} x {}", subject.print(width), subject.print(length))
            });
        PieceRow {
            piece: gone.path.clone(),
            state: gone.made.state,
            why: format!("it is not built any more{}", size.unwrap_or_default()),
            serves: serves(&gone.path),
        }
    });
    lost.chain(gone).collect()
}

fn make(subject: Subject<'_>) -> Output {
    let progress = progress(subject);
    let mut document = subject.document("Progress");
    let nothing = subject.graph.made.is_empty() && subject.graph.bought.is_empty();
    if nothing {
        let note = "Nothing is noted yet: `scantling mark` notes what is bought, cut, grooved, glued, fixed and painted.";
        document.facts.push(note.to_owned());
    }
    document.tables.push(made(&progress));
    if !progress.pieces.is_empty() {
        document.tables.push(at_hand_table(subject, &progress.pieces));
    }
    if !progress.sheets.is_empty() {
        document.tables.push(stock(&progress));
    }
    document.tables.extend(paid(&progress));
    document.tables.push(time(subject, &progress));
    document.notes.push(
        "Hours are estimates for one person. They leave out measuring, planning, buying, clearing the room, mouldings and the waits \
         of glue and paint. `scantling mark glued PATH --took '2 h'` notes what it took, and the next plan reckons by that."
            .to_owned(),
    );
    Output::new(progress, document, &["hours.left", "hours.done", "hours.seconds_each", "left"])
}

fn made(progress: &Progress) -> Table {
    let all = |of: fn(&UnitProgress) -> usize| progress.units.iter().map(of).sum::<usize>();
    let row = |unit: &UnitProgress, name: &str| {
        let of = |count: usize, all: usize| match (count, all) {
            (_, 0) => Cell::Figure("-".to_owned()),
            (count, all) if count == all => Cell::Figure("all".to_owned()),
            (count, _) => Cell::Figure(count.to_string()),
        };
        vec![
            Cell::Words(name.to_owned()),
            Cell::Figure(unit.parts.to_string()),
            of(unit.cut, unit.parts),
            of(unit.grooved, unit.with_grooves),
            of(unit.glued, unit.parts),
            of(unit.fixed, unit.parts),
            of(unit.painted, unit.parts),
        ]
    };
    let mut rows: Vec<Vec<Cell>> = progress.units.iter().map(|unit| row(unit, &unit.unit)).collect();
    if rows.len() > 1 {
        let sum = UnitProgress {
            unit: String::new(),
            parts: all(|unit| unit.parts),
            cut: all(|unit| unit.cut),
            grooved: all(|unit| unit.grooved),
            with_grooves: all(|unit| unit.with_grooves),
            glued: all(|unit| unit.glued),
            fixed: all(|unit| unit.fixed),
            painted: all(|unit| unit.painted),
        };
        rows.push(row(&sum, "together"));
    }
    let columns = ["parts", "cut", "grooved", "glued", "fixed", "painted"].map(figures);
    Table {
        caption: "What is made: how many parts have come so far".to_owned(),
        columns: std::iter::once(words("unit")).chain(columns).collect(),
        rows,
        foot: None,
    }
}

fn at_hand_table(subject: Subject<'_>, pieces: &[PieceRow]) -> Table {
    let mut groups: BTreeMap<(&str, Option<&str>, State), Vec<String>> = BTreeMap::new();
    for row in pieces {
        let key = (row.why.as_str(), row.serves.as_deref(), row.state);
        groups.entry(key).or_default().push(row.piece.clone());
    }
    let rows =
        groups.into_iter().map(|((why, serves, state), names)| {
            let known = names.iter().all(|name| subject.graph.named(name).is_some());
            let count = names.len().to_string();
            let names = if known { by_unit(subject.graph, &names) } else { names };
            vec![
                Cell::Figure(count),
                Cell::Words(state.word().to_owned()),
                Cell::Words(why.to_owned()),
                Cell::Words(serves.map_or("nothing; keep it or cut it up".to_owned(), |part| {
                    format!("cut down for {part}")
                })),
                Cell::Lines(names),
            ]
        });
    Table {
        caption: "Made pieces without a place".to_owned(),
        columns: vec![figures("count"), words("now"), words("why"), words("serves for"), words("made as")],
        rows: rows.collect(),
        foot: None,
    }
}

fn stock(progress: &Progress) -> Table {
    let rows = progress.sheets.iter().map(|sheet| {
        let numbers = |all: &[u64]| {
            let all: Vec<String> = all.iter().map(u64::to_string).collect();
            Cell::Words(if all.is_empty() { "-".to_owned() } else { all.join(", ") })
        };
        let offcuts = if sheet.offcuts.is_empty() { vec!["-".to_owned()] } else { sheet.offcuts.clone() };
        vec![
            Cell::Words(sheet.stock.clone()),
            Cell::Figure(sheet.had.to_string()),
            numbers(&sheet.cut),
            numbers(&sheet.begun),
            Cell::Figure(sheet.on_hand.to_string()),
            Cell::Figure(sheet.to_buy.map_or("?".to_owned(), |count| count.to_string())),
            Cell::Lines(offcuts),
        ]
    });
    Table {
        caption: "Sheets".to_owned(),
        columns: vec![
            words("stock"),
            figures("had"),
            words("cut"),
            words("begun"),
            figures("whole ones left"),
            figures("to buy"),
            words("offcuts at hand"),
        ],
        rows: rows.collect(),
        foot: None,
    }
}

fn paid(progress: &Progress) -> Option<Table> {
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    let mut row = |what: String, sum: Option<&String>| {
        rows.push(vec![Cell::Words(what), Cell::Figure(sum.map_or("no price", String::as_str).to_owned())]);
    };
    for bought in &progress.bought {
        row(format!("bought: {} x {}", bought.count, bought.what), bought.paid.as_ref());
    }
    if let Some(to_spend) = &progress.to_spend {
        row("still to buy".to_owned(), Some(to_spend));
    }
    progress.money.as_ref().map(|money| Table {
        caption: "Money".to_owned(),
        columns: vec![words("what"), figures("sum")],
        rows,
        foot: Some(format!("{money} in all, of what has a price")),
    })
}

fn time(subject: Subject<'_>, progress: &Progress) -> Table {
    let rows = progress.hours.iter().map(|stage| {
        let count =
            if stage.by_area { format!("~{:.1}", stage.count) } else { format!("{:.0}", stage.count.ceil()) };
        vec![
            Cell::Words(stage.stage.to_owned()),
            Cell::Figure(count),
            Cell::Words(stage.of.to_owned()),
            Cell::Figure(each(stage.seconds_each)),
            Cell::Words(stage.by.to_owned()),
            Cell::Figure(about_hours(stage.done)),
            Cell::Figure(about_hours(stage.left)),
        ]
    });
    let [opens, closes] = subject.model.project.day;
    let day = (closes - opens).saturating_mul(60).clamp(3600, DAY);
    let days = (progress.left / day as f64).ceil();
    let noted = match progress.noted {
        0 => String::new(),
        seconds => format!("; {} noted so far", about_hours(seconds as f64)),
    };
    let foot = if progress.left > 0.0 {
        let length = spelled(u64::try_from(day / 60).unwrap_or(0));
        format!("{} left, {} of {length}{noted}", about_hours(progress.left), some(days as u64, "day"))
    } else {
        format!("nothing left{noted}")
    };
    Table {
        caption: "Hours at the work, estimated".to_owned(),
        columns: vec![
            words("stage"),
            figures("left"),
            words("of"),
            figures("each"),
            words("by"),
            figures("done"),
            figures("to do"),
        ],
        rows: rows.collect(),
        foot: Some(foot),
    }
}

/// An estimate of hours, to a quarter.
pub(crate) fn about_hours(seconds: f64) -> String {
    if seconds <= 0.0 {
        return "-".to_owned();
    }
    let quarters = (seconds / 900.0).round().max(1.0) as u64;
    format!("~{}", spelled(quarters * 15))
}

/// What one takes: seconds under two minutes, halves of a minute under ten, then whole ones.
fn each(seconds: f64) -> String {
    let minutes = seconds / 60.0;
    match minutes {
        ..2.0 => format!("~{seconds:.0} s"),
        2.0..10.0 => format!("~{} min", (minutes * 2.0).round() / 2.0),
        _ => format!("~{minutes:.0} min"),
    }
}
