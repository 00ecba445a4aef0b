//! What is written about the project is true: the README's commands, and every example of the reference.

use crate::{compiled_text, root};
use assert_cmd::Command;
use scantling::diag::Severity;
use scantling::resolve::{FILE, KINDS, Naming, Takes};

fn read(path: &str) -> String {
    std::fs::read_to_string(root().join(path)).unwrap()
}

/// The fenced blocks of a text with what stands behind their opening fence.
fn blocks(text: &str) -> Vec<(String, String)> {
    let mut blocks = Vec::new();
    let mut open: Option<(String, String)> = None;
    for line in text.lines() {
        match (line.strip_prefix("```"), &mut open) {
            (Some(tag), None) => open = Some((tag.to_owned(), String::new())),
            (Some(_), Some(_)) => blocks.extend(open.take()),
            (None, Some((_, text))) => {
                text.push_str(line);
                text.push('\n');
            }
            (None, None) => {}
        }
    }
    assert_eq!(open, None, "a fence is not closed");
    blocks
}

#[test]
fn every_example_of_the_reference_compiles() {
    let reference = read("grammar/REFERENCE.md");
    let examples: Vec<_> =
        blocks(&reference).into_iter().filter(|(tag, _)| tag.starts_with("scant")).collect();
    assert!(examples.len() >= 10, "the reference has lost examples");
    for (tag, example) in examples {
        let compilation = compiled_text(&example);
        let errors: Vec<_> =
            compilation.diagnostics.iter().filter(|d| d.severity == Severity::Error).collect();
        match tag.strip_prefix("scant error ") {
            None => assert!(errors.is_empty(), "{example}\n{errors:#?}"),
            Some(code) => assert!(
                errors.iter().all(|d| d.code.id == code) && !errors.is_empty(),
                "{example}\n{errors:#?}"
            ),
        }
    }
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

#[test]
fn the_reference_has_every_kind_and_every_property() {
    const BEGIN: &str = "writes them anew -->\n";
    const END: &str = "\n<!-- end of kinds -->";
    let reference = read("grammar/REFERENCE.md");
    let (before, rest) = reference.split_once(BEGIN).unwrap();
    let (_, after) = rest.split_once(END.trim_start()).unwrap();
    let right = format!("{before}{BEGIN}{}{END}{after}", kinds());
    if std::env::var_os("UPDATE_REFERENCE").is_some() {
        std::fs::write(root().join("grammar/REFERENCE.md"), &right).unwrap();
    }
    let same = read("grammar/REFERENCE.md") == right;
    assert!(same, "grammar/REFERENCE.md is stale: run `UPDATE_REFERENCE=1 cargo test reference`");
}

/// Every `$ scantling ...` line of the README is run; what stands under it is what it prints.
#[test]
fn the_readme_shows_what_the_program_prints() {
    let readme = read("README.md");
    let home = tempfile::tempdir().unwrap();
    for folder in ["examples", "tests"] {
        let status =
            std::process::Command::new("cp").arg("-r").arg(root().join(folder)).arg(home.path()).status();
        assert!(status.unwrap().success());
    }
    let mut run = 0;
    for (_, block) in blocks(&readme).into_iter().filter(|(tag, _)| tag == "console") {
        let mut lines = block.lines().peekable();
        while let Some(line) = lines.next() {
            let command = line.strip_prefix("$ scantling ").unwrap_or_else(|| panic!("no command: {line}"));
            let mut shown = String::new();
            while let Some(line) = lines.next_if(|line| !line.starts_with("$ ")) {
                shown.push_str(line);
                shown.push('\n');
            }
            let output = Command::cargo_bin("scantling")
                .unwrap()
                .current_dir(home.path())
                .args(command.split_whitespace())
                .output()
                .unwrap();
            let printed = String::from_utf8([output.stderr, output.stdout].concat()).unwrap();
            // Three dots stand for lines that are left out.
            let pieces: Vec<&str> = shown.split("...\n").collect();
            let mut rest = printed.as_str();
            for (i, piece) in pieces.iter().enumerate() {
                let at =
                    rest.find(piece).unwrap_or_else(|| panic!("{command} prints\n{printed}\nnot\n{piece}"));
                assert!(i > 0 || at == 0, "{command} prints first\n{rest}\nnot\n{piece}");
                rest = &rest[at + piece.len()..];
            }
            assert!(rest.is_empty() || shown.ends_with("...\n"), "{command} also prints\n{rest}");
            run += 1;
        }
    }
    assert!(run >= 6, "the README has lost commands");
}

/// The schema of `show parts --format json` stands in the repository, is made from the types, and holds for the examples.
#[test]
fn the_part_list_keeps_its_schema() {
    const PATH: &str = "grammar/parts.schema.json";
    let schema = serde_json::to_value(schemars::schema_for!(scantling::sheets::PartList)).unwrap();
    let text = format!("{schema:#}\n");
    if std::env::var_os("UPDATE_REFERENCE").is_some() {
        std::fs::write(root().join(PATH), &text).unwrap();
    }
    assert!(read(PATH) == text, "{PATH} is stale: run `UPDATE_REFERENCE=1 cargo test schema`");
    let validator = jsonschema::validator_for(&schema).unwrap();
    for file in [
        "examples/sewing-room/sewing_room.scant",
        "examples/alcove-pair/alcove_pair.scant",
        "examples/back-hall/back_hall.scant",
    ] {
        let list = crate::figures::Figures::of(file).sheet("parts");
        let faults: Vec<String> = validator.iter_errors(&list).map(|fault| fault.to_string()).collect();
        assert_eq!(faults, [""; 0], "{file}");
    }
    let wrong = serde_json::json!({ "project": null, "revision": null, "parts": [{ "path": 3 }] });
    assert!(!validator.is_valid(&wrong));
}
