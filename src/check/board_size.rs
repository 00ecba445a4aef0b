//! Every part of solid stock fits on a board that is sold.

use super::{Check, Report, Subject};
use crate::breakdown::end_trim;
use crate::diag::{Diagnostic, code};
use crate::eval::{Board, Len};
use crate::parts::{Finding, Limit, Part, Stock};
use crate::quantity::Length;
use std::collections::BTreeMap;

code!(
    Warning,
    CODE,
    "C004",
    "larger_than_board",
    "a part that is larger than the boards it is cut from",
    "A part is ripped from a board of the stated `width` and cut from one of the stated `lengths`, which loses 1/2 in (12.7 mm) by the \
     trim of its ends (common practice, no source); an offcut that holds it will do. What is scribed is compared as it is cut. A \
     part that is larger is glued up of two boards, or a larger board is bought: it is in no layout, and the shopping list has no \
     price for it.",
    with_example
);

/// Width and length of each kind of part against its board.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

/// A size of a part that is more than the boards offer, what is sold, and what that offers.
struct Over<'a> {
    part: &'a Part,
    size: Len,
    sold: Len,
    offered: Length,
    more: usize,
}

fn run(subject: &Subject<'_>, report: &mut Report) {
    // One message for each board and direction.
    let mut all: BTreeMap<(usize, &'static str), Over<'_>> = BTreeMap::new();
    for part in &subject.graph.parts {
        let Stock::Board(index) = part.stock else { continue };
        let Some(board) = subject.graph.boards.get(index).filter(|board| !is_left(board, part)) else {
            continue;
        };
        let cut = part.cut();
        let width = board.width.map(|sold| (sold, sold.value));
        let longest = board.lengths.iter().max_by_key(|length| length.value);
        let length =
            longest.map(|longest| (*longest, longest.value.checked_sub(end_trim()).unwrap_or_default()));
        for (side, what, size, sold) in [
            ("width", "part width against the boards", cut.width, width),
            ("length", "part length against the boards", cut.length, length),
        ] {
            let Some((sold, offered)) = sold else { continue };
            let limit = Limit::AtMost(offered.into());
            if report.compare(Finding::new(&CODE, &*part.path, what, size.value, limit)) {
                continue;
            }
            match all.get_mut(&(index, side)) {
                Some(over) => over.more += 1,
                None => _ = all.insert((index, side), Over { part, size, sold, offered, more: 0 }),
            }
        }
    }
    for ((index, side), over) in all {
        let Some(board) = subject.graph.boards.get(index) else { continue };
        report.tell(told(subject, board, side, &over));
    }
}

/// Whether an offcut holds it.
fn is_left(board: &Board, part: &Part) -> bool {
    let cut = part.cut();
    board.offcuts.iter().filter(|offcut| offcut.count > 0).any(|offcut| {
        let long = offcut.size.0.value.checked_sub(end_trim()).unwrap_or_default();
        cut.length.value <= long && cut.width.value <= offcut.size.1.value
    })
}

fn told(subject: &Subject<'_>, board: &Board, side: &str, over: &Over<'_>) -> Diagnostic {
    let more = match over.more {
        0 => ",".to_owned(),
        1 => ", and that of 1 more part,".to_owned(),
        more => format!(", and that of {more} more parts,"),
    };
    let message = format!(
        "the {side} of `{}`, {}{more} is more than a board of `{}` offers",
        over.part.path,
        subject.print(over.size.value),
        board.name
    );
    let diagnostic = subject.at(Diagnostic::new(&CODE, message), over.size, "its size follows from this");
    let help = format!("{} is the most; make it of two, or buy larger", subject.most(over.offered));
    subject.at(diagnostic, over.sold, "the board").help(help)
}
