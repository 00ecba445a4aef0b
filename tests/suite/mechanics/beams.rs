//! Beams: the Wood Handbook's, the three-moment equation, and a section worked by hand.

use super::{RECOMPUTED, SEEN, near};
use scantling::mechanics::continuous::{Answer, Span, solve};
use scantling::mechanics::section::{Rectangle, glued};

fn equal_spans(count: usize) -> Option<Answer> {
    solve(&vec![Span { length: 1.0, line_load: 1.0 }; count], 1.0)
}

/// Source: the three-moment equation in exact fractions, for spans and loads of one; the same by a frame-analysis library in
/// `tests/reference/beams.py`. Three spans: reactions 0.4, 1.1; moments -0.1, 0.08, 0.025; at mid-span 13/1920 and 1/1920.
#[test]
fn continuous_beams_of_equal_spans() {
    let rows = [
        ("beam continuous 2", 2, 0.375, 1.25, -0.125, 0.0703125, 0.0054161, 0.4215, 0.0052083333),
        ("beam continuous 3", 3, 0.4, 1.1, -0.1, 0.08, 0.0068842, 0.4461, 0.0067708333),
    ];
    for (id, spans, end, inner, hogging, sagging, most, at, middle) in rows {
        let answer = equal_spans(spans).expect("a sound beam");
        let first = answer.spans[0];
        near(id, SEEN, answer.reactions[0], end, 0.0, 1e-6);
        near(id, SEEN, answer.reactions[1], inner, 0.0, 1e-6);
        near(id, SEEN, first.right_moment, hogging, 0.0, 1e-6);
        near(id, SEEN, first.sagging_moment, sagging, 0.0, 1e-6);
        near(id, SEEN, first.largest_deflection, most, 0.0, 2e-4);
        near(id, SEEN, first.largest_at, at, 0.001, 0.0);
        near(id, SEEN, first.middle_deflection, middle, 0.0, 1e-6);
    }
    let middle = equal_spans(3).expect("a sound beam").spans[1];
    near("beam continuous 3 middle", RECOMPUTED, middle.sagging_moment, 0.025, 0.0, 1e-6);
    near("beam continuous 3 middle", RECOMPUTED, middle.middle_deflection, 0.00052083333, 0.0, 1e-6);
}

#[test]
fn a_beam_that_is_none_has_no_answer() {
    assert_eq!(solve(&[], 1.0), None);
    assert_eq!(solve(&[Span { length: 0.0, line_load: 1.0 }], 1.0), None);
    assert_eq!(solve(&[Span { length: 1.0, line_load: f64::NAN }], 1.0), None);
    assert_eq!(solve(&[Span { length: 1.0, line_load: 1.0 }], -1.0), None);
}

/// A timber 5 1/2 x 11 between two steel plates 4 1/2 x 0.6, by the transformed section (recomputed).
///
/// n = 30 000 / 1250 = 24, I = 5.5 x 11^3 / 12 and 2 x 24 x (4.5 x 0.6^3 / 12 + 2.7 x 5.8^2): 4973.67 in4 of timber.
#[test]
fn timber_with_steel_plates() {
    let (e_wood, e_steel) = (1250.0, 30000.0);
    let plate = |up: f64| Rectangle { modulus: e_steel, width: 4.5, height: 0.6, across: 0.0, up };
    let timber = Rectangle { modulus: e_wood, width: 5.5, height: 11.0, across: 0.0, up: 6.1 };
    let section = glued(&[plate(0.3), timber, plate(11.9)]);
    let id = "beam textbook composite 1";
    near(id, RECOMPUTED, section.held / e_wood, 4973.67, 0.0, 1e-5);
    near(id, RECOMPUTED, section.neutral_axis, 6.1, 0.0, 1e-9);
}
