//! What a text says before anything is made of it: who uses which name; changes over several files; work that is stopped.

use crate::{files_under, root};
use scantling::cancel::{Cancel, Cancelled};
use scantling::compile::{Analysis, Halt, analyse, build, compile, prove};
use scantling::source::{DiskFiles, Files, MemoryFiles, Overlay, Span};
use std::collections::BTreeSet;

const SHARED: &str = "let margin = 2\"\nsheet ply { thickness = 23/32\" }\nmodule box { param wide: length, let inner = wide - margin, carcass c { stock = ply, width = inner, height = 30\", depth = 12\", shelves = lines } stick lines { low = 3\" } }\n";
const MAIN: &str = "use \"shared.scant\"\nlet margin = 1\"\nlet half = margin / 2\nstick s { floor = 3\" }\ncarcass a { stock = ply, width = 30\" + margin, height = 30\", depth = 12\" - half, shelves = s }\nbox one { wide = 20\" + margin }\nbox two { wide = 24\" }\nrequire a.width >= 20\" + half because \"boots\"\n";

fn files() -> MemoryFiles {
    let mut files = MemoryFiles::single("main.scant", MAIN);
    files.insert("shared.scant", SHARED);
    files
}

/// `file:line:column` of a place, and the text there.
fn told(analysis: &Analysis, span: Span) -> String {
    let file = analysis.sources.get(span.file).unwrap();
    let at = file.position(span.start);
    format!("{}:{}:{} {}", file.path(), at.line + 1, at.col + 1, analysis.sources.text(span))
}

#[test]
fn every_use_of_a_name_leads_to_its_declaration() {
    let analysis = analyse(&files(), "main.scant".into()).unwrap();
    let uses = |line: usize, column: u32| {
        let start: usize = MAIN.lines().take(line - 1).map(|line| line.len() + 1).sum();
        let file = analysis.sources.find("main.scant".into()).unwrap();
        let (_, declared) = analysis.uses.at(file, u32::try_from(start).unwrap() + column - 1).unwrap();
        let all = analysis.uses.of(declared).map(|span| told(&analysis, span));
        (told(&analysis, declared), all.collect::<Vec<_>>())
    };
    // `margin` of the main file, not of the shared one; as an argument of a module it is seen from the main file.
    let margin = ["main.scant:3:12 margin", "main.scant:5:40 margin", "main.scant:6:24 margin"];
    assert_eq!(uses(3, 12), ("main.scant:2:5 margin".to_owned(), margin.map(str::to_owned).to_vec()));
    let half = ["main.scant:5:76 half", "main.scant:8:26 half"];
    assert_eq!(uses(8, 30), ("main.scant:3:5 half".to_owned(), half.map(str::to_owned).to_vec()));
    // The sheet of the other file, used there and here; each use of the module counts once.
    let ply = ["main.scant:5:21 ply", "shared.scant:3:81 ply"];
    assert_eq!(uses(5, 21), ("shared.scant:2:7 ply".to_owned(), ply.map(str::to_owned).to_vec()));
    assert_eq!(uses(8, 9).0, "main.scant:5:9 a");
    assert_eq!(uses(8, 11).0, "main.scant:5:26 width");
}

/// Marks of a stick are declared there and used where a unit skips one, where something stands on one, and where a shelf on one
/// has a block of its own.
#[test]
fn marks_of_a_stick_are_names_like_others() {
    let text = "sheet ply { thickness = 3/4\" }\nstick s { low = 3\", mid = 15\", top = 26\" }\n\
                each unit { shelves = s, stock = ply, width = 30\", height = 30\", depth = 12\" }\n\
                carcass a { shelves = s, stock = ply, width = 30\", height = 30\", depth = 12\", skip = [mid]\n\
                contents jars { on = [low, top], height = 8\" }\nshelf low { load = other } }\n";
    let analysis = analyse(&MemoryFiles::single("main.scant", text), "main.scant".into()).unwrap();
    let uses = |name: &str| {
        let at = text.find(&format!("{name} = ")).unwrap();
        let file = analysis.sources.find("main.scant".into()).unwrap();
        let span = Span { file, start: at as u32, end: (at + name.len()) as u32 };
        analysis.uses.of(span).map(|span| told(&analysis, span)).collect::<Vec<_>>()
    };
    assert_eq!(uses("mid"), ["main.scant:4:87 mid"]);
    assert_eq!(uses("low"), ["main.scant:5:23 low", "main.scant:6:7 low"]);
    assert_eq!(uses("top"), ["main.scant:5:28 top"]);
}

