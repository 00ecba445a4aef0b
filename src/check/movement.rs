//! Wide solid parts swell and shrink with the seasons.

use super::ends::FILLER;
use super::helpers::place::length;
use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, code};
use crate::eval::Board;
use crate::mechanics::moisture::{INDOORS_CELSIUS, equilibrium_percent, movement};
use crate::mechanics::published::MOST_SWELL;
use crate::parts::{Figure, Finding, How, Lacking, Limit, Need, Part, Stock};
use crate::quantity::{Dim, Estimate, Rational, rounded, to_f64};
use std::collections::BTreeSet;

code!(
    Note,
    CODE,
    "C054",
    "movement",
    "a solid part so wide that its movement shows",
    "Wood moves across the grain by its width, its change for each per cent of moisture (Wood Handbook, FPL-GTR-190, Table 13-5) and the \
     change of moisture over a year: about 4 per cent indoors (common practice, no source), or by the `humidity` of the room (Eq. 4-5 there, at 70 F). More than 1/16 in (1.6 mm) opens a painted \
     joint (common practice, no source). An estimate: one board differs from the next.",
    with_example
);

/// From the dry to the damp season, in per cent of moisture (common practice, no source).
const SEASON_PERCENT: f64 = 4.0;

/// What the moisture of a part changes in a year, in per cent, by the humidity of its room where that is stated; and what is
/// assumed for it.
fn season(subject: &Subject<'_>, part: &Part) -> (f64, &'static str) {
    let run = part.run.or_else(|| subject.graph.unit(part.unit?)?.run).and_then(|run| subject.graph.run(run));
    let wall = run.and_then(|run| subject.model.walls.get(run.wall?));
    let Some(humidity) = wall.and_then(|wall| wall.air.humidity) else {
        return (
            SEASON_PERCENT,
            "4 per cent of moisture from the dry to the damp season indoors (common practice, no source)",
        );
    };
    let [least, greatest] = humidity.map(|share| equilibrium_percent(INDOORS_CELSIUS, to_f64(share)));
    let assumed = "what the `humidity` of the room leaves in wood at 70 F, in its driest and its dampest air (Wood Handbook, FPL-GTR-282, Eq. 4-5)";
    (greatest - least, assumed)
}

/// The most that a board swells of what is published of it: by its name in the library, or of any wood.
fn published(subject: &Subject<'_>, board: &Board) -> f64 {
    let mut alike = subject.graph.boards.iter().filter(|other| other.name == board.name);
    alike.find_map(|other| other.swell).map_or(MOST_SWELL, to_f64)
}

/// Every width of solid wood whose movement is known.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

/// How far a part moves, for whoever asks.
fn reckon(
    report: &mut Report,
    part: &Part,
    (board_of, swell): (&Board, Rational),
    (season, assumed): (f64, &'static str),
) {
    let value = movement(part.size.width.value.to_mm_f64(), to_f64(swell), 0.0, season);
    let how = How::from("width x change for each per cent of moisture x change of moisture over a year")
        .length("width", part.size.width)
        .words(
            &format!("`swell` of `{}`", board_of.name),
            format!("{} % of the width for each per cent", rounded(swell * Rational::from(100), 3)),
        )
        .assuming(assumed)
        .by("Wood Handbook, FPL-GTR-190, section 13 and Table 13-5");
    report.reckon(&part.path, "movement", Estimate { value, dim: Dim::LENGTH }, how);
}

fn run(subject: &Subject<'_>, report: &mut Report) {
    let most = subject.usual((1, 16), 16);
    let mut seen = BTreeSet::new();
    let mut wide: Vec<(f64, &Part)> = Vec::new();
    for part in &subject.graph.parts {
        let Stock::Board(board) = part.stock else { continue };
        let Some(board_of) = subject.graph.boards.get(board) else { continue };
        let season = season(subject, part);
        if let Some(swell) = board_of.swell {
            reckon(report, part, (board_of, swell), season);
        }
        if !seen.insert((board, part.role.word(), part.size.width.value, season.0.to_bits())) {
            continue;
        }
        let moves = |swell| movement(part.size.width.value.to_mm_f64(), swell, 0.0, season.0);
        let (path, what) = (part.path.as_str(), "movement across the grain over a year");
        let Some(swell) = board_of.swell else {
            report.lack(Lacking {
                code: &CODE,
                subject: path.to_owned(),
                many: "parts",
                what,
                measures: &["movement"],
                needs: vec![Need::of("swell", &board_of.name)],
                // One that takes the name of a wood of the library is of that wood.
                matters: moves(published(subject, board_of)) > most.to_mm_f64(),
            });
            continue;
        };
        let moves = moves(to_f64(swell));
        let value = Figure::about(moves, Dim::LENGTH);
        let kept = report.compare(Finding::new(&CODE, path, what, value, Limit::AtMost(most.into())));
        if !kept && !told_as_filler(subject, report, part) {
            wide.push((moves, part));
        }
    }
    let Some((moves, widest)) = wide.iter().max_by(|a, b| a.0.total_cmp(&b.0)).copied() else { return };
    let say =
        |mm: f64| Figure::about(mm, Dim::LENGTH).print(subject.marks(), crate::quantity::Round::Nearest);
    let message = format!(
        "`{}`, {} wide, moves {} across the grain over a year",
        widest.path,
        subject.print(widest.size.width.value),
        say(moves)
    );
    let mut diagnostic = subject.at(Diagnostic::new(&CODE, message), widest.size.width, "its width");
    let others = wide.iter().map(|(_, part)| part.path.as_str()).filter(|path| *path != widest.path);
    match others.collect::<Vec<_>>().as_slice() {
        [] => {}
        [other] => diagnostic = diagnostic.note(format!("so does `{other}`")),
        others => diagnostic = diagnostic.note(format!("so do {}", names(others))),
    }
    for (_, part) in &wide {
        diagnostic = diagnostic.about(part.path.as_str());
    }
    let good = widest.size.width.value.to_mm_f64() * most.to_mm_f64() / moves;
    let good = length(good).map(|good| subject.most(good)).unwrap_or_default();
    report.tell(
        diagnostic.help(format!("glue it along one edge only and caulk the other, or make it {good} wide")),
    );
}

/// Whether the part is the stile of an end that is told to look too wide: one that looks right moves less.
fn told_as_filler(subject: &Subject<'_>, report: &Report, part: &Part) -> bool {
    let runs = subject.graph.runs.iter();
    let mut ends = runs.filter(|run| run.end_stiles.contains(&Some(part.id)));
    let told = |path: &String| {
        let mut told = report.messages.iter().map(|message| &message.diagnostic);
        told.any(|told| told.code.id == FILLER.id && told.about.contains(path))
    };
    ends.any(|run| told(&run.path))
}
