//! Boards and sticks: solid stock by the lengths in which it is sold.

use super::{Equal, Row, Scale, TOO_LARGE, add, at_hand, kerf, price, problem, rules};
use crate::cutting::{
    Bar, BarJob, BarPiece, BarPlan, Effort, Error, Grain, Job, Plan, Sheet, Trim, plan, plan_bars,
};
use crate::eval::{Board, Cuts, Model, whole_cents};
use crate::parts::{PartGraph, Stock};
use crate::quantity::{Dim, Estimate, Length, Rational, some};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// What is trimmed off the ends of a board or stick, both together: 1/2 in (common practice, no source).
#[must_use]
pub fn end_trim() -> Length {
    Length::from_inches(Rational::new(1, 2)).unwrap_or_default()
}

/// The work on boards of one width, or on sticks of one moulding.
#[derive(Clone, Debug)]
pub struct BoardWork {
    /// The name of the board or moulding.
    pub stock: String,
    /// Its width as sold.
    pub width: Length,
    /// Its parts, at the places of the job's.
    pub rows: Vec<Row>,
    /// Parts that are longer or wider than everything that is sold; they are in no plan.
    pub too_large: Vec<Row>,
    /// Its lengths, at the places of the job's stock; those on hand last.
    pub lengths: Vec<Sold>,
    /// Whether the cost that the plan keeps low is money; else it is length.
    pub priced: bool,
    /// The unit of the job.
    pub scale: Scale,
    /// The job and its plan; `None` where no lengths are stated.
    pub plan: Option<BoardPlan>,
}

/// A job and its plan.
#[derive(Clone, Debug)]
pub enum BoardPlan {
    /// Parts are ripped from wider boards.
    Ripped(Job, Result<Plan, Error>),
    /// Pieces are cut to length only.
    Cut(BarJob, Result<BarPlan, Error>),
}

impl BoardWork {
    /// How many are bought, by place of the length; `None` where there is no plan.
    #[must_use]
    pub fn bought(&self) -> Option<Vec<u64>> {
        let mut counts = vec![0_u64; self.lengths.len()];
        let mut add = |place: usize, count: u64| {
            if let Some(sum) = counts.get_mut(place) {
                *sum += count;
            }
        };
        match self.plan.as_ref()? {
            BoardPlan::Ripped(_, Ok(plan)) => plan.patterns.iter().for_each(|p| add(p.sheet, p.count)),
            BoardPlan::Cut(_, Ok(plan)) => plan.patterns.iter().for_each(|p| add(p.bar, p.count)),
            BoardPlan::Ripped(_, Err(_)) | BoardPlan::Cut(_, Err(_)) => return None,
        }
        Some(counts)
    }

    /// Why there is no plan, with what helps; `None` where there is one.
    #[must_use]
    pub fn problem(&self) -> Option<String> {
        let error = match &self.plan {
            Some(BoardPlan::Ripped(_, plan)) => plan.as_ref().err()?,
            Some(BoardPlan::Cut(_, plan)) => plan.as_ref().err()?,
            None => {
                let stock = &self.stock;
                return Some(format!(
                    "state the `lengths` in which `{stock}` is sold, so that pieces can be laid out"
                ));
            }
        };
        Some(problem(&self.rows, error, TOO_LARGE))
    }

    /// Whether every plan of the least cost costs the same money: it is proven, and what is kept low is money, or all is of
    /// one length.
    #[must_use]
    pub fn is_least(&self) -> bool {
        let proven = match &self.plan {
            Some(BoardPlan::Ripped(_, Ok(plan))) => plan.proven(),
            Some(BoardPlan::Cut(_, Ok(plan))) => plan.cost == plan.bound.cost,
            _ => return true,
        };
        let bought = self.lengths.iter().filter(|sold| sold.on_hand.is_none());
        let whole = |price: Rational| whole_cents(price) == Some(price);
        proven && (bought.clone().count() <= 1 || bought.clone().all(|sold| sold.price.is_some_and(whole)))
    }

