//! Drawings as SVG: one sheet of paper, or sheets one under the other.

use crate::document::{
    Anchor, CAPITALS, Drawing, Fill, Line, Point, Shape, Stands, Stroke, Text, Weight, pieces,
};
use svg::Node;
use svg::node::Blob;
use svg::node::element::{Circle, Path, Rectangle, SVG, Text as Words};

/// Inter is what the words are measured by; the others are as wide or narrower.
const FACES: &str = "Inter, Helvetica, Arial, sans-serif";
/// How large figures of a fraction are, for a size of type of 1: whichever face is there, not only one that has such figures.
const SMALL: f64 = 0.62;
/// How far those over the bar stand over the line: as high as capitals.
const RAISED: f64 = CAPITALS * (1.0 - SMALL);
/// What has been is drawn in red too, where there is colour.
const FORMER: &str = "#c00";

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
        let [width, height] = drawing.size;
        all = all.add(page(drawing).set("y", high).set("width", width).set("height", height));
        (wide, high) = (wide.max(width), high + height);
    }
    text(&all.set("viewBox", format!("0 0 {wide} {high}")), [wide, high])
}

fn text(page: &SVG, [width, height]: [f64; 2]) -> String {
    format!("{}\n", page.clone().set("width", format!("{width}mm")).set("height", format!("{height}mm")))
}

fn page(drawing: &Drawing) -> SVG {
    let [width, height] = drawing.size;
    let mut page = SVG::new()
        .set("viewBox", format!("0 0 {width} {height}"))
        .set("role", "img")
        .set("aria-label", drawing.title.as_str())
        .set("font-family", FACES)
        .add(Rectangle::new().set("width", width).set("height", height).set("fill", "white"));
    let mut shapes = drawing.shapes.iter().peekable();
    while let Some(shape) = shapes.next() {
        page = match shape {
            Shape::Stroke(first) => {
                // Lines of one kind that follow each other are one path.
                let mut d = through(first);
                while let Some(Shape::Stroke(next)) =
                    shapes.next_if(|next| matches!(next, Shape::Stroke(next) if next.line == first.line))
                {
                    d.push_str(&through(next));
                }
                page.add(stroked(Path::new().set("d", d), first.line))
            }
            Shape::Area { outline, fill } => {
                page.add(Path::new().set("d", closed(outline)).set("fill", colour(*fill)))
            }
            Shape::Circle { centre: [x, y], radius, line, fill } => {
                let circle = Circle::new().set("cx", round(*x)).set("cy", round(*y)).set("r", round(*radius));
                page.add(stroked(circle, *line).set("fill", fill.map_or("none", colour)))
            }
            Shape::Text(text) => page.add(words(text)),
        };
    }
    page
}

/// A shape with a line around it and nothing in it.
fn stroked<S: Node>(mut shape: S, line: Line) -> S {
    let colour = if line.is_red() { FORMER } else { "black" };
    shape.assign("fill", "none");
    shape.assign("stroke", colour);
    shape.assign("stroke-width", line.width());
    if !line.dashes().is_empty() {
        let dashes: Vec<String> = line.dashes().iter().map(f64::to_string).collect();
        shape.assign("stroke-dasharray", dashes.join(" "));
    }
    shape
}

fn colour(fill: Fill) -> &'static str {
    match fill {
        Fill::Paper => "white",
        Fill::Ink => "black",
    }
}

/// The commands of a path through points.
fn through(stroke: &Stroke) -> String {
    if stroke.closed { closed(&stroke.path) } else { open(&stroke.path) }
}

fn open(path: &[Point]) -> String {
    let mut d = String::new();
    for ([x, y], command) in path.iter().zip(std::iter::once('M').chain(std::iter::repeat('L'))) {
        d.push_str(&format!("{command}{} {}", round(*x), round(*y)));
    }
    d
}

fn closed(path: &[Point]) -> String {
    open(path) + "Z"
}

