//! Benchmarks: `cargo bench --bench bench`.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "a benchmark that cannot go on stops"
)]

use divan::Bencher;
use scantling::compile::{Compilation, compile};
use scantling::diff::{Side, diff};
use scantling::format::format;
use scantling::source::{DiskFiles, Files, MemoryFiles};
use std::process::{Command, Stdio};

const EXAMPLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/sewing-room/sewing_room.scant");

fn main() {
    divan::main();
}

/// `scantling check` of the example as its user runs it: a whole process.
#[divan::bench(sample_count = 100)]
fn check_as_a_process() {
    let status = Command::new(env!("CARGO_BIN_EXE_scantling"))
        .args(["check", EXAMPLE])
        .stdout(Stdio::null())
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

/// A change of two lines in a project of 10,000 parts, as `scantling diff` compares it: both sides are read and compiled,
/// and all their sheets drawn.
#[divan::bench(sample_count = 10)]
fn diff_ten_thousand_parts(bencher: Bencher) {
    let text = many_parts();
    let changed = text.replacen("23/32\"", "45/64\"", 1).replacen("c = 30\"", "c = 31\"", 1);
    bencher.bench(|| {
        let [old, new] = [&text, &changed].map(|text| {
            let files = MemoryFiles::single("many.scant", text.as_bytes());
            compile(&files, "many.scant".into()).expect("it can be read")
        });
        assert!(!old.has_errors() && old.graph.parts.len() >= 10_000);
        diff(side("old", &old), side("new", &new)).changes.len()
    });
}

fn side<'a>(name: &'a str, of: &'a Compilation) -> Side<'a> {
    Side { name, sources: &of.sources, model: &of.model, graph: &of.graph, diagnostics: &of.diagnostics }
}

/// Carcasses of nineteen parts each, on a stick of their own for every eleven.
fn many_parts() -> String {
    let mut text = String::from("sheet ply { thickness = 23/32\" }\n");
    for stick in 0..50 {
        text.push_str(&format!(
            "stick s{stick} {{ a = 4\", b = 15\", c = 30\", d = 40\", e = 50\", f = 60\", g = 70\" }}\n"
        ));
        for carcass in 0..11 {
            text.push_str(&format!(
                "carcass c{stick}_{carcass} {{ stock = ply, width = 32\", height = 80\", depth = 11\", shelves = s{stick}, \
                 cleat {{ height = 2\" }}, stretcher bottom, stretcher top {{ height = 3\" }} }}\n"
            ));
        }
    }
    text
}
