//! Cut-outs: what is taken off in the room, what is brought out flush, and each part that is cut round an obstacle, from the
//! part's own edges.

use super::{Output, SheetSpec, Subject};
use crate::document::{Cell, Table, figures, words};
use crate::eval::{Decided, Obstacle};
use crate::parts::{Bounds, CutOutShape, Hole, Part, PartGraph, RunPart};
use crate::quantity::{JsonLength, Length};
use crate::sequence::{casing_cuts, cut_back};
use serde::Serialize;

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: "cutouts",
    about: "what is taken off in the room, and what parts are cut round",
    make,
    draw: None,
    of_revision: true,
};

/// All cut-outs.
#[derive(Clone, Debug, Serialize)]
pub struct Cutouts {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// What is taken off, moved or brought out before the units stand.
    pub room: Vec<RoomRow>,
    /// What parts are cut round.
    pub cuts: Vec<CutOutRow>,
    /// Holes for cables and pipes.
    pub holes: Vec<HoleRow>,
    /// Holes for the cups of hinges, in the rear faces of doors.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cups: Vec<HoleRow>,
}

/// A hole in one part.
#[derive(Clone, Debug, Serialize)]
pub struct HoleRow {
    /// The part's path.
    pub part: String,
    /// Its name.
    pub hole: String,
    /// Its width.
    pub diameter: JsonLength,
    /// The end that `along` is measured from.
    pub end: &'static str,
    /// From that end to its middle.
    pub along: JsonLength,
    /// The edge that `across` is measured from.
    pub edge: &'static str,
    /// From that edge to its middle.
    pub across: JsonLength,
    /// How deep it is; `None` where it goes through.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub depth: Option<JsonLength>,
    /// Over the flange of the grommet that lines it.
    pub grommet: Option<JsonLength>,
}

/// Something that is done to an obstacle in the room.
#[derive(Clone, Debug, Serialize)]
pub struct RoomRow {
    /// Its path.
    pub obstacle: String,
    /// What it is.
    pub what: String,
    /// What is done: `take off`, `cut back` or `bring out flush`.
    pub done: &'static str,
    /// Where it begins, from the left corner of the wall; `None` where it is anywhere.
    pub from: Option<JsonLength>,
    /// Where it ends.
    pub to: Option<JsonLength>,
    /// Its lower edge from the level line; `None` where it is on the ceiling.
    pub bottom: Option<JsonLength>,
    /// Its upper edge.
    pub top: Option<JsonLength>,
    /// How far it stands out from the wall: nothing behind it is cut; of casing, which states none, nothing.
    pub out: Option<JsonLength>,
    /// The ends at which it goes on: its cut end is returned to the wall there with a piece as long as it stands out.
    pub returned: Vec<&'static str>,
}

/// One cut-out, as large as the obstacle itself.
#[derive(Clone, Debug, Serialize)]
pub struct CutOutRow {
    /// The part's path.
    pub part: String,
    /// The obstacle's path.
    pub obstacle: String,
    /// What that is.
    pub what: String,
    /// Its shape.
    pub cut: CutOutShape,
    /// The end that `along` is measured from: `bottom end` of a side or a back, `rear end` of a rib, `left end` of other
    /// parts.
    pub end: &'static str,
    /// From that end to the cut-out.
    pub along: JsonLength,
    /// Its size along the part.
    pub length: JsonLength,
    /// The edge that `across` is measured from: `rear edge`, `lower edge`, or `left edge` of a back.
    pub edge: &'static str,
    /// From that edge to the cut-out.
    pub across: JsonLength,
    /// Its size across the part.
    pub width: JsonLength,
    /// How deep it goes into the part's thickness.
    pub depth: JsonLength,
}

impl CutOutRow {
    /// Whether another part is cut in the same way round the same thing.
    fn is_like(&self, other: &Self) -> bool {
        let same = |cut: &Self| {
            let sizes = [&cut.along, &cut.across, &cut.length, &cut.width, &cut.depth];
            (cut.cut, cut.obstacle.clone(), sizes.map(|size| size.exact.clone()))
        };
        same(self) == same(other)
    }
}

fn cut(subject: Subject<'_>, part: &Part, obstacle: &Obstacle, place: &Bounds) -> Option<CutOutRow> {
    let cut = part.cut_round(&subject.graph.bounds(part)?, place)?;
    Some(CutOutRow {
        part: part.path.clone(),
        obstacle: obstacle.name.to_string(),
        what: obstacle.word.clone(),
        cut: cut.shape,
        end: cut.end,
        along: subject.json(cut.along[0]),
        length: subject.json(cut.along[1]),
        edge: cut.edge,
        across: subject.json(cut.across[0]),
        width: subject.json(cut.across[1]),
        depth: subject.json(cut.depth),
    })
}

/// From the left face of a run's first unit to the right face of its last.
fn reach(graph: &PartGraph, run: &RunPart) -> Option<[Length; 2]> {
    let bounds = |id: Option<&crate::parts::UnitId>| graph.unit(*id?)?.bounds(Length::ZERO);
    Some([bounds(run.units.first())?[0][0], bounds(run.units.last())?[0][1]])
}

