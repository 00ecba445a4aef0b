//! So many of something, as one says it.

use std::fmt::Display;

/// The plural of a noun of the trade: `sheets`, `shelves`, `boxes`.
#[must_use]
pub fn plural(noun: &str) -> String {
    match (noun.strip_suffix('f'), noun.ends_with('x')) {
        (Some(stem), _) => format!("{stem}ves"),
        (None, true) => format!("{noun}es"),
        (None, false) => format!("{noun}s"),
    }
}

/// `1 sheet`, `3 sheets`.
#[must_use]
pub fn some<N: Display + PartialEq + From<u8>>(count: N, noun: &str) -> String {
    if count == N::from(1) { format!("1 {noun}") } else { format!("{count} {}", plural(noun)) }
}

/// A time in hours and minutes: `16 h`, `1 h 30 min`, `30 min`.
#[must_use]
pub fn hours(minutes: u64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// A time in words: `7 days 22 hours`, `2 hours 30 minutes`; under two days in hours where it is no whole day.
#[must_use]
pub fn spell(minutes: u64) -> String {
    let days = if minutes < 2880 && !minutes.is_multiple_of(1440) { 0 } else { minutes / 1440 };
    let rest = minutes - days * 1440;
    let parts = [(days, "day"), (rest / 60, "hour"), (rest % 60, "minute")];
    let said: Vec<String> =
        parts.into_iter().filter(|(count, _)| *count > 0).map(|(count, word)| some(count, word)).collect();
    if said.is_empty() { some(0_u64, "minute") } else { said.join(" ") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_lose_nothing() {
        assert_eq!([0, 30, 90, 960, 1440].map(hours), ["0 min", "30 min", "1 h 30 min", "16 h", "24 h"]);
        // 30 h are under two days; 7 x 1440 + 22 x 60 = 11 400.
        let said = [0, 1, 150, 1440, 1800, 11_400, 20_160].map(spell);
        assert_eq!(
            said,
            [
                "0 minutes",
                "1 minute",
                "2 hours 30 minutes",
                "1 day",
                "30 hours",
                "7 days 22 hours",
                "14 days"
            ]
        );
    }

    #[test]
    fn nouns_have_their_plurals() {
        let said = [some(1_usize, "shelf"), some(2_u64, "shelf"), some(0_usize, "sheet"), some(3_u64, "box")];
        assert_eq!(said, ["1 shelf", "2 shelves", "0 sheets", "3 boxes"]);
    }
}
