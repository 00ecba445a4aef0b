//! Layouts of the projects: the sewing room (A) and the alcoves (B), and every layout against the verifier, which shares nothing with the
//! planner.

use crate::sawn::{EXAMPLES, saw_boards, saw_sheets};
use crate::{compiled, compiled_text};
use proptest::prelude::*;
use scantling::breakdown::{
    BoardPlan, Effort, Ride, SheetWork, Source, SpareRoom, board_works, ride, sheet_works, stick_works,
    substitutes,
};
use scantling::compile::Compilation;
use scantling::cutting::{Pattern, verify, verify_bars};
use scantling::document::{Drawing, typeset};
use scantling::render::stacked;
use scantling::sheets::{Output, sheet};
use std::collections::BTreeMap;

const A: &str = "examples/sewing-room/sewing_room.scant";
const B: &str = "examples/alcove-pair/alcove_pair.scant";

fn works(compilation: &Compilation, effort: Effort) -> Vec<SheetWork> {
    sheet_works(&compilation.model, &compilation.graph, effort)
}

fn output(compilation: &Compilation, name: &str) -> Output {
    (sheet(name).unwrap().make)(compilation.subject(Effort::Quick))
}

/// Every plan of a project holds by the verifier; gives how many plans there were.
fn all_hold(compilation: &Compilation, effort: Effort) -> usize {
    let (model, graph) = (&compilation.model, &compilation.graph);
    let mut plans = 0;
    for work in works(compilation, effort) {
        let plan = work.plan.as_ref().unwrap();
        assert_eq!(verify(&work.job, plan), [], "{}", work.job.parts.len());
        plans += 1;
    }
    for work in board_works(model, graph, effort).into_iter().chain(stick_works(model, graph, effort)) {
        match &work.plan {
            Some(BoardPlan::Ripped(job, Ok(plan))) => assert_eq!(verify(job, plan), []),
            Some(BoardPlan::Cut(job, Ok(plan))) => assert_eq!(verify_bars(job, plan), []),
            Some(_) => panic!("{:?}", work.problem()),
            None => continue,
        }
        plans += 1;
    }
    plans
}

#[test]
fn the_sewing_room_takes_six_sheets_and_cannot_take_five() {
    // Step 7 of the working in the sewing room's README: 6 sheets; cleats from 1x3 boards (61.6 ft) leave 5; two spare shelves in the shelf rips.
    let a = compiled(A);
    for effort in [Effort::Quick, Effort::Normal] {
        let work = works(&a, effort).remove(0);
        let plan = work.plan.as_ref().unwrap();
        assert_eq!((work.bought(plan), plan.bound.cost, plan.proven()), (6, 6, true));
        assert_eq!(
            work.proof(&a.model, plan),
            "6 sheets; no layout of rips and crosscuts in either order, with trims, does it in 5"
        );
        // Three fences and three stops, which is as few as there are widths and lengths.
        assert_eq!((plan.rip_settings, plan.crosscut_settings), (3, 3));
        let shelf = work.rows.iter().position(|row| row.what == "shelf").unwrap();
        assert_eq!(work.spare_room(plan, shelf).in_rips, 2);
        let found = substitutes(&work, plan);
        let said: Vec<String> = found.iter().map(|found| found.words(&a.model, "ply")).collect();
        assert_eq!(
            said[0],
            "cleats from 1x3 boards (~61.6 ft): 5 sheets of `ply` in place of 6, 68.00 USD less for sheets"
        );
        assert_eq!((found[0].sheets, found[0].fewer), (5, 1));
    }
}

#[test]
fn a_sheet_offers_its_least_size_less_one_skim() {
    // By the working in their READMEs: 47 13/16 x 95 13/16 and 1213.5 x 2433.5.
    for (file, offered) in [(A, [47.8125 * 25.4, 95.8125 * 25.4]), (B, [1213.5, 2433.5])] {
        let work = works(&compiled(file), Effort::Quick).remove(0);
        let (length, width) = work.job.sheets[0].usable();
        let mm = [width, length].map(|units| work.scale.length(units).to_mm_f64());
        assert!((mm[0] - offered[0]).abs() < 1e-9 && (mm[1] - offered[1]).abs() < 1e-9, "{mm:?}");
    }
}

