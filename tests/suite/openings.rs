//! Bays, dividers and loose shelves: every figure worked by hand from the stated sizes, the working beside it.

use crate::figures::Figures;
use crate::{compiled_text, properties::runner};
use proptest::prelude::*;
use scantling::parts::{MeasureValue, Role, Work};
use scantling::quantity::{Length, Rational};

const HALL: &str = r#"
board ash { thickness = 20mm }
sheet ply { thickness = 18mm, density = 680 kg/m3 }
stick s { low = 80mm, mid = 800mm, high = 1600mm }
pin peg { diameter = 5mm }
run r {
  each unit { shelves = s, width = 1200mm, height = 2000mm, depth = 300mm, cleat { height = 60mm }, stretcher bottom, load = books }
  unit a {
    shelf low {
      bay coats { width = 2 * rest }
      bay shoes {
        clear = 200mm
        shelf one { clear = 200mm, load = other }
        shelf two { bay left, bay right }
      }
    }
    shelf mid { adjustable { count = 3, pin = peg, strip = 30mm } }
  }
  facing { stock = ash, stile = 45mm, strip = 30mm, bottom_rail = to_floor }
}
"#;

#[test]
fn bays_share_the_clear_width_less_their_dividers() {
    let f = Figures::of_text(HALL);
    // Clear 1200 - 2 x 18 = 1164; less one divider 1146, in three shares of 382.
    f.mm("r.a.clear", "1164");
    f.mm("r.a.shelf.low.bay.coats.clear_width", "764");
    f.mm("r.a.shelf.low.bay.shoes.clear_width", "382");
    // The bay of 382 less a divider, in two.
    f.mm("r.a.shelf.low.bay.shoes.shelf.two.bay.left.clear_width", "182");
    f.mm("r.a.shelf.low.bay.shoes.shelf.two.bay.right.clear_width", "182");
}

#[test]
fn a_divider_is_housed_in_both_shelves() {
    let f = Figures::of_text(HALL);
    // Clear height 800 - 80 - 18 = 702, 4 deep in each shelf; it stands 4 under the shelf's top at 98.
    f.mm("r.a.shelf.low.divider.coats.shoes.length", "710");
    f.mm("r.a.shelf.low.divider.coats.shoes.z", "94");
    f.mm("r.a.shelf.low.divider.coats.shoes.x", "782");
    f.mm("r.a.shelf.low.divider.coats.shoes.dado_width", "18.2");
    // From the shelf's left end, which lies 6 in the side: 782 - 12.
    let at: Vec<String> = f
        .compilation
        .graph
        .joints
        .iter()
        .filter(|joint| f.compilation.graph.part(joint.guest).unwrap().path.ends_with("coats.shoes"))
        .map(|joint| joint.at.value.mm().to_string())
        .collect();
    assert_eq!(at, ["770", "770"]);
}

#[test]
fn shelves_of_a_bay_stand_by_their_clear_heights() {
    let f = Figures::of_text(HALL);
    // 98 + 200 = 298; 298 + 18 + 200 = 516; up to 800 remain 266.
    f.mm("r.a.shelf.low.bay.shoes.shelf.one.z", "298");
    f.mm("r.a.shelf.low.bay.shoes.shelf.two.z", "516");
    f.mm("r.a.shelf.low.bay.shoes.shelf.two.clear_height", "266");
    // The strip hangs 30 - 18 = 12 into it, the cleat 60.
    f.mm("r.a.shelf.low.bay.shoes.shelf.two.opening_front", "254");
    f.mm("r.a.shelf.low.bay.shoes.shelf.two.opening_rear", "206");
    // 6 deep in the side, 4 in the divider: 382 + 10.
    f.mm("r.a.shelf.low.bay.shoes.shelf.one.length", "392");
    // A cleat in each bay under the shelf over them, none across the dividers.
    f.mm("r.a.shelf.low.bay.coats.cleat.mid.length", "764");
    f.mm("r.a.shelf.low.bay.shoes.cleat.one.length", "382");
    f.mm("r.a.shelf.low.bay.shoes.shelf.two.bay.right.cleat.mid.length", "182");
    assert!(!f.compilation.graph.parts.iter().any(|part| part.path == "r.a.cleat.mid"));
}

#[test]
fn the_facing_has_a_stile_before_each_divider() {
    let f = Figures::of_text(HALL);
    // Lap (45 - 36) / 2 = 4.5: stile 18 + 9 = 27, centred on the divider; from the shelf's top to the strip's foot.
    f.mm("r.a.shelf.low.stile.coats.shoes.width", "27");
    f.mm("r.a.shelf.low.stile.coats.shoes.x", "777.5");
    f.mm("r.a.shelf.low.stile.coats.shoes.length", "690");
    // Strips of a bay stand between stiles: 382 - 2 x 4.5.
    f.mm("r.a.shelf.low.bay.shoes.strip.one.length", "373");
    // On the shelf over the dividers the strip runs through: 1164 - 9.
    f.mm("r.a.strip.mid.length", "1155");
}

