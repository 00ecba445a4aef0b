//! The lists of words of the language, by the program's own tables and its grammar.

use super::read;
use scantling::quantity::all_words;
use scantling::resolve::{KINDS, LOADS, Naming, Takes};
use std::collections::BTreeSet;

/// What is coloured like a kind: `module` declares, as the kinds do.
const LIKE_A_KIND: &str = "module";

/// The words between quotes in a piece of the grammar.
fn quoted(piece: &str) -> impl Iterator<Item = String> {
    piece.split('"').skip(1).step_by(2).map(str::to_owned)
}

/// The words that cannot be names, as the grammar has them.
pub fn reserved() -> BTreeSet<String> {
    let grammar = read("grammar/scantling.pest");
    let line = grammar.lines().find(|line| line.starts_with("reserved ")).unwrap();
    quoted(line).collect()
}

/// The words that begin a statement or a part of one, as the grammar has them: what stands before `!word_char`.
pub fn statements() -> BTreeSet<String> {
    let grammar = read("grammar/scantling.pest");
    let words = grammar.lines().filter(|line| line.starts_with("word_") && line.ends_with("~ !word_char }"));
    let words: BTreeSet<String> = words.flat_map(quoted).collect();
    words.difference(&reserved()).filter(|word| *word != LIKE_A_KIND).cloned().collect()
}

/// A list of words by its name in the files.
pub fn words(list: &str) -> BTreeSet<String> {
    let owned = |words: &[&str]| words.iter().map(|&word| word.to_owned()).collect::<Vec<_>>();
    let properties = || KINDS.iter().flat_map(|kind| kind.properties);
    match list {
        "kinds" => KINDS.iter().map(|kind| kind.word).chain([LIKE_A_KIND]).map(str::to_owned).collect(),
        "properties" => properties().map(|property| property.name.to_owned()).collect(),
        "choices" => {
            let taken = properties().flat_map(|property| match property.takes {
                Takes::Choice(words) | Takes::Choices(words) => owned(words),
                Takes::Load => owned(LOADS),
                _ => Vec::new(),
            });
            let names = KINDS.iter().flat_map(|kind| match kind.naming {
                Naming::OneOf(words) => owned(words),
                _ => Vec::new(),
            });
            taken.chain(names).collect()
        }
        "units" => all_words().map(str::to_owned).collect(),
        "statements" => statements(),
        "constants" => owned(&["false", "rest", "true"]).into_iter().collect(),
        "conditionals" => owned(&["else", "if", "then"]).into_iter().collect(),
        "operators" => reserved()
            .into_iter()
            .filter(|w| !words("constants").contains(w) && !words("conditionals").contains(w))
            .collect(),
        _ => panic!("there is no list of {list}"),
    }
}
