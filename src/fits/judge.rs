//! What a change of the text, or of its stock, means for each part that is cut.

use super::{Bench, cuts, sum};
use crate::parts::{Joint, JointKind, Made, Part, PartId, Role, State, Verdict};
use crate::quantity::{Length, Rational, Round};
use std::collections::{BTreeMap, BTreeSet};

/// What is off of one size of a part.
enum Off {
    /// Nothing that can be seen at the mark.
    Fits,
    /// So much less, and it holds, in words.
    Holds(String),
    /// So much is cut off.
    Over(Length),
    /// It is of no use, in words.
    Short(String),
}

/// What the text means for all parts that are cut; those that are as it has them are left out.
#[must_use]
pub fn judge(bench: Bench<'_>) -> BTreeMap<PartId, Verdict> {
    let mut verdicts = BTreeMap::new();
    for (id, made) in &bench.graph.made {
        let Some(part) = bench.graph.part(*id).filter(|_| made.state >= State::Cut) else { continue };
        let mut verdict = Verdict::default();
        bench.sizes(part, made, &mut verdict);
        if made.state >= State::Grooved {
            bench.grooved(part, made, &mut verdict);
        }
        if made.state >= State::Glued && !verdict.stays() && verdict.lost.is_none() {
            verdict =
                Verdict { lost: Some("it is glued in, and nothing can be cut on it".to_owned()), ..verdict };
        }
        if verdict != Verdict::default() {
            verdicts.insert(*id, verdict);
        }
    }
    verdicts
}

