//! Plane geometry: standing up, turning and tilting, and the ways in.

use super::{RECOMPUTED, SEEN, near, prints};
use scantling::mechanics::carry::{Attitude, Door, Hall, Landing, Stair};
use scantling::mechanics::corner::{Corner, longest_rod};
use scantling::mechanics::standing::{Ceiling, diagonal, tallest};
use scantling::mechanics::tilt::{longest_in, tilt_in};

/// Source: plane geometry, sqrt(h^2 + d^2).
#[test]
fn standing_up_under_a_level_ceiling() {
    let rows = [
        ("tilt 84x12", 84.0, 12.0, 84.852814),
        ("tilt 93x12", 93.0, 12.0, 93.770998),
        ("tilt 95x12", 95.0, 12.0, 95.754895),
        ("tilt 90x24", 90.0, 24.0, 93.145048),
    ];
    for (id, height, depth, clearance) in rows {
        near(id, RECOMPUTED, diagonal(height, depth), clearance, 0.0, 1e-6);
        near(id, RECOMPUTED, Ceiling::level(96.0).needed(height, depth), clearance, 0.0, 1e-6);
    }
    let rows = [("tilt max 96 12", 96.0, 12.0, 95.247047), ("tilt max 93.5 12.75", 93.5, 12.75, 92.626603)];
    for (id, ceiling, depth, height) in rows {
        near(id, RECOMPUTED, tallest(ceiling, depth).expect("stands"), height, 0.0, 1e-6);
        let sloped = Ceiling::level(ceiling).tallest(depth).expect("stands");
        near(id, RECOMPUTED, sloped, height, 0.0, 1e-6);
    }
    assert_eq!(tallest(10.0, 12.0), None);
    assert_eq!(Ceiling::level(10.0).tallest(12.0), None);
}

/// The highest point over a swung box, found by trying every hundredth of a degree, against the formula.
#[test]
fn standing_up_under_a_sloped_ceiling() {
    let swept = |ceiling: &Ceiling, height: f64, depth: f64| {
        let over = |x: f64, z: f64| z - x * ceiling.slope.tan();
        (0..=9000)
            .map(|step| f64::from(step).to_radians() / 100.0)
            .map(|turn| {
                let (sin, cos) = turn.sin_cos();
                over(height * cos, height * sin)
                    .max(over(height * cos - depth * sin, height * sin + depth * cos))
                    .max(over(-depth * sin, depth * cos))
            })
            .fold(0.0, f64::max)
    };
    for slope in [-60.0, -30.0, -10.0, 0.0, 5.0, 12.0, 30.0, 45.0_f64] {
        let ceiling = Ceiling { height: 96.0, slope: slope.to_radians() };
        for (height, depth) in [(84.0, 12.0), (60.0, 24.0), (20.0, 30.0)] {
            let needed = ceiling.needed(height, depth);
            near("sloped ceiling, swept", RECOMPUTED, swept(&ceiling, height, depth), needed, 0.0, 1e-6);
        }
        let most = ceiling.tallest(12.0).expect("something stands");
        near("sloped ceiling, inverse", RECOMPUTED, ceiling.needed(most, 12.0), 96.0, 0.0, 1e-9);
    }
    // Steep and rising to where the top lay: the standing box's front edge is the worst, c - D tan.
    let steep = Ceiling { height: 96.0, slope: 45.0_f64.to_radians() };
    near("steep ceiling", RECOMPUTED, steep.tallest(12.0).expect("stands"), 84.0, 0.0, 1e-9);
}

/// Source: (a^(2/3) + b^(2/3))^(3/2).
#[test]
fn rods_round_a_corner() {
    let rows = [
        ("rod 3x4", 3.0, 4.0, 9.8656626, 1e-6),
        ("rod 8x27", 8.0, 27.0, 46.872167, 1e-6),
        ("rod 36x36", 36.0, 36.0, 101.82338, 1e-6),
        ("rod 32x48", 32.0, 48.0, 112.37572, 1e-6),
        ("rod wrong answer", 5.8, 8.73, 20.40792, 1e-5),
    ];
    for (id, a, b, length, rel) in rows {
        near(id, RECOMPUTED, longest_rod(a, b), length, 0.0, rel);
        let thin = Corner { entry: a, exit: b }.longest(0.0).expect("a rod is thin");
        near(id, RECOMPUTED, thin, length, 0.0, rel);
    }
    // b = (29^(2/3) - 8^(2/3))^(3/2) = 12.685: a pole of 29 ft round a corner of 8 ft.
    let pole = Corner { entry: 12.685, exit: 8.0 }.longest(0.0).expect("a rod is thin");
    near("rod published 29ft", SEEN, pole, 29.0, 0.001, 0.0);
    let lifted = Corner { entry: 3.0, exit: 4.0 }.longest_lifted(0.0, 0.0, 8.0).expect("a rod is thin");
    near("rod with ceiling", RECOMPUTED, lifted, 12.701626, 0.0, 1e-6);
}

