//! What commands do to files: other people's stay, links stay, several runs at once lose nothing, and what stops one half way
//! leaves what was there.

use crate::command_line::{content, folder};
use assert_cmd::cargo::cargo_bin;
use std::collections::BTreeMap;
use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::Path;
use std::process::{Command, Output, Stdio};

/// A small project; sheets without a size are not laid out.
const WALL: &str = "project \"Wall\" {\n  marks = 0.1mm\n  revision = \"A\"\n}\n\nsheet ply {\n  thickness = 17.6mm\n}\n\n\
                    stick lines {\n  a = 80mm\n  b = 250mm\n  c = 400mm\n  d = 550mm\n  e = 700mm\n  f = 800mm\n}\n\n\
                    carcass wall {\n  stock = ply\n  shelves = lines\n  width = 600mm\n  height = 900mm\n  depth = 285mm\n}\n\n\
                    join shelf to side with dado {\n  depth = 6mm\n}\n";

fn scantling(folder: &str, arguments: &[&str]) -> (i32, String, String) {
    told(Command::new(cargo_bin("scantling")).current_dir(folder).args(arguments).output().unwrap())
}

fn told(output: Output) -> (i32, String, String) {
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
}

/// A folder with the project.
fn project() -> (tempfile::TempDir, String) {
    let (keep, path) = folder();
    fs::write(format!("{path}/wall.scant"), WALL).unwrap();
    (keep, path)
}

fn text(path: &str) -> String {
    fs::read_to_string(path).unwrap()
}

/// The names of what stands in a folder.
fn names(folder: &str) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

const BUILD: &[&str] = &["build", "wall.scant", "--out", "out"];

#[test]
fn what_a_build_no_longer_makes_goes_unless_it_was_changed() {
    let (_keep, path) = project();
    let sized = WALL.replace("thickness = 17.6mm", "thickness = 17.6mm\n  size = 2440mm x 1220mm");
    fs::write(format!("{path}/wall.scant"), &sized).unwrap();
    let build = &[BUILD, &["--effort", "quick"]].concat()[..];
    let drawing = format!("{path}/out/layouts-ply-1.svg");
    assert_eq!(scantling(&path, build).0, 0);
    assert!(Path::new(&drawing).exists());
    fs::write(format!("{path}/out/layouts-ply-2.svg"), "my own").unwrap();
    fs::write(format!("{path}/wall.scant"), WALL).unwrap();
    let (status, out, err) = scantling(&path, build);
    assert!(
        status == 0 && err.is_empty() && out.ends_with("; 2 files of an earlier build removed\n"),
        "{out}{err}"
    );
    assert!(!Path::new(&drawing).exists());
    assert_eq!(text(&format!("{path}/out/layouts-ply-2.svg")), "my own");
    fs::write(format!("{path}/wall.scant"), &sized).unwrap();
    assert_eq!(scantling(&path, build).0, 0);
    let noted = format!("{}<!-- glued up -->", text(&drawing));
    fs::write(&drawing, &noted).unwrap();
    fs::write(format!("{path}/wall.scant"), WALL).unwrap();
    let (status, out, err) = scantling(&path, build);
    // The drawing stays, its page for the printer goes.
    assert!(status == 0 && out.ends_with("; 1 file of an earlier build removed\n"), "{out}");
    assert_eq!(err, "out/layouts-ply-1.svg is of an earlier build and was changed since; it stays\n");
    assert_eq!(text(&drawing), noted);
    // It is nobody's of ours from then on.
    assert_eq!(scantling(&path, build).2, "");
}

#[test]
fn a_sheet_that_somebody_changed_is_not_replaced_unasked() {
    let (_keep, path) = project();
    assert_eq!(scantling(&path, BUILD).0, 0);
    let sheet = format!("{path}/out/parts.csv");
    fs::write(&sheet, "my own").unwrap();
    let before = content(Path::new(&format!("{path}/out")));
    let (status, out, err) = scantling(&path, BUILD);
    assert!(status == 2 && out.is_empty(), "{out}");
    assert!(err.contains("out/parts.csv was changed since scantling made it"), "{err}");
    assert_eq!(content(Path::new(&format!("{path}/out"))), before);
    assert_eq!(scantling(&path, &[BUILD, &["--force"]].concat()).0, 0);
    assert!(text(&sheet).starts_with("group,part,"));
}

