//! `cargo bench --bench bench -- --growth`: how the check, an answer of `why` and each sheet grow with the parts of one run.

use scantling::breakdown::{Effort, Plans};
use scantling::compile::{Compilation, compile};
use scantling::render;
use scantling::sheets::SHEETS;
use scantling::source::MemoryFiles;
use std::time::Instant;

/// Units of the run, each of 22 parts: from 10^3 to 10^5 parts.
const UNITS: [usize; 3] = [45, 450, 4_500];

/// A join of one part, which goes before what holds for all.
const JOIN: &str = "join r.u1.shelf.b to r.u1.side.left with dado { depth = 5mm }\n";

/// Prints a table: seconds by parts, and the exponent of the growth, which is 1 where time grows with the parts.
pub(super) fn print() {
    let runs = UNITS.map(|units| {
        let file = MemoryFiles::single("long.scant", super::long_run(units, ""));
        let compilation = compile(&file, "long.scant".into()).expect("it can be read");
        assert!(!compilation.has_errors() && compilation.graph.parts.len() == 22 * units + 1);
        compilation
    });
    let parts = runs.each_ref().map(|run| run.graph.parts.len());
    println!("| what | {} parts | {} | {} | exponent | of the last step |", parts[0], parts[1], parts[2]);
    println!("|---|---|---|---|---|---|");
    for (what, more) in [("check", ""), ("check, with a join of one part", JOIN)] {
        row(what, parts, |size| {
            let file = || MemoryFiles::single("long.scant", super::long_run(UNITS[size], more));
            least(file, |file| compile(file, "long.scant".into()).expect("it can be read"))
        });
    }
    row("one `why`", parts, |size| {
        let why = |compilation: &Compilation| {
            compilation.graph.find("r.u3.shelf.b.length").expect("it is there").len()
        };
        least(|| fresh(&runs[size]), why)
    });
    for sheet in SHEETS {
        row(sheet.name, parts, |size| {
            let make = |compilation: &Compilation| {
                render::text(&(sheet.make)(compilation.subject(Effort::Quick)).document).len()
            };
            least(|| fresh(&runs[size]), make)
        });
    }
}

/// The same compilation without what was worked out for sheets before.
fn fresh(compilation: &Compilation) -> Compilation {
    Compilation { graph: compilation.graph.clone(), plans: Plans::default(), ..compilation.clone() }
}

fn row(what: &str, parts: [usize; 3], seconds: impl Fn(usize) -> f64) {
    let took = [0, 1, 2].map(seconds);
    let exponent = |from: usize| (took[2] / took[from]).ln() / (parts[2] as f64 / parts[from] as f64).ln();
    let [small, middle, large] = took.map(|seconds| format!("{:.3} ms", 1e3 * seconds));
    println!("| {what} | {small} | {middle} | {large} | {:.2} | {:.2} |", exponent(0), exponent(1));
}

/// Seconds on the clock, the least of five runs, since other work on the machine only adds; what they make is dropped
/// outside of them.
fn least<I, O>(prepare: impl Fn() -> I, run: impl Fn(&I) -> O) -> f64 {
    let took = [0; 5].map(|_| {
        let input = prepare();
        let start = Instant::now();
        let output = std::hint::black_box(run(&input));
        let took = start.elapsed().as_secs_f64();
        drop(output);
        took
    });
    took.into_iter().fold(f64::INFINITY, f64::min)
}
