//! Both elevations over each other, from the front: the old one dashed and red, the new one solid and black.

use super::Side;
use crate::parts::{Part, PartGraph, Role, RunPart};
use std::fmt::Write;

/// Left, bottom, width and height in millimetres.
type Box4 = [f64; 4];

/// The drawing as SVG; one elevation for each run, those that stand alone beside each other.
#[must_use]
pub fn overlay(old: Side<'_>, new: Side<'_>) -> String {
    let (old, new) = (elevations(old.graph), elevations(new.graph));
    let mut out = String::new();
    let names: std::collections::BTreeSet<&str> =
        old.iter().chain(&new).map(|(name, _)| name.as_str()).collect();
    for name in names {
        let boxes = |side: &[(String, Vec<Box4>)]| {
            side.iter().find(|(other, _)| other == name).map(|(_, boxes)| boxes.clone()).unwrap_or_default()
        };
        draw(&mut out, &boxes(&old), &boxes(&new));
    }
    out
}

fn mm(len: crate::eval::Len) -> f64 {
    len.value.to_mm_f64()
}

fn elevations(graph: &PartGraph) -> Vec<(String, Vec<Box4>)> {
    let mut all = Vec::new();
    for run in &graph.runs {
        all.push((run.path.clone(), of_run(graph, run)));
    }
    let mut x = 0.0;
    let mut alone = Vec::new();
    for (index, unit) in graph.units.iter().enumerate().filter(|(_, unit)| !unit.path.contains('.')) {
        let parts = graph.parts.iter().filter(|part| part.unit.is_some_and(|id| id.0 as usize == index));
        alone.extend(parts.map(|part| boxed(part, x)));
        x += mm(unit.width) * 1.25;
    }
    if !alone.is_empty() {
        all.push((String::new(), alone));
    }
    all
}

fn of_run(graph: &PartGraph, run: &RunPart) -> Vec<Box4> {
    let mut boxes = Vec::new();
    let first = run.units.first().and_then(|id| graph.unit(*id)).and_then(|unit| unit.x).map_or(0.0, mm);
    for id in &run.units {
        let x = graph.unit(*id).and_then(|unit| unit.x).map_or(first, mm);
        boxes.extend(graph.parts_of(*id).map(|part| boxed(part, x)));
    }
    boxes
}

/// The front face of a part: sides, dividers and stiles stand upright, everything else lies.
fn boxed(part: &Part, x: f64) -> Box4 {
    let [thickness, width, length] = [part.size.thickness, part.size.width, part.size.length].map(mm);
    let [across, up] = match part.role {
        Role::Side(_) | Role::Divider => [thickness, length],
        Role::Stile => [width, length],
        Role::Shelf | Role::Loose | Role::Top | Role::CeilingPanel => [length, thickness],
        _ => [length, width],
    };
    [x + mm(part.place.x), mm(part.place.z), across, up]
}

fn draw(out: &mut String, old: &[Box4], new: &[Box4]) {
    let all = || old.iter().chain(new);
    let fold = |f: fn(&Box4) -> f64, pick: fn(f64, f64) -> f64| all().map(f).reduce(pick).unwrap_or(0.0);
    let (left, low) = (fold(|b| b[0], f64::min), fold(|b| b[1], f64::min));
    let (right, high) = (fold(|b| b[0] + b[2], f64::max), fold(|b| b[1] + b[3], f64::max));
    let edge = 40.0;
    let (width, height) = (right - left + 2.0 * edge, high - low + 2.0 * edge);
    let top = high + edge;
    // Writing into a String cannot fail.
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{:.1} 0 {width:.1} {:.1}\" role=\"img\" \
         aria-label=\"old elevation dashed red, new elevation black\">",
        left - edge,
        height + 60.0
    );
    for (boxes, style) in [
        (new, "fill=\"none\" stroke=\"#111\" stroke-width=\"3\""),
        (old, "fill=\"none\" stroke=\"#c00\" stroke-width=\"3\" stroke-dasharray=\"14 10\""),
    ] {
        let _ = writeln!(out, "<g {style}>");
        // What both have is drawn once, in black.
        let other = if std::ptr::eq(boxes, old) { new } else { &[] };
        for [x, z, across, up] in boxes.iter().filter(|shape| !other.iter().any(|same| near(shape, same))) {
            let _ = writeln!(
                out,
                "<rect x=\"{x:.1}\" y=\"{:.1}\" width=\"{across:.1}\" height=\"{up:.1}\"/>",
                top - z - up
            );
        }
        out.push_str("</g>\n");
    }
    let _ = writeln!(
        out,
        "<text x=\"{left:.1}\" y=\"{:.1}\" font-size=\"42\" font-family=\"sans-serif\">black: new; red, dashed: old, \
         where it differs</text>\n</svg>",
        height + 20.0
    );
}

fn near(a: &Box4, b: &Box4) -> bool {
    a.iter().zip(b).all(|(a, b)| (a - b).abs() < 0.05)
}
