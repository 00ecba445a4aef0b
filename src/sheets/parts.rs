//! The part list: every part by itself, with its size and where it stands in its unit.

use super::{Output, SheetSpec, Subject};
use crate::document::{Cell, Table, figures, words};
use crate::eval::Len;
use crate::parts::{Contact, Faces, Joint, JointKind, Part, PartId, Row, Surface};
use crate::quantity::{JsonLength, decimal};
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: "parts",
    about: "every part with its size and place",
    make,
    draw: None,
    of_revision: true,
};

/// All parts.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PartList {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// The parts, unit by unit.
    pub parts: Vec<PartRow>,
}

/// A part.
#[derive(Clone, Debug, Serialize, JsonSchema)]
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
    /// Its faces by what they meet, in square millimetres; they sum to the surface of the part.
    pub faces: FaceAreas,
    /// The joints in which it is held.
    pub held_by: Vec<JointRow>,
    /// The nails and screws that hold it, by the part that they go into.
    pub fasteners: Vec<FastenerRow>,
}

/// Areas of the faces of a part by what they meet, in square millimetres, as decimals.
#[derive(Clone, Debug, Default, Serialize, JsonSchema)]
pub struct FaceAreas {
    /// Seen: they are painted.
    pub open: String,
    /// Glued to another part.
    pub glued: String,
    /// Against another part, without glue.
    pub butted: String,
    /// Against a wall.
    pub wall: String,
    /// On the floor.
    pub floor: String,
    /// In air that nobody reaches.
    pub closed: String,
}

/// A joint in which a part is held.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct JointRow {
    /// The part that holds it.
    pub host: String,
    /// `dado`, `rabbet`, `groove` or `butt`.
    pub kind: &'static str,
    /// From the host's bottom end to the underside of the part.
    pub at: JsonLength,
    /// Depth of a dado, rabbet, groove or mortise.
    pub depth: Option<JsonLength>,
    /// Width of a dado or groove.
    pub width: Option<JsonLength>,
}

/// A row of fasteners that holds a part.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FastenerRow {
    /// The part, wall or unit that they go into.
    pub host: String,
    /// The nail or screw; `None` where none is stated.
    pub fastener: Option<String>,
    /// How many.
    pub count: usize,
}

/// A finished width of a part that is fitted on site.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FinishedWidth {
    /// `low`, `middle`, `high`, `left` or `right`.
    pub at: &'static str,
    /// The width there.
    pub width: JsonLength,
}

/// What is cut in the shop.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BlankRow {
    /// Across the grain.
    pub width: JsonLength,
    /// Along the grain.
    pub length: JsonLength,
}

/// A place in a unit, seen from the front.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Position {
    /// From the left face.
    pub x: JsonLength,
    /// From the rear.
    pub y: JsonLength,
    /// From the bottom end.
    pub z: JsonLength,
}

/// What the rows are made from besides the parts: found once for all of them.
struct Beside<'a> {
    faces: BTreeMap<PartId, &'a Surface>,
    whole: Option<&'a Faces>,
    joints: BTreeMap<PartId, Vec<&'a Joint>>,
    rows: BTreeMap<PartId, Vec<&'a Row>>,
}

fn row(subject: Subject<'_>, beside: &Beside<'_>, (id, part): (PartId, &Part), group: &str) -> PartRow {
    let json = |len: Len| subject.json(len.value);
    let (size, place) = (part.size, part.place);
    PartRow {
        path: part.path.clone(),
        unit: group.to_owned(),
        role: part.role.word(),
        stock: subject.graph.stock_name(part.stock),
        thickness: json(size.thickness),
        width: json(size.width),
        length: json(size.length),
        finished_widths: part
            .scribed
            .iter()
            .map(|(at, width)| FinishedWidth { at: at.word(), width: json(*width) })
            .collect(),
        blank: part.blank.map(|blank| BlankRow { width: json(blank.width), length: json(blank.length) }),
        position: Position { x: json(place.x), y: json(place.y), z: json(place.z) },
        faces: beside.whole.zip(beside.faces.get(&id)).map(|(f, s)| face_areas(f, s)).unwrap_or_default(),
        held_by: beside
            .joints
            .get(&id)
            .into_iter()
            .flatten()
            .map(|joint| joint_row(subject, joint))
            .collect(),
        fasteners: beside.rows.get(&id).into_iter().flatten().map(|row| fastener_row(subject, row)).collect(),
    }
}

