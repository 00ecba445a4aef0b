//! What holds units to the wall and to each other, and a top in its sides: every figure worked by hand, the working beside it.

use crate::compiled_text;
use crate::figures::Figures;
use scantling::diag::Severity;
use scantling::parts::RowKind;

/// A unit of 980 behind a gap of 20, so that its inner faces stand at 38 and 982.
fn bays(obstacle: &str) -> String {
    format!(
        "room r {{\n  wall w {{\n    right = open\n    reading low {{ back = 1000mm, front = 1000mm }}\n    \
         studs {{ at = [300mm, 700mm] }}\n    {obstacle}\n  }}\n}}\n\
         sheet ply {{ thickness = 18mm }}\nscrew long {{ length = 80mm }}\nstick s {{ low = 80mm, mid = 700mm }}\n\
         run one {{\n  along = r.w\n  end left {{ gap = 20mm }}\n  unit a {{\n    \
         shelves = s, width = rest, height = 1000mm, depth = 300mm, cleat {{ height = 60mm }}, top\n    \
         shelf low {{ bay here, bay there }}\n  }}\n}}\njoin cleat to wall with butt {{ screw = long }}\n"
    )
}

/// How many screws each part at the wall has, by its path.
fn screws(text: &str) -> Vec<(String, usize)> {
    let compilation = compiled_text(text);
    let graph = &compilation.graph;
    let rows = graph.rows.iter().filter(|row| row.kind == RowKind::Wall);
    rows.map(|row| (graph.called(row.guest).to_owned(), row.count)).collect()
}

fn of(rows: &[(&str, usize)]) -> Vec<(String, usize)> {
    rows.iter().map(|(path, count)| ((*path).to_owned(), *count)).collect()
}

/// Clear 980 - 2 x 18 = 944, so bays of (944 - 18) / 2 = 463: from 38 to 501 and from 519 to 982. With 20 for the driver at each
/// side the first reaches from 58 to 481, where 300 is, the second from 539 to 962, where 700 is.
#[test]
fn a_cleat_of_a_bay_has_screws_only_in_the_studs_behind_it() {
    let expected = [
        ("one.a.shelf.low.bay.here.cleat.mid", 1),
        ("one.a.shelf.low.bay.there.cleat.mid", 1),
        ("one.a.cleat.top", 2),
    ];
    assert_eq!(screws(&bays("")), of(&expected));
    // A divider from 501 to 519: the driver does not reach a stud at 482, but one at 481.
    let near = |stud: &str| screws(&bays("").replace("300mm, 700mm", stud));
    assert_eq!(near("481mm, 700mm")[0].1, 1);
    assert_eq!(near("482mm, 700mm")[0].1, 0);
}

/// The cleat under the top hangs from 922 to 982. An outlet from 660 to 720 is in its way where it is higher than 922.
#[test]
fn no_screw_stands_in_the_gap_of_a_cleat() {
    let outlet = |left: &str, bottom: &str| {
        let outlet = format!(
            "obstacle socket {{ kind = outlet, left = {left}, bottom = {bottom}, width = 60mm, height = 50mm, decided = cut_round }}"
        );
        screws(&bays(&outlet))[2].1
    };
    assert_eq!(outlet("660mm", "930mm"), 1);
    // From 640 to 700: the stud at 700 stands at its edge. To 699: it does not.
    assert_eq!(outlet("640mm", "930mm"), 1);
    assert_eq!(outlet("639mm", "930mm"), 2);
    // Up to 922 it is under the cleat.
    assert_eq!(outlet("660mm", "872mm"), 2);
    assert_eq!(outlet("660mm", "873mm"), 1);
}

/// A rail along the whole wall, as deep as the cleat or deeper, leaves nothing of it to screw.
#[test]
fn a_cleat_that_is_cut_away_whole_has_no_screws() {
    let rail = |deep: &str| {
        let rail = format!(
            "obstacle rail {{ kind = chair_rail, bottom = 900mm, height = 90mm, projection = {deep}, decided = cut_round }}"
        );
        let text = bays(&rail);
        let compilation = compiled_text(&text);
        let made = compilation.graph.named("one.a.cleat.top").is_some();
        let told = compilation.diagnostics.iter().find(|told| told.code.id == "L042");
        (screws(&text).get(2).map(|(_, count)| *count), made, told.map(|told| told.message.clone()))
    };
    let gone = "the chair rail leaves nothing of `one.a.cleat.top`: not made";
    assert_eq!(rail("18mm"), (None, false, Some(gone.to_owned())));
    // Of a cleat 18 thick 1 is left before a rail of 17: it is rabbeted, not split.
    assert_eq!(rail("17mm"), (Some(2), true, None));
}

