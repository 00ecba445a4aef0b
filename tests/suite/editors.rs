//! The files for editors: their lists of words are those of the program, and they colour and read real texts.

mod textmate;
mod tree;

use crate::generated::read;
use crate::generated::words::{statements, words};
use scantling::syntax::STATEMENTS;
use std::collections::BTreeSet;

#[test]
fn every_list_holds_what_it_should() {
    let has = |list: &str, word: &str| assert!(words(list).contains(word), "{word} is not in {list}");
    has("kinds", "carcass");
    has("kinds", "ceiling_panel");
    has("properties", "bottom_rail");
    has("choices", "to_floor");
    has("choices", "middle");
    has("choices", "books");
    has("units", "ft2");
    has("statements", "because");
    has("operators", "of");
    assert_eq!(
        statements().into_iter().collect::<Vec<_>>(),
        ["accept", "as", "because", "each", "join", "let", "measured", "param", "require", "use", "with"],
        "the grammar has another statement: give it its colour and its rule in `editors`"
    );
}

/// The table of statements has the words that begin one in the grammar, and no others.
#[test]
fn statements_are_those_of_the_grammar() {
    let mut grammar = statements();
    grammar.insert("module".to_owned());
    for inside in ["as", "because", "with"] {
        assert!(grammar.remove(inside), "`{inside}` has gone from the grammar");
    }
    let table: BTreeSet<String> = STATEMENTS.iter().map(|statement| statement.word.to_owned()).collect();
    assert_eq!(table, grammar);
}

#[test]
fn the_package_names_files_that_exist() {
    let package: serde_json::Value = serde_json::from_str(&read("editors/vscode/package.json")).unwrap();
    let contributes = &package["contributes"];
    assert_eq!(contributes["languages"][0]["extensions"], serde_json::json!([".scant"]));
    assert_eq!(contributes["grammars"][0]["language"], contributes["languages"][0]["id"]);
    for path in [&contributes["languages"][0]["configuration"], &contributes["grammars"][0]["path"]] {
        let text = read(&format!("editors/vscode/{}", path.as_str().unwrap()));
        assert!(serde_json::from_str::<serde_json::Value>(&text).unwrap().is_object());
    }
}

/// The pattern with which the editor finds messages finds them in what the program prints.
#[test]
fn the_problem_matcher_reads_the_short_form() {
    let package: serde_json::Value = serde_json::from_str(&read("editors/vscode/package.json")).unwrap();
    let pattern = package["contributes"]["problemMatchers"][0]["pattern"]["regexp"].as_str().unwrap();
    let pattern = fancy_regex::Regex::new(pattern).unwrap();
    let compilation = crate::compiled("tests/corpus/units.scant");
    let told = crate::corpus::drawn(&compilation, scantling::report::Form::Short);
    let found: Vec<_> = told.lines().filter_map(|line| pattern.captures(line).unwrap()).collect();
    assert_eq!(found.len(), 5, "{told}");
    assert_eq!((&found[0][2], &found[0][3], &found[0][4], &found[0][5]), ("1", "11", "error", "S008"));
    assert_eq!(&found[0][6], "`inch` is not a unit");
}
