//! What is written about the project is true: commands and texts of the pages, examples of the reference, links.

mod page;

use crate::command_line::scantling;
use crate::generated::{self, read};
use crate::{compiled_text, files_under, root};
use camino::{Utf8Path, Utf8PathBuf};
use page::{blocks, follow};
use scantling::compile::compile;
use scantling::diag::Severity;
use scantling::pages::PLACES;
use scantling::sheets::SHEETS;
use scantling::source::DiskFiles;
use scantling::views::VIEWS;
use std::process::Command;

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

/// A folder as a clone of the repository has it.
fn clone() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    let copied = Command::new("cp")
        .arg("-r")
        .args(["examples", "tests", "grammar"].map(|folder| root().join(folder)))
        .arg(home.path())
        .status();
    assert!(copied.unwrap().success());
    home
}

/// Every text of a page is typed, every command is run, and what stands under it is what it prints.
#[test]
fn what_the_pages_show_is_what_happens() {
    for (path, run, typed) in [("README.md", 6, 0), ("grammar/GUIDE.md", 35, 8)] {
        let home = clone();
        let done = follow(&read(path), home.path().try_into().unwrap());
        assert!(done.run >= run && done.typed >= typed, "{path} has lost commands: {done:?}");
    }
}

/// A page that is no longer true fails, whatever differs.
#[test]
fn a_stale_page_fails() {
    const SOUND: &str = "```scant a/b.scant\nlet low = 3\"\n```\n```console\n$ cd a\n$ cat b.scant\nlet low = 3\"\n$ ls\n...\n```\n\
        ```scant from b.scant\nlet low = 3\"\n```\n```diff b.scant\n-let low = 3\"\n+let low = 4\"\n```\n```sh\ngrep -q 4 b.scant\n```\n";
    let fails = |page: &str| {
        let home = tempfile::tempdir().unwrap();
        let home: Utf8PathBuf = home.path().to_owned().try_into().unwrap();
        std::panic::catch_unwind(|| follow(page, &home)).is_err()
    };
    assert!(!fails(SOUND));
    for (from, to) in [
        ("let low = 3\"\n$ ls", "let low = 2\"\n$ ls"),
        ("let low = 3\"\n$ ls", "$ ls"),
        ("let low = 3\"\n$ ls", "let low = 3\"\nmore\n$ ls"),
        ("$ ls\n...", "$ ls"),
        ("$ ls\n...", "c.scant\n..."),
        ("from b.scant\nlet low", "from b.scant\nlet high"),
        ("-let low", "-let high"),
        ("grep -q 4", "grep -q 3"),
        ("```sh", "```bash"),
    ] {
        assert!(fails(&SOUND.replace(from, to)), "{from} -> {to}");
    }
}

/// The first wall needs nothing but the program: it is built in an empty folder.
#[test]
fn the_first_wall_is_built_as_its_page_says() {
    let home = tempfile::tempdir().unwrap();
    let home: &Utf8Path = home.path().try_into().unwrap();
    let done = follow(&read("grammar/FIRST_WALL.md"), home);
    assert!(done.run >= 12 && done.typed >= 5, "{done:?}");
    // What the reader has at the end is sound, in canonical form, and what was read on the wall.
    let text = std::fs::read_to_string(home.join("recess/project.scant")).unwrap();
    assert_eq!(scantling::format::format(&text).unwrap().text, text);
    let compilation = compile(&DiskFiles, &home.join("recess/project.scant")).unwrap();
    assert!(compilation.diagnostics.is_empty(), "{:#?}", compilation.diagnostics);
    // 28 1/16 is the tightest reading, two gaps of 3/8 leave 27 5/16, to 1/8 up: 27 3/8; less the sides, cut from 23/32,
    // and with two dados of 1/4: 26 7/16.
    let shelf = compilation.graph.parts.iter().find(|part| part.path == "wall.case.shelf.towels").unwrap();
    assert_eq!(shelf.size.length.value, crate::inch("26 7/16"));
}

/// The commands of the examples are run in their folders.
#[test]
fn the_examples_say_commands_that_succeed() {
    let home = clone();
    let mut run = 0;
    for path in files_under("examples", "README.md") {
        let page = std::fs::read_to_string(&path).unwrap();
        let folder = path.parent().unwrap().strip_prefix(root()).unwrap();
        run += follow(&page, &Utf8Path::from_path(home.path()).unwrap().join(folder)).run;
    }
    assert!(run >= 12, "the examples have lost commands: {run}");
}

/// A page is read to its end only if it is short.
#[test]
fn pages_stay_short() {
    let readme = read("README.md").len();
    assert!((6_000..=8_000).contains(&readme), "README.md has {readme} bytes");
    let words = read("grammar/FIRST_WALL.md").split_whitespace().count();
    assert!(words <= 2_000, "grammar/FIRST_WALL.md has {words} words");
}

