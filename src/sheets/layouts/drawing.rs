//! The drawing of one way to cut a sheet: an A4 page, true to scale, black on white, to be read at arm's length.

use super::shapes::{LARGE, grain_arrow, hatch, label, letters, line, numbered, rectangle, tag, text};
use super::{LayoutGroup, Pattern, left_words, which};
use crate::breakdown::SheetWork;
use crate::cutting::{self, Axis};
use svg::node::element::{Group, Rectangle};

/// The page: A4, landscape, in millimetres.
pub(super) const PAGE: (f64, f64) = (297.0, 210.0);
/// The place for the sheet: left, top, width, height.
const ROOM: (f64, f64, f64, f64) = (20.0, 27.0, 263.0, 128.0);

/// Where things of the sheet come to lie on the page.
struct Paper {
    left: f64,
    bottom: f64,
    /// Millimetres of paper for one unit of the job.
    unit: f64,
}

impl Paper {
    fn x(&self, x: i64) -> f64 {
        self.left + x as f64 * self.unit
    }

    fn y(&self, y: i64) -> f64 {
        self.bottom - y as f64 * self.unit
    }

    /// A rectangle of the sheet: left, top, width, height on the page.
    fn place(&self, x: i64, y: i64, w: i64, h: i64) -> (f64, f64, f64, f64) {
        (self.x(x), self.y(y + h), w as f64 * self.unit, h as f64 * self.unit)
    }
}

/// Draws a page.
pub(super) fn page(
    head: &str,
    group: &LayoutGroup,
    made: &Pattern,
    (work, pattern): (&SheetWork, &cutting::Pattern),
    grain: bool,
) -> Group {
    let mut page = Group::new()
        .set("font-family", "Helvetica, Arial, sans-serif")
        .add(Rectangle::new().set("width", PAGE.0).set("height", PAGE.1).set("fill", "white"));
    let Some(sheet) = work.job.sheets.get(pattern.sheet) else { return page };
    let mm = work.scale.length(1).to_mm_f64();
    let (wide, high) = (sheet.width as f64 * mm, sheet.height as f64 * mm);
    let scale = scale(wide, high);
    let paper = Paper { left: ROOM.0, bottom: ROOM.1 + high / scale, unit: mm / scale };

    page = page.add(text(head, (ROOM.0, 10.5), LARGE, "start")).add(
        text(&format!("{}: {}", made.stock, which(made, group)), (ROOM.0, 19.0), 6.5, "start")
            .set("font-weight", "bold"),
    );
    let [long, across] = [&made.size[0].print, &made.size[1].print];
    page =
        page.add(text(&format!("{long} x {across}, scale 1:{scale}"), (ROOM.0 + ROOM.2, 19.0), LARGE, "end"));

    let (x, y, w, h) = paper.place(0, 0, sheet.width, sheet.height);
    page = page.add(rectangle((x, y, w, h), "none", 0.5));
    page = page.add(hatch((x, y, w, h)));
    for piece in &made.pieces {
        let cutting::Placement { x, y, w, h, .. } = piece.placed;
        let at = paper.place(x, y, w, h);
        // The head of the page says the unit.
        let sizes = [&piece.width, &piece.length].map(|length| length.print.trim_end_matches(" mm"));
        page = page.add(rectangle(at, "white", 0.35)).add(label(piece.what, sizes, at));
    }
    for mark in marks(made, pattern, &paper) {
        page = page.add(mark);
    }
    page = page.add(edges(&paper, sheet));
    if let Some(largest) = pattern.offcut
        && let Some(keep) = made.left.iter().find(|left| left.keep)
    {
        let at = paper.place(largest.x, largest.y, largest.w, largest.h);
        page = page.add(rectangle(at, "none", 0.5).set("stroke-dasharray", "3 1.5"));
        let [wide, long] = [&keep.width, &keep.length].map(|length| length.print.trim_end_matches(" mm"));
        let says = format!("keep {wide} x {long}");
        page = page.add(tag(&says, (at.0 + at.2 / 2.0, at.1 + at.3 / 2.0), at));
    }
    if grain {
        page = page.add(grain_arrow(ROOM.0 + w - 46.0, paper.bottom + 6.5));
    }
    let foot = paper.bottom + 17.0;
    page.add(work_list(made, foot)).add(text(
        "Check the first and the last piece of every setting. Eye, ear and dust protection on.",
        (ROOM.0, PAGE.1 - 5.0),
        3.2,
        "start",
    ))
}

