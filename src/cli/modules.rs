//! `scantling show modules FILE`: the modules that a file can use, and those that the library has to offer.

use super::forms::Format;
use super::output::Screen;
use super::{Failure, Verdict};
use crate::compile::{ListedModule, compile, modules};
use crate::document::{Cell, Document, Table, words};
use crate::render;
use crate::source::DiskFiles;
use camino::Utf8Path;

/// Prints the modules in reach of a project, also of one that has errors.
pub(super) fn list(file: &Utf8Path, format: Format, screen: &mut Screen) -> Result<Verdict, Failure> {
    let all = modules(&compile(&DiskFiles, file)?)?;
    let text = match format {
        Format::Json => format!("{:#}\n", serde_json::json!({ "modules": all })),
        Format::Text => render::text(&document(&all)),
        Format::Csv => render::csv(&document(&all)),
        Format::Ics => return Err(Failure::NoDates),
        Format::Svg | Format::Pdf => return Err(Failure::NoDrawings),
    };
    screen.out(&text)?;
    Ok(Verdict::Fine)
}

fn document(all: &[ListedModule]) -> Document {
    let tables = all.iter().map(|module| {
        let about = module.about.as_deref().map(|about| format!(": {about}")).unwrap_or_default();
        let rows = module.parameters.iter().map(|parameter| {
            let default = parameter.default.clone().unwrap_or_else(|| "to be stated".to_owned());
            vec![
                Cell::Words(parameter.name.clone()),
                Cell::Words(parameter.takes.clone()),
                Cell::Words(default),
                Cell::Words(parameter.about.clone().unwrap_or_default()),
            ]
        });
        let bring =
            module.bring.as_deref().map(|bring| format!("; brought in by `{bring}`")).unwrap_or_default();
        Table {
            caption: format!("{}{about}", module.name),
            columns: vec![words("parameter"), words("takes"), words("default"), words("meaning")],
            rows: rows.collect(),
            foot: Some(format!("declared in {}{bring}", module.declared)),
        }
    });
    let facts = vec!["Modules that the file can use, and those that the library has to offer.".to_owned()];
    Document { title: "Modules".to_owned(), facts, tables: tables.collect(), ..Document::default() }
}
