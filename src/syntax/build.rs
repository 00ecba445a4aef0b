//! From pest's pairs to the typed tree: a total walk that never looks at a text twice.

use super::codes;
use super::explain;
use super::scan::Item;
use super::tree::{
    Binary, Declaration, Entry, EntryKind, Expr, ExprKind, Ident, Join, Literal, Param, ParamType, Path,
    Property, Step, Text, TypeLimits, Unary, Use, UseFrom, UseName,
};
use super::{Rule, ScantlingParser};
use crate::diag::{Diagnostic, Sink};
use crate::limits;
use crate::quantity::{self, Dim, NumberError, Rational, System, unit};
use crate::source::{FileId, Span};
use num_traits::CheckedMul;
use pest::Parser;
use pest::iterators::{Pair, Pairs};
use pest::pratt_parser::{Assoc, Op, PrattParser};
use std::sync::{Arc, LazyLock};

/// How strongly the operators bind, the weakest first.
static BINDING: LazyLock<PrattParser<Rule>> = LazyLock::new(|| {
    PrattParser::new()
        .op(Op::infix(Rule::or, Assoc::Left))
        .op(Op::infix(Rule::and, Assoc::Left))
        .op(Op::prefix(Rule::negation))
        .op(Op::infix(Rule::below, Assoc::Left)
            | Op::infix(Rule::at_most, Assoc::Left)
            | Op::infix(Rule::above, Assoc::Left)
            | Op::infix(Rule::at_least, Assoc::Left)
            | Op::infix(Rule::equal, Assoc::Left)
            | Op::infix(Rule::unequal, Assoc::Left))
        .op(Op::infix(Rule::of, Assoc::Left))
        .op(Op::infix(Rule::to, Assoc::Left))
        .op(Op::infix(Rule::by, Assoc::Left))
        .op(Op::infix(Rule::plus, Assoc::Left) | Op::infix(Rule::dash, Assoc::Left))
        .op(Op::infix(Rule::times, Assoc::Left) | Op::infix(Rule::over, Assoc::Left))
        .op(Op::prefix(Rule::minus))
});

/// The words that begin a statement.
const STATEMENTS: [&str; 9] =
    ["let", "each", "join", "require", "accept", "measured", "use", "module", "param"];

pub(super) struct Builder<'a> {
    pub file: FileId,
    pub masked: &'a str,
    pub sink: &'a mut Sink,
    /// Unreadable pieces explained so far in this file.
    pub explained: usize,
    /// What the scanner reported: the rest of such a line is not explained again.
    reported: Vec<Span>,
    /// Where the item at hand begins in the file.
    base: usize,
    depth: usize,
}

impl<'a> Builder<'a> {
    pub fn new(file: FileId, masked: &'a str, sink: &'a mut Sink) -> Self {
        let reported = sink.spans();
        Self { file, masked, sink, explained: 0, reported, base: 0, depth: 0 }
    }

    /// Reads one item: one call of pest.
    pub fn item(&mut self, item: &Item) -> Option<Entry> {
        let masked = self.masked;
        let text = masked.get(item.start..item.end)?;
        self.base = item.start;
        let closed;
        let text = if item.closers.is_empty() {
            text
        } else {
            closed = format!("{text}{}", item.closers);
            &closed
        };
        match ScantlingParser::parse(Rule::item, text) {
            Ok(pairs) => {
                let entry = pairs.flatten().find(|pair| pair.as_rule() == Rule::entry)?;
                let entry = self.entry(entry);
                Some(entry)
            }
            Err(error) => {
                let span = Span::new(self.file, item.start, item.end);
                self.unreadable(span, &explain::failure(&error));
                Some(Entry { span, kind: EntryKind::Broken })
            }
        }
    }

    fn span(&self, pair: &Pair<'_, Rule>) -> Span {
        // Implicit spaces after an optional tail belong to a rule's span in pest; here a span ends at visible text.
        let visible = pair.as_str().trim_end_matches([' ', '\t', '\n']);
        let start = self.base + pair.as_span().start();
        Span::new(self.file, start, (start + visible.len()).min(self.masked.len()))
    }

