//! Chains of dimensions on paper: how deep each is, its lines, and where its figures have room.

use super::paper::{LARGE, LEAD, LEAST};
use super::picture::{Edge, Measured, Pane, plain};
use super::placing::{Box4, Placing};
use crate::document::{Line, Point, Scale, Text, Weight, width};

/// From what is measured to the line that leads away from it, and as far that line goes beyond the chain.
const GAP: f64 = 1.0;
/// Half of the slanting stroke at the end of a dimension (ISO 129-1), along and across.
const TICK: f64 = 1.1;
/// From a dimension line to its figures.
const OVER: f64 = 1.8;
/// From the work, or from the chain before it, to a dimension line, at least.
const STEP: f64 = 3.0;
/// How far a line bends aside that leads to a figure which is not at its place.
const BEND: f64 = 3.0;

/// A chain in a scale, measured from the origin of its pane.
#[derive(Clone)]
pub(super) struct Row {
    pub edge: Edge,
    /// How far it reaches out from the chain before it.
    pub deep: f64,
    /// How far its figures reach beyond the pane, to the left and to the right, or up and down.
    pub beyond: [f64; 2],
    /// How many of its figures have no room.
    pub left_out: usize,
    /// Where its line runs.
    level: f64,
    /// Where the lines begin that lead to it.
    from: f64,
    /// Its places along it.
    places: Vec<f64>,
    kind: Kind,
    /// What it measures, where that is written along it.
    what: String,
}

#[derive(Clone)]
enum Kind {
    /// A figure over the line between two places: what it says with a name and without.
    Between(Vec<Stretch>),
    /// Figures at the ends of the lines that lead to them: the place, where the figure stands, what it says.
    Running { figures: Vec<(f64, f64, String)>, height: f64, bent: bool },
}

#[derive(Clone)]
struct Stretch {
    ends: [f64; 2],
    says: [String; 2],
}

fn long(says: &str, height: f64) -> f64 {
    width(says, Weight::Regular, height)
}

/// The chains of a pane, from the inner to the outer, on each side.
pub(super) fn rows(pane: &Pane, scale: Scale, inner: Box4) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for chain in &pane.chains {
        let before: f64 = rows.iter().filter(|row| row.edge == chain.edge).map(|row| row.deep).sum();
        rows.push(row(chain, scale, inner, before));
    }
    rows
}

fn row(chain: &Measured, scale: Scale, inner: Box4, before: f64) -> Row {
    let [left, top, right, bottom] = inner;
    // Of paper, heights count down.
    let along = |at: f64| if chain.edge.is_across() { at } else { -at };
    let mut places: Vec<f64> = chain.places.iter().map(|at| along(scale.paper(*at))).collect();
    let mut says: Vec<[String; 2]> = chain
        .figures
        .iter()
        .map(|of| {
            let plain: String = plain(&of.length.print);
            [
                if of.name.is_empty() || chain.quiet {
                    plain.clone()
                } else {
                    format!("{}  {plain}", of.name)
                },
                plain,
            ]
        })
        .collect();
    if !chain.edge.is_across() {
        places.reverse();
        says.reverse();
    }
    let (edge, sign) = match chain.edge {
        Edge::Above => (top, -1.0),
        Edge::Below => (bottom, 1.0),
        Edge::Left => (left, -1.0),
        Edge::Right => (right, 1.0),
    };
    let ends = if chain.edge.is_across() { [left, right] } else { [top, bottom] };
    let Written { kind, step, deep, beyond, left_out } = if chain.running {
        running(&places, says, (ends, if chain.edge.is_across() { 6.0 } else { 0.5 }))
    } else {
        between(&places, says, chain.edge.is_across())
    };
    let level = edge + sign * (before + step);
    let what = if chain.running { chain.what.clone() } else { String::new() };
    Row { edge: chain.edge, deep, beyond, left_out, level, from: edge, places, kind, what }
}

/// How a chain is written, and what that takes.
struct Written {
    kind: Kind,
    /// From the work, or the chain before it, to its line.
    step: f64,
    deep: f64,
    beyond: [f64; 2],
    left_out: usize,
}

