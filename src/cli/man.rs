//! `scantling man [COMMAND]`

use super::output::Screen;
use super::{Failure, Verdict};
use clap::CommandFactory;
use clap_mangen::Man;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The command to describe; without it, the page of the whole program is printed.
    command: Option<String>,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let mut program = super::Arguments::command();
    // So that each command knows its full name and the options that all share.
    program.build();
    if let Some(name) = &arguments.command {
        program = match program.find_subcommand(name) {
            Some(command) => command.clone(),
            None => return Err(Failure::Command(name.clone())),
        };
    }
    let mut page = Vec::new();
    let source = concat!("scantling ", env!("CARGO_PKG_VERSION"));
    Man::new(program).source(source).render(&mut page).map_err(Failure::Print)?;
    screen.out(&String::from_utf8_lossy(&page))?;
    Ok(Verdict::Fine)
}
