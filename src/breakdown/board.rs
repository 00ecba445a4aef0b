//! Boards and sticks: solid stock by the lengths in which it is sold.

use super::{Equal, Row, Scale, kerf, price};
use crate::cutting::{
    Bar, BarJob, BarPlan, Effort, Error, Grain, Job, Part, Piece, Plan, Rules, Sheet, Trim, plan, plan_bars,
};
use crate::eval::{Board, Model};
use crate::parts::{PartGraph, Role, Stock};
use crate::quantity::{Length, Rational};
use std::cmp::Reverse;
use std::collections::BTreeMap;

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
    /// Its lengths as sold and what one costs, at the places of the job's stock; those on hand last.
    pub lengths: Vec<(Length, Option<Rational>, bool)>,
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

    /// Why there is no plan.
    #[must_use]
    pub fn error(&self) -> Option<&Error> {
        match self.plan.as_ref()? {
            BoardPlan::Ripped(_, plan) => plan.as_ref().err(),
            BoardPlan::Cut(_, plan) => plan.as_ref().err(),
        }
    }
}

/// The work on every board that parts are cut from; where boards are bought as wide as the parts, one for each width.
#[must_use]
pub fn board_works(model: &Model, graph: &PartGraph, effort: Effort) -> Vec<BoardWork> {
    let mut by_board: BTreeMap<usize, Equal> = BTreeMap::new();
    for part in &graph.parts {
        let Stock::Board(board) = part.stock else { continue };
        let cut = part.cut();
        let (length, width, what) = (cut.length.value, cut.width.value, part.role.word());
        let spares = if part.role == Role::Strip { model.project.spares } else { 0 };
        let row = by_board.entry(board).or_default().entry((Reverse(width), Reverse(length), what));
        row.or_insert_with(|| Row { what, length, width, names: Vec::new(), spares })
            .names
            .push(part.path.clone());
    }
    let mut works = Vec::new();
    for (index, rows) in by_board {
        let Some(board) = graph.boards.get(index) else { continue };
        let rows: Vec<Row> = rows.into_values().collect();
        match board.width {
            Some(width) => works.push(ripped(model, board, width.value, rows, effort)),
            None => {
                let mut widths: Vec<Length> = rows.iter().map(|row| row.width).collect();
                widths.dedup();
                for width in widths {
                    let own = rows.iter().filter(|row| row.width == width).cloned().collect();
                    let lengths = sold(model, board, width);
                    works.push(cut(model, board.name.as_ref(), (width, Length::ZERO), own, lengths, effort));
                }
            }
        }
    }
    works
}

/// The work on the moulding of every run: pieces at their long edge, 1/2 in and one kerf for each (common practice, no
/// source).
#[must_use]
pub fn stick_works(model: &Model, graph: &PartGraph, effort: Effort) -> Vec<BoardWork> {
    let mut by_moulding: BTreeMap<&str, (Vec<Row>, &crate::eval::Moulding)> = BTreeMap::new();
    for run in &graph.runs {
        let Some(crown) = &run.crown else { continue };
        let stated = model.runs.iter().find(|stated| *stated.name == *run.path);
        let Some(moulding) = stated.and_then(|stated| stated.crown.as_ref()) else { continue };
        let (rows, _) = by_moulding.entry(&moulding.name).or_insert_with(|| (Vec::new(), moulding));
        for piece in &crown.pieces {
            // The long edge is an estimate: bought for its next whole thousandth of a millimetre, cut by fitting.
            let Some(length) = piece.top.nearest().and_then(|top| top.length()) else { continue };
            let thousandth = Length::from_mm(Rational::new(1, 1000));
            let length = length.rounded_to(thousandth, crate::quantity::Round::Up).unwrap_or(length);
            let names = vec![format!("{}.crown.{}", run.path, piece.name)];
            rows.push(Row { what: piece.name, length, width: crown.width.value, names, spares: 0 });
        }
    }
    let works = by_moulding.into_iter().map(|(name, (mut rows, moulding))| {
        rows.sort_by_key(|row| Reverse(row.length));
        let lengths = moulding.lengths.iter().map(|length| {
            let price = moulding.price.and_then(|price| length.value.checked_mul(price)).map(Length::mm);
            (length.value, price, None)
        });
        let last_kerf = kerf(model);
        cut(model, name, (moulding.width.value, last_kerf), rows, lengths.collect(), effort)
    });
    works.collect()
}

