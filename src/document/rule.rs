//! What stands on paper that is true to scale: a rule that is measured before anything else is trusted.

use super::chain::Way;
use super::drawing::{Drawing, Line, Point, Text};

/// The margins of a printed page in millimetres: left, upper, right and lower one. Every printer reaches so far.
pub const MARGINS: [f64; 4] = [12.0, 12.0, 12.0, 14.0];
/// The longer of the two rules, in millimetres.
pub const FOUR_INCHES: f64 = 101.6;
/// The shorter one.
const HUNDRED: f64 = 100.0;
/// From the one to the other.
const APART: f64 = 5.0;
/// Half of the stroke at an end.
const END: f64 = 1.2;
/// How high its words are.
const WORDS: f64 = 2.5;

impl Drawing {
    /// Draws two rules, 100 mm and 4 in long, from a place to the right with the second under the first, or upwards with the second to
    /// the right; they take 10 mm across.
    pub fn check_rule(&mut self, [x, y]: Point, way: Way) {
        let paper = |along: f64, away: f64| match way {
            Way::Across => [x + along, y + away],
            Way::Up => [x + away, y - along],
        };
        let turn = match way {
            Way::Across => 0.0,
            Way::Up => 90.0,
        };
        let rules = [(0.0, HUNDRED, "100 mm: measure this before you use it"), (APART, FOUR_INCHES, "4 in")];
        for (away, long, says) in rules {
            self.line(Line::Outline, [paper(0.0, away), paper(long, away)]);
            for end in [0.0, long] {
                self.line(Line::Outline, [paper(end, away - END), paper(end, away + END)]);
            }
            self.text(Text::centred(says, paper(long / 2.0, away + APART / 2.0), WORDS, turn));
        }
    }
}
