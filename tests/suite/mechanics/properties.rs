//! What must hold for all inputs: monotony, inverses, and that nothing panics or hides a not-a-number.

use proptest::num::f64::ANY;
use proptest::prelude::*;
use scantling::mechanics::Units;
use scantling::mechanics::beam::uniform_sag;
use scantling::mechanics::continuous::{Span, solve};
use scantling::mechanics::corner::Corner;
use scantling::mechanics::fastener::{Fastener, Wood, lateral_coefficient, lateral_load};
use scantling::mechanics::moisture::equilibrium_percent;
use scantling::mechanics::section::{Rectangle, glued, without_glue};
use scantling::mechanics::shelf::{Rear, Shelf, Stiffened, Stiffener};
use scantling::mechanics::stability::FreeUnit;
use scantling::mechanics::standing::{Ceiling, diagonal, tallest};
use scantling::mechanics::tilt::{longest_in, tilt_in};

fn stiffener() -> impl Strategy<Value = Stiffener> {
    (0.7..0.8, 1.0..2.5, 0.9e6..1.8e6).prop_map(|(thickness, height, modulus)| Stiffener {
        thickness,
        height,
        modulus,
    })
}

fn shelf() -> impl Strategy<Value = Shelf> {
    (24.0..48.0, 9.25..14.0, 0.65..0.8, 0.95e6..1.8e6, 0.05e6..0.11e6, 1.0..5.0).prop_map(
        |(span, depth, thickness, modulus, twist_modulus, line_load)| Shelf {
            span,
            depth,
            thickness,
            modulus,
            twist_modulus,
            line_load,
        },
    )
}

