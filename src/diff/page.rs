//! A difference as a document for people, and as one line for a commit message.

use super::meant::made;
use super::sizes::SizeChange;
use super::{Action, Because, Diff, Groove, Grooving, Meant, PieceChange, Side, Total, TotalOf};
use crate::document::{CAUTIONS, Cell, Document, Table, figures, words};
use crate::parts::{PartGraph, Role};
use crate::quantity::some;
use crate::sheets::by_unit;
use std::collections::BTreeSet;

fn cell(text: impl Into<String>) -> Cell {
    Cell::Words(text.into())
}

fn figure(text: Option<&String>) -> Cell {
    Cell::Figure(text.cloned().unwrap_or_default())
}

/// The document: money, sheets and days; parts by what to do; sizes by cause; sheets to print again.
#[must_use]
pub fn document(diff: &Diff, old: Side<'_>, new: Side<'_>) -> Document {
    let title = diff.project.as_deref().unwrap_or("Project without a title");
    let mut facts = vec![format!("{title}: from {} to {}", diff.old, diff.new)];
    if diff.is_empty() && diff.made.as_ref().is_none_or(|made| made.stays()) {
        facts.push("Nothing that is printed differs.".to_owned());
        let cautions = CAUTIONS.to_vec();
        return Document { title: "Revision".to_owned(), facts, cautions, ..Document::default() };
    }
    let mut tables = vec![leading(diff)];
    tables.extend(diff.made.as_ref().map(|meant| made(meant, new)));
    tables.push(parts(diff, old, new));
    tables.extend(grooves(diff, new));
    let structural = [Action::New, Action::Gone, Action::Alike];
    let come_or_go = diff.pieces.changes.iter().any(|change| structural.contains(&change.action));
    tables.extend(diff.because.iter().map(|of| because(of, come_or_go)));
    tables.extend(names(diff));
    tables.extend(lines(diff));
    tables.extend(bought(diff));
    tables.extend(messages(diff));
    tables.push(stale(diff));
    tables.retain(|table| !table.rows.is_empty() || table.foot.is_some());
    let (notes, cautions) = (Vec::new(), CAUTIONS.to_vec());
    Document { title: "Revision".to_owned(), facts, tables, notes, cautions }
}

fn rows<'a>(totals: impl Iterator<Item = &'a Total>) -> Vec<Vec<Cell>> {
    totals
        .map(|total| {
            let by = match &total.by {
                Some(by) => by,
                None if total.differs() => "",
                None => "as before",
            };
            let side = |side: &Option<String>| {
                Cell::Figure(side.clone().unwrap_or_else(|| without(total.of).to_owned()))
            };
            vec![cell(&total.what), side(&total.was), side(&total.is), cell(by)]
        })
        .collect()
}

/// What stands for a total that a side does not have.
fn without(of: TotalOf) -> &'static str {
    match of {
        TotalOf::Money => "no price",
        TotalOf::Days => "no date",
        TotalOf::Sheets | TotalOf::Stock | TotalOf::Hardware | TotalOf::Product => "none",
    }
}

fn leading(diff: &Diff) -> Table {
    let stock = [TotalOf::Money, TotalOf::Sheets, TotalOf::Stock];
    let stock = diff.totals.iter().filter(|total| stock.contains(&total.of));
    let mut days = diff.totals.iter().filter(|total| total.of == TotalOf::Days);
    // Of the days the last says enough where none differs.
    let differs = days.clone().any(Total::differs);
    let days: Vec<&Total> =
        if differs { days.filter(|t| t.differs()).collect() } else { days.next_back().into_iter().collect() };
    Table {
        caption: "Money, sheets and days; what is bought of boards is an estimate".to_owned(),
        columns: vec![words("what"), figures("was"), figures("is"), words("")],
        rows: rows(stock.chain(days)),
        foot: None,
    }
}

