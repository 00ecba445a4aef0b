//! Names and numbers of pieces, as large as their room allows.

use super::drawing::{LEAST, RADIUS};
use crate::document::{Drawing, Fill, Line, Point, Rect, Shape, Text, Weight, width};
use crate::real::Real;

/// The largest label of a piece, in millimetres.
const MOST: f64 = 4.2;
/// From line to line, for capitals of a height of 1.
const PITCH: f64 = 1.7;
/// What one line takes across itself: its capitals, what reaches under and over them, a little air.
const LINE: f64 = 1.65;
/// From a label to the edges of its piece, along its lines.
const AIR: f64 = 1.0;
/// The height of the figures in a circle.
const FIGURE: f64 = 2.8;

/// What stands in a piece.
pub(super) struct Label {
    /// Ways to break it into lines, the best first.
    ways: Vec<Vec<String>>,
}

/// Lines that have found their room.
struct Fitted<'a> {
    height: f64,
    turn: f64,
    room: Rect,
    lines: &'a [String],
}

impl Label {
    /// A name with a width and a length.
    pub(super) fn of_sizes(name: &str, [width, length]: [&str; 2]) -> Self {
        Self {
            ways: vec![
                vec![format!("{name} {width} x {length}")],
                vec![name.to_owned(), format!("{width} x {length}")],
                vec![name.to_owned(), format!("{width} x"), length.to_owned()],
                // What is too small for its sizes has them in the list of the work.
                vec![name.to_owned()],
            ],
        }
    }

    /// Writes it where it becomes largest, in one of the free rectangles of its piece; not at all where it could not be
    /// read. A way with the sizes is taken before one without.
    pub(super) fn draw(&self, page: &mut Drawing, free: &[Rect]) {
        let (name, sizes) = self
            .ways
            .split_last()
            .map_or((&[][..], &[][..]), |(name, ways)| (std::slice::from_ref(name), ways));
        let Some(best) = best(sizes, free).or_else(|| best(name, free)) else { return };
        let (sin, cos) = best.turn.to_radians().sine_cosine();
        let [x, y] = best.room.centre();
        for (place, says) in best.lines.iter().enumerate() {
            // Under the middle of the label by so much, as it is turned.
            let down = best.height * PITCH * (place as f64 - (best.lines.len() as f64 - 1.0) / 2.0);
            page.text(Text::centred(says, [x + down * sin, y + down * cos], best.height, best.turn));
        }
    }
}

/// The largest of all ways in all rooms, level or upright; the first of those that are equal.
fn best<'a>(ways: &'a [Vec<String>], free: &[Rect]) -> Option<Fitted<'a>> {
    let mut best: Option<Fitted<'a>> = None;
    for lines in ways {
        let longest = lines.iter().map(|line| width(line, Weight::Regular, 1.0)).fold(0.0, f64::max);
        let across = LINE + PITCH * (lines.len() as f64 - 1.0);
        for room in free {
            for (turn, [long, short]) in [(0.0, [room.w, room.h]), (90.0, [room.h, room.w])] {
                let height = ((long - 2.0 * AIR) / longest).min(short / across).min(MOST);
                if height >= LEAST && best.as_ref().is_none_or(|best| height > best.height) {
                    best = Some(Fitted { height, turn, room: *room, lines });
                }
            }
        }
    }
    best
}

/// A number in a circle.
pub(super) fn circled(page: &mut Drawing, number: usize, centre: Point) {
    let (line, fill) = (Line::Dimension, Some(Fill::Paper));
    page.shapes.push(Shape::Circle { centre, radius: RADIUS, line, fill });
    let says = number.to_string();
    // Three figures are smaller, so that they stay in the circle.
    let height = FIGURE.min(1.6 * RADIUS * FIGURE / width(&says, Weight::Bold, FIGURE)).max(LEAST);
    page.text(Text { weight: Weight::Bold, ..Text::centred(says, centre, height, 0.0) });
}

/// Writes the number of a step into the corner of a piece where its last cut is, and gives what stays free of the piece:
/// beside the number and under it. Without a circle in a small piece; not at all in one where it could not be read.
pub(super) fn number(page: &mut Drawing, says: usize, at: Rect, flat: bool) -> Vec<Rect> {
    let bare = [width(&says.to_string(), Weight::Bold, LEAST) + 2.0 * AIR, LEAST * LINE];
    let round = 2.0 * RADIUS + 0.6;
    let (wide, high) = if at.w.min(at.h) >= round {
        (round, round)
    } else if at.w >= bare[0] && at.h >= bare[1] {
        (bare[0], bare[1])
    } else {
        return vec![at];
    };
    let right = at.w - wide;
    let [x, free] = if flat { [at.x + right, at.x] } else { [at.x, at.x + wide] };
    let centre = Rect { x, y: at.y, w: wide, h: high }.centre();
    if wide < round || high < round {
        let says = says.to_string();
        page.text(Text { weight: Weight::Bold, ..Text::centred(says, centre, LEAST, 0.0) });
    } else {
        circled(page, says, centre);
    }
    vec![Rect { x: free, w: right, ..at }, Rect { y: at.y + high, h: at.h - high, ..at }]
}
