//! The shapes of a drawing: hatching, words that fit a piece, numbers in circles, the grain arrow. Millimetres of paper.

use svg::node::element::{Circle, Group, Line, Path, Rectangle, Text};

/// Large type: 14 points in millimetres.
pub(super) const LARGE: f64 = 4.94;
/// Smaller type than this, in millimetres, is not read at the saw.
const SMALLEST: f64 = 2.2;
/// From one line of hatching to the next, along an edge.
const HATCH: f64 = 4.0;
/// Width of a letter for its height, on average.
const LETTER: f64 = 0.58;

/// Slanting lines over a rectangle; what is no waste is drawn over them.
pub(super) fn hatch((x, y, w, h): (f64, f64, f64, f64)) -> Path {
    let mut d = String::new();
    let mut at = HATCH;
    while at < w + h {
        // From the left or lower edge up to the upper or right one.
        let (from, to) = ((at - h).max(0.0), at.min(w));
        let point = |along: f64| format!("{} {}", round(x + along), round(y + at - along));
        d.push_str(&format!("M {} L {} ", point(from), point(to)));
        at += HATCH;
    }
    Path::new().set("d", d.trim_end()).set("stroke", "black").set("stroke-width", 0.2).set("fill", "none")
}

pub(super) fn rectangle(at: (f64, f64, f64, f64), fill: &str, stroke: f64) -> Rectangle {
    Rectangle::new()
        .set("x", round(at.0))
        .set("y", round(at.1))
        .set("width", round(at.2))
        .set("height", round(at.3))
        .set("fill", fill)
        .set("stroke", "black")
        .set("stroke-width", stroke)
}

pub(super) fn line(from: (f64, f64), to: (f64, f64), width: f64) -> Line {
    Line::new()
        .set("x1", round(from.0))
        .set("y1", round(from.1))
        .set("x2", round(to.0))
        .set("y2", round(to.1))
        .set("stroke", "black")
        .set("stroke-width", width)
}

pub(super) fn text(says: &str, at: (f64, f64), size: f64, anchor: &str) -> Text {
    Text::new(says)
        .set("x", round(at.0))
        .set("y", round(at.1))
        .set("font-size", round(size))
        .set("text-anchor", anchor)
}

/// Hundredths of a millimetre are enough for paper, and give the same bytes everywhere.
fn round(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

pub(super) fn letters(says: &str) -> f64 {
    says.chars().count() as f64 * LETTER
}

/// Room that the number of a step takes in a corner of a piece.
const CORNER: f64 = 5.5;

/// How large lines of words can be in a piece, beside or under the number in its corner.
fn type_size(lines: &[String], along: f64, across: f64) -> f64 {
    let longest = lines.iter().map(|line| letters(line)).fold(0.0, f64::max).max(1.0);
    let tall = 1.25 * lines.len() as f64;
    let beside = ((along - 2.0 * CORNER) / longest).min(0.9 * across / tall);
    let under = ((along - 3.0) / longest).min((across - 2.0 * CORNER) / tall);
    beside.max(under).min(LARGE)
}

/// Name, width and length of a piece in one, two or three lines along its longer side, as large as it allows; where even
/// that cannot be read, the name alone.
pub(super) fn label(name: &str, [width, length]: [&str; 2], (x, y, w, h): (f64, f64, f64, f64)) -> Group {
    let upright = h > w;
    let (along, across) = if upright { (h, w) } else { (w, h) };
    let ways = [
        vec![format!("{name} {width} x {length}")],
        vec![name.to_owned(), format!("{width} x {length}")],
        vec![name.to_owned(), format!("{width} x"), length.to_owned()],
    ];
    let sized = ways.into_iter().map(|lines| (type_size(&lines, along, across), lines));
    let (mut size, mut lines) = sized.rev().max_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or_default();
    if size < SMALLEST {
        lines = vec![name.to_owned()];
        size = type_size(&lines, along, across);
    }
    let (cx, cy) = (x + w / 2.0, y + h / 2.0);
    let count = lines.len() as f64;
    let mut group = Group::new();
    if upright {
        group = group.set("transform", format!("rotate(-90 {} {})", round(cx), round(cy)));
    }
    for (place, says) in lines.into_iter().enumerate() {
        let line = cy + size * (0.36 + (place as f64 - (count - 1.0) / 2.0) * 1.25);
        group = group.add(text(&says, (cx, line), size, "middle"));
    }
    group
}

/// Words on a white ground, over hatching.
pub(super) fn tag(says: &str, (cx, cy): (f64, f64), (_, _, w, h): (f64, f64, f64, f64)) -> Group {
    // Bold letters are wider.
    let bold = 1.15 * letters(says);
    let size = LARGE.min(h * 0.7).min((w - 4.0) / bold);
    let wide = bold * size + 2.0;
    let ground =
        rectangle((cx - wide / 2.0, cy - size * 0.65, wide, size * 1.3), "white", 0.0).set("stroke", "none");
    Group::new()
        .add(ground)
        .add(text(says, (cx, cy + size * 0.36), size, "middle").set("font-weight", "bold"))
}

pub(super) fn numbered(number: usize, (x, y): (f64, f64), radius: f64) -> Group {
    let circle = Circle::new()
        .set("cx", round(x))
        .set("cy", round(y))
        .set("r", round(radius))
        .set("fill", "white")
        .set("stroke", "black")
        .set("stroke-width", 0.3);
    let size = radius * if number > 9 { 1.15 } else { 1.45 };
    Group::new().add(circle).add(text(&number.to_string(), (x, y + size * 0.36), size, "middle"))
}

pub(super) fn grain_arrow(x: f64, y: f64) -> Group {
    let d = format!(
        "M {0} {1} h 26 m -3 -1.6 l 3 1.6 l -3 1.6 M {2} {3} l -3 1.6 l 3 1.6",
        round(x),
        round(y),
        round(x + 3.0),
        round(y - 1.6)
    );
    let arrow = Path::new().set("d", d).set("fill", "none").set("stroke", "black").set("stroke-width", 0.6);
    Group::new().add(arrow).add(text("grain", (x + 29.0, y + 1.6), LARGE, "start"))
}
