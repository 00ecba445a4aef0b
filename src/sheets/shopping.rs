//! Shopping: whole sheets, boards, sticks, boxes, cans and cartridges, with prices where they are stated; and what could be
//! bought in place of a sheet.

use super::bought::{self, BoughtRow};
use super::{Output, SheetSpec, Solid, Subject, boards, cut_list, finish, hardware};
use crate::breakdown::{SheetWork, Source, substitutes};
use crate::document::{Cell, Table, figures, words};
use crate::eval::{Carcass, EdgeTape, whole_cents};
use crate::parts::Work;
use crate::quantity::{Length, Rational, decimal, some};
use crate::sequence::sheeted;
use num_traits::{CheckedAdd, CheckedMul};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: "shopping",
    about: "what to buy, with prices where stated, and what could stand in for a sheet",
    make,
    draw: None,
    of_revision: true,
};

/// All that is bought.
#[derive(Clone, Debug, Serialize)]
pub struct Shopping {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// What is bought, in the order of the yard: sheets, boards and sticks, hardware, liquids.
    pub rows: Vec<ShoppingRow>,
    /// The sum of what has a price.
    pub total: Option<String>,
    /// The same as a number.
    #[serde(skip)]
    pub sum: Option<Rational>,
    /// What is noted as bought.
    pub bought: Vec<BoughtRow>,
    /// What was paid for that.
    pub spent: Option<String>,
    /// The same as a number.
    #[serde(skip)]
    pub paid: Option<Rational>,
    /// What has no price.
    pub without_price: Vec<String>,
    /// What could be bought in place of sheets.
    pub substitutes: Vec<String>,
}

/// One thing to buy.
#[derive(Clone, Debug, Serialize)]
pub struct ShoppingRow {
    /// `sheets`, `boards`, `hardware` or `finish`.
    pub aisle: &'static str,
    /// How many, or how much.
    pub count: String,
    /// What.
    pub what: String,
    /// What to know about it: how good the number is, what it covers.
    pub remark: String,
    /// What all of it costs, where a price is stated.
    pub cost: Option<String>,
    /// The same as a number.
    #[serde(skip)]
    pub sum: Option<Rational>,
}

/// A row with its price.
fn row(
    subject: Subject<'_>,
    aisle: &'static str,
    count: String,
    what: String,
    (remark, sum): (String, Option<Rational>),
) -> ShoppingRow {
    let sum = sum.and_then(whole_cents);
    ShoppingRow { aisle, count, what, remark, cost: sum.map(|sum| subject.model.project.money(sum)), sum }
}

/// Sheets to buy.
pub(super) fn sheets_bought(subject: Subject<'_>, works: &[SheetWork]) -> Vec<ShoppingRow> {
    let mut rows = Vec::new();
    for work in works {
        let Some(sheet) = subject.graph.sheet(work.sheet) else { continue };
        let named =
            |name: &str| sheet.text.as_deref().map_or(name.to_owned(), |text| format!("{name}, {text}"));
        let plan = match &work.plan {
            Ok(plan) => plan,
            Err(error) => {
                let remark = work.problem(sheet, error);
                rows.push(row(subject, "sheets", "?".to_owned(), named(&sheet.name), (remark, None)));
                continue;
            }
        };
        for (place, stock) in work.stock.iter().enumerate() {
            let own = plan.patterns.iter().filter(|pattern| pattern.sheet == place);
            let count: u64 = own.map(|pattern| pattern.count).sum();
            if count == 0 || stock.source != Source::Bought {
                continue;
            }
            let size = format!("{} x {}", subject.print(stock.size.0), subject.print(stock.size.1));
            let own = if stock.name == *sheet.name { String::new() } else { format!(" ({})", stock.name) };
            let what = format!("{}, {size}", named(&format!("{}{own}", sheet.name)));
            let sum = stock.price.and_then(|price| price.checked_mul(&Rational::from(i128::from(count))));
            rows.push(row(
                subject,
                "sheets",
                count.to_string(),
                what,
                (work.proof(subject.model, plan), sum),
            ));
        }
    }
    rows
}

