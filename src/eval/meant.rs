//! What a tired person may have meant by a literal: the same keys in another order, one too many, another unit.

use crate::quantity::{Exact, Rational, System, decimal, number, unit};
use num_traits::{Signed, Zero};

/// The value of a literal as it is written; `None` of a text that is none, or of several numbers.
#[must_use]
pub fn literal(text: &str) -> Option<Exact> {
    let Written { number: value, unit: word, .. } = Written::of(text)?;
    let value = number(value).ok()?;
    match word {
        "" => Some(Exact::number(value)),
        word => {
            let unit = unit(plain(word))?;
            Exact::number(value).checked_mul(Exact { value: unit.factor, dim: unit.dim })
        }
    }
}

/// A literal: its number, what stands between, its unit.
struct Written<'a> {
    number: &'a str,
    blank: &'a str,
    unit: &'a str,
}

impl<'a> Written<'a> {
    fn of(text: &'a str) -> Option<Self> {
        let mut end = 0;
        let mut chars = text.char_indices().peekable();
        while let Some((at, c)) = chars.next() {
            let exponent = c == 'e' && chars.peek().is_some_and(|(_, next)| next.is_ascii_digit());
            if !exponent && !matches!(c, '0'..='9' | '.' | '/' | ' ' | '\t') {
                break;
            }
            end = at + c.len_utf8();
        }
        let (number, unit) = text.split_at_checked(end)?;
        let blank = number.get(number.trim_end().len()..)?;
        Some(Self { number: number.trim_end(), blank, unit })
    }

    fn with(&self, number: &str) -> String {
        format!("{number}{}{}", self.blank, self.unit)
    }
}

/// The word of a unit that is written as a mark.
fn plain(word: &str) -> &str {
    match word {
        "\"" | "”" | "″" => "in",
        "'" | "’" | "′" => "ft",
        word => word,
    }
}

/// What may be meant by a literal, the likeliest first; `system` is that of the project.
pub(super) fn meant(text: &str, system: System) -> Vec<String> {
    let Some(written) = Written::of(text) else { return Vec::new() };
    let mut all = Vec::new();
    let parts = Parts::of(written.number);
    // 32/23 for 23/32
    if let Some(Fraction { over, under }) = parts.fraction {
        all.push(
            written.with(&Parts { fraction: Some(Fraction { over: under, under: over }), ..parts }.text()),
        );
    }
    all.extend(units(&written, system));
    all.extend(tenfold(&written, &parts, system));
    // 31 for 13
    for (at, pair) in parts.whole.as_bytes().windows(2).enumerate() {
        let &[one, other] = pair else { continue };
        let [one, other] = [one, other].map(char::from);
        if one != other && parts.whole.is_char_boundary(at) {
            let (before, rest) = parts.whole.split_at(at);
            let rest = rest.get(2..).unwrap_or_default();
            let whole = format!("{before}{other}{one}{rest}");
            all.push(written.with(&Parts { whole: &whole, ..parts }.text()));
        }
    }
    // 1 1/8 for 1/8
    if parts.fraction.is_some() && !parts.whole.is_empty() {
        all.push(written.with(&Parts { whole: "", ..parts }.text()));
    }
    // 118 for 18
    if parts.whole.len() > 1 {
        for at in 0..parts.whole.len() {
            let whole: String =
                parts.whole.char_indices().filter(|(i, _)| *i != at).map(|(_, digit)| digit).collect();
            all.push(written.with(&Parts { whole: &whole, ..parts }.text()));
        }
    }
    all.retain(|other| other != text);
    all
}

/// The same with one other figure, or one more: what the next key, a key too few or a misread tape makes of it.
pub(super) fn one_figure(text: &str) -> Vec<String> {
    let Some(written) = Written::of(text) else { return Vec::new() };
    let parts = Parts::of(written.number);
    let mut all = Vec::new();
    for at in 0..parts.whole.len() {
        for figure in '0'..='9' {
            let other: String =
                parts.whole.char_indices().map(|(i, was)| if i == at { figure } else { was }).collect();
            let mut more = parts.whole.to_owned();
            more.insert(at, figure);
            for whole in [other, more] {
                if !(whole.len() > 1 && whole.starts_with('0')) && whole != parts.whole {
                    all.push(written.with(&Parts { whole: &whole, ..parts }.text()));
                }
            }
        }
    }
    all
}

/// The figures of a number as a tape shows it.
#[derive(Clone, Copy)]
struct Parts<'a> {
    whole: &'a str,
    /// `.5`
    decimals: &'a str,
    fraction: Option<Fraction<'a>>,
}

#[derive(Clone, Copy)]
struct Fraction<'a> {
    over: &'a str,
    under: &'a str,
}

impl<'a> Parts<'a> {
    fn of(number: &'a str) -> Self {
        let Some((before, under)) = number.split_once('/') else {
            let at = number.find('.').unwrap_or(number.len());
            let (whole, decimals) = number.split_at(at);
            return Self { whole, decimals, fraction: None };
        };
        let before = before.trim_end();
        let (whole, over) = before.rsplit_once([' ', '\t']).unwrap_or(("", before));
        Self {
            whole: whole.trim_end(),
            decimals: "",
            fraction: Some(Fraction { over, under: under.trim_start() }),
        }
    }

