//! Projects that share files: what `scantling.toml` names, and what `scantling.lock` makes known of later changes.

use crate::command_line::folder;
use crate::root;
use crate::version_control::{git, run, scantling};
use camino::Utf8PathBuf;
use scantling::compile::compile;
use scantling::source::MemoryFiles;
use std::fs;
use std::path::Path;

const SHOP: &str = "\
sheet ply \"birch plywood\" { size = 2440mm x 1220mm, thickness = 18mm, skim = 5mm, density = 680 kg/m3 }
stick lines { floor = 80mm, middle = 420mm, upper = 760mm }
join shelf to side with dado { depth = 6mm, nail = finish_nail }
nail finish_nail { length = 50mm, box = 500 }
person { count = 2 }
accept tips because \"each is screwed to the wall through its upper shelf\"
";

const CUPBOARD: &str = "\
use \"../shop.scant\" { ply, lines }

/// A low cupboard.
module tall {
  param width: length = 800mm
  carcass case { stock = ply, shelves = lines, width = width, height = 1100mm, depth = 300mm }
}
";

const WALL: &str = "\
use \"shop.scant\"

project \"Wall\" { marks = 0.5mm }

carcass left { stock = ply, shelves = lines, width = 600mm, height = 1100mm, depth = 300mm }
carcass right { stock = ply, shelves = lines, width = 600mm, height = 1100mm, depth = 300mm }
";

const BENCH: &str = "\
use cupboard { tall }
use \"../shop.scant\"

project \"Bench\" { marks = 0.5mm }

tall one
";

const MANIFEST: &str = "build = [\"wall.scant\", \"bench/bench.scant\"]\nmodules = [\"modules\"]\n";

const FILES: [(&str, &str); 5] = [
    ("shop.scant", SHOP),
    ("modules/cupboard.scant", CUPBOARD),
    ("wall.scant", WALL),
    ("bench/bench.scant", BENCH),
    ("scantling.toml", MANIFEST),
];

fn write(folder: &str, path: &str, text: &str) {
    let path = Path::new(folder).join(path);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, text).unwrap();
}

fn change(folder: &str, path: &str, from: &str, to: &str) {
    let text = fs::read_to_string(Path::new(folder).join(path)).unwrap();
    assert!(text.contains(from), "{from}");
    write(folder, path, &text.replace(from, to));
}

fn two_projects() -> (tempfile::TempDir, String) {
    let (keep, path) = folder();
    FILES.iter().for_each(|(name, text)| write(&path, name, text));
    (keep, path)
}

/// Two projects under git, locked and committed.
fn locked() -> (tempfile::TempDir, String) {
    let (keep, path) = two_projects();
    git(&path, &["init", "--quiet", "--initial-branch", "main"]);
    assert_eq!(scantling(&path, &["lock"]).0, 0);
    git(&path, &["add", "."]);
    git(&path, &["commit", "--quiet", "-m", "two projects"]);
    (keep, path)
}

/// What `check` says, a line for each message.
fn checked(folder: &str, arguments: &[&str]) -> (i32, Vec<String>) {
    let (status, out, err) =
        scantling(folder, &[&["check", "--message-format", "short"], arguments].concat());
    (status, err.lines().chain(out.lines()).map(str::to_owned).collect())
}

