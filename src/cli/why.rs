//! `scantling why FILE PATH`

use super::check::{Telling, sound};
use super::output::Screen;
use super::{Failure, Verdict};
use crate::source::DiskFiles;
use crate::why::{Answer, NoNumber, found};
use camino::Utf8PathBuf;
use clap::ValueEnum;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The project's main file.
    file: Utf8PathBuf,
    /// The path of a number, such as `wall.left.shelf.low.length`; a shorter path lists the numbers under it.
    path: String,
    /// The form to print it in.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// Sentences.
    Text,
    /// For other programs.
    Json,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let Some(compilation) = sound(&DiskFiles, &arguments.file, Telling::Errors, screen)? else {
        return Ok(Verdict::Errors);
    };
    let path = compilation.graph.present(&arguments.path);
    let found =
        found(&compilation, &path).map_err(|NoNumber { message, help }| Failure::Path { message, help })?;
    let answer = Answer { compilation: &compilation };
    let text = match (arguments.format, found.as_slice()) {
        (Format::Json, _) => {
            let json: Vec<_> = found.iter().map(|(path, measure)| answer.json(path, measure)).collect();
            format!("{:#}\n", serde_json::Value::Array(json))
        }
        (Format::Text, [(full, measure)]) if *full == path => answer.chain(full, measure),
        (Format::Text, _) => {
            let lines = found.iter().map(|(path, measure)| format!("{path} = {}\n", answer.print(measure)));
            lines.chain(["\nask for one of them to see where it comes from\n".to_owned()]).collect()
        }
    };
    screen.out(&text)?;
    Ok(Verdict::Fine)
}
