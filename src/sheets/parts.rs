//! The part list: every part by itself, with its size and where it stands in its unit.

use super::{Output, Sheet, Subject};
use crate::document::{Cell, Table, figures, words};
use crate::eval::Len;
use crate::parts::{Part, Stock, UnitId};
use crate::quantity::JsonLength;
use serde::Serialize;

/// The sheet.
pub(super) const SHEET: Sheet = Sheet { name: "parts", about: "every part with its size and place", make };

/// All parts.
#[derive(Clone, Debug, Serialize)]
pub struct PartList {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// The parts, unit by unit.
    pub parts: Vec<PartRow>,
}

/// A part.
#[derive(Clone, Debug, Serialize)]
pub struct PartRow {
    /// Its path of names.
    pub path: String,
    /// The unit that it belongs to; the run's name for a part of the run.
    pub unit: String,
    /// What it is for.
    pub role: &'static str,
    /// The sheet that it is cut from.
    pub stock: String,
    /// Thickness.
    pub thickness: JsonLength,
    /// Across the grain.
    pub width: JsonLength,
    /// Along the grain.
    pub length: JsonLength,
    /// Finished widths at the readings, where it is fitted on site.
    pub finished_widths: Vec<FinishedWidth>,
    /// What is cut in the shop, where it is fitted on site.
    pub blank: Option<BlankRow>,
    /// Where its lower, left, rear corner lies in its unit, or in its run.
    pub position: Position,
}

/// A finished width of a part that is fitted on site.
#[derive(Clone, Debug, Serialize)]
pub struct FinishedWidth {
    /// `low`, `middle`, `high`, `left` or `right`.
    pub at: &'static str,
    /// The width there.
    pub width: JsonLength,
}

/// What is cut in the shop.
#[derive(Clone, Debug, Serialize)]
pub struct BlankRow {
    /// Across the grain.
    pub width: JsonLength,
    /// Along the grain.
    pub length: JsonLength,
}

/// A place in a unit, seen from the front.
#[derive(Clone, Debug, Serialize)]
pub struct Position {
    /// From the left face.
    pub x: JsonLength,
    /// From the rear.
    pub y: JsonLength,
    /// From the bottom end.
    pub z: JsonLength,
}

/// What a part is cut from, by name.
pub(super) fn stock_name(subject: Subject<'_>, stock: Stock) -> String {
    let graph = subject.graph;
    match stock {
        Stock::Sheet(id) => graph.sheet(id).map(|sheet| sheet.name.to_string()),
        Stock::Board(index) => graph.boards.get(index).map(|board| board.name.to_string()),
    }
    .unwrap_or_default()
}

fn row(subject: Subject<'_>, part: &Part, group: &str) -> PartRow {
    let json = |len: Len| subject.json(len.value);
    let (size, place) = (part.size, part.place);
    PartRow {
        path: part.path.clone(),
        unit: group.to_owned(),
        role: part.role.word(),
        stock: stock_name(subject, part.stock),
        thickness: json(size.thickness),
        width: json(size.width),
        length: json(size.length),
        finished_widths: part
            .scribed
            .iter()
            .map(|(at, width)| FinishedWidth { at, width: json(*width) })
            .collect(),
        blank: part.blank.map(|blank| BlankRow { width: json(blank.width), length: json(blank.length) }),
        position: Position { x: json(place.x), y: json(place.y), z: json(place.z) },
    }
}

fn cells(subject: Subject<'_>, part: &Part, group: &str) -> Vec<Cell> {
    let (size, place) = (part.size, part.place);
    let own = part.path.strip_prefix(group).and_then(|own| own.strip_prefix('.')).unwrap_or(&part.path);
    let lengths = [size.thickness, size.width, size.length, place.x, place.y, place.z];
    let figures = lengths.map(|len| Cell::Figure(subject.print(len.value)));
    std::iter::once(Cell::Words(own.to_owned())).chain(figures).collect()
}

fn make(subject: Subject<'_>) -> Output {
    let graph = subject.graph;
    let mut document = subject.document("Parts");
    document.facts.push(
        "Places from the left face, the rear and the bottom end of the unit (of a run: from the left corner of the wall, the \
         wall and the level line) to the part's left, rear, lower corner. Of a part that is fitted on site, the mean size."
            .to_owned(),
    );
    let mut rows = Vec::new();
    let mut table = |caption: String, group: &str, parts: Vec<&Part>| {
        rows.extend(parts.iter().map(|part| row(subject, part, group)));
        document.tables.push(Table {
            caption,
            columns: vec![
                words("part"),
                figures("thick"),
                figures("width"),
                figures("length"),
                figures("from left"),
                figures("from rear"),
                figures("from bottom"),
            ],
            rows: parts.iter().map(|part| cells(subject, part, group)).collect(),
            foot: None,
        });
    };
    for (index, unit) in graph.units.iter().enumerate() {
        let id = UnitId(u32::try_from(index).unwrap_or(u32::MAX));
        let [width, height, depth, clear] =
            [unit.width, unit.height, unit.depth, unit.clear].map(|len| subject.print(len.value));
        let caption = format!(
            "{}: {width} wide, {height} high, {depth} deep; {clear} clear between the sides",
            unit.path
        );
        table(caption, &unit.path, graph.parts_of(id).collect());
    }
    for run in &graph.runs {
        let prefix = format!("{}.", run.path);
        let of_run = graph.parts.iter().filter(|part| part.unit.is_none() && part.path.starts_with(&prefix));
        let parts: Vec<&Part> = of_run.collect();
        if !parts.is_empty() {
            table(format!("{}: parts of the run", run.path), &run.path, parts);
        }
    }
    let project = &subject.model.project;
    let list = PartList {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        parts: rows,
    };
    Output { json: serde_json::to_value(&list).unwrap_or_default(), document, calendar: None }
}
