//! The cut list: every part by what it is cut from, equal parts together, the longest first.

use super::{Output, SheetSpec, Subject};
use crate::breakdown::{self, rough};
use crate::document::{Cell, Table, figures, words};
use crate::parts::{Part, PartGraph, PartId, Reused, Role, State, Stock};
use crate::quantity::{
    Dim, Estimate, JsonLength, Length, Rational, System, decimal, estimate, rounded, some, unit,
};
use crate::real::Real;
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, One};
use serde::Serialize;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// The sheet.
pub(super) const SHEET: SheetSpec = SheetSpec {
    name: "cut-list",
    about: "every part by stock, with sizes, counts and names",
    make,
    draw: None,
    of_revision: true,
};

/// All parts, by what they are cut from.
#[derive(Clone, Debug, Serialize)]
pub struct CutList {
    /// The project's title.
    pub project: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// One group for each sheet good and board that parts are cut from.
    pub groups: Vec<CutGroup>,
    /// How many parts there are in all, without spares.
    pub parts: usize,
    /// How many of them are cut already; they are in no row.
    pub made: usize,
    /// Those that are cut down from made pieces.
    pub reused: Vec<ReusedRow>,
}

/// A part that is cut down from a made piece which is of no use where it was.
#[derive(Clone, Debug, Serialize)]
pub struct ReusedRow {
    /// The path of the part.
    pub name: String,
    /// The path under which the piece was made.
    pub piece: String,
    /// Width and length of the piece.
    pub from: [JsonLength; 2],
    /// Width and length of the part as cut.
    pub to: [JsonLength; 2],
}

/// The parts of one stock.
#[derive(Clone, Debug, Serialize)]
pub struct CutGroup {
    /// The name of the sheet good or board.
    pub stock: String,
    /// Its description.
    pub text: Option<String>,
    /// The thickness of its parts.
    pub thickness: JsonLength,
    /// Whether that was measured; boards are as dressed.
    pub measured: bool,
    /// Equal parts together, the longest first.
    pub rows: Vec<CutRow>,
    /// How many parts are cut, with spares.
    pub parts: usize,
    /// How many of them are spares.
    pub spares: usize,
    /// The area of all their faces as cut, exact, as a fraction of square feet or square metres.
    pub area: String,
    /// The same to two decimals, with its unit.
    pub area_print: String,
    /// For a board: what to buy.
    pub solid: Option<Solid>,
}

/// Solid stock to buy: board feet (144 square inches of face an inch thick, as the rough board is), or square metres of face.
#[derive(Clone, Debug, Serialize)]
pub struct Solid {
    /// The blanks.
    pub blanks: String,
    /// With one kerf along each piece.
    pub with_kerfs: String,
    /// The share that is lost, as stated: `20 %`.
    pub waste: Option<String>,
    /// With that waste: an estimate.
    pub to_buy: String,
    /// Whether any waste is reckoned with.
    #[serde(skip)]
    wastes: bool,
}

impl Solid {
    /// What is added for waste, in words.
    #[must_use]
    pub fn allowance(&self) -> &'static str {
        match (&self.waste, self.wastes) {
            (None, _) => "no `waste` is stated",
            (Some(_), true) => "with waste",
            (Some(_), false) => "without waste, as stated",
        }
    }
}

/// Equal parts.
#[derive(Clone, Debug, Serialize)]
pub struct CutRow {
    /// How many are cut, with spares.
    pub count: usize,
    /// How many of them are spares; they have no name.
    pub spares: usize,
    /// What they are.
    pub role: &'static str,
    /// Thickness.
    pub thickness: JsonLength,
    /// Across the grain, as cut in the shop.
    pub width: JsonLength,
    /// Along the grain, as cut in the shop.
    pub length: JsonLength,
    /// How many others of them are cut already.
    pub made: usize,
    /// How the grain runs on the part.
    pub grain: &'static str,
    /// Those that are cut over size and fitted on site, with what is left of them then.
    pub fit_on_site: Vec<FitOnSite>,
    /// What else to know: edges that stay sharp.
    pub remarks: Vec<String>,
    /// The paths of the parts.
    pub names: Vec<String>,
}

