//! Declares the members: checks each entry against the table of kinds and merges what `each` says.

use super::codes;
use super::index::Index;
use super::kinds::place;
use super::load::Loaded;
use super::modules::{Modules, Parameter};
use super::{
    FILE, FILE_KIND, Imports, JOINS, JoinHead, KINDS, KindSpec, MODULE_KIND, Naming, Node, NodeId, Program,
    Stated, Statement, kind,
};
use crate::diag::{Diagnostic, Sink, nearest};
use crate::source::{Sources, Span};
use crate::syntax::{Declaration, Entry, EntryKind, Ident, Join, Path, Property, STATEMENTS, Step};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A stated value, what it takes, and the parameter that it is the value of.
pub(super) type Read<'a> = (&'a Property, Option<super::Takes>, Option<Arc<Parameter>>);

/// The entries that a member gets: its own block first, then those of the `each` blocks that fit it.
pub(super) type Layers<'a> = Vec<&'a [Entry]>;

pub(super) struct Declarer<'a> {
    pub nodes: Vec<Node>,
    pub sink: &'a mut Sink,
    pub sources: &'a mut Sources,
    pub modules: Modules,
    /// The file whose modules are known where the declarer is.
    pub home: usize,
    /// The files as members.
    pub roots: Vec<NodeId>,
    /// How many modules are being used; what is wrong with their bodies was said where they are declared.
    pub inside: usize,
    /// The body of a module is checked without being used.
    pub dry: bool,
    /// How many entries the uses of modules came to.
    pub expanded: u64,
}

/// What a member is before its block is read.
pub(super) struct Head {
    pub spec: &'static KindSpec,
    pub name: Option<Ident>,
    pub text: Option<crate::syntax::Text>,
    pub span: Span,
    pub parent: Option<NodeId>,
    pub scope: Option<NodeId>,
}

impl Head {
    fn file(span: Span, scope: Option<NodeId>) -> Self {
        Self { spec: &FILE_KIND, name: None, text: None, span, parent: None, scope }
    }
}

pub(super) fn program(
    library: &[Entry],
    files: &[Loaded],
    sources: &mut Sources,
    sink: &mut Sink,
) -> Program {
    let modules = Modules::new(files, sink);
    let mut declarer = Declarer {
        nodes: Vec::new(),
        sink,
        sources,
        modules,
        home: usize::MAX,
        roots: Vec::new(),
        inside: 0,
        dry: false,
        expanded: 0,
    };
    let head = |file: &Loaded| file.parsed.first().map(|parsed| Span::new(parsed.file, 0, 0));
    let main = files.first().and_then(head);
    let anywhere = main.unwrap_or_else(|| Span::new(Sources::default().add("", String::new()), 0, 0));
    let outer = declarer.open(Head::file(anywhere, None));
    declarer.fill(outer, &FILE_KIND, &vec![library]);
    for file in files {
        let root = declarer.open(Head::file(head(file).unwrap_or(anywhere), Some(outer)));
        declarer.roots.push(root);
    }
    for (index, file) in files.iter().enumerate() {
        declarer.home = index;
        if file.part.is_none() {
            declarer.check_bodies(index);
        }
        let Some(root) = declarer.roots.get(index).copied() else { continue };
        let layers = file.parsed.iter().map(|parsed| parsed.items.as_slice()).collect();
        declarer.fill(root, &FILE_KIND, &layers);
        if index > 0 {
            declarer.not_built(root);
        }
    }
    declarer.finish(outer)
}

