//! Nails, screws and lag screws by the Wood Handbook.

use super::{RECOMPUTED, SEEN, near, prints};
use scantling::mechanics::Units;
use scantling::mechanics::fastener::{
    Driven, FULL_SCREW_PENETRATION, Fastener, Wood, lateral_coefficient, lateral_load, screw_diameter,
};

const INCH: Units = Units::INCH_POUND;
const METRIC: Units = Units::MILLIMETRE_NEWTON;

fn driven(specific_gravity: f64, diameter: f64, penetration: f64) -> Driven {
    Driven { specific_gravity, diameter, penetration }
}

/// Source: USDA FPL-GTR-282 (2021), Table 8-9; the inch rule 0.060 + 0.013 N is from memory and agrees.
#[test]
fn screw_sizes() {
    let rows = [
        ("screw gauge 6", 6, 0.138, "3.51"),
        ("screw gauge 8", 8, 0.164, "4.17"),
        ("screw gauge 10", 10, 0.19, "4.83"),
        ("screw gauge 14", 14, 0.242, "6.15"),
    ];
    for (id, gauge, inches, millimetres) in rows {
        near(id, SEEN, screw_diameter(gauge, &INCH), inches, 1e-9, 0.0);
        prints(id, screw_diameter(gauge, &METRIC), 2, millimetres);
    }
}

/// Source: USDA FPL-GTR-282 (2021), Wood Handbook, Eq. 8-10.
#[test]
fn withdrawal_constants() {
    let unit = driven(1.0, 1.0, 1.0);
    near("fastener constants", RECOMPUTED, unit.screw_withdrawal(&INCH), 15_700.0, 0.0, 0.0);
    // The handbook's metric form from memory: 108.25 N/mm2.
    near("fastener constants", RECOMPUTED, unit.screw_withdrawal(&METRIC), 108.25, 0.01, 0.0);
}

/// Sources: Wood Handbook (2021) Eq. 8-10: 15 700 G^2 D L, in pounds and inches.
#[test]
fn withdrawal_loads() {
    let screw = driven(0.42, 0.164, 1.5).screw_withdrawal(&INCH);
    near("withdraw screw 8 stud", RECOMPUTED, screw, 681.292, 0.0, 1e-4);
    let screw = driven(0.42, 0.19, 1.5).screw_withdrawal(&INCH);
    near("withdraw screw 10 stud", RECOMPUTED, screw, 789.302, 0.0, 1e-4);
    let screw = driven(0.63, 0.164, 0.75).screw_withdrawal(&INCH);
    near("withdraw screw 8 red oak", RECOMPUTED, screw, 766.454, 0.0, 1e-4);
}

/// The same fastener in two sets of units is as strong.
#[test]
fn withdrawal_does_not_depend_on_units() {
    let (inch, metric) = (driven(0.42, 0.25, 2.0), driven(0.42, 6.35, 50.8));
    let pairs = [
        (inch.screw_withdrawal(&INCH), metric.screw_withdrawal(&METRIC)),
        (
            lateral_load(Wood::Softwood, Fastener::Nail, 0.42, 0.25, &INCH).expect("in the table"),
            lateral_load(Wood::Softwood, Fastener::Nail, 0.42, 6.35, &METRIC).expect("in the table"),
        ),
    ];
    for (pounds, newtons) in pairs {
        near("one load in two units", RECOMPUTED, newtons / METRIC.pound, pounds, 0.0, 1e-9);
    }
}

/// Source: USDA FPL-GTR-282 (2021), Table 8-4, in N/mm^1.5 and N/mm2 (seen); the inch column is converted and equals
/// the remembered inch table.
#[test]
fn lateral_coefficients() {
    let rows = [
        ("k hardwood nail 42", Wood::Hardwood, Fastener::Nail, 0.42, 50.04, 1440.0),
        ("k hardwood nail 50", Wood::Hardwood, Fastener::Nail, 0.5, 69.5, 2000.0),
        ("k hardwood nail 63", Wood::Hardwood, Fastener::Nail, 0.63, 94.52, 2720.0),
        ("k softwood nail 42", Wood::Softwood, Fastener::Nail, 0.42, 50.04, 1440.0),
        ("k softwood nail 48", Wood::Softwood, Fastener::Nail, 0.48, 76.45, 2200.0),
        ("k hardwood screw 42", Wood::Hardwood, Fastener::WoodScrew, 0.42, 23.17, 3360.0),
        ("k hardwood screw 63", Wood::Hardwood, Fastener::WoodScrew, 0.63, 44.13, 6400.0),
        ("k softwood screw 50", Wood::Softwood, Fastener::WoodScrew, 0.5, 36.4, 5280.0),
        ("k softwood lag 42", Wood::Softwood, Fastener::LagScrew, 0.42, 23.3, 3380.0),
    ];
    for (id, wood, fastener, gravity, metric, inch) in rows {
        let k = lateral_coefficient(wood, fastener, gravity).expect("in the table");
        near(id, SEEN, k.millimetre_newton, metric, 0.0, 0.0);
        near(id, SEEN, k.inch_pound, inch, 1.0, 0.0);
    }
    assert_eq!(lateral_coefficient(Wood::Softwood, Fastener::Nail, 0.60), None);
    assert_eq!(lateral_coefficient(Wood::Hardwood, Fastener::Nail, 0.30), None);
}

/// The two columns of the table are one: every cell, also those from memory, converts within its last digits.
#[test]
fn lateral_columns_agree() {
    for (wood, gravities) in [(Wood::Hardwood, [0.40, 0.50, 0.60]), (Wood::Softwood, [0.40, 0.45, 0.50])] {
        for (fastener, exponent) in
            [(Fastener::Nail, 1.5), (Fastener::WoodScrew, 2.0), (Fastener::LagScrew, 2.0)]
        {
            for gravity in gravities {
                let k = lateral_coefficient(wood, fastener, gravity).expect("in the table");
                let converted = k.inch_pound * METRIC.pound / METRIC.inch.powf(exponent);
                near("Table 8-4", RECOMPUTED, k.millimetre_newton, converted, 0.005, 4e-4);
            }
        }
    }
}

/// Source: Wood Handbook (2021) Eqs. 8-2, 8-13, 8-15: p = K D^n, n 1.5 for nails and 2 for screws, K of Table 8-4.
#[test]
fn lateral_loads() {
    let rows = [
        ("lateral 8d in yellow poplar", Wood::Hardwood, Fastener::Nail, 0.42, 0.131, 68.2762),
        ("lateral no10 in a stud", Wood::Softwood, Fastener::WoodScrew, 0.42, 0.19, 121.296),
        ("lateral no8 in red oak", Wood::Hardwood, Fastener::WoodScrew, 0.63, 0.164, 172.134),
        ("lateral 5/16 in-Douglas fir", Wood::Softwood, Fastener::LagScrew, 0.48, 0.3125, 417.969),
    ];
    for (id, wood, fastener, gravity, diameter, load) in rows {
        let got = lateral_load(wood, fastener, gravity, diameter, &INCH).expect("in the table");
        near(id, RECOMPUTED, got, load, 0.0, 1e-4);
    }
}

/// Source: USDA FPL-GTR-282 (2021), text with Eq. 8-13.
#[test]
fn penetration() {
    near("fastener penetration", SEEN, FULL_SCREW_PENETRATION, 7.0, 0.0, 0.0);
}
