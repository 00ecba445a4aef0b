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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nouns_have_their_plurals() {
        let said = [some(1_usize, "shelf"), some(2_u64, "shelf"), some(0_usize, "sheet"), some(3_u64, "box")];
        assert_eq!(said, ["1 shelf", "2 shelves", "0 sheets", "3 boxes"]);
    }
}
