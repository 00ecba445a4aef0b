//! Clamps enough to close one unit, and wide enough.

use super::{Check, Report, Subject, one_of};
use crate::diag::{Diagnostic, code};
use crate::parts::{Finding, Limit, Unit};
use crate::quantity::{Length, some};
use num_traits::ToPrimitive;

code!(
    Warning,
    CODE,
    "C051",
    "clamps",
    "fewer clamps than a unit is closed with",
    "A carcass is closed with a clamp for each shelf end, and nails replace half of them (common practice, no source); each opens as wide \
     as the unit is over its sides. In stages it is closed with its share at a time.",
    with_example
);

/// The unit with the most glued ends against the clamps of the shop.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    if subject.model.shop.clamps.is_empty() {
        return;
    }
    let mut worst: Option<Closed<'_>> = None;
    for (standing, [left, right]) in subject.units().iter().zip(subject.housed_ends()) {
        let join = standing.carcass.joins.shelf_to_side;
        if join.glue.is_none() {
            continue;
        }
        let ends = left + right;
        let stages = standing.carcass.stages;
        let half = ends.div_ceil(2);
        let whole = if join.fastener.is_some() { half } else { ends };
        let needed = whole.div_ceil(stages);
        let wide = wide_enough(subject, standing.unit.width.value);
        let path = standing.unit.path.as_str();
        let limit = Limit::AtLeast(needed.into());
        let kept = report.compare(Finding::new(&CODE, path, "clamps for one unit", wide, limit));
        if !kept && worst.as_ref().is_none_or(|worst| needed - wide > worst.needed - worst.wide) {
            let nails = join.fastener.is_none() && half.div_ceil(stages) <= wide;
            let stages = (wide > 0).then(|| whole.div_ceil(wide));
            worst = Some(Closed { needed, wide, stages, nails, unit: standing.unit });
        }
    }
    let Some(Closed { needed, wide, stages, nails, unit }) = worst else { return };
    let has = match wide {
        0 => "none opens".to_owned(),
        1 => "1 opens".to_owned(),
        more => format!("{more} open"),
    };
    let message = format!(
        "`{}` is closed with {needed} clamps, and {has} as wide as {}",
        unit.path,
        subject.print(unit.width.value)
    );
    let mut diagnostic = Diagnostic::new(&CODE, message).about(unit.path.as_str());
    for clamps in &subject.model.shop.clamps {
        diagnostic = subject.at_amount(diagnostic, clamps.count, "so many there are");
    }
    let stages = stages.map(|stages| format!("glue it up in stages (`stages = {stages}`)"));
    let borrow = format!("borrow {}", some(needed - wide, "clamp"));
    let nails = nails.then(|| "nail the joints: nails replace half of them".to_owned());
    report.tell(diagnostic.help(one_of([stages, Some(borrow), nails])));
}

/// A unit that is closed with more clamps than there are.
struct Closed<'a> {
    needed: usize,
    wide: usize,
    /// In how many stages those that are there do, if there are any.
    stages: Option<usize>,
    /// Whether those that are there do where its joints are nailed too.
    nails: bool,
    unit: &'a Unit,
}

/// How many clamps open as wide as that; one whose opening is not stated does.
fn wide_enough(subject: &Subject<'_>, width: Length) -> usize {
    let clamps = subject.model.shop.clamps.iter();
    let wide = clamps.filter(|clamps| clamps.opens.is_none_or(|opens| opens.value >= width));
    wide.filter_map(|clamps| clamps.count.value.value.to_integer().to_usize()).sum()
}
