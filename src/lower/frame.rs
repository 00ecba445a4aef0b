//! Frames: a facing whose rails and strips are joined into its stiles on the bench, and that is put on in one piece.

use super::run::Stand;
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Facing, Frame, Len};
use crate::parts::{
    Blank, Bounds, FramePart, Joint, JointKind, Part, PartId, Role, RowKind, RunPart, UnitId,
};
use crate::quantity::Length;
use std::collections::BTreeMap;

/// A part of the frame and its box.
type FramePiece = (PartId, Part, Bounds);

impl Lowering<'_> {
    /// Joins the facing of a run, whose parts are all there and reach from stile to stile.
    pub(super) fn frame(&mut self, stand: &Stand<'_>, run: &mut RunPart) {
        let (Some(frame), Some(facing)) = (stand.run.frame, &stand.run.facing) else { return };
        if !self.lies_in_one_plane(run, frame) {
            return;
        }
        let all = self.graph.facing_of(stand.id, run);
        let of_frame = all.filter(|part| part.role != Role::Filler);
        let pieces: Vec<FramePiece> =
            of_frame.filter_map(|part| Some((part.id, part.clone(), self.graph.bounds(part)?))).collect();
        let hosts = Hosts::new(&pieces);
        for guest in &pieces {
            let ends = hosts.at_ends(guest);
            self.joined(frame, guest, &ends);
        }
        run.frame = self.frame_part(facing, frame, (run.end_stiles, &pieces));
    }

    fn lies_in_one_plane(&mut self, run: &RunPart, frame: Frame) -> bool {
        if let Some(space) = run.spaces.first() {
            let message =
                format!("the frame of `{}` is one piece, and `{}` parts its units", run.path, space.path);
            let told =
                self.blame(Diagnostic::new(&codes::FRAME, message), Some(frame.head), "this join", &[]);
            self.sink.push(
                told.help("delete the join: rails, strips and stiles are then put on one by one")
                    .help("or make each side of the space a run of its own"),
            );
            return false;
        }
        let mut units = run.units.iter().filter_map(|id| self.graph.unit(*id));
        let Some(first) = units.next() else { return true };
        let Some(other) = units.find(|unit| unit.depth.value != first.depth.value) else { return true };
        let message = format!(
            "the frame of `{}` does not lie in one plane: `{}` and `{}` differ in depth",
            run.path, first.path, other.path
        );
        let blamed = [(first.depth, "one depth"), (other.depth, "another")];
        let diagnostic =
            self.blame(Diagnostic::new(&codes::FRAME, message), Some(frame.head), "this join", &blamed);
        self.sink.push(
            diagnostic
                .help("make them equally deep, or each depth a run of its own")
                .help("or delete the join: rails, strips and stiles are then put on one by one"),
        );
        false
    }

    /// The joints of a guest with what is at its ends; it becomes longer by its tenons.
    fn joined(&mut self, frame: Frame, (id, guest, _): &FramePiece, ends: &[&FramePiece]) {
        let mut length = vec![(1, guest.size.length)];
        for (host_id, host, _) in ends {
            let single = self.single_of(guest, *host_id);
            let tenoned = single.map_or(frame.tenoned, |single| &*single.joint == "tenon");
            let tenon = tenoned.then(|| single.and_then(|single| single.depth).unwrap_or(frame.depth));
            let held = single.map_or(frame.join, |single| single.join.or(frame.join));
            let at = self.along(guest, host);
            let kind = match tenon {
                Some(depth) => JointKind::Mortise { depth },
                None => JointKind::Butt,
            };
            self.graph.join(Joint { guest: *id, host: *host_id, kind, at });
            length.extend(tenon.map(|tenon| (1, tenon)));
            if held.fastener.is_some() {
                let between = (RowKind::Frame, *id, *host_id);
                self.row_between(between, guest.size.width, held, true);
            }
        }
        if length.len() == 1 {
            return;
        }
        let rule = "between what it is joined into, and a tenon at each end";
        let length = self.graph.ledger.sum("length", &length, rule);
        if let Some(part) = self.graph.parts.get_mut(id.0 as usize) {
            part.shoulders = Some(part.size.length);
            part.size.length = length;
            part.blank = part.blank.map(|blank| Blank { length, ..blank });
        }
    }

    /// Where a guest meets its host: from the lower or left end of the host to the lower or left edge of the guest.
    fn along(&mut self, guest: &Part, host: &Part) -> Len {
        if host.role != Role::Stile {
            return self.graph.ledger.sum(
                "mark",
                &[(1, guest.place.x), (-1, host.place.x)],
                "along the rail",
            );
        }
        let stands =
            |part: &Part| part.unit.and_then(|unit| self.graph.unit(unit)).and_then(|unit| unit.stands);
        let mut terms = vec![(1, guest.place.z), (-1, host.place.z)];
        terms.extend(stands(guest).map(|stands| (1, stands)));
        terms.extend(stands(host).map(|stands| (-1, stands)));
        self.graph.ledger.sum("mark", &terms, "along the stile")
    }

    fn frame_part(
        &mut self,
        facing: &Facing,
        frame: Frame,
        ([left, right], pieces): ([Option<PartId>; 2], &[FramePiece]),
    ) -> Option<FramePart> {
        let whole = || pieces.iter().filter(|(_, part, _)| part.unit.is_none()).map(|(_, part, _)| part);
        let (left, right) = (self.graph.part(left?)?.clone(), self.graph.part(right?)?.clone());
        let ledger = &mut self.graph.ledger;
        let terms = [(1, right.place.x), (-1, left.place.x), (-1, left.size.width)];
        let between = ledger.sum("between the end stiles", &terms, "");
        let terms = [(1, left.cut().width), (1, between), (1, right.cut().width)];
        let width = ledger.sum("width of the frame", &terms, "over both end stiles, as cut");
        let height = whole().map(|part| part.cut().length).max_by_key(|length| length.value)?;
        Some(FramePart { width, height, thickness: facing.thickness, head: frame.head })
    }
}