fn bought(diff: &Diff) -> Option<Table> {
    let bought = |total: &&Total| matches!(total.of, TotalOf::Hardware | TotalOf::Product) && total.differs();
    let rows = rows(diff.totals.iter().filter(bought));
    (!rows.is_empty()).then(|| Table {
        caption: "Also bought; all but counts are estimates".to_owned(),
        columns: vec![words("what"), figures("was"), figures("is"), words("")],
        rows,
        foot: None,
    })
}

/// What becomes of a part, in words.
fn action(action: Action) -> &'static str {
    match action {
        Action::Smaller => "smaller",
        Action::Other => "other size",
        Action::New => "new",
        Action::Gone => "goes",
        Action::Alike => "new, like one that goes",
    }
}

/// How a part is cut, was and is: only what differs, where one side of it stays.
fn sizes(change: &PieceChange) -> String {
    let whole = |cut: &super::CutSize| format!("{} x {}", cut.width.print, cut.length.print);
    match (&change.was, &change.is) {
        (Some(was), Some(is)) if was == is => whole(is),
        (Some(was), Some(is)) if was.stock == is.stock && was.width == is.width => {
            format!("{} -> {} long", was.length.print, is.length.print)
        }
        (Some(was), Some(is)) if was.stock == is.stock && was.length == is.length => {
            format!("{} -> {} wide", was.width.print, is.width.print)
        }
        (Some(was), Some(is)) => format!("{} -> {}", whole(was), whole(is)),
        (Some(cut), None) | (None, Some(cut)) => whole(cut),
        (None, None) => String::new(),
    }
}

/// Equal changes: their cells, the first of them, all paths.
type PartRows<'a> = (Vec<Cell>, &'a PieceChange, Vec<String>);

fn parts(diff: &Diff, old: Side<'_>, new: Side<'_>) -> Table {
    let mut groups: Vec<PartRows<'_>> = Vec::new();
    for change in &diff.pieces.changes {
        let stock = change.is.as_ref().or(change.was.as_ref()).map_or("", |cut| cut.stock.as_str());
        let key = vec![
            cell(action(change.action)),
            cell(format!("{} of {stock}", change.role)),
            cell(sizes(change)),
        ];
        match groups.iter_mut().find(|(other, ..)| *other == key) {
            Some((.., names)) => names.push(change.path.clone()),
            None => groups.push((key, change, vec![change.path.clone()])),
        }
    }
    let rows = groups.into_iter().map(|(key, change, names)| {
        let graph = if change.action == Action::Gone { old.graph } else { new.graph };
        let mut row = vec![Cell::Figure(names.len().to_string())];
        row.extend(key);
        row.push(Cell::Lines(by_unit(graph, &names)));
        row
    });
    Table {
        caption: format!("Parts, as planned: {}", counts(diff)),
        columns: vec![figures("count"), words("now"), words("part"), words("as cut"), words("names")],
        rows: rows.collect(),
        foot: diff.pieces.changes.is_empty().then(|| "every part stays as it is".to_owned()),
    }
}

/// `41 as before, 68 of other size`
fn counts(diff: &Diff) -> String {
    let kinds = [
        (Action::Smaller, "smaller"),
        (Action::Other, "of other size"),
        (Action::New, "new"),
        (Action::Gone, "gone"),
        (Action::Alike, "new like ones that go"),
    ];
    let counts = kinds.map(|(action, words)| (diff.pieces.count(action), words));
    let told = counts.iter().filter(|(count, _)| *count > 0).map(|(count, words)| format!("{count} {words}"));
    std::iter::once(format!("{} as before", diff.pieces.unchanged)).chain(told).collect::<Vec<_>>().join(", ")
}

fn groove_words(groove: &Groove) -> &'static str {
    match groove.what {
        Grooving::Moved => "moves",
        Grooving::Added => "comes",
        Grooving::Removed => "goes",
        Grooving::Resized => "other size",
    }
}

/// Whether a path is that of a side of a unit; else it is a divider, or a stile of a frame.
fn is_side(graph: &PartGraph, path: &str) -> bool {
    let part = graph.named(path).and_then(|id| graph.part(id));
    part.is_some_and(|part| matches!(part.role, Role::Side(_)))
}

