//! Ceilings that slope, and units that follow them. Every figure is worked beside it, in millimetres.

use crate::figures::Figures;
use crate::properties::runner;
use crate::{codes, compiled_text};
use proptest::prelude::*;
use scantling::breakdown::Effort;
use scantling::document::{Block, Step};
use scantling::pages::place;
use scantling::parts::{Contact, MeasureValue, PaintClass, RowKind};
use scantling::quantity::{Length, Rational};

/// A knee wall 1200 high, and 3 up for 4 in from there; 12 stay open, so that the line begins at 1188.
const LOFT: &str = r#"
room loft {
  ceiling { above = 1200mm, slope { rise = 300mm, over = 400mm, level = 2400mm } }
  wall knee {
    right = open
    lining = 12mm
    reading low { back = 1630mm, front = 1630mm }
    reading middle { back = 1630mm, front = 1630mm }
    reading high { back = 1630mm, front = 1630mm }
    studs { first = 130mm, every = 300mm }
  }
}
sheet birch { size = 2440mm x 1220mm, thickness = 18mm, density = 680 kg/m3, skim = 3mm }
nail brad { length = 50mm }
screw wall_screw { length = 80mm }
stick lines { low = 80mm, mid = 600mm, high = 1050mm, eaves = 1300mm, ridge = 1600mm }
run shelves {
  along = loft.knee
  each unit { shelves = lines, width = 800mm, depth = 400mm, follow { gap = 12mm }, cleat { height = 60mm } }
  unit books { height = 1400mm }
  unit tall
}
join shelf to side with dado { depth = 6mm, nail = brad }
join cleat to wall with butt { screw = wall_screw }
saw table { kerf = 3mm }
"#;

#[test]
fn sides_are_cut_along_the_slope_and_shelves_end_before_it() {
    let f = Figures::of_text(LOFT);
    // Without a height of its own it is as high as the line over its front edges: 1188 + 400 x 3/4.
    f.mm("shelves.tall.height", "1488");
    f.mm("shelves.books.height", "1400");
    let outline = |path: &str| {
        let graph = &f.compilation.graph;
        let part = graph.parts.iter().find(|part| part.path == path).unwrap();
        let mm = |place: Length| place.mm();
        graph.outline(part).unwrap().into_iter().map(|spot| spot.map(mm)).collect::<Vec<_>>()
    };
    let spot = |y: (i128, i128), z: i128| [Rational::new(y.0, y.1), Rational::from(z)];
    // The line is 1400 high (1400 - 1188) x 4/3 = 282 2/3 off the wall.
    let books =
        [spot((0, 1), 0), spot((400, 1), 0), spot((400, 1), 1400), spot((848, 3), 1400), spot((0, 1), 1188)];
    assert_eq!(outline("shelves.books.side.left"), books);
    let tall = [spot((0, 1), 0), spot((400, 1), 0), spot((400, 1), 1488), spot((0, 1), 1188)];
    assert_eq!(outline("shelves.tall.side.right"), tall);
    // 1050 + 18 is under 1188: the whole depth. 1300 + 18 is (1318 - 1188) x 4/3 = 173 1/3 off the wall: 226 2/3 are left.
    f.mm("shelves.tall.shelf.high.width", "400");
    f.mm("shelves.tall.shelf.high.y", "0");
    f.mm("shelves.tall.shelf.eaves.y", "520/3");
    f.mm("shelves.tall.shelf.eaves.width", "680/3");
    // 1600 would stand over the ceiling, and is left out and said, as are the cleats under what ends before the wall.
    let said = f.compilation.diagnostics.iter().filter(|told| told.code.id == "L054");
    let said: Vec<&str> = said.map(|told| told.message.as_str()).collect();
    assert_eq!(said.len(), 4, "{said:?}");
    assert!(said[0].contains("`ridge` of `shelves.books`"), "{said:?}");
    let parts = &f.compilation.graph.parts;
    assert!(parts.iter().all(|part| !part.path.contains("ridge") && !part.path.ends_with("cleat.eaves")));
}

