//! Spaces of a run, with what stands in them.

use super::Subject;
use super::picture::{Extent, Filled, Form, Pane};
use super::solid::{Group, middle, plus};
use crate::document::Line;
use crate::parts::{Bounds, SpacePart};
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

/// The spaces of a run, with what stands in them.
pub(super) fn standing<'a>(subject: Subject<'a>, group: &Group<'a>) -> Vec<Standing<'a>> {
    let Some((id, run)) = group.run else { return Vec::new() };
    let Some(stated) = subject.model.runs.get(id.0 as usize) else { return Vec::new() };
    let stand = |(space, part): (&crate::eval::Space, &'a SpacePart)| {
        let along = [part.x.value, plus(part.x.value, part.width.value)];
        let drawn = |(thing, [along, out, up]): (&crate::eval::Thing, Bounds)| Drawn {
            path: format!("{}.{}", part.path, thing.name),
            title: thing.text.as_ref().unwrap_or(&thing.name).to_string(),
            along,
            out,
            up,
        };
        let things = part.stand(space).into_iter().map(drawn).collect();
        Standing { part, along, things }
    };
    stated.spaces.iter().zip(&run.spaces).map(stand).collect()
}
