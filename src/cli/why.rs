//! `scantling why FILE PATH`

use super::check::sound;
use super::output::Screen;
use super::{Failure, Verdict};
use crate::parts::Unknown;
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
    let Some(compilation) = sound(&arguments.file, screen)? else { return Ok(Verdict::Errors) };
    let found = compilation.graph.find(&arguments.path).map_err(|unknown| failure(&unknown))?;
    let (ledger, marks) = (&compilation.graph.ledger, compilation.model.project.marks);
    let chains: Vec<_> = found
        .iter()
        .map(|(path, measure)| {
            (path, measure.len, ledger.reason(measure.len.why, &compilation.sources, marks))
        })
        .collect();
    if arguments.format == Format::Json {
        let json: Vec<_> = chains
            .iter()
            .map(|(path, len, reason)| {
                let value = crate::quantity::JsonLength::new(len.value, marks);
                serde_json::json!({ "path": path, "value": value, "steps": reason.steps })
            })
            .collect();
        screen.out(&format!("{:#}\n", serde_json::Value::Array(json)))?;
        return Ok(Verdict::Fine);
    }
    let mut text = String::new();
    match chains.as_slice() {
        [(path, len, reason)] if **path == arguments.path => {
            text.push_str(&format!("{path} = {}\n\n{reason}", marks.print(len.value)));
        }
        _ => {
            for (path, len, _) in &chains {
                text.push_str(&format!("{path} = {}\n", marks.print(len.value)));
            }
            text.push_str("\nask for one of them to see where it comes from\n");
        }
    }
    screen.out(&text)?;
    Ok(Verdict::Fine)
}

fn failure(unknown: &Unknown) -> Failure {
    let message = if unknown.known.is_empty() {
        format!("nothing is called `{}`", unknown.step)
    } else {
        format!("`{}` has no `{}`", unknown.known, unknown.step)
    };
    let help = match &unknown.near {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("there is {}", unknown.next.join(", ")),
    };
    Failure::Path { message, help }
}
