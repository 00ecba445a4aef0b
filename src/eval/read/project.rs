//! Reads what the whole file is about: its marks, its measures, its currency.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::model::Project;
use crate::quantity::{Marks, MarksError, Paper, System};
use crate::resolve::NodeId;
use crate::resolve::kinds::{EyeOf, PROJECT, PaperOf};
use crate::source::Span;
use crate::syntax::{Expr, ExprKind};
use std::sync::Arc;

impl Reader<'_> {
    pub(super) fn project(&mut self, root: NodeId) -> Project {
        let usual = if self.mostly_metric(root) { Marks::TENTHS } else { Marks::THIRTY_SECONDS };
        let stated = self.program.children(root, "project").next();
        let head = Some(self.program.node(stated.unwrap_or(root)).head);
        let mut project = Project { head, ..Project::new(usual) };
        let Some(id) = stated else { return project };
        project.title = self.text(id);
        project.marks = self.marks(id).unwrap_or(usual);
        project.paper = self.read(id, PROJECT.paper).map(|paper| match paper {
            PaperOf::Letter => Paper::Letter,
            PaperOf::A4 => Paper::A4,
        });
        project.revision = self.read(id, PROJECT.revision);
        project.dated = self.read(id, PROJECT.dated).map(|moment| moment.date());
        project.start = self.read(id, PROJECT.start);
        project.year_built = self.read(id, PROJECT.year_built).and_then(|year| i64::try_from(year).ok());
        project.spares = self.usual(id, PROJECT.spares);
        project.strict = self.usual(id, PROJECT.sag) == EyeOf::Strict;
        let day = [PROJECT.day_begins, PROJECT.day_ends].map(|property| {
            let minutes = self.usual(id, property).value.to_integer() / 60;
            i64::try_from(minutes).unwrap_or(i64::MAX)
        });
        if 0 <= day[0] && day[0] < day[1] && day[1] <= 24 * 60 {
            project.day = day;
        } else {
            let ends = self.is_stated(id, PROJECT.day_ends);
            self.eval.sink.push(
                Diagnostic::new(&codes::RANGE, "the working day must begin before it ends, within 24 hours")
                    .at(self.span(id, if ends { PROJECT.day_ends } else { PROJECT.day_begins }), ""),
            );
        }
        project
    }

    /// The one currency of all prices; two of them cannot be added.
    pub(super) fn currency(&mut self) -> Option<Arc<str>> {
        let mut first: Option<([u8; 3], Span)> = None;
        for id in self.program.ids() {
            for stated in &self.program.node(id).properties {
                let mut found = Vec::new();
                currencies(&stated.value, &mut found);
                for (letters, span) in found {
                    match first {
                        None => first = Some((letters, span)),
                        Some((known, at)) if known != letters => {
                            let [known, other] =
                                [known, letters].map(|word| String::from_utf8_lossy(&word).into_owned());
                            self.eval.sink.push(
                                Diagnostic::new(
                                    &codes::CURRENCIES,
                                    format!("prices stand in {known} and in {other}, which cannot be added"),
                                )
                                .at(span, "")
                                .and_at(at, "the first price")
                                .help(format!("state this price in {known} too")),
                            );
                            return None;
                        }
                        Some(_) => {}
                    }
                }
            }
        }
        first.map(|(letters, _)| String::from_utf8_lossy(&letters).into())
    }

    pub(super) fn marks(&mut self, id: NodeId) -> Option<Marks> {
        let step = self.read(id, PROJECT.marks)?.length()?;
        let index = self.program.property(id, PROJECT.marks.name)?;
        let expr = self.program.node(id).properties.get(index)?.value.clone();
        let system = if systems(&expr).1 > 0 { System::Metric } else { System::Inch };
        match Marks::new(step, system) {
            Ok(marks) => Some(marks),
            Err(error) => {
                let help = match error {
                    MarksError::Inch => {
                        "inch marks are `1/16\"`, `1/32\"`, `1/64\"` and so on, down to `1/128\"`"
                    }
                    MarksError::Metric => "metric marks are steps such as `1mm`, `0.5mm` or `0.1mm`",
                };
                self.eval.sink.push(
                    Diagnostic::new(&codes::MARKS, "no tape has such marks").at(expr.span, "").help(help),
                );
                None
            }
        }
    }

    /// Whether more of the file's lengths are metric than not: what a project without `marks` is printed in.
    pub(super) fn mostly_metric(&self, root: NodeId) -> bool {
        let (mut inch, mut metric) = (0_usize, 0_usize);
        let file = self.program.node(root).head.file;
        for id in self.program.ids() {
            // What a module states is its author's way to measure.
            let stated =
                self.program.node(id).properties.iter().filter(|stated| stated.value.span.file == file);
            for stated in stated {
                let (i, m) = systems(&stated.value);
                inch += i;
                metric += m;
            }
        }
        metric > inch
    }
}

/// The currencies of an expression's literals.
fn currencies(expr: &Expr, found: &mut Vec<([u8; 3], Span)>) {
    let mut all = |exprs: &[&Expr]| exprs.iter().for_each(|expr| currencies(expr, found));
    match &expr.kind {
        ExprKind::Number(literal) => {
            found.extend(literal.unit.and_then(|unit| unit.currency).map(|letters| (letters, expr.span)));
        }
        ExprKind::List(members) | ExprKind::Call(_, members) => all(&members.iter().collect::<Vec<_>>()),
        ExprKind::Unary(_, operand) => all(&[operand]),
        ExprKind::Binary(_, left, right) => all(&[left, right]),
        ExprKind::If(condition, value, other) => all(&[condition, value, other]),
        _ => {}
    }
}

/// How many lengths of an expression are written in inches and feet, and how many in metric units.
fn systems(expr: &Expr) -> (usize, usize) {
    let add = |a: (usize, usize), b: (usize, usize)| (a.0 + b.0, a.1 + b.1);
    match &expr.kind {
        ExprKind::Number(literal) => match literal.system {
            Some(System::Inch) => (1, 0),
            Some(System::Metric) => (0, 1),
            None => (0, 0),
        },
        ExprKind::List(members) | ExprKind::Call(_, members) => members.iter().map(systems).fold((0, 0), add),
        ExprKind::Unary(_, operand) => systems(operand),
        ExprKind::Binary(_, left, right) => add(systems(left), systems(right)),
        ExprKind::If(condition, value, other) => add(systems(condition), add(systems(value), systems(other))),
        _ => (0, 0),
    }
}