#[test]
fn check_looks_at_every_file_of_the_list_and_ends_with_the_sum() {
    let (_keep, path) = two_projects();
    let all = [
        "wall.scant: 2 units, 10 parts; no problems",
        "bench/bench.scant: 1 unit, 5 parts; no problems",
        "2 projects: 3 units, 15 parts; no problems",
    ];
    assert_eq!(checked(&path, &[]), (0, all.map(str::to_owned).to_vec()));
    assert_eq!(checked(&path, &["."]), (0, all.map(str::to_owned).to_vec()));
    let below = checked(&format!("{path}/bench"), &[]).1;
    assert_eq!(below[0], "../wall.scant: 2 units, 10 parts; no problems");
    let (_, outside) = checked("/", &[&path]);
    assert_eq!(outside[1], format!("{path}/bench/bench.scant: 1 unit, 5 parts; no problems"));
    // Each project counts with its own messages; an error in one keeps no other from being looked at.
    change(&path, "wall.scant", "carcass left { stock = ply", "carcass left { stock = plie");
    let (status, told) = checked(&path, &[]);
    assert_eq!(status, 1);
    assert_eq!(told[0], "wall.scant:5:24: error[N003]: unknown sheet `plie`");
    assert!(told.contains(&all[1].to_owned()), "{told:?}");
    assert!(told.contains(&"2 projects: 1 error".to_owned()), "{told:?}");
    fs::write(Path::new(&path).join("wall.scant"), [0xff, 0xfe]).unwrap();
    let (status, out, err) = scantling(&path, &["check"]);
    assert!(status == 2 && err.contains("wall.scant: it is text in UTF-16"), "{err}");
    assert!(out.contains(all[1]), "{out}");
    // One document for all.
    let (_, out, _) = scantling(&path, &["check", "--message-format", "json", "bench"]);
    assert_eq!(serde_json::from_str::<serde_json::Value>(&out).unwrap()["messages"][0]["code"], "F001");
}

/// `examples/scantling.toml` names every example; shop files and modules are shared, and no projects of their own.
#[test]
fn the_examples_are_checked_as_a_whole() {
    let (status, out, err) = scantling(root().as_str(), &["check", "examples"]);
    assert_eq!(status, 0, "{err}");
    let there = crate::files_under("examples", ".scant");
    let shared = |path: &&Utf8PathBuf| {
        path.file_name() == Some("shop.scant") || path.parent().unwrap().ends_with("modules")
    };
    let mut count = 0;
    for path in there.iter().filter(|path| !shared(path)) {
        let path = path.strip_prefix(root()).unwrap();
        assert!(out.contains(&format!("{path}: ")), "name {path} in examples/scantling.toml");
        count += 1;
    }
    assert!(out.lines().last().unwrap().starts_with(&format!("{count} projects: ")), "{out}");
}

