//! From the tree to a program: kinds and properties checked, `each` handed to the members, names made findable.

pub mod codes;
mod expand;
mod index;
pub(crate) mod kinds;
mod load;
mod members;
mod modules;

pub use kinds::{
    FILE, FILE_KIND, JOINS, JoinSpec, KINDS, KindSpec, Known, LOADS, MODULE_KIND, Naming, PropertySpec,
    Source, Takes, UsualLength, Usually, Without, Written, kind,
};
use load::Docs;
pub(crate) use load::load;
pub use load::{Loaded, Parts, Used};
pub use modules::{Module, Parameter};

use crate::diag::Sink;
use crate::source::{Sources, Span};
use crate::syntax::{Entry, Expr, Ident, Path, Text};
use index::Index;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A member of the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NodeId(u32);

/// A value that is stated: a property, or a `let`.
#[derive(Clone, Debug)]
pub struct Stated {
    /// Its name.
    pub name: Ident,
    /// The expression.
    pub value: Arc<Expr>,
    /// What it takes; `None` for a `let`.
    pub takes: Option<Takes>,
    /// The parameter of a module that it is the value of.
    pub parameter: Option<Arc<Parameter>>,
    /// The member that its right side is seen from, where that is another one: a module's parameters have the values
    /// that the use states, as they are where it stands.
    pub from: Option<NodeId>,
}

/// The two roles and the joint of a `join`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JoinHead {
    /// The role of the part that is held.
    pub guest: Arc<str>,
    /// The role of the part that holds.
    pub host: Arc<str>,
    /// The joint.
    pub joint: Arc<str>,
    /// The one part that is held and the one that holds, where they are named by their paths.
    pub paths: [Option<Path>; 2],
}

/// A statement about what the compiler derives.
#[derive(Clone, Debug)]
pub enum Statement {
    /// `require condition because "..."`
    Require {
        /// What must hold.
        condition: Arc<Expr>,
        /// Why.
        because: Option<Text>,
        /// The whole statement.
        span: Span,
    },
    /// `accept slug because "..."`
    Accept {
        /// The slug of a warning.
        slug: Ident,
        /// Why.
        because: Option<Text>,
    },
    /// `measured path = value because "..."`
    Measured {
        /// What was measured.
        path: Path,
        /// What it was found to be.
        value: Arc<Expr>,
        /// Why.
        because: Option<Text>,
    },
}

/// A declared member, with what every `each` gives it.
#[derive(Clone, Debug)]
pub struct Node {
    /// Its kind.
    pub kind: &'static KindSpec,
    /// Its name, if it has one.
    pub name: Option<Ident>,
    /// Its text, if it has one.
    pub text: Option<Text>,
    /// Kind, name and text in the source.
    pub head: Span,
    /// All of it, with its block; of a file its beginning.
    pub whole: Span,
    /// The member in whose block it stands; for what a module declares, the use of that module.
    pub parent: Option<NodeId>,
    /// Where a name is looked for that its own block does not have: the parent, but for the body of a module the file
    /// that declares it.
    pub scope: Option<NodeId>,
    /// For a use of a module: which one.
    pub module: Option<Arc<Module>>,
    /// What is stated in it, or in an `each` for it.
    pub properties: Vec<Stated>,
    /// The members of its block, in the order of the text.
    pub children: Vec<NodeId>,
    /// For a `join`: what to what with what.
    pub join: Option<JoinHead>,
    /// Statements in its block, or in an `each` for it.
    pub statements: Vec<Statement>,
    /// Something in its block could not be taken, so what seems to be missing may stand there.
    pub damaged: bool,
}

/// What a name stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Binding {
    /// The stated value of this position in the member.
    Value(NodeId, usize),
    /// The member itself.
    Member(NodeId),
}

/// All members of a project.
#[derive(Clone, Debug)]
pub struct Program {
    nodes: Vec<Node>,
    root: NodeId,
    library: NodeId,
    /// The names that each file brings in from others.
    imports: BTreeMap<NodeId, Imports>,
    modules: BTreeMap<Arc<str>, Arc<Module>>,
    docs: Docs,
    index: Index,
}

/// The names that a file brings in from others.
#[derive(Clone, Debug, Default)]
struct Imports {
    /// Chosen names: the file that has each, and its name there.
    named: BTreeMap<Arc<str>, (NodeId, Arc<str>)>,
    /// Files of which all names are used.
    whole: Vec<NodeId>,
}

impl Program {
    /// Builds the program of the files of a project, the main one first, inside a library, whose names they can use and
    /// may take for their own; messages go to the sink. The library is the items of all its files.
    #[must_use]
    pub fn new(library: &[Entry], files: &[Loaded], sources: &mut Sources, sink: &mut Sink) -> Self {
        members::program(library, files, sources, sink)
    }

    /// The main file as a member: the parent of what stands at its top.
    #[must_use]
    pub fn root(&self) -> NodeId {
        self.root
    }

