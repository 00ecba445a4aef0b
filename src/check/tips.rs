//! A unit that nothing holds to the wall.

use super::subject::Standing;
use super::{Check, Report, Subject, names};
use crate::diag::{Diagnostic, code};
use crate::mechanics::published::DENSEST;
use crate::mechanics::stability::FreeUnit;
use crate::parts::{Figure, Finding, How, Lacking, Limit, RowKind, Unit, UnitId};
use crate::quantity::{Dim, Estimate, Length, Rational, Round};
use std::collections::BTreeSet;

code!(
    Note,
    CODE,
    "C053",
    "tips",
    "a unit that nothing holds to the wall",
    "What is 27 in (686 mm) high and weighs 30 lb (13.6 kg) or more is fixed to the wall before anything stands on it: a drawer, a toddler or \
     a hand tips it. 16 CFR 1261 and ASTM F2057-23 draw that line for free-standing storage; built-in shelving is outside them. The pull \
     is an estimate for an empty unit on a level, hard floor; every real one is worse.",
    with_example
);

/// Every unit that no screw holds to a wall, and every carcass that stands alone.
pub(super) const CHECK: Check = Check { codes: &[&CODE], run };

/// What is compared, in words.
const PULL: &str = "pull at the top that tips a unit nothing holds";

/// What weighs less is outside the rule, in kilograms: 30 lb (16 CFR 1261).
const LIGHT_KG: f64 = 30.0 * 0.453_592_37;

fn run(subject: &Subject<'_>, report: &mut Report) {
    let walls = subject.graph.rows.iter().filter(|row| row.kind == RowKind::Wall);
    let held: BTreeSet<UnitId> =
        walls.filter_map(|row| subject.graph.part(row.guest.part()?)?.unit).collect();
    let high = Length::from_inches(Rational::from(27)).unwrap_or_default();
    let (mut free, mut at_wall): (Vec<(f64, &Unit)>, bool) = (Vec::new(), false);
    for Standing { id, unit, wall, .. } in
        subject.units().iter().filter(|standing| !held.contains(&standing.id))
    {
        // Of what hangs `hung_load` speaks.
        if unit.hung {
            continue;
        }
        let Some(top) = subject.bounds(*id, Length::ZERO).map(|bounds| bounds[2][1]) else { continue };
        if top < high {
            continue;
        }
        let Some(weight) = subject.weight(*id) else {
            let own = subject.graph.parts_of(*id).filter(|part| part.role.is_carried());
            let matters = subject.graph.heaviest(own, subject.cut_off(), DENSEST) >= LIGHT_KG;
            report.lack(Lacking {
                code: &CODE,
                subject: unit.path.clone(),
                many: "units",
                what: PULL,
                measures: &["tipping_pull"],
                needs: subject.graph.unit_weight_lacks(*id),
                matters,
            });
            continue;
        };
        if weight.value < LIGHT_KG {
            continue;
        }
        // It tips about its front edge, or about what stands behind its toe space.
        let toe = unit.toe.map_or(0.0, |[_, depth]| depth.value.to_mm_f64());
        let stands = unit.stands.map_or(0.0, |stands| stands.value.to_mm_f64());
        let ([arm, centre_height], weight) = (unit.middle(), weight.value);
        let on_foot = FreeUnit { weight, arm: arm - toe, centre_height: stands + centre_height };
        let pull = on_foot.tipping_pull(top.to_mm_f64()).max(0.0);
        let kilograms = Estimate { value: weight, dim: Dim::WEIGHT };
        let mut how = How::from("weight x arm / height of the pull, about the front of what it stands on")
            .estimate("weight of the unit", kilograms, None)
            .length("depth", unit.depth)
            .length("height", unit.height);
        if let Some([_, toe]) = unit.toe {
            how = how.length("depth of the toe space", toe);
        }
        how = how
            .assuming(match unit.slant {
                None => "it is empty, its weight even: the arm is half its depth, less a toe space",
                Some(_) => "it is empty, its weight even over the outline of its sides, less a toe space",
            })
            .assuming("the floor is level and hard, and nobody climbs on it")
            .by("statics; 27 in and 30 lb from 16 CFR 1261");
        report.reckon(&unit.path, "tipping_pull", Estimate { value: pull, dim: Dim::WEIGHT }, how);
        report.compare(Finding::new(
            &CODE,
            unit.path.as_str(),
            PULL,
            Figure::about(pull, Dim::WEIGHT),
            Limit::Unknown,
        ));
        free.push((pull, unit));
        at_wall |= wall.is_some();
    }
    let Some((pull, first)) = free.iter().min_by(|a, b| a.0.total_cmp(&b.0)).copied() else { return };
    let paths: Vec<&str> = free.iter().map(|(_, unit)| unit.path.as_str()).collect();
    let pull = Figure::about(pull, Dim::WEIGHT).print(subject.marks(), Round::Nearest);
    let it = if free.len() > 1 { format!("`{}`", first.path) } else { "it".to_owned() };
    let message =
        format!("nothing holds {} to the wall: a pull of {pull} at the top tips {it}", names(&paths));
    let mut diagnostic = Diagnostic::new(&CODE, message);
    for (_, unit) in &free {
        diagnostic = subject.at_head(diagnostic, unit.head, "").about(unit.path.as_str());
    }
    let help = if at_wall {
        "hang cleats and `join cleat to wall with butt { screw = .. }`"
    } else {
        "no wall is stated behind it: put it into a `run` that is `along` one with its studs, and screw its cleats to them"
    };
    report.tell(
        diagnostic.help(format!("{help}; let nothing stand on it and nobody near it before they hold")),
    );
}
