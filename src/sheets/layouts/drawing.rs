//! The drawing of one way to cut a sheet: true to scale, black on white, to be read at arm's length. The work stands under
//! the sheet or beside it, where it leaves the sheet larger; where it has no room there, on a page of its own.

use super::label::{Label, number};
use super::list::{self, Item, Sign};
use super::pattern::{first_cut, second_cut};
use super::{LayoutGroup, Pattern, left_words, which};
use crate::breakdown::SheetWork;
use crate::cutting::{self, Axis};
use crate::document::{Drawing, Fill, Line, Point, Rect, Scale, Text, View, Weight, shortened, width};
use crate::quantity::Paper;

/// The height of figures that are read at arm's length, in millimetres: 14 point type.
pub(super) const LARGE: f64 = 3.5;
/// Nothing smaller than this is written.
pub(super) const LEAST: f64 = 2.5;
/// The radius of the circle around the number of a step.
pub(super) const RADIUS: f64 = 3.0;
/// The margin of the paper.
const EDGE: f64 = 10.0;
/// From the upper edge of the paper to what stands under the head.
const HEAD: f64 = 28.0;
/// From the lower edge of the paper to what stands over the foot.
const FOOT: f64 = 17.0;
/// Room beside the sheet for the numbers of the rips.
const GUTTER: f64 = 13.0;
/// Around what stands on a page that has margins of its own.
const FRAME: f64 = 1.0;
/// A sheet on such a page is at most so high, so that its work has room under it.
const FIGURE: f64 = 120.0;
/// Between what stands beside each other.
pub(super) const GAP: f64 = 8.0;
/// From one circle to the next, at least.
const PITCH: f64 = 2.0 * RADIUS + 0.4;
/// From one line of hatching to the next.
const HATCH: f64 = 3.0;

/// What a page says at its head.
#[derive(Clone, Copy)]
pub(super) struct Head<'a> {
    /// Project and revision.
    pub(super) project: &'a str,
    /// The name of the drawing.
    pub(super) name: &'a str,
    /// The paper it is printed on.
    pub(super) paper: Paper,
}

/// A sheet to be cut and where it lies.
#[derive(Clone, Copy)]
struct Laid<'a> {
    work: &'a SheetWork,
    sheet: &'a cutting::Sheet,
    view: View,
    /// Whether rips run from left to right.
    flat: bool,
}

impl Laid<'_> {
    fn point(&self, x: i64, y: i64) -> Point {
        self.view.point([x, y].map(|units| self.work.scale.length(units)))
    }

    fn place(&self, x: i64, y: i64, w: i64, h: i64) -> Rect {
        Rect::between(self.point(x, y), self.point(x + w, y + h))
    }
}

/// A sheet with the numbers of its rips beside it.
struct Numbered<'a> {
    made: &'a Pattern,
    sheet: &'a cutting::Sheet,
    work: &'a SheetWork,
    pattern: &'a cutting::Pattern,
    /// Whether rips run from left to right.
    flat: bool,
    /// Where rips end, each with the step that makes it.
    edges: Vec<(i64, usize)>,
}

impl<'a> Numbered<'a> {
    fn new(
        made: &'a Pattern,
        sheet: &'a cutting::Sheet,
        (work, pattern): (&'a SheetWork, &'a cutting::Pattern),
    ) -> Self {
        let flat = pattern.first == Axis::Horizontal;
        Self { made, sheet, work, pattern, flat, edges: edges(made, pattern) }
    }

    /// What it takes on paper.
    fn size(&self, scale: Scale) -> [f64; 2] {
        let sides = [self.sheet.width, self.sheet.height];
        let [w, h] = sides.map(|units| scale.paper(self.work.scale.length(units)));
        let beside = circles(self.edges.chunk_by(|a, b| a.1 == b.1).count());
        if self.flat { [w + GUTTER, h.max(beside)] } else { [w.max(beside), h + GUTTER] }
    }

    /// Draws it, its upper left corner at a place.
    fn draw(&self, page: &mut Drawing, [x, y]: Point, scale: Scale) {
        let [_, low] = self.size(scale);
        let origin = if self.flat { [x + GUTTER, y + low] } else { [x, y + low - GUTTER] };
        let laid = Laid { work: self.work, sheet: self.sheet, view: View { origin, scale }, flat: self.flat };
        cut(page, self.made, self.pattern, laid);
        rips(page, &self.edges, laid);
    }
}

