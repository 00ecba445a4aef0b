//! When each step may begin: a coat starts when the wait has passed since the last one ended, and is not begun where it
//! would end after the working day.

use super::Subject;
use crate::eval::Finish;
use crate::parts::{
    FREE_OF_ASBESTOS, FREE_OF_LEAD, PaintClass, Surfaces, Times, Work, finish_times, minutes,
};
use crate::quantity::{Dim, Estimate, Rational, estimate, hours, spell};
use jiff::civil::DateTime;
use num_traits::CheckedAdd;
use serde::Serialize;

/// A step of the finish.
#[derive(Clone, Debug, Serialize)]
pub struct Step {
    /// Its number, from one.
    pub number: usize,
    /// What it is.
    pub name: &'static str,
    /// How it is done.
    pub what: String,
    /// When it begins, as `2026-03-02 08:00`; `None` where no start is stated.
    pub begins: Option<String>,
    /// When it ends.
    pub ends: Option<String>,
    /// Whether it is no work: from then on it carries something.
    #[serde(skip)]
    pub is_load: bool,
    #[serde(skip)]
    pub(super) times: Times,
}

impl Step {
    /// When it ends; `None` where no start is stated.
    #[must_use]
    pub fn end(&self) -> Option<DateTime> {
        self.times.map(|[_, ends]| ends)
    }
}

#[derive(Default)]
struct Schedule {
    steps: Vec<Step>,
}

impl Schedule {
    fn step(&mut self, name: &'static str, what: impl Into<String>, times: Times) {
        let print = |time: DateTime| time.strftime("%Y-%m-%d %H:%M").to_string();
        let [begins, ends] =
            times.map_or([None, None], |[begins, ends]| [Some(print(begins)), Some(print(ends))]);
        let number = self.steps.len() + 1;
        self.steps.push(Step { number, name, what: what.into(), begins, ends, is_load: false, times });
    }
}

/// All steps of a project in their order.
pub(super) fn steps(subject: Subject<'_>, surfaces: &[Surfaces]) -> Vec<Step> {
    let Some(finish) = &subject.model.finish else { return Vec::new() };
    let project = &subject.model.project;
    let (mut schedule, times) = (Schedule::default(), finish_times(project, finish));
    let painted = surfaces.iter().fold(0.0, |sum, surfaces| sum + surfaces.painted().value);
    // Where all is painted, what is left is to wait.
    if painted <= 0.0 && subject.work == Work::Left && !subject.graph.made.is_empty() {
        loads(&mut schedule, finish, times.may_carry);
        return schedule.steps;
    }
    if project.year_built.is_some_and(|year| year < FREE_OF_ASBESTOS) {
        let lead = if project.year_built.is_some_and(|year| year < FREE_OF_LEAD) {
            " old paint for lead,"
        } else {
            ""
        };
        schedule.step(
            "test",
            format!("before anything is disturbed:{lead} old texture and tile for asbestos"),
            None,
        );
    }
    let hidden = surfaces.iter().filter_map(|surfaces| surfaces.paint.get(&PaintClass::HiddenBacks));
    let hidden = hidden.fold(None, |sum: Option<Rational>, area| sum.unwrap_or_default().checked_add(area));
    schedule.step(
        "ease",
        "break all arrises by 1/32 to 1/16 in (1 to 1.5 mm), but not the edges that take a strip or stile",
        times.easing,
    );
    if let Some(hidden) = hidden {
        let area = super::system(subject).area(hidden);
        schedule.step(
            "reach first",
            format!("prime {area} of backs of strips, rails and stile laps before they are fitted"),
            None,
        );
    }
    schedule.step(
        "mask",
        "keep paint off what is glued: dados, cleats on shelves, the back of the facing",
        None,
    );
    let system = subject.model.project.marks.system();
    let filler = finish.filler.as_ref().map(|filler| {
        let holds = filler.holds.map(|holds| estimate(holds.value.estimate(), system));
        let holds = holds.map(|holds| format!(", {holds} a box")).unwrap_or_default();
        format!(", with {}{holds}", filler.name)
    });
    let filler = filler.unwrap_or_default();
    schedule.step("fill", format!("nail holes and end grain{filler}"), times.filling);
    let painted = Estimate { value: painted, dim: Dim::AREA };
    let sanded = estimate(painted, system);
    schedule.step(
        "sand",
        format!("{sanded} of bare wood, 120, then 150; do not go through the veneer at edges"),
        times.sanding,
    );
    schedule.step("dust", "vacuum and wipe", None);
    if finish.caulk.is_some() {
        let length = super::caulked(surfaces);
        schedule.step(
            "caulk",
            format!("{} where open faces meet the wall", super::system(subject).long_about(length)),
            times.caulking,
        );
    }
    for (index, (coat, times)) in finish.coats.iter().zip(&times.coats).enumerate() {
        if index > 0 {
            let what = format!("{sanded}, 180 to 220, by hand, and dust");
            schedule.step("sand between", what, times.sanding);
        }
        let unknown = if coat.work.is_none() { "; how long a coat takes (`work`) is not stated" } else { "" };
        let wait = minutes(coat.wait).unsigned_abs();
        let next = if wait > 0 && index + 1 < finish.coats.len() {
            format!("; the next coat after {}", hours(wait))
        } else {
            String::new()
        };
        schedule.step(
            "coat",
            format!("{}, coat {} of {}{next}{unknown}", coat.name, index + 1, finish.coats.len()),
            times.coat,
        );
    }
    loads(&mut schedule, finish, times.may_carry);
    schedule.steps
}

/// From when on the last coat carries something.
fn loads(schedule: &mut Schedule, finish: &Finish, may_carry: [Option<DateTime>; 2]) {
    if let Some(coat) = finish.coats.last() {
        let [light, full] = may_carry;
        for (name, amount, from, what) in [
            ("light load", coat.light_load, light, "a few light things, nothing that sticks"),
            ("full load", coat.full_load, full, "hard: books and all"),
        ] {
            let times = from.map(|from| [from, from]);
            if amount.is_some() {
                let later = spell(minutes(amount).unsigned_abs());
                schedule.step(name, format!("{what}; {later} after the last coat"), times);
                schedule.steps.iter_mut().last().into_iter().for_each(|step| step.is_load = true);
            }
        }
    }
}