#[test]
fn loose_shelves_lie_on_one_grid_from_the_bottom_end() {
    let f = Figures::of_text(HALL);
    // Clear 1164 less 3 of play; depth 300 less 2, less a strip of 20.
    for number in 1..=3 {
        f.mm(&format!("r.a.shelf.mid.loose[{number}].length"), "1161");
        f.mm(&format!("r.a.shelf.mid.loose[{number}].width"), "278");
        f.mm(&format!("r.a.shelf.mid.loose[{number}].strip.width"), "30");
    }
    // 818 + 64 = 882, the next multiple of 32 is 896; 1600 - 60 - 64 = 1476, so 1472: 19 holes.
    let bore = &f.compilation.graph.bores[0];
    assert_eq!(bore.numbers, [28, 46]);
    assert_eq!(bore.ends.map(|end| end.value.mm().to_string()), ["896", "1472"]);
    let roles = bore.hosts.map(|host| f.compilation.graph.part(host).unwrap().role.word());
    assert_eq!(roles, ["side", "side"]);
    // Four pins a shelf.
    assert_eq!(f.count("hardware.peg.count"), 12);
    // A loose shelf is not carried with the unit: the weight is that without them.
    let without = Figures::of_text(
        &HALL.replace("shelf mid { adjustable { count = 3, pin = peg, strip = 30mm } }", ""),
    );
    let weight = |f: &Figures| match f.measure("r.a.weight").value {
        MeasureValue::Estimate(weight, _) => weight.value,
        _ => panic!(),
    };
    assert_eq!(weight(&f).to_bits(), weight(&without).to_bits());
}

/// Arithmetic: 80 in are 2032 mm, 63 pitches of 32 mm and 16 over; a grid from the top end stands 16 mm off one from the
/// bottom end.
#[test]
fn a_grid_from_the_top_of_an_eighty_inch_side_would_be_half_a_pitch_out() {
    let f = Figures::of_text(
        "sheet ply { thickness = 3/4\" }\ncarcass a { width = 30\", height = 80\", depth = 12\", top\n  \
         shelf low { adjustable { count = 4, pitch = 32mm } }\n}\n",
    );
    let bore = &f.compilation.graph.bores[0];
    let height = f.compilation.graph.units[0].height.value;
    let from_top = height.checked_sub(bore.ends[1].value).unwrap().mm();
    let pitch = Rational::from(32);
    let off = from_top - (from_top / pitch).floor() * pitch;
    assert_eq!(off, Rational::from(16));
    // The same holes on both sides: the left side mirrors the right one.
    assert_eq!(bore.hosts.len(), 2);
    f.inch("a.shelf.low.loose[1].length", "28 3/8"); // 30 - 1 1/2 - 1/8
}

#[test]
fn contents_and_load_belong_to_their_opening() {
    let text = HALL.replace(
        "bay coats { width = 2 * rest }",
        "bay coats { width = 2 * rest, load = 30 kg/m, contents coats { height = 650mm } }",
    );
    let f = Figures::of_text(&text);
    let of = |path: &str| f.compilation.graph.openings.iter().find(|opening| opening.path == path).unwrap();
    let names = |path: &str| of(path).contents.iter().map(|c| c.name.to_string()).collect::<Vec<_>>();
    assert_eq!(names("r.a.shelf.low.bay.coats"), ["coats"]);
    assert!(names("r.a.shelf.low.bay.shoes").is_empty());
    assert_eq!(format!("{:?}", of("r.a.shelf.low.bay.shoes.shelf.one").load), "Some(Other)");
    assert_eq!(format!("{:?}", of("r.a.shelf.low.bay.shoes").load), "Some(Books)");
    assert!(matches!(of("r.a.shelf.low.bay.coats").load, Some(scantling::eval::Load::Line(_))));
    assert!(of("r.a.shelf.low").divided);
}

