//! The shapes of a drawing: hatching, words that fit a piece, numbers in circles, the grain arrow. Millimetres of paper.

use svg::node::element::{Circle, Group, Path, Rectangle, Text};

/// Large type: 14 points in millimetres.
pub(super) const LARGE: f64 = 4.94;
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

pub(super) fn text(says: &str, at: (f64, f64), size: f64, anchor: &str) -> Text {
    Text::new(says)
        .set("x", round(at.0))
        .set("y", round(at.1))
        .set("font-size", round(size))
        .set("text-anchor", anchor)
}

/// Hundredths of a millimetre are enough for paper, and give the same bytes everywhere.
pub(super) fn round(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

pub(super) fn letters(says: &str) -> f64 {
    says.chars().count() as f64 * LETTER
}

/// Name and size of a piece, as large as the piece allows: two lines, one line, or the name alone; along the longer side.
pub(super) fn label(name: &str, size: &str, (x, y, w, h): (f64, f64, f64, f64)) -> Group {
    let upright = h > w;
    let (along, across) = if upright { (h, w) } else { (w, h) };
    let room = along - 11.0;
    let one = format!("{name}  {size}");
    let fit = |says: &str, tall: f64| (tall * 0.72).min(room / letters(says)).min(LARGE);
    let double = fit(size, across / 2.3);
    let single = fit(&one, across);
    let lines: Vec<(&str, f64)> = if double > single {
        vec![(name, double), (size, double)]
    } else if single >= 1.8 {
        vec![(&one, single)]
    } else {
        vec![(name, fit(name, across))]
    };
    let (cx, cy) = (x + w / 2.0, y + h / 2.0);
    let count = lines.len() as f64;
    let mut group = Group::new();
    if upright {
        group = group.set("transform", format!("rotate(-90 {} {})", round(cx), round(cy)));
    }
    for (place, (says, size)) in lines.into_iter().enumerate() {
        let line = cy + size * (0.36 + (place as f64 - (count - 1.0) / 2.0) * 1.25);
        group = group.add(text(says, (cx, line), size, "middle"));
    }
    group
}

/// Words on a white ground, over hatching.
pub(super) fn tag(says: &str, (cx, cy): (f64, f64), (_, _, w, h): (f64, f64, f64, f64)) -> Group {
    let size = LARGE.min(h * 0.7).min((w - 2.0) / letters(says));
    let wide = letters(says) * size + 2.0;
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
