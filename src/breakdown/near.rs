//! Near misses: a small change of one stated size that saves money for sheets, found by the bound of the changed job and proven by
//! planning it.

use super::sheet::SheetWork;
use super::{Equal, Row, add};
use crate::cutting::{Effort, Job, Plan, least, plan_plainly, plan_within};
use crate::eval::{self, Follows, Len, Model, Place};
use crate::parts::{Part, PartGraph, Stock};
use crate::quantity::{Length, Rational, Round, some};
use num_traits::{CheckedAdd, CheckedMul, CheckedSub, Zero};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// A small change of one stated size that saves money for sheets.
#[derive(Clone, Debug)]
pub struct Saving {
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
    /// The job as it would be.
    job: Job,
    /// What proves it.
    plan: Plan,
}

/// A saving with the work at the saw.
#[derive(Clone, Debug)]
pub struct NearMiss {
    /// What is saved.
    pub saving: Saving,
    /// Settings sheet by sheet then.
    pub moves: u64,
    /// Settings sheet by sheet now.
    pub moves_before: u64,
}

/// Nothing is tried for more sizes of parts than this: it would take longer than the layout itself.
const SIZES: usize = 60;

/// So many stated sizes are tried by the way, those that promise most; where layouts are asked for, all of them.
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

/// A work that is planned, and how its parts follow from stated sizes.
struct Search<'a> {
    model: &'a Model,
    sheet: eval::Sheet,
    work: &'a SheetWork,
    plan: &'a Plan,
    follows: Vec<Following<'a>>,
}

