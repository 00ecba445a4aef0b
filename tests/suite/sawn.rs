//! Every layout that a project prints, sawn again: read from the JSON of `layouts` and `boards`, checked against the parts by
//! code that shares nothing with the planner, its verifier or its units.
//!
//! What must hold is what a saw can do: pieces lie on the sheet past the skim, a kerf apart; rips run the whole length and
//! are as wide as their pieces; every piece is the length of a crosscut; each step's setting is one that the pieces need.

use crate::{compiled, compiled_text};
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::parts::{Role, Stock};
use scantling::quantity::{Length, Rational};
use scantling::sheets::sheet;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// The projects of `examples/`.
pub(crate) const EXAMPLES: [&str; 6] = [
    "examples/sewing-room/sewing_room.scant",
    "examples/alcove-pair/alcove_pair.scant",
    "examples/back-hall/back_hall.scant",
    "examples/hall-bench/hall_bench.scant",
    "examples/study/study.scant",
    "examples/pantry/pantry.scant",
];

/// What a saw takes where none is stated, in millimetres: 1/8 in or 3 mm.
fn kerf(of: &Compilation) -> Rational {
    let usual = match of.model.project.marks.system() {
        scantling::quantity::System::Inch => Rational::new(254, 80),
        scantling::quantity::System::Metric => Rational::from(3),
    };
    of.model.shop.kerf.map_or(usual, |kerf| kerf.value.mm())
}

/// The exact millimetres of a length in JSON: `"501/16 in"`.
fn mm(length: &Value) -> Rational {
    let (number, unit) = length["exact"].as_str().unwrap().split_once(' ').unwrap();
    let number: Rational = number.parse().unwrap();
    if unit == "in" { number * Rational::new(127, 5) } else { number }
}

type Demand = BTreeMap<(String, String, Rational, Rational), u64>;

/// What is to be cut: stock, role, width and length as cut, with the spares.
fn demand(of: &Compilation, sheets: bool) -> Demand {
    let mut demand = Demand::new();
    let mut spared = BTreeSet::new();
    for part in &of.graph.parts {
        if matches!(part.stock, Stock::Sheet(_)) != sheets {
            continue;
        }
        let cut = part.cut();
        let stock = of.graph.stock_name(part.stock);
        let key = (stock, part.role.word().to_owned(), cut.width.value.mm(), cut.length.value.mm());
        if matches!(part.role, Role::Shelf | Role::Strip) && spared.insert(key.clone()) {
            *demand.entry(key.clone()).or_default() += of.model.project.spares as u64;
        }
        *demand.entry(key).or_default() += 1;
    }
    demand
}