/// Boards and sticks by their lengths; those that cannot be laid out by their face, from the cut list.
pub(super) fn boards_bought(subject: Subject<'_>) -> Vec<ShoppingRow> {
    let groups = boards(subject).groups;
    let by_face: BTreeMap<String, Solid> = match groups.iter().any(|group| group.problem.is_some()) {
        true => cut_list::list(subject)
            .groups
            .into_iter()
            .filter_map(|group| Some((group.stock, group.solid?)))
            .collect(),
        false => BTreeMap::new(),
    };
    let uncounted = |stock: &str| match bought::pieces(subject, stock) {
        0 => String::new(),
        count => format!("; what is bought ({}) is not taken off until then", some(count, "piece")),
    };
    let mut told = BTreeSet::new();
    let mut rows = Vec::new();
    for group in groups {
        let name = format!("{}, {} wide", group.stock, group.width.print);
        match (&group.problem, by_face.get(&group.stock)) {
            (Some(problem), None) => {
                let remark = format!("{problem}{}", uncounted(&group.stock));
                rows.push(row(subject, "boards", "?".to_owned(), name, (remark, None)));
            }
            (Some(problem), Some(face)) if told.insert(group.stock.clone()) => {
                let remark =
                    format!("with kerfs, {}; {problem}{}", face.allowance(), uncounted(&group.stock));
                let much = face.to_buy.clone();
                rows.push(row(subject, "boards", much, group.stock.clone(), (remark, None)));
            }
            (Some(_), Some(_)) => {}
            (None, _) => {
                rows.extend(group.too_large.iter().map(|large| {
                    let what = format!("{}, for {}", group.stock, large.part);
                    row(subject, "boards", large.count.to_string(), what, (large.problem.clone(), None))
                }));
                for stick in group.buy.iter().filter(|stick| !stick.on_hand) {
                    let what = format!("{name}, {} long", stick.length.print);
                    let known = (group.proof.clone(), stick.sum);
                    rows.push(row(subject, "boards", stick.count.to_string(), what, known));
                }
            }
        }
    }
    rows
}

fn fasteners(subject: Subject<'_>) -> Vec<ShoppingRow> {
    let all = (!subject.graph.bought.is_empty())
        .then(|| hardware::hardware(Subject { work: Work::Whole, ..subject }).items);
    let whole = |name: &str| {
        let own = all.iter().flatten().find(|item| item.name.as_deref() == Some(name));
        own.and_then(|item| item.boxes)
    };
    let items = hardware::hardware(subject).items.into_iter().filter_map(|item| {
        let name = item.name?;
        let stated = subject.graph.fasteners.iter().find(|stated| *stated.name == *name);
        let length = item.length.map(|length| format!(", {} long", length.print)).unwrap_or_default();
        let price = stated.and_then(|stated| stated.price);
        let there = bought::pieces(subject, &name);
        if stated.is_some_and(|stated| stated.by_piece) {
            let left = match there {
                0 => item.buy,
                there => {
                    let of_all = |item: &&hardware::HardwareItem| item.name.as_deref() == Some(&*name);
                    let whole = all.iter().flatten().find(of_all).map_or(item.buy, |item| item.buy);
                    item.buy.min(whole.saturating_sub(there))
                }
            };
            let many = Rational::from(i128::try_from(left).unwrap_or(0));
            let sum = price.and_then(|price| price.checked_mul(&many));
            let remark = format!("{} in the work", item.count);
            let what = format!("{name}{length}");
            return (left > 0).then(|| row(subject, "hardware", left.to_string(), what, (remark, sum)));
        }
        let boxes = item.boxes.map(|boxes| match there {
            0 => boxes,
            there => boxes.min(whole(&name).unwrap_or(boxes).saturating_sub(there)),
        });
        if boxes == Some(0) {
            return None;
        }
        let (count, sum) = match boxes {
            Some(boxes) => {
                let whole = Rational::from(i128::try_from(boxes).unwrap_or(0));
                (some(boxes, "box"), price.and_then(|price| price.checked_mul(&whole)))
            }
            None => (item.buy.to_string(), None),
        };
        let remark = format!("{} in the work, {} with spares", item.count, item.buy);
        Some(row(subject, "hardware", count, format!("{name}{length}"), (remark, sum)))
    });
    items.collect()
}

