//! The breakdown at the saw: first the order of the whole job, then a page for each way to cut a sheet.

use super::{Leaf, PlaceSpec};
use crate::document::{AT_WORK, Block, Drawing, Step};
use crate::quantity::some;
use crate::sheets::{
    LayoutGroup, Layouts, Pattern, SawStep, Sawing, Subject, drawn, from_words, given_words, in_order,
    left_words, sawing, which,
};
use serde::Serialize;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    far: true,
    early: false,
    name: "breakdown",
    about: "at the saw: every setting once over all sheets, then each sheet with its drawing",
    make,
};

/// One way to cut a sheet.
#[derive(Debug, Serialize)]
struct SheetPage<'a> {
    stock: &'a str,
    sheets: String,
    pattern: &'a Pattern,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let (layouts, drawings) = drawn(subject);
    let mut leaves = vec![order(subject, &sawing(subject), &layouts)];
    let patterns = layouts.groups.iter().flat_map(|group| group.patterns.iter().map(move |own| (group, own)));
    leaves
        .extend(patterns.zip(drawings).map(|((group, own), drawings)| sheet(subject, group, own, drawings)));
    leaves
}

/// The order of the whole job.
fn order(subject: Subject<'_>, sawing: &Sawing, layouts: &Layouts) -> Leaf {
    let mut leaf = Leaf::new(subject, &PLACE, "Breakdown: the whole job".to_owned(), sawing);
    let page = &mut leaf.page;
    for problem in &sawing.problems {
        page.push(Block::Caution(format!("{} is not laid out: {}", problem.stock, problem.problem)));
    }
    for group in layouts.groups.iter().filter(|group| group.problem.is_none()) {
        page.words(format!("{}: {}.", group.stock, group.proof));
    }
    page.words(sawing.order);
    if let Some(says) = in_order(sawing) {
        page.words(says);
    }
    page.steps("Settings, each once", sawing.steps.iter().map(setting).collect());
    for near in &sawing.near {
        page.words(format!("{}.", near.says));
    }
    page.cautions.push(AT_WORK);
    leaf
}

fn setting(step: &SawStep) -> Step {
    let cuts = if step.is_skim { some(step.count, "sheet") } else { some(step.count, "cut") };
    let mut more: Vec<String> = step.gives.iter().map(|given| given_words(step, given)).collect();
    more.extend(step.finish.clone());
    if !step.is_skim {
        let at = |sheet: &crate::sheets::SheetAt| format!("{} {}", sheet.stock, sheet.number);
        more.push(format!(
            "measure the first piece, of {}, and the last, of {}",
            at(&step.first),
            at(&step.last)
        ));
    }
    let says = format!("{}: {cuts}, {}", step.cut, from_words(step));
    Step { more, ..Step::new(says).set(step.setting.print.clone()) }
}

/// One way to cut a sheet, with a tick for each sheet.
fn sheet(subject: Subject<'_>, group: &LayoutGroup, pattern: &Pattern, drawings: Vec<Drawing>) -> Leaf {
    let sheets = which(pattern, group);
    let value = SheetPage { stock: &pattern.stock, sheets: sheets.clone(), pattern };
    let title = format!("Breakdown: {}, {sheets}", pattern.stock);
    let mut leaf = Leaf::new(subject, &PLACE, title, &value);
    let page = &mut leaf.page;
    for drawing in drawings {
        page.push(Block::Drawing(Box::new(drawing)));
    }
    let steps = pattern
        .steps
        .iter()
        .map(|step| Step::new(format!("{}: {}", step.cut, step.gives)).set(step.setting.print.clone()));
    page.steps("Cuts", steps.collect());
    let left = pattern.left.iter().map(|left| format!("left: {}", left_words(left)));
    let left: Vec<String> = left.chain((!pattern.ride.is_empty()).then(|| pattern.ride.clone())).collect();
    for says in left {
        page.words(says);
    }
    let done = pattern.numbers.iter().map(|number| Step {
        marks: vec![format!("sheet {number} of {} cut", group.stock)],
        ..Step::new(format!(
            "sheet {number} is cut, each piece has its unit on it, first and last are measured"
        ))
    });
    page.steps("When a sheet is cut", done.collect());
    page.cautions.push(AT_WORK);
    leaf
}
