//! The sections of the reference that are made from the program's tables.

use super::library::entries;
use scantling::check::CHECKS;
use scantling::resolve::{FILE, KINDS, Naming, Takes};

/// The reference with its sections anew.
pub fn file() -> (&'static str, String) {
    const PATH: &str = "grammar/REFERENCE.md";
    let mut text = super::read(PATH);
    for (name, section) in [("kinds", kinds()), ("library", library()), ("checks", checks())] {
        text = filled(&text, name, &section);
    }
    (PATH, text)
}

/// A text with a section anew: what stands between its two marks.
fn filled(text: &str, name: &str, section: &str) -> String {
    let begin = format!("<!-- generated: {name} -->\n");
    let end = format!("<!-- end of {name} -->\n");
    let (before, rest) =
        text.split_once(&begin).unwrap_or_else(|| panic!("the section on {name} has no beginning"));
    let (_, after) = rest.split_once(&end).unwrap_or_else(|| panic!("the section on {name} has no end"));
    format!("{before}{begin}\n{}\n\n{end}{after}", section.trim())
}

/// The section on kinds, as the table of kinds has it.
fn kinds() -> String {
    let code = |words: &[&str]| words.iter().map(|w| format!("`{w}`")).collect::<Vec<_>>().join(", ");
    let mut text = String::new();
    for kind in KINDS {
        let places: Vec<String> = kind
            .within
            .iter()
            .map(|w| if *w == FILE { "a file".to_owned() } else { format!("a `{w}`") })
            .collect();
        let naming = match kind.naming {
            Naming::Needed => "It has a name.".to_owned(),
            Naming::Optional => "It may have a name; without one it is counted.".to_owned(),
            Naming::Alone => "It has no name.".to_owned(),
            Naming::OneOf(words) => format!("Its name is one of {}.", code(words)),
        };
        text.push_str(&format!(
            "\n### `{}`\n\n{}. Stands in {}. {naming}\n",
            kind.word,
            kind.doc,
            places.join(", ")
        ));
        if let Some(open) = kind.open {
            text.push_str(&format!("Its properties are names of your own; each takes {}.\n", takes(open)));
        }
        if !kind.properties.is_empty() {
            text.push_str("\n| property | meaning | takes |\n|---|---|---|\n");
        }
        for property in kind.properties {
            let takes = takes(property.takes);
            text.push_str(&format!("| `{}` | {} | {takes} |\n", property.name, property.doc));
        }
    }
    text
}

fn takes(takes: Takes) -> String {
    let code = |words: &[&str]| words.iter().map(|w| format!("`{w}`")).collect::<Vec<_>>().join(" or ");
    match takes {
        Takes::Quantity(dim) => format!("{dim}, such as `{}`", dim.example().replace(" or ", "` or `")),
        Takes::Count => "a whole number".to_owned(),
        Takes::Share => "a length, or a share of `rest`".to_owned(),
        Takes::Size => "a size, such as `96\" x 48\"`".to_owned(),
        Takes::Text => "a text".to_owned(),
        Takes::Lengths => "a list of lengths; `?` for one that is not read yet".to_owned(),
        Takes::Quantities(dim) => format!("a list; each {dim}, such as `{}`", dim.example()),
        Takes::Price(dims) => {
            let each: Vec<String> =
                dims.iter().map(|dim| format!("{dim}, such as `{}`", dim.example())).collect();
            each.join(", or ")
        }
        Takes::Load => "`books` or `other`, or a weight per length".to_owned(),
        Takes::Members(kind) => format!("a list of names of a `{kind}`"),
        Takes::Date => "a day, such as `2026-03-02` or `2026-03-02 08:00`".to_owned(),
        Takes::Choice(words) => code(words),
        Takes::Choices(words) => format!("{}, or a list of them", code(words)),
        Takes::Member(kind) => format!("the name of a `{kind}`"),
        Takes::Names => "a list of names".to_owned(),
        Takes::Truth => "`true` or `false`".to_owned(),
        Takes::Word | Takes::Any => panic!("only a parameter of a module takes that"),
    }
}

/// The section on the library, as its files have it.
fn library() -> String {
    let entries = entries();
    let mut kinds: Vec<&str> = Vec::new();
    for entry in &entries {
        if !kinds.contains(&entry.kind) {
            kinds.push(entry.kind);
        }
    }
    let code = |values: &[&str]| values.iter().map(|v| format!("`{v}`")).collect::<Vec<_>>().join(", ");
    let mut text = String::new();
    for kind in kinds {
        let of_kind = entries.iter().filter(|entry| entry.kind == kind);
        if kind == "let" {
            let sizes: Vec<&str> = of_kind.flat_map(|entry| entry.values.clone()).collect();
            text.push_str(&format!("\nDressed sizes of boards: {}.\n", code(&sizes)));
            continue;
        }
        text.push_str(&format!("\n| `{kind}` | is | states |\n|---|---|---|\n"));
        for entry in of_kind {
            let values = code(&entry.values);
            text.push_str(&format!("| `{}` | {}: {} | {values} |\n", entry.name, entry.text, entry.doc));
        }
    }
    text
}

/// The index of what is checked.
fn checks() -> String {
    let mut index = String::from("| code | is | name | what is told |\n|---|---|---|---|\n");
    for code in CHECKS.iter().flat_map(|check| check.codes) {
        let severity = code.severity.word();
        index.push_str(&format!("| {} | {severity} | `{}` | {} |\n", code.id, code.slug, code.title));
    }
    index
}
