//! The other run of a corner, where it stands before this one or goes through behind its end.

use super::Subject;
use super::picture::{Extent, Filled, Form, Pane};
use super::solid::{Group, less, middle, plus};
use crate::document::Line;
use crate::parts::UnitId;
use crate::quantity::Length;

/// What another run takes of the room of this one.
pub(super) struct Beside {
    path: String,
    pub along: [Length; 2],
    pub out: [Length; 2],
    pub up: [Length; 2],
}

impl Beside {
    /// Draws it dashed, with the name of its run.
    pub fn draw(&self, pane: &mut Pane, shown: Extent) {
        pane.shape(&self.path, "the other run of a corner", Form::rect(shown), Line::Hidden, Filled::Open);
        pane.point(shown.map(middle), vec![self.path.clone()]);
    }
}

/// The other runs of the corners of a run.
pub(super) fn beside(subject: Subject<'_>, group: &Group<'_>) -> Vec<Beside> {
    let (Some((id, _)), Some([left, right])) = (group.run, group.faces()) else {
        return Vec::new();
    };
    let top = |id: UnitId| subject.graph.unit(id)?.top();
    let [deep, _] = group.reach();
    let mut all = Vec::new();
    for corner in &subject.graph.corners {
        if corner.own == id {
            let Some((through, up)) = subject.graph.run(corner.through).zip(top(corner.blind)) else {
                continue;
            };
            let gap = group.run.and_then(|(_, run)| run.ends.get(corner.end)).map(|end| end.corner.value);
            let gap = gap.unwrap_or_default();
            let front = if corner.end == 0 { less(left, gap) } else { plus(right, gap) };
            let wall =
                if corner.end == 0 { less(front, corner.out.value) } else { plus(front, corner.out.value) };
            let along = [front.min(wall), front.max(wall)];
            // It goes on past the front of this run.
            let out = [Length::ZERO, plus(deep, corner.out.value)];
            all.push(Beside { path: through.path.clone(), along, out, up: [Length::ZERO, up] });
        } else if corner.through == id {
            let Some((own, up)) = subject.graph.run(corner.own).zip(top(corner.unit)) else { continue };
            let gap = group.run.and_then(|(_, run)| run.ends.get(1 - corner.end)).map(|end| end.corner.value);
            let gap = gap.unwrap_or_default();
            let covered = corner.covered.value;
            let along = if corner.end == 0 {
                let wall = plus(right, gap);
                [less(wall, covered), wall]
            } else {
                let wall = less(left, gap);
                [wall, plus(wall, covered)]
            };
            let out = [corner.out.value, plus(corner.out.value, covered)];
            all.push(Beside { path: own.path.clone(), along, out, up: [Length::ZERO, up] });
        }
    }
    all
}