    /// How good the plan is, in words; nothing where there is none.
    #[must_use]
    pub fn proof(&self, model: &Model) -> String {
        let (count, proven, least) = match &self.plan {
            Some(BoardPlan::Ripped(_, Ok(plan))) => (plan.sheets, plan.proven(), plan.bound.cost),
            Some(BoardPlan::Cut(_, Ok(plan))) => (plan.bars, plan.cost == plan.bound.cost, plan.bound.cost),
            _ => return String::new(),
        };
        let pieces = format!("{} of stock", some(count, "piece"));
        match (proven, self.priced) {
            (true, true) => format!("{pieces}; nothing sold does it for less"),
            (true, false) => format!("{pieces}; nothing sold does it with less length"),
            (false, true) => {
                let least = model.project.money(Rational::new(i128::from(least), 100));
                format!("{pieces}; what is sold costs at least {least}")
            }
            (false, false) => {
                let least = model.project.marks.print(self.scale.length(least));
                format!("{pieces}; it takes at least {least} of length")
            }
        }
    }
}

/// The work on every board that parts are cut from; where boards are bought as wide as the parts, one for each width.
#[must_use]
pub fn board_works(model: &Model, graph: &PartGraph, effort: Effort) -> Vec<BoardWork> {
    let mut by_board: BTreeMap<usize, Equal> = BTreeMap::new();
    for part in graph.parts.iter().filter(|part| graph.is_to_cut(part)) {
        let Stock::Board(board) = part.stock else { continue };
        let cut = part.cut();
        let size @ [length, width] = [cut.length.value, cut.width.value];
        add(by_board.entry(board).or_default(), model, part, size, [width, length]);
    }
    let mut works = Vec::new();
    for (index, rows) in by_board {
        let Some(board) = graph.boards.get(index) else { continue };
        let there = there(model, graph, (index, board));
        works.extend(of_board(model, board, (rows, &there), effort));
    }
    works
}

/// What is bought of a board, less what the parts that are cut took.
fn there(model: &Model, graph: &PartGraph, (index, board): (usize, &Board)) -> Vec<Sold> {
    let bought = at_hand::lengths(graph, &board.name);
    let cut = at_hand::cut(model, graph, Stock::Board(index));
    if bought.is_empty() || cut.is_empty() {
        return bought;
    }
    let mut taken: BTreeMap<Length, u64> = BTreeMap::new();
    let bare = Board { offcuts: Vec::new(), ..board.clone() };
    for work in of_board(model, &bare, (cut, &bought), Effort::Quick) {
        let counts = work.bought().unwrap_or_default();
        for (sold, count) in work.lengths.iter().zip(counts).filter(|(sold, _)| sold.on_hand.is_some()) {
            *taken.entry(sold.length).or_default() += count;
        }
    }
    let left = bought.into_iter().map(|sold| {
        let taken = taken.entry(sold.length).or_default();
        let had = sold.on_hand.unwrap_or_default();
        let took = had.min(*taken);
        *taken -= took;
        Sold { on_hand: Some(had - took), ..sold }
    });
    left.filter(|sold| sold.on_hand != Some(0)).collect()
}

/// The work on one board, with lengths of it that are there.
fn of_board(model: &Model, board: &Board, (rows, there): (Equal, &[Sold]), effort: Effort) -> Vec<BoardWork> {
    let mut rows: Vec<Row> = rows.into_values().collect();
    if let Some(width) = board.width {
        return vec![ripped(model, (board, there), width.value, rows, effort)];
    }
    rows.sort_by_key(|row| (Reverse(row.width), Reverse(row.length), row.what));
    let mut widths: Vec<Length> = rows.iter().map(|row| row.width).collect();
    widths.dedup();
    let works = widths.into_iter().map(|width| {
        let own = rows.iter().filter(|row| row.width == width).cloned().collect();
        let mut lengths = sold(model, board, width);
        if !lengths.is_empty() {
            let same = offcuts(board).filter(|(_, own)| *own == width);
            lengths.extend(same.map(|(sold, _)| sold));
        }
        cut(model, board.name.as_ref(), (width, Length::ZERO), own, lengths, effort)
    });
    works.collect()
}

