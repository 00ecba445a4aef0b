//! Working hours: when work and coats begin and end.

use crate::eval::{Amount, Coating, Project};
use crate::quantity::Rational;
use jiff::Span;
use jiff::civil::DateTime;
use num_traits::{CheckedDiv, ToPrimitive};

/// Whole minutes of a time; none where it is not stated.
#[must_use]
pub fn minutes(amount: Option<Amount>) -> i64 {
    let minutes = amount.and_then(|amount| amount.value.value.checked_div(&Rational::from(60)));
    minutes.and_then(|minutes| minutes.round().to_integer().to_i64()).unwrap_or(0)
}

/// So many minutes after a time; `None` beyond the calendar.
#[must_use]
pub fn after(time: DateTime, minutes: i64) -> Option<DateTime> {
    time.checked_add(Span::new().try_minutes(minutes).ok()?).ok()
}

/// Working days one after the other, and how far they are spent.
#[derive(Clone, Copy, Debug)]
pub struct Hours {
    /// When the last step that takes time ended; `None` where no start is stated.
    now: Option<DateTime>,
    /// When a day begins and ends, in minutes after midnight.
    day: [i64; 2],
}

impl Hours {
    /// From the start of a project.
    #[must_use]
    pub fn of(project: &Project) -> Self {
        Self { now: project.start, day: project.day }
    }

    /// Work that may be left and gone on with: it takes what is left of each working day until it is done. Its begin
    /// and end; `None` where it takes no time or no start is stated.
    pub fn work(&mut self, amount: Option<Amount>) -> Option<[DateTime; 2]> {
        let work = minutes(amount);
        let times = self.now.filter(|_| work > 0).and_then(|now| self.spend(now, work));
        if let Some([_, ends]) = times {
            self.now = Some(ends);
        }
        times
    }

    /// A coat, which is not begun where it would end after the working day; what follows it waits as long as it says.
    pub fn coat(&mut self, coat: &Coating) -> Option<[DateTime; 2]> {
        let work = minutes(coat.work);
        let begins = self.now.and_then(|now| self.fitting(now, work));
        let times = begins.and_then(|begins| Some([begins, after(begins, work)?]));
        self.now = times.and_then(|[_, ends]| after(ends, minutes(coat.wait)));
        times
    }

    /// When work begins and ends that stops for the night; `None` beyond the calendar.
    fn spend(&self, from: DateTime, work: i64) -> Option<[DateTime; 2]> {
        let [opens, closes] = self.day;
        let day = closes - opens;
        let begins = self.fitting(from, 1)?;
        let today = closes - i64::from(begins.hour()) * 60 - i64::from(begins.minute());
        if work <= today {
            return Some([begins, after(begins, work)?]);
        }
        // Whole days after this one, and what the last of them still takes.
        let left = work - today;
        let whole = (left - 1).checked_div(day)?;
        let last = begins.start_of_day().checked_add(Span::new().try_days(whole + 1).ok()?).ok()?;
        Some([begins, after(last, opens + left - whole * day)?])
    }

    /// The next time at which so many minutes of work fit into the working day.
    fn fitting(&self, from: DateTime, work: i64) -> Option<DateTime> {
        let [opens, closes] = self.day;
        let midnight = from.start_of_day();
        let minute = i64::from(from.hour()) * 60 + i64::from(from.minute());
        let today = minute.max(opens);
        // Work that is longer than a day begins with the day.
        let fits = today + work <= closes || (work > closes - opens && today == opens);
        let (day, minute) = if fits { (0, today) } else { (1, opens) };
        midnight.checked_add(Span::new().try_days(day).ok()?.try_minutes(minute).ok()?).ok()
    }
}