/// Every mistake in the manifest has its line and its mend.
#[test]
fn mistakes_of_the_manifest_are_told_at_their_places() {
    let (_keep, path) = two_projects();
    write(&path, "elsewhere/other.scant", "");
    let cases: [(&str, &[&str]); 11] = [
        ("build = [\"wall.scant\"", &["1:22: error[N040]: `scantling.toml` cannot be read: "]),
        ("biuld = [\"wall.scant\"]", &["1:1: error[N041]: `scantling.toml` has no key `biuld`"]),
        ("build = \"wall.scant\"", &["1:9: error[N042]: `build` takes a list of files"]),
        (
            "build = [3]\nmodules = [true]",
            &[
                "1:10: error[N042]: `build` takes a list of files",
                "2:12: error[N042]: `modules` takes a list of folders",
            ],
        ),
        ("build = [\"wall.txt\"]", &["1:10: error[N042]: `wall.txt` is no file to build"]),
        (
            "build = [\"bench\\\\bench.scant\"]",
            &["1:10: error[N042]: `bench\\bench.scant` is no file to build"],
        ),
        ("modules = [\"shop.scant\"]", &["1:12: error[N042]: `shop.scant` is no folder"]),
        (
            "build = [\n  \"wall.scant\",\n  \"hall.scant\",\n]",
            &["3:3: error[N043]: there is no `hall.scant`"],
        ),
        ("modules = [\"kept\"]", &["1:12: error[N043]: there is no `kept`"]),
        (
            "build = [\"../wall.scant\", \"/wall.scant\"]",
            &[
                "1:10: error[N043]: `../wall.scant` lies outside the folder of `scantling.toml`",
                "1:27: error[N043]: `/wall.scant` lies outside the folder of `scantling.toml`",
            ],
        ),
        ("build = [\"wall.scant\", \"./wall.scant\"]", &["1:24: error[N044]: `./wall.scant` is named twice"]),
    ];
    for (text, expected) in cases {
        write(&path, "scantling.toml", text);
        let (status, told) = checked(&path, &[]);
        assert_eq!((status, told.len()), (1, expected.len()), "{text}: {told:?}");
        for (told, expected) in told.iter().zip(expected) {
            assert!(told.starts_with(&format!("scantling.toml:{expected}")), "{text}: {told}");
        }
    }
    // The mends, and the first place of what stands twice.
    write(&path, "scantling.toml", cases[10].0);
    let (_, _, err) = scantling(&path, &["check"]);
    assert!(err.contains("here first") && err.contains("help: delete one of them"), "{err}");
    write(&path, "scantling.toml", "biuld = []\n");
    let (_, _, err) = scantling(&path, &["check", "bench/bench.scant"]);
    // The project that uses files needs it too; what its folders would have is not told besides.
    assert!(err.contains("--> scantling.toml:1:1"), "{err}");
    assert!(err.contains("did you mean `build`?") && !err.contains("N020"), "{err}");
    // Nothing to build, nothing there.
    write(&path, "scantling.toml", "");
    let (status, _, err) = scantling(&path, &["check"]);
    assert!(status == 2 && err.contains("F038") && err.contains("build = [\"wall.scant\"]"), "{err}");
    fs::remove_file(Path::new(&path).join("scantling.toml")).unwrap();
    for command in ["check", "lock"] {
        let (status, _, err) = scantling(&path, &[command]);
        assert!(
            status == 2 && err.contains("F037") && err.contains("there is no `scantling.toml` in ."),
            "{err}"
        );
    }
    #[cfg(unix)]
    {
        let (_keep, other) = two_projects();
        std::os::unix::fs::symlink(format!("{path}/wall.scant"), format!("{other}/linked.scant")).unwrap();
        write(&other, "scantling.toml", "build = [\"linked.scant\"]");
        let told = checked(&other, &[]).1;
        assert!(told[0].contains("N043") && told[0].contains("`linked.scant` lies outside"), "{told:?}");
    }
}

fn told(files: &[(&str, &str)]) -> Vec<(&'static str, String)> {
    let mut store = MemoryFiles::default();
    files.iter().for_each(|(path, text)| store.insert(*path, *text));
    let compilation = compile(&store, "main.scant".into()).unwrap();
    // That there is nothing to build is not what these texts are about.
    let told = compilation.diagnostics.iter().filter(|told| told.code.id != "L009");
    told.map(|told| (told.code.id, told.message.clone())).collect()
}

/// `use cupboard` looks in the folders of shared modules, deeper with a dot; what two of them have is to be named by path.
#[test]
fn bare_names_stand_for_files_of_the_shared_folders() {
    const LINES: &str = "let low = 3\"\n";
    const MAIN: &str = "use kept.low { low }\nlet high = low\n";
    let both = "modules = [\"modules\", \"more\"]\n";
    assert_eq!(
        told(&[
            ("main.scant", MAIN),
            ("scantling.toml", both),
            ("modules/kept/low.scant", LINES),
            ("more/a.scant", "")
        ]),
        []
    );
    let twice = told(&[
        ("main.scant", MAIN),
        ("scantling.toml", both),
        ("modules/kept/low.scant", LINES),
        ("more/kept/low.scant", LINES),
    ]);
    assert_eq!(twice[0], ("N045", "`kept/low.scant` stands in 2 folders of shared modules".to_owned()));
    let none = ("N020", "there is no file `kept/low.scant` in a folder of shared modules".to_owned());
    assert_eq!(
        told(&[("main.scant", MAIN), ("scantling.toml", "modules = [\"more\"]"), ("more/a.scant", "")])[0],
        none
    );
    assert_eq!(told(&[("main.scant", MAIN)])[0], none);
    let library = told(&[
        ("main.scant", "use std\n"),
        ("scantling.toml", "modules = [\"more\"]"),
        ("more/std.scant", ""),
    ]);
    assert_eq!(library[0], ("N020", "the library has no such part".to_owned()));
    // A file that is reached in two ways is one file.
    let ways = "use low { low }\nuse \"more/low.scant\"\nlet high = low\n";
    assert_eq!(
        told(&[("main.scant", ways), ("scantling.toml", "modules = [\"more\"]"), ("more/low.scant", LINES)]),
        []
    );
    // A manifest that cannot be read is no error of a project that uses no file.
    assert_eq!(told(&[("main.scant", "let high = 3\"\n"), ("scantling.toml", "build")]), []);
}

