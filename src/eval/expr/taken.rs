//! An expression as what a property takes: words, names, members, lists, and what is left to be computed.

use super::super::codes;
use super::super::measures::path_of;
use super::super::value::Value;
use super::{Evaluator, Found, Site, Used};
use crate::diag::{Diagnostic, nearest};
use crate::quantity::Dim;
use crate::resolve::{Binding, LOADS, NodeId, Takes};
use crate::source::Span;
use crate::syntax::{self, Expr, ExprKind, Ident, Path};
use std::sync::Arc;

impl Evaluator<'_> {
    /// The expression as what the property takes.
    pub(in crate::eval) fn taken(&mut self, place: Site<'_>, takes: Option<Takes>, expr: &Expr) -> Value {
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

    pub(super) fn choice(&mut self, place: Site<'_>, expr: &Expr, words: &'static [&'static str]) -> Value {
        let name = match &expr.kind {
            ExprKind::Path(path) => path.single(),
            ExprKind::Broken => return Value::Poison,
            _ => None,
        };
        let word = name.map(|name| &*name.text);
        if let Some(word) = words.iter().find(|w| Some(**w) == word) {
            return Value::Word(word);
        }
        match name.and_then(|name| self.parameter(place, name)).map(|(_, value)| value) {
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
            Diagnostic::new(&codes::CHOICE, format!("expected one of {}", all.join(", "))).at(expr.span, "");
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

    pub(super) fn member(&mut self, place: Site<'_>, expr: &Expr, kind: &'static str) -> Value {
        let ExprKind::Path(path) = &expr.kind else {
            if !matches!(expr.kind, ExprKind::Broken) {
                let help = format!("write the name of a `{kind}`");
                self.wrong(expr.span, &format!("the name of a `{kind}`"), "something else", &help);
            }
            return Value::Poison;
        };
        let single = path.single();
        let found = match single.map(|name| self.lookup_kind(place, name, kind)) {
            Some(Found::Unknown) => return Value::Poison,
            Some(Found::Member(id)) => Some(id),
            Some(Found::Nothing) => None,
            None => self.lookup_path(place, path).filter(|id| self.program.node(*id).kind.word == kind),
        };
        let name = single.map(|name| &*name.text);
        // A lot is known by its name to those that are cut from its sheet.
        let found = found.or_else(|| match (kind, name, self.program.property(place.node, "stock")) {
            ("lot", Some(name), Some(stock)) => match self.value(place.node, stock) {
                Value::Member(sheet) => self.program.member(sheet, name),
                _ => None,
            },
            _ => None,
        });
        if let Some(id) = found {
            if let Some(lot) = single.filter(|_| kind == "lot") {
                self.uses.note(self.program, lot.span, Binding::Member(id));
            }
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
    pub(super) fn lookup_path(&mut self, place: Site<'_>, path: &Path) -> Option<NodeId> {
        let mut found: Vec<(Span, NodeId)> = Vec::new();
        for step in &path.steps {
            let syntax::Step::Name(name) = step else { return None };
            let id = match found.last() {
                None => match self.program.lookup(place.node, place.name, &name.text)? {
                    Binding::Member(id) => id,
                    Binding::Value(..) => return None,
                },
                Some((_, id)) => self.program.member(*id, &name.text)?,
            };
            found.push((name.span, id));
        }
        for (name, id) in &found {
            self.uses.note(self.program, *name, Binding::Member(*id));
        }
        found.last().map(|(_, id)| *id)
    }

    /// A list of quantities of one dimension; a reading that is not taken yet is `None`.
    fn list(&mut self, place: Site<'_>, expr: &Expr, dim: Dim) -> Value {
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
    fn lookup_kind(&mut self, place: Site<'_>, name: &Ident, kind: &str) -> Found {
        let program = self.program;
        let found = program.find(place.node, place.name, &name.text, &mut |binding| match binding {
            Binding::Member(id) => (program.node(id).kind.word == kind).then_some(binding),
            Binding::Value(id, index) => {
                let stated = program.node(id).properties.get(index)?;
                let takes = stated.takes.filter(|_| stated.parameter.is_some())?;
                matches!(takes, Takes::Member(other) if other == kind).then_some(binding)
            }
        });
        if let Some(binding) = found {
            self.uses.note(program, name.span, binding);
        }
        match found {
            Some(Binding::Member(id)) => Found::Member(id),
            Some(Binding::Value(node, index)) => match self.value(node, index) {
                Value::Member(id) => Found::Member(id),
                _ => Found::Unknown,
            },
            None => Found::Nothing,
        }
    }

    /// The path of a member that stands in the block of another one and may be meant by a name or a path.
    fn inside(&self, kind: &str, text: &str) -> Option<String> {
        let of_kind = |id: &NodeId| self.program.node(*id).kind.word == kind;
        let paths: Vec<String> =
            self.program.ids().filter(of_kind).map(|id| path_of(self.program, id)).collect();
        let mut ends = paths.iter().filter(|path| path.rsplit('.').next() == Some(text));
        match (ends.next(), ends.next()) {
            (Some(only), None) => Some(only.clone()),
            _ => nearest(text, paths.iter().map(String::as_str)).map(str::to_owned),
        }
    }

    fn unknown(&mut self, span: Span, name: &str, what: &str, known: &[Arc<str>]) {
        let diagnostic =
            Diagnostic::new(&crate::resolve::codes::NAME, format!("unknown {what} `{name}`")).at(span, "");
        // A wall is known by its room.
        if let Some(path) = self.inside(what, name).filter(|_| what == "wall") {
            let title = format!("did you mean `{path}`?");
            self.sink.push(diagnostic.fix(span, path, title));
            return;
        }
        self.sink.push(match nearest(name, known.iter().map(|n| &**n)) {
            Some(near) => diagnostic.fix(span, near, format!("did you mean `{near}`?")),
            None if what == "lot" => {
                diagnostic.help(format!("declare it in its sheet: `lot {name} {{ thickness = ... }}`"))
            }
            None if known.is_empty() => diagnostic.help(format!("declare one: `{what} {name} {{ ... }}`")),
            None => diagnostic.help(known_names(what, known)),
        });
    }
}

/// The members of a list; anything else is a list of itself.
fn listed(expr: &Expr) -> Vec<&Expr> {
    match &expr.kind {
        ExprKind::List(members) => members.iter().collect(),
        _ => vec![expr],
    }
}

fn known_names(kind: &str, known: &[Arc<str>]) -> String {
    if known.is_empty() {
        return format!("no `{kind}` is declared");
    }
    let all: Vec<String> = known.iter().map(|name| format!("`{name}`")).collect();
    format!("there is {}", all.join(", "))
}
