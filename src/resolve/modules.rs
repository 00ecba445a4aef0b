//! Modules as they are declared: parameters with their types, and which names each file brings to which.

use super::codes;
use super::load::Loaded;
use super::{KINDS, Naming, Takes, kind};
use crate::diag::{Diagnostic, Sink, nearest};
use crate::limits;
use crate::quantity::Dim;
use crate::source::Span;
use crate::syntax::{Binary, Declaration, Entry, EntryKind, Expr, Ident, Param, ParamType, TypeLimits};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A module: a kind that a file declares.
#[derive(Clone, Debug)]
pub struct Module {
    /// Its name, where it is declared.
    pub name: Ident,
    /// What it is, in its author's words.
    pub doc: Option<Arc<str>>,
    /// What a use of it states.
    pub parameters: Vec<Arc<Parameter>>,
    /// The part of the library that it stands in, if it does.
    pub part: Option<Arc<str>>,
    pub(super) block: Arc<[Entry]>,
    /// The file that it stands in, and so the names that it can use.
    pub(super) file: usize,
    /// How many entries a use of it comes to.
    pub(super) weight: u64,
    /// How deep the modules nest that it uses.
    pub(super) depth: usize,
    /// Whether it leads to itself.
    pub(super) circular: bool,
}

/// A parameter of a module.
#[derive(Clone, Debug)]
pub struct Parameter {
    /// Its name.
    pub name: Ident,
    /// What it takes.
    pub takes: Takes,
    /// For [`Takes::Word`]: the words.
    pub words: Vec<Arc<str>>,
    /// The least value and the greatest; `false` beside one that itself is not allowed.
    pub limits: [Option<(Arc<Expr>, bool)>; 2],
    /// What it is where a use does not state it.
    pub default: Option<Arc<Expr>>,
    /// What it means, in its author's words.
    pub doc: Option<Arc<str>>,
    /// The whole declaration.
    pub span: Span,
    /// Its type.
    pub type_span: Span,
}

/// The names that a file brings in from others.
#[derive(Clone, Debug, Default)]
pub(super) struct Table {
    /// What the file itself declares: its places.
    pub own: BTreeMap<Arc<str>, Span>,
    /// Its modules.
    pub modules: BTreeMap<Arc<str>, usize>,
    /// Chosen names: the file that has each, and its name there.
    pub named: BTreeMap<Arc<str>, (usize, Arc<str>)>,
    /// Files of which all names are used.
    pub whole: Vec<usize>,
}

impl Table {
    /// Whether other files can use a name: one that begins with `_` is the file's own.
    pub fn is_public(name: &str) -> bool {
        !name.starts_with('_')
    }
}

/// All modules of a project, and the tables of its files.
#[derive(Clone, Debug, Default)]
pub(super) struct Modules {
    pub all: Vec<Module>,
    pub tables: Vec<Table>,
}

impl Modules {
    pub fn new(files: &[Loaded], sink: &mut Sink) -> Self {
        let mut modules = Self::default();
        for (index, file) in files.iter().enumerate() {
            modules.tables.push(Table::default());
            for item in file.parsed.iter().flat_map(|parsed| &parsed.items) {
                modules.declare(index, file, item, sink);
            }
        }
        for (index, file) in files.iter().enumerate() {
            modules.bring(index, file, sink);
        }
        modules.weigh(sink);
        modules
    }

    /// The module that a word declares members of, seen from a file.
    pub fn find(&self, file: usize, word: &str) -> Option<usize> {
        let table = self.tables.get(file)?;
        let own = table.modules.get(word).copied();
        let named = || {
            let (file, name) = table.named.get(word)?;
            self.tables.get(*file)?.modules.get(name).copied()
        };
        let whole = || {
            let mut tables = table.whole.iter().filter_map(|file| self.tables.get(*file));
            tables.find_map(|table| table.modules.get(word).copied()).filter(|_| Table::is_public(word))
        };
        own.or_else(named).or_else(whole)
    }

    /// The modules that can be used in a file, by the names they have there.
    pub fn in_reach(&self, file: usize) -> BTreeMap<Arc<str>, usize> {
        let mut names: Vec<Arc<str>> = Vec::new();
        if let Some(table) = self.tables.get(file) {
            names.extend(table.modules.keys().chain(table.named.keys()).cloned());
            let whole = table.whole.iter().filter_map(|file| self.tables.get(*file));
            names.extend(whole.flat_map(|table| table.modules.keys().cloned()));
        }
        names.into_iter().filter_map(|name| Some((name.clone(), self.find(file, &name)?))).collect()
    }

