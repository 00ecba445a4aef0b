//! What will stand on the shelves is no longer than the shelves for it.

use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, code};
use crate::eval::{Contents, Len};
use crate::parts::{Finding, Limit, Opening};
use crate::quantity::Length;

code!(
    Warning,
    CODE,
    "C052",
    "running_length",
    "more than its shelves hold",
    "What is to stand side by side takes as much clear width as it is long, over all the shelves that it may stand on. A collection grows: \
     a tenth of room to spare is wise (common practice, no source).",
    with_example
);

/// Everything whose length is stated against the shelves that it may stand on.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

/// Equal contents with all the openings that they may stand in.
struct Kind<'a> {
    contents: &'a Contents,
    length: Len,
    openings: Vec<&'a Opening>,
}

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut kinds: Vec<Kind<'_>> = Vec::new();
    for standing in subject.units() {
        let measured = standing.carcass.contents.iter().filter(|contents| contents.length.is_some());
        for contents in measured {
            let here = subject.openings_of(standing.id).iter().copied().filter(|opening| {
                let here = || contents.on.contains(&opening.name);
                opening.used && !opening.divided && (contents.on.is_empty() || here())
            });
            add(&mut kinds, contents, here.collect());
        }
    }
    for opening in &subject.graph.openings {
        opening.contents.iter().for_each(|contents| add(&mut kinds, contents, vec![opening]));
    }
    for kind in &kinds {
        // Things stand on its shelf and on every loose one in it.
        let widths = kind.openings.iter().flat_map(|opening| {
            let shelves = 1 + subject.loose_in(opening).len();
            std::iter::repeat_n(opening.clear_width.value, shelves)
        });
        let room = widths.fold(Length::ZERO, |sum, width| sum.checked_add(width).unwrap_or(sum));
        let (name, what) = (kind.contents.name.as_ref(), "running length of what stands on shelves");
        let limit = Limit::AtMost(room.into());
        if report.compare(Finding::new(&CODE, name, what, kind.length.value, limit)) {
            continue;
        }
        let message = format!(
            "`{name}` are {} long side by side, and their shelves hold {}",
            subject.print(kind.length.value),
            subject.print(room)
        );
        let mut diagnostic = subject.at(Diagnostic::new(&CODE, message), kind.length, "");
        for opening in &kind.openings {
            diagnostic = diagnostic.about(opening.path.as_str());
        }
        let paths: Vec<&str> = kind.openings.iter().map(|opening| opening.path.as_str()).collect();
        if !paths.is_empty() {
            diagnostic = diagnostic.note(format!("they stand on {}", names(&paths)));
        }
        let lacks = kind.length.value.checked_sub(room).unwrap_or_default();
        report.tell(
            diagnostic.help(format!(
                "give them {} more: another shelf, or let some of them go",
                subject.least(lacks)
            )),
        );
    }
}

/// The contents of an `each` are one collection over all its units.
fn add<'a>(kinds: &mut Vec<Kind<'a>>, contents: &'a Contents, openings: Vec<&'a Opening>) {
    let Some(length) = contents.length else { return };
    match kinds.iter_mut().find(|kind| kind.contents.head == contents.head) {
        Some(kind) => kind.openings.extend(openings),
        None => kinds.push(Kind { contents, length, openings }),
    }
}