/// Source: least over t of (a sin t + b cos t - w) / (sin t cos t); equal corridors: 2 (sqrt2 a - w).
#[test]
fn boxes_round_a_corner() {
    let rows = [
        ("rect 36x36 12", 36.0, 36.0, 12.0, 77.82338),
        ("rect 36x42 12", 36.0, 42.0, 12.0, 86.15499),
        ("rect 36x36 11.25", 36.0, 36.0, 11.25, 79.32338),
        ("rect 42x42 24", 42.0, 42.0, 24.0, 70.79394),
    ];
    for (id, entry, exit, width, length) in rows {
        let corner = Corner { entry, exit };
        near(id, RECOMPUTED, corner.longest(width).expect("enters"), length, 0.0, 1e-5);
        let back = Corner { entry: exit, exit: entry };
        near(id, RECOMPUTED, back.longest(width).expect("enters"), length, 0.0, 1e-5);
    }
    let narrow = Corner { entry: 11.0, exit: 90.0 };
    assert_eq!(narrow.longest(12.0), None);
    // As wide as the corridors: it turns only if short, and is moved on sideways if it fits across.
    let tight = Corner { entry: 36.0, exit: 36.0 };
    let turned = 2.0 * (36.0 * 2.0_f64.sqrt() - 36.0);
    near("turned", RECOMPUTED, tight.longest(36.0).expect("enters"), turned, 0.0, 1e-9);
    near("sideways", RECOMPUTED, tight.longest_past(36.0).expect("enters"), 36.0, 0.0, 0.0);
}

/// How long a box of length `l` and height `h` lies in plan, lifted at one end until its upper corner is `c` high.
fn lifted_plan(l: f64, h: f64, c: f64) -> f64 {
    let lift = (c / l.hypot(h)).asin() - h.atan2(l);
    l * lift.cos() + h * lift.sin()
}

/// Lifted at one end until its upper corner is at the ceiling: l sin a + h cos a = 2.5 with l 4.3, h 0.2, so the plan is l cos a + h sin a
/// = 3.722 long; between equal corridors it turns at 45 degrees, (3.722 / 2 + 0.07) / sqrt 2 = 1.365 (recomputed).
#[test]
fn a_box_lifted_at_one_end() {
    let equal = (lifted_plan(4.3, 0.2, 2.5) / 2.0 + 0.07) / 2.0_f64.sqrt();
    near("box lifted corner", RECOMPUTED, equal, 1.36514, 0.0, 1e-5);
    let corner = Corner { entry: 1.36514, exit: 1.36514 };
    near(
        "box lifted corner",
        RECOMPUTED,
        corner.longest_lifted(0.07, 0.2, 2.5).expect("fits"),
        4.3,
        0.0,
        1e-5,
    );
    assert!(Corner { entry: 1.5, exit: 1.5 }.longest_lifted(0.07, 0.2, 2.5).expect("fits") > 4.3);
}

/// On edge round a corner of 36 in halls a unit 12 deep may be 2 (36 sqrt 2 - 12) = 77.8 long. A shelf of 27 7/8 with a strip of
/// 1 1/4 goes through an opening of 26 1/2 where 27.875 cos a + 1.25 sin a = 26.5: a = 20.6 degrees, and takes 27.875 sin a +
/// 1.25 cos a = 11.0 of height, 11 1/8 up to the next eighth.
#[test]
fn a_unit_round_a_corner_and_a_shelf_through_an_opening() {
    let hall = Hall { corner: Corner { entry: 36.0, exit: 36.0 }, ceiling: 96.0 };
    let on_edge = hall.tallest_unit(Attitude::OnEdge, 32.0, 12.0).expect("enters");
    prints("on edge", on_edge, 0, "78");
    let tilt = tilt_in(27.875, 1.25, 26.5).expect("goes in");
    prints("tilt, degrees", tilt.angle.to_degrees(), 0, "21");
    near("tilt, up to the next eighth", RECOMPUTED, (tilt.headroom * 8.0).ceil() / 8.0, 11.125, 0.0, 0.0);
    let longest = longest_in(26.5, tilt.headroom, 1.25).expect("goes in");
    near("tilt, inverse", RECOMPUTED, longest, 27.875, 0.0, 1e-9);
    assert!(
        tilt.levelling_width > 27.875 && tilt.levelling_width < 28.0,
        "an eighth is enough to lay it level"
    );
}

