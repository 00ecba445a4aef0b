//! From a picture to paper: its panes beside each other in the largest standard scale that has room, chains of dimensions around
//! them, words where nothing is in the way.

use super::chains::{Row, rows};
use super::hidden::seen;
use super::picture::{Edge, Filled, Form, Pane, Picture, Shape, Spot, Stand, Words};
use super::placing::{Box4, Placing, covers};
use crate::document::{
    DRAWN, Drawing, FOUR_INCHES, Fill, Line, Point, Scale, Text, View, Way, Weight, shortened, width, wrapped,
};
use crate::quantity::{Paper, System};
use crate::real::Real;
use std::fmt;

/// The margin of the paper.
const EDGE: f64 = 8.0;
/// From the margin to what stands under the head.
const HEAD: f64 = 14.0;
/// What a column of remarks takes.
const COLUMN: f64 = 60.0;
/// Between panes.
const GAP: f64 = 9.0;
/// Over a pane, for its name.
const NAME: f64 = 9.0;
/// The height of words that are read at arm's length, and the least that is written.
pub(super) const LARGE: f64 = 3.5;
pub(super) const LEAST: f64 = 2.5;
/// From line to line of words, by their height.
pub(super) const LEAD: f64 = 1.6;
/// From one line of hatching to the next.
const HATCH: f64 = 1.6;
/// A line of a sheet's layers is no nearer to the next.
const LAYER: f64 = 0.7;

/// What a page takes over a drawing that stands on it, where it is upright and where the drawing has one of its own.
const OVER: [f64; 2] = [36.0, 14.0];
/// A drawing on a page is at least so wide, since what stands under it is read too.
const NARROWEST: f64 = 110.0;

/// What a drawing stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ground {
    /// A sheet of paper of its own, with a head and the caution.
    Sheet,
    /// A page that has both: the drawing is as large as what is drawn.
    Page,
}

impl Ground {
    fn edge(self) -> f64 {
        match self {
            Self::Sheet => EDGE,
            Self::Page => 0.5,
        }
    }

    fn head(self) -> f64 {
        match self {
            Self::Sheet => HEAD,
            Self::Page => 0.0,
        }
    }

    /// The sizes that the drawing may have; the first is taken where it is drawn as large on all.
    fn sizes(self, paper: Paper) -> [[f64; 2]; 2] {
        let [lying, upright] = [paper.lying(), paper.upright()];
        match self {
            Self::Sheet => [lying, upright],
            Self::Page => {
                let [[wide, high], [long, short]] = [upright, lying].map(Paper::within);
                [[wide, high - OVER[0]], [long, short - OVER[1]]]
            }
        }
    }
}

/// What stands on every page.
#[derive(Clone, Debug)]
pub struct Setting {
    /// The paper.
    pub paper: Paper,
    /// The system of the scales.
    pub system: System,
    /// Project and revision.
    pub head: String,
    /// What it says where readings are not taken yet.
    pub provisional: Option<String>,
    /// What it stands on.
    pub ground: Ground,
}

/// A pane in a scale, around its own origin.
#[derive(Clone)]
struct Laid<'a> {
    pane: &'a Pane,
    rows: Vec<Row>,
    /// From its origin to what it covers without its chains: left, up, right, down on paper.
    inner: Box4,
    /// The same with them.
    outer: Box4,
    /// Its remarks in lines.
    notes: Vec<String>,
}

