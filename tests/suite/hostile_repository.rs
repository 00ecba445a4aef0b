//! Repositories from anywhere: none of their settings makes `scantling` run a program, fetch, or write elsewhere; names that are
//! no revision are refused; a bare one is understood.

use crate::command_line::folder;
use crate::root;
use crate::version_control::{git, run, scantling};
use std::fs;
use std::path::Path;

const SMALL: &str = "src/cli/new/metric.scant";

/// A repository with two commits, in which a shelf gets thicker.
fn repository() -> (tempfile::TempDir, String) {
    let (keep, path) = folder();
    let origin = format!("{path}/origin");
    fs::create_dir(&origin).unwrap();
    git(&origin, &["init", "--quiet", "--initial-branch", "main"]);
    let text = fs::read_to_string(root().join(SMALL)).unwrap();
    // Without the size of a sheet nothing is laid out, which takes long.
    let without = |line: &&str| !line.starts_with("  size =") && !line.starts_with("  skim =");
    let text = text.lines().filter(without).fold(String::new(), |text, line| text + line + "\n");
    fs::write(format!("{origin}/wall.scant"), &text).unwrap();
    git(&origin, &["add", "."]);
    git(&origin, &["commit", "--quiet", "-m", "the first plan"]);
    let thicker = text.replace("thickness = 17.6mm", "thickness = 17.8mm");
    assert_ne!(thicker, text);
    fs::write(format!("{origin}/wall.scant"), thicker).unwrap();
    git(&origin, &["commit", "--quiet", "-am", "measured"]);
    (keep, path)
}

/// A program that leaves a mark where it runs, and the mark.
fn trap(path: &str) -> (String, String) {
    let (script, mark) = (format!("{path}/trap"), format!("{path}/it_ran"));
    fs::write(&script, format!("#!/bin/sh\necho \"$0 $*\" >> {mark}\nexit 1\n")).unwrap();
    assert_eq!(run(path, "chmod", &["+x", &script]).0, 0);
    (script, mark)
}

#[test]
fn what_a_partial_clone_lacks_is_not_fetched() {
    let (_keep, path) = repository();
    let (script, mark) = trap(&path);
    git(&format!("{path}/origin"), &["config", "uploadpack.allowFilter", "true"]);
    for (filter, lacks) in
        [("blob:none", "this clone does not have its text"), ("tree:0", "git cannot be used")]
    {
        let clone = format!("{path}/{}", filter.replace(':', "_"));
        let origin = format!("file://{path}/origin");
        git(&path, &["clone", "--quiet", "--no-checkout", "--filter", filter, &origin, &clone]);
        git(&clone, &["config", "remote.origin.uploadpack", &script]);
        git(&clone, &["config", "protocol.allow", "always"]);
        git(&clone, &["config", "protocol.file.allow", "always"]);
        // Git itself falls into the trap.
        assert_ne!(run(&clone, "git", &["cat-file", "blob", "HEAD~1:wall.scant"]).0, 0);
        assert!(Path::new(&mark).exists(), "the trap does not work");
        fs::remove_file(&mark).unwrap();
        for what in [&["HEAD~1", "HEAD", "wall.scant"][..], &["HEAD~1", "HEAD"], &["HEAD"]] {
            let (status, out, err) = scantling(&clone, &[&["diff"], what].concat());
            assert!(status == 2 && out.is_empty() && err.contains(lacks), "{filter} {what:?}: {out}{err}");
            assert!(!Path::new(&mark).exists(), "{filter} {what:?}: {}", fs::read_to_string(&mark).unwrap());
        }
    }
}

