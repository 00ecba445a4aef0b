//! Layouts: for each sheet good the sheets to cut and how good that is; for each way to cut a sheet the work at the saw, in
//! order, and a drawing.

mod drawing;
mod label;
mod list;
mod pattern;
mod table;

use super::{Output, SheetSpec, Subject};
use crate::breakdown::{NearMiss, Row, SheetWork, across_of};
use crate::cutting;
use crate::document::Drawing;
use crate::eval::Cuts;
use crate::parts::Role;
use crate::quantity::{JsonLength, Rational, some};
use serde::Serialize;

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: "layouts",
    about: "sheets to cut: rips, then crosscuts, with a drawing of each",
    make,
    draw: Some(drawings),
    of_revision: true,
};

/// What the plans keep low, in this order.
pub(super) const GOALS: &str = "What comes first: the least money for stock, then what is at hand before what is bought, then few settings of fence and \
                     stop, then one large offcut rather than scraps, then parts of one unit near each other.";

/// All layouts.
#[derive(Clone, Debug, Serialize)]
pub struct Layouts {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// What the plans keep low, in this order.
    pub goals: &'static str,
    /// By sheet good and lot.
    pub groups: Vec<LayoutGroup>,
}

/// The layout of one sheet good or lot.
#[derive(Clone, Debug, Default, Serialize)]
pub struct LayoutGroup {
    /// The name of the sheet good or lot.
    pub stock: String,
    /// Its description.
    pub text: Option<String>,
    /// How many parts, with spares.
    pub parts: usize,
    /// How many of them are spares.
    pub spare_parts: usize,
    /// Why there is no layout.
    pub problem: Option<String>,
    /// How many sheets are bought.
    pub buy: u64,
    /// How many that are there already are cut, whole ones and offcuts.
    pub on_hand: u64,
    /// The number of the last sheet; those that were cut before have numbers too.
    pub last: u64,
    /// How good that is, in words.
    pub proof: String,
    /// Whether no layout of the cuts that the proof names costs less.
    pub proven: bool,
    /// What rips and crosscuts alone would take, where more kinds of cuts take less, and what that costs in work.
    pub saving: Option<String>,
    /// What the bought sheets cost, where prices are stated.
    pub cost: Option<String>,
    /// Area of the parts for the area of the sheets.
    pub yielded: String,
    /// Distinct settings of the fence.
    pub fence_settings: usize,
    /// Distinct settings of the stop.
    pub stop_settings: usize,
    /// Settings summed sheet by sheet.
    pub moves: u64,
    /// Room for spare shelves.
    pub spares: Vec<Spare>,
    /// Small changes of stated sizes that take fewer sheets.
    pub near_misses: Vec<Near>,
    /// Ways to cut a sheet, in the order of work.
    pub patterns: Vec<Pattern>,
}

/// Room for spare shelves of one size.
#[derive(Clone, Debug, Serialize)]
pub struct Spare {
    /// The length of the shelf.
    pub length: JsonLength,
    /// How many fit at the ends of rips of that width.
    pub in_rips: usize,
    /// How many fit in rips more.
    pub beside: usize,
}

/// A small change of a stated size that takes fewer sheets.
#[derive(Clone, Debug, Serialize)]
pub struct Near {
    /// What the size is called.
    pub what: String,
    /// The size as it is stated.
    pub from: JsonLength,
    /// What it would be.
    pub to: JsonLength,
    /// How many sheets are bought then.
    pub sheets: u64,
    /// What they cost less, where prices are stated.
    pub saved: Option<String>,
    /// Settings sheet by sheet then.
    pub moves: u64,
    /// All of it, in words.
    pub says: String,
}

