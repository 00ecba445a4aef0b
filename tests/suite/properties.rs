//! Properties that hold for all numbers and all carcasses, tried on many; the seeds are fixed.

use crate::compiled_text;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use scantling::diag::Severity;
use scantling::parts::{Contact, JointKind, PaintClass, PartId, Work};
use scantling::quantity::{Length, Marks, Rational, number};
use std::collections::BTreeSet;

pub fn runner(cases: u32) -> TestRunner {
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]))
}

#[test]
fn a_printed_length_is_read_back() {
    let marks = Marks::THIRTY_SECONDS;
    let strategy = (0_i128..20_000, 0_u32..6);
    runner(2000)
        .run(&strategy, |(n, power)| {
            let length = Length::from_inches(Rational::new(n, 1 << power)).unwrap();
            let printed = marks.print(length);
            prop_assert!(printed.is_exact());
            let text = printed.to_string();
            let back = number(text.strip_suffix('"').unwrap()).unwrap();
            prop_assert_eq!(Length::from_inches(back).unwrap(), length);
            Ok(())
        })
        .unwrap();
}

#[test]
fn rounding_is_at_most_half_a_mark_off() {
    let strategy = (-100_000_i128..100_000, 1_i128..2000);
    runner(2000)
        .run(&strategy, |(n, d)| {
            let length = Length::from_mm(Rational::new(n, d));
            for marks in [Marks::THIRTY_SECONDS, Marks::TENTHS] {
                let rounded = marks.round(length, scantling::quantity::Round::Nearest).unwrap();
                let off = rounded.checked_sub(length).unwrap();
                let half = marks.step().checked_div(Rational::from(2)).unwrap();
                // Ties go up, so the rounded one may lie half a mark above but not half a mark below.
                prop_assert!(off <= half && off > half.checked_mul(Rational::from(-1)).unwrap());
            }
            Ok(())
        })
        .unwrap();
}

#[test]
fn a_shelf_and_two_sides_close_with_the_unit() {
    let strategy = (100_i128..3000, 80_i128..480, 8_i128..64, 1_i128..4);
    runner(300)
        .run(&strategy, |(width, height, thickness, depth)| {
            let text = format!(
                "sheet ply {{ thickness = {thickness}/64\" }}\nstick s {{ floor = 1\" }}\n\
                 carcass a {{ shelves = s, width = {width}/16\", height = {height}/4\", depth = 11\" }}\n\
                 join shelf to side with dado {{ depth = {depth}/128\" }}\n"
            );
            let compilation = compiled_text(&text);
            // Some are sizes that nobody has, or fractions that nobody writes so; nothing is wrong with them.
            let doubted = compilation.diagnostics.iter().all(|told| told.code.slug == "unusual_value");
            prop_assert!(doubted && !compilation.has_errors(), "{:?}", compilation.diagnostics);
            let measures = compilation.graph.measures();
            let get = |path: &str| measures[path].length().unwrap().value;
            let (unit, shelf) = (get("a.width"), get("a.shelf.floor.length"));
            let hidden = get("a.side.left.thickness").checked_sub(get("a.shelf.floor.dado_depth")).unwrap();
            let closed = shelf.checked_add(hidden).unwrap().checked_add(hidden).unwrap();
            prop_assert_eq!(closed, unit);
            Ok(())
        })
        .unwrap();
}

#[test]
fn gaps_and_units_fill_the_run() {
    let strategy = (2_000_i128..200_000, 1_usize..9, 1_i128..400);
    runner(300)
        .run(&strategy, |(length, count, gap)| {
            let units = "  unit\n".repeat(count);
            let text = format!(
                "sheet ply {{ thickness = 18mm }}\nstick s {{ floor = 80mm }}\nrun r {{\n  length = {length}.5mm\n  \
                 end left {{ gap = {gap}mm }}\n  end right {{ gap = {gap}mm }}\n  \
                 each unit {{ shelves = s, width = rest to 5mm, height = 900mm, depth = 300mm }}\n{units}}}\n"
            );
            let compilation = compiled_text(&text);
            if compilation.has_errors() {
                // Nothing is left for a unit, or too little at its ends: all that can be wrong here, also because a gap or
                // a length is one that nobody has.
                let codes: Vec<_> = compilation.diagnostics.iter().map(|d| d.code.id).collect();
                prop_assert!(codes.iter().all(|code| ["L001", "L003", "C025", "V054"].contains(code)), "{:?}", codes);
                return Ok(());
            }
            let measures = compilation.graph.measures();
            let get = |path: &str| measures[path].length().unwrap().value;
            let sum = get("r.gap_left").checked_add(get("r.total_width")).unwrap();
            let sum = sum.checked_add(get("r.gap_right")).unwrap();
            prop_assert_eq!(sum, Length::from_mm(Rational::new(2 * length + 1, 2)));
            prop_assert_eq!(get("r.gap_left"), get("r.gap_right"));
            Ok(())
        })
        .unwrap();
}

