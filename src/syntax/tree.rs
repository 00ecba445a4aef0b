//! The typed tree of one file. It owns its text pieces; nothing of the parser's is left in it.

use super::scan::Comment;
use crate::quantity::{Rational, System, Unit};
use crate::source::{FileId, Span};
use std::sync::Arc;

/// A parsed file. Parsing never fails: what could not be read is [`EntryKind::Broken`] or [`ExprKind::Broken`].
#[derive(Clone, Debug)]
pub struct Parsed {
    /// The file.
    pub file: FileId,
    /// Its items from top to bottom.
    pub items: Vec<Entry>,
    /// All comments in order.
    pub comments: Vec<Comment>,
}

/// A name as it stands in the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ident {
    /// The name.
    pub text: Arc<str>,
    /// Its place.
    pub span: Span,
}

/// One entry of a file or a block.
#[derive(Clone, Debug)]
pub struct Entry {
    /// The entry from its first to its last visible byte.
    pub span: Span,
    /// What it is.
    pub kind: EntryKind,
}

/// The forms of an entry.
#[derive(Clone, Debug)]
pub enum EntryKind {
    /// `name = value`
    Property(Property),
    /// `let name = value`
    Let(Property),
    /// `kind name "text" { entries }`
    Declaration(Declaration),
    /// `each kind { entries }`
    Each {
        /// The kind whose members get these entries.
        kind: Ident,
        /// The entries.
        block: Vec<Entry>,
    },
    /// `join guest to host with joint { entries }`
    Join(Join),
    /// `require condition because "..."`
    Require {
        /// What must hold.
        condition: Arc<Expr>,
        /// Why.
        because: Option<Text>,
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
    /// `use "shop.scant" { name as other }`
    Use(Use),
    /// `module name { entries }`
    Module {
        /// Its name.
        name: Ident,
        /// Its parameters and what it declares.
        block: Arc<[Entry]>,
    },
    /// `param name: type = default`
    Param(Param),
    /// An entry that could not be read; the message is in the sink.
    Broken,
}

/// `use "shop.scant"`, `use std.shelving { name as other }`
#[derive(Clone, Debug)]
pub struct Use {
    /// The file.
    pub from: UseFrom,
    /// The names that are wanted; `None` where all are.
    pub names: Option<Vec<UseName>>,
}

/// Where the names of a [`Use`] come from.
#[derive(Clone, Debug)]
pub enum UseFrom {
    /// A file, by its path from the file that says so.
    File(Text),
    /// A part of the embedded library, such as `std.shelving`.
    Library(Path),
}

/// `name` or `name as other` in a [`Use`].
#[derive(Clone, Debug)]
pub struct UseName {
    /// The name in the other file.
    pub name: Ident,
    /// The name in this file, where it is another one.
    pub alias: Option<Ident>,
}

/// `param name: type = default`
#[derive(Clone, Debug)]
pub struct Param {
    /// Its name.
    pub name: Ident,
    /// What it takes.
    pub takes: ParamType,
    /// What it is where a use does not say.
    pub default: Option<Arc<Expr>>,
}

/// The type of a parameter: `length`, `length(>= 9")`, `choice(a, b)`, `list(length)`, `sheet`.
#[derive(Clone, Debug)]
pub struct ParamType {
    /// Its word.
    pub name: Ident,
    /// What stands in the parentheses behind it.
    pub limits: TypeLimits,
    /// The whole of it.
    pub span: Span,
}

/// What stands in the parentheses behind the word of a type.
#[derive(Clone, Debug)]
pub enum TypeLimits {
    /// Nothing.
    None,
    /// `>= 9"`
    Bound(Binary, Arc<Expr>),
    /// `1..12`
    Between(Arc<Expr>, Arc<Expr>),
    /// `a, b`
    Types(Vec<ParamType>),
}

/// `name = value`
#[derive(Clone, Debug)]
pub struct Property {
    /// The name.
    pub name: Ident,
    /// The value.
    pub value: Arc<Expr>,
}

/// `kind name "text" { entries }`
#[derive(Clone, Debug)]
pub struct Declaration {
    /// The kind.
    pub kind: Ident,
    /// The name, if any.
    pub name: Option<Ident>,
    /// The text, if any.
    pub text: Option<Text>,
    /// The entries; `None` where there is no block.
    pub block: Option<Vec<Entry>>,
}

/// `join guest to host with joint { entries }`
#[derive(Clone, Debug)]
pub struct Join {
    /// The part that is held.
    pub guest: Path,
    /// The part that holds it.
    pub host: Path,
    /// The joint.
    pub joint: Ident,
    /// The entries.
    pub block: Vec<Entry>,
}

/// A text in quotes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// The text without quotes and escapes.
    pub text: Arc<str>,
    /// Its place, quotes included.
    pub span: Span,
}