/// The work on the moulding of every run: pieces at their long edge, 1/2 in and one kerf for each (common practice, no
/// source).
#[must_use]
pub fn stick_works(model: &Model, graph: &PartGraph, effort: Effort) -> Vec<BoardWork> {
    let mut by_moulding: BTreeMap<&str, (Vec<Row>, &crate::eval::Moulding)> = BTreeMap::new();
    for run in graph.runs.iter().filter(|run| !graph.is_painted(run)) {
        let Some(crown) = &run.crown else { continue };
        let stated = model.runs.iter().find(|stated| *stated.name == *run.path);
        let Some(moulding) = stated.and_then(|stated| stated.crown.as_ref()) else { continue };
        let (rows, _) = by_moulding.entry(&moulding.name).or_insert_with(|| (Vec::new(), moulding));
        let parted = crown.pieces.iter().any(|piece| piece.stretch > 0);
        for piece in &crown.pieces {
            // The long edge is an estimate: bought for its next whole thousandth of a millimetre, cut by fitting.
            let Some(length) =
                Estimate { value: piece.long(), dim: Dim::LENGTH }.nearest().and_then(|top| top.length())
            else {
                continue;
            };
            let thousandth = Length::from_mm(Rational::new(1, 1000));
            let length = length.rounded_to(thousandth, crate::quantity::Round::Up).unwrap_or(length);
            let stretch = if parted { format!("[{}]", piece.stretch + 1) } else { String::new() };
            let names = vec![format!("{}.crown{stretch}.{}", run.path, piece.at.word())];
            rows.push(Row {
                what: piece.at.word(),
                role: None,
                length,
                width: crown.width.value,
                names,
                units: BTreeSet::new(),
                spares: 0,
            });
        }
    }
    let works = by_moulding.into_iter().map(|(name, (mut rows, moulding))| {
        rows.sort_by_key(|row| Reverse(row.length));
        let lengths = moulding.lengths.iter().map(|length| {
            let price = moulding.price.and_then(|price| length.value.checked_mul(price)).map(Length::mm);
            Sold { length: length.value, price, on_hand: None }
        });
        let there = moulding.there.iter().filter(|(_, count)| *count > 0).map(|(length, count)| Sold {
            length: length.value,
            price: None,
            on_hand: u64::try_from(*count).ok(),
        });
        let lengths = lengths.chain(there);
        let last_kerf = kerf(model);
        cut(model, name, (moulding.width.value, last_kerf), rows, lengths.collect(), effort)
    });
    works.collect()
}

/// A length of stock.
#[derive(Clone, Copy, Debug)]
pub struct Sold {
    /// The length.
    pub length: Length,
    /// What one costs.
    pub price: Option<Rational>,
    /// How many there are already; `None` of what is bought.
    pub on_hand: Option<u64>,
}

fn sold(model: &Model, board: &Board, width: Length) -> Vec<Sold> {
    let lengths = board.lengths.iter().map(|length| {
        let length = length.value;
        Sold { length, price: price::board(model, board, length, width), on_hand: None }
    });
    lengths.collect()
}

/// What is left of other boards, with its width.
fn offcuts(board: &Board) -> impl Iterator<Item = (Sold, Length)> {
    board.offcuts.iter().filter(|offcut| offcut.count > 0).map(|offcut| {
        let on_hand = u64::try_from(offcut.count).ok();
        (Sold { length: offcut.size.0.value, price: None, on_hand }, offcut.size.1.value)
    })
}

/// What one costs in the plan, and whether that is money: where all prices are known; else it is length.
fn costs(scale: Scale, lengths: &[Sold]) -> (Vec<i64>, bool) {
    let priced = lengths.iter().all(|sold| sold.price.is_some() || sold.on_hand.is_some());
    let cost = |sold: &Sold| match (sold.on_hand, sold.price) {
        (Some(_), _) => 0,
        (None, Some(price)) if priced => super::cents(price),
        (None, _) => scale.down(sold.length).max(1),
    };
    (lengths.iter().map(cost).collect(), priced)
}