impl Declarer<'_> {
    /// Takes a message, except about the body of a module that is used.
    pub fn say(&mut self, diagnostic: Diagnostic) {
        if self.inside == 0 {
            self.sink.push(diagnostic);
        }
    }

    pub fn open(&mut self, head: Head) -> NodeId {
        let id = NodeId(u32::try_from(self.nodes.len()).unwrap_or(u32::MAX));
        self.nodes.push(Node {
            kind: head.spec,
            name: head.name,
            text: head.text,
            head: head.span,
            parent: head.parent,
            scope: head.scope,
            module: None,
            properties: Vec::new(),
            children: Vec::new(),
            join: None,
            statements: Vec::new(),
            damaged: false,
        });
        id
    }

    pub fn node(&mut self, id: NodeId) -> Option<&mut Node> {
        self.nodes.get_mut(id.0 as usize)
    }

    /// Reads the block of a member, and what `each` gives it.
    fn fill(&mut self, id: NodeId, spec: &'static KindSpec, layers: &Layers<'_>) {
        let statements = layers.iter().flat_map(|layer| layer.iter().filter_map(statement)).collect();
        let damaged = layers.iter().any(|layer| self.is_damaged(spec, layer));
        let properties = self.properties(spec, layers);
        let children = self.children(id, id, spec, layers);
        if let Some(node) = self.node(id) {
            *node = Node { statements, damaged, properties, children, ..node.clone() };
        }
    }

    fn finish(self, library: NodeId) -> Program {
        let root = self.roots.first().copied().unwrap_or(library);
        let file = |index: &usize| self.roots.get(*index).copied();
        let imports = self.modules.tables.iter().enumerate().filter_map(|(index, table)| {
            let named = table.named.iter();
            let named =
                named.filter_map(|(alias, (f, name))| Some((alias.clone(), (file(f)?, name.clone()))));
            let whole = table.whole.iter().filter_map(file).collect();
            Some((file(&index)?, Imports { named: named.collect(), whole }))
        });
        let imports = imports.collect();
        let reach = self.modules.in_reach(0).into_iter();
        let modules =
            reach.filter_map(|(name, index)| Some((name, Arc::new(self.modules.all.get(index)?.clone()))));
        let modules = modules.collect();
        let index = Index::new(&self.nodes);
        Program { nodes: self.nodes, root, library, imports, modules, index }
    }

    /// Properties and `let`s: the first layer that states one wins; twice in one layer is an error.
    pub fn properties(&mut self, spec: &'static KindSpec, layers: &Layers<'_>) -> Vec<Stated> {
        self.stated(layers, |declarer, entry| match &entry.kind {
            EntryKind::Property(property) => Some((property, Some(declarer.takes(spec, property)?), None)),
            EntryKind::Let(property) => Some((property, None, None)),
            _ => None,
        })
    }

    /// What layers state, by `read`: the first layer that states a name wins; twice in one layer is an error.
    pub fn stated<'a>(
        &mut self,
        layers: &Layers<'a>,
        mut read: impl FnMut(&mut Self, &'a Entry) -> Option<Read<'a>>,
    ) -> Vec<Stated> {
        let mut stated: Vec<Stated> = Vec::new();
        let mut seen: BTreeSet<Arc<str>> = BTreeSet::new();
        for layer in layers {
            let mut here: BTreeMap<Arc<str>, Span> = BTreeMap::new();
            for entry in *layer {
                let Some((property, takes, parameter)) = read(self, entry) else { continue };
                let name = &property.name;
                if let Some(first) = here.insert(name.text.clone(), name.span) {
                    self.say(
                        Diagnostic::new(&codes::TWICE, format!("`{}` is stated twice", name.text))
                            .at(name.span, "the second time")
                            .and_at(first, "first stated here")
                            .help("keep the right one"),
                    );
                } else if seen.insert(name.text.clone()) {
                    let (name, value) = (name.clone(), property.value.clone());
                    stated.push(Stated { name, value, takes, parameter, from: None });
                }
            }
        }
        stated
    }

    fn takes(&mut self, spec: &'static KindSpec, property: &Property) -> Option<super::Takes> {
        let name = &property.name;
        let takes = spec.property(&name.text);
        if takes.is_none() {
            let place =
                if spec.word == FILE { "the top of a file".to_owned() } else { format!("`{}`", spec.word) };
            let mut diagnostic =
                Diagnostic::new(&codes::PROPERTY, format!("{place} has no property `{}`", name.text))
                    .at(name.span, "");
            let known = spec.properties.iter().map(|p| p.name);
            if let Some(kind) = kind(&name.text).filter(|kind| kind.within.contains(&spec.word)) {
                diagnostic = diagnostic
                    .help(format!("`{0}` is a member with entries of its own: `{0} {{ ... }}`", kind.word));
            } else if let Some(near) = nearest(&name.text, known) {
                diagnostic = diagnostic.fix(name.span, near, format!("did you mean `{near}`?"));
            } else if spec.word == FILE || spec.word == MODULE_KIND.word {
                diagnostic = diagnostic.help(format!("give a value a name with `let {} = ...`", name.text));
            } else {
                let all: Vec<String> = spec.properties.iter().map(|p| format!("`{}`", p.name)).collect();
                diagnostic = diagnostic.help(format!("it has {}", all.join(", ")));
            }
            self.say(diagnostic);
        }
        takes
    }

    /// The members of a block that stands in `parent`; their names are looked for in `scope` next.
    pub fn children<'a>(
        &mut self,
        parent: NodeId,
        scope: NodeId,
        spec: &'static KindSpec,
        layers: &Layers<'a>,
    ) -> Vec<NodeId> {
        let mut children = Vec::new();
        let given = Given::new(layers);
        let mut heads: BTreeMap<Key, Span> = BTreeMap::new();
        let mut names: BTreeMap<Arc<str>, Span> = BTreeMap::new();
        for (depth, layer) in layers.iter().enumerate() {
            let mut here: BTreeMap<Key, Span> = BTreeMap::new();
            for entry in *layer {
                match &entry.kind {
                    EntryKind::Declaration(declaration) => {
                        let module = self.module(&declaration.kind.text);
                        let child = match module {
                            Some(_) => self.naming(&MODULE_KIND, declaration).then_some(&MODULE_KIND),
                            None => self.child_spec(spec, declaration),
                        };
                        let Some(child) = child else { continue };
                        let key = key(declaration);
                        let counted = child.naming == Naming::Optional && declaration.name.is_none();
                        let head = head_span(declaration);
                        if !counted {
                            if let Some(first) = here.insert(key.clone(), head) {
                                self.taken(&key, head, first);
                                continue;
                            }
                            if heads.contains_key(&key) {
                                continue;
                            }
                            heads.insert(key.clone(), head);
                            let own = matches!(child.naming, Naming::Needed | Naming::Optional);
                            if own && let Some(first) = names.insert(key.1.clone(), head) {
                                self.taken(&key, head, first);
                                continue;
                            }
                        }
                        let layers = given.layers(declaration, child, depth);
                        let (name, text) = (declaration.name.clone(), declaration.text.clone());
                        let (parent, scope) = (Some(parent), Some(scope));
                        let id = self.open(Head { spec: child, name, text, span: head, parent, scope });
                        match module {
                            Some(module) => self.expand(id, module, spec, &layers),
                            None => self.fill(id, child, &layers),
                        }
                        children.push(id);
                    }
                    EntryKind::Join(join) => {
                        if let Some((child, head)) = self.join(spec, join) {
                            let span = join.guest.span.to(join.joint.span);
                            let (parent, scope) = (Some(parent), Some(scope));
                            let id =
                                self.open(Head { spec: child, name: None, text: None, span, parent, scope });
                            self.fill(id, child, &vec![join.block.as_slice()]);
                            self.node(id).into_iter().for_each(|node| node.join = Some(head.clone()));
                            children.push(id);
                        }
                    }
                    EntryKind::Each { kind: word, block } => self.each(spec, word, block),
                    EntryKind::Use(_) if spec.word != FILE => self.top_only("use", entry.span),
                    EntryKind::Module { name, .. } if spec.word != FILE => self.top_only("module", name.span),
                    EntryKind::Param(param) if spec.word != MODULE_KIND.word => {
                        self.say(
                            Diagnostic::new(&codes::PLACE, "`param` stands at the top of a module's body")
                                .at(param.name.span, "")
                                .help("give a value a name with `let`"),
                        );
                    }
                    EntryKind::Use(_)
                    | EntryKind::Module { .. }
                    | EntryKind::Param(_)
                    | EntryKind::Property(_)
                    | EntryKind::Let(_)
                    | EntryKind::Require { .. }
                    | EntryKind::Accept { .. }
                    | EntryKind::Measured { .. }
                    | EntryKind::Broken => {}
                }
            }
        }
        children
    }

    fn top_only(&mut self, word: &str, span: Span) {
        self.say(
            Diagnostic::new(&codes::PLACE, format!("`{word}` stands at the top of a file"))
                .at(span, "")
                .help("move it out of this block"),
        );
    }

    fn taken(&mut self, key: &Key, head: Span, first: Span) {
        let (word, name) = key;
        let message = if name.is_empty() {
            format!("a second `{word}` in one block")
        } else {
            format!("the name `{name}` is taken")
        };
        self.say(
            Diagnostic::new(&codes::TAKEN, message)
                .at(head, "here again")
                .and_at(first, "first declared here")
                .help("give one of them another name, or delete one"),
        );
    }

    fn child_spec(&mut self, parent: &KindSpec, declaration: &Declaration) -> Option<&'static KindSpec> {
        let word = &declaration.kind;
        let Some(spec) = kind(&word.text) else {
            self.unknown_kind(parent, declaration);
            return None;
        };
        if !may_stand(spec, parent) {
            self.misplaced(parent, spec, word.span);
            return None;
        }
        if let Some(text) = declaration.text.as_ref().filter(|_| !spec.text) {
            self.say(
                Diagnostic::new(&codes::NAMING, format!("`{}` takes no text", spec.word))
                    .at(text.span, "")
                    .fix(text.span, "", "delete the text"),
            );
        }
        self.naming(spec, declaration).then_some(spec)
    }

    fn naming(&mut self, spec: &KindSpec, declaration: &Declaration) -> bool {
        let word = declaration.kind.span;
        let diagnostic = match (spec.naming, &declaration.name) {
            (Naming::Needed, None) => {
                Diagnostic::new(&codes::NAMING, format!("this `{}` has no name", spec.word))
                    .at(word, "")
                    .help(format!("write a name behind it: `{} some_name {{ ... }}`", spec.word))
            }
            (Naming::Alone, Some(name)) => {
                Diagnostic::new(&codes::NAMING, format!("`{}` takes no name", spec.word))
                    .at(name.span, "")
                    .fix(name.span, "", "delete the name")
            }
            (Naming::OneOf(words), name) if !name.as_ref().is_some_and(|n| words.contains(&&*n.text)) => {
                let all: Vec<String> = words.iter().map(|w| format!("`{} {w}`", spec.word)).collect();
                Diagnostic::new(&codes::NAMING, format!("which `{}` is this?", spec.word))
                    .at(name.as_ref().map_or(word, |n| n.span), "")
                    .help(format!("write {}", all.join(" or ")))
            }
            _ => return true,
        };
        self.say(diagnostic);
        false
    }

    fn unknown_kind(&mut self, parent: &KindSpec, declaration: &Declaration) {
        let word = &declaration.kind;
        let mut diagnostic =
            Diagnostic::new(&codes::KIND, format!("unknown kind `{}`", word.text)).at(word.span, "");
        let here = KINDS.iter().filter(|kind| kind.within.contains(&parent.word)).map(|kind| kind.word);
        let statements = STATEMENTS.iter().map(|statement| statement.word);
        let modules = self.modules.in_reach(self.home);
        if parent.property(&word.text).is_some() && parent.open.is_none() {
            let name = declaration.name.as_ref();
            diagnostic = match name.filter(|_| declaration.block.is_none()) {
                Some(name) => {
                    let text = format!("{} = {}", word.text, name.text);
                    diagnostic.fix(word.span.to(name.span), text.clone(), format!("write `{text}`"))
                }
                None => diagnostic.help(format!("`{0}` is a property: `{0} = ...`", word.text)),
            };
        } else if let Some(near) =
            nearest(&word.text, here.clone().chain(statements).chain(modules.keys().map(|name| &**name)))
        {
            diagnostic = diagnostic.fix(word.span, near, format!("did you mean `{near}`?"));
        } else {
            let all: Vec<String> = here.map(|kind| format!("`{kind}`")).collect();
            let place = if parent.word == FILE { "here".to_owned() } else { format!("in `{}`", parent.word) };
            if !all.is_empty() {
                diagnostic = diagnostic.help(format!("allowed {place}: {}", all.join(", ")));
            }
        }
        self.say(diagnostic);
    }

    fn misplaced(&mut self, parent: &KindSpec, spec: &KindSpec, span: Span) {
        let here = place(parent.word);
        self.say(
            Diagnostic::new(&codes::PLACE, format!("`{}` cannot stand {here}", spec.word))
                .at(span, "")
                .help(format!("it belongs {}", spec.places())),
        );
    }

    /// An `each` is checked also where no member takes it; equal messages are shown once.
    fn each(&mut self, parent: &KindSpec, word: &Ident, block: &[Entry]) {
        match kind(&word.text) {
            Some(spec) if may_stand(spec, parent) => {
                for entry in block {
                    match &entry.kind {
                        EntryKind::Property(property) => _ = self.takes(spec, property),
                        EntryKind::Declaration(declaration) => _ = self.child_spec(spec, declaration),
                        _ => {}
                    }
                }
            }
            Some(spec) => self.misplaced(parent, spec, word.span),
            None if self.module(&word.text).is_some() => self.each_use(word, block),
            None => {
                let here =
                    KINDS.iter().filter(|kind| kind.within.contains(&parent.word)).map(|kind| kind.word);
                let mut diagnostic =
                    Diagnostic::new(&codes::KIND, format!("unknown kind `{}`", word.text)).at(word.span, "");
                if let Some(near) = nearest(&word.text, here) {
                    diagnostic = diagnostic.fix(word.span, near, format!("did you mean `{near}`?"));
                }
                self.say(diagnostic);
            }
        }
    }

    /// Whether an entry of a block could not be read, or states something that its kind does not have.
    fn is_damaged(&self, spec: &KindSpec, block: &[Entry]) -> bool {
        block.iter().any(|entry| match &entry.kind {
            EntryKind::Broken => true,
            EntryKind::Property(property) => spec.property(&property.name.text).is_none(),
            EntryKind::Declaration(Declaration { kind: word, .. }) => match kind(&word.text) {
                Some(kind) => !may_stand(kind, spec),
                None => self.module(&word.text).is_none(),
            },
            _ => false,
        })
    }

    fn join(&mut self, parent: &KindSpec, join: &Join) -> Option<(&'static KindSpec, JoinHead)> {
        let spec = kind("join")?;
        if !may_stand(spec, parent) {
            self.misplaced(parent, spec, join.guest.span.to(join.joint.span));
            return None;
        }
        let mut guests: Vec<&str> = JOINS.iter().map(|join| join.guest).collect();
        guests.dedup();
        let guest = self.role(&join.guest, guests.into_iter())?;
        let hosts = JOINS.iter().filter(|join| join.guest == &*guest).map(|join| join.host);
        let host = self.role(&join.host, hosts)?;
        let found = JOINS.iter().find(|join| join.guest == &*guest && join.host == &*host);
        let joints = found.map(|join| join.joints)?;
        if !joints.contains(&&*join.joint.text) {
            self.unknown_joint("joint", &join.joint.text, join.joint.span, joints.iter().copied());
            return None;
        }
        let path = |path: &Path| path.single().is_none().then(|| path.clone());
        let paths = [path(&join.guest), path(&join.host)];
        Some((spec, JoinHead { guest, host, joint: join.joint.text.clone(), paths }))
    }

    fn role(&mut self, path: &Path, known: impl Iterator<Item = &'static str> + Clone) -> Option<Arc<str>> {
        // A path names one part: its role stands before its name, or is its name.
        let names = path.steps.iter().rev().filter_map(|step| match step {
            Step::Name(name) => Some(name),
            Step::Member(..) => None,
        });
        let depth = if path.single().is_some() { 1 } else { 2 };
        match names.take(depth).filter(|name| known.clone().any(|k| k == &*name.text)).last() {
            Some(name) => Some(name.text.clone()),
            None => {
                let text = path.to_string();
                self.unknown_joint("part", &text, path.span, known);
                None
            }
        }
    }

    fn unknown_joint(
        &mut self,
        what: &str,
        text: &str,
        span: Span,
        known: impl Iterator<Item = &'static str> + Clone,
    ) {
        let diagnostic =
            Diagnostic::new(&codes::JOIN, format!("no {what} `{text}` can stand here")).at(span, "");
        self.say(match nearest(text, known.clone()) {
            Some(near) => diagnostic.fix(span, near, format!("did you mean `{near}`?")),
            None => {
                let all: Vec<String> = known.map(|k| format!("`{k}`")).collect();
                diagnostic.help(format!("known here: {}", all.join(", ")))
            }
        });
    }
}

