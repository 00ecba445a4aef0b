//! Sides that are no mirror pair.

use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, code};
use crate::parts::{Finding, Hand, JointKind, Limit, PartId, Role, Unit, UnitId};
use crate::quantity::Length;
use std::collections::BTreeMap;

code!(
    Warning,
    CODE,
    "C046",
    "handed_sides",
    "sides that are no mirror pair",
    "The two sides of most units are grooved alike, so that one stick serves both and only the face differs. Here one side has grooves \
     or holes that the other has not: marked from the wrong face or the wrong end it is scrap, half a sheet (common practice, no source).",
    with_example
);

/// The grooves and holes of the left side against those of the right one.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

/// What is cut or bored into a side: from its bottom end, how deep, how wide or how far from hole to hole.
type SideCut = [Length; 3];

fn run(subject: &Subject<'_>, report: &mut Report) {
    let mut cuts: BTreeMap<PartId, Vec<SideCut>> = BTreeMap::new();
    for joint in &subject.graph.joints {
        let cut = match joint.kind {
            JointKind::Dado { depth, width, .. } => [joint.at.value, depth.value, width.value],
            JointKind::Rabbet { depth, .. } => [joint.at.value, depth.value, Length::ZERO],
            JointKind::Groove { .. } | JointKind::Mortise { .. } | JointKind::Butt => continue,
        };
        cuts.entry(joint.host).or_default().push(cut);
    }
    for bore in &subject.graph.bores {
        for host in bore.hosts {
            let [low, high] = bore.ends.map(|end| end.value);
            cuts.entry(host).or_default().push([low, high, bore.pitch.value]);
        }
    }
    let mut sides: BTreeMap<UnitId, [Vec<SideCut>; 2]> = BTreeMap::new();
    for (id, part) in subject.graph.numbered() {
        let Role::Side(hand) = part.role else { continue };
        let hand = match hand {
            Hand::Left => 0,
            Hand::Right => 1,
        };
        let (Some(unit), Some(cut)) = (part.unit, cuts.remove(&id)) else { continue };
        if let Some(place) = sides.entry(unit).or_default().get_mut(hand) {
            *place = cut;
        }
    }
    let mut unlike: Vec<(&Unit, usize)> = Vec::new();
    for standing in subject.units() {
        let Some([left, right]) = sides.get(&standing.id) else { continue };
        let alone =
            |own: &[SideCut], other: &[SideCut]| own.iter().filter(|cut| !other.contains(cut)).count();
        let count = alone(left, right) + alone(right, left);
        let path = standing.unit.path.as_str();
        let what = "grooves and holes of one side that the other has not";
        if !report.compare(Finding::new(&CODE, path, what, count, Limit::AtMost(0_usize.into()))) {
            unlike.push((standing.unit, count));
        }
    }
    let Some((_, count)) = unlike.first().copied() else { return };
    let paths: Vec<&str> = unlike.iter().map(|(unit, _)| unit.path.as_str()).collect();
    let times = if count == 1 { "one place".to_owned() } else { format!("{count} places") };
    let each = if unlike.len() > 1 { ", the first" } else { "" };
    let message = format!("the sides of {} are no mirror pair: they differ{each} in {times}", names(&paths));
    let units = unlike.iter().map(|(unit, _)| *unit);
    let diagnostic = subject.at_units(Diagnostic::new(&CODE, message), units);
    report.tell(diagnostic.help(
        "mark hand, front edge and bottom end on every side before the stick comes out; `show marks` lists each side by itself",
    ));
}
