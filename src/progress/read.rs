//! The text of a progress file: blocks of what is made and of what is bought.

use super::codes;
use crate::diag::{Code, Diagnostic, Sink, nearest};
use crate::parts::{Bought, Each, Facts, Followed, Piece, PieceIs, State};
use crate::quantity::{Dim, Exact, Length, Rational, some};
use crate::source::{FileId, Span};
use crate::syntax::{self, Binary, Declaration, Entry, EntryKind, Expr, ExprKind, Property};
use num_traits::Signed;
use std::sync::Arc;

/// What a block of made parts can state besides states.
const FACTS: [&str; 6] = ["stock", "lot", "thickness", "size", "marks", "grooves"];

/// What a block of a sheet can state.
const SHEET: [&str; 8] = ["what", "lot", "number", "size", "offcut", "across", "rips", "left"];

/// What a block of something bought can state.
const PURCHASE: [&str; 5] = ["what", "lot", "count", "each", "paid"];

/// A stated state, before it is known which parts it is about.
pub(super) struct Stated {
    pub state: State,
    pub pattern: String,
    pub span: Span,
}

/// A block of parts that are made alike.
#[derive(Default)]
pub(super) struct Block {
    pub states: Vec<Stated>,
    pub facts: Facts,
}

/// What stands in a progress file.
#[derive(Default)]
pub(super) struct Text {
    pub blocks: Vec<Block>,
    pub bought: Vec<Bought>,
    pub sheets: Vec<Followed>,
    pub hours: Vec<Hours>,
}

/// A block of hours, before it is known which parts it is about.
pub(super) struct Hours {
    pub states: Vec<Stated>,
    pub took: Rational,
    pub span: Span,
}

/// Reads the text of the progress file of a project that reckons in a currency.
pub(super) fn read(file: FileId, text: &str, currency_of: Option<&str>, sink: &mut Sink) -> Text {
    let mut read = Text::default();
    let parsed = syntax::parse(file, text, sink);
    // What follows a block that is never closed stands in it only because of that.
    let unclosed = sink.all().iter().any(|told| std::ptr::eq(told.code, &syntax::codes::UNCLOSED));
    for entry in &parsed.items {
        let EntryKind::Declaration(Declaration { kind, block: Some(entries), .. }) = &entry.kind else {
            other(entry, sink);
            continue;
        };
        match &*kind.text {
            "made" => read.blocks.push(made(entries, unclosed, sink)),
            "bought" => read.bought.extend(bought((kind.span, unclosed), entries, currency_of, sink)),
            "hours" => read.hours.extend(hours((kind.span, unclosed), entries, sink)),
            "sheet" => {
                let sheet = sheet((kind.span, unclosed), entries, sink);
                read.sheets.extend(sheet.filter(|sheet| is_new(sheet, &read.sheets, sink)));
            }
            _ => not_here(kind.span, sink),
        }
    }
    read
}

fn other(entry: &Entry, sink: &mut Sink) {
    if !matches!(entry.kind, EntryKind::Broken) {
        not_here(entry.span, sink);
    }
}

fn not_here(span: Span, sink: &mut Sink) {
    let message = "only `made`, `bought`, `sheet` and `hours` stand in a progress file";
    let help = "write `made { cut = [books.left.shelf] }`; what is decided belongs in the project";
    sink.push(Diagnostic::new(&codes::ONLY_MADE, message).at(span, "").help(help));
}

/// The properties of a block; everything else in it is told, but for a block that stands in one which is never closed.
fn properties<'a>(entries: &'a [Entry], unclosed: bool, sink: &mut Sink) -> Vec<&'a Property> {
    let mut all = Vec::new();
    for entry in entries {
        match &entry.kind {
            EntryKind::Property(property) => all.push(property),
            EntryKind::Declaration(Declaration { kind, .. })
                if unclosed && ["made", "bought", "hours", "sheet"].contains(&&*kind.text) => {}
            _ => other(entry, sink),
        }
    }
    all
}

fn unknown<'a>(
    (code, what): (&'static Code, &str),
    property: &Property,
    known: impl Iterator<Item = &'a str> + Clone,
    sink: &mut Sink,
) {
    let word = &*property.name.text;
    let diagnostic = Diagnostic::new(code, format!("unknown {what} `{word}`")).at(property.name.span, "");
    sink.push(match nearest(word, known.clone()) {
        Some(near) => diagnostic.fix(property.name.span, near, format!("did you mean `{near}`?")),
        None => diagnostic.help(format!("there are {}", known.collect::<Vec<_>>().join(", "))),
    });
}