#[test]
fn a_build_that_changes_nothing_touches_nothing() {
    let (_keep, path) = project();
    assert_eq!(scantling(&path, BUILD).0, 0);
    let stamps = || {
        let names = names(&format!("{path}/out")).into_iter();
        names
            .map(|name| fs::metadata(format!("{path}/out/{name}")).unwrap().modified().unwrap())
            .collect::<Vec<_>>()
    };
    let before = stamps();
    assert_eq!(scantling(&path, BUILD).0, 0);
    assert_eq!(stamps(), before);
}

#[test]
fn nothing_is_written_through_a_link_among_sheets() {
    let (_keep, path) = project();
    fs::create_dir(format!("{path}/out")).unwrap();
    let (mine, sheet) = (format!("{path}/mine"), format!("{path}/out/parts.csv"));
    fs::write(&mine, "my own").unwrap();
    for link in [&sheet, &format!("{path}/out/.scantling-made")] {
        symlink(&mine, link).unwrap();
        let (status, _, err) = scantling(&path, BUILD);
        assert!(status == 2 && err.contains("was not made by scantling"), "{err}");
        assert_eq!(
            (text(&mine).as_str(), fs::symlink_metadata(link).unwrap().is_symlink()),
            ("my own", true)
        );
        fs::remove_file(link).unwrap();
    }
    symlink(&mine, &sheet).unwrap();
    assert_eq!(scantling(&path, &[BUILD, &["--force"]].concat()).0, 0);
    let now = fs::symlink_metadata(&sheet).unwrap();
    assert!(now.is_file() && now.permissions().mode() & 0o111 == 0, "{:o}", now.permissions().mode());
    assert_eq!(text(&mine), "my own");
}

#[test]
fn a_link_in_the_place_of_the_progress_or_of_the_lock_stays_one() {
    let (_keep, path) = project();
    fs::create_dir(format!("{path}/elsewhere")).unwrap();
    fs::write(format!("{path}/scantling.toml"), "build = [\"wall.scant\"]\n").unwrap();
    for (name, call) in [("wall.progress.scant", &["mark", "cut", "wall"][..]), ("scantling.lock", &["lock"])]
    {
        let (link, target) = (format!("{path}/{name}"), format!("{path}/elsewhere/{name}"));
        symlink(&target, &link).unwrap();
        let (status, _, err) = scantling(&path, call);
        assert!(
            status == 2 && err.contains("it is a link, and what it leads to is not there"),
            "{name}: {err}"
        );
        fs::write(&target, "").unwrap();
        fs::set_permissions(&target, fs::Permissions::from_mode(0o640)).unwrap();
        let (status, _, err) = scantling(&path, call);
        assert_eq!(status, 0, "{name}: {err}");
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink(), "{name}");
        assert_eq!(fs::metadata(&target).unwrap().permissions().mode() & 0o777, 0o640, "{name}");
        assert!(!text(&target).is_empty(), "{name}");
    }
    assert_eq!(names(&format!("{path}/elsewhere")), ["scantling.lock", "wall.progress.scant"]);
}

#[test]
fn marks_that_are_made_at_once_are_all_kept() {
    let (_keep, path) = project();
    // The first of them gives it its name of today.
    fs::write(format!("{path}/progress.scant"), "// mine\n").unwrap();
    let parts = ["shelf.a", "shelf.b", "shelf.c", "shelf.d", "shelf.e", "shelf.f", "side.left", "side.right"];
    let start = |part: &&str| {
        let mut mark = Command::new(cargo_bin("scantling"));
        mark.current_dir(&path).args(["mark", "cut", &format!("wall.{part}"), "--file", "wall.scant"]);
        mark.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap()
    };
    let running: Vec<_> = parts.iter().map(start).collect();
    let mut renames = 0;
    for mark in running {
        let (status, out, err) = told(mark.wait_with_output().unwrap());
        let renamed = out == "wall.progress.scant: 1 part cut; the file was progress.scant\n";
        assert!(status == 0 && (renamed || out == "wall.progress.scant: 1 part cut\n"), "{out}{err}");
        renames += usize::from(renamed);
    }
    assert_eq!(renames, 1);
    let progress = text(&format!("{path}/wall.progress.scant"));
    for part in parts {
        assert_eq!(progress.matches(&format!("wall.{part}")).count(), 1, "{part}: {progress}");
    }
    assert_eq!(names(&path), ["wall.progress.scant", "wall.scant"]);
}