fn json(of: &Compilation, name: &str, effort: Effort) -> Value {
    (sheet(name).unwrap().make)(of.subject(effort)).json.value()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

/// A piece on a sheet: from the left, from below, along and across the sheet.
type Placed = [Rational; 4];

/// Saws every sheet of `layouts`; gives how many groups there were.
pub(crate) fn saw_sheets(of: &Compilation, effort: Effort) -> usize {
    let (layouts, kerf) = (json(of, "layouts", effort), kerf(of));
    let mut cut = Demand::new();
    for group in list(&layouts["groups"]) {
        assert_eq!(group["problem"], Value::Null);
        let stock = group["stock"].as_str().unwrap();
        let grain = of.graph.sheets.iter().find(|sheet| *sheet.name == *stock).unwrap().grain;
        let mut sheets = 0;
        for pattern in list(&group["patterns"]) {
            let count = pattern["count"].as_u64().unwrap();
            assert_eq!(pattern["first"].as_u64(), Some(sheets + 1));
            sheets += count;
            for piece in list(&pattern["pieces"]) {
                let what = piece["what"].as_str().unwrap().to_owned();
                let key = (stock.to_owned(), what, mm(&piece["width"]), mm(&piece["length"]));
                *cut.entry(key).or_default() += count;
                assert!(!(grain && piece["turned"].as_bool().unwrap()), "across the grain: {piece}");
            }
            saw(pattern, kerf);
        }
        assert_eq!(sheets, group["buy"].as_u64().unwrap() + group["on_hand"].as_u64().unwrap());
    }
    assert_eq!(cut, demand(of, true));
    list(&layouts["groups"]).len()
}

/// Saws one sheet: rips along its length, then crosscuts.
fn saw(pattern: &Value, kerf: Rational) {
    let zero = Rational::from(0);
    let setting = |name: &str| -> Vec<Rational> {
        let steps = list(&pattern["steps"]).iter().filter(|step| step["cut"] == name);
        steps.map(|step| mm(&step["setting"])).collect()
    };
    let skim = setting("skim").first().copied().unwrap_or(zero);
    let [long, wide] = [0, 1].map(|side| mm(&pattern["least"][side]));
    let placed = list(&pattern["pieces"]).iter().map(|piece| {
        let [mut along, mut across] = [mm(&piece["length"]), mm(&piece["width"])];
        if piece["turned"] == true {
            std::mem::swap(&mut along, &mut across);
        }
        [mm(&piece["x"]), mm(&piece["y"]), along, across]
    });
    let placed: Vec<Placed> = placed.collect();
    let mut rips: BTreeMap<Rational, Vec<Placed>> = BTreeMap::new();
    for piece in &placed {
        let [x, y, along, across] = *piece;
        assert!(
            x >= skim && y >= skim && x + along <= long && y + across <= wide,
            "off the sheet: {piece:?}"
        );
        rips.entry(y).or_default().push(*piece);
    }
    // Rips lie over each other, a kerf apart, each as wide as all of its pieces.
    let (mut free, mut widths, mut lengths) = (skim, Vec::new(), BTreeSet::new());
    for (y, mut pieces) in rips {
        assert!(y >= free, "rips overlap at {y}");
        let width = pieces[0][3];
        free = y + width + kerf;
        if !widths.contains(&width) {
            widths.push(width);
        }
        pieces.sort();
        let mut end = skim;
        for [x, _, along, across] in pieces {
            assert_eq!(across, width, "a rip is ripped again");
            assert!(x >= end, "pieces overlap at {x}");
            end = x + along + kerf;
            lengths.insert(along);
        }
    }
    let (mut fences, mut stops) = (setting("rip"), setting("crosscut"));
    assert!(stops.windows(2).all(|pair| pair[0] > pair[1]), "longest first");
    for all in [&mut fences, &mut widths, &mut stops] {
        all.sort();
    }
    assert_eq!(fences, widths);
    assert_eq!(stops, lengths.into_iter().collect::<Vec<_>>());
}

/// Saws every board of `boards`; gives how many groups there were.
pub(crate) fn saw_boards(of: &Compilation, effort: Effort) -> usize {
    let (boards, kerf) = (json(of, "boards", effort), kerf(of));
    let mut groups = 0;
    // By stock, and by role and length as they are printed: what is needed of it, and how long it is.
    let mut needed: BTreeMap<(String, String), (u64, Rational)> = BTreeMap::new();
    for ((stock, what, _, length), count) in demand(of, false) {
        let says = format!("{what} {}", of.model.project.marks.print(Length::from_mm(length)));
        needed.entry((stock, says)).or_insert((0, length)).0 += count;
    }
    // Both ends of a board together: 1/2 in (common practice, no source).
    let trim = Rational::new(127, 10);
    for group in list(&boards["groups"]).iter().filter(|group| group["problem"] == Value::Null) {
        groups += 1;
        let mut bought: BTreeMap<Rational, u64> = BTreeMap::new();
        let mut widths: BTreeMap<u64, Rational> = BTreeMap::new();
        let mut last = 0;
        for row in list(&group["cuts"]) {
            let (first, count) = (row["first"].as_u64().unwrap(), row["count"].as_u64().unwrap());
            if first != last {
                *bought.entry(mm(&row["length"])).or_default() += count;
                last = first;
            }
            if let Some(rip) = row["rip"].as_object() {
                let used = widths.entry(first).or_insert(-kerf);
                *used += mm(&Value::Object(rip.clone())) + kerf;
                assert!(*used <= mm(&group["width"]), "board {first} is ripped beyond its width");
            }
            // `3 x strip 30 1/2"`: so many of that role and length.
            let pieces = list(&row["pieces"]).iter().map(|piece| {
                let (count, what) = piece.as_str().unwrap().split_once(" x ").unwrap();
                (count.parse::<u64>().unwrap(), what.to_owned())
            });
            let stock = group["stock"].as_str().unwrap();
            // Mouldings are cut for runs, not for parts.
            let solid = of.graph.boards.iter().any(|board| *board.name == *stock);
            let (mut number, mut taken) = (0, Rational::from(0));
            for (times, what) in pieces {
                number += times;
                if solid {
                    let (left, length) = needed.get_mut(&(stock.to_owned(), what.clone())).expect(&what);
                    *left = left.checked_sub(times * count).unwrap();
                    taken += *length * Rational::from(i128::from(times));
                }
            }
            assert!(number > 0);
            if solid {
                let kerfs = |count: u64| kerf * Rational::from(i128::from(count));
                let (left, length) = (mm(&row["left"]), mm(&row["length"]));
                assert!(taken + kerfs(number - 1) + left + trim <= length, "board {first} is too short");
                assert!(taken + kerfs(number) + left + trim >= length, "something of board {first} is lost");
            }
        }
        let said: BTreeMap<Rational, u64> = list(&group["buy"])
            .iter()
            .map(|stick| (mm(&stick["length"]), stick["count"].as_u64().unwrap()))
            .collect();
        assert_eq!(said, bought);
        let stock = group["stock"].as_str().unwrap();
        // Boards that are bought as wide as their parts have a group for each width.
        if list(&boards["groups"]).iter().filter(|other| other["stock"] == stock).count() == 1 {
            let left: Vec<_> =
                needed.iter().filter(|((own, _), (count, _))| own == stock && *count > 0).collect();
            assert_eq!(left, [], "not all is cut");
        }
    }
    groups
}

#[test]
fn every_layout_of_the_examples_can_be_sawn() {
    let mut boards = 0;
    for file in EXAMPLES {
        let of = compiled(file);
        // One sheet each; the pantry has another for its backs.
        let stocks = 1 + usize::from(file.contains("pantry"));
        for effort in [Effort::Quick, Effort::Normal] {
            assert_eq!(saw_sheets(&of, effort), stocks, "{file}");
            boards += saw_boards(&of, effort);
        }
    }
    // Poplar and the crown of the sewing room, poplar of the alcoves, ash of the back hall, poplar of the pantry; each at both efforts.
    assert_eq!(boards, 10);
}

#[test]
#[should_panic(expected = "off the sheet")]
fn a_piece_over_the_edge_is_noticed() {
    let of = compiled_text(
        "sheet ply { thickness = 18mm, size = 2440mm x 1220mm }\nstick s { floor = 80mm }\n\
         carcass a { shelves = s, width = 600mm, height = 1200mm, depth = 300mm }\n",
    );
    let layouts = json(&of, "layouts", Effort::Quick);
    let mut pattern = layouts["groups"][0]["patterns"][0].clone();
    pattern["pieces"][0]["x"]["exact"] = "2000 mm".into();
    saw(&pattern, kerf(&of));
}