fn unread(property: &Property, help: &str, sink: &mut Sink) {
    if !matches!(property.value.kind, ExprKind::Broken) {
        let message = format!("`{}` cannot be read", property.name.text);
        sink.push(Diagnostic::new(&codes::NOT_READ, message).at(property.value.span, "").help(help));
    }
}

fn made(entries: &[Entry], unclosed: bool, sink: &mut Sink) -> Block {
    let mut block = Block::default();
    for property in properties(entries, unclosed, sink) {
        let (value, facts) = (&property.value, &mut block.facts);
        if let Some(state) = State::of(&property.name.text) {
            match states(state, value) {
                Some(states) => block.states.extend(states),
                None => unread(
                    property,
                    "write paths of parts: `cut = [books.left.shelf, \"books.*.side.left\"]`",
                    sink,
                ),
            }
            continue;
        }
        let span = value.span;
        let (read, help) = match &*property.name.text {
            "stock" => (
                pattern(value).map(|stock| facts.stock = Some(stock.into())),
                "write the name of what it was cut from: `stock = ply`",
            ),
            "lot" => {
                (pattern(value).map(|lot| facts.lot = Some(lot.into())), "write its name: `lot = first`")
            }
            "thickness" => (
                positive(value).map(|thickness| facts.thickness = Some((thickness, span))),
                "write it as the caliper found it: `thickness = 23/32\"`",
            ),
            "size" => (
                size(value).map(|size| facts.size = Some((size, span))),
                "write width and length as cut: `size = 11 13/16\" x 31 5/16\"`",
            ),
            "marks" => (
                all(value, length).map(|marks| facts.marks = Some((marks, span))),
                "write the marks that are grooved: `marks = [3 1/2\", 19 1/4\"]`",
            ),
            "grooves" => (
                all(value, size).map(|grooves| facts.grooves = Some((grooves, span))),
                "write width and depth as grooved: `grooves = 23/32\" x 1/4\"`, or a list with one for each mark",
            ),
            _ => {
                let known = State::ALL.iter().map(|state| state.word()).chain(FACTS);
                unknown((&codes::NO_STATE, "state"), property, known, sink);
                continue;
            }
        };
        if read.is_none() {
            unread(property, help, sink);
        }
    }
    if let (Some((marks, _)), Some((sizes, at))) = (&block.facts.marks, &block.facts.grooves)
        && sizes.len() > 1
        && sizes.len() != marks.len()
    {
        let message = format!("{} have {} of grooves", some(marks.len(), "mark"), some(sizes.len(), "size"));
        let help = "write one size for all of them, or one for each mark, in the same order";
        sink.push(Diagnostic::new(&codes::NOT_READ, message).at(*at, "").help(help));
        block.facts.grooves = None;
    }
    block
}

fn bought(
    (at, unclosed): (Span, bool),
    entries: &[Entry],
    currency_of: Option<&str>,
    sink: &mut Sink,
) -> Option<Bought> {
    let (mut of, mut lot, mut count, mut each, mut paid, mut letters) =
        (None, None, Some(1), None, None, None);
    for property in properties(entries, unclosed, sink) {
        let value = &property.value;
        let (read, help) = match &*property.name.text {
            "what" => (
                pattern(value).map(|name| of = Some(name.into())),
                "write the name of what was bought: `what = ply`",
            ),
            "lot" => {
                (pattern(value).map(|name| lot = Some(Arc::from(name))), "write its name: `lot = second`")
            }
            "count" => (whole(value).map(|whole| count = Some(whole)), "write how many: `count = 6`"),
            "each" => (
                size(value).map(Each::Size).or_else(|| one(value)).map(|one| each = Some(one)),
                "write how large one is: `each = 96\" x 48\"` of a sheet, `each = 96\"` of a board, `each = 1 gal` of a can",
            ),
            "paid" => (
                quantity(value, Dim::MONEY).map(|sum| {
                    paid = Some(sum);
                    letters = currency(value).map(|letters| (letters, value.span));
                }),
                "write what all of it cost: `paid = 402 USD`",
            ),
            _ => {
                unknown((&codes::NO_PURCHASE, "property"), property, PURCHASE.into_iter(), sink);
                continue;
            }
        };
        if read.is_none() {
            unread(property, help, sink);
        }
    }
    if of.is_none() {
        let message = "it is not said what was bought";
        let help = "write `bought { what = ply, count = 6 }`";
        sink.push(Diagnostic::new(&codes::NOT_READ, message).at(at, "").help(help));
    }
    let currency = letters.map(|(letters, span)| {
        if let Some(own) = currency_of.filter(|own| **own != *letters) {
            let message = format!("it was paid in {letters}, and the project reckons in {own}");
            let help = format!("write what that came to in {own}");
            sink.push(Diagnostic::new(&codes::NOT_READ, message).at(span, "").help(help));
        }
        letters
    });
    Some(Bought { of: of?, lot, count: count?, each, paid, currency, span: at })
}

