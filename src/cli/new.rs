//! `scantling new DIR`

use super::output::Screen;
use super::write::Target;
use super::{Failure, Verdict};
use camino::Utf8PathBuf;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The folder for the project; it is made where it is missing.
    folder: Utf8PathBuf,
    /// Sizes in millimetres.
    #[arg(long)]
    metric: bool,
}

/// The name of the project's main file.
const FILE: &str = "project.scant";

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let text =
        if arguments.metric { include_str!("new/metric.scant") } else { include_str!("new/inch.scant") };
    let path = arguments.folder.join(FILE);
    // A project that somebody works on is never replaced.
    let target = Target::making(&path, screen)?;
    if target.exists() {
        return Err(Failure::Exists { path });
    }
    target.replace(text)?;
    screen.out(&format!("{path}\n\nscantling show cut-list {path}\n"))?;
    Ok(Verdict::Fine)
}
