//! Nails reach far enough into what holds them.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::Len;
use crate::parts::{Finding, Lacking, Limit, Need, Row, RowKind};
use crate::quantity::{Rational, Round};
use std::collections::BTreeMap;

code!(
    Warning,
    CODE,
    "C044",
    "short_nail",
    "a nail that holds too little",
    "A nail is two to three times as long as the piece that it fastens is thick (common practice, no source): with less than twice \
     it pulls out.",
    with_example
);

/// Each nail against the thickest piece that it fastens.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut thickest: BTreeMap<usize, (Len, &Row)> = BTreeMap::new();
    for row in &subject.graph.rows {
        let through = match row.kind {
            RowKind::ShelfEnd
            | RowKind::StretcherEnd
            | RowKind::CleatEnd
            | RowKind::AlongCleat
            | RowKind::DividerEnd
            | RowKind::RibEnd
            | RowKind::BoxCorner => row.host,
            RowKind::Strip | RowKind::Rail | RowKind::Stile | RowKind::Back | RowKind::Filler => row.guest,
            RowKind::Wall
            | RowKind::Seam
            | RowKind::Pins
            | RowKind::Base
            | RowKind::Counter
            | RowKind::CeilingPanel
            | RowKind::Frame
            | RowKind::Hinge
            | RowKind::Slide
            | RowKind::Pull
            | RowKind::DrawerFront => {
                continue;
            }
        };
        let piece = through.part().and_then(|id| subject.graph.part(id));
        let Some((nail, piece)) = row.fastener.zip(piece) else { continue };
        let piece = piece.size.thickness;
        let known = thickest.entry(nail).or_insert((piece, row));
        if piece.value > known.0.value {
            *known = (piece, row);
        }
    }
    for (nail, (piece, row)) in thickest {
        let nail = subject.graph.fasteners.get(nail).filter(|fastener| !fastener.screw);
        let Some(nail) = nail else { continue };
        let what = "length of a nail against twice what it fastens";
        let Some(length) = nail.length else {
            report.lack(Lacking {
                code: &CODE,
                subject: nail.name.to_string(),
                many: "nails",
                what,
                measures: &[],
                needs: vec![Need::of("length", &nail.name)],
                matters: true,
            });
            continue;
        };
        let Some(least) = piece.value.checked_mul(Rational::from(2)) else { continue };
        let limit = Limit::AtLeast(least.into());
        if report.compare(Finding::new(&CODE, nail.name.as_ref(), what, length.value, limit)) {
            continue;
        }
        let message = format!(
            "`{}`, {}, holds too little through {} of wood",
            nail.name,
            subject.print(length.value),
            subject.print(piece.value)
        );
        let good = least.rounded_to(subject.usual((1, 4), 50), Round::Up).unwrap_or(least);
        let diagnostic = subject.at(Diagnostic::new(&CODE, message), length, "its length");
        let diagnostic = diagnostic.note(format!(
            "from `{}` to `{}`",
            subject.graph.called(row.guest),
            subject.graph.called(row.host)
        ));
        let fix = subject.change(length, good, "take one of {}", true);
        let help = format!("take one of {} or longer", subject.print(good));
        report.tell_with(diagnostic.help(help), fix.into_iter().collect());
    }
}
