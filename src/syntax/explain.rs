//! Why a piece of text cannot be read: the piece is parsed again with the narrowest rule that fits its first word.

use super::codes;
use super::{Rule, ScantlingParser};
use crate::diag::Diagnostic;
use crate::source::Span;
use pest::Parser;
use pest::error::{Error, ErrorVariant, InputLocation};

/// What is wrong, and with which bytes of the entry.
pub(super) struct Why {
    pub start: usize,
    pub end: usize,
    /// What stands there.
    pub found: String,
    /// What could stand there, in words.
    pub expected: String,
    pub help: Option<&'static str>,
    /// A change of text for the bytes.
    pub fix: Option<(String, String)>,
}

/// Explains an entry of which the bytes from `piece` on could not be read.
pub(super) fn entry(text: &str, piece: usize) -> Why {
    let line_end = text.find('\n').unwrap_or(text.len());
    let line = text.get(..line_end.max(piece)).unwrap_or(text).trim_end();
    let rule = match line.split(|c: char| !c.is_ascii_alphanumeric() && c != '_').next() {
        Some("let") => Rule::let_line,
        Some("each") => Rule::each_line,
        Some("join") => Rule::join_line,
        Some("require") => Rule::require_line,
        Some("accept") => Rule::accept_line,
        Some("measured") => Rule::measured_line,
        Some("use") => Rule::use_line,
        Some("module") => Rule::module_line,
        Some("param") => Rule::param_line,
        _ if line.contains('=') => Rule::property_line,
        _ => Rule::declaration_line,
    };
    if let Some(why) = missing_equals(line, piece).or_else(|| day(line)) {
        return why;
    }
    match ScantlingParser::parse(rule, line) {
        Err(error) => at(line, piece, &error),
        Ok(_) => found_at(line, piece, "the end of the entry".to_owned()),
    }
}

/// `thickness 18mm` and `let a 3"`: what stands there would be a value if there were an `=` before it.
fn missing_equals(line: &str, piece: usize) -> Option<Why> {
    let (head, value) = line.split_at_checked(piece)?;
    let value = value.trim();
    let rule = if head.starts_with("let ") { Rule::let_line } else { Rule::property_line };
    let mended = format!("{} = {value}", head.trim_end());
    ScantlingParser::parse(rule, &mended).ok()?;
    let (found, expected) = (value.to_owned(), "`=` before a value".to_owned());
    let fix = Some((format!("= {value}"), format!("write `{mended}`")));
    Some(Why { start: piece, end: piece + value.len(), found, expected, help: None, fix })
}

/// `24.12.2026`: a day as it is written by hand.
fn day(line: &str) -> Option<Why> {
    let start = line.find(|c: char| c.is_ascii_digit())?;
    let rest = line.get(start..)?;
    let length = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
    let found = rest.get(..length)?;
    let [day, month, year] = found.split('.').collect::<Vec<_>>().try_into().ok()?;
    if year.len() != 4 || day.is_empty() || month.is_empty() || day.len().max(month.len()) > 2 {
        return None;
    }
    let mended = format!("{year}-{month:0>2}-{day:0>2}");
    let fix = Some((mended.clone(), format!("write year, month and day: `{mended}`")));
    let expected = "a day such as `2026-12-24`".to_owned();
    Some(Why { start, end: start + length, found: found.to_owned(), expected, help: None, fix })
}

/// Explains the failure of a whole item.
pub(super) fn failure(error: &Error<Rule>) -> Why {
    let start = match error.location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
    };
    Why { start, end: start, found: String::new(), expected: expected(error), help: None, fix: None }
}

/// The message.
pub(super) fn diagnostic(span: Span, why: &Why) -> Diagnostic {
    let message = if why.found.is_empty() {
        format!("the entry ends where {} should follow", why.expected)
    } else {
        format!("cannot read `{}` here", why.found)
    };
    let label = if why.found.is_empty() { "here".to_owned() } else { format!("expected {}", why.expected) };
    let mut diagnostic = Diagnostic::new(&codes::UNREADABLE, message).at(span, label);
    if let Some((text, title)) = &why.fix {
        diagnostic = diagnostic.fix(span, text.clone(), title.clone());
    }
    match why.help {
        Some(help) => diagnostic.help(help),
        None => diagnostic,
    }
}

fn at(line: &str, piece: usize, error: &Error<Rule>) -> Why {
    let start = match error.location {
        InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
    };
    // An error before the piece was met and passed: what the rule expected there says nothing about the piece.
    let expected = if start < piece { "the end of the entry".to_owned() } else { expected(error) };
    let why = found_at(line, start.max(piece).min(line.len()), expected);
    if start < piece { why } else { missing_comma(line, why) }
}

