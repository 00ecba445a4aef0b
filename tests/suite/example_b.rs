//! Two alcoves either side of a stove breast, in millimetres.
//!
//! Source of all values: the working in `examples/alcove-pair/README.md`, by plain arithmetic from what the project states. Areas
//! and weights are compared to the digits that are printed.

use crate::figures::{Figures, printed};
use scantling::parts::Role;

const FILE: &str = "examples/alcove-pair/alcove_pair.scant";

#[test]
fn slack_clear_shelf_and_gaps() {
    let b = Figures::of(FILE);
    b.mm("left.gap_left", "24");
    b.mm("left.gap_right", "30");
    b.mm("right.gap_left", "30");
    b.mm("right.gap_right", "25");
    b.mm("left.tall.clear", "914.8");
    b.mm("right.tall.clear", "774.8");
    b.mm("left.tall.shelf.files.length", "926.8");
    b.mm("right.tall.shelf.files.length", "786.8");
    for (reading, left, right) in [("low", "30", "35"), ("middle", "33", "32"), ("high", "37", "29")] {
        b.mm(&format!("left.end.left.{reading}.front"), left);
        b.mm(&format!("left.end.right.{reading}.front"), "30");
        b.mm(&format!("right.end.right.{reading}.front"), right);
    }
}

#[test]
fn stiles_and_plinth_boards_with_their_blanks() {
    let b = Figures::of(FILE);
    for (path, widths, mean, length, blank) in [
        ("left.stile.left", ["47.6", "50.6", "54.6"], "50.85", "2100", ["60", "2105"]),
        ("left.stile.right", ["47.6", "47.6", "47.6"], "47.6", "2100", ["55", "2105"]),
        ("right.stile.right", ["52.6", "49.6", "46.6"], "49.6", "2109", ["60", "2115"]),
        ("right.stile.left", ["47.6", "47.6", "47.6"], "47.6", "2109", ["55", "2115"]),
    ] {
        for (reading, width) in ["low", "middle", "high"].into_iter().zip(widths) {
            b.mm(&format!("{path}.width_{reading}"), width);
        }
        b.mm(&format!("{path}.width"), mean);
        b.mm(&format!("{path}.length"), length);
        b.mm(&format!("{path}.blank_width"), blank[0]);
        b.mm(&format!("{path}.blank_length"), blank[1]);
    }
    b.mm("left.tall.rail.bottom.width", "97.6");
    b.mm("left.tall.rail.bottom.blank_width", "105");
    b.mm("right.tall.rail.bottom.width", "106.6");
    b.mm("right.tall.rail.bottom.blank_width", "115");
}

#[test]
fn weights_and_diagonals() {
    let b = Figures::of(FILE);
    b.estimate("left.tall.diagonal", "~2304.9 mm");
    b.estimate("right.tall.diagonal", "~2250.8 mm");
    b.estimate("left.tall.weight", "~43.8 kg");
    b.estimate("right.tall.weight", "~39.4 kg");
    b.estimate("left.facing_weight", "~4.8 kg");
    b.estimate("right.facing_weight", "~4.4 kg");
}

#[test]
fn nails_brads_and_wall_screws() {
    let b = Figures::of(FILE);
    let count = |path: &str, run: &str| b.count_in(path, &format!("{run}.tall."), &format!("{run}.stile."));
    for (run, along, brads, screws) in [("left", 36, [30, 12, 24], 21), ("right", 30, [25, 10, 24], 14)] {
        assert_eq!(count("hardware.carcass_nail.shelf_ends", run), 42);
        assert_eq!(count("hardware.carcass_nail.stretcher_ends", run), 8);
        assert_eq!(count("hardware.carcass_nail.along_cleats", run), along);
        assert_eq!(count("hardware.carcass_nail.cleat_ends", run), 24);
        assert_eq!(count("hardware.brad.strips", run), brads[0]);
        assert_eq!(count("hardware.brad.rails", run), brads[1]);
        assert_eq!(count("hardware.brad.stiles", run), brads[2]);
        assert_eq!(count("hardware.wall_screw.wall", run), screws);
    }
    // Together nails 214, brads 125 (buy 225 and 132), wall screws 35.
    b.bought("carcass_nail", 214, 225);
    b.bought("brad", 125, 132);
    b.bought("wall_screw", 35, 35);
}

