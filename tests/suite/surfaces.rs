//! Paint, glue, caulk and weight where parts are divided, notched, or stand at something: every figure worked beside it.

use crate::compiled_text;
use scantling::compile::Compilation;
use scantling::parts::{CaulkClass, GlueClass, PaintClass, Surfaces, Work};
use scantling::quantity::Rational;

fn surfaces(of: &Compilation) -> Surfaces {
    let graph = &of.graph;
    graph.surfaces(graph.faces().unwrap(), Work::Left).remove(0)
}

/// A run of caulk in millimetres; nothing where there is none.
fn caulk(of: &Compilation, class: CaulkClass) -> Rational {
    surfaces(of).caulk.get(&class).map(|length| length.mm()).unwrap_or_default()
}

fn mm(whole: i128) -> Rational {
    Rational::from(whole)
}

/// 836 wide with sides of 18: 800 clear. Two shelves and a divider in dados 6 deep.
const DIVIDED: &str = "sheet ply { thickness = 18mm }\nstick s { low = 80mm, top = 700mm }\n\
                       join divider to shelf with dado { depth = 6mm }\n\
                       carcass c { shelves = s, width = 836mm, height = 800mm, depth = 300mm, shelf low { bay a, bay b } }\n";

/// An end of 18 x 300 in a dado 6 deep has three glued faces: 300 x (18 + 2 x 6) = 9000. Two shelves have four ends, a divider two.
#[test]
fn the_glue_of_a_divider_is_counted_once() {
    let of = compiled_text(DIVIDED);
    assert_eq!(surfaces(&of).glue[&GlueClass::Housings], Rational::from(6 * 9000));
    let undivided = compiled_text(&DIVIDED.replace(", shelf low { bay a, bay b }", ""));
    assert_eq!(surfaces(&undivided).glue[&GlueClass::Housings], Rational::from(4 * 9000));
}

/// A side meets the wall on its inner face below the low shelf, between the shelves and over the top one: 80 + 602 + 82 = 764. The
/// divider is 602 high and has two faces.
#[test]
fn a_divider_is_caulked_along_the_wall_on_both_faces() {
    let undivided = compiled_text(&DIVIDED.replace(", shelf low { bay a, bay b }", ""));
    assert_eq!(caulk(&undivided, CaulkClass::Sides), mm(2 * 764));
    assert_eq!(caulk(&compiled_text(DIVIDED), CaulkClass::Sides), mm(2 * 764 + 2 * 602));
    assert_eq!(caulk(&undivided, CaulkClass::OpenSides), mm(1600));
}

/// A unit of 800 beside one of 600: the side at the seam is open over the lower unit only, 200. With the two ends 800 + 200 + 600.
#[test]
fn a_side_at_a_seam_is_caulked_where_it_is_open() {
    let of = |height: &str| {
        compiled_text(&format!(
            "sheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm, top = 500mm }}\nrun r {{\n\
             unit a {{ shelves = s, width = 700mm, height = 800mm, depth = 300mm }}\n\
             unit b {{ shelves = s, width = 700mm, height = {height}, depth = 300mm }}\n}}\n"
        ))
    };
    assert_eq!(caulk(&of("600mm"), CaulkClass::OpenSides), mm(1600));
    assert_eq!(caulk(&of("800mm"), CaulkClass::OpenSides), mm(1600));
    // Inside, below 80, between the shelves 402 and over the top one: 800 - 518 = 282 and 600 - 518 = 82.
    assert_eq!(caulk(&of("600mm"), CaulkClass::Sides), mm(2 * (80 + 402 + 282) + 2 * (80 + 402 + 82)));
}

/// Between walls without a facing, 900 less the unit, half at each end: under 101.6 nobody reaches into the gap with a brush, so the
/// outer faces, 800 x 300 each, are neither painted nor caulked; from 101.6 on they are.
#[test]
fn nobody_paints_a_side_in_a_gap_that_takes_no_hand() {
    for (width, open) in [(696, false), (698, false), (697, false), (690, true)] {
        let of = compiled_text(&format!(
            "sheet ply {{ thickness = 18mm }}\nstick s {{ low = 80mm, top = 700mm }}\n\
             run r {{\nlength = 900mm\nunit a {{ shelves = s, width = {width}mm, height = 800mm, depth = 300mm }}\n}}\n"
        ));
        // (900 - 696) / 2 = 102; 101.5 for 697; 101 for 698; 105 for 690.
        let open = open || width == 696;
        let painted = surfaces(&of).paint.get(&PaintClass::OpenSides).copied().unwrap_or_default();
        assert_eq!(painted, Rational::from(if open { 2 * 800 * 300 } else { 0 }), "{width}");
        assert_eq!(caulk(&of, CaulkClass::OpenSides), mm(if open { 1600 } else { 0 }), "{width}");
    }
}

