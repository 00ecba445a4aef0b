//! Labels, story sticks and boring: every part, mark and hole, and paper in its exact size, read back from the PDF.

use crate::command_line::folder;
use crate::drawings::faults;
use crate::properties::{runner, shelved, shelved_text};
use crate::sawn::EXAMPLES;
use crate::{compiled, compiled_text, root};
use proptest::prelude::*;
use scantling::breakdown::Effort;
use scantling::compile::Compilation;
use scantling::document::{Drawing, Shape, Text, Weight};
use scantling::pages::{GRIDS, Leaf, place};
use scantling::parts::{JointKind, Part, Role};
use scantling::quantity::{Length, System};
use scantling::render::{page, pdf};
use scantling::sequence::{Stick, sticks};
use scantling::views::{Picked, Subject, VIEWS, view};
use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;

fn leaves(project: &Compilation, name: &str) -> Vec<Leaf> {
    (place(name).unwrap().make)(project.subject(Effort::Quick))
}

/// The drawings of a place, each on a sheet of paper of its own.
fn drawings(project: &Compilation, name: &str) -> Vec<Drawing> {
    let paper = project.model.project.paper();
    leaves(project, name).iter().flat_map(|leaf| leaf.page.sheets(paper)).collect()
}

/// What a page of a PDF is: its size, and the lines that are drawn on it, in millimetres from its upper left corner.
#[derive(Debug)]
struct Paper {
    size: [f64; 2],
    lines: Vec<Vec<[f64; 2]>>,
}

/// An object of a PDF: what stands before its stream, and the stream.
type Object = (String, Vec<u8>);

/// Reads a PDF as far as this program writes one: objects in a row, contents without compression.
fn read(bytes: &[u8]) -> Vec<Paper> {
    let find = |from: usize, what: &[u8]| {
        bytes[from..].windows(what.len()).position(|own| own == what).map(|place| from + place)
    };
    let mut objects: BTreeMap<u32, Object> = BTreeMap::new();
    let mut from = 0;
    while let Some(begin) = find(from, b" 0 obj\n") {
        let start = bytes[..begin].iter().rposition(|byte| *byte == b'\n').unwrap() + 1;
        let number: u32 = std::str::from_utf8(&bytes[start..begin]).unwrap().parse().unwrap();
        let body = begin + b" 0 obj\n".len();
        let (stream, end) = (find(body, b"stream\n"), find(body, b"endobj").unwrap());
        let (head, data, after) = match stream.filter(|stream| *stream < end) {
            Some(stream) => {
                let head = String::from_utf8_lossy(&bytes[body..stream]).into_owned();
                let long: usize = number_after(&head, "/Length ").unwrap() as usize;
                let data = stream + b"stream\n".len();
                (head, bytes[data..data + long].to_vec(), data + long)
            }
            None => (String::from_utf8_lossy(&bytes[body..end]).into_owned(), Vec::new(), end),
        };
        objects.insert(number, (head, data));
        from = after;
    }
    let mut pages = Vec::new();
    for (head, _) in objects.values().filter(|(head, _)| head.contains("/Type /Page\n")) {
        let box_at = head.find("/MediaBox [").unwrap() + "/MediaBox [".len();
        let sides: Vec<f64> = head[box_at..head[box_at..].find(']').unwrap() + box_at]
            .split_whitespace()
            .map(|side| side.parse().unwrap())
            .collect();
        let unit = number_after(head, "/UserUnit ").unwrap_or(1.0) * 25.4 / 72.0;
        let content = number_after(head, "/Contents ").unwrap() as u32;
        let lines = strokes(&objects[&content].1)
            .into_iter()
            .map(|path| path.into_iter().map(|[x, y]| [x * unit, (sides[3] - y) * unit]).collect())
            .collect();
        pages.push(Paper { size: [sides[2] * unit, sides[3] * unit], lines });
    }
    pages
}

fn number_after(text: &str, what: &str) -> Option<f64> {
    let from = text.find(what)? + what.len();
    let number: String =
        text[from..].chars().take_while(|sign| sign.is_ascii_digit() || *sign == '.').collect();
    number.parse().ok()
}