#[test]
fn the_lock_has_the_hashes_of_git_and_is_the_same_again() {
    let (_keep, path) = two_projects();
    let (status, out, err) = scantling(&path, &["lock"]);
    let first = "scantling.lock: 2 shared files; new: modules/cupboard.scant, shop.scant\n";
    assert_eq!((status, out.as_str(), err.as_str()), (0, first, ""));
    let lock = fs::read_to_string(format!("{path}/scantling.lock")).unwrap();
    let hash = |file: &str| run(&path, "git", &["hash-object", file]).1.trim_end().to_owned();
    let expected =
        ["modules/cupboard.scant", "shop.scant"].map(|file| format!("\"{file}\" = \"{}\"\n", hash(file)));
    assert!(lock.ends_with(&format!("\n[files]\n{}", expected.concat())), "{lock}");
    assert_eq!(scantling(&path, &["lock", "bench"]).1, "scantling.lock: 2 shared files, none changed\n");
    change(&path, "shop.scant", "18mm", "17.6mm");
    assert_eq!(scantling(&path, &["lock"]).1, "scantling.lock: 2 shared files; changed: shop.scant\n");
    assert_ne!(fs::read_to_string(format!("{path}/scantling.lock")).unwrap(), lock);
    change(&path, "shop.scant", "17.6mm", "18mm");
    scantling(&path, &["lock"]);
    assert_eq!(fs::read_to_string(format!("{path}/scantling.lock")).unwrap(), lock);
    // From a project with errors nothing is taken in.
    change(&path, "shop.scant", "18mm", "18");
    let (status, out, err) = scantling(&path, &["lock"]);
    assert!(
        status == 1 && out.is_empty() && err.contains("wall.scant: 1 error; nothing was locked"),
        "{err}"
    );
    assert_eq!(fs::read_to_string(format!("{path}/scantling.lock")).unwrap(), lock);
    let left = fs::read_dir(&path).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut left: Vec<String> = left.collect();
    left.sort();
    assert_eq!(left, ["bench", "modules", "scantling.lock", "scantling.toml", "shop.scant", "wall.scant"]);
}

