//! Where runs stand and what is in their way, in one frame: from the wall's left corner, from the wall, from the level line.

use crate::check::Subject;
use crate::diag::{Code, Diagnostic};
use crate::eval::{Obstacle, Return, Run, Thing, Wall};
use crate::parts::{Bounds, Finding, Limit, RunPart, SpacePart, Unit};
use crate::quantity::{Dim, Estimate, Length};

/// A run and the wall it stands along.
#[derive(Clone, Copy)]
pub(in crate::check) struct Against<'a> {
    pub stated: &'a Run,
    pub run: &'a RunPart,
    pub wall: &'a Wall,
    /// Thickness of what stands before the front edges.
    pub front: Length,
}

/// All runs that stand along a wall.
pub(in crate::check) fn against<'a>(subject: &Subject<'a>) -> Vec<Against<'a>> {
    let runs = subject.model.runs.iter().zip(&subject.graph.runs);
    let along = runs.filter_map(|(stated, run)| {
        let wall = subject.model.walls.get(run.wall?)?;
        let front = stated.facing.as_ref().map_or(Length::ZERO, |facing| facing.thickness.value);
        Some(Against { stated, run, wall, front })
    });
    along.collect()
}

impl<'a> Against<'a> {
    /// Its units with their boxes, facing and all.
    pub fn units(&self, subject: &Subject<'a>) -> Vec<(&'a Unit, Bounds)> {
        let units = self.run.units.iter();
        units.filter_map(|id| Some((subject.graph.unit(*id)?, subject.bounds(*id, self.front)?))).collect()
    }

    /// The boxes of its units that hang.
    pub fn hung(&self, subject: &Subject<'a>) -> Vec<Bounds> {
        self.run.hung.iter().filter_map(|hung| subject.bounds(hung.unit, self.front)).collect()
    }

    /// What stands in its spaces, each with its box.
    pub fn things(&self) -> Vec<(&'a SpacePart, &'a Thing, Bounds)> {
        let mut all = Vec::new();
        for (space, part) in self.stated.spaces.iter().zip(&self.run.spaces) {
            all.extend(part.stand(space).into_iter().map(|(thing, bounds)| (part, thing, bounds)));
        }
        all
    }

    /// The same, the outer ones with their gaps at walls.
    pub fn boxes(&self, subject: &Subject<'a>) -> Vec<Bounds> {
        let mut boxes: Vec<Bounds> = self.units(subject).into_iter().map(|(_, bounds)| bounds).collect();
        let Some([along, ..]) = self.reach(subject) else { return boxes };
        if let Some(first) = boxes.first_mut() {
            first[0][0] = along[0];
        }
        if let Some(last) = boxes.last_mut() {
            last[0][1] = along[1];
        }
        boxes
    }

    /// From its left to its right end, gaps at walls counted: the box of all of it.
    pub fn reach(&self, subject: &Subject<'a>) -> Option<Bounds> {
        let units = self.units(subject);
        let (_, mut all) = *units.first()?;
        units.iter().for_each(|(_, bounds)| union(&mut all, bounds));
        if self.run.ends.first().map_or(self.wall.returns[0], |end| end.meets) != Return::Open {
            let before = self.run.ends.first().and_then(|end| end.before);
            all[0][0] = before.map_or(Length::ZERO, |before| before.value);
        }
        let gap = self.run.ends.get(1).filter(|end| end.meets != Return::Open).map(|end| end.corner.value);
        all[0][1] = gap.and_then(|gap| all[0][1].checked_add(gap)).unwrap_or(all[0][1]);
        Some(all)
    }

    /// The box of an obstacle on its wall; `None` of what hangs anywhere, or where no ceiling is read.
    pub fn bounds(&self, subject: &Subject<'a>, obstacle: &Obstacle) -> Option<Bounds> {
        self.wall.place(obstacle, self.reach(subject)?[0])
    }
}

/// Makes a box hold another one too.
pub(in crate::check) fn union(all: &mut Bounds, other: &Bounds) {
    for (all, other) in all.iter_mut().zip(other) {
        *all = [all[0].min(other[0]), all[1].max(other[1])];
    }
}

/// How far two boxes stand apart, in the direction in which they do most; negative where they meet in all of them.
pub(in crate::check) fn apart(work: &Bounds, obstacle: &Bounds) -> Length {
    let along = work.iter().zip(obstacle).filter_map(|(work, obstacle)| away(*work, *obstacle));
    along.max().unwrap_or_default()
}

/// How far an obstacle lies from the work along one direction; what is flat there meets what it lies in or on.
pub(in crate::check) fn away(work: [Length; 2], obstacle: [Length; 2]) -> Option<Length> {
    let flat = obstacle[0] == obstacle[1] && work[0] <= obstacle[0] && obstacle[0] < work[1];
    if flat {
        return work[0].checked_sub(work[1]);
    }
    Some(work[0].checked_sub(obstacle[1])?.max(obstacle[0].checked_sub(work[1])?))
}

/// How a stretch of wall reads: `from 13 1/2" to 17 1/2"`.
pub(in crate::check) fn stretch(subject: &Subject<'_>, [low, high]: [Length; 2]) -> String {
    let marks = subject.marks();
    format!("from {} to {}", marks.print(low), marks.print(high))
}

/// What was compared, where more is better.
pub(in crate::check) fn at_least(
    code: &'static Code,
    subject: &str,
    what: &'static str,
    [value, limit]: [Length; 2],
    diagnostic: Option<Diagnostic>,
) -> (Finding, Option<Diagnostic>) {
    (Finding::new(code, subject, what, value, Limit::AtLeast(limit.into())), diagnostic)
}

/// An estimate in millimetres as a length, for comparison and never for a size that is cut.
pub(in crate::check) fn length(mm: f64) -> Option<Length> {
    Estimate { value: mm, dim: Dim::LENGTH }.nearest()?.length()
}
