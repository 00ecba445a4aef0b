//! The glue stays open until the last joint of a side is in.

use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, code};
use crate::eval::Amount;
use crate::mechanics::published::{SHORT_OPEN, SLOW_JOINT};
use crate::parts::{Figure, Finding, Lacking, Limit, Need};
use crate::quantity::{Exact, Rational, Round, to_f64};
use num_traits::CheckedDiv;

code!(
    Warning,
    CODE,
    "C011",
    "glue_time",
    "more joints than the glue stays open for",
    "The housed joints of one side are spread and closed in one go: joints x time a joint against the open time of the glue \
     (arithmetic; both times are stated, the glue's label has the second). Where that is too long, the glue skins over before the \
     last shelf is in. A unit that is glued in two stages, each with half of its joints, says so: `stages = 2`. An estimate.",
    with_example
);

/// The side of each unit that has more joints.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

/// Units whose sides take equally long.
struct Late<'a> {
    needed: Exact,
    open: Exact,
    /// In how many stages they would be in time, if in any.
    stages: Option<usize>,
    units: Vec<&'a str>,
}

/// The least number of stages in which each has no more joints than the glue stays open for.
fn stages(joints: usize, joint: Amount, open: Amount) -> Option<usize> {
    let at_once = open.value.value.checked_div(&joint.value.value)?.floor().to_integer();
    let at_once = usize::try_from(at_once).ok().filter(|at_once| *at_once > 0)?;
    Some(joints.div_ceil(at_once))
}

fn run(subject: &Subject<'_>, report: &mut Report) {
    let joint = subject.model.shop.joint;
    let mut late: Vec<Late<'_>> = Vec::new();
    let mut opens = Vec::new();
    for (standing, [left, right]) in subject.units().iter().zip(subject.housed_ends()) {
        let glue = standing.carcass.joins.shelf_to_side.glue.and_then(|glue| subject.model.glues.get(glue));
        let Some(glue) = glue else { continue };
        let joints = left.max(right);
        let count = i128::try_from(joints.div_ceil(standing.carcass.stages)).unwrap_or(i128::MAX);
        let (Some(open), Some(joint)) = (glue.open, joint) else {
            let mut needs = Vec::new();
            needs.extend(glue.open.is_none().then(|| Need::of("open", &glue.name)));
            needs.extend(joint.is_none().then(|| match subject.model.shop.people {
                Some(_) => Need::of("joint", &"person".into()),
                None => Need::kind("person"),
            }));
            let seconds =
                |amount: Option<Amount>, unknown| amount.map_or(unknown, |time| to_f64(time.value.value));
            let needed = to_f64(Rational::from(count)) * seconds(joint, SLOW_JOINT);
            report.lack(Lacking {
                code: &CODE,
                subject: standing.unit.path.clone(),
                many: "units",
                what: "time for the joints of one side",
                measures: &[],
                needs,
                matters: needed > seconds(glue.open, SHORT_OPEN),
            });
            continue;
        };
        let Some(needed) = joint.value.checked_mul(Exact::number(Rational::from(count))) else { continue };
        let what = "time for the joints of one side";
        let path = standing.unit.path.as_str();
        if report.compare(Finding::new(&CODE, path, what, needed, Limit::AtMost(open.value.into()))) {
            continue;
        }
        opens.push(open);
        match late.iter_mut().find(|late| late.needed == needed && late.open == open.value) {
            Some(late) => late.units.push(path),
            None => {
                let stages = stages(joints, joint, open);
                late.push(Late { needed, open: open.value, stages, units: vec![path] });
            }
        }
    }
    let Some(worst) = late.iter().max_by_key(|late| late.needed.value) else { return };
    let Late { needed, open, stages, units } = worst;
    let say = |time: Exact| Figure::Exact(time).print(subject.marks(), Round::Nearest);
    let (needed, open) = (say(*needed), say(*open));
    let mut diagnostic = Diagnostic::new(
        &CODE,
        format!("a side of {} takes {needed} to glue, and the glue stays open {open}", names(units)),
    );
    for open in opens {
        diagnostic = subject.at_amount(diagnostic, open, "the open time");
    }
    if let Some(joint) = joint {
        diagnostic = subject.at_amount(diagnostic, joint, "for each joint");
    }
    for Late { needed: other, units, .. } in &late {
        for unit in units {
            diagnostic = diagnostic.about(*unit);
        }
        if say(*other) != needed {
            diagnostic = diagnostic.note(format!("{} takes {}", names(units), say(*other)));
        }
    }
    let slower = format!("take a glue that stays open {needed} or longer");
    report.tell(diagnostic.help(match stages {
        Some(2) => format!("glue it in two stages, or {slower}"),
        Some(stages) => format!("glue it in {stages} stages, or {slower}"),
        None => slower,
    }));
}