/// Clear heights of a carcass without a stick: what is stated stays, shares take the rest, and all of it adds up.
#[test]
fn clear_heights_fill_the_carcass() {
    let f = Figures::of_text(
        "sheet ply { thickness = 18mm }\ncarcass a { width = 800mm, height = 2001mm, depth = 300mm, top\n  \
         stretcher bottom { height = 80mm }\n  shelf low { clear = 400mm }\n  shelf mid { clear = 2 * rest }\n  shelf high\n}\n",
    );
    // 2001 - 80 - 4 x 18 = 1849; less 400 is 1449, in three shares of 483.
    f.mm("a.shelf.low.clear_height", "400");
    f.mm("a.shelf.low.z", "80");
    f.mm("a.shelf.mid.z", "498");
    f.mm("a.shelf.mid.clear_height", "966");
    f.mm("a.shelf.high.clear_height", "483");
    let total = |paths: &[&str]| {
        paths
            .iter()
            .fold(Length::ZERO, |sum, path| sum.checked_add(f.measure(path).length().unwrap().value).unwrap())
    };
    let heights =
        total(&["a.shelf.low.clear_height", "a.shelf.mid.clear_height", "a.shelf.high.clear_height"]);
    assert_eq!(heights, Length::from_mm(Rational::from(1849)));
}

#[test]
fn rounded_shares_leave_the_rest_to_the_last_one() {
    let f = Figures::of_text(
        "sheet ply { thickness = 18mm }\ncarcass a { width = 1000mm, height = 900mm, depth = 300mm\n  \
         shelf low { bay one { width = rest to 5mm }, bay two { width = rest to 5mm }, bay three { width = rest to 5mm } }\n  \
         shelf high { clear = 300mm }\n}\n",
    );
    // 964 - 36 = 928 in three: 309.3, to 310; the last one has 308.
    f.mm("a.shelf.low.bay.one.clear_width", "310");
    f.mm("a.shelf.low.bay.two.clear_width", "310");
    f.mm("a.shelf.low.bay.three.clear_width", "308");
}

/// Over random carcasses, bays and dividers fill the clear width exactly, and what is housed reaches into both hosts.
#[test]
fn bays_and_dividers_fill_the_clear_width() {
    let strategy = (500_i128..2000, 12_i128..25, 1_usize..6, prop::collection::vec(1_i128..4, 6));
    runner(100)
        .run(&strategy, |(width, t, count, shares)| {
            let bays: String = (0..count).map(|n| format!("    bay b{n} {{ width = {} * rest }}\n", shares[n])).collect();
            let text = format!(
                "sheet ply {{ thickness = {t}mm }}\ncarcass a {{ width = {width}mm, height = 900mm, depth = 300mm\n  shelf low {{\n{bays}  }}\n  shelf high\n}}\n"
            );
            let compilation = compiled_text(&text);
            prop_assert!(!compilation.has_errors(), "{:?}\n{}", compilation.diagnostics, text);
            let graph = &compilation.graph;
            let clear = graph.units[0].clear.value;
            let mut sum = Length::from_mm(Rational::from(t * (count as i128 - 1)));
            for bay in &graph.divided[0].bays {
                sum = sum.checked_add(bay.clear.value).unwrap();
            }
            prop_assert_eq!(sum, clear);
            let dividers = graph.parts.iter().filter(|part| part.role == Role::Divider).count();
            prop_assert_eq!(dividers, count - 1);
            Ok(())
        })
        .unwrap();
}

/// Rabbet: the shelf gives up the back's thickness; groove: also what it is set in; planted on: the carcass grows by it.
#[test]
fn a_back_takes_its_room_from_the_shelves_or_adds_to_the_carcass() {
    let text = |join: &str, set_in: &str| {
        format!(
            "sheet ply {{ thickness = 18mm }}\nsheet thin {{ thickness = 6mm }}\nstick s {{ low = 80mm, high = 600mm }}\n\
             carcass a {{ stock = ply, shelves = s, width = 800mm, height = 900mm, depth = 300mm, top, stretcher bottom, cleat {{ height = 60mm }}\n  back {{ stock = thin{set_in} }}\n  {join} }}\n"
        )
    };
    // Clear 764; in rabbets 6 deep 776 wide; 900 - 80 high; shelves 294 deep, cleats before the back.
    let f = Figures::of_text(&text("join back to side with rabbet { depth = 6mm }", ""));
    for (path, size) in [
        ("a.back.width", "776"),
        ("a.back.length", "820"),
        ("a.back.x", "12"),
        ("a.back.y", "0"),
        ("a.back.z", "80"),
        ("a.shelf.low.width", "294"),
        ("a.shelf.low.y", "6"),
        ("a.cleat.high.y", "6"),
        ("a.side.left.width", "300"),
        ("a.depth", "300"),
        ("a.shelf.low.opening_depth", "276"), // before the cleat under the next shelf: 300 - 6 - 18
    ] {
        f.mm(path, size);
    }
    // In grooves 10 from the rear edges: shelves 300 - 10 - 6.
    let f = Figures::of_text(&text("join back to side with groove { depth = 5mm }", ", set_in = 10mm"));
    for (path, size) in
        [("a.back.width", "774"), ("a.back.y", "10"), ("a.shelf.low.width", "284"), ("a.depth", "300")]
    {
        f.mm(path, size);
    }
    // Planted on: as wide as the carcass, which is 6 deeper over all.
    let f = Figures::of_text(&text("join back to side with butt", ""));
    for (path, size) in [
        ("a.back.width", "800"),
        ("a.shelf.low.width", "300"),
        ("a.shelf.low.y", "6"),
        ("a.side.left.y", "6"),
        ("a.depth", "306"),
    ] {
        f.mm(path, size);
    }
}