    /// The library, and every file that is used, as members.
    pub fn used_files(&self) -> impl Iterator<Item = NodeId> + '_ {
        self.imports.keys().copied().filter(|id| *id != self.root).chain([self.library])
    }

    /// The main file, then the files of which it uses all names: what stands in those holds for the whole project.
    #[must_use]
    pub fn shared(&self) -> Vec<NodeId> {
        let whole = self.imports.get(&self.root).map_or(&[][..], |imports| &imports.whole);
        [self.root].into_iter().chain(whole.iter().copied()).collect()
    }

    /// A member and what it stands in, the nearest first; at last the files that hold for the whole project.
    #[must_use]
    pub fn around(&self, id: NodeId) -> Vec<NodeId> {
        let mut around: Vec<NodeId> = std::iter::successors(Some(id), |id| self.node(*id).parent).collect();
        if around.last() == Some(&self.root) {
            around.extend(self.shared().into_iter().skip(1));
        }
        around
    }

    /// The modules that the main file can use, by the names they have there.
    #[must_use]
    pub fn modules(&self) -> &BTreeMap<Arc<str>, Arc<Module>> {
        &self.modules
    }

    /// What stands in `///` over the entry that begins at a place, which may lie in the text of a module that is used.
    #[must_use]
    pub fn doc(&self, sources: &Sources, at: Span) -> Option<&Arc<str>> {
        self.docs.get(&(sources.file(at.file), at.start))
    }

    /// The member of this id.
    #[must_use]
    pub fn node(&self, id: NodeId) -> &Node {
        self.nodes.get(id.0 as usize).unwrap_or_else(|| &EMPTY)
    }

    /// All members, the outer ones first.
    pub fn ids(&self) -> impl Iterator<Item = NodeId> + use<> {
        (0..u32::try_from(self.nodes.len()).unwrap_or(u32::MAX)).map(NodeId)
    }

    /// The members of a kind in a member's block, with those that modules used there declare.
    pub fn children<'a>(&'a self, of: NodeId, kind: &'a str) -> impl Iterator<Item = NodeId> + 'a {
        let block = self.index.block(of).filter(|block| !block.uses);
        let found = block.and_then(|block| block.kinds.get(kind)).map(Vec::as_slice).unwrap_or_default();
        let mut open = if block.is_some() { Vec::new() } else { vec![self.node(of).children.iter()] };
        let searched = std::iter::from_fn(move || {
            loop {
                let Some(id) = open.last_mut()?.next() else {
                    open.pop();
                    continue;
                };
                let node = self.node(*id);
                if node.kind.word == kind {
                    return Some(*id);
                }
                if node.module.is_some() {
                    open.push(node.children.iter());
                }
            }
        });
        found.iter().copied().chain(searched)
    }

    /// The members of some kinds in a block, also those of modules that are used in it, in the order of the text.
    pub fn in_order<'a>(&'a self, of: NodeId, kinds: &'a [&str]) -> impl Iterator<Item = NodeId> + 'a {
        let mut open = vec![self.node(of).children.iter()];
        std::iter::from_fn(move || {
            loop {
                let Some(id) = open.last_mut()?.next() else {
                    open.pop();
                    continue;
                };
                let node = self.node(*id);
                if kinds.contains(&node.kind.word) {
                    return Some(*id);
                }
                if node.module.is_some() {
                    open.push(node.children.iter());
                }
            }
        })
    }

    /// The joins of a block: not those of a module that is used in it, which are for what that module declares.
    pub fn joins(&self, of: NodeId) -> impl Iterator<Item = NodeId> + '_ {
        let block = self.index.block(of);
        let found = block.and_then(|block| block.kinds.get("join")).map(Vec::as_slice).unwrap_or_default();
        let rest = if block.is_some() { [].iter() } else { self.node(of).children.iter() };
        found.iter().chain(rest).copied().filter(|id| self.node(*id).join.is_some())
    }

    /// The name of a member in the block of the nearest member that is no use of a module: `porch.seat` for what the use
    /// `porch` declares as `seat`, `porch` for the one member that has no name there.
    #[must_use]
    pub fn name(&self, id: NodeId) -> Option<Arc<str>> {
        let node = self.node(id);
        let own = node.name.as_ref().map(|name| name.text.clone());
        let used = node.parent.filter(|parent| self.node(*parent).module.is_some());
        let Some(used) = used else { return own };
        let outer = self.name(used).unwrap_or_else(|| Arc::from(""));
        let Some(own) = own else {
            let alike = self.node(used).children.iter().filter(|other| {
                let other = self.node(**other);
                other.kind.word == node.kind.word && other.name.is_none()
            });
            let alike: Vec<&NodeId> = alike.collect();
            let position = alike.iter().position(|other| **other == id).unwrap_or(0) + 1;
            return Some(if alike.len() > 1 { format!("{outer}.{position}").into() } else { outer });
        };
        Some(format!("{outer}.{own}").into())
    }

    /// The position of a stated property.
    #[must_use]
    pub fn property(&self, of: NodeId, name: &str) -> Option<usize> {
        self.node(of)
            .properties
            .iter()
            .position(|stated| stated.takes.is_some() && &*stated.name.text == name)
    }

    /// What `name` stands for, seen from the right side of `from`'s value `but`: the block first, then outwards, never
    /// the value itself.
    #[must_use]
    pub fn lookup(&self, from: NodeId, but: &str, name: &str) -> Option<Binding> {
        self.find(from, but, name, &mut Some)
    }

    /// The first thing called `name` that `wanted` makes something of, seen from the right side of `from`'s value `but`.
    pub fn find<T>(
        &self,
        from: NodeId,
        but: &str,
        name: &str,
        wanted: &mut impl FnMut(Binding) -> Option<T>,
    ) -> Option<T> {
        let mut at = Some(from);
        while let Some(id) = at {
            let hidden = id == from && name == but;
            if let Some(found) = self.here(id, hidden, name, wanted) {
                return Some(found);
            }
            if let Some(imports) = self.imports.get(&id) {
                let named = imports.named.get(name);
                let named = named.and_then(|(file, name)| self.here(*file, false, name, wanted));
                if named.is_some() {
                    return named;
                }
                let public = modules::Table::is_public(name);
                let mut whole = imports.whole.iter().filter(|_| public);
                if let Some(found) = whole.find_map(|file| self.here(*file, false, name, wanted)) {
                    return Some(found);
                }
            }
            at = self.node(id).scope;
        }
        None
    }

    /// What `name` stands for in one block.
    fn here<T>(
        &self,
        id: NodeId,
        hidden: bool,
        name: &str,
        wanted: &mut impl FnMut(Binding) -> Option<T>,
    ) -> Option<T> {
        let node = self.node(id);
        let value = match self.index.block(id) {
            Some(block) => block.values.get(name).copied(),
            None => node.properties.iter().position(|stated| &*stated.name.text == name),
        };
        let value = value.filter(|_| !hidden);
        if let Some(found) = value.and_then(|value| wanted(Binding::Value(id, value))) {
            return Some(found);
        }
        // What a module declares is not seen from the values that its use states.
        if node.module.is_some() {
            return None;
        }
        self.member(id, name).and_then(|member| wanted(Binding::Member(member)))
    }

    /// The member of this name in a member's block.
    #[must_use]
    pub fn member(&self, of: NodeId, name: &str) -> Option<NodeId> {
        match self.index.block(of) {
            Some(block) => block.named.get(name)?.iter().copied().find(|id| self.is_named(*id, name)),
            None => self.node(of).children.iter().copied().find(|id| self.is_named(*id, name)),
        }
    }

    fn is_named(&self, id: NodeId, name: &str) -> bool {
        let node = self.node(id);
        let own = matches!(node.kind.naming, Naming::Needed | Naming::Optional | Naming::Perhaps);
        own && node.name.as_ref().is_some_and(|n| &*n.text == name)
    }

    /// The blocks in which a name is looked for, with the files that are used there.
    fn scopes(&self, from: NodeId) -> Vec<NodeId> {
        let mut scopes = Vec::new();
        let mut at = Some(from);
        while let Some(id) = at {
            scopes.push(id);
            scopes
                .extend(self.imports.get(&id).into_iter().flat_map(|imports| imports.whole.iter().copied()));
            at = self.node(id).scope;
        }
        scopes
    }

    /// All names that can be used at a place, for "did you mean".
    #[must_use]
    pub fn names_in_reach(&self, from: NodeId) -> Vec<Arc<str>> {
        let mut names = Vec::new();
        for id in self.scopes(from) {
            let node = self.node(id);
            names.extend(node.properties.iter().map(|stated| stated.name.text.clone()));
            names.extend(
                node.children.iter().filter_map(|c| self.node(*c).name.as_ref().map(|n| n.text.clone())),
            );
            names.extend(self.imports.get(&id).into_iter().flat_map(|imports| imports.named.keys().cloned()));
        }
        names
    }

    /// The names of the members of a kind that can be used at a place, sorted.
    #[must_use]
    pub fn members_in_reach(&self, from: NodeId, kind: &str) -> Vec<Arc<str>> {
        let mut names = Vec::new();
        for id in self.scopes(from) {
            let named = self.node(id).children.iter().map(|id| self.node(*id));
            let named = named.filter(|node| node.kind.word == kind);
            names.extend(named.filter_map(|node| node.name.as_ref()).map(|name| name.text.clone()));
        }
        names.sort();
        names.dedup();
        names
    }
}

static EMPTY: std::sync::LazyLock<Node> = std::sync::LazyLock::new(|| Node {
    kind: &FILE_KIND,
    name: None,
    text: None,
    head: Span::new(Sources::default().add("", String::new()), 0, 0),
    whole: Span::new(Sources::default().add("", String::new()), 0, 0),
    parent: None,
    scope: None,
    module: None,
    properties: Vec::new(),
    children: Vec::new(),
    join: None,
    statements: Vec::new(),
    damaged: false,
});
