//! `scantling cut INSTANCE.json`: plans a cutting-stock instance of the exchange format, for benchmarks.

use super::output::Screen;
use super::write::Target;
use super::{Failure, Verdict};
use crate::cutting::{Effort, exchange};
use crate::source::{DiskFiles, Files};
use camino::Utf8PathBuf;
use clap::ValueEnum;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The instance, in the format `cutbench/1`.
    instance: Utf8PathBuf,
    /// The variant of it.
    #[arg(long, value_name = "ID")]
    variant: String,
    /// How much work is put in.
    #[arg(long, value_enum, default_value_t = Work::Normal)]
    effort: Work,
    /// Where the layout is written, in the format `cutlayout/1`.
    #[arg(long, value_name = "FILE")]
    out: Utf8PathBuf,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum Work {
    /// Constructive starts and a bound.
    Quick,
    /// Column generation and improvement.
    Normal,
    /// More rounds of both.
    Thorough,
}

impl From<Work> for Effort {
    fn from(work: Work) -> Self {
        match work {
            Work::Quick => Self::Quick,
            Work::Normal => Self::Normal,
            Work::Thorough => Self::Thorough,
        }
    }
}

#[allow(
    clippy::disallowed_methods,
    reason = "the seconds are what a benchmark asks for; no layout depends on them"
)]
pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let path = &arguments.instance;
    let input = |why: String| Failure::Input { path: path.clone(), why };
    let bytes = DiskFiles.read(path).map_err(|error| input(error.to_string()))?;
    let text = String::from_utf8(bytes).map_err(|_| input("it is not text in UTF-8".to_owned()))?;
    let effort = arguments.effort.into();
    let begun = std::time::Instant::now();
    let (layout, summary) =
        exchange::run(&text, &arguments.variant, effort).map_err(|error| input(error.to_string()))?;
    let seconds = begun.elapsed().as_secs_f64();
    Target::of(&arguments.out, screen)?.replace(&layout)?;
    let mut line = serde_json::to_value(&summary).unwrap_or_default();
    if let Some(line) = line.as_object_mut() {
        line.insert("seconds".to_owned(), serde_json::json!((seconds * 1000.0).round() / 1000.0));
    }
    screen.out(&format!("{line}\n"))?;
    Ok(Verdict::Fine)
}