    fn unreadable(&mut self, span: Span, why: &explain::Why) {
        let (before, after) = self.masked.split_at_checked(span.start as usize).unwrap_or(("", ""));
        let start = before.rfind('\n').map_or(0, |newline| newline + 1);
        let end = span.start as usize + after.find('\n').unwrap_or(after.len());
        let line = Span::new(self.file, start, end);
        if self.reported.iter().any(|reported| reported.touches(line)) {
            return;
        }
        self.explained += 1;
        if self.explained > limits::BROKEN_REGIONS {
            return;
        }
        self.reported.push(span);
        self.sink.push(explain::diagnostic(span, why));
    }

    fn entry(&mut self, pair: Pair<'_, Rule>) -> Entry {
        let whole = self.span(&pair);
        let text = pair.as_str();
        let mut inner = pair.into_inner().peekable();
        let mut kind = match inner.next() {
            Some(first) if first.as_rule() == Rule::word => {
                let kind = self.simple(&first, inner.next_if(not_leftover));
                // A statement whose form is wrong was read as a declaration of a kind that does not exist.
                if STATEMENTS.contains(&first.as_str()) && matches!(kind, EntryKind::Declaration(_)) {
                    if inner.peek().is_none() {
                        self.broken_piece(whole, text, whole);
                    }
                    EntryKind::Broken
                } else {
                    kind
                }
            }
            Some(first) if first.as_rule() == Rule::broken => {
                let span = self.span(&first);
                self.broken_piece(whole, text, span);
                // The blocks inside are read for their own messages.
                self.blocks(first);
                EntryKind::Broken
            }
            Some(first) if first.as_rule() == Rule::use_statement => self.use_statement(first),
            Some(first) if first.as_rule() == Rule::param_statement => self.param(first),
            Some(first) => self.statement(first),
            None => EntryKind::Broken,
        };
        if let Some(leftover) = inner.next() {
            let span = self.span(&leftover);
            self.broken_piece(whole, text, span);
            self.blocks(leftover);
            if !matches!(kind, EntryKind::Declaration(Declaration { block: Some(_), .. })) {
                kind = EntryKind::Broken;
            }
        }
        Entry { span: whole, kind }
    }

    fn broken_piece(&mut self, whole: Span, entry: &str, piece: Span) {
        let why = explain::entry(entry, piece.start.saturating_sub(whole.start) as usize);
        let at = Span::new(self.file, whole.start as usize + why.start, whole.start as usize + why.end);
        self.unreadable(at, &why);
    }

    fn blocks(&mut self, pair: Pair<'_, Rule>) {
        for block in pair.into_inner().filter(|inner| inner.as_rule() == Rule::block) {
            self.block(block);
        }
    }

    fn block(&mut self, pair: Pair<'_, Rule>) -> Vec<Entry> {
        pair.into_inner().map(|entry| self.entry(entry)).collect()
    }

    fn simple(&mut self, word: &Pair<'_, Rule>, rest: Option<Pair<'_, Rule>>) -> EntryKind {
        let word = self.ident(word);
        match rest {
            Some(rest) if rest.as_rule() == Rule::property => match rest.into_inner().next() {
                Some(value) => EntryKind::Property(Property { name: word, value: self.value(value) }),
                None => EntryKind::Broken,
            },
            Some(rest) => {
                let mut declaration = Declaration { kind: word, name: None, text: None, block: None };
                for inner in rest.into_inner() {
                    match inner.as_rule() {
                        Rule::name => {
                            declaration.name = inner.into_inner().next().map(|name| self.ident(&name))
                        }
                        Rule::text => declaration.text = Some(self.text(&inner)),
                        _ => declaration.block = Some(self.block(inner)),
                    }
                }
                EntryKind::Declaration(declaration)
            }
            None => EntryKind::Declaration(Declaration { kind: word, name: None, text: None, block: None }),
        }
    }

