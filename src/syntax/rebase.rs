//! The same tree with its places in another file: a body that is used at a place of its own.

use super::tree::{
    Declaration, Entry, EntryKind, Expr, ExprKind, Ident, Join, Param, ParamType, Path, Property, Step, Text,
    TypeLimits, Use, UseFrom, UseName,
};
use crate::source::{FileId, Span};
use std::sync::Arc;

/// A piece of the tree that can be told to stand in another file.
pub trait Rebase: Sized {
    /// The same, with every span in `file`.
    #[must_use]
    fn rebased(&self, file: FileId) -> Self;
}

impl Rebase for Span {
    fn rebased(&self, file: FileId) -> Self {
        Self { file, ..*self }
    }
}

impl<T: Rebase> Rebase for Vec<T> {
    fn rebased(&self, file: FileId) -> Self {
        self.iter().map(|member| member.rebased(file)).collect()
    }
}

impl<T: Rebase> Rebase for Option<T> {
    fn rebased(&self, file: FileId) -> Self {
        self.as_ref().map(|inner| inner.rebased(file))
    }
}

impl<T: Rebase> Rebase for Arc<T> {
    fn rebased(&self, file: FileId) -> Self {
        Self::new((**self).rebased(file))
    }
}

impl<T: Rebase> Rebase for Box<T> {
    fn rebased(&self, file: FileId) -> Self {
        Self::new((**self).rebased(file))
    }
}

impl Rebase for Ident {
    fn rebased(&self, file: FileId) -> Self {
        Self { text: self.text.clone(), span: self.span.rebased(file) }
    }
}

impl Rebase for Text {
    fn rebased(&self, file: FileId) -> Self {
        Self { text: self.text.clone(), span: self.span.rebased(file) }
    }
}

impl Rebase for Path {
    fn rebased(&self, file: FileId) -> Self {
        let steps = self.steps.iter().map(|step| match step {
            Step::Name(name) => Step::Name(name.rebased(file)),
            Step::Member(index, span) => Step::Member(*index, span.rebased(file)),
        });
        Self { steps: steps.collect(), span: self.span.rebased(file) }
    }
}

impl Rebase for Property {
    fn rebased(&self, file: FileId) -> Self {
        Self { name: self.name.rebased(file), value: self.value.rebased(file) }
    }
}

impl Rebase for Declaration {
    fn rebased(&self, file: FileId) -> Self {
        Self {
            kind: self.kind.rebased(file),
            name: self.name.rebased(file),
            text: self.text.rebased(file),
            block: self.block.rebased(file),
        }
    }
}

impl Rebase for Join {
    fn rebased(&self, file: FileId) -> Self {
        Self {
            guest: self.guest.rebased(file),
            host: self.host.rebased(file),
            joint: self.joint.rebased(file),
            block: self.block.rebased(file),
        }
    }
}

impl Rebase for UseName {
    fn rebased(&self, file: FileId) -> Self {
        Self { name: self.name.rebased(file), alias: self.alias.rebased(file) }
    }
}

impl Rebase for Use {
    fn rebased(&self, file: FileId) -> Self {
        let from = match &self.from {
            UseFrom::File(text) => UseFrom::File(text.rebased(file)),
            UseFrom::Library(path) => UseFrom::Library(path.rebased(file)),
        };
        Self { from, names: self.names.rebased(file) }
    }
}

impl Rebase for ParamType {
    fn rebased(&self, file: FileId) -> Self {
        let limits = match &self.limits {
            TypeLimits::None => TypeLimits::None,
            TypeLimits::Bound(op, value) => TypeLimits::Bound(*op, value.rebased(file)),
            TypeLimits::Between(least, most) => TypeLimits::Between(least.rebased(file), most.rebased(file)),
            TypeLimits::Types(types) => TypeLimits::Types(types.rebased(file)),
        };
        Self { name: self.name.rebased(file), limits, span: self.span.rebased(file) }
    }
}

impl Rebase for Param {
    fn rebased(&self, file: FileId) -> Self {
        Self {
            name: self.name.rebased(file),
            takes: self.takes.rebased(file),
            default: self.default.rebased(file),
        }
    }
}

impl Rebase for Entry {
    fn rebased(&self, file: FileId) -> Self {
        let kind = match &self.kind {
            EntryKind::Property(property) => EntryKind::Property(property.rebased(file)),
            EntryKind::Let(property) => EntryKind::Let(property.rebased(file)),
            EntryKind::Declaration(declaration) => EntryKind::Declaration(declaration.rebased(file)),
            EntryKind::Each { kind, block } => {
                EntryKind::Each { kind: kind.rebased(file), block: block.rebased(file) }
            }
            EntryKind::Join(join) => EntryKind::Join(join.rebased(file)),
            EntryKind::Require { condition, because } => {
                EntryKind::Require { condition: condition.rebased(file), because: because.rebased(file) }
            }
            EntryKind::Accept { slug, because } => {
                EntryKind::Accept { slug: slug.rebased(file), because: because.rebased(file) }
            }
            EntryKind::Measured { path, value, because } => EntryKind::Measured {
                path: path.rebased(file),
                value: value.rebased(file),
                because: because.rebased(file),
            },
            EntryKind::Use(used) => EntryKind::Use(used.rebased(file)),
            EntryKind::Module { name, block } => EntryKind::Module {
                name: name.rebased(file),
                block: block.iter().map(|entry| entry.rebased(file)).collect(),
            },
            EntryKind::Param(param) => EntryKind::Param(param.rebased(file)),
            EntryKind::Broken => EntryKind::Broken,
        };
        Self { span: self.span.rebased(file), kind }
    }
}

impl Rebase for Expr {
    fn rebased(&self, file: FileId) -> Self {
        let kind = match &self.kind {
            ExprKind::Path(path) => ExprKind::Path(path.rebased(file)),
            ExprKind::Call(path, arguments) => ExprKind::Call(path.rebased(file), arguments.rebased(file)),
            ExprKind::List(members) => ExprKind::List(members.rebased(file)),
            ExprKind::Unary(op, operand) => ExprKind::Unary(*op, operand.rebased(file)),
            ExprKind::Binary(op, left, right) => {
                ExprKind::Binary(*op, left.rebased(file), right.rebased(file))
            }
            ExprKind::If(condition, value, other) => {
                ExprKind::If(condition.rebased(file), value.rebased(file), other.rebased(file))
            }
            ExprKind::Number(_)
            | ExprKind::Text(_)
            | ExprKind::Truth(_)
            | ExprKind::Rest
            | ExprKind::Unread
            | ExprKind::Date(_)
            | ExprKind::Broken => self.kind.clone(),
        };
        Expr { span: self.span.rebased(file), kind }
    }
}
