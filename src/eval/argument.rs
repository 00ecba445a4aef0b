//! Values that uses of modules state: taken as the parameter says, held to its limits, and handed on whole.

use super::codes;
use super::expr::{Evaluator, Site};
use super::value::Value;
use crate::diag::{Diagnostic, nearest};
use crate::quantity::{Dim, Exact, Marks, System, estimate, rounded};
use crate::resolve::{Binding, NodeId, Parameter, Takes};
use crate::source::Span;
use crate::syntax::{Expr, ExprKind, Ident, Literal};
use std::sync::Arc;

impl Evaluator<'_> {
    /// The value of a parameter of `node`, the use of a module or its body, stated at `place`. What is wrong with it is
    /// said with the place of the parameter's declaration.
    pub(super) fn argument(
        &mut self,
        node: NodeId,
        place: Site<'_>,
        parameter: &Arc<Parameter>,
        expr: &Expr,
    ) -> Value {
        let before = self.sink.taken();
        let value = match parameter.takes {
            Takes::Any => Value::Poison,
            Takes::Word => match self.passed(place, Some(Takes::Word), expr) {
                Some(value) => self.one_of(parameter, value, expr.span),
                None => self.word(parameter, expr),
            },
            takes => self.taken(place, Some(takes), expr),
        };
        let value = self.within(node, parameter, value, expr.span);
        let inside = |span: Span| {
            span.file == expr.span.file && span.start >= expr.span.start && span.end <= expr.span.end
        };
        self.sink.amend(before, |diagnostic| {
            let there = diagnostic.labels.iter().any(|label| label.span == parameter.type_span);
            if diagnostic.span().is_some_and(inside) && !there {
                *diagnostic = diagnostic.clone().and_at(parameter.type_span, "what it takes is stated here");
            }
        });
        value
    }

    /// The parameter that a name stands for, and its value.
    pub(super) fn parameter(&mut self, place: Site<'_>, name: &Ident) -> Option<(Arc<Parameter>, Value)> {
        let binding = self.program.lookup(place.node, place.name, &name.text)?;
        let Binding::Value(node, index) = binding else { return None };
        let parameter = self.program.node(node).properties.get(index)?.parameter.clone()?;
        self.uses.note(self.program, name.span, binding);
        Some((parameter, self.value(node, index)))
    }

    /// The value of a parameter where a name is all that is stated and the value is no number to compute with: a list, a
    /// share, words, members.
    pub(super) fn passed(&mut self, place: Site<'_>, takes: Option<Takes>, expr: &Expr) -> Option<Value> {
        let takes = takes?;
        let whole = matches!(
            takes,
            Takes::Share
                | Takes::Load
                | Takes::Names
                | Takes::Lengths
                | Takes::Quantities(_)
                | Takes::Members(_)
                | Takes::Word
                | Takes::Date
        );
        let ExprKind::Path(path) = &expr.kind else { return None };
        let name = path.single().filter(|_| whole)?;
        // A name that stands for a parameter of another type is read like any other.
        let binding = self.program.lookup(place.node, place.name, &name.text)?;
        let Binding::Value(node, index) = binding else { return None };
        let stated = self.program.node(node).properties.get(index)?;
        let fits = stated.parameter.as_ref().is_some_and(|parameter| {
            parameter.takes == takes || (takes == Takes::Word && matches!(parameter.takes, Takes::Word))
        });
        if !fits {
            return None;
        }
        self.uses.note(self.program, name.span, binding);
        Some(self.value(node, index))
    }

    /// One of the words that a parameter lists.
    pub(super) fn word(&mut self, parameter: &Arc<Parameter>, expr: &Expr) -> Value {
        match &expr.kind {
            ExprKind::Broken => Value::Poison,
            ExprKind::Path(path) => match path.single() {
                Some(name) => self.one_of(parameter, Value::Chosen(name.text.clone()), expr.span),
                None => self.one_of(parameter, Value::Chosen("".into()), expr.span),
            },
            _ => self.one_of(parameter, Value::Chosen("".into()), expr.span),
        }
    }

    fn one_of(&mut self, parameter: &Arc<Parameter>, value: Value, span: Span) -> Value {
        let Value::Chosen(word) = &value else { return value };
        if parameter.words.contains(word) {
            return value;
        }
        let all: Vec<String> = parameter.words.iter().map(|word| format!("`{word}`")).collect();
        let message = format!("expected one of {}", all.join(", "));
        let diagnostic = Diagnostic::new(&codes::CHOICE, message).at(span, "");
        self.sink.push(match nearest(word, parameter.words.iter().map(|word| &**word)) {
            Some(near) => diagnostic.fix(span, near, format!("did you mean `{near}`?")),
            None => diagnostic,
        });
        Value::Poison
    }

    /// The value, where it lies within the limits of its parameter.
    fn within(&mut self, node: NodeId, parameter: &Parameter, value: Value, span: Span) -> Value {
        let Value::Number(number) = &value else { return value };
        let exact = number.exact;
        // Limits are numbers of the file that declares the module.
        let scope = self.program.node(node).scope.unwrap_or(node);
        for (greatest, limit) in parameter.limits.iter().enumerate() {
            let Some((expr, inclusive)) = limit else { continue };
            let Some(bound) = self.number(scope, expr) else { continue };
            let greatest = greatest == 1;
            if bound.dim != exact.dim {
                let takes = Some(parameter.takes);
                self.taken(Site { node: scope, name: "" }, takes, expr);
                return Value::Poison;
            }
            let order = exact.value.cmp(&bound.value);
            let beyond = if greatest { order.is_gt() } else { order.is_lt() };
            if beyond || (order.is_eq() && !inclusive) {
                let words = match (greatest, inclusive) {
                    (true, true) => "at most",
                    (true, false) => "less than",
                    (false, true) => "at least",
                    (false, false) => "more than",
                };
                let bound = shown(expr, bound);
                let name = &parameter.name.text;
                self.sink.push(
                    Diagnostic::new(&codes::LIMIT, format!("`{name}` must be {words} {bound}"))
                        .at(span, "")
                        .and_at(parameter.type_span, "the module takes no other")
                        .help(format!("state {words} {bound}")),
                );
                return Value::Poison;
            }
        }
        value
    }
}

/// A limit as people write it.
fn shown(expr: &Expr, bound: Exact) -> String {
    let system = match &expr.kind {
        ExprKind::Number(Literal { system: Some(System::Inch), .. }) => System::Inch,
        _ => System::Metric,
    };
    match bound.length() {
        Some(length) => match system {
            System::Inch => Marks::THIRTY_SECONDS.print_fine(length).to_string(),
            System::Metric => Marks::TENTHS.print_fine(length).to_string(),
        },
        None if bound.dim == Dim::NONE => rounded(bound.value, 6),
        None => estimate(bound.estimate(), system),
    }
}
