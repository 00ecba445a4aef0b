//! A neutral drawing: lines by meaning, areas, circles and words, before anyone draws it.
//!
//! All places are millimetres of paper from the upper left corner of the sheet, to the right and down; [`View`](super::View)
//! brings the exact lengths of the work there. What stands later lies over what stands before.

use super::cautions::DRAWN;
use super::font::{ABOVE, BELOW, CAPITALS, Weight, shortened, width, wrapped};
use super::scale::Scale;
use crate::quantity::Paper;
use crate::real::Real;
use serde::Serialize;

/// A place on paper, in millimetres from the upper left corner: to the right, down.
pub type Point = [f64; 2];

/// A drawing on a sheet of paper of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// The name of its file, without the ending.
    pub name: String,
    /// What it shows, for those who cannot see it.
    pub title: String,
    /// Width and height of the paper in millimetres.
    pub size: [f64; 2],
    /// How large its view of the work is; `None` where it has none.
    pub scale: Option<Scale>,
    /// What is drawn, from the lowest to the uppermost.
    pub shapes: Vec<Shape>,
    /// What is said under it where it stands on a page; a sheet of paper has it drawn.
    pub notes: Vec<String>,
}

/// One thing of a drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A line.
    Stroke(Stroke),
    /// A filled polygon, without an outline.
    Area {
        /// Its corners.
        outline: Vec<Point>,
        /// What it is filled with.
        fill: Fill,
    },
    /// A circle: a hole, the ground of a number.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius in millimetres.
        radius: f64,
        /// The line around it.
        line: Line,
        /// What it is filled with, if with anything.
        fill: Option<Fill>,
    },
    /// A line of words.
    Text(Text),
}

impl Shape {
    /// The same so far to the right and down.
    fn moved(&self, by: Point) -> Self {
        let at = |[x, y]: Point| [x + by[0], y + by[1]];
        let all = |path: &[Point]| path.iter().map(|point| at(*point)).collect();
        match self {
            Self::Stroke(stroke) => Self::Stroke(Stroke { path: all(&stroke.path), ..*stroke }),
            Self::Area { outline, fill } => Self::Area { outline: all(outline), fill: *fill },
            Self::Circle { centre, radius, line, fill } => {
                Self::Circle { centre: at(*centre), radius: *radius, line: *line, fill: *fill }
            }
            Self::Text(text) => Self::Text(Text { at: at(text.at), ..text.clone() }),
        }
    }
}

/// A line through points.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// What it means.
    pub line: Line,
    /// The points it goes through.
    pub path: Vec<Point>,
    /// Whether it goes back to the first.
    pub closed: bool,
}

/// What a line means. Kinds are those of ISO 128-2, widths of its series (from memory: 0.18, 0.25, 0.35, 0.5, 0.7 mm; dashes
/// 12, long dashes 24, gaps 3 and dots half of their width long).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Line {
    /// An edge that is seen.
    Outline,
    /// An edge that matters more than the others: what is measured from, the unit that is talked about.
    Heavy,
    /// An edge where material is cut through by a section.
    Cut,
    /// An edge of what stands beside what is drawn.
    Light,
    /// An edge behind something.
    Hidden,
    /// A centre, an axis, a stud.
    Centre,
    /// An edge as it was before a change.
    Former,
    /// A line of a dimension or to a remark.
    Dimension,
    /// Hatching.
    Hatch,
}

impl Line {
    /// All kinds.
    pub const ALL: [Self; 9] = [
        Self::Outline,
        Self::Heavy,
        Self::Cut,
        Self::Light,
        Self::Hidden,
        Self::Centre,
        Self::Former,
        Self::Dimension,
        Self::Hatch,
    ];

    /// Its width in millimetres.
    #[must_use]
    pub const fn width(self) -> f64 {
        match self {
            Self::Heavy => 0.7,
            Self::Cut => 0.5,
            Self::Outline => 0.35,
            Self::Hidden | Self::Centre | Self::Former => 0.25,
            Self::Light | Self::Dimension | Self::Hatch => 0.18,
        }
    }

