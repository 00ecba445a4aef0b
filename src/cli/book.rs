//! `scantling book FILE --out book.html`

use super::check::{Telling, errors, sound};
use super::cut::Work;
use super::forms::Units;
use super::output::Screen;
use super::write::Target;
use super::{Failure, Verdict};
use crate::compile::{Compilation, compile};
use crate::diag::nearest;
use crate::document::Page;
use crate::pages::{PLACES, PlaceSpec};
use crate::parts::{PartGraph, UnitId};
use crate::quantity::{Paper, some};
use crate::render::{Cover, book};
use crate::sheets::Subject;
use crate::source::DiskFiles;
use crate::why::reasons;
use camino::Utf8PathBuf;
use clap::ValueEnum;
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
    /// Only what is of this unit, such as `wall.left`, and what its work needs of the whole job.
    #[arg(long, value_name = "NAME")]
    unit: Option<String>,
    /// The paper in the printer; without it what the project states, else what goes with its unit system.
    #[arg(long, value_enum)]
    paper: Option<Size>,
    /// How much work is put into layouts.
    #[arg(long, value_enum, default_value_t = Work::Normal)]
    effort: Work,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Size {
    /// 8 1/2 x 11 in.
    Letter,
    /// 210 x 297 mm.
    A4,
}

fn places() -> PossibleValuesParser {
    PossibleValuesParser::new(
        PLACES.iter().map(|PlaceSpec { name, about, .. }| PossibleValue::new(*name).help(*about)),
    )
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let target = Target::making(&arguments.out, screen)?;
    let is_wanted = |place: &PlaceSpec| match arguments.places.as_slice() {
        [] => arguments.unit.is_none() || place.by_unit,
        places => places.iter().any(|name| name == place.name),
    };
    // What is measured first is asked for before anything fits together.
    let early = PLACES.iter().filter(|place| is_wanted(place)).all(|place| place.early);
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
    if let Some(size) = arguments.paper {
        compilation.model.project.paper = Some(match size {
            Size::Letter => Paper::Letter,
            Size::A4 => Paper::A4,
        });
    }
    let only = arguments.unit.as_deref().map(|name| unit(&compilation.graph, name)).transpose()?;
    let subject = Subject { only, ..compilation.subject(arguments.effort.into()) };
    let pages = pages(subject, is_wanted);
    if pages.is_empty() {
        let of = arguments.unit.as_deref().unwrap_or("the project");
        let message = format!("nothing of `{of}` stands on the pages of {}", arguments.places.join(", "));
        let help = "leave out `--for` to see which pages there are".to_owned();
        return Err(Failure::Path { message, help });
    }
    target.replace(&bound(&compilation, subject, &pages))?;
    screen.out(&format!("{}: {}\n", arguments.out, some(pages.len(), "page")))?;
    Ok(Verdict::Fine)
}

/// The pages of the places that are wanted.
pub(super) fn pages(subject: Subject<'_>, is_wanted: impl Fn(&PlaceSpec) -> bool) -> Vec<Page> {
    let places = PLACES.iter().filter(|place| is_wanted(place));
    places.flat_map(|place| (place.make)(subject)).map(|leaf| leaf.page).collect()
}

/// Pages as one file.
pub(super) fn bound(compilation: &Compilation, subject: Subject<'_>, pages: &[Page]) -> String {
    let title = subject.headed();
    let reasons = reasons(compilation, pages.iter().flat_map(Page::reasoned));
    let paper = subject.model.project.paper();
    book(&Cover { title: &title, key: &title, paper, reasons: &reasons }, pages)
}

/// The unit of a name: all of its path, or its end where no other has it.
fn unit(graph: &PartGraph, name: &str) -> Result<UnitId, Failure> {
    let all = || graph.numbered_units();
    if let Some((id, _)) = all().find(|(_, unit)| unit.path == name) {
        return Ok(id);
    }
    let last = format!(".{name}");
    let ends: Vec<(UnitId, &str)> =
        all().map(|(id, unit)| (id, unit.path.as_str())).filter(|(_, path)| path.ends_with(&last)).collect();
    let listed = |paths: &mut dyn Iterator<Item = &str>| {
        let shown: Vec<&str> = paths.take(MOST + 1).collect();
        let more = if shown.len() > MOST { ", .." } else { "" };
        format!("there is {}{more}", shown.iter().take(MOST).copied().collect::<Vec<_>>().join(", "))
    };
    match ends[..] {
        [(id, _)] => Ok(id),
        [] => {
            let message = format!("no unit is called `{name}`");
            let ends = all().filter_map(|(_, unit)| unit.path.rsplit('.').next());
            let near = nearest(name, all().map(|(_, unit)| unit.path.as_str()).chain(ends));
            let help = near.map_or_else(
                || listed(&mut all().map(|(_, unit)| unit.path.as_str())),
                |near| format!("did you mean `{near}`?"),
            );
            Err(Failure::Path { message, help })
        }
        _ => {
            let message = format!("several units are called `{name}`");
            Err(Failure::Path { message, help: listed(&mut ends.iter().map(|(_, path)| *path)) })
        }
    }
}

/// So many names are listed.
const MOST: usize = 12;