/// Sides by their units, then whatever else is grooved or mortised, by its path.
fn hosts(new: Side<'_>, paths: &[String]) -> Vec<String> {
    let (sides, others): (Vec<&String>, Vec<&String>) =
        paths.iter().partition(|path| is_side(new.graph, path));
    let sides: Vec<String> = sides.into_iter().cloned().collect();
    by_unit(new.graph, &sides).into_iter().chain(others.into_iter().cloned()).collect()
}

fn grooves(diff: &Diff, new: Side<'_>) -> Option<Table> {
    let rows = diff.grooves.iter().map(|groove| {
        vec![
            cell(if groove.mark.is_empty() { "all" } else { &groove.mark }),
            cell(groove_words(groove)),
            figure(groove.was.as_ref()),
            figure(groove.is.as_ref()),
            Cell::Lines(hosts(new, &groove.sides)),
        ]
    });
    let rows: Vec<_> = rows.collect();
    (!rows.is_empty()).then(|| Table {
        caption: if diff.grooves.iter().all(|groove| groove.only_sides) {
            "Marks and grooves on the sides".to_owned()
        } else {
            "Marks, grooves and mortises".to_owned()
        },
        columns: vec![words("mark"), words(""), figures("was"), figures("is"), words("on")],
        rows,
        foot: None,
    })
}

/// `sheet thickness is 45/64", not 23/32" (a.scant:36)`
fn reasons(because: &Because, come_or_go: bool) -> String {
    let each = |cause: &super::Cause| {
        let place = cause.is_in.as_ref().or(cause.was_in.as_ref());
        let place = place.map(|place| format!(" ({place})")).unwrap_or_default();
        format!("{} is {}, not {}{place}", cause.name, cause.is, cause.was)
    };
    let mut reasons: Vec<String> = because.causes.iter().take(4).map(each).collect();
    match because.causes.len().checked_sub(4) {
        None | Some(0) => {}
        Some(more) => reasons.push(format!("and {more} more")),
    }
    if because.structure {
        let words = if come_or_go { "parts come or go" } else { "it follows in another way" };
        reasons.push(words.to_owned());
    }
    reasons.join("; ")
}

fn because(because: &Because, come_or_go: bool) -> Table {
    let row = |size: &SizeChange| {
        vec![
            Cell::Figure(size.count.to_string()),
            cell(format!("{}, {}", size.what, size.size)),
            Cell::Figure(size.was.clone()),
            Cell::Figure(size.is.clone()),
            Cell::Figure(size.change.clone()),
        ]
    };
    Table {
        caption: format!("Because {}", reasons(because, come_or_go)),
        columns: vec![figures("count"), words("size"), figures("was"), figures("is"), figures("by")],
        rows: because.sizes.iter().map(row).collect(),
        foot: None,
    }
}

/// What has another name now: units and runs, and what is renamed in them.
fn names(diff: &Diff) -> Option<Table> {
    let rows = diff.renamed.iter().map(|(was, is)| vec![cell(was), cell(is)]);
    let rows: Vec<_> = rows.collect();
    (!rows.is_empty()).then(|| Table {
        caption: "Called otherwise, by their places".to_owned(),
        columns: vec![words("was"), words("is")],
        rows,
        foot: None,
    })
}

/// Lines that no cause names: those behind parts that come or go.
fn lines(diff: &Diff) -> Option<Table> {
    let told = |line: &&super::Line| {
        let causes = diff.because.iter().flat_map(|because| &because.causes);
        causes.flat_map(|cause| [&cause.was_in, &cause.is_in]).flatten().any(|place| *place == line.place)
    };
    let rows: Vec<_> = diff
        .lines
        .iter()
        .filter(|line| !told(line))
        .take(20)
        .map(|line| vec![cell(if line.comes { "+" } else { "-" }), cell(&line.place), cell(&line.text)])
        .collect();
    (!rows.is_empty()).then(|| Table {
        caption: "Other lines of the text that differ".to_owned(),
        columns: vec![words(""), words("place"), words("line")],
        rows,
        foot: None,
    })
}

