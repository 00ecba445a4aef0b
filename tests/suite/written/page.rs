//! A page of the documentation, followed as its reader would: what it gives to type is taken from it and written to a file, its
//! commands are run in order, and what it shows is compared with what they print. So it cannot go stale.
//!
//! | fence | is |
//! |---|---|
//! | `console` | commands behind `$ ` and all that they print; `...` stands for lines left out |
//! | `sh` | commands, one a line; all must succeed |
//! | `LANGUAGE FILE` | a text to type: the file, or, where it is there, blocks of the language to put into it |
//! | `diff FILE` | lines to take out of a file, and those to put in their place |
//! | `scant from FILE` | what stands in a file |

use camino::{Utf8Path, Utf8PathBuf};
use std::fs;
use std::process::Command;

/// The fenced blocks of a text with what stands behind their opening fence.
pub(super) fn blocks(text: &str) -> Vec<(String, String)> {
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

/// How many commands were run, and how many texts typed.
#[derive(Debug, Default)]
pub(super) struct Done {
    pub(super) run: usize,
    pub(super) typed: usize,
}

/// Follows a page from `home`.
pub(super) fn follow(page: &str, home: &Utf8Path) -> Done {
    let mut folder = home.to_owned();
    let mut done = Done::default();
    for (tag, text) in blocks(page) {
        let words: Vec<&str> = tag.split(' ').collect();
        match words[..] {
            ["console"] => done.run += console(&text, &mut folder),
            ["sh"] => {
                for command in text.lines() {
                    let (succeeded, printed) = run(command, &folder);
                    assert!(succeeded, "{command} fails\n{printed}");
                    done.run += 1;
                }
            }
            ["scant", "from", file] => {
                let whole = fs::read_to_string(folder.join(file)).unwrap();
                assert!(whole.contains(&text), "{file} has no\n{text}");
            }
            ["diff", file] => {
                change(&text, &folder.join(file));
                done.typed += 1;
            }
            [_, file] => {
                type_in(&text, &folder.join(file));
                done.typed += 1;
            }
            _ => panic!("a block marked `{tag}` is not looked at:\n{text}"),
        }
    }
    done
}

/// Runs the commands of a block and compares what they print. Says how many there are.
fn console(block: &str, folder: &mut Utf8PathBuf) -> usize {
    let mut count = 0;
    let mut lines = block.lines().peekable();
    while let Some(line) = lines.next() {
        let command = line.strip_prefix("$ ").unwrap_or_else(|| panic!("no command: {line}"));
        let mut shown = String::new();
        while let Some(line) = lines.next_if(|line| !line.starts_with("$ ")) {
            shown.push_str(line);
            shown.push('\n');
        }
        match command.strip_prefix("cd ") {
            Some(inner) => *folder = folder.join(inner),
            None => compare(command, &run(command, folder).1, &shown),
        }
        count += 1;
    }
    count
}

/// What is printed is what the page shows, but for lines that it leaves out.
fn compare(command: &str, printed: &str, shown: &str) {
    let pieces: Vec<&str> = shown.split("...\n").collect();
    let mut rest = printed;
    for (i, piece) in pieces.iter().enumerate() {
        let at = rest.find(piece).unwrap_or_else(|| panic!("{command} prints\n{printed}\nnot\n{piece}"));
        assert!(i > 0 || at == 0, "{command} prints first\n{rest}\nnot\n{piece}");
        rest = &rest[at + piece.len()..];
    }
    assert!(rest.is_empty() || shown.ends_with("...\n"), "{command} also prints\n{rest}");
}

/// Whether a command succeeds, and what a terminal would show of it.
fn run(command: &str, folder: &Utf8Path) -> (bool, String) {
    // What builds this program cannot be run by its tests; they are a call of it themselves.
    let command = match command.strip_prefix("cargo ") {
        Some("test" | "install --path .") => return (true, String::new()),
        Some(other) => {
            let arguments = other.strip_prefix("run --release -- ");
            format!("scantling {}", arguments.unwrap_or_else(|| panic!("nobody runs cargo {other}")))
        }
        None => command.to_owned(),
    };
    let bin = assert_cmd::cargo::cargo_bin("scantling");
    let output = Command::new("sh")
        .args(["-c", &format!("exec 2>&1\n{command}")])
        .current_dir(folder)
        .env("PATH", format!("{}:{}", bin.parent().unwrap().display(), std::env::var("PATH").unwrap()))
        .envs([("GIT_CONFIG_GLOBAL", "/dev/null"), ("GIT_CONFIG_SYSTEM", "/dev/null"), ("GIT_PAGER", "cat")])
        .envs([("GIT_AUTHOR_NAME", "Shop"), ("GIT_AUTHOR_EMAIL", "shop@example.org")])
        .envs([("GIT_COMMITTER_NAME", "Shop"), ("GIT_COMMITTER_EMAIL", "shop@example.org")])
        .output()
        .unwrap();
    (output.status.success(), String::from_utf8(output.stdout).unwrap())
}

/// Types a text: as a file of its own, or its blocks each in the place of the one of its kind and name, else at the end.
fn type_in(text: &str, path: &Utf8Path) {
    let Ok(mut whole) = fs::read_to_string(path) else {
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        return fs::write(path, text).unwrap();
    };
    for block in blocks_of_the_language(text) {
        let begins = beginning(&block);
        let same = blocks_of_the_language(&whole).into_iter().find(|old| beginning(old) == begins);
        match same {
            Some(old) => whole = whole.replacen(&old, &block, 1),
            None => {
                whole.push('\n');
                whole.push_str(&block);
            }
        }
    }
    fs::write(path, whole).unwrap();
}

/// The blocks of a file: each begins at the left edge and ends there with its brace, or on its only line.
fn blocks_of_the_language(text: &str) -> Vec<String> {
    let mut blocks = Vec::new();
    let mut open = String::new();
    for line in text.lines() {
        let outside = open.is_empty() && (line.is_empty() || line.starts_with('/'));
        if !outside {
            open.push_str(line);
            open.push('\n');
            let code = line.split(" //").next().unwrap();
            let ends = if open.lines().count() == 1 { code.ends_with('}') } else { line == "}" };
            if ends {
                blocks.push(std::mem::take(&mut open));
            }
        }
    }
    assert_eq!(open, "", "a block has no end");
    blocks
}

/// The kind and the name of a block; for a join, what is joined to what.
fn beginning(block: &str) -> Vec<&str> {
    let words = if block.starts_with("join ") { 4 } else { 2 };
    block.split_whitespace().take(words).filter(|word| !word.starts_with(['"', '{'])).collect()
}

/// Takes the lines behind `-` out of a file and puts those behind `+` in their place.
fn change(diff: &str, path: &Utf8Path) {
    let side = |sign| {
        let lines = diff.lines().filter_map(|line| line.strip_prefix(sign));
        lines.map(|line| format!("{line}\n")).collect::<String>()
    };
    let (old, new) = (side('-'), side('+'));
    let whole = fs::read_to_string(path).unwrap();
    assert_eq!(whole.matches(&old).count(), 1, "{path} has once\n{old}");
    fs::write(path, whole.replacen(&old, &new, 1)).unwrap();
}