/// The paths that are stroked, each closed one with its first point again.
fn strokes(content: &[u8]) -> Vec<Vec<[f64; 2]>> {
    let (mut stack, mut path, mut out) = (Vec::new(), Vec::new(), Vec::new());
    let mut curved = false;
    let mut bytes = content.iter().copied().peekable();
    let mut word = String::new();
    loop {
        let byte = bytes.next();
        match byte {
            Some(b'(') => {
                // A string: what is in it is no operator.
                let mut deep = 1;
                while deep > 0 {
                    match bytes.next().unwrap() {
                        b'\\' => _ = bytes.next(),
                        b'(' => deep += 1,
                        b')' => deep -= 1,
                        _ => {}
                    }
                }
                continue;
            }
            Some(b'<') => while bytes.next().unwrap() != b'>' {},
            Some(byte) if !byte.is_ascii_whitespace() && !b"[]".contains(&byte) => {
                word.push(char::from(byte));
                continue;
            }
            _ => {}
        }
        if let Ok(number) = word.parse::<f64>() {
            stack.push(number);
        } else if !word.is_empty() {
            match word.as_str() {
                "m" => (path, curved) = (vec![[stack[0], stack[1]]], false),
                "l" => path.push([stack[0], stack[1]]),
                "c" => curved = true,
                "h" => path.extend(path.first().copied()),
                "S" if !curved => out.push(std::mem::take(&mut path)),
                _ => {}
            }
            stack.clear();
        }
        word.clear();
        if byte.is_none() {
            return out;
        }
    }
}

/// The lines of a drawing as a PDF has to have them.
fn expected(drawing: &Drawing) -> Vec<Vec<[f64; 2]>> {
    let path = |shape: &Shape| match shape {
        Shape::Stroke(stroke) => {
            let back = stroke.closed.then(|| stroke.path[0]);
            Some(stroke.path.iter().copied().chain(back).collect())
        }
        _ => None,
    };
    drawing.shapes.iter().filter_map(path).collect()
}

/// Every line of a PDF lies where it is drawn, within a thousandth of a millimetre on paper of a hundredth of a metre: no view and no page is
/// larger or smaller than it says.
fn is_exact(drawings: &[Drawing], what: &str) -> usize {
    let papers = read(&pdf("x", drawings));
    assert_eq!(papers.len(), drawings.len(), "{what}");
    let mut seen = 0;
    for (paper, drawing) in papers.iter().zip(drawings) {
        let near = |a: &[f64; 2], b: &[f64; 2]| (0..2).all(|axis| (a[axis] - b[axis]).abs() < 0.002);
        assert!(near(&paper.size, &drawing.size), "{what}: {:?}", paper.size);
        let lines = expected(drawing);
        assert_eq!(paper.lines.len(), lines.len(), "{what}");
        for (read, drawn) in paper.lines.iter().zip(&lines) {
            assert!(
                read.len() == drawn.len() && read.iter().zip(drawn).all(|(a, b)| near(a, b)),
                "{what}: {read:?} {drawn:?}"
            );
            seen += 1;
        }
    }
    seen
}

#[test]
fn every_line_of_a_pdf_lies_where_it_is_drawn() {
    let mut seen = 0;
    for file in EXAMPLES {
        let project = compiled(file);
        let subject = Subject { model: &project.model, graph: &project.graph };
        for view in VIEWS {
            seen += is_exact(&view.drawings(subject, &Picked::default()), view.name);
        }
        for name in ["labels", "stick"] {
            seen += is_exact(&drawings(&project, name), name);
        }
    }
    // What stands on pages with words around it is exact too: the layouts of the sheets.
    seen += is_exact(&drawings(&compiled(EXAMPLES[0]), "breakdown"), "breakdown");
    assert!(seen > 20_000, "{seen}");
}

fn long(line: &[[f64; 2]]) -> f64 {
    match line {
        [[ax, ay], [bx, by]] => (bx - ax).hypot(by - ay),
        _ => 0.0,
    }
}

