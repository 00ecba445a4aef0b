//! Names and paths in an expression: what they lead to.

use super::super::codes;
use super::super::ledger::Linear;
use super::super::measures::Measures;
use super::super::value::Value;
use super::{Evaluator, Site, Term, Used};
use crate::diag::{Diagnostic, nearest};
use crate::resolve::{Binding, NodeId};
use crate::source::Span;
use crate::syntax::{self, Path};
use std::sync::Arc;

impl Evaluator<'_> {
    pub(super) fn path(&mut self, place: Site<'_>, path: &Path, used: &mut Used) -> Term {
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
                Diagnostic::new(&crate::resolve::codes::NAME, format!("unknown name `{}`", first.text))
                    .at(first.span, "");
            self.sink.push(match nearest(&first.text, known) {
                Some(near) => diagnostic.fix(first.span, near, format!("did you mean `{near}`?")),
                None => diagnostic.help(format!("give it a value: `let {} = ...`", first.text)),
            });
            return Term::Poison;
        };
        self.uses.note(self.program, first.span, binding);
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
            self.uses.note(self.program, name.span, next);
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
    pub(super) fn is_stated(&mut self, place: Site<'_>, path: &Path) -> bool {
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
        let message = format!("unknown measure `{text}`");
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

    pub(super) fn no_value(&mut self, id: NodeId, span: Span) {
        let kind = self.program.node(id).kind.word;
        self.sink.push(
            Diagnostic::new(&codes::ALONE, format!("a `{kind}` has no value of its own"))
                .at(span, "")
                .help("name one of its properties, with a dot"),
        );
    }
}
