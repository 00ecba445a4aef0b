//! The glue stays open until the last joint of a side is in.

use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, Example, code};
use crate::parts::{Figure, Finding, Hand, JointKind, Limit, Role};
use crate::quantity::{Exact, Rational, Round};

code!(
    Warning,
    CODE,
    "C011",
    "glue_time",
    "more joints than the glue stays open for",
    "The housed joints of one side are spread and closed in one go: joints x time a joint against the open time of the glue. \
     Where that is too long, the glue skins over before the last shelf is in. An estimate.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nglue white { open = 1 min }\nperson { joint = 40 s }\nstick s { floor = 80mm, high = 900mm }\ncarcass a { shelves = s, width = 900mm, height = 1100mm, depth = 300mm }\njoin shelf to side with dado { glue = white }\n",
        good: "sheet ply { thickness = 18mm }\nglue white { open = 5 min }\nperson { joint = 40 s }\nstick s { floor = 80mm, high = 900mm }\ncarcass a { shelves = s, width = 900mm, height = 1100mm, depth = 300mm }\njoin shelf to side with dado { glue = white }\n",
    })
);

/// One side of each unit.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

fn run(subject: &Subject<'_>, report: &mut Report) {
    let Some(joint) = subject.model.shop.joint else { return };
    let mut housed = vec![0_i128; subject.graph.units.len()];
    for held in &subject.graph.joints {
        let is_housed = matches!(held.kind, JointKind::Dado { .. } | JointKind::Rabbet { .. });
        let host =
            subject.graph.part(held.host).filter(|host| is_housed && host.role == Role::Side(Hand::Left));
        if let Some(count) = host.and_then(|host| housed.get_mut(host.unit?.0 as usize)) {
            *count += 1;
        }
    }
    let mut late: Vec<(Exact, Exact, Vec<&str>)> = Vec::new();
    let mut spans = Vec::new();
    for (standing, count) in subject.units().iter().zip(housed) {
        let glue = standing.carcass.joins.shelf_to_side.glue.and_then(|glue| subject.model.glues.get(glue));
        let Some(open) = glue.and_then(|glue| glue.open) else { continue };
        let Some(needed) = joint.value.checked_mul(Exact::number(Rational::from(count))) else { continue };
        let what = "time for the joints of one side";
        let path = standing.unit.path.as_str();
        if report.compare(Finding::new(&CODE, path, what, needed, Limit::AtMost(open.value.into()))) {
            continue;
        }
        spans.extend(subject.graph.ledger.span(open.why));
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
    for span in spans {
        diagnostic = subject.at_head(diagnostic, Some(span), "the open time");
    }
    diagnostic = subject.at_head(diagnostic, subject.graph.ledger.span(joint.why), "for each joint");
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
