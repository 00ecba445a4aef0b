//! `scantling mark STATE sheet NUMBER..`: all that is cut from a sheet of the layout; and the layout itself, which is followed from
//! then on.

use super::{exact, fail, name};
use crate::breakdown::{PlannedSheet, SheetWork, Source};
use crate::cli::Failure;
use crate::compile::Compilation;
use crate::diag::nearest;
use crate::parts::{Followed, PartGraph, Piece, PieceIs};
use crate::progress::without_sheets;
use crate::quantity::{Length, Marks};
use crate::report::printable_line;
use crate::source::Sources;
use camino::Utf8PathBuf;
use std::collections::{BTreeMap, BTreeSet};

/// Sheets by their numbers, and the stock that they are of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Sheets {
    pub numbers: Vec<u64>,
    pub of: Option<String>,
}

/// The words `sheet 3 4 of ply`; `None` where they begin otherwise.
pub(super) fn read(words: &[&str]) -> Option<Result<Sheets, Failure>> {
    let ["sheet" | "sheets", words @ ..] = words else { return None };
    let is_number = |word: &&&str| word.chars().all(|c| c.is_ascii_digit()) && !word.is_empty();
    let count = words.iter().take_while(is_number).count();
    let (numbers, of) = words.split_at(count);
    let numbers: Result<Vec<u64>, _> = numbers.iter().map(|number| number.parse()).collect();
    let of = match of {
        [] => Ok(None),
        ["of", of] => Ok(Some((*of).to_owned())),
        _ => Err(()),
    };
    Some(match (numbers, of) {
        (Ok(numbers), Ok(of)) if !numbers.is_empty() => Ok(Sheets { numbers, of }),
        _ => Err(fail(
            format!("`sheet {}` cannot be read", printable_line(&words.join(" "))),
            "write the numbers that the layouts have: `sheet 3`, `sheets 3 4 of ply`",
        )),
    })
}

/// What is cut from the sheets that are asked for.
pub(super) struct Found {
    /// The paths of the parts.
    pub parts: Vec<String>,
    /// The places of the stocks among the works whose layouts are to be kept.
    pub kept: BTreeSet<usize>,
    /// `sheet 3 of ply`.
    pub says: String,
}

/// Finds the parts of sheets that are asked for at a place of a list, by the layout that is printed now or by the one that is followed.
///
/// # Errors
/// [`Failure`] where there is no such stock or number.
pub(super) fn find(
    asked: &Sheets,
    at: &str,
    compilation: &Compilation,
    works: &[SheetWork],
) -> Result<Found, Failure> {
    let graph = &compilation.graph;
    // All stocks that have a layout, or had one.
    let mut stocks: BTreeMap<String, Option<usize>> = BTreeMap::new();
    for followed in &graph.followed {
        stocks.insert(called(followed), None);
    }
    for (place, work) in works.iter().enumerate() {
        let name = graph.sheet(work.sheet).map(|sheet| sheet.name.to_string()).unwrap_or_default();
        stocks.insert(name, Some(place));
    }
    let names = || stocks.keys().map(String::as_str);
    let all = || names().map(|name| format!("`of {name}`")).collect::<Vec<_>>().join(", ");
    let of = match (&asked.of, stocks.len()) {
        (_, 0) => {
            return Err(fail(
                format!("{at}there are no sheets in this project"),
                "name parts by their paths",
            ));
        }
        (Some(of), _) => of.clone(),
        (None, 1) => names().next().unwrap_or_default().to_owned(),
        (None, _) => {
            let message = format!("{at}it is not said of which stock the sheet is");
            return Err(fail(message, &format!("add one of {}", all())));
        }
    };
    let Some(place) = stocks.get(&of).copied() else {
        let help = match nearest(&of, names()) {
            Some(near) => format!("did you mean `of {near}`?"),
            None => format!("there are {}", all()),
        };
        return Err(fail(format!("{at}no sheets of `{}` are cut", printable_line(&of)), &help));
    };
    let planned = place.and_then(|place| works.get(place)).map(SheetWork::one_by_one).unwrap_or_default();
    let (mut parts, mut kept) = (Vec::new(), BTreeSet::new());
    for number in &asked.numbers {
        // What was cut of a sheet that is followed is part of it too.
        let whole = graph.followed.iter().find(|own| called(own) == of && own.number == *number);
        let follows = place.and_then(|place| works.get(place)).is_some_and(SheetWork::is_followed);
        let whole = whole.filter(|own| follows || graph.is_begun(own));
        let is_part = |piece: &&Piece| piece.is == PieceIs::Part && graph.named(&piece.path).is_some();
        match (whole, planned.iter().find(|sheet| sheet.number == *number)) {
            (Some(whole), _) => parts.extend(whole.pieces().filter(is_part).map(|piece| piece.path.clone())),
            (None, Some(sheet)) => {
                kept.extend(place);
                let own = sheet.rips.iter().flatten().filter(is_part);
                parts.extend(own.map(|piece| piece.path.clone()));
            }
            (None, None) => {
                let message = format!("{at}there is no sheet {number} of {of}");
                let numbers: Vec<String> = planned.iter().map(|sheet| sheet.number.to_string()).collect();
                let help = match numbers.as_slice() {
                    [] => "all that is cut from it is marked".to_owned(),
                    _ => format!("`scantling show layouts` has {}", numbers.join(", ")),
                };
                return Err(fail(message, &help));
            }
        }
    }
    let numbers: Vec<String> = asked.numbers.iter().map(u64::to_string).collect();
    let word = if numbers.len() == 1 { "sheet" } else { "sheets" };
    Ok(Found { parts, kept, says: format!("{word} {} of {of}", numbers.join(", ")) })
}

