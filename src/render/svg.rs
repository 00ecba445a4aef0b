//! Drawings as SVG: one page, or pages one under the other.

use crate::document::Drawing;
use svg::node::element::SVG;

/// A drawing as the text of a file.
#[must_use]
pub fn svg(drawing: &Drawing) -> String {
    text(&page(drawing), drawing.size)
}

/// Drawings as one, one under the other.
#[must_use]
pub fn stacked(drawings: &[Drawing]) -> String {
    let (mut all, mut wide, mut high) = (SVG::new(), 0.0_f64, 0.0);
    for drawing in drawings {
        let (width, height) = drawing.size;
        all = all.add(page(drawing).set("y", high).set("width", width).set("height", height));
        (wide, high) = (wide.max(width), high + height);
    }
    text(&all.set("viewBox", format!("0 0 {wide} {high}")), (wide, high))
}

fn page(drawing: &Drawing) -> SVG {
    let (width, height) = drawing.size;
    SVG::new().set("viewBox", format!("0 0 {width} {height}")).add(drawing.page.clone())
}

fn text(page: &SVG, (width, height): (f64, f64)) -> String {
    format!("{}\n", page.clone().set("width", format!("{width}mm")).set("height", format!("{height}mm")))
}
