//! Facings that are frames: rails and strips joined into the stiles. Lengths in millimetres, worked by hand beside each text.

use crate::compiled_text;
use crate::figures::Figures;
use crate::revisions::side;
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::diff::{diff, document};
use scantling::parts::{GlueClass, JointKind, RowKind, RunId, Work};
use scantling::quantity::Rational;
use scantling::sheets::sheet;

/// Two units of 902 in 1848, a stile of 44 over the seam, strips, rails and a divided opening; 20 thick.
fn wall(join: &str) -> String {
    format!(
        "project {{ marks = 0.1mm }}\nsheet ply {{ thickness = 18mm, density = 680 kg/m3 }}\nboard ash {{ thickness = 20mm, density = 600 kg/m3 }}\nscrew pocket {{ length = 30mm }}\nstick s {{ low = 80mm, mid = 700mm, high = 1400mm }}\nrun r {{\n  length = 1848mm\n  each unit {{ shelves = s, width = rest, height = 2000mm, depth = 300mm, top, stretcher bottom }}\n  unit a {{ shelf mid {{ bay one {{ shelf low }}, bay two {{ shelf low }} }} }}\n  unit b\n  facing {{ stock = ash, stile = 44mm, divider = 45mm, lap = 4mm, strip = 40mm, top_rail = 60mm, bottom_rail = to_floor }}\n{join}}}\n"
    )
}

const TENON: &str = "  join rail to stile with tenon { depth = 16mm, glue = pva }\n";

fn told(compilation: &Compilation, slug: &str) -> Vec<String> {
    let of = compilation.diagnostics.iter().filter(|told| told.code.slug == slug);
    of.flat_map(|told| std::iter::once(&told.message).chain(&told.notes).chain(&told.help).cloned()).collect()
}

#[test]
fn rails_and_strips_are_longer_by_their_tenons() {
    let (joined, single) = (Figures::of_text(&wall(TENON)), Figures::of_text(&wall("")));
    // 902 - 36 = 866 clear, 858 between stiles that lap 4 at each side; 858 + 32.
    for part in ["rail.top", "rail.bottom", "strip.mid"] {
        single.mm(&format!("r.b.{part}.length"), "858");
        joined.mm(&format!("r.b.{part}.length"), "890");
    }
    // Between the divider and the sides (866 - 18) / 2 = 424 are clear; the stile of 45 laps 13.5: 424 - 4 - 13.5.
    single.mm("r.a.shelf.mid.bay.one.strip.low.length", "406.5");
    joined.mm("r.a.shelf.mid.bay.one.strip.low.length", "438.5");
    // The stile before the divider stands from the strip under it, whose top is at 718, to the one over it: 1400 + 18 - 40 - 718.
    single.mm("r.a.shelf.mid.stile.one.two.length", "660");
    joined.mm("r.a.shelf.mid.stile.one.two.length", "692");
    // Stiles that run through stay as they are.
    joined.mm("r.stile.a.b.length", "2000");
    // As carried: blanks of the end stiles, 22 + 18 + 4 = 44 and 5 to scribe are 49, so 50, and 1760 between them.
    joined.mm("r.frame_width", "1860");
    joined.mm("r.frame_height", "2000");
    assert!(!single.compilation.graph.measures().contains_key("r.frame_width"));
}

#[test]
fn mortises_are_marked_where_the_rails_meet_the_stiles() {
    let f = Figures::of_text(&wall(TENON));
    let graph = &f.compilation.graph;
    let path = |id| graph.part(id).unwrap().path.as_str();
    let mortises = graph.joints.iter().filter(|joint| matches!(joint.kind, JointKind::Mortise { .. }));
    let mut all: Vec<(&str, &str, String)> = mortises
        .map(|joint| {
            (
                path(joint.guest),
                path(joint.host),
                f.compilation.model.project.marks.print(joint.at.value).text().to_owned(),
            )
        })
        .collect();
    all.sort();
    let expected = [
        // Bottom rails from the floor; strips 718 - 40 and 1418 - 40; top rails 2000 - 60.
        ("r.a.rail.bottom", "r.stile.a.b", "0 mm"),
        ("r.a.rail.bottom", "r.stile.left", "0 mm"),
        ("r.a.rail.top", "r.stile.a.b", "1940 mm"),
        ("r.a.rail.top", "r.stile.left", "1940 mm"),
    ];
    for (guest, host, at) in expected {
        assert!(all.contains(&(guest, host, at.to_owned())), "{guest} in {host}: {all:?}");
    }
    // Top and bottom rails and two strips of each unit, two strips of bays, a stile before a divider: two ends each.
    assert_eq!(all.len(), 2 * (8 + 2 + 1));
    let held =
        |guest: &str| all.iter().filter(|(g, ..)| *g == guest).map(|(_, host, _)| *host).collect::<Vec<_>>();
    assert_eq!(held("r.a.shelf.mid.bay.one.strip.low"), ["r.a.shelf.mid.stile.one.two", "r.stile.left"]);
    assert_eq!(held("r.a.shelf.mid.stile.one.two"), ["r.a.strip.high", "r.a.strip.mid"]);
}

