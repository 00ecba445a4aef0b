//! The sewing room: every figure of its carcasses, facing, crown, hardware and finish.
//!
//! Source of all values: the working in `examples/sewing-room/README.md`, by plain arithmetic from what the project states. The
//! step numbers are its.

use crate::figures::{Figures, printed};
use crate::{compiled, inch};
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::parts::{JointKind, Part, Role};
use scantling::quantity::Length;
use scantling::sheets::sheet;

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
        if let JointKind::Dado { depth, width, .. } = joint.kind {
            assert_eq!(depth.value, inch("1/4"));
            assert_eq!(width.value, inch("93/128"));
            dados += 1;
        }
    }
    assert_eq!(dados, 56);
    let a = Figures::of(FILE);
    a.inch("router.spacer_1", "2 5/8");
    a.inch("router.spacer_2", "2 51/128");
    a.inch("router.overlap", "35/128");
    a.inch("router.board", "7/8");
}

#[test]
fn step_7_area_of_the_parts() {
    let a = compiled(FILE);
    let output = (sheet("cut-list").unwrap().make)(a.subject(Effort::Normal));
    assert_eq!(output.json.value()["groups"][0]["area_print"], "~153.51 sq ft");
    assert_eq!(output.json.value()["groups"][0]["parts"], 76);
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

#[test]
fn step_1_lap() {
    let lap = compiled(FILE).graph.units[0].lap;
    assert_eq!(lap.value, inch("5/32"));
}

#[test]
fn step_2_gaps_at_every_reading_and_faces_of_the_units() {
    let a = Figures::of(FILE);
    for (reading, front, back) in
        [("low", "1 3/8", "1 1/4"), ("middle", "1 1/8", "1 1/16"), ("high", "1", "15/16")]
    {
        a.inch(&format!("sewing.end.left.{reading}.front"), front);
        a.inch(&format!("sewing.end.left.{reading}.back"), back);
        a.inch(&format!("sewing.end.right.{reading}.front"), "0");
    }
    for (unit, x) in UNITS.into_iter().zip(["1 1/16", "33 5/16", "65 9/16", "97 13/16"]) {
        a.inch(&format!("{unit}.x"), x);
    }
    let marks = a.compilation.model.project.marks;
    let packers = a.compilation.graph.runs[0].floor_at_faces.iter();
    let packers = packers.map(|faces| faces.map(|below| marks.print(below.value).text().to_owned()));
    let faces = ["3/8\"", "1/4\"", "1/8\"", "1/16\"", "0\""].windows(2).map(|pair| [pair[0], pair[1]]);
    assert!(packers.eq(faces));
}

#[test]
fn step_3_crown() {
    let a = Figures::of(FILE);
    a.inch("sewing.crown.gap_least", "1 7/8");
    a.inch("sewing.crown.gap_greatest", "2 1/4");
    a.estimate("sewing.crown.drop", "~2.857\"");
    a.estimate("sewing.crown.projection", "~2.232\"");
    a.inch("sewing.crown.front_foot", "130");
    a.estimate("sewing.crown.front_top", "~132.232\"");
    a.inch("sewing.crown.right_foot", "12 9/16");
    a.estimate("sewing.crown.right_top", "~14.794\"");
    a.estimate("sewing.crown.stick", "~147.776\"");
    a.inch("sewing.crown.buy", "192");
}

#[test]
fn step_5_openings_at_the_front() {
    let a = Figures::of(FILE);
    let outer = ["14 1/4", "12 1/4", "10", "9", "8 3/4", "7 1/2", "6 17/32"];
    let inner = ["14 1/4", "12 1/4", "20 1/2", "17 3/4", "6 17/32"];
    for unit in ["sewing.one", "sewing.four"] {
        for (shelf, front) in OUTER.iter().zip(outer) {
            a.inch(&format!("{unit}.shelf.{shelf}.opening_front"), front);
            a.inch(&format!("{unit}.shelf.{shelf}.opening_depth"), "11 27/32");
        }
    }
    for unit in ["sewing.two", "sewing.three"] {
        for (shelf, front) in INNER.iter().zip(inner) {
            a.inch(&format!("{unit}.shelf.{shelf}.opening_front"), front);
        }
    }
}

#[test]
fn table_after_step_5_facing_with_its_blanks() {
    let a = Figures::of(FILE);
    for (reading, width) in [("low", "2 1/4"), ("middle", "2"), ("high", "1 7/8")] {
        a.inch(&format!("sewing.stile.left.width_{reading}"), width);
    }
    a.inch("sewing.stile.left.width", "2 1/32");
    a.inch("sewing.stile.left.blank_width", "2 1/2");
    a.inch("sewing.stile.right.width", "7/8");
    a.inch("sewing.stile.right.blank_width", "7/8");
    for (stile, length) in [
        ("left", "86 7/8"),
        ("one.two", "86 3/4"),
        ("two.three", "86 5/8"),
        ("three.four", "86 9/16"),
        ("right", "86 1/2"),
    ] {
        a.prints(&format!("sewing.stile.{stile}.length"), &format!("{length}\""));
        a.inch(&format!("sewing.stile.{stile}.blank_length"), "87 1/8");
    }
    a.inch("sewing.stile.one.two.width", "1 3/4");
    let faces = ["4 19/32", "4 15/32", "4 11/32", "4 9/32", "4 7/32"];
    for (unit, ends) in UNITS.into_iter().zip(faces.windows(2)) {
        a.prints(&format!("{unit}.rail.bottom.width_left"), &format!("{}\"", ends[0]));
        a.prints(&format!("{unit}.rail.bottom.width_right"), &format!("{}\"", ends[1]));
        a.inch(&format!("{unit}.rail.bottom.blank_width"), "4 7/8");
        a.inch(&format!("{unit}.rail.bottom.length"), "30 1/2");
        a.inch(&format!("{unit}.rail.top.width"), "5");
        a.inch(&format!("{unit}.rail.top.length"), "30 1/2");
        a.inch(&format!("{unit}.strip.binders.length"), "30 1/2");
    }
    expect_count(&a, |role| matches!(role, Role::Strip), 20);
    expect_count(&a, |role| matches!(role, Role::TopRail), 4);
    expect_count(&a, |role| matches!(role, Role::BottomRail), 4);
    expect_count(&a, |role| matches!(role, Role::Stile), 5);
}

fn expect_count(a: &Figures, is: fn(&Role) -> bool, count: usize) {
    assert_eq!(parts(&a.compilation, is).len(), count);
}

#[test]
fn step_8_nails_and_brads() {
    let a = Figures::of(FILE);
    let nails = ["shelf_ends", "stretcher_ends", "cleat_ends", "along_cleats"];
    assert_eq!(nails.map(|kind| a.count(&format!("hardware.finish_nail.{kind}"))), [168, 64, 96, 120]);
    assert_eq!(
        ["strips", "rails", "stiles"].map(|kind| a.count(&format!("hardware.brad.{kind}"))),
        [100, 40, 96]
    );
    a.bought("finish_nail", 448, 471);
    a.bought("brad", 236, 248);
}

#[test]
fn step_9_studs_and_screws() {
    let a = Figures::of(FILE);
    let windows =
        [("2 17/32", "31 27/32"), ("34 25/32", "64 3/32"), ("67 1/32", "96 11/32"), ("99 9/32", "128 19/32")];
    let usable = [["12 1/2", "28 1/2"], ["44 1/2", "60 1/2"], ["76 1/2", "92 1/2"], ["108 1/2", "124 1/2"]];
    for ((unit, (from, to)), (usable, stated)) in
        UNITS.into_iter().zip(windows).zip(usable.into_iter().zip(&a.compilation.graph.units))
    {
        a.inch(&format!("{unit}.screw_from"), from);
        a.inch(&format!("{unit}.screw_to"), to);
        assert_eq!(stated.studs.iter().map(|stud| stud.value).collect::<Vec<_>>(), usable.map(inch));
    }
    // Rows 9, 7, 7, 9, two screws each.
    for (unit, screws) in UNITS.into_iter().zip([18, 14, 14, 18]) {
        assert_eq!(a.count_in("hardware.wall_screw.wall", &format!("{unit}."), "-"), screws);
    }
    a.bought("wall_screw", 64, 64);
    a.bought("seam_screw", 24, 24);
    let hardware = a.sheet("hardware");
    let screw = hardware["items"]
        .as_array()
        .unwrap()
        .iter()
        .find(|item| item["name"] == "wall_screw")
        .unwrap()
        .clone();
    assert_eq!(screw["grip"]["print"], "1 9/32\"");
}

#[test]
fn step_10_weights_and_diagonal() {
    let a = Figures::of(FILE);
    for (unit, weight) in UNITS.into_iter().zip(["~88.7 lb", "~75.5 lb", "~75.5 lb", "~88.7 lb"]) {
        a.estimate(&format!("{unit}.weight"), weight);
        a.estimate(&format!("{unit}.diagonal"), "~92.316\"");
    }
    a.estimate("sewing.facing_weight", "~33.6 lb");
    let cubic_inch = |unit: usize| {
        let volume = a.compilation.graph.carcass_volumes(&a.compilation.graph.cut_off())[unit].unwrap();
        printed(scantling::quantity::to_f64(volume) / 16_387.064, 2)
    };
    assert_eq!([cubic_inch(0), cubic_inch(1)], ["4259.27", "3625.32"]);
}

#[test]
fn step_12_glued_areas() {
    let a = Figures::of(FILE);
    assert_eq!(a.area("sewing", "glue", "dados and rabbets"), "~5.60 sq ft");
    assert_eq!(a.area("sewing", "glue", "cleats on shelves"), "~3.69 sq ft");
    assert_eq!(a.area("sewing", "glue", "facing on carcass"), "~13.75 sq ft");
    assert_eq!(a.product("white_glue")[..2], ["~23.04 sq ft of glued faces", "~14.7 fl oz"]);
}

#[test]
fn step_13_paint_caulk_and_coats() {
    let a = Figures::of(FILE);
    for (class, area) in [
        ("shelves", "~117.63 sq ft"),
        ("cleats", "~16.53 sq ft"),
        ("insides of sides", "~48.25 sq ft"),
        ("backs of strips, rails and stile laps", "~4.59 sq ft"),
        ("faces of the facing", "~19.21 sq ft"),
        ("edges of the facing", "~10.98 sq ft"),
        ("open sides", "~7.10 sq ft"),
        ("crown", "~3.64 sq ft"),
        ("all", "~227.93 sq ft"),
    ] {
        assert_eq!(a.area("sewing", "paint", class), area, "{class}");
    }
    assert_eq!(a.area("sewing", "wall", "wall seen behind the shelves"), "~50.87 sq ft");
    let surfaces = a.surfaces("sewing");
    let inches: Vec<String> =
        surfaces.caulk.values().map(|length| printed(length.to_mm_f64() / 25.4, 2)).collect();
    // Wall stile, open side, sides, shelf backs, cleats; the crown apart.
    assert_eq!(inches, ["86.87", "86.50", "475.50", "739.50", "739.50"]);
    assert_eq!(printed(surfaces.crown_caulk.unwrap().value / 25.4, 2), "147.03");
    assert_eq!(a.product("acrylic"), ["~189.6 ft of seams", "~97.2 ft a cartridge", "2 cartridges"]);
    assert_eq!(a.product("primer"), ["1 coat on ~227.93 sq ft", "~0.724 gal", "3 x 1 qt"]);
    assert_eq!(a.product("enamel"), ["2 coats on ~227.93 sq ft", "~1.447 gal", "1 x 1 gal + 2 x 1 qt"]);
    let finish = a.sheet("finish");
    let times: Vec<(&str, &str, &str)> = finish["steps"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|step| Some((step["name"].as_str()?, step["begins"].as_str()?, step["ends"].as_str()?)))
        .collect();
    assert_eq!(
        times,
        [
            ("coat", "2026-03-02 08:00", "2026-03-02 11:00"),
            ("coat", "2026-03-02 15:00", "2026-03-02 18:00"),
            ("coat", "2026-03-03 10:00", "2026-03-03 13:00"),
            ("light load", "2026-03-10 13:00", "2026-03-10 13:00"),
            ("full load", "2026-03-17 13:00", "2026-03-17 13:00"),
        ]
    );
}

#[test]
fn step_14_solid_stock() {
    assert_eq!(Figures::of(FILE).solid("poplar"), ["~19.94 bd ft", "~21.06 bd ft", "~25.3 bd ft"]);
}
