//! Labels: one a part, stuck on when it is cut, with arrows that say how it stands.

use super::sheet::{Head, LARGE, LEAST, sheet};
use super::{Leaf, PlaceSpec};
use crate::document::{
    AT_WORK, Block, Cell, Column, Drawing, Line, Rect, Scale, Step, Table, Text, Way, Weight, abridged,
    figures, width, words, wrapped,
};
use crate::parts::{Face, Hand, Part, Role};
use crate::quantity::{JsonLength, Length, Paper, System, some};
use crate::sheets::Subject;
use crate::views::plain;
use indexmap::IndexMap;
use serde::Serialize;
use std::collections::BTreeMap;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    least: Some(least),
    on_labels: Some(on_grid),
    ..PlaceSpec::new("labels", "a label for each part: code, unit, size, where front and bottom are", make)
};

/// What the rule under the head takes.
const RULE: f64 = 13.0;
/// From the edges of a label to what stands on it.
const AIR: f64 = 2.0;
/// What the arrows take, at its right.
const ARROWS: f64 = 14.0;
/// How far cut marks reach beyond the labels.
const MARK: f64 = 5.0;

#[derive(Debug, Serialize)]
struct LabelsPage {
    /// Width and height of a label.
    size: [JsonLength; 2],
    labels: Vec<Label>,
    /// What the letters of the codes stand for.
    letters: BTreeMap<char, &'static str>,
}

/// A label.
#[derive(Debug, Serialize)]
struct Label {
    code: String,
    path: String,
    /// The unit or the run.
    of: String,
    /// Its path within that.
    name: String,
    /// What it is, with its hand.
    part: String,
    thickness: JsonLength,
    /// As it is cut in the shop.
    width: JsonLength,
    length: JsonLength,
    /// Whether that is a blank, which is cut to its place in the room.
    blank: bool,
    /// The face that it is stuck on.
    on: &'static str,
    /// Which way the front is, as one looks at that face with the label upright; `None` where it cannot be seen there.
    front: Option<Points>,
    /// Which way the bottom is.
    bottom: Option<Points>,
}

/// Where an arrow points.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
enum Points {
    Left,
    Right,
    Down,
}

/// How a label lies on a part: the face, the way to the front and to the bottom. A side is looked at from within its unit: there
/// the front of the left one is at the left. What lies flat is looked at from below, with its front towards the reader.
fn lies(role: Role) -> (&'static str, Option<Points>, Option<Points>) {
    let (front, bottom) = (Some(Points::Right), Some(Points::Down));
    match role {
        Role::Side(Hand::Left) => ("inside face", Some(Points::Left), bottom),
        Role::Side(Hand::Right) => ("inside face", front, bottom),
        Role::DrawerSide(Hand::Left) => ("inside face", Some(Points::Left), bottom),
        Role::DrawerSide(Hand::Right) => ("inside face", front, bottom),
        Role::Divider | Role::Rib => ("left face", front, bottom),
        Role::Shelf | Role::Top | Role::Loose | Role::Counter | Role::CeilingPanel | Role::DrawerBottom => {
            ("underside", Some(Points::Down), None)
        }
        Role::Cleat
        | Role::Stretcher(_, Face::Front | Face::Rear)
        | Role::LooseStrip
        | Role::Back
        | Role::Door
        | Role::DrawerFront
        | Role::DrawerEnd(_)
        | Role::BaseRail(_)
        | Role::Filler
        | Role::Stile
        | Role::Strip
        | Role::TopRail
        | Role::BottomRail => ("rear face", None, bottom),
    }
}

/// Width and height of a label in a system: 2 x 1 in or 50 x 25 mm.
fn size(system: System) -> [(Length, f64); 2] {
    let (wide, high) = (((2, 1), (50, 1)), ((1, 1), (25, 1)));
    [wide, high].map(|(inch, metric)| {
        let length = system.length(inch, metric);
        (length, length.to_mm_f64())
    })
}

/// The least paper that a label has room on: by itself, as a printer of labels makes it.
fn least(system: System) -> [f64; 2] {
    size(system).map(|(_, side)| side)
}

/// Sheets of labels as they are sold, without room for anything else. Sizes from memory; measure yours.
#[derive(Clone, Copy, Debug)]
pub struct Grid {
    /// Columns and rows, by which it is called.
    pub name: &'static str,
    /// What it is, in words.
    pub about: &'static str,
    /// The paper.
    pub paper: Paper,
    /// Columns and rows.
    pub cells: [usize; 2],
    /// The upper left corner of the first label, in millimetres.
    pub first: [f64; 2],
    /// From label to label.
    pub pitch: [f64; 2],
    /// The size of a label.
    pub label: [f64; 2],
}