#[test]
fn tenons_change_neither_paint_nor_weight_nor_brads() {
    let (joined, single) = (compiled_text(&wall(TENON)), compiled_text(&wall("")));
    let surfaces = |of: &Compilation| of.graph.surfaces(of.graph.faces().unwrap(), Work::Left)[0].clone();
    assert_eq!(surfaces(&joined).paint, surfaces(&single).paint);
    assert_eq!(surfaces(&joined).caulk, surfaces(&single).caulk);
    let weight = |of: &Compilation| of.graph.facing_weight(RunId(0)).unwrap().value.to_bits();
    assert_eq!(weight(&joined), weight(&single));
    let rows = |of: &Compilation| of.graph.rows.iter().map(|row| row.count).sum::<usize>();
    assert_eq!(rows(&joined), rows(&single));
    // Each end 20 thick, and two cheeks of 16: rails 98 and 60 and two strips of 40 at both ends of both units, two strips of bays,
    // a stile of 45.
    let ends = 2 * 2 * (98 + 60 + 40 + 40) + 2 * 2 * 40 + 2 * 45;
    let glued = surfaces(&joined).glue[&GlueClass::Frame];
    assert_eq!(glued, Rational::from(ends * (20 + 32)));
    assert!(!surfaces(&single).glue.contains_key(&GlueClass::Frame));
    let finish = (sheet("finish").unwrap().make)(joined.subject(Effort::Quick)).json.value().to_string();
    assert!(finish.contains("rails in stiles"), "{finish}");
}

#[test]
fn butted_ends_are_screwed() {
    let text = wall("  join rail to stile with butt { screw = pocket }\n");
    let f = Figures::of_text(&text);
    f.mm("r.b.rail.top.length", "858");
    let rows: Vec<_> = f.compilation.graph.rows.iter().filter(|row| row.kind == RowKind::Frame).collect();
    // Two in each end, however narrow.
    assert_eq!((rows.len(), rows.iter().map(|row| row.count).sum::<usize>()), (22, 44));
}

#[test]
fn one_rail_may_be_joined_by_itself() {
    let f = Figures::of_text(&wall(&format!(
        "{TENON}  join a.rail.top to stile with tenon {{ depth = 10mm }}\n"
    )));
    f.mm("r.a.rail.top.length", "878");
    f.mm("r.b.rail.top.length", "890");
    // Butted among tenons, and a tenon of the usual 25 among butted ends.
    let f = Figures::of_text(&wall(&format!(
        "{TENON}  join a.rail.top to stile with butt {{ screw = pocket }}\n"
    )));
    f.mm("r.a.rail.top.length", "858");
    f.mm("r.b.rail.top.length", "890");
    let text =
        "  join rail to stile with butt { screw = pocket }\n  join a.rail.bottom to stile with tenon\n";
    let text = wall(text).replace("stile = 44mm", "stile = 60mm").replace("lap = 4mm", "lap = 12mm");
    let f = Figures::of_text(&text);
    // Gaps of 60 - 18 - 12 = 30, units of (1848 - 2 x 30) / 2 = 894: 858 clear, 834 between stiles; 834 + 2 x 25.
    f.mm("r.a.rail.bottom.length", "884");
    f.mm("r.b.rail.bottom.length", "834");
}

#[test]
fn tenons_leave_wood_in_the_stiles() {
    // Over the seam 44 - 2 x 20 = 4, before the divider 45 - 2 x 20 = 5; (44 - 6) / 2 = 19 leaves 6.
    let text = wall("  join rail to stile with tenon { depth = 20mm }\n");
    let expected = [
        "tenons of 20 mm from both edges leave 4 mm of `r.stile.a.b` and 1 other part, 44 mm wide",
        "make them 19 mm long or shorter, or the stile wider",
    ];
    assert_eq!(told(&compiled_text(&text), "mortise"), expected);
    let fixed = compiled_text(&text.replace("depth = 20mm", "depth = 19mm"));
    assert_eq!(told(&fixed, "mortise"), [""; 0]);
}