    fn declare(&mut self, file: usize, loaded: &Loaded, item: &Entry, sink: &mut Sink) {
        let name = match &item.kind {
            EntryKind::Module { name, .. } => name,
            EntryKind::Let(property) => &property.name,
            EntryKind::Declaration(Declaration { kind: word, name: Some(name), .. }) => {
                let named = |naming| matches!(naming, Naming::Needed | Naming::Optional);
                if kind(&word.text).is_some_and(|spec| !named(spec.naming)) {
                    return;
                }
                name
            }
            _ => return,
        };
        let Some(table) = self.tables.get_mut(file) else { return };
        let first = *table.own.entry(name.text.clone()).or_insert(name.span);
        let EntryKind::Module { block, .. } = &item.kind else { return };
        if kind(&name.text).is_some() {
            sink.push(
                Diagnostic::new(&codes::RESERVED, format!("`{}` is a kind of the language", name.text))
                    .at(name.span, "")
                    .help("give the module a name of its own"),
            );
            return;
        }
        if first != name.span {
            sink.push(
                Diagnostic::new(&codes::TAKEN, format!("the name `{}` is taken", name.text))
                    .at(name.span, "here again")
                    .and_at(first, "first declared here")
                    .help("give one of them another name, or delete one"),
            );
        }
        table.modules.entry(name.text.clone()).or_insert(self.all.len());
        let doc = |start: u32, at: Span| loaded.docs.get(&(at.file, start)).cloned();
        let mut parameters: Vec<Arc<Parameter>> = Vec::new();
        for entry in block.iter() {
            let EntryKind::Param(param) = &entry.kind else { continue };
            if let Some(first) = parameters.iter().find(|p| p.name.text == param.name.text) {
                sink.push(
                    Diagnostic::new(&codes::TWICE, format!("`{}` is stated twice", param.name.text))
                        .at(param.name.span, "the second time")
                        .and_at(first.name.span, "first stated here")
                        .help("keep the right one"),
                );
                continue;
            }
            parameters.push(Arc::new(parameter(param, doc(entry.span.start, entry.span), entry.span, sink)));
        }
        self.all.push(Module {
            name: name.clone(),
            doc: doc(item.span.start, item.span),
            parameters,
            part: loaded.part.clone(),
            block: block.clone(),
            file,
            weight: 0,
            depth: 0,
            circular: false,
        });
    }

    /// The names that a file brings in.
    fn bring(&mut self, index: usize, file: &Loaded, sink: &mut Sink) {
        let mut named = BTreeMap::new();
        let mut whole: Vec<(usize, Span)> = Vec::new();
        for used in &file.uses {
            let Some(names) = &used.names else {
                if !whole.iter().any(|(file, _)| *file == used.file) {
                    whole.push((used.file, used.span));
                }
                continue;
            };
            for wanted in names {
                let alias = wanted.alias.as_ref().unwrap_or(&wanted.name);
                if !self.has(used.file, &wanted.name, sink) {
                    continue;
                }
                let own = self.tables.get(index).and_then(|table| table.own.get(&alias.text));
                let first: Option<Span> = named.get(&alias.text).map(|(_, _, span)| *span).or(own.copied());
                if let Some(first) = first {
                    let other = format!("{0} as other_{0}", wanted.name.text);
                    sink.push(
                        Diagnostic::new(&codes::TAKEN, format!("the name `{}` is taken", alias.text))
                            .at(alias.span, "here again")
                            .and_at(first, "first declared here")
                            .help(format!("bring it in under another name: `{other}`")),
                    );
                    continue;
                }
                named.insert(alias.text.clone(), (used.file, wanted.name.text.clone(), alias.span));
            }
        }
        self.clashes(index, &named, &whole, sink);
        if let Some(table) = self.tables.get_mut(index) {
            table.named = named.into_iter().map(|(alias, (file, name, _))| (alias, (file, name))).collect();
            table.whole = whole.into_iter().map(|(file, _)| file).collect();
        }
    }

    fn has(&self, file: usize, name: &Ident, sink: &mut Sink) -> bool {
        let Some(table) = self.tables.get(file) else { return false };
        if table.own.contains_key(&name.text) && Table::is_public(&name.text) {
            return true;
        }
        let message = format!("the used file has no name `{}`", name.text);
        let diagnostic = Diagnostic::new(&codes::NAME, message).at(name.span, "");
        let known = table.own.keys().filter(|name| Table::is_public(name)).map(|name| &**name);
        sink.push(match nearest(&name.text, known) {
            Some(near) => diagnostic.fix(name.span, near, format!("did you mean `{near}`?")),
            None => {
                let known = table.own.keys().filter(|name| Table::is_public(name));
                let known: Vec<String> = known.take(8).map(|name| format!("`{name}`")).collect();
                let has = if known.is_empty() { "no names for others".to_owned() } else { known.join(", ") };
                diagnostic.help(format!("it has {has}"))
            }
        });
        false
    }

