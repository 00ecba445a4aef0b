//! The proof that a text was only laid out anew: both texts are read, and their trees and comments compared.

use crate::diag::Sink;
use crate::syntax::{
    Comment, Declaration, Entry, EntryKind, Expr, ExprKind, Ident, ParamType, Parsed, Path, Property, Step,
    Text, TypeLimits, Use, UseFrom, UseName,
};

/// A text and what was read from it.
pub(super) struct Reading<'a> {
    pub text: &'a str,
    pub parsed: &'a Parsed,
    pub messages: Sink,
}

/// Whether both readings say the same.
pub(super) fn same(a: Reading<'_>, b: Reading<'_>) -> bool {
    let comments = |reading: &Reading<'_>| -> Vec<_> {
        let kind_and_text = |comment: &Comment| {
            (comment.kind, reading.text.get(comment.span.range()).unwrap_or("").trim_end().to_owned())
        };
        reading.parsed.comments.iter().map(kind_and_text).collect()
    };
    let told = |sink: Sink| -> Vec<_> { sink.finish().iter().map(|message| message.code.id).collect() };
    let pair = Pair { a: a.text, b: b.text };
    comments(&a) == comments(&b)
        && pair.entries(&a.parsed.items, &b.parsed.items)
        && told(a.messages) == told(b.messages)
}

/// Whether all of two slices agree.
fn all<T>(a: &[T], b: &[T], same: impl Fn(&T, &T) -> bool) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
}

/// The two texts, for what was not read.
#[derive(Clone, Copy)]
struct Pair<'a> {
    a: &'a str,
    b: &'a str,
}

impl Pair<'_> {
    fn entries(self, a: &[Entry], b: &[Entry]) -> bool {
        all(a, b, |a, b| self.entry(a, b))
    }

    fn entry(self, a: &Entry, b: &Entry) -> bool {
        match (&a.kind, &b.kind) {
            (EntryKind::Property(a), EntryKind::Property(b)) | (EntryKind::Let(a), EntryKind::Let(b)) => {
                property(a, b)
            }
            (EntryKind::Declaration(a), EntryKind::Declaration(b)) => self.declaration(a, b),
            (EntryKind::Each { kind: a, block: x }, EntryKind::Each { kind: b, block: y }) => {
                ident(a, b) && self.entries(x, y)
            }
            (EntryKind::Join(a), EntryKind::Join(b)) => {
                path(&a.guest, &b.guest)
                    && path(&a.host, &b.host)
                    && ident(&a.joint, &b.joint)
                    && self.entries(&a.block, &b.block)
            }
            (
                EntryKind::Require { condition: a, because: x },
                EntryKind::Require { condition: b, because: y },
            ) => expr(a, b) && texts(x.as_ref(), y.as_ref()),
            (EntryKind::Accept { slug: a, because: x }, EntryKind::Accept { slug: b, because: y }) => {
                ident(a, b) && texts(x.as_ref(), y.as_ref())
            }
            (
                EntryKind::Measured { path: a, value: v, because: x },
                EntryKind::Measured { path: b, value: w, because: y },
            ) => path(a, b) && expr(v, w) && texts(x.as_ref(), y.as_ref()),
            (EntryKind::Use(a), EntryKind::Use(b)) => uses(a, b),
            (EntryKind::Module { name: a, block: x }, EntryKind::Module { name: b, block: y }) => {
                ident(a, b) && self.entries(x, y)
            }
            (EntryKind::Param(a), EntryKind::Param(b)) => {
                let defaults = match (&a.default, &b.default) {
                    (Some(a), Some(b)) => expr(a, b),
                    (a, b) => a.is_none() && b.is_none(),
                };
                ident(&a.name, &b.name) && param_type(&a.takes, &b.takes) && defaults
            }
            (EntryKind::Broken, EntryKind::Broken) => {
                let lines = |text: &str, entry: &Entry| -> Vec<String> {
                    let text = text.get(entry.span.range()).unwrap_or("");
                    text.lines().map(|line| line.trim_end().to_owned()).collect()
                };
                lines(self.a, a) == lines(self.b, b)
            }
            _ => false,
        }
    }

    fn declaration(self, a: &Declaration, b: &Declaration) -> bool {
        let names = match (&a.name, &b.name) {
            (Some(a), Some(b)) => ident(a, b),
            (a, b) => a.is_none() && b.is_none(),
        };
        let blocks = match (&a.block, &b.block) {
            (Some(a), Some(b)) => self.entries(a, b),
            (a, b) => a.is_none() && b.is_none(),
        };
        ident(&a.kind, &b.kind) && names && texts(a.text.as_ref(), b.text.as_ref()) && blocks
    }
}

