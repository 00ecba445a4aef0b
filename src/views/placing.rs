//! Where words stand on paper: a small search. Edges are never crossed, seen or hidden; centre lines and lines that lead to
//! dimensions give way, and are broken where words stand.

use crate::document::{Line, Point, Text};
use std::collections::BTreeMap;

/// The side of a cell of the grid by which lines and words are found, in millimetres.
const CELL: f64 = 8.0;
/// What is kept free around words.
const CLEAR: f64 = 0.5;

/// Left, upper, right and lower end.
pub(super) type Box4 = [f64; 4];

/// A line from one place to another.
struct Stroke {
    line: Line,
    stretch: [Point; 2],
    /// Whether words break it.
    gives_way: bool,
}

/// The lines and the words of a page so far.
#[derive(Default)]
pub(super) struct Placing {
    strokes: Vec<Stroke>,
    /// The strokes that do not give way, by the cells that they go through.
    cells: BTreeMap<(i64, i64), Vec<usize>>,
    /// Rooms in which nothing else may stand: words, by the cells that they cover.
    taken: BTreeMap<(i64, i64), Vec<Box4>>,
    all: Vec<Box4>,
    texts: Vec<Text>,
    /// Where words may stand at all.
    pub within: Box4,
}

/// Whether lines of this kind are broken where words stand.
fn gives_way(line: Line) -> bool {
    match line {
        Line::Centre | Line::Former | Line::Dimension | Line::Hatch => true,
        // What is dashed may be no larger than words.
        Line::Outline | Line::Heavy | Line::Cut | Line::Light | Line::Hidden => false,
    }
}

fn cells([left, top, right, bottom]: Box4) -> impl Iterator<Item = (i64, i64)> {
    let cell = |at: f64| (at / CELL).floor() as i64;
    let (rows, columns) = (cell(top)..=cell(bottom), cell(left)..=cell(right));
    rows.flat_map(move |row| columns.clone().map(move |column| (column, row)))
}

/// What a line of words covers.
pub(super) fn covers(text: &Text) -> Box4 {
    let mut around = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
    for [x, y] in text.corners() {
        let [left, top, right, bottom] = around;
        around = [left.min(x), top.min(y), right.max(x), bottom.max(y)];
    }
    around
}

fn grown([left, top, right, bottom]: Box4, by: f64) -> Box4 {
    [left - by, top - by, right + by, bottom + by]
}

fn touch(a: &Box4, b: &Box4) -> bool {
    a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]
}

/// The shares of a stretch between which it lies in a box; `None` where it does not.
fn inside([[ax, ay], [bx, by]]: [Point; 2], [left, top, right, bottom]: Box4) -> Option<[f64; 2]> {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (step, room) in
        [(ax - bx, ax - left), (bx - ax, right - ax), (ay - by, ay - top), (by - ay, bottom - ay)]
    {
        if step.abs() < 1e-12 {
            if room <= 0.0 {
                return None;
            }
        } else if step < 0.0 {
            from = from.max(room / step);
        } else {
            to = to.min(room / step);
        }
    }
    (from < to).then_some([from, to])
}

impl Placing {
    pub fn new(within: Box4) -> Self {
        Self { within, ..Self::default() }
    }

    /// Draws a line.
    pub fn stroke(&mut self, line: Line, stretch: [Point; 2]) {
        self.add(Stroke { line, stretch, gives_way: gives_way(line) });
    }

    /// Draws a line that words do not break, of whatever kind it is.
    pub fn firm(&mut self, line: Line, stretch: [Point; 2]) {
        self.add(Stroke { line, stretch, gives_way: false });
    }

    fn add(&mut self, stroke: Stroke) {
        let [[ax, ay], [bx, by]] = stroke.stretch;
        if !stroke.gives_way {
            for cell in cells([ax.min(bx), ay.min(by), ax.max(bx), ay.max(by)]) {
                self.cells.entry(cell).or_default().push(self.strokes.len());
            }
        }
        self.strokes.push(stroke);
    }

    /// Keeps a room free of words.
    pub fn keep(&mut self, room: Box4) {
        for cell in cells(room) {
            self.taken.entry(cell).or_default().push(room);
        }
        self.all.push(room);
    }

    /// Whether nothing is in the way of words.
    pub fn is_free(&self, text: &Text) -> bool {
        let room = covers(text);
        let [left, top, right, bottom] = self.within;
        if room[0] < left || room[1] < top || room[2] > right || room[3] > bottom {
            return false;
        }
        let room = grown(room, CLEAR);
        cells(room).all(|cell| {
            let taken = self.taken.get(&cell).into_iter().flatten();
            let barred = self.cells.get(&cell).into_iter().flatten();
            let crossed = |number: &usize| {
                self.strokes.get(*number).is_some_and(|stroke| inside(stroke.stretch, room).is_some())
            };
            !taken.clone().any(|other| touch(&room, other)) && !barred.clone().any(crossed)
        })
    }

    /// Puts words where they stand.
    pub fn put(&mut self, texts: Vec<Text>) {
        for text in texts {
            self.keep(covers(&text));
            self.texts.push(text);
        }
    }

    /// Puts the first of several ways to write something that has room; says whether one had.
    pub fn place(&mut self, mut ways: impl Iterator<Item = Vec<Text>>) -> bool {
        let found = ways.find(|texts| texts.iter().all(|text| self.is_free(text)));
        let placed = found.is_some();
        self.put(found.unwrap_or_default());
        placed
    }

    /// The lines, broken where words stand and lines give way, and the words.
    pub fn done(self) -> (Vec<(Line, [Point; 2])>, Vec<Text>) {
        let mut drawn = Vec::new();
        for Stroke { line, stretch, gives_way } in &self.strokes {
            if !gives_way {
                drawn.push((*line, *stretch));
                continue;
            }
            let [[ax, ay], [bx, by]] = *stretch;
            let mut gaps: Vec<[f64; 2]> =
                self.all.iter().filter_map(|room| inside(*stretch, grown(*room, CLEAR))).collect();
            gaps.sort_by(|a, b| a[0].total_cmp(&b[0]));
            let at = |share: f64| [ax + (bx - ax) * share, ay + (by - ay) * share];
            let mut from = 0.0_f64;
            for [start, end] in gaps.into_iter().chain([[1.0, 1.0]]) {
                if start > from + 1e-6 {
                    drawn.push((*line, [at(from), at(start)]));
                }
                from = from.max(end);
            }
        }
        (drawn, self.texts)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_beside_lines_and_break_those_that_give_way() {
        let mut placing = Placing::new([0.0, 0.0, 100.0, 100.0]);
        placing.stroke(Line::Outline, [[0.0, 50.0], [100.0, 50.0]]);
        placing.stroke(Line::Centre, [[30.0, 0.0], [30.0, 100.0]]);
        let at = |y: f64| vec![Text::centred("shelf", [30.0, y], 3.5, 0.0)];
        assert!(!placing.place([at(50.0), at(52.0)].into_iter()));
        assert!(placing.place([at(50.0), at(60.0)].into_iter()));
        // Taken now.
        assert!(!placing.place([at(60.0)].into_iter()));
        let (lines, texts) = placing.done();
        assert_eq!((lines.len(), texts.len()), (3, 1));
        let centre: f64 =
            lines.iter().filter(|(line, _)| *line == Line::Centre).map(|(_, [a, b])| b[1] - a[1]).sum();
        let [_, top, _, bottom] = covers(&texts[0]);
        assert!((centre - (100.0 - (bottom - top) - 2.0 * CLEAR)).abs() < 1e-6, "{centre}");
    }
}
