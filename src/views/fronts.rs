//! Doors as they hang: lines that point to their hinges, and the quarters through which they swing.

use super::Subject;
use super::picture::{Filled, Form, Pane, Spot};
use super::solid::{Group, less, middle, plus};
use crate::document::Line;
use crate::parts::{Bounds, Hand, Hung, Part};
use crate::quantity::Length;
use std::collections::BTreeSet;

/// The doors of what is drawn together.
fn hung<'a>(subject: Subject<'a>, group: &Group<'_>) -> Vec<(&'a Hung, &'a Part, Bounds)> {
    let graph = subject.graph;
    let here = |part: &Part| group.units.iter().any(|(unit, _)| part.unit == Some(*unit));
    let all = graph.doors.iter().filter_map(|hung| Some((hung, graph.part(hung.door)?)));
    all.filter(|(_, door)| here(door))
        .filter_map(|(hung, door)| Some((hung, door, graph.bounds(door)?)))
        .collect()
}

/// From the front: two lines on each door that meet at the middle of the edge that it hangs on. Says whether there are any.
pub(super) fn hinge_edges(pane: &mut Pane, subject: Subject<'_>, group: &Group<'_>) -> bool {
    let doors = hung(subject, group);
    for (hung, door, [[left, right], _, up @ [low, high]]) in &doors {
        let (at, free) = match hung.hand {
            Hand::Left => (*left, *right),
            Hand::Right => (*right, *left),
        };
        let corners = vec![[free, *low], [at, middle(*up)], [free, *high]];
        pane.line(&door.path, "to the hinges", Line::Centre, corners);
    }
    !doors.is_empty()
}

/// From above: each door as it stands open at a right angle, and the quarter through which it swings. Doors over each other are drawn
/// once. Says whether there are any.
pub(super) fn swings(pane: &mut Pane, subject: Subject<'_>, group: &Group<'_>) -> bool {
    let mut drawn = BTreeSet::new();
    for (hung, door, [across @ [left, right], out, _]) in hung(subject, group) {
        if !drawn.insert((across, out, hung.hand)) {
            continue;
        }
        let (at, free) = match hung.hand {
            Hand::Left => (left, right),
            Hand::Right => (right, left),
        };
        let spot = |x: Length, y: Length| -> Spot { [x, less(Length::ZERO, y)] };
        let (centre, shut) = (spot(at, out[1]), spot(free, out[1]));
        let ajar = spot(at, plus(out[1], less(right, left)));
        pane.line(&door.path, "leaf", Line::Light, vec![centre, ajar]);
        pane.shape(
            &door.path,
            "swing",
            Form::Quarter { centre, ends: [shut, ajar] },
            Line::Light,
            Filled::Open,
        );
    }
    !drawn.is_empty()
}
