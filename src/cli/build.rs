//! `scantling build FILE --out DIR`

use super::check::{Telling, sound};
use super::cut::Work;
use super::forms::Format;
use super::output::Screen;
use super::write::publish;
use super::{Failure, Verdict};
use crate::quantity::some;
use crate::render::svg;
use crate::sheets::SHEETS;
use crate::source::DiskFiles;
use camino::Utf8PathBuf;
use std::collections::BTreeMap;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The project's main file.
    file: Utf8PathBuf,
    /// The folder for the sheets; it is made where it is missing.
    #[arg(long, value_name = "DIR")]
    out: Utf8PathBuf,
    /// Replace files of the same names that scantling did not make, or that were changed since.
    #[arg(long)]
    force: bool,
    /// How much work is put into layouts.
    #[arg(long, value_enum, default_value_t = Work::Normal)]
    effort: Work,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let Some(compilation) = sound(&DiskFiles, &arguments.file, Telling::All, screen)? else {
        return Ok(Verdict::Errors);
    };
    let subject = compilation.subject(arguments.effort.into());
    let (mut files, mut drawings) = (BTreeMap::new(), 0);
    for sheet in SHEETS {
        let output = (sheet.make)(subject);
        for format in Format::FILES {
            if let Some(text) = format.text(&output) {
                files.insert(format!("{}.{}", sheet.name, format.extension()), text);
            }
        }
        let drawn = sheet.draw.map(|draw| draw(subject)).unwrap_or_default();
        drawings += drawn.len();
        files.extend(drawn.iter().map(|drawing| (format!("{}.svg", drawing.name), svg(drawing))));
    }
    let published = publish(&arguments.out, &files, arguments.force, screen)?;
    if published.mended {
        screen.remark(&format!("{}: the last run did not finish; the set is whole again", arguments.out));
    }
    for path in &published.kept {
        screen.remark(&format!("{path} is of an earlier build and was changed since; it stays"));
    }
    let drawn = some(drawings, "drawing");
    let removed = match published.removed {
        0 => String::new(),
        removed => format!("; {} of an earlier build removed", some(removed, "file")),
    };
    let names: Vec<&str> = SHEETS.iter().map(|sheet| sheet.name).collect();
    screen.out(&format!(
        "{}: {} as text, CSV and JSON; {drawn}{removed}\n",
        arguments.out,
        names.join(", ")
    ))?;
    Ok(Verdict::Fine)
}