/// A stretcher of 80 behind a baseboard of 90 is not made; of one behind 79 a strip is left, which is notched.
#[test]
fn a_rear_stretcher_that_is_cut_away_whole_is_not_made() {
    let made = |height: &str| {
        let board = format!(
            "obstacle b {{ kind = baseboard, height = {height}, projection = 20mm, decided = cut_round }}"
        );
        let text = bays(&board).replace("top\n", "top, stretcher bottom\n");
        compiled_text(&text).graph.named("one.a.stretcher.bottom.rear").is_some()
    };
    assert!(!made("90mm"));
    assert!(!made("80mm"));
    assert!(made("79mm"));
}

/// The cleat under the top is 944 long. In masonry its row begins 40 from the ends, at most 200 apart: (944 - 80) / 200 = 4.3, so 5
/// spaces and 6 plugs. A box from 460 to 520 leaves 422 and 462 of it, from 38 to 460 and from 520 to 982: (422 - 80) / 200 = 1.7, so
/// 3 plugs, and (462 - 80) / 200 = 1.9, so 3.
#[test]
fn plugs_stand_in_what_is_left_of_a_cleat() {
    let plugs = |obstacle: &str| {
        screws(&bays(obstacle).replace("right = open", "right = open\n    fixing = masonry"))
            .last()
            .unwrap()
            .1
    };
    let outlet = |left: &str, width: &str| {
        format!(
            "obstacle socket {{ kind = outlet, left = {left}, bottom = 930mm, width = {width}, height = 50mm, decided = cut_round }}"
        )
    };
    assert_eq!(plugs(""), 6);
    assert_eq!(plugs(&outlet("460mm", "60mm")), 6);
    // From 100 to 982 nothing is left but 62 at the left, room for one.
    assert_eq!(plugs(&outlet("100mm", "882mm")), 1);
    // Of 39 none is 40 from an end.
    assert_eq!(plugs(&outlet("77mm", "905mm")), 0);
}

/// A unit behind which one stud stands is held by blocking behind its cleats. Their middles lie at 670 and 952; the cleats of the bays
/// are 463 long: (463 - 80) / 200 = 1.9, so 3 screws each.
#[test]
fn blocking_takes_a_row_of_screws() {
    let one = bays("").replace("300mm, 700mm", "700mm");
    let with = |blocking: &str| {
        let text = one.replace("studs {", &format!("{blocking}\n    studs {{"));
        (screws(&text), told(&text).contains(&"C021"))
    };
    let bays_of = |left, right, top| {
        of(&[
            ("one.a.shelf.low.bay.here.cleat.mid", left),
            ("one.a.shelf.low.bay.there.cleat.mid", right),
            ("one.a.cleat.top", top),
        ])
    };
    assert_eq!(with(""), (bays_of(0, 1, 1), true));
    assert_eq!(with("blocking { bottom = 640mm }"), (bays_of(3, 3, 1), false));
    // From 640 to 670 it ends at the middle of the cleats, where the screws would go.
    assert_eq!(with("blocking { bottom = 640mm, height = 30mm }"), (bays_of(0, 1, 1), true));
    // From 400 on: behind the left cleat, which ends at 501, lie 101 of it, too short for two screws 40 from its ends and a little:
    // (101 - 80) / 200 = 0.1, so 2.
    assert_eq!(with("blocking { bottom = 640mm, left = 400mm }"), (bays_of(2, 3, 1), false));
    assert_eq!(with("blocking { bottom = 640mm, left = 400mm, width = 50mm }"), (bays_of(1, 1, 1), false));
}

