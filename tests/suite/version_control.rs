//! Revisions in git: what `diff`, `git diff`, `git log -p` and the hook say, in repositories that these tests make.

use crate::command_line::folder;
use crate::root;
use assert_cmd::cargo::cargo_bin;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const EXAMPLE: &str = "examples/sewing-room/sewing_room.scant";

/// Runs a program in a folder, with the built `scantling` on the path and no settings but those of the repository.
pub(crate) fn run(folder: &str, program: &str, arguments: &[&str]) -> (i32, String, String) {
    let bin = cargo_bin("scantling");
    let path = format!("{}:{}", bin.parent().unwrap().display(), std::env::var("PATH").unwrap());
    let Output { status, stdout, stderr } = Command::new(program)
        .current_dir(folder)
        .args(arguments)
        .env("PATH", path)
        .env("GIT_CONFIG_GLOBAL", "/dev/null")
        .env("GIT_CONFIG_SYSTEM", "/dev/null")
        .env("GIT_PAGER", "cat")
        .output()
        .unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (status.code().unwrap(), text(stdout), text(stderr))
}

pub(crate) fn git(folder: &str, arguments: &[&str]) -> String {
    let who = ["-c", "user.name=Shop", "-c", "user.email=shop@example.org"];
    let (status, out, err) = run(folder, "git", &[&who, arguments].concat());
    assert_eq!(status, 0, "git {arguments:?}: {err}");
    out
}

pub(crate) fn scantling(folder: &str, arguments: &[&str]) -> (i32, String, String) {
    run(folder, "scantling", arguments)
}

fn change(folder: &str, from: &str, to: &str) {
    let path = format!("{folder}/wall.scant");
    let text = fs::read_to_string(&path).unwrap();
    assert!(text.contains(from), "{from}");
    fs::write(path, text.replace(from, to)).unwrap();
}

fn repository() -> (tempfile::TempDir, String) {
    let (keep, path) = folder();
    git(&path, &["init", "--quiet", "--initial-branch", "main"]);
    fs::copy(root().join(EXAMPLE), format!("{path}/wall.scant")).unwrap();
    git(&path, &["add", "."]);
    git(&path, &["commit", "--quiet", "-m", "the first plan"]);
    (keep, path)
}

