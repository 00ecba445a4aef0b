//! The crown covers its gap, and a stick of it is long enough.

use super::{Check, Report, Subject};
use crate::diag::{Code, Diagnostic, code};
use crate::mechanics::published::USUAL_STICK;
use crate::parts::{Figure, Finding, Lacking, Limit, Need};
use crate::quantity::{Dim, Round};

code!(
    Error,
    LAP,
    "C035",
    "crown_lap",
    "a crown that shows daylight over its rail",
    "A crown reaches 3/8 in (9.5 mm) or more below the widest gap at the top (common practice, no source). It reaches down by its \
     face width x the cosine of its spring angle.",
    with_example
);

code!(
    Error,
    STICK,
    "C036",
    "crown_stick",
    "no stick that gives all pieces of the crown",
    "All pieces at their long edge, 1/2 in (12.7 mm) of trim and a kerf each come from one stick (common practice, no source). Where \
     none sold is as long, a piece is joined.",
    with_example
);

/// The crown of every run.
pub(super) const CHECK: Check = Check { codes: &[&LAP, &STICK], run };

/// What is compared of its lap, in words.
const COVERS: &str = "lap of the crown below the widest gap";

/// What cannot be compared of a crown for want of a value.
fn lack(
    report: &mut Report,
    code: &'static Code,
    path: &str,
    (what, need, matters): (&'static str, Need, bool),
) {
    report.lack(Lacking {
        code,
        subject: path.to_owned(),
        many: "crowns",
        what,
        measures: &[],
        needs: vec![need],
        matters,
    });
}

fn run(subject: &Subject<'_>, report: &mut Report) {
    for (stated, run) in subject.model.runs.iter().zip(&subject.graph.runs) {
        let (Some(moulding), Some(crown)) = (&stated.crown, &run.crown) else { continue };
        let say = |figure: Figure| figure.print(subject.marks(), Round::Nearest);
        let path = format!("{}.crown", run.path);
        if let Some([_, widest]) = crown.gap {
            let lap = Figure::about(crown.drop.value - widest.value.to_mm_f64(), Dim::LENGTH);
            let least = subject.usual((3, 8), 95);
            let limit = Limit::AtLeast(least.into());
            if !report.compare(Finding::new(&LAP, path.as_str(), COVERS, lap, limit)) {
                let message = format!(
                    "the crown of `{}` reaches down {} over a gap of {}",
                    run.path,
                    say(crown.drop.into()),
                    subject.print(widest.value)
                );
                let diagnostic = subject.at_head(Diagnostic::new(&LAP, message), stated.head, "this run");
                let diagnostic = subject.at(diagnostic, crown.width, "its face");
                let diagnostic = subject.at(diagnostic, widest, "the gap").about(run.path.as_str());
                // Up to the next hundredth of a millimetre or thousandth of an inch.
                let step = if subject.is_metric() { 0.01 } else { 0.0254 };
                let steps = (least.to_mm_f64() - lap.value()) / step - 1e-6;
                let lack = Figure::about(steps.ceil() * step, Dim::LENGTH);
                report.tell(diagnostic.help(format!(
                    "it lacks {}: make the units that much higher, or take a wider moulding",
                    say(lack)
                )));
            }
        } else if run.wall.is_some() {
            lack(report, &LAP, &path, (COVERS, Need::kind("ceiling"), true));
        }
        let what = "stick that all pieces of the crown need";
        let Some(longest) = moulding.lengths.last() else {
            let need = Need::of("lengths", &moulding.name);
            lack(report, &STICK, &path, (what, need, crown.stick.value > USUAL_STICK));
            continue;
        };
        let limit = Limit::AtMost(longest.value.into());
        if report.compare(Finding::new(&STICK, path.as_str(), what, crown.stick, limit)) {
            continue;
        }
        let message = format!(
            "the crown of `{}` needs a stick of {}; the longest sold is {}",
            run.path,
            say(crown.stick.into()),
            subject.print(longest.value)
        );
        let diagnostic = subject.at_head(Diagnostic::new(&STICK, message), stated.head, "this run");
        let diagnostic = subject.at(diagnostic, *longest, "the longest sold").about(run.path.as_str());
        report.tell(
            diagnostic.help("take a longer stick, or scarf two on a stile and state the joined length"),
        );
    }
}