#[test]
fn no_setting_of_a_repository_runs_a_program() {
    let (_keep, path) = repository();
    let origin = format!("{path}/origin");
    let (script, mark) = trap(&path);
    fs::create_dir(format!("{path}/hooks")).unwrap();
    for hook in ["post-index-change", "reference-transaction", "pre-commit", "post-checkout"] {
        fs::copy(&script, format!("{path}/hooks/{hook}")).unwrap();
    }
    let changed = fs::read_to_string(format!("{origin}/wall.scant")).unwrap();
    fs::write(format!("{origin}/wall.scant"), format!("{changed}\n")).unwrap();
    git(&origin, &["add", "."]);
    fs::write(format!("{origin}/wall.scant"), &changed).unwrap();
    fs::write(format!("{origin}/.gitattributes"), "*.scant diff=evil filter=evil merge=evil\n").unwrap();
    let shell = format!("!{script}");
    let settings = [
        ("core.fsmonitor", &script),
        ("core.hooksPath", &format!("{path}/hooks")),
        ("core.pager", &script),
        ("core.editor", &script),
        ("core.askPass", &script),
        ("core.sshCommand", &script),
        ("core.alternateRefsCommand", &script),
        ("credential.helper", &shell),
        ("gpg.program", &script),
        ("log.showSignature", &"true".to_owned()),
        ("diff.external", &script),
        ("diff.evil.command", &script),
        ("diff.evil.textconv", &script),
        ("filter.evil.clean", &script),
        ("filter.evil.smudge", &script),
        ("filter.evil.process", &script),
        ("filter.evil.required", &"true".to_owned()),
        ("interactive.diffFilter", &script),
        ("pager.diff", &script),
        ("pager.ls-files", &script),
        ("alias.rev-parse", &shell),
        ("alias.cat-file", &shell),
    ];
    for (key, value) in settings {
        git(&origin, &["config", key, value]);
    }
    // Git itself falls into the trap, by a setting that every way to look at files obeys.
    run(&origin, "git", &["ls-files", "--modified"]);
    assert!(Path::new(&mark).exists(), "the trap does not work");
    fs::remove_file(&mark).unwrap();
    let calls: [(&[&str], i32); 9] = [
        (&["diff"], 0),
        (&["diff", "HEAD~1"], 0),
        (&["diff", "HEAD~1", "HEAD"], 0),
        (&["diff", "HEAD~1", "HEAD", "wall.scant"], 0),
        (&["diff", "HEAD", "wall.scant"], 0),
        (&["git-pre-commit"], 1),
        (&["check", "wall.scant"], 0),
        (&["fmt", "--check", "."], 0),
        (&["git-setup"], 0),
    ];
    for (call, expected) in calls {
        let (status, out, err) = scantling(&origin, call);
        assert_eq!(status, expected, "{call:?}: {out}{err}");
        assert!(!Path::new(&mark).exists(), "{call:?} ran {}", fs::read_to_string(&mark).unwrap());
    }
}

#[test]
fn an_object_is_what_its_hash_says() {
    let (_keep, path) = repository();
    let origin = format!("{path}/origin");
    git(&origin, &["replace", "HEAD~1:wall.scant", "HEAD:wall.scant"]);
    let (status, out, _) = scantling(&origin, &["diff", "--summary", "HEAD~1", "HEAD"]);
    assert!(status == 0 && out.starts_with("sheet thickness 17.6 mm -> 17.8 mm"), "{out}");
}

#[test]
fn names_that_stand_for_no_single_revision_are_refused() {
    let (_keep, path) = repository();
    let origin = format!("{path}/origin");
    let odd = [
        ("-z", "no revision begins with `-`"),
        ("--output=x", "no revision begins with `-`"),
        ("", "it is empty"),
        ("^HEAD", "it stands for a range"),
        ("HEAD~1..HEAD", "it stands for a range"),
        ("HEAD~1...HEAD", "it stands for a range"),
        ("HE\nAD", "it has a character that cannot be seen"),
        ("HEAD:wall.scant^", "there is no revision"),
        ("HEAD^{tree}", "there is no revision"),
        ("HEAD^!", "there is no revision"),
        ("HEAD^@", "there is no revision"),
    ];
    for (name, why) in odd {
        for what in [&["diff", "--", name, "wall.scant"][..], &["diff", "--", "HEAD", name, "wall.scant"]] {
            let (status, out, err) = scantling(&origin, what);
            assert!(status == 2 && out.is_empty() && err.contains(why), "{what:?}: {out}{err}");
        }
    }
    for name in ["HEAD^{/first}", "@~1", "main^"] {
        let (status, out, err) = scantling(&origin, &["diff", "--summary", name, "wall.scant"]);
        assert!(status == 0 && out.starts_with("sheet thickness 17.6 mm -> 17.8 mm"), "{name}: {out}{err}");
    }
}

