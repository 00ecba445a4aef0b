//! The project as a tree: runs, units, the openings between their shelves, bays, and what stands loose in them.

mod draw;

use super::{Output, SheetSpec, Subject};
use crate::eval::{Load, Run, Space};
use crate::parts::{
    Bore, Divided, MeasureValue, Opening, OpeningId, Part, PartBay, PartId, Role, RunPart, SpacePart, UnitId,
};
use crate::quantity::{Estimate, JsonLength, estimate};
use serde::Serialize;
use std::collections::BTreeMap;

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: "tree",
    about: "units, openings, bays and shelves with their sizes, as a tree",
    make,
    draw: None,
    of_revision: true,
};

/// All runs and units.
#[derive(Clone, Debug, Serialize)]
pub struct Tree {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// The runs.
    pub runs: Vec<RunNode>,
    /// The units that stand alone.
    pub alone: Vec<UnitNode>,
}

/// A run.
#[derive(Clone, Debug, Serialize)]
pub struct RunNode {
    /// Its path.
    pub run: String,
    /// All units together.
    pub total_width: JsonLength,
    /// Its units from left to right.
    pub units: Vec<UnitNode>,
    /// The room that it leaves between them.
    pub spaces: Vec<SpaceNode>,
    /// What all its shelves carry, where that is stated.
    pub load: Option<String>,
    /// The same with units and facing, where their weights are known.
    pub loaded_weight: Option<String>,
}

/// Room that a run leaves between its units.
#[derive(Clone, Debug, Serialize)]
pub struct SpaceNode {
    /// Its path.
    pub space: String,
    /// How many units stand left of it.
    pub after: usize,
    /// Between the units beside it.
    pub width: JsonLength,
    /// What stands in it.
    pub things: Vec<String>,
}

/// A unit.
#[derive(Clone, Debug, Serialize)]
pub struct UnitNode {
    /// Its path.
    pub unit: String,
    /// Over the outer faces of the sides.
    pub width: JsonLength,
    /// From the bottom end of the sides to their top end.
    pub height: JsonLength,
    /// Of the sides.
    pub depth: JsonLength,
    /// The board in the ends of the sides, where it has one.
    pub top: Option<Board>,
    /// The openings between its sides, from the bottom.
    pub openings: Vec<OpeningNode>,
    /// What all its shelves carry, where that is stated.
    pub load: Option<String>,
}

/// A board: what an opening stands on, what divides it, what lies in it.
#[derive(Clone, Debug, Serialize)]
pub struct Board {
    /// Its path.
    pub part: String,
    /// Its own name.
    #[serde(skip)]
    pub name: String,
    /// Thickness.
    pub thickness: JsonLength,
    /// Across the grain.
    pub width: JsonLength,
    /// Along the grain.
    pub length: JsonLength,
}

/// An opening and the shelf that it stands on.
#[derive(Clone, Debug, Serialize)]
pub struct OpeningNode {
    /// Its path: that of the shelf, or of the bay on whose floor it stands.
    pub opening: String,
    /// The shelf.
    pub shelf: Option<Board>,
    /// Between its uprights.
    pub clear_width: JsonLength,
    /// From the shelf's top to what is above it.
    pub clear_height: JsonLength,
    /// The same at the front, under the strip or rail that hangs there.
    pub opening_front: JsonLength,
    /// The same at the wall, under the cleat.
    pub opening_rear: JsonLength,
    /// From the front of the facing to the cleat, or to the wall where none hangs there.
    pub depth: JsonLength,
    /// What it carries, where that is stated.
    pub load: Option<String>,
    /// How much that is on the shelf; nothing where nothing closes the room over it.
    pub weight: Option<String>,
    /// What is stated to stand in it.
    pub contents: Vec<String>,
    /// What divides it, from left to right; empty where nothing does.
    pub bays: Vec<BayNode>,
    /// Its loose shelves.
    pub loose: Option<LooseNode>,
}

/// A bay.
#[derive(Clone, Debug, Serialize)]
pub struct BayNode {
    /// Its path.
    pub bay: String,
    /// Between its uprights.
    pub clear_width: JsonLength,
    /// Its openings from the bottom; the first one stands on its floor.
    pub openings: Vec<OpeningNode>,
    /// The divider at its right; none right of the last bay.
    pub divider: Option<Board>,
}

/// Loose shelves on pins.
#[derive(Clone, Debug, Serialize)]
pub struct LooseNode {
    /// The boards, all of one size.
    pub shelves: Vec<Board>,
    /// How many holes stand in a row.
    pub holes: Option<i128>,
    /// From hole to hole.
    pub pitch: Option<JsonLength>,
}

/// What is an estimate of it.
const ESTIMATES: [&str; 4] =
    ["runs.load", "runs.loaded_weight", "runs.units.load", "runs.units.openings.weight"];

/// What lies where, looked up once.
struct Places<'a> {
    subject: Subject<'a>,
    /// Openings between the sides, by their units.
    of_units: BTreeMap<UnitId, Vec<OpeningId>>,
    divided: BTreeMap<OpeningId, &'a Divided>,
    bores: BTreeMap<OpeningId, &'a Bore>,
    tops: BTreeMap<UnitId, &'a Part>,
    /// Weights that checks estimated, by the path of what they are of and their name.
    weights: BTreeMap<(&'a str, &'static str), Estimate>,
}