/// Strips for front edges, by the roll.
fn tapes(subject: Subject<'_>) -> Vec<ShoppingRow> {
    let carcasses: Vec<&Carcass> = subject.model.all_carcasses().collect();
    let mut rolls: BTreeMap<&str, (&EdgeTape, Length, usize)> = BTreeMap::new();
    for edged in subject.graph.edged() {
        let Some(part) = subject.graph.part(edged.part).filter(|part| subject.graph.is_to_cut(part)) else {
            continue;
        };
        let carcass = part.unit.and_then(|unit| carcasses.get(unit.0 as usize));
        let Some(tape) = carcass.and_then(|carcass| carcass.edge.as_ref()) else { continue };
        // Common practice, no source: an inch over at each edge, cut off when it is on.
        let over = subject.model.project.marks.system().length((1, 1), (25, 1));
        let (_, all, count) = rolls.entry(&tape.name).or_insert((tape, Length::ZERO, 0));
        let longer = all.checked_add(edged.length).and_then(|all| all.checked_add(over));
        (*all, *count) = (longer.unwrap_or(*all), *count + 1);
    }
    let mut edge = "front edge";
    for (id, tape) in &subject.graph.banded {
        let Some(part) = subject.graph.part(*id).filter(|part| subject.graph.is_to_cut(part)) else {
            continue;
        };
        let over = subject.model.project.marks.system().length((1, 1), (25, 1));
        let sides = [part.size.width.value, part.size.length.value];
        let (_, all, count) = rolls.entry(&tape.name).or_insert((tape, Length::ZERO, 0));
        for side in sides.into_iter().chain(sides) {
            let longer = all.checked_add(side).and_then(|all| all.checked_add(over));
            (*all, *count) = (longer.unwrap_or(*all), *count + 1);
        }
        edge = "edge";
    }
    let rows = rolls.into_values().map(|(tape, all, edges)| {
        let what = format!("{}, {} wide", tape.name, subject.print(tape.width.value));
        let much = subject.print(all);
        let remark = format!("{much} for {}, 1 in (25 mm) over at each", some(edges, edge));
        let rolls = tape.roll.and_then(|roll| all.ratio(roll.value)).map(|rolls| rolls.ceil());
        match rolls {
            Some(rolls) => {
                let sum = tape.price.and_then(|price| price.checked_mul(&rolls));
                let count = usize::try_from(rolls.to_integer()).unwrap_or(usize::MAX);
                row(subject, "hardware", some(count, "roll"), what, (remark, sum))
            }
            None => row(subject, "hardware", much, what, (remark, None)),
        }
    });
    rows.collect()
}

/// Grommets, by the holes that they line.
fn grommets(subject: Subject<'_>) -> Vec<ShoppingRow> {
    let mut sizes: BTreeMap<(Length, Length), usize> = BTreeMap::new();
    for hole in &subject.graph.holes {
        if let Some(grommet) = hole.grommet {
            *sizes.entry((hole.diameter.value, grommet.value)).or_default() += 1;
        }
    }
    let rows = sizes.into_iter().map(|((hole, flange), count)| {
        let what = format!("grommet for a hole of {}", subject.print(hole));
        let remark = format!("{} over its flange", subject.print(flange));
        row(subject, "hardware", count.to_string(), what, (remark, None))
    });
    rows.collect()
}