    fn statement(&mut self, pair: Pair<'_, Rule>) -> EntryKind {
        let rule = pair.as_rule();
        let mut words = Vec::new();
        let mut paths = Vec::new();
        let mut block = Vec::new();
        let mut value = None;
        let mut because = None;
        for inner in pair.into_inner() {
            match inner.as_rule() {
                Rule::word => words.push(self.ident(&inner)),
                Rule::path => paths.push(self.path(inner)),
                Rule::block => block = self.block(inner),
                Rule::expression => value = Some(self.value(inner)),
                Rule::because => because = inner.into_inner().find(is_text).map(|text| self.text(&text)),
                _ => {}
            }
        }
        let (mut words, mut paths) = (words.into_iter(), paths.into_iter());
        match (rule, words.next(), value) {
            (Rule::let_statement, Some(name), Some(value)) => EntryKind::Let(Property { name, value }),
            (Rule::each_statement, Some(kind), _) => EntryKind::Each { kind, block },
            (Rule::module_statement, Some(name), _) => EntryKind::Module { name, block: block.into() },
            (Rule::accept_statement, Some(slug), _) => EntryKind::Accept { slug, because },
            (Rule::require_statement, _, Some(condition)) => EntryKind::Require { condition, because },
            (Rule::measured_statement, _, Some(value)) => match paths.next() {
                Some(path) => EntryKind::Measured { path, value, because },
                None => EntryKind::Broken,
            },
            (Rule::join_statement, Some(joint), _) => match (paths.next(), paths.next()) {
                (Some(guest), Some(host)) => EntryKind::Join(Join { guest, host, joint, block }),
                _ => EntryKind::Broken,
            },
            _ => EntryKind::Broken,
        }
    }

    fn use_statement(&mut self, pair: Pair<'_, Rule>) -> EntryKind {
        let (mut from, mut names) = (None, None);
        for inner in pair.into_inner() {
            match inner.as_rule() {
                Rule::text => from = Some(UseFrom::File(self.text(&inner))),
                Rule::path => from = Some(UseFrom::Library(self.path(inner))),
                Rule::chosen => {
                    let chosen = inner.into_inner().filter_map(|name| self.chosen_name(name));
                    names = Some(chosen.collect());
                }
                _ => {}
            }
        }
        from.map_or(EntryKind::Broken, |from| EntryKind::Use(Use { from, names }))
    }

    fn chosen_name(&mut self, pair: Pair<'_, Rule>) -> Option<UseName> {
        let mut words = pair.into_inner().filter(|inner| inner.as_rule() == Rule::word);
        let name = self.ident(&words.next()?);
        Some(UseName { name, alias: words.next().map(|alias| self.ident(&alias)) })
    }

    fn param(&mut self, pair: Pair<'_, Rule>) -> EntryKind {
        let (mut name, mut takes, mut default) = (None, None, None);
        for inner in pair.into_inner() {
            match inner.as_rule() {
                Rule::word => name = Some(self.ident(&inner)),
                Rule::param_type => takes = self.param_type(inner),
                Rule::expression => default = Some(self.value(inner)),
                _ => {}
            }
        }
        match (name, takes) {
            (Some(name), Some(takes)) => EntryKind::Param(Param { name, takes, default }),
            _ => EntryKind::Broken,
        }
    }

    fn param_type(&mut self, pair: Pair<'_, Rule>) -> Option<ParamType> {
        let span = self.span(&pair);
        let mut inner = pair.into_inner();
        let name = self.ident(&inner.next()?.into_inner().next()?);
        let limits = match inner.next().and_then(|limits| limits.into_inner().next()) {
            None => TypeLimits::None,
            Some(limits) => {
                let rule = limits.as_rule();
                let mut inner = limits.into_inner();
                match rule {
                    Rule::bound => {
                        TypeLimits::Bound(binary(inner.next()?.as_rule()), self.value(inner.next()?))
                    }
                    Rule::of_types => {
                        TypeLimits::Types(inner.filter_map(|inner| self.param_type(inner)).collect())
                    }
                    _ => TypeLimits::Between(self.value(inner.next()?), self.value(inner.nth(1)?)),
                }
            }
        };
        Some(ParamType { name, limits, span })
    }

