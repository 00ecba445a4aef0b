//! What the parts of a run are cut round, and what is left of them.

use super::run::Stand;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Decided, Len, Obstacle};
use crate::parts::{Bounds, CutOutShape, Part};
use crate::quantity::{Length, some};
use std::cell::RefCell;

/// What is in the way of a run and is cut round, with its place.
#[derive(Default)]
pub(super) struct Around<'a> {
    all: Vec<(&'a Obstacle, Bounds)>,
    /// The parts of which nothing is left, by the position of what takes the most of them.
    gone: RefCell<Vec<(usize, String)>>,
}

impl Around<'_> {
    /// The places of all of it.
    pub(super) fn places(&self) -> impl Iterator<Item = &Bounds> {
        self.all.iter().map(|(_, place)| place)
    }
}

impl<'a> Lowering<'a> {
    /// What the parts of a run are cut round, whose units begin at `left`; the last one has its left face at `x` and is so wide.
    pub(super) fn around(&self, stand: &Stand<'a>, left: Len, [x, width]: [Len; 2]) -> Around<'a> {
        let right = x.value.checked_add(width.value);
        let (Some(wall), Some(right)) = (stand.wall, right) else { return Around::default() };
        let cut = |obstacle: &&Obstacle| matches!(obstacle.decided, Decided::CutRound | Decided::BringFlush);
        let place = |obstacle: &'a Obstacle| Some((obstacle, wall.place(obstacle, [left.value, right])?));
        let all = wall.obstacles.iter().filter(cut).filter_map(place).collect();
        Around { all, gone: RefCell::default() }
    }

    /// Whether what a part is cut round leaves nothing of it, so that it is not made.
    pub(super) fn cut_away(&self, around: &Around<'_>, part: &Part) -> bool {
        let Some(bounds) = self.graph.bounds(part).filter(|_| !around.all.is_empty()) else { return false };
        let splits = around.all.iter().enumerate().filter_map(|(position, (_, place))| {
            let cut = part.cut_round(&bounds, place)?;
            (cut.shape == CutOutShape::Split).then_some((position, place[0]))
        });
        let splits: Vec<(usize, [Length; 2])> = splits.collect();
        let gaps: Vec<[Length; 2]> = splits.iter().map(|(_, gap)| *gap).collect();
        let most = splits.iter().max_by_key(|(_, [from, to])| to.checked_sub(*from));
        let Some((most, _)) = most.filter(|_| pieces(bounds[0], &gaps).next().is_none()) else {
            return false;
        };
        around.gone.borrow_mut().push((*most, part.path.clone()));
        true
    }

    /// Says which parts are not made, for each thing that takes their place.
    pub(super) fn say_cut_away(&mut self, around: &Around<'_>) {
        let gone = around.gone.take();
        for (position, (obstacle, _)) in around.all.iter().enumerate() {
            let mut paths = gone.iter().filter(|(most, _)| *most == position).map(|(_, path)| path);
            let Some(first) = paths.next() else { continue };
            let rest: Vec<&String> = paths.collect();
            let more = match rest.len() {
                0 => String::new(),
                count => format!(" and {}", some(count, "other part")),
            };
            let message = format!("the {} leaves nothing of `{first}`{more}: not made", obstacle.word);
            let told = Diagnostic::new(&codes::CUT_AWAY, message).at(obstacle.head, "cut round");
            let told =
                rest.into_iter().fold(told.about(first.as_str()), |told, path| told.about(path.as_str()));
            self.sink.push(
                told.help("the shelf over it has no cleat there, and no row of screws: take the trim off, or move the shelf"),
            );
        }
    }
}

/// What gaps leave of a stretch.
pub(super) fn pieces([from, to]: [Length; 2], gaps: &[[Length; 2]]) -> impl Iterator<Item = Length> {
    let mut gaps = gaps.to_vec();
    gaps.sort();
    gaps.push([to, to]);
    let mut at = from;
    let left = gaps.into_iter().map(move |[start, end]| {
        let piece = start.min(to).checked_sub(at);
        at = at.max(end);
        piece.filter(|piece| piece.is_positive())
    });
    left.flatten()
}
