//! `scantling show SHEET FILE`

use super::check::sound;
use super::output::Screen;
use super::{Failure, Verdict, modules};
use crate::render;
use crate::sheets::{Output, SHEETS, Sheet, Subject, sheet};
use camino::Utf8PathBuf;
use clap::builder::PossibleValuesParser;
use clap::{ValueEnum, builder::PossibleValue};

/// What is listed of a file beside its sheets.
const MODULES: &str = "modules";

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The sheet to print.
    #[arg(value_parser = names())]
    sheet: String,
    /// The project's main file.
    file: Utf8PathBuf,
    /// The form to print it in.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum Format {
    /// For a terminal and for paper.
    Text,
    /// For a spreadsheet.
    Csv,
    /// For other programs.
    Json,
    /// For a calendar: dates of the finishing schedule (iCalendar).
    Ics,
}

impl Format {
    pub const ALL: [Self; 4] = [Self::Text, Self::Csv, Self::Json, Self::Ics];

    pub fn extension(self) -> &'static str {
        match self {
            Self::Text => "txt",
            Self::Csv => "csv",
            Self::Json => "json",
            Self::Ics => "ics",
        }
    }

    /// The sheet in this form; `None` where it has none.
    pub fn draw(self, output: &Output) -> Option<String> {
        match self {
            Self::Text => Some(render::text(&output.document)),
            Self::Csv => Some(render::csv(&output.document)),
            Self::Json => Some(output.json.text() + "\n"),
            Self::Ics => output.calendar.clone(),
        }
    }
}

fn names() -> PossibleValuesParser {
    PossibleValuesParser::new(
        SHEETS.iter().map(|Sheet { name, about, .. }| PossibleValue::new(*name).help(*about)).chain([
            PossibleValue::new(MODULES).help("the modules that the file can use, with their parameters"),
        ]),
    )
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    if arguments.sheet == MODULES {
        return modules::list(&arguments.file, arguments.format, screen);
    }
    let Some(compilation) = sound(&arguments.file, screen)? else { return Ok(Verdict::Errors) };
    let subject = Subject { model: &compilation.model, graph: &compilation.graph };
    if let Some(sheet) = sheet(&arguments.sheet) {
        match arguments.format.draw(&(sheet.make)(subject)) {
            Some(text) => screen.out(&text)?,
            None => return Err(Failure::NoDates),
        }
    }
    Ok(Verdict::Fine)
}
