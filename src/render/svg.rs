//! Drawings as SVG: one page, or pages one under the other.

use svg::Node;
use svg::node::element::SVG;

/// A page as the text of a file.
#[must_use]
pub fn svg(page: &SVG) -> String {
    format!("{page}\n")
}

/// Named pages of one size as one drawing, one under the other.
#[must_use]
pub fn stacked(pages: &[(String, SVG)]) -> String {
    let measure = |page: &SVG, name: &str| {
        let attributes = page.get_attributes();
        let attribute = attributes.and_then(|all| all.get(name)).map(ToString::to_string).unwrap_or_default();
        attribute.trim_end_matches("mm").parse::<f64>().unwrap_or_default()
    };
    let width = pages.iter().map(|(_, page)| measure(page, "width")).fold(0.0, f64::max);
    let mut height = 0.0;
    let mut all = SVG::new();
    for (_, page) in pages {
        let own = measure(page, "height");
        all.append(page.clone().set("y", height).set("width", width).set("height", own));
        height += own;
    }
    let all = all.set("viewBox", format!("0 0 {width} {height}"));
    svg(&all.set("width", format!("{width}mm")).set("height", format!("{height}mm")))
}
