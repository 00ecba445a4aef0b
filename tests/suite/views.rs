//! Views: their exact geometry against the parts that they show, their chains against their wholes, figures worked by hand, paths,
//! bad input.

use crate::drawings::{faults, views};
use crate::sawn::EXAMPLES;
use crate::{compiled, compiled_text, inch, root};
use scantling::compile::Compilation;
use scantling::document::Line;
use scantling::parts::{Bounds, Hand, JointKind, Part, Role};
use scantling::quantity::{Length, Rational};
use scantling::render::svg;
use scantling::views::{
    Extent, Filled, Form, Measured, Pane, Picked, Picture, Shape, Spot, Stand, Subject, VIEWS, view,
};
use std::collections::{BTreeMap, BTreeSet};

fn subject(project: &Compilation) -> Subject<'_> {
    Subject { model: &project.model, graph: &project.graph }
}

/// A view of a path; of all where it is empty.
fn pictures(project: &Compilation, name: &str, path: &str) -> Vec<Picture> {
    let subject = subject(project);
    let picked = if path.is_empty() { Picked::default() } else { Picked::by(subject, path).unwrap() };
    view(name).unwrap().pictures(subject, &picked)
}

fn panes(pictures: &[Picture]) -> impl Iterator<Item = &Pane> {
    pictures.iter().flat_map(|picture| &picture.panes)
}

fn mm(mm: i128) -> Length {
    Length::from_mm(Rational::from(mm))
}

fn less(a: Length, b: Length) -> Length {
    a.checked_sub(b).unwrap()
}

/// What an outline covers.
fn extent(shape: &Shape) -> Extent {
    let spots = shape.form.spots();
    let ends = |axis: usize| {
        let all = || spots.iter().map(|spot| spot[axis]);
        [all().min().unwrap(), all().max().unwrap()]
    };
    [ends(0), ends(1)]
}

/// What a chain says, figure by figure.
fn said(chain: &Measured) -> Vec<String> {
    chain.figures.iter().map(|figure| figure.length.print.clone()).collect()
}

fn chain<'a>(pane: &'a Pane, what: &str) -> &'a Measured {
    let chains: Vec<&str> = pane.chains.iter().map(|chain| chain.what.as_str()).collect();
    pane.chains
        .iter()
        .find(|chain| chain.what.starts_with(what))
        .unwrap_or_else(|| panic!("{what}: {chains:?}"))
}

/// The outlines of parts, by their paths.
fn outlines<'a>(
    project: &'a Compilation,
    pane: &'a Pane,
) -> impl Iterator<Item = (&'a Part, Bounds, &'a Shape)> {
    let parts = project.graph.by_path();
    pane.shapes.iter().filter_map(move |shape| {
        let part = project.graph.part(*parts.get(shape.of.as_str())?)?;
        (shape.what == part.role.word()).then_some((part, project.graph.bounds(part)?, shape))
    })
}

/// Each part of a run stands in its elevation once, as large as it is and where it is: from the corner of the wall, from the level
/// line. What is scribed is as wide as at its widest reading, to the edge of its opening.
fn an_elevation_shows_every_part_in_its_place(file: &str, project: &Compilation) {
    let pictures = pictures(project, "elevation", "");
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for pane in panes(&pictures) {
        for (part, [x, _, z], shape) in outlines(project, pane) {
            *counts.entry(&part.path).or_default() += 1;
            let shown = extent(shape);
            if part.scribed.is_empty() {
                assert_eq!(shown, [x, z], "{file}: {}", part.path);
            } else {
                let widest = part.scribed.iter().map(|(_, width)| width.value).max().unwrap();
                let size = if part.role == Role::BottomRail { shown[1] } else { shown[0] };
                assert_eq!(less(size[1], size[0]), widest, "{file}: {}", part.path);
            }
        }
    }
    for part in &project.graph.parts {
        assert_eq!(counts.get(part.path.as_str()), Some(&1), "{file}: {}", part.path);
    }
}

