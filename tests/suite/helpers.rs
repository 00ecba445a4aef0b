//! What the program prints for shells and for `man`.

use crate::command_line::scantling;
use std::process::{Command, Stdio};

#[test]
fn each_shell_gets_its_completions() {
    let beginnings = [
        ("bash", "_scantling() {"),
        ("elvish", "\nuse builtin;"),
        ("fish", "# Print an optspec"),
        ("powershell", "\nusing namespace"),
        ("zsh", "#compdef scantling"),
    ];
    for (shell, beginning) in beginnings {
        let (status, script, err) = scantling(&["completions", shell]);
        assert_eq!((status, err.as_str()), (0, ""), "{shell}");
        assert!(script.starts_with(beginning), "{shell}: {script}");
        for word in ["check", "explain", "message-format", "completions", "show"] {
            assert!(script.contains(word), "{shell}: {word}");
        }
        assert!(!script.contains("cutting-stock"), "{shell} offers a hidden command");
    }
    let (status, script, err) = scantling(&["completions", "abacus"]);
    assert_eq!((status, script.as_str()), (2, ""));
    assert!(err.contains("[possible values: bash, elvish, fish, powershell, zsh]"), "{err}");
}

/// Runs the script as a shell would when the tabulator is pressed behind these words.
fn offered(words: &[&str]) -> Vec<String> {
    let script = scantling(&["completions", "bash"]).1;
    let last = words.len() - 1;
    let quoted: Vec<String> = words.iter().map(|word| format!("'{word}'")).collect();
    let code = format!(
        "{script}\nCOMP_WORDS=({}); COMP_CWORD={last}\n_scantling scantling '{}' '{}'\necho ${{COMPREPLY[@]}}",
        quoted.join(" "),
        words[last],
        words[last - 1],
    );
    let output = Command::new("bash").args(["--norc", "-c", &code]).stderr(Stdio::null()).output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    text.split_whitespace().map(str::to_owned).collect()
}

#[test]
fn bash_completes_commands_sheets_and_forms() {
    assert_eq!(offered(&["scantling", "c"]), ["check", "completions"]);
    let forms = offered(&["scantling", "check", "--message-format", ""]);
    assert_eq!(forms, ["human", "narrated", "short", "json", "sarif"]);
    assert_eq!(offered(&["scantling", "show", "cut"]), ["cut-list", "cutouts"]);
}

#[test]
fn the_manual_has_a_page_for_the_program_and_one_for_each_command() {
    let (status, page, err) = scantling(&["man"]);
    assert_eq!((status, err.as_str()), (0, ""));
    assert!(page.contains(".TH scantling 1  \"scantling "), "{page}");
    for section in ["NAME", "SYNOPSIS", "DESCRIPTION", "OPTIONS", "SUBCOMMANDS", "VERSION"] {
        assert!(page.contains(&format!(".SH {section}\n")), "{section}");
    }
    for command in ["check", "build", "show", "why", "explain", "fmt", "new", "completions", "man"] {
        assert!(page.contains(&format!("scantling\\-{command}(1)\n")), "{command}: {page}");
        let (status, page, err) = scantling(&["man", command]);
        assert_eq!((status, err.as_str()), (0, ""));
        assert!(page.contains(&format!(".TH scantling-{command} 1")), "{page}");
        assert!(page.contains(&format!("\\fBscantling {command}\\fR")), "{page}");
        assert!(page.contains("\\fB\\-\\-message\\-format\\fR"), "{page}");
    }
    assert!(!page.contains("cutting"), "a hidden command has a line");
    let (status, page, err) = scantling(&["man", "chek"]);
    assert_eq!((status, page.as_str()), (2, ""));
    assert!(err.contains("F012") && err.contains("unknown command `chek`"), "{err}");
}
