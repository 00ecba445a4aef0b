//! What stands in the openings: marks of bays on their uprights, dividers on their shelves, holes for pins.

use super::super::Subject;
use super::{Dados, MarkRow, row};
use crate::document::{Cell, Document, Table, figures, words};
use crate::parts::{Bore, JointKind, Opening, Part, PartId, UnitId};
use crate::quantity::JsonLength;
use serde::Serialize;

/// The marks of a bay.
#[derive(Clone, Debug, Serialize)]
pub struct BayMarks {
    /// The bay.
    pub bay: String,
    /// Its openings from the bottom; the first one stands on its floor.
    pub marks: Vec<BayRow>,
}

/// An opening of a bay and the shelf that it stands on.
#[derive(Clone, Debug, Serialize)]
pub struct BayRow {
    /// The mark from the bottom end of the unit, and the opening over it.
    #[serde(flatten)]
    pub mark: MarkRow,
    /// The same mark from the lower end of a divider that holds the shelf.
    pub on_divider: Option<JsonLength>,
}

/// A divider and where it stands.
#[derive(Clone, Debug, Serialize)]
pub struct DividerMark {
    /// The divider.
    pub divider: String,
    /// The shelf that it is housed in.
    pub host: String,
    /// From the left end of that shelf to the left face of the divider.
    pub mark: JsonLength,
}

/// Holes for pins.
#[derive(Clone, Debug, Serialize)]
pub struct Holes {
    /// The opening.
    pub opening: String,
    /// The two uprights that are bored.
    pub hosts: [String; 2],
    /// From hole to hole.
    pub pitch: JsonLength,
    /// How many holes stand in a row.
    pub in_a_row: i128,
    /// The lowest hole from the bottom end of each of the uprights.
    pub lowest: [JsonLength; 2],
    /// The highest one.
    pub highest: [JsonLength; 2],
    /// From the front edge to the front row.
    pub front: JsonLength,
    /// From the rear edge to the rear row.
    pub rear: JsonLength,
    /// How deep a hole is bored.
    pub depth: JsonLength,
    /// How wide it is: as the pin, where that states its diameter.
    pub wide: Option<JsonLength>,
}

/// The marks of the bays of a unit.
pub(super) fn bays(subject: Subject<'_>, dados: &Dados, unit: UnitId) -> Vec<BayMarks> {
    let mut all: Vec<BayMarks> = Vec::new();
    for divided in subject.graph.divided_of(unit) {
        for bay in &divided.bays {
            let openings = bay.openings.iter().filter_map(|id| subject.graph.opening(*id));
            let marks = openings.filter_map(|opening| bay_row(subject, dados, opening)).collect();
            all.push(BayMarks { bay: bay.path.clone(), marks });
        }
    }
    all
}

fn bay_row(subject: Subject<'_>, dados: &Dados, opening: &Opening) -> Option<BayRow> {
    let mut mark = row(subject, dados, opening)?;
    let joints = subject.graph.joints_of(opening.on);
    let floor = opening.lowest;
    let on_divider = joints
        .filter(|joint| !floor && is_divider(subject, joint.host))
        .map(|joint| subject.json(joint.at.value))
        .next();
    if floor {
        mark.shelf = "its floor".to_owned();
    }
    Some(BayRow { mark, on_divider })
}

fn is_divider(subject: Subject<'_>, part: PartId) -> bool {
    subject.graph.part(part).is_some_and(|part| part.role == crate::parts::Role::Divider)
}

/// The dividers of a unit, each on the shelf under it and on the one over it.
pub(super) fn dividers(subject: Subject<'_>, unit: UnitId) -> Vec<DividerMark> {
    let graph = subject.graph;
    let dividers = graph.divided_of(unit).flat_map(|divided| &divided.bays).filter_map(|bay| bay.divider);
    let joints = dividers.flat_map(|divider| graph.joints_of(divider));
    let joints = joints.filter(|joint| matches!(joint.kind, JointKind::Dado { .. }));
    let path = |id: PartId| graph.part(id).map_or_else(String::new, |part| part.path.clone());
    joints
        .map(|joint| DividerMark {
            divider: path(joint.guest),
            host: path(joint.host),
            mark: subject.json(joint.at.value),
        })
        .collect()
}

/// The holes of a unit.
pub(crate) fn holes(subject: Subject<'_>, unit: UnitId) -> Vec<Holes> {
    subject.graph.bores.iter().filter(|bore| bore.unit == unit).map(|bore| hole(subject, bore)).collect()
}