/// Sheets and tape against dust, where the size of the floor is stated that they cover.
fn dust_sheets(subject: Subject<'_>) -> Vec<ShoppingRow> {
    let mut sheets: BTreeMap<String, (Rational, Length)> = BTreeMap::new();
    for (id, run) in subject.model.runs.iter().enumerate() {
        let wall = run.wall.and_then(|wall| subject.model.walls.get(wall));
        if wall.is_some_and(|wall| wall.floor.size.is_some()) {
            let room = wall.map_or("", |wall| wall.room_name());
            let own = sheeted(subject.model, id).into_iter();
            sheets.extend(own.map(|sheet| (format!("{room} {}", sheet.what), (sheet.area, sheet.tape))));
        }
    }
    let (areas, tapes): (Vec<Rational>, Vec<Length>) = sheets.into_values().unzip();
    let area = areas.into_iter().try_fold(Rational::from(0), |sum, own| sum.checked_add(&own));
    let tape = tapes.into_iter().try_fold(Length::ZERO, Length::checked_add);
    let system = subject.model.project.marks.system();
    let (Some(area), Some(tape)) = (area.filter(|area| *area > Rational::from(0)), tape) else {
        return Vec::new();
    };
    let laps = "6 in (150 mm) over at each edge of doorways and registers".to_owned();
    let about = |print: String| format!("~{}", print.trim_start_matches('~'));
    vec![
        row(subject, "hardware", about(system.area(area)), "dust sheets".to_owned(), (laps, None)),
        row(subject, "hardware", about(system.long(tape)), "tape for them".to_owned(), (String::new(), None)),
    ]
}

/// Boards for blocking that is still to be let in, by their run along the walls.
fn blocking(subject: Subject<'_>) -> Vec<ShoppingRow> {
    let system = subject.model.project.marks.system();
    let mut rows: BTreeMap<usize, (Length, usize)> = BTreeMap::new();
    for wall in &subject.model.walls {
        let ends = wall.readings.iter().filter_map(|reading| reading.back).map(|back| back.value);
        let Some(along) = ends.max().map(|end| [Length::ZERO, end]) else { continue };
        for wood in &wall.blocking {
            let Some((board, [from, to])) = wood.to_do.zip(wood.within(along)) else { continue };
            let (all, count) = rows.entry(board).or_default();
            let longer = to.checked_sub(from).and_then(|long| all.checked_add(long));
            (*all, *count) = (longer.unwrap_or(*all), *count + 1);
        }
    }
    let row = |(board, (all, count)): (usize, (Length, usize))| {
        let board = subject.graph.boards.get(board)?;
        let what = format!("blocking of {}", board.name);
        let remark = format!("{}, cut to its place between the studs", some(count, "length"));
        Some(row(subject, "boards", system.long(all), what, (remark, None)))
    };
    rows.into_iter().filter_map(row).collect()
}

fn liquids(subject: Subject<'_>) -> Vec<ShoppingRow> {
    let products = finish::all_products(subject).into_iter();
    products
        .filter(|product| !product.is_there)
        .map(|product| {
            let remark = format!("{}; {} needed", product.covers, product.needed);
            row(subject, "finish", product.buy, product.name, (remark, product.cost))
        })
        .collect()
}

/// What holds, edges, lines and covers the parts.
fn supplies(subject: Subject<'_>) -> impl Iterator<Item = ShoppingRow> {
    let rows = [
        blocking(subject),
        fasteners(subject),
        tapes(subject),
        grommets(subject),
        liquids(subject),
        dust_sheets(subject),
    ];
    rows.into_iter().flatten()
}

/// What is bought beside sheets and boards: sticks of moulding, fasteners, liquids.
pub(super) fn not_shared(subject: Subject<'_>) -> Vec<ShoppingRow> {
    let boards = |row: &ShoppingRow| {
        let mut boards = subject.graph.boards.iter();
        boards.any(|board| row.what == *board.name || row.what.starts_with(&format!("{}, ", board.name)))
    };
    let mut rows = boards_bought(subject);
    rows.retain(|row| !boards(row));
    rows.extend(supplies(subject));
    rows
}

