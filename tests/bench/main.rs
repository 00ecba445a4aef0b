//! Benchmarks: `cargo bench --bench bench`, with `-- --growth` how time grows with the parts, with `-- --books` how large books are and how
//! long they take.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark that cannot go on stops"
)]

use divan::Bencher;
use scantling::breakdown::{Effort, Plans};
use scantling::cancel::Cancel;
use scantling::check::{Subject, check};
use scantling::compile::{Compilation, compile};
use scantling::diag::Sink;
use scantling::diff::{Side, diff};
use scantling::format::format;
use scantling::sheets::sheet;
use scantling::source::{DiskFiles, Files, MemoryFiles, Sources};
use std::process::{Command, Stdio};

const EXAMPLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/sewing-room/sewing_room.scant");

mod books;
mod growth;

fn main() {
    let asked = |what: &str| std::env::args().any(|argument| argument == what);
    if asked("--growth") {
        growth::print();
    } else if asked("--books") {
        books::print();
    } else {
        divan::main();
    }
}

/// `scantling check` of the example as its user runs it: a whole process.
#[divan::bench(sample_count = 100)]
fn check_as_a_process() {
    let status = Command::new(env!("CARGO_BIN_EXE_scantling"))
        .args(["check", EXAMPLE])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .expect("the program runs");
    assert!(status.success());
}

/// The same without the process: text to parts and findings.
#[divan::bench]
fn compile_the_example(bencher: Bencher) {
    let text = DiskFiles.read(EXAMPLE.into()).expect("the example is there");
    let files = MemoryFiles::single("sewing_room.scant", text);
    bencher.bench(|| compile(&files, "sewing_room.scant".into()).expect("it can be read"));
}

/// Source text to tree and model, by size: time must grow with the text and no faster.
#[divan::bench(args = [1, 4, 16], sample_count = 10)]
fn compile_many_sheets(bencher: Bencher, tenth_megabytes: usize) {
    let text = many_sheets(tenth_megabytes);
    let files = MemoryFiles::single("many.scant", text);
    bencher.bench(|| compile(&files, "many.scant".into()).expect("it can be read"));
}

/// Source text to typed tree, by megabytes.
#[divan::bench(args = [1, 5], sample_count = 10)]
fn parse_many_sheets(bencher: Bencher, megabytes: usize) {
    let text = many_sheets(10 * megabytes);
    let file = Sources::default().add("many.scant", text.clone());
    bencher.bench(|| scantling::syntax::parse(file, &text, &mut Sink::default()));
}

/// A project of 9,538 parts: the check and three sheets of it as text, as they are made in one process.
#[divan::bench(sample_count = 10)]
fn check_and_three_sheets_of_many_parts(bencher: Bencher) {
    let files = MemoryFiles::single("many.scant", faced_runs());
    bencher.bench(|| {
        let compilation = compile(&files, "many.scant".into()).expect("it can be read");
        assert!(compilation.diagnostics.is_empty() && compilation.graph.parts.len() == 9538);
        let subject = compilation.subject(Effort::Quick);
        let draw = |name| scantling::render::text(&(sheet(name).expect("it exists").make)(subject).document);
        ["cut-list", "marks", "hardware"].map(draw)
    });
}

/// A run of so many units with loads, cleats, strips and rails.
fn long_run(units: usize, more: &str) -> String {
    let units: String = (0..units).map(|unit| format!("  unit u{unit}\n")).collect();
    format!(
        "project {{ marks = 1mm }}
sheet ply {{ size = 2440mm x 1220mm, thickness = 18mm, density = 680 kg/m3, stiffness = 8.5 GPa }}
board ash {{ thickness = 20mm, density = 600 kg/m3, stiffness = 10 GPa }}
nail brad {{ length = 50mm }}
saw table {{ kerf = 3mm }}
stick lines {{ a = 80mm, b = 400mm, c = 700mm, d = 1000mm, e = 1300mm, f = 1600mm }}
run r {{
  each unit {{
    stock = ply, width = 600mm, height = 1900mm, depth = 300mm, shelves = lines, load = books
    stretcher bottom, cleat {{ height = 60mm }}
  }}
{units}  facing {{ stock = ash, stile = 45mm, strip = 40mm, top_rail = 60mm }}
}}
join shelf to side with dado {{ depth = 6mm, nail = brad }}
{more}"
    )
}