/// What a section cuts is what its plane goes through, in its own depth and height.
fn a_section_cuts_what_stands_there(file: &str, project: &Compilation) {
    for picture in pictures(project, "section", "") {
        let pane = &picture.panes[0];
        let cut = outlines(project, pane)
            .filter(|(.., shape)| !matches!(shape.fill, Filled::Open | Filled::Closed))
            .collect::<Vec<_>>();
        assert!(cut.len() >= 2, "{file}: {}", picture.of);
        // They all stand in one plane.
        let from = cut.iter().map(|(_, [x, ..], _)| x[0]).max().unwrap();
        let to = cut.iter().map(|(_, [x, ..], _)| x[1]).min().unwrap();
        assert!(from < to, "{file}: {}", picture.of);
        for (part, [_, y, z], shape) in cut {
            assert_eq!(extent(shape), [y, z], "{file}: {}", part.path);
            assert!(!matches!(part.role, Role::Side(_) | Role::Divider), "{file}: {}", part.path);
        }
    }
}

/// Seen from above, away from the wall counts down.
fn a_plan_shows_parts_in_their_places(file: &str, project: &Compilation) {
    let mut seen = 0;
    let pictures = pictures(project, "plan", "");
    for pane in panes(&pictures) {
        for (part, [x, y, _], shape) in outlines(project, pane) {
            let down = |at: Length| less(Length::ZERO, at);
            assert_eq!(extent(shape), [x, [down(y[1]), down(y[0])]], "{file}: {}", part.path);
            seen += 1;
        }
    }
    assert!(seen >= 2 * project.graph.units.len(), "{file}: {seen}");
}

/// A chain from place to place sums to its whole exactly; one from a datum ends at it.
fn chains_sum_to_their_wholes(file: &str, project: &Compilation) {
    let exact = |figure: &str| -> Rational {
        let (number, unit) = figure.split_once(' ').unwrap();
        let number: Rational = number.parse().unwrap();
        if unit == "in" { number * Rational::new(127, 5) } else { number }
    };
    let mut seen = [0, 0];
    for spec in VIEWS {
        for chain in panes(&spec.pictures(subject(project), &Picked::default())).flat_map(|pane| &pane.chains)
        {
            let figures: Vec<Rational> =
                chain.figures.iter().map(|figure| exact(&figure.length.exact)).collect();
            let whole = less(*chain.places.last().unwrap(), chain.places[0]).mm();
            assert!(chain.places.is_sorted(), "{file}: {}", chain.what);
            if chain.running {
                assert_eq!(figures.len(), chain.places.len());
                assert_eq!(figures[figures.len() - 1] - figures[0], whole, "{file}: {}", chain.what);
            } else {
                assert_eq!(figures.len() + 1, chain.places.len());
                assert_eq!(figures.iter().sum::<Rational>(), whole, "{file}: {}", chain.what);
            }
            seen[usize::from(chain.running)] += 1;
        }
    }
    assert!(seen[0] > 15 && seen[1] > 6, "{file}: {seen:?}");
}

fn mirrored(form: &Form, deep: Length) -> Form {
    let turn = |[x, z]: &Spot| [less(deep, *x), *z];
    match form {
        Form::Line(path) => Form::Line(path.iter().map(turn).collect()),
        Form::Outline(path) => Form::Outline(path.iter().map(turn).collect()),
        Form::Circle { centre, wide } => Form::Circle { centre: turn(centre), wide: *wide },
        Form::Quarter { centre, ends } => {
            Form::Quarter { centre: turn(centre), ends: [turn(&ends[0]), turn(&ends[1])] }
        }
    }
}

/// Where a place lies does not depend on where an outline begins.
fn places(form: &Form) -> Vec<Spot> {
    let mut spots = form.spots();
    spots.sort_unstable();
    spots
}

/// The right side is the left one in a mirror: outline, lines, crosses, holes. Of a side that is not, all that both have is.
fn the_sides_of_a_pair_are_mirror_images(file: &str, project: &Compilation) -> [usize; 2] {
    let (mut pairs, mut alike) = (0, 0);
    for picture in pictures(project, "side", "") {
        let [right, left] = picture.panes.as_slice() else { panic!("{}", picture.of) };
        let unit = project.graph.numbered_units().find(|(_, unit)| unit.path == picture.of).unwrap().0;
        let side = project.graph.parts_of(unit).find(|part| matches!(part.role, Role::Side(_))).unwrap();
        let deep = side.size.width.value;
        let of = |pane: &Pane, mirror: bool| {
            let form = |shape: &Shape| if mirror { mirrored(&shape.form, deep) } else { shape.form.clone() };
            let sides = |what: &str, of: &str| {
                if what == "groove" || what == "X" { of.to_owned() } else { String::new() }
            };
            let mut all: Vec<(&str, String, Vec<Spot>)> = pane
                .shapes
                .iter()
                .map(|shape| (shape.what, sides(shape.what, &shape.of), places(&form(shape))))
                .collect();
            all.sort();
            all
        };
        let (left, right) = (of(left, true), of(right, false));
        pairs += 1;
        if left == right {
            alike += 1;
        } else {
            // Handed: shelves of a bay stand in one of them only.
            let in_bays = project.graph.in_bays(unit);
            assert!(!in_bays.is_empty(), "{file}: {}", picture.of);
        }
    }
    [pairs, alike]
}