impl<'a> Laid<'a> {
    fn new(pane: &'a Pane, scale: Scale, names: bool) -> Option<Self> {
        let [[left, right], [low, high]] = pane.extent()?;
        let inner = [scale.paper(left), -scale.paper(high), scale.paper(right), -scale.paper(low)];
        let rows = rows(pane, scale, inner);
        let deep = |edge: Edge| rows.iter().filter(|row| row.edge == edge).map(|row| row.deep).sum::<f64>();
        let name = if names { NAME } else { 1.0 };
        // Figures at the ends of a chain stand a little beyond it.
        let across = rows.iter().filter(|row| row.edge.is_across());
        let beyond = across.map(|row| row.beyond).fold([1.0_f64, 1.0], |[a, b], [c, d]| [a.max(c), b.max(d)]);
        let wide =
            if names && !pane.name.is_empty() { width(&pane.name, Weight::Bold, LARGE) + 0.5 } else { 0.0 };
        let along = |at: bool| {
            let along = |words: &Words| matches!(words.stand, Stand::Along { right, .. } if right == at);
            if pane.words.iter().any(along) { LARGE * LEAD + 1.0 } else { 0.0 }
        };
        let left = inner[0] - deep(Edge::Left).max(beyond[0]).max(along(false));
        let right = (inner[2] + deep(Edge::Right).max(beyond[1]).max(along(true))).max(left + wide);
        // Remarks are as wide as a column of them can be read.
        let right = if pane.notes.is_empty() { right } else { right.max(left + COLUMN) };
        let broken = |note: &String| wrapped(note, Weight::Regular, LEAST, right - left);
        let notes: Vec<String> = pane.notes.iter().flat_map(broken).collect();
        let under = LEAST * LEAD * notes.len() as f64 + 1.0;
        let outer = [left, inner[1] - deep(Edge::Above) - name, right, inner[3] + deep(Edge::Below) + under];
        Some(Self { pane, rows, inner, outer, notes })
    }

    fn wide(&self) -> f64 {
        self.outer[2] - self.outer[0]
    }
}

/// Panes in a row: their places, and what they take.
struct Set<'a> {
    laid: Vec<(Laid<'a>, Point)>,
    size: [f64; 2],
}