/// One way to cut a sheet.
#[derive(Clone, Debug, Serialize)]
pub struct Pattern {
    /// The number of the first sheet that is cut so.
    pub first: u64,
    /// The numbers of all of them.
    pub numbers: Vec<u64>,
    /// How many are cut so.
    pub count: u64,
    /// What is cut: the sheet, a size of it, or an offcut.
    pub stock: String,
    /// Length and width as sold.
    pub size: [JsonLength; 2],
    /// Length and width that are reckoned with, before the skim.
    pub least: [JsonLength; 2],
    /// The work, in order.
    pub steps: Vec<CutStep>,
    /// The parts, from the lower left corner of the sheet as it is reckoned with.
    pub pieces: Vec<PlacedPart>,
    /// What is left, first what is worth keeping.
    pub left: Vec<LeftOver>,
    /// How it gets home in the vehicle; empty where none is stated.
    pub ride: String,
}

impl Pattern {
    /// Whether its first cuts are rips, as against cuts across the sheet.
    fn is_ripped(&self) -> bool {
        self.steps.iter().all(|step| step.cut != "across")
    }
}

/// One setting at the saw.
#[derive(Clone, Debug, Serialize)]
pub struct CutStep {
    /// Its number; the drawing shows it at the cuts.
    pub number: usize,
    /// `skim`, then `rip` and `crosscut`; where the sheet is cut across first, `across` and `rip`; last `trim`.
    pub cut: &'static str,
    /// Fence or stop.
    pub setting: JsonLength,
    /// The same in units of the job.
    #[serde(skip)]
    units: i64,
    /// What comes of it.
    pub gives: String,
    /// The same without saying from which rips, for the drawing.
    #[serde(skip)]
    pub pieces: String,
}

/// A part on a sheet.
#[derive(Clone, Debug, Serialize)]
pub struct PlacedPart {
    /// Where it lies, in units of the job.
    #[serde(skip)]
    placed: cutting::Placement,
    /// What it is.
    pub what: &'static str,
    /// Across the grain.
    pub width: JsonLength,
    /// Along the grain.
    pub length: JsonLength,
    /// From the left end of the sheet.
    pub x: JsonLength,
    /// From its lower edge.
    pub y: JsonLength,
    /// Whether its length lies across the sheet's length.
    pub turned: bool,
    /// The step that cuts it off.
    pub step: usize,
    /// The step that cuts it to size once more, where that is needed.
    pub trim: Option<usize>,
}

/// What is left over.
#[derive(Clone, Debug, Serialize)]
pub struct LeftOver {
    /// Along the sheet's length and across it, in units of the job.
    #[serde(skip)]
    units: (i64, i64),
    /// How many.
    pub count: usize,
    /// Across the grain.
    pub width: JsonLength,
    /// Along the grain.
    pub length: JsonLength,
    /// Whether it is worth keeping.
    pub keep: bool,
}

/// Makes the typed layouts.
pub(super) fn layouts(subject: Subject<'_>, works: &[SheetWork]) -> Layouts {
    let project = &subject.model.project;
    Layouts {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        goals: GOALS,
        groups: works.iter().filter_map(|work| group(subject, work)).collect(),
    }
}