/// Makes the typed list.
#[must_use]
pub fn shopping(subject: Subject<'_>) -> Shopping {
    let works = subject.sheet_works();
    let mut rows = sheets_bought(subject, works);
    rows.extend(boards_bought(subject));
    rows.extend(supplies(subject));
    let mut could = Vec::new();
    for work in works {
        let (Some(sheet), Ok(plan)) = (subject.graph.sheet(work.sheet), &work.plan) else { continue };
        could.extend(substitutes(work, plan).iter().map(|found| found.words(subject.model, &sheet.name)));
    }
    let sums = rows.iter().filter_map(|row| row.sum).map(Some);
    let sum = sums.reduce(|sum, own| sum?.checked_add(&own?));
    let project = &subject.model.project;
    let there = bought::rows(subject);
    let paid = bought::spent(&there);
    Shopping {
        bought: there,
        spent: paid.map(|paid| project.money(paid)),
        paid,
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        total: sum.map(|sum| sum.map_or("out of range".to_owned(), |sum| project.money(sum))),
        sum: sum.flatten(),
        without_price: rows.iter().filter(|row| row.sum.is_none()).map(|row| row.what.clone()).collect(),
        substitutes: could,
        rows,
    }
}

fn make(subject: Subject<'_>) -> Output {
    let shopping = shopping(subject);
    let document = document(subject, &shopping);
    Output::new(shopping, document, &["rows.count", "substitutes"])
}

fn document(subject: Subject<'_>, shopping: &Shopping) -> crate::document::Document {
    let mut document = subject.document("Shopping");
    let rows = shopping.rows.iter().map(|row| {
        vec![
            Cell::Words(row.aisle.to_owned()),
            Cell::Figure(row.count.clone()),
            Cell::Words(row.what.clone()),
            Cell::Words(row.remark.clone()),
            Cell::Figure(row.cost.clone().unwrap_or_default()),
        ]
    });
    document.facts.extend(subject.graph.without_fastener().map(|says| format!("Not in this list: {says}.")));
    document.facts.push(acclimate(subject));
    let without = shopping.without_price.len();
    let foot = shopping.total.as_ref().map(|total| match without {
        0 => format!("{total} in all"),
        1 => format!("{total} in all, without one thing that has no price"),
        _ => format!("{total} in all, without {without} things that have no price"),
    });
    document.tables.push(Table {
        caption: "To buy; quantities of liquids are estimates".to_owned(),
        columns: vec![words("aisle"), figures("count"), words("what"), words("remark"), figures("price")],
        rows: rows.collect(),
        foot,
    });
    if !shopping.bought.is_empty() {
        let rows = shopping.bought.iter().map(|row| {
            vec![
                Cell::Figure(row.count.to_string()),
                Cell::Words(row.what.clone()),
                Cell::Figure(row.paid.clone().unwrap_or_default()),
            ]
        });
        document.tables.push(Table {
            caption: "Bought already".to_owned(),
            columns: vec![figures("count"), words("what"), figures("paid")],
            rows: rows.collect(),
            foot: bought::foot(subject, &shopping.bought, shopping.sum),
        });
    }
    if !shopping.substitutes.is_empty() {
        document.tables.push(Table {
            caption: "What could be bought in place of sheets, found by trying".to_owned(),
            columns: vec![words("instead")],
            rows: shopping.substitutes.iter().map(|says| vec![Cell::Words(says.clone())]).collect(),
            foot: None,
        });
    }
    document
}

/// How wood comes to the moisture of the room before it is cut.
pub(crate) fn acclimate(subject: Subject<'_>) -> String {
    let stated = subject.model.walls.iter().find_map(|wall| wall.air.moisture);
    let percent = stated.and_then(|share| share.checked_mul(&Rational::from(100)));
    let settles = match percent {
        Some(percent) => format!("wood settles there at about {} %", decimal(percent, 1)),
        None => "in most of the USA wood settles indoors at about 8 %, in its dry south-west at 6 %, on humid coasts at 11 % (USDA \
                 FPL-GTR-190, Figure 13-1, as quoted)"
            .to_owned(),
    };
    format!(
        "Let boards and sheets lie 2 to 7 days in the room, on stickers, before they are cut (common practice, no source): {settles}."
    )
}