    fn ident(&mut self, pair: &Pair<'_, Rule>) -> Ident {
        let (text, span) = (pair.as_str(), self.span(pair));
        if text.bytes().any(|b| b.is_ascii_uppercase()) {
            let lower = lower_snake(text);
            self.sink.push(
                Diagnostic::new(&codes::CASE, format!("`{text}` is not written in small letters"))
                    .at(span, "")
                    .fix(span, lower.clone(), format!("write `{lower}`")),
            );
        }
        Ident { text: text.into(), span }
    }

    fn text(&mut self, pair: &Pair<'_, Rule>) -> Text {
        let inner = pair
            .clone()
            .into_inner()
            .map(|piece| (piece.as_str(), piece.as_rule() == Rule::plain))
            .map(|(piece, escapes)| piece.strip_prefix('\\').filter(|_| escapes).unwrap_or(piece));
        let text: String = inner.collect();
        Text { text: text.into(), span: self.span(pair) }
    }

    fn path(&mut self, pair: Pair<'_, Rule>) -> Path {
        let span = self.span(&pair);
        let mut steps = Vec::new();
        for inner in pair.into_inner() {
            if inner.as_rule() == Rule::word {
                steps.push(Step::Name(self.ident(&inner)));
            } else {
                let span = self.span(&inner);
                let index = inner.into_inner().next().and_then(|digits| digits.as_str().parse().ok());
                steps.push(Step::Member(index.unwrap_or(u32::MAX), span));
            }
        }
        Path { steps, span }
    }

    fn value(&mut self, pair: Pair<'_, Rule>) -> Arc<Expr> {
        Arc::new(self.expression(pair))
    }

    fn expression(&mut self, pair: Pair<'_, Rule>) -> Expr {
        let span = self.span(&pair);
        let inner = pair.into_inner();
        let operands = inner.len().div_ceil(2);
        self.depth += operands;
        let too_long = self.depth > limits::DEPTH || operands > limits::OPERANDS;
        let expr = if too_long {
            self.sink.push(
                Diagnostic::new(&codes::LONG, "this expression is too long or nests too deep")
                    .at(
                        span,
                        format!(
                            "more than {} operands, or {} down to the innermost",
                            limits::OPERANDS,
                            limits::DEPTH
                        ),
                    )
                    .help("name parts of it with `let` and use the names"),
            );
            Expr { span, kind: ExprKind::Broken }
        } else {
            self.ordered(inner)
        };
        self.depth -= operands;
        expr
    }

    fn ordered(&mut self, pairs: Pairs<'_, Rule>) -> Expr {
        let this = std::cell::RefCell::new(self);
        BINDING
            .map_primary(|pair| this.borrow_mut().operand(pair))
            .map_prefix(|sign, operand| {
                let span = this.borrow().span(&sign).to(operand.span);
                let sign = if sign.as_rule() == Rule::minus { Unary::Minus } else { Unary::Not };
                Expr { span, kind: ExprKind::Unary(sign, Box::new(operand)) }
            })
            .map_infix(|left, op, right| {
                let span = left.span.to(right.span);
                if this.borrow_mut().pointed(&left, &op, &right) {
                    return Expr { span, kind: ExprKind::Broken };
                }
                let op = binary(op.as_rule());
                Expr { span, kind: ExprKind::Binary(op, Box::new(left), Box::new(right)) }
            })
            .parse(pairs)
    }

    /// `11.13/16"`: a point where the space of a mixed number stands, which would divide a number by a length.
    fn pointed(&mut self, left: &Expr, op: &Pair<'_, Rule>, right: &Expr) -> bool {
        let close = left.span.end.saturating_add(1) == right.span.start;
        let (
            ExprKind::Number(Literal { unit: None, .. }),
            ExprKind::Number(Literal { unit: Some(unit), .. }),
        ) = (&left.kind, &right.kind)
        else {
            return false;
        };
        let text = |span: Span| self.masked.get(span.range()).unwrap_or("");
        let Some((whole, over)) = text(left.span).split_once('.') else { return false };
        if op.as_rule() != Rule::over || !close || unit.dim != Dim::LENGTH {
            return false;
        }
        let mended = format!("{whole} {over}/{}", text(right.span));
        let span = left.span.to(right.span);
        let message = format!("`{}` has a point where a space stands before a fraction", text(span));
        self.sink.push(Diagnostic::new(&codes::NUMBER, message).at(span, "").fix(
            span,
            mended.clone(),
            format!("write `{mended}`"),
        ));
        true
    }

