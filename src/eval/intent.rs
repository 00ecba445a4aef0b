//! Statements about what is derived: what is required, which warnings are accepted, what was measured on a part as it was built.

use super::codes;
use super::expr::Evaluator;
use super::ledger::Ledger;
use super::measures::{Derived, Measures, path_of};
use super::model::{Accept, Found, Project};
use super::read::Replaced;
use crate::diag::{Diagnostic, Sink};
use crate::quantity::{Dim, Exact, rounded};
use crate::resolve::{NodeId, Program, Statement, Takes};
use crate::source::Sources;
use crate::syntax::{Binary, Expr, ExprKind, Path};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Nothing is replaced where requirements are tested: what they compare was worked out before.
static AS_STATED: Replaced = Replaced::new();

/// The paths that requirements ask for, as they stand in the text.
#[must_use]
pub fn required(program: &Program) -> BTreeSet<String> {
    let mut all = BTreeSet::new();
    let statements = program.ids().flat_map(|id| &program.node(id).statements);
    for statement in statements {
        if let Statement::Require { condition, .. } = statement {
            paths(condition, &mut |path| _ = all.insert(path.to_string()));
        }
    }
    all
}

/// All `accept`s of a program, with the members that they hold for.
pub(super) fn accepts(program: &Program) -> Vec<Accept> {
    let mut accepts = Vec::new();
    for id in program.ids() {
        for statement in &program.node(id).statements {
            if let Statement::Accept { slug, because } = statement {
                accepts.push(Accept {
                    slug: slug.text.clone(),
                    path: path_of(program, id),
                    because: because.as_ref().map(|text| text.text.clone()),
                    span: slug.span,
                });
            }
        }
    }
    accepts
}

/// All measurements of parts as they were built.
pub(super) fn found(program: &Program, eval: &mut Evaluator<'_>) -> Vec<Found> {
    let mut all = Vec::new();
    for id in program.ids() {
        for statement in &program.node(id).statements {
            let Statement::Measured { path, value, because } = statement else { continue };
            let outer = path_of(program, id);
            let text = path.to_string();
            let text = if outer.is_empty() { text } else { format!("{outer}.{text}") };
            if let Some(value) = eval.stated_length(id, "measured", value) {
                let because = because.as_ref().map(|text| text.text.clone());
                all.push(Found { path: text, span: path.span, value, because });
            }
        }
    }
    all
}

/// Tests every requirement against the derived measures; one that does not hold gives a message with the value, its
/// chain and the places that it depends on.
pub fn require(
    program: &Program,
    ledger: &mut Ledger,
    measures: &Measures,
    sources: &Sources,
    project: &Project,
    sink: &mut Sink,
) {
    let marks = project.marks;
    for id in program.ids() {
        for statement in &program.node(id).statements {
            let Statement::Require { condition, because, span } = statement else { continue };
            let mut eval = Evaluator::new(program, sources, &AS_STATED, ledger, sink);
            eval.measures = Some(measures);
            let Some(holds) = eval.condition(id, condition) else { continue };
            let mut asked: Vec<Derived> = Vec::new();
            paths(condition, &mut |path| asked.extend(eval.derived(id, path).cloned()));
            let mut without: Vec<String> = asked.iter().flat_map(|asked| asked.without.clone()).collect();
            without.dedup();
            if holds {
                if let Some(diagnostic) = without_price(&without) {
                    sink.push(diagnostic.at(condition.span, "required here"));
                }
                continue;
            }
            let because = because.as_ref().map(|text| format!(": {}", text.text)).unwrap_or_default();
            let mut diagnostic = match comparison(&mut eval, id, condition, project) {
                Some(said) => Diagnostic::new(&codes::REQUIREMENT, format!("{said}{because}")),
                None => Diagnostic::new(&codes::REQUIREMENT, format!("a requirement does not hold{because}")),
            };
            diagnostic = diagnostic.at(condition.span, "required here");
            for says in asked.iter().flat_map(|asked| &asked.from) {
                diagnostic = diagnostic.note(says.clone());
            }
            for why in asked.iter().filter_map(|asked| asked.why) {
                for place in ledger.spans(why).into_iter().filter(|place| !place.touches(*span)) {
                    diagnostic = diagnostic.and_at(place, "it depends on this");
                }
                diagnostic =
                    diagnostic.note(ledger.reason(why, sources, marks).to_string().trim_end().to_owned());
            }
            sink.push(diagnostic.help("change one of the values that it depends on, or the requirement"));
        }
    }
}

/// A comparison that does not hold, in words: "`a.b` is 12 1/4\", not at least 13\"".
fn comparison(
    eval: &mut Evaluator<'_>,
    id: NodeId,
    condition: &Arc<Expr>,
    project: &Project,
) -> Option<String> {
    let ExprKind::Binary(op, left, right) = &condition.kind else { return None };
    let words = match op {
        Binary::Below => "less than",
        Binary::AtMost => "at most",
        Binary::Above => "more than",
        Binary::AtLeast => "at least",
        Binary::Equal => "equal to",
        Binary::Unequal => "other than",
        _ => return None,
    };
    let (left_value, right_value) = (eval.number(id, left)?, eval.number(id, right)?);
    let name = match &left.kind {
        ExprKind::Path(path) => format!("`{path}`"),
        _ => "what is required".to_owned(),
    };
    Some(format!("{name} is {}, not {words} {}", print(left_value, project), print(right_value, project)))
}

/// A requirement holds only for what has a price.
fn without_price(without: &[String]) -> Option<Diagnostic> {
    let (first, more) = (without.first()?, without.len() - 1);
    let message = match more {
        0 => format!("this holds without the price of `{first}`, which is not stated"),
        1 => format!("this holds without the prices of `{first}` and one more thing, which are not stated"),
        more => {
            format!("this holds without the prices of `{first}` and {more} more things, which are not stated")
        }
    };
    let help = "state the prices, or silence the warning with `accept`; `scantling show shopping` lists what has none";
    Some(Diagnostic::new(&codes::WITHOUT_PRICE, message).help(help))
}

fn print(value: Exact, project: &Project) -> String {
    match value.length() {
        Some(length) => project.marks.print(length).to_string(),
        None if value.dim == Dim::NONE => rounded(value.value, 3),
        None if value.dim == Dim::MONEY => project.money(value.value),
        None => crate::quantity::estimate(value.estimate(), project.marks.system()),
    }
}

pub(super) fn paths(expr: &Expr, each: &mut impl FnMut(&Path)) {
    match &expr.kind {
        ExprKind::Path(path) => each(path),
        ExprKind::Unary(_, operand) => paths(operand, each),
        ExprKind::Binary(_, left, right) => {
            paths(left, each);
            paths(right, each);
        }
        ExprKind::If(condition, value, other) => {
            paths(condition, each);
            paths(value, each);
            paths(other, each);
        }
        ExprKind::List(members) | ExprKind::Call(_, members) => {
            members.iter().for_each(|member| paths(member, each))
        }
        _ => {}
    }
}

impl Evaluator<'_> {
    /// A stated length outside any property.
    fn stated_length(&mut self, id: NodeId, name: &str, expr: &Expr) -> Option<super::Len> {
        self.of(id, name, Some(Takes::Quantity(Dim::LENGTH)), expr)
    }
}