    /// Whether it is red too, where there is colour: what has been.
    #[must_use]
    pub const fn is_red(self) -> bool {
        matches!(self, Self::Former)
    }

    /// Whether it stands for what lies behind something, and is drawn all the same.
    #[must_use]
    pub const fn shows_through(self) -> bool {
        match self {
            Self::Hidden | Self::Centre | Self::Former => true,
            Self::Outline | Self::Heavy | Self::Cut | Self::Light | Self::Dimension | Self::Hatch => false,
        }
    }

    /// Its dashes and gaps in turn, in millimetres; none where it is continuous.
    #[must_use]
    pub const fn dashes(self) -> &'static [f64] {
        match self {
            Self::Outline | Self::Heavy | Self::Cut | Self::Light | Self::Dimension | Self::Hatch => &[],
            Self::Hidden => &[3.0, 0.75],
            Self::Centre => &[6.0, 0.75, 0.125, 0.75],
            Self::Former => &[6.0, 0.75, 0.125, 0.75, 0.125, 0.75],
        }
    }
}

/// What an area is filled with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// The paper: it hides what lies under it.
    Paper,
    /// Ink.
    Ink,
}

/// Which point of a line of words stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// A line of words.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// The words.
    pub says: String,
    /// Where it stands: on the line under its capitals.
    pub at: Point,
    /// Which point of it stands there.
    pub anchor: Anchor,
    /// The height of its capitals and figures in millimetres.
    pub height: f64,
    /// By how many degrees it is turned to the left about its place.
    pub turn: f64,
    /// How heavy it is.
    pub weight: Weight,
}

impl Text {
    /// Words that begin at a place, level.
    #[must_use]
    pub fn new(says: impl Into<String>, at: Point, height: f64) -> Self {
        let (anchor, turn, weight) = (Anchor::Start, 0.0, Weight::Regular);
        Self { says: says.into(), at, anchor, height, turn, weight }
    }

    /// Words whose middle is at a place, in both directions.
    #[must_use]
    pub fn centred(says: impl Into<String>, at: Point, height: f64, turn: f64) -> Self {
        let text = Self { anchor: Anchor::Middle, turn, ..Self::new(says, at, height) };
        Self { at: text.place(0.0, height / 2.0), ..text }
    }

    /// The size of its type in millimetres.
    #[must_use]
    pub fn size(&self) -> f64 {
        self.height / CAPITALS
    }

    /// How wide it is, in millimetres.
    #[must_use]
    pub fn width(&self) -> f64 {
        width(&self.says, self.weight, self.height)
    }

    /// The corners of what it covers, from its beginning under the line to the right.
    #[must_use]
    pub fn corners(&self) -> [Point; 4] {
        let wide = self.width();
        let left = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -wide / 2.0,
            Anchor::End => -wide,
        };
        let (up, down) = (-ABOVE * self.height, BELOW * self.height);
        [[left, down], [left + wide, down], [left + wide, up], [left, up]].map(|[x, y]| self.place(x, y))
    }

    /// So far along the line and down from it, seen as it is turned.
    fn place(&self, along: f64, down: f64) -> Point {
        let (sin, cos) = self.turn.to_radians().sine_cosine();
        [self.at[0] + along * cos + down * sin, self.at[1] - along * sin + down * cos]
    }
}

/// A rectangle on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    /// Its left edge.
    pub x: f64,
    /// Its upper edge.
    pub y: f64,
    /// Its width.
    pub w: f64,
    /// Its height.
    pub h: f64,
}

impl Rect {
    /// The rectangle between two corners, whichever they are.
    #[must_use]
    pub fn between([ax, ay]: Point, [bx, by]: Point) -> Self {
        Self { x: ax.min(bx), y: ay.min(by), w: (ax - bx).abs(), h: (ay - by).abs() }
    }

    /// Its corners in turn.
    #[must_use]
    pub fn corners(self) -> Vec<Point> {
        let Self { x, y, w, h } = self;
        vec![[x, y], [x + w, y], [x + w, y + h], [x, y + h]]
    }

    /// Its centre.
    #[must_use]
    pub fn centre(self) -> Point {
        [self.x + self.w / 2.0, self.y + self.h / 2.0]
    }
}

