//! The room around a run, as the elevation shows it: walls, floor, ceiling, studs, what is in the way.

use super::Subject;
use super::picture::{Filled, Form, Pane, Spot};
use super::solid::{Group, about, less, plus};
use crate::document::Line;
use crate::eval::{Decided, InWall, Profile, Wall};
use crate::parts::EndPart;
use crate::quantity::Length;

/// The room of a run along a wall.
pub(super) struct Room<'a> {
    pub wall: &'a Wall,
    /// From its left to its right end at the back at middle height, as places along the wall count.
    pub along: [Length; 2],
    /// From the wall to the front edges of its deepest unit.
    pub front: Length,
    /// Its lowest floor and its highest ceiling.
    pub up: [Length; 2],
}

impl<'a> Room<'a> {
    /// The room of a run; `None` where it stands along no wall.
    pub fn of(subject: Subject<'a>, group: &Group<'a>) -> Option<Self> {
        let (_, run) = group.run?;
        let wall = subject.model.walls.get(run.wall?)?;
        let [left, right] = group.faces()?;
        let gap = |end: usize| {
            run.ends.get(end).map_or(Length::ZERO, |end| {
                plus(end.corner.value, end.before.map_or(Length::ZERO, |before| before.value))
            })
        };
        let along = [less(left, gap(0)), plus(right, gap(1))];
        let [front, high] = group.reach();
        let below = wall.floor.below.points.iter().map(|(_, below)| below.value).max();
        let ceiling = wall.ceiling.points.iter().map(|(_, above)| above.value).max();
        let ceiling = match wall.slope {
            Some(slope) => ceiling.and_then(|ceiling| slope.at(ceiling, front)),
            None => ceiling,
        };
        let low = less(Length::ZERO, below.unwrap_or_default());
        Some(Self { wall, along, front, up: [low, ceiling.unwrap_or(high).max(high)] })
    }

    /// What is read along the wall, as a line from end to end.
    fn profile(&self, profile: &Profile, [from, to]: [Length; 2], down: bool) -> Option<Vec<Spot>> {
        let between = profile.points.iter().map(|(at, _)| at.value).filter(|at| from < *at && *at < to);
        let places = std::iter::once(from).chain(between).chain([to]);
        let spot = |at: Length| {
            let value = profile.at(at)?;
            Some([at, if down { less(Length::ZERO, value) } else { value }])
        };
        places.map(spot).collect()
    }

    /// The floor from end to end; level where it is not read.
    pub fn floor(&self, along: [Length; 2]) -> Vec<Spot> {
        let level = || along.map(|at| [at, Length::ZERO]).to_vec();
        self.profile(&self.wall.floor.below, along, true).unwrap_or_else(level)
    }

    /// The ceiling from end to end, where it is read: where it slopes towards the room, over the fronts of the units.
    pub fn ceiling(&self, along: [Length; 2]) -> Option<Vec<Spot>> {
        let mut ceiling = self.profile(&self.wall.ceiling, along, false)?;
        if let Some(slope) = self.wall.slope {
            for [_, high] in &mut ceiling {
                *high = slope.at(*high, self.front)?;
            }
        }
        Some(ceiling)
    }

    /// Draws what is cut by a plane along the fronts of the units: floor, ceiling, the walls at both ends where they are read.
    pub fn draw(&self, pane: &mut Pane, subject: Subject<'_>, group: &Group<'_>) {
        let Some((_, run)) = group.run else { return };
        let name = &*self.wall.name;
        let mut reach = self.along;
        for (end, (at, outward)) in run.ends.iter().zip([(0, -1), (1, 1)]) {
            let face = group.faces().and_then(|faces| faces.get(at).copied()).unwrap_or_default();
            match self.end(group, end, face, outward) {
                Some(path) => {
                    let far = path.iter().map(|[x, _]| *x);
                    if let (0, Some(far)) = (at, far.clone().min()) {
                        reach[0] = reach[0].min(far);
                    }
                    if let (1, Some(far)) = (at, far.max()) {
                        reach[1] = reach[1].max(far);
                    }
                    pane.line(name, "wall", Line::Cut, path);
                }
                // At an open end floor and ceiling go on.
                None => {
                    let on = about(subject, (3, 1), 80);
                    if at == 0 { reach[0] = less(reach[0], on) } else { reach[1] = plus(reach[1], on) }
                }
            }
        }
        pane.line(name, "floor", Line::Cut, self.floor(reach));
        if let Some(ceiling) = self.ceiling(reach) {
            pane.line(name, "ceiling", Line::Cut, ceiling);
        }
    }

    /// The wall at an end, from the floor to the ceiling, at the front where that is read.
    fn end(&self, group: &Group<'_>, end: &EndPart, face: Length, outward: i128) -> Option<Vec<Spot>> {
        let mut read: Vec<(Length, Length)> = Vec::new();
        for reading in &end.readings {
            let gap = reading.front.or(reading.back)?.value;
            let at = if outward < 0 { less(face, gap) } else { plus(face, gap) };
            read.push((group.height_of(reading.at, reading.height.map(|height| height.value)), at));
        }
        if end.beyond == crate::eval::Return::Open || read.is_empty() {
            return None;
        }
        read.sort_unstable();
        let [low, high] = self.up;
        let mut places: Vec<Length> = vec![low, high];
        places
            .extend(read.iter().map(|(height, _)| *height).filter(|height| low < *height && *height < high));
        places.sort_unstable();
        places.into_iter().map(|height| Some([super::solid::straight(&read, height)?, height])).collect()
    }

    /// The studs behind a run, as centre lines from the floor to the ceiling.
    pub fn studs(&self, pane: &mut Pane) -> Vec<Length> {
        let [from, to] = self.along;
        let within = self.wall.studs.iter().map(|stud| stud.value);
        let within: Vec<Length> = within.filter(|at| from <= *at && *at <= to).collect();
        for at in &within {
            pane.line(&self.wall.name, "stud", Line::Centre, self.up.map(|z| [*at, z]).to_vec());
        }
        within
    }

    /// What is in the way, and doors and windows, dashed; gives back what is taken off and not drawn.
    pub fn in_the_way(&self, pane: &mut Pane) -> Vec<String> {
        let mut taken_off = Vec::new();
        for obstacle in &self.wall.obstacles {
            if obstacle.decided == Decided::Remove {
                taken_off.push(last(&obstacle.name).to_owned());
                continue;
            }
            let Some([x, _, z]) = self.wall.place(obstacle, self.along) else { continue };
            pane.shape(&obstacle.name, "obstacle", Form::rect([x, z]), Line::Hidden, Filled::Open);
            pane.point(
                [super::solid::middle(x), super::solid::middle(z)],
                vec![last(&obstacle.name).to_owned()],
            );
        }
        for opening in self.wall.openings.iter().filter(|opening| opening.wall == InWall::This) {
            let [x, z] = [opening.along, opening.up].map(|ends| ends.map(|end| end.value));
            pane.shape(&opening.name, "opening", Form::rect([x, z]), Line::Hidden, Filled::Open);
            pane.point(
                [super::solid::middle(x), super::solid::middle(z)],
                vec![last(&opening.name).to_owned()],
            );
        }
        taken_off
    }
}

/// The last step of a path.
pub(super) fn last(path: &str) -> &str {
    path.rsplit_once('.').map_or(path, |(_, last)| last)
}