/// All checks of a project of 9,538 parts with walls, studs, weights, loads and contents, without mends: what they add to the
/// model and the parts.
#[divan::bench(sample_count = 20)]
fn checks_of_many_parts(bencher: Bencher) {
    let files = MemoryFiles::single("many.scant", loaded_runs());
    let compilation = compile(&files, "many.scant".into()).expect("it can be read");
    assert!(!compilation.has_errors() && compilation.graph.parts.len() == 9538);
    let Compilation { model, graph, .. } = &compilation;
    bencher.bench(|| {
        let plans = Plans::default();
        let report = check(&Subject::new(model, graph, &plans), &Cancel::default()).expect("nobody stops it");
        assert!(report.findings.len() > 1_000, "{}", report.findings.len());
        report.findings.len()
    });
}

/// The same project, text to parts, findings and messages.
#[divan::bench(sample_count = 10)]
fn compile_many_parts_with_loads(bencher: Bencher) {
    let files = MemoryFiles::single("many.scant", loaded_runs());
    bencher.bench(|| compile(&files, "many.scant".into()).expect("it can be read"));
}

/// Each sheet of the same as text.
#[divan::bench(args = ["cut-list", "parts", "marks", "hardware", "finish", "tree"], sample_count = 10)]
fn sheets_of_many_parts(bencher: Bencher, name: &str) {
    let files = MemoryFiles::single("many.scant", faced_runs());
    let compilation = compile(&files, "many.scant".into()).expect("it can be read");
    let subject = compilation.subject(Effort::Quick);
    let sheet = sheet(name).expect("it exists");
    bencher.bench(|| scantling::render::text(&(sheet.make)(subject).document));
}

/// Source text to its canonical form, by size: the text is read, laid out, drawn, and the result read again.
#[divan::bench(args = [1, 10], sample_count = 10)]
fn format_many_sheets(bencher: Bencher, tenth_megabytes: usize) {
    let text = many_sheets(tenth_megabytes);
    bencher.bench(|| format(&text).expect("it proves itself"));
}

fn many_sheets(tenth_megabytes: usize) -> String {
    let mut text = String::new();
    let mut count = 0_usize;
    while text.len() < tenth_megabytes * 100_000 {
        count += 1;
        text.push_str(&format!("/// Lot {count}.\nsheet ply_{count} {{\n  size = 96\" x 48\"\n  thickness = 23/32\" // caliper\n}}\n\n"));
    }
    text
}

/// A change of two lines in a project of 10,000 parts, as `scantling diff` compares it: both sides are read and compiled at
/// once, all their sheets are laid out and drawn. All units alike, or each of its own width.
#[divan::bench(args = ["alike", "varied"], sample_count = 10)]
fn diff_ten_thousand_parts(bencher: Bencher, which: &str) {
    let text = many_parts(which == "varied");
    let changed = text.replacen("23/32\"", "45/64\"", 1).replacen("c = 30\"", "c = 31\"", 1);
    bencher.bench(|| {
        let compiled = |text: &str| {
            let files = MemoryFiles::single("many.scant", text.as_bytes());
            compile(&files, "many.scant".into()).expect("it can be read")
        };
        let (old, new) = std::thread::scope(|scope| {
            let old = scope.spawn(|| compiled(&text));
            let new = compiled(&changed);
            (old.join().expect("it can be read"), new)
        });
        assert!(!old.has_errors() && old.graph.parts.len() >= 10_000);
        diff(side("old", &old), side("new", &new)).changes.len()
    });
}

fn side<'a>(name: &'a str, of: &'a Compilation) -> Side<'a> {
    Side {
        name,
        sources: &of.sources,
        model: &of.model,
        graph: &of.graph,
        plans: &of.plans,
        findings: &of.findings,
        diagnostics: &of.diagnostics,
    }
}

/// Carcasses of nineteen parts each, on a stick of their own for every eleven.
fn many_parts(varied: bool) -> String {
    let mut text = String::from("sheet ply { size = 96\" x 48\", thickness = 23/32\", skim = 1/8\" }\n");
    for stick in 0..50 {
        text.push_str(&format!(
            "stick s{stick} {{ a = 4\", b = 15\", c = 30\", d = 40\", e = 50\", f = 60\", g = 70\" }}\n"
        ));
        for carcass in 0..11 {
            let width =
                if varied { format!("{}/8", 160 + (stick * 11 + carcass) % 200) } else { "32".to_owned() };
            text.push_str(&format!(
                "carcass c{stick}_{carcass} {{ stock = ply, width = {width}\", height = 80\", depth = 11\", shelves = s{stick}, \
                 cleat {{ height = 2\" }}, stretcher bottom, stretcher top {{ height = 3\" }} }}\n"
            ));
        }
    }
    text
}

