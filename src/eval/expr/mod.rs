//! Works out expressions: exactly, with dimensions checked, and with the named numbers that each one used.

mod finished;
mod order;
mod path;
mod taken;
mod term;

use super::codes;
use super::ledger::{Ledger, Len, Linear, Why};
use super::measures::{Derived, Measures, path_of};
use super::read::Replaced;
use super::uses::Uses;
use super::value::Value;
use crate::diag::{Diagnostic, Sink};
use crate::limits;
use crate::quantity::{Exact, Length, some};
use crate::resolve::{NodeId, Parameter, Program, Takes};
use crate::source::Sources;
use crate::syntax::{Expr, Path};
use num_traits::Zero;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What an expression came to, before it is asked for as a property.
#[derive(Clone, Debug)]
enum Term {
    Number(Linear, Option<Length>),
    Size(Exact, Exact),
    Text(Arc<str>),
    Truth(bool),
    /// A word of a parameter, with all that the parameter lists.
    Word(Arc<str>, Arc<Parameter>),
    Member(NodeId),
    List,
    Unread,
    Date(Arc<str>),
    Poison,
}

/// How many names of a circle are marked.
const MARKED: usize = 7;

/// The named numbers that an expression used.
type Used = Vec<(Arc<str>, Why)>;

/// Works out the stated values of a program, each once.
pub(super) struct Evaluator<'a> {
    pub program: &'a Program,
    pub ledger: &'a mut Ledger,
    pub sink: &'a mut Sink,
    /// Derived measures by path, where they may be used: in requirements.
    pub measures: Option<&'a Measures>,
    /// Which names were found to stand for what.
    pub uses: Uses,
    /// The texts, for messages.
    pub sources: &'a Sources,
    /// What is taken in place of expressions at these places.
    pub replaced: &'a Replaced,
    done: BTreeMap<At, Value>,
    /// The values that are being worked out, the outermost first.
    working: Vec<At>,
    /// How many expressions are being worked out, one in the other.
    depth: usize,
}

/// A stated value: its member, and its position among what that states.
type At = (NodeId, usize);

/// What a name leads to where a member is expected.
enum Found {
    Member(NodeId),
    /// Something of which a message tells.
    Unknown,
    Nothing,
}

/// Where an expression stands: its member and the value it is the right side of.
#[derive(Clone, Copy)]
pub(super) struct Site<'a> {
    pub node: NodeId,
    pub name: &'a str,
}

impl<'a> Evaluator<'a> {
    pub fn new(
        program: &'a Program,
        sources: &'a Sources,
        replaced: &'a Replaced,
        ledger: &'a mut Ledger,
        sink: &'a mut Sink,
    ) -> Self {
        Self {
            program,
            ledger,
            sink,
            sources,
            replaced,
            measures: None,
            uses: Uses::default(),
            done: BTreeMap::new(),
            working: Vec::new(),
            depth: 0,
        }
    }

    /// The value of a stated property or `let`; [`Value::Poison`] where a message was given.
    pub fn value(&mut self, node: NodeId, index: usize) -> Value {
        let at = (node, index);
        if let Some(value) = self.done.get(&at) {
            return value.clone();
        }
        if let Some(from) = self.working.iter().position(|other| *other == at) {
            self.circle(from);
            return Value::Poison;
        }
        if self.working.is_empty() {
            self.prepare(at);
        }
        if self.working.len() == limits::CIRCLE {
            self.circle(0);
            return Value::Poison;
        }
        self.work_out(at)
    }

    fn work_out(&mut self, (node, index): At) -> Value {
        let program = self.program;
        let Some(stated) = program.node(node).properties.get(index) else { return Value::Poison };
        self.working.push((node, index));
        let place = Site { node: stated.from.unwrap_or(node), name: &stated.name.text };
        let value = match &stated.parameter {
            Some(parameter) => self.argument(node, place, parameter, &stated.value),
            None => self.taken(place, stated.takes, &stated.value),
        };
        self.working.pop();
        self.done.insert((node, index), value.clone());
        value
    }

    /// The values from the first call of this one to here depend on each other.
    fn circle(&mut self, from: usize) {
        let stated = self.working.iter().skip(from).filter_map(|(node, index)| {
            self.program.node(*node).properties.get(*index).map(|stated| stated.name.clone())
        });
        let mut names: Vec<_> = stated.collect();
        // The same circle is told in the same words, wherever one enters it.
        let first = names.iter().enumerate().min_by_key(|(_, name)| name.span).map_or(0, |(first, _)| first);
        names.rotate_left(first);
        let Some((first, others)) = names.split_first() else { return };
        let message = format!("`{}` depends on itself", first.text);
        let mut diagnostic = Diagnostic::new(&codes::CIRCLE, message).at(first.span, "needs the next one");
        for name in others.iter().take(MARKED) {
            diagnostic = diagnostic.and_at(name.span, "which needs the next one, or the first");
        }
        if let Some(further @ 1..) = others.len().checked_sub(MARKED) {
            diagnostic =
                diagnostic.note(format!("the circle goes on through {}", some(further, "further name")));
        }
        self.sink.push(diagnostic.help("state one of them without the others"));
    }

    /// A length that stands outside any property, entered in the ledger under `name`.
    pub fn of(&mut self, node: NodeId, name: &str, takes: Option<Takes>, expr: &Expr) -> Option<Len> {
        match self.taken(Site { node, name }, takes, expr) {
            Value::Number(number) => number.len(),
            _ => None,
        }
    }

    /// Whether a condition holds; `None` where a message was given, or a reading is not taken.
    pub fn condition(&mut self, node: NodeId, expr: &Expr) -> Option<bool> {
        let place = Site { node, name: "" };
        match self.term(place, expr, &mut Used::new()) {
            Term::Truth(truth) => Some(truth),
            Term::Poison | Term::Unread => None,
            other => {
                self.no_operand(expr, other, "a comparison");
                None
            }
        }
    }

    /// The value of an expression that is a number without `rest`.
    pub fn number(&mut self, node: NodeId, expr: &Expr) -> Option<Exact> {
        match self.term(Site { node, name: "" }, expr, &mut Used::new()) {
            Term::Number(linear, None) if linear.times.is_zero() => Some(linear.plus),
            _ => None,
        }
    }

    /// The derived measure of a path, seen from a member: under its own path first, then outwards.
    pub fn derived(&self, from: NodeId, path: &Path) -> Option<&'a Derived> {
        let measures = &self.measures?.known;
        let text = path.to_string();
        let mut at = Some(from);
        while let Some(id) = at {
            let outer = path_of(self.program, id);
            let full = if outer.is_empty() { text.clone() } else { format!("{outer}.{text}") };
            if let Some(derived) = measures.get(&full) {
                return Some(derived);
            }
            at = self.program.node(id).parent;
        }
        None
    }
}