fn messages(diff: &Diff) -> Option<Table> {
    let rows = diff.messages.iter().map(|message| {
        vec![cell(if message.comes { "comes" } else { "goes" }), cell(message.slug), cell(&message.message)]
    });
    let rows: Vec<_> = rows.collect();
    (!rows.is_empty()).then(|| Table {
        caption: "Warnings and notes".to_owned(),
        columns: vec![words(""), words("about"), words("message")],
        rows,
        foot: None,
    })
}

fn stale(diff: &Diff) -> Table {
    let rows = diff.stale.iter().map(|stale| {
        let what =
            if stale.head_only { vec!["title or revision only".to_owned()] } else { stale.tables.clone() };
        vec![cell(stale.sheet), Cell::Lines(what)]
    });
    let valid = if diff.valid.is_empty() { "none".to_owned() } else { diff.valid.join(", ") };
    Table {
        caption: if diff.made.is_some() {
            "Sheets of the whole to print again"
        } else {
            "Sheets to print again"
        }
        .to_owned(),
        columns: vec![words("sheet"), words("because of")],
        rows: rows.collect(),
        foot: Some(format!("as printed before: {valid}")),
    }
}

/// Sheets and money, then days, as far as they differ: `1 sheet more, 78.00 USD more`, `full load 2 days later`.
fn leads(diff: &Diff) -> impl Iterator<Item = String> {
    let of = |of: TotalOf| diff.totals.iter().filter(move |total| total.of == of && total.differs());
    let single = diff.totals.iter().filter(|total| total.of == TotalOf::Sheets).count() == 1;
    let sheets = of(TotalOf::Sheets).filter_map(move |total| {
        let by = total.by.as_ref()?;
        Some(if single { by.clone() } else { format!("{}: {by}", total.what) })
    });
    let money = of(TotalOf::Money).filter_map(|total| total.by.clone());
    let last = of(TotalOf::Days).next_back().map(|day| match &day.by {
        Some(by) => format!("{} {by}", day.what),
        None => format!("{} {}", day.what, day.is.as_deref().unwrap_or("has no date now")),
    });
    // What is made has its own days.
    let last = last.filter(|_| diff.made.is_none());
    let bought: Vec<String> = sheets.chain(money).collect();
    (!bought.is_empty()).then(|| bought.join(", ")).into_iter().chain(last)
}

/// One line for a commit message.
#[must_use]
pub fn summary(diff: &Diff) -> String {
    if diff.is_empty() && diff.made.as_ref().is_none_or(Meant::stays) {
        return "nothing that is printed differs".to_owned();
    }
    let mut said: Vec<String> = leads(diff).collect();
    let mut causes: Vec<&super::Cause> = Vec::new();
    for cause in diff.because.iter().flat_map(|because| &because.causes) {
        if !causes.contains(&cause) {
            causes.push(cause);
        }
    }
    if let Some(cause) = causes.first() {
        let more = causes.len() - 1;
        let more = if more > 0 { format!(" and {more} more") } else { String::new() };
        said.push(format!("{} {} -> {}{more}", cause.name, cause.was, cause.is));
    }
    said.push(if diff.pieces.changes.is_empty() { "no part changes".to_owned() } else { counts(diff) });
    let sides: BTreeSet<&String> = diff.grooves.iter().flat_map(|groove| &groove.sides).collect();
    if !sides.is_empty() {
        let noun = if diff.grooves.iter().all(|groove| groove.only_sides) { "side" } else { "part" };
        said.push(format!("grooves on {}", some(sides.len(), noun)));
    }
    // What is printed is what is left, where something is made.
    said.push(match &diff.made {
        Some(made) => made.line(),
        None if diff.stale.is_empty() => "no sheet is stale".to_owned(),
        None => {
            let sheets: Vec<&str> = diff.stale.iter().map(|stale| stale.sheet).collect();
            format!("print again: {}", sheets.join(", "))
        }
    });
    said.join("; ")
}
