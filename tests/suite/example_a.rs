//! Worked example A, the carcasses: every size, count, mark and opening, from the text of `examples/sewing-room`.
//!
//! Source of all values: the project's worked example "Four units along the long wall of a basement sewing room",
//! computed by its conventions and again by a second, independent route. The step numbers are that example's.

use crate::{compiled, inch};
use scantling::compile::Compilation;
use scantling::parts::{JointKind, Part, Role};
use scantling::quantity::Length;
use scantling::sheets::{Subject, sheet};

const FILE: &str = "examples/sewing-room/sewing_room.scant";
const UNITS: [&str; 4] = ["sewing.one", "sewing.two", "sewing.three", "sewing.four"];
const OUTER: [&str; 8] = ["floor", "binders", "patterns", "thread", "fabric", "ribbon", "boxes", "top"];
const INNER: [&str; 6] = ["floor", "binders", "patterns", "fabric", "boxes", "top"];

fn measure(compilation: &Compilation, path: &str) -> Length {
    compilation
        .graph
        .measures()
        .get(path)
        .unwrap_or_else(|| panic!("no measure {path}"))
        .length()
        .unwrap()
        .value
}

fn parts(compilation: &Compilation, is: fn(&Role) -> bool) -> Vec<&Part> {
    compilation.graph.parts.iter().filter(|part| is(&part.role)).collect()
}

/// All parts of a role are so many, and of this size.
fn expect(compilation: &Compilation, is: fn(&Role) -> bool, count: usize, width: &str, length: &str) {
    let parts = parts(compilation, is);
    assert_eq!(parts.len(), count);
    for part in parts {
        assert_eq!(part.size.thickness.value, inch("23/32"), "{}", part.path);
        assert_eq!(part.size.width.value, inch(width), "{}", part.path);
        assert_eq!(part.size.length.value, inch(length), "{}", part.path);
    }
}

#[test]
fn it_compiles_without_a_message() {
    assert_eq!(compiled(FILE).diagnostics, []);
}

#[test]
fn step_2_widths_clear_widths_and_gaps() {
    let a = compiled(FILE);
    for unit in UNITS {
        assert_eq!(measure(&a, &format!("{unit}.width")), inch("32 1/4"));
        assert_eq!(measure(&a, &format!("{unit}.clear")), inch("30 13/16"));
    }
    assert_eq!(measure(&a, "sewing.total_width"), inch("129"));
    // The least reading, 129 15/16, is the back one at the high place: the gap there is 15/16.
    assert_eq!(measure(&a, "sewing.gap_left"), inch("15/16"));
    assert_eq!(measure(&a, "sewing.gap_right"), Length::ZERO);
}

#[test]
fn step_2_shelf_closes_with_the_unit() {
    let a = compiled(FILE);
    // 31 5/16 + 2 x (23/32 - 1/4) = 32 1/4.
    let shelf = inch("31 5/16");
    let rest = inch("23/32").checked_sub(inch("1/4")).unwrap();
    let closed = shelf.checked_add(rest).unwrap().checked_add(rest).unwrap();
    assert_eq!(closed, measure(&a, "sewing.one.width"));
    assert_eq!(measure(&a, "sewing.one.shelf.binders.length"), shelf);
}

#[test]
fn step_4_over_the_top_shelf() {
    let a = compiled(FILE);
    for unit in UNITS {
        assert_eq!(measure(&a, &format!("{unit}.shelf.top.clear_height")), inch("3 17/32"));
    }
}

