//! Sheets: one job for each sheet good and lot.

use super::near::{NearMiss, Saving, near_misses, savings};
use super::vehicle::{Ride, ride};
use super::{Equal, Row, Scale, add, at_hand, cents, cuts_words, kerf, problem, rules};
use crate::cutting::{
    Axis, Bound, Effort, Error, First, Grain, Job, Part, Pattern, Plainly, Plan, Rules, Sheet, Trim,
    plan_plainly, plan_within,
};
use crate::eval::{self, Len, Model, SheetId, Vehicle};
use crate::parts::{PartGraph, Role, Stock};
use crate::quantity::{Length, Rational, some};
use num_traits::{CheckedAdd, CheckedMul};
use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// Where stock comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// It is bought.
    Bought,
    /// Whole sheets that are there already.
    OnHand,
    /// What was left of others.
    Offcut,
    /// A sheet from which something was cut already.
    Begun,
}

/// One size of stock, at the place of the job's sheet.
#[derive(Clone, Debug)]
pub struct StockRow {
    /// Its name: that of the sheet, of the size it is sold in, or of the offcut.
    pub name: String,
    /// Length and width as sold, or of the offcut.
    pub size: (Length, Length),
    /// Where it comes from.
    pub source: Source,
    /// What one costs.
    pub price: Option<Rational>,
}

/// The work on one sheet good or lot.
#[derive(Clone, Debug)]
pub struct SheetWork {
    /// The sheet good or lot.
    pub sheet: SheetId,
    /// Its parts, at the places of the job's parts.
    pub rows: Vec<Row>,
    /// Its stock, at the places of the job's sheets.
    pub stock: Vec<StockRow>,
    /// What was asked.
    pub job: Job,
    /// The unit of the job.
    pub scale: Scale,
    /// The plan, or why there is none.
    pub plan: Result<Plan, Error>,
    /// What rips and crosscuts alone would come to, where more kinds of cuts cost less.
    pub plainer: Option<Plan>,
    /// The numbers of the sheets of each pattern, where they are those of a layout that is followed.
    pub(super) numbers: Vec<Vec<u64>>,
    /// The last number of that layout.
    pub(super) last: Option<u64>,
    /// The last number of those that were cut before.
    pub(super) numbered_from: u64,
    /// Small changes of stated sizes that would save money, once somebody asked by the way.
    savings: OnceLock<Vec<Saving>>,
    /// All of them, once somebody asked for those.
    near: OnceLock<Vec<NearMiss>>,
    /// Whether the cost that the plan keeps low is money; else it is sheets, or their area.
    pub priced: bool,
}

/// Room for spare shelves on what is left over.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SpareRoom {
    /// At the ends of rips that are as wide as a shelf.
    pub in_rips: usize,
    /// In rips more, beside the last one.
    pub beside: usize,
}

/// The work on every sheet good that parts are cut from, in the order of their names.
///
/// A sheet whose size is not stated gives a work whose plan says that there is no stock.
#[must_use]
pub fn sheet_works(model: &Model, graph: &PartGraph, effort: Effort) -> Vec<SheetWork> {
    let mut works = works(model, graph, |job| plan_plainly(job, effort));
    for work in &mut works {
        if !work.follow(graph)
            && let Some(vehicle) = model.shop.vehicle
        {
            work.carry(vehicle, effort);
        }
    }
    works
}

/// The same with plans from somewhere else.
pub(super) fn works(
    model: &Model,
    graph: &PartGraph,
    planned: impl Fn(&Job) -> Result<Plainly, Error>,
) -> Vec<SheetWork> {
    let mut by_sheet: BTreeMap<SheetId, Equal> = BTreeMap::new();
    for part in graph.parts.iter().filter(|part| graph.is_to_cut(part)) {
        let Stock::Sheet(id) = part.stock else { continue };
        let cut = part.cut();
        let size = [cut.length.value, cut.width.value];
        add(by_sheet.entry(id).or_default(), model, part, size, size);
    }
    let works = by_sheet.into_iter().filter_map(|(id, mut rows)| {
        let sheet = graph.sheet(id)?;
        // A spare that came from a sheet of the layout is there.
        for part in at_hand::spares(graph, sheet) {
            let (length, width) = (part.cut().length.value, part.cut().width.value);
            let row = rows.get_mut(&(Reverse(length), Reverse(width), part.role.word()));
            row.into_iter().for_each(|row| row.spares = row.spares.saturating_sub(1));
        }
        let sheet = at_hand::sheet(model, graph, (id, sheet));
        Some(SheetWork::new(model, (id, &sheet), rows.into_values().collect(), &planned))
    });
    works.collect()
}