/// Those that are known.
pub static GRIDS: [Grid; 3] = [
    Grid {
        name: "3x10",
        about: "letter, 30 labels of 2 5/8 x 1 in",
        paper: Paper::Letter,
        cells: [3, 10],
        first: [4.7625, 12.7],
        pitch: [69.85, 25.4],
        label: [66.675, 25.4],
    },
    Grid {
        name: "3x8",
        about: "A4, 24 labels of 70 x 37 mm",
        paper: Paper::A4,
        cells: [3, 8],
        first: [0.0, 0.5],
        pitch: [70.0, 37.0],
        label: [70.0, 37.0],
    },
    Grid {
        name: "3x7",
        about: "A4, 21 labels of 63.5 x 38.1 mm",
        paper: Paper::A4,
        cells: [3, 7],
        first: [7.25, 15.15],
        pitch: [66.0, 38.1],
        label: [63.5, 38.1],
    },
];

/// The labels of a project on sheets of labels, each in the middle of its own.
fn on_grid(subject: Subject<'_>, grid: &Grid) -> Vec<Drawing> {
    let labels = labels(subject);
    let [wide, high] = least(subject.model.project.marks.system());
    let [columns, rows] = grid.cells;
    let sheets = labels.chunks((columns * rows).max(1)).enumerate().map(|(place, labels)| {
        let number = place + 1;
        let title = format!("Labels, sheet {number}");
        let mut page = Drawing::new(format!("labels-{number}"), title, grid.paper.upright());
        page.scale = Scale::standard().next();
        for (number, label) in labels.iter().enumerate() {
            let cell = [number % columns, number / columns].map(|place| place as f64);
            let [x, y] = [0, 1].map(|axis: usize| {
                let of = |sides: [f64; 2]| sides.get(axis).copied().unwrap_or_default();
                let free = of(grid.label) - of([wide, high]);
                of(grid.first) + of(grid.pitch) * of(cell) + free / 2.0
            });
            draw(&mut page, label, Rect { x, y, w: wide, h: high });
        }
        page
    });
    sheets.collect()
}

/// The labels of all parts.
fn labels(subject: Subject<'_>) -> Vec<Label> {
    let codes = subject.graph.codes();
    let own = |part: &Part| Label {
        code: codes.get(&part.id).cloned().unwrap_or_default(),
        ..label(subject, part)
    };
    subject.graph.parts.iter().map(own).collect()
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let labels = labels(subject);
    if labels.is_empty() {
        return Vec::new();
    }
    let letters = subject.graph.parts.iter().map(|part| (part.role.letter(), word(part.role)));
    let system = subject.model.project.marks.system();
    let value = LabelsPage {
        size: size(system).map(|(side, _)| subject.json(side)),
        letters: letters.collect(),
        labels,
    };
    let mut leaf = Leaf::new(subject, &PLACE, "Labels".to_owned(), &value);
    let head =
        Head { project: &subject.headed(), signs: &leaf.page.signs.clone(), title: "Labels", name: "labels" };
    let [wide, high] = &value.size;
    let page = &mut leaf.page;
    page.words(format!(
        "{} of {} x {}, printed at 100 %. Stick a label on each part as it comes off the saw, on the face that it names, arrows to the \
         front and to the bottom of the part as it stands. Take it off before that face is glued or painted, and write the code on \
         an edge that is not seen.",
        some(value.labels.len(), "label"),
        wide.print,
        high.print
    ));
    let letters: Vec<String> =
        value.letters.iter().map(|(letter, word)| format!("{letter} {word}")).collect();
    page.words(format!(
        "A code is the number of the unit or the letter of the run, the letter of the part, and which of these it is from below and \
         from the left: {}.",
        letters.join(", ")
    ));
    let mut owners: IndexMap<&str, Vec<&Label>> = IndexMap::new();
    for label in &value.labels {
        owners.entry(&label.of).or_default().push(label);
    }
    for (of, own) in &owners {
        page.table(table(of, own));
    }
    let stuck = owners.iter().map(|(of, own)| {
        Step::new(format!("{} of {of} stuck on, each on its part", some(own.len(), "label")))
    });
    page.steps("When the parts are cut", stuck.collect());
    let paper = subject.model.project.paper().upright();
    page.push(Block::TrueScale(sheets(&value, head, system, paper)));
    page.cautions.push(AT_WORK);
    vec![leaf]
}

