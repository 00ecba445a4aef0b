//! Boards and sticks: what to buy by the lengths sold, and how each is cut.

use super::{Output, SheetSpec, Subject};
use crate::breakdown::{BoardPlan, BoardWork, Row, TOO_LARGE, end_trim, spared};
use crate::cutting;
use crate::document::{Cell, Table, figures, words};
use crate::eval::whole_cents;
use crate::quantity::{JsonLength, Length, Rational, System, estimate};
use num_traits::CheckedMul;
use serde::Serialize;

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: "boards",
    about: "boards and sticks of moulding to buy, and how each is cut",
    make,
    draw: None,
    of_revision: true,
};

/// All boards and sticks.
#[derive(Clone, Debug, Serialize)]
pub struct Boards {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// By board and width, then by moulding.
    pub groups: Vec<BoardGroup>,
}

/// Boards of one width, or sticks of one moulding.
#[derive(Clone, Debug, Serialize)]
pub struct BoardGroup {
    /// The name of the board or moulding.
    pub stock: String,
    /// Its width as sold.
    pub width: JsonLength,
    /// How many pieces are cut from it.
    pub pieces: usize,
    /// How many of them are spares.
    pub spares: usize,
    /// Why nothing is said about lengths.
    pub problem: Option<String>,
    /// Parts that no board is long or wide enough for; they are not laid out.
    pub too_large: Vec<TooLarge>,
    /// How good the answer is, in words.
    pub proof: String,
    /// What is bought.
    pub buy: Vec<Stick>,
    /// How they are cut.
    pub cuts: Vec<BoardCutRow>,
    /// The paths of what is cut from it.
    #[serde(skip)]
    pub paths: Vec<String>,
}

/// Equal parts that no board is long or wide enough for.
#[derive(Clone, Debug, Serialize)]
pub struct TooLarge {
    /// How many.
    pub count: usize,
    /// What they are, with width and length.
    pub part: String,
    /// What is told about them.
    pub problem: String,
}

/// Boards or sticks of one length.
#[derive(Clone, Debug, Serialize)]
pub struct Stick {
    /// How long they are.
    pub length: JsonLength,
    /// How many.
    pub count: u64,
    /// Whether they are there already.
    pub on_hand: bool,
    /// What all of them cost, where a price is stated.
    pub cost: Option<String>,
    /// The same as a number.
    #[serde(skip)]
    pub sum: Option<Rational>,
}

