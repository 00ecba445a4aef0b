//! Near misses: a small change of one stated size that saves money for sheets, found by the bound of the changed job and proven by
//! planning it.

use super::sheet::SheetWork;
use super::{Equal, Row, add};
use crate::cutting::{Effort, Job, Plan, least, plan_plainly};
use crate::eval::{Follows, Len, Model, Place};
use crate::parts::{Part, PartGraph, Stock};
use crate::quantity::{Length, Rational, Round, some};
use num_traits::{CheckedSub, Zero};
use std::collections::{BTreeMap, BTreeSet};

/// A small change of one stated size that saves money for sheets.
#[derive(Clone, Debug)]
pub struct NearMiss {
    /// What the size is called.
    pub what: String,
    /// The size as it is stated.
    pub from: Len,
    /// What it would be.
    pub to: Length,
    /// How many sheets are bought then.
    pub sheets: u64,
    /// How many are bought now.
    pub before: u64,
    /// What the sheets cost less, where prices are stated.
    pub saved: Option<Rational>,
    /// Settings sheet by sheet then.
    pub moves: u64,
    /// Settings sheet by sheet now.
    pub moves_before: u64,
}

/// Nothing is tried for more sizes of parts than this: it would take longer than the layout itself.
const SIZES: usize = 60;

/// So many stated sizes are tried, those that promise most.
const TRIED: usize = 3;

/// The most that is a small change: 1/4 in or 6 mm (common practice, no source).
fn small(model: &Model) -> Length {
    model.project.marks.system().length((1, 4), (6, 1))
}

/// How the cut sizes of the parts of a stock follow from stated sizes.
struct Following<'a> {
    part: &'a Part,
    /// By the place where it is stated: how far length and width follow it.
    by: BTreeMap<Place, [Rational; 2]>,
}

