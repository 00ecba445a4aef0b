//! `scantling build FILE --out DIR`

use super::check::{Telling, sound};
use super::cut::Work;
use super::forms::Format;
use super::output::Screen;
use super::write::publish;
use super::{Failure, Verdict, book};
use crate::document::{Drawing, Page};
use crate::pages::PLACES;
use crate::quantity::some;
use crate::render::{pdf, svg};
use crate::sheets::SHEETS;
use crate::source::DiskFiles;
use crate::views::{self, Picked, VIEWS};
use camino::Utf8PathBuf;
use std::collections::BTreeMap;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The project's main file.
    file: Utf8PathBuf,
    /// The folder for sheets, drawings and the book; it is made where it is missing.
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
    let mut set = Set { title: subject.headed(), ..Set::default() };
    for sheet in SHEETS {
        let output = (sheet.make)(subject);
        for format in Format::FILES {
            if let Some(text) = format.text(&output) {
                set.add(sheet.name, format, text);
            }
        }
        set.draw(sheet.name, &sheet.draw.map(|draw| draw(subject)).unwrap_or_default());
    }
    let of = views::Subject { model: subject.model, graph: subject.graph };
    for view in VIEWS {
        set.draw(view.name, &view.drawings(of, &Picked::default()));
    }
    let pages = book::pages(subject, |_| true);
    for place in PLACES {
        let own = pages.iter().filter(|page| page.place == place.name).flat_map(Page::drawings);
        let scaled = own.filter(|(_, true_scale)| *true_scale).map(|(drawing, _)| drawing.clone());
        set.draw(place.name, &scaled.collect::<Vec<_>>());
    }
    set.files.insert("book.html".to_owned(), book::bound(&compilation, subject, &pages).into_bytes());
    let published = publish(&arguments.out, &set.files, arguments.force, screen)?;
    if published.mended {
        screen.remark(&format!("{}: the last run did not finish; the set is whole again", arguments.out));
    }
    for path in &published.kept {
        screen.remark(&format!("{path} is of an earlier build and was changed since; it stays"));
    }
    let removed = match published.removed {
        0 => String::new(),
        removed => format!("; {} of an earlier build removed", some(removed, "file")),
    };
    let names: Vec<&str> = SHEETS.iter().map(|sheet| sheet.name).collect();
    screen.out(&format!(
        "{}: {} as text, CSV and JSON; {} as SVG and PDF; {} in book.html{removed}\n",
        arguments.out,
        names.join(", "),
        some(set.drawings, "drawing"),
        some(pages.len(), "page")
    ))?;
    Ok(Verdict::Fine)
}

/// The files that are written.
#[derive(Default)]
struct Set {
    /// Project and revision.
    title: String,
    files: BTreeMap<String, Vec<u8>>,
    drawings: usize,
}

impl Set {
    fn add(&mut self, name: &str, format: Format, content: impl Into<Vec<u8>>) {
        self.files.insert(format!("{name}.{}", format.extension()), content.into());
    }

    /// Drawings, each as SVG, and together as PDF.
    fn draw(&mut self, name: &str, drawings: &[Drawing]) {
        if drawings.is_empty() {
            return;
        }
        self.drawings += drawings.len();
        drawings.iter().for_each(|drawing| self.add(&drawing.name, Format::Svg, svg(drawing)));
        self.add(name, Format::Pdf, pdf(&self.title, drawings));
    }
}