/// How a chain from place to place is written.
fn between(places: &[f64], says: Vec<[String; 2]>, across: bool) -> Written {
    let mut stretches: Vec<Stretch> = places
        .iter()
        .zip(places.iter().skip(1))
        .zip(says)
        .map(|((from, to), says)| Stretch { ends: [*from, *to], says })
        .collect();
    let room = |stretch: &Stretch| stretch.ends[1] - stretch.ends[0];
    let level = |stretch: &Stretch| long(&stretch.says[1], LARGE) + 1.5 <= room(stretch);
    let upright = |stretch: &Stretch| LEAST * 1.45 + 1.2 <= room(stretch);
    let narrow = stretches.iter().filter(|stretch| !level(stretch)).count();
    let hopeless = stretches.iter().filter(|stretch| !upright(stretch)).count();
    // Where many have no room even upright, equal neighbours are told together.
    if stretches.len() > 4 && 2 * hopeless > stretches.len() {
        let mut together: Vec<(usize, Stretch)> = Vec::new();
        for stretch in stretches {
            match together.last_mut().filter(|(_, last)| last.says[1] == stretch.says[1]) {
                Some((count, last)) => {
                    *count += 1;
                    last.ends[1] = stretch.ends[1];
                }
                None => together.push((1, stretch)),
            }
        }
        stretches = together
            .into_iter()
            .map(|(count, stretch)| match count {
                1 => stretch,
                count => {
                    let says = format!("{count} x {}", stretch.says[1]);
                    Stretch { says: [says.clone(), says], ..stretch }
                }
            })
            .collect();
    }
    let tallest =
        stretches.iter().filter(|stretch| !level(stretch)).map(|stretch| long(&stretch.says[1], LARGE));
    let tallest = tallest.fold(0.0_f64, f64::max);
    let flat = OVER + LARGE * 1.3;
    // A few narrow ones have their figures beside the chain; many have them upright. Where the chain runs up, they are level, beyond
    // its line.
    let step = STEP + if across && narrow > 2 { (OVER + tallest).max(flat) } else { flat };
    let under = if across { OVER + LARGE * 1.45 + 1.0 } else { OVER + tallest + 2.5 };
    let deep = step + if narrow > 0 { under } else { 1.5 };
    let beyond = if across && narrow > 0 { [tallest + 3.0; 2] } else { [1.0; 2] };
    Written { kind: Kind::Between(stretches), step, deep, beyond, left_out: 0 }
}

/// How a chain from a datum is written.
fn running(places: &[f64], says: Vec<[String; 2]>, ([low, high], beyond): ([f64; 2], f64)) -> Written {
    let mut all: Vec<(f64, String)> =
        places.iter().copied().zip(says.into_iter().map(|[says, _]| says)).collect();
    let room = high - low + 2.0 * beyond;
    let count = all.len();
    let pitch = |height: f64| height * LEAD;
    let needed = |height: f64, count: usize| pitch(height) * count.saturating_sub(1) as f64;
    let height = if needed(LARGE, count) <= room { LARGE } else { LEAST };
    if needed(height, count) > room {
        // The first and the last stay, and between them those that stand far enough from each other.
        let last = all.pop();
        let mut kept: Vec<(f64, String)> = Vec::new();
        let end = last.as_ref().map_or(f64::INFINITY, |(at, _)| at - pitch(height));
        for (at, says) in all {
            if kept.last().is_none_or(|(before, _)| at - before >= pitch(height) && at <= end) {
                kept.push((at, says));
            }
        }
        kept.extend(last);
        all = kept;
    }
    let wanted: Vec<f64> = all.iter().map(|(at, _)| *at).collect();
    let stand = spread(&wanted, pitch(height), [low - beyond, high + beyond]);
    let bent = wanted.iter().zip(&stand).any(|(at, stands)| (at - stands).abs() > 0.05);
    let left_out = count - all.len();
    let wide = all.iter().map(|(_, says)| long(says, height)).fold(0.0_f64, f64::max);
    let figures = all.into_iter().zip(stand).map(|((at, says), stands)| (at, stands, says)).collect();
    // What it measures stands along it.
    let step = STEP + LEAST * 1.45 + 0.5;
    let deep = step + 2.0 * GAP + if bent { BEND } else { 0.0 } + wide + 1.0;
    Written { kind: Kind::Running { figures, height, bent }, step, deep, beyond: [7.0; 2], left_out }
}