/// Draws a pattern: one page, and pages for the work where that needs its own.
pub(super) fn pages(
    head: Head<'_>,
    group: &LayoutGroup,
    made: &Pattern,
    (work, pattern): (&SheetWork, &cutting::Pattern),
    grain: bool,
) -> Vec<Drawing> {
    let Some(sheet) = work.job.sheets.get(pattern.sheet) else { return Vec::new() };
    let [wide, high] = head.paper.lying();
    let room = Rect { x: EDGE, y: HEAD, w: wide - 2.0 * EDGE, h: high - HEAD - FOOT };
    let numbered = Numbered::new(made, sheet, (work, pattern));
    let block = |scale: Scale| numbered.size(scale);
    let items = items(made, sheet, grain);
    let (scale, columns) = arranged(block, &items, room);

    let mut page = started(head, head.name, group, made, Some(scale));
    numbered.draw(&mut page, [room.x, room.y], scale);
    let mut pages = vec![page];
    match columns {
        Some(columns) => pages.iter_mut().for_each(|page| list::draw(page, &columns)),
        None => {
            for (place, columns) in list::paged(&items, room).into_iter().enumerate() {
                let name = format!("{}-work-{}", head.name, place + 1);
                let mut page = started(head, &name, group, made, None);
                list::draw(&mut page, &columns);
                pages.push(page);
            }
        }
    }
    pages
}

/// The sheet alone, as it stands on a page over its work: as wide as the page lets it be.
pub(super) fn figure(
    head: Head<'_>,
    group: &LayoutGroup,
    made: &Pattern,
    (work, pattern): (&SheetWork, &cutting::Pattern),
    grain: bool,
) -> Option<Drawing> {
    let sheet = work.job.sheets.get(pattern.sheet)?;
    let [wide, _] = Paper::within(head.paper.upright());
    let numbered = Numbered::new(made, sheet, (work, pattern));
    let block = |scale: Scale| numbered.size(scale);
    let scale = Scale::filling(block, [wide - 2.0 * FRAME, FIGURE]);
    let [long, low] = block(scale);
    // Under it is said what its signs mean.
    let room = Rect { x: FRAME, y: FRAME + low + RADIUS, w: long, h: FIGURE };
    let columns = list::set(&signs(made, sheet, grain), room, 2).unwrap_or_default();
    let deep = columns.iter().map(list::Column::deep).fold(0.0, f64::max);
    let paper = [long + 2.0 * FRAME, room.y + deep + FRAME];
    let title = format!("{}: {}", made.stock, which(made, group));
    let mut page = Drawing { scale: Some(scale), ..Drawing::new(head.name, title, paper) };
    numbered.draw(&mut page, [FRAME; 2], scale);
    list::draw(&mut page, &columns);
    Some(page)
}

/// What the signs on a sheet mean, without its work.
fn signs(made: &Pattern, sheet: &cutting::Sheet, grain: bool) -> Vec<Item> {
    let left = |kept: bool| made.left.iter().any(|left| left.keep == kept);
    let all = [
        (sheet.trim.bottom > 0, Sign::Heavy, "skimmed first; measured from"),
        (grain, Sign::Arrow, "grain, as it lies here"),
        (left(false), Sign::Hatch, "left over"),
        (left(true), Sign::Paper, "left over, to keep"),
    ];
    let there = all.into_iter().filter(|(is_there, ..)| *is_there);
    there.map(|(_, sign, says)| Item { sign, says: says.to_owned() }).collect()
}

/// A page with its head and foot.
fn started(head: Head<'_>, name: &str, group: &LayoutGroup, made: &Pattern, scale: Option<Scale>) -> Drawing {
    let size @ [wide, high] = head.paper.lying();
    let title = format!("{}: {}", made.stock, which(made, group));
    let mut page = Drawing { scale, ..Drawing::new(name, title.as_str(), size) };
    let room = wide - 2.0 * EDGE;
    let line = |says: &str| shortened(says, Weight::Regular, LARGE, room);
    page.text(Text::new(line(head.project), [EDGE, EDGE + LARGE], LARGE));
    let [long, across] = [&made.size[0].print, &made.size[1].print];
    let size = match scale {
        Some(scale) => format!("{long} x {across}, scale {scale}"),
        None => format!("{long} x {across}, work"),
    };
    let (base, height, weight) = (EDGE + 12.0, 4.5, Weight::Bold);
    let left = room - width(&size, Weight::Regular, LARGE);
    let title = shortened(&title, weight, height, left - GAP);
    page.text(Text { weight, ..Text::new(title, [EDGE, base], height) });
    page.text(Text::new(size, [EDGE + left, base], LARGE));
    let foot = "Check the first and the last piece of every setting. Eye, ear and dust protection on.";
    page.text(Text::new(line(foot), [EDGE, high - EDGE], LARGE));
    page.caution(EDGE);
    page
}

