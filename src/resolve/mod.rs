//! From the tree to a program: kinds and properties checked, `each` handed to the members, names made findable.

pub mod codes;
mod kinds;
mod members;

pub use kinds::{FILE, FILE_KIND, KINDS, KindSpec, LOADS, Naming, PropertySpec, Takes, kind};

use crate::diag::Sink;
use crate::source::Span;
use crate::syntax::{Entry, Expr, Ident, Parsed, Path, Text};
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
    /// The member in whose block it stands.
    pub parent: Option<NodeId>,
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
}

impl Program {
    /// Builds the program of a parsed file inside a library, whose names the file can use and may take for its own;
    /// messages go to the sink. The library is the items of all its files.
    #[must_use]
    pub fn new(library: &[Entry], parsed: &Parsed, sink: &mut Sink) -> Self {
        members::program(library, parsed, sink)
    }

    /// The file as a member: the parent of what stands at its top. Its own parent is the library.
    #[must_use]
    pub fn root(&self) -> NodeId {
        self.root
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

    /// The members of a kind in a member's block.
    pub fn children<'a>(&'a self, of: NodeId, kind: &'a str) -> impl Iterator<Item = NodeId> + 'a {
        self.node(of).children.iter().copied().filter(move |id| self.node(*id).kind.word == kind)
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
        let mut at = Some(from);
        while let Some(id) = at {
            let node = self.node(id);
            let hidden = id == from && name == but;
            let value =
                node.properties.iter().position(|stated| &*stated.name.text == name).filter(|_| !hidden);
            if let Some(value) = value {
                return Some(Binding::Value(id, value));
            }
            if let Some(member) = self.member(id, name) {
                return Some(Binding::Member(member));
            }
            at = node.parent;
        }
        None
    }

    /// The member of this name in a member's block.
    #[must_use]
    pub fn member(&self, of: NodeId, name: &str) -> Option<NodeId> {
        self.node(of).children.iter().copied().find(|id| self.is_named(*id, name))
    }

    fn is_named(&self, id: NodeId, name: &str) -> bool {
        let node = self.node(id);
        let own = matches!(node.kind.naming, Naming::Needed | Naming::Optional);
        own && node.name.as_ref().is_some_and(|n| &*n.text == name)
    }

    /// All names that can be used at a place, for "did you mean".
    #[must_use]
    pub fn names_in_reach(&self, from: NodeId) -> Vec<Arc<str>> {
        let mut names = Vec::new();
        let mut at = Some(from);
        while let Some(id) = at {
            let node = self.node(id);
            names.extend(node.properties.iter().map(|stated| stated.name.text.clone()));
            names.extend(
                node.children.iter().filter_map(|c| self.node(*c).name.as_ref().map(|n| n.text.clone())),
            );
            at = node.parent;
        }
        names
    }
}

static EMPTY: std::sync::LazyLock<Node> = std::sync::LazyLock::new(|| Node {
    kind: &FILE_KIND,
    name: None,
    text: None,
    head: Span::new(crate::source::Sources::default().add("", String::new()), 0, 0),
    parent: None,
    properties: Vec::new(),
    children: Vec::new(),
    join: None,
    statements: Vec::new(),
    damaged: false,
});
