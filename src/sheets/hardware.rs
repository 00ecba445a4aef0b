//! Hardware: nails, brads and screws, counted row by row, and what is bought with spares.

use super::{Output, SheetSpec, Subject};
use crate::document::{Cell, Table, figures, words};
use crate::eval::{Fixing, Len};
use crate::parts::{Member, Row, RowKind, Spacing, Work, with_spares};
use crate::quantity::{JsonLength, Length, some};
use serde::Serialize;
use std::collections::BTreeMap;

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: "hardware",
    about: "nails and screws by row, with spares",
    make,
    draw: None,
    of_revision: true,
};

/// One in twenty more is bought (common practice, no source: 5 % nails).
const SPARE_SHARE: usize = 20;

/// All fasteners.
#[derive(Clone, Debug, Serialize)]
pub struct Hardware {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// By fastener; first those without one.
    pub items: Vec<HardwareItem>,
}

/// A fastener and where it goes.
#[derive(Clone, Debug, Serialize)]
pub struct HardwareItem {
    /// Its name; `None` for rows that no fastener is stated for.
    pub name: Option<String>,
    /// Its length.
    pub length: Option<JsonLength>,
    /// How many stand in the work.
    pub count: usize,
    /// How many to buy.
    pub buy: usize,
    /// How many boxes that is, where it is stated what a box holds.
    pub boxes: Option<usize>,
    /// The rows, equal ones together.
    pub rows: Vec<HardwareRow>,
    /// How deep a screw holds in a stud: its length less the cleat and the lining; the least of all rows.
    pub grip: Option<JsonLength>,
}

/// Equal rows.
#[derive(Clone, Debug, Serialize)]
pub struct HardwareRow {
    /// Why they are there.
    pub kind: RowKind,
    /// How long each is.
    pub length: JsonLength,
    /// How many rows.
    pub rows: usize,
    /// How many in each.
    pub each: usize,
    /// How many in all.
    pub count: usize,
    /// How they stand in a row.
    pub rule: String,
    /// The joints: what is held, and by what.
    pub joints: Vec<[String; 2]>,
}

/// What makes rows equal.
type Key = (RowKind, Length, usize, String);

fn rule(subject: Subject<'_>, row: &Row) -> String {
    let print = |len: Len| subject.print(len.value);
    match &row.spacing {
        // Too short for two at that distance from its ends.
        Spacing::Pitch { ends, .. }
            if ends.value.checked_add(ends.value).is_some_and(|both| row.length.value < both) =>
        {
            "as far from each other as from the ends".to_owned()
        }
        Spacing::Pitch { ends, pitch } => {
            format!("{} from the ends, at most {} apart, never under two", print(*ends), print(*pitch))
        }
        Spacing::Studs(studs) if studs.is_empty() => "no stud can be reached".to_owned(),
        Spacing::Studs(studs) => {
            let at: Vec<String> = studs.iter().map(|stud| print(*stud)).collect();
            format!("one in each stud, {} from the left corner", at.join(" and "))
        }
        Spacing::Corners => "one under each corner".to_owned(),
        Spacing::Single => match row.kind {
            RowKind::Slide => "a pair to each".to_owned(),
            _ => "one to each".to_owned(),
        },
        Spacing::Heights { heights, each } => format!("{each} at each of {heights} heights"),
    }
}