/// The largest scale by which the sheet and the work have room on one page, and the work as it stands there; `None` where
/// that would make the sheet less than half as large as it can be.
fn arranged(
    block: impl Fn(Scale) -> [f64; 2],
    items: &[Item],
    room: Rect,
) -> (Scale, Option<Vec<list::Column>>) {
    let alone = Scale::fitting(&block, [room.w, room.h]);
    let enough = |scale: &Scale| 2.0 * block(*scale)[0] >= block(alone)[0];
    for scale in Scale::standard().filter(|scale| *scale >= alone).take_while(enough) {
        let [w, h] = block(scale).map(|size| size + GAP);
        let under = Rect { y: room.y + h, h: room.h - h, ..room };
        let beside = Rect { x: room.x + w, w: room.w - w, ..room };
        let ways = [(under, 1), (under, 2), (beside, 1), (under, 3)];
        if let Some(columns) = ways.into_iter().find_map(|(place, count)| list::set(items, place, count)) {
            return (scale, Some(columns));
        }
    }
    (alone, None)
}

/// The work in order, what is left, and what the signs on the sheet mean.
fn items(made: &Pattern, sheet: &cutting::Sheet, grain: bool) -> Vec<Item> {
    let mut items = Vec::new();
    let mut item = |sign, says: String| items.push(Item { sign, says });
    if sheet.trim.bottom > 0 {
        item(Sign::Heavy, "edges to skim first; measure from them".to_owned());
    }
    if grain {
        item(Sign::Arrow, "grain, as the sheet lies here".to_owned());
    }
    let ripped = made.is_ripped();
    for step in &made.steps {
        let setting = &step.setting.print;
        let gives = if step.cut == first_cut(ripped) { &step.gives } else { &step.pieces };
        let says = match step.cut {
            "skim" => format!("skim {setting} off one long edge and one end"),
            "across" => format!("cut across at {setting}: {gives}"),
            "rip" => format!("rip, fence {setting}: {gives}"),
            "trim" if ripped => format!("trim, fence {setting}: {gives}"),
            "trim" => format!("trim, stop {setting}: {gives}"),
            _ => format!("crosscut, stop {setting}: {gives}"),
        };
        item(Sign::Number(step.number), says);
    }
    for left in made.left.iter().take(3) {
        let sign = if left.keep { Sign::Paper } else { Sign::Hatch };
        item(sign, format!("left: {}", left_words(left)));
    }
    items
}

/// The sheet with its pieces, what is left hatched, the numbers of the steps beside it and in it.
fn cut(page: &mut Drawing, made: &Pattern, pattern: &cutting::Pattern, laid: Laid<'_>) {
    let whole = laid.place(0, 0, laid.sheet.width, laid.sheet.height);
    page.hatch(&whole.corners(), 45.0, HATCH);
    for piece in &made.pieces {
        let cutting::Placement { x, y, w, h, .. } = piece.placed;
        let at = laid.place(x, y, w, h);
        page.fill(Fill::Paper, at.corners());
        page.outline(Line::Outline, at.corners());
    }
    if let Some(largest) = pattern.offcut
        && let Some(keep) = made.left.iter().find(|left| left.keep && left.units == (largest.w, largest.h))
    {
        let at = laid.place(largest.x, largest.y, largest.w, largest.h);
        page.fill(Fill::Paper, at.corners());
        page.outline(Line::Light, at.corners());
        let [wide, long] = [&keep.width, &keep.length].map(|length| length.print.trim_end_matches(" mm"));
        Label::of_sizes("keep", [wide, long]).draw(page, &[at]);
    }
    page.outline(Line::Outline, whole.corners());
    if laid.sheet.trim.bottom > 0 {
        let [corner, right, up] =
            [(0, 0), (laid.sheet.width, 0), (0, laid.sheet.height)].map(|(x, y)| laid.point(x, y));
        page.line(Line::Heavy, [up, corner, right]);
    }
    // The number of a crosscut stands on the last piece that it gives.
    let last = |piece: &super::PlacedPart| {
        let mut cuts = pattern.rips.iter().flat_map(|rip| &rip.crosscuts);
        let cut = cuts.find(|cut| cut.parts.last() == Some(&piece.placed))?;
        step(made, second_cut(made.is_ripped()), cut.length)
    };
    for piece in &made.pieces {
        let cutting::Placement { x, y, w, h, .. } = piece.placed;
        let at = laid.place(x, y, w, h);
        let mut free = last(piece).map_or_else(|| vec![at], |says| number(page, says, at, laid.flat));
        // Beside it the number of the step that trims it.
        if let Some((says, beside)) = piece.trim.zip(free.first().copied()) {
            free = number(page, says, beside, laid.flat);
        }
        // The head of the page says the unit.
        let sizes = [&piece.width, &piece.length].map(|length| length.print.trim_end_matches(" mm"));
        Label::of_sizes(piece.what, sizes).draw(page, &free);
    }
}

