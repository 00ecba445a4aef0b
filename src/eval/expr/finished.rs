//! A worked-out term as the value that a property takes, or what is wrong with it.

use super::super::codes;
use super::super::ledger::Step;
use super::super::value::{Number, Value};
use super::{Evaluator, Site, Term, Used};
use crate::diag::Diagnostic;
use crate::quantity::{Dim, Exact, Rational};
use crate::resolve::Takes;
use crate::source::Span;
use crate::syntax::{Expr, ExprKind};
use num_traits::Zero;
use std::sync::Arc;

impl Evaluator<'_> {
    /// A worked-out term as the value that a property takes, entered in the ledger.
    pub(super) fn finished(
        &mut self,
        place: Site<'_>,
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
            (Term::Number(..), Some(Takes::Date)) if let Some(days) = days(self.sources.text(span)) => {
                let message = format!("`{}` is not how a day is written", self.sources.text(span));
                let diagnostic = Diagnostic::new(&codes::DATE, message).at(span, "");
                self.sink.push(match days.as_slice() {
                    [day] => diagnostic.fix(span, day.clone(), format!("write year, month and day: `{day}`")),
                    days => diagnostic.help(format!("write year, month and day: `{}`", days.join("` or `"))),
                });
                Value::Poison
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
    fn label(&self, place: Site<'_>) -> Arc<str> {
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

    pub(super) fn wrong(&mut self, span: Span, needed: &str, found: &str, help: &str) {
        self.sink.push(
            Diagnostic::new(&codes::DIMENSION, format!("{needed} is needed here, not {found}"))
                .at(span, "")
                .help(help.to_owned()),
        );
    }
}

/// The days that `12/24/2026`, `24/12/2026`, `2026/12/24` and the like may stand for; `None` of a text that is no day.
fn days(text: &str) -> Option<Vec<String>> {
    let parts: Vec<&str> = text.split(['/', '-']).map(str::trim).collect();
    let figures: Option<Vec<u32>> = parts.iter().map(|part| part.parse().ok()).collect();
    let (year, pairs) = match (figures?.as_slice(), parts.as_slice()) {
        (&[year, month, day], [first, ..]) if first.len() == 4 => (year, vec![(month, day)]),
        (&[first, second, year], [.., last]) if last.len() == 4 => (
            year,
            if first == second { vec![(first, second)] } else { vec![(first, second), (second, first)] },
        ),
        _ => return None,
    };
    let real = |(month, day): &(u32, u32)| {
        let text = format!("{year:04}-{month:02}-{day:02}");
        text.parse::<jiff::civil::Date>().is_ok().then_some(text)
    };
    let days: Vec<String> = pairs.iter().filter_map(real).collect();
    if days.is_empty() { None } else { Some(days) }
}

fn fits(takes: Option<Takes>, exact: Exact) -> bool {
    match takes {
        Some(Takes::Count) => exact.value.is_integer(),
        Some(Takes::Size | Takes::Text | Takes::Date | Takes::Lengths | Takes::Quantities(_)) => false,
        _ => true,
    }
}

fn plain(value: Rational) -> String {
    crate::quantity::decimal(value, 6)
}
