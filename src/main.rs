//! The `scantling` program: arguments in, exit code out.

use std::process::ExitCode;

fn main() -> ExitCode {
    scantling::cli::crash_hook();
    scantling::cli::main(std::env::args_os())
}
