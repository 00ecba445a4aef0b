//! The part list: every part by itself, with its size and where it stands in its unit.

use super::{Output, Sheet, Subject};
use crate::document::{Cell, Table, figures, words};
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
    /// The unit that it belongs to.
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
    /// Where its lower, left, rear corner lies in its unit.
    pub position: Position,
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

fn make(subject: Subject<'_>) -> Output {
    let graph = subject.graph;
    let mut document = subject.document("Parts");
    document.facts.push(
        "Places from the left face, the rear and the bottom end of the unit to the part's left, rear, lower corner.".to_owned(),
    );
    let mut rows = Vec::new();
    for (index, unit) in graph.units.iter().enumerate() {
        let id = crate::parts::UnitId(u32::try_from(index).unwrap_or(u32::MAX));
        let mut cells = Vec::new();
        for part in graph.parts_of(id) {
            let (size, place) = (part.size, part.place);
            let own = part
                .path
                .strip_prefix(&unit.path)
                .and_then(|own| own.strip_prefix('.'))
                .unwrap_or(&part.path);
            let lengths = [size.thickness, size.width, size.length, place.x, place.y, place.z];
            let figures = lengths.map(|len| Cell::Figure(subject.print(len.value)));
            cells.push(std::iter::once(Cell::Words(own.to_owned())).chain(figures).collect());
            let json = |len: crate::eval::Len| subject.json(len.value);
            rows.push(PartRow {
                path: part.path.clone(),
                unit: unit.path.clone(),
                role: part.role.word(),
                stock: graph.sheet(part.sheet).map(|sheet| sheet.name.to_string()).unwrap_or_default(),
                thickness: json(size.thickness),
                width: json(size.width),
                length: json(size.length),
                position: Position { x: json(place.x), y: json(place.y), z: json(place.z) },
            });
        }
        let [width, height, depth, clear] =
            [unit.width, unit.height, unit.depth, unit.clear].map(|len| subject.print(len.value));
        document.tables.push(Table {
            caption: format!(
                "{}: {width} wide, {height} high, {depth} deep; {clear} clear between the sides",
                unit.path
            ),
            columns: vec![
                words("part"),
                figures("thick"),
                figures("width"),
                figures("length"),
                figures("from left"),
                figures("from rear"),
                figures("from bottom"),
            ],
            rows: cells,
            foot: None,
        });
    }
    let project = &subject.model.project;
    let list = PartList {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        parts: rows,
    };
    Output { json: serde_json::to_value(&list).unwrap_or_default(), document }
}
