//! Hours of the work: what is left of each stage and what was noted, by rates that are from memory, stated, or the shop's own.

use super::Subject;
use crate::parts::{Part, Stage, State, Work};
use crate::quantity::{Rational, System, to_f64};
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, Zero};
use serde::Serialize;

/// How many square feet a square metre is (an inch is 25.4 mm exactly).
const SQUARE_FEET: f64 = 1_000_000.0 / (304.8 * 304.8);

/// How long a stage takes.
#[derive(Clone, Debug, Serialize)]
pub struct StageHours {
    /// The stage.
    pub stage: &'static str,
    /// How much of it is left, by what is counted.
    pub count: f64,
    /// What is counted.
    pub of: &'static str,
    /// Whether that is an area.
    #[serde(skip)]
    pub by_area: bool,
    /// What one of it takes, in seconds; an estimate.
    pub seconds_each: f64,
    /// Where that comes from: `from memory`, `stated`, `own hours`.
    pub by: &'static str,
    /// What is left of it takes so many seconds; an estimate.
    pub left: f64,
    /// What is done of it took as many by the same reckoning.
    pub done: f64,
}

/// The rates of a project for its stages, in seconds.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rated {
    each: [(Rational, &'static str); 8],
}

impl Rated {
    /// The rates of the project: stated ones, else those from memory; by its own hours where those are noted.
    #[must_use]
    pub(crate) fn of(subject: Subject<'_>) -> Self {
        let graph = subject.graph;
        let before = Stage::ALL.map(|stage| stated(subject, stage));
        let own = |state: State| {
            // Nothing else tells how long sanding takes than a rate.
            let stages = || {
                Stage::ALL
                    .into_iter()
                    .zip(before)
                    .filter(move |(stage, _)| stage.state() == state && *stage != Stage::Sanding)
            };
            let (mut took, mut reckoned) = (Rational::zero(), Rational::zero());
            for worked in graph.worked.iter().filter(|worked| worked.state == state) {
                let parts = worked.parts.iter().filter_map(|id| graph.part(*id));
                let by_rate = graph.takes(parts, stages().map(|(stage, (rate, _))| (stage, rate)));
                if !by_rate.is_zero() {
                    took = took.checked_add(&worked.took).unwrap_or(took);
                    reckoned = reckoned.checked_add(&by_rate).unwrap_or(reckoned);
                }
            }
            took.checked_div(&reckoned).filter(|factor| !factor.is_zero())
        };
        let each = Stage::ALL.into_iter().zip(before).map(|(stage, (rate, by))| {
            let own = own(stage.state()).filter(|_| stage != Stage::Sanding);
            own.and_then(|factor| rate.checked_mul(&factor)).map_or((rate, by), |rate| (rate, "own hours"))
        });
        let mut rates = before;
        rates.iter_mut().zip(each).for_each(|(rate, own)| *rate = own);
        Self { each: rates }
    }

    fn stages(self) -> impl Iterator<Item = (Stage, Rational)> + Clone {
        Stage::ALL.into_iter().zip(self.each.map(|(rate, _)| rate))
    }

    /// What a part took to come to a state, in seconds.
    #[must_use]
    pub(crate) fn spent(self, subject: Subject<'_>, part: &Part, state: State) -> Rational {
        let done = self.stages().filter(|(stage, _)| stage.state() <= state);
        subject.graph.takes(std::iter::once(part), done)
    }
}

/// The rate of a stage before own hours: what the finish states for all of it, or the rate for one.
fn stated(subject: Subject<'_>, stage: Stage) -> (Rational, &'static str) {
    let rate = stage.rate(&subject.model.rates);
    let coats = subject.model.finish.as_ref().map_or(0, |finish| finish.coats.len());
    let seconds = match stage {
        Stage::Coats => {
            let count = Rational::from(i128::try_from(coats).unwrap_or(0));
            rate.seconds.checked_mul(&count).unwrap_or(rate.seconds)
        }
        _ => rate.seconds,
    };
    let by = if rate.stated { "stated" } else { "from memory" };
    let graph = subject.graph;
    let all = graph.parts.iter().map(|part| graph.amount(part, stage));
    let all = all.fold(Rational::zero(), |sum, own| sum.checked_add(&own).unwrap_or(sum));
    match of_finish(subject, stage).and_then(|whole| whole.checked_div(&all)) {
        Some(each) => (each, "stated"),
        None => (seconds, by),
    }
}

/// What the finish says that all of a stage takes, in seconds.
fn of_finish(subject: Subject<'_>, stage: Stage) -> Option<Rational> {
    let finish = subject.model.finish.as_ref()?;
    let seconds = |amount: Option<crate::eval::Amount>| amount.map(|amount| amount.value.value);
    let sum = |mut all: Vec<Rational>| {
        let first = all.pop()?;
        all.into_iter().try_fold(first, |sum, own| sum.checked_add(&own))
    };
    match stage {
        Stage::Sanding => seconds(finish.work.sanding),
        Stage::Filling => {
            let parts = [finish.work.filling, finish.work.caulking];
            sum(parts.into_iter().filter_map(seconds).collect())
        }
        Stage::Coats => {
            let coats: Option<Vec<Rational>> = finish.coats.iter().map(|coat| seconds(coat.work)).collect();
            let between = seconds(finish.work.sanding_between).into_iter();
            let between = between.cycle().take(finish.coats.len().saturating_sub(1));
            sum(coats?.into_iter().chain(between).collect())
        }
        Stage::Saw | Stage::Router | Stage::GlueUp | Stage::Room | Stage::Facing => None,
    }
}

/// The hours of all stages that the project has.
pub(super) fn stages(subject: Subject<'_>) -> Vec<StageHours> {
    let (graph, rated) = (subject.graph, Rated::of(subject));
    let row = |(stage, (rate, by)): (Stage, (Rational, &'static str))| {
        let (mut left, mut done) = (Rational::zero(), Rational::zero());
        for part in &graph.parts {
            let amount = graph.amount(part, stage);
            let is_done = subject.work == Work::Left && graph.reached(part.id, stage.state());
            let sum = if is_done { &mut done } else { &mut left };
            *sum = sum.checked_add(&amount).unwrap_or(*sum);
        }
        if left.is_zero() && done.is_zero() {
            return None;
        }
        let seconds = |count: Rational| to_f64(count) * to_f64(rate);
        let system = subject.model.project.marks.system();
        let scale = if stage.is_by_area() && system == System::Inch { SQUARE_FEET } else { 1.0 };
        let [one, several] = stage.unit(system);
        let of = if left == Rational::from(1) { one } else { several };
        Some(StageHours {
            stage: stage.word(),
            count: to_f64(left) * scale,
            of,
            by_area: stage.is_by_area(),
            seconds_each: to_f64(rate) / scale,
            by,
            left: seconds(left),
            done: seconds(done),
        })
    };
    Stage::ALL.into_iter().zip(rated.each).filter_map(row).collect()
}
