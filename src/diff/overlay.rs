//! Both elevations over each other, from the front: the new one as it is seen, the old one where it differs.

use super::Side;
use crate::document::{Chain, Drawing, Figures, Line, Rect, Scale, Text, View, Way, Weight, shortened};
use crate::parts::{Part, PartGraph};
use crate::quantity::{Length, Marks, Paper, Rational};
use std::collections::{BTreeMap, BTreeSet};

/// Left and right, low and high: what a part covers from the front.
type Front = [[Length; 2]; 2];

/// The margin of the paper, and room for the head, the chains and the legend, in millimetres.
const EDGE: f64 = 10.0;
const HEAD: f64 = 10.0;
const CHAIN: f64 = 10.0;
const LEGEND: f64 = 8.0;
/// The height of words and figures.
const LETTERS: f64 = 3.5;

/// One drawing for each run, and one of the units that stand alone, beside each other.
#[must_use]
pub fn overlay(old: Side<'_>, new: Side<'_>) -> Vec<Drawing> {
    let project = &new.model.project;
    let (before, after) = (elevations(old.graph), elevations(new.graph));
    let names: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    let of = |side: &BTreeMap<String, Vec<Front>>, name: &String| side.get(name).cloned().unwrap_or_default();
    let draw =
        |name: &String| draw(name, &of(&before, name), &of(&after, name), project.paper(), project.marks);
    names.into_iter().filter_map(draw).collect()
}

/// What is seen of each run from the front, by its name; what stands alone has none.
fn elevations(graph: &PartGraph) -> BTreeMap<String, Vec<Front>> {
    let mut all = BTreeMap::new();
    for (id, run) in graph.numbered_runs() {
        let parts = graph.parts.iter().filter(|part| part.run == Some(id));
        all.insert(run.path.clone(), parts.filter_map(|part| front(graph, part, Length::ZERO)).collect());
    }
    let mut x = Length::ZERO;
    let mut alone = Vec::new();
    for (id, unit) in graph.numbered_units().filter(|(_, unit)| unit.run.is_none()) {
        alone.extend(graph.parts_of(id).filter_map(|part| front(graph, part, x)));
        let step = unit.width.value.checked_mul(Rational::new(5, 4));
        x = step.and_then(|step| x.checked_add(step)).unwrap_or(x);
    }
    if !alone.is_empty() {
        all.insert(String::new(), alone);
    }
    all
}

/// A part as it is seen from the front, `x` further to the right; `None` on overflow.
fn front(graph: &PartGraph, part: &Part, x: Length) -> Option<Front> {
    let [[left, right], _, up] = graph.bounds(part)?;
    Some([[left.checked_add(x)?, right.checked_add(x)?], up])
}

/// The least rectangle around all; `None` around nothing.
fn around<'a>(fronts: impl Iterator<Item = &'a Front>) -> Option<Front> {
    fronts.copied().reduce(|a, b| {
        let mut both = a;
        for ([low, high], [least, most]) in both.iter_mut().zip(b) {
            (*low, *high) = ((*low).min(least), (*high).max(most));
        }
        both
    })
}

fn draw(name: &str, old: &[Front], new: &[Front], paper: Paper, marks: Marks) -> Option<Drawing> {
    let all @ [across, up] = around(old.iter().chain(new))?;
    let [wide, high] = [across, up].map(|[low, high]| high.apart(low).unwrap_or_default());
    let seen = |scale: Scale| [wide, high].map(|len| scale.paper(len));
    let place = |[w, h]: [f64; 2]| Rect {
        x: EDGE + CHAIN,
        y: EDGE + HEAD,
        w: w - 2.0 * EDGE - CHAIN,
        h: h - 2.0 * EDGE - HEAD - CHAIN - LEGEND,
    };
    // Whichever way the paper lies, the drawing is as large as it can be.
    let ways = [paper.lying(), paper.upright()].map(|size| {
        let place = place(size);
        (Scale::fitting(seen, [place.w, place.h]), size, place)
    });
    let (scale, size, place) = ways.into_iter().min_by_key(|(scale, ..)| *scale)?;
    let low = place.y + seen(scale)[1];
    let view = View { origin: [place.x - scale.paper(across[0]), low + scale.paper(up[0])], scale };
    let rect = |front: &Front| {
        let [[left, right], [low, high]] = *front;
        Rect::between(view.point([left, low]), view.point([right, high]))
    };

    let says = if name.is_empty() { "units that stand alone" } else { name };
    let title = format!("{says}: elevation, the new over the old");
    let file = if name.is_empty() { "elevation".to_owned() } else { format!("elevation-{name}") };
    let mut page = Drawing { scale: Some(scale), ..Drawing::new(file, title.as_str(), size) };
    let (weight, height, room) = (Weight::Bold, 4.5, size[0] - 2.0 * EDGE);
    let title = shortened(&title, weight, height, room);
    page.text(Text { weight, ..Text::new(title, [EDGE, EDGE + height], height) });
    for front in new {
        page.outline(Line::Outline, rect(front).corners());
    }
    // What both have is drawn once; what prints alike is alike.
    for front in old.iter().filter(|front| !new.iter().any(|other| near(front, other, marks.step()))) {
        page.outline(Line::Former, rect(front).corners());
    }
    if let Some([across, up]) = around(new.iter()) {
        let Rect { x, y, w, h } = rect(&[across, up]);
        let figure = |[low, high]: [Length; 2]| {
            Figures::Between(vec![marks.print(high.apart(low).unwrap_or_default()).to_string()])
        };
        let below = rect(&all);
        page.chain(&Chain {
            places: vec![[x, y + h], [x + w, y + h]],
            way: Way::Across,
            level: below.y + below.h + CHAIN - 1.0,
            figures: figure(across),
            height: LETTERS,
        });
        page.chain(&Chain {
            places: vec![[x, y + h], [x, y]],
            way: Way::Up,
            level: EDGE + CHAIN - 3.0,
            figures: figure(up),
            height: LETTERS,
        });
    }
    legend(&mut page, scale, size[1] - EDGE);
    page.caution(EDGE);
    Some(page)
}

fn legend(page: &mut Drawing, scale: Scale, base: f64) {
    let mut x = EDGE;
    let scale = format!("scale {scale}");
    let entries =
        [(None, scale.as_str()), (Some(Line::Outline), "new"), (Some(Line::Former), "old, where it differs")];
    for (line, says) in entries {
        if let Some(line) = line {
            let middle = base - LETTERS / 2.0;
            page.line(line, [[x, middle], [x + 15.0, middle]]);
            x += 17.0;
        }
        let text = Text::new(says, [x, base], LETTERS);
        x += text.width() + 10.0;
        page.text(text);
    }
}

/// Whether two print alike: apart by less than half a mark.
fn near(a: &Front, b: &Front, mark: Length) -> bool {
    let alike = |(a, b): (&Length, &Length)| {
        a.apart(*b).and_then(|apart| apart.checked_add(apart)).is_some_and(|twice| twice < mark)
    };
    a.iter().flatten().zip(b.iter().flatten()).all(alike)
}