/// `[16" 32"]`: two members of a list without a comma between them.
fn missing_comma(line: &str, why: Why) -> Why {
    let before = line.get(..why.start).unwrap_or("");
    let within = before.matches('[').count() > before.matches(']').count();
    // Behind feet the next number is taken for the inches that belong to them.
    if let Some((feet, inches)) = before.rsplit_once('\'').filter(|_| within && why.found == "'") {
        let start = feet.len() + 1 + inches.len() - inches.trim_start().len();
        if !inches.trim().is_empty() && inches.trim().bytes().all(|figure| figure.is_ascii_digit()) {
            let found = inches.trim().to_owned();
            return missing_comma(line, Why { start, end: start + found.len(), found, ..why });
        }
    }
    let value = why.found.starts_with(|c: char| c.is_alphanumeric() || c == '"');
    let behind =
        before.trim_end().ends_with(|c: char| c.is_alphanumeric() || matches!(c, '"' | '\'' | '%' | ']'));
    if !within || !value || !behind {
        return why;
    }
    let fix = Some((format!(", {}", why.found), "write `,` between two members of a list".to_owned()));
    Why { expected: "`,` or `]`".to_owned(), help: None, fix, ..why }
}

fn found_at(line: &str, start: usize, expected: String) -> Why {
    let rest = line.get(start..).unwrap_or("");
    let skipped = rest.len() - rest.trim_start().len();
    let (start, rest) = (start + skipped, rest.trim_start());
    let word = |c: char| c.is_alphanumeric() || c == '_';
    let length = match rest.chars().next() {
        Some(first) if word(first) => rest.find(|c| !word(c)).unwrap_or(rest.len()),
        Some(first) => first.len_utf8(),
        None => 0,
    };
    let found = rest.get(..length).unwrap_or("").to_owned();
    let (help, fix) = match found.as_str() {
        ";" if rest.len() > 1 => {
            (None, Some((",".to_owned(), "write `,` between two entries of a line".to_owned())))
        }
        ";" => (None, Some((String::new(), "delete the `;`: an entry ends with its line".to_owned()))),
        ":" => (None, Some((" =".to_owned(), "write `=` between a name and its value".to_owned()))),
        "x" | "of" | "to" | "rest" | "and" | "or" | "not" | "if" | "then" | "else" => {
            (Some("this is a word of the language; a name of yours is another word"), None)
        }
        _ if expected == "the end of the entry" => (Some("one entry a line, or a comma between two"), None),
        _ => (None, None),
    };
    let expected = if found == ":" { "`=`".to_owned() } else { expected };
    Why { start, end: start + length, found, expected, help, fix }
}

/// The rules that could have followed, in people's words, each once.
fn expected(error: &Error<Rule>) -> String {
    let ErrorVariant::ParsingError { positives, .. } = &error.variant else {
        return "something that can be read".to_owned();
    };
    let mut words: Vec<&str> = Vec::new();
    for rule in positives {
        let word = in_words(*rule);
        if !words.contains(&word) {
            words.push(word);
        }
    }
    // Where a value may go on, its end is what a person expects.
    if words.contains(&"the end of the entry") {
        return "the end of the entry".to_owned();
    }
    words.sort_unstable();
    match words.as_slice() {
        [] => "something that can be read".to_owned(),
        [one] => (*one).to_owned(),
        [most @ .., last] => format!("{} or {last}", most.join(", ")),
    }
}

fn in_words(rule: Rule) -> &'static str {
    match rule {
        Rule::EOI => "the end of the entry",
        Rule::word | Rule::name | Rule::chosen_name => "a name",
        Rule::param_type | Rule::type_name => "a type, such as `length`",
        Rule::colon => "`:` and a type",
        Rule::limits => "limits in parentheses",
        Rule::through => "`..`",
        Rule::chosen => "names in `{ }`",
        Rule::path | Rule::reference => "a name or a path",
        Rule::block => "a block `{ }`",
        Rule::word_to => "`to`",
        Rule::word_with => "`with`",
        Rule::because | Rule::word_because => "`because` and a text",
        Rule::word_then => "`then`",
        Rule::word_else => "`else`",
        Rule::property => "`=` and a value",
        Rule::text => "a text in quotes",
        Rule::digits | Rule::member => "a number",
        Rule::inch_mark | Rule::foot_mark | Rule::unit => "a unit",
        Rule::plus
        | Rule::dash
        | Rule::times
        | Rule::over
        | Rule::at_most
        | Rule::at_least
        | Rule::below
        | Rule::above
        | Rule::equal
        | Rule::unequal
        | Rule::by
        | Rule::of
        | Rule::to
        | Rule::and
        | Rule::or => "an operator",
        _ => "a value",
    }
}