    /// A name that two files bring, and that the file itself does not settle.
    fn clashes(
        &self,
        index: usize,
        named: &BTreeMap<Arc<str>, (usize, Arc<str>, Span)>,
        whole: &[(usize, Span)],
        sink: &mut Sink,
    ) {
        let mut first: BTreeMap<&Arc<str>, Span> = BTreeMap::new();
        for (file, span) in whole {
            let Some(table) = self.tables.get(*file) else { continue };
            for name in table.own.keys().filter(|name| Table::is_public(name)) {
                let settled = named.contains_key(name)
                    || self.tables.get(index).is_some_and(|table| table.own.contains_key(name));
                if let Some(first) = first.insert(name, *span).filter(|_| !settled) {
                    sink.push(
                        Diagnostic::new(
                            &codes::TWO_SOURCES,
                            format!("two used files bring the name `{name}`"),
                        )
                        .at(*span, "from here")
                        .and_at(first, "and from here")
                        .help(format!("say which one is meant: `use ... {{ {name} }}` beside them")),
                    );
                }
            }
        }
    }

    /// What each module comes to when it is used; says which lead to themselves.
    fn weigh(&mut self, sink: &mut Sink) {
        let calls: Vec<Vec<(usize, Span)>> = self.all.iter().map(|module| self.calls(module)).collect();
        let mut done = vec![false; self.all.len()];
        for start in 0..self.all.len() {
            // The modules that lead from `start` to the one at hand, each with the next of its calls to follow.
            let mut open: Vec<(usize, usize)> = vec![(start, 0)];
            while let Some((module, next)) = open.last_mut() {
                let (module, call) =
                    (*module, calls.get(*module).and_then(|calls| calls.get(*next)).copied());
                *next += 1;
                let Some((called, span)) = call.filter(|_| done.get(module) == Some(&false)) else {
                    self.finish(module, calls.get(module).map_or(&[], Vec::as_slice));
                    done.get_mut(module).into_iter().for_each(|done| *done = true);
                    open.pop();
                    continue;
                };
                match open.iter().position(|(other, _)| *other == called) {
                    Some(from) => {
                        let circle: Vec<(usize, usize)> = open.iter().skip(from).copied().collect();
                        self.circle(called, span, &circle, &calls, sink);
                    }
                    None if done.get(called) == Some(&false) => open.push((called, 0)),
                    None => {}
                }
            }
        }
    }

    fn finish(&mut self, module: usize, calls: &[(usize, Span)]) {
        let called = calls.iter().filter_map(|(called, _)| self.all.get(*called));
        let (mut weight, mut depth, mut circular) = (0_u64, 0, false);
        for other in called {
            weight = weight.saturating_add(other.weight);
            depth = depth.max(other.depth);
            circular |= other.circular;
        }
        if let Some(module) = self.all.get_mut(module) {
            module.weight = weight.saturating_add(entries(&module.block));
            module.depth = depth.saturating_add(1);
            module.circular |= circular;
        }
    }

    fn circle(
        &mut self,
        called: usize,
        span: Span,
        circle: &[(usize, usize)],
        calls: &[Vec<(usize, Span)>],
        sink: &mut Sink,
    ) {
        let Some(module) = self.all.get(called) else { return };
        let mut diagnostic =
            Diagnostic::new(&codes::MODULE_LOOP, format!("the module `{}` uses itself", module.name.text))
                .at(span, "")
                .and_at(module.name.span, "declared here");
        // The last call is the one that closes the circle.
        for (module, next) in circle.iter().rev().skip(1).rev() {
            let through = calls.get(*module).and_then(|calls| calls.get(next.saturating_sub(1)));
            diagnostic =
                through.into_iter().fold(diagnostic, |d, (_, span)| d.and_at(*span, "by way of this"));
        }
        sink.push(diagnostic.help("take this use out of the body"));
        for (module, _) in circle {
            self.all.get_mut(*module).into_iter().for_each(|module| module.circular = true);
        }
    }

    /// The modules that the body of a module uses.
    fn calls(&self, module: &Module) -> Vec<(usize, Span)> {
        let mut calls = Vec::new();
        walk(&module.block, &mut |entry| {
            if let EntryKind::Declaration(declaration) = &entry.kind
                && kind(&declaration.kind.text).is_none()
                && let Some(called) = self.find(module.file, &declaration.kind.text)
            {
                calls.push((called, declaration.kind.span));
            }
        });
        calls
    }
}

/// How many entries a block has, with those of the blocks in it.
pub(super) fn entries(block: &[Entry]) -> u64 {
    let mut count = 0;
    walk(block, &mut |_| count += 1);
    count
}

fn walk(block: &[Entry], each: &mut impl FnMut(&Entry)) {
    for entry in block {
        each(entry);
        match &entry.kind {
            EntryKind::Declaration(Declaration { block: Some(block), .. })
            | EntryKind::Each { block, .. } => {
                walk(block, each);
            }
            _ => {}
        }
    }
}

