//! Both elevations over each other, from the front: the old one dashed and red, the new one solid and black.

use super::Side;
use crate::parts::{Part, PartGraph};
use std::fmt::Write;

/// Left, bottom, width and height in millimetres.
type Box4 = [f64; 4];

/// The drawing as SVG; one elevation for each run, those that stand alone beside each other.
#[must_use]
pub fn overlay(old: Side<'_>, new: Side<'_>) -> String {
    // What prints alike is drawn alike.
    let mark = new.model.project.marks.step().to_mm_f64();
    let (before, after) = (elevations(old.graph), elevations(new.graph));
    let mut out = String::new();
    let names: std::collections::BTreeSet<&str> =
        before.iter().chain(&after).map(|(name, _)| name.as_str()).collect();
    for name in names {
        let boxes = |side: &[(String, Vec<Box4>)]| {
            side.iter().find(|(other, _)| other == name).map(|(_, boxes)| boxes.clone()).unwrap_or_default()
        };
        draw(&mut out, &boxes(&before), &boxes(&after), mark);
    }
    out
}

fn elevations(graph: &PartGraph) -> Vec<(String, Vec<Box4>)> {
    let mut all = Vec::new();
    for run in &graph.runs {
        let prefix = format!("{}.", run.path);
        let of_run = |part: &&Part| match part.unit {
            Some(unit) => run.units.contains(&unit),
            None => part.path.starts_with(&prefix),
        };
        let parts = graph.parts.iter().filter(of_run);
        all.push((run.path.clone(), parts.filter_map(|part| front(graph, part, 0.0)).collect()));
    }
    let mut x = 0.0;
    let mut alone = Vec::new();
    for (id, unit) in graph.numbered_units().filter(|(_, unit)| unit.x.is_none()) {
        alone.extend(graph.parts_of(id).filter_map(|part| front(graph, part, x)));
        x += unit.width.value.to_mm_f64() * 1.25;
    }
    if !alone.is_empty() {
        all.push((String::new(), alone));
    }
    all
}

/// A part as it is seen from the front, `x` further to the right.
fn front(graph: &PartGraph, part: &Part, x: f64) -> Option<Box4> {
    let [along, _, up] = graph.bounds(part)?.map(|ends| ends.map(|end| end.to_mm_f64()));
    Some([x + along[0], up[0], along[1] - along[0], up[1] - up[0]])
}

fn draw(out: &mut String, old: &[Box4], new: &[Box4], mark: f64) {
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
        for [x, z, across, up] in
            boxes.iter().filter(|shape| !other.iter().any(|same| near(shape, same, mark)))
        {
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

fn near(a: &Box4, b: &Box4, mark: f64) -> bool {
    a.iter().zip(b).all(|(a, b)| (a - b).abs() < mark / 2.0)
}
