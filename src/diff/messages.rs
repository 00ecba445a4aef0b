//! Warnings and notes that come or go.

use super::Side;
use super::pair::Pairs;
use crate::diag::Severity;
use crate::parts::{Figure, Finding};
use crate::quantity::{Marks, Round, to_f64};
use serde::Serialize;
use std::collections::BTreeMap;

/// A warning or note that only one side has.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct MessageChange {
    /// Whether it is new, or goes.
    pub comes: bool,
    /// The slug of the message.
    pub slug: &'static str,
    /// Its headline.
    pub message: String,
}

/// What is told: as it is compared, with its names on the new side, and as it is printed.
type Told = BTreeMap<(&'static str, String), [String; 2]>;

/// What only one side tells: what is renamed is called by its new name, and a figure that moved by less than it is printed to is the
/// same.
pub(super) fn messages(old: Side<'_>, new: Side<'_>, pairs: &Pairs) -> Vec<MessageChange> {
    let told = |side: Side<'_>, name: &dyn Fn(&str) -> String| -> Told {
        let open = side.diagnostics.iter().filter(|diagnostic| diagnostic.severity != Severity::Error);
        let entry = |message: &str| {
            let named = named(message, name);
            (named.replace('~', ""), [named, message.to_owned()])
        };
        let all = open.map(|told| (told.code.slug, entry(&told.message)));
        all.map(|(slug, (key, texts))| ((slug, key), texts)).collect()
    };
    let (mut was, mut is) = (told(old, &|path| pairs.renamed(path)), told(new, &str::to_owned));
    let both: Vec<_> = was.keys().filter(|key| is.contains_key(*key)).cloned().collect();
    for key in both {
        was.remove(&key);
        is.remove(&key);
    }
    let near = was.iter().filter_map(|((slug, key), [before, _])| {
        let alike = |((other, _), [now, _]): &(&(&'static str, String), &[String; 2])| {
            other == slug && words(before) == words(now) && printed_near(before, now, new.model.project.marks)
        };
        let (now, _) = is.iter().find(alike).filter(|_| !moved(old, new, slug, pairs))?;
        Some(((*slug, key.clone()), now.clone()))
    });
    for (before, now) in near.collect::<Vec<_>>() {
        was.remove(&before);
        is.remove(&now);
    }
    let change = |comes| {
        move |((slug, _), [_, message]): ((&'static str, String), [String; 2])| MessageChange {
            comes,
            slug,
            message,
        }
    };
    let mut changes: Vec<MessageChange> = is.into_iter().map(change(true)).collect();
    changes.extend(was.into_iter().map(change(false)));
    changes
}

/// A message with the paths in it, which stand between backticks, by other names.
fn named(message: &str, name: &dyn Fn(&str) -> String) -> String {
    let steps = message.split('`').enumerate();
    let steps = steps.map(|(place, text)| if place % 2 == 1 { name(text) } else { text.to_owned() });
    steps.collect::<Vec<_>>().join("`")
}

/// The words of a message without estimates and lengths; counts stay.
fn words(message: &str) -> Vec<&str> {
    parted(message).into_iter().filter(|(_, is_figure)| !is_figure).map(|(word, _)| word).collect()
}

/// Whether the figures of two messages are no further apart than rounding can make them: one step of what is printed.
fn printed_near(was: &str, is: &str, marks: Marks) -> bool {
    let (was, is) = (figures(was, marks), figures(is, marks));
    let near = |((was, step), (is, _)): (&(f64, f64), &(f64, f64))| (was - is).abs() < 1.5 * step;
    was.len() == is.len() && was.iter().zip(&is).all(near)
}

/// The figures of a message, each with the step that it is printed to: of a length the marks, of an estimate its last place.
fn figures(message: &str, marks: Marks) -> Vec<(f64, f64)> {
    let step = |unit: i128| to_f64(marks.step().mm()) / (unit as f64 / 10.0);
    let all = parted(message);
    let mut figures = Vec::new();
    let mut whole = 0.0;
    for (place, (word, _)) in all.iter().enumerate().filter(|(_, (_, is_figure))| *is_figure) {
        let number = word.trim_matches(|sign: char| !sign.is_ascii_digit());
        let next = all.get(place + 1).map_or("", |(next, _)| *next);
        let is_inch = |word: &str| word.trim_end_matches([',', '.', ':', ';']).ends_with('"');
        let Some(value) = fraction(number) else { continue };
        if !is_inch(word) && is_inch(next) && next.contains('/') {
            whole = value;
            continue;
        }
        let places = number.split('.').nth(1).map_or(0, str::len);
        let own = match (is_inch(word), next.starts_with("mm")) {
            (true, _) => step(254),
            (_, true) => step(10),
            _ => (0..places).fold(1.0, |step, _| step / 10.0),
        };
        figures.push((whole + value, own));
        whole = 0.0;
    }
    figures
}

/// `3/4` or `0.75`.
fn fraction(number: &str) -> Option<f64> {
    match number.split_once('/') {
        Some((over, under)) => Some(over.parse::<f64>().ok()? / under.parse::<f64>().ok()?),
        None => number.parse().ok(),
    }
}

/// The words of a message, and which of them are figures of estimates and lengths.
fn parted(message: &str) -> Vec<(&str, bool)> {
    let all: Vec<&str> = message.split_whitespace().collect();
    let is_whole = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit());
    let ends_inch = |word: &str| {
        word.starts_with(|sign: char| sign.is_ascii_digit())
            && word.trim_end_matches([',', '.', ':', ';']).ends_with('"')
    };
    let figure = |place: usize| {
        let Some(word) = all.get(place) else { return false };
        let next = all.get(place + 1).copied().unwrap_or_default();
        let in_mm = word.starts_with(|sign: char| sign.is_ascii_digit()) && next.starts_with("mm");
        word.starts_with('~') || ends_inch(word) || in_mm || (is_whole(word) && ends_inch(next))
    };
    all.iter().enumerate().map(|(place, word)| (*word, figure(place))).collect()
}

/// Whether a figure that a check found is another as it is printed, by as much as it is printed to; where figures come or go, one is.
fn moved(old: Side<'_>, new: Side<'_>, slug: &str, pairs: &Pairs) -> bool {
    let marks = new.model.project.marks;
    let figures = |side: Side<'_>, name: &dyn Fn(&str) -> String| {
        let own = side.findings.iter().filter(|found| found.code.slug == slug);
        let of = |found: &Finding| ((name(&found.subject), found.what), (found.value, found.limit.figure()));
        own.map(of).collect::<BTreeMap<_, _>>()
    };
    let (was, is) = (figures(old, &|path| pairs.renamed(path)), figures(new, &str::to_owned));
    let same = was.len() == is.len()
        && !was.is_empty()
        && was.iter().all(|(key, (before, limit))| {
            is.get(key).is_some_and(|(now, other)| {
                near(*before, *now, marks)
                    && match (limit, other) {
                        (Some(limit), Some(other)) => near(*limit, *other, marks),
                        (limit, other) => limit.is_none() && other.is_none(),
                    }
            })
        });
    !same
}

