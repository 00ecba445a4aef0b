//! Moisture, movement and density by the Wood Handbook.

use super::{RECOMPUTED, SEEN, near, prints};
use scantling::mechanics::moisture::{INDOORS_CELSIUS, equilibrium_percent, movement};

/// Degrees Celsius of degrees Fahrenheit.
fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / 1.8
}

/// Source: Wood Handbook Eq. 4-5 (Hailwood-Horrobin) and Table 4-2. Two table cells were read, the others are
/// remembered; all of them agree with the equation.
#[test]
fn equilibrium_moisture_content() {
    let rows = [
        ("emc 30f 40rh", RECOMPUTED, 30.0, 40.0, 7.8932, 7.9),
        ("emc 30f 80rh", RECOMPUTED, 30.0, 80.0, 16.535, 16.5),
        ("emc 40f 65rh", RECOMPUTED, 40.0, 65.0, 12.349, 12.3),
        ("emc 50f 30rh", RECOMPUTED, 50.0, 30.0, 6.3052, 6.3),
        ("emc 60f 50rh", RECOMPUTED, 60.0, 50.0, 9.373, 9.4),
        ("emc 60f 80rh", RECOMPUTED, 60.0, 80.0, 16.211, 16.2),
        ("emc 70f 20rh", RECOMPUTED, 70.0, 20.0, 4.492, 4.5),
        ("emc 70f 30rh", RECOMPUTED, 70.0, 30.0, 6.1696, 6.2),
        ("emc 70f 40rh", SEEN, 70.0, 40.0, 7.699, 7.7),
        ("emc 70f 50rh", RECOMPUTED, 70.0, 50.0, 9.2423, 9.2),
        ("emc 70f 65rh", SEEN, 70.0, 65.0, 11.958, 12.0),
        ("emc 70f 80rh", RECOMPUTED, 70.0, 80.0, 15.989, 16.0),
        ("emc 80f 30rh", RECOMPUTED, 80.0, 30.0, 6.0614, 6.1),
        ("emc 90f 45rh", RECOMPUTED, 90.0, 45.0, 8.1374, 8.1),
        ("emc 100f 35rh", RECOMPUTED, 100.0, 35.0, 6.5115, 6.5),
        ("emc 100f 65rh", RECOMPUTED, 100.0, 65.0, 11.239, 11.2),
    ];
    for (id, how, fahrenheit, humidity, equation, table) in rows {
        let got = equilibrium_percent(celsius(fahrenheit), humidity / 100.0);
        near(id, how, got, equation, 0.01, 0.0);
        near(id, how, got, table, 0.06, 0.0);
    }
    near("indoors", RECOMPUTED, INDOORS_CELSIUS, celsius(70.0), 1e-12, 0.0);
    // By the same equation; an older table has 8.0 there (memory).
    near("emc 140f 55rh example", SEEN, equilibrium_percent(celsius(140.0), 0.55), 8.4, 0.05, 0.0);
}

/// Source: FPL-GTR-190 (2010), Eq. 13-2 and its worked example: a flatsawn white fir board, 8 to 11 per cent.
#[test]
fn worked_example_of_movement() {
    let change = movement(232.0, 0.00245, 8.0, 11.0);
    near("move handbook example", SEEN, change, 1.7, 0.01, 0.0);
    near("move handbook example", SEEN, 232.0 + change, 233.7, 0.02, 0.0);
    prints("handbook example, inches", movement(9.15, 0.00245, 8.0, 11.0), 3, "0.067");
}

/// Source: Wood Handbook Eq. 13-2 with Table 13-5.
#[test]
fn seasonal_movement() {
    let rows = [
        ("move case red oak flatsawn", 11.25, 0.00369, 6.0, 10.0, 0.16605),
        ("move case sugar maple flatsawn", 11.25, 0.00353, 6.0, 10.0, 0.15885),
        ("move case black cherry quartersawn", 11.25, 0.00126, 7.0, 11.0, 0.0567),
        ("move case black walnut flatsawn", 5.5, 0.00274, 6.0, 12.0, 0.09042),
    ];
    for (id, width, coefficient, from, to, change) in rows {
        near(id, RECOMPUTED, movement(width, coefficient, from, to), change, 0.0, 1e-6);
    }
    // A 5 in rail of yellow-poplar over 4 per cent.
    prints("a wide rail", movement(5.0, 0.0029, 6.0, 10.0), 3, "0.058");
}