proptest! {
    /// Both edges sag down, a higher strip never lets the front sag more, and where nothing holds the rear the bare
    /// shelf sags more than a front edge with a strip.
    #[test]
    fn strips_help(shelf in shelf(), strip in stiffener(), cleat in stiffener(), more in 0.01..0.5) {
        for rear in [Rear::Bare, Rear::Cleat(cleat), Rear::Screwed(cleat)] {
            let plain = Stiffened { shelf, strip: Some(strip), rear };
            let taller = Stiffener { height: strip.height + more, ..strip };
            let higher = Stiffened { strip: Some(taller), ..plain };
            prop_assert!(plain.sag().front > 0.0 && plain.sag().rear >= 0.0);
            prop_assert!(higher.sag().front < plain.sag().front);
            prop_assert!(rear != Rear::Bare || plain.sag().front < shelf.bare_sag());
            prop_assert!(plain.rigid_bound() < plain.unglued_bound());
        }
    }

    /// More load, more sag, in proportion; the answer does not depend on the units.
    #[test]
    fn sag_is_linear_and_free_of_units(shelf in shelf(), strip in stiffener(), cleat in stiffener()) {
        let inches = Stiffened { shelf, strip: Some(strip), rear: Rear::Cleat(cleat) };
        let doubled = Stiffened { shelf: Shelf { line_load: 2.0 * shelf.line_load, ..shelf }, ..inches };
        prop_assert!((doubled.sag().rear / inches.sag().rear - 2.0).abs() < 1e-9);
        let set = Units::MILLIMETRE_NEWTON;
        let metric = |it: Stiffener| Stiffener {
            thickness: it.thickness * set.inch,
            height: it.height * set.inch,
            modulus: it.modulus * set.psi(),
        };
        let millimetres = Stiffened {
            shelf: Shelf {
                span: shelf.span * set.inch,
                depth: shelf.depth * set.inch,
                thickness: shelf.thickness * set.inch,
                modulus: shelf.modulus * set.psi(),
                twist_modulus: shelf.twist_modulus * set.psi(),
                line_load: shelf.line_load * set.pound / set.inch,
            },
            strip: Some(metric(strip)),
            rear: Rear::Cleat(metric(cleat)),
        };
        prop_assert!((millimetres.sag().front / set.inch / inches.sag().front - 1.0).abs() < 1e-9);
        prop_assert_eq!(millimetres.outside_fit(&set), inches.outside_fit(&Units::INCH_POUND));
    }

    /// Glue only stiffens; a section free to sway is never stiffer than one that is held.
    #[test]
    fn glue_stiffens(first in piece(), second in piece()) {
        let whole = glued(&[first, second]);
        prop_assert!(whole.held >= without_glue(&[first, second]) * (1.0 - 1e-12));
        prop_assert!(whole.free_to_sway <= whole.held * (1.0 + 1e-12));
    }

    /// The reactions of a continuous beam carry its load, and moments balance about its left end.
    #[test]
    fn continuous_beams_balance(spans in prop::collection::vec((1.0..50.0, 0.0..10.0), 1..8)) {
        let spans: Vec<Span> = spans.into_iter().map(|(length, line_load)| Span { length, line_load }).collect();
        let answer = solve(&spans, 1.0).expect("a sound beam");
        let load: f64 = spans.iter().map(|span| span.length * span.line_load).sum();
        let up: f64 = answer.reactions.iter().sum();
        prop_assert!((up - load).abs() < 1e-9 * (1.0 + load));
        let (mut left, mut about, mut held) = (0.0, 0.0, 0.0);
        for (span, reaction) in spans.iter().zip(answer.reactions.iter().skip(1)) {
            about += span.length * span.line_load * (left + span.length / 2.0);
            left += span.length;
            held += reaction * left;
        }
        prop_assert!((about - held).abs() < 1e-8 * (1.0 + about));
    }

    /// One span is the simple beam.
    #[test]
    fn one_span_is_a_simple_beam(length in 1.0..100.0, line_load in 0.1..10.0) {
        let answer = solve(&[Span { length, line_load }], 7.0).expect("a sound beam");
        let simple = uniform_sag(length, line_load, 7.0);
        prop_assert!((answer.spans[0].largest_deflection / simple - 1.0).abs() < 1e-9);
    }

    /// The tallest that stands needs just the ceiling.
    #[test]
    fn standing_and_its_inverse(ceiling in 50.0..120.0, depth in 5.0..40.0, slope in -1.0..1.0) {
        let level = tallest(ceiling, depth).expect("stands");
        prop_assert!((diagonal(level, depth) / ceiling - 1.0).abs() < 1e-12);
        let sloped = Ceiling { height: ceiling, slope };
        if let Some(height) = sloped.tallest(depth) {
            prop_assert!(sloped.margin(height * (1.0 - 1e-9), depth) >= 0.0);
            prop_assert!(sloped.margin(height * (1.0 + 1e-9) + 1e-9, depth) < 0.0);
        }
    }

    /// A tilted shelf just fills its opening; the longest that tilts in needs just the room.
    #[test]
    fn tilting_and_its_inverse(opening in 20.0..40.0, extra in 0.01..2.0, height in 0.7..3.0, room in 4.0..20.0) {
        let length = opening + extra;
        let tilt = tilt_in(length, height, opening).expect("goes in");
        let (sin, cos) = tilt.angle.sin_cos();
        prop_assert!((length * cos + height * sin - opening).abs() < 1e-9);
        prop_assert!(tilt.headroom > height && tilt.levelling_width > length);
        let longest = longest_in(opening, room, height).expect("goes in");
        let needed = tilt_in(longest, height, opening).expect("goes in");
        prop_assert!(needed.headroom <= room);
        let more = tilt_in(longest * (1.0 + 1e-9), height, opening).expect("goes in");
        prop_assert!(more.headroom > room);
    }

    /// Damper air, wetter wood.
    #[test]
    fn damp_air_wets(celsius in 0.0..40.0, humidity in 0.05..0.90, more in 0.001..0.05) {
        prop_assert!(equilibrium_percent(celsius, humidity + more) > equilibrium_percent(celsius, humidity));
    }

    /// No input panics.
    #[test]
    fn nothing_panics(a in ANY, b in ANY, c in ANY, d in ANY) {
        let shelf = Shelf { span: a, depth: b, thickness: c, modulus: d, twist_modulus: a, line_load: b };
        let stiffener = Stiffener { thickness: c, height: d, modulus: a };
        let stiffened = Stiffened { shelf, strip: Some(stiffener), rear: Rear::Cleat(stiffener) };
        let _ = (stiffened.sag(), stiffened.rigid_bound(), stiffened.outside_fit(&Units::INCH_POUND));
        let ceiling = Ceiling { height: a, slope: b };
        let _ = (ceiling.needed(c, d), ceiling.tallest(c), tallest(a, b));
        let corner = Corner { entry: a, exit: b };
        let _ = (corner.longest_past(c), corner.longest_lifted(c, d, a));
        let _ = (tilt_in(a, b, c), longest_in(a, b, c));
        let _ = solve(&[Span { length: a, line_load: b }, Span { length: c, line_load: d }], a);
        let _ = lateral_load(Wood::Hardwood, Fastener::Nail, a, b, &Units::INCH_POUND);
    }
}

fn piece() -> impl Strategy<Value = Rectangle> {
    (1.0..5.0, 0.1..5.0, 0.1..5.0, -5.0..5.0, -5.0..5.0)
        .prop_map(|(modulus, width, height, across, up)| Rectangle { modulus, width, height, across, up })
}

/// A not-a-number comes out as one, or as no answer: never as a number that would pass a check.
#[test]
fn not_a_number_is_not_hidden() {
    let nan = f64::NAN;
    let shelf =
        Shelf { span: 36.0, depth: 12.0, thickness: 0.75, modulus: 1e6, twist_modulus: nan, line_load: 3.0 };
    let strip = Stiffener { thickness: 0.75, height: 1.5, modulus: 1.58e6 };
    let stiffened = Stiffened { shelf, strip: Some(strip), rear: Rear::Bare };
    assert!(stiffened.sag().worse().is_nan());
    assert!(!stiffened.outside_fit(&Units::INCH_POUND).is_empty());
    assert!(Ceiling::level(96.0).needed(nan, 12.0).is_nan());
    assert_eq!(Ceiling::level(nan).tallest(12.0), None);
    assert!(FreeUnit::even(80.0, nan, nan).tipping_pull(80.0).is_nan());
    assert_eq!(lateral_coefficient(Wood::Hardwood, Fastener::Nail, nan), None);
    assert_eq!(tilt_in(30.0, nan, 26.0), None);
    assert_eq!(Corner { entry: 36.0, exit: 36.0 }.longest(nan), None);
}
