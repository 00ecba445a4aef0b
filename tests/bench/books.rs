//! `cargo bench --bench bench -- --books`: the shop book and all that `scantling build` writes, as their user runs them, a whole process
//! with quick layouts: how many pages, how many bytes, how long; the fastest of some runs, since other work on the machine only adds.

use scantling::breakdown::Effort;
use scantling::compile::compile;
use scantling::pages::PLACES;
use scantling::source::DiskFiles;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

/// Prints a table.
pub(super) fn print() {
    let examples = ["sewing-room", "alcove-pair", "back-hall", "hall-bench", "pantry", "study"];
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("books");
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    let many = folder.join("many.scant");
    std::fs::write(&many, super::faced_runs()).expect("it can be written");
    let example = |name: &str| {
        let file = format!("examples/{name}/{}.scant", name.replace('-', "_"));
        (name.replace('-', " "), Path::new(env!("CARGO_MANIFEST_DIR")).join(file), 5)
    };
    println!("| what | parts | pages | the book | made in | all that `build` writes | made in |");
    println!("|---|---|---|---|---|---|---|");
    for (name, file, runs) in
        examples.map(example).into_iter().chain([("38 runs of ten units".to_owned(), many, 1)])
    {
        let file = file.to_str().expect("a path in words");
        let compilation = compile(&DiskFiles, file.into()).expect("it can be read");
        let subject = compilation.subject(Effort::Quick);
        let pages: usize = PLACES.iter().map(|place| (place.make)(subject).len()).sum();
        let (book, out) = (folder.join("book.html"), folder.join("out"));
        let in_book = took(runs, "book", file, &book);
        let in_build = took(runs, "build", file, &out);
        let bytes = |path: &Path| std::fs::metadata(path).map_or(0, |file| file.len());
        let built = std::fs::read_dir(&out).expect("it is there").flatten();
        let built: u64 = built.map(|entry| bytes(&entry.path())).sum();
        let parts = compilation.graph.parts.len();
        let size = |bytes: u64| format!("{:.2} MB", bytes as f64 / 1e6);
        let time = |seconds: f64| format!("{:.0} ms", 1e3 * seconds);
        let (book, built) = (size(bytes(&book)), size(built));
        println!(
            "| {name} | {parts} | {pages} | {book} | {} | {built} | {} |",
            time(in_book),
            time(in_build)
        );
    }
}

/// Seconds that a command takes, the least of so many runs; what is there already would not be written again.
fn took(runs: usize, command: &str, file: &str, out: &Path) -> f64 {
    let run = |_| {
        let _ = std::fs::remove_file(out).or_else(|_| std::fs::remove_dir_all(out));
        let mut program = Command::new(env!("CARGO_BIN_EXE_scantling"));
        program.args([command, file, "--effort", "quick", "--out"]).arg(out);
        let start = Instant::now();
        let status = program.stdout(Stdio::null()).stderr(Stdio::null()).status();
        assert!(status.expect("the program runs").success(), "{command} {file}");
        start.elapsed().as_secs_f64()
    };
    (0..runs).map(run).fold(f64::INFINITY, f64::min)
}
