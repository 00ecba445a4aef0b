//! The two-edge rule against the same rule written a second time, and its limits.
//!
//! Source of the table: `tests/reference/two_edges.py` (recomputed). Shelf 23/32 x 11 13/16, G 0.075, strip 3/4 thick, E 1.58 million
//! psi, 35 lb/ft, first-day sag in inches. Against a plate model: `fixtures.rs`.

use super::prints;
use scantling::mechanics::Units;
use scantling::mechanics::shelf::{OutsideFit, Rear, Shelf, Stiffened, Stiffener};

const TABLE: &str = include_str!("../../reference/two_edges.csv");

/// How many rows the table has.
pub const ROWS: usize = 12;

/// The shelf of a row.
fn shelf(span: f64, strip: Option<f64>, cleat: Option<f64>, screwed: bool, million_psi: f64) -> Stiffened {
    let modulus = million_psi * 1e6;
    let thickness = 23.0 / 32.0;
    let cleat = cleat.map(|height| Stiffener { thickness, height, modulus });
    Stiffened {
        shelf: Shelf {
            span,
            depth: 11.0 + 13.0 / 16.0,
            thickness,
            modulus,
            twist_modulus: 0.075e6,
            line_load: 35.0 / 12.0,
        },
        strip: strip.map(|height| Stiffener { thickness: 0.75, height, modulus: 1.58e6 }),
        rear: match cleat {
            None => Rear::Bare,
            Some(cleat) if screwed => Rear::Screwed(cleat),
            Some(cleat) => Rear::Cleat(cleat),
        },
    }
}

#[test]
fn the_rule_gives_the_table() {
    let rows: Vec<&str> = TABLE.lines().filter(|line| !line.starts_with('#')).collect();
    assert_eq!(rows.len(), ROWS);
    for row in rows {
        let values: Vec<f64> = row.split(',').map(|value| value.parse().unwrap()).collect();
        let [span, strip, cleat, screwed, million_psi, front, rear] = values[..] else { panic!("{row}") };
        let some = |height: f64| (height > 0.0).then_some(height);
        let stiffened = shelf(span, some(strip), some(cleat), screwed > 0.5, million_psi);
        let sag = stiffened.sag();
        prints(row, sag.front, 6, &format!("{front:.6}"));
        prints(row, sag.rear, 6, &format!("{rear:.6}"));
        assert_eq!(stiffened.outside_fit(&Units::INCH_POUND), []);
    }
}

/// A bare shelf is a plain beam, whichever way it is asked.
#[test]
fn a_bare_shelf_is_a_plain_beam() {
    let bare = shelf(36.0, None, None, false, 0.95);
    for sag in [bare.sag().front, bare.sag().rear, bare.rigid_bound(), bare.unglued_bound()] {
        super::near("bare", super::RECOMPUTED, sag, bare.shelf.bare_sag(), 0.0, 1e-12);
    }
}

#[test]
fn outside_the_fitted_range_the_rule_says_so() {
    let units = Units::INCH_POUND;
    let good = shelf(36.0, Some(1.5), Some(2.5), true, 0.95);
    let with = |change: &dyn Fn(&mut Stiffened)| {
        let mut changed = good;
        change(&mut changed);
        changed.outside_fit(&units)
    };
    assert_eq!(with(&|it| it.shelf.span = 60.0), [OutsideFit::Span]);
    assert_eq!(with(&|it| it.shelf.depth = 16.0), [OutsideFit::Depth]);
    assert_eq!(
        with(&|it| it.strip = Some(Stiffener { height: 3.0, thickness: 0.75, modulus: 1.58e6 })),
        [OutsideFit::Strip]
    );
    let strip = |thickness: f64| Stiffener { height: 1.5, thickness, modulus: 1.58e6 };
    for (millimetres, outside) in [(17.0, true), (18.0, false), (22.0, false), (23.0, true)] {
        let found = with(&|it| it.strip = Some(strip(millimetres / 25.4)));
        assert_eq!(found == [OutsideFit::Strip], outside, "{millimetres} mm");
    }
    assert_eq!(with(&|it| it.shelf.twist_modulus = 0.2e6), [OutsideFit::TwistModulus]);
    let solid = Stiffener { height: 2.5, thickness: 0.75, modulus: 1.58e6 };
    assert_eq!(with(&|it| it.rear = Rear::Screwed(solid)), [OutsideFit::Cleat]);
    assert_eq!(shelf(36.0, None, None, false, 2.0).outside_fit(&units), [OutsideFit::Modulus]);
}