/// The name of the stock of a sheet, as the layouts have it.
fn called(followed: &Followed) -> String {
    match &followed.lot {
        Some(lot) => format!("{}.{lot}", followed.of),
        None => followed.of.to_string(),
    }
}

/// The text with the layouts of these works as they are now, in the place of those that were followed before.
pub(super) fn keep(
    text: &str,
    compilation: &Compilation,
    works: &[SheetWork],
    kept: &BTreeSet<usize>,
) -> String {
    let (graph, marks) = (&compilation.graph, compilation.model.project.marks);
    let works: Vec<&SheetWork> = kept.iter().filter_map(|place| works.get(*place)).collect();
    let is_of = |own: &Followed, work: &SheetWork| {
        graph.sheet(work.sheet).is_some_and(|sheet| own.is_of(sheet.sold_as(), sheet.lot()))
    };
    let old = |own: &Followed| !graph.is_begun(own) && works.iter().any(|work| is_of(own, work));
    let file = Sources::default().add(Utf8PathBuf::new(), text.to_owned());
    let mut out = without_sheets(file, text, old);
    for work in &works {
        let Some(sheet) = graph.sheet(work.sheet) else { continue };
        out.push('\n');
        for planned in work.one_by_one() {
            out.push_str(&block(&planned, (sheet.sold_as(), sheet.lot()), marks));
        }
    }
    out
}

/// The text without the layouts of which nothing is cut any more, where the parts that are cut are those for which `is_cut` holds.
pub(super) fn dropped(text: &str, graph: &PartGraph, is_cut: impl Fn(&str) -> bool) -> String {
    let begun = |own: &Followed| {
        own.pieces().any(|piece| match piece.is {
            PieceIs::Part => is_cut(&piece.path),
            PieceIs::Spare => false,
            PieceIs::Spoilt => true,
        })
    };
    let stays: BTreeSet<String> = graph.followed.iter().filter(|own| begun(own)).map(called).collect();
    let file = Sources::default().add(Utf8PathBuf::new(), text.to_owned());
    without_sheets(file, text, |own| !stays.contains(&called(own)))
}

fn block(sheet: &PlannedSheet<'_>, (of, lot): (&str, Option<&str>), marks: Marks) -> String {
    let size = |[one, other]: [Length; 2]| format!("{} x {}", exact(one, marks), exact(other, marks));
    let mut text = format!("sheet {{\n  what = {}\n", name(of));
    let mut line = |what: &str, value: String| text.push_str(&format!("  {what} = {value}\n"));
    if let Some(lot) = lot {
        line("lot", name(lot));
    }
    line("number", sheet.number.to_string());
    line("size", size([sheet.stock.size.0, sheet.stock.size.1]));
    if sheet.stock.source == Source::Offcut {
        line("offcut", name(&sheet.stock.name));
    }
    if sheet.across {
        line("across", "true".to_owned());
    }
    let rips = sheet.rips.iter().map(|rip| {
        let pieces: Vec<String> = rip.iter().map(piece).collect();
        format!("    [{}]", pieces.join(", "))
    });
    line("rips", format!("[\n{}\n  ]", rips.collect::<Vec<_>>().join(",\n")));
    if !sheet.left.is_empty() {
        let left: Vec<String> = sheet.left.iter().map(|left| size(*left)).collect();
        line("left", format!("[{}]", left.join(", ")));
    }
    text.push_str("}\n");
    text
}

fn piece(piece: &Piece) -> String {
    let before = match piece.is {
        PieceIs::Part => "",
        PieceIs::Spare => "spare ",
        PieceIs::Spoilt => "spoilt ",
    };
    match (before, piece.turned) {
        ("", false) => piece.path.clone(),
        (before, turned) => {
            format!("\"{before}{}{}\"", piece.path, if turned { " turned" } else { "" })
        }
    }
}
