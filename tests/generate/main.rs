//! Writes all generated files of the repository: sections of the reference, the schema of the part list, the words in the editors'
//! files. With `--check` it writes nothing and fails where one differs.
//!
//! It is an example of the package, so that nobody who installs the program gets it.
#![allow(
    clippy::indexing_slicing,
    clippy::panic,
    clippy::print_stdout,
    clippy::unwrap_used,
    clippy::disallowed_methods,
    reason = "a program for developers that stops where it cannot go on"
)]

mod files;

use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let check = match arguments.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
        [] => false,
        ["--check"] => true,
        _ => {
            println!("usage: {} [-- --check]", files::COMMAND);
            return ExitCode::from(2);
        }
    };
    // All texts are made before the first one is written: where one cannot be made, nothing changes.
    let all = files::all();
    let mut stale = 0;
    for (path, text) in &all {
        let Some(difference) = files::difference(&files::read(path), text) else { continue };
        stale += 1;
        if check {
            println!("{path} is stale: {difference}");
        } else {
            std::fs::write(files::at(path), text).unwrap();
            println!("{path} is written");
        }
    }
    println!("{} files, {stale} {}", all.len(), if check { "stale" } else { "written" });
    if check && stale > 0 { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}
