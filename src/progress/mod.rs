//! `NAME.progress.scant` beside `NAME.scant`: how far parts are made, and whether the text has changed under those that are cut.
//!
//! ```text
//! made "first evening" {
//!   lot = first
//!   size = 11 13/16" x 31 5/16"
//!   cut = [sewing.one.shelf, "sewing.*.shelf.binders"]
//! }
//! ```
//! A path stands for everything under it, `*` in a text for any one step. `size` and `marks` keep what was made, so that a
//! later change of the text is noticed.

pub mod codes;
mod edit;
mod place;

use crate::diag::{Diagnostic, Sink, nearest};
use crate::limits::DIAGNOSTICS;
use crate::parts::{JointKind, Made, PartGraph, PartId, State};
use crate::quantity::{Dim, Length, Marks};
use crate::source::{FileId, Span};
use crate::syntax::{self, Binary, Declaration, Entry, EntryKind, Expr, ExprKind};
pub use edit::{lot, taken_back};
pub use place::{doubt, is_progress, no_project, old, own, place};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Bound;
use std::sync::Arc;

/// What a block can state besides states.
const PROPERTIES: [&str; 3] = ["lot", "size", "marks"];

/// A stated state, before it is known which parts it is about.
struct Stated {
    state: State,
    pattern: String,
    span: Span,
}

#[derive(Default)]
struct Block {
    states: Vec<Stated>,
    lot: Option<Arc<str>>,
    size: Option<([Length; 2], Span)>,
    marks: Option<(Vec<Length>, Span)>,
}

/// Reads the text of a progress file and enters what it says into the graph; then tells what has changed under parts
/// that are made.
pub fn enter(file: FileId, text: &str, graph: &mut PartGraph, marks: Marks, sink: &mut Sink) {
    let parsed = syntax::parse(file, text, sink);
    let (mut entered, mut unknown) = (BTreeMap::new(), 0);
    let by_path = graph.by_path();
    for entry in &parsed.items {
        let Some(block) = block(entry, sink) else { continue };
        for stated in &block.states {
            let found = matching(&stated.pattern, graph, &by_path);
            if found.is_empty() {
                let message = format!("unknown part `{}`", stated.pattern);
                let diagnostic = Diagnostic::new(&codes::NO_PART, message).at(stated.span, "");
                unknown += 1;
                // More than are shown need no search.
                let near = (unknown <= DIAGNOSTICS).then(|| near(&stated.pattern, &by_path)).flatten();
                sink.push(match (graph.shared_before(&stated.pattern), near) {
                    (Some(shared), _) => diagnostic.help(shared),
                    (None, Some(near)) => diagnostic.help(format!("did you mean `{near}`?")),
                    (None, None) => diagnostic
                        .help("`scantling show parts FILE` lists all; delete what is no longer built"),
                });
            }
            for id in found {
                let made = entered.entry(id).or_insert_with(|| Made {
                    state: stated.state,
                    lot: None,
                    size: None,
                    marks: None,
                    span: stated.span,
                });
                made.state = made.state.max(stated.state);
                made.lot = block.lot.clone().or(made.lot.take());
                made.size = block.size.or(made.size);
                made.marks = block.marks.clone().or(made.marks.take());
                made.span = stated.span;
            }
        }
    }
    graph.made = entered;
    changed(graph, marks, sink);
}

