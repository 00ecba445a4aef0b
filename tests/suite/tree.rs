//! The tree of a project: what hangs under what, with its sizes.

use crate::figures::Figures;
use scantling::breakdown::Effort;
use scantling::render::text;
use scantling::sheets::sheet;

const HALL: &str = "examples/back-hall/back_hall.scant";

fn drawn(file: &str) -> String {
    let f = Figures::of(file);
    let subject = f.compilation.subject(Effort::Quick);
    text(&(sheet("tree").unwrap().make)(subject).document)
}

#[test]
fn the_tree_of_a_hall_is_drawn() {
    insta::assert_snapshot!("back_hall", drawn(HALL));
}

/// No line is broken in the tree itself: each begins with what it hangs on.
#[test]
fn branches_stay_whole() {
    let drawn = drawn(HALL);
    let table = drawn.split("together\n").nth(1).unwrap().split("\n\n").next().unwrap();
    // The last line is the foot: what all of it carries.
    let (table, foot) = table.trim_end().rsplit_once('\n').unwrap();
    assert!(foot.ends_with("with units and facing"), "{foot}");
    let branches = table.lines().skip(2).filter(|line| !line.starts_with("    ") || line.contains("- "));
    for line in branches.clone() {
        let name = line.trim_start_matches(['|', ' ', '`', '-']);
        let kinds =
            ["coats,", "bench,", "cubbies,", "top", "shelf ", "bay ", "divider ", "its floor", "2 loose"];
        assert!(kinds.iter().any(|kind| name.starts_with(kind)), "{line}");
    }
    // 3 units and tops, 2 + 1 + 4 shelves, 2 + 2 + 3 + 3 bays, 6 dividers, 3 shelves and the floor of a bay, loose shelves.
    assert_eq!(branches.count(), 3 + 3 + 7 + 10 + 6 + 4 + 1);
}

#[test]
fn the_tree_for_programs_nests_as_the_work_does() {
    let tree = Figures::of(HALL).sheet("tree");
    assert_eq!(tree["alone"].as_array().unwrap().len(), 0);
    let units = tree["runs"][0]["units"].as_array().unwrap();
    let names: Vec<&str> = units.iter().map(|unit| unit["unit"].as_str().unwrap()).collect();
    assert_eq!(names, ["wall.coats", "wall.bench", "wall.cubbies"]);
    let floor = &units[0]["openings"][0];
    assert_eq!(floor["opening"], "wall.coats.shelf.floor");
    assert_eq!(floor["clear_width"]["print"], "864.4 mm");
    let wet = &floor["bays"][1];
    assert_eq!(wet["divider"], serde_json::Value::Null);
    let openings: Vec<&str> = wet["openings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|opening| opening["opening"].as_str().unwrap())
        .collect();
    let bay = "wall.coats.shelf.floor.bay.wet";
    assert_eq!(
        openings,
        [bay, &format!("{bay}.shelf.leads"), &format!("{bay}.shelf.torches"), &format!("{bay}.shelf.gloves")]
    );
    assert_eq!(floor["bays"][0]["divider"]["length"]["print"], "1640.2 mm");
    assert_eq!(floor["bays"][0]["openings"][0]["contents"][0], "coats");
    let baskets = &units[2]["openings"][2];
    assert_eq!(baskets["load"], "other");
    assert_eq!(baskets["loose"]["shelves"].as_array().unwrap().len(), 2);
    assert_eq!(baskets["loose"]["holes"], 22);
}

/// Every opening of the part graph stands in the tree once, between sides, in a bay, or over a shelf of a bay.
#[test]
fn every_opening_stands_in_the_tree_once() {
    for file in [HALL, "examples/sewing-room/sewing_room.scant", "examples/alcove-pair/alcove_pair.scant"] {
        let f = Figures::of(file);
        let mut found = Vec::new();
        collect(&f.sheet("tree"), &mut found);
        let mut expected: Vec<String> =
            f.compilation.graph.openings.iter().map(|opening| opening.path.clone()).collect();
        found.sort();
        expected.sort();
        assert_eq!(found, expected, "{file}");
    }
}

fn collect(value: &serde_json::Value, found: &mut Vec<String>) {
    match value {
        serde_json::Value::Object(map) => {
            found.extend(map.get("opening").and_then(|path| path.as_str()).map(str::to_owned));
            map.values().for_each(|value| collect(value, found));
        }
        serde_json::Value::Array(list) => list.iter().for_each(|value| collect(value, found)),
        _ => {}
    }
}
