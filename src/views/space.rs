//! Spaces of a run, with what stands in them.

use super::Subject;
use super::picture::{Extent, Filled, Form, Pane};
use super::solid::{Group, half, less, middle, plus};
use crate::document::Line;
use crate::parts::SpacePart;
use crate::quantity::Length;

/// A space as it is drawn.
pub(super) struct Standing<'a> {
    pub part: &'a SpacePart,
    pub along: [Length; 2],
    pub things: Vec<Drawn>,
}

/// A thing in a space: from side to side, from the wall, up.
pub(super) struct Drawn {
    path: String,
    title: String,
    pub along: [Length; 2],
    pub out: [Length; 2],
    pub up: [Length; 2],
}

impl Drawn {
    /// Draws it dashed, with its name.
    pub fn draw(&self, pane: &mut Pane, shown: Extent) {
        pane.shape(&self.path, "thing in a space", Form::rect(shown), Line::Hidden, Filled::Open);
        pane.point(shown.map(middle), vec![self.title.clone()]);
    }
}

/// The spaces of a run; things stand side by side in the middle of them, each with its play.
pub(super) fn standing<'a>(subject: Subject<'a>, group: &Group<'a>) -> Vec<Standing<'a>> {
    let Some((id, run)) = group.run else { return Vec::new() };
    let Some(stated) = subject.model.runs.get(id.0 as usize) else { return Vec::new() };
    let stand = |(space, part): (&crate::eval::Space, &'a SpacePart)| {
        let along = [part.x.value, plus(part.x.value, part.width.value)];
        let twice = |play: Length| plus(play, play);
        let wide = |thing: &crate::eval::Thing| plus(thing.size[0].value, twice(thing.play.value));
        let all = space.things.iter().fold(Length::ZERO, |all, thing| plus(all, wide(thing)));
        let mut at = plus(along[0], half(less(part.width.value, all)));
        let mut things = Vec::new();
        for thing in &space.things {
            let [width, depth, height] = thing.size.map(|size| size.value);
            let left = plus(at, thing.play.value);
            let rear = thing.behind.map_or(Length::ZERO, |behind| behind.value);
            things.push(Drawn {
                path: format!("{}.{}", part.path, thing.name),
                title: thing.text.as_ref().unwrap_or(&thing.name).to_string(),
                along: [left, plus(left, width)],
                out: [rear, plus(rear, depth)],
                up: [Length::ZERO, height],
            });
            at = plus(at, wide(thing));
        }
        Standing { part, along, things }
    };
    stated.spaces.iter().zip(&run.spaces).map(stand).collect()
}
