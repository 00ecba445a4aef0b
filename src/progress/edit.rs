//! Changes of the text of a progress file that leave everything else in it as it is written.

use super::read::sheet;
use super::{list, matching, pattern};
use crate::diag::Sink;
use crate::parts::{Followed, PartGraph, PartId, State};
use crate::source::{FileId, Span};
use crate::syntax::{self, Declaration, Entry, EntryKind, ExprKind, Property};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// A text in the place of some bytes.
type Edit = (Range<usize>, String);

/// The text of a progress file in which parts have not the states any more that are given, nor any after these. What they were
/// before, and what is said of other parts, stays; so do remarks.
#[must_use]
pub fn taken_back(file: FileId, text: &str, graph: &PartGraph, back: &BTreeMap<PartId, State>) -> String {
    let parsed = syntax::parse(file, text, &mut Sink::default());
    let editor = Editor { text, graph, by_path: graph.by_path(), back };
    let mut edits = Vec::new();
    for entry in &parsed.items {
        editor.block(entry, &mut edits);
    }
    let mut out = text.to_owned();
    for (range, instead) in edits.into_iter().rev() {
        out.replace_range(range, &instead);
    }
    out
}

/// The text of a progress file without the sheets for which `gone` holds.
#[must_use]
pub fn without_sheets(file: FileId, text: &str, gone: impl Fn(&Followed) -> bool) -> String {
    let parsed = syntax::parse(file, text, &mut Sink::default());
    let mut out = text.to_owned();
    for entry in parsed.items.iter().rev() {
        let EntryKind::Declaration(Declaration { kind, block: Some(entries), .. }) = &entry.kind else {
            continue;
        };
        let own = || sheet((kind.span, false), entries, &mut Sink::default());
        if &*kind.text == "sheet" && own().is_some_and(|own| gone(&own)) {
            out.replace_range(entry.span.range(), "");
        }
    }
    out
}

/// The text of a progress file in which the pieces of these parts on sheets that are followed are called spoilt.
#[must_use]
pub fn spoilt(file: FileId, text: &str, parts: &BTreeSet<&str>) -> String {
    let parsed = syntax::parse(file, text, &mut Sink::default());
    let blocks = parsed.items.iter().filter_map(|entry| match &entry.kind {
        EntryKind::Declaration(Declaration { kind, block: Some(entries), .. }) if &*kind.text == "sheet" => {
            Some(entries)
        }
        _ => None,
    });
    let properties = blocks.flatten().filter_map(|entry| match &entry.kind {
        EntryKind::Property(property) if &*property.name.text == "rips" => Some(&property.value),
        _ => None,
    });
    let pieces: Vec<_> = properties.flat_map(|rips| list(rips)).flat_map(list).collect();
    let mut out = text.to_owned();
    for piece in pieces.into_iter().rev() {
        let Some(said) = pattern(piece) else { continue };
        let path = said.split_whitespace().next().unwrap_or_default();
        if parts.contains(path) {
            out.replace_range(piece.span.range(), &format!("\"spoilt {said}\""));
        }
    }
    out
}

struct Editor<'a> {
    text: &'a str,
    graph: &'a PartGraph,
    by_path: BTreeMap<&'a str, PartId>,
    back: &'a BTreeMap<PartId, State>,
}

impl Editor<'_> {
    /// The changes of a block, in the order of the text.
    fn block(&self, entry: &Entry, edits: &mut Vec<Edit>) {
        let EntryKind::Declaration(Declaration { block: Some(entries), .. }) = &entry.kind else { return };
        let (mut gone, mut inner, mut left) = (Vec::new(), Vec::new(), 0);
        for entry in entries.iter() {
            let EntryKind::Property(property) = &entry.kind else { continue };
            let Some(state) = State::of(&property.name.text) else { continue };
            let from = inner.len();
            if self.stated(property, state, &mut inner) {
                left += 1;
            } else {
                inner.truncate(from);
                self.remove(entry.span, &mut inner);
                gone.push(entry.span);
            }
        }
        if left == 0 && !gone.is_empty() {
            edits.push((entry.span.range(), String::new()));
        } else {
            edits.append(&mut inner);
        }
    }

    /// The changes of the paths that have a state; whether any stays.
    fn stated(&self, property: &Property, state: State, edits: &mut Vec<Edit>) -> bool {
        let items = list(&property.value);
        let mut left = items.len();
        for item in items {
            let parts =
                pattern(item).map(|path| matching(&path, self.graph, &self.by_path)).unwrap_or_default();
            let stays = |id: &PartId| self.back.get(id).is_none_or(|back| *back > state);
            let rest: Vec<PartId> = parts.iter().copied().filter(stays).collect();
            if rest.len() == parts.len() {
                continue;
            }
            if rest.is_empty() {
                left -= 1;
                self.remove(item.span, edits);
                continue;
            }
            let rest: Vec<&str> =
                rest.iter().filter_map(|id| self.graph.part(*id)).map(|part| &*part.path).collect();
            let is_list = matches!(property.value.kind, ExprKind::List(_));
            let rest = if is_list { rest.join(", ") } else { format!("[{}]", rest.join(", ")) };
            edits.push((item.span.range(), rest));
        }
        left > 0 || items.is_empty()
    }

    /// Removes an item with one comma beside it; `edits` are the changes before it.
    fn remove(&self, item: Span, edits: &mut Vec<Edit>) {
        let Range { mut start, mut end } = item.range();
        let until = |at: usize| self.text.get(..at).unwrap_or_default().trim_end();
        let after = self.text.get(end..).unwrap_or_default();
        let comma = after.trim_start();
        if comma.starts_with(',') {
            end += after.len() - comma.len() + 1;
        } else {
            // The last one takes the comma before it, and before those that went just before it.
            while let Some((before, _)) =
                edits.pop_if(|(before, instead)| instead.is_empty() && before.end == until(start).len())
            {
                start = before.start;
            }
            let head = until(start);
            if head.ends_with(',') && edits.last().is_none_or(|(before, _)| before.end < head.len()) {
                start = head.len() - 1;
            }
        }
        // A line on which nothing else stands goes whole.
        let head = self.text.get(..start).unwrap_or_default().trim_end_matches([' ', '\t']);
        let rest = self.text.get(end..).unwrap_or_default().trim_start_matches([' ', '\t']);
        if head.ends_with('\n') && rest.starts_with('\n') {
            start = head.len() - 1;
        }
        edits.push((start..end, String::new()));
    }
}

/// The name of a stock or lot as it stands in a progress file; `None` where no text could be read as it.
#[must_use]
pub fn written(file: FileId, name: &str) -> Option<String> {
    let is_word = name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
        && name.starts_with(|c: char| c.is_ascii_lowercase());
    let written = if is_word { name.to_owned() } else { format!("\"{name}\"") };
    let mut sink = Sink::default();
    let parsed = syntax::parse(file, &format!("made {{ lot = {written} }}\n"), &mut sink);
    let [Entry { kind: EntryKind::Declaration(Declaration { block: Some(entries), .. }), .. }] =
        &*parsed.items
    else {
        return None;
    };
    let [Entry { kind: EntryKind::Property(property), .. }] = &**entries else { return None };
    let is_read = pattern(&property.value).is_some_and(|read| read == name);
    let is_plain = !name.trim().is_empty() && name.trim() == name && !name.chars().any(char::is_control);
    (is_read && is_plain && sink.all().is_empty()).then_some(written)
}
