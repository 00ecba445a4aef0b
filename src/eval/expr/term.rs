//! Terms: what an expression comes to, operator by operator.

use super::super::codes;
use super::super::ledger::Linear;
use super::super::value::Value;
use super::{Evaluator, Site, Term, Used};
use crate::diag::{Diagnostic, nearest};
use crate::limits;
use crate::quantity::{Dim, Exact, Length, Rational, Round};
use crate::source::Span;
use crate::syntax::{Binary, Expr, ExprKind, Path, Unary};
use num_traits::Zero;

impl Evaluator<'_> {
    /// What an expression comes to.
    ///
    /// What it names was worked out before, so that only a circle of names leads deep from here.
    pub(super) fn term(&mut self, place: Site<'_>, expr: &Expr, used: &mut Used) -> Term {
        if self.depth == limits::EVALUATION {
            self.circle(0);
            return Term::Poison;
        }
        self.depth += 1;
        let term = self.operation(place, expr, used);
        self.depth -= 1;
        term
    }

    fn operation(&mut self, place: Site<'_>, expr: &Expr, used: &mut Used) -> Term {
        if let Some(exact) = self.replaced.get(&expr.span) {
            return Term::Number(Linear::fixed(*exact), None);
        }
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

    pub(super) fn call(
        &mut self,
        place: Site<'_>,
        span: Span,
        path: &Path,
        arguments: &[Expr],
        used: &mut Used,
    ) -> Term {
        const FUNCTIONS: [&str; 4] = ["min", "max", "sum", "abs"];
        let name = path.single().map_or("", |name| &*name.text);
        if !FUNCTIONS.contains(&name) {
            let diagnostic =
                Diagnostic::new(&codes::FUNCTION, format!("unknown function `{name}`")).at(path.span, "");
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

    fn binary(
        &mut self,
        place: Site<'_>,
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

    pub(super) fn mismatch(
        &mut self,
        left: Span,
        left_dim: Dim,
        right: Span,
        right_dim: Dim,
        verb: &str,
    ) -> Term {
        self.sink.push(
            Diagnostic::new(&codes::OPERANDS, format!("{left_dim} cannot be {verb} {right_dim}"))
                .at(left.to(right), "")
                .and_at(left, left_dim.to_string())
                .and_at(right, right_dim.to_string()),
        );
        Term::Poison
    }

    pub(super) fn no_operand(&mut self, operand: &Expr, found: Term, needed: &str) -> Term {
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

    pub(super) fn overflow(&mut self, span: Span) -> Term {
        self.sink.push(
            Diagnostic::new(&codes::OVERFLOW, "this number is too large or too fine to be held exactly")
                .at(span, "")
                .help("no building has such sizes; look for a digit too many"),
        );
        Term::Poison
    }
}

impl Term {
    /// The dimension of a number.
    pub(super) fn dim(&self) -> Option<Dim> {
        match self {
            Self::Number(linear, _) => Some(linear.plus.dim),
            _ => None,
        }
    }
}

/// A value rounded to the nearest whole number of steps, ties up.
fn round(value: Exact, step: Exact) -> Option<Exact> {
    let (value_mm, step_mm) = (Length::from_mm(value.value), Length::from_mm(step.value));
    Some(Exact { value: value_mm.rounded_to(step_mm, Round::Nearest)?.mm(), dim: value.dim })
}