fn block(entry: &Entry, sink: &mut Sink) -> Option<Block> {
    let EntryKind::Declaration(Declaration { kind, block: Some(entries), .. }) = &entry.kind else {
        if !matches!(entry.kind, EntryKind::Broken) {
            other(entry.span, sink);
        }
        return None;
    };
    if &*kind.text != "made" {
        other(kind.span, sink);
        return None;
    }
    let mut block = Block::default();
    for entry in entries {
        let EntryKind::Property(property) = &entry.kind else {
            if !matches!(entry.kind, EntryKind::Broken) {
                other(entry.span, sink);
            }
            continue;
        };
        let value = &property.value;
        let read = match (&*property.name.text, State::of(&property.name.text)) {
            (_, Some(state)) => {
                let mut patterns = Some(Vec::new());
                for expr in list(value) {
                    match (pattern(expr), &mut patterns) {
                        (Some(pattern), Some(all)) => all.push(Stated { state, pattern, span: expr.span }),
                        _ => patterns = None,
                    }
                }
                patterns.map(|patterns| block.states.extend(patterns))
            }
            ("lot", _) => pattern(value).map(|lot| block.lot = Some(lot.into())),
            ("size", _) => size(value).map(|size| block.size = Some((size, value.span))),
            ("marks", _) => {
                let marks: Option<Vec<Length>> = list(value).iter().map(length).collect();
                marks.map(|marks| block.marks = Some((marks, value.span)))
            }
            (word, _) => {
                let known = State::ALL.iter().map(|state| state.word()).chain(PROPERTIES);
                let near = nearest(word, known.clone());
                let diagnostic = Diagnostic::new(&codes::NO_STATE, format!("unknown state `{word}`"))
                    .at(property.name.span, "");
                sink.push(match near {
                    Some(near) => diagnostic.fix(property.name.span, near, format!("did you mean `{near}`?")),
                    None => diagnostic.help(format!("there are {}", known.collect::<Vec<_>>().join(", "))),
                });
                continue;
            }
        };
        if read.is_none() && !matches!(value.kind, ExprKind::Broken) {
            let help = match &*property.name.text {
                "size" => "write width and length as cut: `size = 11 13/16\" x 31 5/16\"`",
                "marks" => "write the marks that are grooved: `marks = [3 1/2\", 19 1/4\"]`",
                "lot" => "write its name: `lot = first`",
                _ => "write paths of parts: `cut = [books.left.shelf, \"books.*.side.left\"]`",
            };
            let message = format!("`{}` cannot be read", property.name.text);
            sink.push(Diagnostic::new(&codes::NOT_READ, message).at(value.span, "").help(help));
        }
    }
    Some(block)
}

fn other(span: Span, sink: &mut Sink) {
    let message = "only `made` stands in a progress file";
    let help = "write `made { cut = [books.left.shelf] }`; what is decided belongs in the project";
    sink.push(Diagnostic::new(&codes::ONLY_MADE, message).at(span, "").help(help));
}

fn list(value: &Expr) -> &[Expr] {
    match &value.kind {
        ExprKind::List(items) => items,
        _ => std::slice::from_ref(value),
    }
}

fn pattern(value: &Expr) -> Option<String> {
    match &value.kind {
        ExprKind::Path(path) => Some(path.to_string()),
        ExprKind::Text(text) => Some(text.to_string()),
        _ => None,
    }
}

fn length(value: &Expr) -> Option<Length> {
    match &value.kind {
        ExprKind::Number(literal) if literal.unit.is_some_and(|unit| unit.dim == Dim::LENGTH) => {
            Some(Length::from_mm(literal.value))
        }
        _ => None,
    }
}

fn size(value: &Expr) -> Option<[Length; 2]> {
    match &value.kind {
        ExprKind::Binary(Binary::By, width, long) => Some([length(width)?, length(long)?]),
        _ => None,
    }
}

/// The parts that a path or pattern stands for, in the order of their paths.
#[must_use]
pub fn matching(pattern: &str, graph: &PartGraph, parts: &BTreeMap<&str, PartId>) -> Vec<PartId> {
    if !pattern.contains('*') {
        // What had this path before may share its beginning with nothing.
        if let Some(id) = graph.named(pattern).filter(|_| !parts.contains_key(pattern)) {
            return vec![id];
        }
        let under = |path: &str| {
            path.strip_prefix(pattern).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        };
        let from = parts
            .range::<str, _>((Bound::Included(pattern), Bound::Unbounded))
            .take_while(|(path, _)| path.starts_with(pattern));
        return from.filter(|(path, _)| under(path)).map(|(_, id)| *id).collect();
    }
    let steps: Vec<&str> = pattern.split('.').collect();
    let fits = |path: &str| {
        let mut own = path.split('.');
        steps.iter().all(|step| own.next().is_some_and(|own| *step == "*" || *step == own))
    };
    parts.iter().filter(|(path, _)| fits(path)).map(|(_, id)| *id).collect()
}

