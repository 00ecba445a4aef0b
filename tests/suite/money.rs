//! Money and counts: rows and their sum, spares, what boards take, and what is told of both. Every figure is worked beside it.

use crate::compiled_text;
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::diag::Severity;
use scantling::sheets::{SHEETS, shopping};
use serde_json::Value;

/// The value of a sheet, as programs get it.
fn value(of: &Compilation, sheet: &str) -> Value {
    let sheet = SHEETS.iter().find(|known| known.name == sheet).unwrap();
    (sheet.make)(of.subject(Effort::Normal)).json.value()
}

/// A sheet as it is read.
fn text(of: &Compilation, sheet: &str) -> String {
    let sheet = SHEETS.iter().find(|known| known.name == sheet).unwrap();
    scantling::render::text(&(sheet.make)(of.subject(Effort::Normal)).document)
}

fn told(of: &Compilation) -> Vec<(&str, &str)> {
    of.diagnostics.iter().map(|told| (told.code.id, told.message.as_str())).collect()
}

const PORCH: &str = r#"
project "Porch" { marks = 1/32" }
sheet ply "birch ply" { thickness = 3/4", size = 96" x 48", price = 31.115 USD, sold half { size = 48" x 48", price = 20.005 USD } }
board pine { thickness = 3/4", width = 3 1/2", lengths = [7'], price = 1.335 USD/ft, waste = 20 % }
saw table { kerf = 1/8" }
stick s { low = 3", mid = 15", top = 28" }
nail brad { length = 1 1/2", box = 100, price = 4.445 USD }
join shelf to side with dado { nail = brad }
run r {
  length = 40"
  each unit { shelves = s, width = rest, height = 30", depth = 11" }
  unit a
  facing { stock = pine, stile = 1 3/4", strip = 1 1/2", top_rail = 2" }
}
"#;

/// 31.115 is 31.12, three boards of 7 ft at 1.335 are 3 x 9.345 = 28.035, 28.04, a box 4.445 is 4.45: 63.61, where the sum of what is not
/// rounded is 63.595. The list, `project.cost` and a requirement say the same.
#[test]
fn rows_in_whole_cents_add_up_to_their_sum() {
    let porch = compiled_text(PORCH);
    let list = value(&porch, "shopping");
    let costs: Vec<&str> =
        list["rows"].as_array().unwrap().iter().filter_map(|r| r["cost"].as_str()).collect();
    assert_eq!(costs, ["31.12 USD", "28.04 USD", "4.45 USD"]);
    assert_eq!(list["total"], "63.61 USD");
    for (condition, holds) in [("== 63.61 USD", true), ("<= 63.60 USD", false), ("!= 63.61 USD", false)] {
        let of = compiled_text(&format!("{PORCH}require project.cost {condition}\n"));
        assert_eq!(of.has_errors(), !holds, "{condition}: {:?}", told(&of));
    }
}

/// Two boards of 5 ft and three of 7: at 5 1/2 in wide 2.2917 and 3.2083 bd ft at 7.77 are 2 x 17.80625 = 35.61 and 3 x 24.92875 = 74.79.
/// With three sheets at 61 that is 293.40, in the list and in a requirement.
#[test]
fn the_cost_of_a_project_is_the_sum_of_its_list() {
    let of = |require: &str| {
        let text = r#"
project "Long wall" { marks = 1/32" }
sheet ply { thickness = 3/4", size = 96" x 48", price = 61 USD }
board ash { thickness = 3/4", width = 5 1/2", lengths = [5', 7', 9'], price = 7.77 USD/bdft }
saw table { kerf = 1/8" }
stick s { a = 3", b = 15", c = 29", d = 41", e = 55" }
run r {
  length = 100"
  each unit { shelves = s, height = 66", depth = 11" }
  unit u { width = 29" }
  unit v { width = 31" }
  unit w { width = rest }
  facing { stock = ash, stile = 1 3/4", strip = 1 5/8", top_rail = 2 1/4" }
}
"#;
        compiled_text(&format!("{text}{require}"))
    };
    let wall = of("");
    assert_eq!(shopping(wall.subject(Effort::Normal)).total.unwrap(), "293.40 USD");
    let held = of("require project.cost == 293.40 USD\n");
    assert!(!held.has_errors(), "{:?}", told(&held));
}

/// Two sheets of 4 ft: their row says whose size they are.
#[test]
fn a_sold_size_names_its_sheet() {
    let half = PORCH.replace("price = 20.005 USD", "price = 5 USD");
    let list = value(&compiled_text(&half), "shopping");
    assert_eq!(list["rows"][0]["what"], "ply (half), birch ply, 48\" x 48\"");
    assert_eq!(value(&compiled_text(PORCH), "shopping")["rows"][0]["what"], "ply, birch ply, 96\" x 48\"");
}

/// A top rail of 3 1/2 is as wide as its board; one of 3 17/32 is wider by a mark: it is told, it has no price, and everything else
/// keeps its own. A board of 7 ft gives 84 - 1/2 = 83 1/2.
#[test]
fn what_is_wider_than_its_board_is_told_and_takes_no_price_from_the_rest() {
    let of = |rail: &str| compiled_text(&PORCH.replace("top_rail = 2\"", &format!("top_rail = {rail}")));
    let fits = of("3 1/2\"");
    assert!(!told(&fits).iter().any(|(code, _)| *code == "C004"), "{:?}", told(&fits));
    let over = of("3 17/32\"");
    let message = "the width of `r.a.rail.top`, 3 17/32\", is more than a board of `pine` offers";
    let found = over.diagnostics.iter().find(|told| told.code.id == "C004").unwrap();
    assert_eq!((found.message.as_str(), found.severity), (message, Severity::Warning));
    assert_eq!(found.help, ["3 1/2\" is the most; make it of two, or buy larger"]);
    let list = value(&over, "shopping");
    let rows = list["rows"].as_array().unwrap();
    let boards: Vec<&Value> = rows.iter().filter(|row| row["aisle"] == "boards").collect();
    assert_eq!(boards.len(), 2, "{boards:?}");
    assert_eq!(
        (&boards[0]["what"], &boards[0]["cost"]),
        (&Value::from("pine, for top rail 3 17/32\" x 36 1/2\""), &Value::Null)
    );
    assert_eq!(boards[1]["cost"], "18.69 USD");
    assert_eq!(list["without_price"], Value::from(vec!["pine, for top rail 3 17/32\" x 36 1/2\""]));
    // Without a stated width boards are bought as wide as the parts.
    let any = compiled_text(
        &PORCH.replace("width = 3 1/2\", lengths", "lengths").replace("top_rail = 2\"", "top_rail = 9\""),
    );
    assert!(!told(&any).iter().any(|(code, _)| *code == "C004"));
    // 83 1/2 long is cut from 7 ft, 83 17/32 is not: the rail is 3 1/2 shorter than the run.
    for (length, long) in [("87\"", false), ("87 1/32\"", true)] {
        let of = compiled_text(&PORCH.replace("length = 40\"", &format!("length = {length}")));
        let found: Vec<_> = told(&of).into_iter().filter(|(code, _)| *code == "C004").collect();
        let message = "the length of `r.a.strip.low`, 83 17/32\", and that of 2 more parts, is more than a board of `pine` offers";
        assert_eq!(found, if long { vec![("C004", message)] } else { Vec::new() });
    }
}

/// Three shelves and two strips with one spare of each size: the cut list, the layouts, board feet and boards count the same. A
/// strip is 34 7/8 - 2 x 1/8 = 36 1/2 long: what is bought grows by 36 1/2 x (1 1/2 + 1/8) / 144 = 0.412 bd ft, and a fifth.
#[test]
fn spares_are_counted_in_every_list() {
    let none = compiled_text(PORCH);
    let one = compiled_text(&PORCH.replace("marks = 1/32\"", "marks = 1/32\", spares = 1"));
    let group = |of: &Compilation, sheet: &str, stock: &str| {
        let all = value(of, sheet)["groups"].as_array().unwrap().clone();
        all.into_iter().find(|group| group["stock"] == stock).unwrap()
    };
    let row = |of: &Compilation, stock: &str, role: &str| {
        let rows = group(of, "cut-list", stock)["rows"].as_array().unwrap().clone();
        let row = rows.into_iter().find(|row| row["role"] == role).unwrap();
        (
            row["count"].as_u64().unwrap(),
            row["spares"].as_u64().unwrap(),
            row["names"].as_array().unwrap().len(),
        )
    };
    assert_eq!((row(&none, "ply", "shelf"), row(&one, "ply", "shelf")), ((3, 0, 3), (4, 1, 3)));
    assert_eq!((row(&none, "pine", "strip"), row(&one, "pine", "strip")), ((2, 0, 2), (3, 1, 2)));
    for (stock, list, spares) in [("ply", "layouts", "spare_parts"), ("pine", "boards", "spares")] {
        let (cut, laid) = (group(&one, "cut-list", stock), group(&one, list, stock));
        let pieces = if list == "boards" { "pieces" } else { "parts" };
        assert_eq!((&cut["parts"], &cut["spares"]), (&laid[pieces], &laid[spares]), "{stock}");
    }
    let feet = |of: &Compilation, what: &str| -> f64 {
        let text = group(of, "cut-list", "pine")["solid"][what].as_str().unwrap().replace('~', "");
        text.strip_suffix(" bd ft").unwrap().parse().unwrap()
    };
    assert!((feet(&one, "blanks") - feet(&none, "blanks") - 36.5 * 1.5 / 144.0).abs() < 0.011);
    assert!((feet(&one, "with_kerfs") - feet(&none, "with_kerfs") - 36.5 * 1.625 / 144.0).abs() < 0.011);
    assert!((feet(&one, "to_buy") - feet(&none, "to_buy") - 36.5 * 1.625 / 144.0 * 1.2).abs() < 0.11);
    let list = text(&one, "cut-list");
    assert!(list.contains("1 spare among them") && list.contains("1 of them a spare"), "{list}");
    assert!(text(&one, "layouts").contains("ply, birch ply: 6 parts, 1 of them a spare"));
}

/// A board of which nobody says what is lost, one that loses nothing, one that loses a fifth.
#[test]
fn waste_is_called_what_it_is() {
    for (stated, says) in [
        (", waste = 20 %", "(an estimate, with waste)"),
        (", waste = 0 %", "(an estimate, without waste, as stated)"),
        ("", "(an estimate, no `waste` is stated)"),
    ] {
        let of = compiled_text(&PORCH.replace(", waste = 20 %", stated));
        let list = text(&of, "cut-list").replace('\n', " ");
        assert!(list.contains(says), "{stated}: {list}");
        let nothing = compiled_text(&PORCH.replace(", waste = 20 %", stated).replace(", lengths = [7']", ""));
        let remark = value(&nothing, "shopping")["rows"][1]["remark"].as_str().unwrap().to_owned();
        let words = says.trim_start_matches("(an estimate, ").trim_end_matches(')');
        assert!(remark.starts_with(&format!("with kerfs, {words}; ")), "{remark}");
    }
}
