//! Statements about what is derived: requirements, acceptances, what was measured on a part as it was built.

use super::codes;
use super::expr::Evaluator;
use super::ledger::{Ledger, Why};
use super::model::{Accept, Found};
use crate::diag::{Diagnostic, Sink};
use crate::quantity::{Dim, Exact, Marks, decimal};
use crate::resolve::{NodeId, Program, Statement, Takes};
use crate::source::Sources;
use crate::syntax::{Binary, Expr, ExprKind, Path};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A derived measure, as a requirement asks for it.
#[derive(Clone, Copy, Debug)]
pub struct Derived {
    /// The value; of an estimate, the nearest exact number. It goes into a comparison and nowhere else.
    pub value: Exact,
    /// Where it comes from, if it is exact.
    pub why: Option<Why>,
}

/// The path of names that leads to a member: `sewing.one`.
pub(super) fn path_of(program: &Program, id: NodeId) -> String {
    let mut names = Vec::new();
    let mut at = Some(id);
    while let Some(id) = at {
        let node = program.node(id);
        names.extend(node.name.as_ref().map(|name| name.text.to_string()));
        at = node.parent;
    }
    names.reverse();
    names.join(".")
}

/// All acceptances of a program, with the members that they hold for.
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
    measures: &BTreeMap<String, Derived>,
    sources: &Sources,
    marks: Marks,
    sink: &mut Sink,
) {
    for id in program.ids() {
        for statement in &program.node(id).statements {
            let Statement::Require { condition, because, span } = statement else { continue };
            let mut eval = Evaluator::new(program, ledger, sink);
            eval.measures = Some(measures);
            let Some(holds) = eval.condition(id, condition) else { continue };
            if holds {
                continue;
            }
            let because = because.as_ref().map(|text| format!(": {}", text.text)).unwrap_or_default();
            let mut diagnostic = match comparison(&mut eval, id, condition, marks) {
                Some(said) => Diagnostic::new(&codes::REQUIREMENT, format!("{said}{because}")),
                None => Diagnostic::new(&codes::REQUIREMENT, format!("a requirement does not hold{because}")),
            };
            diagnostic = diagnostic.at(condition.span, "required here");
            let mut whys = Vec::new();
            paths(condition, &mut |path| whys.extend(eval.derived(id, path).and_then(|derived| derived.why)));
            for why in whys {
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
fn comparison(eval: &mut Evaluator<'_>, id: NodeId, condition: &Arc<Expr>, marks: Marks) -> Option<String> {
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
    Some(format!("{name} is {}, not {words} {}", print(left_value, marks), print(right_value, marks)))
}

fn print(value: Exact, marks: Marks) -> String {
    match value.length() {
        Some(length) => marks.print(length).to_string(),
        None if value.dim == Dim::NONE => decimal(value.value, 3),
        None => crate::quantity::estimate(value.estimate(), marks.system()),
    }
}

fn paths(expr: &Expr, each: &mut impl FnMut(&Path)) {
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