#[test]
fn a_shelf_that_need_not_or_cannot_tilt() {
    let level = tilt_in(26.0, 1.25, 26.5).expect("goes in");
    near("level", RECOMPUTED, level.headroom, 1.25, 0.0, 0.0);
    assert_eq!(tilt_in(30.0, 27.0, 26.5), None);
    // A short, high piece goes in standing: never more room than its own length.
    let standing = tilt_in(10.0, 8.0, 9.0).expect("goes in");
    near("standing", RECOMPUTED, standing.headroom, 10.0, 0.0, 0.0);
}

/// Four ways of carrying one unit, 86 1/2 x 32 1/4 x 11 13/16 in, round a corner of two 36 in halls.
#[test]
fn ways_of_carrying() {
    let hall = Hall { corner: Corner { entry: 36.0, exit: 36.0 }, ceiling: 96.0 };
    let tall = |attitude| hall.tallest_unit(attitude, 32.25, 11.8125).expect("enters");
    near(
        "flat, 2 (sqrt2 a - w)",
        RECOMPUTED,
        tall(Attitude::Flat),
        2.0 * (36.0 * 2.0_f64.sqrt() - 32.25),
        0.0,
        1e-9,
    );
    near("on edge", RECOMPUTED, tall(Attitude::OnEdge), 2.0 * (36.0 * 2.0_f64.sqrt() - 11.8125), 0.0, 1e-9);
    near("upright", RECOMPUTED, tall(Attitude::Upright), 96.0, 0.0, 0.0);
    // As high as the ceiling it is not stood on end: its diagonal is sqrt(96^2 + 32.25^2) = 101.3. Lifted it passes at a slant: 93.6 long,
    // asin(96 / 99.0) - atan(32.25 / 93.6) = 56.9 degrees up it lies over 93.6 cos + 32.25 sin = 78.2, as long as passes on edge.
    prints("lifted", tall(Attitude::Lifted), 1, "93.6");
    let level = lifted_plan(tall(Attitude::Lifted), 32.25, 96.0);
    near("lifted", RECOMPUTED, level, tall(Attitude::OnEdge), 0.0, 1e-9);
    // A narrower one is longer than the ceiling is high.
    let narrow = hall.tallest_unit(Attitude::Lifted, 16.0, 11.8125).expect("enters");
    near("lifted at a slant", RECOMPUTED, lifted_plan(narrow, 16.0, 96.0), tall(Attitude::OnEdge), 0.0, 1e-9);
    assert!(narrow > 96.0);
    let low = Hall { ceiling: 30.0, ..hall };
    assert_eq!(low.tallest_unit(Attitude::OnEdge, 32.25, 11.8125), None);
    assert_eq!(low.tallest_unit(Attitude::Lifted, 32.25, 11.8125), None);
    let tight = Hall { corner: Corner { entry: 31.0, exit: 36.0 }, ceiling: 96.0 };
    assert_eq!(tight.tallest_unit(Attitude::Flat, 32.25, 11.8125), None);
}

#[test]
fn through_a_door() {
    let door = Door { width: 30.0, height: 80.0 };
    assert!(door.passes(32.25, 11.8125), "on edge, width upright");
    assert!(!door.passes(86.5, 81.0));
    near("deep units stand", RECOMPUTED, door.widest(11.8125).expect("goes in"), 80.0, 0.0, 1e-12);
    // A thin panel leans: the widest passes and a hair more does not.
    let widest = door.widest(1.5).expect("goes in");
    assert!(widest > 80.0 && door.passes(widest - 1e-6, 1.5) && !door.passes(widest + 1e-6, 1.5));
}

#[test]
fn up_a_stair() {
    let stair = Stair {
        width: 36.0,
        rise: 7.75,
        going: 10.0,
        headroom: 80.0,
        landing: Landing::Quarter { onward: 36.0 },
        landing_ceiling: 96.0,
    };
    near(
        "headroom square to the slope",
        RECOMPUTED,
        stair.flight_clearance(),
        80.0 * 10.0 / 7.75_f64.hypot(10.0),
        0.0,
        1e-12,
    );
    let quarter = stair.tallest_unit(16.0, 11.8125).expect("goes up");
    let corner = Corner { entry: 36.0, exit: 36.0 };
    near(
        "quarter turn",
        RECOMPUTED,
        quarter,
        corner.longest_lifted(11.8125, 16.0, 96.0).expect("turns"),
        0.0,
        1e-12,
    );
    let half = Stair { landing: Landing::Half { depth: 32.0, onward: 36.0 }, ..stair };
    assert!(half.tallest_unit(16.0, 11.8125).expect("goes up") < quarter);
    assert_eq!(stair.tallest_unit(64.0, 11.8125), None, "higher than the flight's clearance");
}