/// How many texts begin so.
fn says(drawing: &Drawing, what: &str) -> usize {
    drawing.texts().filter(|text| text.says.starts_with(what)).count()
}

/// 100 mm and 4 in, which are 101.6 mm, within 0.1 %, as often as somebody is told to measure them.
fn is_ruled(drawings: &[Drawing], what: &str) {
    for (paper, drawing) in read(&pdf("x", drawings)).iter().zip(drawings) {
        let told = says(drawing, "100 mm: measure this before you use it");
        assert!(told > 0, "{what}: {}", drawing.name);
        for exact in [100.0, 101.6] {
            let near = |line: &&Vec<[f64; 2]>| (long(line) / exact - 1.0).abs() < 0.001;
            assert!(paper.lines.iter().filter(near).count() >= told, "{what}: {exact}");
        }
    }
}

/// A strip as it is read from paper: from which number to which, and the places of its marks, in millimetres from the bottom end.
#[derive(Debug)]
struct Strip {
    from: f64,
    to: f64,
    marks: Vec<f64>,
}

/// Reads the strips of a stick from the lines of a PDF by the numbers beside them; every numbered line is held to its own number.
fn strips(drawings: &[Drawing], step: f64) -> Vec<Strip> {
    let mut strips = Vec::new();
    for (paper, drawing) in read(&pdf("x", drawings)).iter().zip(drawings) {
        let heads: Vec<(&Text, [f64; 2])> = drawing
            .texts()
            .filter_map(|text| {
                let range = text.says.rsplit(": ").next()?;
                let (from, to) = range.split_once(" to ")?;
                Some((text, [from.parse().ok()?, to.parse().ok()?]))
            })
            .collect();
        for (place, (head, ends)) in heads.iter().enumerate() {
            let left = head.at[0] - 1.0;
            let right = heads.get(place + 1).map_or(f64::INFINITY, |(next, _)| next.at[0] - 1.0);
            let level = |line: &Vec<[f64; 2]>| line.len() == 2 && (line[0][1] - line[1][1]).abs() < 1e-3;
            let own = || {
                paper
                    .lines
                    .iter()
                    .filter(|line| level(line) && line[0][0] > left - 1e-3 && line[1][0] < right + 1e-3)
            };
            let mut numbered: Vec<f64> =
                own().filter(|line| (long(line) - 15.5).abs() < 1e-3).map(|line| line[0][1]).collect();
            numbered.sort_by(|a, b| b.total_cmp(a));
            let of = if step > 20.0 { step } else { 1.0 };
            let [from, to] = ends.map(|end| end * of);
            // One line for each number, each in its exact place.
            assert_eq!(numbered.len(), ((to - from) / step).round() as usize + 1, "{}", drawing.name);
            let base = numbered[0];
            for (number, y) in numbered.iter().enumerate() {
                let (read, exact) = (base - y, number as f64 * step);
                assert!((read - exact).abs() <= 0.001 * exact.max(1.0), "{read} {exact}");
            }
            // Lines that are carried over are 9 mm long and begin at the left edge.
            let carried =
                own().filter(|line| (long(line) - 9.0).abs() < 1e-3 && (line[0][0] - left).abs() < 1e-3);
            strips.push(Strip { from, to, marks: carried.map(|line| from + base - line[0][1]).collect() });
        }
    }
    strips
}

fn step(project: &Compilation) -> f64 {
    match project.model.project.marks.system() {
        System::Inch => 25.4,
        System::Metric => 10.0,
    }
}

/// Where something is housed across a side, from its bottom end.
fn housed(project: &Compilation, side: &Part) -> BTreeSet<Length> {
    let across = project.graph.joints_in(side.id).filter(|joint| match joint.kind {
        JointKind::Dado { .. } => true,
        JointKind::Rabbet { .. } => project.graph.part(joint.guest).unwrap().role != Role::Back,
        _ => false,
    });
    across.map(|joint| joint.at.value).collect()
}