/// A dotted path, such as `sewing.one.shelf[2].length`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Path {
    /// The steps, at least one, the first a name.
    pub steps: Vec<Step>,
    /// The whole path.
    pub span: Span,
}

impl Path {
    /// The name, if the path is nothing but a name.
    #[must_use]
    pub fn single(&self) -> Option<&Ident> {
        match self.steps.as_slice() {
            [Step::Name(name)] => Some(name),
            _ => None,
        }
    }
}

impl std::fmt::Display for Path {
    /// As it is written: `sewing.one.shelf[2]`.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for (index, step) in self.steps.iter().enumerate() {
            match step {
                Step::Name(name) if index == 0 => f.write_str(&name.text)?,
                Step::Name(name) => write!(f, ".{}", name.text)?,
                Step::Member(index, _) => write!(f, "[{index}]")?,
            }
        }
        Ok(())
    }
}

/// One step of a path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// `.name`
    Name(Ident),
    /// `[n]`, counted from one.
    Member(u32, Span),
}

/// An expression.
#[derive(Clone, Debug)]
pub struct Expr {
    /// Its place.
    pub span: Span,
    /// What it is.
    pub kind: ExprKind,
}

/// The forms of an expression.
#[derive(Clone, Debug)]
pub enum ExprKind {
    /// A number with or without a unit.
    Number(Literal),
    /// A text in quotes.
    Text(Arc<str>),
    /// `true` or `false`
    Truth(bool),
    /// A name or a path.
    Path(Path),
    /// `name(arguments)`
    Call(Path, Vec<Expr>),
    /// `[a, b, c]`
    List(Vec<Expr>),
    /// What is left over: `rest`
    Rest,
    /// A reading that is not taken yet: `?`
    Unread,
    /// A day, with or without a time, as it is written.
    Date(Arc<str>),
    /// A sign or `not`.
    Unary(Unary, Box<Expr>),
    /// Two operands.
    Binary(Binary, Box<Expr>, Box<Expr>),
    /// `if condition then value else other`
    If(Box<Expr>, Box<Expr>, Box<Expr>),
    /// An expression that could not be taken; the message is in the sink.
    Broken,
}

/// A number as it stands in the text, made exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Literal {
    /// The value in base units of the dimension.
    pub value: Rational,
    /// The unit; `None` for a bare number.
    pub unit: Option<Unit>,
    /// For a length, the system that it is written in.
    pub system: Option<System>,
}

/// Operators with one operand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unary {
    /// `-a`
    Minus,
    /// `not a`
    Not,
}

/// Operators with two operands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Binary {
    /// `a + b`
    Add,
    /// `a - b`
    Subtract,
    /// `a * b`
    Multiply,
    /// `a / b`
    Divide,
    /// `a < b`
    Below,
    /// `a <= b`
    AtMost,
    /// `a > b`
    Above,
    /// `a >= b`
    AtLeast,
    /// `a == b`
    Equal,
    /// `a != b`
    Unequal,
    /// `a and b`
    And,
    /// `a or b`
    Or,
    /// `length x width`
    By,
    /// `count of value`
    Of,
    /// `value to step`: rounding
    To,
}
