//! Where numbers are stated in both texts: whether two of them are one statement that says something else now.

use super::Side;
use super::lines::Line;
use super::pair::Pairs;
use crate::diag::Sink;
use crate::source::{FileId, Span};
use crate::syntax::{Entry, EntryKind, parse};
use std::collections::{BTreeMap, BTreeSet};

/// The declarations around a statement, by kind and name, and at last its own name.
type Chain = Vec<(String, Option<String>)>;

/// What is built; one that only one text has comes or goes.
const BUILT: [&str; 5] = ["run", "carcass", "unit", "shelf", "bay"];

/// What parts are cut from; another one is asked for by its name, where no number of the text changes.
const STOCK: [&str; 4] = ["sheet", "lot", "board", "moulding"];

/// What a pair of statements is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stands {
    /// The text says something else there now.
    Otherwise,
    /// The text says the same; another stock is asked for.
    InOtherStock,
    /// They are two statements, of two things: no number of the text is another.
    Apart,
}

/// One of the two texts.
#[derive(Debug)]
struct Text<'a> {
    side: Side<'a>,
    files: BTreeMap<FileId, Vec<Entry>>,
    /// Lines that the other text does not have, as `path:line`.
    own: BTreeSet<String>,
    built: BTreeSet<(String, String)>,
}

/// Both texts.
#[derive(Debug)]
pub(super) struct Texts<'a> {
    old: Text<'a>,
    new: Text<'a>,
    /// Names of the old text with those that they have in the new one.
    renamed: BTreeSet<(String, String)>,
}

fn last(path: &str) -> String {
    path.rsplit('.').next().unwrap_or(path).to_owned()
}

impl<'a> Text<'a> {
    fn new(side: Side<'a>, lines: &[Line], comes: bool) -> Self {
        let own = lines.iter().filter(|line| line.comes == comes).map(|line| line.place.clone());
        let mut text = Self { side, files: BTreeMap::new(), own: own.collect(), built: BTreeSet::new() };
        for file in side.sources.iter() {
            let Some(id) = side.sources.find(file.path()) else { continue };
            let parsed = parse(id, file.text(), &mut Sink::default());
            built(&parsed.items, &mut text.built);
            text.files.insert(id, parsed.items);
        }
        text
    }

    fn chain(&self, span: Span) -> Chain {
        let span = self.side.sources.settled(span);
        let mut chain = Chain::new();
        let mut entries = self.files.get(&span.file).map_or(&[][..], Vec::as_slice);
        while let Some(entry) =
            entries.iter().find(|entry| entry.span.start <= span.start && span.end <= entry.span.end)
        {
            let (step, inner) = step(entry);
            chain.extend(step);
            entries = inner;
        }
        chain
    }

    /// Whether a line under a span is in this text only.
    fn differs(&self, span: Span) -> bool {
        let span = self.side.sources.settled(span);
        let Some(file) = self.side.sources.get(span.file) else { return false };
        let [first, last] = [span.start, span.end].map(|byte| file.position(byte).line.saturating_add(1));
        (first..=last).any(|line| self.own.contains(&format!("{}:{line}", file.path())))
    }
}

/// What a declaration or statement adds to a chain, and what stands in it.
fn step(entry: &Entry) -> (Option<(String, Option<String>)>, &[Entry]) {
    match &entry.kind {
        EntryKind::Property(property) | EntryKind::Let(property) => {
            (Some((String::new(), Some(property.name.text.to_string()))), &[])
        }
        EntryKind::Declaration(declaration) => {
            let name = declaration.name.as_ref().map(|name| name.text.to_string());
            (Some((declaration.kind.text.to_string(), name)), declaration.block.as_deref().unwrap_or(&[]))
        }
        EntryKind::Each { kind, block } => (Some((kind.text.to_string(), None)), block),
        EntryKind::Module { name, block } => {
            (Some(("module".to_owned(), Some(name.text.to_string()))), block)
        }
        EntryKind::Join(join) => {
            (Some(("join".to_owned(), Some(format!("{} to {}", join.guest, join.host)))), &join.block)
        }
        EntryKind::Measured { path, .. } => (Some(("measured".to_owned(), Some(path.to_string()))), &[]),
        EntryKind::Require { .. }
        | EntryKind::Accept { .. }
        | EntryKind::Use(_)
        | EntryKind::Param(_)
        | EntryKind::Broken => (None, &[]),
    }
}

/// All that is built by a name.
fn built(entries: &[Entry], names: &mut BTreeSet<(String, String)>) {
    let mut open: Vec<&Entry> = entries.iter().collect();
    while let Some(entry) = open.pop() {
        let (step, inner) = step(entry);
        if let Some((kind, Some(name))) = step {
            names.insert((kind, name));
        }
        open.extend(inner);
    }
}

impl<'a> Texts<'a> {
    pub fn new(old: Side<'a>, new: Side<'a>, lines: &[Line], pairs: &Pairs) -> Self {
        // What is named after others, as a stile after its units, has no name of its own.
        let named = |path: &str| {
            let graph = old.graph;
            let group =
                graph.units.iter().map(|unit| &unit.path).chain(graph.runs.iter().map(|run| &run.path));
            group.into_iter().any(|own| own == path) || path.rsplit('.').nth(1) == Some("shelf")
        };
        let renamed = pairs.renamed.iter().filter(|(was, _)| named(was));
        let renamed = renamed.map(|(was, is)| (last(was), last(is)));
        Self {
            old: Text::new(old, lines, false),
            new: Text::new(new, lines, true),
            renamed: renamed.collect(),
        }
    }

    fn called_alike(&self, was: &str, is: &str) -> bool {
        was == is || self.renamed.iter().any(|(old, new)| old == was && new == is)
    }

    /// Whether what is built around a statement is in both texts.
    fn in_both(&self, chain: &Chain, is_old: bool) -> bool {
        let other = if is_old { &self.new } else { &self.old };
        chain.iter().filter(|(kind, _)| BUILT.contains(&kind.as_str())).all(|(kind, name)| {
            let Some(name) = name else { return true };
            other.built.iter().any(|(own, own_name)| {
                let (was, is) = if is_old { (name, own_name) } else { (own_name, name) };
                own == kind && self.called_alike(was, is)
            })
        })
    }

    /// What two statements are, of which one may be the usual value.
    pub fn compare(&self, was: Option<Span>, is: Option<Span>) -> Stands {
        let chains = (was.map(|span| self.old.chain(span)), is.map(|span| self.new.chain(span)));
        let both = [(&chains.0, true), (&chains.1, false)];
        if both.iter().any(|(chain, old)| chain.as_ref().is_some_and(|chain| !self.in_both(chain, *old))) {
            return Stands::Apart;
        }
        if let (Some(a), Some(b)) = &chains {
            let apart = a.iter().zip(b).find(|((kind, was), (other, is))| {
                let named = was.as_ref().zip(is.as_ref());
                kind == other && named.is_some_and(|(was, is)| !self.called_alike(was, is))
            });
            if apart.is_some() {
                let of_stock = |chain: &Chain| chain.iter().any(|(kind, _)| STOCK.contains(&kind.as_str()));
                return if of_stock(a) && of_stock(b) { Stands::InOtherStock } else { Stands::Apart };
            }
        }
        let differs =
            was.is_some_and(|span| self.old.differs(span)) || is.is_some_and(|span| self.new.differs(span));
        if differs || (was.is_none() && is.is_none()) { Stands::Otherwise } else { Stands::Apart }
    }
}