/// Every side is on one stick, whose marks are its grooves and no others where the stick does not say to skip them.
fn sticks_are_those_of_the_graph(project: &Compilation, what: &str) -> Vec<Stick> {
    let all = sticks(&project.model, &project.graph);
    let sides: Vec<&Part> =
        project.graph.parts.iter().filter(|part| matches!(part.role, Role::Side(_))).collect();
    for side in sides {
        let own: Vec<&Stick> = all.iter().filter(|stick| stick.boards.contains(&side.id)).collect();
        let grooves = housed(project, side);
        match own.as_slice() {
            [stick] => {
                let marks = stick.marks.iter().filter(|mark| mark.boards.contains(&side.id));
                assert_eq!(
                    marks.map(|mark| mark.at).collect::<BTreeSet<_>>(),
                    grooves,
                    "{what}: {}",
                    side.path
                );
                let end = stick.ends.iter().find(|(_, boards)| boards.contains(&side.id)).unwrap();
                assert_eq!(end.0, side.size.length.value, "{what}: {}", side.path);
            }
            [] => assert!(grooves.is_empty(), "{what}: {}", side.path),
            _ => panic!("{what}: {} is on {} sticks", side.path, own.len()),
        }
    }
    all
}

/// The strips on paper say the same as the stick, cover it whole, and lie over each other by an inch or 20 mm at least.
fn strips_are_as_the_stick(stick: &Stick, strips: &[Strip], step: f64, what: &str) {
    let mm = |length: &Length| length.to_mm_f64();
    let mut exact: Vec<f64> = std::iter::once(0.0)
        .chain(stick.marks.iter().map(|mark| mm(&mark.at)))
        .chain(stick.ends.iter().map(|(at, _)| mm(at)))
        .collect();
    exact.sort_by(f64::total_cmp);
    let read: Vec<f64> = strips.iter().flat_map(|strip| strip.marks.clone()).collect();
    let near = |a: f64, b: f64| (a - b).abs() <= 0.005 + 0.001 * 0.01 * b;
    for at in &exact {
        assert!(read.iter().any(|read| near(*read, *at)), "{what}: no line at {at} in {read:?}");
    }
    for at in &read {
        assert!(exact.iter().any(|exact| near(*at, *exact)), "{what}: a line at {at}");
    }
    assert!(strips[0].from.abs() < 1e-9, "{what}");
    let overlap = if step > 20.0 { 25.4 } else { 20.0 };
    for pair in strips.windows(2) {
        assert!(pair[1].from <= pair[0].to - overlap + 1e-6 && pair[1].to > pair[0].to, "{what}: {pair:?}");
    }
    assert!(strips.last().unwrap().to >= mm(&stick.length()) - 1e-6, "{what}");
}

/// Labels: one for each part, its code and its size on it, no two codes alike; nothing touches anything.
fn labels_are_one_a_part(project: &Compilation, what: &str) -> Vec<Drawing> {
    let (drawn, codes) = (drawings(project, "labels"), project.graph.codes());
    let bold: Vec<&str> = drawn
        .iter()
        .flat_map(Drawing::texts)
        .filter(|text| text.weight == Weight::Bold && text.height > 4.5)
        .map(|text| text.says.as_str())
        .collect();
    assert_eq!(bold.len(), project.graph.parts.len(), "{what}");
    assert_eq!(codes.values().collect::<BTreeSet<_>>().len(), bold.len(), "{what}");
    for (part, code) in project.graph.parts.iter().zip(&bold) {
        assert_eq!(codes[&part.id], *code, "{what}: {}", part.path);
    }
    let sizes = drawn.iter().flat_map(Drawing::texts).filter(|text| text.says.contains(" x ")).count();
    assert_eq!(sizes, bold.len(), "{what}");
    drawn
}

fn readable(drawings: &[Drawing], what: &str) {
    for drawing in drawings {
        assert_eq!(faults(drawing), [""; 0], "{what}, {}", drawing.name);
    }
}

