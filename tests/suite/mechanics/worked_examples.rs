//! The sewing room (A, inches) and the alcoves (B, millimetres): their sags, standing heights and floor loads.
//! Source: the working in the READMEs of `examples/sewing-room` and `examples/alcove-pair` (recomputed).

use super::{RECOMPUTED, near, prints};
use scantling::mechanics::floor::{FloorUse, footprint_load, line_load as wall_load};
use scantling::mechanics::sag::{
    FIRST_DAY_SPAN_OVER, LoadClass, SEEN_SPAN_OVER, YEARS_FACTOR, in_years, limit, line_load,
};
use scantling::mechanics::shelf::{EdgeSag, Rear, Shelf, Stiffened, Stiffener};
use scantling::mechanics::standing::{CLEARANCE_INCHES, diagonal, tallest};
use scantling::mechanics::{NEWTONS_PER_KILOGRAM, Units};

const INCH: Units = Units::INCH_POUND;
const METRIC: Units = Units::MILLIMETRE_NEWTON;

/// A's shelf with 3/4 in strips of poplar this high, a 2 1/2 in cleat of the sheet.
fn a(strip_height: f64) -> (Stiffened, f64, f64) {
    let (span, depth, thickness, modulus) = (30.8125, 11.8125, 0.71875, 0.95e6);
    let bare = line_load(LoadClass::Books, span, depth, 0.0, &INCH);
    let with_strip = line_load(LoadClass::Books, span, depth, 0.75, &INCH);
    let stiffened = Stiffened {
        shelf: Shelf { span, depth, thickness, modulus, twist_modulus: 0.075e6, line_load: with_strip },
        strip: Some(Stiffener { thickness: 0.75, height: strip_height, modulus: 1.58e6 }),
        rear: Rear::Screwed(Stiffener { thickness, height: 2.5, modulus }),
    };
    (stiffened, bare, with_strip)
}

fn loose(stiffened: &Stiffened) -> EdgeSag {
    let rear = stiffened.rear.cleat().map_or(Rear::Bare, |cleat| Rear::Cleat(*cleat));
    Stiffened { rear, ..*stiffened }.sag()
}

#[test]
fn sag_of_example_a() {
    let (built, bare, with_strip) = a(1.5);
    prints("step 11, load, bare, lb/ft", bare * 12.0, 1, "49.2");
    prints("step 11, load, strip, lb/ft", with_strip * 12.0, 1, "52.3");
    prints("step 10, a loaded shelf carries, lb", with_strip * built.shelf.span, 1, "134.4");
    let plain = Shelf { line_load: bare, ..built.shelf };
    prints("step 11, bare", plain.bare_sag(), 3, "0.139");
    let strip_only = Stiffened { rear: Rear::Bare, ..built }.sag();
    prints("step 11, strip, front", strip_only.front, 3, "0.046");
    prints("step 11, strip, rear", strip_only.rear, 3, "0.141");
    prints("step 11, strip and cleat, front", loose(&built).front, 3, "0.043");
    prints("step 11, strip and cleat, rear", loose(&built).rear, 3, "0.011");
    let sag = built.sag();
    prints("step 11, as built, front", sag.front, 3, "0.042");
    prints("step 11, as built, rear", sag.rear, 3, "0.000");
    prints("step 11, span over sag", built.shelf.span / sag.front, 0, "727");
    prints("step 11, limit of the first day", limit(built.shelf.span, FIRST_DAY_SPAN_OVER), 3, "0.214");
    prints("step 11, in years", in_years(sag.front, YEARS_FACTOR), 3, "0.085");
    prints("step 11, the eye's limit", limit(built.shelf.span, SEEN_SPAN_OVER), 3, "0.080");
    prints("step 11, strip 1 5/8, in years", in_years(a(1.625).0.sag().front, YEARS_FACTOR), 3, "0.071");
    prints("step 11, strip 2, in years", in_years(a(2.0).0.sag().front, YEARS_FACTOR), 3, "0.043");
    prints("step 11, bound, rigid", built.rigid_bound(), 3, "0.010");
    prints("step 11, bound, no glue", built.unglued_bound(), 3, "0.033");
    assert_eq!(built.outside_fit(&INCH), []);
}