fn parameter(param: &Param, doc: Option<Arc<str>>, span: Span, sink: &mut Sink) -> Parameter {
    let mut words = Vec::new();
    let takes = takes(&param.takes, &mut words, sink);
    let limits = match &param.takes.limits {
        TypeLimits::Bound(Binary::AtLeast, value) => [Some((value.clone(), true)), None],
        TypeLimits::Bound(Binary::Above, value) => [Some((value.clone(), false)), None],
        TypeLimits::Bound(Binary::AtMost, value) => [None, Some((value.clone(), true))],
        TypeLimits::Bound(_, value) => [None, Some((value.clone(), false))],
        TypeLimits::Between(least, most) => [Some((least.clone(), true)), Some((most.clone(), true))],
        _ => [None, None],
    };
    let default = param.default.clone();
    Parameter {
        name: param.name.clone(),
        takes,
        words,
        limits,
        default,
        doc,
        span,
        type_span: param.takes.span,
    }
}

/// The types that numbers have, by their words.
const QUANTITIES: &[(&str, Takes)] = &[
    ("length", Takes::Quantity(Dim::LENGTH)),
    ("count", Takes::Count),
    ("number", Takes::Quantity(Dim::NONE)),
    ("weight", Takes::Quantity(Dim::WEIGHT)),
    ("time", Takes::Quantity(Dim::TIME)),
    ("angle", Takes::Quantity(Dim::ANGLE)),
];

/// The types without limits, by their words.
const PLAIN: &[(&str, Takes)] = &[
    ("text", Takes::Text),
    ("truth", Takes::Truth),
    ("load", Takes::Load),
    ("share", Takes::Share),
    ("names", Takes::Names),
];

fn takes(stated: &ParamType, words: &mut Vec<Arc<str>>, sink: &mut Sink) -> Takes {
    let named = |types: &[(&str, Takes)]| {
        types.iter().find(|(word, _)| *word == &*stated.name.text).map(|(_, takes)| *takes)
    };
    let member = KINDS
        .iter()
        .find(|kind| kind.word == &*stated.name.text && matches!(kind.naming, Naming::Needed))
        .map(|kind| Takes::Member(kind.word));
    match (&*stated.name.text, &stated.limits) {
        ("choice", TypeLimits::Types(types))
            if types.iter().all(|word| matches!(word.limits, TypeLimits::None)) =>
        {
            words.extend(types.iter().map(|word| word.name.text.clone()));
            return Takes::Word;
        }
        ("list", TypeLimits::Types(types)) => {
            if let [one] = types.as_slice()
                && let TypeLimits::None = one.limits
            {
                let listed = match takes(one, words, &mut Sink::default()) {
                    Takes::Quantity(Dim::LENGTH) => Some(Takes::Lengths),
                    Takes::Quantity(dim) => Some(Takes::Quantities(dim)),
                    Takes::Member(kind) => Some(Takes::Members(kind)),
                    _ => None,
                };
                if let Some(listed) = listed {
                    return listed;
                }
            }
        }
        (_, TypeLimits::Bound(..) | TypeLimits::Between(..)) => {
            if let Some(takes) = named(QUANTITIES) {
                return takes;
            }
        }
        (_, TypeLimits::None) => {
            if let Some(takes) = named(QUANTITIES).or_else(|| named(PLAIN)).or(member) {
                return takes;
            }
        }
        _ => {}
    }
    unknown(stated, sink);
    Takes::Any
}

fn unknown(stated: &ParamType, sink: &mut Sink) {
    let known = QUANTITIES.iter().chain(PLAIN).map(|(word, _)| *word).chain(["choice", "list"]);
    let kinds = KINDS.iter().filter(|kind| matches!(kind.naming, Naming::Needed)).map(|kind| kind.word);
    let word = &*stated.name.text;
    let exact = known.clone().chain(kinds.clone()).any(|known| known == word);
    let message = match exact {
        true => format!("`{word}` takes no such limits"),
        false => format!("unknown type `{word}`"),
    };
    let diagnostic = Diagnostic::new(&codes::TYPE, message).at(stated.span, "");
    sink.push(match (exact, nearest(word, known.chain(kinds))) {
        (false, Some(near)) => diagnostic.fix(stated.name.span, near, format!("did you mean `{near}`?")),
        (false, None) => {
            diagnostic.help("such as `length`, `count(1..12)`, `choice(a, b)`, `list(length)`, `sheet`")
        }
        (true, _) => diagnostic
            .help("numbers take limits: `length(>= 9\")`, `count(1..12)`; `choice(a, b)` takes words"),
    });
}

/// Whether so many further entries are too many.
pub(super) fn too_many(expanded: u64, weight: u64) -> bool {
    expanded.saturating_add(weight) > limits::EXPANDED as u64
}
