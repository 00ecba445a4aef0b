//! The ends of a run: room for the body at the tightest place, and a filler that looks meant.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Len, ReadingAt, Return, Run};
use crate::parts::{EndPart, Finding, Hand, Limit, Part, Role, RunId, RunPart};
use crate::quantity::Length;

code!(
    Error,
    TIGHT,
    "C025",
    "does_not_enter",
    "a run that does not enter its recess",
    "A body needs 1/4 in (6 mm) at each end that meets a wall, at the tightest of all readings (common practice, no source). Take it \
     off the units: the wall gives nothing.",
    with_example
);

code!(
    Warning,
    FILLER,
    "C026",
    "filler",
    "an end that looks like a mistake",
    "What is seen between the body and a wall is 3/4 to 1 1/2 in (19 to 38 mm) wide: the most is from the Architectural Woodwork \
     Standards 2009, the least is common practice, no source. A stile at a wall looks meant where its narrowest place is within 1/4 in \
     (6 mm) of the stile over a seam (common practice, no source).",
    with_example
);

code!(
    Warning,
    NARROW,
    "C117",
    "narrow_gap",
    "an end in mid-wall so near the corner that no hand gets in",
    "What stays open between a run and a corner takes a hand with a brush or a cloth from 4 in (100 mm) on (common practice, no source). \
     In a narrower gap the wall and the side are never painted or cleaned, and what falls in stays there.",
    with_example
);

/// Every end that meets a wall, or stands before one.
pub(super) const CHECK: Check = Check { codes: &[&TIGHT, &FILLER, &NARROW], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let runs = subject.model.runs.iter().zip(subject.graph.numbered_runs());
    // A run whose units cannot be made is all gap.
    for (stated, (id, run)) in runs.filter(|(_, (_, run))| !run.units.is_empty()) {
        let least = subject.usual((1, 4), 60);
        let (mut tight, mut odd) = (Vec::new(), None);
        let ends = run.ends.iter().zip(&stated.ends).zip(Hand::BOTH);
        let met = |end: &EndPart| end.meets != Return::Open || end.is_mid_wall();
        for ((end, own), hand) in ends.filter(|((end, _), _)| met(end)) {
            let (path, what) = (format!("{}.end.{}", run.path, hand.word()), "room for the body at an end");
            let finding = Finding::new(&TIGHT, path, what, end.gap.value, Limit::AtLeast(least.into()));
            if !report.compare(finding) {
                tight.push((end, hand));
            } else if end.is_mid_wall() {
                reached(subject, report, (stated, run), (end, hand));
            } else if stated.facing.is_some() || own.filler.is_some() {
                odd = odd.or(looks(subject, report, (stated, id, run), (end, hand)));
            }
        }
        enters(subject, report, (stated, run), &tight);
        // Both ends follow from one width: it is told once.
        odd.into_iter().for_each(|diagnostic| report.tell(diagnostic));
    }
}

fn enters(
    subject: &Subject<'_>,
    report: &mut Report,
    (stated, run): (&Run, &RunPart),
    tight: &[(&EndPart, Hand)],
) {
    let Some((end, hand)) = tight.iter().min_by_key(|(end, _)| end.gap.value).copied() else { return };
    let least = subject.usual((1, 4), 60);
    let lacks = tight.iter().filter_map(|(end, _)| least.checked_sub(end.gap.value));
    let lack = lacks.fold(Length::ZERO, |sum, lack| sum.checked_add(lack).unwrap_or(sum));
    let at = if tight.len() > 1 { "each end".to_owned() } else { format!("its {} end", hand.word()) };
    let message =
        format!("`{}` has {} at {at} where the wall is tightest", run.path, subject.print(end.gap.value));
    let diagnostic = subject.at_head(Diagnostic::new(&TIGHT, message), stated.head, "this run");
    let mut diagnostic = widths(subject, diagnostic, run).about(run.path.as_str());
    let readings = run.wall.and_then(|wall| subject.model.walls.get(wall)).map(|wall| &wall.readings);
    let read = readings.into_iter().flatten().flat_map(|reading| [reading.back, reading.front]).flatten();
    if let Some(tightest) = read.min_by_key(|read| read.value) {
        diagnostic = subject.at(diagnostic, tightest, "the tightest place");
    }
    report.tell(diagnostic.help(format!(
        "leave {} there: take {} off the units, not off the wall",
        subject.print(least),
        subject.least(lack)
    )));
}

/// Whether a hand gets into what an end in mid-wall leaves open.
fn reached(
    subject: &Subject<'_>,
    report: &mut Report,
    (stated, run): (&Run, &RunPart),
    (end, hand): (&EndPart, Hand),
) {
    let (path, least) = (format!("{}.end.{}", run.path, hand.word()), subject.usual((4, 1), 1000));
    let what = "what an end in mid-wall leaves open";
    if report.compare(Finding::new(&NARROW, path, what, end.corner.value, Limit::AtLeast(least.into()))) {
        return;
    }
    let message = format!(
        "the {} end of `{}` leaves {} before the corner: no hand gets in",
        hand.word(),
        run.path,
        subject.print(end.corner.value)
    );
    let [left, right] = stated.ends;
    let own = if hand == Hand::Left { left } else { right };
    let diagnostic = subject.at_head(Diagnostic::new(&NARROW, message), own.head.or(stated.head), "this end");
    report.tell(diagnostic.about(run.path.as_str()).help(format!(
        "leave {} or more, or let the run meet the wall: delete `against = open`",
        subject.print(least)
    )));
}