fn item(subject: Subject<'_>, fastener: Option<usize>, rows: &[&Row]) -> HardwareItem {
    let stated = fastener.and_then(|index| subject.graph.fasteners.get(index));
    let mut equal: BTreeMap<Key, Vec<&Row>> = BTreeMap::new();
    for row in rows {
        let key = (row.kind, row.length.value, row.count, rule(subject, row));
        equal.entry(key).or_default().push(row);
    }
    let count = rows.iter().map(|row| row.count).sum();
    let screw = stated.is_some_and(|stated| stated.screw);
    let length = stated.and_then(|stated| stated.length);
    let made = equal.into_iter().map(|((kind, length, each, rule), rows)| HardwareRow {
        kind,
        length: subject.json(length),
        rows: rows.len(),
        each,
        count: each * rows.len(),
        rule,
        joints: rows
            .iter()
            .map(|row| [row.guest, row.host].map(|member| subject.graph.called(member).to_owned()))
            .collect(),
    });
    // Screws are counted as they are: none is lost to a nailer. So is what is bought by the piece.
    let by_piece = stated.is_some_and(|stated| stated.by_piece);
    let buy = if screw || by_piece { count } else { with_spares(count, SPARE_SHARE) };
    HardwareItem {
        name: stated.map(|stated| stated.name.to_string()),
        length: length.map(|length| subject.json(length.value)),
        count,
        buy,
        boxes: stated.and_then(|stated| stated.per_box).map(|holds| buy.div_ceil(holds.max(1))),
        rows: made.collect(),
        grip: grip(subject, rows).filter(|_| screw).map(|grip| subject.json(grip)),
    }
}

/// The least that a screw holds in a stud.
fn grip(subject: Subject<'_>, rows: &[&Row]) -> Option<Length> {
    let grips = rows.iter().filter(|row| row.kind == RowKind::Wall).filter_map(|row| {
        let Member::Wall(wall) = row.host else { return None };
        let wall = subject.model.walls.get(wall).filter(|wall| wall.fixing != Fixing::Masonry)?;
        subject.graph.grip(row, wall)
    });
    grips.min()
}

/// Makes the typed sheet.
pub(super) fn hardware(subject: Subject<'_>) -> Hardware {
    let mut by_fastener: BTreeMap<Option<usize>, Vec<&Row>> = BTreeMap::new();
    let left = |row: &&Row| subject.work == Work::Whole || !subject.graph.is_driven(row);
    for row in subject.graph.rows.iter().filter(left) {
        by_fastener.entry(row.fastener).or_default().push(row);
    }
    let project = &subject.model.project;
    Hardware {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        items: by_fastener.iter().map(|(fastener, rows)| item(subject, *fastener, rows)).collect(),
    }
}

fn make(subject: Subject<'_>) -> Output {
    let hardware = hardware(subject);
    let mut document = subject.document("Hardware");
    let walls = subject.graph.rows.iter().filter(|row| row.kind == RowKind::Wall);
    if walls.clone().any(|row| matches!(row.spacing, Spacing::Studs(_))) {
        document.facts.push(
            "Screws into studs: no. 8 or heavier, with a washer or pan head under which wood cannot split. A stud is 1 1/2 in (38 mm) \
             wide: find both of its edges before you drive into its middle."
                .to_owned(),
        );
    }
    for item in &hardware.items {
        let name = item.name.as_deref().unwrap_or("no fastener is stated for these");
        let length =
            item.length.as_ref().map(|length| format!(", {} long", length.print)).unwrap_or_default();
        let grip = item.grip.as_ref().map(|grip| format!("; at least {} of it in a stud", grip.print));
        let rows = item.rows.iter().map(|row| {
            vec![
                Cell::Words(row.kind.words().to_owned()),
                Cell::Figure(row.rows.to_string()),
                Cell::Figure(row.length.print.clone()),
                Cell::Figure(row.each.to_string()),
                Cell::Figure(row.count.to_string()),
                Cell::Words(row.rule.clone()),
            ]
        });
        let foot = match (&item.name, item.buy == item.count) {
            (None, _) => "state a nail or screw in the `join` of these parts".to_owned(),
            (Some(_), true) => format!("{} in all", item.count),
            (Some(_), false) => format!("{} in all; buy {}", item.count, item.buy),
        };
        let boxes = item.boxes.map(|boxes| format!(": {}", some(boxes, "box")));
        let foot = foot + &boxes.unwrap_or_default();
        document.tables.push(Table {
            caption: format!("{name}{length}{}", grip.unwrap_or_default()),
            columns: vec![
                words("where"),
                figures("rows"),
                figures("length of a row"),
                figures("in a row"),
                figures("count"),
                words("rule"),
            ],
            rows: rows.collect(),
            foot: Some(foot),
        });
    }
    Output::new(hardware, document, &[])
}