#[test]
fn revisions_are_compared_with_each_other_and_with_the_file_as_it_is() {
    let (_keep, path) = repository();
    let same = scantling(&path, &["diff", "--exit-code"]);
    assert_eq!((same.0, same.2.as_str()), (0, ""));
    change(&path, "thickness = 23/32\"", "thickness = 45/64\"");
    let (status, out, _) = scantling(&path, &["diff", "--summary", "--exit-code"]);
    assert!(status == 1 && out.starts_with("sheet thickness 23/32\" -> 45/64\"; 41 as before"), "{out}");
    git(&path, &["commit", "--quiet", "-am", "measured"]);
    for what in
        [&["HEAD~1", "HEAD", "wall.scant"][..], &["HEAD~1", "wall.scant"], &["HEAD~1"], &["HEAD~1", "HEAD"]]
    {
        let (status, text, err) = scantling(&path, &[&["diff", "--summary"], what].concat());
        assert_eq!((status, text.as_str()), (0, out.as_str()), "{what:?}: {err}");
    }
    let (_, json, _) = scantling(&path, &["diff", "--format", "json", "HEAD~1", "wall.scant"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["pieces"]["unchanged"], 41);
    assert_eq!(json["because"][0]["causes"][0]["is_in"], "wall.scant:36");
    let (_, html, _) = scantling(&path, &["diff", "--format", "html", "HEAD~1", "wall.scant"]);
    assert!(html.starts_with("<!DOCTYPE html>") && html.contains("<svg") && !html.contains("src="), "{html}");
}

#[test]
fn what_cannot_be_compared_is_said_with_what_can() {
    let (_keep, path) = repository();
    let (status, _, err) = scantling(&path, &["diff", "v9", "wall.scant"]);
    assert!(status == 2 && err.contains("F033") && err.contains("there is no revision `v9`"), "{err}");
    fs::copy(format!("{path}/wall.scant"), format!("{path}/other.scant")).unwrap();
    let (status, _, err) = scantling(&path, &["diff", "HEAD", "other.scant"]);
    assert!(status == 2 && err.contains("other.scant was not there in HEAD"), "{err}");
    assert!(err.contains("the other side has 4 units, 109 parts"), "{err}");
    fs::remove_file(format!("{path}/other.scant")).unwrap();
    change(&path, "stock = ply", "stock = plie");
    let (status, out, err) = scantling(&path, &["diff", "wall.scant"]);
    assert_eq!((status, out.as_str()), (1, ""));
    assert!(err.contains("wall.scant does not compile: 1 error"), "{err}");
    assert!(err.contains("HEAD:wall.scant compiles: 4 units, 109 parts"), "{err}");
    let (_keep, bare) = folder();
    let (status, _, err) = scantling(&bare, &["diff"]);
    assert!(status == 2 && err.contains("lies in no git repository"), "{err}");
    let without =
        Command::new(cargo_bin("scantling")).current_dir(&path).arg("diff").env("PATH", "").output().unwrap();
    let err = String::from_utf8(without.stderr).unwrap();
    assert!(without.status.code() == Some(2) && err.contains("git is not installed"), "{err}");
}

#[test]
fn ten_commits_read_well_in_the_log() {
    let (_keep, path) = repository();
    let (status, out, err) = scantling(&path, &["git-setup"]);
    assert_eq!((status, err.as_str()), (0, ""), "{out}");
    let again = scantling(&path, &["git-setup"]);
    assert!(
        again.1.contains("has the line already") && again.1.contains("runs scantling already"),
        "{}",
        again.1
    );
    git(&path, &["add", "."]);
    git(&path, &["commit", "--quiet", "-m", "show diffs in the shop's terms"]);
    let changes = [
        ("thickness = 23/32\"", "thickness = 45/64\"", "measured"),
        ("patterns = 33\"", "patterns = 34 1/2\"", "taller binders"),
        ("unit one", "unit one { skip = [thread] }", "a shelf less"),
        ("strip = 1 1/2\"", "strip = 2\"", "stiffer"),
        ("back = 129 15/16\"", "back = 129 9/16\"", "read again"),
        ("revision = \"A\"", "revision = \"B\"", "to the shop"),
        ("wait = 16 h", "wait = 24 h", "slower enamel"),
        ("// by caliper, five sheets", "// by caliper, six sheets", "a remark"),
    ];
    for (from, to, message) in changes {
        change(&path, from, to);
        git(&path, &["commit", "--quiet", "-am", message]);
    }
    assert_eq!(git(&path, &["rev-list", "--count", "HEAD"]), "10\n");
    let log = git(&path, &["log", "-p", "--format=%s", "--unified=0", "-9", "--", "wall.scant"]);
    let commit = |message: &str| {
        log.split(&format!("{message}\n\n")).nth(1).unwrap().split("\n\n").next().unwrap().to_owned()
    };
    // The change of the text, and what follows from it.
    let measured = commit("measured");
    assert!(measured.contains("+  thickness = 45/64\""), "{measured}");
    assert!(measured.contains("-ply: 28 shelf, 11 13/16\" x 31 5/16\"\n"), "{measured}");
    assert!(measured.contains("+ply: 28 shelf, 11 13/16\" x 31 11/32\"\n"), "{measured}");
    let taller = commit("taller binders");
    assert!(
        taller.contains("+sewing.one.shelf.patterns: mark 34 1/2\"\n") && !taller.contains("+ply"),
        "{taller}"
    );
    let fewer = commit("a shelf less");
    assert!(fewer.contains("-finish_nail: 448\n") && fewer.contains("+finish_nail: 433\n"), "{fewer}");
    let remark = commit("a remark");
    assert_eq!(remark.lines().filter(|line| line.starts_with(['+', '-'])).count(), 4, "{remark}");
    // `git diff` itself speaks in the shop's terms.
    let diff = git(&path, &["diff", "HEAD~8", "HEAD~7"]);
    assert!(diff.starts_with("diff scantling wall.scant\nRevision\n"), "{diff}");
    assert!(diff.contains("Because sheet thickness is 45/64\", not 23/32\" (wall.scant:36)"), "{diff}");
}

#[test]
fn the_hook_keeps_what_is_wrong_from_being_committed() {
    let (_keep, path) = repository();
    scantling(&path, &["git-setup"]);
    assert!(Path::new(&path).join(".git/hooks/pre-commit").exists());
    change(&path, "stock = ply", "stock = plie");
    git(&path, &["add", "."]);
    let commit =
        ["-c", "user.name=Shop", "-c", "user.email=shop@example.org", "commit", "--quiet", "-m", "x"];
    let (status, _, err) = run(&path, "git", &commit);
    assert!(status != 0 && err.contains("`plie`") && err.contains("wall.scant: 1 error"), "{err}");
    // What is staged counts, not what the file has become since.
    change(&path, "stock = plie", "stock = ply");
    assert_ne!(run(&path, "git", &commit).0, 0);
    change(&path, "  unit one", " unit   one");
    git(&path, &["add", "."]);
    let (status, _, err) = run(&path, "git", &commit);
    assert!(status != 0 && err.contains("not in canonical form"), "{err}");
    assert_eq!(scantling(&path, &["fmt", "wall.scant"]).0, 0);
    git(&path, &["add", "."]);
    assert_eq!(run(&path, "git", &commit).0, 0);
}
