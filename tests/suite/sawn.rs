//! Every layout that a project prints, sawn again: read from the JSON of `layouts` and `boards`, checked against the parts by
//! code that shares nothing with the planner, its verifier or its units.
//!
//! What must hold is what a saw can do: pieces lie on the sheet past the skim, a kerf apart; strips run the whole length, or where
//! the sheet is cut across first its whole width, and are as wide as their widest piece; every piece is as long as a cut of its
//! strip; what is less wide than its strip is trimmed; each step's setting is one that the pieces need; parts, rests, blade and
//! skim are the sheet.

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
pub(crate) fn mm(length: &Value) -> Rational {
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

pub(crate) fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap()
}

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

/// What lies in one strip of a sheet: from the end, along and across the strip, and the step that trims it.
type Piece = (Rational, Rational, Rational, Option<u64>);

/// Saws one sheet: strips by its first cuts, pieces of them, trims last.
fn saw(pattern: &Value, kerf: Rational) {
    let zero = Rational::from(0);
    let setting = |name: &str| -> Vec<Rational> {
        let steps = list(&pattern["steps"]).iter().filter(|step| step["cut"] == name);
        steps.map(|step| mm(&step["setting"])).collect()
    };
    let skim = setting("skim").first().copied().unwrap_or(zero);
    let [long, wide] = [0, 1].map(|side| mm(&pattern["least"][side]));
    // Rips run along the longer side; where the sheet is cut across first, strips lie across them.
    let across_first = !setting("across").is_empty();
    let flat = (long >= wide) != across_first;
    let [first, second] = if across_first { ["across", "rip"] } else { ["rip", "crosscut"] };
    let [reach, room] = if flat { [long, wide] } else { [wide, long] };
    let mut strips: BTreeMap<Rational, Vec<Piece>> = BTreeMap::new();
    let mut parts = zero;
    for piece in list(&pattern["pieces"]) {
        let [mut w, mut h] = [mm(&piece["length"]), mm(&piece["width"])];
        if piece["turned"] == true {
            std::mem::swap(&mut w, &mut h);
        }
        let [x, y] = [mm(&piece["x"]), mm(&piece["y"])];
        assert!(x >= skim && y >= skim && x + w <= long && y + h <= wide, "off the sheet: {piece}");
        parts += w * h;
        let ([from, low], [along, across]) = if flat { ([x, y], [w, h]) } else { ([y, x], [h, w]) };
        strips.entry(low).or_default().push((from, along, across, piece["trim"].as_u64()));
    }
    // Strips lie over each other, a kerf apart, each as wide as its widest piece; what is less wide is trimmed.
    let (mut widths, mut lengths, mut trims) = (BTreeSet::new(), BTreeSet::new(), BTreeSet::new());
    let (mut free, mut left, mut blade) = (skim, Vec::new(), zero);
    // Cuts so much off a rest that is so long; gives what is behind the blade.
    let mut cut = |rest: Rational, off: Rational, long: Rational| {
        assert!(rest >= off, "beyond the end");
        let taken = kerf.min(rest - off);
        blade += taken * long;
        rest - off - taken
    };
    for (low, mut pieces) in strips {
        assert!(low >= free, "strips overlap at {low}");
        let width = pieces.iter().map(|piece| piece.2).max().unwrap();
        widths.insert(width);
        assert_eq!(cut(room - free, width, reach - skim), (room - low - width - kerf).max(zero));
        free = (low + width + kerf).min(room);
        pieces.sort();
        let mut end = skim;
        for (from, along, across, trim) in pieces {
            assert!(from >= end, "pieces overlap at {from}");
            let behind = cut(reach - end, along, width);
            end = reach - behind;
            lengths.insert(along);
            assert_eq!(trim.is_some(), across < width, "what is less wide than its strip is trimmed");
            if let Some(step) = trim {
                let step = &list(&pattern["steps"])[usize::try_from(step).unwrap() - 1];
                assert_eq!((step["cut"].as_str(), mm(&step["setting"])), (Some("trim"), across));
                trims.insert(across);
                left.push((along, cut(width, across, along)));
            }
        }
        left.push((reach - end, width));
    }
    left.push((reach - skim, room - free));
    // The sheet is its parts, what is left over, what the blade takes and the skim.
    let rests: Rational = left.iter().map(|(along, across)| *along * *across).sum();
    let usable = (long - skim) * (wide - skim);
    assert_eq!(parts + rests + blade, usable, "something of the sheet is lost");
    // What is listed as left is what is left, but for scrap under 2 x 12 in.
    let least = [2, 12].map(|inches| Rational::new(inches * 127, 5));
    let worth = |(a, b): &(Rational, Rational)| *a.min(b) >= least[0] && *a.max(b) >= least[1];
    let mut kept: Vec<(Rational, Rational)> = left.into_iter().filter(worth).collect();
    let mut listed = Vec::new();
    for row in list(&pattern["left"]) {
        let [along, across] = if flat { ["length", "width"] } else { ["width", "length"] };
        let size = (mm(&row[along]), mm(&row[across]));
        listed.extend(std::iter::repeat_n(size, usize::try_from(row["count"].as_u64().unwrap()).unwrap()));
    }
    kept.sort();
    listed.sort();
    assert_eq!(kept, listed);
    let (mut fences, mut stops, cuts) = (setting(first), setting(second), setting("trim"));
    assert!([&stops, &cuts].iter().all(|all| all.windows(2).all(|pair| pair[0] > pair[1])), "largest first");
    fences.sort();
    stops.sort();
    assert_eq!(fences, widths.into_iter().collect::<Vec<_>>());
    assert_eq!(stops, lengths.into_iter().collect::<Vec<_>>());
    assert_eq!(cuts.into_iter().rev().collect::<Vec<_>>(), trims.into_iter().collect::<Vec<_>>());
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