#[test]
fn fasteners_weight_paint_and_sheets_follow_the_polygon() {
    let f = Figures::of_text(LOFT);
    // A side of 400 x 1488 less 400 x 300 / 2, less three grooves of 400 and one of 680/3, 18 wide and 6 deep.
    let graph = &f.compilation.graph;
    let side = graph.parts.iter().find(|part| part.path == "shelves.tall.side.left").unwrap();
    let left = 18 * (400 * 1488 - 60_000) - 6 * 18 * (3 * 400) - 6 * 6 * 680;
    assert_eq!(graph.volume_left(side, &graph.cut_off()), Some(Rational::from(left)));
    // Two of them, three shelves 764 + 12 long, one of 680/3, cleats under two shelves.
    let volume = 2 * left + 3 * 18 * 400 * 776 + 6 * 680 * 776 + 2 * 18 * 60 * 764;
    let MeasureValue::Estimate(weight, _) = f.measure("shelves.tall.weight").value else { panic!() };
    assert!((weight.value - f64::from(u32::try_from(volume).unwrap()) * 680e-9).abs() < 1e-9);
    // The outer right side is open: 400 x 1488 - 60 000. At the seam the taller one is, over 1400: from 282 2/3 to the front, 352/3 wide,
    // and 88 high, half of that. The left one stands 30 from its wall, where nobody paints.
    let surfaces = f.surfaces("shelves");
    let seam = Rational::new(352 * 88, 6);
    assert_eq!(surfaces.paint[&PaintClass::OpenSides], Rational::from(535_200) + seam);
    // Behind low 1 and 2: 600 - 98 - 60 and 1050 - 618 - 60; behind high the wall ends at 1200: 1200 - 1068. 764 wide, in both.
    assert_eq!(surfaces.wall_behind, Rational::from(2 * 764 * (442 + 372 + 132)));
    // Nails in a dado stand 40 in from its ends and at most 115 apart: (400 - 80) / 115, up, + 1 = 4; (226 2/3 - 80) / 115, up, + 1 = 3.
    let nails = |of: &str| {
        let own = graph.rows.iter().filter(|row| row.kind == RowKind::ShelfEnd);
        own.filter(|row| graph.called(row.guest).ends_with(of)).map(|row| row.count).collect::<Vec<_>>()
    };
    assert_eq!(nails("tall.shelf.mid"), [4, 4]);
    assert_eq!(nails("tall.shelf.eaves"), [3, 3]);
    assert_eq!(f.count("hardware.brad.count"), 2 * (3 * 8 + 6));
    // Studs at 130, 430 and 730 in the first unit; of those at 1030, 1330 and 1630 the last stands at its side. Two cleats each.
    assert_eq!(f.count("hardware.wall_screw.count"), 2 * (3 + 2));
    // Blanks are rectangles: four sides of 400, of which no two share a rip of 2433.5, and 3 rips a sheet of 1213.5: 2 sheets. In one two
    // times 1488 + 3 + 776 and three times 776, in the other 1400 + 3 + 776 and 1400, the two of 226 2/3 and the cleats.
    let text = LOFT.to_owned() + "require project.sheets >= 2\nrequire project.sheets <= 2\n";
    assert!(!compiled_text(&text).has_errors());
    // The cuts are named from the bottom end: arc tan 3/4 = 36.87 degrees.
    let cut_list = f.sheet("cut-list").to_string();
    let cut = "from 1188 mm of the rear edge, from the bottom end, to ~117.3 mm of the top end from the front edge; ~36.87 deg off square";
    assert!(cut_list.contains(cut), "{cut_list}");
}

