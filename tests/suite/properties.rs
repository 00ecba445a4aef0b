//! Properties that hold for all numbers and all carcasses, tried on many; the seeds are fixed.

use crate::compiled_text;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use scantling::quantity::{Length, Marks, Rational, number};

fn runner(cases: u32) -> TestRunner {
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
            prop_assert_eq!(&compilation.diagnostics, &[]);
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
                // Nothing is left for a unit: the only thing that can be wrong here.
                let codes: Vec<_> = compilation.diagnostics.iter().map(|d| d.code.id).collect();
                prop_assert!(codes.iter().all(|code| ["L001", "L003"].contains(code)), "{:?}", codes);
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
