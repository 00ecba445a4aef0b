//! The layout that is followed: what was printed when the first of its sheets was cut stays the plan of the others, as long as it is
//! still right and nothing cheaper is there.

use super::at_hand::followed;
use super::sawn::{Sawn, is_kept};
use super::sheet::{SheetWork, Source, StockRow};
use crate::cutting::{Bound, Given, Pattern, Plan, given};
use crate::parts::{Followed, PartGraph, Piece, PieceIs, Stock};
use crate::quantity::Length;
use std::collections::BTreeMap;

/// A sheet of a plan, as `mark` notes it when the first of them is cut.
#[derive(Clone, Debug)]
pub struct PlannedSheet<'a> {
    /// Its number.
    pub number: u64,
    /// Its stock.
    pub stock: &'a StockRow,
    /// Whether it is cut across first.
    pub across: bool,
    /// Its first cuts, each with its pieces.
    pub rips: Vec<Vec<Piece>>,
    /// Width and length of what is left of it and worth keeping.
    pub left: Vec<[Length; 2]>,
}

/// The parts of a sheet, each at its row.
type Named = Vec<(usize, String)>;

impl SheetWork {
    /// Takes the sheets that are followed and not cut for the plan, where they are just what is left to cut and cost no more.
    /// Whether it does.
    pub(super) fn follow(&mut self, graph: &PartGraph) -> bool {
        let followed = self.followed(graph);
        let does = followed.is_some();
        followed.into_iter().for_each(|followed| *self = followed);
        does
    }

    /// The work as it was begun.
    fn followed(&mut self, graph: &PartGraph) -> Option<Self> {
        let sheet = graph.sheet(self.sheet)?;
        let own: Vec<&Followed> = followed(graph, sheet).collect();
        let begun = own.iter().filter(|followed| graph.is_begun(followed));
        self.numbered_from = begun.map(|followed| followed.number).max().unwrap_or(0);
        let left: Vec<&Followed> = own.iter().copied().filter(|followed| !graph.is_done(followed)).collect();
        let plan = self.plan.as_ref().ok().filter(|_| !left.is_empty())?;
        let mut followed = self.clone();
        let (sheets, names): (Vec<Given>, Vec<Named>) = followed.sheets_of(graph, &left)?.into_iter().unzip();
        // A sheet that is begun could at best take the place of a whole one.
        let begun = left.iter().filter(|sheet| graph.is_begun(sheet)).count();
        let most = self.job.sheets.iter().map(|sheet| sheet.cost).max().unwrap_or(0);
        let saved = most.saturating_mul(i64::try_from(begun).unwrap_or(i64::MAX));
        let bound = Bound { cost: plan.bound.cost.saturating_sub(saved).max(0), ..plan.bound };
        let (kept, of) = given(&followed.job, &sheets, bound)?;
        if kept.cost > plan.cost {
            return None;
        }
        // Who gets which of equal parts stays too: they are dealt in this order.
        for row in &mut followed.rows {
            row.names.clear();
        }
        for (row, name) in of.iter().flatten().filter_map(|place| names.get(*place)).flatten() {
            followed.rows.get_mut(*row)?.names.push(name.clone());
        }
        let numbers = |places: Vec<usize>| {
            places.into_iter().filter_map(|place| left.get(place)).map(|sheet| sheet.number).collect()
        };
        followed.numbers = of.into_iter().map(numbers).collect();
        followed.last = own.iter().map(|sheet| sheet.number).max();
        followed.plan = Ok(kept);
        Some(followed)
    }

    /// What is left of the sheets that are followed, as sheets of this job, to which those that are begun come as stock.
    fn sheets_of(&mut self, graph: &PartGraph, left: &[&Followed]) -> Option<Vec<(Given, Named)>> {
        let mut taken: BTreeMap<usize, u64> = BTreeMap::new();
        let mut spares: Vec<usize> = self.rows.iter().map(|row| row.spares).collect();
        let mut sheets = Vec::new();
        for followed in left {
            let place = if graph.is_begun(followed) {
                // It was taken off what is there when the first piece was cut from it.
                let like = self.stock_of(followed).next()?;
                self.begun(like)?
            } else {
                let is_free = |place: &usize| {
                    let count = self.job.sheets.get(*place).and_then(|sheet| sheet.count);
                    count.is_none_or(|count| taken.get(place).copied().unwrap_or(0) < count)
                };
                let place = self.stock_of(followed).find(is_free)?;
                *taken.entry(place).or_default() += 1;
                place
            };
            let along = self.job.sheets.get(place)?.rip_axis();
            let first = if followed.across { along.other() } else { along };
            let (mut rips, mut names) = (Vec::new(), Vec::new());
            for rip in &followed.rips {
                let pieces = self.pieces_of(graph, rip, &mut spares)?;
                let own = pieces.iter().filter_map(|(row, _, name)| Some((*row, name.clone()?)));
                names.extend(own);
                rips.push(pieces.into_iter().map(|(row, turned, _)| (row, turned)).collect::<Vec<_>>());
            }
            rips.retain(|rip| !rip.is_empty());
            sheets.push((Given { sheet: place, first, rips }, names));
        }
        Some(sheets)
    }