fn words(text: &Text) -> Words {
    let [x, y] = text.at.map(round);
    // Whichever face is there, the words take the room that they were given.
    let mut words = written(text)
        .set("x", x)
        .set("y", y)
        .set("font-size", round(text.size()))
        .set("textLength", round(text.width()))
        .set("lengthAdjust", "spacingAndGlyphs");
    match text.anchor {
        Anchor::Start => {}
        Anchor::Middle => words.assign("text-anchor", "middle"),
        Anchor::End => words.assign("text-anchor", "end"),
    }
    match text.weight {
        Weight::Regular => {}
        Weight::Bold => words.assign("font-weight", "bold"),
    }
    // SVG turns to the right.
    if round(text.turn) != 0.0 {
        words.assign("transform", format!("rotate({} {x} {y})", round(-text.turn)));
    }
    words
}

/// The letters of a line of words; the figures of a fraction are smaller, those over its bar raised.
fn written(text: &Text) -> Words {
    let pieces = pieces(&text.says);
    if let [(Stands::OnLine, says)] = pieces.as_slice() {
        return Words::new(says);
    }
    let mut raised = false;
    let mut out = String::new();
    for (stands, says) in pieces {
        let says = says.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
        let up = stands == Stands::Over;
        if stands == Stands::OnLine && !raised {
            out.push_str(&says);
            continue;
        }
        out.push_str("<tspan");
        if up != raised {
            let down = RAISED * text.size() * if up { -1.0 } else { 1.0 };
            out.push_str(&format!(" dy=\"{}\"", round(down)));
        }
        if stands != Stands::OnLine {
            out.push_str(&format!(" font-size=\"{}\"", round(SMALL * text.size())));
        }
        out.push_str(&format!(">{says}</tspan>"));
        raised = up;
    }
    Words::new("").add(Blob::new(out))
}

/// Hundredths of a millimetre are enough for paper, and give the same bytes everywhere. Never a zero with a sign.
fn round(value: f64) -> f64 {
    (value * 100.0).round() / 100.0 + 0.0
}

#[cfg(test)]
mod tests {
    use super::svg;
    use crate::document::{Drawing, Fill, Line, Rect, Text};

    #[test]
    fn a_drawing_is_drawn_as_it_lies() {
        let mut drawing = Drawing::new("x", "a <b>", [100.0, 50.0]);
        let rect = Rect { x: 10.0, y: 20.0, w: 30.001, h: 5.0 };
        drawing.fill(Fill::Paper, rect.corners());
        drawing.outline(Line::Outline, rect.corners());
        drawing.outline(Line::Outline, rect.corners());
        drawing.line(Line::Former, [[0.0, 0.0], [-0.001, 7.0]]);
        drawing.text(Text { turn: 90.0, ..Text::new("a & b", [1.0, 2.0], 8.0) });
        drawing.text(Text::new("3 13/16\"", [1.0, 2.0], 8.0));
        let page = svg(&drawing);
        for says in [
            "width=\"100mm\"",
            "aria-label=\"a &lt;b&gt;\"",
            // Two outlines are one path.
            "d=\"M10 20L40 20L40 25L10 25ZM10 20L40 20L40 25L10 25Z\"",
            "d=\"M0 0L0 7\" fill=\"none\" stroke=\"#c00\" stroke-dasharray=\"6 0.75 0.125 0.75 0.125 0.75\" stroke-width=\"0.25\"",
            // Type whose capitals are 8 high.
            "font-size=\"11\"",
            "transform=\"rotate(-90 1 2)\"",
            "a &amp; b",
            // 0.62 of 11, and 8 x (1 - 0.62) = 3.04 up, then down again.
            "3 <tspan dy=\"-3.04\" font-size=\"6.82\">13</tspan><tspan dy=\"3.04\">\u{2044}</tspan><tspan font-size=\"6.82\">16</tspan>\u{2033}\n</text>",
        ] {
            assert!(page.contains(says), "{says} is not in {page}");
        }
    }
}