fn word(role: Role) -> &'static str {
    match role {
        Role::Side(Hand::Left) => "left side",
        Role::Side(Hand::Right) => "right side",
        other => other.word(),
    }
}

fn label(subject: Subject<'_>, part: &Part) -> Label {
    let graph = subject.graph;
    let unit = part.unit.and_then(|unit| graph.unit(unit)).map(|unit| unit.path.as_str());
    let run = || part.run.and_then(|run| graph.run(run)).map(|run| run.path.as_str());
    let of = unit.or_else(run).unwrap_or_default();
    let [width, length] = match &part.blank {
        Some(blank) => [blank.width.value, blank.length.value],
        None => [part.size.width.value, part.size.length.value],
    };
    let (on, front, bottom) = lies(part.role);
    Label {
        code: String::new(),
        path: part.path.clone(),
        of: of.to_owned(),
        name: part.within(of).to_owned(),
        part: word(part.role).to_owned(),
        thickness: subject.json(part.size.thickness.value),
        width: subject.json(width),
        length: subject.json(length),
        blank: part.blank.is_some(),
        on,
        front,
        bottom,
    }
}

impl Label {
    fn size(&self) -> String {
        format!("{} x {} x {}", self.thickness.print, self.width.print, self.length.print)
    }

    fn blank(&self) -> &'static str {
        if self.blank { "blank " } else { "" }
    }
}

fn table(of: &str, labels: &[&Label]) -> Table {
    let rows = labels.iter().map(|label| {
        vec![
            Cell::Words(label.code.clone()),
            Cell::Words(label.name.clone()),
            Cell::Figure(format!("{}{}", label.blank(), label.size())),
            Cell::Words(label.on.to_owned()),
        ]
    });
    Table {
        caption: format!("{of}: {}", some(labels.len(), "label")),
        columns: vec![
            words("code"),
            words("name"),
            Column { whole: true, ..figures("size") },
            words("stuck on its"),
        ],
        rows: rows.collect(),
        foot: None,
    }
}

/// Labels on sheets of paper, with lines to cut along; on paper that has room for one alone, one a sheet.
fn sheets(value: &LabelsPage, head: Head<'_>, system: System, paper: [f64; 2]) -> Vec<Drawing> {
    let [wide, high] = least(system);
    let (_, room) = sheet(head, paper, (1, 1));
    let fits =
        |room: f64, size: f64| (1..).take_while(|count| f64::from(*count) * size <= room + 1e-6).count();
    let columns = fits(room.w, wide);
    let rows = fits(room.h - RULE - MARK, high);
    if columns == 0 || rows == 0 || room.w < RULE_WIDE {
        return value.labels.iter().map(|label| alone(label, head, [wide, high], paper)).collect();
    }
    let pages = value.labels.len().div_ceil(columns * rows);
    let made = value.labels.chunks(columns * rows).enumerate().map(|(place, labels)| {
        let (mut page, room) = sheet(head, paper, (place + 1, pages));
        page.scale = Scale::standard().next();
        page.check_rule([room.x, room.y + 2.0], Way::Across);
        let says = "Print at 100 %, cut along the lines.";
        let beside = room.w - RULE_WIDE - 6.0;
        for (line, says) in wrapped(says, Weight::Regular, LEAST, beside.max(0.0)).iter().take(2).enumerate()
        {
            let says = abridged(says, Weight::Regular, LEAST, beside);
            page.text(Text::new(says, [room.x + RULE_WIDE + 6.0, room.y + 4.0 + 5.0 * line as f64], LEAST));
        }
        let x = room.x + (room.w - wide * columns as f64) / 2.0;
        let y = room.y + RULE + MARK;
        grid(&mut page, [x, y], [wide, high], [columns, labels.len().div_ceil(columns)]);
        for (number, label) in labels.iter().enumerate() {
            let (column, row) = (number % columns, number / columns);
            let at = Rect { x: x + wide * column as f64, y: y + high * row as f64, w: wide, h: high };
            draw(&mut page, label, at);
        }
        page
    });
    made.collect()
}

/// What the rule takes of the width.
const RULE_WIDE: f64 = 102.8;

/// The lines between labels, which go a little beyond them.
fn grid(page: &mut Drawing, [x, y]: [f64; 2], [wide, high]: [f64; 2], [columns, rows]: [usize; 2]) {
    let (right, low) = (x + wide * columns as f64, y + high * rows as f64);
    let beyond = MARK - 1.0;
    for column in 0..=columns {
        let at = x + wide * column as f64;
        page.line(Line::Light, [[at, y - beyond], [at, low + beyond]]);
    }
    for row in 0..=rows {
        let at = y + high * row as f64;
        page.line(Line::Light, [[x - beyond, at], [right + beyond, at]]);
    }
}

