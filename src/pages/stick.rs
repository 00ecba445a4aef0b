//! The story stick: in strips of true scale, and as a list.

use super::sheet::Head;
use super::strips::{Drawn, Long, What, least};
use super::{Leaf, PlaceSpec};
use crate::document::{AT_WORK, Block, Cell, Drawing, Step, Table, figures, words};
use crate::parts::{Joint, JointKind, Part, PartId, Role};
use crate::quantity::{JsonLength, Length, some};
use crate::sequence::{Stick, sticks};
use crate::sheets::Subject;
use crate::views::plain;
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    far: true,
    by_unit: true,
    least: Some(least),
    on_roll: Some(rolls),
    ..PlaceSpec::new(
        "stick",
        "the story stick in true scale, in strips for the paper at hand, and as a list",
        make,
    )
};

#[derive(Debug, Serialize)]
struct StickPage {
    units: Vec<String>,
    /// The codes of the sides that are marked from it.
    sides: Vec<String>,
    length: JsonLength,
    marks: Vec<MarkRow>,
    ends: Vec<EndRow>,
    dividers: Vec<DividerRow>,
}

/// A mark, from the bottom end.
#[derive(Debug, Serialize)]
struct MarkRow {
    mark: JsonLength,
    shelf: String,
    /// How wide the groove over it is, which has the X.
    groove: JsonLength,
    rabbet: bool,
    /// Units and sides that have no such mark.
    skipped_by: Vec<String>,
}

/// Where sides end.
#[derive(Debug, Serialize)]
struct EndRow {
    at: JsonLength,
    /// Of which units or sides, where not of all.
    of: Vec<String>,
}

/// A mark on a divider, from its own lower end.
#[derive(Debug, Serialize)]
struct DividerRow {
    divider: String,
    code: String,
    shelf: String,
    mark: JsonLength,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let all = sticks(subject.model, subject.graph);
    let is_shown = |stick: &Stick| stick.units.iter().any(|unit| subject.shows(*unit));
    let shown = all.iter().enumerate().filter(|(_, stick)| is_shown(stick));
    shown.map(|(place, stick)| leaf(subject, stick, (place + 1, all.len()), false)).collect()
}

/// Each stick as one drawing, for paper from a roll.
fn rolls(subject: Subject<'_>) -> Vec<Drawing> {
    let all = sticks(subject.model, subject.graph);
    let leaves =
        all.iter().enumerate().map(|(place, stick)| leaf(subject, stick, (place + 1, all.len()), true));
    leaves
        .flat_map(|leaf| leaf.page.drawings().map(|(drawing, _)| drawing.clone()).collect::<Vec<_>>())
        .collect()
}

fn leaf(subject: Subject<'_>, stick: &Stick, (number, all): (usize, usize), roll: bool) -> Leaf {
    let value = value(subject, stick);
    let title = match (all, value.units.as_slice()) {
        (1, _) => "Story stick".to_owned(),
        (_, [first, _, _, ..]) => {
            format!("Story stick {number} of {all}: {first} and {} more", value.units.len() - 1)
        }
        (_, units) => format!("Story stick {number} of {all}: {}", units.join(", ")),
    };
    let mut leaf = Leaf::new(subject, &PLACE, title.clone(), &value);
    let signs = leaf.page.signs.clone();
    let page = &mut leaf.page;
    let sides = some(value.sides.len(), "side");
    let whose = match value.units.as_slice() {
        [first, _, _, _, _, _, _, _, _, ..] => {
            format!("{sides}, of {first} and {} more units", value.units.len() - 1)
        }
        units => format!("{sides} of {} ({})", units.join(", "), value.sides.join(", ")),
    };
    page.words(format!(
        "One stick for {whose}, {} long. Every mark is an underside and is measured from the bottom end, never from mark to mark; the X \
         stands over it, where the groove goes.",
        value.length.print
    ));
    let steps = vec![
        Step::new("print the strips at 100 %, and measure both rules on each before you use it"),
        Step::new(
            "cut them out and lay them on a straight batten, each over the one below so that equal numbers lie on each other; glue them down",
        ),
        Step::new("paint the bottom end of the batten: that end goes flush with the bottom end of a side"),
        Step::new(
            "front edge and bottom end marked on every side, left and right, before the stick comes out",
        ),
        Step::new("a knife line at each mark, an X over it; skip what the stick says"),
    ];
    page.steps("Make it, and use it", steps);
    page.table(table(stick, &value));
    page.table(dividers(&value));
    let project = subject.headed();
    let name = if all > 1 { format!("stick-{number}") } else { "stick".to_owned() };
    let head = Head { project: &project, signs: &signs, title: &title, name: &name };
    let long = long(subject, stick, &value);
    let drawings =
        if roll { vec![long.roll(head)] } else { long.sheets(head, subject.model.project.paper().upright()) };
    page.push(Block::TrueScale(drawings));
    page.cautions.push(AT_WORK);
    leaf
}

