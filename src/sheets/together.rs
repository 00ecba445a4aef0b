//! Several projects together: what is cut from the same stock by the same saw is bought once and cut together.

use super::shopping::{ShoppingRow, boards_bought, sheets_bought};
use super::{Output, SheetSpec, Subject, layouts, sawing, shopping};
use crate::breakdown::{BoardWork, Effort, Plans, SheetWork, board_works, sheet_works};
use crate::document::{Cell, Table, figures, words};
use crate::eval::{self, Model, SheetId, whole_cents};
use crate::parts::{Bought, Followed, Part, PartGraph, RunId, Stock, UnitId, Work};
use crate::quantity::{Rational, some};
use num_traits::{CheckedAdd, CheckedMul, CheckedSub};
use serde::Serialize;
use std::collections::BTreeMap;
use std::sync::Arc;

/// One of several projects.
#[derive(Clone, Copy, Debug)]
pub struct Project<'a> {
    /// What it is called where its parts are named.
    pub name: &'a str,
    /// What is decided.
    pub model: &'a Model,
    /// What follows from it.
    pub graph: &'a PartGraph,
    /// Its own layouts.
    pub plans: &'a Plans,
}

/// Several projects, with the layouts that they have together.
#[derive(Clone, Debug)]
pub struct Together {
    model: Model,
    graph: PartGraph,
    plans: Plans,
    names: Vec<String>,
    effort: Effort,
}

/// What several projects are listed with.
pub const TOGETHER: [&str; 3] = ["layouts", "sawing", "shopping"];

/// What is the same about a stock that projects share: everything by which it is bought, sold and cut.
fn same_sheet(one: &eval::Sheet, other: &eval::Sheet) -> bool {
    let len = |len: Option<eval::Len>| len.map(|len| len.value);
    let pair = |size: (eval::Len, eval::Len)| (size.0.value, size.1.value);
    let key = |sheet: &eval::Sheet| {
        let sold: Vec<_> =
            sheet.sold.iter().map(|sold| (sold.name.clone(), pair(sold.size), sold.price)).collect();
        let offcuts: Vec<_> =
            sheet.offcuts.iter().map(|cut| (cut.name.clone(), pair(cut.size), cut.count)).collect();
        (
            (sheet.name.clone(), sheet.size.map(pair), sheet.thickness.value, sheet.grain),
            (len(sheet.skim), len(sheet.tolerance), sheet.price, sheet.on_hand, sheet.count),
            (sold, offcuts),
        )
    };
    key(one) == key(other)
}

fn same_board(one: &eval::Board, other: &eval::Board) -> bool {
    let len = |len: Option<eval::Len>| len.map(|len| len.value);
    let key = |board: &eval::Board| {
        let lengths: Vec<_> = board.lengths.iter().map(|length| length.value).collect();
        let offcuts: Vec<_> =
            board.offcuts.iter().map(|cut| (cut.size.0.value, cut.size.1.value, cut.count)).collect();
        (board.name.clone(), len(board.thickness), len(board.width), lengths, board.price, offcuts)
    };
    key(one) == key(other)
}