#[test]
fn what_does_not_fit_under_the_slope_is_said() {
    let of = |from: &str, to: &str| {
        let text = LOFT.replace(from, to);
        assert_ne!(text, LOFT);
        codes(&compiled_text(&text))
    };
    // 1488 is what the front leaves, no more.
    assert!(!of("height = 1400mm", "height = 1488mm").contains(&"L051"));
    assert!(of("height = 1400mm", "height = 1489mm").contains(&"L051"));
    // No ceiling is read.
    assert!(
        of("ceiling { above = 1200mm, slope { rise = 300mm, over = 400mm, level = 2400mm } }", "")
            .contains(&"L051")
    );
    // A top at 1488 has no depth; at 1487 it has 4/3.
    assert!(of("cleat { height = 60mm } }", "cleat { height = 60mm }, top }").contains(&"L050"));
    let lower = LOFT.replace("unit tall", "unit tall { height = 1487mm, top }");
    assert!(!codes(&compiled_text(&lower)).contains(&"L050"));
    // A shelf 100 deep: 1188 + 300 x 3/4 - 18 = 1395 is the last mark that leaves so much.
    let eaves = |mark: &str| {
        let text = LOFT.replace("eaves = 1300mm", mark).replace("books { height = 1400mm }", "books");
        codes(&compiled_text(&text))
    };
    assert!(!eaves("eaves = 1395mm").contains(&"C141"));
    assert!(eaves("eaves = 1396mm").contains(&"C141"));
    // On high, at 1068, what is 200 high meets the line at (1268 - 1188) x 4/3 = 106 2/3: 293 1/3 are left.
    let stands = |deep: &str| {
        let stated =
            format!("unit tall {{ contents files {{ on = [high], height = 200mm, depth = {deep} }} }}");
        codes(&compiled_text(&LOFT.replace("unit tall", &stated)))
    };
    assert!(!stands("293mm").contains(&"C142"));
    assert!(stands("294mm").contains(&"C142"));
    // Nothing lies level on such sides.
    assert!(of("unit tall", "unit tall { counter }").contains(&"L053"));
    assert!(of("unit tall", "unit tall { stretcher top { height = 40mm } }").contains(&"L053"));
    assert!(
        !of("unit tall", "unit tall { height = 1400mm, stretcher top { height = 40mm, at = front } }")
            .contains(&"L053")
    );
    // Without following it, it is as high as the knee wall.
    let square = |high: &str| {
        of(
            "unit tall",
            &format!("unit tall {{ height = {high}, without = [follow], skip = [eaves, ridge] }}"),
        )
    };
    assert!(!square("1200mm").contains(&"C140"));
    assert!(square("1201mm").contains(&"C140"));
}

/// Turned about its front lower edge, the farthest is the upper front corner, 1488, and not the diagonal of 400 x 1488 = 1540.8; the
/// corner at the rear edge is 1253.5 away. With 12.7 over it 1500.7.
#[test]
fn it_is_stood_up_with_its_own_outline_under_the_level_ceiling() {
    let told = |level: &str| codes(&compiled_text(&LOFT.replace("level = 2400mm", level))).contains(&"C024");
    assert!(told("level = 1500mm"));
    assert!(!told("level = 1501mm"));
    let f = Figures::of_text(LOFT);
    let tall = f.compilation.graph.units.iter().find(|unit| unit.path == "shelves.tall").unwrap();
    assert!((tall.rolled() - 1488.0).abs() < 1e-9);
    // Of the other the rear corner of its top end: 117 1/3 from the front, 1400 up.
    let books = f.compilation.graph.units.iter().find(|unit| unit.path == "shelves.books").unwrap();
    assert!((books.rolled() - (1400.0_f64.powi(2) + (352.0_f64 / 3.0).powi(2)).sqrt()).abs() < 1e-9);
}

/// A ceiling that falls from 2400 to 1800 over 2000 along the wall: 3/10.
#[test]
fn units_step_down_along_a_wall() {
    let text = LOFT
        .replace(
            "ceiling { above = 1200mm, slope { rise = 300mm, over = 400mm, level = 2400mm } }",
            "ceiling { at = [0mm, 2000mm], above = [2400mm, 1800mm] }",
        )
        .replace("unit books { height = 1400mm }", "unit books")
        .replace("along = loft.knee", "along = loft.knee\n  stood_up_under = 2400mm")
        .replace("ridge = 1600mm", "ridge = 1890mm");
    let f = Figures::of_text(&text);
    // Left faces at 30 and 830; the lowest is over the right face of each: 2400 - 0.3 x 830 - 12 and 2400 - 0.3 x 1630 - 12.
    f.mm("shelves.books.height", "2139");
    f.mm("shelves.tall.height", "1899");
    // 1890 + 18 is over 1899: that shelf is left out of the second unit alone.
    f.mm("shelves.books.shelf.ridge.width", "400");
    let parts = &f.compilation.graph.parts;
    assert!(parts.iter().all(|part| part.path != "shelves.tall.shelf.ridge"));
    assert!(codes(&f.compilation).contains(&"L054"));
    assert!(f.compilation.graph.units.iter().all(|unit| unit.slant.is_none()));
}