/// The row in a seam is as long as the lower of the two units is high.
#[test]
fn a_seam_is_as_high_as_the_lower_unit() {
    let text = |[a, b]: [&str; 2]| {
        format!(
            "sheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm }}\nrun one {{\n  each unit {{ shelves = s, width = 500mm, depth = 300mm }}\n  \
             unit a {{ height = {a} }}\n  unit b {{ height = {b} }}\n}}\n"
        )
    };
    for heights in [["900mm", "1200mm"], ["1200mm", "900mm"]] {
        let compilation = compiled_text(&text(heights));
        let seam = compilation.graph.rows.iter().find(|row| row.kind == RowKind::Seam).unwrap();
        assert_eq!(seam.length.value.mm().to_string(), "900");
    }
}

/// Clear 30 - 2 x 3/4 = 28 1/2. Shelves reach 1/4 into each side, 29; a top in rabbets of 3/8 reaches 28 1/2 + 3/4 = 29 1/4. Without a
/// depth of its own the rabbet is as deep as the dados.
#[test]
fn a_top_is_as_long_as_its_rabbets_are_deep() {
    let text = |rabbet: &str| {
        format!(
            "sheet ply {{ thickness = 3/4\" }}\nstick s {{ low = 3\" }}\n\
             carcass c {{ shelves = s, width = 30\", height = 36\", depth = 11\", top }}\n\
             join shelf to side with dado {{ depth = 1/4\" }}\njoin top to side with rabbet {{ {rabbet} }}\n"
        )
    };
    let stated = Figures::of_text(&text("depth = 3/8\""));
    stated.inch("c.top.length", "29 1/4");
    stated.inch("c.top.x", "3/8");
    stated.inch("c.shelf.low.length", "29");
    let usual = Figures::of_text(&text(""));
    usual.inch("c.top.length", "29");
}

fn told(text: &str) -> Vec<&'static str> {
    compiled_text(text).diagnostics.iter().map(|diagnostic| diagnostic.code.id).collect()
}

/// One cleat under a shelf at 600, whose middle is at 600 - 30 = 570. 800 above it ends a side of 1370 and not one of 1371.
#[test]
fn a_unit_is_held_near_its_top() {
    let unit = |height: &str, mark: &str| {
        let text = bays("").replace("top\n    shelf low { bay here, bay there }\n", "\n");
        told(&text.replace("height = 1000mm", height).replace("mid = 700mm", mark))
    };
    assert!(!unit("height = 1370mm", "mid = 600mm").contains(&"C101"));
    assert!(unit("height = 1371mm", "mid = 600mm").contains(&"C101"));
}

/// Nothing holds a unit without cleats and rear stretchers: how many studs stand behind it says nothing.
#[test]
fn studs_count_by_the_screws_in_them() {
    let one = bays("").replace("300mm, 700mm", "700mm");
    assert!(told(&one).contains(&"C021"));
    assert!(!told(&one.replace(", cleat { height = 60mm }", "")).contains(&"C021"));
    // A single stud each in two bays: two studs hold the unit.
    let low = bays("").replace(", top\n", "\n").replace("mid = 700mm", "mid = 700mm, high = 900mm");
    assert!(!told(&low).contains(&"C021"));
}

/// Half of 18 is 9: for what carries a shelf an error, for a back a word.
#[test]
fn a_back_may_be_set_in_deeper_than_half_the_wood() {
    let text = |shelf: &str, back: &str| {
        format!(
            "sheet ply {{ thickness = 18mm }}\nsheet thin {{ thickness = 6mm }}\nstick s {{ low = 80mm }}\n\
             carcass c {{ stock = ply, shelves = s, width = 600mm, height = 900mm, depth = 300mm, back {{ stock = thin }} }}\n\
             join shelf to side with dado {{ depth = {shelf} }}\njoin back to side with rabbet {{ depth = {back} }}\n"
        )
    };
    let deep = |shelf: &str, back: &str| {
        let compilation = compiled_text(&text(shelf, back));
        let told = compilation.diagnostics.iter().filter(|told| ["C001", "C102"].contains(&told.code.id));
        told.map(|told| (told.code.id, told.code.severity == Severity::Error, told.help.concat()))
            .collect::<Vec<_>>()
    };
    assert_eq!(deep("6mm", "9mm"), []);
    let left = "8 mm of wood are left; 9 mm at most leaves half";
    assert_eq!(deep("6mm", "10mm"), [("C102", false, left.to_owned())]);
    let half = "leave half the wood: 9 mm at most";
    assert_eq!(deep("10mm", "9mm"), [("C001", true, half.to_owned())]);
}