/// A stretcher 80 high on the top shelf, behind it the wall: its top edge, 800 long, is caulked. Of the shelves the top of the low
/// one and the underside of the top one meet the wall, 800 each; the stretcher under the low one stands in the kick space.
#[test]
fn the_top_edge_of_a_rear_stretcher_is_caulked() {
    let text = DIVIDED
        .replace(", shelf low { bay a, bay b }", ", stretcher bottom, stretcher top { height = 80mm }");
    let of = compiled_text(&text);
    assert_eq!(caulk(&of, CaulkClass::Stretchers), mm(800));
    assert_eq!(caulk(&of, CaulkClass::ShelfBacks), mm(1600));
    let none = compiled_text(&text.replace(", stretcher top { height = 80mm }", ""));
    assert_eq!(caulk(&none, CaulkClass::Stretchers), mm(0));
}

const NOTCHED: &str = "sheet ply { thickness = 18mm, density = 600 kg/m3 }\nstick low { seat = 90mm }\n\
     carcass c { shelves = low, width = 800mm, height = 450mm, depth = 350mm, stretcher bottom, toe { height = 90mm }, top }\n";

/// A side is 18 x 350 x 450 less a dado and a rabbet of 6 x 18 x 350 and a notch of 90 x 75 x 18: 2 835 000 - 75 600 - 121 500 =
/// 2 637 900 mm3, at 600 kg/m3 1.58274 kg. The unit is the sum of its parts, and each part is told so.
#[test]
fn grooves_and_notches_weigh_nothing_in_a_part_or_in_its_unit() {
    let graph = compiled_text(NOTCHED).graph;
    let cut_off = graph.cut_off();
    let side = graph.parts.iter().find(|part| part.path == "c.side.left").unwrap();
    assert_eq!(graph.volume_left(side, &cut_off), Some(Rational::from(2_637_900)));
    assert!((graph.part_weight(side, &cut_off).unwrap().value - 1.58274).abs() < 1e-9);
    let each: f64 = graph.parts.iter().map(|part| graph.part_weight(part, &cut_off).unwrap().value).sum();
    assert!((graph.unit_weights(&graph.cut_off())[0].unwrap().value - each).abs() < 1e-9);
    // Shelf and top 776 long, in 6 of each side; two stretchers 90 high and 764 long.
    let boxes = 2 * (776 * 350 * 18) + 2 * (90 * 764 * 18);
    assert_eq!(graph.carcass_volumes(&graph.cut_off())[0], Some(Rational::from(boxes + 2 * 2_637_900)));
}

/// The faces of what is left of a notched side: two of 350 x 450 less 90 x 75, front and rear edge 18 x 450 each, both ends 18 x 350
/// each, of which the lower one lies 90 high over 75 of its length and is open there.
#[test]
fn the_faces_of_a_notched_side_are_those_of_what_is_left() {
    let of = compiled_text(NOTCHED);
    let faces = of.graph.faces().unwrap();
    let side = of.graph.parts.iter().find(|part| part.path == "c.side.left").unwrap();
    let surface = faces.surfaces.iter().find(|surface| surface.part == side.id).unwrap();
    let sum = |axis| {
        let own = surface.patches.iter().filter(|patch| patch.axis == axis);
        faces.area(own.map(|patch| patch.ticks()).sum())
    };
    assert_eq!(sum(0), Rational::from(2 * (350 * 450 - 90 * 75)));
    assert_eq!((sum(1), sum(2)), (Rational::from(2 * 18 * 450), Rational::from(2 * 18 * 350)));
    let on_floor = surface.patches.iter().filter(|patch| patch.contact == scantling::parts::Contact::Floor);
    let floor = faces.area(on_floor.map(|patch| patch.ticks()).sum());
    assert_eq!(floor, mm(18 * (350 - 75)));
}