impl Drawing {
    /// An empty sheet.
    #[must_use]
    pub fn new(name: impl Into<String>, title: impl Into<String>, size: [f64; 2]) -> Self {
        Self {
            name: name.into(),
            title: title.into(),
            size,
            scale: None,
            shapes: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// Writes the caution of every drawing into the lower margin of the paper, over nothing else, from `left`.
    pub fn caution(&mut self, left: f64) {
        let height = 2.5;
        let says = shortened(DRAWN, Weight::Regular, height, self.size[0] - 2.0 * left);
        self.text(Text::new(says, [left, self.size[1] - 6.0], height));
    }

    /// The same on a sheet of paper of its own: what it belongs to at the head, the caution at the foot.
    #[must_use]
    pub fn on_sheet(&self, paper: Paper, head: &str) -> Self {
        let (edge, under) = (8.0, 14.0);
        let upright = paper.upright();
        let size = if self.size[0] + 2.0 * edge > upright[0] { paper.lying() } else { upright };
        let mut sheet = Self { scale: self.scale, ..Self::new(&self.name, &self.title, size) };
        let room = size[0] - 2.0 * edge;
        for (says, weight, height, down) in
            [(head, Weight::Regular, 3.5, 3.5), (self.title.as_str(), Weight::Bold, 4.5, 11.0)]
        {
            let says = shortened(says, weight, height, room);
            sheet.text(Text { weight, ..Text::new(says, [edge, edge + down], height) });
        }
        let by = [(size[0] - self.size[0]) / 2.0, edge + under];
        sheet.shapes.extend(self.shapes.iter().map(|shape| shape.moved(by)));
        let least = 2.5;
        let notes = wrapped(&self.notes.join(" "), Weight::Regular, least, room);
        let mut base = by[1] + self.size[1] + 2.0;
        for says in notes {
            base += 1.6 * least;
            sheet.text(Text::new(shortened(&says, Weight::Regular, least, room), [edge, base], least));
        }
        sheet.caution(edge);
        sheet
    }

    /// Draws a line through points.
    pub fn line(&mut self, line: Line, path: impl Into<Vec<Point>>) {
        self.shapes.push(Shape::Stroke(Stroke { line, path: path.into(), closed: false }));
    }

    /// Draws the outline of a polygon.
    pub fn outline(&mut self, line: Line, path: impl Into<Vec<Point>>) {
        self.shapes.push(Shape::Stroke(Stroke { line, path: path.into(), closed: true }));
    }

    /// Fills a polygon.
    pub fn fill(&mut self, fill: Fill, outline: impl Into<Vec<Point>>) {
        self.shapes.push(Shape::Area { outline: outline.into(), fill });
    }

    /// Writes words.
    pub fn text(&mut self, text: Text) {
        self.shapes.push(Shape::Text(text));
    }

    /// Hatches a polygon by lines that are turned by so many degrees to the left and so many millimetres apart. Lines of
    /// neighbours meet.
    pub fn hatch(&mut self, outline: &[Point], turn: f64, apart: f64) {
        let (sin, cos) = turn.to_radians().sine_cosine();
        // Seen along the lines: how far along, and how far beside the line through the corner of the paper.
        let seen: Vec<Point> = outline.iter().map(|[x, y]| [x * cos - y * sin, x * sin + y * cos]).collect();
        let beside = |pick: fn(f64, f64) -> f64| seen.iter().map(|point| point[1]).reduce(pick);
        let (Some(least), Some(most)) = (beside(f64::min), beside(f64::max)) else { return };
        let mut number = (least / apart).floor() + 1.0;
        while number * apart < most {
            let at = number * apart;
            number += 1.0;
            let edges = seen.iter().zip(seen.iter().cycle().skip(1));
            let crossed = edges.filter(|(a, b)| (a[1] <= at) != (b[1] <= at));
            let mut crossings: Vec<f64> =
                crossed.map(|(a, b)| a[0] + (b[0] - a[0]) * (at - a[1]) / (b[1] - a[1])).collect();
            crossings.sort_by(f64::total_cmp);
            let mut ends = crossings.into_iter();
            while let (Some(from), Some(to)) = (ends.next(), ends.next()) {
                let paper = |along: f64| [along * cos + at * sin, at * cos - along * sin];
                self.line(Line::Hatch, [paper(from), paper(to)]);
            }
        }
    }

    /// The lines of words that stand on it.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.shapes.iter().filter_map(|shape| match shape {
            Shape::Text(text) => Some(text),
            Shape::Stroke(_) | Shape::Area { .. } | Shape::Circle { .. } => None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::{Anchor, Drawing, Line, Rect, Shape, Text};
    use crate::real::Real as _;

    fn near(a: &[f64], b: &[f64]) -> bool {
        a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-9)
    }

    /// In black and white two kinds differ by their width or by their dashes, but for those that only stand beside.
    #[test]
    fn kinds_of_lines_are_told_apart_without_colour() {
        for (place, a) in Line::ALL.into_iter().enumerate() {
            for b in Line::ALL.into_iter().skip(place + 1) {
                let beside = |line| matches!(line, Line::Light | Line::Dimension | Line::Hatch);
                let alike = (a.width() - b.width()).abs() < 1e-9 && a.dashes() == b.dashes();
                assert_eq!(alike, beside(a) && beside(b), "{a:?} {b:?}");
            }
        }
    }

    #[test]
    fn words_cover_what_their_turn_says() {
        let level = Text::new("shelf", [10.0, 20.0], 2.5);
        let wide = level.width();
        let [start, end, ..] = level.corners();
        assert!(near(&[start[0], end[0] - wide], &[10.0, 10.0]) && start[1] > 20.0);
        // Upright, read from the right: they run up the page from the same place.
        let upright = Text { turn: 90.0, ..level.clone() };
        let [start, end, ..] = upright.corners();
        assert!(near(&[start[1], end[1]], &[20.0, 20.0 - wide]) && start[0] > 10.0);
        let ended = Text { anchor: Anchor::End, ..level };
        assert!(near(&[ended.corners()[1][0]], &[10.0]));
        // Centred in both directions, whichever way they are turned.
        for turn in [0.0, 90.0] {
            let text = Text::centred("H", [50.0, 60.0], 4.0, turn);
            let away = [text.at[0] - 50.0, text.at[1] - 60.0];
            assert!(near(&away, if turn > 0.0 { &[2.0, 0.0] } else { &[0.0, 2.0] }), "{away:?}");
        }
    }

    /// Lines at 45 deg, 10 mm apart, over 20 x 20: the length of all of them by their distance is the area, nearly.
    #[test]
    fn hatching_fills_a_polygon_and_nothing_else() {
        let mut drawing = Drawing::new("x", "x", [100.0, 100.0]);
        let hole = [[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [20.0, 40.0], [20.0, 20.0], [0.0, 20.0]];
        drawing.hatch(&hole, 45.0, 0.1);
        let mut long = 0.0;
        for shape in &drawing.shapes {
            let Shape::Stroke(stroke) = shape else { panic!("{shape:?}") };
            let [[ax, ay], [bx, by]] = stroke.path[..] else { panic!("{stroke:?}") };
            // Up to the right.
            assert!(((bx - ax) + (by - ay)).abs() < 1e-9 && bx > ax, "{stroke:?}");
            let [x, y] = [(ax + bx) / 2.0, (ay + by) / 2.0];
            assert!(!(x < 20.0 - 1e-9 && y > 20.0 + 1e-9), "{stroke:?}");
            long += (bx - ax).hypotenuse(by - ay);
        }
        // 40 x 40 less 20 x 20.
        assert!((long * 0.1 - 1200.0).abs() < 2.0, "{long}");
    }

    #[test]
    fn a_rectangle_is_the_same_from_any_two_corners() {
        let rect = Rect::between([30.0, 40.0], [10.0, 15.0]);
        assert_eq!(rect, Rect { x: 10.0, y: 15.0, w: 20.0, h: 25.0 });
        assert!(near(&rect.centre(), &[20.0, 27.5]));
    }
}
