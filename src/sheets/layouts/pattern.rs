//! One way to cut a sheet: the work at the saw in order, what comes of it, what is left.

use super::{CutStep, LeftOver, Pattern, PlacedPart};
use crate::breakdown::{Ride, SheetWork, Source, ride};
use crate::cutting::{self, Axis};
use crate::quantity::{JsonLength, Length, Rational, some};
use crate::sheets::Subject;
use std::cmp::Reverse;

/// An offcut is worth keeping from this size: 4 x 24 in (common practice, no source).
const KEEP: (i128, i128) = (4, 24);

/// Less than this is scrap and not worth a line: 2 x 12 in (common practice, no source).
const SCRAP: (i128, i128) = (2, 12);

/// The work on the sheets from number `first` on that are cut so.
pub(super) fn pattern(
    subject: Subject<'_>,
    work: &SheetWork,
    pattern: &cutting::Pattern,
    first: u64,
) -> Option<Pattern> {
    let (stock, sheet) = (work.stock.get(pattern.sheet)?, work.job.sheets.get(pattern.sheet)?);
    let mut saw = Saw { subject, work, steps: Vec::new(), pieces: Vec::new() };
    if sheet.trim.bottom > 0 {
        let gives = "one long edge and one end: mark them, all else is measured from there".to_owned();
        saw.step("skim", sheet.trim.bottom, gives, String::new());
    }
    saw.rips(pattern);
    saw.crosscuts(pattern);
    let ride = match (subject.model.shop.vehicle, stock.source) {
        (Some(vehicle), Source::Bought) => ride_words(subject, &ride(work, pattern, vehicle)),
        _ => String::new(),
    };
    Some(Pattern {
        first,
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

    /// A step for each width, as the rips lie: the widest first, unless a remainder lies beside them.
    fn rips(&mut self, pattern: &cutting::Pattern) {
        let mut widths: Vec<(i64, usize)> = Vec::new();
        for rip in &pattern.rips {
            match widths.iter_mut().find(|(width, _)| *width == rip.width) {
                Some((_, count)) => *count += 1,
                None => widths.push((rip.width, 1)),
            }
        }
        for (width, count) in widths {
            self.step("rip", width, some(count, "rip"), String::new());
        }
    }

    /// A step for each length, the longest first, with the pieces that it gives.
    fn crosscuts(&mut self, pattern: &cutting::Pattern) {
        let work = self.work;
        let all =
            || pattern.rips.iter().flat_map(|rip| rip.crosscuts.iter().map(move |cut| (rip.width, cut)));
        let mut lengths: Vec<i64> = all().map(|(_, cut)| cut.length).collect();
        lengths.sort_unstable_by_key(|length| Reverse(*length));
        lengths.dedup();
        for length in lengths {
            let cuts = || all().filter(|(_, cut)| cut.length == length);
            let placed = cuts().flat_map(|(width, cut)| cut.parts.iter().map(move |part| (width, part)));
            let placed: Vec<_> =
                placed.filter_map(|(width, part)| Some((width, part, work.rows.get(part.part)?))).collect();
            let mut gives: Vec<(&'static str, i64, usize)> = Vec::new();
            for (width, _, row) in &placed {
                match gives.iter_mut().find(|(what, own, _)| (*what, own) == (row.what, width)) {
                    Some((.., count)) => *count += 1,
                    None => gives.push((row.what, *width, 1)),
                }
            }
            let short = gives.iter().map(|(what, _, count)| format!("{count} x {what}"));
            let words = gives.iter().map(|(what, width, count)| {
                format!("{count} x {what} from rips of {}", self.json(*width).print)
            });
            let (short, words): (Vec<String>, Vec<String>) = (short.collect(), words.collect());
            let number = self.step("crosscut", length, words.join(", "), short.join(", "));
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
                });
            }
        }
    }
}

fn ride_words(subject: Subject<'_>, ride: &Ride) -> String {
    match ride {
        Ride::Whole => "fits the vehicle whole".to_owned(),
        Ride::Not => {
            "no cut between rips makes it fit the vehicle: have it brought, or cut it outside the yard"
                .to_owned()
        }
        Ride::Cut(cuts, spare) => {
            let cuts: Vec<String> = cuts
                .iter()
                .map(|(at, rips)| {
                    let rips = some(*rips, "rip");
                    format!("{} from the skimmed edge's side, after {rips}", subject.print(*at))
                })
                .collect();
            format!(
                "to fit the vehicle have it ripped at the yard at {}; {} of width is left over for a rough cut",
                cuts.join(", and at "),
                subject.print(*spare)
            )
        }
    }
}

/// What is left beside the rips and at their ends, first what is worth keeping; scrap is not listed.
fn left(subject: Subject<'_>, work: &SheetWork, pattern: &cutting::Pattern) -> Vec<LeftOver> {
    let Some(sheet) = work.job.sheets.get(pattern.sheet) else { return Vec::new() };
    let (along, kerf) = (sheet.reach(pattern.first).0, work.job.rules.kerf);
    let ends = pattern.rips.iter().map(|rip| (rip.width, rip.rest(along, kerf)));
    let sizes = std::iter::once((work.rest_across(pattern), along)).chain(ends);
    let inch = |inches: i128| Length::from_inches(Rational::from(inches)).unwrap_or_default();
    let mut sizes: Vec<(Length, Length)> =
        sizes.map(|(wide, long)| (work.scale.length(wide), work.scale.length(long))).collect();
    sizes.retain(|(wide, long)| *wide.min(long) >= inch(SCRAP.0) && *wide.max(long) >= inch(SCRAP.1));
    sizes.sort_by_key(|(wide, long)| Reverse((*wide, *long)));
    let mut left: Vec<(Length, Length, usize)> = Vec::new();
    for (wide, long) in sizes {
        match left.last_mut() {
            Some((a, b, count)) if (*a, *b) == (wide, long) => *count += 1,
            _ => left.push((wide, long, 1)),
        }
    }
    let row = |(wide, long, count): (Length, Length, usize)| {
        let keep = wide.min(long) >= inch(KEEP.0) && wide.max(long) >= inch(KEEP.1);
        // The sheet's length runs along the rips, or across them where the first cuts are crosscuts.
        let (width, length) = if pattern.first == Axis::Horizontal { (wide, long) } else { (long, wide) };
        LeftOver { count, width: subject.json(width), length: subject.json(length), keep }
    };
    let mut left: Vec<LeftOver> = left.into_iter().map(row).collect();
    left.sort_by_key(|left| !left.keep);
    left
}
