//! Works out expressions: exactly, with dimensions checked, and with the named numbers that each one used.

use super::codes;
use super::intent::{Derived, Measures, path_of};
use super::ledger::{Ledger, Len, Linear, Step, Why};
use super::value::{Number, Value};
use crate::diag::{Diagnostic, Sink, nearest};
use crate::quantity::{Dim, Exact, Length, Rational, Round};
use crate::resolve::{Binding, LOADS, NodeId, Parameter, Program, Takes};
use crate::source::Span;
use crate::syntax::{self, Binary, Expr, ExprKind, Path, Unary};
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

/// The named numbers that an expression used.
type Used = Vec<(Arc<str>, Why)>;

/// Works out the stated values of a program, each once.
pub(super) struct Evaluator<'a> {
    pub program: &'a Program,
    pub ledger: &'a mut Ledger,
    pub sink: &'a mut Sink,
    /// Derived measures by path, where they may be used: in requirements.
    pub measures: Option<&'a Measures>,
    done: BTreeMap<(NodeId, usize), Value>,
    /// The values that are being worked out, the outermost first.
    working: Vec<(NodeId, usize)>,
}

/// What a name leads to where a member is expected.
enum Found {
    Member(NodeId),
    /// Something of which a message tells.
    Unknown,
    Nothing,
}

/// Where an expression stands: its member and the value it is the right side of.
#[derive(Clone, Copy)]
pub(super) struct Place<'a> {
    pub node: NodeId,
    pub name: &'a str,
}

impl<'a> Evaluator<'a> {
    pub fn new(program: &'a Program, ledger: &'a mut Ledger, sink: &'a mut Sink) -> Self {
        Self { program, ledger, sink, measures: None, done: BTreeMap::new(), working: Vec::new() }
    }

    /// The value of a stated property or `let`; [`Value::Poison`] where a message was given.
    pub fn value(&mut self, node: NodeId, index: usize) -> Value {
        if let Some(value) = self.done.get(&(node, index)) {
            return value.clone();
        }
        if let Some(from) = self.working.iter().position(|at| *at == (node, index)) {
            self.circle(from);
            return Value::Poison;
        }
        let program = self.program;
        let Some(stated) = program.node(node).properties.get(index) else { return Value::Poison };
        self.working.push((node, index));
        let place = Place { node: stated.from.unwrap_or(node), name: &stated.name.text };
        let value = match &stated.parameter {
            Some(parameter) => self.argument(node, place, parameter, &stated.value),
            None => self.taken(place, stated.takes, &stated.value),
        };
        self.working.pop();
        self.done.insert((node, index), value.clone());
        value
    }

    /// The values from the first call of this one to here wait for each other.
    fn circle(&mut self, from: usize) {
        let stated = self.working.iter().skip(from).filter_map(|(node, index)| {
            self.program.node(*node).properties.get(*index).map(|stated| stated.name.clone())
        });
        let names: Vec<_> = stated.collect();
        let Some((first, others)) = names.split_first() else { return };
        let message = format!("`{}` waits for itself", first.text);
        let mut diagnostic = Diagnostic::new(&codes::CIRCLE, message).at(first.span, "needs the next one");
        for name in others {
            diagnostic = diagnostic.and_at(name.span, "which needs the next one, or the first");
        }
        self.sink.push(diagnostic.help("state one of them without the others"));
    }

    /// The expression as what the property takes.
    pub(super) fn taken(&mut self, place: Place<'_>, takes: Option<Takes>, expr: &Expr) -> Value {
        if let Some(value) = self.passed(place, takes, expr) {
            return value;
        }
        match takes {
            Some(Takes::Choice(words)) => self.choice(place, expr, words),
            Some(Takes::Choices(words)) => {
                let members = listed(expr);
                let mut chosen = Vec::new();
                for member in members {
                    match self.choice(place, member, words) {
                        Value::Word(word) => chosen.push((word, member.span)),
                        _ => return Value::Poison,
                    }
                }
                Value::Words(chosen)
            }
            Some(Takes::Names) => self.names(expr),
            Some(Takes::Members(kind)) => {
                let members: Vec<&Expr> = listed(expr);
                let mut found = Vec::new();
                for member in members {
                    match self.member(place, member, kind) {
                        Value::Member(id) => found.push(id),
                        _ => return Value::Poison,
                    }
                }
                Value::Members(found)
            }
            Some(Takes::Lengths) => self.list(place, expr, Dim::LENGTH),
            Some(Takes::Quantities(dim)) => self.list(place, expr, dim),
            Some(Takes::Load) => match &expr.kind {
                // What is no name of the project is meant for one of the words.
                ExprKind::Path(path)
                    if path.single().is_some_and(|name| {
                        LOADS.contains(&&*name.text)
                            || self.program.lookup(place.node, place.name, &name.text).is_none()
                    }) =>
                {
                    self.choice(place, expr, LOADS)
                }
                _ => self.taken(place, Some(Takes::Quantity(Dim::LINE_LOAD)), expr),
            },
            Some(Takes::Member(kind)) => self.member(place, expr, kind),
            _ => {
                let mut used = Used::new();
                let term = self.term(place, expr, &mut used);
                self.finished(place, takes, expr, term, used)
            }
        }
    }