/// What is asked for some rows of a sheet good.
pub(super) struct Asked {
    stock: Vec<StockRow>,
    /// The job.
    pub(super) job: Job,
    scale: Scale,
    priced: bool,
}

impl SheetWork {
    pub(super) fn new(
        model: &Model,
        (id, sheet): (SheetId, &eval::Sheet),
        rows: Vec<Row>,
        planned: impl Fn(&Job) -> Result<Plainly, Error>,
    ) -> Self {
        let Asked { stock, job, scale, priced } = Self::asked(model, sheet, &rows);
        let (plan, plainer) = match planned(&job) {
            Ok(Plainly { plan, plainer }) => (Ok(plan), plainer.map(|plan| *plan)),
            Err(error) => (Err(error), None),
        };
        Self {
            sheet: id,
            rows,
            stock,
            job,
            scale,
            plan,
            plainer,
            numbers: Vec::new(),
            last: None,
            numbered_from: 0,
            savings: OnceLock::new(),
            near: OnceLock::new(),
            priced,
        }
    }

    /// The job of some rows of a sheet good.
    pub(super) fn asked(model: &Model, sheet: &eval::Sheet, rows: &[Row]) -> Asked {
        let (kerf, skim) = (kerf(model), sheet.skim.map_or(Length::ZERO, |skim| skim.value));
        let tolerance = sheet.tolerance.map_or(Length::ZERO, |tolerance| tolerance.value);
        let least = |len: Len| len.value.checked_sub(tolerance).unwrap_or_default();
        let mut stock: Vec<(StockRow, (Length, Length), Option<usize>)> = Vec::new();
        let mut add = |name: &str, size: (Len, Len), source, price, count: Option<usize>| {
            let whole = (size.0.value, size.1.value);
            let offers = if source == Source::Offcut { whole } else { (least(size.0), least(size.1)) };
            stock.push((StockRow { name: name.to_owned(), size: whole, source, price }, offers, count));
        };
        for offcut in sheet.offcuts.iter().filter(|offcut| offcut.count > 0) {
            add(&offcut.name, offcut.size, Source::Offcut, None, Some(offcut.count));
        }
        // Whole sheets that are there are of its size, or of the largest that is sold.
        let by_area = |sold: &&eval::Sold| area((sold.size.0.value, sold.size.1.value));
        let largest = sheet.sold.iter().max_by_key(by_area).map(|sold| sold.size);
        if let Some(size) = sheet.size.or(largest).filter(|_| sheet.on_hand > 0) {
            add(&format!("{} on hand", sheet.name), size, Source::OnHand, None, Some(sheet.on_hand));
        }
        if let Some(size) = sheet.size {
            add(&sheet.name, size, Source::Bought, sheet.price, sheet.count);
        }
        for sold in &sheet.sold {
            add(&sold.name, sold.size, Source::Bought, sold.price, None);
        }
        let lengths = stock.iter().flat_map(|(_, offers, _)| [offers.0, offers.1]);
        let parts = rows.iter().flat_map(|row| [row.length, row.width]);
        let scale = Scale::of(lengths.chain(parts).chain([kerf, skim]));
        let bought: Vec<&StockRow> =
            stock.iter().map(|(row, ..)| row).filter(|row| row.source == Source::Bought).collect();
        let priced = bought.len() > 1
            && bought.iter().all(|row| row.price.is_some_and(|price| price > Rational::from(0)));
        let cost = |row: &StockRow| match (row.source, bought.len()) {
            (Source::OnHand | Source::Offcut | Source::Begun, _) => 0,
            (Source::Bought, 1) => 1,
            (Source::Bought, _) if priced => row.price.map_or(1, cents),
            (Source::Bought, _) => area(row.size),
        };
        let sheets = stock.iter().map(|(row, offers, count)| Sheet {
            id: format!("{:?} {}", row.source, row.name),
            width: scale.down(offers.0),
            height: scale.down(offers.1),
            count: count.map(|count| u64::try_from(count).unwrap_or(u64::MAX)),
            cost: cost(row),
            trim: if row.source == Source::Offcut {
                Trim::default()
            } else {
                Trim { left: scale.up(skim), bottom: scale.up(skim), ..Trim::default() }
            },
            rip: None,
        });
        let sheets: Vec<Sheet> = sheets.collect();
        let grain = if sheet.grain { Grain::Along } else { Grain::Free };
        let parts = rows.iter().enumerate();
        let parts = parts.map(|(place, row)| Part { group: row.group(), ..row.part(place, scale, grain) });
        let job = Job { sheets, parts: parts.collect(), rules: rules(scale, kerf, model.shop.cuts) };
        let stock = stock.into_iter().map(|(row, ..)| row).collect();
        Asked { stock, job, scale, priced }
    }