/// Places in rising order, moved as little as keeps them so far apart: neighbours that are too near to each other are spread about
/// their middle.
fn spread(wanted: &[f64], pitch: f64, [low, high]: [f64; 2]) -> Vec<f64> {
    // Blocks that touch: where each begins, how many it has.
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    let long = |count: usize| pitch * count.saturating_sub(1) as f64;
    for at in wanted {
        let mut block = (*at, 1_usize);
        while let Some((start, count)) = blocks.last().copied() {
            if start + long(count) + pitch <= block.0 + 1e-9 {
                break;
            }
            blocks.pop();
            // About the middle of where both want to stand.
            let (a, b) = (count as f64, block.1 as f64);
            let begin = (start * a + (block.0 - pitch * a) * b) / (a + b);
            block = (begin, count + block.1);
        }
        block.0 = block.0.min(high - long(block.1)).max(low);
        blocks.push(block);
    }
    blocks
        .into_iter()
        .flat_map(|(start, count)| (0..count).map(move |number| start + pitch * number as f64))
        .collect()
}

impl Row {
    fn paper(&self, [x, y]: Point, along: f64, away: f64) -> Point {
        if self.edge.is_across() { [x + along, y + away] } else { [x + away, y + along] }
    }

    fn outward(&self) -> f64 {
        if matches!(self.edge, Edge::Above | Edge::Left) { -1.0 } else { 1.0 }
    }

    /// Draws its lines.
    pub fn lines(&self, placing: &mut Placing, origin: Point) {
        let (out, level) = (self.outward(), self.level);
        let at = |along: f64, away: f64| self.paper(origin, along, away);
        for along in &self.places {
            placing
                .stroke(Line::Dimension, [at(*along, self.from + GAP * out), at(*along, level + GAP * out)]);
        }
        if let ([first, ..], Some(last)) = (self.places.as_slice(), self.places.last()) {
            placing.firm(Line::Dimension, [at(*first, level), at(*last, level)]);
        }
        match &self.kind {
            Kind::Between(_) => {
                for [x, y] in self.places.iter().map(|along| at(*along, level)) {
                    placing.firm(Line::Outline, [[x - TICK, y + TICK], [x + TICK, y - TICK]]);
                }
            }
            Kind::Running { figures, bent, .. } => {
                for along in &self.places {
                    let [x, y] = at(*along, level);
                    placing.firm(Line::Outline, [[x - 0.5, y], [x + 0.5, y]]);
                    placing.firm(Line::Outline, [[x, y - 0.5], [x, y + 0.5]]);
                }
                for (along, stands, _) in figures.iter().filter(|_| *bent) {
                    let from = level + GAP * out;
                    placing.stroke(Line::Dimension, [at(*along, from), at(*stands, from + BEND * out)]);
                }
            }
        }
    }

    /// Writes its figures; says how many had no room.
    pub fn figures(&self, placing: &mut Placing, origin: Point) -> usize {
        match &self.kind {
            Kind::Between(stretches) => {
                stretches.iter().filter(|stretch| !self.stretch(placing, origin, stretch)).count()
            }
            Kind::Running { figures, height, bent } => {
                let out = self.outward();
                let bend = if *bent { BEND } else { 0.0 };
                let turn = if self.edge.is_across() { 90.0 } else { 0.0 };
                let written = figures.iter().filter(|(_, stands, says)| {
                    let ways = [0.0, 0.6, -0.6, 1.2, -1.2].map(|aside| {
                        let away = self.level + out * (2.0 * GAP + bend + long(says, *height) / 2.0);
                        let at = self.paper(origin, stands + aside, away);
                        vec![Text::centred(says.clone(), at, *height, turn)]
                    });
                    placing.place(ways.into_iter())
                });
                let written = written.count();
                self.titled(placing, origin);
                figures.len() - written
            }
        }
    }

