//! The canonical form of a text: one way to write what it says, with its comments.
//!
//! What cannot be read stays byte for byte as it is. Every run proves itself: the result is read again and must give
//! the same tree, the same comments and the same messages.

mod draw;
mod model;
mod proof;

use crate::diag::Sink;
use crate::source::Sources;
use crate::syntax::{self, Entry, EntryKind, Expr, ExprKind, ParamType, Parsed, TypeLimits};
use proof::Reading;

/// A text in canonical form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Formatted {
    /// The text.
    pub text: String,
    /// How many entries could not be read and stay as they were.
    pub broken: usize,
}

/// The result would not read as the text does; it was thrown away. Where this happens, the formatter has a mistake.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the formatted text would not read as this one does")]
pub struct Unproven;

/// The canonical form of a text.
///
/// # Errors
/// [`Unproven`] where the result does not read as the text does.
pub fn format(text: &str) -> Result<Formatted, Unproven> {
    let mut sources = Sources::default();
    let file = sources.add("", String::new());
    let read = |text: &str| {
        let mut sink = Sink::default();
        let parsed = syntax::parse(file, text, &mut sink);
        (parsed, sink)
    };
    // Where a bracket is open at the end of the text, the empty lines there would count.
    let visible = text.trim_end_matches([' ', '\t', '\r', '\n']);
    let text = &if visible.is_empty() { String::new() } else { format!("{visible}\n") };
    let (parsed, messages) = read(text);
    let broken = broken(&parsed);
    let pieces = syntax::layout(file, text);
    let result = draw::draw(&model::read(text, &pieces, &broken));
    let (again, told) = read(&result);
    let before = Reading { text, parsed: &parsed, messages };
    let after = Reading { text: &result, parsed: &again, messages: told };
    match proof::same(before, after) {
        true => Ok(Formatted { text: result, broken: broken.len() }),
        false => Err(Unproven),
    }
}

/// The first bytes of the entries that were not read, or not wholly.
fn broken(parsed: &Parsed) -> Vec<u32> {
    let mut found = Vec::new();
    let mut open: Vec<&Entry> = parsed.items.iter().collect();
    while let Some(entry) = open.pop() {
        let whole = match &entry.kind {
            EntryKind::Broken => false,
            EntryKind::Property(property) | EntryKind::Let(property) => sound(&property.value),
            EntryKind::Require { condition: value, .. } | EntryKind::Measured { value, .. } => sound(value),
            EntryKind::Declaration(declaration) => {
                open.extend(declaration.block.iter().flatten());
                true
            }
            EntryKind::Each { block, .. } => {
                open.extend(block);
                true
            }
            EntryKind::Join(join) => {
                open.extend(&join.block);
                true
            }
            EntryKind::Module { block, .. } => {
                open.extend(block.iter());
                true
            }
            EntryKind::Param(param) => {
                limits_sound(&param.takes) && param.default.as_ref().is_none_or(|value| sound(value))
            }
            EntryKind::Accept { .. } | EntryKind::Use(_) => true,
        };
        if !whole {
            found.push(entry.span.start);
        }
    }
    found.sort_unstable();
    found
}

fn limits_sound(takes: &ParamType) -> bool {
    match &takes.limits {
        TypeLimits::None => true,
        TypeLimits::Bound(_, value) => sound(value),
        TypeLimits::Between(least, most) => sound(least) && sound(most),
        TypeLimits::Types(types) => types.iter().all(limits_sound),
    }
}

fn sound(expr: &Expr) -> bool {
    match &expr.kind {
        ExprKind::Broken => false,
        ExprKind::Call(_, members) | ExprKind::List(members) => members.iter().all(sound),
        ExprKind::Unary(_, operand) => sound(operand),
        ExprKind::Binary(_, left, right) => sound(left) && sound(right),
        ExprKind::If(condition, then, other) => sound(condition) && sound(then) && sound(other),
        ExprKind::Number(_)
        | ExprKind::Text(_)
        | ExprKind::Truth(_)
        | ExprKind::Path(_)
        | ExprKind::Rest
        | ExprKind::Unread
        | ExprKind::Date(_) => true,
    }
}