#[test]
fn the_alcoves_take_three_sheets_without_a_spare_shelf() {
    // The working in the alcoves' README: 3 sheets, the third used over 1087 (a kerf after the last rip with it), no spare shelf.
    let b = compiled(B);
    let work = works(&b, Effort::Normal).remove(0);
    let plan = work.plan.as_ref().unwrap();
    assert_eq!((work.bought(plan), plan.proven()), (3, true));
    for (place, row) in work.rows.iter().enumerate().filter(|(_, row)| row.what == "shelf") {
        assert_eq!(work.spare_room(plan, place), SpareRoom::default(), "{}", row.length.to_mm_f64());
    }
    let (used, _) = work.least_used(plan).unwrap();
    assert!((used.to_mm_f64() - 1084.0).abs() < 1e-9, "{}", used.to_mm_f64());
    assert!(substitutes(&work, plan).is_empty());
    assert!(work.with_spares(1, Effort::Normal).unwrap().sheets == 4);
}

#[test]
fn notes_say_what_saves_a_sheet_and_where_no_spare_fits() {
    for (file, message, help) in [
        (A, "one of the 6 sheets of `ply` is used over", "cleats from 1x3 boards (~61.6 ft): 5 sheets"),
        (B, "no spare shelf fits on the 3 sheets of `birch`", "then it is 4 sheets"),
    ] {
        let compilation = compiled(file);
        let note =
            compilation.diagnostics.iter().find(|diagnostic| diagnostic.code.slug == "sheets").unwrap();
        assert!(note.message.starts_with(message), "{}", note.message);
        assert!(note.help.iter().any(|line| line.contains(help)), "{:?}", note.help);
    }
    let spares = "project { spares = 1 }\n";
    let b = compiled_text(&format!(
        "{spares}sheet ply {{ thickness = 18mm, size = 2440mm x 1220mm }}\nstick s {{ floor = 80mm, top = 1000mm }}\n\
         carcass a {{ shelves = s, width = 600mm, height = 1200mm, depth = 300mm }}\n"
    ));
    let work = works(&b, Effort::Quick).remove(0);
    let shelf = work.rows.iter().find(|row| row.what == "shelf").unwrap();
    assert_eq!((shelf.names.len(), shelf.spares, shelf.count()), (2, 1, 3));
    assert_eq!(verify(&work.job, work.plan.as_ref().unwrap()), []);
}

/// A project in which all that concerns buying is stated.
fn yard() -> Compilation {
    compiled_text(
        r#"
project "Hall" { marks = 1mm }
sheet ply "birch plywood" {
  size = 2440mm x 1220mm
  price = 80 EUR
  skim = 3mm
  on_hand = 1
  sold half { size = 1220mm x 1220mm, price = 45 EUR }
  offcut shed { size = 1300mm x 320mm, count = 2 }
  lot first { thickness = 18mm }
  lot second { thickness = 17.4mm, count = 2 }
}
board oak { thickness = 20mm, width = 145mm, lengths = [2.4m, 3m], price = 9 EUR/m }
screw long { length = 80mm, box = 20, price = 7.50 EUR }
saw table { kerf = 3mm }
vehicle { length = 2.5m, width = 900mm }
stick s { floor = 80mm, middle = 700mm, top = 1300mm }
each carcass { stock = ply, height = 1500mm, depth = 300mm, shelves = s, cleat { height = 60mm } }
carcass a { width = 800mm }
carcass b { width = 800mm, lot = first }
carcass c { width = 800mm, lot = second }
run hall {
  length = 1700mm
  unit one { stock = ply, width = 800mm, height = 1500mm, depth = 300mm, shelves = s }
  unit two { stock = ply, width = 800mm, height = 1500mm, depth = 300mm, shelves = s }
  facing { stock = oak, stile = 50mm, strip = 40mm, top_rail = 60mm }
}
"#,
    )
}