/// 3 down for 4 towards the front: the line is 1188 at the wall and 888 over the front edges.
#[test]
fn a_slope_that_falls_takes_the_upper_front_corner() {
    let text = LOFT
        .replace("rise = 300mm", "fall = 300mm")
        .replace(", level = 2400mm", "")
        .replace("unit tall", "unit tall { height = 1100mm }")
        .replace("unit books { height = 1400mm }", "unit books { height = 1188mm }");
    let f = Figures::of_text(&text);
    let graph = &f.compilation.graph;
    let side = graph.parts.iter().find(|part| part.path == "shelves.tall.side.left").unwrap();
    let corner = graph.corner(side).unwrap();
    // 1100 - 888 = 212 high, 212 x 4/3 deep.
    assert_eq!((corner.rear, corner.high.mm(), corner.deep.mm()), (false, 212.into(), Rational::new(848, 3)));
    // A shelf at 1050 ends at the front where its top, 1068, meets it: (1188 - 1068) x 4/3 = 160; it stands at the wall with its cleat.
    f.mm("shelves.tall.shelf.high.y", "0");
    f.mm("shelves.tall.shelf.high.width", "160");
    f.mm("shelves.tall.shelf.mid.width", "400");
    f.mm("shelves.tall.cleat.high.y", "0");
    // No facing stands before such a front.
    let faced = text.replace("unit books", "facing { stock = pine, stile = 44mm }\n unit books")
        + "board pine { thickness = 20mm }\n";
    assert!(codes(&compiled_text(&faced)).contains(&"L053"));
    // With the depth of 600 and 9 down for 4 it comes down to the floor: 1188 - 600 x 9/4 < 0.
    let steep = text.replace("fall = 300mm", "fall = 900mm").replace("depth = 400mm", "depth = 600mm");
    assert!(codes(&compiled_text(&steep)).contains(&"L052"));
}

/// The shoelace formula, for itself.
fn shoelace(outline: &[[Length; 2]]) -> Rational {
    let next = outline.iter().cycle().skip(1);
    let twice: Rational =
        outline.iter().zip(next).map(|([ax, ay], [bx, by])| ax.mm() * by.mm() - bx.mm() * ay.mm()).sum();
    twice / Rational::from(2)
}