/// Each groove lies over its line, at the height of its joint, on both sides of a pair.
fn grooves_lie_at_the_heights_of_their_joints(file: &str, project: &Compilation) {
    for picture in pictures(project, "side", "") {
        let unit = project.graph.numbered_units().find(|(_, unit)| unit.path == picture.of).unwrap().0;
        for (pane, hand) in picture.panes.iter().rev().zip(Hand::BOTH) {
            let side = project.graph.parts_of(unit).find(|part| part.role == Role::Side(hand)).unwrap();
            let mut grooves: Vec<[Length; 2]> = pane
                .shapes
                .iter()
                .filter(|shape| shape.what == "groove")
                .map(|shape| extent(shape)[1])
                .collect();
            let joints = project.graph.joints_in(side.id).filter_map(|joint| match joint.kind {
                JointKind::Dado { width, .. } => {
                    Some([joint.at.value, joint.at.value.checked_add(width.value).unwrap()])
                }
                _ => None,
            });
            let mut joints: Vec<[Length; 2]> = joints.collect();
            grooves.sort_unstable();
            joints.sort_unstable();
            assert_eq!(grooves, joints, "{file}: {}", side.path);
            assert!(!grooves.is_empty());
            // Two crosses of two strokes in each groove and each rabbet.
            let crossed = pane.shapes.iter().filter(|shape| shape.what == "X").count();
            let rabbets =
                pane.shapes.iter().filter(|s| s.what == "rabbet" && !s.of.ends_with("back")).count();
            assert_eq!(crossed, 4 * (grooves.len() + rabbets), "{file}: {}", side.path);
        }
    }
}

/// By hand: a wall of 130 1/16 at the back at middle height, four units of 32 1/4 and 1 1/16 before the first; along the floor at the
/// back the wall stands 3/16 farther off (1 1/4).
#[test]
fn left_faces_count_from_the_named_corner() {
    let project = compiled(EXAMPLES[0]);
    let elevation = pictures(&project, "elevation", "");
    let pane = &elevation[0].panes[0];
    let faces = chain(pane, "left faces from the left corner");
    assert_eq!(said(faces), ["0\"", "1 1/16\"", "33 5/16\"", "65 9/16\"", "97 13/16\"", "130 1/16\""]);
    assert_eq!(
        said(chain(pane, "unit widths")),
        ["1 1/16\"", "32 1/4\"", "32 1/4\"", "32 1/4\"", "32 1/4\""]
    );
    let names: Vec<&str> =
        chain(pane, "unit widths").figures.iter().map(|figure| figure.name.as_str()).collect();
    assert_eq!(names, ["", "one", "two", "three", "four"]);
    let marks =
        ["0\"", "3 1/2\"", "19 1/4\"", "33\"", "44 1/2\"", "55\"", "65 1/4\"", "74 1/4\"", "82 1/4\""];
    assert_eq!(said(chain(pane, "undersides")), marks);
    let studs = [
        "0\"",
        "12 1/2\"",
        "28 1/2\"",
        "44 1/2\"",
        "60 1/2\"",
        "76 1/2\"",
        "92 1/2\"",
        "97 3/4\"",
        "108 1/2\"",
        "124 1/2\"",
    ];
    assert_eq!(said(chain(pane, "studs")), studs);
    // The ceiling is lowest at the corner: 88 3/8 less 86 1/2.
    assert_eq!(said(chain(pane, "heights")), ["86 1/2\"", "1 7/8\""]);
    let plan = pictures(&project, "plan", "sewing");
    let floor = chain(&plan[0].panes[0], "left faces from the left corner, measured along the floor");
    assert_eq!(said(floor), ["0\"", "1 1/4\"", "33 1/2\"", "65 3/4\"", "98\"", "130 1/4\""]);
    // Front openings: 19 1/4 - 3 1/2 - 23/32 = 15 1/32, less the strip of 1 1/2 - 23/32 that hangs there.
    let words: Vec<&str> = pane.words.iter().map(|words| words.readings[0][0].as_str()).collect();
    assert_eq!(words[..2], ["floor  14 1/4\"", "binders  12 1/4\""]);
}