    /// What is still to be cut of a rip: the row of each piece, whether it lies turned, and the part that it is for. `None` where a
    /// piece is none of this work any more.
    fn pieces_of(
        &self,
        graph: &PartGraph,
        rip: &[Piece],
        spares: &mut [usize],
    ) -> Option<Vec<(usize, bool, Option<String>)>> {
        let mut pieces = Vec::new();
        for piece in rip.iter().filter(|piece| !graph.is_cut(piece)) {
            let part = graph.part(graph.named(&piece.path)?)?;
            let is_part = piece.is == PieceIs::Part;
            if part.stock != Stock::Sheet(self.sheet) || (is_part && !graph.is_to_cut(part)) {
                return None;
            }
            let cut = part.cut();
            let size = (cut.length.value, cut.width.value, part.role.word());
            let row = self.rows.iter().position(|row| (row.length, row.width, row.what) == size);
            if !is_part {
                // What a sheet holds of spares beyond those that are wanted is not cut.
                let wanted = row.and_then(|row| spares.get_mut(row)).filter(|left| **left > 0);
                let Some(wanted) = wanted else { continue };
                *wanted -= 1;
            }
            pieces.push((row?, piece.turned, is_part.then(|| part.path.clone())));
        }
        Some(pieces)
    }

    /// The places of the stock that a sheet can be cut from: the offcut of that name; else whole sheets of that size, those that
    /// are there before those that are bought.
    fn stock_of<'a>(&'a self, sheet: &'a Followed) -> impl Iterator<Item = usize> + 'a {
        let [length, width] = sheet.size;
        let is_size = move |size: (Length, Length)| size == (length, width) || size == (width, length);
        let rows = self.stock.iter().enumerate().filter(move |(_, row)| {
            is_size(row.size)
                && match &sheet.offcut {
                    Some(name) => row.source == Source::Offcut && *row.name == **name,
                    None => matches!(row.source, Source::OnHand | Source::Bought),
                }
        });
        rows.map(|(place, _)| place)
    }

    /// Adds a sheet like this one, of which something was cut already.
    fn begun(&mut self, like: usize) -> Option<usize> {
        let (row, sheet) = (self.stock.get(like)?.clone(), self.job.sheets.get(like)?.clone());
        let place = self.job.sheets.len();
        let id = format!("begun {place}");
        self.job.sheets.push(crate::cutting::Sheet { id, count: Some(1), cost: 0, ..sheet });
        self.stock.push(StockRow {
            name: format!("{}, begun", row.name),
            source: Source::Begun,
            price: None,
            ..row
        });
        Some(place)
    }

    /// Whether the plan is one that was begun.
    #[must_use]
    pub fn is_followed(&self) -> bool {
        self.last.is_some()
    }

    /// The numbers of the sheets that are cut by a pattern of the plan.
    #[must_use]
    pub fn numbers(&self, pattern: usize) -> Vec<u64> {
        if let Some(numbers) = self.numbers.get(pattern) {
            return numbers.clone();
        }
        let counts = |plan: &Plan| plan.patterns.iter().map(|own| own.count).collect::<Vec<_>>();
        let counts = self.plan.as_ref().map(counts).unwrap_or_default();
        let before: u64 = counts.iter().take(pattern).sum();
        let count = counts.get(pattern).copied().unwrap_or(0);
        (1..=count).map(|number| self.numbered_from + before + number).collect()
    }

    /// The number of the last sheet, those that are cut counted with the others.
    #[must_use]
    pub fn last(&self) -> u64 {
        let sheets = self.plan.as_ref().map_or(0, |plan| plan.sheets);
        self.last.unwrap_or(self.numbered_from + sheets)
    }

    /// What is left of a sheet that is cut by a pattern, along its length and across it, in units of the job; nothing of one that
    /// is begun, of which the plan knows only what is still to come.
    #[must_use]
    pub fn left_of(&self, pattern: &Pattern) -> Vec<(i64, i64)> {
        let (stock, sheet) = (self.stock.get(pattern.sheet), self.job.sheets.get(pattern.sheet));
        let whole = stock.zip(sheet).filter(|(stock, _)| stock.source != Source::Begun);
        whole.map(|(_, sheet)| Sawn::of(sheet, pattern, self.job.rules.kerf).left).unwrap_or_default()
    }

    /// The sheets of the plan one by one, in the order of their numbers, with the part that every piece is for.
    #[must_use]
    pub fn one_by_one(&self) -> Vec<PlannedSheet<'_>> {
        let Ok(plan) = &self.plan else { return Vec::new() };
        let mut taken = vec![0_usize; self.rows.len()];
        let mut sheets = Vec::new();
        for (place, pattern) in plan.patterns.iter().enumerate() {
            for number in self.numbers(place) {
                let mut piece = |part: usize, turned: bool| {
                    let row = self.rows.get(part)?;
                    let taken = taken.get_mut(part)?;
                    *taken += 1;
                    let name = row.names.get(*taken - 1);
                    let is = if name.is_some() { PieceIs::Part } else { PieceIs::Spare };
                    Some(Piece { path: name.or(row.names.first())?.clone(), is, turned })
                };
                let rips = pattern.rips.iter().map(|rip| {
                    let parts = rip.crosscuts.iter().flat_map(|cut| &cut.parts);
                    parts.filter_map(|part| piece(part.part, part.rotated)).collect()
                });
                let rips = rips.collect();
                let Some(stock) = self.stock.get(pattern.sheet) else { continue };
                let left = self.left_of(pattern).into_iter();
                let left = left.map(|(along, across)| [across, along].map(|units| self.scale.length(units)));
                let left = left.filter(|size| is_kept(*size)).collect();
                let across = !self.is_ripped(pattern);
                sheets.push(PlannedSheet { number, stock, across, rips, left });
            }
        }
        sheets.sort_by_key(|sheet| sheet.number);
        sheets
    }
}