#[test]
fn labels_and_sticks_of_the_examples_are_exact_and_readable() {
    for file in EXAMPLES {
        let project = compiled(file);
        let labels = labels_are_one_a_part(&project, file);
        readable(&labels, file);
        is_ruled(&labels, file);
        let all = sticks_are_those_of_the_graph(&project, file);
        let leaves = leaves(&project, "stick");
        assert_eq!(all.len(), leaves.len(), "{file}");
        for ((stick, leaf), roll) in all
            .iter()
            .zip(&leaves)
            .zip(place("stick").unwrap().on_roll.unwrap()(project.subject(Effort::Quick)))
        {
            let drawn: Vec<Drawing> = leaf.page.drawings().map(|(drawing, _)| drawing.clone()).collect();
            let step = step(&project);
            for drawn in [&drawn[..], std::slice::from_ref(&roll)] {
                readable(drawn, file);
                is_ruled(drawn, file);
                strips_are_as_the_stick(stick, &strips(drawn, step), step, file);
            }
        }
    }
}

/// On sheets of labels as they are sold every label lies within its own, and all are there.
#[test]
fn labels_lie_on_sheets_of_labels() {
    for file in [EXAMPLES[0], EXAMPLES[1]] {
        let project = compiled(file);
        for grid in &GRIDS {
            let drawn = place("labels").unwrap().on_labels.unwrap()(project.subject(Effort::Quick), grid);
            readable(&drawn, file);
            let [columns, rows] = grid.cells;
            let far = |axis: usize| {
                grid.first[axis] + grid.pitch[axis] * (grid.cells[axis] - 1) as f64 + grid.label[axis]
            };
            let paper = grid.paper.upright();
            assert!((0..2).all(|axis| far(axis) <= paper[axis]), "{}", grid.name);
            let mut seen = 0;
            for drawing in &drawn {
                for text in drawing.texts() {
                    // The cell of its middle holds all of it.
                    let corners = text.corners();
                    for axis in 0..2 {
                        let middle = (corners[0][axis] + corners[2][axis]) / 2.0;
                        let cell = ((middle - grid.first[axis]) / grid.pitch[axis]).floor();
                        let low = grid.first[axis] + cell * grid.pitch[axis];
                        let inside =
                            |corner: &[f64; 2]| (low..=low + grid.label[axis]).contains(&corner[axis]);
                        assert!(corners.iter().all(inside), "{file} {}: {}", grid.name, text.says);
                    }
                    seen += usize::from(text.weight == Weight::Bold && text.height > 4.5);
                }
            }
            assert_eq!(seen, project.graph.parts.len());
            assert_eq!(drawn.len(), seen.div_ceil(columns * rows));
        }
    }
}

/// Details are as large as the work, and say by a rule whether the printer kept that; what is smaller has none.
#[test]
fn details_in_their_true_size_have_a_rule() {
    let mut seen = 0;
    for file in EXAMPLES {
        let project = compiled(file);
        let subject = Subject { model: &project.model, graph: &project.graph };
        let drawn = |name: &str| view(name).unwrap().drawings(subject, &Picked::default());
        let is_full = |drawing: &Drawing| drawing.scale.unwrap().to_string() == "1:1";
        let (full, others): (Vec<Drawing>, Vec<Drawing>) = drawn("detail").into_iter().partition(is_full);
        is_ruled(&full, file);
        seen += full.len();
        let none = |drawing: &Drawing| says(drawing, "100 mm: measure") == 0;
        assert!(others.iter().chain(&drawn("side")).all(none), "{file}");
    }
    assert!(seen >= EXAMPLES.len(), "{seen}");
}

#[test]
fn labels_and_sticks_of_any_project_are_exact_and_readable() {
    runner(40)
        .run(&(shelved(), any::<bool>()), |(shelved, inches)| {
            let mut text = shelved_text(shelved);
            if inches {
                text = format!("project \"Any\" {{ marks = 1/32\" }}\n{text}");
            }
            let project = compiled_text(&text);
            if project.graph.parts.is_empty() {
                return Ok(());
            }
            readable(&labels_are_one_a_part(&project, &text), &text);
            let all = sticks_are_those_of_the_graph(&project, &text);
            for (stick, leaf) in all.iter().zip(leaves(&project, "stick")) {
                let drawn: Vec<Drawing> = leaf.page.drawings().map(|(drawing, _)| drawing.clone()).collect();
                readable(&drawn, &text);
                strips_are_as_the_stick(stick, &strips(&drawn, step(&project)), step(&project), &text);
            }
            readable(&drawings(&project, "boring"), &text);
            Ok(())
        })
        .unwrap();
}