fn group(subject: Subject<'_>, work: &SheetWork) -> Option<LayoutGroup> {
    let sheet = subject.graph.sheet(work.sheet)?;
    let mut group = LayoutGroup {
        stock: sheet.name.to_string(),
        text: sheet.text.as_deref().map(str::to_owned),
        parts: work.rows.iter().map(Row::count).sum(),
        spare_parts: work.rows.iter().map(|row| row.spares).sum(),
        ..LayoutGroup::default()
    };
    let plan = match &work.plan {
        Ok(plan) => plan,
        Err(error) => {
            group.problem = Some(work.problem(sheet, error));
            return Some(group);
        }
    };
    group.buy = work.bought(plan);
    group.on_hand = plan.sheets.saturating_sub(group.buy);
    group.proof = work.proof(subject.model, plan);
    group.proven = plan.proven();
    group.saving = work.plainer.as_ref().map(|plainer| saving(work, plan, plainer));
    group.cost = work.money(plan).filter(|_| group.buy > 0).map(|cost| subject.model.project.money(cost));
    let hundredths = Rational::new(i128::from(plan.yield_per_10000), 100);
    group.yielded = format!("{} %", crate::quantity::rounded(hundredths, 1));
    (group.fence_settings, group.stop_settings) = (plan.rip_settings, plan.crosscut_settings);
    group.moves = plan.fence_moves;
    let shelves = work.rows.iter().enumerate().filter(|(_, row)| row.role == Some(Role::Shelf));
    group.spares = shelves
        .map(|(place, row)| {
            let room = work.spare_room(plan, place);
            Spare { length: subject.json(row.length), in_rips: room.in_rips, beside: room.beside }
        })
        .collect();
    let near = work.near_misses((subject.model, subject.graph), subject.effort).iter();
    let near = near.map(|near: &NearMiss| Near {
        what: near.saving.what.clone(),
        from: subject.fine(near.saving.from.value),
        to: subject.fine(near.saving.to),
        sheets: near.saving.sheets,
        saved: near.saving.saved.map(|saved| subject.model.project.money(saved)),
        moves: near.moves,
        says: format!("{}: {}", near.saving.says(subject.model), near.saves(subject.model)),
    });
    group.near_misses = near.collect();
    group.last = work.last();
    for (place, pattern) in plan.patterns.iter().enumerate() {
        group.patterns.extend(pattern::pattern(subject, work, pattern, work.numbers(place)));
    }
    Some(group)
}

/// `8 sheets by rips and crosscuts alone; 2 sheets fewer cost 16 trims and 70 set-ups in place of 62`.
fn saving(work: &SheetWork, plan: &cutting::Plan, plainer: &cutting::Plan) -> String {
    let trims: u64 = plan.patterns.iter().map(|pattern| pattern.count * trimmed(pattern)).sum();
    let across = plan.patterns.iter().filter(|pattern| !work.is_ripped(pattern));
    let across: u64 = across.map(|pattern| pattern.count).sum();
    let extra = [
        (trims > 0).then(|| some(trims, "trim")),
        (across > 0).then(|| format!("{} cut across first", some(across, "sheet"))),
    ];
    let extra: Vec<String> = extra.into_iter().flatten().collect();
    format!(
        "rips and crosscuts alone take {} and {}; this takes {} and {}, with {}",
        some(work.bought(plainer), "sheet"),
        some(plainer.fence_moves, "set-up"),
        some(work.bought(plan), "sheet"),
        some(plan.fence_moves, "set-up"),
        if extra.is_empty() { "no cut more".to_owned() } else { extra.join(" and ") }
    )
}

/// How many pieces of one sheet are cut once more to their size.
fn trimmed(pattern: &cutting::Pattern) -> u64 {
    let pieces = pattern.rips.iter().flat_map(|rip| {
        let parts = rip.crosscuts.iter().flat_map(|cut| &cut.parts);
        parts.filter(|part| across_of(part, pattern.first) < rip.width)
    });
    pieces.map(|_| 1).sum()
}

/// `sheet 5 of 6`, `sheets 1 to 4 of 6, 4 alike`, `sheets 1, 3 and 4 of 6, alike`.
pub(crate) fn which(pattern: &Pattern, group: &LayoutGroup) -> String {
    let all = group.last;
    match &*pattern.numbers {
        [one] => format!("sheet {one} of {all}"),
        [first, second] => format!("sheets {first} and {second} of {all}, alike"),
        [first, .., last] if last - first + 1 == pattern.count => {
            format!("sheets {first} to {last} of {all}, {} alike", pattern.count)
        }
        [before @ .., last] => {
            let before: Vec<String> = before.iter().map(u64::to_string).collect();
            format!("sheets {} and {last} of {all}, {} alike", before.join(", "), pattern.count)
        }
        [] => String::new(),
    }
}