    fn operand(&mut self, pair: Pair<'_, Rule>) -> Expr {
        let span = self.span(&pair);
        let kind = match pair.as_rule() {
            Rule::literal => self.literal(pair, span),
            Rule::text => ExprKind::Text(self.text(&pair).text),
            Rule::truth => ExprKind::Truth(pair.as_str() == "true"),
            Rule::rest => ExprKind::Rest,
            Rule::unread => ExprKind::Unread,
            Rule::date => ExprKind::Date(pair.as_str().into()),
            Rule::list => {
                let members: Vec<Expr> = pair.into_inner().map(|member| self.expression(member)).collect();
                if members.len() > limits::LIST {
                    self.sink.push(
                        Diagnostic::new(&codes::LONG, format!("this list has {} members", members.len()))
                            .at(span, format!("more than {}", limits::LIST)),
                    );
                    ExprKind::Broken
                } else {
                    ExprKind::List(members)
                }
            }
            Rule::group => match pair.into_inner().next() {
                Some(inner) => self.expression(inner).kind,
                None => ExprKind::Broken,
            },
            Rule::conditional => {
                let mut parts = pair.into_inner().filter(|inner| inner.as_rule() == Rule::expression);
                let mut next = || parts.next().map(|part| Box::new(self.expression(part)));
                match (next(), next(), next()) {
                    (Some(condition), Some(value), Some(other)) => ExprKind::If(condition, value, other),
                    _ => ExprKind::Broken,
                }
            }
            Rule::reference => {
                let mut inner = pair.into_inner();
                let path = inner.next().map(|path| self.path(path));
                let arguments =
                    inner.next().map(|list| list.into_inner().map(|a| self.expression(a)).collect());
                match (path, arguments) {
                    (Some(path), None) => ExprKind::Path(path),
                    (Some(path), Some(arguments)) => ExprKind::Call(path, arguments),
                    _ => ExprKind::Broken,
                }
            }
            _ => ExprKind::Broken,
        };
        Expr { span, kind }
    }

    fn literal(&mut self, pair: Pair<'_, Rule>, span: Span) -> ExprKind {
        let whole = pair.as_str().to_owned();
        let mut inner = pair.into_inner();
        let Some(first) = inner.next() else { return ExprKind::Broken };
        if first.as_rule() == Rule::hyphenated {
            let (mixed, difference) = (whole.replacen('-', " ", 1), whole.replacen('-', " - ", 1));
            self.sink.push(
                Diagnostic::new(&codes::HYPHEN, format!("`{whole}` can be read in two ways"))
                    .at(span, "a mixed number, or a subtraction?")
                    .help(format!("write `{mixed}` for the mixed number"))
                    .help(format!("write `{difference}` for the subtraction")),
            );
            return ExprKind::Broken;
        }
        if first.as_rule() == Rule::decimal_comma {
            let point = whole.replacen(',', ".", 1);
            self.sink.push(
                Diagnostic::new(&codes::NUMBER, format!("`{whole}` has a comma where decimals have a point"))
                    .at(span, "")
                    .fix(span, point.clone(), format!("write `{point}`"))
                    .help("in a list each member carries its own unit, and a space stands behind the comma"),
            );
            return ExprKind::Broken;
        }
        let Some(value) = self.number(&first) else { return ExprKind::Broken };
        let Some(mark) = inner.next() else {
            return ExprKind::Number(Literal { value, unit: None, system: None });
        };
        let (word, system) = match mark.as_rule() {
            Rule::foot_mark => ("ft", Some(System::Inch)),
            Rule::inch_mark => ("in", Some(System::Inch)),
            _ => (mark.as_str(), None),
        };
        let Some(unit) = unit(word) else {
            self.unknown_unit(word, self.span(&mark));
            return ExprKind::Broken;
        };
        let inches = match inner.next() {
            Some(inches) => match self.number(&inches) {
                Some(inches) => inches,
                None => return ExprKind::Broken,
            },
            None => Rational::from(0),
        };
        let inch = quantity::unit("in").map(|unit| unit.factor);
        let total = value.checked_mul(&unit.factor).zip(inch.and_then(|inch| inches.checked_mul(&inch)));
        let Some(value) = total.and_then(|(a, b)| num_traits::CheckedAdd::checked_add(&a, &b)) else {
            self.bad_number(span, NumberError::TooLong);
            return ExprKind::Broken;
        };
        let system = match (unit.dim == Dim::LENGTH, word) {
            (false, _) => None,
            (true, "in" | "ft") => Some(System::Inch),
            (true, _) => system.or(Some(System::Metric)),
        };
        ExprKind::Number(Literal { value, unit: Some(unit), system })
    }

