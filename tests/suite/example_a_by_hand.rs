//! The sewing room's carcasses typed straight into Rust: the conventions hold without any grammar.
//!
//! Source of the values: as in `example_a.rs`.

use crate::inch;
use scantling::diag::Sink;
use scantling::eval::{
    Carcass, Dado, End, Ledger, Len, Linear, Mark, Model, Project, Return, Run, Share, Sheet, SheetId,
    Stretcher, Width,
};
use scantling::lower::lower;
use scantling::parts::{PartGraph, Role};
use scantling::quantity::{Length, Marks};

const LINES: [(&str, &str); 8] = [
    ("floor", "3 1/2"),
    ("binders", "19 1/4"),
    ("patterns", "33"),
    ("thread", "44 1/2"),
    ("fabric", "55"),
    ("ribbon", "65 1/4"),
    ("boxes", "74 1/4"),
    ("top", "82 1/4"),
];

fn model(ledger: &mut Ledger) -> Model {
    let mut given = |label, text: &str| -> Len { ledger.given(label, inch(text)) };
    let sheet = Sheet::measured("ply", given("sheet thickness", "23/32"));
    let marks: Vec<Mark> = LINES
        .iter()
        .map(|(name, height)| Mark { name: (*name).into(), height: given("mark", height) })
        .collect();
    let stretcher = |height| Some(Stretcher { height, front: true, rear: true });
    let share = Share { linear: Linear::rest(), round: Some(inch("1/8")), span: None };
    let top = given("stretcher height", "3 1/2");
    let size = [given("unit height", "86 1/2"), given("unit depth", "11 13/16")];
    let dado = Dado { depth: given("dado depth", "1/4"), fit: given("dado fit", "1/128") };
    let mut unit = Carcass::new(SheetId(0), Width::Share(share), size, dado);
    unit.marks = marks;
    unit.cleat = Some(given("cleat height", "2 1/2"));
    unit.bottom_stretcher = stretcher(None);
    unit.top_stretcher = stretcher(Some(top));
    let mut inner = unit.clone();
    inner.marks.retain(|mark| !["thread", "ribbon"].contains(&&*mark.name));
    let ends = [
        End {
            against: Some(Return::Wall),
            gap: Some(given("gap", "7/8")),
            stile: None,
            filler: None,
            before: None,
            head: None,
        },
        End { against: Some(Return::Open), gap: None, stile: None, filler: None, before: None, head: None },
    ];
    let length = Some(given("run length", "129 15/16"));
    let units = vec![unit.clone(), inner.clone(), inner, unit];
    let mut model = Model::new(Project::new(Marks::THIRTY_SECONDS));
    model.sheets.push(sheet);
    model.runs.push(Run::new("sewing", length, ends, units));
    model
}

fn graph() -> PartGraph {
    let mut ledger = Ledger::default();
    let model = model(&mut ledger);
    let mut sink = Sink::default();
    let graph = lower(&model, ledger, &mut sink);
    assert_eq!(sink.finish(), []);
    graph
}

/// How many parts of a role there are; all of one width and length, which are given back.
fn one_size(graph: &PartGraph, is: fn(&Role) -> bool) -> (usize, Length, Length) {
    let mut parts = graph.parts.iter().filter(|part| is(&part.role)).peekable();
    let first = parts.peek().unwrap().size;
    let count = parts
        .inspect(|part| {
            assert_eq!(part.size.width.value, first.width.value);
            assert_eq!(part.size.length.value, first.length.value);
        })
        .count();
    (count, first.width.value, first.length.value)
}

#[test]
fn table_after_step_5_sides_shelves_cleats_and_stretchers() {
    let graph = graph();
    let deep = inch("11 13/16");
    assert_eq!(one_size(&graph, |role| matches!(role, Role::Side(_))), (8, deep, inch("86 1/2")));
    assert_eq!(one_size(&graph, |role| matches!(role, Role::Shelf)), (28, deep, inch("31 5/16")));
    assert_eq!(one_size(&graph, |role| matches!(role, Role::Cleat)), (24, inch("2 1/2"), inch("30 13/16")));
    assert_eq!(
        one_size(&graph, |role| matches!(role, Role::Stretcher(..))),
        (16, inch("3 1/2"), inch("30 13/16"))
    );
}

#[test]
fn step_5_openings_behind() {
    let graph = graph();
    let behind = |unit: u32| -> Vec<Length> {
        graph.openings_of(scantling::parts::UnitId(unit)).map(|opening| opening.clear_height.value).collect()
    };
    let outer = ["15 1/32", "13 1/32", "10 25/32", "9 25/32", "9 17/32", "8 9/32", "7 9/32", "3 17/32"];
    let inner = ["15 1/32", "13 1/32", "21 9/32", "18 17/32", "7 9/32", "3 17/32"];
    assert_eq!(behind(0), outer.map(inch));
    assert_eq!(behind(1), inner.map(inch));
    assert_eq!(behind(2), inner.map(inch));
    assert_eq!(behind(3), outer.map(inch));
}