/// One rip of a board, or a stick that is cut to length only.
#[derive(Clone, Debug, Serialize)]
pub struct BoardCutRow {
    /// The number of the first board or stick that is cut so; the rips of one board have the same.
    pub first: u64,
    /// How many are cut so.
    pub count: u64,
    /// How long each is.
    pub length: JsonLength,
    /// The width of the rip; `None` where nothing is ripped.
    pub rip: Option<JsonLength>,
    /// The pieces, in order.
    pub pieces: Vec<String>,
    /// The same: what they are, how long, and how many.
    #[serde(skip)]
    pub cut: Vec<(&'static str, Length, u64)>,
    /// What is left of the length.
    pub left: JsonLength,
}

/// Makes the typed sheet.
pub(crate) fn boards(subject: Subject<'_>) -> Boards {
    let project = &subject.model.project;
    Boards {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        groups: subject.board_works().iter().map(|work| group(subject, work)).collect(),
    }
}

fn group(subject: Subject<'_>, work: &BoardWork) -> BoardGroup {
    let counts = work.bought().unwrap_or_default();
    let buy = work.lengths.iter().zip(&counts).filter(|(_, count)| **count > 0);
    let buy = buy.map(|(sold, count)| {
        let count_of = Rational::from(i128::from(*count));
        let sum = sold.price.and_then(|price| price.checked_mul(&count_of)).and_then(whole_cents);
        Stick {
            length: subject.json(sold.length),
            count: *count,
            on_hand: sold.on_hand.is_some(),
            cost: sum.map(|sum| subject.model.project.money(sum)),
            sum,
        }
    });
    BoardGroup {
        stock: work.stock.clone(),
        width: subject.json(work.width),
        pieces: work.rows.iter().map(Row::count).sum(),
        spares: work.rows.iter().map(|row| row.spares).sum(),
        problem: work.problem(),
        too_large: work.too_large.iter().map(|row| too_large(subject, row)).collect(),
        proof: work.proof(subject.model),
        buy: buy.collect(),
        cuts: cuts(subject, work),
        paths: work.rows.iter().flat_map(|row| row.names.iter().cloned()).collect(),
    }
}

fn too_large(subject: Subject<'_>, row: &Row) -> TooLarge {
    let name = row.names.first().map_or("a part", String::as_str);
    TooLarge {
        count: row.count(),
        part: format!("{} {} x {}", row.what, subject.print(row.width), subject.print(row.length)),
        problem: format!("`{name}` {TOO_LARGE}"),
    }
}

fn cuts(subject: Subject<'_>, work: &BoardWork) -> Vec<BoardCutRow> {
    let json = |units: i64| subject.json(work.scale.length(units));
    let row = |place: usize| work.rows.get(place);
    let length = |place: usize| work.lengths.get(place).map(|sold| subject.json(sold.length));
    let (mut rows, mut first) = (Vec::new(), 1);
    match &work.plan {
        Some(BoardPlan::Ripped(job, Ok(plan))) => {
            for pattern in &plan.patterns {
                let (Some(length), Some(sheet)) = (length(pattern.sheet), job.sheets.get(pattern.sheet))
                else {
                    continue;
                };
                for rip in &pattern.rips {
                    let placed = rip.crosscuts.iter().flat_map(|cut: &cutting::Crosscut| &cut.parts);
                    let pieces: Vec<&Row> = placed.filter_map(|placement| row(placement.part)).collect();
                    rows.push(BoardCutRow {
                        first,
                        count: pattern.count,
                        length: length.clone(),
                        rip: Some(json(rip.width)),
                        pieces: together(subject, &pieces),
                        cut: counted(&pieces),
                        left: json(rip.rest(sheet.reach(cutting::Axis::Horizontal).0, job.rules.kerf)),
                    });
                }
                first += pattern.count;
            }
        }
        Some(BoardPlan::Cut(_, Ok(plan))) => {
            for pattern in &plan.patterns {
                let Some(length) = length(pattern.bar) else { continue };
                let pieces: Vec<&Row> = pattern.pieces.iter().filter_map(|place| row(*place)).collect();
                rows.push(BoardCutRow {
                    first,
                    count: pattern.count,
                    length,
                    rip: None,
                    pieces: together(subject, &pieces),
                    cut: counted(&pieces),
                    left: json(pattern.rest),
                });
                first += pattern.count;
            }
        }
        _ => {}
    }
    rows
}

/// Equal pieces that follow each other, counted.
fn counted(pieces: &[&Row]) -> Vec<(&'static str, Length, u64)> {
    let mut runs: Vec<(&'static str, Length, u64)> = Vec::new();
    for piece in pieces {
        match runs.last_mut() {
            Some((what, length, count)) if *what == piece.what && *length == piece.length => *count += 1,
            _ => runs.push((piece.what, piece.length, 1)),
        }
    }
    runs
}

/// Equal pieces that follow each other: `3 x strip 30 1/2"`.
fn together(subject: Subject<'_>, pieces: &[&Row]) -> Vec<String> {
    let mut runs: Vec<(String, usize)> = Vec::new();
    for piece in pieces {
        let says = format!("{} {}", piece.what, subject.print(piece.length));
        match runs.last_mut() {
            Some((last, count)) if *last == says => *count += 1,
            _ => runs.push((says, 1)),
        }
    }
    runs.into_iter().map(|(says, count)| format!("{count} x {says}")).collect()
}

/// `3`, or `4 to 6, alike`.
fn numbers(row: &BoardCutRow) -> String {
    match row.count {
        1 => row.first.to_string(),
        count => format!("{} to {}, alike", row.first, row.first + count - 1),
    }
}

/// What is bought, in words: `2 of 12', 1 of 16'`.
fn buy_words(group: &BoardGroup) -> String {
    let sticks: Vec<String> = group
        .buy
        .iter()
        .map(|stick| {
            let hand = if stick.on_hand { " on hand" } else { "" };
            format!("{} of {}{hand}", stick.count, stick.length.print)
        })
        .collect();
    sticks.join(", ")
}

fn make(subject: Subject<'_>) -> Output {
    let boards = boards(subject);
    let mut document = subject.document("Boards and sticks");
    document.facts.push(format!(
        "{} is trimmed off the ends of each, both together; a moulding is cut for its long edge, with a kerf more. What comes \
         first: the least money where prices are stated, else the least length.",
        subject.print(end_trim())
    ));
    for crown in subject.graph.runs.iter().filter_map(|run| run.crown.as_ref()).filter(|crown| crown.turns())
    {
        let [mitre, bevel] = [crown.mitre, crown.bevel].map(|angle| estimate(angle, System::Inch));
        let says = format!(
            "{}: a square outer corner, laid flat on the saw: mitre {mitre}, bevel {bevel}; try it on scrap.",
            crown.moulding
        );
        if !document.facts.contains(&says) {
            document.facts.push(says);
        }
    }
    for group in &boards.groups {
        if let Some(problem) = &group.problem {
            let says = format!("{}: {problem}.", group.stock);
            if !document.facts.contains(&says) {
                document.facts.push(says);
            }
            continue;
        }
        for large in &group.too_large {
            document.facts.push(format!("{}: {}.", group.stock, large.problem));
        }
        let foot = format!("buy {}: {}", buy_words(group), group.proof);
        let pieces = spared(group.pieces, "piece", group.spares);
        let caption = format!("{}, {} wide, for {pieces}", group.stock, group.width.print);
        document.tables.push(cut_table(group, caption, Some(foot)));
    }
    Output::new(boards, document, &[])
}

/// How each board or stick of a group is cut.
pub(crate) fn cut_table(group: &BoardGroup, caption: String, foot: Option<String>) -> Table {
    let ripped = group.cuts.iter().any(|row| row.rip.is_some());
    let mut last = 0;
    let rows = group.cuts.iter().map(|row| {
        // What all rips of a board have in common stands at the first.
        let again = std::mem::replace(&mut last, row.first) == row.first;
        let once = |says: String| Cell::Figure(if again { String::new() } else { says });
        vec![
            once(numbers(row)),
            once(row.length.print.clone()),
            Cell::Figure(row.rip.as_ref().map(|rip| rip.print.clone()).unwrap_or_default()),
            Cell::Lines(row.pieces.clone()),
            Cell::Figure(row.left.print.clone()),
        ]
    });
    Table {
        caption,
        columns: vec![
            figures(if ripped { "board" } else { "stick" }),
            figures("length"),
            figures("rip to"),
            words("cut, in order"),
            figures("left"),
        ],
        rows: rows.collect(),
        foot,
    }
}