    fn text(&self) -> String {
        let Self { whole, decimals, fraction } = self;
        match fraction {
            None => format!("{whole}{decimals}"),
            Some(Fraction { over, under }) if whole.is_empty() => format!("{over}/{under}"),
            Some(Fraction { over, under }) => format!("{whole} {over}/{under}"),
        }
    }
}

/// The same number of another unit.
fn units(written: &Written<'_>, system: System) -> Vec<String> {
    let Written { number, blank, unit: word } = written;
    let others: &[&str] = match (plain(word), system) {
        ("in", System::Inch) => &["'"],
        ("in", System::Metric) => &["mm", "cm"],
        ("ft", System::Inch) => &["\""],
        ("ft", System::Metric) => &["mm", "m"],
        ("mm", System::Inch) => &["\""],
        ("mm", System::Metric) => &["cm", "m"],
        ("cm", System::Inch) => &["\""],
        ("m", System::Inch) => &["'"],
        ("cm", System::Metric) => &["mm", "m"],
        ("m", System::Metric) => &["mm", "cm"],
        ("s", _) => &["min"],
        ("min", _) => &["s", "h"],
        ("h", _) => &["min", "days"],
        ("day" | "days", _) => &["h"],
        ("lb/ft3", _) => &["kg/m3"],
        ("kg/m3", _) => &["lb/ft3"],
        ("psi", _) => &["MPa"],
        ("MPa", _) => &["psi", "GPa"],
        ("GPa", _) => &["MPa"],
        ("ft2/gal", _) => &["m2/L"],
        ("m2/L", _) => &["ft2/gal"],
        ("L", _) => &["ml"],
        ("ml", _) => &["L"],
        ("gal", _) => &["qt", "floz"],
        ("qt", _) => &["gal", "floz"],
        ("floz", _) => &["gal", "ml"],
        ("kg", _) => &["lb"],
        ("lb", _) => &["kg"],
        ("", _) => return vec![format!("{number} %")],
        _ => &[],
    };
    // A unit of letters stands apart from its number where the other one did.
    let other = |other: &&str| match *other {
        "\"" | "'" => format!("{number}{other}"),
        other => {
            format!("{number}{}{other}", if blank.is_empty() && !system_word(other) { " " } else { *blank })
        }
    };
    others.iter().map(other).collect()
}

/// Whether a unit stands close to its number as the formatter writes it.
fn system_word(word: &str) -> bool {
    matches!(word, "mm" | "cm" | "m")
}

/// A tenth, ten times and a hundredth of it, where a person could have written that.
fn tenfold(written: &Written<'_>, parts: &Parts<'_>, system: System) -> Vec<String> {
    let Ok(value) = number(written.number) else { return Vec::new() };
    let inches = matches!(plain(written.unit), "in") && system == System::Inch;
    let times = [(1, 10), (10, 1), (1, 100)];
    let all = times.into_iter().filter_map(|(over, under)| {
        let value = value * Rational::new(over, under);
        let text = if inches && parts.decimals.is_empty() { fraction(value) } else { exactly(value) };
        text.map(|text| written.with(&text))
    });
    all.collect()
}

/// A number as a tape in inches shows it; `None` where it has no such mark.
fn fraction(value: Rational) -> Option<String> {
    let under = *value.denom();
    if value.is_negative() || under > 64 || under.count_ones() != 1 {
        return None;
    }
    let (whole, rest) = (value.trunc(), value.fract());
    Some(match (whole.is_zero(), rest.is_zero()) {
        (_, true) => whole.to_string(),
        (true, false) => rest.to_string(),
        (false, false) => format!("{whole} {rest}"),
    })
}

/// A number in decimals; `None` where three do not hold it.
fn exactly(value: Rational) -> Option<String> {
    let text = decimal(value, 3);
    (number(&text) == Ok(value)).then_some(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn has(text: &str, system: System, other: &str) {
        let all = meant(text, system);
        assert!(all.iter().any(|meant| meant == other), "{text}: {all:?}");
    }

    #[test]
    fn the_slips_of_a_tired_person_are_undone() {
        has("32/23\"", System::Inch, "23/32\"");
        has("1 1/8\"", System::Inch, "1/8\"");
        has("177mm", System::Metric, "17.7mm");
        has("1302 1/2\"", System::Inch, "130 1/4\"");
        has("5 h", System::Inch, "5 min");
        has("7'", System::Inch, "7\"");
        has("84\"", System::Inch, "84'");
        has("31 5/16\"", System::Inch, "13 5/16\"");
        has("118\"", System::Inch, "18\"");
        has("2100\"", System::Metric, "2100mm");
        has("6800 USD", System::Inch, "68 USD");
        has("20", System::Inch, "20 %");
        assert!(one_figure("1884mm").contains(&"1984mm".to_owned()));
        assert!(!one_figure("94 1/4\"").iter().any(|other| other.starts_with('0')));
    }

    #[test]
    fn a_literal_is_read_as_the_language_reads_it() {
        let inch = |over, under| literal(&format!("{over}/{under}\"")).unwrap();
        assert_eq!(literal("11 13/16\"").unwrap(), inch(189, 16));
        assert_eq!(literal("0.95e6 psi").unwrap(), literal("950000 psi").unwrap());
        assert_eq!(literal("2 ft").unwrap(), literal("24\"").unwrap());
        assert_eq!(literal("7' 3\""), None);
        assert_eq!(literal("rest"), None);
    }
}