    /// Where no cut between rips gets the sheets into the vehicle, cuts them across first, if the saw does that, it costs no more and
    /// gets them in.
    fn carry(&mut self, vehicle: Vehicle, effort: Effort) {
        let Ok(plan) = &self.plan else { return };
        let stays = |plan: &Plan| {
            let mut bought = plan.patterns.iter().filter(|pattern| self.is_bought(pattern));
            bought.any(|pattern| ride(self, pattern, vehicle) == Ride::Not)
        };
        let Some(sheet) = self.job.sheets.last() else { return };
        if self.job.rules.first != First::Any || !stays(plan) {
            return;
        }
        let rules = Rules { first: First::Only(sheet.rip_axis().other()), ..self.job.rules };
        let across = plan_plainly(&Job { rules, ..self.job.clone() }, effort);
        if let Ok(across) = across
            && across.plan.cost <= plan.cost
            && !stays(&across.plan)
        {
            self.plan = Ok(Plan { bound: plan.bound, ..across.plan });
        }
    }

    /// Small changes of stated sizes that would save money, of a few that promise most, the largest saving first. Only where the plan
    /// is proven: then no other effort gives one by which they save nothing.
    pub fn savings(&self, of: (&Model, &PartGraph)) -> &[Saving] {
        let Some(plan) = self.plan.as_ref().ok().filter(|plan| plan.proven()) else { return &[] };
        self.savings.get_or_init(|| savings(of, self, plan, Effort::Quick))
    }

    /// All small changes of stated sizes that would save money, those of [`Self::savings`] among them, planned with this effort,
    /// the largest saving first.
    pub fn near_misses(&self, of: (&Model, &PartGraph), effort: Effort) -> &[NearMiss] {
        let Ok(plan) = &self.plan else { return &[] };
        self.near.get_or_init(|| near_misses(of, self, plan, effort))
    }

    /// The cheapest plan for less than `limit` of the same work without some of its rows, as far as little effort finds it.
    pub(super) fn without(&self, leave: impl Fn(&Row) -> bool, limit: i64) -> Option<Plan> {
        let kept = self.job.parts.iter().zip(&self.rows).filter(|(_, row)| !leave(row));
        let job = Job { parts: kept.map(|(part, _)| part.clone()).collect(), ..self.job.clone() };
        let mut best = plan_within(&job, limit.checked_sub(1)?, Effort::Quick)?;
        while let Some(less) =
            best.cost.checked_sub(1).and_then(|most| plan_within(&job, most, Effort::Quick))
        {
            best = less;
        }
        Some(best)
    }