#[test]
fn lots_are_laid_out_apart_and_what_is_on_hand_goes_first() {
    let yard = yard();
    let errors: Vec<_> =
        yard.diagnostics.iter().filter(|d| d.severity == scantling::diag::Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    let works = works(&yard, Effort::Normal);
    let names: Vec<&str> = works.iter().map(|work| &*yard.graph.sheet(work.sheet).unwrap().name).collect();
    assert_eq!(names, ["ply", "ply.first", "ply.second"]);
    // Each lot holds the parts of its own carcass only.
    for (work, own) in works.iter().zip(["", "b.", "c."]) {
        let parts = work.rows.iter().flat_map(|row| &row.names);
        let of_lot = |name: &String| ["b.", "c."].into_iter().find(|lot| name.starts_with(lot)).unwrap_or("");
        assert!(parts.into_iter().all(|name| of_lot(name) == own));
        assert_eq!(verify(&work.job, work.plan.as_ref().unwrap()), []);
    }
    let ply = works[0].plan.as_ref().unwrap();
    let on_hand: u64 = ply.patterns.iter().map(|pattern| pattern.count).sum::<u64>() - works[0].bought(ply);
    assert!(on_hand >= 1, "a whole sheet and two offcuts are there");
    // A whole sheet is 80 EUR, the other size 45.
    let of_size = |name: &str| -> i128 {
        let own = ply.patterns.iter().filter(|pattern| {
            let stock = &works[0].stock[pattern.sheet];
            stock.source == Source::Bought && stock.name == name
        });
        own.map(|pattern| i128::from(pattern.count)).sum()
    };
    let bought: Vec<&str> =
        works[0].stock.iter().filter(|row| row.source == Source::Bought).map(|row| &*row.name).collect();
    assert_eq!(bought.len(), 2);
    let sum = 80 * of_size(bought[0]) + 45 * of_size(bought[1]);
    assert!(sum > 0);
    assert_eq!(works[0].money(ply), Some(sum.into()));
}

#[test]
fn sheets_that_do_not_fit_the_vehicle_are_ripped_at_the_yard() {
    let yard = yard();
    let work = &works(&yard, Effort::Normal)[1];
    let plan = work.plan.as_ref().unwrap();
    let vehicle = yard.model.shop.vehicle.unwrap();
    let raw = |pattern: &Pattern| work.scale.length(work.job.sheets[pattern.sheet].height).to_mm_f64();
    assert!(plan.patterns.iter().any(|pattern| raw(pattern) > 900.0));
    for pattern in plan.patterns.iter().filter(|pattern| raw(pattern) > 900.0) {
        let Ride::Cut(cuts, _) = ride(work, pattern, vehicle) else {
            panic!("it is too wide for the vehicle")
        };
        for (at, rips) in cuts {
            // The line lies at the end of a rip: the skim, so many rips and the kerfs between them.
            let rips = &pattern.rips[..rips];
            let kerfs = i64::try_from(rips.len() - 1).unwrap() * work.job.rules.kerf;
            let skim = work.job.sheets[pattern.sheet].trim.bottom;
            let expected = skim + kerfs + rips.iter().map(|rip| rip.width).sum::<i64>();
            assert_eq!(at, work.scale.length(expected));
            assert!(at.to_mm_f64() <= 900.0);
        }
    }
}

#[test]
fn shopping_adds_up_what_has_a_price() {
    let yard = yard();
    let json = output(&yard, "shopping").json.value();
    let rows = json["rows"].as_array().unwrap();
    let cost = |row: &serde_json::Value| {
        row["cost"].as_str().map(|cost| cost.strip_suffix(" EUR").unwrap().to_owned())
    };
    let hundredths: i64 =
        rows.iter().filter_map(cost).map(|cost| cost.replace('.', "").parse::<i64>().unwrap()).sum();
    assert!(hundredths > 0);
    assert_eq!(json["total"], format!("{}.{:02} EUR", hundredths / 100, hundredths % 100));
    // Oak by the length: 9 EUR/m.
    let oak = rows.iter().find(|row| row["what"].as_str().unwrap().starts_with("oak")).unwrap();
    let count: i64 = oak["count"].as_str().unwrap().parse().unwrap();
    let each = if oak["what"].as_str().unwrap().contains("2400") { 2160 } else { 2700 };
    assert_eq!(cost(oak).unwrap(), format!("{}.{:02}", count * each / 100, count * each % 100));
}

#[test]
fn every_layout_of_the_examples_holds() {
    for file in EXAMPLES {
        for effort in [Effort::Quick, Effort::Normal] {
            assert!(all_hold(&compiled(file), effort) >= 1, "{file}");
        }
    }
    let yard = yard();
    assert!(all_hold(&yard, Effort::Normal) >= 4);
    assert_eq!((saw_sheets(&yard, Effort::Normal), saw_boards(&yard, Effort::Normal)), (3, 1));
}

#[test]
fn drawings_name_every_piece_and_say_their_scale() {
    let a = compiled(A);
    let drawings = || (sheet("layouts").unwrap().draw.unwrap())(a.subject(Effort::Quick));
    let drawn = drawings();
    assert!(drawn.len() >= 3);
    let all = stacked(&drawn);
    let words =
        |drawing: &Drawing| -> Vec<String> { drawing.texts().map(|text| typeset(&text.says)).collect() };
    let said: Vec<String> = drawn.iter().flat_map(words).collect();
    for says in
        ["Sewing room, long wall, revision A", "scale 1:10", "grain,", "side", "86 1/2\"", "crosscut, stop"]
    {
        assert!(said.iter().any(|own| own.contains(&typeset(says))), "{says}");
    }
    let json = output(&a, "layouts").json.value();
    let patterns =
        json["groups"].as_array().unwrap().iter().flat_map(|group| group["patterns"].as_array().unwrap());
    for (pattern, drawing) in patterns.zip(&drawn) {
        let said = words(drawing);
        let mut labels: BTreeMap<String, usize> = BTreeMap::new();
        for piece in pattern["pieces"].as_array().unwrap() {
            let [what, width, length] = [&piece["what"], &piece["width"]["print"], &piece["length"]["print"]]
                .map(|says| says.as_str().unwrap());
            *labels.entry(typeset(&format!("{what} {width} x {length}"))).or_default() += 1;
        }
        for (label, count) in labels {
            assert_eq!(said.iter().filter(|own| **own == label).count(), count, "{label}");
        }
    }
    assert_eq!(all.matches("<svg").count(), drawn.len() + 1);
    // The same text gives the same bytes.
    assert_eq!(stacked(&drawings()), all);
}

/// A small project of random sizes.
fn project(widths: &[u32], depth: u32, grain: bool, kerf: u32) -> String {
    let grain = if grain { "length" } else { "none" };
    let units: String = widths
        .iter()
        .enumerate()
        .map(|(place, width)| {
            format!(
                "carcass c{place} {{ width = {width}mm, skip = [{}] }}\n",
                if place % 2 == 0 { "" } else { "two" }
            )
        })
        .collect();
    format!(
        "sheet ply {{ thickness = 18mm, size = 2440mm x 1220mm, skim = 3mm, grain = {grain} }}\n\
         saw table {{ kerf = {kerf}mm }}\nstick s {{ one = 80mm, two = 500mm, three = 900mm, four = 1500mm }}\n\
         each carcass {{ stock = ply, height = 2000mm, depth = {depth}mm, shelves = s, cleat {{ height = 60mm }}, stretcher bottom }}\n{units}"
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, rng_seed: prop::test_runner::RngSeed::Fixed(28), ..ProptestConfig::default() })]

    #[test]
    fn every_layout_of_any_project_holds(
        widths in prop::collection::vec(300_u32..1200, 1..6),
        depth in 150_u32..600,
        grain: bool,
        kerf in 0_u32..5,
    ) {
        let compilation = compiled_text(&project(&widths, depth, grain, kerf));
        prop_assert!(!compilation.has_errors());
        prop_assert_eq!(all_hold(&compilation, Effort::Quick), 1);
        prop_assert_eq!(saw_sheets(&compilation, Effort::Quick), 1);
    }
}

