//! In the room: where each unit stands, what is packed, where its studs are, rows of screws, stiles as they are scribed.

use super::{Leaf, PlaceSpec, drawn};
use crate::document::{AT_WORK, Block, Cell, ESTIMATED, Step, Table, figures, words};
use crate::parts::{PartGraph, Role, RunId};
use crate::quantity::{JsonLength, some};
use crate::sequence::{Standing, standing};
use crate::sheets::Subject;
use serde::Serialize;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    far: false,
    name: "room",
    about: "in the room: places of the units, packers, studs from inside each unit, screws, widths of scribed stiles",
    make,
};

#[derive(Debug, Serialize)]
struct RoomPage {
    run: String,
    units: Vec<UnitRow>,
    scribed: Vec<ScribeRow>,
}

#[derive(Debug, Serialize)]
struct UnitRow {
    unit: String,
    left: Option<JsonLength>,
    along_floor: Option<JsonLength>,
    packed: [Option<JsonLength>; 2],
    studs: Vec<JsonLength>,
    /// What is carried in with it.
    parts: Vec<String>,
    screws: Vec<ScrewsRow>,
}

#[derive(Debug, Serialize)]
struct ScrewsRow {
    part: String,
    height: JsonLength,
    screws: usize,
    with: String,
}

/// A part that is cut to its place: its width at each reading or end.
#[derive(Debug, Serialize)]
struct ScribeRow {
    part: String,
    at: &'static str,
    width: JsonLength,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    subject.graph.numbered_runs().filter_map(|(id, _)| run(subject, id)).collect()
}

fn run(subject: Subject<'_>, id: RunId) -> Option<Leaf> {
    let graph = subject.graph;
    let run = graph.run(id)?;
    let units = standing(subject.model, graph, id);
    let value = RoomPage {
        run: run.path.clone(),
        units: units.iter().filter_map(|own| unit(subject, own)).collect(),
        scribed: scribed(subject, graph, id),
    };
    let mut leaf = Leaf::new(subject, &PLACE, format!("In the room: {}", run.path), &value);
    let page = &mut leaf.page;
    page.push(Block::Caution(
        "a unit tips until two screws hold it to the wall: never let it stand free, and stand it up in twos"
            .to_owned(),
    ));
    drawn(subject, page, "elevation", Some(&run.path));
    drawn(subject, page, "plan", Some(&run.path));
    page.table(places(&value));
    page.table(studs(&value));
    page.table(screws(&value));
    let fixed = value.units.iter().map(|unit| Step {
        marks: unit.parts.iter().map(|part| format!("{part} fixed")).collect(),
        ..Step::new(format!(
            "{}: stand it up, pack it level, plumb its front edges and its left side, two screws, then the rest",
            unit.unit
        ))
    });
    page.steps("From the left", fixed.collect());
    page.table(widths(&value));
    page.steps(
        "Then",
        vec![
            Step::new("seam screws from unit to unit, front edges flush, then the packers cut off"),
            Step::new("stiles: scribed where they meet a wall, by the widths above; strips and rails between them"),
            Step::new("crown last: cut its pieces long, fit the first to the wall, mark the others from what stands"),
        ],
    );
    page.cautions.extend([AT_WORK, ESTIMATED]);
    Some(leaf)
}

fn unit(subject: Subject<'_>, own: &Standing) -> Option<UnitRow> {
    let graph = subject.graph;
    let json = |length| subject.json(length);
    let screws = own.rows.iter().filter_map(|row| {
        let with = row.fastener.and_then(|fastener| graph.fasteners.get(fastener));
        Some(ScrewsRow {
            part: graph.part(row.part)?.path.clone(),
            height: json(row.height),
            screws: row.screws,
            with: with.map(|fastener| fastener.name.to_string()).unwrap_or_default(),
        })
    });
    Some(UnitRow {
        unit: graph.unit(own.unit)?.path.clone(),
        left: own.left.map(json),
        along_floor: own.along_floor.map(json),
        packed: own.packed.map(|packed| packed.map(json)),
        studs: own.studs.iter().map(|stud| json(*stud)).collect(),
        parts: graph
            .parts_of(own.unit)
            .filter(|part| part.role.is_carried())
            .map(|part| part.path.clone())
            .collect(),
        screws: screws.collect(),
    })
}

fn scribed(subject: Subject<'_>, graph: &PartGraph, id: RunId) -> Vec<ScribeRow> {
    let parts = graph
        .parts
        .iter()
        .filter(|part| part.run == Some(id) && matches!(part.role, Role::Stile | Role::Filler));
    let rows = parts.flat_map(|part| {
        part.scribed.iter().map(|(at, width)| ScribeRow {
            part: part.path.clone(),
            at: at.word(),
            width: subject.json(width.value),
        })
    });
    rows.collect()
}

fn places(page: &RoomPage) -> Table {
    let figure = |length: &Option<JsonLength>| {
        Cell::Figure(length.as_ref().map_or("-".to_owned(), |length| length.print.clone()))
    };
    let rows = page.units.iter().map(|unit| {
        let [left, right] = &unit.packed;
        vec![
            Cell::Words(unit.unit.clone()),
            figure(&unit.left),
            figure(&unit.along_floor),
            figure(left),
            figure(right),
        ]
    });
    Table {
        caption: "Left faces from the left corner, at the back; packers under the sides".to_owned(),
        columns: vec![
            words("unit"),
            figures("half way up"),
            figures("along the floor"),
            figures("under its left side"),
            figures("under its right side"),
        ],
        rows: rows.collect(),
        foot: None,
    }
}

fn studs(page: &RoomPage) -> Table {
    let with = page.units.iter().filter(|unit| !unit.studs.is_empty());
    let rows = with.map(|unit| {
        let studs: Vec<String> = unit.studs.iter().map(|stud| stud.print.clone()).collect();
        vec![Cell::Words(unit.unit.clone()), Cell::Figure(studs.join(", "))]
    });
    Table {
        caption: "Middles of the studs, from the inner face of each unit's left side".to_owned(),
        columns: vec![words("unit"), figures("studs")],
        rows: rows.collect(),
        foot: None,
    }
}

fn screws(page: &RoomPage) -> Table {
    let rows = page.units.iter().flat_map(|unit| &unit.screws).map(|row| {
        vec![
            Cell::Words(row.part.clone()),
            Cell::Figure(row.height.print.clone()),
            Cell::Figure(row.screws.to_string()),
            Cell::Words(row.with.clone()),
        ]
    });
    let rows: Vec<Vec<Cell>> = rows.collect();
    let all: usize = page.units.iter().flat_map(|unit| &unit.screws).map(|row| row.screws).sum();
    Table {
        caption: "Screws into the wall: the middle of each row over the bottom ends of the sides".to_owned(),
        columns: vec![words("through"), figures("height"), figures("screws"), words("with")],
        rows,
        foot: Some(some(all, "screw")),
    }
}

fn widths(page: &RoomPage) -> Table {
    let rows = page.scribed.iter().map(|row| {
        vec![
            Cell::Words(row.part.clone()),
            Cell::Words(row.at.to_owned()),
            Cell::Figure(row.width.print.clone()),
        ]
    });
    Table {
        caption: "Widths of what is scribed, at the readings".to_owned(),
        columns: vec![words("part"), words("at"), figures("wide")],
        rows: rows.collect(),
        foot: None,
    }
}