/// Between walls: gaps of 24 and 30 at the back at the middle, and 4 less at the floor on the left (1004 and 1008).
#[test]
fn left_faces_of_an_alcove_count_from_its_own_corner() {
    let project = compiled("examples/alcove-pair/alcove_pair.scant");
    let pictures = pictures(&project, "elevation", "");
    let faces: Vec<Vec<String>> =
        panes(&pictures).map(|pane| said(chain(pane, "left faces from the left corner"))).collect();
    let left = faces.iter().find(|faces| faces[1] == "28 mm").unwrap();
    assert_eq!(left, &["0 mm", "28 mm", "978 mm"]);
    let right = faces.iter().find(|faces| faces[1] == "30 mm").unwrap();
    assert_eq!(right, &["0 mm", "30 mm", "840 mm"]);
}

/// 32 1/4 x 86 1/2: the root of 1040.0625 + 7482.25 is 92.316.
#[test]
fn a_unit_by_itself_says_its_weight_and_its_diagonal() {
    let project = compiled(EXAMPLES[0]);
    let pictures = pictures(&project, "unit", "sewing.one");
    let notes = pictures[0].notes.join(" ");
    assert!(notes.contains("~88.7 lb") && notes.contains("~92.316\""), "{notes}");
    let [front, section] = pictures[0].panes.as_slice() else { panic!() };
    // 32 1/4 less two sides of 23/32.
    assert_eq!(said(chain(front, "sides and clear width")), ["23/32\"", "30 13/16\"", "23/32\""]);
    assert_eq!(said(chain(section, "depth")), ["11 13/16\""]);
    // By itself, from its own faces.
    let side = front.shapes.iter().find(|shape| shape.of == "sewing.one.side.right").unwrap();
    assert_eq!(extent(side), [[inch("31 17/32"), inch("32 1/4")], [Length::ZERO, inch("86 1/2")]]);
}

/// Front gaps of 1 3/8, 1 1/8 and 1, a side of 23/32 and a lap of 5/32: 2 1/4, 2, 1 7/8.
#[test]
fn a_stile_at_a_wall_is_as_wide_as_it_is_scribed() {
    let project = compiled(EXAMPLES[0]);
    let pictures = pictures(&project, "side", "sewing.stile.left");
    let pane = &pictures[0].panes[0];
    let widths: Vec<&str> = chain(pane, "widths").figures.iter().map(|figure| figure.name.as_str()).collect();
    // Below the low reading, down to the floor, the width of that is held.
    assert_eq!(widths, ["2 1/4\" wide", "2 1/4\" wide", "2\" wide", "1 7/8\" wide"]);
    let blank = pane.shapes.iter().find(|shape| shape.what == "blank").unwrap();
    let [across, up] = extent(blank);
    assert_eq!((less(across[1], across[0]), less(up[1], up[0])), (inch("2 1/2"), inch("87 1/8")));
}

/// A deeper dado moves the line of the detail by just as much, and nothing else of the side.
#[test]
fn a_detail_is_drawn_from_the_numbers_of_its_joint() {
    let web = |depth: &str| {
        let project = compiled_text(&format!(
            "sheet ply {{ thickness = 23/32\" }}\nstick s {{ low = 4\", high = 20\" }}\n\
             carcass a {{ shelves = s, width = 30\", height = 36\", depth = 11\" }}\n\
             join shelf to side with dado {{ depth = {depth}, fit = 1/128\" }}\n"
        ));
        let pictures = pictures(&project, "detail", "a.shelf.low");
        assert_eq!((pictures.len(), pictures[0].panes.len()), (1, 1));
        let pane = &pictures[0].panes[0];
        assert!(pictures[0].true_size && pane.name.ends_with("2 alike"), "{}", pane.name);
        let host = pane.shapes.iter().find(|shape| shape.what == "side").unwrap();
        let guest = pane.shapes.iter().find(|shape| shape.what == "shelf").unwrap();
        let mut across: Vec<Length> = host.form.spots().iter().map(|spot| spot[0]).collect();
        across.sort_unstable();
        across.dedup();
        let mut up: Vec<Length> = host.form.spots().iter().map(|spot| spot[1]).collect();
        up.sort_unstable();
        up.dedup();
        // The shelf lies on the bottom of the groove and on its lower wall.
        assert_eq!(extent(guest)[0][0], across[1]);
        assert_eq!(extent(guest)[1], [inch("4"), inch("4 23/32")]);
        // 23/32 + 1/128.
        assert_eq!(up[1..3], [inch("4"), inch("4 93/128")]);
        (across, said(chain(pane, "depth")))
    };
    let (quarter, figures) = web("1/4\"");
    assert_eq!(
        (quarter, figures.join(" ")),
        (vec![Length::ZERO, inch("15/32"), inch("23/32")], "15/32\" 1/4\"".into())
    );
    let (deeper, figures) = web("5/16\"");
    assert_eq!(
        (deeper, figures.join(" ")),
        (vec![Length::ZERO, inch("13/32"), inch("23/32")], "13/32\" 5/16\"".into())
    );
}