/// B's shelves: clear length; bare, strip (front, rear), strip and cleat (front, rear), as built, years, limit.
#[test]
fn sag_of_example_b() {
    let rows = [
        (914.8, "3.09", ["0.89", "2.93"], ["0.82", "0.22"], "0.82", "1.63", "2.38"),
        (774.8, "1.59", ["0.44", "1.63"], ["0.45", "0.12"], "0.45", "0.90", "2.02"),
    ];
    for (span, bare, strip_only, with_cleat, built, years, eye) in rows {
        let (thickness, modulus) = (17.6, 8500.0);
        let line_load = 40.0 * NEWTONS_PER_KILOGRAM / 1000.0;
        let unit = Stiffened {
            shelf: Shelf { span, depth: 300.0, thickness, modulus, twist_modulus: 500.0, line_load },
            strip: Some(Stiffener { thickness: 20.0, height: 40.0, modulus: 10_900.0 }),
            rear: Rear::Screwed(Stiffener { thickness, height: 60.0, modulus }),
        };
        prints("B bare", unit.shelf.bare_sag(), 2, bare);
        let sag = Stiffened { rear: Rear::Bare, ..unit }.sag();
        prints("B strip, front", sag.front, 2, strip_only[0]);
        prints("B strip, rear", sag.rear, 2, strip_only[1]);
        prints("B strip and cleat, front", loose(&unit).front, 2, with_cleat[0]);
        prints("B strip and cleat, rear", loose(&unit).rear, 2, with_cleat[1]);
        let sag = unit.sag();
        prints("B as built, front", sag.front, 2, built);
        prints("B as built, rear", sag.rear, 2, "0.00");
        prints("B in years", in_years(sag.front, YEARS_FACTOR), 2, years);
        prints("B the eye's limit", limit(span, SEEN_SPAN_OVER), 2, eye);
        // A 20 mm strip is within the 18 to 22 mm that both plate models support.
        assert_eq!(unit.outside_fit(&METRIC), []);
    }
}

#[test]
fn standing_in_example_a() {
    let lowest = 88.375;
    prints("step 3, diagonal", diagonal(86.5, 11.8125), 3, "87.303");
    prints("step 3, under the ceiling", lowest - diagonal(86.5, 11.8125), 3, "1.072");
    prints(
        "step 3, tallest that stands",
        tallest(lowest - CLEARANCE_INCHES, 11.8125).expect("stands"),
        3,
        "87.077",
    );
    prints("step 10, diagonal of a face", diagonal(86.5, 32.25), 3, "92.316");
}

#[test]
fn standing_in_example_b() {
    prints("B, diagonal", diagonal(2100.0, 300.0), 1, "2121.3");
    prints("B, under the ceiling", 2385.0 - diagonal(2100.0, 300.0), 1, "263.7");
    let clearance = CLEARANCE_INCHES * METRIC.inch;
    // A limit is rounded to the safe side.
    let most = tallest(2385.0 - clearance, 300.0).expect("stands");
    prints("B, tallest that stands", (most * 10.0).floor() / 10.0, 1, "2353.2");
    prints("B diagonal of the left face", diagonal(2100.0, 950.0), 1, "2304.9");
    prints("B diagonal of the right face", diagonal(2100.0, 810.0), 1, "2250.8");
}

/// A: 3588 lb over four units of 32 1/4 in; B: 268.1 and 229.7 kg over 950 and 810 mm.
#[test]
fn floor_loads_of_both_examples() {
    let per_foot = wall_load(3588.0, 4.0 * 32.25) * 12.0;
    prints("step 10, lb per foot of wall", per_foot, 0, "334");
    assert!(
        (250.0..=350.0).contains(&per_foot),
        "common practice, no source: 250 to 350 lb per foot, full height"
    );
    prints("B left, kg per m of wall", wall_load(268.1, 0.950), 0, "282");
    prints("B right, kg per m of wall", wall_load(229.7, 0.810), 0, "284");
    let pressure = footprint_load(per_foot / 12.0, 12.5625) / FloorUse::Room.live_load(&INCH);
    near(
        "A: footprint over a room's live load",
        RECOMPUTED,
        pressure,
        334.0 / (12.5625 / 12.0) / 40.0,
        0.0,
        1e-3,
    );
}
