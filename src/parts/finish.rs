//! When each step of a finish begins and ends, and when what is painted may carry something.

use super::hours::{Hours, after};
use super::minutes;
use crate::eval::{Amount, Finish, Project};
use jiff::civil::DateTime;

/// When a step begins and ends; `None` where it takes no time or no start is stated.
pub type Times = Option<[DateTime; 2]>;

/// The times of a finish, in the order of its steps.
#[derive(Clone, Debug)]
pub struct FinishTimes {
    /// Breaking the arrises.
    pub easing: Times,
    /// Filling nail holes and end grain.
    pub filling: Times,
    /// Sanding the bare wood.
    pub sanding: Times,
    /// Caulking, where there is caulk.
    pub caulking: Times,
    /// Each coat, with the sanding before it; the first one has none.
    pub coats: Vec<CoatTimes>,
    /// When it may carry a few light things, and when all; each as far as times are stated.
    pub may_carry: [Option<DateTime>; 2],
}

/// The times of a coat.
#[derive(Clone, Copy, Debug)]
pub struct CoatTimes {
    /// Sanding the coat before it.
    pub sanding: Times,
    /// The coat itself.
    pub coat: Times,
}

/// The one order in which a finish is worked: what is said of its days, and the schedule, read their times here.
#[must_use]
pub fn finish_times(project: &Project, finish: &Finish) -> FinishTimes {
    let (mut hours, work) = (Hours::of(project), &finish.work);
    let easing = hours.work(work.easing);
    let filling = hours.work(work.filling);
    let sanding = hours.work(work.sanding);
    let caulking = hours.work(work.caulking.filter(|_| finish.caulk.is_some()));
    let coats = finish.coats.iter().enumerate().map(|(index, coat)| CoatTimes {
        sanding: hours.work(work.sanding_between.filter(|_| index > 0)),
        coat: hours.coat(coat),
    });
    let coats: Vec<CoatTimes> = coats.collect();
    let last = coats.last().and_then(|times| times.coat);
    let from = |amount: Option<Amount>| amount.and(last).and_then(|[_, ends]| after(ends, minutes(amount)));
    let may_carry =
        finish.coats.last().map_or([None, None], |coat| [coat.light_load, coat.full_load].map(from));
    FinishTimes { easing, filling, sanding, caulking, coats, may_carry }
}