/// What a cut takes; several where projects of several saws stand together.
fn kerfs(subject: Subject<'_>, works: &[SheetWork]) -> String {
    let mut kerfs: Vec<String> =
        works.iter().map(|work| subject.print(work.scale.length(work.job.rules.kerf))).collect();
    kerfs.dedup();
    if kerfs.is_empty() { subject.print(crate::breakdown::kerf(subject.model)) } else { kerfs.join(" or ") }
}

/// Which cuts are reckoned with.
fn cuts_fact(cuts: Cuts) -> String {
    let mut says = "Rips run the whole length of a sheet and are crosscut into pieces.".to_owned();
    if cuts.across {
        says.push_str(
            " Where that takes less money, a sheet is cut across its whole width first and what comes of it is ripped.",
        );
    }
    if cuts.trim {
        says.push_str(" Where that takes less money, a piece is cut once more to its size: it is trimmed.");
    }
    says
}

fn make(subject: Subject<'_>) -> Output {
    let works = subject.sheet_works();
    let layouts = layouts(subject, works);
    let mut document = subject.document("Layouts");
    document.facts.push(format!(
        "{GOALS} {} Sheets are counted at the least size in which they may be sold, less one skim in both directions; every \
         cut takes {}.{}",
        cuts_fact(subject.model.shop.cuts),
        kerfs(subject, works),
        if subject.model.shop.kerf.is_none() { " No `saw` with a `kerf` is stated." } else { "" }
    ));
    let skimmed =
        |work: &SheetWork| subject.graph.sheet(work.sheet).is_some_and(|sheet| sheet.skim.is_some());
    document.facts.push(
        if works.iter().all(skimmed) {
            "The first cut skims one factory edge; mark it, and lay it against the fence for every rip."
        } else {
            "Where no `skim` is stated, a factory edge serves as the reference: it must be straight within 1/16 in (1.6 mm), \
             which is all that PS 1-19 asks of it; else skim 1/8 to 1/4 in (3 to 6 mm) off it."
        }
        .to_owned(),
    );
    for group in &layouts.groups {
        document.tables.push(table::summary(group));
        document.tables.extend(group.patterns.iter().map(|pattern| table::table(pattern, group)));
    }
    Output::new(layouts, document, &[])
}

fn drawings(subject: Subject<'_>) -> Vec<Drawing> {
    drawn(subject, drawing::pages).1.into_iter().flatten().collect()
}

/// The typed layouts, and for each of their patterns in turn the sheet as it stands on a page over its work.
pub(crate) fn figures(subject: Subject<'_>) -> (Layouts, Vec<Option<Drawing>>) {
    drawn(subject, drawing::figure)
}

/// What draws a pattern: from the head of its pages, its group, what is made, what is planned, and whether grain counts.
type Draws<T> = fn(drawing::Head<'_>, &LayoutGroup, &Pattern, (&SheetWork, &cutting::Pattern), bool) -> T;

/// The typed layouts, and for each of their patterns in turn how it is drawn.
fn drawn<T>(subject: Subject<'_>, draws: Draws<T>) -> (Layouts, Vec<T>) {
    let works = subject.sheet_works();
    let (project, paper) = (subject.headed(), subject.model.project.paper());
    let layouts = layouts(subject, works);
    let mut drawings = Vec::new();
    for (group, work) in layouts.groups.iter().zip(works) {
        let Ok(plan) = &work.plan else { continue };
        let grain = subject.graph.sheet(work.sheet).is_some_and(|sheet| sheet.grain);
        for (place, (made, pattern)) in group.patterns.iter().zip(&plan.patterns).enumerate() {
            let name = format!("layouts-{}-{}", group.stock, place + 1);
            let head = drawing::Head { project: &project, name: &name, paper };
            drawings.push(draws(head, group, made, (work, pattern), grain));
        }
    }
    (layouts, drawings)
}

pub(crate) fn left_words(left: &LeftOver) -> String {
    let keep = if left.keep { ": keep" } else { "" };
    format!("{} x {} x {}{keep}", left.count, left.width.print, left.length.print)
}
