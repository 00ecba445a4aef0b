//! Marks and openings: what the story stick carries for each unit, and what lies between the marks.

mod bays;

pub use bays::Holes;
pub(crate) use bays::holes;
use bays::{BayMarks, DividerMark};

use super::{Output, SheetSpec, Subject};
use crate::document::{Cell, Table, figures, words};
use crate::eval::Len;
use crate::parts::{Joint, JointKind, Opening, PartId, Role, State, UnitId};
use crate::quantity::{JsonLength, Length, some};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: "marks",
    about: "the marks on the sides and the openings between them",
    make,
    draw: None,
    of_revision: true,
};

/// All marks.
#[derive(Clone, Debug, Serialize)]
pub struct Marking {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// The units, in the order of the graph.
    pub units: Vec<UnitMarks>,
    /// How the router cuts the dados, where one is stated.
    pub routing: Option<Routing>,
}

/// How the router cuts the dados.
#[derive(Clone, Debug, Serialize)]
pub struct Routing {
    /// The width of the bit.
    pub bit: JsonLength,
    /// From the line to the guide, for the pass next to the line, which is cut second.
    pub spacer_1: JsonLength,
    /// From the line to the guide, for the pass that takes the rest, which is cut first.
    pub spacer_2: JsonLength,
    /// The deepest that is cut at once.
    pub step: JsonLength,
    /// The depths of dados, and in how many steps each is reached.
    pub depths: Vec<(JsonLength, i128)>,
    /// Bit, spacer 2, spacer 1 and step with the decimals of a caliper.
    #[serde(skip)]
    pub(crate) fine: [String; 4],
    /// How often the guide is set, in words.
    pub settings: Option<String>,
}

/// How the router is run, in the order of the work.
pub(crate) const PASSES: [&str; 3] = [
    "Try it on a scrap of the same sheet first: cut narrow and widen by moving the guide, never cut wide. A shelf goes in by \
     hand and does not drop out.",
    "Clamp the guide to the work at the left of the travel, on the bottom-end side of the line. The pass farther from the guide \
     (spacer 2) is cut first, then the near one (spacer 1), both the same way.",
    "A pass that takes wood only on its far side climbs when it is run the other way and draws off the guide: a hair at a time only.",
];

/// The router's settings; `None` where the shop states none.
pub(crate) fn routing(subject: Subject<'_>) -> Option<Routing> {
    let (router, guided) = (subject.model.shop.router?, subject.graph.router?);
    let step = match router.step {
        Some(step) => step.value,
        None => router.bit.value.checked_div(2.into())?,
    };
    let depths: BTreeSet<Length> = subject
        .graph
        .joints
        .iter()
        .filter_map(|joint| match joint.kind {
            JointKind::Dado { depth, .. } => Some(depth.value),
            JointKind::Rabbet { .. }
            | JointKind::Groove { .. }
            | JointKind::Mortise { .. }
            | JointKind::Butt => None,
        })
        .collect();
    let steps = |depth: Length| Some((subject.json(depth), (depth.mm() / step.mm()).ceil().to_integer()));
    Some(Routing {
        bit: subject.json(router.bit.value),
        spacer_1: subject.json(guided.spacer_1.value),
        spacer_2: subject.json(guided.spacer_2.value),
        step: subject.json(step),
        depths: depths.into_iter().filter(|_| step.is_positive()).filter_map(steps).collect(),
        fine: [router.bit.value, guided.spacer_2.value, guided.spacer_1.value, step]
            .map(|length| subject.print_both(length)),
        settings: settings(subject),
    })
}