/// The path most like one that leads to no part: of a part, or of what several parts stand under; `*` stays one.
#[must_use]
pub fn near(path: &str, parts: &BTreeMap<&str, PartId>) -> Option<String> {
    let asked: Vec<&str> = path.split('.').collect();
    let mut known = BTreeSet::new();
    for part in parts.keys() {
        let steps: Vec<&str> = part.split('.').collect();
        let like: Vec<&str> =
            asked.iter().zip(steps).map(|(asked, own)| if *asked == "*" { "*" } else { own }).collect();
        known.insert(like.join("."));
    }
    nearest(path, known.iter().map(String::as_str)).map(str::to_owned)
}

/// The heights of the grooves in a part, from the bottom, to the mark.
#[must_use]
pub fn grooves(graph: &PartGraph, host: PartId, marks: Marks) -> Vec<Length> {
    let joints =
        graph.joints.iter().filter(|joint| joint.host == host && !matches!(joint.kind, JointKind::Butt));
    let mut at: Vec<Length> = joints.map(|joint| marks.nearest(joint.at.value)).collect();
    at.sort();
    at
}

/// Width and length of a part as cut, to the mark.
#[must_use]
pub fn as_cut(graph: &PartGraph, id: PartId, marks: Marks) -> Option<[Length; 2]> {
    let cut = graph.part(id)?.cut();
    Some([cut.width, cut.length].map(|len| marks.nearest(len.value)))
}

/// Tells of parts that were made otherwise than the text has them now: one message for each size and list of marks.
fn changed(graph: &PartGraph, marks: Marks, sink: &mut Sink) {
    type Parts<'a> = Vec<&'a str>;
    let mut sizes: BTreeMap<(Span, [Length; 2], [Length; 2]), Parts<'_>> = BTreeMap::new();
    let mut grooved: BTreeMap<(Span, Vec<Length>, Vec<Length>), Parts<'_>> = BTreeMap::new();
    for (id, made) in &graph.made {
        let Some(part) = graph.part(*id) else { continue };
        if let (Some((was, span)), Some(is)) = (made.size, as_cut(graph, *id, marks)) {
            let was = was.map(|length| marks.nearest(length));
            if made.state >= State::Cut && was != is {
                sizes.entry((span, was, is)).or_default().push(&part.path);
            }
        }
        if let Some((was, span)) = made.marks.as_ref().filter(|_| made.state >= State::Grooved) {
            let (was, is) = (
                was.iter().map(|length| marks.nearest(*length)).collect::<Vec<_>>(),
                grooves(graph, *id, marks),
            );
            if was != is {
                grooved.entry((*span, was, is)).or_default().push(&part.path);
            }
        }
    }
    let told = |count: usize| if count == 1 { "1 part is".to_owned() } else { format!("{count} parts are") };
    for ((span, was, is), parts) in sizes {
        let print =
            |[width, length]: [Length; 2]| format!("{} x {}", marks.print(width), marks.print(length));
        let cut_down = was.iter().zip(is).all(|(was, is)| *was >= is);
        let help = if cut_down {
            format!("cut them down to {}, and state that size here", print(is))
        } else {
            "they are too small now: make them again, or take back the change of the text".to_owned()
        };
        let message = format!("{} cut to {}, and should be {} now", told(parts.len()), print(was), print(is));
        sink.push(about(Diagnostic::new(&codes::CHANGED, message).at(span, "as cut"), &parts).help(help));
    }
    for ((span, was, is), parts) in grooved {
        let print = |of: &[Length], other: &[Length]| {
            let only: Vec<String> =
                of.iter().filter(|mark| !other.contains(mark)).map(|m| marks.print(*m).to_string()).collect();
            if only.is_empty() { "no mark".to_owned() } else { only.join(", ") }
        };
        let message =
            format!("{} grooved already, and {} moved or went", told(parts.len()), print(&was, &is));
        let now = print(&is, &was);
        let help = format!(
            "plug and groove again for {now}, or take back the change of the text; `scantling diff` shows all of it"
        );
        sink.push(about(Diagnostic::new(&codes::CHANGED, message).at(span, "as grooved"), &parts).help(help));
    }
}

fn about(diagnostic: Diagnostic, parts: &[&str]) -> Diagnostic {
    let mut diagnostic = parts.iter().fold(diagnostic, |diagnostic, part| diagnostic.about(*part));
    let some: Vec<&str> = parts.iter().take(4).copied().collect();
    let more = if parts.len() > 4 { format!(" and {} more", parts.len() - 4) } else { String::new() };
    diagnostic.notes.push(format!("{}{more}", some.join(", ")));
    diagnostic
}