impl Together {
    /// Puts projects together. Those whose saws differ share no sheet.
    #[must_use]
    pub fn of(projects: &[Project<'_>], effort: Effort) -> Option<Self> {
        let first = projects.first()?;
        let mut model = first.model.clone();
        let names: Vec<String> = projects.iter().map(|project| project.name.to_owned()).collect();
        model.project.title = Some(names.join(", ").into());
        model.project.revision = None;
        let mut graph = PartGraph::default();
        // What each project's sheets and boards are called here.
        let mut places: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
        let saw = |of: &Model| (of.shop.kerf.map(|kerf| kerf.value), of.shop.cuts);
        let mut sheets_of: Vec<(usize, eval::Sheet)> = Vec::new();
        for (number, project) in projects.iter().enumerate() {
            let sheets = project.graph.sheets.iter().map(|sheet| {
                let known = sheets_of.iter().position(|(of, known)| {
                    let shares =
                        projects.get(*of).is_some_and(|other| saw(other.model) == saw(project.model));
                    shares && same_sheet(known, sheet)
                });
                known.unwrap_or_else(|| {
                    let mut own = sheet.clone();
                    if sheets_of.iter().any(|(_, known)| known.name == sheet.name) {
                        own.name = format!("{} ({})", sheet.name, project.name).into();
                    }
                    sheets_of.push((number, own));
                    sheets_of.len() - 1
                })
            });
            let sheets = sheets.collect();
            let boards = project.graph.boards.iter().map(|board| {
                let known = graph.boards.iter().position(|known| same_board(known, board));
                known.unwrap_or_else(|| {
                    let mut own = board.clone();
                    if graph.boards.iter().any(|known| known.name == board.name) {
                        own.name = format!("{} ({})", board.name, project.name).into();
                    }
                    graph.boards.push(own);
                    graph.boards.len() - 1
                })
            });
            places.push((sheets, boards.collect()));
        }
        graph.sheets = sheets_of.iter().map(|(_, sheet)| sheet.clone()).collect();
        let (mut works, mut solids): (Vec<SheetWork>, Vec<BoardWork>) = (Vec::new(), Vec::new());
        let mut saws: Vec<&Model> = Vec::new();
        for project in projects {
            if saws.iter().all(|known| saw(known) != saw(project.model)) {
                saws.push(project.model);
            }
        }
        for of_saw in saws {
            let mut own = PartGraph::default();
            own.sheets.clone_from(&graph.sheets);
            own.boards.clone_from(&graph.boards);
            let mut asked = of_saw.clone();
            for (project, places) in projects.iter().zip(&places) {
                if saw(project.model) == saw(of_saw) {
                    add(&mut own, project, places);
                    asked.project.spares = asked.project.spares.max(project.model.project.spares);
                }
            }
            works.extend(sheet_works(&asked, &own, effort));
            solids.extend(board_works(&asked, &own, effort));
        }
        for (project, places) in projects.iter().zip(&places) {
            add(&mut graph, project, places);
        }
        let plans = Plans::made(works, solids, effort);
        Some(Self { model, graph, plans, names, effort })
    }

    fn subject(&self) -> Subject<'_> {
        let Self { model, graph, plans, effort, .. } = self;
        Subject { model, graph, plans, findings: &[], effort: *effort, work: Work::Left, only: None }
    }