/// The edges that the rips give, in units of the job from the corner, each with the step that gives it.
fn edges(made: &Pattern, pattern: &cutting::Pattern) -> Vec<(i64, usize)> {
    let flat = pattern.first == Axis::Horizontal;
    let edge = |rip: &cutting::Rip| {
        let parts = rip.crosscuts.iter().flat_map(|cut| &cut.parts);
        let far = parts.map(|part| if flat { part.y + part.h } else { part.x + part.w }).max()?;
        Some((far, step(made, first_cut(made.is_ripped()), rip.width)?))
    };
    let mut edges: Vec<_> = pattern.rips.iter().filter_map(edge).collect();
    edges.sort_unstable();
    edges
}

/// The number of a step.
fn step(made: &Pattern, cut: &str, units: i64) -> Option<usize> {
    made.steps.iter().find(|step| step.cut == cut && step.units == units).map(|step| step.number)
}

/// The numbers of the rips beside the sheet, each with lines to the edges that it gives; neighbours of one width share it.
fn rips(page: &mut Drawing, edges: &[(i64, usize)], laid: Laid<'_>) {
    // How far from the corner an edge is, along the side of the sheet where the numbers stand.
    let corner = laid.point(0, 0);
    let along = |units: i64| laid.view.scale.paper(laid.work.scale.length(units));
    let paper = |along: f64, away: f64| {
        if laid.flat { [corner[0] - away, corner[1] - along] } else { [corner[0] + along, corner[1] + away] }
    };
    let groups: Vec<(usize, Vec<f64>)> = edges
        .chunk_by(|a, b| a.1 == b.1)
        .filter_map(|group| Some((group.first()?.1, group.iter().map(|(far, _)| along(*far)).collect())))
        .collect();
    let middle = |edges: &[f64]| Some((edges.first()? + edges.last()?) / 2.0);
    let wanted: Vec<f64> = groups.iter().filter_map(|(_, edges)| middle(edges)).collect();
    let end = along(if laid.flat { laid.sheet.height } else { laid.sheet.width });
    let (near, spine, far) = (2.0, GUTTER - 2.0 * RADIUS - 2.0, GUTTER - RADIUS);
    for ((says, edges), (wanted, at)) in groups.iter().zip(wanted.iter().zip(spread(&wanted, end))) {
        for edge in edges {
            page.line(Line::Dimension, [paper(*edge, 0.0), paper(*edge, near)]);
        }
        if let [first, .., last] = edges[..] {
            page.line(Line::Dimension, [paper(first, near), paper(last, near)]);
        }
        page.line(Line::Dimension, [paper(*wanted, near), paper(at, spine), paper(at, far - RADIUS)]);
        super::label::circled(page, *says, paper(at, far));
    }
}

/// Places in rising order, moved so that circles at them do not touch each other, nor go beyond `end` where there is room.
fn spread(wanted: &[f64], end: f64) -> Vec<f64> {
    let mut least = RADIUS;
    let moved = |at: &f64| {
        let place = at.max(least);
        least = place + PITCH;
        place
    };
    let mut places: Vec<f64> = wanted.iter().map(moved).collect();
    let mut most = (end - RADIUS).max(circles(places.len()) - RADIUS);
    for at in places.iter_mut().rev() {
        *at = at.min(most);
        most = *at - PITCH;
    }
    places
}

/// The room that so many circles take in a row.
fn circles(count: usize) -> f64 {
    2.0 * RADIUS + PITCH * (count.max(1) - 1) as f64
}

#[cfg(test)]
mod tests {
    #[test]
    fn numbers_beside_a_sheet_keep_apart() {
        let spread = |wanted: &[f64], end| -> Vec<f64> {
            super::spread(wanted, end).into_iter().map(|at| (at * 1000.0).round() / 1000.0).collect()
        };
        // Apart already; too near to each other; too near to the ends; more than there is room for.
        assert_eq!(spread(&[10.0, 50.0], 100.0), [10.0, 50.0]);
        assert_eq!(spread(&[10.0, 11.0, 40.0], 100.0), [10.0, 16.4, 40.0]);
        assert_eq!(spread(&[0.0, 99.0, 100.0], 100.0), [3.0, 90.6, 97.0]);
        assert_eq!(spread(&[5.0, 5.0, 5.0], 10.0), [3.0, 9.4, 15.8]);
    }
}
