//! Chains of dimensions.

use super::drawing::{Drawing, Fill, Line, Point, Shape, Text};
use super::font::{Weight, width};

/// From the edge that is measured to the line that leads away from it, and as far that line goes beyond the chain, in
/// millimetres (common practice, no source).
const GAP: f64 = 1.0;
/// The radius of the dot where a running dimension is read.
const DOT: f64 = 0.6;
/// Half of the slanting stroke at the end of a dimension (ISO 129-1), along and across.
const TICK: f64 = 1.2;
/// From a dimension line to its figures.
const OVER: f64 = 1.2;

/// Which way a chain runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// From left to right.
    Across,
    /// Upwards; figures are read from the right.
    Up,
}

/// What the figures of a chain say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Figures {
    /// From each place to the next: one less than there are places.
    Between(Vec<String>),
    /// From the first place, one for each place; they stand at the ends of the lines that lead to them.
    Running(Vec<String>),
}

/// Dimensions in one line.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// The points that are measured, in the order of the chain.
    pub places: Vec<Point>,
    /// Which way it runs.
    pub way: Way,
    /// Where it runs: the height on paper of a chain across, the distance from the left edge of one upwards.
    pub level: f64,
    /// Its figures.
    pub figures: Figures,
    /// The height of the figures in millimetres.
    pub height: f64,
}

impl Drawing {
    /// Draws a chain of dimensions: lines that lead to it, the line with its ends, figures over it.
    pub fn chain(&mut self, chain: &Chain) {
        let Chain { way, level, height, .. } = *chain;
        // Along the chain and away from it, as it lies on paper.
        let paper = |along: f64, away: f64| match way {
            Way::Across => [along, away],
            Way::Up => [away, along],
        };
        let seen = |[x, y]: &Point| match way {
            Way::Across => (*x, *y),
            Way::Up => (*y, *x),
        };
        let turn = match way {
            Way::Across => 0.0,
            Way::Up => 90.0,
        };
        let places: Vec<(f64, f64)> = chain.places.iter().map(seen).collect();
        for &(along, away) in places.iter().filter(|(_, away)| (level - away).abs() > GAP) {
            let step = GAP * (level - away).signum();
            self.line(Line::Dimension, [paper(along, away + step), paper(along, level + step)]);
        }
        if let [(first, _), .., (last, _)] = *places {
            self.line(Line::Dimension, [paper(first, level), paper(last, level)]);
        }
        match &chain.figures {
            Figures::Between(figures) => {
                for [x, y] in places.iter().map(|(along, _)| paper(*along, level)) {
                    self.line(Line::Outline, [[x - TICK, y + TICK], [x + TICK, y - TICK]]);
                }
                for (((from, _), (to, _)), says) in places.iter().zip(places.iter().skip(1)).zip(figures) {
                    let at = paper((from + to) / 2.0, level - OVER - height / 2.0);
                    self.text(Text::centred(says, at, height, turn));
                }
            }
            Figures::Running(figures) => {
                for ((along, away), says) in places.into_iter().zip(figures) {
                    let centre = paper(along, level);
                    let (line, fill) = (Line::Dimension, Some(Fill::Ink));
                    self.shapes.push(Shape::Circle { centre, radius: DOT, line, fill });
                    let room = width(says, Weight::Regular, height) / 2.0;
                    let at = paper(along, level + (2.0 * GAP + room) * (level - away).signum());
                    self.text(Text::centred(says, at, height, 90.0 - turn));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Chain, Figures, Way};
    use crate::document::{Drawing, Line, Shape};

    fn drawn(way: Way, level: f64, figures: Figures) -> Drawing {
        let places = vec![[20.0, 50.0], [60.0, 40.0], [80.0, 50.0]];
        let mut drawing = Drawing::new("x", "x", [100.0, 100.0]);
        drawing.chain(&Chain { places, way, level, figures, height: 2.5 });
        drawing
    }

    fn words(says: &[&str]) -> Vec<String> {
        says.iter().map(|says| (*says).to_owned()).collect()
    }

    #[test]
    fn figures_stand_over_the_line_between_their_places() {
        let drawing = drawn(Way::Across, 70.0, Figures::Between(words(&["400", "200"])));
        let over: Vec<f64> = drawing.texts().map(|text| text.at[0]).collect();
        assert_eq!(over, [40.0, 70.0]);
        for text in drawing.texts() {
            let low = text.corners()[0][1];
            assert!(low < 70.0 && low > 68.0, "{low}");
        }
        // Three lines that lead to it, each from its own edge and a little beyond, then the line itself.
        let lines = drawing.shapes.iter().filter_map(|shape| match shape {
            Shape::Stroke(stroke) if stroke.line == Line::Dimension => Some(stroke.path.clone()),
            _ => None,
        });
        let expected = [
            [[20.0, 51.0], [20.0, 71.0]],
            [[60.0, 41.0], [60.0, 71.0]],
            [[80.0, 51.0], [80.0, 71.0]],
            [[20.0, 70.0], [80.0, 70.0]],
        ];
        assert_eq!(lines.collect::<Vec<_>>(), expected);
    }

    #[test]
    fn running_figures_stand_behind_the_line_at_their_places() {
        let drawing = drawn(Way::Across, 70.0, Figures::Running(words(&["0", "400", "600"])));
        for (text, x) in drawing.texts().zip([20.0, 60.0, 80.0]) {
            let corners = text.corners();
            assert!((text.turn - 90.0).abs() < 1e-9);
            assert!(
                corners.iter().all(|corner| corner[1] > 71.0 && (corner[0] - x).abs() < 2.5),
                "{corners:?}"
            );
        }
        assert_eq!(drawing.texts().count(), 3);
        // Upwards, to the left of the work: level words, left of the line.
        let drawing = drawn(Way::Up, 10.0, Figures::Running(words(&["0", "400", "600"])));
        for text in drawing.texts() {
            assert!(
                text.turn.abs() < 1e-9 && text.corners().iter().all(|corner| corner[0] < 9.0),
                "{text:?}"
            );
        }
    }
}