/// What some parts took to come to a state.
fn hours((at, unclosed): (Span, bool), entries: &[Entry], sink: &mut Sink) -> Option<Hours> {
    let (mut stated, mut took) = (Vec::new(), None);
    let mut of = Vec::new();
    for property in properties(entries, unclosed, sink) {
        let value = &property.value;
        if let Some(state) = State::of(&property.name.text) {
            of.push(state);
            match states(state, value) {
                Some(states) => stated.extend(states),
                None => unread(property, "write paths of parts: `glued = [books.left]`", sink),
            }
        } else if &*property.name.text == "took" {
            took = quantity(value, Dim::TIME).filter(Signed::is_positive);
            if took.is_none() {
                unread(property, "write a time: `took = 2 h`, `took = 95 min`", sink);
            }
        } else {
            let known = State::ALL.iter().map(|state| state.word()).chain(["took"]);
            unknown((&codes::NO_STATE, "property"), property, known, sink);
        }
    }
    if of.len() != 1 || took.is_none() {
        if unclosed {
            return None;
        }
        let message = "hours are of one state and say how long it took";
        let help = "write `hours { glued = [books.left], took = 2 h }`";
        sink.push(Diagnostic::new(&codes::NOT_READ, message).at(at, "").help(help));
        return None;
    }
    Some(Hours { states: stated, took: took?, span: at })
}

/// A sheet of a layout that is followed.
pub(super) fn sheet((at, unclosed): (Span, bool), entries: &[Entry], sink: &mut Sink) -> Option<Followed> {
    let (mut of, mut lot, mut number, mut sold, mut offcut, mut across, mut rips, mut left) =
        (None, None, None, None, None, false, None, Vec::new());
    for property in properties(entries, unclosed, sink) {
        let value = &property.value;
        let (read, help) = match &*property.name.text {
            "what" => (
                pattern(value).map(|name| of = Some(Arc::from(name))),
                "write the name of the sheet good: `what = ply`",
            ),
            "lot" => {
                (pattern(value).map(|name| lot = Some(Arc::from(name))), "write its name: `lot = second`")
            }
            "number" => (whole(value).map(|whole| number = Some(whole)), "write its number: `number = 3`"),
            "size" => (
                size(value).map(|size| sold = Some(size)),
                "write length and width of the whole sheet: `size = 96\" x 48\"`",
            ),
            "offcut" => (
                pattern(value).map(|name| offcut = Some(Arc::from(name))),
                "write the name of the offcut: `offcut = rest`",
            ),
            "across" => {
                (truth(value).map(|is| across = is), "write `across = true` where it is cut across first")
            }
            "rips" => (
                all(value, |rip| all(rip, piece)).map(|all| rips = Some(all)),
                "write a list of rips, each a list of what is crosscut from it: `rips = [[wall.side.left, \"spare wall.shelf.a\"], [wall.top]]`",
            ),
            "left" => (
                all(value, size).map(|all| left = all),
                "write what is kept of it, width and length: `left = [12 1/4\" x 48\"]`",
            ),
            _ => {
                unknown((&codes::NO_PURCHASE, "property"), property, SHEET.into_iter(), sink);
                continue;
            }
        };
        if read.is_none() {
            unread(property, help, sink);
        }
    }
    let missing = [
        of.is_none().then_some("what"),
        number.is_none().then_some("number"),
        sold.is_none().then_some("size"),
        rips.is_none().then_some("rips"),
    ];
    let missing: Vec<String> = missing.into_iter().flatten().map(|name| format!("`{name}`")).collect();
    if !missing.is_empty() && !unclosed {
        let message = format!("this sheet is not told whole: {} missing", missing.join(", "));
        let help = "take the block out, and mark the sheet again: `scantling mark cut sheet 3`";
        sink.push(Diagnostic::new(&codes::NOT_READ, message).at(at, "").help(help));
    }
    let number = u64::try_from(number?).ok()?;
    Some(Followed { of: of?, lot, number, size: sold?, offcut, across, rips: rips?, left, span: at })
}