    /// The same work with so many more of every shelf.
    ///
    /// # Errors
    /// As [`plan_plainly`].
    pub fn with_spares(&self, spares: u64, effort: Effort) -> Result<Plan, Error> {
        let mut job = self.job.clone();
        for (part, _) in job.parts.iter_mut().zip(&self.rows).filter(|(_, row)| row.role == Some(Role::Shelf))
        {
            part.demand = part.demand.saturating_add(spares);
        }
        plan_plainly(&job, effort).map(|plainly| plainly.plan)
    }

    /// How many sheets of a plan are bought.
    #[must_use]
    pub fn bought(&self, plan: &Plan) -> u64 {
        plan.patterns.iter().filter(|pattern| self.is_bought(pattern)).map(|pattern| pattern.count).sum()
    }

    /// What the bought sheets of a plan cost; `None` where a price is not stated.
    #[must_use]
    pub fn money(&self, plan: &Plan) -> Option<Rational> {
        let mut counts: BTreeMap<usize, u64> = BTreeMap::new();
        for pattern in plan.patterns.iter().filter(|pattern| self.is_bought(pattern)) {
            *counts.entry(pattern.sheet).or_default() += pattern.count;
        }
        counts.into_iter().try_fold(Rational::from(0), |sum, (sheet, count)| {
            let price = self.stock.get(sheet)?.price?;
            let row = price.checked_mul(&Rational::from(i128::from(count)))?;
            sum.checked_add(&eval::whole_cents(row)?)
        })
    }

    /// How many whole sheets are there.
    pub(super) fn on_hand(&self) -> usize {
        let own = self.stock.iter().zip(&self.job.sheets).filter(|(row, _)| row.source == Source::OnHand);
        own.filter_map(|(_, sheet)| usize::try_from(sheet.count?).ok()).sum()
    }

    fn is_bought(&self, pattern: &Pattern) -> bool {
        self.stock.get(pattern.sheet).is_some_and(|row| row.source == Source::Bought)
    }

    /// Whether the first cuts of a pattern are rips, as against cuts across the sheet.
    #[must_use]
    pub fn is_ripped(&self, pattern: &Pattern) -> bool {
        self.job.sheets.get(pattern.sheet).is_none_or(|sheet| pattern.first == sheet.rip_axis())
    }

    /// Whether every bought sheet counts as one, so that the bound is a number of sheets.
    #[must_use]
    pub fn counts_sheets(&self) -> bool {
        self.stock.iter().filter(|row| row.source == Source::Bought).count() == 1
    }

    /// The bought sheet that is used over the least of its width: what is used of it, and what a sheet offers.
    #[must_use]
    pub fn least_used(&self, plan: &Plan) -> Option<(Length, Length)> {
        let bought = plan.patterns.iter().filter(|pattern| self.is_bought(pattern));
        let used = bought.filter_map(|pattern| {
            let sheet = self.job.sheets.get(pattern.sheet)?;
            Some((self.used(pattern), sheet.reach(pattern.first).1))
        });
        let share = |a: &(i64, i64), b: &(i64, i64)| {
            (i128::from(a.0) * i128::from(b.1)).cmp(&(i128::from(b.0) * i128::from(a.1)))
        };
        let (used, across) = used.min_by(share)?;
        Some((self.scale.length(used), self.scale.length(across)))
    }

    /// What the rips of a pattern take across the sheet, with the kerfs between them.
    fn used(&self, pattern: &Pattern) -> i64 {
        let rips: i64 = pattern.rips.iter().map(|rip| rip.width).sum();
        rips + self.job.rules.kerf * i64::try_from(pattern.rips.len().saturating_sub(1)).unwrap_or(0)
    }

    /// What is left across the sheet after the last rip.
    #[must_use]
    pub fn rest_across(&self, pattern: &Pattern) -> i64 {
        let Some(sheet) = self.job.sheets.get(pattern.sheet) else { return 0 };
        let (_, across) = sheet.reach(pattern.first);
        let kerf = if pattern.rips.is_empty() { 0 } else { self.job.rules.kerf };
        (across - self.used(pattern) - kerf).max(0)
    }

