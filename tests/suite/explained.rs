//! Every code: unique, told apart, and its examples give what they promise.

use crate::{compiled_text, files_under};
use scantling::check::CHECKS;
use scantling::compile::codes;
use scantling::diag::Severity;
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
    let mut wrong = Vec::new();
    for code in codes() {
        let Some(example) = &code.example else { continue };
        let ids = |text: &str| -> Vec<&str> {
            let compilation = compiled_text(text);
            let told = compilation.diagnostics.iter().map(|diagnostic| diagnostic.code.id);
            // A fragment without a carcass says so; that is not what the example is about.
            told.filter(|id| *id != "L009").collect()
        };
        let told = [ids(example.bad), ids(example.good)];
        if told != [vec![code.id], Vec::new()] {
            wrong.push((code.id, told));
        }
    }
    assert_eq!(wrong, []);
}

/// A text that no code includes is read by nobody.
#[test]
fn each_example_on_the_disk_belongs_to_a_code() {
    let named = codes().filter(|code| code.example.is_some());
    let expected: BTreeSet<String> =
        named.flat_map(|code| ["bad", "good"].map(|which| format!("{}.{which}.scant", code.slug))).collect();
    let files = files_under("src", ".scant").into_iter();
    let files =
        files.filter(|path| path.parent().is_some_and(|folder| folder.file_name() == Some("examples")));
    let there: BTreeSet<String> = files.map(|path| path.file_name().unwrap().to_owned()).collect();
    assert_eq!(there, expected);
}

/// Every warning and note of the checks is taken by its name, and then nothing else is told.
#[test]
fn each_warning_of_a_check_is_taken_by_its_name() {
    let codes = CHECKS.iter().flat_map(|check| check.codes);
    let mut taken = 0;
    for code in codes.filter(|code| code.severity != Severity::Error) {
        let bad = code.example.as_ref().unwrap().bad;
        let told = compiled_text(&format!("{bad}accept {} because \"it is known\"\n", code.slug)).diagnostics;
        let told: Vec<&str> = told.iter().map(|diagnostic| diagnostic.code.id).collect();
        assert_eq!(told, [""; 0], "{}", code.slug);
        taken += 1;
    }
    assert!(taken >= 25);
}

/// Every check has an example on both sides.
#[test]
fn each_check_has_both_examples() {
    for code in CHECKS.iter().flat_map(|check| check.codes) {
        let example = code.example.as_ref().unwrap_or_else(|| panic!("{} has no example", code.id));
        assert!(!example.bad.is_empty() && !example.good.is_empty(), "{}", code.id);
    }
}

/// How a page says where its numbers, or the rule that it is about, come from: a class of source, or a published document.
const SOURCES: [&str; 16] = [
    "common practice, no source",
    "from memory",
    "arithmetic",
    "geometry",
    "Architectural Woodwork Standards 2009",
    "Wood Handbook, FPL-GTR-190, Table",
    "Wood Handbook, FPL-GTR-282, Eq.",
    "2012 Texas Accessibility Standards",
    "NAHB Residential Construction Performance Guidelines",
    "NDS 3.5.2",
    "PS 1-19",
    "IRC R",
    "NEC 210.52",
    "NEC 314.20",
    "16 CFR 1261",
    "40 CFR 745",
];

/// Every page of a check says where its numbers come from; so does every other page with a length, a weight or a share in it.
#[test]
fn each_page_says_where_its_numbers_come_from() {
    let checks: BTreeSet<&str> = CHECKS.iter().flat_map(|check| check.codes).map(|code| code.id).collect();
    let mut used = BTreeSet::new();
    let mut without = Vec::new();
    for code in codes() {
        // What stands in backticks is what somebody writes, not what is claimed.
        let said: String = code.explanation.split('`').step_by(2).collect();
        let words: Vec<&str> = said.split([' ', ',', '.', ';', ':', '(', ')']).collect();
        let claims = words.windows(2).any(|pair| {
            pair[0].ends_with(|c: char| c.is_ascii_digit())
                && ["in", "ft", "mm", "m", "lb", "kg", "%", "per", "deg"].contains(&pair[1])
        });
        let named: Vec<&str> =
            SOURCES.into_iter().filter(|source| code.explanation.contains(source)).collect();
        if (checks.contains(code.id) || claims) && named.is_empty() {
            without.push((code.id, code.explanation));
        }
        used.extend(named);
    }
    assert_eq!(without, []);
    assert_eq!(used, BTreeSet::from(SOURCES), "a source that no page names");
}