impl<'a> Places<'a> {
    fn new(subject: Subject<'a>) -> Self {
        let graph = subject.graph;
        let mut of_units: BTreeMap<UnitId, Vec<OpeningId>> = BTreeMap::new();
        for (index, opening) in graph.openings.iter().enumerate().filter(|(_, opening)| !opening.bay) {
            of_units.entry(opening.unit).or_default().push(OpeningId::at(index));
        }
        let tops = graph.parts.iter().filter(|part| part.role == Role::Top);
        Self {
            subject,
            of_units,
            divided: graph.divided.iter().map(|divided| (divided.opening, divided)).collect(),
            bores: graph.bores.iter().map(|bore| (bore.opening, bore)).collect(),
            tops: tops.filter_map(|part| Some((part.unit?, part))).collect(),
            weights: graph
                .reckoned
                .iter()
                .filter_map(|(path, measure)| match measure.value {
                    MeasureValue::Estimate(value, _) => Some(((path.as_str(), measure.name), value)),
                    MeasureValue::Length(_) | MeasureValue::Count(..) | MeasureValue::Money(..) => None,
                })
                .collect(),
        }
    }

    fn weight(&self, path: &str, name: &'static str) -> Option<String> {
        let system = self.subject.model.project.marks.system();
        self.weights.get(&(path, name)).map(|weight| estimate(*weight, system))
    }

    fn unit(&self, id: UnitId) -> Option<UnitNode> {
        let unit = self.subject.graph.unit(id)?;
        let openings = self.of_units.get(&id).into_iter().flatten();
        Some(UnitNode {
            unit: unit.path.clone(),
            width: self.subject.json(unit.width.value),
            height: self.subject.json(unit.height.value),
            depth: self.subject.json(unit.depth.value),
            top: self.tops.get(&id).map(|top| self.board(top)),
            openings: openings.filter_map(|&id| self.opening(id)).collect(),
            load: self.weight(&unit.path, "load"),
        })
    }

    fn board(&self, part: &Part) -> Board {
        Board {
            part: part.path.clone(),
            name: part.name.to_string(),
            thickness: self.subject.json(part.size.thickness.value),
            width: self.subject.json(part.size.width.value),
            length: self.subject.json(part.size.length.value),
        }
    }

    fn board_of(&self, id: PartId) -> Option<Board> {
        self.subject.graph.part(id).map(|part| self.board(part))
    }

    fn opening(&self, id: OpeningId) -> Option<OpeningNode> {
        let opening: &Opening = self.subject.graph.opening(id)?;
        let json = |length| self.subject.json(length);
        let bays = self.divided.get(&id).into_iter().flat_map(|divided| &divided.bays);
        let title = |contents: &crate::eval::Contents| contents.name.to_string();
        Some(OpeningNode {
            opening: opening.path.clone(),
            shelf: self.board_of(opening.on),
            clear_width: json(opening.clear_width.value),
            clear_height: json(opening.clear_height.value),
            opening_front: json(opening.opening_front.value),
            opening_rear: json(opening.opening_rear.value),
            depth: json(opening.depth.value),
            load: opening.load.map(|load| self.load(load)),
            weight: self.weight(&opening.path, "load"),
            contents: opening.contents.iter().map(title).collect(),
            bays: bays.map(|bay| self.bay(bay)).collect(),
            loose: (!opening.loose.is_empty()).then(|| self.loose(id, &opening.loose)),
        })
    }

    fn bay(&self, bay: &PartBay) -> BayNode {
        BayNode {
            bay: bay.path.clone(),
            clear_width: self.subject.json(bay.clear.value),
            openings: bay.openings.iter().filter_map(|id| self.opening(*id)).collect(),
            divider: bay.divider.and_then(|divider| self.board_of(divider)),
        }
    }

    fn loose(&self, opening: OpeningId, shelves: &[PartId]) -> LooseNode {
        let bore = self.bores.get(&opening);
        LooseNode {
            shelves: shelves.iter().filter_map(|id| self.board_of(*id)).collect(),
            holes: bore.map(|bore| {
                let [from, to] = bore.numbers;
                to - from + 1
            }),
            pitch: bore.map(|bore| self.subject.fine(bore.pitch.value)),
        }
    }

    fn load(&self, load: Load) -> String {
        match load {
            Load::Books => "books".to_owned(),
            Load::Other => "other".to_owned(),
            Load::Line(weight) => estimate(weight, self.subject.model.project.marks.system()),
        }
    }
}

fn spaces(subject: Subject<'_>, run: &RunPart, stated: &Run) -> Vec<SpaceNode> {
    let node = |(space, stated): (&SpacePart, &Space)| SpaceNode {
        space: space.path.clone(),
        after: space.after,
        width: subject.json(space.width.value),
        things: stated.things.iter().map(|thing| thing.name.to_string()).collect(),
    };
    run.spaces.iter().zip(&stated.spaces).map(node).collect()
}

fn make(subject: Subject<'_>) -> Output {
    let places = Places::new(subject);
    let graph = subject.graph;
    let runs: Vec<RunNode> = graph
        .runs
        .iter()
        .zip(&subject.model.runs)
        .map(|(run, stated)| RunNode {
            spaces: spaces(subject, run, stated),
            run: run.path.clone(),
            total_width: subject.json(run.total_width.value),
            units: run.all().filter_map(|unit| places.unit(unit)).collect(),
            load: places.weight(&run.path, "load"),
            loaded_weight: places.weight(&run.path, "loaded_weight"),
        })
        .collect();
    let in_runs: std::collections::BTreeSet<UnitId> = graph.runs.iter().flat_map(RunPart::all).collect();
    let alone = graph.numbered_units().map(|(id, _)| id);
    let alone = alone.filter(|id| !in_runs.contains(id)).filter_map(|id| places.unit(id)).collect();
    let project = &subject.model.project;
    let tree = Tree {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        runs,
        alone,
    };
    let mut document = subject.document("Tree");
    draw::tables(&mut document, &tree);
    Output::new(tree, document, &ESTIMATES)
}
