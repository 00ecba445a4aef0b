//! The two-edge rule against the trade's table of plate-model values, and its limits.
//!
//! Source of the table: the trade sheet, section 3, "Sag": rule and model both computed for this project, the model
//! by an independent plate model (recomputed). Shelf 23/32 x 11 13/16, G 0.075, strip 3/4 thick, E 1.58 million
//! psi, 35 lb/ft, first-day sag in inches.

use super::prints;
use scantling::mechanics::Units;
use scantling::mechanics::shelf::{OutsideFit, Rear, Shelf, Stiffened, Stiffener};

/// A row of the table: span, strip, cleat, screwed, E in million psi, model front and rear, rule front and rear.
pub type Row = (f64, Option<f64>, Option<f64>, bool, f64, f64, f64, &'static str, &'static str);

pub const TABLE: [Row; 12] = [
    (24.0, None, None, false, 0.95, 0.0363, 0.0363, "0.0363", "0.0363"),
    (24.0, Some(1.5), Some(2.5), true, 0.95, 0.0101, 0.0008, "0.0117", "0.0000"),
    (30.0, Some(1.5), None, false, 0.95, 0.0278, 0.0829, "0.0276", "0.0857"),
    (30.0, Some(1.5), Some(2.5), false, 0.95, 0.0225, 0.0050, "0.0260", "0.0064"),
    (36.0, Some(1.5), None, false, 0.95, 0.0612, 0.1562, "0.0600", "0.1616"),
    (36.0, Some(1.5), Some(2.5), false, 0.95, 0.0435, 0.0101, "0.0500", "0.0123"),
    (36.0, Some(1.5), Some(2.5), true, 0.95, 0.0445, 0.0009, "0.0489", "0.0000"),
    (36.0, None, Some(2.5), true, 0.95, 0.1375, 0.0009, "0.1459", "0.0000"),
    (36.0, Some(1.5), None, false, 1.80, 0.0405, 0.0975, "0.0403", "0.0995"),
    (42.0, Some(2.0), Some(2.5), true, 1.80, 0.0352, 0.0007, "0.0381", "0.0000"),
    (48.0, Some(1.0), None, false, 0.95, 0.3996, 0.5055, "0.4016", "0.5128"),
    (48.0, Some(2.5), Some(2.5), false, 0.95, 0.0368, 0.0306, "0.0420", "0.0334"),
];

/// The shelf of a row.
pub fn shelf(
    span: f64,
    strip: Option<f64>,
    cleat: Option<f64>,
    screwed: bool,
    million_psi: f64,
) -> Stiffened {
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
fn the_rule_gives_the_printed_table() {
    for (span, strip, cleat, screwed, million_psi, _, _, front, rear) in TABLE {
        let sag = shelf(span, strip, cleat, screwed, million_psi).sag();
        let row = format!("{span} {strip:?} {cleat:?} {screwed} {million_psi}");
        prints(&row, sag.front, 4, front);
        prints(&row, sag.rear, 4, rear);
    }
}

/// "There the worse edge is 1.00 to 1.24 x the plate model": so it is in every row, to the printed digits.
#[test]
fn the_worse_edge_is_on_the_safe_side_of_the_plate_model() {
    for (span, strip, cleat, screwed, million_psi, front, rear, _, _) in TABLE {
        let stiffened = shelf(span, strip, cleat, screwed, million_psi);
        let share = stiffened.sag().worse() / f64::max(front, rear);
        assert!((0.999..=1.24).contains(&share), "{span} {strip:?} {cleat:?}: {share}");
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