/// A part that is cut over size and fitted on site.
#[derive(Clone, Debug, Serialize)]
pub struct FitOnSite {
    /// The path of the part.
    pub name: String,
    /// Its finished size.
    pub finished: String,
}

/// What makes parts equal: the longest and widest come first, then by role, then by what is remarked about them.
type Key = (Stock, Reverse<Length>, Reverse<Length>, &'static str, Length, Vec<String>);

/// Equal parts with what makes them so.
type Equal<'a> = (Key, Vec<&'a Part>);

/// Makes the typed list.
pub(super) fn list(subject: Subject<'_>) -> CutList {
    let mut equal: BTreeMap<Key, Vec<&Part>> = BTreeMap::new();
    for part in &subject.graph.parts {
        let cut = part.cut();
        let (length, width) = (Reverse(cut.length.value), Reverse(cut.width.value));
        let remarks = remarks(subject, part);
        let key = (part.stock, length, width, part.role.word(), part.size.thickness.value, remarks);
        equal.entry(key).or_default().push(part);
    }
    let mut groups: Vec<(Stock, Vec<Equal<'_>>)> = Vec::new();
    for (key, parts) in equal {
        match groups.last_mut() {
            Some((stock, rows)) if *stock == key.0 => rows.push((key, parts)),
            _ => groups.push((key.0, vec![(key, parts)])),
        }
    }
    let project = &subject.model.project;
    CutList {
        project: project.title.as_deref().map(str::to_owned),
        revision: project.revision.as_deref().map(str::to_owned),
        groups: groups.into_iter().filter_map(|(stock, rows)| group(subject, stock, &rows)).collect(),
        parts: subject.graph.parts.len(),
        made: subject.graph.cut(),
        reused: reused(subject),
    }
}

fn reused(subject: Subject<'_>) -> Vec<ReusedRow> {
    let row = |(id, reused): (&PartId, &Reused)| {
        let part = subject.graph.part(*id)?;
        let cut = part.cut();
        Some(ReusedRow {
            name: part.path.clone(),
            piece: reused.piece.clone(),
            from: reused.size.map(|size| subject.json(size)),
            to: [cut.width, cut.length].map(|size| subject.json(size.value)),
        })
    };
    subject.graph.reused.iter().filter_map(row).collect()
}

/// The table of parts that are cut down from made pieces.
fn reused_table(rows: &[ReusedRow]) -> Table {
    let size = |[width, length]: &[JsonLength; 2]| format!("{} x {}", width.print, length.print);
    let rows = rows.iter().map(|row| {
        vec![
            Cell::Words(row.name.clone()),
            Cell::Figure(size(&row.to)),
            Cell::Words(row.piece.clone()),
            Cell::Figure(size(&row.from)),
        ]
    });
    Table {
        caption: "Cut down from pieces that are made and of no use where they were".to_owned(),
        columns: vec![words("part"), figures("size"), words("from"), figures("its size")],
        rows: rows.collect(),
        foot: None,
    }
}

/// The finished size of a part that is cut over size and fitted in the room.
fn finished(subject: Subject<'_>, part: &Part) -> Option<String> {
    let blank = part.blank?;
    let mut sizes = Vec::new();
    let differs = part.scribed.iter().any(|(_, width)| width.value != part.size.width.value);
    if differs {
        let widths =
            part.scribed.iter().map(|(at, width)| format!("{} {}", at.word(), subject.print(width.value)));
        sizes.push(format!("{} wide", widths.collect::<Vec<_>>().join(", ")));
    } else if blank.width.value != part.size.width.value {
        sizes.push(format!("{} wide", subject.print(part.size.width.value)));
    }
    if blank.length.value != part.size.length.value {
        sizes.push(format!("{} long", subject.print(part.size.length.value)));
    }
    Some(sizes.join("; "))
}

/// What was measured on it, what is notched, and the edges that are not eased because facing covers them.
fn remarks(subject: Subject<'_>, part: &Part) -> Vec<String> {
    let mut remarks: Vec<String> = part
        .as_built
        .iter()
        .map(|built| {
            let because = built.because.as_ref().map(|because| format!(" ({because})")).unwrap_or_default();
            format!("as built; derived {} {}{because}", built.size.word(), subject.print(built.derived.value))
        })
        .collect();
    if let Some(shoulders) = part.shoulders {
        remarks.push(format!(
            "tenons at the ends; {} from shoulder to shoulder",
            subject.print(shoulders.value)
        ));
    }
    let run = part.run.and_then(|run| subject.model.runs.get(run.0 as usize));
    let faced = run.is_some_and(|run| run.facing.is_some());
    if faced && matches!(part.role, Role::Side(_) | Role::Shelf | Role::Top) {
        remarks.push("do not ease the front edge".to_owned());
    }
    if subject.graph.has_strip(part) {
        remarks.push("a strip on the front edge; do not ease it".to_owned());
    }
    if subject.graph.banded.contains_key(&part.id) {
        remarks.push("a strip round all edges; do not ease them".to_owned());
    }
    let (cups, holes): (Vec<_>, Vec<_>) =
        subject.graph.holes_in(part.id).partition(|hole| hole.depth.is_some());
    if !holes.is_empty() {
        remarks.push(format!("bore {}: see its cut-outs", some(holes.len(), "hole")));
    }
    if !cups.is_empty() {
        remarks.push(format!("bore {} for hinges into its rear face", some(cups.len(), "hole")));
    }
    if let Some(notch) = subject.graph.notch(part) {
        let [height, depth] = notch.map(|size| subject.print(size));
        remarks.push(format!("notch the lower front corner for toes: {height} high, {depth} deep"));
    }
    remarks.extend(under_slope(subject, part));
    remarks
}

/// How the corner is cut off that a slope takes: named from the bottom end and along the top end, with the angle of the saw.
pub(crate) fn under_slope(subject: Subject<'_>, part: &Part) -> Option<String> {
    let corner = subject.graph.corner(part)?;
    let [edge, other] = if corner.rear { ["rear", "front"] } else { ["front", "rear"] };
    let print = |length: Option<Length>| Some(subject.print(length?));
    let up = print(part.size.length.value.checked_sub(corner.high))?;
    let left = part.size.width.value.checked_sub(corner.deep)?;
    let to = if left.is_positive() {
        format!("{} of the top end from the {other} edge", print(Some(left))?)
    } else {
        format!("the top end of the {other} edge")
    };
    let end = if part.role == Role::Divider { "lower" } else { "bottom" };
    let angle = corner.high.to_mm_f64().angle_over(corner.deep.to_mm_f64()).to_degrees();
    let angle = estimate(Estimate { value: angle, dim: Dim::ANGLE }, subject.model.project.marks.system());
    Some(format!(
        "cut off the upper {edge} corner: from {up} of the {edge} edge, from the {end} end, to {to}; {angle} off square"
    ))
}

fn group(subject: Subject<'_>, stock: Stock, rows: &[Equal<'_>]) -> Option<CutGroup> {
    let (mut area, mut kerfs) = (Rational::from(0), Rational::from(0));
    let kerf = breakdown::kerf(subject.model);
    let (mut cut, mut spared) = (Vec::new(), BTreeSet::new());
    let (grain, text, measured) = match stock {
        Stock::Sheet(id) => {
            let sheet = subject.graph.sheet(id)?;
            (sheet.grain, sheet.text.as_deref(), sheet.measured)
        }
        Stock::Board(index) => (true, subject.graph.boards.get(index)?.text.as_deref(), true),
    };
    for ((_, Reverse(length), Reverse(width), role, thickness, remarks), all) in rows {
        let parts: Vec<&Part> = all.iter().copied().filter(|part| subject.graph.is_to_cut(part)).collect();
        let made = all.iter().filter(|part| subject.graph.reached(part.id, State::Cut)).count();
        if parts.is_empty() {
            continue;
        }
        // Parts that differ by what is remarked about them only have one spare together.
        let spares = match parts.first() {
            Some(part) if spared.insert((length, width, role)) => breakdown::spares(subject.model, part.role),
            _ => 0,
        };
        let count = Rational::from(i128::try_from(parts.len().saturating_add(spares)).ok()?);
        let times =
            |a: Length, b: Length| a.mm().checked_mul(&b.mm()).and_then(|area| area.checked_mul(&count));
        area = area.checked_add(&times(*length, *width)?)?;
        kerfs = kerfs.checked_add(&times(*length, kerf)?)?;
        cut.push(CutRow {
            count: parts.len().saturating_add(spares),
            spares,
            role,
            thickness: subject.fine(*thickness),
            width: subject.json(*width),
            length: subject.json(*length),
            made,
            grain: if grain { "along the length" } else { "none" },
            fit_on_site: parts
                .iter()
                .filter_map(|part| {
                    Some(FitOnSite { name: part.path.clone(), finished: finished(subject, part)? })
                })
                .collect(),
            remarks: remarks.clone(),
            names: parts.iter().map(|part| part.path.clone()).collect(),
        });
    }
    let metric = subject.model.project.marks.system() == System::Metric;
    let (word, print) = if metric { ("m2", "m2") } else { ("ft2", "sq ft") };
    let faces = area.checked_div(&unit(word)?.factor)?;
    let solid = match stock {
        Stock::Sheet(_) => None,
        Stock::Board(index) => {
            let board = subject.graph.boards.get(index)?;
            let thickest = || rows.iter().map(|((.., thickness, _), _)| *thickness).max();
            let dressed = board.thickness.map(|thickness| thickness.value).or_else(thickest)?;
            solid([area, kerfs], board.waste, (!metric).then_some(dressed))
        }
    };
    if cut.is_empty() {
        return None;
    }
    let thickness = rows.first().map(|((.., thickness, _), _)| *thickness)?;
    Some(CutGroup {
        stock: subject.graph.stock_name(stock),
        text: text.map(str::to_owned),
        thickness: subject.fine(thickness),
        measured,
        parts: cut.iter().map(|row| row.count).sum(),
        spares: cut.iter().map(|row| row.spares).sum(),
        rows: cut,
        area: format!("{faces} {word}"),
        area_print: format!("{} {print}", rounded(faces, 2)),
        solid,
    })
}