/// The messages of a project with one more line, without those of the checks.
fn told(file: &str, line: &str) -> Vec<(&'static str, String)> {
    let text = std::fs::read_to_string(crate::root().join(file)).unwrap();
    let compilation = compiled_text(&format!("{text}\n{line}\n"));
    let told = compilation.diagnostics.iter().filter(|told| !told.code.id.starts_with('C'));
    told.map(|told| (told.code.id, told.message.clone())).collect()
}

#[test]
fn sheets_and_cost_can_be_required() {
    // The sewing room takes 6 sheets at 68 USD; what is bought beside them is listed by `show shopping`.
    assert_eq!(told(A, "require project.sheets <= 6"), []);
    assert_eq!(told(A, "require project.cost >= 6 * 68 USD and project.cost < 1000 USD"), []);
    let six = "`project.sheets` is 6, not at most 5: the truck takes five".to_owned();
    assert_eq!(told(A, "require project.sheets <= 5 because \"the truck takes five\""), [("V018", six)]);
    let a = compiled(A);
    let sum = scantling::sheets::shopping(a.subject(Effort::Normal)).total.unwrap();
    let dear = format!("`project.cost` is {sum}, not at most 500.00 USD");
    assert_eq!(told(A, "require project.cost <= 500 USD"), [("V018", dear)]);
    // What has no price is said where the limit holds without it.
    let without =
        "this holds without the prices of `brad, 40 mm long` and 6 more things, which are not stated";
    assert_eq!(told(B, "require project.cost <= 500 GBP"), [("V052", without.to_owned())]);
    let near = told(A, "require project.sheet <= 5");
    assert_eq!(near, [("N003", "unknown measure `project.sheet`".to_owned())]);
}