impl Bench<'_> {
    /// What cannot be told from zero with a tape.
    fn noise(self) -> Length {
        self.marks.step().checked_div(Rational::from(2)).unwrap_or_default()
    }

    fn fine(self, length: Length) -> String {
        self.marks.print_fine(length).to_string()
    }

    /// Compares length and width with the room there is.
    fn sizes(self, part: &Part, made: &Made, verdict: &mut Verdict) {
        if let Some(other) = self.other_stock(part.stock, made) {
            let asked = self.graph.stock_name(part.stock);
            verdict.lost = Some(format!("it is of {other}, and {asked} is asked for"));
            return;
        }
        let cut = part.cut();
        let planned = [cut.width.value, cut.length.value].map(|size| self.marks.nearest(size));
        let is = made.facts.size.map_or(planned, |(size, _)| size.map(|size| self.marks.nearest(size)));
        let ends: Vec<&Joint> = self.graph.joints_of(part.id).collect();
        // A back is held along its length, everything else by its ends.
        let held = usize::from(part.role != Role::Back);
        let needed = self.needed(part);
        let mut target = is;
        for (place, word) in [(0, "narrow"), (1, "short")] {
            let (Some(planned), Some(is), Some(needed)) =
                (planned.get(place), is.get(place), needed.get(place))
            else {
                continue;
            };
            let over = is.checked_sub(*planned).unwrap_or_default();
            let off = if let Some(needed) = needed {
                self.fitted_on_site(*is, *needed, word)
            } else if part.role == Role::Loose && place == 1 {
                self.loose(part, over)
            } else if place == held && !ends.is_empty() {
                self.between(&ends, over, word)
            } else {
                self.plain(over, word)
            };
            match off {
                Off::Fits => {}
                Off::Holds(how) => verdict.holds.push(how),
                Off::Over(over) => {
                    let left = is.checked_sub(over).unwrap_or_default();
                    if let Some(target) = target.get_mut(place) {
                        *target = left.rounded_to(self.marks.step(), Round::Down).unwrap_or(left);
                    }
                }
                Off::Short(why) => verdict.lost = Some(why),
            }
        }
        verdict.trim = (target != is && verdict.lost.is_none()).then_some(target);
    }

    /// Width and length that are left of a part that is fitted in the room, where they are less than it is cut.
    fn needed(self, part: &Part) -> [Option<Length>; 2] {
        let Some(blank) = part.blank else { return [None; 2] };
        let widest = part.scribed.iter().map(|(_, width)| width.value).chain([part.size.width.value]).max();
        let less = |needed: Length, cut: Length| (needed < cut).then_some(needed);
        [
            widest.and_then(|widest| less(widest, blank.width.value)),
            less(part.size.length.value, blank.length.value),
        ]
    }

    fn fitted_on_site(self, is: Length, needed: Length, word: &str) -> Off {
        match needed.checked_sub(is) {
            Some(less) if less > self.noise() => Off::Short(format!("it is {} too {word}", self.fine(less))),
            _ => Off::Fits,
        }
    }

    fn plain(self, over: Length, word: &str) -> Off {
        if over.is_positive() {
            return Off::Over(over);
        }
        self.short(Length::ZERO.checked_sub(over).unwrap_or_default(), word)
    }

    /// So much less than there is room for, where nothing bears in a groove.
    fn short(self, less: Length, word: &str) -> Off {
        match less {
            less if less < self.noise() => Off::Fits,
            less if less <= self.fits.gap => Off::Holds(format!("{} {word}", self.fine(less))),
            less => Off::Short(format!("it is {} too {word}", self.fine(less))),
        }
    }

    /// A loose shelf lies on its pins, with room on both sides.
    fn loose(self, part: &Part, over: Length) -> Off {
        let of_unit = part.unit.into_iter().flat_map(|unit| self.graph.openings_of(unit));
        let opening = of_unit.into_iter().find(|opening| opening.loose.contains(&part.id));
        let planned = opening.and_then(|o| o.clear_width.value.checked_sub(part.size.length.value));
        let Some(play) = planned.and_then(|planned| planned.checked_sub(over)) else { return Off::Fits };
        let least = self.fits.tightest;
        match play {
            _ if over.is_zero() => Off::Fits,
            play if play < least => Off::Over(over),
            play if play <= self.fits.slack => Off::Holds(format!("{} of play", self.fine(play))),
            play => Off::Short(format!("it would have {} of play on its pins", self.fine(play))),
        }
    }

    /// A part between others, `over` longer than the text has it.
    fn between(self, ends: &[&Joint], over: Length, word: &str) -> Off {
        let depths: Vec<(Length, Length)> = ends
            .iter()
            .filter_map(|joint| Some((self.groove(joint).1?, joint.kind.depth()?.value)))
            .collect();
        let deeper = sum(depths.iter().map(|(made, planned)| made.checked_sub(*planned).unwrap_or_default()));
        let slack = deeper.checked_sub(over).and_then(|slack| slack.checked_sub(self.less_room(ends)));
        let slack = slack.unwrap_or_default();
        let long = Length::ZERO.checked_sub(slack).unwrap_or_default();
        if long >= self.noise() {
            return Off::Over(long);
        }
        let housed =
            ends.iter().all(|joint| !matches!(joint.kind, JointKind::Butt | JointKind::Mortise { .. }));
        if !housed {
            return self.short(slack, word);
        }
        if slack < self.noise() {
            return Off::Fits;
        }
        let count = i128::try_from(ends.len()).unwrap_or(1);
        let each = slack.checked_div(Rational::from(count)).unwrap_or(slack);
        let bears = |depth: Length| depth.checked_sub(each).unwrap_or_default();
        let least = depths.iter().map(|(made, _)| bears(*made)).min().unwrap_or_default();
        let enough = depths.iter().all(|(made, _)| bears(*made) >= self.fits.least_bearing(*made));
        if enough {
            let (each, least) = (self.fine(each), self.fine(least));
            Off::Holds(format!("{each} {word} in each groove, {least} bears"))
        } else if least.is_positive() {
            Off::Short(format!("only {} of it would bear in its grooves", self.fine(least)))
        } else {
            Off::Short(format!("it is {} too {word} to reach into its grooves", self.fine(slack)))
        }
    }

    /// Compares the grooves of a part with what goes in.
    fn grooved(self, part: &Part, made: &Made, verdict: &mut Verdict) {
        let nearest = |length: &Length| self.marks.nearest(*length);
        let Some((stated, _)) = &made.facts.marks else { return };
        let mut planned: BTreeSet<Length> =
            cuts(self.graph, part.id, self.marks).into_iter().map(|cut| cut.at).collect();
        let mut is: BTreeSet<Length> = stated.iter().map(nearest).collect();
        let own = made.facts.grooved().unwrap_or_default();
        for joint in self.graph.joints_in(part.id) {
            let at = self.cut_for(joint, &is);
            if at != nearest(&joint.at.value) {
                planned.remove(&nearest(&joint.at.value));
                is.remove(&at);
            }
            let own = own.iter().find(|(mark, _)| nearest(mark) == at).and_then(|(_, size)| *size);
            let (Some(size), Some(guest)) = (own, self.graph.part(joint.guest)) else { continue };
            self.taken(joint, (at, size), guest, verdict);
        }
        verdict.groove.extend(planned.difference(&is));
        verdict.plug.extend(is.difference(&planned));
        verdict.groove.sort();
        verdict.plug.sort();
    }

    /// The mark at which the cut for a guest is made. A rabbet ends with its part and has one wall: where its stock turned out
    /// otherwise, it is as wide as it was cut.
    fn cut_for(self, joint: &Joint, made: &BTreeSet<Length>) -> Length {
        let at = self.marks.nearest(joint.at.value);
        if !matches!(joint.kind, JointKind::Rabbet { .. }) || made.contains(&at) {
            return at;
        }
        let near = |mark: &&Length| mark.apart(at).is_some_and(|apart| apart <= self.fits.packed);
        made.iter().find(near).copied().unwrap_or(at)
    }

    /// Whether a groove that is cut takes its guest.
    fn taken(
        self,
        joint: &Joint,
        (at, [width, depth]): (Length, [Length; 2]),
        guest: &Part,
        verdict: &mut Verdict,
    ) {
        let (limit, planned) = match joint.kind {
            JointKind::Dado { width, .. } | JointKind::Groove { width, .. } => {
                (self.fits.play, width.value.checked_sub(guest.size.thickness.value).unwrap_or_default())
            }
            JointKind::Rabbet { .. } => (self.fits.gap, Length::ZERO),
            JointKind::Mortise { .. } | JointKind::Butt => return,
        };
        let shallow = joint.kind.depth().is_some_and(|planned| depth < planned.value);
        let play = width.checked_sub(self.thickness(guest)).unwrap_or_default();
        let tight = match joint.kind {
            JointKind::Rabbet { .. } => Length::ZERO.checked_sub(self.fits.gap).unwrap_or_default(),
            _ => Length::ZERO,
        };
        let mark = self.marks.print(at);
        let with_play = || match play {
            play if play.is_zero() => format!("no play at {mark}"),
            play if play.is_negative() => {
                format!("{} proud at {mark}", self.fine(Length::ZERO.checked_sub(play).unwrap_or_default()))
            }
            play => format!("{} of play at {mark}", self.fine(play)),
        };
        match play {
            play if play < tight => verdict.widen.push(at),
            _ if shallow && self.cut(guest.id).is_none() => verdict.widen.push(at),
            play if play == planned => {}
            play if play <= limit.max(planned) => verdict.holds.push(with_play()),
            play if play <= self.fits.packed => verdict.packed.push(with_play()),
            _ => {
                verdict.plug.push(at);
                verdict.groove.push(at);
            }
        }
    }
}