/// The router's settings, as a table with the order of its passes under it.
fn router_table(routing: &Routing) -> Table {
    let what = ["bit", "spacer 2, cut first", "spacer 1, cut second", "at most in one step"];
    let mut rows: Vec<(&str, String)> = what.into_iter().zip(routing.fine.iter().cloned()).collect();
    let steps: Vec<String> = routing
        .depths
        .iter()
        .map(|(depth, steps)| {
            format!("{} in {}", depth.print, some(usize::try_from(*steps).unwrap_or(0), "step"))
        })
        .collect();
    rows.push(("depth", steps.join("; ")));
    let rows = rows.into_iter().map(|(what, value)| vec![Cell::Words(what.to_owned()), Cell::Figure(value)]);
    Table {
        caption: "Router".to_owned(),
        columns: vec![words("what"), figures("setting")],
        rows: rows.collect(),
        foot: Some(routing.settings.iter().map(String::as_str).chain(PASSES).collect::<Vec<_>>().join(" ")),
    }
}

/// The marks of a unit.
#[derive(Clone, Debug, Serialize)]
pub struct UnitMarks {
    /// The unit.
    pub unit: String,
    /// Its marks, from the bottom end.
    pub marks: Vec<MarkRow>,
    /// The marks of its bays.
    pub bays: Vec<BayMarks>,
    /// Where its dividers stand.
    pub dividers: Vec<DividerMark>,
    /// Its holes for pins.
    pub holes: Vec<Holes>,
}

/// A mark and the opening over it.
#[derive(Clone, Debug, Serialize)]
pub struct MarkRow {
    /// The shelf that stands there.
    pub shelf: String,
    /// Its underside, from the bottom end of the side.
    pub mark: JsonLength,
    /// Width of the dado.
    pub dado_width: Option<JsonLength>,
    /// Depth of the dado.
    pub dado_depth: Option<JsonLength>,
    /// From the shelf's top to the next underside; over the top shelf, to the ends of the sides.
    pub clear_height: JsonLength,
    /// The same at the front, under the strip or rail that hangs there.
    pub opening_front: JsonLength,
    /// The same at the wall, under the cleat.
    pub opening_rear: JsonLength,
    /// Whether it is the room over the top shelf.
    pub over_top: bool,
}

/// Depth and width of the dado that holds a part, where its first joint is one.
type Dados = BTreeMap<PartId, Option<(Len, Len)>>;

fn dados(subject: Subject<'_>) -> Dados {
    let mut dados = Dados::new();
    for joint in &subject.graph.joints {
        dados.entry(joint.guest).or_insert(match joint.kind {
            JointKind::Dado { depth, width, .. } => Some((depth, width)),
            JointKind::Rabbet { .. }
            | JointKind::Groove { .. }
            | JointKind::Mortise { .. }
            | JointKind::Butt => None,
        });
    }
    dados
}

fn cells(row: &MarkRow) -> Vec<Cell> {
    let over = if row.over_top { "to the ends of the sides" } else { "" };
    vec![
        Cell::Words(row.shelf.clone()),
        Cell::Figure(row.mark.print.clone()),
        Cell::Figure(row.clear_height.print.clone()),
        Cell::Figure(row.opening_front.print.clone()),
        Cell::Figure(row.opening_rear.print.clone()),
        Cell::Words(over.to_owned()),
    ]
}

fn row(subject: Subject<'_>, dados: &Dados, opening: &Opening) -> Option<MarkRow> {
    let shelf = subject.graph.part(opening.on)?;
    let dado = dados.get(&opening.on).copied().flatten();
    Some(MarkRow {
        shelf: shelf.name.to_string(),
        mark: subject.json(shelf.place.z.value),
        dado_width: dado.map(|(_, width)| subject.fine(width.value)),
        dado_depth: dado.map(|(depth, _)| subject.fine(depth.value)),
        clear_height: subject.json(opening.clear_height.value),
        opening_front: subject.json(opening.opening_front.value),
        opening_rear: subject.json(opening.opening_rear.value),
        over_top: opening.under.is_none(),
    })
}

