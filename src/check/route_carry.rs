//! Where a unit comes in only when it is carried in one way.

use super::helpers::carried::Carried;
use super::helpers::passage::{Tried, compared, reaches};
use super::helpers::place::{at_least, length};
use super::{Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Leg, Way};

code!(
    Note,
    CODE,
    "C069",
    "route_carry",
    "a leg that a unit passes neither flat nor on its side",
    "Flat on its back or on its side a unit is carried most easily. Where it comes round a corner only with one end lifted, or \
     upright, the people who carry it should know that before they stand there (geometry; the hands' part is common practice, no \
     source).",
    with_example
);

/// A corner that all units pass: how the tallest of them is carried round it.
pub(super) fn at(subject: &Subject<'_>, report: &mut Report, Tried { leg, things }: &Tried<'_>) {
    let tallest = things.iter().max_by_key(|(thing, _)| thing.height);
    let (Way::Corner { .. }, Some((thing, passage))) = (&leg.way, tallest) else { return };
    // Flat and on its side come first.
    let Some((easy, other)) = passage.ways.split_at_checked(2) else { return };
    let longest = easy.iter().filter_map(|(_, longest)| *longest).max_by(f64::total_cmp);
    let told = (!reaches(longest, thing)).then(|| told(subject, leg, thing, [easy, other]));
    let what = "longest past a corner, flat or on its side";
    report.take(at_least(&CODE, &thing.path, what, [compared(longest, thing), thing.height], told));
}

/// Ways of carrying, each with the longest that passes.
type Ways<'a> = &'a [(&'static str, Option<f64>)];

fn told(subject: &Subject<'_>, leg: &Leg, thing: &Carried<'_>, [easy, other]: [Ways<'_>; 2]) -> Diagnostic {
    let ways = other.iter().filter(|(_, longest)| reaches(*longest, thing));
    let ways: Vec<&str> = ways.map(|(way, _)| *way).collect();
    let ways = ways.join(" or ");
    let message = format!("`{}` comes round the {} only {ways}", thing.path, leg.title);
    let flat = easy.iter().filter_map(|(way, longest)| Some((way, length((*longest)?)?)));
    let lines: Vec<String> = flat
        .map(|(way, longest)| format!("{way}, {} is the longest past it", subject.most(longest)))
        .collect();
    let mut diagnostic = Diagnostic::new(&CODE, message).at(leg.head, "").about(thing.path.as_str());
    if !lines.is_empty() {
        diagnostic = diagnostic.note(lines.join("\n"));
    }
    diagnostic.help(format!("carry it {ways} there, or make two boxes of it"))
}