fn value(subject: Subject<'_>, stick: &Stick) -> StickPage {
    let graph = subject.graph;
    let codes = graph.codes();
    let code = |part: &PartId| codes.get(part).cloned().unwrap_or_default();
    let marks = stick.marks.iter().rev().map(|mark| {
        let skipped: Vec<PartId> = stick.skipped(mark).collect();
        MarkRow {
            mark: subject.json(mark.at),
            shelf: mark.names.iter().map(|name| &**name).collect::<Vec<_>>().join(", "),
            groove: subject.json(mark.wide),
            rabbet: mark.rabbet,
            skipped_by: of(subject, stick, &skipped, &codes),
        }
    });
    let ends = stick.ends.iter().rev().map(|(at, boards)| {
        let whole = boards.len() == stick.boards.len();
        EndRow {
            at: subject.json(*at),
            of: if whole { Vec::new() } else { of(subject, stick, boards, &codes) },
        }
    });
    StickPage {
        units: stick.units.iter().filter_map(|unit| Some(graph.unit(*unit)?.path.clone())).collect(),
        sides: stick.boards.iter().map(code).collect(),
        length: subject.json(stick.length()),
        marks: marks.collect(),
        ends: ends.collect(),
        dividers: stick.units.iter().flat_map(|unit| graph.parts_of(*unit)).fold(
            Vec::new(),
            |mut rows, part| {
                rows.extend(divider(subject, part, &code(&part.id)));
                rows
            },
        ),
    }
}

/// What is housed in a divider.
fn divider(subject: Subject<'_>, part: &Part, code: &str) -> Vec<DividerRow> {
    if part.role != Role::Divider {
        return Vec::new();
    }
    let joints =
        subject.graph.joints_in(part.id).filter(|joint| matches!(joint.kind, JointKind::Dado { .. }));
    let row = |joint: &Joint| DividerRow {
        divider: part.path.clone(),
        code: code.to_owned(),
        shelf: subject.graph.part(joint.guest).map(|part| part.name.to_string()).unwrap_or_default(),
        mark: subject.json(joint.at.value),
    };
    joints.map(row).collect()
}

/// Sides in words: both of a unit as the unit, then one of them alone by its code.
fn of(
    subject: Subject<'_>,
    stick: &Stick,
    boards: &[PartId],
    codes: &BTreeMap<PartId, String>,
) -> Vec<String> {
    let graph = subject.graph;
    let unit = |board: &PartId| graph.part(*board).and_then(|part| part.unit);
    let runs: BTreeSet<_> = stick.units.iter().map(|id| graph.unit(*id).and_then(|unit| unit.run)).collect();
    let (mut units, mut single) = (Vec::new(), Vec::new());
    for id in &stick.units {
        let own: Vec<&PartId> = boards.iter().filter(|board| unit(board) == Some(*id)).collect();
        match (own.as_slice(), graph.unit(*id)) {
            ([], _) | (_, None) => {}
            // Names tell units of one run apart.
            ([_, _, ..], Some(unit)) if runs.len() == 1 => units.push(unit.name.to_string()),
            ([_, _, ..], Some(unit)) => units.push(unit.path.clone()),
            ([one], Some(_)) => single.extend(codes.get(one).cloned()),
        }
    }
    units.into_iter().chain(single).collect()
}