fn cuts(subject: Subject<'_>) -> Vec<CutOutRow> {
    let mut cuts = Vec::new();
    for run in &subject.graph.runs {
        let Some(wall) = run.wall.and_then(|wall| subject.model.walls.get(wall)) else { continue };
        let Some(along) = reach(subject.graph, run) else { continue };
        let round =
            |obstacle: &&Obstacle| matches!(obstacle.decided, Decided::CutRound | Decided::BringFlush);
        for obstacle in wall.obstacles.iter().filter(round) {
            let Some(place) = wall.place(obstacle, along) else { continue };
            let parts = run.all().flat_map(|id| subject.graph.parts_of(id));
            cuts.extend(parts.filter_map(|part| cut(subject, part, obstacle, &place)));
        }
    }
    cuts
}

fn holes(subject: Subject<'_>, blind: bool) -> Vec<HoleRow> {
    let row = |hole: &Hole| {
        let part = subject.graph.part(hole.part)?;
        let (_, [end, edge]) = part.measured_from()?;
        let [along, across] = hole.at.map(|at| subject.json(at.value));
        Some(HoleRow {
            part: part.path.clone(),
            hole: hole.name.to_string(),
            diameter: subject.json(hole.diameter.value),
            end,
            along,
            edge,
            across,
            depth: hole.depth.map(|depth| subject.json(depth.value)),
            grommet: hole.grommet.map(|grommet| subject.json(grommet.value)),
        })
    };
    subject.graph.holes.iter().filter(|hole| hole.depth.is_some() == blind).filter_map(row).collect()
}

fn cups(holes: &[HoleRow]) -> Table {
    let rows = holes.iter().map(|hole| {
        let depth = hole.depth.as_ref().map_or("-".to_owned(), |depth| depth.print.clone());
        vec![
            Cell::Words(hole.part.clone()),
            Cell::Words(hole.hole.clone()),
            Cell::Figure(hole.diameter.print.clone()),
            Cell::Figure(depth),
            Cell::Figure(format!("{} from the {}", hole.along.print, hole.end)),
            Cell::Figure(format!("{} from the {}", hole.across.print, hole.edge)),
        ]
    });
    Table {
        caption: "Holes for the cups of hinges, to their middles, in the rear faces of doors".to_owned(),
        columns: vec![
            words("door"),
            words("hinge"),
            figures("diameter"),
            figures("deep"),
            figures("along"),
            figures("across, from the front"),
        ],
        rows: rows.collect(),
        foot: Some(
            "left and right are as one looks at the front of the door: on its rear face they change sides"
                .to_owned(),
        ),
    }
}

fn bored(holes: &[HoleRow]) -> Table {
    let rows = holes.iter().map(|hole| {
        let grommet = hole.grommet.as_ref().map_or("-".to_owned(), |grommet| grommet.print.clone());
        vec![
            Cell::Words(hole.part.clone()),
            Cell::Words(hole.hole.clone()),
            Cell::Figure(hole.diameter.print.clone()),
            Cell::Figure(format!("{} from the {}", hole.along.print, hole.end)),
            Cell::Figure(format!("{} from the {}", hole.across.print, hole.edge)),
            Cell::Figure(grommet),
        ]
    });
    Table {
        caption: "Holes to bore before the parts are joined, to their middles".to_owned(),
        columns: vec![
            words("part"),
            words("hole"),
            figures("diameter"),
            figures("along"),
            figures("across"),
            figures("flange of its grommet"),
        ],
        rows: rows.collect(),
        foot: Some("bore from the face that is seen, into a board clamped behind it".to_owned()),
    }
}

/// What is done in the room before the units stand.
pub(crate) fn taken_off(subject: Subject<'_>) -> Vec<RoomRow> {
    let mut rows: Vec<RoomRow> = Vec::new();
    let json = |length| Some(subject.json(length));
    for cut in cut_back(subject.model, subject.graph) {
        let up = cut.trim.up.map(|edges| edges.map(|edge| edge.value));
        let ends = ["left", "right"].into_iter().zip(cut.returned).filter(|(_, returned)| *returned);
        rows.push(RoomRow {
            obstacle: cut.trim.name.to_string(),
            what: cut.trim.word.clone(),
            done: "take off",
            from: json(cut.along[0]),
            to: json(cut.along[1]),
            bottom: up.and_then(|[bottom, _]| json(bottom)),
            top: up.and_then(|[_, top]| json(top)),
            out: json(cut.trim.out[1].value),
            returned: ends.map(|(end, _)| end).collect(),
        });
    }
    for cut in casing_cuts(subject.model, subject.graph) {
        rows.push(RoomRow {
            obstacle: cut.opening.name.to_string(),
            what: format!("casing of the {}", cut.opening.word),
            done: "cut back",
            from: json(cut.along[0]),
            to: json(cut.along[1]),
            bottom: json(cut.up[0]),
            top: json(cut.up[1]),
            out: None,
            returned: Vec::new(),
        });
    }
    for wall in &subject.model.walls {
        for obstacle in &wall.obstacles {
            let done = match obstacle.decided {
                Decided::Remove => "take off",
                Decided::BringFlush => "bring out flush",
                Decided::Keep | Decided::CutRound => continue,
            };
            // What the room states stands once, though it is in the way of all its walls; trim stands where it is cut.
            if rows.iter().any(|row| row.obstacle == *obstacle.name) {
                continue;
            }
            let edge = |edge: Option<crate::eval::Len>| edge.map(|len| subject.json(len.value));
            rows.push(RoomRow {
                obstacle: obstacle.name.to_string(),
                what: obstacle.word.clone(),
                done,
                from: edge(obstacle.along.map(|[left, _]| left)),
                to: edge(obstacle.along.map(|[_, right]| right)),
                bottom: edge(obstacle.up.map(|[bottom, _]| bottom)),
                top: edge(obstacle.up.map(|[_, top]| top)),
                out: json(obstacle.out[1].value),
                returned: Vec::new(),
            });
        }
    }
    rows
}