/// Marks the widths of units that are stated.
fn widths(subject: &Subject<'_>, diagnostic: Diagnostic, run: &RunPart) -> Diagnostic {
    let units = run.units.iter().filter_map(|id| subject.graph.unit(*id));
    units.fold(diagnostic, |diagnostic, unit| subject.at_stated(diagnostic, unit.width, "a unit's width"))
}

/// The front gaps of an end by reading; of an end without readings the gap itself.
fn fronts(end: &EndPart) -> Vec<(Option<ReadingAt>, Len)> {
    let read: Vec<(Option<ReadingAt>, Len)> = end
        .readings
        .iter()
        .filter_map(|reading| reading.front.map(|front| (Some(reading.at), front)))
        .collect();
    if read.is_empty() { vec![(None, end.gap)] } else { read }
}

fn looks(
    subject: &Subject<'_>,
    report: &mut Report,
    (stated, id, run): (&Run, RunId, &RunPart),
    (end, hand): (&EndPart, Hand),
) -> Option<Diagnostic> {
    let side = hand.word();
    let path = format!("{}.end.{side}", run.path);
    let [least, most] = [subject.usual((3, 4), 190), subject.usual((3, 2), 380)];
    let gaps = fronts(end);
    let narrow = gaps.iter().min_by_key(|(_, gap)| gap.value).copied();
    let wide = gaps.iter().max_by_key(|(_, gap)| gap.value).copied();
    let (narrow, wide) = narrow.zip(wide)?;
    let what = "what is seen between the body and the wall";
    let kept = report.compare(Finding::new(
        &FILLER,
        path.as_str(),
        what,
        narrow.1.value,
        Limit::AtLeast(least.into()),
    ));
    let over = Finding::new(&FILLER, path.as_str(), what, wide.1.value, Limit::AtMost(most.into()));
    let kept = report.compare(over) && kept;
    let own = stated.ends.get(usize::from(hand == Hand::Right)).and_then(|end| end.stile);
    let off = stile_off(subject, (id, run), hand, own);
    let close = subject.usual((1, 4), 60);
    let alike = off.is_none_or(|off| {
        let what = "stile at a wall against the stile over a seam";
        report.compare(Finding::new(&FILLER, path.as_str(), what, off, Limit::AtMost(close.into())))
    });
    let fact = if !kept {
        let (at, gap) = if narrow.1.value < least { narrow } else { wide };
        let place = at.map_or_else(String::new, |at| format!(" at the {} reading", at.word()));
        let bound = if gap.value < least { "narrow" } else { "wide" };
        format!("the {side} end of `{}` shows {}{place}: too {bound}", run.path, subject.print(gap.value))
    } else if !alike {
        let off = off.unwrap_or_default();
        let than = if own.is_some() { "what its end states" } else { "the one over a seam" };
        format!("the {side} stile of `{}` is {} off {than}", run.path, subject.print(off))
    } else {
        return None;
    };
    let mut diagnostic = subject.at_head(Diagnostic::new(&FILLER, fact), stated.head, "this run");
    let [left, right] = stated.ends;
    if let Some(gap) = match hand {
        Hand::Left => left.gap,
        Hand::Right => right.gap,
    } {
        diagnostic = subject.at_stated(diagnostic, gap, "its gap");
    }
    diagnostic = widths(subject, diagnostic, run).about(run.path.as_str());
    let help = if kept {
        format!("within {} both ends read like the stile over a seam", subject.print(close))
    } else {
        format!("{} to {} reads as meant: change a width or a gap", subject.print(least), subject.print(most))
    };
    Some(diagnostic.help(help))
}

/// How far the narrowest place of a stile at a wall is off the stile that its end states, or off the one over a seam.
fn stile_off(
    subject: &Subject<'_>,
    (id, run): (RunId, &RunPart),
    hand: Hand,
    own: Option<Len>,
) -> Option<Length> {
    let at_end = |part: &Part| run.end_stiles.contains(&Some(part.id));
    let mut seams = subject.graph.parts_of_run(id).filter(|part| part.role == Role::Stile && !at_end(part));
    let over_seam = || seams.by_ref().map(|part| part.size.width.value).max();
    let stile = own.map(|own| own.value).or_else(over_seam)?;
    let [left, right] = run.end_stiles;
    let part = subject.graph.part(if hand == Hand::Left { left } else { right }?)?;
    let narrowest = part.scribed.iter().map(|(_, width)| width.value).min()?;
    narrowest.apart(stile)
}