/// The entry as a statement about what is derived, if it is one.
pub(super) fn statement(entry: &Entry) -> Option<Statement> {
    match &entry.kind {
        EntryKind::Require { condition, because } => {
            let (condition, because) = (condition.clone(), because.clone());
            Some(Statement::Require { condition, because, span: entry.span })
        }
        EntryKind::Accept { slug, because } => {
            Some(Statement::Accept { slug: slug.clone(), because: because.clone() })
        }
        EntryKind::Measured { path, value, because } => {
            let (path, value, because) = (path.clone(), value.clone(), because.clone());
            Some(Statement::Measured { path, value, because })
        }
        _ => None,
    }
}

/// Whether a kind may stand in a block; what may stand in the body of a module is seen where it is used.
fn may_stand(spec: &KindSpec, parent: &KindSpec) -> bool {
    parent.word == MODULE_KIND.word || spec.within.contains(&parent.word)
}

fn head_span(declaration: &Declaration) -> Span {
    let last =
        declaration.text.as_ref().map(|text| text.span).or(declaration.name.as_ref().map(|name| name.span));
    last.map_or(declaration.kind.span, |last| declaration.kind.span.to(last))
}

/// What the layers of a block have for the members in it, found once for all of them.
struct Given<'a> {
    /// The blocks of each declared member, with the layer in which each stands.
    declared: BTreeMap<Key, Vec<(usize, &'a [Entry])>>,
    /// The `each` blocks by their kind, the nearest first.
    each: BTreeMap<&'a str, Vec<&'a [Entry]>>,
}

