//! One way to cut a sheet: the work at the saw in order, what comes of it, what is left.

use super::{CutStep, LeftOver, Pattern, PlacedPart};
use crate::breakdown::{Ride, SheetWork, Source, across_of, is_kept, is_over, ride};
use crate::cutting;
use crate::quantity::{JsonLength, some};
use crate::sheets::Subject;
use std::cmp::Reverse;

/// Less than this is scrap and not worth a line: 2 x 12 in (common practice, no source).
const SCRAP: (i128, i128) = (2, 12);

/// The work on the sheets of these numbers, which are cut so.
pub(super) fn pattern(
    subject: Subject<'_>,
    work: &SheetWork,
    pattern: &cutting::Pattern,
    numbers: Vec<u64>,
) -> Option<Pattern> {
    let (stock, sheet) = (work.stock.get(pattern.sheet)?, work.job.sheets.get(pattern.sheet)?);
    let ripped = pattern.first == sheet.rip_axis();
    let mut saw = Saw { subject, work, ripped, steps: Vec::new(), pieces: Vec::new() };
    if sheet.trim.bottom > 0 {
        let gives = "one long edge and one end: mark them, all else is measured from there".to_owned();
        saw.step("skim", sheet.trim.bottom, gives, String::new());
    }
    saw.strips(pattern);
    saw.pieces(pattern);
    saw.trims(pattern);
    let ride = match (subject.model.shop.vehicle, stock.source) {
        (Some(vehicle), Source::Bought) => ride_words(subject, &ride(work, pattern, vehicle), ripped),
        _ => String::new(),
    };
    Some(Pattern {
        first: numbers.first().copied().unwrap_or(1),
        numbers,
        count: pattern.count,
        stock: stock.name.clone(),
        size: [stock.size.0, stock.size.1].map(|len| subject.json(len)),
        least: [sheet.width, sheet.height].map(|units| saw.json(units)),
        left: left(subject, work, pattern),
        steps: saw.steps,
        pieces: saw.pieces,
        ride,
    })
}

/// The steps at the saw, as they come.
struct Saw<'a> {
    subject: Subject<'a>,
    work: &'a SheetWork,
    /// Whether the first cuts are rips, as against cuts across the sheet.
    ripped: bool,
    steps: Vec<CutStep>,
    pieces: Vec<PlacedPart>,
}