    fn choice(&mut self, place: Place<'_>, expr: &Expr, words: &'static [&'static str]) -> Value {
        let word = match &expr.kind {
            ExprKind::Path(path) => path.single().map(|name| &*name.text),
            ExprKind::Broken => return Value::Poison,
            _ => None,
        };
        if let Some(word) = words.iter().find(|w| Some(**w) == word) {
            return Value::Word(word);
        }
        match word.and_then(|name| self.parameter(place, name)).map(|(_, value)| value) {
            Some(Value::Poison) => return Value::Poison,
            Some(Value::Chosen(chosen)) => {
                if let Some(word) = words.iter().find(|w| **w == &*chosen) {
                    return Value::Word(word);
                }
            }
            _ => {}
        }
        let all: Vec<String> = words.iter().map(|w| format!("`{w}`")).collect();
        let mut diagnostic =
            Diagnostic::new(&codes::CHOICE, format!("one of {} belongs here", all.join(", ")))
                .at(expr.span, "");
        if let Some(near) = word.and_then(|word| nearest(word, words.iter().copied())) {
            diagnostic = diagnostic.fix(expr.span, near, format!("did you mean `{near}`?"));
        }
        self.sink.push(diagnostic);
        Value::Poison
    }

    fn names(&mut self, expr: &Expr) -> Value {
        let members = listed(expr);
        let mut names = Vec::new();
        for member in members {
            match &member.kind {
                ExprKind::Path(path) if path.single().is_some() => {
                    names.extend(path.single().map(|name| (name.text.clone(), name.span)));
                }
                ExprKind::Broken => return Value::Poison,
                _ => {
                    self.wrong(
                        member.span,
                        "a name",
                        "something else",
                        "write names in brackets: `[atlas, cloth]`",
                    );
                    return Value::Poison;
                }
            }
        }
        Value::Names(names)
    }

    fn member(&mut self, place: Place<'_>, expr: &Expr, kind: &'static str) -> Value {
        let ExprKind::Path(path) = &expr.kind else {
            if !matches!(expr.kind, ExprKind::Broken) {
                let help = format!("write the name of a `{kind}`");
                self.wrong(expr.span, &format!("the name of a `{kind}`"), "something else", &help);
            }
            return Value::Poison;
        };
        let name = path.single().map(|name| &*name.text);
        let found = match name.map(|name| self.lookup_kind(place, name, kind)) {
            Some(Found::Unknown) => return Value::Poison,
            Some(Found::Member(id)) => Some(id),
            Some(Found::Nothing) => None,
            None => self.lookup_path(place, path).filter(|id| self.program.node(*id).kind.word == kind),
        };
        // A lot is known by its name to those that are cut from its sheet.
        let found = found.or_else(|| match (kind, name, self.program.property(place.node, "stock")) {
            ("lot", Some(name), Some(stock)) => match self.value(place.node, stock) {
                Value::Member(sheet) => self.program.member(sheet, name),
                _ => None,
            },
            _ => None,
        });
        if let Some(id) = found {
            return Value::Member(id);
        }
        let known: Vec<Arc<str>> = self.program.members_in_reach(place.node, kind);
        let text = path.to_string();
        let other = match name {
            Some(name) => self.program.lookup(place.node, place.name, name).is_some(),
            None => self.lookup_path(place, path).is_some(),
        };
        if other {
            self.sink.push(
                Diagnostic::new(&codes::MEMBER, format!("`{text}` is not a `{kind}`"))
                    .at(path.span, "")
                    .help(known_names(kind, &known)),
            );
        } else {
            self.unknown(path.span, &text, kind, &known);
        }
        Value::Poison
    }

    /// The member that a dotted path leads to.
    fn lookup_path(&self, place: Place<'_>, path: &Path) -> Option<NodeId> {
        let mut at = None;
        for step in &path.steps {
            let syntax::Step::Name(name) = step else { return None };
            at = match at {
                None => match self.program.lookup(place.node, place.name, &name.text)? {
                    Binding::Member(id) => Some(id),
                    Binding::Value(..) => return None,
                },
                Some(id) => Some(self.program.member(id, &name.text)?),
            };
        }
        at
    }

    /// A list of quantities of one dimension; a reading that is not taken yet is `None`.
    fn list(&mut self, place: Place<'_>, expr: &Expr, dim: Dim) -> Value {
        let mut numbers = Vec::new();
        for member in listed(expr) {
            match self.taken(place, Some(Takes::Quantity(dim)), member) {
                Value::Number(number) => numbers.push((Some(number), member.span)),
                Value::Unread(span) => numbers.push((None, span)),
                _ => return Value::Poison,
            }
        }
        Value::Numbers(numbers)
    }

    /// The nearest member of a kind with a name, or the nearest parameter that takes one: its own block, then outwards.
    fn lookup_kind(&mut self, place: Place<'_>, name: &str, kind: &str) -> Found {
        let program = self.program;
        let found = program.find(place.node, place.name, name, &mut |binding| match binding {
            Binding::Member(id) => (program.node(id).kind.word == kind).then_some(binding),
            Binding::Value(id, index) => {
                let stated = program.node(id).properties.get(index)?;
                let takes = stated.takes.filter(|_| stated.parameter.is_some())?;
                matches!(takes, Takes::Member(other) if other == kind).then_some(binding)
            }
        });
        match found {
            Some(Binding::Member(id)) => Found::Member(id),
            Some(Binding::Value(node, index)) => match self.value(node, index) {
                Value::Member(id) => Found::Member(id),
                _ => Found::Unknown,
            },
            None => Found::Nothing,
        }
    }

    fn unknown(&mut self, span: Span, name: &str, what: &str, known: &[Arc<str>]) {
        let diagnostic =
            Diagnostic::new(&crate::resolve::codes::NAME, format!("there is no {what} `{name}`"))
                .at(span, "");
        self.sink.push(match nearest(name, known.iter().map(|n| &**n)) {
            Some(near) => diagnostic.fix(span, near, format!("did you mean `{near}`?")),
            None if what == "lot" => {
                diagnostic.help(format!("declare it in its sheet: `lot {name} {{ thickness = ... }}`"))
            }
            None if known.is_empty() => diagnostic.help(format!("declare one: `{what} {name} {{ ... }}`")),
            None => diagnostic.help(known_names(what, known)),
        });
    }

    fn wrong(&mut self, span: Span, needed: &str, found: &str, help: &str) {
        self.sink.push(
            Diagnostic::new(&codes::DIMENSION, format!("{needed} is needed here, not {found}"))
                .at(span, "")
                .help(help.to_owned()),
        );
    }

    /// A worked-out term as the value that a property takes, entered in the ledger.
    fn finished(
        &mut self,
        place: Place<'_>,
        takes: Option<Takes>,
        expr: &Expr,
        term: Term,
        used: Used,
    ) -> Value {
        let span = expr.span;
        let (needed, dim) = match takes {
            None => ("a value", None),
            Some(Takes::Quantity(dim)) => (dim.words(), Some(dim)),
            Some(Takes::Price(dims)) => match dims {
                [dim] => (dim.words(), Some(*dim)),
                _ => ("a price", dims.iter().find(|dim| term.dim() == Some(**dim)).or(dims.first()).copied()),
            },
            Some(Takes::Share) => ("a length", Some(Dim::LENGTH)),
            Some(Takes::Count) => ("a whole number", Some(Dim::NONE)),
            Some(Takes::Size) => ("a size such as `96\" x 48\"`", None),
            Some(Takes::Text) => ("a text in quotes", None),
            Some(Takes::Truth) => ("true or false", None),
            Some(Takes::Any) => ("a value", None),
            Some(Takes::Date) => ("a day such as `2026-03-02` or `2026-03-02 08:00`", None),
            Some(_) => ("a name", None),
        };
        match (term, takes) {
            (Term::Poison, _) => Value::Poison,
            (Term::Unread, _) => Value::Unread(span),
            (Term::Date(text), Some(Takes::Date)) => self.date(&text, span),
            (Term::Date(_), _) => {
                self.wrong(span, needed, "a day", "state a number");
                Value::Poison
            }
            (Term::Number(linear, round), Some(Takes::Share)) if !linear.times.is_zero() => {
                Value::Share(linear, round, span)
            }
            (Term::Number(linear, _), _) if !linear.times.is_zero() => {
                self.sink.push(
                    Diagnostic::new(&codes::REST, "nothing is left over here that `rest` could share")
                        .at(span, "")
                        .help(
                            "`rest` stands where a list fills a whole, such as the widths of a run's units",
                        ),
                );
                Value::Poison
            }
            (Term::Number(linear, _), takes)
                if takes != Some(Takes::Truth)
                    && dim.is_none_or(|dim| dim == linear.plus.dim)
                    && fits(takes, linear.plus) =>
            {
                let step = if used.is_empty() && matches!(expr.kind, ExprKind::Number(_)) {
                    Step::Stated(span)
                } else {
                    Step::Computed(span, used)
                };
                let why = self.ledger.enter(self.label(place), linear.plus, step, "");
                Value::Number(Number { exact: linear.plus, why })
            }
            (Term::Number(linear, _), _) => {
                let found = linear.plus.dim.to_string();
                self.wrong_number(expr, needed, &found, dim);
                Value::Poison
            }
            (Term::Size(length, width), Some(Takes::Size)) => {
                let mut enter = |label: &'static str, value| Number {
                    exact: value,
                    why: self.ledger.enter(label, value, Step::Stated(span), ""),
                };
                Value::Size(enter("sheet length", length), enter("sheet width", width))
            }
            (Term::Text(text), Some(Takes::Text) | None) => Value::Text(text),
            (Term::Truth(truth), None | Some(Takes::Truth)) => Value::Truth(truth),
            (Term::Word(..), _) => {
                self.wrong(span, needed, "a word", "state one value");
                Value::Poison
            }
            (Term::Member(id), _) => {
                self.no_value(id, span);
                Value::Poison
            }
            (Term::List, _) => {
                self.wrong(span, needed, "a list", "state one value");
                Value::Poison
            }
            (Term::Text(_), _) => {
                self.wrong(span, needed, "a text", "a number is written without quotes");
                Value::Poison
            }
            (Term::Truth(_), _) => {
                self.wrong(span, needed, "true or false", "state a number");
                Value::Poison
            }
            (Term::Size(..), _) => {
                self.wrong(span, needed, "a size", "state one length");
                Value::Poison
            }
        }
    }