/// Of boards so thick as dressed: in board feet; without that in square metres of face.
fn solid([area, kerfs]: [Rational; 2], stated: Option<Rational>, dressed: Option<Length>) -> Option<Solid> {
    // A board foot is 144 square inches of face an inch thick (NHLA: surface measure times thickness in quarters).
    let (face, word, places) = match dressed {
        None => (unit("m2")?.factor, "m2", 3),
        Some(dressed) => {
            let inches = rough(dressed)?.checked_div(&unit("in")?.factor)?;
            (unit("ft2")?.factor.checked_div(&inches)?, "bd ft", 2)
        }
    };
    let blanks = area.checked_div(&face)?;
    let waste = stated.unwrap_or_default();
    let with_kerfs = area.checked_add(&kerfs)?.checked_div(&face)?;
    let to_buy = with_kerfs.checked_mul(&waste.checked_add(&Rational::one())?)?;
    let print = |value: Rational, places: u32| format!("{} {word}", rounded(value, places));
    Some(Solid {
        blanks: print(blanks, places),
        with_kerfs: print(with_kerfs, places),
        waste: stated.and_then(|waste| Some(format!("{} %", decimal(waste.checked_mul(&100.into())?, 1)))),
        to_buy: about(&print(to_buy, places.saturating_sub(1))),
        wastes: waste > Rational::from(0),
    })
}