/// The small changes of stated sizes that save most on a work that is planned, each as small as it can be; the largest saving first,
/// then in the order in which they promise something. With little effort a few are tried; what that finds is found with more
/// effort too.
pub(super) fn savings(
    (model, graph): (&Model, &PartGraph),
    work: &SheetWork,
    plan: &Plan,
    effort: Effort,
) -> Vec<Saving> {
    if work.bought(plan) < 2 || work.rows.len() > SIZES || !(work.counts_sheets() || work.priced) {
        return Vec::new();
    }
    let Some(sheet) = graph.sheet(work.sheet) else { return Vec::new() };
    let sheet = eval::Sheet { on_hand: work.on_hand(), ..sheet.clone() };
    let mut follows = Vec::new();
    let (mut stated, mut otherwise) = (BTreeMap::new(), BTreeSet::new());
    let own = |part: &&Part| part.stock == Stock::Sheet(work.sheet) && graph.is_to_cut(part);
    for part in graph.parts.iter().filter(own) {
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
    let search = Search { model, sheet, work, plan, follows };
    let most = small(model);
    let mut tries: Vec<(Reverse<i64>, Reverse<Rational>, Place, Len)> = Vec::new();
    for (place, size) in stated {
        let named = graph.ledger.literal(size.why).is_some();
        if otherwise.contains(&place)
            || !named
            || size.value.checked_sub(most).is_none_or(|rest| rest <= most)
        {
            continue;
        }
        let Some(job) = search.changed(place, most) else { continue };
        let promised = plan.cost.saturating_sub(least(&job, plan.cost).unwrap_or(plan.cost));
        if promised > 0 {
            tries.push((Reverse(promised), Reverse(search.freed(place)), place, size));
        }
    }
    tries.sort_by_key(|(promised, freed, place, _)| (*promised, *freed, *place));
    let (few, all) = (tries.iter().take(TRIED), tries.iter().filter(|_| effort != Effort::Quick));
    let mut found: Vec<(Place, Saving)> = Vec::new();
    for ((.., place, size), effort) in few.map(|one| (one, Effort::Quick)).chain(all.map(|one| (one, effort)))
    {
        if found.iter().all(|(known, _)| known != place) {
            found.extend(search.least_change(graph, (*place, *size), effort).map(|saving| (*place, saving)));
        }
    }
    found.sort_by_key(|(_, saving)| saving.plan.cost);
    found.into_iter().map(|(_, saving)| saving).collect()
}

/// The same with the work at the saw, planned with this effort; the largest saving first.
pub(super) fn near_misses(
    of: (&Model, &PartGraph),
    work: &SheetWork,
    plan: &Plan,
    effort: Effort,
) -> Vec<NearMiss> {
    let near = savings(of, work, plan, effort).into_iter().map(|saving| {
        let neat = plan_plainly(&saving.job, effort).ok().map(|plainly| plainly.plan);
        let neat = neat.filter(|neat| neat.cost <= saving.plan.cost);
        let neat = neat.unwrap_or_else(|| saving.plan.clone());
        let saving = Saving { sheets: work.bought(&neat), saved: saved(work, plan, &neat), ..saving };
        NearMiss { saving, moves: neat.fence_moves, moves_before: plan.fence_moves }
    });
    let mut near: Vec<NearMiss> = near.collect();
    near.sort_by_key(|near| near.saving.plan.cost);
    near
}

/// What bought sheets cost less, where prices are stated.
fn saved(work: &SheetWork, before: &Plan, after: &Plan) -> Option<Rational> {
    work.money(before)?.checked_sub(&work.money(after)?)
}

impl Search<'_> {
    /// The least change of a stated size that saves as much as the largest one.
    fn least_change(&self, graph: &PartGraph, (place, size): (Place, Len), effort: Effort) -> Option<Saving> {
        let (most, step) = (small(self.model), self.model.project.marks.step());
        // Sizes on the marks, from the least change to the largest.
        let marks = size.value.rounded_to(step, Round::Down)?;
        let first = i128::from(marks == size.value);
        let at = |steps: i128| -> Option<(Length, Length)> {
            let to = marks.checked_sub(step.checked_mul(Rational::from(steps + first))?)?;
            Some((to, size.value.checked_sub(to)?))
        };
        let planned = |steps: i128, limit: i64| -> Option<(Job, Plan)> {
            let job = self.changed(place, at(steps)?.1)?;
            let plan = plan_within(&job, limit, effort)?;
            Some((job, plan))
        };
        let steps = (0_i128..64).take_while(|steps| at(*steps).is_some_and(|(_, less)| less <= most)).count();
        let (mut low, mut high) = (0, i128::try_from(steps).ok()?.checked_sub(1)?);
        let mut best = planned(high, self.plan.cost.checked_sub(1)?)?;
        while let Some(less) = best.1.cost.checked_sub(1).and_then(|limit| planned(high, limit)) {
            best = less;
        }
        while low < high {
            let middle = (low + high) / 2;
            match planned(middle, best.1.cost) {
                Some(other) => (best, high) = (other, middle),
                None => low = middle + 1,
            }
        }
        let (job, plan) = best;
        Some(Saving {
            what: graph.ledger.entry(size.why)?.label.text().to_owned(),
            from: size,
            to: at(high)?.0,
            sheets: self.work.bought(&plan),
            before: self.work.bought(self.plan),
            saved: saved(self.work, self.plan, &plan),
            job,
            plan,
        })
    }

    /// How much area the parts have less for each length that a stated size has less.
    fn freed(&self, at: Place) -> Rational {
        let mut sum = Rational::zero();
        for Following { part, by } in &self.follows {
            let (cut, Some([along, across])) = (part.cut(), by.get(&at)) else { continue };
            let sides = [(cut.width, along), (cut.length, across)];
            for (other, times) in sides {
                let own = other.value.mm().checked_mul(times);
                sum = own.and_then(|own| sum.checked_add(&own)).unwrap_or(sum);
            }
        }
        sum
    }

    /// The job with one stated size made less.
    fn changed(&self, at: Place, less: Length) -> Option<Job> {
        let mut rows = Equal::new();
        for Following { part, by } in &self.follows {
            let cut = part.cut();
            let [along, across] = by.get(&at).copied().unwrap_or([Rational::zero(); 2]);
            let shorter = |size: Length, times: Rational| size.checked_sub(less.checked_mul(times)?);
            let size = [shorter(cut.length.value, along)?, shorter(cut.width.value, across)?];
            if size.iter().any(|size| *size <= Length::ZERO) {
                return None;
            }
            add(&mut rows, self.model, part, size, size);
        }
        let rows: Vec<Row> = rows.into_values().collect();
        Some(SheetWork::asked(self.model, &self.sheet, &rows).job)
    }
}

impl Saving {
    /// `11 27/32" in place of 11 7/8" (depth)`.
    #[must_use]
    pub fn says(&self, model: &Model) -> String {
        let marks = model.project.marks;
        let [to, from] = [self.to, self.from.value].map(|length| marks.print_fine(length));
        format!("{} {} in place of {}", self.what, to.text(), from.text())
    }
}

impl NearMiss {
    /// What the change comes to: `22 sheets in place of 24, 148.00 USD less; 44 set-ups in place of 88`.
    #[must_use]
    pub fn saves(&self, model: &Model) -> String {
        let saved = self
            .saving
            .saved
            .map(|saved| format!(", {} less", model.project.money(saved)))
            .unwrap_or_default();
        format!(
            "{} in place of {}{saved}; {} sheet by sheet in place of {}",
            some(self.saving.sheets, "sheet"),
            self.saving.before,
            some(self.moves, "set-up"),
            self.moves_before
        )
    }
}
