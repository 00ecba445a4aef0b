//! Boring holes for pins, and for the cups of hinges in doors: bit, depth stop, template, then the rows of each pair of uprights, all from one end.

use super::{Leaf, PlaceSpec, drawn};
use crate::document::{AT_WORK, Step};
use crate::parts::{Bore, Hand, Hole, Hung, Part, PartId, UnitId};
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
        "holes for pins and hinges: bit, depth stop, template, then first and last hole of each row, and cups in doors",
        make,
    )
};

#[derive(Debug, Serialize)]
struct BoringPage {
    units: Vec<UnitRow>,
    /// Holes in all.
    holes: i128,
    /// Doors with holes for the cups of hinges.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    doors: Vec<DoorRow>,
}

/// A door that is bored for the cups of its hinges.
#[derive(Debug, Serialize)]
struct DoorRow {
    #[serde(skip)]
    id: UnitId,
    #[serde(skip)]
    part: PartId,
    code: String,
    door: String,
    /// The edge that it hangs on, as one looks at its front.
    hangs: &'static str,
    wide: JsonLength,
    depth: JsonLength,
    /// How much wood stays before a hole.
    left: JsonLength,
    /// From that edge to the middles.
    from_edge: JsonLength,
    /// From the lower end.
    up: Vec<JsonLength>,
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
    let doors = doors(subject, &codes);
    if units.is_empty() && doors.is_empty() {
        return Vec::new();
    }
    let count = |row: &Row| i128::try_from(row.boards.len()).unwrap_or(0) * 2 * row.in_a_row;
    let holes = units.iter().flat_map(|unit| &unit.rows).map(count).sum();
    let value = BoringPage { units, holes, doors };
    let mut leaf = Leaf::new(subject, &PLACE, "Boring".to_owned(), &value);
    let page = &mut leaf.page;
    if !value.units.is_empty() {
        page.steps("Set up once", set_up(&value));
    }
    for unit in value.units.iter().filter(|unit| subject.shows(unit.id)) {
        drawn(subject, page, &SIDE, &Picked::unit(graph, unit.id));
        page.steps(
            format!("{}: inside faces up, front edges and lower ends marked", unit.unit),
            unit.steps(),
        );
    }
    let shown: Vec<&DoorRow> = value.doors.iter().filter(|door| subject.shows(door.id)).collect();
    if !shown.is_empty() {
        page.steps("Doors: set up once for each hinge", set_up_for_cups(&shown));
        for door in &shown {
            let run = graph.part(door.part).and_then(|part| part.run);
            let picked = Picked { run, unit: Some(door.id), part: Some(door.part) };
            drawn(subject, page, &SIDE, &picked);
            page.steps(format!("{}: its rear face up", door.door), door.steps());
        }
    }
    page.cautions.push(AT_WORK);
    vec![leaf]
}

/// The doors with holes for cups.
fn doors(subject: Subject<'_>, codes: &BTreeMap<PartId, String>) -> Vec<DoorRow> {
    let graph = subject.graph;
    let row = |hung: &Hung| {
        let door = graph.part(hung.door)?;
        let cups: Vec<&Hole> = graph.cups_of(door.id).collect();
        let first = cups.first()?;
        let depth = first.depth?.value;
        let across = first.at[1].value;
        let from_edge = match hung.hand {
            Hand::Left => across,
            Hand::Right => door.size.width.value.checked_sub(across)?,
        };
        Some(DoorRow {
            id: door.unit?,
            part: door.id,
            code: codes.get(&door.id).cloned().unwrap_or_default(),
            door: door.path.clone(),
            hangs: hung.hand.word(),
            wide: subject.json(first.diameter.value),
            depth: subject.json(depth),
            left: subject.json(door.size.thickness.value.checked_sub(depth)?),
            from_edge: subject.json(from_edge),
            up: cups.iter().map(|cup| subject.json(cup.at[0].value)).collect(),
        })
    };
    graph.doors.iter().filter_map(row).collect()
}

/// Bit, depth stop and fence, each setting once.
fn set_up_for_cups(doors: &[&DoorRow]) -> Vec<Step> {
    let mut steps: Vec<Step> = Vec::new();
    for door in doors {
        let left = &door.left.print;
        for step in [
            Step::new("bit for cups, with a flat cut").set(door.wide.print.clone()),
            Step::new(format!("depth stop; {left} of wood stay at the front of the door"))
                .set(door.depth.print.clone()),
            Step::new("fence of the drill press: from it to the middle of the bit")
                .set(door.from_edge.print.clone()),
        ] {
            if !steps.contains(&step) {
                steps.push(step);
            }
        }
    }
    steps.push(Step::new("one hole in a scrap of the same sheet first: the cup goes in by hand, and nothing shows at the front"));
    steps
}

impl DoorRow {
    fn steps(&self) -> Vec<Step> {
        let hangs = self.hangs;
        // On its rear face left and right change sides.
        let seen = if hangs == "left" { "right" } else { "left" };
        let edge = Step::new(format!(
            "{}: it hangs on the {hangs} edge, which lies at your {seen} with the lower end towards you: that edge against the fence",
            self.code
        ));
        let holes = self.up.iter().enumerate().map(|(place, up)| {
            Step::new(format!("{}: middle of hole {} from the lower end", self.code, place + 1))
                .set(up.print.clone())
        });
        std::iter::once(edge).chain(holes).collect()
    }
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