#[test]
fn the_readme_names_every_sheet_once() {
    let readme = read("README.md");
    for sheet in SHEETS {
        assert_eq!(readme.matches(&format!("\n| `{}` | ", sheet.name)).count(), 1, "{}", sheet.name);
    }
}

/// The wall in the README is the one that the program draws.
#[test]
fn the_picture_of_the_readme_is_what_the_program_draws() {
    let picture = "examples/sewing-room/elevation.svg";
    assert!(read("README.md").contains(&format!("]({picture})")));
    let example = "examples/sewing-room/sewing_room.scant";
    let (status, drawn, _) = scantling(&["show", "elevation", example, "--format", "svg"]);
    assert_eq!(status, 0);
    assert!(
        read(picture) == drawn,
        "{picture} is stale: `scantling show elevation {example} --format svg > {picture}`"
    );
}

/// The README lists them, the guide says what each has.
#[test]
fn the_guide_says_what_every_place_has() {
    let (readme, guide) = (read("README.md"), read("grammar/GUIDE.md"));
    for place in PLACES {
        assert!(readme.contains(&format!("`{}`", place.name)), "{}", place.name);
        assert_eq!(guide.matches(&format!("\n| `{}` | ", place.name)).count(), 1, "{}", place.name);
    }
}

/// The README lists them, the guide says what each shows.
#[test]
fn the_guide_says_what_every_view_shows() {
    let (readme, guide) = (read("README.md"), read("grammar/GUIDE.md"));
    for view in VIEWS {
        assert!(readme.contains(&format!("`{}`", view.name)), "{}", view.name);
        assert_eq!(guide.matches(&format!("\n| `{}` | ", view.name)).count(), 1, "{}", view.name);
    }
}

/// A command in a sentence, such as `scantling check --fix FILE`, is one that there is, with options that it has.
#[test]
fn commands_in_sentences_exist() {
    let mut count = 0;
    for path in ["README.md", "grammar/GUIDE.md", "grammar/FIRST_WALL.md", "grammar/REFERENCE.md"] {
        let text = prose(&read(path)).replace('\n', " ");
        for span in text.split('`').skip(1).step_by(2) {
            let Some(words) = span.strip_prefix("scantling ") else { continue };
            let words: Vec<&str> = words.split_whitespace().collect();
            let named = words[0].starts_with(|c: char| c.is_ascii_lowercase());
            let command: &[&str] = if named { &words[..1] } else { &[] };
            let help =
                assert_cmd::Command::cargo_bin("scantling").unwrap().args(command).arg("--help").output();
            let help = help.unwrap();
            let printed = String::from_utf8(help.stdout).unwrap();
            assert!(help.status.success(), "{path}: `{span}`");
            for option in words.iter().filter(|word| word.starts_with("--")) {
                assert!(printed.contains(&format!(" {option}")), "{path}: `{span}` has no {option}");
            }
            count += 1;
        }
    }
    assert!(count >= 20, "{count}");
}

/// Every link between the documents leads to a file, and to a heading in it where it names one.
#[test]
fn links_lead_somewhere() {
    let mut count = 0;
    for path in ["README.md", "DEVELOPERS.md"].map(|name| root().join(name)).into_iter().chain(documents()) {
        let text = prose(&std::fs::read_to_string(&path).unwrap());
        for link in text.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            if link.starts_with("https://") {
                continue;
            }
            let (file, heading) = link.split_once('#').map_or((link, None), |(file, at)| (file, Some(at)));
            let target = if file.is_empty() { path.clone() } else { path.parent().unwrap().join(file) };
            assert!(target.exists(), "{path}: {link}");
            if let Some(heading) = heading {
                let there = anchors(&std::fs::read_to_string(&target).unwrap());
                assert!(there.iter().any(|anchor| anchor == heading), "{path}: {link} is none of {there:?}");
            }
            count += 1;
        }
    }
    assert!(count >= 60, "{count}");
}

/// All documents in the folders of the repository.
fn documents() -> impl Iterator<Item = Utf8PathBuf> {
    ["grammar", "examples", "tests", "editors"].into_iter().flat_map(|folder| files_under(folder, ".md"))
}

/// A document without its fenced blocks.
fn prose(text: &str) -> String {
    text.split("\n```").step_by(2).collect()
}

/// What its headings are called in a link: small letters, hyphens for spaces, without signs.
fn anchors(text: &str) -> Vec<String> {
    let prose = prose(text);
    let headings = prose.lines().filter(|line| line.starts_with('#'));
    let anchor = |line: &str| {
        let title = line.trim_start_matches('#').trim().to_lowercase();
        let kept = title.chars().filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'));
        kept.collect::<String>().replace(' ', "-")
    };
    headings.map(anchor).collect()
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