/// Whether two figures are apart by less than they are printed to.
fn near(was: Figure, is: Figure, marks: Marks) -> bool {
    if was == is {
        return true;
    }
    if let (Figure::Exact(was), Figure::Exact(is)) = (was, is)
        && let (Some(was), Some(is)) = (was.length(), is.length())
    {
        return was.apart(is).is_some_and(|apart| apart < marks.step());
    }
    let print = was.print(marks, Round::Nearest);
    // `~88.7 lb` is printed to a tenth: what it would be with one more at its end is a whole step away.
    let number: String = print.chars().filter(|sign| sign.is_ascii_digit() || *sign == '.').collect();
    let (Ok(printed), places) = (number.parse::<f64>(), number.split('.').nth(1).map_or(0, str::len)) else {
        return false;
    };
    let step = (0..places).fold(1.0, |step, _| step / 10.0);
    let scale = if printed == 0.0 { 0.0 } else { was.value() / printed };
    (was.value() - is.value()).abs() < (scale * step).abs()
}

#[cfg(test)]
mod tests {
    use super::printed_near;
    use crate::quantity::{Length, Marks, Rational, System};

    #[test]
    fn figures_are_near_by_one_step_of_what_is_printed() {
        let marks =
            |inches: Rational, system| Marks::new(Length::from_inches(inches).unwrap(), system).unwrap();
        let inch = marks(Rational::new(1, 32), System::Inch);
        let mm = marks(Rational::new(1, 254), System::Metric);
        for (was, is, marks, near) in [
            ("79.6 mm are seen, 9 mm apart", "75.6 mm are seen, 9 mm apart", mm, false),
            ("79.6 mm are seen", "79.7 mm are seen", mm, true),
            ("over only 9 3/4\"", "over only 9 25/32\"", inch, true),
            ("over only 9 3/4\"", "over only 10 3/4\"", inch, false),
            ("~88.7 lb at", "~88.8 lb at", inch, true),
            ("~88.7 lb at", "~89.7 lb at", inch, false),
            ("~9 3/4\" of it", "~9 1/4\" of it", inch, false),
        ] {
            assert_eq!(printed_near(was, is, marks), near, "{was} {is}");
        }
    }
}
