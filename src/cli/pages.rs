//! `scantling pages FILE SIGNS..`

use super::check::{Telling, sound};
use super::cut::Work;
use super::output::Screen;
use super::{Failure, Verdict};
use crate::document::{Cell, Document, Table, words};
use crate::pages::{Leaf, PLACES, read_signs};
use crate::quantity::some;
use crate::render;
use crate::report::printable_line;
use crate::source::DiskFiles;
use camino::{Utf8Path, Utf8PathBuf};
use clap::ValueEnum;
use serde::Serialize;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The project's main file.
    file: Utf8PathBuf,
    /// The four signs under the title of each page that you have on paper; without them, all pages are listed.
    signs: Vec<String>,
    /// The project as it was when they were printed, to tell which page each was.
    #[arg(long, value_name = "FILE")]
    was: Option<Utf8PathBuf>,
    /// The form to print it in.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// How much work is put into layouts.
    #[arg(long, value_enum, default_value_t = Work::Normal)]
    effort: Work,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// Sentences.
    Text,
    /// For other programs.
    Json,
}

/// A page of the project as it is.
#[derive(Clone, Debug, Serialize)]
struct Known {
    signs: String,
    place: &'static str,
    title: String,
}

/// What is to be said of printed pages.
#[derive(Debug, Serialize)]
struct Answer {
    /// Pages that are still good.
    good: Vec<Known>,
    /// Signs that no page has any more, each with what it was where that is known.
    stale: Vec<Stale>,
    /// Pages whose signs were not given: to print, again or for the first time.
    print: Vec<Known>,
}

#[derive(Debug, Serialize)]
struct Stale {
    signs: String,
    was: Option<String>,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let given: Result<Vec<String>, Failure> = arguments
        .signs
        .iter()
        .map(|signs| {
            read_signs(signs).ok_or_else(|| Failure::Path {
                message: format!("`{}` is not what stands on a page", printable_line(signs)),
                help: "the signs of a page are four, such as `9HAV`, under its title".to_owned(),
            })
        })
        .collect();
    let given = given?;
    let Some(pages) = known(&arguments.file, arguments.effort, screen)? else { return Ok(Verdict::Errors) };
    let before = match &arguments.was {
        None => Vec::new(),
        Some(file) => match known(file, arguments.effort, screen)? {
            None => return Ok(Verdict::Errors),
            Some(pages) => pages,
        },
    };
    let is_given = |page: &&Known| given.contains(&page.signs);
    let was = |signs: &String| before.iter().find(|page| page.signs == *signs).map(|page| page.title.clone());
    let answer = Answer {
        good: pages.iter().filter(is_given).cloned().collect(),
        stale: given
            .iter()
            .filter(|signs| !pages.iter().any(|page| page.signs == **signs))
            .map(|signs| Stale { signs: signs.clone(), was: was(signs) })
            .collect(),
        print: pages.iter().filter(|page| !is_given(page)).cloned().collect(),
    };
    screen.out(&match arguments.format {
        Format::Text => answer.text(given.is_empty()),
        Format::Json => serde_json::to_string_pretty(&answer).unwrap_or_default() + "\n",
    })?;
    Ok(Verdict::Fine)
}

/// The pages of a project; `None` where it has errors.
fn known(file: &Utf8Path, effort: Work, screen: &mut Screen) -> Result<Option<Vec<Known>>, Failure> {
    let Some(compilation) = sound(&DiskFiles, file, Telling::Errors, screen)? else { return Ok(None) };
    let subject = compilation.subject(effort.into());
    let leaves = PLACES.iter().flat_map(|place| (place.make)(subject));
    let known = |Leaf { page, .. }| Known { signs: page.signs, place: page.place, title: page.title };
    Ok(Some(leaves.map(known).collect()))
}

impl Answer {
    fn text(&self, all: bool) -> String {
        let pages = |caption: String, pages: &[Known]| Table {
            caption,
            columns: vec![words("signs"), words("page")],
            rows: pages
                .iter()
                .map(|page| vec![Cell::Words(page.signs.clone()), Cell::Words(page.title.clone())])
                .collect(),
            foot: None,
        };
        let mut tables = Vec::new();
        if !self.good.is_empty() {
            tables.push(pages(format!("Still good: {}", some(self.good.len(), "page")), &self.good));
        }
        if !self.stale.is_empty() {
            let row = |stale: &Stale| {
                let was = stale.was.clone().unwrap_or_else(|| "no page as the project is now".to_owned());
                vec![Cell::Words(stale.signs.clone()), Cell::Words(was)]
            };
            tables.push(Table {
                caption: format!("Throw away: {}", some(self.stale.len(), "page")),
                columns: vec![words("signs"), words("was")],
                rows: self.stale.iter().map(row).collect(),
                foot: None,
            });
        }
        if !self.print.is_empty() {
            let count = some(self.print.len(), "page");
            let caption =
                if all { format!("Pages: {}", self.print.len()) } else { format!("To print: {count}") };
            tables.push(pages(caption, &self.print));
        }
        let document = Document { title: "Printed pages".to_owned(), tables, ..Document::default() };
        render::text(&document)
    }
}