#[test]
fn a_change_of_a_shared_file_is_told_with_what_it_does_to_the_parts() {
    let (_keep, path) = locked();
    assert_eq!(checked(&path, &[]).1.last().unwrap(), "2 projects: 3 units, 15 parts; no problems");
    change(&path, "shop.scant", "18mm", "17.6mm");
    let (status, out, err) = scantling(&path, &["check", "wall.scant"]);
    assert_eq!((status, out.as_str()), (0, "wall.scant: 2 units, 10 parts; 1 warning\n"));
    // Four sides stay; six shelves are 2 x 0.4 mm longer between them.
    let expected = "\
warning[D006]: `shop.scant` changed since it was locked
  --> wall.scant:1:5
  |
1 | use \"shop.scant\"
  |     ^^^^^^^^^^^^
  |
  = by that: sheet thickness 18 mm -> 17.6 mm; 4 as before, 6 of other size; grooves on 4 sides; print again: \
cut-list, layouts, sawing, parts, marks, finish, tree, limits
  = help: `scantling lock` takes the new text in, once the parts are right

";
    assert_eq!(err, expected);
    // By way of a module it is the use of the module that names it first.
    let (_, _, err) = scantling(&path, &["check", "bench/bench.scant"]);
    assert!(err.contains("--> modules/cupboard.scant:1:5"), "{err}");
    assert!(err.contains("by that: sheet thickness 18 mm -> 17.6 mm; 2 as before, 3 of other size"), "{err}");
    // Two files at once are one message, and are put back together.
    change(&path, "modules/cupboard.scant", "width: length = 800mm", "width: length = 820mm");
    let (_, _, err) = scantling(&path, &["check", "bench/bench.scant"]);
    assert!(err.contains("D006]: 2 shared files changed since they were locked"), "{err}");
    assert!(err.contains("`modules/cupboard.scant`") && err.contains("`shop.scant`"), "{err}");
    assert!(err.contains(" and 1 more; 2 as before, 3 of other size"), "{err}");
    // A remark changes no part, and is a change all the same.
    fs::write(Path::new(&path).join("modules/cupboard.scant"), CUPBOARD).unwrap();
    write(&path, "shop.scant", &format!("// a remark\n{SHOP}"));
    let (_, _, err) = scantling(&path, &["check", "wall.scant"]);
    assert!(err.contains("= by that: nothing that is printed differs"), "{err}");
    // Other commands say that it changed, and work out nothing twice.
    let (_, _, err) = scantling(&path, &["show", "cut-list", "wall.scant"]);
    assert!(err.contains("D006") && !err.contains("by that"), "{err}");
    assert_eq!(scantling(&path, &["lock"]).1, "scantling.lock: 2 shared files; changed: shop.scant\n");
    assert_eq!(checked(&path, &["wall.scant"]).1, ["wall.scant: 2 units, 10 parts; no problems"]);
    // It is taken as other warnings are.
    change(&path, "shop.scant", "// a remark", "// another");
    change(&path, "wall.scant", "carcass left", "accept shared_changed because \"a remark\"\n\ncarcass left");
    assert_eq!(checked(&path, &["wall.scant"]).1, ["wall.scant: 2 units, 10 parts; no problems"]);
}

#[test]
fn what_cannot_be_worked_out_is_said_with_what_is_known() {
    let (_keep, path) = locked();
    // A change that does not compile.
    change(&path, "shop.scant", "sheet ply", "sheet plywood");
    let (status, _, err) = scantling(&path, &["check", "wall.scant"]);
    assert!(status == 1 && err.contains("with the locked text it compiles: 2 units, 10 parts"), "{err}");
    // A project that needs the change.
    write(&path, "shop.scant", &SHOP.replace("sheet ply", "sheet birch"));
    change(&path, "wall.scant", "stock = ply", "stock = birch");
    let (status, _, err) = scantling(&path, &["check", "wall.scant"]);
    assert!(status == 0 && err.contains("with the locked text the project has errors: 2 errors"), "{err}");
    // A file that is deleted and still used.
    fs::remove_file(Path::new(&path).join("shop.scant")).unwrap();
    let (_, _, err) = scantling(&path, &["check", "wall.scant"]);
    let hash = git(&path, &["rev-parse", "HEAD:shop.scant"]);
    let back = format!("`git cat-file blob {} > shop.scant` brings it back", hash.trim_end());
    assert!(err.contains("N020") && err.contains(&back), "{err}");
    // Without git, and without a git that has the text.
    write(&path, "shop.scant", &SHOP.replace("18mm", "17.6mm"));
    write(&path, "wall.scant", WALL);
    fs::remove_dir_all(Path::new(&path).join(".git")).unwrap();
    let only = "git does not have the locked text of `shop.scant`; commit shared files";
    let (status, out, err) = scantling(&path, &["check", "wall.scant"]);
    assert!(status == 0 && err.contains(only), "{err}");
    assert_eq!(out, "wall.scant: 2 units, 10 parts; 1 warning\n");
    let bin = assert_cmd::cargo::cargo_bin("scantling");
    let without = std::process::Command::new(bin)
        .current_dir(&path)
        .args(["check", "wall.scant"])
        .env("PATH", "")
        .output()
        .unwrap();
    assert!(without.status.success() && String::from_utf8(without.stderr).unwrap().contains(only));
}

