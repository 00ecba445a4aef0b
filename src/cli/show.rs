//! `scantling show SHEET FILE`

use super::check::{Telling, errors, sound};
use super::cut::Work;
use super::forms::{Format, Units};
use super::lock::manifest;
use super::output::Screen;
use super::{Failure, Verdict, modules, paper};
use crate::compile::{Compilation, compile};
use crate::document::{CAUTIONS, Cautioned, Drawing};
use crate::pages::{PLACES, PlaceSpec, place};
use crate::progress::Unmarked;
use crate::render::{self, pdf, stacked};
use crate::sheets::{LIMITS, Project, SHEETS, SheetSpec, Subject, TOGETHER, Together, sheet};
use crate::source::{DiskFiles, Files};
use crate::views::{NotThere, Picked, Picture, Subject as Views, VIEWS, ViewSpec, document, view};
use camino::Utf8PathBuf;
use clap::builder::{PossibleValue, PossibleValuesParser};

/// What is listed of a file beside its sheets.
const MODULES: &str = "modules";

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The sheet or the view to print.
    #[arg(value_parser = names())]
    sheet: String,
    /// The project's main file; with `layouts`, `sawing` or `shopping` also a folder, for all projects together that
    /// `scantling.toml` there or above names.
    file: Utf8PathBuf,
    /// Of a view: the run, unit or part that it shows, such as `wall.left`; without it all of them.
    path: Option<String>,
    /// The form to print it in.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    /// How much work is put into layouts.
    #[arg(long, value_enum, default_value_t = Work::Normal)]
    effort: Work,
    /// The units to print it in, whatever the project is written in; no size changes.
    #[arg(long, value_enum)]
    units: Option<Units>,
    /// The paper that drawings are made for, in place of the project's: `letter`, `a4`; of `labels` and `stick` also a width and a height,
    /// such as `62mmx29mm`; of `stick` also `roll`.
    #[arg(long, value_parser = paper::on)]
    paper: Option<paper::On>,
    /// Of `labels`: sheets of labels as they are sold, by columns and rows.
    #[arg(long, value_parser = paper::grids(), conflicts_with = "paper")]
    grid: Option<String>,
    /// The whole project, as if nothing of it were made or bought yet.
    #[arg(long)]
    all: bool,
}

fn names() -> PossibleValuesParser {
    PossibleValuesParser::new(
        SHEETS
            .iter()
            .map(|SheetSpec { name, about, .. }| (*name, *about))
            .chain(PLACES.iter().map(|place| (place.name, place.about)))
            .chain(VIEWS.iter().map(|view| (view.name, view.about)))
            .chain([(MODULES, "the modules that the file can use, with their parameters")])
            .map(|(name, about)| PossibleValue::new(name).help(about)),
    )
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    if arguments.sheet == MODULES {
        return modules::list(&arguments.file, arguments.format, screen);
    }
    if let (Some(path), None) = (&arguments.path, view(&arguments.sheet)) {
        let message = format!("`{}` is of the whole project: it takes no `{path}`", arguments.sheet);
        let views: Vec<&str> = VIEWS.iter().map(|view| view.name).collect();
        let help = format!("a path picks what {} show", views.join(", "));
        return Err(Failure::Path { message, help });
    }
    let unmarked = Unmarked(&DiskFiles);
    let files: &dyn Files = if arguments.all { &unmarked } else { &DiskFiles };
    if arguments.file.is_dir() && TOGETHER.contains(&arguments.sheet.as_str()) {
        return together(arguments, files, screen);
    }
    // How close it is is also asked where it is too close; whatever is cut from needs a sound project.
    let early = arguments.sheet == LIMITS || place(&arguments.sheet).is_some_and(|place| place.early);
    let mut compilation = if early {
        let compilation = compile(files, &arguments.file)?;
        errors(&arguments.file, &compilation, screen);
        compilation
    } else {
        match sound(files, &arguments.file, Telling::Errors, screen)? {
            Some(compilation) => compilation,
            None => return Ok(Verdict::Errors),
        }
    };
    if let Some(units) = arguments.units {
        compilation.print_in(units.into());
    }
    let (place, format) = (place(&arguments.sheet), arguments.format);
    if let Some(on) = arguments.paper
        && let Some(draw) = paper::set(&mut compilation, on, (&arguments.sheet, place, format))?
    {
        let subject = compilation.subject(arguments.effort.into());
        return drawn(arguments, &subject.headed(), &draw(subject), screen);
    }
    if let Some(name) = &arguments.grid {
        let subject = compilation.subject(arguments.effort.into());
        let drawings = paper::on_labels(name, (place, format), subject)?;
        return drawn(arguments, &subject.headed(), &drawings, screen);
    }
    if let Some(view) = view(&arguments.sheet) {
        return shown(arguments, view, &compilation, screen);
    }
    let subject = compilation.subject(arguments.effort.into());
    if let Some(place) = place {
        return paged(arguments, place, subject, screen);
    }
    if let Some(sheet) = sheet(&arguments.sheet) {
        if arguments.format.is_drawn() {
            let drawings = sheet.draw.map(|draw| draw(subject)).unwrap_or_default();
            return drawn(arguments, &subject.headed(), &drawings, screen);
        }
        screen.out(&arguments.format.text(&(sheet.make)(subject)).ok_or(Failure::NoDates)?)?;
    }
    Ok(if compilation.has_errors() { Verdict::Errors } else { Verdict::Fine })
}