#[test]
fn step_5_marks_and_openings_behind_and_at_the_cleat() {
    let a = compiled(FILE);
    let marks = ["3 1/2", "19 1/4", "33", "44 1/2", "55", "65 1/4", "74 1/4", "82 1/4"];
    let behind = ["15 1/32", "13 1/32", "10 25/32", "9 25/32", "9 17/32", "8 9/32", "7 9/32"];
    let cleat = ["12 17/32", "10 17/32", "8 9/32", "7 9/32", "7 1/32", "5 25/32", "4 25/32"];
    for unit in ["sewing.one", "sewing.four"] {
        for (name, mark) in OUTER.iter().zip(marks) {
            assert_eq!(measure(&a, &format!("{unit}.shelf.{name}.mark")), inch(mark));
        }
        for ((name, behind), cleat) in OUTER.iter().zip(behind).zip(cleat) {
            assert_eq!(measure(&a, &format!("{unit}.shelf.{name}.clear_height")), inch(behind));
            assert_eq!(measure(&a, &format!("{unit}.shelf.{name}.opening_rear")), inch(cleat));
        }
    }
    let behind = ["15 1/32", "13 1/32", "21 9/32", "18 17/32", "7 9/32"];
    let cleat = ["12 17/32", "10 17/32", "18 25/32", "16 1/32", "4 25/32"];
    for unit in ["sewing.two", "sewing.three"] {
        for ((name, behind), cleat) in INNER.iter().zip(behind).zip(cleat) {
            assert_eq!(measure(&a, &format!("{unit}.shelf.{name}.clear_height")), inch(behind));
            assert_eq!(measure(&a, &format!("{unit}.shelf.{name}.opening_rear")), inch(cleat));
        }
        let openings = a
            .graph
            .measures()
            .keys()
            .filter(|path| path.starts_with(&format!("{unit}.shelf.")) && path.ends_with(".clear_height"))
            .count();
        assert_eq!(openings, 6);
    }
}

#[test]
fn table_after_step_5_counts_and_sizes() {
    let a = compiled(FILE);
    expect(&a, |role| matches!(role, Role::Side(_)), 8, "11 13/16", "86 1/2");
    expect(&a, |role| matches!(role, Role::Shelf), 28, "11 13/16", "31 5/16");
    expect(&a, |role| matches!(role, Role::Cleat), 24, "2 1/2", "30 13/16");
    expect(&a, |role| matches!(role, Role::Stretcher(..)), 16, "3 1/2", "30 13/16");
    assert_eq!(a.graph.parts.iter().filter(|part| !part.role.is_facing()).count(), 76);
    let by_unit = |is: fn(&Role) -> bool| {
        UNITS.map(|unit| {
            let prefix = format!("{unit}.");
            parts(&a, is).iter().filter(|part| part.path.starts_with(&prefix)).count()
        })
    };
    assert_eq!(by_unit(|role| matches!(role, Role::Shelf)), [8, 6, 6, 8]);
    assert_eq!(by_unit(|role| matches!(role, Role::Cleat)), [7, 5, 5, 7]);
}

#[test]
fn step_6_dados() {
    let a = compiled(FILE);
    let mut dados = 0;
    for joint in &a.graph.joints {
        if let JointKind::Dado { depth, width } = joint.kind {
            assert_eq!(depth.value, inch("1/4"));
            assert_eq!(width.value, inch("93/128"));
            dados += 1;
        }
    }
    assert_eq!(dados, 56);
}

#[test]
fn step_7_area_of_the_parts() {
    let a = compiled(FILE);
    let output = (sheet("cut-list").unwrap().make)(Subject { model: &a.model, graph: &a.graph });
    assert_eq!(output.json["groups"][0]["area_print"], "153.51 sq ft");
    assert_eq!(output.json["groups"][0]["parts"], 76);
}

#[test]
fn reasons_of_a_length_a_mark_and_an_opening() {
    let a = compiled(FILE);
    let reason = |path: &str| {
        let len = a.graph.measures().get(path).unwrap().length().unwrap();
        let reason = a.graph.ledger.reason(len.why, &a.sources, a.model.project.marks).to_string();
        format!("{path}\n\n{}", reason.replace(crate::root().as_str(), "."))
    };
    insta::assert_snapshot!(reason("sewing.one.shelf.binders.length"));
    insta::assert_snapshot!(reason("sewing.one.shelf.binders.mark"));
    insta::assert_snapshot!(reason("sewing.two.shelf.patterns.clear_height"));
}