#[test]
fn faces_of_slanted_parts_sum_to_their_surface() {
    let cases = (50_i128..900, 100_i128..900, 150_i128..600, 0_i128..250, any::<bool>());
    runner(60)
        .run(&cases, |(by, over, depth, less, falls)| {
            let word = if falls { "fall" } else { "rise" };
            // As high as fits, less something; where it falls the front keeps at least 300.
            let by = if falls { by.min(900 * over / depth) } else { by };
            let most = if falls { 1188 } else { 1188 + depth * by / over };
            let height = (most - less).max(700);
            let text = format!(
                "room loft {{\n ceiling {{ above = 1200mm, slope {{ {word} = {by}mm, over = {over}mm }} }}\n\
                 wall w {{\n right = open\n reading low {{ back = 1000mm }}\n }}\n}}\n\
                 sheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm, mid = 600mm, high = 1150mm }}\n\
                 run r {{\n along = loft.w\n end left {{ gap = 20mm }}\n\
                 unit a {{ shelves = s, width = 800mm, height = {height}mm, depth = {depth}mm, follow {{ gap = 12mm }} }}\n}}\n"
            );
            let compilation = compiled_text(&text);
            let graph = &compilation.graph;
            let faces = graph.faces().unwrap();
            for surface in &faces.surfaces {
                let part = graph.part(surface.part).unwrap();
                if !part.is_upright() {
                    continue;
                }
                let sum = |axis: usize| {
                    let own = surface.patches.iter().filter(|patch| patch.axis == axis);
                    faces.area(own.map(|patch| patch.ticks()).sum())
                };
                let outline = graph.outline(part).unwrap();
                let area = shoelace(&outline);
                let near = |a: Rational, b: Rational| {
                    let off = scantling::quantity::to_f64(a - b).abs();
                    off < 1e-3
                };
                prop_assert!(near(sum(0), area * Rational::from(2)), "{text}");
                // All edges: 18 times the way round, the slanted one by its root.
                let round: f64 = outline
                    .iter()
                    .zip(outline.iter().cycle().skip(1))
                    .map(|([ax, ay], [bx, by])| {
                        let [x, y] = [bx.to_mm_f64() - ax.to_mm_f64(), by.to_mm_f64() - ay.to_mm_f64()];
                        (x * x + y * y).sqrt()
                    })
                    .sum();
                let edges = scantling::quantity::to_f64(sum(1) + sum(2));
                prop_assert!((edges - 18.0 * round).abs() < 1e-3, "{edges} {round} {text}");
                // Its volume is that of the polygon.
                let whole = graph.volume(part).unwrap() / Rational::from(18);
                let corner = graph.corner(part).map_or(Rational::from(0), |corner| corner.area().unwrap());
                prop_assert_eq!(whole - corner, area);
                let glued = surface.patches.iter().any(|patch| matches!(patch.contact, Contact::Glued(_)));
                prop_assert!(glued, "{}", text);
            }
            Ok(())
        })
        .unwrap();
}

/// A knee wall that rises by 1 in 10 along its length: 1203 at 30 and 1283 at 830, so that the lines of two units are 1191 and 1271. Of
/// the taller one's side so much is covered as the lower one has: 400 x 1400 less (1400 - 1191)^2 x 4/3 / 2.
#[test]
fn units_under_other_lines_cover_only_what_both_have() {
    let text = LOFT.replace("above = 1200mm, slope", "at = [0mm, 2000mm], above = [1200mm, 1400mm], slope");
    let f = Figures::of_text(&text);
    let graph = &f.compilation.graph;
    let faces = graph.faces().unwrap();
    let covered = |path: &str| {
        let part = graph.parts.iter().find(|part| part.path == path).unwrap();
        let surface = faces.surfaces.iter().find(|surface| surface.part == part.id).unwrap();
        let other =
            if path.ends_with("left") { "shelves.books.side.right" } else { "shelves.tall.side.left" };
        let other = graph.parts.iter().find(|part| part.path == other).unwrap().id;
        let own = surface.patches.iter().filter(|patch| patch.contact == Contact::Butted(other));
        faces.area(own.map(|patch| patch.ticks()).sum())
    };
    let both = Rational::from(400 * 1400) - Rational::new(209 * 209 * 4, 6);
    assert_eq!(covered("shelves.tall.side.left"), both);
    assert_eq!(covered("shelves.books.side.right"), both);
}

/// 400 x 1488 less a triangle of 400 x 300: (595 200 x 200 - 60 000 x 400 x 2/3) / 535 200 behind the front edge, and (595 200 x 744 - 60 000
/// x 1388) / 535 200 up.
#[test]
fn its_middle_lies_nearer_to_the_front_and_lower() {
    let f = Figures::of_text(LOFT);
    let tall = f.compilation.graph.units.iter().find(|unit| unit.path == "shelves.tall").unwrap();
    let [behind, up] = tall.middle();
    assert!((behind - 103_040_000.0 / 535_200.0).abs() < 1e-9, "{behind}");
    assert!((up - 359_548_800.0 / 535_200.0).abs() < 1e-9, "{up}");
}

