//! `scantling build FILE --out DIR`

use super::check::sound;
use super::output::Screen;
use super::show::Format;
use super::write::write_all;
use super::{Failure, Verdict};
use crate::sheets::{SHEETS, Subject};
use camino::Utf8PathBuf;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The project's main file.
    file: Utf8PathBuf,
    /// The folder for the sheets; it is made where it is missing.
    #[arg(long, value_name = "DIR")]
    out: Utf8PathBuf,
    /// Replace files of the same names that scantling did not make.
    #[arg(long)]
    force: bool,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let Some(compilation) = sound(&arguments.file, screen)? else { return Ok(Verdict::Errors) };
    let subject = Subject { model: &compilation.model, graph: &compilation.graph };
    let mut files = Vec::new();
    for sheet in SHEETS {
        let output = (sheet.make)(subject);
        for format in Format::ALL {
            if let Some(text) = format.draw(&output) {
                files.push((format!("{}.{}", sheet.name, format.extension()), text));
            }
        }
    }
    write_all(&arguments.out, &files, arguments.force)?;
    let names: Vec<&str> = SHEETS.iter().map(|sheet| sheet.name).collect();
    screen.out(&format!("{}: {} as text, CSV and JSON\n", arguments.out, names.join(", ")))?;
    Ok(Verdict::Fine)
}