#[test]
fn files_that_come_and_go_are_told() {
    let (_keep, path) = locked();
    write(&path, "modules/colours.scant", "let light = 3mm\n");
    change(&path, "wall.scant", "use \"shop.scant\"\n", "use \"shop.scant\"\nuse colours\n");
    let (status, told) = checked(&path, &["wall.scant"]);
    assert_eq!(
        (status, told[0].as_str()),
        (0, "wall.scant:2:5: warning[D007]: `modules/colours.scant` is not locked")
    );
    // What is not built from here is not locked from here.
    fs::copy(format!("{path}/wall.scant"), format!("{path}/draft.scant")).unwrap();
    assert_eq!(checked(&path, &["draft.scant"]).1, ["draft.scant: 2 units, 10 parts; no problems"]);
    write(&path, "scantling.toml", "build = [\"wall.scant\"]\nmodules = [\"modules\"]\n");
    let (_, told) = checked(&path, &[]);
    let gone =
        "warning[D008]: `modules/cupboard.scant` is locked, but nothing that is built uses it any more";
    assert!(told[1].starts_with("scantling.lock:5:") && told[1].ends_with(gone), "{told:?}");
    assert_eq!(told.last().unwrap(), "1 project: 2 units, 10 parts; 2 warnings");
    let (_, out, _) = scantling(&path, &["lock"]);
    assert_eq!(
        out,
        "scantling.lock: 2 shared files; new: modules/colours.scant; gone: modules/cupboard.scant\n"
    );
    assert_eq!(checked(&path, &[]).1.last().unwrap(), "1 project: 2 units, 10 parts; no problems");
}

#[test]
fn a_lock_that_cannot_be_read_is_an_error_and_written_anew() {
    let (_keep, path) = locked();
    let lock = fs::read_to_string(format!("{path}/scantling.lock")).unwrap();
    let conflict = "<<<<<<< HEAD\n[files]\n=======\n>>>>>>> other\n";
    for (text, line) in [
        (conflict, 1),
        ("files = 3\n", 1),
        ("[files]\n\"shop.scant\" = \"--help\"\n", 2),
        ("[files]\n[more]\n", 2),
    ] {
        write(&path, "scantling.lock", text);
        let (status, told) = checked(&path, &["wall.scant"]);
        let expected = format!("scantling.lock:{line}:");
        assert!(status == 1 && told[0].starts_with(&expected) && told[0].contains("error[D009]"), "{told:?}");
        assert_eq!(told.len(), 2, "{told:?}");
    }
    let (_, _, err) = scantling(&path, &["check", "wall.scant"]);
    assert!(err.contains("write it again: `scantling lock`"), "{err}");
    assert_eq!(scantling(&path, &["lock"]).0, 0);
    assert_eq!(fs::read_to_string(format!("{path}/scantling.lock")).unwrap(), lock);
}

/// A folder with one project needs no manifest to be checked, as `mark` and `diff` need none; `lock` says what to write.
#[test]
fn the_only_project_of_a_folder_is_found() {
    let (_keep, path) = folder();
    write(&path, "wall.scant", &format!("{SHOP}{}", WALL.replace("use \"shop.scant\"\n", "")));
    let (status, out, err) = scantling(&path, &["check"]);
    assert_eq!((status, out.as_str()), (0, "wall.scant: 2 units, 10 parts; no problems\n"), "{err}");
    let (status, _, err) = scantling(&path, &["lock"]);
    assert!(status == 2 && err.contains("F037") && err.contains("[\"wall.scant\"]"), "{err}");
    // Marks stand beside it and are no project; of two files one must be meant.
    assert_eq!(scantling(&path, &["mark", "cut", "left.side"]).0, 0);
    assert_eq!(scantling(&path, &["check"]).0, 0);
    write(&path, "bench.scant", SHOP);
    let (status, _, err) = scantling(&path, &["check"]);
    assert!(status == 2 && err.contains("\"bench.scant\", \"wall.scant\""), "{err}");
}
