//! Whether the last sheet is worth its price, and whether a spare shelf can be had.

use super::{Check, Report, Subject};
use crate::breakdown::{Effort, SheetWork, substitutes};
use crate::cutting::{Plan, is_usual};
use crate::diag::{Diagnostic, code};
use crate::eval::{Sheet, SheetId};
use crate::limits;
use crate::parts::{Finding, Limit, Role, State, Stock};
use crate::quantity::{Length, Rational};
use std::collections::BTreeSet;

code!(
    Note,
    CODE,
    "C090",
    "sheets",
    "a sheet that is hardly used, or no room for a spare shelf",
    "The layout of rips and crosscuts needs as few sheets as can be. Where one of them is used over less than half its width, boards \
     for the narrow parts or a small change may save it (common practice, no source). Where no spare shelf fits on what is left over, \
     one spoilt shelf costs a sheet. The note is given where a quick layout is proven to be the least. Of up to 200 parts that is the \
     one that `show layouts` prints; of more the note says that it is of a quick layout, since the printed one may lie otherwise.",
    with_example
);

/// The least used sheet of each stock against half its width, and spare shelves.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    if subject.graph.parts.len() > limits::LAID_OUT {
        return;
    }
    let works = subject.plans.sheets(subject.model, subject.graph, Effort::Quick);
    // What is left of a sheet from which some is cut already lies in the shop, and is in no layout.
    let begun: BTreeSet<SheetId> = subject
        .graph
        .made
        .iter()
        .filter(|(_, made)| made.state >= State::Cut)
        .filter_map(|(id, _)| match subject.graph.part(*id)?.stock {
            Stock::Sheet(sheet) => Some(sheet),
            Stock::Board(_) => None,
        })
        .collect();
    let whole = works.iter().filter(|work| !begun.contains(&work.sheet));
    for found in whole.filter_map(|work| finding(subject, work)) {
        report.take(found);
    }
}

fn finding(subject: &Subject<'_>, work: &SheetWork) -> Option<(Finding, Option<Diagnostic>)> {
    let sheet = subject.graph.sheet(work.sheet)?;
    let plan = work.plan.as_ref().ok().filter(|plan| plan.proven())?;
    let (used, offered) = work.least_used(plan)?;
    let half = offered.checked_div(Rational::from(2))?;
    let several = work.bought(plan) > 1;
    let diagnostic = if used < half && several {
        Some(hardly_used(subject, work, plan, [used, offered]))
    } else {
        no_spare(subject, work, plan)
    };
    let diagnostic = diagnostic.map(|diagnostic| {
        let diagnostic = diagnostic.about(sheet.name.as_ref());
        match sheet.head {
            Some(head) => diagnostic.at(head, ""),
            None => diagnostic,
        }
    });
    let what = "the least used sheet against half its width";
    // One sheet is needed however little of it is used.
    let limit = if several { Limit::AtLeast(half.into()) } else { Limit::Unknown };
    Some((Finding::new(&CODE, &*sheet.name, what, used, limit), diagnostic))
}

fn name<'a>(subject: &Subject<'a>, work: &SheetWork) -> &'a str {
    subject.graph.sheet(work.sheet).map_or("", |sheet: &Sheet| &sheet.name)
}

/// How many more there is room for, of each kind of shelf.
fn spare_shelves(work: &SheetWork, plan: &Plan) -> impl Iterator<Item = usize> {
    let shelves = work.rows.iter().enumerate().filter(|(_, row)| row.role == Some(Role::Shelf));
    shelves.map(|(row, _)| work.spare_room(plan, row)).map(|room| room.in_rips + room.beside)
}

fn hardly_used(
    subject: &Subject<'_>,
    work: &SheetWork,
    plan: &Plan,
    [used, offered]: [Length; 2],
) -> Diagnostic {
    let marks = subject.marks();
    let (bought, name) = (work.bought(plan), name(subject, work));
    let message = format!(
        "{}one of the {bought} sheets of `{name}` is used over only {} of its {}",
        whose(work, plan),
        marks.print(used).text(),
        marks.print(offered).text()
    );
    let found = substitutes(work, plan);
    let help = match found.first() {
        Some(found) => {
            format!("{}; `scantling show shopping` has all", found.words(subject.model, name))
        }
        None => match spare_shelves(work, plan).max().unwrap_or(0) {
            0 => "what is left of it is an offcut to keep".to_owned(),
            1 => "what is left over has room for a spare shelf".to_owned(),
            room => format!("what is left over has room for {room} spare shelves"),
        },
    };
    Diagnostic::new(&CODE, message).help(help)
}

/// Of which layout is spoken, where the printed one may be another.
fn whose(work: &SheetWork, plan: &Plan) -> &'static str {
    if is_usual(&work.job, plan) { "" } else { "in a quick layout " }
}

fn no_spare(subject: &Subject<'_>, work: &SheetWork, plan: &Plan) -> Option<Diagnostic> {
    let most = spare_shelves(work, plan).max()?;
    if subject.model.project.spares > 0 || most > 0 {
        return None;
    }
    let (bought, name) = (work.bought(plan), name(subject, work));
    let sheets = if bought == 1 { "the one sheet".to_owned() } else { format!("the {bought} sheets") };
    let help = match work.with_spares(1, Effort::Quick).map(|plan| work.bought(&plan)) {
        Ok(more) if more > bought => {
            format!("take care, or state `spares = 1` in the project: then it is {more} sheets")
        }
        _ => "take care, or state `spares = 1` in the project".to_owned(),
    };
    Some(
        Diagnostic::new(&CODE, format!("{}no spare shelf fits on {sheets} of `{name}`", whose(work, plan)))
            .help(help),
    )
}
