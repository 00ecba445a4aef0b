//! A measured sheet is as thick as a sheet of its name may be.

use super::{Check, Report, Subject};
use crate::diag::{Diagnostic, code};
use crate::eval::SheetId;
use crate::parts::{Finding, Limit, Stock};
use crate::quantity::{Length, Rational};
use std::collections::BTreeSet;

code!(
    Warning,
    CODE,
    "C121",
    "sheet_thickness",
    "a sheet that is thinner or thicker than its name allows",
    "Plywood in inches may differ from its category by 1/32 in, by 1/64 in where it is sanded (PS 1-19); hardwood-faced plywood over 1/4 in \
     thick may be 3/64 in thinner (ANSI/HPVA HP-1, from memory). A metric sheet of t mm may be 0.4 + 0.03 t thinner and 0.2 + 0.03 t \
     thicker (EN 315, from memory). What lies outside was read wrong, or is another sheet.",
    with_example
);

/// Each sheet and lot that parts are cut from, and that has both a caliper reading and a name.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let used: BTreeSet<Stock> = subject.graph.parts.iter().map(|part| part.stock).collect();
    for (index, sheet) in subject.graph.sheets.iter().enumerate() {
        let Some(nominal) =
            sheet.nominal.filter(|_| sheet.measured && used.contains(&Stock::Sheet(SheetId(index))))
        else {
            continue;
        };
        let Some([least, greatest]) = allowed(nominal.value) else { continue };
        let name = sheet.name.as_ref();
        let thick = sheet.thickness.value;
        let thin = Finding::new(
            &CODE,
            name,
            "thickness against the thinnest of its name",
            thick,
            Limit::AtLeast(least.into()),
        );
        let high = Finding::new(
            &CODE,
            name,
            "thickness against the thickest of its name",
            thick,
            Limit::AtMost(greatest.into()),
        );
        let (thin, high) = (report.compare(thin), report.compare(high));
        if thin && high {
            continue;
        }
        let message = format!(
            "the sheet `{name}` is measured {}, and sheets sold as {} are {} to {}",
            subject.marks().print_both(thick),
            subject.marks().print_fine(nominal.value).text(),
            subject.marks().print_fine(least).text(),
            subject.marks().print_fine(greatest).text()
        );
        let diagnostic = subject.at(Diagnostic::new(&CODE, message), sheet.thickness, "by caliper");
        let diagnostic = subject.at(diagnostic, nominal, "as it is sold");
        report.tell(diagnostic.about(name).help(
            "put the caliper on the sheet again; if it is right, state the `nominal` that it is sold by",
        ));
    }
}

/// The thinnest and the thickest sheet sold as this thick; one that is no fraction of an inch is metric.
fn allowed(nominal: Length) -> Option<[Length; 2]> {
    let inches = nominal.inches()?;
    let on_tape = *inches.denom() <= 64 && inches.denom().count_ones() == 1;
    let by = |under: Length, over: Length| Some([nominal.checked_sub(under)?, nominal.checked_add(over)?]);
    if on_tape {
        let thin = if inches > Rational::new(1, 4) { Rational::new(3, 64) } else { Rational::new(1, 32) };
        return by(Length::from_inches(thin)?, Length::from_inches(Rational::new(1, 32))?);
    }
    let share = nominal.checked_mul(Rational::new(3, 100))?;
    let mm = |tenths: i128| Length::from_mm(Rational::new(tenths, 10)).checked_add(share);
    by(mm(4)?, mm(2)?)
}
