//! The breakdown at the saw: first the order of the whole job, then a page for each way to cut a sheet.

use super::{Leaf, PlaceSpec};
use crate::document::{AT_WORK, Block, Drawing, Step};
use crate::parts::{Piece, PieceIs};
use crate::quantity::{JsonLength, some};
use crate::sheets::{
    BoardGroup, LayoutGroup, Layouts, Pattern, SawStep, Sawing, Subject, boards, cut_table, figures as drawn,
    from_words, given_words, in_order, left_words, sawing, under_slope, which,
};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    far: true,
    by_unit: true,
    ..PlaceSpec::new(
        "breakdown",
        "at the saw: every setting once over all sheets, then each sheet with its drawing",
        make,
    )
};

/// One way to cut a sheet.
#[derive(Debug, Serialize)]
struct SheetPage<'a> {
    stock: &'a str,
    sheets: String,
    pattern: &'a Pattern,
    /// What comes of each of the sheets, by its number: the codes of the parts, spares with them.
    pieces: BTreeMap<u64, Vec<String>>,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let (layouts, drawings) = drawn(subject);
    let mut leaves = vec![order(subject, &sawing(subject), &layouts)];
    let pieces = pieces(subject);
    let patterns = layouts.groups.iter().flat_map(|group| group.patterns.iter().map(move |own| (group, own)));
    leaves.extend(
        patterns
            .zip(drawings)
            .map(|((group, own), drawings)| sheet(subject, group, (own, &pieces), drawings)),
    );
    let groups = boards(subject).groups;
    let laid_out = groups.iter().filter(|group| group.problem.is_none() && !group.cuts.is_empty());
    leaves.extend(laid_out.map(|group| sticks(subject, group)));
    leaves
}

/// The codes of the parts of every sheet, by the sheet good and its number.
type Pieces = BTreeMap<(String, u64), Vec<String>>;

fn pieces(subject: Subject<'_>) -> Pieces {
    let (graph, codes) = (subject.graph, subject.graph.codes());
    let mut pieces = Pieces::new();
    for work in subject.sheet_works() {
        let Some(stock) = graph.sheet(work.sheet) else { continue };
        for sheet in work.one_by_one() {
            let code = |piece: &Piece| match piece.is {
                PieceIs::Part => graph.named(&piece.path).and_then(|id| codes.get(&id)).cloned(),
                PieceIs::Spare | PieceIs::Spoilt => Some("a spare".to_owned()),
            };
            let own = sheet.rips.iter().flatten().filter_map(code).collect();
            pieces.insert((stock.name.to_string(), sheet.number), own);
        }
    }
    pieces
}

/// What is cut from boards of one width, or from sticks of one moulding.
#[derive(Debug, Serialize)]
struct BoardsPage<'a> {
    settings: Vec<BoardSetting>,
    boards: &'a BoardGroup,
}

/// A setting of fence or stop over all boards.
#[derive(Debug, Serialize)]
struct BoardSetting {
    /// Whether it is a rip, set by the fence; else a piece, set by the stop.
    rip: bool,
    setting: JsonLength,
    count: u64,
    gives: Vec<String>,
}

/// Each setting once over all boards: rips from the widest, then pieces from the longest.
fn settings(subject: Subject<'_>, group: &BoardGroup) -> Vec<BoardSetting> {
    let mut settings: Vec<BoardSetting> = Vec::new();
    let mut add = |rip: bool, setting: JsonLength, count: u64, gives: String| {
        let alike = |own: &&mut BoardSetting| own.rip == rip && own.setting.exact == setting.exact;
        match settings.iter_mut().find(alike) {
            Some(own) => {
                own.count = own.count.saturating_add(count);
                if !own.gives.contains(&gives) {
                    own.gives.push(gives);
                }
            }
            None => settings.push(BoardSetting { rip, setting, count, gives: vec![gives] }),
        }
    };
    for row in &group.cuts {
        if let Some(rip) = &row.rip {
            let what: BTreeSet<&str> = row.cut.iter().map(|(what, ..)| *what).collect();
            add(true, rip.clone(), row.count, what.into_iter().collect::<Vec<_>>().join(", "));
        }
        for (what, length, count) in &row.cut {
            add(false, subject.json(*length), count.saturating_mul(row.count), (*what).to_owned());
        }
    }
    settings.sort_by(|a, b| b.rip.cmp(&a.rip).then(b.setting.mm.total_cmp(&a.setting.mm)));
    settings
}