/// A side with a notch for toes is a polygon of six corners, on paper and in the section too.
#[test]
fn a_notch_for_toes_is_in_the_outline() {
    let project = compiled_text(
        "sheet ply { thickness = 18mm }\nstick s { low = 120mm, high = 500mm }\n\
         carcass a { shelves = s, width = 800mm, height = 700mm, depth = 300mm, toe { height = 90mm, depth = 60mm } }\n",
    );
    assert!(!project.has_errors(), "{:?}", project.diagnostics);
    let sides = pictures(&project, "side", "a");
    for pane in &sides[0].panes {
        let Form::Outline(corners) = &pane.shapes[0].form else { panic!() };
        let left = pane.name.starts_with("LEFT");
        let at =
            |from_front: i128, z: i128| [if left { mm(from_front) } else { mm(300 - from_front) }, mm(z)];
        let expected = [at(0, 90), at(60, 90), at(60, 0), at(300, 0), at(300, 700), at(0, 700)];
        assert_eq!(corners.as_slice(), expected, "{}", pane.name);
    }
    let section = pictures(&project, "section", "a");
    let side = section[0].panes[0].shapes.iter().find(|shape| shape.of == "a.side.left").unwrap();
    let Form::Outline(corners) = &side.form else { panic!() };
    assert_eq!(corners[1..3], [[mm(240), mm(0)], [mm(240), mm(90)]]);
}

/// Which way a part lies as it is drawn, from the room: x to the right, y from the wall to the front, z up, as somebody sees it who stands before
/// the wall. To the right, up the paper and out of it towards the eye is a right hand; x, towards the wall and z are one too. So
/// the face that is seen looks along the direction to the right times that up the paper.
fn seen_from(right: [i32; 3], up: [i32; 3]) -> [i32; 3] {
    // y counts away from the wall: turned round it is the second of a right hand.
    let hand = |[x, y, z]: [i32; 3]| [x, -y, z];
    let ([a, b, c], [d, e, f]) = (hand(right), hand(up));
    hand([b * f - c * e, c * d - a * f, a * e - b * d])
}

