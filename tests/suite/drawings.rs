//! What every drawing must hold: words that can be read, that do not touch each other and that no line goes through; nothing
//! beyond the margin of the paper.

use crate::properties::{runner, shelved, shelved_text};
use crate::revisions::side;
use crate::sawn::EXAMPLES;
use crate::{compiled, compiled_text};
use proptest::prelude::*;
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::diff::overlay;
use scantling::document::{Drawing, Line, Shape, Text};
use scantling::sheets::SHEETS;
use scantling::views::{Picked, Subject, VIEWS};

/// Left, top, right and bottom of what words cover; words are level or upright.
fn covers(text: &Text) -> [f64; 4] {
    let corners = text.corners();
    let of = |axis: usize, pick: fn(f64, f64) -> f64| corners.iter().map(|c| c[axis]).reduce(pick).unwrap();
    [of(0, f64::min), of(1, f64::min), of(0, f64::max), of(1, f64::max)]
}

/// Whether a line goes through a box: cut down to its part inside by each edge in turn (Liang and Barsky 1984).
fn crosses([ax, ay]: [f64; 2], [bx, by]: [f64; 2], [left, top, right, bottom]: [f64; 4]) -> bool {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (step, room) in
        [(ax - bx, ax - left), (bx - ax, right - ax), (ay - by, ay - top), (by - ay, bottom - ay)]
    {
        if step.abs() < 1e-12 {
            if room <= 0.0 {
                return false;
            }
        } else if step < 0.0 {
            from = from.max(room / step);
        } else {
            to = to.min(room / step);
        }
    }
    from < to
}

/// What is wrong with a drawing.
pub(crate) fn faults(drawing: &Drawing) -> Vec<String> {
    let mut faults = Vec::new();
    let [wide, high] = drawing.size;
    let texts: Vec<(&Text, [f64; 4])> = drawing.texts().map(|text| (text, covers(text))).collect();
    for (place, (text, covered)) in texts.iter().enumerate() {
        let says = &text.says;
        let [left, top, right, bottom] = *covered;
        if text.height < 2.5 {
            faults.push(format!("`{says}` is {} high", text.height));
        }
        if left < 5.0 || top < 5.0 || right > wide - 5.0 || bottom > high - 5.0 {
            faults.push(format!("`{says}` goes beyond the margin"));
        }
        for (other, [l, t, r, b]) in &texts[place + 1..] {
            if left < *r && *l < right && top < *b && *t < bottom {
                faults.push(format!("`{says}` touches `{}`", other.says));
            }
        }
        for shape in &drawing.shapes {
            let Shape::Stroke(stroke) = shape else { continue };
            // Hatching lies under paper.
            if stroke.line == Line::Hatch {
                continue;
            }
            let back = stroke.closed.then(|| stroke.path[0]);
            let ends: Vec<[f64; 2]> = stroke.path.iter().copied().chain(back).collect();
            if ends.windows(2).any(|ends| crosses(ends[0], ends[1], *covered)) {
                faults.push(format!("a line, {:?}, goes through `{says}`", stroke.line));
            }
        }
    }
    faults
}

/// All drawings of the sheets of a project.
fn drawn(project: &Compilation) -> Vec<Drawing> {
    let subject = project.subject(Effort::Quick);
    SHEETS.iter().filter_map(|sheet| sheet.draw).flat_map(|draw| draw(subject)).collect()
}

#[test]
fn the_rule_sees_what_is_wrong() {
    let mut drawing = Drawing::new("x", "x", [100.0, 100.0]);
    drawing.text(Text::new("shelf", [20.0, 20.0], 2.4));
    drawing.text(Text::new("side", [22.0, 21.0], 3.5));
    drawing.text(Text::new("too far to the right", [80.0, 50.0], 3.5));
    drawing.line(Line::Outline, [[85.0, 10.0], [85.0, 90.0]]);
    drawing.line(Line::Outline, [[10.0, 60.0], [90.0, 60.0]]);
    let expected = [
        "`shelf` is 2.4 high",
        "`shelf` touches `side`",
        "`too far to the right` goes beyond the margin",
        "a line, Outline, goes through `too far to the right`",
    ];
    assert_eq!(faults(&drawing), expected);
}

#[test]
fn drawings_of_the_examples_can_be_read() {
    let mut seen = 0;
    for file in EXAMPLES {
        let project = compiled(file);
        let elevations = overlay(side(file, &project), side(file, &project));
        for drawing in drawn(&project).iter().chain(&elevations) {
            assert_eq!(faults(drawing), [""; 0], "{file}, {}", drawing.name);
            seen += 1;
        }
    }
    assert!(seen > 25, "{seen}");
}