fn ripped(
    model: &Model,
    (board, there): (&Board, &[Sold]),
    width: Length,
    rows: Vec<Row>,
    effort: Effort,
) -> BoardWork {
    let (kerf, trim) = (kerf(model), end_trim());
    let bought = sold(model, board, width).into_iter().map(|sold| (sold, width));
    let there = there.iter().map(|sold| (*sold, width));
    let (lengths, widths): (Vec<Sold>, Vec<Length>) = bought.chain(there).chain(offcuts(board)).unzip();
    let sizes = rows.iter().flat_map(|row| [row.length, row.width]);
    let stock = lengths.iter().map(|sold| sold.length).chain(widths.iter().copied());
    let scale = Scale::of(sizes.chain(stock).chain([kerf, trim]));
    let offered: Vec<[i64; 2]> = lengths
        .iter()
        .zip(&widths)
        .map(|(sold, width)| [scale.down(sold.length) - scale.up(trim), scale.down(*width)])
        .collect();
    let fits = |row: &Row| {
        let [length, width] = [row.length, row.width].map(|size| scale.up(size));
        offered.is_empty() || offered.iter().any(|[long, wide]| length <= *long && width <= *wide)
    };
    let (rows, too_large): (Vec<Row>, Vec<Row>) = rows.into_iter().partition(fits);
    let (costs, priced) = costs(scale, &lengths);
    let sheets = lengths.iter().zip(&widths).zip(costs).enumerate();
    let sheets = sheets.map(|(place, ((sold, width), cost))| Sheet {
        id: place.to_string(),
        width: scale.down(sold.length),
        height: scale.down(*width),
        count: sold.on_hand,
        cost,
        trim: Trim { left: scale.up(trim), ..Trim::default() },
        rip: Some(crate::cutting::Axis::Horizontal),
    });
    let parts = rows.iter().enumerate().map(|(place, row)| row.part(place, scale, Grain::Along));
    let job = Job {
        sheets: sheets.collect(),
        parts: parts.collect(),
        rules: rules(scale, kerf, Cuts { trim: false, across: false }),
    };
    let plan = (!board.lengths.is_empty()).then(|| {
        let made = plan(&job, effort);
        BoardPlan::Ripped(job, made)
    });
    BoardWork { stock: board.name.to_string(), width, rows, too_large, lengths, priced, scale, plan }
}

/// Pieces that are cut to length only. `section` is the width, and what each stick loses beyond the trim of its ends.
fn cut(
    model: &Model,
    name: &str,
    section: (Length, Length),
    rows: Vec<Row>,
    lengths: Vec<Sold>,
    effort: Effort,
) -> BoardWork {
    let (kerf, trim) = (kerf(model), end_trim().checked_add(section.1).unwrap_or_default());
    let sizes = rows.iter().map(|row| row.length).chain(lengths.iter().map(|sold| sold.length));
    let scale = Scale::of(sizes.chain([kerf, trim]));
    let longest = lengths.iter().map(|sold| scale.down(sold.length) - scale.up(trim)).max();
    let fits = |row: &Row| longest.is_none_or(|longest| scale.up(row.length) <= longest);
    let (rows, too_large): (Vec<Row>, Vec<Row>) = rows.into_iter().partition(fits);
    let (costs, priced) = costs(scale, &lengths);
    let bars = lengths.iter().zip(costs).enumerate().map(|(place, (sold, cost))| Bar {
        id: place.to_string(),
        length: scale.down(sold.length),
        count: sold.on_hand,
        cost,
        trim: scale.up(trim),
    });
    let pieces = rows.iter().enumerate().map(|(place, row)| BarPiece {
        id: place.to_string(),
        length: scale.up(row.length),
        demand: u64::try_from(row.count()).unwrap_or(u64::MAX),
    });
    let job = BarJob { bars: bars.collect(), pieces: pieces.collect(), kerf: scale.up(kerf) };
    let plan = (!lengths.is_empty()).then(|| {
        let made = plan_bars(&job, effort);
        BoardPlan::Cut(job, made)
    });
    BoardWork { stock: name.to_owned(), width: section.0, rows, too_large, lengths, priced, scale, plan }
}
