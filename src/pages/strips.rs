//! A stick in true scale, in strips for the paper at hand: each registered by numbers from the bottom end, which those of its neighbours
//! repeat, each with a rule that is measured first.

use super::sheet::{HEAD, Head, LARGE, LEAD, LEAST, sheet};
use crate::document::{
    Drawing, FOUR_INCHES, Fill, Line, MARGINS, Rect, Scale, Text, View, Way, Weight, abridged, wrapped,
};
use crate::quantity::{Length, Rational, System};

/// No strip is narrower.
const NARROWEST: f64 = 58.0;
/// The widest: a strip on a roll is so wide.
const WIDEST: f64 = 64.0;
/// Over a strip, for its number.
const NUMBER: f64 = 6.0;
/// Where an X stands, from the left edge of a strip.
const CROSS: [f64; 2] = [1.0, 7.0];
/// How far lines reach from the left edge, from which they are carried over.
const LINE: f64 = 9.0;
/// Where words begin.
const WORDS: f64 = 12.0;
/// From the right edge to the rule that is measured, and to the numbered lines.
const RULE: f64 = 26.0;
const SCALE: f64 = 15.5;
/// A line between two numbers.
const HALF: f64 = 2.0;
/// The end that is painted.
const PAINTED: f64 = 2.5;
/// On a roll a rule is drawn again so often.
const AGAIN: f64 = 600.0;

/// A line on a stick.
#[derive(Clone, Debug)]
pub(super) struct Drawn {
    /// From the bottom end.
    pub(super) at: Length,
    /// What is made there.
    pub(super) what: What,
    /// What is written beside it, a line each; the first is the largest.
    pub(super) says: Vec<String>,
}

/// What is made at a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// A groove over the line, so wide.
    Groove(Length),
    /// An end of the board.
    End,
}

/// A whole stick.
#[derive(Clone, Debug)]
pub(super) struct Long {
    /// Its lines, from the bottom end.
    pub(super) lines: Vec<Drawn>,
    /// Its length.
    pub(super) length: Length,
    /// What its numbers count.
    pub(super) system: System,
}

/// A piece of it: its number and its ends, counted in steps of the numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Piece {
    number: usize,
    from: i128,
    to: i128,
}

/// The least paper that a strip has room on.
pub(super) fn least(_: System) -> [f64; 2] {
    let [left, top, right, bottom] = MARGINS;
    [NARROWEST + left + right, FOUR_INCHES + 10.0 + top + HEAD + NUMBER + bottom]
}

impl Long {
    /// From one number to the next: an inch or 10 mm.
    fn step(&self) -> Length {
        let (inch, metric) = ((1, 1), (10, 1));
        self.system.length(inch, metric)
    }

    /// By how many steps strips lie over each other: an inch or 20 mm.
    const fn overlap(&self) -> i128 {
        match self.system {
            System::Inch => 1,
            System::Metric => 2,
        }
    }

    /// How many steps it is long, the last one whole.
    fn steps(&self) -> i128 {
        self.length.ratio(self.step()).map_or(0, |ratio| ratio.ceil().to_integer()).max(1)
    }

    fn at(&self, steps: i128) -> Length {
        self.step().checked_mul(Rational::from(steps)).unwrap_or_default()
    }

    /// The strips for a room so high.
    fn pieces(&self, high: f64) -> Vec<Piece> {
        let step = self.step().to_mm_f64();
        // A whole number of steps that has room; a millionth is no want of room.
        let most = (1..).take_while(|steps| f64::from(*steps) * step <= high + 1e-6).last().unwrap_or(1);
        let (most, all, overlap) = (i128::from(most), self.steps(), self.overlap());
        let on = (most - overlap).max(1);
        let mut pieces = Vec::new();
        let (mut from, mut number) = (0, 1);
        loop {
            let to = (from + most).min(all);
            // The last one is as long as the others: its lower end lies over more of the one before.
            let from_own = from.min((all - most).max(0));
            pieces.push(Piece { number, from: from_own, to });
            if to >= all {
                return pieces;
            }
            (from, number) = (from + on, number + 1);
        }
    }