#[test]
fn a_back_hides_the_wall_and_is_painted_inside() {
    let f = Figures::of_text(
        "sheet ply { thickness = 18mm }\nsheet thin { thickness = 6mm }\nstick s { low = 80mm, high = 600mm }\n\
         carcass a { stock = ply, shelves = s, width = 800mm, height = 900mm, depth = 300mm, top, stretcher bottom\n  back { stock = thin } }\n",
    );
    let faces = f.compilation.graph.faces().unwrap();
    let surfaces = f.compilation.graph.surfaces(faces, Work::Left).remove(0);
    assert_eq!(surfaces.wall_behind, Rational::from(0));
    // Seen between the sides: 764 wide; 600 - 98 = 502 and 882 - 618 = 264 high.
    assert_eq!(surfaces.paint[&scantling::parts::PaintClass::Backs], Rational::from(764 * (502 + 264)));
    // No shelf meets the wall any more: nothing to caulk behind them.
    assert!(!surfaces.caulk.contains_key(&scantling::parts::CaulkClass::ShelfBacks));
}

/// A strip in the gap of a run without facing: as wide as the gap at each reading, its blank 5 over the widest, up to 5.
#[test]
fn a_filler_strip_closes_the_gap_of_a_run_without_facing() {
    let f = Figures::of_text(
        "room k { wall w { right = open\n  reading low { back = 1004mm, front = 1006mm }\n  reading middle { back = 1008mm, front = 1010mm }\n  \
         reading high { back = 1013mm, front = 1017mm }\n} }\n\
         board ash { thickness = 20mm }\nsheet ply { thickness = 18mm }\nstick s { low = 80mm, high = 600mm }\n\
         run r { along = k.w\n  end left { filler = ash, gap = 30mm }\n  unit a { shelves = s, width = 974mm, height = 900mm, depth = 300mm }\n}\n",
    );
    f.mm("r.filler.left.width_low", "32");
    f.mm("r.filler.left.width_middle", "36");
    f.mm("r.filler.left.width_high", "43");
    f.mm("r.filler.left.width", "36.75"); // (32 + 2 x 36 + 43) / 4
    f.mm("r.filler.left.blank_width", "50"); // 43 + 5 = 48
    f.mm("r.filler.left.length", "900");
    f.mm("r.filler.left.y", "280");
}

/// A join that names one part holds for it, and for nothing else; what it leaves out is as for its role.
#[test]
fn a_join_may_name_one_part_by_its_path() {
    let f = Figures::of_text(
        "sheet ply { thickness = 18mm }\nstick s { low = 80mm, mid = 400mm, high = 800mm }\n\
         carcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm, cleat { height = 60mm }\n  \
         join shelf.high to side.left with dado { depth = 7mm }\n}\n\
         nail long { length = 60mm }\nnail short { length = 50mm }\n\
         join shelf to side with dado { nail = short, ends = 50mm }\n\
         join a.shelf.mid to side with dado { depth = 8mm, nail = long }\n\
         join a.cleat.mid to shelf with butt { pitch = 100mm }\n",
    );
    // Clear 564: 6 deep in each side; 8; 7 at the left and 6 at the right.
    f.mm("a.shelf.low.length", "576");
    f.mm("a.shelf.mid.length", "580");
    f.mm("a.shelf.high.length", "577");
    f.mm("a.shelf.high.x", "11");
    // 300 less 2 x 50 is 200, at most 115 apart: 3 nails in each of two rows.
    assert_eq!(f.count("hardware.long.count"), 6);
    assert_eq!(f.count("hardware.short.count"), 12);
    // 564 less 2 x 40 is 484: at most 200 apart 4, at most 100 apart 6.
    let along: Vec<usize> = f
        .compilation
        .graph
        .rows
        .iter()
        .filter(|row| row.kind == scantling::parts::RowKind::AlongCleat)
        .map(|row| row.count)
        .collect();
    assert_eq!(along, [6, 4]);
}
