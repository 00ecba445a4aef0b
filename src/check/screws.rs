//! Screws hold, and nothing comes out of a face.

use super::{Check, Report, Subject};
use crate::diag::{Code, Diagnostic, code};
use crate::eval::{Fastener, Len};
use crate::mechanics::published::THICKEST_LINING;
use crate::parts::{Finding, Hand, Lacking, Limit, Member, Need, Role, Row, RowKind, UnitId};
use crate::quantity::{Length, Rational, Round};
use std::collections::BTreeSet;

code!(
    Error,
    GRIP,
    "C032",
    "screw_grip",
    "a wall screw that does not reach far enough",
    "Through cleat, back and lining a screw holds 1 in (25 mm) or more in a stud (common practice, no source), or as far as its plug, 40 mm \
     where none is stated (from memory).",
    with_example
);

code!(
    Error,
    SEAM,
    "C033",
    "seam_screw",
    "a screw whose point comes out of the second side",
    "A screw from unit to unit that is as long as two sides are thick comes out of the second one (arithmetic).",
    with_example
);

code!(
    Warning,
    NEAR,
    "C055",
    "seam_screw_near",
    "a screw whose point ends close under the face of the second side",
    "A screw from unit to unit ends 3/16 in (5 mm) or more before the far face of the second side (common practice, no source): two \
     sides less that is the most. Sheets measure thinner than they are named; a screw drawn in a little further comes out.",
    with_example
);

code!(
    Error,
    NAIL,
    "C034",
    "nail_out",
    "a nail that comes out of the cleat",
    "A nail ends 1/4 in (6 mm) or more before the far face (common practice, no source): through the shelf into the cleat under it.",
    with_example
);

/// Every kind of row of fasteners.
pub(super) const CHECK: Check = Check { codes: &[&GRIP, &SEAM, &NEAR, &NAIL], run };

/// A rule on the length of a fastener in a row.
struct Rule {
    code: &'static Code,
    what: &'static str,
    /// The least, or else the most.
    at_least: bool,
    length: Length,
    reason: String,
    /// A value that it leaves out, since nobody states it: with it the least can only grow.
    unknown: Option<Need>,
}

/// What cannot be compared of a fastener.
fn lack(report: &mut Report, rule: &Rule, fastener: &Fastener, needs: Vec<Need>) {
    report.lack(Lacking {
        code: rule.code,
        subject: fastener.name.to_string(),
        many: "fasteners",
        what: rule.what,
        measures: &[],
        needs,
        matters: true,
    });
}

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut seen = BTreeSet::new();
    for row in &subject.graph.rows {
        let fastener = row.fastener.and_then(|index| subject.graph.fasteners.get(index));
        let Some(fastener) = fastener else { continue };
        let Some(length) = fastener.length else {
            // Whatever is asked of its length, the rule is the same for a length of nothing.
            let asked = rule(subject, row, (fastener, Length::ZERO));
            if let Some(rule) =
                asked.filter(|rule| seen.insert((rule.code.id, fastener.name.clone(), rule.length)))
            {
                lack(report, &rule, fastener, vec![Need::of("length", &fastener.name)]);
            }
            continue;
        };
        let Some(rule) = rule(subject, row, (fastener, length.value)) else { continue };
        if seen.insert((rule.code.id, fastener.name.clone(), rule.length)) {
            judge(subject, report, (fastener, length), rule, row);
        }
    }
}