impl Saw<'_> {
    fn json(&self, units: i64) -> JsonLength {
        self.subject.json(self.work.scale.length(units))
    }

    /// Adds a step and gives its number.
    fn step(&mut self, cut: &'static str, setting: i64, gives: String, pieces: String) -> usize {
        let number = self.steps.len() + 1;
        self.steps.push(CutStep { number, cut, setting: self.json(setting), units: setting, gives, pieces });
        number
    }

    /// A step for each width of the strips, as they lie: the widest first, unless a remainder lies beside them.
    fn strips(&mut self, pattern: &cutting::Pattern) {
        let mut widths: Vec<(i64, usize)> = Vec::new();
        for rip in &pattern.rips {
            match widths.iter_mut().find(|(width, _)| *width == rip.width) {
                Some((_, count)) => *count += 1,
                None => widths.push((rip.width, 1)),
            }
        }
        let what = if self.ripped { "rip" } else { "piece" };
        for (width, count) in widths {
            self.step(first_cut(self.ripped), width, some(count, what), String::new());
        }
    }

    /// A step for each length of the pieces that the strips are cut into, the longest first, with the pieces that it gives.
    fn pieces(&mut self, pattern: &cutting::Pattern) {
        let (work, axis) = (self.work, pattern.first);
        let all =
            || pattern.rips.iter().flat_map(|rip| rip.crosscuts.iter().map(move |cut| (rip.width, cut)));
        let mut lengths: Vec<i64> = all().map(|(_, cut)| cut.length).collect();
        lengths.sort_unstable_by_key(|length| Reverse(*length));
        lengths.dedup();
        let from = if self.ripped { "rips" } else { "pieces" };
        for length in lengths {
            let cuts = || all().filter(|(_, cut)| cut.length == length);
            let placed = cuts().flat_map(|(width, cut)| cut.parts.iter().map(move |part| (width, part)));
            let placed: Vec<_> =
                placed.filter_map(|(width, part)| Some((width, part, work.rows.get(part.part)?))).collect();
            let mut gives: Vec<(&'static str, i64, bool, usize)> = Vec::new();
            for (width, part, row) in &placed {
                let trimmed = across_of(part, axis) < *width;
                match gives
                    .iter_mut()
                    .find(|given| (given.0, given.1, given.2) == (row.what, *width, trimmed))
                {
                    Some((.., count)) => *count += 1,
                    None => gives.push((row.what, *width, trimmed, 1)),
                }
            }
            let later = |trimmed: bool| if trimmed { ", to be trimmed" } else { "" };
            let short = gives.iter().map(|(what, width, _, count)| {
                // What comes from several widths says from which.
                let several = gives.iter().any(|other| other.0 == *what && other.1 != *width);
                let from = if several { format!(" from {}", self.json(*width).print) } else { String::new() };
                format!("{count} x {what}{from}")
            });
            let words = gives.iter().map(|(what, width, trimmed, count)| {
                let width = self.json(*width).print;
                format!("{count} x {what} from {from} of {width}{}", later(*trimmed))
            });
            let (short, words): (Vec<String>, Vec<String>) = (short.collect(), words.collect());
            let number = self.step(second_cut(self.ripped), length, words.join(", "), short.join(", "));
            for (_, part, row) in placed {
                self.pieces.push(PlacedPart {
                    placed: *part,
                    what: row.what,
                    width: self.subject.json(row.width),
                    length: self.subject.json(row.length),
                    x: self.json(part.x),
                    y: self.json(part.y),
                    turned: part.rotated,
                    step: number,
                    trim: None,
                });
            }
        }
    }

    /// A step for each size to which pieces are cut once more, the largest first.
    fn trims(&mut self, pattern: &cutting::Pattern) {
        let axis = pattern.first;
        let strip = |part: &cutting::Placement| {
            pattern.rips.iter().find(|rip| rip.crosscuts.iter().any(|cut| cut.parts.contains(part)))
        };
        let trimmed = |piece: &PlacedPart| {
            let own = across_of(&piece.placed, axis);
            strip(&piece.placed).map(|rip| rip.width).filter(|width| own < *width).map(|width| (own, width))
        };
        let mut sizes: Vec<i64> =
            self.pieces.iter().filter_map(|piece| trimmed(piece).map(|(own, _)| own)).collect();
        sizes.sort_unstable_by_key(|size| Reverse(*size));
        sizes.dedup();
        for size in sizes {
            let mut gives: Vec<(&'static str, i64, usize)> = Vec::new();
            let mut places = Vec::new();
            for (place, piece) in self.pieces.iter().enumerate() {
                let Some((_, width)) = trimmed(piece).filter(|(own, _)| *own == size) else { continue };
                places.push(place);
                match gives.iter_mut().find(|given| (given.0, given.1) == (piece.what, width)) {
                    Some((.., count)) => *count += 1,
                    None => gives.push((piece.what, width, 1)),
                }
            }
            let short: Vec<String> =
                gives.iter().map(|(what, _, count)| format!("{count} x {what}")).collect();
            let words: Vec<String> = gives
                .iter()
                .map(|(what, width, count)| format!("{count} x {what} from {}", self.json(*width).print))
                .collect();
            let number = self.step("trim", size, words.join(", "), short.join(", "));
            for place in places {
                if let Some(piece) = self.pieces.get_mut(place) {
                    piece.trim = Some(number);
                }
            }
        }
    }
}

/// The word of the first cuts of a sheet.
pub(super) const fn first_cut(ripped: bool) -> &'static str {
    if ripped { "rip" } else { "across" }
}

/// The word of the cuts of what they give.
pub(super) const fn second_cut(ripped: bool) -> &'static str {
    if ripped { "crosscut" } else { "rip" }
}

fn ride_words(subject: Subject<'_>, ride: &Ride, ripped: bool) -> String {
    let (cut, piece) = if ripped { ("ripped", "rip") } else { ("cut across", "piece") };
    match ride {
        Ride::Whole => "fits the vehicle whole".to_owned(),
        Ride::Not => {
            format!(
                "no cut between {piece}s makes it fit the vehicle: have it brought, or cut it outside the yard"
            )
        }
        Ride::Cut(cuts, spare) => {
            let cuts: Vec<String> = cuts
                .iter()
                .map(|(at, rips)| {
                    let rips = some(*rips, piece);
                    format!("{} from the skimmed edge's side, after {rips}", subject.print(*at))
                })
                .collect();
            format!(
                "to fit the vehicle have it {cut} at the yard at {}; {} is left over for a rough cut",
                cuts.join(", and at "),
                subject.print(*spare)
            )
        }
    }
}

/// What is left beside the rips, at their ends and beside what is trimmed, first what is worth keeping; scrap is not listed.
fn left(subject: Subject<'_>, work: &SheetWork, pattern: &cutting::Pattern) -> Vec<LeftOver> {
    let mut left: Vec<LeftOver> = Vec::new();
    let mut sizes = work.left_of(pattern);
    sizes.sort_by_key(|(along, across)| Reverse((i128::from(*along) * i128::from(*across), *along)));
    for units in sizes {
        let [length, width] = [units.0, units.1].map(|units| work.scale.length(units));
        match left.last_mut() {
            Some(last) if last.units == units => last.count += 1,
            _ if is_over([width, length], SCRAP) => {
                let keep = is_kept([width, length]);
                let [width, length] = [width, length].map(|length| subject.json(length));
                left.push(LeftOver { units, count: 1, width, length, keep });
            }
            _ => {}
        }
    }
    left.sort_by_key(|left| !left.keep);
    left
}
