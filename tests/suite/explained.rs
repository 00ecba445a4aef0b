//! Every code: unique, told apart, and its examples give what they promise.

use crate::{compiled_text, files_under};
use scantling::compile::codes;
use std::collections::BTreeSet;

#[test]
fn codes_and_slugs_are_unique_and_well_formed() {
    let mut seen = BTreeSet::new();
    for code in codes() {
        assert!(seen.insert(code.id) && seen.insert(code.slug), "{} {} stands twice", code.id, code.slug);
        let (letter, number) = code.id.split_at(1);
        assert!(
            "SNVLCD".contains(letter) && number.len() == 3 && number.parse::<u16>().is_ok(),
            "{}",
            code.id
        );
        assert!(code.slug.chars().all(|c| c.is_ascii_lowercase() || c == '_'), "{}", code.slug);
        assert!(!code.title.ends_with('.') && code.explanation.ends_with('.'), "{}", code.id);
    }
    assert!(seen.len() >= 80);
}

/// A code that the list does not have can be given, but not explained and not accepted.
#[test]
fn the_list_has_every_code_that_is_declared() {
    let listed: BTreeSet<String> = codes().map(|code| code.id.to_owned()).collect();
    let mut declared = BTreeSet::new();
    for path in files_under("src", ".rs") {
        let text = std::fs::read_to_string(&path).unwrap();
        for piece in text.split("\ncode!(").skip(1) {
            declared.insert(piece.split('"').nth(1).unwrap().to_owned());
        }
    }
    assert_eq!(listed, declared);
}

#[test]
fn each_bad_example_gives_exactly_its_code_and_each_good_one_nothing_worse_than_nothing_to_build() {
    for code in codes() {
        let Some(example) = &code.example else { continue };
        let ids = |text: &str| -> Vec<&str> {
            let compilation = compiled_text(text);
            let told = compilation.diagnostics.iter().map(|diagnostic| diagnostic.code.id);
            // A fragment without a carcass says so; that is not what the example is about.
            told.filter(|id| *id != "L009").collect()
        };
        assert_eq!(ids(example.bad), [code.id], "the bad example of {}", code.id);
        assert_eq!(ids(example.good), [""; 0], "the good example of {}", code.id);
    }
}