/// Whether a sheet is none of those before, which it is by its number; else that is told.
fn is_new(sheet: &Followed, before: &[Followed], sink: &mut Sink) -> bool {
    let same = |own: &&Followed| own.number == sheet.number && own.is_of(&sheet.of, sheet.lot.as_deref());
    let Some(own) = before.iter().find(same) else { return true };
    let message = format!("sheet {} of {} is told twice", sheet.number, sheet.of);
    let diagnostic = Diagnostic::new(&codes::NOT_READ, message).at(sheet.span, "not read");
    sink.push(diagnostic.and_at(own.span, "told here first").help("take one of the blocks out"));
    false
}

/// The path of a part, or in a text what is said of the piece and the path.
fn piece(value: &Expr) -> Option<Piece> {
    let text = pattern(value)?;
    let mut words: Vec<&str> = text.split_whitespace().collect();
    let turned = words.pop_if(|word| *word == "turned").is_some();
    let (is, path) = match words.as_slice() {
        ["spare", path] => (PieceIs::Spare, path),
        ["spoilt", path] => (PieceIs::Spoilt, path),
        [path] => (PieceIs::Part, path),
        _ => return None,
    };
    Some(Piece { path: (*path).to_owned(), is, turned })
}

fn truth(value: &Expr) -> Option<bool> {
    match &value.kind {
        ExprKind::Truth(is) => Some(*is),
        _ => None,
    }
}

fn states(state: State, value: &Expr) -> Option<Vec<Stated>> {
    let stated = |expr: &Expr| Some(Stated { state, pattern: pattern(expr)?, span: expr.span });
    list(value).iter().map(stated).collect()
}

/// The members of a list, or the one that stands without brackets.
pub(super) fn list(value: &Expr) -> &[Expr] {
    match &value.kind {
        ExprKind::List(items) => items,
        _ => std::slice::from_ref(value),
    }
}

fn all<T>(value: &Expr, read: impl Fn(&Expr) -> Option<T>) -> Option<Vec<T>> {
    list(value).iter().map(read).collect()
}

/// A path, or a text in its place.
pub(super) fn pattern(value: &Expr) -> Option<String> {
    match &value.kind {
        ExprKind::Path(path) => Some(path.to_string()),
        ExprKind::Text(text) => Some(text.to_string()),
        _ => None,
    }
}

fn exact(value: &Expr) -> Option<Exact> {
    match &value.kind {
        ExprKind::Number(literal) => {
            Some(Exact { value: literal.value, dim: literal.unit.map_or(Dim::NONE, |unit| unit.dim) })
        }
        _ => None,
    }
}

fn quantity(value: &Expr, dim: Dim) -> Option<Rational> {
    exact(value).filter(|exact| exact.dim == dim).map(|exact| exact.value)
}

/// The three letters of the currency of a sum.
fn currency(value: &Expr) -> Option<Arc<str>> {
    let ExprKind::Number(literal) = &value.kind else { return None };
    let letters = literal.unit?.currency?;
    std::str::from_utf8(&letters).ok().map(Arc::from)
}

fn length(value: &Expr) -> Option<Length> {
    exact(value)?.length()
}

fn positive(value: &Expr) -> Option<Length> {
    length(value).filter(|length| *length > Length::ZERO)
}

fn whole(value: &Expr) -> Option<usize> {
    let number = quantity(value, Dim::NONE).filter(Rational::is_integer)?;
    usize::try_from(number.to_integer()).ok().filter(|count| *count > 0)
}

fn size(value: &Expr) -> Option<[Length; 2]> {
    match &value.kind {
        ExprKind::Binary(Binary::By, width, long) => Some([length(width)?, length(long)?]),
        _ => None,
    }
}

fn one(value: &Expr) -> Option<Each> {
    positive(value).map(Each::Length).or_else(|| quantity(value, Dim::VOLUME).map(Each::Volume))
}
