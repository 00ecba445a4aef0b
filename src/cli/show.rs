//! `scantling show SHEET FILE`

use super::check::sound;
use super::cut::Work;
use super::output::Screen;
use super::{Failure, Verdict, modules};
use crate::compile::compile;
use crate::render::{self, stacked};
use crate::sheets::{LIMITS, Output, SHEETS, Sheet, sheet};
use crate::source::DiskFiles;
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
    /// How much work is put into layouts.
    #[arg(long, value_enum, default_value_t = Work::Normal)]
    effort: Work,
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
    /// For the shop wall: drawings of layouts, one page under the other (SVG).
    Svg,
}

impl Format {
    /// The forms that are one file each; drawings are one file a page.
    pub const FILES: [Self; 4] = [Self::Text, Self::Csv, Self::Json, Self::Ics];

    pub fn extension(self) -> &'static str {
        match self {
            Self::Text => "txt",
            Self::Csv => "csv",
            Self::Json => "json",
            Self::Ics => "ics",
            Self::Svg => "svg",
        }
    }

    /// The sheet in this form; `None` where it has none, as a drawing is none of it.
    pub fn text(self, output: &Output) -> Option<String> {
        match self {
            Self::Text => Some(render::text(&output.document)),
            Self::Csv => Some(render::csv(&output.document)),
            Self::Json => Some(output.json.text() + "\n"),
            Self::Ics => output.calendar.clone(),
            Self::Svg => None,
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
    // How close it is is also asked where it is too close; whatever is cut from needs a sound project.
    let compilation = if arguments.sheet == LIMITS {
        let compilation = compile(&DiskFiles, &arguments.file)?;
        screen.messages(&compilation);
        compilation
    } else {
        match sound(&arguments.file, screen)? {
            Some(compilation) => compilation,
            None => return Ok(Verdict::Errors),
        }
    };
    let subject = compilation.subject(arguments.effort.into());
    if let Some(sheet) = sheet(&arguments.sheet) {
        let text = if matches!(arguments.format, Format::Svg) {
            let drawings = sheet.draw.map(|draw| draw(subject)).unwrap_or_default();
            if drawings.is_empty() {
                return Err(Failure::NoDrawings);
            }
            stacked(&drawings)
        } else {
            arguments.format.text(&(sheet.make)(subject)).ok_or(Failure::NoDates)?
        };
        screen.out(&text)?;
    }
    Ok(if compilation.has_errors() { Verdict::Errors } else { Verdict::Fine })
}