    /// What a stated number is called in reasons: `sheet thickness`, `dado depth`, `mark atlas`; a `let` by its name.
    fn label(&self, place: Place<'_>) -> Arc<str> {
        let node = self.program.node(place.node);
        match (&node.join, node.kind.word) {
            _ if self.program.property(place.node, place.name).is_none() => place.name.into(),
            (None, "module") => match &node.module {
                Some(module) => format!("{} {}", module.name.text, place.name).into(),
                None => place.name.into(),
            },
            (Some(head), _) => format!("{} {}", head.joint, place.name).into(),
            (None, "stick") => format!("mark {}", place.name).into(),
            (None, kind) => format!("{kind} {}", place.name).into(),
        }
    }

    /// A day of the calendar, at midnight where no time stands.
    fn date(&mut self, text: &str, span: Span) -> Value {
        let (day, time) = text.split_once([' ', '\t']).unwrap_or((text, "00:00"));
        match format!("{day}T{}:00", time.trim()).parse() {
            Ok(date) => Value::Date(date),
            Err(_) => {
                self.sink.push(
                    Diagnostic::new(&codes::DATE, format!("`{text}` is not in the calendar"))
                        .at(span, "")
                        .help("write year, month and day, and a time if it matters: `2026-03-02 08:00`"),
                );
                Value::Poison
            }
        }
    }

