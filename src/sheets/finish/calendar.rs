//! Dates of the schedule as iCalendar.

use super::Subject;
use super::schedule::Step;
use crate::document::{CAUTIONS, FINISHING};
use icalendar::{Calendar, Component, Event};
use jiff::civil::DateTime;

/// The steps that have a time, as iCalendar (RFC 5545) with local times; `None` where none has.
pub(super) fn calendar(subject: Subject<'_>, steps: &[Step]) -> Option<String> {
    let project = &subject.model.project;
    let title = project.title.as_deref().unwrap_or("shelving");
    let mut calendar = Calendar::empty();
    calendar
        .append_property(("VERSION", "2.0"))
        .append_property(("PRODID", "-//scantling//finishing schedule//EN"))
        .append_property(("DESCRIPTION", CAUTIONS.join(" ").as_str()));
    // A stamp of the clock would make two runs differ; the start of the work serves.
    let stamp = project.start?.strftime("%Y%m%dT%H%M%SZ").to_string();
    let mut any = false;
    for step in steps {
        let Some([begins, ends]) = step.times else { continue };
        let local = |time: DateTime| {
            let [year, month, day] = [i64::from(time.year()), i64::from(time.month()), i64::from(time.day())];
            format!("{year:04}{month:02}{day:02}T{:02}{:02}00", time.hour(), time.minute())
        };
        let slug: String = title
            .chars()
            .map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' })
            .collect();
        let mut event = Event::new();
        event
            .uid(&format!("{slug}-step-{}@scantling", step.number))
            .summary(&format!("{title}: {}", step.name))
            .description(&format!("{}\n\nTimes are estimates. {FINISHING}", step.what))
            .append_property(("DTSTAMP", stamp.as_str()))
            .append_property(("DTSTART", local(begins).as_str()))
            .append_property(("DTEND", local(ends).as_str()));
        calendar.push(event.done());
        any = true;
    }
    any.then(|| calendar.to_string())
}
