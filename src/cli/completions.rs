//! `scantling completions SHELL`

use super::output::Screen;
use super::{Failure, Verdict};
use clap::{Command, CommandFactory};
use clap_complete::{Shell, generate};

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The shell.
    #[arg(value_enum)]
    shell: Shell,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let program = super::Arguments::command();
    // Hidden commands would be offered like all others.
    let shown = program.get_subcommands().filter(|command| !command.is_hide_set()).cloned();
    let mut offered = Command::new("scantling")
        .version(env!("CARGO_PKG_VERSION"))
        .args(program.get_arguments().cloned())
        .subcommands(shown);
    let mut script = Vec::new();
    generate(arguments.shell, &mut offered, "scantling", &mut script);
    screen.out(&String::from_utf8_lossy(&script))?;
    Ok(Verdict::Fine)
}