    fn number(&mut self, pair: &Pair<'_, Rule>) -> Option<Rational> {
        match quantity::number(pair.as_str()) {
            Ok(value) => Some(value),
            Err(error) => {
                let span = self.span(pair);
                self.bad_number(span, error);
                None
            }
        }
    }

    fn bad_number(&mut self, span: Span, error: NumberError) {
        let (message, help) = match error {
            NumberError::ZeroDenominator => {
                ("a fraction over zero is no number", "write another denominator")
            }
            NumberError::TooLong => ("this number has too many digits", "a tape shows fewer; round it"),
            NumberError::Form => ("this is no number", "numbers look like `12`, `3/4`, `11 7/8`, `0.25`"),
        };
        self.sink.push(Diagnostic::new(&codes::NUMBER, message).at(span, "").help(help));
    }

    fn unknown_unit(&mut self, word: &str, span: Span) {
        let known = quantity::all_words();
        let mut diagnostic =
            Diagnostic::new(&codes::UNIT, format!("`{word}` is not a unit")).at(span, "expected a unit");
        let common = [("inch", "in"), ("inches", "in"), ("feet", "ft"), ("foot", "ft"), ("lbs", "lb")];
        let spelled = common.iter().find(|(wrong, _)| *wrong == word).map(|(_, right)| *right);
        diagnostic = match spelled.or_else(|| crate::diag::nearest(word, known)) {
            Some(near) => diagnostic.fix(span, near, format!("did you mean `{near}`?")),
            None => diagnostic
                .help("lengths: `\"`, `'`, `mm`, `cm`, `m`; `scantling explain S008` lists the others"),
        };
        self.sink.push(diagnostic);
    }
}

fn is_text(pair: &Pair<'_, Rule>) -> bool {
    pair.as_rule() == Rule::text
}

fn not_leftover(pair: &Pair<'_, Rule>) -> bool {
    pair.as_rule() != Rule::leftover
}

fn binary(rule: Rule) -> Binary {
    match rule {
        Rule::plus => Binary::Add,
        Rule::dash => Binary::Subtract,
        Rule::times => Binary::Multiply,
        Rule::over => Binary::Divide,
        Rule::below => Binary::Below,
        Rule::at_most => Binary::AtMost,
        Rule::above => Binary::Above,
        Rule::at_least => Binary::AtLeast,
        Rule::equal => Binary::Equal,
        Rule::unequal => Binary::Unequal,
        Rule::and => Binary::And,
        Rule::or => Binary::Or,
        Rule::by => Binary::By,
        Rule::of => Binary::Of,
        _ => Binary::To,
    }
}

/// `TopRail` and `topRail` as `top_rail`.
fn lower_snake(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    let mut before_small = false;
    for c in text.chars() {
        if c.is_ascii_uppercase() && before_small {
            out.push('_');
        }
        before_small = c.is_ascii_lowercase() || c.is_ascii_digit();
        out.push(c.to_ascii_lowercase());
    }
    out
}

#[cfg(test)]
mod tests {
    use super::lower_snake;

    #[test]
    fn names_become_lower_snake() {
        assert_eq!(lower_snake("TopRail"), "top_rail");
        assert_eq!(lower_snake("topRail2"), "top_rail2");
        assert_eq!(lower_snake("TOP_RAIL"), "top_rail");
    }
}