#[test]
fn marks_and_openings() {
    let b = Figures::of(FILE);
    let shelves = ["bottom", "files", "atlas", "novels", "cups", "jars"];
    let marks = ["80", "465", "795", "1110", "1420", "1725"];
    let behind = ["367.4", "312.4", "297.4", "292.4", "287.4", "339.8"];
    let front = ["345", "290", "275", "270", "265", "297.4"];
    let cleat = ["307.4", "252.4", "237.4", "232.4", "227.4", "279.8"];
    for run in ["left", "right"] {
        for (index, shelf) in shelves.into_iter().enumerate() {
            let path = |measure: &str| format!("{run}.tall.shelf.{shelf}.{measure}");
            b.mm(&path("mark"), marks[index]);
            b.mm(&path("clear_height"), behind[index]);
            b.mm(&path("opening_front"), front[index]);
            b.mm(&path("opening_rear"), cleat[index]);
            b.mm(&path("opening_depth"), "302.4");
        }
        b.mm(&format!("{run}.tall.top.z"), "2082.4");
    }
}

#[test]
fn dado_and_router() {
    let b = Figures::of(FILE);
    b.mm("left.tall.shelf.files.dado_width", "17.8");
    b.mm("router.spacer_1", "64");
    b.mm("router.spacer_2", "58.2");
    b.mm("router.overlap", "6.2");
    b.mm("router.board", "16");
}

#[test]
fn counts() {
    let b = Figures::of(FILE);
    for run in ["left.", "right."] {
        let count = |is: fn(&Role) -> bool| {
            let parts = b.compilation.graph.parts.iter();
            parts.filter(|part| part.path.starts_with(run) && is(&part.role)).count()
        };
        assert_eq!(count(|role| matches!(role, Role::Shelf | Role::Top)), 7);
        assert_eq!(count(|role| matches!(role, Role::Cleat)), 6);
        assert_eq!(count(|role| matches!(role, Role::Stretcher(..))), 2);
        assert_eq!(count(|role| matches!(role, Role::Strip)), 5);
        assert_eq!(count(|role| matches!(role, Role::TopRail | Role::BottomRail)), 2);
    }
}

#[test]
fn paint_by_class_glue_and_wall() {
    let b = Figures::of(FILE);
    for (run, areas, painted, wall, glued) in [
        (
            "left",
            ["~3.197", "~0.426", "~1.125", "~0.141", "~0.534", "~0.310", "0.285"],
            "6.018",
            "1.406",
            "0.477",
        ),
        (
            "right",
            ["~2.707", "~0.361", "~1.125", "~0.120", "~0.489", "~0.273", "0.243"],
            "5.318",
            "1.191",
            "0.434",
        ),
    ] {
        let classes = [
            "shelves",
            "cleats",
            "insides of sides",
            "backs of strips, rails and stile laps",
            "faces of the facing",
            "edges of the facing",
            "tops seen from above",
        ];
        for (class, area) in classes.into_iter().zip(areas) {
            assert_eq!(b.area(run, "paint", class), format!("{area} m2"), "{run} {class}");
        }
        assert_eq!(b.area(run, "paint", "all"), format!("~{painted} m2"));
        assert_eq!(b.area(run, "wall", "wall seen behind the shelves"), format!("~{wall} m2"));
        let surfaces = b.surfaces(run);
        assert_eq!(printed(surfaces.glued().estimate().value / 1e6, 3), glued, "{run}");
    }
}

#[test]
fn caulk_runs() {
    let b = Figures::of(FILE);
    for (run, lengths, total) in [
        ("left", ["4.2", "0.95", "~3.07", "~5.49", "~5.49"], "19.20"),
        ("right", ["~4.22", "0.81", "~3.07", "~4.65", "~4.65"], "17.40"),
    ] {
        let classes = [
            "stiles along walls",
            "open tops along the wall",
            "insides of sides along the wall",
            "shelf tops along the wall",
            "cleats along the wall",
        ];
        for (class, length) in classes.into_iter().zip(lengths) {
            assert_eq!(b.area(run, "caulk", class), format!("{length} m"), "{run} {class}");
        }
        assert_eq!(printed(b.surfaces(run).caulked().value / 1000.0, 2), total);
    }
}

#[test]
fn products_and_solid_stock() {
    let b = Figures::of(FILE);
    assert_eq!(b.product("primer"), ["1 coat on ~11.336 m2", "~1.48 L", "by the can; no `cans` are stated"]);
    assert_eq!(b.product("enamel")[1], "~2.96 L");
    assert_eq!(b.product("acrylic"), ["~36.60 m of seams", "12 m a cartridge", "4 cartridges"]);
    assert_eq!(b.product("wood_glue")[1], "~0.18 L");
    let solid = b.solid("poplar");
    // 0.576 and 0.534 m2 of blanks; with kerfs 1.171, and 20 % more 1.40.
    assert_eq!(solid, ["~1.110 m2", "~1.171 m2", "~1.40 m2"]);
}