/// The inside of the left side looks to the right, that of the right one to the left; a shelf with its front near is seen from above; a
/// divider with its front at the right is seen from the left, so that grooves of its right face lie behind.
#[test]
fn a_part_is_drawn_as_the_face_that_is_up() {
    let project = compiled_text(
        "project \"Any\" { marks = 1mm }\nsheet ply { thickness = 18mm }\nstick s { low = 80mm, high = 900mm }\n\
         carcass a { shelves = s, width = 900mm, height = 1200mm, depth = 300mm, shelf low { bay one { width = 300mm }, bay two { shelf \
         mid { clear = 300mm }, shelf over } } }\n",
    );
    assert!(!project.has_errors(), "{:?}", project.diagnostics);
    let pair = &pictures(&project, "side", "a")[0];
    for pane in &pair.panes {
        let front = pane.shapes.iter().find(|shape| shape.what == "front edge").unwrap();
        let [across, _] = extent(front);
        // The front lies at the right of the paper, or at its left.
        let to_right = if across[0] == mm(300) { 1 } else { -1 };
        let looks = seen_from([0, to_right, 0], [0, 0, 1]);
        let inside = if pane.name.starts_with("LEFT") { [1, 0, 0] } else { [-1, 0, 0] };
        assert_eq!(looks, inside, "{}", pane.name);
    }
    let names: Vec<&str> = pair.panes.iter().map(|pane| &pane.name[..5]).collect();
    assert_eq!(names, ["RIGHT", "LEFT "]);
    // Left end at the left, front near: the rear is up the paper.
    assert_eq!(seen_from([1, 0, 0], [0, -1, 0]), [0, 0, 1]);
    let shelf = &pictures(&project, "side", "a.shelf.low")[0].panes[0];
    let groove = shelf.shapes.iter().find(|shape| shape.what == "groove").unwrap();
    assert_eq!(groove.line, Line::Outline);
    let divider = project.graph.parts.iter().find(|part| part.role == Role::Divider).unwrap();
    let at = project.graph.joints_of(divider.id).next().unwrap().at.value;
    assert_eq!(extent(groove)[0][0], at);
    let said = shelf.words.iter().find(|words| words.readings[0].contains(&"front edge".to_owned())).unwrap();
    let Stand::Within([_, up]) = said.stand else { panic!("{said:?}") };
    assert_eq!(up[0], Length::ZERO);
    // Front at the right: seen from the left, and the shelf of the right bay is in the face behind.
    assert_eq!(seen_from([0, 1, 0], [0, 0, 1]), [-1, 0, 0]);
    let divider = &pictures(&project, "side", &divider.path)[0].panes[0];
    let groove = divider.shapes.iter().find(|shape| shape.what == "groove").unwrap();
    assert_eq!(groove.line, Line::Hidden);
    let figures = &chain(divider, "what is cut in").figures;
    assert!(figures.iter().any(|figure| figure.name.ends_with("right face")));
}

/// Lowest, middle and uppermost shelf come first, then both sides; then the other shelves, and what is fixed to them.
#[test]
fn parts_are_numbered_in_the_order_of_the_glue_up() {
    let project = compiled(EXAMPLES[0]);
    let pictures = pictures(&project, "apart", "sewing.one");
    let note = &pictures[0].notes[0];
    let expected = "1 shelf.floor, 2 shelf.fabric, 3 shelf.top, 4 side.left, 5 side.right, 6 shelf.binders,";
    assert!(note.contains(expected), "{note}");
    let numbers: Vec<&str> =
        pictures[0].panes[0].words.iter().map(|words| words.readings[0][0].as_str()).collect();
    let parts = project.graph.units.iter().position(|unit| unit.path == "sewing.one").unwrap();
    assert_eq!(numbers.len(), project.graph.parts_of(scantling::parts::UnitId::at(parts)).count());
}

/// What a detail shows.
fn kind(pane: &Pane) -> String {
    pane.name.split(['`', ':']).next().unwrap().trim().to_owned()
}

/// Everything that must hold of the views of the examples; two runs of a view give the same bytes.
#[test]
fn views_of_the_examples_are_as_their_parts() {
    let (mut kinds, mut sides) = (BTreeSet::new(), [0, 0]);
    for file in EXAMPLES {
        let project = compiled(file);
        an_elevation_shows_every_part_in_its_place(file, &project);
        a_section_cuts_what_stands_there(file, &project);
        a_plan_shows_parts_in_their_places(file, &project);
        chains_sum_to_their_wholes(file, &project);
        grooves_lie_at_the_heights_of_their_joints(file, &project);
        let [pairs, alike] = the_sides_of_a_pair_are_mirror_images(file, &project);
        sides = [sides[0] + pairs, sides[1] + alike];
        kinds.extend(panes(&pictures(&project, "detail", "")).map(kind));
        let drawn = || views(&project).iter().map(svg).collect::<Vec<String>>();
        assert_eq!(drawn(), drawn(), "{file}");
        for drawing in views(&project) {
            assert_eq!(faults(&drawing), [""; 0], "{file}, {}", drawing.name);
        }
    }
    // Every kind of joint and of thing that is fixed; sides that have shelves of a bay in one of them only.
    let expected =
        ["cleat", "crown over the top rail", "groove", "loose strip", "rabbet", "stile", "strip", "tenon"];
    assert!(kinds.iter().eq(expected), "{kinds:?}");
    assert_eq!(sides, [16, 12]);
}

/// A reading that is not taken is told on every drawing that depends on it.
#[test]
fn a_drawing_of_readings_not_taken_says_so() {
    let text = std::fs::read_to_string(root().join(EXAMPLES[0])).unwrap();
    let project = compiled_text(&text.replace("back = 130 1/4\", front", "back = ?, front"));
    let drawings = views(&project);
    assert!(!drawings.is_empty());
    for drawing in drawings {
        assert!(drawing.texts().any(|text| text.says.contains("PROVISIONAL")), "{}", drawing.name);
    }
}