/// Names are told by nothing: other names give the same codes. A shelf more changes no code but those of shelves over it and of what
/// hangs on them.
#[test]
fn codes_follow_from_places() {
    let text = |shelves: &str, name: &str| {
        format!(
            "sheet ply {{ thickness = 18mm }}\nstick s {{ {shelves} }}\nrun r {{\n  each unit {{ stock = ply, shelves = s, width = 700mm, height = 1800mm, \
             depth = 300mm, cleat {{ height = 50mm }} }}\n  unit {name}\n  unit other\n}}\n"
        )
    };
    let codes = |text: &str| -> BTreeMap<String, String> {
        let project = compiled_text(text);
        let codes = project.graph.codes();
        project.graph.parts.iter().map(|part| (part.path.clone(), codes[&part.id].clone())).collect()
    };
    let before = codes(&text("low = 80mm, middle = 700mm, high = 1400mm", "zebra"));
    let expected = [
        ("r.other.shelf.low", "2S1"),
        ("r.other.side.left", "2L"),
        ("r.zebra.cleat.high", "1C3"),
        ("r.zebra.cleat.middle", "1C2"),
        ("r.zebra.shelf.high", "1S3"),
        ("r.zebra.shelf.low", "1S1"),
        ("r.zebra.side.right", "1R"),
    ];
    for (path, code) in expected {
        assert_eq!(before[path], code, "{path}");
    }
    let renamed = codes(&text("low = 80mm, middle = 700mm, high = 1400mm", "ant"));
    assert_eq!(before.values().collect::<BTreeSet<_>>(), renamed.values().collect::<BTreeSet<_>>());
    assert_eq!(renamed["r.ant.shelf.low"], "1S1");
    let more = codes(&text("low = 80mm, middle = 700mm, attic = 1000mm, high = 1400mm", "zebra"));
    for (path, code) in &before {
        let is_over = path.ends_with(".high");
        assert_eq!(more[path] == *code, !is_over, "{path}");
    }
    assert_eq!(more["r.zebra.cleat.high"], "1C4");
}

/// A side as one sees it from within its unit: the front of the left one is at the left hand, that of the right one at the right. What lies flat
/// has its label underneath.
#[test]
fn arrows_of_labels_tell_left_from_right() {
    let project = compiled(EXAMPLES[0]);
    let leaf = &leaves(&project, "labels")[0];
    let label = |name: &str| {
        let labels = leaf.json["labels"].as_array().unwrap();
        labels.iter().find(|label| label["path"] == name).unwrap().clone()
    };
    let arrows = |name: &str| {
        let label = label(name);
        ["on", "front", "bottom"].map(|key| label[key].as_str().unwrap_or("-").to_owned()).join(", ")
    };
    assert_eq!(arrows("sewing.one.side.left"), "inside face, left, down");
    assert_eq!(arrows("sewing.one.side.right"), "inside face, right, down");
    assert_eq!(arrows("sewing.one.shelf.binders"), "underside, down, -");
    assert_eq!(arrows("sewing.one.cleat.binders"), "rear face, -, down");
}

fn carcass(shelves: &str, more: &str) -> String {
    format!(
        "sheet ply {{ thickness = 18mm }}\n{shelves}\ncarcass box {{ stock = ply, width = 800mm, height = 2200mm, depth = 300mm{more} }}\n"
    )
}