fn rule(subject: &Subject<'_>, row: &Row, (fastener, long): (&Fastener, Length)) -> Option<Rule> {
    match row.kind {
        RowKind::Wall => {
            let Member::Wall(wall) = row.host else { return None };
            let wall = subject.model.walls.get(wall)?;
            let held = subject.graph.part(row.guest.part()?)?;
            // A back and what it is set in stand between it and the wall.
            let [thick, behind] = [held.size.thickness.value, held.place.y.value];
            let masonry = wall.fixing == crate::eval::Fixing::Masonry;
            let hold = match fastener.plug {
                Some(plug) => plug.value,
                None if masonry => Length::from_mm(Rational::from(40)),
                None => subject.usual((1, 1), 250),
            };
            let mut layers = vec![format!("{} {}", held.role, subject.print(thick))];
            if !behind.is_zero() {
                layers.push(format!("{} behind it for the back", subject.print(behind)));
            }
            // Behind the thinnest lining a screw holds that holds behind the thickest one.
            let lining = match wall.lining {
                Some(lining) => lining.value,
                None => Length::ZERO,
            };
            layers.push(match wall.lining {
                Some(lining) => format!("lining {}", subject.print(lining.value)),
                None => "no lining, since none is stated".to_owned(),
            });
            let reason = format!("{}, and {} that hold", layers.join(", "), subject.print(hold));
            let length = thick.checked_add(behind)?.checked_add(lining)?.checked_add(hold)?;
            let unknown = wall.lining.is_none().then(|| Need::of("lining", &wall.name));
            Some(Rule {
                code: &GRIP,
                what: "length of a wall screw",
                at_least: true,
                length,
                reason,
                unknown,
            })
        }
        RowKind::Seam => {
            let (Member::Unit(left), Member::Unit(right)) = (row.guest, row.host) else { return None };
            let side = side_thickness(subject, left, Hand::Right)?;
            let other = side_thickness(subject, right, Hand::Left)?;
            let both = side.checked_add(other)?;
            let inside = subject.usual((3, 16), 50);
            let length = both.checked_sub(inside)?;
            let code = if long < both { &NEAR } else { &SEAM };
            let (both, inside) = (subject.print(both), subject.print(inside));
            let reason = format!("two sides are {both} thick, and its point stays {inside} inside");
            Some(Rule {
                code,
                what: "length of a seam screw",
                at_least: false,
                length,
                reason,
                unknown: None,
            })
        }
        RowKind::AlongCleat => {
            let [cleat, shelf] = [row.guest, row.host].map(|member| subject.graph.part(member.part()?));
            let both = cleat?.size.width.value.checked_add(shelf?.size.thickness.value)?;
            let length = both.checked_sub(subject.usual((1, 4), 60))?;
            let reason = format!("shelf and cleat are {} high together", subject.print(both));
            Some(Rule {
                code: &NAIL,
                what: "nail through a shelf into its cleat",
                at_least: false,
                length,
                reason,
                unknown: None,
            })
        }
        RowKind::ShelfEnd
        | RowKind::StretcherEnd
        | RowKind::CleatEnd
        | RowKind::Strip
        | RowKind::Rail
        | RowKind::Stile
        | RowKind::DividerEnd
        | RowKind::RibEnd
        | RowKind::Base
        | RowKind::Counter
        | RowKind::Pins
        | RowKind::Back
        | RowKind::Frame
        | RowKind::Filler
        | RowKind::CeilingPanel
        | RowKind::Hinge
        | RowKind::Slide
        | RowKind::Pull
        | RowKind::BoxCorner
        | RowKind::DrawerFront => None,
    }
}

fn side_thickness(subject: &Subject<'_>, unit: UnitId, hand: Hand) -> Option<Length> {
    let side = subject.graph.parts_of(unit).find(|part| part.role == Role::Side(hand))?;
    Some(side.size.thickness.value)
}

fn judge(
    subject: &Subject<'_>,
    report: &mut Report,
    (fastener, length): (&Fastener, Len),
    rule: Rule,
    row: &Row,
) {
    let limit =
        if rule.at_least { Limit::AtLeast(rule.length.into()) } else { Limit::AtMost(rule.length.into()) };
    let kept = match &rule.unknown {
        None => {
            report.compare(Finding::new(rule.code, fastener.name.as_ref(), rule.what, length.value, limit))
        }
        Some(need) => {
            let least = rule.length.to_mm_f64();
            let long = length.value.to_mm_f64();
            if long >= least && long < least + THICKEST_LINING {
                lack(report, &rule, fastener, vec![need.clone()]);
            }
            long >= least
        }
    };
    if kept {
        return;
    }
    let bound = if rule.at_least { "short" } else { "long" };
    let message = format!(
        "`{}`, {}, is too {bound} from `{}` to `{}`",
        fastener.name,
        subject.print(length.value),
        subject.graph.called(row.guest),
        subject.graph.called(row.host)
    );
    // Screws and nails are sold by the quarter inch or by five millimetres (common practice, no source).
    let step = subject.usual((1, 4), 50);
    let round = if rule.at_least { Round::Up } else { Round::Down };
    let good = rule.length.rounded_to(step, round).filter(|good| good.is_positive());
    let mut diagnostic = subject.at(Diagnostic::new(rule.code, message), length, "its length");
    diagnostic = diagnostic.note(rule.reason);
    let fix = good.and_then(|good| subject.change(length, good, "take one of {}", true));
    if let Some(good) = good {
        let or = if rule.at_least { "or longer" } else { "or shorter" };
        diagnostic = diagnostic.help(format!("take one of {} {or}", subject.print(good)));
    }
    report.tell_with(diagnostic, fix.into_iter().collect());
}