/// What pieces can be joined into, found by where it stands: a run may have thousands of pieces, and each meets few.
struct Hosts<'a> {
    /// The stiles by their left edges.
    stiles: Vec<(Length, usize, &'a FramePiece)>,
    /// The width of the widest of them; `None` where there is none.
    widest: Option<Length>,
    /// Rails and strips by the unit they are of; those of the whole run under `None`.
    across: BTreeMap<Option<UnitId>, Vec<(usize, &'a FramePiece)>>,
}

impl<'a> Hosts<'a> {
    fn new(pieces: &'a [FramePiece]) -> Self {
        let mut hosts = Self { stiles: Vec::new(), widest: None, across: BTreeMap::new() };
        for (position, piece) in pieces.iter().enumerate() {
            let (_, part, [[left, right], ..]) = piece;
            if part.role == Role::Stile {
                hosts.stiles.push((*left, position, piece));
                hosts.widest = hosts.widest.max(right.checked_sub(*left));
            } else {
                hosts.across.entry(part.unit).or_default().push((position, piece));
            }
        }
        hosts.stiles.sort_by_key(|(left, position, _)| (*left, *position));
        hosts
    }

    /// What is at the ends of a piece: stiles of rails and strips, rails and strips of a stile before a divider.
    fn at_ends(&self, (_, guest, [x, _, z]): &FramePiece) -> Vec<&'a FramePiece> {
        let mut found: Vec<&FramePiece> = Vec::new();
        if guest.role != Role::Stile {
            let at = |end: Length, inside: &dyn Fn([Length; 2]) -> bool| {
                // One that begins before this ends before the place.
                let first = self.widest.and_then(|widest| end.checked_sub(widest));
                let from = self.stiles.partition_point(|(left, ..)| first.is_some_and(|first| *left < first));
                let near = self.stiles.iter().skip(from).take_while(|(left, ..)| *left <= end);
                let meets =
                    near.filter(|(_, _, (_, _, [own, _, height]))| inside(*own) && overlap(*height, *z));
                meets.min_by_key(|(_, position, _)| *position).map(|(_, _, piece)| *piece)
            };
            let [low, high] = *x;
            found.extend(at(low, &|[from, to]| from < low && low <= to));
            found.extend(at(high, &|[from, to]| from <= high && high < to));
        } else if guest.unit.is_some() {
            let at = |inside: &dyn Fn([Length; 2]) -> bool| {
                let near = [guest.unit, None].into_iter().filter_map(|unit| self.across.get(&unit)).flatten();
                let meets = near.filter(|(_, (_, _, [along, _, own]))| inside(*own) && overlap(*along, *x));
                meets.min_by_key(|(position, _)| *position).map(|(_, piece)| *piece)
            };
            let [low, high] = *z;
            found.extend(at(&|[from, to]| from < low && low <= to));
            found.extend(at(&|[from, to]| from <= high && high < to));
        }
        found
    }
}

/// Whether two ranges share more than an end.
fn overlap(one: [Length; 2], other: [Length; 2]) -> bool {
    one[0] < other[1] && other[0] < one[1]
}
