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
            let exponent = matches!(c, 'e' | 'E')
                && chars.peek().is_some_and(|(_, next)| next.is_ascii_digit() || matches!(next, '+' | '-'));
            let sign = matches!(c, '+' | '-') && end > 0;
            if !exponent && !sign && !matches!(c, '0'..='9' | '.' | '/' | ' ' | '\t') {
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
        let turned = Fraction { over: under, under: over };
        if turned.is_proper() {
            all.push(written.with(&Parts { fraction: Some(turned), ..parts }.text()));
        }
    }
    all.extend(spaced(text));
    let [near, far] = units(&written, system);
    all.extend(near);
    all.extend(tenfold(&written, &parts, system));
    all.extend(far);
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
    // 12 for 1/2, 118 for 1 1/8
    if system == System::Inch && parts.fraction.is_none() && plain(written.unit) == "in" {
        let figures = parts.whole;
        for over in 0..figures.len() {
            for under in over + 1..figures.len() {
                let (Some(whole), Some(rest), Some(below)) =
                    (figures.get(..over), figures.get(over..under), figures.get(under..))
                else {
                    continue;
                };
                let fraction = Fraction { over: rest, under: below };
                if fraction.is_of_a_tape() {
                    all.push(written.with(&Parts { whole, fraction: Some(fraction), decimals: "" }.text()));
                }
            }
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

/// `11/2"` for `1 1/2"`: what a fraction of more than one may be that has lost its space.
pub(super) fn lost_space(text: &str) -> Vec<String> {
    let number = Written::of(text).map(|written| written.number).unwrap_or_default();
    match Parts::of(number) {
        Parts { whole: "", fraction: Some(fraction), .. } if !fraction.is_proper() => spaced(text),
        _ => Vec::new(),
    }
}

/// A fraction with its first figures as a whole number before it.
fn spaced(text: &str) -> Vec<String> {
    let Some(written) = Written::of(text) else { return Vec::new() };
    let Parts { whole: "", fraction: Some(Fraction { over, under }), .. } = Parts::of(written.number) else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for at in 1..over.len() {
        let Some((whole, over)) = over.split_at_checked(at) else { continue };
        let fraction = Fraction { over, under };
        if fraction.is_of_a_tape() {
            all.push(written.with(&Parts { whole, fraction: Some(fraction), decimals: "" }.text()));
        }
    }
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

impl Fraction<'_> {
    fn figures(self) -> Option<(u32, u32)> {
        let real = |text: &str| text.parse().ok().filter(|_| !text.starts_with('0'));
        Some((real(self.over)?, real(self.under)?))
    }

    /// Whether it is less than one.
    fn is_proper(self) -> bool {
        self.figures().is_some_and(|(over, under)| over < under)
    }

    /// Whether a tape shows it: less than one, in lowest terms, of halves down to sixty-fourths.
    fn is_of_a_tape(self) -> bool {
        self.is_proper()
            && self
                .figures()
                .is_some_and(|(over, under)| over % 2 == 1 && under.is_power_of_two() && under <= 64)
    }
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

/// The same number of another unit: those that are taken for each other, then those of the same system.
fn units(written: &Written<'_>, system: System) -> [Vec<String>; 2] {
    let Written { number, blank, unit: word } = written;
    let (near, far): (&[&str], &[&str]) = match (plain(word), system) {
        // Nobody states parts of a foot in decimals.
        ("in", System::Inch) if number.contains('.') => (&[], &[]),
        ("in", System::Inch) => (&["'"], &[]),
        ("ft", System::Inch) => (&["\""], &[]),
        ("mm" | "cm", System::Inch) => (&["\""], &[]),
        ("m", System::Inch) => (&["'"], &[]),
        ("in", System::Metric) => (&["mm"], &["cm"]),
        ("ft", System::Metric) => (&["mm", "m"], &[]),
        ("mm", System::Metric) => (&[], &["cm", "m"]),
        ("cm", System::Metric) => (&["mm"], &["m"]),
        ("m", System::Metric) => (&["mm"], &["cm"]),
        ("s", _) => (&["min"], &[]),
        ("min", _) => (&["s", "h", "days"], &[]),
        ("h", _) => (&["min", "days"], &[]),
        ("day" | "days", _) => (&["h"], &[]),
        ("lb/ft3", _) => (&["kg/m3"], &[]),
        ("kg/m3", _) => (&["lb/ft3"], &[]),
        ("psi", _) => (&["MPa"], &[]),
        ("MPa", _) => (&["GPa", "psi"], &[]),
        ("GPa", _) => (&["MPa"], &[]),
        ("ft2/gal", _) => (&["m2/L"], &[]),
        ("m2/L", _) => (&["ft2/gal"], &[]),
        ("L", _) => (&["ml"], &[]),
        ("ml", _) => (&["L"], &[]),
        ("gal", _) => (&["qt", "floz"], &[]),
        ("qt", _) => (&["gal", "floz"], &[]),
        ("floz", _) => (&["gal", "ml"], &[]),
        ("kg", _) => (&["lb"], &[]),
        ("lb", _) => (&["kg"], &[]),
        ("", _) => return [vec![format!("{number} %")], Vec::new()],
        _ => (&[], &[]),
    };
    // A unit of letters stands apart from its number where the other one did.
    let other = |other: &&str| match *other {
        "\"" | "'" => format!("{number}{other}"),
        other => {
            format!("{number}{}{other}", if blank.is_empty() && !is_close(other) { " " } else { *blank })
        }
    };
    [near, far].map(|words| words.iter().map(other).collect())
}

/// Whether a unit stands close to its number as the formatter writes it.
fn is_close(word: &str) -> bool {
    matches!(word, "mm" | "cm" | "m")
}

/// A tenth, ten times and a hundredth of it, where a person could have written that.
fn tenfold(written: &Written<'_>, parts: &Parts<'_>, system: System) -> Vec<String> {
    let Ok(value) = number(written.number) else { return Vec::new() };
    let inches = matches!(plain(written.unit), "in") && system == System::Inch;
    // A lost point makes a price a hundred times as much.
    let money = written.unit.starts_with(|c: char| c.is_ascii_uppercase()) && written.unit.len() > 2;
    let hundred = [(1, 100), (100, 1), (1, 10), (10, 1)];
    let ten = [(1, 10), (10, 1), (1, 100), (100, 1)];
    let times = if money { hundred } else { ten };
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
        has("118\"", System::Inch, "1 1/8\"");
        has("12\"", System::Inch, "1/2\"");
        has("101/2\"", System::Inch, "10 1/2\"");
        has("1.77mm", System::Metric, "17.7mm");
        has("0.74 USD", System::Inch, "74 USD");
        has("2100\"", System::Metric, "2100mm");
        has("6800 USD", System::Inch, "68 USD");
        has("20", System::Inch, "20 %");
        assert!(!meant("1 1/2\"", System::Inch).contains(&"1 2/1\"".to_owned()));
        assert_eq!(lost_space("13/4\""), ["1 3/4\""]);
        assert_eq!(lost_space("501/16\""), ["50 1/16\""]);
        // 13/16 is a mark of the tape, 3/2 has no figure to lose, 1 2/4 is in no tape's words.
        let none: [Vec<String>; 3] = Default::default();
        assert_eq!(["13/16\"", "3/2\"", "12/4\""].map(lost_space), none);
        assert!(one_figure("1884mm").contains(&"1984mm".to_owned()));
        assert!(!one_figure("94 1/4\"").iter().any(|other| other.starts_with('0')));
    }

    #[test]
    fn a_literal_is_read_as_the_language_reads_it() {
        let inch = |over, under| literal(&format!("{over}/{under}\"")).unwrap();
        assert_eq!(literal("11 13/16\"").unwrap(), inch(189, 16));
        assert_eq!(literal("0.95e6 psi").unwrap(), literal("950000 psi").unwrap());
        assert_eq!(literal("2 ft").unwrap(), literal("24\"").unwrap());
        assert_eq!(literal("5e-3 m").unwrap(), literal("5mm").unwrap());
        assert_eq!(literal("6-1/2\""), None);
        assert_eq!(literal("7' 3\""), None);
        assert_eq!(literal("rest"), None);
    }
}
