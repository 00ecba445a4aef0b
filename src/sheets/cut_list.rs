//! The cut list: every part by the sheet it is cut from, equal parts together, the longest first.

use super::{Output, Sheet, Subject};
use crate::document::{Cell, Table, figures, words};
use crate::eval::SheetId;
use crate::parts::Part;
use crate::quantity::{JsonLength, Length, Rational, System, decimal};
use num_traits::{CheckedAdd, CheckedMul};
use serde::Serialize;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// The sheet.
pub(super) const SHEET: Sheet =
    Sheet { name: "cut-list", about: "every part by stock, with sizes, counts and names", make };

/// All parts, by what they are cut from.
#[derive(Clone, Debug, Serialize)]
pub struct CutList {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// One group for each sheet good that parts are cut from.
    pub groups: Vec<CutGroup>,
    /// How many parts there are in all.
    pub parts: usize,
}

/// The parts of one sheet good.
#[derive(Clone, Debug, Serialize)]
pub struct CutGroup {
    /// The name of the sheet good.
    pub stock: String,
    /// Its description.
    pub text: Option<String>,
    /// Its thickness.
    pub thickness: JsonLength,
    /// Whether that was measured.
    pub measured: bool,
    /// Equal parts together, the longest first.
    pub rows: Vec<CutRow>,
    /// How many parts.
    pub parts: usize,
    /// The area of all their faces, exact, as a fraction of square feet or square metres.
    pub area: String,
    /// The same to two decimals, with its unit.
    pub area_print: String,
}

/// Equal parts.
#[derive(Clone, Debug, Serialize)]
pub struct CutRow {
    /// How many.
    pub count: usize,
    /// What they are.
    pub role: &'static str,
    /// Thickness.
    pub thickness: JsonLength,
    /// Across the grain.
    pub width: JsonLength,
    /// Along the grain.
    pub length: JsonLength,
    /// How the grain of the sheet runs on the part.
    pub grain: &'static str,
    /// The paths of the parts.
    pub names: Vec<String>,
}

/// What makes parts equal: the longest and widest come first, and parts of one size by their role.
type Key = (SheetId, Reverse<Length>, Reverse<Length>, &'static str, Length);

/// Equal parts with what makes them so.
type Equal<'a> = (Key, Vec<&'a Part>);

/// Makes the typed list.
pub(super) fn list(subject: Subject<'_>) -> CutList {
    let mut equal: BTreeMap<Key, Vec<&Part>> = BTreeMap::new();
    for part in &subject.graph.parts {
        let (length, width) = (part.size.length.value, part.size.width.value);
        let key = (part.sheet, Reverse(length), Reverse(width), part.role.word(), part.size.thickness.value);
        equal.entry(key).or_default().push(part);
    }
    let mut groups: Vec<(SheetId, Vec<Equal<'_>>)> = Vec::new();
    for (key, parts) in equal {
        match groups.last_mut() {
            Some((sheet, rows)) if *sheet == key.0 => rows.push((key, parts)),
            _ => groups.push((key.0, vec![(key, parts)])),
        }
    }
    let project = &subject.model.project;
    CutList {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        groups: groups.into_iter().filter_map(|(sheet, rows)| group(subject, sheet, &rows)).collect(),
        parts: subject.graph.parts.len(),
    }
}

fn group(subject: Subject<'_>, id: SheetId, rows: &[Equal<'_>]) -> Option<CutGroup> {
    let sheet = subject.graph.sheet(id)?;
    let mut area = Rational::from(0);
    let rows: Vec<CutRow> = rows
        .iter()
        .map(|((_, Reverse(length), Reverse(width), role, thickness), parts)| {
            let count = i128::try_from(parts.len()).unwrap_or(0);
            let faces =
                length.mm().checked_mul(&width.mm()).and_then(|a| a.checked_mul(&Rational::from(count)));
            area = faces.and_then(|faces| area.checked_add(&faces)).unwrap_or(area);
            CutRow {
                count: parts.len(),
                role,
                thickness: subject.json(*thickness),
                width: subject.json(*width),
                length: subject.json(*length),
                grain: if sheet.grain { "along the length" } else { "none" },
                names: parts.iter().map(|part| part.path.clone()).collect(),
            }
        })
        .collect();
    let (unit, word) = match subject.model.project.marks.system() {
        System::Inch => ("ft2", "sq ft"),
        System::Metric => ("m2", "m2"),
    };
    let area = crate::quantity::unit(unit)
        .and_then(|unit| num_traits::CheckedDiv::checked_div(&area, &unit.factor))?;
    Some(CutGroup {
        stock: sheet.name.to_string(),
        text: sheet.text.as_deref().map(str::to_owned),
        thickness: subject.json(sheet.thickness.value),
        measured: sheet.measured,
        parts: rows.iter().map(|row| row.count).sum(),
        rows,
        area: format!("{area} {unit}"),
        area_print: format!("{} {word}", decimal(area, 2)),
    })
}

fn make(subject: Subject<'_>) -> Output {
    let list = list(subject);
    let mut document = subject.document("Cut list");
    for group in &list.groups {
        let text = group.text.as_deref().map(|text| format!(", {text}")).unwrap_or_default();
        let measured = if group.measured { "as measured" } else { "NOT MEASURED, nominal" };
        let rows = group.rows.iter().map(|row| {
            vec![
                Cell::Figure(row.count.to_string()),
                Cell::Words(row.role.to_owned()),
                Cell::Figure(row.thickness.print.clone()),
                Cell::Figure(row.width.print.clone()),
                Cell::Figure(row.length.print.clone()),
                Cell::Words(row.grain.to_owned()),
                Cell::Lines(by_unit(subject, &row.names)),
            ]
        });
        document.tables.push(Table {
            caption: format!("{}{text}, {} thick {measured}", group.stock, group.thickness.print),
            columns: vec![
                figures("count"),
                words("part"),
                figures("thick"),
                figures("width"),
                figures("length"),
                words("grain"),
                words("names"),
            ],
            rows: rows.collect(),
            foot: Some(format!(
                "{} parts, {} of faces before kerfs and waste",
                group.parts, group.area_print
            )),
        });
    }
    Output { json: serde_json::to_value(&list).unwrap_or_default(), document }
}

/// `a.one.shelf.top`, `a.one.shelf.low`, `a.two.shelf.top`, `a.two.shelf.low` as one line: `a.one, a.two: top, low`.
fn by_unit(subject: Subject<'_>, names: &[String]) -> Vec<String> {
    let mut units: Vec<(&str, Vec<&str>)> = Vec::new();
    for name in names {
        let unit = subject.graph.units.iter().map(|unit| unit.path.as_str());
        let unit = unit
            .filter(|unit| name.strip_prefix(unit).is_some_and(|own| own.starts_with('.')))
            .max()
            .unwrap_or("");
        // What follows the unit is the role and then the part's own name.
        let own = name
            .get(unit.len() + 1..)
            .and_then(|own| own.split_once('.'))
            .map_or(name.as_str(), |(_, own)| own);
        match units.last_mut() {
            Some((last, owns)) if *last == unit => owns.push(own),
            _ => units.push((unit, vec![own])),
        }
    }
    let mut lines: Vec<(Vec<&str>, Vec<&str>)> = Vec::new();
    for (unit, owns) in units {
        match lines.iter_mut().find(|(_, same)| *same == owns) {
            Some((units, _)) => units.push(unit),
            None => lines.push((vec![unit], owns)),
        }
    }
    lines.into_iter().map(|(units, owns)| format!("{}: {}", units.join(", "), owns.join(", "))).collect()
}