/// Drawings, one under the other or a page each.
fn drawn(
    arguments: &Arguments,
    title: &str,
    drawings: &[Drawing],
    screen: &mut Screen,
) -> Result<Verdict, Failure> {
    if drawings.is_empty() {
        return Err(Failure::NoDrawings);
    }
    match arguments.format {
        Format::Pdf => screen.bytes(&pdf(title, drawings))?,
        _ => screen.out(&stacked(drawings))?,
    }
    Ok(Verdict::Fine)
}

/// The pages of a place.
fn paged(
    arguments: &Arguments,
    place: &PlaceSpec,
    subject: Subject<'_>,
    screen: &mut Screen,
) -> Result<Verdict, Failure> {
    let leaves = (place.make)(subject);
    if leaves.is_empty() {
        let message = format!("nothing of the project stands on the page `{}`", place.name);
        return Err(Failure::Path { message, help: format!("it is for: {}", place.about) });
    }
    match arguments.format {
        Format::Text => {
            let columns = screen.columns();
            let pages: Vec<String> = leaves.iter().map(|leaf| render::page(&leaf.page, columns)).collect();
            screen.out(&pages.join("\n\n"))?;
        }
        Format::Json => {
            let pages: Vec<&serde_json::Value> = leaves.iter().map(|leaf| &leaf.json).collect();
            screen.out(&(serde_json::to_string_pretty(&pages).unwrap_or_default() + "\n"))?;
        }
        Format::Svg | Format::Pdf => {
            let paper = subject.model.project.paper();
            let drawings: Vec<Drawing> = leaves.iter().flat_map(|leaf| leaf.page.sheets(paper)).collect();
            return drawn(arguments, &subject.headed(), &drawings, screen);
        }
        Format::Csv | Format::Ics => {
            let message = format!("the page `{}` is no table", place.name);
            let help = "print it as text, json, svg or pdf; the sheets have tables".to_owned();
            return Err(Failure::Path { message, help });
        }
    }
    Ok(Verdict::Fine)
}

/// A view of what a path picks.
fn shown(
    arguments: &Arguments,
    view: &ViewSpec,
    compilation: &Compilation,
    screen: &mut Screen,
) -> Result<Verdict, Failure> {
    let subject = Views { model: &compilation.model, graph: &compilation.graph };
    let picked = match &arguments.path {
        Some(path) => {
            Picked::by(subject, path).map_err(|NotThere { message, help }| Failure::Path { message, help })?
        }
        None => Picked::default(),
    };
    let pictures = view.pictures(subject, &picked);
    if pictures.is_empty() {
        let what = arguments.path.as_deref().unwrap_or("the project");
        let message = format!("there is nothing to draw of `{what}` as `{}`", view.name);
        return Err(Failure::Path { message, help: format!("a path picks {}", view.of) });
    }
    let text = match arguments.format {
        Format::Svg | Format::Pdf => {
            let drawings = view.drawings(subject, &picked);
            return drawn(arguments, &compilation.model.project.headed(), &drawings, screen);
        }
        Format::Json => json(&pictures),
        Format::Text => render::text(&document(subject, view, &pictures)),
        Format::Csv => render::csv(&document(subject, view, &pictures)),
        Format::Ics => return Err(Failure::NoDates),
    };
    screen.out(&text)?;
    Ok(Verdict::Fine)
}

/// Pictures for programs: exact millimetres, and what is printed.
fn json(pictures: &[Picture]) -> String {
    #[derive(serde::Serialize)]
    struct Drawn<'a> {
        drawings: &'a [Picture],
    }
    let cautioned = Cautioned { value: &Drawn { drawings: pictures }, estimates: &[], cautions: &CAUTIONS };
    serde_json::to_string_pretty(&cautioned).unwrap_or_default() + "\n"
}

/// A sheet of all projects that a manifest names, together.
fn together(arguments: &Arguments, files: &dyn Files, screen: &mut Screen) -> Result<Verdict, Failure> {
    let Some(manifest) = manifest(&arguments.file, screen)? else { return Ok(Verdict::Errors) };
    let mut all: Vec<(String, Compilation)> = Vec::new();
    for file in manifest.files() {
        let Some(mut compilation) = sound(files, &file, Telling::Errors, screen)? else {
            return Ok(Verdict::Errors);
        };
        if let Some(units) = arguments.units {
            compilation.print_in(units.into());
        }
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
        if arguments.format.is_drawn() {
            let names: Vec<&str> = projects.iter().map(|project| project.name).collect();
            return drawn(arguments, &names.join(", "), &together.drawings(sheet), screen);
        }
        let output = together.output(sheet.name, &projects);
        screen.out(&output.and_then(|output| arguments.format.text(&output)).ok_or(Failure::NoDates)?)?;
    }
    Ok(Verdict::Fine)
}