    /// The strips on sheets of paper.
    pub(super) fn sheets(&self, head: Head<'_>, size: [f64; 2]) -> Vec<Drawing> {
        let (_, room) = sheet(head, size, (1, 1));
        let pieces = self.pieces(room.h - NUMBER - 1.0);
        let columns = (room.w / NARROWEST).floor().max(1.0);
        let wide = (room.w / columns).min(WIDEST);
        let all = pieces.len();
        let on_page = (1..).take_while(|columns| f64::from(*columns) * wide <= room.w + 1e-6).count().max(1);
        let pages = all.div_ceil(on_page);
        let made = pieces.chunks(on_page).enumerate().map(|(place, pieces)| {
            let (mut page, room) = sheet(head, size, (place + 1, pages));
            page.scale = Scale::standard().next();
            let mut x = room.x;
            for piece in pieces {
                let place = Rect { x, y: room.y, w: wide, h: room.h };
                self.strip(&mut page, place, *piece, all);
                x += wide;
            }
            page
        });
        made.collect()
    }

    /// The whole stick as one drawing, for paper from a roll.
    pub(super) fn roll(&self, head: Head<'_>) -> Drawing {
        let [left, top, right, bottom] = MARGINS;
        let all = Piece { number: 1, from: 0, to: self.steps() };
        let high = self.at(all.to).to_mm_f64().max(FOUR_INCHES + 10.0) + NUMBER + 1.0;
        let size = [WIDEST + left + right, high + top + HEAD + bottom];
        let (mut page, room) = sheet(head, size, (1, 1));
        page.scale = Scale::standard().next();
        self.strip(&mut page, Rect { w: WIDEST, ..room }, all, 1);
        page
    }

    /// One strip.
    fn strip(&self, page: &mut Drawing, place: Rect, piece: Piece, all: usize) {
        let Some(scale) = Scale::standard().next() else { return };
        let (left, right) = (place.x, place.x + place.w);
        let low = place.y + place.h;
        let from = self.at(piece.from);
        let view = View { origin: [left, low], scale };
        let up = |at: Length| {
            let [_, y] = view.point([Length::ZERO, at.checked_sub(from).unwrap_or_default()]);
            y
        };
        let high = up(self.at(piece.to));
        for x in [left, right] {
            page.line(Line::Light, [[x, low], [x, high]]);
        }
        page.line(Line::Light, [[left, high], [right, high]]);
        self.numbers(page, right, piece, &up);
        let mut rule = low - 4.0;
        while rule - FOUR_INCHES > high {
            page.check_rule([right - RULE, rule], Way::Up);
            rule -= AGAIN;
        }
        let [first, last] = [piece.from, piece.to].map(|steps| self.number(steps));
        let says = match all {
            1 => format!("{first} to {last}"),
            all => format!("{} of {all}: {first} to {last}", piece.number),
        };
        let says = abridged(&says, Weight::Bold, LARGE, place.w - 2.0);
        page.text(Text { weight: Weight::Bold, ..Text::new(says, [left + 1.0, high - 1.6], LARGE) });
        if piece.from == 0 {
            let band = Rect { x: left, y: low - PAINTED, w: LINE, h: PAINTED };
            page.fill(Fill::Ink, band.corners());
        }
        page.line(if piece.from == 0 { Line::Heavy } else { Line::Light }, [[left, low], [right, low]]);
        let to = self.at(piece.to);
        let own: Vec<&Drawn> = self.lines.iter().filter(|line| line.at >= from && line.at <= to).collect();
        for line in &own {
            mark(page, [left, high], line, &up);
        }
        let room = right - RULE - 1.8 - (left + WORDS);
        written(page, &own, [left, low, high, room], &up);
    }

    /// What a number says: inches, or millimetres.
    fn number(&self, steps: i128) -> i128 {
        match self.system {
            System::Inch => steps,
            System::Metric => steps * 10,
        }
    }

    /// Numbered lines along the right edge, with half steps between them.
    fn numbers(&self, page: &mut Drawing, right: f64, piece: Piece, up: &dyn Fn(Length) -> f64) {
        let half = self.step().checked_div(Rational::from(2)).unwrap_or_default();
        for steps in piece.from..=piece.to {
            let at = self.at(steps);
            let y = up(at);
            page.line(Line::Dimension, [[right - SCALE, y], [right, y]]);
            if steps < piece.to {
                let says = self.number(steps).to_string();
                page.text(Text::new(says, [right - SCALE + 0.5, y - 1.4], LARGE));
                let between = up(at.checked_add(half).unwrap_or(at));
                page.line(Line::Dimension, [[right - HALF, between], [right, between]]);
            }
        }
    }
}