#[test]
fn a_project_that_requires_no_layout_makes_none() {
    // More parts than the note looks at, and a requirement of another measure.
    let units: String = (0..40).map(|unit| format!("carcass c{unit}\n")).collect();
    let text = |line: &str| {
        format!(
            "sheet ply {{ thickness = 18mm, size = 2440mm x 1220mm }}\n\
             stick s {{ {} }}\n\
             each carcass {{ stock = ply, shelves = s, width = 700mm, height = 2300mm, depth = 300mm }}\n{units}{line}\n",
            (0..14).map(|shelf| format!("s{shelf} = {}mm", 80 + 150 * shelf)).collect::<Vec<_>>().join(", ")
        )
    };
    let without = compiled_text(&text("require c0.shelf.s0.length >= 600mm"));
    assert_eq!((without.graph.parts.len(), without.has_errors()), (640, false));
    assert!(!without.plans.are_made());
    assert!(compiled_text(&text("require project.sheets >= 1")).plans.are_made());
}

/// Of sheets without grain a spare shelf may lie either way: a rest of 1150 x 1189 takes two of 1156 x 413 less nothing else.
#[test]
fn a_spare_shelf_may_be_turned_where_there_is_no_grain() {
    // With a trim one sheet would do, and nothing would be left.
    let text = "sheet ply { thickness = 18mm, size = 2440mm x 1220mm, grain = none }\n\
                saw table { kerf = 3mm, cuts = [] }\n\
                stick s { floor = 80mm, low = 500mm, middle = 900mm }\n\
                carcass c { shelves = s, width = 1174mm, height = 1176mm, depth = 413mm }\n";
    let of = compiled_text(text);
    let work = works(&of, Effort::Normal).remove(0);
    let plan = work.plan.as_ref().unwrap();
    let shelf = work.rows.iter().position(|row| row.what == "shelf").unwrap();
    let room = work.spare_room(plan, shelf);
    assert!(room.in_rips + room.beside >= 2, "{room:?}");
}

/// Sums and prices beyond all reckoning are said so, and no sheet is taken for nothing because its price is too large.
#[test]
fn prices_out_of_range_are_no_bargain() {
    let odd = "sheet ply { thickness = 18mm, size = 2440mm x 1220mm, price = 80 1/999999999999989 EUR\n  \
               sold half { size = 1220mm x 1220mm, price = 41 1/999999999999947 EUR }\n}\n\
               glue white { spread = 5 m2/L, bottles = [1 L], prices = [9 1/999999999999961 EUR] }\n\
               nail brad { length = 40mm, box = 50, price = 9 1/999999999999937 EUR }\n\
               join shelf to side with dado { glue = white, nail = brad }\n\
               stick s { floor = 80mm, low = 500mm }\n\
               each carcass { shelves = s, width = 800mm, height = 1200mm, depth = 300mm }\ncarcass a\ncarcass b\n";
    let of = compiled_text(odd);
    assert_eq!(output(&of, "layouts").json.value()["groups"][0]["problem"], serde_json::Value::Null);
    let total = output(&of, "shopping").json.value()["total"].clone();
    // A sheet, a bottle and a box, each in whole cents: 80 + 9 + 9.
    assert_eq!(total, "98.00 EUR");
    let dear =
        odd.replace("80 1/999999999999989", "999999999999999e12").replace("41 1/999999999999947", "42");
    let of = compiled_text(&dear);
    let work = works(&of, Effort::Normal).remove(0);
    assert!(work.plan.is_err(), "{:?}", work.plan);
}

/// Four offcuts of oak are as wide as the strips: they go before what is bought.
#[test]
fn offcuts_of_a_board_are_used_first() {
    let text = "sheet ply { thickness = 18mm, size = 2440mm x 1220mm }\n\
                board oak { thickness = 20mm, lengths = [3m], price = 9 EUR/m\n  offcut short { size = 2000mm x 60mm, count = 4 }\n}\n\
                stick s { floor = 80mm, low = 500mm, middle = 900mm }\n\
                run r {\n  length = 900mm\n  end left { against = open }\n  end right { against = open }\n  \
                unit a { shelves = s, width = 900mm, height = 1300mm, depth = 300mm }\n  \
                facing { stock = oak, stile = 60mm, lap = 10mm, strip = 60mm }\n}\n";
    let of = compiled_text(text);
    let works = board_works(&of.model, &of.graph, Effort::Normal);
    let strips =
        works.iter().find(|work| work.width == scantling::quantity::Length::from_mm(60.into())).unwrap();
    let counts = strips.bought().unwrap();
    let bought: u64 = strips
        .lengths
        .iter()
        .zip(&counts)
        .filter(|(sold, _)| sold.on_hand.is_none())
        .map(|(_, count)| *count)
        .sum();
    assert_eq!(bought, 0, "{counts:?}");
    assert_eq!(saw_boards(&of, Effort::Normal), works.len());
}