/// The sides of a unit that are grooved already.
fn grooved(subject: Subject<'_>, unit: UnitId) -> Option<String> {
    let done = subject.graph.made.iter().filter(|(_, made)| made.state >= State::Grooved);
    let parts = done.filter_map(|(id, _)| subject.graph.part(*id));
    let sides = parts.filter(|part| part.unit == Some(unit) && matches!(part.role, Role::Side(_)));
    let paths: Vec<&str> = sides.map(|part| part.path.as_str()).collect();
    (!paths.is_empty()).then(|| format!("grooved already: {}", paths.join(", ")))
}

/// How often the router is set up for the dados of sides; `None` where the shop states none.
fn settings(subject: Subject<'_>) -> Option<String> {
    let stated = subject.model.shop.router?;
    let in_side = |joint: &&Joint| {
        let host = subject.graph.part(joint.host);
        matches!(joint.kind, JointKind::Dado { .. })
            && host.is_some_and(|host| matches!(host.role, Role::Side(_)))
    };
    let wide =
        |joint: &Joint| matches!(joint.kind, JointKind::Dado { width, .. } if width.value > stated.bit.value);
    let (mut count, mut settings) = (0_usize, 0_usize);
    for joint in subject.graph.joints.iter().filter(in_side) {
        count += 1;
        settings += if wide(joint) { 2 } else { 1 };
    }
    if count == 0 {
        return None;
    }
    let together = settings.div_ceil(2);
    Some(format!(
        "{} in sides take {} of the guide, {together} where the two sides of a unit are clamped edge to edge.",
        some(count, "dado"),
        some(settings, "setting")
    ))
}

fn make(subject: Subject<'_>) -> Output {
    let mut document = subject.document("Marks and openings");
    document.facts.push(
        "Marks are undersides, measured from the bottom end of the side, never from mark to mark. The highest mark stands \
         first. Clear heights lie behind the front edge; at the front a strip or rail hangs into the opening, at the rear a cleat."
            .to_owned(),
    );
    let (dados, mut units) = (dados(subject), Vec::new());
    for (id, unit) in subject.graph.numbered_units() {
        let openings: Vec<&Opening> = subject.graph.openings_of(id).filter(|opening| !opening.bay).collect();
        let marks: Vec<MarkRow> =
            openings.iter().filter_map(|opening| row(subject, &dados, opening)).collect();
        let dado = openings.first().and_then(|opening| dados.get(&opening.on).copied().flatten());
        let dado = dado.map(|(depth, width)| {
            format!(
                "dados {} wide, {} deep",
                subject.print_both(width.value),
                subject.print_both(depth.value)
            )
        });
        let rows: Vec<Vec<Cell>> = marks.iter().rev().map(cells).collect();
        let caption = dado.map_or_else(String::new, |dado| format!("; {dado}"));
        let foot = grooved(subject, id);
        // Units with the same marks share a table: the stick is the same.
        match document
            .tables
            .iter_mut()
            .find(|table| table.rows == rows && table.foot == foot && table.caption.ends_with(&caption))
        {
            Some(table) => {
                let end = table.caption.len().saturating_sub(caption.len());
                table.caption.insert_str(end, &format!(", {}", unit.path));
            }
            None => document.tables.push(Table {
                caption: format!("{}{caption}", unit.path),
                columns: vec![
                    words("shelf"),
                    figures("mark"),
                    figures("clear height over it"),
                    figures("at the front"),
                    figures("at the rear"),
                    words(""),
                ],
                rows,
                foot: grooved(subject, id),
            }),
        }
        let (bays, dividers) = (bays::bays(subject, &dados, id), bays::dividers(subject, id));
        let holes = holes(subject, id);
        bays::tables(&mut document, &unit.path, &bays, &dividers, &holes);
        units.push(UnitMarks { unit: unit.path.clone(), marks, bays, dividers, holes });
    }
    let routing = routing(subject);
    document.tables.extend(routing.as_ref().map(router_table));
    let project = &subject.model.project;
    let list = Marking {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        units,
        routing,
    };
    Output::new(list, document, &[])
}