    fn wrong_number(&mut self, expr: &Expr, needed: &str, found: &str, dim: Option<Dim>) {
        let bare = match &expr.kind {
            ExprKind::Number(literal) if literal.unit.is_none() => Some(literal.value),
            _ => None,
        };
        let mut diagnostic =
            Diagnostic::new(&codes::DIMENSION, format!("{needed} is needed here, not {found}"))
                .at(expr.span, "");
        diagnostic = match (bare, dim) {
            (Some(value), Some(Dim::LENGTH)) => {
                diagnostic.help(format!("a length carries its unit: write `{0}\"` or `{0}mm`", plain(value)))
            }
            (_, Some(dim)) => {
                diagnostic.help(format!("such as `{}`", dim.example().replace(" or ", "` or `")))
            }
            _ => diagnostic,
        };
        self.sink.push(diagnostic);
    }

    fn term(&mut self, place: Place<'_>, expr: &Expr, used: &mut Used) -> Term {
        match &expr.kind {
            ExprKind::Number(literal) => {
                let dim = literal.unit.map_or(Dim::NONE, |unit| unit.dim);
                Term::Number(Linear::fixed(Exact { value: literal.value, dim }), None)
            }
            ExprKind::Text(text) => Term::Text(text.clone()),
            ExprKind::Truth(truth) => Term::Truth(*truth),
            ExprKind::Rest => Term::Number(Linear::rest(), None),
            ExprKind::Unread => Term::Unread,
            ExprKind::Date(date) => Term::Date(date.clone()),
            ExprKind::Path(path) => self.path(place, path, used),
            ExprKind::Call(path, arguments) => self.call(place, expr.span, path, arguments, used),
            ExprKind::List(members) => {
                for member in members {
                    if matches!(self.term(place, member, used), Term::Poison) {
                        return Term::Poison;
                    }
                }
                Term::List
            }
            ExprKind::Unary(Unary::Minus, operand) => match self.term(place, operand, used) {
                Term::Number(linear, None) => match linear.scale(Rational::from(-1)) {
                    Some(linear) => Term::Number(linear, None),
                    None => self.overflow(expr.span),
                },
                other => self.no_operand(operand, other, "a number"),
            },
            ExprKind::Unary(Unary::Not, operand) => match self.term(place, operand, used) {
                Term::Truth(truth) => Term::Truth(!truth),
                other => self.no_operand(operand, other, "true or false"),
            },
            ExprKind::Binary(op, left, right) => self.binary(place, expr.span, *op, left, right, used),
            ExprKind::If(condition, value, other) => match self.term(place, condition, used) {
                Term::Truth(true) => self.term(place, value, used),
                Term::Truth(false) => self.term(place, other, used),
                found => self.no_operand(condition, found, "true or false"),
            },
            ExprKind::Broken => Term::Poison,
        }
    }

