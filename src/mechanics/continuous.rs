//! Beams that run over several supports, all of them simple: a shelf over dividers, a plinth over packers.
//!
//! Clapeyron's three-moment equation, spans of any length, each with its own uniform load, one `E I` throughout:
//! `M0 L1 + 2 M1 (L1 + L2) + M2 L2 = -(w1 L1^3 + w2 L2^3) / 4`. Standard mechanics, as in any table of continuous
//! beams. Bending only, any consistent units, estimates: supports are held to be level and unyielding.

use super::numeric::turning_point;
use crate::real::Real;

/// Pieces into which a span is cut to find where its slope changes sign; the slope is a cubic.
const STEPS: u32 = 64;

/// One span between two supports.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Distance between its supports.
    pub length: f64,
    /// Uniform load per length.
    pub line_load: f64,
}

/// What happens in one span. Moments are positive where the beam sags, deflections positive down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpanAnswer {
    /// Moment over the left support.
    pub left_moment: f64,
    /// Moment over the right support.
    pub right_moment: f64,
    /// Largest moment between the supports, ends included.
    pub sagging_moment: f64,
    /// Deflection at mid-span.
    pub middle_deflection: f64,
    /// The deflection largest in size; negative where the span is lifted by its neighbours.
    pub largest_deflection: f64,
    /// Where that is, from the left support.
    pub largest_at: f64,
}

/// A solved beam.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Reaction of each support, from left to right, positive up: one more than there are spans.
    pub reactions: Vec<f64>,
    /// Each span, from left to right.
    pub spans: Vec<SpanAnswer>,
}

/// Solves a continuous beam with free outer ends. `None` if there is no span, a length is not above nought, or a
/// number is not finite.
#[must_use]
pub fn solve(spans: &[Span], bending_stiffness: f64) -> Option<Answer> {
    let sound = |span: &Span| span.length > 0.0 && span.length.is_finite() && span.line_load.is_finite();
    if spans.is_empty() || !spans.iter().all(sound) || bending_stiffness.is_nan() || bending_stiffness <= 0.0
    {
        return None;
    }
    let moments = support_moments(spans);
    let ends = moments.iter().copied().zip(moments.iter().copied().skip(1));
    let answers: Vec<SpanAnswer> = spans
        .iter()
        .zip(ends)
        .map(|(span, (left, right))| span_answer(span, left, right, bending_stiffness))
        .collect();
    let mut reactions = vec![0.0; moments.len()];
    for (index, (span, answer)) in spans.iter().zip(&answers).enumerate() {
        let half = span.line_load * span.length / 2.0;
        let lean = (answer.right_moment - answer.left_moment) / span.length;
        for (reaction, share) in reactions.iter_mut().skip(index).zip([half + lean, half - lean]) {
            *reaction += share;
        }
    }
    Some(Answer { reactions, spans: answers })
}

/// Moments over all supports, the outer two nought: the three-moment equations, eliminated forward and solved back.
fn support_moments(spans: &[Span]) -> Vec<f64> {
    let mut rows: Vec<(f64, f64)> = Vec::with_capacity(spans.len());
    let mut above = (0.0, 0.0);
    for (left, right) in spans.iter().zip(spans.iter().skip(1)) {
        let (factor, rest) = above;
        let load = -(left.line_load * left.length.cubed() + right.line_load * right.length.cubed()) / 4.0;
        let pivot = 2.0 * (left.length + right.length) - left.length * factor;
        above = (right.length / pivot, (load - left.length * rest) / pivot);
        rows.push(above);
    }
    let mut moments = vec![0.0];
    let mut next = 0.0;
    for (factor, rest) in rows.iter().rev() {
        next = rest - factor * next;
        moments.push(next);
    }
    moments.push(0.0);
    moments.reverse();
    moments
}

fn span_answer(span: &Span, left: f64, right: f64, bending_stiffness: f64) -> SpanAnswer {
    let Span { length, line_load } = *span;
    let shear = line_load * length / 2.0 + (right - left) / length;
    let crest = shear / line_load;
    let inside = if crest > 0.0 && crest < length { left + shear * crest / 2.0 } else { f64::NEG_INFINITY };
    let deflection = |x: f64| {
        let sides = left * (2.0 * length - x) + right * (length + x);
        let load = line_load * (length.squared() + length * x - x.squared()) / 24.0;
        x * (length - x) * (load + sides / (6.0 * length)) / bending_stiffness
    };
    let slope = |x: f64| {
        let load = line_load * (length.cubed() - 6.0 * length * x.squared() + 4.0 * x.cubed()) / 24.0;
        let sides = left * (2.0 * length.squared() - 6.0 * length * x + 3.0 * x.squared())
            + right * (length.squared() - 3.0 * x.squared());
        load + sides / (6.0 * length)
    };
    let place = |step: u32| length * f64::from(step) / f64::from(STEPS);
    let (mut largest_at, mut largest_deflection) = (length / 2.0, deflection(length / 2.0));
    for step in 0..STEPS {
        let (from, to) = (place(step), place(step + 1));
        let sign = slope(from);
        if sign * slope(to) <= 0.0 {
            let at = turning_point(from, to, |x| slope(x) * sign > 0.0);
            if deflection(at).abs() > largest_deflection.abs() {
                (largest_at, largest_deflection) = (at, deflection(at));
            }
        }
    }
    SpanAnswer {
        left_moment: left,
        right_moment: right,
        sagging_moment: left.max(right).max(inside),
        middle_deflection: deflection(length / 2.0),
        largest_deflection,
        largest_at,
    }
}
