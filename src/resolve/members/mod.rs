//! Declares the members: checks each entry against the table of kinds and merges what `each` says.

mod allowed;
mod given;
mod joins;
mod stated;

pub(super) use given::Layers;
use given::{Given, Key, key};

use super::codes;
use super::index::Index;
use super::load::{Docs, Loaded};
use super::modules::Modules;
use super::{FILE, FILE_KIND, Imports, KindSpec, MODULE_KIND, Naming, Node, NodeId, Program, Statement};
use crate::diag::{Diagnostic, Sink};
use crate::source::{Sources, Span};
use crate::syntax::{Declaration, Entry, EntryKind, Ident};
use std::collections::BTreeMap;
use std::sync::Arc;

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
    let docs = files.iter().flat_map(|file| file.docs.iter().map(|(at, doc)| (*at, doc.clone()))).collect();
    Program { docs, ..declarer.finish(outer) }
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
            whole: head.span,
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
        Program { nodes: self.nodes, root, library, imports, modules, docs: Docs::new(), index }
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
                            let own = match child.naming {
                                Naming::Needed | Naming::Optional => true,
                                Naming::Perhaps => declaration.name.is_some(),
                                Naming::Alone | Naming::OneOf(_) => false,
                            };
                            if own && let Some(first) = names.insert(key.1.clone(), head) {
                                self.taken(&key, head, first);
                                continue;
                            }
                        }
                        let layers = given.layers(declaration, child, depth);
                        let (name, text) = (declaration.name.clone(), declaration.text.clone());
                        let (parent, scope) = (Some(parent), Some(scope));
                        let id = self.open(Head { spec: child, name, text, span: head, parent, scope });
                        if let Some(node) = self.node(id) {
                            node.whole = entry.span;
                        }
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

fn head_span(declaration: &Declaration) -> Span {
    let last =
        declaration.text.as_ref().map(|text| text.span).or(declaration.name.as_ref().map(|name| name.span));
    last.map_or(declaration.kind.span, |last| declaration.kind.span.to(last))
}