/// A label on paper of its own.
fn alone(label: &Label, head: Head<'_>, [wide, high]: [f64; 2], paper: [f64; 2]) -> Drawing {
    let name = format!("{}-{}", head.name, label.code);
    let mut page = Drawing::new(name, format!("{}: {}", head.title, label.code), paper);
    page.scale = Scale::standard().next();
    let at = Rect { x: (paper[0] - wide) / 2.0, y: (paper[1] - high) / 2.0, w: wide, h: high };
    draw(&mut page, label, at);
    page
}

/// What stands on a label.
fn draw(page: &mut Drawing, label: &Label, at: Rect) {
    let (left, room) = (at.x + AIR, at.w - 2.0 * AIR);
    let beside = room - ARROWS;
    let code = Text { weight: Weight::Bold, ..Text::new(&label.code, [left, at.y + 6.6], 4.6) };
    let after = code.width() + 2.5;
    let shrunk = if after > beside { 4.6 * beside / (after - 2.5) } else { 4.6 };
    page.text(Text { height: shrunk.max(LEAST), ..code });
    if after < beside {
        let fits = |height: &f64| width(&label.part, Weight::Bold, *height) <= beside - after;
        let height = [2.8, LEAST].into_iter().find(fits).unwrap_or(LEAST);
        let says = abridged(&label.part, Weight::Bold, height, beside - after);
        let part = Text::new(says, [left + after, at.y + 6.6], height);
        page.text(Text { weight: Weight::Bold, ..part });
    }
    let on = format!("on its {}", label.on);
    for (says, base) in [(label.name.as_str(), 11.0), (label.of.as_str(), 14.65), (on.as_str(), 18.3)] {
        let says = abridged(says, Weight::Regular, LEAST, beside);
        page.text(Text::new(says, [left, at.y + base], LEAST));
    }
    // Never with a figure cut off: what is too long for the room is written smaller.
    let size = format!("{} x {}", plain(&label.width.print), label.length.print);
    let sizes = [format!("{}{size}", label.blank()), size];
    let fits = |height: f64| {
        sizes.iter().find(|says| width(says, Weight::Bold, height) <= room).map(|says| (says.clone(), height))
    };
    if let Some((says, height)) = [LARGE, 3.0, LEAST].into_iter().find_map(fits) {
        let weight = Weight::Bold;
        page.text(Text { weight, ..Text::new(says, [left, at.y + at.h - 1.7], height) });
    }
    arrows(page, label, Rect { x: at.x + at.w - AIR - ARROWS, y: at.y + AIR, w: ARROWS, h: 17.0 });
}

fn arrows(page: &mut Drawing, label: &Label, room: Rect) {
    let middle = room.x + room.w / 2.0;
    let mut y = room.y;
    for (points, says) in [(label.front, "front"), (label.bottom, "bottom")] {
        let Some(points) = points else { continue };
        let half = room.w / 2.0 - 2.5;
        let (ends, under) = match points {
            Points::Left => ([[middle + half, y + 1.6], [middle - half, y + 1.6]], 2.6),
            Points::Right => ([[middle - half, y + 1.6], [middle + half, y + 1.6]], 2.6),
            Points::Down => ([[middle, y + 0.4], [middle, y + 4.2]], 4.6),
        };
        arrow(page, ends);
        let at = [middle, y + under + 1.4 + LEAST / 2.0];
        page.text(Text::centred(says, at, LEAST, 0.0));
        y += under + 4.9;
    }
}

/// A line with a head at its second end; level or upright.
fn arrow(page: &mut Drawing, [from, to]: [[f64; 2]; 2]) {
    page.line(Line::Cut, [from, to]);
    let [back_x, back_y] = [0, 1].map(|axis: usize| {
        let [from, to] = [from, to].map(|end| end.get(axis).copied().unwrap_or_default());
        if (from - to).abs() > 0.1 { 1.8 * (from - to).signum() } else { 0.0 }
    });
    for side in [-1.2, 1.2] {
        // Across the line by so much.
        let [x, y] = if back_x.abs() > 0.1 { [back_x, side] } else { [side, back_y] };
        page.line(Line::Cut, [to, [to[0] + x, to[1] + y]]);
    }
}
