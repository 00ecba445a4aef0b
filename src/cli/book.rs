//! `scantling book FILE --out book.html`

use super::check::{Telling, errors, sound};
use super::cut::Work;
use super::forms::Units;
use super::output::Screen;
use super::write::Target;
use super::{Failure, Verdict};
use crate::compile::compile;
use crate::document::Page;
use crate::pages::{PLACES, PlaceSpec};
use crate::quantity::some;
use crate::render::{Cover, PaperSize, book};
use crate::source::DiskFiles;
use camino::Utf8PathBuf;
use clap::builder::{PossibleValue, PossibleValuesParser};

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The project's main file.
    file: Utf8PathBuf,
    /// The file that the book is written to.
    #[arg(long, value_name = "FILE")]
    out: Utf8PathBuf,
    /// Only the pages of these places, such as `yard,breakdown`.
    #[arg(long = "for", value_name = "PLACE", value_delimiter = ',', value_parser = places())]
    places: Vec<String>,
    /// The units to print it in, whatever the project is written in; no size changes.
    #[arg(long, value_enum)]
    units: Option<Units>,
    /// How much work is put into layouts.
    #[arg(long, value_enum, default_value_t = Work::Normal)]
    effort: Work,
}

fn places() -> PossibleValuesParser {
    PossibleValuesParser::new(
        PLACES.iter().map(|PlaceSpec { name, about, .. }| PossibleValue::new(*name).help(*about)),
    )
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let target = Target::making(&arguments.out, screen)?;
    let is_wanted = |place: &&PlaceSpec| {
        arguments.places.is_empty() || arguments.places.iter().any(|name| name == place.name)
    };
    // What is measured first is asked for before anything fits together.
    let early = PLACES.iter().filter(is_wanted).all(|place| place.early);
    let mut compilation = if early {
        let compilation = compile(&DiskFiles, &arguments.file)?;
        errors(&arguments.file, &compilation, screen);
        compilation
    } else {
        match sound(&DiskFiles, &arguments.file, Telling::All, screen)? {
            Some(compilation) => compilation,
            None => return Ok(Verdict::Errors),
        }
    };
    if let Some(units) = arguments.units {
        compilation.print_in(units.into());
    }
    let subject = compilation.subject(arguments.effort.into());
    let leaves = PLACES.iter().filter(is_wanted).flat_map(|place| (place.make)(subject));
    let pages: Vec<Page> = leaves.map(|leaf| leaf.page).collect();
    let project = &compilation.model.project;
    let title = subject.headed();
    let cover =
        Cover { title: &title, key: &title, paper: PaperSize { millimetres: project.paper().upright() } };
    target.replace(&book(&cover, &pages))?;
    screen.out(&format!("{}: {}\n", arguments.out, some(pages.len(), "page")))?;
    Ok(Verdict::Fine)
}