#[test]
fn of_two_builds_at_once_one_is_there_whole() {
    let (_keep, path) = project();
    let other = WALL.replace("\"A\"", "\"B\"").replace("600mm", "700mm");
    fs::write(format!("{path}/other.scant"), other).unwrap();
    let start = |file: &str, out: &str| {
        let mut build = Command::new(cargo_bin("scantling"));
        build
            .current_dir(&path)
            .args(["build", file, "--out", out])
            .stdout(Stdio::null())
            .stderr(Stdio::null());
        build.spawn().unwrap()
    };
    let sets = ["wall.scant", "other.scant"].map(|file| {
        assert!(start(file, file.trim_end_matches(".scant")).wait().unwrap().success());
        content(Path::new(&format!("{path}/{}", file.trim_end_matches(".scant"))))
    });
    assert_ne!(sets[0], sets[1]);
    for pair in 0..8 {
        let running = ["wall.scant", "other.scant"].map(|file| start(file, "out"));
        for mut build in running {
            assert!(build.wait().unwrap().success());
        }
        assert!(sets.contains(&content(Path::new(&format!("{path}/out")))), "pair {pair} is mixed");
    }
}

#[test]
fn killed_commands_leave_what_was_there_and_the_next_one_clears_up() {
    let (_keep, path) = project();
    fs::write(format!("{path}/scantling.toml"), "build = [\"wall.scant\"]\n").unwrap();
    fs::write(format!("{path}/shop.scant"), "let   a=1mm\n").unwrap();
    let calls: [(&[&str], &str); 5] = [
        (&["mark", "cut", "wall", "--file", "wall.scant"], "."),
        (&["lock"], "."),
        (&["fmt", "shop.scant"], "."),
        (BUILD, "out"),
        (&["new", "fresh"], "fresh"),
    ];
    // What a run leaves that is killed before it puts its files in place.
    let leftover = |folder: &str| {
        fs::create_dir_all(format!("{path}/{folder}/.scantling-new")).unwrap();
        fs::write(format!("{path}/{folder}/.scantling-new/half"), "ha").unwrap();
    };
    for (call, folder) in calls {
        leftover(folder);
        let (status, _, err) = scantling(&path, call);
        assert_eq!(status, 0, "{call:?}: {err}");
        assert!(!Path::new(&format!("{path}/{folder}/.scantling-new")).exists(), "{call:?}");
    }
    // Killed at any moment, `mark` leaves the text before it or the text after it.
    let sides = format!("{path}/wall.progress.scant");
    fs::remove_file(&sides).unwrap();
    assert_eq!(scantling(&path, &["mark", "cut", "wall.side", "--file", "wall.scant"]).0, 0);
    let before = text(&sides);
    assert_eq!(scantling(&path, &["mark", "cut", "wall.shelf", "--file", "wall.scant"]).0, 0);
    let after = text(&sides);
    let mut random: u64 = 3;
    for _ in 0..30 {
        fs::write(&sides, &before).unwrap();
        random = random.wrapping_mul(1_664_525).wrapping_add(1_013_904_223) % (1 << 32);
        let mut mark = Command::new(cargo_bin("scantling"));
        mark.current_dir(&path).args(["mark", "cut", "wall.shelf", "--file", "wall.scant"]);
        let mut mark = mark.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
        std::thread::sleep(std::time::Duration::from_micros(random % 80_000));
        mark.kill().unwrap();
        mark.wait().unwrap();
        assert!([&before, &after].contains(&&text(&sides)));
    }
}

/// Runs a command that may write no file of more than two kilobytes.
fn limited(folder: &str, arguments: &str) -> (i32, String, String) {
    let script = format!("ulimit -f 4; exec {} {arguments}", cargo_bin("scantling").display());
    told(Command::new("sh").current_dir(folder).args(["-c", &script]).output().unwrap())
}