fn uses(a: &Use, b: &Use) -> bool {
    let from = match (&a.from, &b.from) {
        (UseFrom::File(a), UseFrom::File(b)) => a.text == b.text,
        (UseFrom::Library(a), UseFrom::Library(b)) => path(a, b),
        _ => false,
    };
    let name = |a: &UseName, b: &UseName| {
        ident(&a.name, &b.name) && a.alias.as_ref().map(|n| &n.text) == b.alias.as_ref().map(|n| &n.text)
    };
    from && match (&a.names, &b.names) {
        (Some(a), Some(b)) => all(a, b, name),
        (a, b) => a.is_none() && b.is_none(),
    }
}

fn param_type(a: &ParamType, b: &ParamType) -> bool {
    ident(&a.name, &b.name)
        && match (&a.limits, &b.limits) {
            (TypeLimits::None, TypeLimits::None) => true,
            (TypeLimits::Bound(a, x), TypeLimits::Bound(b, y)) => a == b && expr(x, y),
            (TypeLimits::Between(v, w), TypeLimits::Between(x, y)) => expr(v, x) && expr(w, y),
            (TypeLimits::Types(a), TypeLimits::Types(b)) => all(a, b, param_type),
            _ => false,
        }
}

fn property(a: &Property, b: &Property) -> bool {
    ident(&a.name, &b.name) && expr(&a.value, &b.value)
}

fn ident(a: &Ident, b: &Ident) -> bool {
    a.text == b.text
}

fn texts(a: Option<&Text>, b: Option<&Text>) -> bool {
    a.map(|text| &text.text) == b.map(|text| &text.text)
}

fn path(a: &Path, b: &Path) -> bool {
    all(&a.steps, &b.steps, |a, b| match (a, b) {
        (Step::Name(a), Step::Name(b)) => ident(a, b),
        (Step::Member(a, _), Step::Member(b, _)) => a == b,
        _ => false,
    })
}

fn expr(a: &Expr, b: &Expr) -> bool {
    match (&a.kind, &b.kind) {
        (ExprKind::Number(a), ExprKind::Number(b)) => a == b,
        (ExprKind::Text(a), ExprKind::Text(b)) => a == b,
        (ExprKind::Truth(a), ExprKind::Truth(b)) => a == b,
        (ExprKind::Path(a), ExprKind::Path(b)) => path(a, b),
        (ExprKind::Call(a, x), ExprKind::Call(b, y)) => path(a, b) && all(x, y, expr),
        (ExprKind::List(a), ExprKind::List(b)) => all(a, b, expr),
        (ExprKind::Rest, ExprKind::Rest)
        | (ExprKind::Unread, ExprKind::Unread)
        | (ExprKind::Broken, ExprKind::Broken) => true,
        (ExprKind::Date(a), ExprKind::Date(b)) => a.split_whitespace().eq(b.split_whitespace()),
        (ExprKind::Unary(a, x), ExprKind::Unary(b, y)) => a == b && expr(x, y),
        (ExprKind::Binary(a, v, w), ExprKind::Binary(b, x, y)) => a == b && expr(v, x) && expr(w, y),
        (ExprKind::If(a, v, w), ExprKind::If(b, x, y)) => expr(a, b) && expr(v, x) && expr(w, y),
        _ => false,
    }
}
