//! Words as the trade writes them: fractions with their bar, signs of inches and feet.

use std::ops::Range;

/// How a letter stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// On the line.
    OnLine,
    /// Over the bar of a fraction.
    Over,
    /// Under it.
    Under,
}

/// The bar of a fraction.
const BAR: char = '\u{2044}';

/// Words as the trade writes them: a fraction with its bar, signs of inches and feet, names without the marks that messages put
/// around them.
#[must_use]
pub fn typeset(says: &str) -> String {
    set(says).into_iter().map(|(letter, _)| letter).collect()
}

/// Words as they are written, in pieces that stand alike.
#[must_use]
pub fn pieces(says: &str) -> Vec<(Stands, String)> {
    let mut pieces: Vec<(Stands, String)> = Vec::new();
    for (letter, stands) in set(says) {
        match pieces.last_mut() {
            Some((last, piece)) if *last == stands => piece.push(letter),
            _ => pieces.push((stands, letter.to_string())),
        }
    }
    pieces
}

/// The letters of words as they are written, each with how it stands.
pub(super) fn set(says: &str) -> Vec<(char, Stands)> {
    let mut letters: Vec<(char, Stands)> = says.chars().map(|letter| (letter, Stands::OnLine)).collect();
    for place in 0..letters.len() {
        let Some([over, under]) = fraction(&letters, place) else { continue };
        for (range, stands) in
            [(over, Stands::Over), (place..place + 1, Stands::OnLine), (under, Stands::Under)]
        {
            letters.get_mut(range).unwrap_or_default().iter_mut().for_each(|letter| letter.1 = stands);
        }
        if let Some(bar) = letters.get_mut(place) {
            bar.0 = BAR;
        }
    }
    let mut behind_figure = false;
    for (letter, _) in &mut letters {
        let was = std::mem::replace(&mut behind_figure, letter.is_ascii_digit());
        *letter = match *letter {
            '"' if was => '\u{2033}',
            '\'' if was => '\u{2032}',
            own => own,
        };
    }
    letters.retain(|(letter, _)| *letter != '`');
    letters
}

/// The figures on both sides of a stroke, where it is the bar of a fraction: less over it than under it, no nought before either,
/// nothing beside them that makes a date or a name of it.
fn fraction(letters: &[(char, Stands)], bar: usize) -> Option<[Range<usize>; 2]> {
    let at = |place: usize| letters.get(place).map(|(letter, _)| *letter);
    let is_bar = |letter: char| matches!(letter, '/' | BAR);
    let is_figure = |place: &usize| at(*place).is_some_and(|letter| letter.is_ascii_digit());
    at(bar).filter(|letter| is_bar(*letter))?;
    let first = (0..bar).rev().take_while(is_figure).last()?;
    let last = (bar + 1..letters.len()).take_while(is_figure).last()?;
    let (over, under) = (first..bar, bar + 1..last + 1);
    let number = |range: &Range<usize>| -> Option<u32> {
        let figures = letters.get(range.clone())?.iter().map(|(letter, _)| *letter).collect::<String>();
        Some(figures).filter(|figures| !figures.starts_with('0'))?.parse().ok()
    };
    let joins = |letter: char| letter.is_alphanumeric() || is_bar(letter) || matches!(letter, '.' | ',');
    let before = first.checked_sub(1).and_then(at).is_some_and(joins);
    let behind = at(last + 1).is_some_and(is_bar);
    (!before && !behind && number(&over)? < number(&under)?).then_some([over, under])
}

#[cfg(test)]
mod tests {
    use super::{Stands, pieces, set, typeset};

    #[test]
    fn sizes_are_written_as_the_trade_does_and_words_stay() {
        for (says, written) in [
            ("11 13/16\"", "11 13\u{2044}16\u{2033}"),
            ("8' 3 1/2\"", "8\u{2032} 3 1\u{2044}2\u{2033}"),
            ("23/32\" x 96\"", "23\u{2044}32\u{2033} x 96\u{2033}"),
            ("~-3/16\"", "~-3\u{2044}16\u{2033}"),
            ("2 51/128\" (~2.398\")", "2 51\u{2044}128\u{2033} (~2.398\u{2033})"),
            ("cut/trim and \"so\"", "cut/trim and \"so\""),
            (
                "and/or, 3/4/2026, 2026/03, 24/7, 1/02, ply1/2, 1/1",
                "and/or, 3/4/2026, 2026/03, 24/7, 1/02, ply1/2, 1/1",
            ),
            ("18 mm, 1/", "18 mm, 1/"),
            ("5 sheets of `ply`", "5 sheets of ply"),
        ] {
            assert_eq!(typeset(says), written);
            assert_eq!(typeset(written), written, "what is written so stays");
        }
    }

    #[test]
    fn only_the_figures_of_a_fraction_leave_the_line() {
        let stands: Vec<Stands> = set("3 13/16\" 8").into_iter().map(|(_, stands)| stands).collect();
        let [line, over, under] = [Stands::OnLine, Stands::Over, Stands::Under];
        assert_eq!(stands, [line, line, over, over, line, under, under, line, line, line]);
        let says: Vec<(Stands, String)> = pieces("3 13/16\" 8");
        let words = [(line, "3 "), (over, "13"), (line, "\u{2044}"), (under, "16"), (line, "\u{2033} 8")];
        assert_eq!(says, words.map(|(stands, says)| (stands, says.to_owned())));
    }
}