#[test]
fn a_frame_lies_in_one_plane_and_comes_in_by_the_door() {
    let text = wall(TENON).replace("  unit b\n", "  unit b { depth = 320mm }\n");
    let expected = [
        "the frame of `r` does not lie in one plane: `r.a` and `r.b` differ in depth",
        "make them equally deep, or each depth a run of its own",
        "or delete the join: rails, strips and stiles are then put on one by one",
    ];
    assert_eq!(told(&compiled_text(&text), "frame"), expected);
    let room = "room h {\n  wall w { left = open, right = open, reading low { back = 2750mm, front = 2750mm } }\n  route yard { door gate { width = 700mm, height = 2100mm }, corner hall { entry = 700mm, exit = 650mm, ceiling = 2200mm } }\n}\n";
    let joined = "  join rail to stile with tenon { depth = 10mm }\n";
    let run = wall(joined).replace("length = 1848mm", "along = h.w").replace("width = rest", "width = 900mm");
    let run = run.replace("  unit b\n", "  unit b\n  unit c\n");
    let told = told(&compiled_text(&format!("person {{ count = 1 }}\n{room}{run}")), "route");
    assert_eq!(told[0], "`r.frame`, 2700 mm long, does not come round the corner `hall`");
    assert!(told.last().unwrap().ends_with("join it in the room, or make two frames of it"), "{told:?}");
}

#[test]
fn a_frame_is_carried_by_itself() {
    let text =
        format!("person {{ count = 1 }}\n{}", wall(TENON).replace("height = 2000mm", "height = 2200mm"));
    let compilation = compiled_text(&text);
    let carry = told(&compilation, "carry");
    assert!(carry.iter().any(|line| line.contains("2200 mm long: `r.frame`")), "{carry:?}");
}

/// The mortises of both top rails in three stiles: from 2000 - 60 to 2000 - 80.
#[test]
fn a_higher_rail_moves_the_mortises_in_the_stiles() {
    let text = wall(TENON);
    let [old, new] =
        [text.clone(), text.replace("top_rail = 60mm", "top_rail = 80mm")].map(|text| compiled_text(&text));
    let (old, new) = (side("old", &old), side("new", &new));
    let page = scantling::render::csv(&document(&diff(old, new), old, new));
    let rows: Vec<&str> =
        page.lines().filter(|row| row.starts_with("\"Marks, grooves and mortises\",")).collect();
    assert_eq!(rows.len(), 1, "{page}");
    for told in ["top,moves,1940", "1920", "r.stile.left", "r.stile.right", "r.stile.a.b"] {
        assert!(rows[0].contains(told), "{told}: {}", rows[0]);
    }
}

/// The example of a pantry; sizes in inches.
#[test]
fn the_pantry_is_as_worked_by_hand() {
    let f = Figures::of("examples/pantry/pantry.scant");
    // Only notes on its sheets: one is hardly used, and a lower floor would save it.
    let told: Vec<&str> = f.compilation.diagnostics.iter().map(|told| told.code.id).collect();
    assert_eq!(told, ["C127", "C090"]);
    // Lap (2 - 2 x 23/32) / 2 = 9/32, wanted gaps 2 - 23/32 - 9/32 = 1: (73 - 2) / 2.
    f.inch("store.jars.width", "35 1/2");
    f.inch("store.jars.clear", "34 1/16");
    // 34 1/16 - 9/16 = 33 1/2, and two tenons of 3/4.
    f.inch("store.linen.rail.top.length", "35");
    f.inch("store.jars.rail.bottom.length", "35");
    f.inch("store.linen.strip.tins.length", "35");
    // End stiles: at the low front the gap is 1 and 3/8 more, with 1 over side and opening.
    f.inch("store.stile.left.width_low", "2 3/8");
    // Blanks 2 3/8 + 1/4; the frame 2 x 2 5/8 and 71 - 2 between them.
    f.inch("store.frame_width", "74 1/4");
    // 84, 1/4 to the deepest floor and 1/4 to scribe.
    f.inch("store.frame_height", "84 1/2");
    // 34 - 3 1/2 - 23/32 = 29 25/32 high, 3/16 into each shelf; behind: 34 1/16 + 2 x 5/16; loose: 34 1/16 - 1/8.
    f.inch("store.linen.shelf.floor.divider.trays.pots.length", "30 5/32");
    f.inch("store.jars.back.width", "34 11/16");
    f.inch("store.jars.shelf.floor.loose[1].length", "33 15/16");
    // What drops before the divider: 23/32 + 2 x 9/32 wide, from the shelf's top to the strip over it, 29, and two tenons.
    f.inch("store.linen.shelf.floor.stile.trays.pots.width", "1 9/32");
    f.inch("store.linen.shelf.floor.stile.trays.pots.length", "30 1/2");
}