#[test]
fn revisions_of_a_bare_repository_are_compared() {
    let (_keep, path) = repository();
    let origin = format!("{path}/origin");
    fs::create_dir(format!("{origin}/annex")).unwrap();
    fs::copy(format!("{origin}/wall.scant"), format!("{origin}/annex/wall.scant")).unwrap();
    git(&origin, &["add", "."]);
    git(&origin, &["commit", "--quiet", "-m", "an annex"]);
    let text = fs::read_to_string(format!("{origin}/annex/wall.scant")).unwrap();
    fs::write(format!("{origin}/annex/wall.scant"), text.replace("17.8mm", "18.2mm")).unwrap();
    git(&origin, &["commit", "--quiet", "-am", "another sheet"]);
    git(&path, &["clone", "--quiet", "--bare", "origin", "bare.git"]);
    let bare = format!("{path}/bare.git");
    let first = "sheet thickness 17.6 mm -> 17.8 mm";
    let last = "sheet thickness 17.8 mm -> 18.2 mm";
    for (what, begins) in [
        (&["HEAD~3", "HEAD", "wall.scant"][..], first),
        (&["HEAD~3", "HEAD~2"], first),
        (&["HEAD~1", "HEAD", "annex/wall.scant"], last),
        (&["HEAD~1", "HEAD"], last),
    ] {
        let (status, out, err) = scantling(&bare, &[&["diff", "--summary"], what].concat());
        assert!(status == 0 && out.starts_with(begins), "{what:?}: {out}{err}");
    }
    for what in [&["diff"][..], &["diff", "HEAD"], &["diff", "HEAD", "wall.scant"], &["git-setup"]] {
        let (status, out, err) = scantling(&bare, what);
        assert!(
            status == 2 && out.is_empty() && err.contains("is a bare repository"),
            "{what:?}: {out}{err}"
        );
    }
    let (status, _, err) = scantling(&bare, &["diff", "HEAD~1", "HEAD", "none/../../wall.scant"]);
    assert!(status == 2 && err.contains("was not there in HEAD"), "{err}");
}

#[test]
fn the_hook_stays_in_the_repository_unless_told() {
    let (_keep, path) = repository();
    let origin = format!("{path}/origin");
    let shared = format!("{path}/shared");
    fs::create_dir(&shared).unwrap();
    git(&origin, &["config", "core.hooksPath", &shared]);
    let (status, out, err) = scantling(&origin, &["git-setup"]);
    assert!(status == 0 && out.contains(&format!("core.hooksPath: leads to {shared}\n")), "{out}");
    assert!(err.contains("lies outside of the repository") && err.contains("--hook-outside"), "{err}");
    assert_eq!(fs::read_dir(&shared).unwrap().count(), 0);
    // A link inside leads out as well.
    std::os::unix::fs::symlink(&shared, format!("{origin}/.git/linked")).unwrap();
    git(&origin, &["config", "core.hooksPath", ".git/linked"]);
    let (status, _, err) = scantling(&origin, &["git-setup"]);
    assert!(status == 0 && err.contains("lies outside of the repository"), "{err}");
    assert_eq!(fs::read_dir(&shared).unwrap().count(), 0);
    let (status, out, err) = scantling(&origin, &["git-setup", "--hook-outside"]);
    assert!(status == 0 && err.is_empty() && out.contains("pre-commit: written\n"), "{out}{err}");
    assert!(fs::read_to_string(format!("{shared}/pre-commit")).unwrap().contains("scantling git-pre-commit"));
    // Inside it is said where, and written.
    git(&origin, &["config", "core.hooksPath", ".hooks"]);
    let (status, out, err) = scantling(&origin, &["git-setup"]);
    assert!(status == 0 && err.is_empty(), "{err}");
    assert!(out.contains("core.hooksPath: leads to ") && out.contains("/.hooks\n"), "{out}");
    assert!(Path::new(&format!("{origin}/.hooks/pre-commit")).exists());
}

#[test]
fn a_repository_does_not_send_git_setup_elsewhere() {
    let (_keep, path) = repository();
    let origin = format!("{path}/origin");
    let config = fs::read(format!("{origin}/.git/config")).unwrap();
    let target = format!("{path}/mine");
    fs::write(&target, "my own\n").unwrap();
    std::os::unix::fs::symlink(&target, format!("{origin}/.gitattributes")).unwrap();
    let (status, out, err) = scantling(&origin, &["git-setup"]);
    assert!(status == 2 && out.is_empty() && err.contains(".gitattributes is a link"), "{out}{err}");
    assert!(err.contains("nothing was changed"), "{err}");
    assert_eq!(fs::read(format!("{origin}/.git/config")).unwrap(), config);
    assert_eq!(fs::read_to_string(&target).unwrap(), "my own\n");
    fs::remove_file(format!("{origin}/.gitattributes")).unwrap();
    let elsewhere = format!("{path}/elsewhere");
    fs::create_dir(&elsewhere).unwrap();
    git(&origin, &["config", "core.worktree", &elsewhere]);
    let (status, out, err) = scantling(&origin, &["git-setup"]);
    assert!(status == 2 && out.is_empty() && err.contains("says that its files lie in"), "{out}{err}");
    assert_eq!(fs::read_dir(&elsewhere).unwrap().count(), 0);
}