/// Width, height, depth, shelves, what the units have, how many there are, which back.
pub(crate) type Shelved = (i128, i128, i128, usize, (bool, bool, bool, bool, bool, bool), (usize, usize));

/// Runs of units of any size, with cleats, tops, facings, stretchers, bays, loose shelves and backs, or without.
pub(crate) fn shelved() -> impl Strategy<Value = Shelved> {
    let has = any::<(bool, bool, bool, bool, bool, bool)>();
    (400_i128..1200, 600_i128..2400, 200_i128..400, 1_usize..6, has, (1_usize..4, 0_usize..4))
}

/// Such runs as texts.
pub fn runs() -> impl Strategy<Value = String> {
    shelved().prop_map(shelved_text)
}

/// Such a run as a text.
pub(crate) fn shelved_text((width, height, depth, shelves, has, (units, back)): Shelved) -> String {
    let (cleat, top, facing, stretcher, bays, loose) = has;
    let marks: String = (0..shelves)
        .map(|n| format!(" m{n} = {}mm,", 80 + n as i128 * (height - 160) / shelves as i128))
        .collect();
    let option = |is: bool, text: &str| if is { text.to_owned() } else { String::new() };
    format!(
        "board ash {{ thickness = 20mm }}\nsheet ply {{ thickness = 18mm }}\nsheet thin {{ thickness = 6mm }}\nstick s {{{marks} }}\n\
         run r {{\n  each unit {{ stock = ply, shelves = s, width = {width}mm, height = {height}mm, depth = {depth}mm{}{}{}{}{}{} }}\n{}{}}}\n",
        option(cleat, ", cleat { height = 30mm }"),
        option(top, ", top"),
        option(stretcher, ", stretcher bottom"),
        option(
            bays && shelves > 1,
            ", shelf m0 { bay one, bay two { shelf in_two { bay deep, bay deeper } } }"
        ),
        option(loose && shelves > 2, ", shelf m1 { adjustable { count = 1, pitch = 2mm, margin = 4mm } }"),
        [
            "",
            ", back { stock = thin }",
            ", back { stock = thin, set_in = 8mm }, join back to side with groove",
            ", back { stock = thin }, join back to side with butt",
        ][back],
        "  unit\n".repeat(units),
        option(facing, "  facing { stock = ash, stile = 45mm, strip = 30mm, bottom_rail = to_floor }\n"),
    )
}

#[test]
fn the_faces_of_every_part_are_a_partition() {
    runner(120)
        .run(&runs(), |text| {
            let compilation = compiled_text(&text);
            // A shelf too long to be tilted in between its stiles has faces all the same.
            let errors = || compilation.diagnostics.iter().filter(|told| told.severity == Severity::Error);
            prop_assert!(
                errors().all(|told| told.code.slug == "loose_shelf"),
                "{:?}\n{}",
                compilation.diagnostics,
                text
            );
            let faces = compilation.graph.faces().unwrap();
            prop_assert_eq!(faces.surfaces.len(), compilation.graph.parts.len());
            for surface in &faces.surfaces {
                let [x, y, z] = surface.solid.map(|[low, high]| high - low);
                for (axis, area) in [(0, y * z), (1, x * z), (2, x * y)] {
                    for outward in [false, true] {
                        let patches: Vec<_> = surface
                            .patches
                            .iter()
                            .filter(|p| p.axis == axis && p.outward == outward)
                            .collect();
                        prop_assert_eq!(patches.iter().map(|patch| patch.ticks()).sum::<i128>(), area);
                        // No two rectangles share an area.
                        for (i, a) in patches.iter().enumerate() {
                            for b in patches.iter().skip(i + 1) {
                                let apart = (0..2).any(|d| {
                                    a.sides[d][1] <= b.sides[d][0] || b.sides[d][1] <= a.sides[d][0]
                                });
                                prop_assert!(apart, "{a:?} {b:?}");
                            }
                        }
                    }
                }
            }
            // Both sides of a touch agree; of a housing, the host shows the mouth and the guest what stands in it.
            let mut met: std::collections::BTreeMap<(PartId, PartId), i128> =
                std::collections::BTreeMap::new();
            for surface in &faces.surfaces {
                for patch in &surface.patches {
                    if let Contact::Glued(other) | Contact::Butted(other) = patch.contact {
                        *met.entry((surface.part, other)).or_default() += patch.ticks();
                    }
                }
            }
            let role = |id: PartId| compilation.graph.part(id).unwrap().role;
            let housed: BTreeSet<(PartId, PartId)> = compilation
                .graph
                .joints
                .iter()
                .filter(|joint| !matches!(joint.kind, JointKind::Butt))
                .flat_map(|joint| [(joint.host, joint.guest), (joint.guest, joint.host)])
                .collect();
            let housing = |a: PartId, b: PartId| housed.contains(&(a, b));
            for ((a, b), area) in &met {
                if !housing(*a, *b) {
                    prop_assert_eq!(Some(area), met.get(&(*b, *a)), "{:?} {:?}", role(*a), role(*b));
                }
            }
            // What the shelf list paints, glues and hides is all that the faces have.
            let all: i128 = faces.surfaces.iter().flat_map(|s| &s.patches).map(|patch| patch.ticks()).sum();
            let boxes: i128 = faces
                .surfaces
                .iter()
                .map(|s| {
                    let [x, y, z] = s.solid.map(|[low, high]| high - low);
                    2 * (x * y + y * z + x * z)
                })
                .sum();
            prop_assert_eq!(all, boxes);
            Ok(())
        })
        .unwrap();
}