impl MarkRow {
    fn skipped(&self) -> Option<String> {
        (!self.skipped_by.is_empty()).then(|| format!("not {}", self.skipped_by.join(", ")))
    }
}

impl EndRow {
    fn says(&self) -> String {
        if self.of.is_empty() { "top end".to_owned() } else { format!("top end of {}", self.of.join(", ")) }
    }
}

/// The stick as it is drawn: the list and the strips say the same of each line.
fn long(subject: Subject<'_>, stick: &Stick, value: &StickPage) -> Long {
    let bottom = Drawn { at: Length::ZERO, what: What::End, says: vec!["bottom end: paint it".to_owned()] };
    let marks = stick.marks.iter().zip(value.marks.iter().rev()).map(|(mark, row)| {
        let kind = if row.rabbet { Some("rabbet".to_owned()) } else { None };
        let first = [row.shelf.clone(), plain(&row.mark.print)];
        Drawn {
            at: mark.at,
            what: What::Groove(mark.wide),
            says: first.into_iter().chain(kind).chain(row.skipped()).collect(),
        }
    });
    let ends = stick.ends.iter().zip(value.ends.iter().rev()).map(|((at, _), row)| Drawn {
        at: *at,
        what: What::End,
        says: vec![row.says(), plain(&row.at.print)],
    });
    let mut lines: Vec<Drawn> = std::iter::once(bottom).chain(marks).chain(ends).collect();
    lines.sort_by_key(|line| line.at);
    Long { lines, length: stick.length(), system: subject.model.project.marks.system() }
}

fn table(stick: &Stick, value: &StickPage) -> Table {
    let end = |row: &EndRow| {
        vec![
            Cell::Figure(row.at.print.clone()),
            Cell::Words(row.says()),
            Cell::Figure(String::new()),
            Cell::Words(String::new()),
        ]
    };
    let mark = |row: &MarkRow| {
        let kind = if row.rabbet { ", rabbet" } else { "" };
        vec![
            Cell::Figure(row.mark.print.clone()),
            Cell::Words(format!("{}{kind}", row.shelf)),
            Cell::Figure(row.groove.print.clone()),
            Cell::Words(row.skipped().unwrap_or_default()),
        ]
    };
    let ends = stick.ends.iter().map(|(at, _)| *at).zip(value.ends.iter().rev().map(end));
    let marks = stick.marks.iter().map(|mark| mark.at).zip(value.marks.iter().rev().map(mark));
    let mut rows: Vec<(Length, Vec<Cell>)> = marks.chain(ends).collect();
    rows.sort_by_key(|(at, _)| *at);
    Table {
        caption: "Marks from the bottom end, the highest first".to_owned(),
        columns: vec![figures("mark"), words("shelf"), figures("groove over it"), words("skip")],
        rows: rows.into_iter().rev().map(|(_, row)| row).collect(),
        foot: None,
    }
}

fn dividers(value: &StickPage) -> Table {
    let row = |row: &DividerRow| {
        vec![
            Cell::Words(row.code.clone()),
            Cell::Words(row.divider.clone()),
            Cell::Words(row.shelf.clone()),
            Cell::Figure(row.mark.print.clone()),
        ]
    };
    Table {
        caption: "Marks on dividers, from the lower end of each: the stick does not have them".to_owned(),
        columns: vec![words("code"), words("divider"), words("shelf"), figures("mark")],
        rows: value.dividers.iter().map(row).collect(),
        foot: None,
    }
}