impl<'a> Given<'a> {
    fn new(layers: &Layers<'a>) -> Self {
        let mut given = Self { declared: BTreeMap::new(), each: BTreeMap::new() };
        for (depth, layer) in layers.iter().enumerate() {
            for entry in *layer {
                match &entry.kind {
                    EntryKind::Each { kind, block } => given.each.entry(&kind.text).or_default().push(block),
                    // In the innermost layer a member is itself, so only outer ones are looked up.
                    EntryKind::Declaration(declaration) if depth > 0 => {
                        let block = declaration.block.as_deref().unwrap_or(&[]);
                        given.declared.entry(key(declaration)).or_default().push((depth, block));
                    }
                    _ => {}
                }
            }
        }
        given
    }

    /// The member's own block, the blocks of the same member in outer layers, then every `each` that fits it.
    fn layers(&self, declaration: &'a Declaration, spec: &KindSpec, depth: usize) -> Layers<'a> {
        let mut out: Layers<'a> = vec![declaration.block.as_deref().unwrap_or(&[])];
        let counted = spec.naming == Naming::Optional && declaration.name.is_none();
        if !counted && let Some(others) = self.declared.get(&key(declaration)) {
            out.extend(others.iter().filter(|(other, _)| *other > depth).map(|(_, block)| *block));
        }
        out.extend(self.each.get(&*declaration.kind.text).into_iter().flatten());
        out
    }
}

/// Kind and name of a member in a block; the name is empty where there is none.
type Key = (Arc<str>, Arc<str>);

fn key(declaration: &Declaration) -> Key {
    let name = declaration.name.as_ref().map_or_else(|| Arc::from(""), |name| name.text.clone());
    (declaration.kind.text.clone(), name)
}