/// A cut-out, and the parts that have it.
type Alike<'a> = (&'a CutOutRow, Vec<String>);

/// A table for each way of measuring; parts that are cut alike share a row.
fn tables(cuts: &[CutOutRow]) -> Vec<Table> {
    let mut tables: Vec<(String, Vec<Alike<'_>>)> = Vec::new();
    for cut in cuts {
        let caption = format!("Cut-outs from the {} and the {}", cut.end, cut.edge);
        let index = tables.iter().position(|(other, _)| *other == caption).unwrap_or_else(|| {
            tables.push((caption, Vec::new()));
            tables.len() - 1
        });
        let Some((_, rows)) = tables.get_mut(index) else { continue };
        match rows.iter_mut().find(|(other, _)| other.is_like(cut)) {
            Some((_, parts)) => parts.push(cut.part.clone()),
            None => rows.push((cut, vec![cut.part.clone()])),
        }
    }
    let drawn = tables.into_iter().map(|(caption, rows)| {
        let rows = rows.into_iter().map(|(cut, parts)| {
            let name = cut.obstacle.rsplit('.').next().unwrap_or_default();
            let sizes = [&cut.along, &cut.across, &cut.length, &cut.width, &cut.depth];
            let mut cells = vec![
                Cell::Figure(parts.len().to_string()),
                Cell::Words(format!("{} round {} {name}", cut.cut.word(), cut.what)),
            ];
            cells.extend(sizes.map(|size| Cell::Figure(size.print.clone())));
            cells.push(Cell::Lines(parts));
            cells
        });
        let columns = vec![
            figures("count"),
            words("cut"),
            figures("along"),
            figures("across"),
            figures("long"),
            figures("wide"),
            figures("deep"),
            words("parts"),
        ];
        Table { caption, columns, rows: rows.collect(), foot: None }
    });
    drawn.collect()
}

fn make(subject: Subject<'_>) -> Output {
    let project = &subject.model.project;
    let cutouts = Cutouts {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        room: taken_off(subject),
        cuts: cuts(subject),
        holes: holes(subject, false),
        cups: holes(subject, true),
    };
    let mut document = subject.document("Cut-outs");
    document.facts.push(
        "A cut-out is as large as the obstacle itself: add what it needs to go over it. It is measured on the part, from its \
         bottom or left end as seen from the front, and from its rear, lower or left edge."
            .to_owned(),
    );
    if cutouts.room.is_empty()
        && cutouts.cuts.is_empty()
        && cutouts.holes.is_empty()
        && cutouts.cups.is_empty()
    {
        document.facts.push("Nothing is taken off and no part is cut round anything.".to_owned());
    }
    let edge = |edge: &Option<JsonLength>| {
        Cell::Figure(edge.as_ref().map_or_else(|| "-".to_owned(), |edge| edge.print.clone()))
    };
    if !cutouts.room.is_empty() {
        let rows = cutouts.room.iter().map(|row| {
            vec![
                Cell::Words(row.done.to_owned()),
                Cell::Words(format!("{}: {}", row.what, row.obstacle)),
                edge(&row.from),
                edge(&row.to),
                edge(&row.bottom),
                edge(&row.top),
                Cell::Words(if row.returned.is_empty() { "-".to_owned() } else { row.returned.join(", ") }),
            ]
        });
        document.tables.push(Table {
            caption: "Before the units stand, from the left corner and the level line".to_owned(),
            columns: vec![
                words("do"),
                words("what"),
                figures("from"),
                figures("to"),
                figures("lower edge"),
                figures("upper edge"),
                words("ends returned"),
            ],
            rows: rows.collect(),
            foot: Some("wiring, gas and ducts are for a licensed hand".to_owned()),
        });
    }
    document.tables.extend(tables(&cutouts.cuts));
    if !cutouts.holes.is_empty() {
        document.tables.push(bored(&cutouts.holes));
    }
    if !cutouts.cups.is_empty() {
        document.tables.push(cups(&cutouts.cups));
    }
    Output::new(cutouts, document, &[])
}