    /// A length that stands outside any property, entered in the ledger under `name`.
    pub fn of(&mut self, node: NodeId, name: &str, takes: Option<Takes>, expr: &Expr) -> Option<Len> {
        match self.taken(Place { node, name }, takes, expr) {
            Value::Number(number) => number.len(),
            _ => None,
        }
    }

    /// Whether a condition holds; `None` where a message was given, or a reading is not taken.
    pub fn condition(&mut self, node: NodeId, expr: &Expr) -> Option<bool> {
        let place = Place { node, name: "" };
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
        match self.term(Place { node, name: "" }, expr, &mut Used::new()) {
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

    fn path(&mut self, place: Place<'_>, path: &Path, used: &mut Used) -> Term {
        if let Some(measures) = self.measures {
            if let Some(derived) = self.derived(place.node, path) {
                return Term::Number(Linear::fixed(derived.value), None);
            }
            if path.steps.len() > 1 && !self.is_stated(place, path) {
                return self.no_measure(path, measures);
            }
        }
        let Some(syntax::Step::Name(first)) = path.steps.first() else { return Term::Poison };
        let Some(mut binding) = self.program.lookup(place.node, place.name, &first.text) else {
            let known = self.program.names_in_reach(place.node);
            let known: Vec<&str> = known.iter().map(|n| &**n).filter(|n| *n != place.name).collect();
            let diagnostic =
                Diagnostic::new(&crate::resolve::codes::NAME, format!("nothing is called `{}`", first.text))
                    .at(first.span, "");
            self.sink.push(match nearest(&first.text, known) {
                Some(near) => diagnostic.fix(first.span, near, format!("did you mean `{near}`?")),
                None => diagnostic.help(format!("give it a value: `let {} = ...`", first.text)),
            });
            return Term::Poison;
        };
        for step in path.steps.iter().skip(1) {
            // A parameter or property that names a member has what that member states.
            let member = match binding {
                Binding::Member(id) => Value::Member(id),
                Binding::Value(node, index) => self.value(node, index),
            };
            let id = match member {
                Value::Member(id) => id,
                Value::Poison => return Term::Poison,
                _ => return self.no_such(path, first.text.to_string(), step),
            };
            let syntax::Step::Name(name) = step else {
                return self.no_such(path, first.text.to_string(), step);
            };
            let value = self.program.property(id, &name.text).map(|index| Binding::Value(id, index));
            let Some(next) = value.or_else(|| self.program.member(id, &name.text).map(Binding::Member))
            else {
                return self.no_such(path, first.text.to_string(), step);
            };
            binding = next;
        }
        let (node, index) = match binding {
            Binding::Value(node, index) => (node, index),
            Binding::Member(id) => return Term::Member(id),
        };
        match self.value(node, index) {
            Value::Number(number) => {
                used.push((Arc::<str>::from(path.to_string()), number.why));
                Term::Number(Linear::fixed(number.exact), None)
            }
            Value::Text(text) => Term::Text(text),
            Value::Truth(truth) => Term::Truth(truth),
            Value::Chosen(word) => {
                let stated = self.program.node(node).properties.get(index);
                match stated.and_then(|stated| stated.parameter.clone()) {
                    Some(parameter) => Term::Word(word, parameter),
                    None => Term::Poison,
                }
            }
            Value::Size(length, width) => Term::Size(length.exact, width.exact),
            Value::Member(id) => Term::Member(id),
            Value::Share(..) => {
                self.sink.push(
                    Diagnostic::new(
                        &codes::REST,
                        "a share of what is left over is not known before the parts are laid out",
                    )
                    .at(path.span, "")
                    .help("state the number here, or `rest` with a list of its own"),
                );
                Term::Poison
            }
            Value::Word(_) | Value::Words(_) | Value::Names(_) | Value::Numbers(_) | Value::Members(_) => {
                Term::List
            }
            Value::Unread(_) => Term::Unread,
            Value::Date(day) => Term::Date(day.to_string().into()),
            Value::Poison => Term::Poison,
        }
    }

    /// Whether a dotted path leads to something that is stated.
    fn is_stated(&self, place: Place<'_>, path: &Path) -> bool {
        let Some((syntax::Step::Name(last), steps)) = path.steps.split_last() else { return false };
        let outer = Path { steps: steps.to_vec(), span: path.span };
        self.lookup_path(place, path).is_some()
            || self
                .lookup_path(place, &outer)
                .is_some_and(|id| self.program.property(id, &last.text).is_some())
    }

    fn no_measure(&mut self, path: &Path, measures: &Measures) -> Term {
        let text = path.to_string();
        if let Some(why) = measures.unknown.get(&text) {
            let message = format!("`{text}` is not known");
            self.sink
                .push(Diagnostic::new(&codes::UNKNOWN_MEASURE, message).at(path.span, "").help(why.clone()));
            return Term::Poison;
        }
        let message = format!("there is no measure `{text}`");
        let diagnostic = Diagnostic::new(&crate::resolve::codes::NAME, message).at(path.span, "");
        self.sink.push(
            match nearest(&text, measures.known.keys().chain(&measures.others).map(String::as_str)) {
                Some(near) => diagnostic.fix(path.span, near, format!("did you mean `{near}`?")),
                None => diagnostic.help("`scantling why FILE PATH` lists the measures under a path"),
            },
        );
        Term::Poison
    }

    fn no_such(&mut self, path: &Path, base: String, step: &syntax::Step) -> Term {
        let (name, span) = match step {
            syntax::Step::Name(name) => (name.text.to_string(), name.span),
            syntax::Step::Member(index, span) => (format!("[{index}]"), *span),
        };
        self.sink.push(
            Diagnostic::new(&crate::resolve::codes::NAME, format!("`{base}` states no `{name}`"))
                .at(span, "")
                .and_at(path.span, "in this path")
                .help("a value can use what is stated; derived sizes are shown by `scantling why`"),
        );
        Term::Poison
    }

    fn no_operand(&mut self, operand: &Expr, found: Term, needed: &str) -> Term {
        let found = match found {
            Term::Poison => return Term::Poison,
            Term::Unread => return Term::Unread,
            Term::Date(_) => "a day",
            Term::Number(_, Some(_)) => "a share that is rounded already",
            Term::Number(..) => "a number",
            Term::Size(..) => "a size",
            Term::Text(_) => "a text",
            Term::Truth(_) => "true or false",
            Term::Word(..) => "a word",
            Term::Member(id) => {
                self.no_value(id, operand.span);
                return Term::Poison;
            }
            Term::List => "a list or a word",
        };
        self.sink.push(
            Diagnostic::new(&codes::OPERANDS, format!("{needed} is needed here, not {found}"))
                .at(operand.span, ""),
        );
        Term::Poison
    }

    fn no_value(&mut self, id: NodeId, span: Span) {
        let kind = self.program.node(id).kind.word;
        self.sink.push(
            Diagnostic::new(&codes::ALONE, format!("a `{kind}` has no value of its own"))
                .at(span, "")
                .help("name one of its properties, with a dot"),
        );
    }

    fn overflow(&mut self, span: Span) -> Term {
        self.sink.push(
            Diagnostic::new(&codes::OVERFLOW, "this number is too large or too fine to be held exactly")
                .at(span, "")
                .help("no building has such sizes; look for a figure too many"),
        );
        Term::Poison
    }

    fn call(
        &mut self,
        place: Place<'_>,
        span: Span,
        path: &Path,
        arguments: &[Expr],
        used: &mut Used,
    ) -> Term {
        const FUNCTIONS: [&str; 4] = ["min", "max", "sum", "abs"];
        let name = path.single().map_or("", |name| &*name.text);
        if !FUNCTIONS.contains(&name) {
            let diagnostic =
                Diagnostic::new(&codes::FUNCTION, format!("there is no function `{name}`")).at(path.span, "");
            self.sink.push(match nearest(name, FUNCTIONS) {
                Some(near) => diagnostic.fix(path.span, near, format!("did you mean `{near}`?")),
                None => diagnostic.help("there are `min`, `max`, `sum` and `abs`"),
            });
            return Term::Poison;
        }
        let mut numbers: Vec<Exact> = Vec::new();
        for argument in arguments {
            match self.term(place, argument, used) {
                Term::Number(linear, None) if linear.times.is_zero() => {
                    if let Some(first) = numbers.first().filter(|first| first.dim != linear.plus.dim) {
                        let first = first.dim;
                        return self.mismatch(
                            argument.span,
                            linear.plus.dim,
                            argument.span,
                            first,
                            "compared with",
                        );
                    }
                    numbers.push(linear.plus);
                }
                other => return self.no_operand(argument, other, "a number"),
            }
        }
        let order = |a: &Exact, b: &Exact| a.value.cmp(&b.value);
        let result = match (name, numbers.as_slice()) {
            ("abs", [one]) => {
                let sign = if one.value < Rational::from(0) { -1 } else { 1 };
                one.checked_mul(Exact::number(Rational::from(sign)))
            }
            ("min", [_, _, ..]) => numbers.iter().copied().min_by(order),
            ("max", [_, _, ..]) => numbers.iter().copied().max_by(order),
            ("sum", [first, others @ ..]) if !others.is_empty() => {
                others.iter().try_fold(*first, |sum, next| sum.checked_add(*next))
            }
            _ => {
                self.sink.push(
                    Diagnostic::new(
                        &codes::FUNCTION,
                        format!("`{name}` does not take {} values", arguments.len()),
                    )
                    .at(span, "")
                    .help("`min`, `max` and `sum` take two or more, `abs` takes one"),
                );
                return Term::Poison;
            }
        };
        match result {
            Some(exact) => Term::Number(Linear::fixed(exact), None),
            None => self.overflow(span),
        }
    }

    fn mismatch(&mut self, left: Span, left_dim: Dim, right: Span, right_dim: Dim, verb: &str) -> Term {
        self.sink.push(
            Diagnostic::new(&codes::OPERANDS, format!("{left_dim} cannot be {verb} {right_dim}"))
                .at(left.to(right), "")
                .and_at(left, left_dim.to_string())
                .and_at(right, right_dim.to_string()),
        );
        Term::Poison
    }

    fn binary(
        &mut self,
        place: Place<'_>,
        span: Span,
        op: Binary,
        left: &Expr,
        right: &Expr,
        used: &mut Used,
    ) -> Term {
        let a = self.term(place, left, used);
        if let (Binary::Equal | Binary::Unequal, Term::Word(word, parameter)) = (op, &a) {
            return match self.word(parameter, right) {
                Value::Chosen(other) => Term::Truth((*word == other) == (op == Binary::Equal)),
                _ => Term::Poison,
            };
        }
        // The word behind the sign has its meaning from what stands before it.
        if let (Binary::Equal | Binary::Unequal, Term::Poison) = (op, &a) {
            return Term::Poison;
        }
        let b = self.term(place, right, used);
        if matches!(a, Term::Poison) || matches!(b, Term::Poison) {
            return Term::Poison;
        }
        if matches!(a, Term::Unread) || matches!(b, Term::Unread) {
            return Term::Unread;
        }
        match (op, a, b) {
            (Binary::And, Term::Truth(a), Term::Truth(b)) => Term::Truth(a && b),
            (Binary::Or, Term::Truth(a), Term::Truth(b)) => Term::Truth(a || b),
            (Binary::And | Binary::Or, Term::Truth(_), other) => {
                self.no_operand(right, other, "true or false")
            }
            (Binary::And | Binary::Or, other, _) => self.no_operand(left, other, "true or false"),
            (Binary::Of, ..) => {
                self.sink.push(
                    Diagnostic::new(&codes::OPERANDS, "repeats such as `6 of rest` stand in a list only")
                        .at(span, ""),
                );
                Term::Poison
            }
            (op, Term::Number(a, None), Term::Number(b, None)) => {
                self.arithmetic(span, op, (left, a), (right, b))
            }
            (_, Term::Number(_, None), other) => self.no_operand(right, other, "a number"),
            (_, other, _) => self.no_operand(left, other, "a number"),
        }
    }

    fn arithmetic(&mut self, span: Span, op: Binary, left: (&Expr, Linear), right: (&Expr, Linear)) -> Term {
        let ((left, a), (right, b)) = (left, right);
        let same = a.plus.dim == b.plus.dim;
        let verb = match op {
            Binary::Add => Some("added to"),
            Binary::Subtract => Some("taken from"),
            Binary::Multiply | Binary::Divide => None,
            Binary::To => Some("rounded to"),
            Binary::By => None,
            _ => Some("compared with"),
        };
        if let Some(verb) = verb.filter(|_| !same) {
            let swap = op == Binary::Subtract;
            let (x, y) = if swap { (b.plus.dim, a.plus.dim) } else { (a.plus.dim, b.plus.dim) };
            let diagnostic = Diagnostic::new(&codes::OPERANDS, format!("{x} cannot be {verb} {y}"))
                .at(left.span, a.plus.dim.to_string())
                .at(right.span, b.plus.dim.to_string());
            let bare = [x, y].contains(&Dim::NONE) && [x, y].contains(&Dim::LENGTH);
            let help = "a length carries its unit, as in `18mm` or `3/4\"`";
            self.sink.push(if bare { diagnostic.help(help) } else { diagnostic });
            return Term::Poison;
        }
        let fixed = a.times.is_zero() && b.times.is_zero();
        let linear = match op {
            Binary::Add => a.add(b, 1),
            Binary::Subtract => a.add(b, -1),
            Binary::Multiply if fixed => a.plus.checked_mul(b.plus).map(Linear::fixed),
            Binary::Multiply if b.times.is_zero() && b.plus.dim == Dim::NONE => a.scale(b.plus.value),
            Binary::Multiply if a.times.is_zero() && a.plus.dim == Dim::NONE => b.scale(a.plus.value),
            Binary::Divide | Binary::To if b.times.is_zero() && b.plus.value.is_zero() => {
                self.sink
                    .push(Diagnostic::new(&codes::ZERO, "a division by zero").at(right.span, "this is zero"));
                return Term::Poison;
            }
            Binary::Divide if fixed => a.plus.checked_div(b.plus).map(Linear::fixed),
            Binary::Divide if b.times.is_zero() && b.plus.dim == Dim::NONE => {
                num_traits::CheckedDiv::checked_div(&Rational::from(1), &b.plus.value)
                    .and_then(|by| a.scale(by))
            }
            Binary::To if fixed => round(a.plus, b.plus).map(Linear::fixed),
            Binary::To if b.times.is_zero() && b.plus.length().is_some() => {
                return Term::Number(a, b.plus.length());
            }
            Binary::By if fixed && a.plus.dim == Dim::LENGTH && same => return Term::Size(a.plus, b.plus),
            Binary::By if fixed => {
                let (x, y) = (a.plus.dim, b.plus.dim);
                self.sink.push(
                    Diagnostic::new(&codes::OPERANDS, "a size is made of two lengths")
                        .at(left.span, x.to_string())
                        .at(right.span, y.to_string())
                        .help("a length carries its unit, as in `2440mm x 1220mm` or `96\" x 48\"`"),
                );
                return Term::Poison;
            }
            Binary::Below if fixed => return Term::Truth(a.plus.value < b.plus.value),
            Binary::AtMost if fixed => return Term::Truth(a.plus.value <= b.plus.value),
            Binary::Above if fixed => return Term::Truth(a.plus.value > b.plus.value),
            Binary::AtLeast if fixed => return Term::Truth(a.plus.value >= b.plus.value),
            Binary::Equal if fixed => return Term::Truth(a.plus.value == b.plus.value),
            Binary::Unequal if fixed => return Term::Truth(a.plus.value != b.plus.value),
            _ => {
                self.sink.push(
                    Diagnostic::new(&codes::OPERANDS, "these two do not go together in this way")
                        .at(span, "")
                        .help("`rest` may be multiplied by plain numbers, and lengths added to it"),
                );
                return Term::Poison;
            }
        };
        match linear {
            Some(linear) => Term::Number(linear, None),
            None => self.overflow(span),
        }
    }
}

impl Term {
    /// The dimension of a number.
    fn dim(&self) -> Option<Dim> {
        match self {
            Self::Number(linear, _) => Some(linear.plus.dim),
            _ => None,
        }
    }
}

/// The members of a list; anything else is a list of itself.
fn listed(expr: &Expr) -> Vec<&Expr> {
    match &expr.kind {
        ExprKind::List(members) => members.iter().collect(),
        _ => vec![expr],
    }
}

fn fits(takes: Option<Takes>, exact: Exact) -> bool {
    match takes {
        Some(Takes::Count) => exact.value.is_integer(),
        Some(Takes::Size | Takes::Text | Takes::Date | Takes::Lengths | Takes::Quantities(_)) => false,
        _ => true,
    }
}

/// A value rounded to the nearest whole number of steps, ties up.
fn round(value: Exact, step: Exact) -> Option<Exact> {
    let (value_mm, step_mm) = (Length::from_mm(value.value), Length::from_mm(step.value));
    Some(Exact { value: value_mm.rounded_to(step_mm, Round::Nearest)?.mm(), dim: value.dim })
}

fn plain(value: Rational) -> String {
    crate::quantity::decimal(value, 6)
}

fn known_names(kind: &str, known: &[Arc<str>]) -> String {
    if known.is_empty() {
        return format!("no `{kind}` is declared");
    }
    let all: Vec<String> = known.iter().map(|name| format!("`{name}`")).collect();
    format!("there is {}", all.join(", "))
}