/// The small changes of stated sizes that save most on a work that is planned, each as small as it can be; the largest saving first.
pub(super) fn near_misses(
    (model, graph): (&Model, &PartGraph),
    work: &SheetWork,
    plan: &Plan,
    effort: Effort,
) -> Vec<NearMiss> {
    let before = work.bought(plan);
    if before < 2 || work.rows.len() > SIZES || !(work.counts_sheets() || work.priced) {
        return Vec::new();
    }
    let mut follows = Vec::new();
    let (mut stated, mut otherwise) = (BTreeMap::new(), BTreeSet::new());
    for part in graph.parts.iter().filter(|part| part.stock == Stock::Sheet(work.sheet)) {
        let cut = part.cut();
        let mut by: BTreeMap<Place, [Rational; 2]> = BTreeMap::new();
        for (place, size) in [cut.length, cut.width].into_iter().enumerate() {
            let Some(own) = graph.ledger.follows(size) else { return Vec::new() };
            let Follows { times, otherwise: its, stated: sizes } = own;
            otherwise.extend(its);
            stated.extend(sizes);
            for (place_of, times) in times {
                if let Some(slot) = by.entry(place_of).or_insert([Rational::zero(); 2]).get_mut(place) {
                    *slot = times;
                }
            }
        }
        follows.push(Following { part, by });
    }
    let changed = |place: Place, less: Length| changed(model, graph, work, &follows, (place, less));
    let most = small(model);
    let mut tries: Vec<(i64, Place, Len)> = Vec::new();
    for (span, size) in stated {
        let named = graph.ledger.literal(size.why).is_some();
        if otherwise.contains(&span) || !named || size.value.checked_sub(most).is_none_or(|rest| rest <= most)
        {
            continue;
        }
        let Some(job) = changed(span, most) else { continue };
        let promised = plan.cost.saturating_sub(least(&job).unwrap_or(plan.cost));
        if promised > 0 {
            tries.push((-promised, span, size));
        }
    }
    tries.sort_by_key(|(promised, span, _)| (*promised, *span));
    let step = model.project.marks.step();
    let mut found = Vec::new();
    for (_, span, size) in tries.into_iter().take(TRIED) {
        let planned = |less: Length| -> Option<Plan> {
            plan_plainly(&changed(span, less)?, Effort::Quick).ok().map(|plainly| plainly.plan)
        };
        // Sizes on the marks, from the largest change to the least.
        let at = |steps: i128| -> Option<(Length, Length)> {
            let marks = size.value.rounded_to(step, Round::Down)?;
            let first = if marks == size.value { 1 } else { 0 };
            let to = marks.checked_sub(step.checked_mul(Rational::from(steps + first))?)?;
            Some((to, size.value.checked_sub(to)?))
        };
        let steps = (0_i128..64).take_while(|steps| at(*steps).is_some_and(|(_, less)| less <= most)).count();
        let Some(last) = i128::try_from(steps).ok().and_then(|steps| steps.checked_sub(1)) else { continue };
        let Some(target) = at(last).and_then(|(_, less)| planned(less)) else { continue };
        if last < 0 || target.cost >= plan.cost {
            continue;
        }
        let (mut low, mut high) = (0, last);
        while low < high {
            let middle = (low + high) / 2;
            let enough = at(middle).and_then(|(_, less)| planned(less));
            if enough.is_some_and(|plan| plan.cost <= target.cost) { high = middle } else { low = middle + 1 }
        }
        let Some((to, less)) = at(high) else { continue };
        let best = changed(span, less).and_then(|job| plan_plainly(&job, effort).ok());
        let Some(best) = best.map(|plainly| plainly.plan).filter(|best| best.cost < plan.cost) else {
            continue;
        };
        let saved = work.money(plan).zip(work.money(&best));
        found.push(NearMiss {
            what: graph
                .ledger
                .entry(size.why)
                .map_or_else(String::new, |entry| entry.label.text().to_owned()),
            from: size,
            to,
            sheets: work.bought(&best),
            before,
            saved: saved.and_then(|(before, after)| before.checked_sub(&after)),
            moves: best.fence_moves,
            moves_before: plan.fence_moves,
        });
    }
    found.sort_by_key(|near| near.sheets);
    found
}

/// The job with one stated size made less.
fn changed(
    model: &Model,
    graph: &PartGraph,
    work: &SheetWork,
    follows: &[Following<'_>],
    (at, less): (Place, Length),
) -> Option<Job> {
    let mut rows = Equal::new();
    for Following { part, by } in follows {
        let cut = part.cut();
        let [along, across] = by.get(&at).copied().unwrap_or([Rational::zero(); 2]);
        let shorter = |size: Length, times: Rational| size.checked_sub(less.checked_mul(times)?);
        let size = [shorter(cut.length.value, along)?, shorter(cut.width.value, across)?];
        if size.iter().any(|size| *size <= Length::ZERO) {
            return None;
        }
        add(&mut rows, model, part, size, size);
    }
    let rows: Vec<Row> = rows.into_values().collect();
    Some(SheetWork::asked(model, graph.sheet(work.sheet)?, &rows).job)
}

impl NearMiss {
    /// `11 27/32" in place of 11 7/8" (depth)`.
    #[must_use]
    pub fn says(&self, model: &Model) -> String {
        let marks = model.project.marks;
        let [to, from] = [self.to, self.from.value].map(|length| marks.print_fine(length));
        format!("{} {} in place of {}", self.what, to.text(), from.text())
    }

    /// What the change comes to: `22 sheets in place of 24, 148.00 USD less; 44 set-ups in place of 88`.
    #[must_use]
    pub fn saves(&self, model: &Model) -> String {
        let saved =
            self.saved.map(|saved| format!(", {} less", model.project.money(saved))).unwrap_or_default();
        format!(
            "{} in place of {}{saved}; {} sheet by sheet in place of {}",
            some(self.sheets, "sheet"),
            self.before,
            some(self.moves, "set-up"),
            self.moves_before
        )
    }
}