/// No run, no stick, one shelf, sixty of them, names of sixty letters, forty units: every page stays readable, and the list has what no
/// strip has room for.
#[test]
fn odd_projects_stay_readable() {
    let long = "a".repeat(30) + &"z".repeat(30);
    let sixty: String = (0..60).map(|n| format!(" m{n} = {}mm,", 80 + n * 35)).collect();
    let tight: String = (0..60).map(|n| format!(" m{n} = {}mm,", 80 + n * 19)).collect();
    let units = "  unit\n".repeat(40);
    let of_run = format!(
        "sheet ply {{ thickness = 18mm }}\nstick s {{ a = 80mm, b = 700mm }}\nrun {long} {{\n  each unit {{ stock = ply, shelves = s, width = 300mm, \
         height = 900mm, depth = 250mm }}\n{units}}}\n"
    );
    let projects = [
        carcass("stick s { only = 80mm }", ", shelves = s"),
        carcass("", ", shelf one { clear = 500mm }, shelf two"),
        carcass(&format!("stick s {{{sixty} }}"), ", shelves = s"),
        carcass(&format!("stick s {{{tight} }}"), ", shelves = s"),
        carcass(&format!("stick s {{ {long} = 80mm, x{long} = 120mm, y{long} = 700mm }}"), ", shelves = s"),
        of_run,
    ];
    for text in &projects {
        for head in ["", "project \"Odd\" { marks = 1/32\" }\n"] {
            let project = compiled_text(&format!("{head}{text}"));
            assert!(!project.has_errors() && project.graph.parts.len() > 2, "{text}");
            readable(&labels_are_one_a_part(&project, text), text);
            let all = sticks_are_those_of_the_graph(&project, text);
            let leaves = leaves(&project, "stick");
            assert!(!all.is_empty() && all.len() == leaves.len(), "{text}");
            for (stick, leaf) in all.iter().zip(&leaves) {
                let drawn: Vec<Drawing> = leaf.page.drawings().map(|(drawing, _)| drawing.clone()).collect();
                readable(&drawn, text);
                strips_are_as_the_stick(stick, &strips(&drawn, step(&project)), step(&project), text);
                assert_eq!(leaf.json["marks"].as_array().unwrap().len(), stick.marks.len());
                for line in page(&leaf.page, 80).lines() {
                    let longest = line.split_whitespace().map(|word| word.chars().count()).max().unwrap_or(0);
                    assert!(line.chars().count() <= 80 || longest > 40, "{line}");
                }
            }
        }
    }
    for nothing in ["", "project \"New\" { marks = 1mm }\n"] {
        let project = compiled_text(nothing);
        for name in ["labels", "stick", "boring"] {
            assert!(leaves(&project, name).is_empty(), "{name}");
        }
    }
}

/// 7 in and 29 in from the grid of the example, an inch apart: (29 - 7) / 1 + 1 = 23 holes; two rows in two sides.
#[test]
fn holes_are_bored_from_the_lower_end() {
    let project = compiled("examples/pantry/pantry.scant");
    let leaf = &leaves(&project, "boring")[0];
    let row = &leaf.json["units"][0]["rows"][0];
    assert_eq!((&row["first"]["print"], &row["last"]["print"]), (&"7\"".into(), &"29\"".into()));
    assert_eq!((&row["in_a_row"], &row["template"]), (&23.into(), &serde_json::json!([7, 29])));
    assert_eq!(row["codes"], serde_json::json!(["1L", "1R"]));
    // 23/32 less 3/8 is 11/32.
    assert_eq!(row["left"]["print"], "11/32\"");
    for bore in &project.graph.bores {
        let [low, high] = bore.ends.map(|end| end.value);
        let pitch = bore.pitch.value;
        let [first, last] = bore.numbers.map(|number| pitch.checked_mul(number.into()).unwrap());
        assert_eq!((first, last), (low, high));
    }
}

/// What is printed on the pages, as somebody has read it.
#[test]
fn pages_of_the_examples_read_as_they_were_read() {
    for file in EXAMPLES {
        let project = compiled(file);
        let texts: Vec<String> = ["labels", "stick", "boring"]
            .into_iter()
            .flat_map(|name| leaves(&project, name))
            .map(|leaf| page(&leaf.page, 80))
            .collect();
        let name = file.rsplit('/').next().unwrap().trim_end_matches(".scant");
        insta::assert_snapshot!(name, texts.join("\n\n"));
    }
}

fn show(arguments: &[&str]) -> (i32, Vec<u8>, String) {
    let mut command = assert_cmd::Command::cargo_bin("scantling").unwrap();
    let output = command.current_dir(root()).arg("show").args(arguments).output().unwrap();
    let err = String::from_utf8(output.stderr).unwrap();
    (output.status.code().unwrap(), output.stdout, err)
}