/// A length as sold: its price, and how many there are.
type Sold = (Length, Option<Rational>, Option<u64>);

fn sold(model: &Model, board: &Board, width: Length) -> Vec<Sold> {
    let lengths = board
        .lengths
        .iter()
        .map(|length| (length.value, price::board(model, board, length.value, width), None));
    lengths.collect()
}

/// What one costs in the plan: money where all prices are known, else length.
fn costs(scale: Scale, lengths: &[Sold]) -> Vec<i64> {
    let all = lengths.iter().all(|(_, price, count)| price.is_some() || count.is_some());
    let cost = |(length, price, count): &Sold| match (count, price.and_then(super::cents)) {
        (Some(_), _) => 0,
        (None, Some(cents)) if all => cents.max(1),
        (None, _) => scale.down(*length).max(1),
    };
    lengths.iter().map(cost).collect()
}

fn ripped(model: &Model, board: &Board, width: Length, rows: Vec<Row>, effort: Effort) -> BoardWork {
    let (kerf, trim) = (kerf(model), end_trim());
    let mut lengths = sold(model, board, width);
    let mut widths = vec![width; lengths.len()];
    for offcut in &board.offcuts {
        lengths.push((offcut.size.0.value, None, u64::try_from(offcut.count).ok()));
        widths.push(offcut.size.1.value);
    }
    let sizes = rows.iter().flat_map(|row| [row.length, row.width]);
    let stock = lengths.iter().map(|(length, ..)| *length).chain(widths.iter().copied());
    let scale = Scale::of(sizes.chain(stock).chain([kerf, trim]));
    let sheets = lengths.iter().zip(&widths).zip(costs(scale, &lengths)).enumerate();
    let sheets = sheets.map(|(place, (((length, _, count), width), cost))| Sheet {
        id: place.to_string(),
        width: scale.down(*length),
        height: scale.down(*width),
        count: *count,
        cost,
        trim: Trim { left: scale.up(trim), ..Trim::default() },
        rip: Some(crate::cutting::Axis::Horizontal),
    });
    let parts = rows.iter().enumerate().map(|(place, row)| Part {
        id: place.to_string(),
        width: scale.up(row.length),
        height: scale.up(row.width),
        demand: u64::try_from(row.count()).unwrap_or(u64::MAX),
        grain: Grain::Along,
        group: None,
    });
    let rules = Rules { trimming: false, ..Rules::rip_first(scale.up(kerf)) };
    let job = Job { sheets: sheets.collect(), parts: parts.collect(), rules };
    let plan = (!board.lengths.is_empty()).then(|| {
        let made = plan(&job, effort);
        BoardPlan::Ripped(job, made)
    });
    let lengths =
        lengths.into_iter().map(|(length, price, count)| (length, price, count.is_some())).collect();
    BoardWork { stock: board.name.to_string(), width, rows, lengths, scale, plan }
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
    let sizes = rows.iter().map(|row| row.length).chain(lengths.iter().map(|(length, ..)| *length));
    let scale = Scale::of(sizes.chain([kerf, trim]));
    let bars =
        lengths.iter().zip(costs(scale, &lengths)).enumerate().map(|(place, ((length, _, count), cost))| {
            Bar {
                id: place.to_string(),
                length: scale.down(*length),
                count: *count,
                cost,
                trim: scale.up(trim),
            }
        });
    let pieces = rows.iter().enumerate().map(|(place, row)| Piece {
        id: place.to_string(),
        length: scale.up(row.length),
        demand: u64::try_from(row.count()).unwrap_or(u64::MAX),
    });
    let job = BarJob { bars: bars.collect(), pieces: pieces.collect(), kerf: scale.up(kerf) };
    let plan = (!lengths.is_empty()).then(|| {
        let made = plan_bars(&job, effort);
        BoardPlan::Cut(job, made)
    });
    let lengths =
        lengths.into_iter().map(|(length, price, count)| (length, price, count.is_some())).collect();
    BoardWork { stock: name.to_owned(), width: section.0, rows, lengths, scale, plan }
}
