//! The glue stays open until the last joint of a side is in.

use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, code};
use crate::eval::Amount;
use crate::mechanics::published::{SHORT_OPEN, SLOW_JOINT};
use crate::parts::{Figure, Finding, Lacking, Limit, Need};
use crate::quantity::{Exact, Rational, Round, to_f64};

code!(
    Warning,
    CODE,
    "C011",
    "glue_time",
    "more joints than the glue stays open for",
    "The housed joints of one side are spread and closed in one go: joints x time a joint against the open time of the glue \
     (arithmetic; both times are stated, the glue's label has the second). Where that is too long, the glue skins over before the \
     last shelf is in. An estimate.",
    with_example
);

/// The side of each unit that has more joints.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let joint = subject.model.shop.joint;
    let mut late: Vec<(Exact, Exact, Vec<&str>)> = Vec::new();
    let mut opens = Vec::new();
    for (standing, [left, right]) in subject.units().iter().zip(subject.housed_ends()) {
        let glue = standing.carcass.joins.shelf_to_side.glue.and_then(|glue| subject.model.glues.get(glue));
        let Some(glue) = glue else { continue };
        let count = i128::try_from(left.max(right)).unwrap_or(i128::MAX);
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
        match late.iter_mut().find(|(value, limit, _)| *value == needed && *limit == open.value) {
            Some((_, _, units)) => units.push(path),
            None => late.push((needed, open.value, vec![path])),
        }
    }
    let Some((needed, open, units)) = late.iter().max_by_key(|(needed, ..)| needed.value) else { return };
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
    for (other, _, units) in &late {
        for unit in units {
            diagnostic = diagnostic.about(*unit);
        }
        if say(*other) != needed {
            diagnostic = diagnostic.note(format!("{} takes {}", names(units), say(*other)));
        }
    }
    report.tell(
        diagnostic.help(format!("glue it in two stages, or take a glue that stays open {needed} or longer")),
    );
}