fn sticks(subject: Subject<'_>, group: &BoardGroup) -> Leaf {
    let value = BoardsPage { settings: settings(subject, group), boards: group };
    let title = format!("Breakdown: {}, {} wide", group.stock, group.width.print);
    let mut leaf = Leaf::new(subject, &PLACE, title, &value);
    let page = &mut leaf.page;
    for large in &group.too_large {
        page.push(Block::Caution(format!("{} {}: {}", large.count, large.part, large.problem)));
    }
    page.words(format!("{}.", group.proof));
    let setting = |own: &BoardSetting| {
        let count = usize::try_from(own.count).unwrap_or(usize::MAX);
        let (cut, what) = if own.rip { ("rip", "rip") } else { ("crosscut", "piece") };
        Step::new(format!("{cut}: {} for {}", some(count, what), own.gives.join(", ")))
            .set(own.setting.print.clone())
    };
    page.steps("Settings, each once", value.settings.iter().map(setting).collect());
    page.table(cut_table(group, "Board by board".to_owned(), None));
    let parts = group.paths.iter().filter(|path| subject.graph.named(path).is_some());
    let marks: Vec<String> = parts.map(|path| format!("{path} cut")).collect();
    if !marks.is_empty() {
        let says =
            format!("all of {} is cut, first and last piece of each setting are measured", group.stock);
        page.steps("When it is cut", vec![Step { marks, ..Step::new(says) }]);
    }
    page.cautions.push(AT_WORK);
    leaf
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
    let sizes = sizes(subject);
    let setting = |step: &SawStep| {
        let why = sizes.get(&(step.is_width, step.setting.exact.clone())).cloned();
        Step { why: why.unwrap_or_default(), ..setting(step) }
    };
    page.steps("Settings, each once", sawing.steps.iter().map(setting).collect());
    let corners = corners(subject);
    if !corners.is_empty() {
        page.steps("Corners under a slope, when all sides are cut to size", corners);
    }
    for near in &sawing.near {
        page.words(format!("{}.", near.says));
    }
    page.cautions.push(AT_WORK);
    leaf
}

/// What is cut off along a slope, each cut once with the parts that have it.
fn corners(subject: Subject<'_>) -> Vec<Step> {
    let mut cuts: Vec<(String, Vec<String>)> = Vec::new();
    for part in subject.graph.parts.iter().filter(|part| subject.graph.is_to_cut(part)) {
        let Some(cut) = under_slope(subject, part) else { continue };
        match cuts.iter_mut().find(|(own, _)| *own == cut) {
            Some((_, paths)) => paths.push(part.path.clone()),
            None => cuts.push((cut, vec![part.path.clone()])),
        }
    }
    let step = |(cut, paths): (String, Vec<String>)| Step {
        more: vec![format!("{} x: {}", paths.len(), paths.join(", "))],
        ..Step::new(cut)
    };
    cuts.into_iter().map(step).collect()
}

/// The path of the first part of each width and of each length, by whether it is a width and by the exact size.
fn sizes(subject: Subject<'_>) -> BTreeMap<(bool, String), String> {
    let mut sizes = BTreeMap::new();
    for part in &subject.graph.parts {
        for (is_width, size, measure) in
            [(true, part.size.width, "width"), (false, part.size.length, "length")]
        {
            let exact = subject.json(size.value).exact;
            sizes.entry((is_width, exact)).or_insert_with(|| format!("{}.{measure}", part.path));
        }
    }
    sizes
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
fn sheet(
    subject: Subject<'_>,
    group: &LayoutGroup,
    (pattern, pieces): (&Pattern, &Pieces),
    figure: Option<Drawing>,
) -> Leaf {
    let sheets = which(pattern, group);
    let of = |number: &u64| Some((*number, pieces.get(&(group.stock.clone(), *number))?.clone()));
    let pieces = pattern.numbers.iter().filter_map(of).collect();
    let value = SheetPage { stock: &pattern.stock, sheets: sheets.clone(), pattern, pieces };
    let title = format!("Breakdown: {}, {sheets}", pattern.stock);
    let mut leaf = Leaf::new(subject, &PLACE, title, &value);
    let page = &mut leaf.page;
    if let Some(figure) = figure {
        page.push(Block::Drawing(Box::new(Drawing { title: page.title.clone(), ..figure })));
    }
    let steps = pattern.steps.iter().map(|step| {
        Step::new(format!("{}. {}: {}", step.number, step.cut, step.gives)).set(step.setting.print.clone())
    });
    page.steps("Cuts", steps.collect());
    let left: Vec<String> = pattern.left.iter().map(left_words).collect();
    if !left.is_empty() {
        page.words(format!("Left: {}.", left.join("; ")));
    }
    if !pattern.ride.is_empty() {
        page.words(pattern.ride.clone());
    }
    let done = pattern.numbers.iter().map(|number| Step {
        marks: vec![format!("sheet {number} of {} cut", group.stock)],
        more: value.pieces.get(number).map(|codes| codes.join(", ")).into_iter().collect(),
        ..Step::new(format!(
            "sheet {number} is cut, each piece has its label on it, first and last are measured"
        ))
    });
    page.steps("When a sheet is cut", done.collect());
    page.cautions.push(AT_WORK);
    leaf
}