    /// What it measures, along its line on the side of the work.
    fn titled(&self, placing: &mut Placing, origin: Point) {
        let (Some(first), Some(last)) = (self.places.first(), self.places.last()) else { return };
        let long = long(&self.what, LEAST);
        let turn = if self.edge.is_across() { 0.0 } else { 90.0 };
        let away = self.level - self.outward() * (1.8 + LEAST * 0.6);
        let spare = (last - first - long).max(0.0);
        let ways = [0.5, 0.3, 0.7, 0.1, 0.9, 0.0, 1.0].map(|share| {
            let at = self.paper(origin, first + long / 2.0 + spare * share, away);
            vec![Text::centred(self.what.clone(), at, LEAST, turn)]
        });
        placing.place(ways.into_iter());
    }

    fn stretch(&self, placing: &mut Placing, origin: Point, stretch: &Stretch) -> bool {
        let [from, to] = stretch.ends;
        let (room, middle) = (to - from, (from + to) / 2.0);
        let across = self.edge.is_across();
        let turn = if across { 0.0 } else { 90.0 };
        // Over the line as it is read, which is at its left where it runs up.
        let over = |height: f64| self.level - OVER - height / 2.0;
        let at = |along: f64, away: f64| self.paper(origin, along, away);
        let mut ways: Vec<Vec<Text>> = Vec::new();
        let [named, plain] = &stretch.says;
        for says in [named, plain] {
            for height in [LARGE, 3.0, LEAST] {
                let spare = room - long(says, height) - 1.2;
                if spare < 0.0 {
                    continue;
                }
                for share in [0.0, 0.5, -0.5, 1.0, -1.0] {
                    let along = middle + share * spare / 2.0;
                    ways.push(vec![Text::centred(says.clone(), at(along, over(height)), height, turn)]);
                }
            }
        }
        for height in [LARGE, LEAST] {
            if room >= height * 1.45 + 1.0 {
                let half = long(plain, height) / 2.0;
                let away = if across {
                    self.level - OVER - half
                } else {
                    self.level + self.outward() * (OVER + half)
                };
                let turned = 90.0 - turn;
                ways.push(vec![Text::centred(plain.clone(), at(middle, away), height, turned)]);
            }
        }
        if placing.place(ways.into_iter()) {
            return true;
        }
        // Beside it: on the other side of the line, or beyond its neighbours, with a line to it.
        for height in [LARGE, LEAST] {
            let half = long(plain, height) / 2.0;
            if !across {
                for aside in [0.0, 0.7, -0.7, 1.4, -1.4, 2.1, -2.1, 3.0, -3.0, 4.5, -4.5, 6.0, -6.0] {
                    let (along, near) =
                        (middle + aside * height * 1.45, self.level + self.outward() * (OVER + 1.2));
                    let text =
                        Text::centred(plain.clone(), at(along, near + self.outward() * half), height, 0.0);
                    if placing.is_free(&text) {
                        placing.put(vec![text]);
                        placing.stroke(Line::Dimension, [at(middle, self.level), at(along, near)]);
                        return true;
                    }
                }
                continue;
            }
            let under = self.level + OVER + height * 0.6;
            let sideways = [0.0, 1.0, -1.0, 2.0, -2.0, 3.0, -3.0, 5.0, -5.0, 8.0, -8.0, 12.0, -12.0];
            for aside in sideways {
                for away in [under, over(height)] {
                    let text = Text::centred(plain.clone(), at(middle + aside * half, away), height, turn);
                    if placing.is_free(&text) {
                        placing.put(vec![text]);
                        if aside.abs() > 1.5 {
                            let end = middle + (aside - aside.signum()) * half;
                            placing.stroke(Line::Dimension, [at(middle, self.level), at(end, away)]);
                        }
                        return true;
                    }
                }
            }
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn figures_keep_apart_and_stay_near_their_places() {
        let said = |wanted: &[f64]| -> Vec<f64> {
            spread(wanted, 5.0, [0.0, 100.0]).into_iter().map(|at| (at * 100.0).round() / 100.0).collect()
        };
        assert_eq!(said(&[10.0, 50.0]), [10.0, 50.0]);
        // About their middle.
        assert_eq!(said(&[50.0, 51.0]), [48.0, 53.0]);
        assert_eq!(said(&[0.0, 99.0, 100.0]), [0.0, 95.0, 100.0]);
        // The second block runs into the first.
        assert_eq!(said(&[10.0, 15.0, 15.0]), [8.33, 13.33, 18.33]);
    }
}