/// A sheet of the given size, all of whose parts are cut from it.
fn project(size: [u32; 2], widths: &[u32], depth: u32, cleat: u32) -> String {
    let units: String = widths
        .iter()
        .enumerate()
        .map(|(place, width)| format!("carcass c{place} {{ width = {width}mm }}\n"))
        .collect();
    format!(
        "project \"A cupboard whose title says at length what stands in it, above it and beside it, and where all of that comes \
         from\" {{ marks = 0.1mm }}\n\
         sheet ply {{ thickness = 18mm, size = {}mm x {}mm, skim = 3mm, grain = length }}\n\
         stick s {{ one = 80mm, two = 300mm }}\n\
         each carcass {{ stock = ply, height = 500mm, depth = {depth}mm, shelves = s, cleat {{ height = {cleat}mm }} }}\n{units}",
        size[0], size[1]
    )
}

/// The largest scale that leaves the work room: a square sheet with the work beside it, a small one at 1:4, a large one.
#[test]
fn a_sheet_fills_the_page_whatever_its_size() {
    let scale = |size| {
        let drawings = drawn(&compiled_text(&project(size, &[400], 250, 60)));
        drawings[0].scale.unwrap().to_string()
    };
    // 1525 / 10 = 152.5 of 165 mm in height; 600 / 4 = 150 of 264 mm in width, where 1:2 takes 300.
    assert_eq!(scale([1525, 1525]), "1:10");
    assert_eq!(scale([600, 560]), "1:4");
    assert_eq!(scale([2440, 1220]), "1:10");
    // 1:12 takes 127 + 8 of 165 mm, and leaves room for four lines of work in each of two columns.
    assert_eq!(scale([3050, 1525]), "1:16");
}

/// The paper that is stated, else that of the system; in millimetres, lying.
#[test]
fn drawings_are_made_for_the_paper_of_the_project() {
    let size = |stated: &str| {
        let text = project([2440, 1220], &[400], 250, 60).replace("{ marks = 0.1mm }", stated);
        format!("{:?}", drawn(&compiled_text(&text))[0].size)
    };
    assert_eq!(size("{ marks = 0.1mm }"), "[297.0, 210.0]");
    assert_eq!(size("{ marks = 1/32\" }"), "[279.4, 215.9]");
    assert_eq!(size("{ marks = 0.1mm, paper = letter }"), "[279.4, 215.9]");
    assert_eq!(size("{ marks = 1/32\", paper = a4 }"), "[297.0, 210.0]");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, rng_seed: prop::test_runner::RngSeed::Fixed(13), ..ProptestConfig::default() })]

    #[test]
    fn drawings_of_any_project_can_be_read(
        size in [560..3100_u32, 560..2100_u32],
        widths in prop::collection::vec(90..540_u32, 1..9),
        depth in 60..500_u32,
        cleat in 20..120_u32,
    ) {
        let project = compiled_text(&project(size, &widths, depth, cleat));
        for drawing in drawn(&project) {
            prop_assert_eq!(faults(&drawing), [""; 0], "{}", drawing.name);
        }
    }
}

/// All views of a project, of all that is in it.
pub(crate) fn views(project: &Compilation) -> Vec<Drawing> {
    let subject = Subject { model: &project.model, graph: &project.graph };
    VIEWS.iter().flat_map(|view| view.drawings(subject, &Picked::default())).collect()
}

/// A room around a run, with a floor and walls that are nowhere straight.
fn roomed(text: &str, [lean, fall, stud]: [u32; 3]) -> String {
    let room = format!(
        "room k {{
  floor {{ at = [0mm, 900mm, 1800mm, 4000mm], below = [{fall}mm, 0mm, 2mm, 9mm] }}
  ceiling {{ at = [0mm, 4000mm], above = [2700mm, 2690mm] }}
  wall w {{
    reading low {{ back = 4000mm, front = {}mm }}
    reading middle {{ back = {}mm, front = 4010mm }}
    reading high {{ back = 4003mm, front = 4007mm }}
    lining = 12.5mm
    studs {{ first = {stud}mm, every = 400mm }}
    obstacle socket {{ kind = outlet, left = 350mm, bottom = 300mm, width = 80mm, height = 80mm, decided = cut_round }}
    opening hatch {{ kind = window, left = 1200mm, bottom = 900mm, width = 700mm, height = 500mm }}
  }}
}}
",
        4000 + lean,
        4000 - lean
    );
    room + &text.replace("run r {", "run r {\n  along = k.w\n")
}

#[test]
fn views_of_any_project_can_be_read() {
    let strategy = (shelved(), any::<bool>(), [0_u32..30, 0..12, 40..400]);
    runner(200)
        .run(&strategy, |(shelved, room, around)| {
            let text = shelved_text(shelved);
            let project = compiled_text(&if room { roomed(&text, around) } else { text.clone() });
            if project.graph.parts.is_empty() {
                return Ok(());
            }
            // All units are alike: of the views of a unit one is enough.
            let subject = Subject { model: &project.model, graph: &project.graph };
            let picked = |path: &str| Picked::by(subject, path).unwrap();
            let (run, unit) = (picked("r"), picked(&project.graph.units[0].path));
            for view in VIEWS {
                let picked = if ["elevation", "plan"].contains(&view.name) { &run } else { &unit };
                for drawing in view.drawings(subject, picked) {
                    prop_assert_eq!(faults(&drawing), [""; 0], "{}\n{}", drawing.name, text);
                }
            }
            Ok(())
        })
        .unwrap();
}