/// What is drawn at a line.
fn mark(page: &mut Drawing, [left, high]: [f64; 2], line: &Drawn, up: &dyn Fn(Length) -> f64) {
    let y = up(line.at);
    match line.what {
        What::Groove(wide) => {
            page.line(Line::Outline, [[left, y], [left + LINE, y]]);
            let wide = wide.to_mm_f64();
            let size = wide.min(CROSS[1] - CROSS[0]);
            // What goes beyond the end of a strip stands on the next one.
            if y - size >= high {
                let (from, to) = ([left + CROSS[0], y], [left + CROSS[0] + size, y - size]);
                page.line(Line::Outline, [from, to]);
                page.line(Line::Outline, [[from[0], to[1]], [to[0], from[1]]]);
            }
            if y - wide >= high {
                page.line(Line::Light, [[left, y - wide], [left + CROSS[1], y - wide]]);
            }
        }
        What::End => page.line(Line::Heavy, [[left, y], [left + LINE, y]]),
    }
}

/// Words beside their lines, or as near as there is room, with a line that leads to them; what has no room at all is counted.
fn written(
    page: &mut Drawing,
    lines: &[&Drawn],
    [left, low, high, room]: [f64; 4],
    up: &dyn Fn(Length) -> f64,
) {
    let lines: Vec<&&Drawn> = lines.iter().filter(|line| !line.says.is_empty()).collect();
    let large = LARGE * LEAD;
    let free = low - high - 1.0;
    let blocks = |whole: bool| -> Vec<Vec<String>> {
        let block = |line: &&&Drawn| {
            let says: Vec<String> = if whole { line.says.clone() } else { vec![line.says.join(", ")] };
            let broken = says.iter().flat_map(|says| {
                if whole { wrapped(says, Weight::Regular, LARGE, room) } else { vec![says.clone()] }
            });
            broken.map(|line| abridged(&line, Weight::Regular, LARGE, room)).collect()
        };
        lines.iter().map(block).collect()
    };
    let high_of =
        |blocks: &[Vec<String>]| -> f64 { blocks.iter().map(|block| large * block.len() as f64 + 1.0).sum() };
    let mut all = blocks(true);
    if high_of(&all) > free {
        all = blocks(false);
    }
    let kept = (0..=all.len())
        .rev()
        .find(|kept| all.get(..*kept).is_some_and(|some| high_of(some) + large <= free))
        .unwrap_or(0);
    let left_out = all.len() - kept;
    all.truncate(kept);
    // From the lowest up: each block over its line, none in another; then down again from the upper end.
    let mut floor = low - 1.2;
    let mut bases: Vec<f64> = Vec::new();
    for (line, block) in lines.iter().zip(&all) {
        let base = (up(line.at) - 1.2).min(floor);
        bases.push(base);
        floor = base - large * block.len() as f64 - 1.0;
    }
    let mut top = high + 0.5 + if left_out > 0 { large } else { 0.0 };
    for (base, block) in bases.iter_mut().zip(&all).rev() {
        let tall = large * block.len() as f64;
        *base = base.max(top + tall);
        top = *base + 1.0;
    }
    for ((line, block), base) in lines.iter().zip(&all).zip(&bases) {
        let y = up(line.at);
        let last = base - (LARGE * (LEAD - 1.0)) / 2.0;
        page.line(Line::Dimension, [[left + LINE, y], [left + WORDS - 0.8, last - LARGE / 2.0]]);
        for (place, says) in block.iter().rev().enumerate() {
            page.text(Text::new(says, [left + WORDS, last - large * place as f64], LARGE));
        }
    }
    if left_out > 0 {
        let says = abridged(&format!("{left_out} more in the list"), Weight::Regular, LEAST, room);
        page.text(Text::new(says, [left + WORDS, high + LEAST + 1.5], LEAST));
    }
}
