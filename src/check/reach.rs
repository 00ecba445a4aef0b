//! What stands on a shelf can be taken down by those it is for.

use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, code};
use crate::eval::{Len, Reach};
use crate::parts::{Finding, Limit, Opening};
use crate::quantity::{Length, Round};

code!(
    Note,
    CODE,
    "C122",
    "reach",
    "a shelf that those it is for do not reach",
    "An adult takes things from a shelf 78 in (1980 mm) high at most (common practice, no source); a child of 3 or 4 years reaches 36 in, of \
     5 to 8 years 40 in, of 9 to 12 years 44 in (2012 Texas Accessibility Standards, advisory 308.1). Heights count from the floor as it \
     will be.",
    with_example
);

/// Every shelf with a load or with contents.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut high: Vec<(Reach, Length, Length, &Opening)> = Vec::new();
    for standing in subject.units() {
        let later =
            standing.wall.and_then(|wall| wall.floor.later).map_or(Length::ZERO, |later: Len| later.value);
        let stands = standing.unit.stands.map_or(Length::ZERO, |stands| stands.value);
        let openings =
            subject.openings_of(standing.id).iter().filter(|opening| !opening.divided && opening.used);
        for opening in openings {
            let shared =
                standing.carcass.contents.iter().filter(|contents| contents.on.contains(&opening.name));
            let least = opening.contents.iter().chain(shared).map(|contents| contents.reach).min();
            let Some(who) = least.or(opening.load.map(|_| Reach::Adult)) else { continue };
            let height = subject.graph.part(opening.on).and_then(|shelf| {
                let top = shelf.place.z.value.checked_add(shelf.size.thickness.value)?;
                top.checked_add(stands)?.checked_sub(later)
            });
            let Some(height) = height else { continue };
            let most = reaches(subject, who);
            let limit = Limit::AtMost(most.into());
            if !report.compare(Finding::new(
                &CODE,
                opening.path.as_str(),
                "height of a shelf over the floor",
                height,
                limit,
            )) {
                high.push((who, most, height, opening));
            }
        }
    }
    for who in [Reach::Child3, Reach::Child5, Reach::Child9, Reach::Adult] {
        let own: Vec<_> = high.iter().filter(|(other, ..)| *other == who).collect();
        let Some((_, most, height, _)) = own.iter().max_by_key(|(_, _, height, _)| *height) else { continue };
        let paths: Vec<&str> = own.iter().map(|(.., opening)| opening.path.as_str()).collect();
        let height = subject.marks().print_rounded(*height, Round::Up);
        let message = format!(
            "{} {} high over the floor, and {} reaches {}",
            match paths.as_slice() {
                [one] => format!("`{one}` is"),
                many => format!("{} shelves are up to", many.len()),
            },
            height.text(),
            word(who),
            subject.most(*most)
        );
        let mut diagnostic = Diagnostic::new(&CODE, message);
        for (.., opening) in &own {
            let head = subject.graph.unit(opening.unit).and_then(|unit| unit.head);
            diagnostic = subject.at_head(diagnostic, head, "").about(opening.path.as_str());
        }
        if paths.len() > 1 {
            diagnostic = diagnostic.note(format!("they are {}", names(&paths)));
        }
        report.tell(
            diagnostic
                .help("let what is seldom used stand there, and keep a step at hand; or lower the mark"),
        );
    }
}

/// The highest shelf that they reach.
fn reaches(subject: &Subject<'_>, who: Reach) -> Length {
    match who {
        Reach::Adult => subject.usual((78, 1), 19_800),
        Reach::Child9 => subject.usual((44, 1), 11_180),
        Reach::Child5 => subject.usual((40, 1), 10_160),
        Reach::Child3 => subject.usual((36, 1), 9140),
    }
}

fn word(who: Reach) -> &'static str {
    match who {
        Reach::Adult => "an adult",
        Reach::Child9 => "a child of 9 to 12 years",
        Reach::Child5 => "a child of 5 to 8 years",
        Reach::Child3 => "a child of 3 or 4 years",
    }
}