#[test]
fn counts_by_unit_sum_to_counts_of_the_project() {
    for file in ["examples/sewing-room/sewing_room.scant", "examples/alcove-pair/alcove_pair.scant"] {
        let graph = crate::compiled(file).graph;
        let total: usize = graph.rows.iter().map(|row| row.count).sum();
        let of_unit = |path: &str| -> usize {
            let prefix = format!("{path}.");
            graph
                .rows
                .iter()
                .filter(|row| graph.called(row.guest).starts_with(&prefix))
                .map(|row| row.count)
                .sum()
        };
        let units: usize = graph.units.iter().map(|unit| of_unit(&unit.path)).sum();
        let prefixes: Vec<String> = graph.units.iter().map(|unit| format!("{}.", unit.path)).collect();
        let inside = |guest: &str| prefixes.iter().any(|prefix| guest.starts_with(prefix));
        let runs: usize =
            graph.rows.iter().filter(|row| !inside(graph.called(row.guest))).map(|row| row.count).sum();
        assert_eq!(units + runs, total);
        let measured: usize = graph
            .measures()
            .iter()
            .filter(|(path, _)| path.starts_with("hardware.") && path.ends_with(".count"))
            .map(|(_, measure)| match measure.value {
                scantling::parts::MeasureValue::Count(count, _) => count,
                _ => 0,
            })
            .sum();
        assert_eq!(measured, total);
    }
}

/// Floor readings at places whose distances are large primes give fractions without a common unit; what does not depend
/// on the floor keeps its area.
#[test]
fn odd_fractions_are_cut_as_well_as_even_ones() {
    let shelves = |at: &str, below: &str| {
        let text = format!(
            "room k {{\n  floor {{ at = [{at}], below = [{below}] }}\n  wall w {{ right = open\n    reading low {{ back = 3604.3mm, front = 3604.3mm }}\n  }}\n}}\n\
             sheet ply {{ thickness = 17.6mm }}\nstick s {{ low = 80mm, next = 400mm, high = 800mm }}\n\
             run r {{\n  along = k.w\n  each unit {{ shelves = s, width = rest, height = 900mm, depth = 300mm }}\n{}  \
             facing {{ stock = poplar, thickness = 20mm, stile = 45mm, strip = 30mm, bottom_rail = to_floor }}\n}}\n",
            "  unit\n".repeat(7)
        );
        let compilation = compiled_text(&text);
        assert!(!compilation.has_errors(), "{:?}", compilation.diagnostics);
        let faces = compilation.graph.faces().unwrap();
        let surfaces = compilation.graph.surfaces(faces, Work::Left).remove(0);
        let area = |class| scantling::quantity::decimal(surfaces.paint[&class], 2);
        [PaintClass::Shelves, PaintClass::Insides, PaintClass::OpenSides, PaintClass::HiddenBacks].map(area)
    };
    let even = shelves("0mm, 3600mm", "0mm, 0mm");
    let odd = shelves(
        "0mm, 613.7mm, 1291.1mm, 1987.3mm, 2711.9mm, 3299.3mm",
        "0mm, 1.3mm, 2.9mm, 3.7mm, 5.3mm, 7.1mm",
    );
    assert_eq!(even, odd);
}