/// 38 runs of ten units, each with seven shelves, cleats, stretchers and facing.
fn faced_runs() -> String {
    let head = "sheet ply { thickness = 23/32\" }\nboard white { thickness = 3/4\" }\nnail brad { length = 1 1/2\" }\n\
        stick lines { floor = 3 1/2\", a = 15\", b = 27\", c = 39\", d = 51\", e = 63\", f = 75\" }\n\
        join shelf to side with dado { nail = brad }\n\
        finish painted { coats = [primer, latex_enamel], loss = 10 % }\n";
    let units: String = (0..10).map(|unit| format!("  unit u{unit}\n")).collect();
    let runs = (0..38).map(|run| {
        format!(
            "run wall_{run} {{\n  each unit {{ width = 32\", height = 84\", depth = 11 3/4\", shelves = lines, \
             cleat {{ height = 2\" }}, stretcher bottom }}\n{units}  facing {{ stock = white, stile = 1 3/4\", \
             strip = 1 1/2\", top_rail = 4\", bottom_rail = to_floor }}\n}}\n"
        )
    });
    runs.fold(head.to_owned(), |text, run| text + &run)
}

/// The same runs along walls of their own, with all that the checks ask for.
fn loaded_runs() -> String {
    let stock =
        "sheet ply { thickness = 23/32\", density = 36 lb/ft3, stiffness = 0.95e6 psi, twist = 0.075e6 psi";
    let solid =
        "board white { thickness = 3/4\", density = 28 lb/ft3, stiffness = 1.58e6 psi, swell = 0.289 %";
    let shop = "saw table { fence = 50\", reach = 13\" }\nrouter { base = 2 7/8\", bit = 1/2\" }\nperson { count = 2, joint = 40 s }\nclamp bar { count = 20 }\nscrew long { length = 2 1/2\" }\njoin cleat to wall with butt { screw = long }\n";
    let walls: String = (0..38)
        .map(|wall| format!("  wall w{wall} {{ right = open, reading low {{ back = 322\", front = 322\" }}, lining = 1/2\", studs {{ first = 8\", every = 16\" }} }}\n"))
        .collect();
    let room = format!(
        "room hall {{\n  floor {{ stand_on = finished, build = slab }}\n  ceiling {{ above = [96\"] }}\n{walls}}}\n"
    );
    let contents =
        ", load = books, contents books { height = 9\", depth = 8\", length = 200\" }, stretcher bottom }";
    let mut text = faced_runs();
    for wall in 0..38 {
        let run = format!("run wall_{wall} {{\n");
        text =
            text.replacen(&run, &format!("{run}  along = hall.w{wall}\n  end left {{ gap = 7/8\" }}\n"), 1);
    }
    let text = text.replace("sheet ply { thickness = 23/32\"", stock);
    let text =
        text.replace("board white { thickness = 3/4\"", solid).replace(", stretcher bottom }", contents);
    text + shop + &room
}

/// What would never end is told at once: a module that uses itself, 10^9 uses, 65 levels, 100,000 imports.
#[divan::bench(args = ["itself", "10^9 uses", "65 levels", "100,000 imports"], sample_count = 10)]
fn limits(bencher: Bencher, which: &str) {
    let nested = |levels: usize, body: &str| {
        let mut text: String = (1..levels)
            .map(|i| format!("module m{i} {{ {} }}\n", body.replace('#', &format!("m{}", i + 1))))
            .collect();
        text.push_str(&format!("module m{levels} {{ stick lines {{ floor = 3\" }} }}\nm1 all\n"));
        text
    };
    let (text, code) = match which {
        "itself" => ("module a { a inner }\na outer\n".to_owned(), "N025"),
        "10^9 uses" => (nested(31, "# left, # right"), "N026"),
        "65 levels" => (nested(65, "# inner"), "N024"),
        _ => ("use \"a.scant\"\n".repeat(100_000), "S020"),
    };
    let mut files = MemoryFiles::single("limits.scant", text);
    files.insert("a.scant", "");
    bencher.bench(|| {
        let compilation = compile(&files, "limits.scant".into()).expect("it can be read");
        assert!(compilation.diagnostics.iter().any(|diagnostic| diagnostic.code.id == code));
    });
}