    /// How many spare shelves of a row find room on what the plan leaves over.
    #[must_use]
    pub fn spare_room(&self, plan: &Plan, row: usize) -> SpareRoom {
        let Some(part) = self.job.parts.get(row) else { return SpareRoom::default() };
        let kerf = self.job.rules.kerf;
        let fit = |room: i64, size: i64| (room + kerf).checked_div(size + kerf).unwrap_or(0).max(0);
        let (mut in_rips, mut beside) = (0, 0);
        let whole =
            |pattern: &&Pattern| self.stock.get(pattern.sheet).is_some_and(|row| row.source != Source::Begun);
        for pattern in plan.patterns.iter().filter(whole) {
            let Some(sheet) = self.job.sheets.get(pattern.sheet) else { continue };
            let (along, _) = sheet.reach(pattern.first);
            let given = match pattern.first {
                Axis::Horizontal => (part.width, part.height),
                Axis::Vertical => (part.height, part.width),
            };
            let turned = (given.1, given.0);
            let ways =
                if part.grain == Grain::Free && given != turned { vec![given, turned] } else { vec![given] };
            let count = i64::try_from(pattern.count).unwrap_or(i64::MAX);
            for rip in &pattern.rips {
                for (long, _) in ways.iter().filter(|(_, wide)| *wide == rip.width) {
                    in_rips += fit(rip.rest(along, kerf), *long) * count;
                }
            }
            let rest = self.rest_across(pattern);
            let more = ways.iter().map(|(long, wide)| fit(rest, *wide) * fit(along, *long)).max();
            beside += more.unwrap_or(0) * count;
        }
        let whole = |count: i64| usize::try_from(count).unwrap_or(0);
        SpareRoom { in_rips: whole(in_rips), beside: whole(beside) }
    }

    /// Why there is no plan, with what helps.
    #[must_use]
    pub fn problem(&self, sheet: &eval::Sheet, error: &Error) -> String {
        match error {
            Error::NoStock => {
                format!("state the `size` of the sheet `{}`, so that its parts can be laid out", sheet.name)
            }
            Error::StockShort { missing, wanted } => {
                format!("there are too few sheets: {missing} of {wanted} parts find no place")
            }
            error => problem(&self.rows, error, "is larger than every sheet offers"),
        }
    }

    /// How good the plan is, in words.
    #[must_use]
    pub fn proof(&self, model: &Model, plan: &Plan) -> String {
        let bought = self.bought(plan);
        let sheets = |count: u64| some(count, "sheet");
        let cuts = cuts_words(self.job.rules);
        let Bound { cost, .. } = plan.bound;
        if bought == 0 {
            return "nothing to buy: what is on hand does".to_owned();
        }
        if self.counts_sheets() {
            return match (plan.proven(), bought) {
                (true, 1) => "1 sheet".to_owned(),
                (true, _) => {
                    format!("{}; no layout of {cuts} does it in {}", sheets(bought), bought - 1)
                }
                (false, _) => {
                    format!("{}; by {} at least {cost}", sheets(bought), cuts.trim_end_matches(','))
                }
            };
        }
        let least = model.project.money(Rational::new(i128::from(cost), 100));
        match (plan.proven(), self.priced) {
            (true, true) => format!("{}; no layout of {cuts} costs less", sheets(bought)),
            (false, true) => {
                format!("{}; by {} at least {least}", sheets(bought), cuts.trim_end_matches(','))
            }
            (true, false) => {
                format!("{}; no layout of {cuts} takes less area of them", sheets(bought))
            }
            (false, false) => format!("{}; not proven to be the least", sheets(bought)),
        }
    }
}

/// The area of a sheet in square millimetres: what is kept low where prices are not known.
fn area(size: (Length, Length)) -> i64 {
    let area = size.0.mm().checked_mul(&size.1.mm()).map(|area| area.round().to_integer());
    area.and_then(|area| i64::try_from(area).ok()).unwrap_or(i64::MAX)
}