#[test]
fn a_knee_wall_is_no_doubted_ceiling_and_a_slope_may_still_be_read() {
    let doubted = |text: &str| codes(&compiled_text(text)).contains(&"V054");
    let low = LOFT
        .replace("above = 1200mm", "above = 700mm")
        .replace("unit books { height = 1400mm }", "unit books");
    assert!(!doubted(&low));
    // Without a slope no ceiling is so low.
    assert!(doubted(&low.replace(", slope { rise = 300mm, over = 400mm, level = 2400mm }", "")));
    let unread = compiled_text(&LOFT.replace("rise = 300mm", "rise = ?"));
    assert!(!unread.has_errors(), "{:?}", codes(&unread));
    assert!(codes(&unread).contains(&"V022"));
    assert!(unread.model.surveys[0].asks.iter().any(|ask| ask.what.contains("rise")));
    // What rises ends higher than it begins, and what falls lower.
    let told = |text: String| codes(&compiled_text(&text)).contains(&"V005");
    assert!(
        told(LOFT.replace("level = 2400mm", "level = 1199mm"))
            && !told(LOFT.replace("level = 2400mm", "level = 1200mm"))
    );
    assert!(told(LOFT.replace("rise = 300mm", "fall = 300mm")));
    let both = LOFT.replace("rise = 300mm", "rise = 300mm, fall = 200mm");
    assert!(compiled_text(&both).has_errors());
}

/// Between high, whose top is 1068, and eaves, 6 in each: from 1062 to 1306. The line is 1188 at its rear edge: 118 lie over it, 118 x 4/3 deep.
/// Loose shelves on holes of 32 up to (1300 - 40) / 32 = 39, 1248: over there, at 1266, it is (1266 - 1188) x 4/3 = 104 off the wall.
#[test]
fn dividers_and_loose_shelves_stay_under_the_slope() {
    let text = LOFT.replace("unit tall", "unit tall { shelf high { bay a, bay b } }")
        + "join divider to shelf with dado { depth = 6mm }\n";
    let f = Figures::of_text(&text);
    let graph = &f.compilation.graph;
    let divider = graph.parts.iter().find(|part| part.path == "shelves.tall.shelf.high.divider.a.b").unwrap();
    let corner = graph.corner(divider).unwrap();
    assert_eq!((corner.rear, corner.high.mm(), corner.deep.mm()), (true, 118.into(), Rational::new(472, 3)));
    let faces = graph.faces().unwrap();
    let surface = faces.surfaces.iter().find(|surface| surface.part == divider.id).unwrap();
    let own = surface.patches.iter().filter(|patch| patch.axis == 0);
    let area = shoelace(&graph.outline(divider).unwrap());
    assert_eq!(area, Rational::from(400 * 244) - Rational::new(118 * 472, 6));
    assert_eq!(faces.area(own.map(|patch| patch.ticks()).sum()), area * Rational::from(2));
    let adjustable = "unit tall { shelf high { adjustable { count = 1, pin = peg, pitch = 32mm, margin = 40mm, set_back = 4mm } } }";
    let f = Figures::of_text(&(LOFT.replace("unit tall", adjustable) + "pin peg { diameter = 5mm }\n"));
    f.mm("shelves.tall.shelf.high.loose[1].y", "104");
    f.mm("shelves.tall.shelf.high.loose[1].width", "292"); // 400 - 104 - 4
}

#[test]
fn cuts_along_the_slope_stand_on_the_page_at_the_saw() {
    let of = compiled_text(LOFT);
    let leaves = (place("breakdown").unwrap().make)(of.subject(Effort::Quick));
    let blocks = leaves.iter().flat_map(|leaf| &leaf.page.blocks);
    let steps = blocks.filter_map(|block| match block {
        Block::Steps(steps) => Some(&steps.steps),
        _ => None,
    });
    let cuts: Vec<&Step> =
        steps.flatten().filter(|step| step.says.starts_with("cut off the upper rear corner")).collect();
    assert_eq!(cuts.len(), 2);
    assert_eq!(cuts[0].more, ["2 x: shelves.books.side.left, shelves.books.side.right"]);
    assert!(
        cuts[1]
            .says
            .contains("from 1188 mm of the rear edge, from the bottom end, to the top end of the front edge")
    );
}