#[test]
fn a_limit_that_is_reached_is_said_and_leaves_what_was_there() {
    let (_keep, path) = project();
    let (status, out, err) = limited(&path, "build wall.scant --out new/out");
    assert!(status == 2 && out.is_empty() && err.contains("F002") && err.contains("too large"), "{out}{err}");
    assert!(err.contains("nothing there was changed"), "{err}");
    assert_eq!(names(&path), ["wall.scant"]);
    assert_eq!(scantling(&path, BUILD).0, 0);
    let before = content(Path::new(&format!("{path}/out")));
    fs::write(format!("{path}/wall.scant"), WALL.replace("600mm", "700mm")).unwrap();
    assert_eq!(limited(&path, "build wall.scant --out out").0, 2);
    assert_eq!(content(Path::new(&format!("{path}/out"))), before);
    let long = format!("let   a=1mm\n{}", "// a remark that is long\n".repeat(400));
    fs::write(format!("{path}/long.scant"), &long).unwrap();
    let (status, _, err) = limited(&path, "fmt long.scant");
    assert!(status == 2 && err.contains("cannot write long.scant"), "{err}");
    assert_eq!(text(&format!("{path}/long.scant")), long);
    let progress = format!("{}\nmade {{ cut = wall.side }}\n", "// a remark that is long\n".repeat(400));
    fs::write(format!("{path}/wall.progress.scant"), &progress).unwrap();
    let (status, _, err) = limited(&path, "mark cut wall.shelf --file wall.scant");
    assert!(status == 2 && err.contains("cannot write wall.progress.scant"), "{err}");
    assert_eq!(text(&format!("{path}/wall.progress.scant")), progress);
    let (status, _, err) = limited(&path, "show parts wall.scant --format json > shown");
    assert!(status == 2 && err.contains("cannot print") && err.contains("too large"), "{err}");
    assert_eq!(names(&path), ["long.scant", "out", "shown", "wall.progress.scant", "wall.scant"]);
}

#[test]
fn a_place_in_which_nothing_can_be_made_is_left_as_it_is() {
    let (_keep, path) = project();
    assert_eq!(scantling(&path, BUILD).0, 0);
    fs::write(format!("{path}/wall.scant"), WALL.replace("600mm", "700mm")).unwrap();
    // Somebody's own file stands where files are made.
    fs::write(format!("{path}/out/.scantling-new"), "my own").unwrap();
    let before = content(Path::new(&format!("{path}/out")));
    let (status, _, err) = scantling(&path, BUILD);
    assert!(status == 2 && err.contains("F002"), "{err}");
    assert_eq!(content(Path::new(&format!("{path}/out"))), before);
    // A folder stands where a sheet should.
    fs::remove_file(format!("{path}/out/.scantling-new")).unwrap();
    fs::remove_file(format!("{path}/out/parts.csv")).unwrap();
    fs::create_dir(format!("{path}/out/parts.csv")).unwrap();
    let listed = names(&format!("{path}/out"));
    let (status, _, err) = scantling(&path, &[BUILD, &["--force"]].concat());
    assert!(status == 2 && err.contains("cannot write out/parts.csv"), "{err}");
    assert_eq!(names(&format!("{path}/out")), listed);
    let (status, _, err) = scantling(&path, &["cut", "wall.scant", "--variant", "x", "--out", "/dev/null"]);
    assert_eq!(status, 2, "{err}");
}

#[test]
fn of_new_projects_at_once_one_is_made() {
    let (_keep, path) = folder();
    let start = |_| {
        let mut new = Command::new(cargo_bin("scantling"));
        new.current_dir(&path)
            .args(["new", "shelves"])
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap()
    };
    let running: Vec<_> = (0..6).map(start).collect();
    let mut told: BTreeMap<i32, usize> = BTreeMap::new();
    for new in running {
        *told.entry(new.wait_with_output().unwrap().status.code().unwrap()).or_default() += 1;
    }
    assert_eq!(told, BTreeMap::from([(0, 1), (2, 5)]));
    // A later build into the folder of the project must not take it for a sheet of an earlier one.
    assert_eq!(names(&format!("{path}/shelves")), ["project.scant"]);
}