    /// Makes a sheet of all of them; `None` where there is none of that name for several.
    #[must_use]
    pub fn output(&self, name: &str, projects: &[Project<'_>]) -> Option<Output> {
        match name {
            "layouts" => Some((layouts::SHEET.make)(self.subject())),
            "sawing" => Some((sawing::SHEET.make)(self.subject())),
            "shopping" => Some(self.shopping(projects)),
            _ => None,
        }
    }

    /// The drawings of all of them.
    #[must_use]
    pub fn drawings(&self, sheet: &SheetSpec) -> Vec<crate::document::Drawing> {
        sheet.draw.filter(|_| sheet.name == "layouts").map(|draw| draw(self.subject())).unwrap_or_default()
    }

    fn shopping(&self, projects: &[Project<'_>]) -> Output {
        let subject = self.subject();
        let mut rows: Vec<Shared> = Vec::new();
        let shared = |row: ShoppingRow| Shared { project: None, row };
        rows.extend(sheets_bought(subject, subject.sheet_works()).into_iter().map(shared));
        rows.extend(boards_bought(subject).into_iter().map(shared));
        // What is not cut of sheets and boards is bought for each of them.
        let mut money: Vec<Option<Rational>> = Vec::new();
        for project in projects {
            let Project { model, graph, plans, .. } = *project;
            let own = Subject {
                model,
                graph,
                plans,
                findings: &[],
                effort: self.effort,
                work: Work::Left,
                only: None,
            };
            let own = shopping::not_shared(own);
            let mut sums = own.iter().filter_map(|row| row.sum);
            money.push(sums.try_fold(Rational::from(0), |sum, own| sum.checked_add(&own)));
            let name = || Some(project.name.to_owned());
            rows.extend(own.into_iter().map(|row| Shared { project: name(), row }));
        }
        for (sum, own) in money.iter_mut().zip(self.shares()) {
            *sum = sum.zip(own).and_then(|(sum, own)| sum.checked_add(&own));
        }
        let print = |sum: &Option<Rational>| match sum {
            Some(sum) => self.model.project.money(*sum),
            None => "not all has a price".to_owned(),
        };
        let by_project: Vec<ByProject> = self
            .names
            .iter()
            .zip(&money)
            .map(|(name, sum)| ByProject { project: name.clone(), cost: print(sum) })
            .collect();
        let mut document = subject.document("Shopping");
        document.facts.push(format!(
            "{} together: sheets and boards that are the same, and cut by the same saw, are bought once. What a sheet costs is shared \
             by the area of the parts that come from its stock, what a board costs by their length.",
            some(self.names.len(), "project")
        ));
        let cells = rows.iter().map(|Shared { project, row }| {
            vec![
                Cell::Words(row.aisle.to_owned()),
                Cell::Figure(row.count.clone()),
                Cell::Words(row.what.clone()),
                Cell::Words(project.clone().unwrap_or_else(|| "all".to_owned())),
                Cell::Words(row.remark.clone()),
                Cell::Figure(row.cost.clone().unwrap_or_default()),
            ]
        });
        document.tables.push(Table {
            caption: "To buy; quantities of liquids are estimates".to_owned(),
            columns: vec![
                words("aisle"),
                figures("count"),
                words("what"),
                words("for"),
                words("remark"),
                figures("price"),
            ],
            rows: cells.collect(),
            foot: None,
        });
        let cells = by_project
            .iter()
            .map(|own| vec![Cell::Words(own.project.clone()), Cell::Figure(own.cost.clone())]);
        document.tables.push(Table {
            caption: "Money by project, of what has a price".to_owned(),
            columns: vec![words("project"), figures("price")],
            rows: cells.collect(),
            foot: None,
        });
        Output::new(
            ShoppingTogether { projects: self.names.clone(), rows, by_project },
            document,
            &["rows.count"],
        )
    }

    /// What each project pays for the sheets and boards that are bought, by its share of what is cut from them; in whole hundredths
    /// that add up, the last takes what is left. `None` where a price is not stated.
    fn shares(&self) -> Vec<Option<Rational>> {
        let subject = self.subject();
        let mut sums = vec![Some(Rational::from(0)); self.names.len()];
        let mut add = |cost: Option<Rational>, of: &BTreeMap<usize, Rational>| {
            let all = of.values().try_fold(Rational::from(0), |sum, own| sum.checked_add(own));
            let mut left = cost;
            for (place, (project, own)) in of.iter().enumerate() {
                let share = || {
                    if place + 1 == of.len() {
                        return left;
                    }
                    let part = cost?.checked_mul(own)?.checked_mul(&all?.recip())?;
                    whole_cents(part)
                };
                let share = share();
                left = left.zip(share).and_then(|(left, share)| left.checked_sub(&share));
                if let Some(sum) = sums.get_mut(*project) {
                    *sum = sum.zip(share).and_then(|(sum, share)| sum.checked_add(&share));
                }
            }
        };
        for work in subject.sheet_works() {
            let cost = work.plan.as_ref().ok().and_then(|plan| work.money(plan));
            add(cost, &self.held(|stock| stock == Stock::Sheet(work.sheet), true));
        }
        for (place, board) in self.graph.boards.iter().enumerate() {
            let rows = boards_bought(subject)
                .into_iter()
                .filter(|row| row.what.starts_with(&format!("{}, ", board.name)));
            let costs: Vec<Option<Rational>> = rows.map(|row| row.sum).collect();
            let cost = costs.into_iter().try_fold(Rational::from(0), |sum, own| sum.checked_add(&own?));
            let held = self.held(|stock| stock == Stock::Board(place), false);
            if !held.is_empty() {
                add(cost, &held);
            }
        }
        sums
    }

    /// How much each project is still to have cut from a stock: area of its parts, or their length.
    fn held(&self, of: impl Fn(Stock) -> bool, area: bool) -> BTreeMap<usize, Rational> {
        let mut held: BTreeMap<usize, Rational> = BTreeMap::new();
        for part in self.graph.parts.iter().filter(|part| of(part.stock) && self.graph.is_to_cut(part)) {
            let owner = |name: &String| {
                part.path.strip_prefix(name.as_str()).is_some_and(|rest| rest.starts_with(": "))
            };
            let Some(project) = self.names.iter().position(owner) else { continue };
            let cut = part.cut();
            let (length, width) = (cut.length.value.mm(), cut.width.value.mm());
            let own = if area { length.checked_mul(&width) } else { Some(length) };
            let sum = held.entry(project).or_insert_with(|| Rational::from(0));
            *sum = own.and_then(|own| sum.checked_add(&own)).unwrap_or(*sum);
        }
        held
    }
}

/// Adds the parts of a project, under its name.
fn add(graph: &mut PartGraph, project: &Project<'_>, (sheets, boards): &(Vec<usize>, Vec<usize>)) {
    let named = |path: &str| format!("{}: {path}", project.name);
    let called = |path: &str| format!("{} {path}", project.name);
    let (units, runs) = (graph.units.len(), graph.runs.len());
    let later = |id: u32, by: usize| id.saturating_add(u32::try_from(by).unwrap_or(u32::MAX));
    for unit in &project.graph.units {
        graph.units.push(crate::parts::Unit { path: called(&unit.path), ..unit.clone() });
    }
    for run in &project.graph.runs {
        graph.runs.push(crate::parts::RunPart { path: called(&run.path), ..run.clone() });
    }
    for part in &project.graph.parts {
        let stock = match part.stock {
            Stock::Sheet(SheetId(place)) => sheets.get(place).map(|place| Stock::Sheet(SheetId(*place))),
            Stock::Board(place) => boards.get(place).map(|place| Stock::Board(*place)),
        };
        let Some(stock) = stock else { continue };
        let id = graph.add(Part {
            path: named(&part.path),
            former: None,
            unit: part.unit.map(|unit| UnitId(later(unit.0, units))),
            run: part.run.map(|run| RunId(later(run.0, runs))),
            backing: Vec::new(),
            stock,
            ..part.clone()
        });
        let Some(id) = id else { continue };
        // What is made of it is cut no more.
        graph.made.extend(project.graph.made.get(&part.id).map(|made| (id, made.clone())));
        graph.verdicts.extend(project.graph.verdicts.get(&part.id).map(|verdict| (id, verdict.clone())));
    }
    let of = |name: &Arc<str>| {
        let place = project.graph.sheets.iter().position(|sheet| sheet.name == *name);
        let own = place.and_then(|place| sheets.get(place)).and_then(|place| graph.sheets.get(*place));
        own.map_or_else(|| name.clone(), |sheet| sheet.name.clone())
    };
    let bought = project.graph.bought.iter().map(|bought| Bought { of: of(&bought.of), ..bought.clone() });
    // What is cut of them is gone; the plan is one of all projects.
    let begun = project.graph.followed.iter().filter(|sheet| project.graph.is_begun(sheet));
    let followed = begun.map(|sheet| {
        let mut own = Followed { of: of(&sheet.of), ..sheet.clone() };
        own.rips.iter_mut().flatten().for_each(|piece| piece.path = named(&piece.path));
        own
    });
    let (bought, followed): (Vec<Bought>, Vec<Followed>) = (bought.collect(), followed.collect());
    graph.bought.extend(bought);
    graph.followed.extend(followed);
}

/// What several projects buy.
#[derive(Clone, Debug, Serialize)]
struct ShoppingTogether {
    projects: Vec<String>,
    rows: Vec<Shared>,
    by_project: Vec<ByProject>,
}

/// A row, and for which project it is; `None` is for all of them.
#[derive(Clone, Debug, Serialize)]
struct Shared {
    project: Option<String>,
    #[serde(flatten)]
    row: ShoppingRow,
}

/// What a project costs.
#[derive(Clone, Debug, Serialize)]
struct ByProject {
    project: String,
    cost: String,
}