/// Panes beside each other: their origins on one line, or their upper edges.
fn beside(laid: Vec<Laid<'_>>, level: bool) -> Set<'_> {
    let up = laid.iter().map(|laid| -laid.outer[1]).fold(0.0_f64, f64::max);
    let down = laid.iter().map(|laid| laid.outer[3]).fold(0.0_f64, f64::max);
    let high = laid.iter().map(|laid| laid.outer[3] - laid.outer[1]).fold(0.0_f64, f64::max);
    let mut x = 0.0;
    let mut set = Vec::new();
    for laid in laid {
        let origin = [x - laid.outer[0], if level { up } else { -laid.outer[1] }];
        x += laid.wide() + GAP;
        set.push((laid, origin));
    }
    Set { laid: set, size: [(x - GAP).max(0.0), if level { up + down } else { high }] }
}

/// The lines at the foot of a page: what kinds of lines mean, and remarks.
struct Foot {
    legend: Vec<Vec<(Option<Line>, String)>>,
    remarks: Vec<String>,
    /// How high the letters of the remarks are.
    height: f64,
}

impl Foot {
    /// Whatever the scale is, so that it is made once for a page.
    fn new(picture: &Picture, setting: &Setting, room: f64) -> Self {
        let mut entries = vec![(None, scaled(setting, "1:1000"))];
        entries.extend(picture.legend.iter().map(|(line, says)| (Some(*line), (*says).to_owned())));
        let mut legend: Vec<Vec<(Option<Line>, String)>> = vec![Vec::new()];
        let mut x = 0.0;
        for (line, says) in entries {
            let wide = width(&says, Weight::Regular, LARGE) + if line.is_some() { 14.0 } else { 0.0 } + 7.0;
            if x + wide > room && x > 0.0 {
                legend.push(Vec::new());
                x = 0.0;
            }
            x += wide;
            if let Some(last) = legend.last_mut() {
                last.push((line, says));
            }
        }
        // Many remarks are written as small as may be; on a page they stand under the drawing.
        let notes = setting.provisional.iter().chain(&picture.notes);
        let notes = notes.filter(|_| setting.ground == Ground::Sheet);
        let all = notes.map(String::as_str).collect::<Vec<_>>().join(" ");
        let broken = |height: f64| wrapped(&all, Weight::Regular, height, room);
        let height = if broken(LARGE).len() <= 3 { LARGE } else { LEAST };
        let short = |says: String| shortened(&says, Weight::Regular, height, room);
        Self { legend, remarks: broken(height).into_iter().map(short).collect(), height }
    }

    fn high(&self) -> f64 {
        let (legend, remarks) = (self.legend.len() as f64, self.remarks.len() as f64);
        LEAD * (LARGE * legend + self.height * remarks) + 8.0
    }
}

/// In which scale and unit a page is drawn.
fn scaled(setting: &Setting, scale: impl fmt::Display) -> String {
    let unit = match setting.system {
        System::Inch => "inches",
        System::Metric => "millimetres",
    };
    format!("scale {scale}, sizes in {unit}")
}

/// The pages of a picture.
#[must_use]
pub fn drawn<'a>(picture: &'a Picture, setting: &Setting, name: &str) -> Vec<Drawing> {
    let names = picture.panes.len() > 1 || picture.true_size;
    // Whichever way the paper lies, the drawing is as large as it can be.
    let (edge, head) = (setting.ground.edge(), setting.ground.head());
    let sizes = setting.ground.sizes(setting.paper).map(|size| {
        let wide = size[0] - 2.0 * edge;
        (size, [wide, size[1] - 2.0 * edge - head - Foot::new(picture, setting, wide).high()])
    });
    let fits = |laid: Vec<Laid<'a>>, [wide, high]: [f64; 2]| -> Option<Vec<Vec<Set<'a>>>> {
        if picture.true_size {
            return flowed(laid, [wide, high]);
        }
        let set = beside(laid, true);
        (set.size[0] <= wide && set.size[1] <= high).then(|| vec![vec![set]])
    };
    // What is too large by itself needs no chains around it.
    let [longest, _] = setting.paper.lying();
    let hopeful = |scale: Scale| {
        let extents = picture.panes.iter().filter_map(Pane::extent).flatten();
        extents.into_iter().all(|[low, high]| scale.paper(high) - scale.paper(low) < longest)
    };
    if picture.panes.iter().all(|pane| pane.extent().is_none()) {
        return Vec::new();
    }
    let in_room = |(size, room): ([f64; 2], [f64; 2])| {
        Scale::of(setting.system).filter(|scale| hopeful(*scale)).find_map(|scale| {
            let laid = picture.panes.iter().filter_map(|pane| Laid::new(pane, scale, names)).collect();
            Some((scale, size, fits(laid, room)?))
        })
    };
    let [first, second] = sizes.map(in_room);
    // Between the words of a page it is not turned where it fills half of the page as it is.
    let fills = |(_, size, pages): &(Scale, [f64; 2], Vec<Vec<Set<'_>>>)| {
        let sets = pages.iter().flatten().map(|set| set.size[0]);
        setting.ground == Ground::Page && sets.fold(0.0_f64, f64::max) >= size[0] / 2.0
    };
    let found = match first {
        Some(first) if fills(&first) => Some(first),
        first => {
            let both = first.into_iter().chain(second);
            both.min_by(|(a, _, one), (b, _, other)| (a, one.len()).cmp(&(b, other.len())))
        }
    };
    let Some((scale, size, pages)) = found else { return Vec::new() };
    let many = pages.len() > 1;
    let mut drawings = Vec::new();
    for (number, sets) in pages.into_iter().enumerate() {
        let size = taken(picture, setting, size, &sets);
        let name = if many { format!("{name}-{}", number + 1) } else { name.to_owned() };
        drawings.push(page(picture, setting, &name, (scale, size), sets));
    }
    drawings
}

