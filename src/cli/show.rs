//! `scantling show SHEET FILE`

use super::check::{Telling, errors, sound};
use super::cut::Work;
use super::forms::Format;
use super::lock::manifest;
use super::output::Screen;
use super::{Failure, Verdict, modules};
use crate::compile::{Compilation, compile};
use crate::progress::Unmarked;
use crate::render::stacked;
use crate::sheets::{LIMITS, Project, SHEETS, SheetSpec, TOGETHER, Together, sheet};
use crate::source::{DiskFiles, Files};
use camino::Utf8PathBuf;
use clap::builder::{PossibleValue, PossibleValuesParser};

/// What is listed of a file beside its sheets.
const MODULES: &str = "modules";

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The sheet to print.
    #[arg(value_parser = names())]
    sheet: String,
    /// The project's main file; with `layouts`, `sawing` or `shopping` also a folder, for all projects together that
    /// `scantling.toml` there or above names.
    file: Utf8PathBuf,
    /// The form to print it in.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// How much work is put into layouts.
    #[arg(long, value_enum, default_value_t = Work::Normal)]
    effort: Work,
    /// The whole project, as if nothing of it were made or bought yet.
    #[arg(long)]
    all: bool,
}

fn names() -> PossibleValuesParser {
    PossibleValuesParser::new(
        SHEETS.iter().map(|SheetSpec { name, about, .. }| PossibleValue::new(*name).help(*about)).chain([
            PossibleValue::new(MODULES).help("the modules that the file can use, with their parameters"),
        ]),
    )
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    if arguments.sheet == MODULES {
        return modules::list(&arguments.file, arguments.format, screen);
    }
    let unmarked = Unmarked(&DiskFiles);
    let files: &dyn Files = if arguments.all { &unmarked } else { &DiskFiles };
    if arguments.file.is_dir() && TOGETHER.contains(&arguments.sheet.as_str()) {
        return together(arguments, files, screen);
    }
    // How close it is is also asked where it is too close; whatever is cut from needs a sound project.
    let compilation = if arguments.sheet == LIMITS {
        let compilation = compile(files, &arguments.file)?;
        errors(&arguments.file, &compilation, screen);
        compilation
    } else {
        match sound(files, &arguments.file, Telling::Errors, screen)? {
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

/// A sheet of all projects that a manifest names, together.
fn together(arguments: &Arguments, files: &dyn Files, screen: &mut Screen) -> Result<Verdict, Failure> {
    let Some(manifest) = manifest(&arguments.file, screen)? else { return Ok(Verdict::Errors) };
    let mut all: Vec<(String, Compilation)> = Vec::new();
    for file in manifest.files() {
        let Some(compilation) = sound(files, &file, Telling::Errors, screen)? else {
            return Ok(Verdict::Errors);
        };
        let title = compilation.model.project.title.as_deref();
        let name = title.map_or_else(|| file.file_stem().unwrap_or(file.as_str()).to_owned(), str::to_owned);
        // Two of one title are told apart by their files.
        let twice = all.iter().any(|(known, _)| *known == name);
        all.push((if twice { format!("{name} ({file})") } else { name }, compilation));
    }
    let projects: Vec<Project<'_>> = all
        .iter()
        .map(|(name, Compilation { model, graph, plans, .. })| Project { name, model, graph, plans })
        .collect();
    let together = Together::of(&projects, arguments.effort.into());
    if let Some((together, sheet)) = together.zip(sheet(&arguments.sheet)) {
        let text = if matches!(arguments.format, Format::Svg) {
            let drawings = together.drawings(sheet);
            if drawings.is_empty() {
                return Err(Failure::NoDrawings);
            }
            stacked(&drawings)
        } else {
            let output = together.output(sheet.name, &projects);
            output.and_then(|output| arguments.format.text(&output)).ok_or(Failure::NoDates)?
        };
        screen.out(&text)?;
    }
    Ok(Verdict::Fine)
}
