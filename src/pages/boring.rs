//! Boring holes for pins: bit, depth stop, template, then the rows of each pair of uprights, all from one end.

use super::{Leaf, PlaceSpec, drawn};
use crate::document::{AT_WORK, Step};
use crate::parts::{Bore, Part, PartId, UnitId};
use crate::quantity::{JsonLength, some};
use crate::sheets::{Holes, Subject, holes};
use crate::views::{Picked, SIDE};
use serde::Serialize;
use std::collections::BTreeMap;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    far: true,
    by_unit: true,
    ..PlaceSpec::new(
        "boring",
        "holes for pins: bit, depth stop, template, then first and last hole of each row",
        make,
    )
};

#[derive(Debug, Serialize)]
struct BoringPage {
    units: Vec<UnitRow>,
    /// Holes in all.
    holes: i128,
}

#[derive(Debug, Serialize)]
struct UnitRow {
    #[serde(skip)]
    id: UnitId,
    unit: String,
    rows: Vec<Row>,
}

/// Two rows in uprights that are bored alike.
#[derive(Debug, Serialize)]
struct Row {
    /// The opening.
    opening: String,
    /// The codes of the uprights.
    codes: Vec<String>,
    /// What they are: paths.
    boards: Vec<String>,
    first: JsonLength,
    last: JsonLength,
    in_a_row: i128,
    pitch: JsonLength,
    front: JsonLength,
    rear: JsonLength,
    depth: JsonLength,
    wide: Option<JsonLength>,
    /// How much wood stays behind a hole.
    left: JsonLength,
    /// The holes of a template that begins a pitch from its end; `None` where the lower end of the upright stands higher than the unit's.
    template: Option<[i128; 2]>,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let graph = subject.graph;
    let codes = graph.codes();
    let mut bores: BTreeMap<UnitId, Vec<&Bore>> = BTreeMap::new();
    for bore in &graph.bores {
        bores.entry(bore.unit).or_default().push(bore);
    }
    let units = bores.into_iter().filter_map(|(id, own)| {
        let (unit, own) = (graph.unit(id)?, own.into_iter().zip(holes(subject, id)));
        let rows: Vec<Row> = own.flat_map(|(bore, holes)| rows(subject, &codes, bore, &holes)).collect();
        (!rows.is_empty()).then(|| UnitRow { id, unit: unit.path.clone(), rows })
    });
    let units: Vec<UnitRow> = units.collect();
    if units.is_empty() {
        return Vec::new();
    }
    let count = |row: &Row| i128::try_from(row.boards.len()).unwrap_or(0) * 2 * row.in_a_row;
    let holes = units.iter().flat_map(|unit| &unit.rows).map(count).sum();
    let value = BoringPage { units, holes };
    let mut leaf = Leaf::new(subject, &PLACE, "Boring".to_owned(), &value);
    let page = &mut leaf.page;
    page.steps("Set up once", set_up(&value));
    for unit in value.units.iter().filter(|unit| subject.shows(unit.id)) {
        drawn(subject, page, &SIDE, &Picked::unit(graph, unit.id));
        page.steps(
            format!("{}: inside faces up, front edges and lower ends marked", unit.unit),
            unit.steps(),
        );
    }
    page.cautions.push(AT_WORK);
    vec![leaf]
}

/// The uprights of an opening: both at once where they are bored alike.
fn rows(subject: Subject<'_>, codes: &BTreeMap<PartId, String>, bore: &Bore, holes: &Holes) -> Vec<Row> {
    let graph = subject.graph;
    let mut rows: Vec<Row> = Vec::new();
    let ends = holes.lowest.iter().zip(&holes.highest);
    for (host, (first, last)) in bore.hosts.iter().filter_map(|host| graph.part(*host)).zip(ends) {
        let code = codes.get(&host.id).cloned().unwrap_or_default();
        match rows.iter_mut().find(|row| row.first == *first) {
            Some(row) => {
                row.codes.push(code);
                row.boards.push(host.path.clone());
            }
            None => rows.push(row(subject, bore, holes, (host, code), [first, last])),
        }
    }
    rows
}

fn row(
    subject: Subject<'_>,
    bore: &Bore,
    holes: &Holes,
    (host, code): (&Part, String),
    [first, last]: [&JsonLength; 2],
) -> Row {
    let opening = subject.graph.opening(bore.opening);
    let left = host.size.thickness.value.checked_sub(bore.depth.value).unwrap_or_default();
    Row {
        opening: opening.map(|opening| opening.name.to_string()).unwrap_or_default(),
        codes: vec![code],
        boards: vec![host.path.clone()],
        first: first.clone(),
        last: last.clone(),
        in_a_row: holes.in_a_row,
        pitch: holes.pitch.clone(),
        front: holes.front.clone(),
        rear: holes.rear.clone(),
        depth: holes.depth.clone(),
        wide: holes.wide.clone(),
        left: subject.json(left),
        template: host.place.z.value.is_zero().then_some(bore.numbers),
    }
}

/// Bit, depth stop and template, each setting once.
fn set_up(value: &BoringPage) -> Vec<Step> {
    let rows = || value.units.iter().flat_map(|unit| &unit.rows);
    let mut steps: Vec<Step> = Vec::new();
    let mut add = |step: Step| {
        if !steps.contains(&step) {
            steps.push(step);
        }
    };
    for row in rows() {
        match &row.wide {
            Some(wide) => add(Step::new("bit, as the pin").set(wide.print.clone())),
            None => add(Step::new("bit, as the pin: its `diameter` is not stated")),
        }
    }
    for row in rows() {
        let says = format!("depth stop on the bit; {} of wood stay behind the hole", row.left.print);
        add(Step::new(says).set(row.depth.print.clone()));
    }
    for row in rows() {
        let says = "template of straight scrap: holes so far apart in one line, the first so far from its end; that end is marked";
        add(Step::new(says).set(row.pitch.print.clone()));
    }
    add(Step::new(
        "the marked end of the template always goes to the lower end of the board, never to the top; for the other hand it is \
         turned over, and the same end stays down",
    ));
    add(Step::new("two holes in a scrap of the same sheet first: the pin goes in by hand and holds"));
    steps
}

impl UnitRow {
    fn steps(&self) -> Vec<Step> {
        self.rows.iter().flat_map(Row::steps).collect()
    }
}

impl Row {
    /// The template set once, then a tick for each row.
    fn steps(&self) -> Vec<Step> {
        let count = some(usize::try_from(self.in_a_row).unwrap_or(0), "hole");
        let template = match self.template {
            Some([from, to]) => format!("holes {from} to {to} of the template"),
            None => "no hole of the template falls on these: set it by the first hole".to_owned(),
        };
        let first = Step {
            more: vec![
                format!(
                    "{count} a row, {} apart, the last at {}; {template}",
                    self.pitch.print, self.last.print
                ),
                self.boards.join(", "),
            ],
            ..Step::new(format!(
                "over {}, {}: the first hole from the lower end",
                self.opening,
                self.codes.join(" and ")
            ))
            .set(self.first.print.clone())
        };
        let row = |code: &String, says: &str, from: &JsonLength| {
            Step::new(format!("{code}: {says} row, from its {says} edge")).set(from.print.clone())
        };
        let rows = self
            .codes
            .iter()
            .flat_map(|code| [row(code, "front", &self.front), row(code, "rear", &self.rear)]);
        std::iter::once(first).chain(rows).collect()
    }
}