#[test]
fn a_path_picks_and_a_near_miss_is_named() {
    let project = compiled(EXAMPLES[0]);
    let by = |path: &str| Picked::by(subject(&project), path);
    assert!(by("sewing").is_ok_and(|picked| picked.run.is_some() && picked.unit.is_none()));
    assert!(by("sewing.two").is_ok_and(|picked| picked.unit.is_some() && picked.part.is_none()));
    assert!(by("sewing.two.side.left").is_ok_and(|picked| picked.part.is_some()));
    let wrong = by("sewing.thre").unwrap_err();
    assert_eq!(
        (wrong.message.as_str(), wrong.help.as_str()),
        ("`sewing` has no `thre`", "did you mean `sewing.three`?")
    );
    let wrong = by("sewing.two.side.lft").unwrap_err();
    assert_eq!(wrong.help, "did you mean `sewing.two.side.left`?");
    assert_eq!(
        by("sewing.two.side").unwrap_err().message,
        "`sewing.two.side` is no run, unit or part by itself"
    );
    // The unit that is talked about is heavy, the rest light.
    let picture = &pictures(&project, "elevation", "sewing.two")[0];
    let heavy = picture.panes[0].shapes.iter().find(|shape| shape.line == Line::Heavy).unwrap();
    assert_eq!(extent(heavy), [[inch("33 5/16"), inch("65 9/16")], [Length::ZERO, inch("86 1/2")]]);
    assert_eq!(pictures(&project, "section", "sewing.two").len(), 1);
    assert_eq!(pictures(&project, "section", "").len(), 4);
}

/// A name of 60 letters.
fn long(of: &str) -> String {
    format!("{of}_{}", "abcdefghij_".repeat(6)).chars().take(60).collect()
}

/// Without a run, with 40 units, with names of 60 letters, with one shelf and with 60: all can be read.
#[test]
fn views_of_odd_projects_can_be_read() {
    let sheet = "sheet ply { thickness = 18mm }\n";
    let marks =
        |count: usize| -> String { (0..count).map(|n| format!(" m{n} = {}mm,", 20 + 40 * n)).collect() };
    let alone = format!(
        "{sheet}stick s {{ low = 80mm, high = 500mm }}\n\
         carcass a {{ shelves = s, width = 800mm, height = 700mm, depth = 300mm, top, counter {{ stock = ply }} }}\n\
         carcass b {{ shelves = s, width = 500mm, height = 700mm, depth = 300mm, doors {{ stock = ply, count = 2 }} }}\n"
    );
    let forty = format!(
        "{sheet}stick s {{ low = 80mm, high = 500mm }}\n\
         run r {{ each unit {{ stock = ply, shelves = s, width = 620mm, height = 2100mm, depth = 300mm, cleat {{ height = 40mm }} }}\n{} }}\n",
        (0..40).map(|n| format!("unit u{n}\n")).collect::<String>()
    );
    let [low, high, unit, run] = ["low", "high", "unit", "run"].map(long);
    let names = format!(
        "project \"{}\" {{ marks = 1mm }}\n{sheet}stick s {{ {low} = 80mm, {high} = 500mm }}\n\
         run {run} {{ each unit {{ stock = ply, shelves = s, width = 620mm, height = 2100mm, depth = 300mm, cleat {{ height = 40mm }} }}\n\
         unit {unit}\nunit two }}\n",
        "a title that goes on and on ".repeat(6)
    );
    let shelves = |count: usize, height: usize| {
        format!(
            "{sheet}stick s {{{} }}\ncarcass a {{ shelves = s, width = 800mm, height = {height}mm, depth = 300mm }}\n",
            marks(count)
        )
    };
    for (what, text) in [
        ("alone", alone),
        ("forty units", forty),
        ("long names", names),
        ("one shelf", shelves(1, 300)),
        ("sixty shelves", shelves(60, 2500)),
    ] {
        let project = compiled_text(&text);
        assert!(!project.graph.parts.is_empty(), "{what}: {:?}", project.diagnostics);
        let drawings = views(&project);
        assert!(drawings.len() >= 6, "{what}: {}", drawings.len());
        for drawing in drawings {
            assert_eq!(faults(&drawing), [""; 0], "{what}, {}", drawing.name);
        }
    }
}
