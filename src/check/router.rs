//! The router can be guided, and its bit makes the dado.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::{Len, Router};
use crate::parts::{Finding, JointKind, Limit, LowestLine, RouterPart};
use crate::quantity::{Length, Rational};
use std::collections::BTreeMap;

code!(
    Error,
    GUIDE,
    "C030",
    "guide_off_board",
    "a guide that hangs over the end of the board",
    "The guide lies on the bottom-end side of the line, a spacer away: base radius less half the bit (geometry). At the lowest line \
     there must be as much of the board; with `guide = above` such a line is guided from above. A dado at the very end has one wall only: a rabbet, which is guided from the other side.",
    with_example
);

code!(
    Error,
    BIT,
    "C031",
    "bit_does_not_fit",
    "a bit that does not make the dado in two passes",
    "A dado is cut with a bit that is no wider than it, in one pass or in two that overlap: so the dado is no wider than two bits \
     (arithmetic).",
    with_example
);

/// The router of the shop against every width of dado.
pub(super) const CHECK: Check = Check { codes: &[&GUIDE, &BIT], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let (Some(router), Some(guided)) = (subject.model.shop.router, subject.graph.router) else { return };
    let what = "board left for the guide at the lowest line";
    let limit = Limit::AtLeast(Length::ZERO.into());
    let short = guided
        .lowest
        .filter(|lowest| !report.compare(Finding::new(&GUIDE, "router", what, lowest.board.value, limit)));
    if let Some(LowestLine { mark, board }) = short {
        let over = Length::ZERO.checked_sub(board.value).unwrap_or_default();
        let message =
            format!("at the lowest line the guide hangs {} over the end of the board", subject.least(over));
        let diagnostic = subject.at(Diagnostic::new(&GUIDE, message), mark, "the lowest mark");
        let diagnostic = subject.at(diagnostic, router.base, "the base");
        let diagnostic = subject.at(diagnostic, router.bit, "the bit");
        let spacer = subject.least(guided.spacer_1.value);
        let above = match from_above(router, &guided) {
            Some(boards) => {
                let [first, second] = boards.map(|board| subject.print(board));
                format!(
                    "guide that line from above, with boards of {first} and {second} from the line to the guide"
                )
            }
            None => "guide that line from above".to_owned(),
        };
        let above = format!("{above}: `guide = above` of the router");
        let raise = format!("or raise the lowest mark to {spacer} or more");
        report.tell(diagnostic.help(above).help(raise));
    }
    if let Some(above) = guided.above {
        let what = "board left for a guide above the line";
        if !report.compare(Finding::new(&GUIDE, "router", what, above.left.value, limit)) {
            let over = Length::ZERO.checked_sub(above.left.value).unwrap_or_default();
            let message = format!(
                "a guide above the line hangs {} over the upper end of the board",
                subject.least(over)
            );
            let told = subject.at(Diagnostic::new(&GUIDE, message), above.mark, "the mark");
            let told = subject.at(subject.at(told, router.base, "the base"), router.bit, "the bit");
            let spacer = subject.least(guided.spacer_1.value);
            report.tell(told.help(format!("raise the mark to {spacer} or more, and guide it from below")));
        }
    }
    let mut widths: BTreeMap<Length, Len> = BTreeMap::new();
    for joint in &subject.graph.joints {
        if let JointKind::Dado { width, .. } = joint.kind {
            widths.insert(width.value, width);
        }
    }
    let two = router.bit.value.checked_mul(Rational::from(2)).unwrap_or_default();
    for (value, width) in widths {
        let wide = Finding::new(
            &BIT,
            "router",
            "dado against the bit",
            value,
            Limit::AtLeast(router.bit.value.into()),
        );
        let narrow = Finding::new(&BIT, "router", "dado against two bits", value, Limit::AtMost(two.into()));
        let (wide, narrow) = (report.compare(wide), report.compare(narrow));
        if wide && narrow {
            continue;
        }
        let fine = |length| subject.marks().print_both(length);
        let (dado, bit) = (fine(value), fine(router.bit.value));
        let message = if wide {
            format!("a dado {dado} wide is more than two passes of a bit of {bit}")
        } else {
            format!("a dado {dado} wide is narrower than the bit of {bit}")
        };
        let diagnostic = subject.at(Diagnostic::new(&BIT, message), router.bit, "the bit");
        let diagnostic = subject.at(diagnostic, width, "the dado follows from this");
        let half = value.checked_div(Rational::from(2)).unwrap_or_default();
        report.tell(diagnostic.help(format!(
            "a bit of {} to {} serves",
            subject.least(half),
            subject.most(value)
        )));
    }
}

/// From the line to a guide on its far side, for the pass next to the line and for the one that takes the rest: the base
/// reaches back over the bit's edge by half a bit, and the dado is wider than the bit by what the spacers differ.
fn from_above(router: Router, guided: &RouterPart) -> Option<[Length; 2]> {
    let half = router.bit.value.checked_div(Rational::from(2))?;
    let first = router.base.value.checked_add(half)?;
    let wider = guided.spacer_1.value.checked_sub(guided.spacer_2.value)?;
    Some([first, first.checked_add(wider)?])
}