/// Whoever gives every use and the declaration another name changes nothing else.
#[test]
fn what_is_declared_can_be_renamed_by_its_uses() {
    let mut renamed = 0;
    for path in files_under("examples", ".scant") {
        if scantling::progress::is_progress(&path) {
            continue;
        }
        let analysis = analyse(&DiskFiles, &path).unwrap();
        let before = compile(&DiskFiles, &path).unwrap();
        let own = |span: &Span| analysis.sources.get(span.file).unwrap().path() == path;
        let declared: BTreeSet<Span> = analysis.uses.declarations().filter(own).collect();
        for declared in declared {
            let text = analysis.sources.get(declared.file).unwrap().text();
            let name = analysis.sources.text(declared);
            let mut places: Vec<Span> = analysis.uses.of(declared).chain([declared]).collect();
            places.sort();
            let mut after = text.to_owned();
            for span in places.iter().rev().filter(|span| span.file == declared.file) {
                assert_eq!(&text[span.range()], name);
                after.replace_range(span.range(), "zz_other");
            }
            let mut overlay = Overlay::new(&DiskFiles);
            overlay.put(&path, after);
            let compiled = compile(&overlay, &path).unwrap();
            let codes = |all: &scantling::compile::Compilation| {
                let mut codes: Vec<&str> = all.diagnostics.iter().map(|told| told.code.id).collect();
                codes.sort_unstable();
                codes
            };
            let sizes = |all: &scantling::compile::Compilation| {
                let size = |part: &scantling::parts::Part| [part.size.length.value, part.size.width.value];
                let mut sizes: Vec<_> = all.graph.parts.iter().map(size).collect();
                sizes.sort_unstable();
                sizes
            };
            assert_eq!(codes(&before), codes(&compiled), "{path}: {name}");
            // Runs stand in the order of their names.
            assert_eq!(sizes(&before), sizes(&compiled), "{path}: {name}");
            renamed += 1;
        }
    }
    assert!(renamed >= 40, "only {renamed} names");
}

#[test]
fn a_fix_may_lie_in_another_file() {
    // The strip that is too weak is stated in the shared file.
    let text = std::fs::read_to_string(root().join("examples/sewing-room/sewing_room.scant")).unwrap();
    let shared = "let strip_height = 1 1/2\"\n";
    let main = format!("use \"shop.scant\"\n{}", text.replace("strip = 1 1/2\"", "strip = strip_height"));
    let mut files = MemoryFiles::single("main.scant", main);
    files.insert("shop.scant", shared);
    let mut built = build(&files, analyse(&files, "main.scant".into()).unwrap(), &Cancel::default()).unwrap();
    prove(&files, &mut built, &Cancel::default()).unwrap();
    let sag = built.compilation.diagnostics.iter().find(|told| told.code.slug == "sag").unwrap();
    let edit = &sag.fixes[0].edits[0];
    assert_eq!(built.compilation.sources.get(edit.span.file).unwrap().path(), "shop.scant");
    assert_eq!((built.compilation.sources.text(edit.span), &*edit.text), ("1 1/2\"", "1 5/8\""));
    // What others may use is not changed unasked.
    let mended = scantling::compile::mended(&files, "main.scant".into()).unwrap();
    assert_eq!((mended.before == mended.after, mended.titles.len()), (true, 0));
}

#[test]
fn work_that_is_stopped_gives_nothing() {
    let path = root().join("examples/sewing-room/sewing_room.scant");
    let cancel = Cancel::default();
    let mut built = build(&DiskFiles, analyse(&DiskFiles, &path).unwrap(), &cancel).unwrap();
    cancel.clone().cancel();
    assert_eq!(prove(&DiskFiles, &mut built, &cancel), Err(Cancelled));
    let none = |fixes: &[scantling::diag::Fix]| fixes.is_empty();
    assert!(built.compilation.diagnostics.iter().all(|told| none(&told.fixes)));
    let stopped = build(&DiskFiles, analyse(&DiskFiles, &path).unwrap(), &cancel);
    assert!(matches!(stopped, Err(Halt::Cancelled(Cancelled))));
}

#[test]
fn what_is_not_saved_stands_before_what_is_on_the_disk() {
    let saved = files();
    let mut overlay = Overlay::new(&saved);
    overlay.put("./shared.scant".into(), "sheet ply { thickness = 1/2\" }\n");
    overlay.put("new.scant".into(), "");
    assert_eq!(overlay.read("shared.scant".into()).unwrap(), b"sheet ply { thickness = 1/2\" }\n");
    assert_eq!(overlay.read("main.scant".into()).unwrap(), MAIN.as_bytes());
    assert_eq!(overlay.read("new.scant".into()).unwrap(), b"");
    assert!(overlay.read("other.scant".into()).is_err());
}
