//! Layouts: for each sheet good the sheets to cut and how good that is; for each way to cut a sheet the work at the saw, in
//! order, and a drawing.

mod drawing;

use super::{Output, Sheet, Subject};
use crate::breakdown::{Ride, Row, SheetWork, Source, money, ride, sheet_works};
use crate::cutting::{self, Axis, Plan};
use crate::document::{Cell, Table, figures, words};
use crate::eval;
use crate::quantity::{JsonLength, Length, Rational};
use serde::Serialize;

/// The sheet.
pub(super) const SHEET: Sheet =
    Sheet { name: "layouts", about: "sheets to cut: rips, then crosscuts, with a drawing of each", make };

/// What the plans keep low, in this order.
pub(super) const GOALS: &str = "What comes first: the least money for stock, then few settings of fence and stop, then one large offcut \
                     rather than scraps, then parts of one unit near each other.";

/// An offcut is worth keeping from this size: 4 x 24 in (common practice, no source).
const KEEP: (i128, i128) = (4, 24);

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
#[derive(Clone, Debug, Serialize)]
pub struct LayoutGroup {
    /// The name of the sheet good or lot.
    pub stock: String,
    /// Its description.
    pub text: Option<String>,
    /// How many parts, with spares.
    pub parts: usize,
    /// Why there is no layout.
    pub problem: Option<String>,
    /// How many sheets are bought.
    pub buy: u64,
    /// How many that are there already are cut, whole ones and offcuts.
    pub on_hand: u64,
    /// How good that is, in words.
    pub proof: String,
    /// Whether no layout of rips and crosscuts costs less.
    pub proven: bool,
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

/// One way to cut a sheet.
#[derive(Clone, Debug, Serialize)]
pub struct Pattern {
    /// The number of the first sheet that is cut so.
    pub first: u64,
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
    pub pieces: Vec<Piece>,
    /// What is left, first what is worth keeping.
    pub left: Vec<LeftOver>,
    /// How it gets home in the vehicle; empty where none is stated.
    pub ride: String,
}

/// One setting at the saw.
#[derive(Clone, Debug, Serialize)]
pub struct CutStep {
    /// Its number; the drawing shows it at the cuts.
    pub number: usize,
    /// `skim`, `rip` or `crosscut`.
    pub cut: &'static str,
    /// Fence or stop.
    pub setting: Option<JsonLength>,
    /// What comes of it.
    pub gives: String,
    /// The same without saying from which rips, for the drawing.
    #[serde(skip)]
    pub pieces: String,
}

/// A part on a sheet.
#[derive(Clone, Debug, Serialize)]
pub struct Piece {
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
    /// The step that cuts it to length.
    pub step: usize,
}

/// What is left over.
#[derive(Clone, Debug, Serialize)]
pub struct LeftOver {
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

/// Why there is no layout, with what helps.
pub(super) fn problem(work: &SheetWork, sheet: &eval::Sheet, error: &cutting::Error) -> String {
    match error {
        cutting::Error::NoStock => {
            format!("state the `size` of the sheet `{}`, so that its parts can be laid out", sheet.name)
        }
        cutting::Error::Unplaceable(part) => {
            let row = part.parse().ok().and_then(|place: usize| work.rows.get(place));
            let names = row.map_or("a part", |row| row.names.first().map_or(row.what, String::as_str));
            format!("`{names}` is larger than every sheet offers")
        }
        cutting::Error::StockShort { missing, wanted } => {
            format!("the sheets that are there do not suffice: {missing} of {wanted} parts find no place")
        }
        error => error.to_string(),
    }
}

fn group(subject: Subject<'_>, work: &SheetWork) -> Option<LayoutGroup> {
    let sheet = subject.graph.sheet(work.sheet)?;
    let mut group = LayoutGroup {
        stock: sheet.name.to_string(),
        text: sheet.text.as_deref().map(str::to_owned),
        parts: work.rows.iter().map(Row::count).sum(),
        problem: None,
        buy: 0,
        on_hand: 0,
        proof: String::new(),
        proven: false,
        cost: None,
        yielded: String::new(),
        fence_settings: 0,
        stop_settings: 0,
        moves: 0,
        spares: Vec::new(),
        patterns: Vec::new(),
    };
    let plan = match &work.plan {
        Ok(plan) => plan,
        Err(error) => {
            group.problem = Some(problem(work, sheet, error));
            return Some(group);
        }
    };
    group.buy = work.bought(plan);
    group.on_hand = plan.sheets.saturating_sub(group.buy);
    group.proof = work.proof(subject.model, plan);
    group.proven = plan.proven();
    group.cost = work.money(plan).filter(|_| group.buy > 0).map(|cost| money(subject.model, cost));
    let hundredths = Rational::new(i128::from(plan.yield_per_10000), 100);
    group.yielded = format!("{} %", crate::quantity::decimal(hundredths, 1));
    (group.fence_settings, group.stop_settings) = (plan.rip_settings, plan.crosscut_settings);
    group.moves = plan.fence_moves;
    let shelves = work.rows.iter().enumerate().filter(|(_, row)| row.what == "shelf");
    group.spares = shelves
        .map(|(place, row)| {
            let room = work.spare_room(plan, place);
            Spare { length: subject.json(row.length), in_rips: room.in_rips, beside: room.beside }
        })
        .collect();
    let mut first = 1;
    for pattern in &plan.patterns {
        group.patterns.extend(self::pattern(subject, work, pattern, first));
        first += pattern.count;
    }
    Some(group)
}

fn pattern(
    subject: Subject<'_>,
    work: &SheetWork,
    pattern: &cutting::Pattern,
    first: u64,
) -> Option<Pattern> {
    let (stock, sheet) = (work.stock.get(pattern.sheet)?, work.job.sheets.get(pattern.sheet)?);
    let json = |units: i64| subject.json(work.scale.length(units));
    let mut steps = Vec::new();
    let mut step = |cut, setting: Option<i64>, gives: String, pieces: String| {
        steps.push(CutStep { number: steps.len() + 1, cut, setting: setting.map(json), gives, pieces });
        steps.len()
    };
    if sheet.trim.bottom > 0 {
        step(
            "skim",
            Some(sheet.trim.bottom),
            "one long edge and one end: mark them, all else is measured from there".to_owned(),
            String::new(),
        );
    }
    let mut widths: Vec<(i64, usize)> = Vec::new();
    for rip in &pattern.rips {
        match widths.iter_mut().find(|(width, _)| *width == rip.width) {
            Some((_, count)) => *count += 1,
            None => widths.push((rip.width, 1)),
        }
    }
    for (width, count) in widths {
        step(
            "rip",
            Some(width),
            if count == 1 { "1 rip".to_owned() } else { format!("{count} rips") },
            String::new(),
        );
    }
    let mut lengths: Vec<i64> =
        pattern.rips.iter().flat_map(|rip| rip.crosscuts.iter().map(|cut| cut.length)).collect();
    lengths.sort_unstable_by_key(|length| std::cmp::Reverse(*length));
    lengths.dedup();
    let mut pieces = Vec::new();
    for length in lengths {
        let mut gives: Vec<(&'static str, i64, usize)> = Vec::new();
        let cuts = pattern.rips.iter().flat_map(|rip| rip.crosscuts.iter().map(move |cut| (rip.width, cut)));
        let cuts: Vec<_> = cuts.filter(|(_, cut)| cut.length == length).collect();
        for (width, cut) in &cuts {
            for row in cut.parts.iter().filter_map(|placement| work.rows.get(placement.part)) {
                match gives.iter_mut().find(|(what, own, _)| (*what, *own) == (row.what, *width)) {
                    Some((.., count)) => *count += 1,
                    None => gives.push((row.what, *width, 1)),
                }
            }
        }
        let short: Vec<String> = gives.iter().map(|(what, _, count)| format!("{count} x {what}")).collect();
        let words: Vec<String> = gives
            .iter()
            .map(|(what, width, count)| format!("{count} x {what} from rips of {}", json(*width).print))
            .collect();
        let number = step("crosscut", Some(length), words.join(", "), short.join(", "));
        for placement in cuts.iter().flat_map(|(_, cut)| &cut.parts) {
            let Some(row) = work.rows.get(placement.part) else { continue };
            pieces.push(Piece {
                what: row.what,
                width: subject.json(row.width),
                length: subject.json(row.length),
                x: json(placement.x),
                y: json(placement.y),
                turned: placement.rotated,
                step: number,
            });
        }
    }
    let ride = match (subject.model.shop.vehicle, stock.source) {
        (Some(vehicle), Source::Bought) => ride_words(subject, &ride(work, pattern, vehicle)),
        _ => String::new(),
    };
    Some(Pattern {
        first,
        count: pattern.count,
        stock: stock.name.clone(),
        size: [stock.size.0, stock.size.1].map(|len| subject.json(len)),
        least: [json(sheet.width), json(sheet.height)],
        steps,
        pieces,
        left: left(subject, work, pattern),
        ride,
    })
}

fn ride_words(subject: Subject<'_>, ride: &Ride) -> String {
    match ride {
        Ride::Whole => "fits the vehicle whole".to_owned(),
        Ride::Not => {
            "no cut between rips makes it fit the vehicle: have it brought, or cut it outside the yard"
                .to_owned()
        }
        Ride::Cut(cuts, spare) => {
            let cuts: Vec<String> = cuts
                .iter()
                .map(|(at, rips)| {
                    let plural = if *rips == 1 { "" } else { "s" };
                    format!("{} from the skimmed edge's side, after {rips} rip{plural}", subject.print(*at))
                })
                .collect();
            format!(
                "to fit the vehicle have it ripped at the yard at {}; {} of width is left over for a rough cut",
                cuts.join(", and at "),
                subject.print(*spare)
            )
        }
    }
}

/// What is left beside the rips and at their ends, first what is worth keeping; slivers under an inch are not worth a line.
fn left(subject: Subject<'_>, work: &SheetWork, pattern: &cutting::Pattern) -> Vec<LeftOver> {
    let Some(sheet) = work.job.sheets.get(pattern.sheet) else { return Vec::new() };
    let (width, height) = sheet.usable();
    let along = if pattern.first == Axis::Horizontal { width } else { height };
    let mut sizes = vec![(work.rest_across(pattern), along)];
    sizes.extend(
        pattern.rips.iter().enumerate().map(|(place, rip)| (rip.width, work.rest_of_rip(pattern, place))),
    );
    let inch = |inches: i128| Length::from_inches(Rational::from(inches)).unwrap_or_default();
    let mut sizes: Vec<(Length, Length)> =
        sizes.into_iter().map(|(wide, long)| (work.scale.length(wide), work.scale.length(long))).collect();
    sizes.retain(|(wide, long)| *wide.min(long) >= inch(1));
    sizes.sort_by_key(|(wide, long)| std::cmp::Reverse((*wide, *long)));
    let mut left: Vec<(Length, Length, usize)> = Vec::new();
    for (wide, long) in sizes {
        match left.last_mut() {
            Some((a, b, count)) if (*a, *b) == (wide, long) => *count += 1,
            _ => left.push((wide, long, 1)),
        }
    }
    let row = |(wide, long, count): (Length, Length, usize)| {
        let keep = wide.min(long) >= inch(KEEP.0) && wide.max(long) >= inch(KEEP.1);
        // The sheet's length runs along the rips, or across them where the first cuts are crosscuts.
        let (width, length) = if pattern.first == Axis::Horizontal { (wide, long) } else { (long, wide) };
        LeftOver { count, width: subject.json(width), length: subject.json(length), keep }
    };
    let mut left: Vec<LeftOver> = left.into_iter().map(row).collect();
    left.sort_by_key(|left| !left.keep);
    left
}

/// `sheet 5 of 6`, `sheets 1 to 4 of 6, alike`.
fn which(pattern: &Pattern, group: &LayoutGroup) -> String {
    let all = group.buy + group.on_hand;
    match pattern.count {
        1 => format!("sheet {} of {all}", pattern.first),
        count => format!("sheets {} to {} of {all}, {count} alike", pattern.first, pattern.first + count - 1),
    }
}

fn make(subject: Subject<'_>) -> Output {
    let works = sheet_works(subject.model, subject.graph, subject.effort);
    let layouts = layouts(subject, &works);
    let mut document = subject.document("Layouts");
    document.facts.push(format!(
        "{GOALS} Sheets are reckoned with at the least size in which they may be sold, less one skim in both directions; every \
         cut takes {}.{}",
        subject.print(crate::breakdown::kerf(subject.model)),
        if subject.model.shop.kerf.is_none() { " No `saw` with a `kerf` is stated." } else { "" }
    ));
    for group in &layouts.groups {
        document.tables.push(summary(group));
        document.tables.extend(group.patterns.iter().map(|pattern| table(pattern, group)));
    }
    let mut drawings = Vec::new();
    for (group, (work, plan)) in layouts.groups.iter().zip(planned(&works)) {
        let sheet = subject.graph.sheet(work.sheet);
        for (place, (made, pattern)) in
            plan.iter().flat_map(|plan| group.patterns.iter().zip(&plan.patterns)).enumerate()
        {
            let grain = sheet.is_some_and(|sheet| sheet.grain);
            let page = drawing::page(&layouts, group, made, (work, pattern), grain);
            drawings.push((format!("layouts-{}-{}", group.stock, place + 1), page));
        }
    }
    Output { drawings, ..Output::new(layouts, document) }
}

fn planned(works: &[SheetWork]) -> impl Iterator<Item = (&SheetWork, Option<&Plan>)> {
    works.iter().map(|work| (work, work.plan.as_ref().ok()))
}

fn summary(group: &LayoutGroup) -> Table {
    let text = group.text.as_deref().map(|text| format!(", {text}")).unwrap_or_default();
    let row = |what: &str, says: String| vec![Cell::Words(what.to_owned()), Cell::Words(says)];
    let mut rows = Vec::new();
    match &group.problem {
        Some(problem) => rows.push(row("no layout", problem.clone())),
        None => {
            rows.push(row("to buy", group.proof.clone()));
            if group.on_hand > 0 {
                rows.push(row("on hand", format!("{} cut of what is there already", group.on_hand)));
            }
            rows.extend(group.cost.iter().map(|cost| row("price", cost.clone())));
            rows.push(row("yield", format!("{} of the area becomes parts", group.yielded)));
            rows.push(row(
                "settings",
                format!(
                    "{} of the fence, {} of the stop; {} set-ups sheet by sheet",
                    group.fence_settings, group.stop_settings, group.moves
                ),
            ));
            for spare in &group.spares {
                let says = match (spare.in_rips, spare.beside) {
                    (0, 0) => "no room".to_owned(),
                    (rips, 0) => format!("room for {rips} in the rips as they are"),
                    (0, beside) => format!("room for {beside} beside the last rips"),
                    (rips, beside) => {
                        format!("room for {rips} in the rips as they are, {beside} beside the last ones")
                    }
                };
                rows.push(row("spare shelves", format!("{} long: {says}", spare.length.print)));
            }
        }
    }
    Table {
        caption: format!("{}{text}: {} parts", group.stock, group.parts),
        columns: vec![words("what"), words("how it stands")],
        rows,
        foot: None,
    }
}

fn table(pattern: &Pattern, group: &LayoutGroup) -> Table {
    let mut rows: Vec<Vec<Cell>> = pattern
        .steps
        .iter()
        .map(|step| {
            vec![
                Cell::Figure(step.number.to_string()),
                Cell::Words(step.cut.to_owned()),
                Cell::Figure(step.setting.as_ref().map(|setting| setting.print.clone()).unwrap_or_default()),
                Cell::Words(step.gives.clone()),
            ]
        })
        .collect();
    rows.extend(pattern.left.iter().map(|left| {
        vec![
            Cell::Figure(String::new()),
            Cell::Words("left".to_owned()),
            Cell::Figure(String::new()),
            Cell::Words(left_words(left)),
        ]
    }));
    Table {
        caption: format!(
            "{}: {}, {} x {}",
            pattern.stock,
            which(pattern, group),
            pattern.size[0].print,
            pattern.size[1].print
        ),
        columns: vec![figures("step"), words("cut"), figures("set to"), words("gives")],
        rows,
        foot: (!pattern.ride.is_empty()).then(|| pattern.ride.clone()),
    }
}

fn left_words(left: &LeftOver) -> String {
    let keep = if left.keep { ": keep" } else { "" };
    format!("{} x {} x {}{keep}", left.count, left.width.print, left.length.print)
}