/// Panes in rows, rows on pages; `None` where one of them has no room.
fn flowed(laid: Vec<Laid<'_>>, [wide, high]: [f64; 2]) -> Option<Vec<Vec<Set<'_>>>> {
    let mut rows: Vec<Vec<Laid<'_>>> = Vec::new();
    let mut x = f64::INFINITY;
    for laid in laid {
        if laid.wide() > wide {
            return None;
        }
        if x + laid.wide() > wide {
            rows.push(Vec::new());
            x = 0.0;
        }
        x += laid.wide() + GAP;
        if let Some(row) = rows.last_mut() {
            row.push(laid);
        }
    }
    let mut pages: Vec<Vec<Set<'_>>> = Vec::new();
    let mut y = f64::INFINITY;
    for row in rows {
        let set = beside(row, false);
        if set.size[1] > high {
            return None;
        }
        if y + set.size[1] > high {
            pages.push(Vec::new());
            y = 0.0;
        }
        y += set.size[1] + GAP / 2.0;
        if let Some(page) = pages.last_mut() {
            page.push(set);
        }
    }
    Some(pages)
}

/// What panes in rows take under each other.
fn high(sets: &[Set<'_>]) -> f64 {
    sets.iter().map(|set| set.size[1] + GAP / 2.0).sum::<f64>() - GAP / 2.0
}

/// How large the paper of a page is: a sheet is whole, and on a page stands what is drawn.
fn taken(picture: &Picture, setting: &Setting, whole: [f64; 2], sets: &[Set<'_>]) -> [f64; 2] {
    if setting.ground == Ground::Sheet {
        return whole;
    }
    let edge = 2.0 * setting.ground.edge();
    let drawn = sets.iter().map(|set| set.size[0]).fold(0.0_f64, f64::max);
    let sized = |wide: f64| [wide, edge + high(sets) + Foot::new(picture, setting, wide - edge).high()];
    let narrow = sized((drawn + edge).max(NARROWEST).min(whole[0]));
    // What stands under it is longer where it is narrower.
    if narrow[1] <= whole[1] { narrow } else { sized(whole[0]) }
}

/// One page.
fn page(
    picture: &Picture,
    setting: &Setting,
    name: &str,
    (scale, size): (Scale, [f64; 2]),
    sets: Vec<Set<'_>>,
) -> Drawing {
    let mut page = Drawing { scale: Some(scale), ..Drawing::new(name, picture.title.as_str(), size) };
    if setting.ground == Ground::Page {
        page.notes.clone_from(&picture.notes);
    }
    let (edge, over) = (setting.ground.edge(), setting.ground.head());
    let room = size[0] - 2.0 * edge;
    let below = Foot::new(picture, setting, room).high();
    let around = edge.min(2.0);
    let [right, bottom] = [size[0] - edge + around, size[1] - edge - below];
    let mut placing = Placing::new([edge - around, edge - around, right, bottom]);
    let mut left_out = 0;
    if setting.ground == Ground::Sheet {
        head(&mut placing, picture, setting, room);
    }
    // Panes stand in the middle of their room.
    let free = size[1] - 2.0 * edge - over - below;
    let mut top = edge + over + ((free - high(&sets)) / 2.0).max(0.0);
    let mut hatched = false;
    let mut placed: Vec<(&Laid<'_>, View)> = Vec::new();
    for set in &sets {
        let left = edge + ((room - set.size[0]) / 2.0).max(0.0);
        for (laid, [x, y]) in &set.laid {
            placed.push((laid, View { origin: [left + x, top + y], scale }));
        }
        top += set.size[1] + GAP / 2.0;
    }
    for (laid, view) in &placed {
        hatched |= shapes(&mut page, &mut placing, laid.pane, *view);
        for row in &laid.rows {
            row.lines(&mut placing, view.origin);
        }
    }
    for (laid, view) in &placed {
        if picture.panes.len() > 1 || picture.true_size {
            let says = shortened(&laid.pane.name, Weight::Bold, LARGE, laid.wide());
            let at = [view.origin[0] + laid.outer[0], view.origin[1] + laid.outer[1] + LARGE + 1.0];
            placing.put(vec![Text { weight: Weight::Bold, ..Text::new(says, at, LARGE) }]);
        }
        for row in &laid.rows {
            left_out += row.figures(&mut placing, view.origin);
        }
        let under = view.origin[1] + laid.outer[3] - LEAST * LEAD * laid.notes.len() as f64;
        for (number, note) in laid.notes.iter().enumerate() {
            let base = under + LEAST * LEAD * (number as f64 + 1.0) - 1.0;
            let says = shortened(note, Weight::Regular, LEAST, laid.wide());
            placing.put(vec![Text::new(says, [view.origin[0] + laid.outer[0], base], LEAST)]);
        }
    }
    for (laid, view) in &placed {
        for words in &laid.pane.words {
            let around = laid.inner;
            let [x, y] = view.origin;
            let around = [x + around[0], y + around[1], x + around[2], y + around[3]];
            left_out += usize::from(!said(&mut placing, words, *view, around));
        }
    }
    left_out += placed.iter().flat_map(|(laid, _)| &laid.rows).map(|row| row.left_out).sum::<usize>();
    foot(&mut placing, picture, setting, (scale, size), left_out);
    let (lines, texts) = placing.done();
    if hatched {
        for text in &texts {
            let [left, top, right, bottom] = covers(text);
            page.fill(Fill::Paper, [[left, top], [right, top], [right, bottom], [left, bottom]]);
        }
    }
    for line in Line::ALL {
        for (_, stretch) in lines.iter().filter(|(drawn, _)| *drawn == line) {
            page.line(line, *stretch);
        }
    }
    texts.into_iter().for_each(|text| page.text(text));
    if picture.true_size && Scale::standard().next() == Some(scale) && is_sheet(setting.paper, size) {
        page.check_rule([size[0] - EDGE - FOUR_INCHES - 1.0, EDGE + 1.5], Way::Across);
    }
    page
}

/// Whether something is as large as the paper, whichever way that lies.
fn is_sheet(paper: Paper, size: [f64; 2]) -> bool {
    let near = |whole: [f64; 2]| whole.iter().zip(size).all(|(whole, side)| (whole - side).abs() < 0.01);
    near(paper.upright()) || near(paper.lying())
}

fn head(placing: &mut Placing, picture: &Picture, setting: &Setting, room: f64) {
    // Beside it a rule is drawn that is measured first.
    let room = if picture.true_size { room - FOUR_INCHES - 6.0 } else { room };
    let line = shortened(&setting.head, Weight::Regular, LARGE, room);
    placing.put(vec![Text::new(line, [EDGE, EDGE + LARGE], LARGE)]);
    let (weight, height) = (Weight::Bold, 4.5);
    let title = shortened(&picture.title, weight, height, room);
    placing.put(vec![Text { weight, ..Text::new(title, [EDGE, EDGE + 11.0], height) }]);
}

/// What kinds of lines mean, remarks, what had no room, and the caution.
fn foot(
    placing: &mut Placing,
    picture: &Picture,
    setting: &Setting,
    (scale, size): (Scale, [f64; 2]),
    left_out: usize,
) {
    let ([wide, high], edge) = (size, setting.ground.edge());
    let room = wide - 2.0 * edge;
    let foot = Foot::new(picture, setting, room);
    let mut base = high - edge - foot.high() + 5.5;
    if left_out > 0 {
        let says =
            format!("{left_out} words or figures have no room here; the text of this view has all of them.");
        placing.put(vec![Text::new(shortened(&says, Weight::Regular, LEAST, room), [edge, base], LEAST)]);
    }
    let mut scale = Some(scaled(setting, scale));
    for line in foot.legend {
        base += LARGE * LEAD;
        let mut x = edge;
        for (kind, says) in line {
            // The first of all stands for the scale.
            let says = scale.take().unwrap_or(says);
            if let Some(kind) = kind {
                let middle = base - LARGE / 2.0;
                placing.firm(kind, [[x, middle], [x + 12.0, middle]]);
                x += 14.0;
            }
            let text = Text::new(says, [x, base], LARGE);
            x += text.width() + 7.0;
            placing.put(vec![text]);
        }
    }
    for says in foot.remarks {
        base += foot.height * LEAD;
        placing.put(vec![Text::new(says, [edge, base], foot.height)]);
    }
    if setting.ground == Ground::Page {
        return;
    }
    let caution = shortened(DRAWN, Weight::Regular, LEAST, room);
    placing.put(vec![Text::new(caution, [EDGE, high - 6.0], LEAST)]);
}

/// A circle that stands for a form, as so many stretches.
fn round([x, y]: Point, radius: f64, [from, to]: [f64; 2], steps: u32) -> Vec<Point> {
    let step = (to - from) / f64::from(steps);
    (0..=steps)
        .map(|number| {
            let (sin, cos) = (from + step * f64::from(number)).sine_cosine();
            [x + radius * cos, y - radius * sin]
        })
        .collect()
}

/// The points of a form on paper.
fn points(form: &Form, view: View) -> Vec<Point> {
    match form {
        Form::Line(path) | Form::Outline(path) => path.iter().map(|spot| view.point(*spot)).collect(),
        // However small, it is seen.
        Form::Circle { centre, wide } => {
            let radius = (view.scale.paper(*wide) / 2.0).max(0.35);
            round(view.point(*centre), radius, [0.0, std::f64::consts::TAU], 12)
        }
        Form::Quarter { centre, ends } => {
            let [cx, cy] = view.point(*centre);
            let [a, b] = ends.map(|end| view.point(end)).map(|[x, y]| [x - cx, cy - y]);
            let angle = |[x, y]: Point| y.angle_over(x);
            let (from, mut to) = (angle(a), angle(b));
            // The short way round.
            if to - from > std::f64::consts::PI {
                to -= std::f64::consts::TAU;
            } else if from - to > std::f64::consts::PI {
                to += std::f64::consts::TAU;
            }
            round([cx, cy], a[0].hypotenuse(a[1]), [from, to], 16)
        }
    }
}

/// Fills and lines of a pane; says whether something is hatched.
fn shapes(page: &mut Drawing, placing: &mut Placing, pane: &Pane, view: View) -> bool {
    let all: Vec<(&Shape, Vec<Point>)> =
        pane.shapes.iter().map(|shape| (shape, points(&shape.form, view))).collect();
    let mut hatched = false;
    for (shape, outline) in &all {
        if hatched && shape.fill != Filled::Open && matches!(shape.form, Form::Outline(_)) {
            page.fill(Fill::Paper, outline.clone());
        }
        hatched |= fill(page, shape.fill, outline);
    }
    for ((shape, _), stretches) in all.iter().zip(seen(&all)) {
        for stretch in stretches {
            placing.stroke(shape.line, stretch);
        }
    }
    hatched
}

/// Hatches what is cut; says whether it did.
fn fill(page: &mut Drawing, fill: Filled, outline: &[Point]) -> bool {
    let of = |axis: usize| {
        let all = outline.iter().filter_map(|point| point.get(axis).copied());
        all.clone().reduce(f64::min).zip(all.reduce(f64::max))
    };
    let (Some((left, right)), Some((top, bottom))) = (of(0), of(1)) else { return false };
    let thin = (right - left).min(bottom - top);
    let close = if thin < 4.0 { HATCH / 2.0 } else { HATCH };
    match fill {
        Filled::Open | Filled::Closed => return false,
        Filled::Wood => page.hatch(outline, 45.0, close),
        Filled::Wall => page.hatch(outline, 135.0, HATCH),
        Filled::LayersAcross => layers(page, outline, [top, bottom], false),
        Filled::LayersUp => layers(page, outline, [left, right], true),
    }
    true
}

/// The layers of a sheet: an odd number of them, so that both faces are alike; every other one is hatched where there is room.
fn layers(page: &mut Drawing, outline: &[Point], [from, to]: [f64; 2], upright: bool) {
    let count = [7_u32, 5, 3].into_iter().find(|count| (to - from) / f64::from(*count) >= LAYER);
    let Some(count) = count else {
        // Too thin on paper for layers.
        return page.hatch(outline, 45.0, HATCH / 2.0);
    };
    let step = (to - from) / f64::from(count);
    for number in 1..count {
        let at = from + step * f64::from(number);
        let seen = |[x, y]: &Point| if upright { (*x, *y) } else { (*y, *x) };
        let edges = outline.iter().map(seen).zip(outline.iter().map(seen).cycle().skip(1));
        let mut crossings: Vec<f64> = edges
            .filter(|((a, _), (b, _))| (*a <= at) != (*b <= at))
            .map(|((a, along), (b, end))| along + (end - along) * (at - a) / (b - a))
            .collect();
        crossings.sort_by(f64::total_cmp);
        let mut ends = crossings.into_iter();
        while let (Some(start), Some(end)) = (ends.next(), ends.next()) {
            let paper = |along: f64| if upright { [at, along] } else { [along, at] };
            page.line(Line::Hatch, [paper(start), paper(end)]);
        }
    }
}

/// Writes words into their room or beside their place; says whether they had room.
fn said(placing: &mut Placing, words: &Words, view: View, around: Box4) -> bool {
    match words.stand {
        Stand::Within([across, up]) => {
            let [[left, bottom], [right, top]] =
                [[across[0], up[0]], [across[1], up[1]]].map(|spot: Spot| view.point(spot));
            let room = [left, top, right, bottom];
            let whole = placing.place(within(words, room).into_iter());
            if !whole {
                // Figures without their name are better than nothing.
                placing.place(figures_within(words, room).into_iter());
            }
            whole
        }
        Stand::Along { ends, right } => {
            let [[x, low], [_, high]] = ends.map(|end| view.point(end));
            let says = words.readings.first().map(|lines| lines.concat()).unwrap_or_default();
            let away = if right { 1.2 + LARGE * 0.7 } else { -1.2 - LARGE * 0.7 };
            let ways = [0.5, 0.65, 0.35, 0.8, 0.2, 0.9, 0.1].map(|share| {
                let at = [x + away, low + (high - low) * share];
                vec![Text::centred(says.clone(), at, LARGE, 90.0)]
            });
            placing.place(ways.into_iter())
        }
        Stand::Beside(spot) => pointed(placing, words, view.point(spot), around),
    }
}

/// Lines of words as one block whose middle is at a place.
fn block(lines: &[String], [x, y]: Point, height: f64, turn: f64) -> Vec<Text> {
    let half = (lines.len() as f64 - 1.0) / 2.0;
    let text = |(number, says): (usize, &String)| {
        let away = (number as f64 - half) * height * LEAD;
        let at = if turn > 0.0 { [x + away, y] } else { [x, y + away] };
        Text::centred(says.clone(), at, height, turn)
    };
    lines.iter().enumerate().map(text).collect()
}

/// The ways to write lines of words in a room, at a height: level and upright, in its middle or beside it.
fn ways(lines: &[String], height: f64, [left, top, right, bottom]: Box4) -> Vec<Vec<Text>> {
    let (wide, high) = (right - left, bottom - top);
    let longest = lines.iter().map(|says| width(says, Weight::Regular, height)).fold(0.0_f64, f64::max);
    let (long, deep) = (longest + 1.5, height * (LEAD * (lines.len() as f64 - 1.0) + 1.45) + 1.0);
    let mut ways = Vec::new();
    for (turn, [across, up]) in [(0.0, [long, deep]), (90.0, [deep, long])] {
        let (spare, over) = (wide - across, high - up);
        if spare < 0.0 || over < 0.0 {
            continue;
        }
        for up in [0.5, 0.25, 0.75, 0.05, 0.95, 0.4, 0.6] {
            for along in [0.5, 0.25, 0.75, 0.0, 1.0] {
                let at = [left + across / 2.0 + spare * along, top + (high - over) / 2.0 + over * up];
                ways.push(block(lines, at, height, turn));
            }
        }
    }
    ways
}

/// The ways to write words in a room, the best first.
fn within(words: &Words, room: Box4) -> Vec<Vec<Text>> {
    let mut all = Vec::new();
    for lines in &words.readings {
        for height in [LARGE, 3.0, LEAST] {
            all.extend(ways(lines, height, room));
        }
    }
    // A name that is too long is shortened to the longer side of its room.
    let [left, top, right, bottom] = room;
    let (wide, high) = (right - left, bottom - top);
    if let Some(lines) = words.readings.last() {
        let names = lines.len().saturating_sub(words.figures);
        for long in [wide, wide.max(high)] {
            let short = |(number, says): (usize, &String)| match number < names {
                true => shortened(says, Weight::Regular, LEAST, long - 2.5),
                false => says.clone(),
            };
            let lines: Vec<String> = lines.iter().enumerate().map(short).collect();
            if lines.iter().all(|says| says.chars().count() > 3 || !says.ends_with('…')) {
                all.extend(ways(&lines, LEAST, room));
            }
        }
    }
    all
}

/// The ways to write the figures of words alone.
fn figures_within(words: &Words, room: Box4) -> Vec<Vec<Text>> {
    let lines = words.readings.last().map(Vec::as_slice).unwrap_or_default();
    let figures = lines.len().checked_sub(words.figures).and_then(|names| lines.get(names..));
    let figures = figures.filter(|figures| !figures.is_empty());
    figures.map(|figures| ways(figures, LEAST, room)).unwrap_or_default()
}

/// Writes words at a place, or near it with a line to it: first within what is drawn, then beside it.
fn pointed(placing: &mut Placing, words: &Words, [x, y]: Point, around: Box4) -> bool {
    let turns = [1.0, 3.0, 5.0, 7.0, 0.0, 2.0, 4.0, 6.0];
    let [left, top, right, bottom] = around;
    for (beyond, height) in [(0.0, LARGE), (0.0, LEAST), (50.0, LARGE), (50.0, LEAST)] {
        for lines in &words.readings {
            let long = lines.iter().map(|says| width(says, Weight::Regular, height)).fold(0.0_f64, f64::max);
            let deep = height * (LEAD * (lines.len() as f64 - 1.0) + 1.0);
            if placing.place(std::iter::once(block(lines, [x, y], height, 0.0))) {
                return true;
            }
            for away in [5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 40.0] {
                for turn in turns {
                    let (sin, cos) = (turn * std::f64::consts::FRAC_PI_4).sine_cosine();
                    let edge = [x + away * cos, y - away * sin];
                    let aside = if cos.abs() > 0.1 { cos.signum() * (long / 2.0 + 0.8) } else { 0.0 };
                    let at = [edge[0] + aside, edge[1] - sin * (deep / 2.0 + 0.8)];
                    let covered =
                        [at[0] - long / 2.0, at[1] - deep / 2.0, at[0] + long / 2.0, at[1] + deep / 2.0];
                    let inside = covered[0] >= left - beyond
                        && covered[1] >= top - beyond
                        && covered[2] <= right + beyond
                        && covered[3] <= bottom + beyond;
                    let texts = block(lines, at, height, 0.0);
                    if inside && texts.iter().all(|text| placing.is_free(text)) {
                        placing.put(texts);
                        placing.stroke(Line::Dimension, [[x, y], edge]);
                        return true;
                    }
                }
            }
        }
    }
    false
}