fn face_areas(faces: &Faces, surface: &Surface) -> FaceAreas {
    let mut ticks = [0_i128; 6];
    for patch in &surface.patches {
        let index = match patch.contact {
            Contact::Open => 0,
            Contact::Glued(_) => 1,
            Contact::Butted(_) => 2,
            Contact::Wall => 3,
            Contact::Floor => 4,
            Contact::Closed => 5,
        };
        if let Some(sum) = ticks.get_mut(index) {
            *sum += patch.ticks();
        }
    }
    let [open, glued, butted, wall, floor, closed] = ticks.map(|ticks| decimal(faces.area(ticks), 3));
    FaceAreas { open, glued, butted, wall, floor, closed }
}

fn joint_row(subject: Subject<'_>, joint: &Joint) -> JointRow {
    let (kind, depth) = (joint.kind.word(), joint.kind.depth());
    let width = match joint.kind {
        JointKind::Dado { width, .. } | JointKind::Groove { width, .. } => Some(width),
        JointKind::Rabbet { .. } | JointKind::Mortise { .. } | JointKind::Butt => None,
    };
    let json = |len: Len| subject.json(len.value);
    let host = subject.graph.part(joint.host).map_or_else(String::new, |host| host.path.clone());
    JointRow { host, kind, at: json(joint.at), depth: depth.map(json), width: width.map(json) }
}

fn fastener_row(subject: Subject<'_>, row: &Row) -> FastenerRow {
    let fastener = row.fastener.and_then(|index| subject.graph.fasteners.get(index));
    let host = subject.graph.called(row.host).to_owned();
    FastenerRow { host, fastener: fastener.map(|f| f.name.to_string()), count: row.count }
}

fn cells(subject: Subject<'_>, part: &Part, group: &str) -> Vec<Cell> {
    let (size, place) = (part.size, part.place);
    let lengths = [size.thickness, size.width, size.length, place.x, place.y, place.z];
    let figures = lengths.map(|len| Cell::Figure(subject.print(len.value)));
    std::iter::once(Cell::Words(part.within(group).to_owned())).chain(figures).collect()
}

fn make(subject: Subject<'_>) -> Output {
    let graph = subject.graph;
    let mut document = subject.document("Parts");
    document.facts.push(
        "Places from the left face, the rear and the bottom end of the unit (of a run: from the left corner of the wall, the \
         wall and the level line) to the part's left, rear, lower corner. Of a part that is fitted on site, the mean size."
            .to_owned(),
    );
    let faces = graph.faces();
    let mut beside = Beside {
        faces: faces
            .iter()
            .flat_map(|faces| &faces.surfaces)
            .map(|surface| (surface.part, surface))
            .collect(),
        whole: faces,
        joints: BTreeMap::new(),
        rows: BTreeMap::new(),
    };
    for joint in &graph.joints {
        beside.joints.entry(joint.guest).or_default().push(joint);
    }
    for row in &graph.rows {
        if let Some(guest) = row.guest.part() {
            beside.rows.entry(guest).or_default().push(row);
        }
    }
    let mut rows = Vec::new();
    let mut table = |caption: String, group: &str, parts: Vec<(PartId, &Part)>| {
        rows.extend(parts.iter().map(|part| row(subject, &beside, *part, group)));
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
            rows: parts.iter().map(|(_, part)| cells(subject, part, group)).collect(),
            foot: None,
        });
    };
    for (id, unit) in graph.numbered_units() {
        let parts: Vec<(PartId, &Part)> = graph.parts_of(id).map(|part| (part.id, part)).collect();
        let [width, height, depth, clear] =
            [unit.width, unit.height, unit.depth, unit.clear].map(|len| subject.print(len.value));
        let caption = format!(
            "{}: {width} wide, {height} high, {depth} deep; {clear} clear between the sides",
            unit.path
        );
        table(caption, &unit.path, parts);
    }
    for (id, run) in graph.numbered_runs() {
        let parts: Vec<(PartId, &Part)> = graph.parts_of_run(id).map(|part| (part.id, part)).collect();
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
    Output::new(list, document, &[])
}
