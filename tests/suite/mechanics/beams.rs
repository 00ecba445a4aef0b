//! Beams: the Wood Handbook's, the three-moment equation, and a section worked by hand.

use super::{RECOMPUTED, SEEN, near};
use scantling::mechanics::beam::{Beam, Case, shear_area};
use scantling::mechanics::continuous::{Answer, Span, solve};
use scantling::mechanics::section::{Rectangle, glued, moment_at_stress};

/// Source: USDA FPL-GTR-282 (2021), Wood Handbook, Eq. 9-2 and Table 9-1 (W is the total load); bending constants confirmed by sympy.
#[test]
fn deflection_constants() {
    let rows = [
        ("beam udl simple", SEEN, Case::UniformSimple, 0.01302083333, 0.125),
        ("beam udl fixed", SEEN, Case::UniformFixed, 0.002604166667, 0.125),
        ("beam mid simple", SEEN, Case::CentreSimple, 0.02083333333, 0.25),
        ("beam quarter simple", SEEN, Case::QuarterSimple, 0.01432291667, 0.125),
        ("beam end cantilever", SEEN, Case::EndCantilever, 0.3333333333, 1.0),
    ];
    for (id, how, case, kb, ks) in rows {
        near(id, how, case.bending_constant(), kb, 0.0, 1e-9);
        near(id, how, case.shear_constant(), ks, 0.0, 1e-9);
        let beam = Beam { span: 2.0, load: 3.0, bending_stiffness: 5.0, shear_stiffness: 7.0 };
        near(id, how, beam.deflection(case), kb * 24.0 / 5.0 + ks * 6.0 / 7.0, 0.0, 1e-9);
    }
    // 1/96 at the load points of a simple beam; clamped ends have 1/384 at mid-span.
    let at_load = Case::QuarterSimpleAtLoad.bending_constant();
    near("beam quarter loadpoint", RECOMPUTED, at_load, 0.0104166666667, 0.0, 1e-9);
    near("beam quarter loadpoint", RECOMPUTED, Case::QuarterFixed.bending_constant(), 1.0 / 384.0, 0.0, 1e-9);
}

/// Source: USDA FPL-GTR-282 (2021), Wood Handbook, Eq. 9-4: 5/6 of 11.25 x 0.71875.
#[test]
fn shear_area_of_a_rectangle() {
    near("beam shear area", RECOMPUTED, shear_area(11.25, 0.71875), 6.73828, 0.0, 1e-6);
}

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
/// n = 30 000 / 1250 = 24, I = 5.5 x 11^3 / 12 and 2 x 24 x (4.5 x 0.6^3 / 12 + 2.7 x 5.8^2): 4973.67 in4 of timber. Steel at
/// 20 000 psi, 6.1 from the middle, holds 20 000 x 4973.67 over 24 x 6.1 = 679 464 lb in, which a load at the middle of 16.5 ft
/// reaches at 4 M / L = 13 727 lb.
#[test]
fn timber_with_steel_plates() {
    let (e_wood, e_steel) = (1250.0, 30000.0);
    let plate = |up: f64| Rectangle { modulus: e_steel, width: 4.5, height: 0.6, across: 0.0, up };
    let timber = Rectangle { modulus: e_wood, width: 5.5, height: 11.0, across: 0.0, up: 6.1 };
    let section = glued(&[plate(0.3), timber, plate(11.9)]);
    let id = "beam textbook composite 1";
    near(id, RECOMPUTED, section.held / e_wood, 4973.67, 0.0, 1e-5);
    near(id, RECOMPUTED, section.neutral_axis, 6.1, 0.0, 1e-9);
    let steel = moment_at_stress(section.held, e_steel, 6.1, 20_000.0);
    near(id, RECOMPUTED, steel, 679_464.0, 0.0, 1e-5);
    let wood = moment_at_stress(section.held, e_wood, 5.5, 950.0);
    assert!(steel < wood, "the steel governs: {steel} < {wood}");
    near(id, RECOMPUTED, steel / (Case::CentreSimple.moment_constant() * 16.5 * 12.0), 13_727.0, 1.0, 0.0);
}
