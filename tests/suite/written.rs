//! What is written about the project is true: the README's commands, and every example of the reference.

use crate::generated::{self, read};
use crate::{compiled_text, root};
use assert_cmd::Command;
use scantling::diag::Severity;

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

/// Every generated file stands in the repository as the program's tables have it.
#[test]
fn generated_files_are_not_stale() {
    for (path, text) in generated::all() {
        if let Some(difference) = generated::difference(&read(path), &text) {
            panic!("{path} is stale: run `{}`\n{difference}", generated::COMMAND);
        }
    }
}

#[test]
fn what_differs_is_named_by_its_line() {
    assert_eq!(generated::difference("a\nb\n", "a\nb\n"), None);
    let told = generated::difference("a\nb\nc\n", "a\nx\nc\n").unwrap();
    assert_eq!(told, "line 2 is\n  b\nand should be\n  x");
    let told = generated::difference("a\n", "a\nb\n").unwrap();
    assert_eq!(told, "line 2 is\n  the end of the file\nand should be\n  b");
    let told = generated::difference("a", "a\n").unwrap();
    assert_eq!(told, "the line ends differ");
}

/// The schema of `show parts --format json` holds for the examples, and not for everything.
#[test]
fn the_part_list_keeps_its_schema() {
    let schema: serde_json::Value = serde_json::from_str(&read("grammar/parts.schema.json")).unwrap();
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