/// The paper is that of the system, or the one that is asked for; what is too small is said with the least that is large enough.
#[test]
fn paper_is_the_one_that_is_asked_for() {
    let pantry = "examples/pantry/pantry.scant";
    let size = |more: &[&str]| {
        let (status, out, err) = show(&[&["stick", pantry, "--format", "pdf"], more].concat());
        assert_eq!(status, 0, "{err}");
        read(&out)[0].size
    };
    let near = |size: [f64; 2], wanted: [f64; 2]| (0..2).all(|axis| (size[axis] - wanted[axis]).abs() < 0.01);
    assert!(near(size(&[]), [215.9, 279.4]));
    assert!(near(size(&["--paper", "a4"]), [210.0, 297.0]));
    assert!(near(size(&["--paper", "100mmx400mm"]), [100.0, 400.0]));
    // 84 in and the room around them.
    let roll = size(&["--paper", "roll"]);
    assert!(roll[0] < 100.0 && roll[1] > 84.0 * 25.4 && roll[1] < 84.0 * 25.4 + 60.0, "{roll:?}");
    let labels = |paper: &str| show(&["labels", pantry, "--format", "pdf", "--paper", paper]);
    let (_, out, _) = labels("2inx1in");
    assert_eq!(read(&out).len(), compiled(pantry).graph.parts.len());
    for (paper, says) in [
        ("50mmx29mm", "paper of 50 mm x 29 mm is too small for `labels`"),
        ("62mmx25mm", "too small for `labels`"),
        ("roll", "only drawings of the `stick` are printed from a roll"),
        ("62x29", "such as 62mmx29mm"),
        ("1mmx1mm", "10 mm to 10 m"),
    ] {
        let (status, out, err) = labels(paper);
        assert!(status == 2 && out.is_empty() && err.contains(says), "{paper}: {err}");
    }
    assert!(labels("50mmx29mm").2.contains("at least 2\" x 1\""));
    let (_, out, _) = show(&["labels", pantry, "--format", "pdf", "--grid", "3x10"]);
    assert!(near(read(&out)[0].size, [215.9, 279.4]) && read(&out).len() == 2);
    let (status, _, err) = show(&["stick", pantry, "--format", "pdf", "--grid", "3x10"]);
    assert!(status == 2 && err.contains("only drawings of `labels`"), "{err}");
    let (status, _, err) = show(&["elevation", pantry, "--format", "pdf", "--paper", "62mmx29mm"]);
    assert!(status == 2 && err.contains("`elevation` is printed on `letter` or `a4`"), "{err}");
    let (status, _, err) = show(&["boring", "examples/sewing-room/sewing_room.scant"]);
    assert!(status == 2 && err.contains("nothing of the project stands on the page `boring`"), "{err}");
}

/// Other readers agree: poppler says the same size, and the words of the page can be taken out of it, fractions with their bar. Without it that
/// is left out, and said.
#[test]
fn another_reader_sees_the_same() {
    let (_keep, path) = folder();
    let file = format!("{path}/stick.pdf");
    std::fs::write(&file, show(&["stick", "examples/pantry/pantry.scant", "--format", "pdf"]).1).unwrap();
    let run = |program: &str, arguments: &[&str]| {
        let output = std::process::Command::new(program).args(arguments).output().ok()?;
        Some(String::from_utf8(output.stdout).unwrap())
    };
    let Some(info) = run("pdfinfo", &[&file]) else {
        let says = "left out: there is no pdfinfo here, so no other program has read the PDF";
        writeln!(std::io::stderr(), "{says}").unwrap();
        return;
    };
    assert!(info.contains("612 x 792 pts") && info.contains("Pages:"), "{info}");
    let words = run("pdftotext", &["-layout", &file, "-"]).unwrap();
    for says in ["11 13\u{2044}32\u{2033}", "100 mm: measure this before you use it", "1 of 11: 0 to 9"] {
        assert!(words.contains(says), "{says}\n{words}");
    }
}