/// The smallest of 1:1, 1:2, 1:2.5, 1:4, 1:5, 1:8, 1:10 .. that fits the room.
fn scale(wide: f64, high: f64) -> f64 {
    let needed = (wide / ROOM.2).max(high / ROOM.3).max(1.0);
    let decade = 10_f64.powf(needed.log10().floor());
    let steps = [1.0, 2.0, 2.5, 4.0, 5.0, 8.0, 10.0];
    steps.into_iter().map(|step| step * decade).find(|scale| *scale >= needed - 1e-9).unwrap_or(10.0 * decade)
}

/// The numbers of the steps: beside the sheet at each rip, and at the end of each piece.
fn marks(made: &Pattern, pattern: &cutting::Pattern, paper: &Paper) -> Vec<Group> {
    let mut marks = Vec::new();
    let step = |cut: &str, units: i64| {
        made.steps.iter().find(|step| step.cut == cut && step.units == units).map(|step| step.number)
    };
    for rip in &pattern.rips {
        let parts = rip.crosscuts.iter().flat_map(|cut| &cut.parts);
        let flat = pattern.first == Axis::Horizontal;
        let far = parts.map(|part| if flat { part.y + part.h } else { part.x + part.w }).max().unwrap_or(0);
        let Some(number) = step("rip", rip.width) else { continue };
        let at = if flat { (paper.left - 7.0, paper.y(far)) } else { (paper.x(far), paper.bottom + 7.0) };
        marks.push(numbered(number, at, 2.7));
        let (from, to) = if flat {
            ((paper.left - 4.2, at.1), (paper.left, at.1))
        } else {
            ((at.0, paper.bottom), (at.0, paper.bottom + 4.2))
        };
        marks.push(Group::new().add(line(from, to, 0.35)));
        for cut in &rip.crosscuts {
            let Some(number) = step("crosscut", cut.length) else { continue };
            let Some(last) = cut.parts.last() else { continue };
            let (x, y, w, h) = paper.place(last.x, last.y, last.w, last.h);
            let radius = (h.min(w) / 2.0 - 0.3).clamp(0.8, 2.4);
            let at = if flat {
                (x + w - radius - 0.5, y + radius + 0.5)
            } else {
                (x + radius + 0.5, y + radius + 0.5)
            };
            marks.push(numbered(number, at, radius));
        }
    }
    marks
}

/// The two edges that are skimmed, which all else is measured from.
fn edges(paper: &Paper, sheet: &cutting::Sheet) -> Group {
    if sheet.trim.bottom == 0 {
        return Group::new();
    }
    let corner = (paper.x(0), paper.y(0));
    Group::new()
        .add(line(corner, (paper.x(sheet.width), corner.1), 1.2))
        .add(line(corner, (corner.0, paper.y(sheet.height)), 1.2))
        .add(text("heavy edges: skim first, measure from them", (corner.0, corner.1 + 7.5), 4.2, "start"))
}

/// The work in order, under the sheet, in two columns.
fn work_list(made: &Pattern, top: f64) -> Group {
    let mut lines: Vec<(Option<usize>, String)> = Vec::new();
    for step in &made.steps {
        let setting = &step.setting.print;
        let says = match step.cut {
            "skim" => format!("skim {setting} off one long edge and one end"),
            "rip" => format!("rip, fence {setting}: {}", step.gives),
            _ => format!("crosscut, stop {setting}: {}", step.pieces),
        };
        lines.push((Some(step.number), says));
    }
    lines.extend(made.left.iter().take(3).map(|left| (None, format!("left: {}", left_words(left)))));
    let rows = lines.len().div_ceil(2);
    let pitch = ((PAGE.1 - 9.0 - top) / rows.max(1) as f64).min(7.0);
    let mut group = Group::new();
    for (place, (number, says)) in lines.iter().enumerate() {
        let (column, row) =
            (place.checked_div(rows.max(1)).unwrap_or(0), place.checked_rem(rows.max(1)).unwrap_or(0));
        let (x, y) = (ROOM.0 + 133.0 * column as f64, top + pitch * row as f64);
        let size = (pitch * 0.7).min(LARGE).min(122.0 / letters(says));
        if let Some(number) = number {
            group = group.add(numbered(*number, (x, y - size * 0.36), (pitch * 0.42).min(2.7)));
        }
        group = group.add(text(says, (x + 4.5, y), size, "start"));
    }
    group
}