fn hole(subject: Subject<'_>, bore: &Bore) -> Holes {
    let hosts = bore.hosts.map(|host| subject.graph.part(host));
    let [from, to] = bore.numbers;
    let [lowest, highest] = bore.ends.map(|end| {
        hosts.map(|host: Option<&Part>| {
            let foot = host.map(|host| host.place.z.value).unwrap_or_default();
            subject.fine(end.value.checked_sub(foot).unwrap_or_default())
        })
    });
    Holes {
        opening: subject.graph.opening(bore.opening).map_or_else(String::new, |opening| opening.path.clone()),
        hosts: hosts.map(|host| host.map_or_else(String::new, |host| host.path.clone())),
        pitch: subject.fine(bore.pitch.value),
        in_a_row: to - from + 1,
        lowest,
        highest,
        front: subject.fine(bore.rows[0].value),
        rear: subject.fine(bore.rows[1].value),
        depth: subject.fine(bore.depth.value),
        wide: bore.wide.map(|wide| subject.fine(wide.value)),
    }
}

/// Adds the tables of a unit, where there is anything to show.
pub(super) fn tables(
    document: &mut Document,
    unit: &str,
    bays: &[BayMarks],
    dividers: &[DividerMark],
    holes: &[Holes],
) {
    let own =
        |path: &str| path.strip_prefix(unit).and_then(|p| p.strip_prefix('.')).unwrap_or(path).to_owned();
    if !dividers.is_empty() {
        document.tables.push(Table {
            caption: format!("{unit}: dividers"),
            columns: vec![words("divider"), words("housed in"), figures("from its left end")],
            rows: dividers
                .iter()
                .map(|mark| {
                    let (divider, host) = (own(&mark.divider), own(&mark.host));
                    vec![Cell::Words(divider), Cell::Words(host), Cell::Figure(mark.mark.print.clone())]
                })
                .collect(),
            foot: Some("to the left face of the divider".to_owned()),
        });
    }
    // A bay without shelves of its own has no marks but those of the unit.
    for bay in bays.iter().filter(|bay| bay.marks.len() > 1) {
        let cells = |row: &BayRow| {
            let mark = &row.mark;
            vec![
                Cell::Words(mark.shelf.clone()),
                Cell::Figure(mark.mark.print.clone()),
                Cell::Figure(row.on_divider.as_ref().map_or_else(String::new, |at| at.print.clone())),
                Cell::Figure(mark.clear_height.print.clone()),
                Cell::Figure(mark.opening_front.print.clone()),
                Cell::Figure(mark.opening_rear.print.clone()),
            ]
        };
        document.tables.push(Table {
            caption: bay.bay.clone(),
            columns: vec![
                words("shelf"),
                figures("mark on the side"),
                figures("on a divider, from its lower end"),
                figures("clear height over it"),
                figures("at the front"),
                figures("at the rear"),
            ],
            rows: bay.marks.iter().rev().map(cells).collect(),
            foot: None,
        });
    }
    if !holes.is_empty() {
        let rows = holes.iter().flat_map(|holes| {
            holes.hosts.iter().zip(&holes.lowest).map(|(host, lowest)| {
                vec![
                    Cell::Words(own(host)),
                    Cell::Words(own(&holes.opening)),
                    Cell::Figure(lowest.print.clone()),
                    Cell::Figure(holes.pitch.print.clone()),
                    Cell::Figure(holes.in_a_row.to_string()),
                    Cell::Figure(holes.front.print.clone()),
                    Cell::Figure(holes.rear.print.clone()),
                    Cell::Figure(holes.depth.print.clone()),
                    Cell::Figure(holes.wide.as_ref().map(|wide| wide.print.clone()).unwrap_or_default()),
                ]
            })
        });
        document.tables.push(Table {
            caption: format!("{unit}: holes for pins"),
            columns: vec![
                words("board"),
                words("for the opening over"),
                figures("lowest hole"),
                figures("hole to hole"),
                figures("in a row"),
                figures("front row from the front edge"),
                figures("rear row from the rear edge"),
                figures("deep"),
                figures("wide"),
            ],
            rows: rows.collect(),
            foot: Some(
                "lowest hole from the lower end of the board: register every board at that end, never at the top".to_owned(),
            ),
        });
    }
}
