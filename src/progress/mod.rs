//! `NAME.progress.scant` beside `NAME.scant`: how far parts are made, what they were made as, and what is bought.
//!
//! ```text
//! made "first evening" {
//!   stock = ply
//!   lot = first
//!   thickness = 23/32"
//!   size = 11 13/16" x 31 5/16"
//!   cut = [sewing.one.shelf, "sewing.*.shelf.binders"]
//! }
//! bought { what = ply, lot = first, count = 6, paid = 402 USD }
//! hours { glued = [sewing.one], took = 2 h }
//! sheet {
//!   what = ply
//!   number = 3
//!   size = 96" x 48"
//!   rips = [[sewing.one.left, sewing.one.right], ["spare sewing.one.shelf.binders"]]
//!   left = [12" x 31"]
//! }
//! ```
//! The path of a part stands for it alone, any other for all under it, `*` in a text for any one step. What a part was made as is kept, so that a later
//! change of the text changes nothing of it. A `sheet` is one of the layout that is followed: it is cut when its parts are.

pub mod codes;
mod edit;
mod place;
mod read;
mod told;

use crate::breakdown::kerf;
use crate::diag::{Diagnostic, Sink, nearest};
use crate::eval::Model;
use crate::fits::{Bench, follow, judge, reuse};
use crate::limits::DIAGNOSTICS;
use crate::parts::{AtHand, Facts, Made, PartGraph, PartId, Worked};
use crate::quantity::{Length, Marks};
use crate::source::{FileId, Span};
pub use edit::{spoilt, taken_back, without_sheets, written};
pub use place::{Marked, Unmarked, doubt, is_progress, no_project, old, own, place};
use read::{Stated, list, pattern};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Bound;

/// Reads the text of a progress file and enters what it says into the graph; what is still to be made follows what is made, and
/// what the text means for that is told.
pub fn enter(file: FileId, text: &str, graph: &mut PartGraph, model: &Model, sink: &mut Sink) {
    let (fits, marks) = (&model.fits, model.project.marks);
    let read::Text { blocks, bought, sheets, hours } =
        read::read(file, text, model.project.currency.as_deref(), sink);
    let (mut entered, mut unknown) = (BTreeMap::new(), Unknown::default());
    let by_path = graph.by_path();
    let mut twice: BTreeMap<(Span, &'static str), Vec<PartId>> = BTreeMap::new();
    for block in &blocks {
        for stated in &block.states {
            let found = matching(&stated.pattern, graph, &by_path);
            if found.is_empty() {
                unknown.add(stated, &block.facts, graph, &by_path);
            }
            for id in found {
                if let Some(what) =
                    entered.get(&id).and_then(|made: &Made| otherwise(&made.facts, &block.facts))
                {
                    twice.entry((stated.span, what)).or_default().push(id);
                }
                put(&mut entered, id, stated, &block.facts);
            }
        }
    }
    let worked = hours.into_iter().filter_map(|read::Hours { states, took, span }| {
        let state = states.first()?.state;
        let all = states.iter().flat_map(|stated| matching(&stated.pattern, graph, &by_path));
        let parts: BTreeSet<PartId> = all.collect();
        Some(Worked { state, parts: parts.into_iter().collect(), took, span })
    });
    let worked: Vec<Worked> = worked.collect();
    graph.worked = worked;
    graph.made = entered;
    graph.at_hand = unknown.at_hand.into_iter().map(|(path, made)| AtHand { path, made }).collect();
    graph.bought = bought;
    graph.followed = sheets;
    graph.followed.sort_by_key(|sheet| sheet.number);
    follow(graph, fits, marks);
    graph.verdicts = judge(Bench { graph, fits, marks });
    let unjudged = reuse(graph, fits, marks, kerf(model));
    let bench = Bench { graph, fits, marks };
    told::unknown(bench, &unknown.told, sink);
    told::twice(bench, &twice, sink);
    told::tell(bench, sink);
    if unjudged > 0 {
        told::too_many(unjudged, file, sink);
    }
}

/// What two blocks say otherwise of a part; a lot and a thickness are noted later too.
fn otherwise(before: &Facts, now: &Facts) -> Option<&'static str> {
    fn differ<T: PartialEq>(before: Option<&T>, now: Option<&T>) -> bool {
        before.zip(now).is_some_and(|(before, now)| before != now)
    }
    let of = |facts: &Facts| (facts.size.map(|(size, _)| size), facts.marks.clone().map(|(marks, _)| marks));
    let ((size, marks), (new_size, new_marks)) = (of(before), of(now));
    if differ(size.as_ref(), new_size.as_ref()) {
        return Some("another size");
    }
    if differ(marks.as_ref(), new_marks.as_ref()) {
        return Some("other marks");
    }
    differ(before.stock.as_ref(), now.stock.as_ref()).then_some("another stock")
}

/// Enters a state and what is said with it, beside what was said before.
fn put<K: Ord>(entered: &mut BTreeMap<K, Made>, of: K, stated: &Stated, facts: &Facts) {
    let new = || Made { state: stated.state, facts: Facts::default(), span: stated.span };
    let made = entered.entry(of).or_insert_with(new);
    made.state = made.state.max(stated.state);
    made.facts = facts.over(std::mem::take(&mut made.facts));
    made.span = stated.span;
}

/// Paths that lead to no part.
#[derive(Default)]
struct Unknown {
    /// Each with its path, and with what may be meant.
    told: Vec<(String, Diagnostic)>,
    at_hand: BTreeMap<String, Made>,
}

impl Unknown {
    fn add(&mut self, stated: &Stated, facts: &Facts, graph: &PartGraph, by_path: &BTreeMap<&str, PartId>) {
        put(&mut self.at_hand, stated.pattern.clone(), stated, facts);
        // More than are shown need no search.
        let near = (self.told.len() < DIAGNOSTICS).then(|| near(&stated.pattern, by_path)).flatten();
        let message = format!("unknown part `{}`", stated.pattern);
        let diagnostic = Diagnostic::new(&codes::NO_PART, message).at(stated.span, "");
        let diagnostic = match (graph.shared_before(&stated.pattern), near) {
            (Some(shared), _) => diagnostic.help(shared),
            (None, Some(near)) => diagnostic.help(format!("did you mean `{near}`?")),
            (None, None) => {
                diagnostic.help("`scantling show parts FILE` lists all; delete what is no longer there")
            }
        };
        self.told.push((stated.pattern.clone(), diagnostic));
    }
}

/// The parts that a path or pattern stands for, in the order of their paths: the part of that path alone, else all under it.
#[must_use]
pub fn matching(pattern: &str, graph: &PartGraph, parts: &BTreeMap<&str, PartId>) -> Vec<PartId> {
    if !pattern.contains('*') {
        // What had this path before may share its beginning with nothing.
        if let Some(id) = graph.named(pattern) {
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
        let alike = steps.iter().all(|step| own.next().is_some_and(|own| *step == "*" || *step == own));
        // What stands under a part is not that part.
        let rest: usize = own.map(|step| step.len() + 1).sum();
        let under_part = || path.get(..path.len() - rest).is_some_and(|part| parts.contains_key(part));
        alike && (rest == 0 || !under_part())
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

/// Width and length of a part as cut, to the mark.
#[must_use]
pub fn as_cut(graph: &PartGraph, id: PartId, marks: Marks) -> Option<[Length; 2]> {
    let cut = graph.part(id)?.cut();
    Some([cut.width, cut.length].map(|len| marks.nearest(len.value)))
}
