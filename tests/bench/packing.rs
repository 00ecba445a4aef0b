//! Benchmark of the cutting library against a folder of instances in the format `cutbench/1`.
//!
//! ```text
//! cargo bench --bench packing -- FOLDER [--variants 2rip,2s] [--only TEXT] [--effort quick|normal|thorough] [--out FOLDER]
//! cargo bench --bench packing -- --growth
//! ```
//!
//! Prints one line a variant: best known value and bound as the instance states them, then our value, bound, seconds on
//! the processor (where the system tells them, else on the clock), distinct fence settings and fence moves. With `--out`
//! the layouts are written for an independent checker. `--growth` plans made-up jobs of more and more distinct sizes instead.

#![allow(
    clippy::expect_used,
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a program for the developer: it prints, reads files, looks at the clock and stops at the first trouble"
)]

use std::path::PathBuf;
use std::sync::LazyLock;
use std::time::Instant;

use scantling::cutting::exchange::{run, variants};
use scantling::cutting::{Effort, Grain, Job, Part, Rules, Sheet, Trim, plan};

static START: LazyLock<Instant> = LazyLock::new(Instant::now);

/// Seconds that this process has been on the processor, as Linux counts them; elsewhere seconds on the clock.
fn seconds_used() -> f64 {
    std::fs::read_to_string("/proc/self/schedstat")
        .ok()
        .and_then(|text| text.split(' ').next()?.parse::<f64>().ok())
        .map_or_else(|| START.elapsed().as_secs_f64(), |nanoseconds| nanoseconds / 1e9)
}

/// Most memory that this process has had, in megabytes, as Linux counts it.
fn megabytes() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|l| l.starts_with("VmHWM:")).unwrap_or_default();
    line.split_whitespace().nth(1).and_then(|kb| kb.parse::<u64>().ok()).unwrap_or(0) / 1024
}

/// Time by distinct sizes, two parts of each, a third of them free to turn: it must not grow faster than their square.
fn growth() {
    println!("| distinct sizes | parts | sheets | bound | seconds | most memory, MB |");
    println!("| --- | --- | --- | --- | --- | --- |");
    for sizes in [25_i64, 50, 100, 150, 200, 250, 400, 800] {
        let size = |i: i64, step: i64, from: i64, span: i64| from + (i * step + sizes) % span;
        let parts = (0..sizes)
            .map(|i| {
                let part = Part::new(&format!("p{i}"), size(i, 389, 120, 800), size(i, 101, 48, 241), 2);
                part.grain(if i % 3 == 0 { Grain::Free } else { Grain::Along })
            })
            .collect();
        let mut sheet = Sheet::new("sheet", 1536, 768);
        sheet.trim = Trim::all(4);
        let job = Job { sheets: vec![sheet], parts, rules: Rules::rip_first(2) };
        let start = seconds_used();
        let found = plan(&job, Effort::Normal).expect("a plan");
        let took = seconds_used() - start;
        let (parts, sheets, bound) = (2 * sizes, found.sheets, found.bound.cost);
        println!("| {sizes} | {parts} | {sheets} | {bound} | {took:.2} | {} |", megabytes());
    }
}

fn main() {
    let mut folder = None;
    let mut out: Option<PathBuf> = None;
    let mut wanted: Vec<String> =
        ["2rip", "2s", "2rip-o", "2s-o", "2rip-r", "2s-r", "2h-o", "2h-r", "1d"].map(String::from).to_vec();
    let mut only = String::new();
    let mut effort = Effort::Normal;
    let mut args = std::env::args().skip(1);
    while let Some(arg) = args.next() {
        match arg.as_str() {
            "--bench" => {}
            "--growth" => return growth(),
            "--variants" => wanted = args.next().expect("a list").split(',').map(String::from).collect(),
            "--only" => only = args.next().expect("a text"),
            "--out" => out = Some(PathBuf::from(args.next().expect("a folder"))),
            "--effort" => {
                effort = match args.next().as_deref() {
                    Some("quick") => Effort::Quick,
                    Some("thorough") => Effort::Thorough,
                    _ => Effort::Normal,
                }
            }
            _ => folder = Some(PathBuf::from(arg)),
        }
    }
    let Some(folder) = folder else {
        println!("packing: no folder of instances given, nothing to do");
        return;
    };
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("the folder can be read")
        .filter_map(|e| Some(e.ok()?.path()))
        .filter(|p| p.extension().is_some_and(|e| e == "json") && p.to_string_lossy().contains(&only))
        .collect();
    files.sort();
    println!(
        "| instance | variant | best known | known bound | ours | bound | proof | seconds | settings | moves | |"
    );
    println!("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
    let (mut best, mut ours, mut cases, mut seconds) = (0, 0, 0, 0.0);
    for file in files {
        let text = std::fs::read_to_string(&file).expect("the instance can be read");
        for variant in variants(&text).expect("an instance") {
            if !wanted.contains(&variant) {
                continue;
            }
            let start = seconds_used();
            let (layout, s) = run(&text, &variant, effort).expect("a plan");
            let took = seconds_used() - start;
            let known = s.best_known.unwrap_or(0);
            let mut notes = s.faults.join("; ");
            if s.objective > known {
                notes += &format!(" +{}", s.objective - known);
            }
            if s.objective < known {
                notes += &format!(" better by {}", known - s.objective);
            }
            if s.bound > known {
                notes += " BOUND TOO HIGH";
            }
            if s.bound < s.bound_known.unwrap_or(0) {
                notes += &format!(" bound -{}", s.bound_known.unwrap_or(0) - s.bound);
            }
            println!(
                "| {} | {variant} | {known} | {} | {} | {} | {} | {took:.3} | {} | {} | {} |",
                s.instance,
                s.bound_known.unwrap_or(0),
                s.objective,
                s.bound,
                s.proof,
                s.settings,
                s.moves,
                notes.trim()
            );
            if let Some(out) = &out {
                let name = format!("{}.{variant}.json", s.instance);
                std::fs::write(out.join(name), layout).expect("the layout can be written");
            }
            if s.objective < 10_000 {
                best += known;
                ours += s.objective;
            }
            cases += 1;
            seconds += took;
        }
    }
    println!("\n{cases} cases, best known {best}, ours {ours}, {seconds:.1} s");
}
