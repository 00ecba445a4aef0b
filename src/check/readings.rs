//! Readings of a wall: enough of them, and none that contradicts the others.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Len, Reading, ReadingAt, Return, Wall};
use crate::parts::{EndPart, Finding, Limit, RunPart, Unit};
use crate::quantity::{Length, Rational};

code!(
    Warning,
    FEW,
    "C049",
    "few_readings",
    "a recess that is measured at too few places",
    "Between two walls the width is read low, at the middle and high, each at the back and where the fronts will be: six readings (common \
     practice, no source). Walls lean and bow; one width taken at chest height costs half a day of planing.",
    with_example
);

code!(
    Warning,
    DISAGREE,
    "C050",
    "readings_disagree",
    "two readings of one wall that contradict each other",
    "A wall leans by up to 3/8 in in 32 in (NAHB Residential Construction Performance Guidelines, read as a quotation only), so two \
     of them change a width by up to twice that. A reading that differs further was misread, or the tape was hooked on a baseboard \
     (common practice, no source).",
    with_example
);

/// The readings of every wall that a run stands along.
pub(super) const CHECK: Check = Check { codes: &[&FEW, &DISAGREE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    for run in &subject.graph.runs {
        let Some(wall) = run.wall.and_then(|wall| subject.model.walls.get(wall)) else { continue };
        few(report, run, wall);
        disagree(subject, report, run, wall);
    }
}

fn few(report: &mut Report, run: &RunPart, wall: &Wall) {
    // What is stated as not read yet is told by itself, and a line in the open is where one wants it.
    let mid_wall = run.ends.iter().any(EndPart::is_mid_wall);
    if wall.readings.is_empty() || !wall.unread.is_empty() || wall.returns.contains(&Return::Open) || mid_wall
    {
        return;
    }
    let taken = wall.readings.iter().flat_map(|reading| [reading.back, reading.front]).flatten().count();
    let (what, limit) = ("readings between two walls", Limit::AtLeast(6_usize.into()));
    if report.compare(Finding::new(&FEW, run.path.as_str(), what, taken, limit)) {
        return;
    }
    let times = if taken == 1 { "once".to_owned() } else { format!("at {taken} places") };
    let message = format!("the width along `{}` is read {times}, and six are needed", run.path);
    let both = |reading: &Reading| reading.back.is_some() && reading.front.is_some();
    let missing: Vec<&str> = ReadingAt::ALL
        .into_iter()
        .filter(|at| !wall.readings.iter().any(|reading| reading.at == *at && both(reading)))
        .map(ReadingAt::word)
        .collect();
    let diagnostic = Diagnostic::new(&FEW, message).at(wall.head, "").about(run.path.as_str());
    report.tell(diagnostic.help(format!(
        "read it {} too, each at the back and where the fronts will be; `?` stands for what is still to be read",
        missing.join(" and ")
    )));
}

/// A width with the height at which it is read.
struct Width {
    at: ReadingAt,
    depth: &'static str,
    height: Length,
    width: Len,
}

fn disagree(subject: &Subject<'_>, report: &mut Report, run: &RunPart, wall: &Wall) {
    let units = run.units.iter().filter_map(|id| subject.graph.unit(*id));
    let tall = units.filter_map(Unit::top).max().unwrap_or_default();
    let widths: Vec<Width> = wall
        .readings
        .iter()
        .filter_map(|reading| Some((reading, height(reading, tall)?)))
        .flat_map(|(reading, height)| {
            let both = [("back", reading.back), ("front", reading.front)];
            both.into_iter().filter_map(move |(depth, width)| {
                Some(Width { at: reading.at, depth, height, width: width? })
            })
        })
        .collect();
    let mut worst: Option<(Length, Length, &Width, &Width)> = None;
    for (index, low) in widths.iter().enumerate() {
        for high in widths.iter().skip(index + 1).filter(|high| high.depth == low.depth) {
            let Some((off, most)) = lean(low, high) else { continue };
            let over = |off: Length, most: Length| off.checked_sub(most).unwrap_or_default();
            if worst.as_ref().is_none_or(|(known, limit, ..)| over(off, most) > over(*known, *limit)) {
                worst = Some((off, most, low, high));
            }
        }
    }
    let Some((off, most, low, high)) = worst else { return };
    let what = "difference of two widths against two walls that lean";
    if report.compare(Finding::new(&DISAGREE, run.path.as_str(), what, off, Limit::AtMost(most.into()))) {
        return;
    }
    let message = format!(
        "the width along `{}` differs by {} between the {} and the {} reading, both at the {}",
        run.path,
        subject.print(off),
        low.at.word(),
        high.at.word(),
        low.depth
    );
    let diagnostic = subject.at(Diagnostic::new(&DISAGREE, message), low.width, "this reading");
    let diagnostic = subject.at(diagnostic, high.width, "and this one").about(run.path.as_str());
    report.tell(
        diagnostic.help(format!(
            "read both again: two leaning walls make {} of it, rarely more",
            subject.most(most)
        )),
    );
}

/// The height of a reading; of one that states none at the foot, half way up or at the top of the units.
fn height(reading: &Reading, tall: Length) -> Option<Length> {
    match (reading.height, reading.at) {
        (Some(height), _) => Some(height.value),
        (None, ReadingAt::Low) => Some(Length::ZERO),
        (None, ReadingAt::Middle) => tall.checked_div(Rational::from(2)),
        (None, ReadingAt::High) => Some(tall),
    }
}

/// By how much two widths differ, and by how much two walls that lean 3/8 in in 32 in make them differ.
fn lean(low: &Width, high: &Width) -> Option<(Length, Length)> {
    let off = low.width.value.apart(high.width.value)?;
    let most = low.height.apart(high.height)?.checked_mul(Rational::new(3, 128))?;
    Some((off, most))
}