/// An estimate carries its mark, also where nothing is rounded.
fn about(print: &str) -> String {
    format!("~{}", print.trim_start_matches('~'))
}

fn make(subject: Subject<'_>) -> Output {
    let list = list(subject);
    let mut document = subject.document("Cut list");
    if list.made > 0 {
        let made = match list.made {
            made if made == list.parts => "Every part is cut: nothing is left to cut".to_owned(),
            made => format!("{made} of {} are cut already and not in these tables", some(list.parts, "part")),
        };
        document.facts.push(format!("{made}; `--all` lists them too."));
    }
    for group in &list.groups {
        let text = group.text.as_deref().map(|text| format!(", {text}")).unwrap_or_default();
        let measured = match (&group.solid, group.measured) {
            (Some(_), _) => "as dressed",
            (None, true) => "as measured",
            (None, false) => "NOT MEASURED, nominal",
        };
        let rows = group.rows.iter().map(|row| {
            let mut lines = row.remarks.clone();
            lines.extend((row.spares > 0).then(|| some(row.spares, "spare") + " among them"));
            lines.extend((row.made > 0).then(|| {
                if row.made == 1 {
                    "1 more is cut already".to_owned()
                } else {
                    format!("{} more are cut already", row.made)
                }
            }));
            if row.fit_on_site.is_empty() {
                lines.extend(by_unit(subject.graph, &row.names));
            } else {
                lines.push("fit on site:".to_owned());
                let each = |fit: &FitOnSite| format!("{}: {}", fit.name, fit.finished);
                lines.extend(row.fit_on_site.iter().map(each));
            }
            vec![
                Cell::Figure(row.count.to_string()),
                Cell::Words(row.role.to_owned()),
                Cell::Figure(row.thickness.print.clone()),
                Cell::Figure(row.width.print.clone()),
                Cell::Figure(row.length.print.clone()),
                Cell::Words(row.grain.to_owned()),
                Cell::Lines(lines),
            ]
        });
        let parts = breakdown::spared(group.parts, "part", group.spares);
        let foot = match &group.solid {
            Some(solid) => format!(
                "{parts}, {} of blanks, {} with kerfs; buy {} (an estimate, {})",
                solid.blanks,
                solid.with_kerfs,
                solid.to_buy,
                solid.allowance()
            ),
            None => format!("{parts}, {} of faces before kerfs and waste", group.area_print),
        };
        document.tables.push(Table {
            caption: format!("{}{text}, {} thick {measured}", group.stock, group.thickness.print),
            columns: vec![
                figures("count"),
                words("part"),
                figures("thick"),
                figures("width"),
                figures("length"),
                words("grain"),
                words("remarks and names"),
            ],
            rows: rows.collect(),
            foot: Some(foot),
        });
    }
    if !list.reused.is_empty() {
        document.tables.push(reused_table(&list.reused));
    }
    Output::new(list, document, &["groups.solid.to_buy"])
}

/// `a.one.shelf.top`, `a.one.shelf.low`, `a.two.shelf.top`, `a.two.shelf.low` as one line: `a.one, a.two: top, low`.
#[must_use]
pub fn by_unit(graph: &PartGraph, names: &[String]) -> Vec<String> {
    let group = |name: &str| {
        let part = graph.part(graph.named(name)?)?;
        let unit = part.unit.and_then(|unit| graph.unit(unit)).map(|unit| unit.path.as_str());
        unit.or_else(|| Some(graph.run(part.run?)?.path.as_str()))
    };
    let mut units: Vec<(&str, Vec<&str>)> = Vec::new();
    for name in names {
        let unit = group(name).unwrap_or("");
        // What follows the unit is the role and then the part's own name.
        let own = name.get(unit.len() + 1..).unwrap_or(name);
        let own = own.split_once('.').map_or(own, |(_, own)| own);
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
